/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/wall.h"

#include <complex.h>
#include <math.h>
#include <stdbool.h>

#include "base/argument.h"
#include "base/name.h"
#include "farend/constants.h"

/* ITU-R P.2040-3/-4 Table 3: eps = a f^b, sigma = c f^d S/m, f in GHz. Edition -1 had other
 * figures for concrete, brick, plasterboard, glass and ceiling board. */
static const fe_material MATERIALS[] = {
    /* name               a      b     c        d       from   to GHz */
    {"vacuum", 1.0, 0.0, 0.0, 0.0, 0.001, 100.0},
    {"concrete", 5.24, 0.0, 0.0462, 0.7822, 1.0, 100.0},
    {"brick", 3.91, 0.0, 0.0238, 0.16, 1.0, 40.0},
    {"plasterboard", 2.73, 0.0, 0.0085, 0.9395, 1.0, 100.0},
    {"wood", 1.99, 0.0, 0.0047, 1.0718, 0.001, 100.0},
    {"glass", 6.31, 0.0, 0.0036, 1.3394, 0.1, 100.0},
    {"glass_high", 5.79, 0.0, 0.0004, 1.658, 220.0, 450.0},
    {"ceiling_board", 1.48, 0.0, 0.0011, 1.075, 1.0, 100.0},
    {"ceiling_board_high", 1.52, 0.0, 0.0029, 1.029, 220.0, 450.0},
    {"chipboard", 2.58, 0.0, 0.0217, 0.78, 1.0, 100.0},
    {"plywood", 2.71, 0.0, 0.33, 0.0, 1.0, 40.0},
    {"marble", 7.074, 0.0, 0.0055, 0.9262, 1.0, 60.0},
    {"floorboard", 3.66, 0.0, 0.0044, 1.3515, 50.0, 100.0},
    {"metal", 1.0, 0.0, 1e7, 0.0, 1.0, 100.0},
    {"very_dry_ground", 3.0, 0.0, 0.00015, 2.52, 1.0, 10.0},
    {"medium_dry_ground", 15.0, -0.1, 0.035, 1.63, 1.0, 10.0},
    {"wet_ground", 30.0, -0.4, 0.15, 1.3, 1.0, 10.0},
};
enum { MATERIAL_COUNT = sizeof MATERIALS / sizeof *MATERIALS };

/*
 * Kinds of wall. Thicknesses and leaks: common practice, no source. Insulation of fibre or foam
 * is taken as air (vacuum row), which it nearly is at these frequencies. Stone and block stand
 * in by the nearest row of P.2040 (marble, concrete).
 */
#define COATING                                                                                \
    {                                                                                          \
        "metal", 15e-9                                                                         \
    } /* low-emissivity film, about 7 ohm a square */
