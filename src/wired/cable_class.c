/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/cable_class.h"

#include <stdlib.h>

void fe_cable_class_free(fe_cable_class *cable)
{
    for (size_t i = 0; i < cable->source_count; i++)
        free(cable->sources[i]);
    free(cable->sources);
    free(cable->summary);
    *cable = (fe_cable_class){0};
}
