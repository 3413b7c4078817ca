/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/ice_wind.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/argument.h"
#include "farend/constants.h"

/* 0.00256 lbf/ft2 for each (mi/h)^2, in Pa for each (m/s)^2; the units are exact. */
static const double PRESSURE_PER_SPEED2 = 0.00256 *
                                          (FE_POUND_FORCE_N / (FE_FOOT_M * FE_FOOT_M)) /
                                          (FE_MILE_M / 3600.0 * (FE_MILE_M / 3600.0));

fe_status fe_ice_load(double diameter_m, double thickness_m, double density_kg_m3,
                      double *load_n_m)
{
    if (!is_at_least_zero(diameter_m) || !is_at_least_zero(thickness_m) ||
        !is_at_least_zero(density_kg_m3))
        return FE_E_DOMAIN;
    *load_n_m =
        FE_PI * thickness_m * (diameter_m + thickness_m) * density_kg_m3 * FE_GRAVITY_M_S2;
    return FE_OK;
}

fe_status fe_ice_outer_diameter(double diameter_m, double mass_kg_m, double density_kg_m3,
                                double *outer_m)
{
    if (!is_at_least_zero(diameter_m) || !is_at_least_zero(mass_kg_m) ||
        !is_positive(density_kg_m3))
        return FE_E_DOMAIN;
    *outer_m = sqrt(diameter_m * diameter_m + 4.0 * mass_kg_m / (FE_PI * density_kg_m3));
    return FE_OK;
}

fe_status fe_wind_load(double diameter_m, double thickness_m, double pressure_pa,
                       double *load_n_m)
{
    if (!is_at_least_zero(diameter_m) || !is_at_least_zero(thickness_m) ||
        !is_at_least_zero(pressure_pa))
        return FE_E_DOMAIN;
    *load_n_m = pressure_pa * (diameter_m + 2.0 * thickness_m);
    return FE_OK;
}

fe_status fe_wind_pressure(double speed_m_s, double *pressure_pa)
{
    if (!is_at_least_zero(speed_m_s))
        return FE_E_DOMAIN;
    *pressure_pa = PRESSURE_PER_SPEED2 * speed_m_s * speed_m_s;
    return FE_OK;
}

fe_status fe_ice_wind(const fe_ice_wind_case *given, fe_ice_wind_load *load)
{
    double ice_n_m = 0.0;
    double wind_n_m = 0.0;
    if (!is_positive(given->bare_n_m) || !is_at_least_zero(given->added_n_m))
        return FE_E_DOMAIN;
    fe_status status =
        fe_ice_load(given->diameter_m, given->thickness_m, given->density_kg_m3, &ice_n_m);
    if (status == FE_OK)
        status =
            fe_wind_load(given->diameter_m, given->thickness_m, given->pressure_pa, &wind_n_m);
    if (status != FE_OK)
        return status;
    const double vertical_n_m = given->bare_n_m + ice_n_m;
    const double resultant_n_m = hypot(vertical_n_m, wind_n_m);
    const fe_ice_wind_load found = {
        .ice_n_m = ice_n_m,
        .vertical_n_m = vertical_n_m,
        .wind_n_m = wind_n_m,
        .resultant_n_m = resultant_n_m,
        .tension_n_m = resultant_n_m + given->added_n_m,
        .blowout_rad = atan2(wind_n_m, vertical_n_m),
    };
    *load = found;
    return FE_OK;
}

/*
 * IEEE C2 rule 250B Table 250-1 and rule 251 Table 251-1 (ice, wind and temperature read in
 * quotations, metric figures from memory); CPUC General Order 95 rules 43.1 and 43.2 (read;
 * 25 F from memory); CSA C22.3 No. 1 and BS 1320 / ESI 43-20 from memory.
 */
