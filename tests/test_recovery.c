/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What hangs, what dies, who cuts the power, and how it grows: claim by claim. */
#include <math.h>
#include <string.h>

#include "deciding.h"
#include "farend/calendar.h"
#include "farend/conductor.h"
#include "farend/growth.h"
#include "farend/recovery.h"

/* ---- Judging a list of devices ---- */

static fe_device device_fed(fe_fed_by fed_by)
{
    return (fe_device){.name = "radio",
                       .place = "shed",
                       .passes_on = true,
                       .fed_by = fed_by,
                       .lowest_start_c = -30.0,
                       .coldest_c = -15.0};
}

static fe_recovery judged(const fe_device *devices, size_t count)
{
    fe_recovery recovery = {.device_count = count};
    memcpy(recovery.devices, devices, count * sizeof *devices);
    fe_recovery_judge(&recovery);
    return recovery;
}

static void hang__is_no_walk_where_the_house_feeds_the_device(void **state)
{
    (void)state;
    const fe_device devices[] = {device_fed(FE_FED_HOUSE_OUTLET), device_fed(FE_FED_HOUSE_POE),
                                 device_fed(FE_FED_HOUSE_FEED), device_fed(FE_FED_OWN)};
    const fe_recovery recovery = judged(devices, 4);
    assert_false(recovery.devices[0].walk);
    assert_false(recovery.devices[1].walk);
    assert_false(recovery.devices[2].walk);
    assert_true(recovery.devices[3].walk);
    assert_int_equal(recovery.devices[0].cut, FE_CUT_BY_HAND);
    assert_int_equal(recovery.devices[1].cut, FE_CUT_POE_PORT);
    assert_int_equal(recovery.devices[2].cut, FE_CUT_FEED);
    assert_int_equal(recovery.devices[3].cut, FE_CUT_NOBODY);
}

static void watchdog__is_wanted_only_where_nobody_else_can_cut(void **state)
{
    (void)state;
    const fe_device fed[] = {device_fed(FE_FED_HOUSE_FEED)};
    const fe_device own[] = {device_fed(FE_FED_OWN)};
    assert_false(judged(fed, 1).wants_watchdog);
    const fe_recovery recovery = judged(own, 1);
    assert_true(recovery.wants_watchdog);
    /* It must outlast the restart of the house, and not go on for ever. */
    assert_true(recovery.watchdog.probe_s * recovery.watchdog.misses > recovery.restart_s);
    assert_true(recovery.watchdog.tries > 0 && recovery.watchdog.tries < 10);
    assert_true(recovery.watchdog.rest_s > 3600.0);
}

static void device__that_passes_nothing_on_takes_nothing_with_it(void **state)
{
    (void)state;
    fe_device devices[] = {device_fed(FE_FED_HOUSE_OUTLET), device_fed(FE_FED_OWN),
                           device_fed(FE_FED_OWN)};
    devices[2].passes_on = false;
    const fe_recovery recovery = judged(devices, 3);
    assert_int_equal(recovery.devices[0].left, 0);
    assert_int_equal(recovery.devices[1].left, 1);
    assert_int_equal(recovery.devices[2].left, 2);
}

/* Of a long line the watchdog waits longer than ten minutes. */
static void watchdog__outlasts_the_restart_of_a_long_line(void **state)
{
    (void)state;
    fe_device devices[9];
    for (size_t i = 0; i < 9; i++)
        devices[i] = device_fed(FE_FED_OWN);
    const fe_recovery recovery = judged(devices, 9);
    assert_true(recovery.restart_s > 10.0 * recovery.watchdog.probe_s);
    assert_true(recovery.watchdog.probe_s * recovery.watchdog.misses > recovery.restart_s);
}

/* A load is reached through the switch before it, so an outlet there can cut it. */
static void outlet__cuts_only_what_nothing_is_reached_through(void **state)
{
    (void)state;
    fe_device devices[] = {device_fed(FE_FED_HOUSE_OUTLET), device_fed(FE_FED_OWN),
                           device_fed(FE_FED_OWN), device_fed(FE_FED_OWN)};
    devices[2].passes_on = devices[3].passes_on = false;
    const fe_recovery recovery = judged(devices, 4);
    assert_int_equal(recovery.devices[1].cut, FE_CUT_NOBODY);
    assert_int_equal(recovery.devices[2].cut, FE_CUT_OUTLET);
    assert_false(recovery.devices[3].walk);
    assert_true(recovery.wants_outlet && recovery.wants_watchdog);
    /* The second load hangs on the switch, not on the first load. */
    assert_int_equal(recovery.devices[2].left, 3);
    assert_int_equal(recovery.devices[1].left, 1);
}

