/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/gnuplot.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "clock.h"
#include "farend/textfile.h"
#include "testing.h"

/* ---- A folder of our own on PATH, with a program that calls itself gnuplot ---- */

typedef struct stand_in {
    char folder[64];
    char program[96];
    char *old_path;
} stand_in;

static void stand_in_open(stand_in *self, const char *script)
{
    strcpy(self->folder, "/tmp/farend-test-XXXXXX");
    assert_non_null(mkdtemp(self->folder));
    snprintf(self->program, sizeof self->program, "%s/gnuplot", self->folder);
    if (script) {
        assert_int_equal(fe_textfile_write(self->program, script, strlen(script)), FE_OK);
        assert_int_equal(chmod(self->program, 0700), 0);
    }
    const char *path = getenv("PATH");
    self->old_path = strdup(path ? path : "");
    fe_strbuf joined = FE_STRBUF_INIT;
    fe_strbuf_format(&joined, "%s%s%s", self->folder, script ? ":" : "",
                     script ? self->old_path : "");
    setenv("PATH", fe_strbuf_text(&joined), 1);
    fe_strbuf_free(&joined);
}

static void stand_in_close(stand_in *self)
{
    setenv("PATH", self->old_path, 1);
    free(self->old_path);
    unlink(self->program);
    rmdir(self->folder);
}

/* Draws with a stand-in and returns the reason it gives. */
static void assert_reason(const char *script, double limit_s, const char *wanted)
{
    stand_in self;
    stand_in_open(&self, script);
    fe_gnuplot *gnuplot = fe_gnuplot_new(limit_s);
    char *svg = NULL;
    char reason[FE_GNUPLOT_REASON_ROOM];
    const fe_status status =
        fe_gnuplot_draw(gnuplot, "f", "plot sin(x)\n", 480, 300, &svg, reason);
    fe_gnuplot_free(gnuplot);
    stand_in_close(&self);
    assert_int_equal(status, FE_E_EXTERNAL);
    assert_null(svg);
    assert_has(reason, wanted);
    /* No child is left behind. */
    assert_int_equal(waitpid(-1, NULL, WNOHANG), -1);
}

static void missing_gnuplot__is_a_reason(void **state)
{
    (void)state;
    assert_reason(NULL, 5.0, "gnuplot is not installed");
}

static void missing_gnuplot__is_not_looked_for_again(void **state)
{
    (void)state;
    stand_in self;
    stand_in_open(&self, NULL);
    fe_gnuplot *gnuplot = fe_gnuplot_new(5.0);
    char *svg = NULL;
    char reason[FE_GNUPLOT_REASON_ROOM];
    assert_int_equal(fe_gnuplot_draw(gnuplot, "f", "", 9, 9, &svg, reason), FE_E_EXTERNAL);
    stand_in_close(&self);
    assert_int_equal(fe_gnuplot_draw(gnuplot, "f", "", 9, 9, &svg, reason), FE_E_EXTERNAL);
    assert_string_equal(reason, "gnuplot is not installed");
    fe_gnuplot_free(gnuplot);
}

static void failing_gnuplot__gives_its_last_line(void **state)
{
    (void)state;
    assert_reason(
        "#!/bin/sh\necho 'first' >&2\nprintf 'no \\033[31mlicence\\n\\n' >&2\nexit 3\n", 5.0,
        "gnuplot failed: no ?[31mlicence");
    assert_reason("#!/bin/sh\nexit 0\n", 5.0, "gnuplot ended without a figure");
    assert_reason("#!/bin/sh\nkill -9 $$\n", 5.0, "gnuplot ended without a figure");
    assert_reason("#!/bin/sh\nexit 127\n", 5.0, "gnuplot is not installed");
}

