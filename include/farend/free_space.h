/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_FREE_SPACE_H
#define FAREND_FREE_SPACE_H

#include "farend/status.h"

/*
 * Basic transmission loss of free space between isotropic antennas.
 *
 *   d_m      distance along the straight line, > 0
 *   f_hz     frequency, > 0
 *   loss_db  result, positive; untouched on error
 *
 * FE_OK
 * FE_W_RANGE   nearer than a wavelength: result set, but the far field has not begun
 * FE_E_DOMAIN  an argument is not finite or not above zero
 *
 * Source: ITU-R P.525-4 sec 2.2 eq 3, 20 log(4 pi d / lambda) with the exact speed of light.
 */
FE_MUST_CHECK fe_status fe_free_space_loss(double d_m, double f_hz, double *loss_db);

#endif
