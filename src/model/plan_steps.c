#include <math.h>

#include "plan_inside.h"

/* Share lost: what the step says, else our prior for it.  On the low side only: nothing is ever gained. */
int st_loss_share(struct st_build *b, const struct st_step *s, double low, double value, double high, const char *what)
{
    const int group = st_group_of(b, ST_CAUSE_LOSS, ST_TOOL_NONE, what, NULL, NULL);
    if (s->loss_share.known)
        return st_input_range(b, s->loss_share, 0.0, 0.95, group, "loss", s->id);
    return st_input_prior(b, low, value, high, 0.5, group, what);
}

/* Lose that share of the liquid and of what lies in it. */
static void lose(struct st_build *b, struct st_stream *stream, int lost[ST_NSLOT], int share)
{
    st_move(b->tape, stream->liquid, lost, share);
    st_move(b->tape, stream->pieces, lost, share);
}

/* An absolute loss in mL; a fiftieth of what there is always stays. */
static void lose_ml(struct st_build *b, struct st_stream *stream, int lost[ST_NSLOT], struct st_range ml)
{
    struct st_tape *t = b->tape;
    const int group = st_group_of(b, ST_CAUSE_LOSS, ST_TOOL_NONE, "what the filter keeps", NULL, NULL);
    const int x = st_input_range(b, ml, 0.0, 1e7, group, "loss_ml", b->recipe->step[b->step].id);
    const int share = st_min(t, st_ratio(t, x, st_volume_of(t, stream->liquid)), st_tape_constant(t, 0.98));
    lose(b, stream, lost, share);
}

/* ---- the steps ---- */

/* Toasting drives off water, nothing else: 20-95 % of it (from memory), or the loss of weight that was seen. */
static bool toast(struct st_build *b, const struct st_step *s, struct st_stream *stream, int lost[ST_NSLOT])
{
    struct st_tape *t = b->tape;
    const int group = st_group_of(b, ST_CAUSE_LOSS, ST_TOOL_NONE, "the water that toasting drives off", NULL, NULL);
    int *const side[2] = { stream->pieces, stream->liquid };
    if (st_now(b, stream->pieces[ST_ETHANOL]) + st_now(b, stream->liquid[ST_ETHANOL]) > 0.0)
        return st_build_stop(b, "spirit cannot be toasted", NULL,
                             "its ethanol boils off before the water does, and the vapour burns",
                             "toast dry things, let them cool, and pour the spirit in a step of its own");
    for (int i = 0; i < 2; i++) {
        if (side[i][ST_WATER] == ST_ZERO)
            continue;
        int share;
        if (s->loss_share.known) {
            const int weight =
                st_mul(t, st_input_range(b, s->loss_share, 0.0, 0.95, group, "toast", s->id), st_mass_of(t, side[i]));
            share = st_min(t, st_ratio(t, weight, side[i][ST_WATER]), st_tape_constant(t, 0.98));
        } else
            share = st_input_prior(b, 0.2, 0.6, 0.95, 0.98, group, "toast");
        lost[ST_WATER] = st_madd(t, share, side[i][ST_WATER], lost[ST_WATER]);
        side[i][ST_WATER] = st_mul(t, st_rest_of(t, share), side[i][ST_WATER]);
    }
    return true;
}

/* Water driven off: g as told, or until the volume is reached; 2 % of the water stays whatever was asked. */
static void boil(struct st_build *b, const struct st_step *s, struct st_stream *stream, int lost[ST_NSLOT])
{
    struct st_tape *t = b->tape;
    int off;
    if (s->boil_down_to.dim == ST_DIM_VOLUME) {
        int water[ST_NSLOT];
        for (int c = 0; c < ST_NSLOT; c++)
            water[c] = c == ST_WATER ? ST_ONE : ST_ZERO;
        const int target = st_amount_reg(b, &s->boil_down_to, "the syrup");
        off = st_solve_volume(b, stream->liquid, water, target, -1.0);
    } else if (s->boil_off_g.known) {
        const int group = st_group_of(b, ST_CAUSE_LOSS, ST_TOOL_NONE, "the water boiled off", NULL, NULL);
        off = st_doubt(b, ST_DOUBT_MAKING, st_input_range(b, s->boil_off_g, 0.0, 1e9, group, "boil", s->id));
    } else
        return;
    const int most = st_scaled_by(t, stream->liquid[ST_WATER], 0.98);
    if (st_now(b, off) > st_now(b, most))
        st_build_note(b, ST_NOTE_BOILED_DRY, st_now(b, off), st_now(b, most));
    if (st_now(b, stream->liquid[ST_ETHANOL]) > 0.0)
        st_build_note(b, ST_NOTE_BOILS_SPIRIT, st_now(b, stream->liquid[ST_ETHANOL]), 0.0);
    const int share = st_ratio(t, st_min(t, off, most), stream->liquid[ST_WATER]);
    lost[ST_WATER] = st_madd(t, share, stream->liquid[ST_WATER], lost[ST_WATER]);
    stream->liquid[ST_WATER] = st_mul(t, st_rest_of(t, share), stream->liquid[ST_WATER]);
}

