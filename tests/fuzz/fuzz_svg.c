/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The clean-up of what gnuplot draws: nothing that acts may come through. */
#include <stdlib.h>
#include <string.h>

#include "farend/gnuplot.h"
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const char *const NEVER[] = {"<script", "<foreignObject", "<a ", "<!",
                                        "<?",      "<image",         "<set"};
    char *const raw = fuzz_text(data, size);
    fe_strbuf out = FE_STRBUF_INIT;
    if (fe_gnuplot_clean_svg(raw, "f", &out) == FE_OK) {
        const char *const text = fe_strbuf_text(&out);
        for (size_t i = 0; i < sizeof NEVER / sizeof NEVER[0]; i++)
            FUZZ_CLAIM(!strstr(text, NEVER[i]));
        /* Its own dark colours are the only style sheet. */
        const char *const style = strstr(text, "<style");
        FUZZ_CLAIM(!style || !strstr(style + 1, "<style"));
    }
    fe_strbuf_free(&out);
    free(raw);
    return 0;
}
