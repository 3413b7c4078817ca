/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "import/import.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cpl_conv.h>
#include <cpl_error.h>
#include <gdal.h>
#include <ogr_srs_api.h>

#include "farend/number.h"
#include "farend/status.h"

/* One line, whatever a file or GDAL put into it. */
static void print_plain(const char *text)
{
    for (; *text; text++)
        putchar((unsigned char)*text < ' ' || *text == 127 ? ' ' : *text);
}

void import_fact(const char *key, const char *value)
{
    printf("fact %s ", key);
    print_plain(value);
    putchar('\n');
}

void import_fact_number(const char *key, double value)
{
    char text[32];
    import_fact(key, fe_number_print(value, text, sizeof text));
}

int import_problem(const char *format, ...)
{
    char text[1024];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    printf("problem ");
    print_plain(text);
    if (CPLGetLastErrorType() >= CE_Failure && *CPLGetLastErrorMsg()) {
        printf(" (");
        print_plain(CPLGetLastErrorMsg());
        putchar(')');
    }
    putchar('\n');
    return IMPORT_BAD_INPUT;
}

/* What GDAL says goes into the problem, not onto the terminal. */
static void CPL_STDCALL keep_quiet(CPLErr kind, CPLErrorNum number, const char *text)
{
    (void)kind;
    (void)number;
    (void)text;
}

static int run(int argc, char **argv)
{
    if (argc > 1 && strcmp(argv[1], "sample") == 0)
        return import_sample(argc - 2, argv + 2);
    if (argc > 1 && strcmp(argv[1], "window") == 0)
        return import_window(argc - 2, argv + 2);
    if (argc > 1 && strcmp(argv[1], "paint") == 0)
        return import_paint(argc - 2, argv + 2);
    if (argc > 1 && strcmp(argv[1], "track") == 0)
        return import_track(argc - 2, argv + 2);
    fprintf(stderr, "farend-import: started by farend, not by hand\n");
    return IMPORT_FAILED;
}

int main(int argc, char **argv)
{
    fe_init();
    CPLSetErrorHandler(keep_quiet);
    /* A raster of gigabytes is read by window; this is all that GDAL keeps of it. */
    GDALSetCacheMax64(32 * 1024 * 1024);
    /* No side file is written beside what an owner keeps, and nothing is fetched. */
    CPLSetConfigOption("GDAL_PAM_ENABLED", "NO");
    CPLSetConfigOption("PROJ_NETWORK", "OFF");
    CPLSetConfigOption("GDAL_HTTP_TIMEOUT", "1");
    GDALAllRegister();
    printf("farend-import 1\n");
    int code = run(argc, argv);
    if (code == IMPORT_DONE)
        printf("end\n");
    GDALDestroyDriverManager();
    OSRCleanup();
    if (fflush(stdout) != 0)
        code = IMPORT_FAILED;
    return code;
}
