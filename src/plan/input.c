/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/plan_input.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/name.h"
#include "plan/grow.h"
#include "plan/keys.h"
#include "plan/reader.h"

bool fe_plan_is_unknown(const fe_plan_default *taken)
{
    return taken->why && strncmp(taken->why, PLAN_UNKNOWN, strlen(PLAN_UNKNOWN)) == 0;
}

/* ---- The list ---- */

typedef struct input_list {
    const fe_plan *plan;
    fe_plan_inputs found;
    fe_status status;
} input_list;

/* plan_item is for filling a plan; here nothing is written. */
static const char *struct_of(const fe_plan *plan, plan_part part, size_t item)
{
    return plan_item((fe_plan *)(uintptr_t)plan, part, item);
}

/* Ranges that say what happens, not what nobody knows. */
static bool is_range_by_nature(const plan_key *row)
{
    return (row->part == PART_POSTS && strcmp(row->key, "span") == 0) ||
           (row->part == PART_LOAD && strcmp(row->key, "voltage") == 0) ||
           (row->part == PART_FEED && strcmp(row->key, "voltage") == 0);
}

static double one_of(const plan_key *row)
{
    return row->one > 0.0 ? row->one : 1.0;
}

/* A text of the table as a value in the unit of the row. */
static bool row_value(const plan_key *row, const char *text, fe_value *value)
{
    const plan_entry entry = {.row = row, .given = FE_GIVEN_VALUE};
    return text && plan_parse_value(&entry, text, row->dimension, value);
}

static void put_title(const fe_plan *plan, plan_part part, size_t item,
                      char title[FE_PLAN_INPUT_TITLE_ROOM])
{
    const plan_section *const section = plan_section_of(part);
    const char *name = NULL;
    if (section->name_offset != NOWHERE && section->name_room == 0) {
        memcpy(&name, struct_of(plan, part, item) + section->name_offset, sizeof name);
    }
    /* A section without a name is called by its word. */
    if (name && *name && strcmp(name, section->word) != 0)
        snprintf(title, FE_PLAN_INPUT_TITLE_ROOM, "%s %s", section->word, name);
    else
        snprintf(title, FE_PLAN_INPUT_TITLE_ROOM, "%s", section->word);
}

static fe_plan_input input_of(const input_list *list, const plan_key *row, plan_part part,
                              size_t item)
{
    fe_plan_input input = {.section = plan_section_of(part)->word,
                           .key = row->key,
                           .help = row->help,
                           .dimension = row->dimension,
                           .one = one_of(row),
                           .least = -INFINITY,
                           .greatest = INFINITY,
                           .part = (int)part,
                           .item = item,
                           .offset = row->offset};
    fe_value bounds = {0};
    if (row->kind != KIND_WORD && row_value(row, row->bounds, &bounds)) {
        input.least = bounds.low;
        input.greatest = bounds.high;
    }
    put_title(list->plan, part, item, input.title);
    return input;
}

static void add(input_list *list, const fe_plan_input *input)
{
    fe_plan_input *items = plan_grow(list->found.items, &list->found.count, sizeof *items);
    if (!items) {
        list->status = FE_E_MEMORY;
        return;
    }
    list->found.items = items;
    items[list->found.count - 1] = *input;
}

static void add_value(input_list *list, const plan_key *row, fe_plan_input input,
                      const fe_value *value)
{
    fe_value usual = {0};
    if (value->given == FE_GIVEN_NOT || !isfinite(value->typical))
        return;
    input.given = value->given;
    input.typical = value->typical;
    input.low = value->low;
    input.high = value->high;
    input.open = value->given >= FE_GIVEN_RANGE && fe_value_is_open(*value);
    if (value->given == FE_GIVEN_DEFAULT && row_value(row, row->unknown, &usual)) {
        input.low = fmin(usual.low, value->typical);
        input.high = fmax(usual.high, value->typical);
    }
    add(list, &input);
}

