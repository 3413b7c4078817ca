/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Water, ice and snow, and films of water. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "farend/dielectric.h"
#include "testing.h"

static fe_status permittivity_of_row(fe_reference *file, fe_permittivity *result)
{
    const char *medium = fe_reference_text(file, "medium");
    const double f_hz = 1e9 * fe_reference_need(file, "f_ghz");
    const double temp_c = fe_reference_number(file, "temp_c");
    if (strcmp(medium, "liquid_water") == 0)
        return fe_water_permittivity(f_hz, temp_c, result);
    if (strcmp(medium, "ice") == 0)
        return fe_ice_permittivity(f_hz, temp_c, result);
    if (strcmp(medium, "dry_snow") == 0)
        return fe_dry_snow_permittivity(1000.0 * fe_reference_need(file, "density_g_cm3"), f_hz,
                                        isfinite(temp_c) ? temp_c : -5.0, result);
    /* A published film without its temperature: 20 degrees C, as the README computes it. */
    if (strcmp(medium, "wet_antenna_film") == 0)
        return fe_water_permittivity(f_hz, isfinite(temp_c) ? temp_c : 20.0, result);
    fe_reference_check_that(file, false, "a medium that the program knows");
    return FE_E_DOMAIN;
}

static void check_film(fe_reference *file, const fe_permittivity *film)
{
    const char *text = fe_reference_text(file, "film_transmission_loss_db");
    const double film_mm = fe_reference_number(file, "film_mm");
    if (!*text || !isfinite(film_mm))
        return;
    double loss_db = 0.0;
    const double f_hz = 1e9 * fe_reference_need(file, "f_ghz");
    fe_reference_check_status(file, fe_film_loss(film, film_mm / 1000.0, f_hz, &loss_db));
    if (strncmp(text, "over ", 5) == 0)
        fe_reference_check_that(file, loss_db > atof(text + 5), text);
    else if (isfinite(fe_reference_number(file, "film_transmission_loss_db")))
        fe_reference_check(file, "film_transmission_loss_db", loss_db, 0.001);
    else
        fe_reference_pass(file, "words in the place of a loss");
}

static void permittivity_and_film__are_the_published_ones(void **state)
{
    (void)state;
    fe_reference *file = fe_reference_open("radio/water_ice_snow.csv");
    while (fe_reference_next(file)) {
        fe_permittivity got = {0};
        const fe_status status = permittivity_of_row(file, &got);
        fe_reference_check_status(file, status);
        if (status < 0)
            continue;
        fe_reference_check_printed(file, "eps_real", got.real);
        fe_reference_check_printed(file, "eps_imag", got.loss);
        check_film(file, &got);
    }
    fe_reference_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(permittivity_and_film__are_the_published_ones),
    };
    return FE_RUN_TESTS(tests);
}
