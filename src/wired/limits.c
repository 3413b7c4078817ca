/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/limits.h"

#include <math.h>
#include <string.h>

#include "base/argument.h"
#include "farend/aerial_cable.h"
#include "farend/clearance.h"
#include "farend/constants.h"
#include "farend/tension.h"

/* ---- What hangs ---- */

/* Strength by grade of the strand table, kN; NAN where there is no such grade. */
static double grade_strength(const fe_strand *strand, const char *grade)
{
    if (strcmp(grade, "common") == 0)
        return strand->common_kn;
    if (strcmp(grade, "siemens-martin") == 0)
        return strand->siemens_martin_kn;
    if (strcmp(grade, "high strength") == 0)
        return strand->high_strength_kn;
    if (strcmp(grade, "extra high strength") == 0)
        return strand->extra_high_strength_kn;
    return NAN;
}

/* "3/16 extra high strength": the strand of seven wires, of three where there is no other. */
static fe_status find_strand(const char *text, const fe_strand **strand, double *breaking_n)
{
    enum { SIZE_ROOM = 16, SEVEN = 7, THREE = 3 };
    const size_t length = strcspn(text, " ");
    char size[SIZE_ROOM];
    if (length == 0 || length >= SIZE_ROOM || text[length] == '\0')
        return FE_E_INPUT;
    memcpy(size, text, length);
    size[length] = '\0';
    /* Inches may be marked as such. */
    size[strcspn(size, "\"")] = '\0';
    const fe_strand *found = fe_strand_find(size, SEVEN);
    if (!found)
        found = fe_strand_find(size, THREE);
    if (!found)
        return FE_E_INPUT;
    const double strength_kn = grade_strength(found, text + length + 1);
    if (isnan(strength_kn))
        return FE_E_INPUT;
    *strand = found;
    *breaking_n = strength_kn * 1e3;
    return FE_OK;
}

/*
 * What stays of the stretch after a life under load, as strain, and how much of the strain that
 * ice adds stays after it fell. Common practice, no source: steel hardly creeps, but a new
 * strand beds in; soft metals and aramid yarn creep several times as much.
 */
static const struct lasting {
    double modulus_from_pa;
    double creep;
    double ice_set;
} LASTING[] = {
    /* modulus from, creep strain, share of the strain of ice */
    {150e9, 1e-4, 0.05}, /* steel */
    {90e9, 2e-4, 0.10},  /* hard-drawn copper */
    {40e9, 5e-4, 0.15},  /* aluminium */
    {0.0, 5e-4, 0.05},   /* aramid and glass yarn, by the whole section */
};

static void set_lasting(double modulus_pa, fe_run_cable *cable)
{
    size_t i = 0;
    while (modulus_pa < LASTING[i].modulus_from_pa)
        i++;
    cable->creep = LASTING[i].creep;
    cable->ice_set = LASTING[i].ice_set;
}

/* A cable that nobody made to hang still has a stiffness: its copper. */
static const double DATA_CABLE_MODULUS_PA = 60e9; /* annealed copper pairs, common practice */
static const double DATA_CABLE_EXPANSION_1_K = 17e-6;

/* Eight wires where they are known; 0 where not. */
static double copper_stiffness(const fe_cable_class *given)
{
    return given->conductor_area_m2 > 0.0
               ? 8.0 * given->conductor_area_m2 * DATA_CABLE_MODULUS_PA
               : 0.0;
}

static fe_status hang_under_strand(const fe_cable_class *given, const char *messenger,
                                   fe_hung_cable *cable)
{
    const fe_cable_material *steel = fe_cable_material_find("galvanized 7-wire steel strand");
    const fe_strand *strand = NULL;
    const fe_status status = find_strand(messenger, &strand, &cable->breaking_n);
    if (status != FE_OK)
        return status;
    cable->strand = true;
    cable->self_supporting = true;
    cable->metallic = true;
    cable->everyday_n = NAN;
    cable->run.diameter_m = given->diameter_m + strand->diameter_mm * 1e-3;
    cable->run.weight_n_m = given->weight_n_m + strand->mass_kg_m * FE_GRAVITY_M_S2;
    cable->run.stiffness_n = steel->modulus_gpa * 1e9 * fe_strand_area(strand);
    cable->run.expansion_1_k = steel->expansion_per_k;
    cable->carried_stiffness_n = copper_stiffness(given);
    set_lasting(steel->modulus_gpa * 1e9, &cable->run);
    return FE_OK;
}

