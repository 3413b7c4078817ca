/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The starter plan, and `farend new` as a user runs it. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "app/new_ask.h"
#include "farend/plan.h"
#include "farend/starter.h"
#include "farend/textfile.h"
#include "plan/keys.h"
#include "run.h"
#include "testing.h"

static const char FILE_NAME[] = "test_starter.ini";
static const fe_plan_places PLACES = {.profiles_option = FAREND_SOURCE_DIR "/profiles"};

static void reads_without_mistake(const char *text, fe_plan *plan)
{
    fe_messages messages = {0};
    assert_int_equal(fe_textfile_write(FILE_NAME, text, strlen(text)), FE_OK);
    *plan = (fe_plan){0};
    const fe_status status = fe_plan_read(FILE_NAME, &PLACES, plan, &messages);
    for (size_t i = 0; i < messages.count; i++)
        print_error("%s\n", messages.items[i].text);
    assert_true(fe_messages_none(&messages));
    assert_int_equal(status, FE_OK);
    fe_messages_free(&messages);
    remove(FILE_NAME);
}

/* The plan of pairs of name and answer, ended by a null. */
static char *text_of(const char *const *pairs, bool us)
{
    const char *answers[NEW_MOST_QUESTIONS] = {NULL};
    fe_strbuf out = FE_STRBUF_INIT;
    for (; *pairs; pairs += 2) {
        const size_t at = fe_starter_find(pairs[0]);
        assert_true(at < fe_starter_questions());
        answers[at] = pairs[1];
    }
    assert_int_equal(fe_starter_write(answers, us, &out), FE_OK);
    return fe_strbuf_take(&out);
}

static fe_plan plan_of(const char *const *pairs, bool us)
{
    fe_plan plan;
    char *text = text_of(pairs, us);
    reads_without_mistake(text, &plan);
    free(text);
    return plan;
}

static fe_status checked(const char *name, const char *answer, fe_strbuf *why)
{
    const char *answers[NEW_MOST_QUESTIONS] = {NULL};
    answers[fe_starter_find("distance")] = "100 m";
    return fe_starter_check(fe_starter_find(name), answer, answers, why);
}

static void starter__of_no_answers_reads_without_a_mistake(void **state)
{
    (void)state;
    for (int us = 0; us < 2; us++) {
        fe_plan plan = plan_of((const char *[]){NULL}, us == 1);
        assert_int_equal(plan.end_count, 2);
        assert_string_equal(plan.ends[1].name, "shed");
        assert_int_equal(plan.paths[0].distance_m.given, FE_GIVEN_UNKNOWN);
        assert_int_equal(plan.tree_count, 0);
        assert_int_equal(plan.load_count, 0);
        fe_plan_free(&plan);
    }
}

static void starter__puts_every_answer_where_it_belongs(void **state)
{
    (void)state;
    fe_plan plan = plan_of(
        (const char *[]){
            "name",         "Upper barn", "region",     "CA",     "building",    "old barn",
            "distance",     "600 ft",     "rise",       "-4 m",   "land",        "field",
            "trees",        "20..45 m",   "tree-kind",  "hedge",  "tree-height", "12 ft",
            "house-height", "5 m",        "far-height", "2..3 m", "data",        "6 Mb/s",
            "mains",        "no",         "power",      "1.2 kW", "snow",        "1.5 m",
            "coldest",      "-30 degC",   "hours",      "6 h",    "posts",       "20 ft",
            "soil",         "clay",       NULL},
        false);
    assert_string_equal(plan.site.name, "Upper barn");
    assert_int_equal(plan.site.region.value, FE_REGION_CA);
    assert_string_equal(plan.ends[1].name, "old barn");
    assert_close(plan.paths[0].distance_m.typical, 182.88, 1e-9);
    assert_close(plan.paths[0].rise_m.typical, -4.0, 0.0);
    assert_int_equal(plan.paths[0].land.value, FE_LAND_FIELD);
    assert_close(plan.trees[0].from_m.typical, 20.0, 1e-9);
    assert_close(plan.trees[0].to_m.typical, 45.0, 1e-9);
    assert_int_equal(plan.trees[0].kind.value, FE_TREES_HEDGE);
    assert_close(plan.trees[0].height_m.typical, 3.6576, 1e-9);
    assert_close(plan.ends[0].height_m.typical, 5.0, 0.0);
    assert_close(plan.ends[1].height_m.high, 3.0, 0.0);
    assert_int_equal(plan.ends[1].mains.value, 0);
    assert_int_equal(plan.traffic[0].from, 1);
    assert_close(plan.traffic[0].stream_bps.typical, 6e6, 1e-3);
    assert_close(plan.loads[0].power_w.typical, 1200.0, 1e-9);
    assert_close(plan.loads[0].hours_per_day.typical, 6.0, 0.0);
    assert_true(plan.feed.given);
    assert_true(plan.posts.given);
    assert_close(plan.posts.post_lengths_m.items[0].typical, 6.096, 1e-9);
    assert_string_equal(plan.posts.soil, "clay");
    assert_close(plan.posts.start_height_m.typical, 5.0, 0.0);
    assert_close(plan.posts.end_height_m.high, 3.0, 0.0);
    assert_close(plan.climate.snow_m.typical, 1.5, 0.0);
    assert_close(plan.climate.coldest_c.typical, -30.0, 1e-9);
    fe_plan_free(&plan);
}

