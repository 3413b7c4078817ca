/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_JSON_TEXT_H
#define FAREND_JSON_TEXT_H

#include <stddef.h>

#include "farend/status.h"
#include "farend/strbuf.h"

struct json_t;

/*
 * A JSON object or list as text with a line end behind it, added to what the buffer holds;
 * `flags` as of json_dumps. Null stands for a value that memory did not suffice for.
 *
 * FE_OK, FE_E_MEMORY
 */
FE_MUST_CHECK fe_status fe_json_text(const struct json_t *value, size_t flags, fe_strbuf *out);

#endif
