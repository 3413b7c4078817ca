/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_RUN_H
#define FAREND_RUN_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/ice_wind.h"
#include "farend/profile.h"
#include "farend/season.h"
#include "farend/span.h"
#include "farend/status.h"

/*
 * A cable on posts over given supports, in every season. Each span is dead-ended: the piece of
 * cable strung into it stays in it; or the cable runs free between its ends, with one pull
 * along all spans. Each season expands into the load cases that codes allow to happen together;
 * the largest sag decides clearance, the largest pull decides strength.
 *
 * A cable is INITIAL as strung and FINAL after its life: longer by its creep and by what the
 * heaviest ice left. Pull is looked at where it is larger (initial), sag where that is larger
 * (final). Supports may give under unequal pulls; they stand as pegged when the cable is
 * strung.
 *
 * Costs some ten microseconds a span and case, about ten times that where supports give. Not
 * here: where posts should stand (route.h), what a post bears (posts.h).
 */
typedef enum fe_run_case_kind {
    FE_RUN_COLD,     /* coldest air, bare cable, no wind */
    FE_RUN_HOT,      /* hottest air, bare cable, no wind */
    FE_RUN_ICE,      /* ice, still air, at the melting point */
    FE_RUN_ICE_WIND, /* ice with a reduced wind */
    FE_RUN_WIND,     /* strongest wind on the bare cable, mean air of the season */
    FE_RUN_EVERYDAY, /* mean air, bare cable, no wind */
    FE_RUN_WET_SNOW, /* a sleeve of wet snow by its mass, still air, at the melting point */
    FE_RUN_DISTRICT, /* the load that a code prescribes for the district, in the first season */
    FE_RUN_CASE_KINDS
} fe_run_case_kind;

const char *fe_run_case_name(fe_run_case_kind kind);

/* One load case of one season, as forces a metre of cable. */
typedef struct fe_run_case {
    size_t season;
    fe_run_case_kind kind;
    double temp_c;
    double vertical_n_m;
    double wind_n_m;
    double pressure_pa; /* of the wind, for posts */
    bool final;         /* after creep and ice */
    bool thaw;          /* of a season in which the ground freezes and thaws */
    double added_n_m;   /* a code's constant, along the resultant; for pull, never for posts */
} fe_run_case;

typedef struct fe_run_cable {
    double diameter_m;  /* that ice and wind meet */
    double weight_n_m;  /* bare, messenger included */
    double stiffness_n; /* modulus times area of what carries the pull */
    double expansion_1_k;
    double creep;   /* strain that a life under load leaves, 0 or more */
    double ice_set; /* share of the strain added by the heaviest ice that stays, 0 to 1 */
} fe_run_cable;

/* A post, a stay rod on a wall: anything that carries the cable. */
typedef struct fe_run_support {
    double at_m;         /* along the profile */
    double attachment_m; /* above the bare ground */
} fe_run_support;

typedef struct fe_run_input {
    const fe_profile *ground;       /* bare */
    const fe_run_support *supports; /* in rising order, ends included */
    size_t support_count;           /* 2 or more */
    fe_run_cable cable;
    double stringing_c;
    double sag_share;   /* sag at stringing over span, 0.002 to 0.2... */
    double stringing_n; /* ...or, where above 0, one horizontal pull for all spans */
    const fe_season *seasons;
    size_t season_count;             /* 1 or more */
    double wet_snow_kg_m;            /* sleeve in seasons of wet snow; 0: none */
    const fe_ice_district *district; /* null: none */
    const double *gives_m_n; /* of each support along the run for each newton; null: rigid */
    double post_creep;       /* k_def of posts in final cases, 0 or more */
    bool free_running;       /* tied at the ends alone; posts are not pulled along then */
} fe_run_input;

/* One span in one case. */
typedef struct fe_run_state {
    double tension_n;      /* at the higher support, in the plane of weight and wind */
    double sag_m;          /* greatest vertical drop below the straight line */
    double clearance_m;    /* least height over the bare ground */
    double clearance_at_m; /* where, along the profile */
    double over_season_m;  /* least height over the season's snow */
    double blowout_m;      /* greatest way sideways */
    double blowout_rad;
    fe_span_shape shape; /* in the plane of weight and wind */
    double pull_n;       /* horizontal, along the line of the supports */
    double down_first_n; /* vertical force on the first support; negative lifts it */
    double down_second_n;
    double span_now_m; /* between supports that gave */
} fe_run_state;

typedef struct fe_run_span {
    double from_m;
    double length_m;
    double rise_m;
    double stringing_tension_n; /* horizontal */
    double stringing_sag_m;
    double unstretched_m;
    double unstretched_excess_m; /* that less the straight line */
} fe_run_span;

typedef struct fe_run {
    fe_run_span *spans;
    size_t span_count;
    fe_run_case *cases;
    size_t case_count;
    fe_run_state *states; /* cases x spans: states[c * span_count + s] */
    double in_air_m;      /* cable hanging between the supports, as strung */
} fe_run;

/* Load cases of a season; returns how many (at most FE_RUN_CASE_KINDS). */
size_t fe_run_season_cases(const fe_season *season, size_t index, const fe_run_cable *cable,
                           fe_run_case cases[FE_RUN_CASE_KINDS]);

/* All load cases of a run; `cases` has room for FE_RUN_CASE_KINDS a season. */
size_t fe_run_cases(const fe_run_input *input, fe_run_case *cases);

/*
 * FE_OK
 * FE_W_RANGE        result set, but a cable stretches by more than 1 %
 * FE_E_DOMAIN       a value is not finite or out of range, supports do not rise or lie outside
 *                   the profile
 * FE_E_NO_SOLUTION  a span cannot hang so
 * FE_E_MEMORY, FE_E_CONVERGE
 */
FE_MUST_CHECK fe_status fe_run_compute(const fe_run_input *input, fe_run *run);
void fe_run_free(fe_run *run);

/* The state of a span with the greatest sag, or the greatest pull, of a season. */
const fe_run_state *fe_run_most_sag(const fe_run *run, size_t season, size_t span,
                                    fe_run_case_kind *kind);
const fe_run_state *fe_run_most_pull(const fe_run *run, size_t season, size_t span,
                                     fe_run_case_kind *kind);

/*
 * Height of the cable above the datum of the profile, of a span in a state.
 *   x_m   from the span's first support, 0 to its length
 */
FE_MUST_CHECK fe_status fe_run_height(const fe_run_span *span, const fe_run_state *state,
                                      double first_height_m, double x_m, double *height_m);

#endif
