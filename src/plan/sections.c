/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/ethernet.h"
#include "farend/fibre.h"
#include "farend/suggest.h"
#include "plan/reader.h"

/* A section that is being read: its struct, and which rows of the table it has had. */
typedef struct open_section {
    plan_part part;
    const char *file;
    const char *title;
    int line; /* 0: the plan has no such section */
    void *base;
    bool seen[PLAN_MOST_KEYS];
} open_section;

static bool takes_name(plan_naming naming, const char *name)
{
    return *name ? naming != NAME_NONE : naming != NAME_MUST;
}

plan_part plan_part_of(const ini_section *section)
{
    for (int part = 0; part < PARTS; part++) {
        const plan_section *const row = plan_section_of((plan_part)part);
        if (strcmp(row->word, section->word) == 0 && takes_name(row->naming, section->name))
            return (plan_part)part;
    }
    return PARTS;
}

/* ---- which sections there are ---- */

static const plan_section *section_by_word(const char *word)
{
    for (int part = 0; part < PARTS; part++)
        if (strcmp(plan_section_of((plan_part)part)->word, word) == 0)
            return plan_section_of((plan_part)part);
    return NULL;
}

static void refuse_section(plan_reader *reader, const char *file, const ini_section *section)
{
    const plan_section *const row = section_by_word(section->word);
    if (row) {
        fe_messages_add(reader->messages, file, section->line,
                        row->naming == NAME_MUST ? "[%s]: no name, for example [%s shed]"
                                                 : "[%s]: takes no name, expected [%s]",
                        section->title, row->word);
        return;
    }
    fe_suggest search = fe_suggest_start(section->word);
    for (int part = 0; part < PARTS; part++)
        fe_suggest_offer(&search, plan_section_of((plan_part)part)->word);
    fe_messages_add(reader->messages, file, section->line, "[%s]: no such section%s%s%s",
                    section->title, search.best ? "; did you mean [" : "",
                    search.best ? search.best : "", search.best ? "]?" : "");
}

/* The section before it with the same title; null where it is the first. */
static const ini_section *earlier(const ini_text *text, size_t index)
{
    for (size_t i = 0; i < index; i++)
        if (strcmp(text->sections[i].word, text->sections[index].word) == 0 &&
            strcmp(text->sections[i].name, text->sections[index].name) == 0)
            return &text->sections[i];
    return NULL;
}

void plan_check_sections(plan_reader *reader, const ini_text *text, bool catalogue)
{
    for (size_t i = 0; i < text->count; i++) {
        const ini_section *const section = &text->sections[i];
        const ini_section *const first = earlier(text, i);
        const plan_part part = plan_part_of(section);
        if (part == PARTS)
            refuse_section(reader, text->file, section);
        else if (catalogue && !plan_section_of(part)->catalogue)
            fe_messages_add(reader->messages, text->file, section->line,
                            "[%s]: a catalogue holds [gear NAME], [cable NAME] and [climate "
                            "NAME] only",
                            section->title);
        else if (first)
            fe_messages_add(reader->messages, text->file, section->line,
                            "[%s]: there already, on line %d; %s", section->title, first->line,
                            *section->name ? "two need two names" : "put its keys together");
    }
}

/* ---- what a section holds ---- */

static size_t index_of(const plan_key *row)
{
    size_t count = 0;
    return (size_t)(row - plan_keys(&count));
}

static plan_entry entry_of(const open_section *section, const plan_key *row,
                           const ini_entry *entry)
{
    return (plan_entry){.row = row,
                        .file = section->file,
                        .line = entry->line,
                        .section = section->title,
                        .key = entry->key,
                        .text = entry->value};
}

static void refuse_key(plan_reader *reader, const open_section *section, const ini_entry *entry)
{
    const char *const nearest = plan_key_nearest(section->part, entry->key);
    fe_messages_add(reader->messages, section->file, entry->line, "[%s] %s: no such key%s%s%s",
                    section->title, entry->key, nearest ? "; did you mean \"" : "",
                    nearest ? nearest : "", nearest ? "\"?" : "");
}

