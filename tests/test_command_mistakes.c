/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One mistake a row of what is typed behind a command: exit 2, nothing on stdout, and a message
 * that names the command and what was wrong.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/textfile.h"
#include "run.h"
#include "testing.h"

typedef struct typed {
    const char *line;
    const char *wanted; /* of one line on stderr */
} typed;

static bool is_refused(const typed *row)
{
    char *out = NULL, *err = NULL;
    int code = 0;
    fe_testing_run_line(FAREND_SOURCE_DIR, row->line, &out, &err, &code);
    const bool refused = code == 2 && !*out && strstr(err, row->wanted);
    if (!refused)
        print_error("%s\nexit %d, stdout:\n%.200s\nstderr:\n%s\nwanted: %s\n\n", row->line,
                    code, out, err, row->wanted);
    free(out);
    free(err);
    return refused;
}

static void check_all(const typed *rows, size_t count)
{
    size_t accepted = 0;
    for (size_t i = 0; i < count; i++)
        accepted += !is_refused(&rows[i]);
    assert_int_equal(accepted, 0);
}

#define CHECK(rows) check_all(rows, sizeof(rows) / sizeof(rows)[0])

#define POWER "farend power --length 100m --voltage 48V "

static void power__is_held_to_its_ranges(void **state)
{
    (void)state;
    static const typed ROWS[] = {
        {"farend power --length 100m --load 60W", "give a plan, or --length, --load"},
        {"farend power --length 100m --voltage 48V", "give a plan, or --length, --load"},
        {"farend power --load 60W --voltage 48V", "give a plan, or --length, --load"},
        {"farend power --length 100m --load 60W --voltage strong", "--voltage: 'strong'"},
        {"farend power --length 100m --load 60W --voltage unknown", "--voltage: 'unknown'"},
        {"farend power --length 100m --load 60W --voltage 0V", "--voltage: '0V'"},
        {"farend power --length 100m --load 60W --voltage ac", "--voltage: 'ac'"},
        {"farend power --length 100m --load 60W --voltage 1001V", "--voltage: '1001V'"},
        {"farend power --length 0m --load 60W --voltage 48V",
         "--length: '0m' is not a length within 1 cm..1000 km"},
        {POWER "--load 60W --drop 0%",
         "--drop: '0%' is not a fraction or percentage within 0.1..50 %"},
        {POWER "--load 60W --drop 60%",
         "--drop: '60%' is not a fraction or percentage within 0.1..50 %"},
        {POWER "--load 60W --air=-61degC", " within -60..60 degC"},
        {POWER "--load 60W --air 61degC", " within -60..60 degC"},
        {POWER "--load 60W --hours=-1h", " within 0..24 h"},
        {POWER "--load 60W --hours 25h", " within 0..24 h"},
        {POWER "--load 60W --start 0.5", " within 1..20"},
        {POWER "--load 60W --start 21", " within 1..20"},
        {POWER "--load 60W --power-factor 0.01", " within 0.05..1"},
        {POWER "--load 60W --power-factor 1.1", " within 0.05..1"},
        {POWER "--load 60W --minimum=-1V", " within 0..1000 V"},
        {POWER "--load 60W --minimum 20kV", " within 0..1000 V"},
        {POWER "--load 60W --loop-impedance=-1ohm", " within 0..1000 ohm"},
        {POWER "--load 60W --loop-impedance 20kohm", " within 0..1000 ohm"},
        {POWER "--load 60W --span=-1m", " within 0..300 m"},
        {POWER "--load 60W --span 20km", " within 0..300 m"},
        {POWER "--load 60W --size 0mm2", " within 0.1..500 mm2"},
        {POWER "--load 60W --size 2m2", " within 0.1..500 mm2"},
        {POWER "--load 60W --protection X9", "--protection: 'X9' is no device"},
        {POWER "--load 60W --protection B0", "--protection: 'B0' is no device"},
        {POWER "--load 60W --protection B16x", "--protection: 'B16x' is no device"},
        {POWER "--load 60W --protection B16fuse", "--protection: 'B16fuse' is no device"},
        {"farend power examples/lambing-shed.ini --minimum 10V", "--minimum goes with --load"},
        {"farend power examples/lambing-shed.ini --hours 2h", "--hours goes with --load"},
        {POWER "--voltage 1V --voltage 2V --voltage 3V --voltage 4V --voltage 5V "
               "--voltage 6V --voltage 7V --voltage 8V --load 60W",
         "at most 8 voltages"},
    };
    CHECK(ROWS);
}

