/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/relay_site.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "base/argument.h"
#include "farend/constants.h"
#include "propagation/relay_table.h"

/*
 * The table and the full computation were never seen this far apart (tests/test_relay_site.c):
 * what is so far below its target by the table need not be worked out in full.
 */
static const double HOPELESS_DB = -10.0;

static bool is_hopeless(const fe_placing_best *best)
{
    return best->margin_db < HOPELESS_DB;
}

static fe_status measure_shifts(const relay_table *s, unsigned relays, fe_placing *placing)
{
    double *const shifts[HOP_CLASSES] = {
        [FIRST] = &placing->first_db,
        [BETWEEN] = &placing->between_db,
        [LAST] = &placing->last_db,
        [DIRECT] = &placing->direct_db,
    };
    const double share = fe_chain_share(relays, s->site->sharing);
    fe_status status = FE_OK;
    for (int class = 0; class < HOP_CLASSES && status >= 0; class ++)
        status = fe_status_worse(status,
                                 relay_table_shift(s, (hop_class) class, share, shifts[class]));
    return status;
}

/* The nodes of a level and those of coarser ones; returns how many. */
static size_t nodes_of_level(const relay_table *s, unsigned level, size_t *nodes)
{
    size_t count = 0;
    for (size_t i = 0; i < s->node_count; i++)
        if (s->nodes[i].level >= level)
            nodes[count++] = i;
    return count;
}

/* The hops between some nodes as tables of their own. */
typedef struct part_table {
    size_t *nodes;
    double *margin_db;
    double *seconds;
    unsigned char *curve;
} part_table;

static void part_free(part_table *part)
{
    free(part->nodes);
    free(part->margin_db);
    free(part->seconds);
    free(part->curve);
}

static void copy_hops(const relay_table *s, size_t count, part_table *part)
{
    for (size_t i = 0, k = 0; i + 1 < count; i++)
        for (size_t j = i + 1; j < count; j++, k++) {
            const size_t at = fe_placing_index(s->node_count, part->nodes[i], part->nodes[j]);
            part->margin_db[k] = s->margin_db[at];
            part->seconds[k] = s->seconds[at];
            part->curve[k] = s->curve[at];
        }
}

/*
 * The best places of a level by the table. Of the finest the tables are those of the search.
 *   shifted  what the number of relays adds to the margins
 *   count    how many nodes the level has
 */
static fe_status place_level(const relay_table *s, unsigned relays, unsigned level,
                             const fe_placing *shifted, size_t *count, fe_placing_best *best)
{
    part_table part = {.nodes = calloc(s->node_count, sizeof *part.nodes)};
    if (!part.nodes)
        return FE_E_MEMORY;
    fe_placing placing = *shifted;
    *count = placing.n = nodes_of_level(s, level, part.nodes);
    placing.margin_db = s->margin_db;
    placing.seconds = s->seconds;
    placing.curve = s->curve;
    fe_status status = FE_OK;
    if (placing.n < s->node_count) {
        const size_t hops = placing.n * (placing.n - 1) / 2;
        placing.margin_db = part.margin_db = malloc(hops * sizeof *part.margin_db);
        placing.seconds = part.seconds = malloc(hops * sizeof *part.seconds);
        placing.curve = part.curve = malloc(hops * sizeof *part.curve);
        status = part.margin_db && part.seconds && part.curve ? FE_OK : FE_E_MEMORY;
        if (status >= 0)
            copy_hops(s, placing.n, &part);
    }
    if (status >= 0)
        status = fe_status_worse(status, fe_placing_find(&placing, relays, best));
    for (unsigned i = 0; i < relays && status >= 0; i++)
        best->place[i] = part.nodes[best->place[i]];
    part_free(&part);
    return status;
}

/* A number of relays as the table has it. */
typedef struct placed {
    bool known;
    fe_status status;
    fe_placing shifted;
    fe_placing_best best; /* of the finest level */
} placed;

static void place(const relay_table *s, unsigned relays, placed *at)
{
    size_t count = 0;
    if (at->known)
        return;
    *at = (placed){.known = true,
                   .shifted = {.curves = s->shapes,
                               .curve_count = HOP_CLASSES * BUILD_CURVES,
                               .cost = -log(s->site->wanted->confidence)}};
    at->status = measure_shifts(s, relays, &at->shifted);
    if (at->status >= 0)
        at->status = fe_status_worse(at->status, place_level(s, relays, s->site->coarser,
                                                             &at->shifted, &count, &at->best));
}

static fe_status compute_way(const relay_table *s, const fe_placing_best *best,
                             fe_relay_way *way)
{
    const fe_relay_site *site = s->site;
    *way = (fe_relay_way){.searched_db = best->margin_db};
    for (unsigned i = 0; i < best->relays; i++) {
        const relay_node *at = &s->nodes[best->place[i]];
        way->places[i] = (fe_chain_place){s->grid.distance_m[at->point], site->relay};
        way->places[i].station.height_m = site->masts_m[at->mast];
    }
    return fe_chain_at(site->direct, way->places, best->relays, site->sharing, site->seasons,
                       site->season_count, site->wanted, &way->chain);
}

