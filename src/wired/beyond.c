/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/beyond.h"

#include <math.h>

#include "base/argument.h"
#include "farend/converter.h"
#include "farend/ethernet.h"
#include "farend/fibre.h"
#include "farend/poe.h"

/* Common practice, no source: the header's. */
static const double CONVERTER_W = 3.0;
static const double EXTENDER_W = 5.0;
static const double MIDPOINT_W = 5.0;

static const struct {
    double length_m;
    double rate_bit_s;
} EXTENDERS[] = {
    /* m, bit/s */
    {300.0, 100e6},
    {600.0, 50e6},
    {1000.0, 10e6},
};

static const char LENGTH[] = "length";
static const char RATE[] = "rate";

const char *fe_beyond_name(fe_beyond_kind kind)
{
    static const char *const NAMES[FE_BEYOND_KINDS] = {
        [FE_BEYOND_SINGLE_PAIR] = "single pair, long reach",
        [FE_BEYOND_MIDPOINT] = "powered midpoint",
        [FE_BEYOND_EXTENDERS] = "pair of line extenders",
        [FE_BEYOND_FIBRE] = "single-mode fibre",
    };
    return NAMES[kind];
}

/* Length first; a rate that is too low fails whatever the length. */
static void judge(const fe_beyond_case *given, double length_m, fe_beyond_way *way)
{
    way->limit = LENGTH;
    way->verdict = fe_verdict_of_use(length_m, way->reach_m);
    if (way->verdict != FE_VERDICT_FAILS && way->rate_bit_s < given->rate_bit_s) {
        way->limit = RATE;
        way->verdict = FE_VERDICT_FAILS;
    }
}

static fe_status try_single_pair(const fe_beyond_case *given, fe_beyond_way *way)
{
    const fe_ethernet_reach *reach =
        fe_ethernet_reach_for("10BASE-T1L", FE_CATEGORY_SINGLE_PAIR, false);
    if (!reach)
        return FE_E_DOMAIN;
    way->house_w = way->far_w = CONVERTER_W;
    way->reach_m = reach->channel_limit_m;
    way->rate_bit_s = given->length_m <= way->reach_m ? reach->rate_bit_s : 0.0;
    judge(given, given->length_m, way);
    return FE_OK;
}

static fe_status try_extenders(const fe_beyond_case *given, fe_beyond_way *way)
{
    enum { STEPS = sizeof EXTENDERS / sizeof EXTENDERS[0] };
    way->house_w = way->far_w = EXTENDER_W;
    way->reach_m = EXTENDERS[STEPS - 1].length_m;
    for (size_t i = STEPS; i-- > 0;)
        if (given->length_m <= EXTENDERS[i].length_m) {
            way->reach_m = EXTENDERS[i].length_m;
            way->rate_bit_s = EXTENDERS[i].rate_bit_s;
        }
    judge(given, given->length_m, way);
    return FE_OK;
}

static fe_status try_fibre(const fe_beyond_case *given, fe_beyond_way *way)
{
    /* A plug and a splice at each end. */
    enum { PLUGS = 2, SPLICES = 2 };
    const fe_fibre_reach *reach = fe_fibre_reach_for(
        given->rate_bit_s > 1e9 ? "10GBASE-LR" : "1000BASE-LX", FE_FIBRE_OS2);
    fe_fibre_link link;
    if (!reach)
        return FE_E_DOMAIN;
    const fe_status status =
        fe_fibre_link_try(reach, FE_FIBRE_OS2, given->length_m, PLUGS, SPLICES, &link);
    if (status < 0)
        return status;
    way->house_w = way->far_w = CONVERTER_W;
    way->reach_m = reach->reach_m;
    way->rate_bit_s = link.used <= 1.0 ? reach->rate_bit_s : 0.0;
    judge(given, given->length_m, way);
    way->verdict = fe_verdict_worse(way->verdict, fe_verdict_of_use(link.used, 1.0));
    return FE_OK;
}

/* ---- Midpoints ---- */

