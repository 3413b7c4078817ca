/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/strbuf.h"

#include <stdlib.h>
#include <string.h>

#include "testing.h"

static void strbuf__is_an_empty_text_before_the_first_append(void **state)
{
    (void)state;
    fe_strbuf buffer = FE_STRBUF_INIT;
    assert_string_equal(fe_strbuf_text(&buffer), "");
    char *text = fe_strbuf_take(&buffer);
    assert_string_equal(text, "");
    free(text);
}

static void strbuf__keeps_what_was_appended_in_order(void **state)
{
    (void)state;
    fe_strbuf buffer = FE_STRBUF_INIT;
    fe_strbuf_append(&buffer, "a");
    fe_strbuf_append_char(&buffer, '-');
    fe_strbuf_append_bytes(&buffer, "bcd", 2);
    fe_strbuf_repeat(&buffer, '.', 3);
    fe_strbuf_format(&buffer, "%d%%", 12);
    assert_int_equal(fe_strbuf_status(&buffer), FE_OK);
    assert_string_equal(fe_strbuf_text(&buffer), "a-bc...12%");
    assert_int_equal(buffer.length, 10);
    fe_strbuf_clear(&buffer);
    assert_string_equal(fe_strbuf_text(&buffer), "");
    fe_strbuf_free(&buffer);
}

static void strbuf__grows_past_its_first_room(void **state)
{
    (void)state;
    fe_strbuf buffer = FE_STRBUF_INIT;
    for (int i = 0; i < 10000; i++)
        fe_strbuf_format(&buffer, "%04d", i);
    assert_int_equal(buffer.length, 40000);
    assert_memory_equal(fe_strbuf_text(&buffer) + 39996, "9999", 5);
    fe_strbuf_free(&buffer);
}

static void strbuf__failure_sticks_until_taken(void **state)
{
    (void)state;
    fe_strbuf buffer = FE_STRBUF_INIT;
    fe_strbuf_append(&buffer, "kept");
    fe_strbuf_repeat(&buffer, 'x', FE_STRBUF_MOST_BYTES);
    fe_strbuf_append(&buffer, "dropped");
    assert_int_equal(fe_strbuf_status(&buffer), FE_E_MEMORY);
    assert_string_equal(fe_strbuf_text(&buffer), "kept");
    fe_strbuf_clear(&buffer);
    assert_string_equal(fe_strbuf_text(&buffer), "");
    assert_int_equal(fe_strbuf_status(&buffer), FE_E_MEMORY);
    assert_null(fe_strbuf_take(&buffer));
    fe_strbuf_append(&buffer, "again");
    assert_string_equal(fe_strbuf_text(&buffer), "again");
    fe_strbuf_free(&buffer);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(strbuf__is_an_empty_text_before_the_first_append),
        cmocka_unit_test(strbuf__keeps_what_was_appended_in_order),
        cmocka_unit_test(strbuf__grows_past_its_first_room),
        cmocka_unit_test(strbuf__failure_sticks_until_taken),
    };
    return FE_RUN_TESTS(tests);
}
