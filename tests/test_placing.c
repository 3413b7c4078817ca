/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/placing.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/free_space.h"
#include "farend/pairs.h"
#include "testing.h"

enum { MOST_PLACES = 10, MOST_HOPS = MOST_PLACES * (MOST_PLACES - 1) / 2 };

enum { CURVES = 3 };

typedef struct site {
    size_t n;
    double margin_db[MOST_HOPS];
    double seconds[MOST_HOPS];
    unsigned char curve[MOST_HOPS];
} site;

static double next_random(uint64_t *state)
{
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return (double)(*state >> 11) / 9007199254740992.0;
}

/* -log of 90 %. */
static const double WANTED_COST = 0.10536051565782628;

/* Chances of normal build losses with 3, 5 and 8 dB: a hop with that much left is likelier. */
static const fe_placing_curve *curves(void)
{
    static fe_placing_curve made[CURVES];
    static const double SIGMA_DB[CURVES] = {3.0, 5.0, 8.0};
    static const double NINE_IN_TEN = 1.2815515655446004;
    for (int c = 0; c < CURVES; c++)
        for (int k = 0; k + 1 < FE_PLACING_CURVE_CELLS; k++) {
            const double left_db = FE_PLACING_CURVE_STEP_DB * k;
            const double z = NINE_IN_TEN + left_db / SIGMA_DB[c];
            made[c].cost[k] = -log1p(-erfc(z / sqrt(2.0)) / 2.0);
        }
    return made;
}

static fe_placing placing_of(const site *s)
{
    return (fe_placing){.n = s->n,
                        .margin_db = s->margin_db,
                        .curve = s->curve,
                        .curves = curves(),
                        .curve_count = CURVES,
                        .cost = WANTED_COST,
                        .seconds = s->seconds};
}

/* ---- Exhaustive search, the slow and plain way ---- */

static double hop_margin(const fe_placing *p, size_t i, size_t j)
{
    const double offset_db = i == 0          ? (j + 1 == p->n ? p->direct_db : p->first_db)
                             : j + 1 == p->n ? p->last_db
                                             : p->between_db;
    return p->margin_db[fe_placing_index(p->n, i, j)] + offset_db;
}

/* -log of a way's chance when each of its hops has lost so much. */
static double cost_after(const fe_placing *p, const fe_placing_best *way, double loss_db)
{
    double cost = 0.0;
    size_t from = 0;
    for (unsigned hop = 0; hop <= way->relays; hop++) {
        const size_t to = hop < way->relays ? way->place[hop] : p->n - 1;
        const double left_db = hop_margin(p, from, to) - loss_db;
        if (!(left_db >= 0.0))
            return INFINITY;
        cost +=
            fe_placing_cost(&p->curves[p->curve[fe_placing_index(p->n, from, to)]], left_db);
        from = to;
    }
    return cost;
}

/* The most steps that a way can lose: one tried after the other, from all in doubt. */
static void score(const fe_placing *p, const size_t *places, unsigned relays,
                  fe_placing_best *way)
{
    *way = (fe_placing_best){.relays = relays, .margin_db = -INFINITY};
    double weakest_db = INFINITY;
    size_t from = 0;
    for (unsigned hop = 0; hop <= relays; hop++) {
        const size_t to = hop < relays ? places[hop] : p->n - 1;
        weakest_db = fmin(weakest_db, hop_margin(p, from, to));
        way->seconds += p->seconds[fe_placing_index(p->n, from, to)];
        if (hop < relays)
            way->place[hop] = to;
        from = to;
    }
    if (weakest_db == -INFINITY)
        return;
    double steps = ceil(weakest_db / FE_PLACING_STEP_DB);
    while (cost_after(p, way, steps * FE_PLACING_STEP_DB) > p->cost)
        steps -= 1.0;
    way->margin_db = steps * FE_PLACING_STEP_DB;
    way->cost = cost_after(p, way, way->margin_db);
}

static bool is_better(const fe_placing_best *a, const fe_placing_best *b)
{
    if (a->margin_db != b->margin_db)
        return a->margin_db > b->margin_db;
    if (a->cost != b->cost)
        return a->cost < b->cost;
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
        assert_true(got.cost == wanted.cost);
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
            s.curve[k] = (unsigned char)(next_random(&random) * CURVES);
            if (next_random(&random) < 0.1)
                s.margin_db[k] = -INFINITY;
        }
        fe_placing p = placing_of(&s);
        p.first_db = floor(3.0 * next_random(&random));
        p.between_db = floor(3.0 * next_random(&random));
        p.last_db = floor(3.0 * next_random(&random));
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
        p->s->curve[at] = pairs[k].loss_db > 6.0 ? 1 : 0;
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
        const fe_placing p = placing_of(&s);
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
    const fe_placing p = placing_of(&s);
    fe_placing_best best;
    assert_int_equal(fe_placing_find(&p, 2, &best), FE_OK);
    assert_int_equal(best.place[0], 3);
    assert_int_equal(best.place[1], 6);
}

