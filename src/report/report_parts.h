/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef REPORT_REPORT_PARTS_H
#define REPORT_REPORT_PARTS_H

#include <jansson.h>
#include <stdbool.h>
#include <stddef.h>

#include "farend/figures.h"
#include "farend/outlook.h"
#include "farend/report.h"
#include "farend/solar_plan.h"

/*
 * The parts of a report. Each part has a file of its own with its words (report_X), its figures
 * and its JSON (report_X_json), so that a number cannot be in one form and not in the other.
 */
typedef struct report_writer {
    const fe_result *result;
    fe_document *doc;
    fe_gnuplot *gnuplot;
    fe_units units;
    bool figures;     /* false: words only */
    fe_status status; /* of the figures: memory only */
} report_writer;

/* A document by the site's name, else by the ends of a path: "Glen: sheet for the day". */
fe_document *report_new_document(const fe_plan *plan, size_t path, const char *what);
/* The document of a writer, handed over; on an error freed, and *doc null. */
FE_MUST_CHECK fe_status report_finish(const report_writer *writer, fe_document **doc);

/* ---- Words shared by the parts ---- */

/* True where a way's index is one of the channels. */
bool report_is_cable(const fe_way *way);
const char *report_end_name(const fe_plan *plan, size_t path, int end);
/* Name of the path where the plan has several, else null. */
const char *report_path_name(const fe_plan *plan, size_t path);
/* "shore: " before what belongs to a path where the plan has several, else empty. */
enum { REPORT_PREFIX_ROOM = 160 };
const char *report_path_prefix(const fe_plan *plan, size_t path, char room[REPORT_PREFIX_ROOM]);
/* "5 GHz, aimed pair": tells the links of a path apart. The room is the caller's. */
enum { REPORT_LABEL_ROOM = 160 };
const char *report_link(const fe_plan *plan, const fe_radio_result *radio,
                        char room[REPORT_LABEL_ROOM]);
/* What limits a way, and what it takes, with numbers of the document. */
enum { REPORT_TEXT_ROOM = 480 };
const char *report_limit(report_writer *writer, const fe_way *way, char room[REPORT_TEXT_ROOM]);
const char *report_link_limit(report_writer *writer, const fe_radio_result *radio,
                              char room[REPORT_TEXT_ROOM]);
const char *report_needs(report_writer *writer, const fe_way *way, char room[REPORT_TEXT_ROOM]);
const char *report_mount(fe_mount mount);
/* Adds a figure that was built with a status, and frees it; one that cannot be built is left
 * out. */
void report_add_figure(report_writer *writer, fe_status built, fe_figure *figure);

/* "11.5 to 14.4 V DC". The room is the caller's. */
enum { REPORT_SOURCE_ROOM = 80 };
const char *report_source_name(const fe_supply_entry *entry, char room[REPORT_SOURCE_ROOM]);
/* One source voltage in full: loads, sizes, demands, parts. */
void report_power_source(fe_document *doc, const fe_supply_entry *entry);

/* What [prices] count in; empty where they do not say. */
const char *report_currency(const fe_plan *plan);
/* What a list costs: "at least 120" where a price is missing, "no price" where all are. */
const char *report_cost(fe_document *doc, const fe_part_list *parts,
                        char room[REPORT_LABEL_ROOM]);
/* An input of the plan: its name, a value, a range of values. */
const char *report_input_name(const fe_plan_input *input, char room[REPORT_LABEL_ROOM]);
const char *report_input_value(report_writer *writer, const fe_plan_input *input, double value);
const char *report_input_range(report_writer *writer, const fe_plan_input *input, double low,
                               double high, char room[REPORT_TEXT_ROOM]);
/* Two states of a way: margins, or shares of a limit. */
const char *report_state_range(report_writer *writer, const fe_way_state *a,
                               const fe_way_state *b, char room[REPORT_TEXT_ROOM]);

/* Of a way whose length is open: what stands here is for one, and cable is bought once. */
void report_open_distance(fe_document *doc, const fe_plan *plan, size_t path);

/* From an entry to its arrester at the most (common practice, no source). */
#define REPORT_ARRESTER_WITHIN_M 1.0
/* What a data cable carries, and what any metal between two buildings asks for. */
void report_channel_rates(fe_document *doc, const fe_channel_answer *answer);
/* diameter_m of the cable; 0: a usual one */
void report_channel_power(fe_document *doc, const fe_channel_case *given,
                          const fe_channel_power *power, double diameter_m);
/* What carries where the pairs do not, as a table; and what to know of it, once. */
void report_beyond_ways(fe_document *doc, const fe_channel_answer *answer, const char *caption);
void report_beyond_notes(fe_document *doc);
struct fe_copper_place;
void report_lightning(fe_document *doc, double length_m, const struct fe_copper_place *place);
void report_copper_notes(fe_document *doc);

/* Lists of what to buy, with the plan's prices, and how it is laid. Nothing where the feed
 * fails; without a plan no prices. */
