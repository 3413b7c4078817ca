/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_PLAN_SPECIAL_H
#define FAREND_PLAN_SPECIAL_H

#include "plan/keys.h"

/*
 * Keys whose text has a form of its own ("brick 110 mm", "40 GB in 8 h"). Each takes the entry
 * and the struct of its section, and returns false where the text is not of the form; the
 * caller then says so. The keys table names them.
 */
plan_special plan_special_bands;
plan_special plan_special_wall;
plan_special plan_special_position;
plan_special plan_special_transfer;
plan_special plan_special_places;
plan_special plan_special_own;
plan_special plan_special_climate_class;
plan_special plan_special_section;
plan_special plan_special_corner;
plan_special plan_special_over;
plan_special plan_special_beside;
plan_special plan_special_along;
plan_special plan_special_voltage;
plan_special plan_special_conductor;
plan_special plan_special_price;
plan_special plan_special_band;
plan_special plan_special_radio;
plan_special plan_special_gear_source;
plan_special plan_special_cable_source;
plan_special plan_special_mass;
plan_special plan_special_medium;
plan_special plan_special_category;

#endif
