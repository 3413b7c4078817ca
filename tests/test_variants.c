/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The examples with their quantities moved and their words exchanged, so that what no example
 * has (another region, a wet wall, clay, a strand) is computed too: each answers what it
 * answered when tests/golden/variants.csv was written. What the table of keys says of a key
 * decides what may stand under it.
 */
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "deciding.h"
#include "kept.h"
#include "plan/keys.h"

enum { VARIANTS = 3, TEXT_ROOM = 1000 };

static const char *const EXAMPLES[] = {"lambing-shed", "boathouse", "sugar-house", "byre",
                                       "potting-shed"};

/* What stays: places along a path, each bound to the others, and what has an end of its own. */
static const char *const STAYING[] = {"from",     "to",   "place", "corner",
                                      "distance", "over", "hours", "power-factor"};

typedef struct mover {
    size_t variant;
    double reach;  /* natural logarithm of the greatest factor */
    bool words;    /* exchanged, too */
    size_t places; /* texts moved so far */
    plan_part part;
    fe_strbuf out;
} mover;

/* From 0 to 1, in no step with the lines of a plan. */
static double next_share(mover *move)
{
    double whole;
    return modf((double)++move->places * 0.6180339887498949 +
                    (double)move->variant * 0.4142135623730950,
                &whole);
}

static bool stays(const plan_key *row, const char *key, const char *value)
{
    for (size_t i = 0; i < sizeof STAYING / sizeof STAYING[0]; i++)
        if (strncmp(key, STAYING[i], strlen(STAYING[i])) == 0)
            return true;
    return row->dimension == FE_DIM_COUNT || strchr(value, '%') || strstr(value, " ft ");
}

/* Every number of a value by one factor; what stands between goes over, as the 2 of a km2. */
static void move_numbers(mover *move, const char *text)
{
    const double factor = exp(move->reach * (2.0 * next_share(move) - 1.0));
    for (char before = 0; *text; before = text[-1]) {
        size_t length = isalpha((unsigned char)before) ? 0 : strspn(text, "0123456789");
        if (length > 0 && text[length] == '.' && isdigit((unsigned char)text[length + 1]))
            length += 1 + strspn(text + length + 1, "0123456789");
        if (length > 0)
            fe_strbuf_format(&move->out, "%.12g", atof(text) * factor);
        else
            fe_strbuf_append_char(&move->out, *text);
        text += length > 0 ? length : 1;
    }
}

static void exchange_word(mover *move, const char *const *words)
{
    size_t count = 0;
    while (words[count])
        count++;
    fe_strbuf_append(&move->out, words[(size_t)(next_share(move) * (double)count)]);
}

static void move_value(mover *move, const char *key, const char *value)
{
    const plan_key *row = plan_key_find(move->part, key);
    const bool is_quantity = row && (row->kind == KIND_VALUE || row->kind == KIND_VALUES ||
                                     row->kind == KIND_NUMBER);
    char file[TEXT_ROOM];
    snprintf(file, sizeof file, "%s/examples/%s", FAREND_SOURCE_DIR, value);
    if (row && row->kind == KIND_WORD && move->words)
        exchange_word(move, row->words);
    else if (is_quantity && isdigit((unsigned char)*value) && !stays(row, key, value))
        move_numbers(move, value);
    else if (strcmp(key, "profile") == 0 && access(file, R_OK) == 0)
        fe_strbuf_append(&move->out, file);
    else
        fe_strbuf_append(&move->out, value);
}

static void trim(char *text)
{
    size_t length = strlen(text);
    while (length > 0 && isspace((unsigned char)text[length - 1]))
        text[--length] = 0;
}

static void move_line(mover *move, char *line)
{
    char *sign = strchr(line, '=');
    char *remark = strstr(line, " ;");
    if (*line == '[') {
        for (plan_part part = 0; part < PARTS; part++) {
            const char *word = plan_section_of(part)->word;
            const size_t length = strlen(word);
            if (strncmp(line + 1, word, length) == 0 && strchr(" ]", line[1 + length]))
                move->part = part;
        }
        fe_strbuf_append(&move->out, line);
    } else if (sign && *line != ';') {
        if (remark)
            *remark = 0;
        *sign++ = 0;
        trim(line);
        trim(sign);
        sign += strspn(sign, " ");
        fe_strbuf_format(&move->out, "%s = ", line);
        move_value(move, line, sign);
    }
    fe_strbuf_append_char(&move->out, '\n');
}

/* The example moved, as a plan; its status. */
static fe_status read_moved(const char *text, mover *move, fe_plan *plan)
{
    fe_messages messages = {0};
    char *copy = strdup(text), *rest = NULL;
    assert_non_null(copy);
    fe_strbuf_clear(&move->out);
    move->places = 0;
    for (char *line = strtok_r(copy, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest))
        move_line(move, line);
    free(copy);
    const fe_status status = try_text(plan, fe_strbuf_text(&move->out), &messages);
    fe_messages_free(&messages);
    return status;
}

/* As far as the plan reader lets it: quantities that belong together may part too far, or words
 * may not go together. False: only as it stands. */
static bool read_variant(const char *text, size_t variant, fe_plan *plan)
{
    mover move = {.variant = variant, .out = FE_STRBUF_INIT};
    bool read = false;
    for (int half = 0; half < 6 && !read; half++) {
        move.words = half < 4;
        move.reach = 0.5 / (1 << half);
        read = read_moved(text, &move, plan) >= 0;
    }
    fe_strbuf_free(&move.out);
    return read;
}

static void keep_variant(kept *numbers, const fe_plan *plan)
{
    fe_result result;
    assert_true(fe_decide(plan, &result) >= 0);
    kept_report(numbers, &result);
    fe_result_free(&result);
}

static void variants__answer_what_they_did(void **state)
{
    (void)state;
    kept *numbers = kept_open("variants");
    for (size_t i = 0; i < sizeof EXAMPLES / sizeof EXAMPLES[0]; i++) {
        char file[TEXT_ROOM];
        char *text = NULL;
        size_t length = 0;
        snprintf(file, sizeof file, "%s/examples/%s.ini", FAREND_SOURCE_DIR, EXAMPLES[i]);
        assert_int_equal(fe_textfile_read(file, &text, &length), FE_OK);
        for (size_t variant = 0; variant < VARIANTS; variant++) {
            fe_plan plan;
            if (!read_variant(text, variant, &plan))
                fail_msg("%s: variant %zu is refused", EXAMPLES[i], variant);
            keep_variant(numbers, &plan);
            fe_plan_free(&plan);
        }
        free(text);
    }
    kept_close(numbers);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(variants__answer_what_they_did),
    };
    fe_init();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
