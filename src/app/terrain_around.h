/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_TERRAIN_AROUND_H
#define APP_TERRAIN_AROUND_H

#include "app/options.h"

/* `farend terrain --around PLAN`: the map of margin about one end; returns an exit code. */
int terrain_around(const char *who, const options *given);

#endif
