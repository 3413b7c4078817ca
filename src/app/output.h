/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_OUTPUT_H
#define APP_OUTPUT_H

#include <jansson.h>

#include "app/options.h"
#include "farend/amount.h"
#include "farend/document.h"
#include "farend/figures.h"
#include "farend/message.h"
#include "farend/status.h"
#include "farend/strbuf.h"

/* How every command answers: text, JSON, figures, messages about the input. */

/* --units; metric where it is not given. */
fe_units output_units(const options *given);

/* Text as a report wrote it, `made` its status: on stdout where it is whole. Freed; returns
 * `made`. */
FE_MUST_CHECK fe_status output_made(fe_status made, fe_strbuf *text);

/* The same; says what failed, and returns an exit code. */
int output_report(const char *who, fe_status made, fe_strbuf *text);

/* The document on stdout: in UTF-8 on a terminal that says so, in plain ASCII elsewhere. */
FE_MUST_CHECK fe_status output_text(const fe_document *doc, fe_units units);

/* A file written whole or not at all; what went wrong is said. */
FE_MUST_CHECK fe_status output_file(const char *who, const char *path, const char *text,
                                    size_t length);

/* The sheet as the file that --sheet names. */
FE_MUST_CHECK fe_status output_sheet(const char *who, const options *given,
                                     const fe_document *doc);

/* Words that are no document, on stdout: in plain ASCII where there is no such terminal. */
FE_MUST_CHECK fe_status output_plain(const fe_strbuf *text);

/*
 * Every figure that there is as FOLDER/ID.svg, each whole or not at all; the folder is made
 * where it is missing. FE_E_EXTERNAL where a figure is missing: output_missing says which.
 */
FE_MUST_CHECK fe_status output_figures(const char *who, const fe_document *doc,
                                       const char *folder, fe_units units);

/* One line on stderr for all figures that are missing, nothing where none is. */
void output_missing(const char *who, const fe_document *doc);

/*
 * A figure, `built` its builder's status, into the document, drawn by a gnuplot of its own;
 * freed. That there was nothing to draw (FE_E_DOMAIN) is said and is no failure.
 */
FE_MUST_CHECK fe_status output_draw(const char *who, fe_status built, fe_figure *figure,
                                    fe_document *doc);

/* The document as text, in the units asked for; an exit code. */
int output_words(const char *who, const options *given, const fe_document *doc);

/* Figures where --figures names a folder, text where --json is not given; an exit code. */
int output_document(const char *who, const options *given, const fe_document *doc);

/* Takes the value over, null where memory was out; `flags` as of json_dumps. An exit code. */
enum { OUTPUT_JSON_DIGITS = 15 };
#define OUTPUT_JSON_FLAGS (JSON_INDENT(2) | JSON_REAL_PRECISION(OUTPUT_JSON_DIGITS))
int output_json(const char *who, json_t *value, size_t flags);

/*
 * A value into an object, or behind a list; the value is given up. Without memory for it the
 * whole is given up too and becomes null, and so does what that is put into, to output_json:
 * nothing is printed that lacks a part.
 */
void output_json_set(json_t **object, const char *key, json_t *value);
void output_json_append(json_t **list, json_t *value);

/* A number of it, null where it is not finite, which JSON does not know. */
json_t *output_number(double value);

/* They begin with file and line, so the command's name does not stand before them. */
void output_messages(const fe_messages *messages);

/* One line for a status that has no message of its own; returns its exit code. */
int output_failed(const char *who, fe_status status);

/*
 * The exit code of work that has told itself what it could not read or write and which figure
 * is missing; any other failure nobody has told yet, and it is said.
 */
int output_ended(const char *who, fe_status status);

#endif