/* What hangs on one branch leaves the other reachable. */
static void branch__leaves_the_other_reachable(void **state)
{
    (void)state;
    fe_device devices[] = {device_fed(FE_FED_HOUSE_OUTLET), device_fed(FE_FED_OWN),
                           device_fed(FE_FED_OWN), device_fed(FE_FED_OWN)};
    devices[3].behind = 3; /* on the switch in the house */
    const fe_recovery recovery = judged(devices, 4);
    assert_int_equal(recovery.devices[1].left, 2);
    assert_int_equal(recovery.devices[3].left, 3);
    assert_int_equal(recovery.devices[0].left, 0);
}

static void device__that_is_too_cold_to_start_is_flagged(void **state)
{
    (void)state;
    fe_device devices[] = {device_fed(FE_FED_OWN)};
    assert_true(judged(devices, 1).devices[0].cold_start);
    const size_t before = judged(devices, 1).walks;
    devices[0].coldest_c = -35.0;
    const fe_recovery recovery = judged(devices, 1);
    assert_false(recovery.devices[0].cold_start);
    assert_int_equal(recovery.walks, before + 1);
    devices[0].lowest_start_c = (double)NAN;
    assert_true(judged(devices, 1).devices[0].cold_start);
}

static void dead_device__out_there_is_a_walk_and_at_the_house_is_none(void **state)
{
    (void)state;
    fe_device devices[] = {device_fed(FE_FED_HOUSE_FEED)};
    assert_int_equal(judged(devices, 1).walks, 1);
    devices[0].at_house = true;
    assert_int_equal(judged(devices, 1).walks, 0);
}

/* ---- Devices of a plan ---- */

static fe_recovery recovery_of(const char *rest)
{
    decided got;
    fe_recovery recovery;
    decide_on(&got, "60 m", rest);
    fe_recovery_of(&got.result, &recovery);
    done(&got);
    return recovery;
}

static const fe_device *far_gear(const fe_recovery *recovery)
{
    const fe_device *found = NULL;
    for (size_t i = 0; i < recovery->device_count; i++)
        if (recovery->devices[i].passes_on && !recovery->devices[i].at_house)
            found = &recovery->devices[i];
    assert_non_null(found);
    return found;
}

static void far_gear__on_a_feed_is_cut_from_the_house_and_on_its_own_mains_is_not(void **state)
{
    (void)state;
    const fe_recovery fed =
        recovery_of("[load lamp]\npower = 300 W\n[feed]\nvoltage = 230 V ac\n");
    const fe_recovery own = recovery_of("");
    assert_int_equal(far_gear(&fed)->cut, FE_CUT_FEED);
    assert_int_equal(far_gear(&own)->cut, FE_CUT_NOBODY);
    assert_true(own.walks > fed.walks || own.wants_watchdog);
}

static void colder_place__keeps_gear_from_starting(void **state)
{
    (void)state;
    const fe_recovery mild = recovery_of("[climate]\ncoldest = -10 degC\n");
    const fe_recovery harsh = recovery_of("[climate]\ncoldest = -40 degC\n");
    assert_true(far_gear(&mild)->cold_start);
    assert_false(far_gear(&harsh)->cold_start);
}

/* What the list buys for the cold of the place starts in it, whatever the place. */
static void bought_switch__starts_in_the_cold_it_is_bought_for(void **state)
{
    (void)state;
    decided got;
    fe_recovery recovery;
    decide_on(&got, "60 m", "[climate]\ncoldest = -35 degC\n[spare]\nports = 2\n");
    got.result.picks[0].way = (int)way_index(&got, FE_WAY_FIBRE_BURIED);
    fe_recovery_of(&got.result, &recovery);
    size_t found = 0;
    for (size_t i = 0; i < recovery.device_count; i++) {
        const fe_device *device = &recovery.devices[i];
        if (device->at_house || !device->passes_on)
            continue;
        found++;
        assert_close(device->lowest_start_c, -35.0, 0.0);
        assert_true(device->cold_start);
    }
    assert_int_equal(found, 2); /* converter and switch */
    done(&got);
}

