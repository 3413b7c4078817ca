/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/document.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "testing.h"

static const char HOSTILE[] = "`touch /tmp/x` \"q\" 'a'\nnext\t{/:Bold x} @b %s %n "
                              "<script>alert(1)</script> &amp; \x1b[31m";

static char *text_of(const fe_document *doc, fe_units units, unsigned width)
{
    fe_strbuf out = FE_STRBUF_INIT;
    const fe_text_options options = {width, units, false};
    assert_int_equal(fe_document_text(doc, &options, &out), FE_OK);
    return fe_strbuf_take(&out);
}

static char *html_of(const fe_document *doc, fe_units units)
{
    fe_strbuf out = FE_STRBUF_INIT;
    assert_int_equal(fe_document_html(doc, units, &out), FE_OK);
    return fe_strbuf_take(&out);
}

static fe_document *every_block(void)
{
    fe_document *doc = fe_document_new("Reaching %s", "the shed");
    fe_document_verdict(doc, FE_MARK_TIGHT, "Radio, margin %s.",
                        fe_amount(doc, 4.4, FE_STYLE_RATIO));
    fe_document_heading(doc, 2, "Place");
    fe_document_pair(doc, "Distance", "%s", fe_amount(doc, 165.0, FE_STYLE_DISTANCE));
    fe_document_pair(doc, "Antenna", "%s", fe_amount(doc, 3.81, FE_STYLE_HEIGHT));
    fe_document_heading(doc, 3, "Ways");
    fe_document_table(doc, "Ways side by side", "way|verdict|margin>");
    fe_document_row(doc);
    fe_document_cell(doc, "%s", "radio");
    fe_document_cell(doc, "%s", fe_mark_of(doc, FE_MARK_HOLDS));
    fe_document_cell(doc, "%s", fe_amount(doc, 12.0, FE_STYLE_RATIO));
    fe_document_row(doc);
    fe_document_cell(doc, "copper");
    fe_document_cell(doc, "%s", fe_mark_of(doc, FE_MARK_FAILS));
    fe_document_paragraph(doc, "It is %s cold.", fe_strong(doc, "very"));
    fe_document_item(doc, "one");
    fe_document_item(doc, "two");
    fe_document_step(doc, "dig");
    fe_document_step(doc, "fill");
    fe_document_caution(doc, "Mains is for a licensed hand.");
    fe_document_source(doc, "ITU-R P.525-4.");
    fe_document_figure(doc, "margin", "Margins", "5 GHz 12 dB", NULL, "gnuplot is missing");
    assert_int_equal(fe_document_status(doc), FE_OK);
    return doc;
}

static void text__is_laid_out_as_kept(void **state)
{
    (void)state;
    fe_document *doc = every_block();
    char *text = text_of(doc, FE_UNITS_METRIC, 80);
    assert_string_equal(text, "Reaching the shed\n"
                              "=================\n"
                              "\n"
                              "[~] tight: Radio, margin 4 dB.\n"
                              "\n"
                              "Place\n"
                              "-----\n"
                              "\n"
                              "Distance  165 m\n"
                              "Antenna   3.81 m\n"
                              "\n"
                              "Ways\n"
                              "Ways side by side\n"
                              "way     verdict    margin\n"
                              "------  ---------  ------\n"
                              "radio   [+] holds   12 dB\n"
                              "copper  [x] fails\n"
                              "\n"
                              "It is very cold.\n"
                              "\n"
                              "- one\n"
                              "- two\n"
                              "\n"
                              "1. dig\n"
                              "2. fill\n"
                              "\n"
                              "Caution: Mains is for a licensed hand.\n"
                              "\n"
                              "Source: ITU-R P.525-4.\n"
                              "\n"
                              "Figure missing: Margins\n"
                              "  Reason: gnuplot is missing\n"
                              "  5 GHz 12 dB\n");
    free(text);
    fe_document_free(doc);
}

static void units__are_chosen_at_rendering(void **state)
{
    (void)state;
    fe_document *doc = every_block();
    char *text = text_of(doc, FE_UNITS_US, 80);
    char *html = html_of(doc, FE_UNITS_US);
    assert_has(text, "Distance  541 ft\n");
    assert_has(text, "Antenna   12 ft 6 in\n");
    assert_has(html, "541\xc2\xa0"
                     "ft");
    assert_has_not(html, "165");
    free(text);
    free(html);
    fe_document_free(doc);
}

