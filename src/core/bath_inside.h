#ifndef ST_CORE_BATH_INSIDE_H
#define ST_CORE_BATH_INSIDE_H

#include "bath.h"

/* For bath*.c only.  A row holds one shell of every piece: n_piece times ST_BATH_LANES cells, so that loops over a row
 * are long; row `shells` holds the washed parts.  Cells of shells hold sqrt(v) c, v the shell's share of the piece's
 * volume: then the equations are symmetric, and both sweeps need the same coefficients.  Washed parts hold c. */
enum { ST_BATH_CELLS = ST_BATH_PIECES * ST_BATH_LANES };

/* Loops over lanes are compiled for several instruction sets where gcc can pick one at start; the arithmetic, and so
 * the result, is the same in each.  Left out under sanitizers of addresses and threads. */
#if defined(__x86_64__) && defined(__linux__) && defined(__GNUC__) && !defined(__clang__) &&                           \
    !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__) && defined(__OPTIMIZE__)
#define ST_BATH_CLONES __attribute__((target_clones("avx512f", "avx2", "default")))
#else
#define ST_BATH_CLONES
#endif

/* A shell of a body of a = 1: g is the conductance through its inner boundary, g' that through its outer one (of the
 * outermost: from its middle to the surface). */
struct st_bath_shell {
    double volume, root;          /* v, which add up to 1, and sqrt(v) */
    double inward, outward, link; /* g/v, g'/v, g'/sqrt(v v'), v' of the next shell; 0 for the outermost */
    double area, depth;           /* of the surface, over the volume of the body; surface to middle */
};

/* An implicit Euler step of tau, eliminated from the middle outwards.  With x = tau D/a^2,
 *   own_k = 1 + x (g/v) own_k-1/p_k-1,  p_k = own_k + x g'/v,  pass = x link/p,  inverse = 1/p;
 * nothing is taken from anything, so all keep their digits.  At the surface open = x s/v, where s is the conductance of
 * half a shell and the skin, and rest = own/p = 1 - open/p.  Pieces that are out have x = 0, which changes no bit. */
struct st_bath_factor {
    double tau;
    bool known;
    bool in[ST_BATH_PIECES];
    st_lanes rate[ST_BATH_PIECES], biot[ST_BATH_PIECES]; /* what the factor was made of */
    double open[ST_BATH_CELLS], rest[ST_BATH_CELLS];
    double *pass, *inverse; /* [shells][n_piece][lanes] */
};

enum { ST_BATH_WHOLE, ST_BATH_HALF, ST_BATH_FACTORS }; /* for tau = gamma dt, and dt/2 */

/* What a step did, beside the new concentrations. */
struct st_bath_move {
    st_lanes liquid;                /* amount in the liquid after it */
    st_lanes early[ST_BATH_PIECES]; /* amount a piece gave in unit time, at the first stage */
    st_lanes late[ST_BATH_PIECES];  /* ... and at the end */
    bool first_order[ST_BATH_LANES];
    bool capped[ST_BATH_LANES]; /* and all that moves is set by the cap */
};

static inline size_t st_bath_row(const struct st_bath *b)
{
    return (size_t)b->n_piece * ST_BATH_LANES;
}

/* Shell k of piece j. */
static inline const struct st_bath_shell *st_bath_shell(const struct st_bath *b, int j, int k)
{
    return &b->shell[(int)b->piece[j].body * b->shells + k];
}

static inline void st_lanes_copy(st_lanes to, const st_lanes from)
{
    for (int l = 0; l < ST_BATH_LANES; l++)
        to[l] = from[l];
}

/* The factor for steps of tau (which: ST_BATH_WHOLE, ST_BATH_HALF), that of before if nothing changed. */
const struct st_bath_factor *st_bath_factor_for(struct st_bath *b, int which, double tau);

/* Sweeps over all cells, n a row; arrays do not overlap.
 *   outwards        to = from, and what each shell passes on to the next; the washed parts are left alone
 *   outwards_ahead  the same of from + ST_BATH_AHEAD (stage - from): the second stage of the method
 *   inwards         the solution, when to[] of the outermost shells is it already
 *   smallest        low[lane] becomes the smallest of itself, 0, and x[i] of that lane, i < n */
#define ST_BATH_AHEAD 2.41421356237309504880169 /* (1 - gamma)/gamma, gamma = 1 - 1/sqrt 2 */
void st_bath_outwards(size_t n, int shells, const double *restrict pass, const double *restrict from,
                      double *restrict to);
void st_bath_outwards_ahead(size_t n, int shells, const double *restrict pass, const double *restrict from,
                            const double *restrict stage, double *restrict to);
void st_bath_inwards(size_t n, int shells, const double *restrict pass, const double *restrict inverse,
                     double *restrict to);
void st_bath_smallest(size_t n, const double *restrict x, double *restrict low);

/* Whether all figures that a caller can set are inside their limits. */
bool st_bath_is_sound(const struct st_bath *b);

/* One step of dt from b->state into b->next, which the caller exchanges if it takes the step; *b is else unchanged but
 * for its room.  False when a result is not finite. */
bool st_bath_try(struct st_bath *b, double dt, struct st_bath_move *m);

/* Take the step that was tried. */
void st_bath_take(struct st_bath *b, const struct st_bath_move *m);

#endif
