/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/acceptance.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "decision/acceptance_place.h"
#include "farend/receiver.h"

/*
 * Cells of one decibel. Build loss and a cause's loss each have theirs; their sum, the loss
 * beyond the figures on paper, indexes the tables of how likely a reading is.
 */
enum {
    LEAST_DB = -40,
    MOST_DB = 100,
    LOSSES = MOST_DB - LEAST_DB + 1,
    CAUSE_CELLS = 41,
    BUILD_CELLS = 161,
    RATE_STEP_DB = 5,
    ALL_EVIDENCE = (1 << FE_EVIDENCES) - 1
};

/* Errors beside the level's own: common practice, no source. */
static const double NOISE_SIGMA_DB = 4.0;
static const double RATE_SIGMA = 0.15;
static const double PING_SIGMA = 0.45;
/* A ping lost in so many is no sign of anything. */
static const double PING_USUAL = 0.004;
/* A rate that is no rate, so that its logarithm exists. */
static const double LEAST_RATE_BPS = 1e3;
/* Thermal noise and a receiver's own, in 20 MHz: -101 dBm and 7 dB; common practice. */
static const double OWN_NOISE_DBM = -94.0;
/* No reading may rule out what a table of round figures says. */
static const double LEAST_LIKELIHOOD_LOG = -40.0;
static const double LEAST_SUM_LOG = -600.0;

/* One visit with all that its likelihood needs. */
typedef struct visit {
    const fe_accept_reading *reading;
    fe_season day;
    fe_hop_budget budget; /* of that one season */
    double rate_log[2][LOSSES];
    double lost[2][LOSSES]; /* share of time in which no mode works */
    /* Log-likelihoods of the cause at hand: by direction and loss, and for the pings. */
    double table[2][2][LOSSES]; /* this end is the odd one, or not */
    double ping[LOSSES];
    double level_dbm[2]; /* NAN where it does not count */
    double constant;     /* what does not depend on the loss */
} visit;

typedef struct work {
    const fe_accept_link *link;
    visit visits[FE_ACCEPT_MOST_READINGS];
    size_t count;
    fe_spread build; /* in the last visit's season */
    double build_share[BUILD_CELLS];
    int build_first_db;
    double place[FE_CAUSES]; /* factor of gear, place and weather */
    double after[2][LOSSES];
} work;

static const fe_hop_season *day_of(const visit *v)
{
    return &v->budget.seasons[0];
}

/* ---- Bayes for one reading ---- */

fe_status fe_accept_update(const fe_spread *before, double loss_db, double sigma_db,
                           fe_spread *after)
{
    if (!isfinite(loss_db) || !(sigma_db > 0.0) || !isfinite(sigma_db))
        return FE_E_DOMAIN;
    double sum = 0.0;
    double share[FE_SPREAD_MOST_CELLS];
    for (size_t i = 0; i < before->count; i++) {
        const double at_db = (double)(before->first + (long)i) * FE_SPREAD_STEP_DB;
        const double off = (loss_db - at_db) / sigma_db;
        share[i] = before->share[i] * exp(-0.5 * off * off);
        sum += share[i];
    }
    if (!(sum > 1e-200))
        return FE_E_DOMAIN;
    after->first = before->first;
    after->count = before->count;
    for (size_t i = 0; i < before->count; i++)
        after->share[i] = share[i] / sum;
    return FE_OK;
}

/* ---- Likelihood of one visit under one cause ---- */

static double log_normal(double off, double sigma)
{
    return -0.5 * off * off / (sigma * sigma) - log(sigma);
}

static bool uses(unsigned mask, fe_evidence evidence)
{
    return (mask & (1u << evidence)) != 0;
}

static double noise_expected(const fe_hop *hop, int to)
{
    const fe_station *station = &hop->ends[to];
    const double width_hz = fmin(hop->ends[0].radio->width_hz, hop->ends[1].radio->width_hz);
    const double outside = fe_receiver_noise_dbm(station->radio->band, station->noise);
    return 10.0 * log10(pow(10.0, OWN_NOISE_DBM / 10.0) + pow(10.0, outside / 10.0)) +
           10.0 * log10(width_hz / 20e6);
}

