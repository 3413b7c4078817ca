/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/duct.h"

#include <math.h>

#include "base/argument.h"

static const fe_burial_depth DEPTHS[] = {
    /* code, what, m */
    {"NFPA 70 Table 300.5(A)", "supply cable in the ground as it is", 0.60},
    {"NFPA 70 Table 300.5(A)", "supply cable in a plastic duct", 0.45},
    {"NFPA 70 Table 300.5(A)", "supply cable in a rigid steel pipe", 0.15},
    {"NFPA 70 Table 300.5(A)", "120 V branch circuit, 20 A, ground-fault protected", 0.30},
    {"common practice, no source", "supply or data under a way for vehicles, in a duct", 0.60},
    {"common practice, no source", "anything under ploughland", 0.90},
    {"common practice, no source", "data cable or duct under grass", 0.45},
};

enum {
    DEPTH_COUNT = sizeof DEPTHS / sizeof DEPTHS[0],
    IN_GROUND = 0,
    IN_DUCT = 1,
    UNDER_VEHICLES = 4,
    UNDER_PLOUGHLAND = 5
};

double fe_duct_fill_limit(size_t count)
{
    return count == 1 ? 0.53 : count == 2 ? 0.31 : 0.40;
}

fe_status fe_duct_fill(double inner_m, const double *diameter_m, size_t count, double *fill,
                       double *limit)
{
    double area = 0.0;
    if (!is_positive(inner_m) || count == 0)
        return FE_E_DOMAIN;
    for (size_t i = 0; i < count; i++) {
        if (!is_positive(diameter_m[i]))
            return FE_E_DOMAIN;
        area += diameter_m[i] * diameter_m[i];
    }
    *fill = area / (inner_m * inner_m);
    *limit = fe_duct_fill_limit(count);
    return FE_OK;
}

fe_status fe_duct_longest_pull(double limit_n, double weight_n_m, double friction,
                               double bends_rad, double *length_m)
{
    if (!is_positive(limit_n) || !is_positive(weight_n_m) || !is_positive(friction) ||
        !is_at_least_zero(bends_rad))
        return FE_E_DOMAIN;
    *length_m = limit_n / (friction * weight_n_m * exp(friction * bends_rad));
    return FE_OK;
}

const fe_burial_depth *fe_burial_depth_at(size_t index)
{
    return index < DEPTH_COUNT ? &DEPTHS[index] : NULL;
}

double fe_burial_supply_cover(bool in_duct)
{
    return DEPTHS[in_duct ? IN_DUCT : IN_GROUND].cover_m;
}

double fe_burial_vehicles_cover(void)
{
    return DEPTHS[UNDER_VEHICLES].cover_m;
}

double fe_burial_ploughland_cover(void)
{
    return DEPTHS[UNDER_PLOUGHLAND].cover_m;
}
