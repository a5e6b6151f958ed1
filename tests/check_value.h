#ifndef ST_CHECK_VALUE_H
#define ST_CHECK_VALUE_H

#include "check.h"

/* What a row expects, how near it must be met, and whether it is. */

enum check_want {
    CHECK_VALUE,    /* 785.36 */
    CHECK_INSIDE,   /* 4.5..5.5 */
    CHECK_AT_MOST,  /* <=100 */
    CHECK_AT_LEAST, /* >=15 */
    CHECK_NONE      /* none: the function must refuse */
};

struct check_expected {
    enum check_want want;
    double low, high; /* equal for CHECK_VALUE */
};

enum check_how {
    CHECK_ABSOLUTE, /* 0.005 */
    CHECK_RELATIVE, /* rel 1e-9 */
    CHECK_FACTOR,   /* factor 2: from half to double */
    CHECK_SHOWN     /* -: shown, not gated */
};

struct check_tolerance {
    enum check_how how;
    double size;
};

/* A number as sheets have them: as strtod reads it, or a fraction such as 3/4.  false: none. */
bool check_number(const char *word, double *x);

/* false: not an expected value. */
bool check_read_expected(const char *word, struct check_expected *e);

/* The tolerance in word[0], or word[0] and word[1] (n words there are).  Returns the words used, 0: no tolerance. */
int check_read_tolerance(const char *const word[], int n, struct check_tolerance *t);

/* How far value is from what is expected, 0 inside; and that as a share of the tolerance, <= 1 when met.  For a
 * relative tolerance the deviation is relative too, for a factor it is the factor less one. */
struct check_deviation {
    double deviation, share;
};
struct check_deviation check_judge(double value, const struct check_expected *e, const struct check_tolerance *t);

/* Texts for messages; room of at least 80 bytes. */
void check_print_number(char *to, size_t room, double x, const struct check_tolerance *t);
void check_print_expected(char *to, size_t room, const struct check_expected *e, const struct check_tolerance *t);
void check_print_tolerance(char *to, size_t room, const struct check_tolerance *t);

#endif
