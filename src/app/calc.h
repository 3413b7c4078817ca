/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_CALC_H
#define APP_CALC_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/quantity.h"
#include "farend/status.h"
#include "farend/suggest.h"

/*
 * `farend calc NAME key=value...`: one formula of the library by hand. A formula is a row of a
 * table: its arguments with dimension, default and range, and a function that reads the
 * arguments from a call, calls the library and names the results.
 */

enum { CALC_MAX_ARGUMENTS = 16, CALC_MAX_RESULTS = 24, CALC_MAX_LIST = 256 };

typedef enum calc_kind {
    CALC_QUANTITY, /* one quantity of `dimension` */
    CALC_LIST,     /* quantities separated by commas */
    CALC_WORD      /* one of `choices` ("dc|ac"), or any text where choices is null */
} calc_kind;

typedef struct calc_argument {
    const char *name;
    calc_kind kind;
    fe_dimension dimension;
    const char *choices;
    const char
        *fallback;     /* text of the default; null: must be given; "": may be absent (NAN) */
    const char *range; /* as printed by --list: "> 0", "0.1 to 100 GHz" */
} calc_argument;

typedef struct calc_call calc_call;

typedef struct calc_formula {
    const char *name;
    const char *summary;                         /* one line */
    const char *source;                          /* document, edition, clause */
    calc_argument arguments[CALC_MAX_ARGUMENTS]; /* ends at a null name */
    const char *results; /* every name that run may give, "v loss_fit_db loss_exact_db" */
    const char *example; /* the arguments of a run that works */
    fe_status (*run)(calc_call *call);
} calc_formula;

/* Arguments, in SI; NAN or "" where an optional one was not given. */
double calc_number(const calc_call *call, const char *name);
const char *calc_word(const calc_call *call, const char *name);
bool calc_is_word(const calc_call *call, const char *name, const char *word);
size_t calc_list(const calc_call *call, const char *name, const double **values);

/* A result in the unit that its name ends with; `unit` as printed ("dB", "" for a count). */
void calc_result(calc_call *call, const char *name, double value, const char *unit);

/* A result in words ("holds"); lives at least until the run function's caller has printed it.
 */
void calc_result_word(calc_call *call, const char *name, const char *word);

/* Why the run function returns an error, in the user's words ("span must be above 0"). With a
   warning: what is outside its range ("the law was stated for 0.23 to 95 GHz"); without it the
   ranges of the arguments are printed. */
void calc_explain(calc_call *call, const char *format, ...) FE_PRINTF(2, 3);

/* The same for a word that no table has: "material=oak: not a material...; did you mean ?". */
void calc_explain_unknown(calc_call *call, const char *argument, const char *is_not,
                          const fe_suggest *search);

/* Every table, null behind the last. */
extern const calc_formula *const CALC_TABLES[];

/* One a subject; each ends at a null name. */
extern const calc_formula CALC_PATH[];     /* free space, earth, Fresnel, diffraction */
extern const calc_formula CALC_MATERIAL[]; /* walls and building entry */
extern const calc_formula CALC_WIFI[];     /* rates, sensitivity, power rules */
extern const calc_formula CALC_LOSSES[];   /* ground ray, foliage, weather, fading, feeder */
extern const calc_formula CALC_SPAN[];     /* sag, tension, ice, wind, posts, stays */
extern const calc_formula CALC_ELECTRIC[]; /* conductors, feeds, copper data, fibre */

#endif
