/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DECISION_ACCEPTANCE_PLACE_H
#define DECISION_ACCEPTANCE_PLACE_H

#include "farend/acceptance.h"

/* What gear, place and weather say of a link that does not do as computed. */

/* The day of a reading. */
typedef struct accept_visit {
    const fe_accept_weather *weather;
    const fe_season *day;
    const fe_path_loss *loss; /* on it */
} accept_visit;

/* Factors on the chance of each cause; a condition is met that is met on any of the visits. */
void accept_weigh_place(const fe_accept_link *link, const accept_visit *visits, size_t count,
                        double factor[FE_CAUSES]);

#endif
