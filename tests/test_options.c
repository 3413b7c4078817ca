/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The option parser: what it reads, and what it counts as a mistake. */
#include "app/command.h"
#include "app/options.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "testing.h"

static const option TABLE[] = {
    OPTION_ROW_JSON,
    OPTION_ROW_UNITS,
    {.name = "distance",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "1 m..50 km",
     .help = "a"},
    {.name = "distance-over-ground", .kind = OPTION_FLAG, .help = "b"},
    {.name = "voltage",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_VOLTAGE,
     .repeats = true,
     .help = "c"},
    {.name = "snow", .kind = OPTION_VALUE, .dimension = FE_DIM_LENGTH, .help = "d"},
    {.name = "temperature",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_TEMPERATURE,
     .help = "e"},
    {0},
};

enum { MOST_WORDS = 16, TEXT_ROOM = 2000 };

/* Parses words up to a null; what was written to stderr comes back in `messages`. */
static int parse(const char *const words[], options **given, char messages[TEXT_ROOM])
{
    char copies[MOST_WORDS][64];
    char *argv[MOST_WORDS];
    int argc = 0;
    for (; words[argc]; argc++) {
        snprintf(copies[argc], sizeof copies[argc], "%s", words[argc]);
        argv[argc] = copies[argc];
    }
    FILE *held = tmpfile();
    assert_non_null(held);
    fflush(stderr);
    const int usual = dup(2);
    assert_true(usual >= 0 && dup2(fileno(held), 2) == 2);
    const int mistakes = options_parse("farend test", TABLE, argc, argv, given);
    fflush(stderr);
    assert_true(dup2(usual, 2) == 2);
    close(usual);
    rewind(held);
    messages[fread(messages, 1, TEXT_ROOM - 1, held)] = 0;
    fclose(held);
    return mistakes;
}

#define WORDS(...) ((const char *const[]){__VA_ARGS__, NULL})

static void options__are_read_in_both_forms(void **state)
{
    (void)state;
    options *given = NULL;
    char messages[TEXT_ROOM];
    const int mistakes = parse(WORDS("plan.ini", "--distance", "150 m", "--json", "--units=us",
                                     "--temperature", "-20degC", "other"),
                               &given, messages);
    assert_int_equal(mistakes, 0);
    assert_string_equal(messages, "");
    assert_true(options_given(given, "json"));
    assert_false(options_given(given, "snow"));
    assert_false(options_help(given));
    assert_close(options_number(given, "distance", NAN), 150.0, 0.0);
    assert_close(options_number(given, "temperature", NAN), -20.0, 0.0);
    assert_close(options_number(given, "voltage", 7.0), 7.0, 0.0);
    assert_int_equal(options_value(given, "snow").given, FE_GIVEN_NOT);
    assert_null(options_text(given, "snow"));
    assert_int_equal(options_operands(given), 2);
    assert_null(options_operand(given, 2));
    options_free(given);
}

static void options__repeat_where_the_table_says_so(void **state)
{
    (void)state;
    options *given = NULL;
    char messages[TEXT_ROOM];
    assert_int_equal(parse(WORDS("--voltage", "12V", "--voltage=48 V"), &given, messages), 0);
    assert_int_equal(options_count(given, "voltage"), 2);
    assert_close(options_number_at(given, "voltage", 0), 12.0, 0.0);
    assert_close(options_number_at(given, "voltage", 1), 48.0, 0.0);
    assert_close(options_number(given, "voltage", NAN), 48.0, 0.0);
    options_free(given);
    assert_int_equal(parse(WORDS("--snow=1m", "--snow=2m"), &given, messages), 1);
    assert_string_equal(messages, "farend test: --snow: given twice\n");
    options_free(given);
}

static void open_values__are_read(void **state)
{
    (void)state;
    options *given = NULL;
    char messages[TEXT_ROOM];
    assert_int_equal(parse(WORDS("--snow", "0.4..0.8 m"), &given, messages), 0);
    assert_close(options_value(given, "snow").high, 0.8, 0.0);
    options_free(given);
    assert_int_equal(parse(WORDS("--snow", "unknown"), &given, messages), 0);
    assert_int_equal(options_value(given, "snow").given, FE_GIVEN_UNKNOWN);
    options_free(given);
}

static void names__may_be_shortened_while_unique(void **state)
{
    (void)state;
    options *given = NULL;
    char messages[TEXT_ROOM];
    assert_int_equal(parse(WORDS("--volt", "12V", "--distance=3m"), &given, messages), 0);
    assert_close(options_number(given, "voltage", NAN), 12.0, 0.0);
    options_free(given);
    assert_int_equal(parse(WORDS("--dist", "3m"), &given, messages), 1);
    assert_string_equal(
        messages, "farend test: --dist: several options start like this; write one in full\n");
    options_free(given);
}

