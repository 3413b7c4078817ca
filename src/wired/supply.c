/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/supply.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#include "base/argument.h"
#include "farend/ampacity.h"
#include "farend/number.h"

static const double PVC_C = 70.0;
/* The column of NFPA 70 that small terminals allow. */
static const double GAUGE_C = 75.0;
/* IEC 60364-5-52 annex G, where nothing better is known. */
static const double X_OHM_PER_M = 0.08e-3;
/* Warm conductors under fault: 1.2 for PVC at 70 degC (BS 7671). */
static const double FAULT_WARMTH = 1.2;
static const double FAULT_TABLE_V = 230.0;
/* Longest that an instantaneous trip may take. */
static const double TRIP_S = 0.1;
static const double COPPER_K = 115.0;
static const double ALUMINIUM_K = 76.0;
/* Nobody lays thinner wire outdoors (common practice, no source). */
static const double THINNEST_M2 = 1.5e-6;
static const double SAME = 0.999;
/* NFPA 70:2023 225.6(A): to 15 m AWG 10 copper, 8 aluminium; beyond it 8 and 6. */
static const double SHORT_SPAN_M = 15.0;
static const double YEAR_DAYS = 365.25;
static const double HOUR_S = 3600.0;

static const char *const DEMAND_NAMES[FE_DEMANDS] = {
    [FE_DEMAND_DROP] = "voltage drop",
    [FE_DEMAND_LOAD] = "least voltage of a load",
    [FE_DEMAND_START] = "voltage while starting",
    [FE_DEMAND_AMPACITY] = "ampacity",
    [FE_DEMAND_FAULT] = "fault loop",
    [FE_DEMAND_WITHSTAND] = "short-circuit heat",
    [FE_DEMAND_MECHANICS] = "mechanical strength",
    [FE_DEMAND_STABILITY] = "stability",
    [FE_DEMAND_BEYOND] = "what is fed on from there",
};

const char *fe_supply_demand_name(fe_supply_demand demand)
{
    return DEMAND_NAMES[demand];
}

bool fe_supply_device_named(const char *text, fe_supply_device *device)
{
    static const char types[] = "BCD";
    const char *end = text;
    fe_supply_device found = {0};
    const char *type = text[0] ? strchr(types, toupper((unsigned char)text[0])) : NULL;
    if (type)
        found = (fe_supply_device){true, (fe_breaker_type)(type - types), 0.0};
    if (!fe_number_scan(text + (type ? 1 : 0), &found.rating_a, &end) ||
        !is_positive(found.rating_a))
        return false;
    static const char *const endings[] = {"", "A", " A", "A fuse", " A fuse"};
    for (size_t i = 0; i < sizeof endings / sizeof endings[0]; i++)
        if (strcmp(end, endings[i]) == 0 && !(found.is_breaker && strstr(end, "fuse"))) {
            *device = found;
            return true;
        }
    return false;
}

static bool is_load(const fe_supply_case *given, size_t i)
{
    const fe_supply_load *load = &given->loads[i];
    return is_positive(load->at_m) && load->at_m <= given->length_m * (1.0 + 1e-12) &&
           (i == 0 || load->at_m >= given->loads[i - 1].at_m) && is_at_least_zero(load->load) &&
           (!given->ac || is_fraction(load->power_factor)) && load->start_factor >= 1.0 &&
           isfinite(load->start_factor) && load->hours_per_day >= 0.0 &&
           load->hours_per_day <= 24.0 && is_at_least_zero(load->least_v);
}

static bool is_case(const fe_supply_case *given)
{
    if (!is_positive(given->length_m) || !is_positive(given->source_v) ||
        !(given->allowed_drop > 0.0) || !(given->allowed_drop < 1.0) ||
        !isfinite(given->air_c) || !is_at_least_zero(given->open_span_m) ||
        given->load_count == 0 || given->load_count > FE_SUPPLY_MOST_LOADS)
        return false;
    if (given->has_device &&
        (!is_positive(given->device.rating_a) || !is_at_least_zero(given->loop_ohm)))
        return false;
    for (size_t i = 0; i < given->load_count; i++)
        if (!is_load(given, i))
            return false;
    return true;
}

