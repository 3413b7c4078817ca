/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/number.h"

#include <ctype.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NUMBER_ROOM = 64 };

static const char *skip_spaces(const char *text)
{
    while (isspace((unsigned char)*text))
        text++;
    return text;
}

/* Length of a decimal number in C's form at the start of the text; 0 where there is none. */
static size_t decimal_length(const char *text)
{
    const char *at = text;
    if (*at == '+' || *at == '-')
        at++;
    size_t whole = strspn(at, "0123456789");
    at += whole;
    size_t fraction = 0;
    /* "40..44" is a range, not "40." followed by ".44". */
    if (*at == '.' && at[1] != '.') {
        fraction = strspn(at + 1, "0123456789");
        if (whole + fraction > 0)
            at += 1 + fraction;
    }
    if (whole + fraction == 0)
        return 0;
    if (*at == 'e' || *at == 'E') {
        const char *power = at + 1;
        if (*power == '+' || *power == '-')
            power++;
        size_t digits = strspn(power, "0123456789");
        if (digits > 0)
            at = power + digits;
    }
    return (size_t)(at - text);
}

bool fe_number_scan(const char *text, double *value, const char **end)
{
    const char *start = skip_spaces(text);
    size_t length = decimal_length(start);
    if (length == 0 || length >= NUMBER_ROOM)
        return false;
    /* strtod follows the locale's decimal sign, the text never does. */
    char copy[NUMBER_ROOM];
    memcpy(copy, start, length);
    copy[length] = 0;
    char *point = strchr(copy, '.');
    if (point)
        *point = *localeconv()->decimal_point;
    double read = strtod(copy, NULL);
    if (!isfinite(read))
        return false;
    *value = read;
    *end = start + length;
    return true;
}

bool fe_number_parse(const char *text, double *value)
{
    const char *end = NULL;
    double read = 0.0;
    if (!fe_number_scan(text, &read, &end) || *skip_spaces(end) != 0)
        return false;
    *value = read;
    return true;
}

static void use_point(char *buffer)
{
    char sign = *localeconv()->decimal_point;
    char *at = sign == '.' ? NULL : strchr(buffer, sign);
    if (at)
        *at = '.';
}

char *fe_number_print(double value, char *buffer, size_t size)
{
    for (int digits = 6; digits <= 17; digits++) {
        snprintf(buffer, size, "%.*g", digits, value);
        if (strtod(buffer, NULL) == value)
            break;
    }
    use_point(buffer);
    return buffer;
}

char *fe_number_print_fixed(double value, int decimals, char *buffer, size_t size)
{
    if (!(fabs(value) < 1e15))
        return fe_number_print(value, buffer, size);
    snprintf(buffer, size, "%.*f", decimals, value);
    if (buffer[0] == '-' && strspn(buffer + 1, "0.,") == strlen(buffer + 1))
        memmove(buffer, buffer + 1, strlen(buffer));
    use_point(buffer);
    return buffer;
}
