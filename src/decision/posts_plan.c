/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the words of a plan to a run on posts that can be built. */
#include "farend/posts_plan.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "decision/posts_parts.h"
#include "farend/constants.h"
#include "farend/soil.h"
#include "farend/wood.h"

/* Common practice, no source, all of them. */
static const double TOP_M = 0.15;          /* from the attachment to the top */
static const double WALL_FREE_M = 1.5;     /* nobody passes so near a wall */
static const double THAW_M = 0.3;          /* of thawed ground on frozen that bears nothing */
static const double MOST_SAG_SHARE = 0.06; /* where the plan says nothing */
static const double LEAST_SAG_SHARE = 0.01;
static const double DEFAULT_ELASTICITY_PA = 9e9;
static const double US_STEP_M = 3.0 * FE_FOOT_M;

enum { STRINGS = 12, MOST_MENDS = 4 };

const char *fe_posts_flip_name(fe_posts_flip flip)
{
    static const char *const NAMES[FE_FLIPS] = {
        "nothing",
        "a quarter more ice",
        "a cable strung a tenth slacker",
        "a cable strung a tenth tighter",
        "ground 10 cm higher under the cable",
        "a fifth more snow",
    };
    return NAMES[flip];
}

/* ---- Material ---- */

static fe_status find_wood(const fe_plan_posts *posts, fe_posts_material *material)
{
    const char *name = posts->wood ? posts->wood : "C24";
    material->elasticity_pa = DEFAULT_ELASTICITY_PA;
    if (fe_wood_class(name, &material->bending_pa, &material->elasticity_pa) == FE_OK)
        return FE_OK;
    if (fe_wood_pole_stress(name, &material->bending_pa) != FE_OK)
        return FE_E_INPUT;
    /* Designated stresses are means: the European form wants the five-percent value, some half
     * of it (common practice, no source). */
    if (material->format == FE_SAFETY_EN)
        material->bending_pa *= 0.5;
    return FE_OK;
}

static bool is_soil_known(const fe_plan_posts *posts)
{
    return posts->soil && strcmp(posts->soil, "unknown") != 0;
}

/* Ground that anchors and posts stand in, as a keyword of fe_soil_find. */
const char *posts_soil(const fe_plan *plan)
{
    /* The weakest of the table stands in for ground that nobody has dug yet. */
    const char *name = is_soil_known(&plan->posts) ? plan->posts.soil : "clay";
    const fe_soil *soil = fe_soil_find(strcmp(name, "stony") == 0 ? "gravel" : name);
    return soil ? soil->keyword : "";
}

static fe_status find_soil(const fe_plan *plan, fe_posts_material *material)
{
    const fe_soil *soil = fe_soil_find(posts_soil(plan));
    material->soil_known = is_soil_known(&plan->posts);
    if (!soil)
        return FE_E_INPUT;
    material->lateral_pa_m = fe_soil_lateral(soil);
    return FE_OK;
}

/* The plan's class of anchor, else the strongest there is: which one it takes is seen later. */
static fe_status find_anchor(const fe_plan *plan, fe_posts_material *material)
{
    const fe_anchor *anchor = plan->posts.anchor ? fe_anchor_find(plan->posts.anchor)
                                                 : fe_anchor_at(fe_anchor_count() - 1);
    return anchor ? fe_anchor_holding(anchor, posts_soil(plan), &material->anchor_n)
                  : FE_E_INPUT;
}

/* How far the supply cable on the same posts is tied over the data cable; 0 without one. */
static double supply_up(const fe_plan_posts *posts)
{
    if (!posts->supply)
        return 0.0;
    return posts->supply_above_m.given == FE_GIVEN_NOT
               ? fe_limits_shared_posts((fe_safety_format)posts->safety.value).at_pole_m
               : posts->supply_above_m.typical;
}

