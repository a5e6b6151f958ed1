#ifndef ST_MODEL_VECTOR_H
#define ST_MODEL_VECTOR_H

/* For files of model only: loops over draws are compiled for several instruction sets where gcc can pick one at
 * start; the arithmetic, and so the result, is the same in each.  Left out under sanitizers of addresses and
 * threads, whose start-up does not suit the picking. */
#if defined(__x86_64__) && defined(__linux__) && defined(__GNUC__) && !defined(__clang__) &&                           \
    !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__) && defined(__OPTIMIZE__)
#define ST_MODEL_CLONES __attribute__((target_clones("avx512f", "avx2", "default")))
#else
#define ST_MODEL_CLONES
#endif

#endif