/* clang-format off */
static const fe_ice_district DISTRICTS[] = {
    /* code, district, ice mm, in, wind Pa, psf, C, F, added N/m, lb/ft, ice kg/m3, memory */
    {"US IEEE C2",             "heavy",                        12.5, 0.5,  190, 4,   -20,  0,   4.4,  0.3,  913, false},
    {"US IEEE C2",             "light",                        0,    0,    430, 9,   -1,   30,  0.73, 0.05, 913, false},
    {"US IEEE C2",             "warm islands above 9000 ft",   6.5,  0.25, 190, 4,   -10,  15,  2.9,  0.2,  913, true},
    {"US IEEE C2",             "medium",                       6.5,  0.25, 190, 4,   -10,  15,  2.9,  0.2,  913, false},
    {"US IEEE C2",             "warm islands below 9000 ft",   0,    0,    430, 9,   10,   50,  0.73, 0.05, 913, true},
    {"California GO 95",       "light",                        NAN,  0,    NAN, 8,   NAN,  25,  0,    0,    NAN, true},
    {"California GO 95",       "heavy (above 3000 ft)",        NAN,  0.5,  NAN, 6,   NAN,  0,   0,    0,    913, false},
    {"Canada CSA C22.3 No.1",  "heavy",                        12.5, NAN,  400, NAN, -20,  NAN, 0,    NAN,  900, true},
    {"Canada CSA C22.3 No.1",  "medium B",                     12.5, NAN,  300, NAN, -20,  NAN, 0,    NAN,  900, true},
    {"Canada CSA C22.3 No.1",  "severe",                       19,   NAN,  400, NAN, -20,  NAN, 0,    NAN,  900, true},
    {"Canada CSA C22.3 No.1",  "medium A",                     6.5,  NAN,  400, NAN, -20,  NAN, 0,    NAN,  900, true},
    {"UK BS 1320 / ESI 43-20", "light construction LV and HV", 9.5,  NAN,  380, NAN, -5.6, 22,  0,    NAN,  913, true},};

/* ISO 12494 Table 1 (typical properties of accreted ice) and its ice classes, from memory. */
static const fe_ice_type TYPES[] = {
    /* item, name, low, high, unit */
    {"density",                   "glaze",     900,  900,  "kg/m3"},
    {"density",                   "hard rime", 600,  900,  "kg/m3"},
    {"density",                   "wet snow",  300,  600,  "kg/m3"},
    {"density",                   "soft rime", 200,  600,  "kg/m3"},
    {"rime ice class mass",       "ICR R1",    0.5,  0.5,  "kg/m"},
    {"rime ice class mass",       "ICR R2",    0.9,  0.9,  "kg/m"},
    {"rime ice class mass",       "ICR R3",    1.6,  1.6,  "kg/m"},
    {"rime ice class mass",       "ICR R4",    2.8,  2.8,  "kg/m"},
    {"rime ice class mass",       "ICR R5",    5.0,  5.0,  "kg/m"},
    {"rime ice class mass",       "ICR R6",    8.9,  8.9,  "kg/m"},
    {"rime ice class mass",       "ICR R7",    16.0, 16.0, "kg/m"},
    {"rime ice class mass",       "ICR R8",    28.0, 28.0, "kg/m"},
    {"rime ice class mass",       "ICR R9",    50.0, 50.0, "kg/m"},
    {"glaze ice class thickness", "ICG G1",    10,   10,   "mm"},
    {"glaze ice class thickness", "ICG G2",    20,   20,   "mm"},
    {"glaze ice class thickness", "ICG G3",    30,   30,   "mm"},
    {"glaze ice class thickness", "ICG G4",    40,   40,   "mm"},
    {"glaze ice class thickness", "ICG G5",    50,   50,   "mm"},};

/* EN 50341-2-4, formerly DIN VDE 0210, from memory. */
static const fe_ice_zone ZONES[] = {
    /* zone, N/m, N/m for each mm */
    {1,  5.0, 0.1},
    {2, 10.0, 0.2},
    {3, 15.0, 0.3},
    {4, 20.0, 0.4},
};
/* clang-format on */

enum {
    DISTRICT_COUNT = sizeof DISTRICTS / sizeof DISTRICTS[0],
    TYPE_COUNT = sizeof TYPES / sizeof TYPES[0],
    ZONE_COUNT = sizeof ZONES / sizeof ZONES[0]
};

size_t fe_ice_district_count(void)
{
    return DISTRICT_COUNT;
}

const fe_ice_district *fe_ice_district_at(size_t index)
{
    return index < DISTRICT_COUNT ? &DISTRICTS[index] : NULL;
}

