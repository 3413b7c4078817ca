/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_FEED_H
#define FAREND_FEED_H

#include <stddef.h>

#include "farend/conductor.h"
#include "farend/status.h"

/*
 * Voltage along a two-wire feed, DC or single-phase AC by phasors, with loads anywhere along it
 * that draw a constant current or a constant power.
 *
 * A constant-power load has two mathematical answers: the working one, and one at a low voltage
 * and a large current that no feed settles at. All solvers here return the working one, and
 * FE_E_NO_SOLUTION where the feed cannot deliver the load at any voltage.
 *
 * Costs: a closed form for one load; for several, some hundred walks along the feed. Not here:
 * three phases, charging current, skin effect.
 *
 * Every function returns FE_OK, or FE_E_DOMAIN where an argument is not finite or out of its
 * range, and leaves outputs untouched then; what else one returns stands at it.
 */

enum { FE_FEED_MAX_LOADS = 64 };

typedef enum fe_load_kind { FE_LOAD_CURRENT, FE_LOAD_POWER } fe_load_kind;

/* Which voltage the angle of a constant current is measured from. */
typedef enum fe_angle_reference {
    FE_ANGLE_OWN, /* the voltage at the load itself */
    FE_ANGLE_FAR  /* the voltage at the far end of the feed */
} fe_angle_reference;

/* A load and the stretch of feed that leads to it from the one before, source first. */
typedef struct fe_feed_section {
    double r_ohm; /* go and return, >= 0 */
    double x_ohm; /* go and return, >= 0; 0 for DC */
    fe_load_kind kind;
    double load;                  /* A or W, >= 0 */
    double power_factor;          /* above 0 to 1 lagging, below 0 to -1 leading; 1 for DC */
    fe_angle_reference reference; /* of a constant current; a power is always at its own */
} fe_feed_section;

/* What there is at one load. */
typedef struct fe_feed_point {
    double voltage_v;
    double angle_rad; /* of the voltage, against the far end's; leading is positive */
    double load_a;
    double load_w;
    double loss_w; /* in the section that leads here */
} fe_feed_point;

typedef struct fe_feed_source {
    double voltage_v;
    double angle_rad; /* against the far end's voltage */
    double current_a;
    double power_w;
    double loss_w;        /* in the whole feed */
    double load_w;        /* of all loads */
    double drop_v;        /* |source| - |far end|, what a meter shows */
    double drop_phasor_v; /* |source - far end|, at least that */
} fe_feed_source;

/*
 * The feed seen from a known voltage at its far end: exact, no iteration.
 *
 *   far_v     > 0
 *   sections  `count` of them, 1 to FE_FEED_MAX_LOADS, from the source on
 *   points    result, `count` of them, or null; untouched on error
 *   source    result; untouched on error
 *
 * FE_OK
 * FE_E_DOMAIN  an argument is not finite or out of range
 *
 * Source: circuit theory, Kirchhoff's laws with phasors.
 */
FE_MUST_CHECK fe_status fe_feed_from_far_end(double far_v, const fe_feed_section *sections,
                                             size_t count, fe_feed_point *points,
                                             fe_feed_source *source);

/*
 * The same from a known source voltage: the far-end voltage that gives it, by a bracketed root.
 *
 * FE_OK
 * FE_E_DOMAIN       as above
 * FE_E_NO_SOLUTION  the loads cannot be delivered (see fe_feed_greatest_share)
 * FE_E_CONVERGE     the root was bracketed and not found
 * FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_feed_from_source(double source_v, const fe_feed_section *sections,
                                            size_t count, fe_feed_point *points,
                                            fe_feed_source *source);

/*
 * The greatest multiple of all loads together that the feed can deliver, to 1e-6; below 1 the
 * loads cannot run. Above 0.8 of it a feed is unstable in practice (common practice, no
 * source). FE_E_NO_SOLUTION where nothing limits it (no resistance or no load).
 */
FE_MUST_CHECK fe_status fe_feed_greatest_share(double source_v, const fe_feed_section *sections,
                                               size_t count, double *share);

/* One constant-power load at the end. */
typedef struct fe_power_feed {
    double far_v;   /* the working voltage at the load */
    double false_v; /* the other root, which no feed settles at */
    double current_a;
    double source_w;
    double loss_w;
} fe_power_feed;

/*
 * One constant-power load, closed form: V^2 = (b + sqrt(b^2 - 4 |Z|^2 S^2)) / 2 with
 * b = Vs^2 - 2 (R P + X Q).
 *
 *   source_v       > 0
 *   r_ohm, x_ohm   go and return, >= 0
 *   power_w        > 0
 *   power_factor   as in fe_feed_section
 *
 * FE_OK, FE_E_DOMAIN, FE_E_NO_SOLUTION. Source: circuit theory.
 */
FE_MUST_CHECK fe_status fe_feed_constant_power(double source_v, double r_ohm, double x_ohm,
                                               double power_w, double power_factor,
                                               fe_power_feed *feed);

/*
 * The greatest power such a load can be given: pf Vs^2 / (2 (R pf + X sin + |Z|)); for DC
 * Vs^2 / (4 R). FE_E_NO_SOLUTION where the feed has no impedance (no limit).
 */
FE_MUST_CHECK fe_status fe_feed_greatest_power(double source_v, double r_ohm, double x_ohm,
                                               double power_factor, double *power_w);

/* A load at a place of a feed. */
typedef struct fe_feed_load {
    double at_m; /* from the source along the cable, > 0; in ascending order */
    fe_load_kind kind;
    double load; /* A or W */
    double power_factor;
    fe_angle_reference reference;
} fe_feed_load;

