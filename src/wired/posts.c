/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/posts.h"

#include <math.h>

#include "base/argument.h"
#include "farend/anchor.h"
#include "farend/constants.h"
#include "farend/tension.h"

static const double BUCKLING_FACTOR = 3.0;
/* Height of the attachment over the way out to the anchor: some 56 degrees. */
static const double STAY_SLOPE = 1.5;
/* A post's own weight and the grip of the ground, before a lifted cable is a danger. */
static const double UPLIFT_N = 100.0;

const char *fe_posts_limit_name(fe_posts_limit limit)
{
    static const char *const NAMES[FE_POSTS_LIMITS] = {
        "bending of a post under lasting pull",
        "bending of a post with wind",
        "hold of a post in the ground under lasting pull",
        "hold of a post in the ground with wind",
        "lift of the cable at a low post",
        "buckling of a stayed post",
        "a broken span beside a corner post",
        "pull-out of a stay's anchor",
    };
    return NAMES[limit];
}

static bool is_material(const fe_posts_material *material)
{
    return is_positive(material->width_m) && is_positive(material->bending_pa) &&
           is_positive(material->elasticity_pa) && is_positive(material->lateral_pa_m) &&
           is_at_least_zero(material->top_m) && is_at_least_zero(material->thaw_m) &&
           material->anchor_n >= 0.0;
}

/* Width that the ground meets: the code takes the diagonal of a square post. */
static double width_in_soil(const fe_posts_material *material)
{
    return material->section == FE_POST_SQUARE ? material->width_m * sqrt(2.0)
                                               : material->width_m;
}

static fe_status set_strength(const fe_posts_material *material, fe_posts_kind *kind)
{
    const fe_post_moments lasting = {.tension_n_m = 1.0};
    const fe_post_moments gust = {.wind_n_m = 1.0};
    fe_post_use pull;
    fe_post_use wind;
    double lasting_n_m = 0.0;
    double gust_n_m = 0.0;
    fe_status status;
    if (material->format == FE_SAFETY_EN) {
        status = fe_post_use_en(material->section, material->width_m, material->bending_pa,
                                &lasting, &pull);
        if (status == FE_OK)
            status = fe_post_use_en(material->section, material->width_m, material->bending_pa,
                                    &gust, &wind);
        if (status == FE_OK)
            status = fe_post_resistance_en(material->section, material->width_m,
                                           material->bending_pa, &lasting_n_m, &gust_n_m);
    } else {
        status = fe_post_use_us(material->section, material->width_m, material->bending_pa,
                                &lasting, &pull);
        if (status == FE_OK)
            status = fe_post_use_us(material->section, material->width_m, material->bending_pa,
                                    &gust, &wind);
        if (status == FE_OK)
            status = fe_post_resistance_us(material->section, material->width_m,
                                           material->bending_pa, &gust_n_m);
    }
    if (status != FE_OK)
        return status;
    /* The US form knows one case only; its pull alone is that case without wind. */
    kind->permanent_per_n_m = isnan(pull.permanent) ? pull.with_gust : pull.permanent;
    kind->gust_per_n_m = pull.with_gust;
    kind->gust_per_wind_n_m = wind.with_gust;
    kind->gust_held_per_n_m = 1.0 / gust_n_m;
    return FE_OK;
}

/*
 * Use of the ground for each newton at the attachment: the formula turned round,
 * A = d^2 / (d + 1.09 h) and P = A S1 b / 2.34 with S1 at a third of the depth.
 */
static double ground_per_newton(const fe_posts_material *material, const fe_posts_kind *kind,
                                double multiplier, double thaw_m)
{
    const double depth_m = kind->depth_m - thaw_m;
    if (!(depth_m > 0.0))
        return INFINITY;
    const double height_m = kind->attachment_m + thaw_m;
    const double factor_a_m = depth_m * depth_m / (depth_m + 1.09 * height_m);
    const double s1_pa =
        material->lateral_pa_m * multiplier * fmin(depth_m, FE_POST_MOST_S1_DEPTH_M) / 3.0;
    return 2.34 / (factor_a_m * s1_pa * width_in_soil(material));
}

