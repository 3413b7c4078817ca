/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend calc` for wires, data cable and fibre, as kept transcripts with exit codes. */

#include "run.h"
#include "testing.h"

/* By hand: 2 x 120 m x 7.41 ohm/km x (1 + 0.00393 x 50) x 10 A = 21.2786 V. */
static void feeds__print_what_is_left(void **state)
{
    (void)state;
    fe_testing_check_line(
        "farend calc voltage-drop length=120m current=10A voltage=230V size=2.5mm2 "
        "material=copper temperature=70degC kind=ac",
        0, "drop_v = 21.2786 V\ndrop_percent = 9.25155 %\nfar_voltage_v = 208.721 V\n", "");
    fe_testing_check_line(
        "farend calc voltage-drop length=165m power=1200W voltage=230V size=2.5mm2 "
        "temperature=70degC kind=ac reactance=0.1ohm/km",
        0, "far_voltage_v = 213.56 V\n", "");
    fe_testing_check_line(
        "farend calc voltage-drop length=100m power=60W voltage=12V size=10mm2", 0,
        "far_voltage_v = 9.7", "");
    fe_testing_check_line("farend calc conductor size=2.5mm2", 0, "ohm_per_km = 7.41 ohm/km\n",
                          "");
    fe_testing_check_line("farend calc conductor size=AWG12 temperature=75degC", 0,
                          "ohm_per_km = 6.49606 ohm/km\n", "");
    fe_testing_check_line("farend calc fault-loop length=165m size=2.5mm2 rating=16A", 0,
                          "zs_ohm = 3.28436 ohm\nmax_zs_ohm = 2.73 ohm\n", "");
    fe_testing_check_line("farend calc fault-loop length=165m size=2.5mm2 rating=16A", 0,
                          "trips = no\n", "");
    fe_testing_check_line("farend calc ampacity size=2.5mm2", 0, "ampacity_a = 27 A\n", "");
}

static void data_cables__print_their_limits(void **state)
{
    (void)state;
    fe_testing_check_line(
        "farend calc poe power=25.5W length=80m", 0,
        "loop_ohm = 6.73706 ohm\ncurrent_a = 0.503901 A\ndevice_voltage_v = 50.6052 V\n", "");
    fe_testing_check_line("farend calc poe power=12.95W voltage=44V loop=20ohm", 0,
                          "device_voltage_v = 37 V\n", "");
    fe_testing_check_line("farend calc channel-length category=6 temperature=40degC", 0,
                          "fixed_cable_m = 84 m\nchannel_m = 94 m\n", "");
    fe_testing_check_line("farend calc channel-length application=10GBASE-T category=6", 0,
                          "channel_limit_m = 55 m\n", "");
    fe_testing_check_line(
        "farend calc channel-length application=10BASE-T1L category=single cords=0m", 0,
        "standard_link_m = 1000 m\n", "");
    fe_testing_check_line(
        "farend calc insertion-loss category=5e standard=iso frequency=100MHz", 0,
        "channel_db = 24.0", "");
    fe_testing_check_line(
        "farend calc fibre-loss length=1.2km splices=2 application=1000BASE-LX10", 0,
        "loss_db = 2.58 dB\nreach_m = 10000 m\nmargin_db = 3.42 dB\n", "");
}

static void battery_and_strikes__print_first_figures(void **state)
{
    (void)state;
    fe_testing_check_line(
        "farend calc battery energy=240Wh sun=1.2h", 0,
        "battery_wh = 2000 Wh\nbattery_ah = 166.667 Ah\npanel_w = 285.714 W\n", "");
    fe_testing_check_line("farend calc strike-rate length=165m", 0,
                          "direct_per_year = 0.0066 /year\nnearby_per_year = 0.66 /year\n", "");
}

static void formulas__say_what_was_wrong(void **state)
{
    (void)state;
    fe_testing_check_line(
        "farend calc voltage-drop length=100m power=60W voltage=12V size=6mm2", 2, "",
        "the most is 58.44 W");
    fe_testing_check_line("farend calc voltage-drop length=100m voltage=12V size=6mm2", 2, "",
                          "give either current or power");
    fe_testing_check_line(
        "farend calc voltage-drop length=100m current=3A voltage=12V size=6mm2 "
        "power-factor=0.8",
        2, "", "belong to kind=ac");
    fe_testing_check_line(
        "farend calc voltage-drop length=100m current=1A voltage=12V size=3mm2", 0,
        "far_voltage_v", "resistivity over area");
    fe_testing_check_line("farend calc poe power=12.95W voltage=44V loop=40ohm", 2, "",
                          "the most is 37.37 ohm");
    fe_testing_check_line("farend calc poe power=12.95W", 2, "", "give either loop, or length");
    fe_testing_check_line("farend calc channel-length application=10GBASE-T category=5e", 2, "",
                          "not known to run over that cable");
    fe_testing_check_line(
        "farend calc insertion-loss category=6A standard=iso frequency=100MHz", 2, "",
        "has categories 5e and 6");
    fe_testing_check_line("farend calc insertion-loss category=5e frequency=200MHz", 0,
                          "cable_db", "from 1 to 100 MHz");
    fe_testing_check_line("farend calc ampacity size=2.5mm2 temperature=75degC", 2, "",
                          "leaves no current");
    fe_testing_check_line("farend calc fibre-loss length=1km fibre=OS2 wavelength=850nm", 2, "",
                          "fibre is specified");
    fe_testing_check_line("farend calc fibre-loss length=1km application=10GBASE-SR", 2, "",
                          "not known to run over that fibre");
    fe_testing_check_line("farend calc fault-loop length=165m size=2.5mm2 rating=0A", 2, "",
                          "above 0");
    fe_testing_check_line("farend calc battery energy=0Wh sun=1h", 2, "", "above 0");
    fe_testing_check_line("farend calc strike-rate length=0m", 2, "", "above 0");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(feeds__print_what_is_left),
        cmocka_unit_test(data_cables__print_their_limits),
        cmocka_unit_test(battery_and_strikes__print_first_figures),
        cmocka_unit_test(formulas__say_what_was_wrong),
    };
    return FE_RUN_TESTS(tests);
}
