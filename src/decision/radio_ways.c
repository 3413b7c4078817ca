/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Radio links of a plan: which gear at which end, in which band, and how many relays. */
#include "decision/decide.h"

#include <math.h>
#include <stdlib.h>

#include "farend/radio_hop.h"
#include "farend/radio_link.h"

static fe_status add_radio(const fe_radio_result *radio, fe_result *result)
{
    fe_radio_result *grown =
        realloc(result->radio, (result->radio_count + 1) * sizeof *result->radio);
    if (!grown)
        return FE_E_MEMORY;
    result->radio = grown;
    result->radio[result->radio_count++] = *radio;
    return FE_OK;
}

/* ---- Relays ---- */

static const fe_gear *able_relay(const fe_plan *plan, const char *name, fe_band band)
{
    const fe_gear *gear = name ? fe_plan_gear(plan, name) : NULL;
    return gear && gear->relays && fe_gear_radio(gear, band) ? gear : NULL;
}

/* The plan's class first, then gear already owned, then the plainest class of the catalogue. */
static const fe_gear *relay_gear(const fe_plan *plan, fe_band band)
{
    const fe_gear *gear = able_relay(plan, plan->relay.gear, band);
    for (size_t i = 0; i < plan->owned_count && !gear; i++)
        gear = able_relay(plan, plan->owned[i].gear, band);
    const char *const names[] = {"indoor-extender", "outdoor-access-point", "sub-ghz-station"};
    for (size_t i = 0; i < sizeof names / sizeof names[0] && !gear; i++)
        gear = able_relay(plan, names[i], band);
    return gear;
}

static void judge_chains(fe_relay_result *relays, double confidence)
{
    relays->needed = -1;
    relays->best = 0;
    for (size_t i = 0; i < relays->chain_count; i++) {
        const fe_chain *chain = &relays->chains[i];
        if (chain->chance > relays->chains[relays->best].chance)
            relays->best = (int)i;
        if (relays->needed < 0 && chain->chance >= confidence)
            relays->needed = (int)i;
    }
    if (relays->needed >= 0)
        relays->best = relays->needed;
    /* The median chain is not the chain of median hops: with many, one is sure to be worse. */
    const fe_chain *best = &relays->chains[relays->best];
    const double margin_db = best->chance >= 0.5 ? best->margin_db : -INFINITY;
    relays->verdict = fe_radio_verdict(best->chance, margin_db, confidence);
}

static fe_status compute_chains(const fe_plan *plan, const fe_radio_result *direct,
                                const fe_hop *hop, fe_relay_result *relays)
{
    const fe_station relay = {
        .radio = fe_gear_radio(relays->relay_gear, direct->band),
        .antenna_built_in = relays->relay_gear->antenna_built_in,
        .height_m = relays->relay_height_m,
        .mount = FE_MOUNT_OUTDOORS,
        .noise = hop->ends[1].noise,
    };
    fe_status status = FE_OK;
    for (unsigned n = 0; n <= FE_CHAIN_MOST_RELAYS && status >= 0; n++) {
        status = fe_status_worse(status, fe_chain_equal(hop, &relay, n, plan->seasons,
                                                        plan->season_count, &direct->wanted,
                                                        &relays->chains[n]));
        relays->chain_count = n + 1;
        /* One more than needed shows what another would bring; beyond that none helps. */
        if (status >= 0 && n > 0 && relays->chains[n - 1].chance >= direct->wanted.confidence)
            break;
    }
    return status;
}

static fe_status compute_relays(const fe_plan *plan, const fe_radio_result *direct,
                                const fe_gear *gear, fe_relay_result *relays)
{
    fe_hop *hop = NULL;
    *relays = (fe_relay_result){.path = direct->path,
                                .band = direct->band,
                                .end_gear = {direct->gear[0], direct->gear[1]},
                                .relay_gear = gear,
                                .relay_height_m = plan->relay.height_m.typical};
    fe_status status = fe_radio_hop(plan, direct->path, direct->gear, direct->band, &hop);
    if (status >= 0)
        status = fe_status_worse(status, compute_chains(plan, direct, hop, relays));
    if (status >= 0)
        judge_chains(relays, direct->wanted.confidence);
    free(hop);
    return status;
}

static fe_status add_relays(const fe_plan *plan, const fe_radio_result *direct,
                            fe_result *result)
{
    const fe_gear *gear = relay_gear(plan, direct->band);
    if (!gear)
        return FE_OK;
    fe_relay_result *grown =
        realloc(result->relays, (result->relay_count + 1) * sizeof *result->relays);
    if (!grown)
        return FE_E_MEMORY;
    result->relays = grown;
    const fe_status status =
        compute_relays(plan, direct, gear, &result->relays[result->relay_count]);
    if (status == FE_E_NO_SOLUTION)
        return FE_OK; /* ends and relay do not speak the same standard */
    if (status >= 0)
        result->relay_count++;
    return status;
}

/* ---- All of it ---- */

static fe_status decide_band(const fe_plan *plan, size_t path, fe_band band, fe_result *result)
{
    fe_status status = FE_OK;
    for (int directional = 0; directional < 2 && status >= 0; directional++) {
        fe_radio_result best;
        const fe_status found = fe_radio_best_link(plan, path, band, directional == 1, &best);
        if (found == FE_E_NO_SOLUTION)
            continue;
        status = fe_status_worse(status, found);
        if (status < 0)
            break;
        if (directional == 0)
            status = fe_status_worse(status, add_relays(plan, &best, result));
        const fe_status added = status >= 0 ? add_radio(&best, result) : status;
        if (added < 0)
            fe_hop_budget_free(&best.budget);
        status = fe_status_worse(status, added);
    }
    return status;
}

fe_status decide_radio(const fe_plan *plan, fe_result *result)
{
    fe_status status = FE_OK;
    for (size_t path = 0; path < plan->path_count; path++)
        for (int band = 0; band < FE_BANDS && status >= 0; band++)
            if (plan->site.bands[band])
                status =
                    fe_status_worse(status, decide_band(plan, path, (fe_band)band, result));
    return status;
}