/* A rate capped by a port that has agreed on one of the usual speeds, or the plan's own. */
static double port_log(const fe_hop *hop, double rate_log, double expected_log)
{
    static const double USABLE = 0.93;
    const double ports_bps[] = {hop->ends[0].port_bps, hop->ends[1].port_bps, 100e6, 10e6};
    double best = LEAST_LIKELIHOOD_LOG;
    for (size_t i = 0; i < sizeof ports_bps / sizeof ports_bps[0]; i++) {
        const double cap_log = ports_bps[i] > 0.0 ? log10(USABLE * ports_bps[i]) : -1.0;
        if (cap_log > 0.0 && cap_log < expected_log - 0.1)
            best = fmax(best, log_normal(rate_log - cap_log, 0.03));
    }
    return best;
}

static double rate_likelihood(const work *w, const visit *v, const fe_cause_row *row, int from,
                              int at)
{
    const double rate_log = log10(fmax(v->reading->rate_bps[from], LEAST_RATE_BPS));
    const double expected_log = v->rate_log[from][at];
    if (row == fe_cause_of(FE_CAUSE_PORT))
        return port_log(w->link->hop, rate_log, expected_log);
    return log_normal(rate_log - expected_log - row->rate_decades,
                      hypot(RATE_SIGMA, row->rate_sigma));
}

/* What one direction says, by loss. `odd`: a cause at one end meets this direction. */
static void fill_direction(const work *w, visit *v, const fe_cause_row *row, unsigned mask,
                           int from, bool odd)
{
    const fe_accept_reading *reading = v->reading;
    for (int at = 0; at < LOSSES; at++) {
        double sum = 0.0;
        if (uses(mask, FE_EVIDENCE_RATE) && isfinite(reading->rate_bps[from]))
            sum += fmax(LEAST_LIKELIHOOD_LOG, rate_likelihood(w, v, row, from, at));
        v->table[odd][from][at] = sum;
    }
    if (uses(mask, FE_EVIDENCE_NOISE) && isfinite(reading->noise_dbm[from])) {
        const double off = reading->noise_dbm[from] - noise_expected(w->link->hop, 1 - from);
        const double sum =
            fmax(LEAST_LIKELIHOOD_LOG,
                 log_normal(off - (odd ? row->noise_db : 0.0),
                            odd ? hypot(NOISE_SIGMA_DB, row->noise_sigma_db) : NOISE_SIGMA_DB));
        for (int at = 0; at < LOSSES; at++)
            v->table[odd][from][at] += sum;
    }
}

/*
 * Log-likelihood of the levels of a visit, by how far each lies off. Part of the error is that
 * of each receiver's own scale; the rest is the spot, the moment and the fade, which by
 * reciprocity both directions share. So a difference between them is known better than either.
 */
static double levels_log(const fe_accept_reading *reading, const double off_db[2])
{
    const double all = reading->before ? FE_ACCEPT_BEFORE_SIGMA_DB : FE_ACCEPT_LEVEL_SIGMA_DB;
    const double own2 = FE_ACCEPT_SCALE_SIGMA_DB * FE_ACCEPT_SCALE_SIGMA_DB;
    const double shared2 = all * all - own2;
    const bool there = isfinite(off_db[0]);
    const bool back = isfinite(off_db[1]);
    if (!there && !back)
        return 0.0;
    if (!there || !back)
        return fmax(LEAST_LIKELIHOOD_LOG, log_normal(off_db[there ? 0 : 1], all));
    /* Sum and difference of two such errors are independent of each other. */
    const double half_sum = 0.5 * (off_db[0] + off_db[1]);
    const double half_difference = 0.5 * (off_db[0] - off_db[1]);
    return fmax(2.0 * LEAST_LIKELIHOOD_LOG, log_normal(half_sum, sqrt(shared2 + 0.5 * own2)) +
                                                log_normal(half_difference, sqrt(0.5 * own2)));
}

static void fill_visit(const work *w, visit *v, const fe_cause_row *row, unsigned mask)
{
    const fe_accept_reading *reading = v->reading;
    v->constant = 0.0;
    for (int from = 0; from < 2; from++)
        v->level_dbm[from] =
            uses(mask, FE_EVIDENCE_LEVEL) ? reading->level_dbm[from] : (double)NAN;
    for (int from = 0; from < 2; from++) {
        for (int odd = 0; odd < 2; odd++)
            fill_direction(w, v, row, mask, from, odd == 1);
        if (uses(mask, FE_EVIDENCE_SWING) && isfinite(reading->swing_db[from]))
            v->constant +=
                fmax(LEAST_LIKELIHOOD_LOG,
                     log_normal(reading->swing_db[from] - row->swing_db, row->swing_sigma_db));
    }
    const bool pings = uses(mask, FE_EVIDENCE_PING) && isfinite(reading->ping_share);
    for (int at = 0; at < LOSSES; at++) {
        const double share =
            PING_USUAL + row->ping_share + 0.7 * fmax(v->lost[0][at], v->lost[1][at]);
        v->ping[at] =
            pings
                ? log_normal(log10(reading->ping_share + PING_USUAL) - log10(fmin(1.0, share)),
                             PING_SIGMA)
                : 0.0;
    }
}

