/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/ampacity.h"

#include <math.h>

#include "base/argument.h"
#include "base/count.h"

static const double PVC_C = 70.0;
static const double TABLE_AIR_C = 30.0;
static const double COLDEST_ROW_C = 10.0;

/* NFPA 70:2023 Table 310.16 and 240.4(D); 18, 16 and 2/0 to 4/0 and the devices from memory. */
static const fe_us_ampacity US[] = {
    /* gauge; copper 60, 75, 90 degC; aluminium 60, 75, 90 degC; device; all A */
    {18, NAN, NAN, 14.0, NAN, NAN, NAN, 7.0},
    {16, NAN, NAN, 18.0, NAN, NAN, NAN, 10.0},
    {14, 15.0, 20.0, 25.0, NAN, NAN, NAN, 15.0},
    {12, 20.0, 25.0, 30.0, 15.0, 20.0, 25.0, 20.0},
    {10, 30.0, 35.0, 40.0, 25.0, 30.0, 35.0, 30.0},
    {8, 40.0, 50.0, 55.0, 35.0, 40.0, 45.0, NAN},
    {6, 55.0, 65.0, 75.0, 40.0, 50.0, 55.0, NAN},
    {4, 70.0, 85.0, 95.0, 55.0, 65.0, 75.0, NAN},
    {3, 85.0, 100.0, 115.0, 65.0, 75.0, 85.0, NAN},
    {2, 95.0, 115.0, 130.0, 75.0, 90.0, 100.0, NAN},
    {1, 110.0, 130.0, 145.0, 85.0, 100.0, 115.0, NAN},
    {0, 125.0, 150.0, 170.0, 100.0, 120.0, 135.0, NAN},
    {-1, 145.0, 175.0, 195.0, 115.0, 135.0, 150.0, NAN},
    {-2, 165.0, 200.0, 225.0, 130.0, 155.0, 175.0, NAN},
    {-3, 195.0, 230.0, 260.0, 150.0, 180.0, 205.0, NAN},
};

/* BS 7671 Table 4D2A (IEC 60364-5-52 Table B.52.2 columns B2 and C) and 4D5, from memory. */
static const struct {
    double area_mm2;
    double amperes[3]; /* by fe_cable_method */
} METRIC[] = {
    /* mm2; B, C, flat C in A */
    {1.0, {13.0, 15.0, 16.0}},   {1.5, {16.5, 19.5, 20.0}},   {2.5, {23.0, 27.0, 27.0}},
    {4.0, {30.0, 36.0, 37.0}},   {6.0, {38.0, 46.0, 47.0}},   {10.0, {52.0, 63.0, 64.0}},
    {16.0, {69.0, 85.0, 85.0}},  {25.0, {90.0, 112.0, NAN}},  {35.0, {111.0, 138.0, NAN}},
    {50.0, {133.0, 168.0, NAN}}, {70.0, {168.0, 213.0, NAN}}, {95.0, {201.0, 258.0, NAN}},
};

/* NFPA 70:2023 Table 310.15(B)(1)(1); above 50 degC from memory. */
static const struct {
    double up_to_c;
    double factors[3]; /* 60, 75, 90 degC insulation */
} AIR[] = {
    /* degC; 60, 75, 90 degC */
    {10.0, {1.29, 1.20, 1.15}}, {15.0, {1.22, 1.15, 1.12}}, {20.0, {1.15, 1.11, 1.08}},
    {25.0, {1.08, 1.05, 1.04}}, {30.0, {1.00, 1.00, 1.00}}, {35.0, {0.91, 0.94, 0.96}},
    {40.0, {0.82, 0.88, 0.91}}, {45.0, {0.71, 0.82, 0.87}}, {50.0, {0.58, 0.75, 0.82}},
    {55.0, {0.41, 0.67, 0.76}}, {60.0, {NAN, 0.58, 0.71}},  {65.0, {NAN, 0.47, 0.65}},
    {70.0, {NAN, 0.33, 0.58}},  {75.0, {NAN, NAN, 0.50}},   {80.0, {NAN, NAN, 0.41}},
    {85.0, {NAN, NAN, 0.29}},
};

const fe_us_ampacity *fe_us_ampacity_find(int gauge)
{
    for (size_t i = 0; i < COUNT(US); i++)
        if (US[i].gauge == gauge)
            return &US[i];
    return NULL;
}

/* Column of 60, 75 or 90 degC; -1 for others. */
static int insulation_column(double insulation_c)
{
    static const double columns_c[] = {60.0, 75.0, 90.0};
    for (int i = 0; i < 3; i++)
        if (insulation_c == columns_c[i])
            return i;
    return -1;
}