static fe_status make_material(const fe_plan *plan, fe_posts_material *material)
{
    const fe_plan_posts *posts = &plan->posts;
    *material = (fe_posts_material){
        .section = posts->round.value ? FE_POST_ROUND : FE_POST_SQUARE,
        .width_m = posts->section_m.typical,
        .format = (fe_safety_format)posts->safety.value,
        .rule = FE_POST_TENTH_2FT,
        .own_depth_m = posts->setting_depth_m.given == FE_GIVEN_NOT
                           ? (double)NAN
                           : posts->setting_depth_m.typical,
        .top_m = TOP_M + supply_up(posts),
        .thaw_m = fmin(posts->frost_depth_m.given == FE_GIVEN_NOT ? THAW_M
                                                                  : posts->frost_depth_m.high,
                       THAW_M),
    };
    fe_status status = find_wood(posts, material);
    if (status == FE_OK)
        status = find_soil(plan, material);
    if (status == FE_OK)
        status = find_anchor(plan, material);
    return status;
}

static const posts_setting ON_HAND[] = {
    {0.0, false}, {0.3, false}, {0.6, false}, {0.0, true}, {0.6, true}};
_Static_assert(FE_PLAN_MOST_POST_LENGTHS *(sizeof ON_HAND / sizeof ON_HAND[0]) <=
                   FE_ROUTE_MOST_KINDS,
               "a kind of post for each length on hand and way of setting it");

void posts_add_kinds(const fe_posts_material *material, double length_m, bool stays,
                     const posts_setting *settings, size_t setting_count, fe_posts_kind *kinds,
                     size_t *count)
{
    for (size_t i = 0; i < setting_count && *count < FE_ROUTE_MOST_KINDS; i++)
        if ((stays || !settings[i].stayed) &&
            fe_posts_make(material, length_m, settings[i].deeper_m, settings[i].stayed,
                          &kinds[*count]) == FE_OK)
            (*count)++;
}

static fe_status make_kinds(const fe_plan_posts *posts, bool stays, fe_posts_result *r)
{
    r->kinds = calloc(FE_ROUTE_MOST_KINDS, sizeof *r->kinds);
    if (!r->kinds)
        return FE_E_MEMORY;
    r->longest_m = 0.0;
    for (size_t i = 0; i < posts->post_lengths_m.count; i++) {
        const double length_m = posts->post_lengths_m.items[i].typical;
        r->longest_m = fmax(r->longest_m, length_m);
        posts_add_kinds(&r->material, length_m, stays, ON_HAND,
                        sizeof ON_HAND / sizeof ON_HAND[0], r->kinds, &r->input.kind_count);
    }
    r->input.kinds = r->kinds;
    return r->input.kind_count > 0 ? FE_OK : FE_E_DOMAIN;
}

/* ---- Places ---- */

static bool is_forbidden(const fe_plan_posts *posts, double at_m)
{
    for (size_t i = 0; i < posts->forbidden_m.count; i++)
        if (at_m > posts->forbidden_m.items[i].low - 1e-9 &&
            at_m < posts->forbidden_m.items[i].high + 1e-9)
            return true;
    return false;
}

static int by_place(const void *a, const void *b)
{
    const fe_route_place *x = a;
    const fe_route_place *y = b;
    if (x->at_m != y->at_m)
        return x->at_m < y->at_m ? -1 : 1;
    return (int)y->must - (int)x->must;
}

/* Sorted; a place beside one that must be is dropped. */
static size_t sort_places(fe_route_place *places, size_t count, double near_m)
{
    qsort(places, count, sizeof *places, by_place);
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        const bool near = kept > 0 && places[i].at_m - places[kept - 1].at_m < near_m;
        if (near && places[i].must && !places[kept - 1].must)
            places[kept - 1] = places[i];
        else if (near)
            places[kept - 1].turn_rad += places[i].must ? places[i].turn_rad : 0.0;
        else
            places[kept++] = places[i];
    }
    return kept;
}

