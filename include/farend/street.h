/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_STREET_H
#define FAREND_STREET_H

#include <stddef.h>

#include "farend/status.h"

/*
 * Laws of ITU-R P.1411 for short paths among buildings. They hold terrain, clutter and ripple
 * together: shown beside a result as plausibility, never added to it.
 */

/* Site-general law: 10 alpha log10 d + beta + 10 gamma log10 f, d in m, f in GHz. */
typedef struct fe_street_law {
    const char *environment;
    double alpha;
    double beta;
    double gamma;
    double sigma_db;
    double f_low_hz; /* stated range */
    double f_high_hz;
    double d_low_m;
    double d_high_m;
} fe_street_law;

const fe_street_law *fe_street_laws(size_t *count);

/* By name ("los_urban_suburban"); null: unknown. */
const fe_street_law *fe_street_law_find(const char *environment);

typedef struct fe_street_loss {
    double median_db;
    double p10_db; /* not exceeded at 10 % of places */
    double p90_db;
} fe_street_loss;

/*
 * Both ends below roof level. The low end is not held at free space.
 *
 *   law         see above
 *   f_hz        frequency, > 0
 *   distance_m  > 0
 *   result      untouched on error
 *
 * FE_OK, FE_W_RANGE outside the law's range, FE_E_DOMAIN
 *
 * Source: ITU-R P.1411-10/-11 sec 4.1.1 Table 4.
 */
FE_MUST_CHECK fe_status fe_street_site_general(const fe_street_law *law, double f_hz,
                                               double distance_m, fe_street_loss *result);

typedef struct fe_street_bounds {
    double breakpoint_m;
    double loss_breakpoint_db;
    double lower_db;
    double upper_db;
} fe_street_bounds;

/*
 * Line of sight in a street with its break-point: lower and upper bound.
 *
 *   f_hz                  frequency, > 0; stated for 0.3 to 3 GHz
 *   distance_m            > 0
 *   height1_m, height2_m  > 0
 *   result                untouched on error
 *
 * FE_OK, FE_W_RANGE, FE_E_DOMAIN
 *
 * Source: ITU-R P.1411 sec 4.1.1, from memory.
 */
FE_MUST_CHECK fe_status fe_street_breakpoint_bounds(double f_hz, double distance_m,
                                                    double height1_m, double height2_m,
                                                    fe_street_bounds *result);

/*
 * Line of sight in a street where both antennas are at or under the effective height of the
 * road (traffic, hedges, snow banks): no break-point, exponent 3 beyond 20 m.
 *
 *   f_hz        frequency, > 0; stated for 3 to 15 GHz
 *   distance_m  > 0
 *   result      breakpoint_m is the 20 m; untouched on error
 *
 * FE_OK, FE_W_RANGE, FE_E_DOMAIN
 *
 * Source: ITU-R P.1411 sec 4.1, from memory.
 */
FE_MUST_CHECK fe_status fe_street_low_antennas(double f_hz, double distance_m,
                                               fe_street_bounds *result);

#endif
