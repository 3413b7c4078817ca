/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ground, and perhaps what stands on it, along a geodesic. */
#include <math.h>
#include <string.h>

#include "farend/constants.h"
#include "farend/number.h"
#include "farend/profile.h"
#include "import/import.h"
#include "import/raster.h"

typedef struct sample_job {
    fe_position ends[2];
    fe_geodesic line;
    raster terrain;
    raster surface;
    bool has_surface;
    double step_m;
} sample_job;

static bool read_position(char **words, fe_position *at)
{
    double latitude_deg = 0.0;
    double longitude_deg = 0.0;
    if (!fe_number_parse(words[0], &latitude_deg) || !fe_number_parse(words[1], &longitude_deg))
        return false;
    *at = (fe_position){latitude_deg * FE_DEG_RAD, longitude_deg * FE_DEG_RAD};
    return true;
}

static void describe(const char *prefix, const raster *opened, double step_m)
{
    char key[64];
    const struct {
        const char *name;
        const char *value;
    } texts[] = {
        {"driver", GDALGetDriverShortName(GDALGetDatasetDriver(opened->dataset))},
        {"crs", opened->crs},
        {"vertical_unit", opened->vertical_unit},
        {"vertical_datum", opened->vertical_datum},
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        snprintf(key, sizeof key, "%s_%s", prefix, texts[i].name);
        import_fact(key, texts[i].value);
    }
    snprintf(key, sizeof key, "%s_step_m", prefix);
    import_fact_number(key, step_m);
}

static void print_height(const raster *from, const fe_position *at)
{
    double height_m = 0.0;
    const raster_answer answer = raster_height(from, at, &height_m);
    if (answer == RASTER_HEIGHT)
        printf(" %.6f", height_m);
    else
        printf(answer == RASTER_NODATA ? " nodata" : " outside");
}

static int print_rows(const sample_job *job)
{
    const double pieces = fmax(1.0, ceil(job->line.length_m / job->step_m - 1e-6));
    if (pieces >= FE_PROFILE_MOST_POINTS)
        return import_problem("%s: %.0f points along the path, more than %d; give ends that "
                              "are nearer",
                              job->terrain.path, pieces + 1.0, FE_PROFILE_MOST_POINTS);
    for (double i = 0.0; i <= pieces; i++) {
        const fe_geodesic reach = {job->line.length_m * i / pieces, job->line.azimuth_rad};
        fe_position at = job->ends[1];
        if (i < pieces && fe_geodesic_end(&job->ends[0], &reach, &at) < 0)
            return IMPORT_FAILED;
        printf("row %.6f", reach.length_m);
        print_height(&job->terrain, &at);
        if (job->has_surface)
            print_height(&job->surface, &at);
        putchar('\n');
    }
    return IMPORT_DONE;
}

static int sample(sample_job *job, char **argv)
{
    if (!raster_open(argv[0], argv[6], &job->terrain))
        return IMPORT_BAD_INPUT;
    job->has_surface = argv[5][0] != '\0';
    if (job->has_surface && !raster_open(argv[5], argv[6], &job->surface))
        return IMPORT_BAD_INPUT;
    if (job->has_surface && !raster_datums_agree(&job->terrain, &job->surface))
        return IMPORT_BAD_INPUT;
    const fe_geodesic half = {job->line.length_m / 2.0, job->line.azimuth_rad};
    fe_position middle;
    if (fe_geodesic_end(&job->ends[0], &half, &middle) < 0)
        return IMPORT_FAILED;
    if (!raster_step(&job->terrain, &middle, &job->step_m))
        return IMPORT_BAD_INPUT;
    describe("terrain", &job->terrain, job->step_m);
    if (job->has_surface) {
        double step_m = 0.0;
        if (!raster_step(&job->surface, &middle, &step_m))
            return IMPORT_BAD_INPUT;
        describe("surface", &job->surface, step_m);
    }
    import_fact_number("length_m", job->line.length_m);
    import_fact_number("bearing_rad", job->line.azimuth_rad);
    return print_rows(job);
}

int import_sample(int argc, char **argv)
{
    sample_job job = {0};
    if (argc != 7 || !read_position(argv + 1, &job.ends[0]) ||
        !read_position(argv + 3, &job.ends[1]))
        return IMPORT_FAILED;
    if (fe_geodesic_between(&job.ends[0], &job.ends[1], &job.line) < 0 ||
        !(job.line.length_m > 0.0))
        return import_problem("the two ends are no two places on one side of the earth");
    const int code = sample(&job, argv);
    raster_close(&job.terrain);
    raster_close(&job.surface);
    return code;
}
