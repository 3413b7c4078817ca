/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_ETHERNET_H
#define FAREND_ETHERNET_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/status.h"

/*
 * How far Ethernet reaches over copper: the published channel lengths, what warm cable and thin
 * cords take away, and the insertion loss of a channel. Lengths are those of the cable as laid,
 * never the distance over ground. Power over the pairs is in farend/poe.h.
 *
 * A channel is everything between two ports. Its fixed cable (the permanent link) has solid
 * wires; the cords at its ends are stranded, thinner and lose more a metre.
 */

typedef enum fe_category {
    FE_CATEGORY_SINGLE_PAIR,
    FE_CATEGORY_3,
    FE_CATEGORY_5,
    FE_CATEGORY_5E,
    FE_CATEGORY_6,
    FE_CATEGORY_6A,
    FE_CATEGORY_8
} fe_category;

/* "Cat 5e", "single pair"; never null. */
const char *fe_category_name(fe_category category);
/* By either name, "Cat 5e" or "5e". */
bool fe_category_named(const char *name, fe_category *category);

/* One row of the reach table. */
typedef struct fe_ethernet_reach {
    const char *application; /* "1000BASE-T" */
    const char *cabling;     /* as published: "Cat 5e or better" */
    double rate_bit_s;
    fe_category category; /* the least that the row holds for */
    bool screened_only;
    double channel_limit_m;
    double permanent_link_limit_m; /* NAN where none is published */
    double sure_m;                 /* promised without the row's condition */
    const char *condition;         /* "" where there is none */
} fe_ethernet_reach;

/* Row by number (null past the end); row by its published names (null where unknown). */
const fe_ethernet_reach *fe_ethernet_reach_at(size_t index);
const fe_ethernet_reach *fe_ethernet_reach_find(const char *application, const char *cabling);

/*
 * The row that holds for a cable: the application's row of the highest category not above it.
 * Single-pair applications run on single pairs only. Null where the application cannot use it.
 */
const fe_ethernet_reach *fe_ethernet_reach_for(const char *application, fe_category category,
                                               bool screened);

/*
 * Longest cords beside a fixed cable, (102 - H) / (1 + D), and the part at the work area.
 *
 *   horizontal_m  fixed cable, 0 to 102
 *   derating      extra loss of the cords: 0.2 for AWG 24, 0.5 for AWG 26
 *   closet_m      cords at the other end: 5 for AWG 24, 4 for AWG 26
 *   total_m, work_area_m   results; untouched on error
 *
 * FE_OK; FE_E_NO_SOLUTION where the closet's cords alone are longer than the total;
 * FE_E_DOMAIN. Source: ANSI/TIA-568 cord derating (from memory).
 */
FE_MUST_CHECK fe_status fe_cord_lengths(double horizontal_m, double derating, double closet_m,
                                        double *total_m, double *work_area_m);

/*
 * Insertion loss of fixed cable against that at 20 degC: 0.4 % a degree to 40 and 0.6 % beyond,
 * screened 0.2 % a degree. 1 below 20 degC.
 * FE_W_RANGE above 60 degC; FE_E_DOMAIN. Source: ANSI/TIA-568.2-D annex on temperature.
 */
FE_MUST_CHECK fe_status fe_cable_temp_factor(double temp_c, bool screened, double *factor);

/*
 * Longest permanent link at a temperature, with 10 m of cords at 20 degC: the published table,
 * linear between its rows; 90 m at 20 degC and below. The table is up to 0.8 m longer than
 * 90 m / fe_cable_temp_factor; the table counts.
 * FE_W_RANGE above 60 degC (the last step continued); FE_E_DOMAIN. Source as above.
 */
FE_MUST_CHECK fe_status fe_permanent_link_limit(double temp_c, bool screened, double *link_m);

/* A channel that is being planned. */
typedef struct fe_channel_plan {
    double channel_limit_m;        /* of the application, 100 for most */
    double permanent_link_limit_m; /* 90 for most; NAN where none is published */
    double cords_m;                /* of both ends together, >= 0 */
    double cord_derating;          /* 0.2 for AWG 24, 0.5 for AWG 26; >= 0 */
    double temp_c;                 /* of the fixed cable in its hottest season */
    bool screened;
} fe_channel_plan;

typedef struct fe_channel_length {
    double fixed_cable_m;   /* longest fixed cable beside these cords */
    double channel_m;       /* that and the cords */
    double standard_link_m; /* fixed cable within the permanent link that is certified */
} fe_channel_length;

/*
 * Longest fixed cable of a channel: the cords take their own length from the channel limit L,
 * and with their extra loss from 1.02 L; the rest shortens with warmth as the published table
 * does. For channel limits other than 100 m everything is scaled (common practice, no source).
 *
 * FE_OK; FE_W_RANGE above 60 degC; FE_E_NO_SOLUTION where the cords use the channel up;
 * FE_E_DOMAIN. Source: ANSI/TIA-568 as above.
 */
FE_MUST_CHECK fe_status fe_channel_longest(const fe_channel_plan *plan,
                                           fe_channel_length *length);

/*
 * An insertion loss equation, f in MHz:
 * cable of 100 m = a sqrt(f) + b f + c / sqrt(f), connector = k sqrt(f),
 * channel = cable_factor * cable + 4 connectors + extra f^1.5.
 */
typedef struct fe_loss_equation {
    const char *name;     /* "TIA solid cable Cat 6" */
    const char *equation; /* as published */
    fe_category category;
    double a, b, c, k;
    double cable_factor;
    double extra;
    double highest_hz; /* the lowest is 1 MHz */
} fe_loss_equation;

/* Row by number (null past the end), and by name (null where unknown). */
const fe_loss_equation *fe_loss_equation_at(size_t index);
const fe_loss_equation *fe_loss_equation_find(const char *name);

/* The TIA equation of a category (5e, 6, 6A); null for others. */
const fe_loss_equation *fe_loss_equation_for(fe_category category);

/*
 * Insertion loss at 20 degC of 100 m of cable, of one connector, and of a 100 m channel.
 *   f_hz  > 0;  loss_db  result, positive; untouched on error
 * FE_W_RANGE below 1 MHz or above the category's highest frequency; FE_E_DOMAIN.
 * Source: ISO/IEC 11801 classes D and E; ANSI/TIA-568.2-D (from memory).
 */
FE_MUST_CHECK fe_status fe_insertion_loss_cable(const fe_loss_equation *equation, double f_hz,
                                                double *loss_db);
FE_MUST_CHECK fe_status fe_insertion_loss_connector(const fe_loss_equation *equation,
                                                    double f_hz, double *loss_db);
FE_MUST_CHECK fe_status fe_insertion_loss_channel(const fe_loss_equation *equation, double f_hz,
                                                  double *loss_db);

/* A channel as built. */
typedef struct fe_channel_run {
    double fixed_cable_m;
    double cords_m;
    double cord_derating;
    unsigned connectors;
    double temp_c; /* of the fixed cable */
    bool screened;
} fe_channel_run;

/*
 * Insertion loss of a channel by its real lengths and warmth. Statuses as above.
 * To compare with fe_insertion_loss_channel: what is left of the limit.
 */
FE_MUST_CHECK fe_status fe_insertion_loss_run(const fe_loss_equation *equation,
                                              const fe_channel_run *run, double f_hz,
                                              double *loss_db);

#endif
