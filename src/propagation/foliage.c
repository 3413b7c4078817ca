/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/foliage.h"

#include <math.h>

#include "base/argument.h"

#define GHZ 1e9
#define MHZ 1e6

/*
 * Sources: modified_exponential_decay Weissberger 1982 as given in an encyclopedia article;
 * early_itu CCIR Report 236-2, range by FCC OET Bulletin 70 (1997); fitu_r open transcriptions,
 * out of leaf from memory; cost_235 the COST 235 final report as transcribed openly. The last
 * two are not stated for 2.4 to 6 GHz; the depth limit of the bare fitu_r is that of early_itu.
 */
#define MED FE_FOLIAGE_MODIFIED_EXPONENTIAL_DECAY, "modified_exponential_decay"
#define EARLY FE_FOLIAGE_EARLY_ITU, "early_itu"
#define FITU FE_FOLIAGE_FITU_R, "fitu_r"
#define COST FE_FOLIAGE_COST_235, "cost_235"
/* clang-format off */
static const fe_foliage_law LAWS[] = {
    /* model, fitted to, leaf, bare,           a, f exp., d exp., f unit, from f,      to f,       from, to m */
    {MED,   "dense dry in leaf", true,  false,  0.45,  0.284, 1.0,   GHZ, 0.23 * GHZ, 95.0 * GHZ, 0.0, 14.0},
    {MED,   "dense dry in leaf", true,  false,  1.33,  0.284, 0.588, GHZ, 0.23 * GHZ, 95.0 * GHZ, 14.0, 400.0},
    {EARLY, "any",               true,  true,   0.2,   0.3,   0.6,   MHZ, 0.2 * GHZ,  95.0 * GHZ, 0.0, 400.0},
    {FITU,  "in leaf",           true,  false,  0.39,  0.39,  0.25,  MHZ, 10.0 * GHZ, 40.0 * GHZ, 0.0, 400.0},
    {FITU,  "out of leaf",       false, true,   0.37,  0.18,  0.59,  MHZ, 10.0 * GHZ, 40.0 * GHZ, 0.0, 400.0},
    {COST,  "in leaf",           true,  false, 15.6,  -0.009, 0.26,  MHZ, 9.6 * GHZ,  57.6 * GHZ, 0.0, 200.0},
    {COST,  "out of leaf",       false, true,  26.6,  -0.2,   0.5,   MHZ, 9.6 * GHZ,  57.6 * GHZ, 0.0, 200.0},
};
/* clang-format on */
enum { LAW_COUNT = sizeof LAWS / sizeof LAWS[0] };

/* Factors on decibels against dry trees in leaf: common practice, no source. */
static const double BARE = 0.6;
static const double WET = 1.3;
static const fe_foliage_factor FROZEN = {.low = 0.2, .typical = 0.5, .high = 1.0};

const fe_foliage_law *fe_foliage_laws(size_t *count)
{
    *count = LAW_COUNT;
    return LAWS;
}

/*
 * The branch for a depth; the deepest one where all are too shallow. A model without a law for
 * the state of leaf gives the one it has.
 */
static const fe_foliage_law *find_law(fe_foliage_model model, bool in_leaf, double depth_m)
{
    const fe_foliage_law *found = NULL;
    bool found_fits = false;
    for (size_t i = 0; i < LAW_COUNT; i++) {
        const fe_foliage_law *law = &LAWS[i];
        const bool fits = in_leaf ? law->for_leaves : law->for_bare;
        if (law->model != model || (found && found_fits && !fits))
            continue;
        if (found && found_fits == fits && depth_m <= found->depth_high_m)
            continue;
        found = law;
        found_fits = fits;
    }
    return found;
}

static bool is_inside(const fe_foliage_law *law, bool in_leaf, double f_hz, double depth_m)
{
    return (in_leaf ? law->for_leaves : law->for_bare) && f_hz >= law->f_low_hz &&
           f_hz <= law->f_high_hz && depth_m <= law->depth_high_m;
}

fe_status fe_foliage_loss(fe_foliage_model model, bool in_leaf, double f_hz, double depth_m,
                          double *loss_db)
{
    if (!is_positive(f_hz) || !is_at_least_zero(depth_m))
        return FE_E_DOMAIN;
    const fe_foliage_law *law = find_law(model, in_leaf, depth_m);
    if (!law)
        return FE_E_DOMAIN;
    *loss_db =
        law->a * pow(f_hz / law->f_unit_hz, law->f_exponent) * pow(depth_m, law->d_exponent);
    return is_inside(law, in_leaf, f_hz, depth_m) ? FE_OK : FE_W_RANGE;
}

fe_foliage_factor fe_foliage_factor_of(const fe_foliage_state *state)
{
    const bool bare = state->kind != FE_TREES_CONIFER && !state->in_leaf;
    const double leaf = bare ? BARE : 1.0;
    fe_foliage_factor factor = {1.0, 1.0, 1.0};
    if (state->trees == FE_TREES_WET)
        factor = (fe_foliage_factor){WET, WET, WET};
    else if (state->trees == FE_TREES_FROZEN)
        factor = FROZEN;
    return (fe_foliage_factor){
        .low = leaf * factor.low,
        .typical = leaf * factor.typical,
        .high = leaf * factor.high,
    };
}

fe_status fe_foliage_budget(const fe_foliage_state *state, double f_hz, double depth_m,
                            fe_foliage_result *result)
{
    double dry_db;
    const fe_status status =
        fe_foliage_loss(FE_FOLIAGE_MODIFIED_EXPONENTIAL_DECAY, true, f_hz, depth_m, &dry_db);
    if (status < 0)
        return status;
    const fe_foliage_factor factor = fe_foliage_factor_of(state);
    *result = (fe_foliage_result){
        .loss_low_db = factor.low * dry_db,
        .loss_db = factor.typical * dry_db,
        .loss_high_db = factor.high * dry_db,
    };
    return status;
}

fe_status fe_foliage_routes(double bare_db, double foliage_db, double opaque_db,
                            double *loss_db)
{
    const double through_db = bare_db + foliage_db;
    if (isnan(through_db) || isnan(opaque_db) || through_db == -INFINITY ||
        opaque_db == -INFINITY)
        return FE_E_DOMAIN;
    /* Relative to the better route, so that large losses do not underflow to zero power. */
    const double better_db = fmin(through_db, opaque_db);
    const double worse_db = fmax(through_db, opaque_db);
    if (isinf(better_db))
        return FE_E_DOMAIN;
    *loss_db = better_db - 10.0 * log10(1.0 + pow(10.0, (better_db - worse_db) / 10.0));
    return FE_OK;
}
