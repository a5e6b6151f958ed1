#ifndef ST_TESTS_SHARE_H
#define ST_TESTS_SHARE_H

/* How much of a long test of random cases is run: all of it in most builds; of the cases a share with sanitizers, which
 * make each four to seven times as long.  What is counted over all of them is judged where all of them are run. */

/* gcc tells by a macro of its own, clang by a question; -DST_SHARED=0 runs all. */
#ifndef ST_SHARED
#ifdef __SANITIZE_ADDRESS__
#define ST_SHARED 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define ST_SHARED 1
#endif
#endif
#endif
#ifndef ST_SHARED
#define ST_SHARED 0
#endif

#define ST_SHARE_OF(all, of) (ST_SHARED ? (all) / (of) : (all))

#endif