static const fe_device *device_named(const fe_recovery *recovery, const char *name)
{
    for (size_t i = 0; i < recovery->device_count; i++)
        if (strcmp(recovery->devices[i].name, name) == 0)
            return &recovery->devices[i];
    return NULL;
}

static bool fails(const fe_recovery *recovery, const char *words)
{
    for (size_t i = 0; i < recovery->failure_count; i++)
        if (strstr(recovery->failures[i].what, words))
            return recovery->failures[i].walk;
    return false;
}

/* One thing goes straight into the radio's port; more want a switch, which hangs too. */
static void far_switch__stands_where_more_than_one_thing_hangs(void **state)
{
    (void)state;
    const fe_recovery one = recovery_of("");
    const fe_recovery two = recovery_of("[load lamp]\npower = 5 W\n[spare]\nports = 1\n");
    assert_null(device_named(&one, "switch"));
    const fe_device *there = device_named(&two, "switch");
    assert_non_null(there);
    assert_false(there->at_house);
    assert_true(there->passes_on);
    assert_int_equal(two.devices[two.device_count - 1].passes_on, false);
    assert_true(fails(&two, "switch (shed) dies"));
}

static void every_load__is_in_the_list(void **state)
{
    (void)state;
    enum { LOADS = 30 }; /* most that a plan may name */
    char loads[LOADS * 32] = "";
    for (int i = 0; i < LOADS; i++)
        snprintf(loads + strlen(loads), sizeof loads - strlen(loads),
                 "[load lamp %d]\npower = 2 W\n", i);
    const fe_recovery recovery = recovery_of(loads);
    for (int i = 0; i < LOADS; i++) {
        char name[24];
        snprintf(name, sizeof name, "lamp %d", i);
        assert_non_null(device_named(&recovery, name));
    }
    assert_true(recovery.device_count > LOADS + 2);
    assert_int_equal(recovery.left_out, 0);
}

static void failures__follow_from_what_feeds_the_far_end(void **state)
{
    (void)state;
    const fe_recovery fed =
        recovery_of("[load lamp]\npower = 300 W\n[feed]\nvoltage = 230 V ac\n");
    const fe_recovery sun = recovery_of("[load lamp]\npower = 5 W\nhours = 2 h\n"
                                        "[solar]\nsun-hours = 3 h\n");
    assert_true(fails(&fed, "protective device trips"));
    assert_true(fails(&fed, "adapter or converter dies"));
    assert_false(fails(&fed, "panel lies under snow"));
    assert_true(fails(&sun, "panel lies under snow"));
    assert_true(fails(&sun, "battery runs flat"));
    assert_true(fails(&sun, "too cold to be charged"));
    assert_false(fails(&sun, "protective device trips"));
}

static void recovery__goes_on_over_every_path(void **state)
{
    (void)state;
    decided got;
    fe_recovery recovery;
    decide_text(&got, "[site]\nregion = EU\nbands = 2.4 GHz\n"
                      "[end house]\ngear = outdoor-access-point\nheight = 4 m\n"
                      "[end barn]\ngear = outdoor-access-point\nheight = 4 m\n"
                      "[end hut]\ngear = outdoor-access-point\nheight = 4 m\n"
                      "[path near]\nfrom = house\nto = barn\ndistance = 60 m\n"
                      "[path far]\nfrom = barn\nto = hut\ndistance = 60 m\n"
                      "[traffic hut]\nfrom = hut\nto = house\nstream = 1 Mb/s\n");
    fe_recovery_of(&got.result, &recovery);
    size_t radios[3] = {0, 0, 0};
    static const char *const PLACES[] = {"house", "barn", "hut"};
    for (size_t i = 0; i < recovery.device_count; i++)
        for (size_t k = 0; k < 3; k++)
            radios[k] += strcmp(recovery.devices[i].name, "outdoor access point") == 0 &&
                                 strcmp(recovery.devices[i].place, PLACES[k]) == 0
                             ? 1
                             : 0;
    assert_int_equal(radios[0], 1);
    assert_int_equal(radios[1], 2);
    assert_int_equal(radios[2], 1);
    /* The hut's own radio takes nothing with it. */
    assert_int_equal(recovery.devices[recovery.device_count - 1].left,
                     recovery.device_count - 1);
    done(&got);
}

