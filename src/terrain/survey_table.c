/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The CSV of a survey list: columns by name, units out of the header. */
#include "farend/survey.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/csv.h"
#include "farend/number.h"
#include "farend/quantity.h"
#include "farend/suggest.h"

enum { UNIT_ROOM = 24, NAME_ROOM = 64, CELL_ROOM = 96 };

typedef enum column_id {
    COLUMN_DISTANCE,
    COLUMN_LEG,
    COLUMN_TAPE,
    COLUMN_STRIDES,
    COLUMN_STRIDE,
    COLUMN_HEIGHT,
    COLUMN_RISE,
    COLUMN_BACKSIGHT,
    COLUMN_FORESIGHT,
    COLUMN_INTERMEDIATE,
    COLUMN_SLOPE,
    COLUMN_KNOWN,
    COLUMN_ERROR,
    COLUMN_NOTE,
    COLUMNS
} column_id;

typedef struct column_kind {
    const char *name;
    const char *example; /* of the header */
    fe_dimension dimension;
    bool has_value;
} column_kind;

static const column_kind KINDS[COLUMNS] = {
    [COLUMN_DISTANCE] = {"distance", "distance [m]", FE_DIM_LENGTH, true},
    [COLUMN_LEG] = {"leg", "leg [m]", FE_DIM_LENGTH, true},
    [COLUMN_TAPE] = {"tape", "tape [m]", FE_DIM_LENGTH, true},
    [COLUMN_STRIDES] = {"strides", "strides", FE_DIM_NUMBER, true},
    [COLUMN_STRIDE] = {"stride", "stride [m]", FE_DIM_LENGTH, true},
    [COLUMN_HEIGHT] = {"height", "height [m]", FE_DIM_LENGTH, true},
    [COLUMN_RISE] = {"rise", "rise [cm]", FE_DIM_LENGTH, true},
    [COLUMN_BACKSIGHT] = {"backsight", "backsight [m]", FE_DIM_LENGTH, true},
    [COLUMN_FORESIGHT] = {"foresight", "foresight [m]", FE_DIM_LENGTH, true},
    [COLUMN_INTERMEDIATE] = {"intermediate", "intermediate [m]", FE_DIM_LENGTH, true},
    [COLUMN_SLOPE] = {"slope", "slope [deg]", FE_DIM_ANGLE, true},
    [COLUMN_KNOWN] = {"known", "known [m]", FE_DIM_LENGTH, true},
    [COLUMN_ERROR] = {"error", "error [cm]", FE_DIM_LENGTH, true},
    [COLUMN_NOTE] = {"note", "note", FE_DIM_NUMBER, false},
};

/* The columns that the table has. */
typedef struct survey_table {
    const char *path;
    const fe_csv *csv;
    fe_messages *messages;
    int at[COLUMNS]; /* column of the table, -1: none */
    char unit[COLUMNS][UNIT_ROOM];
    bool percent; /* the slope is in per cent */
} survey_table;

static bool has(const survey_table *table, column_id id)
{
    return table->at[id] >= 0;
}

/* ---- The header ---- */

/* Cuts "name [unit]" apart; false where a bracket is left open or the text is too long. */
static bool split_header(const char *text, char name[NAME_ROOM], char unit[UNIT_ROOM])
{
    text += strspn(text, " \t");
    const size_t name_length = strcspn(text, "[ \t");
    const char *rest = text + name_length;
    rest += strspn(rest, " \t");
    if (name_length >= NAME_ROOM)
        return false;
    snprintf(name, NAME_ROOM, "%.*s", (int)name_length, text);
    unit[0] = '\0';
    if (*rest == '\0')
        return true;
    const size_t unit_length = *rest == '[' ? strcspn(rest + 1, "]") : 0;
    if (*rest != '[' || rest[1 + unit_length] != ']' || unit_length >= UNIT_ROOM)
        return false;
    snprintf(unit, UNIT_ROOM, "%.*s", (int)unit_length, rest + 1);
    return true;
}

static int find_kind(const char *name)
{
    for (int id = 0; id < COLUMNS; id++)
        if (strcmp(KINDS[id].name, name) == 0)
            return id;
    return -1;
}

static void report_unknown_column(const survey_table *table, const char *text, const char *name)
{
    fe_suggest search = fe_suggest_start(name);
    for (int id = 0; id < COLUMNS; id++)
        fe_suggest_offer(&search, KINDS[id].name);
    if (search.best)
        fe_messages_add(table->messages, table->path, 0,
                        "column \"%s\" is not known; did you mean %s?", text,
                        KINDS[find_kind(search.best)].example);
    else
        fe_messages_add(table->messages, table->path, 0,
                        "column \"%s\" is not known; expected for example distance [m], "
                        "height [m]; remarks go into a column note",
                        text);
}

