/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/options.h"

#include <assert.h>
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/progress.h"
#include "farend/number.h"
#include "farend/suggest.h"

typedef struct given_option {
    const option *row;
    const char *text;
    fe_value value;
} given_option;

struct options {
    const option *table;
    given_option *list;
    size_t count;
    const char **operands;
    size_t operand_count;
    bool help;
    /* While parsing. */
    const char *who;
    int mistakes;
};

static const option HELP = {.name = "help"};

/* ---- Mistakes ---- */

void options_complain_list(const char *who, const char *format, va_list rest)
{
    progress_end();
    char message[1024];
    vsnprintf(message, sizeof message, format, rest);
    for (char *at = message; *at; at++)
        if (iscntrl((unsigned char)*at))
            *at = '?';
    fprintf(stderr, "%s: %s\n", who, message);
}

void options_complain(const char *who, const char *format, ...)
{
    va_list rest;
    va_start(rest, format);
    options_complain_list(who, format, rest);
    va_end(rest);
}

/* ---- Words about values ---- */

typedef struct metavar_row {
    fe_dimension dimension;
    const char *word;
} metavar_row;

static const metavar_row METAVARS[] = {
    {FE_DIM_COUNT, "COUNT"},
    {FE_DIM_FRACTION, "PERCENT"},
    {FE_DIM_LENGTH, "LENGTH"},
    {FE_DIM_AREA, "SIZE"},
    {FE_DIM_MASS, "MASS"},
    {FE_DIM_FORCE, "FORCE"},
    {FE_DIM_LINEAR_FORCE, "LOAD"},
    {FE_DIM_PRESSURE, "PRESSURE"},
    {FE_DIM_SPEED, "SPEED"},
    {FE_DIM_RAIN_RATE, "RAIN"},
    {FE_DIM_TEMPERATURE, "TEMP"},
    {FE_DIM_ANGLE, "ANGLE"},
    {FE_DIM_TIME, "TIME"},
    {FE_DIM_FREQUENCY, "FREQUENCY"},
    {FE_DIM_LEVEL, "LEVEL"},
    {FE_DIM_GAIN, "GAIN"},
    {FE_DIM_RATIO, "DECIBELS"},
    {FE_DIM_DATA, "DATA"},
    {FE_DIM_DATA_RATE, "RATE"},
    {FE_DIM_POWER, "POWER"},
    {FE_DIM_VOLTAGE, "VOLTAGE"},
    {FE_DIM_CURRENT, "CURRENT"},
    {FE_DIM_RESISTANCE, "RESISTANCE"},
    {FE_DIM_MONEY, "MONEY"},
};

const char *options_metavar(const option *row)
{
    if (row->kind == OPTION_FLAG)
        return "";
    if (row->metavar)
        return row->metavar;
    if (row->kind == OPTION_TEXT)
        return row->choices ? row->choices : "TEXT";
    for (size_t i = 0; i < sizeof METAVARS / sizeof METAVARS[0]; i++)
        if (METAVARS[i].dimension == row->dimension)
            return METAVARS[i].word;
    return "VALUE";
}

char *options_expected(const char *text, fe_dimension dimension, const char *prefix,
                       char *buffer, size_t size)
{
    const char *example = fe_dimension_example(dimension);
    const bool unit = fe_dimension_has_unit(dimension);
    double number = 0.0;
    const char *end = example;
    char shown[64];
    char meant[64];
    /* "tension=2943" is answered with "tension=2943N", not with a figure of ours. */
    const bool figure = fe_number_scan(example, &number, &end);
    if (unit && figure && fe_number_parse(text, &number))
        snprintf(shown, sizeof shown, "%.40s%s", text, end + strspn(end, " "));
    else if (fe_value_with_points(text, dimension, meant, sizeof meant))
        snprintf(shown, sizeof shown, "%s", meant);
    else
        snprintf(shown, sizeof shown, "%.*s%s", (int)(end - example), example,
                 end + strspn(end, " "));
    const bool spaced = strchr(shown, ' ') != NULL;
    const char *quote = spaced ? "'" : "";
    snprintf(buffer, size, "%s%s, for example %s%s%s%s", fe_dimension_name(dimension),
             unit ? " with its unit" : "", prefix, quote, shown, quote);
    return buffer;
}

static const char *next_choice(const char **choices, size_t *length)
{
    const char *start = *choices;
    if (!start)
        return NULL;
    *length = strcspn(start, "|");
    *choices = start[*length] ? start + *length + 1 : NULL;
    return start;
}

bool options_is_choice(const char *choices, const char *word)
{
    size_t length = 0;
    const char *choice = NULL;
    while ((choice = next_choice(&choices, &length)))
        if (strlen(word) == length && strncmp(word, choice, length) == 0)
            return true;
    return false;
}