static void hanging_gnuplot__is_ended_in_time(void **state)
{
    (void)state;
    const double start_s = seconds(CLOCK_MONOTONIC);
    /* One that reads and sleeps in a child of its own, one that ignores the polite signals. */
    assert_reason("#!/bin/sh\nsleep 60\n", 0.3, "gnuplot took longer than 0.3 s");
    assert_reason("#!/bin/sh\ntrap '' TERM INT HUP\nwhile read line; do :; done\nsleep 60\n",
                  0.3, "gnuplot took longer than 0.3 s");
    assert_true(seconds(CLOCK_MONOTONIC) - start_s < 10.0);
}

static void hanging_gnuplot__is_waited_for_once(void **state)
{
    (void)state;
    stand_in self;
    stand_in_open(&self, "#!/bin/sh\nsleep 60\n");
    fe_gnuplot *gnuplot = fe_gnuplot_new(0.3);
    char *svg = NULL;
    char reason[FE_GNUPLOT_REASON_ROOM];
    const double start_s = seconds(CLOCK_MONOTONIC);
    for (int i = 0; i < 100; i++) {
        assert_int_equal(fe_gnuplot_draw(gnuplot, "f", "", 9, 9, &svg, reason), FE_E_EXTERNAL);
        assert_string_equal(reason, "gnuplot took longer than 0.3 s");
    }
    assert_true(seconds(CLOCK_MONOTONIC) - start_s < 10.0);
    fe_gnuplot_free(gnuplot);
    stand_in_close(&self);
}

static void rubbish__is_no_figure(void **state)
{
    (void)state;
    static const char ECHO_MARK[] = "printf '\\nfarend: end of figure\\n'; sleep 60\n";
    char script[512];
    static const char *const WRITES[] = {
        "echo hello",
        "echo '<html><body>no</body></html>'",
        "echo '<svg viewBox=\"0 0 9 9\"><g>'",
        "printf '<svg viewBox=\"0 0 9 9\">\\000</svg>'",
        ":",
    };
    for (size_t i = 0; i < sizeof WRITES / sizeof WRITES[0]; i++) {
        snprintf(script, sizeof script, "#!/bin/sh\n%s\n%s", WRITES[i], ECHO_MARK);
        assert_reason(script, 5.0, "gnuplot wrote something that is no drawing");
    }
}

static void flood__is_cut_off(void **state)
{
    (void)state;
    assert_reason("#!/bin/sh\nexec cat /dev/zero\n", 20.0, "gnuplot wrote far too much");
    assert_reason("#!/bin/sh\ncat /dev/zero >&2\n", 20.0, "gnuplot wrote far too much");
}

/* What closes its input must not end us by a signal. */
static void closed_input__does_no_harm(void **state)
{
    (void)state;
    stand_in self;
    stand_in_open(&self, "#!/bin/sh\nexec <&-\nsleep 0.2\nexit 1\n");
    fe_strbuf commands = FE_STRBUF_INIT;
    for (int i = 0; i < 100000; i++)
        fe_strbuf_append(&commands, "# a comment that fills the socket\n");
    fe_gnuplot *gnuplot = fe_gnuplot_new(10.0);
    char *svg = NULL;
    char reason[FE_GNUPLOT_REASON_ROOM];
    assert_int_equal(
        fe_gnuplot_draw(gnuplot, "f", fe_strbuf_text(&commands), 9, 9, &svg, reason),
        FE_E_EXTERNAL);
    fe_gnuplot_free(gnuplot);
    fe_strbuf_free(&commands);
    stand_in_close(&self);
}

/* Nothing of our environment reaches it, and no start-up file is asked for. */
static void environment__is_only_a_path(void **state)
{
    (void)state;
    setenv("GNUTERM", "dumb", 1);
    assert_reason("#!/bin/sh\necho \"args $* term ${GNUTERM:-none} home $HOME\" >&2\nexit 1\n",
                  5.0, "gnuplot failed: args -d term none home /");
    unsetenv("GNUTERM");
}

/* ---- The real one ---- */

