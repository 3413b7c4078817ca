/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_SUGGEST_H
#define FAREND_SUGGEST_H

#include <stddef.h>

/*
 * The known name nearest to a mistyped one, for messages ("did you mean ...?"). Capitals count
 * as small letters and '_' as '-'; an exchanged pair of letters is one slip; the beginning of a
 * longer name is near to it, and so, where no slip explains the text, is a name with a word of four
 * letters or more in common. Names over 63 characters are never near.
 *
 * One by one, where the names are spread over tables:
 *
 *     fe_suggest search = fe_suggest_start(text);
 *     for (...) fe_suggest_offer(&search, name);
 *     if (search.best) ...
 */
typedef struct fe_suggest {
    const char *text;
    const char *best; /* the name offered, or null while none is near */
    unsigned best_distance;
} fe_suggest;

fe_suggest fe_suggest_start(const char *text);
void fe_suggest_offer(fe_suggest *search, const char *name);

/* The same over an array; null where no name is near enough to be what was meant. */
const char *fe_suggest_nearest(const char *text, const char *const *names, size_t count);

#endif
