/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/gas.h"

#include <math.h>

#include "base/argument.h"
#include "base/count.h"
#include "farend/constants.h"

/* Oxygen, ITU-R P.676-13 Annex 1 Table 1: f0 in GHz, then a1 to a6. */
static const fe_gas_line OXYGEN[] = {
    {50.474214, {0.975, 9.651, 6.690, 0.0, 2.566, 6.850}},
    {50.987745, {2.529, 8.653, 7.170, 0.0, 2.246, 6.800}},
    {51.503360, {6.193, 7.709, 7.640, 0.0, 1.947, 6.729}},
    {52.021429, {14.320, 6.819, 8.110, 0.0, 1.667, 6.640}},
    {52.542418, {31.240, 5.983, 8.580, 0.0, 1.388, 6.526}},
    {53.066934, {64.290, 5.201, 9.060, 0.0, 1.349, 6.206}},
    {53.595775, {124.600, 4.474, 9.550, 0.0, 2.227, 5.085}},
    {54.130025, {227.300, 3.800, 9.960, 0.0, 3.170, 3.750}},
    {54.671180, {389.700, 3.182, 10.370, 0.0, 3.558, 2.654}},
    {55.221384, {627.100, 2.618, 10.890, 0.0, 2.560, 2.952}},
    {55.783815, {945.300, 2.109, 11.340, 0.0, -1.172, 6.135}},
    {56.264774, {543.400, 0.014, 17.030, 0.0, 3.525, -0.978}},
    {56.363399, {1331.800, 1.654, 11.890, 0.0, -2.378, 6.547}},
    {56.968211, {1746.600, 1.255, 12.230, 0.0, -3.545, 6.451}},
    {57.612486, {2120.100, 0.910, 12.620, 0.0, -5.416, 6.056}},
    {58.323877, {2363.700, 0.621, 12.950, 0.0, -1.932, 0.436}},
    {58.446588, {1442.100, 0.083, 14.910, 0.0, 6.768, -1.273}},
    {59.164204, {2379.900, 0.387, 13.530, 0.0, -6.561, 2.309}},
    {59.590983, {2090.700, 0.207, 14.080, 0.0, 6.957, -0.776}},
    {60.306056, {2103.400, 0.207, 14.150, 0.0, -6.395, 0.699}},
    {60.434778, {2438.000, 0.386, 13.390, 0.0, 6.342, -2.825}},
    {61.150562, {2479.500, 0.621, 12.920, 0.0, 1.014, -0.584}},
    {61.800158, {2275.900, 0.910, 12.630, 0.0, 5.014, -6.619}},
    {62.411220, {1915.400, 1.255, 12.170, 0.0, 3.029, -6.759}},
    {62.486253, {1503.000, 0.083, 15.130, 0.0, -4.499, 0.844}},
    {62.997984, {1490.200, 1.654, 11.740, 0.0, 1.856, -6.675}},
    {63.568526, {1078.000, 2.108, 11.340, 0.0, 0.658, -6.139}},
    {64.127775, {728.700, 2.617, 10.880, 0.0, -3.036, -2.895}},
    {64.678910, {461.300, 3.181, 10.380, 0.0, -3.968, -2.590}},
    {65.224078, {274.000, 3.800, 9.960, 0.0, -3.528, -3.680}},
    {65.764779, {153.000, 4.473, 9.550, 0.0, -2.548, -5.002}},
    {66.302096, {80.400, 5.200, 9.060, 0.0, -1.660, -6.091}},
    {66.836834, {39.800, 5.982, 8.580, 0.0, -1.680, -6.393}},
    {67.369601, {18.560, 6.818, 8.110, 0.0, -1.956, -6.475}},
    {67.900868, {8.172, 7.708, 7.640, 0.0, -2.216, -6.545}},
    {68.431006, {3.397, 8.652, 7.170, 0.0, -2.492, -6.600}},
    {68.960312, {1.334, 9.650, 6.690, 0.0, -2.773, -6.650}},
    {118.750334, {940.300, 0.010, 16.640, 0.0, -0.439, 0.079}},
    {368.498246, {67.400, 0.048, 16.400, 0.0, 0.000, 0.000}},
    {424.763020, {637.700, 0.044, 16.400, 0.0, 0.000, 0.000}},
    {487.249273, {237.400, 0.049, 16.000, 0.0, 0.000, 0.000}},
    {715.392902, {98.100, 0.145, 16.000, 0.0, 0.000, 0.000}},
    {773.839490, {572.300, 0.141, 16.200, 0.0, 0.000, 0.000}},
    {834.145546, {183.100, 0.145, 14.700, 0.0, 0.000, 0.000}},
};

