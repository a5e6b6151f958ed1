#ifndef ST_MODEL_PHILOX_WIDE_H
#define ST_MODEL_PHILOX_WIDE_H

#include <stddef.h>
#include <stdint.h>

/* For random.c only: Philox4x32-10 of eight or four counters at once on x86.  Compilers do not see that a product of
 * two 32-bit words in 64-bit lanes is one instruction there, and take three times as long.  Integers: the same bits
 * as the plain loop.
 *
 * Given:    key[2], counter (first + i, input, 0) for i < n, n a multiple of 8
 * Returned: bits[n], the first two words of each
 */

#if defined(__x86_64__) && defined(__GNUC__)
#define ST_PHILOX_WIDE 1
#include <immintrin.h>

#define ST_PHILOX_WIDE_KERNEL(NAME, TARGET, LANES, VECTOR, P, SUFFIX)                                                  \
    __attribute__((target(TARGET))) static void NAME(const uint32_t key[2], uint32_t input, uint64_t first, size_t n,  \
                                                     uint64_t *bits)                                                   \
    {                                                                                                                  \
        static const uint64_t STEP[8] = { 0, 1, 2, 3, 4, 5, 6, 7 };                                                    \
        const VECTOR m0 = P##_set1_epi64##SUFFIX(0xD2511F53), m1 = P##_set1_epi64##SUFFIX(0xCD9E8D57);                 \
        const VECTOR low = P##_set1_epi64##SUFFIX(0xFFFFFFFF);                                                         \
        VECTOR k0[10], k1[10];                                                                                         \
        for (uint32_t r = 0; r < 10; r++) {                                                                            \
            k0[r] = P##_set1_epi64##SUFFIX(key[0] + r * 0x9E3779B9u);                                                  \
            k1[r] = P##_set1_epi64##SUFFIX(key[1] + r * 0xBB67AE85u);                                                  \
        }                                                                                                              \
        for (size_t i = 0; i < n; i += (LANES)) {                                                                      \
            VECTOR a = ST_LOAD_##LANES(STEP);                                                                          \
            a = P##_add_epi64(a, P##_set1_epi64##SUFFIX((long long)(first + i)));                                      \
            VECTOR b = P##_srli_epi64(a, 32), c = P##_set1_epi64##SUFFIX(input), d = P##_set1_epi64##SUFFIX(0);        \
            for (int r = 0; r < 10; r++) {                                                                             \
                const VECTOR p0 = P##_mul_epu32(a, m0), p1 = P##_mul_epu32(c, m1);                                     \
                a = ST_XOR_##LANES(ST_XOR_##LANES(P##_srli_epi64(p1, 32), b), k0[r]);                                  \
                c = ST_XOR_##LANES(ST_XOR_##LANES(P##_srli_epi64(p0, 32), d), k1[r]);                                  \
                b = p1;                                                                                                \
                d = p0;                                                                                                \
            }                                                                                                          \
            ST_STORE_##LANES(bits + i, ST_XOR_##LANES(P##_slli_epi64(a, 32), ST_AND_##LANES(b, low)));                 \
        }                                                                                                              \
    }

#define ST_LOAD_8(p) _mm512_loadu_si512(p)
#define ST_STORE_8(p, v) _mm512_storeu_si512(p, v)
#define ST_XOR_8 _mm512_xor_si512
#define ST_AND_8 _mm512_and_si512
#define ST_LOAD_4(p) _mm256_loadu_si256((const __m256i *)(const void *)(p))
#define ST_STORE_4(p, v) _mm256_storeu_si256((__m256i *)(void *)(p), v)
#define ST_XOR_4 _mm256_xor_si256
#define ST_AND_4 _mm256_and_si256

ST_PHILOX_WIDE_KERNEL(st_philox_by_8, "avx512f", 8, __m512i, _mm512, )
ST_PHILOX_WIDE_KERNEL(st_philox_by_4, "avx2", 4, __m256i, _mm256, x)
#endif

#endif
