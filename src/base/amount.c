/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/amount.h"

#include <limits.h>
#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "base/gauge.h"
#include "farend/constants.h"
#include "farend/number.h"
#include "farend/quantity.h"

#define NO_BREAK "\xc2\xa0"
#define DEGREE "\xc2\xb0"
#define SQUARED "\xc2\xb2"
#define OHM "\xce\xa9"
#define MILLI_OHM "m" OHM

enum { BOTH = -1, METRIC = FE_UNITS_METRIC, US = FE_UNITS_US };

typedef struct unit_row {
    fe_style style;
    int units;      /* METRIC, US or BOTH */
    double from_si; /* used from this size on */
    const char *name;
    double factor; /* shown = si * factor + offset */
    double offset;
    int decimals;
} unit_row;

/* Rows of one style and system go from small to large values; the last that fits is taken. */
static const unit_row UNITS[] = {
    {FE_STYLE_NUMBER, BOTH, 0.0, "", 1.0, 0.0, 2},
    {FE_STYLE_COUNT, BOTH, 0.0, "", 1.0, 0.0, 0},
    {FE_STYLE_PERCENT, BOTH, 0.0, "%", 100.0, 0.0, 0},
    {FE_STYLE_LENGTH, METRIC, 0.0, "m", 1.0, 0.0, 1},
    {FE_STYLE_LENGTH, US, 0.0, "ft", 1.0 / FE_FOOT_M, 0.0, 0},
    {FE_STYLE_DISTANCE, METRIC, 0.0, "m", 1.0, 0.0, 0},
    {FE_STYLE_DISTANCE, METRIC, 1000.0, "km", 1e-3, 0.0, 2},
    {FE_STYLE_DISTANCE, US, 0.0, "ft", 1.0 / FE_FOOT_M, 0.0, 0},
    {FE_STYLE_DISTANCE, US, 1000.0, "mi", 1.0 / FE_MILE_M, 0.0, 2},
    {FE_STYLE_HEIGHT, METRIC, 0.0, "m", 1.0, 0.0, 2},
    {FE_STYLE_HEIGHT, US, 0.0, "ft", 1.0 / FE_FOOT_M, 0.0, 1},
    {FE_STYLE_DEPTH, METRIC, 0.0, "cm", 100.0, 0.0, 0},
    {FE_STYLE_DEPTH, US, 0.0, "in", 1.0 / FE_INCH_M, 0.0, 0},
    {FE_STYLE_THICKNESS, METRIC, 0.0, "mm", 1e3, 0.0, 1},
    {FE_STYLE_THICKNESS, METRIC, 0.02, "mm", 1e3, 0.0, 0},
    {FE_STYLE_THICKNESS, US, 0.0, "in", 1.0 / FE_INCH_M, 0.0, 2},
    {FE_STYLE_AREA, METRIC, 0.0, "m" SQUARED, 1.0, 0.0, 1},
    {FE_STYLE_AREA, US, 0.0, "ft" SQUARED, 1.0 / (FE_FOOT_M * FE_FOOT_M), 0.0, 0},
    {FE_STYLE_WIRE, BOTH, 0.0, "mm" SQUARED, 1e6, 0.0, 2},
    {FE_STYLE_WIRE, BOTH, 1e-6, "mm" SQUARED, 1e6, 0.0, 1},
    {FE_STYLE_WIRE, BOTH, 10e-6, "mm" SQUARED, 1e6, 0.0, 0},
    {FE_STYLE_MASS, METRIC, 0.0, "kg", 1.0, 0.0, 1},
    {FE_STYLE_MASS, US, 0.0, "lb", 1.0 / FE_POUND_KG, 0.0, 1},
    {FE_STYLE_FORCE, METRIC, 0.0, "N", 1.0, 0.0, 0},
    {FE_STYLE_FORCE, METRIC, 1000.0, "kN", 1e-3, 0.0, 2},
    {FE_STYLE_FORCE, US, 0.0, "lbf", 1.0 / FE_POUND_FORCE_N, 0.0, 0},
    {FE_STYLE_LINEAR_FORCE, METRIC, 0.0, "N/m", 1.0, 0.0, 2},
    {FE_STYLE_LINEAR_FORCE, US, 0.0, "lbf/ft", FE_FOOT_M / FE_POUND_FORCE_N, 0.0, 3},
    {FE_STYLE_MOMENT, METRIC, 0.0, "N m", 1.0, 0.0, 0},
    {FE_STYLE_MOMENT, METRIC, 1000.0, "kN m", 1e-3, 0.0, 2},
    {FE_STYLE_MOMENT, US, 0.0, "lbf ft", 1.0 / (FE_FOOT_M * FE_POUND_FORCE_N), 0.0, 0},
    {FE_STYLE_PRESSURE, METRIC, 0.0, "Pa", 1.0, 0.0, 0},
    {FE_STYLE_PRESSURE, METRIC, 1000.0, "kPa", 1e-3, 0.0, 2},
    {FE_STYLE_PRESSURE, US, 0.0, "psf", FE_FOOT_M *FE_FOOT_M / FE_POUND_FORCE_N, 0.0, 1},
    {FE_STYLE_STRESS, METRIC, 0.0, "MPa", 1e-6, 0.0, 1},
    {FE_STYLE_STRESS, METRIC, 1e9, "GPa", 1e-9, 0.0, 0},
    {FE_STYLE_STRESS, US, 0.0, "psi", FE_INCH_M *FE_INCH_M / FE_POUND_FORCE_N, 0.0, 0},
    {FE_STYLE_STRESS, US, 1e8, "ksi", FE_INCH_M *FE_INCH_M / FE_POUND_FORCE_N / 1000.0, 0.0, 0},
    {FE_STYLE_SPEED, METRIC, 0.0, "m/s", 1.0, 0.0, 1},
    {FE_STYLE_SPEED, US, 0.0, "mph", 3600.0 / FE_MILE_M, 0.0, 0},
    {FE_STYLE_RAIN, METRIC, 0.0, "mm/h", 3.6e6, 0.0, 0},
    {FE_STYLE_RAIN, US, 0.0, "in/h", 3600.0 / FE_INCH_M, 0.0, 1},
    {FE_STYLE_TEMPERATURE, METRIC, 0.0, DEGREE "C", 1.0, 0.0, 0},
    {FE_STYLE_TEMPERATURE, US, 0.0, DEGREE "F", 1.8, 32.0, 0},
    {FE_STYLE_TEMPERATURE_STEP, METRIC, 0.0, "K", 1.0, 0.0, 0},
    {FE_STYLE_TEMPERATURE_STEP, US, 0.0, DEGREE "F", 1.8, 0.0, 0},
    {FE_STYLE_ANGLE, BOTH, 0.0, DEGREE, 180.0 / FE_PI, 0.0, 1},
    {FE_STYLE_TIME, BOTH, 0.0, "ms", 1e3, 0.0, 1},
    {FE_STYLE_TIME, BOTH, 1.0, "s", 1.0, 0.0, 0},
    {FE_STYLE_TIME, BOTH, 120.0, "min", 1.0 / 60.0, 0.0, 0},
    {FE_STYLE_TIME, BOTH, 7200.0, "h", 1.0 / 3600.0, 0.0, 1},
    {FE_STYLE_TIME, BOTH, 172800.0, "days", 1.0 / 86400.0, 0.0, 1},
    {FE_STYLE_TIME, BOTH, 864000.0, "days", 1.0 / 86400.0, 0.0, 0},
    {FE_STYLE_TIME, BOTH, 2.0 * FE_YEAR_S, "years", 1.0 / FE_YEAR_S, 0.0, 1},
    {FE_STYLE_FREQUENCY, BOTH, 0.0, "MHz", 1e-6, 0.0, 0},
    {FE_STYLE_FREQUENCY, BOTH, 1e9, "GHz", 1e-9, 0.0, 3},
    {FE_STYLE_LEVEL, BOTH, 0.0, "dBm", 1.0, 0.0, 0},
    {FE_STYLE_GAIN, BOTH, 0.0, "dBi", 1.0, 0.0, 0},
    {FE_STYLE_RATIO, BOTH, 0.0, "dB", 1.0, 0.0, 0},
    {FE_STYLE_RATIO_PER_LENGTH, METRIC, 0.0, "dB/m", 1.0, 0.0, 2},
    {FE_STYLE_RATIO_PER_LENGTH, US, 0.0, "dB/100 ft", 100.0 * FE_FOOT_M, 0.0, 1},
    {FE_STYLE_DATA, BOTH, 0.0, "MB", 1.0 / 8e6, 0.0, 0},
    {FE_STYLE_DATA, BOTH, 8e9, "GB", 1.0 / 8e9, 0.0, 0},
    {FE_STYLE_DATA_RATE, BOTH, 0.0, "kb/s", 1e-3, 0.0, 0},
    {FE_STYLE_DATA_RATE, BOTH, 1e6, "Mb/s", 1e-6, 0.0, 1},
    {FE_STYLE_DATA_RATE, BOTH, 1e7, "Mb/s", 1e-6, 0.0, 0},
    {FE_STYLE_DATA_RATE, BOTH, 1e9, "Gb/s", 1e-9, 0.0, 1},
    {FE_STYLE_POWER, BOTH, 0.0, "W", 1.0, 0.0, 1},
    {FE_STYLE_POWER, BOTH, 100.0, "W", 1.0, 0.0, 0},
    {FE_STYLE_POWER, BOTH, 1000.0, "kW", 1e-3, 0.0, 2},
    {FE_STYLE_POWER, BOTH, 1e4, "kW", 1e-3, 0.0, 1},
    {FE_STYLE_POWER, BOTH, 1e5, "kW", 1e-3, 0.0, 0},
    {FE_STYLE_APPARENT_POWER, BOTH, 0.0, "VA", 1.0, 0.0, 0},
    {FE_STYLE_APPARENT_POWER, BOTH, 1000.0, "kVA", 1e-3, 0.0, 2},
    {FE_STYLE_ENERGY, BOTH, 0.0, "Wh", 1.0 / 3600.0, 0.0, 0},
    {FE_STYLE_ENERGY, BOTH, 3.6e6, "kWh", 1.0 / 3.6e6, 0.0, 2},
    {FE_STYLE_ENERGY, BOTH, 3.6e7, "kWh", 1.0 / 3.6e6, 0.0, 1},
    {FE_STYLE_ENERGY, BOTH, 3.6e8, "kWh", 1.0 / 3.6e6, 0.0, 0},
    {FE_STYLE_CHARGE, BOTH, 0.0, "Ah", 1.0 / 3600.0, 0.0, 0},
    {FE_STYLE_VOLTAGE, BOTH, 0.0, "V", 1.0, 0.0, 1},
    {FE_STYLE_VOLTAGE, BOTH, 100.0, "V", 1.0, 0.0, 0},
    {FE_STYLE_CURRENT, BOTH, 0.0, "mA", 1e3, 0.0, 0},
    {FE_STYLE_CURRENT, BOTH, 1.0, "A", 1.0, 0.0, 1},
    {FE_STYLE_CURRENT, BOTH, 100.0, "A", 1.0, 0.0, 0},
    {FE_STYLE_RESISTANCE, BOTH, 0.0, MILLI_OHM, 1e3, 0.0, 0},
    {FE_STYLE_RESISTANCE, BOTH, 0.1, OHM, 1.0, 0.0, 2},
    {FE_STYLE_RESISTANCE, BOTH, 10.0, OHM, 1.0, 0.0, 1},
    {FE_STYLE_RESISTANCE, BOTH, 100.0, OHM, 1.0, 0.0, 0},
    {FE_STYLE_LINEAR_RESISTANCE, METRIC, 0.0, OHM "/km", 1e3, 0.0, 2},
    {FE_STYLE_LINEAR_RESISTANCE, US, 0.0, OHM "/1000 ft", 1e3 * FE_FOOT_M, 0.0, 2},
    {FE_STYLE_FLASH_DENSITY, METRIC, 0.0, "/km" SQUARED "/year", 1e6 * FE_YEAR_S, 0.0, 1},
    {FE_STYLE_FLASH_DENSITY, US, 0.0, "/mi" SQUARED "/year", FE_MILE_M *FE_MILE_M *FE_YEAR_S,
     0.0, 1},
    {FE_STYLE_MONEY, BOTH, 0.0, "", 1.0, 0.0, 2},
};

