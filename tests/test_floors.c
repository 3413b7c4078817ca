/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The floors of the source: which room may include which. A room uses only what lies below it;
 * propagation and wired stand side by side and do not know each other. Read from the include
 * lines themselves, so that nobody has to remember it.
 */
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/textfile.h"
#include "testing.h"

typedef enum room {
    BASE,
    TERRAIN,
    PROPAGATION,
    WIRED,
    PLAN,
    DECISION,
    REPORT,
    IMPORT,
    APP,
    ROOMS
} room;

static const char *const ROOM_NAMES[ROOMS] = {
    [BASE] = "base",     [TERRAIN] = "terrain", [PROPAGATION] = "propagation",
    [WIRED] = "wired",   [PLAN] = "plan",       [DECISION] = "decision",
    [REPORT] = "report", [IMPORT] = "import",   [APP] = "app",
};

#define ROOM(name) (1u << (name))

/* What lies below each room. The import is a program of its own over the ground alone. */
static const unsigned BELOW[ROOMS] = {
    [BASE] = 0,
    [TERRAIN] = ROOM(BASE),
    [PROPAGATION] = ROOM(BASE) | ROOM(TERRAIN),
    [WIRED] = ROOM(BASE) | ROOM(TERRAIN),
    [PLAN] = ROOM(BASE) | ROOM(TERRAIN) | ROOM(PROPAGATION) | ROOM(WIRED),
    [DECISION] = ROOM(BASE) | ROOM(TERRAIN) | ROOM(PROPAGATION) | ROOM(WIRED) | ROOM(PLAN),
    [REPORT] = ROOM(BASE) | ROOM(TERRAIN) | ROOM(PROPAGATION) | ROOM(WIRED) | ROOM(PLAN) |
               ROOM(DECISION),
    [IMPORT] = ROOM(BASE) | ROOM(TERRAIN),
    [APP] = ROOM(BASE) | ROOM(TERRAIN) | ROOM(PROPAGATION) | ROOM(WIRED) | ROOM(PLAN) |
            ROOM(DECISION) | ROOM(REPORT),
};

/* The room of each public header. A new header is placed here. */
static const struct {
    const char *header;
    room room;
} HEADERS[] = {
    {"amount.h", BASE},
    {"constants.h", BASE},
    {"csv.h", BASE},
    {"lines.h", BASE},
    {"message.h", BASE},
    {"number.h", BASE},
    {"program.h", BASE},
    {"quantity.h", BASE},
    {"status.h", BASE},
    {"strbuf.h", BASE},
    {"suggest.h", BASE},
    {"textfile.h", BASE},
    {"verdict.h", BASE},
    {"workers.h", BASE},
    {"profile.h", TERRAIN},
    {"geodesic.h", TERRAIN},
    {"season.h", TERRAIN},
    {"survey.h", TERRAIN},
    {"track.h", TERRAIN},
    {"budget.h", PROPAGATION},
    {"chain.h", PROPAGATION},
    {"claim.h", PROPAGATION},
    {"clutter.h", PROPAGATION},
    {"dielectric.h", PROPAGATION},
    {"diffraction.h", PROPAGATION},
    {"earth.h", PROPAGATION},
    {"entry_loss.h", PROPAGATION},
    {"fading.h", PROPAGATION},
    {"feeder.h", PROPAGATION},
    {"foliage.h", PROPAGATION},
    {"free_space.h", PROPAGATION},
    {"fresnel.h", PROPAGATION},
    {"gas.h", PROPAGATION},
    {"gear.h", PROPAGATION},
    {"ground_ray.h", PROPAGATION},
    {"height_error.h", PROPAGATION},
    {"hop.h", PROPAGATION},
    {"knife_edge.h", PROPAGATION},
    {"obstruction.h", PROPAGATION},
    {"around.h", PROPAGATION},
    {"around_places.h", PROPAGATION},
    {"pairs.h", PROPAGATION},
    {"path_loss.h", PROPAGATION},
    {"placing.h", PROPAGATION},
    {"power_rules.h", PROPAGATION},
    {"rain.h", PROPAGATION},
    {"receiver.h", PROPAGATION},
    {"relay_changes.h", DECISION},
    {"relay_site.h", PROPAGATION},
    {"spread.h", PROPAGATION},
    {"standing.h", PROPAGATION},
    {"street.h", PROPAGATION},
    {"wall.h", PROPAGATION},
    {"wifi.h", PROPAGATION},
    {"woodland.h", PROPAGATION},
    {"aerial_cable.h", WIRED},
    {"ampacity.h", WIRED},
    {"anchor.h", WIRED},
    {"battery.h", WIRED},
    {"cable_class.h", WIRED},
    {"clearance.h", WIRED},
    {"conductor.h", WIRED},
    {"ethernet.h", WIRED},
    {"fault_loop.h", WIRED},
    {"feed.h", WIRED},
    {"fibre.h", WIRED},
    {"ice_wind.h", WIRED},
    {"limits.h", WIRED},
    {"parabola.h", WIRED},
    {"poe.h", WIRED},
    {"post.h", WIRED},
    {"posts.h", WIRED},
    {"route.h", WIRED},
    {"run.h", WIRED},
    {"route.h", WIRED},
    {"soil.h", WIRED},
    {"span.h", WIRED},
    {"strike.h", WIRED},
    {"tension.h", WIRED},
    {"beyond.h", WIRED},
    {"channel.h", WIRED},
    {"supply.h", WIRED},
    {"converter.h", WIRED},
    {"duct.h", WIRED},
    {"wood.h", WIRED},
    {"plan.h", PLAN},
    {"prices.h", PLAN},
    {"plan_input.h", PLAN},
    {"starter.h", PLAN},
    {"improve.h", DECISION},
    {"result.h", DECISION},
    {"radio_hop.h", DECISION},
    {"radio_link.h", DECISION},
    {"calendar.h", DECISION},
    {"growth.h", DECISION},
    {"parts.h", DECISION},
    {"network.h", DECISION},
    {"recovery.h", DECISION},
    {"outlook.h", DECISION},
    {"sensitivity.h", DECISION},
    {"radio_relays.h", DECISION},
    {"posts_plan.h", DECISION},
    {"supply_plan.h", DECISION},
    {"solar_plan.h", DECISION},
    {"acceptance.h", DECISION},
    {"document.h", REPORT},
    {"figures.h", REPORT},
    {"gnuplot.h", REPORT},
    {"json_text.h", REPORT},
    {"report_posts.h", REPORT},
    {"report_copper.h", REPORT},
    {"report_power.h", REPORT},
    {"report_sheet.h", REPORT},
    {"report.h", REPORT},
};

