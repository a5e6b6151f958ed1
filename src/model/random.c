#include "random.h"

#include <math.h>
#include <string.h>

#include "random_wide.h"
#include "vector.h"

enum { BLOCK = 128 };

/* [salmon2011] multipliers and key increments of Philox4x32 */
#define PHILOX_M0 0xD2511F53u
#define PHILOX_M1 0xCD9E8D57u
#define PHILOX_W0 0x9E3779B9u
#define PHILOX_W1 0xBB67AE85u

/* Ten rounds on 32-bit words kept in 64-bit lanes, which is what vector units multiply. */
static inline void rounds(uint64_t c[4], uint32_t k0, uint32_t k1)
{
    for (int r = 0; r < 10; r++) {
        const uint64_t p0 = (c[0] & 0xFFFFFFFFu) * PHILOX_M0;
        const uint64_t p1 = (c[2] & 0xFFFFFFFFu) * PHILOX_M1;
        c[0] = ((p1 >> 32) ^ c[1] ^ k0) & 0xFFFFFFFFu;
        c[1] = p1 & 0xFFFFFFFFu;
        c[2] = ((p0 >> 32) ^ c[3] ^ k1) & 0xFFFFFFFFu;
        c[3] = p0 & 0xFFFFFFFFu;
        k0 += PHILOX_W0;
        k1 += PHILOX_W1;
    }
}

void st_philox4x32(const uint32_t key[2], const uint32_t counter[4], uint32_t out[4])
{
    uint64_t c[4] = { counter[0], counter[1], counter[2], counter[3] };
    rounds(c, key[0], key[1]);
    for (int i = 0; i < 4; i++)
        out[i] = (uint32_t)c[i];
}

/* 52 bits as the fraction of a double in 1..2, then moved to the middle of its cell in 0..1: exact steps. */
static inline double fraction(uint64_t bits)
{
    const uint64_t in_1_2 = (bits >> 12) | 0x3FF0000000000000u;
    double x;
    memcpy(&x, &in_1_2, sizeof x);
    return (x - 1.0) + 0x1p-53;
}

/* The first two words of n counters; bits[] has room for BLOCK. */
static void bits_plain(const uint32_t key[2], uint32_t input, uint64_t first, size_t n, uint64_t *bits)
{
    for (size_t i = 0; i < n; i++) {
        const uint64_t draw = first + i;
        uint64_t c[4] = { draw & 0xFFFFFFFFu, draw >> 32, input, 0 };
        rounds(c, key[0], key[1]);
        bits[i] = (c[0] << 32) | c[1];
    }
}

static void bits_block(const uint32_t key[2], uint32_t input, uint64_t first, size_t n, uint64_t bits[BLOCK])
{
#ifdef ST_WIDE
    const size_t whole = (n + 15) & ~(size_t)15;
    if (n >= 16 && __builtin_cpu_supports("avx512f"))
        st_philox_by_8(key, input, first, whole, bits);
    else if (n >= 16 && __builtin_cpu_supports("avx2"))
        st_philox_by_4(key, input, first, whole, bits);
    else
#endif
        bits_plain(key, input, first, n, bits);
}

ST_MODEL_CLONES static void fractions(size_t n, const uint64_t *restrict bits, double *restrict u)
{
    for (size_t i = 0; i < n; i++)
        u[i] = fraction(bits[i]);
}

void st_uniform_n(uint64_t seed, uint32_t input, uint64_t first, size_t n, double u[])
{
    const uint32_t key[2] = { (uint32_t)seed, (uint32_t)(seed >> 32) };
    uint64_t bits[BLOCK];
    for (size_t i = 0; i < n; i += BLOCK) {
        const size_t m = n - i < BLOCK ? n - i : BLOCK;
        bits_block(key, input, first + i, m, bits);
        fractions(m, bits, u + i);
    }
}

