/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_BUDGET_H
#define FAREND_BUDGET_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/hop.h"
#include "farend/path_loss.h"
#include "farend/power_rules.h"
#include "farend/season.h"
#include "farend/spread.h"
#include "farend/status.h"
#include "farend/wifi.h"

/*
 * The link budget of one hop, in both directions and every season, and the chance that the link
 * as built meets its target.
 *
 * Three things are kept apart. The margin is what the figures on paper leave. Build loss (aim,
 * settings, fittings, the place) is not known before but fixed once built, and the seasons
 * share it. A fade comes and goes; the margin must outlast the fade of the wanted availability.
 * So the chance is that of a build loss no greater than what is left after the fade, in every
 * season.
 */
typedef struct fe_wanted {
    double rate_bps[2];  /* the user's rate from the first end to the second, and back; >= 0 */
    double airtime;      /* share of the channel's time that this hop may use, 0 to 1 */
    double availability; /* share of time, 0 to 1 */
    double confidence;   /* chance over what is fixed but unknown, 0 to 1 */
} fe_wanted;

/* One step from transmit power to margin. */
typedef struct fe_budget_line {
    const char *label;
    double change_db; /* gain above zero, loss below */
    const char *source;
} fe_budget_line;

enum { FE_BUDGET_MOST_LINES = 20 };

/* One direction in one season: from[0] sends to end 1, from[1] to end 0. */
typedef struct fe_direction {
    fe_wifi_mode mode; /* the mode that carries the rate with most to spare */
    unsigned streams;
    double power_dbm;     /* into the feeder, after the power rule and at this mode */
    double level_dbm;     /* at the receiver, as on paper */
    double threshold_dbm; /* what the mode needs, outside noise included */
    double paper_margin_db;
    fe_budget_line lines[FE_BUDGET_MOST_LINES]; /* power plus these gives the level */
    size_t line_count;
} fe_direction;

typedef struct fe_hop_season {
    fe_path_loss loss;
    fe_direction from[2];
    int weaker; /* direction with the smaller margin */
    double rician_k_db;
    double fade_db;        /* at the wanted availability, rain included */
    double build_mean_db;  /* of this season's build loss */
    double margin_db;      /* weaker direction, median build, after the fade */
    double margin_low_db;  /* one build in ten is below this */
    double margin_high_db; /* one in ten above */
    double chance;         /* that the target is met in this season */
} fe_hop_season;

typedef struct fe_hop_budget {
    fe_hop_season *seasons; /* as many as asked */
    size_t season_count;
    /* Season with the smallest chance; of those within 1e-3 that with the least margin. */
    size_t worst;
    double chance;       /* that every season meets the target */
    bool carries_rate;   /* false: no mode of these radios is fast enough at any level */
    double phy_rate_bps; /* on the air in the worst season, weaker direction */
    /* To the user at the confidence, mean over fading, worst season. */
    double delivered_rate_bps;
    double duty_cycle;       /* share of time that the rules allow to transmit, 1: all */
    fe_power_limit limit[2]; /* rule each end falls under */
} fe_hop_budget;

/*
 *   hop      stations with radios of one band and standards that can talk to one another
 *   seasons  count >= 1
 *   wanted   see above
 *   budget   result, to be freed; untouched on error
 *
 * FE_OK
 * FE_W_RANGE        result set, but a part lies outside its model's range
 * FE_E_NO_SOLUTION  the radios have no mode in common, or no rule lets them transmit there
 * FE_E_DOMAIN, FE_E_MEMORY, FE_E_CONVERGE
 */
FE_MUST_CHECK fe_status fe_hop_budget_compute(const fe_hop *hop, const fe_season *seasons,
                                              size_t count, const fe_wanted *wanted,
                                              fe_hop_budget *budget);
void fe_hop_budget_free(fe_hop_budget *budget);

/*
 * What a link delivers whose build loss is known, in a season of its budget.
 *   hop, wanted    as the budget was computed with; of wanted only the air time counts
 *   from           0: the first end sends, 1: the second
 *   build_db       finite
 *   rate_bps       the user's rate, mean over fading
 *   served_share   share of time in which any mode works, 0 to 1
 *
 * FE_OK, FE_W_RANGE, FE_E_DOMAIN (an antenna under the snow too), FE_E_NO_SOLUTION
 */
FE_MUST_CHECK fe_status fe_hop_delivers(const fe_hop *hop, const fe_hop_season *season,
                                        const fe_wanted *wanted, int from, double build_db,
                                        double *rate_bps, double *served_share);

/* How one part of the build loss is spread. */
typedef enum fe_build_shape {
    FE_BUILD_NORMAL,      /* mean_db, sigma_db */
    FE_BUILD_HALF_NORMAL, /* size of a normal with mean zero and sigma_db */
    FE_BUILD_AIM          /* across_share, upward_share and floor_db of fe_spread_aim */
} fe_build_shape;

/* One part of what is lost in building, independent of the others. */
typedef struct fe_build_part {
    const char *label;
    const char *source;
    fe_build_shape shape;
    bool of_the_path; /* of the place and what stands in it; false: of gear and hands */
    int end;          /* 0 or 1: of that station; -1: of the hop */
    double mean_db;
    double sigma_db;
    double across_share;
    double upward_share;
    double floor_db;
} fe_build_part;

enum { FE_BUILD_MOST_PARTS = 16 };

/*
 * The parts of a hop's build loss in a season, those of both stations and of the path.
 *
 *   hop, loss  the hop and what its path loses
 *   parts      room for FE_BUILD_MOST_PARTS
 *   count      how many there are
 *
 * A part without spread or mean is left out. Each part has its source beside it; most are
 * common practice.
 */
void fe_build_parts(const fe_hop *hop, const fe_path_loss *loss, fe_build_part *parts,
                    size_t *count);

/* Distribution of one part. FE_OK, FE_E_DOMAIN */
FE_MUST_CHECK fe_status fe_build_part_spread(const fe_build_part *part, fe_spread *spread);

/*
 * Build loss of a hop in a season: its parts convolved.
 * FE_OK, FE_E_DOMAIN
 */
FE_MUST_CHECK fe_status fe_build_loss(const fe_hop *hop, const fe_path_loss *loss,
                                      fe_spread *spread);

#endif