static fe_status hang_alone(const fe_cable_class *given, fe_hung_cable *cable)
{
    const bool known = given->area_m2 > 0.0 && given->modulus_pa > 0.0;
    if (given->self_supporting && (!known || !(given->breaking_n > 0.0)))
        return FE_E_DOMAIN;
    cable->breaking_n = given->breaking_n;
    cable->everyday_n = given->everyday_limit_n;
    cable->self_supporting = given->self_supporting;
    cable->metallic = given->metallic;
    cable->run.diameter_m = given->diameter_m;
    cable->run.weight_n_m = given->weight_n_m;
    if (known) {
        cable->run.stiffness_n = given->area_m2 * given->modulus_pa;
        cable->run.expansion_1_k =
            isfinite(given->expansion_1_k) ? given->expansion_1_k : DATA_CABLE_EXPANSION_1_K;
        set_lasting(given->modulus_pa, &cable->run);
        return FE_OK;
    }
    /* A tenth of the section where the wires are not known. */
    const double area_m2 = 0.1 * FE_PI / 4.0 * given->diameter_m * given->diameter_m;
    const double copper_n = copper_stiffness(given);
    cable->run.stiffness_n = copper_n > 0.0 ? copper_n : area_m2 * DATA_CABLE_MODULUS_PA;
    cable->run.expansion_1_k = DATA_CABLE_EXPANSION_1_K;
    set_lasting(DATA_CABLE_MODULUS_PA, &cable->run);
    return FE_OK;
}

fe_status fe_limits_cable(const fe_cable_class *given, const char *messenger,
                          fe_hung_cable *cable)
{
    if (!(given->diameter_m > 0.0) || !(given->weight_n_m > 0.0))
        return FE_E_DOMAIN;
    fe_hung_cable found = {.pulling_n = given->pulling_limit_n};
    const fe_status status =
        messenger ? hang_under_strand(given, messenger, &found) : hang_alone(given, &found);
    if (status == FE_OK)
        *cable = found;
    return status;
}

/* ---- Pull ---- */

/* Shares of the breaking strength by load case; see the header for sources. */
typedef struct share_row {
    double share[FE_RUN_CASE_KINDS];
    const char *rule[FE_RUN_CASE_KINDS];
} share_row;

static const share_row STEEL_STRAND = {
    .share = {[FE_RUN_COLD] = 0.35,
              [FE_RUN_HOT] = 0.25,
              [FE_RUN_ICE] = 0.60,
              [FE_RUN_ICE_WIND] = 0.60,
              [FE_RUN_WIND] = 0.80,
              [FE_RUN_EVERYDAY] = 0.25,
              [FE_RUN_WET_SNOW] = 0.60,
              [FE_RUN_DISTRICT] = 0.60},
    .rule = {[FE_RUN_COLD] = "35 % of breaking, IEEE C2 rule 261H (from memory)",
             [FE_RUN_HOT] = "25 % of breaking, IEEE C2 rule 261H (from memory)",
             [FE_RUN_ICE] = "60 % of breaking, UFGS 16768A",
             [FE_RUN_ICE_WIND] = "60 % of breaking, UFGS 16768A",
             [FE_RUN_WIND] = "80 % of breaking, UFGS 16768A",
             [FE_RUN_EVERYDAY] = "25 % of breaking, IEEE C2 rule 261H (from memory)",
             [FE_RUN_WET_SNOW] = "60 % of breaking, UFGS 16768A",
             [FE_RUN_DISTRICT] = "60 % of breaking, UFGS 16768A"},
};

static const char LOADED_60[] = "60 % of breaking, IEEE 1222";
static const char EVERYDAY_20[] = "20 % of breaking (common practice, no source)";