static fe_status make_places(const fe_plan_posts *posts, double length_m, double step_m,
                             fe_posts_result *r)
{
    const size_t steps = (size_t)(length_m / step_m) + 1;
    const size_t most = steps + posts->places_m.count + posts->corner_count;
    size_t count = 0;
    r->places = calloc(most, sizeof *r->places);
    if (!r->places)
        return FE_E_MEMORY;
    for (size_t i = 1; i < steps; i++) {
        const double at_m = (double)i * step_m;
        if (at_m < length_m - 0.5 * step_m && !is_forbidden(posts, at_m))
            r->places[count++] = (fe_route_place){.at_m = at_m};
    }
    for (size_t i = 0; i < posts->places_m.count; i++) {
        const double at_m = posts->places_m.items[i].typical;
        if (at_m > 0.0 && at_m < length_m)
            r->places[count++] = (fe_route_place){.at_m = at_m, .must = true};
    }
    for (size_t i = 0; i < posts->corner_count; i++)
        if (posts->corners[i].at_m > 0.0 && posts->corners[i].at_m < length_m)
            r->places[count++] = (fe_route_place){posts->corners[i].at_m,
                                                  fabs(posts->corners[i].turn_rad), true};
    r->input.places = r->places;
    r->input.place_count = sort_places(r->places, count, 0.5 * step_m);
    return FE_OK;
}

/* ---- What is asked ---- */

/*
 * Wherever nothing else is said, somebody may walk. A supply cable above hangs at least so far
 * over the data cable as must be left between them: what it asks less that is asked of the
 * lower one, where it is more.
 */
static fe_status ask_height(const fe_posts_result *r, bool supply, fe_thing_below below,
                            double own_m, fe_clearance_need *need)
{
    const char *code = r->plan->posts.clearance_code;
    fe_clearance_need upper = *need;
    fe_status status =
        fe_limits_clearance(r->material.format, code, supply, below, own_m, need);
    if (status != FE_OK || !r->above)
        return status;
    const double apart_m = r->above->asked.in_span_m;
    status = fe_limits_clearance(r->material.format, code, true, below, own_m, &upper);
    if (status == FE_OK && upper.over_ground_m - apart_m > need->over_ground_m) {
        need->over_ground_m = upper.over_ground_m - apart_m;
        need->rule = upper.rule;
        need->for_above = true;
    }
    if (status == FE_OK)
        need->over_snow_m = fmax(need->over_snow_m, upper.over_snow_m - apart_m);
    return status;
}

static fe_status make_needs(const fe_plan_posts *posts, double length_m, bool supply,
                            fe_posts_result *r)
{
    const double own_m =
        posts->clearance_m.given == FE_GIVEN_NOT ? (double)NAN : posts->clearance_m.typical;
    r->needs = calloc(posts->crossing_count + 1, sizeof *r->needs);
    if (!r->needs)
        return FE_E_MEMORY;
    fe_status status = ask_height(r, supply, FE_BELOW_WALKERS, own_m, &r->needs[0]);
    strcpy(r->needs[0].name, "the whole run");
    r->needs[0].to_m = length_m;
    for (size_t i = 0; i < posts->crossing_count && status == FE_OK; i++) {
        const fe_plan_crossing *crossing = &posts->crossings[i];
        fe_clearance_need *need = &r->needs[i + 1];
        const double asked_m = crossing->clearance_m.given == FE_GIVEN_NOT
                                   ? (double)NAN
                                   : crossing->clearance_m.typical;
        if (crossing->beside)
            *need = (fe_clearance_need){.beside_m = asked_m, .rule = "common practice"};
        else
            status = ask_height(r, supply, crossing->below, asked_m, need);
        strncpy(need->name, crossing->name ? crossing->name : "a thing below",
                sizeof need->name - 1);
        need->from_m = crossing->from_m;
        need->to_m = crossing->to_m;
    }
    r->input.needs = r->needs;
    r->input.need_count = posts->crossing_count + 1;
    return status;
}

