/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/claim.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#include "base/argument.h"
#include "farend/foliage.h"
#include "farend/ground_ray.h"
#include "farend/number.h"
#include "farend/power_rules.h"
#include "farend/receiver.h"
#include "farend/wall.h"
#include "farend/wifi.h"

/* ---- How a number was meant ---- */

static bool is_one_of(const char *word, const char *const *words)
{
    for (; *words; words++)
        if (strcmp(word, *words) == 0)
            return true;
    return false;
}

/* Small letters without spaces; false where the text is longer than any factor. */
static bool squeeze(const char *text, char *out, size_t room)
{
    size_t length = 0;
    for (; *text; text++) {
        if (isspace((unsigned char)*text))
            continue;
        if (length + 1 == room)
            return false;
        out[length++] = (char)tolower((unsigned char)*text);
    }
    out[length] = 0;
    return true;
}

fe_status fe_claim_factor_parse(const char *text, fe_claim_factor *factor)
{
    static const char *const TIMES[] = {"", "x", "times", "fold", "-fold", NULL};
    static const char *const PERCENT[] = {"%", "percent", "percents", "percentof", NULL};
    static const char *const MORE[] = {"%more", "percentmore", NULL};
    static const char *const LESS[] = {"%less", "percentless", NULL};
    char word[32];
    if (!squeeze(text, word, sizeof word))
        return FE_E_INPUT;
    const bool signed_more = word[0] == '+';
    const bool signed_less = word[0] == '-';
    const char *at = word + (signed_more || signed_less);
    size_t digits = strspn(at, "0123456789.");
    char number[32] = "";
    memcpy(number, at, digits);
    double value = 0.0;
    if (digits == 0 || !fe_number_parse(number, &value))
        return FE_E_INPUT;
    at += digits;

    fe_claim_factor found;
    const bool with_sign = signed_more || signed_less;
    if (is_one_of(at, MORE) || (signed_more && is_one_of(at, PERCENT)))
        found = (fe_claim_factor){1.0 + value / 100.0, FE_CLAIM_PERCENT_MORE};
    else if (is_one_of(at, LESS) || (signed_less && is_one_of(at, PERCENT)))
        found = (fe_claim_factor){1.0 - value / 100.0, FE_CLAIM_PERCENT_MORE};
    else if (!with_sign && is_one_of(at, PERCENT))
        found = (fe_claim_factor){value / 100.0, FE_CLAIM_PERCENT_OF};
    else if (!with_sign && is_one_of(at, TIMES))
        found = (fe_claim_factor){value, FE_CLAIM_TIMES};
    else
        return FE_E_INPUT;
    if (!is_positive(found.factor))
        return FE_E_INPUT;
    *factor = found;
    return FE_OK;
}

static const double LOWEST_HZ = 0.4e9;
static const double HIGHEST_HZ = 100e9;

static bool is_claimed_frequency(double f_hz)
{
    return f_hz >= LOWEST_HZ && f_hz <= HIGHEST_HZ;
}

double fe_claim_frequency_meant_hz(double f_hz)
{
    /* Each prefix is a thousand; the first that lands among radio bands was likely meant. */
    static const double SLIPS[] = {1e3, 1e6, 1e9, 1e-3};
    if (is_claimed_frequency(f_hz) || !(f_hz > 0.0))
        return 0.0;
    for (size_t i = 0; i < sizeof SLIPS / sizeof SLIPS[0]; i++)
        if (is_claimed_frequency(f_hz * SLIPS[i]))
            return f_hz * SLIPS[i];
    return 2.4e9;
}

double fe_claim_distance_meant_m(double distance_m)
{
    static const double NEAREST_M = 1.0;
    static const double FARTHEST_M = 50e3;
    if (!(distance_m > 0.0) || (distance_m >= NEAREST_M && distance_m <= FARTHEST_M))
        return 0.0;
    return distance_m < NEAREST_M ? distance_m * 1e3 : distance_m / 1e3;
}

