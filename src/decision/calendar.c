/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/calendar.h"

#include <math.h>

#include "decision/cable_length.h"

const char *fe_month_name(int month)
{
    static const char *const NAMES[] = {
        "",     "January", "February",  "March",   "April",    "May",      "June",
        "July", "August",  "September", "October", "November", "December",
    };
    return month >= 1 && month <= 12 ? NAMES[month] : "";
}

/*
 * Months by the coldest air, north of the equator (common practice, no source).
 * coldest above degC; frozen ground first, last; leaf first, last
 */
static const struct {
    double above_c;
    int frost_first;
    int frost_last;
    int leaf_first;
    int leaf_last;
} MONTHS[] = {
    {0.0, 0, 0, 3, 11},
    {-10.0, 12, 2, 4, 10},
    {-20.0, 12, 3, 5, 10},
    {-INFINITY, 11, 4, 5, 9},
};

/* When a step is done; months are counted from these. */
typedef enum calendar_time {
    TIME_BARE,      /* between frost and leaf */
    TIME_LEAF,      /* full leaf */
    TIME_SUMMER,    /* dry ground */
    TIME_AUTUMN,    /* before the frost */
    TIME_WINTER,    /* snow and frost */
    TIME_NEXT_BARE, /* after that winter */
    TIME_NEXT_LEAF
} calendar_time;

enum {
    IF_TREES = 1,
    IF_RADIO = 2,
    IF_TRENCH = 4,
    IF_POSTS = 8,
    IF_MAINS = 16,
    IF_SNOW = 32,
    IF_DIGS = 64,
    IF_CABLE = 128
};

/* A step is done where all of its conditions hold; one without any always. */
static const struct {
    calendar_time time;
    unsigned conditions;
    const char *what;
    const char *why;
} STEPS[] = {
    {TIME_BARE, 0, "Walk the line with a tape and a level while nothing hides the ground",
     "every height and distance of the plan comes from this walk"},
    {TIME_BARE, IF_RADIO, "Look from end to end, by day and with a torch at dusk",
     "what stands in the way bare stands there always"},
    {TIME_LEAF, IF_RADIO | IF_TREES,
     "Look again in full leaf, and read a borrowed radio's level after rain",
     "leaves and water on them are what most links fail by"},
    {TIME_LEAF, IF_DIGS, "Have buried cables and pipes marked, and ask who else must agree",
     "marks fade in weeks, and nothing is dug before them"},
    {TIME_LEAF, 0, "Settle what is open, compute again, and order",
     "what is out of stock comes in time for the autumn"},
    {TIME_SUMMER, IF_TRENCH, "Dig while the ground is dry, lay, photograph with a tape, fill",
     "a wet trench falls in, and a photograph finds the cable again"},
    {TIME_SUMMER, IF_MAINS, "The electrician connects and tests before anything is filled in",
     "mains work is licensed work"},
    {TIME_AUTUMN, IF_POSTS, "Set posts and stays before the ground freezes",
     "frozen ground cannot be tamped, and lifts what was set in it"},
    {TIME_AUTUMN, IF_POSTS,
     "String on a calm day near the planned temperature; time the waves, measure the sag",
     "the stringing table holds for the temperature that was read"},
    {TIME_AUTUMN, IF_RADIO, "Put up the gear, aim by signal, measure, and write it down",
     "a later fault shows only against a first reading"},
    {TIME_AUTUMN, IF_CABLE, "Connect both ends, measure loss and rate, and write them down",
     "a later fault shows only against a first reading"},
    {TIME_WINTER, IF_SNOW | IF_RADIO, "Measure again over deep snow, and once while it thaws",
     "the ground is higher, and wet snow on a cover takes its share"},
    {TIME_WINTER, IF_POSTS, "Look along the run after every ice and gale",
     "a stretched cable hangs lower than it was strung"},
    {TIME_WINTER, 0, "Cut the power at the house once in the cold, and see what comes back",
     "what does not start in the cold shows now, not in a storm"},
    {TIME_NEXT_BARE, IF_POSTS, "Retension, probe the posts at the ground line, tighten stays",
     "most of the creep and the settling is over"},
    {TIME_NEXT_LEAF, IF_RADIO, "Measure again in leaf, dry and after rain; clean the covers",
     "now every season has been seen once"},
};

