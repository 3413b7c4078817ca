/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Time of reading a plan against its number of lines, and against reading the same bytes into
 * memory and splitting them into lines, side by side in one run:
 *
 *     bench_plan [LINES]
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "clock.h"
#include "farend/plan.h"
#include "farend/quantity.h"
#include "farend/strbuf.h"
#include "farend/textfile.h"

static const char NAME[] = "bench_plan.ini";
static const char START[] = "[site]\nregion = UK\nbands = 2.4 GHz\n"
                            "[end house]\ngear = outdoor-access-point\nheight = 4 m\n"
                            "[end shed]\ngear = outdoor-access-point\nheight = 3 m\n"
                            "[path way]\ndistance = 20 km\n";
enum { ROUNDS = 5, START_LINES = 11, STAND_LINES = 10 };

/* Stands of trees one after the other, with the owner's remarks. */
static bool write_plan(size_t lines)
{
    fe_strbuf text = FE_STRBUF_INIT;
    fe_strbuf_append(&text, START);
    for (size_t i = 0; START_LINES + (i + 1) * STAND_LINES <= lines; i++)
        fe_strbuf_format(&text,
                         "\n; measured from the gate, %zu\n; on a dry day\n[trees stand-%zu]\n"
                         "path = way\nfrom = %zu.5 m\nto = %zu.25 m ; the last trunk\n"
                         "height = 4..6 m\nkind = deciduous\n; birch and alder\n",
                         i, i, 10 * i, 10 * i + 3);
    const bool good =
        !text.failed && fe_textfile_write(NAME, fe_strbuf_text(&text), text.length) == FE_OK;
    fe_strbuf_free(&text);
    return good;
}

static double read_once_s(void)
{
    const fe_plan_places places = {.environment = getenv("FAREND_PROFILES")};
    fe_plan plan = {0};
    fe_messages messages = {0};
    const double start_s = seconds(CLOCK_PROCESS_CPUTIME_ID);
    if (fe_plan_read(NAME, &places, &plan, &messages) < 0) {
        fprintf(stderr, "%s\n", messages.count ? messages.items[0].text : "not read");
        exit(1);
    }
    const double took_s = seconds(CLOCK_PROCESS_CPUTIME_ID) - start_s;
    fe_plan_free(&plan);
    fe_messages_free(&messages);
    return took_s;
}

static double split_once_s(void)
{
    char *text = NULL;
    size_t length = 0, lines = 0;
    const double start_s = seconds(CLOCK_PROCESS_CPUTIME_ID);
    if (fe_textfile_read(NAME, &text, &length) < 0)
        exit(1);
    for (const char *at = text; (at = strchr(at, '\n')); at++)
        lines++;
    const double took_s = seconds(CLOCK_PROCESS_CPUTIME_ID) - start_s;
    free(text);
    return lines > 0 ? took_s : 0.0;
}

int main(int argc, char **argv)
{
    fe_init();
    const size_t most = argc > 1 ? strtoul(argv[1], NULL, 10) : 10000;
    double before_s = 0.0;
    for (size_t lines = most / 8; lines <= most && lines > 100; lines *= 2) {
        double plan_s = 1e9, split_s = 1e9;
        if (!write_plan(lines))
            return 1;
        for (int i = 0; i < ROUNDS; i++) {
            const double plan_now_s = read_once_s();
            const double split_now_s = split_once_s();
            plan_s = plan_now_s < plan_s ? plan_now_s : plan_s;
            split_s = split_now_s < split_s ? split_now_s : split_s;
        }
        printf("plan of %5zu lines: %6.1f ms, %4.0f times splitting its lines", lines,
               1e3 * plan_s, plan_s / split_s);
        printf(before_s > 0.0 ? ", %.2f times the half\n" : "\n", plan_s / before_s);
        before_s = plan_s;
    }
    remove(NAME);
    fe_quantity_shutdown();
    return 0;
}
