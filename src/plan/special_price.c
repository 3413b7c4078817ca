/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys of [prices]: THING, or THING SIZE, with a price each or for a length. */
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/constants.h"
#include "farend/prices.h"
#include "farend/suggest.h"
#include "plan/grow.h"
#include "plan/reader.h"
#include "plan/special.h"

/* ---- The thing ---- */

static void offer_all(const fe_plan *plan, fe_suggest *search)
{
    for (size_t i = 0; i < FE_PARTS; i++)
        if (fe_part_row_of((fe_part_kind)i)->word)
            fe_suggest_offer(search, fe_part_row_of((fe_part_kind)i)->word);
    for (size_t i = 0; i < plan->gear_count; i++)
        fe_suggest_offer(search, plan->gear[i].name);
    for (size_t i = 0; i < plan->cable_count; i++)
        fe_suggest_offer(search, plan->cables[i].name);
}

static void refuse_thing(plan_reader *reader, const plan_entry *entry)
{
    fe_suggest search = fe_suggest_start(entry->key);
    offer_all(reader->plan, &search);
    fe_messages_add(reader->messages, entry->file, entry->line,
                    "[prices] %s: no class of gear or cable, nor a thing with a price%s%s%s",
                    entry->key, search.best ? "; did you mean \"" : "",
                    search.best ? search.best : "", search.best ? "\"?" : "");
}

/* The longest part of the key, up to a blank, that has a price. Names may hold blanks. */
static bool cut_thing(const fe_plan *plan, char *key, fe_part_row *sold, const char **size)
{
    for (char *end = key + strlen(key); end > key; end--) {
        if (*end && !isspace((unsigned char)*end))
            continue;
        const char held = *end;
        *end = 0;
        if (fe_price_thing(plan, key, sold)) {
            *size = held ? end + 1 : end;
            while (isspace((unsigned char)**size))
                ++*size;
            return true;
        }
        *end = held;
    }
    return false;
}

/* ---- The size ---- */

static const struct {
    fe_dimension dimension;
    const char *word; /* behind a count */
    double least;     /* beyond these it is a slip */
    double most;
    const char *expected;
    const char *example;
} KINDS[FE_SIZES] = {
    [FE_SIZE_INSIDE] = {FE_DIM_LENGTH, NULL, 0.005, 0.5, "an inner diameter", "32 mm"},
    [FE_SIZE_WIRE] = {FE_DIM_AREA, NULL, 1e-7, 5e-4, "a wire size", "2.5 mm2 or AWG 12"},
    [FE_SIZE_LENGTH] = {FE_DIM_LENGTH, NULL, 0.5, 30.0, "a length", "5 m"},
    [FE_SIZE_PORTS] = {FE_DIM_COUNT, " ports", 1.0, 1000.0, "a number of ports", "8 ports"},
    [FE_SIZE_FIBRES] = {FE_DIM_COUNT, " fibres", 1.0, 1000.0, "a number of fibres", "4 fibres"},
};

static bool parse_size(const char *text, fe_part_size kind, double *size)
{
    char number[FE_PRICE_KEY_ROOM];
    const size_t length = strlen(text);
    const size_t word = KINDS[kind].word ? strlen(KINDS[kind].word) : 0;
    if (length <= word || length >= sizeof number ||
        (word && strcmp(text + length - word, KINDS[kind].word) != 0))
        return false;
    memcpy(number, text, length - word);
    number[length - word] = 0;
    return fe_quantity_parse(number, KINDS[kind].dimension, size) == FE_OK &&
           *size >= KINDS[kind].least && *size <= KINDS[kind].most;
}

/* False, and said, where what stands behind the thing is no size of it. */
static bool read_size(plan_reader *reader, const plan_entry *entry, const char *thing,
                      const char *text, fe_part_size kind, double *size)
{
    *size = NAN;
    if (!*text || (kind != FE_SIZE_NONE && parse_size(text, kind, size)))
        return true;
    if (kind == FE_SIZE_NONE)
        fe_messages_add(reader->messages, entry->file, entry->line,
                        "[prices] %s: read \"%s\" behind %s, which has no price by size; "
                        "expected for example %s = %s",
                        entry->key, text, thing, thing, entry->text);
    else
        fe_messages_add(reader->messages, entry->file, entry->line,
                        "[prices] %s: read \"%s\" behind %s, expected %s, for example %s %s",
                        entry->key, text, thing, KINDS[kind].expected, thing,
                        KINDS[kind].example);
    return false;
}

/* ---- The price ---- */

typedef enum price_ending { PRICE_PLAIN, PRICE_EACH, PRICE_LENGTH } price_ending;

