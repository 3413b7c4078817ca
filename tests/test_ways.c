/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ways side by side: times, kinds, costs, hazards, and what comes close. */
#include <math.h>
#include <string.h>

#include "deciding.h"
#include "decision/decide.h"
#include "farend/chain.h"
#include "farend/network.h"
#include "farend/supply_plan.h"

static bool has_way(const decided *got, fe_way_kind kind)
{
    for (size_t i = 0; i < got->result.way_count; i++)
        if (got->result.ways[i].kind == kind)
            return true;
    return false;
}

/* ---- Traffic ---- */

static void transfer__too_long_fails_as_any_limit_does(void **state)
{
    (void)state;
    decided slow;
    decided enough;
    /* 40 Mb/s of streams leave little of a 2.4 GHz link for 400 GB. */
    decide_on(&slow, "80 m",
              "[traffic night]\nfrom = shed\nto = house\ntransfer = 400 GB in 1 h\n");
    decide_on(&enough, "80 m",
              "[traffic night]\nfrom = shed\nto = house\ntransfer = 400 MB in 8 h\n");
    const fe_way *long_way = way_of(&slow, FE_WAY_DIRECT);
    assert_true(long_way->transfer_s > long_way->allowed_s);
    assert_int_equal(long_way->verdict, FE_VERDICT_FAILS);
    const fe_way *cable = way_of(&enough, FE_WAY_FIBRE_BURIED);
    assert_true(cable->transfer_s < cable->allowed_s);
    assert_close(cable->allowed_s, 8.0 * 3600.0, 1e-9);
    assert_int_equal(cable->verdict, FE_VERDICT_HOLDS);
    done(&slow);
    done(&enough);
}

static void delay__longer_than_the_traffic_bears_fails(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "80 m",
              "[traffic steering]\nfrom = house\nto = shed\nstream = 10 kb/s\n"
              "longest-delay = 1 ms\n");
    const fe_way *radio = way_of(&got, FE_WAY_DIRECT);
    assert_int_equal(radio->verdict, FE_VERDICT_FAILS);
    assert_string_equal(radio->limit, "delay");
    assert_int_equal(way_of(&got, FE_WAY_FIBRE_BURIED)->verdict, FE_VERDICT_HOLDS);
    done(&got);
}

static void spare__rate_is_built_in(void **state)
{
    (void)state;
    decided now;
    decided grown;
    decide_on(&now, "200 m", "");
    decide_on(&grown, "200 m", "[spare]\nrate = 400 %\n");
    const fe_radio_result *a = &now.result.radio[0];
    const fe_radio_result *b = &grown.result.radio[0];
    assert_close_relative(b->wanted.rate_bps[1], 5.0 * a->wanted.rate_bps[1], 1e-12);
    assert_true(way_of(&grown, FE_WAY_DIRECT)->margin_db <
                way_of(&now, FE_WAY_DIRECT)->margin_db);
    done(&now);
    done(&grown);
}

/* ---- Kinds ---- */

static void relays__have_a_row_for_each_number_up_to_the_best(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "700 m", "[relay]\nplace = anywhere\ngear = outdoor-access-point\n");
    unsigned next = 1;
    const int best = got.result.relays[0].best;
    for (size_t i = 0; i < got.result.way_count; i++)
        if (got.result.ways[i].kind == FE_WAY_RELAYS && got.result.ways[i].index == 0) {
            const unsigned relays = got.result.ways[i].relays;
            assert_true(relays == next || (int)relays == best);
            assert_int_equal(got.result.ways[i].powered_places, relays);
            next = relays + 1;
        }
    assert_int_equal((int)next - 1, best);
    done(&got);
}

static void single_pair__reaches_where_four_pairs_do_not(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "400 m", "[cable]\nclass = outdoor-data\nindoor = 5 m\ncords = 4 m\n");
    const fe_way *pair = way_of(&got, FE_WAY_SINGLE_PAIR);
    assert_int_equal(way_of(&got, FE_WAY_COPPER_BURIED)->verdict, FE_VERDICT_FAILS);
    assert_int_equal(pair->verdict, FE_VERDICT_HOLDS);
    assert_close(pair->rate_bps, 10e6, 0.0); /* 10BASE-T1L, IEEE 802.3cg */
    assert_close(got.result.channels[pair->index].limit_m, 1000.0, 0.0);
    done(&got);
}

static void single_pair__hangs_on_posts_too(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "150 m",
              "[posts]\ncable = aerial-fibre\nlength = 6 m, 7 m\nsection = round 160 mm\n"
              "wood = C24\nsoil = gravel\nspan = 15..45 m\nstart-height = 5 m\n"
              "end-height = 5 m\n");
    const fe_way *hung = NULL;
    const fe_way *buried = NULL;
    for (size_t i = 0; i < got.result.way_count; i++)
        if (got.result.ways[i].kind == FE_WAY_SINGLE_PAIR)
            *(got.result.ways[i].posts > 0 ? &hung : &buried) = &got.result.ways[i];
    assert_non_null(hung);
    assert_non_null(buried);
    assert_close(hung->rate_bps, 10e6, 0.0);
    assert_close(hung->trench_m, 0.0, 0.0);
    assert_true(hung->hazards & FE_HAZARD_FALLING_POST);
    done(&got);
}

/* Where one season decides, it is named; what lies in the ground knows none. */
static void season__is_named_where_one_decides(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "60 m",
              "[cable]\nclass = outdoor-data\n[load lamp]\npower = 10 W\n"
              "[feed]\nvoltage = 230 V ac\n");
    assert_string_equal(way_of(&got, FE_WAY_FEED)->season, "dry summer");
    assert_string_equal(way_of(&got, FE_WAY_SOLAR)->season, "deep winter");
    assert_non_null(way_of(&got, FE_WAY_DIRECT)->season);
    assert_null(way_of(&got, FE_WAY_FIBRE_BURIED)->season);
    assert_null(way_of(&got, FE_WAY_FEED_DATA)->season);
    done(&got);
}

static void feed_data__only_where_both_buildings_share_a_supply(void **state)
{
    (void)state;
    decided none;
    decided direct;
    decided alternating;
    decide_on(&none, "60 m", "");
    decide_on(&direct, "60 m", "[load lamp]\npower = 10 W\n[feed]\nvoltage = 48 V dc\n");
    decide_on(&alternating, "60 m", "[load lamp]\npower = 10 W\n[feed]\nvoltage = 230 V ac\n");
    assert_false(has_way(&none, FE_WAY_FEED_DATA));
    assert_false(has_way(&direct, FE_WAY_FEED_DATA));
    const fe_way *way = way_of(&alternating, FE_WAY_FEED_DATA);
    const fe_feed_data_result *data = &alternating.result.feed_data[way->index];
    assert_true(data->high_bps >= 5.0 * data->low_bps);
    assert_true(way->hazards & FE_HAZARD_MAINS);
    assert_close(way->rate_bps, data->low_bps, 0.0);
    done(&none);
    done(&direct);
    done(&alternating);
}