/*
 * The weakest hop alone would have the first place: 4 dB and 4 dB against 3.5 dB and 20 dB. Both
 * in doubt are worse than one: as sums of chances the second has more to lose.
 */
static void chances_of_all_hops__decide(void **state)
{
    (void)state;
    site s = {.n = 4};
    const double first[2] = {4.0, 4.0}, second[2] = {3.5, 20.0};
    for (size_t k = 0; k < 6; k++)
        s.margin_db[k] = -INFINITY;
    for (size_t place = 1; place <= 2; place++) {
        const double *left_db = place == 1 ? first : second;
        s.margin_db[fe_placing_index(4, 0, place)] = left_db[0];
        s.margin_db[fe_placing_index(4, place, 3)] = left_db[1];
        s.curve[fe_placing_index(4, 0, place)] = 1;
        s.curve[fe_placing_index(4, place, 3)] = 1;
    }
    const fe_placing p = placing_of(&s);
    fe_placing_best best;
    assert_int_equal(fe_placing_find(&p, 1, &best), FE_OK);
    assert_int_equal(best.place[0], 2);
    /* 3.5 dB but for the doubt about the other hop, which has sigma 5 dB and 21.4 dB to its
     * middle: 1 in 10^5. */
    assert_close(best.margin_db, 3.5, 0.01);
    /* Two hops alike: 0.9 in all is sqrt(0.9) each, 1.6322 deviations and not 1.2816, so
     * 5 x 0.3506 dB less than the 4 dB that each has alone. */
    const size_t there[] = {1};
    fe_placing_best way;
    score(&p, there, 1, &way);
    assert_close(way.margin_db, 4.0 - 1.753, 0.01);
}

static void more_relays__never_weaken_the_best_where_hops_shorten(void **state)
{
    (void)state;
    site s = {.n = 10};
    for (size_t i = 0; i < s.n; i++)
        for (size_t j = i + 1; j < s.n; j++)
            s.margin_db[fe_placing_index(s.n, i, j)] = 10.0 - 10.0 * (double)(j - i);
    fe_placing p = placing_of(&s);
    p.seconds = NULL;
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
    site s = {.n = 3, .margin_db = {1.0, 2.0, 3.0}};
    fe_placing p = placing_of(&s);
    fe_placing_best best;
    assert_int_equal(fe_placing_find(&p, 1, &best), FE_OK);
    assert_int_equal(fe_placing_find(&p, 2, &best), FE_E_NO_SOLUTION);
    assert_int_equal(fe_placing_find(&p, FE_CHAIN_MOST_RELAYS + 1, &best), FE_E_DOMAIN);
    s.margin_db[1] = NAN;
    assert_int_equal(fe_placing_find(&p, 1, &best), FE_E_DOMAIN);
    s.margin_db[1] = 2.0;
    s.curve[2] = CURVES;
    assert_int_equal(fe_placing_find(&p, 1, &best), FE_E_DOMAIN);
    s.curve[2] = 0;
    p.last_db = NAN;
    assert_int_equal(fe_placing_find(&p, 1, &best), FE_E_DOMAIN);
    p.last_db = 0.0;
    p.cost = 0.0;
    assert_int_equal(fe_placing_find(&p, 1, &best), FE_E_DOMAIN);
    p.cost = WANTED_COST;
    fe_placing_curve bad = curves()[0];
    p.curves = &bad;
    p.curve_count = 1;
    assert_int_equal(fe_placing_find(&p, 1, &best), FE_OK);
    bad.cost[FE_PLACING_CURVE_CELLS - 1] = 0.001; /* never quite certain */
    assert_int_equal(fe_placing_find(&p, 1, &best), FE_E_DOMAIN);
    bad = curves()[0];
    bad.cost[7] = bad.cost[6] + 0.001; /* more left, yet less likely */
    assert_int_equal(fe_placing_find(&p, 1, &best), FE_E_DOMAIN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(placing__is_that_of_exhaustive_search),
        cmocka_unit_test(placing__is_that_of_exhaustive_search_on_random_profiles),
        cmocka_unit_test(even_ground__wants_equal_hops),
        cmocka_unit_test(chances_of_all_hops__decide),
        cmocka_unit_test(more_relays__never_weaken_the_best_where_hops_shorten),
        cmocka_unit_test(nonsense__is_refused),
    };
    return FE_RUN_TESTS(tests);
}
