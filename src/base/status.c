/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/status.h"

#include <gsl/gsl_errno.h>

const char *fe_status_text(fe_status status)
{
    switch (status) {
    case FE_OK:
        return "good";
    case FE_W_RANGE:
        return "outside the range the model was stated for";
    case FE_E_DOMAIN:
        return "an argument is outside what the formula accepts";
    case FE_E_NO_SOLUTION:
        return "the problem has no solution";
    case FE_E_CONVERGE:
        return "the numerical method did not converge";
    case FE_E_MEMORY:
        return "out of memory";
    case FE_E_INPUT:
        return "the input has mistakes";
    case FE_E_IO:
        return "reading or writing failed";
    case FE_E_EXTERNAL:
        return "another program failed";
    }
    return "unknown status";
}

fe_status fe_status_worse(fe_status a, fe_status b)
{
    if (a < 0)
        return a;
    if (b < 0)
        return b;
    return a > b ? a : b;
}

void fe_init(void)
{
    gsl_set_error_handler_off();
}
