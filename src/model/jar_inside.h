#ifndef ST_MODEL_JAR_INSIDE_H
#define ST_MODEL_JAR_INSIDE_H

#include "model/jar.h"
#include "model/oil_content.h"

/* For the files jar*.c of model only.
 *
 * A run has sets: set 0 is the middle, the others are draws (or, asked for, given theta).  jar_draw.c makes the numbers
 * of a set, jar_ledger.c the grams of liquor in every place, jar_bath.c runs a substance through all stages, jar_run.c
 * does so for the liquid and then for each curve, jar_fade.c takes off what faded, jar_told.c makes intervals. */

enum { ST_JAR_CURVES = ST_JAR_PIECES * 13, ST_JAR_GRID = 1200 };

/* One uncertain set of numbers. */
struct st_jar_set {
    double pour[ST_JAR_POURS][ST_NCOMP];   /* g */
    double piece[ST_JAR_PIECES][ST_NCOMP]; /* g */
    double share[ST_JAR_STAGES][ST_JAR_TAKES];
    double theta[ST_JAR_PIECES][ST_NTHETA];
    double retention[ST_JAR_PIECES]; /* g/g, theta in it */
    double z_size[ST_JAR_PIECES], z_skin[ST_JAR_PIECES], z_wash[ST_JAR_PIECES],
        z_ea[ST_JAR_PIECES];                     /* standard normal */
    double content[ST_JAR_PIECES][ST_MAX_FLAGS]; /* mg/g, theta in it; NAN unknown */
    double oil[ST_JAR_PIECES][ST_MAX_FLAGS];     /* mg/g of oil behind that marker, theta in it; 0 nothing limits it */
    double warmth[ST_JAR_STAGES];                /* K: at its temperature, or added to its path */
    double press[ST_JAR_STAGES], drained[ST_JAR_STAGES];
    double still[ST_JAR_STAGES]; /* Biot of a liquid nobody stirs */
    double partition_share, hump_centre, solubility_error;
    double evaporates;             /* share of the ethanol lost in a second */
    double fades_half_s, fades_ea; /* red of fruit: half at 20 C; J/mol */
};

/* Grams of liquor of one set: what the bath's volumes are. */
struct st_jar_ledger {
    double in[ST_JAR_STAGES];                   /* poured and taken, before pieces draw any in */
    double liquid[ST_JAR_STAGES];               /* outside the pieces */
    double out[ST_JAR_STAGES];                  /* strained off, after losses */
    double volume[ST_JAR_PIECES];               /* in the piece while it lies */
    double soaks[ST_JAR_PIECES][ST_JAR_STAGES]; /* drawn in at the beginning of a stage */
    double keeps[ST_JAR_PIECES][ST_JAR_STAGES]; /* at its end, strained; volume when it stays */
    double solids[ST_JAR_STAGES];               /* g of what the strainer holds: insoluble, and liquor kept */
};

/* What a curve is of. */
struct st_jar_followed {
    int piece, marker; /* marker: of the piece; -1 for what has no compound */
    const struct st_compound *what;
    enum st_of of;
    const char *name, *family;
    bool late, known, fades, juice; /* juice: its sugar, which goes with the liquid */
    bool lies;                      /* in the last jar */
};

struct st_jar_time {
    double t_s, dt_s; /* since the stage began; since the time before */
    int stage;
    int told; /* which of the told times; -1 */
};

struct st_jar_work {
    const struct st_jar *j;
    const struct st_jar_options *o;
    int n_set;           /* the middle and the draws, or the given theta */
    const double *theta; /* given, or NULL */
    struct st_oil_content oil[ST_JAR_PIECES][ST_MAX_FLAGS];
    double *drawn; /* of the source: [n_column][n_set]; NULL */
    struct st_habit habit[ST_JAR_PIECES][ST_NOF];
    struct st_theta_prior prior[ST_JAR_PIECES];
    struct st_jar_time time[ST_JAR_GRID];
    int n_grid,
        first[ST_JAR_STAGES + 1]; /* times of stage s: first[s] .. first[s + 1] - 1; the first is its beginning */
    double start[ST_JAR_STAGES], length[ST_JAR_STAGES];
    struct st_jar_followed followed[ST_JAR_CURVES];
    int n_followed, n_told;
    enum st_status status;
    double closure;
    double *room; /* of the bath */
    double scratch[ST_JAR_PIECES][ST_BATH_LANES];
    double thick[1001]; /* viscosity of water over that of spirit, by 0.1 % vol */
    int shells;
    double tolerance;
};

/* ---- jar_source.c: what a recipe's plan draws ---- */
struct st_jar_source *st_jar_source_create(struct st_plan *plan); /* takes plan; NULL: no memory (plan is freed) */
void st_jar_source_free(struct st_jar_source *s);
/* Which column a register of the plan's tape is; its middle is *value. */
int st_jar_source_column(struct st_jar_source *s, int reg, double *value);
struct st_plan *st_jar_source_plan(const struct st_jar_source *s);
bool st_jar_source_ready(struct st_jar_source *s); /* after the last column was asked for */
int st_jar_source_columns(const struct st_jar_source *s);
/* n draws of each column: x[column][n]. */
enum st_status st_jar_source_draw(const struct st_jar_source *s, uint64_t seed, size_t n, double x[]);

