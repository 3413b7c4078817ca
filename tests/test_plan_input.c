/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The values of a plan as a list, and the plan with one of them moved. */
#include <math.h>
#include <string.h>

#include "deciding.h"
#include "farend/feeder.h"
#include "farend/plan_input.h"
#include "farend/soil.h"
#include "farend/wood.h"

typedef struct listed {
    fe_plan plan;
    fe_plan_inputs inputs;
} listed;

static void list_of(listed *list, const char *rest)
{
    char text[PLAN_TEXT_ROOM];
    read_text(&list->plan, small_plan(text, "120 m", rest));
    assert_int_equal(fe_plan_inputs_of(&list->plan, &list->inputs), FE_OK);
}

static void drop(listed *list)
{
    fe_plan_inputs_free(&list->inputs);
    fe_plan_free(&list->plan);
}

static const fe_plan_input *input_at(const listed *list, const char *title, const char *key)
{
    const fe_plan_input *input = fe_plan_input_find(&list->inputs, title, key);
    if (!input)
        fail_msg("no input [%s] %s", title, key);
    return input;
}

/* [trees] without a name: "start of trees", never "start of trees trees". */
static void section_without_a_name__is_called_by_its_word(void **state)
{
    (void)state;
    listed list;
    list_of(&list, "[trees]\npath = way\nfrom = 40 m\nto = 50 m\nheight = 4 m\n");
    (void)input_at(&list, "trees", "height");
    assert_null(fe_plan_input_find(&list.inputs, "trees trees", "height"));
    drop(&list);
}

static void inputs__say_what_is_open_what_is_assumed_and_what_is_stated(void **state)
{
    (void)state;
    listed list;
    list_of(&list, "[trees row]\npath = way\nfrom = 40 m\nto = 50 m\nheight = unknown\n"
                   "kind = unknown\n[climate]\ndeepest-snow = 0.2..0.6 m\n");
    const fe_plan_input *height = input_at(&list, "trees row", "height");
    assert_true(height->open);
    assert_int_equal(height->given, FE_GIVEN_UNKNOWN);
    assert_close(height->low, 2.0, 1e-12);
    assert_close(height->high, 20.0, 1e-12);
    const fe_plan_input *snow = input_at(&list, "climate", "deepest-snow");
    assert_true(snow->open);
    assert_close(snow->low, 0.2, 1e-12);
    assert_close(snow->high, 0.6, 1e-12);
    const fe_plan_input *kind = input_at(&list, "trees row", "kind");
    assert_true(kind->open);
    assert_int_equal(kind->word_count, 3);
    const fe_plan_input *ice = input_at(&list, "climate", "ice");
    assert_false(ice->open);
    assert_int_equal(ice->given, FE_GIVEN_DEFAULT);
    assert_true(ice->low < ice->typical && ice->typical < ice->high);
    const fe_plan_input *from = input_at(&list, "trees row", "from");
    assert_false(from->open);
    assert_close(from->low, from->high, 0.0);
    drop(&list);
}

static void inputs__leave_out_ranges_that_are_no_unknowns(void **state)
{
    (void)state;
    listed list;
    list_of(&list, "[posts]\nspan = 10..30 m\n[load pump]\npower = 60 W\nvoltage = 11..15 V\n"
                   "[feed]\nvoltage = 11.5..14.4 V dc\n");
    assert_null(fe_plan_input_find(&list.inputs, "posts", "span"));
    assert_null(fe_plan_input_find(&list.inputs, "load pump", "voltage"));
    assert_null(fe_plan_input_find(&list.inputs, "feed", "voltage"));
    drop(&list);
}

static void move__changes_one_value_and_leaves_the_plan_alone(void **state)
{
    (void)state;
    listed list;
    list_of(&list, "");
    fe_plan_moved moved;
    const fe_plan_input *height = input_at(&list, "end shed", "height");
    assert_int_equal(fe_plan_move(&list.plan, height, 5.5, &moved), FE_OK);
    assert_close(moved.plan.ends[1].height_m.typical, 5.5, 0.0);
    assert_close(moved.plan.ends[0].height_m.typical, 4.0, 0.0);
    assert_close(list.plan.ends[1].height_m.typical, 3.0, 0.0);
    fe_plan_moved_free(&moved);
    drop(&list);
}

