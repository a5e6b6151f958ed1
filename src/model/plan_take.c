#include "plan_inside.h"

/* What a finished step has of the liquor or of the spent solids, before anything is taken. */
static int total_of(struct st_build *b, const struct st_result *r, enum st_part_of part)
{
    struct st_tape *t = b->tape;
    if (part == ST_SPENT)
        return st_mass_of(t, r->spent);
    return st_add(t, st_mass_of(t, r->liquor.liquid), st_mass_of(t, r->liquor.pieces));
}

static int total_ml(struct st_build *b, const struct st_result *r)
{
    return st_volume_of(b->tape, r->liquor.liquid);
}

static void pour_share(struct st_build *b, struct st_result *r, enum st_part_of part, int share, struct st_stream *into)
{
    struct st_tape *t = b->tape;
    if (part == ST_LIQUOR) {
        st_join(b, into->liquid, r->liquor.liquid, share);
        st_join(b, into->pieces, r->liquor.pieces, share);
        into->keeps = st_madd(t, share, r->liquor.keeps, into->keeps);
        into->cloudy = into->cloudy || r->liquor.cloudy;
    } else {
        st_join(b, into->pieces, r->spent, share);
        into->keeps = st_madd(t, share, r->spent_keeps, into->keeps);
        if (b->bulk_ml >= 0) { /* drained fruit lies at 0.55-0.75 g/mL, from memory */
            const int g = st_mul(t, share, st_mass_of(t, r->spent));
            b->bulk_ml = st_madd(t, g, st_tape_constant(t, 1.0 / 0.65), b->bulk_ml);
        }
    }
    r->taken = true;
}

static bool is_all(const struct st_amount *a)
{
    return a->dim == ST_DIM_OPEN || a->open == ST_OPEN_SOME;
}

void st_build_take(struct st_build *b, int want, int left)
{
    if (b->plan->n_take < ST_MAX_TAKES)
        b->plan->take[b->plan->n_take++] = (struct st_take){ want, left, b->step };
}

/* Share of the whole that an amount means; the rest stays for later lines. */
static int share_of(struct st_build *b, const struct st_line *line, struct st_result *r, int left)
{
    struct st_tape *t = b->tape;
    const struct st_amount *a = &line->amount;
    if (is_all(a))
        return left;
    if (a->dim == ST_DIM_PIECE) { /* "half of jar": a share of all that the step gave */
        const double all = st_now(b, total_of(b, r, line->part));
        const int asked = st_scaled_by(t, st_dial_amount(b), a->value);
        if (st_now(b, asked) > st_now(b, left) * (1.0 + 1e-6))
            st_build_note(b, ST_NOTE_TAKEN_TOO_MUCH, all * st_now(b, asked), all * st_now(b, left));
        st_build_take(b, asked, left);
        return st_min(t, asked, left);
    }
    const int asked = st_amount_reg(b, a, line->text ? line->text : "");
    int whole;
    if (a->dim == ST_DIM_MASS)
        whole = total_of(b, r, line->part);
    else if (a->dim == ST_DIM_VOLUME && line->part == ST_LIQUOR)
        whole = total_ml(b, r);
    else {
        st_build_stop(b, "cannot take this much from a step: ", line->text,
                      "a step gives grams, millilitres of its liquid, or all of it", "weigh it, or take all of it");
        return ST_ZERO;
    }
    const double there = st_now(b, whole) * st_now(b, left);
    if (st_now(b, asked) > there * (1.0 + 1e-6))
        st_build_note(b, ST_NOTE_TAKEN_TOO_MUCH, st_now(b, asked), there);
    const int share = st_ratio(t, asked, whole);
    st_build_take(b, share, left);
    return st_min(t, share, left);
}

bool st_take_join(struct st_build *b, const struct st_line *line, struct st_stream *into)
{
    if (line->from_step < 0 || line->from_step >= b->step)
        return st_build_stop(b, "cannot take from this step: ", line->text, "it does not come before this one",
                             "take from an earlier step");
    struct st_result *r = &b->result[line->from_step];
    int *left = &r->left[line->part == ST_SPENT];
    const int whole = total_of(b, r, line->part);

    if (!(st_now(b, *left) > 1e-9) || whole == ST_ZERO)
        return st_build_stop(b, "nothing is left to take: ", line->text,
                             line->part == ST_SPENT && whole == ST_ZERO ? "that step strains off no fruit or spice"
                                                                        : "all of it was taken before",
                             "take a part the first time");
    st_must_hold(b, *left, 1e-9);
    const int share = share_of(b, line, r, *left);
    if (b->stop)
        return false;
    pour_share(b, r, line->part, share, into);
    *left = share == *left ? ST_ZERO : st_max(b->tape, st_sub(b->tape, *left, share), ST_ZERO);
    return true;
}

bool st_take_all(struct st_build *b, int step, struct st_stream *into)
{
    struct st_result *r = &b->result[step];
    if (!(st_now(b, r->left[0]) > 1e-9))
        return st_build_stop(b, "nothing is left for this step", NULL, "all of the step before it was taken already",
                             "say from which step it takes");
    st_must_hold(b, r->left[0], 1e-9);
    pour_share(b, r, ST_LIQUOR, r->left[0], into);
    r->left[0] = ST_ZERO;
    return true;
}