/* Water vapour, ITU-R P.676-13 Annex 1 Table 2: f0 in GHz, then b1 to b6. */
static const fe_gas_line WATER[] = {
    {22.23508, {0.1079, 2.144, 26.38, 0.76, 5.087, 1.0}},
    {67.80396, {0.0011, 8.732, 28.58, 0.69, 4.93, 0.82}},
    {119.99594, {0.0007, 8.353, 29.48, 0.7, 4.78, 0.79}},
    {183.310087, {2.273, 0.668, 29.06, 0.77, 5.022, 0.85}},
    {321.22563, {0.047, 6.179, 24.04, 0.67, 4.398, 0.54}},
    {325.152888, {1.514, 1.541, 28.23, 0.64, 4.893, 0.74}},
    {336.227764, {0.001, 9.825, 26.93, 0.69, 4.74, 0.61}},
    {380.197353, {11.67, 1.048, 28.11, 0.54, 5.063, 0.89}},
    {390.134508, {0.0045, 7.347, 21.52, 0.63, 4.81, 0.55}},
    {437.346667, {0.0632, 5.048, 18.45, 0.6, 4.23, 0.48}},
    {439.150807, {0.9098, 3.595, 20.07, 0.63, 4.483, 0.52}},
    {443.018343, {0.192, 5.048, 15.55, 0.6, 5.083, 0.5}},
    {448.001085, {10.41, 1.405, 25.64, 0.66, 5.028, 0.67}},
    {470.888999, {0.3254, 3.597, 21.34, 0.66, 4.506, 0.65}},
    {474.689092, {1.26, 2.379, 23.2, 0.65, 4.804, 0.64}},
    {488.490108, {0.2529, 2.852, 25.86, 0.69, 5.201, 0.72}},
    {503.568532, {0.0372, 6.731, 16.12, 0.61, 3.98, 0.43}},
    {504.482692, {0.0124, 6.731, 16.12, 0.61, 4.01, 0.45}},
    {547.67644, {0.9785, 0.158, 26.0, 0.7, 4.5, 1.0}},
    {552.02096, {0.184, 0.158, 26.0, 0.7, 4.5, 1.0}},
    {556.935985, {497.0, 0.159, 30.86, 0.69, 4.552, 1.0}},
    {620.700807, {5.015, 2.391, 24.38, 0.71, 4.856, 0.68}},
    {645.766085, {0.0067, 8.633, 18.0, 0.6, 4.0, 0.5}},
    {658.00528, {0.2732, 7.816, 32.1, 0.69, 4.14, 1.0}},
    {752.033113, {243.4, 0.396, 30.86, 0.68, 4.352, 0.84}},
    {841.051732, {0.0134, 8.177, 15.9, 0.33, 5.76, 0.45}},
    {859.965698, {0.1325, 8.055, 30.6, 0.68, 4.09, 0.84}},
    {899.303175, {0.0547, 7.914, 29.85, 0.68, 4.53, 0.9}},
    {902.611085, {0.0386, 8.429, 28.65, 0.7, 5.1, 0.95}},
    {906.205957, {0.1836, 5.11, 24.08, 0.7, 4.7, 0.53}},
    {916.171582, {8.4, 1.441, 26.73, 0.7, 5.15, 0.78}},
    {923.112692, {0.0079, 10.293, 29.0, 0.7, 5.0, 0.8}},
    {970.315022, {9.009, 1.919, 25.5, 0.64, 4.94, 0.67}},
    {987.926764, {134.6, 0.257, 29.85, 0.68, 4.55, 0.9}},
    {1780.0, {17506.0, 0.952, 196.3, 2.0, 24.15, 5.0}},
};

