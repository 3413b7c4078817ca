/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/fibre.h"

#include <math.h>
#include <string.h>

#include "base/argument.h"
#include "base/count.h"

enum {
    LASER_GRADES = FE_FIBRE_OM3 | FE_FIBRE_OM4 | FE_FIBRE_OM5,
    FROM_OM2 = FE_FIBRE_OM2 | LASER_GRADES,
    MULTIMODE = FE_FIBRE_OM1 | FROM_OM2
};

static const struct {
    fe_fibre fibre;
    const char *name;
} NAMES[] = {
    {FE_FIBRE_OM1, "OM1"}, {FE_FIBRE_OM2, "OM2"}, {FE_FIBRE_OM3, "OM3"},
    {FE_FIBRE_OM4, "OM4"}, {FE_FIBRE_OM5, "OM5"}, {FE_FIBRE_OS2, "OS2"},
};

/*
 * IEEE 802.3z media table, a university network chart, 802.3aq; clauses 38, 52, 58 and 59 from
 * memory. Better fibre than a row names reaches at least as far. Budgets as in FIGURES.
 */
static const fe_fibre_reach REACHES[] = {
    /* application, fibre, MHz km, m, dB, wavelength m, bit/s, kinds */
    {"100BASE-FX", "multimode full duplex", NAN, 2000.0, NAN, 1300e-9, 100e6, MULTIMODE},
    {"100BASE-LX10", "single mode", NAN, 10000.0, NAN, 1310e-9, 100e6, FE_FIBRE_OS2},
    {"100BASE-BX10", "single mode one fibre", NAN, 10000.0, NAN, 1310e-9, 100e6, FE_FIBRE_OS2},
    {"1000BASE-SX", "62.5 um", 160.0, 220.0, 2.38, 850e-9, 1e9, 0},
    {"1000BASE-SX", "62.5 um OM1", 200.0, 275.0, 2.6, 850e-9, 1e9, FE_FIBRE_OM1},
    {"1000BASE-SX", "50 um", 400.0, 500.0, 3.37, 850e-9, 1e9, 0},
    {"1000BASE-SX", "50 um OM2", 500.0, 550.0, 3.56, 850e-9, 1e9, FROM_OM2},
    {"1000BASE-LX", "62.5 um", 500.0, 550.0, 2.35, 1300e-9, 1e9, FE_FIBRE_OM1},
    {"1000BASE-LX", "50 um", 400.0, 550.0, 2.35, 1300e-9, 1e9, 0},
    {"1000BASE-LX", "50 um OM2", 500.0, 550.0, 2.35, 1300e-9, 1e9, FROM_OM2},
    {"1000BASE-LX", "9 um single mode", NAN, 5000.0, 4.57, 1310e-9, 1e9, FE_FIBRE_OS2},
    {"1000BASE-LX10", "single mode OS1 OS2", NAN, 10000.0, 6.0, 1310e-9, 1e9, FE_FIBRE_OS2},
    {"1000BASE-BX10", "single mode one fibre", NAN, 10000.0, 6.0, 1310e-9, 1e9, FE_FIBRE_OS2},
    {"10GBASE-SR", "62.5 um", 160.0, 26.0, NAN, 850e-9, 10e9, 0},
    {"10GBASE-SR", "62.5 um OM1", 200.0, 33.0, 1.6, 850e-9, 10e9, FE_FIBRE_OM1},
    {"10GBASE-SR", "50 um", 400.0, 66.0, NAN, 850e-9, 10e9, 0},
    {"10GBASE-SR", "50 um OM2", 500.0, 82.0, 1.8, 850e-9, 10e9, FE_FIBRE_OM2},
    {"10GBASE-SR", "50 um OM3", 2000.0, 300.0, 2.6, 850e-9, 10e9, FE_FIBRE_OM3},
    {"10GBASE-SR", "50 um OM4", 4700.0, 400.0, 2.9, 850e-9, 10e9, FE_FIBRE_OM4},
    {"10GBASE-SR", "OM5", NAN, 400.0, 2.9, 850e-9, 10e9, FE_FIBRE_OM5},
    {"10GBASE-LRM", "62.5 um OM1", 500.0, 220.0, 1.9, 1300e-9, 10e9, FE_FIBRE_OM1},
    {"10GBASE-LRM", "50 um", 400.0, 100.0, 1.7, 1300e-9, 10e9, 0},
    {"10GBASE-LRM", "50 um OM2", 500.0, 220.0, 1.9, 1300e-9, 10e9, FE_FIBRE_OM2},
    {"10GBASE-LRM", "50 um OM3", 500.0, 220.0, 1.9, 1300e-9, 10e9, LASER_GRADES},
    {"10GBASE-LR", "single mode", NAN, 10000.0, 6.2, 1310e-9, 10e9, FE_FIBRE_OS2},
    {"10GBASE-ER", "single mode", NAN, 40000.0, NAN, 1550e-9, 10e9, FE_FIBRE_OS2},
};

