/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/plan.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "plan/reader.h"

/* The folder that a file lies in, "." for the current one. */
static char *folder_of(plan_reader *reader, const char *path)
{
    const char *const slash = strrchr(path, '/');
    if (!slash)
        return plan_copy(reader, ".");
    return plan_copy_part(reader, path, slash == path ? slash + 1 : slash);
}

/* The plan's own classes before the catalogues', and both before what names them. */
static void read_parts(plan_reader *reader)
{
    for (int part = PART_GEAR; part <= PART_CLIMATE_CLASS; part++)
        plan_read_part(reader, reader->text, (plan_part)part);
    plan_read_catalogues(reader);
    for (int part = PART_CLIMATE_CLASS + 1; part < PARTS; part++)
        plan_read_part(reader, reader->text, (plan_part)part);
}

static fe_status outcome(const plan_reader *reader)
{
    if (reader->no_memory)
        return FE_E_MEMORY;
    return fe_messages_none(reader->messages) ? FE_OK : FE_E_INPUT;
}

fe_status fe_plan_read(const char *path, const fe_plan_places *places, fe_plan *plan,
                       fe_messages *messages)
{
    ini_text text = {0};
    fe_plan made = {0};
    plan_reader reader = {.plan = &made, .messages = messages, .places = places, .text = &text};
    fe_status status = ini_text_read(path, &text, messages);
    if (status != FE_OK)
        return status;
    made.file = plan_copy(&reader, path);
    reader.folder = folder_of(&reader, path);
    if (!reader.no_memory) {
        plan_check_sections(&reader, &text, false);
        read_parts(&reader);
    }
    if (!reader.no_memory)
        plan_complete(&reader);
    if (!reader.no_memory)
        plan_check(&reader);
    status = outcome(&reader);
    fe_messages_sort(messages);
    if (status == FE_OK)
        *plan = made;
    else
        fe_plan_free(&made);
    free(reader.folder);
    ini_text_free(&text);
    return status;
}

fe_status fe_plan_catalogue(const fe_plan_places *places, fe_plan *plan, fe_messages *messages)
{
    fe_plan made = {0};
    plan_reader reader = {.plan = &made, .messages = messages, .places = places};
    plan_read_catalogues(&reader);
    const fe_status status = outcome(&reader);
    fe_messages_sort(messages);
    if (status == FE_OK)
        *plan = made;
    else
        fe_plan_free(&made);
    return status;
}

bool fe_plan_is_us_or_canada(const fe_plan *plan)
{
    return plan->site.region.value == FE_REGION_US || plan->site.region.value == FE_REGION_CA;
}

const fe_gear *fe_plan_gear(const fe_plan *plan, const char *name)
{
    for (size_t i = 0; i < plan->gear_count; i++)
        if (strcmp(plan->gear[i].name, name) == 0)
            return &plan->gear[i];
    return NULL;
}

const fe_cable_class *fe_plan_cable_class(const fe_plan *plan, const char *name)
{
    for (size_t i = 0; i < plan->cable_count; i++)
        if (strcmp(plan->cables[i].name, name) == 0)
            return &plan->cables[i];
    return NULL;
}

/* ---- freeing ---- */

static void free_texts(fe_text_list *list)
{
    for (size_t i = 0; i < list->count; i++)
        free(list->items[i]);
    free(list->items);
}

/* What a row of the table made. Special ones are freed with their part. */
static void free_member(const plan_key *row, void *base)
{
    void *const member = (char *)base + row->offset;
    switch (row->kind) {
    case KIND_TEXT:
    case KIND_GEAR:
    case KIND_CABLE:
        free(*(char **)member);
        break;
    case KIND_TEXTS:
    case KIND_LINES:
    case KIND_GEARS:
        free_texts(member);
        break;
    case KIND_VALUES:
        free(((fe_value_list *)member)->items);
        break;
    default:
        break;
    }
}

static void free_item(plan_part part, void *base)
{
    size_t count = 0;
    const plan_section *const section = plan_section_of(part);
    const plan_key *const rows = plan_keys(&count);
    for (size_t i = 0; i < count; i++)
        if (rows[i].part == section->keys)
            free_member(&rows[i], base);
    if (section->name_offset != NOWHERE && section->name_room == 0)
        free(*(char **)((char *)base + section->name_offset));
}

static void free_specials(fe_plan *plan)
{
    for (size_t i = 0; i < plan->end_count; i++) {
        for (size_t k = 0; k < plan->ends[i].wall_count; k++)
            free(plan->ends[i].walls[k].kind);
        free(plan->ends[i].walls);
    }
    for (size_t i = 0; i < plan->path_count; i++)
        fe_profile_free(&plan->paths[i].profile);
    for (size_t i = 0; i < plan->posts.crossing_count; i++)
        free(plan->posts.crossings[i].name);
    free(plan->posts.crossings);
    free(plan->posts.corners);
    free(plan->relay.places_m.items);
    free(plan->feed.sources);
    free(plan->climate.class_name);
    for (size_t i = 0; i < plan->climate_count; i++)
        free(plan->climates[i].class_name);
}

static void free_catalogue(fe_plan *plan)
{
    for (size_t i = 0; i < plan->gear_count; i++)
        fe_gear_free(&plan->gear[i]);
    free(plan->gear);
    for (size_t i = 0; i < plan->cable_count; i++)
        fe_cable_class_free(&plan->cables[i]);
    free(plan->cables);
}

static void free_lists(fe_plan *plan)
{
    for (size_t i = 0; i < plan->owned_count; i++)
        free(plan->owned[i].gear);
    free(plan->owned);
    for (size_t i = 0; i < plan->prices.count; i++)
        free(plan->prices.items[i].thing);
    free(plan->prices.items);
    for (size_t i = 0; i < plan->default_count; i++) {
        free(plan->defaults[i].section);
        free(plan->defaults[i].key);
        free(plan->defaults[i].value);
        free(plan->defaults[i].why);
    }
    free(plan->defaults);
    free(plan->seasons);
    free(plan->file);
}

void fe_plan_free(fe_plan *plan)
{
    free_specials(plan);
    for (int part = PART_CLIMATE_CLASS; part < PARTS; part++) {
        const plan_section *const section = plan_section_of((plan_part)part);
        for (size_t i = 0; i < plan_item_count(plan, (plan_part)part); i++)
            free_item((plan_part)part, plan_item(plan, (plan_part)part, i));
        if (section->count_offset != NOWHERE)
            free(plan_item(plan, (plan_part)part, 0));
    }
    free_catalogue(plan);
    free_lists(plan);
    *plan = (fe_plan){0};
}

double fe_plan_coldest(const fe_plan *plan)
{
    double coldest_c = INFINITY;
    for (size_t i = 0; i < plan->season_count; i++)
        coldest_c = fmin(coldest_c, plan->seasons[i].coldest_c);
    return coldest_c;
}

double fe_plan_deepest_snow(const fe_plan *plan)
{
    double deepest_m = 0.0;
    for (size_t i = 0; i < plan->season_count; i++)
        deepest_m = fmax(deepest_m, plan->seasons[i].snow_depth_m);
    return deepest_m;
}