/* Nothing is asked over the path and nothing hangs there: zero things, not all the numbers. */
static void far_switch__is_not_wanted_where_nothing_hangs(void **state)
{
    (void)state;
    decided got;
    fe_recovery recovery;
    decide_text(&got, "[site]\nregion = EU\nbands = 2.4 GHz\n"
                      "[end house]\ngear = outdoor-access-point\n"
                      "[end barn]\ngear = outdoor-access-point\n"
                      "[end hut]\ngear = outdoor-access-point\n"
                      "[path near]\nfrom = house\nto = barn\ndistance = 60 m\n"
                      "[path side]\nfrom = house\nto = hut\ndistance = 60 m\n"
                      "[traffic barn]\nfrom = house\nto = barn\nstream = 1 Mb/s\n");
    assert_false(got.result.picks[1].asked);
    for (size_t i = 0; i < got.result.way_count && got.result.picks[1].way < 0; i++)
        if (got.result.ways[i].path == 1 && got.result.ways[i].kind == FE_WAY_DIRECT)
            got.result.picks[1].way = (int)i;
    assert_true(got.result.picks[1].way >= 0);
    fe_recovery_of(&got.result, &recovery);
    assert_string_equal(recovery.devices[recovery.device_count - 1].place, "hut");
    assert_null(device_named(&recovery, "switch"));
    done(&got);
}

/* ---- Growth ---- */

static const fe_oversize *item_of(const fe_growth *growth, fe_oversize_kind kind)
{
    for (size_t i = 0; i < growth->item_count; i++)
        if (growth->items[i].kind == kind)
            return &growth->items[i];
    return NULL;
}

static void duct__is_filled_to_what_the_number_of_cables_allows(void **state)
{
    (void)state;
    /* Fill 53, 31 and 40 % by area: NFPA 70 chapter 9 table 1, from memory. */
    const double one[] = {0.0135};
    const double two[] = {0.0135, 0.006};
    const double three[] = {0.0135, 0.0135, 0.006};
    assert_close(fe_growth_duct(one, 1, false), 0.020, 0.0);   /* 46 % of 20 mm */
    assert_close(fe_growth_duct(two, 2, false), 0.032, 0.0);   /* 35 % of 25, 21 % of 32 mm */
    assert_close(fe_growth_duct(three, 3, false), 0.032, 0.0); /* 39 % of 32 mm */
    const double huge[] = {0.2};
    assert_true(isnan(fe_growth_duct(huge, 1, false)));
}

static void spare__ports_ducts_and_power_are_honoured(void **state)
{
    (void)state;
    decided got;
    fe_growth growth;
    decide_on(&got, "300 m",
              "[trees wood]\npath = way\nfrom = 40 m\nto = 250 m\nheight = 15 m\n"
              "[load pump]\npower = 800 W\n[feed]\nvoltage = 230 V ac\n"
              "[trench]\nduct = 40 mm\n[spare]\nports = 3\nducts = 2\npower = 200 %\n"
              "[prices]\ncurrency = EUR\nduct = 2 per m\n");
    assert_int_equal(fe_growth_of(&got.result, &growth), FE_OK);
    const fe_oversize *ports = item_of(&growth, FE_OVERSIZE_PORTS);
    assert_close(ports->better - ports->needed, 3.0, 0.0);
    assert_true(ports->asked);
    const fe_oversize *ducts = item_of(&growth, FE_OVERSIZE_DUCTS);
    assert_non_null(ducts);
    assert_close(ducts->better, 3.0, 0.0);
    assert_close_relative(ducts->more_cost, 2.0 * 300.0 * 2.0, 0.02);
    const fe_oversize *conductor = item_of(&growth, FE_OVERSIZE_CONDUCTOR);
    assert_non_null(conductor);
    assert_true(conductor->better > conductor->needed);
    assert_close(growth.stretches[0].load_w >= 3.0 * 800.0 ? 1.0 : 0.0, 1.0, 0.0);
    fe_growth_free(&growth);
    done(&got);
}

