/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/poe.h"

#include <math.h>
#include <string.h>

#include "base/argument.h"
#include "base/count.h"
#include "farend/feed.h"

/* IEEE 802.3 clauses 33 and 145, as in two public tables that agree. */
static const fe_poe_type TYPES[] = {
    /* type, amendment, source W, device W, source V, device V, mA in a pair set */
    {1, "802.3af", 15.4, 12.95, 44.0, 37.0, 350.0},
    {2, "802.3at", 30.0, 25.5, 50.0, 42.5, 600.0},
    {3, "802.3bt", 60.0, 51.0, 50.0, 42.5, 600.0},
    {4, "802.3bt", 90.0, 71.3, 52.0, 41.1, 960.0},
};

/* The same clauses; voltages from memory. */
static const fe_poe_class CLASSES[] = {
    /* class, lowest type, source W, device W, source V, A, loop ohm, pairs */
    {0, 1, 15.4, 12.95, 44.0, 0.35, 20.0, 2}, {1, 1, 4.0, 3.84, 44.0, 0.091, 20.0, 2},
    {2, 1, 7.0, 6.49, 44.0, 0.159, 20.0, 2},  {3, 1, 15.4, 12.95, 44.0, 0.35, 20.0, 2},
    {4, 2, 30.0, 25.5, 50.0, 0.6, 12.5, 2},   {5, 3, 45.0, 40.0, 50.0, 0.9, 6.25, 4},
    {6, 3, 60.0, 51.0, 50.0, 1.2, 6.25, 4},   {7, 4, 75.0, 62.0, 52.0, 1.442, 6.25, 4},
    {8, 4, 90.0, 71.3, 52.0, 1.731, 6.25, 4},
};

/* ANSI/TIA-568.2-D, ISO/IEC 11801 and IEEE 802.3 clauses 33 and 145, from memory. */
static const fe_pair_resistance RESISTANCES[] = {
    /* quantity, value, unit */
    {"maximum DC resistance of one conductor of a category cable", 9.38, "ohm/100 m"},
    {"permanent link DC loop resistance limit", 21.0, "ohm"},
    {"channel DC loop resistance limit", 25.0, "ohm"},
    {"PoE design figure of a pair set Type 1", 20.0, "ohm"},
    {"PoE design figure of a pair set in a 100 m channel of category 5e and better", 12.5,
     "ohm"},
};

const fe_poe_type *fe_poe_type_find(int type)
{
    for (size_t i = 0; i < COUNT(TYPES); i++)
        if (TYPES[i].type == type)
            return &TYPES[i];
    return NULL;
}

const fe_poe_class *fe_poe_class_find(int device_class)
{
    for (size_t i = 0; i < COUNT(CLASSES); i++)
        if (CLASSES[i].device_class == device_class)
            return &CLASSES[i];
    return NULL;
}

const fe_poe_class *fe_poe_class_for(double device_w)
{
    /* Class 0 is "not told"; it promises what class 3 does and is passed over. */
    for (size_t i = 1; i < COUNT(CLASSES); i++)
        if (CLASSES[i].device_w >= device_w)
            return &CLASSES[i];
    return NULL;
}

fe_status fe_poe_loop(double wire_ohm_per_m, double length_m, unsigned pair_sets,
                      double *loop_ohm)
{
    if (!is_positive(wire_ohm_per_m) || !is_positive(length_m) || pair_sets < 1 ||
        pair_sets > 2)
        return FE_E_DOMAIN;
    *loop_ohm = wire_ohm_per_m * length_m / pair_sets;
    return FE_OK;
}

fe_status fe_poe_deliver(double source_v, double device_w, double loop_ohm, fe_poe_feed *feed)
{
    if (!is_positive(loop_ohm))
        return FE_E_DOMAIN;
    fe_power_feed solved;
    const fe_status status =
        fe_feed_constant_power(source_v, loop_ohm, 0.0, device_w, 1.0, &solved);
    if (status == FE_OK)
        *feed = (fe_poe_feed){solved.far_v, solved.false_v, solved.current_a, solved.source_w};
    return status;
}

fe_status fe_poe_longest_loop(double source_v, double device_w, double *loop_ohm)
{
    if (!is_positive(source_v) || !is_positive(device_w))
        return FE_E_DOMAIN;
    *loop_ohm = source_v * source_v / (4.0 * device_w);
    return FE_OK;
}

fe_status fe_poe_device_power(double source_v, double source_w, double loop_ohm,
                              double *device_w)
{
    if (!is_positive(source_v) || !is_positive(source_w) || !is_at_least_zero(loop_ohm))
        return FE_E_DOMAIN;
    const double current_a = source_w / source_v;
    const double left_w = source_w - current_a * current_a * loop_ohm;
    if (!(left_w > 0.0))
        return FE_E_NO_SOLUTION;
    *device_w = left_w;
    return FE_OK;
}

const fe_pair_resistance *fe_pair_resistance_find(const char *quantity)
{
    for (size_t i = 0; i < COUNT(RESISTANCES); i++)
        if (strcmp(RESISTANCES[i].quantity, quantity) == 0)
            return &RESISTANCES[i];
    return NULL;
}

double fe_pair_wire_limit_ohm_per_m(void)
{
    return 1e-2 * RESISTANCES[0].value;
}
