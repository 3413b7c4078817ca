/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantities with units: every dimension, both tables of units, and what is refused. */
#include "farend/quantity.h"

#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "farend/constants.h"
#include "testing.h"

typedef struct good_case {
    const char *text;
    fe_dimension dimension;
    double inside;
} good_case;

/* Factors by NIST SP 811 app. B and the definitions of the yard and pound of 1959. */
static const good_case GOOD[] = {
    {"1.5", FE_DIM_NUMBER, 1.5},
    {" -2e3 ", FE_DIM_NUMBER, -2000.0},
    {"3", FE_DIM_COUNT, 3.0},
    {"0", FE_DIM_COUNT, 0.0},
    {"5%", FE_DIM_FRACTION, 0.05},
    {"5 %", FE_DIM_FRACTION, 0.05},
    {"0.05", FE_DIM_FRACTION, 0.05},
    {"1", FE_DIM_FRACTION, 1.0},
    {"150m", FE_DIM_LENGTH, 150.0},
    {"150 m", FE_DIM_LENGTH, 150.0},
    {"  3   m ", FE_DIM_LENGTH, 3.0},
    {"110 mm", FE_DIM_LENGTH, 0.11},
    {"25cm", FE_DIM_LENGTH, 0.25},
    {"1.2km", FE_DIM_LENGTH, 1200.0},
    {"0.25 mi", FE_DIM_LENGTH, 402.336},
    {"100 yd", FE_DIM_LENGTH, 91.44},
    {"12 ft", FE_DIM_LENGTH, 3.6576},
    {"6 in", FE_DIM_LENGTH, 0.1524},
    {"12 ft 6 in", FE_DIM_LENGTH, 3.81},
    {"12ft6in", FE_DIM_LENGTH, 3.81},
    {"12' 6\"", FE_DIM_LENGTH, 3.81},
    {"12'6\"", FE_DIM_LENGTH, 3.81},
    {"12\xE2\x80\xB2 6\xE2\x80\xB3", FE_DIM_LENGTH, 3.81},
    {"12 feet 6 inches", FE_DIM_LENGTH, 3.81},
    {"5' 11.5\"", FE_DIM_LENGTH, 1.8161},
    {"-3 ft 6 in", FE_DIM_LENGTH, -1.0668},
    {"-0 ft 6 in", FE_DIM_LENGTH, -0.1524},
    {"1 nautical_mile", FE_DIM_LENGTH, 1852.0},
    {"3e-2 hm", FE_DIM_LENGTH, 3.0},
    {"+3m", FE_DIM_LENGTH, 3.0},
    {".5m", FE_DIM_LENGTH, 0.5},
    {"2.5 mm2", FE_DIM_AREA, 2.5e-6},
    {"20mm2", FE_DIM_AREA, 20e-6},
    {"2.5 mm\xC2\xB2", FE_DIM_AREA, 2.5e-6},
    {"2.5 mm^2", FE_DIM_AREA, 2.5e-6},
    {"1 m2", FE_DIM_AREA, 1.0},
    {"2 hectare", FE_DIM_AREA, 20000.0},
    {"250 kcmil", FE_DIM_AREA, 126.6768698e-6},
    {"AWG 36", FE_DIM_AREA, FE_PI / 4.0 * 0.127e-3 * 0.127e-3},
    {"AWG 4/0", FE_DIM_AREA, FE_PI / 4.0 * 11.684e-3 * 11.684e-3},
    {"4/0 AWG", FE_DIM_AREA, FE_PI / 4.0 * 11.684e-3 * 11.684e-3},
    {"0000 AWG", FE_DIM_AREA, FE_PI / 4.0 * 11.684e-3 * 11.684e-3},
    {"AWG12", FE_DIM_AREA, 3.3087729e-6},
    {"12 AWG", FE_DIM_AREA, 3.3087729e-6},
    {"5 kg", FE_DIM_MASS, 5.0},
    {"500g", FE_DIM_MASS, 0.5},
    {"2 lb", FE_DIM_MASS, 0.90718474},
    {"2 Mg", FE_DIM_MASS, 2000.0},
    {"0.24 kg/m", FE_DIM_LINEAR_MASS, 0.24},
    {"240 kg/km", FE_DIM_LINEAR_MASS, 0.24},
    {"1 lb/ft", FE_DIM_LINEAR_MASS, 1.488163944},
    {"900 kg/m3", FE_DIM_DENSITY, 900.0},
    {"57 lb/ft3", FE_DIM_DENSITY, 913.0524123},
    {"2943N", FE_DIM_FORCE, 2943.0},
    {"1.5 kN", FE_DIM_FORCE, 1500.0},
    {"100 kgf", FE_DIM_FORCE, 980.665},
    {"1 lbf", FE_DIM_FORCE, 4.4482216152605},
    {"1 lb", FE_DIM_FORCE, 4.4482216152605},
    {"100000 dyne", FE_DIM_FORCE, 1.0},
    {"7.3575N/m", FE_DIM_LINEAR_FORCE, 7.3575},
    {"1 kgf/m", FE_DIM_LINEAR_FORCE, 9.80665},
    {"1 lb/ft", FE_DIM_LINEAR_FORCE, 14.59390294},
    {"900 N m", FE_DIM_MOMENT, 900.0},
    {"900 N\xC2\xB7m", FE_DIM_MOMENT, 900.0},
    {"1.631kNm", FE_DIM_MOMENT, 1631.0},
    {"1 lb ft", FE_DIM_MOMENT, 1.3558179483},
    {"170GPa", FE_DIM_PRESSURE, 170e9},
    {"190 Pa", FE_DIM_PRESSURE, 190.0},
    {"38 MPa", FE_DIM_PRESSURE, 38e6},
    {"50 kPa", FE_DIM_PRESSURE, 50e3},
    {"1 psi", FE_DIM_PRESSURE, 6894.757293168},
    {"4 psf", FE_DIM_PRESSURE, 191.52103592},
    {"1 atm", FE_DIM_PRESSURE, 101325.0},
    {"150 psf/ft", FE_DIM_SOIL_MODULUS, 23563.1196},
    {"24 kPa/m", FE_DIM_SOIL_MODULUS, 24e3},
    {"26 m/s", FE_DIM_SPEED, 26.0},
    {"90 km/h", FE_DIM_SPEED, 25.0},
    {"60 mph", FE_DIM_SPEED, 26.8224},
    {"10 kn", FE_DIM_SPEED, 5.1444444444},
    {"9.5 mm/h", FE_DIM_RAIN_RATE, 9.5e-3 / 3600.0},
    {"1 in/h", FE_DIM_RAIN_RATE, 25.4e-3 / 3600.0},
    {"15degC", FE_DIM_TEMPERATURE, 15.0},
    {"-20degC", FE_DIM_TEMPERATURE, -20.0},
    {"\xE2\x88\x92"
     "20 \xC2\xB0"
     "C",
     FE_DIM_TEMPERATURE, -20.0},
    {"14 degF", FE_DIM_TEMPERATURE, -10.0},
    {"212 \xC2\xB0"
     "F",
     FE_DIM_TEMPERATURE, 100.0},
    {"293.15 K", FE_DIM_TEMPERATURE, 20.0},
    {"0 K", FE_DIM_TEMPERATURE, -273.15},
    {"30 K", FE_DIM_TEMPERATURE_STEP, 30.0},
    {"30 degC", FE_DIM_TEMPERATURE_STEP, 30.0},
    {"18 degF", FE_DIM_TEMPERATURE_STEP, 10.0},
    {"11.5e-6/K", FE_DIM_EXPANSION, 11.5e-6},
    {"11.5e-6 1/K", FE_DIM_EXPANSION, 11.5e-6},
    {"11.5e-6/degC", FE_DIM_EXPANSION, 11.5e-6},
    {"11.5 ppm/K", FE_DIM_EXPANSION, 11.5e-6},
    {"6.4e-6/degF", FE_DIM_EXPANSION, 11.52e-6},
    {"180deg", FE_DIM_ANGLE, FE_PI},
    {"180\xC2\xB0", FE_DIM_ANGLE, FE_PI},
    {"0.5 rad", FE_DIM_ANGLE, 0.5},
    {"8 h", FE_DIM_TIME, 28800.0},
    {"5 min", FE_DIM_TIME, 300.0},
    {"20ms", FE_DIM_TIME, 0.02},
    {"2 days", FE_DIM_TIME, 172800.0},
    {"1 fortnight", FE_DIM_TIME, 1209600.0},
    {"2437MHz", FE_DIM_FREQUENCY, 2.437e9},
    {"2.4 GHz", FE_DIM_FREQUENCY, 2.4e9},
    {"50Hz", FE_DIM_FREQUENCY, 50.0},
    {"-87 dBm", FE_DIM_LEVEL, -87.0},
    {"100 mW", FE_DIM_LEVEL, 20.0},
    {"1 W", FE_DIM_LEVEL, 30.0},
    {"-3 dBW", FE_DIM_LEVEL, 27.0},
    {"8 dBi", FE_DIM_GAIN, 8.0},
    {"8 dBd", FE_DIM_GAIN, 10.15},
    {"10 dB", FE_DIM_RATIO, 10.0},
    {"0.4 dB/km", FE_DIM_RATIO_PER_LENGTH, 0.4e-3},
    {"22 dB/100m", FE_DIM_RATIO_PER_LENGTH, 0.22},
    {"22 dB / 100 m", FE_DIM_RATIO_PER_LENGTH, 0.22},
    {"6.7 dB/100ft", FE_DIM_RATIO_PER_LENGTH, 6.7 / 30.48},
    {"40 GB", FE_DIM_DATA, 3.2e11},
    {"1 GiB", FE_DIM_DATA, 8589934592.0},
    {"8 Mb", FE_DIM_DATA, 8e6},
    {"6 Mb/s", FE_DIM_DATA_RATE, 6e6},
    {"6Mbit/s", FE_DIM_DATA_RATE, 6e6},
    {"6 Mbps", FE_DIM_DATA_RATE, 6e6},
    {"6 MB/s", FE_DIM_DATA_RATE, 48e6},
    {"150 kb/s", FE_DIM_DATA_RATE, 150e3},
    {"1Gb/s", FE_DIM_DATA_RATE, 1e9},
    {"60W", FE_DIM_POWER, 60.0},
    {"5 mW", FE_DIM_POWER, 5e-3},
    {"5 MW", FE_DIM_POWER, 5e6},
    {"1 hp", FE_DIM_POWER, 745.6998716},
    {"500 VA", FE_DIM_APPARENT_POWER, 500.0},
    {"1.2 kWh", FE_DIM_ENERGY, 4.32e6},
    {"100 Ah", FE_DIM_CHARGE, 3.6e5},
    {"230V", FE_DIM_VOLTAGE, 230.0},
    {"400 mV", FE_DIM_VOLTAGE, 0.4},
    {"10A", FE_DIM_CURRENT, 10.0},
    {"350 mA", FE_DIM_CURRENT, 0.35},
    {"0.5 ohm", FE_DIM_RESISTANCE, 0.5},
    {"2 k\xCE\xA9", FE_DIM_RESISTANCE, 2000.0},
    {"7.41 ohm/km", FE_DIM_LINEAR_RESISTANCE, 7.41e-3},
    {"0.003 S/m", FE_DIM_CONDUCTIVITY, 0.003},
    {"1.5 /km2/year", FE_DIM_FLASH_DENSITY, 1.5e-6 / 31557600.0},
    {"1.5/km2/yr", FE_DIM_FLASH_DENSITY, 1.5e-6 / 31557600.0},
    {"120", FE_DIM_MONEY, 120.0},
    {"120 EUR", FE_DIM_MONEY, 120.0},
    {"EUR 120.50", FE_DIM_MONEY, 120.5},
    {"$99", FE_DIM_MONEY, 99.0},
    {"99 \xE2\x82\xAC", FE_DIM_MONEY, 99.0},
};