static void read_entry(plan_reader *reader, open_section *section, const ini_entry *entry)
{
    const plan_key *const row = plan_key_find(section->part, entry->key);
    if (!row) {
        refuse_key(reader, section, entry);
        return;
    }
    const size_t index = index_of(row);
    const plan_entry read = entry_of(section, row, entry);
    if (section->seen[index] && !row->repeats) {
        plan_refuse_again(reader, &read);
        return;
    }
    section->seen[index] = true;
    plan_read_entry(reader, &read, section->base);
}

/* ---- what a section leaves out ---- */

static void require(plan_reader *reader, const open_section *section, const plan_key *row)
{
    char expected[256];
    fe_messages_add(reader->messages, section->file, section->line,
                    "[%s]: no %s, expected %s, for example %s = %s", section->title, row->key,
                    plan_expected(row, expected, sizeof expected), row->key,
                    plan_key_example(row));
}

/* The gear of a link to there wants power, with no load beside it. */
static bool lacks_mains(const fe_plan *plan)
{
    for (size_t i = 0; i < plan->end_count; i++)
        if (plan->ends[i].mains.given > FE_GIVEN_DEFAULT && plan->ends[i].mains.value == 0)
            return true;
    return false;
}

/* Without mains on any feed there is no earthing of a supply to speak of. */
static bool is_idle(const plan_reader *reader, const open_section *section, const plan_key *row)
{
    const fe_plan_feed *const feed = &reader->plan->feed;
    if (section->part != PART_FEED || row->offset != offsetof(fe_plan_feed, earthing))
        return false;
    for (size_t i = 0; i < feed->source_count; i++)
        if (feed->sources[i].ac)
            return false;
    return feed->source_count > 0;
}

/* Feed and solar matter, and so do their defaults, once something needs power. */
static bool is_listed(const plan_reader *reader, const open_section *section)
{
    const plan_section *const row = plan_section_of(section->part);
    if (row->catalogue)
        return false;
    if (section->line > 0 || row->assumed)
        return true;
    if (section->part == PART_SOLAR && lacks_mains(reader->plan))
        return true;
    return (section->part == PART_FEED || section->part == PART_SOLAR) &&
           reader->plan->load_count > 0;
}

static void take_fallback(plan_reader *reader, const open_section *section, const plan_key *row)
{
    const plan_entry entry = {.row = row,
                              .file = section->file,
                              .line = section->line,
                              .section = section->title,
                              .key = row->key,
                              .text = row->fallback,
                              .given = FE_GIVEN_DEFAULT};
    plan_read_entry(reader, &entry, section->base);
    if (is_listed(reader, section) && !is_idle(reader, section, row))
        plan_note_default(reader, section->title, row->key, row->fallback,
                          row->why ? row->why : "common practice, no source");
}

/* Takes a value of the climate's class over; false where the class has none. */
static bool take_from_class(plan_reader *reader, const open_section *section,
                            const plan_key *row)
{
    const fe_plan *const plan = reader->plan;
    const fe_plan_climate *const climate = section->base;
    if (row->kind != KIND_VALUE || !climate->class_name)
        return false;
    for (size_t i = 0; i < plan->climate_count; i++) {
        const fe_plan_climate *const class = &plan->climates[i];
        if (strcmp(class->name, climate->class_name) != 0)
            continue;
        fe_value value = {0};
        char text[64];
        char why[96];
        memcpy(&value, (const char *)class + row->offset, sizeof value);
        if (value.given == FE_GIVEN_NOT)
            return false;
        value.given = FE_GIVEN_DEFAULT;
        memcpy((char *)section->base + row->offset, &value, sizeof value);
        snprintf(why, sizeof why, "climate class %s", class->name);
        plan_note_default(reader, section->title, row->key,
                          plan_print_value(row, &value, text, sizeof text), why);
        return true;
    }
    return false;
}

/* From the first end to the second, where there are just these; without a default it follows
 * from the paths. */
static void take_end(plan_reader *reader, const open_section *section, const plan_key *row)
{
    const size_t ends = reader->plan->end_count;
    const size_t index = !row->fallback ? SIZE_MAX : row->fallback[0] == '0' ? 0 : 1;
    memcpy((char *)section->base + row->offset, &index, sizeof index);
    if (ends > 2 && row->fallback)
        require(reader, section, row);
}

