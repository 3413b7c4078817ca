/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_RECOVERY_H
#define FAREND_RECOVERY_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/result.h"
#include "farend/status.h"

/*
 * What happens when a device of the recommended ways hangs or dies: what can still be reached
 * from indoors, who can cut its power without going out, and whether it comes back by itself.
 * Two steps: the devices of a result as a list, and the judgement of any such list. All limits
 * and times are common practice, no source.
 */

/* Where a device gets its power. */
typedef enum fe_fed_by {
    FE_FED_HOUSE_OUTLET, /* in the house, plugged in */
    FE_FED_HOUSE_POE,    /* through its data cable, from a port in the house */
    FE_FED_HOUSE_FEED,   /* through the feed, which has a switch in the house */
    FE_FED_OWN           /* mains, panel or battery of its own, out there */
} fe_fed_by;

/* Who can cut its power, from indoors. */
typedef enum fe_cut {
    FE_CUT_BY_HAND,  /* the plug */
    FE_CUT_POE_PORT, /* the port in the house, by a click */
    FE_CUT_FEED,     /* the switch of the feed in the house; all on it restart with it */
    FE_CUT_OUTLET,   /* a switched outlet or port beside it that is not reached through it */
    FE_CUT_NOBODY    /* only a watchdog beside it */
} fe_cut;

/* "the plug, by hand", ... */
const char *fe_cut_name(fe_cut cut);

enum { FE_RECOVERY_NAME_ROOM = 80, FE_RECOVERY_WHAT_ROOM = 240, FE_RECOVERY_MOST = 128 };

typedef struct fe_device {
    char name[FE_RECOVERY_NAME_ROOM];
    char place[FE_RECOVERY_NAME_ROOM];
    bool at_house;
    bool passes_on; /* what is farther out is reached through it */
    size_t behind;  /* so many places before it in the list stands what it is reached through;
                       0: the nearest before it that passes anything on */
    fe_fed_by fed_by;
    double lowest_start_c; /* NAN: not known */
    double coldest_c;      /* where it stands */
    /* Judged. */
    fe_cut cut;
    size_t left;     /* how many of the other devices stay reachable from indoors */
    bool walk;       /* that it hangs means a walk in the snow, unless a watchdog saves it */
    bool cold_start; /* false: too cold there for it to start */
} fe_device;

/* Anything whose single failure matters, devices that die among them. */
typedef struct fe_failure {
    char what[FE_RECOVERY_WHAT_ROOM];
    const char *remedy;
    bool walk;
} fe_failure;

/* A watchdog probes the house and cuts the power of what is beside it. */
typedef struct fe_watchdog {
    double probe_s; /* between probes */
    unsigned misses;
    double off_s;
    unsigned tries;
    double rest_s; /* after the last try, before it begins again */
} fe_watchdog;

typedef struct fe_recovery {
    fe_device devices[FE_RECOVERY_MOST]; /* from the house outwards */
    size_t device_count;
    size_t left_out; /* devices for which there was no room */
    fe_failure failures[4 * FE_RECOVERY_MOST];
    size_t failure_count;
    size_t walks; /* failures and hangs that mean a walk */
    bool wants_watchdog;
    bool wants_outlet;
    fe_watchdog watchdog; /* outlasts restart_s */
    double restart_s;     /* from the return of power until the last device is reached */
} fe_recovery;

/*
 * Judges a list of devices: fills the judged members of each, the failures and the rest.
 *   recovery  devices and device_count given
 */
void fe_recovery_judge(fe_recovery *recovery);

/* The devices of a result's recommended ways, judged; none where nothing is recommended. */
void fe_recovery_of(const fe_result *result, fe_recovery *recovery);

#endif
