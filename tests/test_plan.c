/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "farend/plan.h"
#include "farend/prices.h"
#include "plan/ini_text.h"
#include "plan/keys.h"
#include "plan/reader.h"
#include "testing.h"

static const char PLAN[] = "test_plan.ini";
static const char SMALL[] = "[end house]\n[end shed]\n[path]\ndistance = 150 m\n";
static const fe_plan_places PLACES = {.profiles_option = FAREND_SOURCE_DIR "/profiles"};

static void write_file(const char *name, const char *text, size_t length)
{
    FILE *file = fopen(name, "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(text, 1, length, file), length);
    assert_int_equal(fclose(file), 0);
}

static fe_status read_bytes(const char *text, size_t length, fe_plan *plan,
                            fe_messages *messages)
{
    write_file(PLAN, text, length);
    const fe_status status = fe_plan_read(PLAN, &PLACES, plan, messages);
    remove(PLAN);
    return status;
}

static void show(const fe_messages *messages)
{
    for (size_t i = 0; i < messages->count; i++)
        print_error("%s\n", messages->items[i].text);
}

/* A plan that has to be good: the small one with more text behind it. */
static fe_plan good_with(const char *more)
{
    fe_plan plan = {0};
    fe_messages messages = {0};
    char text[8192];
    snprintf(text, sizeof text, "%s%s", SMALL, more);
    const fe_status status = read_bytes(text, strlen(text), &plan, &messages);
    show(&messages);
    assert_int_equal(status, FE_OK);
    assert_true(fe_messages_none(&messages));
    return plan;
}

static void refuses_bytes(const char *text, size_t length, const char *wanted)
{
    fe_plan plan = {0};
    fe_messages messages = {0};
    bool found = false;
    assert_int_equal(read_bytes(text, length, &plan, &messages), FE_E_INPUT);
    assert_null(plan.file);
    for (size_t i = 0; i < messages.count; i++)
        found = found || strcmp(messages.items[i].text, wanted) == 0;
    if (!found) {
        show(&messages);
        fail_msg("no message: %s", wanted);
    }
    fe_messages_free(&messages);
}

static void refuses(const char *text, const char *wanted)
{
    refuses_bytes(text, strlen(text), wanted);
}

/* The small plan with more behind it; its lines begin at 5. */
static void refuses_with(const char *more, const char *wanted)
{
    char text[8192];
    snprintf(text, sizeof text, "%s%s", SMALL, more);
    refuses(text, wanted);
}

/* ---- the file ---- */

static void plan__of_two_ends_and_a_distance_is_enough(void **state)
{
    (void)state;
    fe_plan plan = good_with("");
    assert_int_equal(plan.end_count, 2);
    assert_int_equal(plan.path_count, 1);
    assert_int_equal(plan.paths[0].from, 0);
    assert_int_equal(plan.paths[0].to, 1);
    assert_close(plan.paths[0].distance_m.typical, 150.0, 0.0);
    assert_close(fe_profile_length(&plan.paths[0].profile), 150.0, 1e-9);
    fe_plan_free(&plan);
}

static void plan__reads_crlf_and_a_byte_order_mark(void **state)
{
    (void)state;
    static const char TEXT[] = "\xEF\xBB\xBF[end house]\r\nheight = 4 m\r\n[end shed]\r\n"
                               "[path]\r\ndistance = 150 m\r\n";
    fe_plan plan = {0};
    fe_messages messages = {0};
    assert_int_equal(read_bytes(TEXT, strlen(TEXT), &plan, &messages), FE_OK);
    assert_string_equal(plan.ends[0].name, "house");
    assert_close(plan.ends[0].height_m.typical, 4.0, 0.0);
    fe_plan_free(&plan);
}

static void plan__counts_lines_with_crlf(void **state)
{
    (void)state;
    refuses("\xEF\xBB\xBF[end a]\r\n\r\nheight = 3\r\n[end b]\r\n[path]\r\ndistance = 9 m\r\n",
            "test_plan.ini:3: [end a] height: read \"3\", expected a length with its unit, "
            "for example 3 m");
}

static void plan__takes_an_indented_line_as_a_key_of_its_own(void **state)
{
    (void)state;
    fe_plan plan = good_with("[site]\n  name = Moor Farm\n  availability = 95 %\n");
    assert_string_equal(plan.site.name, "Moor Farm");
    assert_close(plan.site.availability.typical, 0.95, 1e-12);
    fe_plan_free(&plan);
}

static void plan__refuses_a_line_over_the_limit(void **state)
{
    (void)state;
    char text[400] = "[site]\nname = ";
    memset(text + strlen(text), 'x', 193);
    strcat(text, "\n");
    refuses(text, "test_plan.ini:2: the line has 200 bytes, at most 199 are read; repeat the "
                  "key on another line where it may repeat");
}

static void plan__reads_a_line_at_the_limit(void **state)
{
    (void)state;
    char text[400] = "[site]\nname = ";
    memset(text + strlen(text), 'x', 192);
    strcat(text, "\n");
    fe_plan plan = good_with(text);
    assert_int_equal(strlen(plan.site.name), 192);
    fe_plan_free(&plan);
}

static void plan__refuses_a_section_name_over_the_limit(void **state)
{
    (void)state;
    refuses("[end a-name-that-goes-on-and-on-until-nobody-wants-to-read-it]\n",
            "test_plan.ini:1: the section's name is longer than 49 bytes");
}

static void plan__refuses_text_after_a_section(void **state)
{
    (void)state;
    refuses("[site] name = x\n", "test_plan.ini:1: text after the section's closing bracket; "
                                 "keys go on lines of their own");
}

static void plan__refuses_a_section_left_open(void **state)
{
    (void)state;
    refuses("[site\n", "test_plan.ini:1: a section's name has no closing bracket, expected for "
                       "example [site]");
}

static void plan__refuses_a_line_without_value(void **state)
{
    (void)state;
    refuses("[site]\nname\n", "test_plan.ini:2: neither a section nor a key with its value, "
                              "expected for example height = 3 m");
}

static void plan__refuses_a_key_before_any_section(void **state)
{
    (void)state;
    refuses("name = x\n", "test_plan.ini:1: a key before the first section, expected for "
                          "example [site]");
}

static void plan__refuses_an_empty_file(void **state)
{
    (void)state;
    refuses("", "test_plan.ini: the file is empty");
    refuses(" \n\n", "test_plan.ini: the file is empty");
}

static void plan__refuses_a_nul_byte(void **state)
{
    (void)state;
    refuses_bytes("[site]\nname = a\0b\n", 18,
                  "test_plan.ini:2: the file holds a NUL byte, so it is no text");
}

static void plan__refuses_what_is_no_utf8_or_a_control(void **state)
{
    (void)state;
    refuses("[site]\nname = caf\xE9\n",
            "test_plan.ini:2: the line is no UTF-8 text; save the file as UTF-8");
    refuses("[site]\nname = a\x1b[2J\n", "test_plan.ini:2: the line holds a control character");
}

static void plan__refuses_a_megabyte(void **state)
{
    (void)state;
    const size_t length = 1024 * 1024 + 1;
    char *text = malloc(length);
    assert_non_null(text);
    memset(text, '\n', length);
    refuses_bytes(text, length,
                  "test_plan.ini: the file has 1048577 bytes, at most 1048576 are read");
    free(text);
}

static void plan__says_why_a_missing_file_cannot_be_read(void **state)
{
    (void)state;
    fe_plan plan = {0};
    fe_messages messages = {0};
    assert_int_equal(fe_plan_read("no-such.ini", &PLACES, &plan, &messages), FE_E_IO);
    assert_string_equal(messages.items[0].text,
                        "no-such.ini: cannot read the file: No such file or directory");
    fe_messages_free(&messages);
}

static void plan__says_that_a_directory_is_none(void **state)
{
    (void)state;
    fe_plan plan = {0};
    fe_messages messages = {0};
    assert_int_equal(fe_plan_read(".", &PLACES, &plan, &messages), FE_E_IO);
    assert_string_equal(messages.items[0].text, ".: cannot read the file: Is a directory");
    fe_messages_free(&messages);
}

static void load__stands_at_an_end_out_there(void **state)
{
    (void)state;
    fe_plan plan = good_with("[load lamp]\npower = 5 W\n");
    assert_int_equal(plan.loads[0].end, 1);
    fe_plan_free(&plan);
    refuses_with(
        "[load lamp]\npower = 5 W\nend = house\n",
        "test_plan.ini:7: [load lamp] end: is the first end, where everything comes from; "
        "expected an end out there");
    refuses_with("[load lamp]\npower = 5 W\nend = barn\n[end barn]\n",
                 "test_plan.ini:7: [load lamp] end: no [path] leads to it");
}

/* ---- prices ---- */

static void prices__stand_for_the_size_behind_the_thing(void **state)
{
    (void)state;
    fe_plan plan = good_with("[prices]\nduct = 2 per m\nduct 32 mm = 2.40 per m\n"
                             "duct 2 in = 1.20 per ft\nsupply-cable 2.5 mm2 = 3.10 per m\n"
                             "supply-cable AWG 12 = 0.95/ft\npost 5 m = 42 each\n"
                             "post 16 ft = 45\nswitch 8 ports = 60 EUR each\n"
                             "duct-fibre 4 fibres = 0.90 per m\n");
    assert_int_equal(plan.prices.count, 9);
    assert_true(isnan(plan.prices.items[0].size));
    assert_close(fe_price_of_size(&plan, "duct", 0.032)->per_m, 2.40, 1e-12);
    /* An inch and a quarter goes for 32 mm, an inch and a half is not 40 mm. */
    assert_close(fe_price_of_size(&plan, "duct", 1.25 * 0.0254)->per_m, 2.40, 1e-12);
    assert_null(fe_price_of_size(&plan, "duct", 0.040));
    assert_close(fe_price_of(&plan, "duct", 0.040)->per_m, 2.0, 1e-12);
    assert_close(fe_price_of_size(&plan, "duct", 0.050)->per_m, 1.20 / 0.3048, 1e-12);
    assert_close(fe_price_of_size(&plan, "supply-cable", 2.5e-6)->per_m, 3.10, 1e-12);
    assert_close(fe_price_of_size(&plan, "supply-cable", 3.309e-6)->per_m, 0.95 / 0.3048,
                 1e-12);
    assert_null(fe_price_of(&plan, "supply-cable", 4e-6));
    assert_close(fe_price_of_size(&plan, "post", 5.0)->each, 42.0, 0.0);
    assert_close(fe_price_of_size(&plan, "post", 16.0 * 0.3048)->each, 45.0, 0.0);
    assert_close(fe_price_of_size(&plan, "switch", 8.0)->each, 60.0, 0.0);
    assert_close(fe_price_of_size(&plan, "duct-fibre", 4.0)->per_m, 0.90, 0.0);
    assert_true(isnan(fe_price_amount(fe_price_of_size(&plan, "post", 5.0), true)));
    assert_true(isnan(fe_price_amount(NULL, true)));
    fe_plan_free(&plan);
}

static void price_key__is_what_the_reader_takes(void **state)
{
    (void)state;
    char room[FE_PRICE_KEY_ROOM];
    assert_string_equal(fe_price_key("duct", FE_SIZE_INSIDE, 0.032, false, room), "duct 32 mm");
    assert_string_equal(fe_price_key("duct", FE_SIZE_INSIDE, 0.03175, true, room),
                        "duct 1.25 in");
    assert_string_equal(fe_price_key("post", FE_SIZE_LENGTH, 5.0, false, room), "post 5 m");
    assert_string_equal(fe_price_key("post", FE_SIZE_LENGTH, 6.096, true, room), "post 20 ft");
    assert_string_equal(fe_price_key("supply-cable", FE_SIZE_WIRE, 2.5e-6, false, room),
                        "supply-cable 2.5 mm2");
    assert_string_equal(fe_price_key("switch", FE_SIZE_PORTS, 8.0, true, room),
                        "switch 8 ports");
    assert_string_equal(fe_price_key("trench", FE_SIZE_NONE, (double)NAN, true, room),
                        "trench");
}

static void prices__say_what_is_wrong_with_a_size(void **state)
{
    (void)state;
    refuses_with(
        "[prices]\nduct 32 = 2 per m\n",
        "test_plan.ini:6: [prices] duct 32: read \"32\" behind duct, expected an inner "
        "diameter, for example duct 32 mm");
    refuses_with(
        "[prices]\nsupply-cable 2.5 m = 2 per m\n",
        "test_plan.ini:6: [prices] supply-cable 2.5 m: read \"2.5 m\" behind "
        "supply-cable, expected a wire size, for example supply-cable 2.5 mm2 or AWG 12");
    refuses_with("[prices]\npost 5 km = 40 each\n",
                 "test_plan.ini:6: [prices] post 5 km: read \"5 km\" behind post, expected a "
                 "length, for example post 5 m");
    refuses_with("[prices]\nswitch 0 ports = 40 each\n",
                 "test_plan.ini:6: [prices] switch 0 ports: read \"0 ports\" behind switch, "
                 "expected a number of ports, for example switch 8 ports");
    refuses_with(
        "[prices]\ntrench 2 m = 9 per m\n",
        "test_plan.ini:6: [prices] trench 2 m: read \"2 m\" behind trench, which has no "
        "price by size; expected for example trench = 9 per m");
    refuses_with("[prices]\ndukt 32 mm = 2 per m\n",
                 "test_plan.ini:6: [prices] dukt 32 mm: no class of gear or cable, nor a thing "
                 "with a price");
}

static void prices__say_how_a_thing_is_sold(void **state)
{
    (void)state;
    refuses_with(
        "[prices]\nduct 32 mm = 2\n",
        "test_plan.ini:6: [prices] duct 32 mm: read \"2\", but duct is sold by length, "
        "expected for example duct 32 mm = 0.90 per m");
    refuses_with("[prices]\npost = 45 per m\n",
                 "test_plan.ini:6: [prices] post: read \"45 per m\", but post is sold by the "
                 "piece, expected for example post = 12 each");
    refuses_with("[prices]\npost 5 m = 45 each\npost 500 cm = 46 each\n",
                 "test_plan.ini:7: [prices] post 500 cm: has a price already, in line 6; leave "
                 "one of both");
}

/* ---- sections and keys ---- */

static void plan__suggests_the_nearest_section(void **state)
{
    (void)state;
    refuses_with("[trafic]\n", "test_plan.ini:5: [trafic]: no such section; did you mean "
                               "[traffic]?");
}

static void plan__suggests_the_nearest_key(void **state)
{
    (void)state;
    refuses_with("[site]\navailibility = 99 %\n",
                 "test_plan.ini:6: [site] availibility: no such key; did you mean "
                 "\"availability\"?");
}

static void plan__refuses_two_ends_of_one_name(void **state)
{
    (void)state;
    refuses_with("[end shed]\n",
                 "test_plan.ini:5: [end shed]: there already, on line 2; two need two names");
}

static void plan__refuses_an_end_without_name(void **state)
{
    (void)state;
    refuses_with("[end]\n", "test_plan.ini:5: [end]: no name, for example [end shed]");
}

static void plan__refuses_a_key_given_twice(void **state)
{
    (void)state;
    refuses_with("[site]\nregion = EU\nregion = UK\n",
                 "test_plan.ini:7: [site] region: given a second time; one value is taken");
}

static void plan__refuses_fewer_than_two_ends(void **state)
{
    (void)state;
    refuses("[end house]\n[path]\ndistance = 9 m\n",
            "test_plan.ini: only one end, expected two or more, for example [end house] and "
            "[end shed]");
}

static void plan__refuses_to_guess_a_distance(void **state)
{
    (void)state;
    refuses("[end a]\n[end b]\n", "test_plan.ini: no path, expected [path] with a distance or "
                                  "a profile, for example distance = 150 m");
    refuses("[end a]\n[end b]\n[path]\n",
            "test_plan.ini:3: [path]: neither distance nor profile, expected for example "
            "distance = 150 m");
}

static void plan__says_all_mistakes_in_one_run_in_their_order(void **state)
{
    (void)state;
    static const char TEXT[] = "[end a]\nheight = 3\nmount = outside\n[end b]\nhieght = 2 m\n"
                               "[path]\ndistance = -5 m\n[own]\nindoor-extendr = 2\n";
    fe_plan plan = {0};
    fe_messages messages = {0};
    assert_int_equal(read_bytes(TEXT, strlen(TEXT), &plan, &messages), FE_E_INPUT);
    assert_int_equal(messages.count, 5);
    const int lines[] = {2, 3, 5, 7, 9};
    for (size_t i = 0; i < 5; i++)
        assert_int_equal(messages.items[i].line, lines[i]);
    fe_messages_free(&messages);
}

/* ---- values ---- */

static void plan__shows_the_right_form_of_a_bare_number(void **state)
{
    (void)state;
    refuses("[end house]\nheight = 3\n",
            "test_plan.ini:2: [end house] height: read \"3\", expected a length with its "
            "unit, for example 3 m");
}

static void plan__refuses_a_name_that_no_table_has(void **state)
{
    (void)state;
    refuses("[posts]\nwood = southern pin\n",
            "test_plan.ini:2: [posts] wood: read \"southern pin\", expected a "
            "strength class such as C24, or a species of pole; did "
            "you mean \"southern pine\"?");
    refuses("[posts]\nsoil = clai\n",
            "test_plan.ini:2: [posts] soil: read \"clai\", expected clay, sand, gravel, stony, "
            "rock or bedrock; did you mean \"clay\"?");
    refuses("[trench]\nsoil = sandd\n",
            "test_plan.ini:2: [trench] soil: read \"sandd\", expected clay, sand, gravel, "
            "stony, rock or bedrock; did you mean \"sand\"?");
    refuses("[end house]\nfeeder = 10 mm low-los\n",
            "test_plan.ini:2: [end house] feeder: read \"10 mm low-los\", expected a class of "
            "coaxial cable, by its diameter; did you mean \"10 mm low-loss\"?");
    refuses_with("[posts]\nsupply = aerial-fibre\n",
                 "test_plan.ini:6: [posts] supply: read \"aerial-fibre\", expected a class of "
                 "supply cable that hangs by itself; did you mean \"supply-aerial\"?");
    refuses_with("[posts]\nsupply = supply-aerial\ntied = ends\n",
                 "test_plan.ini:7: [posts] tied: a supply cable on the same posts is tied at "
                 "every post, and so must both be");
    refuses("[end house]\nheight = 2,5 m\n",
            "test_plan.ini:2: [end house] height: read \"2,5 m\", expected a length with its "
            "unit; did you mean \"2.5 m\"?");
    refuses("[end house]\nheight = 2,5..3,5 m\n",
            "test_plan.ini:2: [end house] height: read \"2,5..3,5 m\", expected a length as "
            "LOW..HIGH with the unit, LOW not above HIGH; did you mean \"2.5..3.5 m\"?");
    /* It may be fifteen hundred. */
    refuses("[end house]\nheight = 1,500 m\n",
            "test_plan.ini:2: [end house] height: read \"1,500 m\", expected a length with its "
            "unit, for example 3 m");
    refuses("[posts]\nmessenger = 3/16 very strong\n",
            "test_plan.ini:2: [posts] messenger: read \"3/16 very strong\", expected a strand "
            "by its size in inches and its grade, for example 3/16 extra high strength");
    refuses("[feed]\nprotection = Z16\n",
            "test_plan.ini:2: [feed] protection: read \"Z16\", expected a breaker of type B, C "
            "or D with its current, or a fuse (10 A fuse), for example B16");
}

static void plan__refuses_nan_and_infinities(void **state)
{
    (void)state;
    static const char *const TEXTS[] = {"nan m", "inf m", "-inf m", "1e999 m"};
    for (size_t i = 0; i < 4; i++) {
        char text[64];
        char wanted[160];
        snprintf(text, sizeof text, "[end house]\nheight = %s\n", TEXTS[i]);
        snprintf(wanted, sizeof wanted,
                 "test_plan.ini:2: [end house] height: read \"%s\", expected a length with its "
                 "unit, for example 3 m",
                 TEXTS[i]);
        refuses(text, wanted);
    }
}

static void plan__refuses_negative_lengths(void **state)
{
    (void)state;
    refuses("[end house]\nheight = -2 m\n",
            "test_plan.ini:2: [end house] height: read \"-2 m\", expected a length within "
            "0.05..150 m, for example 3 m");
}

static void plan__refuses_the_wrong_dimension(void **state)
{
    (void)state;
    refuses("[end house]\nheight = 3 kg\n",
            "test_plan.ini:2: [end house] height: read \"3 kg\", expected a length with its "
            "unit, for example 3 m");
}

static void plan__refuses_a_range_the_wrong_way_round(void **state)
{
    (void)state;
    refuses("[end house]\nheight = 5..3 m\n",
            "test_plan.ini:2: [end house] height: read \"5..3 m\", expected a length as "
            "LOW..HIGH with the unit, LOW not above HIGH, for example 3 m");
}

static void plan__suggests_the_nearest_word(void **state)
{
    (void)state;
    refuses("[end house]\nmount = indors\n",
            "test_plan.ini:2: [end house] mount: read \"indors\", expected indoors, outdoors "
            "or behind glass; did you mean \"indoors\"?");
}

static void plan__carries_ranges(void **state)
{
    (void)state;
    fe_plan plan = good_with("[trees]\nfrom = 20 m\nto = 30 m\nheight = 4..7 m\n");
    assert_int_equal(plan.trees[0].height_m.given, FE_GIVEN_RANGE);
    assert_close(plan.trees[0].height_m.low, 4.0, 0.0);
    assert_close(plan.trees[0].height_m.typical, 5.5, 1e-12);
    assert_close(plan.trees[0].height_m.high, 7.0, 0.0);
    fe_plan_free(&plan);
}

static void plan__lets_a_class_range_stand_in_for_unknown(void **state)
{
    (void)state;
    fe_plan plan = good_with("[trees]\nfrom = 20 m\nto = 30 m\nheight = unknown\n"
                             "kind = unknown\n");
    assert_int_equal(plan.trees[0].height_m.given, FE_GIVEN_UNKNOWN);
    assert_close(plan.trees[0].height_m.low, 2.0, 0.0);
    assert_close(plan.trees[0].height_m.high, 20.0, 0.0);
    assert_int_equal(plan.trees[0].kind.given, FE_GIVEN_UNKNOWN);
    fe_plan_free(&plan);
}

static void plan__in_feet_equals_the_plan_in_metres(void **state)
{
    (void)state;
    fe_plan feet = good_with("[posts]\nlength = 12 ft 6 in\nspan = 30..100 ft\n"
                             "clearance = 9.5 ft\nstringing-temperature = 59 degF\n");
    fe_plan metres = good_with("[posts]\nlength = 3.81 m\nspan = 9.144..30.48 m\n"
                               "clearance = 2.8956 m\nstringing-temperature = 15 degC\n");
    assert_close(feet.posts.post_lengths_m.items[0].typical,
                 metres.posts.post_lengths_m.items[0].typical, 1e-12);
    assert_close(feet.posts.span_m.low, metres.posts.span_m.low, 1e-12);
    assert_close(feet.posts.span_m.high, metres.posts.span_m.high, 1e-12);
    assert_close(feet.posts.clearance_m.typical, metres.posts.clearance_m.typical, 1e-12);
    assert_close(feet.posts.stringing_c.typical, metres.posts.stringing_c.typical, 1e-9);
    fe_plan_free(&feet);
    fe_plan_free(&metres);
}

static void plan__gathers_repeated_keys(void **state)
{
    (void)state;
    fe_plan plan =
        good_with("[posts]\nlength = 3 m, 4 m\nlength = 5 m\ncorner = 40 m 30 deg left\n"
                  "over track = 40 m..44 m vehicles 5.5 m\n"
                  "over pond = 60..70 m water\n"
                  "beside barn = 20 m..28 m 1.5 m\ntied = ends\n");
    assert_int_equal(plan.posts.post_lengths_m.count, 3);
    assert_close(plan.posts.post_lengths_m.items[2].typical, 5.0, 0.0);
    assert_int_equal(plan.posts.corner_count, 1);
    assert_close(plan.posts.corners[0].turn_rad, 0.5235987755982988, 1e-12);
    assert_string_equal(plan.posts.corners[0].side, "left");
    assert_int_equal(plan.posts.crossing_count, 3);
    assert_string_equal(plan.posts.crossings[0].name, "track");
    assert_close(plan.posts.crossings[0].to_m, 44.0, 0.0);
    assert_int_equal(plan.posts.crossings[0].below, FE_BELOW_VEHICLES);
    assert_close(plan.posts.crossings[0].clearance_m.typical, 5.5, 0.0);
    assert_int_equal(plan.posts.crossings[1].below, FE_BELOW_WATER);
    assert_int_equal(plan.posts.crossings[1].clearance_m.given, FE_GIVEN_NOT);
    assert_string_equal(plan.posts.crossings[2].name, "barn");
    assert_true(plan.posts.crossings[2].beside && !plan.posts.crossings[0].beside);
    assert_close(plan.posts.crossings[2].from_m, 20.0, 0.0);
    assert_close(plan.posts.crossings[2].to_m, 28.0, 0.0);
    assert_close(plan.posts.crossings[2].clearance_m.typical, 1.5, 0.0);
    assert_int_equal(plan.posts.tied.value, 1);
    fe_plan_free(&plan);
}

static void plan__reads_walls_with_and_without_thickness(void **state)
{
    (void)state;
    static const char TEXT[] = "[end a]\nwall = brick 110 mm\nwall = double glazing\n[end b]\n"
                               "wall = unknown\n[path]\ndistance = 0.25 mi\n";
    fe_plan plan = {0};
    fe_messages messages = {0};
    assert_int_equal(read_bytes(TEXT, strlen(TEXT), &plan, &messages), FE_OK);
    assert_int_equal(plan.ends[0].wall_count, 2);
    assert_string_equal(plan.ends[0].walls[0].kind, "brick");
    assert_close(plan.ends[0].walls[0].thickness_m.typical, 0.11, 1e-12);
    assert_int_equal(plan.ends[0].walls[1].thickness_m.given, FE_GIVEN_NOT);
    assert_string_equal(plan.ends[1].walls[0].kind, "unknown");
    assert_close(plan.paths[0].distance_m.typical, 402.336, 1e-9);
    fe_plan_free(&plan);
}

static void plan__refuses_unknown_walls_beside_known_ones(void **state)
{
    (void)state;
    refuses("[end a]\nwall = brick 110 mm\nwall = unknown\n",
            "test_plan.ini:3: [end a] wall: read \"unknown\", expected either `unknown` alone "
            "or the walls themselves: an unknown wall stands for all of them, for example "
            "brick 110 mm");
}

static void plan__suggests_the_nearest_kind_of_wall(void **state)
{
    (void)state;
    refuses("[end a]\nwall = brik 110 mm\n", "test_plan.ini:2: [end a] wall: read \"brik 110 "
                                             "mm\", expected a kind of wall; did you mean "
                                             "\"brick\"?");
}

static void plan__suggests_the_nearest_gear_and_cable(void **state)
{
    (void)state;
    refuses("[end a]\ngear = indor-access-point\n",
            "test_plan.ini:2: [end a] gear: read \"indor-access-point\", expected the name of "
            "a gear class; did you mean \"indoor-access-point\"?");
    refuses("[posts]\ncable = aerial-fiber\n",
            "test_plan.ini:2: [posts] cable: read \"aerial-fiber\", expected the name of a "
            "cable class; did you mean \"aerial-fibre\"?");
    refuses("[own]\nindoor-extendr = 2\n", "test_plan.ini:2: [own] indoor-extendr: no such "
                                           "gear class; did you mean \"indoor-extender\"?");
}

static void plan__reads_a_transfer_within_a_time(void **state)
{
    (void)state;
    fe_plan plan = good_with("[traffic]\ntransfer = 40 GB in 8 h\n");
    assert_close(plan.traffic[0].transfer_bit.typical, 3.2e11, 1.0);
    assert_close(plan.traffic[0].transfer_s.typical, 28800.0, 1e-9);
    fe_plan_free(&plan);
}

/* ---- what keys say about each other ---- */

static void plan__refuses_a_path_to_an_unknown_end(void **state)
{
    (void)state;
    refuses("[end house]\n[end shed]\n[path]\nto = shde\ndistance = 9 m\n",
            "test_plan.ini:4: [path] to: read \"shde\", expected the name of an end; did you "
            "mean \"shed\"?");
}

static void plan__refuses_a_path_back_to_its_start(void **state)
{
    (void)state;
    refuses("[end house]\n[end shed]\n[path]\nfrom = shed\nto = shed\ndistance = 9 m\n",
            "test_plan.ini:5: [path] to: goes to the end that it comes from");
}

static void plan__wants_to_know_between_which_of_three_ends(void **state)
{
    (void)state;
    refuses_with("[end barn]\n", "test_plan.ini:3: [path]: no from, expected the name of an "
                                 "end, for example from = house");
}

static void plan__refuses_trees_beyond_the_path(void **state)
{
    (void)state;
    refuses_with("[trees]\nfrom = 140 m\nto = 190 m\n",
                 "test_plan.ini:7: [trees] to: lies beyond the path, which is 150.0 m long");
}

static void plan__refuses_trees_that_end_before_they_begin(void **state)
{
    (void)state;
    refuses_with("[trees]\nfrom = 50 m\nto = 40 m\n",
                 "test_plan.ini:7: [trees] to: ends before it begins");
}

static void plan__refuses_places_crossings_and_loads_beyond_the_path(void **state)
{
    (void)state;
    refuses_with("[relay]\nplace = 200 m\n",
                 "test_plan.ini:6: [relay] place: 200.0 m lies beyond the path, which is 150.0 "
                 "m long");
    refuses_with("[posts]\nplace = 20 m, 201 m\nplace = 30 m\n",
                 "test_plan.ini:6: [posts] place: 201.0 m lies beyond the path, which is 150.0 "
                 "m long");
    refuses_with(
        "[posts]\ncorner = 200 m 9 deg\ncorner = 30 m 4 deg\n",
        "test_plan.ini:6: [posts] corner: 200.0 m lies beyond the path, which is 150.0 "
        "m long");
    refuses_with("[posts]\nover track = 149 m..153 m vehicles\n",
                 "test_plan.ini:6: [posts] over track: lies beyond the path, which is 150.0 m "
                 "long");
    refuses_with("[posts]\nbeside barn = 149 m..153 m 1 m\n",
                 "test_plan.ini:6: [posts] beside barn: lies beyond the path, which is 150.0 m "
                 "long");
    refuses_with("[load]\npower = 60 W\nat = 200 m\n",
                 "test_plan.ini:7: [load] at: lies beyond the path, which is 150.0 m long");
}

/* 32 loads a feed, less the far gear and the spare power, less each place of a relay. */
static void plan__refuses_more_loads_than_a_feed_is_computed_with(void **state)
{
    (void)state;
    char text[4096] = "";
    size_t used = 0;
    for (int i = 1; i <= 30; i++)
        used += (size_t)snprintf(text + used, sizeof text - used,
                                 "[load l%d]\npower = 1 W\nat = 9 m\n", i);
    fe_plan plan = good_with(text);
    assert_int_equal(plan.load_count, 30);
    fe_plan_free(&plan);
    snprintf(text + used, sizeof text - used, "[load l31]\npower = 1 W\nat = 9 m\n");
    refuses_with(text,
                 "test_plan.ini:97: [load l31] at: load 31 of 31; a feed is computed with "
                 "at most 30 beside the places of relays, expected for example loads of "
                 "one place added up in one section");
    snprintf(text + used, sizeof text - used, "[relay]\nplace = 60 m, 110 m\n");
    refuses_with(text,
                 "test_plan.ini:91: [load l29] at: load 29 of 30; a feed is computed with "
                 "at most 28 beside the places of relays, expected for example loads of "
                 "one place added up in one section");
}

static void plan__refuses_more_seasons_than_are_computed(void **state)
{
    (void)state;
    char text[4096] = "";
    size_t used = 0;
    for (int i = 1; i <= 17; i++)
        used += (size_t)snprintf(text + used, sizeof text - used,
                                 "[season s%d]\ncoldest = 0 degC\nhottest = 9 degC\n", i);
    refuses_with(text,
                 "test_plan.ini:53: [season s17]: season 17 of 17; at most 16 are computed, "
                 "expected for example those alike in one");
}

static void plan__refuses_climate_beside_seasons(void **state)
{
    (void)state;
    refuses_with("[climate]\nice = 5 mm\n[season all]\ncoldest = 0 degC\nhottest = 9 degC\n",
                 "test_plan.ini:5: [climate]: there are [season] sections too; keep one or the "
                 "other");
}

static void plan__refuses_power_beside_current_and_stream_beside_transfer(void **state)
{
    (void)state;
    refuses_with("[load]\npower = 60 W\ncurrent = 2 A\n",
                 "test_plan.ini:7: [load] current: both power and current; one follows from "
                 "the other");
    refuses_with("[load]\ncurrent = 2 A\n",
                 "test_plan.ini:6: [load] current: a current without the voltage of the load, "
                 "which its power follows from, expected for example voltage = 11..15 V beside "
                 "it");
    refuses_with("[traffic]\nstream = 1 Mb/s\ntransfer = 4 GB in 8 h\n",
                 "test_plan.ini:7: [traffic] transfer: both a stream and a transfer; write two "
                 "[traffic NAME] sections");
}

static void plan__refuses_a_distance_that_disagrees_with_the_profile(void **state)
{
    (void)state;
    refuses("[end a]\n[end b]\n[path]\nprofile = terrain/boathouse.csv\ndistance = 120 m\n",
            "test_plan.ini:5: [path] distance: read \"120 m\", but the profile "
            "terrain/boathouse.csv is 95.0 m long; give one of the two, or make them agree");
}

static void plan__says_where_it_looked_for_a_profile(void **state)
{
    (void)state;
    refuses(
        "[end a]\n[end b]\n[path]\nprofile = terrain/none.csv\n",
        "test_plan.ini:4: [path] profile: read \"terrain/none.csv\", expected a file beside "
        "the plan, in --profiles, in FAREND_PROFILES or in the installed profiles, for "
        "example terrain/meadow.csv");
}

static void plan__says_mistakes_of_its_profile_too(void **state)
{
    (void)state;
    static const char PROFILE[] = "distance_m,height_m\n0,1\n9,x\n";
    write_file("test_plan_profile.csv", PROFILE, strlen(PROFILE));
    refuses("[end a]\n[end b]\n[path]\nprofile = test_plan_profile.csv\n",
            "./test_plan_profile.csv:3: column height_m: read \"x\", expected metres from -500 "
            "to 9000, for example 12.5");
    remove("test_plan_profile.csv");
}

static void plan__wants_a_category_of_data_cable(void **state)
{
    (void)state;
    refuses_with("[cable c]\nmedium = copper pairs\ndiameter = 6 mm\nweight = 1 N/m\n",
                 "test_plan.ini:5: [cable c]: no category, expected a category of pairs (3, 5, "
                 "5e, 6, 6A, 8) or of fibre (OM1 to OM5, OS2), for example category = 5e");
}

static void refuses_places(const fe_plan_places *places, const char *wanted)
{
    fe_plan plan = {0};
    fe_messages messages = {0};
    write_file(PLAN, SMALL, strlen(SMALL));
    assert_int_equal(fe_plan_read(PLAN, places, &plan, &messages), FE_E_INPUT);
    assert_int_equal(messages.count, 1);
    assert_string_equal(messages.items[0].text, wanted);
    fe_messages_free(&messages);
    remove(PLAN);
}

/* A mistyped folder would be catalogues left out without a word. */
static void plan__says_which_folder_of_catalogues_cannot_be_read(void **state)
{
    (void)state;
    const fe_plan_places option = {.profiles_option = "test_plan_none",
                                   .environment = FAREND_SOURCE_DIR "/profiles"};
    refuses_places(&option,
                   "test_plan_none: cannot read the folder: No such file or directory");
    const fe_plan_places file = {.environment = PLAN};
    refuses_places(&file, "test_plan.ini: cannot read the folder: Not a directory");
    const fe_plan_places circle = {.profiles_option = "test_plan_catalogue"};
    mkdir("test_plan_catalogue", 0777);
    assert_int_equal(symlink("gear", "test_plan_catalogue/gear"), 0);
    refuses_places(&circle, "test_plan_catalogue/gear: cannot read the folder: Too many levels "
                            "of symbolic links");
    remove("test_plan_catalogue/gear");
    rmdir("test_plan_catalogue");
}

static void plan__says_mistakes_of_its_catalogue_too(void **state)
{
    (void)state;
    static const char GEAR[] = "[gear mine]\nradio = band 5 GHz, gian 3 dBi\n"
                               "consumption = 3 W\nlowest-temperature = 0 degC\n";
    mkdir("test_plan_catalogue", 0777);
    mkdir("test_plan_catalogue/gear", 0777);
    write_file("test_plan_catalogue/gear/mine.ini", GEAR, strlen(GEAR));
    write_file(PLAN, SMALL, strlen(SMALL));
    const fe_plan_places places = {.profiles_option = "test_plan_catalogue",
                                   .environment = FAREND_SOURCE_DIR "/profiles"};
    fe_plan plan = {0};
    fe_messages messages = {0};
    assert_int_equal(fe_plan_read(PLAN, &places, &plan, &messages), FE_E_INPUT);
    assert_string_equal(
        messages.items[0].text,
        "test_plan_catalogue/gear/mine.ini:2: [gear mine] radio: read \"gian 3 "
        "dBi\", expected one of band, standard, width, streams, power, falloff, "
        "gain, beam, tilt-beam, bonus, polarisation, each once with its value, for "
        "example band 2.4 GHz, standard he, width 20 MHz, streams 2, power 17 "
        "dBm, gain 3 dBi");
    fe_messages_free(&messages);
    remove("test_plan_catalogue/gear/mine.ini");
    rmdir("test_plan_catalogue/gear");
    rmdir("test_plan_catalogue");
    remove(PLAN);
}

static void plan__own_gear_wins_over_the_catalogue(void **state)
{
    (void)state;
    fe_plan plan = good_with("[gear dish]\nradio = band 5 GHz, standard vht, width 20 MHz, "
                             "power 10 dBm, gain 20 dBi\nconsumption = 5 W\n"
                             "lowest-temperature = -20 degC\n");
    const fe_gear *dish = fe_plan_gear(&plan, "dish");
    assert_non_null(dish);
    assert_close(dish->radios[0].gain_dbi, 20.0, 0.0);
    assert_close(dish->radios[0].width_hz, 20e6, 1e-3);
    assert_null(fe_gear_radio(dish, FE_BAND_2_4_GHZ));
    fe_plan_free(&plan);
}

/* ---- defaults and seasons ---- */

static const fe_plan_default *find_default(const fe_plan *plan, const char *section,
                                           const char *key)
{
    for (size_t i = 0; i < plan->default_count; i++)
        if (strcmp(plan->defaults[i].section, section) == 0 &&
            strcmp(plan->defaults[i].key, key) == 0)
            return &plan->defaults[i];
    fail_msg("no default listed: [%s] %s", section, key);
    return NULL;
}

static void plan__lists_its_defaults_with_their_values(void **state)
{
    (void)state;
    fe_plan plan = good_with("");
    assert_string_equal(find_default(&plan, "site", "availability")->value, "99 %");
    assert_string_equal(find_default(&plan, "site", "confidence")->value, "90 %");
    assert_string_equal(find_default(&plan, "end shed", "height")->value, "3 m");
    assert_string_equal(find_default(&plan, "end shed", "mains")->value, "no");
    assert_string_equal(find_default(&plan, "climate", "coldest")->value, "-15 degC");
    assert_string_equal(find_default(&plan, "traffic", "stream")->value, "2 Mb/s each way");
    assert_int_equal(plan.site.availability.given, FE_GIVEN_DEFAULT);
    assert_close(plan.site.availability.typical, 0.99, 1e-12);
    fe_plan_free(&plan);
}

/* 91.4 degF are 33 degC and a crumb of arithmetic. */
static void default__is_printed_without_crumbs_of_its_unit(void **state)
{
    (void)state;
    const plan_key hottest = {.dimension = FE_DIM_TEMPERATURE};
    fe_value value;
    char text[64];
    assert_int_equal(fe_value_parse("91.4 degF", FE_DIM_TEMPERATURE, &value), FE_OK);
    assert_true(value.typical != 33.0);
    assert_string_equal(plan_print_value(&hottest, &value, text, sizeof text), "33 degC");
    assert_int_equal(fe_value_parse("0.3..1 mm", FE_DIM_LENGTH, &value), FE_OK);
    const plan_key length = {.dimension = FE_DIM_LENGTH};
    assert_string_equal(plan_print_value(&length, &value, text, sizeof text),
                        "0.0003..0.001 m");
}

static void plan__does_not_list_what_was_given(void **state)
{
    (void)state;
    fe_plan plan = good_with("[site]\navailability = 98 %\n");
    for (size_t i = 0; i < plan.default_count; i++)
        assert_string_not_equal(plan.defaults[i].key, "availability");
    fe_plan_free(&plan);
}

static void plan__assumes_a_stream_each_way(void **state)
{
    (void)state;
    fe_plan plan = good_with("");
    assert_int_equal(plan.traffic_count, 2);
    assert_close(plan.traffic[0].stream_bps.typical, 2e6, 0.0);
    assert_int_equal(plan.traffic[0].from, 0);
    assert_int_equal(plan.traffic[1].from, 1);
    assert_int_equal(plan.traffic[1].to, 0);
    fe_plan_free(&plan);
}

static void plan__makes_the_usual_seasons_of_its_climate(void **state)
{
    (void)state;
    fe_plan plan = good_with("[climate]\ndeepest-snow = 1.2 m\nrain = 42 mm/h\nice = 9 mm\n");
    assert_int_equal(plan.season_count, FE_USUAL_SEASONS);
    assert_false(plan.seasons_given);
    assert_close(plan.seasons[2].snow_depth_m, 1.2, 0.0);
    assert_close(plan.seasons[1].rain_mm_h, 42.0, 1e-9);
    assert_close(plan.climate.ice_m.typical, 0.009, 1e-12);
    fe_plan_free(&plan);
}

static void plan__keeps_explicit_seasons_with_their_ranges(void **state)
{
    (void)state;
    fe_plan plan = good_with("[season thaw]\nsnow = 0.4..0.8 m\nsnow-is = wet\nleaves = no\n"
                             "cover = wet snow\ncoldest = -5 degC\nhottest = 8 degC\n");
    assert_true(plan.seasons_given);
    assert_int_equal(plan.season_count, 1);
    assert_string_equal(plan.seasons[0].name, "thaw");
    assert_close(plan.seasons[0].snow_depth_m, 0.6, 1e-12);
    assert_true(plan.seasons[0].snow_is_wet);
    assert_false(plan.seasons[0].in_leaf);
    assert_int_equal(plan.seasons[0].cover, FE_COVER_WET_SNOW);
    assert_close(plan.season_inputs[0].snow_m.high, 0.8, 1e-12);
    fe_plan_free(&plan);
}

/* ---- examples and catalogues ---- */

static fe_plan read_example(const char *name)
{
    char path[512];
    fe_plan plan = {0};
    fe_messages messages = {0};
    snprintf(path, sizeof path, "%s/examples/%s.ini", FAREND_SOURCE_DIR, name);
    const fe_status status = fe_plan_read(path, NULL, &plan, &messages);
    show(&messages);
    assert_int_equal(status, FE_OK);
    return plan;
}

static void example__lambing_shed_is_read(void **state)
{
    (void)state;
    fe_plan plan = read_example("lambing-shed");
    assert_close(plan.paths[0].distance_m.typical, 165.0, 0.0);
    assert_int_equal(plan.site.region.value, FE_REGION_UK);
    assert_close(plan.traffic[0].stream_bps.typical, 6e6, 0.0);
    assert_int_equal(plan.traffic[0].from, 1);
    assert_close(plan.loads[0].power_w.typical, 1200.0, 1e-9);
    assert_close(plan.feed.sources[0].volt, 230.0, 0.0);
    assert_true(plan.feed.sources[0].ac);
    assert_int_equal(plan.trees[0].kind.value, FE_TREES_HEDGE);
    assert_close(plan.climate.snow_m.typical, 0.25, 1e-12);
    assert_close(plan.climate.rain_mm_h.typical, 32.0, 1e-9);
    assert_int_equal(plan.owned[1].count, 2);
    assert_true(plan.trench.length_m.typical > 165.0);
    fe_plan_free(&plan);
}

static void example__sugar_house_is_read(void **state)
{
    (void)state;
    fe_plan plan = read_example("sugar-house");
    assert_close(plan.paths[0].distance_m.typical, 420.0, 0.0);
    assert_close(fe_profile_height_at(&plan.paths[0].profile, 420.0) -
                     fe_profile_height_at(&plan.paths[0].profile, 0.0),
                 48.2, 1e-9);
    assert_int_equal(plan.season_count, 4);
    assert_close(plan.season_inputs[2].snow_m.high, 2.0, 1e-12);
    assert_int_equal(plan.ends[1].mains.value, 0);
    assert_int_equal(plan.trees[2].height_m.given, FE_GIVEN_UNKNOWN);
    assert_close(plan.solar.dark_days.typical, 6.0, 1e-12);
    assert_close(plan.solar.sun_hours.high, 1.8, 1e-12);
    assert_false(plan.feed.sources[1].ac);
    assert_true(plan.site.bands[FE_BAND_SUB_GHZ]);
    assert_false(plan.site.bands[FE_BAND_60_GHZ]);
    fe_plan_free(&plan);
}

static void example__boathouse_is_read(void **state)
{
    (void)state;
    fe_plan plan = read_example("boathouse");
    assert_close(plan.paths[0].distance_m.typical, 95.0, 0.0);
    assert_close(plan.traffic[0].transfer_bit.typical, 1.6e11, 1.0);
    assert_close(plan.ends[0].height_m.typical, 3.048, 1e-12);
    assert_close(plan.climate.wind_m_s.typical, 35.7632, 1e-9);
    assert_close(plan.climate.ice_m.high, 0.025, 1e-12);
    assert_int_equal(plan.posts.crossing_count, 3);
    assert_int_equal(plan.posts.safety.value, FE_SAFETY_US);
    assert_close(plan.feed.sources[0].voltage_v.low, 11.5, 1e-12);
    assert_int_equal(plan.readings[0].band.value, FE_BAND_5_GHZ);
    assert_close(plan.readings[0].level_dbm.low, -71.0, 1e-12);
    assert_close(plan.prices.items[2].per_m, 0.80, 1e-12);
    assert_true(isnan(plan.prices.items[2].each));
    fe_plan_free(&plan);
}

static void catalogue__has_the_classes_that_plans_name(void **state)
{
    (void)state;
    static const char *const GEAR[] = {"indoor-access-point",
                                       "indoor-extender",
                                       "outdoor-access-point",
                                       "directional-panel",
                                       "dish",
                                       "sub-ghz-station",
                                       "sixty-ghz-unit",
                                       "phone",
                                       "usb-adapter",
                                       "camera"};
    static const char *const CABLES[] = {
        "indoor-data", "outdoor-data", "outdoor-data-messenger", "aerial-fibre",
        "duct-fibre",  "single-pair",  "supply-buried",          "supply-aerial"};
    fe_plan plan = {0};
    fe_messages messages = {0};
    assert_int_equal(fe_plan_catalogue(&PLACES, &plan, &messages), FE_OK);
    for (size_t i = 0; i < sizeof GEAR / sizeof GEAR[0]; i++)
        assert_non_null(fe_plan_gear(&plan, GEAR[i]));
    for (size_t i = 0; i < sizeof CABLES / sizeof CABLES[0]; i++)
        assert_non_null(fe_plan_cable_class(&plan, CABLES[i]));
    const fe_cable_class *cable = fe_plan_cable_class(&plan, "outdoor-data-messenger");
    assert_close(cable->diameter_m, 0.0095, 1e-12);
    assert_close(cable->weight_n_m, 0.539, 1e-12);
    assert_close(cable->everyday_limit_n, 400.0, 0.0);
    assert_close(cable->breaking_n, 1200.0, 0.0);
    assert_true(isnan(fe_plan_cable_class(&plan, "indoor-data")->breaking_n));
    assert_close(fe_plan_cable_class(&plan, "aerial-fibre")->weight_n_m, 0.196133, 1e-9);
    assert_false(fe_plan_cable_class(&plan, "aerial-fibre")->metallic);
    fe_plan_free(&plan);
}

/* True where one of the section's sources names the figure before its colon. */
static bool has_source(const ini_section *section, const char *figure)
{
    for (size_t i = 0; i < section->count; i++) {
        char names[256];
        if (strcmp(section->entries[i].key, "source") != 0)
            continue;
        snprintf(names, sizeof names, "%s", section->entries[i].value);
        char *colon = strchr(names, ':');
        if (colon)
            *colon = 0;
        for (char *name = strtok(names, ","); name; name = strtok(NULL, ","))
            if (strcmp(name + strspn(name, " "), figure) == 0)
                return true;
    }
    return false;
}

static void check_source(const ini_text *text, const ini_section *section, const char *figure)
{
    if (!has_source(section, figure))
        fail_msg("%s: [%s] %s has no source", text->file, section->title, figure);
}

static void check_radio_sources(const ini_text *text, const ini_section *section,
                                const char *radio)
{
    char parts[256];
    snprintf(parts, sizeof parts, "%s", radio);
    char *rest = NULL;
    for (char *part = strtok_r(parts, ",", &rest); part; part = strtok_r(NULL, ",", &rest)) {
        part += strspn(part, " ");
        part[strcspn(part, " ")] = 0;
        if (strcmp(part, "band") != 0)
            check_source(text, section, part);
    }
}

/* Flags and words are what a class is; its figures are what a source has to be named for. */
static void check_section_sources(const ini_text *text, const ini_section *section)
{
    for (size_t i = 0; i < section->count; i++) {
        const ini_entry *entry = &section->entries[i];
        const bool words = plan_key_find(PART_GEAR, entry->key) &&
                           plan_key_find(PART_GEAR, entry->key)->kind == KIND_FLAG;
        const bool digits = strpbrk(entry->value, "0123456789") != NULL;
        if (strcmp(entry->key, "radio") == 0)
            check_radio_sources(text, section, entry->value);
        else if (digits && !words && strcmp(entry->key, "source") != 0 &&
                 strcmp(entry->key, "summary") != 0 && strcmp(entry->key, "category") != 0)
            check_source(text, section, entry->key);
    }
}

static void check_file_sources(const char *kind, const char *name)
{
    char path[512];
    ini_text text = {0};
    fe_messages messages = {0};
    snprintf(path, sizeof path, "%s/profiles/%s/%s.ini", FAREND_SOURCE_DIR, kind, name);
    assert_int_equal(ini_text_read(path, &text, &messages), FE_OK);
    assert_true(fe_messages_none(&messages));
    for (size_t i = 0; i < text.count; i++)
        check_section_sources(&text, &text.sections[i]);
    ini_text_free(&text);
}

static void catalogue__has_a_source_for_every_figure(void **state)
{
    (void)state;
    fe_plan plan = {0};
    fe_messages messages = {0};
    assert_int_equal(fe_plan_catalogue(&PLACES, &plan, &messages), FE_OK);
    /* A file is named as the class in it. */
    for (size_t i = 0; i < plan.gear_count; i++)
        check_file_sources("gear", plan.gear[i].name);
    for (size_t i = 0; i < plan.cable_count; i++)
        check_file_sources("cable", plan.cables[i].name);
    for (size_t i = 0; i < plan.climate_count; i++)
        check_file_sources("climate", plan.climates[i].name);
    fe_plan_free(&plan);
}

/* ---- the table of keys ---- */

static void check_row(const plan_key *row)
{
    fe_value value;
    const bool quantity = row->kind == KIND_VALUE || row->kind == KIND_VALUES;
    assert_true(row->help && *row->help);
    if (row->bounds && row->dimension != FE_DIM_NUMBER)
        assert_int_equal(fe_value_parse(row->bounds, row->dimension, &value), FE_OK);
    if (row->kind == KIND_NUMBER || quantity)
        assert_non_null(row->bounds);
    if (quantity)
        assert_int_equal(fe_value_parse(row->unknown, row->dimension, &value), FE_OK);
    if (row->kind == KIND_VALUE && row->fallback)
        assert_int_equal(fe_value_parse(row->fallback, row->dimension, &value), FE_OK);
    if (row->kind == KIND_VALUE && row->example)
        assert_int_equal(fe_value_parse(row->example, row->dimension, &value), FE_OK);
    if (row->kind == KIND_WORD)
        assert_true(row->words && row->unknown);
    if (row->kind == KIND_SPECIAL)
        assert_true(row->special && row->expected && row->example);
}

static void keys__have_bounds_help_and_a_range_for_unknown(void **state)
{
    (void)state;
    size_t count = 0;
    const plan_key *rows = plan_keys(&count);
    for (size_t i = 0; i < count; i++)
        check_row(&rows[i]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plan__of_two_ends_and_a_distance_is_enough),
        cmocka_unit_test(plan__reads_crlf_and_a_byte_order_mark),
        cmocka_unit_test(plan__counts_lines_with_crlf),
        cmocka_unit_test(plan__takes_an_indented_line_as_a_key_of_its_own),
        cmocka_unit_test(plan__refuses_a_line_over_the_limit),
        cmocka_unit_test(plan__reads_a_line_at_the_limit),
        cmocka_unit_test(plan__refuses_a_section_name_over_the_limit),
        cmocka_unit_test(plan__refuses_text_after_a_section),
        cmocka_unit_test(plan__refuses_a_section_left_open),
        cmocka_unit_test(plan__refuses_a_line_without_value),
        cmocka_unit_test(plan__refuses_a_key_before_any_section),
        cmocka_unit_test(plan__refuses_an_empty_file),
        cmocka_unit_test(plan__refuses_a_nul_byte),
        cmocka_unit_test(plan__refuses_what_is_no_utf8_or_a_control),
        cmocka_unit_test(plan__refuses_a_megabyte),
        cmocka_unit_test(plan__says_why_a_missing_file_cannot_be_read),
        cmocka_unit_test(plan__says_that_a_directory_is_none),
        cmocka_unit_test(load__stands_at_an_end_out_there),
        cmocka_unit_test(prices__stand_for_the_size_behind_the_thing),
        cmocka_unit_test(price_key__is_what_the_reader_takes),
        cmocka_unit_test(prices__say_what_is_wrong_with_a_size),
        cmocka_unit_test(prices__say_how_a_thing_is_sold),
        cmocka_unit_test(plan__suggests_the_nearest_section),
        cmocka_unit_test(plan__suggests_the_nearest_key),
        cmocka_unit_test(plan__refuses_two_ends_of_one_name),
        cmocka_unit_test(plan__refuses_an_end_without_name),
        cmocka_unit_test(plan__refuses_a_key_given_twice),
        cmocka_unit_test(plan__refuses_fewer_than_two_ends),
        cmocka_unit_test(plan__refuses_to_guess_a_distance),
        cmocka_unit_test(plan__says_all_mistakes_in_one_run_in_their_order),
        cmocka_unit_test(plan__shows_the_right_form_of_a_bare_number),
        cmocka_unit_test(plan__refuses_a_name_that_no_table_has),
        cmocka_unit_test(plan__refuses_nan_and_infinities),
        cmocka_unit_test(plan__refuses_negative_lengths),
        cmocka_unit_test(plan__refuses_the_wrong_dimension),
        cmocka_unit_test(plan__refuses_a_range_the_wrong_way_round),
        cmocka_unit_test(plan__suggests_the_nearest_word),
        cmocka_unit_test(plan__carries_ranges),
        cmocka_unit_test(plan__lets_a_class_range_stand_in_for_unknown),
        cmocka_unit_test(plan__in_feet_equals_the_plan_in_metres),
        cmocka_unit_test(plan__gathers_repeated_keys),
        cmocka_unit_test(plan__reads_walls_with_and_without_thickness),
        cmocka_unit_test(plan__refuses_unknown_walls_beside_known_ones),
        cmocka_unit_test(plan__suggests_the_nearest_kind_of_wall),
        cmocka_unit_test(plan__suggests_the_nearest_gear_and_cable),
        cmocka_unit_test(plan__reads_a_transfer_within_a_time),
        cmocka_unit_test(plan__refuses_a_path_to_an_unknown_end),
        cmocka_unit_test(plan__refuses_a_path_back_to_its_start),
        cmocka_unit_test(plan__wants_to_know_between_which_of_three_ends),
        cmocka_unit_test(plan__refuses_trees_beyond_the_path),
        cmocka_unit_test(plan__refuses_trees_that_end_before_they_begin),
        cmocka_unit_test(plan__refuses_places_crossings_and_loads_beyond_the_path),
        cmocka_unit_test(plan__refuses_more_loads_than_a_feed_is_computed_with),
        cmocka_unit_test(plan__refuses_more_seasons_than_are_computed),
        cmocka_unit_test(plan__refuses_climate_beside_seasons),
        cmocka_unit_test(plan__refuses_power_beside_current_and_stream_beside_transfer),
        cmocka_unit_test(plan__refuses_a_distance_that_disagrees_with_the_profile),
        cmocka_unit_test(plan__says_where_it_looked_for_a_profile),
        cmocka_unit_test(plan__says_mistakes_of_its_profile_too),
        cmocka_unit_test(plan__wants_a_category_of_data_cable),
        cmocka_unit_test(plan__says_which_folder_of_catalogues_cannot_be_read),
        cmocka_unit_test(plan__says_mistakes_of_its_catalogue_too),
        cmocka_unit_test(plan__own_gear_wins_over_the_catalogue),
        cmocka_unit_test(plan__lists_its_defaults_with_their_values),
        cmocka_unit_test(default__is_printed_without_crumbs_of_its_unit),
        cmocka_unit_test(plan__does_not_list_what_was_given),
        cmocka_unit_test(plan__assumes_a_stream_each_way),
        cmocka_unit_test(plan__makes_the_usual_seasons_of_its_climate),
        cmocka_unit_test(plan__keeps_explicit_seasons_with_their_ranges),
        cmocka_unit_test(example__lambing_shed_is_read),
        cmocka_unit_test(example__sugar_house_is_read),
        cmocka_unit_test(example__boathouse_is_read),
        cmocka_unit_test(catalogue__has_the_classes_that_plans_name),
        cmocka_unit_test(catalogue__has_a_source_for_every_figure),
        cmocka_unit_test(keys__have_bounds_help_and_a_range_for_unknown),
    };
    return FE_RUN_TESTS(tests);
}