/* ---- Loads as the feed takes them ---- */

static fe_feed_load running(const fe_supply_case *given, size_t i)
{
    const fe_supply_load *load = &given->loads[i];
    return (fe_feed_load){load->at_m, load->kind, load->load,
                          given->ac ? load->power_factor : 1.0, FE_ANGLE_OWN};
}

static double running_a(const fe_supply_case *given, size_t i)
{
    const fe_feed_load load = running(given, i);
    return load.kind == FE_LOAD_CURRENT ? load.load
                                        : load.load / (given->source_v * load.power_factor);
}

/* The load whose start adds the most current; a starting motor draws a current, not a power. */
static void start_heaviest(const fe_supply_case *given, fe_feed_load *loads)
{
    size_t heaviest = 0;
    double most_a = 0.0;
    for (size_t i = 0; i < given->load_count; i++) {
        const double added_a = (given->loads[i].start_factor - 1.0) * running_a(given, i);
        if (added_a > most_a) {
            most_a = added_a;
            heaviest = i;
        }
    }
    if (most_a > 0.0) {
        loads[heaviest].load = given->loads[heaviest].start_factor * running_a(given, heaviest);
        loads[heaviest].kind = FE_LOAD_CURRENT;
    }
}

/* ---- One size ---- */

static fe_status find_ampacity(const fe_supply_case *given, const fe_conductor *conductor,
                               double *ampacity_a)
{
    static const double LARGEST_TABLED_M2 = 95e-6;
    const fe_ampacity_case where = {given->air_c, 75.0, 75.0, FE_METHOD_CONDUIT_ON_WALL};
    fe_conductor tabled = *conductor;
    const fe_wire_size *size = fe_wire_size_find(tabled.area_m2);
    if (!size)
        return FE_E_DOMAIN;
    if (size->series == FE_SIZES_METRIC)
        tabled.area_m2 = fmin(tabled.area_m2, LARGEST_TABLED_M2);
    return fe_ampacity_of(&tabled, &where, ampacity_a);
}

static fe_feed_line line_of(const fe_supply_case *given, const fe_supply_size *size)
{
    const fe_wire_size *known = fe_wire_size_find(size->conductor.area_m2);
    const double full_c = known && known->series == FE_SIZES_AWG ? GAUGE_C : PVC_C;
    return (fe_feed_line){.source_v = given->source_v,
                          .conductor = size->conductor,
                          .x_ohm_per_m = given->ac ? X_OHM_PER_M : 0.0,
                          .air_c = given->air_c,
                          .ampacity_a = size->ampacity_a,
                          .ampacity_air_c = given->air_c,
                          .conductor_max_c = fmax(full_c, given->air_c + 1.0)};
}

static double lowest_of(const fe_feed_point *points, size_t count)
{
    double lowest = INFINITY;
    for (size_t i = 0; i < count; i++)
        lowest = fmin(lowest, points[i].voltage_v);
    return lowest;
}

/* Greatest multiple of the loads at the warmth of the air: what could be sent at most. */
static fe_status find_deliverable(const fe_supply_case *given, fe_supply_size *size)
{
    fe_feed_section sections[FE_SUPPLY_MOST_LOADS];
    double ohm_per_m = 0.0, from_m = 0.0, load_w = 0.0;
    const double warm_c = isnan(size->conductor_c) ? given->air_c : size->conductor_c;
    bool all_powers = true;
    fe_status status = fe_conductor_resistance(&size->conductor, warm_c, &ohm_per_m);
    if (status < 0)
        return status;
    for (size_t i = 0; i < given->load_count; i++) {
        const fe_feed_load load = running(given, i);
        const double loop_m = 2.0 * (load.at_m - from_m);
        sections[i] =
            (fe_feed_section){ohm_per_m * loop_m, given->ac ? X_OHM_PER_M * loop_m : 0.0,
                              load.kind,          load.load,
                              load.power_factor,  load.reference};
        from_m = load.at_m;
        all_powers = all_powers && load.kind == FE_LOAD_POWER;
        load_w += load.load;
    }
    const fe_status found = fe_feed_greatest_share(given->source_v, sections, given->load_count,
                                                   &size->deliverable);
    if (found == FE_E_NO_SOLUTION)
        size->deliverable = INFINITY;
    else if (found < 0)
        return found;
    size->greatest_w = all_powers ? size->deliverable * load_w : NAN;
    return FE_OK;
}

