/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend calc` for the ground ray, foliage, weather, fading, streets and feeders. */

#include "run.h"
#include "testing.h"

/* Rows of the reference files, as printed to six digits. */
static void formulas__print_the_published_values(void **state)
{
    (void)state;
    fe_testing_check_line(
        "farend calc two-ray frequency=2.437GHz distance=500m height1=2m height2=3m", 0,
        "two_ray_exact_db = 92.947 dB\nfree_space_db = 94.1643 dB\n", "");
    fe_testing_check_line(
        "farend calc two-ray frequency=2.437GHz distance=500m height1=2m height2=3m", 0,
        "plane_earth_db = 92.3958 dB\nbreakpoint_m = 195.095 m\n", "");
    fe_testing_check_line("farend calc foliage frequency=2437MHz depth=10m", 0,
                          "loss_db = 5.79535 dB\nseason_loss_db = 5.79535 dB\n", "");
    fe_testing_check_line("farend calc foliage-routes foliage_loss=1.5dB opaque_loss=18.2dB", 0,
                          "loss_db = 1.40813 dB\n", "");
    fe_testing_check_line(
        "farend calc woodland frequency=949MHz depth=100m specific=0.17dB/m most=26.5dB", 0,
        "loss_db = 12.5478 dB\n", "");
    fe_testing_check_line(
        "farend calc rain frequency=24.125GHz rain_rate=50mm/h distance=1.5km "
        "polarisation=horizontal",
        0, "a001_db = 13.2899 dB\na_p_db = 13.2642 dB\n", "");
    fe_testing_check_line("farend calc gas frequency=60GHz", 0,
                          "gamma_total_db_km = 14.7783 dB/km\n", "");
    fe_testing_check_line("farend calc refractivity temperature=15degC humidity=50%", 0,
                          "n_total = 311.37\n", "");
    fe_testing_check_line("farend calc water-film frequency=5.5GHz", 0,
                          "film_transmission_loss_db = 1.81888 dB\n", "");
    fe_testing_check_line(
        "farend calc fading distribution=rician k_factor=10dB availability=99.9%", 0,
        "margin_db = 9.52019 dB\navailability_pct = 99.9 %\n", "");
    fe_testing_check_line("farend calc fading distribution=rayleigh margin=20dB", 0,
                          "margin_db = 20 dB\navailability_pct = 99.005 %\n", "");
    fe_testing_check_line("farend calc street frequency=2437MHz distance=50m", 0,
                          "median_loss_db = 73.3808 dB\n", "");
    fe_testing_check_line(
        "farend calc street-bounds frequency=2437MHz distance=500m height1=2m height2=3m", 0,
        "p1411_lower_db = 96.3182 dB\np1411_upper_db = 116.318 dB\n", "");
    fe_testing_check_line("farend calc clutter-height frequency=1.5GHz clutter_type=suburban "
                          "antenna_height=2m",
                          0, "loss_db = 20.4", "");
}

static void two_ray__names_the_nulls_about_an_end(void **state)
{
    (void)state;
    fe_testing_check_line(
        "farend calc two-ray frequency=2437MHz distance=165m height1=3m height2=5m", 0,
        "null_below_m = 3.38", "");
    fe_testing_check_line(
        "farend calc two-ray frequency=2437MHz distance=165m height1=3m height2=5m", 0,
        "null_above_m = 6.77", "");
    /* A mast lower than half a wavelength has none. */
    fe_testing_check_line(
        "farend calc two-ray frequency=900MHz distance=100m height1=0.1m height2=5m", 0,
        "null_below_m = none m\nnull_above_m = none m\n", "within a wavelength");
}

static void formulas__say_what_was_wrong(void **state)
{
    (void)state;
    fe_testing_check_line("farend calc foliage frequency=2437MHz depth=10m model=cost_235", 0,
                          "loss_db = 26.4632 dB\n", "was not stated for this frequency");
    fe_testing_check_line("farend calc woodland frequency=2437MHz depth=10m", 0, "loss_db",
                          "up to 2.2 GHz");
    fe_testing_check_line("farend calc feeder class=10mm-lowloss frequency=5.5GHz length=3m", 0,
                          "loss_db", "");
    fe_testing_check_line("farend calc feeder class=10mm-low-lossy frequency=5.5GHz length=3m",
                          2, "", "did you mean 10 mm low-loss?");
    fe_testing_check_line("farend calc feeder class=5mm frequency=5.5GHz length=3m", 0,
                          "loss_db", "30 MHz to 3 GHz");
    fe_testing_check_line("farend calc fading distribution=rician availability=99%", 2, "",
                          "needs k_factor");
    fe_testing_check_line("farend calc fading distribution=rayleigh", 2, "",
                          "either availability or margin");
    fe_testing_check_line("farend calc fading distribution=rayleigh availability=100%", 2, "",
                          "between 0 and 100 %");
    fe_testing_check_line("farend calc rain frequency=24GHz rain_rate=-5mm/h", 2, "",
                          "rain 0 or more");
    fe_testing_check_line(
        "farend calc two-ray frequency=2.4GHz distance=0m height1=2m height2=3m", 2, "",
        "must be above 0");
    fe_testing_check_line("farend calc street frequency=2437MHz distance=900m", 0,
                          "median_loss_db", "5 to 660 m");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(formulas__print_the_published_values),
        cmocka_unit_test(two_ray__names_the_nulls_about_an_end),
        cmocka_unit_test(formulas__say_what_was_wrong),
    };
    return FE_RUN_TESTS(tests);
}
