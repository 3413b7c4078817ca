/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/ground_ray.h"

#include <complex.h>
#include <gsl/gsl_cdf.h>
#include <math.h>

#include "base/argument.h"
#include "base/root.h"
#include "farend/constants.h"
#include "farend/free_space.h"
#include "propagation/hop_parts.h"

/* Power below which a null is called one: 200 dB, far under what rounding leaves. */
static const double NULL_POWER = 1e-20;

static bool is_path(const fe_ground_path *path)
{
    return is_positive(path->f_hz) && is_positive(path->distance_m) &&
           is_positive(path->height1_m) && is_positive(path->height2_m);
}

static bool is_reflection(const fe_reflection *reflection)
{
    return reflection->size >= 0.0 && reflection->size <= 1.0 + 1e-12 &&
           isfinite(reflection->phase_rad);
}

static double wavelength_of(double f_hz)
{
    return FE_SPEED_OF_LIGHT_M_S / f_hz;
}

fe_status fe_ground_grazing(const fe_ground_path *path, double *grazing_rad)
{
    if (!is_path(path))
        return FE_E_DOMAIN;
    *grazing_rad = atan2(path->height1_m + path->height2_m, path->distance_m);
    return FE_OK;
}

fe_status fe_ground_reflection(const fe_permittivity *ground, fe_ground_wave wave,
                               double grazing_rad, double rough, fe_reflection *result)
{
    if (!(ground->real >= 1.0) || !isfinite(ground->real) || !is_at_least_zero(ground->loss) ||
        !(grazing_rad >= 0.0) || !(grazing_rad <= FE_PI / 2.0) || !is_at_least_zero(rough))
        return FE_E_DOMAIN;
    const double complex eps = ground->real - I * ground->loss;
    const double sine = sin(grazing_rad);
    const double cosine = cos(grazing_rad);
    const double complex root = csqrt(eps - cosine * cosine);
    const double complex facing = wave == FE_GROUND_VERTICAL ? eps * sine : sine;
    /* A surface like air reflects nothing; at grazing both would be zero. */
    const double complex sum = facing + root;
    const double complex coefficient = cabs(sum) > 0.0 ? (facing - root) / sum : 0.0;
    const double g = 4.0 * FE_PI * rough * sine;
    *result = (fe_reflection){
        .size = fmin(cabs(coefficient), 1.0) * exp(-g * g / 2.0),
        .phase_rad = carg(coefficient),
    };
    return FE_OK;
}

fe_status fe_ground_reflection_over(const fe_ground_path *path, fe_surface surface,
                                    fe_ground_wave wave, fe_reflection *result)
{
    double grazing_rad;
    fe_permittivity ground;
    if (fe_ground_grazing(path, &grazing_rad) < 0)
        return FE_E_DOMAIN;
    const fe_status status = fe_surface_permittivity(surface, path->f_hz, &ground);
    if (status < 0)
        return status;
    const double rough = fe_surface_roughness_m(surface) / wavelength_of(path->f_hz);
    return fe_status_worse(status,
                           fe_ground_reflection(&ground, wave, grazing_rad, rough, result));
}

/* How much longer the reflected way is. Written as a quotient: the difference of two nearly
 * equal lengths would lose six digits at 2 km. */
static double path_difference_m(const fe_ground_path *path, double direct_m, double reflected_m)
{
    return 4.0 * path->height1_m * path->height2_m / (direct_m + reflected_m);
}

static double power_loss_db(double amplitude, double cos_phase)
{
    const double power = 1.0 + amplitude * amplitude + 2.0 * amplitude * cos_phase;
    return -10.0 * log10(fmax(power, NULL_POWER));
}

