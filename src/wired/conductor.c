/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/conductor.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/argument.h"
#include "base/count.h"
#include "base/gauge.h"
#include "farend/constants.h"

/* A line through two points holds far beyond weather; this is where wire insulation ends. */
static const double COLDEST_C = -60.0;
static const double HOTTEST_C = 250.0;

/* Sizes arrive converted from text, and gauge areas rounded to four or five digits. */
static const double SAME_SIZE = 1e-3;

static const double M_PER_KFT = 304.8; /* exact */

/*
 * IEC 60228:2004 Tables 1, 2 and 3: largest resistance of a plain conductor at 20 degC.
 * Above 120 mm2 from memory.
 */
static const fe_metric_resistance METRIC[] = {
    /* mm2     copper class 1, 2, 5    aluminium 1, 2   all ohm/km */
    {0.5, 36.0, 36.0, 39.0, NAN, NAN},
    {0.75, 24.5, 24.5, 26.0, NAN, NAN},
    {1.0, 18.1, 18.1, 19.5, NAN, NAN},
    {1.5, 12.1, 12.1, 13.3, NAN, NAN},
    {2.5, 7.41, 7.41, 7.98, NAN, NAN},
    {4.0, 4.61, 4.61, 4.95, NAN, NAN},
    {6.0, 3.08, 3.08, 3.3, NAN, NAN},
    {10.0, 1.83, 1.83, 1.91, 3.08, 3.08},
    {16.0, 1.15, 1.15, 1.21, 1.91, 1.91},
    {25.0, 0.727, 0.727, 0.78, 1.2, 1.2},
    {35.0, 0.524, 0.524, 0.554, 0.868, 0.868},
    {50.0, 0.387, 0.387, 0.386, 0.641, 0.641},
    {70.0, 0.268, 0.268, 0.272, 0.443, 0.443},
    {95.0, 0.193, 0.193, 0.206, 0.32, 0.32},
    {120.0, 0.153, 0.153, 0.161, 0.253, 0.253},
    {150.0, 0.124, 0.124, 0.129, 0.206, 0.206},
    {185.0, 0.101, 0.0991, 0.106, 0.164, 0.164},
    {240.0, 0.0775, 0.0754, 0.0801, 0.125, 0.125},
    {300.0, 0.0620, 0.0601, 0.0641, 0.1, 0.1},
    {400.0, 0.0465, 0.0470, 0.0486, 0.0778, 0.0778},
};

/* NFPA 70 chapter 9 Table 8: DC resistance at 75 degC, copper uncoated. */
static const fe_awg_resistance TABLE_8[] = {
    /* gauge, build, circular mils, inch, copper and aluminium ohm/kft */
    {18, FE_CLASS_SOLID, 1620.0, 0.04, 7.77, 12.8},
    {18, FE_CLASS_STRANDED, 1620.0, 0.046, 7.95, 13.1},
    {16, FE_CLASS_SOLID, 2580.0, 0.051, 4.89, 8.05},
    {16, FE_CLASS_STRANDED, 2580.0, 0.058, 4.99, 8.21},
    {14, FE_CLASS_SOLID, 4110.0, 0.064, 3.07, 5.06},
    {14, FE_CLASS_STRANDED, 4110.0, 0.073, 3.14, 5.17},
    {12, FE_CLASS_SOLID, 6530.0, 0.081, 1.93, 3.18},
    {12, FE_CLASS_STRANDED, 6530.0, 0.092, 1.98, 3.25},
    {10, FE_CLASS_SOLID, 10380.0, 0.102, 1.21, 2.0},
    {10, FE_CLASS_STRANDED, 10380.0, 0.116, 1.24, 2.04},
    {8, FE_CLASS_SOLID, 16510.0, 0.128, 0.764, 1.26},
    {8, FE_CLASS_STRANDED, 16510.0, 0.146, 0.778, 1.28},
    {6, FE_CLASS_STRANDED, 26240.0, 0.184, 0.491, 0.808},
    {4, FE_CLASS_STRANDED, 41740.0, 0.232, 0.308, 0.508},
    {3, FE_CLASS_STRANDED, 52620.0, 0.26, 0.245, 0.403},
    {2, FE_CLASS_STRANDED, 66360.0, 0.292, 0.194, 0.319},
    {1, FE_CLASS_STRANDED, 83690.0, 0.332, 0.154, 0.253},
    {0, FE_CLASS_STRANDED, 105600.0, 0.372, 0.122, 0.201},
    {-1, FE_CLASS_STRANDED, 133100.0, 0.419, 0.0967, 0.159},
    {-2, FE_CLASS_STRANDED, 167800.0, 0.47, 0.0766, 0.126},
    {-3, FE_CLASS_STRANDED, 211600.0, 0.528, 0.0608, 0.1},
};

