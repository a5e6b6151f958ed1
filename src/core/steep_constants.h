#ifndef ST_CORE_STEEP_CONSTANTS_H
#define ST_CORE_STEEP_CONSTANTS_H

/* The uncertain constants of steeping, clarity, age and taste, each with its range, so that a caller can use the
 * middle, draw from the range, or tell where a figure comes from.  Values are SI.  How to read a row: low..high  a
 * range in which the constant probably lies; low = mid = high: no range is stated anywhere mark       'r' read in the
 * source; 'm' from memory; 'c' computed from figures read; 'p' a policy of this program source     key of
 * docs/sources.md, or "from memory" */
enum st_steep_constant {
    /* solvent_power.h */
    ST_SIGMA_SLOPE,      /* 0.95 (0.93..0.95), m */
    ST_SIGMA_INTERCEPT,  /* 0.30 (0.30..0.40), m */
    ST_SOLUBILITY_ERROR, /* what to multiply a solubility by: 1, x/: 2.5 ("2 to 3"), m */
    ST_PARTITION_SHARE,  /* slope of log K over slope of log S: 0.5 (0.3..0.8), m */
    ST_HUMP_CENTRE,      /* volume fraction: 0.50 (0.40..0.60), r */
    ST_HUMP_WIDTH,       /* volume fraction: 0.25, no range stated, m */
    ST_HUMP_FLOOR,       /* least share of the best between 35 and 65 % vol: 0.8, p */
    ST_EA_DIFFUSION,     /* J/mol: 30e3 (20e3..40e3), m */
    /* louche.h */
    ST_OIL_HEAT,     /* heat of solution of an oil, J/mol: 30e3 (20e3..40e3), m */
    ST_SALTING_OUT,  /* m3 of liquid a kg of sugar: 3e-4 (0..1e-3), m */
    ST_LOUCHE_CLEAR, /* index below which a drink is called clear: 0.7, p */
    ST_LOUCHE_CLOUD, /* index above which it is called cloudy: 1.4, p */
    /* settling.h */
    ST_HINDRANCE, /* exponent of 1 - phi: 4.65, no range stated, m */
    /* ageing.h */
    ST_INVERSION_KH,     /* at 25 C, m3/(mol s): 1.4e-7, x/: 3 in spirit, m */
    ST_EA_INVERSION,     /* J/mol: 108e3 (107e3..111.2e3), r */
    ST_FADING_HALF_LIFE, /* at 20 C, s: 3 months, x/: 2, c */
    ST_EA_FADING,        /* J/mol: 58.6e3 (50e3..70e3), c */
    /* toasting.h */
    ST_EA_FLAVOUR,     /* J/mol: 100e3 (80e3..120e3), m */
    ST_GLYCOSIDE_RATE, /* at 160 C as set on the oven, 1/s: 1.733e-3, x/: 2 (one run), c */
    ST_EA_GLYCOSIDE,   /* J/mol: 100e3 (60e3..140e3), m */
    /* cyanogen.h */
    ST_AMYGDALIN_UNKNOWN, /* content of kernels nobody measured, kg/kg: 0.069, the upper end read, r */
    /* bitterness.h, sweetness.h */
    ST_QUININE_THRESHOLD, /* kg/m3: 5e-3 (3.6e-3..5.8e-3), r */
    ST_BITTERNESS_ERROR,  /* what to multiply a sum of bitterness by: 1, x/: 3, m */
    ST_SWEET_POWER,       /* exponent for sugars: 1.3 (1.1..1.5), r */
    ST_NSTEEP_CONSTANT
};

struct st_steep_constant_row {
    const char *name; /* as in "the NAME" */
    const char *unit; /* SI; "1" for none */
    double low, mid, high;
    char mark;
    const char *source;
};

/* The row of a constant; NULL for a value that is none. */
const struct st_steep_constant_row *st_steep_constant_get(enum st_steep_constant c);

/* Its middle value.  c must be a constant: anything else is a mistake of ours (assert). */
double st_steep_constant(enum st_steep_constant c);

#endif
