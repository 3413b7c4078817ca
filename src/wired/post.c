/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/post.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "base/argument.h"
#include "farend/constants.h"
#include "farend/tension.h"
#include "root.h"

static double cube(double x)
{
    return x * x * x;
}

/* ---- Loads ---- */

fe_status fe_post_wind(double pressure_pa, double width_ground_m, double width_top_m,
                       double height_m, double *force_n, double *moment_n_m)
{
    if (!is_at_least_zero(pressure_pa) || !is_at_least_zero(width_ground_m) ||
        !is_at_least_zero(width_top_m) || !is_positive(height_m))
        return FE_E_DOMAIN;
    *force_n = pressure_pa * height_m * (width_ground_m + width_top_m) / 2.0;
    *moment_n_m =
        pressure_pa * height_m * height_m * (width_ground_m + 2.0 * width_top_m) / 6.0;
    return FE_OK;
}

fe_status fe_post_moment(const double *forces_n, const double *heights_m, size_t count,
                         double *moment_n_m)
{
    double sum_n_m = 0.0;
    for (size_t i = 0; i < count; i++) {
        if (!isfinite(forces_n[i]) || !is_at_least_zero(heights_m[i]))
            return FE_E_DOMAIN;
        sum_n_m += forces_n[i] * heights_m[i];
    }
    if (count == 0)
        return FE_E_DOMAIN;
    *moment_n_m = sum_n_m;
    return FE_OK;
}

fe_status fe_post_corner_pull(double tension_n, double turn_rad, double *pull_n)
{
    if (!is_at_least_zero(tension_n) || !(turn_rad >= 0.0) || !(turn_rad <= FE_PI))
        return FE_E_DOMAIN;
    *pull_n = 2.0 * tension_n * sin(0.5 * turn_rad);
    return FE_OK;
}

/* ---- Sections and strength ---- */

fe_status fe_post_section_modulus(fe_post_section section, double width_m, double *modulus_m3)
{
    if (!is_positive(width_m))
        return FE_E_DOMAIN;
    *modulus_m3 = section == FE_POST_ROUND ? FE_PI * cube(width_m) / 32.0 : cube(width_m) / 6.0;
    return FE_OK;
}

fe_status fe_post_second_moment(fe_post_section section, double width_m,
                                double *second_moment_m4)
{
    double modulus_m3 = 0.0;
    const fe_status status = fe_post_section_modulus(section, width_m, &modulus_m3);
    if (status == FE_OK)
        *second_moment_m4 = modulus_m3 * width_m / 2.0;
    return status;
}

fe_status fe_post_resisting_moment(fe_post_section section, double width_m, double stress_pa,
                                   double *moment_n_m)
{
    double modulus_m3 = 0.0;
    const fe_status status = fe_post_section_modulus(section, width_m, &modulus_m3);
    if (status != FE_OK || !is_positive(stress_pa))
        return FE_E_DOMAIN;
    *moment_n_m = stress_pa * modulus_m3;
    return FE_OK;
}

fe_status fe_post_width_for_moment(fe_post_section section, double moment_n_m, double stress_pa,
                                   double *width_m)
{
    if (!is_positive(moment_n_m) || !is_positive(stress_pa))
        return FE_E_DOMAIN;
    *width_m = cbrt((section == FE_POST_ROUND ? 32.0 / FE_PI : 6.0) * moment_n_m / stress_pa);
    return FE_OK;
}

/* EN 1995-1-1 table 3.1, service class 3, and tables of partial factors; from memory. */
static const double EN_K_MOD_PERMANENT = 0.50;
static const double EN_K_MOD_GUST = 0.90;
static const double EN_GAMMA_M = 1.3;
static const double EN_GAMMA_G = 1.35;
static const double EN_GAMMA_Q = 1.5;

/* IEEE C2 tables 253-1 and 261-1, Grade B; from memory. */
static const double US_WIND = 2.50;
static const double US_TENSION = 1.65;
static const double US_VERTICAL = 1.50;
static const double US_WOOD = 0.65;

static bool are_moments(const fe_post_moments *moments)
{
    return is_at_least_zero(moments->wind_n_m) && is_at_least_zero(moments->tension_n_m) &&
           is_at_least_zero(moments->vertical_n_m);
}

fe_status fe_post_resistance_en(fe_post_section section, double width_m, double bending_pa,
                                double *permanent_n_m, double *gust_n_m)
{
    double moment_n_m = 0.0;
    const fe_status status =
        fe_post_resisting_moment(section, width_m, bending_pa, &moment_n_m);
    if (status != FE_OK)
        return status;
    *permanent_n_m = EN_K_MOD_PERMANENT * moment_n_m / EN_GAMMA_M;
    *gust_n_m = EN_K_MOD_GUST * moment_n_m / EN_GAMMA_M;
    return FE_OK;
}