/* Height asked above bare ground along the whole run, deepest snow included. */
static double height_asked(const fe_posts_result *r)
{
    const double snow_m = fe_plan_deepest_snow(r->plan);
    const double over_snow_m = snow_m > 0.0 ? snow_m + r->needs[0].over_snow_m : 0.0;
    return fmax(r->needs[0].over_ground_m, over_snow_m);
}

/* ---- Pulls to try ---- */

static fe_status make_strings(const fe_plan_posts *posts, fe_posts_result *r)
{
    const bool given =
        posts->sag_share.given == FE_GIVEN_VALUE || posts->sag_share.given == FE_GIVEN_RANGE;
    const double most = given ? posts->sag_share.high : MOST_SAG_SHARE;
    const double least = given ? posts->sag_share.low : LEAST_SAG_SHARE;
    const double weight_n_m = r->hung.run.weight_n_m;
    const double everyday_n = r->input.limits.limit_n[FE_RUN_EVERYDAY];
    const double low_n = weight_n_m * r->input.span_low_m / (8.0 * most);
    const double high_n =
        fmin(weight_n_m * r->input.span_high_m / (8.0 * least), 0.95 * everyday_n);
    r->strings_n = calloc(STRINGS, sizeof *r->strings_n);
    if (!r->strings_n)
        return FE_E_MEMORY;
    r->input.strings_n = r->strings_n;
    r->input.most_sag_share = most * (1.0 + 1e-9);
    if (!(high_n > low_n)) {
        r->strings_n[0] = fmin(low_n, everyday_n);
        r->input.string_count = 1;
        return FE_OK;
    }
    for (int i = 0; i < STRINGS; i++)
        r->strings_n[i] = low_n * pow(high_n / low_n, (double)i / (STRINGS - 1));
    r->input.string_count = STRINGS;
    return FE_OK;
}

/* ---- The input of the search ---- */

/* The plan's strand is for the plan's cable, or for one that nothing else carries. */
const char *fe_posts_messenger(const fe_plan *plan, const fe_cable_class *cable)
{
    const fe_plan_posts *posts = &plan->posts;
    const char *messenger = posts->messenger;
    const bool planned = !posts->cable || strcmp(posts->cable, cable->name) == 0;
    const bool carried = cable->has_messenger || cable->self_supporting;
    const bool known = messenger && strcmp(messenger, "unknown") != 0;
    return known && (planned || !carried) ? messenger : "";
}

static fe_status hang_cable(const fe_cable_class *cable, fe_posts_result *r)
{
    strncpy(r->messenger, fe_posts_messenger(r->plan, cable), sizeof r->messenger - 1);
    fe_status status = fe_limits_cable(cable, *r->messenger ? r->messenger : NULL, &r->hung);
    if (status == FE_OK)
        status = fe_limits_pull(&r->hung, &r->input.limits);
    return status;
}

static const char *district_name(const fe_plan *plan, const fe_posts_wish *wish)
{
    return wish->district ? wish->district : plan->posts.district;
}

/* A code's load besides those of the seasons. */
static fe_status set_district(const fe_plan *plan, const fe_posts_wish *wish,
                              fe_posts_result *r)
{
    const char *name = district_name(plan, wish);
    if (!name)
        return FE_OK;
    r->district = calloc(1, sizeof *r->district);
    if (!r->district)
        return FE_E_MEMORY;
    return fe_ice_preset(name, r->hung.run.diameter_m, r->district);
}

/* A supply cable on the same posts. */
static fe_status set_above(const fe_plan *plan, const fe_posts_wish *wish, fe_posts_result *r)
{
    fe_hung_cable hung;
    if (!plan->posts.supply)
        return FE_OK;
    r->supply = fe_plan_cable_class(plan, plan->posts.supply);
    r->above = calloc(1, sizeof *r->above);
    if (!r->above)
        return FE_E_MEMORY;
    if (!r->supply)
        return FE_E_INPUT;
    *r->above = (fe_route_above){.up_m = supply_up(&plan->posts),
                                 .asked = fe_limits_shared_posts(r->material.format)};
    fe_status status = fe_limits_cable(r->supply, NULL, &hung);
    if (status == FE_OK)
        status = fe_limits_pull(&hung, &r->above->limits);
    if (status != FE_OK)
        return status;
    r->above->cable = hung.run;
    r->input.above = r->above;
    if (!r->district)
        return FE_OK;
    r->above_district = calloc(1, sizeof *r->above_district);
    if (!r->above_district)
        return FE_E_MEMORY;
    r->above->district = r->above_district;
    return fe_ice_preset(district_name(plan, wish), hung.run.diameter_m, r->above_district);
}