static const double P676_LOW_GHZ = 1.0;
static const double P676_HIGH_GHZ = 1000.0;

/* P.676-13 eq 4: e = rho T / 216.7 with rho in g/m3 and e in hPa. */
static const double VAPOUR_CONSTANT = 216.7;

/* The air in the units of the Recommendation. */
typedef struct air_state {
    double p_hpa; /* dry */
    double e_hpa;
    double theta; /* 300 K over the temperature */
} air_state;

const fe_gas_line *fe_gas_oxygen_lines(size_t *count)
{
    *count = COUNT(OXYGEN);
    return OXYGEN;
}

const fe_gas_line *fe_gas_water_lines(size_t *count)
{
    *count = COUNT(WATER);
    return WATER;
}

fe_gas_air fe_gas_standard_air(void)
{
    return (fe_gas_air){
        .dry_pressure_pa = 101325.0, .temp_c = 15.0, .water_vapour_kg_m3 = 7.5e-3};
}

/* Eq 5: shape of a line of width `width` and interference `delta`, all in GHz. */
static double line_shape(double f, double f0, double width, double delta)
{
    const double below = f0 - f;
    const double above = f0 + f;
    return f / f0 *
           ((width - delta * below) / (below * below + width * width) +
            (width - delta * above) / (above * above + width * width));
}

static double oxygen_line(const fe_gas_line *line, const air_state *air, double f_ghz)
{
    const double *a = line->figure;
    const double theta = air->theta;
    const double strength =
        a[0] * 1e-7 * air->p_hpa * pow(theta, 3.0) * exp(a[1] * (1.0 - theta));
    const double pressure_width =
        a[2] * 1e-4 * (air->p_hpa * pow(theta, 0.8 - a[3]) + 1.1 * air->e_hpa * theta);
    /* Eq 6b: Zeeman splitting. */
    const double width = sqrt(pressure_width * pressure_width + 2.25e-6);
    const double delta =
        (a[4] + a[5] * theta) * 1e-4 * (air->p_hpa + air->e_hpa) * pow(theta, 0.8);
    return strength * line_shape(f_ghz, line->f0_ghz, width, delta);
}

static double water_line(const fe_gas_line *line, const air_state *air, double f_ghz)
{
    const double *b = line->figure;
    const double theta = air->theta;
    const double strength =
        b[0] * 1e-1 * air->e_hpa * pow(theta, 3.5) * exp(b[1] * (1.0 - theta));
    const double pressure_width =
        b[2] * 1e-4 * (air->p_hpa * pow(theta, b[3]) + b[4] * air->e_hpa * pow(theta, b[5]));
    /* Eq 6b: Doppler broadening. */
    const double width =
        0.535 * pressure_width + sqrt(0.217 * pressure_width * pressure_width +
                                      2.1316e-12 * line->f0_ghz * line->f0_ghz / theta);
    return strength * line_shape(f_ghz, line->f0_ghz, width, 0.0);
}

/* Eq 8, 9: the Debye spectrum of oxygen under 10 GHz and nitrogen absorption above 100 GHz. */
static double dry_continuum(const air_state *air, double f_ghz)
{
    const double p = air->p_hpa;
    const double theta = air->theta;
    const double d = 5.6e-4 * (p + air->e_hpa) * pow(theta, 0.8);
    if (!(d > 0.0))
        return 0.0;
    const double debye = 6.14e-5 / (d * (1.0 + (f_ghz / d) * (f_ghz / d)));
    const double nitrogen = 1.4e-12 * p * pow(theta, 1.5) / (1.0 + 1.9e-5 * pow(f_ghz, 1.5));
    return f_ghz * p * theta * theta * (debye + nitrogen);
}