static void starter__takes_unknown_wherever_it_may(void **state)
{
    (void)state;
    const char *answers[NEW_MOST_QUESTIONS] = {NULL};
    fe_strbuf why = FE_STRBUF_INIT;
    fe_strbuf out = FE_STRBUF_INIT;
    fe_plan plan;
    for (size_t i = 0; i < fe_starter_questions(); i++)
        if (fe_starter_check(i, "unknown", answers, &why) == FE_OK)
            answers[i] = "unknown";
        else
            fail_msg("%s takes no unknown", fe_starter_question_at(i).name);
    assert_int_equal(fe_starter_write(answers, false, &out), FE_OK);
    reads_without_mistake(fe_strbuf_text(&out), &plan);
    assert_int_equal(plan.tree_count, 1);
    assert_int_equal(plan.loads[0].power_w.given, FE_GIVEN_UNKNOWN);
    fe_plan_free(&plan);
    fe_strbuf_free(&out);
    fe_strbuf_free(&why);
}

static void starter__refuses_what_would_not_read(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        const char *answer;
        const char *why;
    } BAD[] = {
        {"distance", "165", "read \"165\", expected a length with its unit, for example 150 m"},
        {"distance", "100 km",
         "read \"100 km\", expected a length within 1 m..50 km, for "
         "example 150 m"},
        {"trees", "80 m",
         "read \"80 m\", expected none, unknown, or where the trees begin and "
         "end with the unit, for example 80..95 m"},
        {"trees", "80..120 m", "they would end 120 m from the house, beyond the building"},
        {"building", "shed]", "the signs [];#= have a meaning in a plan; leave them out"},
        {"building", "house", "\"house\" is the near end; give the other one another name"},
        {"building", "", "expected 1 to 40 letters, no blank at either end"},
        {"name", "a\033[2J", "it holds a sign that is no letter (or the text is no UTF-8)"},
        {"name", "\xff", "it holds a sign that is no letter (or the text is no UTF-8)"},
        {"distance", "10 m\n[end x]",
         "the signs ;\r\n have a meaning in a plan; leave them out"},
    };
    for (size_t i = 0; i < sizeof BAD / sizeof BAD[0]; i++) {
        fe_strbuf why = FE_STRBUF_INIT;
        assert_int_equal(checked(BAD[i].name, BAD[i].answer, &why), FE_E_INPUT);
        assert_string_equal(fe_strbuf_text(&why), BAD[i].why);
        fe_strbuf_free(&why);
    }
}

/* Keys that cannot be on together with others, or that name what is not there. */
static bool stays_off(const char *key)
{
    static const char *const KEYS[] = {"profile", "transfer", "current", "from",  "to",
                                       "path",    "class",    "place",   "power", "wall"};
    for (size_t i = 0; i < sizeof KEYS / sizeof KEYS[0]; i++)
        if (strncmp(key, KEYS[i], strlen(KEYS[i])) == 0 && key[strlen(KEYS[i])] == ' ')
            return true;
    return false;
}

/* Takes the ';' away from every switched-off key, the sections too. */
static void switch_on(char *text)
{
    char *to = text;
    bool begins = true;
    for (const char *at = text; *at; at++) {
        const bool off = begins && *at == ';' && at[1] != ' ' && at[1] != '\n';
        begins = *at == '\n';
        if (!off || stays_off(at + 1))
            *to++ = *at;
    }
    *to = 0;
}

static void starter__reads_with_everything_switched_on(void **state)
{
    (void)state;
    fe_plan plan;
    char *text = text_of((const char *[]){"distance", "300 m", "building", "shed", "trees",
                                          "80..95 m", "power", "60 W", NULL},
                         false);
    /* The reading needs two ends and the load its power, which are off in every section. */
    switch_on(text);
    reads_without_mistake(text, &plan);
    assert_int_equal(plan.reading_count, 1);
    assert_true(plan.prices.given);
    assert_true(plan.solar.given);
    fe_plan_free(&plan);
    free(text);
}

