/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/diffraction.h"

#include <math.h>

#include "base/argument.h"
#include "farend/constants.h"
#include "farend/knife_edge.h"
#include "propagation/bullington_v.h"

static const double STATED_FROM_HZ = 10e6;

fe_diffraction_wave fe_diffraction_wave_over_land(double f_hz, double ae_m, bool vertical)
{
    return (fe_diffraction_wave){
        .f_hz = f_hz,
        .ae_m = ae_m,
        .vertical = vertical,
        .permittivity = FE_LAND_PERMITTIVITY,
        .conductivity_s_m = FE_LAND_CONDUCTIVITY_S_M,
        .omega_sea = 0.0,
        .c_m_s = FE_SPEED_OF_LIGHT_M_S,
    };
}

static bool wave_is_usable(const fe_diffraction_wave *wave)
{
    return is_positive(wave->f_hz) && is_positive(wave->ae_m) && is_positive(wave->c_m_s) &&
           is_positive(wave->permittivity - 1.0) && is_at_least_zero(wave->conductivity_s_m) &&
           wave->omega_sea >= 0.0 && wave->omega_sea <= 1.0;
}

static fe_status range_of(const fe_diffraction_wave *wave)
{
    return wave->f_hz < STATED_FROM_HZ ? FE_W_RANGE : FE_OK;
}

/*
 * What stands over the line of sight; all zero where nothing does. A rise is the slope from an
 * antenna to a point, above that of the line: the source's slopes less the line's own, so that
 * points under the line count in none of them.
 */
typedef struct obstructions {
    double rise1; /* with clutter and the earth's bulge */
    double rise2;
    double bare; /* highest bare ground over the line, without bulge */
    double bare_rise1;
    double bare_rise2;
} obstructions;

/*
 * What the first pass over the profile gathers: one division a point, two sums and one maximum.
 * The largest v is found by its signed square, without roots: excess |excess| / (d1 d2), to be
 * scaled by 2 d / lambda. The second pass, for the obstructions, is made only where that is not
 * below zero; in one loop both ran at 0.6 of the speed on clear paths.
 */
typedef struct sweep {
    double v_squared;   /* over ground, clutter and bulge; below 0 in line of sight */
    double area;        /* twice the area under the bare ground: v1 of the source */
    double moment;      /* six times its moment about the first end: v2 of the source */
    double clutter_sum; /* only to notice what is not finite */
    bool usable;        /* distances rise, clutter is not negative */
    obstructions over;
} sweep;

static inline double length_of(const fe_diffraction_path *path)
{
    return path->d_m[path->n - 1] - path->d_m[0];
}

static inline double line_slope_of(const fe_diffraction_path *path)
{
    return (path->antenna2_m - path->antenna1_m) / length_of(path);
}

static inline void add_ground(sweep *s, double x_before, double h_before, double x, double h)
{
    const double step = x - x_before;
    s->area += step * (h + h_before);
    s->moment += step * (h * (2.0 * x + x_before) + h_before * (x + 2.0 * x_before));
    s->usable &= step > 0.0;
}

/* Called with a constant `cluttered`, so that the compiler makes two loops of it. */
static inline sweep sweep_points(const fe_diffraction_path *path, double curvature,
                                 bool cluttered)
{
    const double *d_m = path->d_m;
    const double *h_m = path->h_m;
    const size_t n = path->n;
    const double length_m = length_of(path);
    const double line_slope = line_slope_of(path);
    sweep s = {.v_squared = -INFINITY, .usable = true};
    double x_before = 0.0;
    double h_before = h_m[0];
    for (size_t i = 1; i + 1 < n; i++) {
        const double x = d_m[i] - d_m[0];
        const double h = h_m[i];
        const double product = x * (length_m - x);
        const double bare = h - path->antenna1_m - line_slope * x;
        double excess = bare + curvature * product;
        if (cluttered) {
            excess += path->clutter_m[i];
            s.clutter_sum += path->clutter_m[i];
            s.usable &= path->clutter_m[i] >= 0.0;
        }
        s.v_squared = larger(s.v_squared, excess * fabs(excess) / product);
        add_ground(&s, x_before, h_before, x, h);
        x_before = x;
        h_before = h;
    }
    add_ground(&s, x_before, h_before, length_m, h_m[n - 1]);
    return s;
}

