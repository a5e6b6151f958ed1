#ifndef ST_MODEL_DRINK_CLASS_H
#define ST_MODEL_DRINK_CLASS_H

#include "model/foresee.h"
#include "model/rule.h"

/* What a drink may be called: classes of law as rows (data/classes.tsv, text/class_sheet.h), held against strength, sugar as
 * invert, what the alcohol comes from and what went in.  Verdicts have three values, for every figure is an interval. */

enum st_truth { ST_NO, ST_UNDECIDED, ST_YES };

enum st_need_kind {
    ST_NEED_BASE,      /* all alcohol comes from one of these: words of the line, or keys of the ingredient */
    ST_NEED_WITH,      /* at least one of these keys went in */
    ST_NEED_ONLY,      /* what gives flavour is of these keys, and nothing else */
    ST_NEED_WITHOUT,   /* none of this kind (a word of st_kind_name) went in */
    ST_NEED_FLAVOURED, /* something gives it flavour */
    ST_NNEED
};

struct st_class_need {
    enum st_need_kind kind;
    const char *list, *maybe; /* ',' between; maybe: keys that may be one of them (fruit spirit for kirsch), or "" */
};

enum { ST_MAX_NEEDS = 4, ST_MAX_CLASSES = 48 };

struct st_class_row {
    const char *key, *name; /* "eu-liqueur", "liqueur" */
    unsigned places;        /* ST_PLACE_* */
    const char *document, *article;
    int year;
    double strength;            /* % vol at least; NAN none, likewise below */
    double invert, most_invert; /* g/L of sugar as invert, at least and at most */
    double mass_pct;            /* g of sugar in 100 g of the drink, at least */
    double yolk;                /* g/L of egg yolk, at least */
    struct st_class_need need[ST_MAX_NEEDS];
    int n_need;
    const char *ask;  /* what else it asks, which is not judged here: then nothing is surer than undecided; "" none */
    const char *says; /* our own sentence: what the class is */
    char mark;        /* r, s (read in a secondary source), m */
    const char *source, *note;
};

struct st_classes {
    const struct st_class_row *row;
    int n;
};

/* What is judged.  Not known is not zero: it leaves a class undecided. */
struct st_class_facts {
    const struct st_recipe *recipe;
    struct st_interval strength, invert, mass_pct, yolk; /* % vol, g/L, g in 100 g, g/L */
};

/* Of a recipe and what was foretold of it (f NULL: no figure is known).  The yolk is what was put in, by litre of the drink;
 * not known when a step takes only part of another, or where whole eggs went in. */
void st_class_facts_of(const struct st_recipe *r, const struct st_foretold *f, struct st_class_facts *out);

enum st_class_figure {
    ST_CLASS_STRENGTH,
    ST_CLASS_INVERT,
    ST_CLASS_MOST_INVERT,
    ST_CLASS_MASS_PCT,
    ST_CLASS_YOLK,
    ST_NCLASS_FIGURE
};

struct st_class_gap {
    enum st_class_figure of;
    enum st_truth truth;
    double limit;
    struct st_interval is;
    double lacks;      /* of the figure as foretold; <= 0: nothing.  Of ST_CLASS_MOST_INVERT what is too much */
    double lacks_sure; /* of its unluckier end */
};

struct st_class_verdict {
    const struct st_class_row *row;
    enum st_truth truth; /* the worst of all that follows, and no better than undecided where the row asks for more */
    enum st_truth base;  /* alcohol from spirit: all of it, some beside wine or beer, none */
    enum st_truth needs; /* the worst of need[] */
    enum st_truth figures;
    enum st_truth need[ST_MAX_NEEDS];
    struct st_class_gap gap[ST_NCLASS_FIGURE];
    int n_gap;
};

/* Judge one row; and all rows of the places, in the sheet's order: how many were put into out[max]. */
void st_class_judge(const struct st_class_row *row, const struct st_class_facts *facts, struct st_class_verdict *out);
int st_classes_judge(const struct st_classes *all, const struct st_class_facts *facts, unsigned places,
                     struct st_class_verdict out[], int max);

/* Where the alcohol comes from, as above. */
enum st_truth st_class_base(const struct st_recipe *r);

/* g of invert sugar from 1 g of sucrose, by molar masses 342.30 and 2 x 180.16. */
#define ST_INVERT_OF_SUCROSE 1.052632

#endif
