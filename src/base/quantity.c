/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/quantity.h"

#include <ctype.h>
#include <locale.h>
#include <math.h>
#include <string.h>
#include <udunits2.h>

#include "base/gauge.h"
#include "base/units.h"
#include "farend/constants.h"
#include "farend/number.h"

/* Longest text of one quantity, its end included; nobody writes a longer unit. */
enum { QUANTITY_ROOM = 160 };

typedef struct dimension_row {
    const char *name;
    const char *unit;
    const char *example;
    const char *database; /* what UDUNITS-2 may convert to; null: it could not tell it apart */
} dimension_row;

static const dimension_row DIMENSIONS[FE_DIM_LAST] = {
    [FE_DIM_NUMBER] = {"a number", "", "1.5", NULL},
    [FE_DIM_COUNT] = {"a whole number, zero or more", "", "3", NULL},
    [FE_DIM_FRACTION] = {"a fraction or percentage", "", "5 %", NULL},
    [FE_DIM_LENGTH] = {"a length", "m", "3 m", "m"},
    [FE_DIM_AREA] = {"an area or wire size", "m2", "2.5 mm2", "m2"},
    [FE_DIM_MASS] = {"a mass", "kg", "5 kg", "kg"},
    [FE_DIM_LINEAR_MASS] = {"a mass per length", "kg/m", "0.24 kg/m", "kg m-1"},
    [FE_DIM_DENSITY] = {"a density", "kg/m3", "900 kg/m3", "kg m-3"},
    [FE_DIM_FORCE] = {"a force", "N", "800 N", "N"},
    [FE_DIM_LINEAR_FORCE] = {"a force per length", "N/m", "2.4 N/m", "N m-1"},
    [FE_DIM_MOMENT] = {"a moment", "N m", "900 N m", NULL},
    [FE_DIM_PRESSURE] = {"a pressure or modulus", "Pa", "170 GPa", "Pa"},
    [FE_DIM_SOIL_MODULUS] = {"a pressure per depth", "Pa/m", "24 kPa/m", "Pa m-1"},
    [FE_DIM_SPEED] = {"a speed", "m/s", "26 m/s", "m s-1"},
    [FE_DIM_RAIN_RATE] = {"a rain rate", "m/s", "30 mm/h", NULL},
    [FE_DIM_TEMPERATURE] = {"a temperature", "degC", "15 degC", NULL},
    [FE_DIM_TEMPERATURE_STEP] = {"a step of temperature", "K", "30 K", NULL},
    [FE_DIM_EXPANSION] = {"an expansion per degree", "1/K", "11.5e-6 /K", NULL},
    [FE_DIM_ANGLE] = {"an angle", "rad", "30 deg", NULL},
    [FE_DIM_TIME] = {"a time", "s", "8 h", "s"},
    [FE_DIM_FREQUENCY] = {"a frequency", "Hz", "2437 MHz", NULL},
    [FE_DIM_LEVEL] = {"a level", "dBm", "-65 dBm", NULL},
    [FE_DIM_GAIN] = {"a gain", "dBi", "8 dBi", NULL},
    [FE_DIM_RATIO] = {"a ratio in decibels", "dB", "10 dB", NULL},
    [FE_DIM_RATIO_PER_LENGTH] = {"decibels per length", "dB/m", "0.4 dB/m", NULL},
    [FE_DIM_DATA] = {"an amount of data", "bit", "40 GB", NULL},
    [FE_DIM_DATA_RATE] = {"a data rate", "bit/s", "6 Mb/s", NULL},
    [FE_DIM_POWER] = {"a power", "W", "60 W", NULL},
    [FE_DIM_APPARENT_POWER] = {"an apparent power", "VA", "500 VA", NULL},
    [FE_DIM_ENERGY] = {"an energy", "J", "1.2 kWh", NULL},
    [FE_DIM_CHARGE] = {"a charge", "C", "100 Ah", "C"},
    [FE_DIM_VOLTAGE] = {"a voltage", "V", "230 V", "V"},
    [FE_DIM_CURRENT] = {"a current", "A", "10 A", "A"},
    [FE_DIM_RESISTANCE] = {"a resistance", "ohm", "0.5 ohm", "ohm"},
    [FE_DIM_LINEAR_RESISTANCE] = {"a resistance per length", "ohm/m", "7.41 ohm/km", "ohm m-1"},
    [FE_DIM_CONDUCTIVITY] = {"a conductivity", "S/m", "0.003 S/m", "S m-1"},
    [FE_DIM_FLASH_DENSITY] = {"a lightning flash density", "1/(m2 s)", "1.5 /km2/year", NULL},
    [FE_DIM_MONEY] = {"an amount of money", "", "120 EUR", NULL},
};

