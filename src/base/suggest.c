/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/suggest.h"

#include <ctype.h>
#include <stdbool.h>
#include <string.h>

enum { LONGEST_NAME = 63, ONE_WORD = 100, WORD_LEAST = 4, FAR_AWAY = 1000 };

static char plain(char letter)
{
    return letter == '_' ? '-' : (char)tolower((unsigned char)letter);
}

static unsigned least(unsigned a, unsigned b)
{
    return a < b ? a : b;
}

/* Slips between two texts: a letter left out, put in, changed, or exchanged with its neighbour.
 */
static unsigned slips(const char *a, size_t a_length, const char *b, size_t b_length)
{
    unsigned rows[3][LONGEST_NAME + 1];
    unsigned *before = rows[0], *above = rows[1], *row = rows[2];
    for (size_t j = 0; j <= b_length; j++)
        above[j] = (unsigned)j;
    for (size_t i = 1; i <= a_length; i++) {
        row[0] = (unsigned)i;
        for (size_t j = 1; j <= b_length; j++) {
            const char x = plain(a[i - 1]), y = plain(b[j - 1]);
            row[j] = least(above[j] + 1, row[j - 1] + 1);
            row[j] = least(row[j], above[j - 1] + (x != y));
            if (i > 1 && j > 1 && x == plain(b[j - 2]) && plain(a[i - 2]) == y)
                row[j] = least(row[j], before[j - 2] + 1);
        }
        unsigned *spare = before;
        before = above;
        above = row;
        row = spare;
    }
    return above[b_length];
}

static size_t word_length(const char *text)
{
    size_t length = 0;
    while (text[length] && plain(text[length]) != '-' && text[length] != ' ')
        length++;
    return length;
}

static const char *next_word(const char *word)
{
    word += word_length(word);
    return word + strspn(word, "-_ ");
}

/* snow-depth and deepest-snow. */
static bool share_a_word(const char *text, const char *name)
{
    for (const char *a = text; *a; a = next_word(a))
        for (const char *b = name; *b; b = next_word(b)) {
            const size_t length = word_length(a);
            if (length >= WORD_LEAST && length == word_length(b) &&
                slips(a, length, b, length) == 0)
                return true;
        }
    return false;
}

static unsigned distance(const char *text, const char *name)
{
    const size_t text_length = strlen(text), name_length = strlen(name);
    if (text_length == 0 || text_length > LONGEST_NAME || name_length > LONGEST_NAME)
        return FAR_AWAY;
    const unsigned count = slips(text, text_length, name, name_length);
    if (text_length >= 3 && name_length > text_length &&
        slips(text, text_length, name, text_length) == 0)
        return least(count, 2);
    /* A third of the letters wrong is a slip of the hand, more is another word. */
    if (count <= 1 + text_length / 4 && count < name_length)
        return count;
    return share_a_word(text, name) ? ONE_WORD : FAR_AWAY;
}

fe_suggest fe_suggest_start(const char *text)
{
    return (fe_suggest){.text = text, .best = NULL, .best_distance = FAR_AWAY};
}

void fe_suggest_offer(fe_suggest *search, const char *name)
{
    const unsigned count = distance(search->text, name);
    if (count < search->best_distance) {
        search->best = name;
        search->best_distance = count;
    }
}

const char *fe_suggest_nearest(const char *text, const char *const *names, size_t count)
{
    fe_suggest search = fe_suggest_start(text);
    for (size_t i = 0; i < count; i++)
        fe_suggest_offer(&search, names[i]);
    return search.best;
}