fe_status fe_ground_ray_loss(const fe_ground_path *path, const fe_reflection *reflection,
                             fe_ground_ray *result)
{
    if (!is_path(path) || !is_reflection(reflection))
        return FE_E_DOMAIN;
    const double wavelength_m = wavelength_of(path->f_hz);
    const double direct_m = hypot(path->distance_m, path->height1_m - path->height2_m);
    const double reflected_m = hypot(path->distance_m, path->height1_m + path->height2_m);
    const double behind_rad =
        2.0 * FE_PI / wavelength_m * path_difference_m(path, direct_m, reflected_m);
    double free_space_db;
    const fe_status status = fe_free_space_loss(direct_m, path->f_hz, &free_space_db);
    if (status < 0)
        return status;

    const double amplitude = reflection->size * direct_m / reflected_m;
    const double phase_rad = behind_rad - reflection->phase_rad;
    const double loss_db = power_loss_db(amplitude, cos(phase_rad));
    *result = (fe_ground_ray){
        .loss_db = loss_db,
        .free_space_db = free_space_db,
        .total_db = free_space_db + loss_db,
        .phase_rad = phase_rad,
        .amplitude = amplitude,
    };
    return fmin(path->height1_m, path->height2_m) < wavelength_m ? FE_W_RANGE : status;
}

/* The cosine of a phase that is normal about `mean` with deviation `sigma`. */
typedef struct phase_law {
    double mean;
    double sigma;
    double chance;
} phase_law;

/* Chance that the cosine stays below cos(angle), angle from 0 to pi, less the wanted one. */
static double cosine_chance(double angle, void *constants)
{
    const phase_law *law = constants;
    double chance = 0.0;
    /* A spread of pi/2 at most keeps all but 1e-9 of the phase within two turns of the mean. */
    for (int turn = -3; turn <= 3; turn++) {
        const double from = 2.0 * FE_PI * turn + angle - law->mean;
        const double to = 2.0 * FE_PI * (turn + 1) - angle - law->mean;
        chance += gsl_cdf_ugaussian_P(to / law->sigma) - gsl_cdf_ugaussian_P(from / law->sigma);
    }
    return chance - law->chance;
}

fe_status hop_cosine_quantile(double mean_rad, double sigma_rad, double chance, double *cosine)
{
    if (sigma_rad == 0.0) {
        *cosine = cos(mean_rad);
        return FE_OK;
    }
    double angle = 0.0;
    phase_law law = {mean_rad, sigma_rad, chance};
    const fe_status status =
        root_between(cosine_chance, &law, 0.0, FE_PI, (root_width){.absolute = 1e-12}, &angle);
    if (status == FE_OK)
        *cosine = cos(angle);
    return status;
}

static double phase_spread_rad(const fe_ground_path *path, double error1_m, double error2_m)
{
    return 4.0 * FE_PI * hypot(path->height1_m * error2_m, path->height2_m * error1_m) /
           (wavelength_of(path->f_hz) * path->distance_m);
}

/* Loss of the mean power, the phase being normal or, spread wider than pi/2, anything. */
static double mean_loss_db(const fe_ground_ray *ray, double spread_rad)
{
    const double mean_cosine =
        spread_rad > FE_PI / 2.0
            ? 0.0
            : cos(remainder(ray->phase_rad, 2.0 * FE_PI)) * exp(-spread_rad * spread_rad / 2.0);
    return power_loss_db(ray->amplitude, mean_cosine);
}

fe_status fe_ground_ray_mean(const fe_ground_path *path, const fe_reflection *reflection,
                             double error1_m, double error2_m, double *loss_db)
{
    if (!is_at_least_zero(error1_m) || !is_at_least_zero(error2_m))
        return FE_E_DOMAIN;
    fe_ground_ray ray;
    const fe_status status = fe_ground_ray_loss(path, reflection, &ray);
    if (status >= 0)
        *loss_db = mean_loss_db(&ray, phase_spread_rad(path, error1_m, error2_m));
    return status;
}

/* ---- Without angles ---- */

/* Standard deviations of a normal below which nine in ten lie; the cosine below which they do
 * where any phase is as likely as another. */
static const double NINE_IN_TEN = 1.2815515655446004;
static const double ANY_PHASE_NINE_IN_TEN = 0.9510565162951535;