static void feed_data__fades_with_the_length_of_the_feed(void **state)
{
    (void)state;
    decided near;
    decided far;
    const char *const feed = "[load lamp]\npower = 10 W\n[feed]\nvoltage = 230 V ac\n";
    decide_on(&near, "30 m", feed);
    decide_on(&far, "400 m", feed);
    assert_int_equal(way_of(&near, FE_WAY_FEED_DATA)->verdict, FE_VERDICT_HOLDS);
    assert_int_equal(way_of(&far, FE_WAY_FEED_DATA)->verdict, FE_VERDICT_FAILS);
    done(&near);
    done(&far);
}

static void poe__carries_what_its_class_promises_and_no_mains_load(void **state)
{
    (void)state;
    decided small;
    decided large;
    decided mains;
    const char *const cable = "[cable]\nclass = outdoor-data\nindoor = 3 m\ncords = 3 m\n";
    char rest[300];
    snprintf(rest, sizeof rest, "%s[load camera]\npower = 8 W\nvoltage = 11..15 V\n", cable);
    decide_on(&small, "50 m", rest);
    snprintf(rest, sizeof rest, "%s[load heater]\npower = 300 W\nvoltage = 11..15 V\n", cable);
    decide_on(&large, "50 m", rest);
    snprintf(rest, sizeof rest, "%s[load lamp]\npower = 8 W\nvoltage = 207..253 V\n", cable);
    decide_on(&mains, "50 m", rest);
    const fe_way *way = way_of(&small, FE_WAY_POE);
    const fe_channel_result *channel = &small.result.channels[way->index];
    const fe_channel_power *power = &channel->answer.power;
    assert_int_equal(way->verdict, FE_VERDICT_HOLDS);
    /* A converter from the pairs: 10 CFR 430.32(w). */
    assert_close(channel->poe.need.power_w, 8.0 / (0.071 * log(8.0) - 0.0014 * 8.0 + 0.67),
                 1e-9);
    assert_int_equal(power->device_class, 3); /* 12.95 W: IEEE 802.3 */
    assert_true(power->device_v > channel->poe.least_v);
    assert_close(way->used, channel->poe.need.power_w / 12.95, 1e-9);
    assert_int_equal(way_of(&large, FE_WAY_POE)->verdict, FE_VERDICT_FAILS);
    assert_int_equal(way_of(&mains, FE_WAY_POE)->verdict, FE_VERDICT_FAILS);
    done(&small);
    done(&large);
    done(&mains);
}

static void poe__counts_spare_power_and_what_takes_the_pairs_itself(void **state)
{
    (void)state;
    decided today;
    decided grown;
    char rest[300];
    const char *const plan = "[cable]\nclass = outdoor-data\nindoor = 3 m\ncords = 3 m\n"
                             "[load camera]\ncurrent = 0.25 A\nvoltage = 36..60 V\n"
                             "[spare]\npower = %s\n";
    snprintf(rest, sizeof rest, plan, "0 %");
    decide_on(&today, "50 m", rest);
    snprintf(rest, sizeof rest, plan, "10 %");
    decide_on(&grown, "50 m", rest);
    /* A quarter ampere at 57 V, the most that a port gives. */
    const fe_way *now = way_of(&today, FE_WAY_POE), *then = way_of(&grown, FE_WAY_POE);
    const fe_channel_result *first = &today.result.channels[now->index];
    const fe_channel_result *second = &grown.result.channels[then->index];
    assert_close(first->poe.need.power_w, 14.25, 1e-9);
    assert_close(second->poe.need.power_w, 1.1 * 14.25, 1e-9);
    assert_int_equal(first->answer.power.device_class, 4);
    assert_int_equal(now->verdict, FE_VERDICT_HOLDS);
    done(&today);
    done(&grown);
}

static void solar__grows_with_the_load_and_its_hours(void **state)
{
    (void)state;
    decided little;
    decided much;
    decide_on(&little, "60 m",
              "[load lamp]\npower = 5 W\nhours = 6 h\n"
              "[solar]\nsun-hours = 1 h\ndark-days = 5 days\n");
    decide_on(&much, "60 m",
              "[load lamp]\npower = 50 W\nhours = 24 h\n"
              "[solar]\nsun-hours = 1 h\ndark-days = 5 days\n");
    assert_int_equal(way_of(&little, FE_WAY_SOLAR)->verdict, FE_VERDICT_TIGHT);
    assert_int_equal(way_of(&much, FE_WAY_SOLAR)->verdict, FE_VERDICT_FAILS);
    /* Beside the load there is the gear of the data link, 12 W all day through a converter. */
    const double gear_j = 24.0 * 3600.0 * 12.0 / (0.071 * log(12.0) - 0.0014 * 12.0 + 0.67);
    assert_close(little.result.solars[0].day_j, 5.0 * 6.0 * 3600.0 + gear_j, 1e-6);
    assert_close(little.result.solars[0].panel_w * 3600.0 * 0.65, little.result.solars[0].day_j,
                 1e-6);
    done(&little);
    done(&much);
}

/* Without mains the gear of the link wants power, whatever else there is. */
static void panel__runs_the_gear_where_the_plan_says_that_there_are_no_mains(void **state)
{
    (void)state;
    static const char *const MAINS[] = {"", "mains = no\n", "mains = yes\n"};
    for (int i = 0; i < 3; i++) {
        decided got;
        char text[PLAN_TEXT_ROOM];
        snprintf(text, sizeof text,
                 "[site]\nregion = EU\nbands = 2.4 GHz\n"
                 "[end house]\ngear = outdoor-access-point\nheight = 4 m\n"
                 "[end shed]\ngear = outdoor-access-point\nheight = 3 m\n%s"
                 "[path way]\nfrom = house\nto = shed\ndistance = 60 m\n",
                 MAINS[i]);
        decide_text(&got, text);
        assert_int_equal(fe_result_needs_power(&got.result), i == 1);
        assert_int_equal(has_way(&got, FE_WAY_SOLAR), i == 1);
        if (i == 1) /* 12 W day and night through a converter */
            assert_true(got.result.solars[0].day_j > 24.0 * 3600.0 * 12.0);
        done(&got);
    }
}

/* ---- Parts and costs ---- */

