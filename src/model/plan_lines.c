#include <math.h>

#include "core/density_mixture.h"
#include "core/strength.h"
#include "plan_inside.h"

/* ---- how well it is measured ---- */

static struct st_tolerance tolerance_of(const struct st_build *b, const struct st_amount *a)
{
    const struct st_tools *own = &b->recipe->tools;
    const double fills = a->fills > 0.0 ? a->fills : 1.0;
    /* just below, so that the class of a size does not hang on a rounding */
    struct st_tolerance t = st_tolerance_default(a->tool, a->value / fills * (1.0 - 1e-9));

    if (own->given[a->tool])
        return own->of[a->tool];
    if (a->tool == ST_TOOL_SCALE && own->scale_digit_g > 0.0)
        t.step = 0.5 * own->scale_digit_g;
    return t;
}

static int tool_group(struct st_build *b, enum st_tool tool)
{
    if (b->tool_group[tool] < 0)
        b->tool_group[tool] = st_group_of(b, ST_CAUSE_TOOL, tool, "the ", st_tool_name(tool), NULL);
    else
        (void)st_group_of(b, ST_CAUSE_TOOL, tool, "the ", st_tool_name(tool), NULL); /* it enters here too */
    return b->tool_group[tool];
}

/* One error for every use of the same tool, as a share of what it may err by at the size in hand: -1..1.  So no use
 * depends on which came first. */
static int scale_error(struct st_build *b, enum st_tool tool)
{
    const int group = tool_group(b, tool);
    if (b->tool_scale[tool] < 0)
        b->tool_scale[tool] = st_input_even(b, -1.0, 1.0, group, "tool", st_tool_name(tool));
    return b->tool_scale[tool];
}

/* The range of what was written, where it has one. */
static int written(struct st_build *b, const struct st_amount *a, const char *name)
{
    struct st_range r = { a->value, a->low, a->high, true, 'u', "" };
    if (!(r.low < r.high)) {
        if (!a->heaped && !a->scant)
            return st_tape_constant(b->tape, a->value);
        /* a heaped spoon holds 30-60 % more (reference notes, no source); a scant one 5-15 % less, from memory */
        const double by[3] = { a->heaped ? 1.3 : 0.85, a->heaped ? 1.45 : 0.9, a->heaped ? 1.6 : 0.95 };
        r = (struct st_range){ a->value * by[1], a->value * by[0], a->value * by[2], true, 'm', "" };
    }
    const int group = st_group_of(b, ST_CAUSE_RANGE, ST_TOOL_NONE, "how much ", name, " it is");
    return st_doubt(b, ST_DOUBT_MAKING, st_input_range(b, r, 0.0, 1e9, group, "amount", st_line_name(b)));
}

int st_amount_reg(struct st_build *b, const struct st_amount *a, const char *name)
{
    struct st_tape *t = b->tape;
    const struct st_tolerance tol = tolerance_of(b, a);
    int x = written(b, a, name);

    if (x == ST_ZERO)
        return x;
    x = st_mul(t, x, st_dial_amount(b));
    if (tol.scale > 0.0)
        x = st_madd(t, st_scaled_by(t, x, tol.scale), scale_error(b, a->tool), x);
    if (tol.fill > 0.0) {
        const double half = tol.fill / sqrt(fmax(a->fills * st_now(b, st_dial_amount(b)), 1.0));
        const int e = st_input_even(b, 1.0 - half, 1.0 + half, tool_group(b, a->tool), "fill", st_line_name(b));
        x = st_mul(t, x, st_doubt(b, ST_DOUBT_MAKING, e));
    }
    if (tol.step > 0.0) {
        const int group = tool_group(b, a->tool);
        const int e = a->tool == ST_TOOL_SCALE /* read twice: zero and load */
                          ? st_input_peak(b, 2.0 * tol.step, group, "step", st_line_name(b))
                          : st_input_even(b, -tol.step, tol.step, group, "step", st_line_name(b));
        x = st_max(t, st_add(t, x, st_doubt(b, ST_DOUBT_MAKING, e)), ST_ZERO);
    }
    return x;
}

/* ---- to grams ---- */