fe_status fe_ampacity_us(int gauge, fe_conductor_material material, double insulation_c,
                         double *ampacity_a)
{
    const fe_us_ampacity *row = fe_us_ampacity_find(gauge);
    const int column = insulation_column(insulation_c);
    if (!row || column < 0)
        return FE_E_DOMAIN;
    const double copper_a[] = {row->copper_60c_a, row->copper_75c_a, row->copper_90c_a};
    const double aluminium_a[] = {row->aluminium_60c_a, row->aluminium_75c_a,
                                  row->aluminium_90c_a};
    const double cell_a =
        material == FE_CONDUCTOR_COPPER ? copper_a[column] : aluminium_a[column];
    if (isnan(cell_a))
        return FE_E_DOMAIN;
    *ampacity_a = cell_a;
    return FE_OK;
}

fe_status fe_ampacity_metric(double area_m2, fe_cable_method method, double *ampacity_a)
{
    for (size_t i = 0; i < COUNT(METRIC); i++) {
        if (!(fabs(1e6 * area_m2 - METRIC[i].area_mm2) <= 1e-3 * METRIC[i].area_mm2))
            continue;
        if (isnan(METRIC[i].amperes[method]))
            return FE_E_DOMAIN;
        *ampacity_a = METRIC[i].amperes[method];
        return FE_OK;
    }
    return FE_E_DOMAIN;
}

fe_status fe_ampacity_air_factor(double air_c, double insulation_c, double *factor)
{
    const int column = insulation_column(insulation_c);
    if (!isfinite(air_c) || column < 0)
        return FE_E_DOMAIN;
    for (size_t i = 0; i < COUNT(AIR); i++) {
        if (!(air_c <= AIR[i].up_to_c))
            continue;
        if (isnan(AIR[i].factors[column]))
            return FE_E_NO_SOLUTION;
        *factor = AIR[i].factors[column];
        return FE_OK;
    }
    return FE_E_NO_SOLUTION;
}

fe_status fe_ampacity_air_law(double air_c, double max_c, double *factor)
{
    if (!isfinite(air_c) || !isfinite(max_c) || !(max_c > TABLE_AIR_C))
        return FE_E_DOMAIN;
    if (!(air_c < max_c))
        return FE_E_NO_SOLUTION;
    *factor = sqrt((max_c - air_c) / (max_c - TABLE_AIR_C));
    return air_c < COLDEST_ROW_C ? FE_W_RANGE : FE_OK;
}

static fe_status gauge_ampacity(int gauge, fe_conductor_material material,
                                const fe_ampacity_case *where, double *ampacity_a)
{
    double cable_a = 0.0, terminal_a = 0.0, factor = 0.0;
    fe_status status = fe_ampacity_us(gauge, material, where->insulation_c, &cable_a);
    if (status == FE_OK)
        status = fe_ampacity_us(gauge, material, where->terminal_c, &terminal_a);
    if (status == FE_OK)
        status = fe_ampacity_air_factor(where->air_c, where->insulation_c, &factor);
    if (status == FE_OK)
        *ampacity_a = fmin(cable_a * factor, terminal_a);
    return status;
}

static fe_status metric_ampacity(const fe_conductor *conductor, const fe_ampacity_case *where,
                                 double *ampacity_a)
{
    double table_a = 0.0, factor = 0.0;
    const fe_status found = fe_ampacity_metric(conductor->area_m2, where->method, &table_a);
    if (found < 0)
        return found;
    const fe_status status = fe_ampacity_air_law(where->air_c, PVC_C, &factor);
    if (status < 0)
        return status;
    if (conductor->material == FE_CONDUCTOR_COPPER) {
        *ampacity_a = table_a * factor;
        return status;
    }
    const double equal_heat = sqrt(fe_conductor_resistivity_20c_ohm_m(FE_CONDUCTOR_COPPER) /
                                   fe_conductor_resistivity_20c_ohm_m(conductor->material));
    *ampacity_a = table_a * factor * equal_heat;
    return FE_W_RANGE;
}

fe_status fe_ampacity_of(const fe_conductor *conductor, const fe_ampacity_case *where,
                         double *ampacity_a)
{
    const fe_wire_size *size = fe_wire_size_find(conductor->area_m2);
    if (!size)
        return FE_E_DOMAIN;
    if (size->series == FE_SIZES_AWG)
        return gauge_ampacity(size->gauge, conductor->material, where, ampacity_a);
    return metric_ampacity(conductor, where, ampacity_a);
}