static bool has_line_of_sight(const sweep *s)
{
    return s->v_squared < 0.0;
}

static obstructions find_obstructions(const fe_diffraction_path *path, double curvature)
{
    const double length_m = length_of(path);
    const double line_slope = line_slope_of(path);
    const double *clutter_m = path->clutter_m;
    obstructions over = {0};
    for (size_t i = 1; i + 1 < path->n; i++) {
        const double x = path->d_m[i] - path->d_m[0];
        const double y = length_m - x;
        const double bare = path->h_m[i] - path->antenna1_m - line_slope * x;
        const double excess = bare + curvature * (x * y) + (clutter_m ? clutter_m[i] : 0.0);
        if (excess <= 0.0)
            continue;
        const double r = 1.0 / (x * y); /* one division for four slopes */
        over.rise1 = larger(over.rise1, excess * (y * r));
        over.rise2 = larger(over.rise2, excess * (x * r));
        if (bare > 0.0) {
            over.bare = larger(over.bare, bare);
            over.bare_rise1 = larger(over.bare_rise1, bare * (y * r));
            over.bare_rise2 = larger(over.bare_rise2, bare * (x * r));
        }
    }
    return over;
}

static fe_status sweep_path(const fe_diffraction_path *path, double curvature, sweep *result)
{
    if (path->n < 2 || !(path->antenna1_m >= path->h_m[0]) ||
        !(path->antenna2_m >= path->h_m[path->n - 1]))
        return FE_E_DOMAIN;
    sweep s = path->clutter_m ? sweep_points(path, curvature, true)
                              : sweep_points(path, curvature, false);
    /* A height that is not finite has made the sums so. */
    if (!s.usable || !isfinite(s.area + s.moment) || !isfinite(s.clutter_sum) ||
        !isfinite(path->antenna1_m) || !isfinite(path->antenna2_m))
        return FE_E_DOMAIN;
    if (!has_line_of_sight(&s))
        s.over = find_obstructions(path, curvature);
    *result = s;
    return FE_OK;
}

/* J(v) for a v that is finite, or -INFINITY. */
static double edge_loss(double v)
{
    double loss_db = 0.0;
    return fe_knife_edge_loss_fit(v, &loss_db) == FE_OK ? loss_db : 0.0;
}

static fe_bullington bullington_of_v(double v, double length_m)
{
    fe_bullington b = {.v = v, .edge_db = edge_loss(v)};
    if (b.edge_db > 0.0)
        b.loss_db = bullington_loss_of_edge(b.edge_db, length_m);
    return b;
}

static fe_bullington bullington_actual(const fe_diffraction_path *path, const sweep *s,
                                       double lambda_m)
{
    const double length_m = length_of(path);
    double v = bullington_v_of_square(s->v_squared, length_m, lambda_m);
    if (!has_line_of_sight(s))
        v = bullington_v_of_horizons(s->over.rise1, s->over.rise2, length_m, lambda_m, v);
    return bullington_of_v(v, length_m);
}

static fe_bullington bullington_smooth(const fe_diffraction_path *path,
                                       const fe_smooth_surface *fit, double curvature,
                                       double lambda_m)
{
    const smooth_earth e = {
        .d_m = path->d_m,
        .n = path->n,
        .a1_m = fit->effective1_m,
        .a2_m = fit->effective2_m,
        .curvature = curvature,
        .length_m = length_of(path),
    };
    return bullington_of_v(bullington_v_smooth(&e, lambda_m), e.length_m);
}

static fe_smooth_surface smooth_fit(const fe_diffraction_path *path, const sweep *s)
{
    const double length_m = length_of(path);
    double end1_m = (2.0 * s->area * length_m - s->moment) / (length_m * length_m);
    double end2_m = (s->moment - s->area * length_m) / (length_m * length_m);
    const obstructions *over = &s->over;
    if (over->bare > 0.0) {
        end1_m -= over->bare * over->bare_rise1 / (over->bare_rise1 + over->bare_rise2);
        end2_m -= over->bare * over->bare_rise2 / (over->bare_rise1 + over->bare_rise2);
    }
    fe_smooth_surface fit;
    fit.end1_m = fmin(end1_m, path->h_m[0]);
    fit.end2_m = fmin(end2_m, path->h_m[path->n - 1]);
    fit.effective1_m = path->antenna1_m - fit.end1_m;
    fit.effective2_m = path->antenna2_m - fit.end2_m;
    return fit;
}