static void loads_of_power__are_held_to_their_form(void **state)
{
    (void)state;
    static const typed ROWS[] = {
        {POWER "--load much", "--load: 'much'"},
        {POWER "--load 0W", "--load: '0W'"},
        {POWER "--load 201kW", "--load: '201kW'"},
        {POWER "--load 1001A", "--load: '1001A'"},
        {POWER "--load 60W@200m", "--load: '60W@200m'"},
        {POWER "--load 60W@0m", "--load: '60W@0m'"},
        {POWER "--load 60W@there", "--load: '60W@there'"},
        {POWER "--load 2A@200m", "--load: '2A@200m'"},
        {POWER "--load 60W,start", "--load: '60W,start'"},
        {POWER "--load 60W,start=0.5", "--load: '60W,start=0.5'"},
        {POWER "--load 60W,start=21", "--load: '60W,start=21'"},
        {POWER "--load 60W,start=x", "--load: '60W,start=x'"},
        {POWER "--load 60W,minimum=x", "--load: '60W,minimum=x'"},
        {POWER "--load 60W,minimum=-1V", "--load: '60W,minimum=-1V'"},
        {POWER "--load 60W,minimum=20kV", "--load: '60W,minimum=20kV'"},
        {POWER "--load 60W,power-factor=x", "--load: '60W,power-factor=x'"},
        {POWER "--load 60W,power-factor=0.01", "--load: '60W,power-factor=0.01'"},
        {POWER "--load 60W,power-factor=1.1", "--load: '60W,power-factor=1.1'"},
        {POWER "--load 60W,hours=x", "--load: '60W,hours=x'"},
        {POWER "--load 60W,hours=-1h", "--load: '60W,hours=-1h'"},
        {POWER "--load 60W,hours=25h", "--load: '60W,hours=25h'"},
        {POWER "--load 60W,colour=1", "--load: '60W,colour=1'"},
    };
    CHECK(ROWS);
}

static void copper__is_held_to_its_ranges(void **state)
{
    (void)state;
    static const typed ROWS[] = {
        {"farend copper", "--length"},
        {"farend copper --length 0m", "--length"},
        {"farend copper --length 80m --category 6cca", "--category"},
        {"farend copper --length 80m --category CCA", "--category"},
        {"farend copper --length 80m --category clad", "--category"},
        {"farend copper --length 80m --category 3", "--category"},
        {"farend copper --length 80m --category nine", "--category"},
        {"farend copper --length 80m --cords=-1m", "within 0..1 km"},
        {"farend copper --length 80m --cords 90m", "a part of the length"},
        {"farend copper --length 80m --connectors=-1", "--connectors"},
        {"farend copper --length 80m --temperature=-61degC", "--temperature"},
        {"farend copper --length 80m --temperature 91degC", "--temperature"},
        {"farend copper --length 80m --rate 0b/s", "--rate"},
        {"farend copper --length 80m --size=-1mm2", "--size"},
        {"farend copper --length 80m --poe-class 9", "--poe-class"},
        {"farend copper examples/boathouse.ini --temperature 99degC", "--temperature"},
        {"farend copper examples/boathouse.ini --flash-density 3/km2/year",
         "--flash-density: the plan says that"},
        {"farend copper examples/boathouse.ini --buried", "--buried: the plan says that"},
    };
    CHECK(ROWS);
}

/* Options that change a cable were passed over in silence where the plan has none. */
static void copper__changes_no_cable_that_is_not_there(void **state)
{
    (void)state;
    static const char PLAN[] = "[site]\nregion = EU\n[end house]\n[end shed]\n[path]\n"
                               "distance = 100 m\n[cable]\nclass = duct-fibre\n";
    char *out = NULL, *err = NULL;
    int code = 0;
    assert_int_equal(fe_textfile_write("test_no_cable.ini", PLAN, strlen(PLAN)), FE_OK);
    fe_testing_run_line(".", "farend copper test_no_cable.ini --rate 1Gb/s --poe-class 3", &out,
                        &err, &code);
    assert_int_equal(code, 2);
    assert_string_equal(out, "");
    assert_string_equal(
        err, "farend copper: --rate: the plan has no cable of four pairs to change\n"
             "farend copper: --poe-class: the plan has no cable of four pairs to change\n");
    free(out);
    free(err);
    remove("test_no_cable.ini");
}

/* A figure that cannot be drawn left an empty folder and not a word. */
static void power__says_that_there_is_nothing_to_draw(void **state)
{
    (void)state;
    char *err = NULL;
    int code = 0;
    fe_testing_run_line(".",
                        "farend power --length 100m --load 200kW --voltage 12V --figures "
                        "test_no_figures",
                        NULL, &err, &code);
    assert_int_equal(code, 0);
    assert_string_equal(err, "farend power: warning: --figures: there is nothing to draw\n");
    free(err);
    remove("test_no_figures");
}

#define FOUR_WALLS " --wall timber --wall timber --wall timber --wall timber"
#define THIRTEEN_WALLS FOUR_WALLS FOUR_WALLS FOUR_WALLS " --wall timber"

