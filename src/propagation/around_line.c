/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "propagation/around_line.h"

#include <math.h>
#include <stdlib.h>

#include "farend/fresnel.h"
#include "farend/knife_edge.h"
#include "propagation/bullington_v.h"
#include "propagation/hop_parts.h"

void around_line_free(around_line *l)
{
    free(l->bare_m);
    free(l->over_m);
    free(l->fine_d);
    free(l->fine_h);
    free(l->along_m);
    free(l->clutter_m);
    free(l->solid_m);
    free(l->uses);
    if (l->over)
        around_line_free(l->over);
    free(l->over);
}

static bool make_room(const around_job *work, around_line *l)
{
    *l = (around_line){.work = work};
    l->fine_room =
        work->room + (size_t)(4.0 * fmax(HOP_POINTS_WANTED, 2.0 * (double)work->room));
    l->bare_m = calloc(work->room, sizeof *l->bare_m);
    l->over_m = calloc(work->room, sizeof *l->over_m);
    l->fine_d = calloc(l->fine_room, sizeof *l->fine_d);
    l->fine_h = calloc(l->fine_room, sizeof *l->fine_h);
    return l->bare_m && l->over_m && l->fine_d && l->fine_h;
}

static bool make_room_for_tops(const around_job *work, around_line *l)
{
    l->along_m = calloc(work->room, sizeof *l->along_m);
    l->clutter_m = calloc(work->room, sizeof *l->clutter_m);
    l->solid_m = calloc(work->room, sizeof *l->solid_m);
    l->uses = calloc(work->room, sizeof *l->uses);
    l->over = calloc(1, sizeof *l->over);
    return l->along_m && l->clutter_m && l->solid_m && l->uses && l->over &&
           make_room(work, l->over);
}

bool around_line_make(const around_job *work, around_line *l)
{
    if (make_room(work, l) && (!work->in->land.top_m || make_room_for_tops(work, l)))
        return true;
    around_line_free(l);
    return false;
}

/* As fe_around_height, for a place inside the middles of the outermost cells; NAN as soon as
 * one of the four is not known. */
static inline double height_inside(const fe_around_land *land, double column, double row)
{
    const size_t left = (size_t)column;
    const size_t top = (size_t)row;
    const double across = column - (double)left;
    const double down = row - (double)top;
    const float *upper = land->height_m + top * land->columns + left;
    const float *lower = upper + land->columns;
    const double above = (double)upper[0] + across * ((double)upper[1] - (double)upper[0]);
    const double below = (double)lower[0] + across * ((double)lower[1] - (double)lower[0]);
    return above + down * (below - above);
}

static bool is_inside(const fe_around_land *land, double column, double row)
{
    return column >= 0.0 && row >= 0.0 && column < (double)(land->columns - 1) &&
           row < (double)(land->rows - 1);
}

/* Straight over the points whose heights are not known; both ends are. */
static void bridge(around_line *l)
{
    for (size_t i = 1; i < l->pieces; i++) {
        if (isfinite(l->bare_m[i]))
            continue;
        size_t beyond = i;
        while (!isfinite(l->bare_m[beyond]))
            beyond++;
        const double from_m = l->bare_m[i - 1];
        const double slope = (l->bare_m[beyond] - from_m) / (double)(beyond - i + 1);
        for (size_t k = i; k < beyond; k++)
            l->bare_m[k] = from_m + slope * (double)(k - i + 1);
        i = beyond;
    }
}

static void sample(around_line *l, double columns, double rows)
{
    const fe_around_land *land = &l->work->in->land;
    const double share = 1.0 / (double)l->pieces;
    const double base_m = l->work->height_m;
    /* A line between two places inside leaves it nowhere. */
    const bool inside = is_inside(land, land->column, land->row) &&
                        is_inside(land, land->column + columns, land->row + rows);
    double sum = 0.0;
    l->bare_m[0] = 0.0;
    for (size_t i = 1; i < l->pieces; i++) {
        const double part = share * (double)i;
        const double column = land->column + part * columns;
        const double row = land->row + part * rows;
        double height_m = inside ? height_inside(land, column, row) : (double)NAN;
        if (isnan(height_m))
            height_m = fe_around_height(land, column, row);
        l->bare_m[i] = height_m - base_m;
        sum += height_m;
    }
    l->bare_m[l->pieces] = l->rise_m;
    if (!isfinite(sum))
        bridge(l);
}

double around_antenna(const around_job *work, int end)
{
    return work->in->hop->ends[end].height_m;
}

