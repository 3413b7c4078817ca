/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The calls between the files of the physics, of the decision and of the report, and from there
 * to what lies below, that return a status: failing_calls.c lets each of them fail in turn, and
 * tests/CMakeLists.txt reads their names here. Not listed, since a refusal of
 * theirs is an answer that callers use: fe_wifi_modes (a standard lacks a mode),
 * fe_knife_edge_loss_fit (no edge), fe_ampacity_of (no table has the size), fe_power_limit_at
 * (closed there). Nor report_json_write, which takes over what it is given.
 */
CALL(again_answer_make, (const fe_result *result, again_answer *answer), (result, answer))
CALL(again_compute,
     (const fe_result *result, const fe_plan *plan, unsigned concerns, again_depth depth,
      again_answer *answer),
     (result, plan, concerns, depth, answer))
CALL(around_round_earth,
     (const around_job *work, const around_sight *s, double *sphere_db, double *smooth_db),
     (work, s, sphere_db, smooth_db))
CALL(around_table_make, (const fe_around *in, around_table *table), (in, table))
CALL(build_curves_make,
     (const fe_hop *hop, const fe_path_loss *loss, double chance, build_curves *curves,
      fe_placing_curve *shapes),
     (hop, loss, chance, curves, shapes))
CALL(decide_channels, (const fe_plan *plan, fe_result *result), (plan, result))
CALL(decide_feed, (const fe_plan *plan, fe_feed_choice *choice), (plan, choice))
CALL(decide_feed_data, (const fe_plan *plan, fe_result *result), (plan, result))
CALL(decide_feeds, (const fe_plan *plan, fe_result *result), (plan, result))
CALL(decide_own_stretches, (fe_result * result), (result))
CALL(decide_links, (const fe_plan *plan, fe_result *result), (plan, result))
CALL(decide_overhead, (const fe_plan *plan, fe_result *result), (plan, result))
CALL(decide_parts, (const fe_result *result, fe_way *way), (result, way))
CALL(decide_relays, (const fe_plan *plan, fe_result *result), (plan, result))
CALL(decide_rivals, (fe_result * result), (result))
CALL(decide_rows, (fe_result * result), (result))
CALL(decide_solar, (const fe_plan *plan, fe_result *result), (plan, result))
CALL(decide_ways, (fe_result * result), (result))
CALL(fe_anchor_holding, (const fe_anchor *anchor, const char *soil, double *holding_n),
     (anchor, soil, holding_n))
CALL(fe_anchor_log_depth,
     (const fe_anchor_log *log, const char *soil, double holding_n, double *depth_m),
     (log, soil, holding_n, depth_m))
CALL(fe_battery_charge, (double energy_j, double nominal_v, double *charge_c),
     (energy_j, nominal_v, charge_c))
CALL(fe_battery_energy, (const fe_battery_need *need, double *energy_j), (need, energy_j))
CALL(fe_beyond_solve, (const fe_beyond_case *given, fe_beyond_way *ways), (given, ways))
CALL(fe_build_loss, (const fe_hop *hop, const fe_path_loss *loss, fe_spread *spread),
     (hop, loss, spread))
CALL(fe_build_part_spread, (const fe_build_part *part, fe_spread *spread), (part, spread))
CALL(fe_chain_at,
     (const fe_hop *direct, const fe_chain_place *places, unsigned relays,
      fe_chain_sharing sharing, const fe_season *seasons, size_t count, const fe_wanted *wanted,
      fe_chain *chain),
     (direct, places, relays, sharing, seasons, count, wanted, chain))
CALL(fe_chain_rate_shared,
     (const double *rates_bps, size_t count, fe_chain_sharing sharing, unsigned turns,
      double *rate_bps),
     (rates_bps, count, sharing, turns, rate_bps))
CALL(fe_channel_bundle_rise,
     (double heat_w_m, double diameter_m, unsigned cables, double *rise_k),
     (heat_w_m, diameter_m, cables, rise_k))
CALL(fe_channel_longest, (const fe_channel_plan *plan, fe_channel_length *length),
     (plan, length))
CALL(fe_channel_solve, (const fe_channel_case *given, fe_channel_answer *answer),
     (given, answer))
