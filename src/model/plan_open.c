#include <math.h>

#include "core/density_mixture.h"
#include "core/strength.h"
#include "plan_inside.h"

/* ---- up to a volume ---- */

/* mL at 20 C of masses given as plain numbers. */
static double volume_now(const double m[ST_NCOMP])
{
    double w[ST_NCOMP], rho;
    if (st_mixture_from_masses(m, w) < 0 || st_density_mixture(w, ST_T20, &rho) < 0)
        return 0.0;
    double sum = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        sum += m[c];
    return 1000.0 * sum / rho;
}

/* The nominal answer: Newton from below or above with a slope over 1 g, at most 30 steps; it starts every draw. */
static double solve_now(const double side[ST_NCOMP], const double unit[ST_NCOMP], double target, double sign)
{
    double x = 0.0;
    for (int i = 0; i < 30; i++) {
        double at[ST_NCOMP], near[ST_NCOMP];
        for (int c = 0; c < ST_NCOMP; c++) {
            at[c] = fmax(side[c] + sign * x * unit[c], 0.0);
            near[c] = at[c] + unit[c];
        }
        const double v = volume_now(at), slope = volume_now(near) - v;
        if (!(slope > 0.0))
            return 0.0;
        const double step = sign * (target - v) / slope;
        x = fmax(x + step, 0.0);
        if (fabs(step) < 1e-9 * target)
            break;
    }
    return x;
}

/* side + m unit, with m >= 0 (sign 1), or side - m unit held at 0 or more (sign -1). */
static void changed(struct st_build *b, const int side[ST_NSLOT], const int unit[ST_NSLOT], int m, double sign,
                    int out[ST_NSLOT])
{
    struct st_tape *t = b->tape;
    for (int c = 0; c < ST_NSLOT; c++) {
        if (unit[c] == ST_ZERO || c >= ST_NCOMP)
            out[c] = side[c];
        else if (sign > 0.0)
            out[c] = st_madd(t, m, unit[c], side[c]);
        else
            out[c] = st_max(t, st_sub(t, side[c], st_mul(t, m, unit[c])), ST_ZERO);
    }
}

int st_solve_volume(struct st_build *b, const int side[ST_NSLOT], const int unit[ST_NSLOT], int target, double sign)
{
    /* near the nominal answer three are enough; dials may move it anywhere */
    const int steps = st_dials_move(b) ? 10 : 3;
    struct st_tape *t = b->tape;
    double g[ST_NCOMP], u[ST_NCOMP];
    st_nominal_of(t, side, g);
    st_nominal_of(t, unit, u);

    const double wish = st_now(b, target), h = fmax(1e-3 * wish, 1e-6);
    const int step_g = st_tape_constant(t, sign * h), near_g = st_tape_constant(t, h);
    int m = st_tape_constant(t, solve_now(g, u, wish, sign));
    for (int i = 0; i < steps; i++) {
        int at[ST_NSLOT], near[ST_NSLOT];
        changed(b, side, unit, m, sign, at);
        changed(b, at, unit, near_g, 1.0, near);
        const int v = st_volume_of(t, at), slope = st_max(t, st_sub(t, st_volume_of(t, near), v), ST_ZERO);
        m = st_max(t, st_madd(t, step_g, st_ratio(t, st_sub(t, target, v), slope), m), ST_ZERO);
        if (sign < 0.0 && st_dials_move(b)) /* no more than there is, or the next step is lost */
            m = st_min(t, m, side[ST_WATER]);
    }
    return m;
}

static int make_up_mass(struct st_build *b, const struct st_stream *s, int target)
{
    struct st_tape *t = b->tape;
    const int there = st_add(t, st_mass_of(t, s->liquid), st_mass_of(t, s->pieces));
    return st_max(t, st_sub(t, target, there), ST_ZERO);
}