static void add_word(input_list *list, const plan_key *row, fe_plan_input input,
                     const fe_choice *choice)
{
    if (choice->given == FE_GIVEN_NOT)
        return;
    while (row->words[input.word_count])
        input.word_count++;
    input.words = row->words;
    input.given = choice->given;
    input.typical = choice->value;
    input.open = choice->given == FE_GIVEN_UNKNOWN;
    const bool any = choice->given == FE_GIVEN_UNKNOWN || choice->given == FE_GIVEN_DEFAULT;
    input.low = any ? 0.0 : choice->value;
    input.high = any ? (double)(input.word_count - 1) : choice->value;
    input.least = 0.0;
    input.greatest = (double)(input.word_count - 1);
    add(list, &input);
}

/* What the plan says of a text that it did not get: whether it was unknown, or not given. */
static fe_given given_of(const fe_plan *plan, const char *title, const char *key)
{
    for (size_t i = 0; i < plan->default_count; i++)
        if (strcmp(plan->defaults[i].section, title) == 0 &&
            strcmp(plan->defaults[i].key, key) == 0)
            return fe_plan_is_unknown(&plan->defaults[i]) ? FE_GIVEN_UNKNOWN : FE_GIVEN_DEFAULT;
    return FE_GIVEN_VALUE;
}

/* A name that the plan leaves open; one that it gives is a choice. */
static void add_text(input_list *list, const plan_key *row, fe_plan_input input,
                     const char *text)
{
    input.given = given_of(list->plan, input.title, row->key);
    if (!text || input.given == FE_GIVEN_VALUE)
        return;
    input.words = row->may_be;
    input.text = true;
    input.open = input.given == FE_GIVEN_UNKNOWN;
    input.typical = -1.0;
    for (; row->may_be[input.word_count]; input.word_count++)
        if (name_same(row->may_be[input.word_count], text))
            input.typical = (double)input.word_count;
    input.low = input.least = 0.0;
    input.high = input.greatest = (double)(input.word_count - 1);
    if (input.typical >= 0.0)
        add(list, &input);
}

static void add_list(input_list *list, const plan_key *row, const fe_plan_input *input,
                     const fe_value_list *values)
{
    for (size_t i = 0; i < values->count; i++) {
        fe_plan_input one = *input;
        one.place = i;
        add_value(list, row, one, &values->items[i]);
    }
}

static void add_special(input_list *list, const plan_key *row, plan_part part, size_t item)
{
    const fe_plan *const plan = list->plan;
    fe_plan_input input = input_of(list, row, part, item);
    if (part == PART_END && strcmp(row->key, "wall") == 0)
        for (input.place = 0; input.place < plan->ends[item].wall_count; input.place++)
            add_value(list, row, input, &plan->ends[item].walls[input.place].thickness_m);
    if (part == PART_TRAFFIC && strcmp(row->key, "transfer") == 0) {
        input.offset = offsetof(fe_plan_traffic, transfer_bit);
        add_value(list, row, input, &plan->traffic[item].transfer_bit);
    }
    if (part == PART_POSTS && strcmp(row->key, "section") == 0) {
        input.offset = offsetof(fe_plan_posts, section_m);
        add_value(list, row, input, &plan->posts.section_m);
    }
    if (part == PART_TRENCH && strcmp(row->key, "along") == 0 && !plan->trench.along_path) {
        input.offset = offsetof(fe_plan_trench, length_m);
        add_value(list, row, input, &plan->trench.length_m);
    }
}

static void add_row(input_list *list, const plan_key *row, plan_part part, size_t item)
{
    const void *const member = struct_of(list->plan, part, item) + row->offset;
    if (is_range_by_nature(row))
        return;
    if (row->kind == KIND_VALUE)
        add_value(list, row, input_of(list, row, part, item), member);
    else if (row->kind == KIND_WORD)
        add_word(list, row, input_of(list, row, part, item), member);
    else if (row->kind == KIND_TEXT && row->may_be) {
        const char *text = NULL;
        memcpy(&text, member, sizeof text);
        add_text(list, row, input_of(list, row, part, item), text);
    } else if (row->kind == KIND_VALUES && part == PART_CABLE) {
        const fe_plan_input input = input_of(list, row, part, item);
        add_list(list, row, &input, member);
    } else if (row->kind == KIND_SPECIAL) {
        add_special(list, row, part, item);
    }
}