static bool have_gnuplot(void)
{
    fe_gnuplot *gnuplot = fe_gnuplot_new(20.0);
    char *svg = NULL;
    char reason[FE_GNUPLOT_REASON_ROOM];
    const fe_status status =
        fe_gnuplot_draw(gnuplot, "f", "plot sin(x)\n", 480, 300, &svg, reason);
    free(svg);
    fe_gnuplot_free(gnuplot);
    return status == FE_OK;
}

static char *drawn(fe_gnuplot *gnuplot, const char *id, const char *commands)
{
    char *svg = NULL;
    char reason[FE_GNUPLOT_REASON_ROOM];
    if (fe_gnuplot_draw(gnuplot, id, commands, 480, 300, &svg, reason) != FE_OK)
        fail_msg("%s", reason);
    return svg;
}

static void figure__scales_and_fetches_nothing(void **state)
{
    (void)state;
    if (!have_gnuplot())
        skip();
    fe_gnuplot *gnuplot = fe_gnuplot_new(20.0);
    char *svg = drawn(gnuplot, "one", "plot sin(x) with linespoints lc rgb c_series1\n");
    assert_true(strncmp(svg,
                        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 480 300\"",
                        61) == 0);
    assert_has(svg, "id=\"one-gpPt0\"");
    assert_has(svg, "href=\"#one-gpPt");
    assert_has(svg, "class=\"fe-stroke-series1\"");
    assert_has(svg, "prefers-color-scheme:dark");
    assert_has_not(svg, "<script");
    assert_has_not(svg, "xlink");
    assert_has_not(svg, "<?xml");
    assert_has_not(svg, "href=\"#gp");
    assert_has_not(svg, "Gnuplot");
    free(svg);
    fe_gnuplot_free(gnuplot);
}

static void one_process__draws_one_figure_after_the_other(void **state)
{
    (void)state;
    if (!have_gnuplot())
        skip();
    fe_gnuplot *gnuplot = fe_gnuplot_new(20.0);
    char *first = drawn(gnuplot, "a", "set label 1 'once' at 0,0\nplot sin(x)\n");
    char *second = drawn(gnuplot, "a", "plot sin(x)\n");
    assert_has(first, ">once<");
    assert_has_not(second, ">once<");
    /* A mistake costs its figure, and the next one comes all the same. */
    char *svg = NULL;
    char reason[FE_GNUPLOT_REASON_ROOM];
    assert_int_equal(
        fe_gnuplot_draw(gnuplot, "a", "plot no_such_thing\n", 480, 300, &svg, reason),
        FE_E_EXTERNAL);
    assert_has(reason, "gnuplot failed: ");
    assert_has(reason, "no_such_thing");
    char *third = drawn(gnuplot, "a", "plot sin(x)\n");
    assert_has(third, "<path");
    free(first);
    free(second);
    free(third);
    fe_gnuplot_free(gnuplot);
}

/* Larger than a pipe holds in both directions: neither side may wait for the other for ever. */
static void large_figure__does_not_lock_up(void **state)
{
    (void)state;
    if (!have_gnuplot())
        skip();
    fe_strbuf commands = FE_STRBUF_INIT;
    fe_strbuf_append(&commands, "$data << END\n");
    for (int i = 0; i < 40000; i++)
        fe_strbuf_format(&commands, "%d %d\n", i, i % 97);
    fe_strbuf_append(&commands, "END\nplot $data with points\n");
    fe_gnuplot *gnuplot = fe_gnuplot_new(60.0);
    char *svg = drawn(gnuplot, "a", fe_strbuf_text(&commands));
    assert_true(strlen(svg) > 1000000);
    free(svg);
    fe_gnuplot_free(gnuplot);
    fe_strbuf_free(&commands);
}

