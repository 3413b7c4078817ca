/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One mistake a row, in the last line of a plan that is good without it: exactly one message,
 * with that line, its section and key, and what was expected. The keys whose values have a form
 * of their own (src/plan/special.c), radio and cable classes among them.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "farend/plan.h"
#include "farend/textfile.h"
#include "testing.h"

static const char FILE_NAME[] = "test_plan_mistakes.ini";
static const char GOOD[] = "[path way]\ndistance = 150 m\n[end house]\n[end shed]\n";

typedef struct mistake {
    const char *more;   /* its last line is wrong */
    const char *wanted; /* of the message, behind file, line, section and key */
} mistake;

static size_t lines_of(const char *text)
{
    size_t count = 0;
    for (; *text; text++)
        count += *text == '\n';
    return count;
}

/* "FILE:LINE: [SECTION] KEY" for the last line of a text. */
static void place_of(const char *text, char *place, size_t size)
{
    const char *section = NULL;
    const char *last = text;
    for (const char *at = text; *at; at = strchr(at, '\n') + 1) {
        section = *at == '[' ? at : section;
        last = at;
    }
    assert_non_null(section);
    snprintf(place, size, "%s:%zu: %.*s %.*s", FILE_NAME, lines_of(text),
             (int)strcspn(section, "\n"), section, (int)(strstr(last, " = ") - last), last);
}

static fe_status read_text(const char *text, fe_plan *plan, fe_messages *messages)
{
    const fe_plan_places places = {.profiles_option = FAREND_SOURCE_DIR "/profiles"};
    assert_int_equal(fe_textfile_write(FILE_NAME, text, strlen(text)), FE_OK);
    const fe_status status = fe_plan_read(FILE_NAME, &places, plan, messages);
    remove(FILE_NAME);
    return status;
}

static bool is_said(const mistake *row)
{
    char text[4096], place[200];
    snprintf(text, sizeof text, "%s%s\n", GOOD, row->more);
    place_of(text, place, sizeof place);
    fe_plan plan = {0};
    fe_messages messages = {0};
    const fe_status status = read_text(text, &plan, &messages);
    const char *got = messages.count ? messages.items[0].text : "";
    const bool said = status == FE_E_INPUT && messages.count == 1 &&
                      strncmp(got, place, strlen(place)) == 0 &&
                      strstr(got + strlen(place), row->wanted);
    if (!said)
        print_error("%s\n%s, %zu messages, the first:\n%s\nwanted one: %s ... %s\n\n",
                    row->more, fe_status_text(status), messages.count, got, place, row->wanted);
    if (status >= 0)
        fe_plan_free(&plan);
    fe_messages_free(&messages);
    return said;
}

static void check_mistakes(const mistake *rows, size_t count)
{
    size_t unsaid = 0;
    for (size_t i = 0; i < count; i++)
        unsaid += !is_said(&rows[i]);
    assert_int_equal(unsaid, 0);
}

#define CHECK(rows) check_mistakes(rows, sizeof(rows) / sizeof(rows)[0])

/* ---- Words, and quantities in a form ---- */

static void forms__are_held_to(void **state)
{
    (void)state;
    static const mistake ROWS[] = {
        {"[site]\nbands = 2.4 GHz, 7 bananas", "radio bands"},
        {"[feed]\nconductor = copper, gold", "copper or aluminium"},
        {"[relay]\nplace = 20 m, far", "read \"20 m, far\""},
        {"[relay]\nplace = 20 m, -3 m", "0"},
        {"[relay]\nplace = 20 m\nplace = anywhere", "both anywhere and places"},
        {"[relay]\nplace = 20 m\npower = 151 m", "151.0 m lies beyond the path"},
        {"[climate]\nclass = moonlike", "climate class"},
        {"[climate m]\nclass = temperate-wet", "a class takes nothing from another"},
        {"[climate]\nhottest = -20 degC\ncoldest = low", "a temperature with its unit"},
        {"[cable]\nindoor = 3 m\nclass = supply-buried", "a class of data cable"},
        {"[cable]\npatch-points = 4..2",
         "a whole number, zero or more as LOW..HIGH, LOW not above HIGH"},
        {"wall = brick 3 kg", "a kind of wall"},
        {"wall = brick 9 m", "3 m"},
        {"wall = 100 mm", "a kind of wall"},
        {"wall = brick 110 mm\nwall = unknown", "either `unknown` alone"},
        {"position = 46 deg", "latitude and longitude"},
        {"position = 46 deg, 7 deg, 8 deg", "latitude and longitude"},
        {"position = 46 deg, east", "latitude and longitude"},
        {"position = 91 deg, 7 deg", "latitude and longitude"},
        {"position = -91 deg, 7 deg", "latitude and longitude"},
        {"position = 46 deg, 361 deg", "latitude and longitude"},
        {"position = 46..99 deg, 7 deg", "latitude and longitude"},
        {"position = 46 deg, 7..361 deg", "latitude and longitude"},
        {"[traffic t]\ntransfer = 3 GB", "in"},
        {"[traffic t]\ntransfer = much in 1 h", "in"},
        {"[traffic t]\ntransfer = 3 GB in a while", "in"},
        {"[traffic t]\ntransfer = 4 b in 1 h", "1 B to 1000 TB"},
        {"[traffic t]\ntransfer = 2000 TB in 1 h", "1 B to 1000 TB"},
        {"[traffic t]\ntransfer = 1 GB in 0.5 s", "1 s to 31 days"},
        {"[traffic t]\ntransfer = 1 GB in 32 days", "1 s to 31 days"},
    };
    CHECK(ROWS);
}