/* A feed of one conductor size. */
typedef struct fe_feed_line {
    double source_v;
    fe_conductor conductor;
    double x_ohm_per_m; /* of one conductor; 0 for DC */
    double air_c;
    /* For self-heating; ampacity_a INFINITY leaves the conductor at the air's temperature. */
    double ampacity_a;      /* at an air of ampacity_air_c, > 0 */
    double ampacity_air_c;  /* 30 in most tables */
    double conductor_max_c; /* that the ampacity is for: 70 PVC, 90 XLPE */
} fe_feed_line;

typedef struct fe_feed_result {
    fe_feed_source source;
    double far_v;
    double conductor_c; /* of the first section, taken for all */
    double r_ohm_per_m; /* of one conductor at that temperature */
} fe_feed_result;

/*
 * A feed by conductor, length and air, with the conductor's own warmth iterated: it warms with
 * the square of the current, and a constant-power load asks more current of a warmer feed. The
 * first section carries the most; its temperature is taken for the whole run (safe side).
 *
 *   points  `count` results or null
 *
 * FE_OK
 * FE_W_RANGE        result set; the conductor is hotter than conductor_max_c, or a warning of
 *                   fe_conductor_resistance
 * FE_E_DOMAIN, FE_E_NO_SOLUTION, FE_E_CONVERGE, FE_E_MEMORY  as above
 */
FE_MUST_CHECK fe_status fe_feed_line_solve(const fe_feed_line *line, const fe_feed_load *loads,
                                           size_t count, fe_feed_point *points,
                                           fe_feed_result *result);

/*
 * Temperature of a conductor: air + (max - ampacity_air) (I / Iz)^2.
 * FE_W_RANGE above max_c; FE_E_DOMAIN. Source: the steady heat balance of IEC 60287-1-1 with
 * losses in proportion to the square of the current (form from memory).
 */
FE_MUST_CHECK fe_status fe_conductor_warmth(double air_c, double max_c, double ampacity_air_c,
                                            double current_a, double ampacity_a,
                                            double *conductor_c);

/* Closed forms of the books ------------------------------------------------------------- */

/*
 * A DC load spread evenly along a feed.
 *
 *   loop_ohm_per_m    go and return, > 0
 *   load_a_per_m      >= 0
 *   length_m          > 0; at_m from 0 to length_m
 *   drop_v            from the source to at_m: i r (L x - x^2 / 2)
 *   loss_w            in the whole feed: i^2 r L^3 / 3
 */
FE_MUST_CHECK fe_status fe_feed_uniform_drop(double loop_ohm_per_m, double load_a_per_m,
                                             double length_m, double at_m, double *drop_v);
FE_MUST_CHECK fe_status fe_feed_uniform_loss(double loop_ohm_per_m, double load_a_per_m,
                                             double length_m, double *loss_w);

/*
 * Conductor area that keeps a DC drop: 2 rho sum(I x) / drop. For an even load the sum is
 * i L^2 / 2 (fe_feed_uniform_moment). All > 0.
 */
FE_MUST_CHECK fe_status fe_feed_area_for_drop(double resistivity_ohm_m, double moment_a_m,
                                              double drop_v, double *area_m2);
FE_MUST_CHECK fe_status fe_feed_moment(const double *load_a, const double *at_m, size_t count,
                                       double *moment_a_m);
FE_MUST_CHECK fe_status fe_feed_uniform_moment(double load_a_per_m, double length_m,
                                               double *moment_a_m);

/* 2 L R I, the way of NFPA 70 Table 8: r_ohm_per_m of one conductor. All >= 0. */
FE_MUST_CHECK fe_status fe_feed_drop_two_wire(double r_ohm_per_m, double current_a,
                                              double length_m, double *drop_v);

/*
 * The UK way: table value x current x length. The table value is go and return at the
 * conductor's full temperature: no factor of 2 and no correction on top.
 */
FE_MUST_CHECK fe_status fe_feed_drop_mv(double mv_per_a_m, double current_a, double length_m,
                                        double *drop_v);

/* b (rho L/S cos + x L sin) I of IEC 60364-5-52 annex G; approximate, not phasors. */
typedef struct fe_iec_drop {
    double b; /* 2 single-phase, 1 three-phase */
    double length_m;
    double area_m2;
    double resistivity_ohm_m; /* 0.0225 ohm mm2/m copper, 0.036 aluminium, at working warmth */
    double power_factor;      /* above 0 to 1, lagging */
    double current_a;
    double x_ohm_per_m; /* 0.08 mohm/m where not known */
} fe_iec_drop;
FE_MUST_CHECK fe_status fe_feed_drop_iec(const fe_iec_drop *given, double *drop_v);

/* A row of BS 7671 appendix 4, single-phase (Tables 4D2B and 4E4B, mostly from memory). */
typedef struct fe_uk_drop {
    double area_mm2;
    double pvc_70c_mv_per_a_m;
    double xlpe_90c_mv_per_a_m; /* armoured */
} fe_uk_drop;

/* Null where the table has no such size. */
const fe_uk_drop *fe_uk_drop_find(double area_m2);

/* A published limit for the drop from the origin to the load. */
typedef struct fe_drop_limit {
    const char *code; /* "IEC 60364-5-52" */
    const char *use;  /* "other uses; public supply" */
    double percent;   /* of the nominal voltage (percent per metre in one row) */
} fe_drop_limit;

/* Null where unknown. */
const fe_drop_limit *fe_drop_limit_find(const char *code, const char *use);

/*
 * The IEC's limit for a long run: 0.005 percent more for each metre beyond 100 m, at most 0.5.
 * FE_E_DOMAIN where an argument is not finite or below zero. Source: IEC 60364-5-52 Table
 * G.52.1.
 */
FE_MUST_CHECK fe_status fe_drop_limit_iec(double base_percent, double length_m,
                                          double *percent);

#endif
