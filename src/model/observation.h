#ifndef ST_MODEL_OBSERVATION_H
#define ST_MODEL_OBSERVATION_H

#include "model/amount.h"
#include "model/problem.h"

/* What a maker saw, weighed, read or tasted of a jar, with its day.  The one record for everything that is learnt from:
 * a file of readings (docs/seen-file.md), and the notebook later.  Entered values only; nothing here is computed. */

enum st_seen {
    ST_SEEN_DRAINED_G, /* g: the strained solids with what they keep */
    ST_SEEN_LIQUOR_ML, /* mL strained off, at the temperature given, else 20 C */
    ST_SEEN_SG,        /* hydrometer, 20/20 C unless the temperature is given; of the liquid as it is */
    ST_SEEN_BRIX,      /* hand refractometer, per cent */
    ST_SEEN_STRENGTH,  /* % vol, known by another way (boiled off and weighed, a laboratory) */
    ST_SEEN_SUGAR,     /* g/L of sugars, known by another way */
    ST_SEEN_ACID,      /* g/L as anhydrous citric acid, titrated */
    ST_SEEN_PH,        /* kept; nothing is learnt from it yet */
    ST_SEEN_COLOUR,    /* depth of colour on any scale that grows with it (absorbance, drops of a dye to match); > 0 */
    ST_SEEN_TASTE,     /* -1 too weak, 0 right, +1 too strong */
    ST_SEEN_MARK,      /* 0..10: how strong it tastes of what is named in `of` */
    ST_SEEN_LIQUOR_G,  /* g: what was strained off, or the whole drink, weighed without its vessel */
    ST_SEEN_FLASK_G,   /* g of liquid that fill a flask of flask_ml, weighed in air */
    ST_SEEN_SG_BOILED, /* hydrometer, 20/20 C, after the alcohol was boiled off and the volume made up with water */
    ST_NSEEN
};

enum { ST_SEEN_WORD = 80, ST_SEEN_MOST = 400 /* records in one file */ };

struct st_observation {
    struct st_place at;
    enum st_seen what;
    double value;         /* in the unit above */
    double sd;            /* standard deviation of the reading, same unit; 0: st_seen_usual_sd */
    double t_s;           /* since the jar was begun, >= 0 */
    double temperature_K; /* of the liquid when it was read; NAN: 20 C */
    const char *of;       /* the ingredient (name or slug) it speaks of; "": the whole jar */
    const char *by;       /* who tasted; "" the maker */
    const char *jar;      /* id of the steep step; "" the only one */
    const char *batch;    /* which making of it; "" the only one */
    const char *words;    /* as entered */
    bool after_straining; /* read of what was strained off, not over the pieces */
    double flask_ml;      /* of ST_SEEN_FLASK_G: volume of the flask at 20 C, mL, > 0; else without meaning */
};

struct st_seen_info {
    const char *key;  /* in files and JSON: "drained_g", "liquor_ml", ... */
    const char *name; /* "weight of the drained solids" */
    const char *unit; /* "g" */
    double low, high; /* values that can be */
    bool tasted;      /* a tongue, not an instrument: never touches a bound of what is unwholesome */
};
const struct st_seen_info *st_seen_info(enum st_seen s);

/* The usual standard deviation of a reading where the maker gives none.
 * Notes: drained 2 % and 2 g (drops that cling, scale); volume 2 %; sg 0.001; brix 0.2; strength 0.3; sugar 5 %; acid 5
 * %; colour 15 % (lognormal); mark 1 point (infusion practice, from memory); taste: the probit's own, 0.5 of ln c;
 * weight of the whole 0.5 % and 2 g (drops that cling, a kitchen scale); weighed flask 0.2 % (how well its volume is known,
 * as gauge.h has it) and 0.03 g (digits of 0.1 g); boiled off: 0.001, and 1 % of what it is above 1 (made up to the same
 * volume within 1 %). All from memory, wide on purpose. */
double st_seen_usual_sd(enum st_seen s, double value);

#endif