CALL(fe_clutter_statistical, (double f_hz, double distance_m, double share, double *loss_db),
     (f_hz, distance_m, share, loss_db))
CALL(fe_conductor_resistance, (const fe_conductor *conductor, double temp_c, double *ohm_per_m),
     (conductor, temp_c, ohm_per_m))
CALL(fe_converter_efficiency, (double power_w, double *efficiency), (power_w, efficiency))
CALL(fe_cover_loss, (fe_cover cover, double f_hz, double *loss_db), (cover, f_hz, loss_db))
CALL(fe_delta_bullington_loss,
     (const fe_diffraction_path *path, const fe_diffraction_wave *wave,
      fe_delta_bullington *result),
     (path, wave, result))
CALL(fe_document_status, (const fe_document *doc), (doc))
CALL(fe_duct_fill,
     (double inner_m, const double *diameter_m, size_t count, double *fill, double *limit),
     (inner_m, diameter_m, count, fill, limit))
CALL(fe_duct_longest_pull,
     (double limit_n, double weight_n_m, double friction, double bends_rad, double *length_m),
     (limit_n, weight_n_m, friction, bends_rad, length_m))
CALL(fe_effective_earth_radius, (double lapse_n_per_km, fe_effective_earth *earth),
     (lapse_n_per_km, earth))
CALL(fe_effective_impedance, (double r, double x, double power_factor, double *z),
     (r, x, power_factor, z))
CALL(fe_entry_loss_spread,
     (const fe_entry_building *building, double f_hz, double elevation_rad,
      fe_entry_spread *spread),
     (building, f_hz, elevation_rad, spread))
CALL(fe_fade_quantile,
     (const fe_fading *laws, size_t count, const fe_fade_rain *rain, double availability,
      double *fade_db),
     (laws, count, rain, availability, fade_db))
CALL(fe_fading_availability, (const fe_fading *fading, double margin_db, double *availability),
     (fading, margin_db, availability))
CALL(fe_fault_loop_cold_limit, (double max_zs_ohm, double *cold_ohm), (max_zs_ohm, cold_ohm))
CALL(fe_fault_loop_electrode, (double residual_a, double *max_ohm), (residual_a, max_ohm))
CALL(fe_fault_loop_least_area, (double current_a, double time_s, double k, double *area_m2),
     (current_a, time_s, k, area_m2))
CALL(fe_fault_loop_max_zs, (fe_breaker_type type, double rating_a, double *max_zs_ohm),
     (type, rating_a, max_zs_ohm))
CALL(fe_fault_loop_zs,
     (double ze_ohm, double r1r2_ohm_per_m, double length_m, double factor, double *zs_ohm),
     (ze_ohm, r1r2_ohm_per_m, length_m, factor, zs_ohm))
CALL(fe_feed_constant_power,
     (double source_v, double r_ohm, double x_ohm, double power_w, double power_factor,
      fe_power_feed *feed),
     (source_v, r_ohm, x_ohm, power_w, power_factor, feed))
CALL(fe_feed_greatest_share,
     (double source_v, const fe_feed_section *sections, size_t count, double *share),
     (source_v, sections, count, share))
CALL(fe_feed_line_solve,
     (const fe_feed_line *line, const fe_feed_load *loads, size_t count, fe_feed_point *points,
      fe_feed_result *result),
     (line, loads, count, points, result))
CALL(fe_feeder_loss,
     (const fe_feeder *feeder, double f_hz, double length_m, unsigned connectors, double temp_c,
      double *loss_db),
     (feeder, f_hz, length_m, connectors, temp_c, loss_db))
CALL(fe_fibre_link_try,
     (const fe_fibre_reach *reach, fe_fibre fibre, double length_m, unsigned connector_pairs,
      unsigned splices, fe_fibre_link *link),
     (reach, fibre, length_m, connector_pairs, splices, link))
CALL(fe_figure_add, (const fe_figure *figure, fe_gnuplot *gnuplot, fe_document *doc),
     (figure, gnuplot, doc))
CALL(fe_figure_budget, (const fe_budget_data *data, fe_units units, fe_figure *figure),
     (data, units, figure))