static const unit_row *unit_for(fe_style style, double si, fe_units units)
{
    const unit_row *best = NULL;
    for (size_t i = 0; i < sizeof UNITS / sizeof UNITS[0]; i++) {
        const unit_row *row = &UNITS[i];
        if (row->style != style || (row->units != BOTH && row->units != (int)units))
            continue;
        if (!best || fabs(si) >= row->from_si)
            best = row;
    }
    return best ? best : &UNITS[0];
}

static int decimals_of(const unit_row *row, int extra_digits)
{
    const int decimals = row->decimals + extra_digits;
    return decimals < 0 ? 0 : decimals > 15 ? 15 : decimals;
}

/* Fewer digits than none after the point would show "37" where only "40" is known. */
static double rounded_to(double shown, const unit_row *row, int extra_digits)
{
    const int decimals = row->decimals + extra_digits;
    if (decimals >= 0)
        return shown;
    const double step = pow(10.0, -decimals);
    return step * round(shown / step);
}

enum { NUMBER_ROOM = 512 };

/* What is not all prints as no "100 %", and what is not nothing as no "0 %". */
static const char *share_sign(const unit_row *row, int extra_digits, double *share)
{
    const double same = 1e-9;
    const double step = pow(10.0, -(row->decimals + extra_digits)) / row->factor;
    if (row->style != FE_STYLE_PERCENT)
        return "";
    if (*share > same && *share < 0.5 * step) {
        *share = step;
        return "under ";
    }
    if (*share < 1.0 - same && *share >= 1.0 - 0.5 * step) {
        *share = 1.0 - step;
        return "over ";
    }
    return "";
}