void report_buy_feed(fe_document *doc, const fe_plan *plan, const fe_supply_entry *entry);
void report_buy_solar(fe_document *doc, const fe_plan *plan, const fe_solar *solar);
/* Nothing where the cable is too long, or its posts do not carry it. */
void report_buy_cable(fe_document *doc, const fe_result *result,
                      const fe_channel_result *channel);
/* cable: what is drawn through the duct, or null */
void report_trench(fe_document *doc, const fe_plan *plan, const fe_cable_class *cable,
                   bool supply);
void report_solar(fe_document *doc, const fe_solar *solar);

/* ---- Parts ---- */

void report_verdict(report_writer *writer);
void report_ways(report_writer *writer);
void report_radio(report_writer *writer);
void report_budget(report_writer *writer, size_t radio);
void report_path(report_writer *writer, size_t radio);
/* What the profile shows standing on the ground: its words, and what a figure draws (room for
 * FE_RADIO_MOST_STANDING; returns how many). */
void report_standing(report_writer *writer, const fe_radio_result *radio,
                     const fe_hop_season *season, const char *season_name);
size_t report_standing_trees(const fe_radio_result *radio, fe_profile_trees *trees);
void report_power_rules(report_writer *writer, size_t radio);
void report_relays(report_writer *writer);
void report_overhead(report_writer *writer);
/* A run on posts in short: verdict, spans, seasons. */
void report_hung_run(fe_document *doc, const fe_plan *plan, const fe_posts_result *run);
void report_cables(report_writer *writer);
void report_feeds(report_writer *writer);
void report_assumptions(report_writer *writer);
void report_not_computed(report_writer *writer);
void report_warnings(report_writer *writer);
void report_cautions(report_writer *writer);
void report_sources(report_writer *writer);
void report_costs(report_writer *writer);
void report_way_parts(report_writer *writer, const fe_way *way);
/* Part of a verdict, where the outlook was asked for; choices as fe_result_choice has them. */
void report_overturn(report_writer *writer, size_t choice);
void report_unknowns(report_writer *writer);
void report_sensitivity(report_writer *writer);
void report_recovery(report_writer *writer);
void report_growth(report_writer *writer);
void report_calendar(report_writer *writer);
void report_improvements(report_writer *writer, const fe_improvements *found);

/* ---- JSON ---- */

/* A failure sticks, so that it is asked for once at the end. */
typedef struct report_json {
    bool failed;
} report_json;

json_t *report_json_object(report_json *json);
json_t *report_json_list(report_json *json);
/* All take the value over; a null value is a failure. */
void report_json_set(report_json *json, json_t *object, const char *key, json_t *value);
void report_json_append(report_json *json, json_t *list, json_t *value);
/* null where not finite */
void report_json_number(report_json *json, json_t *object, const char *key, double value);
void report_json_count(report_json *json, json_t *object, const char *key, size_t value);
void report_json_bool(report_json *json, json_t *object, const char *key, bool value);
/* null for a null text; bytes that are no UTF-8 become '?' */
void report_json_text(report_json *json, json_t *object, const char *key, const char *value);
json_t *report_json_string(report_json *json, const char *value);
/* The text of a root that is given up with it; FE_E_MEMORY where anything failed on the way. */
FE_MUST_CHECK fe_status report_json_write(report_json *json, json_t *root, fe_strbuf *out);

json_t *report_posts_json(report_json *json, const fe_posts_result *run);
json_t *report_ways_json(report_json *json, const fe_result *result);
json_t *report_recommended_json(report_json *json, const fe_result *result);
json_t *report_standing_json(report_json *json, const fe_radio_result *radio);
json_t *report_radio_json(report_json *json, const fe_result *result);
json_t *report_relays_json(report_json *json, const fe_result *result);
json_t *report_overhead_json(report_json *json, const fe_result *result);
json_t *report_cables_json(report_json *json, const fe_result *result);
json_t *report_hung_run_json(report_json *json, const fe_plan *plan,
                             const fe_posts_result *run);
json_t *report_feeds_json(report_json *json, const fe_result *result);
void report_channel_answer_json(report_json *json, json_t *object,
                                const fe_channel_answer *answer);
json_t *report_solar_json(report_json *json, const fe_solar *solar);
json_t *report_power_source_json(report_json *json, const fe_supply_entry *entry);
json_t *report_assumptions_json(report_json *json, const fe_result *result);
json_t *report_sources_json(report_json *json, const fe_result *result);
json_t *report_not_computed_json(report_json *json, const fe_result *result);
json_t *report_hazards_json(report_json *json, const fe_way *way);
json_t *report_parts_json(report_json *json, const fe_way *way);
json_t *report_recovery_json(report_json *json, const fe_result *result);
json_t *report_growth_json(report_json *json, const fe_result *result);
json_t *report_calendar_json(report_json *json, const fe_result *result);
json_t *report_input_json(report_json *json, const fe_plan_input *input);
json_t *report_interval_json(report_json *json, const fe_way_interval *interval);
json_t *report_unknowns_json(report_json *json, const fe_result *result);
json_t *report_overturn_json(report_json *json, const fe_result *result);
json_t *report_sensitivity_json(report_json *json, const fe_result *result);
json_t *report_improvements_json(report_json *json, const fe_result *result,
                                 const fe_improvements *found);

#endif