static void cost__is_the_sum_of_priced_parts_and_none_without_prices(void **state)
{
    (void)state;
    decided plain;
    decided priced;
    decide_on(&plain, "60 m", "[cable]\nclass = outdoor-data\n");
    decide_on(&priced, "60 m",
              "[cable]\nclass = outdoor-data\n[own]\noutdoor-access-point = 1\n"
              "[prices]\ncurrency = EUR\noutdoor-access-point = 100 each\n"
              "outdoor-data = 2 per m\ntrench = 10 per m\n");
    assert_true(isnan(way_of(&plain, FE_WAY_DIRECT)->parts.cost));
    /* Two of them, one there already, and leads of (4 + 5 and 3 + 5) m and 2 % and 2 m each. */
    assert_close(way_of(&priced, FE_WAY_DIRECT)->parts.cost, 100.0 + 2.0 * (11.18 + 10.16),
                 1e-9);
    const fe_way *cable = way_of(&priced, FE_WAY_COPPER_BURIED);
    const fe_channel_result *channel = &priced.result.channels[cable->index];
    assert_close(cable->parts.cost,
                 2.0 * (channel->length_m - channel->cords_m) + 10.0 * channel->route_m, 1e-6);
    /* Sockets, cords, arresters, tool, switch, sleeves, glands, sand, tape and labels. */
    assert_int_equal(cable->parts.unpriced, 10);
    done(&plain);
    done(&priced);
}

/* What a list says of its own parts, with what stands instead of another left out. */
static double sum_of(const fe_part_list *parts)
{
    double sum = 0.0;
    for (size_t i = 0; i < parts->count; i++)
        sum += parts->items[i].instead ? 0.0 : parts->items[i].cost;
    return sum;
}

static const fe_part *part_of(const fe_way *way, fe_part_kind kind)
{
    for (size_t i = 0; i < way->parts.count; i++)
        if (way->parts.items[i].kind == kind)
            return &way->parts.items[i];
    return NULL;
}

/* Every word of the table has a price, so that nothing is left out of a sum. */
static void put_all_prices(char *text, size_t size)
{
    size_t used = (size_t)snprintf(text, size,
                                   "[load pump]\npower = 300 W\n[feed]\nvoltage = 230 V ac\n"
                                   "voltage = 48 V dc\nconductor = copper, aluminium\n"
                                   "[posts]\nlength = 5 m\nsection = round 140 mm\n"
                                   "[trench]\nduct = 40 mm\n[spare]\nducts = 1\n[prices]\n"
                                   "outdoor-access-point = 100 each\n"
                                   "directional-panel = 80 each\n"
                                   "outdoor-data = 2 per m\nduct-fibre = 1.5 per m\n"
                                   "outdoor-data-messenger = 2.5 per m\n"
                                   "aerial-fibre = 1.7 per m\nsingle-pair = 1 per m\n"
                                   "single-pair-messenger = 1.3 per m\n");
    const char *prices = strstr(text, "[prices]");
    for (int kind = 0; kind < FE_PARTS; kind++) {
        const fe_part_row *row = fe_part_row_of((fe_part_kind)kind);
        char key[80];
        snprintf(key, sizeof key, "\n%s =", row->word ? row->word : "");
        if (row->word && !strstr(prices, key))
            used += (size_t)snprintf(text + used, size - used, "%s = %d %s\n", row->word,
                                     kind + 1, row->per_m ? "per m" : "each");
    }
    assert_true(used < size);
}

static void cost__of_a_way_is_the_sum_of_its_list(void **state)
{
    (void)state;
    char rest[PLAN_TEXT_ROOM];
    decided got;
    unsigned kinds = 0;
    put_all_prices(rest, sizeof rest);
    decide_on(&got, "60 m", rest);
    for (size_t i = 0; i < got.result.way_count; i++) {
        const fe_way *way = &got.result.ways[i];
        assert_true(way->parts.count > 0);
        for (size_t k = 0; k < way->parts.count; k++)
            if (isnan(way->parts.items[k].cost))
                fail_msg("%s: no price for %s", way->name, way->parts.items[k].name);
        assert_int_equal(way->parts.unpriced, 0);
        assert_true(way->parts.cost > 0.0);
        assert_close(way->parts.cost, sum_of(&way->parts), 1e-9);
        kinds |= 1u << way->kind;
    }
    assert_true(kinds & 1u << FE_WAY_COPPER_POSTS && kinds & 1u << FE_WAY_FIBRE_BURIED &&
                kinds & 1u << FE_WAY_FEED && kinds & 1u << FE_WAY_SOLAR);
    /* The list is the one that the shop gets: posts by length, both ducts, aluminium apart. */
    const fe_way *hung = way_of(&got, FE_WAY_COPPER_POSTS);
    const fe_part *post = part_of(hung, FE_PART_POST);
    const fe_posts_result *run = fe_result_hung(&got.result, &got.result.channels[hung->index]);
    assert_close(post->size, run->kinds[run->route.kinds[0]].length_m, 1e-12);
    assert_close(post->count, (double)hung->posts, 0.0);
    assert_close(post->cost, post->count * (FE_PART_POST + 1), 1e-9);
    const fe_way *buried = way_of(&got, FE_WAY_COPPER_BURIED);
    assert_close(part_of(buried, FE_PART_DUCT)->length_m, 2.0 * buried->trench_m, 1e-9);
    assert_close(part_of(buried, FE_PART_DUCT)->size, 0.040, 1e-12);
    const fe_way *feed = way_of(&got, FE_WAY_FEED);
    size_t metals = 0;
    for (size_t i = 0; i < feed->parts.count; i++)
        metals += feed->parts.items[i].kind == FE_PART_SUPPLY_CABLE;
    assert_int_equal(metals, 2);
    assert_true(feed->parts.items[1].instead);
    done(&got);
}

/* How many of a kind, or metres of it, a list has in all. */
static double amount_of(const fe_way *way, fe_part_kind kind, fe_part_use use)
{
    double sum = 0.0;
    for (size_t i = 0; i < way->parts.count; i++) {
        const fe_part *part = &way->parts.items[i];
        if (part->kind == kind && (use == FE_USES || part->use == use))
            sum += isnan(part->count) ? part->length_m : part->count;
    }
    return sum;
}

static void decide_outdoors(decided *got, const char *house, const char *rest)
{
    char text[PLAN_TEXT_ROOM];
    snprintf(text, sizeof text,
             "[site]\nregion = EU\nbands = 2.4 GHz\n"
             "[end house]\ngear = outdoor-access-point\n%s\n"
             "[end shed]\ngear = outdoor-access-point\nheight = 3 m\nmount = outdoors\n"
             "[path way]\nfrom = house\nto = shed\ndistance = 700 m\n"
             "[traffic camera]\nfrom = shed\nto = house\nstream = 2 Mb/s\n%s",
             house, rest);
    decide_text(got, text);
}

