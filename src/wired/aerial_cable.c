/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/aerial_cable.h"

#include <math.h>
#include <string.h>

/* clang-format off */

/*
 * ASTM A475, physical properties, as reprinted with strengths in kN (lbf times 4.44822). Rows
 * from memory are so marked.
 */
static const fe_strand STRANDS[] = {
    /* in, mm, wires, lb/1000 ft, kg/m, common kN, Siemens-Martin, high, extra high, memory */
    {"1/8",  3.18,  7, 32,  0.04762, 2.402,  4.048,  5.916,  8.14,    false},
    {"5/32", 3.97,  7, 51,  0.07590, 3.870,  6.539,  9.519,  13.078,  true},
    {"3/16", 4.76,  7, 73,  0.10864, 5.115,  8.452,  12.677, 17.748,  false},
    {"7/32", 5.56,  7, 98,  0.14584, 6.85,   11.387, 17.126, 24.02,   false},
    {"1/4",  6.35,  3, 117, 0.17412, 8.274,  13.523, 21.04,  29.981,  false},
    {"1/4",  6.35,  7, 121, 0.18007, 8.452,  14.012, 21.129, 29.581,  false},
    {"9/32", 7.14,  7, 164, 0.24406, 11.432, 18.905, 28.469, 39.812,  false},
    {"5/16", 7.94,  7, 205, 0.30507, 14.234, 23.798, 35.586, 49.82,   false},
    {"3/8",  9.52,  3, 220, 0.3274,  14.813, 24.732, 37.187, NAN,     false},
    {"3/8",  9.52,  7, 273, 0.40627, 18.904, 30.915, 48.04,  68.503,  true},
    {"7/16", 11.11, 7, 399, 0.59378, 25.355, 41.591, 64.499, 92.523,  true},
    {"1/2",  12.70, 7, 517, 0.76938, 32.917, 53.823, 83.627, 119.657, true},};

/*
 * AS/NZS 5000.1 and 3560.1 aerial cable data, sag sheets and textbook examples (kgf/mm2 times
 * 9.80665), line-design handbooks for steel strand, data sheets for the rest.
 */
static const fe_cable_material MATERIALS[] = {
    /* material, modulus GPa, expansion per K, memory */
    {"galvanized 7-wire steel strand",                        170,   1.15e-05,  true},
    {"hard-drawn copper aerial conductor",                    112,   1.7e-05,   false},
    {"ACSR class used in textbook examples",                  91.4,  1.844e-05, false},
    {"all-dielectric aramid cable (whole cable section)",     8,     5e-06,     true},
    {"extra-high-voltage earth wire of aluminium-clad steel", 162,   1.3e-05,   false},
    {"ACSR 54/7 class",                                       69,    1.93e-05,  false},
    {"aluminium 1350 stranded; ABC core",                     59,    2.3e-05,   true},
    {"hard-drawn copper small wire (textbook)",               123.6, 1.66e-05,  false},};

/*
 * AS/NZS 5000.1 (twisted copper) and 3560.1 (aluminium bundles), ICEA S-76-474 service drops,
 * data sheets of the other classes.
 */
