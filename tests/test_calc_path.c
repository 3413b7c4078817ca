/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend calc` for the bare path and ground profiles, as kept transcripts with exit codes. */
#include <stdio.h>

#include "run.h"
#include "testing.h"

static void formulas__print_the_published_values(void **state)
{
    (void)state;
    fe_testing_check_line("farend calc free-space distance=150m frequency=2437MHz", 0,
                          "loss_db = 83.7067 dB\n", "");
    fe_testing_check_line("farend calc fresnel distance1=150m distance2=350m frequency=5500MHz",
                          0, "radius_m = 2.39234 m\n", "");
    fe_testing_check_line(
        "farend calc knife-edge height=2m distance1=150m distance2=350m frequency=2437MHz", 0,
        "v = 0.786987\nloss_fit_db = 12.4761 dB\nloss_exact_db = 12.4063 dB\n", "");
    fe_testing_check_line("farend calc earth-radius lapse=45", 0,
                          "k_factor = 1.40179\nae_km = 8930.78 km\n", "");
    fe_testing_check_line("farend calc obstruction clearance=-2m distance1=100m distance2=400m "
                          "frequency=5500MHz",
                          0, "loss_db = 29.1712 dB\n", "");
    /* A validation example of P.1812: profile in km, with clutter, rounded speed of light. */
    fe_testing_check_line(
        "farend calc diffraction profile=tests/reference/radio/profile_hill_1km.csv "
        "height1=60m height2=7m frequency=95.3MHz polarisation=horizontal "
        "ae=8930.776786km light=2.998e8m/s",
        0, "loss_db = 15.3425 dB\n", "");
}

static void profile_formulas__agree_on_what_cuts_the_line(void **state)
{
    (void)state;
    fe_testing_check_line(
        "farend calc clearance profile=profiles/terrain/low-ridge.csv height1=3m height2=3m "
        "frequency=2437MHz",
        0, "distance_m = 195 m\nclearance_m = -0.8", "");
    fe_testing_check_line(
        "farend calc diffraction profile=profiles/terrain/low-ridge.csv height1=3m "
        "height2=3m frequency=2437MHz",
        0, "line_of_sight = no\n", "");
    fe_testing_check_line(
        "farend calc diffraction profile=profiles/terrain/low-ridge.csv height1=9m "
        "height2=9m frequency=2437MHz k=1",
        0, "loss_db = 0 dB\nline_of_sight = yes\n", "");
}

static void formulas__say_what_was_wrong(void **state)
{
    (void)state;
    fe_testing_check_line("farend calc free-space distance=0m frequency=2437MHz", 2, "",
                          "must be above 0");
    fe_testing_check_line("farend calc free-space distance=5cm frequency=2437MHz", 0, "loss_db",
                          "wavelength");
    fe_testing_check_line("farend calc fresnel distance1=1m distance2=350m frequency=2437MHz",
                          0, "radius_m", "13 wavelengths");
    fe_testing_check_line(
        "farend calc fresnel distance1=1m distance2=350m frequency=5GHz zone=0", 2, "",
        "zone must be");
    fe_testing_check_line("farend calc earth-radius lapse=157", 2, "", "below 157");
    fe_testing_check_line("farend calc earth-radius lapse=-10", 0, "k_factor", "warning");
    fe_testing_check_line(
        "farend calc knife-edge height=2m distance1=0m distance2=9m frequency=5GHz", 2, "",
        "above 0");
    fe_testing_check_line(
        "farend calc knife-edge height=5m distance1=20m distance2=9km frequency=5GHz", 0,
        "loss_exact_db", "tenth");
    fe_testing_check_line(
        "farend calc obstruction clearance=3m distance1=1km distance2=1km frequency=5GHz", 0,
        "loss_db", "15 dB");
}

static void profile_formulas__say_what_was_wrong(void **state)
{
    (void)state;
    const char *rest = "height1=3m height2=3m frequency=2437MHz";
    const char *ridge = "profiles/terrain/low-ridge.csv";
    const struct {
        const char *profile;
        const char *more;
        const char *err;
    } rows[] = {
        {"missing.csv", "", "profile=missing.csv: "},
        {"tests", "", "profile=tests: "},
        {"CMakeLists.txt", "", "profile=CMakeLists.txt: "},
        {"tests/reference/radio/p525_free_space.csv", "", "no column distance_m"},
        {ridge, " k=1 ae=8500km", "give one of them"},
        {ridge, " k=0", "above 0"},
        {ridge, " permittivity=1", "permittivity above 1"},
        {ridge, " sea=2", "sea"},
        {ridge, " polarisation=up", "vertical|horizontal"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char line[512];
        snprintf(line, sizeof line, "farend calc diffraction profile=%s %s%s", rows[i].profile,
                 rest, rows[i].more);
        fe_testing_check_line(line, 2, "", rows[i].err);
    }
    fe_testing_check_line(
        "farend calc clearance profile=profiles/terrain/low-ridge.csv height1=-9m "
        "height2=3m frequency=0Hz",
        2, "", "frequency above 0");
    fe_testing_check_line(
        "farend calc diffraction profile=profiles/terrain/low-ridge.csv height1=3m "
        "height2=3m frequency=9MHz",
        0, "loss_db", "10 MHz");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(formulas__print_the_published_values),
        cmocka_unit_test(profile_formulas__agree_on_what_cuts_the_line),
        cmocka_unit_test(formulas__say_what_was_wrong),
        cmocka_unit_test(profile_formulas__say_what_was_wrong),
    };
    return FE_RUN_TESTS(tests);
}
