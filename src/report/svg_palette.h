/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef REPORT_SVG_PALETTE_H
#define REPORT_SVG_PALETTE_H

#include <stddef.h>

/*
 * The colours that scripts in plots/ may use, by name; gnuplot is given the light one, and the
 * finished SVG changes to the dark one where the page is dark. Series differ in lightness as
 * well as hue, and scripts tell them apart by marker and dash besides.
 */
typedef struct palette_row {
    const char *name; /* variable of the scripts */
    unsigned light;   /* 0xrrggbb; no two alike, or the change to dark could not tell them */
    unsigned dark;
} palette_row;

static const palette_row PALETTE[] = {
    {"c_ink", 0x20261f, 0xe6e4da},
    {"c_soft", 0x565f57, 0xa8b0a8},
    {"c_rule", 0xcdc9bb, 0x3d4641},
    {"c_paper", 0xfbfaf6, 0x161a18},
    {"c_series1", 0x1b4f72, 0x8cc3e8},
    {"c_series2", 0xb0551c, 0xf0a56b},
    {"c_series3", 0x6b4a86, 0xc9aee3},
    {"c_series4", 0x2c7a68, 0x7fd0ba},
    {"c_series5", 0x7a6a1d, 0xd9c86a},
    {"c_series6", 0x8c2f52, 0xeb9ab8},
    {"c_ground", 0xa89d89, 0x5d574a},
    {"c_snow", 0xd3dfe6, 0x5c6f7b},
    {"c_trees", 0x6f8460, 0x72875f},
    /* One hue in steps: more is darker on light paper, lighter on dark. */
    {"c_map1", 0xe9f0f5, 0x1b242b},
    {"c_map2", 0xcfdfea, 0x22323e},
    {"c_map3", 0xb1cbdd, 0x2a4354},
    {"c_map4", 0x8fb3cc, 0x33566d},
    {"c_map5", 0x6b98b8, 0x3f6c89},
    {"c_map6", 0x487b9f, 0x5288a9},
    {"c_map7", 0x2a5d83, 0x79abcb},
};

enum { PALETTE_ROWS = sizeof PALETTE / sizeof PALETTE[0] };

#endif