static int shifted(int month, bool south)
{
    return month == 0 ? 0 : (south ? (month + 5) % 12 + 1 : month);
}

/* The month so many after another one. */
static int later(int month, int months)
{
    return (month - 1 + months + 24) % 12 + 1;
}

static void put_months(const fe_plan *plan, fe_calendar *calendar)
{
    const double coldest_c = fe_plan_coldest(plan);
    size_t row = 0;
    while (!(coldest_c > MONTHS[row].above_c) && isfinite(MONTHS[row].above_c))
        row++;
    const fe_value *latitude = &plan->ends[0].latitude_rad;
    calendar->south = latitude->given != FE_GIVEN_NOT ? latitude->typical < 0.0
                                                      : plan->site.region.value == FE_REGION_AU;
    calendar->frost = MONTHS[row].frost_first > 0;
    calendar->frost_first = shifted(MONTHS[row].frost_first, calendar->south);
    calendar->frost_last = shifted(MONTHS[row].frost_last, calendar->south);
    calendar->leaf_first = shifted(MONTHS[row].leaf_first, calendar->south);
    calendar->leaf_last = shifted(MONTHS[row].leaf_last, calendar->south);
}

static void put_time(const fe_calendar *calendar, calendar_time time, fe_calendar_step *step)
{
    const int winter = shifted(1, calendar->south);
    step->next_year = time == TIME_NEXT_BARE || time == TIME_NEXT_LEAF;
    switch (time) {
    case TIME_BARE:
    case TIME_NEXT_BARE:
        step->first_month = calendar->frost ? calendar->frost_last : winter;
        step->last_month = later(calendar->leaf_first, -1);
        return;
    case TIME_LEAF:
    case TIME_NEXT_LEAF:
        step->first_month = later(calendar->leaf_first, 1);
        step->last_month = later(calendar->leaf_first, 2);
        return;
    case TIME_SUMMER:
        step->first_month = later(calendar->leaf_first, 2);
        step->last_month = later(calendar->leaf_first, 4);
        return;
    case TIME_AUTUMN:
        step->first_month = later(calendar->leaf_first, 4);
        step->last_month =
            calendar->frost ? later(calendar->frost_first, -1) : calendar->leaf_last;
        return;
    case TIME_WINTER:
        step->first_month = calendar->frost ? calendar->frost_first : winter;
        step->last_month = calendar->frost ? calendar->frost_last : later(winter, 1);
        return;
    }
}

/* Trees that lose their leaves. */
static bool has_leaves(const fe_plan *plan)
{
    for (size_t i = 0; i < plan->tree_count; i++)
        if (plan->trees[i].kind.value != FE_TREES_CONIFER)
            return true;
    return false;
}

static unsigned conditions_of(const fe_result *result)
{
    unsigned held = has_leaves(result->plan) ? IF_TREES : 0u;
    held |= fe_plan_deepest_snow(result->plan) > 0.0 ? IF_SNOW : 0u;
    for (size_t choice = 0; choice < fe_result_choice_count(result); choice++) {
        const fe_way *way = fe_result_way(result, fe_result_choice(result, choice));
        if (!way)
            continue;
        held |= fe_way_is_radio(way->kind)   ? IF_RADIO
                : fe_way_is_power(way->kind) ? 0u
                                             : IF_CABLE;
        held |= way->trench_m > 0.0 ? IF_TRENCH | IF_DIGS : 0u;
        held |= way->posts > 0 ? IF_POSTS | IF_DIGS : 0u;
        held |= way->hazards & FE_HAZARD_MAINS ? IF_MAINS : 0u;
    }
    return held;
}

void fe_calendar_of(const fe_result *result, fe_calendar *calendar)
{
    const unsigned held = conditions_of(result);
    *calendar = (fe_calendar){.step_count = 0};
    put_months(result->plan, calendar);
    for (size_t i = 0; i < sizeof STEPS / sizeof STEPS[0]; i++) {
        if ((STEPS[i].conditions & held) != STEPS[i].conditions)
            continue;
        fe_calendar_step *step = &calendar->steps[calendar->step_count++];
        *step = (fe_calendar_step){.what = STEPS[i].what, .why = STEPS[i].why};
        put_time(calendar, STEPS[i].time, step);
    }
}
