/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ctype.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/name.h"
#include "farend/number.h"
#include "farend/suggest.h"
#include "plan/grow.h"
#include "plan/reader.h"

enum { EXPECTED_ROOM = 256 };

char *plan_copy(plan_reader *reader, const char *text)
{
    return plan_copy_part(reader, text, text + strlen(text));
}

char *plan_copy_part(plan_reader *reader, const char *from, const char *end)
{
    while (from < end && isspace((unsigned char)*from))
        from++;
    while (end > from && isspace((unsigned char)end[-1]))
        end--;
    char *copy = strndup(from, (size_t)(end - from));
    if (!copy)
        reader->no_memory = true;
    return copy;
}

bool plan_next_part(plan_reader *reader, const char **at, char **part)
{
    if (!*at)
        return false;
    const char *const end = *at + strcspn(*at, ",");
    *part = plan_copy_part(reader, *at, end);
    *at = *end ? end + 1 : NULL;
    return *part != NULL;
}

static bool add_text(plan_reader *reader, fe_text_list *list, const char *text)
{
    char **grown = plan_grow(list->items, &list->count, sizeof *grown);
    if (!grown) {
        reader->no_memory = true;
        return false;
    }
    list->items = grown;
    grown[list->count - 1] = plan_copy(reader, text);
    if (!grown[list->count - 1])
        list->count--;
    return !reader->no_memory;
}

bool plan_add_value(plan_reader *reader, fe_value_list *list, fe_value value)
{
    fe_value *grown = plan_grow(list->items, &list->count, sizeof *grown);
    if (!grown) {
        reader->no_memory = true;
        return false;
    }
    list->items = grown;
    grown[list->count - 1] = value;
    return true;
}

int plan_word_index(const char *const *words, const char *text)
{
    for (int i = 0; words[i]; i++)
        if (name_same(words[i], text))
            return i;
    return -1;
}

static bool is_unknown(const char *text)
{
    return name_same(text, "unknown");
}

static const char *list_words(const char *const *words, char *buffer, size_t size)
{
    size_t used = 0;
    for (size_t i = 0; words[i] && used < size; i++) {
        const char *const before = i == 0 ? "" : words[i + 1] ? ", " : " or ";
        used += (size_t)snprintf(buffer + used, size - used, "%s%s", before, words[i]);
    }
    return buffer;
}

char *plan_expected(const plan_key *row, char *buffer, size_t size)
{
    const char *const name = fe_dimension_name(row->dimension);
    const bool has_unit = fe_dimension_unit(row->dimension)[0] != 0;
    const char *said = row->expected;
    if (!said &&
        (row->kind == KIND_VALUE || row->kind == KIND_VALUES || row->kind == KIND_NUMBER)) {
        snprintf(buffer, size, "%s%s", name, has_unit ? " with its unit" : "");
        return buffer;
    }
    if (!said && row->words) {
        list_words(row->words, buffer, size);
        return buffer;
    }
    if (!said)
        said = row->kind == KIND_FLAG                              ? "yes or no"
               : row->kind == KIND_GEAR || row->kind == KIND_GEARS ? "the name of a gear class"
               : row->kind == KIND_CABLE                           ? "the name of a cable class"
               : row->kind == KIND_END                             ? "the name of an end"
               : row->kind == KIND_PATH                            ? "the name of a path"
                                                                   : "a text";
    snprintf(buffer, size, "%s", said);
    return buffer;
}

void plan_refuse_name(plan_reader *reader, const plan_entry *entry, const char *expected,
                      const char *nearest)
{
    if (nearest)
        fe_messages_add(reader->messages, entry->file, entry->line,
                        "[%s] %s: read \"%s\", expected %s; did you mean \"%s\"?",
                        entry->section, entry->key, entry->text, expected, nearest);
    else
        fe_messages_add_value(reader->messages, entry->file, entry->line, entry->section,
                              entry->key, entry->text, expected, plan_key_example(entry->row));
}

void plan_refuse_as(plan_reader *reader, const plan_entry *entry, const char *expected)
{
    char meant[EXPECTED_ROOM];
    const bool comma =
        fe_value_with_points(entry->text, entry->row->dimension, meant, sizeof meant);
    plan_refuse_name(reader, entry, expected, comma ? meant : NULL);
}

void plan_refuse_again(plan_reader *reader, const plan_entry *entry)
{
    fe_messages_add(reader->messages, entry->file, entry->line,
                    "[%s] %s: given a second time; one value is taken", entry->section,
                    entry->key);
}

