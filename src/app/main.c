/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/status.h"

int main(void)
{
    fe_init();
    return 0;
}
