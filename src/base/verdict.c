/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/verdict.h"

const char *fe_verdict_name(fe_verdict verdict)
{
    static const char *const NAMES[] = {"holds", "tight", "fails"};
    return NAMES[verdict];
}

fe_verdict fe_verdict_worse(fe_verdict a, fe_verdict b)
{
    return a > b ? a : b;
}

fe_verdict fe_verdict_of_use(double used, double limit)
{
    static const double TIGHT_SHARE = 0.9;
    /* "Not within" rather than "beyond", so that NaN fails. */
    if (!(used <= limit))
        return FE_VERDICT_FAILS;
    return used >= TIGHT_SHARE * limit ? FE_VERDICT_TIGHT : FE_VERDICT_HOLDS;
}