#define NONE INFINITY
static const fe_wall_kind KINDS[] = {
    /* name, also, layers with thickness in m, count, the one that grows, leak in dB */
    {"brick", "single brick", {{"brick", 0.110}}, 1, 0, NONE},
    {"cavity brick",
     "double brick",
     {{"brick", 0.110}, {"vacuum", 0.050}, {"brick", 0.110}},
     3,
     1,
     NONE},
    {"concrete", "concrete wall", {{"concrete", 0.150}}, 1, 0, NONE},
    {"concrete block", "block", {{"concrete", 0.100}}, 1, 0, NONE},
    {"stone", "marble", {{"marble", 0.400}}, 1, 0, NONE},
    {"timber", "wood", {{"wood", 0.020}}, 1, 0, NONE},
    {"log", "logs", {{"wood", 0.150}}, 1, 0, NONE},
    {"plywood", NULL, {{"plywood", 0.012}}, 1, 0, NONE},
    {"chipboard", "particle board", {{"chipboard", 0.018}}, 1, 0, NONE},
    {"plasterboard", "drywall", {{"plasterboard", 0.0125}}, 1, 0, NONE},
    {"plasterboard stud",
     "stud wall",
     {{"plasterboard", 0.0125}, {"vacuum", 0.075}, {"plasterboard", 0.0125}},
     3,
     1,
     NONE},
    {"insulated timber",
     "timber frame",
     {{"wood", 0.020}, {"vacuum", 0.100}, {"chipboard", 0.012}, {"plasterboard", 0.0125}},
     4,
     1,
     NONE},
    {"foil insulated timber",
     "foil insulation",
     {{"wood", 0.020}, {"metal", 7e-6}, {"vacuum", 0.100}, {"plasterboard", 0.0125}},
     4,
     2,
     25.0},
    {"ceiling board", "ceiling", {{"ceiling_board", 0.020}}, 1, 0, NONE},
    {"glass", "single glazing", {{"glass", 0.004}}, 1, 0, NONE},
    {"double glazing",
     NULL,
     {{"glass", 0.004}, {"vacuum", 0.016}, {"glass", 0.004}},
     3,
     1,
     NONE},
    {"triple glazing",
     NULL,
     {{"glass", 0.004},
      {"vacuum", 0.012},
      {"glass", 0.004},
      {"vacuum", 0.012},
      {"glass", 0.004}},
     5,
     1,
     NONE},
    {"coated glazing",
     "coated double glazing",
     {{"glass", 0.004}, {"vacuum", 0.016}, COATING, {"glass", 0.004}},
     4,
     1,
     NONE},
    {"coated triple glazing",
     NULL,
     {{"glass", 0.004},
      COATING,
      {"vacuum", 0.012},
      {"glass", 0.004},
      {"vacuum", 0.012},
      COATING,
      {"glass", 0.004}},
     7,
     2,
     40.0},
    {"metal sheet", "metal", {{"metal", 0.0007}}, 1, 0, 35.0},
    {"metal sandwich panel",
     "sandwich panel",
     {{"metal", 0.0006}, {"vacuum", 0.080}, {"metal", 0.0006}},
     3,
     1,
     35.0},
};
enum { KIND_COUNT = sizeof KINDS / sizeof *KINDS };

/* Share of the thickness by which a wall may differ from what its owner says. */
static const double THICKNESS_SPREAD = 0.10;
enum { SPREAD_STEPS = 20 };

const fe_material *fe_material_table(size_t *count)
{
    *count = MATERIAL_COUNT;
    return MATERIALS;
}

const fe_material *fe_material_find(const char *name)
{
    for (size_t i = 0; i < MATERIAL_COUNT; i++)
        if (name_same(name, MATERIALS[i].name))
            return &MATERIALS[i];
    return NULL;
}

fe_status fe_material_constants(const fe_material *material, double f_hz, double *permittivity,
                                double *conductivity_s_m)
{
    if (!material || !is_positive(f_hz))
        return FE_E_DOMAIN;
    const double f_ghz = f_hz / 1e9;
    *permittivity = material->a * pow(f_ghz, material->b);
    *conductivity_s_m = material->c * pow(f_ghz, material->d);
    return f_ghz < material->f_low_ghz || f_ghz > material->f_high_ghz ? FE_W_RANGE : FE_OK;
}

/* A layer as the recursion needs it. */
typedef struct medium {
    double complex eta;   /* complex relative permittivity */
    double complex root;  /* sqrt(eta - sin^2 incidence): the wave's number across the layer */
    double complex phase; /* q, the electrical thickness; its loss is in the imaginary part */
} medium;

static medium air(double incidence_rad)
{
    return (medium){1.0, cos(incidence_rad), 0.0};
}

static fe_status layer_medium(const fe_material *material, double thickness_m,
                              const fe_incidence *wave, medium *layer)
{
    double permittivity = 0.0;
    double conductivity_s_m = 0.0;
    if (!is_positive(thickness_m))
        return FE_E_DOMAIN;
    const fe_status status =
        fe_material_constants(material, wave->f_hz, &permittivity, &conductivity_s_m);
    if (status < 0)
        return status;
    const double sine = sin(wave->incidence_rad);
    /* 17.98 is the Recommendation's rounding of 1/(2 pi eps0) for GHz; the published cases use
     * it. */
    layer->eta = permittivity - I * (17.98 * conductivity_s_m / (wave->f_hz / 1e9));
    layer->root = csqrt(layer->eta - sine * sine);
    layer->phase = 2.0 * FE_PI * thickness_m * wave->f_hz / FE_SPEED_OF_LIGHT_M_S * layer->root;
    return status;
}

