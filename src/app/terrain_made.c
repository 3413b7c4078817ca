/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/terrain_made.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "app/output.h"
#include "farend/height_error.h"
#include "farend/json_text.h"

void terrain_made_free(terrain_made *made)
{
    for (size_t i = 0; i < made->fact_count; i++)
        free(made->facts[i].text);
    free(made->coarse);
    fe_profile_free(&made->profile);
    *made = (terrain_made){0};
}

static terrain_fact *add_fact(terrain_made *made, const char *key, const char *label)
{
    if (made->fact_count == TERRAIN_MOST_FACTS) {
        made->failed = true;
        return NULL;
    }
    terrain_fact *fact = &made->facts[made->fact_count++];
    *fact = (terrain_fact){.key = key, .label = label, .si = NAN};
    return fact;
}

void terrain_fact_number(terrain_made *made, const char *key, const char *label, double si,
                         fe_style style)
{
    terrain_fact *fact = add_fact(made, key, label);
    if (!fact)
        return;
    fact->si = si;
    /* A level closes to millimetres; centimetres would call that nothing. */
    fact->style =
        style == FE_STYLE_HEIGHT && fabs(si) < 0.1 && si != 0.0 ? FE_STYLE_THICKNESS : style;
}

void terrain_fact_text(terrain_made *made, const char *key, const char *label,
                       const char *format, ...)
{
    fe_strbuf text = FE_STRBUF_INIT;
    va_list arguments;
    va_start(arguments, format);
    fe_strbuf_format_list(&text, format, arguments);
    va_end(arguments);
    /* Text of a file may hold anything; a fact is one line. */
    for (size_t i = 0; i < text.length && text.text; i++)
        if ((unsigned char)text.text[i] < ' ' || text.text[i] == 127)
            text.text[i] = '?';
    terrain_fact *fact = add_fact(made, key, label);
    char *taken = fe_strbuf_take(&text);
    if (fact)
        fact->text = taken;
    else
        free(taken);
    made->failed = made->failed || !taken;
}

/* ---- Judging ---- */

/* "0 to 40 m, 120 to 200 m" in the profile's own metres. */
static void list_stretches(const terrain_made *made, fe_strbuf *out)
{
    const fe_profile *profile = &made->profile;
    enum { MOST = 6 };
    size_t stretches = 0;
    for (size_t i = 0; i < profile->count;) {
        size_t beyond = i;
        while (beyond < profile->count && made->coarse[beyond])
            beyond++;
        if (beyond > i && stretches++ < MOST) {
            fe_strbuf_append(out, out->length ? ", " : "");
            fe_amount_print_range(FE_STYLE_LENGTH, profile->distance_m[i],
                                  profile->distance_m[beyond - 1], 0, FE_UNITS_METRIC, out);
        }
        i = beyond > i ? beyond : i + 1;
    }
    if (stretches > MOST)
        fe_strbuf_format(out, " and %zu more", stretches - MOST);
}

static void add_judgement(terrain_made *made, double f_hz, const fe_height_judgement *judged)
{
    terrain_fact_number(made, "frequency_hz", "judged for", f_hz, FE_STYLE_FREQUENCY);
    terrain_fact_number(made, "allowed_error_mid_m", "error that would do half-way",
                        judged->allowed_mid_m, FE_STYLE_HEIGHT);
    terrain_fact_number(made, "allowed_error_ends_m", "and near the ends",
                        judged->allowed_end_m, FE_STYLE_HEIGHT);
    terrain_fact_number(made, "coarse_share", NULL, judged->coarse_share, FE_STYLE_PERCENT);
    if (judged->coarse == 0) {
        terrain_fact_text(made, "good_enough", "for the first Fresnel zone", "good enough");
        return;
    }
    fe_strbuf where = FE_STRBUF_INIT;
    list_stretches(made, &where);
    terrain_fact_text(made, "good_enough", "for the first Fresnel zone", "%s; too coarse at %s",
                      judged->coarse == made->profile.count ? "not good enough"
                                                            : "good enough in part",
                      fe_strbuf_text(&where));
    fe_strbuf_free(&where);
    terrain_fact_text(
        made, "better", "what would be", "%s",
        judged->allowed_end_m >= 0.2
            ? "a lidar raster of 0.25 to 2 m, slope angles over short legs, or "
              "staff readings through a level"
            : "rises by string and line level, or staff readings through a level");
}

