/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/outlook.h"

#include <stdlib.h>

fe_status fe_outlook_add(fe_result *result)
{
    fe_outlook *outlook = calloc(1, sizeof *outlook);
    if (!outlook)
        return FE_E_MEMORY;
    fe_status status = fe_sensitivity_compute(result, &outlook->sensitivity);
    if (status >= 0)
        status = fe_growth_of(result, &outlook->growth);
    fe_recovery_of(result, &outlook->recovery);
    fe_calendar_of(result, &outlook->calendar);
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
    fe_growth_free(&outlook->growth);
    free(outlook);
}
