/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_CABLE_CLASS_H
#define FAREND_CABLE_CLASS_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Cables by class and figures, from profiles/cable or [cable NAME] sections of a plan. A figure
 * that a class has not is NAN.
 */
typedef enum fe_medium {
    FE_MEDIUM_COPPER_PAIRS,
    FE_MEDIUM_SINGLE_PAIR,
    FE_MEDIUM_FIBRE,
    FE_MEDIUM_SUPPLY
} fe_medium;

enum { FE_CABLE_NAME_ROOM = 50 };

typedef struct fe_cable_class {
    char name[FE_CABLE_NAME_ROOM];
    char label[FE_CABLE_NAME_ROOM]; /* the name in words, for a reader */
    char *summary;
    fe_medium medium;
    char category[12]; /* copper pairs: "5e", "6", "6A"; fibre: "OS2", "OM3" */
    double diameter_m; /* outer; for a figure-8 shape the diameter that wind and ice see */
    double weight_n_m; /* weight of a metre, messenger included */
    bool has_messenger;
    bool self_supporting; /* may hang between posts by itself */
    bool metallic;        /* any metal along it: pair, messenger, toning wire */
    double area_m2;       /* of what carries the pull */
    double modulus_pa;
    double expansion_1_k;
    double breaking_n;       /* breaking strength of what carries the pull */
    double everyday_limit_n; /* the maker's long-term load, or NAN: shares of breaking rule */
    double pulling_limit_n;  /* what the cable itself may be pulled with */
    double bend_radius_m;
    double conductor_area_m2; /* copper pairs and supply: one conductor */
    double temp_low_c;
    double temp_high_c;
    bool outdoor;   /* stands sun and rain */
    bool burial;    /* may lie in the ground as it is */
    char **sources; /* "breaking: common practice, no source", one a figure */
    size_t source_count;
} fe_cable_class;

void fe_cable_class_free(fe_cable_class *cable);

#endif
