/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/around.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "base/argument.h"
#include "farend/constants.h"
#include "farend/diffraction.h"
#include "farend/fresnel.h"
#include "farend/ground_ray.h"
#include "farend/knife_edge.h"
#include "farend/standing.h"
#include "farend/workers.h"
#include "propagation/around_table.h"
#include "propagation/bullington_v.h"
#include "propagation/hop_parts.h"

enum { MOST_SIDE = 20000, MOST_LEVELS = 16, MOST_SEASONS = 64 };

/* The single path looks at its ground at least so often; see path_loss.c. */
static const double FINEST_STEP_M = 0.5;
static const double POINTS_WANTED = 600.0;

/* Two seasons so near in their chances are told apart by the single path itself. */
static const double TABLE_CHANCE = 1e-4;
static const double SAME_MARGIN_DB = 0.3;

/* ---- The land ---- */

static double cell_of(const fe_around_land *land, size_t column, size_t row)
{
    return (double)land->height_m[row * land->columns + column];
}

static double between_cells(const fe_around_land *land, const float *values, double column,
                            double row)
{
    const double most_column = (double)(land->columns - 1);
    const double most_row = (double)(land->rows - 1);
    /* Half a cell about the middles of the outermost still belongs to them. */
    if (!(column >= -0.5) || !(row >= -0.5) || column > most_column + 0.5 ||
        row > most_row + 0.5)
        return NAN;
    const double x = fmin(fmax(column, 0.0), most_column);
    const double y = fmin(fmax(row, 0.0), most_row);
    const size_t left = x < most_column ? (size_t)x : land->columns - 2;
    const size_t top = y < most_row ? (size_t)y : land->rows - 2;
    const double across = x - (double)left;
    const double down = y - (double)top;
    const double weights[4] = {(1.0 - across) * (1.0 - down), across * (1.0 - down),
                               (1.0 - across) * down, across * down};
    double sum = 0.0;
    double weight = 0.0;
    for (size_t k = 0; k < 4; k++) {
        const double value = (double)values[(top + k / 2) * land->columns + left + k % 2];
        if (isnan(value))
            continue;
        sum += weights[k] * value;
        weight += weights[k];
    }
    return weight < 0.5 ? (double)NAN : sum / weight;
}

double fe_around_height(const fe_around_land *land, double column, double row)
{
    return between_cells(land, land->height_m, column, row);
}

double fe_around_top(const fe_around_land *land, double column, double row)
{
    return land->top_m ? between_cells(land, land->top_m, column, row) : (double)NAN;
}

double fe_around_step(const fe_around_land *land)
{
    return fmin(hypot(land->east_m[0], land->north_m[0]),
                hypot(land->east_m[1], land->north_m[1]));
}

/* ---- The line to a cell ---- */

typedef struct job {
    const fe_around *in;
    around_table table;
    double step_m;   /* between the points of a line, at most */
    double height_m; /* of the ground at the first end */
    size_t room;     /* points of the longest line */
    double *inverse; /* 1 / i */
    float *margin_db;
    float *chance;
    fe_diffraction_wave wave;
} job;

/*
 * The straight line to one cell, in even pieces as the terrain command samples it. The antennas
 * stand over bare ground here; snow lifts every point towards them by its own depth.
 */
typedef struct line line;
struct line {
    const job *work;
    size_t index; /* of the cell */
    double length_m;
    double rise_m; /* bare ground of the cell over that of the first end */
    size_t pieces;
    double piece_m;
    double *bare_m;  /* pieces + 1 heights over the bare ground of the first end */
    double *over_m;  /* the same over the line between the antennas, with the earth's bulge */
    double most_m;   /* highest of those between the ends */
    double area;     /* twice the area under the bare ground, six times its moment about the */
    double moment;   /* first end, as the source of the fit sums them */
    double *along_m; /* with tops: distances of the points */
    double *clutter_m; /* what stands at each above the ground */
    double *solid_m;   /* what of it counts */
    fe_standing_use *uses;
    bool cluttered;    /* anything counts */
    line *over;        /* the line over what counts, for one height of the snow */
    const line *under; /* of such a line: that over the bare ground */
    double snow_m;     /* and that height */
    double *fine_d;    /* the line as the single path refines it */
    double *fine_h;
    size_t fine_room;
    size_t fine_count; /* 0: not made yet */
    fe_status status;
    size_t cells;
    size_t holds;
    size_t alone; /* cells left to the single path */
};

