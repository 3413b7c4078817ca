/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_FIGURES_H
#define FAREND_FIGURES_H

#include <stddef.h>

#include "farend/amount.h"
#include "farend/chain.h"
#include "farend/document.h"
#include "farend/gnuplot.h"
#include "farend/status.h"
#include "farend/strbuf.h"

/*
 * What each figure shows, from plain arrays to gnuplot's data and variables. A builder reads
 * its struct, writes data blocks, title and text alternative, and draws nothing: its commands
 * can be read without gnuplot. How a figure looks is in plots/KIND.gp.
 *
 *     fe_figure figure = FE_FIGURE_INIT;
 *     status = fe_figure_margin(&(fe_margin_data){"margin", "Margin by band and season",
 *                                                 points, count}, units, &figure);
 *     if (status == FE_OK)
 *         status = fe_figure_add(&figure, gnuplot, doc);
 *     fe_figure_free(&figure);
 *
 * Every struct starts with id (letters, digits, '-'; unique in a report) and title. Texts may
 * hold anything. Builders return FE_E_DOMAIN where there is nothing to draw or a number that
 * must be finite is not, and FE_E_MEMORY.
 */
typedef struct fe_figure {
    const char *kind; /* script plots/KIND.gp */
    fe_strbuf id;
    fe_strbuf title;
    fe_strbuf alternative; /* the same numbers in words */
    fe_strbuf commands;    /* variables and data blocks, without the script */
    unsigned width;
    unsigned height;
} fe_figure;

/* clang-format off */
#define FE_FIGURE_INIT {NULL, FE_STRBUF_INIT, FE_STRBUF_INIT, FE_STRBUF_INIT, FE_STRBUF_INIT, 0, 0}
/* clang-format on */

void fe_figure_free(fe_figure *figure);

/*
 * Draws a built figure and adds it to the document, with the reason where gnuplot gave none.
 * gnuplot may be null: then the figure is added as missing. FE_E_MEMORY only.
 */
FE_MUST_CHECK fe_status fe_figure_add(const fe_figure *figure, fe_gnuplot *gnuplot,
                                      fe_document *doc);

/* Draws a built figure alone; result and statuses as fe_gnuplot_draw. */
FE_MUST_CHECK fe_status fe_figure_draw(const fe_figure *figure, fe_gnuplot *gnuplot, char **svg,
                                       char reason[FE_GNUPLOT_REASON_ROOM]);

/* ---- margin: every band and season, with the spread of what is fixed but unknown ---- */
typedef struct fe_margin_point {
    const char *band; /* points of one band follow each other */
    const char *season;
    double median_db;
    double low_db;  /* 10 % of builds come out below */
    double high_db; /* 10 % come out above */
    fe_mark mark;   /* holds, tight or fails, as the plan's confidence decides */
} fe_margin_point;

typedef struct fe_margin_data {
    const char *id;
    const char *title;
    const fe_margin_point *points;
    size_t count;
} fe_margin_data;
FE_MUST_CHECK fe_status fe_figure_margin(const fe_margin_data *data, fe_units units,
                                         fe_figure *figure);

/* ---- profile: what stands between two antennas ---- */
typedef struct fe_profile_trees {
    const char *name;
    double from_m;
    double to_m;
    double height_m; /* above the ground */
} fe_profile_trees;

typedef struct fe_profile_data {
    const char *id;
    const char *title;
    const double *distance_m; /* from the first end, rising */
    const double *ground_m;   /* bare ground above the datum */
    size_t count;
    double snow_m; /* deepest of the season; 0 none */
    const char *from_name;
    const char *to_name;
    double from_height_m; /* antenna above the bare ground */
    double to_height_m;
    double f_hz;
    double earth_radius_m; /* effective; 0: flat */
    const fe_profile_trees *trees;
    size_t tree_count;
} fe_profile_data;
FE_MUST_CHECK fe_status fe_figure_profile(const fe_profile_data *data, fe_units units,
                                          fe_figure *figure);

/* ---- overhead: the run in section, the cable in each season ---- */
typedef struct fe_overhead_line {
    const char *season;
    const double *at_m;     /* along the run */
    const double *height_m; /* of the cable above the datum; NAN breaks the line */
    size_t count;
    double least_clearance_m; /* for the text; NAN where not known */
} fe_overhead_line;

