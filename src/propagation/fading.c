/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/fading.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_sf_gamma.h>
#include <math.h>
#include <stdbool.h>

#include "base/root.h"

static const double K_LOW_DB = -40.0;
static const double K_HIGH_DB = 30.0;
static const double SIGMA_HIGH_DB = 30.0;

/* Fades beyond this from the reference are as good as never. */
static const double FURTHEST_DB = 400.0;

enum { MOST_LAWS = 4 };

static const double MEAN_POWER_DB = 4.342944819032518; /* 10 / ln 10 */

static bool is_fading(const fe_fading *fading)
{
    switch (fading->law) {
    case FE_FADING_RAYLEIGH:
        return true;
    case FE_FADING_RICIAN:
        return fading->k_db >= K_LOW_DB && fading->k_db <= K_HIGH_DB;
    case FE_FADING_LOGNORMAL:
        return fading->sigma_db >= 0.0 && fading->sigma_db <= SIGMA_HIGH_DB;
    default:
        return false;
    }
}

/* Regularised lower gamma function; an underflow is a zero, anything else a failure. */
static fe_status gamma_law(unsigned shape, double x, double *chance)
{
    gsl_sf_result result;
    const int code = gsl_sf_gamma_inc_P_e(shape, x, &result);
    if (code != GSL_SUCCESS && code != GSL_EUNDRFLW)
        return FE_E_CONVERGE;
    *chance = code == GSL_EUNDRFLW ? 0.0 : result.val;
    return FE_OK;
}

/*
 * Chance that a Rician power stays below x times its mean: the power is gamma-distributed with
 * shape n + 1 where n is Poisson with mean k. Each gamma law is the highest one plus terms
 * y^m exp(-y) / m! for the m between, so each term counts with the weight of all n below it.
 * All is positive: the low tail keeps its digits, which differences would lose. Both kinds of
 * term follow from the one before, since a fade on a grid asks a thousand times.
 */
static fe_status rician_below(double k, double x, double *chance)
{
    const double y = (1.0 + k) * x;
    const double reach = 10.0 * sqrt(k) + 40.0;
    const unsigned highest = (unsigned)(k + reach);
    const unsigned lowest = k > reach ? (unsigned)(k - reach) : 0;
    double law;
    const fe_status status = gamma_law(highest + 2, y, &law);
    if (status != FE_OK)
        return status;
    double weight = gsl_ran_poisson_pdf(lowest, k);
    double term = gsl_ran_poisson_pdf(lowest, y);
    double weight_sum = weight;
    double sum = 0.0;
    for (unsigned m = lowest + 1; m <= highest + 1; m++) {
        term *= y / m;
        sum += term * weight_sum;
        weight *= k / m;
        weight_sum += weight;
    }
    *chance = fmin(sum + law * weight_sum, 1.0);
    return FE_OK;
}

static double ratio_of_db(double db)
{
    return pow(10.0, db / 10.0);
}

/* What the Rician root looks for: the share of time below a margin, less the wanted one. */
typedef struct rician_search {
    double k;
    double outage;
    fe_status status;
} rician_search;

static double rician_excess(double margin_db, void *constants)
{
    rician_search *search = constants;
    double below = 0.0;
    const fe_status status = rician_below(search->k, ratio_of_db(-margin_db), &below);
    if (status != FE_OK)
        search->status = status;
    return below - search->outage;
}

/* Margin below the mean that is passed for a share of the time. */
static fe_status rician_margin(double k_db, double outage, double *margin_db)
{
    rician_search search = {ratio_of_db(k_db), outage, FE_OK};
    double high_db = 1.0;
    while (rician_excess(high_db, &search) > 0.0 && high_db < FURTHEST_DB)
        high_db *= 2.0;
    /* Even Rayleigh power passes 16 dB over its mean for 5e-18 of the time only. */
    double found_db = 0.0;
    const fe_status status = root_between(rician_excess, &search, -16.0, high_db,
                                          (root_width){.absolute = 1e-9}, &found_db);
    if (search.status != FE_OK)
        return search.status;
    if (status == FE_OK)
        *margin_db = found_db;
    return status;
}