/* ---- Sum over build loss and the cause's loss ---- */

/* Shares of the cause's loss by whole decibels; returns how many cells. */
static int cause_cells(const fe_cause_row *row, double share[CAUSE_CELLS])
{
    memset(share, 0, CAUSE_CELLS * sizeof share[0]);
    if (row->way == FE_CAUSE_NO_LOSS) {
        share[0] = 1.0;
        return 1;
    }
    double sum = 0.0;
    for (int x = 0; x < CAUSE_CELLS; x++) {
        const double off = (x - row->loss_db) / row->sigma_db;
        share[x] = x >= row->least_db && x <= row->most_db ? exp(-0.5 * off * off) : 0.0;
        sum += share[x];
    }
    for (int x = 0; x < CAUSE_CELLS; x++)
        share[x] /= sum;
    return CAUSE_CELLS;
}

/* How much of a cause's loss there is on the day. */
static double share_on_day(const fe_cause_row *row, const fe_season *day)
{
    const double dry = day->cover == FE_COVER_DRY ? row->dry_share : 1.0;
    return dry * (day->in_leaf ? 1.0 : row->bare_share);
}

static int cell_of(double loss_db)
{
    const long at = lround(loss_db) - LEAST_DB;
    return at < 0 ? 0 : at >= LOSSES ? LOSSES - 1 : (int)at;
}

/* Log-likelihood of all visits for one pair of losses; odd is the direction of a lopsided one.
 */
static double log_likelihood(const work *w, const fe_cause_row *row, double build_db, int x,
                             int odd, const double *day_share, int last[2])
{
    double sum = 0.0;
    for (size_t i = 0; i < w->count; i++) {
        const visit *v = &w->visits[i];
        const double extra_db = x * day_share[i];
        int at[2];
        double off_db[2];
        for (int from = 0; from < 2; from++) {
            const bool meets = row->way == FE_CAUSE_BOTH_WAYS || from == odd;
            at[from] = cell_of(build_db + (meets ? extra_db : 0.0));
            sum += v->table[from == odd][from][at[from]];
            off_db[from] =
                v->level_dbm[from] - (day_of(v)->from[from].level_dbm - (at[from] + LEAST_DB));
        }
        sum += levels_log(v->reading, off_db) + v->ping[at[0] > at[1] ? at[0] : at[1]] +
               v->constant;
        last[0] = at[0];
        last[1] = at[1];
    }
    return fmax(sum, LEAST_SUM_LOG);
}

/* Likelihood of all visits under one cause; `after` gathers the losses, where not null. */
static double cause_likelihood(work *w, fe_cause cause, unsigned mask, double weight,
                               double (*after)[LOSSES])
{
    const fe_cause_row *row = fe_cause_of(cause);
    double share[CAUSE_CELLS];
    double day_share[FE_ACCEPT_MOST_READINGS];
    const int cells = cause_cells(row, share);
    for (size_t i = 0; i < w->count; i++) {
        fill_visit(w, &w->visits[i], row, mask);
        day_share[i] = share_on_day(row, &w->visits[i].day);
    }
    double sum = 0.0;
    for (int b = 0; b < BUILD_CELLS; b++)
        for (int x = 0; x < cells && w->build_share[b] > 1e-9; x++)
            for (int odd = 0; odd < 2 && share[x] > 1e-9; odd++) {
                int last[2] = {0, 0}; /* set by the visits, of which there is one or more */
                const double likelihood =
                    0.5 * share[x] * w->build_share[b] *
                    exp(log_likelihood(w, row, w->build_first_db + b, x, odd, day_share, last));
                sum += likelihood;
                for (int from = 0; after && from < 2; from++)
                    after[from][last[from]] += weight * likelihood;
            }
    return sum;
}

/* ---- Before the readings ---- */

static bool is_number_or_absent(double value, double least, double most)
{
    return isnan(value) || (value >= least && value <= most);
}