static void take_path(plan_reader *reader, const open_section *section, const plan_key *row)
{
    const size_t first = 0;
    memcpy((char *)section->base + row->offset, &first, sizeof first);
    if (reader->plan->path_count > 1)
        require(reader, section, row);
}

static void complete_number(plan_reader *reader, const open_section *section,
                            const plan_key *row)
{
    double number = 0.0;
    memcpy(&number, (char *)section->base + row->offset, sizeof number);
    if (row->fallback) {
        take_fallback(reader, section, row);
    } else if (number == 0.0) { /* another key may have set it: mass instead of weight */
        number = NAN;
        memcpy((char *)section->base + row->offset, &number, sizeof number);
    }
}

static void complete_key(plan_reader *reader, const open_section *section, const plan_key *row)
{
    const bool catalogue = plan_section_of(section->part)->catalogue;
    if (row->required)
        require(reader, section, row);
    if (row->kind == KIND_NUMBER)
        complete_number(reader, section, row);
    else if (catalogue)
        return;
    else if (row->kind == KIND_END)
        take_end(reader, section, row);
    else if (row->kind == KIND_PATH)
        take_path(reader, section, row);
    else if (section->part == PART_CLIMATE && take_from_class(reader, section, row))
        return;
    else if (row->fallback)
        take_fallback(reader, section, row);
}

static void complete_keys(plan_reader *reader, const open_section *section)
{
    size_t count = 0;
    const plan_key *const rows = plan_keys(&count);
    const plan_part keys = plan_section_of(section->part)->keys;
    for (size_t i = 0; i < count; i++)
        if (rows[i].part == keys && !section->seen[i])
            complete_key(reader, section, &rows[i]);
}

/* Says that a key that was written is not what the row expects. */
static void refuse_written(plan_reader *reader, const open_section *section,
                           const ini_section *written, const plan_key *row)
{
    char expected[256];
    const ini_entry *const entry = ini_section_entry(written, row->key);
    if (!entry) {
        require(reader, section, row);
        return;
    }
    const plan_entry refused = entry_of(section, row, entry);
    plan_refuse_as(reader, &refused, plan_expected(row, expected, sizeof expected));
}

/* Rates, losses and reaches stand in tables by these names. */
static bool has_category(const fe_cable_class *cable)
{
    fe_category category = FE_CATEGORY_SINGLE_PAIR;
    fe_fibre fibre = FE_FIBRE_OS2;
    if (cable->medium == FE_MEDIUM_COPPER_PAIRS)
        return fe_category_named(cable->category, &category) &&
               category != FE_CATEGORY_SINGLE_PAIR;
    return cable->medium != FE_MEDIUM_FIBRE || fe_fibre_named(cable->category, &fibre);
}

/* What the keys of a class of cable say together. */
static void check_cable_class(plan_reader *reader, const open_section *section,
                              const ini_section *written)
{
    const fe_cable_class *const cable = section->base;
    const ini_entry *const mass = ini_section_entry(written, "mass");
    if (isnan(cable->weight_n_m))
        require(reader, section, plan_key_find(PART_CABLE_CLASS, "weight"));
    if (mass && ini_section_entry(written, "weight"))
        fe_messages_add(reader->messages, section->file, mass->line,
                        "[%s] mass: both mass and weight; one follows from the other",
                        section->title);
    if (!has_category(cable))
        refuse_written(reader, section, written, plan_key_find(PART_CABLE_CLASS, "category"));
}

/* ---- from sections to structs ---- */

/* A class is named with hyphens; read aloud it has spaces, and its unit the letters of a unit.
 */
static void put_in_words(const char *name, char *label)
{
    static const char UNIT[] = "GHz";
    strcpy(label, name);
    for (char *at = label; *at; at++) {
        if (strncmp(at, "-ghz-", 5) == 0)
            memcpy(at + 1, UNIT, strlen(UNIT));
        if (*at == '-')
            *at = ' ';
    }
}

