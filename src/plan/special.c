/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/special.h"

#include <ctype.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/name.h"
#include "farend/constants.h"
#include "farend/suggest.h"
#include "farend/wall.h"
#include "plan/grow.h"
#include "plan/reader.h"

/* An item more at the end of an array of the plan; null, and noted, without memory. */
static void *append(plan_reader *reader, void *items, size_t *count, size_t size)
{
    void *const grown = plan_grow(items, count, size);
    if (!grown)
        reader->no_memory = true;
    return grown;
}

static const char *skip_blanks(const char *text)
{
    while (isspace((unsigned char)*text))
        text++;
    return text;
}

/* ---- places and words ---- */

bool plan_special_bands(plan_reader *reader, const plan_entry *entry, void *base)
{
    fe_plan_site *const site = base;
    const char *at = entry->text;
    char *part = NULL;
    bool good = true;
    while (plan_next_part(reader, &at, &part)) {
        fe_band band = FE_BANDS;
        if (fe_band_from_text(part, &band) == FE_OK)
            site->bands[band] = true;
        else
            good = false;
        free(part);
    }
    site->bands_given = true;
    return good;
}

bool plan_special_band(plan_reader *reader, const plan_entry *entry, void *base)
{
    fe_plan_reading *const reading = base;
    fe_band band = FE_BANDS;
    (void)reader;
    if (fe_band_from_text(entry->text, &band) != FE_OK)
        return false;
    reading->band = (fe_choice){(int)band, FE_GIVEN_VALUE};
    return true;
}

bool plan_special_conductor(plan_reader *reader, const plan_entry *entry, void *base)
{
    static const char *const METALS[] = {"copper", "aluminium", "aluminum", NULL};
    fe_plan_feed *const feed = base;
    const char *at = entry->text;
    char *part = NULL;
    bool good = true;
    while (plan_next_part(reader, &at, &part)) {
        const int metal = plan_word_index(METALS, part);
        if (metal == 0)
            feed->copper = true;
        else if (metal > 0)
            feed->aluminium = true;
        else
            good = false;
        free(part);
    }
    return good;
}

bool plan_special_places(plan_reader *reader, const plan_entry *entry, void *base)
{
    fe_plan_relay *const relay = base;
    const char *at = entry->text;
    char *part = NULL;
    bool good = true;
    if (name_same(at, "anywhere")) {
        relay->anywhere = true;
        return true;
    }
    while (plan_next_part(reader, &at, &part)) {
        fe_value place = {0};
        if (!plan_parse_value(entry, part, FE_DIM_LENGTH, &place))
            good = false;
        else if (plan_is_sane(reader, entry, FE_DIM_LENGTH, &place))
            plan_add_value(reader, &relay->places_m, place);
        free(part);
    }
    return good;
}

bool plan_special_climate_class(plan_reader *reader, const plan_entry *entry, void *base)
{
    fe_plan_climate *const climate = base;
    const fe_plan *const plan = reader->plan;
    fe_suggest search = fe_suggest_start(entry->text);
    if (climate->name) {
        fe_messages_add(reader->messages, entry->file, entry->line,
                        "[%s] %s: a class takes nothing from another; write its figures",
                        entry->section, entry->key);
        return true;
    }
    for (size_t i = 0; i < plan->climate_count; i++) {
        if (strcmp(plan->climates[i].name, entry->text) == 0) {
            climate->class_name = plan_copy(reader, entry->text);
            return true;
        }
        fe_suggest_offer(&search, plan->climates[i].name);
    }
    plan_refuse_name(reader, entry, "the name of a climate class", search.best);
    return true;
}

/* ---- quantities in a form ---- */

/* Where the thickness begins in "brick 110 mm": at the first number after a blank. */
static const char *find_thickness(const char *text)
{
    for (const char *at = text; *at; at++)
        if (isspace((unsigned char)*at) &&
            (isdigit((unsigned char)at[1]) || at[1] == '.' || at[1] == '-'))
            return at;
    return NULL;
}

/* `brick unknown`: half to twice the usual thickness. */
static bool strip_unknown(char *kind)
{
    const size_t length = strlen(kind);
    if (length < 9 || !name_same(kind + length - 8, " unknown"))
        return false;
    kind[length - 8] = 0;
    return true;
}

