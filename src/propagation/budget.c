/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/budget.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/constants.h"
#include "farend/fading.h"
#include "farend/rain.h"
#include "farend/receiver.h"
#include "propagation/hop_parts.h"

/*
 * What stays the same through the seasons of one hop.
 */
typedef struct hop_facts {
    const fe_hop *hop;
    const fe_wanted *wanted;
    fe_wifi_standard standard;
    double width_hz;
    unsigned streams; /* most that both radios and the place allow */
    fe_power_limit limit[2];
    double duty_cycle;
} hop_facts;

/* A mode of the link with its number of streams. */
typedef struct link_mode {
    fe_wifi_mode mode;
    unsigned streams;
    double rank; /* 0 the slowest of its streams, 1 the fastest: how far power has fallen */
} link_mode;

enum { MOST_STREAMS = 4, MOST_MODES = MOST_STREAMS * FE_WIFI_MODES_MAX };

typedef struct mode_list {
    link_mode items[MOST_MODES];
    size_t count;
} mode_list;

/* ---- What both ends have in common ---- */

/* The newer of two standards talks the older one's language. */
static fe_status common_standard(const fe_hop *hop, fe_wifi_standard *standard)
{
    fe_wifi_standard both[2];
    for (int end = 0; end < 2; end++)
        if (!fe_wifi_standard_find(hop->ends[end].radio->standard, &both[end]))
            return FE_E_DOMAIN;
    const bool apart = (both[0] == FE_WIFI_S1G || both[0] == FE_WIFI_DMG ||
                        both[1] == FE_WIFI_S1G || both[1] == FE_WIFI_DMG);
    if (both[0] != both[1] && apart)
        return FE_E_NO_SOLUTION;
    *standard = both[0] < both[1] ? both[0] : both[1];
    return FE_OK;
}

/*
 * In the open two streams need two polarisations; among walls and trees reflections keep them
 * apart. Common practice, no source.
 */
static unsigned streams_of(const fe_hop *hop)
{
    const fe_station *a = &hop->ends[0];
    const fe_station *b = &hop->ends[1];
    unsigned streams =
        a->radio->streams < b->radio->streams ? a->radio->streams : b->radio->streams;
    const bool indoors = a->mount == FE_MOUNT_INDOORS || b->mount == FE_MOUNT_INDOORS;
    const bool dual =
        a->radio->polarisation == FE_ANTENNA_DUAL && b->radio->polarisation == FE_ANTENNA_DUAL;
    if (!indoors && streams > (dual ? 2u : 1u))
        streams = dual ? 2 : 1;
    return streams > MOST_STREAMS ? MOST_STREAMS : streams;
}

static fe_status find_limit(const fe_hop *hop, int end, double width_hz, fe_power_limit *limit)
{
    const fe_station *station = &hop->ends[end];
    const fe_power_query query = {
        .area = fe_region_name(hop->region),
        .f_hz = hop->f_hz,
        .width_hz = width_hz,
        .antenna_gain_dbi = station->radio->gain_dbi,
        .feeder_loss_db = station->feeder_db,
        .outdoor = station->mount == FE_MOUNT_OUTDOORS,
        .point_to_point = fe_beam_is_narrow(hop->ends[0].radio->beam_rad) &&
                          fe_beam_is_narrow(hop->ends[1].radio->beam_rad),
        .access_point = end == 0,
    };
    return fe_power_limit_at(&query, limit);
}

static fe_status gather_facts(const fe_hop *hop, const fe_wanted *wanted, hop_facts *facts)
{
    *facts = (hop_facts){.hop = hop, .wanted = wanted, .duty_cycle = 1.0};
    fe_status status = common_standard(hop, &facts->standard);
    if (status < 0)
        return status;
    facts->width_hz = fmin(hop->ends[0].radio->width_hz, hop->ends[1].radio->width_hz);
    facts->streams = streams_of(hop);
    for (int end = 0; end < 2; end++) {
        const fe_status found = find_limit(hop, end, facts->width_hz, &facts->limit[end]);
        if (found < 0)
            return found;
        status = fe_status_worse(status, found);
        facts->duty_cycle = fmin(facts->duty_cycle, facts->limit[end].duty_cycle);
    }
    return status;
}