CALL(fe_figure_feed, (const fe_feed_data *data, fe_units units, fe_figure *figure),
     (data, units, figure))
CALL(fe_figure_margin, (const fe_margin_data *data, fe_units units, fe_figure *figure),
     (data, units, figure))
CALL(fe_figure_overhead, (const fe_overhead_data *data, fe_units units, fe_figure *figure),
     (data, units, figure))
CALL(fe_figure_poe, (const fe_poe_data *data, fe_units units, fe_figure *figure),
     (data, units, figure))
CALL(fe_figure_profile, (const fe_profile_data *data, fe_units units, fe_figure *figure),
     (data, units, figure))
CALL(fe_figure_reach, (const fe_reach_data *data, fe_units units, fe_figure *figure),
     (data, units, figure))
CALL(fe_figure_relays, (const fe_relays_data *data, fe_units units, fe_figure *figure),
     (data, units, figure))
CALL(fe_figure_sketch, (const fe_sketch_data *data, fe_units units, fe_figure *figure),
     (data, units, figure))
CALL(fe_figure_stringing, (const fe_stringing_data *data, fe_units units, fe_figure *figure),
     (data, units, figure))
CALL(fe_foliage_budget,
     (const fe_foliage_state *state, double f_hz, double depth_m, fe_foliage_result *result),
     (state, f_hz, depth_m, result))
CALL(fe_foliage_routes, (double bare_db, double foliage_db, double opaque_db, double *loss_db),
     (bare_db, foliage_db, opaque_db, loss_db))
CALL(fe_free_space_loss, (double d_m, double f_hz, double *loss_db), (d_m, f_hz, loss_db))
CALL(fe_fresnel_radius,
     (unsigned zone, double d1_m, double d2_m, double f_hz, double *radius_m),
     (zone, d1_m, d2_m, f_hz, radius_m))
CALL(fe_fresnel_walk,
     (const double *d_m, const double *h_m, size_t n, double antenna1_m, double antenna2_m,
      double ae_m, double f_hz, fe_fresnel_tightest *tightest),
     (d_m, h_m, n, antenna1_m, antenna2_m, ae_m, f_hz, tightest))
CALL(fe_gas_specific, (double f_hz, const fe_gas_air *air, fe_gas_attenuation *result),
     (f_hz, air, result))
CALL(fe_geodesic_between, (const fe_position *from, const fe_position *to, fe_geodesic *line),
     (from, to, line))
CALL(fe_gnuplot_clean_svg, (const char *raw, const char *id, fe_strbuf *out), (raw, id, out))
CALL(fe_gnuplot_draw,
     (fe_gnuplot * gnuplot, const char *id, const char *commands, unsigned width,
      unsigned height, char **svg, char reason[FE_GNUPLOT_REASON_ROOM]),
     (gnuplot, id, commands, width, height, svg, reason))
CALL(fe_ground_breakpoint,
     (double f_hz, double height1_m, double height2_m, double *distance_m),
     (f_hz, height1_m, height2_m, distance_m))
CALL(fe_ground_nulls,
     (const fe_ground_path *path, double low_m, double high_m, double *heights_m, size_t room,
      size_t *count),
     (path, low_m, high_m, heights_m, room, count))
CALL(fe_ground_ray_loss,
     (const fe_ground_path *path, const fe_reflection *reflection, fe_ground_ray *result),
     (path, reflection, result))
CALL(fe_ground_ray_spread,
     (const fe_ground_path *path, const fe_reflection *reflection, double error1_m,
      double error2_m, fe_ground_spread *result),
     (path, reflection, error1_m, error2_m, result))
CALL(fe_ground_reflection,
     (const fe_permittivity *ground, fe_ground_wave wave, double grazing_rad, double rough,
      fe_reflection *result),
     (ground, wave, grazing_rad, rough, result))
CALL(fe_ground_reflection_over,
     (const fe_ground_path *path, fe_surface surface, fe_ground_wave wave,
      fe_reflection *result),
     (path, surface, wave, result))
CALL(fe_growth_of, (const fe_result *result, fe_growth *growth), (result, growth))
CALL(fe_height_error_spread,
     (const fe_diffraction_path *path, const double *height_error_m,
      const fe_diffraction_wave *wave, fe_height_spread *spread),
     (path, height_error_m, wave, spread))