/* NFPA 70 (2008) chapter 9 Table 9, PVC conduit columns; 2/0 to 4/0 from memory. */
static const fe_awg_impedance TABLE_9[] = {
    /* gauge; X, R copper, R aluminium, Z copper in ohm/km; the same in ohm/kft */
    {14, 0.19, 10.2, NAN, 8.9, 0.058, 3.1, NAN, 2.7},
    {12, 0.177, 6.6, 10.5, 5.6, 0.054, 2.0, 3.2, 1.7},
    {10, 0.164, 3.9, 6.6, 3.6, 0.05, 1.2, 2.0, 1.1},
    {8, 0.171, 2.56, 4.3, 2.26, 0.052, 0.78, 1.3, 0.69},
    {6, 0.167, 1.61, 2.66, 1.44, 0.051, 0.49, 0.81, 0.44},
    {4, 0.157, 1.02, 1.67, 0.95, 0.048, 0.31, 0.51, 0.29},
    {3, 0.154, 0.82, 1.31, 0.75, 0.047, 0.25, 0.4, 0.23},
    {2, 0.148, 0.62, 1.05, 0.62, 0.045, 0.19, 0.32, 0.19},
    {1, 0.151, 0.49, 0.82, 0.52, 0.046, 0.15, 0.25, 0.16},
    {0, 0.144, 0.39, 0.66, 0.43, 0.044, 0.12, 0.2, 0.13},
    {-1, 0.141, 0.33, 0.52, 0.36, 0.043, 0.10, 0.16, 0.11},
    {-2, 0.138, 0.253, 0.43, 0.289, 0.042, 0.077, 0.13, 0.088},
    {-3, 0.135, 0.203, 0.33, 0.243, 0.041, 0.062, 0.10, 0.074},
};

/* Smallest first. Gauge areas are pi/4 of the squared diameter of fe_awg_geometry. */
static const fe_wire_size METRIC_SIZES[] = {
    /* name, series, gauge, m2 */
    {"0.5 mm2", FE_SIZES_METRIC, 0, 0.5e-6}, {"0.75 mm2", FE_SIZES_METRIC, 0, 0.75e-6},
    {"1 mm2", FE_SIZES_METRIC, 0, 1e-6},     {"1.5 mm2", FE_SIZES_METRIC, 0, 1.5e-6},
    {"2.5 mm2", FE_SIZES_METRIC, 0, 2.5e-6}, {"4 mm2", FE_SIZES_METRIC, 0, 4e-6},
    {"6 mm2", FE_SIZES_METRIC, 0, 6e-6},     {"10 mm2", FE_SIZES_METRIC, 0, 10e-6},
    {"16 mm2", FE_SIZES_METRIC, 0, 16e-6},   {"25 mm2", FE_SIZES_METRIC, 0, 25e-6},
    {"35 mm2", FE_SIZES_METRIC, 0, 35e-6},   {"50 mm2", FE_SIZES_METRIC, 0, 50e-6},
    {"70 mm2", FE_SIZES_METRIC, 0, 70e-6},   {"95 mm2", FE_SIZES_METRIC, 0, 95e-6},
    {"120 mm2", FE_SIZES_METRIC, 0, 120e-6}, {"150 mm2", FE_SIZES_METRIC, 0, 150e-6},
    {"185 mm2", FE_SIZES_METRIC, 0, 185e-6}, {"240 mm2", FE_SIZES_METRIC, 0, 240e-6},
    {"300 mm2", FE_SIZES_METRIC, 0, 300e-6}, {"400 mm2", FE_SIZES_METRIC, 0, 400e-6},
};

