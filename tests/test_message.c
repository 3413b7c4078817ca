/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "farend/message.h"
#include "testing.h"

static void message__has_file_line_and_what_was_expected(void **state)
{
    (void)state;
    fe_messages list = {0};
    fe_messages_add_value(&list, "plan.ini", 14, "end shed", "height", "3",
                          "a length with its unit", "3 m");
    assert_int_equal(list.count, 1);
    assert_string_equal(list.items[0].text,
                        "plan.ini:14: [end shed] height: read \"3\", expected a length with "
                        "its unit, for example 3 m");
    assert_string_equal(list.items[0].file, "plan.ini");
    assert_int_equal(list.items[0].line, 14);
    fe_messages_free(&list);
}

static void message__about_a_whole_file_has_no_line(void **state)
{
    (void)state;
    fe_messages list = {0};
    fe_messages_add(&list, "plan.ini", 0, "the file is %s", "empty");
    assert_string_equal(list.items[0].text, "plan.ini: the file is empty");
    fe_messages_free(&list);
}

static void message__cannot_act_on_the_terminal(void **state)
{
    (void)state;
    fe_messages list = {0};
    fe_messages_add(&list, "p", 1, "%s", "a\x1b[2Jb\nc\x7f \xC2\x9B \x9B \xC3\xA9");
    assert_string_equal(list.items[0].text, "p:1: a?[2Jb?c? ? ? \xC3\xA9");
    fe_messages_free(&list);
}

static void messages__are_none_only_while_nothing_was_added(void **state)
{
    (void)state;
    fe_messages list = {0};
    assert_true(fe_messages_none(&list));
    fe_messages_add(&list, "p", 1, "x");
    assert_false(fe_messages_none(&list));
    fe_messages_free(&list);
    assert_true(fe_messages_none(&list));
}

static void messages__beyond_the_limit_are_counted(void **state)
{
    (void)state;
    fe_messages list = {0};
    for (int i = 0; i < FE_MESSAGES_MOST + 7; i++)
        fe_messages_add(&list, "p", i + 1, "x");
    assert_int_equal(list.count, FE_MESSAGES_MOST);
    assert_int_equal(list.dropped, 7);
    fe_messages_free(&list);
}

static void messages__are_sorted_by_line_and_keep_their_order_within_one(void **state)
{
    (void)state;
    fe_messages list = {0};
    fe_messages_add(&list, "b", 2, "x");
    fe_messages_add(&list, "a", 9, "second");
    fe_messages_add(&list, "a", 9, "third");
    fe_messages_add(&list, "a", 1, "first");
    fe_messages_sort(&list);
    assert_string_equal(list.items[0].text, "a:1: first");
    assert_string_equal(list.items[1].text, "a:9: second");
    assert_string_equal(list.items[2].text, "a:9: third");
    assert_string_equal(list.items[3].text, "b:2: x");
    fe_messages_free(&list);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(message__has_file_line_and_what_was_expected),
        cmocka_unit_test(message__about_a_whole_file_has_no_line),
        cmocka_unit_test(message__cannot_act_on_the_terminal),
        cmocka_unit_test(messages__are_none_only_while_nothing_was_added),
        cmocka_unit_test(messages__beyond_the_limit_are_counted),
        cmocka_unit_test(messages__are_sorted_by_line_and_keep_their_order_within_one),
    };
    return FE_RUN_TESTS(tests);
}