static void put_number(const unit_row *row, double si, int extra_digits,
                       char number[NUMBER_ROOM])
{
    const char *const sign = share_sign(row, extra_digits, &si);
    const double shown = rounded_to(si * row->factor + row->offset, row, extra_digits);
    strcpy(number, sign);
    fe_number_print_fixed(shown, decimals_of(row, extra_digits), number + strlen(sign),
                          NUMBER_ROOM - strlen(sign));
}

static void print_number(const unit_row *row, double si, int extra_digits, fe_strbuf *out)
{
    char number[NUMBER_ROOM];
    put_number(row, si, extra_digits, number);
    fe_strbuf_append(out, number);
}

/* A space inside a unit ("N m") must not break the line either. */
static void print_unit(const unit_row *row, fe_strbuf *out)
{
    if (row->name[0] == 0)
        return;
    if (row->style != FE_STYLE_ANGLE)
        fe_strbuf_append(out, NO_BREAK);
    for (const char *at = row->name; *at; at++) {
        if (*at == ' ')
            fe_strbuf_append(out, NO_BREAK);
        else
            fe_strbuf_append_char(out, *at);
    }
}

/* Half an inch is the hand's centimetre: that is what a tape is read to on a post. */
static double half_inches_of(double si)
{
    return round(si / (FE_INCH_M / 2.0));
}