static void radio__list_has_mounts_leads_and_ways_in(void **state)
{
    (void)state;
    decided got;
    decide_outdoors(&got, "height = 4 m\nmount = outdoors",
                    "[cable]\nclass = duct-fibre\nindoor = 9 m, 3 m\n");
    const fe_way *way = way_of(&got, FE_WAY_DIRECT);
    /* Up the wall, indoors, 2 % and a metre at each end: 13 + 0.26 + 2 and 6 + 0.12 + 2. */
    assert_close(amount_of(way, FE_PART_DATA_CABLE, FE_USE_LEAD), 15.26 + 8.12, 1e-9);
    assert_string_equal(part_of(way, FE_PART_DATA_CABLE)->name, "outdoor-data");
    assert_string_equal(part_of(way, FE_PART_DATA_CABLE)->where, "house");
    assert_close(amount_of(way, FE_PART_BRACKET, FE_USES), 2.0, 0.0);
    assert_close(amount_of(way, FE_PART_DATA_ARRESTER, FE_USE_LEAD), 2.0, 0.0);
    assert_close(amount_of(way, FE_PART_SLEEVE, FE_USES), 2.0, 0.0);
    assert_close(amount_of(way, FE_PART_PAIRS_SOURCE, FE_USES), 2.0, 0.0);
    assert_close(amount_of(way, FE_PART_PLUG, FE_USES), 4.0, 0.0);
    assert_close(amount_of(way, FE_PART_LABEL, FE_USES), 2.0, 0.0);
    assert_null(part_of(way, FE_PART_MAST));
    assert_null(part_of(way, FE_PART_SWITCH));
    done(&got);
}

static void radio__higher_than_a_wall_stands_on_an_earthed_mast(void **state)
{
    (void)state;
    decided got;
    decide_outdoors(&got, "height = 8 m\nmount = outdoors", "");
    const fe_way *way = way_of(&got, FE_WAY_DIRECT);
    /* 5 m of wall, and a metre of the mast between its brackets. */
    assert_close(part_of(way, FE_PART_MAST)->size, 4.0, 1e-12);
    assert_close(amount_of(way, FE_PART_BRACKET, FE_USE_MAST), 2.0, 0.0);
    assert_close(amount_of(way, FE_PART_EARTH_WIRE, FE_USES), 8.0, 1e-12);
    done(&got);
}

/* What stands behind glass has no lead to bring in; what the list of power has is not doubled.
 */
static void radio__list_leaves_out_what_is_not_needed_there(void **state)
{
    (void)state;
    decided got;
    decide_outdoors(&got, "height = 4 m\nmount = behind glass",
                    "[load lamp]\npower = 10 W\n[feed]\nvoltage = 230 V ac\n"
                    "[spare]\nports = 1\n");
    const fe_way *way = way_of(&got, FE_WAY_DIRECT);
    assert_close(amount_of(way, FE_PART_DATA_ARRESTER, FE_USES), 1.0, 0.0);
    assert_string_equal(part_of(way, FE_PART_DATA_ARRESTER)->where, "shed");
    assert_close(amount_of(way, FE_PART_PAIRS_SOURCE, FE_USES), 1.0, 0.0);
    assert_string_equal(part_of(way, FE_PART_PAIRS_SOURCE)->where, "house");
    /* The link, the camera and one to spare. */
    assert_close(part_of(way, FE_PART_SWITCH)->size, 5.0, 0.0);
    done(&got);
}

static void relays__list_has_posts_boxes_and_power(void **state)
{
    (void)state;
    decided bought;
    decided on_hand;
    decide_outdoors(&bought, "height = 4 m\nmount = outdoors",
                    "[relay]\nplace = 350 m\ngear = outdoor-access-point\nheight = 4 m\n");
    decide_outdoors(&on_hand, "height = 4 m\nmount = outdoors",
                    "[relay]\nplace = 350 m\npower = 350 m\ngear = outdoor-access-point\n"
                    "height = 4 m\n[posts]\nlength = 5 m, 7 m\nsection = round 140 mm\n");
    const fe_way *alone = way_of(&bought, FE_WAY_RELAYS);
    const fe_way *fed = way_of(&on_hand, FE_WAY_RELAYS);
    /* A tenth and 2 ft in the ground: (4 + 0.6096) / 0.9 = 5.12 m. */
    assert_close(part_of(alone, FE_PART_POST)->size, 6.0, 1e-12);
    assert_close(part_of(fed, FE_PART_POST)->size, 7.0, 1e-12);
    assert_close(amount_of(alone, FE_PART_RELAY_BOX, FE_USES), 1.0, 0.0);
    assert_close(amount_of(alone, FE_PART_LABEL, FE_USES), 3.0, 0.0);
    /* 12 W day and night through a converter, from one hour of sun at 65 %. */
    const double day_wh = 24.0 * 12.0 / (0.071 * log(12.0) - 0.0014 * 12.0 + 0.67);
    assert_close(part_of(alone, FE_PART_PANEL)->rating, day_wh / 0.65, 1e-6);
    assert_null(part_of(fed, FE_PART_PANEL));
    assert_close(amount_of(fed, FE_PART_PAIRS_SOURCE, FE_USE_RELAY), 1.0, 0.0);
    assert_true(alone->hazards & FE_HAZARD_BATTERY);
    assert_false(fed->hazards & FE_HAZARD_BATTERY);
    assert_true(fed->hazards & FE_HAZARD_FALLING_POST);
    assert_non_null(strstr(alone->needs, "a panel of 534 W"));
    assert_null(strstr(fed->needs, "panel"));
    done(&bought);
    done(&on_hand);
}

/* ---- Data and power together ---- */

/* The byre's valley lets no radio through but a relay; `rest` holds further sections. */
static void decide_byre(decided *got, const char *rest)
{
    char text[PLAN_TEXT_ROOM];
    snprintf(text, sizeof text,
             "[site]\nregion = UK\n[end house]\ngear = outdoor-access-point\nheight = 4.5 m\n"
             "[end byre]\ngear = outdoor-access-point\nheight = 3 m\n"
             "[path valley]\nfrom = house\nto = byre\nprofile = %s/examples/byre-path.csv\n"
             "[traffic camera]\nfrom = byre\nto = house\nstream = 3 Mb/s\n%s",
             FAREND_SOURCE_DIR, rest);
    decide_text(got, text);
}

static const fe_way *chosen(const decided *got, bool power)
{
    const fe_pick *pick = &got->result.picks[0];
    const int way = power ? pick->power_way : pick->way;
    assert_true(way >= 0);
    return &got->result.ways[way];
}

static void trench__dug_for_power_takes_the_fibre_where_a_relay_would_do(void **state)
{
    (void)state;
    decided alone;
    decided powered;
    decide_byre(&alone, "");
    decide_byre(&powered, "[load pump]\npower = 60 W\nvoltage = 11..15 V\n"
                          "[feed]\nvoltage = 48 V dc\n");
    assert_int_equal(chosen(&alone, false)->kind, FE_WAY_RELAYS);
    assert_int_equal(way_of(&powered, FE_WAY_RELAYS)->verdict, FE_VERDICT_HOLDS);
    assert_int_equal(chosen(&powered, true)->kind, FE_WAY_FEED);
    assert_int_equal(chosen(&powered, false)->kind, FE_WAY_FIBRE_BURIED);
    assert_close(powered.result.picks[0].shared_m, chosen(&powered, true)->trench_m, 1e-9);
    done(&alone);
    done(&powered);
}