static void set_name(plan_reader *reader, const plan_section *row, void *base,
                     const ini_section *section)
{
    const char *const name = *section->name ? section->name : section->word;
    char *const member = (char *)base + row->name_offset;
    if (row->name_offset == NOWHERE)
        return;
    if (row->name_room > 0) {
        snprintf(member, row->name_room, "%s", name);
        put_in_words(member, (char *)base + row->label_offset);
        return;
    }
    char *const copy = plan_copy(reader, name);
    memcpy(member, &copy, sizeof copy);
}

static void mark_given(const plan_section *row, void *base, const ini_section *section)
{
    if (row->line_offset != NOWHERE)
        memcpy((char *)base + row->line_offset, &section->line, sizeof section->line);
    if (row->given_offset != NOWHERE)
        memcpy((char *)base + row->given_offset, &(const bool){true}, sizeof(bool));
}

/* The plan's own class comes first, and the nearer catalogue before the farther. */
static bool is_known_class(const plan_reader *reader, plan_part part, const char *name)
{
    const fe_plan *const plan = reader->plan;
    if (part == PART_GEAR)
        return fe_plan_gear(plan, name) != NULL;
    if (part == PART_CABLE_CLASS)
        return fe_plan_cable_class(plan, name) != NULL;
    for (size_t i = 0; part == PART_CLIMATE_CLASS && i < plan->climate_count; i++)
        if (strcmp(plan->climates[i].name, name) == 0)
            return true;
    return false;
}

static void read_section(plan_reader *reader, const ini_text *text, plan_part part,
                         const ini_section *section)
{
    const plan_section *const row = plan_section_of(part);
    void *const base = row->count_offset == NOWHERE ? plan_item(reader->plan, part, 0)
                                                    : plan_item_add(reader->plan, part);
    if (!base) {
        reader->no_memory = true;
        return;
    }
    open_section open = {.part = part,
                         .file = text->file,
                         .title = section->title,
                         .line = section->line,
                         .base = base};
    const size_t said = reader->messages->count;
    set_name(reader, row, base, section);
    mark_given(row, base, section);
    for (size_t i = 0; i < section->count && !reader->no_memory; i++)
        read_entry(reader, &open, &section->entries[i]);
    if (!reader->no_memory)
        complete_keys(reader, &open);
    /* A key that was refused would be missed a second time. */
    if (!reader->no_memory && part == PART_CABLE_CLASS && reader->messages->count == said)
        check_cable_class(reader, &open, section);
}

static bool has_part(const ini_text *text, plan_part part)
{
    for (size_t i = 0; i < text->count; i++)
        if (plan_part_of(&text->sections[i]) == part)
            return true;
    return false;
}

/* A single section that the plan has not: its defaults hold all the same. */
static void assume_section(plan_reader *reader, const ini_text *text, plan_part part)
{
    const open_section open = {.part = part,
                               .file = text->file,
                               .title = plan_section_of(part)->word,
                               .base = plan_item(reader->plan, part, 0)};
    if (part == PART_CLIMATE && has_part(text, PART_SEASON))
        return; /* seasons take the climate's place */
    complete_keys(reader, &open);
}

void plan_read_part(plan_reader *reader, const ini_text *text, plan_part part)
{
    const plan_section *const row = plan_section_of(part);
    bool found = false;
    for (size_t i = 0; i < text->count && !reader->no_memory; i++) {
        const ini_section *const section = &text->sections[i];
        if (plan_part_of(section) != part || earlier(text, i))
            continue;
        found = true;
        if (!is_known_class(reader, part, section->name))
            read_section(reader, text, part, section);
    }
    if (!reader->no_memory && !found && !row->catalogue && row->count_offset == NOWHERE)
        assume_section(reader, text, part);
}

bool plan_entry_at(plan_reader *reader, plan_part part, int section_line, const char *key,
                   plan_entry *entry)
{
    const ini_text *const text = reader->text;
    for (size_t i = 0; i < text->count; i++) {
        const ini_section *const section = &text->sections[i];
        if (section->line != section_line || plan_part_of(section) != part)
            continue;
        const ini_entry *const found = ini_section_entry(section, key);
        if (!found)
            return false;
        *entry = (plan_entry){.row = plan_key_find(part, key),
                              .file = text->file,
                              .line = found->line,
                              .section = section->title,
                              .key = found->key,
                              .text = found->value};
        return true;
    }
    return false;
}