/* Cuts a trailing " per m" or " each" off; *one_m is the length that a price is for. */
static price_ending cut_ending(char *text, double *one_m)
{
    static const struct {
        const char *text;
        price_ending ending;
        bool foot;
    } ENDINGS[] = {
        {" per m", PRICE_LENGTH, false},   {" per metre", PRICE_LENGTH, false},
        {"/m", PRICE_LENGTH, false},       {" per ft", PRICE_LENGTH, true},
        {" per foot", PRICE_LENGTH, true}, {"/ft", PRICE_LENGTH, true},
        {" each", PRICE_EACH, false},
    };
    const size_t length = strlen(text);
    for (size_t i = 0; i < sizeof ENDINGS / sizeof ENDINGS[0]; i++) {
        const size_t ending = strlen(ENDINGS[i].text);
        if (length <= ending || strcmp(text + length - ending, ENDINGS[i].text) != 0)
            continue;
        text[length - ending] = 0;
        *one_m = ENDINGS[i].foot ? FE_FOOT_M : 1.0;
        return ENDINGS[i].ending;
    }
    return PRICE_PLAIN;
}

/* A plain number is a price each; what is sold by length has to say so. */
static bool is_sold_so(plan_reader *reader, const plan_entry *entry, const char *thing,
                       bool per_m, price_ending ending)
{
    if (per_m ? ending == PRICE_LENGTH : ending != PRICE_LENGTH)
        return true;
    fe_messages_add(reader->messages, entry->file, entry->line,
                    "[prices] %s: read \"%s\", but %s is sold %s, expected for example %s = %s",
                    entry->key, entry->text, thing, per_m ? "by length" : "by the piece",
                    entry->key, per_m ? "0.90 per m" : "12 each");
    return false;
}

static bool is_new(plan_reader *reader, const plan_entry *entry, const fe_plan_prices *prices,
                   const char *thing, double size)
{
    static const double SAME = 1e-6;
    for (size_t i = 0; i < prices->count; i++) {
        const fe_plan_price *before = &prices->items[i];
        const bool same =
            isnan(size) ? isnan(before->size) : fabs(before->size - size) <= SAME * size;
        if (strcmp(before->thing, thing) != 0 || !same)
            continue;
        fe_messages_add(reader->messages, entry->file, entry->line,
                        "[prices] %s: has a price already, in line %d; leave one of both",
                        entry->key, before->line);
        return false;
    }
    return true;
}

static void add_price(plan_reader *reader, fe_plan_prices *prices, fe_plan_price price,
                      const char *thing)
{
    price.thing = plan_copy(reader, thing);
    fe_plan_price *grown =
        price.thing ? plan_grow(prices->items, &prices->count, sizeof *grown) : NULL;
    if (!grown) {
        reader->no_memory = true;
        free(price.thing);
        return;
    }
    prices->items = grown;
    grown[prices->count - 1] = price;
}

/* False: what is before the ending is no amount of money. */
static bool read_price(plan_reader *reader, const plan_entry *entry, const char *thing,
                       const fe_part_row *sold, const char *size_text, char *text,
                       fe_plan_prices *prices)
{
    fe_value amount = {0};
    fe_plan_price price = {.each = NAN, .per_m = NAN, .line = entry->line};
    double one_m = 1.0;
    const price_ending ending = cut_ending(text, &one_m);
    if (!plan_parse_value(entry, text, FE_DIM_MONEY, &amount) || amount.given != FE_GIVEN_VALUE)
        return false;
    /* Each of them says what it misses; all are said in one go. */
    const bool sized = read_size(reader, entry, thing, size_text, sold->size, &price.size);
    const bool so = is_sold_so(reader, entry, thing, sold->per_m, ending);
    if (!plan_is_sane(reader, entry, FE_DIM_MONEY, &amount) || !sized || !so ||
        !is_new(reader, entry, prices, thing, price.size))
        return true;
    *(sold->per_m ? &price.per_m : &price.each) = amount.typical / one_m;
    add_price(reader, prices, price, thing);
    return true;
}

bool plan_special_price(plan_reader *reader, const plan_entry *entry, void *base)
{
    fe_part_row sold = {0};
    const char *size = "";
    char *const thing = plan_copy(reader, entry->key);
    char *const text = plan_copy(reader, entry->text);
    bool good = true;
    if (thing && text && !cut_thing(reader->plan, thing, &sold, &size))
        refuse_thing(reader, entry);
    else if (thing && text)
        good = read_price(reader, entry, thing, &sold, size, text, base);
    free(thing);
    free(text);
    return good;
}
