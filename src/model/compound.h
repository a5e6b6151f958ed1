#ifndef ST_MODEL_COMPOUND_H
#define ST_MODEL_COMPOUND_H

#include <stdbool.h>

/* What can be followed from an ingredient into the glass: the rows of data/markers.tsv (text/compounds.h reads them).
 */

/* How strength acts on it.  What is not known to be one of the others moves freely. */
enum st_action {
    ST_ACTION_FREE, /* sugar, acid, other small things that water takes as well as spirit */
    ST_ACTION_HUMP, /* bitter, astringent, coloured: best near 50 % vol, little difference from 35 to 65 */
    ST_ACTION_OIL   /* log-linear: the stronger the liquid, the more of it goes in; the liquid can be full */
};

struct st_compound {
    const char *name;        /* "trans_anethole": what an ingredient names as its marker */
    const char *other_names; /* spellings of older tables, '|' between; "" */
    const char *family;      /* what a tongue calls it: "anise", "bitter", "red colour"; never "" */
    double mw;               /* g/mol */
    double log_p;            /* octanol/water; NAN unknown */
    double water_mg_l;       /* dissolves in water at 25 C; INFINITY miscible, NAN unknown */
    double sigma;            /* slope of log10 solubility with the volume fraction of ethanol; NAN unknown */
    double threshold_low, threshold_high; /* mg/L; NAN unknown */
    double ethanolic_low, ethanolic_high; /* thresholds in ethanol and water, mg/L; NAN unknown */
    const char *ethanolic_matrix;         /* "10-40 percent vol"; "" */
    double bitterness;                    /* bitterness value; NAN unknown */
    double d_water;                       /* m2/s at 25 C in water; NAN unknown */
    enum st_action action;
    bool flavour;       /* false: a poison or a drug.  It is never shown as a flavour with a middle estimate, and
                         * jar.h never follows it: it belongs to the cautions */
    const char *mark;   /* "mixed", "memory": of the row, as the sheet tells it */
    const char *source; /* keys, of the sheet as a whole */
    const char *note;
};

struct st_compounds {
    const struct st_compound *row;
    int n;
};

/* By name or other name; NULL when there is none. */
const struct st_compound *st_compound_find(const struct st_compounds *c, const char *name);

/* The free-liquid diffusivity to compare with that of another: its own, or that of a usual aroma, 7e-10 m2/s, where
 * none is known. */
double st_compound_d_water(const struct st_compound *c);

#endif