/* Trees that nobody has looked at are open in the plan, on a stretch the way is long for. */
static void starter__leaves_unknown_trees_open(void **state)
{
    (void)state;
    char *text =
        text_of((const char *[]){"trees", "unknown", "distance", "95..115 m", NULL}, false);
    fe_plan plan;
    reads_without_mistake(text, &plan);
    assert_int_equal(plan.tree_count, 1);
    const fe_plan_trees *trees = &plan.trees[0];
    assert_true(fe_value_is_open(trees->from_m));
    assert_true(fe_value_is_open(trees->to_m));
    assert_close(trees->from_m.low, 0.4 * 105.0, 0.05);
    assert_close(trees->from_m.high, 0.5 * 105.0, 0.05);
    assert_close(trees->to_m.low, 0.5 * 105.0, 0.05);
    assert_close(trees->to_m.high, 0.6 * 105.0, 0.05);
    fe_plan_free(&plan);
    free(text);
}

static void starter__explains_every_key_of_the_reader(void **state)
{
    (void)state;
    char *text =
        text_of((const char *[]){"trees", "80..95 m", "power", "unknown", NULL}, false);
    size_t count = 0;
    const plan_key *rows = plan_keys(&count);
    for (size_t i = 0; i < count; i++) {
        if (rows[i].part == PART_GEAR || rows[i].part == PART_CABLE_CLASS ||
            rows[i].part == PART_CLIMATE_CLASS || rows[i].part == PART_SEASON ||
            rows[i].kind == KIND_PATH)
            continue;
        if (!strstr(text, rows[i].help))
            fail_msg("%s: \"%s\" is not in the plan", rows[i].key, rows[i].help);
    }
    free(text);
}

static void starter__hints_at_every_word_that_a_key_takes(void **state)
{
    (void)state;
    static const char *const ASKED[][2] = {
        {"region", "region"}, {"land", "land"}, {"tree-kind", "kind"}, {"mains", "mains"}};
    static const plan_part PARTS_ASKED[] = {PART_SITE, PART_PATH, PART_TREES, PART_END};
    for (size_t i = 0; i < sizeof ASKED / sizeof ASKED[0]; i++) {
        const size_t at = fe_starter_find(ASKED[i][0]);
        const plan_key *row = plan_key_find(PARTS_ASKED[i], ASKED[i][1]);
        for (size_t j = 0; row->words[j]; j++)
            assert_non_null(strstr(fe_starter_question_at(at).hint, row->words[j]));
    }
}

/* ---- asking ---- */

static char *asked(const char *typed, new_answers *answers, fe_status *ended)
{
    char *said = NULL;
    size_t length = 0;
    FILE *in = fmemopen((void *)(uintptr_t)typed, strlen(typed), "r");
    FILE *out = open_memstream(&said, &length);
    assert_non_null(in);
    assert_non_null(out);
    *answers = (new_answers){0};
    *ended = new_ask(in, out, false, answers);
    fclose(in);
    fclose(out);
    return said;
}

static void asking__asks_again_until_the_answer_is_good(void **state)
{
    (void)state;
    new_answers answers;
    fe_status ended = FE_E_INPUT;
    char *said = asked("\nEU\nbarn\n165\n165 m\n\n\n\n\n\n\n\n\n\n\n\n\n", &answers, &ended);
    assert_int_equal(ended, FE_OK);
    assert_string_equal(answers.texts[fe_starter_find("building")], "barn");
    assert_string_equal(answers.texts[fe_starter_find("distance")], "165 m");
    assert_null(answers.texts[fe_starter_find("rise")]);
    assert_non_null(strstr(said, "read \"165\", expected a length with its unit"));
    assert_null(strstr(said, "How tall")); /* no trees, no question about them */
    free(said);
}

static void asking__stops_where_the_answers_end(void **state)
{
    (void)state;
    new_answers answers;
    fe_status ended = FE_OK;
    free(asked("\nEU\n", &answers, &ended));
    assert_int_equal(ended, FE_E_INPUT);
}

/* The first letters of an answer that had no room were taken for all of it. */
static void asking__cuts_no_answer_short(void **state)
{
    (void)state;
    new_answers answers;
    fe_status ended = FE_OK;
    char typed[NEW_ANSWER_ROOM + 40];
    memset(typed, 'x', sizeof typed);
    strcpy(typed + NEW_ANSWER_ROOM, "\nbarn\nEU\n");
    char *said = asked(typed, &answers, &ended);
    assert_string_equal(answers.texts[fe_starter_find("name")], "barn");
    assert_string_equal(answers.texts[fe_starter_find("region")], "EU");
    assert_non_null(strstr(said, "longer than 159 letters"));
    free(said);
}