/* ---- Bands ---- */

/* What people call a band: 2.4 GHz for 2400 to 2483.5 MHz. */
static double named_hz(fe_band band)
{
    static const double NAMED_HZ[FE_BANDS] = {
        [FE_BAND_SUB_GHZ] = 0.9e9, [FE_BAND_2_4_GHZ] = 2.4e9, [FE_BAND_5_GHZ] = 5e9,
        [FE_BAND_6_GHZ] = 6e9,     [FE_BAND_60_GHZ] = 60e9,
    };
    return NAMED_HZ[band];
}

static fe_band band_of(double f_hz)
{
    if (f_hz < 1.5e9)
        return FE_BAND_SUB_GHZ;
    if (f_hz < 3.6e9)
        return FE_BAND_2_4_GHZ;
    /* The 6 GHz rules begin at 5.925 or 5.945 GHz. */
    if (f_hz < 5.925e9)
        return FE_BAND_5_GHZ;
    return f_hz < 20e9 ? FE_BAND_6_GHZ : FE_BAND_60_GHZ;
}

/*
 * Who says 5 GHz means the band and not its lower edge, where no channel is. Below 1 GHz the
 * figures that people use are frequencies, and differ by region.
 */
static bool is_name_of_band(double f_hz, fe_band *band)
{
    static const double SAME_HZ = 1.0;
    for (int b = FE_BAND_2_4_GHZ; b < FE_BANDS; b++)
        if (fabs(f_hz - named_hz((fe_band)b)) < SAME_HZ) {
            *band = (fe_band)b;
            return true;
        }
    return false;
}

static fe_status band_around(fe_region region, double f_hz, fe_claim_band *band)
{
    const char *area = fe_region_name(region);
    fe_power_band indoors;
    fe_power_band outdoors;
    fe_status status = fe_power_nearest_band(area, f_hz, false, &indoors);
    if (status < 0)
        return status;
    status = fe_power_nearest_band(area, f_hz, true, &outdoors);
    if (status < 0 && status != FE_E_NO_SOLUTION)
        return status;
    const bool outside = status >= 0 && outdoors.inside;

    fe_claim_band found = {.open = indoors.inside || outside, .indoors = !outside};
    const double nearest_hz = fmin(fmax(f_hz, indoors.low_hz), indoors.high_hz);
    found.band = band_of(nearest_hz);
    found.named_hz = named_hz(found.band);
    found.f_hz = found.open ? f_hz : fe_band_frequency(found.band, region);
    if (!found.open)
        found.indoors = false;
    *band = found;
    return FE_OK;
}

fe_status fe_claim_band_at(fe_region region, double f_hz, fe_claim_band *band)
{
    if (region < 0 || region >= FE_REGIONS)
        return FE_E_DOMAIN;
    fe_band named;
    if (!is_name_of_band(f_hz, &named))
        return band_around(region, f_hz, band);
    fe_claim_band found;
    const fe_status status = band_around(region, fe_band_frequency(named, region), &found);
    if (status < 0)
        return status;
    if (found.open && found.band == named) {
        found.by_name = true;
        *band = found;
        return status;
    }
    return band_around(region, f_hz, band);
}

/* ---- From one frequency to another ---- */

const char *fe_claim_verdict_name(fe_claim_verdict verdict)
{
    static const char *const NAMES[] = {
        [FE_CLAIM_HOLDS] = "holds",
        [FE_CLAIM_NEEDS_MORE] = "needs_more",
        [FE_CLAIM_NOT_BY_FREQUENCY] = "not_by_frequency",
        [FE_CLAIM_BAND_CLOSED] = "band_closed",
    };
    return NAMES[verdict];
}

static double ratio_of_db(double db, double slope_db)
{
    return pow(10.0, db / slope_db);
}

