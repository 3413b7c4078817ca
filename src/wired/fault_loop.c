/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/fault_loop.h"

#include <math.h>

#include "base/argument.h"
#include "farend/conductor.h"

/* BS 7671: nominal voltage to earth, and the factor for a low supply. */
static const double U0_V = 230.0;
static const double C_MIN = 0.95;
static const double COLD_PART = 0.8;
static const double TOUCH_V = 50.0;

/* IEC 60898: upper end of the instantaneous trip, in ratings, by fe_breaker_type. */
static const double TRIP_RATINGS[] = {5.0, 10.0, 20.0};

/* BS 7671:2018+A2 Table 41.3, 0.4 s; 80 A and above from memory. */
static const struct {
    double rating_a;
    double ohm[3]; /* by fe_breaker_type */
} TABLE_41_3[] = {
    /* A; B, C, D in ohm */
    {6.0, {7.28, 3.64, 1.82}},  {10.0, {4.37, 2.19, 1.09}},  {16.0, {2.73, 1.37, 0.68}},
    {20.0, {2.19, 1.09, 0.55}}, {25.0, {1.75, 0.87, 0.44}},  {32.0, {1.37, 0.68, 0.34}},
    {40.0, {1.09, 0.55, 0.27}}, {50.0, {0.87, 0.44, 0.22}},  {63.0, {0.69, 0.35, 0.17}},
    {80.0, {0.55, 0.27, 0.14}}, {100.0, {0.44, 0.22, 0.11}}, {125.0, {0.35, 0.17, 0.09}},
};

fe_status fe_fault_loop_r1r2(double line_m2, double protective_m2, double *ohm_per_m)
{
    const fe_conductor line = {line_m2, FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED};
    const fe_conductor protective = {protective_m2, FE_CONDUCTOR_COPPER, FE_CLASS_STRANDED};
    double r1 = 0.0, r2 = 0.0;
    const fe_status status = fe_status_worse(fe_conductor_resistance(&line, 20.0, &r1),
                                             fe_conductor_resistance(&protective, 20.0, &r2));
    if (status >= 0)
        *ohm_per_m = r1 + r2;
    return status;
}

fe_status fe_fault_loop_zs(double ze_ohm, double r1r2_ohm_per_m, double length_m, double factor,
                           double *zs_ohm)
{
    if (!is_at_least_zero(ze_ohm) || !is_positive(r1r2_ohm_per_m) ||
        !is_at_least_zero(length_m) || !is_positive(factor) || factor < 1.0)
        return FE_E_DOMAIN;
    *zs_ohm = ze_ohm + factor * r1r2_ohm_per_m * length_m;
    return FE_OK;
}

fe_status fe_fault_loop_max_zs_law(fe_breaker_type type, double rating_a, double *max_zs_ohm)
{
    double trip_a = 0.0;
    const fe_status status = fe_fault_loop_trip(type, rating_a, &trip_a);
    if (status == FE_OK)
        *max_zs_ohm = U0_V * C_MIN / trip_a;
    return status;
}

fe_status fe_fault_loop_max_zs(fe_breaker_type type, double rating_a, double *max_zs_ohm)
{
    for (size_t i = 0; i < sizeof TABLE_41_3 / sizeof TABLE_41_3[0]; i++) {
        if (TABLE_41_3[i].rating_a == rating_a) {
            *max_zs_ohm = TABLE_41_3[i].ohm[type];
            return FE_OK;
        }
    }
    return fe_fault_loop_max_zs_law(type, rating_a, max_zs_ohm);
}

fe_status fe_fault_loop_cold_limit(double max_zs_ohm, double *cold_ohm)
{
    if (!is_positive(max_zs_ohm))
        return FE_E_DOMAIN;
    *cold_ohm = COLD_PART * max_zs_ohm;
    return FE_OK;
}

fe_status fe_fault_loop_current(double zs_ohm, double *current_a)
{
    if (!is_positive(zs_ohm))
        return FE_E_DOMAIN;
    *current_a = U0_V * C_MIN / zs_ohm;
    return FE_OK;
}

fe_status fe_fault_loop_trip(fe_breaker_type type, double rating_a, double *trip_a)
{
    if (!is_positive(rating_a))
        return FE_E_DOMAIN;
    *trip_a = TRIP_RATINGS[type] * rating_a;
    return FE_OK;
}

fe_status fe_fault_loop_electrode(double residual_a, double *max_ohm)
{
    if (!is_positive(residual_a))
        return FE_E_DOMAIN;
    *max_ohm = TOUCH_V / residual_a;
    return FE_OK;
}

fe_status fe_fault_loop_least_area(double current_a, double time_s, double k, double *area_m2)
{
    if (!is_positive(current_a) || !is_positive(time_s) || !is_positive(k))
        return FE_E_DOMAIN;
    *area_m2 = 1e-6 * current_a * sqrt(time_s) / k;
    return FE_OK;
}
