#ifndef ST_MODEL_PLAN_INSIDE_H
#define ST_MODEL_PLAN_INSIDE_H

#include "model/aim.h"
#include "model/stream.h"
#include "model/tape.h"

/* For the files plan_*.c, evaluate.c, effects.c, figures.c of model only: a plan and what builds it. */

/* Inputs that are told together: "the cup" is its scale error and each of its fillings. */
struct st_group {
    char what[96];
    enum st_cause cause;
    enum st_tool tool;
    int step, line; /* -1: several */
};
enum { ST_MAX_GROUPS = 64 }; /* the last takes what finds no room */

/* Registers of the balance of one step. */
struct st_step_account {
    int in[ST_NCOMP], out[ST_NCOMP], spent[ST_NCOMP], lost[ST_NCOMP];
    int strength, sugar, volume, density; /* of the liquid that goes on */
    int strength_in_steep;                /* ST_ZERO where nothing is steeped */
    int lying;                            /* g of ethanol in pieces that lie in it and that no later step takes */
    int filled;                           /* mL of liquid and pieces before anything is lost or strained */
    struct st_syrup {
        int sucrose, water, ethanol; /* of the liquid, where it must hold its sugar dissolved: else ST_ZERO */
    } syrup;
    enum st_status status; /* of the four above */
};

/* What one line brought into a step: share times from, of one side.  The balance adds these up by itself. */
struct st_joined {
    int step, share, from[ST_NCOMP];
};

/* A tape cut down to what some results need, on as few columns as it takes.  Columns: the constants (0 and 1 first),
 * the inputs, then room that operations share. */
struct st_program {
    struct st_op *op;
    int *arg, *input, *output; /* input[n_in]: which input of the tape; output[n_output]: columns */
    double *constant;
    int n_op, n_arg, n_in, n_constant, n_room, n_output;
};

/* What is asked of something and what there is of it: registers; want above left cannot be done. */
struct st_take {
    int want, left, step;
};
enum { ST_MAX_TAKES = 32 };

/* plan_jar.c: the operations that the volumes and the takes need, in order, and a column of one draw for each register.
 */
struct st_jars {
    const struct st_plan *of;
    int n, n_op, n_take;
    struct st_jar_of {
        enum st_limit_of of;
        int filled;            /* ST_LIMIT_JAR */
        struct st_syrup syrup; /* ST_LIMIT_SUGAR */
        struct st_carry_of {   /* ST_LIMIT_CARRY: rest + sum of part * value[dial], by value[per] * value[by] */
            double rest, part[ST_AIM_SOURCES];
            int n, dial[ST_AIM_SOURCES], per, by;
        } carry;
    } limit[ST_AIM_LIMITS];
    struct st_take take[ST_MAX_TAKES];
    bool turns[ST_MAX_TAKES]; /* a dial changes it */
    double room[ST_AIM_LIMITS];
    const struct st_op **op;
    double *value;
    const double **reg;
};

/* Grams of sucrose that so much water and ethanol dissolve at 20 C; negative where that is not known. */
double st_jars_dissolves(double water, double ethanol);

struct st_plan {
    struct st_take take[ST_MAX_TAKES];
    int n_take;
    const struct st_recipe *recipe;
    struct st_tape tape;
    struct st_group group[ST_MAX_GROUPS];
    int n_group;
    int figure[ST_NFIG]; /* registers; -1 unknown */
    enum st_status figure_status[ST_NFIG];
    const char *marker[ST_MAX_MARKERS];
    int marker_reg[ST_MAX_MARKERS], n_marker;
    int final[ST_NCOMP];             /* registers of the drink */
    struct st_step_account *account; /* [n_step] */
    struct st_joined *joined;        /* [n_joined] */
    int n_joined, cap_joined;
    struct st_note note[ST_MAX_NOTES];
    int n_note;
    struct st_program program; /* figures, then markers */
    enum st_status made_of;    /* worst of what the lines and priors are */
    struct st_dial dial[ST_MAX_DIALS];
    int n_dial, dial_reg[ST_MAX_DIALS];
    int holds,
        acid_share; /* of a sharp plan: a register that is positive while the recipe can be done; acid in the drink */
    struct st_plan *sharp; /* the same without uncertain inputs, for st_plan_at; NULL without dials */
};