CALL(fe_hop_budget_compute,
     (const fe_hop *hop, const fe_season *seasons, size_t count, const fe_wanted *wanted,
      fe_hop_budget *budget),
     (hop, seasons, count, wanted, budget))
CALL(fe_hop_delivers,
     (const fe_hop *hop, const fe_hop_season *season, const fe_wanted *wanted, int from,
      double build_db, double *rate_bps, double *served_share),
     (hop, season, wanted, from, build_db, rate_bps, served_share))
CALL(fe_ice_district_case,
     (const fe_ice_district *district, double diameter_m, double bare_n_m,
      fe_ice_wind_case *given, double *temp_c),
     (district, diameter_m, bare_n_m, given, temp_c))
CALL(fe_ice_preset, (const char *name, double diameter_m, fe_ice_district *district),
     (name, diameter_m, district))
CALL(fe_ice_wind, (const fe_ice_wind_case *given, fe_ice_wind_load *load), (given, load))
CALL(fe_insertion_loss_channel,
     (const fe_loss_equation *equation, double f_hz, double *loss_db),
     (equation, f_hz, loss_db))
CALL(fe_insertion_loss_run,
     (const fe_loss_equation *equation, const fe_channel_run *run, double f_hz,
      double *loss_db),
     (equation, run, f_hz, loss_db))
CALL(fe_isolated_edge_find,
     (const double *d_m, const double *h_m, size_t n, double antenna1_m, double antenna2_m,
      double ae_m, double f_hz, fe_isolated_edge *edge),
     (d_m, h_m, n, antenna1_m, antenna2_m, ae_m, f_hz, edge))
CALL(fe_json_text, (const struct json_t *value, size_t flags, fe_strbuf *out),
     (value, flags, out))
CALL(fe_limits_cable,
     (const fe_cable_class *given, const char *messenger, fe_hung_cable *cable),
     (given, messenger, cable))
CALL(fe_limits_clearance,
     (fe_safety_format format, const char *code, bool supply, fe_thing_below below,
      double own_m, fe_clearance_need *need),
     (format, code, supply, below, own_m, need))
CALL(fe_limits_longest_span,
     (const fe_hung_cable *cable, const fe_pull_limits *limits, const fe_run_case *cases,
      size_t case_count, double stringing_c, double most_share, double *span_m),
     (cable, limits, cases, case_count, stringing_c, most_share, span_m))
CALL(fe_limits_pull, (const fe_hung_cable *cable, fe_pull_limits *limits), (cable, limits))
CALL(fe_pairs_compute,
     (const fe_pairs *pairs, fe_pairs_row row, void *context, fe_pairs_counts *counts),
     (pairs, row, context, counts))
CALL(fe_panel_power,
     (double energy_per_day_j, double sun_s, double efficiency, double *power_w),
     (energy_per_day_j, sun_s, efficiency, power_w))
CALL(fe_parts_of_cable,
     (const fe_result *result, const fe_channel_result *channel, fe_part_list *list),
     (result, channel, list))
CALL(fe_parts_of_feed, (const fe_plan *plan, const fe_supply_entry *entry, fe_part_list *list),
     (plan, entry, list))
CALL(fe_parts_of_pair,
     (const struct fe_result *result, const struct fe_way *way, const struct fe_way *other,
      fe_part_list *list),
     (result, way, other, list))
CALL(fe_parts_of_pairs, (const fe_plan *plan, fe_part_list *list), (plan, list))
CALL(fe_parts_of_radio,
     (const struct fe_result *result, const struct fe_way *way, fe_part_list *list),
     (result, way, list))
CALL(fe_parts_of_solar, (const fe_plan *plan, const fe_solar *solar, fe_part_list *list),
     (plan, solar, list))
CALL(fe_path_loss_in_season, (const fe_hop *hop, const fe_season *season, fe_path_loss *loss),
     (hop, season, loss))
CALL(fe_placing_find, (const fe_placing *placing, unsigned relays, fe_placing_best *best),
     (placing, relays, best))