static const share_row ALL_DIELECTRIC = {
    .share = {[FE_RUN_COLD] = 0.60,
              [FE_RUN_HOT] = 0.20,
              [FE_RUN_ICE] = 0.60,
              [FE_RUN_ICE_WIND] = 0.60,
              [FE_RUN_WIND] = 0.60,
              [FE_RUN_EVERYDAY] = 0.20,
              [FE_RUN_WET_SNOW] = 0.60,
              [FE_RUN_DISTRICT] = 0.60},
    .rule = {[FE_RUN_COLD] = LOADED_60,
             [FE_RUN_HOT] = EVERYDAY_20,
             [FE_RUN_ICE] = LOADED_60,
             [FE_RUN_ICE_WIND] = LOADED_60,
             [FE_RUN_WIND] = LOADED_60,
             [FE_RUN_EVERYDAY] = EVERYDAY_20,
             [FE_RUN_WET_SNOW] = LOADED_60,
             [FE_RUN_DISTRICT] = LOADED_60},
};

static const double FOUR_PAIR_PULL_N = 110.0; /* 25 lbf, TIA-568, from memory */

static void limit_everywhere(double limit_n, const char *rule, fe_pull_limits *limits)
{
    for (int k = 0; k < FE_RUN_CASE_KINDS; k++) {
        limits->limit_n[k] = limit_n;
        limits->rule[k] = rule;
    }
}

/* The maker's long-term load everyday; in the cold at least that. */
static void apply_maker(const fe_hung_cable *cable, fe_pull_limits *limits)
{
    static const char MAKER[] = "the maker's long-term load";
    static const fe_run_case_kind LONG_TERM[] = {FE_RUN_EVERYDAY, FE_RUN_HOT};
    for (size_t i = 0; i < sizeof LONG_TERM / sizeof LONG_TERM[0]; i++) {
        limits->limit_n[LONG_TERM[i]] = cable->everyday_n;
        limits->rule[LONG_TERM[i]] = MAKER;
    }
    if (limits->limit_n[FE_RUN_COLD] < cable->everyday_n) {
        limits->limit_n[FE_RUN_COLD] = cable->everyday_n;
        limits->rule[FE_RUN_COLD] = MAKER;
    }
    limits->limit_n[FE_RUN_WIND] = 0.60 * cable->breaking_n;
    limits->rule[FE_RUN_WIND] = "60 % of breaking (short-term load, common practice)";
}

fe_status fe_limits_pull(const fe_hung_cable *cable, fe_pull_limits *limits)
{
    fe_pull_limits found = {.needs_messenger = !cable->self_supporting};
    if (!cable->self_supporting) {
        const bool known = cable->pulling_n > 0.0;
        limit_everywhere(known ? cable->pulling_n : FOUR_PAIR_PULL_N,
                         "what the cable may be pulled with, in any case", &found);
        *limits = found;
        return FE_OK;
    }
    if (!is_positive(cable->breaking_n))
        return FE_E_DOMAIN;
    if (cable->carried_stiffness_n > 0.0)
        found.carried_n = (cable->pulling_n > 0.0 ? cable->pulling_n : FOUR_PAIR_PULL_N) *
                          cable->run.stiffness_n / cable->carried_stiffness_n;
    const share_row *row = cable->metallic ? &STEEL_STRAND : &ALL_DIELECTRIC;
    for (int k = 0; k < FE_RUN_CASE_KINDS; k++) {
        found.limit_n[k] = row->share[k] * cable->breaking_n;
        found.rule[k] = row->rule[k];
    }
    if (cable->everyday_n > 0.0)
        apply_maker(cable, &found);
    *limits = found;
    return FE_OK;
}

