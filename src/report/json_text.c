/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/json_text.h"

#include <jansson.h>

static int append_part(const char *text, size_t length, void *out)
{
    fe_strbuf_append_bytes(out, text, length);
    return fe_strbuf_status(out) < 0 ? -1 : 0;
}

/*
 * Not by json_dumps: it passes over a failure to write a key (Jansson 2.14), so a lack of
 * memory would drop the key. The buffer keeps its failure.
 */
fe_status fe_json_text(const json_t *value, size_t flags, fe_strbuf *out)
{
    if (json_dump_callback(value, append_part, out, flags) != 0)
        return FE_E_MEMORY;
    fe_strbuf_append_char(out, '\n');
    return fe_strbuf_status(out);
}