static void print_feet_and_inches(double si, fe_strbuf *out)
{
    const double half_inches = fabs(half_inches_of(si));
    if (half_inches >= 1e9) {
        print_number(unit_for(FE_STYLE_HEIGHT, si, FE_UNITS_US), si, 0, out);
        fe_strbuf_append(out, NO_BREAK "ft");
        return;
    }
    const long total = (long)half_inches;
    const long feet = total / 24;
    const long inches = total % 24 / 2;
    const bool half = total % 2 != 0;
    if (si < 0.0 && total > 0)
        fe_strbuf_append(out, "-");
    if (feet > 0)
        fe_strbuf_format(out, "%ld" NO_BREAK "ft", feet);
    if (feet > 0 && (inches > 0 || half))
        fe_strbuf_append(out, NO_BREAK);
    if (inches > 0 || (feet == 0 && !half))
        fe_strbuf_format(out, half ? "%ld" NO_BREAK "1/2" NO_BREAK "in" : "%ld" NO_BREAK "in",
                         inches);
    else if (half)
        fe_strbuf_append(out, "1/2" NO_BREAK "in");
}

enum { NO_GAUGE = INT_MIN };

/* Number of the gauge an area belongs to; false where none is within 3 %, which no metric size
 * of conductor is. */
static bool wire_gauge(double area_m2, int *gauge)
{
    if (!(area_m2 > 0.0))
        return false;
    const double diameter_m = sqrt(4.0 * area_m2 / FE_PI);
    const double number = gauge_of_diameter(diameter_m);
    const double nearest = round(number);
    /* A gauge is a step of 26 % in area, so 3 % is 0.128 of a step. */
    if (nearest < -3.0 || nearest > 40.0 || fabs(number - nearest) > 0.128)
        return false;
    *gauge = (int)nearest;
    return true;
}