typedef struct bad_case {
    const char *text;
    fe_dimension dimension;
} bad_case;

static const bad_case BAD[] = {
    {"", FE_DIM_LENGTH},
    {"   ", FE_DIM_LENGTH},
    {"m", FE_DIM_LENGTH},
    {"abc", FE_DIM_NUMBER},
    /* a bare number where a unit is needed */
    {"150", FE_DIM_LENGTH},
    {"2943", FE_DIM_FORCE},
    {"0", FE_DIM_LENGTH},
    {"-65", FE_DIM_LEVEL},
    {"15", FE_DIM_TEMPERATURE},
    {"6", FE_DIM_DATA_RATE},
    /* not numbers, not finite, not decimal */
    {"nan", FE_DIM_NUMBER},
    {"nan m", FE_DIM_LENGTH},
    {"NAN", FE_DIM_COUNT},
    {"inf", FE_DIM_NUMBER},
    {"-inf m", FE_DIM_LENGTH},
    {"infinity Hz", FE_DIM_FREQUENCY},
    {"1e999 m", FE_DIM_LENGTH},
    {"1e308 km", FE_DIM_LENGTH},
    {"0x10 m", FE_DIM_LENGTH},
    {"0x10", FE_DIM_NUMBER},
    {"1,5 m", FE_DIM_LENGTH},
    {"1 000 m", FE_DIM_LENGTH},
    {"1.2.3 m", FE_DIM_LENGTH},
    {"--3 m", FE_DIM_LENGTH},
    /* text left over */
    {"3 m x", FE_DIM_LENGTH},
    {"3 m 2", FE_DIM_LENGTH},
    {"3 m;", FE_DIM_LENGTH},
    {"3 m # tall", FE_DIM_LENGTH},
    {"3 m\n4 m", FE_DIM_LENGTH},
    {"3 m..4 m", FE_DIM_LENGTH},
    {"2.5 x", FE_DIM_NUMBER},
    {"12 ft 6", FE_DIM_LENGTH},
    {"2ft1", FE_DIM_LENGTH},
    {"12 ft 13 in", FE_DIM_LENGTH},
    {"12 ft -6 in", FE_DIM_LENGTH},
    {"12.5 ft 6 in", FE_DIM_LENGTH},
    {"12 m 6 in", FE_DIM_LENGTH},
    {"12 ft 6 in 3", FE_DIM_LENGTH},
    /* another dimension */
    {"3 kg", FE_DIM_LENGTH},
    {"3 m2", FE_DIM_LENGTH},
    {"3 /m", FE_DIM_LENGTH},
    {"3 m-1", FE_DIM_LENGTH},
    {"3 kg", FE_DIM_FORCE},
    {"3 kg/m", FE_DIM_LINEAR_FORCE},
    {"3 N", FE_DIM_MASS},
    {"3 s", FE_DIM_FREQUENCY},
    {"3 Hz", FE_DIM_TIME},
    {"60 rpm", FE_DIM_FREQUENCY},
    {"3 J", FE_DIM_MOMENT},
    {"3 N m", FE_DIM_ENERGY},
    {"3 W", FE_DIM_APPARENT_POWER},
    {"3 VA", FE_DIM_POWER},
    {"3 S", FE_DIM_RESISTANCE},
    {"6 m2/s", FE_DIM_DATA_RATE},
    {"6 Mb", FE_DIM_DATA_RATE},
    {"6 mb/s", FE_DIM_DATA_RATE},
    {"40 GB/s", FE_DIM_DATA},
    {"8 dB", FE_DIM_GAIN},
    {"8 dBm", FE_DIM_RATIO},
    {"8 dBi", FE_DIM_LEVEL},
    {"0 mW", FE_DIM_LEVEL},
    {"-1 W", FE_DIM_LEVEL},
    {"5 %", FE_DIM_LENGTH},
    {"5 %", FE_DIM_NUMBER},
    {"5 m", FE_DIM_NUMBER},
    {"5 rad", FE_DIM_FRACTION},
    {"5", FE_DIM_FRACTION},
    {"2437 mhz", FE_DIM_FREQUENCY},
    {"30 degC", FE_DIM_ANGLE},
    {"15 deg", FE_DIM_TEMPERATURE},
    {"-300 degC", FE_DIM_TEMPERATURE},
    {"-1 K", FE_DIM_TEMPERATURE},
    /* counts and money */
    {"2.5", FE_DIM_COUNT},
    {"-1", FE_DIM_COUNT},
    {"1e300", FE_DIM_COUNT},
    {"3 pieces", FE_DIM_COUNT},
    {"120 m", FE_DIM_MONEY},
    {"EUR", FE_DIM_MONEY},
    {"120 EUR 5", FE_DIM_MONEY},
    /* wire sizes */
    {"AWG", FE_DIM_AREA},
    {"AWG 12.5", FE_DIM_AREA},
    {"AWG -1", FE_DIM_AREA},
    {"AWG 5/0", FE_DIM_AREA},
    {"AWG 99", FE_DIM_AREA},
    {"AWG 12 AWG", FE_DIM_AREA},
    {"12 awg", FE_DIM_AREA},
    {"AWG 12", FE_DIM_LENGTH},
    /* the grammar of the unit database beyond units */
    {"3 m since 1990", FE_DIM_LENGTH},
    {"3 m @ 2", FE_DIM_LENGTH},
    {"3 m - 2", FE_DIM_LENGTH},
    {"3 lg(re 1 m)", FE_DIM_LENGTH},
    {"3 seconds since 1970-01-01", FE_DIM_TIME},
    {"3 2m", FE_DIM_LENGTH},
    {"3 m*2", FE_DIM_LENGTH},
};