const char *options_nearest_choice(const char *choices, const char *word, char *buffer,
                                   size_t size)
{
    fe_suggest search = fe_suggest_start(word);
    const char *found = NULL;
    size_t length = 0;
    const char *choice = NULL;
    char name[64];
    while ((choice = next_choice(&choices, &length))) {
        const unsigned before = search.best_distance;
        snprintf(name, sizeof name, "%.*s", (int)length, choice);
        fe_suggest_offer(&search, name);
        if (search.best_distance < before) {
            snprintf(buffer, size, "%s", name);
            found = buffer;
        }
    }
    return found;
}

/* ---- Parsing ---- */

static void complain(options *given, const char *name, const char *rest)
{
    options_complain(given->who, "--%s: %s", name, rest);
    given->mistakes++;
}

static const option *find_exact(const options *given, const char *name, size_t length)
{
    for (const option *row = given->table; row->name; row++)
        if (strlen(row->name) == length && strncmp(row->name, name, length) == 0)
            return row;
    return length == strlen(HELP.name) && strncmp(HELP.name, name, length) == 0 ? &HELP : NULL;
}

/* The one option that starts like this; *several tells that there are more. */
static const option *find_short(const options *given, const char *name, size_t length,
                                bool *several)
{
    const option *found = strncmp(HELP.name, name, length) == 0 ? &HELP : NULL;
    for (const option *row = given->table; row->name; row++) {
        if (strncmp(row->name, name, length) != 0)
            continue;
        *several = found != NULL || *several;
        found = row;
    }
    return *several ? NULL : found;
}

static void report_unknown(options *given, const char *name, bool several)
{
    char text[160];
    fe_suggest search = fe_suggest_start(name);
    for (const option *row = given->table; row->name; row++)
        fe_suggest_offer(&search, row->name);
    fe_suggest_offer(&search, HELP.name);
    if (several)
        snprintf(text, sizeof text, "several options start like this; write one in full");
    else if (search.best)
        snprintf(text, sizeof text, "no such option; did you mean --%s?", search.best);
    else
        snprintf(text, sizeof text, "no such option; --help shows them all");
    complain(given, name, text);
}

static void check_choice(options *given, const option *row, const char *text)
{
    char message[320], near[64];
    if (!row->choices || options_is_choice(row->choices, text))
        return;
    const char *nearest = options_nearest_choice(row->choices, text, near, sizeof near);
    snprintf(message, sizeof message, "'%.60s' is not one of %s%s%s%s", text, row->choices,
             nearest ? "; did you mean " : "", nearest ? nearest : "", nearest ? "?" : "");
    complain(given, row->name, message);
}

static bool is_within(const option *row, const fe_value *value)
{
    fe_value bounds;
    if (!row->bounds)
        return true;
    if (fe_value_parse(row->bounds, row->dimension, &bounds) != FE_OK) {
        assert(!"bounds of an option that are no range");
        return true;
    }
    return value->given != FE_GIVEN_UNKNOWN && fe_value_is_within(value, &bounds);
}

bool options_holds(const option *row, const char *text, double *si)
{
    double read = 0.0;
    if (fe_quantity_parse(text, row->dimension, &read) != FE_OK)
        return false;
    const fe_value value = fe_value_exact(read);
    if (!is_within(row, &value))
        return false;
    *si = read;
    return true;
}

static void check_bounds(options *given, const option *row, const char *text,
                         const fe_value *value)
{
    char message[320];
    if (is_within(row, value))
        return;
    snprintf(message, sizeof message, "'%.60s' is not %s within %s", text,
             fe_dimension_name(row->dimension), row->bounds);
    complain(given, row->name, message);
}

static void read_value(options *given, const option *row, const char *text, fe_value *value)
{
    fe_status status = FE_OK;
    double si = 0.0;
    if (row->kind == OPTION_TEXT) {
        check_choice(given, row, text);
        return;
    }
    if (row->kind == OPTION_VALUE) {
        status = fe_value_parse(text, row->dimension, value);
    } else {
        status = fe_quantity_parse(text, row->dimension, &si);
        *value = fe_value_exact(si);
    }
    if (status == FE_OK) {
        check_bounds(given, row, text, value);
        return;
    }
    char expected[200], message[320], prefix[80];
    snprintf(prefix, sizeof prefix, "--%s ", row->name);
    options_expected(text, row->dimension, prefix, expected, sizeof expected);
    snprintf(message, sizeof message, "'%.60s' is not %s", text, expected);
    complain(given, row->name, message);
}

static void add(options *given, const option *row, const char *text)
{
    if (!row->repeats && row->kind != OPTION_FLAG && options_given(given, row->name)) {
        complain(given, row->name, "given twice");
        return;
    }
    given_option *slot = &given->list[given->count++];
    *slot = (given_option){.row = row, .text = text};
    if (row->kind != OPTION_FLAG)
        read_value(given, row, text, &slot->value);
}