enum { HEADER_COUNT = sizeof HEADERS / sizeof HEADERS[0], PATH_ROOM = 1024 };

/* ---- Reading the source ---- */

static char *read_source(const char *path)
{
    char *text = NULL;
    size_t length = 0;
    if (fe_textfile_read(path, &text, &length) != FE_OK)
        fail_msg("cannot read %s", path);
    return text;
}

static char *skip_comment(char *at)
{
    char *const end = strstr(at + 2, "*/");
    char *const after = end ? end + 2 : at + strlen(at);
    for (; at < after; at++)
        if (*at != '\n')
            *at = ' ';
    return after;
}

/* Past the closing quote of what starts at `at`. */
static char *end_of_quote(char *at)
{
    const char quote = *at++;
    while (*at && *at != quote && *at != '\n')
        at += at[0] == '\\' && at[1] ? 2 : 1;
    return *at ? at + 1 : at;
}

/* Blanks comments, and the texts in quotes where `texts` says so. */
static void keep_code(char *source, bool texts)
{
    char *at = source;
    while (*at) {
        if (at[0] == '/' && at[1] == '*') {
            at = skip_comment(at);
        } else if (*at == '"' || *at == '\'') {
            char *const end = end_of_quote(at);
            if (texts)
                memset(at, ' ', (size_t)(end - at));
            at = end;
        } else {
            at++;
        }
    }
}

static bool is_word_letter(char letter)
{
    return letter == '_' || (letter >= '0' && letter <= '9') ||
           ((letter | 32) >= 'a' && (letter | 32) <= 'z');
}

/* Whether code has a name as a word of its own; with a bracket at its end, as a call. */
static bool uses_name(const char *code, const char *name)
{
    const size_t length = strcspn(name, "(");
    const bool as_call = name[length] == '(';
    for (const char *at = code; (at = strchr(at, name[0])); at++) {
        const bool starts = at == code || !is_word_letter(at[-1]);
        if (!starts || strncmp(at, name, length) != 0 || is_word_letter(at[length]))
            continue;
        if (!as_call || at[length + strspn(at + length, " \t\n")] == '(')
            return true;
    }
    return false;
}

/* ---- Walking ---- */

static int is_source(const struct dirent *entry)
{
    const char *const ending = strrchr(entry->d_name, '.');
    return ending && (strcmp(ending, ".c") == 0 || strcmp(ending, ".h") == 0);
}