/* "\"3 kg\" as a length", for the failure message. */
static const char *label(const char *text, fe_dimension dimension)
{
    static char room[256];
    snprintf(room, sizeof room, "\"%s\" as %s", text, fe_dimension_name(dimension));
    return room;
}

static void check_good(void)
{
    for (size_t i = 0; i < sizeof GOOD / sizeof GOOD[0]; i++) {
        double inside = NAN;
        const char *what = label(GOOD[i].text, GOOD[i].dimension);
        if (fe_quantity_parse(GOOD[i].text, GOOD[i].dimension, &inside) != FE_OK)
            fail_msg("%s is refused", what);
        fe_testing_assert_close(inside, GOOD[i].inside, 1e-8 * fabs(GOOD[i].inside) + 1e-15,
                                what, __FILE__, __LINE__);
    }
}

static void quantity__is_read_into_the_unit_inside(void **state)
{
    (void)state;
    check_good();
}

static void quantity__is_refused_and_leaves_the_output(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof BAD / sizeof BAD[0]; i++) {
        double inside = 42.0;
        const char *what = label(BAD[i].text, BAD[i].dimension);
        if (fe_quantity_parse(BAD[i].text, BAD[i].dimension, &inside) != FE_E_INPUT)
            fail_msg("%s is accepted as %g", what, inside);
        fe_testing_assert_close(inside, 42.0, 0.0, what, __FILE__, __LINE__);
    }
}