static double wet_snow(const fe_plan *plan, const fe_posts_wish *wish)
{
    const fe_value planned = plan->posts.wet_snow_kg_m;
    if (wish->wet_snow_kg_m > 0.0)
        return wish->wet_snow_kg_m;
    return planned.given == FE_GIVEN_NOT ? 0.0 : planned.typical;
}

static fe_status make_input(const fe_plan *plan, const fe_posts_wish *wish, fe_posts_result *r)
{
    const fe_plan_posts *posts = &plan->posts;
    const fe_profile *ground = &plan->paths[r->path].profile;
    const double length_m = fe_profile_length(ground);
    const bool supply = r->cable->medium == FE_MEDIUM_SUPPLY;
    fe_status status = hang_cable(r->cable, r);
    if (status == FE_OK)
        status = make_material(plan, &r->material);
    if (status == FE_OK)
        status = set_district(plan, wish, r);
    if (status == FE_OK)
        status = set_above(plan, wish, r);
    if (status != FE_OK)
        return status;
    r->input.run = (fe_run_input){.ground = ground,
                                  .cable = r->hung.run,
                                  .stringing_c = posts->stringing_c.typical,
                                  .seasons = plan->seasons,
                                  .season_count = plan->season_count,
                                  .wet_snow_kg_m = wet_snow(plan, wish),
                                  .district = r->district,
                                  .free_running = posts->tied.value != 0};
    r->input.start_attachment_m = posts->start_height_m.typical;
    r->input.end_attachment_m = posts->end_height_m.typical;
    r->input.span_low_m = fmin(posts->span_m.low, length_m);
    r->input.span_high_m = posts->span_m.high;
    r->input.wall_free_m = fmin(WALL_FREE_M, 0.1 * length_m);
    const double usual_m = r->material.format == FE_SAFETY_US ? US_STEP_M : 1.0;
    status = make_kinds(posts, !wish->no_stays, r);
    if (status == FE_OK)
        status = make_places(posts, length_m, wish->step_m > 0.0 ? wish->step_m : usual_m, r);
    if (status == FE_OK)
        status = make_needs(posts, length_m, supply, r);
    if (status == FE_OK)
        status = make_strings(posts, r);
    return status;
}

/* ---- Routes ---- */

/* The search interpolates: its limits are met within a thousandth. */
static bool is_met(const fe_route_check *check)
{
    return check->largest_use <= 1.002;
}

static fe_status assess(fe_posts_result *r, const fe_route_input *input)
{
    fe_route_check check = {0};
    const fe_status status =
        fe_route_assess(input, &r->route, &r->material, &FE_ROUTE_AS_PLANNED, &check);
    if (status < 0)
        return status;
    fe_route_check_free(&r->check);
    r->check = check;
    r->worst = (fe_route_use){0};
    for (int i = 0; i < FE_ROUTE_LIMITS; i++)
        /* What is built as asked is no limit that a run comes near to. */
        if (check.uses[i].use > fmax(i == FE_ROUTE_AT_POST ? 1.0 : 0.0, r->worst.use))
            r->worst = check.uses[i];
    return FE_OK;
}

/*
 * Posts that give lower the cable a little under what the search saw. Where that breaks a
 * height, the search is run again asking for so much more.
 */