static void refuse_wall_kind(plan_reader *reader, const plan_entry *entry, const char *kind)
{
    size_t count = 0;
    const fe_wall_kind *const kinds = fe_wall_kind_table(&count);
    fe_suggest search = fe_suggest_start(kind);
    for (size_t i = 0; i < count; i++) {
        fe_suggest_offer(&search, kinds[i].name);
        if (kinds[i].also)
            fe_suggest_offer(&search, kinds[i].also);
    }
    plan_refuse_name(reader, entry, "a kind of wall", search.best);
}

static bool clashes_with_unknown(const fe_plan_end *end, const char *kind)
{
    const bool unknown = name_same(kind, "unknown");
    for (size_t i = 0; i < end->wall_count; i++)
        if (unknown || name_same(end->walls[i].kind, "unknown"))
            return true;
    return false;
}

static void add_wall(plan_reader *reader, fe_plan_end *end, const char *kind,
                     fe_value thickness_m)
{
    fe_plan_wall *grown = append(reader, end->walls, &end->wall_count, sizeof *grown);
    if (!grown)
        return;
    end->walls = grown;
    grown[end->wall_count - 1] = (fe_plan_wall){plan_copy(reader, kind), thickness_m};
    if (!grown[end->wall_count - 1].kind)
        end->wall_count--;
}

static void take_wall(plan_reader *reader, const plan_entry *entry, fe_plan_end *end,
                      char *kind, fe_value thickness_m)
{
    const bool unknown_thickness = strip_unknown(kind);
    const fe_wall_kind *const known = fe_wall_kind_find(kind);
    if (clashes_with_unknown(end, kind)) {
        plan_refuse_as(reader, entry,
                       "either `unknown` alone or the walls themselves: an unknown wall "
                       "stands for all of them");
        return;
    }
    if (!known && !name_same(kind, "unknown")) {
        refuse_wall_kind(reader, entry, kind);
        return;
    }
    if (unknown_thickness && known) {
        const double usual_m = fe_wall_kind_thickness_m(known);
        thickness_m = (fe_value){0.5 * usual_m, usual_m, 2.0 * usual_m, FE_GIVEN_UNKNOWN};
    }
    add_wall(reader, end, kind, thickness_m);
}

bool plan_special_wall(plan_reader *reader, const plan_entry *entry, void *base)
{
    const char *const number = find_thickness(entry->text);
    const char *const end = number ? number : entry->text + strlen(entry->text);
    fe_value thickness_m = {0};
    if (number && !plan_parse_value(entry, number, FE_DIM_LENGTH, &thickness_m))
        return false;
    if (number && !plan_is_sane(reader, entry, FE_DIM_LENGTH, &thickness_m))
        return true;
    char *kind = plan_copy_part(reader, entry->text, end);
    if (kind && *kind)
        take_wall(reader, entry, base, kind, thickness_m);
    const bool good = !kind || *kind;
    free(kind);
    return good;
}

bool plan_special_position(plan_reader *reader, const plan_entry *entry, void *base)
{
    static const double POLE_RAD = 0.5 * FE_PI;
    fe_plan_end *const end = base;
    fe_value angles[2] = {0};
    const char *at = entry->text;
    char *part = NULL;
    size_t count = 0;
    bool good = true;
    while (plan_next_part(reader, &at, &part)) {
        good = good && count < 2 && plan_parse_value(entry, part, FE_DIM_ANGLE, &angles[count]);
        count++;
        free(part);
    }
    /* A tenth of a millionth beyond, for a pole in radians to eight digits. */
    const double slack = 1.0 + 1e-7;
    if (!good || count != 2 || !(fabs(angles[0].low) <= POLE_RAD * slack) ||
        !(fabs(angles[0].high) <= POLE_RAD * slack) ||
        !(fabs(angles[1].low) <= 2.0 * POLE_RAD * slack) ||
        !(fabs(angles[1].high) <= 2.0 * POLE_RAD * slack))
        return false;
    end->latitude_rad = angles[0];
    end->longitude_rad = angles[1];
    return true;
}