static void posts_and_trench__are_held_to_their_forms(void **state)
{
    (void)state;
    static const mistake ROWS[] = {
        {";[posts]\nlength = 4 m", "stands under ;[posts], which is switched off"},
        {"height = 3 m\n;[trees]\nmains = no", "stands under ;[trees]"},
        {"[posts]\nsection = round", "round"},
        {"[posts]\nsection = oval 12 cm", "round"},
        {"[posts]\nsection = round thick", "round"},
        {"[posts]\nsection = round 12 m", "within 40..500 mm"},
        {"[posts]\ncorner = 40 m", "a distance, an angle"},
        {"[posts]\ncorner = 40 m left", "a distance, an angle"},
        {"[posts]\ncorner = 40 m 30 deg up", "a distance, an angle"},
        {"[posts]\ncorner = 40..50 m 30 deg", "a distance, an angle"},
        {"[posts]\ncorner = 40 m 30..40 deg", "a distance, an angle"},
        {"[posts]\ncorner = -4 m 30 deg", "a distance, an angle"},
        {"[posts]\ncorner = 40 m 180 deg", "a distance, an angle"},
        {"[posts]\nover lane = 40 m..44 m", "a stretch and what passes below"},
        {"[posts]\nover barn = 40 m..44 m roof", "a stretch and what passes below"},
        {"[posts]\nover lane = 40 m..44 m dragons", "a stretch and what passes below"},
        {"[posts]\nover lane = there vehicles", "a stretch and what passes below"},
        {"[posts]\nover lane = unknown vehicles", "a stretch and what passes below"},
        {"[posts]\nover lane = 40 m..44 m vehicles high", "a stretch and what passes below"},
        {"[posts]\nover lane = 40 m..44 m vehicles -1 m", "a stretch and what passes below"},
        {"[posts]\nover lane = 40 m..44 m vehicles 31 m", "a stretch and what passes below"},
        {"[posts]\nover lane = -5 m..4 m vehicles", "0"},
        {"[posts]\nbeside wall = 40 m..44 m", "a stretch and the distance of the thing"},
        {"[posts]\nbeside wall = unknown 1 m", "a stretch and the distance of the thing"},
        {"[posts]\nbeside wall = 40 m..44 m 1..2 m", "a stretch and the distance of the thing"},
        {"[posts]\nbeside wall = 40 m..44 m 0 m", "a stretch and the distance of the thing"},
        {"[posts]\nbeside wall = -5 m..4 m 1 m", "0"},
        {"[posts]\nlength = 1 m, 2 m, 3 m, 4 m, 5 m, 6 m, 7 m, 8 m, 9 m, 10 m, 11 m, 12 m\n"
         "length = 13 m",
         "13 lengths; at most 12 are tried"},
        {"[trench]\nalong = the hedge", "path"},
        {"[trench]\nalong = -2 m", "0"},
        {"[feed]\nvoltage = strong", "a voltage"},
        {"[feed]\nvoltage = 48 V tc", "a voltage"},
        {"[feed]\nvoltage = 0.2 V dc", "1"},
        {"[own]\ndish = some", "how many of a gear class"},
        {"[own]\ndish = 1..2", "how many of a gear class"},
        {"[own]\ndish = -1", "how many of a gear class"},
        {"[own]\ndish = 1\ndish = 2", "given a second time"},
        {"[own]\ndich = 1", "no such gear class; did you mean \"dish\"?"},
        {"[own]\nzzzzzzzzzzzz = 1", "no such gear class"},
        {"[prices]\ndish = dear", "each"},
        {"[prices]\ndish = 5..6 each", "each"},
        {"[prices]\ndish = -5 each", "0"},
        {"[reading r]\nlevel = -67 dBm\nband = 7 bananas", "a radio band"},
    };
    CHECK(ROWS);
}

