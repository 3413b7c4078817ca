/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef PROPAGATION_LANES_H
#define PROPAGATION_LANES_H

#include <stdint.h>
#include <string.h>

/*
 * Logarithm and exponential without branches, so that a loop over them runs on several numbers
 * at a time; the library's are called one by one. The logarithm
 * is within 1e-12, the exponential within 1e-11 of its value: losses come out to 1e-10 dB.
 */

static inline uint64_t lane_bits(double value)
{
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    return bits;
}

static inline double lane_double(uint64_t bits)
{
    double value;
    memcpy(&value, &bits, sizeof value);
    return value;
}

/* Natural logarithm of a normal number above zero. */
static inline double lane_log(double value)
{
    /* value = 2^k m with m from sqrt(1/2) to sqrt(2); ln m = 2 artanh((m - 1) / (m + 1)). */
    static const uint64_t ONE = 0x3ff0000000000000u;
    static const uint64_t ROOT_HALF = 0x3fe6a09e667f3bcdu;
    static const uint64_t TWO_52 = 0x4330000000000000u; /* the bits of 2^52, and of 2^52 + n */
    const uint64_t bits = lane_bits(value);
    const uint64_t exponent = (bits + (ONE - ROOT_HALF)) >> 52;
    const double k = lane_double(TWO_52 | exponent) - 4503599627370496.0 - 1023.0;
    const double m = lane_double(bits - (exponent << 52) + ONE);
    const double s = (m - 1.0) / (m + 1.0);
    const double q = s * s;
    double sum = 2.0 / 13.0;
    sum = sum * q + 2.0 / 11.0;
    sum = sum * q + 2.0 / 9.0;
    sum = sum * q + 2.0 / 7.0;
    sum = sum * q + 2.0 / 5.0;
    sum = sum * q + 2.0 / 3.0;
    sum = sum * q + 2.0;
    return k * 0.693147180559945309 + s * sum;
}

/* Exponential; not outside -700 to 700. */
static inline double lane_exp(double value)
{
    /* Adding 1.5 2^52 leaves the nearest whole number in the low bits. */
    static const double SHIFT = 6755399441055744.0;
    const double shifted = value * 1.44269504088896341 + SHIFT;
    const double k = shifted - SHIFT;
    const double r = (value - k * 0.693147180369123816) - k * 1.90821492927058770e-10;
    double sum = 1.0 / 362880.0;
    sum = sum * r + 1.0 / 40320.0;
    sum = sum * r + 1.0 / 5040.0;
    sum = sum * r + 1.0 / 720.0;
    sum = sum * r + 1.0 / 120.0;
    sum = sum * r + 1.0 / 24.0;
    sum = sum * r + 1.0 / 6.0;
    sum = sum * r + 0.5;
    sum = sum * r + 1.0;
    sum = sum * r + 1.0;
    return lane_double(lane_bits(sum) + (lane_bits(shifted) << 52));
}

#endif
