/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_QUANTITY_H
#define FAREND_QUANTITY_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/*
 * Quantities with units, as people write them ("3 m", "12 ft 6 in", "6 Mb/s", "2.5 mm2",
 * "AWG 12", "-87 dBm", "11.5e-6/K"), read into the one unit that the library uses inside.
 * Dimensions are always checked; a bare number where a unit is needed is refused.
 *
 * A table of our own is looked up first. UDUNITS-2 converts what is not in it, for dimensions
 * that it can tell apart: to it Mb/s is an area a second, a volt-ampere is a watt, 10 s is 0.1
 * Hz and a turn is 6.28. Reading its database costs some milliseconds, once, at the first unit
 * that the table lacks; the database is the one global of this module, so parsing is not for
 * two threads at once.
 *
 * The decimal sign is a point whatever the locale says. A space between number and unit is
 * optional. Capitals count (mW, MW). In a force or a load a metre "lb" and "lb/ft" are
 * pounds-force, as the tables of the trade print them; kg is a mass and never a force.
 */
typedef enum fe_dimension {
    FE_DIM_NUMBER,            /* pure number */
    FE_DIM_COUNT,             /* whole number, zero or more */
    FE_DIM_FRACTION,          /* 1; "5 %" or 0.05; a bare number above 1 is refused */
    FE_DIM_LENGTH,            /* m */
    FE_DIM_AREA,              /* m2; also wire sizes: "2.5 mm2", "AWG 12", "4/0 AWG" */
    FE_DIM_MASS,              /* kg */
    FE_DIM_LINEAR_MASS,       /* kg/m */
    FE_DIM_DENSITY,           /* kg/m3 */
    FE_DIM_FORCE,             /* N */
    FE_DIM_LINEAR_FORCE,      /* N/m */
    FE_DIM_MOMENT,            /* N m */
    FE_DIM_PRESSURE,          /* Pa; also moduli */
    FE_DIM_SOIL_MODULUS,      /* Pa/m; lateral bearing for each metre of depth */
    FE_DIM_SPEED,             /* m/s */
    FE_DIM_RAIN_RATE,         /* m/s inside; written mm/h */
    FE_DIM_TEMPERATURE,       /* degrees Celsius */
    FE_DIM_TEMPERATURE_STEP,  /* K */
    FE_DIM_EXPANSION,         /* 1/K */
    FE_DIM_ANGLE,             /* rad */
    FE_DIM_TIME,              /* s */
    FE_DIM_FREQUENCY,         /* Hz */
    FE_DIM_LEVEL,             /* dBm */
    FE_DIM_GAIN,              /* dBi */
    FE_DIM_RATIO,             /* dB */
    FE_DIM_RATIO_PER_LENGTH,  /* dB/m */
    FE_DIM_DATA,              /* bit; "40 GB" is 3.2e11 */
    FE_DIM_DATA_RATE,         /* bit/s */
    FE_DIM_POWER,             /* W */
    FE_DIM_APPARENT_POWER,    /* VA */
    FE_DIM_ENERGY,            /* J */
    FE_DIM_CHARGE,            /* C; "100 Ah" is 3.6e5 */
    FE_DIM_VOLTAGE,           /* V */
    FE_DIM_CURRENT,           /* A */
    FE_DIM_RESISTANCE,        /* ohm */
    FE_DIM_LINEAR_RESISTANCE, /* ohm/m */
    FE_DIM_CONDUCTIVITY,      /* S/m */
    FE_DIM_FLASH_DENSITY,     /* strikes a square metre a second inside; "1.5 /km2/year" */
    FE_DIM_MONEY,             /* in the plan's currency; a number, a currency word is allowed */
    FE_DIM_LAST
} fe_dimension;

/*
 * One quantity from text, the whole text used.
 *   si          result in the dimension's unit; untouched on error
 *   FE_E_INPUT  no number, not finite, no or wrong unit, or text left over
 */
FE_MUST_CHECK fe_status fe_quantity_parse(const char *text, fe_dimension dimension, double *si);

/* Frees the unit database, where it was read; parsing may go on afterwards and reads it anew.
 */
void fe_quantity_shutdown(void);

/* A year of FE_DIM_TIME and FE_DIM_FLASH_DENSITY: 365.25 days. */
#define FE_YEAR_S 31557600.0

/* A correct text of the dimension to show in a message ("3 m"); never null. */
const char *fe_dimension_example(fe_dimension dimension);

/* What the dimension is called in a message ("a length"); never null. */
const char *fe_dimension_name(fe_dimension dimension);

/* The unit used inside ("m", "Hz", "degC"); "" for pure numbers. */
const char *fe_dimension_unit(fe_dimension dimension);

/* False where a bare number is right: numbers, counts, fractions, money. */
bool fe_dimension_has_unit(fe_dimension dimension);

/* Where a value came from. Physics gets plain numbers; the plan keeps these beside them. */
typedef enum fe_given {
    FE_GIVEN_NOT,     /* neither given nor defaulted: the key is absent */
    FE_GIVEN_DEFAULT, /* our default; the report says so */
    FE_GIVEN_VALUE,
    FE_GIVEN_RANGE,  /* LOW..HIGH */
    FE_GIVEN_UNKNOWN /* `unknown`: its class's range stands in */
} fe_given;

/* A measured or guessed input: low <= typical <= high, all equal where one value was given. */
typedef struct fe_value {
    double low;
    double typical;
    double high;
    fe_given given;
} fe_value;

/* A value known exactly, or our default. */
fe_value fe_value_exact(double value);
fe_value fe_value_default(double value);

/* True where the low and high end differ. */
bool fe_value_is_open(fe_value value);

/* True where both ends lie within the bounds, or on one but for the last bits of a conversion. */
bool fe_value_is_within(const fe_value *value, const fe_value *bounds);

/*
 * "VALUE unit", "LOW..HIGH unit", "LOW unit..HIGH unit" or "unknown". With `unknown` the result
 * has given = FE_GIVEN_UNKNOWN and numbers left at zero: the caller knows the class's range.
 * typical is the middle of a range (the geometric middle is the caller's to choose).
 * FE_E_INPUT also where LOW is above HIGH.
 */
FE_MUST_CHECK fe_status fe_value_parse(const char *text, fe_dimension dimension,
                                       fe_value *value);

/*
 * What was meant where a decimal comma keeps a text from being read: "2,5 m" for 2.5 m.
 *   mended  the text with points, of as many bytes as the text
 * False where the text reads as it is, where it would not read with points, and where three
 * digits follow the comma, which may part thousands.
 */
bool fe_value_with_points(const char *text, fe_dimension dimension, char *mended, size_t size);

#endif
