#ifndef ST_MODEL_HABIT_H
#define ST_MODEL_HABIT_H

#include "core/crank.h"
#include "model/ingredient.h"

/* How a kind of ingredient gives: the rows of data/habits.tsv (text/habits.h reads them), and what they come to for one
 * ingredient, cut and sort of substance. */

/* From large to small; strips and zest are beside the order. */
enum st_cut {
    ST_CUT_WHOLE, /* as bought */
    ST_CUT_PRICKED,
    ST_CUT_HALVED,
    ST_CUT_QUARTERED, /* wedges too */
    ST_CUT_SLICED,
    ST_CUT_STRIPS, /* and shreds, coarse gratings */
    ST_CUT_ZEST,   /* of peel: the coloured skin alone, without the white, in strips or large */
    ST_CUT_CHOPPED,
    ST_CUT_GRATED_ZEST, /* of peel: the same, grated */
    ST_CUT_CRUSHED,     /* bruised, cracked, flaked, fine gratings */
    ST_CUT_GROUND,
    ST_NCUT
};
const char *st_cut_name(enum st_cut c); /* "whole", "pricked" ... */

/* Sorts of substance that leave one piece at different paces. */
enum st_of {
    ST_OF_ANY,    /* in a row: where no row of its own is given */
    ST_OF_LIQUID, /* water, ethanol, sugars, acid */
    ST_OF_AROMA,
    ST_OF_PIGMENT,
    ST_OF_BITTER,
    ST_OF_TANNIN,
    ST_NOF
};
const char *st_of_name(enum st_of o);
/* From the family of a compound: "red colour" pigment, "bitter" bitter, "astringent" tannin, "sweet", "sour" and
 * "solvent" liquid; all else, NULL too, aroma. */
enum st_of st_of_family(const char *family);

/* A figure known up to a factor: times is one standard deviation of its logarithm, as a factor (1: sharp). */
struct st_spread {
    double value, times;
};

/* One row.  What it does not say comes from another (st_habit_find). */
struct st_habit_row {
    int line;               /* of the sheet, from 1 */
    bool of_kind[ST_NKIND]; /* for these kinds ... */
    const char *ingredient; /* ... or for this slug alone; "" */
    enum st_cut cut;
    enum st_of of;
    bool has_body, has_w;
    enum st_body body;
    struct st_spread a_m;  /* value 0: not said; so for all of these */
    double w, w_sd;        /* washed share; standard deviation of its logit */
    struct st_spread wash; /* rate of washing, 1/s */
    struct st_spread d;    /* D in the piece at 20 C, m2/s, in a liquid of at_pct_vol */
    double at_pct_vol;     /* NAN: not said */
    double d_ref;          /* D in water of that for which d is given, m2/s; 0: not said */
    struct st_spread k;    /* c_piece/c_liquid in the end, at 40 % vol */
    struct st_spread biot; /* INFINITY: no skin */
    double ea_kj, ea_sd;   /* activation energy, kJ/mol */
    const char *late;      /* words, when this comes late and grows: "bitterness of the white pith"; "" */
    bool none; /* a piece cut so has nothing of this: late is `none` in the sheet (zest, bitterness of the pith) */
    char mark; /* r read, m from memory, p common practice without a source */
    const char *source, *note;
};

struct st_habits {
    const struct st_habit_row *row;
    int n;
};

/* What the rows come to. */
struct st_habit {
    enum st_body body;
    struct st_spread a_m, wash, d, k, biot;
    double w, w_sd; /* middle share, standard deviation of its logit */
    double at_pct_vol, d_ref, ea_kj, ea_sd;
    const char *late;   /* "" */
    bool none;          /* nothing of this is in a piece cut so */
    char mark;          /* the worst of those used: p, m, r */
    const char *source; /* of D, where most of the doubt is */
    const char *note;   /* of the row of this cut; "" */
    bool cut_known;     /* false: no row knows this cut of it; it is taken as the next larger cut that one knows */
    int line_d, line_a; /* of the sheet: where D and the size are from */
};

/* Given:    slug (NULL or "": none) and kind of an ingredient, how it is cut, of what
 * Returned: *out, every figure filled
 * Status:   ST_OK all of it read; ST_ESTIMATED from memory or common practice (nearly always); ST_E_REFUSED the sheet
 *           has no whole row for the kind
 * Notes:
 *   1. Size, body, washed share and skin belong to the cut: looked for in the row of ingredient and cut, then of kind
 * and cut, then of ingredient and whole, then of kind and whole.  D, K, rate of washing and activation energy belong to
 *      the tissue: ingredient and cut, ingredient and whole, kind and cut, kind and whole.  In each, first the row of
 *      this substance, then the row of any.
 *   2. A cut that nobody knows of a kind is the next larger one that is known: it never gives faster than it should.
 *   3. Frozen fruit has rows of its own (broken cells, no skin, more that is washed out); green fruit uses the rows of
 *      fruit, not those of nuts. */
enum st_status st_habit_find(const struct st_habits *h, const char *slug, enum st_kind kind, enum st_cut cut,
                             enum st_of of, struct st_habit *out);

/* The rows of a kind that name something that comes late from pieces cut so: how many were put into row[max]. */
int st_habit_late(const struct st_habits *h, const char *slug, enum st_kind kind, enum st_cut cut,
                  const struct st_habit_row *row[], int max);

/* ---- what can be learnt of an ingredient ----
 *
 * theta of a piece, as distances from the sheet's middle, in natural logarithms (w: logit).  Distances, so that what
 * was learnt of an ingredient in slices holds for its halves. */
enum st_theta {
    ST_THETA_D,  /* ln D */
    ST_THETA_K,  /* ln K */
    ST_THETA_W,  /* logit of the washed share */
    ST_THETA_C0, /* ln of how much is in it, all its substances alike */
    ST_THETA_R,  /* ln of the liquor that it keeps */
    ST_NTHETA
};
const char *st_theta_name(enum st_theta t); /* "diffusivity" ... for people */

struct st_theta_prior {
    double sd[ST_NTHETA]; /* independent, about 0 */
};

/* By what the sheet says of D, K and w; the content 0.5 (0.3 within one maker's lots is for whoever learns); retention
 * as its range.  [infusion notes of this project, from memory]. */
void st_theta_prior_of(const struct st_habit *h, const struct st_range *retention, struct st_theta_prior *out);

#endif