/* Greatest share of a pull limit on one level span, strung with a sag. */
static fe_status level_use(const fe_hung_cable *cable, const fe_pull_limits *limits,
                           const fe_run_case *cases, size_t count, double stringing_c,
                           double share, double span_m, double *use)
{
    const fe_tension_cable elastic = {cable->run.stiffness_n, cable->run.expansion_1_k};
    const fe_tension_state strung = {.temp_c = stringing_c,
                                     .vertical_n_m = cable->run.weight_n_m};
    const fe_span bare = {span_m, 0.0, cable->run.weight_n_m, cable->run.stiffness_n};
    fe_span_shape shape;
    fe_status status = fe_span_at_sag(&bare, share * span_m, &shape);
    if (status < 0)
        return status;
    double most = 0.0;
    const double strung_n = shape.tension_horizontal_n;
    for (size_t c = 0; c < count; c++) {
        const fe_tension_state loaded = {.temp_c = cases[c].temp_c,
                                         .vertical_n_m = cases[c].vertical_n_m,
                                         .wind_n_m = cases[c].wind_n_m};
        double pull_n = 0.0;
        status = fe_tension_change(span_m, 0.0, &elastic, &strung, strung_n, &loaded, &pull_n,
                                   &shape);
        if (status < 0)
            return status;
        most = fmax(most, shape.tension_higher_end_n / limits->limit_n[cases[c].kind]);
    }
    *use = most;
    return FE_OK;
}

fe_status fe_limits_longest_span(const fe_hung_cable *cable, const fe_pull_limits *limits,
                                 const fe_run_case *cases, size_t case_count,
                                 double stringing_c, double most_share, double *span_m)
{
    static const double LONGEST_M = 300.0;
    if (!(most_share >= 0.002) || most_share > 0.2 || !isfinite(stringing_c) || case_count == 0)
        return FE_E_DOMAIN;
    double low_m = 0.0;
    double high_m = LONGEST_M;
    /* Down to a decimetre; longer spans of the same sag share always pull more. */
    while (high_m - low_m > 0.1) {
        const double middle_m = 0.5 * (low_m + high_m);
        double use = 0.0;
        const fe_status status = level_use(cable, limits, cases, case_count, stringing_c,
                                           most_share, middle_m, &use);
        if (status < 0 && status != FE_E_NO_SOLUTION)
            return status;
        if (status >= 0 && use <= 1.0)
            low_m = middle_m;
        else
            high_m = middle_m;
    }
    *span_m = low_m < 1.0 ? 0.0 : low_m;
    return FE_OK;
}

/* ---- Height ---- */

const char *fe_limits_below_name(fe_thing_below below)
{
    /* clang-format off */
    static const char *const NAMES[FE_BELOW_LAST] = {
        [FE_BELOW_WALKERS] = "walkers",
        [FE_BELOW_ANIMALS] = "animals",
        [FE_BELOW_VEHICLES] = "vehicles",
        [FE_BELOW_TALL_MACHINES] = "tall machines",
        [FE_BELOW_WATER] = "water",
        [FE_BELOW_SUPPLY_LINE] = "supply line",
        [FE_BELOW_RIDERS] = "riders",
        [FE_BELOW_DRIVEWAY] = "driveway",
        [FE_BELOW_LOW_DRIVEWAY] = "low driveway",
        [FE_BELOW_ROAD] = "road",
        [FE_BELOW_HIGH_LOADS] = "high loads",
        [FE_BELOW_RAILWAY] = "railway",
        [FE_BELOW_ROOF] = "roof",
        [FE_BELOW_STEEP_ROOF] = "steep roof",
        [FE_BELOW_EAVES] = "eaves",
    };
    /* clang-format on */
    return below >= 0 && below < FE_BELOW_LAST ? NAMES[below] : NULL;
}

typedef enum height_for { FOR_ANY, FOR_DATA, FOR_SUPPLY } height_for;

/* A row of the clearance table, by whose heights are asked and what lies below. */
typedef struct height_rule {
    const char *asked; /* code that the plan asks for */
    height_for cable_kind;
    fe_thing_below below;
    const char *code; /* that the row is of */
    const char *clause;
    const char *cable;
    const char *over;
    const char *said;
} height_rule;