static void trench__dug_for_power_does_not_overturn_a_link_that_holds(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "60 m",
              "[load pump]\npower = 400 W\nvoltage = 207..253 V\n"
              "[feed]\nvoltage = 230 V ac\n");
    assert_int_equal(chosen(&got, true)->kind, FE_WAY_FEED);
    assert_int_equal(chosen(&got, false)->kind, FE_WAY_DIRECT);
    assert_close(got.result.picks[0].shared_m, 0.0, 0.0);
    done(&got);
}

/* A panel digs nothing: what a trench would hold is no reason for it. */
static void panel__leaves_the_relay_as_it_is(void **state)
{
    (void)state;
    decided got;
    decide_byre(&got, "[load lamp]\npower = 2 W\nhours = 2 h\n[solar]\nsun-hours = 4 h\n");
    assert_int_equal(chosen(&got, true)->kind, FE_WAY_SOLAR);
    assert_int_equal(chosen(&got, false)->kind, FE_WAY_RELAYS);
    done(&got);
}

static double cost_of(const fe_way *way, fe_part_kind kind)
{
    return part_of(way, kind)->cost;
}

static void pair__counts_trench_tape_and_ducts_to_spare_once(void **state)
{
    (void)state;
    char rest[PLAN_TEXT_ROOM];
    decided got;
    fe_part_list both;
    put_all_prices(rest, sizeof rest);
    decide_on(&got, "60 m", rest);
    const fe_way *data = way_of(&got, FE_WAY_FIBRE_BURIED);
    const fe_way *power = way_of(&got, FE_WAY_FEED);
    assert_int_equal(fe_parts_of_pair(&got.result, data, power, &both), FE_OK);
    /* One of two ducts of each list is to spare. */
    const double once =
        cost_of(power, FE_PART_TRENCH) + cost_of(power, FE_PART_WARNING_TAPE) +
        0.5 * (cost_of(power, FE_PART_DUCT) + cost_of(power, FE_PART_DRAW_CORD) +
               cost_of(power, FE_PART_DUCT_BEND) + cost_of(power, FE_PART_DUCT_SEAL));
    assert_close(both.cost, data->parts.cost + power->parts.cost - once, 1e-9);
    assert_int_equal(both.unpriced, 0);
    fe_parts_free(&both);
    /* What lies in no trench shares none. */
    const fe_way *radio = way_of(&got, FE_WAY_DIRECT);
    assert_int_equal(fe_parts_of_pair(&got.result, radio, power, &both), FE_OK);
    assert_close(both.cost, radio->parts.cost + power->parts.cost, 1e-9);
    fe_parts_free(&both);
    done(&got);
}

/* Relays are no loads of a feed: in its trench lies a cable. */
static void relays__that_are_not_built_load_no_feed(void **state)
{
    (void)state;
    decided got;
    decide_byre(&got, "[relay]\nplace = 80 m\ngear = outdoor-access-point\n"
                      "[load lamp]\npower = 20 W\nvoltage = 11..15 V\n"
                      "[feed]\nvoltage = 48 V dc\n");
    const fe_supply_entry *entry = got.result.feeds[0].entry;
    assert_int_equal(entry->given.load_count, 2);
    for (size_t i = 0; i < entry->given.load_count; i++)
        assert_null(strstr(entry->origins[i].name, "relay"));
    assert_int_equal(fe_parts_branches(entry), 0);
    done(&got);
}

static void price__of_a_size_goes_before_one_of_any(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "60 m",
              "[trench]\nduct = 1.25 in\n[prices]\nduct = 9 per m\nduct 32 mm = 2 per m\n"
              "[load pump]\npower = 300 W\n[feed]\nvoltage = 230 V ac\n");
    const fe_way *feed = way_of(&got, FE_WAY_FEED);
    const fe_part *duct = part_of(feed, FE_PART_DUCT);
    assert_close(duct->price, 2.0, 0.0);
    assert_close(feed->parts.cost, 2.0 * feed->trench_m, 1e-9);
    done(&got);
}

static void hazards__follow_from_what_is_built(void **state)
{
    (void)state;
    decided got;
    decide_on(&got, "60 m",
              "[cable]\nclass = outdoor-data\n[load lamp]\npower = 10 W\n"
              "[feed]\nvoltage = 230 V ac\n");
    assert_true(way_of(&got, FE_WAY_COPPER_BURIED)->hazards & FE_HAZARD_LIGHTNING);
    assert_false(way_of(&got, FE_WAY_FIBRE_BURIED)->hazards & FE_HAZARD_LIGHTNING);
    assert_true(way_of(&got, FE_WAY_FIBRE_BURIED)->hazards & FE_HAZARD_DIGGING);
    assert_true(way_of(&got, FE_WAY_FEED)->hazards & FE_HAZARD_MAINS);
    assert_true(way_of(&got, FE_WAY_DIRECT)->hazards & FE_HAZARD_HEIGHT);
    done(&got);
}

static void lightning__finds_metal_as_often_as_the_plan_has_flashes(void **state)
{
    (void)state;
    decided one;
    const char *const cable = "[cable]\nclass = outdoor-data\n";
    decide_on(&one, "165 m", cable);
    /* 4000 L N_G a year nearby, half of it in the ground: IEC 62305-2:2010 A.5; 1 /km2/year. */
    const fe_way *metal = way_of(&one, FE_WAY_COPPER_BURIED);
    assert_close(metal->near_per_year, 0.5 * 4000.0 * 165.0 * 1e-6, 1e-3);
    assert_close(metal->struck_per_year, metal->near_per_year / 100.0, 1e-6);
    assert_true(isnan(way_of(&one, FE_WAY_FIBRE_BURIED)->near_per_year));
    done(&one);
}

/* ---- What comes close ---- */

static void close__ways_are_both_named(void **state)
{
    (void)state;
    decided got;
    /* Both hold, and a trench is a trench. */
    char text[1500];
    snprintf(text, sizeof text,
             "[site]\nregion = EU\nbands = 60 GHz\n"
             "[end house]\ngear = outdoor-access-point\nheight = 4 m\n"
             "[end shed]\ngear = outdoor-access-point\nheight = 3 m\n"
             "[path way]\nfrom = house\nto = shed\ndistance = 50 m\n"
             "[trees wood]\npath = way\nfrom = 10 m\nto = 40 m\nheight = 12 m\n"
             "[cable]\nclass = outdoor-data\nindoor = 3 m, 3 m\ncords = 2 m\n");
    decide_text(&got, text);
    assert_true(got.result.picks[0].way >= 0);
    assert_true(got.result.picks[0].rival >= 0);
    const fe_way *one = &got.result.ways[got.result.picks[0].way];
    const fe_way *other = &got.result.ways[got.result.picks[0].rival];
    assert_true(one->kind != other->kind);
    assert_true(one->trench_m > 0.0 && other->trench_m > 0.0);
    done(&got);
}