static bool is_wave(const fe_incidence *wave)
{
    return is_positive(wave->f_hz) && wave->incidence_rad >= 0.0 &&
           wave->incidence_rad < FE_PI / 2.0 &&
           (wave->polarisation == FE_POLARISATION_TE ||
            wave->polarisation == FE_POLARISATION_TM);
}

/* -20 log of an amplitude. */
static double loss_of(double complex amplitude)
{
    return -20.0 * log10(cabs(amplitude));
}

/* Loss of the way once through a layer, kept out of the exponential so that it cannot
 * underflow. */
static double absorbed_db(double complex phase)
{
    return -cimag(phase) * 20.0 / log(10.0);
}

fe_status fe_slab_loss(const fe_material *material, double thickness_m,
                       const fe_incidence *wave, double *transmission_loss_db,
                       double *reflection_loss_db)
{
    medium slab;
    if (!is_wave(wave))
        return FE_E_DOMAIN;
    const fe_status status = layer_medium(material, thickness_m, wave, &slab);
    if (status < 0)
        return status;
    const double complex outside = wave->polarisation == FE_POLARISATION_TE
                                       ? cos(wave->incidence_rad)
                                       : slab.eta * cos(wave->incidence_rad);
    const double complex face = (outside - slab.root) / (outside + slab.root);
    /* 1 - face^2, without the cancellation that a metal surface would bring. */
    const double complex through =
        4.0 * outside * slab.root / ((outside + slab.root) * (outside + slab.root));
    const double complex round_trip = cexp(-2.0 * I * slab.phase);
    const double complex multiple = 1.0 - face * face * round_trip;
    if (transmission_loss_db)
        *transmission_loss_db = loss_of(through / multiple) + absorbed_db(slab.phase);
    if (reflection_loss_db)
        *reflection_loss_db = loss_of(face * (1.0 - round_trip) / multiple);
    return status;
}

/* Weights with which two media meet at a face: equal weights reflect nothing. */
static void face_weights(const medium *before, const medium *after,
                         fe_polarisation polarisation, double complex *near,
                         double complex *far)
{
    const bool te = polarisation == FE_POLARISATION_TE;
    *near = te ? before->root : after->eta * before->root;
    *far = te ? after->root : before->eta * after->root;
}

static fe_status make_media(const fe_wall_layer *layers, size_t count, const fe_incidence *wave,
                            medium *media)
{
    fe_status worst = FE_OK;
    for (size_t i = 0; i < count; i++) {
        const fe_status status = layer_medium(fe_material_find(layers[i].material),
                                              layers[i].thickness_m, wave, &media[i]);
        worst = fe_status_worse(worst, status);
    }
    return worst;
}

fe_status fe_layers_loss(const fe_wall_layer *layers, size_t count, const fe_incidence *wave,
                         double *transmission_loss_db, double *reflection_loss_db)
{
    medium media[FE_WALL_LAYERS_MAX];
    if (count == 0 || count > FE_WALL_LAYERS_MAX || !is_wave(wave))
        return FE_E_DOMAIN;
    const fe_status status = make_media(layers, count, wave, media);
    if (status < 0)
        return status;

    const medium outside = air(wave->incidence_rad);
    double complex seen = 0.0; /* reflection seen from the layer before, at its far face */
    double loss_db = 0.0;
    for (size_t face = count + 1; face-- > 0;) {
        const medium *before = face == 0 ? &outside : &media[face - 1];
        const medium *after = face == count ? &outside : &media[face];
        double complex near = 0.0;
        double complex far = 0.0;
        face_weights(before, after, wave->polarisation, &near, &far);
        const double complex own = (near - far) / (near + far);
        const double complex behind = seen * cexp(-2.0 * I * after->phase);
        const double complex multiple = 1.0 + own * behind;
        /* For TM the field also changes by sqrt(eta after / eta before), which cancels from air
         * to air. */
        loss_db += loss_of(2.0 * near / (near + far) / multiple) + absorbed_db(after->phase);
        if (wave->polarisation == FE_POLARISATION_TM)
            loss_db += loss_of(before->eta / after->eta);
        seen = (own + behind) / multiple;
    }
    if (transmission_loss_db)
        *transmission_loss_db = loss_db;
    if (reflection_loss_db)
        *reflection_loss_db = loss_of(seen);
    return status;
}

