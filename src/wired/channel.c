/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/channel.h"

#include <math.h>

#include "base/argument.h"
#include "farend/conductor.h"
#include "farend/constants.h"

static const double TIGHT_SHARE = 0.9;

/* Highest frequencies that the signals need: IEEE 802.3 (from memory). */
static const struct {
    const char *application;
    double f_hz;
} RATES[FE_CHANNEL_RATES] = {
    /* application, Hz */
    {"10BASE-T", 10e6},    {"100BASE-TX", 62.5e6}, {"1000BASE-T", 62.5e6},
    {"2.5GBASE-T", 100e6}, {"5GBASE-T", 200e6},    {"10GBASE-T", 400e6},
};

static bool is_case(const fe_channel_case *given)
{
    return is_positive(given->length_m) && is_at_least_zero(given->cords_m) &&
           given->cords_m < given->length_m && is_at_least_zero(given->cord_derating) &&
           given->temp_c >= -60.0 && given->temp_c <= 90.0 && is_positive(given->rate_bit_s) &&
           is_at_least_zero(given->wire_area_m2) && is_at_least_zero(given->poe_need_w) &&
           given->category != FE_CATEGORY_SINGLE_PAIR;
}

static fe_verdict judge_length(const fe_channel_case *given, fe_channel_rate *rate)
{
    if (!(given->length_m <= rate->limit_m))
        return FE_VERDICT_FAILS;
    const bool sure = given->length_m <= rate->reach->sure_m;
    return sure && given->length_m <= TIGHT_SHARE * rate->limit_m ? FE_VERDICT_HOLDS
                                                                  : FE_VERDICT_TIGHT;
}

static fe_status find_loss(const fe_channel_case *given, fe_channel_rate *rate)
{
    const fe_loss_equation *equation = fe_loss_equation_for(given->category);
    if (!equation || rate->f_hz > equation->highest_hz)
        return FE_OK;
    const fe_channel_run run = {given->length_m - given->cords_m,
                                given->cords_m,
                                given->cord_derating,
                                given->connectors,
                                given->temp_c,
                                given->screened};
    const fe_status built = fe_insertion_loss_run(equation, &run, rate->f_hz, &rate->loss_db);
    if (built < 0)
        return built;
    return fe_status_worse(
        built, fe_insertion_loss_channel(equation, rate->f_hz, &rate->loss_limit_db));
}

static fe_status solve_rate(const fe_channel_case *given, size_t index, fe_channel_rate *rate)
{
    *rate = (fe_channel_rate){.reach = fe_ethernet_reach_for(RATES[index].application,
                                                             given->category, given->screened),
                              .f_hz = RATES[index].f_hz,
                              .loss_db = NAN,
                              .loss_limit_db = NAN,
                              .verdict = FE_VERDICT_FAILS};
    if (!rate->reach)
        return FE_OK;
    const fe_channel_plan plan = {rate->reach->channel_limit_m,
                                  rate->reach->permanent_link_limit_m,
                                  given->cords_m,
                                  given->cord_derating,
                                  given->temp_c,
                                  given->screened};
    fe_channel_length longest = {0};
    const fe_status status = fe_channel_longest(&plan, &longest);
    if (status < 0 && status != FE_E_NO_SOLUTION)
        return status;
    rate->limit_m = status < 0 ? 0.0 : longest.channel_m;
    rate->verdict = judge_length(given, rate);
    return fe_status_worse(status < 0 ? FE_OK : status, find_loss(given, rate));
}

static fe_status wire_area(const fe_channel_case *given, double *area_m2)
{
    fe_awg awg;
    *area_m2 = given->wire_area_m2;
    if (*area_m2 > 0.0)
        return FE_OK;
    const fe_status status = fe_awg_geometry(given->category <= FE_CATEGORY_5E ? 24 : 23, &awg);
    if (status == FE_OK)
        *area_m2 = awg.area_m2;
    return status;
}

static fe_status wire_resistance(const fe_channel_case *given, double *ohm_per_m)
{
    double area_m2 = 0.0;
    const fe_status status = wire_area(given, &area_m2);
    if (status < 0)
        return status;
    const fe_conductor wire = {area_m2, FE_CONDUCTOR_COPPER, FE_CLASS_SOLID};
    return fe_conductor_resistance(&wire, given->temp_c, ohm_per_m);
}