CALL(fe_plan_inputs_of, (const fe_plan *plan, fe_plan_inputs *inputs), (plan, inputs))
CALL(fe_plan_move,
     (const fe_plan *plan, const fe_plan_input *input, double value, fe_plan_moved *moved),
     (plan, input, value, moved))
CALL(fe_plan_move_all,
     (const fe_plan *plan, const fe_plan_step *steps, size_t count, fe_plan_moves *moves),
     (plan, steps, count, moves))
CALL(fe_plot_script, (const char *name, char **text), (name, text))
CALL(fe_poe_deliver, (double source_v, double device_w, double loop_ohm, fe_poe_feed *feed),
     (source_v, device_w, loop_ohm, feed))
CALL(fe_poe_device_power, (double source_v, double source_w, double loop_ohm, double *device_w),
     (source_v, source_w, loop_ohm, device_w))
CALL(fe_poe_loop,
     (double wire_ohm_per_m, double length_m, unsigned pair_sets, double *loop_ohm),
     (wire_ohm_per_m, length_m, pair_sets, loop_ohm))
CALL(fe_post_depth_free, (const fe_post_in_soil *given, double *factor_a_m, double *depth_m),
     (given, factor_a_m, depth_m))
CALL(fe_post_rule_depth, (fe_post_rule rule, double length_m, double *depth_m),
     (rule, length_m, depth_m))
CALL(fe_post_second_moment, (fe_post_section section, double width_m, double *second_moment_m4),
     (section, width_m, second_moment_m4))
CALL(fe_post_stay_of, (double horizontal_n, double height_m, double lead_m, fe_post_stay *stay),
     (horizontal_n, height_m, lead_m, stay))
CALL(fe_post_use_en,
     (fe_post_section section, double width_m, double bending_pa,
      const fe_post_moments *moments, fe_post_use *use),
     (section, width_m, bending_pa, moments, use))
CALL(fe_post_use_us,
     (fe_post_section section, double width_m, double fibre_pa, const fe_post_moments *moments,
      fe_post_use *use),
     (section, width_m, fibre_pa, moments, use))
CALL(fe_posts_depth_needed,
     (const fe_posts_material *material, double attachment_m, double lasting_n, double gust_n,
      double *depth_m),
     (material, attachment_m, lasting_n, gust_n, depth_m))
CALL(fe_posts_give,
     (const fe_posts_material *material, const fe_posts_kind *kind, double turn_rad,
      double *give_m_n),
     (material, kind, turn_rad, give_m_n))
CALL(fe_posts_hold_of, (const fe_posts_result *result, size_t post, fe_posts_hold *hold),
     (result, post, hold))
CALL(fe_posts_length_for,
     (const fe_posts_material *material, double attachment_m, double *length_m),
     (material, attachment_m, length_m))
CALL(fe_posts_make,
     (const fe_posts_material *material, double length_m, double added_depth_m, bool stayed,
      fe_posts_kind *kind),
     (material, length_m, added_depth_m, stayed, kind))
CALL(fe_posts_plan,
     (const fe_plan *plan, size_t path, const fe_cable_class *cable, const fe_posts_wish *wish,
      fe_posts_result *result),
     (plan, path, cable, wish, result))
CALL(fe_posts_stand, (const fe_plan *plan, fe_posts_result *run), (plan, run))
CALL(fe_posts_stay, (const fe_posts_kind *kind, double horizontal_n, fe_post_stay *stay),
     (kind, horizontal_n, stay))
CALL(fe_power_nearest_band, (const char *area, double f_hz, bool outdoor, fe_power_band *band),
     (area, f_hz, outdoor, band))
CALL(fe_profile_copy, (const fe_profile *profile, fe_profile *copy), (profile, copy))
CALL(fe_profile_cut, (const fe_profile *profile, double from_m, double to_m, fe_profile *part),
     (profile, from_m, to_m, part))
CALL(fe_profile_even, (double length_m, double rise_m, double step_m, fe_profile *profile),
     (length_m, rise_m, step_m, profile))
CALL(fe_profile_new, (size_t count, bool with_error, bool with_clutter, fe_profile *profile),
     (count, with_error, with_clutter, profile))
CALL(fe_profile_refine, (const fe_profile *profile, double step_m, fe_profile *refined),
     (profile, step_m, refined))