/* A year's loss: loads that run longest run alone; hours overlap as far as they can. */
static fe_status find_yearly_loss(const fe_supply_case *given, const fe_feed_line *line,
                                  fe_supply_size *size)
{
    double from_h = 0.0, day_j = 0.0;
    for (;;) {
        fe_feed_load active[FE_SUPPLY_MOST_LOADS];
        size_t count = 0;
        double to_h = INFINITY;
        for (size_t i = 0; i < given->load_count; i++) {
            if (!(given->loads[i].hours_per_day > from_h))
                continue;
            active[count++] = running(given, i);
            to_h = fmin(to_h, given->loads[i].hours_per_day);
        }
        if (count == 0)
            break;
        fe_feed_result solved;
        const fe_status status = fe_feed_line_solve(line, active, count, NULL, &solved);
        if (status < 0)
            return status;
        day_j += solved.source.loss_w * (to_h - from_h) * HOUR_S;
        from_h = to_h;
    }
    size->loss_j_per_year = day_j * YEAR_DAYS;
    return FE_OK;
}

static fe_status solve_start(const fe_supply_case *given, const fe_feed_line *line,
                             fe_supply_size *size)
{
    fe_feed_load loads[FE_SUPPLY_MOST_LOADS];
    fe_feed_point points[FE_SUPPLY_MOST_LOADS];
    fe_feed_result solved;
    for (size_t i = 0; i < given->load_count; i++)
        loads[i] = running(given, i);
    start_heaviest(given, loads);
    /* A start is over before the conductor warms: at the running warmth. */
    fe_feed_line brief = *line;
    brief.air_c = size->conductor_c;
    brief.ampacity_a = INFINITY;
    const fe_status status =
        fe_feed_line_solve(&brief, loads, given->load_count, points, &solved);
    if (status == FE_E_NO_SOLUTION)
        return FE_OK; /* start_v stays NAN: it stalls */
    if (status < 0)
        return status;
    size->start_v = lowest_of(points, given->load_count);
    for (size_t i = 0; i < given->load_count; i++)
        size->starting_v[i] = points[i].voltage_v;
    return FE_OK;
}

static fe_status solve_size(const fe_supply_case *given, fe_supply_size *size)
{
    fe_feed_line line = line_of(given, size);
    fe_feed_load loads[FE_SUPPLY_MOST_LOADS];
    fe_feed_result solved;
    for (size_t i = 0; i < given->load_count; i++)
        loads[i] = running(given, i);
    fe_status status =
        fe_feed_line_solve(&line, loads, given->load_count, size->points, &solved);
    if (status == FE_E_DOMAIN || status == FE_E_CONVERGE) {
        /* Far beyond its ampacity a wire burns before it settles: what it would do cold. */
        line.ampacity_a = INFINITY;
        status = fe_feed_line_solve(&line, loads, given->load_count, size->points, &solved);
    }
    size->delivered = status >= 0;
    if (status == FE_E_NO_SOLUTION)
        return FE_OK;
    if (status < 0)
        return status;
    size->conductor_c = solved.conductor_c;
    size->far_v = solved.far_v;
    size->worst_v = lowest_of(size->points, given->load_count);
    size->drop = 1.0 - size->worst_v / given->source_v;
    size->current_a = solved.source.current_a;
    size->load_w = solved.source.load_w;
    size->loss_w = solved.source.loss_w;
    status = find_yearly_loss(given, &line, size);
    return status < 0 ? status : solve_start(given, &line, size);
}

