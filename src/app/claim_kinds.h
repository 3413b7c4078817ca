/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_CLAIM_KINDS_H
#define APP_CLAIM_KINDS_H

#include <stdbool.h>

#include "app/options.h"
#include "farend/document.h"
#include "farend/figures.h"

/* The two kinds of statement that `farend claim` tests, and what they share. */
#define CLAIM_WHO "farend claim"

/* "From one frequency to another the range grows so many times"; an exit code. */
int claim_step(const options *given);
/* "This gear reaches so far at that frequency"; an exit code. */
int claim_reach(const options *given);

/* False, and asked back, where the option's figure must be meant in another unit. */
bool claim_frequency_is_plausible(const options *given, const char *name);

/* Range against frequency, where --figures asks for it. */
FE_MUST_CHECK fe_status claim_draw(fe_document *doc, const fe_claim_curve_data *data,
                                   const options *given);

#endif
