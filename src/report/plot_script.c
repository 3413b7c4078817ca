/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>

#include "farend/gnuplot.h"
#include "farend/program.h"
#include "farend/textfile.h"

enum { PATH_ROOM = 4096 };

/* CMake names the folders; without them (another build) only FAREND_PLOTS serves. */
#ifndef FAREND_DATA_DIR
#define FAREND_DATA_DIR ""
#endif
#ifndef FAREND_DATA_FROM_PROGRAM
#define FAREND_DATA_FROM_PROGRAM "../share/farend"
#endif
#ifndef FAREND_SOURCE_PLOTS
#define FAREND_SOURCE_PLOTS ""
#endif

fe_status fe_plot_script(const char *name, char **text)
{
    char installed[PATH_ROOM] = "";
    if (!fe_program_path(FAREND_DATA_FROM_PROGRAM "/plots", installed, sizeof installed))
        installed[0] = '\0';
    const char *const folders[] = {getenv("FAREND_PLOTS"), installed, FAREND_DATA_DIR "/plots",
                                   FAREND_SOURCE_PLOTS};
    fe_status status = FE_E_IO;
    for (size_t i = 0; i < sizeof folders / sizeof folders[0] && status == FE_E_IO; i++) {
        fe_strbuf path = FE_STRBUF_INIT;
        size_t length = 0;
        if (!folders[i] || !folders[i][0])
            continue;
        fe_strbuf_format(&path, "%s/%s.gp", folders[i], name);
        status = path.failed ? FE_E_MEMORY : fe_textfile_read(path.text, text, &length);
        fe_strbuf_free(&path);
    }
    return status;
}
