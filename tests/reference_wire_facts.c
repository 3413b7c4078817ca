/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files of rules and facts: those that the program holds are compared, the others are kept for
 * their sources. */
#include <math.h>
#include <string.h>

#include "farend/duct.h"
#include "farend/limits.h"
#include "testing.h"

static void read_facts(const char *name)
{
    fe_reference *file = fe_reference_open(name);
    while (fe_reference_next(file))
        fe_reference_pass(file, "facts, no check");
    fe_reference_close(file);
}

static void facts__can_be_read(void **state)
{
    (void)state;
    read_facts("wire/lightning_and_earthing_facts.csv");
    read_facts("wire/poe_notes.csv");
}

static double cover_m(const char *what)
{
    for (size_t i = 0; fe_burial_depth_at(i); i++)
        if (strcmp(fe_burial_depth_at(i)->what, what) == 0)
            return fe_burial_depth_at(i)->cover_m;
    return NAN;
}

/* By clause and topic, in metres; NAN where the program holds no figure of it. */
static double held_m(const char *topic, const char *clause)
{
    const fe_shared_posts us = fe_limits_shared_posts(FE_SAFETY_US);
    const fe_shared_posts en = fe_limits_shared_posts(FE_SAFETY_EN);
    const struct {
        const char *topic;
        const char *clause;
        double held_m;
    } held[] = {
        {"power and communication drops parallel in span and at the building", "800.44(A)(4)",
         en.in_span_m},
        {"at the pole", "IEEE C2 Table 235-5 and Rule 238", us.at_pole_m},
        {"in span", "IEEE C2 Rule 235C2b", us.in_span_m},
        {"buried conduits", "IEEE C2 Rule 320B2", FE_TRENCH_SEPARATION_M},
        {"buried power cable cover", "NFPA 70 Table 300.5(A)",
         cover_m("supply cable in the ground as it is")},
        {"buried power cable cover", "NFPA 70 Table 300.5(A) col. 4",
         cover_m("120 V branch circuit, 20 A, ground-fault protected")},
    };
    for (size_t i = 0; i < sizeof held / sizeof held[0]; i++)
        if (strcmp(held[i].topic, topic) == 0 && strcmp(held[i].clause, clause) == 0)
            return held[i].held_m;
    return NAN;
}

static void separations__are_those_of_the_rules(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/separation_and_support_rules.csv");
    while (fe_reference_next(file)) {
        const double m =
            held_m(fe_reference_text(file, "topic"), fe_reference_text(file, "clause"));
        const bool inches = strcmp(fe_reference_text(file, "unit"), "in") == 0;
        if (isnan(m))
            fe_reference_pass(file,
                              "indoors, words, trees, or a size of wire that the supply's "
                              "own test looks at");
        else
            fe_reference_check(file, "value", inches ? m / 0.0254 : 1e3 * m, 1e-9);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(facts__can_be_read),
        cmocka_unit_test(separations__are_those_of_the_rules),
    };
    return FE_RUN_TESTS(tests);
}