/* The ground's surface admittance for a first-term loss, sec 3.1.1.1. */
static double surface_admittance(double permittivity, double conductivity_s_m, bool vertical,
                                 double ae_km, double f_ghz)
{
    const double loss_term = 18.0 * conductivity_s_m / f_ghz;
    const double horizontal =
        0.036 / (cbrt(ae_km * f_ghz) * sqrt(hypot(permittivity - 1.0, loss_term)));
    return vertical ? horizontal * hypot(permittivity, loss_term) : horizontal;
}

static double distance_term(double x)
{
    if (x >= 1.6)
        return 11.0 + 10.0 * log10(x) - 17.6 * x;
    return -20.0 * log10(x) - 5.6488 * pow(x, 1.425);
}

static double height_gain(double beta_y, double admittance)
{
    const double gain_db = beta_y > 2.0
                               ? 17.6 * sqrt(beta_y - 1.1) - 5.0 * log10(beta_y - 1.1) - 8.0
                               : 20.0 * log10(beta_y + 0.1 * beta_y * beta_y * beta_y);
    return fmax(gain_db, 2.0 + 20.0 * log10(admittance));
}

typedef struct first_term {
    double fx_db;
    double gy1_db;
    double gy2_db;
} first_term;

/* Distance in m, heights in m, over one kind of ground; rounded constants of the source. */
static first_term first_term_over(double permittivity, double conductivity_s_m, double d_m,
                                  double h1_m, double h2_m, double radius_m,
                                  const fe_diffraction_wave *wave)
{
    const double ae_km = 1e-3 * radius_m;
    const double f_ghz = 1e-9 * wave->f_hz;
    const double k =
        surface_admittance(permittivity, conductivity_s_m, wave->vertical, ae_km, f_ghz);
    const double k2 = k * k;
    const double beta = (1.0 + 1.6 * k2 + 0.67 * k2 * k2) / (1.0 + 4.5 * k2 + 1.53 * k2 * k2);
    const double x = 21.88 * beta * cbrt(f_ghz / (ae_km * ae_km)) * 1e-3 * d_m;
    const double y_per_m = 0.9575 * beta * cbrt(f_ghz * f_ghz / ae_km);
    return (first_term){distance_term(x), height_gain(beta * y_per_m * h1_m, k),
                        height_gain(beta * y_per_m * h2_m, k)};
}

static double first_term_loss(first_term t)
{
    return -t.fx_db - t.gy1_db - t.gy2_db;
}

/* First term for the ground as given, weighted with that of sea; sets the parts. */
static void set_first_term(double d_m, double h1_m, double h2_m,
                           const fe_diffraction_wave *wave, fe_spherical_earth *result)
{
    const first_term land = first_term_over(wave->permittivity, wave->conductivity_s_m, d_m,
                                            h1_m, h2_m, result->radius_m, wave);
    result->fx_db = land.fx_db;
    result->gy1_db = land.gy1_db;
    result->gy2_db = land.gy2_db;
    result->loss_db = first_term_loss(land);
    if (wave->omega_sea > 0.0) {
        const first_term sea = first_term_over(FE_SEA_PERMITTIVITY, FE_SEA_CONDUCTIVITY_S_M,
                                               d_m, h1_m, h2_m, result->radius_m, wave);
        result->loss_db =
            wave->omega_sea * first_term_loss(sea) + (1.0 - wave->omega_sea) * result->loss_db;
    }
}

/* Where the line of sight between two antennas is nearest to the round earth. */
typedef struct nearest_point {
    double d1_m;
    double d2_m;
    double clearance_m;
} nearest_point;

static nearest_point nearest_to_earth(double d_m, double h1_m, double h2_m, double ae_m)
{
    const double c = (h1_m - h2_m) / (h1_m + h2_m);
    const double m = d_m * d_m / (4.0 * ae_m * (h1_m + h2_m));
    const double m1 = m + 1.0;
    /* At most 1 in size but for rounding. */
    const double cosine = 1.5 * c * sqrt(3.0 * m / (m1 * m1 * m1));
    const double b = 2.0 * sqrt(m1 / (3.0 * m)) *
                     cos(FE_PI / 3.0 + acos(fmax(-1.0, fmin(1.0, cosine))) / 3.0);
    const double d1_m = 0.5 * d_m * (1.0 + b);
    const double d2_m = d_m - d1_m;
    const double drop1_m = h1_m - d1_m * d1_m / (2.0 * ae_m);
    const double drop2_m = h2_m - d2_m * d2_m / (2.0 * ae_m);
    return (nearest_point){d1_m, d2_m, (drop1_m * d2_m + drop2_m * d1_m) / d_m};
}

