/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "decision/part_list.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- Adding ---- */

static fe_part *add(part_maker *maker, fe_part part)
{
    const size_t count = maker->list.count;
    /* Eight at first, doubled whenever it is full. */
    if (count == 0 || (count >= 8 && (count & (count - 1)) == 0)) {
        fe_part *grown =
            realloc(maker->list.items, (count == 0 ? 8 : 2 * count) * sizeof *grown);
        if (!grown) {
            maker->failed = true;
            maker->nowhere = part;
            return &maker->nowhere;
        }
        maker->list.items = grown;
    }
    maker->list.items[maker->list.count++] = part;
    return &maker->list.items[count];
}

static fe_part new_part(fe_part_kind kind, fe_part_use use)
{
    return (fe_part){.kind = kind,
                     .use = use,
                     .name = fe_part_row_of(kind)->word,
                     .count = (double)NAN,
                     .length_m = (double)NAN,
                     .size = (double)NAN,
                     .other_size = (double)NAN,
                     .rating = (double)NAN,
                     .price = (double)NAN,
                     .cost = (double)NAN};
}

fe_part *part_add_count(part_maker *maker, fe_part_kind kind, fe_part_use use, double count)
{
    fe_part part = new_part(kind, use);
    part.count = count;
    return add(maker, part);
}

fe_part *part_add_length(part_maker *maker, fe_part_kind kind, fe_part_use use, double length_m)
{
    fe_part part = new_part(kind, use);
    part.length_m = length_m;
    return add(maker, part);
}

/* A cable out of the ground comes in from below: only one that hangs needs a drip loop. */
void part_add_entries(part_maker *maker, bool hangs)
{
    part_add_count(maker, FE_PART_SLEEVE, hangs ? FE_USE_HUNG : FE_USE_BURIED, 2.0);
    part_add_count(maker, FE_PART_GLAND, FE_USE_PLAIN, 2.0);
}

/* One, and those that the plan asks to spare. */
static double duct_count(const part_maker *maker)
{
    return maker->plan ? 1.0 + floor(maker->plan->spare.ducts.typical) : 1.0;
}

void part_add_laying(part_maker *maker, double route_m, double duct_m)
{
    /* Draw cord that hangs out of a duct at both ends together. */
    static const double CORD_OVER_M = 4.0;
    const double ducts = duct_count(maker);
    part_add_length(maker, FE_PART_TRENCH, FE_USE_PLAIN, route_m);
    if (duct_m > 0.0) {
        part_add_length(maker, FE_PART_DUCT, FE_USE_PLAIN, route_m * ducts)->size = duct_m;
        part_add_length(maker, FE_PART_DRAW_CORD, FE_USE_PLAIN,
                        (route_m + CORD_OVER_M) * ducts);
        part_add_count(maker, FE_PART_DUCT_BEND, FE_USE_PLAIN, 2.0 * ducts)->size = duct_m;
        part_add_count(maker, FE_PART_DUCT_SEAL, FE_USE_PLAIN, 2.0 * ducts)->size = duct_m;
    } else {
        part_add_length(maker, FE_PART_SAND, FE_USE_PLAIN, route_m);
    }
    part_add_length(maker, FE_PART_WARNING_TAPE, FE_USE_PLAIN, route_m);
}

/* ---- Two lists ---- */

static bool is_done_once(fe_part_kind kind)
{
    return kind == FE_PART_TRENCH || kind == FE_PART_WARNING_TAPE;
}

static bool is_of_duct(fe_part_kind kind)
{
    return kind == FE_PART_DUCT || kind == FE_PART_DRAW_CORD || kind == FE_PART_DUCT_BEND ||
           kind == FE_PART_DUCT_SEAL;
}

static fe_part *find_kind(part_maker *maker, fe_part_kind kind)
{
    for (size_t i = 0; i < maker->list.count; i++)
        if (maker->list.items[i].kind == kind)
            return &maker->list.items[i];
    return NULL;
}

void part_add_list(part_maker *maker, const fe_part_list *list, bool one_trench)
{
    /* Ducts to spare are in the list already. */
    const double ducts = duct_count(maker);
    for (size_t i = 0; i < list->count; i++) {
        fe_part part = list->items[i];
        fe_part *there =
            one_trench && is_done_once(part.kind) ? find_kind(maker, part.kind) : NULL;
        if (there) {
            there->length_m = fmax(there->length_m, part.length_m);
            continue;
        }
        if (one_trench && is_of_duct(part.kind)) {
            part.length_m /= ducts;
            part.count /= ducts;
        }
        add(maker, part);
    }
}

/* ---- Prices ---- */

static unsigned owned_of(const fe_plan *plan, const char *name)
{
    for (size_t i = 0; i < plan->owned_count; i++)
        if (strcmp(plan->owned[i].gear, name) == 0)
            return plan->owned[i].count;
    return 0;
}

/* What is owned costs nothing. A size that does as well is asked where the first has none. */
static void put_price(const fe_plan *plan, fe_part *part)
{
    const bool length = isnan(part->count);
    if (!length)
        part->owned = (unsigned)fmin(owned_of(plan, part->name), part->count);
    const fe_plan_price *price = fe_price_of_size(plan, part->name, part->size);
    if (!price)
        price = fe_price_of(plan, part->name, part->other_size);
    const double buy = length ? part->length_m : part->count - part->owned;
    part->price = fe_price_amount(price, length);
    part->cost = buy == 0.0 ? 0.0 : buy * part->price;
}

static void sum_up(fe_part_list *list)
{
    size_t priced = 0;
    size_t counted = 0;
    list->cost = 0.0;
    for (size_t i = 0; i < list->count; i++) {
        const fe_part *part = &list->items[i];
        const bool known = isfinite(part->cost);
        if (part->instead)
            continue;
        counted++;
        priced += known ? 1 : 0;
        list->cost += known ? part->cost : 0.0;
    }
    list->unpriced = (unsigned)(counted - priced);
    if (priced == 0)
        list->cost = (double)NAN;
}

fe_status part_finish(part_maker *maker, fe_part_list *list)
{
    maker->list.cost = (double)NAN;
    if (maker->failed) {
        fe_parts_free(&maker->list);
        return FE_E_MEMORY;
    }
    for (size_t i = 0; i < maker->list.count && maker->plan; i++)
        put_price(maker->plan, &maker->list.items[i]);
    if (maker->plan && maker->plan->prices.given)
        sum_up(&maker->list);
    *list = maker->list;
    return FE_OK;
}

void fe_parts_free(fe_part_list *list)
{
    free(list->items);
    *list = (fe_part_list){.cost = (double)NAN};
}