hop_ray hop_ray_over(const fe_ground_path *path, double error1_m, double error2_m)
{
    const double d_m = path->distance_m;
    const double sum_m = path->height1_m + path->height2_m;
    const double difference_m = path->height1_m - path->height2_m;
    const double direct_m = sqrt(d_m * d_m + difference_m * difference_m);
    const double reflected_m = sqrt(d_m * d_m + sum_m * sum_m);
    const double behind_rad = 2.0 * FE_PI / wavelength_of(path->f_hz) *
                              path_difference_m(path, direct_m, reflected_m);
    const double spread_rad = phase_spread_rad(path, error1_m, error2_m);
    return (hop_ray){
        .sine = sum_m / reflected_m,
        .cosine_square = d_m / reflected_m * (d_m / reflected_m),
        .ratio = direct_m / reflected_m,
        .behind_cosine = cos(behind_rad),
        .behind_sine = sin(behind_rad),
        .steady = spread_rad > FE_PI / 2.0 ? 0.0 : exp(-spread_rad * spread_rad / 2.0),
    };
}

/* The reflected ray over the direct one: the square of its size, and the part along it. */
static void reflect(const hop_ray *ray, const fe_permittivity *soil, double rough,
                    double *square, double *along)
{
    /* The root of eps - cos^2, which lies below the real axis. */
    const double real = soil->real - ray->cosine_square;
    const double root_real = sqrt((sqrt(real * real + soil->loss * soil->loss) + real) / 2.0);
    const double root_imaginary = root_real > 0.0 ? -soil->loss / (2.0 * root_real) : 0.0;
    const double facing_real = soil->real * ray->sine;
    const double facing_imaginary = -soil->loss * ray->sine;
    const double over_real = facing_real - root_real;
    const double over_imaginary = facing_imaginary - root_imaginary;
    const double under_real = facing_real + root_real;
    const double under_imaginary = facing_imaginary + root_imaginary;
    const double under = under_real * under_real + under_imaginary * under_imaginary;
    const double g = 4.0 * FE_PI * rough * ray->sine;
    const double scale = under > 0.0 ? ray->ratio * exp(-g * g / 2.0) / under : 0.0;
    const double x = scale * (over_real * under_real + over_imaginary * under_imaginary);
    const double y = scale * (over_imaginary * under_real - over_real * under_imaginary);
    *square = x * x + y * y;
    *along = x * ray->behind_cosine + y * ray->behind_sine;
}

static double loss_of_power(double power)
{
    return -10.0 * log10(fmax(power, NULL_POWER));
}

double hop_ray_mean(const hop_ray *ray, const fe_permittivity *soil, double rough)
{
    double square, along;
    reflect(ray, soil, rough, &square, &along);
    return loss_of_power(1.0 + square + 2.0 * ray->steady * along);
}

hop_ray_level hop_ray_levels(const hop_ray *ray, const fe_permittivity *soil, double rough)
{
    double square, along;
    reflect(ray, soil, rough, &square, &along);
    const double size = sqrt(square);
    const double mean = ray->steady * along;
    /* Mean square of the cosine: (1 + cos 2 phase exp(-2 spread^2)) / 2. */
    const double steady2 = ray->steady * ray->steady;
    const double doubled = (2.0 * along * along - square) * steady2 * steady2;
    const double sigma = sqrt(fmax(0.0, (square + doubled) / 2.0 - mean * mean));
    const double high = ray->steady > 0.0 ? fmin(size, mean + NINE_IN_TEN * sigma)
                                          : size * ANY_PHASE_NINE_IN_TEN;
    const double low = ray->steady > 0.0 ? fmax(-size, mean - NINE_IN_TEN * sigma) : -high;
    return (hop_ray_level){
        .mean_db = loss_of_power(1.0 + square + 2.0 * mean),
        .sigma_db = (loss_of_power(1.0 + square + 2.0 * low) -
                     loss_of_power(1.0 + square + 2.0 * high)) /
                    (2.0 * NINE_IN_TEN),
    };
}