typedef struct fe_overhead_post {
    double at_m;
    double ground_m;
    double attachment_m; /* above the datum */
} fe_overhead_post;

typedef struct fe_overhead_crossing {
    const char *name;
    double from_m;
    double to_m;
    double needed_m;  /* clearance above what lies there: ground, or snow where that counts */
    double surface_m; /* what it is counted from, above the datum */
} fe_overhead_crossing;

typedef struct fe_overhead_data {
    const char *id;
    const char *title;
    const double *distance_m;
    const double *ground_m;
    size_t count;
    double snow_m;
    const fe_overhead_post *posts; /* the ends included */
    size_t post_count;
    const fe_overhead_line *lines;
    size_t line_count; /* at most FE_FIGURE_MOST_LINES */
    const fe_overhead_crossing *crossings;
    size_t crossing_count;
} fe_overhead_data;
FE_MUST_CHECK fe_status fe_figure_overhead(const fe_overhead_data *data, fe_units units,
                                           fe_figure *figure);

/* Dashes and markers that can be told apart without colour. */
enum { FE_FIGURE_MOST_LINES = 6 };

/* ---- budget: from the transmitter's power down to what is left ---- */
typedef struct fe_budget_step {
    const char *label;
    double change_db; /* gain above zero, loss below */
} fe_budget_step;

typedef struct fe_budget_data {
    const char *id;
    const char *title;
    double power_dbm;
    const fe_budget_step *steps;
    size_t count;
    double
        needed_dbm; /* level that the wanted rate needs, fade margin included if not a step */
} fe_budget_data;
FE_MUST_CHECK fe_status fe_figure_budget(const fe_budget_data *data, fe_units units,
                                         fe_figure *figure);

/* ---- relays: rate and margin against their number ---- */
typedef struct fe_relays_point {
    unsigned relays;
    double rate_bps;
    double margin_db; /* of the weakest hop */
    double chance;    /* that every hop holds in every season */
} fe_relays_point;

typedef struct fe_relays_data {
    const char *id;
    const char *title;
    const fe_relays_point *points;
    size_t count;
    double needed_bps; /* 0: none asked */
    double confidence; /* that is wanted; numbers that reach it are filled */
} fe_relays_data;
/* Adds the point of a chain to so many; none where an antenna stands under the snow. Returns how
 * many there are. */
size_t fe_figure_relays_add(fe_relays_point *points, size_t count, const fe_chain *chain);

FE_MUST_CHECK fe_status fe_figure_relays(const fe_relays_data *data, fe_units units,
                                         fe_figure *figure);

/* ---- claim: range against frequency, with what was claimed ---- */
typedef struct fe_claim_curve_data {
    const char *id;
    const char *title;
    double low_hz; /* shown from here to there */
    double high_hz;
    double from_hz; /* where the range is known */
    double to_hz;   /* where it is claimed */
    double claimed; /* as a factor of the known range, > 0 */
    double range_m; /* the known range; 0: factors are shown */
} fe_claim_curve_data;
FE_MUST_CHECK fe_status fe_figure_claim(const fe_claim_curve_data *data, fe_units units,
                                        fe_figure *figure);

/* ---- stringing: sag of each span against the air on the day of pulling ---- */
typedef struct fe_stringing_data {
    const char *id;
    const char *title;
    const double *temp_c; /* rising */
    size_t temp_count;
    const double *sag_m;  /* [temperature][span] */
    const double *span_m; /* length of each */
    const size_t *alike;  /* the first span strung as each; drawn once; null: all differ */
    size_t span_count;    /* of more than FE_FIGURE_MOST_LINES some are drawn, first and last */
} fe_stringing_data;
FE_MUST_CHECK fe_status fe_figure_stringing(const fe_stringing_data *data, fe_units units,
                                            fe_figure *figure);

/* ---- sketch: what stands where, for the sheet that goes outdoors ---- */
typedef struct fe_sketch_support {
    double at_m;
    double ground_m;
    double top_m;
} fe_sketch_support;

typedef struct fe_sketch_point {
    double at_m;
    double height_m;
} fe_sketch_point;

