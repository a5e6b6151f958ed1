#ifndef ST_MODEL_FORESEE_H
#define ST_MODEL_FORESEE_H

#include <stddef.h>
#include <stdint.h>

#include "model/recipe.h"

/* From a recipe to a foretold bottle: a plan (flat list of operations on streams) is built once, then run
 * nominally (every uncertain input at its middle) and by Monte Carlo.  Pure: no I/O, no clock, no global state. */

enum st_figure { /* what is reported of the drink; names, units in st_figure_info() */
    ST_FIG_STRENGTH, ST_FIG_SUGAR, ST_FIG_SUGAR_INVERT, ST_FIG_EXTRACT, ST_FIG_ACID, ST_FIG_VOLUME, ST_FIG_MASS, ST_FIG_DENSITY,
    ST_FIG_SG, ST_FIG_BRIX, ST_FIG_N, ST_FIG_ENERGY_KJ, ST_FIG_ENERGY_KCAL, ST_FIG_ETHANOL, ST_FIG_BOTTLES, ST_FIG_SUGAR_ACID,
    ST_FIG_FAT, ST_FIG_COST, ST_NFIG
};
struct st_figure_info { const char *key, *name, *unit; }; /* key: JSON name, e.g. "strength_pct_vol" */
const struct st_figure_info *st_figure_info(enum st_figure f);

struct st_interval { double value, low, high; enum st_status status; bool known; };

/* What matters: one uncertain input (a tool, a range, a share), its total effect on strength, sugar and volume. */
struct st_effect {
    char what[96];                 /* "the cup", "water in the damsons", "liquor the damsons keep" */
    enum st_cause { ST_CAUSE_TOOL, ST_CAUSE_RANGE, ST_CAUSE_RETENTION, ST_CAUSE_LOSS, ST_CAUSE_OPEN, ST_CAUSE_LABEL } cause;
    enum st_tool tool;             /* for ST_CAUSE_TOOL */
    int step, line;                /* where it enters, -1 when in several */
    double total[3];               /* total-effect index (Jansen) on strength, sugar, volume: 0..1 */
    double half[3];                /* half width of the 95 % interval now, for the three figures */
    double half_without[3];        /* ... if this input were known exactly */
};

/* One line of the balance, for --explain: the stream after a step. */
struct st_balance {
    int step;
    double mass_g[ST_NCOMP];       /* what goes on, nominal */
    double spent_g[ST_NCOMP];      /* strained off with the solids */
    double lost_g[ST_NCOMP];       /* film, evaporation, lees, boil-off */
    double in_g[ST_NCOMP];         /* everything that came in */
    double closure;                /* |in - out - spent - lost| / in, the worst component; must be <= 1e-9 */
    double strength, sugar, volume_ml, density; enum st_status status;
    double strength_in_steep;      /* % vol of the liquid over the solids in a steep, before straining */
    double lying_ethanol_g;        /* in pieces that lie in what goes on and that no later step takes */
};

enum { ST_MAX_EFFECTS = 48, ST_MAX_MARKERS = 4, ST_MAX_NOTES = 48 };

/* What the maker should be told about one step or line, nominally; the words are the caller's. */
enum st_note_code {
    ST_NOTE_CRYSTALLISES,  /* is: sucrose in the liquid, limit: what dissolves at 20 C, kg/kg */
    ST_NOTE_KEEPS_ALL,     /* is: liquor the solids would keep, limit: what was left to them, g */
    ST_NOTE_TAKEN_TOO_MUCH,/* is: asked, limit: what there was, g */
    ST_NOTE_ALREADY_FULL,  /* "to 1000 mL", but is: mL (or g) are there already, limit: the wish; nothing was added */
    ST_NOTE_BOILED_DRY,    /* is: water to boil off, limit: what was taken at most, g */
    ST_NOTE_BOILS_SPIRIT,  /* a syrup is boiled with is: g of ethanol in it; that ethanol boils off first is not reckoned */
    ST_NOTE_OPEN,          /* an open amount was assumed: is: g, low..high in low, limit */
    ST_NOTE_NOT_STRAINED,  /* is: g of pieces lie in the drink at the end; the figures are of the liquid */
    ST_NOTE_UNUSED,        /* is: g of this step were not used by any other */
    ST_NOTE_ALSO_LOST,     /* a fining agent (is: g) is counted as lost with the lees */
    ST_NOTE_OVERFULL,      /* is: mL of liquid and pieces at 20 C, limit: mL the vessel holds */
    ST_NOTE_BOTTLES_SHORT, /* is: bottles it gives, limit: bottles wished */
    ST_NOTE_STONES_UNSAID, /* weighed with or without its stones, nobody said: both are in the range; is..limit: shares left */
    ST_NOTE_AS_TRIMMED,    /* nobody said how it was weighed: taken as trimmed; is: the share left of it as bought */
    ST_NNOTE
};
struct st_note {
    enum st_note_code code;
    int step, line;                /* line -1: the step as a whole */
    double is, limit, low;
};