bool st_make_up_join(struct st_build *b, const struct st_line *line, struct st_stream *into)
{
    if (!line->what)
        return st_build_stop(b, "cannot fill up with what comes from a step: ", line->text,
                             "how much of it is needed cannot be told beforehand", "take a fixed amount of it");
    struct st_known *k = st_known_get(b, line);
    if (!k)
        return false;
    if (st_kind_is_solid(k->own.kind) || !(line->amount.value > 0.0 && line->amount.value < 1e9))
        return st_build_stop(b, "cannot fill up with ", k->own.name, "that needs a liquid or sugar, and an amount",
                             "write for example: water to 1000 mL");
    const int target = st_amount_reg(b, &line->amount, k->own.name);
    int g;
    double there;
    if (line->amount.dim == ST_DIM_MASS) {
        g = make_up_mass(b, into, target);
        there = st_now(b, st_mass_of(b->tape, into->liquid));
        st_build_take(b, st_mass_of(b->tape, into->liquid), target);
    } else if (line->amount.dim == ST_DIM_VOLUME) {
        g = st_solve_volume(b, into->liquid, k->unit, target, 1.0);
        double m[ST_NCOMP];
        st_nominal_of(b->tape, into->liquid, m);
        there = volume_now(m);
        st_build_take(b, st_volume_of(b->tape, into->liquid), target);
    } else
        return st_build_stop(b, "cannot fill up to this amount: ", line->text, "it is neither a volume nor a weight",
                             "write for example: water to 1000 mL");
    if (there > st_now(b, target))
        st_build_note(b, ST_NOTE_ALREADY_FULL, there, st_now(b, target));
    st_join(b, into->liquid, k->unit, g);
    return true;
}

/* ---- open amounts ---- */

/* mL, or g for what is given by weight: a register, and nominally between which limits. */
struct guess {
    int amount;
    double low, high;
};

static const struct guess NO_GUESS = { ST_ZERO, 0.0, 0.0 };

static int open_group(struct st_build *b, const struct st_known *k)
{
    return st_group_of(b, ST_CAUSE_OPEN, ST_TOOL_NONE, "how much ", k->own.name, " goes in");
}

static const double PI = 3.141592653589793;

/* By Halley's steps from the nominal root: from ten times off, eight are exact to rounding. */
static int cube_root(struct st_build *b, int a)
{
    struct st_tape *t = b->tape;
    const int steps = st_dials_move(b) ? 8 : 3, two = st_tape_constant(t, 2.0);
    int x = st_tape_constant(t, cbrt(st_now(b, a)));
    for (int i = 0; i < steps; i++) {
        const int x3 = st_mul(t, st_mul(t, x, x), x);
        x = st_mul(t, x, st_ratio(t, st_madd(t, two, a, x3), st_madd(t, two, x3, a)));
    }
    return x;
}

/* Until covered: the pores between the pieces (35-50 % for round fruit, from memory), and a finger of liquid above,
 * 1-2 cm over a jar as wide as the pieces stand high. */
static struct guess cover_ml(struct st_build *b, const struct st_known *k)
{
    struct st_tape *t = b->tape;
    const double bulk = st_now(b, b->bulk_ml);
    if (!(bulk > 0.0)) {
        st_build_stop(b, "nothing to cover: ", k->own.name, "there is no fruit or spice in this step",
                      "give the amount of the liquid");
        return NO_GUESS;
    }
    const struct st_range pores = { 0.42, 0.35, 0.50, true, 'm', "" }, finger_cm = { 1.5, 1.0, 2.0, true, 'm', "" };
    const int group = open_group(b, k), width = cube_root(b, b->bulk_ml);
    /* cm2, of a heap as high as it is wide */
    const int area = st_scaled_by(t, st_mul(t, width, width), PI / 4.0 * pow(4.0 / PI, 2.0 / 3.0));
    const int share = st_input_range(b, pores, 0.0, 1.0, group, "cover", st_line_name(b));
    const int above = st_input_along(b, finger_cm, 0.0, 20.0, group, share);
    const double cm2 = st_now(b, area);
    st_must_hold(b, b->bulk_ml, 0.0);
    return (struct guess){ st_madd(t, above, area, st_mul(t, share, b->bulk_ml)),
                           pores.low * bulk + finger_cm.low * cm2, pores.high * bulk + finger_cm.high * cm2 };
}

double st_vessel_ml(const struct st_step *s)
{
    double ml = s->vessel_ml;
    for (int i = 0; i < s->n_line && !(ml > 0.0); i++)
        if (s->line[i].amount.open == ST_OPEN_FILL)
            ml = s->line[i].amount.value;
    return ml > 0.0 && ml < 1e9 ? ml : 0.0;
}