/* A liquid measured warm or cold: its density then, against that at 20 C; nominal, which is near enough. */
static bool temperature_factor(struct st_build *b, const struct st_line *line, const struct st_known *k, double *f)
{
    *f = 1.0;
    if (!line->temperature_K.known || line->amount.dim != ST_DIM_VOLUME)
        return true;
    const double T = line->temperature_K.value;
    if (k->dial >= 0)
        return st_build_stop(b, "cannot turn the strength of ", k->own.name,
                             "its volume is told at a temperature, and warms with its strength",
                             "weigh it, or tell it at 20 °C");
    if (T > 313.15 + 1e-6)
        return st_build_stop(b, "cannot turn a hot volume into weight: ", k->own.name,
                             "the density of hot liquids ends at 40 °C", "weigh it, or measure it cold");
    double w[ST_NCOMP], sum = 0.0, then, at_20;
    for (int c = 0; c < ST_NCOMP; c++)
        sum += w[c] = st_now(b, k->unit[c]);
    for (int c = 0; c < ST_NCOMP; c++)
        w[c] /= sum;
    if (st_kind_is_solid(k->own.kind))
        return true;
    if (st_density_mixture(w, T, &then) < 0 || st_density_mixture(w, ST_T20, &at_20) < 0)
        return st_build_stop(b, "cannot turn this volume into weight: ", k->own.name,
                             "its density at that temperature is not known", "weigh it, or measure it near 20 °C");
    *f = then / at_20;
    return true;
}

/* Nobody said whether the weight is that of the fruit as picked: stone fruit may be either, other things are trimmed.
 */
static int unsaid(struct st_build *b, struct st_known *k, int g)
{
    const struct st_range e = k->own.edible;
    if (!e.known || !(e.value < ST_TRIMMING_MATTERS))
        return g;
    if (!st_ingredient_has_stones(&k->own)) {
        st_build_note(b, ST_NOTE_AS_TRIMMED, e.value, 1.0);
        return g;
    }
    st_build_note(b, ST_NOTE_STONES_UNSAID, e.value, 1.0);
    return st_mul(b->tape, g, st_known_stones(b, k));
}

static int trimmed(struct st_build *b, const struct st_line *line, struct st_known *k, int g)
{
    if (!line->gross && !line->trimmed_share.known)
        return line->weighing_unsaid ? unsaid(b, k, g) : g;
    int share;
    if (line->trimmed_share.known) {
        const int group = st_group_of(b, ST_CAUSE_RANGE, ST_TOOL_NONE, "what is trimmed off the ", k->own.name, NULL);
        share = st_doubt(b, ST_DOUBT_THING,
                         st_input_range(b, line->trimmed_share, 0.0, 1.0, group, "trimmed", st_line_name(b)));
    } else
        share = st_known_edible(b, k);
    if (share < 0) {
        st_build_ask(b, "how much of it is left after trimming: ", k->own.name,
                     "it is weighed as bought, and no figure for stones or peel is known",
                     "weigh it trimmed, or give `trimmed: 85 %`");
        return ST_ZERO;
    }
    return st_mul(b->tape, g, share);
}

static int net_grams(struct st_build *b, const struct st_line *line, struct st_known *k)
{
    const struct st_amount *a = &line->amount;
    const int x = st_amount_reg(b, a, k->own.name);
    int per = ST_ONE;
    double f;

    if (a->dim == ST_DIM_VOLUME)
        per = st_known_g_per_ml(b, k, a->value / (a->fills > 0.0 ? a->fills : 1.0));
    else if (a->dim == ST_DIM_PIECE)
        per = st_known_piece(b, k);
    else if (a->dim != ST_DIM_MASS)
        per = -1;
    if (per < 0) {
        st_build_stop(b, "cannot weigh this amount of ", k->own.name,
                      a->dim == ST_DIM_VOLUME  ? "no weight of a cup or spoon of it is known"
                      : a->dim == ST_DIM_PIECE ? "no weight of one piece of it is known"
                                               : "this is no weight, volume or count",
                      "give it in grams, or give `grams per cup` or `grams per piece` in the recipe");
        return ST_ZERO;
    }
    if (!temperature_factor(b, line, k, &f))
        return ST_ZERO;
    int g = st_mul(b->tape, x, st_scaled_by(b->tape, per, f));
    if (a->dim == ST_DIM_MASS)
        g = trimmed(b, line, k, g);
    return g;
}

bool st_line_join(struct st_build *b, const struct st_line *line, struct st_stream *into)
{
    if (!(line->amount.value >= 0.0 && line->amount.value < 1e9))
        return st_build_stop(b, "no amount that can be used: ", line->text, "it is negative or not a number",
                             "write an amount such as 250 g");
    struct st_known *k = st_known_get(b, line);
    if (!k)
        return false;
    const int g = net_grams(b, line, k);
    if (b->stop)
        return false;
    if (st_kind_is_solid(k->own.kind)) {
        st_join(b, into->pieces, k->unit, g);
        into->keeps = st_madd(b->tape, g, st_known_keeps(b, k), into->keeps);
        if (b->bulk_ml >= 0)
            b->bulk_ml = st_madd(b->tape, g, st_known_bulk(b, k), b->bulk_ml);
    } else
        st_join(b, into->liquid, k->unit, g);
    return true;
}
