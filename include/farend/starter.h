/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_STARTER_H
#define FAREND_STARTER_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"
#include "farend/strbuf.h"

/*
 * The plan that somebody starts from: a dozen questions in the owner's words, and a file made
 * of the answers. What a key means, its default and its bounds come from the table that the
 * plan reader uses, so that the file always reads without a mistake. Nothing is asked or
 * written to disk here.
 */
typedef struct fe_starter_question {
    const char *name;        /* of the answer, in one word: "distance" */
    const char *ask;         /* in the owner's words */
    const char *hint;        /* forms an answer may take */
    const char *fallback[2]; /* what is taken for no answer: in metric and in US units */
} fe_starter_question;

size_t fe_starter_questions(void);

/* index < fe_starter_questions(). */
fe_starter_question fe_starter_question_at(size_t index);

/* Place of a question by its name; the count where there is none. */
size_t fe_starter_find(const char *name);

/*
 * Whether a question has a meaning after the answers before it: no height is asked for trees
 * that are not there. `answers` has one text a question, null where none was given.
 */
bool fe_starter_asks(size_t index, const char *const *answers);

/*
 * Whether an answer can go into the plan.
 *   answers  the earlier ones, as above: trees have to stand between the buildings
 *   why      what is wrong, appended: "read "3", expected a length with its unit, ..."
 *
 * FE_E_INPUT   why says what is wrong
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_starter_check(size_t index, const char *answer,
                                         const char *const *answers, fe_strbuf *why);

/*
 * The plan as text. Each section that is in use, its other keys switched off beside their
 * defaults, then the sections not in use, switched off whole; a remark on every key.
 *   answers  as above, each good by fe_starter_check; null: the fallback
 *   us       fallbacks in US units
 *
 * FE_E_INPUT   an answer is not good
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_starter_write(const char *const *answers, bool us, fe_strbuf *out);

#endif