/* A section that is not there and whose defaults nothing is computed from has no inputs. */
static bool is_there(const fe_plan *plan, plan_part part)
{
    const plan_section *const section = plan_section_of(part);
    bool given = true;
    /* A panel is sized by its defaults too. */
    if (part == PART_SOLAR)
        return true;
    if (section->given_offset != NOWHERE && !section->assumed) {
        memcpy(&given, struct_of(plan, part, 0) + section->given_offset, sizeof given);
    }
    /* Seasons written out replace the climate. */
    return given && !(part == PART_CLIMATE && plan->seasons_given) && part != PART_READING;
}

fe_status fe_plan_inputs_of(const fe_plan *plan, fe_plan_inputs *inputs)
{
    input_list list = {.plan = plan, .status = FE_OK};
    size_t count = 0;
    const plan_key *const rows = plan_keys(&count);
    for (int part = PART_SITE; part < PARTS; part++) {
        const plan_section *const section = plan_section_of((plan_part)part);
        if (!is_there(plan, (plan_part)part))
            continue;
        for (size_t item = 0; item < plan_item_count(plan, (plan_part)part); item++)
            for (size_t i = 0; i < count && list.status >= 0; i++)
                if (rows[i].part == section->keys)
                    add_row(&list, &rows[i], (plan_part)part, item);
    }
    if (list.status < 0)
        fe_plan_inputs_free(&list.found);
    else
        *inputs = list.found;
    return list.status;
}

void fe_plan_inputs_free(fe_plan_inputs *inputs)
{
    free(inputs->items);
    *inputs = (fe_plan_inputs){0};
}

const fe_plan_input *fe_plan_input_find(const fe_plan_inputs *inputs, const char *title,
                                        const char *key)
{
    for (size_t i = 0; i < inputs->count; i++)
        if (strcmp(inputs->items[i].title, title) == 0 &&
            strcmp(inputs->items[i].key, key) == 0)
            return &inputs->items[i];
    return NULL;
}

/* ---- A plan with one of them moved ---- */

/* A copy that the moved plan owns; null where there is no memory. */
static void *hold_copy(fe_plan_moved *moved, const void *items, size_t size)
{
    void *const copy = malloc(size ? size : 1);
    if (!copy)
        return NULL;
    if (size)
        memcpy(copy, items, size);
    moved->held[moved->held_count++] = copy;
    return copy;
}

/* The moved plan's own copy of the structs of a part. */
static bool own_part(fe_plan_moved *moved, plan_part part)
{
    const plan_section *const section = plan_section_of(part);
    if (section->count_offset == NOWHERE)
        return true;
    const size_t size = plan_item_count(&moved->plan, part) * section->size;
    void *const copy = hold_copy(moved, plan_item(&moved->plan, part, 0), size);
    if (copy)
        memcpy((char *)&moved->plan + section->offset, &copy, sizeof copy);
    return copy != NULL;
}

static fe_value at_value(double value)
{
    return (fe_value){value, value, value, FE_GIVEN_VALUE};
}

static bool move_in_list(fe_plan_moved *moved, fe_value_list *list, size_t place, double value)
{
    fe_value *const items = hold_copy(moved, list->items, list->count * sizeof *items);
    if (!items)
        return false;
    items[place] = at_value(value);
    list->items = items;
    return true;
}

static bool move_wall(fe_plan_moved *moved, const fe_plan_input *input, double value)
{
    fe_plan_end *const end = &moved->plan.ends[input->item];
    if (input->place >= end->wall_count)
        return true; /* its mount was moved before it */
    fe_plan_wall *const walls = hold_copy(moved, end->walls, end->wall_count * sizeof *walls);
    if (!walls)
        return false;
    walls[input->place].thickness_m = at_value(value);
    end->walls = walls;
    return true;
}