static void quantity__refuses_a_text_longer_than_any_unit(void **state)
{
    (void)state;
    char text[4096];
    double inside = 0.0;
    memset(text, 'm', sizeof text);
    text[0] = '3';
    text[sizeof text - 1] = 0;
    assert_int_equal(fe_quantity_parse(text, FE_DIM_LENGTH, &inside), FE_E_INPUT);
}

static void quantity__is_same_under_a_decimal_comma(void **state)
{
    (void)state;
    static const char *const COMMA[] = {"de_DE.UTF-8", "de_DE.utf8",  "de_DE",
                                        "fr_FR.UTF-8", "sv_SE.UTF-8", "nl_NL.UTF-8",
                                        "fi_FI.UTF-8"};
    for (size_t i = 0; i < sizeof COMMA / sizeof COMMA[0]; i++) {
        if (!setlocale(LC_ALL, COMMA[i]) || *localeconv()->decimal_point != ',')
            continue;
        fe_quantity_shutdown(); /* so that the database is read under this locale */
        check_good();
        setlocale(LC_ALL, "C");
        return;
    }
    setlocale(LC_ALL, "C");
    printf("no locale with a decimal comma is installed\n");
    skip();
}

static void quantity__is_read_again_after_shutdown(void **state)
{
    (void)state;
    double inside = 0.0;
    fe_quantity_shutdown();
    fe_quantity_shutdown();
    assert_int_equal(fe_quantity_parse("2 nautical_miles", FE_DIM_LENGTH, &inside), FE_OK);
    assert_close(inside, 3704.0, 1e-9);
    fe_quantity_shutdown();
}