/* Through wood, so that a cable is laid. */
static fe_growth growth_in_wood(decided *got, const char *region, const char *rest)
{
    char text[PLAN_TEXT_ROOM];
    char plan[PLAN_TEXT_ROOM];
    fe_growth growth;
    snprintf(text, sizeof text,
             "[trees wood]\npath = way\nfrom = 40 m\nto = 250 m\nheight = 15 m\n%s", rest);
    small_plan(plan, "300 m", text);
    memcpy(strstr(plan, "EU"), region, 2);
    decide_text(got, plan);
    assert_int_equal(fe_growth_of(&got->result, &growth), FE_OK);
    return growth;
}

/* A feed of 13.5 mm alone in a duct: 46 % of 20 mm; with a second one 23 % of 40 mm. */
static const char FED[] = "[load pump]\npower = 300 W\n[feed]\nvoltage = 230 V ac\n[prices]\n";

static fe_growth growth_of_feed(decided *got, const char *region, const char *prices)
{
    char text[PLAN_TEXT_ROOM];
    char plan[PLAN_TEXT_ROOM];
    fe_growth growth;
    snprintf(text, sizeof text, "%s%s", FED, prices);
    small_plan(plan, "60 m", text);
    memcpy(strstr(plan, "EU"), region, 2);
    decide_text(got, plan);
    assert_int_equal(fe_growth_of(&got->result, &growth), FE_OK);
    return growth;
}

static void larger_duct__costs_the_difference_of_its_price(void **state)
{
    (void)state;
    decided got;
    fe_growth growth =
        growth_of_feed(&got, "EU", "duct 20 mm = 1 per m\nduct 40 mm = 2.6 per m\n");
    const fe_oversize *duct = item_of(&growth, FE_OVERSIZE_DUCT);
    assert_close(duct->needed, 0.020, 0.0);
    assert_close(duct->better, 0.040, 0.0);
    assert_close(duct->length_m, way_of(&got, FE_WAY_FEED)->trench_m, 1e-9);
    assert_close(duct->more_cost, 1.6 * duct->length_m, 1e-9);
    assert_true(isnan(duct->pieces));
    assert_string_equal(duct->missing, "");
    fe_growth_free(&growth);
    done(&got);
}

/* A data cable and a feed of 13.5 mm beside it, 300 m each: two ducts, as large as the feed asks. */
static void larger_duct__is_one_for_supply_and_one_for_data(void **state)
{
    (void)state;
    decided got;
    char rest[PLAN_TEXT_ROOM];
    snprintf(rest, sizeof rest, "%sduct 20 mm = 1 per m\nduct 40 mm = 2.6 per m\n", FED);
    fe_growth growth = growth_in_wood(&got, "EU", rest);
    assert_true(got.result.picks[0].shared_m > 0.0);
    const fe_oversize *duct = item_of(&growth, FE_OVERSIZE_DUCT);
    assert_close(duct->needed, 0.020, 0.0);
    assert_close(duct->better, 0.040, 0.0);
    assert_close(duct->length_m, 2.0 * got.result.picks[0].shared_m, 1e-9);
    fe_growth_free(&growth);
    done(&got);
}

static void larger_conductor__costs_the_difference_of_its_price(void **state)
{
    (void)state;
    decided got;
    fe_growth growth =
        growth_in_wood(&got, "EU",
                       "[load pump]\npower = 800 W\n[feed]\nvoltage = 230 V ac\n[spare]\n"
                       "power = 100 %\n[prices]\nsupply-cable 1.5 mm2 = 1 per m\n"
                       "supply-cable 2.5 mm2 = 2 per m\nsupply-cable 4 mm2 = 3.5 per m\n"
                       "supply-cable 6 mm2 = 5 per m\nsupply-cable 10 mm2 = 9 per m\n");
    const fe_oversize *wire = item_of(&growth, FE_OVERSIZE_CONDUCTOR);
    assert_true(wire->better > wire->needed);
    assert_close(wire->length_m, got.result.feeds[0].length_m, 1e-9);
    const double prices[] = {fe_price_of_size(&got.plan, "supply-cable", wire->needed)->per_m,
                             fe_price_of_size(&got.plan, "supply-cable", wire->better)->per_m};
    assert_close(wire->more_cost, wire->length_m * (prices[1] - prices[0]), 1e-9);
    assert_true(wire->more_cost > 0.0);
    fe_growth_free(&growth);
    done(&got);
}