#define NFPA "US NFPA 70"
#define NFPA_CABLE "power conductors or open multiconductor cable up to 1000 V"
#define C2 "US IEEE C2"
#define C2_DATA "insulated communication cable; messenger; guy; neutral"
#define C2_SUPPLY "insulated 0-750 V supply cable on bare neutral (service drop type 230C)"
#define C2_ON_FOOT "spaces subject to pedestrians or restricted traffic only"
#define C2_ROADS "roads streets and other areas subject to truck traffic"
#define C2_DRIVEWAYS "driveways parking lots alleys"
#define C2_LOW "residential driveway where the building height does not allow the full value"
#define GUIDE "UK wiring guide"
#define GUIDE_CABLE "low-voltage cable on catenary wire"
#define GUIDE_1 "overhead wiring between buildings type 1 (cable bound to a catenary wire)"
#define COMMS "UK communications code"
#define CANADA "Canada CSA C22.1"
#define CANADA_CLAUSE "6-112 (later 6-116)"
#define CANADA_CABLE "low-voltage service conductors"
#define GO95 "California GO 95"
#define GO95_CABLE "communication conductor or cable; supply service drop 0-750 V"
#define ESQCR "UK ESQCR 2002"
#define ESQCR_CABLE "overhead line up to 33 kV"

static const fe_limits_code CODES[] = {
    {NFPA, "2023"},
    {C2, "edition not read"},
    {GUIDE, "table 7.8, edition not read"},
    {COMMS, "2003"},
    {CANADA, "edition not read, driveways and roads from memory"},
    {GO95, "original text"},
    {ESQCR, "2002"},
};

