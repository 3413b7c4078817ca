/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "calc.h"

const calc_formula CALC_MATERIAL[] = {
    {0},
};
