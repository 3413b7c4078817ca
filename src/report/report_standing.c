/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trees and roofs that come from the profile, not from the plan. */
#include "farend/strbuf.h"
#include "report/report_parts.h"

enum { MOST_NAMED = 6 };

static size_t listed(const fe_radio_result *radio)
{
    return radio->standing_count < FE_RADIO_MOST_STANDING ? radio->standing_count
                                                          : FE_RADIO_MOST_STANDING;
}

static size_t count_use(const fe_radio_result *radio, fe_standing_use use)
{
    size_t count = 0;
    for (size_t i = 0; i < listed(radio); i++)
        count += radio->standing[i].use == use;
    return count;
}

/* "40 to 62 m (9 m high), 80 to 84 m (4 m high)" */
static void list_use(report_writer *writer, const fe_radio_result *radio, fe_standing_use use,
                     fe_strbuf *out)
{
    size_t said = 0;
    for (size_t i = 0; i < listed(radio) && said < MOST_NAMED; i++) {
        const fe_standing *one = &radio->standing[i];
        if (one->use != use)
            continue;
        fe_strbuf_format(
            out, "%s%s (%s high)", said++ > 0 ? ", " : "",
            fe_amount_range(writer->doc, one->from_m, one->to_m, FE_STYLE_DISTANCE),
            fe_amount(writer->doc, one->height_m, FE_STYLE_HEIGHT));
    }
    const size_t all = count_use(radio, use);
    if (all > said || (radio->standing_count > listed(radio) && use == FE_STANDING_COUNTED))
        fe_strbuf_append(out, " and more");
}

static void say_counted(report_writer *writer, const fe_radio_result *radio,
                        const fe_hop_season *season, const char *season_name)
{
    fe_strbuf where = FE_STRBUF_INIT;
    list_use(writer, radio, FE_STANDING_COUNTED, &where);
    fe_document_paragraph(
        writer->doc,
        "Trees and roofs come from the profile (its column clutter_m): %s from %s. They count "
        "as "
        "solid, which is the most that they can cost: %s in %s. Where they are trees, name "
        "that "
        "stretch as [trees], for leaves let a part of the wave through.",
        fe_strbuf_text(&where), report_end_name(writer->result->plan, radio->path, 0),
        fe_amount(writer->doc, season->loss.standing_db, FE_STYLE_RATIO), season_name);
    fe_document_free_text(writer->doc, &where);
}

/* What an antenna stands in, and what the plan's own trees stand in for. */
static void say_left_out(report_writer *writer, const fe_radio_result *radio,
                         fe_standing_use use, const char *why)
{
    if (count_use(radio, use) == 0)
        return;
    fe_strbuf where = FE_STRBUF_INIT;
    list_use(writer, radio, use, &where);
    fe_document_paragraph(writer->doc, "Of the profile's trees and roofs %s: %s.", why,
                          fe_strbuf_text(&where));
    fe_document_free_text(writer->doc, &where);
}

void report_standing(report_writer *writer, const fe_radio_result *radio,
                     const fe_hop_season *season, const char *season_name)
{
    if (count_use(radio, FE_STANDING_COUNTED) > 0)
        say_counted(writer, radio, season, season_name);
    say_left_out(writer, radio, FE_STANDING_OWN,
                 "these are left out, because an antenna stands in them and only the plan can "
                 "say what is before it (walls, trees)");
    say_left_out(writer, radio, FE_STANDING_NAMED,
                 "these are counted as the trees that the plan names there");
}

size_t report_standing_trees(const fe_radio_result *radio, fe_profile_trees *trees)
{
    size_t count = 0;
    for (size_t i = 0; i < listed(radio); i++) {
        const fe_standing *one = &radio->standing[i];
        if (one->use != FE_STANDING_NAMED)
            trees[count++] = (fe_profile_trees){"", one->from_m, one->to_m, one->height_m};
    }
    return count;
}

json_t *report_standing_json(report_json *json, const fe_radio_result *radio)
{
    static const char *const USES[] = {
        [FE_STANDING_NONE] = "none",
        [FE_STANDING_COUNTED] = "solid",
        [FE_STANDING_OWN] = "around an antenna",
        [FE_STANDING_NAMED] = "trees of the plan",
    };
    json_t *list = report_json_list(json);
    for (size_t i = 0; i < listed(radio); i++) {
        json_t *item = report_json_object(json);
        report_json_number(json, item, "from_m", radio->standing[i].from_m);
        report_json_number(json, item, "to_m", radio->standing[i].to_m);
        report_json_number(json, item, "height_m", radio->standing[i].height_m);
        report_json_text(json, item, "counted_as", USES[radio->standing[i].use]);
        report_json_append(json, list, item);
    }
    return list;
}
