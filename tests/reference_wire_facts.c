/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files of rules and facts, kept for their sources: nothing in them is computed. */
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
    read_facts("wire/separation_and_support_rules.csv");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(facts__can_be_read),
    };
    return FE_RUN_TESTS(tests);
}