/* Equal size brings 20 log(f2 / f1) of gain for each antenna that keeps it. */
static fe_claim_range range_of(double at_equal_gain_db, double step_db, double slope_db)
{
    return (fe_claim_range){
        .equal_gain = ratio_of_db(at_equal_gain_db, slope_db),
        .one_equal_area = ratio_of_db(at_equal_gain_db - step_db, slope_db),
        .equal_area = ratio_of_db(at_equal_gain_db - 2.0 * step_db, slope_db),
    };
}

static fe_status walls_at(const fe_claim_step *step, double f_hz, double *loss_db)
{
    const fe_incidence wave = {.f_hz = f_hz, .polarisation = FE_POLARISATION_TE};
    fe_status status = FE_OK;
    double sum_db = 0.0;
    for (size_t i = 0; i < step->wall_count && status >= 0; i++) {
        fe_wall_result wall;
        status =
            fe_status_worse(status, fe_wall_loss(step->walls[i].kind,
                                                 step->walls[i].thickness_m, &wave, &wall));
        if (status >= 0)
            sum_db += (wall.low_db + wall.high_db) / 2.0;
    }
    if (status >= 0)
        *loss_db = sum_db;
    return status;
}

static fe_status trees_at(const fe_claim_step *step, double f_hz, double *loss_db)
{
    fe_foliage_result foliage;
    if (!(step->trees_m > 0.0)) {
        *loss_db = 0.0;
        return FE_OK;
    }
    const fe_status status = fe_foliage_budget(&step->trees, f_hz, step->trees_m, &foliage);
    if (status >= 0)
        *loss_db = foliage.loss_db;
    return status;
}

/* ---- Causes ---- */

static void add_cause(fe_claim_answer *answer, fe_claim_cause cause)
{
    answer->causes[answer->cause_count++] = cause;
    answer->causes_db += fmax(0.0, cause.high_db);
}

/* From one mode to the next slower one, and from the fastest to the slowest. */
static fe_status add_lower_rate(fe_claim_answer *answer)
{
    const fe_wifi_link link = {FE_WIFI_HT, 20e6, 1, NAN};
    fe_wifi_mode modes[FE_WIFI_MODES_MAX];
    size_t count = 0;
    const fe_status status = fe_wifi_modes(&link, modes, &count);
    if (status < 0)
        return status;
    add_cause(answer,
              (fe_claim_cause){
                  "lower rate", modes[1].min_sensitivity_dbm - modes[0].min_sensitivity_dbm,
                  modes[count - 1].min_sensitivity_dbm - modes[0].min_sensitivity_dbm,
                  "from the second slowest, or from the fastest, mode of a 20 MHz "
                  "channel to the slowest",
                  "IEEE 802.11-2016 table 19-23"});
    return status;
}

static void add_narrower_channel(const fe_claim_step *step, fe_claim_answer *answer)
{
    const bool very_low = step->to_hz < 1e9;
    add_cause(answer, (fe_claim_cause){"narrower channel", very_low ? 10.0 : 10.0 * log10(2.0),
                                       very_low ? 10.0 * log10(20.0) : 10.0 * log10(4.0),
                                       very_low ? "from 20 MHz to 2 MHz, or to 1 MHz"
                                                : "from 40 MHz, or from 80 MHz, to 20 MHz",
                                       "thermal noise goes with the width; any textbook"});
}

/* Where no wall was named: the least and most that usual house walls give. */
static fe_status add_less_wall(const fe_claim_step *step, fe_claim_answer *answer)
{
    static const char *const USUAL[] = {"brick", "cavity brick", "concrete", "timber",
                                        "double glazing"};
    double low_db = INFINITY;
    double high_db = -INFINITY;
    for (size_t i = 0; i < sizeof USUAL / sizeof USUAL[0]; i++) {
        const fe_hop_wall wall = {USUAL[i], NAN};
        fe_claim_step one = *step;
        one.walls = &wall;
        one.wall_count = 1;
        double from_db = 0.0;
        double to_db = 0.0;
        const fe_status status = fe_status_worse(walls_at(&one, step->from_hz, &from_db),
                                                 walls_at(&one, step->to_hz, &to_db));
        if (status < 0)
            return status;
        /* A material that is not stated at one of the frequencies says nothing here. */
        if (status != FE_OK)
            continue;
        low_db = fmin(low_db, from_db - to_db);
        high_db = fmax(high_db, from_db - to_db);
    }
    if (isfinite(low_db))
        add_cause(answer, (fe_claim_cause){"less wall loss", low_db, high_db,
                                           "one wall of a house: brick, cavity brick, "
                                           "concrete, timber, double glazing",
                                           "ITU-R P.2040-3"});
    return FE_OK;
}

