/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend calc` for spans, loads and posts, as kept transcripts with exit codes. */

#include "run.h"
#include "testing.h"

/* Values worked out with 30 digits, by hand, or in the reference files. */
static void spans__print_the_known_values(void **state)
{
    (void)state;
    fe_testing_check_line(
        "farend calc sag span=40m weight=7.3575N/m tension=2943N", 0,
        "sag_m = 0.500104 m\nlength_m = 40.0167 m\ntension_horizontal_n = 2943 N\n"
        "tension_lower_end_n = 2946.68 N\ntension_higher_end_n = 2946.68 N\n",
        "");
    fe_testing_check_line("farend calc sag span=28m rise=3.1m weight=2.4N/m tension=180N", 0,
                          "sag_m = 1.31", "");
    fe_testing_check_line("farend calc sag span=40m weight=7.3575N/m sag=0.500104m", 0,
                          "tension_horizontal_n = 2943", "");
    fe_testing_check_line(
        "farend calc tension-change span=40m area=20mm2 modulus=170GPa expansion=11.5e-6/K "
        "temperature1=15degC load1=2N/m tension1=800N temperature2=-20degC load2=12N/m",
        0, "tension2_n = 3465.75 N\nsag2_m = 0.69", "");
    fe_testing_check_line(
        "farend calc tension-change span=40m rise=8m area=20mm2 modulus=170GPa "
        "expansion=11.5e-6/K temperature1=15degC load1=2N/m tension1=800N "
        "temperature2=-20degC load2=12N/m",
        0, "tension2_n = 3425.46 N\n", "");
    fe_testing_check_line(
        "farend calc tension-change span=40m area=20mm2 modulus=170GPa expansion=11.5e-6/K "
        "temperature1=15degC load1=2N/m tension1=800N temperature2=-20degC load2=12N/m "
        "model=parabola",
        0, "tension2_n = 3467.11 N\n", "");
    fe_testing_check_line("farend calc ruling-span spans=24m,31m,18.5m", 0,
                          "ruling_span_m = 26.0681 m\n", "");
    fe_testing_check_line("farend calc ruling-span spans=30m,50m", 0,
                          "ruling_span_m = 43.589 m\n", "");
    fe_testing_check_line(
        "farend calc cable-length spans=40m,40m weight=7.3575N/m tension=2943N extra=10m "
        "slack=10%",
        0, "hanging_m = 80.0333 m\nlength_m = 99.0367 m\n", "");
    fe_testing_check_line("farend calc wave-time sag=0.5m", 0, "time_s = 3.83196 s\n", "");
    fe_testing_check_line("farend calc wave-time sag=0.5m returns=5", 0, "time_s = 6.3866 s\n",
                          "");
    fe_testing_check_line("farend calc wave-time time=3.83195948s", 0, "sag_m = 0.5 m\n", "");
    fe_testing_check_line("farend calc blowout span=40m weight=3N/m wind=4N/m tension=1000N", 0,
                          "blowout_deg = 53.1301 deg\n", "");
}

static void loads_and_posts__print_the_known_values(void **state)
{
    (void)state;
    fe_testing_check_line(
        "farend calc ice-wind diameter=9.5mm weight=0.539N/m ice=12.5mm pressure=190Pa "
        "added=4.4N/m",
        0, "ice_n_m = 7.735", "");
    fe_testing_check_line(
        "farend calc embedment force=400N height=2m width=100mm lateral=23.56kPa/m "
        "multiplier=2",
        0, "depth_m = 1.27", "");
    fe_testing_check_line("farend calc embedment force=400N height=2m width=100mm soil=sand", 0,
                          "depth_m = 1.66", "");
    fe_testing_check_line("farend calc setting-depth length=3m", 0, "depth_m = 0.9096 m\n", "");
    fe_testing_check_line(
        "farend calc post-moment height=4m width=100mm pressure=500Pa force=100N", 0,
        "wind_force_n = 200 N\nwind_moment_n_m = 400 N m\npull_moment_n_m = 400 N m\n"
        "moment_n_m = 800 N m\n",
        "");
    fe_testing_check_line("farend calc post-strength width=100mm wood=C24", 0,
                          "resistance_permanent_n_m = 906.", "");
    fe_testing_check_line("farend calc post-strength width=100mm format=us stress=8000psi", 0,
                          "resistance_n_m = 3519", "");
    fe_testing_check_line("farend calc stay pull=1200N height=5m lead=4m", 0,
                          "vertical_n = 1500 N\n", "");
    /* Twice 1200 sqrt(41)/4 = 1920.9 N on 4500 lbf. */
    fe_testing_check_line("farend calc stay pull=1200N height=5m lead=4m soil=sand", 0,
                          "anchor_holding_n = 20017 N", "");
    fe_testing_check_line("farend calc stay pull=1200N height=5m lead=4m soil=sand", 0,
                          "anchor_use = 0.1919", "");
}

static void spans__say_what_was_wrong(void **state)
{
    (void)state;
    fe_testing_check_line("farend calc sag span=40m weight=7.3575N/m", 2, "",
                          "either tension or sag");
    fe_testing_check_line("farend calc sag span=0m weight=7.3575N/m tension=2943N", 2, "",
                          "must be above 0");
    fe_testing_check_line("farend calc sag span=40m weight=2N/m tension=0.01N", 2, "",
                          "hold the cable up");
    fe_testing_check_line("farend calc ruling-span spans=24m,-3m", 2, "",
                          "every span must be above 0");
    fe_testing_check_line(
        "farend calc cable-length spans=24m,30m rises=1m weight=1N/m tension=100N", 2, "",
        "as many rises as spans");
    fe_testing_check_line("farend calc wave-time", 2, "", "either sag or time");
    fe_testing_check_line("farend calc embedment force=400N height=2m width=100mm", 2, "",
                          "either lateral or soil");
    fe_testing_check_line("farend calc embedment force=400N height=2m width=100mm soil=sandd",
                          2, "", "did you mean sand?");
    fe_testing_check_line("farend calc post-strength width=100mm wood=C99", 2, "",
                          "no such strength class");
    fe_testing_check_line("farend calc stay pull=1200N height=5m lead=0m", 2, "",
                          "must be above 0");
    fe_testing_check_line(
        "farend calc tension-change span=40m area=2mm2 modulus=1GPa expansion=1e-5/K "
        "temperature1=15degC load1=2N/m tension1=100N temperature2=-20degC load2=2N/m",
        0, "tension2_n", "stretches by more than 1 %");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(spans__print_the_known_values),
        cmocka_unit_test(loads_and_posts__print_the_known_values),
        cmocka_unit_test(spans__say_what_was_wrong),
    };
    return FE_RUN_TESTS(tests);
}