static fe_status list_modes(const hop_facts *facts, mode_list *list)
{
    list->count = 0;
    for (unsigned streams = 1; streams <= facts->streams; streams++) {
        const fe_wifi_link link = {facts->standard, facts->width_hz, (int)streams, NAN};
        fe_wifi_mode modes[FE_WIFI_MODES_MAX];
        size_t count = 0;
        if (fe_wifi_modes(&link, modes, &count) != FE_OK)
            continue; /* not every standard defines every number of streams */
        for (size_t i = 0; i < count; i++)
            list->items[list->count++] = (link_mode){
                modes[i], streams, count > 1 ? (double)i / (double)(count - 1) : 0.0};
    }
    return list->count > 0 ? FE_OK : FE_E_NO_SOLUTION;
}

/* All that does not change with the season. */
static fe_status prepare(const fe_hop *hop, const fe_wanted *wanted, hop_facts *facts,
                         mode_list *modes)
{
    const fe_status status = gather_facts(hop, wanted, facts);
    return status < 0 ? status : fe_status_worse(status, list_modes(facts, modes));
}

/* User's rate in one direction out of a rate on the air, this hop's share of time counted. */
static double user_rate(const hop_facts *facts, double phy_bps)
{
    const double efficiency = fe_receiver_efficiency(fe_wifi_standard_name(facts->standard));
    double rate_bps = phy_bps * efficiency * facts->wanted->airtime * facts->duty_cycle;
    for (int end = 0; end < 2; end++)
        if (facts->hop->ends[end].port_bps > 0.0)
            rate_bps = fmin(rate_bps, facts->hop->ends[end].port_bps);
    return rate_bps;
}

/* ---- One direction ---- */

static void add_line(fe_direction *way, const char *label, double change_db, const char *source)
{
    if (change_db == 0.0 || way->line_count == FE_BUDGET_MOST_LINES)
        return;
    way->lines[way->line_count++] = (fe_budget_line){label, change_db, source};
    way->level_dbm += change_db;
}

/*
 * An antenna that looks all round cannot be tilted at a station up the slope; one with a beam
 * is aimed. Parabolic lobe, no worse than 20 dB: from memory, ITU-R F.1336.
 */
double hop_slope_loss(const fe_station *station, double rise_m, double distance_m)
{
    const fe_radio *radio = station->radio;
    if (!fe_beam_is_all_round(radio->beam_rad) || station->mount == FE_MOUNT_INDOORS)
        return 0.0;
    const double slope_rad = asin(fmin(1.0, fabs(rise_m) / distance_m));
    const double share = slope_rad / radio->tilt_beam_rad;
    return fmin(20.0, 12.0 * share * share);
}

/* At both ends. */
static double slope_loss(const fe_hop *hop, const fe_path_loss *loss)
{
    const size_t last = hop->ground->count - 1;
    const double rise_m = hop->ground->height_m[last] + hop->ends[1].height_m -
                          hop->ground->height_m[0] - hop->ends[0].height_m;
    return hop_slope_loss(&hop->ends[0], rise_m, loss->distance_m) +
           hop_slope_loss(&hop->ends[1], rise_m, loss->distance_m);
}

static double power_at(const hop_facts *facts, int end, const link_mode *mode)
{
    const fe_radio *radio = facts->hop->ends[end].radio;
    const double able_dbm = radio->power_dbm - radio->falloff_db * mode->rank;
    return fmin(able_dbm, facts->limit[end].max_conducted_dbm);
}

