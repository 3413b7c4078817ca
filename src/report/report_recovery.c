/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What happens when a part hangs or dies, and who brings it back. */
#include <math.h>

#include "report/report_parts.h"

static void device_row(report_writer *writer, const fe_recovery *recovery, size_t index)
{
    const fe_device *device = &recovery->devices[index];
    fe_document *doc = writer->doc;
    fe_document_row(doc);
    fe_document_cell(doc, "%s, %s", device->name, device->place);
    if (!device->passes_on)
        fe_document_cell(doc, "all but itself");
    else if (device->left == 0)
        fe_document_cell(doc, "nothing");
    else if (device->left == index)
        fe_document_cell(doc, "what comes before it");
    else
        fe_document_cell(doc, "%zu of the %zu others", device->left,
                         recovery->device_count - 1);
    fe_document_cell(doc, "%s", fe_cut_name(device->cut));
    fe_document_cell(doc, "%s", device->walk ? "yes" : "no");
    if (isnan(device->lowest_start_c))
        fe_document_cell(doc, "not known");
    else
        fe_document_cell(doc, "%s; there %s%s",
                         fe_amount(doc, device->lowest_start_c, FE_STYLE_TEMPERATURE),
                         fe_amount(doc, device->coldest_c, FE_STYLE_TEMPERATURE),
                         device->cold_start ? "" : ": too cold");
}

static void failure_rows(report_writer *writer, const fe_recovery *recovery)
{
    fe_document *doc = writer->doc;
    fe_document_table(doc, "Other single failures", "if|a walk in the snow|keep ready");
    for (size_t i = 0; i < recovery->failure_count; i++) {
        fe_document_row(doc);
        fe_document_cell(doc, "%s", recovery->failures[i].what);
        fe_document_cell(doc, "%s", recovery->failures[i].walk ? "yes" : "no");
        fe_document_cell(doc, "%s", recovery->failures[i].remedy);
    }
}

static void outlet_words(report_writer *writer, const fe_recovery *recovery)
{
    if (recovery->wants_outlet)
        fe_document_paragraph(
            writer->doc,
            "What only ends the line can be cut out there too: a switched outlet, or a port "
            "that powers it, on the switch before it. Without one its hang is a walk as well.");
}

static void watchdog_words(report_writer *writer, const fe_recovery *recovery)
{
    const fe_watchdog *watchdog = &recovery->watchdog;
    fe_document *doc = writer->doc;
    if (!recovery->wants_watchdog)
        return;
    fe_document_paragraph(
        doc,
        "A watchdog is a small switch beside the device that probes the house every %s. After "
        "%u probes without an answer it cuts the power for %s; after %u tries it rests for %s. "
        "So it outlasts an outage at the house, and does not cut for ever when the house is "
        "away.",
        fe_amount(doc, watchdog->probe_s, FE_STYLE_TIME), watchdog->misses,
        fe_amount(doc, watchdog->off_s, FE_STYLE_TIME), watchdog->tries,
        fe_amount(doc, watchdog->rest_s, FE_STYLE_TIME));
}

void report_recovery(report_writer *writer)
{
    const fe_outlook *outlook = writer->result->outlook;
    fe_document *doc = writer->doc;
    if (!outlook || outlook->recovery.device_count == 0)
        return;
    const fe_recovery *recovery = &outlook->recovery;
    fe_document_heading(doc, 2, "When something stops answering");
    fe_document_paragraph(
        doc,
        "From the house outwards, for what is recommended. %zu single failure%s mean%s a "
        "walk in the snow. A switched outlet helps only where it is not reached through the "
        "device that it shall cut.",
        recovery->walks, recovery->walks == 1 ? "" : "s", recovery->walks == 1 ? "s" : "");
    fe_document_table(doc, "Devices",
                      "if this stops|still reached|who cuts its power|a walk|starts down to");
    for (size_t i = 0; i < recovery->device_count; i++)
        device_row(writer, recovery, i);
    if (recovery->left_out > 0)
        fe_document_paragraph(doc, "%zu devices more, for which this list has no room.",
                              recovery->left_out);
    failure_rows(writer, recovery);
    outlet_words(writer, recovery);
    watchdog_words(writer, recovery);
    fe_document_paragraph(
        doc,
        "After an outage all of it comes back by itself within about %s, if every device is "
        "set "
        "to start when power comes and the house is up first; try it once on a cold day.",
        fe_amount(doc, recovery->restart_s, FE_STYLE_TIME));
}

/* ---- JSON ---- */

static json_t *device_json(report_json *json, const fe_device *device)
{
    json_t *object = report_json_object(json);
    report_json_text(json, object, "name", device->name);
    report_json_text(json, object, "place", device->place);
    report_json_bool(json, object, "at_house", device->at_house);
    report_json_text(json, object, "cut_by", fe_cut_name(device->cut));
    report_json_count(json, object, "devices_left", device->left);
    report_json_bool(json, object, "walk", device->walk);
    report_json_number(json, object, "lowest_start_c", device->lowest_start_c);
    report_json_number(json, object, "coldest_c", device->coldest_c);
    report_json_bool(json, object, "cold_start", device->cold_start);
    return object;
}

static json_t *watchdog_json(report_json *json, const fe_recovery *recovery)
{
    if (!recovery->wants_watchdog)
        return json_null();
    json_t *object = report_json_object(json);
    report_json_number(json, object, "probe_s", recovery->watchdog.probe_s);
    report_json_count(json, object, "misses", recovery->watchdog.misses);
    report_json_number(json, object, "off_s", recovery->watchdog.off_s);
    report_json_count(json, object, "tries", recovery->watchdog.tries);
    report_json_number(json, object, "rest_s", recovery->watchdog.rest_s);
    return object;
}

json_t *report_recovery_json(report_json *json, const fe_result *result)
{
    if (!result->outlook)
        return json_null();
    const fe_recovery *recovery = &result->outlook->recovery;
    json_t *object = report_json_object(json);
    json_t *devices = report_json_list(json);
    json_t *failures = report_json_list(json);
    for (size_t i = 0; i < recovery->device_count; i++)
        report_json_append(json, devices, device_json(json, &recovery->devices[i]));
    for (size_t i = 0; i < recovery->failure_count; i++) {
        json_t *failure = report_json_object(json);
        report_json_text(json, failure, "what", recovery->failures[i].what);
        report_json_text(json, failure, "remedy", recovery->failures[i].remedy);
        report_json_bool(json, failure, "walk", recovery->failures[i].walk);
        report_json_append(json, failures, failure);
    }
    report_json_set(json, object, "devices", devices);
    report_json_count(json, object, "left_out", recovery->left_out);
    report_json_set(json, object, "failures", failures);
    report_json_count(json, object, "walks", recovery->walks);
    report_json_bool(json, object, "wants_watchdog", recovery->wants_watchdog);
    report_json_bool(json, object, "wants_outlet", recovery->wants_outlet);
    report_json_set(json, object, "watchdog", watchdog_json(json, recovery));
    report_json_number(json, object, "restart_s", recovery->restart_s);
    return object;
}
