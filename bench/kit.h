#ifndef ST_BENCH_KIT_H
#define ST_BENCH_KIT_H

#include <time.h>

/* Seconds on a clock that only goes forward. */
static inline double bench_now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

#endif