static void add_path_lines(const fe_path_loss *loss, int from, fe_direction *way)
{
    static const char *const GROUND_LABEL[] = {
        [FE_GROUND_RAY] = "ground ray",
        [FE_GROUND_EDGE] = "one edge in the way",
        [FE_GROUND_DELTA_BULLINGTON] = "ground in the way",
        [FE_GROUND_BEYOND] = "ground beyond the break-point",
    };
    static const char *const GROUND_SOURCE[] = {
        [FE_GROUND_RAY] = "two-ray sum",
        [FE_GROUND_EDGE] = "ITU-R P.526-15 sec 4.1",
        [FE_GROUND_DELTA_BULLINGTON] = "ITU-R P.526-15 sec 4.5",
        [FE_GROUND_BEYOND] = "ITU-R P.526-15 sec 4.5 and two-ray sum",
    };
    const int to = 1 - from;
    add_line(way, "walls at the sender", -loss->wall_db[from], "ITU-R P.2040-3 or P.2109-1");
    add_line(way, "free space", -loss->free_space_db, "ITU-R P.525-4");
    add_line(way, GROUND_LABEL[loss->ground_method], -loss->ground_db,
             GROUND_SOURCE[loss->ground_method]);
    add_line(way, "trees and roofs on the profile", -loss->standing_db,
             "ITU-R P.526-15 sec 4, as solid as ground");
    add_line(way, "trees", -loss->trees_db, "Weissberger 1982, ITU-R P.833-9");
    add_line(way, "air", -loss->gas_db, "ITU-R P.676-13");
    add_line(way, "wet covers", -(loss->cover_db[0] + loss->cover_db[1]),
             "ITU-R P.840-8, P.2040-3");
    add_line(way, "walls at the receiver", -loss->wall_db[to], "ITU-R P.2040-3 or P.2109-1");
}

static fe_status threshold_of(const hop_facts *facts, int to, const link_mode *mode,
                              double *threshold_dbm)
{
    const fe_station *station = &facts->hop->ends[to];
    const double outside_dbm = fe_receiver_noise_dbm(station->radio->band, station->noise) +
                               10.0 * log10(facts->width_hz / 20e6);
    /* The power is shared by the streams, each of which needs the mode's own level. */
    const double sensitivity_dbm =
        mode->mode.min_sensitivity_dbm + 10.0 * log10((double)mode->streams);
    return fe_receiver_threshold(sensitivity_dbm, facts->width_hz, outside_dbm,
                                 station->radio->receiver_bonus_db, threshold_dbm);
}

/* Level and threshold of a mode sent from one end. */
static fe_status direction_with(const hop_facts *facts, const fe_path_loss *loss, int from,
                                const link_mode *mode, fe_direction *way)
{
    const fe_station *sender = &facts->hop->ends[from];
    const fe_station *receiver = &facts->hop->ends[1 - from];
    *way = (fe_direction){.mode = mode->mode, .streams = mode->streams};
    way->power_dbm = power_at(facts, from, mode);
    way->level_dbm = way->power_dbm;
    add_line(way, "feeder at the sender", -sender->feeder_db, "class figure");
    add_line(way, "antenna at the sender", sender->radio->gain_dbi, "class figure");
    add_line(way, "slope outside the beam", -slope_loss(facts->hop, loss),
             "parabolic lobe, from memory");
    add_path_lines(loss, from, way);
    add_line(way, "antenna at the receiver", receiver->radio->gain_dbi, "class figure");
    add_line(way, "feeder at the receiver", -receiver->feeder_db, "class figure");
    fe_status status = threshold_of(facts, 1 - from, mode, &way->threshold_dbm);
    way->paper_margin_db = way->level_dbm - way->threshold_dbm;
    return status;
}

/*
 * The mode that carries the wanted rate with most to spare. Both directions share the channel,
 * so each must be able to carry the sum; a direction without traffic only answers.
 */
static fe_status best_direction(const hop_facts *facts, const mode_list *modes,
                                const fe_path_loss *loss, int from, bool *carries,
                                fe_direction *best)
{
    const fe_wanted *wanted = facts->wanted;
    const double needed_bps =
        wanted->rate_bps[from] > 0.0 ? wanted->rate_bps[0] + wanted->rate_bps[1] : 0.0;
    bool found = false;
    for (size_t i = 0; i < modes->count; i++) {
        if (user_rate(facts, modes->items[i].mode.rate_bps) < needed_bps)
            continue;
        fe_direction way;
        const fe_status status = direction_with(facts, loss, from, &modes->items[i], &way);
        if (status < 0)
            return status;
        if (!found || way.paper_margin_db > best->paper_margin_db)
            *best = way;
        found = true;
    }
    *carries = *carries && found;
    /* Nothing is fast enough: the fastest mode shows by how much even that falls short. */
    if (!found)
        return direction_with(facts, loss, from, &modes->items[modes->count - 1], best);
    return FE_OK;
}

