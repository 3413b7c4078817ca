/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend claim` and `farend relays` as they run from options alone. */
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "run.h"
#include "testing.h"

static json_t *json_of(const char *line)
{
    return fe_testing_json_of(FAREND_SOURCE_DIR, line);
}

static const char *text(const json_t *root, const char *key)
{
    const char *value = json_string_value(json_object_get(root, key));
    if (!value)
        fail_msg("no text %s", key);
    return value;
}

static void claim__of_a_factor_has_all_its_keys(void **state)
{
    (void)state;
    json_t *root = json_of("farend claim --from 5.2GHz --to 2.4GHz --range-factor 4 --json");
    assert_close(fe_testing_number(root, "factor_claimed"), 4.0, 1e-12);
    assert_close(fe_testing_number(root, "factor_free_space"), 5.2 / 2.4, 1e-9);
    assert_close(fe_testing_number(root, "needed_db"), 12.0412, 1e-4);
    assert_close(fe_testing_number(root, "explained_db"), 6.7158, 1e-4);
    assert_close(fe_testing_number(root, "unexplained_db"), 5.3254, 1e-3);
    assert_string_equal(text(root, "verdict"), "needs_more");
    assert_true(json_is_true(json_object_get(root, "band_open")));
    assert_non_null(strstr(text(root, "reading"), "4"));
    assert_true(json_array_size(json_object_get(root, "causes")) >= 5);
    json_decref(root);
    root = json_of("farend claim --from 5.2GHz --to 2.4GHz --range-factor +300% --json");
    assert_close(fe_testing_number(root, "factor_claimed"), 4.0, 1e-12);
    json_decref(root);
    root = json_of("farend claim --from 5.2GHz --to 2.4GHz --range-factor 300% --json");
    assert_close(fe_testing_number(root, "factor_claimed"), 3.0, 1e-12);
    json_decref(root);
}

static void claim__of_a_reach_says_that_the_band_is_closed(void **state)
{
    (void)state;
    json_t *root = json_of("farend claim --frequency 3.1GHz --distance 140m "
                           "--gear indoor-extender --rate 5Mb/s --json");
    assert_true(json_is_false(json_object_get(root, "band_open")));
    assert_close(fe_testing_number(root, "nearest_open_band_ghz"), 2.4, 1e-9);
    assert_string_equal(text(root, "verdict"), "band_closed");
    assert_true(fe_testing_number(root, "range_90_m") < fe_testing_number(root, "range_50_m"));
    assert_true(fe_testing_number(root, "range_50_m") < fe_testing_number(root, "range_10_m"));
    assert_close(fe_testing_number(root, "unexplained_db"),
                 fmax(0.0, fe_testing_number(root, "needed_db") -
                               fe_testing_number(root, "explained_db")),
                 1e-9);
    json_decref(root);
}

static void slips__are_questioned_before_anything_is_computed(void **state)
{
    (void)state;
    static const struct {
        const char *line;
        const char *question;
    } ROWS[] = {
        {"farend claim --from 5.2GHz --to 2.4MHz --range-factor 4", "did you mean 2.4 GHz?"},
        {"farend claim --frequency 2.4MHz --distance 140m", "did you mean 2.4 GHz?"},
        {"farend claim --frequency 2.4GHz --distance 100mm", "did you mean 100 m?"},
        {"farend claim --from 5.2GHz --to 2.4GHz --range-factor +4", "two ways"},
        {"farend claim --from 5.2GHz --to 2.4GHz --range-factor 300", "300% (3 times)"},
        {"farend claim --from 5.2GHz --to 2.4GHz", "--range-factor is missing"},
        {"farend claim --frequency 2.4GHz --distance 50m --to 5GHz", "one at a time"},
        {"farend claim --frequency 2.4GHz --distance 50m --wall brik", "did you mean brick?"},
        {"farend claim --frequency 2.4GHz --distance 50m --gear dich", "did you mean dish?"},
        {"farend relays", "name a plan, or a --distance"},
        {"farend relays --distance 400m --band 3GHz", "no such band"},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        char *out = NULL, *err = NULL;
        int code = 0;
        fe_testing_run_line(FAREND_SOURCE_DIR, ROWS[i].line, &out, &err, &code);
        if (code != 2 || *out || !strstr(err, ROWS[i].question))
            fail_msg("%s\nexit %d\n%s%s", ROWS[i].line, code, out, err);
        free(out);
        free(err);
    }
}

static void relays__answer_each_band_from_options_alone(void **state)
{
    (void)state;
    json_t *root = json_of("farend relays --distance 120m --gear outdoor-access-point "
                           "--rate 5Mb/s --json");
    const json_t *bands = json_object_get(root, "bands");
    assert_int_equal(json_array_size(bands), 2);
    for (size_t i = 0; i < json_array_size(bands); i++) {
        const json_t *band = json_array_get(bands, i);
        const json_t *positions = json_object_get(band, "positions_m");
        assert_int_equal(json_array_size(positions), (size_t)fe_testing_number(band, "count"));
        double before_m = 0.0;
        for (size_t k = 0; k < json_array_size(positions); k++) {
            const double at_m = json_number_value(json_array_get(positions, k));
            assert_true(at_m > before_m && at_m < 120.0);
            before_m = at_m;
        }
        assert_true(fe_testing_number(band, "chance") >= 0.0 &&
                    fe_testing_number(band, "chance") <= 1.0);
        assert_true(fe_testing_number(band, "delivered_rate_mbps") > 0.0);
        assert_close(fe_testing_number(band, "delay_ms"),
                     3.0 * (fe_testing_number(band, "count") + 1.0), 1e-9);
        assert_true(isfinite(fe_testing_number(band, "worst_margin_db")));
    }
    json_decref(root);
}

static void relays__read_the_example_plans(void **state)
{
    (void)state;
    static const char *const LINES[] = {"farend relays examples/boathouse.ini --json",
                                        "farend relays examples/lambing-shed.ini --json"};
    for (size_t i = 0; i < sizeof LINES / sizeof LINES[0]; i++) {
        json_t *root = json_of(LINES[i]);
        assert_true(json_array_size(json_object_get(root, "bands")) > 0);
        json_decref(root);
    }
}

/* Some commands ended with exit 1 where others ended with 2. */
static void missing_plan__is_bad_input_for_every_command(void **state)
{
    (void)state;
    static const char *const COMMANDS[] = {"report", "radio", "relays", "posts", "accept"};
    for (size_t i = 0; i < sizeof COMMANDS / sizeof COMMANDS[0]; i++) {
        char line[80];
        snprintf(line, sizeof line, "farend %s examples/none.ini", COMMANDS[i]);
        fe_testing_check_line(line, 2, "", "examples/none.ini: cannot read the file");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(claim__of_a_factor_has_all_its_keys),
        cmocka_unit_test(claim__of_a_reach_says_that_the_band_is_closed),
        cmocka_unit_test(slips__are_questioned_before_anything_is_computed),
        cmocka_unit_test(relays__answer_each_band_from_options_alone),
        cmocka_unit_test(relays__read_the_example_plans),
        cmocka_unit_test(missing_plan__is_bad_input_for_every_command),
    };
    return FE_RUN_TESTS(tests);
}