static void two_dashes__end_the_options(void **state)
{
    (void)state;
    options *given = NULL;
    char messages[TEXT_ROOM];
    assert_int_equal(parse(WORDS("--", "--json", "-x", "-"), &given, messages), 0);
    assert_false(options_given(given, "json"));
    assert_int_equal(options_operands(given), 3);
    options_free(given);
}

static void decimal_comma__is_answered_with_a_point(void **state)
{
    (void)state;
    options *given = NULL;
    char messages[TEXT_ROOM];
    assert_int_equal(parse(WORDS("--distance", "95,5m"), &given, messages), 1);
    assert_string_equal(messages,
                        "farend test: --distance: '95,5m' is not a length with its unit, for "
                        "example --distance 95.5m\n");
    options_free(given);
}

static void every_mistake__is_reported_at_once(void **state)
{
    (void)state;
    options *given = NULL;
    char messages[TEXT_ROOM];
    const int mistakes = parse(WORDS("--distance", "150", "--unit=furlongs", "--colour",
                                     "--json=1", "-q", "--snow=3 kg", "--voltage"),
                               &given, messages);
    assert_int_equal(mistakes, 7);
    assert_string_equal(
        messages,
        "farend test: --distance: '150' is not a length with its unit, for example "
        "--distance 150m\n"
        "farend test: --units: 'furlongs' is not one of metric|us\n"
        "farend test: --colour: no such option; --help shows them all\n"
        "farend test: --json: takes no value\n"
        "farend test: -q: no such option; --help shows them all\n"
        "farend test: --snow: '3 kg' is not a length with its unit, for example --snow 3m\n"
        "farend test: --voltage: needs a value: --voltage VOLTAGE\n");
    options_free(given);
}

static void help__is_found_beside_mistakes(void **state)
{
    (void)state;
    options *given = NULL;
    char messages[TEXT_ROOM];
    parse(WORDS("--colour", "--help"), &given, messages);
    assert_true(options_help(given));
    options_free(given);
    assert_int_equal(parse(WORDS("-h"), &given, messages), 0);
    assert_true(options_help(given));
    options_free(given);
}

static void bounds__are_met_in_any_unit(void **state)
{
    (void)state;
    static const char *const GOOD[] = {"1m", "50km", "3.280839895013123ft",
                                       "164041.99475065616ft"};
    static const char *const BAD[] = {"0.999m", "50.001km", "-2m", "0m"};
    char messages[TEXT_ROOM];
    options *given = NULL;
    for (size_t i = 0; i < sizeof GOOD / sizeof GOOD[0]; i++) {
        assert_int_equal(parse(WORDS("--distance", GOOD[i]), &given, messages), 0);
        options_free(given);
    }
    for (size_t i = 0; i < sizeof BAD / sizeof BAD[0]; i++) {
        assert_int_equal(parse(WORDS("--distance", BAD[i]), &given, messages), 1);
        assert_non_null(strstr(messages, "is not a length within 1 m..50 km"));
        options_free(given);
    }
}

static void every_quantity__has_bounds(void **state)
{
    (void)state;
    static const command *const ROWS[] = {&COMMAND_CALC,    &COMMAND_ACCEPT, &COMMAND_NEW,
                                          &COMMAND_RADIO,   &COMMAND_REPORT, &COMMAND_POSTS,
                                          &COMMAND_TERRAIN, &COMMAND_RELAYS, &COMMAND_CLAIM,
                                          &COMMAND_COPPER,  &COMMAND_POWER};
    unsigned seen = 0;
    for (size_t c = 0; c < sizeof ROWS / sizeof ROWS[0]; c++)
        for (const option *row = ROWS[c]->options; row->name; row++) {
            fe_value bounds;
            if (row->kind != OPTION_QUANTITY && row->kind != OPTION_VALUE)
                continue;
            if (!row->bounds || fe_value_parse(row->bounds, row->dimension, &bounds) != FE_OK ||
                !(bounds.low < bounds.high))
                fail_msg("%s --%s: no bounds", ROWS[c]->name, row->name);
            seen++;
        }
    assert_true(seen > 50);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(options__are_read_in_both_forms),
        cmocka_unit_test(options__repeat_where_the_table_says_so),
        cmocka_unit_test(open_values__are_read),
        cmocka_unit_test(names__may_be_shortened_while_unique),
        cmocka_unit_test(two_dashes__end_the_options),
        cmocka_unit_test(decimal_comma__is_answered_with_a_point),
        cmocka_unit_test(every_mistake__is_reported_at_once),
        cmocka_unit_test(help__is_found_beside_mistakes),
        cmocka_unit_test(bounds__are_met_in_any_unit),
        cmocka_unit_test(every_quantity__has_bounds),
    };
    return FE_RUN_TESTS(tests);
}