static void claim__is_held_to_its_ranges(void **state)
{
    (void)state;
    static const typed ROWS[] = {
        {"farend claim", "--from"},
        {"farend claim --from 5GHz", "--to"},
        {"farend claim --frequency 5GHz", "--distance"},
        {"farend claim --distance 100m", "--frequency"},
        {"farend claim --from 5GHz --to 2.4GHz --range-factor 4 --distance 100m", "--distance"},
        {"farend claim --from 0Hz --to 2.4GHz --range-factor 4", "--from"},
        {"farend claim --from 5GHz --to 0Hz --range-factor 4", "--to"},
        {"farend claim --from 5GHz --to 2.4GHz --range-factor much", "--range-factor"},
        {"farend claim --from 5GHz --to 2.4GHz --range-factor 0", "--range-factor"},
        {"farend claim --from 5GHz --to 2.4GHz --range-factor=-4", "--range-factor"},
        {"farend claim --from 5GHz --to 2.4GHz --range-factor 4 --height 0m", "--height"},
        {"farend claim --from 5GHz --to 2.4GHz --range-factor 4 --trees=-1m", "--trees"},
        {"farend claim --from 5GHz --to 2.4GHz --range-factor 4 --wall cheese", "--wall"},
        {"farend claim --from 5GHz --to 2.4GHz --range-factor 4 --wall \"brick much\"",
         "--wall"},
        {"farend claim --from 5GHz --to 2.4GHz --range-factor 4 --wall \"brick 0mm\"",
         "expected a kind and a thickness within 0.5 mm..3 m"},
        {"farend claim --from 5GHz --to 2.4GHz --range-factor 4 --wall \"brick 4 m\"",
         "expected a kind and a thickness within 0.5 mm..3 m"},
        {"farend claim --from 5GHz --to 2.4GHz --range-factor 4 " THIRTEEN_WALLS,
         "--wall: at most 12 walls"},
        {"farend claim --from 5GHz --to 2.4GHz --range-factor 4 --height 1m --height 2m "
         "--height 3m",
         "--height: at most two"},
        {"farend claim --from 5GHz --to 2.4GHz --range-factor 4 --gear dish",
         "--gear: goes with --frequency and --distance"},
        {"farend claim --from 5GHz --to 2.4GHz --range-factor 4 --rate 1Mb/s",
         "--rate: goes with --frequency and --distance"},
        {"farend claim --frequency 0Hz --distance 100m", "--frequency"},
        {"farend claim --frequency 5GHz --distance 0m", "--distance"},
        {"farend claim --frequency 5GHz --distance 100m --gear doorbell", "doorbell"},
        {"farend claim --frequency 5GHz --distance 100m --rate 0b/s", "--rate"},
        {"farend claim --frequency 5GHz --distance 100m --gear doorbell --wall cheese",
         "--wall: cheese"},
    };
    CHECK(ROWS);
}

static void accept__is_held_to_its_ranges(void **state)
{
    (void)state;
    static const typed ROWS[] = {
        {"farend accept", "plan"},
        {"farend accept --distance 165m --band 5GHz", "--level"},
        {"farend accept --distance 165m --level -61dBm", "--band"},
        {"farend accept --distance 165m --band many --level -61dBm", "--band"},
        {"farend accept --distance 0.5m --band 5GHz --level -61dBm", "--distance"},
        {"farend accept --distance 60km --band 5GHz --level -61dBm", "--distance"},
        {"farend accept --distance 165m --band 5GHz --level 90dBm", "within -150..30 dBm"},
        {"farend accept --distance 165m --band 5GHz --level unknown", "within -150..30 dBm"},
        {"farend accept --distance 165m --band 5GHz --ping-loss 101%", "within 0..100 %"},
        {"farend accept --distance 165m --band 5GHz --level -61dBm --where moon", "--where"},
        {"farend accept --distance 165m --band 5GHz --level -61dBm --weather odd", "odd"},
        {"farend accept --distance 165m --band 5GHz --level -61dBm --gear doorbell",
         "doorbell"},
        {"farend accept examples/lambing-shed.ini --distance 165m --level -61dBm",
         "--distance"},
        {"farend accept examples/lambing-shed.ini --path nowhere --level -61dBm", "nowhere"},
        {"farend accept --distance 165m --band 5GHz --level -61dBm --path way",
         "--path: only a plan has paths with names"},
        {"farend accept --distance 165m --band 5GHz --level -61dBm " THIRTEEN_WALLS,
         "--wall: at most 12 walls"},
        {"farend accept --distance 165m --band 5GHz --level -61dBm --height 1m --height 2m "
         "--height 3m",
         "--height: at most two"},
        {"farend accept --distance 165m --band 5GHz --weather wet",
         "--weather: goes with --level, --rate, --noise or --ping-loss"},
        {"farend accept --distance 165m --band 5GHz --built before",
         "--built: goes with --level, --rate, --noise or --ping-loss"},
    };
    CHECK(ROWS);
}