fe_status fe_gas_specific(double f_hz, const fe_gas_air *air, fe_gas_attenuation *result)
{
    const double temp_k = air->temp_c + FE_KELVIN_OFFSET_C;
    if (!(f_hz > 0.0) || !(temp_k > 0.0) || !(air->dry_pressure_pa >= 0.0) ||
        !(air->water_vapour_kg_m3 >= 0.0))
        return FE_E_DOMAIN;
    if (!isfinite(f_hz) || !isfinite(temp_k) || !isfinite(air->dry_pressure_pa) ||
        !isfinite(air->water_vapour_kg_m3))
        return FE_E_DOMAIN;

    const double f_ghz = f_hz / 1e9;
    const air_state state = {
        .p_hpa = air->dry_pressure_pa / 100.0,
        .e_hpa = 1000.0 * air->water_vapour_kg_m3 * temp_k / VAPOUR_CONSTANT,
        .theta = 300.0 / temp_k,
    };
    double oxygen = dry_continuum(&state, f_ghz);
    double water = 0.0;
    for (size_t i = 0; i < COUNT(OXYGEN); i++)
        oxygen += oxygen_line(&OXYGEN[i], &state, f_ghz);
    for (size_t i = 0; i < COUNT(WATER); i++)
        water += water_line(&WATER[i], &state, f_ghz);

    /* Eq 1, with the result per metre. */
    const double scale = 0.1820e-3 * f_ghz;
    *result = (fe_gas_attenuation){scale * oxygen, scale * water, scale * (oxygen + water)};
    return f_ghz < P676_LOW_GHZ || f_ghz > P676_HIGH_GHZ ? FE_W_RANGE : FE_OK;
}

fe_status fe_gas_saturation(double temp_c, double pressure_pa, double *e_sat_pa)
{
    /* The exponent's pole lies at -257.14 degrees C; nothing near it is weather. */
    if (!(temp_c > -200.0) || !(pressure_pa > 0.0) || !isfinite(temp_c) ||
        !isfinite(pressure_pa))
        return FE_E_DOMAIN;
    const double p_hpa = pressure_pa / 100.0;
    const double enhancement = 1.0 + 1e-4 * (7.2 + p_hpa * (0.0320 + 5.9e-6 * temp_c * temp_c));
    const double e_hpa =
        enhancement * 6.1121 * exp((18.678 - temp_c / 234.5) * temp_c / (temp_c + 257.14));
    *e_sat_pa = 100.0 * e_hpa;
    return temp_c < -40.0 || temp_c > 50.0 ? FE_W_RANGE : FE_OK;
}

fe_status fe_gas_wet_refractivity(double temp_c, double e_pa, double *n_wet)
{
    const double temp_k = temp_c + FE_KELVIN_OFFSET_C;
    if (!is_positive(temp_k) || !is_at_least_zero(e_pa))
        return FE_E_DOMAIN;
    const double e_hpa = e_pa / 100.0;
    *n_wet = 72.0 * e_hpa / temp_k + 3.75e5 * e_hpa / (temp_k * temp_k);
    return FE_OK;
}

fe_status fe_gas_refractivity_of(double temp_c, double pressure_pa, double humidity,
                                 fe_gas_refractivity *result)
{
    if (!(humidity >= 0.0) || !(humidity <= 1.0))
        return FE_E_DOMAIN;
    double e_sat_pa;
    const fe_status status = fe_gas_saturation(temp_c, pressure_pa, &e_sat_pa);
    if (status < 0)
        return status;
    const double e_pa = humidity * e_sat_pa;
    double n_wet;
    if (e_pa > pressure_pa || fe_gas_wet_refractivity(temp_c, e_pa, &n_wet) < 0)
        return FE_E_DOMAIN;
    const double n_dry = 0.776 * (pressure_pa - e_pa) / (temp_c + FE_KELVIN_OFFSET_C);
    *result = (fe_gas_refractivity){e_sat_pa, e_pa, n_dry, n_wet, n_dry + n_wet};
    return status;
}
