#ifndef ST_MODEL_RANDOM_WIDE_H
#define ST_MODEL_RANDOM_WIDE_H

#include <stddef.h>
#include <stdint.h>

/* For random.c only: what compilers do not see for themselves on x86.  The same results as the plain loops, bit for
 * bit. */

/* Half the width of the middle of probabilities about 1/2, [wichura1988]; the rest are tails. */
#define ST_CENTRAL 0.425

#if defined(__x86_64__) && defined(__GNUC__)
#define ST_WIDE 1
#include <immintrin.h>

/* Philox4x32-10 of pairs of vectors of counters.  A product of two 32-bit words in 64-bit lanes is one instruction, and
 * a pair keeps the multipliers busy while each vector waits for its own.
 *
 * Given:    key[2], counter (first + i, input, 0) for i < n, n a multiple of 16
 * Returned: bits[n], the first two words of each
 */
/* a to d are names of variables, which parentheses cannot hold. */
// NOLINTBEGIN(bugprone-macro-parentheses)
#define ST_PHILOX_START(LANES, P, SUFFIX, a, b, c, d, i)                                                               \
    a = P##_add_epi64(ST_LOAD_##LANES(STEP), P##_set1_epi64##SUFFIX((long long)(first + (i))));                        \
    b = P##_srli_epi64(a, 32);                                                                                         \
    c = P##_set1_epi64##SUFFIX(input);                                                                                 \
    d = P##_set1_epi64##SUFFIX(0)

#define ST_PHILOX_ROUND(LANES, VECTOR, P, a, b, c, d)                                                                  \
    do {                                                                                                               \
        const VECTOR p0 = P##_mul_epu32(a, m0), p1 = P##_mul_epu32(c, m1);                                             \
        a = ST_XOR_##LANES(ST_XOR_##LANES(P##_srli_epi64(p1, 32), b), k0[r]);                                          \
        c = ST_XOR_##LANES(ST_XOR_##LANES(P##_srli_epi64(p0, 32), d), k1[r]);                                          \
        b = p1;                                                                                                        \
        d = p0;                                                                                                        \
    } while (0)

// NOLINTEND(bugprone-macro-parentheses)
#define ST_PHILOX_STORE(LANES, P, a, b, i)                                                                             \
    ST_STORE_##LANES(bits + (i), ST_XOR_##LANES(P##_slli_epi64(a, 32), ST_AND_##LANES(b, low)))

#define ST_PHILOX_WIDE_KERNEL(NAME, TARGET, LANES, VECTOR, P, SUFFIX)                                                  \
    __attribute__((target(TARGET))) static void NAME(const uint32_t key[2], uint32_t input, uint64_t first, size_t n,  \
                                                     uint64_t *bits)                                                   \
    {                                                                                                                  \
        static const uint64_t STEP[8] = { 0, 1, 2, 3, 4, 5, 6, 7 };                                                    \
        const VECTOR m0 = P##_set1_epi64##SUFFIX(0xD2511F53), m1 = P##_set1_epi64##SUFFIX(0xCD9E8D57);                 \
        const VECTOR low = P##_set1_epi64##SUFFIX(0xFFFFFFFF);                                                         \
        VECTOR k0[10], k1[10], a, b, c, d, e, f, g, h;                                                                 \
        for (uint32_t r = 0; r < 10; r++) {                                                                            \
            k0[r] = P##_set1_epi64##SUFFIX(key[0] + r * 0x9E3779B9u);                                                  \
            k1[r] = P##_set1_epi64##SUFFIX(key[1] + r * 0xBB67AE85u);                                                  \
        }                                                                                                              \
        for (size_t i = 0; i < n; i += (size_t)2 * (LANES)) {                                                                  \
            ST_PHILOX_START(LANES, P, SUFFIX, a, b, c, d, i);                                                          \
            ST_PHILOX_START(LANES, P, SUFFIX, e, f, g, h, i + (LANES));                                                \
            for (int r = 0; r < 10; r++) {                                                                             \
                ST_PHILOX_ROUND(LANES, VECTOR, P, a, b, c, d);                                                         \
                ST_PHILOX_ROUND(LANES, VECTOR, P, e, f, g, h);                                                         \
            }                                                                                                          \
            ST_PHILOX_STORE(LANES, P, a, b, i);                                                                        \
            ST_PHILOX_STORE(LANES, P, e, f, i + (LANES));                                                              \
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

/* Those of u[n] that lie in the tails, in order, n a multiple of 8: v[] themselves, at[] their numbers; room for n + 8.
 * Returned: how many. */
__attribute__((target("avx512f"))) static size_t st_gather_by_8(size_t n, const double *u, double *v, uint64_t *at)
{
    static const uint64_t STEP[8] = { 0, 1, 2, 3, 4, 5, 6, 7 };
    const __m512d half = _mm512_set1_pd(0.5), middle = _mm512_set1_pd(ST_CENTRAL);
    __m512i number = _mm512_loadu_si512(STEP);
    size_t m = 0;
    for (size_t i = 0; i < n; i += 8) {
        const __m512d x = _mm512_loadu_pd(u + i);
        const __mmask8 out = _mm512_cmp_pd_mask(_mm512_abs_pd(_mm512_sub_pd(x, half)), middle, _CMP_NLE_UQ);
        _mm512_storeu_pd(v + m, _mm512_maskz_compress_pd(out, x));
        _mm512_storeu_si512(at + m, _mm512_maskz_compress_epi64(out, number));
        number = _mm512_add_epi64(number, _mm512_set1_epi64(8));
        m += (size_t)__builtin_popcount(out);
    }
    return m;
}
#endif

#endif
