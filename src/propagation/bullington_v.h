/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef PROPAGATION_BULLINGTON_V_H
#define PROPAGATION_BULLINGTON_V_H

#include <math.h>
#include <stddef.h>

/* Bullington's part and its v, for one profile and for all pairs of its points. */

static inline double larger(double a, double b)
{
    /* One instruction, unlike fmax, which must look after NaN; callers refuse that. */
    return a > b ? a : b;
}

/* From the largest signed square of a point, excess |excess| / (d1 d2). */
static inline double bullington_v_of_square(double v_squared, double length_m, double lambda_m)
{
    const double v = sqrt(2.0 * length_m / lambda_m * fabs(v_squared));
    return v_squared < 0.0 ? -v : v;
}

/* The whole of Bullington's part out of J(v), which is above zero: ITU-R P.526-15 sec 4.5. */
static inline double bullington_loss_of_edge(double edge_db, double length_m)
{
    return edge_db + (1.0 - exp(-edge_db / 6.0)) * (10.0 + 2e-5 * length_m);
}

/*
 * v of the point where the horizon lines of both ends meet, in place of all obstacles; rises
 * are their slopes over that of the line of sight. `v_points` is the largest v of the profile's
 * own points: at grazing the two lines are one, their crossing is lost in rounding, and the
 * touching point itself is the answer.
 */
double bullington_v_of_horizons(double rise1, double rise2, double length_m, double lambda_m,
                                double v_points);

/* A profile of no height under two antennas: the smooth earth that Bullington's part sees. */
typedef struct smooth_earth {
    const double *d_m; /* of the points, from any zero */
    size_t n;          /* 2 or more, both ends among them */
    double a1_m;
    double a2_m;
    double curvature; /* half that of the earth */
    double length_m;
} smooth_earth;

/* -INFINITY where no point lies between the ends. */
double bullington_v_smooth(const smooth_earth *e, double lambda_m);

#endif