CALL(fe_quantity_parse, (const char *text, fe_dimension dimension, double *si),
     (text, dimension, si))
CALL(fe_radio_best_link,
     (const fe_plan *plan, size_t path, fe_band band, bool directional, fe_radio_result *best),
     (plan, path, band, directional, best))
CALL(fe_radio_build,
     (const fe_plan *plan, const fe_radio_result *radio, fe_radio_build_part *parts,
      size_t *count),
     (plan, radio, parts, count))
CALL(fe_radio_hop,
     (const fe_plan *plan, size_t path, const fe_gear *const gear[2], fe_band band,
      fe_hop **hop),
     (plan, path, gear, band, hop))
CALL(fe_radio_link,
     (const fe_plan *plan, size_t path, const fe_gear *const gear[2], fe_band band,
      fe_radio_result *radio),
     (plan, path, gear, band, radio))
CALL(fe_rain_path_loss,
     (const fe_rain_wave *wave, double distance_m, double rain_001_m_s, double share,
      fe_rain_path *result),
     (wave, distance_m, rain_001_m_s, share, result))
CALL(fe_receiver_threshold,
     (double sensitivity_dbm, double width_hz, double outside_dbm, double bonus_db,
      double *threshold_dbm),
     (sensitivity_dbm, width_hz, outside_dbm, bonus_db, threshold_dbm))
CALL(fe_relay_choose, (const fe_relay_question *question, fe_relay_choice *choice),
     (question, choice))
CALL(fe_relay_places,
     (const fe_plan *plan, size_t path, double step_m, fe_relay_spot **places, size_t *count),
     (plan, path, step_m, places, count))
CALL(fe_relay_search,
     (const fe_relay_site *site, unsigned most, fe_relay_way *ways, size_t *count,
      unsigned *looked_at),
     (site, most, ways, count, looked_at))
CALL(fe_report_posts_chart,
     (const fe_posts_result *result, fe_gnuplot *gnuplot, fe_units units, fe_document *doc),
     (result, gnuplot, units, doc))
CALL(fe_report_posts_section,
     (const fe_posts_result *result, const char *id, const char *title, fe_gnuplot *gnuplot,
      fe_units units, fe_document *doc),
     (result, id, title, gnuplot, units, doc))
CALL(fe_report_power_figure,
     (const fe_supply_entry *const *entries, size_t count, fe_units units, fe_figure *figure),
     (entries, count, units, figure))
CALL(fe_route_assess,
     (const fe_route_input *input, const fe_route *route, const fe_posts_material *material,
      const fe_route_change *change, fe_route_check *check),
     (input, route, material, change, check))
CALL(fe_route_closest,
     (const fe_route_input *input, size_t post_count, fe_route *route, fe_route_use *worst),
     (input, post_count, route, worst))
CALL(fe_route_search, (const fe_route_input *input, fe_route *route), (input, route))
CALL(fe_run_compute, (const fe_run_input *input, fe_run *run), (input, run))
CALL(fe_run_height,
     (const fe_run_span *span, const fe_run_state *state, double first_height_m, double x_m,
      double *height_m),
     (span, state, first_height_m, x_m, height_m))
CALL(fe_season_ground, (const fe_season *season, const fe_profile *bare, fe_profile *ground),
     (season, bare, ground))
CALL(fe_sensitivity_compute, (const fe_result *result, fe_sensitivity *sensitivity),
     (result, sensitivity))
CALL(fe_slab_loss,
     (const fe_material *material, double thickness_m, const fe_incidence *wave,
      double *transmission_loss_db, double *reflection_loss_db),
     (material, thickness_m, wave, transmission_loss_db, reflection_loss_db))
CALL(fe_solar_for_gear, (const fe_plan *plan, const fe_gear *gear, fe_solar *solar),
     (plan, gear, solar))
CALL(fe_solar_from_plan, (const fe_plan *plan, size_t path, fe_solar *solar),
     (plan, path, solar))
CALL(fe_span_at_excess,
     (const fe_span *span, double unstretched_excess_m, fe_span_shape *shape),
     (span, unstretched_excess_m, shape))
CALL(fe_span_at_sag, (const fe_span *span, double sag_m, fe_span_shape *shape),
     (span, sag_m, shape))