static void every_dimension__has_an_example_that_reads(void **state)
{
    (void)state;
    for (int dimension = 0; dimension < FE_DIM_LAST; dimension++) {
        const fe_dimension row = (fe_dimension)dimension;
        double inside = 0.0;
        assert_non_null(fe_dimension_name(row));
        assert_non_null(fe_dimension_unit(row));
        if (fe_quantity_parse(fe_dimension_example(row), row, &inside) != FE_OK)
            fail_msg("%s", label(fe_dimension_example(row), row));
    }
}

static void every_dimension__reads_its_inside_unit_as_one(void **state)
{
    (void)state;
    for (int dimension = 0; dimension < FE_DIM_LAST; dimension++) {
        const fe_dimension row = (fe_dimension)dimension;
        char text[64];
        double inside = 0.0;
        if (!fe_dimension_has_unit(row) || row == FE_DIM_FLASH_DENSITY)
            continue;
        snprintf(text, sizeof text, "1 %s", fe_dimension_unit(row));
        if (fe_quantity_parse(text, row, &inside) != FE_OK)
            fail_msg("%s is refused", label(text, row));
        assert_close(inside, 1.0, 1e-12);
    }
}

typedef struct range_case {
    const char *text;
    fe_dimension dimension;
    double low, high;
    fe_given given;
} range_case;

