/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/placing.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/free_space.h"
#include "farend/pairs.h"
#include "testing.h"

enum { MOST_PLACES = 10, MOST_HOPS = MOST_PLACES * (MOST_PLACES - 1) / 2 };

typedef struct site {
    size_t n;
    double margin_db[MOST_HOPS];
    double seconds[MOST_HOPS];
} site;

static double next_random(uint64_t *state)
{
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return (double)(*state >> 11) / 9007199254740992.0;
}

/* ---- Exhaustive search, the slow and plain way ---- */

static double hop_margin(const fe_placing *p, size_t i, size_t j)
{
    const double offset_db = i == 0          ? (j + 1 == p->n ? p->direct_db : p->first_db)
                             : j + 1 == p->n ? p->last_db
                                             : p->between_db;
    return p->margin_db[fe_placing_index(p->n, i, j)] + offset_db;
}

static void score(const fe_placing *p, const size_t *places, unsigned relays,
                  fe_placing_best *way)
{
    *way = (fe_placing_best){.relays = relays, .margin_db = INFINITY};
    size_t from = 0;
    for (unsigned hop = 0; hop <= relays; hop++) {
        const size_t to = hop < relays ? places[hop] : p->n - 1;
        way->margin_db = fmin(way->margin_db, hop_margin(p, from, to));
        way->seconds += p->seconds[fe_placing_index(p->n, from, to)];
        if (hop < relays)
            way->place[hop] = to;
        from = to;
    }
}

static bool is_better(const fe_placing_best *a, const fe_placing_best *b)
{
    if (a->margin_db != b->margin_db)
        return a->margin_db > b->margin_db;
    if (a->seconds != b->seconds)
        return a->seconds < b->seconds;
    for (unsigned i = a->relays; i-- > 0;)
        if (a->place[i] != b->place[i])
            return a->place[i] < b->place[i];
    return false;
}

/* Every subset of the places between the ends, as bits. */
static fe_status search_all(const fe_placing *p, unsigned relays, fe_placing_best *best)
{
    bool found = false;
    for (unsigned bits = 0; bits < 1u << (p->n - 2); bits++) {
        size_t places[MOST_PLACES];
        unsigned count = 0;
        for (size_t k = 0; k < p->n - 2; k++)
            if (bits >> k & 1)
                places[count++] = k + 1;
        fe_placing_best way;
        if (count != relays)
            continue;
        score(p, places, relays, &way);
        if (way.margin_db > -INFINITY && (!found || is_better(&way, best)))
            *best = way;
        found = found || way.margin_db > -INFINITY;
    }
    return found ? FE_OK : FE_E_NO_SOLUTION;
}

static unsigned compare_all(const fe_placing *p)
{
    unsigned compared = 0;
    for (unsigned relays = 0; relays + 2 <= p->n; relays++) {
        fe_placing_best wanted = {0}, got = {0};
        const fe_status status = search_all(p, relays, &wanted);
        assert_int_equal(fe_placing_find(p, relays, &got), status);
        if (status < 0)
            continue;
        assert_true(got.margin_db == wanted.margin_db);
        assert_true(got.seconds == wanted.seconds);
        assert_memory_equal(got.place, wanted.place, sizeof got.place);
        compared++;
    }
    return compared;
}

/* ---- Random tables with many ties, in steps that add without rounding ---- */
static void placing__is_that_of_exhaustive_search(void **state)
{
    (void)state;
    uint64_t random = 2463534242u;
    unsigned compared = 0;
    for (int round = 0; round < 400; round++) {
        site s = {.n = 2 + (size_t)(next_random(&random) * (MOST_PLACES - 1))};
        for (size_t k = 0; k < s.n * (s.n - 1) / 2; k++) {
            s.margin_db[k] = floor(8.0 * next_random(&random)) - 3.0;
            s.seconds[k] = 0.25 * floor(1.0 + 6.0 * next_random(&random));
            if (next_random(&random) < 0.1)
                s.margin_db[k] = -INFINITY;
        }
        const fe_placing p = {.n = s.n,
                              .margin_db = s.margin_db,
                              .seconds = s.seconds,
                              .first_db = floor(3.0 * next_random(&random)),
                              .between_db = floor(3.0 * next_random(&random)),
                              .last_db = floor(3.0 * next_random(&random)),
                              .direct_db = 0.0};
        compared += compare_all(&p);
    }
    assert_true(compared > 1500);
}

/* ---- Small random profiles, their losses by the all-pairs search ---- */
typedef struct packing {
    site *s;
    const double *d_m;
    double f_hz;
} packing;