fe_status posts_search(fe_posts_result *r)
{
    fe_clearance_need *asked = calloc(r->input.need_count, sizeof *asked);
    if (!asked)
        return FE_E_MEMORY;
    memcpy(asked, r->needs, r->input.need_count * sizeof *asked);
    fe_route_input harder = r->input;
    harder.needs = asked;
    r->meets = false;
    fe_status status = FE_OK;
    for (int mend = 0; mend < MOST_MENDS; mend++) {
        fe_route found = {0};
        status = fe_route_search(&harder, &found);
        if (status != FE_OK)
            break;
        fe_route_free(&r->route);
        r->route = found;
        status = assess(r, &r->input);
        if (status != FE_OK)
            break;
        r->meets = is_met(&r->check);
        if (r->meets)
            break;
        const double more_m = fmax(-r->check.worst_clearance_m, 0.0) + 0.01;
        for (size_t i = 0; i < r->input.need_count; i++) {
            asked[i].over_ground_m += more_m;
            asked[i].over_snow_m += asked[i].over_snow_m > 0.0 ? more_m : 0.0;
        }
    }
    free(asked);
    return status == FE_E_NO_SOLUTION ? FE_OK : status;
}

/* How many posts, all the highest on hand, hold by pull alone; fewer than that are no layout to
 * speak of. */
static fe_status count_posts(const fe_posts_result *r, size_t *posts)
{
    fe_route_input easier = r->input;
    fe_route found = {0};
    easier.clearance_free = true;
    easier.posts_free = true;
    easier.kinds = &r->input.kinds[fe_route_highest_kind(&r->input)];
    easier.kind_count = 1;
    const fe_status status = fe_route_search(&easier, &found);
    if (status == FE_OK)
        *posts = found.post_count;
    fe_route_free(&found);
    return status;
}

/* Something to show where nothing does: so many posts, the highest on hand, where they fall
 * least short. */
fe_status posts_show_closest(fe_posts_result *r)
{
    const double length_m = fe_profile_length(r->input.run.ground);
    size_t posts = (size_t)fmax(ceil(length_m / r->input.span_high_m) - 1.0, 0.0);
    fe_status status = count_posts(r, &posts);
    if (status != FE_OK && status != FE_E_NO_SOLUTION)
        return status;
    fe_route found = {0};
    status = FE_E_NO_SOLUTION;
    for (; posts <= r->input.place_count && status == FE_E_NO_SOLUTION; posts++)
        status = fe_route_closest(&r->input, posts, &found, &r->falls_short);
    if (status == FE_OK) {
        fe_route_free(&r->route);
        r->route = found;
        status = assess(r, &r->input);
    }
    return status == FE_E_NO_SOLUTION ? FE_E_DOMAIN : status;
}

/* ---- What is told of a layout ---- */

static fe_status find_fewer(fe_posts_result *r)
{
    if (r->layout == FE_LAYOUT_CLOSEST || r->route.post_count == 0)
        return FE_OK;
    fe_route fewer = {0};
    const fe_status status =
        fe_route_closest(&r->input, r->route.post_count - 1, &fewer, &r->fewer);
    fe_route_free(&fewer);
    r->fewer_impossible = status == FE_E_NO_SOLUTION;
    /* Where the closest holds by its own posts, unequal spans are what fails; not told apart.
     */
    r->fewer_known = status == FE_OK || r->fewer_impossible;
    return status == FE_E_NO_SOLUTION ? FE_OK : status;
}