/* Degree 7, low order first, by Estrin's scheme: a chain of dependent operations is half as long as by Horner's. */
static inline double degree_7(const double a[8], double r, double r2, double r4)
{
    const double low = (a[0] + a[1] * r) + r2 * (a[2] + a[3] * r);
    const double high = (a[4] + a[5] * r) + r2 * (a[6] + a[7] * r);
    return low + r4 * high;
}

/* Numerator and denominator, as printed; denominators begin with 1. */
static inline double ratio(const double a[8], const double b[8], double r)
{
    const double r2 = r * r, r4 = r2 * r2;
    return degree_7(a, r, r2, r4) / degree_7(b, r, r2, r4);
}

/* [wichura1988] PPND16: |u - 1/2| <= ST_CENTRAL */
static inline double central(double q)
{
    static const double A[8] = { 3.3871328727963666080e0, 1.3314166789178437745e2, 1.9715909503065514427e3,
                                 1.3731693765509461125e4, 4.5921953931549871457e4, 6.7265770927008700853e4,
                                 3.3430575583588128105e4, 2.5090809287301226727e3 };
    static const double B[8] = { 1.0,
                                 4.2313330701600911252e1,
                                 6.8718700749205790830e2,
                                 5.3941960214247511077e3,
                                 2.1213794301586595867e4,
                                 3.9307895800092710610e4,
                                 2.8729085735721942674e4,
                                 5.2264952788528545610e3 };
    return q * ratio(A, B, 0.180625 - q * q);
}

/* Natural logarithm of 0 < x < infinity, not subnormal, within two units of the last place where |log x| > 2: x = m 2^e
 * with m about 1, log m = 2 atanh((m - 1)/(m + 1)) by its series.  Without a branch, so that loops are vectorised. */
static inline double log_of(double x)
{
    uint64_t bits;
    memcpy(&bits, &x, sizeof bits);
    const uint64_t shifted = bits - 0x3FE6A09E667F3BCDu; /* the bits of sqrt(1/2) */
    /* the exponent as a double: added to the lowest bits of 2^52 + 2^51 */
    const uint64_t e_bits = ((shifted >> 52) ^ 0x800u) | 0x4338000000000000u;
    double e, m;
    memcpy(&e, &e_bits, sizeof e);
    e -= 0x1.8p52 + 2048.0;
    bits -= shifted & 0xFFF0000000000000u;
    memcpy(&m, &bits, sizeof m);
    const double s = (m - 1.0) / (m + 1.0), z = s * s;
    const double z2 = z * z, z4 = z2 * z2;
    const double low = (1.0 / 3.0 + z * (1.0 / 5.0)) + z2 * (1.0 / 7.0 + z * (1.0 / 9.0));
    const double middle = (1.0 / 11.0 + z * (1.0 / 13.0)) + z2 * (1.0 / 15.0 + z * (1.0 / 17.0));
    const double high = (1.0 / 19.0 + z * (1.0 / 21.0)) + z2 * (1.0 / 23.0);
    const double p = low + z4 * (middle + z4 * high);
    const double log_m = 2.0 * s + 2.0 * s * z * p;
    /* log 2 in two parts, the first with zeros behind it */
    return e * 0x1.62e42fee00000p-1 + (log_m + e * 0x1.a39ef35793c76p-33);
}

/* r = sqrt(-log(tail probability)) up to 5, that is all but 3e-11 of the draws */
static inline double near_tail(double r)
{
    static const double C[8] = { 1.42343711074968357734e0,  4.63033784615654529590e0, 5.76949722146069140550e0,
                                 3.64784832476320460504e0,  1.27045825245236838258e0, 2.41780725177450611770e-1,
                                 2.27238449892691845833e-2, 7.74545014278341407640e-4 };
    static const double D[8] = { 1.0,
                                 2.05319162663775882187e0,
                                 1.67638483018380384940e0,
                                 6.89767334985100004550e-1,
                                 1.48103976427480074590e-1,
                                 1.51986665636164571966e-2,
                                 5.47593808499534494600e-4,
                                 1.05075007164441684324e-9 };
    return ratio(C, D, r - 1.6);
}

