/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_RECEIVER_H
#define FAREND_RECEIVER_H

#include "farend/gear.h"
#include "farend/hop.h"
#include "farend/status.h"

/*
 * What a receiver needs at its antenna socket, and what of the rate on the air reaches the
 * user.
 */

/*
 * Power from outside in a channel of 20 MHz: neighbours' networks, cordless things, motors.
 * Decodable neighbours cost air time instead and are not in here.
 * Source: common practice, no source.
 */
double fe_receiver_noise_dbm(fe_band band, fe_noise noise);

/*
 * Weakest signal at which a mode still works.
 *
 *   sensitivity_dbm   least sensitivity of the standard for the mode and width
 *   width_hz          channel width, > 0
 *   outside_dbm       noise from outside within that width, -INFINITY for none
 *   bonus_db          by how much this receiver beats the standard's least, >= 0
 *   threshold_dbm     result; untouched on error
 *
 * The standard's least sensitivity allows 10 dB of noise figure and 5 dB of implementation over
 * thermal noise, so its own noise floor is -86 dBm in 20 MHz; the signal-to-noise ratio that
 * the mode needs follows, and outside noise adds to that floor (equal to it: 3 dB).
 *
 * FE_OK, FE_E_DOMAIN
 * Source: the notes under IEEE 802.11-2016 17.3.10.2 (10 and 5 dB, from memory).
 */
FE_MUST_CHECK fe_status fe_receiver_threshold(double sensitivity_dbm, double width_hz,
                                              double outside_dbm, double bonus_db,
                                              double *threshold_dbm);

/*
 * Share of the rate on the air that carries the user's data in one direction, when the channel
 * is free: headers, acknowledgements, waiting, and the traffic that answers.
 * Source: common practice, no source.
 */
double fe_receiver_efficiency(const char *standard);

#endif