/* IEEE 802.3 clauses 38, 52, 59; 802.3aq; TIA-568.3 and ISO/IEC 11801; most from memory. */
static const fe_fibre_figure FIGURES[] = {
    /* item, value, unit */
    {"OS2 attenuation limit 1310-1550 nm", 0.4, "dB/km"},
    {"OM3 and OM4 attenuation limit 850 nm", 3.0, "dB/km"},
    {"multimode attenuation limit 850 nm", 3.5, "dB/km"},
    {"multimode attenuation limit 1300 nm", 1.5, "dB/km"},
    {"single mode outside-plant attenuation limit 1310 nm", 0.5, "dB/km"},
    {"single mode outside-plant attenuation limit 1550 nm", 0.4, "dB/km"},
    {"connector pair limit", 0.75, "dB"},
    {"splice limit", 0.3, "dB"},
    {"1000BASE-SX channel insertion loss 62.5 um 160 MHz.km (220 m)", 2.38, "dB"},
    {"1000BASE-SX channel insertion loss 62.5 um 200 MHz.km (275 m)", 2.6, "dB"},
    {"1000BASE-SX channel insertion loss 50 um 400 MHz.km (500 m)", 3.37, "dB"},
    {"1000BASE-SX channel insertion loss 50 um 500", 3.56, "dB"},
    {"1000BASE-LX channel insertion loss multimode 550 m", 2.35, "dB"},
    {"1000BASE-LX channel insertion loss single mode 5 km", 4.57, "dB"},
    {"1000BASE-LX10 channel insertion loss single mode", 6.0, "dB"},
    {"1000BASE-BX10 channel insertion loss downstream (1490 nm)", 5.5, "dB"},
    {"1000BASE-BX10 channel insertion loss upstream (1310 nm)", 6.0, "dB"},
    {"10GBASE-SR channel insertion loss OM1", 1.6, "dB"},
    {"10GBASE-SR channel insertion loss OM2", 1.8, "dB"},
    {"10GBASE-SR channel insertion loss OM3", 2.6, "dB"},
    {"10GBASE-SR channel insertion loss OM4", 2.9, "dB"},
    {"10GBASE-LRM channel insertion loss OM1", 1.9, "dB"},
    {"10GBASE-LRM channel insertion loss 50 um 400/400", 1.7, "dB"},
    {"10GBASE-LR transmit minimum average power", -8.2, "dBm"},
    {"10GBASE-LR receive minimum average power", -14.4, "dBm"},
    {"10GBASE-LR power difference min transmit to min receive", 6.2, "dB"},
};

/* Rows of FIGURES that the functions below reckon with. */
enum { OS2_LIMIT, OM3_850_LIMIT, MULTIMODE_850_LIMIT, MULTIMODE_1300_LIMIT };
enum { CONNECTOR_LIMIT = 6, SPLICE_LIMIT = 7 };

const char *fe_fibre_name(fe_fibre fibre)
{
    for (size_t i = 0; i < COUNT(NAMES); i++)
        if (NAMES[i].fibre == fibre)
            return NAMES[i].name;
    return "";
}