/* Sec 3.2, arguments checked. */
static fe_spherical_earth spherical_earth(double d_m, double h1_m, double h2_m,
                                          const fe_diffraction_wave *wave)
{
    const double roots = sqrt(h1_m) + sqrt(h2_m);
    fe_spherical_earth result = {.horizon_m = sqrt(2.0 * wave->ae_m) * roots,
                                 .radius_m = wave->ae_m};
    if (d_m >= result.horizon_m) {
        set_first_term(d_m, h1_m, h2_m, wave, &result);
        return result;
    }

    const nearest_point p = nearest_to_earth(d_m, h1_m, h2_m, wave->ae_m);
    const double lambda_m = wave->c_m_s / wave->f_hz;
    const double wanted_m = 0.552 * sqrt(p.d1_m * p.d2_m * lambda_m / d_m);
    if (p.clearance_m > wanted_m) {
        result.clear = true;
        result.fx_db = result.gy1_db = result.gy2_db = NAN;
        return result;
    }
    /* The radius that would put the far end just on the horizon. */
    result.radius_m = 0.5 * (d_m / roots) * (d_m / roots);
    set_first_term(d_m, h1_m, h2_m, wave, &result);
    result.loss_db =
        result.loss_db < 0.0 ? 0.0 : (1.0 - p.clearance_m / wanted_m) * result.loss_db;
    return result;
}

fe_status fe_bullington_loss(const fe_diffraction_path *path, const fe_diffraction_wave *wave,
                             fe_bullington *result)
{
    if (!is_positive(wave->f_hz) || !is_positive(wave->ae_m) || !is_positive(wave->c_m_s))
        return FE_E_DOMAIN;
    sweep s;
    const fe_status status = sweep_path(path, 0.5 / wave->ae_m, &s);
    if (status < 0)
        return status;
    *result = bullington_actual(path, &s, wave->c_m_s / wave->f_hz);
    return range_of(wave);
}

fe_status fe_smooth_surface_fit(const fe_diffraction_path *path, fe_smooth_surface *result)
{
    fe_diffraction_path bare = *path;
    bare.clutter_m = NULL;
    sweep s;
    const fe_status status = sweep_path(&bare, 0.0, &s);
    if (status < 0)
        return status;
    *result = smooth_fit(&bare, &s);
    return FE_OK;
}

fe_status fe_spherical_earth_loss(double d_m, double h1_m, double h2_m,
                                  const fe_diffraction_wave *wave, fe_spherical_earth *result)
{
    if (!is_positive(d_m) || !(h1_m >= 0.0) || !(h2_m >= 0.0) || !isfinite(h1_m + h2_m) ||
        !wave_is_usable(wave))
        return FE_E_DOMAIN;
    *result = spherical_earth(d_m, h1_m, h2_m, wave);
    return range_of(wave);
}

fe_status fe_delta_bullington_loss(const fe_diffraction_path *path,
                                   const fe_diffraction_wave *wave, fe_delta_bullington *result)
{
    if (!wave_is_usable(wave))
        return FE_E_DOMAIN;
    const double curvature = 0.5 / wave->ae_m;
    const double lambda_m = wave->c_m_s / wave->f_hz;
    sweep s;
    const fe_status status = sweep_path(path, curvature, &s);
    if (status < 0)
        return status;

    fe_delta_bullington all;
    all.line_of_sight = has_line_of_sight(&s);
    all.actual = bullington_actual(path, &s, lambda_m);
    all.fit = smooth_fit(path, &s);
    all.smooth = bullington_smooth(path, &all.fit, curvature, lambda_m);
    all.sphere =
        spherical_earth(length_of(path), all.fit.effective1_m, all.fit.effective2_m, wave);
    all.loss_db = all.actual.loss_db + fmax(all.sphere.loss_db - all.smooth.loss_db, 0.0);
    *result = all;
    return range_of(wave);
}