/* A syrup is boiled with or without spice; what lies in it is strained off as in a steep. */
static bool syrup(struct st_build *b, const struct st_step *s, struct st_stream *stream, int lost[ST_NSLOT],
                  struct st_result *out)
{
    boil(b, s, stream, lost);
    return st_side_is_empty(stream->pieces) || st_steep_run(b, s, stream, lost, out);
}

static bool fine(struct st_build *b, const struct st_step *s, struct st_stream *stream, int lost[ST_NSLOT])
{
    if (!st_side_is_empty(stream->pieces)) { /* the agent, and what it takes down */
        st_build_note(b, ST_NOTE_ALSO_LOST, st_now(b, st_mass_of(b->tape, stream->pieces)), 0.0);
        st_move(b->tape, stream->pieces, lost, ST_ONE);
        stream->keeps = ST_ZERO;
    }
    lose(b, stream, lost, st_loss_share(b, s, 0.02, 0.04, 0.06, "what finings take down")); /* from memory */
    stream->cloudy = false;
    return true;
}

static bool rack(struct st_build *b, const struct st_step *s, struct st_stream *stream, int lost[ST_NSLOT])
{
    /* from memory: 1-3 % a racking, 2-10 % lees where fruit has been in it */
    if (stream->cloudy && !s->loss_share.known) {
        const int group = st_group_of(b, ST_CAUSE_LOSS, ST_TOOL_NONE, "the lees", NULL, NULL);
        lose(b, stream, lost, st_input_prior(b, 0.02, 0.05, 0.10, 0.5, group, "lees"));
    }
    lose(b, stream, lost, st_loss_share(b, s, 0.01, 0.02, 0.03, "what racking leaves behind"));
    stream->cloudy = false;
    return true;
}

static bool filter(struct st_build *b, const struct st_step *s, struct st_stream *stream, int lost[ST_NSLOT],
                   struct st_result *out)
{
    struct st_tape *t = b->tape;
    if (!st_side_is_empty(stream->pieces))
        st_strain(b, s, stream, lost, out);
    else if (s->loss_share.known)
        lose(b, stream, lost, st_loss_share(b, s, 0.0, 0.0, 0.0, "what the filter keeps"));
    lost[ST_SOLIDS] = st_add(t, lost[ST_SOLIDS], stream->liquid[ST_SOLIDS]);
    stream->liquid[ST_SOLIDS] = ST_ZERO;
    if (!s->loss_share.known && !s->loss_ml.known) /* a paper filter keeps 10-20 mL, from memory */
        lose_ml(b, stream, lost, (struct st_range){ 15.0, 10.0, 20.0, true, 'm', "" });
    stream->cloudy = false;
    return true;
}

bool st_step_run(struct st_build *b, const struct st_step *s, struct st_stream *stream, int lost[ST_NSLOT],
                 struct st_result *out)
{
    bool done = true;
    switch (s->kind) {
    case ST_DO_TOAST: done = toast(b, s, stream, lost); break;
    case ST_DO_STEEP: done = st_steep_run(b, s, stream, lost, out); break;
    case ST_DO_SYRUP: done = syrup(b, s, stream, lost, out); break;
    case ST_DO_BLEND: break;
    case ST_DO_REST:
        st_evaporate(b, s, stream, lost);
        if (s->loss_share.known)
            lose(b, stream, lost, st_loss_share(b, s, 0.0, 0.0, 0.0, "what is lost in resting"));
        break;
    case ST_DO_RACK: done = rack(b, s, stream, lost); break;
    case ST_DO_FINE: done = fine(b, s, stream, lost); break;
    case ST_DO_FILTER: done = filter(b, s, stream, lost, out); break;
    case ST_DO_BOTTLE: /* from memory */
        lose(b, stream, lost, st_loss_share(b, s, 0.005, 0.01, 0.015, "what bottling loses"));
        break;
    case ST_NDO: break;
    }
    if (b->stop) /* straining in any of them may have refused the weight of the solids */
        return false;
    if (done && s->loss_ml.known && s->kind != ST_DO_TOAST && !st_side_is_empty(stream->liquid))
        lose_ml(b, stream, lost, s->loss_ml);
    return done;
}