static void line_free(line *l)
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
        line_free(l->over);
    free(l->over);
}

static bool make_room(const job *work, line *l)
{
    *l = (line){.work = work};
    l->fine_room = work->room + (size_t)(4.0 * fmax(POINTS_WANTED, 2.0 * (double)work->room));
    l->bare_m = calloc(work->room, sizeof *l->bare_m);
    l->over_m = calloc(work->room, sizeof *l->over_m);
    l->fine_d = calloc(l->fine_room, sizeof *l->fine_d);
    l->fine_h = calloc(l->fine_room, sizeof *l->fine_h);
    return l->bare_m && l->over_m && l->fine_d && l->fine_h;
}

static bool make_room_for_tops(const job *work, line *l)
{
    l->along_m = calloc(work->room, sizeof *l->along_m);
    l->clutter_m = calloc(work->room, sizeof *l->clutter_m);
    l->solid_m = calloc(work->room, sizeof *l->solid_m);
    l->uses = calloc(work->room, sizeof *l->uses);
    l->over = calloc(1, sizeof *l->over);
    return l->along_m && l->clutter_m && l->solid_m && l->uses && l->over &&
           make_room(work, l->over);
}

static bool line_make(const job *work, line *l)
{
    if (make_room(work, l) && (!work->in->land.top_m || make_room_for_tops(work, l)))
        return true;
    line_free(l);
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
static void bridge(line *l)
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

static void sample(line *l, double columns, double rows)
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

static double antenna(const job *work, int end)
{
    return work->in->hop->ends[end].height_m;
}

static void measure(line *l)
{
    const double last = (double)l->pieces;
    const double a1_m = antenna(l->work, 0);
    const double a2_m = l->rise_m + antenna(l->work, 1);
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

/* Sets length and height of a cell; false where nothing is computed for it. */
static bool reaches(line *l, size_t column, size_t row)
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
static void find_standing(line *l, double columns, double rows)
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

static void walk(line *l, size_t column, size_t row)
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
static size_t parts_of(const line *l)
{
    const double wanted_m = fmax(FINEST_STEP_M, l->length_m / POINTS_WANTED);
    return (size_t)fmax(1.0, ceil(l->piece_m / wanted_m - 1e-9));
}

/* ---- One cell under one height of the snow ---- */

/* What the ground does between the two antennas, the snow at one height. */
typedef struct sight {
    double length;
    double inverse;
    double a1; /* antennas over the first end's ground, lowered by the snow */
    double a2;
    double v;   /* of the one edge in place of all obstacles */
    size_t top; /* the point that most nearly enters or cuts the zone; 0: not looked for */
    double actual_db;
    double h1; /* heights over the fitted surface */
    double h2;
} sight;

/* v^2 without its factor, of a point under the line of sight by so much. */
static double square_at(const line *l, double under_m, double at)
{
    return under_m * under_m / (at * ((double)l->pieces - at));
}

/*
 * Height at a share of the piece after a point, over the line of sight or over the bare ground.
 * What stands is refined before the snow lies under it, so that its foot is no straight line.
 */
static double between(const line *l, bool over_sight, size_t i, double share)
{
    const line *from = l->under ? l->under : l;
    const double *h = over_sight ? from->over_m : from->bare_m;
    const double here_m = h[i] + share * (h[i + 1] - h[i]);
    if (!l->under)
        return here_m;
    const double *solid = from->solid_m;
    const double solid_m = solid[i] + share * (solid[i + 1] - solid[i]) - l->snow_m;
    return solid_m > 0.0 ? here_m + solid_m : here_m;
}

/* The least such square among the points that the single path puts into two pieces. */
static double finer_square(const line *l, double snow_m, size_t top, double least)
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

static double v_of_square(const line *l, double square)
{
    return sqrt(2.0 * l->length_m / l->work->table.lambda_m * square) / l->piece_m;
}

/* Every point lies under the line of sight: which most nearly enters the zone? */
static void look_under(const line *l, double snow_m, sight *s)
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

static standing look_over(const line *l, double snow_m, sight *s)
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

/* J(v) and the whole of Bullington's part; ITU-R P.526-15 sec 4.1 eq 31, sec 4.5. */
static double bullington_loss(double v, double length_m)
{
    if (v <= FE_KNIFE_EDGE_CLEAR_V)
        return 0.0;
    const double w = v - 0.1;
    const double edge_db = 6.9 + 20.0 * log10(sqrt(w * w + 1.0) + w);
    return edge_db > 0.0 ? edge_db + (1.0 - exp(-edge_db / 6.0)) * (10.0 + 2e-5 * length_m)
                         : 0.0;
}

/* The fitted surface of the source. */
static void fit_surface(const line *l, const standing *over, sight *s)
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

static standing look_at(const line *l, double snow_m, sight *s)
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

static void look_along(const line *l, double snow_m, sight *s)
{
    const standing over = look_at(l, snow_m, s);
    fit_surface(l, &over, s);
}

/* Clearance of a point from the straight line between two others, as its signed square in first
 * zones of that line. */
static double clear_square(const line *l, size_t from, double from_m, size_t to, double to_m,
                           size_t i, double height_m)
{
    const double x = (double)i - (double)from;
    const double y = (double)to - (double)i;
    const double span = x + y;
    const double bulge_m = 0.5 * l->piece_m * l->piece_m / l->work->table.ae_m * (x * y);
    const double under_m = (from_m * y + to_m * x) / span - height_m - bulge_m;
    return under_m * fabs(under_m) * span / (l->work->table.lambda_m * l->piece_m * (x * y));
}

/*
 * False where the points show that there is no single sharp edge, as fe_isolated_edge_find
 * wants it. What it asks of points between these can only make it false more often, and an edge
 * is never between them: on a straight piece its neighbours would be too near to the line.
 */
static bool may_be_edge(const line *l, double snow_m, const sight *s)
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

/*
 * What the smooth earth's own edge leaves of the round earth. On smooth ground the point that
 * most nearly enters the zone divides the way as the heights do; within the limit of this
 * module the horizon is far off and the bulge does not move it.
 */
static fe_status round_earth(const job *work, const sight *s, double *sphere_db,
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

/* ---- One cell in one season ---- */

/* Loss beyond free space and how it is spread, as path_loss.c joins it. */
typedef struct ground_loss {
    fe_ground_method method;
    double loss_db;
    double sigma_db;
    bool fades; /* as behind obstacles */
} ground_loss;

/* Parts that seasons of equal snow share. */
typedef struct level_loss {
    sight sight;
    fe_ground_method method;
    double obstacle_db; /* EDGE, DELTA_BULLINGTON */
    double sphere_db;
    double smooth_db;
} level_loss;

/* The line as the single path refines it. */
static void refine(line *l)
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

/* Standard deviation of the ground ray's phase; from pi/2 up the single path takes any phase.
 */
static double phase_spread(const job *work, const sight *s)
{
    return 4.0 * FE_PI * FE_GROUND_HEIGHT_ERROR_M * hypot(s->h1, s->h2) /
           (work->table.lambda_m * s->length);
}

/* Loss of obstacles alone: the edge where there is just one, else delta-Bullington. */
static fe_status use_obstacles(line *l, double snow_m, level_loss *made)
{
    const sight *s = &made->sight;
    fe_isolated_edge edge = {.found = false};
    fe_status status = FE_OK;
    if (may_be_edge(l, snow_m, s)) {
        if (l->fine_count == 0)
            refine(l);
        status = fe_isolated_edge_find(l->fine_d, l->fine_h, l->fine_count, s->a1, s->a2,
                                       l->work->table.ae_m, l->work->wave.f_hz, &edge);
    }
    made->method = edge.found ? FE_GROUND_EDGE : FE_GROUND_DELTA_BULLINGTON;
    made->obstacle_db =
        edge.found ? edge.loss_db : s->actual_db + fmax(made->sphere_db - made->smooth_db, 0.0);
    return status;
}

static fe_status level_make(line *l, size_t level, level_loss *made)
{
    const around_table *table = &l->work->table;
    const double snow_m = table->rises_m[level];
    sight *s = &made->sight;
    *made = (level_loss){.method = FE_GROUND_RAY};
    s->length = l->length_m;
    s->inverse = 1.0 / s->length;
    s->a1 = antenna(l->work, 0) - snow_m;
    s->a2 = l->rise_m + antenna(l->work, 1) - snow_m;
    look_along(l, snow_m, s);
    const bool beyond = s->length > 4.0 * s->h1 * s->h2 / table->lambda_m;
    if (!beyond && s->v <= FE_KNIFE_EDGE_CLEAR_V)
        return FE_OK;
    const fe_status status = round_earth(l->work, s, &made->sphere_db, &made->smooth_db);
    if (status < 0 || !beyond)
        return status < 0 ? status : fe_status_worse(status, use_obstacles(l, snow_m, made));
    made->method = FE_GROUND_BEYOND;
    return status;
}

/* The line over what counts: snow lies under it and leaves its top where it is. */
static void raise_line(const line *l, double snow_m)
{
    line *over = l->over;
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

/* The same level over what stands on the ground; the surface is that of the bare ground. */
static fe_status level_raise(line *l, size_t level, const level_loss *bare, level_loss *made)
{
    const double snow_m = l->work->table.rises_m[level];
    fe_status status = FE_OK;
    *made = *bare;
    raise_line(l, snow_m);
    made->sight.top = 0;
    look_at(l->over, snow_m, &made->sight);
    if (bare->method == FE_GROUND_BEYOND)
        return FE_OK;
    made->method = FE_GROUND_RAY;
    if (made->sight.v <= FE_KNIFE_EDGE_CLEAR_V)
        return FE_OK;
    if (bare->method == FE_GROUND_RAY)
        status = round_earth(l->work, &made->sight, &made->sphere_db, &made->smooth_db);
    return status < 0 ? status : fe_status_worse(status, use_obstacles(l->over, snow_m, made));
}

static double power_loss(double amplitude, double cosine)
{
    const double power = 1.0 + amplitude * amplitude + 2.0 * amplitude * cosine;
    return -10.0 * log10(fmax(power, 1e-20));
}

/* The ground ray as the single path takes it, its quantiles from the table. */
static fe_status ray_loss(const job *work, const around_season *season, const sight *s,
                          double *loss_db, double *sigma_db)
{
    const fe_ground_path path = {work->in->hop->f_hz, s->length, s->h1, s->h2};
    fe_reflection reflection;
    fe_ground_ray ray;
    fe_status status =
        fe_ground_reflection(&season->ground, FE_GROUND_VERTICAL,
                             atan2(s->h1 + s->h2, s->length), season->rough, &reflection);
    if (status >= 0)
        status = fe_status_worse(status, fe_ground_ray_loss(&path, &reflection, &ray));
    if (status < 0)
        return status;
    const double spread_rad = phase_spread(work, s);
    double cosines[2] = {cos(0.9 * FE_PI), cos(0.1 * FE_PI)};
    double mean_cosine = 0.0;
    if (spread_rad <= FE_PI / 2.0) {
        around_cosines(&work->table, ray.phase_rad, spread_rad, cosines);
        mean_cosine = cos(ray.phase_rad) * exp(-spread_rad * spread_rad / 2.0);
    }
    *loss_db = power_loss(ray.amplitude, mean_cosine);
    *sigma_db =
        (power_loss(ray.amplitude, cosines[0]) - power_loss(ray.amplitude, cosines[1])) /
        2.5631;
    return status;
}

static fe_status ground_of(const job *work, const around_season *season,
                           const level_loss *level, ground_loss *ground)
{
    const sight *s = &level->sight;
    *ground = (ground_loss){.method = level->method,
                            .loss_db = level->obstacle_db,
                            .sigma_db = HOP_SEVERAL_OBSTACLES_SIGMA_DB};
    if (level->method == FE_GROUND_EDGE)
        ground->sigma_db = HOP_EDGE_SIGMA_DB;
    if (level->method == FE_GROUND_EDGE || level->method == FE_GROUND_DELTA_BULLINGTON)
        return FE_OK;
    double ray_db = 0.0;
    double ray_sigma_db = 0.0;
    const fe_status status = ray_loss(work, season, s, &ray_db, &ray_sigma_db);
    if (status < 0)
        return status;
    if (level->method == FE_GROUND_RAY) {
        ground->loss_db = ray_db;
        ground->sigma_db = ray_sigma_db;
    } else {
        ground->loss_db =
            s->actual_db + fmax(0.0, fmax(level->sphere_db, ray_db) - level->smooth_db);
        ground->sigma_db =
            s->actual_db <= 0.0 ? HOP_EDGE_SIGMA_DB : HOP_SEVERAL_OBSTACLES_SIGMA_DB;
    }
    return status;
}

typedef struct answer {
    double margin_db;
    double chance;
} answer;

/* Ground and what stands on it, which is never better than the ground alone. */
static fe_status solid_of(const job *work, const around_season *season, const level_loss *level,
                          const level_loss *over, ground_loss *ground)
{
    fe_status status = ground_of(work, season, level, ground);
    ground->fades = ground->method == FE_GROUND_DELTA_BULLINGTON;
    if (status < 0 || !over)
        return status;
    ground_loss solid;
    status = fe_status_worse(status, ground_of(work, season, over, &solid));
    if (status < 0 || !(solid.loss_db > ground->loss_db))
        return status;
    ground->fades = ground->fades || solid.loss_db - ground->loss_db > HOP_SCATTERS_DB;
    ground->loss_db = solid.loss_db;
    ground->sigma_db = solid.sigma_db;
    return status;
}

static fe_status season_answer(const job *work, const around_season *season,
                               const level_loss *level, const level_loss *over, answer *found)
{
    const around_table *table = &work->table;
    const fe_station *ends = work->in->hop->ends;
    const sight *s = &level->sight;
    ground_loss ground;
    const fe_status status = solid_of(work, season, level, over, &ground);
    if (status < 0)
        return status;
    const double rise_m = s->a2 - s->a1;
    const double direct_m = hypot(s->length, rise_m);
    const double free_space_db = 20.0 * log10(4.0 * FE_PI * direct_m / table->lambda_m);
    const double left_db = season->base_db - free_space_db - ground.loss_db -
                           table->gas_db_per_m * direct_m -
                           hop_slope_loss(&ends[0], rise_m, direct_m) -
                           hop_slope_loss(&ends[1], rise_m, direct_m) -
                           around_fade(table, season, ground.fades, direct_m);
    found->margin_db = left_db - around_median(table, ground.sigma_db);
    found->chance = around_chance(table, ground.sigma_db, left_db);
    return status;
}

/* The least margin of the seasons whose chance is no greater. */
static double least_margin(const answer *seasons, size_t count, double chance)
{
    double least_db = INFINITY;
    for (size_t i = 0; i < count; i++)
        if (seasons[i].chance <= chance)
            least_db = fmin(least_db, seasons[i].margin_db);
    return least_db;
}

/* The cell by the single path. */
static fe_status answer_alone(line *l, answer *found)
{
    const fe_around *in = l->work->in;
    fe_profile ground = {0};
    fe_status status = fe_profile_new(l->pieces + 1, false, l->cluttered, &ground);
    if (status < 0)
        return status;
    for (size_t i = 0; i <= l->pieces; i++) {
        ground.distance_m[i] = i < l->pieces ? l->piece_m * (double)i : l->length_m;
        ground.height_m[i] = l->bare_m[i];
        if (l->cluttered)
            ground.clutter_m[i] = l->clutter_m[i];
    }
    fe_hop hop = *in->hop;
    fe_hop_budget budget = {0};
    hop.ground = &ground;
    hop.stand_count = 0;
    status = fe_hop_budget_compute(&hop, in->seasons, in->season_count, in->wanted, &budget);
    if (status >= 0)
        *found = (answer){budget.seasons[budget.worst].margin_db, budget.chance};
    fe_hop_budget_free(&budget);
    fe_profile_free(&ground);
    return status;
}

static fe_status season_answers(const line *l, const level_loss *levels,
                                const level_loss *overs, answer *seasons)
{
    const job *work = l->work;
    fe_status status = FE_OK;
    for (size_t i = 0; i < work->in->season_count && status >= 0; i++) {
        const around_season *season = &work->table.seasons[i];
        const level_loss *over = l->cluttered ? &overs[season->level] : NULL;
        status = fe_status_worse(
            status, season_answer(work, season, &levels[season->level], over, &seasons[i]));
    }
    return status;
}

/*
 * Margins of seasons whose chances are about the same may lie apart, and then which is the
 * worst hangs on less than the tables are good for: there the single path decides.
 */
static fe_status worst_answer(line *l, const answer *seasons, answer *found)
{
    const size_t count = l->work->in->season_count;
    double least = INFINITY;
    for (size_t i = 0; i < count; i++)
        least = fmin(least, seasons[i].chance);
    const double same = hop_same_chance(least);
    *found = (answer){least_margin(seasons, count, same), least};
    /* None below the least: with that the set is never empty. */
    const double fewer = fmax(same - TABLE_CHANCE, least);
    if (least_margin(seasons, count, fewer) -
            least_margin(seasons, count, same + TABLE_CHANCE) <=
        SAME_MARGIN_DB)
        return FE_OK;
    l->alone++;
    return answer_alone(l, found);
}

static fe_status find_answer(line *l, answer *found)
{
    level_loss levels[MOST_LEVELS];
    level_loss overs[MOST_LEVELS];
    answer seasons[MOST_SEASONS];
    fe_status status = FE_OK;
    for (size_t r = 0; r < l->work->table.rise_count && status >= 0; r++) {
        status = fe_status_worse(status, level_make(l, r, &levels[r]));
        if (l->cluttered && status >= 0)
            status = fe_status_worse(status, level_raise(l, r, &levels[r], &overs[r]));
    }
    if (status >= 0)
        status = fe_status_worse(status, season_answers(l, levels, overs, seasons));
    return status < 0 ? status : fe_status_worse(status, worst_answer(l, seasons, found));
}

static fe_status compute_cell(line *l)
{
    const job *work = l->work;
    answer found = {0};
    const fe_status status = find_answer(l, &found);
    if (status < 0)
        return status;
    work->margin_db[l->index] = (float)found.margin_db;
    if (work->chance)
        work->chance[l->index] = (float)found.chance;
    l->cells++;
    l->holds += found.chance >= work->in->wanted->confidence;
    return status;
}

/* ---- Threads ---- */

typedef struct worker {
    line line;
    size_t first; /* rows first, first + every, ... */
    size_t every;
} worker;

static void *compute_rows(void *argument)
{
    worker *own = argument;
    line *l = &own->line;
    const fe_around *in = l->work->in;
    const bool tells = own->first == 0 && in->progress;
    for (size_t row = own->first; row < in->land.rows && l->status >= 0; row += own->every) {
        for (size_t column = 0; column < in->land.columns && l->status >= 0; column++)
            if (reaches(l, column, row)) {
                walk(l, column, row);
                l->status = fe_status_worse(l->status, compute_cell(l));
            }
        if (tells)
            in->progress(in->context, (double)row / (double)in->land.rows);
    }
    return NULL;
}

static fe_status run_threads(job *work, fe_around_count *count)
{
    worker workers[FE_WORKERS_MOST];
    unsigned wanted = work->in->threads < 1 ? 1 : work->in->threads;
    if (wanted > FE_WORKERS_MOST)
        wanted = FE_WORKERS_MOST;
    unsigned made = 0;
    while (made < wanted && line_make(work, &workers[made].line)) {
        workers[made].first = made;
        workers[made].every = wanted;
        made++;
    }
    fe_status status = made == wanted ? FE_OK : FE_E_MEMORY;
    if (status >= 0)
        fe_workers_run(compute_rows, workers, sizeof workers[0], made);
    for (unsigned t = 0; t < made; t++) {
        line *l = &workers[t].line;
        status = fe_status_worse(status, l->status);
        count->cells += l->cells;
        count->holds += l->holds;
        count->alone += l->alone;
        line_free(l);
    }
    return status;
}

/* ---- All of it ---- */

static bool is_usable(const fe_around *in)
{
    const fe_around_land *land = &in->land;
    const double area = land->east_m[0] * land->north_m[1] - land->east_m[1] * land->north_m[0];
    return in->season_count > 0 && in->season_count <= MOST_SEASONS && land->columns >= 2 &&
           land->rows >= 2 && land->columns <= MOST_SIDE && land->rows <= MOST_SIDE &&
           fabs(area) > 0.0 && isfinite(area) && in->radius_m >= 2.0 &&
           in->radius_m <= FE_AROUND_MOST_M && is_positive(in->hop->f_hz) &&
           in->hop->ends[0].height_m > 0.0 && in->hop->ends[1].height_m > 0.0;
}

static void fill_buried(job *work, fe_around_count *count)
{
    line l = {.work = work};
    const fe_around_land *land = &work->in->land;
    for (size_t i = 0; i < land->columns * land->rows; i++) {
        if (!reaches(&l, i % land->columns, i / land->columns))
            continue;
        work->margin_db[i] = -INFINITY;
        if (work->chance)
            work->chance[i] = 0.0f;
        count->cells++;
    }
}

static fe_status prepare(const fe_around *in, job *work)
{
    work->height_m = fe_around_height(&in->land, in->land.column, in->land.row);
    if (!isfinite(work->height_m))
        return FE_E_DOMAIN;
    const fe_status status = around_table_make(in, &work->table);
    if (status < 0)
        return status;
    if (work->table.rise_count > MOST_LEVELS)
        return FE_E_DOMAIN;
    work->step_m = fe_around_step(&in->land);
    work->room = (size_t)(in->radius_m / work->step_m) + 4;
    work->inverse = calloc(work->room, sizeof *work->inverse);
    if (!work->inverse)
        return FE_E_MEMORY;
    for (size_t i = 1; i < work->room; i++)
        work->inverse[i] = 1.0 / (double)i;
    work->wave = fe_diffraction_wave_over_land(in->hop->f_hz, work->table.ae_m, true);
    return status;
}

fe_status fe_around_compute(const fe_around *around, float *margin_db, float *chance,
                            fe_around_count *count)
{
    if (!is_usable(around))
        return FE_E_DOMAIN;
    job *work = calloc(1, sizeof *work);
    if (!work)
        return FE_E_MEMORY;
    work->in = around;
    work->margin_db = margin_db;
    work->chance = chance;
    for (size_t i = 0; i < around->land.columns * around->land.rows; i++) {
        margin_db[i] = NAN;
        if (chance)
            chance[i] = NAN;
    }
    fe_around_count found = {0};
    fe_status status = prepare(around, work);
    if (status >= 0 && work->table.buried)
        fill_buried(work, &found);
    else if (status >= 0)
        status = fe_status_worse(status, run_threads(work, &found));
    if (status >= 0)
        *count = found;
    around_table_free(&work->table);
    free(work->inverse);
    free(work);
    return status;
}