static fe_status solve_power(const fe_channel_case *given, fe_channel_power *power)
{
    const fe_poe_class *row = fe_poe_class_find(given->poe_class);
    if (!row)
        return FE_E_DOMAIN;
    *power = (fe_channel_power){.device_class = row->device_class,
                                .design_ohm = row->loop_ohm,
                                .promised_w = row->device_w,
                                .device_v = NAN,
                                .verdict = FE_VERDICT_FAILS};
    const fe_status found = wire_resistance(given, &power->wire_ohm_per_m);
    if (found < 0)
        return found;
    fe_status status = fe_poe_loop(power->wire_ohm_per_m, given->length_m,
                                   row->pairs == 4 ? 2 : 1, &power->loop_ohm);
    if (status < 0)
        return status;
    status = fe_poe_device_power(row->least_source_v, row->source_w, power->loop_ohm,
                                 &power->device_w);
    if (status < 0 && status != FE_E_NO_SOLUTION)
        return status;
    const double current_a = row->source_w / row->least_source_v;
    power->heat_w_m = current_a * current_a * power->loop_ohm / given->length_m;
    fe_poe_feed feed;
    status = fe_poe_deliver(row->least_source_v, row->device_w, power->loop_ohm, &feed);
    if (status < 0 && status != FE_E_NO_SOLUTION)
        return status;
    if (status >= 0)
        power->device_v = feed.device_v;
    if (power->loop_ohm <= power->design_ohm)
        power->verdict = FE_VERDICT_HOLDS;
    else if (power->device_w >= power->promised_w)
        power->verdict = FE_VERDICT_TIGHT;
    return found;
}

/* The section of a midpoint is a channel of the wanted rate, cords and warmth included. */
static fe_status solve_beyond(const fe_channel_case *given, fe_channel_answer *found)
{
    const fe_channel_rate *rate = found->wanted < 0 ? NULL : &found->rates[found->wanted];
    found->is_beyond = !rate || rate->verdict != FE_VERDICT_HOLDS;
    if (!found->is_beyond)
        return FE_OK;
    const fe_poe_class *class = fe_poe_class_find(given->poe_class);
    const double promised_w = class ? class->device_w : 0.0;
    fe_beyond_case beyond = {.length_m = given->length_m,
                             .rate_bit_s = given->rate_bit_s,
                             .port_bit_s = rate ? rate->reach->rate_bit_s : 0.0,
                             .section_limit_m = rate ? rate->limit_m : 0.0,
                             .need_w = class && given->poe_need_w > 0.0 ? given->poe_need_w
                                                                        : promised_w};
    const fe_status status = wire_resistance(given, &beyond.wire_ohm_per_m);
    if (status < 0)
        return status;
    return fe_status_worse(status, fe_beyond_solve(&beyond, found->beyond));
}

fe_status fe_channel_solve(const fe_channel_case *given, fe_channel_answer *answer)
{
    if (!is_case(given))
        return FE_E_DOMAIN;
    fe_channel_answer found = {.wanted = -1, .fastest = -1};
    fe_status status = FE_OK;
    for (int i = 0; i < FE_CHANNEL_RATES && status >= 0; i++) {
        status = fe_status_worse(status, solve_rate(given, (size_t)i, &found.rates[i]));
        const fe_channel_rate *rate = &found.rates[i];
        if (rate->verdict != FE_VERDICT_FAILS)
            found.fastest = i;
        const double rate_bit_s = rate->reach ? rate->reach->rate_bit_s : 0.0;
        if (found.wanted < 0 && rate_bit_s >= given->rate_bit_s * (1.0 - 1e-12))
            found.wanted = i;
    }
    found.has_power = given->poe_class != FE_CHANNEL_NO_POE;
    if (found.has_power && status >= 0)
        status = fe_status_worse(status, solve_power(given, &found.power));
    if (status >= 0)
        status = fe_status_worse(status, solve_beyond(given, &found));
    if (status < 0)
        return status;
    found.verdict = found.wanted < 0 ? FE_VERDICT_FAILS : found.rates[found.wanted].verdict;
    if (found.has_power && found.power.verdict > found.verdict)
        found.verdict = found.power.verdict;
    *answer = found;
    return status;
}

int fe_channel_best(const fe_channel_answer *answer)
{
    int best = answer->wanted;
    for (int i = answer->wanted; i >= 0 && i < FE_CHANNEL_RATES; i++) {
        const fe_channel_rate *rate = &answer->rates[i];
        if (rate->reach && rate->reach->rate_bit_s <= FE_CHANNEL_PORT_BIT_S &&
            rate->verdict != FE_VERDICT_FAILS && rate->verdict <= answer->rates[best].verdict)
            best = i;
    }
    return best;
}

fe_status fe_channel_bundle_rise(double heat_w_m, double diameter_m, unsigned cables,
                                 double *rise_k)
{
    static const double FILLED = 0.8;
    static const double SURFACE_W_M2_K = 10.0;
    if (!is_at_least_zero(heat_w_m) || !is_positive(diameter_m) || cables == 0)
        return FE_E_DOMAIN;
    const double around_m =
        FE_PI * diameter_m * (cables > 1 ? sqrt((double)cables / FILLED) : 1.0);
    *rise_k = (double)cables * heat_w_m / (SURFACE_W_M2_K * around_m);
    return FE_OK;
}