/* ---- jar_draw.c ---- */
enum st_status st_jar_draw(const struct st_jar_work *w, int set, struct st_jar_set *out);

/* ---- jar_ledger.c ---- */
/* ST_E_DOMAIN: a stage that steeps has no liquid. */
enum st_status st_jar_ledger(const struct st_jar *j, const struct st_jar_set *s, struct st_jar_ledger *out);
bool st_jar_is_strained(const struct st_jar *j, int piece, int stage); /* at the end of the stage, it comes out */

/* ---- jar_follow.c: what is followed ---- */
void st_jar_follow(struct st_jar_work *w);

/* ---- jar_grid.c ---- */
enum st_status st_jar_grid(struct st_jar_work *w);

/* ---- jar_bath.c ---- */
/* Temperature of a stage t_s after it began, K; where it jumps, what it was before (after: what it is then). */
double st_jar_temperature(const struct st_jar_stage *g, double warmth, double t_s, bool after);

/* One substance of one set: what is loaded, and how it moves. */
struct st_jar_job {
    const struct st_jar_set *set;
    const struct st_jar_ledger *ledger;
    enum st_of of;
    const struct st_compound *what; /* NULL: nothing is known of it, or the liquid */
    bool bulk;                      /* the liquid itself: K 1, and what is drawn in comes with the liquid */
    double loaded[ST_JAR_PIECES];   /* amount in each piece when it first goes in */
    double poured[ST_JAR_STAGES];
    double evaporates;             /* 1/s */
    const double *mixed;           /* [n_stage] volume fraction of ethanol when all is mixed: what D and K go by */
    const double *cap;             /* [n_grid] most per g of liquor; NULL: no limit */
    int watched;                   /* piece whose content is written down; -1 */
    double *liquid;                /* [n_grid] returned: amount outside the pieces */
    double *inside;                /* [n_grid] returned: amount in the watched piece, or NULL */
    double out[ST_JAR_STAGES];     /* returned: amount strained off */
    double equal;                  /* returned: amount in the watched piece if its last stage lasted for ever ... */
    double equal_free;             /* returned: ... and the liquid could hold any amount */
    double closure;                /* returned */
    double left_of[ST_JAR_STAGES]; /* room: what is left of out */
};
/* Up to ST_BATH_LANES jobs whose pieces have the same bodies. */
enum st_status st_jar_bath(struct st_jar_work *w, struct st_jar_job job[], int n);

/* Mean of Arrhenius's factor, 1 at 20 C, from t0 to t1 after a stage began; warmth: of the set. */
double st_jar_warmth_factor(const struct st_jar_stage *g, double warmth, double Ea, double t0, double t1);

/* ---- jar_fade.c ---- */
/* left[n_grid]: share of the colour of a piece that has not faded, 1 before it goes in.  Returned: in how long half of it
 * fades, s, over the whole time that it is there. */
double st_jar_fade(const struct st_jar_work *w, const struct st_jar_set *set, int piece, double left[]);

/* ---- jar_told.c ---- */
struct st_jar_raw {
    double *strength, *sugar, *acid, *volume, *undissolved; /* [n_told][n_set] */
    double *share, *mg, *here;                              /* [n_followed][n_told][n_set] */
    double *left;   /* as share: of a colour, what has not faded of it; NULL when nothing fades */
    double *faded;  /* as share: of a colour, of what has come, what faded; NULL likewise; st_jar_tell fills it */
    double *fade;   /* [n_followed][n_set]: half of it fades in, s; NULL likewise */
    double *weight; /* [n_followed][n_set]: mg that can come; 1 where that is not known */
    double *comes;  /* [n_followed][n_set]: share of all in it that comes in the end */
    double *before; /* [n_followed][n_set]: of that, out before the last jar was filled */
    double *end;    /* [5][n_stage][n_set]: g, mL, % vol, g/L, g of solids */
    double full[ST_JAR_CURVES];
};
enum st_status st_jar_tell(struct st_jar_work *w, struct st_jar_raw *raw, struct st_jar_told *out);

/* ---- jar_begin.c: before anything runs ---- */
/* habit, prior, oil and status of every piece; below 0 when a cut is not known. */
enum st_status st_jar_begin_habits(struct st_jar_work *w);
/* thick: how viscous spirit is against water, by 0.1 % vol. */
void st_jar_begin_thickness(struct st_jar_work *w);
/* drawn: the source's columns, where there are any to draw. */
enum st_status st_jar_begin_source(struct st_jar_work *w);

/* ---- jar_raw.c ---- */
double *st_jar_doubles(size_t n); /* n zeros, or NULL; free() */
/* Room for all that a run tells.  False when memory ran out; st_jar_raw_drop in either case. */
bool st_jar_raw_lay(const struct st_jar_work *w, struct st_jar_raw *raw);
void st_jar_raw_drop(struct st_jar_raw *raw);

#endif