static const dimension_row *dimension_at(fe_dimension dimension)
{
    static const dimension_row NONE = {"a value", "", "1", NULL};
    return (int)dimension >= 0 && dimension < FE_DIM_LAST ? &DIMENSIONS[dimension] : &NONE;
}

const char *fe_dimension_example(fe_dimension dimension)
{
    return dimension_at(dimension)->example;
}

const char *fe_dimension_name(fe_dimension dimension)
{
    return dimension_at(dimension)->name;
}

const char *fe_dimension_unit(fe_dimension dimension)
{
    return dimension_at(dimension)->unit;
}

bool fe_dimension_has_unit(fe_dimension dimension)
{
    return dimension != FE_DIM_NUMBER && dimension != FE_DIM_COUNT &&
           dimension != FE_DIM_FRACTION && dimension != FE_DIM_MONEY;
}

/* ---- The text, in ASCII with single spaces ---- */

typedef struct spelling {
    const char *written; /* UTF-8 */
    const char *plain;
} spelling;

static const spelling SPELLINGS[] = {
    {"\xC2\xB0", "deg"},     /* degree sign */
    {"\xC2\xB2", "2"},       /* superscript two */
    {"\xC2\xB3", "3"},       /* superscript three */
    {"\xC2\xB5", "u"},       /* micro sign */
    {"\xCE\xBC", "u"},       /* small mu */
    {"\xCE\xA9", "ohm"},     /* capital omega */
    {"\xE2\x84\xA6", "ohm"}, /* ohm sign */
    {"\xC2\xB7", " "},       /* middle dot, between units multiplied */
    {"\xC2\xA0", " "},       /* no-break space */
    {"\xE2\x80\xAF", " "},   /* narrow no-break space */
    {"\xE2\x88\x92", "-"},   /* minus sign */
    {"\xE2\x80\xB2", "'"},   /* prime */
    {"\xE2\x80\xB3", "\""},  /* double prime */
    {"\xE2\x82\xAC", "EUR"}, /* euro sign */
    {"\xC2\xA3", "GBP"},     /* pound sign */
    {"\t", " "},
};

static const spelling *spelling_at(const char *text)
{
    for (size_t i = 0; i < sizeof SPELLINGS / sizeof SPELLINGS[0]; i++)
        if (strncmp(text, SPELLINGS[i].written, strlen(SPELLINGS[i].written)) == 0)
            return &SPELLINGS[i];
    return NULL;
}

static bool next_to_slash(const char *before, const char *after)
{
    return *before == '/' || *after == '/';
}

/* Squeezes spaces: none at the ends or around a slash, one elsewhere. */
static void squeeze(char *text)
{
    char *write = text;
    for (const char *read = text; *read; read++) {
        if (*read == ' ') {
            const char *after = read + strspn(read, " ");
            if (write == text || *after == 0 || next_to_slash(write - 1, after))
                continue;
            if (write[-1] == ' ')
                continue;
        }
        *write++ = *read;
    }
    *write = 0;
}

/* False where the text does not fit, or holds anything else than printable ASCII after all. */
static bool normalise(const char *text, char buffer[QUANTITY_ROOM])
{
    size_t length = 0;
    while (*text) {
        const spelling *special = spelling_at(text);
        char letter[2] = {*text, 0};
        const char *add = special ? special->plain : letter;
        if (!special && !(*text >= ' ' && *text <= '~'))
            return false;
        if (length + strlen(add) >= QUANTITY_ROOM)
            return false;
        memcpy(buffer + length, add, strlen(add));
        length += strlen(add);
        text += special ? strlen(special->written) : 1;
    }
    buffer[length] = 0;
    squeeze(buffer);
    return true;
}

static const char *skip_space(const char *text)
{
    return text + strspn(text, " ");
}