/* Sane by themselves: a byte to a petabyte, a second to a month. */
static bool is_sane_transfer(const fe_value *data_bit, const fe_value *time_s)
{
    return data_bit->low >= 8.0 && data_bit->high <= 8e15 && time_s->low >= 1.0 &&
           time_s->high <= 31.0 * 86400.0;
}

bool plan_special_transfer(plan_reader *reader, const plan_entry *entry, void *base)
{
    fe_plan_traffic *const traffic = base;
    const char *const in = strstr(entry->text, " in ");
    fe_value data_bit = {0};
    fe_value time_s = {0};
    if (!in)
        return false;
    char *const data = plan_copy_part(reader, entry->text, in);
    const bool good = data && plan_parse_value(entry, data, FE_DIM_DATA, &data_bit) &&
                      plan_parse_value(entry, in + 4, FE_DIM_TIME, &time_s);
    free(data);
    if (!good)
        return false;
    if (!is_sane_transfer(&data_bit, &time_s)) {
        plan_refuse_as(reader, entry, "1 B to 1000 TB in 1 s to 31 days");
        return true;
    }
    traffic->transfer_bit = data_bit;
    traffic->transfer_s = time_s;
    return true;
}

bool plan_special_section(plan_reader *reader, const plan_entry *entry, void *base)
{
    static const char *const SHAPES[] = {"square", "round", NULL};
    fe_plan_posts *const posts = base;
    const char *const blank = strchr(entry->text, ' ');
    fe_value size_m = {0};
    if (!blank)
        return false;
    char *const word = plan_copy_part(reader, entry->text, blank);
    const int shape = word ? plan_word_index(SHAPES, word) : -1;
    free(word);
    if (shape < 0 || !plan_parse_value(entry, blank, FE_DIM_LENGTH, &size_m))
        return false;
    if (!plan_is_sane(reader, entry, FE_DIM_LENGTH, &size_m))
        return true;
    posts->round = (fe_choice){shape, size_m.given};
    posts->section_m = size_m;
    return true;
}

/*
 * Cuts "40 m 30 deg" at the blank where both sides are quantities; both units may hold blanks.
 * Null where there is no such place.
 */
static const char *split_quantities(plan_reader *reader, const plan_entry *entry,
                                    const char *text, fe_dimension first, fe_value *a,
                                    fe_dimension second, fe_value *b)
{
    for (const char *at = strchr(text, ' '); at; at = strchr(at + 1, ' ')) {
        char *const left = plan_copy_part(reader, text, at);
        const bool good = left && plan_parse_value(entry, left, first, a) &&
                          plan_parse_value(entry, at, second, b);
        free(left);
        if (good)
            return at;
    }
    return NULL;
}

/* The side that the text ends with, and where the rest ends; null: it names none. */
static const char *side_at_end(const char *text, const char **end)
{
    static const char *const SIDES[] = {"left", "right"};
    const char *const blank = strrchr(text, ' ');
    *end = text + strlen(text);
    for (size_t i = 0; blank && i < sizeof SIDES / sizeof SIDES[0]; i++)
        if (strcmp(blank + 1, SIDES[i]) == 0) {
            *end = blank;
            return SIDES[i];
        }
    return NULL;
}

bool plan_special_corner(plan_reader *reader, const plan_entry *entry, void *base)
{
    fe_plan_posts *const posts = base;
    fe_value at_m = {0};
    fe_value turn_rad = {0};
    const char *end = NULL;
    const char *const side = side_at_end(entry->text, &end);
    char *const numbers = plan_copy_part(reader, entry->text, end);
    const bool good = numbers && split_quantities(reader, entry, numbers, FE_DIM_LENGTH, &at_m,
                                                  FE_DIM_ANGLE, &turn_rad);
    free(numbers);
    /* Half a turn would lead straight back. */
    if (!good || at_m.given != FE_GIVEN_VALUE || turn_rad.given != FE_GIVEN_VALUE ||
        !(at_m.low >= 0.0) || !(fabs(turn_rad.low) < FE_PI))
        return false;
    fe_plan_corner *grown = append(reader, posts->corners, &posts->corner_count, sizeof *grown);
    if (!grown)
        return true;
    posts->corners = grown;
    grown[posts->corner_count - 1] = (fe_plan_corner){
        .line = entry->line, .at_m = at_m.typical, .turn_rad = turn_rad.typical, .side = side};
    return true;
}