typedef int (*checker)(const char *path, room from, char *source);

/* Calls check on every source of a folder; returns the sum of what it found. */
static int walk_folder(const char *folder, room from, checker check)
{
    char path[PATH_ROOM];
    struct dirent **entries = NULL;
    int faults = 0;
    snprintf(path, sizeof path, "%s/%s", FAREND_SOURCE_DIR, folder);
    const int count = scandir(path, &entries, is_source, alphasort);
    for (int i = 0; i < count; i++) {
        snprintf(path, sizeof path, "%s/%s/%s", FAREND_SOURCE_DIR, folder, entries[i]->d_name);
        char *const source = read_source(path);
        faults += check(path + sizeof FAREND_SOURCE_DIR, from, source);
        free(source);
        free(entries[i]);
    }
    free(entries);
    /* The import may be left out of a build; any other room without sources is a mistake. */
    if (count <= 0 && from != IMPORT)
        fail_msg("no sources in %s", folder);
    return faults;
}

static int walk_rooms(checker check)
{
    int faults = 0;
    for (int i = 0; i < ROOMS; i++) {
        char folder[64];
        snprintf(folder, sizeof folder, "src/%s", ROOM_NAMES[i]);
        faults += walk_folder(folder, (room)i, check);
    }
    return faults;
}

/* ---- Includes ---- */

/* ROOMS where the header is not in the table. */
static room room_of_header(const char *header, size_t length)
{
    for (size_t i = 0; i < HEADER_COUNT; i++)
        if (strlen(HEADERS[i].header) == length &&
            memcmp(HEADERS[i].header, header, length) == 0)
            return HEADERS[i].room;
    return ROOMS;
}

/* Of "farend/x.h", "room/x.h" and "beside.h"; ROOMS where it is none. */
static room room_of_include(room from, const char *name, size_t length)
{
    const char *const slash = memchr(name, '/', length);
    if (!slash)
        return from;
    const size_t word = (size_t)(slash - name);
    if (word == 6 && memcmp(name, "farend", 6) == 0)
        return room_of_header(slash + 1, length - word - 1);
    for (int i = 0; i < ROOMS; i++)
        if (strlen(ROOM_NAMES[i]) == word && memcmp(ROOM_NAMES[i], name, word) == 0)
            return (room)i;
    return ROOMS;
}

static bool is_gdal(const char *name)
{
    static const char *const STARTS[] = {"gdal", "ogr", "cpl_"};
    for (size_t i = 0; i < sizeof STARTS / sizeof STARTS[0]; i++)
        if (strncmp(name, STARTS[i], strlen(STARTS[i])) == 0)
            return true;
    return false;
}

static int fault(const char *path, const char *name, size_t length, const char *why)
{
    print_error("%s: %.*s: %s\n", path, (int)length, name, why);
    return 1;
}

static int check_include(const char *path, room from, const char *name, size_t length,
                         bool quoted)
{
    if (!quoted)
        return is_gdal(name) && from != IMPORT
                   ? fault(path, name, length, "only src/import may use GDAL")
                   : 0;
    const room to = room_of_include(from, name, length);
    if (to == ROOMS)
        return fault(path, name, length,
                     "neither in a room nor in the table of headers of this test");
    if (to != from && !(BELOW[from] & ROOM(to)))
        return fault(path, name, length, "lies in a room that is not below");
    return 0;
}

static int check_includes(const char *path, room from, char *source)
{
    int faults = 0;
    keep_code(source, false);
    for (char *line = source; line; line = strchr(line, '\n')) {
        line += strspn(line, " \t\n");
        if (*line != '#')
            continue;
        char *at = line + 1;
        at += strspn(at, " \t");
        if (strncmp(at, "include", 7) != 0)
            continue;
        at += 7;
        at += strspn(at, " \t");
        const bool quoted = *at == '"';
        const size_t length = strcspn(at + 1, quoted ? "\"\n" : ">\n");
        faults += check_include(path, from, at + 1, length, quoted);
    }
    return faults;
}

static void rooms__include_only_what_lies_below(void **state)
{
    (void)state;
    assert_int_equal(walk_rooms(check_includes), 0);
}

/* A header's own room decides what it may include. */
static int check_header(const char *path, room from, char *source)
{
    const char *const name = strrchr(path, '/') + 1;
    const room own = room_of_header(name, strlen(name));
    (void)from;
    if (own == ROOMS)
        return fault(path, name, strlen(name), "not placed in the table of this test");
    return check_includes(path, own, source);
}