CALL(fe_span_at_tension, (const fe_span *span, double tension_n, fe_span_shape *shape),
     (span, tension_n, shape))
CALL(fe_span_drop, (const fe_span_shape *shape, double x_m, double *drop_m),
     (shape, x_m, drop_m))
CALL(fe_span_height, (const fe_span_shape *shape, double x_m, double *height_m),
     (shape, x_m, height_m))
CALL(fe_span_resultant,
     (const fe_span *bare, double vertical_n_m, double wind_n_m, fe_span *plane,
      double *blowout_rad),
     (bare, vertical_n_m, wind_n_m, plane, blowout_rad))
CALL(fe_span_wave_time, (double sag_m, unsigned returns, double *time_s),
     (sag_m, returns, time_s))
CALL(fe_spherical_earth_loss,
     (double d_m, double h1_m, double h2_m, const fe_diffraction_wave *wave,
      fe_spherical_earth *result),
     (d_m, h1_m, h2_m, wave, result))
CALL(fe_spread_add, (const fe_spread *a, const fe_spread *b, fe_spread *sum), (a, b, sum))
CALL(fe_spread_aim,
     (double across_share, double upward_share, double floor_db, fe_spread *spread),
     (across_share, upward_share, floor_db, spread))
CALL(fe_spread_exact, (double loss_db, fe_spread *spread), (loss_db, spread))
CALL(fe_spread_half_normal, (double sigma_db, fe_spread *spread), (sigma_db, spread))
CALL(fe_spread_normal, (double mean_db, double sigma_db, fe_spread *spread),
     (mean_db, sigma_db, spread))
CALL(fe_standing_counted, (const fe_hop *hop, fe_profile *counted), (hop, counted))
CALL(fe_standing_list, (const fe_hop *hop, fe_standing *list, size_t room, size_t *count),
     (hop, list, room, count))
CALL(fe_street_site_general,
     (const fe_street_law *law, double f_hz, double distance_m, fe_street_loss *result),
     (law, f_hz, distance_m, result))
CALL(fe_strike_rate,
     (double length_m, double density_per_m2_s, double line_factor, double *direct_per_s,
      double *nearby_per_s),
     (length_m, density_per_m2_s, line_factor, direct_per_s, nearby_per_s))
CALL(fe_supply_add,
     (fe_supply_entry * entry, const fe_supply_load *load, const fe_supply_origin *origin),
     (entry, load, origin))
CALL(fe_supply_from_plan,
     (const fe_plan *plan, size_t path, const fe_plan_source *source, double length_m,
      fe_supply_entry *entry),
     (plan, path, source, length_m, entry))
CALL(fe_supply_over_pairs, (const fe_plan *plan, size_t path, fe_pairs_need *need),
     (plan, path, need))
CALL(fe_supply_solve, (fe_supply_entry * entry), (entry))
CALL(fe_supply_try,
     (const fe_supply_case *given, const fe_conductor *conductor, fe_supply_size *size),
     (given, conductor, size))
CALL(fe_surface_permittivity, (fe_surface surface, double f_hz, fe_permittivity *result),
     (surface, f_hz, result))
CALL(fe_tension_change,
     (double span_m, double rise_m, const fe_tension_cable *cable, const fe_tension_state *from,
      double tension_from_n, const fe_tension_state *to, double *tension_to_n,
      fe_span_shape *shape),
     (span_m, rise_m, cable, from, tension_from_n, to, tension_to_n, shape))
CALL(fe_tension_change_free,
     (const double *spans_m, const double *rises_m, size_t count, const fe_tension_cable *cable,
      const fe_tension_state *from, double tension_from_n, const fe_tension_state *to,
      double *tension_to_n),
     (spans_m, rises_m, count, cable, from, tension_from_n, to, tension_to_n))
CALL(fe_tension_post_compliance,
     (double height_m, double bending_stiffness_n_m2, double ground_n_m_rad, double creep,
      double *compliance_m_n),
     (height_m, bending_stiffness_n_m2, ground_n_m_rad, creep, compliance_m_n))
CALL(fe_tension_ruling_span, (const double *spans_m, size_t count, double *ruling_span_m),
     (spans_m, count, ruling_span_m))
