/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reach and loss of optical fibre against IEEE 802.3, TIA-568.3 and ISO/IEC 11801. */
#include <math.h>
#include <string.h>

#include "farend/fibre.h"
#include "testing.h"

static void reach__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/fibre_reach.csv");
    while (fe_reference_next(file)) {
        const fe_fibre_reach *row = fe_fibre_reach_find(fe_reference_text(file, "application"),
                                                        fe_reference_text(file, "fibre"));
        fe_reference_check_that(file, row != NULL, "a row of the table");
        if (!row)
            continue;
        fe_reference_check(file, "modal_bandwidth_MHz_km", row->modal_bandwidth_mhz_km, 0.0);
        fe_reference_check(file, "reach_m", row->reach_m, 0.0);
    }
    fe_reference_close(file);
}

/* The number that stands before a word; 0 where the word is missing. */
static double before(const char *text, const char *word)
{
    const char *at = strstr(text, word);
    double value = 0.0;
    if (!at)
        return 0.0;
    while (at > text && at[-1] == ' ')
        at--;
    while (at > text && strchr("0123456789.", at[-1]))
        at--;
    return fe_testing_numbers(at, &value, 1) == 1 ? value : 0.0;
}

/* "loss of link 1.2 km 1310 nm OS2; 2 connector pairs; 2 splices" */
static double link_loss(fe_reference *file, const char *item)
{
    fe_fibre fibre = FE_FIBRE_OS2;
    char name[4] = "";
    const char *om = strstr(item, "OM");
    const char *at = om ? om : strstr(item, "OS");
    if (at)
        memcpy(name, at, 3);
    fe_reference_check_that(file, fe_fibre_named(name, &fibre), "a kind of fibre");
    double db_per_m = NAN, loss_db = NAN;
    fe_reference_check_status(
        file, fe_fibre_attenuation(fibre, 1e-9 * before(item, "nm"), &db_per_m));
    fe_reference_check_status(file,
                              fe_fibre_link_loss(1e3 * before(item, "km"), db_per_m,
                                                 (unsigned)before(item, "connector pair"),
                                                 (unsigned)before(item, "splice"), &loss_db));
    return loss_db;
}

static void loss__is_the_published_one(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("wire/fibre_loss.csv");
    while (fe_reference_next(file)) {
        const char *item = fe_reference_text(file, "item");
        if (strncmp(item, "loss of link", strlen("loss of link")) == 0) {
            fe_reference_check(file, "value", link_loss(file, item), 0.001);
            continue;
        }
        const fe_fibre_figure *figure = fe_fibre_figure_find(item);
        fe_reference_check_that(file, figure != NULL, "a figure of the table");
        if (!figure)
            continue;
        fe_reference_check(file, "value", figure->value, 0.0);
        fe_reference_check_text(file, "unit", figure->unit);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reach__is_the_published_one),
        cmocka_unit_test(loss__is_the_published_one),
    };
    return FE_RUN_TESTS(tests);
}