static bool is_good(const fe_accept_reading *reading)
{
    bool any = isfinite(reading->ping_share);
    bool good = is_number_or_absent(reading->ping_share, 0.0, 1.0);
    for (int from = 0; from < 2; from++) {
        good = good && is_number_or_absent(reading->level_dbm[from], -150.0, 30.0) &&
               is_number_or_absent(reading->swing_db[from], 0.0, 100.0) &&
               is_number_or_absent(reading->noise_dbm[from], -150.0, 0.0) &&
               is_number_or_absent(reading->rate_bps[from], 0.0, 1e12);
        any = any || isfinite(reading->level_dbm[from]) || isfinite(reading->noise_dbm[from]) ||
              isfinite(reading->rate_bps[from]);
    }
    return good && any;
}

/* Rate and lost time by loss, straight between a few losses that are computed. */
static fe_status fill_rates(const fe_accept_link *link, visit *v, int from)
{
    double log_before = 0.0;
    double lost_before = 0.0;
    for (int at = 0; at < LOSSES; at += RATE_STEP_DB) {
        double rate_bps = 0.0;
        double served = 0.0;
        const fe_status status = fe_hop_delivers(link->hop, day_of(v), link->wanted, from,
                                                 at + LEAST_DB, &rate_bps, &served);
        if (status < 0)
            return status;
        const double rate_log = log10(fmax(rate_bps, LEAST_RATE_BPS));
        for (int i = 0; at > 0 && i < RATE_STEP_DB; i++) {
            const double part = (double)i / RATE_STEP_DB;
            const int to = at - RATE_STEP_DB + i;
            v->rate_log[from][to] = log_before + part * (rate_log - log_before);
            v->lost[from][to] = lost_before + part * (1.0 - served - lost_before);
        }
        v->rate_log[from][at] = log_before = rate_log;
        v->lost[from][at] = lost_before = 1.0 - served;
    }
    return FE_OK;
}

static fe_status prepare_visit(const fe_accept_link *link, const fe_accept_reading *reading,
                               visit *v)
{
    v->reading = reading;
    v->day = fe_accept_season(link->seasons, link->season_count, &reading->weather);
    fe_status status = fe_hop_budget_compute(link->hop, &v->day, 1, link->wanted, &v->budget);
    if (status >= 0 && !isfinite(day_of(v)->loss.total_db))
        return FE_E_DOMAIN;
    for (int from = 0; from < 2 && status >= 0; from++)
        status = fe_status_worse(status, fill_rates(link, v, from));
    return status;
}

/* The build loss by whole decibels. */
static void coarsen(work *w)
{
    const double middle_db = fe_spread_mean(&w->build);
    w->build_first_db = (int)lround(middle_db) - BUILD_CELLS / 2;
    for (size_t i = 0; i < w->build.count; i++) {
        const double at_db = (double)(w->build.first + (long)i) * FE_SPREAD_STEP_DB;
        const long cell = lround(at_db) - w->build_first_db;
        if (cell >= 0 && cell < BUILD_CELLS)
            w->build_share[cell] += w->build.share[i];
    }
}

static fe_status prepare(work *w, const fe_accept_reading *readings, size_t count)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < count && status >= 0; i++) {
        w->count = i + 1;
        status = fe_status_worse(status, prepare_visit(w->link, &readings[i], &w->visits[i]));
    }
    if (status >= 0)
        status = fe_status_worse(
            status,
            fe_build_loss(w->link->hop, &day_of(&w->visits[count - 1])->loss, &w->build));
    if (status < 0)
        return status;
    coarsen(w);
    accept_visit met[FE_ACCEPT_MOST_READINGS];
    for (size_t i = 0; i < count; i++)
        met[i] = (accept_visit){&readings[i].weather, &w->visits[i].day,
                                &day_of(&w->visits[i])->loss};
    accept_weigh_place(w->link, met, count, w->place);
    return status;
}

/* ---- After them ---- */

static void find_chances(work *w, fe_acceptance *result)
{
    double sum = 0.0;
    for (int cause = 0; cause < FE_CAUSES; cause++) {
        const double weight = fe_cause_of((fe_cause)cause)->prior * w->place[cause];
        result->chance[cause] =
            weight * cause_likelihood(w, (fe_cause)cause, ALL_EVIDENCE, weight, w->after);
        result->order[cause] = (fe_cause)cause;
        sum += result->chance[cause];
    }
    for (int cause = 0; cause < FE_CAUSES; cause++)
        result->chance[cause] /= sum;
    for (int i = 1; i < FE_CAUSES; i++)
        for (int j = i;
             j > 0 && result->chance[result->order[j]] > result->chance[result->order[j - 1]];
             j--) {
            const fe_cause swapped = result->order[j];
            result->order[j] = result->order[j - 1];
            result->order[j - 1] = swapped;
        }
    if (result->order[0] == FE_CAUSE_NONE && result->chance[FE_CAUSE_NONE] < 0.5) {
        result->order[0] = result->order[1];
        result->order[1] = FE_CAUSE_NONE;
    }
}