static fe_status find_fault(const fe_supply_case *given, fe_supply_size *size)
{
    if (!given->ac || !given->has_device || !given->device.is_breaker)
        return FE_OK;
    double ohm_per_m = 0.0, zs_ohm = 0.0, limit_ohm = 0.0;
    double cold_ohm = 0.0, cold_limit_ohm = 0.0;
    fe_status status = fe_conductor_resistance(&size->conductor, 20.0, &ohm_per_m);
    if (status >= 0)
        status = fe_fault_loop_zs(given->loop_ohm, 2.0 * ohm_per_m, given->length_m,
                                  FAULT_WARMTH, &zs_ohm);
    if (status >= 0)
        status =
            fe_fault_loop_zs(given->loop_ohm, 2.0 * ohm_per_m, given->length_m, 1.0, &cold_ohm);
    if (status >= 0)
        status = fe_fault_loop_max_zs(given->device.trip, given->device.rating_a, &limit_ohm);
    limit_ohm *= given->source_v / FAULT_TABLE_V;
    if (status >= 0)
        status = fe_fault_loop_cold_limit(limit_ohm, &cold_limit_ohm);
    if (status < 0)
        return status;
    size->fault_ohm = zs_ohm;
    size->fault_limit_ohm = limit_ohm;
    size->fault_cold_ohm = cold_ohm;
    size->fault_cold_limit_ohm = cold_limit_ohm;
    return FE_OK;
}

/* A fault right behind the device, for as long as it may take to trip at once. */
static bool withstands(const fe_supply_case *given, const fe_conductor *conductor)
{
    double least_m2 = 0.0;
    const double k = conductor->material == FE_CONDUCTOR_COPPER ? COPPER_K : ALUMINIUM_K;
    if (!given->ac || !given->has_device || !given->device.is_breaker ||
        !(given->loop_ohm > 0.0))
        return true;
    const fe_status status =
        fe_fault_loop_least_area(given->source_v / given->loop_ohm, TRIP_S, k, &least_m2);
    return status >= 0 && conductor->area_m2 >= SAME * least_m2;
}

static bool is_strong(const fe_supply_case *given, const fe_conductor *conductor)
{
    fe_awg least;
    if (given->open_span_m > 0.0) {
        int gauge = given->open_span_m > SHORT_SPAN_M ? 8 : 10;
        if (conductor->material == FE_CONDUCTOR_ALUMINIUM)
            gauge -= 2;
        if (fe_awg_geometry(gauge, &least) != FE_OK)
            return false;
        return conductor->area_m2 >= SAME * least.area_m2;
    }
    return conductor->area_m2 >= SAME * THINNEST_M2;
}

static void find_verdict(const fe_supply_case *given, fe_supply_size *size)
{
    size->limit = FE_DEMANDS;
    size->verdict = FE_VERDICT_HOLDS;
    if (fe_verdict_of_use(size->drop, given->allowed_drop) != FE_VERDICT_HOLDS)
        size->limit = FE_DEMAND_DROP;
    else if (size->fault_cold_ohm > size->fault_cold_limit_ohm)
        size->limit = FE_DEMAND_FAULT;
    if (size->limit != FE_DEMANDS)
        size->verdict = FE_VERDICT_TIGHT;
    for (int i = FE_DEMANDS - 1; i >= 0; i--)
        if (!size->meets[i]) {
            size->limit = (fe_supply_demand)i;
            size->verdict = FE_VERDICT_FAILS;
        }
    if (!size->sold)
        size->verdict = FE_VERDICT_FAILS;
}