/* clang-format off */
static const height_rule RULES[] = {
    {NFPA, FOR_ANY, FE_BELOW_WALKERS, NFPA, "225.18(1)", NFPA_CABLE,
     "pedestrians only; finished grade sidewalks platforms", "NFPA 70 (2023) 225.18(1), pedestrians"},
    {NFPA, FOR_ANY, FE_BELOW_DRIVEWAY, NFPA, "225.18(2)", NFPA_CABLE,
     "residential property and driveways; commercial areas without trucks", "NFPA 70 (2023) 225.18(2), driveways to 300 V"},
    {NFPA, FOR_ANY, FE_BELOW_VEHICLES, NFPA, "225.18(4)", NFPA_CABLE,
     "public streets alleys roads truck parking; non-residential driveways; land traversed by vehicles such as cultivated grazing forest orchard",
     "NFPA 70 (2023) 225.18(4), land traversed by vehicles"},
    {NFPA, FOR_ANY, FE_BELOW_RAILWAY, NFPA, "225.18(5) and 230.24(B)(5)", "power and service conductors",
     "tracks of railroads", "NFPA 70 225.18(5), railroads (from memory)"},

    {NFPA, FOR_DATA, FE_BELOW_ROOF, NFPA, "800.44(B)", "communications cable", "roof",
     "NFPA 70 (2023) 800.44(B), above the roof"},
    {NFPA, FOR_SUPPLY, FE_BELOW_ROOF, NFPA, "225.19(A)", NFPA_CABLE, "roof (general)",
     "NFPA 70 (2023) 225.19(A), above the roof"},
    /* The exceptions of 800.44(B) for data cable are the same 3 ft and 18 in. */
    {NFPA, FOR_ANY, FE_BELOW_STEEP_ROOF, NFPA, "225.19(A) Ex.2", NFPA_CABLE,
     "roof with slope 4 in 12 or steeper",
     "NFPA 70 (2023) 225.19(A) Ex. 2 and 800.44(B), above a roof of 4 in 12 or steeper, to 300 V"},
    {NFPA, FOR_ANY, FE_BELOW_EAVES, NFPA, "225.19(A) Ex.3", NFPA_CABLE,
     "overhanging part of roof only",
     "NFPA 70 (2023) 225.19(A) Ex. 3 and 800.44(B), above the overhang alone, to 300 V and 1.8 m of cable"},

    {C2, FOR_DATA, FE_BELOW_LOW_DRIVEWAY, C2, "Table 232-1 footnote 7", C2_DATA, C2_LOW,
     "IEEE C2 Table 232-1 footnote 7, driveway to a low building, edition not read"},
    {C2, FOR_SUPPLY, FE_BELOW_LOW_DRIVEWAY, C2, "Table 232-1 footnote 7", C2_SUPPLY, C2_LOW,
     "IEEE C2 Table 232-1 footnote 7, driveway to a low building, to 300 V, edition not read"},
    {C2, FOR_DATA, FE_BELOW_WALKERS, C2, "Table 232-1 row pedestrians", C2_DATA, C2_ON_FOOT,
     "IEEE C2 Table 232-1, pedestrians, edition not read"},
    {C2, FOR_DATA, FE_BELOW_RIDERS, C2, "Table 232-1 row other vehicle areas", C2_DATA,
     "other areas traversed by vehicles: cultivated grazing forest orchard; and places where horse riders may pass",
     "IEEE C2 Table 232-1, riders, edition not read"},
    {C2, FOR_DATA, FE_BELOW_DRIVEWAY, C2, "Table 232-1 row driveways", C2_DATA, C2_DRIVEWAYS,
     "IEEE C2 Table 232-1, driveways, edition not read"},
    {C2, FOR_DATA, FE_BELOW_VEHICLES, C2, "Table 232-1 row roads", C2_DATA, C2_ROADS,
     "IEEE C2 Table 232-1, roads, edition not read"},
    {C2, FOR_SUPPLY, FE_BELOW_WALKERS, C2, "Table 232-1 row pedestrians", C2_SUPPLY, C2_ON_FOOT,
     "IEEE C2 Table 232-1, pedestrians, edition not read"},
    {C2, FOR_SUPPLY, FE_BELOW_DRIVEWAY, C2, "Table 232-1 row driveways", C2_SUPPLY, C2_DRIVEWAYS,
     "IEEE C2 Table 232-1, driveways, edition not read"},
    {C2, FOR_SUPPLY, FE_BELOW_RIDERS, C2, "Table 232-1 row other vehicle areas", C2_SUPPLY,
     "other areas traversed by vehicles: cultivated grazing forest orchard",
     "IEEE C2 Table 232-1, other vehicle areas (from memory)"},
    {C2, FOR_SUPPLY, FE_BELOW_VEHICLES, C2, "Table 232-1 row roads", C2_SUPPLY, C2_ROADS,
     "IEEE C2 Table 232-1, roads, edition not read"},
    /* No machine is told apart there; the wiring code's land for vehicles is higher. */
    {C2, FOR_ANY, FE_BELOW_TALL_MACHINES, NFPA, "225.18(4)", NFPA_CABLE,
     "public streets alleys roads truck parking; non-residential driveways; land traversed by vehicles such as cultivated grazing forest orchard",
     "NFPA 70 (2023) 225.18(4)"},

    {GUIDE, FOR_ANY, FE_BELOW_WALKERS, GUIDE, "type 1", GUIDE_CABLE, "not accessible to vehicles",
     "wiring guide after BS 7671, no vehicles, edition not read"},
    {GUIDE, FOR_ANY, FE_BELOW_VEHICLES, GUIDE, "type 1", GUIDE_CABLE,
     "accessible to vehicles other than crossings", "wiring guide after BS 7671, vehicles, edition not read"},
    {GUIDE, FOR_ANY, FE_BELOW_ROAD, GUIDE, GUIDE_1, GUIDE_CABLE, "road crossing",
     "wiring guide after BS 7671, road crossing, edition not read"},

    {COMMS, FOR_ANY, FE_BELOW_ROAD, COMMS, "reg. 4(2)(a)", "telecommunication line",
     "carriageway of a maintainable highway", "UK communications code (2003) reg. 4(2)(a)"},
    {COMMS, FOR_ANY, FE_BELOW_HIGH_LOADS, COMMS, "reg. 4(2)(b)", "telecommunication line",
     "high load grid route", "UK communications code (2003) reg. 4(2)(b)"},

    {CANADA, FOR_ANY, FE_BELOW_WALKERS, CANADA, CANADA_CLAUSE, CANADA_CABLE,
     "ground accessible to pedestrians only", "CSA C22.1 6-112, pedestrians, edition not read"},
    {CANADA, FOR_ANY, FE_BELOW_DRIVEWAY, CANADA, CANADA_CLAUSE, CANADA_CABLE,
     "driveway of a residential garage", "CSA C22.1 6-112, driveway of a garage (from memory)"},
    {CANADA, FOR_ANY, FE_BELOW_VEHICLES, CANADA, CANADA_CLAUSE, CANADA_CABLE,
     "driveway other than residential garage", "CSA C22.1 6-112, other driveways (from memory)"},
    {CANADA, FOR_ANY, FE_BELOW_ROAD, CANADA, CANADA_CLAUSE, CANADA_CABLE,
     "highway street lane alley", "CSA C22.1 6-112, roads (from memory)"},

    {GO95, FOR_ANY, FE_BELOW_WALKERS, GO95, "Table 1 case 5", GO95_CABLE,
     "areas accessible to pedestrians only", "GO 95 Table 1 case 5, original text"},
    {GO95, FOR_ANY, FE_BELOW_VEHICLES, GO95, "Table 1 case 4", GO95_CABLE,
     "along rural thoroughfares; areas capable of being traversed by vehicles or agricultural equipment",
     "GO 95 Table 1 case 4, original text"},
    {GO95, FOR_ANY, FE_BELOW_ROAD, GO95, "Table 1 case 3", GO95_CABLE,
     "thoroughfares urban; crossing thoroughfares rural", "GO 95 Table 1 case 3, original text"},

    {GO95, FOR_ANY, FE_BELOW_ROOF, GO95, "Table 1 case 6", GO95_CABLE,
     "above buildings on which people can walk", "GO 95 Table 1 case 6, original text, above the roof"},

    {ESQCR, FOR_ANY, FE_BELOW_WALKERS, ESQCR, "reg. 17(2)", ESQCR_CABLE, "any other place",
     "ESQCR 2002 reg. 17(2), any place"},
    {ESQCR, FOR_ANY, FE_BELOW_VEHICLES, ESQCR, "reg. 17(2)", ESQCR_CABLE, "any other place",
     "ESQCR 2002 reg. 17(2), any place"},
    {ESQCR, FOR_ANY, FE_BELOW_ROAD, ESQCR, "reg. 17(2)", ESQCR_CABLE,
     "road accessible to vehicular traffic", "ESQCR 2002 reg. 17(2), road"},
};
/* clang-format on */

