/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/outlook.h"

#include <stdlib.h>

fe_status fe_outlook_add(fe_result *result)
{
    fe_outlook *outlook = calloc(1, sizeof *outlook);
    if (!outlook)
        return FE_E_MEMORY;
    const fe_status status = fe_sensitivity_compute(result, &outlook->sensitivity);
    if (status < 0) {
        fe_outlook_free(outlook);
        return status;
    }
    fe_outlook_free(result->outlook);
    result->outlook = outlook;
    return FE_OK;
}

void fe_outlook_free(fe_outlook *outlook)
{
    if (!outlook)
        return;
    fe_sensitivity_free(&outlook->sensitivity);
    free(outlook);
}