/* The same mode with the noise of flats, a village and the open country outside. */
static fe_status add_quieter_channel(const fe_claim_step *step, fe_claim_answer *answer)
{
    double threshold_dbm[3];
    for (int noise = 0; noise < 3; noise++) {
        const double outside_dbm = fe_receiver_noise_dbm(band_of(step->to_hz), (fe_noise)noise);
        const fe_status status =
            fe_receiver_threshold(-82.0, 20e6, outside_dbm, 0.0, &threshold_dbm[noise]);
        if (status < 0)
            return status;
    }
    add_cause(answer, (fe_claim_cause){"quieter channel", threshold_dbm[1] - threshold_dbm[0],
                                       threshold_dbm[2] - threshold_dbm[0],
                                       "from the noise of a village, or of flats, to that of "
                                       "open country",
                                       "common practice, no source"});
    return FE_OK;
}

/*
 * A radio that is told to prefer the higher band leaves the lower one at -70 to -75 dBm (common
 * practice), although its slowest mode works down to -82 dBm.
 */
static void add_no_flipping(fe_claim_answer *answer)
{
    add_cause(answer, (fe_claim_cause){"no flipping between bands", 7.0, 12.0,
                                       "changes of band come at -70 to -75 dBm; the slowest "
                                       "mode works down to -82 dBm",
                                       "common practice, no source; IEEE 802.11-2016 table "
                                       "19-23"});
}

/* What the rules let 20 MHz with a small antenna send at both frequencies. */
static void add_allowed_power(const fe_claim_step *step, fe_claim_answer *answer)
{
    const double f_hz[2] = {step->from_hz, step->to_hz};
    double eirp_dbm[2];
    for (int i = 0; i < 2; i++) {
        const fe_power_query query = {.area = fe_region_name(step->region),
                                      .f_hz = f_hz[i],
                                      .width_hz = f_hz[i] < 1e9 ? 1e6 : 20e6,
                                      .antenna_gain_dbi = 2.0,
                                      .access_point = true};
        fe_power_limit limit;
        /* People name a band by its edge: 2.4 GHz is no centre of a channel. */
        fe_power_query usual = query;
        usual.f_hz = fe_band_frequency(band_of(f_hz[i]), step->region);
        if (fe_power_limit_at(&query, &limit) < 0 && fe_power_limit_at(&usual, &limit) < 0)
            return;
        eirp_dbm[i] = limit.eirp_dbm;
    }
    const double change_db = eirp_dbm[1] - eirp_dbm[0];
    add_cause(answer, (fe_claim_cause){"power allowed", change_db, change_db,
                                       "radiated power of a small antenna under the rules, "
                                       "where the gear can make use of it",
                                       "the rules of the region, as dated there"});
}

static fe_status add_causes(const fe_claim_step *step, fe_claim_answer *answer)
{
    fe_status status = add_lower_rate(answer);
    add_narrower_channel(step, answer);
    if (status >= 0 && step->wall_count == 0)
        status = fe_status_worse(status, add_less_wall(step, answer));
    if (status >= 0)
        status = fe_status_worse(status, add_quieter_channel(step, answer));
    add_no_flipping(answer);
    add_allowed_power(step, answer);
    return status;
}

/* ---- The answer ---- */

/*
 * A claim of more range holds where frequency gives as much; one of less range where frequency
 * takes away what is claimed, neither much more nor less.
 */