enum {
    CODE_COUNT = sizeof CODES / sizeof CODES[0],
    RULE_COUNT = sizeof RULES / sizeof RULES[0]
};

size_t fe_limits_code_count(void)
{
    return CODE_COUNT;
}

const fe_limits_code *fe_limits_code_at(size_t index)
{
    return index < CODE_COUNT ? &CODES[index] : NULL;
}

const fe_limits_code *fe_limits_code_find(const char *name)
{
    for (size_t i = 0; i < CODE_COUNT; i++)
        if (strcmp(CODES[i].name, name) == 0)
            return &CODES[i];
    return NULL;
}

/*
 * What a code that does not name a thing would call it. Animals under a cable are led or stand
 * alone: as people on foot. Riders want the height of vehicles.
 */
static fe_thing_below like(fe_thing_below below)
{
    switch (below) {
    case FE_BELOW_ANIMALS:
    case FE_BELOW_WATER:
        return FE_BELOW_WALKERS;
    case FE_BELOW_RIDERS:
    case FE_BELOW_DRIVEWAY:
    case FE_BELOW_ROAD:
        return FE_BELOW_VEHICLES;
    case FE_BELOW_LOW_DRIVEWAY:
        return FE_BELOW_DRIVEWAY;
    case FE_BELOW_STEEP_ROOF:
    case FE_BELOW_EAVES:
        return FE_BELOW_ROOF;
    case FE_BELOW_HIGH_LOADS:
        return FE_BELOW_TALL_MACHINES;
    case FE_BELOW_TALL_MACHINES:
        return FE_BELOW_ROAD;
    default:
        return below;
    }
}

bool fe_limits_is_roof(fe_thing_below below)
{
    return below == FE_BELOW_ROOF || below == FE_BELOW_STEEP_ROOF || below == FE_BELOW_EAVES;
}

static const double OVER_LINE_M = 1.2;
static const double DATA_OVER_SNOW_M = 2.5;