static void measure(around_line *l)
{
    const double last = (double)l->pieces;
    const double a1_m = around_antenna(l->work, 0);
    const double a2_m = l->rise_m + around_antenna(l->work, 1);
    const double fall_m = (a2_m - a1_m) / last;
    const double bulge_m = 0.5 * l->piece_m * l->piece_m / l->work->table.ae_m;
    double sum = 0.0;
    double turned = 0.0;
    double most_m = -INFINITY;
    for (size_t i = 1; i < l->pieces; i++) {
        const double at = (double)i;
        const double h = l->bare_m[i];
        const double over = h - a1_m - fall_m * at + bulge_m * (at * (last - at));
        l->over_m[i] = over;
        most_m = over > most_m ? over : most_m;
        sum += h;
        turned += at * h;
    }
    l->over_m[0] = -a1_m;
    l->over_m[l->pieces] = l->rise_m - a2_m;
    l->most_m = most_m;
    l->area = l->piece_m * (2.0 * sum + l->rise_m);
    l->moment = l->piece_m * l->piece_m * (6.0 * turned + l->rise_m * (3.0 * last - 1.0));
}

static double cell_of(const fe_around_land *land, size_t column, size_t row)
{
    return (double)land->height_m[row * land->columns + column];
}

bool around_line_reaches(around_line *l, size_t column, size_t row)
{
    const fe_around *in = l->work->in;
    const fe_around_land *land = &in->land;
    const double x = (double)column - land->column;
    const double y = (double)row - land->row;
    const double height_m = cell_of(land, column, row);
    l->index = row * land->columns + column;
    l->length_m = hypot(x * land->east_m[0] + y * land->east_m[1],
                        x * land->north_m[0] + y * land->north_m[1]);
    l->rise_m = height_m - l->work->height_m;
    return l->length_m >= FE_AROUND_LEAST_M && l->length_m <= in->radius_m &&
           isfinite(height_m);
}

/*
 * What stands along the line, and what of it counts, as the single path sees it: surface less
 * terrain at the same points.
 */
static void find_standing(around_line *l, double columns, double rows)
{
    const fe_around_land *land = &l->work->in->land;
    bool any = false;
    for (size_t i = 0; i <= l->pieces; i++) {
        const double part = (double)i / (double)l->pieces;
        const double top_m =
            fe_around_top(land, land->column + part * columns, land->row + part * rows);
        const double over_m = top_m - (l->bare_m[i] + l->work->height_m);
        l->clutter_m[i] = over_m > 0.0 ? over_m : 0.0;
        any = any || l->clutter_m[i] >= FE_STANDING_LEAST_M;
    }
    l->cluttered = false;
    if (!any)
        return;
    for (size_t i = 0; i <= l->pieces; i++)
        l->along_m[i] = i < l->pieces ? l->piece_m * (double)i : l->length_m;
    const fe_profile ground = {.count = l->pieces + 1,
                               .distance_m = l->along_m,
                               .height_m = l->bare_m,
                               .clutter_m = l->clutter_m};
    const fe_hop hop = {.ground = &ground};
    l->cluttered = fe_standing_uses(&hop, l->uses) > 0;
    for (size_t i = 0; l->cluttered && i <= l->pieces; i++)
        l->solid_m[i] = l->uses[i] == FE_STANDING_COUNTED ? l->clutter_m[i] : 0.0;
}

void around_line_walk(around_line *l, size_t column, size_t row)
{
    const fe_around_land *land = &l->work->in->land;
    l->pieces = (size_t)fmax(1.0, ceil(l->length_m / l->work->step_m - 1e-6));
    l->piece_m = l->length_m / (double)l->pieces;
    l->fine_count = 0;
    sample(l, (double)column - land->column, (double)row - land->row);
    measure(l);
    if (land->top_m)
        find_standing(l, (double)column - land->column, (double)row - land->row);
}

/* How many parts the single path cuts a piece into. */
static size_t parts_of(const around_line *l)
{
    const double wanted_m = fmax(HOP_FINEST_STEP_M, l->length_m / HOP_POINTS_WANTED);
    return (size_t)fmax(1.0, ceil(l->piece_m / wanted_m - 1e-9));
}

void around_line_raise(const around_line *l, double snow_m)
{
    around_line *over = l->over;
    over->length_m = l->length_m;
    over->rise_m = l->rise_m;
    over->pieces = l->pieces;
    over->piece_m = l->piece_m;
    over->under = l;
    over->snow_m = snow_m;
    over->fine_count = 0;
    over->most_m = -INFINITY;
    for (size_t i = 0; i <= l->pieces; i++) {
        const double solid_m = larger(0.0, l->solid_m[i] - snow_m);
        over->bare_m[i] = l->bare_m[i] + solid_m;
        over->over_m[i] = l->over_m[i] + solid_m;
        if (i > 0 && i < l->pieces)
            over->most_m = larger(over->most_m, over->over_m[i]);
    }
}

/* ---- Under one height of the snow ---- */

