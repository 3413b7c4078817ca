/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/ethernet.h"

#include <math.h>
#include <string.h>

#include "base/argument.h"
#include "base/count.h"

static const char *const CATEGORY_NAMES[] = {
    [FE_CATEGORY_SINGLE_PAIR] = "single pair",
    [FE_CATEGORY_3] = "Cat 3",
    [FE_CATEGORY_5] = "Cat 5",
    [FE_CATEGORY_5E] = "Cat 5e",
    [FE_CATEGORY_6] = "Cat 6",
    [FE_CATEGORY_6A] = "Cat 6A",
    [FE_CATEGORY_8] = "Cat 8",
};

/*
 * Channel lengths of IEEE 802.3: a university network chart (10BASE-T, 100BASE-TX, 1000BASE-T,
 * 10GBASE-T), clauses 146 and 147 of 802.3cg, 802.3bw, bp, bz and bq (from memory).
 */
static const fe_ethernet_reach REACHES[] = {
    /* application, cabling, bit/s, least category, screened only, channel m, link m, sure m */
    {"10BASE-T", "Cat 3 or better", 10e6, FE_CATEGORY_3, false, 100.0, NAN, 100.0, ""},
    {"100BASE-TX", "Cat 5 or better", 100e6, FE_CATEGORY_5, false, 100.0, 90.0, 100.0, ""},
    {"1000BASE-T", "Cat 5e or better", 1e9, FE_CATEGORY_5E, false, 100.0, 90.0, 100.0, ""},
    {"2.5GBASE-T", "Cat 5e", 2.5e9, FE_CATEGORY_5E, false, 100.0, 90.0, 100.0, ""},
    {"5GBASE-T", "Cat 5e", 5e9, FE_CATEGORY_5E, false, 100.0, 90.0, 100.0,
     "depends on crosstalk between cables; longest bundles may fall short"},
    {"5GBASE-T", "Cat 6 (Cat 5e under conditions)", 5e9, FE_CATEGORY_6, false, 100.0, 90.0,
     100.0, ""},
    {"10GBASE-T", "Cat 6 unshielded", 10e9, FE_CATEGORY_6, false, 55.0, NAN, 37.0,
     "37 to 55 m depends on crosstalk between cables"},
    {"10GBASE-T", "Cat 6 shielded", 10e9, FE_CATEGORY_6, true, 100.0, NAN, 55.0,
     "the standard itself promises 55 m"},
    {"10GBASE-T", "Cat 6A", 10e9, FE_CATEGORY_6A, false, 100.0, 90.0, 100.0, ""},
    {"25GBASE-T", "Cat 8", 25e9, FE_CATEGORY_8, false, 30.0, 24.0, 30.0, ""},
    {"40GBASE-T", "Cat 8", 40e9, FE_CATEGORY_8, false, 30.0, 24.0, 30.0, ""},
    {"10BASE-T1L", "single pair 18 AWG class", 10e6, FE_CATEGORY_SINGLE_PAIR, false, 1000.0,
     NAN, 1000.0, "needs the 2.4 V transmit mode for the long reach"},
    {"10BASE-T1S", "single pair", 10e6, FE_CATEGORY_SINGLE_PAIR, false, 15.0, NAN, 15.0, ""},
    {"10BASE-T1S multidrop", "single pair", 10e6, FE_CATEGORY_SINGLE_PAIR, false, 25.0, NAN,
     25.0, ""},
    {"100BASE-T1", "single pair automotive", 100e6, FE_CATEGORY_SINGLE_PAIR, false, 15.0, NAN,
     15.0, ""},
    {"1000BASE-T1", "single pair automotive", 1e9, FE_CATEGORY_SINGLE_PAIR, false, 15.0, NAN,
     15.0, ""},
    {"1000BASE-T1 type B", "single pair", 1e9, FE_CATEGORY_SINGLE_PAIR, false, 40.0, NAN, 40.0,
     ""},
};

/* ISO/IEC 11801 channels as in an IEEE 802.3 task force talk of March 2004; TIA from memory. */
static const fe_loss_equation EQUATIONS[] = {
    /* name, equation, category, a, b, c, k, cable factor, extra, Hz */
    {"ISO channel class D (Cat 5e)", "1.05*(a*sqrt(f)+b*f+c/sqrt(f))+4*k*sqrt(f)",
     FE_CATEGORY_5E, 1.9108, 0.0222, 0.2, 0.04, 1.05, 0.0, 100e6},
    {"ISO channel class E (Cat 6)", "1.05*(a*sqrt(f)+b*f+c/sqrt(f))+4*k*sqrt(f)", FE_CATEGORY_6,
     1.82, 0.0169, 0.25, 0.02, 1.05, 0.0, 250e6},
    {"TIA solid cable Cat 5e",
     "a*sqrt(f)+b*f+c/sqrt(f) per 100 m; channel = 1.02*cable + 4*k*sqrt(f)", FE_CATEGORY_5E,
     1.967, 0.023, 0.05, 0.04, 1.02, 0.0, 100e6},
    {"TIA solid cable Cat 6",
     "a*sqrt(f)+b*f+c/sqrt(f) per 100 m; channel = 1.02*cable + 4*k*sqrt(f) + 0.0003*f^1.5",
     FE_CATEGORY_6, 1.808, 0.017, 0.2, 0.02, 1.02, 0.0003, 250e6},
    {"TIA solid cable Cat 6A",
     "a*sqrt(f)+b*f+c/sqrt(f) per 100 m; channel = 1.05*cable + 4*k*sqrt(f)", FE_CATEGORY_6A,
     1.82, 0.0091, 0.25, 0.02, 1.05, 0.0, 500e6},
};