/* A sum that lacks something is less than it will be: it is held against no other. */
static void close__does_not_come_of_a_sum_that_lacks_a_price(void **state)
{
    (void)state;
    decided got;
    char rest[PLAN_TEXT_ROOM];
    put_all_prices(rest, sizeof rest);
    decide_on(&got, "60 m", rest);
    fe_result *result = &got.result;
    /* Two ways of data that hold and ask for very different work, made to cost the same. */
    fe_way *chosen_way = &result->ways[result->picks[0].way];
    fe_way *far = &result->ways[way_index(&got, FE_WAY_FIBRE_BURIED)];
    assert_int_equal(far->verdict, chosen_way->verdict);
    for (size_t i = 0; i < result->way_count; i++)
        if (&result->ways[i] != far && &result->ways[i] != chosen_way)
            result->ways[i].verdict = FE_VERDICT_FAILS;
    result->picks[0].power_way = -1;
    for (unsigned missing = 0; missing < 2; missing++) {
        far->parts.cost = chosen_way->parts.cost;
        far->parts.unpriced = missing;
        result->picks[0].rival = -1;
        fe_parts_free(&result->picks[0].together);
        assert_int_equal(decide_rivals(result), FE_OK);
        assert_int_equal(result->picks[0].rival, missing ? -1 : (int)(far - result->ways));
    }
    done(&got);
}

static void close__is_never_a_way_that_fails(void **state)
{
    (void)state;
    static const char *const AT[] = {"60 m", "150 m", "400 m"};
    for (size_t i = 0; i < 3; i++) {
        decided got;
        decide_on(&got, AT[i], "");
        if (got.result.picks[0].rival >= 0) {
            assert_int_not_equal(got.result.picks[0].rival, got.result.picks[0].way);
            assert_int_not_equal(got.result.ways[got.result.picks[0].rival].verdict,
                                 FE_VERDICT_FAILS);
        }
        done(&got);
    }
}

/* ---- Networks ---- */

static const char THREE_ENDS[] = "[site]\nregion = EU\nbands = 2.4 GHz\n"
                                 "[end house]\ngear = outdoor-access-point\nheight = 4 m\n"
                                 "[end barn]\ngear = outdoor-access-point\nheight = 4 m\n"
                                 "[end hut]\ngear = outdoor-access-point\nheight = 4 m\n"
                                 "[path near]\nfrom = house\nto = barn\ndistance = 80 m\n"
                                 "[path far]\nfrom = barn\nto = hut\ndistance = 90 m\n"
                                 "[traffic barn]\nfrom = barn\nto = house\nstream = 1 Mb/s\n"
                                 "[traffic hut]\nfrom = hut\nto = house\nstream = 3 Mb/s\n"
                                 "[traffic back]\nfrom = house\nto = hut\nstream = 200 kb/s\n";

/* Three ends in a row, with these sections more. */
static void decide_three_ends(decided *got, const char *more)
{
    char text[PLAN_TEXT_ROOM];
    snprintf(text, sizeof text, "%s%s", THREE_ENDS, more);
    decide_text(got, text);
}

static void stretch__shared_by_several_carries_all_of_it(void **state)
{
    (void)state;
    decided got;
    decide_three_ends(&got, "");
    fe_path_traffic near;
    fe_path_traffic far;
    fe_network_traffic(&got.plan, 0, &near);
    fe_network_traffic(&got.plan, 1, &far);
    assert_close(near.stream_bps[1], 4e6, 1e-6);
    assert_close(near.stream_bps[0], 2e5, 1e-6);
    assert_close(far.stream_bps[1], 3e6, 1e-6);
    assert_close(far.stream_bps[0], 2e5, 1e-6);
    assert_int_equal(near.through_count, 2);
    assert_close(got.result.radio[0].wanted.rate_bps[1], 4e6, 1e-6);
    done(&got);
}

static void route__runs_over_the_fewest_paths_and_either_way_round(void **state)
{
    (void)state;
    decided got;
    decide_three_ends(&got, "");
    fe_network_route out;
    fe_network_route back;
    assert_true(fe_network_route_between(&got.plan, 0, 2, &out));
    assert_true(fe_network_route_between(&got.plan, 2, 0, &back));
    assert_int_equal(out.count, 2);
    assert_int_equal(back.count, 2);
    assert_int_equal(out.paths[0], back.paths[1]);
    assert_true(out.along[0] && !back.along[1]);
    assert_true(fe_network_route_between(&got.plan, 1, 1, &out));
    assert_int_equal(out.count, 0);
    assert_false(fe_network_route_between(&got.plan, 0, 64, &out));
    done(&got);
}

/* What a path takes of the delay that a traffic bears leaves the next one less. */
static void delay__is_summed_over_the_paths_of_a_route(void **state)
{
    (void)state;
    decided got;
    char text[PLAN_TEXT_ROOM];
    snprintf(text, sizeof text,
             "[traffic steering]\nfrom = house\nto = hut\nstream = 10 kb/s\n"
             "longest-delay = %.3f ms\n",
             1.6e3 * FE_CHAIN_HOP_DELAY_S);
    decide_three_ends(&got, text);
    const fe_result *result = &got.result;
    assert_int_equal(result->pick_count, 2);
    const fe_way *near = &result->ways[result->picks[0].way];
    const fe_way *far = &result->ways[result->picks[1].way];
    assert_int_equal(near->kind, FE_WAY_DIRECT);
    assert_true(far->kind != FE_WAY_DIRECT);
    assert_true(near->delay_s + far->delay_s <= 1.6 * FE_CHAIN_HOP_DELAY_S);
    for (size_t i = 0; i < result->way_count; i++)
        if (result->ways[i].path == 1 && result->ways[i].kind == FE_WAY_DIRECT) {
            assert_close_relative(result->ways[i].route_delay_s, 2.0 * FE_CHAIN_HOP_DELAY_S,
                                  1e-12);
            assert_int_equal(result->ways[i].verdict, FE_VERDICT_FAILS);
            assert_string_equal(result->ways[i].limit, "delay");
        }
    done(&got);
}