/* v^2 without its factor, of a point under the line of sight by so much. */
static double square_at(const around_line *l, double under_m, double at)
{
    return under_m * under_m / (at * ((double)l->pieces - at));
}

/*
 * Height at a share of the piece after a point, over the line of sight or over the bare ground.
 * What stands is refined before the snow lies under it, so that its foot is no straight line.
 */
static double between(const around_line *l, bool over_sight, size_t i, double share)
{
    const around_line *from = l->under ? l->under : l;
    const double *h = over_sight ? from->over_m : from->bare_m;
    const double here_m = h[i] + share * (h[i + 1] - h[i]);
    if (!l->under)
        return here_m;
    const double *solid = from->solid_m;
    const double solid_m = solid[i] + share * (solid[i + 1] - solid[i]) - l->snow_m;
    return solid_m > 0.0 ? here_m + solid_m : here_m;
}

void around_line_refine(around_line *l)
{
    const size_t parts = parts_of(l);
    size_t count = 0;
    for (size_t i = 0; i < l->pieces; i++)
        for (size_t k = 0; k < parts && count + 1 < l->fine_room; k++, count++) {
            const double share = (double)k / (double)parts;
            l->fine_d[count] = l->piece_m * ((double)i + share);
            l->fine_h[count] = between(l, false, i, share);
        }
    l->fine_d[count] = l->length_m;
    l->fine_h[count] = l->rise_m;
    l->fine_count = count + 1;
}

/* The least such square among the points that the single path puts into two pieces. */
static double finer_square(const around_line *l, double snow_m, size_t top, double least)
{
    const size_t parts = parts_of(l);
    const size_t first = top > 0 ? top - 1 : 0;
    const size_t end = top + 1 < l->pieces ? top + 1 : l->pieces;
    for (size_t i = first; i < end; i++)
        for (size_t k = 1; k < parts; k++) {
            const double share = (double)k / (double)parts;
            least = fmin(least,
                         square_at(l, between(l, true, i, share) + snow_m, (double)i + share));
        }
    return least;
}

static double v_of_square(const around_line *l, double square)
{
    return sqrt(2.0 * l->length_m / l->work->table.lambda_m * square) / l->piece_m;
}

/* Every point lies under the line of sight: which most nearly enters the zone? */
static void look_under(const around_line *l, double snow_m, around_sight *s)
{
    const double *inverse = l->work->inverse;
    const double under_m = l->most_m + snow_m;
    /* No point has a smaller square than the highest would have half-way. */
    s->v = -INFINITY;
    if (-v_of_square(l, square_at(l, under_m, 0.5 * (double)l->pieces)) <=
        FE_KNIFE_EDGE_CLEAR_V)
        return;
    double least = INFINITY;
    for (size_t i = 1; i < l->pieces; i++) {
        const double over_m = l->over_m[i] + snow_m;
        const double square = over_m * over_m * (inverse[i] * inverse[l->pieces - i]);
        if (square < least) {
            least = square;
            s->top = i;
        }
    }
    s->v = -v_of_square(l, finer_square(l, snow_m, s->top, least));
}

/* What stands over the line of sight, as slopes from each end over that of the line. */
typedef struct standing {
    double rise1;
    double rise2;
    double bare; /* the same over bare ground without the earth's bulge; 0 where nothing does */
    double bare_rise1;
    double bare_rise2;
} standing;

static standing look_over(const around_line *l, double snow_m, around_sight *s)
{
    const double *inverse = l->work->inverse;
    const double last = (double)l->pieces;
    const double bulge_m = 0.5 * l->piece_m * l->piece_m / l->work->table.ae_m;
    double most = 0.0;
    standing all = {0};
    for (size_t i = 1; i < l->pieces; i++) {
        const double over_m = l->over_m[i] + snow_m;
        if (!(over_m >= 0.0))
            continue;
        const double at = (double)i;
        const double bare_m = over_m - bulge_m * (at * (last - at));
        const double square = over_m * over_m * (inverse[i] * inverse[l->pieces - i]);
        all.rise1 = larger(all.rise1, over_m * inverse[i]);
        all.rise2 = larger(all.rise2, over_m * inverse[l->pieces - i]);
        if (square >= most) {
            most = square;
            s->top = i;
        }
        if (bare_m > 0.0) {
            all.bare = larger(all.bare, bare_m);
            all.bare_rise1 = larger(all.bare_rise1, bare_m * inverse[i]);
            all.bare_rise2 = larger(all.bare_rise2, bare_m * inverse[l->pieces - i]);
        }
    }
    s->v = v_of_square(l, all.rise1 * all.rise2);
    return all;
}

/* J(v) of ITU-R P.526-15 sec 4.1 eq 31 by a plain root, since no v overflows it as `hypot` minds;
 * and the whole of Bullington's part. */