const fe_ice_district *fe_ice_district_find(const char *code, const char *district)
{
    for (size_t i = 0; i < DISTRICT_COUNT; i++)
        if (strcmp(DISTRICTS[i].code, code) == 0 &&
            strcmp(DISTRICTS[i].district, district) == 0)
            return &DISTRICTS[i];
    return NULL;
}

/* The first figure where the code has it, else the second by its factor, else nothing. */
static double metric(double si, double other, double factor)
{
    if (!isnan(si))
        return si;
    return isnan(other) ? 0.0 : other * factor;
}

fe_status fe_ice_district_case(const fe_ice_district *district, double diameter_m,
                               double bare_n_m, fe_ice_wind_case *given, double *temp_c)
{
    const double psf_pa = FE_POUND_FORCE_N / (FE_FOOT_M * FE_FOOT_M);
    const double lb_ft_n_m = FE_POUND_FORCE_N / FE_FOOT_M;
    if (!is_at_least_zero(diameter_m) || !is_positive(bare_n_m))
        return FE_E_DOMAIN;
    const fe_ice_wind_case found = {
        .diameter_m = diameter_m,
        .bare_n_m = bare_n_m,
        .thickness_m = 1e-3 * metric(district->ice_mm, district->ice_in, 1e3 * FE_INCH_M),
        .density_kg_m3 = metric(district->density_kg_m3, NAN, 0.0),
        .pressure_pa = metric(district->wind_pa, district->wind_psf, psf_pa),
        .added_n_m = metric(district->added_n_m, district->added_lb_ft, lb_ft_n_m),
    };
    *given = found;
    *temp_c = isnan(district->temp_c) ? (district->temp_f - 32.0) / 1.8 : district->temp_c;
    return FE_OK;
}

const fe_ice_zone *fe_ice_zone_find(int zone)
{
    for (size_t i = 0; i < ZONE_COUNT; i++)
        if (ZONES[i].zone == zone)
            return &ZONES[i];
    return NULL;
}

fe_status fe_ice_zone_load(int zone, double diameter_m, double *load_n_m)
{
    const fe_ice_zone *found = fe_ice_zone_find(zone);
    if (!found || !is_at_least_zero(diameter_m))
        return FE_E_DOMAIN;
    *load_n_m = found->constant_n_m + found->per_diameter_n_m_mm * 1e3 * diameter_m;
    return FE_OK;
}

size_t fe_ice_type_count(void)
{
    return TYPE_COUNT;
}

const fe_ice_type *fe_ice_type_at(size_t index)
{
    return index < TYPE_COUNT ? &TYPES[index] : NULL;
}

const fe_ice_type *fe_ice_type_find(const char *item, const char *name)
{
    for (size_t i = 0; i < TYPE_COUNT; i++)
        if (strcmp(TYPES[i].item, item) == 0 && strcmp(TYPES[i].name, name) == 0)
            return &TYPES[i];
    return NULL;
}

/* ---- Presets by one name ---- */

static const char ZONE_CODE[] = "EN 50341-2-4";
static const char CLASS_CODE[] = "ISO 12494";
static const char *const ZONE_NAMES[ZONE_COUNT] = {"zone 1", "zone 2", "zone 3", "zone 4"};

static const double GLAZE_KG_M3 = 900.0;
static const double RIME_KG_M3 = 600.0;
static const double ZONE_TEMP_C = -5.0; /* EN 50341, from memory */

enum {
    FIRST_CLASS = 4, /* of TYPES: densities stand before the classes */
    CLASS_COUNT = TYPE_COUNT - FIRST_CLASS
};
_Static_assert(FE_ICE_PRESETS == (int)DISTRICT_COUNT + (int)ZONE_COUNT + (int)CLASS_COUNT,
               "a preset for each district, zone and class");

const char *fe_ice_preset_source(const char *code)
{
    static const struct {
        const char *code;
        const char *source;
    } SOURCES[] = {
        {"US IEEE C2",
         "rule 250B Table 250-1 and rule 251 Table 251-1, edition not read, metric "
         "figures from memory"},
        {"California GO 95", "rules 43.1 and 43.2, date not read"},
        {"Canada CSA C22.3 No.1", "deterministic loads, edition not read, from memory"},
        {"UK BS 1320 / ESI 43-20", "light construction, edition not read, from memory"},
        {ZONE_CODE, "ice zones, edition not read, from memory"},
        {CLASS_CODE, "ice classes of the 2001 text, from memory"},
    };
    for (size_t i = 0; i < sizeof SOURCES / sizeof SOURCES[0]; i++)
        if (strcmp(SOURCES[i].code, code) == 0)
            return SOURCES[i].source;
    return "no source read";
}