static void recommendation__is_made_for_each_path_that_carries_something(void **state)
{
    (void)state;
    decided got;
    decide_three_ends(&got, "[end coop]\nheight = 2 m\n"
                            "[path idle]\nfrom = hut\nto = coop\ndistance = 20 m\n");
    const fe_result *result = &got.result;
    assert_int_equal(result->pick_count, 3);
    assert_true(result->picks[1].asked && result->picks[1].way >= 0);
    assert_int_equal(result->ways[result->picks[1].way].path, 1);
    assert_false(result->picks[2].asked);
    assert_int_equal(result->picks[2].way, -1);
    assert_int_equal(fe_result_verdict(result),
                     fe_verdict_worse(result->ways[result->picks[0].way].verdict,
                                      result->ways[result->picks[1].way].verdict));
    done(&got);
}

/* ---- Loads of several buildings ---- */

static const char LOADS[] = "[load lamp]\npower = 40 W\n"
                            "[load pump]\nend = hut\npower = 300 W\nvoltage = 207..253 V\n"
                            "[feed]\nvoltage = 230 V ac\nvoltage = 48 V dc\n";

static const fe_way *power_row(const fe_result *result, size_t path, fe_way_kind kind)
{
    for (size_t i = 0; i < result->way_count; i++)
        if (result->ways[i].kind == kind && result->ways[i].path == path)
            return &result->ways[i];
    fail_msg("no such way of power");
    return NULL;
}

/* What a feed delivers to the devices of its far end, in watts; converters left out. */
static double device_w(const fe_supply_entry *entry, const char *name)
{
    for (size_t i = 0; i < entry->given.load_count; i++)
        if (strcmp(entry->origins[i].name, name) == 0)
            return entry->origins[i].device_w > 0.0 ? entry->origins[i].device_w
                                                    : entry->loads[i].load;
    return 0.0;
}

static void loads__go_to_the_end_that_they_name(void **state)
{
    (void)state;
    decided got;
    decide_three_ends(&got, LOADS);
    const fe_result *result = &got.result;
    /* Without a name a load stands at the far end of the first path. */
    assert_int_equal(got.plan.loads[0].end, 1);
    assert_int_equal(got.plan.loads[1].end, 2);
    assert_int_equal(result->feed_count, 4);
    for (size_t i = 0; i < result->feed_count; i++) {
        const fe_feed_choice *feed = &result->feeds[i];
        assert_close(device_w(feed->entry, "lamp"), feed->path == 0 ? 40.0 : 0.0, 1e-9);
        assert_close(device_w(feed->entry, "pump"), feed->path == 1 ? 300.0 : 0.0, 1e-9);
    }
    assert_int_equal(result->solar_count, 2);
    assert_true(result->solars[1].day_j > 5.0 * result->solars[0].day_j);
    done(&got);
}

/* The cable to the hut begins at the house and passes the barn; with mains there, at the barn.
 */
static void feed__begins_at_the_last_end_with_mains(void **state)
{
    (void)state;
    decided got;
    char text[PLAN_TEXT_ROOM];
    decide_three_ends(&got, LOADS);
    const double near_m = fe_profile_ground_length(&got.plan.paths[0].profile);
    const double far_m = fe_profile_ground_length(&got.plan.paths[1].profile);
    assert_close(power_row(&got.result, 1, FE_WAY_FEED)->trench_m, near_m + far_m, 1e-9);
    assert_int_equal(fe_supply_begins_at(&got.plan, 1), 0);
    done(&got);
    const char *at = strstr(THREE_ENDS, "[end barn]\n");
    assert_non_null(at);
    at += strlen("[end barn]\n");
    snprintf(text, sizeof text, "%.*smains = yes\n%s%s", (int)(at - THREE_ENDS), THREE_ENDS, at,
             LOADS);
    decide_text(&got, text);
    assert_close(power_row(&got.result, 1, FE_WAY_FEED)->trench_m, far_m, 1e-9);
    assert_int_equal(fe_supply_begins_at(&got.plan, 1), 1);
    done(&got);
}

/* ---- A feed as a tree ---- */

static void decide_tree(decided *got, const char *far, const char *more)
{
    char text[PLAN_TEXT_ROOM];
    snprintf(text, sizeof text,
             "[site]\nregion = EU\nbands = 2.4 GHz\n"
             "[end house]\ngear = outdoor-access-point\nheight = 4 m\n"
             "[end barn]\ngear = phone\n[end hut]\ngear = phone\n"
             "[path near]\nfrom = house\nto = barn\ndistance = 50 m\n"
             "[path far]\nfrom = barn\nto = hut\ndistance = %s\n"
             "[load lights]\nend = barn\npower = 30 W\nvoltage = 40..60 V\n"
             "[load fridge]\nend = hut\npower = 40 W\nvoltage = 40..60 V\n"
             "[feed]\nvoltage = 48 V dc\nconductor = copper\n%s",
             far, more);
    decide_text(got, text);
}

static const fe_supply_size *size_of(const fe_feed_choice *feed, double area_m2)
{
    const fe_supply_choice *sizes = &feed->entry->choices[FE_CONDUCTOR_COPPER][FE_SIZES_METRIC];
    for (size_t i = 0; i < sizes->count; i++)
        if (fabs(sizes->sizes[i].conductor.area_m2 - area_m2) < 1e-9)
            return &sizes->sizes[i];
    fail_msg("no such size");
    return NULL;
}

/* 4 mm2: 4.61 ohm/km at 20 degC, IEC 60228; copper 0.393 % a kelvin. */
static double loop_ohm(const fe_supply_size *size, double length_m)
{
    return 2.0 * 4.61e-3 * (1.0 + 0.00393 * (size->conductor_c - 20.0)) * length_m;
}

static void feed__shared_stretch_carries_the_sum_of_what_is_beyond(void **state)
{
    (void)state;
    decided got;
    decide_tree(&got, "30 m", "");
    assert_int_equal(got.result.feed_count, 2);
    const fe_feed_choice *near = &got.result.feeds[0], *far = &got.result.feeds[1];
    const fe_supply_size *size = size_of(near, 4e-6);
    /* Lights and a phone, fridge and a phone: 32 W and 42 W. */
    double barn_v = 48.0;
    for (int i = 0; i < 100; i++)
        barn_v = 48.0 - loop_ohm(size, near->length_m) * (32.0 + 42.0) / barn_v;
    assert_close(size->far_v, barn_v, 2e-3);
    /* The line to the hut passes the barn at 50 of its 80 m. */
    size = size_of(far, 4e-6);
    const double at_m = far->length_m * 50.0 / 80.0;
    double hut_v = 48.0;
    barn_v = 48.0;
    for (int i = 0; i < 100; i++) {
        barn_v = 48.0 - loop_ohm(size, at_m) * (32.0 / barn_v + 42.0 / hut_v);
        hut_v = barn_v - loop_ohm(size, far->length_m - at_m) * 42.0 / hut_v;
    }
    assert_close(size->far_v, hut_v, 2e-3);
    done(&got);
}