fe_status fe_post_use_en(fe_post_section section, double width_m, double bending_pa,
                         const fe_post_moments *moments, fe_post_use *use)
{
    double permanent_n_m = 0.0;
    double gust_n_m = 0.0;
    const fe_status status =
        fe_post_resistance_en(section, width_m, bending_pa, &permanent_n_m, &gust_n_m);
    if (status != FE_OK || !are_moments(moments))
        return FE_E_DOMAIN;
    const double sustained_n_m = EN_GAMMA_G * (moments->tension_n_m + moments->vertical_n_m);
    use->permanent = sustained_n_m / permanent_n_m;
    use->with_gust = (sustained_n_m + EN_GAMMA_Q * moments->wind_n_m) / gust_n_m;
    use->largest = fmax(use->permanent, use->with_gust);
    return FE_OK;
}

fe_status fe_post_resistance_us(fe_post_section section, double width_m, double fibre_pa,
                                double *moment_n_m)
{
    double full_n_m = 0.0;
    const fe_status status = fe_post_resisting_moment(section, width_m, fibre_pa, &full_n_m);
    if (status == FE_OK)
        *moment_n_m = US_WOOD * full_n_m;
    return status;
}

fe_status fe_post_use_us(fe_post_section section, double width_m, double fibre_pa,
                         const fe_post_moments *moments, fe_post_use *use)
{
    double resistance_n_m = 0.0;
    const fe_status status = fe_post_resistance_us(section, width_m, fibre_pa, &resistance_n_m);
    if (status != FE_OK || !are_moments(moments))
        return FE_E_DOMAIN;
    const double load_n_m = US_WIND * moments->wind_n_m + US_TENSION * moments->tension_n_m +
                            US_VERTICAL * moments->vertical_n_m;
    use->permanent = NAN;
    use->with_gust = load_n_m / resistance_n_m;
    use->largest = use->with_gust;
    return FE_OK;
}

/* ---- Depth in the ground ---- */

static bool is_in_soil(const fe_post_in_soil *given)
{
    return is_positive(given->force_n) && is_at_least_zero(given->height_m) &&
           is_positive(given->width_m) && is_positive(given->lateral_pa_m) &&
           is_positive(given->multiplier);
}

fe_status fe_post_depth_free_trial(double force_n, double height_m, double width_m,
                                   double s1_pa, double *factor_a_m, double *depth_m)
{
    if (!is_positive(force_n) || !is_at_least_zero(height_m) || !is_positive(width_m) ||
        !is_positive(s1_pa))
        return FE_E_DOMAIN;
    const double a_m = 2.34 * force_n / (s1_pa * width_m);
    if (factor_a_m)
        *factor_a_m = a_m;
    *depth_m = 0.5 * a_m * (1.0 + sqrt(1.0 + 4.36 * height_m / a_m));
    return FE_OK;
}

struct depth_cubic {
    double linear;
    double constant;
};

static double depth_cubic_value(double d, void *context)
{
    const struct depth_cubic *cubic = context;
    return d * (d * d - cubic->linear) - cubic->constant;
}

/* The positive root of d^3 = linear d + constant, both >= 0 and not both zero. */
static fe_status solve_depth(double linear, double constant, double *depth_m)
{
    struct depth_cubic cubic = {linear, constant};
    /* At the root of `linear` alone the cubic is not above zero, a little further not below. */
    const double low_m = sqrt(linear);
    if (constant == 0.0) {
        *depth_m = low_m;
        return FE_OK;
    }
    return wired_root_between(depth_cubic_value, &cubic, low_m,
                              (low_m + cbrt(constant)) * 1.0000001, depth_m);
}

fe_status fe_post_depth_free(const fe_post_in_soil *given, double *factor_a_m, double *depth_m)
{
    if (!is_in_soil(given))
        return FE_E_DOMAIN;
    const double bearing_pa_m = given->lateral_pa_m * given->multiplier;
    /* A = k/d with S1 at d/3, which turns the code's formula into d^3 = k d + 1.09 k h. */
    const double k = 3.0 * 2.34 * given->force_n / (bearing_pa_m * given->width_m);
    double found_m = 0.0;
    const fe_status status = solve_depth(k, 1.09 * k * given->height_m, &found_m);
    if (status != FE_OK)
        return status;
    const double s1_pa = bearing_pa_m * fmin(found_m, FE_POST_MOST_S1_DEPTH_M) / 3.0;
    return fe_post_depth_free_trial(given->force_n, given->height_m, given->width_m, s1_pa,
                                    factor_a_m, depth_m);
}

fe_status fe_post_depth_held_trial(double force_n, double height_m, double width_m,
                                   double s3_pa, double *depth_m)
{
    if (!is_positive(force_n) || !is_positive(height_m) || !is_positive(width_m) ||
        !is_positive(s3_pa))
        return FE_E_DOMAIN;
    *depth_m = sqrt(4.25 * force_n * height_m / (s3_pa * width_m));
    return FE_OK;
}

fe_status fe_post_depth_held(const fe_post_in_soil *given, double *depth_m)
{
    if (!is_in_soil(given) || !is_positive(given->height_m))
        return FE_E_DOMAIN;
    *depth_m = cbrt(4.25 * given->force_n * given->height_m /
                    (given->lateral_pa_m * given->multiplier * given->width_m));
    return FE_OK;
}

