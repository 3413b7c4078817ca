/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/terrain_import.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <unistd.h>

#include "app/options.h"
#include "farend/number.h"
#include "farend/program.h"
#include "farend/strbuf.h"

enum { PATH_ROOM = 4096, MOST_WORDS = 16, CHUNK = 65536 };

/* Kept by the two programs alike; see src/import/import.h. */
static const char GREETING[] = "farend-import 1";

/* ---- Where it is ---- */

static bool is_beside(const char *rest, char path[PATH_ROOM])
{
    return fe_program_path(rest, path, PATH_ROOM) && access(path, X_OK) == 0;
}

static bool find_program(const char *who, char path[PATH_ROOM])
{
    const char *set = getenv("FAREND_IMPORT");
    if (set && *set) {
        const int length = snprintf(path, PATH_ROOM, "%s", set);
        if (length < PATH_ROOM && access(path, X_OK) == 0)
            return true;
        options_complain(who, "FAREND_IMPORT: %s: %s", set, strerror(errno));
        return false;
    }
    if (is_beside("farend-import", path) || is_beside("../libexec/farend/farend-import", path))
        return true;
    options_complain(who,
                     "tracks and rasters are read by the program farend-import, which is not "
                     "here: it is built where GDAL is found (Debian: libgdal-dev) and sought "
                     "beside farend, in ../libexec/farend and in FAREND_IMPORT");
    return false;
}

/* ---- Running it ---- */

static void become_import(const char *program, const char *const *words, FILE *input,
                          const int ends[2])
{
    char *arguments[MOST_WORDS + 2];
    size_t count = 0;
    arguments[count++] = strdup(program);
    for (; words[count - 1] && count <= MOST_WORDS; count++)
        arguments[count] = strdup(words[count - 1]);
    arguments[count] = NULL;
    const int none = input ? fileno(input) : open("/dev/null", O_RDONLY);
    if (none < 0 || dup2(none, 0) < 0 || dup2(ends[1], 1) < 0)
        _exit(127);
    close(ends[0]);
    if (ends[1] > 2)
        close(ends[1]);
    /* Ignored here, and that would be inherited. */
    signal(SIGPIPE, SIG_DFL);
    signal(SIGXFSZ, SIG_DFL);
    execv(program, arguments);
    _exit(127);
}

static fe_status read_all(int from, fe_strbuf *text)
{
    char *chunk = malloc(CHUNK);
    ssize_t count = 0;
    while (chunk && ((count = read(from, chunk, CHUNK)) > 0 || (count < 0 && errno == EINTR)))
        if (count > 0)
            fe_strbuf_append_bytes(text, chunk, (size_t)count);
    free(chunk);
    return chunk ? fe_strbuf_status(text) : FE_E_MEMORY;
}

/* Everything that it printed, and how it ended. */
static fe_status collect(const char *program, const char *const *words, FILE *input,
                         fe_strbuf *text, int *ended)
{
    int ends[2];
    if (pipe(ends) != 0)
        return FE_E_EXTERNAL;
    fflush(stdout);
    const pid_t child = fork();
    if (child == 0)
        become_import(program, words, input, ends);
    close(ends[1]);
    const fe_status status = child > 0 ? read_all(ends[0], text) : FE_E_EXTERNAL;
    close(ends[0]);
    while (child > 0 && waitpid(child, ended, 0) < 0)
        if (errno != EINTR)
            return FE_E_EXTERNAL;
    return status;
}

/* ---- Reading what it said ---- */

static void read_cell(const char *word, size_t at, import_row *row)
{
    row->value[at] = NAN;
    row->kind[at] = strcmp(word, "outside") == 0 ? IMPORT_OUTSIDE : IMPORT_NODATA;
    if (fe_number_parse(word, &row->value[at]))
        row->kind[at] = IMPORT_NUMBER;
}

static void read_row(char *line, import_row *row)
{
    char *rest = NULL;
    size_t at = 0;
    for (char *word = strtok_r(line, " ", &rest); word && at < IMPORT_MOST_CELLS;
         word = strtok_r(NULL, " ", &rest))
        read_cell(word, at++, row);
    for (; at < IMPORT_MOST_CELLS; at++)
        read_cell("nodata", at, row);
}

/* Numbers of a window, row after row. */
typedef struct growing {
    float **values;
    size_t *count;
    size_t room;
} growing;