static void feed__is_no_thinner_than_what_goes_on_from_it(void **state)
{
    (void)state;
    decided got;
    decide_tree(&got, "90 m", "");
    const fe_feed_choice *near = &got.result.feeds[0], *far = &got.result.feeds[1];
    assert_true(near->found && far->found);
    const fe_supply_choice *sizes = &near->entry->choices[FE_CONDUCTOR_COPPER][FE_SIZES_METRIC];
    assert_close(near->conductor.area_m2, far->conductor.area_m2, 1e-12);
    assert_int_equal(sizes->limited_by, FE_DEMAND_BEYOND);
    /* By its own drop alone it would be thinner. */
    assert_true(sizes->asked[FE_DEMAND_DROP] < sizes->smallest);
    assert_string_equal(near->limit, "what is fed on from there");
    done(&got);
}

static void feed__lays_each_stretch_once(void **state)
{
    (void)state;
    decided got;
    decide_tree(
        &got, "30 m",
        "[spare]\npower = 300 %\n[trench]\ndepth = 0.5 m\n[cable]\nindoor = 3 m, 3 m\n");
    const fe_way *ways[2] = {NULL, NULL};
    for (size_t path = 0; path < 2; path++) {
        assert_true(got.result.picks[path].power_way >= 0);
        ways[path] = &got.result.ways[got.result.picks[path].power_way];
        assert_int_equal(ways[path]->kind, FE_WAY_FEED);
    }
    assert_close(ways[0]->trench_m, 50.0, 0.1);
    assert_close(ways[1]->trench_m, 30.0, 0.1);
    /* Out of the ground twice, indoors, 2 % and a metre at each end. */
    assert_close(part_of(ways[0], FE_PART_SUPPLY_CABLE)->length_m, 50.0 + 1 + 6 + 1 + 2, 0.1);
    assert_close(part_of(ways[1], FE_PART_SUPPLY_CABLE)->length_m, 30.0 + 1 + 6 + 0.6 + 2, 0.1);
    assert_close(part_of(ways[1], FE_PART_TRENCH)->length_m, 30.0, 0.1);
    assert_non_null(part_of(ways[0], FE_PART_SUPPLY));
    assert_null(part_of(ways[1], FE_PART_SUPPLY));
    assert_int_equal(fe_parts_branches(got.result.feeds[1].entry), 0);
    done(&got);
}

static void power__is_recommended_for_each_end_that_needs_it(void **state)
{
    (void)state;
    decided got;
    decide_three_ends(&got, LOADS);
    const fe_result *result = &got.result;
    for (size_t path = 0; path < 2; path++) {
        const fe_pick *pick = &result->picks[path];
        assert_true(pick->power_asked && pick->power_way >= 0);
        assert_true(fe_way_is_power(result->ways[pick->power_way].kind));
        assert_int_equal(result->ways[pick->power_way].path, path);
        assert_int_equal(fe_result_choice(result, result->pick_count + path), pick->power_way);
        assert_true(fe_result_is_power_choice(result, result->pick_count + path));
    }
    assert_int_equal(result->picks[0].power_way, result->picks[0].power_way);
    done(&got);
    /* Only the hut needs any: the first path has none to choose. */
    decide_three_ends(&got, strstr(LOADS, "[load pump]"));
    assert_false(got.result.picks[0].power_asked);
    assert_int_equal(got.result.picks[0].power_way, -1);
    assert_true(got.result.picks[1].power_way >= 0);
    assert_true(fe_result_needs_power(&got.result));
    done(&got);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(transfer__too_long_fails_as_any_limit_does),
        cmocka_unit_test(delay__longer_than_the_traffic_bears_fails),
        cmocka_unit_test(spare__rate_is_built_in),
        cmocka_unit_test(relays__have_a_row_for_each_number_up_to_the_best),
        cmocka_unit_test(single_pair__reaches_where_four_pairs_do_not),
        cmocka_unit_test(single_pair__hangs_on_posts_too),
        cmocka_unit_test(season__is_named_where_one_decides),
        cmocka_unit_test(feed_data__only_where_both_buildings_share_a_supply),
        cmocka_unit_test(feed_data__fades_with_the_length_of_the_feed),
        cmocka_unit_test(poe__carries_what_its_class_promises_and_no_mains_load),
        cmocka_unit_test(poe__counts_spare_power_and_what_takes_the_pairs_itself),
        cmocka_unit_test(solar__grows_with_the_load_and_its_hours),
        cmocka_unit_test(panel__runs_the_gear_where_the_plan_says_that_there_are_no_mains),
        cmocka_unit_test(cost__is_the_sum_of_priced_parts_and_none_without_prices),
        cmocka_unit_test(cost__of_a_way_is_the_sum_of_its_list),
        cmocka_unit_test(radio__list_has_mounts_leads_and_ways_in),
        cmocka_unit_test(radio__higher_than_a_wall_stands_on_an_earthed_mast),
        cmocka_unit_test(radio__list_leaves_out_what_is_not_needed_there),
        cmocka_unit_test(relays__list_has_posts_boxes_and_power),
        cmocka_unit_test(trench__dug_for_power_takes_the_fibre_where_a_relay_would_do),
        cmocka_unit_test(trench__dug_for_power_does_not_overturn_a_link_that_holds),
        cmocka_unit_test(panel__leaves_the_relay_as_it_is),
        cmocka_unit_test(pair__counts_trench_tape_and_ducts_to_spare_once),
        cmocka_unit_test(relays__that_are_not_built_load_no_feed),
        cmocka_unit_test(price__of_a_size_goes_before_one_of_any),
        cmocka_unit_test(hazards__follow_from_what_is_built),
        cmocka_unit_test(lightning__finds_metal_as_often_as_the_plan_has_flashes),
        cmocka_unit_test(close__ways_are_both_named),
        cmocka_unit_test(close__does_not_come_of_a_sum_that_lacks_a_price),
        cmocka_unit_test(close__is_never_a_way_that_fails),
        cmocka_unit_test(stretch__shared_by_several_carries_all_of_it),
        cmocka_unit_test(delay__is_summed_over_the_paths_of_a_route),
        cmocka_unit_test(recommendation__is_made_for_each_path_that_carries_something),
        cmocka_unit_test(route__runs_over_the_fewest_paths_and_either_way_round),
        cmocka_unit_test(loads__go_to_the_end_that_they_name),
        cmocka_unit_test(feed__begins_at_the_last_end_with_mains),
        cmocka_unit_test(power__is_recommended_for_each_end_that_needs_it),
        cmocka_unit_test(feed__shared_stretch_carries_the_sum_of_what_is_beyond),
        cmocka_unit_test(feed__is_no_thinner_than_what_goes_on_from_it),
        cmocka_unit_test(feed__lays_each_stretch_once),
    };
    fe_init();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