/* ---- Forms of our own ---- */

static bool is_foot(const char *word, size_t length)
{
    static const char *const NAMES[] = {"ft", "'", "feet", "foot"};
    for (size_t i = 0; i < sizeof NAMES / sizeof NAMES[0]; i++)
        if (strlen(NAMES[i]) == length && strncmp(word, NAMES[i], length) == 0)
            return true;
    return false;
}

static bool is_inch(const char *word)
{
    static const char *const NAMES[] = {"in", "\"", "''", "inch", "inches"};
    for (size_t i = 0; i < sizeof NAMES / sizeof NAMES[0]; i++)
        if (strcmp(word, NAMES[i]) == 0)
            return true;
    return false;
}

/* Feet with inches; `rest` is what follows the number of feet. */
static bool convert_feet_inches(double feet, const char *rest, double *si)
{
    const size_t word = strcspn(rest, " 0123456789.+-");
    double inches = 0.0;
    const char *end = NULL;
    if (!is_foot(rest, word))
        return false;
    const char *second = skip_space(rest + word);
    if (!isdigit((unsigned char)*second) || !fe_number_scan(second, &inches, &end))
        return false;
    if (!is_inch(skip_space(end)) || !(inches < 12.0) || feet != floor(feet))
        return false;
    const double sign = signbit(feet) ? -1.0 : 1.0;
    *si = feet * FE_FOOT_M + sign * inches * FE_INCH_M;
    return true;
}

/* Gauge number of "12", "00" or "4/0". */
static bool scan_gauge(const char **at, int *gauge)
{
    const size_t digits = strspn(*at, "0123456789");
    if (digits == 0 || digits > 4)
        return false;
    int value = 0;
    for (size_t i = 0; i < digits; i++)
        value = 10 * value + ((*at)[i] - '0');
    const char *end = *at + digits;
    if (value == 0) {
        value = 1 - (int)digits;
    } else if (end[0] == '/' && end[1] == '0') {
        if (value > 4)
            return false;
        value = 1 - value;
        end += 2;
    }
    *at = end;
    *gauge = value;
    return value <= 56;
}

/* Area of "AWG 12" or "4/0 AWG". */
static bool convert_gauge(const char *text, double *area_m2)
{
    int gauge = 0;
    const bool leads = strncmp(text, "AWG", 3) == 0;
    const char *at = leads ? skip_space(text + 3) : text;
    if (!scan_gauge(&at, &gauge))
        return false;
    if (!leads) {
        at = skip_space(at);
        if (strncmp(at, "AWG", 3) != 0)
            return false;
        at += 3;
    }
    if (*at != 0)
        return false;
    const double diameter_m = gauge_diameter_m(gauge);
    *area_m2 = FE_PI / 4.0 * diameter_m * diameter_m;
    return true;
}

