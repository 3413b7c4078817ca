/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_REPORT_POWER_H
#define FAREND_REPORT_POWER_H

#include "farend/document.h"
#include "farend/figures.h"
#include "farend/plan.h"
#include "farend/solar_plan.h"
#include "farend/supply.h"

/*
 * The feed as parts of a document: verdicts, voltages, sizes, what to buy, cautions.
 *   plan   whose trench it is; null: none
 *   solar  battery and panel in its place; null: none
 */
void fe_report_power(fe_document *doc, const fe_supply_entry *const *entries, size_t count,
                     const fe_plan *plan, const fe_solar *solar);

/*
 * Voltage along the feed for the smallest conductor of each source voltage and the one before
 * it, as a figure. FE_E_DOMAIN where none delivers; FE_E_MEMORY.
 */
FE_MUST_CHECK fe_status fe_report_power_figure(const fe_supply_entry *const *entries,
                                               size_t count, fe_units units, fe_figure *figure);

/*
 * A list, one entry a source voltage, then battery and panel where there are any; SI, keys
 * ending in their units. FE_E_MEMORY.
 */
FE_MUST_CHECK fe_status fe_report_power_json(const fe_supply_entry *const *entries,
                                             size_t count, const fe_solar *solar,
                                             fe_strbuf *out);

#endif