static bool has_evidence(const work *w, fe_evidence kind)
{
    for (size_t i = 0; i < w->count; i++)
        for (int from = 0; from < 2; from++) {
            const fe_accept_reading *reading = w->visits[i].reading;
            const double values[FE_EVIDENCES] = {
                [FE_EVIDENCE_LEVEL] = reading->level_dbm[from],
                [FE_EVIDENCE_SWING] = reading->swing_db[from],
                [FE_EVIDENCE_NOISE] = reading->noise_dbm[from],
                [FE_EVIDENCE_RATE] = reading->rate_bps[from],
                [FE_EVIDENCE_PING] = reading->ping_share,
                [FE_EVIDENCE_PLACE] = (double)NAN,
            };
            if (isfinite(values[kind]))
                return true;
        }
    return false;
}

/* Chances without a kind of evidence, against those with it: its factor on the odds. */
static void find_factors(work *w, fe_acceptance *result)
{
    for (int kind = 0; kind < FE_EVIDENCES; kind++) {
        double without[FE_CAUSES];
        double sum = 0.0;
        const bool place = kind == FE_EVIDENCE_PLACE;
        const unsigned mask =
            place ? (unsigned)ALL_EVIDENCE : (unsigned)ALL_EVIDENCE & ~(1u << kind);
        for (int cause = 0; cause < FE_CAUSES; cause++)
            result->factor[cause][kind] = place ? w->place[cause] : 1.0;
        if (place || !has_evidence(w, (fe_evidence)kind))
            continue;
        for (int cause = 0; cause < FE_CAUSES; cause++) {
            without[cause] = fe_cause_of((fe_cause)cause)->prior * w->place[cause] *
                             cause_likelihood(w, (fe_cause)cause, mask, 0.0, NULL);
            sum += without[cause];
        }
        for (int cause = 0; cause < FE_CAUSES; cause++)
            result->factor[cause][kind] =
                without[cause] > 0.0 ? result->chance[cause] * sum / without[cause] : 1.0;
    }
}

/* The gathered losses as a spread, a cell of one decibel being ten of a tenth. */
static fe_status spread_of(const double losses[LOSSES], fe_spread *spread)
{
    enum { PARTS = 10 };
    int first = 0;
    int last = LOSSES - 1;
    double sum = 0.0;
    for (int i = 0; i < LOSSES; i++)
        sum += losses[i];
    if (!(sum > 0.0))
        return FE_E_DOMAIN;
    while (losses[first] < 1e-12 * sum)
        first++;
    while (losses[last] < 1e-12 * sum)
        last--;
    spread->first = (long)(first + LEAST_DB) * PARTS - PARTS / 2;
    spread->count = (size_t)(last - first + 1) * PARTS;
    for (size_t i = 0; i < spread->count; i++)
        spread->share[i] = losses[first + (int)(i / PARTS)] / (sum * PARTS);
    return FE_OK;
}

static void fill_expected(const work *w, const visit *v, fe_accept_expected *expected)
{
    const double median_db = fe_spread_quantile(&w->build, 0.5);
    expected->season = v->day;
    expected->total_db = day_of(v)->loss.total_db;
    for (int from = 0; from < 2; from++) {
        const double paper_dbm = day_of(v)->from[from].level_dbm;
        const double read_dbm = v->reading->level_dbm[from];
        expected->low_dbm[from] = paper_dbm - fe_spread_quantile(&w->build, 0.9);
        expected->level_dbm[from] = paper_dbm - median_db;
        expected->high_dbm[from] = paper_dbm - fe_spread_quantile(&w->build, 0.1);
        expected->noise_dbm[from] = noise_expected(w->link->hop, 1 - from);
        const double loss_db = isfinite(read_dbm) ? paper_dbm - read_dbm : median_db;
        expected->rate_bps[from] = pow(10.0, v->rate_log[from][cell_of(loss_db)]);
    }
}

/*
 * Build loss of another season: that of the readings, and what the season does not share with
 * their day (leaves and ground that were not in the way then).
 */