/* ---- Build loss ---- */

/* Half-power errors of hand and of careful aiming, as shares of the beam. Common practice. */
static double aim_share(double beam_rad, fe_aim aim)
{
    if (fe_beam_is_all_round(beam_rad))
        return 0.0;
    return aim == FE_AIM_ROUGH ? fmax(0.3, 4.0 * FE_DEG_RAD / beam_rad) : 0.1;
}

typedef struct part_list {
    fe_build_part *items;
    size_t count;
} part_list;

static void add_part(part_list *list, const fe_build_part *part, int end)
{
    const bool aims = part->across_share > 0.0 || part->upward_share > 0.0;
    if (!aims && part->mean_db == 0.0 && !(part->sigma_db > 0.0))
        return;
    list->items[list->count] = *part;
    list->items[list->count++].end = end;
}

static const char CUSTOM[] = "common practice, no source";

static void add_station(const fe_hop *hop, const fe_path_loss *loss, int end, part_list *list)
{
    static const double SIDE_LOBES_DB = 20.0;
    const fe_station *station = &hop->ends[end];
    const fe_radio *radio = station->radio;
    const double gain_db = station->antenna_built_in ? 2.0 : 1.0;
    if (!fe_beam_is_all_round(radio->beam_rad)) {
        const fe_build_part aim = {
            .label = "aim",
            .source = "parabolic lobe, ITU-R F.1245 sec 2.1 (from memory)",
            .shape = FE_BUILD_AIM,
            .across_share = aim_share(radio->beam_rad, station->aim),
            .upward_share = aim_share(radio->tilt_beam_rad, station->aim),
            .floor_db = SIDE_LOBES_DB,
        };
        add_part(list, &aim, end);
    }
    const fe_build_part parts[] = {
        {.label = "stated gain", .source = CUSTOM, .mean_db = gain_db, .sigma_db = gain_db},
        {.label = "fittings", .source = CUSTOM, .mean_db = 0.7, .sigma_db = 0.5},
        {.label = "walls",
         .source = "ITU-R P.2040-3 or P.2109-1",
         .of_the_path = true,
         .sigma_db = loss->wall_db[end] > 0.0 ? loss->wall_sigma_db[end] : 0.0},
    };
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
        add_part(list, &parts[i], end);
}

double hop_trees_sigma(double trees_db)
{
    return trees_db > 0.1 ? fmax(3.0, 0.35 * trees_db) : 0.0;
}

void fe_build_parts(const fe_hop *hop, const fe_path_loss *loss, fe_build_part *parts,
                    size_t *count)
{
    const bool yard = hop->land == FE_LAND_YARD;
    /* Means and sigmas in dB; common practice where the source does not say otherwise. */
    const fe_build_part of_hop[] = {
        {.label = "power setting", .source = CUSTOM, .mean_db = 1.5, .sigma_db = 1.5},
        {.label = "polarisation",
         .source = CUSTOM,
         .shape = FE_BUILD_HALF_NORMAL,
         .sigma_db = 1.0},
        {.label = "place",
         .source = CUSTOM,
         .of_the_path = true,
         .mean_db = yard ? 3.0 : 0.0,
         .sigma_db = yard ? 4.0 : 3.0},
        {.label = "ground",
         .source = CUSTOM,
         .of_the_path = true,
         .sigma_db = loss->ground_sigma_db},
        {.label = "trees",
         .source = CUSTOM,
         .of_the_path = true,
         .sigma_db = hop_trees_sigma(loss->trees_db)},
    };
    part_list list = {.items = parts};
    for (size_t i = 0; i < sizeof of_hop / sizeof of_hop[0]; i++)
        add_part(&list, &of_hop[i], -1);
    for (int end = 0; end < 2; end++)
        add_station(hop, loss, end, &list);
    *count = list.count;
}