static const fe_wire_size AWG_SIZES[] = {
    /* name, series, gauge, m2 */
    {"AWG 28", FE_SIZES_AWG, 28, 0.08097554279e-6},
    {"AWG 26", FE_SIZES_AWG, 26, 0.1287561565e-6},
    {"AWG 24", FE_SIZES_AWG, 24, 0.2047303081e-6},
    {"AWG 23", FE_SIZES_AWG, 23, 0.258160152e-6},
    {"AWG 22", FE_SIZES_AWG, 22, 0.3255339412e-6},
    {"AWG 20", FE_SIZES_AWG, 20, 0.5176192419e-6},
    {"AWG 18", FE_SIZES_AWG, 18, 0.8230468337e-6},
    {"AWG 16", FE_SIZES_AWG, 16, 1.308695728e-6},
    {"AWG 14", FE_SIZES_AWG, 14, 2.080907717e-6},
    {"AWG 12", FE_SIZES_AWG, 12, 3.308772876e-6},
    {"AWG 10", FE_SIZES_AWG, 10, 5.261154955e-6},
    {"AWG 8", FE_SIZES_AWG, 8, 8.36556406e-6},
    {"AWG 6", FE_SIZES_AWG, 6, 13.30176789e-6},
    {"AWG 4", FE_SIZES_AWG, 4, 21.15063943e-6},
    {"AWG 3", FE_SIZES_AWG, 3, 26.67046389e-6},
    {"AWG 2", FE_SIZES_AWG, 2, 33.63083402e-6},
    {"AWG 1", FE_SIZES_AWG, 1, 42.40769871e-6},
    {"AWG 1/0", FE_SIZES_AWG, 0, 53.47512073e-6},
    {"AWG 2/0", FE_SIZES_AWG, -1, 67.43088224e-6},
    {"AWG 3/0", FE_SIZES_AWG, -2, 85.02877257e-6},
    {"AWG 4/0", FE_SIZES_AWG, -3, 107.2193026e-6},
};

double fe_conductor_resistivity_20c_ohm_m(fe_conductor_material material)
{
    return material == FE_CONDUCTOR_COPPER ? 17.241e-9 : 28.264e-9;
}

/* IEC 60028 and IEC 60889 (from memory), ASTM B193. */
static double alpha_20c_per_k(fe_conductor_material material)
{
    return material == FE_CONDUCTOR_COPPER ? 0.00393 : 0.00403;
}

double fe_conductor_clad_factor(double copper_share)
{
    const double ratio = fe_conductor_resistivity_20c_ohm_m(FE_CONDUCTOR_COPPER) /
                         fe_conductor_resistivity_20c_ohm_m(FE_CONDUCTOR_ALUMINIUM);
    if (!(copper_share >= 0.0) || !(copper_share <= 1.0))
        return (double)NAN;
    return 1.0 / (copper_share + (1.0 - copper_share) * ratio);
}

const char *fe_conductor_material_name(fe_conductor_material material)
{
    return material == FE_CONDUCTOR_COPPER ? "copper" : "aluminium";
}

bool fe_conductor_material_named(const char *name, fe_conductor_material *material)
{
    for (int i = FE_CONDUCTOR_COPPER; i <= FE_CONDUCTOR_ALUMINIUM; i++) {
        const fe_conductor_material known = (fe_conductor_material)i;
        if (strcmp(name, fe_conductor_material_name(known)) == 0) {
            *material = known;
            return true;
        }
    }
    return false;
}

static fe_status temp_range(double temp_c)
{
    return temp_c < COLDEST_C || temp_c > HOTTEST_C ? FE_W_RANGE : FE_OK;
}

fe_status fe_resistance_at_temp(double r1_ohm, double t1_c, double alpha_per_k,
                                double alpha_at_c, double t2_c, double *r2_ohm)
{
    if (!is_positive(r1_ohm) || !is_positive(alpha_per_k) ||
        !isfinite(t1_c + alpha_at_c + t2_c))
        return FE_E_DOMAIN;
    const double at_1 = 1.0 + alpha_per_k * (t1_c - alpha_at_c);
    const double at_2 = 1.0 + alpha_per_k * (t2_c - alpha_at_c);
    if (!(at_1 > 0.0) || !(at_2 > 0.0))
        return FE_E_DOMAIN;
    *r2_ohm = r1_ohm * (at_2 / at_1);
    return fe_status_worse(temp_range(t1_c), temp_range(t2_c));
}