static fe_status set_depth(const fe_posts_material *material, double added_depth_m,
                           fe_posts_kind *kind)
{
    fe_status status = fe_post_rule_depth(material->rule, kind->length_m, &kind->rule_depth_m);
    if (status != FE_OK)
        return status;
    const double own_m = material->own_depth_m > 0.0 ? material->own_depth_m : 0.0;
    kind->depth_m = fmax(kind->rule_depth_m, own_m) + added_depth_m;
    kind->attachment_m = kind->length_m - kind->depth_m - material->top_m;
    return kind->attachment_m > 0.3 ? FE_OK : FE_E_DOMAIN;
}

static fe_status set_buckling(const fe_posts_material *material, fe_posts_kind *kind)
{
    double moment_m4 = 0.0;
    const fe_status status =
        fe_post_second_moment(material->section, material->width_m, &moment_m4);
    if (status == FE_OK)
        kind->buckling_per_n = BUCKLING_FACTOR * kind->attachment_m * kind->attachment_m /
                               (FE_PI * FE_PI * material->elasticity_pa * moment_m4);
    return status;
}

fe_status fe_posts_make(const fe_posts_material *material, double length_m,
                        double added_depth_m, bool stayed, fe_posts_kind *kind)
{
    if (!is_material(material) || !is_positive(length_m) || !is_at_least_zero(added_depth_m))
        return FE_E_DOMAIN;
    fe_posts_kind found = {.length_m = length_m,
                           .stayed = stayed,
                           .width_m = material->width_m,
                           .stay_slope = STAY_SLOPE};
    fe_status status = set_depth(material, added_depth_m, &found);
    if (status == FE_OK)
        status = set_strength(material, &found);
    if (status == FE_OK)
        status = set_buckling(material, &found);
    if (status != FE_OK)
        return status;
    if (stayed && material->anchor_n > 0.0)
        found.anchor_per_n = FE_ANCHOR_FACTOR * hypot(1.0, STAY_SLOPE) / material->anchor_n;
    found.ground_per_n = ground_per_newton(material, &found, 1.0, 0.0);
    found.ground_gust_per_n = ground_per_newton(material, &found, 2.0, 0.0);
    found.ground_thaw_per_n = ground_per_newton(material, &found, 1.0, material->thaw_m);
    found.ground_gust_thaw_per_n = ground_per_newton(material, &found, 2.0, material->thaw_m);
    *kind = found;
    return FE_OK;
}

static double larger(double a, double b)
{
    return a > b ? a : b;
}

double fe_posts_pull(double back_n, double forward_n, double turn_rad)
{
    const double unequal_n = forward_n - back_n;
    if (turn_rad == 0.0)
        return fabs(unequal_n);
    const double half = sin(0.5 * turn_rad);
    return sqrt(unequal_n * unequal_n + 4.0 * back_n * forward_n * half * half);
}

void fe_posts_set_pulls(double back_n, double forward_n, double turn_rad, fe_posts_load *load)
{
    load->pull_n = fe_posts_pull(back_n, forward_n, turn_rad);
    load->side_n = larger(back_n, forward_n);
    load->turn_sin = turn_rad == 0.0 ? 0.0 : sin(0.5 * turn_rad);
    load->turn_cos = turn_rad == 0.0 ? 1.0 : cos(0.5 * turn_rad);
    load->inward_n = (back_n + forward_n) * load->turn_sin;
    load->along_n = fabs(forward_n - back_n) * load->turn_cos;
}

static double gust_hold(const fe_posts_kind *kind, const fe_posts_load *load)
{
    return load->thaw ? kind->ground_gust_thaw_per_n : kind->ground_gust_per_n;
}

static double lasting_hold(const fe_posts_kind *kind, const fe_posts_load *load)
{
    return load->thaw ? kind->ground_thaw_per_n : kind->ground_per_n;
}

/* A break is short: strength and ground as in a gust. */
static double broken_use(const fe_posts_kind *kind, const fe_posts_load *load, double force_n)
{
    return force_n * larger(kind->gust_per_n_m * kind->attachment_m, gust_hold(kind, load));
}