static void pack_row(void *context, size_t i, const fe_pair *pairs, size_t count)
{
    packing *p = context;
    for (size_t k = 0; k < count; k++) {
        const size_t at = fe_placing_index(p->s->n, i, i + 1 + k);
        double free_db = 0.0;
        assert_true(fe_free_space_loss(p->d_m[i + 1 + k] - p->d_m[i], p->f_hz, &free_db) >= 0);
        p->s->margin_db[at] = 105.0 - free_db - pairs[k].loss_db;
        /* Faster with more margin, in powers of two as rates roughly go. */
        const double steps = fmin(fmax(floor(p->s->margin_db[at] / 4.0), 0.0), 6.0);
        p->s->seconds[at] = ldexp(1.0, -(int)steps);
    }
}

static void placing__is_that_of_exhaustive_search_on_random_profiles(void **state)
{
    (void)state;
    uint64_t random = 88172645463325252u;
    unsigned compared = 0;
    for (int round = 0; round < 120; round++) {
        double d_m[MOST_PLACES], h_m[MOST_PLACES], antenna_m[MOST_PLACES];
        site s = {.n = 3 + (size_t)(next_random(&random) * (MOST_PLACES - 2))};
        for (size_t i = 0; i < s.n; i++) {
            d_m[i] = i == 0 ? 0.0 : d_m[i - 1] + 20.0 + 200.0 * next_random(&random);
            h_m[i] = 12.0 * next_random(&random);
            antenna_m[i] = h_m[i] + 1.0 + 3.0 * next_random(&random);
        }
        packing packed = {&s, d_m, round % 2 ? 2437e6 : 917e6};
        const fe_pairs pairs = {.d_m = d_m,
                                .h_m = h_m,
                                .n = s.n,
                                .antenna1_m = antenna_m,
                                .antenna2_m = antenna_m,
                                .wave =
                                    fe_diffraction_wave_over_land(packed.f_hz, 8.5e6, true)};
        assert_int_equal(fe_pairs_compute(&pairs, pack_row, &packed, NULL), FE_OK);
        const fe_placing p = {.n = s.n, .margin_db = s.margin_db, .seconds = s.seconds};
        compared += compare_all(&p);
    }
    assert_true(compared > 400);
}

/* On even ground the margin falls with the length of a hop: equal hops are best. */
static void even_ground__wants_equal_hops(void **state)
{
    (void)state;
    site s = {.n = 10};
    for (size_t i = 0; i < s.n; i++)
        for (size_t j = i + 1; j < s.n; j++) {
            s.margin_db[fe_placing_index(s.n, i, j)] = -20.0 * log10((double)(j - i));
            s.seconds[fe_placing_index(s.n, i, j)] = (double)(j - i);
        }
    const fe_placing p = {.n = s.n, .margin_db = s.margin_db, .seconds = s.seconds};
    fe_placing_best best;
    assert_int_equal(fe_placing_find(&p, 2, &best), FE_OK);
    assert_int_equal(best.place[0], 3);
    assert_int_equal(best.place[1], 6);
}

static void more_relays__never_weaken_the_best_where_hops_shorten(void **state)
{
    (void)state;
    site s = {.n = 10};
    for (size_t i = 0; i < s.n; i++)
        for (size_t j = i + 1; j < s.n; j++)
            s.margin_db[fe_placing_index(s.n, i, j)] = 10.0 - (double)(j - i);
    const fe_placing p = {.n = s.n, .margin_db = s.margin_db};
    double before_db = -INFINITY;
    for (unsigned relays = 0; relays <= 8; relays++) {
        fe_placing_best best;
        assert_int_equal(fe_placing_find(&p, relays, &best), FE_OK);
        assert_true(best.margin_db >= before_db);
        before_db = best.margin_db;
    }
}

static void nonsense__is_refused(void **state)
{
    (void)state;
    double margin_db[] = {1.0, 2.0, 3.0};
    fe_placing p = {.n = 3, .margin_db = margin_db};
    fe_placing_best best;
    assert_int_equal(fe_placing_find(&p, 1, &best), FE_OK);
    assert_int_equal(fe_placing_find(&p, 2, &best), FE_E_NO_SOLUTION);
    assert_int_equal(fe_placing_find(&p, FE_CHAIN_MOST_RELAYS + 1, &best), FE_E_DOMAIN);
    margin_db[1] = NAN;
    assert_int_equal(fe_placing_find(&p, 1, &best), FE_E_DOMAIN);
    margin_db[1] = 2.0;
    p.last_db = NAN;
    assert_int_equal(fe_placing_find(&p, 1, &best), FE_E_DOMAIN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(placing__is_that_of_exhaustive_search),
        cmocka_unit_test(placing__is_that_of_exhaustive_search_on_random_profiles),
        cmocka_unit_test(even_ground__wants_equal_hops),
        cmocka_unit_test(more_relays__never_weaken_the_best_where_hops_shorten),
        cmocka_unit_test(nonsense__is_refused),
    };
    return FE_RUN_TESTS(tests);
}