static bool is_likelier(const fe_chain *a, const fe_chain *b)
{
    return a->chance > b->chance || (a->chance == b->chance && a->margin_db > b->margin_db);
}

/*
 * The best way in full. Where that of the finest level does not reach the confidence, those of
 * coarser levels may: the table is not exact, and what a coarser step finds is never lost.
 */
static fe_status find_way(const relay_table *s, unsigned relays, const placed *at,
                          fe_relay_way *way)
{
    const double confidence = s->site->wanted->confidence;
    size_t before = s->node_count;
    fe_status status = at->status;
    if (status >= 0)
        status = fe_status_worse(status, compute_way(s, &at->best, way));
    for (unsigned level = s->site->coarser + 1; level < FE_RELAY_EVERY_LEVEL; level++) {
        fe_placing_best best;
        fe_relay_way other;
        size_t count = 0;
        if (status < 0 || way->chain.chance >= confidence || !way->chain.carries_rate ||
            is_hopeless(&at->best) || before < (size_t)relays + 3)
            break;
        const fe_status found = place_level(s, relays, level, &at->shifted, &count, &best);
        if (found == FE_E_NO_SOLUTION || count == before)
            break;
        before = count;
        status = fe_status_worse(status, found);
        if (status < 0 || is_hopeless(&best))
            continue;
        status = fe_status_worse(status, compute_way(s, &best, &other));
        if (status >= 0 && is_likelier(&other.chain, &way->chain))
            *way = other;
    }
    return status;
}

/* Whether by the table any number from `relays` to `most` can help; none does where a smaller
 * one has no mode that is fast enough, as each then has less of the time. */
static bool can_help(const relay_table *s, unsigned relays, unsigned most,
                     const fe_relay_way *before, placed *all)
{
    for (; before->chain.carries_rate && relays <= most; relays++) {
        place(s, relays, &all[relays]);
        if (all[relays].status == FE_E_NO_SOLUTION)
            return false;
        if (all[relays].status < 0 || !is_hopeless(&all[relays].best))
            return true;
    }
    return false;
}

static bool is_usable(const fe_relay_site *site)
{
    for (size_t i = 0; i < site->mast_count; i++)
        if (!is_positive(site->masts_m[i]))
            return false;
    for (size_t i = 0; i < site->place_count; i++)
        if (!(site->places[i].at_m > (i > 0 ? site->places[i - 1].at_m : 0.0)))
            return false;
    return site->mast_count > 0 && site->season_count > 0 && site->step_m > 0.0 &&
           fe_profile_length(site->direct->ground) / site->step_m < FE_RELAY_MOST_POINTS;
}

/* No more than there are places. */
static unsigned most_relays(const relay_table *s, unsigned most)
{
    size_t places = 0;
    for (size_t i = 1; i + 1 < s->grid.count; i++)
        places += s->is_node[i];
    return places < most ? (unsigned)places : most;
}

fe_relay_spot fe_relay_spot_of(size_t steps, double step_m)
{
    fe_relay_spot spot = {(double)steps * step_m, steps == 0 ? FE_RELAY_EVERY_LEVEL : 0};
    for (; steps > 0 && steps % 2 == 0; steps /= 2)
        spot.level++;
    return spot;
}

fe_status fe_relay_search(const fe_relay_site *site, unsigned most, fe_relay_way *ways,
                          size_t *count, unsigned *looked_at)
{
    if (!is_usable(site) || most > FE_CHAIN_MOST_RELAYS)
        return FE_E_DOMAIN;
    relay_table s = {.site = site, .lambda_m = FE_SPEED_OF_LIGHT_M_S / site->direct->f_hz};
    placed all[FE_CHAIN_MOST_RELAYS + 1] = {0};
    size_t found = 0;
    bool complete = false;
    fe_status status = relay_table_make(&s);
    for (unsigned relays = 0; relays <= most && status >= 0 && !complete; relays++) {
        if (relays > 1 && !can_help(&s, relays, most, &ways[relays - 1], all))
            break;
        place(&s, relays, &all[relays]);
        const fe_status way = find_way(&s, relays, &all[relays], &ways[relays]);
        if (way == FE_E_NO_SOLUTION && relays > 0)
            break; /* fewer places than relays, or none of them reachable */
        status = fe_status_worse(status, way);
        if (status < 0)
            break;
        found = relays + 1;
        /* One more than needed shows what another would bring. */
        complete = relays > 0 && ways[relays - 1].chain.chance >= site->wanted->confidence;
    }
    if (status >= 0 && looked_at)
        *looked_at = complete ? (unsigned)found - 1 : most_relays(&s, most);
    relay_table_free(&s);
    if (status >= 0)
        *count = found;
    return status;
}