static const range_case RANGES[] = {
    {"40 m..44 m", FE_DIM_LENGTH, 40.0, 44.0, FE_GIVEN_RANGE},
    {"40..44 m", FE_DIM_LENGTH, 40.0, 44.0, FE_GIVEN_RANGE},
    {"40 .. 44m", FE_DIM_LENGTH, 40.0, 44.0, FE_GIVEN_RANGE},
    {"400 cm..5 m", FE_DIM_LENGTH, 4.0, 5.0, FE_GIVEN_RANGE},
    {"10 ft 6 in..12 ft", FE_DIM_LENGTH, 3.2004, 3.6576, FE_GIVEN_RANGE},
    {"-20 degC..5 degC", FE_DIM_TEMPERATURE, -20.0, 5.0, FE_GIVEN_RANGE},
    {"-20..5degC", FE_DIM_TEMPERATURE, -20.0, 5.0, FE_GIVEN_RANGE},
    {"0.5..5 %", FE_DIM_FRACTION, 0.005, 0.05, FE_GIVEN_RANGE},
    {"2..5 %", FE_DIM_FRACTION, 0.02, 0.05, FE_GIVEN_RANGE},
    {"1..3", FE_DIM_COUNT, 1.0, 3.0, FE_GIVEN_RANGE},
    {"1.5..2.5", FE_DIM_NUMBER, 1.5, 2.5, FE_GIVEN_RANGE},
    {"100..150 EUR", FE_DIM_MONEY, 100.0, 150.0, FE_GIVEN_RANGE},
    {"3 m", FE_DIM_LENGTH, 3.0, 3.0, FE_GIVEN_VALUE},
    {"unknown", FE_DIM_LENGTH, 0.0, 0.0, FE_GIVEN_UNKNOWN},
    {" unknown ", FE_DIM_LEVEL, 0.0, 0.0, FE_GIVEN_UNKNOWN},
};

static void value__reads_single_ranges_and_unknown(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof RANGES / sizeof RANGES[0]; i++) {
        const range_case *row = &RANGES[i];
        fe_value value = {0};
        if (fe_value_parse(row->text, row->dimension, &value) != FE_OK)
            fail_msg("%s is refused", label(row->text, row->dimension));
        assert_close(value.low, row->low, 1e-9);
        assert_close(value.high, row->high, 1e-9);
        assert_close(value.typical, 0.5 * (row->low + row->high), 1e-9);
        assert_int_equal(value.given, row->given);
        assert_int_equal(fe_value_is_open(value), row->low != row->high);
    }
}

static const bad_case BAD_RANGES[] = {
    {"44..40 m", FE_DIM_LENGTH},
    {"44 m..40 m", FE_DIM_LENGTH},
    {"40 m..", FE_DIM_LENGTH},
    {"..44 m", FE_DIM_LENGTH},
    {"40..44", FE_DIM_LENGTH},
    {"40 m..44", FE_DIM_LENGTH},
    {"40...44 m", FE_DIM_LENGTH},
    {"1..2..3 m", FE_DIM_LENGTH},
    {"40 kg..44 m", FE_DIM_LENGTH},
    {"nan..44 m", FE_DIM_LENGTH},
    {"Unknown m", FE_DIM_LENGTH},
    {"unknown..3 m", FE_DIM_LENGTH},
    {"-400..5 degC", FE_DIM_TEMPERATURE},
};

static void value__refuses_what_is_no_range(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof BAD_RANGES / sizeof BAD_RANGES[0]; i++) {
        fe_value value = {.low = 42.0};
        if (fe_value_parse(BAD_RANGES[i].text, BAD_RANGES[i].dimension, &value) != FE_E_INPUT)
            fail_msg("%s is accepted", label(BAD_RANGES[i].text, BAD_RANGES[i].dimension));
        assert_close(value.low, 42.0, 0.0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(quantity__is_read_into_the_unit_inside),
        cmocka_unit_test(quantity__is_refused_and_leaves_the_output),
        cmocka_unit_test(quantity__refuses_a_text_longer_than_any_unit),
        cmocka_unit_test(quantity__is_same_under_a_decimal_comma),
        cmocka_unit_test(quantity__is_read_again_after_shutdown),
        cmocka_unit_test(every_dimension__has_an_example_that_reads),
        cmocka_unit_test(every_dimension__reads_its_inside_unit_as_one),
        cmocka_unit_test(value__reads_single_ranges_and_unknown),
        cmocka_unit_test(value__refuses_what_is_no_range),
    };
    const int failures = FE_RUN_TESTS(tests);
    fe_quantity_shutdown();
    return failures;
}