/* What the run, or the trench, crosses. */
typedef struct fe_sketch_crossing {
    const char *name;
    double from_m;
    double to_m;
} fe_sketch_crossing;

/* The top of a post, drawn beside the run; widths as in life, heights not. */
typedef struct fe_sketch_top {
    double bolt_m;   /* from the post's top down to the bolt of the data cable */
    double supply_m; /* from there up to that of a supply cable; 0: there is none */
    double width_m;  /* of the post */
    bool slides;     /* the cable passes in a clamp; else it is tied off on both sides */
} fe_sketch_top;

typedef struct fe_sketch_data {
    const char *id;
    const char *title;
    const char *from_name;
    const char *to_name;
    const double *distance_m; /* of the ground, rising */
    const double *ground_m;
    size_t count;
    const fe_sketch_support *supports; /* both ends and what stands between; may be none */
    size_t support_count;
    const char *support_name;    /* of what stands between; null: "Post" */
    const fe_sketch_point *line; /* cable or line of sight; may be none */
    size_t line_count;
    const fe_sketch_crossing *crossings; /* may be none */
    size_t crossing_count;
    const fe_sketch_top *top; /* null: no post */
} fe_sketch_data;
FE_MUST_CHECK fe_status fe_figure_sketch(const fe_sketch_data *data, fe_units units,
                                         fe_figure *figure);

/* ---- feed: voltage along the cable, as a share of the source's ---- */
typedef struct fe_feed_curve {
    const char *name; /* "48 V, 6 mm2 copper" */
    double source_v;
    const double *at_m;
    const double *voltage_v;
    size_t count;
} fe_feed_curve;

typedef struct fe_feed_data {
    const char *id;
    const char *title;
    const fe_feed_curve *lines;
    size_t line_count;   /* at most FE_FIGURE_MOST_LINES */
    double allowed_drop; /* fraction of the source voltage, 0.03; 0: none */
} fe_feed_data;
FE_MUST_CHECK fe_status fe_figure_feed(const fe_feed_data *data, fe_units units,
                                       fe_figure *figure);

/* ---- around: the margin at every cell of the land about one end ---- */
typedef struct fe_around_data {
    const char *id;
    const char *title;
    const char *end_name;   /* who stands in the middle */
    const float *margin_db; /* row by row; NAN: none there */
    size_t columns;         /* 2 or more */
    size_t rows;
    double east_m[2]; /* metres east from a cell to the next of its row, and of its column */
    double north_m[2];
    double column; /* where the end stands, from the middle of cell 0 */
    double row;
    double radius_m;
} fe_around_data;
/* Means over small squares are drawn, in steps with labelled contours between them. */
FE_MUST_CHECK fe_status fe_figure_around(const fe_around_data *data, fe_units units,
                                         fe_figure *figure);

/* ---- reach: length of cables against the limit of what runs over them ---- */
typedef struct fe_reach_row {
    const char *name; /* "1 Gb/s", "outdoor-data in the ground" */
    double length_m;  /* > 0 */
    double limit_m;   /* 0: none at all */
    fe_mark mark;
} fe_reach_row;

typedef struct fe_reach_data {
    const char *id;
    const char *title;
    const fe_reach_row *rows;
    size_t count;
} fe_reach_data;
FE_MUST_CHECK fe_status fe_figure_reach(const fe_reach_data *data, fe_units units,
                                        fe_figure *figure);

/* ---- poe: power left at a device against the length of the cable ---- */
typedef struct fe_poe_curve {
    const char *name; /* "class 4, 25.5 W promised" */
    const double *at_m;
    const double *power_w; /* NAN where nothing arrives */
    size_t count;
    double here_w; /* left at length_m, for the text; NAN: nothing */
} fe_poe_curve;

typedef struct fe_poe_data {
    const char *id;
    const char *title;
    const fe_poe_curve *lines;
    size_t line_count; /* at most FE_FIGURE_MOST_LINES */
    double length_m;   /* of the cable in question */
    double need_w;     /* 0: not known */
} fe_poe_data;
FE_MUST_CHECK fe_status fe_figure_poe(const fe_poe_data *data, fe_units units,
                                      fe_figure *figure);

#endif