/* A double-quoted string would run what stands in backquotes. */
static void quoted_text__runs_nothing_and_is_shown_as_it_is(void **state)
{
    (void)state;
    if (!have_gnuplot())
        skip();
    stand_in self;
    stand_in_open(&self, "");
    unlink(self.program);
    char witness[128];
    fe_strbuf hostile = FE_STRBUF_INIT;
    fe_strbuf commands = FE_STRBUF_INIT;
    snprintf(witness, sizeof witness, "%s/ran", self.folder);
    fe_strbuf_format(&hostile,
                     "''`touch %s` 'q' \"d\" {/:Bold b} a_b^c @d %%d \\n <script>x</script>&\n"
                     "system('touch %s')\nquit\n",
                     witness, witness);
    fe_strbuf_append(&commands, "array name[1] = [");
    fe_gnuplot_quote(fe_strbuf_text(&hostile), &commands);
    fe_strbuf_append(&commands, "]\nset label 1 name[1] at 0,0\nplot sin(x) title name[1]\n");
    fe_gnuplot *gnuplot = fe_gnuplot_new(20.0);
    char *svg = drawn(gnuplot, "a", fe_strbuf_text(&commands));
    assert_int_not_equal(access(witness, F_OK), 0);
    assert_has(svg, "\xe2\x80\x99'`touch");
    assert_has(svg, "'q' \"d\" {/:Bold b} a_b^c @d %d \\n &lt;script>x&lt;/script>&amp; ");
    assert_has_not(svg, "<script");
    free(svg);
    fe_gnuplot_free(gnuplot);
    fe_strbuf_free(&commands);
    fe_strbuf_free(&hostile);
    stand_in_close(&self);
}

/* ---- Text ---- */

static void quote__is_single_and_on_one_line(void **state)
{
    (void)state;
    fe_strbuf out = FE_STRBUF_INIT;
    fe_gnuplot_quote("a'b\n`c`\t\"\x7f", &out);
    assert_string_equal(fe_strbuf_text(&out), "'a''b `c` \" '");
    fe_strbuf_clear(&out);
    fe_gnuplot_number(0.1, &out);
    fe_strbuf_append(&out, " ");
    fe_gnuplot_number(1.0 / 0.0, &out);
    assert_string_equal(fe_strbuf_text(&out), "0.1 NaN");
    fe_strbuf_free(&out);
}

static void assert_cleaned(const char *raw, const char *wanted)
{
    fe_strbuf out = FE_STRBUF_INIT;
    assert_int_equal(fe_gnuplot_clean_svg(raw, "i", &out), FE_OK);
    const char *body = strstr(fe_strbuf_text(&out), "</style>\n");
    assert_non_null(body);
    assert_string_equal(body + strlen("</style>\n"), wanted);
    fe_strbuf_free(&out);
}

static void clean__keeps_only_what_draws(void **state)
{
    (void)state;
    assert_cleaned("<svg viewBox='0 0 1 1'><script>x</script><g onclick='y' id='a'>"
                   "<image href='http://x'/><a href='y'><text>no</text></a>"
                   "<use xlink:href='#a'/><use xlink:href='http://x#a'/>"
                   "<path fill='url(http://x)' d='M0,0'/><path fill='url(#p)'/></g></svg>",
                   "<g id=\"i-a\"><use href=\"#i-a\"/><use/><path d=\"M0,0\"/>"
                   "<path fill=\"url(#i-p)\"/></g></svg>");
    assert_cleaned("<svg viewBox='0 0 1 1'><style>x</style><svg><text>no</text></svg>"
                   "<foreignObject><g/></foreignObject><text x='\"1'>a &lt; b</text></svg>",
                   "<text x=\"&quot;1\">a &lt; b</text></svg>");
}

static void clean__gives_palette_colours_a_class(void **state)
{
    (void)state;
    assert_cleaned("<svg viewBox='0 0 1 1'><path stroke='rgb( 27,  79, 114)' fill='black'/>"
                   "<path stroke='rgb(1, 2, 3)' fill='expression(1)'/></svg>",
                   "<path stroke=\"#1b4f72\" fill=\"#20261f\" "
                   "class=\"fe-stroke-series1 fe-fill-ink\"/><path stroke=\"#010203\"/></svg>");
}

