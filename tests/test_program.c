/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/program.h"

#include <string.h>
#include <unistd.h>

#include "testing.h"

static void path__starts_where_this_program_is(void **state)
{
    (void)state;
    char path[4096];
    assert_true(fe_program_path("test_program", path, sizeof path));
    assert_int_equal(access(path, X_OK), 0);
    assert_int_equal(path[0], '/');
}

static void path__that_is_too_long_is_none(void **state)
{
    (void)state;
    char path[16] = "as it was";
    assert_false(fe_program_path("../share/farend", path, sizeof path));
    assert_string_equal(path, "as it was");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(path__starts_where_this_program_is),
        cmocka_unit_test(path__that_is_too_long_is_none),
    };
    return FE_RUN_TESTS(tests);
}