/* Two ports today, six with those to spare: a switch of 8 in place of one of 5. */
static void larger_switch__costs_the_difference_of_its_price(void **state)
{
    (void)state;
    decided got;
    fe_growth growth = growth_in_wood(
        &got, "EU",
        "[spare]\nports = 4\n[prices]\nswitch 5 ports = 20\nswitch 8 ports = 45 each\n");
    const fe_oversize *ports = item_of(&growth, FE_OVERSIZE_PORTS);
    assert_close(ports->needed, 2.0, 0.0);
    assert_close(ports->better, 6.0, 0.0);
    assert_close(ports->more_cost, 25.0, 1e-12);
    assert_close(ports->pieces, 1.0, 0.0);
    fe_growth_free(&growth);
    done(&got);
    /* One port more goes into the same switch, and needs no price. */
    growth = growth_in_wood(&got, "EU", "");
    ports = item_of(&growth, FE_OVERSIZE_PORTS);
    assert_close(ports->better, 3.0, 0.0);
    assert_close(ports->more_cost, 0.0, 0.0);
    assert_string_equal(ports->missing, "");
    fe_growth_free(&growth);
    done(&got);
}

/* A price of any size says nothing of a difference between sizes. */
static void larger_size__names_the_price_that_is_missing(void **state)
{
    (void)state;
    decided got;
    fe_growth growth = growth_of_feed(&got, "EU", "duct = 2 per m\n");
    const fe_oversize *duct = item_of(&growth, FE_OVERSIZE_DUCT);
    assert_true(isnan(duct->more_cost));
    assert_string_equal(duct->missing, "duct 20 mm, duct 40 mm");
    fe_growth_free(&growth);
    done(&got);
    growth = growth_of_feed(&got, "EU", "duct 4 cm = 2 per m\n");
    assert_string_equal(item_of(&growth, FE_OVERSIZE_DUCT)->missing, "duct 20 mm");
    fe_growth_free(&growth);
    done(&got);
}

/* In the US ducts go by the inch and wires by the gauge, and so do their prices. */
static void larger_size__is_that_of_the_place(void **state)
{
    (void)state;
    decided got;
    fe_growth growth =
        growth_in_wood(&got, "US",
                       "[load pump]\npower = 1500 W\n[feed]\nvoltage = 120 V ac\n[spare]\n"
                       "power = 100 %\n");
    const fe_oversize *wire = item_of(&growth, FE_OVERSIZE_CONDUCTOR);
    assert_true(wire->better > wire->needed);
    assert_int_equal(fe_wire_size_find(wire->needed)->series, FE_SIZES_AWG);
    assert_int_equal(strncmp(wire->missing, "supply-cable AWG ", 17), 0);
    fe_growth_free(&growth);
    done(&got);
    growth =
        growth_of_feed(&got, "US", "duct 0.75 in = 0.4 per ft\nduct 1.5 in = 0.5 per ft\n");
    const fe_oversize *duct = item_of(&growth, FE_OVERSIZE_DUCT);
    assert_close(duct->needed, 0.75 * 0.0254, 1e-12);
    assert_close(duct->better, 1.5 * 0.0254, 1e-12);
    assert_close(duct->more_cost, 0.1 / 0.3048 * duct->length_m, 1e-9);
    fe_growth_free(&growth);
    done(&got);
}

