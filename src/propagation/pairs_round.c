/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "propagation/pairs_round.h"

#include <math.h>

#include "farend/knife_edge.h"
#include "propagation/bullington_v.h"
#include "propagation/lanes.h"

/* Loops here have neither calls nor jumps, or the compiler would not put pairs side by side.
 * What the short way cannot answer is marked NAN and done one by one. */

static inline double amplitude_db(double logarithm)
{
    return 8.6858896380650366 * logarithm; /* 20 log10 */
}

/* ---- Bullington's part ---- */

static inline double bullington_loss(double v, double length_m)
{
    const double w = v - 0.1;
    const double edge_db = 6.9 + amplitude_db(lane_log(sqrt(w * w + 1.0) + w));
    const double loss_db =
        edge_db + (1.0 - lane_exp(-edge_db / 6.0)) * (10.0 + 2e-5 * length_m);
    return v <= FE_KNIFE_EDGE_CLEAR_V ? 0.0 : loss_db;
}

void pairs_edges_compute(pairs_edges *edges)
{
    for (size_t i = 0; i < edges->count; i++)
        edges->loss_db[i] = bullington_loss(edges->v[i], edges->length_m[i]);
}

/* ---- The smooth earth ---- */

/* Height of the smooth earth over the line; slopes are effective heights over the length. */
static inline double excess_at(double x, double y, double slope1, double slope2,
                               double curvature)
{
    return curvature * (x * y) - (slope1 * y + slope2 * x);
}

static double smooth_loss(const pairs_earth *earth, const pairs_rounds *rounds, size_t k)
{
    const smooth_earth even = {.d_m = earth->d_m + rounds->from,
                               .n = rounds->to[k] - rounds->from + 1,
                               .a1_m = rounds->h1_m[k],
                               .a2_m = rounds->h2_m[k],
                               .curvature = earth->curvature,
                               .length_m = rounds->length_m[k]};
    return bullington_loss(bullington_v_smooth(&even, earth->lambda_m), even.length_m);
}

/*
 * Within the horizon v rises to one peak and falls, so that the point is found whose neighbours
 * are no higher: excess^2 / (x y) is least there, compared without a division.
 */
static void take_smooth(const pairs_earth *earth, pairs_rounds *rounds)
{
    const double curvature = earth->curvature;
    const double wave = 2.0 / earth->lambda_m;
    const double horizon_scale = 1.0 / sqrt(curvature);
    for (size_t k = 0; k < rounds->count; k++) {
        const double length = rounds->length_m[k];
        const double slope1 = rounds->h1_m[k] / length;
        const double slope2 = rounds->h2_m[k] / length;
        double square[3], product[3];
        for (int i = 0; i < 3; i++) {
            const double x = rounds->near_m[i][k];
            const double y = length - x;
            const double excess = excess_at(x, y, slope1, slope2, curvature);
            square[i] = excess * excess;
            product[i] = x * y;
        }
        const double v = -sqrt(wave * length * square[1] / product[1]);
        const double before = square[0] * product[1] - square[1] * product[0];
        const double after = square[2] * product[1] - square[1] * product[2];
        const double roots = sqrt(rounds->h1_m[k]) + sqrt(rounds->h2_m[k]);
        const double loss_db = bullington_loss(v, length);
        const double found_db = before >= 0.0 ? loss_db : (double)NAN;
        const double peak_db = after >= 0.0 ? found_db : (double)NAN;
        rounds->roots[k] = roots;
        rounds->smooth_db[k] = length < roots * horizon_scale ? peak_db : (double)NAN;
    }
}

/* ---- The round earth ---- */

/* The source's first-term constants with the radius taken out: it differs from pair to pair. */
pairs_earth pairs_earth_make(const fe_diffraction_wave *wave, const double *d_m)
{
    const double f_ghz = 1e-9 * wave->f_hz;
    const double loss = 18.0 * wave->conductivity_s_m / f_ghz;
    pairs_earth earth = {.wave = wave,
                         .d_m = d_m,
                         .curvature = 0.5 / wave->ae_m,
                         .lambda_m = wave->c_m_s / wave->f_hz,
                         .x = 21.88e-3 * cbrt(f_ghz),
                         .y = 0.9575 * cbrt(f_ghz * f_ghz)};
    earth.admittance = 0.036 / (cbrt(f_ghz) * sqrt(hypot(wave->permittivity - 1.0, loss)));
    if (wave->vertical)
        earth.admittance *= hypot(wave->permittivity, loss);
    return earth;
}

/* Height gain: rest_db and 10 log10(top / bottom). */
typedef struct gain {
    double top;
    double bottom;
    double rest_db;
} gain;

static inline gain height_gain(double b, double admittance)
{
    static const double TWO_DB = 1.2589254117941673;
    const double low = larger(b + 0.1 * b * b * b, TWO_DB * admittance);
    const double root = sqrt(larger(b - 1.1, 0.1));
    return (gain){b > 2.0 ? 1.0 : low * low, b > 2.0 ? root : 1.0,
                  b > 2.0 ? 17.6 * root - 8.0 : 0.0};
}

/*
 * Within the horizon the place of least clearance, d / 2 (1 + b), has m b^3 - (m + 1) b + c =
 * 0, which the source solves by a cosine of a third of an angle. For short paths m is small and
 * three steps of Newton's method from c are exact, the second and third with the slope's
 * inverse made better by Newton's method too, not by a division. Returns the factor on the
 * first term, 0 where clear.
 */
