/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of models in a report names those that this very result used, and for what. */
#include <jansson.h>

#include "deciding.h"
#include "farend/report.h"
#include "report/report_parts.h"

static json_t *models_of(const decided *got)
{
    report_json json = {false};
    json_t *models = report_sources_json(&json, &got->result);
    assert_false(json.failed);
    return models;
}

/* The first row of that name; null where there is none. */
static const json_t *row_of(const json_t *models, const char *name)
{
    for (size_t i = 0; i < json_array_size(models); i++) {
        const json_t *row = json_array_get(models, i);
        if (strcmp(json_string_value(json_object_get(row, "model")), name) == 0)
            return row;
    }
    return NULL;
}

static bool is_used_for(const json_t *row, const char *what)
{
    const json_t *users = json_object_get(row, "used_for");
    for (size_t i = 0; i < json_array_size(users); i++)
        if (strstr(json_string_value(json_array_get(users, i)), what))
            return true;
    return false;
}

static const char *part(const json_t *row, const char *key)
{
    const char *text = json_string_value(json_object_get(row, key));
    assert_non_null(text);
    return text;
}

static json_t *models_on(const char *distance, const char *rest)
{
    decided got;
    decide_on(&got, distance, rest);
    json_t *models = models_of(&got);
    done(&got);
    return models;
}

static void trees__have_a_row_where_the_plan_has_trees(void **state)
{
    (void)state;
    static const char HEDGE[] = "[trees hedge]\npath = way\nfrom = 40 m\nto = 44 m\n"
                                "height = 8 m\nkind = hedge\n";
    json_t *bare = models_on("100 m", "");
    json_t *hedge = models_on("100 m", HEDGE);
    assert_null(row_of(bare, "trees between the ends"));
    assert_null(row_of(bare, "bare, wet and frozen trees"));
    const json_t *row = row_of(hedge, "trees between the ends");
    assert_non_null(row);
    assert_true(is_used_for(row, "2.4 GHz"));
    assert_string_equal(part(row, "known"), "read");
    assert_non_null(strstr(part(row, "source"), "Weissberger 1982"));
    assert_null(row_of(hedge, "an end in the wood"));
    json_decref(bare);
    json_decref(hedge);
}

static void wood_about_an_end__has_its_own_law(void **state)
{
    (void)state;
    json_t *models = models_on("100 m", "[trees wood]\npath = way\nfrom = 60 m\nto = 100 m\n"
                                        "height = 12 m\nkind = deciduous\n");
    assert_non_null(row_of(models, "an end in the wood"));
    assert_null(row_of(models, "trees between the ends"));
    json_decref(models);
}

static void walls__are_known_or_a_house_nobody_knows(void **state)
{
    (void)state;
    static const char PLAN[] =
        "[site]\nregion = EU\nbands = 2.4 GHz\n"
        "[end house]\ngear = indoor-extender\nheight = 2 m\nmount = indoors\n%s"
        "[end shed]\ngear = indoor-extender\nheight = 2 m\n"
        "mount = outdoors\n"
        "[path way]\nfrom = house\nto = shed\ndistance = 60 m\n";
    static const char *const WALLS[] = {"wall = brick 110 mm\n", ""};
    for (int unknown = 0; unknown < 2; unknown++) {
        char text[PLAN_TEXT_ROOM];
        decided got;
        snprintf(text, sizeof text, PLAN, WALLS[unknown]);
        decide_text(&got, text);
        json_t *models = models_of(&got);
        assert_int_equal(row_of(models, "known walls") != NULL, !unknown);
        assert_int_equal(row_of(models, "a house nobody knows") != NULL, unknown);
        json_decref(models);
        done(&got);
    }
}

static const char CABLE[] = "[cable]\nclass = outdoor-data\nindoor = 5 m\n[trench]\n";

/* Every row has a source and how it is known, and is used for something. */
static void rows__are_whole(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "100 m", CABLE);
    json_t *models = models_of(&got);
    assert_true(json_array_size(models) > 10);
    for (size_t i = 0; i < json_array_size(models); i++) {
        const json_t *row = json_array_get(models, i);
        assert_true(json_array_size(json_object_get(row, "used_for")) > 0);
        assert_true(*part(row, "source") && *part(row, "holds_for") && *part(row, "known"));
    }
    assert_non_null(row_of(models, "length of a copper cable"));
    assert_null(row_of(models, "shape of a span"));

    fe_strbuf out = FE_STRBUF_INIT;
    assert_int_equal(fe_report_json(&got.result, NULL, &out), FE_OK);
    json_t *root = json_loads(fe_strbuf_text(&out), 0, NULL);
    assert_true(json_equal(json_object_get(root, "models"), models));
    json_decref(root);
    fe_strbuf_free(&out);
    json_decref(models);
    done(&got);
}

/* Without radio no row of radio is left, and what remains is the cable's. */
static void copper_alone__has_no_row_of_radio(void **state)
{
    (void)state;
    char text[PLAN_TEXT_ROOM];
    decided got;
    read_text(&got.plan, small_plan(text, "100 m", CABLE));
    assert_true(fe_decide_cables(&got.plan, &got.result) >= 0);
    json_t *models = models_of(&got);
    assert_null(row_of(models, "free space"));
    assert_null(row_of(models, "rain"));
    assert_null(row_of(models, "how strong a radio may be"));
    assert_non_null(row_of(models, "length of a copper cable"));
    json_decref(models);
    done(&got);
}

static void power_rule__tells_the_date_of_its_text(void **state)
{
    (void)state;
    size_t count = 0;
    const fe_power_rule *rules = fe_power_rule_table(&count);
    for (size_t i = 0; i < count; i++)
        if (strcmp(rules[i].text_date, "from memory") != 0 &&
            strcmp(rules[i].text_date, "not dated here") != 0)
            assert_non_null(strstr(rules[i].text_date, "20"));
    json_t *models = models_on("100 m", "");
    const json_t *row = row_of(models, "how strong a radio may be");
    assert_non_null(row);
    assert_non_null(strstr(part(row, "source"), "(text: 2019 to 2022)"));
    json_decref(models);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(trees__have_a_row_where_the_plan_has_trees),
        cmocka_unit_test(wood_about_an_end__has_its_own_law),
        cmocka_unit_test(walls__are_known_or_a_house_nobody_knows),
        cmocka_unit_test(rows__are_whole),
        cmocka_unit_test(copper_alone__has_no_row_of_radio),
        cmocka_unit_test(power_rule__tells_the_date_of_its_text),
    };
    fe_init();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