static void move__of_a_distance_makes_the_ground_anew(void **state)
{
    (void)state;
    listed list;
    list_of(&list, "[trench]\nalong = path\n");
    fe_plan_moved moved;
    const fe_plan_input *distance = input_at(&list, "path way", "distance");
    assert_int_equal(fe_plan_move(&list.plan, distance, 200.0, &moved), FE_OK);
    assert_close(fe_profile_length(&moved.plan.paths[0].profile), 200.0, 1e-9);
    assert_close(moved.plan.trench.length_m.typical, 200.0, 1e-9);
    assert_close(fe_profile_length(&list.plan.paths[0].profile), 120.0, 1e-9);
    fe_plan_moved_free(&moved);
    drop(&list);
}

static void move__of_the_climate_makes_the_seasons_anew(void **state)
{
    (void)state;
    listed list;
    list_of(&list, "");
    fe_plan_moved moved;
    const fe_plan_input *snow = input_at(&list, "climate", "deepest-snow");
    assert_int_equal(fe_plan_move(&list.plan, snow, 1.5, &moved), FE_OK);
    double deepest_m = 0.0;
    for (size_t i = 0; i < moved.plan.season_count; i++)
        deepest_m = fmax(deepest_m, moved.plan.seasons[i].snow_depth_m);
    assert_close(deepest_m, 1.5, 1e-12);
    assert_true(list.plan.seasons != moved.plan.seasons);
    fe_plan_moved_free(&moved);
    drop(&list);
}

static void move__twice_holds_both(void **state)
{
    (void)state;
    listed list;
    list_of(&list, "");
    fe_plan_moved first;
    fe_plan_moved second;
    assert_int_equal(
        fe_plan_move(&list.plan, input_at(&list, "end shed", "height"), 6.0, &first), FE_OK);
    assert_int_equal(
        fe_plan_move(&first.plan, input_at(&list, "path way", "distance"), 90.0, &second),
        FE_OK);
    assert_close(second.plan.ends[1].height_m.typical, 6.0, 0.0);
    assert_close(fe_profile_length(&second.plan.paths[0].profile), 90.0, 1e-9);
    fe_plan_moved_free(&second);
    fe_plan_moved_free(&first);
    drop(&list);
}

static void move__refuses_what_the_plan_would_refuse(void **state)
{
    (void)state;
    listed list;
    list_of(&list, "");
    fe_plan_moved moved;
    const fe_plan_input *height = input_at(&list, "end shed", "height");
    assert_int_equal(fe_plan_move(&list.plan, height, 1000.0, &moved), FE_E_DOMAIN);
    assert_int_equal(fe_plan_move(&list.plan, height, (double)NAN, &moved), FE_E_DOMAIN);
    const fe_plan_input *mount = input_at(&list, "end shed", "mount");
    assert_int_equal(fe_plan_move(&list.plan, mount, 3.0, &moved), FE_E_DOMAIN);
    drop(&list);
}

/* Every input can be moved to itself, and the answer is the same. */
static void move__to_where_it_is_changes_no_way(void **state)
{
    (void)state;
    listed list;
    list_of(&list, "[trees row]\npath = way\nfrom = 40 m\nto = 50 m\nheight = 6 m\n"
                   "[load pump]\npower = 600 W\n[feed]\nvoltage = 230 V ac\n"
                   "[trench]\nalong = 130 m\n");
    for (size_t i = 0; i < list.inputs.count; i++) {
        fe_plan_moved moved;
        const fe_plan_input *input = &list.inputs.items[i];
        assert_int_equal(fe_plan_move(&list.plan, input, input->typical, &moved), FE_OK);
        assert_int_equal(moved.plan.season_count, list.plan.season_count);
        for (size_t s = 0; s < moved.plan.season_count; s++)
            assert_memory_equal(&moved.plan.seasons[s], &list.plan.seasons[s],
                                sizeof moved.plan.seasons[s]);
        fe_plan_moved_free(&moved);
    }
    drop(&list);
}