static bool unit_is_right(survey_table *table, column_id id)
{
    const column_kind *kind = &KINDS[id];
    char trial[CELL_ROOM];
    double value = 0.0;
    if (id == COLUMN_SLOPE && strcmp(table->unit[id], "%") == 0) {
        table->percent = true;
        return true;
    }
    snprintf(trial, sizeof trial, "1 %s", table->unit[id]);
    if (!kind->has_value || (kind->dimension == FE_DIM_NUMBER && table->unit[id][0] == '\0') ||
        (table->unit[id][0] != '\0' &&
         fe_quantity_parse(trial, kind->dimension, &value) == FE_OK))
        return true;
    fe_messages_add(table->messages, table->path, 0,
                    "column %s: unit [%s] read, expected that of %s in brackets, for example "
                    "%s",
                    kind->name, table->unit[id], fe_dimension_name(kind->dimension),
                    kind->example);
    return false;
}

static bool read_header(survey_table *table)
{
    bool good = true;
    for (int id = 0; id < COLUMNS; id++)
        table->at[id] = -1;
    for (size_t i = 0; i < fe_csv_columns(table->csv); i++) {
        const char *text = fe_csv_column_name(table->csv, i);
        char name[NAME_ROOM] = "";
        char unit[UNIT_ROOM] = "";
        const int id = split_header(text, name, unit) ? find_kind(name) : -1;
        if (id < 0) {
            report_unknown_column(table, text, name);
            good = false;
            continue;
        }
        if (has(table, (column_id)id)) {
            fe_messages_add(table->messages, table->path, 0, "column %s stands there twice",
                            name);
            good = false;
        }
        table->at[id] = (int)i;
        memcpy(table->unit[id], unit, sizeof unit);
        good = unit_is_right(table, (column_id)id) && good;
    }
    return good;
}

/* Exactly one of several columns; reports none or more. */
static bool choose(const survey_table *table, const column_id *ids, size_t count,
                   const char *wanted, size_t *chosen)
{
    size_t found = 0;
    for (size_t i = 0; i < count; i++)
        if (has(table, ids[i])) {
            *chosen = i;
            found++;
        }
    if (found != 1)
        fe_messages_add(table->messages, table->path, 0, "%s: expected exactly one of %s",
                        found ? "columns that exclude one another" : "a column is missing",
                        wanted);
    return found == 1;
}

static bool find_methods(const survey_table *table, fe_survey_list *list)
{
    static const column_id DISTANCES[] = {COLUMN_DISTANCE, COLUMN_LEG, COLUMN_TAPE,
                                          COLUMN_STRIDES};
    static const column_id HEIGHTS[] = {COLUMN_HEIGHT, COLUMN_RISE, COLUMN_BACKSIGHT,
                                        COLUMN_SLOPE};
    size_t far = 0;
    size_t high = 0;
    bool good = choose(table, DISTANCES, 4, "distance [m], leg [m], tape [m], strides", &far);
    good =
        choose(table, HEIGHTS, 4, "height [m], rise [cm], backsight [m], slope [deg]", &high) &&
        good;
    if (!good)
        return false;
    list->distance = (fe_survey_distance)far;
    list->height = (fe_survey_height)high;
    if (list->distance == FE_SURVEY_STRIDES && !has(table, COLUMN_STRIDE)) {
        fe_messages_add(table->messages, table->path, 0,
                        "no column stride [m]: pace a taped length and write its length "
                        "divided by the strides there in the first row");
        good = false;
    }
    if (list->height == FE_SURVEY_STAFF && !has(table, COLUMN_FORESIGHT)) {
        fe_messages_add(table->messages, table->path, 0,
                        "no column foresight [m] beside the backsight");
        good = false;
    }
    return good;
}

/* ---- The rows ---- */

/* A cell in SI; NAN where it is empty. */
static bool read_cell(const survey_table *table, size_t row, column_id id, double *value)
{
    *value = NAN;
    if (!has(table, id))
        return true;
    const char *column = fe_csv_column_name(table->csv, (size_t)table->at[id]);
    const char *text = fe_csv_text(table->csv, row, column);
    char quantity[CELL_ROOM];
    double number = 0.0;
    if (text[strspn(text, " \t")] == '\0')
        return true;
    bool good = fe_number_parse(text, &number);
    if (good && id == COLUMN_SLOPE && table->percent) {
        *value = atan(number / 100.0);
        return true;
    }
    if (good && KINDS[id].dimension == FE_DIM_NUMBER) {
        *value = number;
        return true;
    }
    if (good && (size_t)snprintf(quantity, sizeof quantity, "%s %s", text, table->unit[id]) <
                    sizeof quantity)
        good = fe_quantity_parse(quantity, KINDS[id].dimension, value) == FE_OK;
    if (!good)
        fe_messages_add(table->messages, table->path, fe_csv_line(table->csv, row),
                        "column %s: read \"%s\", expected a number, for example 1.25", column,
                        text);
    return good;
}

