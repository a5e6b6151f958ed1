#ifndef ST_CORE_BATH_H
#define ST_CORE_BATH_H

#include <stdbool.h>
#include <stddef.h>

#include "crank.h"

/* One substance between pieces and the well stirred liquid they lie in, over time.
 *
 * ST_BATH_LANES jars are reckoned side by side: lanes.  A lane is a draw, or another substance in the same jar; every
 * figure may differ from lane to lane, but not the number of pieces, their bodies, and when they go in and out.
 *
 * A piece stands for all pieces of one ingredient.  It has two parts, both uniform at first:
 *   the washed part, `washed` of its volume, is one compartment: dc/dt = -wash_rate (c - K C);
 *   the rest diffuses: Fick's law in a sphere, cylinder or slab, in shells that are thinner towards the surface, where
 *   the flux is D (c_surface - K C) a-side in series with a skin of Biot number biot = k a/(K D).
 * C is what is dissolved in the liquid, K = c_piece/c_liquid at equilibrium.
 *
 * Units: any unit of amount; any one unit of volume, concentrations are amount per that volume; seconds (rate and
 * wash_rate are 1/s, so any one unit of time).
 *
 * The liquid can hold no more than cap dissolved.  At the cap, pieces that would give stop giving, pieces that are
 * below K cap go on taking, and nothing is lost.  When the cap falls below what is dissolved (water poured to an oil),
 * what is over stays in the liquid undissolved, pieces see the cap, and it dissolves again as room comes. */

enum { ST_BATH_LANES = 8, ST_BATH_PIECES = 24, ST_BATH_SHELLS = 400 /* at most */, ST_BATH_SHELLS_USUAL = 60 };

typedef double st_lanes[ST_BATH_LANES];

/* May be changed between steps: in, rate, partition, biot, wash_rate.  volume and washed only while the piece is
 * empty, before st_bath_fill: what is in a piece is kept as concentrations of its parts. */
struct st_bath_piece {
    enum st_body body;  /* set by st_bath_begin */
    bool in;            /* in the liquid; out: as it is, nothing moves, also inside */
    st_lanes volume;    /* of the piece as it exchanges, >= 0 */
    st_lanes rate;      /* D/a^2, 1/s, >= 0 */
    st_lanes partition; /* K, > 0 */
    st_lanes biot;      /* k a/(K D), >= 0; INFINITY: no skin; 0: a skin that lets nothing through */
    st_lanes washed;    /* share of the volume that is washed out, 0 .. 1 */
    st_lanes wash_rate; /* 1/s, >= 0 */
};

/* volume and cap may be changed between steps; liquid too (it is an amount, so a change of volume alone thins it). */
struct st_bath {
    int n_piece, shells;
    struct st_bath_piece piece[ST_BATH_PIECES];
    st_lanes volume; /* of the liquid, > 0 */
    st_lanes cap;    /* most that it holds dissolved, amount/volume, >= 0; INFINITY: no limit */
    st_lanes liquid; /* amount in the liquid, dissolved or not, >= 0 */

    /* kept by the functions below */
    double step;                          /* what the next step of st_bath_run would be; 0: start small */
    long steps, refused, first_order;     /* steps done; tried again; with a lane of first order (Note 3) */
    double *state, *stage, *next, *spare; /* what is in the pieces, [shells + 1][n_piece][lanes] (bath_inside.h) */
    struct st_bath_factor *factor;        /* what the last steps' coefficients came to */
    struct st_bath_shell *shell;          /* the three bodies in shells */
    st_lanes gave[ST_BATH_PIECES];        /* amount given in unit time at the end of the last step */
    bool gave_known, was_in[ST_BATH_PIECES];
};

/* Doubles that the workspace needs; 0 when a number is outside 1 .. ST_BATH_PIECES or 4 .. ST_BATH_SHELLS. */
size_t st_bath_work(int n_piece, int shells);

/* Begin with clear liquid and empty pieces.
 *
 * Given:
 *   n_piece        1 .. ST_BATH_PIECES
 *   body[n_piece]  shapes
 *   shells         4 .. ST_BATH_SHELLS
 *   work[]         st_bath_work(n_piece, shells) doubles, the caller's; used until the bath is done with
 * Returned:
 *   *b             liquid: volume 1, cap INFINITY, amount 0; pieces: not in, volume 0, rate 0, partition 1, biot
 *                  INFINITY, washed 0, wash_rate 0; in every lane, so that lanes without use need no care
 * Status:
 *   ST_OK; ST_E_DOMAIN for numbers outside the limits: *b is untouched
 * Notes:
 *   1. *b holds pointers into work and must not be copied while work is in use by another.
 */