fe_status fe_aperture_loss(const fe_aperture *apertures, size_t count, double *loss_db)
{
    double share = 0.0;
    double power = 0.0;
    for (size_t i = 0; i < count; i++) {
        const fe_aperture *part = &apertures[i];
        if (!(part->share >= 0.0 && part->share <= 1.0) || isnan(part->loss_db))
            return FE_E_DOMAIN;
        share += part->share;
        power += part->share * pow(10.0, -part->loss_db / 10.0);
    }
    if (!(share > 0.0))
        return FE_E_DOMAIN;
    *loss_db = -10.0 * log10(power);
    return fabs(share - 1.0) > 0.01 ? FE_W_RANGE : FE_OK;
}

const fe_wall_kind *fe_wall_kind_table(size_t *count)
{
    *count = KIND_COUNT;
    return KINDS;
}

const fe_wall_kind *fe_wall_kind_find(const char *name)
{
    for (size_t i = 0; i < KIND_COUNT; i++)
        if (name_same(name, KINDS[i].name) || name_same(name, KINDS[i].also))
            return &KINDS[i];
    return NULL;
}

double fe_wall_kind_thickness_m(const fe_wall_kind *kind)
{
    double thickness_m = 0.0;
    for (size_t i = 0; i < kind->layer_count; i++)
        thickness_m += kind->layers[i].thickness_m;
    return thickness_m;
}

/* Loss with the growing layer made `extra_m` thicker, the leak beside it. */
static fe_status kind_loss(const fe_wall_kind *kind, double extra_m, const fe_incidence *wave,
                           double *loss_db)
{
    fe_wall_layer layers[FE_WALL_LAYERS_MAX];
    double through_db = 0.0;
    for (size_t i = 0; i < kind->layer_count; i++)
        layers[i] = kind->layers[i];
    layers[kind->grows].thickness_m += extra_m;
    const fe_status status = fe_layers_loss(layers, kind->layer_count, wave, &through_db, NULL);
    if (status < 0)
        return status;
    /* From the lesser of both on, so that what is very thick still has a loss. */
    const double least_db = fmin(through_db, kind->leak_loss_db);
    *loss_db = least_db - 10.0 * log10(pow(10.0, (least_db - through_db) / 10.0) +
                                       pow(10.0, (least_db - kind->leak_loss_db) / 10.0));
    return status;
}

/* Extra thickness at a step of the spread; the growing layer never falls below half of itself.
 */
static double spread_extra_m(const fe_wall_kind *kind, double extra_m, double total_m, int step)
{
    const double own_m = kind->layers[kind->grows].thickness_m + extra_m;
    const double wanted_m = THICKNESS_SPREAD * total_m * (2.0 * step / SPREAD_STEPS - 1.0);
    return extra_m + fmax(wanted_m, -0.5 * own_m);
}

fe_status fe_wall_loss(const char *kind_name, double thickness_m, const fe_incidence *wave,
                       fe_wall_result *result)
{
    const fe_wall_kind *kind = fe_wall_kind_find(kind_name);
    if (!kind || (!isnan(thickness_m) && !(thickness_m > 0.0)) || isinf(thickness_m))
        return FE_E_DOMAIN;
    const double usual_m = fe_wall_kind_thickness_m(kind);
    const double total_m = isnan(thickness_m) ? usual_m : thickness_m;
    const double extra_m = total_m - usual_m;

    fe_wall_result found = {.thickness_m = total_m};
    const fe_status status = kind_loss(kind, extra_m, wave, &found.loss_db);
    if (status < 0)
        return status;
    found.low_db = found.loss_db;
    found.high_db = found.loss_db;
    for (int step = 0; step <= SPREAD_STEPS; step++) {
        double loss_db = 0.0;
        const double step_extra_m = spread_extra_m(kind, extra_m, total_m, step);
        if (kind_loss(kind, step_extra_m, wave, &loss_db) < 0)
            continue;
        found.low_db = fmin(found.low_db, loss_db);
        found.high_db = fmax(found.high_db, loss_db);
    }
    *result = found;
    return status;
}