fe_status fe_post_depth_farm_free(double shear_n, double moment_n_m, double width_m,
                                  double lateral_pa_m, double *depth_m)
{
    if (!is_at_least_zero(shear_n) || !is_at_least_zero(moment_n_m) ||
        !(shear_n + moment_n_m > 0.0) || !is_positive(width_m) || !is_positive(lateral_pa_m))
        return FE_E_DOMAIN;
    const double bearing_n_m2 = lateral_pa_m * width_m;
    return solve_depth(6.0 * shear_n / bearing_n_m2, 8.0 * moment_n_m / bearing_n_m2, depth_m);
}

fe_status fe_post_depth_farm_held(double moment_n_m, double width_m, double lateral_pa_m,
                                  double *depth_m)
{
    if (!is_positive(moment_n_m) || !is_positive(width_m) || !is_positive(lateral_pa_m))
        return FE_E_DOMAIN;
    *depth_m = cbrt(4.0 * moment_n_m / (lateral_pa_m * width_m));
    return FE_OK;
}

static const struct rule {
    const char *name;
    fe_post_rule rule;
    double share;
    double added_m;
    double least_m;
} RULES[] = {
    /* name, rule, share of length, added m, never under m */
    {"10 percent + 2 ft", FE_POST_TENTH_2FT, 0.1, 0.6096, 0.0},
    {"10 percent + 0.6 m", FE_POST_TENTH_600MM, 0.1, 0.6, 0.0},
    {"one quarter of total length", FE_POST_QUARTER, 0.25, 0.0, 0.0},
    {"minimum depth", FE_POST_TENTH_MIN_5FT, 0.1, 0.6096, 1.524},
    {"one third of height above ground", FE_POST_THIRD_ABOVE, 1.0 / 3.0, 0.0, 0.0},
};
enum { RULE_COUNT = sizeof RULES / sizeof RULES[0] };

fe_status fe_post_rule_find(const char *name, fe_post_rule *rule)
{
    for (size_t i = 0; i < RULE_COUNT; i++)
        if (strcmp(RULES[i].name, name) == 0) {
            *rule = RULES[i].rule;
            return FE_OK;
        }
    return FE_E_DOMAIN;
}

fe_status fe_post_rule_depth(fe_post_rule rule, double length_m, double *depth_m)
{
    if (!is_positive(length_m))
        return FE_E_DOMAIN;
    for (size_t i = 0; i < RULE_COUNT; i++)
        if (RULES[i].rule == rule) {
            *depth_m = fmax(RULES[i].share * length_m + RULES[i].added_m, RULES[i].least_m);
            return FE_OK;
        }
    return FE_E_DOMAIN;
}

fe_status fe_post_length_needed(double clearance_m, double sag_m, double top_m, double snow_m,
                                double *length_m)
{
    if (!is_at_least_zero(clearance_m) || !is_at_least_zero(sag_m) ||
        !is_at_least_zero(top_m) || !is_at_least_zero(snow_m))
        return FE_E_DOMAIN;
    *length_m = (clearance_m + sag_m + top_m + snow_m + 2.0 * FE_FOOT_M) / 0.9;
    return FE_OK;
}

/* ---- Stays and motion ---- */

fe_status fe_post_stay_pull(const double *forces_n, const double *heights_m, size_t count,
                            double stay_height_m, double *pull_n)
{
    double moment_n_m = 0.0;
    const fe_status status = fe_post_moment(forces_n, heights_m, count, &moment_n_m);
    if (status != FE_OK || !is_positive(stay_height_m))
        return FE_E_DOMAIN;
    *pull_n = moment_n_m / stay_height_m;
    return FE_OK;
}

fe_status fe_post_stay_of(double horizontal_n, double height_m, double lead_m,
                          fe_post_stay *stay)
{
    if (!is_at_least_zero(horizontal_n) || !is_positive(height_m) || !is_positive(lead_m))
        return FE_E_DOMAIN;
    const double length_m = hypot(height_m, lead_m);
    const fe_post_stay found = {
        .tension_n = horizontal_n * length_m / lead_m,
        .vertical_n = horizontal_n * height_m / lead_m,
        .angle_rad = atan2(height_m, lead_m),
        .length_m = length_m,
    };
    *stay = found;
    return FE_OK;
}

fe_status fe_post_deflection(double force_n, double height_m, double bending_stiffness_n_m2,
                             double ground_n_m_rad, double creep, double *deflection_m)
{
    double compliance_m_n = 0.0;
    const fe_status status = fe_tension_post_compliance(height_m, bending_stiffness_n_m2,
                                                        ground_n_m_rad, creep, &compliance_m_n);
    if (status != FE_OK || !is_at_least_zero(force_n))
        return FE_E_DOMAIN;
    *deflection_m = compliance_m_n * force_n;
    return FE_OK;
}