static fe_status judge(fe_posts_result *r)
{
    static const fe_route_change CHANGES[FE_FLIPS] = {
        [FE_FLIP_NONE] = {1.0, 1.0, 1.0, 0.0},    [FE_FLIP_ICE] = {1.25, 1.0, 1.0, 0.0},
        [FE_FLIP_SLACK] = {1.0, 0.9, 1.0, 0.0},   [FE_FLIP_TAUT] = {1.0, 1.1, 1.0, 0.0},
        [FE_FLIP_GROUND] = {1.0, 1.0, 1.0, 0.10}, [FE_FLIP_SNOW] = {1.0, 1.0, 1.2, 0.0},
    };
    r->verdict = r->layout_verdict = FE_VERDICT_FAILS;
    if (r->layout == FE_LAYOUT_CLOSEST)
        return FE_OK;
    /* Heights are judged by what would flip them, pulls and posts by their share too. */
    const double pull =
        fmax(fmax(r->check.uses[FE_ROUTE_PULL].use, r->check.uses[FE_ROUTE_STRAIN].use),
             r->check.uses[FE_ROUTE_ABOVE].use);
    const double use = fmax(pull, r->check.uses[FE_ROUTE_POST].use);
    r->layout_verdict = fe_limits_verdict(fmin(use, 1.0));
    for (int f = FE_FLIP_NONE + 1; f < FE_FLIPS && r->flip == FE_FLIP_NONE; f++) {
        fe_route_check check = {0};
        const fe_status status =
            fe_route_assess(&r->input, &r->route, &r->material, &CHANGES[f], &check);
        if (status < 0 && status != FE_E_NO_SOLUTION)
            return status;
        if (status == FE_E_NO_SOLUTION || !is_met(&check))
            r->flip = (fe_posts_flip)f;
        fe_route_check_free(&check);
    }
    if (r->flip != FE_FLIP_NONE)
        r->layout_verdict = FE_VERDICT_TIGHT;
    if (r->meets)
        r->verdict = r->layout_verdict;
    return FE_OK;
}

static fe_status measure_alone(fe_posts_result *r)
{
    r->alone_span_m = (double)NAN;
    if (!r->input.limits.needs_messenger)
        return FE_OK;
    fe_run_case *cases =
        calloc(r->input.run.season_count * FE_RUN_CASE_KINDS + 1, sizeof *cases);
    if (!cases)
        return FE_E_MEMORY;
    const size_t count = fe_run_cases(&r->input.run, cases);
    const fe_status status =
        fe_limits_longest_span(&r->hung, &r->input.limits, cases, count,
                               r->input.run.stringing_c, MOST_SAG_SHARE, &r->alone_span_m);
    free(cases);
    return status;
}

/* ---- All of it ---- */

/* Why the posts on hand do not do: the worst limit of their closest layout. */
static fe_status see_shortfall(fe_posts_result *r)
{
    size_t posts = 0;
    fe_route closest = {0};
    fe_status status = count_posts(r, &posts);
    if (status == FE_OK)
        status = fe_route_closest(&r->input, posts, &closest, &r->falls_short);
    fe_route_free(&closest);
    return status == FE_E_NO_SOLUTION ? FE_OK : status;
}

static fe_status find_route(fe_posts_result *r, bool stays)
{
    fe_posts_kind longest;
    fe_status status = fe_posts_make(&r->material, r->longest_m, 0.0, false, &longest);
    if (status != FE_OK)
        return status;
    r->longest_up_m = longest.attachment_m;
    r->asked_m = height_asked(r);
    r->too_short = r->longest_up_m < r->asked_m;
    r->would_do_m = r->would_do_width_m = r->would_do_start_m = r->would_do_end_m = (double)NAN;
    status = posts_search(r);
    if (status != FE_OK || r->meets)
        return status;
    r->layout = FE_LAYOUT_CLOSEST;
    status = see_shortfall(r);
    return status == FE_OK ? posts_find_what_would_do(r, stays) : status;
}