/* An ingredient as it goes into this recipe: what 1 g of it (net) holds, as registers. */
struct st_known {
    const struct st_ingredient *what;
    struct st_range strength; /* the line's own */
    struct st_ingredient own; /* *what with that strength */
    int unit[ST_NSLOT];
    int dial;                               /* that sets its strength, or -1 */
    int keeps, edible, stones, piece, bulk; /* -1 until asked for */
    int g_per_ml[3];                        /* cup, tablespoon, teaspoon; a liquid uses the first */
};

/* Dials to build with. */
struct st_dials {
    const struct st_dial *dial;
    int n;
    const double *value; /* [n]; NULL: they are inputs of the tape */
};

/* What a finished step has to give. */
struct st_result {
    struct st_stream liquor;
    int spent[ST_NSLOT], spent_keeps;
    bool spent_cloudy;
    int left[2]; /* share not yet taken, of the liquor and of the spent solids */
    bool taken;
    bool bad; /* what it gives is not known, when problems are gathered */
};

struct st_build {
    struct st_plan *plan;
    struct st_tape *tape;
    const struct st_recipe *recipe;
    struct st_problem *problem;
    bool stop;               /* *problem is filled */
    struct st_problem *list; /* NULL: the first problem ends the work; else they are gathered here */
    int n_list, most;
    bool bad; /* something of the present step has failed: what follows from that is not told */
    struct st_known *known;
    int n_known;
    struct st_result *result; /* [n_step] */
    enum st_status made_of;   /* worst of what the lines and priors are */
    int tool_scale[ST_NTOOL], tool_group[ST_NTOOL];
    int step, line; /* being built; line -1: the step itself */
    int cost;       /* register */
    bool cost_known;
    int bulk_ml;                  /* volume of the pieces of the step as they lie, pores counted; -1: nobody asks */
    const struct st_dials *dials; /* NULL: none */
};

/* ---- plan_build.c ---- */
/* Stop with a problem at the present line or step.  Texts as in struct st_problem; name may be NULL.  Returns false. */
bool st_build_stop(struct st_build *b, const char *what, const char *name, const char *why, const char *try_);
bool st_build_ask(struct st_build *b, const char *what, const char *name, const char *why, const char *try_);
void st_build_note(struct st_build *b, enum st_note_code code, double is, double limit);
void st_build_note_between(struct st_build *b, enum st_note_code code, double is, double low, double high);
double st_now(const struct st_build *b, int reg); /* nominal */
/* sharp: without uncertain inputs.  d may be NULL.  NULL: *problem is filled. */
struct st_plan *st_plan_build(const struct st_recipe *r, const struct st_dials *d, bool sharp,
                              struct st_problem *problem);

/* ---- plan_dials.c ---- */
bool st_dials_place(struct st_build *b);
int st_dial_amount(const struct st_build *b);                            /* factor of the present line, or ST_ONE */
int st_dial_strength(const struct st_build *b, const struct st_line *l); /* which dial sets its strength, or -1 */
bool st_dials_move(const struct st_build *b);                            /* nominal numbers are not the last word */
void st_build_take(struct st_build *b, int want, int left);
void st_must_hold(struct st_build *b, int reg, double above); /* refused unless reg > above */
double st_dial_as_written(const struct st_recipe *r, const struct st_dial *d);

/* ---- plan_inputs.c: uncertain numbers ---- */
int st_group_of(struct st_build *b, enum st_cause cause, enum st_tool tool, const char *x, const char *y,
                const char *z);
/* A range held in clip_low..clip_high; a sharp one becomes a constant.  id parts name it to the generator. */
int st_input_range(struct st_build *b, struct st_range r, double clip_low, double clip_high, int group, const char *id,
                   const char *id2);
/* The same, of what was bought. */
int st_input_thing(struct st_build *b, struct st_range r, double clip_low, double clip_high, int group, const char *id,
                   const char *id2);
/* Say whose doubt that register is, where it is an input; returns it. */
int st_doubt(struct st_build *b, enum st_doubt doubt, int reg);
int st_input_even(struct st_build *b, double low, double high, int group, const char *id, const char *id2);
int st_input_peak(struct st_build *b, double half, int group, const char *id, const char *id2);
int st_input_along(struct st_build *b, struct st_range r, double clip_low, double clip_high, int group,
                   int with); /* drawn by the numbers of the input with */
