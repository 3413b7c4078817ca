/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * `farend calc`: the formulas of the library by hand. The tables are in calc_SUBJECT.c, one
 * call in calc.c; this file has the command, its listing, and the runs over a table of cases.
 */
#include "app/calc_call.h"
#include "app/command.h"
#include "app/output.h"

#include <errno.h>
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/csv.h"
#include "farend/lines.h"
#include "farend/number.h"
#include "farend/suggest.h"
#include "farend/textfile.h"

const calc_formula *const CALC_TABLES[] = {
    CALC_PATH, CALC_MATERIAL, CALC_WIFI, CALC_LOSSES, CALC_SPAN, CALC_ELECTRIC, NULL,
};

enum { WHO_ROOM = 512 };

/* The next of several words with spaces between; null at the end. */
static const char *next_word(const char *text, size_t *length)
{
    text += strspn(text, " ");
    *length = strcspn(text, " ");
    return *length ? text : NULL;
}

/* ---- Finding a formula ---- */

static const calc_formula *find_formula(const char *name)
{
    for (size_t t = 0; CALC_TABLES[t]; t++)
        for (const calc_formula *row = CALC_TABLES[t]; row->name; row++)
            if (strcmp(row->name, name) == 0)
                return row;
    return NULL;
}

static const calc_formula *need_formula(const char *name)
{
    const calc_formula *found = find_formula(name);
    if (found)
        return found;
    fe_suggest search = fe_suggest_start(name);
    for (size_t t = 0; CALC_TABLES[t]; t++)
        for (const calc_formula *row = CALC_TABLES[t]; row->name; row++)
            fe_suggest_offer(&search, row->name);
    if (search.best)
        options_complain("farend calc", "%s: no such formula; did you mean %s?", name,
                         search.best);
    else
        options_complain("farend calc",
                         "%s: no such formula; `farend calc --list` shows them all", name);
    return NULL;
}

/* ---- Listing ---- */

enum { NAME_WIDTH = 16, TEXT_COLUMN = 21 };

/* One entry of the listing, laid out under its own column. */
static void list_entry(const char *name, const char *text, fe_strbuf *out)
{
    fe_strbuf_format(out, "    %-*s ", NAME_WIDTH, name);
    if (strlen(name) > NAME_WIDTH) { /* the text starts below a long name */
        fe_strbuf_append_char(out, '\n');
        fe_strbuf_repeat(out, ' ', TEXT_COLUMN);
    }
    fe_lines_hang(out, text, FE_LINES_WIDTH, TEXT_COLUMN);
}

static void list_argument(const calc_argument *argument, fe_strbuf *out)
{
    char words[256], text[1024];
    const char *fallback = argument->fallback;
    const char *range = argument->range ? argument->range : "";
    calc_describe_argument(argument, words, sizeof words);
    snprintf(text, sizeof text, "%s; %s%s%s%s", words,
             !fallback   ? "must be given"
             : *fallback ? "default "
                         : "may be left out",
             fallback ? fallback : "", *range ? "; " : "", range);
    list_entry(argument->name, text, out);
}

static void list_formula(const calc_formula *formula, fe_strbuf *out)
{
    fe_strbuf_format(out, "%s: ", formula->name);
    fe_lines_hang(out, formula->summary, FE_LINES_WIDTH, strlen(formula->name) + 2);
    for (size_t i = 0; i < CALC_MAX_ARGUMENTS && formula->arguments[i].name; i++)
        list_argument(&formula->arguments[i], out);
    list_entry("results", formula->results, out);
    list_entry("source", formula->source, out);
    /* In one line however long, to be copied. */
    fe_strbuf_format(out, "    %-*s farend calc %s%s%s\n", NAME_WIDTH, "example", formula->name,
                     *formula->example ? " " : "", formula->example);
}

static int help(const options *given)
{
    if (options_operands(given) == 0)
        return command_help(&COMMAND_CALC);
    const calc_formula *formula = need_formula(options_operand(given, 0));
    if (!formula)
        return EXIT_BAD_INPUT;
    fe_strbuf out = FE_STRBUF_INIT;
    fe_strbuf_format(&out, "usage: farend calc %s key=value... [--json] [--cases FILE.csv]\n\n",
                     formula->name);
    list_formula(formula, &out);
    return command_printed(&out);
}