/* The thing that the text begins with; *rest is what follows. -1: none. */
static int scan_thing(const char *text, const char **rest)
{
    for (int i = 0; i < FE_BELOW_LAST; i++) {
        const char *name = fe_limits_below_name((fe_thing_below)i);
        const size_t length = strlen(name);
        char word[32] = "";
        if (strlen(text) < length || (text[length] && text[length] != ' '))
            continue;
        memcpy(word, text, length);
        if (!name_same(word, name))
            continue;
        *rest = skip_blanks(text + length);
        return i;
    }
    return -1;
}

/* Cuts "40 m..44 m vehicles 5.5 m" into stretch, thing and clearance. */
static bool parse_over(plan_reader *reader, const plan_entry *entry, fe_value *stretch_m,
                       int *thing, fe_value *clearance_m)
{
    for (const char *at = strchr(entry->text, ' '); at; at = strchr(at + 1, ' ')) {
        const char *rest = NULL;
        *thing = scan_thing(skip_blanks(at), &rest);
        if (*thing < 0)
            continue;
        char *const left = plan_copy_part(reader, entry->text, at);
        const bool good = left && plan_parse_value(entry, left, FE_DIM_LENGTH, stretch_m);
        free(left);
        return good && (!*rest || plan_parse_value(entry, rest, FE_DIM_LENGTH, clearance_m));
    }
    return false;
}

/* Takes the name over. */
static void add_crossing(plan_reader *reader, fe_plan_posts *posts, fe_plan_crossing crossing)
{
    fe_plan_crossing *grown =
        append(reader, posts->crossings, &posts->crossing_count, sizeof *grown);
    if (!grown) {
        free(crossing.name);
        return;
    }
    posts->crossings = grown;
    grown[posts->crossing_count - 1] = crossing;
}

bool plan_special_over(plan_reader *reader, const plan_entry *entry, void *base)
{
    static const double HIGHEST_CLEARANCE_M = 30.0;
    fe_plan_posts *const posts = base;
    fe_value stretch_m = {0};
    fe_value clearance_m = {0};
    int thing = -1;
    if (!parse_over(reader, entry, &stretch_m, &thing, &clearance_m) ||
        stretch_m.given == FE_GIVEN_UNKNOWN || clearance_m.low < 0.0 ||
        clearance_m.high > HIGHEST_CLEARANCE_M ||
        (fe_limits_is_roof((fe_thing_below)thing) && !(clearance_m.low > 0.0)))
        return false;
    if (!plan_is_sane(reader, entry, FE_DIM_LENGTH, &stretch_m))
        return true;
    add_crossing(reader, posts,
                 (fe_plan_crossing){
                     .name = plan_copy(reader, entry->key + strlen("over ")),
                     .line = entry->line,
                     .from_m = stretch_m.low,
                     .to_m = stretch_m.high,
                     .below = (fe_thing_below)thing,
                     .clearance_m = clearance_m,
                 });
    return true;
}

/* "40 m..44 m 1.5 m": a stretch, and how far from the line the thing stands. */
bool plan_special_beside(plan_reader *reader, const plan_entry *entry, void *base)
{
    fe_value stretch_m = {0};
    fe_value away_m = {0};
    if (!split_quantities(reader, entry, entry->text, FE_DIM_LENGTH, &stretch_m, FE_DIM_LENGTH,
                          &away_m) ||
        stretch_m.given == FE_GIVEN_UNKNOWN || away_m.given != FE_GIVEN_VALUE ||
        !(away_m.low > 0.0))
        return false;
    if (plan_is_sane(reader, entry, FE_DIM_LENGTH, &stretch_m))
        add_crossing(reader, base,
                     (fe_plan_crossing){
                         .name = plan_copy(reader, entry->key + strlen("beside ")),
                         .line = entry->line,
                         .from_m = stretch_m.low,
                         .to_m = stretch_m.high,
                         .beside = true,
                         .clearance_m = away_m,
                     });
    return true;
}