CALL(fe_textfile_read, (const char *path, char **text, size_t *length), (path, text, length))
CALL(fe_wall_loss,
     (const char *kind, double thickness_m, const fe_incidence *wave, fe_wall_result *result),
     (kind, thickness_m, wave, result))
CALL(fe_wind_pressure, (double speed_m_s, double *pressure_pa), (speed_m_s, pressure_pa))
CALL(fe_wood_class, (const char *class_name, double *bending_pa, double *elasticity_pa),
     (class_name, bending_pa, elasticity_pa))
CALL(fe_wood_pole_stress, (const char *species, double *stress_pa), (species, stress_pa))
CALL(fe_woodland_loss, (double depth_m, double gamma_db_per_m, double a_m_db, double *loss_db),
     (depth_m, gamma_db_per_m, a_m_db, loss_db))
CALL(fe_woodland_most, (fe_woodland wood, double f_hz, double *a_m_db), (wood, f_hz, a_m_db))
CALL(fe_woodland_specific, (double f_hz, double *gamma_db_per_m), (f_hz, gamma_db_per_m))
CALL(figure_end, (fe_figure * figure), (figure))
CALL(hop_cosine_quantile, (double mean_rad, double sigma_rad, double chance, double *cosine),
     (mean_rad, sigma_rad, chance, cosine))
CALL(hop_fade,
     (const fe_hop *hop, const fe_season *season, double distance_m, double k_db,
      double availability, double *fade_db),
     (hop, season, distance_m, k_db, availability, fade_db))
CALL(hop_wood_loss, (double f_hz, double depth_m, double factor, double *loss_db),
     (f_hz, depth_m, factor, loss_db))
CALL(pairs_rounds_compute, (const pairs_earth *earth, pairs_rounds *rounds), (earth, rounds))
CALL(posts_find_what_would_do, (fe_posts_result * r, bool stays), (r, stays))
CALL(posts_make_stringing, (fe_posts_result * r), (r))
CALL(posts_search, (fe_posts_result * r), (r))
CALL(posts_show_closest, (fe_posts_result * r), (r))
CALL(relay_table_make, (relay_table * s), (s))
CALL(relay_table_shift, (const relay_table *s, hop_class class, double airtime, double *db),
     (s, class, airtime, db))
CALL(root_between,
     (root_function function, void *constants, double low, double high, root_width width,
      double *root),
     (function, constants, low, high, width, root))
CALL(route_heights_make, (route_kernel * kernel), (kernel))
CALL(route_kernel_make, (const fe_route_input *input, route_kernel *kernel), (input, kernel))
CALL(route_kernel_string, (route_kernel * kernel, double stringing_n), (kernel, stringing_n))
CALL(route_line_make, (const fe_route_input *input, route_line *line), (input, line))
CALL(route_pulls_make, (route_kernel * kernel), (kernel))
CALL(run_hang,
     (const fe_run_input *input, const run_piece *piece, double now_m, const fe_run_case *load,
      double lasting, run_hung *hung),
     (input, piece, now_m, load, lasting, hung))
CALL(run_lasting,
     (const fe_run_input *input, const run_piece *piece, double stringing_n,
      const fe_run_case *cases, size_t case_count, double *lasting),
     (input, piece, stringing_n, cases, case_count, lasting))
CALL(supply_add_end, (const fe_plan *plan, size_t path, fe_supply_entry *entry),
     (plan, path, entry))
CALL(supply_add_gear,
     (const fe_gear *gear, double at_m, const char *what, fe_supply_entry *entry),
     (gear, at_m, what, entry))
CALL(supply_add_loads, (const fe_plan *plan, size_t path, fe_supply_entry *entry),
     (plan, path, entry))
CALL(supply_add_spare, (const fe_plan *plan, fe_supply_entry *entry), (plan, entry))
CALL(wired_root_between,
     (wired_function function, void *context, double low, double high, double *root),
     (function, context, low, high, root))
CALL(wired_root_near,
     (wired_function function, void *context, double guess, double least, double most,
      double *root),
     (function, context, guess, least, most, root))
CALL(wired_root_of_cubic, (double k, double m, double *root), (k, m, root))