static bool read_row(const survey_table *table, size_t i, double *stride_m, fe_survey_row *row)
{
    double strides = NAN;
    double tape_m = NAN;
    double stride_here_m = NAN;
    const struct {
        column_id id;
        double *value;
    } cells[] = {
        {COLUMN_DISTANCE, &row->distance_m},
        {COLUMN_LEG, &row->leg_m},
        {COLUMN_TAPE, &tape_m},
        {COLUMN_STRIDES, &strides},
        {COLUMN_STRIDE, &stride_here_m},
        {COLUMN_HEIGHT, &row->height_m},
        {COLUMN_RISE, &row->rise_m},
        {COLUMN_BACKSIGHT, &row->backsight_m},
        {COLUMN_FORESIGHT, &row->foresight_m},
        {COLUMN_INTERMEDIATE, &row->intermediate_m},
        {COLUMN_SLOPE, &row->slope_rad},
        {COLUMN_KNOWN, &row->known_m},
        {COLUMN_ERROR, &row->error_m},
    };
    bool good = true;
    for (size_t k = 0; k < sizeof cells / sizeof cells[0]; k++)
        good = read_cell(table, i, cells[k].id, cells[k].value) && good;
    /* A stride holds until another is written. */
    if (isfinite(stride_here_m))
        *stride_m = stride_here_m;
    if (has(table, COLUMN_TAPE))
        row->leg_m = tape_m;
    if (has(table, COLUMN_STRIDES))
        row->leg_m = strides * *stride_m;
    if (row->error_m < 0.0 || *stride_m <= 0.0) {
        fe_messages_add(table->messages, table->path, fe_csv_line(table->csv, i),
                        "an error and a stride are above zero");
        good = false;
    }
    return good;
}

static void explain_row(const survey_table *table, const fe_survey_list *list, size_t bad_row)
{
    static const char *const NEEDS[] = {
        [FE_SURVEY_HEIGHT] = "every row needs a height",
        [FE_SURVEY_RISE] = "every row after the first needs a rise, no longer than its leg",
        [FE_SURVEY_STAFF] = "the first row needs a backsight alone, every other a foresight or "
                            "an intermediate reading; after a foresight the level stands anew "
                            "only with a backsight in the same row",
        [FE_SURVEY_SLOPE] = "every row after the first needs a slope, at most 60 deg",
    };
    if (bad_row >= list->count) {
        fe_messages_add(table->messages, table->path, 0,
                        "a profile needs two points at different distances");
        return;
    }
    fe_messages_add(table->messages, table->path, fe_csv_line(table->csv, bad_row),
                    "%s; and %s", NEEDS[list->height],
                    list->distance == FE_SURVEY_FROM_START
                        ? "a distance"
                        : "after the first a length from the row before, not zero");
}

static fe_status reduce_table(survey_table *table, fe_survey *survey, fe_survey_list *list)
{
    bool good = read_header(table);
    good = find_methods(table, list) && good;
    list->count = fe_csv_rows(table->csv);
    if (!good)
        return FE_E_INPUT;
    fe_survey_row *rows = calloc(list->count + 1, sizeof *rows);
    if (!rows)
        return FE_E_MEMORY;
    double stride_m = NAN;
    for (size_t i = 0; i < list->count; i++) {
        rows[i] = (fe_survey_row){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
        good = read_row(table, i, &stride_m, &rows[i]) && good;
    }
    list->rows = rows;
    size_t bad_row = 0;
    fe_status status = good ? fe_survey_reduce(list, survey, &bad_row) : FE_E_INPUT;
    if (status == FE_E_DOMAIN) {
        explain_row(table, list, bad_row);
        status = FE_E_INPUT;
    }
    list->rows = NULL;
    free(rows);
    return status;
}

fe_status fe_survey_read(const char *path, fe_survey *survey, fe_survey_list *list,
                         fe_messages *messages)
{
    fe_csv *csv = NULL;
    fe_survey_list methods = {0};
    fe_status status = fe_csv_read_or_say(path, "survey list", &csv, messages);
    if (status == FE_OK) {
        survey_table table = {.path = path, .csv = csv, .messages = messages};
        status = reduce_table(&table, survey, &methods);
    }
    if (status >= 0 && list)
        *list = methods;
    fe_csv_free(csv);
    return status;
}