/* Up to a share of the vessel: what is in it already takes its place. */
static struct guess fill_ml(struct st_build *b, const struct st_step *s, const struct st_line *line,
                            const struct st_known *k, const struct st_stream *into)
{
    struct st_tape *t = b->tape;
    const struct st_amount *a = &line->amount;
    struct st_range share = { a->fill_share, a->low, a->high, true, 'u', "" };

    const double vessel = st_vessel_ml(s);
    if (a->open == ST_OPEN_FILL && a->value > 0.0 && fabs(a->value - vessel) > 1e-3 * vessel) {
        st_build_stop(b, "two sizes of one vessel: ", line->text,
                      "it names another one than the step, or another line of it",
                      "give the size once, as `vessel: 2 L` or in the line");
        return NO_GUESS;
    }
    if (!(vessel > 0.0)) {
        st_build_ask(b, "how big is the vessel that is filled with ", k->own.name, "the amount goes by it",
                     "give `vessel: 2 L` in this step, or the amount");
        return NO_GUESS;
    }
    if (!(share.value > 0.0)) /* topped up: nearly full, from memory */
        share = (struct st_range){ 0.95, 0.90, 0.99, true, 'm', "" };
    if (!(share.low > 0.0 && share.low <= share.value && share.value <= share.high && share.low < share.high))
        share.low = share.value * 0.95, share.high = fmin(share.value * 1.05, 1.0); /* by eye, from memory */
    const int full =
        st_scaled_by(t, st_input_range(b, share, 0.0, 1.0, open_group(b, k), "fill_to", st_line_name(b)), vessel);
    const int there = st_add(t, st_volume_of(t, into->liquid), st_volume_of(t, into->pieces));
    const double taken = st_now(b, there);
    return (struct guess){ st_max(t, st_sub(t, full, there), ST_ZERO), fmax(vessel * share.low - taken, 0.0),
                           fmax(vessel * share.high - taken, 0.0) };
}

/* To taste: wide, from memory; the maker is asked.  g/L of the liquid, or mL/L for what pours. */
static struct guess taste_g(struct st_build *b, struct st_known *k, const struct st_stream *into)
{
    struct st_tape *t = b->tape;
    struct st_range r = { 100.0, 0.0, 250.0, true, 'm', "" };
    if (k->own.kind == ST_KIND_SUGAR || k->own.kind == ST_KIND_SYRUP || k->own.kind == ST_KIND_SWEETENER)
        r = (struct st_range){ 180.0, 100.0, 300.0, true, 'm', "" };
    else if (k->own.kind == ST_KIND_ACID)
        r = (struct st_range){ 4.0, 0.0, 10.0, true, 'm', "" };
    const int litres = st_scaled_by(t, st_volume_of(t, into->liquid), 1e-3);
    const int x = st_input_range(b, r, 0.0, 2000.0, open_group(b, k), "taste", st_line_name(b));
    const double L = st_now(b, litres);
    return (struct guess){ st_mul(t, litres, x), L * r.low, L * r.high };
}

static struct guess open_grams(struct st_build *b, const struct st_step *s, const struct st_line *line,
                               struct st_known *k, const struct st_stream *into)
{
    struct guess ml;
    double g_ml;
    switch (line->amount.open) {
    case ST_OPEN_TASTE:
        if (!st_side_is_empty(into->liquid))
            return taste_g(b, k, into);
        break;
    case ST_OPEN_COVER:
    case ST_OPEN_FILL:
    case ST_OPEN_TOP_UP:
        if (st_kind_is_solid(k->own.kind))
            break;
        ml = line->amount.open == ST_OPEN_COVER ? cover_ml(b, k) : fill_ml(b, s, line, k, into);
        if (b->stop)
            return NO_GUESS;
        ml.amount = st_mul(b->tape, ml.amount, st_scaled_by(b->tape, st_density(b->tape, k->unit), 1e-3));
        g_ml = 1e-3 * st_now(b, st_density(b->tape, k->unit));
        return (struct guess){ ml.amount, g_ml * ml.low, g_ml * ml.high };
    case ST_OPEN_SOME:
    case ST_CLOSED: break;
    }
    st_build_ask(b, "how much of it: ", k->own.name, "without an amount nothing can be foretold",
                 "write an amount, or a range such as 100-200 g");
    return NO_GUESS;
}

bool st_open_join(struct st_build *b, const struct st_step *s, const struct st_line *line, struct st_stream *into)
{
    struct st_known *k = st_known_get(b, line);
    if (!k)
        return false;
    const struct guess guess = open_grams(b, s, line, k, into);
    const int g = guess.amount;
    if (b->stop)
        return false;
    st_build_note_between(b, ST_NOTE_OPEN, st_now(b, g), guess.low, guess.high);
    if (st_kind_is_solid(k->own.kind)) {
        st_join(b, into->pieces, k->unit, g);
        into->keeps = st_madd(b->tape, g, st_known_keeps(b, k), into->keeps);
    } else
        st_join(b, into->liquid, k->unit, g);
    return true;
}