static const fe_aerial_cable CABLES[] = {
    /* class, size, diameter or width mm, height mm, kg/km, breaking or rated kN, working kN,
       typical longest span m, note, memory */
    {"twisted copper aerial 2-core PVC",                                   "2 x 6 mm2",    10.5,  NAN,  160,   4.6,    1.3,   NAN, "",                                                  false},
    {"twisted copper aerial 2-core PVC",                                   "2 x 16 mm2",   14.5,  NAN,  370,   11.8,   3.32,  NAN, "",                                                  false},
    {"twisted copper aerial 2-core PVC",                                   "2 x 10 mm2",   12.4,  NAN,  240,   7.8,    2.2,   NAN, "",                                                  false},
    {"twisted copper aerial 2-core PVC",                                   "2 x 25 mm2",   18.6,  NAN,  610,   20.8,   5.82,  NAN, "",                                                  false},
    {"aluminium duplex service drop (PE)",                                 "4 AWG",        NAN,   NAN,  153.3, 7.829,  NAN,   NAN, "103 lb/kft; rated strength 1760 lbf",               false},
    {"aluminium duplex service drop (PE)",                                 "1/0 AWG",      NAN,   NAN,  372.0, 19.839, NAN,   NAN, "250 lb/kft; rated strength 4460 lbf",               false},
    {"aluminium duplex service drop (PE)",                                 "6 AWG",        NAN,   NAN,  101.2, 4.938,  NAN,   NAN, "68 lb/kft; rated strength 1110 lbf",                false},
    {"aluminium duplex service drop (PE)",                                 "2 AWG",        NAN,   NAN,  233.6, 12.455, NAN,   NAN, "157 lb/kft; rated strength 2800 lbf",               false},
    {"aluminium quadruplex service drop (PE)",                             "6 AWG 1 wire", 15.44, NAN,  215.8, NAN,    NAN,   NAN, "",                                                  false},
    {"aluminium quadruplex service drop (PE)",                             "4 AWG 1 wire", 18.03, NAN,  322.9, NAN,    NAN,   NAN, "",                                                  false},
    {"aluminium quadruplex service drop (PE)",                             "2 AWG",        23.62, NAN,  516.4, NAN,    NAN,   NAN, "",                                                  false},
    {"aluminium quadruplex service drop (PE)",                             "6 AWG 7 wire", 16.43, NAN,  227.7, NAN,    NAN,   NAN, "",                                                  false},
    {"aluminium quadruplex service drop (PE)",                             "4 AWG 7 wire", 19.3,  NAN,  340.8, NAN,    NAN,   NAN, "",                                                  false},
    {"ADSS short span",                                                    "12 fibres",    10.5,  NAN,  70,    NAN,    NAN,   NAN, "",                                                  false},
    {"ADSS short span",                                                    "24 fibres",    10.5,  NAN,  75,    NAN,    NAN,   NAN, "",                                                  false},
    {"ADSS short span",                                                    "48 fibres",    10.5,  NAN,  80,    NAN,    NAN,   NAN, "",                                                  false},
    {"ADSS 120 m span",                                                    "6-24 fibres",  10.8,  NAN,  85,    NAN,    3.0,   120, "",                                                  false},
    {"figure-8 fibre with 7x1.0 mm steel messenger",                       "to 24 fibres", 10.2,  19.9, 172,   NAN,    2.53,  NAN, "permitted tensile load = 1.5 x the weight of 1 km", false},
    {"figure-8 fibre with 7x1.0 mm steel messenger",                       "to 48 fibres", 11.2,  20.7, 185,   NAN,    2.721, NAN, "permitted tensile load = 1.5 x the weight of 1 km", false},
    {"flat drop fibre with 1.0 mm steel wire",                             "1-2 fibres",   2.0,   5.0,  20,    NAN,    0.3,   50,  "short-term 600 N; long-term 300 N",                 true},
    {"figure-8 outdoor twisted pair (4 pairs) with 1.2 mm steel wire",     "Cat 5e",       5.6,   9.5,  55,    1.2,    0.4,   50,  "wide spread between makers: 45-70 kg/km",           true},
    {"aluminium aerial bundled cable",                                     "2 x 25 mm2",   18.4,  NAN,  200,   7.0,    NAN,   NAN, "140 MPa on the whole section",                      true},
    {"aluminium aerial bundled cable",                                     "2 x 16 mm2",   15.0,  NAN,  140,   4.4,    NAN,   NAN, "",                                                  true},
    {"round drop fibre with aramid",                                       "1-2 fibres",   5.0,   NAN,  20,    NAN,    0.4,   70,  "",                                                  true},
    {"figure-8 outdoor twisted pair (4 pairs) with 7x0.4 mm steel strand", "Cat 6",        7.0,   12.0, 75,    1.1,    0.35,  50,  "wide spread between makers",                        true},};
/* clang-format on */

enum {
    STRAND_COUNT = sizeof STRANDS / sizeof STRANDS[0],
    MATERIAL_COUNT = sizeof MATERIALS / sizeof MATERIALS[0],
    CABLE_COUNT = sizeof CABLES / sizeof CABLES[0]
};

static const double STEEL_KG_M3 = 7850.0;

size_t fe_strand_count(void)
{
    return STRAND_COUNT;
}

const fe_strand *fe_strand_at(size_t index)
{
    return index < STRAND_COUNT ? &STRANDS[index] : NULL;
}

const fe_strand *fe_strand_find(const char *size_in, int wires)
{
    for (size_t i = 0; i < STRAND_COUNT; i++)
        if (STRANDS[i].wires == wires && strcmp(STRANDS[i].size_in, size_in) == 0)
            return &STRANDS[i];
    return NULL;
}

double fe_strand_area(const fe_strand *strand)
{
    return strand->mass_kg_m / STEEL_KG_M3;
}

size_t fe_cable_material_count(void)
{
    return MATERIAL_COUNT;
}

const fe_cable_material *fe_cable_material_at(size_t index)
{
    return index < MATERIAL_COUNT ? &MATERIALS[index] : NULL;
}

const fe_cable_material *fe_cable_material_find(const char *name)
{
    for (size_t i = 0; i < MATERIAL_COUNT; i++)
        if (strcmp(MATERIALS[i].name, name) == 0)
            return &MATERIALS[i];
    return NULL;
}

size_t fe_aerial_cable_count(void)
{
    return CABLE_COUNT;
}

const fe_aerial_cable *fe_aerial_cable_at(size_t index)
{
    return index < CABLE_COUNT ? &CABLES[index] : NULL;
}

const fe_aerial_cable *fe_aerial_cable_find(const char *name, const char *size)
{
    for (size_t i = 0; i < CABLE_COUNT; i++)
        if (strcmp(CABLES[i].name, name) == 0 && strcmp(CABLES[i].size, size) == 0)
            return &CABLES[i];
    return NULL;
}