/* ---- the command ---- */

static void new_plan__says_what_it_assumed(void **state)
{
    (void)state;
    char *out = NULL;
    char *err = NULL;
    int code = 0;
    fe_plan plan = {0};
    fe_messages messages = {0};
    fe_testing_run((const char *[]){"new", FILE_NAME, "--distance", "165 m", NULL}, &out, &err,
                   &code);
    assert_string_equal(err, "");
    assert_int_equal(code, 0);
    assert_non_null(strstr(out, "Assumed, as nobody said otherwise:\n"));
    assert_non_null(strstr(out, "  building      shed\n"));
    assert_null(strstr(out, "  distance "));
    assert_int_equal(fe_plan_read(FILE_NAME, &PLACES, &plan, &messages), FE_OK);
    fe_plan_free(&plan);
    free(out);
    free(err);
    remove(FILE_NAME);
}

static void new_plan__never_overwrites_unasked(void **state)
{
    (void)state;
    char *err = NULL;
    char *text = NULL;
    size_t length = 0;
    int code = 0;
    assert_int_equal(fe_textfile_write(FILE_NAME, "mine\n", 5), FE_OK);
    fe_testing_run((const char *[]){"new", FILE_NAME, NULL}, NULL, &err, &code);
    assert_int_equal(code, 2);
    assert_string_equal(
        err, "farend new: test_starter.ini is there already; --force overwrites it\n");
    assert_int_equal(fe_textfile_read(FILE_NAME, &text, &length), FE_OK);
    assert_string_equal(text, "mine\n");
    free(text);
    free(err);
    fe_testing_run((const char *[]){"new", FILE_NAME, "--force", NULL}, NULL, NULL, &code);
    assert_int_equal(code, 0);
    remove(FILE_NAME);
}

static void new_plan__shows_every_mistake_and_writes_nothing(void **state)
{
    (void)state;
    char *err = NULL;
    int code = 0;
    fe_testing_run(
        (const char *[]){"new", FILE_NAME, "--distance", "165", "--snow", "deep", NULL}, NULL,
        &err, &code);
    assert_int_equal(code, 2);
    assert_non_null(strstr(err, "farend new: --distance: read \"165\""));
    assert_non_null(strstr(err, "farend new: --snow: read \"deep\""));
    assert_int_equal(access(FILE_NAME, F_OK), -1);
    free(err);
    fe_testing_run((const char *[]){"new", "no/such/plan.ini", NULL}, NULL, &err, &code);
    assert_int_equal(code, 1);
    assert_non_null(strstr(err, "cannot write no/such/plan.ini: No such file"));
    free(err);
}

static void new_plan__has_an_option_for_every_question(void **state)
{
    (void)state;
    char *help = NULL;
    int code = 0;
    fe_testing_run((const char *[]){"new", "--help", NULL}, &help, NULL, &code);
    assert_true(fe_starter_questions() <= NEW_MOST_QUESTIONS);
    for (size_t i = 0; i < fe_starter_questions(); i++) {
        char name[40];
        snprintf(name, sizeof name, "  --%s ", fe_starter_question_at(i).name);
        assert_non_null(strstr(help, name));
    }
    free(help);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(starter__of_no_answers_reads_without_a_mistake),
        cmocka_unit_test(starter__puts_every_answer_where_it_belongs),
        cmocka_unit_test(starter__takes_unknown_wherever_it_may),
        cmocka_unit_test(starter__leaves_unknown_trees_open),
        cmocka_unit_test(starter__refuses_what_would_not_read),
        cmocka_unit_test(starter__reads_with_everything_switched_on),
        cmocka_unit_test(starter__explains_every_key_of_the_reader),
        cmocka_unit_test(starter__hints_at_every_word_that_a_key_takes),
        cmocka_unit_test(asking__asks_again_until_the_answer_is_good),
        cmocka_unit_test(asking__stops_where_the_answers_end),
        cmocka_unit_test(asking__cuts_no_answer_short),
        cmocka_unit_test(new_plan__says_what_it_assumed),
        cmocka_unit_test(new_plan__never_overwrites_unasked),
        cmocka_unit_test(new_plan__shows_every_mistake_and_writes_nothing),
        cmocka_unit_test(new_plan__has_an_option_for_every_question),
    };
    return FE_RUN_TESTS(tests);
}