struct st_foretold {
    struct st_interval fig[ST_NFIG];
    struct st_balance *balance; int n_balance;     /* n_step of them */
    struct st_effect effect[ST_MAX_EFFECTS]; int n_effect; /* by falling effect on strength+sugar */
    struct st_interval marker_mg_l[ST_MAX_MARKERS]; const char *marker[ST_MAX_MARKERS]; int n_marker;
    double *draw[ST_NFIG]; int draws;              /* the draws of each figure, unsorted, owned by this struct; NULL if not drawn */
    double final_g[ST_NCOMP];                      /* nominal bottle contents, all bottles */
    double bottle_ml;
    struct st_note note[ST_MAX_NOTES]; int n_note;
};

struct st_options { uint64_t seed; int draws; bool effects; };

/* Opaque compiled plan. */
struct st_plan;

/* Build from a recipe.  NULL and *problem filled when impossible (volume of a solid without a known weight, unknown sugar,
 * hot volumes, nothing in the bottle...).  The recipe must outlive the plan.  Caller frees with st_plan_free. */
struct st_plan *st_plan_create(const struct st_recipe *r, struct st_problem *problem);
void st_plan_free(struct st_plan *p);

/* Everything that makes st_plan_create refuse, as far as it can be told in one go: out[max], in the recipe's order; how many.
 * 0: a plan can be made.  What only follows from another problem (a step that takes from one that failed) is left out. */
int st_plan_problems(const struct st_recipe *r, struct st_problem out[], int max);

/* Run.  Status of the whole: worst of the figures.  *out is filled; caller calls st_foretold_done. */
enum st_status st_plan_run(const struct st_plan *p, const struct st_options *o, struct st_foretold *out);
void st_foretold_done(struct st_foretold *f);

/* ---- dials: amounts that may be changed without building a new plan ----
 *
 * A dial turns one line.  ST_DIAL_AMOUNT: its value is a factor on the amount as written, 1 = as written; 2 on "3 cups" is
 * six fillings of the same cup, so relative errors grow with the amount, and an error of reading (a scale's digit) does
 * not.  A price goes with its amount, except of a line "to so much", whose total is what the factor changes.
 * ST_DIAL_STRENGTH: its value is a strength in % vol, in the place of the one on the label, of that spirit wherever the
 * recipe pours it at the same strength; it has the error of a label.
 *
 * Values that can be used: a factor >= 0 that keeps the amount below 1e9 g or mL; a strength > 0, <= 100.  A factor of 0
 * is for st_plan_at the limit of ever smaller amounts (a strained step still leaves its film behind), for st_plan_run_at a
 * line with nothing on it. */
enum st_dial_of { ST_DIAL_AMOUNT, ST_DIAL_STRENGTH };
struct st_dial {
    int step, line;
    enum st_dial_of of;
};
enum { ST_MAX_DIALS = 16 };

/* A plan with dials.
 *
 * Given:    r, as for st_plan_create; dial[n_dial], n_dial <= ST_MAX_DIALS: lines with a closed amount that is not 0
 * Returned: the plan, to be freed with st_plan_free; NULL and *problem when the recipe as written is impossible, or a dial
 *           cannot be: an open amount, "all of it", two dials on one thing, the strength of what is more than ethanol and
 *           water, or of a spirit measured warm or cold or with its own figure of energy
 * Notes:
 *   1. The recipe must outlive the plan: st_plan_run_at and st_plan_dial_problem read it again.
 *   2. st_plan_run and st_plan_evaluate work as for any plan, with every dial at its value as written; dials are inputs of
 *      the program that are never drawn.  st_plan_evaluate with other values there keeps the error of one filling as written,
 *      and takes the rules' own error at the drink as written: st_plan_run_at has neither fault. */
struct st_plan *st_plan_create_dials(const struct st_recipe *r, const struct st_dial *dial, int n_dial,
                                     struct st_problem *problem);

