/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Formulas of walls and of entry into buildings. */
#include <math.h>

#include "calc.h"
#include "farend/entry_loss.h"
#include "farend/suggest.h"
#include "farend/wall.h"

static fe_incidence wave_of(const calc_call *call)
{
    return (fe_incidence){
        .f_hz = calc_number(call, "frequency"),
        .incidence_rad = calc_number(call, "angle"),
        .polarisation =
            calc_is_word(call, "polarisation", "tm") ? FE_POLARISATION_TM : FE_POLARISATION_TE,
    };
}

static void explain_unknown_material(calc_call *call, const char *name)
{
    size_t count = 0;
    const fe_material *table = fe_material_table(&count);
    fe_suggest search = fe_suggest_start(name);
    for (size_t i = 0; i < count; i++)
        fe_suggest_offer(&search, table[i].name);
    calc_explain_unknown(call, "material", "not a material of the table", &search);
}

static fe_status run_slab(calc_call *call)
{
    const char *name = calc_word(call, "material");
    const fe_material *material = fe_material_find(name);
    const fe_incidence wave = wave_of(call);
    double transmission_db = 0.0;
    double reflection_db = 0.0;
    if (!material) {
        explain_unknown_material(call, name);
        return FE_E_DOMAIN;
    }
    const fe_status status = fe_slab_loss(material, calc_number(call, "thickness"), &wave,
                                          &transmission_db, &reflection_db);
    if (status < 0) {
        calc_explain(call, "thickness and frequency must be above 0, angle 0 to below 90 deg");
        return status;
    }
    if (status == FE_W_RANGE)
        calc_explain(call, "%s is stated for %g to %g GHz", material->name, material->f_low_ghz,
                     material->f_high_ghz);
    calc_result(call, "transmission_loss_db", transmission_db, "dB");
    calc_result(call, "reflection_loss_db", reflection_db, "dB");
    return status;
}

static void explain_unknown_kind(calc_call *call, const char *name)
{
    size_t count = 0;
    const fe_wall_kind *table = fe_wall_kind_table(&count);
    fe_suggest search = fe_suggest_start(name);
    for (size_t i = 0; i < count; i++)
        fe_suggest_offer(&search, table[i].name);
    calc_explain_unknown(call, "kind", "not a kind of wall that is known", &search);
}

static fe_status run_wall(calc_call *call)
{
    const char *name = calc_word(call, "kind");
    const fe_incidence wave = wave_of(call);
    fe_wall_result result = {0};
    if (!fe_wall_kind_find(name)) {
        explain_unknown_kind(call, name);
        return FE_E_DOMAIN;
    }
    const fe_status status = fe_wall_loss(name, calc_number(call, "thickness"), &wave, &result);
    if (status < 0) {
        calc_explain(call, "thickness must leave something for every layer of the wall, "
                           "frequency be above 0, angle 0 to below 90 deg");
        return status;
    }
    if (status == FE_W_RANGE)
        calc_explain(call, "a material of this wall is not stated for this frequency");
    calc_result(call, "loss_db", result.loss_db, "dB");
    calc_result(call, "low_db", result.low_db, "dB");
    calc_result(call, "high_db", result.high_db, "dB");
    calc_result(call, "thickness_m", result.thickness_m, "m");
    return status;
}

static fe_status run_entry_loss(calc_call *call)
{
    const fe_entry_building *building = fe_entry_building_find(calc_word(call, "building"));
    const double f_hz = calc_number(call, "frequency");
    const double elevation_rad = calc_number(call, "elevation");
    double loss_db = 0.0;
    fe_entry_spread spread = {0};
    fe_status status = fe_entry_loss(building, f_hz, elevation_rad,
                                     calc_number(call, "probability"), &loss_db);
    status =
        fe_status_worse(status, fe_entry_loss_spread(building, f_hz, elevation_rad, &spread));
    if (status < 0) {
        calc_explain(call, "frequency must be above 0, elevation within 90 deg of level, "
                           "probability between 0 and 100 %%");
        return status;
    }
    if (status == FE_W_RANGE)
        calc_explain(call, "frequency 0.08 to 100 GHz");
    calc_result(call, "loss_db", loss_db, "dB");
    calc_result(call, "p10_db", spread.p10_db, "dB");
    calc_result(call, "median_db", spread.median_db, "dB");
    calc_result(call, "p90_db", spread.p90_db, "dB");
    return status;
}

