/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend report` and `farend radio`, as a user runs them. */
#include <ctype.h>
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "farend/amount.h"
#include "farend/textfile.h"
#include "run.h"
#include "testing.h"

static const char FOLDER[] = "test_report_folder";

enum { MOST_ROWS = 120, MOST_COLUMNS = 10, CELL_ROOM = 400 };

typedef struct table {
    char cells[MOST_ROWS][MOST_COLUMNS][CELL_ROOM];
    size_t rows;
    size_t columns;
} table;

/* ---- Running ---- */

static int make_folder(void **state)
{
    (void)state;
    mkdir(FOLDER, 0777);
    return 0;
}

static char *example(const char *name)
{
    static char path[1000];
    snprintf(path, sizeof path, "%s/examples/%s.ini", FAREND_SOURCE_DIR, name);
    return path;
}

static char *runs(const char *const argv[], int wanted_code, char **err)
{
    return fe_testing_runs_in(FOLDER, argv, wanted_code, err);
}

static char *read_page(const char *name)
{
    return fe_testing_read_in(FOLDER, name);
}

static bool is_there(const char *name)
{
    char path[200];
    snprintf(path, sizeof path, "%s/%s", FOLDER, name);
    return access(path, F_OK) == 0;
}

static void take_away(const char *name)
{
    char path[200];
    snprintf(path, sizeof path, "%s/%s", FOLDER, name);
    remove(path);
}

static json_t *parse(const char *text)
{
    json_error_t error;
    json_t *root = json_loads(text, 0, &error);
    if (!root)
        fail_msg("JSON line %d: %s", error.line, error.text);
    return root;
}

/* ---- Tables out of text and page ---- */

/* White space of every kind, no-break ones too, becomes one space between
 * words. */
static void fold(char *text)
{
    char *to = text;
    for (const char *from = text; *from; from++) {
        const bool tied = strncmp(from, "\xc2\xa0", 2) == 0;
        from += tied;
        const bool space = tied || isspace((unsigned char)*from);
        if (!space)
            *to++ = *from;
        else if (to != text && to[-1] != ' ')
            *to++ = ' ';
    }
    while (to != text && to[-1] == ' ')
        to--;
    *to = 0;
}

static void add_to_cell(table *into, size_t column, const char *text, size_t length)
{
    char *cell = into->cells[into->rows - 1][column];
    const size_t used = strlen(cell);
    snprintf(cell + used, CELL_ROOM - used, " %.*s", (int)length, text);
}

static const char *line_end(const char *line)
{
    const char *end = strchr(line, '\n');
    return end ? end : line + strlen(line);
}

static bool is_blank(const char *text, size_t length)
{
    return strspn(text, " ") >= length;
}

/* One line of a table of columns; a line whose second column is empty goes on with the row. */
static void read_line(const char *line, const char *end, const size_t starts[], table *into)
{
    const size_t length = (size_t)(end - line);
    const size_t second = starts[2] < length ? starts[2] : length;
    const bool goes_on = into->rows > 0 && (length <= starts[1] ||
                                            is_blank(line + starts[1], second - starts[1]));
    if (!goes_on) {
        assert_true(into->rows < MOST_ROWS);
        into->rows++;
    }
    for (size_t c = 0; c < into->columns; c++) {
        const size_t to =
            c + 1 < into->columns && starts[c + 1] < length ? starts[c + 1] : length;
        if (starts[c] < length)
            add_to_cell(into, c, line + starts[c], to - starts[c]);
    }
}

static void fold_all(table *into)
{
    for (size_t r = 0; r < into->rows; r++)
        for (size_t c = 0; c < into->columns; c++)
            fold(into->cells[r][c]);
}

static void text_table(const char *text, const char *caption, table *into)
{
    char wanted[200];
    snprintf(wanted, sizeof wanted, "\n%s\n", caption);
    const char *line = strstr(text, wanted);
    assert_non_null(line);
    line += strlen(wanted);
    while (*line && *line != '-')
        line = line_end(line) + 1;
    size_t starts[MOST_COLUMNS] = {0};
    *into = (table){.rows = 0};
    const char *end = line_end(line);
    for (const char *at = line; at < end; at++)
        if (*at == '-' && (at == line || at[-1] == ' '))
            starts[into->columns++] = (size_t)(at - line);
    for (line = end + 1; *line && *line != '\n'; line = line_end(line) + 1)
        read_line(line, line_end(line), starts, into);
    fold_all(into);
}

/* The text of an element without its tags, entities resolved. */
static void plain(const char *from, const char *end, char cell[CELL_ROOM])
{
    static const struct {
        const char *entity;
        char sign;
    } SIGNS[] = {
        {"&amp;", '&'}, {"&lt;", '<'}, {"&gt;", '>'}, {"&quot;", '"'}, {"&#39;", '\''}};
    size_t used = 0;
    bool tag = false;
    while (from < end && used + 1 < CELL_ROOM) {
        char sign = *from;
        size_t length = 1;
        for (size_t i = 0; i < sizeof SIGNS / sizeof SIGNS[0]; i++)
            if (strncmp(from, SIGNS[i].entity, strlen(SIGNS[i].entity)) == 0) {
                sign = SIGNS[i].sign;
                length = strlen(SIGNS[i].entity);
            }
        if (length == 1 && sign == '<')
            tag = true;
        else if (length == 1 && sign == '>')
            tag = false;
        else if (!tag)
            cell[used++] = sign;
        from += length;
    }
    cell[used] = 0;
}

static void page_table(const char *html, const char *caption, table *into)
{
    char wanted[200];
    snprintf(wanted, sizeof wanted, "<caption>%s</caption>", caption);
    const char *at = strstr(html, wanted);
    assert_non_null(at);
    at = strstr(at, "<tbody");
    const char *end = strstr(at, "</tbody>");
    *into = (table){.rows = 0};
    while ((at = strstr(at, "<tr")) && at < end) {
        const char *row_end = strstr(at, "</tr>");
        size_t column = 0;
        assert_true(into->rows < MOST_ROWS);
        while (at < row_end) {
            const char *cell = strstr(at + 1, "<t");
            if (!cell || cell > row_end)
                break;
            const char *from = strchr(cell, '>') + 1;
            const char *to = cell[2] == 'h' ? strstr(from, "</th>") : strstr(from, "</td>");
            plain(from, to, into->cells[into->rows][column++]);
            at = to;
        }
        into->columns = column;
        into->rows++;
        at = row_end;
    }
    fold_all(into);
}

/* ---- The same number everywhere ---- */

static void check_cell(const table *from, size_t row, size_t column, const char *wanted)
{
    char cell[CELL_ROOM];
    snprintf(cell, sizeof cell, "%s", wanted);
    fold(cell);
    if (strcmp(from->cells[row][column], cell) != 0)
        fail_msg("row %zu column %zu: \"%s\", in the JSON \"%s\"", row, column,
                 from->cells[row][column], cell);
}

/* The confidence of the three examples. */
static const double CONFIDENCE = 0.9;

/* A number that is judged by a bound has the digits to read on its own side; NAN: none. */
static void check_judged(const table *from, size_t row, size_t column, const json_t *object,
                         const char *key, fe_style style, double factor, double bound)
{
    const json_t *value = json_object_get(object, key);
    assert_non_null(value);
    const double si = json_is_null(value) ? (double)NAN : json_number_value(value) * factor;
    fe_strbuf text = FE_STRBUF_INIT;
    fe_amount_print(style, si, fe_amount_digits_beside(style, si, bound, FE_UNITS_METRIC),
                    FE_UNITS_METRIC, &text);
    check_cell(from, row, column, fe_strbuf_text(&text));
    fe_strbuf_free(&text);
}

static void check_number(const table *from, size_t row, size_t column, const json_t *object,
                         const char *key, fe_style style, double factor)
{
    check_judged(from, row, column, object, key, style, factor, (double)NAN);
}

static void check_ways(const table *verdicts, const table *takes, const json_t *root)
{
    const json_t *ways = json_object_get(root, "ways");
    const size_t last = takes->columns;
    assert_int_equal(verdicts->rows, json_array_size(ways));
    assert_int_equal(takes->rows, json_array_size(ways));
    assert_true(json_array_size(ways) > 4);
    for (size_t i = 0; i < verdicts->rows; i++) {
        const json_t *way = json_array_get(ways, i);
        const char *season = json_string_value(json_object_get(way, "season"));
        check_cell(verdicts, i, 0, json_string_value(json_object_get(way, "name")));
        check_cell(takes, i, 0, json_string_value(json_object_get(way, "name")));
        assert_non_null(
            strstr(verdicts->cells[i][1], json_string_value(json_object_get(way, "verdict"))));
        check_judged(verdicts, i, 2, way, "margin_db", FE_STYLE_RATIO, 1.0, 0.0);
        check_judged(verdicts, i, 3, way, "chance", FE_STYLE_PERCENT, 1.0, CONFIDENCE);
        check_cell(verdicts, i, 4, season ? season : "all alike");
        check_number(takes, i, 1, way, "delivered_rate_mbps", FE_STYLE_DATA_RATE, 1e6);
        check_number(takes, i, last - 2, way, "delay_ms", FE_STYLE_TIME, 1e-3);
        if (last == 5 && strcmp(takes->cells[i][2], "never") != 0)
            check_number(takes, i, 2, way, "transfer_h", FE_STYLE_TIME, 3600.0);
    }
}

static void check_seasons(const table *margins, const json_t *root)
{
    const json_t *links = json_object_get(root, "radio");
    size_t row = 0;
    for (size_t i = 0; i < json_array_size(links); i++) {
        const json_t *seasons = json_object_get(json_array_get(links, i), "seasons");
        for (size_t s = 0; s < json_array_size(seasons); s++, row++) {
            const json_t *season = json_array_get(seasons, s);
            check_cell(margins, row, 1, json_string_value(json_object_get(season, "season")));
            check_number(margins, row, 2, season, "margin_low_db", FE_STYLE_RATIO, 1.0);
            check_judged(margins, row, 3, season, "margin_db", FE_STYLE_RATIO, 1.0, 0.0);
            check_number(margins, row, 4, season, "margin_high_db", FE_STYLE_RATIO, 1.0);
            check_judged(margins, row, 5, season, "chance", FE_STYLE_PERCENT, 1.0, CONFIDENCE);
        }
    }
    assert_int_equal(row, margins->rows);
}

static void put_amount(const json_t *way, const char *key, char room[40])
{
    const double share = json_number_value(json_object_get(way, key));
    const double bound = strcmp(key, "chance") == 0 ? CONFIDENCE : (double)NAN;
    fe_strbuf text = FE_STRBUF_INIT;
    fe_amount_print(FE_STYLE_PERCENT, share,
                    fe_amount_digits_beside(FE_STYLE_PERCENT, share, bound, FE_UNITS_METRIC),
                    FE_UNITS_METRIC, &text);
    snprintf(room, 40, "%s", fe_strbuf_text(&text));
    fold(room);
    fe_strbuf_free(&text);
}

/* A way that comes close is named beside the choice, with what both have told apart. */
static void check_close(const char *text, const json_t *root, const char *what)
{
    const json_t *recommended = json_object_get(root, "recommended");
    char key[40];
    snprintf(key, sizeof key, "%s_close", what);
    const json_t *close = json_object_get(recommended, key);
    assert_non_null(close);
    if (json_is_null(close))
        return;
    const json_t *ways = json_object_get(root, "ways");
    const json_t *chosen = json_object_get(json_object_get(recommended, what), "way");
    const json_t *one = json_array_get(ways, (size_t)json_integer_value(chosen));
    const json_t *other =
        json_array_get(ways, (size_t)json_integer_value(json_object_get(close, "way")));
    const bool radio = json_is_number(json_object_get(one, "chance")) &&
                       json_is_number(json_object_get(other, "chance"));
    char wanted[300], amounts[2][40];
    char *folded = strdup(text);
    assert_non_null(folded);
    fold(folded);
    snprintf(wanted, sizeof wanted, "Comes close %s. What separates them: ",
             json_string_value(json_object_get(close, "name")));
    const char *at = strstr(folded, wanted);
    if (!at)
        fail_msg("no \"%s\"", wanted);
    /* What one of the two has no number for is not held against the other. */
    if (!radio && !(json_is_number(json_object_get(one, "used")) &&
                    json_is_number(json_object_get(other, "used")))) {
        free(folded);
        return;
    }
    put_amount(one, radio ? "chance" : "used", amounts[0]);
    put_amount(other, radio ? "chance" : "used", amounts[1]);
    snprintf(wanted, sizeof wanted, "%s%s against %s", amounts[0], radio ? "" : " of its limit",
             amounts[1]);
    if (!strstr(at, wanted))
        fail_msg("no \"%s\" after it", wanted);
    free(folded);
}

static size_t count_of(const char *text, const char *part)
{
    size_t count = 0;
    for (const char *at = text; (at = strstr(at, part)); at++)
        count++;
    return count;
}

static void agrees(const char *name)
{
    static table verdicts;
    static table takes;
    static table margins;
    char page[100];
    snprintf(page, sizeof page, "%s.html", name);
    take_away(page);
    char *text = runs((const char *[]){"report", example(name), NULL}, 0, NULL);
    char *html = read_page(page);
    take_away(page);
    char *json = runs((const char *[]){"report", example(name), "--json", NULL}, 0, NULL);
    assert_false(is_there(page));
    json_t *root = parse(json);

    text_table(text, "Verdicts", &verdicts);
    text_table(text, "What each way gives and takes", &takes);
    text_table(text, "Margin by band and season", &margins);
    check_ways(&verdicts, &takes, root);
    check_seasons(&margins, root);
    check_close(text, root, "data");
    check_close(text, root, "power");
    page_table(html, "Verdicts", &verdicts);
    page_table(html, "What each way gives and takes", &takes);
    page_table(html, "Margin by band and season", &margins);
    check_ways(&verdicts, &takes, root);
    check_seasons(&margins, root);

    assert_true(count_of(html, "<figure id=") >= 3);
    assert_int_equal(json_array_size(json_object_get(root, "figures_missing")), 0);
    assert_int_equal(count_of(html, "This figure is missing"), 0);
    const char *verdict = json_string_value(json_object_get(root, "verdict"));
    assert_true(strcmp(verdict, "holds") == 0 || strcmp(verdict, "tight") == 0 ||
                strcmp(verdict, "fails") == 0);
    json_decref(root);
    free(text);
    free(html);
    free(json);
}

static void report__says_the_same_three_times_of_the_lambing_shed(void **state)
{
    (void)state;
    agrees("lambing-shed");
}

static void report__says_the_same_three_times_of_the_sugar_house(void **state)
{
    (void)state;
    agrees("sugar-house");
}

static void report__says_the_same_three_times_of_the_boathouse(void **state)
{
    (void)state;
    agrees("boathouse");
}

static void report__is_the_same_byte_for_byte(void **state)
{
    (void)state;
    const char *const line[] = {
        "report", example("lambing-shed"), "--html", "one.html", "--json", NULL};
    char *json = runs(line, 0, NULL);
    char *page = read_page("one.html");
    char *json_again = runs(line, 0, NULL);
    char *page_again = read_page("one.html");
    assert_string_equal(json, json_again);
    assert_string_equal(page, page_again);
    take_away("one.html");
    free(json);
    free(json_again);
    free(page);
    free(page_again);
}

/* ---- Hostile plans ---- */

#define SHELL "`touch pwned`$(touch pwned);|& "
#define MARKUP "<script>alert(1)</script><img src=x onerror=alert(1)> & ' "
#define PLOT "{/Bold b}^2_3 @x '\\\" $G << EOD "

static const char HOSTILE[] = "[site]\nname = " SHELL MARKUP PLOT "\nregion = UK\n"
                              "bands = 2.4 GHz\n"
                              "[end " SHELL "]\ngear = outdoor-access-point\nheight = 3 m\n"
                              "mount = outdoors\n"
                              "[end <b onclick=x()>'{/Bold b}]\ngear = outdoor-access-point\n"
                              "height = 3 m\nmount = outdoors\n"
                              "[path <i>way</i>]\nfrom = " SHELL "\n"
                              "to = <b onclick=x()>'{/Bold b}\ndistance = 120 m\n"
                              "[trees </svg><script>t()</script>]\npath = <i>way</i>\n"
                              "from = 20 m\nto = 30 m\nheight = 4 m\nkind = hedge\n"
                              "[posts]\ncable = aerial-fibre\nlength = 6 m\nspan = 15..40 m\n"
                              "over `touch pwned` = 40 m..44 m vehicles\n";

/* Every tag closed in order, every attribute in quotes where it has a value. */
static void check_well_formed(const char *html)
{
    static const char *const VOID[] = {"meta",  "br",  "hr",  "link",
                                       "input", "col", "img", "wbr"};
    static char stack[200][24];
    size_t depth = 0;
    for (const char *at = strchr(html, '<'); at; at = strchr(at + 1, '<')) {
        if (strncmp(at, "<!", 2) == 0 || strncmp(at, "<?", 2) == 0)
            continue;
        const bool closing = at[1] == '/';
        const char *name = at + 1 + closing;
        const size_t length = strcspn(name, " \t\n/>");
        const char *end = strchr(at, '>');
        assert_non_null(end);
        assert_true(length > 0 && length < sizeof stack[0]);
        bool empty = end[-1] == '/';
        for (size_t i = 0; i < sizeof VOID / sizeof VOID[0]; i++)
            empty = empty || (strlen(VOID[i]) == length && strncmp(VOID[i], name, length) == 0);
        if (closing) {
            assert_true(depth > 0);
            depth--;
            if (strlen(stack[depth]) != length || strncmp(stack[depth], name, length) != 0)
                fail_msg("</%.*s> closes <%s>", (int)length, name, stack[depth]);
        } else if (!empty) {
            assert_true(depth < sizeof stack / sizeof stack[0]);
            snprintf(stack[depth++], sizeof stack[0], "%.*s", (int)length, name);
        }
        at = end;
    }
    assert_int_equal(depth, 0);
}

static void report__runs_nothing_that_a_plan_says(void **state)
{
    (void)state;
    char path[100];
    snprintf(path, sizeof path, "%s/hostile.ini", FOLDER);
    assert_int_equal(fe_textfile_write(path, HOSTILE, strlen(HOSTILE)), FE_OK);
    take_away("pwned");
    char *text = runs((const char *[]){"report", "hostile.ini", NULL}, 0, NULL);
    char *html = read_page("hostile.html");
    assert_false(is_there("pwned"));
    assert_null(strstr(html, "<script"));
    assert_null(strstr(html, "<img"));
    assert_null(strstr(html, "<b onclick"));
    assert_non_null(strstr(html, "&lt;script&gt;alert(1)&lt;/script&gt;"));
    check_well_formed(html);
    assert_null(strchr(text, '\033'));
    free(text);
    char *json = runs((const char *[]){"report", "hostile.ini", "--json", NULL}, 0, NULL);
    json_t *root = parse(json);
    const char *name =
        json_string_value(json_object_get(json_object_get(root, "site"), "name"));
    assert_non_null(strstr(name, "<script>alert(1)</script>"));
    json_decref(root);
    assert_false(is_there("pwned"));
    take_away("hostile.html");
    take_away("hostile.ini");
    free(html);
    free(json);
}

static void report__page_of_an_example_is_well_formed(void **state)
{
    (void)state;
    free(runs((const char *[]){"report", example("boathouse"), "--html", "b.html", "--units",
                               "us", NULL},
              0, NULL));
    char *html = read_page("b.html");
    check_well_formed(html);
    assert_non_null(strstr(html, "ft"));
    take_away("b.html");
    free(html);
}

/* ---- Without gnuplot ---- */

static void report__comes_without_gnuplot(void **state)
{
    (void)state;
    char *old = getenv("PATH");
    char *kept = old ? strdup(old) : NULL;
    char *err = NULL;
    setenv("PATH", "/nonexistent", 1);
    char *text = runs(
        (const char *[]){"report", example("lambing-shed"), "--html", "n.html", NULL}, 0, &err);
    assert_non_null(strstr(err, "figures missing: margin"));
    assert_non_null(strstr(text, "Figure missing: "));
    free(err);
    free(text);
    char *html = read_page("n.html");
    assert_true(count_of(html, "This figure is missing") >= 3);
    free(html);
    take_away("n.html");

    char *json =
        runs((const char *[]){"report", example("lambing-shed"), "--json", NULL}, 0, &err);
    json_t *root = parse(json);
    assert_true(json_array_size(json_object_get(root, "figures_missing")) >= 3);
    assert_non_null(strstr(err, "figures missing: "));
    json_decref(root);
    free(json);
    free(err);

    /* Asked for and missing: that work failed. */
    free(runs((const char *[]){"report", example("lambing-shed"), "--json", "--figures", "figs",
                               NULL},
              1, NULL));
    if (kept)
        setenv("PATH", kept, 1);
    free(kept);
    take_away("figs");
}

static void report__writes_each_figure_as_a_file(void **state)
{
    (void)state;
    free(runs((const char *[]){"report", example("lambing-shed"), "--json", "--figures", "figs",
                               NULL},
              0, NULL));
    static const char *const FILES[] = {
        "figs/margin.svg",     "figs/profile.svg", "figs/budget.svg", "figs/overhead.svg",
        "figs/overhead-2.svg", "figs/relays.svg",  "figs/feed.svg"};
    assert_true(is_there(FILES[0]) && is_there(FILES[1]) && is_there(FILES[2]) &&
                is_there(FILES[3]));
    for (size_t i = 0; i < sizeof FILES / sizeof FILES[0]; i++)
        take_away(FILES[i]);
    take_away("figs");
}

/* ---- Mistakes ---- */

static void report__of_a_bad_plan_writes_nothing(void **state)
{
    (void)state;
    static const char BAD[] = "[site]\nregion = UK\nnonsense = 3\n"
                              "[end a]\nheight = 3\n[end b]\nheight = -1 m\n";
    char path[100];
    char *err = NULL;
    snprintf(path, sizeof path, "%s/bad.ini", FOLDER);
    assert_int_equal(fe_textfile_write(path, BAD, strlen(BAD)), FE_OK);
    char *out = runs((const char *[]){"report", "bad.ini", NULL}, 2, &err);
    assert_string_equal(out, "");
    assert_false(is_there("bad.html"));
    assert_non_null(strstr(err, "bad.ini:3: "));
    assert_non_null(strstr(err, "bad.ini:5: "));
    assert_non_null(strstr(err, "bad.ini:7: "));
    free(out);
    free(err);
    take_away("bad.ini");
    free(runs((const char *[]){"report", "none.ini", NULL}, 2, NULL));
    free(runs((const char *[]){"radio", "none.ini", NULL}, 2, NULL));
    free(runs((const char *[]){"report", NULL}, 2, NULL));
}

static void report__that_cannot_be_written_fails(void **state)
{
    (void)state;
    char *err = NULL;
    free(runs((const char *[]){"report", example("lambing-shed"), "--html",
                               "no/such/folder/x.html", NULL},
              1, &err));
    assert_non_null(strstr(err, "cannot write no/such/folder/x.html"));
    free(err);
}

/* ---- radio ---- */

static void radio__prints_what_would_help(void **state)
{
    (void)state;
    char *text = runs((const char *[]){"radio", example("boathouse"), NULL}, 0, NULL);
    assert_non_null(strstr(text, "What limits it"));
    assert_non_null(strstr(text, "The tight place is "));
    assert_non_null(strstr(text, "cheapest 3 dB"));
    free(text);
    char *json = runs((const char *[]){"radio", example("boathouse"), "--json", NULL}, 0, NULL);
    json_t *root = parse(json);
    const json_t *found = json_object_get(root, "improvements");
    const json_t *changes = json_object_get(found, "changes");
    const json_t *cheapest = json_object_get(found, "cheapest");
    assert_true(json_array_size(changes) >= 3);
    assert_true(json_is_integer(cheapest));
    const json_t *change = json_array_get(changes, (size_t)json_integer_value(cheapest));
    assert_true(json_number_value(json_object_get(change, "gain_db")) >= 3.0);
    json_decref(root);
    free(json);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(report__says_the_same_three_times_of_the_lambing_shed),
        cmocka_unit_test(report__says_the_same_three_times_of_the_sugar_house),
        cmocka_unit_test(report__says_the_same_three_times_of_the_boathouse),
        cmocka_unit_test(report__is_the_same_byte_for_byte),
        cmocka_unit_test(report__runs_nothing_that_a_plan_says),
        cmocka_unit_test(report__page_of_an_example_is_well_formed),
        cmocka_unit_test(report__comes_without_gnuplot),
        cmocka_unit_test(report__writes_each_figure_as_a_file),
        cmocka_unit_test(report__of_a_bad_plan_writes_nothing),
        cmocka_unit_test(report__that_cannot_be_written_fails),
        cmocka_unit_test(radio__prints_what_would_help),
    };
    fe_init();
    return cmocka_run_group_tests(tests, make_folder, NULL);
}
