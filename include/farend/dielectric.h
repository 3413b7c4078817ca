/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_DIELECTRIC_H
#define FAREND_DIELECTRIC_H

#include <stddef.h>

#include "farend/season.h"
#include "farend/status.h"

/*
 * Complex permittivity of water, ice, snow and ground, and what a layer of it on the cover of
 * an antenna costs. A call costs some powers and exponentials.
 */

/* Relative permittivity real - j loss; both >= 0. */
typedef struct fe_permittivity {
    double real;
    double loss;
} fe_permittivity;

/*
 * Liquid fresh water.
 *
 *   f_hz    frequency, > 0; stated up to 1000 GHz
 *   temp_c  stated for -20 (supercooled) to 50 degrees C
 *   result  untouched on error
 *
 * FE_OK, FE_W_RANGE, FE_E_DOMAIN not finite, or at or below -100 degrees C
 *
 * Source: ITU-R P.840-8 eq 4 to 10 (double Debye; from memory, range with it).
 */
FE_MUST_CHECK fe_status fe_water_permittivity(double f_hz, double temp_c,
                                              fe_permittivity *result);

/*
 * Fresh-water ice.
 *
 *   f_hz    frequency, > 0; 1 MHz to 300 GHz
 *   temp_c  -100 to 0 degrees C
 *   result  untouched on error
 *
 * FE_OK, FE_W_RANGE, FE_E_DOMAIN
 *
 * Source: real part 3.17, a textbook value; loss by Hufford 1991. Both from memory.
 */
FE_MUST_CHECK fe_status fe_ice_permittivity(double f_hz, double temp_c,
                                            fe_permittivity *result);

/*
 * Dry snow: 1 + 1.9 rho up to 0.5 g/cm3, 0.51 + 2.88 rho above; loss that of the ice in it
 * times 0.52 rho + 0.62 rho^2.
 *
 *   density_kg_m3  0 to 917
 *   f_hz, temp_c   as for ice
 *   result         untouched on error
 *
 * FE_OK, FE_W_RANGE, FE_E_DOMAIN
 *
 * Source: mixing rules in general use (loss: Tiuri 1984), from memory.
 */
FE_MUST_CHECK fe_status fe_dry_snow_permittivity(double density_kg_m3, double f_hz,
                                                 double temp_c, fe_permittivity *result);

/*
 * Wet snow at 0 degrees C.
 *
 *   density_kg_m3  of its dry part, 0 to 917; stated for 90 to 380
 *   wetness        liquid water by volume, 0 to 1; stated for 0.01 to 0.12
 *   f_hz           frequency, > 0; stated for 3 to 37 GHz
 *   result         untouched on error
 *
 * FE_OK, FE_W_RANGE, FE_E_DOMAIN
 *
 * Source: Hallikainen 1986, modified Debye model in its form below 15 GHz, from memory.
 */
FE_MUST_CHECK fe_status fe_wet_snow_permittivity(double density_kg_m3, double wetness,
                                                 double f_hz, fe_permittivity *result);

/*
 * What the ground ray meets, as one thick even layer: soil under thin snow is not seen.
 *
 *   surface  see season.h
 *   f_hz     frequency, > 0; the soils are stated for 0.5 to 30 GHz
 *   result   untouched on error
 *
 * FE_OK, FE_W_RANGE, FE_E_DOMAIN
 *
 * Source: soils a fit through the medium dry and wet ground of ITU-R P.527, from memory; snow
 * of 250 kg/m3 dry, 350 kg/m3 and 5 % wet: common practice, no source; water at 10 degrees C.
 */
FE_MUST_CHECK fe_status fe_surface_permittivity(fe_surface surface, double f_hz,
                                                fe_permittivity *result);

/* Height of its unevenness, root mean square; common practice, no source. */
double fe_surface_roughness_m(fe_surface surface);

/*
 * Loss of a wave that passes an even layer at a right angle, reflection at both faces included.
 *
 *   permittivity      see above
 *   thickness_m       0 or more
 *   f_hz              frequency, > 0
 *   loss_db           result; untouched on error
 *
 * FE_OK, FE_E_DOMAIN
 *
 * Source: ITU-R P.2040-3 sec 2.2.2.2, one slab.
 */
FE_MUST_CHECK fe_status fe_film_loss(const fe_permittivity *permittivity, double thickness_m,
                                     double f_hz, double *loss_db);

/*
 * What lies on one antenna's cover in a season: nothing, a film of water 0.1 mm thick at 10
 * degrees C, or 10 mm of snow of 350 kg/m3 that is 5 % wet. The thickness is common practice,
 * no source: a cover that repels water carries drops and loses less, a steep one carries no
 * snow.
 *
 *   cover    see season.h
 *   f_hz     frequency, > 0
 *   loss_db  result; untouched on error
 *
 * FE_OK, FE_W_RANGE as the permittivity, FE_E_DOMAIN
 */
FE_MUST_CHECK fe_status fe_cover_loss(fe_cover cover, double f_hz, double *loss_db);

#endif