static bool print_gauge(double area_m2, fe_strbuf *out)
{
    int gauge = 0;
    if (!wire_gauge(area_m2, &gauge))
        return false;
    if (gauge > 0)
        fe_strbuf_format(out, "AWG" NO_BREAK "%d", gauge);
    else
        fe_strbuf_format(out, "%d/0" NO_BREAK "AWG", 1 - gauge);
    return true;
}

void fe_amount_print(fe_style style, double si, int extra_digits, fe_units units,
                     fe_strbuf *out)
{
    if (!isfinite(si)) {
        fe_strbuf_append(out, "-");
        return;
    }
    if (units == FE_UNITS_US && style == FE_STYLE_HEIGHT) {
        print_feet_and_inches(si, out);
        return;
    }
    if (units == FE_UNITS_US && style == FE_STYLE_WIRE && print_gauge(si, out))
        return;
    const unit_row *row = unit_for(style, si, units);
    print_number(row, si, extra_digits, out);
    print_unit(row, out);
}

/* Feet with inches and gauges carry their unit inside: the range is two whole values. */
static bool is_composite(fe_style style, fe_units units)
{
    return units == FE_UNITS_US && (style == FE_STYLE_HEIGHT || style == FE_STYLE_WIRE);
}

void fe_amount_print_range(fe_style style, double low_si, double high_si, int extra_digits,
                           fe_units units, fe_strbuf *out)
{
    fe_strbuf low = FE_STRBUF_INIT;
    fe_strbuf high = FE_STRBUF_INIT;
    const double larger = fabs(low_si) > fabs(high_si) ? low_si : high_si;
    const unit_row *row = unit_for(style, larger, units);
    const bool plain = isfinite(low_si) && isfinite(high_si) && !is_composite(style, units);
    if (plain) {
        print_number(row, low_si, extra_digits, &low);
        print_number(row, high_si, extra_digits, &high);
    } else {
        fe_amount_print(style, low_si, extra_digits, units, &low);
        fe_amount_print(style, high_si, extra_digits, units, &high);
    }
    fe_strbuf_append(out, fe_strbuf_text(&low));
    if (strcmp(fe_strbuf_text(&low), fe_strbuf_text(&high)) != 0)
        fe_strbuf_format(out, NO_BREAK "to" NO_BREAK "%s", fe_strbuf_text(&high));
    if (plain)
        print_unit(row, out);
    out->failed = out->failed || low.failed || high.failed;
    fe_strbuf_free(&low);
    fe_strbuf_free(&high);
}