static bool set_member(fe_plan_moved *moved, const fe_plan_input *input, double value)
{
    const plan_part part = (plan_part)input->part;
    char *const base = plan_item(&moved->plan, part, input->item);
    if (part == PART_END && strcmp(input->key, "mount") == 0 &&
        lround(value) != moved->plan.ends[input->item].mount.value)
        moved->plan.ends[input->item].wall_count = 0;
    if (part == PART_END && strcmp(input->key, "wall") == 0)
        return move_wall(moved, input, value);
    if (part == PART_CABLE && strcmp(input->key, "indoor") == 0)
        return move_in_list(moved, &moved->plan.cable.indoor_m, input->place, value);
    if (input->text) {
        const char *const word = input->words[lround(value)];
        memcpy(base + input->offset, &word, sizeof word);
    } else if (input->words) {
        const fe_choice choice = {(int)lround(value), FE_GIVEN_VALUE};
        memcpy(base + input->offset, &choice, sizeof choice);
    } else {
        const fe_value exact = at_value(value);
        memcpy(base + input->offset, &exact, sizeof exact);
    }
    return true;
}

/* Even ground anew; a path with a profile keeps it. */
static bool follow_ground(plan_reader *reader, fe_plan_moved *moved, size_t path)
{
    fe_plan_path *const changed = &moved->plan.paths[path];
    if (changed->profile_file)
        return true;
    changed->profile = (fe_profile){0};
    plan_complete_even_ground(reader, changed);
    moved->ground = changed->profile;
    plan_complete_trench(&moved->plan);
    return changed->profile.count > 0;
}

static fe_status follow(plan_reader *reader, fe_plan_moved *moved, const fe_plan_input *input)
{
    if (input->part == PART_PATH &&
        (strcmp(input->key, "distance") == 0 || strcmp(input->key, "rise") == 0) &&
        !follow_ground(reader, moved, input->item))
        return reader->no_memory ? FE_E_MEMORY : FE_E_DOMAIN;
    if (input->part == PART_CLIMATE || input->part == PART_SEASON || input->part == PART_PATH) {
        plan_complete_seasons(reader);
        moved->held[moved->held_count++] = moved->plan.seasons;
    }
    return reader->no_memory ? FE_E_MEMORY : FE_OK;
}

static bool is_allowed(const fe_plan_input *input, double value)
{
    /* A bound reached exactly may differ in the last bit after conversion. */
    const double slack = 1e-9 * (1.0 + fabs(value));
    return isfinite(value) && value >= input->least - slack && value <= input->greatest + slack;
}

fe_status fe_plan_move(const fe_plan *plan, const fe_plan_input *input, double value,
                       fe_plan_moved *moved)
{
    if (!is_allowed(input, value))
        return FE_E_DOMAIN;
    fe_plan_moved made = {.plan = *plan};
    plan_reader reader = {.plan = &made.plan};
    fe_status status = FE_E_MEMORY;
    if (own_part(&made, (plan_part)input->part) && set_member(&made, input, value))
        status = follow(&reader, &made, input);
    if (status < 0)
        fe_plan_moved_free(&made);
    else
        *moved = made;
    return status;
}

void fe_plan_moved_free(fe_plan_moved *moved)
{
    for (size_t i = 0; i < moved->held_count; i++)
        free(moved->held[i]);
    fe_profile_free(&moved->ground);
    *moved = (fe_plan_moved){.held_count = 0};
}

fe_status fe_plan_move_all(const fe_plan *plan, const fe_plan_step *steps, size_t count,
                           fe_plan_moves *moves)
{
    fe_plan_moves made = {.plan = plan, .each = calloc(count + 1, sizeof *made.each)};
    if (!made.each)
        return FE_E_MEMORY;
    for (size_t i = 0; i < count; i++) {
        const fe_status status =
            fe_plan_move(made.plan, steps[i].input, steps[i].value, &made.each[i]);
        if (status < 0) {
            fe_plan_moves_free(&made);
            return status;
        }
        made.count++;
        made.plan = &made.each[i].plan;
    }
    *moves = made;
    return FE_OK;
}

void fe_plan_moves_free(fe_plan_moves *moves)
{
    for (size_t i = 0; i < moves->count; i++)
        fe_plan_moved_free(&moves->each[i]);
    free(moves->each);
    *moves = (fe_plan_moves){0};
}