#define FREQUENCY                                                                              \
    {                                                                                          \
        "frequency", CALC_QUANTITY, FE_DIM_FREQUENCY, NULL, NULL, "> 0"                        \
    }
#define ANGLE                                                                                  \
    {                                                                                          \
        "angle", CALC_QUANTITY, FE_DIM_ANGLE, NULL, "0 deg",                                   \
            "0 to below 90 deg, from the normal"                                               \
    }
#define POLARISATION                                                                           \
    {                                                                                          \
        "polarisation", CALC_WORD, FE_DIM_NUMBER, "te|tm", "te", ""                            \
    }

const calc_formula CALC_MATERIAL[] = {
    {
        .name = "slab",
        .summary = "loss through and off one plane slab of a building material in air",
        .source = "ITU-R P.2040-3 Table 3 and sec 2.2.2.2",
        .arguments =
            {
                {"material", CALC_WORD, FE_DIM_NUMBER, NULL, NULL,
                 "concrete, brick, plasterboard, wood, glass, ceiling_board, chipboard, "
                 "plywood, "
                 "marble, floorboard, metal, very_dry_ground, medium_dry_ground, wet_ground, "
                 "vacuum, glass_high, ceiling_board_high"},
                {"thickness", CALC_QUANTITY, FE_DIM_LENGTH, NULL, NULL, "> 0"},
                FREQUENCY,
                ANGLE,
                POLARISATION,
            },
        .results = "transmission_loss_db reflection_loss_db",
        .example = "material=concrete thickness=150mm frequency=2437MHz",
        .run = run_slab,
    },
    {
        .name = "wall",
        .summary =
            "loss of an ordinary wall by its name, with the interval over 10 % of thickness",
        .source = "ITU-R P.2040-3; layers of each wall: common practice, no source",
        .arguments =
            {
                {"kind", CALC_WORD, FE_DIM_NUMBER, NULL, NULL,
                 "brick, cavity-brick, concrete, concrete-block, stone, timber, log, plywood, "
                 "chipboard, plasterboard, plasterboard-stud, insulated-timber, "
                 "foil-insulated-timber, ceiling-board, glass, double-glazing, triple-glazing, "
                 "coated-glazing, coated-triple-glazing, metal-sheet, metal-sandwich-panel"},
                {"thickness", CALC_QUANTITY, FE_DIM_LENGTH, NULL, "",
                 "> 0; usual one if absent"},
                FREQUENCY,
                ANGLE,
                POLARISATION,
            },
        .results = "loss_db low_db high_db thickness_m",
        .example = "kind=brick thickness=110mm frequency=2437MHz",
        .run = run_wall,
    },
    {
        .name = "entry-loss",
        .summary = "loss of going into a building whose walls are not known",
        .source = "ITU-R P.2109-1 sec 3 and Table 1",
        .arguments =
            {
                {"building", CALC_WORD, FE_DIM_NUMBER, "traditional|thermally_efficient", NULL,
                 ""},
                FREQUENCY,
                {"elevation", CALC_QUANTITY, FE_DIM_ANGLE, NULL, "0 deg", "-90 to 90 deg"},
                {"probability", CALC_QUANTITY, FE_DIM_FRACTION, NULL, "50 %",
                 "that the loss is not exceeded, between 0 and 100 %"},
            },
        .results = "loss_db p10_db median_db p90_db",
        .example = "building=traditional frequency=2437MHz",
        .run = run_entry_loss,
    },
    {0},
};