fe_status fe_ground_ray_spread(const fe_ground_path *path, const fe_reflection *reflection,
                               double error1_m, double error2_m, fe_ground_spread *result)
{
    if (!is_at_least_zero(error1_m) || !is_at_least_zero(error2_m))
        return FE_E_DOMAIN;
    fe_ground_ray ray;
    fe_status status = fe_ground_ray_loss(path, reflection, &ray);
    if (status < 0)
        return status;

    const double spread_rad = phase_spread_rad(path, error1_m, error2_m);
    const bool any_phase = spread_rad > FE_PI / 2.0;
    const double mean_rad = remainder(ray.phase_rad, 2.0 * FE_PI);
    /* The loss falls as the cosine rises, so the 10 % loss belongs to the 90 % cosine. */
    static const double COSINE_CHANCES[3] = {0.9, 0.5, 0.1};
    double loss_db[3];
    for (int i = 0; i < 3; i++) {
        double cosine = 0.0;
        const double chance = COSINE_CHANCES[i];
        fe_status found = FE_OK;
        if (any_phase)
            cosine = cos(FE_PI * (1.0 - chance));
        else
            found = hop_cosine_quantile(mean_rad, spread_rad, chance, &cosine);
        if (found < 0)
            return found;
        loss_db[i] = power_loss_db(ray.amplitude, cosine);
    }
    *result = (fe_ground_spread){
        .loss_db = mean_loss_db(&ray, spread_rad),
        .loss_p10_db = loss_db[0],
        .loss_p50_db = loss_db[1],
        .loss_p90_db = loss_db[2],
        .spread_rad = spread_rad,
        .any_phase = any_phase,
    };
    return status;
}

/* Height at which the reflected way is `difference_m` longer; infinite where it never is. */
static double height_of_difference(const fe_ground_path *path, double difference_m)
{
    const double a = difference_m / 2.0;
    const double b2 = path->height1_m * path->height1_m - a * a;
    return b2 > 0.0 ? a * sqrt(1.0 + path->distance_m * path->distance_m / b2) : INFINITY;
}

fe_status fe_ground_nulls(const fe_ground_path *path, double low_m, double high_m,
                          double *heights_m, size_t room, size_t *count)
{
    fe_ground_path checked = *path;
    checked.height2_m = 1.0;
    if (!is_path(&checked) || !(low_m >= 0.0) || !(high_m >= low_m) || !isfinite(high_m))
        return FE_E_DOMAIN;
    const double wavelength_m = wavelength_of(path->f_hz);
    size_t found = 0;
    /* The difference is at most twice height1, so the loop ends. */
    for (size_t order = 1;; order++) {
        const double height_m = height_of_difference(path, (double)order * wavelength_m);
        if (!(height_m <= high_m))
            break;
        if (height_m < low_m)
            continue;
        if (found < room)
            heights_m[found] = height_m;
        found++;
    }
    *count = found;
    return FE_OK;
}

fe_status fe_ground_nulls_about(const fe_ground_path *path, double *below_m, double *above_m)
{
    if (!is_path(path))
        return FE_E_DOMAIN;
    const double wavelength_m = wavelength_of(path->f_hz);
    const double direct_m = hypot(path->distance_m, path->height1_m - path->height2_m);
    const double reflected_m = hypot(path->distance_m, path->height1_m + path->height2_m);
    const double order = floor(path_difference_m(path, direct_m, reflected_m) / wavelength_m);
    const double next_m = height_of_difference(path, (order + 1.0) * wavelength_m);
    *below_m = order >= 1.0 ? height_of_difference(path, order * wavelength_m) : NAN;
    *above_m = isfinite(next_m) ? next_m : NAN;
    return FE_OK;
}

fe_status fe_ground_breakpoint(double f_hz, double height1_m, double height2_m,
                               double *distance_m)
{
    const fe_ground_path path = {f_hz, 1.0, height1_m, height2_m};
    if (!is_path(&path))
        return FE_E_DOMAIN;
    *distance_m = 4.0 * height1_m * height2_m / wavelength_of(f_hz);
    return FE_OK;
}

fe_status fe_ground_plane_earth(const fe_ground_path *path, double *loss_db)
{
    double breakpoint_m;
    if (!is_path(path) ||
        fe_ground_breakpoint(path->f_hz, path->height1_m, path->height2_m, &breakpoint_m) < 0)
        return FE_E_DOMAIN;
    *loss_db = 40.0 * log10(path->distance_m) - 20.0 * log10(path->height1_m * path->height2_m);
    return path->distance_m < breakpoint_m ? FE_W_RANGE : FE_OK;
}