bool plan_special_along(plan_reader *reader, const plan_entry *entry, void *base)
{
    fe_plan_trench *const trench = base;
    fe_value length_m = {0};
    trench->along_path = name_same(entry->text, "path");
    if (trench->along_path)
        return true; /* the length follows when the ground is known */
    if (!plan_parse_value(entry, entry->text, FE_DIM_LENGTH, &length_m))
        return false;
    if (plan_is_sane(reader, entry, FE_DIM_LENGTH, &length_m))
        trench->length_m = length_m;
    return true;
}

/* Cuts a trailing "ac" or "dc" off; without one, what is usual at the voltage. */
static int cut_current_kind(char *text)
{
    static const char *const KINDS[] = {"dc", "ac", NULL};
    char *const blank = strrchr(text, ' ');
    const int kind = blank ? plan_word_index(KINDS, blank + 1) : -1;
    if (kind >= 0)
        *blank = 0;
    return kind;
}

bool plan_special_voltage(plan_reader *reader, const plan_entry *entry, void *base)
{
    static const double LOWEST_USUAL_AC_V = 100.0;
    fe_plan_feed *const feed = base;
    fe_value voltage_v = {0};
    char *const text = plan_copy(reader, entry->text);
    if (!text)
        return true;
    const int kind = cut_current_kind(text);
    const bool good = plan_parse_value(entry, text, FE_DIM_VOLTAGE, &voltage_v);
    free(text);
    if (!good)
        return false;
    if (!plan_is_sane(reader, entry, FE_DIM_VOLTAGE, &voltage_v))
        return true;
    fe_plan_source *grown = append(reader, feed->sources, &feed->source_count, sizeof *grown);
    if (!grown)
        return true;
    feed->sources = grown;
    grown[feed->source_count - 1] = (fe_plan_source){
        .volt = voltage_v.typical,
        .ac = kind >= 0 ? kind == 1 : voltage_v.typical >= LOWEST_USUAL_AC_V,
        .voltage_v = voltage_v,
    };
    return true;
}

/* ---- keys that are names ---- */

bool plan_special_own(plan_reader *reader, const plan_entry *entry, void *base)
{
    fe_plan *const plan = base;
    fe_value count = {0};
    if (plan->gear_count > 0 && !fe_plan_gear(plan, entry->key)) {
        fe_suggest search = fe_suggest_start(entry->key);
        for (size_t i = 0; i < plan->gear_count; i++)
            fe_suggest_offer(&search, plan->gear[i].name);
        fe_messages_add(reader->messages, entry->file, entry->line,
                        "[own] %s: no such gear class%s%s%s", entry->key,
                        search.best ? "; did you mean \"" : "", search.best ? search.best : "",
                        search.best ? "\"?" : "");
        return true;
    }
    if (!plan_parse_value(entry, entry->text, FE_DIM_COUNT, &count) ||
        count.given != FE_GIVEN_VALUE)
        return false;
    if (!plan_is_sane(reader, entry, FE_DIM_COUNT, &count))
        return true;
    for (size_t i = 0; i < plan->owned_count; i++)
        if (strcmp(plan->owned[i].gear, entry->key) == 0) {
            plan_refuse_again(reader, entry);
            return true;
        }
    fe_plan_owned *grown = append(reader, plan->owned, &plan->owned_count, sizeof *grown);
    if (!grown)
        return true;
    plan->owned = grown;
    grown[plan->owned_count - 1] =
        (fe_plan_owned){plan_copy(reader, entry->key), (unsigned)count.typical};
    return true;
}

/* ---- gear and cable classes ---- */

/* FIGURE: TEXT. */
static bool add_source(plan_reader *reader, const plan_entry *entry, char ***sources,
                       size_t *count)
{
    const char *const colon = strchr(entry->text, ':');
    if (!colon || colon == entry->text || !*skip_blanks(colon + 1))
        return false;
    char **grown = append(reader, *sources, count, sizeof *grown);
    if (!grown)
        return true;
    *sources = grown;
    grown[*count - 1] = plan_copy(reader, entry->text);
    if (!grown[*count - 1])
        --*count;
    return true;
}