/* ---- Classes ---- */

#define RADIO "[gear g]\nconsumption = 3 W\nlowest-temperature = 0 degC\nradio = "
#define REST ", standard vht, width 20 MHz, power 10 dBm, gain 20 dBi"

static void radios_of_a_class__are_held_to_their_figures(void **state)
{
    (void)state;
    static const mistake ROWS[] = {
        {RADIO "standard vht, width 20 MHz, power 10 dBm, gain 2 dBi", "a band"},
        {RADIO "band 5 GHz, width 20 MHz, power 10 dBm, gain 2 dBi", "a standard"},
        {RADIO "band 5 GHz, standard vht, power 10 dBm, gain 2 dBi", "a width"},
        {RADIO "band 5 GHz, standard vht, width 20 MHz, gain 2 dBi", "a power"},
        {RADIO "band 5 GHz, standard vht, width 20 MHz, power 10 dBm", "a gain"},
        {RADIO "band 7 bananas" REST, "read \"band 7 bananas\""},
        {RADIO "band 5 GHz, standard 802, width 20 MHz, power 10 dBm, gain 2 dBi",
         "read \"standard 802\""},
        {RADIO "band 5 GHz" REST ", streams 0", "read \"streams 0\""},
        {RADIO "band 5 GHz" REST ", streams 9", "read \"streams 9\""},
        {RADIO "band 5 GHz" REST ", streams two", "read \"streams two\""},
        {RADIO "band 5 GHz" REST ", polarisation round", "read \"polarisation round\""},
        {RADIO "band 5 GHz" REST ", beam 400 deg", "read \"beam 400 deg\""},
        {RADIO "band 5 GHz" REST ", tilt-beam 0 deg", "read \"tilt-beam 0 deg\""},
        {RADIO "band 5 GHz" REST ", falloff steep", "read \"falloff steep\""},
        {RADIO "band 5 GHz" REST ", band 2.4 GHz", "read \"band 2.4 GHz\", expected one of"},
        {RADIO "band 5 GHz" REST ", power 20 dBm", "read \"power 20 dBm\", expected one of"},
        {RADIO "band 5 GHz" REST ", standard he", "each once with its value"},
        {RADIO "band 5 GHz" REST ", streams 2, streams 1", "read \"streams 1\""},
        {RADIO "band 5 GHz" REST ", polarisation dual, polarisation dual", "each once"},
        {"[gear g]\nradio = band 5 GHz" REST "\nlowest-temperature = 0 degC\n"
         "consumption = unknown",
         "read \"unknown\", expected a power with its unit"},
        {RADIO "band 5 GHz" REST "\nradio = band 5 GHz" REST, "one radio for each band"},
        {RADIO "band 5 GHz" REST "\nsource = nobody", "FIGURE: where it comes from"},
        {RADIO "band 5 GHz" REST "\nsource = : nobody", "FIGURE: where it comes from"},
        {RADIO "band 5 GHz" REST "\nsource = gain:", "FIGURE: where it comes from"},
    };
    CHECK(ROWS);
}

#define CABLE "[cable c]\ndiameter = 6 mm\nweight = 0.5 N/m\n"
#define FIBRE "[cable c]\ndiameter = 6 mm\nmedium = fibre\ncategory = OS2\n"

static void cables_of_a_class__are_held_to_their_forms(void **state)
{
    (void)state;
    static const mistake ROWS[] = {
        {CABLE "medium = string", "copper pairs, single pair, fibre"},
        {CABLE "medium = fibre\ncategory = a-very-long-name", "a category of pairs"},
        {CABLE "medium = fibre\ncategory = 5e", "of fibre (OM1 to OM5, OS2)"},
        {CABLE "medium = copper pairs\ncategory = cat5", "a category of pairs (3, 5, 5e, "},
        {CABLE "medium = copper pairs\ncategory = single pair", "a category of pairs"},
        {CABLE "medium = fibre\ncategory = OS2\nmass = 55 kg/km", "both mass and weight"},
        {FIBRE "mass = 55 kg", "a mass per length"},
        {FIBRE "mass = 50..60 kg/km", "a mass per length"},
        {FIBRE "mass = 900 kg/m", "50"},
        {"[cable c]\nmedium = supply\nweight = 1 N/m\ndiameter = unknown",
         "read \"unknown\", expected a length with its unit"},
    };
    CHECK(ROWS);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(forms__are_held_to),
        cmocka_unit_test(posts_and_trench__are_held_to_their_forms),
        cmocka_unit_test(radios_of_a_class__are_held_to_their_figures),
        cmocka_unit_test(cables_of_a_class__are_held_to_their_forms),
    };
    return FE_RUN_TESTS(tests);
}
