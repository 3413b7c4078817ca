/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/anchor.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "base/argument.h"
#include "farend/constants.h"

/* clang-format off */
#define LBF(n) ((n) * FE_POUND_KG * FE_GRAVITY_M_S2)

static const fe_anchor ANCHORS[] = {
    /* class, N, rod in, mm, rod breaks at N */
    {"6000 lb",  LBF(6000.0),  "5/8", 15.9, LBF(16000.0)},
    {"8000 lb",  LBF(8000.0),  "5/8", 15.9, LBF(16000.0)},
    {"10000 lb", LBF(10000.0), "3/4", 19.1, LBF(23000.0)},
    {"12000 lb", LBF(12000.0), "3/4", 19.1, LBF(23000.0)},
};

static const struct soil_share {
    const char *soil;
    double share;
    bool rock;
} SHARES[] = {
    {"bedrock", 1.0,  true},
    {"rock",    1.0,  true},
    {"gravel",  1.0,  false}, /* soil class 5 */
    {"sand",    0.75, false}, /* 6 */
    {"clay",    0.5,  false}, /* 7 */
};

enum { LOG_DEPTHS = 5, LOG_ANGLES = 5 };

/* Rows of 3 to 7 ft, columns of vertical pull and pulls of 1 in 1, 2, 3 and 4; lbf/ft2. */
static const double LOG_PSF[LOG_DEPTHS][LOG_ANGLES] = {
    { 600.0,  950.0, 1300.0, 1450.0, 1500.0},
    {1050.0, 1750.0, 2200.0, 2600.0, 2700.0},
    {1700.0, 2800.0, 3600.0, 4000.0, 4100.0},
    {2400.0, 3800.0, 5100.0, 5800.0, 6000.0},
    {3200.0, 5100.0, 7000.0, 8000.0, 8400.0},
};
/* clang-format on */

enum {
    ANCHOR_COUNT = sizeof ANCHORS / sizeof ANCHORS[0],
    SHARE_COUNT = sizeof SHARES / sizeof SHARES[0]
};

size_t fe_anchor_count(void)
{
    return ANCHOR_COUNT;
}

const fe_anchor *fe_anchor_at(size_t index)
{
    return index < ANCHOR_COUNT ? &ANCHORS[index] : NULL;
}

const fe_anchor *fe_anchor_find(const char *name)
{
    for (size_t i = 0; i < ANCHOR_COUNT; i++)
        if (strcmp(ANCHORS[i].name, name) == 0)
            return &ANCHORS[i];
    return NULL;
}

static const struct soil_share *share_of(const char *soil)
{
    for (size_t i = 0; i < SHARE_COUNT; i++)
        if (strcmp(SHARES[i].soil, soil) == 0)
            return &SHARES[i];
    return NULL;
}

fe_status fe_anchor_holding(const fe_anchor *anchor, const char *soil, double *holding_n)
{
    const struct soil_share *found = share_of(soil);
    if (!found)
        return FE_E_DOMAIN;
    *holding_n = fmin(found->share * anchor->holding_n, anchor->breaking_n);
    return FE_OK;
}

/* ---- Logs ---- */

static double log_angle(int column)
{
    return column == 0 ? 0.5 * FE_PI : atan(1.0 / column);
}

/* A row of the table between its columns, by angle. */
static double psf_at(int row, double angle_rad)
{
    int column = 1;
    while (column < LOG_ANGLES - 1 && angle_rad < log_angle(column))
        column++;
    const double share =
        (log_angle(column - 1) - angle_rad) / (log_angle(column - 1) - log_angle(column));
    return LOG_PSF[row][column - 1] +
           fmin(share, 1.0) * (LOG_PSF[row][column] - LOG_PSF[row][column - 1]);
}

static bool is_log(const fe_anchor_log *log)
{
    return is_positive(log->length_m) && is_positive(log->width_m) &&
           log->angle_rad >= log_angle(LOG_ANGLES - 1) - 1e-9 &&
           log->angle_rad <= 0.5 * FE_PI + 1e-9;
}

fe_status fe_anchor_log_holding(const fe_anchor_log *log, const char *soil, double *holding_n)
{
    const struct soil_share *found = share_of(soil);
    const double feet = log->depth_m / FE_FOOT_M;
    if (!found || found->rock || !is_log(log) || !(feet >= 3.0 - 1e-9) || !(feet <= 7.0 + 1e-9))
        return FE_E_DOMAIN;
    const int row = (int)fmin(fmax(feet - 3.0, 0.0), LOG_DEPTHS - 2.0);
    const double upper = psf_at(row, log->angle_rad);
    const double psf = upper + (feet - 3.0 - row) * (psf_at(row + 1, log->angle_rad) - upper);
    *holding_n =
        found->share * LBF(psf) / (FE_FOOT_M * FE_FOOT_M) * log->length_m * log->width_m;
    return FE_OK;
}

fe_status fe_anchor_log_depth(const fe_anchor_log *log, const char *soil, double holding_n,
                              double *depth_m)
{
    if (!is_positive(holding_n))
        return FE_E_DOMAIN;
    for (int row = 0; row < LOG_DEPTHS; row++) {
        fe_anchor_log tried = *log;
        double holds_n = 0.0;
        tried.depth_m = (3.0 + row) * FE_FOOT_M;
        const fe_status status = fe_anchor_log_holding(&tried, soil, &holds_n);
        if (status != FE_OK)
            return status;
        if (holds_n >= holding_n) {
            *depth_m = tried.depth_m;
            return FE_OK;
        }
    }
    return FE_E_NO_SOLUTION;
}

const fe_strand *fe_anchor_strand(double breaking_n)
{
    for (size_t i = 0; i < fe_strand_count(); i++)
        if (fe_strand_at(i)->high_strength_kn * 1e3 >= breaking_n)
            return fe_strand_at(i);
    return NULL;
}