/* ---- Printing results ---- */

/* A line a result; a text too long for one goes on below, moved in. */
static int print_text(const calc_call *call)
{
    enum { HANG = 4 };
    fe_strbuf line = FE_STRBUF_INIT;
    fe_strbuf out = FE_STRBUF_INIT;
    for (size_t i = 0; i < calc_answers(call); i++) {
        const calc_answer *answer = calc_answer_at(call, i);
        char number[64];
        const char *value = answer->word;
        if (!value)
            value = calc_print_value(answer->value, number, sizeof number);
        fe_strbuf_clear(&line);
        fe_strbuf_format(&line, "%s = %s%s%s", answer->name, value, *answer->unit ? " " : "",
                         answer->unit);
        fe_lines_hang(&out, fe_strbuf_text(&line), FE_LINES_WIDTH, HANG);
    }
    out.failed = out.failed || line.failed;
    fe_strbuf_free(&line);
    return command_printed(&out);
}

static json_t *value_as_json(const calc_answer *answer)
{
    if (answer->word)
        return json_string(answer->word);
    if (!isfinite(answer->value))
        return json_null();
    if (!*answer->unit && answer->value == floor(answer->value) && fabs(answer->value) < 1e15)
        return json_integer((json_int_t)answer->value);
    return json_real(answer->value);
}

/* Null where there is no memory. */
static json_t *call_as_json(const calc_call *call)
{
    json_t *object = json_object();
    for (size_t i = 0; i < calc_answers(call); i++) {
        const calc_answer *answer = calc_answer_at(call, i);
        output_json_set(&object, answer->name, value_as_json(answer));
    }
    return object;
}

/* ---- The whole listing ---- */

static json_t *argument_as_json(const calc_argument *argument)
{
    static const char *const KINDS[] = {
        [CALC_QUANTITY] = "quantity", [CALC_LIST] = "list", [CALC_WORD] = "word"};
    /* "s?" writes null for a null text: no default means that the argument must be given. */
    return json_pack("{s:s, s:s, s:s, s:s?, s:s?, s:s?}", "name", argument->name, "kind",
                     KINDS[argument->kind], "unit",
                     argument->kind == CALC_WORD ? "" : fe_dimension_unit(argument->dimension),
                     "choices", argument->choices, "default", argument->fallback, "range",
                     argument->range);
}

static json_t *formula_as_json(const calc_formula *formula)
{
    json_t *arguments = json_array(), *results = json_array();
    size_t length = 0;
    for (size_t i = 0; i < CALC_MAX_ARGUMENTS && formula->arguments[i].name; i++)
        output_json_append(&arguments, argument_as_json(&formula->arguments[i]));
    for (const char *at = formula->results; (at = next_word(at, &length)); at += length)
        output_json_append(&results, json_stringn(at, length));
    return json_pack("{s:s, s:s, s:o, s:o, s:s, s:s}", "name", formula->name, "summary",
                     formula->summary, "arguments", arguments, "results", results, "source",
                     formula->source, "example", formula->example);
}

static int list_as_json(void)
{
    json_t *list = json_array();
    for (size_t t = 0; CALC_TABLES[t]; t++)
        for (const calc_formula *row = CALC_TABLES[t]; row->name; row++)
            output_json_append(&list, formula_as_json(row));
    return output_json("farend calc", list, JSON_INDENT(2));
}

static int list_all(void)
{
    fe_strbuf out = FE_STRBUF_INIT;
    for (size_t t = 0; CALC_TABLES[t]; t++) {
        for (const calc_formula *row = CALC_TABLES[t]; row->name; row++) {
            list_formula(row, &out);
            fe_strbuf_append_char(&out, '\n');
        }
    }
    return command_printed(&out);
}

/* ---- One call ---- */

/* The name in key=value; what is after the sign, null where there is none. */
static const char *read_name(const char *word, char *name, size_t size)
{
    const size_t length = strcspn(word, "=");
    snprintf(name, size, "%.*s", (int)(length < size ? length : size - 1), word);
    return word[length] ? word + length + 1 : NULL;
}

