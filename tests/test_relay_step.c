/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Relays of the examples: the report and the command say the same, and no step is too fine. */
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "deciding.h"
#include "farend/radio_hop.h"
#include "farend/radio_relays.h"
#include "run.h"
#include "testing.h"

static const char *const EXAMPLES[] = {"lambing-shed", "sugar-house", "boathouse",
                                       "potting-shed", "byre"};
enum { EXAMPLE_COUNT = sizeof EXAMPLES / sizeof EXAMPLES[0], COARSEST = 5 };

/* Decided once for both tests and kept to the end: that takes longest. */
static const decided *example(size_t index)
{
    static decided kept[EXAMPLE_COUNT];
    static bool known[EXAMPLE_COUNT];
    const fe_plan_places places = {NULL, getenv("FAREND_PROFILES")};
    decided *got = &kept[index];
    if (known[index])
        return got;
    char file[512];
    fe_messages messages = {0};
    snprintf(file, sizeof file, "%s/examples/%s.ini", FAREND_SOURCE_DIR, EXAMPLES[index]);
    assert_true(fe_plan_read(file, &places, &got->plan, &messages) >= 0);
    fe_messages_free(&messages);
    assert_true(fe_decide(&got->plan, &got->result) >= 0);
    known[index] = true;
    return got;
}

/* ---- Report and command ---- */

static const fe_relay_result *relays_of(const decided *got, json_t *band)
{
    const char *path = json_string_value(json_object_get(band, "path"));
    const char *name = json_string_value(json_object_get(band, "band"));
    for (size_t i = 0; i < got->result.relay_count; i++) {
        const fe_relay_result *relays = &got->result.relays[i];
        if (strcmp(got->plan.paths[relays->path].name, path) == 0 &&
            strcmp(fe_band_name(relays->band), name) == 0)
            return relays;
    }
    fail_msg("the report has no relays on %s at %s", path, name);
    return NULL;
}

static void compare(const fe_relay_result *relays, json_t *band)
{
    const fe_chain *best = &relays->chains[relays->best];
    json_t *positions = json_object_get(band, "positions_m");
    assert_int_equal(best->relays, json_integer_value(json_object_get(band, "count")));
    assert_close(best->chance, json_real_value(json_object_get(band, "chance")), 1e-9);
    assert_string_equal(relays->relay_gear->name,
                        json_string_value(json_object_get(band, "relay_gear")));
    assert_string_equal(fe_verdict_name(relays->verdict),
                        json_string_value(json_object_get(band, "verdict")));
    assert_int_equal(json_array_size(positions), best->relays);
    for (unsigned i = 0; i < best->relays; i++)
        assert_close(relays->places_m[relays->best][i],
                     json_real_value(json_array_get(positions, i)), 1e-9);
}

/* A coarser step in the report once gave 8 relays where the command said 10. */
static void report_and_command__say_the_same(void **state)
{
    (void)state;
    size_t compared = 0;
    for (size_t i = 0; i < EXAMPLE_COUNT; i++) {
        const decided *got = example(i);
        char line[128];
        snprintf(line, sizeof line, "relays examples/%s.ini --json", EXAMPLES[i]);
        json_t *root = fe_testing_json_of(FAREND_SOURCE_DIR, line);
        json_t *bands = json_object_get(root, "bands");
        for (size_t k = 0; k < json_array_size(bands); k++, compared++)
            compare(relays_of(got, json_array_get(bands, k)), json_array_get(bands, k));
        json_decref(root);
    }
    assert_true(compared >= 8);
}

/* ---- Steps ---- */

enum { NEVER = FE_CHAIN_MOST_RELAYS + 1 };

typedef struct asked {
    fe_relay_question question;
    fe_relay_class classes[FE_RELAY_MOST_CLASSES];
    double masts_m[2];
    fe_relay_spot *places;
    fe_hop *hop;
    fe_wanted wanted;
} asked;

static void ask(const fe_plan *plan, const fe_relay_result *like, asked *to)
{
    fe_relay_question *question = &to->question;
    *to = (asked){.wanted = fe_radio_wanted(plan, like->path)};
    assert_true(fe_radio_hop(plan, like->path, like->end_gear, like->band, &to->hop) >= 0);
    *question = (fe_relay_question){
        .direct = to->hop,
        .band = like->band,
        .classes = to->classes,
        .class_count = fe_relay_classes(plan, plan->relay.gear, like->band, to->classes),
        .masts_m = to->masts_m,
        .mast_count = fe_relay_masts(plan, to->masts_m),
        .step_m = fe_relay_step(fe_profile_length(to->hop->ground)),
        .seasons = plan->seasons,
        .season_count = plan->season_count,
        .wanted = &to->wanted,
        .threads = 2,
    };
    assert_true(fe_relay_places(plan, like->path, question->step_m, &to->places,
                                &question->place_count) >= 0);
    question->places = to->places;
}

static unsigned needed(const fe_relay_question *question)
{
    static fe_relay_choice choice;
    assert_true(fe_relay_choose(question, &choice) >= 0);
    return choice.verdict == FE_VERDICT_HOLDS ? choice.ways[choice.best].chain.relays : NEVER;
}

static void finer_steps__never_need_more(void **state)
{
    (void)state;
    unsigned held = 0, fell = 0;
    for (size_t i = 0; i < EXAMPLE_COUNT; i++) {
        const decided *got = example(i);
        for (size_t k = 0; k < got->result.relay_count; k++) {
            asked to;
            unsigned finer = 0;
            ask(&got->plan, &got->result.relays[k], &to);
            printf("%s, %s:", EXAMPLES[i], fe_band_name(to.question.band));
            for (unsigned coarser = 0; coarser <= COARSEST; coarser++) {
                to.question.coarser = coarser;
                const unsigned count = needed(&to.question);
                printf(" %u", count);
                assert_true(count >= finer);
                held += count < NEVER;
                fell += coarser > 0 && count > finer;
                finer = count;
            }
            printf("\n");
            free(to.hop);
            free(to.places);
        }
    }
    assert_true(held >= 12); /* where nothing holds there is nothing to compare */
    assert_true(fell >= 1);  /* and the steps do differ */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(report_and_command__say_the_same),
        cmocka_unit_test(finer_steps__never_need_more),
    };
    return FE_RUN_TESTS(tests);
}
