#ifndef ST_MODEL_RANDOM_H
#define ST_MODEL_RANDOM_H

#include <stddef.h>
#include <stdint.h>

/* Random numbers by counter: number (seed, input, draw) is a pure function of the three, so results do not
 * depend on how the work is cut into blocks or threads, a longer run begins with the shorter one, and two
 * recipes share the numbers of the inputs they share. */

/* Philox4x32 with 10 rounds.
 *
 * Given:
 *   key[2], counter[4]   any 32-bit words
 * Returned:
 *   out[4]               32 random bits each
 * Source:
 *   [salmon2011]; constants and known answers from memory (tests/unit/test_random.c)
 */
void st_philox4x32(const uint32_t key[2], const uint32_t counter[4], uint32_t out[4]);

/* Uniform numbers of draws first .. first + n - 1.
 *
 * Given:
 *   seed, input   the key; which input (any 32-bit name of it)
 *   first, n      draws
 * Returned:
 *   u[n]          odd multiples of 2^-53, so 0 < u < 1 always and u = 1/2 never
 * Notes:
 *   Key = seed; counter = (draw low, draw high, input, 0); the first 52 of the bits.
 */
void st_uniform_n(uint64_t seed, uint32_t input, uint64_t first, size_t n, double u[]);

/* Standard normal deviates of probabilities: z[i] with P(Z <= z) = u[i].
 *
 * Given:
 *   n, u[n]   0 < u < 1; u and z may be the same array
 * Returned:
 *   z[n]      relative error about 1e-16 (the source's claim; tests compare to 1e-14); NaN for u outside 0 .. 1
 * Source:
 *   [wichura1988] algorithm AS 241, PPND16; coefficients from memory, verified in tests/unit/test_random.c
 */
void st_normal_from_uniform_n(size_t n, const double u[], double z[]);
double st_normal_from_uniform(double u);

#endif
