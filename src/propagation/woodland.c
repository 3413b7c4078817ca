/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/woodland.h"

#include <math.h>
#include <string.h>

#include "base/argument.h"

#define MHZ 1e6

/*
 * mixed_woodland_table: ITU-R P.833-9 sec 2.1 Table 1, one mixed coniferous-deciduous site.
 * fig2_gamma_vertical: P.833-9 Figure 2. ccir_forest_rate: rule of thumb for dense forest in
 * CCIR reports, quoted in a 1997 conference paper. am_model: P.833-9 sec 2.1, from memory.
 */
/* clang-format off */
static const fe_woodland_row ROWS[] = {
    /* set,                              f,             dB/m, A_m,  A_1,  alpha, from f,      to f */
    {"mixed_woodland_table",             105.9 * MHZ,   0.04, 9.4,  NAN,  NAN,   NAN,         NAN},
    {"mixed_woodland_table",             466.475 * MHZ, 0.12, 18.0, NAN,  NAN,   NAN,         NAN},
    {"mixed_woodland_table",             949.0 * MHZ,   0.17, 26.5, NAN,  NAN,   NAN,         NAN},
    {"mixed_woodland_table",             1852.2 * MHZ,  0.3,  29.0, NAN,  NAN,   NAN,         NAN},
    {"mixed_woodland_table",             2117.5 * MHZ,  0.34, 34.1, NAN,  NAN,   NAN,         NAN},
    {"fig2_gamma_vertical",              30.0 * MHZ,    0.02, NAN,  NAN,  NAN,   NAN,         NAN},
    {"fig2_gamma_vertical",              1000.0 * MHZ,  0.2,  NAN,  NAN,  NAN,   NAN,         NAN},
    {"fig2_gamma_vertical",              30000.0 * MHZ, 6.0,  NAN,  NAN,  NAN,   NAN,         NAN},
    {"ccir_forest_rate",                 200.0 * MHZ,   0.05, NAN,  NAN,  NAN,   NAN,         NAN},
    {"ccir_forest_rate",                 500.0 * MHZ,   0.1,  NAN,  NAN,  NAN,   NAN,         NAN},
    {"ccir_forest_rate",                 1000.0 * MHZ,  0.2,  NAN,  NAN,  NAN,   NAN,         NAN},
    {"ccir_forest_rate",                 2000.0 * MHZ,  0.3,  NAN,  NAN,  NAN,   NAN,         NAN},
    {"ccir_forest_rate",                 3000.0 * MHZ,  0.4,  NAN,  NAN,  NAN,   NAN,         NAN},
    {"am_model_tropical",                NAN,           NAN,  NAN,  0.18, 0.752, 900.0 * MHZ, 1800.0 * MHZ},
    {"am_model_mixed_forest",            NAN,           NAN,  NAN,  1.15, 0.43,  900.0 * MHZ, 2200.0 * MHZ},
    {"am_model_coniferous_deciduous",    NAN,           NAN,  NAN,  1.37, 0.42,  105.9 * MHZ, 2117.5 * MHZ},
};
/* clang-format on */
enum { ROW_COUNT = sizeof ROWS / sizeof ROWS[0] };

const fe_woodland_row *fe_woodland_rows(size_t *count)
{
    *count = ROW_COUNT;
    return ROWS;
}

fe_status fe_woodland_loss(double depth_m, double gamma_db_per_m, double a_m_db,
                           double *loss_db)
{
    if (!(depth_m >= 0.0) || !(gamma_db_per_m >= 0.0) || !(a_m_db > 0.0))
        return FE_E_DOMAIN;
    if (!isfinite(depth_m) || !isfinite(gamma_db_per_m) || !isfinite(a_m_db))
        return FE_E_DOMAIN;
    *loss_db = -a_m_db * expm1(-depth_m * gamma_db_per_m / a_m_db);
    return FE_OK;
}

static const fe_woodland_row *first_of(const char *set)
{
    for (size_t i = 0; i < ROW_COUNT; i++)
        if (strcmp(ROWS[i].set, set) == 0)
            return &ROWS[i];
    return NULL;
}

fe_status fe_woodland_specific(double f_hz, double *gamma_db_per_m)
{
    if (!is_positive(f_hz))
        return FE_E_DOMAIN;
    const fe_woodland_row *point = first_of("fig2_gamma_vertical");
    const fe_woodland_row *left = f_hz <= point[1].f_hz ? &point[0] : &point[1];
    const fe_woodland_row *right = left + 1;
    const double share = log(f_hz / left->f_hz) / log(right->f_hz / left->f_hz);
    *gamma_db_per_m =
        left->gamma_db_per_m * pow(right->gamma_db_per_m / left->gamma_db_per_m, share);
    return f_hz < point[0].f_hz || f_hz > point[2].f_hz ? FE_W_RANGE : FE_OK;
}

static const char *set_of(fe_woodland wood)
{
    switch (wood) {
    case FE_WOOD_TROPICAL:
        return "am_model_tropical";
    case FE_WOOD_MIXED_FOREST:
        return "am_model_mixed_forest";
    case FE_WOOD_CONIFEROUS_DECIDUOUS:
    default:
        return "am_model_coniferous_deciduous";
    }
}

fe_status fe_woodland_most(fe_woodland wood, double f_hz, double *a_m_db)
{
    if (!is_positive(f_hz))
        return FE_E_DOMAIN;
    const fe_woodland_row *law = first_of(set_of(wood));
    *a_m_db = law->a1_db * pow(f_hz / MHZ, law->alpha);
    return f_hz < law->f_low_hz || f_hz > law->f_high_hz ? FE_W_RANGE : FE_OK;
}
