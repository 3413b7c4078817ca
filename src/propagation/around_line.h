/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef PROPAGATION_AROUND_LINE_H
#define PROPAGATION_AROUND_LINE_H

#include "farend/diffraction.h"
#include "farend/standing.h"
#include "propagation/around_table.h"

/* The line to one cell of the map around a place, and what it meets under one height of snow. */

/* What is the same for all cells. */
typedef struct around_job {
    const fe_around *in;
    around_table table;
    double step_m;   /* between the points of a line, at most */
    double height_m; /* of the ground at the first end */
    size_t room;     /* points of the longest line */
    double *inverse; /* 1 / i */
    float *margin_db;
    float *chance;
    fe_diffraction_wave wave;
} around_job;

/*
 * The straight line to one cell, in even pieces as the terrain command samples it. The antennas
 * stand over bare ground here; snow lifts every point towards them by its own depth.
 */
typedef struct around_line around_line;
struct around_line {
    const around_job *work;
    size_t index; /* of the cell */
    double length_m;
    double rise_m; /* bare ground of the cell over that of the first end */
    size_t pieces;
    double piece_m;
    double *bare_m;  /* pieces + 1 heights over the bare ground of the first end */
    double *over_m;  /* the same over the line between the antennas, with the earth's bulge */
    double most_m;   /* highest of those between the ends */
    double area;     /* twice the area under the bare ground, six times its moment about the */
    double moment;   /* first end, as the source of the fit sums them */
    double *along_m; /* with tops: distances of the points */
    double *clutter_m; /* what stands at each above the ground */
    double *solid_m;   /* what of it counts */
    fe_standing_use *uses;
    bool cluttered;           /* anything counts */
    around_line *over;        /* the line over what counts, for one height of the snow */
    const around_line *under; /* of such a line: that over the bare ground */
    double snow_m;            /* and that height */
    double *fine_d;           /* the line as the single path refines it */
    double *fine_h;
    size_t fine_room;
    size_t fine_count; /* 0: not made yet */
    fe_status status;
    size_t cells;
    size_t holds;
    size_t alone; /* cells left to the single path */
};

/* Room for the longest line; false where there is none, and then there is nothing to free. */
bool around_line_make(const around_job *work, around_line *l);
void around_line_free(around_line *l);

/* Sets length and height of a cell; false where nothing is computed for it. */
bool around_line_reaches(around_line *l, size_t column, size_t row);

/* Walks to that cell: the ground, and what stands on it. */
void around_line_walk(around_line *l, size_t column, size_t row);

/* The line over what counts: snow lies under it and leaves its top where it is. */
void around_line_raise(const around_line *l, double snow_m);

/* The line as the single path refines it. */
void around_line_refine(around_line *l);

/* Height of an antenna over the bare ground of its end. */
double around_antenna(const around_job *work, int end);

/* What the ground does between the two antennas, the snow at one height. */
typedef struct around_sight {
    double length;
    double inverse;
    double a1; /* antennas over the first end's ground, lowered by the snow */
    double a2;
    double v;   /* of the one edge in place of all obstacles */
    size_t top; /* the point that most nearly enters or cuts the zone; 0: not looked for */
    double actual_db;
    double h1; /* heights over the fitted surface */
    double h2;
} around_sight;

/* The points of the line, and the surface fitted to them; length and antennas are set. */
void around_look_along(const around_line *l, double snow_m, around_sight *s);

/* The points alone; the surface stays. */
void around_look_up(const around_line *l, double snow_m, around_sight *s);

/* False where the points show that there is no single sharp edge, as fe_isolated_edge_find wants
 * it. */
bool around_may_be_edge(const around_line *l, double snow_m, const around_sight *s);

/*
 * What the smooth earth's own edge leaves of the round earth, over the fitted surface. Statuses
 * of fe_spherical_earth_loss.
 */
FE_MUST_CHECK fe_status around_round_earth(const around_job *work, const around_sight *s,
                                           double *sphere_db, double *smooth_db);

#endif