/* Arguments of the command line: key=value, from the second operand on. */
static void give_operands(calc_call *call, const options *given)
{
    for (size_t i = 1; i < options_operands(given); i++) {
        char name[64];
        const char *value = read_name(options_operand(given, i), name, sizeof name);
        if (value)
            calc_give(call, name, value, NULL);
        else
            calc_complain(call, "%.80s: arguments are written key=value",
                          options_operand(given, i));
    }
}

static int no_memory(void)
{
    options_complain("farend calc", "%s", fe_status_text(FE_E_MEMORY));
    return EXIT_WORK_FAILED;
}

static int run_once(const calc_formula *formula, const options *given)
{
    char who[WHO_ROOM];
    snprintf(who, sizeof who, "farend calc %s", formula->name);
    calc_call *call = calc_start(formula, who);
    if (!call)
        return no_memory();
    give_operands(call, given);
    calc_complete(call);
    const fe_status status = calc_run(call);
    int code = status == FE_E_MEMORY ? no_memory() : command_exit_code(status);
    if (status >= 0 && options_given(given, "json"))
        code = output_json("farend calc", call_as_json(call), JSON_INDENT(2));
    else if (status >= 0)
        code = print_text(call);
    calc_free(call);
    return code;
}

/* ---- Many cases ---- */

typedef struct case_column {
    char name[64];
    char unit[64]; /* "" where the cells have their own */
    bool remark;   /* a column that is passed through */
} case_column;

typedef struct case_table {
    const calc_formula *formula;
    const char *path;
    fe_csv *csv;
    case_column *columns;
    char *text; /* the output, written only where every row is good */
    size_t text_length;
    FILE *out;
    json_t *json;
} case_table;

/* "distance" or "distance [m]". */
static void read_column(const char *header, case_column *column)
{
    const size_t name = strcspn(header, " [");
    const char *open = strchr(header, '[');
    const char *close = open ? strchr(open, ']') : NULL;
    snprintf(column->name, sizeof column->name, "%.*s", (int)(name < 63 ? name : 63), header);
    if (close)
        snprintf(column->unit, sizeof column->unit, "%.*s",
                 (int)(close - open - 1 < 63 ? close - open - 1 : 63), open + 1);
}

/* A table may number its rows; these columns are carried over where no argument has the name.
 */
static bool is_remark(const calc_formula *formula, const char *name)
{
    static const char *const REMARKS[] = {"case", "name", "note"};
    for (size_t i = 0; i < sizeof REMARKS / sizeof REMARKS[0]; i++)
        if (strcmp(name, REMARKS[i]) == 0)
            return !calc_find_argument(formula, name);
    return false;
}

static int report_columns(const case_table *table)
{
    int mistakes = 0;
    char who[WHO_ROOM];
    snprintf(who, sizeof who, "farend calc %s: %.300s:1", table->formula->name, table->path);
    for (size_t i = 0; i < fe_csv_columns(table->csv); i++) {
        case_column *column = &table->columns[i];
        read_column(fe_csv_column_name(table->csv, i), column);
        column->remark = is_remark(table->formula, column->name);
        if (column->remark || calc_find_argument(table->formula, column->name))
            continue;
        calc_call *call = calc_start(table->formula, who);
        if (call)
            calc_give(call, column->name, "", NULL);
        calc_free(call);
        mistakes++;
    }
    return mistakes;
}

static bool has_column(const case_table *table, const char *name)
{
    for (size_t i = 0; i < fe_csv_columns(table->csv); i++)
        if (strcmp(table->columns[i].name, name) == 0)
            return true;
    return false;
}

/* Said once, not again of every row. */
static fe_status check_operands(const case_table *table, const options *given)
{
    char who[WHO_ROOM];
    snprintf(who, sizeof who, "farend calc %s", table->formula->name);
    calc_call *call = calc_start(table->formula, who);
    if (!call)
        return FE_E_MEMORY;
    give_operands(call, given);
    for (size_t i = 1; i < options_operands(given); i++) {
        char name[64];
        read_name(options_operand(given, i), name, sizeof name);
        if (has_column(table, name))
            calc_complain(call, "%s: is a column of the table", options_operand(given, i));
    }
    const bool good = calc_is_good(call);
    calc_free(call);
    return good ? FE_OK : FE_E_INPUT;
}

