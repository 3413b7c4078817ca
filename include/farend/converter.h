/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_CONVERTER_H
#define FAREND_CONVERTER_H

#include <stdbool.h>

#include "farend/status.h"

/*
 * What a converter or power adapter costs: the least efficiency that the rule for external
 * power supplies lets be sold. Many do better, hardly any worse.
 *
 *   power_w     that leaves it, > 0
 *   efficiency  result, above 0 to 1; untouched on error
 *
 * FE_OK; FE_E_DOMAIN where the power is not finite or not above zero.
 * Range: the rule is for adapters fed from AC; DC-to-DC converters and inverters are taken to
 * be no better (common practice, no source).
 * Source: 10 CFR 430.32(w), basic voltage, single output (from memory).
 */
FE_MUST_CHECK fe_status fe_converter_efficiency(double power_w, double *efficiency);

/*
 * Lowest voltage at which a converter still starts. On AC that of adapters for 100 to 240 V
 * with a tenth below; on DC three quarters of the nominal source, as the usual input ranges
 * have it (9 V at 12, 18 at 24, 36 at 48). Common practice, no source.
 */
double fe_converter_least_v(double source_v, bool is_ac);

/* Power factor of an adapter: IEC 61000-3-2 asks for a correction from 75 W (figures: common
 * practice, no source). */
double fe_converter_power_factor(double power_w);

#endif