fe_status fe_build_part_spread(const fe_build_part *part, fe_spread *spread)
{
    switch (part->shape) {
    case FE_BUILD_NORMAL:
        return fe_spread_normal(part->mean_db, part->sigma_db, spread);
    case FE_BUILD_HALF_NORMAL:
        return fe_spread_half_normal(part->sigma_db, spread);
    case FE_BUILD_AIM:
        return fe_spread_aim(part->across_share, part->upward_share, part->floor_db, spread);
    }
    return FE_E_DOMAIN;
}

/*
 * Normal parts are one normal part: means and variances add. That spares half of the
 * convolutions, which are what a budget costs most. Past the widest that a spread takes they
 * stay apart.
 */
static size_t join_normals(fe_build_part *parts, size_t count)
{
    static const double WIDEST_MEAN_DB = 100.0, WIDEST_SIGMA_DB = 30.0;
    size_t kept = 0;
    size_t joined = FE_BUILD_MOST_PARTS;
    for (size_t i = 0; i < count; i++) {
        const bool normal = parts[i].shape == FE_BUILD_NORMAL;
        if (normal && joined < kept) {
            const double mean_db = parts[joined].mean_db + parts[i].mean_db;
            const double sigma_db = hypot(parts[joined].sigma_db, parts[i].sigma_db);
            if (fabs(mean_db) <= WIDEST_MEAN_DB && sigma_db <= WIDEST_SIGMA_DB) {
                parts[joined].mean_db = mean_db;
                parts[joined].sigma_db = sigma_db;
                continue;
            }
        }
        if (normal && joined >= kept)
            joined = kept;
        parts[kept++] = parts[i];
    }
    return kept;
}

fe_status fe_build_loss(const fe_hop *hop, const fe_path_loss *loss, fe_spread *spread)
{
    fe_build_part parts[FE_BUILD_MOST_PARTS];
    size_t count = 0;
    fe_build_parts(hop, loss, parts, &count);
    count = join_normals(parts, count);
    fe_spread sum;
    fe_status status = fe_spread_exact(0.0, &sum);
    for (size_t i = 0; i < count && status >= 0; i++) {
        fe_spread part;
        status = fe_build_part_spread(&parts[i], &part);
        if (status >= 0)
            status = fe_spread_add(&sum, &part, &sum);
    }
    if (status >= 0)
        *spread = sum;
    return status;
}

/* ---- One season ---- */

double hop_rician_k(const fe_hop *hop, const fe_path_loss *loss)
{
    if (loss->trees_db > HOP_SCATTERS_DB || loss->standing_db > HOP_SCATTERS_DB ||
        loss->ground_method == FE_GROUND_DELTA_BULLINGTON)
        return HOP_K_OBSTRUCTED_DB;
    const bool indoors =
        hop->ends[0].mount != FE_MOUNT_OUTDOORS || hop->ends[1].mount != FE_MOUNT_OUTDOORS;
    return indoors ? HOP_K_INDOORS_DB : HOP_K_CLEAR_DB;
}

static fe_fading fading_of(double k_db)
{
    return (fe_fading){.law = FE_FADING_RICIAN, .k_db = k_db, .reference = FE_FADING_MEAN};
}

static fe_status rain_loss(const fe_hop *hop, const fe_season *season, double distance_m,
                           double share, double *loss_db)
{
    const fe_rain_wave wave = {hop->f_hz, 0.0, FE_PI / 2.0};
    fe_rain_path rain;
    fe_status status = fe_rain_path_loss(&wave, distance_m,
                                         season->rain_mm_h * FE_MM_PER_HOUR_M_S, share, &rain);
    if (status < 0)
        return status;
    *loss_db = rain.loss_db;
    /* Below 1 GHz the law is not stated, and the loss is nothing. */
    return FE_OK;
}