/* A pair in the line takes the pull both ways; wind across the line bends the post. */
static void check_pair(const fe_posts_kind *kind, const fe_posts_load *load, double post_n_m,
                       fe_posts_duty *duty)
{
    const double wind_n_m = load->cable_wind_n * kind->attachment_m + post_n_m;
    duty->moment_n_m = wind_n_m;
    duty->stay_n = larger(load->pull_n, load->side_n);
    duty->uses[FE_POSTS_GUST] = kind->gust_per_wind_n_m * wind_n_m;
    duty->uses[FE_POSTS_GROUND_GUST] = gust_hold(kind, load) * wind_n_m / kind->attachment_m;
    duty->uses[FE_POSTS_BROKEN] = kind->buckling_per_n * load->broken_n * kind->stay_slope;
    duty->uses[FE_POSTS_BUCKLING] =
        kind->buckling_per_n * (load->pull_n * kind->stay_slope + fmax(load->down_n, 0.0));
}

/*
 * The stay of a corner leads outwards, so it holds what pulls inwards: its part of the pull,
 * and wind from outside. Wind on a span acts square to it, which is half the turn off the line
 * that halves the corner; whichever way it blows, it pushes no more than that outwards or
 * along. Outwards the pull goes against it, along the line nothing does.
 */
static void check_corner(const fe_posts_kind *kind, const fe_posts_load *load, double post_n_m,
                         fe_posts_duty *duty)
{
    const double arm_m = kind->attachment_m;
    const double across_n = load->turn_cos * load->cable_wind_n;
    const double along_wind_n = load->turn_sin * load->cable_wind_n;
    const double gust_along =
        kind->gust_per_n_m * load->along_n + kind->gust_per_wind_n_m * along_wind_n;
    const double gust_outwards = fmax(
        kind->gust_per_wind_n_m * across_n - kind->gust_held_per_n_m * load->inward_n, 0.0);
    duty->moment_n_m =
        arm_m * hypot(load->along_n + along_wind_n, fmax(across_n - load->inward_n, 0.0)) +
        post_n_m;
    /* The post's own wind as if it stood on a hinge. */
    duty->stay_n = load->inward_n + across_n + post_n_m / arm_m;
    duty->bending_n = load->along_n;
    duty->broken_n = load->turn_cos * load->side_n;
    duty->uses[FE_POSTS_PERMANENT] = kind->permanent_per_n_m * arm_m * load->along_n;
    duty->uses[FE_POSTS_GUST] =
        arm_m * hypot(gust_along, gust_outwards) + kind->gust_per_wind_n_m * post_n_m;
    duty->uses[FE_POSTS_GROUND] = lasting_hold(kind, load) * load->along_n;
    duty->uses[FE_POSTS_GROUND_GUST] = gust_hold(kind, load) * duty->moment_n_m / arm_m;
    duty->uses[FE_POSTS_BROKEN] = broken_use(kind, load, load->turn_cos * load->broken_n);
    duty->uses[FE_POSTS_BUCKLING] =
        kind->buckling_per_n * (duty->stay_n * kind->stay_slope + fmax(load->down_n, 0.0));
}

static void check_free(const fe_posts_kind *kind, const fe_posts_load *load, double post_n_m,
                       fe_posts_duty *duty)
{
    const double pull_n_m = load->pull_n * kind->attachment_m;
    const double wind_n_m = load->cable_wind_n * kind->attachment_m + post_n_m;
    duty->moment_n_m = pull_n_m + wind_n_m;
    duty->bending_n = load->pull_n;
    duty->broken_n = load->side_n;
    duty->uses[FE_POSTS_PERMANENT] = kind->permanent_per_n_m * pull_n_m;
    duty->uses[FE_POSTS_GUST] =
        kind->gust_per_n_m * pull_n_m + kind->gust_per_wind_n_m * wind_n_m;
    duty->uses[FE_POSTS_GROUND] = lasting_hold(kind, load) * load->pull_n;
    /* Wind on the post as the force at the attachment that turns it as much. */
    duty->uses[FE_POSTS_GROUND_GUST] =
        gust_hold(kind, load) * duty->moment_n_m / kind->attachment_m;
    duty->uses[FE_POSTS_BROKEN] = broken_use(kind, load, load->broken_n);
}

