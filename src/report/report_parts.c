/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/report_parts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool report_is_cable(const fe_way *way)
{
    return way->kind == FE_WAY_COPPER_POSTS || way->kind == FE_WAY_COPPER_BURIED ||
           way->kind == FE_WAY_FIBRE_POSTS || way->kind == FE_WAY_FIBRE_BURIED ||
           way->kind == FE_WAY_SINGLE_PAIR;
}

const char *report_end_name(const fe_plan *plan, size_t path, int end)
{
    const fe_plan_path *way = &plan->paths[path];
    return plan->ends[end == 0 ? way->from : way->to].name;
}

fe_document *report_new_document(const fe_plan *plan, size_t path, const char *what)
{
    if (plan->site.name && *plan->site.name)
        return fe_document_new("%s: %s", plan->site.name, what);
    return fe_document_new("From %s to %s: %s", report_end_name(plan, path, 0),
                           report_end_name(plan, path, 1), what);
}

fe_status report_finish(const report_writer *writer, fe_document **doc)
{
    fe_status status = fe_document_status(writer->doc);
    if (status >= 0 && writer->status < 0)
        status = writer->status;
    if (status < 0)
        fe_document_free(writer->doc);
    *doc = status < 0 ? NULL : writer->doc;
    return status < 0 ? status : FE_OK;
}

const char *report_path_name(const fe_plan *plan, size_t path)
{
    return plan->path_count > 1 ? plan->paths[path].name : NULL;
}

const char *report_path_prefix(const fe_plan *plan, size_t path, char room[REPORT_PREFIX_ROOM])
{
    const char *name = report_path_name(plan, path);
    room[0] = '\0';
    if (name)
        snprintf(room, REPORT_PREFIX_ROOM, "%s: ", name);
    return room;
}

void report_open_distance(fe_document *doc, const fe_plan *plan, size_t path)
{
    const fe_plan_path *way = &plan->paths[path];
    if (fe_value_is_open(way->distance_m))
        fe_document_paragraph(
            doc,
            "%s of way are given; this is for %s. Tape it before anything is ordered, dug or "
            "cut.",
            fe_amount_range(doc, way->distance_m.low, way->distance_m.high, FE_STYLE_DISTANCE),
            fe_amount(doc, fe_profile_length(&way->profile), FE_STYLE_DISTANCE));
}

const char *report_link(const fe_plan *plan, const fe_radio_result *radio,
                        char room[REPORT_LABEL_ROOM])
{
    char path[REPORT_PREFIX_ROOM];
    snprintf(room, REPORT_LABEL_ROOM, "%s%s, %s", report_path_prefix(plan, radio->path, path),
             fe_band_name(radio->band), radio->directional ? "aimed pair" : "direct");
    return room;
}

const char *report_mount(fe_mount mount)
{
    static const char *const WORDS[] = {
        [FE_MOUNT_INDOORS] = "indoors",
        [FE_MOUNT_OUTDOORS] = "outdoors",
        [FE_MOUNT_BEHIND_GLASS] = "behind a window",
    };
    return WORDS[mount];
}

void report_add_figure(report_writer *writer, fe_status built, fe_figure *figure)
{
    fe_status status = built;
    if (built >= 0 && writer->figures)
        status = fe_figure_add(figure, writer->gnuplot, writer->doc);
    fe_figure_free(figure);
    /* A figure with nothing to draw is no figure; the words beside it say what there is. */
    if (status == FE_E_MEMORY)
        writer->status = FE_E_MEMORY;
}

/* ---- JSON ---- */

json_t *report_json_object(report_json *json)
{
    json_t *object = json_object();
    json->failed = json->failed || !object;
    return object;
}

json_t *report_json_list(report_json *json)
{
    json_t *list = json_array();
    json->failed = json->failed || !list;
    return list;
}

void report_json_set(report_json *json, json_t *object, const char *key, json_t *value)
{
    /* A null object or value makes it fail; the value is let go in any case. */
    if (json_object_set_new(object, key, value) != 0)
        json->failed = true;
}

void report_json_append(report_json *json, json_t *list, json_t *value)
{
    if (json_array_append_new(list, value) != 0)
        json->failed = true;
}

void report_json_number(report_json *json, json_t *object, const char *key, double value)
{
    report_json_set(json, object, key, isfinite(value) ? json_real(value) : json_null());
}

void report_json_count(report_json *json, json_t *object, const char *key, size_t value)
{
    report_json_set(json, object, key, json_integer((json_int_t)value));
}

void report_json_bool(report_json *json, json_t *object, const char *key, bool value)
{
    report_json_set(json, object, key, json_boolean(value));
}

json_t *report_json_string(report_json *json, const char *value)
{
    if (!value)
        return json_null();
    json_t *text = json_string(value);
    /* Text that is no UTF-8 is refused twice; lack of memory need not be. */
    if (!text)
        text = json_string(value);
    if (text)
        return text;
    const size_t length = strlen(value);
    char *plain = malloc(length + 1);
    for (size_t i = 0; plain && i <= length; i++)
        plain[i] = (char)((unsigned char)value[i] < 0x80 ? value[i] : '?');
    text = plain ? json_string(plain) : NULL;
    free(plain);
    json->failed = json->failed || !text;
    return text;
}

void report_json_text(report_json *json, json_t *object, const char *key, const char *value)
{
    report_json_set(json, object, key, report_json_string(json, value));
}