/* Which input of st_plan_evaluate dial k is; -1 when no figure depends on it. */
int st_plan_dial_input(const struct st_plan *p, int k);

/* The value of dial k as the recipe has it: 1, or % vol. */
double st_plan_dial_written(const struct st_plan *p, int k);

/* Nominal figures (every uncertain input at its middle) with the dials at factor[n_dial].
 *
 * Returned: y[ST_NFIG], NAN for a figure that is not known there
 * Status:   as of the figures; ST_E_DOMAIN a value that cannot be used, or a mixture no rule knows; ST_E_REFUSED when with
 *           these amounts the recipe cannot be done (nothing left to take, solids heavier than what went in, nothing in
 *           the bottle): st_plan_dial_problem says which line.  y is then untouched.
 * Notes:
 *   1. The same as a plan of the recipe with those amounts gives, to 1e-12 in the tests; amounts "to so much" are solved
 *      anew.  Nothing that was decided at the amounts as written is taken for granted.
 *   2. A room holds what a run needs, for one thread at a time; st_plan_at makes one and frees it. */
struct st_plan_room;
struct st_plan_room *st_plan_room_create(const struct st_plan *p); /* NULL: no memory, or a plan without dials */
void st_plan_room_free(struct st_plan_room *room);
enum st_status st_plan_at(const struct st_plan *p, const double factor[], double y[ST_NFIG]);

/* The same for n points: factor[n_dial * n] and y[ST_NFIG * n], row after row.  Status: the worst; where a point is refused
 * or fails its y are NAN. */
enum st_status st_plan_at_n(const struct st_plan *p, struct st_plan_room *room, size_t n, const double factor[], double y[]);

/* Everything st_plan_run gives, with the dials at factor[n_dial]: of the recipe so changed, with its own notes and states.
 * The same seed gives the same draws for every factor.  ST_E_DOMAIN, ST_E_REFUSED as for st_plan_at; *out is then empty. */
enum st_status st_plan_run_at(const struct st_plan *p, const struct st_options *o, const double factor[],
                              struct st_foretold *out);

/* Why a value is refused: true and *problem filled, or false when nothing is wrong. */
bool st_plan_dial_problem(const struct st_plan *p, const double factor[], struct st_problem *problem);

/* For tests and the bench: the plan's uncertain inputs and operations, and evaluation on given inputs.
 * st_plan_inputs draws X[n_input * n] (row per input) from the counter-based generator;
 * st_plan_evaluate computes y[ST_NFIG * n] from them; ST_E_DOMAIN when one is not finite: y is then without meaning.  st_plan_describe writes the plan (inputs, operations, constants) into a
 * caller-provided JSON-writing callback so that an independent program can repeat the arithmetic. */
int st_plan_n_inputs(const struct st_plan *p);
void st_plan_inputs(const struct st_plan *p, uint64_t seed, size_t first, size_t n, double *X);
enum st_status st_plan_evaluate(const struct st_plan *p, size_t n, const double *X, double *y);
enum st_status st_plan_balance(const struct st_plan *p, const double *x, struct st_balance *out); /* of each step (n_step),
                                    for one draw x[n_input]; x NULL: all inputs at their value */
/* Something of a step in every draw: x[i] in draw i, what st_plan_balance gives for the inputs of st_plan_inputs with that seed.
 * Of the plan only what leads there is run, block by block: a small part of the work. */
enum st_drawn_of {
    ST_DRAWN_SPENT_G,         /* strained off with the solids, its components together */
    ST_DRAWN_SPENT_ETHANOL_G,
    ST_DRAWN_LOST_ETHANOL_G,
    ST_DRAWN_LYING_ETHANOL_G, /* in pieces that lie in what goes on and that no later step takes */
    ST_DRAWN_STRENGTH         /* of the liquid over the solids where it is a steep, else of what goes on, % vol */
};
struct st_drawn { double *x; int step; enum st_drawn_of of; };
/* want[n_want], each with x[n].  ST_E_NOCONV: no memory. */
enum st_status st_plan_drawn(const struct st_plan *p, uint64_t seed, size_t n, const struct st_drawn want[], int n_want);
/* What the strained solids of step[n_step] weigh: g[k][i] of step[k] in draw i of n. */
enum st_status st_plan_spent(const struct st_plan *p, uint64_t seed, size_t n, const int step[], int n_step,
                             double *const g[]);
const struct st_note *st_plan_notes(const struct st_plan *p, int *n);
void st_plan_describe(const struct st_plan *p, void (*write)(void *arg, const char *text), void *arg);

#endif