static bool is_currency(const char *word)
{
    static const char *const NAMES[] = {"$",       "euro",  "euros", "dollar",
                                        "dollars", "pound", "pounds"};
    if (strlen(word) == 3 && strspn(word, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == 3)
        return true; /* the form of ISO 4217 */
    for (size_t i = 0; i < sizeof NAMES / sizeof NAMES[0]; i++)
        if (strcmp(word, NAMES[i]) == 0)
            return true;
    return false;
}

/* "120", "120 EUR", "EUR 120". */
static bool convert_money(const char *text, double *value)
{
    const size_t word = strcspn(text, " +-.0123456789");
    char currency[QUANTITY_ROOM];
    memcpy(currency, text, word);
    currency[word] = 0;
    if (word > 0)
        return is_currency(currency) && fe_number_parse(text + word, value);
    const char *end = NULL;
    double number = 0.0;
    if (!fe_number_scan(text, &number, &end))
        return false;
    end = skip_space(end);
    if (*end != 0 && !is_currency(end))
        return false;
    *value = number;
    return true;
}

/* A level given as a power: "100 mW" is 20 dBm. */
static bool convert_power_to_level(double number, const char *unit, double *level_dbm)
{
    double power_w = 0.0;
    if (!units_convert(number, unit, FE_DIM_POWER, &power_w) || !(power_w > 0.0))
        return false;
    *level_dbm = 10.0 * log10(power_w) + 30.0;
    return true;
}

/* ---- Units of the database ---- */

static ut_system *database; /* the one global: see the header */

void fe_quantity_shutdown(void)
{
    ut_free_system(database);
    database = NULL;
}

/* A digit stands in a power only: right behind a letter, '^', '-' or another digit. */
static bool is_power_digit(const char *unit, const char *at)
{
    if (at == unit || !(isalnum((unsigned char)at[-1]) || at[-1] == '^' || at[-1] == '-'))
        return false;
    /* A power of one is somebody's "2 ft 1 in" cut short. */
    return *at != '1' || at[-1] == '-' || isdigit((unsigned char)at[1]);
}

/* The sign of a power, not a difference. */
static bool is_power_sign(const char *unit, const char *at)
{
    return at != unit && (isalpha((unsigned char)at[-1]) || at[-1] == '^') &&
           isdigit((unsigned char)at[1]);
}

/* Its grammar also knows times since a date, logarithms and factors ("m 2"): none is a unit. */
static bool is_plain_unit(const char *unit)
{
    static const char *const WORDS[] = {" since ", " from ", " after ", " ref "};
    for (const char *at = unit; *at; at++) {
        if (isdigit((unsigned char)*at) && !is_power_digit(unit, at))
            return false;
        if (*at == '-' && !is_power_sign(unit, at))
            return false;
        if (!isalnum((unsigned char)*at) && !strchr(" ^*/.-_", *at))
            return false;
    }
    for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++)
        if (strstr(unit, WORDS[i]))
            return false;
    return true;
}

/* Of one dimension and not reciprocal ones, which UDUNITS converts into each other too. */
static bool same_dimension(const ut_unit *given, const ut_unit *wanted)
{
    ut_unit *ratio = ut_divide(given, wanted);
    const bool same = ratio && ut_is_dimensionless(ratio);
    ut_free(ratio);
    return same;
}

static bool convert_parsed(double number, const char *unit, const char *target, double *si)
{
    ut_unit *given = ut_parse(database, unit, UT_ASCII);
    ut_unit *wanted = ut_parse(database, target, UT_ASCII);
    cv_converter *converter = NULL;
    bool done = false;
    if (given && wanted && same_dimension(given, wanted))
        converter = ut_get_converter(given, wanted);
    if (converter) {
        *si = cv_convert_double(converter, number);
        done = true;
    }
    cv_free(converter);
    ut_free(wanted);
    ut_free(given);
    return done;
}

static bool convert_by_database(double number, const char *unit, const char *target, double *si)
{
    if (!target || !is_plain_unit(unit))
        return false;
    /* UDUNITS reads the numbers of its own database in the locale's form. */
    locale_t plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    if (plain == (locale_t)0)
        return false;
    const locale_t usual = uselocale(plain);
    ut_set_error_message_handler(ut_ignore);
    if (!database)
        database = ut_read_xml(NULL);
    const bool done = database && convert_parsed(number, unit, target, si);
    uselocale(usual);
    freelocale(plain);
    return done;
}

/* ---- One quantity ---- */

static bool convert_bare(double number, fe_dimension dimension, double *si)
{
    switch (dimension) {
    case FE_DIM_NUMBER:
        break;
    case FE_DIM_COUNT:
        /* Above 2^53 a double no longer counts by one. */
        if (!(number >= 0.0) || number != floor(number) || number > 9007199254740992.0)
            return false;
        break;
    case FE_DIM_FRACTION:
        /* "5" is most often a forgotten percent sign. */
        if (fabs(number) > 1.0)
            return false;
        break;
    default:
        return false;
    }
    *si = number;
    return true;
}

static bool convert_unit(double number, const char *unit, fe_dimension dimension, double *si)
{
    if (units_convert(number, unit, dimension, si))
        return true;
    if (dimension == FE_DIM_LENGTH && convert_feet_inches(number, unit, si))
        return true;
    if (dimension == FE_DIM_LEVEL)
        return convert_power_to_level(number, unit, si);
    return convert_by_database(number, unit, dimension_at(dimension)->database, si);
}

