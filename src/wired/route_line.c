/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "route_line.h"

#include <math.h>
#include <stdlib.h>

#include "base/argument.h"

/* What a length given in feet may be off the same one in metres. */
static const double ROUNDED_M = 1e-9;

bool route_input_is_sound(const fe_route_input *input)
{
    const double length_m = input->run.ground ? route_length(input) : (double)NAN;
    if (!(length_m > 0.0) || fmin(length_m, input->span_high_m) > FE_ROUTE_LONGEST_SPAN_M ||
        input->run.season_count == 0 || input->string_count == 0 || input->kind_count == 0 ||
        input->kind_count > FE_ROUTE_MOST_KINDS)
        return false;
    if (!(input->span_low_m > 0.0) || !(input->span_high_m >= input->span_low_m) ||
        !(input->most_sag_share > 0.0) || !(input->wall_free_m >= 0.0) ||
        !isfinite(input->start_attachment_m) || !isfinite(input->end_attachment_m))
        return false;
    for (size_t i = 0; i < input->string_count; i++)
        if (!is_positive(input->strings_n[i]))
            return false;
    double before_m = 0.0;
    for (size_t i = 0; i < input->place_count; i++) {
        if (!(input->places[i].at_m > before_m) || !(input->places[i].at_m < length_m) ||
            !isfinite(input->places[i].turn_rad))
            return false;
        before_m = input->places[i].at_m;
    }
    return true;
}

/* How far a span from each node may go: to the longest span, and never past a post that must
 * stand. */
static void set_reach(route_line *line)
{
    for (size_t i = 0; i < line->count; i++) {
        size_t j = i;
        while (j + 1 < line->count &&
               line->at_m[j + 1] - line->at_m[i] <= line->input->span_high_m + ROUNDED_M) {
            j++;
            if (j + 1 < line->count && line->input->places[j - 1].must)
                break;
        }
        line->reach[i] = j;
        if (j - i > line->steps)
            line->steps = j - i;
    }
}

fe_status route_line_make(const fe_route_input *input, route_line *line)
{
    *line = (route_line){.input = input, .count = input->place_count + 2};
    const fe_status status = route_kernel_make(input, &line->kernel);
    if (status != FE_OK)
        return status;
    line->at_m = calloc(line->count, sizeof *line->at_m);
    line->reach = calloc(line->count, sizeof *line->reach);
    if (!line->at_m || !line->reach)
        return FE_E_MEMORY;
    for (size_t i = 0; i < input->place_count; i++)
        line->at_m[i + 1] = input->places[i].at_m;
    line->at_m[line->count - 1] = route_length(input);
    set_reach(line);
    return FE_OK;
}

void route_line_free(route_line *line)
{
    route_kernel_free(&line->kernel);
    free(line->at_m);
    free(line->reach);
}

double route_line_height(const route_line *line, size_t node, double attachment_m)
{
    if (node == 0)
        attachment_m = line->input->start_attachment_m;
    else if (node + 1 == line->count)
        attachment_m = line->input->end_attachment_m;
    return route_height(&line->kernel, line->at_m[node], attachment_m);
}

bool route_line_allows(const route_line *line, double length_m)
{
    return length_m >= line->input->span_low_m - ROUNDED_M;
}
