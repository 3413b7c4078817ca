/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/free_space.h"

#include <math.h>

#include "base/argument.h"
#include "farend/constants.h"

fe_status fe_free_space_loss(double d_m, double f_hz, double *loss_db)
{
    if (!is_positive(d_m) || !is_positive(f_hz))
        return FE_E_DOMAIN;

    const double wavelengths = d_m * f_hz / FE_SPEED_OF_LIGHT_M_S;
    *loss_db = 20.0 * log10(4.0 * FE_PI * wavelengths);
    return wavelengths < 1.0 ? FE_W_RANGE : FE_OK;
}
