/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "farend/lines.h"
#include "testing.h"

static void hangs_as(const char *text, size_t width, size_t hang, const char *wanted)
{
    fe_strbuf out = FE_STRBUF_INIT;
    fe_lines_hang(&out, text, width, hang);
    assert_int_equal(fe_strbuf_status(&out), FE_OK);
    assert_string_equal(fe_strbuf_text(&out), wanted);
    fe_strbuf_free(&out);
}

static void lines__hold_as_many_words_as_fit(void **state)
{
    (void)state;
    hangs_as("one two three four", 20, 0, "one two three four\n");
    hangs_as("one two three four", 17, 0, "one two three\nfour\n");
    hangs_as("one two\nthree   four", 17, 4, "one two three\n    four\n");
    hangs_as("", 17, 4, "\n");
}

static void word_too_long__is_cut_at_its_bars_if_any(void **state)
{
    (void)state;
    hangs_as("abcdefghijklmnopqrstuvwxyz", 20, 0, "abcdefghijklmnopqrst\nuvwxyz\n");
    hangs_as("--to walkers|riders|tall\x1fmachines", 22, 2,
             "--to\n  walkers|riders|\n  tall machines\n");
}

static void columns__are_letters_not_bytes(void **state)
{
    (void)state;
    assert_int_equal(fe_lines_columns("m\xc2\xb2", 3), 2);
    assert_int_equal(fe_lines_columns("e\xcc\x81", 3), 1);
    hangs_as("\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4 \xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4 b", 11,
             0,
             "\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4 \xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\nb\n");
}

static void number__is_tied_to_its_unit_alone(void **state)
{
    (void)state;
    fe_strbuf out = FE_STRBUF_INIT;
    fe_lines_tie("for 2.437 GHz, 3 Vale Road, 5\xc2\xa0kg", &out);
    assert_string_equal(fe_strbuf_text(&out), "for 2.437\x1fGHz, 3 Vale Road, 5\x1fkg");
    fe_strbuf_free(&out);
    hangs_as("serves at 2.437\x1fGHz", 17, 0, "serves at\n2.437 GHz\n");
}

static void units__are_set_for_a_page(void **state)
{
    (void)state;
    static const char *const CASES[][2] = {
        {"6 mm2 copper, or 10 mm2", "6\xc2\xa0mm\xc2\xb2 copper, or 10\xc2\xa0mm\xc2\xb2"},
        {"a path at 2.4 GHz", "a path at 2.4\xc2\xa0GHz"},
        {"cat 5 sockets, mm2", "cat 5 sockets, mm2"},
        {"", ""},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        fe_strbuf out = FE_STRBUF_INIT;
        fe_lines_set_units(CASES[i][0], &out);
        assert_string_equal(fe_strbuf_text(&out), CASES[i][1]);
        fe_strbuf_free(&out);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines__hold_as_many_words_as_fit),
        cmocka_unit_test(word_too_long__is_cut_at_its_bars_if_any),
        cmocka_unit_test(columns__are_letters_not_bytes),
        cmocka_unit_test(number__is_tied_to_its_unit_alone),
        cmocka_unit_test(units__are_set_for_a_page),
    };
    return FE_RUN_TESTS(tests);
}