static fe_claim_verdict judge(const fe_claim_step *step, const fe_claim_answer *answer)
{
    if (!answer->open[0] || !answer->open[1])
        return FE_CLAIM_BAND_CLOSED;
    const bool wants_more = answer->needed_db >= 0.0;
    const double lacking_db =
        wants_more ? answer->unexplained_db : fabs(answer->unexplained_db);
    if (lacking_db <= step->confirm_db)
        return FE_CLAIM_HOLDS;
    const double same_way_db = wants_more ? answer->explained_db : -answer->explained_db;
    if (same_way_db <= 0.0 || lacking_db > answer->causes_db)
        return FE_CLAIM_NOT_BY_FREQUENCY;
    return FE_CLAIM_NEEDS_MORE;
}

static bool is_step(const fe_claim_step *step)
{
    return is_claimed_frequency(step->from_hz) && is_claimed_frequency(step->to_hz) &&
           is_positive(step->factor) && step->height_m[0] > 0.0 && step->height_m[1] > 0.0 &&
           isfinite(step->height_m[0] + step->height_m[1]) && is_at_least_zero(step->trees_m) &&
           step->confirm_db >= 0.0 && step->region >= 0 && step->region < FE_REGIONS;
}

static fe_status measure(const fe_claim_step *step, fe_claim_answer *answer)
{
    fe_status status = walls_at(step, step->from_hz, &answer->wall_from_db);
    if (status >= 0)
        status = fe_status_worse(status, walls_at(step, step->to_hz, &answer->wall_to_db));
    if (status >= 0)
        status = fe_status_worse(status, trees_at(step, step->from_hz, &answer->trees_from_db));
    if (status >= 0)
        status = fe_status_worse(status, trees_at(step, step->to_hz, &answer->trees_to_db));
    if (status >= 0)
        status = fe_status_worse(status, fe_ground_breakpoint(step->from_hz, step->height_m[0],
                                                              step->height_m[1],
                                                              &answer->break_from_m));
    if (status >= 0)
        status = fe_status_worse(status,
                                 fe_ground_breakpoint(step->to_hz, step->height_m[0],
                                                      step->height_m[1], &answer->break_to_m));
    for (int i = 0; i < 2 && status >= 0; i++) {
        fe_claim_band band;
        const fe_status found =
            fe_claim_band_at(step->region, i == 0 ? step->from_hz : step->to_hz, &band);
        status = fe_status_worse(status, found);
        answer->open[i] = found >= 0 && band.open;
    }
    return status;
}

fe_status fe_claim_test(const fe_claim_step *step, fe_claim_answer *answer)
{
    if (!is_step(step))
        return FE_E_DOMAIN;
    fe_claim_answer found = {0};
    fe_status status = measure(step, &found);
    if (status < 0)
        return status;

    found.frequency_db = 20.0 * log10(step->from_hz / step->to_hz);
    found.obstacles_db =
        found.wall_from_db - found.wall_to_db + found.trees_from_db - found.trees_to_db;
    found.free_space = range_of(found.frequency_db, found.frequency_db, 20.0);
    /* Plane earth does not know the frequency: 40 log d - 20 log(h1 h2). */
    found.beyond = range_of(0.0, found.frequency_db, 40.0);
    found.through_free_space = ratio_of_db(found.frequency_db + found.obstacles_db, 20.0);
    found.through_beyond = ratio_of_db(found.obstacles_db, 40.0);
    found.needed_db = 20.0 * log10(step->factor);
    found.explained_db = found.frequency_db + found.obstacles_db;
    found.unexplained_db = found.needed_db - found.explained_db;
    found.needed_beyond_db = 40.0 * log10(step->factor);
    found.unexplained_beyond_db = found.needed_beyond_db - found.obstacles_db;
    status = fe_status_worse(status, add_causes(step, &found));
    if (status < 0)
        return status;
    found.verdict = judge(step, &found);
    *answer = found;
    return status;
}