/* Says that the text is not what the key takes. */
static void refuse(plan_reader *reader, const plan_entry *entry)
{
    char expected[EXPECTED_ROOM];
    plan_refuse_as(reader, entry, plan_expected(entry->row, expected, sizeof expected));
}

/* From SI to the unit that the row's member is in. Divided, so that 30 mm/h comes out as 30. */
static fe_value in_unit_of(const plan_key *row, fe_value value)
{
    const double one = row->one > 0.0 ? row->one : 1.0;
    value.low /= one;
    value.typical /= one;
    value.high /= one;
    return value;
}

bool plan_parse_value(const plan_entry *entry, const char *text, fe_dimension dimension,
                      fe_value *value)
{
    const plan_key *const row = entry->row;
    fe_value read = {0};
    if (fe_value_parse(text, dimension, &read) != FE_OK)
        return false;
    if (read.given == FE_GIVEN_UNKNOWN) {
        if (!row->unknown || fe_value_parse(row->unknown, dimension, &read) != FE_OK)
            return false;
        read.given = FE_GIVEN_UNKNOWN;
    }
    if (entry->given != FE_GIVEN_NOT)
        read.given = entry->given;
    *value = in_unit_of(row, read);
    return true;
}

bool plan_is_sane(plan_reader *reader, const plan_entry *entry, fe_dimension dimension,
                  const fe_value *value)
{
    const plan_key *const row = entry->row;
    fe_value bounds = {0};
    if (!row->bounds || fe_value_parse(row->bounds, dimension, &bounds) != FE_OK)
        return true;
    bounds = in_unit_of(row, bounds);
    if (fe_value_is_within(value, &bounds))
        return true;
    char expected[EXPECTED_ROOM];
    snprintf(expected, sizeof expected, "%s within %s", fe_dimension_name(dimension),
             row->bounds);
    plan_refuse_as(reader, entry, expected);
    return false;
}

/* A range the wrong way round reads like a missing unit otherwise. */
static void refuse_value(plan_reader *reader, const plan_entry *entry)
{
    char expected[EXPECTED_ROOM];
    if (!strstr(entry->text, "..")) {
        refuse(reader, entry);
        return;
    }
    const fe_dimension dimension = entry->row->dimension;
    snprintf(expected, sizeof expected, "%s as LOW..HIGH%s, LOW not above HIGH",
             fe_dimension_name(dimension),
             fe_dimension_unit(dimension)[0] ? " with the unit" : "");
    plan_refuse_as(reader, entry, expected);
}

static void read_value(plan_reader *reader, const plan_entry *entry, fe_value *value)
{
    fe_value read = {0};
    if (!plan_parse_value(entry, entry->text, entry->row->dimension, &read))
        refuse_value(reader, entry);
    else if (plan_is_sane(reader, entry, entry->row->dimension, &read))
        *value = read;
}

static void read_values(plan_reader *reader, const plan_entry *entry, fe_value_list *list)
{
    const char *at = entry->text;
    char *part = NULL;
    while (plan_next_part(reader, &at, &part)) {
        fe_value value = {0};
        if (!plan_parse_value(entry, part, entry->row->dimension, &value)) {
            refuse_value(reader, entry);
            at = NULL;
        } else if (plan_is_sane(reader, entry, entry->row->dimension, &value)) {
            plan_add_value(reader, list, value);
        }
        free(part);
    }
}

/* Figures of a class are what the class stands for: exact, or not known at all. */
static void read_number(plan_reader *reader, const plan_entry *entry, double *number)
{
    fe_value value = {0};
    if (is_unknown(entry->text) && !entry->row->required) {
        *number = NAN;
    } else if (!plan_parse_value(entry, entry->text, entry->row->dimension, &value)) {
        refuse_value(reader, entry);
    } else if (value.given == FE_GIVEN_RANGE) {
        plan_refuse_as(reader, entry, "one value; the figures of a class take no range");
    } else if (plan_is_sane(reader, entry, entry->row->dimension, &value)) {
        *number = value.typical;
    }
}

static void read_flag(plan_reader *reader, const plan_entry *entry, bool *flag)
{
    static const char *const WORDS[] = {"no", "yes", NULL};
    const int index = plan_word_index(WORDS, entry->text);
    if (index < 0)
        refuse(reader, entry);
    else
        *flag = index == 1;
}

static const char *nearest_word(const char *const *words, const char *text)
{
    fe_suggest search = fe_suggest_start(text);
    for (size_t i = 0; words[i]; i++)
        fe_suggest_offer(&search, words[i]);
    return search.best;
}

