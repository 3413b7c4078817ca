/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef REPORT_REPORT_SHEET_PARTS_H
#define REPORT_REPORT_SHEET_PARTS_H

#include "farend/posts_plan.h"
#include "report/report_parts.h"

/* What the sheet says of a run on posts: report_sheet_posts.c. */
void sheet_posts(report_writer *writer, const fe_posts_result *posts);
/* And of a cable in a trench: report_sheet_trench.c. */
void sheet_trench(report_writer *writer, const fe_channel_result *channel);

/* A row of the table to write in; the last cell stays empty. */
void sheet_to_read(report_writer *writer, const char *what, const char *expected,
                   const char *stop);
void sheet_start_readings(report_writer *writer);

/*
 * What the ways of a plan cross, for a sketch and its list; the plan's own order. Several paths
 * share the section, so that nobody can tell which crosses what: none then. To be freed; null
 * without memory, which the writer remembers.
 */
fe_sketch_crossing *sheet_crossings(report_writer *writer, const fe_plan *plan, size_t *count);

/* The sketch, from figure data. */
void sheet_add_sketch(report_writer *writer, const fe_sketch_data *data);

#endif