/* ANSI/TIA-568.2-D annex on temperature, permanent link beside 10 m of cords; 40 degC was read.
 */
static const struct {
    double temp_c;
    double unscreened_m;
    double screened_m;
} LINKS[] = {
    /* degC, m, m */
    {20.0, 90.0, 90.0}, {25.0, 89.0, 89.5}, {30.0, 87.0, 88.5},
    {35.0, 85.5, 87.7}, {40.0, 84.0, 87.0}, {45.0, 81.7, 86.5},
    {50.0, 79.5, 85.5}, {55.0, 77.2, 84.7}, {60.0, 75.0, 83.0},
};

static const double LINK_AT_20C_M = 90.0;
/* 90 m of fixed cable and 10 m of AWG 24 cords lose as much as 102 m of fixed cable. */
static const double EQUIVALENT_CHANNEL_M = 102.0;
static const double CHANNEL_M = 100.0;

const char *fe_category_name(fe_category category)
{
    return CATEGORY_NAMES[category];
}

bool fe_category_named(const char *name, fe_category *category)
{
    for (size_t i = 0; i < COUNT(CATEGORY_NAMES); i++) {
        const char *full = CATEGORY_NAMES[i];
        const char *brief = strncmp(full, "Cat ", 4) == 0 ? full + 4 : full;
        if (strcmp(name, full) == 0 || strcmp(name, brief) == 0) {
            *category = (fe_category)i;
            return true;
        }
    }
    return false;
}

const fe_ethernet_reach *fe_ethernet_reach_at(size_t index)
{
    return index < COUNT(REACHES) ? &REACHES[index] : NULL;
}

const fe_ethernet_reach *fe_ethernet_reach_find(const char *application, const char *cabling)
{
    for (size_t i = 0; i < COUNT(REACHES); i++)
        if (strcmp(REACHES[i].application, application) == 0 &&
            strcmp(REACHES[i].cabling, cabling) == 0)
            return &REACHES[i];
    return NULL;
}

static bool holds_for(const fe_ethernet_reach *row, fe_category category, bool screened)
{
    const bool single_row = row->category == FE_CATEGORY_SINGLE_PAIR;
    const bool single_cable = category == FE_CATEGORY_SINGLE_PAIR;
    return single_row == single_cable && row->category <= category &&
           (screened || !row->screened_only);
}

const fe_ethernet_reach *fe_ethernet_reach_for(const char *application, fe_category category,
                                               bool screened)
{
    const fe_ethernet_reach *best = NULL;
    for (size_t i = 0; i < COUNT(REACHES); i++) {
        const fe_ethernet_reach *row = &REACHES[i];
        if (strcmp(row->application, application) != 0 || !holds_for(row, category, screened))
            continue;
        if (!best || row->category > best->category ||
            (row->category == best->category && row->screened_only))
            best = row;
    }
    return best;
}

fe_status fe_cord_lengths(double horizontal_m, double derating, double closet_m,
                          double *total_m, double *work_area_m)
{
    if (!is_at_least_zero(horizontal_m) || !(horizontal_m <= EQUIVALENT_CHANNEL_M) ||
        !is_at_least_zero(derating) || !is_at_least_zero(closet_m))
        return FE_E_DOMAIN;
    const double cords_m = (EQUIVALENT_CHANNEL_M - horizontal_m) / (1.0 + derating);
    if (!(cords_m >= closet_m))
        return FE_E_NO_SOLUTION;
    *total_m = cords_m;
    *work_area_m = cords_m - closet_m;
    return FE_OK;
}

fe_status fe_cable_temp_factor(double temp_c, bool screened, double *factor)
{
    if (!isfinite(temp_c))
        return FE_E_DOMAIN;
    const double above_20 = fmax(0.0, temp_c - 20.0);
    const double above_40 = fmax(0.0, temp_c - 40.0);
    *factor = 1.0 + (screened ? 0.002 * above_20 : 0.004 * above_20 + 0.002 * above_40);
    return temp_c > 60.0 ? FE_W_RANGE : FE_OK;
}

static double link_at(size_t row, bool screened)
{
    return screened ? LINKS[row].screened_m : LINKS[row].unscreened_m;
}

