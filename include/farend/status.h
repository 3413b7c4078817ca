/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_STATUS_H
#define FAREND_STATUS_H

/*
 * What every function of the library that can fail returns.
 *
 * Zero is good. Positive: the result is set, but lies outside the range its model was stated
 * for. Negative: there is no result and the outputs are untouched.
 */
typedef enum fe_status {
    FE_OK = 0,
    FE_W_RANGE = 1,   /* result set, but outside the model's stated range */
    FE_E_DOMAIN = -1, /* an argument is not finite, or outside what the function accepts */
    FE_E_NO_SOLUTION =
        -2, /* the physical problem has no answer (load too large, span too short) */
    FE_E_CONVERGE = -3, /* a numerical method did not converge; our mistake, not the user's */
    FE_E_MEMORY = -4,
    FE_E_INPUT = -5,   /* a file or text from the user is wrong; see the message list */
    FE_E_IO = -6,      /* reading or writing failed */
    FE_E_EXTERNAL = -7 /* another program (gnuplot) is missing or failed */
} fe_status;

/* A dropped status is a compiler warning. */
#if defined(__GNUC__)
#define FE_MUST_CHECK __attribute__((warn_unused_result))
#define FE_PRINTF(format_index, first_argument)                                                \
    __attribute__((format(printf, format_index, first_argument)))
#else
#define FE_MUST_CHECK
#define FE_PRINTF(format_index, first_argument)
#endif

/* One short English phrase for a status; never null. */
const char *fe_status_text(fe_status status);

/* The worse of two: any error over any warning over good; the first error wins. */
fe_status fe_status_worse(fe_status a, fe_status b);

/*
 * Prepares the process: switches GSL's aborting error handler off, so that every GSL code comes
 * back as a status. Call once from main (tests too) before anything else of the library.
 */
void fe_init(void);

#endif