void fe_posts_check(const fe_posts_kind *kind, const fe_posts_load *load, fe_posts_duty *duty)
{
    const double height_m = kind->length_m - kind->depth_m;
    const double post_n_m = 0.5 * load->pressure_pa * height_m * height_m * kind->width_m;
    *duty = (fe_posts_duty){0};
    if (!kind->stayed)
        check_free(kind, load, post_n_m, duty);
    else if (load->turn_sin == 0.0)
        check_pair(kind, load, post_n_m, duty);
    else
        check_corner(kind, load, post_n_m, duty);
    duty->uses[FE_POSTS_ANCHOR] = kind->anchor_per_n * duty->stay_n;
    duty->uses[FE_POSTS_UPLIFT] = fmax(-load->down_n, 0.0) / UPLIFT_N;
    for (int i = 0; i < FE_POSTS_LIMITS; i++)
        if (duty->uses[i] > duty->use) {
            duty->use = duty->uses[i];
            duty->limit = (fe_posts_limit)i;
        }
}

static fe_status depth_for(const fe_posts_material *material, double height_m, double force_n,
                           double multiplier, double *depth_m)
{
    *depth_m = 0.0;
    if (!(force_n > 0.0))
        return FE_OK;
    const fe_post_in_soil given = {.force_n = force_n,
                                   .height_m = height_m,
                                   .width_m = width_in_soil(material),
                                   .lateral_pa_m = material->lateral_pa_m,
                                   .multiplier = multiplier};
    return fe_post_depth_free(&given, NULL, depth_m);
}

fe_status fe_posts_depth_needed(const fe_posts_material *material, double attachment_m,
                                double lasting_n, double gust_n, double *depth_m)
{
    if (!is_material(material) || !is_positive(attachment_m) || !is_at_least_zero(lasting_n) ||
        !is_at_least_zero(gust_n))
        return FE_E_DOMAIN;
    const double height_m = attachment_m + material->thaw_m;
    double lasting_m = 0.0;
    double gust_m = 0.0;
    fe_status status = depth_for(material, height_m, lasting_n, 1.0, &lasting_m);
    if (status == FE_OK)
        status = depth_for(material, height_m, gust_n, 2.0, &gust_m);
    if (status == FE_OK)
        *depth_m = fmax(lasting_m, gust_m) + material->thaw_m;
    return status;
}

fe_status fe_posts_give(const fe_posts_material *material, const fe_posts_kind *kind,
                        double turn_rad, double *give_m_n)
{
    double moment_m4 = 0.0;
    if (kind->stayed && turn_rad == 0.0) {
        *give_m_n = 0.0;
        return FE_OK;
    }
    const fe_status status =
        fe_post_second_moment(material->section, material->width_m, &moment_m4);
    if (status != FE_OK)
        return status;
    return fe_tension_post_compliance(kind->attachment_m, material->elasticity_pa * moment_m4,
                                      INFINITY, 0.0, give_m_n);
}

fe_status fe_posts_stay(const fe_posts_kind *kind, double horizontal_n, fe_post_stay *stay)
{
    return fe_post_stay_of(horizontal_n, kind->attachment_m,
                           kind->attachment_m / kind->stay_slope, stay);
}

fe_status fe_posts_length_for(const fe_posts_material *material, double attachment_m,
                              double *length_m)
{
    if (!is_material(material) || !is_at_least_zero(attachment_m))
        return FE_E_DOMAIN;
    const double above_m = attachment_m + material->top_m;
    /* Rules give a depth that grows less than the post; bisect rather than invert each. */
    double low_m = above_m;
    double high_m =
        2.0 * above_m + 3.0 + (material->own_depth_m > 0.0 ? material->own_depth_m : 0.0);
    while (high_m - low_m > 1e-6) {
        const double middle_m = 0.5 * (low_m + high_m);
        fe_posts_kind kind = {.length_m = middle_m};
        const fe_status status = set_depth(material, 0.0, &kind);
        if (status == FE_OK && kind.attachment_m >= attachment_m)
            high_m = middle_m;
        else
            low_m = middle_m;
    }
    *length_m = high_m;
    return FE_OK;
}
