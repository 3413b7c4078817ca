/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_PLAN_READER_H
#define FAREND_PLAN_READER_H

#include <stdbool.h>
#include <stddef.h>

#include "farend/plan.h"
#include "plan/ini_text.h"
#include "plan/keys.h"

/* What is at hand while a plan is read. Shared inside this room; nothing of it gets out. */
struct plan_reader {
    fe_plan *plan;
    fe_messages *messages;
    const fe_plan_places *places;
    char *folder; /* of the plan, "." for the current one */
    const ini_text *text;
    bool no_memory; /* after it nothing that was read may be looked at: pieces are missing */
};

/* values.c: texts into values */

/* Reads one entry into its member of the struct, or says what is wrong with it. */
void plan_read_entry(plan_reader *reader, const plan_entry *entry, void *base);

/* Says that the text is not what the key takes, which is put into words. */
void plan_refuse_as(plan_reader *reader, const plan_entry *entry, const char *expected);
/* An unknown name, with the nearest known one where there is any. */
void plan_refuse_name(plan_reader *reader, const plan_entry *entry, const char *expected,
                      const char *nearest);
/* A key that was there already. */
void plan_refuse_again(plan_reader *reader, const plan_entry *entry);

/* What a row expects, in words for a message. Returns buffer. */
char *plan_expected(const plan_key *row, char *buffer, size_t size);

/* A value of the row's dimension; false where the text is none. Says nothing. */
bool plan_parse_value(const plan_entry *entry, const char *text, fe_dimension dimension,
                      fe_value *value);

/* False, and said, where the value lies beyond the row's bounds. */
bool plan_is_sane(plan_reader *reader, const plan_entry *entry, fe_dimension dimension,
                  const fe_value *value);

/* Copies that note a lack of memory in the reader and are null then. */
char *plan_copy(plan_reader *reader, const char *text);
char *plan_copy_part(plan_reader *reader, const char *from, const char *end);

/* Runs over the parts of a text between commas; false at its end. */
bool plan_next_part(plan_reader *reader, const char **at, char **part);

bool plan_add_value(plan_reader *reader, fe_value_list *list, fe_value value);

/* What is said of a default that stands in for `unknown`. */
#define PLAN_UNKNOWN "unknown in the plan"

/* Index in a list that ends in null; -1 where it is not there. */
int plan_word_index(const char *const *words, const char *text);

/* Text of a value as the list of defaults shows it: "0.3 m", "10..40 m". */
char *plan_print_value(const plan_key *row, const fe_value *value, char *buffer, size_t size);

/* Puts a default on the plan's list. */
void plan_note_default(plan_reader *reader, const char *section, const char *key,
                       const char *value, const char *why);

/* sections.c: sections into structs */

/* Reads all sections of a text that belong to a part. */
void plan_read_part(plan_reader *reader, const ini_text *text, plan_part part);
/* Says which sections are unknown, out of place or there twice. */
void plan_check_sections(plan_reader *reader, const ini_text *text, bool catalogue);
/* Part of a section; PARTS where there is none. */
plan_part plan_part_of(const ini_section *section);

/* catalogue.c: folders and files */

void plan_read_catalogues(plan_reader *reader);
/* Where a file named in the plan is, beside it or in a profiles folder; null: nowhere. */
char *plan_find_file(plan_reader *reader, const char *name);

/* complete.c: what follows from what was read */
void plan_complete(plan_reader *reader);
/* The pieces of it that follow anew where one value is moved. */
void plan_complete_even_ground(plan_reader *reader, fe_plan_path *path);
void plan_complete_trench(fe_plan *plan);
void plan_complete_seasons(plan_reader *reader);

/* checks.c: what keys say about each other */
void plan_check(plan_reader *reader);

/* An entry of the plan by the line of its section; false where the key is not there. */
bool plan_entry_at(plan_reader *reader, plan_part part, int section_line, const char *key,
                   plan_entry *entry);

#endif
