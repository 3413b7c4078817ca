/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/around_places.h"

#include <math.h>
#include <stdlib.h>

#include "farend/constants.h"
#include "testing.h"

/*
 * '#' holds, '.' does not, ' ' has no answer; the end stands at '+', and a cell is 10 m wide.
 * An area about the end with a bay, one of nine cells in the north-east, one of three in the
 * south-west, and one that touches it by a corner alone.
 */
enum { COLUMNS = 12, ROWS = 9 };

static const char *const DRAWN[ROWS] = {
    "        ### ", /* */
    "  ....  ### ", /* */
    " ...... ### ", /* */
    " ###..##### ", /* */
    ".###+###..# ", /* */
    ".#######....", /* */
    ".........   ", /* */
    "#.....      ", /* */
    "##          ", /* */
};

typedef struct drawing {
    float heights[COLUMNS * ROWS];
    float chance[COLUMNS * ROWS];
    fe_around_land land;
    fe_around_chances map;
} drawing;

static drawing *draw(const char *const rows[ROWS])
{
    drawing *made = calloc(1, sizeof *made);
    assert_non_null(made);
    for (size_t i = 0; i < (size_t)COLUMNS * ROWS; i++) {
        const char mark = rows[i / COLUMNS][i % COLUMNS];
        made->chance[i] = mark == '#' ? 0.95f : mark == '.' ? 0.5f : NAN;
        if (mark == '+') {
            made->land.column = (double)(i % COLUMNS);
            made->land.row = (double)(i / COLUMNS);
        }
    }
    made->land.height_m = made->heights;
    made->land.columns = COLUMNS;
    made->land.rows = ROWS;
    made->land.east_m[0] = 10.0;
    made->land.north_m[1] = -10.0;
    made->map = (fe_around_chances){&made->land, made->chance, 0.9, 60.0};
    return made;
}

static size_t cell_at(size_t column, size_t row)
{
    return row * COLUMNS + column;
}

static void cell__is_the_one_about_a_place(void **state)
{
    (void)state;
    drawing *d = draw(DRAWN);
    size_t cell = 0;
    assert_true(fe_around_cell(&d->land, 0.0, 0.0, &cell));
    assert_int_equal(cell, cell_at(4, 4));
    assert_true(fe_around_cell(&d->land, 24.0, 36.0, &cell));
    assert_int_equal(cell, cell_at(6, 0));
    assert_false(fe_around_cell(&d->land, -46.0, 0.0, &cell));
    assert_false(fe_around_cell(&d->land, 0.0, -46.0, &cell));
    free(d);
}

/* East three cells, then one that does not; west three, then none: in steps of half a cell from
 * 11 m on, a cell beyond the nearest that is computed. */
static void reach__ends_at_the_first_gap(void **state)
{
    (void)state;
    drawing *d = draw(DRAWN);
    bool rim = true;
    assert_close(fe_around_reach(&d->map, FE_PI / 2.0, &rim), 31.0, 1e-9);
    assert_false(rim);
    assert_close(fe_around_reach(&d->map, 1.5 * FE_PI, &rim), 31.0, 1e-9);
    assert_false(rim);
    assert_close(fe_around_reach(&d->map, 0.0, &rim), 0.0, 0.0);
    assert_false(rim);
    /* Within 30 m to the west all hold. */
    d->map.radius_m = 30.0;
    assert_close(fe_around_reach(&d->map, 1.5 * FE_PI, &rim), 26.0, 1e-9);
    assert_true(rim);
    free(d);
}

static void nearest__is_found_from_a_place_that_does_not_hold(void **state)
{
    (void)state;
    drawing *d = draw(DRAWN);
    fe_around_place found;
    /* From the cell in column 5, row 2: column 6 of the row below it. */
    assert_true(fe_around_nearest(&d->map, 10.0, 20.0, &found));
    assert_int_equal(found.cell, cell_at(6, 3));
    assert_close(found.east_m, 20.0, 1e-9);
    assert_close(found.north_m, 10.0, 1e-9);
    for (size_t i = 0; i < (size_t)COLUMNS * ROWS; i++)
        d->chance[i] = 0.5f;
    assert_false(fe_around_nearest(&d->map, 10.0, 20.0, &found));
    free(d);
}

static void areas__come_by_size_with_their_middles(void **state)
{
    (void)state;
    drawing *d = draw(DRAWN);
    fe_around_area areas[4];
    size_t count = 0;
    /* A gap through the bridge: what is east of it is an area of its own. */
    d->chance[cell_at(7, 3)] = 0.5f;
    d->chance[cell_at(8, 3)] = 0.5f;
    d->chance[cell_at(9, 3)] = 0.5f;
    assert_int_equal(fe_around_areas(&d->map, areas, 4, &count), FE_OK);
    assert_int_equal(count, 3);
    assert_true(areas[0].around_end);
    assert_close(areas[0].area_m2, 100.0 * 17.0, 1e-6);
    assert_false(areas[1].around_end);
    assert_close(areas[1].area_m2, 100.0 * 11.0, 1e-6);
    assert_int_equal(areas[1].middle.cell, cell_at(9, 1));
    assert_close(areas[2].area_m2, 100.0 * 3.0, 1e-6);
    /* No room but for the largest. */
    assert_int_equal(fe_around_areas(&d->map, areas, 1, &count), FE_OK);
    assert_int_equal(count, 1);
    assert_close(areas[0].area_m2, 100.0 * 17.0, 1e-6);
    free(d);
}

static void areas__that_touch_by_a_side_are_one(void **state)
{
    (void)state;
    drawing *d = draw(DRAWN);
    fe_around_area areas[4];
    size_t count = 0;
    assert_int_equal(fe_around_areas(&d->map, areas, 4, &count), FE_OK);
    assert_int_equal(count, 2);
    assert_close(areas[0].area_m2, 100.0 * 31.0, 1e-6);
    assert_true(areas[0].around_end);
    free(d);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cell__is_the_one_about_a_place),
        cmocka_unit_test(reach__ends_at_the_first_gap),
        cmocka_unit_test(nearest__is_found_from_a_place_that_does_not_hold),
        cmocka_unit_test(areas__come_by_size_with_their_middles),
        cmocka_unit_test(areas__that_touch_by_a_side_are_one),
    };
    return FE_RUN_TESTS(tests);
}
