/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_DECIDING_H
#define FAREND_DECIDING_H

/* Plans small enough to see through, read and decided. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "farend/result.h"
#include "farend/textfile.h"
#include "testing.h"

typedef struct decided {
    fe_plan plan;
    fe_result result;
} decided;

/* What the reader says of a text. */
static inline fe_status try_text(fe_plan *plan, const char *text, fe_messages *messages)
{
    const fe_plan_places places = {NULL, getenv("FAREND_PROFILES")};
    char file[64];
    snprintf(file, sizeof file, "deciding_%ld.ini", (long)getpid());
    assert_int_equal(fe_textfile_write(file, text, strlen(text)), FE_OK);
    const fe_status read = fe_plan_read(file, &places, plan, messages);
    remove(file);
    return read;
}

static inline void read_text(fe_plan *plan, const char *text)
{
    fe_messages messages = {0};
    const fe_status read = try_text(plan, text, &messages);
    if (read < 0)
        fail_msg("%s", messages.count ? messages.items[0].text : fe_status_text(read));
    fe_messages_free(&messages);
}

static inline void decide_text(decided *got, const char *text)
{
    read_text(&got->plan, text);
    assert_true(fe_decide(&got->plan, &got->result) >= 0);
}

enum { PLAN_TEXT_ROOM = 4096 };

/* Two buildings over even ground; `rest` holds further sections. */
static inline const char *small_plan(char text[PLAN_TEXT_ROOM], const char *distance,
                                     const char *rest)
{
    const int length = snprintf(text, PLAN_TEXT_ROOM,
                                "[site]\nregion = EU\nbands = 2.4 GHz\n"
                                "[end house]\ngear = outdoor-access-point\nheight = 4 m\n"
                                "mount = outdoors\n"
                                "[end shed]\ngear = outdoor-access-point\nheight = 3 m\n"
                                "mount = outdoors\n"
                                "[path way]\nfrom = house\nto = shed\ndistance = %s\n"
                                "[traffic camera]\nfrom = shed\nto = house\nstream = 2 Mb/s\n"
                                "%s",
                                distance, rest);
    assert_true(length > 0 && length < PLAN_TEXT_ROOM);
    return text;
}

static inline void decide_on(decided *got, const char *distance, const char *rest)
{
    char text[PLAN_TEXT_ROOM];
    decide_text(got, small_plan(text, distance, rest));
}

static inline void done(decided *got)
{
    fe_result_free(&got->result);
    fe_plan_free(&got->plan);
}

static inline const fe_way *way_of(const decided *got, fe_way_kind kind)
{
    for (size_t i = 0; i < got->result.way_count; i++)
        if (got->result.ways[i].kind == kind)
            return &got->result.ways[i];
    fail_msg("no such way");
    return NULL;
}

static inline size_t way_index(const decided *got, fe_way_kind kind)
{
    return (size_t)(way_of(got, kind) - got->result.ways);
}

#endif