fe_status fe_permanent_link_limit(double temp_c, bool screened, double *link_m)
{
    if (!isfinite(temp_c))
        return FE_E_DOMAIN;
    size_t upper = 1;
    while (upper + 1 < COUNT(LINKS) && temp_c > LINKS[upper].temp_c)
        upper++;
    const double from_c = LINKS[upper - 1].temp_c;
    const double part = (fmax(temp_c, 20.0) - from_c) / (LINKS[upper].temp_c - from_c);
    const double from_m = link_at(upper - 1, screened);
    *link_m = fmax(0.0, from_m + part * (link_at(upper, screened) - from_m));
    return temp_c > LINKS[COUNT(LINKS) - 1].temp_c ? FE_W_RANGE : FE_OK;
}

fe_status fe_channel_longest(const fe_channel_plan *plan, fe_channel_length *length)
{
    if (!is_positive(plan->channel_limit_m) || !is_at_least_zero(plan->cords_m) ||
        !is_at_least_zero(plan->cord_derating))
        return FE_E_DOMAIN;
    double warm_link_m = 0.0;
    const fe_status status =
        fe_permanent_link_limit(plan->temp_c, plan->screened, &warm_link_m);
    if (status < 0)
        return status;

    const double scale = plan->channel_limit_m / CHANNEL_M;
    const double by_length_m = plan->channel_limit_m - plan->cords_m;
    const double by_loss_m =
        EQUIVALENT_CHANNEL_M * scale - (1.0 + plan->cord_derating) * plan->cords_m;
    const double warmth = warm_link_m / LINK_AT_20C_M;
    const double fixed_m = fmin(by_length_m, by_loss_m * warmth);
    if (!(fixed_m > 0.0))
        return FE_E_NO_SOLUTION;
    /* fmin passes a missing limit over. */
    *length = (fe_channel_length){fixed_m, fixed_m + plan->cords_m,
                                  fmin(fixed_m, plan->permanent_link_limit_m * warmth)};
    return status;
}

const fe_loss_equation *fe_loss_equation_at(size_t index)
{
    return index < COUNT(EQUATIONS) ? &EQUATIONS[index] : NULL;
}

const fe_loss_equation *fe_loss_equation_find(const char *name)
{
    for (size_t i = 0; i < COUNT(EQUATIONS); i++)
        if (strcmp(EQUATIONS[i].name, name) == 0)
            return &EQUATIONS[i];
    return NULL;
}

const fe_loss_equation *fe_loss_equation_for(fe_category category)
{
    for (size_t i = 0; i < COUNT(EQUATIONS); i++)
        if (EQUATIONS[i].category == category && strncmp(EQUATIONS[i].name, "TIA", 3) == 0)
            return &EQUATIONS[i];
    return NULL;
}

static fe_status frequency_range(const fe_loss_equation *equation, double f_hz)
{
    if (!is_positive(f_hz))
        return FE_E_DOMAIN;
    return f_hz < 1e6 || f_hz > equation->highest_hz ? FE_W_RANGE : FE_OK;
}

static double cable_db(const fe_loss_equation *equation, double f_mhz)
{
    const double root = sqrt(f_mhz);
    return equation->a * root + equation->b * f_mhz + equation->c / root;
}

fe_status fe_insertion_loss_cable(const fe_loss_equation *equation, double f_hz,
                                  double *loss_db)
{
    const fe_status status = frequency_range(equation, f_hz);
    if (status < 0)
        return status;
    *loss_db = cable_db(equation, 1e-6 * f_hz);
    return status;
}

fe_status fe_insertion_loss_connector(const fe_loss_equation *equation, double f_hz,
                                      double *loss_db)
{
    const fe_status status = frequency_range(equation, f_hz);
    if (status < 0)
        return status;
    *loss_db = equation->k * sqrt(1e-6 * f_hz);
    return status;
}

fe_status fe_insertion_loss_channel(const fe_loss_equation *equation, double f_hz,
                                    double *loss_db)
{
    const fe_status status = frequency_range(equation, f_hz);
    if (status < 0)
        return status;
    const double f_mhz = 1e-6 * f_hz;
    *loss_db = equation->cable_factor * cable_db(equation, f_mhz) +
               4.0 * equation->k * sqrt(f_mhz) + equation->extra * f_mhz * sqrt(f_mhz);
    return status;
}

fe_status fe_insertion_loss_run(const fe_loss_equation *equation, const fe_channel_run *run,
                                double f_hz, double *loss_db)
{
    if (!is_at_least_zero(run->fixed_cable_m) || !is_at_least_zero(run->cords_m) ||
        !is_at_least_zero(run->cord_derating))
        return FE_E_DOMAIN;
    double warmth = 1.0;
    const fe_status warm = fe_cable_temp_factor(run->temp_c, run->screened, &warmth);
    const fe_status status = fe_status_worse(warm, frequency_range(equation, f_hz));
    if (status < 0)
        return status;
    const double f_mhz = 1e-6 * f_hz;
    const double equivalent_m =
        run->fixed_cable_m * warmth + run->cords_m * (1.0 + run->cord_derating);
    *loss_db = cable_db(equation, f_mhz) * equivalent_m / CHANNEL_M +
               run->connectors * equation->k * sqrt(f_mhz);
    return status;
}