static void html__is_whole_and_needs_nothing(void **state)
{
    (void)state;
    fe_document *doc = every_block();
    char *html = html_of(doc, FE_UNITS_METRIC);
    assert_true(strncmp(html, "<!DOCTYPE html>\n<html lang=\"en\">", 31) == 0);
    assert_has(html, "<title>Reaching the shed</title>");
    assert_has(html, "<h1>Reaching the shed</h1>");
    assert_has(html, "<th scope=\"col\" class=\"number\">margin</th>");
    assert_has(html, "<th scope=\"row\" role=\"rowheader\">radio</th>");
    assert_has(html, "<caption>Ways side by side</caption>");
    assert_has(html, "<strong>very</strong>");
    assert_has(html, "<ul>\n<li>one</li>\n<li>two</li>\n</ul>\n<ol>\n<li>dig</li>");
    assert_has(html, "This figure is missing: gnuplot is missing.");
    assert_has(html, "href=\"#main\"");
    assert_has_not(html, "<script");
    assert_has_not(html, "http:");
    assert_has_not(html, "https:");
    assert_has_not(html, "url(");
    free(html);
    fe_document_free(doc);
}

/* A word beside each mark, in both forms: shape and colour never stand alone. */
static void verdict__is_always_a_word(void **state)
{
    (void)state;
    fe_document *doc = fe_document_new("t");
    for (int mark = 0; mark < FE_MARKS; mark++)
        fe_document_verdict(doc, (fe_mark)mark, "x");
    char *text = text_of(doc, FE_UNITS_METRIC, 80);
    char *html = html_of(doc, FE_UNITS_METRIC);
    for (int mark = 0; mark < FE_MARKS; mark++) {
        assert_has(text, fe_mark_word((fe_mark)mark));
        assert_has(html, fe_mark_word((fe_mark)mark));
    }
    free(text);
    free(html);
    fe_document_free(doc);
}

static void hostile_text__is_only_text_everywhere(void **state)
{
    (void)state;
    fe_document *doc = fe_document_new("%s", HOSTILE);
    fe_document_heading(doc, 2, "%s", HOSTILE);
    fe_document_paragraph(doc, "%s %s", HOSTILE, fe_strong(doc, HOSTILE));
    fe_document_pair(doc, HOSTILE, "%s", HOSTILE);
    fe_document_table(doc, HOSTILE, "a|b");
    fe_document_row(doc);
    fe_document_cell(doc, "%s", HOSTILE);
    fe_document_figure(doc, "id\"><b>", HOSTILE, HOSTILE, "<svg viewBox=\"0 0 1 1\"></svg>",
                       NULL);
    fe_document_figure(doc, "x", HOSTILE, HOSTILE, NULL, HOSTILE);
    char *html = html_of(doc, FE_UNITS_METRIC);
    char *text = text_of(doc, FE_UNITS_METRIC, 80);
    assert_has_not(html, "<script");
    assert_has_not(html, "\x1b");
    assert_has_not(text, "\x1b");
    assert_has(html, "&lt;script&gt;alert(1)&lt;/script&gt; &amp;amp; ?[31m");
    assert_has(html, "aria-label=\"`touch /tmp/x` &quot;q&quot; &#39;a&#39; next {/:Bold x}");
    assert_has(html, "id=\"fig-id---b-\"");
    assert_has(text, "%s %n <script>alert(1)</script>");
    free(html);
    free(text);
    fe_document_free(doc);
}

/* A name in a plan must not pass for a value of the report. */
static void forged_token__is_only_text(void **state)
{
    (void)state;
    fe_document *doc = fe_document_new("t");
    const char *real = fe_amount(doc, 77.0, FE_STYLE_RATIO);
    fe_document_paragraph(doc, "a %s b %s c %s",
                          "\001"
                          "0:0\002",
                          "\001"
                          "1\002\001",
                          "\001");
    char *text = text_of(doc, FE_UNITS_METRIC, 80);
    assert_has(text, "a ?0:0? b ?1?? c ?\n");
    assert_has_not(text, "77");
    assert_true(strlen(real) > 0);
    free(text);
    fe_document_free(doc);
}