static void clean__refuses_what_is_no_svg(void **state)
{
    (void)state;
    static const char *const BAD[] = {
        "",
        "text",
        "<html></html>",
        "<svg></svg>",
        "<svg viewBox='0 0 1 1'>",
        "<svg viewBox='0 0 1 1'><g></svg>",
        "<svg viewBox='0 0 1 1'></svg><svg viewBox='0 0 1 1'></svg>",
        "<svg viewBox='0 0 1 1'></svg>trailing",
        "<svg viewBox='0 0 1 1'><g a=b></g></svg>",
        "<svg viewBox='0 0 1 1'><g a='<'></g></svg>",
        "<svg viewBox='0 0 1 1'><!-- </svg>",
        "<svg viewBox='x'></svg>",
        "</svg>",
    };
    for (size_t i = 0; i < sizeof BAD / sizeof BAD[0]; i++) {
        fe_strbuf out = FE_STRBUF_INIT;
        assert_int_equal(fe_gnuplot_clean_svg(BAD[i], "i", &out), FE_E_INPUT);
        assert_string_equal(fe_strbuf_text(&out), "");
        fe_strbuf_free(&out);
    }
}

/* gnuplot 5.4 leaves it behind where a key's box lies outside the canvas. */
static void clean__drops_a_stray_letter_between_elements(void **state)
{
    (void)state;
    assert_cleaned("<svg viewBox='0 0 1 1'><g>\nZ \n</g></svg>", "<g>\n</g></svg>");
}

static void script__is_looked_for_where_it_is_told(void **state)
{
    (void)state;
    stand_in self;
    stand_in_open(&self, NULL);
    char *text = NULL;
    char path[96];
    snprintf(path, sizeof path, "%s/margin.gp", self.folder);
    assert_int_equal(fe_textfile_write(path, "# mine\n", 7), FE_OK);
    setenv("FAREND_PLOTS", self.folder, 1);
    assert_int_equal(fe_plot_script("margin", &text), FE_OK);
    assert_string_equal(text, "# mine\n");
    free(text);
    /* What the folder has not comes from the next place. */
    assert_int_equal(fe_plot_script("common", &text), FE_OK);
    free(text);
    unsetenv("FAREND_PLOTS");
    assert_int_equal(fe_plot_script("no-such-figure", &text), FE_E_IO);
    unlink(path);
    stand_in_close(&self);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(missing_gnuplot__is_a_reason),
        cmocka_unit_test(missing_gnuplot__is_not_looked_for_again),
        cmocka_unit_test(failing_gnuplot__gives_its_last_line),
        cmocka_unit_test(hanging_gnuplot__is_ended_in_time),
        cmocka_unit_test(hanging_gnuplot__is_waited_for_once),
        cmocka_unit_test(rubbish__is_no_figure),
        cmocka_unit_test(flood__is_cut_off),
        cmocka_unit_test(closed_input__does_no_harm),
        cmocka_unit_test(environment__is_only_a_path),
        cmocka_unit_test(figure__scales_and_fetches_nothing),
        cmocka_unit_test(one_process__draws_one_figure_after_the_other),
        cmocka_unit_test(large_figure__does_not_lock_up),
        cmocka_unit_test(quoted_text__runs_nothing_and_is_shown_as_it_is),
        cmocka_unit_test(quote__is_single_and_on_one_line),
        cmocka_unit_test(clean__keeps_only_what_draws),
        cmocka_unit_test(clean__gives_palette_colours_a_class),
        cmocka_unit_test(clean__refuses_what_is_no_svg),
        cmocka_unit_test(clean__drops_a_stray_letter_between_elements),
        cmocka_unit_test(script__is_looked_for_where_it_is_told),
    };
    return FE_RUN_TESTS(tests);
}