/* Nothing is allocated, so that lack of memory cannot pass for a difference. */
bool fe_amount_print_alike(fe_style style, double a_si, double b_si, int extra_digits,
                           fe_units units)
{
    char a[NUMBER_ROOM];
    char b[NUMBER_ROOM];
    if (!isfinite(a_si) || !isfinite(b_si))
        return !isfinite(a_si) && !isfinite(b_si);
    if (units == FE_UNITS_US && style == FE_STYLE_HEIGHT)
        return half_inches_of(a_si) == half_inches_of(b_si);
    if (units == FE_UNITS_US && style == FE_STYLE_WIRE) {
        int a_gauge = NO_GAUGE;
        int b_gauge = NO_GAUGE;
        const bool a_has = wire_gauge(a_si, &a_gauge);
        const bool b_has = wire_gauge(b_si, &b_gauge);
        if (a_has || b_has)
            return a_gauge == b_gauge;
    }
    const unit_row *a_row = unit_for(style, a_si, units);
    const unit_row *b_row = unit_for(style, b_si, units);
    put_number(a_row, a_si, extra_digits, a);
    put_number(b_row, b_si, extra_digits, b);
    return strcmp(a, b) == 0 && strcmp(a_row->name, b_row->name) == 0;
}

int fe_amount_digits_beside(fe_style style, double si, double bound_si, fe_units units)
{
    enum { MOST = 2 };
    if (!isfinite(si) || !isfinite(bound_si) || si == bound_si)
        return 0;
    int extra = 0;
    while (extra < MOST && fe_amount_print_alike(style, si, bound_si, extra, units))
        extra++;
    return extra;
}

fe_scale fe_amount_scale(fe_style style, double largest_si, fe_units units)
{
    const unit_row *row = unit_for(style, largest_si, units);
    return (fe_scale){row->name, row->factor, row->offset, row->decimals};
}

typedef struct ascii_row {
    const char *utf8;
    const char *ascii;
} ascii_row;

static const ascii_row ASCII[] = {
    {NO_BREAK, " "},         {DEGREE "C", "degC"},    {DEGREE "F", "degF"},
    {DEGREE, " deg"},        {SQUARED, "2"},          {"\xc2\xb3", "3"},
    {"\xc2\xb5", "u"},       {"\xce\xbc", "u"},       {OHM, "ohm"},
    {"\xe2\x84\xa6", "ohm"}, {"\xc3\x97", "x"},       {"\xc2\xb7", "*"},
    {"\xc2\xb1", "+/-"},     {"\xe2\x88\x92", "-"},   {"\xe2\x80\x93", "-"},
    {"\xe2\x80\x94", "-"},   {"\xe2\x80\xa6", "..."}, {"\xe2\x80\x98", "'"},
    {"\xe2\x80\x99", "'"},   {"\xe2\x80\x9c", "\""},  {"\xe2\x80\x9d", "\""},
    {"\xe2\x89\xa4", "<="},  {"\xe2\x89\xa5", ">="},  {"\xe2\x86\x92", "->"},
};

static const ascii_row *ascii_at(const char *text)
{
    for (size_t i = 0; i < sizeof ASCII / sizeof ASCII[0]; i++)
        if (strncmp(text, ASCII[i].utf8, strlen(ASCII[i].utf8)) == 0)
            return &ASCII[i];
    return NULL;
}

void fe_amount_to_ascii(const char *text, fe_strbuf *out)
{
    while (*text) {
        const ascii_row *row = (unsigned char)*text < 0x80 ? NULL : ascii_at(text);
        if (row) {
            fe_strbuf_append(out, row->ascii);
            text += strlen(row->utf8);
        } else {
            fe_strbuf_append_char(out, *text++);
        }
    }
}
