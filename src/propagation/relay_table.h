/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef PROPAGATION_RELAY_TABLE_H
#define PROPAGATION_RELAY_TABLE_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/placing.h"
#include "farend/profile.h"
#include "farend/relay_site.h"
#include "farend/status.h"
#include "propagation/build_curves.h"

/* The hops between all candidate places of a search for relays; see relay_site.h for what the
 * table knows of them. */

/* Where a hop starts and ends decides which stations it has. */
typedef enum hop_class { FIRST, BETWEEN, LAST, DIRECT, HOP_CLASSES } hop_class;

enum { K_COUNT = 3, RATE_SAMPLES = 24 };

typedef struct relay_node {
    size_t point;
    size_t mast;
    unsigned level;
} relay_node;

typedef struct relay_table {
    const fe_relay_site *site;
    fe_profile grid; /* bare */
    relay_node *nodes;
    size_t node_count;
    fe_relay_spot *spots; /* all that there are, whatever their level */
    size_t spot_count;
    size_t *node_of;      /* of point and mast; SIZE_MAX: no candidate */
    bool *is_node;        /* of a point */
    double *margin_db;    /* packed over nodes, at the wanted chance, worst season */
    unsigned char *curve; /* the same: of that season */
    double *over_db;      /* packed over nodes: over the trees; null where none stand */
    double *seconds;
    build_curves build[HOP_CLASSES];
    fe_placing_curve *shapes;         /* BUILD_CURVES a class */
    double reference_db[HOP_CLASSES]; /* margin of the reference hop, with all of the time */
    double ae_m;
    double lambda_m;
    double fade_db[K_COUNT];
    double rate_margin_db[RATE_SAMPLES];
    double rate_bps[RATE_SAMPLES];
    size_t rate_count;
} relay_table;

/*
 * Room and tables of a search; the caller sets `site` and `lambda_m`, all else is zero. To be
 * freed in any case. Statuses as fe_relay_search.
 */
FE_MUST_CHECK fe_status relay_table_make(relay_table *s);
void relay_table_free(relay_table *s);

/* By how much a hop's margin changes when it may use only a share of the time. Statuses as the
 * budget. */
FE_MUST_CHECK fe_status relay_table_shift(const relay_table *s, hop_class class, double airtime,
                                          double *db);

#endif