fe_status terrain_judge(terrain_made *made, double f_hz)
{
    const fe_profile *profile = &made->profile;
    fe_height_judgement judged;
    made->coarse = calloc(profile->count, sizeof *made->coarse);
    if (!made->coarse)
        return FE_E_MEMORY;
    const fe_status status = fe_height_error_judge(profile, f_hz, made->coarse, &judged);
    if (status < 0)
        return status;
    terrain_fact_number(made, "length_m", "length, level", fe_profile_length(profile),
                        FE_STYLE_DISTANCE);
    terrain_fact_number(made, "ground_length_m", "length along the ground",
                        fe_profile_ground_length(profile), FE_STYLE_DISTANCE);
    terrain_fact_number(made, "rise_m", "rise from the first end to the second",
                        profile->height_m[profile->count - 1] - profile->height_m[0],
                        FE_STYLE_HEIGHT);
    terrain_fact_number(made, "points", "points", (double)profile->count, FE_STYLE_COUNT);
    terrain_fact_number(made, "height_error_m", "likely error of a height, at most",
                        judged.worst_error_m, FE_STYLE_HEIGHT);
    add_judgement(made, f_hz, &judged);
    return made->failed ? FE_E_MEMORY : FE_OK;
}

/* ---- Printing ---- */

void terrain_print_facts(const terrain_made *made, fe_units units, fe_strbuf *out)
{
    for (size_t i = 0; i < made->fact_count; i++) {
        const terrain_fact *fact = &made->facts[i];
        if (!fact->label)
            continue;
        fe_strbuf_format(out, "%s: ", fact->label);
        if (fact->text)
            fe_strbuf_append(out, fact->text);
        else
            fe_amount_print(fact->style, fact->si, 0, units, out);
        fe_strbuf_append_char(out, '\n');
    }
}

void terrain_print_csv(const terrain_made *made, fe_strbuf *out)
{
    fe_strbuf facts = FE_STRBUF_INIT;
    fe_strbuf plain = FE_STRBUF_INIT;
    const char **marks = NULL;
    terrain_print_facts(made, FE_UNITS_METRIC, &facts);
    fe_amount_to_ascii(fe_strbuf_text(&facts), &plain);
    bool marked = false;
    for (size_t i = 0; made->coarse && i < made->profile.count; i++)
        marked = marked || made->coarse[i];
    if (marked)
        marks = malloc(made->profile.count * sizeof *marks);
    for (size_t i = 0; marks && i < made->profile.count; i++)
        marks[i] = made->coarse[i] ? "coarse" : "";
    /* Without memory for the marks nothing is written at all. */
    out->failed = out->failed || facts.failed || plain.failed || (marked && !marks);
    fe_profile_print(&made->profile, fe_strbuf_text(&plain), marks, out);
    free(marks);
    fe_strbuf_free(&facts);
    fe_strbuf_free(&plain);
}

static json_t *column_as_json(const double *values, size_t count)
{
    json_t *list = json_array();
    for (size_t i = 0; i < count; i++)
        output_json_append(&list, json_real(values[i]));
    return list;
}

static void set_columns(json_t **object, const terrain_made *made)
{
    const fe_profile *profile = &made->profile;
    const struct {
        const char *key;
        const double *values;
    } columns[] = {
        {"profile_distance_m", profile->distance_m},
        {"profile_height_m", profile->height_m},
        {"profile_height_error_m", profile->height_error_m},
        {"profile_clutter_m", profile->clutter_m},
    };
    for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++)
        if (columns[i].values)
            output_json_set(object, columns[i].key,
                            column_as_json(columns[i].values, profile->count));
    json_t *marks = json_array();
    for (size_t i = 0; made->coarse && i < profile->count; i++)
        output_json_append(&marks, json_boolean(made->coarse[i]));
    output_json_set(object, "profile_coarse", marks);
}

static void set_facts(json_t **object, const terrain_made *made)
{
    for (size_t i = 0; i < made->fact_count; i++) {
        const terrain_fact *fact = &made->facts[i];
        json_t *value = json_null();
        if (fact->text)
            value = json_string(fact->text);
        else if (isfinite(fact->si))
            value = fact->style == FE_STYLE_COUNT ? json_integer((json_int_t)fact->si)
                                                  : json_real(fact->si);
        output_json_set(object, fact->key, value);
    }
}

fe_status terrain_print_json(const terrain_made *made, fe_strbuf *out)
{
    json_t *object = json_object();
    set_facts(&object, made);
    set_columns(&object, made);
    const fe_status status = fe_json_text(object, JSON_INDENT(2), out);
    json_decref(object);
    return status;
}