static void longer_posts__are_priced_by_the_piece(void **state)
{
    (void)state;
    decided got;
    fe_growth growth;
    char *text = NULL;
    size_t length = 0;
    assert_int_equal(
        fe_textfile_read(FAREND_SOURCE_DIR "/examples/potting-shed.ini", &text, &length),
        FE_OK);
    char plan[8 * PLAN_TEXT_ROOM];
    snprintf(plan, sizeof plan, "%s[prices]\npost 7 m = 40 each\npost 8 m = 52 each\n", text);
    free(text);
    decide_text(&got, plan);
    const fe_way *hung = way_of(&got, FE_WAY_COPPER_POSTS);
    assert_true(hung->verdict != FE_VERDICT_FAILS && hung->posts > 0);
    got.result.picks[0].way = (int)(hung - got.result.ways);
    assert_int_equal(fe_growth_of(&got.result, &growth), FE_OK);
    const fe_oversize *post = item_of(&growth, FE_OVERSIZE_POST);
    assert_close(post->needed, 7.0, 1e-12);
    assert_close(post->better, 8.0, 1e-12);
    assert_close(post->pieces, (double)hung->posts, 0.0);
    assert_close(post->more_cost, 12.0 * hung->posts, 1e-9);
    fe_growth_free(&growth);
    done(&got);
    assert_close(fe_sold_post_after(true, 20.0 * 0.3048), 25.0 * 0.3048, 1e-12);
    assert_close(fe_sold_post_after(true, 12.0 * 0.3048), 14.0 * 0.3048, 1e-12);
}

static void shared_stretch__carries_the_loads_of_all_ends_beyond(void **state)
{
    (void)state;
    decided got;
    fe_growth growth;
    decide_text(&got, "[site]\nregion = EU\nbands = 2.4 GHz\n"
                      "[end house]\ngear = outdoor-access-point\nheight = 4 m\n"
                      "[end barn]\ngear = outdoor-access-point\nheight = 4 m\n"
                      "[end hut]\ngear = outdoor-access-point\nheight = 4 m\n"
                      "[path near]\nfrom = house\nto = barn\ndistance = 80 m\n"
                      "[path far]\nfrom = barn\nto = hut\ndistance = 90 m\n"
                      "[traffic hut]\nfrom = hut\nto = house\nstream = 3 Mb/s\n");
    assert_int_equal(fe_growth_of(&got.result, &growth), FE_OK);
    assert_int_equal(growth.stretch_count, 2);
    assert_int_equal(growth.stretches[0].ends_beyond, 2);
    assert_int_equal(growth.stretches[1].ends_beyond, 1);
    const double each_w = fe_plan_gear(&got.plan, "outdoor-access-point")->power_w;
    assert_close(growth.stretches[0].load_w, 2.0 * each_w, 1e-9);
    assert_close(growth.stretches[1].load_w, each_w, 1e-9);
    /* The barn passes on to both sides; the hut sends. */
    double ports[2] = {0.0, 0.0};
    for (size_t i = 0; i < growth.item_count; i++)
        if (growth.items[i].kind == FE_OVERSIZE_PORTS)
            ports[growth.items[i].path] = growth.items[i].needed;
    assert_close(ports[0], 2.0, 0.0);
    assert_close(ports[1], 2.0, 0.0);
    fe_growth_free(&growth);
    done(&got);
}

/* ---- Calendar ---- */

static fe_calendar calendar_of(const char *rest)
{
    decided got;
    fe_calendar calendar;
    decide_on(&got, "60 m", rest);
    fe_calendar_of(&got.result, &calendar);
    done(&got);
    return calendar;
}

static const fe_calendar_step *step_of(const fe_calendar *calendar, const char *words)
{
    for (size_t i = 0; i < calendar->step_count; i++)
        if (strstr(calendar->steps[i].what, words))
            return &calendar->steps[i];
    return NULL;
}

static void calendar__follows_the_frost_of_the_plan(void **state)
{
    (void)state;
    const fe_calendar mild = calendar_of("[climate]\ncoldest = 3 degC\n");
    const fe_calendar harsh = calendar_of("[climate]\ncoldest = -28 degC\n");
    assert_false(mild.frost);
    assert_true(harsh.frost);
    assert_int_equal(harsh.frost_first, 11);
    assert_int_equal(harsh.frost_last, 4);
    assert_true(harsh.leaf_first > mild.leaf_first);
}

static void calendar__turns_round_below_the_equator(void **state)
{
    (void)state;
    decided got;
    fe_calendar calendar;
    decide_text(&got, "[site]\nregion = AU\n"
                      "[end house]\nheight = 4 m\n[end shed]\nheight = 3 m\n"
                      "[path way]\nfrom = house\nto = shed\ndistance = 60 m\n"
                      "[climate]\ncoldest = -5 degC\n");
    fe_calendar_of(&got.result, &calendar);
    assert_true(calendar.south);
    assert_int_equal(calendar.frost_first, 6);
    assert_int_equal(calendar.frost_last, 8);
    assert_int_equal(calendar.leaf_first, 10);
    done(&got);
}