static bool convert(const char *text, fe_dimension dimension, double *si)
{
    double number = 0.0;
    const char *end = NULL;
    if (dimension == FE_DIM_MONEY)
        return convert_money(text, si);
    if (dimension == FE_DIM_AREA && convert_gauge(text, si))
        return true;
    if (!fe_number_scan(text, &number, &end))
        return false;
    const char *unit = skip_space(end);
    return *unit == 0 ? convert_bare(number, dimension, si)
                      : convert_unit(number, unit, dimension, si);
}

fe_status fe_quantity_parse(const char *text, fe_dimension dimension, double *si)
{
    char plain[QUANTITY_ROOM];
    double value = 0.0;
    if (!text || !normalise(text, plain) || !convert(plain, dimension, &value))
        return FE_E_INPUT;
    if (!isfinite(value))
        return FE_E_INPUT;
    if (dimension == FE_DIM_TEMPERATURE && value < -FE_KELVIN_OFFSET_C)
        return FE_E_INPUT;
    *si = value;
    return FE_OK;
}

/* ---- Values that may be open ---- */

fe_value fe_value_exact(double value)
{
    return (fe_value){value, value, value, FE_GIVEN_VALUE};
}

fe_value fe_value_default(double value)
{
    return (fe_value){value, value, value, FE_GIVEN_DEFAULT};
}

bool fe_value_is_open(fe_value value)
{
    return value.low != value.high;
}

bool fe_value_is_within(const fe_value *value, const fe_value *bounds)
{
    static const double SLACK = 1e-12;
    return value->low >= bounds->low - SLACK * fabs(bounds->low) &&
           value->high <= bounds->high + SLACK * fabs(bounds->high);
}

/* Low end of a range: a bare number has the unit of the high end ("40..44 m"). */
static fe_status parse_low_end(const char *low, const char *high, fe_dimension dimension,
                               double *si)
{
    double number = 0.0;
    const char *unit = NULL;
    char text[2 * QUANTITY_ROOM];
    if (!fe_number_parse(low, &number) || !fe_number_scan(high, &number, &unit))
        return fe_quantity_parse(low, dimension, si);
    memcpy(text, low, strlen(low));
    memcpy(text + strlen(low), unit, strlen(unit) + 1);
    return fe_quantity_parse(text, dimension, si);
}

static fe_status parse_range(char *text, char *dots, fe_dimension dimension, fe_value *value)
{
    double low = 0.0, high = 0.0;
    const char *second = dots + 2;
    *dots = 0;
    if (*second == '.')
        return FE_E_INPUT;
    fe_status status = fe_quantity_parse(second, dimension, &high);
    if (status == FE_OK)
        status = parse_low_end(text, second, dimension, &low);
    if (status != FE_OK)
        return status;
    if (low > high)
        return FE_E_INPUT;
    *value = (fe_value){low, low + (high - low) / 2.0, high, FE_GIVEN_RANGE};
    return FE_OK;
}

fe_status fe_value_parse(const char *text, fe_dimension dimension, fe_value *value)
{
    char plain[QUANTITY_ROOM];
    double si = 0.0;
    if (!text || !normalise(text, plain))
        return FE_E_INPUT;
    if (strcmp(plain, "unknown") == 0) {
        *value = (fe_value){0.0, 0.0, 0.0, FE_GIVEN_UNKNOWN};
        return FE_OK;
    }
    char *dots = strstr(plain, "..");
    if (dots)
        return parse_range(plain, dots, dimension, value);
    const fe_status status = fe_quantity_parse(plain, dimension, &si);
    if (status == FE_OK)
        *value = fe_value_exact(si);
    return status;
}

bool fe_value_with_points(const char *text, fe_dimension dimension, char *mended, size_t size)
{
    fe_value value;
    bool changed = false;
    const size_t length = text ? strlen(text) : size;
    if (length >= size)
        return false;
    memcpy(mended, text, length + 1);
    for (size_t i = 1; i < length; i++) {
        const size_t digits = text[i] == ',' ? strspn(text + i + 1, "0123456789") : 0;
        if (digits == 0 || digits == 3 || !isdigit((unsigned char)text[i - 1]))
            continue;
        mended[i] = '.';
        changed = true;
    }
    return changed && fe_value_parse(text, dimension, &value) != FE_OK &&
           fe_value_parse(mended, dimension, &value) == FE_OK;
}
