/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/chain.h"

#include <math.h>
#include <stdlib.h>

fe_status fe_chain_rate(const double *rates_bps, size_t count, double *rate_bps)
{
    double time_per_bit = 0.0;
    for (size_t i = 0; i < count; i++) {
        if (!(rates_bps[i] > 0.0))
            return FE_E_DOMAIN;
        time_per_bit += 1.0 / rates_bps[i];
    }
    if (!(time_per_bit > 0.0))
        return FE_E_DOMAIN;
    *rate_bps = 1.0 / time_per_bit;
    return FE_OK;
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

static void take_hop(fe_chain *chain, size_t hop, const fe_hop_budget *budget)
{
    const fe_hop_season *worst = &budget->seasons[budget->worst];
    chain->chance *= budget->chance;
    chain->carries_rate = chain->carries_rate && budget->carries_rate;
    if (hop > 0 && worst->margin_db >= chain->margin_db)
        return;
    chain->weakest_hop = hop;
    chain->worst_season = budget->worst;
    chain->margin_db = worst->margin_db;
    chain->margin_low_db = worst->margin_low_db;
    chain->margin_high_db = worst->margin_high_db;
}

static fe_status compute_hop(const fe_hop *hop, const fe_season *seasons, size_t count,
                             const fe_wanted *share, size_t index, fe_chain *chain,
                             double *seconds_per_bit)
{
    fe_hop_budget budget;
    fe_status status = fe_hop_budget_compute(hop, seasons, count, share, &budget);
    if (status < 0)
        return status;
    take_hop(chain, index, &budget);
    /* The hop's rate is told for its share of the time; alone on the channel it would carry
     * that many times more. */
    *seconds_per_bit += share->airtime / budget.delivered_rate_bps;
    fe_hop_budget_free(&budget);
    return status;
}

fe_status fe_chain_equal(const fe_hop *direct, const fe_station *relay, unsigned relays,
                         const fe_season *seasons, size_t count, const fe_wanted *wanted,
                         fe_chain *chain)
{
    if (relays > FE_CHAIN_MOST_RELAYS)
        return FE_E_DOMAIN;
    const size_t hops = relays + 1;
    const double length_m = fe_profile_length(direct->ground);
    fe_wanted share = *wanted;
    share.airtime = wanted->airtime / (double)hops;

    fe_chain found = {.relays = relays,
                      .hop_m = length_m / (double)hops,
                      .chance = 1.0,
                      .carries_rate = true,
                      .delay_s = (double)hops * FE_CHAIN_HOP_DELAY_S};
    fe_stand *stands = calloc(direct->stand_count + 1, sizeof *stands);
    if (!stands)
        return FE_E_MEMORY;
    double seconds_per_bit = 0.0;
    fe_status status = FE_OK;
    for (size_t i = 0; i < hops && status >= 0; i++) {
        const double from_m = found.hop_m * (double)i;
        const double to_m = i + 1 == hops ? length_m : from_m + found.hop_m;
        fe_profile part = {0};
        status = fe_status_worse(status, fe_profile_cut(direct->ground, from_m, to_m, &part));
        if (status < 0)
            break;
        fe_hop hop = *direct;
        hop.ground = &part;
        hop.stands = stands;
        hop.stand_count = cut_stands(direct, from_m, to_m, stands);
        if (i > 0)
            hop.ends[0] = *relay;
        if (i + 1 < hops)
            hop.ends[1] = *relay;
        status = fe_status_worse(
            status, compute_hop(&hop, seasons, count, &share, i, &found, &seconds_per_bit));
        fe_profile_free(&part);
    }
    free(stands);
    if (status < 0)
        return status;
    found.delivered_rate_bps = wanted->airtime / seconds_per_bit;
    *chain = found;
    return status;
}
