/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The nearest known name to a mistyped one. */
#include "farend/suggest.h"

#include <string.h>

#include "testing.h"

static const char *const NAMES[] = {"distance", "frequency", "height", "tension-change",
                                    "sag",      "slab",      "from",   "to"};

static const char *nearest(const char *text)
{
    return fe_suggest_nearest(text, NAMES, sizeof NAMES / sizeof NAMES[0]);
}

static void suggestion__is_the_name_meant(void **state)
{
    (void)state;
    static const char *const CASES[][2] = {
        {"distnce", "distance"},
        {"disatnce", "distance"},
        {"Distance", "distance"},
        {"freqency", "frequency"},
        {"freq", "frequency"},
        {"hieght", "height"},
        {"sga", "sag"},
        {"tension_change", "tension-change"},
        {"tension", "tension-change"},
        {"form", "from"},
        {"least-distance", "distance"},
        {"total_tension", "tension-change"},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        const char *got = nearest(CASES[i][0]);
        assert_non_null(got);
        assert_string_equal(got, CASES[i][1]);
    }
}

static void suggestion__is_none_for_another_word(void **state)
{
    (void)state;
    assert_null(nearest("colour"));
    assert_null(nearest(""));
    assert_null(nearest("x"));
    assert_null(nearest("qq"));
    assert_null(nearest("say-to")); /* a word of two letters in common */
    char endless[500];
    memset(endless, 'a', sizeof endless);
    endless[sizeof endless - 1] = 0;
    assert_null(nearest(endless));
}

static void suggestion__is_same_one_by_one(void **state)
{
    (void)state;
    fe_suggest search = fe_suggest_start("heigth");
    for (size_t i = 0; i < sizeof NAMES / sizeof NAMES[0]; i++)
        fe_suggest_offer(&search, NAMES[i]);
    assert_string_equal(search.best, "height");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(suggestion__is_the_name_meant),
        cmocka_unit_test(suggestion__is_none_for_another_word),
        cmocka_unit_test(suggestion__is_same_one_by_one),
    };
    return FE_RUN_TESTS(tests);
}