static void judge(const fe_supply_case *given, fe_supply_size *size)
{
    const bool on = size->delivered;
    bool enough = true;
    for (size_t i = 0; on && i < given->load_count; i++)
        enough = enough && size->points[i].voltage_v >= given->loads[i].least_v;
    const bool starts = size->start_v >= (1.0 - FE_SUPPLY_START_DROP) * given->source_v;
    size->meets[FE_DEMAND_DROP] = on && size->drop <= given->allowed_drop;
    size->meets[FE_DEMAND_LOAD] = on && enough;
    size->meets[FE_DEMAND_START] = on && starts;
    size->meets[FE_DEMAND_AMPACITY] =
        on && size->current_a <= size->ampacity_a &&
        (!given->has_device || given->device.rating_a <= size->ampacity_a);
    size->meets[FE_DEMAND_FAULT] =
        isnan(size->fault_ohm) || size->fault_ohm <= size->fault_limit_ohm;
    size->meets[FE_DEMAND_WITHSTAND] = withstands(given, &size->conductor);
    size->meets[FE_DEMAND_MECHANICS] = is_strong(given, &size->conductor);
    size->meets[FE_DEMAND_BEYOND] =
        size->conductor.area_m2 >= SAME * given->least_m2[size->conductor.material];
    size->meets[FE_DEMAND_STABILITY] = on && size->deliverable * FE_SUPPLY_STABLE_SHARE >= 1.0;
    find_verdict(given, size);
}

fe_status fe_supply_try(const fe_supply_case *given, const fe_conductor *conductor,
                        fe_supply_size *size)
{
    if (!is_case(given) || !is_positive(conductor->area_m2))
        return FE_E_DOMAIN;
    fe_supply_size tried = {.conductor = *conductor,
                            .name = "",
                            .worst_v = NAN,
                            .far_v = NAN,
                            .drop = NAN,
                            .start_v = NAN,
                            .current_a = NAN,
                            .conductor_c = NAN,
                            .load_w = NAN,
                            .loss_w = NAN,
                            .loss_j_per_year = NAN,
                            .fault_ohm = NAN,
                            .fault_limit_ohm = NAN,
                            .fault_cold_ohm = NAN,
                            .fault_cold_limit_ohm = NAN};
    double ohm_per_m = 0.0;
    const fe_wire_size *known = fe_wire_size_find(conductor->area_m2);
    if (known)
        tried.name = known->name;
    const fe_status tabled = fe_conductor_resistance(conductor, 20.0, &ohm_per_m);
    const fe_status rated = find_ampacity(given, conductor, &tried.ampacity_a);
    if (tabled < 0)
        return tabled;
    if (rated == FE_E_NO_SOLUTION)
        return FE_E_DOMAIN; /* air too hot for any current */
    tried.sold = tabled == FE_OK && rated >= 0;
    if (rated < 0)
        tried.ampacity_a = INFINITY; /* no table: solved at the air's warmth, never chosen */
    fe_status status = solve_size(given, &tried);
    if (status >= 0)
        status = find_deliverable(given, &tried);
    if (status >= 0)
        status = find_fault(given, &tried);
    if (status < 0)
        return status;
    if (rated < 0)
        tried.ampacity_a = NAN;
    judge(given, &tried);
    *size = tried;
    return fe_status_worse(tabled, rated < 0 ? FE_W_RANGE : rated);
}

/* ---- A series ---- */

/* Smallest index from which on the demand is met by every larger size that is sold. */
static int asked_by(const fe_supply_choice *choice, fe_supply_demand demand)
{
    int asked = -1;
    for (int i = (int)choice->count - 1; i >= 0; i--) {
        if (!choice->sizes[i].sold)
            continue;
        if (!choice->sizes[i].meets[demand])
            break;
        asked = i;
    }
    return asked;
}

static void find_limit(fe_supply_choice *choice)
{
    int most = -1;
    choice->limited_by = FE_DEMAND_DROP;
    for (int demand = 0; demand < FE_DEMANDS; demand++) {
        choice->asked[demand] = asked_by(choice, (fe_supply_demand)demand);
        const int index =
            choice->asked[demand] < 0 ? (int)choice->count : choice->asked[demand];
        if (index > most) {
            most = index;
            choice->limited_by = (fe_supply_demand)demand;
        }
    }
}