/* By how much the median lies below the mean power. */
static fe_status median_below_mean_db(const fe_fading *fading, double *below_db)
{
    switch (fading->law) {
    case FE_FADING_RAYLEIGH:
        *below_db = -10.0 * log10(log(2.0));
        return FE_OK;
    case FE_FADING_RICIAN:
        return rician_margin(fading->k_db, 0.5, below_db);
    default:
        *below_db = fading->sigma_db * fading->sigma_db / (2.0 * MEAN_POWER_DB);
        return FE_OK;
    }
}

/* Share of time further than a margin below the mean power. */
static fe_status outage_below_mean(const fe_fading *fading, double margin_db, double *outage)
{
    switch (fading->law) {
    case FE_FADING_RAYLEIGH:
        *outage = -expm1(-ratio_of_db(-margin_db));
        return FE_OK;
    case FE_FADING_RICIAN:
        return rician_below(ratio_of_db(fading->k_db), ratio_of_db(-margin_db), outage);
    default:
        break;
    }
    double below_db;
    const fe_status status = median_below_mean_db(fading, &below_db);
    const double over_median_db = margin_db - below_db;
    *outage = fading->sigma_db > 0.0 ? gsl_cdf_gaussian_Q(over_median_db, fading->sigma_db)
                                     : (over_median_db < 0.0 ? 1.0 : 0.0);
    return status;
}

static fe_status margin_below_mean(const fe_fading *fading, double availability,
                                   double *margin_db)
{
    switch (fading->law) {
    case FE_FADING_RAYLEIGH:
        *margin_db = -10.0 * log10(-log(availability));
        return FE_OK;
    case FE_FADING_RICIAN:
        return rician_margin(fading->k_db, 1.0 - availability, margin_db);
    default:
        break;
    }
    double below_db;
    const fe_status status = median_below_mean_db(fading, &below_db);
    *margin_db = below_db + fading->sigma_db * gsl_cdf_ugaussian_Pinv(availability);
    return status;
}

fe_status fe_fading_availability(const fe_fading *fading, double margin_db,
                                 double *availability)
{
    if (!is_fading(fading) || !isfinite(margin_db))
        return FE_E_DOMAIN;
    double shift_db = 0.0;
    fe_status status = FE_OK;
    if (fading->reference == FE_FADING_MEDIAN)
        status = median_below_mean_db(fading, &shift_db);
    double outage = 0.0;
    if (status == FE_OK)
        status = outage_below_mean(
            fading, fmax(-FURTHEST_DB, fmin(margin_db + shift_db, FURTHEST_DB)), &outage);
    if (status == FE_OK)
        *availability = 1.0 - outage;
    return status;
}

fe_status fe_fading_margin(const fe_fading *fading, double availability, double *margin_db)
{
    if (!is_fading(fading) || !(availability > 0.0) || !(availability < 1.0))
        return FE_E_DOMAIN;
    double shift_db = 0.0, below_mean_db = 0.0;
    fe_status status = FE_OK;
    if (fading->reference == FE_FADING_MEDIAN)
        status = median_below_mean_db(fading, &shift_db);
    if (status == FE_OK)
        status = margin_below_mean(fading, availability, &below_mean_db);
    if (status == FE_OK)
        *margin_db = below_mean_db - shift_db;
    return status;
}

/* ---- Several causes at once ---- */

/* Shares of time that a fade beyond both ends of the grid may have. */
static const double GRID_TAIL = 1e-8;

/* It rains this share of the time: common practice, no source. */
static const double RAINY_SHARE = 0.05;
static const double HIGHEST_AVAILABILITY = 0.99999;

static long cell_of(double fade_db)
{
    return lround(fade_db / FE_SPREAD_STEP_DB);
}