static void broken_utf8__becomes_question_marks(void **state)
{
    (void)state;
    fe_document *doc = fe_document_new("t");
    fe_document_paragraph(doc, "%s", "a\xff\xc3 \xc0\xaf \xed\xa0\x80 \xe2\x80\xae z\xc2\x9b");
    char *text = text_of(doc, FE_UNITS_METRIC, 80);
    assert_has(text, "a?? ?? ??? ? z?\n");
    free(text);
    fe_document_free(doc);
}

static void assert_fits(const char *text, size_t width)
{
    for (const char *at = text; *at;) {
        const size_t length = strcspn(at, "\n");
        if (length > width || (length > 0 && at[length - 1] == ' '))
            fail_msg("%zu columns: %.*s", length, (int)length, at);
        at += length + (at[length] != 0);
    }
}

static void every_line__fits_its_width(void **state)
{
    (void)state;
    fe_document *doc = every_block();
    static const char LONG[] =
        "a long text that goes on about snow on the meadow, the hedge in "
        "leaf and the mast at the far end, and then some more of it";
    fe_document_verdict(doc, FE_MARK_UNKNOWN, "%s", LONG);
    fe_document_caution(doc, "%s", LONG);
    fe_document_item(doc, "%s", LONG);
    fe_document_pair(doc, "short", "%s", LONG);
    fe_document_pair(doc, LONG, "%s", LONG);
    fe_document_figure(doc, "f", LONG, LONG, NULL, LONG);
    fe_document_table(doc, "wide", "first|second|third>|fourth");
    for (int i = 0; i < 2; i++) {
        fe_document_row(doc);
        fe_document_cell(doc, "%s", LONG);
        fe_document_cell(doc, "%s", LONG);
        fe_document_cell(doc, "%s", fe_amount(doc, 12.0, FE_STYLE_RATIO));
        fe_document_cell(doc, "%.*s", 40, "oneverylongwordthatcannotbebrokenanywhereatall");
    }
    fe_document_table(doc, "wider",
                      "alphabetical|bookkeeping|conscientious|deliberation|"
                      "extraordinary|fortification|geographical");
    fe_document_row(doc);
    for (int i = 0; i < 7; i++)
        fe_document_cell(doc, "value%d", i);
    for (unsigned width = 40; width <= 100; width += 20) {
        char *text = text_of(doc, FE_UNITS_METRIC, width);
        assert_fits(text, width);
        free(text);
    }
    char *text = text_of(doc, FE_UNITS_METRIC, 80);
    assert_has(text, "value0\n  bookkeeping: value1\n  conscientious: value2\n");
    free(text);
    fe_document_free(doc);
}

/* A band, a voltage or a size in a name is a word to the document, not an amount. */
static void unit_in_words__stays_with_its_number(void **state)
{
    (void)state;
    fe_document *doc = fe_document_new("Units");
    fe_document_paragraph(doc, "%s",
                          "1 relay, 5 GHz, 48 V DC, 1.5 mm2 and 8 % of it, 3 Vale Road");
    for (unsigned width = 40; width <= 60; width++) {
        char *text = text_of(doc, FE_UNITS_METRIC, width);
        assert_has(text, "5 GHz");
        assert_has(text, "48 V");
        assert_has(text, "1.5 mm2");
        assert_has(text, "8 %");
        free(text);
    }
    char *text = text_of(doc, FE_UNITS_METRIC, 53);
    assert_has(text, "of it, 3\nVale");
    free(text);
    fe_document_free(doc);
}

static void line__is_never_broken_between_number_and_unit(void **state)
{
    (void)state;
    fe_document *doc = fe_document_new("t");
    fe_document_paragraph(doc, "%.*s %s", 37, "aaaa aaaa aaaa aaaa aaaa aaaa aaaa aa aa aaa",
                          fe_amount(doc, 12.0, FE_STYLE_RATIO));
    char *text = text_of(doc, FE_UNITS_METRIC, 40);
    assert_has(text, "\n12 dB\n");
    free(text);
    fe_document_free(doc);
}