/* The text of one cell, after a lead of its own. */
static void write_cell(FILE *out, const char *lead, const char *text)
{
    /* A row that begins with '#' would be read as a remark. */
    if (*text != '#' && !strpbrk(text, ",\"\r\n")) {
        fprintf(out, "%s%s", lead, text);
        return;
    }
    fprintf(out, "\"%s", lead);
    for (; *text; text++) {
        if (*text == '"')
            fputc('"', out);
        fputc(*text, out);
    }
    fputc('"', out);
}

/* A spreadsheet would run words that look like a formula, were there no apostrophe before. */
static bool is_like_formula(const char *text)
{
    double value = 0.0;
    return *text && strchr("=+-@\t\r", *text) && !fe_number_parse(text, &value);
}

static void write_header(const case_table *table)
{
    for (size_t i = 0; i < fe_csv_columns(table->csv); i++) {
        fputs(i ? "," : "", table->out);
        write_cell(table->out, "", fe_csv_column_name(table->csv, i));
    }
    size_t length = 0;
    for (const char *at = table->formula->results; (at = next_word(at, &length)); at += length)
        fprintf(table->out, ",%.*s", (int)length, at);
    fputc('\n', table->out);
}

static void write_row(const case_table *table, size_t row, const calc_call *call)
{
    for (size_t i = 0; i < fe_csv_columns(table->csv); i++) {
        fputs(i ? "," : "", table->out);
        const char *cell = fe_csv_text(table->csv, row, fe_csv_column_name(table->csv, i));
        /* Values were read as such; only a remark may hold any words. */
        const bool is_led = table->columns[i].remark && is_like_formula(cell);
        write_cell(table->out, is_led ? "'" : "", cell);
    }
    size_t length = 0;
    for (const char *at = table->formula->results; (at = next_word(at, &length));
         at += length) {
        const calc_answer *answer = calc_answer_named(call, at, length);
        char number[64];
        fputc(',', table->out);
        if (answer && answer->word)
            write_cell(table->out, "", answer->word);
        else if (answer && isfinite(answer->value))
            fputs(fe_number_print(answer->value, number, sizeof number), table->out);
    }
    fputc('\n', table->out);
}

static fe_status keep_row(const case_table *table, size_t row, const calc_call *call)
{
    write_row(table, row, call);
    if (!table->json)
        return FE_OK;
    return json_array_append_new(table->json, call_as_json(call)) == 0 ? FE_OK : FE_E_MEMORY;
}

static fe_status run_row(const case_table *table, size_t row, const options *given)
{
    char who[WHO_ROOM];
    snprintf(who, sizeof who, "farend calc %s: %.300s:%d", table->formula->name, table->path,
             fe_csv_line(table->csv, row));
    calc_call *call = calc_start(table->formula, who);
    if (!call)
        return FE_E_MEMORY;
    for (size_t i = 0; i < fe_csv_columns(table->csv); i++) {
        const case_column *column = &table->columns[i];
        const char *cell = fe_csv_text(table->csv, row, fe_csv_column_name(table->csv, i));
        if (!column->remark && *cell)
            calc_give(call, column->name, cell, column->unit[0] ? column->unit : NULL);
    }
    give_operands(call, given);
    calc_complete(call);
    fe_status status = calc_run(call);
    if (status >= 0)
        status = fe_status_worse(status, keep_row(table, row, call));
    calc_free(call);
    return status;
}

static fe_status run_rows(case_table *table, const options *given)
{
    fe_status status = FE_OK;
    table->columns = calloc(fe_csv_columns(table->csv), sizeof *table->columns);
    table->out = open_memstream(&table->text, &table->text_length);
    if (!table->columns || !table->out)
        return FE_E_MEMORY;
    if (options_given(given, "json") && !(table->json = json_array()))
        return FE_E_MEMORY;
    status = report_columns(table) > 0 ? FE_E_INPUT : FE_OK;
    status = fe_status_worse(status, check_operands(table, given));
    if (status < 0)
        return status;
    write_header(table);
    for (size_t row = 0; row < fe_csv_rows(table->csv); row++)
        status = fe_status_worse(status, run_row(table, row, given));
    if (status >= 0 && (fflush(table->out) != 0 || ferror(table->out)))
        status = FE_E_MEMORY;
    return status;
}