static const height_rule *rule_of(const char *code, bool supply, fe_thing_below below)
{
    const height_for other = supply ? FOR_DATA : FOR_SUPPLY;
    for (fe_thing_below thing = below;; thing = like(thing)) {
        for (size_t i = 0; i < RULE_COUNT; i++)
            if (RULES[i].below == thing && RULES[i].cable_kind != other &&
                strcmp(RULES[i].asked, code) == 0)
                return &RULES[i];
        if (like(thing) == thing)
            return NULL;
    }
}

/* By the code, else the format's, else the wiring code that names most. */
static const height_rule *find_rule(fe_safety_format format, const char *code, bool supply,
                                    fe_thing_below below)
{
    const char *const usual = format == FE_SAFETY_US ? C2 : GUIDE;
    const height_rule *rule = rule_of(code ? code : usual, supply, below);
    if (!rule)
        rule = rule_of(usual, supply, below);
    return rule ? rule : rule_of(NFPA, supply, below);
}

static double height_of(const height_rule *rule)
{
    const fe_clearance *row =
        fe_clearance_find(rule->code, rule->clause, rule->cable, rule->over);
    return row ? row->height_m : NAN;
}

fe_status fe_limits_clearance(fe_safety_format format, const char *code, bool supply,
                              fe_thing_below below, double own_m, fe_clearance_need *need)
{
    if (below < 0 || below >= FE_BELOW_LAST || (code && !fe_limits_code_find(code)))
        return FE_E_DOMAIN;
    const height_rule *rule =
        below == FE_BELOW_SUPPLY_LINE ? NULL : find_rule(format, code, supply, below);
    double height_m = rule ? height_of(rule) : OVER_LINE_M;
    const char *said = rule ? rule->said : "no rule read: keep away from supply lines";
    if (fe_limits_is_roof(below)) {
        height_m += own_m;
    } else if (own_m > 0.0) {
        height_m = own_m;
        said = FE_LIMITS_OWN_HEIGHT;
    }
    if (!isfinite(height_m))
        return FE_E_DOMAIN;
    need->below = below;
    need->over_ground_m = height_m;
    const bool walked_on = below == FE_BELOW_WALKERS || below == FE_BELOW_ANIMALS;
    need->over_snow_m = 0.0;
    if (walked_on)
        need->over_snow_m = supply ? height_m : fmin(DATA_OVER_SNOW_M, height_m);
    need->rule = said;
    return FE_OK;
}

/* ---- Supply and data on one post ---- */

fe_shared_posts fe_limits_shared_posts(fe_safety_format format)
{
    const fe_shared_posts us = {
        .at_pole_m = 40.0 * FE_INCH_M,
        .in_span_m = 30.0 * FE_INCH_M,
        .pole_rule = "IEEE C2 Table 235-5 and rule 238, 40 in (from memory)",
        .span_rule = "IEEE C2 rule 235C2b, 75 % of that (from memory)",
    };
    const fe_shared_posts en = {
        .at_pole_m = 1.0,
        .in_span_m = 0.3,
        .pole_rule = "common practice after IEEE C2 Table 235-5 and rule 238 (from memory)",
        .span_rule = "NFPA 70 (2023) 800.44(A)(4), 12 in everywhere in the span",
    };
    return format == FE_SAFETY_US ? us : en;
}

fe_status fe_limits_shared_distance(double supply_attachment_m, double supply_sag_m,
                                    double data_attachment_m, double data_sag_m,
                                    double *at_pole_m, double *in_span_m)
{
    if (!isfinite(supply_attachment_m) || !isfinite(supply_sag_m) ||
        !isfinite(data_attachment_m) || !isfinite(data_sag_m))
        return FE_E_DOMAIN;
    *at_pole_m = supply_attachment_m - data_attachment_m;
    *in_span_m = *at_pole_m - supply_sag_m + data_sag_m;
    return FE_OK;
}

fe_verdict fe_limits_verdict(double use)
{
    static const double TIGHT_FROM = 0.85;
    if (!(use <= 1.0))
        return FE_VERDICT_FAILS;
    return use >= TIGHT_FROM ? FE_VERDICT_TIGHT : FE_VERDICT_HOLDS;
}