static void posts__are_held_to_their_ranges(void **state)
{
    (void)state;
    static const typed ROWS[] = {
        {"farend posts", "--distance"},
        {"farend posts --distance 1m", "--distance"},
        {"farend posts --distance 51km",
         "--distance: '51km' is not a length within 2 m..50 km"},
        {"farend posts --distance unknown", "--distance: 'unknown'"},
        {"farend posts --distance 95m --post-length 5m --post-length 50m", "within 1..20 m"},
        {"farend posts --distance 95m --span 8m..400m", "within 1..300 m"},
        {"farend posts --distance 95m --snow 300m", "within 0..15 m"},
        {"farend posts --distance 95m --anchor 3lb", "--anchor"},
        {"farend posts --distance 95m --step 1cm", "--step"},
        {"farend posts --distance 95m --step=-1m", "--step"},
        {"farend posts --distance 95m --wet-snow=-1kg/m", "--wet-snow"},
        {"farend posts --distance 95m --cable string", "string"},
        {"farend posts --distance 95m --wood balsa", "balsa"},
        {"farend posts --distance 95m --soil cheese", "cheese"},
        {"farend posts --distance 95m --messenger thread", "thread"},
        {"farend posts --distance 95m --district XX/none", "--district"},
        {"farend posts --distance 95m --clearance-code XX", "--clearance-code"},
        {"farend posts --distance 95m --span 60m..8m", "--span"},
        {"farend posts --distance 95m --below dragons", "--below"},
        {"farend posts --distance 95m --safety none", "--safety"},
    };
    CHECK(ROWS);
}

static void relays_and_terrain__are_held_to_their_ranges(void **state)
{
    (void)state;
    static const typed ROWS[] = {
        {"farend relays", "--distance"},
        {"farend relays --distance 0m", "--distance"},
        {"farend relays --distance 51km", "within 1 m..50 km"},
        {"farend relays --distance 400m --rate 0b/s", "--rate"},
        {"farend relays --distance 400m --trees=-1m", "--trees"},
        {"farend relays --distance 400m --height 0m", "--height"},
        {"farend relays --distance 400m --band many", "--band"},
        {"farend relays --distance 400m --gear doorbell", "doorbell"},
        {"farend relays --distance 400m --gear indoor-extendr", "indoor-extender"},
        {"farend relays --distance 400m --wall cheese", "--wall"},
        {"farend relays --distance 400m --wall brik", "brick"},
        {"farend relays examples/sugar-house.ini --path nowhere", "nowhere"},
        {"farend relays --distance 60m --band 2.4GHz --band 60GHz --gear indoor-extender",
         "--band: 60 GHz: this gear has no radio in that band"},
        {"farend relays --distance 400m --path way",
         "--path: only a plan has paths with names"},
        {"farend relays --distance 400m --height 1m --height 2m --height 3m",
         "--height: at most two"},
        {"farend terrain", "--survey"},
        {"farend terrain --raster nothing.tif", "--from"},
        {"farend terrain --raster nothing.tif --from 46,7 --to 46", "--to"},
        {"farend terrain --raster nothing.tif --from 91,7 --to 46,7", "--from"},
        {"farend terrain --raster nothing.tif --from 46,181 --to 46,7", "--from"},
        {"farend terrain --raster nothing.tif --from 46;7 --to 46,7", "--from"},
        {"farend terrain --raster nothing.tif --from 46,x --to 46,7", "--from"},
        {"farend terrain --around examples/lambing-shed.ini", "--raster"},
        {"farend terrain --around examples/lambing-shed.ini --raster x.tif", "--radius"},
        {"farend terrain --around examples/lambing-shed.ini --raster x.tif --radius 0m",
         "--radius"},
        {"farend terrain --around examples/lambing-shed.ini --survey x.csv --radius 9m",
         "--survey"},
    };
    CHECK(ROWS);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(power__is_held_to_its_ranges),
        cmocka_unit_test(loads_of_power__are_held_to_their_form),
        cmocka_unit_test(copper__is_held_to_its_ranges),
        cmocka_unit_test(copper__changes_no_cable_that_is_not_there),
        cmocka_unit_test(power__says_that_there_is_nothing_to_draw),
        cmocka_unit_test(claim__is_held_to_its_ranges),
        cmocka_unit_test(accept__is_held_to_its_ranges),
        cmocka_unit_test(posts__are_held_to_their_ranges),
        cmocka_unit_test(relays_and_terrain__are_held_to_their_ranges),
    };
    return FE_RUN_TESTS(tests);
}
