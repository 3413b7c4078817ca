/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend calc` for walls, Wi-Fi and power rules, as kept transcripts with exit codes. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/power_rules.h"
#include "farend/wall.h"
#include "farend/wifi.h"
#include "run.h"
#include "testing.h"

static void formulas__print_the_published_values(void **state)
{
    (void)state;
    /* First slab and entry-loss case of P.2040 and P.2109, rates and limits of the tables. */
    fe_testing_check_line(
        "farend calc slab material=concrete thickness=150mm frequency=2437MHz", 0,
        "transmission_loss_db = 11.4817 dB\nreflection_loss_db = 7.45408 dB\n", "");
    fe_testing_check_line(
        "farend calc slab material=glass thickness=6mm frequency=5.5GHz angle=60deg "
        "polarisation=tm",
        0, "transmission_loss_db = 0.501878 dB\n", "");
    fe_testing_check_line(
        "farend calc entry-loss building=traditional frequency=5.5GHz probability=90%", 0,
        "loss_db = 30.1729 dB\n", "");
    fe_testing_check_line(
        "farend calc wifi-rate standard=vht width=80MHz mcs=9 streams=2 guard_interval=0.4us",
        0, "rate_mbps = 866.667 Mb/s\n", "");
    fe_testing_check_line("farend calc wifi-rate standard=ofdm mcs=54", 0,
                          "rate_mbps = 54 Mb/s\n", "");
    fe_testing_check_line("farend calc wifi-sensitivity standard=vht mcs=MCS9", 0,
                          "min_sensitivity_dbm = -57 dBm\n", "");
    fe_testing_check_line("farend calc wifi-channel band=6 channel=63 width=320MHz", 0,
                          "centre_mhz = 6265 MHz\n", "");
    fe_testing_check_line("farend calc eirp-limit area=US frequency=2437MHz antenna_gain=24dBi",
                          0, "max_conducted_dbm = 24 dBm\nresulting_eirp_dbm = 48 dBm\n", "");
}

static void formulas__say_what_was_wrong(void **state)
{
    (void)state;
    fe_testing_check_line(
        "farend calc slab material=concreet thickness=150mm frequency=2437MHz", 2, "",
        "did you mean concrete?");
    fe_testing_check_line("farend calc slab material=brick thickness=11cm frequency=868MHz", 0,
                          "transmission_loss_db", "brick is stated for 1 to 40 GHz");
    fe_testing_check_line("farend calc wall kind=double-glazng frequency=5.5GHz", 2, "",
                          "did you mean double glazing?");
    fe_testing_check_line("farend calc wall kind=double-glazing thickness=5mm frequency=5.5GHz",
                          2, "", "leave something");
    fe_testing_check_line("farend calc wifi-rate standard=vht width=20MHz mcs=9", 2, "",
                          "does not define");
    fe_testing_check_line("farend calc wifi-rate standard=ofdm mcs=55", 2, "", "no such mode");
    fe_testing_check_line("farend calc eirp-limit area=US frequency=3.5GHz", 2, "",
                          "no rule opens");
    fe_testing_check_line("farend calc eirp-limit area=EU frequency=5200MHz", 0,
                          "outdoors = forbidden", "indoors only");
}

/* The names that the listing offers must be those that the library knows. */
static void listing__names_every_material_and_wall(void **state)
{
    (void)state;
    char *list = NULL;
    int code = 0;
    fe_testing_run((const char *[]){"calc", "--list", NULL}, &list, NULL, &code);
    size_t count = 0;
    const fe_material *materials = fe_material_table(&count);
    for (size_t i = 0; i < count; i++)
        assert_non_null(strstr(list, materials[i].name));
    const fe_wall_kind *kinds = fe_wall_kind_table(&count);
    for (size_t i = 0; i < count; i++) {
        char name[64];
        snprintf(name, sizeof name, "%s", kinds[i].name);
        for (char *at = name; *at; at++)
            *at = *at == ' ' ? '-' : *at;
        assert_non_null(strstr(list, name));
    }
    for (int i = 0; i < FE_WIFI_STANDARD_COUNT; i++)
        assert_non_null(strstr(list, fe_wifi_standard_name((fe_wifi_standard)i)));
    const char *const *areas = fe_power_areas(&count);
    for (size_t i = 0; i < count; i++)
        assert_non_null(strstr(list, areas[i]));
    free(list);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(formulas__print_the_published_values),
        cmocka_unit_test(formulas__say_what_was_wrong),
        cmocka_unit_test(listing__names_every_material_and_wall),
    };
    return FE_RUN_TESTS(tests);
}
