/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_AMOUNT_H
#define FAREND_AMOUNT_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/strbuf.h"

/*
 * A value in SI, written for people: in metric or in US units, rounded to what can be trusted.
 * JSON has the full digits from the same value; nothing is ever read back from this text.
 *
 * The text is UTF-8 ("-5 °C", "2.5 mm²") with no-break spaces between number and unit, so that
 * a line is never broken there; fe_amount_to_ascii makes "-5 degC" of it.
 */
typedef enum fe_units { FE_UNITS_METRIC, FE_UNITS_US } fe_units;

/* How a kind of value is written: its units, where they change, its usual digits. */
typedef enum fe_style {
    FE_STYLE_NUMBER,            /* 1.23 */
    FE_STYLE_COUNT,             /* 12 */
    FE_STYLE_PERCENT,           /* a fraction: 0.92 is 92 % */
    FE_STYLE_LENGTH,            /* m: 12.3 m; 40 ft.      Cables, spans, places along a path */
    FE_STYLE_DISTANCE,          /* m: 165 m, 1.25 km; 541 ft, 0.78 mi */
    FE_STYLE_HEIGHT,            /* m: 2.35 m; 7 ft 8 1/2 in.  Heights, sags, clearances */
    FE_STYLE_DEPTH,             /* m: 45 cm; 18 in.       Snow, holes, ice on a lake */
    FE_STYLE_THICKNESS,         /* m: 6.1 mm; 0.24 in.    Walls, ice on a cable, diameters */
    FE_STYLE_AREA,              /* m2: 12.3 m2; 132 ft2 */
    FE_STYLE_WIRE,              /* m2: 2.5 mm2; AWG 12 where it is a wire gauge */
    FE_STYLE_MASS,              /* kg: 3.2 kg; 7.1 lb */
    FE_STYLE_FORCE,             /* N: 850 N, 2.94 kN; 191 lbf */
    FE_STYLE_LINEAR_FORCE,      /* N/m: 7.36 N/m; 0.504 lbf/ft */
    FE_STYLE_MOMENT,            /* N m; lbf ft */
    FE_STYLE_PRESSURE,          /* Pa: 480 Pa, 1.2 kPa; psf */
    FE_STYLE_STRESS,            /* Pa: 12.5 MPa, 170 GPa; psi, ksi */
    FE_STYLE_SPEED,             /* m/s; mph */
    FE_STYLE_RAIN,              /* m/s inside: 32 mm/h; 1.3 in/h */
    FE_STYLE_TEMPERATURE,       /* degC: -20 degC; -4 degF */
    FE_STYLE_TEMPERATURE_STEP,  /* K: 35 K; 63 degF */
    FE_STYLE_ANGLE,             /* rad: 3.2 deg */
    FE_STYLE_TIME,              /* s: 3.2 ms, 45 s, 12 min, 3.5 h, 2.5 days */
    FE_STYLE_FREQUENCY,         /* Hz: 868 MHz, 2.437 GHz */
    FE_STYLE_LEVEL,             /* dBm: -63 dBm */
    FE_STYLE_GAIN,              /* dBi: 14 dBi */
    FE_STYLE_RATIO,             /* dB: 12 dB.             Margins and losses: whole decibels */
    FE_STYLE_RATIO_PER_LENGTH,  /* dB/m: 0.35 dB/m; 11 dB/100 ft */
    FE_STYLE_DATA,              /* bit: 20 GB, 350 MB */
    FE_STYLE_DATA_RATE,         /* bit/s: 250 kb/s, 6.0 Mb/s, 1.2 Gb/s */
    FE_STYLE_POWER,             /* W: 8.5 W, 1.20 kW */
    FE_STYLE_APPARENT_POWER,    /* VA */
    FE_STYLE_ENERGY,            /* J inside: 350 Wh, 1.2 kWh */
    FE_STYLE_CHARGE,            /* C inside: 100 Ah */
    FE_STYLE_VOLTAGE,           /* V: 47.2 V, 230 V */
    FE_STYLE_CURRENT,           /* A: 250 mA, 5.2 A */
    FE_STYLE_RESISTANCE,        /* ohm: 0.42 ohm, 12.5 ohm */
    FE_STYLE_LINEAR_RESISTANCE, /* ohm/m: 7.41 ohm/km; 2.26 ohm/1000 ft */
    FE_STYLE_FLASH_DENSITY,     /* 1/(m2 s): 1.5 /km2/year; 3.9 /mi2/year */
    FE_STYLE_MONEY,             /* 123.00; the caller writes the currency */
    FE_STYLES
} fe_style;

/*
 * Appends a value with its unit.
 *   si            the value in the unit named above; where it is not finite "-" is written
 *   extra_digits  more (or, below zero, fewer) decimals than the style's usual number
 */
void fe_amount_print(fe_style style, double si, int extra_digits, fe_units units,
                     fe_strbuf *out);

/* "3 to 5 m": the unit once, chosen by the end farther from zero; one value if they print
 * alike. */
void fe_amount_print_range(fe_style style, double low_si, double high_si, int extra_digits,
                           fe_units units, fe_strbuf *out);

/*
 * How many decimals more than usual, 0 to 2, a value takes so that it does not print like the
 * bound that it is judged by: 89.6 % of a wanted 90 %, 0.3 dB missing. 0 where both are the
 * same, or not finite.
 */
int fe_amount_digits_beside(fe_style style, double si, double bound_si, fe_units units);

/* Whether two values print alike with so many decimals more than usual. */
bool fe_amount_print_alike(fe_style style, double a_si, double b_si, int extra_digits,
                           fe_units units);

/*
 * For axes and column heads, where one unit must serve all values: the unit that a value of
 * this size would get ("m", "km", "ft"), never feet with inches, and how many of it one SI unit
 * is: shown = si * factor + offset.
 */
typedef struct fe_scale {
    const char *unit;
    double factor;
    double offset;
    int decimals;
} fe_scale;
fe_scale fe_amount_scale(fe_style style, double largest_si, fe_units units);

/*
 * Appends the text with our signs in plain ASCII: "degC", "mm2", "ohm", "u", "-", "x". Letters
 * that are not ours (names in a plan) stay as they are.
 */
void fe_amount_to_ascii(const char *text, fe_strbuf *out);

#endif