fe_status fe_temp_from_resistance(double r1_ohm, double t1_c, double alpha_per_k,
                                  double alpha_at_c, double r2_ohm, double *t2_c)
{
    if (!is_positive(r1_ohm) || !is_positive(r2_ohm) || !is_positive(alpha_per_k) ||
        !isfinite(t1_c + alpha_at_c))
        return FE_E_DOMAIN;
    const double at_1 = 1.0 + alpha_per_k * (t1_c - alpha_at_c);
    if (!(at_1 > 0.0))
        return FE_E_DOMAIN;
    *t2_c = t1_c + at_1 * (r2_ohm / r1_ohm - 1.0) / alpha_per_k;
    return fe_status_worse(temp_range(t1_c), temp_range(*t2_c));
}

fe_status fe_conductor_alpha_at(fe_conductor_material material, double temp_c,
                                double *alpha_per_k)
{
    const double alpha_20c = alpha_20c_per_k(material);
    const double ratio = 1.0 + alpha_20c * (temp_c - 20.0);
    if (!isfinite(temp_c) || !(ratio > 0.0))
        return FE_E_DOMAIN;
    *alpha_per_k = alpha_20c / ratio;
    return temp_range(temp_c);
}

fe_status fe_conductor_kt(double temp_c, double *factor)
{
    if (!isfinite(temp_c) || !(1.0 + 0.004 * (temp_c - 20.0) > 0.0))
        return FE_E_DOMAIN;
    *factor = 1.0 / (1.0 + 0.004 * (temp_c - 20.0));
    return temp_c < 0.0 || temp_c > 90.0 ? FE_W_RANGE : FE_OK;
}

fe_status fe_resistance_of_wire(double resistivity_ohm_m, double length_m, double area_m2,
                                double *r_ohm)
{
    if (!is_positive(resistivity_ohm_m) || !is_positive(length_m) || !is_positive(area_m2))
        return FE_E_DOMAIN;
    *r_ohm = resistivity_ohm_m * length_m / area_m2;
    return FE_OK;
}

fe_status fe_awg_geometry(int gauge, fe_awg *awg)
{
    if (gauge < FE_AWG_LARGEST || gauge > FE_AWG_SMALLEST)
        return FE_E_DOMAIN;
    const double diameter_m = gauge_diameter_m(gauge);
    awg->diameter_m = diameter_m;
    awg->area_m2 = FE_PI / 4.0 * diameter_m * diameter_m;
    awg->copper_ohm_per_m_20c =
        fe_conductor_resistivity_20c_ohm_m(FE_CONDUCTOR_COPPER) / awg->area_m2;
    return FE_OK;
}

bool fe_awg_parse(const char *text, int *gauge)
{
    char *end = NULL;
    const long number = strtol(text, &end, 10);
    if (end == text || number < 0 || number > FE_AWG_SMALLEST)
        return false;
    if (strcmp(end, "/0") == 0) {
        if (number < 1 || 1 - number < FE_AWG_LARGEST)
            return false;
        *gauge = (int)(1 - number);
        return true;
    }
    if (*end)
        return false;
    *gauge = (int)number;
    return true;
}

const fe_awg_resistance *fe_awg_resistance_find(int gauge, fe_conductor_class build)
{
    for (size_t i = 0; i < COUNT(TABLE_8); i++)
        if (TABLE_8[i].gauge == gauge && TABLE_8[i].build == build)
            return &TABLE_8[i];
    return NULL;
}

const fe_awg_impedance *fe_awg_impedance_find(int gauge)
{
    for (size_t i = 0; i < COUNT(TABLE_9); i++)
        if (TABLE_9[i].gauge == gauge)
            return &TABLE_9[i];
    return NULL;
}

fe_status fe_effective_impedance(double r, double x, double power_factor, double *z)
{
    if (!(r >= 0.0) || !(x >= 0.0) || !isfinite(r + x))
        return FE_E_DOMAIN;
    if (!(power_factor > 0.0) || !(power_factor <= 1.0))
        return FE_E_DOMAIN;
    *z = r * power_factor + x * sqrt(1.0 - power_factor * power_factor);
    return FE_OK;
}

static bool is_same_size(double area_m2, double size_m2)
{
    return fabs(area_m2 - size_m2) <= SAME_SIZE * size_m2;
}