static void read_word(plan_reader *reader, const plan_entry *entry, fe_choice *choice)
{
    const plan_key *const row = entry->row;
    char expected[EXPECTED_ROOM];
    const bool unknown = is_unknown(entry->text) && row->unknown;
    const int index = plan_word_index(row->words, unknown ? row->unknown : entry->text);
    if (index < 0) {
        plan_refuse_name(reader, entry, plan_expected(row, expected, sizeof expected),
                         nearest_word(row->words, entry->text));
        return;
    }
    choice->value = index;
    choice->given = unknown ? FE_GIVEN_UNKNOWN : FE_GIVEN_VALUE;
    if (entry->given != FE_GIVEN_NOT)
        choice->given = entry->given;
}

static void read_text(plan_reader *reader, const plan_entry *entry, char **text)
{
    const char *taken = entry->text;
    if (!*taken) {
        refuse(reader, entry);
        return;
    }
    if (is_unknown(taken) && entry->row->unknown) {
        taken = entry->row->unknown;
        plan_note_default(reader, entry->section, entry->key, taken,
                          PLAN_UNKNOWN ": this stands in");
    }
    *text = plan_copy(reader, taken);
}

static void read_texts(plan_reader *reader, const plan_entry *entry, fe_text_list *list)
{
    const char *at = entry->text;
    char *part = NULL;
    while (plan_next_part(reader, &at, &part)) {
        if (*part)
            add_text(reader, list, part);
        else
            refuse(reader, entry);
        free(part);
    }
}

static const char *nearest_gear(const fe_plan *plan, const char *name)
{
    fe_suggest search = fe_suggest_start(name);
    for (size_t i = 0; i < plan->gear_count; i++)
        fe_suggest_offer(&search, plan->gear[i].name);
    return search.best;
}

static const char *nearest_cable(const fe_plan *plan, const char *name)
{
    fe_suggest search = fe_suggest_start(name);
    for (size_t i = 0; i < plan->cable_count; i++)
        fe_suggest_offer(&search, plan->cables[i].name);
    return search.best;
}

/* True where the class is there. Without any catalogue that is said once, not at each name. */
static bool check_gear(plan_reader *reader, const plan_entry *entry, const char *name)
{
    const fe_plan *const plan = reader->plan;
    if (plan->gear_count == 0 || fe_plan_gear(plan, name))
        return true;
    plan_entry named = *entry;
    named.text = name;
    plan_refuse_name(reader, &named, "the name of a gear class", nearest_gear(plan, name));
    return false;
}

/* The text, or what stands in for an unknown one, which is noted. */
static const char *known_or_fallback(plan_reader *reader, const plan_entry *entry)
{
    if (!is_unknown(entry->text) || !entry->row->fallback)
        return entry->text;
    plan_note_default(reader, entry->section, entry->key, entry->row->fallback,
                      PLAN_UNKNOWN ": this stands in");
    return entry->row->fallback;
}

static void read_gear(plan_reader *reader, const plan_entry *entry, char **name)
{
    const char *const taken = known_or_fallback(reader, entry);
    if (check_gear(reader, entry, taken))
        *name = plan_copy(reader, taken);
}

static bool is_listed(const fe_text_list *list, const char *name)
{
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->items[i], name) == 0)
            return true;
    return false;
}

/* Gear is a choice: where it is open, whatever has a wired port and so may carry a building. */
static void add_any_gear(plan_reader *reader, fe_text_list *list)
{
    const fe_plan *const plan = reader->plan;
    for (size_t i = 0; i < plan->gear_count; i++)
        if (plan->gear[i].port_bps > 0.0 && !is_listed(list, plan->gear[i].name))
            add_text(reader, list, plan->gear[i].name);
}

static void read_gears(plan_reader *reader, const plan_entry *entry, fe_text_list *list)
{
    const char *at = entry->text;
    const bool any = is_unknown(at) && entry->row->fallback;
    if (any) {
        at = entry->row->fallback;
        plan_note_default(reader, entry->section, entry->key, "every class with a wired port",
                          PLAN_UNKNOWN ": the best of all");
    }
    char *part = NULL;
    while (plan_next_part(reader, &at, &part)) {
        if (check_gear(reader, entry, part))
            add_text(reader, list, part);
        free(part);
    }
    if (any)
        add_any_gear(reader, list);
}

static void read_cable(plan_reader *reader, const plan_entry *entry, char **name)
{
    const fe_plan *const plan = reader->plan;
    const char *const taken = known_or_fallback(reader, entry);
    if (plan->cable_count > 0 && !fe_plan_cable_class(plan, taken))
        plan_refuse_name(reader, entry, "the name of a cable class",
                         nearest_cable(plan, taken));
    else
        *name = plan_copy(reader, taken);
}