/* One word that starts with two dashes; returns how many words it took. */
static int read_option(options *given, int left, char **argv)
{
    const char *name = argv[0] + 2;
    const size_t length = strcspn(name, "=");
    const char *text = name[length] ? name + length + 1 : NULL;
    bool several = false;
    const option *row = find_exact(given, name, length);
    if (!row && length > 0)
        row = find_short(given, name, length, &several);
    if (!row) {
        char shown[64];
        snprintf(shown, sizeof shown, "%.*s", (int)(length < 60 ? length : 60), name);
        report_unknown(given, shown, several);
        return 1;
    }
    if (row->kind == OPTION_FLAG) {
        if (text)
            complain(given, row->name, "takes no value");
        else if (row == &HELP)
            given->help = true;
        else
            add(given, row, NULL);
        return 1;
    }
    int used = 1;
    if (!text && left > 1 && strncmp(argv[1], "--", 2) != 0) {
        text = argv[1];
        used = 2;
    }
    if (text) {
        add(given, row, text);
    } else {
        char message[120];
        snprintf(message, sizeof message, "needs a value: --%s %s", row->name,
                 options_metavar(row));
        complain(given, row->name, message);
    }
    return used;
}

/* "-20degC" and "-" are operands; "-x" is a mistake, as we have no short options but -h. */
static bool is_short_option(const char *word)
{
    return word[0] == '-' && word[1] != 0 && !strchr(".0123456789", word[1]);
}

static void read_words(options *given, int argc, char **argv)
{
    bool ended = false;
    for (int i = 0; i < argc;) {
        const char *word = argv[i];
        if (!ended && strcmp(word, "--") == 0) {
            ended = true;
            i++;
        } else if (!ended && strncmp(word, "--", 2) == 0) {
            i += read_option(given, argc - i, argv + i);
        } else if (!ended && strcmp(word, "-h") == 0) {
            given->help = true;
            i++;
        } else if (!ended && is_short_option(word)) {
            options_complain(given->who, "%s: no such option; --help shows them all", word);
            given->mistakes++;
            i++;
        } else {
            given->operands[given->operand_count++] = word;
            i++;
        }
    }
}

int options_parse(const char *who, const option *table, int argc, char **argv, options **read)
{
    static const option NONE[] = {{0}};
    *read = NULL;
    options *given = calloc(1, sizeof *given);
    if (!given)
        return -1;
    const size_t room = (size_t)argc + 1; /* each word is at most one option or operand */
    given->table = table ? table : NONE;
    given->who = who;
    given->list = calloc(room, sizeof *given->list);
    given->operands = calloc(room, sizeof *given->operands);
    if (!given->list || !given->operands) {
        options_free(given);
        return -1;
    }
    read_words(given, argc, argv);
    *read = given;
    return given->mistakes;
}

void options_free(options *given)
{
    if (!given)
        return;
    free(given->operands);
    free(given->list);
    free(given);
}

/* ---- Looking up ---- */

bool options_help(const options *given)
{
    return given->help;
}

size_t options_count(const options *given, const char *name)
{
    size_t count = 0;
    assert(find_exact(given, name, strlen(name)));
    for (size_t i = 0; i < given->count; i++)
        count += strcmp(given->list[i].row->name, name) == 0;
    return count;
}

bool options_given(const options *given, const char *name)
{
    return options_count(given, name) > 0;
}

static const given_option *find_given(const options *given, const char *name, size_t index)
{
    for (size_t i = 0; i < given->count; i++)
        if (strcmp(given->list[i].row->name, name) == 0 && index-- == 0)
            return &given->list[i];
    return NULL;
}

static const given_option *find_last(const options *given, const char *name)
{
    const size_t count = options_count(given, name);
    return count ? find_given(given, name, count - 1) : NULL;
}

const char *options_text(const options *given, const char *name)
{
    const given_option *found = find_last(given, name);
    return found ? found->text : NULL;
}

const char *options_text_at(const options *given, const char *name, size_t index)
{
    const given_option *found = find_given(given, name, index);
    return found ? found->text : NULL;
}

double options_number(const options *given, const char *name, double fallback)
{
    const given_option *found = find_last(given, name);
    return found ? found->value.typical : fallback;
}

double options_number_at(const options *given, const char *name, size_t index)
{
    const given_option *found = find_given(given, name, index);
    assert(found);
    return found ? found->value.typical : 0.0;
}

fe_value options_value(const options *given, const char *name)
{
    const given_option *found = find_last(given, name);
    return found ? found->value : (fe_value){0.0, 0.0, 0.0, FE_GIVEN_NOT};
}

size_t options_operands(const options *given)
{
    return given->operand_count;
}

const char *options_operand(const options *given, size_t index)
{
    return index < given->operand_count ? given->operands[index] : NULL;
}
