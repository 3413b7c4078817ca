/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAREND_CONSTANTS_H
#define FAREND_CONSTANTS_H

#define FE_PI 3.14159265358979323846
#define FE_SPEED_OF_LIGHT_M_S 299792458.0 /* exact, SI */
#define FE_EARTH_RADIUS_M 6371000.0       /* mean radius used by ITU-R P.452-18 sec 3.2.1 */
#define FE_GRAVITY_M_S2 9.80665           /* standard gravity, exact by definition */
#define FE_KELVIN_OFFSET_C 273.15         /* exact */
#define FE_DEG_RAD (FE_PI / 180.0)

/* Exact by definition: the yard and pound agreement of 1959, as in NIST SP 811 app. B. */
#define FE_INCH_M 0.0254
#define FE_FOOT_M 0.3048
#define FE_MILE_M 1609.344
#define FE_POUND_KG 0.45359237
#define FE_POUND_FORCE_N (FE_POUND_KG * FE_GRAVITY_M_S2)

/* Cells on a side of the largest land that a map is computed for; the import cuts no larger. */
#define FE_MAP_MOST_SIDE 20000

#endif