static void value_of_the_plan__says_what_is_unknown(void **state)
{
    (void)state;
    fe_document *doc = fe_document_new("t");
    const fe_value unknown = {3.0, 4.0, 5.0, FE_GIVEN_UNKNOWN};
    const fe_value range = {3.0, 4.0, 5.0, FE_GIVEN_RANGE};
    const fe_value absent = {0.0, 0.0, 0.0, FE_GIVEN_NOT};
    fe_document_paragraph(doc, "%s, %s, %s", fe_amount_value(doc, unknown, FE_STYLE_HEIGHT),
                          fe_amount_value(doc, range, FE_STYLE_LENGTH),
                          fe_amount_value(doc, absent, FE_STYLE_LENGTH));
    char *text = text_of(doc, FE_UNITS_METRIC, 80);
    assert_has(text, "unknown (3.00 to 5.00 m), 3.0 to 5.0 m, -\n");
    free(text);
    fe_document_free(doc);
}

static void table_without_rows__is_not_shown(void **state)
{
    (void)state;
    fe_document *doc = fe_document_new("t");
    fe_document_table(doc, "empty", "a|b");
    fe_document_paragraph(doc, "after");
    char *text = text_of(doc, FE_UNITS_METRIC, 80);
    char *html = html_of(doc, FE_UNITS_METRIC);
    assert_string_equal(text, "t\n=\n\nafter\n");
    assert_has_not(html, "<table>");
    free(text);
    free(html);
    fe_document_free(doc);
}

static void figure__is_an_image_with_title_and_description(void **state)
{
    (void)state;
    fe_document *doc = fe_document_new("t");
    fe_document_figure(doc, "run", "The run", "Sag 1 m", "<svg viewBox=\"0 0 9 9\">\n</svg>",
                       NULL);
    fe_document_figure(doc, "gone", "Gone", "", NULL, "no gnuplot");
    fe_strbuf out = FE_STRBUF_INIT;
    assert_int_equal(fe_document_figures(doc), 2);
    assert_null(fe_document_figure_at(doc, 0).reason);
    assert_string_equal(fe_document_figure_at(doc, 1).reason, "no gnuplot");
    assert_int_equal(fe_document_figure_svg(doc, 0, FE_UNITS_METRIC, &out), FE_OK);
    assert_string_equal(
        fe_strbuf_text(&out),
        "<svg role=\"img\" aria-labelledby=\"fig-run-title\" aria-describedby=\"fig-run-says\""
        " viewBox=\"0 0 9 9\">\n<title id=\"fig-run-title\">The run</title>\n"
        "<desc id=\"fig-run-says\">Sag 1 m</desc>\n</svg>");
    assert_int_equal(fe_document_figure_svg(doc, 1, FE_UNITS_METRIC, &out), FE_E_INPUT);
    fe_strbuf_free(&out);
    fe_document_free(doc);
}

static void no_document__takes_every_call(void **state)
{
    (void)state;
    fe_strbuf out = FE_STRBUF_INIT;
    fe_document_heading(NULL, 2, "a");
    fe_document_paragraph(NULL, "%s", fe_amount(NULL, 1.0, FE_STYLE_LENGTH));
    fe_document_pair(NULL, "a", "b");
    fe_document_verdict(NULL, FE_MARK_HOLDS, "a");
    fe_document_table(NULL, "a", "b");
    fe_document_row(NULL);
    fe_document_cell(NULL, "%s", fe_strong(NULL, "x"));
    fe_document_figure(NULL, "a", "b", "c", NULL, NULL);
    assert_int_equal(fe_document_status(NULL), FE_E_MEMORY);
    assert_int_equal(fe_document_html(NULL, FE_UNITS_METRIC, &out), FE_E_MEMORY);
    fe_document_free(NULL);
    fe_strbuf_free(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text__is_laid_out_as_kept),
        cmocka_unit_test(units__are_chosen_at_rendering),
        cmocka_unit_test(html__is_whole_and_needs_nothing),
        cmocka_unit_test(verdict__is_always_a_word),
        cmocka_unit_test(hostile_text__is_only_text_everywhere),
        cmocka_unit_test(forged_token__is_only_text),
        cmocka_unit_test(broken_utf8__becomes_question_marks),
        cmocka_unit_test(every_line__fits_its_width),
        cmocka_unit_test(unit_in_words__stays_with_its_number),
        cmocka_unit_test(line__is_never_broken_between_number_and_unit),
        cmocka_unit_test(value_of_the_plan__says_what_is_unknown),
        cmocka_unit_test(table_without_rows__is_not_shown),
        cmocka_unit_test(figure__is_an_image_with_title_and_description),
        cmocka_unit_test(no_document__takes_every_call),
    };
    return FE_RUN_TESTS(tests);
}