static double far_tail(double r)
{
    static const double E[8] = { 6.65790464350110377720e0,  5.46378491116411436990e0,  1.78482653991729133580e0,
                                 2.96560571828504891230e-1, 2.65321895265761230930e-2, 1.24266094738807843860e-3,
                                 2.71155556874348757815e-5, 2.01033439929228813265e-7 };
    static const double F[8] = { 1.0,
                                 5.99832206555887937690e-1,
                                 1.36929880922735805310e-1,
                                 1.48753612908506148525e-2,
                                 7.86869131145613259100e-4,
                                 1.84631831751005468180e-5,
                                 1.42151175831644588870e-7,
                                 2.04426310338993978564e-15 };
    return ratio(E, F, r - 5.0);
}

/* The tails of a block, gathered: u[n] their probabilities, z[n] the deviates; 0 and below and NaN give NaN. */
ST_MODEL_CLONES static void tail_block(size_t n, const double *restrict u, double *restrict r, double *restrict z)
{
    for (size_t i = 0; i < n; i++) {
        /* NOLINTNEXTLINE(clang-analyzer-core.UndefinedBinaryOperatorResult): every caller fills u[0..n) */
        const double other = 1.0 - u[i], side = u[i] < other ? u[i] : other;
        r[i] = sqrt(-log_of(side));
        z[i] = copysign(near_tail(r[i]), u[i] - 0.5);
    }
}

static double seldom(double u, double z)
{
    if (!(u > 0.0 && u < 1.0))
        return (double)NAN;
    const double side = u < 0.5 ? u : 1.0 - u, r = sqrt(-log(side));
    if (r <= 5.0)
        return z;
    return u < 0.5 ? -far_tail(r) : far_tail(r);
}

/* Which of u[n] lie in the tails: their numbers at[], themselves v[]; how many.  Without a branch: which draw lies out
 * cannot be foreseen. */
static size_t gather_plain(size_t n, const double *u, double *v, uint64_t *at)
{
    size_t m = 0;
    for (size_t i = 0; i < n; i++) {
        v[m] = u[i];
        at[m] = i;
        m += !(fabs(u[i] - 0.5) <= ST_CENTRAL);
    }
    return m;
}

static size_t gather(size_t n, const double *u, double *v, uint64_t *at)
{
#ifdef ST_WIDE
    if (n % 8 == 0 && __builtin_cpu_supports("avx512f"))
        return st_gather_by_8(n, u, v, at);
#endif
    return gather_plain(n, u, v, at);
}

static void tails(size_t n, const double *u, double *z)
{
    enum { STRIP = 8 };
    double v[BLOCK + STRIP], r[BLOCK + STRIP], y[BLOCK + STRIP];
    uint64_t at[BLOCK + STRIP];
    const size_t m = gather(n, u, v, at), whole = (m + STRIP - 1) / STRIP * STRIP;
    for (size_t i = m; i < whole; i++) /* whole vectors: what is left of one would take longer */
        v[i] = 0.05;
    tail_block(whole, v, r, y);
    for (size_t i = 0; i < m; i++)
        z[at[i]] = r[i] < 4.999 ? y[i] : seldom(v[i], y[i]); // NOLINT: tail_block has written r and y up to whole, gather at
}

ST_MODEL_CLONES static void central_block(size_t n, const double *restrict u, double *restrict z)
{
    for (size_t i = 0; i < n; i++)
        z[i] = central(u[i] - 0.5);
}

/* The middle formula for all, then the tails. */
void st_normal_from_uniform_n(size_t n, const double u[], double z[])
{
    for (size_t first = 0; first < n; first += BLOCK) {
        const size_t m = n - first < BLOCK ? n - first : BLOCK;
        double v[BLOCK];
        memcpy(v, u + first, m * sizeof *v);
        central_block(m, v, z + first);
        tails(m, v, z + first);
    }
}

double st_normal_from_uniform(double u)
{
    double z;
    st_normal_from_uniform_n(1, &u, &z);
    return z;
}