static bool read_numbers(char *line, growing *to)
{
    char *rest = NULL;
    for (char *word = strtok_r(line, " ", &rest); word; word = strtok_r(NULL, " ", &rest)) {
        if (*to->count == to->room) {
            const size_t more = to->room ? 2 * to->room : 65536;
            float *grown = realloc(*to->values, more * sizeof *grown);
            if (!grown)
                return false;
            *to->values = grown;
            to->room = more;
        }
        double value = NAN;
        const bool good = fe_number_parse(word, &value);
        (*to->values)[(*to->count)++] = good ? (float)value : NAN;
    }
    return true;
}

static void read_fact(char *line, import_answer *answer)
{
    char *space = strchr(line, ' ');
    if (!space || answer->fact_count == IMPORT_MOST_FACTS)
        return;
    *space = '\0';
    answer->facts[answer->fact_count++] = (import_fact_pair){line, space + 1};
}

static size_t count_rows(const char *text)
{
    size_t count = 0;
    for (const char *at = text; (at = strstr(at, "\nrow ")); at++)
        count++;
    return count;
}

static fe_status read_lines(const char *who, import_answer *answer)
{
    bool ended = false;
    answer->rows = calloc(count_rows(answer->text) + 1, sizeof *answer->rows);
    if (!answer->rows)
        return FE_E_MEMORY;
    char *rest = NULL;
    growing heights = {&answer->heights, &answer->height_count, 0};
    growing tops = {&answer->tops, &answer->top_count, 0};
    char *line = strtok_r(answer->text, "\n", &rest);
    bool good = line && strcmp(line, GREETING) == 0;
    while (good && (line = strtok_r(NULL, "\n", &rest))) {
        if (strncmp(line, "row ", 4) == 0)
            read_row(line + 4, &answer->rows[answer->row_count++]);
        else if (strncmp(line, "heights ", 8) == 0) {
            if (!read_numbers(line + 8, &heights))
                return FE_E_MEMORY;
        } else if (strncmp(line, "tops ", 5) == 0) {
            if (!read_numbers(line + 5, &tops))
                return FE_E_MEMORY;
        } else if (strncmp(line, "fact ", 5) == 0)
            read_fact(line + 5, answer);
        else if (strncmp(line, "problem ", 8) == 0) {
            options_complain(who, "%s", line + 8);
            return FE_E_INPUT;
        } else
            ended = strcmp(line, "end") == 0;
    }
    if (good && ended)
        return FE_OK;
    options_complain(who, "farend-import broke off, or belongs to another version of farend");
    return FE_E_EXTERNAL;
}

fe_status import_run(const char *who, const char *const *words, import_answer *answer)
{
    return import_run_with(who, words, NULL, answer);
}

fe_status import_run_with(const char *who, const char *const *words, FILE *input,
                          import_answer *answer)
{
    char program[PATH_ROOM];
    int ended = 0;
    fe_strbuf text = FE_STRBUF_INIT;
    *answer = (import_answer){0};
    if (!find_program(who, program))
        return FE_E_EXTERNAL;
    fe_status status = collect(program, words, input, &text, &ended);
    if (status == FE_E_EXTERNAL)
        options_complain(who, "farend-import cannot be started: %s", strerror(errno));
    if (status == FE_OK && WIFSIGNALED(ended)) {
        options_complain(who, "farend-import was ended by signal %d while it read the file",
                         WTERMSIG(ended));
        status = FE_E_EXTERNAL;
    }
    if (status == FE_OK) {
        fe_strbuf_append(&text, "\n");
        answer->text = fe_strbuf_take(&text);
        status = answer->text ? read_lines(who, answer) : FE_E_MEMORY;
    }
    fe_strbuf_free(&text);
    if (status != FE_OK)
        import_answer_free(answer);
    return status;
}

void import_answer_free(import_answer *answer)
{
    free(answer->text);
    free(answer->rows);
    free(answer->heights);
    free(answer->tops);
    *answer = (import_answer){0};
}

const char *import_text(const import_answer *answer, const char *key)
{
    for (size_t i = 0; i < answer->fact_count; i++)
        if (strcmp(answer->facts[i].key, key) == 0)
            return answer->facts[i].value;
    return "";
}

double import_number(const import_answer *answer, const char *key)
{
    double value = NAN;
    return fe_number_parse(import_text(answer, key), &value) ? value : NAN;
}