/* The fade of the wanted availability: multipath and sway, and rain with its own odds. */
fe_status hop_fade(const fe_hop *hop, const fe_season *season, double distance_m, double k_db,
                   double availability, double *fade_db)
{
    const fe_fading fading = fading_of(k_db);
    fe_fade_rain rain = {0};
    fe_status status = FE_OK;
    if (season->rain_mm_h > 0.0) {
        status = rain_loss(hop, season, distance_m, 0.01, &rain.loss_one_percent_db);
        if (status >= 0)
            status = rain_loss(hop, season, distance_m, 1e-4, &rain.loss_001_db);
    }
    if (status < 0)
        return status;
    /* Under a tenth of a decibel rain would only cost the grid of the convolution. */
    const bool rains = rain.loss_001_db > 0.1;
    return fe_fade_quantile(&fading, 1, rains ? &rain : NULL, availability, fade_db);
}

/* Mean of the user's rate over fading, for a build that loses build_db. */
static fe_status faded_rate(const hop_facts *facts, const mode_list *modes,
                            const fe_hop_season *season, int from, double build_db,
                            double *rate_bps, double *served_share)
{
    const fe_fading fading = fading_of(season->rician_k_db);
    double chance_of[MOST_MODES];
    for (size_t i = 0; i < modes->count; i++) {
        fe_direction way;
        fe_status status = direction_with(facts, &season->loss, from, &modes->items[i], &way);
        if (status >= 0)
            status =
                fe_fading_availability(&fading, way.paper_margin_db - build_db, &chance_of[i]);
        if (status < 0)
            return status;
    }
    /* From the fastest mode down, each serves the time that no faster one does. */
    bool used[MOST_MODES] = {false};
    double mean_bps = 0.0;
    double served = 0.0;
    for (size_t round = 0; round < modes->count; round++) {
        size_t fastest = modes->count;
        for (size_t i = 0; i < modes->count; i++)
            if (!used[i] &&
                (fastest == modes->count ||
                 modes->items[i].mode.rate_bps > modes->items[fastest].mode.rate_bps))
                fastest = i;
        used[fastest] = true;
        if (chance_of[fastest] > served) {
            mean_bps += (chance_of[fastest] - served) *
                        user_rate(facts, modes->items[fastest].mode.rate_bps);
            served = chance_of[fastest];
        }
    }
    *rate_bps = mean_bps;
    *served_share = served;
    return FE_OK;
}

fe_status fe_hop_delivers(const fe_hop *hop, const fe_hop_season *season,
                          const fe_wanted *wanted, int from, double build_db, double *rate_bps,
                          double *served_share)
{
    if ((from != 0 && from != 1) || !isfinite(build_db) || !isfinite(season->loss.total_db))
        return FE_E_DOMAIN;
    hop_facts facts;
    mode_list modes;
    fe_status status = prepare(hop, wanted, &facts, &modes);
    if (status < 0)
        return status;
    double rate = 0.0;
    double share = 0.0;
    status = fe_status_worse(status,
                             faded_rate(&facts, &modes, season, from, build_db, &rate, &share));
    if (status >= 0) {
        *rate_bps = rate;
        *served_share = share;
    }
    return status;
}