static inline double share_of_first_term(const pairs_earth *earth, double d_m, double h1_m,
                                         double h2_m, double m)
{
    const double c = (h1_m - h2_m) / (h1_m + h2_m);
    double b = c;
    double inverse = 1.0 / (3.0 * m * c * c - (m + 1.0));
    for (int i = 0; i < 3; i++) {
        b -= (m * b * b * b - (m + 1.0) * b + c) * inverse;
        inverse *= 2.0 - (3.0 * m * b * b - (m + 1.0)) * inverse;
    }
    const double d1_m = 0.5 * d_m * (1.0 + b);
    const double d2_m = d_m - d1_m;
    const double drop1_m = h1_m - earth->curvature * d1_m * d1_m;
    const double drop2_m = h2_m - earth->curvature * d2_m * d2_m;
    /* Clearance and what is wanted of it, both times d. */
    const double clearance = drop1_m * d2_m + drop2_m * d1_m;
    const double wanted = 0.552 * sqrt(d1_m * d2_m * earth->lambda_m * d_m);
    return clearance > wanted ? 0.0 : 1.0 - clearance / wanted;
}

/* First term of a path just within its horizon, F(X) and both G(Y) under one logarithm. NAN
 * where the ground's admittance could be more than a high antenna's gain. */
static inline double first_term(const pairs_earth *earth, double root_km, double d_m,
                                double h1_m, double h2_m)
{
    static const double MOST_ADMITTANCE = 2.0;
    /* The radius is root_km squared; this is its cube root, inverted. */
    const double c = lane_exp(lane_log(root_km) * (-2.0 / 3.0));
    const double k = earth->admittance * c;
    const double k2 = k * k;
    const double beta = (1.0 + 1.6 * k2 + 0.67 * k2 * k2) / (1.0 + 4.5 * k2 + 1.53 * k2 * k2);
    const double x = earth->x * beta * c * c * d_m;
    const double b_per_m = beta * beta * earth->y * c;
    const double b1 = b_per_m * h1_m;
    const double b2 = b_per_m * h2_m;
    const double log_x = lane_log(x);
    const gain g1 = height_gain(b1, k);
    const gain g2 = height_gain(b2, k);
    const double ratio = (g1.top * g2.top) / (g1.bottom * g2.bottom);
    const double gains_db = 0.5 * amplitude_db(lane_log(ratio)) + (g1.rest_db + g2.rest_db);
    const double near_db = amplitude_db(log_x) + 5.6488 * lane_exp(1.425 * log_x);
    const double far_db = 17.6 * x - 11.0 - 0.5 * amplitude_db(log_x);
    const double loss_db = (x < 1.6 ? near_db : far_db) - gains_db;
    return k < MOST_ADMITTANCE ? loss_db : (double)NAN;
}

/* What fe_spherical_earth_loss says, by a shorter way where the path is short. */
static void take_sphere(const pairs_earth *earth, pairs_rounds *rounds)
{
    static const double SMALL_M = 0.1; /* so also within the horizon, where it is 0.25 */
    for (size_t i = 0; i < rounds->count; i++) {
        const double d_m = rounds->length_m[i];
        const double h1_m = rounds->h1_m[i];
        const double h2_m = rounds->h2_m[i];
        const double m = 0.5 * earth->curvature * d_m * d_m / (h1_m + h2_m);
        const double share = share_of_first_term(earth, d_m, h1_m, h2_m, m);
        const double root_km = 0.022360679774997897 * d_m / rounds->roots[i];
        const double first_db = first_term(earth, root_km, d_m, h1_m, h2_m);
        const double above_db = first_db < 0.0 ? 0.0 : first_db;
        const double loss_db = share == 0.0 ? 0.0 : share * above_db;
        rounds->sphere_db[i] = m < SMALL_M ? loss_db : (double)NAN;
    }
}

/* ---- A batch ---- */

static inline size_t between(size_t k, size_t low, size_t high)
{
    return k < low ? low : k > high ? high : k;
}

void pairs_rounds_add(const pairs_earth *earth, size_t to, double length_m, double h1_m,
                      double h2_m, pairs_rounds *rounds)
{
    const size_t at = rounds->count++;
    const size_t from = rounds->from;
    const double steps = (double)(to - from);
    const double share = h1_m + h2_m > 0.0 ? h1_m / (h1_m + h2_m) : 0.5;
    const size_t guess = from + (size_t)(share * steps + 0.5);
    const size_t middle = between(guess, from + 1, to - 1);
    const size_t near[3] = {between(middle - 1, from + 1, to - 1), middle,
                            between(middle + 1, from + 1, to - 1)};
    rounds->to[at] = to;
    rounds->length_m[at] = length_m;
    rounds->h1_m[at] = h1_m;
    rounds->h2_m[at] = h2_m;
    for (size_t i = 0; i < 3; i++)
        rounds->near_m[i][at] =
            to - from < 2 ? (double)NAN : earth->d_m[near[i]] - earth->d_m[from];
}

fe_status pairs_rounds_compute(const pairs_earth *earth, pairs_rounds *rounds)
{
    fe_status status = FE_OK;
    take_smooth(earth, rounds);
    take_sphere(earth, rounds);
    for (size_t i = 0; i < rounds->count && status >= 0; i++) {
        if (isnan(rounds->smooth_db[i]))
            rounds->smooth_db[i] = smooth_loss(earth, rounds, i);
        if (isnan(rounds->sphere_db[i])) {
            fe_spherical_earth sphere;
            status = fe_status_worse(
                status, fe_spherical_earth_loss(rounds->length_m[i], rounds->h1_m[i],
                                                rounds->h2_m[i], earth->wave, &sphere));
            if (status >= 0)
                rounds->sphere_db[i] = sphere.loss_db;
        }
    }
    return status;
}
