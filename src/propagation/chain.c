/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/chain.h"

#include <math.h>
#include <stdlib.h>

const char *fe_chain_sharing_name(fe_chain_sharing sharing)
{
    static const char *const NAMES[] = {
        [FE_CHAIN_ONE_CHANNEL] = "one shared channel",
        [FE_CHAIN_OWN_CHANNELS] = "a channel for each hop",
        [FE_CHAIN_ALTERNATE_BANDS] = "alternate bands",
    };
    return NAMES[sharing];
}

/*
 * Most time that hops which may not send together take, out of each hop's own: the worst row of
 * `turns` hops, every `stride`-th of which is on the same channel.
 */
static double busiest(const double *times, size_t count, size_t stride, unsigned turns)
{
    double most = 0.0;
    for (size_t from = 0; from < count; from++) {
        double sum = 0.0;
        for (size_t i = from; i < count && i < from + turns; i += stride)
            sum += times[i];
        most = fmax(most, sum);
    }
    return most;
}

static double time_of_sharing(const double *times, size_t count, fe_chain_sharing sharing,
                              unsigned turns)
{
    switch (sharing) {
    case FE_CHAIN_OWN_CHANNELS:
        return busiest(times, count, 1, 1);
    case FE_CHAIN_ALTERNATE_BANDS:
        return busiest(times, count, 2, turns);
    case FE_CHAIN_ONE_CHANNEL:
        break;
    }
    return busiest(times, count, 1, turns);
}

fe_status fe_chain_air_time(const double *there_bps, const double *back_bps, size_t count,
                            fe_chain_sharing sharing, unsigned turns, const double want_bps[2],
                            double *share)
{
    double times[FE_CHAIN_MOST_HOPS];
    if (count == 0 || count > FE_CHAIN_MOST_HOPS || turns == 0 || !(want_bps[0] >= 0.0) ||
        !(want_bps[1] >= 0.0))
        return FE_E_DOMAIN;
    for (size_t i = 0; i < count; i++) {
        if (!(there_bps[i] > 0.0) || !(back_bps[i] > 0.0))
            return FE_E_DOMAIN;
        times[i] = want_bps[0] / there_bps[i] + want_bps[1] / back_bps[i];
    }
    *share = time_of_sharing(times, count, sharing, turns);
    return FE_OK;
}

fe_status fe_chain_rate_shared(const double *rates_bps, size_t count, fe_chain_sharing sharing,
                               unsigned turns, double *rate_bps)
{
    static const double ONE_BIT[2] = {1.0, 0.0};
    double seconds = 0.0;
    const fe_status status =
        fe_chain_air_time(rates_bps, rates_bps, count, sharing, turns, ONE_BIT, &seconds);
    if (status < 0)
        return status;
    *rate_bps = 1.0 / seconds;
    return FE_OK;
}

fe_status fe_chain_rate(const double *rates_bps, size_t count, double *rate_bps)
{
    return fe_chain_rate_shared(rates_bps, count, FE_CHAIN_ONE_CHANNEL, FE_CHAIN_MOST_HOPS,
                                rate_bps);
}

double fe_chain_share(unsigned relays, fe_chain_sharing sharing)
{
    double times[FE_CHAIN_MOST_HOPS];
    if (relays > FE_CHAIN_MOST_RELAYS)
        return NAN;
    for (unsigned i = 0; i <= relays; i++)
        times[i] = 1.0;
    return 1.0 / time_of_sharing(times, relays + 1, sharing, FE_CHAIN_TURNS_REAL);
}

/* The trees of a part of the way, as that part sees them; returns how many. */
static size_t cut_stands(const fe_hop *direct, double from_m, double to_m, fe_stand *stands)
{
    size_t count = 0;
    for (size_t i = 0; i < direct->stand_count; i++) {
        fe_stand stand = direct->stands[i];
        if (stand.to_m <= from_m || stand.from_m >= to_m)
            continue;
        stand.from_m = fmax(stand.from_m, from_m) - from_m;
        stand.to_m = fmin(stand.to_m, to_m) - from_m;
        stands[count++] = stand;
    }
    return count;
}

