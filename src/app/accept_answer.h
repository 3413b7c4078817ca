/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_ACCEPT_ANSWER_H
#define APP_ACCEPT_ANSWER_H

#include "app/radio_setup.h"
#include "farend/acceptance.h"

/* What `farend accept` has worked out, for the text and the JSON that say it. */
typedef struct accept_answer {
    radio_setup setup;
    fe_band band;
    const char *ends[2];
    fe_accept_link link;
    fe_accept_reading readings[FE_ACCEPT_MOST_READINGS];
    char names[FE_ACCEPT_MOST_READINGS][160];
    size_t count;
    fe_acceptance result;
} accept_answer;

fe_document *accept_document(const accept_answer *answer);
int accept_print_json(const char *who, const accept_answer *answer);

#endif