static int finish_cases(case_table *table, fe_status status)
{
    int code = command_exit_code(status);
    if (status == FE_E_MEMORY)
        code = no_memory();
    if (status >= 0 && table->json)
        code = output_json("farend calc", json_incref(table->json), JSON_INDENT(2));
    else if (status >= 0)
        fwrite(table->text, 1, table->text_length, stdout);
    return code;
}

static int report_unreadable(const char *path, fe_status status, int line)
{
    if (status == FE_E_INPUT) {
        options_complain("farend calc", "%s:%d: " FE_CSV_FAULT, path, line);
        return EXIT_BAD_INPUT;
    }
    if (status == FE_E_MEMORY)
        return no_memory();
    const int error = errno;
    options_complain("farend calc", "%s: %s", path, fe_textfile_reason(error));
    return fe_textfile_is_no_file(error) ? EXIT_BAD_INPUT : EXIT_WORK_FAILED;
}

static int run_cases(const calc_formula *formula, const options *given)
{
    case_table table = {.formula = formula, .path = options_text(given, "cases")};
    int line = 0;
    const fe_status read = fe_csv_read(table.path, &table.csv, &line);
    if (read != FE_OK)
        return report_unreadable(table.path, read, line);
    const fe_status status = run_rows(&table, given);
    const int code = finish_cases(&table, status);
    json_decref(table.json);
    if (table.out)
        fclose(table.out);
    free(table.text);
    free(table.columns);
    fe_csv_free(table.csv);
    return code;
}

/* ---- The command ---- */

static const char *formula_at(size_t index)
{
    for (size_t t = 0; CALC_TABLES[t]; t++)
        for (const calc_formula *row = CALC_TABLES[t]; row->name; row++)
            if (index-- == 0)
                return row->name;
    return NULL;
}

static const char *candidate(const char *first, size_t index)
{
    const calc_formula *formula = first ? find_formula(first) : NULL;
    if (!first)
        return formula_at(index);
    return formula && index < CALC_MAX_ARGUMENTS ? formula->arguments[index].name : NULL;
}

static int run(const options *given)
{
    if (options_given(given, "list"))
        return options_operands(given)        ? help(given)
               : options_given(given, "json") ? list_as_json()
                                              : list_all();
    if (options_operands(given) == 0) {
        options_complain("farend calc", "name a formula; `farend calc --list` shows them all");
        return EXIT_BAD_INPUT;
    }
    const calc_formula *formula = need_formula(options_operand(given, 0));
    if (!formula)
        return EXIT_BAD_INPUT;
    return options_given(given, "cases") ? run_cases(formula, given) : run_once(formula, given);
}

static const option OPTIONS[] = {
    {.name = "list", .help = "every formula with arguments, defaults, ranges and source"},
    {.name = "cases",
     .kind = OPTION_TEXT,
     .metavar = "FILE.csv",
     .help = "one call a row; the results follow each row on stdout"},
    OPTION_ROW_JSON,
    {0},
};

const command COMMAND_CALC = {
    .name = "calc",
    .summary = "one formula with its source and range",
    .usage = "NAME key=value... [OPTION]...",
    .description =
        "Computes one formula of the library and prints a line a result; a long text\n"
        "goes on below, moved in. Arguments\n"
        "are written with their units: distance=150m, temperature=-20degC, size=AWG12.\n"
        "`farend calc NAME --help` shows the arguments of one formula.\n"
        "\n"
        "With --cases the columns of the table are arguments, their cells quantities\n"
        "(or bare numbers under a header such as `distance [m]`); key=value on the\n"
        "command line holds for every row. Columns `case`, `name` and `note` are\n"
        "carried over. Nothing is written where a row is wrong.\n",
    .options = OPTIONS,
    .example = "free-space distance=150m frequency=2437MHz",
    .operands_max = COMMAND_ANY,
    .operand_name = "NAME",
    .run = run,
    .help = help,
    .candidate = candidate,
};
