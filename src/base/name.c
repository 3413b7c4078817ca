/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/name.h"

#include <ctype.h>
#include <stddef.h>

static char plain(char letter)
{
    return letter == '-' || letter == '_' ? ' ' : (char)tolower((unsigned char)letter);
}

bool name_same(const char *a, const char *b)
{
    if (!a || !b)
        return false;
    while (*a && plain(*a) == plain(*b)) {
        a++;
        b++;
    }
    return *a == *b;
}

/* The next letter that counts; 0 at the end. */
static char next_letter(const char **at)
{
    while (plain(**at) == ' ')
        ++*at;
    return **at ? plain(*(*at)++) : '\0';
}

bool name_same_without_gaps(const char *a, const char *b)
{
    if (!a || !b)
        return false;
    for (;;) {
        const char letter = next_letter(&a);
        if (letter != next_letter(&b))
            return false;
        if (letter == '\0')
            return true;
    }
}