/* Index of an end or a path by name; SIZE_MAX where there is none. */
static size_t find_end(const fe_plan *plan, const char *name)
{
    for (size_t i = 0; i < plan->end_count; i++)
        if (plan->ends[i].name && strcmp(plan->ends[i].name, name) == 0)
            return i;
    return SIZE_MAX;
}

static size_t find_path(const fe_plan *plan, const char *name)
{
    for (size_t i = 0; i < plan->path_count; i++)
        if (plan->paths[i].name && strcmp(plan->paths[i].name, name) == 0)
            return i;
    return SIZE_MAX;
}

static void read_end(plan_reader *reader, const plan_entry *entry, size_t *index)
{
    const fe_plan *const plan = reader->plan;
    const size_t found = find_end(plan, entry->text);
    if (found != SIZE_MAX) {
        *index = found;
        return;
    }
    fe_suggest search = fe_suggest_start(entry->text);
    for (size_t i = 0; i < plan->end_count; i++)
        fe_suggest_offer(&search, plan->ends[i].name);
    plan_refuse_name(reader, entry, "the name of an end", search.best);
}

static void read_path(plan_reader *reader, const plan_entry *entry, size_t *index)
{
    const fe_plan *const plan = reader->plan;
    const size_t found = find_path(plan, entry->text);
    if (found != SIZE_MAX) {
        *index = found;
        return;
    }
    fe_suggest search = fe_suggest_start(entry->text);
    for (size_t i = 0; i < plan->path_count; i++)
        fe_suggest_offer(&search, plan->paths[i].name);
    plan_refuse_name(reader, entry, "the name of a path", search.best);
}

static void read_special(plan_reader *reader, const plan_entry *entry, void *base)
{
    plan_entry as_read = *entry;
    if (is_unknown(entry->text) && entry->row->unknown) {
        as_read.text = entry->row->unknown;
        as_read.given = FE_GIVEN_UNKNOWN;
    }
    if (!entry->row->special(reader, &as_read, base))
        refuse(reader, entry);
}

void plan_read_entry(plan_reader *reader, const plan_entry *entry, void *base)
{
    void *const member = (char *)base + entry->row->offset;
    switch (entry->row->kind) {
    case KIND_VALUE:
        read_value(reader, entry, member);
        break;
    case KIND_VALUES:
        read_values(reader, entry, member);
        break;
    case KIND_NUMBER:
        read_number(reader, entry, member);
        break;
    case KIND_FLAG:
        read_flag(reader, entry, member);
        break;
    case KIND_WORD:
        read_word(reader, entry, member);
        break;
    case KIND_TEXT:
        read_text(reader, entry, member);
        break;
    case KIND_TEXTS:
        read_texts(reader, entry, member);
        break;
    case KIND_LINES:
        add_text(reader, member, entry->text);
        break;
    case KIND_GEAR:
        read_gear(reader, entry, member);
        break;
    case KIND_GEARS:
        read_gears(reader, entry, member);
        break;
    case KIND_CABLE:
        read_cable(reader, entry, member);
        break;
    case KIND_END:
        read_end(reader, entry, member);
        break;
    case KIND_PATH:
        read_path(reader, entry, member);
        break;
    case KIND_SPECIAL:
        read_special(reader, entry, base);
        break;
    }
}

/* Arithmetic of units leaves crumbs behind the twelfth digit. */
static void print_round(double value, char *buffer, size_t size)
{
    char digits[32];
    snprintf(digits, sizeof digits, "%.12g", value);
    fe_number_print(strtod(digits, NULL), buffer, size);
}

char *plan_print_value(const plan_key *row, const fe_value *value, char *buffer, size_t size)
{
    const char *const unit = row->unit ? row->unit : fe_dimension_unit(row->dimension);
    char low[32];
    char high[32];
    print_round(value->low, low, sizeof low);
    print_round(value->high, high, sizeof high);
    if (fe_value_is_open(*value))
        snprintf(buffer, size, "%s..%s %s", low, high, unit);
    else
        snprintf(buffer, size, "%s%s%s", low, *unit ? " " : "", unit);
    return buffer;
}

void plan_note_default(plan_reader *reader, const char *section, const char *key,
                       const char *value, const char *why)
{
    fe_plan *const plan = reader->plan;
    fe_plan_default *grown = plan_grow(plan->defaults, &plan->default_count, sizeof *grown);
    if (!grown) {
        reader->no_memory = true;
        return;
    }
    plan->defaults = grown;
    grown[plan->default_count - 1] = (fe_plan_default){
        .section = plan_copy(reader, section),
        .key = plan_copy(reader, key),
        .value = plan_copy(reader, value),
        .why = plan_copy(reader, why),
    };
}