bool fe_fibre_named(const char *name, fe_fibre *fibre)
{
    for (size_t i = 0; i < COUNT(NAMES); i++) {
        if (strcmp(NAMES[i].name, name) == 0) {
            *fibre = NAMES[i].fibre;
            return true;
        }
    }
    return false;
}

const fe_fibre_reach *fe_fibre_reach_at(size_t index)
{
    return index < COUNT(REACHES) ? &REACHES[index] : NULL;
}

const fe_fibre_reach *fe_fibre_reach_find(const char *application, const char *fibre)
{
    for (size_t i = 0; i < COUNT(REACHES); i++)
        if (strcmp(REACHES[i].application, application) == 0 &&
            strcmp(REACHES[i].fibre, fibre) == 0)
            return &REACHES[i];
    return NULL;
}

const fe_fibre_reach *fe_fibre_reach_for(const char *application, fe_fibre fibre)
{
    const fe_fibre_reach *best = NULL;
    for (size_t i = 0; i < COUNT(REACHES); i++) {
        if (strcmp(REACHES[i].application, application) != 0 ||
            !(REACHES[i].kinds & (unsigned)fibre))
            continue;
        if (!best || REACHES[i].reach_m > best->reach_m)
            best = &REACHES[i];
    }
    return best;
}

const fe_fibre_figure *fe_fibre_figure_find(const char *item)
{
    for (size_t i = 0; i < COUNT(FIGURES); i++)
        if (strcmp(FIGURES[i].item, item) == 0)
            return &FIGURES[i];
    return NULL;
}

static bool is_near(double wavelength_m, double nominal_m)
{
    return fabs(wavelength_m - nominal_m) <= 30.5e-9;
}

fe_status fe_fibre_attenuation(fe_fibre fibre, double wavelength_m, double *db_per_m)
{
    size_t row = 0;
    if (fibre == FE_FIBRE_OS2 && wavelength_m >= 1260e-9 && wavelength_m <= 1625e-9)
        row = OS2_LIMIT;
    else if (fibre != FE_FIBRE_OS2 && is_near(wavelength_m, 1300e-9))
        row = MULTIMODE_1300_LIMIT;
    else if ((fibre & LASER_GRADES) && is_near(wavelength_m, 850e-9))
        row = OM3_850_LIMIT;
    else if (fibre != FE_FIBRE_OS2 && is_near(wavelength_m, 850e-9))
        row = MULTIMODE_850_LIMIT;
    else
        return FE_E_DOMAIN;
    *db_per_m = 1e-3 * FIGURES[row].value;
    return FE_OK;
}

fe_status fe_fibre_link_loss(double length_m, double db_per_m, unsigned connector_pairs,
                             unsigned splices, double *loss_db)
{
    if (!is_at_least_zero(length_m) || !is_at_least_zero(db_per_m))
        return FE_E_DOMAIN;
    *loss_db = length_m * db_per_m + connector_pairs * FIGURES[CONNECTOR_LIMIT].value +
               splices * FIGURES[SPLICE_LIMIT].value;
    return FE_OK;
}

fe_status fe_fibre_link_try(const fe_fibre_reach *reach, fe_fibre fibre, double length_m,
                            unsigned connector_pairs, unsigned splices, fe_fibre_link *link)
{
    double db_per_m = 0.0, loss_db = 0.0;
    if (!is_positive(length_m) || !(reach->kinds & (unsigned)fibre))
        return FE_E_DOMAIN;
    fe_status status = fe_fibre_attenuation(fibre, reach->wavelength_m, &db_per_m);
    if (status >= 0)
        status = fe_fibre_link_loss(length_m, db_per_m, connector_pairs, splices, &loss_db);
    if (status < 0)
        return status;
    const double of_reach = length_m / reach->reach_m;
    *link = (fe_fibre_link){
        reach, length_m, loss_db, reach->budget_db,
        isfinite(reach->budget_db) ? fmax(of_reach, loss_db / reach->budget_db) : of_reach};
    return FE_OK;
}