bool plan_special_gear_source(plan_reader *reader, const plan_entry *entry, void *base)
{
    fe_gear *const gear = base;
    return add_source(reader, entry, &gear->sources, &gear->source_count);
}

bool plan_special_cable_source(plan_reader *reader, const plan_entry *entry, void *base)
{
    fe_cable_class *const cable = base;
    return add_source(reader, entry, &cable->sources, &cable->source_count);
}

bool plan_special_medium(plan_reader *reader, const plan_entry *entry, void *base)
{
    static const char *const MEDIA[] = {"copper pairs", "single pair", "fibre", "supply", NULL};
    fe_cable_class *const cable = base;
    const int medium = plan_word_index(MEDIA, entry->text);
    (void)reader;
    if (medium < 0)
        return false;
    cable->medium = (fe_medium)medium;
    return true;
}

bool plan_special_category(plan_reader *reader, const plan_entry *entry, void *base)
{
    fe_cable_class *const cable = base;
    (void)reader;
    if (!*entry->text || strlen(entry->text) >= sizeof cable->category)
        return false;
    strcpy(cable->category, entry->text);
    return true;
}

bool plan_special_mass(plan_reader *reader, const plan_entry *entry, void *base)
{
    fe_cable_class *const cable = base;
    fe_value mass_kg_m = {0};
    if (!plan_parse_value(entry, entry->text, FE_DIM_LINEAR_MASS, &mass_kg_m) ||
        fe_value_is_open(mass_kg_m))
        return false;
    if (plan_is_sane(reader, entry, FE_DIM_LINEAR_MASS, &mass_kg_m))
        cable->weight_n_m = FE_GRAVITY_M_S2 * mass_kg_m.typical;
    return true;
}

/* Figures of a radio line. The bounds are those beyond which a figure is a slip. */
typedef struct radio_figure {
    const char *name;
    fe_dimension dimension;
    size_t offset;
    double low; /* in the dimension's unit */
    double high;
    double fallback; /* NAN: has to be given */
} radio_figure;

#define RADIO(member) offsetof(fe_radio, member)

static const radio_figure RADIO_FIGURES[] = {
    /* name, dimension, member, low, high, fallback */
    {"width", FE_DIM_FREQUENCY, RADIO(width_hz), 0.5e6, 9e9, NAN},
    {"power", FE_DIM_LEVEL, RADIO(power_dbm), -30.0, 50.0, NAN},
    {"falloff", FE_DIM_RATIO, RADIO(falloff_db), 0.0, 20.0, 4.0},
    {"gain", FE_DIM_GAIN, RADIO(gain_dbi), -20.0, 50.0, NAN},
    {"beam", FE_DIM_ANGLE, RADIO(beam_rad), 0.001, 6.2832, 6.283185307179586},
    {"tilt-beam", FE_DIM_ANGLE, RADIO(tilt_beam_rad), 0.001, 6.2832, 1.0471975511965976},
    {"bonus", FE_DIM_RATIO, RADIO(receiver_bonus_db), -10.0, 20.0, 0.0},
};
enum { RADIO_FIGURE_COUNT = sizeof RADIO_FIGURES / sizeof RADIO_FIGURES[0] };

static const char *const STANDARDS[] = {"ht", "vht", "he", "eht", "s1g", "dmg", "ofdm", NULL};
static const char *const POLARISATIONS[] = {"vertical", "horizontal", "dual", NULL};

typedef struct radio_reading {
    fe_radio radio;
    bool seen[RADIO_FIGURE_COUNT];
    bool has_band;
    bool has_standard;
    bool has_streams;
    bool has_polarisation;
} radio_reading;

static bool is_pair(const char *part, const char *name, const char **value)
{
    const size_t length = strlen(name);
    if (strncmp(part, name, length) != 0 || part[length] != ' ')
        return false;
    *value = skip_blanks(part + length);
    return true;
}