static fe_status compute_season(const hop_facts *facts, const mode_list *modes,
                                const fe_season *state, bool *carries, double *delivered_bps,
                                fe_hop_season *season)
{
    const fe_wanted *wanted = facts->wanted;
    fe_status status = fe_path_loss_in_season(facts->hop, state, &season->loss);
    if (status < 0)
        return status;
    if (fe_path_loss_is_buried(&season->loss)) {
        season->margin_db = season->margin_low_db = season->margin_high_db = -INFINITY;
        *delivered_bps = 0.0;
        return FE_OK;
    }

    for (int from = 0; from < 2 && status >= 0; from++)
        status = fe_status_worse(status, best_direction(facts, modes, &season->loss, from,
                                                        carries, &season->from[from]));
    fe_spread build;
    season->rician_k_db = hop_rician_k(facts->hop, &season->loss);
    if (status >= 0)
        status = fe_status_worse(status, hop_fade(facts->hop, state, season->loss.distance_m,
                                                  season->rician_k_db, wanted->availability,
                                                  &season->fade_db));
    if (status >= 0)
        status = fe_status_worse(status, fe_build_loss(facts->hop, &season->loss, &build));
    if (status < 0)
        return status;

    season->weaker = season->from[1].paper_margin_db < season->from[0].paper_margin_db;
    const double left_db = season->from[season->weaker].paper_margin_db - season->fade_db;
    season->build_mean_db = fe_spread_mean(&build);
    season->margin_db = left_db - fe_spread_quantile(&build, 0.5);
    season->margin_low_db = left_db - fe_spread_quantile(&build, 0.9);
    season->margin_high_db = left_db - fe_spread_quantile(&build, 0.1);
    season->chance = *carries ? fe_spread_chance(&build, left_db) : 0.0;

    double served_share = 0.0;
    const int from =
        wanted->rate_bps[season->weaker] > 0.0 ? season->weaker : 1 - season->weaker;
    return fe_status_worse(status, faded_rate(facts, modes, season, from,
                                              fe_spread_quantile(&build, wanted->confidence),
                                              delivered_bps, &served_share));
}

/* Far out in the tails chances say nothing: there the margin tells which season is worse. */
static const double HOPELESS = 0.01;
static const double SAME_CHANCE = 1e-3;

double hop_same_chance(double least)
{
    return fmax(least + SAME_CHANCE, HOPELESS);
}

/* The season with the smallest chance; where several share it, with the smallest margin. */
static size_t worst_of(const fe_hop_budget *budget)
{
    const double same = hop_same_chance(budget->chance);
    const fe_hop_season *seasons = budget->seasons;
    size_t worst = budget->season_count;
    for (size_t i = 0; i < budget->season_count; i++)
        if (seasons[i].chance <= same &&
            (worst == budget->season_count || seasons[i].margin_db < seasons[worst].margin_db))
            worst = i;
    return worst;
}

static bool is_share(double value)
{
    return value > 0.0 && value < 1.0;
}

fe_status fe_hop_budget_compute(const fe_hop *hop, const fe_season *seasons, size_t count,
                                const fe_wanted *wanted, fe_hop_budget *budget)
{
    if (count == 0 || !is_share(wanted->availability) || !is_share(wanted->confidence))
        return FE_E_DOMAIN;
    if (!(wanted->airtime > 0.0) || wanted->airtime > 1.0)
        return FE_E_DOMAIN;
    if (!(wanted->rate_bps[0] >= 0.0) || !(wanted->rate_bps[1] >= 0.0))
        return FE_E_DOMAIN;

    hop_facts facts;
    mode_list modes;
    fe_status status = prepare(hop, wanted, &facts, &modes);
    if (status < 0)
        return status;

    fe_hop_budget found = {.season_count = count,
                           .carries_rate = true,
                           .chance = 1.0,
                           .delivered_rate_bps = INFINITY,
                           .duty_cycle = facts.duty_cycle,
                           .limit = {facts.limit[0], facts.limit[1]}};
    found.seasons = calloc(count, sizeof *found.seasons);
    if (!found.seasons)
        return FE_E_MEMORY;
    for (size_t i = 0; i < count && status >= 0; i++) {
        double delivered_bps = 0.0;
        status = fe_status_worse(status, compute_season(&facts, &modes, &seasons[i],
                                                        &found.carries_rate, &delivered_bps,
                                                        &found.seasons[i]));
        found.delivered_rate_bps = fmin(found.delivered_rate_bps, delivered_bps);
        /* The seasons share one build: the chance of all is that of the worst. */
        found.chance = fmin(found.chance, found.seasons[i].chance);
    }
    if (status < 0) {
        fe_hop_budget_free(&found);
        return status;
    }
    found.worst = worst_of(&found);
    const fe_hop_season *worst = &found.seasons[found.worst];
    found.phy_rate_bps = worst->from[worst->weaker].mode.rate_bps;
    *budget = found;
    return status;
}

void fe_hop_budget_free(fe_hop_budget *budget)
{
    free(budget->seasons);
    *budget = (fe_hop_budget){0};
}