/* What the port of a section gives for a device at its end; FE_E_NO_SOLUTION: none can. */
static fe_status feed_section(const fe_beyond_case *given, double section_m, double device_w,
                              double *source_w, int *port_class)
{
    const fe_poe_class *class = fe_poe_class_for(device_w);
    double loop_ohm = 0.0;
    fe_poe_feed feed;
    if (!class)
        return FE_E_NO_SOLUTION;
    fe_status status =
        fe_poe_loop(given->wire_ohm_per_m, section_m, class->pairs == 4 ? 2 : 1, &loop_ohm);
    if (status >= 0)
        status = fe_poe_deliver(class->least_source_v, device_w, loop_ohm, &feed);
    if (status < 0)
        return status;
    if (feed.source_w > class->source_w ||
        feed.device_v < fe_poe_type_find(class->lowest_type)->least_device_v)
        return FE_E_NO_SOLUTION;
    *source_w = feed.source_w;
    *port_class = class->device_class;
    return status;
}

/* From the far end back to the house. */
static fe_status feed_chain(const fe_beyond_case *given, double need_w, fe_beyond_way *way)
{
    double device_w = need_w, source_w = 0.0, efficiency = 1.0;
    int port_class = -1;
    fe_status status = FE_OK;
    for (unsigned section = way->midpoints + 1; section > 0 && status >= 0; section--) {
        source_w = 0.0;
        if (device_w > 0.0)
            status = feed_section(given, way->section_m, device_w, &source_w, &port_class);
        if (status < 0 || section == 1)
            break;
        if (source_w > 0.0)
            status = fe_converter_efficiency(source_w, &efficiency);
        device_w = MIDPOINT_W + source_w / efficiency;
    }
    if (status < 0)
        return status;
    way->house_w = source_w;
    way->port_class = port_class;
    way->passed_w = need_w;
    return status;
}

static fe_status try_midpoints(const fe_beyond_case *given, fe_beyond_way *way)
{
    way->rate_bit_s = given->port_bit_s;
    way->reach_m = given->section_limit_m;
    way->limit = "category of the cable";
    if (!(given->section_limit_m > 0.0) || !(given->port_bit_s > 0.0))
        return FE_OK;
    const double sections = fmax(ceil(given->length_m / given->section_limit_m), 2.0);
    way->limit = "number of devices on the way";
    if (sections > FE_BEYOND_MOST_MIDPOINTS + 1) {
        way->rate_bit_s = 0.0;
        return FE_OK;
    }
    way->midpoints = (unsigned)sections - 1;
    way->section_m = given->length_m / sections;
    way->midpoint_w = MIDPOINT_W;
    judge(given, way->section_m, way);
    fe_status status = feed_chain(given, given->need_w, way);
    if (status == FE_E_NO_SOLUTION)
        status = feed_chain(given, 0.0, way);
    if (status == FE_E_NO_SOLUTION) {
        way->verdict = FE_VERDICT_FAILS;
        way->limit = "power of the midpoint";
        return FE_OK;
    }
    return status;
}

fe_status fe_beyond_solve(const fe_beyond_case *given, fe_beyond_way *ways)
{
    static fe_status (*const TRIES[FE_BEYOND_KINDS])(const fe_beyond_case *,
                                                     fe_beyond_way *) = {
        [FE_BEYOND_SINGLE_PAIR] = try_single_pair,
        [FE_BEYOND_MIDPOINT] = try_midpoints,
        [FE_BEYOND_EXTENDERS] = try_extenders,
        [FE_BEYOND_FIBRE] = try_fibre,
    };
    fe_beyond_way found[FE_BEYOND_KINDS];
    if (!is_positive(given->length_m) || !is_positive(given->rate_bit_s) ||
        !is_at_least_zero(given->port_bit_s) || !is_at_least_zero(given->section_limit_m) ||
        !is_positive(given->wire_ohm_per_m) || !is_at_least_zero(given->need_w))
        return FE_E_DOMAIN;
    for (int kind = 0; kind < FE_BEYOND_KINDS; kind++) {
        found[kind] = (fe_beyond_way){
            .verdict = FE_VERDICT_FAILS, .section_m = given->length_m, .port_class = -1};
        const fe_status status = TRIES[kind](given, &found[kind]);
        if (status < 0)
            return status;
    }
    for (int kind = 0; kind < FE_BEYOND_KINDS; kind++)
        ways[kind] = found[kind];
    return FE_OK;
}