/* What a name may stand for is tried by name, so each must be one that is known. */
static void name__that_is_unknown_may_be_any_of_its_kind(void **state)
{
    (void)state;
    static const struct {
        const char *title;
        const char *key;
    } NAMES[] = {{"posts", "soil"}, {"posts", "wood"}, {"end shed", "feeder"}};
    listed list;
    char text[PLAN_TEXT_ROOM];
    snprintf(text, sizeof text,
             "[site]\nregion = EU\n[end house]\nheight = 4 m\n"
             "[end shed]\nheight = 3 m\nfeeder = unknown\nfeeder-length = 2 m\n"
             "[path way]\nfrom = house\nto = shed\ndistance = 60 m\n"
             "[posts]\nsoil = unknown\nwood = unknown\n");
    read_text(&list.plan, text);
    assert_int_equal(fe_plan_inputs_of(&list.plan, &list.inputs), FE_OK);
    for (size_t i = 0; i < 3; i++) {
        const fe_plan_input *input = input_at(&list, NAMES[i].title, NAMES[i].key);
        assert_true(input->open && input->text);
        for (size_t word = 0; word < input->word_count; word++) {
            fe_plan_moved moved;
            const char *name = input->words[word];
            double pa = 0.0, elasticity_pa = 0.0;
            assert_int_equal(fe_plan_move(&list.plan, input, (double)word, &moved), FE_OK);
            assert_string_equal(i == 0   ? moved.plan.posts.soil
                                : i == 1 ? moved.plan.posts.wood
                                         : moved.plan.ends[1].feeder,
                                name);
            assert_true(i == 0   ? fe_soil_find(name) || strcmp(name, "stony") == 0
                        : i == 1 ? fe_wood_class(name, &pa, &elasticity_pa) == FE_OK
                                 : fe_feeder_find(name) != NULL);
            fe_plan_moved_free(&moved);
        }
    }
    drop(&list);
    /* One that the owner writes is a choice. */
    list_of(&list, "[posts]\nsoil = gravel\n");
    assert_null(fe_plan_input_find(&list.inputs, "posts", "soil"));
    assert_false(input_at(&list, "posts", "wood")->open);
    drop(&list);
}

/* Walls belong to the mount they were written for. */
static void move__to_another_mount_leaves_the_walls_behind(void **state)
{
    (void)state;
    listed list;
    char text[PLAN_TEXT_ROOM];
    snprintf(text, sizeof text,
             "[site]\nregion = EU\n[end house]\nheight = 4 m\n"
             "[end shed]\nheight = 3 m\nmount = indoors\nwall = brick 110 mm\n"
             "[path way]\nfrom = house\nto = shed\ndistance = 60 m\n");
    read_text(&list.plan, text);
    assert_int_equal(fe_plan_inputs_of(&list.plan, &list.inputs), FE_OK);
    const fe_plan_input *mount = input_at(&list, "end shed", "mount");
    const fe_plan_input *wall = input_at(&list, "end shed", "wall");
    for (int to = 0; to < 3; to++) {
        const fe_plan_step steps[] = {{mount, to}, {wall, 0.2}};
        fe_plan_moves moves;
        assert_int_equal(fe_plan_move_all(&list.plan, steps, 2, &moves), FE_OK);
        const fe_plan_end *end = &moves.plan->ends[1];
        assert_int_equal(end->mount.value, to);
        assert_int_equal(end->wall_count, to == FE_MOUNT_INDOORS ? 1 : 0);
        if (end->wall_count > 0)
            assert_close(end->walls[0].thickness_m.typical, 0.2, 0.0);
        fe_plan_moves_free(&moves);
    }
    drop(&list);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(section_without_a_name__is_called_by_its_word),
        cmocka_unit_test(inputs__say_what_is_open_what_is_assumed_and_what_is_stated),
        cmocka_unit_test(inputs__leave_out_ranges_that_are_no_unknowns),
        cmocka_unit_test(move__changes_one_value_and_leaves_the_plan_alone),
        cmocka_unit_test(move__of_a_distance_makes_the_ground_anew),
        cmocka_unit_test(move__of_the_climate_makes_the_seasons_anew),
        cmocka_unit_test(move__twice_holds_both),
        cmocka_unit_test(move__refuses_what_the_plan_would_refuse),
        cmocka_unit_test(name__that_is_unknown_may_be_any_of_its_kind),
        cmocka_unit_test(move__to_another_mount_leaves_the_walls_behind),
        cmocka_unit_test(move__to_where_it_is_changes_no_way),
    };
    fe_init();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