static void take_hop(fe_chain *chain, size_t hop, const fe_hop_budget *budget, double airtime)
{
    const fe_hop_season *worst = &budget->seasons[budget->worst];
    chain->chance *= budget->chance;
    chain->carries_rate = chain->carries_rate && budget->carries_rate;
    chain->hop_margin_db[hop] = worst->margin_db;
    /* The hop's rate is told for its share of the time; alone on the channel it would carry
     * that many times more. */
    chain->hop_rate_bps[hop] = budget->delivered_rate_bps / airtime;
    if (hop > 0 && worst->margin_db >= chain->margin_db)
        return;
    chain->weakest_hop = hop;
    chain->worst_season = budget->worst;
    chain->margin_db = worst->margin_db;
    chain->margin_low_db = worst->margin_low_db;
    chain->margin_high_db = worst->margin_high_db;
}

/* One hop of the chain, between two places. */
static fe_status compute_hop(const fe_hop *direct, const fe_chain_place ends[2],
                             const fe_season *seasons, size_t count, const fe_wanted *share,
                             size_t index, fe_chain *chain)
{
    fe_profile part = {0};
    fe_stand *stands = calloc(direct->stand_count + 1, sizeof *stands);
    if (!stands)
        return FE_E_MEMORY;
    fe_status status = fe_profile_cut(direct->ground, ends[0].at_m, ends[1].at_m, &part);
    if (status >= 0) {
        fe_hop hop = *direct;
        fe_hop_budget budget;
        hop.ground = &part;
        hop.stands = stands;
        hop.stand_count = cut_stands(direct, ends[0].at_m, ends[1].at_m, stands);
        hop.ends[0] = ends[0].station;
        hop.ends[1] = ends[1].station;
        status = fe_status_worse(status,
                                 fe_hop_budget_compute(&hop, seasons, count, share, &budget));
        if (status >= 0) {
            take_hop(chain, index, &budget, share->airtime);
            fe_hop_budget_free(&budget);
        }
    }
    fe_profile_free(&part);
    free(stands);
    return status;
}

static bool places_rise(const fe_chain_place *places, unsigned relays, double length_m)
{
    double before_m = 0.0;
    for (unsigned i = 0; i < relays; i++) {
        if (!(places[i].at_m > before_m))
            return false;
        before_m = places[i].at_m;
    }
    return before_m < length_m;
}

fe_status fe_chain_at(const fe_hop *direct, const fe_chain_place *places, unsigned relays,
                      fe_chain_sharing sharing, const fe_season *seasons, size_t count,
                      const fe_wanted *wanted, fe_chain *chain)
{
    const double length_m = fe_profile_length(direct->ground);
    if (relays > FE_CHAIN_MOST_RELAYS || !places_rise(places, relays, length_m))
        return FE_E_DOMAIN;
    const size_t hops = relays + 1;
    fe_wanted share = *wanted;
    share.airtime = wanted->airtime * fe_chain_share(relays, sharing);

    fe_chain found = {.relays = relays,
                      .hop_count = hops,
                      .chance = 1.0,
                      .carries_rate = true,
                      .delay_s = (double)hops * FE_CHAIN_HOP_DELAY_S};
    fe_status status = FE_OK;
    for (size_t i = 0; i < hops && status >= 0; i++) {
        const fe_chain_place ends[2] = {
            i > 0 ? places[i - 1] : (fe_chain_place){0.0, direct->ends[0]},
            i + 1 < hops ? places[i] : (fe_chain_place){length_m, direct->ends[1]}};
        found.hop_m = fmax(found.hop_m, ends[1].at_m - ends[0].at_m);
        status = fe_status_worse(status,
                                 compute_hop(direct, ends, seasons, count, &share, i, &found));
    }
    /* A hop that delivers nothing leaves the whole chain with nothing. */
    double rate_bps = 0.0;
    if (status >= 0 && fe_chain_rate_shared(found.hop_rate_bps, hops, sharing,
                                            FE_CHAIN_TURNS_REAL, &rate_bps) < 0)
        rate_bps = 0.0;
    if (status < 0)
        return status;
    found.delivered_rate_bps = wanted->airtime * rate_bps;
    *chain = found;
    return status;
}

fe_status fe_chain_equal(const fe_hop *direct, const fe_station *relay, unsigned relays,
                         const fe_season *seasons, size_t count, const fe_wanted *wanted,
                         fe_chain *chain)
{
    if (relays > FE_CHAIN_MOST_RELAYS)
        return FE_E_DOMAIN;
    fe_chain_place places[FE_CHAIN_MOST_RELAYS];
    const double hop_m = fe_profile_length(direct->ground) / (double)(relays + 1);
    for (unsigned i = 0; i < relays; i++)
        places[i] = (fe_chain_place){hop_m * (double)(i + 1), *relay};
    return fe_chain_at(direct, places, relays, FE_CHAIN_ONE_CHANNEL, seasons, count, wanted,
                       chain);
}
