/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/feeder.h"

#include <math.h>
#include <stdbool.h>

#include "base/argument.h"
#include "base/name.h"

/* Class figures: common practice, no source. They give the usual tables within a tenth. */
/* clang-format off */
static const fe_feeder FEEDERS[] = {
    /* name,           outside m, a dB/m, b dB/m, highest Hz */
    {"1.4 mm pigtail",   1.4e-3,  1.30,   0.08,    6e9},
    {"2.8 mm",           2.8e-3,  0.74,   0.057,   6e9},
    {"5 mm",             5.0e-3,  0.50,   0.12,    3e9},
    {"5 mm low-loss",    5.0e-3,  0.333,  0.011,   6e9},
    {"10 mm",           10.3e-3,  0.24,   0.035,   3e9},
    {"10 mm low-loss",  10.3e-3,  0.127,  0.0085,  6e9},
    {"15 mm low-loss",  15.0e-3,  0.0784, 0.0085,  6e9},
};
/* clang-format on */
enum { FEEDER_COUNT = sizeof FEEDERS / sizeof FEEDERS[0] };

static const double TABLE_TEMP_C = 20.0;
static const double CONDUCTOR_PER_K = 0.002;
static const double LOW_HZ = 30e6;

const fe_feeder *fe_feeders(size_t *count)
{
    *count = FEEDER_COUNT;
    return FEEDERS;
}

const fe_feeder *fe_feeder_find(const char *name)
{
    for (size_t i = 0; i < FEEDER_COUNT; i++)
        if (name_same_without_gaps(FEEDERS[i].name, name))
            return &FEEDERS[i];
    return NULL;
}

fe_status fe_feeder_loss(const fe_feeder *feeder, double f_hz, double length_m,
                         unsigned connectors, double temp_c, double *loss_db)
{
    if (!feeder || !is_positive(f_hz) || !is_at_least_zero(length_m) || !(temp_c >= -60.0) ||
        !(temp_c <= 100.0))
        return FE_E_DOMAIN;
    const double f_ghz = f_hz / 1e9;
    const double warmth = 1.0 + CONDUCTOR_PER_K * (temp_c - TABLE_TEMP_C);
    const double db_per_m =
        feeder->conductor * warmth * sqrt(f_ghz) + feeder->insulation * f_ghz;
    *loss_db = db_per_m * length_m + connectors * FE_FEEDER_CONNECTOR_DB;
    return f_hz < LOW_HZ || f_hz > feeder->most_hz ? FE_W_RANGE : FE_OK;
}