static fe_status carry_over(const work *w, const fe_hop_season *season, const fe_spread *after,
                            fe_spread *there)
{
    fe_spread own;
    fe_status status = fe_build_loss(w->link->hop, &season->loss, &own);
    if (status < 0)
        return status;
    const double more = fe_spread_sigma(&own);
    const double had = fe_spread_sigma(&w->build);
    const double shift_db = fe_spread_mean(&own) - fe_spread_mean(&w->build);
    fe_spread extra;
    status =
        fe_spread_normal(shift_db, more > had ? sqrt(more * more - had * had) : 0.0, &extra);
    return status < 0 ? status : fe_spread_add(after, &extra, there);
}

static fe_status fill_outlook(const work *w, const fe_hop_budget *budget, size_t index,
                              const fe_acceptance *result, fe_accept_outlook *outlook)
{
    const fe_hop_season *season = &budget->seasons[index];
    const fe_path_loss *then = &day_of(&w->visits[w->count - 1])->loss;
    *outlook = (fe_accept_outlook){.to_come_db = season->loss.total_db - then->total_db,
                                   .leaves_db = season->loss.trees_db - then->trees_db,
                                   .margin_before_db = season->margin_db,
                                   .chance_before = season->chance,
                                   .margin_db = INFINITY,
                                   .chance = 1.0};
    if (!isfinite(season->loss.total_db)) {
        outlook->margin_db = outlook->margin_low_db = outlook->margin_high_db = -INFINITY;
        outlook->chance = 0.0;
        return FE_OK;
    }
    for (int from = 0; from < 2; from++) {
        fe_spread there;
        const fe_status status = carry_over(w, season, &result->after[from], &there);
        if (status < 0)
            return status;
        const double left_db = season->from[from].paper_margin_db - season->fade_db;
        const double margin_db = left_db - fe_spread_quantile(&there, 0.5);
        const double chance = budget->carries_rate ? fe_spread_chance(&there, left_db) : 0.0;
        outlook->chance = fmin(outlook->chance, chance);
        if (margin_db > outlook->margin_db)
            continue;
        outlook->margin_db = margin_db;
        outlook->margin_low_db = left_db - fe_spread_quantile(&there, 0.9);
        outlook->margin_high_db = left_db - fe_spread_quantile(&there, 0.1);
    }
    return FE_OK;
}

static fe_status fill_outlooks(const work *w, fe_acceptance *result)
{
    fe_hop_budget budget;
    const fe_accept_link *link = w->link;
    fe_status status = fe_hop_budget_compute(link->hop, link->seasons, link->season_count,
                                             link->wanted, &budget);
    if (status < 0)
        return status;
    result->season_count = link->season_count;
    for (size_t i = 0; i < link->season_count && status >= 0; i++) {
        fe_accept_outlook *outlook = &result->outlook[i];
        status = fe_status_worse(status, fill_outlook(w, &budget, i, result, outlook));
        const fe_accept_outlook *worst = &result->outlook[result->worst];
        if (outlook->chance < worst->chance ||
            (outlook->chance == worst->chance && outlook->margin_db < worst->margin_db))
            result->worst = i;
    }
    fe_hop_budget_free(&budget);
    return status;
}

fe_status fe_accept(const fe_accept_link *link, const fe_accept_reading *readings, size_t count,
                    fe_acceptance *result)
{
    if (count == 0 || count > FE_ACCEPT_MOST_READINGS || link->season_count == 0 ||
        link->season_count > FE_MOST_SEASONS)
        return FE_E_DOMAIN;
    for (size_t i = 0; i < count; i++)
        if (!is_good(&readings[i]))
            return FE_E_DOMAIN;

    fe_acceptance *found = calloc(1, sizeof *found);
    work *w = calloc(1, sizeof *w);
    fe_status status = found && w ? FE_OK : FE_E_MEMORY;
    if (status < 0)
        goto done;
    w->link = link;
    status = prepare(w, readings, count);
    if (status < 0)
        goto done;
    find_chances(w, found);
    find_factors(w, found);
    found->before = w->build;
    found->reading_count = count;
    for (size_t i = 0; i < count; i++)
        fill_expected(w, &w->visits[i], &found->expected[i]);
    for (int from = 0; from < 2 && status >= 0; from++)
        status = fe_status_worse(status, spread_of(w->after[from], &found->after[from]));
    if (status >= 0)
        status = fe_status_worse(status, fill_outlooks(w, found));
    if (status >= 0)
        *result = *found;
done:
    for (size_t i = 0; w && i < w->count; i++)
        fe_hop_budget_free(&w->visits[i].budget);
    free(w);
    free(found);
    return status;
}
