/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "propagation/build_curves.h"

#include <math.h>

#include "farend/budget.h"

/* A cell of the curve is as wide as one of the spread, whose mass lies evenly over its width.
 */
static void fill_shape(const fe_spread *build, double lost_db, fe_placing_curve *shape)
{
    const double cells = lost_db / FE_SPREAD_STEP_DB - (double)build->first + 0.5;
    const size_t whole = (size_t)fmax(0.0, cells);
    double below = 0.0;
    for (size_t i = 0; i < whole && i < build->count; i++)
        below += build->share[i];
    for (size_t k = 0; k + 1 < FE_PLACING_CURVE_CELLS; k++) {
        const double share = whole + k < build->count ? build->share[whole + k] : 0.0;
        shape->cost[k] = fmax(0.0, -log(below + share * (cells - (double)whole)));
        below += share;
    }
    shape->cost[FE_PLACING_CURVE_CELLS - 1] = 0.0;
}

fe_status build_curves_make(const fe_hop *hop, const fe_path_loss *loss, double chance,
                            build_curves *curves, fe_placing_curve *shapes)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < BUILD_CURVES && status >= 0; i++) {
        fe_path_loss like = *loss;
        fe_spread build;
        like.trees_db = 0.0;
        like.ground_sigma_db = (double)i;
        status = fe_status_worse(status, fe_build_loss(hop, &like, &build));
        if (status < 0)
            break;
        curves->lost_db[i] = fe_spread_quantile(&build, chance);
        fill_shape(&build, curves->lost_db[i], &shapes[i]);
    }
    return status;
}

double build_curves_lost(const build_curves *curves, double sigma_db)
{
    if (!(sigma_db < BUILD_CURVES - 1))
        return curves->lost_db[BUILD_CURVES - 1];
    const size_t i = (size_t)sigma_db;
    return curves->lost_db[i] +
           (sigma_db - (double)i) * (curves->lost_db[i + 1] - curves->lost_db[i]);
}

size_t build_curves_nearest(double sigma_db)
{
    return sigma_db < BUILD_CURVES - 1 ? (size_t)(sigma_db + 0.5) : BUILD_CURVES - 1;
}