fe_status fe_posts_plan(const fe_plan *plan, size_t path, const fe_cable_class *cable,
                        const fe_posts_wish *wish, fe_posts_result *result)
{
    static const fe_posts_wish NOTHING = {0};
    if (path >= plan->path_count || plan->season_count == 0)
        return FE_E_DOMAIN;
    const char *name = plan->posts.cable ? plan->posts.cable : "outdoor-data-messenger";
    const fe_cable_class *hung = cable ? cable : fe_plan_cable_class(plan, name);
    if (!hung)
        return FE_E_INPUT;
    fe_posts_result found = {.plan = plan, .path = path, .cable = hung};
    fe_route_tables *tables = fe_route_tables_new();
    if (!tables)
        return FE_E_MEMORY;
    found.input.tables = tables;
    fe_status status = make_input(plan, wish ? wish : &NOTHING, &found);
    if (status == FE_OK)
        status = measure_alone(&found);
    if (status == FE_OK)
        status = find_route(&found, !(wish && wish->no_stays));
    const bool all = !(wish && wish->verdict_only);
    if (status == FE_OK && all)
        status = find_fewer(&found);
    if (status == FE_OK)
        status = judge(&found);
    if (status == FE_OK && all)
        status = posts_make_stringing(&found);
    fe_route_tables_free(tables);
    found.input.tables = NULL;
    if (status != FE_OK) {
        fe_posts_result_free(&found);
        return status;
    }
    posts_count(&found);
    *result = found;
    return FE_OK;
}

/* The same posts at the same places, and all else as another plan has it. */
static fe_status move_run(const fe_plan *plan, fe_posts_result *r)
{
    const fe_plan_posts *posts = &plan->posts;
    const fe_profile *ground = &plan->paths[r->path].profile;
    const size_t kinds = r->input.kind_count;
    bool stays = false;
    for (size_t i = 0; i < kinds; i++)
        stays = stays || r->kinds[i].stayed;
    r->plan = plan;
    r->check = (fe_route_check){0}; /* the run keeps its own, and the arrays that follow */
    r->kinds = NULL;
    r->needs = NULL;
    r->verdict = FE_VERDICT_FAILS;
    r->flip = FE_FLIP_NONE;
    r->input.run.ground = ground;
    r->input.run.stringing_c = posts->stringing_c.typical;
    r->input.run.wet_snow_kg_m = wet_snow(plan, &(fe_posts_wish){0});
    r->input.run.seasons = plan->seasons;
    r->input.run.season_count = plan->season_count;
    r->input.run.free_running = posts->tied.value != 0;
    r->input.start_attachment_m = posts->start_height_m.typical;
    r->input.end_attachment_m = posts->end_height_m.typical;
    r->input.kind_count = 0;
    fe_status status = make_material(plan, &r->material);
    if (status == FE_OK)
        status = make_kinds(posts, stays, r);
    if (status == FE_OK)
        status = make_needs(posts, fe_profile_length(ground),
                            r->cable->medium == FE_MEDIUM_SUPPLY, r);
    return status == FE_OK && r->input.kind_count != kinds ? FE_E_DOMAIN : status;
}

fe_status fe_posts_stand(const fe_plan *plan, fe_posts_result *run)
{
    fe_posts_result r = *run;
    fe_status status = move_run(plan, &r);
    if (status == FE_OK)
        status = assess(&r, &r.input);
    r.meets = status == FE_OK && is_met(&r.check);
    if (r.meets)
        status = judge(&r);
    fe_route_check_free(&r.check);
    free(r.kinds);
    if (status == FE_E_NO_SOLUTION) /* the cable cannot hang so */
        r.worst.use = INFINITY;
    else if (status != FE_OK)
        goto done;
    /* What is asked belongs to the run, which has the same things below it. */
    if (r.worst.need)
        r.worst.need = run->needs + (r.worst.need - r.needs);
    run->meets = r.meets;
    run->verdict = r.verdict;
    run->worst = r.worst;
    status = FE_OK;
done:
    free(r.needs);
    return status;
}

const fe_route_use *fe_posts_reason(const fe_posts_result *result)
{
    return !result->meets && result->falls_short.use > 0.0 ? &result->falls_short
                                                           : &result->worst;
}

void fe_posts_result_free(fe_posts_result *result)
{
    free(result->kinds);
    free(result->places);
    free(result->strings_n);
    free(result->needs);
    free(result->district);
    fe_route_free(&result->route);
    fe_route_check_free(&result->check);
    free(result->above);
    free(result->above_district);
    posts_free_stringing(&result->stringing);
    posts_free_stringing(&result->supply_stringing);
    *result = (fe_posts_result){0};
}