const fe_metric_resistance *fe_metric_resistance_find(double area_m2)
{
    for (size_t i = 0; i < COUNT(METRIC); i++)
        if (is_same_size(area_m2, 1e-6 * METRIC[i].area_mm2))
            return &METRIC[i];
    return NULL;
}

const fe_wire_size *fe_wire_size_at(fe_size_series series, size_t index)
{
    if (series == FE_SIZES_METRIC)
        return index < COUNT(METRIC_SIZES) ? &METRIC_SIZES[index] : NULL;
    return index < COUNT(AWG_SIZES) ? &AWG_SIZES[index] : NULL;
}

const fe_wire_size *fe_wire_size_find(double area_m2)
{
    for (size_t i = 0; i < COUNT(METRIC_SIZES); i++)
        if (is_same_size(area_m2, METRIC_SIZES[i].area_m2))
            return &METRIC_SIZES[i];
    for (size_t i = 0; i < COUNT(AWG_SIZES); i++)
        if (is_same_size(area_m2, AWG_SIZES[i].area_m2))
            return &AWG_SIZES[i];
    return NULL;
}

/* NAN where the standard has no such conductor. */
static double metric_ohm_per_m(const fe_metric_resistance *row, fe_conductor_material material,
                               fe_conductor_class build)
{
    const bool copper = material == FE_CONDUCTOR_COPPER;
    switch (build) {
    case FE_CLASS_SOLID:
        return 1e-3 * (copper ? row->copper_solid_ohm_per_km : row->aluminium_solid_ohm_per_km);
    case FE_CLASS_STRANDED:
        return 1e-3 *
               (copper ? row->copper_stranded_ohm_per_km : row->aluminium_stranded_ohm_per_km);
    case FE_CLASS_FLEXIBLE:
        return copper ? 1e-3 * row->copper_flexible_ohm_per_km : NAN;
    }
    return NAN;
}

/* A resistance from a table, at the temperature of that table. */
typedef struct tabled {
    double ohm_per_m; /* NAN where no table has it */
    double at_c;
} tabled;

static tabled awg_tabled(int gauge, fe_conductor_material material, fe_conductor_class build)
{
    const fe_awg_resistance *row = fe_awg_resistance_find(gauge, build);
    if (!row && build == FE_CLASS_SOLID)
        row = fe_awg_resistance_find(gauge, FE_CLASS_STRANDED);
    if (row) {
        const double ohm_per_kft = material == FE_CONDUCTOR_COPPER
                                       ? row->copper_ohm_per_kft_75c
                                       : row->aluminium_ohm_per_kft_75c;
        return (tabled){ohm_per_kft / M_PER_KFT, 75.0};
    }
    fe_awg awg;
    if (build == FE_CLASS_SOLID && fe_awg_geometry(gauge, &awg) == FE_OK)
        return (tabled){fe_conductor_resistivity_20c_ohm_m(material) / awg.area_m2, 20.0};
    return (tabled){NAN, 20.0};
}

static tabled find_tabled(const fe_conductor *conductor)
{
    const fe_metric_resistance *metric = fe_metric_resistance_find(conductor->area_m2);
    if (metric)
        return (tabled){metric_ohm_per_m(metric, conductor->material, conductor->build), 20.0};
    const fe_wire_size *size = fe_wire_size_find(conductor->area_m2);
    if (size && size->series == FE_SIZES_AWG)
        return awg_tabled(size->gauge, conductor->material, conductor->build);
    return (tabled){NAN, 20.0};
}

fe_status fe_conductor_resistance(const fe_conductor *conductor, double temp_c,
                                  double *ohm_per_m)
{
    if (!is_positive(conductor->area_m2))
        return FE_E_DOMAIN;
    fe_status status = FE_OK;
    tabled base = find_tabled(conductor);
    if (isnan(base.ohm_per_m)) {
        base.ohm_per_m =
            fe_conductor_resistivity_20c_ohm_m(conductor->material) / conductor->area_m2;
        status = FE_W_RANGE;
    }
    const double alpha_20c = alpha_20c_per_k(conductor->material);
    return fe_status_worse(status, fe_resistance_at_temp(base.ohm_per_m, base.at_c, alpha_20c,
                                                         20.0, temp_c, ohm_per_m));
}