/* A preset's code and district; both static. */
static void preset_names(size_t index, const char **code, const char **district)
{
    if (index < DISTRICT_COUNT) {
        *code = DISTRICTS[index].code;
        *district = DISTRICTS[index].district;
    } else if (index < DISTRICT_COUNT + ZONE_COUNT) {
        *code = ZONE_CODE;
        *district = ZONE_NAMES[index - DISTRICT_COUNT];
    } else {
        *code = CLASS_CODE;
        *district = TYPES[index - DISTRICT_COUNT - ZONE_COUNT + FIRST_CLASS].name;
    }
}

void fe_ice_preset_name(size_t index, char name[FE_ICE_PRESET_ROOM])
{
    const char *code = NULL;
    const char *district = NULL;
    preset_names(index, &code, &district);
    snprintf(name, FE_ICE_PRESET_ROOM, "%s/%s", code, district);
}

/* Radial thickness of a sleeve of a mass. */
static fe_status sleeve(double diameter_m, double mass_kg_m, double density_kg_m3,
                        double *thickness_m)
{
    double outer_m = 0.0;
    const fe_status status =
        fe_ice_outer_diameter(diameter_m, mass_kg_m, density_kg_m3, &outer_m);
    if (status == FE_OK)
        *thickness_m = 0.5 * (outer_m - diameter_m);
    return status;
}

static fe_status fill_zone(size_t zone, double diameter_m, fe_ice_district *district)
{
    double load_n_m = 0.0;
    double thickness_m = 0.0;
    fe_status status = fe_ice_zone_load(ZONES[zone].zone, diameter_m, &load_n_m);
    if (status == FE_OK)
        status = sleeve(diameter_m, load_n_m / FE_GRAVITY_M_S2, GLAZE_KG_M3, &thickness_m);
    district->ice_mm = 1e3 * thickness_m;
    district->density_kg_m3 = GLAZE_KG_M3;
    district->temp_c = ZONE_TEMP_C;
    return status;
}

static fe_status fill_class(const fe_ice_type *type, double diameter_m,
                            fe_ice_district *district)
{
    const bool glaze = strcmp(type->unit, "mm") == 0;
    double thickness_m = 1e-3 * type->low;
    fe_status status = FE_OK;
    if (!glaze)
        status = sleeve(diameter_m, type->low, RIME_KG_M3, &thickness_m);
    district->ice_mm = 1e3 * thickness_m;
    district->density_kg_m3 = glaze ? GLAZE_KG_M3 : RIME_KG_M3;
    return status;
}

static fe_status fill_preset(size_t index, double diameter_m, fe_ice_district *district)
{
    fe_ice_district found = {
        .ice_in = NAN, .wind_psf = NAN, .temp_f = NAN, .added_lb_ft = NAN, .from_memory = true};
    fe_status status = FE_OK;
    if (index < DISTRICT_COUNT)
        found = DISTRICTS[index];
    else if (index < DISTRICT_COUNT + ZONE_COUNT)
        status = fill_zone(index - DISTRICT_COUNT, diameter_m, &found);
    else
        status = fill_class(&TYPES[index - DISTRICT_COUNT - ZONE_COUNT + FIRST_CLASS],
                            diameter_m, &found);
    preset_names(index, &found.code, &found.district);
    if (status == FE_OK)
        *district = found;
    return status;
}

fe_status fe_ice_preset(const char *name, double diameter_m, fe_ice_district *district)
{
    char known[FE_ICE_PRESET_ROOM];
    if (!is_at_least_zero(diameter_m))
        return FE_E_DOMAIN;
    for (size_t i = 0; i < FE_ICE_PRESETS; i++) {
        fe_ice_preset_name(i, known);
        if (strcmp(known, name) == 0)
            return fill_preset(i, diameter_m, district);
    }
    return FE_E_INPUT;
}
