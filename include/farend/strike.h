/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_STRIKE_H
#define FAREND_STRIKE_H

#include "farend/status.h"

/*
 * How often lightning strikes a line, or the ground so near it that the line feels it:
 * 40 m and 4000 m wide strips along its length.
 *
 *   length_m            > 0; longer than 1000 m counts as it is
 *   density_per_m2_s    flashes to the ground, >= 0 (1 /km2/year is 3.17e-14)
 *   line_factor         installation, type and environment together: 1 for a bare overhead line
 *                       in the open, half of it buried; > 0 to 1
 *   direct_per_s, nearby_per_s   results; untouched on error
 *
 * FE_OK; FE_E_DOMAIN.
 * Source: IEC 62305-2:2010 annex A.4 and A.5 (40 L from memory).
 */
FE_MUST_CHECK fe_status fe_strike_rate(double length_m, double density_per_m2_s,
                                       double line_factor, double *direct_per_s,
                                       double *nearby_per_s);

/* The factor of a line in the ground: IEC 62305-2:2010 table A.2 (from memory). */
#define FE_STRIKE_BURIED 0.5

#endif