enum st_status st_bath_begin(struct st_bath *b, int n_piece, const enum st_body body[], int shells, double work[]);

/* All of piece j, both parts, at concentration c0[lane] >= 0.  ST_OK, or ST_E_DOMAIN (nothing is changed). */
enum st_status st_bath_fill(struct st_bath *b, int j, const st_lanes c0);

/* One step of dt.
 *
 * Given:
 *   dt   > 0
 * Returned:
 *   *b   dt later; as it was when the status is negative
 * Status:
 *   ST_OK; ST_E_DOMAIN when dt or a figure of b is outside its limits or NaN, or an amount would not be finite
 * Notes:
 *   1. Implicit, second order, L-stable: two stages of the diagonally implicit Runge-Kutta method with gamma = 1 -
 *      1/sqrt 2.  A stage eliminates each piece from its middle to its surface, finds C from one equation a lane, and
 *      goes back.  The elimination only adds and multiplies what is not negative, so it keeps small figures exact.
 *   2. Amounts: what the pieces give is what the liquid gets, to rounding (closure 1e-9 over any schedule).
 *   3. No method of second order keeps every figure from going below 0 at any step.  Where a lane would, or where it
 *      is at its cap, that lane takes two implicit Euler steps of dt/2 instead, which cannot.
 * Source:
 *   [crank1975] ch. 8 (finite differences), [alexander1977] (the method).
 */
enum st_status st_bath_step(struct st_bath *b, double dt);

/* Go on by `time`, in as many steps as needed.
 *
 * Given:
 *   time        >= 0
 *   tolerance   1e-12 .. 0.1: most that a step may misplace of a piece's amount, as a share of all in the lane.
 *               1e-4 is usual: errors of up to 1e-4 of all while much moves, of 1e-6 when it has slowed down
 * Returned:
 *   *b          time later
 * Status:
 *   ST_OK; ST_E_DOMAIN as st_bath_step, b as it was (at a time between, where an amount would not be finite);
 *   ST_E_NOCONV after 1 000 000 steps, b at a time between
 * Notes:
 *   1. Steps double and halve, so that coefficients serve for several.  After a begin, fill, pour, draw or press, or
 *      when a piece went in, the first step is a millionth of the fastest piece's a^2/D, or a thousandth of the
 *      fastest 1/wash_rate.  The step is kept from one call to the next: a call costs one step or two beside those
 *      that the time needs.  Figures that the caller changed need no word: a step that misplaces too much is tried
 *      again, shorter.
 *   2. The error of a step is measured by what a rule of third order through the rates at its start, first stage and
 *      end makes of what each piece gave.
 */
enum st_status st_bath_run(struct st_bath *b, double time, double tolerance);

/* Pour liquid of `volume` and `amount` of the substance (both >= 0) to the liquid. ST_OK, or ST_E_DOMAIN. */
enum st_status st_bath_pour(struct st_bath *b, const st_lanes volume, const st_lanes amount);

/* Take `share`, 0 <= share < 1, of the liquid away, as it is; *taken (NULL: not wanted) is the amount in it.  To take
 * all liquid and put in another, set volume and liquid.  ST_OK, or ST_E_DOMAIN. */
enum st_status st_bath_draw(struct st_bath *b, const st_lanes share, st_lanes taken);

/* Press `share`, 0 .. 1, of what is in each part of piece j into the liquid; the volumes stay as they are.
 * ST_OK, or ST_E_DOMAIN. */
enum st_status st_bath_press(struct st_bath *b, int j, const st_lanes share);

/* Amounts: in piece j (whether it is in or out); in liquid and pieces together; dissolved in the liquid, which is
 * the smaller of liquid and cap volume.  j must be a piece of b. */
void st_bath_in_piece(const struct st_bath *b, int j, st_lanes amount);
void st_bath_total(const struct st_bath *b, st_lanes amount);
void st_bath_dissolved(const struct st_bath *b, st_lanes amount);

/* x in every lane. */
static inline void st_lanes_set(st_lanes y, double x)
{
    for (int l = 0; l < ST_BATH_LANES; l++)
        y[l] = x;
}

#endif