int st_input_prior(struct st_build *b, double low, double value, double high, double clip_high, int group,
                   const char *id); /* a figure of ours, named by its step */
const char *
st_line_name(const struct st_build *b); /* a text that names the present step and line; lent until the next call */

/* ---- plan_known.c: ingredients ---- */
struct st_known *st_known_get(struct st_build *b, const struct st_line *line);
int st_known_g_per_ml(struct st_build *b, struct st_known *k, double size_ml); /* -1: no figure */
int st_known_piece(struct st_build *b, struct st_known *k);
int st_known_edible(struct st_build *b, struct st_known *k);
int st_known_stones(struct st_build *b, struct st_known *k); /* share left when nobody said whether with stones */
int st_known_keeps(struct st_build *b, struct st_known *k);
int st_known_bulk(struct st_build *b, struct st_known *k); /* mL in the jar for 1 g */

/* ---- plan_lines.c: amounts to grams, lines to streams ---- */
int st_amount_reg(struct st_build *b, const struct st_amount *a, const char *name); /* base units, as measured */
bool st_line_join(struct st_build *b, const struct st_line *line, struct st_stream *into);

/* ---- plan_open.c: amounts that depend on what is there ---- */
double
st_vessel_ml(const struct st_step *s); /* of the step, or named in a line ("the shoulder of a 2 L jar"); 0 unknown */
bool st_open_join(struct st_build *b, const struct st_step *s, const struct st_line *line, struct st_stream *into);
bool st_make_up_join(struct st_build *b, const struct st_line *line, struct st_stream *into);
/* g of unit[] to add (sign 1) or take away (sign -1) until side fills target mL; never negative. */
int st_solve_volume(struct st_build *b, const int side[ST_NSLOT], const int unit[ST_NSLOT], int target, double sign);

/* ---- plan_take.c: from a step to a later one ---- */
bool st_take_join(struct st_build *b, const struct st_line *line, struct st_stream *into);
bool st_take_all(struct st_build *b, int step, struct st_stream *into);

/* ---- plan_steps.c, plan_steep.c ---- */
bool st_step_run(struct st_build *b, const struct st_step *s, struct st_stream *stream, int lost[ST_NSLOT],
                 struct st_result *out);
bool st_steep_run(struct st_build *b, const struct st_step *s, struct st_stream *stream, int lost[ST_NSLOT],
                  struct st_result *out);
void st_strain(struct st_build *b, const struct st_step *s, struct st_stream *stream, int lost[ST_NSLOT],
               struct st_result *out);
void st_evaporate(struct st_build *b, const struct st_step *s, struct st_stream *stream, int lost[ST_NSLOT]);
int st_loss_share(struct st_build *b, const struct st_step *s, double low, double value, double high, const char *what);

/* ---- figures.c ---- */
#define ST_ACID_TOLD 1e-5 /* kg/kg; below, the ratio of sugar to acid says nothing */
void st_figures_write(struct st_build *b, const struct st_step *last, const struct st_stream *drink);

/* ---- balance.c ---- */
/* into += share of from, and written down for the balance of the present step. */
void st_join(struct st_build *b, int into[ST_NSLOT], const int from[ST_NSLOT], int share);
/* What came into a step, summed up anew from its lines, and how far the rest of the balance is from it. */
void st_balance_close(const struct st_plan *p, int step, const double *value, struct st_balance *out);

/* ---- evaluate.c ---- */
bool st_program_create(const struct st_tape *t, const int *result, int n_result, struct st_program *p);
void st_program_done(struct st_program *p);
/* X[n_in * n], y[n_output * n], row after row. */
enum st_status st_program_run(const struct st_program *p, size_t n, const double *X, double *y);
/* Draws 0 .. n - 1 of a seed, and the results of the plan's program: column[n_output] of n numbers each, NULL where not
 * wanted. */
enum st_status st_plan_draw(const struct st_plan *p, uint64_t seed, size_t n, double *const column[]);
/* Marks what the results need: need[n_reg], true for registers. */
void st_tape_needs(const struct st_tape *t, const int *result, int n_result, bool *need);

/* ---- effects.c ---- */
bool st_effects_find(const struct st_plan *p, uint64_t seed, const double variance[3], struct st_foretold *out);

#endif