static bool read_streams(const char *text, unsigned *streams)
{
    double count = 0.0;
    if (fe_quantity_parse(text, FE_DIM_COUNT, &count) != FE_OK || count < 1.0 || count > 8.0)
        return false;
    *streams = (unsigned)count;
    return true;
}

static bool read_standard(const char *text, fe_radio *radio)
{
    const int standard = plan_word_index(STANDARDS, text);
    if (standard >= 0)
        strcpy(radio->standard, STANDARDS[standard]);
    return standard >= 0;
}

static bool read_polarisation(const char *text, fe_radio *radio)
{
    const int polarisation = plan_word_index(POLARISATIONS, text);
    if (polarisation >= 0)
        radio->polarisation = (fe_antenna_polarisation)polarisation;
    return polarisation >= 0;
}

/* False where the part is no such word, has no such value or stood there before. */
static bool read_radio_word(const char *part, radio_reading *into)
{
    fe_radio *const radio = &into->radio;
    const char *value = NULL;
    if (is_pair(part, "band", &value) && !into->has_band)
        return into->has_band = fe_band_from_text(value, &radio->band) == FE_OK;
    if (is_pair(part, "streams", &value) && !into->has_streams)
        return into->has_streams = read_streams(value, &radio->streams);
    if (is_pair(part, "standard", &value) && !into->has_standard)
        return into->has_standard = read_standard(value, radio);
    if (is_pair(part, "polarisation", &value) && !into->has_polarisation)
        return into->has_polarisation = read_polarisation(value, radio);
    return false;
}

static bool read_radio_figure(const char *part, radio_reading *into)
{
    for (size_t i = 0; i < RADIO_FIGURE_COUNT; i++) {
        const radio_figure *const figure = &RADIO_FIGURES[i];
        const char *text = NULL;
        double value = 0.0;
        if (!is_pair(part, figure->name, &text))
            continue;
        if (into->seen[i] || fe_quantity_parse(text, figure->dimension, &value) != FE_OK ||
            !(value >= figure->low) || !(value <= figure->high))
            return false;
        memcpy((char *)&into->radio + figure->offset, &value, sizeof value);
        into->seen[i] = true;
        return true;
    }
    return false;
}

/* The first figure that is missing; null where none is. Sets those that have a default. */
static const char *complete_radio(radio_reading *into)
{
    if (!into->has_band)
        return "band";
    if (!into->has_standard)
        return "standard";
    if (!into->has_streams)
        into->radio.streams = 1;
    for (size_t i = 0; i < RADIO_FIGURE_COUNT; i++) {
        const radio_figure *const figure = &RADIO_FIGURES[i];
        if (into->seen[i])
            continue;
        if (isnan(figure->fallback))
            return figure->name;
        memcpy((char *)&into->radio + figure->offset, &figure->fallback, sizeof(double));
    }
    return NULL;
}

static bool read_radio_parts(plan_reader *reader, const plan_entry *entry, radio_reading *into)
{
    const char *at = entry->text;
    char *part = NULL;
    bool good = true;
    while (plan_next_part(reader, &at, &part)) {
        if (!read_radio_word(part, into) && !read_radio_figure(part, into)) {
            plan_entry faulty = *entry;
            faulty.text = part;
            plan_refuse_as(reader, &faulty,
                           "one of band, standard, width, streams, power, falloff, gain, "
                           "beam, tilt-beam, bonus, polarisation, each once with its value");
            good = false;
        }
        free(part);
    }
    return good;
}

bool plan_special_radio(plan_reader *reader, const plan_entry *entry, void *base)
{
    fe_gear *const gear = base;
    radio_reading read = {.radio.polarisation = FE_ANTENNA_VERTICAL};
    if (!read_radio_parts(reader, entry, &read))
        return true;
    const char *const missing = complete_radio(&read);
    if (missing) {
        char expected[64];
        snprintf(expected, sizeof expected, "a %s with the others", missing);
        plan_refuse_as(reader, entry, expected);
        return true;
    }
    if (gear->radio_count == FE_GEAR_MOST_RADIOS || fe_gear_radio(gear, read.radio.band)) {
        plan_refuse_as(reader, entry, "one radio for each band");
        return true;
    }
    gear->radios[gear->radio_count++] = read.radio;
    return true;
}