/* Fills the shares of a spread between two fades from a law's share of time below each. */
static fe_status spread_between(const fe_fading *fading, double low_db, double high_db,
                                fe_spread *spread)
{
    const long first = cell_of(low_db);
    const long last = cell_of(high_db);
    if (last - first >= FE_SPREAD_MOST_CELLS)
        return FE_E_DOMAIN;
    spread->first = first;
    spread->count = (size_t)(last - first) + 1;
    double before = 0.0;
    for (size_t i = 0; i < spread->count; i++) {
        double here = 1.0;
        const double edge_db = ((double)(first + (long)i) + 0.5) * FE_SPREAD_STEP_DB;
        const fe_status status =
            i + 1 < spread->count ? fe_fading_availability(fading, edge_db, &here) : FE_OK;
        if (status < 0)
            return status;
        spread->share[i] = fmax(here - before, 0.0);
        before = here;
    }
    return FE_OK;
}

static fe_status law_spread(const fe_fading *fading, fe_spread *spread)
{
    if (fading->law == FE_FADING_LOGNORMAL && fading->sigma_db == 0.0)
        return fe_spread_exact(0.0, spread);
    double low_db, high_db;
    fe_status status = fe_fading_margin(fading, GRID_TAIL, &low_db);
    if (status == FE_OK)
        status = fe_fading_margin(fading, 1.0 - GRID_TAIL, &high_db);
    return status < 0 ? status : spread_between(fading, low_db, high_db, spread);
}

/* Share of time in which rain costs more: straight in the logarithm between three points. */
static double rain_exceeds(const fe_fade_rain *rain, double loss_db)
{
    const double one_db = rain->loss_one_percent_db;
    if (loss_db < one_db)
        return RAINY_SHARE * pow(0.01 / RAINY_SHARE, loss_db / one_db);
    const double decade_db = (rain->loss_001_db - one_db) / 2.0;
    return decade_db > 0.0 ? 0.01 * pow(10.0, -(loss_db - one_db) / decade_db) : 0.0;
}

static fe_status rain_spread(const fe_fade_rain *rain, fe_spread *spread)
{
    const double one_db = rain->loss_one_percent_db;
    const double decade_db = (rain->loss_001_db - one_db) / 2.0;
    /* Three decades below 0.01 %. */
    const double high_db = fmin(rain->loss_001_db + 3.0 * decade_db, 200.0);
    spread->first = 0;
    spread->count = (size_t)cell_of(high_db) + 1;
    double before = 0.0;
    for (size_t i = 0; i < spread->count; i++) {
        const double edge_db = ((double)i + 0.5) * FE_SPREAD_STEP_DB;
        const double here = i + 1 < spread->count ? 1.0 - rain_exceeds(rain, edge_db) : 1.0;
        spread->share[i] = fmax(here - before, 0.0);
        before = here;
    }
    return FE_OK;
}

static bool is_rain(const fe_fade_rain *rain)
{
    return rain->loss_one_percent_db >= 0.0 && rain->loss_001_db >= rain->loss_one_percent_db &&
           rain->loss_001_db <= 200.0;
}

/* Adds one cause to the sum so far; the first one is the sum. */
static fe_status add_cause(const fe_spread *cause, bool is_first, fe_spread *sum)
{
    if (!is_first)
        return fe_spread_add(sum, cause, sum);
    *sum = *cause;
    return FE_OK;
}

fe_status fe_fade_quantile(const fe_fading *laws, size_t count, const fe_fade_rain *rain,
                           double availability, double *fade_db)
{
    if (!(availability >= 0.5) || !(availability < 1.0) || count > MOST_LAWS ||
        (rain && !is_rain(rain)))
        return FE_E_DOMAIN;
    const fe_status range = availability > HIGHEST_AVAILABILITY ? FE_W_RANGE : FE_OK;
    if (count == 1 && !rain)
        return fe_status_worse(range, fe_fading_margin(laws, availability, fade_db));

    fe_spread sum, cause;
    fe_status status = fe_spread_exact(0.0, &sum);
    for (size_t i = 0; i < count && status == FE_OK; i++) {
        status = is_fading(&laws[i]) ? law_spread(&laws[i], &cause) : FE_E_DOMAIN;
        if (status == FE_OK)
            status = add_cause(&cause, i == 0, &sum);
    }
    if (status == FE_OK && rain) {
        status = rain_spread(rain, &cause);
        if (status == FE_OK)
            status = add_cause(&cause, count == 0, &sum);
    }
    if (status < 0)
        return status;
    *fade_db = fe_spread_quantile(&sum, availability);
    return range;
}