static double bullington_loss(double v, double length_m)
{
    if (v <= FE_KNIFE_EDGE_CLEAR_V)
        return 0.0;
    const double w = v - 0.1;
    const double edge_db = 6.9 + 20.0 * log10(sqrt(w * w + 1.0) + w);
    return edge_db > 0.0 ? bullington_loss_of_edge(edge_db, length_m) : 0.0;
}

/* The fitted surface of the source. */
static void fit_surface(const around_line *l, const standing *over, around_sight *s)
{
    const double square = s->inverse * s->inverse;
    double end1 = (2.0 * l->area * s->length - l->moment) * square;
    double end2 = (l->moment - l->area * s->length) * square;
    if (over->bare > 0.0) {
        const double both = over->bare_rise1 + over->bare_rise2;
        end1 -= over->bare * over->bare_rise1 / both;
        end2 -= over->bare * over->bare_rise2 / both;
    }
    s->h1 = s->a1 - fmin(end1, 0.0);
    s->h2 = s->a2 - fmin(end2, l->rise_m);
}

static standing look_at(const around_line *l, double snow_m, around_sight *s)
{
    standing over = {0};
    s->v = -INFINITY;
    s->top = 0;
    if (l->pieces == 1)
        s->v = -v_of_square(l, finer_square(l, snow_m, 0, INFINITY));
    else if (l->most_m + snow_m < 0.0)
        look_under(l, snow_m, s);
    else
        over = look_over(l, snow_m, s);
    s->actual_db = bullington_loss(s->v, s->length);
    return over;
}

void around_look_up(const around_line *l, double snow_m, around_sight *s)
{
    (void)look_at(l, snow_m, s);
}

void around_look_along(const around_line *l, double snow_m, around_sight *s)
{
    const standing over = look_at(l, snow_m, s);
    fit_surface(l, &over, s);
}

/* Clearance of a point from the straight line between two others, as its signed square in first
 * zones of that line. */
static double clear_square(const around_line *l, size_t from, double from_m, size_t to,
                           double to_m, size_t i, double height_m)
{
    const double x = (double)i - (double)from;
    const double y = (double)to - (double)i;
    const double span = x + y;
    const double bulge_m = 0.5 * l->piece_m * l->piece_m / l->work->table.ae_m * (x * y);
    const double under_m = (from_m * y + to_m * x) / span - height_m - bulge_m;
    return under_m * fabs(under_m) * span / (l->work->table.lambda_m * l->piece_m * (x * y));
}

/* What it asks of points between these can only make it false more often, and an edge is never
 * between them: on a straight piece its neighbours would be too near to the line. */
bool around_may_be_edge(const around_line *l, double snow_m, const around_sight *s)
{
    static const double LEAST = FE_FRESNEL_WANTED_SHARE * FE_FRESNEL_WANTED_SHARE;
    if (s->top == 0)
        return false;
    const double top_m = l->bare_m[s->top] + snow_m;
    /* The heights rise with the snow while antennas stay. */
    for (size_t i = s->top; i-- > 1;)
        if (clear_square(l, 0, s->a1 + snow_m, s->top, top_m, i, l->bare_m[i] + snow_m) < LEAST)
            return false;
    for (size_t i = s->top + 1; i < l->pieces; i++)
        if (clear_square(l, s->top, top_m, l->pieces, s->a2 + snow_m, i,
                         l->bare_m[i] + snow_m) < LEAST)
            return false;
    return true;
}

/* On smooth ground the point that most nearly enters the zone divides the way as the heights do;
 * within the limit of this module the horizon is far off and the bulge does not move it. */
fe_status around_round_earth(const around_job *work, const around_sight *s, double *sphere_db,
                             double *smooth_db)
{
    const double root = sqrt(s->h1 * s->h2);
    const double curvature = 0.5 / work->table.ae_m;
    const double excess =
        curvature * s->length * root / (s->h1 + s->h2) - 2.0 * root * s->inverse;
    *smooth_db =
        bullington_loss(excess * sqrt(2.0 * s->length / work->table.lambda_m), s->length);
    *sphere_db = 0.0;
    /* Clear of the round earth by 0.552 of the zone everywhere: h1 y + h2 x is at least
     * 2 sqrt(h1 h2 x y). */
    const double sag_m = curvature * s->length * s->length;
    if (2.0 * root - 0.5 * sag_m > 0.552 * sqrt(work->table.lambda_m * s->length))
        return FE_OK;
    fe_spherical_earth sphere;
    const fe_status status =
        fe_spherical_earth_loss(s->length, s->h1, s->h2, &work->wave, &sphere);
    if (status >= 0)
        *sphere_db = sphere.loss_db;
    return status;
}