fe_status fe_supply_choose(const fe_supply_case *given, fe_size_series series,
                           fe_conductor_material material, fe_supply_choice *choice)
{
    if (!is_case(given))
        return FE_E_DOMAIN;
    fe_supply_choice found = {.smallest = -1};
    for (size_t i = 0; found.count < FE_SUPPLY_MOST_SIZES; i++) {
        const fe_wire_size *size = fe_wire_size_at(series, i);
        if (!size)
            break;
        const fe_conductor conductor = {size->area_m2, material, FE_CLASS_STRANDED};
        fe_supply_size *slot = &found.sizes[found.count];
        const fe_status status = fe_supply_try(given, &conductor, slot);
        if (status < 0)
            return status;
        if (!slot->sold)
            continue;
        if (slot->verdict != FE_VERDICT_FAILS && found.smallest < 0)
            found.smallest = (int)found.count;
        found.count++;
        /* Every demand is easier on a larger conductor: two beyond the answer show enough. */
        if (found.smallest >= 0 && found.count > (size_t)found.smallest + 2)
            break;
    }
    find_limit(&found);
    *choice = found;
    return FE_OK;
}

double fe_supply_voltage_at(const fe_supply_case *given, const fe_supply_size *size,
                            double at_m)
{
    double from_m = 0.0, from_v = given->source_v;
    if (!size->delivered)
        return NAN;
    for (size_t i = 0; i < given->load_count; i++) {
        const double to_m = given->loads[i].at_m;
        const double to_v = size->points[i].voltage_v;
        if (at_m <= to_m && to_m > from_m)
            return from_v + (to_v - from_v) * (at_m - from_m) / (to_m - from_m);
        from_m = to_m;
        from_v = to_v;
    }
    return from_v;
}

/* ---- A source voltage ---- */

fe_status fe_supply_add(fe_supply_entry *entry, const fe_supply_load *load,
                        const fe_supply_origin *origin)
{
    size_t at = entry->given.load_count;
    if (at == FE_SUPPLY_MOST_LOADS)
        return FE_E_INPUT;
    for (; at > 0 && entry->loads[at - 1].at_m > load->at_m; at--) {
        entry->loads[at] = entry->loads[at - 1];
        entry->origins[at] = entry->origins[at - 1];
    }
    entry->loads[at] = *load;
    entry->origins[at] = *origin;
    entry->given.load_count++;
    return FE_OK;
}

fe_status fe_supply_solve(fe_supply_entry *entry)
{
    fe_status status = FE_OK;
    entry->given.loads = entry->loads;
    for (int metal = 0; metal < 2 && status >= 0; metal++)
        for (int series = 0; series < 2 && status >= 0; series++) {
            if (entry->metals[metal])
                status = fe_supply_choose(&entry->given, (fe_size_series)series,
                                          (fe_conductor_material)metal,
                                          &entry->choices[metal][series]);
        }
    entry->main_metal =
        entry->metals[FE_CONDUCTOR_COPPER] ? FE_CONDUCTOR_COPPER : FE_CONDUCTOR_ALUMINIUM;
    if (status >= 0 && entry->owned_m2 > 0.0) {
        const fe_conductor owned = {entry->owned_m2, entry->main_metal, FE_CLASS_STRANDED};
        status = fe_supply_try(&entry->given, &owned, &entry->owned);
    }
    return status < 0 ? status : FE_OK;
}

const fe_supply_size *fe_supply_smallest(const fe_supply_entry *entry,
                                         fe_conductor_material metal, fe_size_series series)
{
    const fe_supply_choice *choice = &entry->choices[metal][series];
    return entry->metals[metal] && choice->smallest >= 0 ? &choice->sizes[choice->smallest]
                                                         : NULL;
}

const fe_supply_size *fe_supply_shown(const fe_supply_entry *entry)
{
    return entry->owned_m2 > 0.0
               ? &entry->owned
               : fe_supply_smallest(entry, entry->main_metal, FE_SIZES_METRIC);
}

fe_verdict fe_supply_judge(const fe_supply_entry *entry)
{
    const fe_supply_size *size = fe_supply_shown(entry);
    return size ? size->verdict : FE_VERDICT_FAILS;
}
