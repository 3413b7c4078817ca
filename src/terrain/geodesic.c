/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/geodesic.h"

#include <math.h>

#include "base/argument.h"
#include "farend/constants.h"

/* WGS 84. */
static const double SEMI_MAJOR_M = 6378137.0;
static const double FLATTENING = 1.0 / 298.257223563;

/* A tenth of a millimetre on the ground is 1.6e-11 rad. */
static const double CONVERGED_RAD = 1e-13;
enum { MOST_ROUNDS = 100 };

static double semi_minor(void)
{
    return SEMI_MAJOR_M * (1.0 - FLATTENING);
}

static int is_position(const fe_position *at)
{
    return fabs(at->latitude_rad) <= FE_PI / 2.0 && fabs(at->longitude_rad) <= 2.0 * FE_PI;
}

/* Latitude on the auxiliary sphere. */
static double reduced(double latitude_rad)
{
    return atan((1.0 - FLATTENING) * tan(latitude_rad));
}

/* Vincenty's A and B out of cos^2 of the line's azimuth at the equator. */
typedef struct series {
    double a;
    double b;
} series;

static series series_of(double cos2_alpha)
{
    const double b_m = semi_minor();
    const double u2 = cos2_alpha * (SEMI_MAJOR_M * SEMI_MAJOR_M - b_m * b_m) / (b_m * b_m);
    return (series){
        1.0 + u2 / 16384.0 * (4096.0 + u2 * (-768.0 + u2 * (320.0 - 175.0 * u2))),
        u2 / 1024.0 * (256.0 + u2 * (-128.0 + u2 * (74.0 - 47.0 * u2))),
    };
}

static double sigma_correction(double b, double sin_sigma, double cos_sigma, double cos_2m)
{
    const double outer = cos_sigma * (-1.0 + 2.0 * cos_2m * cos_2m);
    const double inner = b / 6.0 * cos_2m * (-3.0 + 4.0 * sin_sigma * sin_sigma) *
                         (-3.0 + 4.0 * cos_2m * cos_2m);
    return b * sin_sigma * (cos_2m + b / 4.0 * (outer - inner));
}

static double longitude_factor(double cos2_alpha)
{
    return FLATTENING / 16.0 * cos2_alpha * (4.0 + FLATTENING * (4.0 - 3.0 * cos2_alpha));
}

/* How much the longitude on the sphere exceeds that on the ellipsoid. */
static double longitude_excess(double sin_alpha, double cos2_alpha, double sigma, double cos_2m)
{
    const double c = longitude_factor(cos2_alpha);
    return (1.0 - c) * FLATTENING * sin_alpha *
           (sigma +
            c * sin(sigma) * (cos_2m + c * cos(sigma) * (-1.0 + 2.0 * cos_2m * cos_2m)));
}

fe_status fe_geodesic_between(const fe_position *from, const fe_position *to, fe_geodesic *line)
{
    if (!is_position(from) || !is_position(to))
        return FE_E_DOMAIN;
    const double u1 = reduced(from->latitude_rad);
    const double u2 = reduced(to->latitude_rad);
    const double apart = remainder(to->longitude_rad - from->longitude_rad, 2.0 * FE_PI);
    double lambda = apart;
    for (int round = 0; round < MOST_ROUNDS; round++) {
        const double east = cos(u2) * sin(lambda);
        const double north = cos(u1) * sin(u2) - sin(u1) * cos(u2) * cos(lambda);
        const double sin_sigma = hypot(east, north);
        if (sin_sigma == 0.0) {
            *line = (fe_geodesic){0.0, 0.0};
            return FE_OK;
        }
        const double cos_sigma = sin(u1) * sin(u2) + cos(u1) * cos(u2) * cos(lambda);
        const double sigma = atan2(sin_sigma, cos_sigma);
        const double sin_alpha = cos(u1) * cos(u2) * sin(lambda) / sin_sigma;
        const double cos2_alpha = 1.0 - sin_alpha * sin_alpha;
        /* On the equator the product of the sines is zero as well. */
        const double cos_2m =
            cos2_alpha > 1e-15 ? cos_sigma - 2.0 * sin(u1) * sin(u2) / cos2_alpha : 0.0;
        const double next = apart + longitude_excess(sin_alpha, cos2_alpha, sigma, cos_2m);
        if (fabs(next - lambda) < CONVERGED_RAD) {
            const series s = series_of(cos2_alpha);
            const double azimuth = atan2(east, north);
            line->length_m = semi_minor() * s.a *
                             (sigma - sigma_correction(s.b, sin_sigma, cos_sigma, cos_2m));
            line->azimuth_rad = azimuth < 0.0 ? azimuth + 2.0 * FE_PI : azimuth;
            return FE_OK;
        }
        lambda = next;
    }
    return FE_E_CONVERGE;
}

fe_status fe_geodesic_end(const fe_position *from, const fe_geodesic *line, fe_position *to)
{
    if (!is_position(from) || !is_at_least_zero(line->length_m) || !isfinite(line->azimuth_rad))
        return FE_E_DOMAIN;
    const double u1 = reduced(from->latitude_rad);
    const double sin_a1 = sin(line->azimuth_rad);
    const double cos_a1 = cos(line->azimuth_rad);
    const double sigma1 = atan2(tan(u1), cos_a1);
    const double sin_alpha = cos(u1) * sin_a1;
    const double cos2_alpha = 1.0 - sin_alpha * sin_alpha;
    const series s = series_of(cos2_alpha);
    const double plain = line->length_m / (semi_minor() * s.a);
    double sigma = plain;
    double cos_2m = 0.0;
    int round = 0;
    for (; round < MOST_ROUNDS; round++) {
        cos_2m = cos(2.0 * sigma1 + sigma);
        const double next = plain + sigma_correction(s.b, sin(sigma), cos(sigma), cos_2m);
        const double step = fabs(next - sigma);
        sigma = next;
        if (step < CONVERGED_RAD)
            break;
    }
    if (round == MOST_ROUNDS)
        return FE_E_CONVERGE;
    cos_2m = cos(2.0 * sigma1 + sigma);
    const double low = sin(u1) * sin(sigma) - cos(u1) * cos(sigma) * cos_a1;
    const double lambda =
        atan2(sin(sigma) * sin_a1, cos(u1) * cos(sigma) - sin(u1) * sin(sigma) * cos_a1);
    const double east = lambda - longitude_excess(sin_alpha, cos2_alpha, sigma, cos_2m);
    to->latitude_rad = atan2(sin(u1) * cos(sigma) + cos(u1) * sin(sigma) * cos_a1,
                             (1.0 - FLATTENING) * hypot(sin_alpha, low));
    to->longitude_rad = remainder(from->longitude_rad + east, 2.0 * FE_PI);
    return FE_OK;
}