static void public_headers__include_only_what_lies_below(void **state)
{
    (void)state;
    assert_int_equal(walk_folder("include/farend", BASE, check_header), 0);
}

/* Without this a fault in the reader of include lines would pass for a clean source. */
static void includes__that_climb_are_found(void **state)
{
    static const struct {
        room from;
        const char *source;
        int faults;
    } CASES[] = {
        {WIRED, "#include \"farend/span.h\"\n#include <math.h>\n", 0},
        {WIRED, "#include <math.h>\n#include \"farend/gear.h\"\n", 1},
        {PROPAGATION, "  #  include \"wired/root.h\"\n", 1},
        {BASE, "/* #include \"farend/plan.h\" */\n", 0},
        {BASE, "#include \"farend/unheard_of.h\"\n", 1},
        {DECISION, "int x;\n#include \"report/svg_palette.h\"\n#include \"beside.h\"", 1},
        {APP, "#include <gdal.h>\n#include \"farend/plan.h\"\n", 1},
        {IMPORT, "#include <ogr_srs_api.h>\n#include \"farend/profile.h\"\n", 0},
    };
    (void)state;
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        char source[256];
        snprintf(source, sizeof source, "%s", CASES[i].source);
        assert_int_equal(check_includes("(case)", CASES[i].from, source), CASES[i].faults);
    }
}

/* ---- Calls ---- */

static int refuse_names(const char *path, const char *code, const char *const names[],
                        size_t count, const char *why)
{
    int faults = 0;
    for (size_t i = 0; i < count; i++)
        if (uses_name(code, names[i]))
            faults += fault(path, names[i], strlen(names[i]), why);
    return faults;
}

#define REFUSE(path, code, names, why)                                                         \
    refuse_names((path), (code), (names), sizeof(names) / sizeof(names)[0], (why))

static int check_calls(const char *path, room from, char *source)
{
    static const char *const SHELL[] = {"system(", "popen(", "wordexp("};
    static const char *const ENDING[] = {"exit(", "_exit(", "_Exit(", "quick_exit(", "abort("};
    static const char *const PRINTING[] = {"printf(", "vprintf(", "puts(",  "putchar(",
                                           "perror(", "stdout",   "stderr", "dprintf("};
    keep_code(source, true);
    int faults = REFUSE(path, source, SHELL, "a shell is never used");
    if (from != APP && from != IMPORT) {
        faults += REFUSE(path, source, ENDING, "only the program ends the process");
        faults += REFUSE(path, source, PRINTING, "only the program prints");
    }
    return faults;
}

static void library__never_prints_nor_ends_the_process(void **state)
{
    (void)state;
    assert_int_equal(walk_rooms(check_calls), 0);
}

static int check_shell_text(const char *path, room from, char *source)
{
    (void)from;
    keep_code(source, false);
    return strstr(source, "/bin/sh") || strstr(source, "\"sh\"")
               ? fault(path, "sh", 2, "a shell is never started")
               : 0;
}

static void nothing__starts_a_shell(void **state)
{
    (void)state;
    assert_int_equal(walk_rooms(check_shell_text), 0);
}

static void calls__that_end_or_print_are_found(void **state)
{
    static const struct {
        room from;
        const char *source;
        int faults;
    } CASES[] = {
        {BASE, "int f(void) { return snprintf(text, 3, \"exit(1)\"); }", 0},
        {BASE, "void f(void) { if (bad) exit (1); }", 1},
        {PLAN, "fprintf(stdout, \"x\"); printf(\"\\\"\"); abort();", 3},
        {APP, "exit(1); printf(\"x\");", 0},
        {APP, "system(\"ls\"); popen(\"ls\", \"r\");", 2},
        {WIRED, "double system = fe_system(loss); /* system() */ char q = '\"'; f(q);", 0},
    };
    (void)state;
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        char source[256];
        snprintf(source, sizeof source, "%s", CASES[i].source);
        assert_int_equal(check_calls("(case)", CASES[i].from, source), CASES[i].faults);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rooms__include_only_what_lies_below),
        cmocka_unit_test(public_headers__include_only_what_lies_below),
        cmocka_unit_test(includes__that_climb_are_found),
        cmocka_unit_test(library__never_prints_nor_ends_the_process),
        cmocka_unit_test(nothing__starts_a_shell),
        cmocka_unit_test(calls__that_end_or_print_are_found),
    };
    return FE_RUN_TESTS(tests);
}