static void calendar__digs_only_where_something_is_dug(void **state)
{
    (void)state;
    const fe_calendar radio = calendar_of("");
    assert_null(step_of(&radio, "Have buried cables"));
    assert_non_null(step_of(&radio, "Measure again in leaf"));
    const fe_calendar trench = calendar_of("[trees wood]\npath = way\nfrom = 5 m\nto = 55 m\n"
                                           "height = 15 m\nkind = conifer\n"
                                           "[traffic much]\nfrom = shed\nto = house\n"
                                           "stream = 400 Mb/s\n");
    assert_non_null(step_of(&trench, "Have buried cables"));
    assert_non_null(step_of(&trench, "Dig while the ground is dry"));
    assert_null(step_of(&trench, "Set posts"));
}

static void calendar__measures_in_leaf_only_among_trees_that_have_them(void **state)
{
    (void)state;
    const fe_calendar bare = calendar_of("");
    const fe_calendar leafy = calendar_of("[trees row]\npath = way\nfrom = 20 m\nto = 22 m\n"
                                          "height = 1 m\nkind = deciduous\n");
    assert_null(step_of(&bare, "full leaf"));
    assert_non_null(step_of(&leafy, "full leaf"));
    const fe_calendar_step *look = step_of(&leafy, "full leaf");
    assert_true(look->first_month > leafy.leaf_first && look->last_month < leafy.leaf_last);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hang__is_no_walk_where_the_house_feeds_the_device),
        cmocka_unit_test(watchdog__is_wanted_only_where_nobody_else_can_cut),
        cmocka_unit_test(device__that_passes_nothing_on_takes_nothing_with_it),
        cmocka_unit_test(watchdog__outlasts_the_restart_of_a_long_line),
        cmocka_unit_test(outlet__cuts_only_what_nothing_is_reached_through),
        cmocka_unit_test(branch__leaves_the_other_reachable),
        cmocka_unit_test(device__that_is_too_cold_to_start_is_flagged),
        cmocka_unit_test(dead_device__out_there_is_a_walk_and_at_the_house_is_none),
        cmocka_unit_test(far_gear__on_a_feed_is_cut_from_the_house_and_on_its_own_mains_is_not),
        cmocka_unit_test(colder_place__keeps_gear_from_starting),
        cmocka_unit_test(bought_switch__starts_in_the_cold_it_is_bought_for),
        cmocka_unit_test(far_switch__stands_where_more_than_one_thing_hangs),
        cmocka_unit_test(every_load__is_in_the_list),
        cmocka_unit_test(failures__follow_from_what_feeds_the_far_end),
        cmocka_unit_test(recovery__goes_on_over_every_path),
        cmocka_unit_test(far_switch__is_not_wanted_where_nothing_hangs),
        cmocka_unit_test(duct__is_filled_to_what_the_number_of_cables_allows),
        cmocka_unit_test(spare__ports_ducts_and_power_are_honoured),
        cmocka_unit_test(larger_duct__costs_the_difference_of_its_price),
        cmocka_unit_test(larger_duct__is_one_for_supply_and_one_for_data),
        cmocka_unit_test(larger_conductor__costs_the_difference_of_its_price),
        cmocka_unit_test(larger_switch__costs_the_difference_of_its_price),
        cmocka_unit_test(larger_size__names_the_price_that_is_missing),
        cmocka_unit_test(larger_size__is_that_of_the_place),
        cmocka_unit_test(longer_posts__are_priced_by_the_piece),
        cmocka_unit_test(shared_stretch__carries_the_loads_of_all_ends_beyond),
        cmocka_unit_test(calendar__follows_the_frost_of_the_plan),
        cmocka_unit_test(calendar__turns_round_below_the_equator),
        cmocka_unit_test(calendar__digs_only_where_something_is_dug),
        cmocka_unit_test(calendar__measures_in_leaf_only_among_trees_that_have_them),
    };
    fe_init();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
