/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef PROPAGATION_AROUND_TABLE_H
#define PROPAGATION_AROUND_TABLE_H

#include <stdbool.h>

#include "farend/around.h"
#include "farend/dielectric.h"

/* What the map around a place computes once, by the routines of the single path. */
enum {
    AROUND_FADES = 17,   /* distances */
    AROUND_SIGMAS = 241, /* spreads of the ground, 0.05 dB apart */
    AROUND_LEFTS = 1601, /* margins before the build, 0.1 dB apart */
    AROUND_MEANS = 49,   /* phases of the ground ray */
    AROUND_PHASES = 33   /* and their spreads */
};

typedef struct around_season {
    double rise_m;
    size_t level;   /* index of that rise among the different ones */
    double base_db; /* weaker direction's margin less what depends on the place */
    fe_permittivity ground;
    double rough; /* in wavelengths */
    double clear_fade_db[AROUND_FADES];
    double obstructed_fade_db[AROUND_FADES];
} around_season;

typedef struct around_table {
    const fe_around *in;
    around_season *seasons;
    double *rises_m; /* the different ones */
    size_t rise_count;
    bool buried; /* an antenna is under the snow in some season */
    bool carries_rate;
    double gas_db_per_m;
    double ae_m;
    double lambda_m;
    double median_db[AROUND_SIGMAS];              /* build loss */
    double chance[AROUND_SIGMAS][AROUND_LEFTS];   /* of a build loss no greater */
    double cosine10[AROUND_MEANS][AROUND_PHASES]; /* of the ground ray's phase */
    double cosine90[AROUND_MEANS][AROUND_PHASES];
} around_table;

/* FE_OK, FE_W_RANGE, or as fe_around_compute; around_table_free also where it failed. */
FE_MUST_CHECK fe_status around_table_make(const fe_around *in, around_table *table);
void around_table_free(around_table *table);

double around_fade(const around_table *table, const around_season *season, bool obstructed,
                   double distance_m);
double around_median(const around_table *table, double sigma_db);
double around_chance(const around_table *table, double sigma_db, double left_db);
/* Cosines not exceeded with a chance of 10 % and 90 %. */
void around_cosines(const around_table *table, double mean_rad, double spread_rad,
                    double cosines[2]);

#endif
