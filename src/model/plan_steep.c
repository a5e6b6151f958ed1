#include <math.h>

#include "plan_inside.h"

/* Share of ethanol that leaves a lidded jar in a month: order of magnitude only, from memory. */
static const double EVAPORATES_LOW = 0.001, EVAPORATES = 0.0025, EVAPORATES_HIGH = 0.005;
static const double MONTH_S = 30.4375 * 86400.0;

/* However much the solids would soak up, this share of the liquid at least comes off them (ours). */
static const double KEEPS_AT_MOST = 0.95;

void st_evaporate(struct st_build *b, const struct st_step *s, struct st_stream *stream, int lost[ST_NSLOT])
{
    if (s->time.dim != ST_DIM_TIME || !(s->time.value > 0.0) || stream->liquid[ST_ETHANOL] == ST_ZERO)
        return;
    struct st_tape *t = b->tape;
    const double months = s->time.value / MONTH_S;
    const double low = fmin(s->time.low > 0.0 ? s->time.low : s->time.value, s->time.value) / MONTH_S;
    const double high = fmax(s->time.high, s->time.value) / MONTH_S;
    const int group = st_group_of(b, ST_CAUSE_LOSS, ST_TOOL_NONE, "what evaporates", NULL, NULL);
    const int share = st_input_prior(b, fmin(EVAPORATES_LOW * low, 0.5), fmin(EVAPORATES * months, 0.5),
                                     fmin(EVAPORATES_HIGH * high, 0.5), 0.5, group, "evaporates");
    const int gone = st_mul(t, share, stream->liquid[ST_ETHANOL]);
    lost[ST_ETHANOL] = st_add(t, lost[ST_ETHANOL], gone);
    stream->liquid[ST_ETHANOL] = st_mul(t, st_rest_of(t, share), stream->liquid[ST_ETHANOL]);
}

/* End state: nearly all of the fruit's water, sugar, acid has mixed with the liquor (from memory; over 0.95 after two
 * weeks for pricked fruit).  Insoluble matter and fat stay, and a juice's pulp joins them. */
static void exchange(struct st_build *b, const struct st_step *s, struct st_stream *stream)
{
    struct st_tape *t = b->tape;
    const int group = st_group_of(b, ST_CAUSE_RANGE, ST_TOOL_NONE, "how far the fruit has given itself up", NULL, NULL);
    int f;
    if (s->exchanged.known)
        f = st_input_range(b, s->exchanged, 0.0, 1.0, group, "exchanged", s->id);
    else {
        f = st_input_prior(b, 0.92, 0.98, 1.0, 1.0, group, "exchanged");
        b->made_of = st_status_worse(b->made_of, ST_ESTIMATED);
    }
    for (int c = 0; c < ST_NSLOT; c++) {
        if (c == ST_SOLIDS || c == ST_FAT || stream->pieces[c] == ST_ZERO)
            continue;
        stream->liquid[c] = st_madd(t, f, stream->pieces[c], stream->liquid[c]);
        stream->pieces[c] = st_mul(t, st_rest_of(t, f), stream->pieces[c]);
    }
    stream->pieces[ST_SOLIDS] = st_add(t, stream->pieces[ST_SOLIDS], stream->liquid[ST_SOLIDS]);
    stream->liquid[ST_SOLIDS] = ST_ZERO;
}

/* Grams of liquor that stay with the solids: by the maker's weighing, or by prior, pressed or not. */
static int liquor_kept(struct st_build *b, const struct st_step *s, const struct st_stream *stream)
{
    struct st_tape *t = b->tape;
    if (s->drained_solids_g.known) {
        const int group =
            st_group_of(b, ST_CAUSE_RETENTION, ST_TOOL_SCALE, "the weight of the drained solids", NULL, NULL);
        const double there = st_now(b, st_mass_of(t, stream->pieces)) + st_now(b, st_mass_of(t, stream->liquid));
        if (s->drained_solids_g.value > there) {
            st_build_stop(b, "the drained solids weigh more than went into ", s->id,
                          "solids and liquid together were less than that",
                          "weigh again, without the strainer, and write it as `drained: ... g`");
            return ST_ZERO;
        }
        st_must_hold(b, st_add(t, st_mass_of(t, stream->pieces), st_mass_of(t, stream->liquid)),
                     s->drained_solids_g.value);
        const int weighed =
            st_doubt(b, ST_DOUBT_MAKING, st_input_range(b, s->drained_solids_g, 0.0, 1e9, group, "drained", s->id));
        return st_max(t, st_sub(t, weighed, st_mass_of(t, stream->pieces)), ST_ZERO);
    }
    b->made_of = st_status_worse(b->made_of, ST_ESTIMATED);
    if (!s->press)
        return stream->keeps;
    struct st_range phi = s->press_share;
    if (!phi.known)
        phi = (struct st_range){ 0.4, 0.3, 0.5, true, 'm', "from memory" };
    const int group = st_group_of(b, ST_CAUSE_RETENTION, ST_TOOL_NONE, "what pressing wins back", NULL, NULL);
    return st_mul(t, st_rest_of(t, st_input_range(b, phi, 0.0, 1.0, group, "press", s->id)), stream->keeps);
}

/* Film on vessel and strainer, 0.2-1 % of the liquid (from memory), or as the step says. */
static int film_share(struct st_build *b, const struct st_step *s)
{
    return st_loss_share(b, s, 0.002, 0.005, 0.01, "what sticks to jar and strainer");
}

void st_strain(struct st_build *b, const struct st_step *s, struct st_stream *stream, int lost[ST_NSLOT],
               struct st_result *out)
{
    struct st_tape *t = b->tape;
    const int pool = st_mass_of(t, stream->liquid);
    const int kept = liquor_kept(b, s, stream);
    const int most = st_tape_constant(t, KEEPS_AT_MOST);

    if (st_now(b, kept) > KEEPS_AT_MOST * st_now(b, pool))
        st_build_note(b, ST_NOTE_KEEPS_ALL, st_now(b, kept), KEEPS_AT_MOST * st_now(b, pool));
    const int share = st_min(t, st_ratio(t, kept, pool), most);
    int spent[ST_NSLOT];
    for (int c = 0; c < ST_NSLOT; c++)
        spent[c] = stream->pieces[c];
    st_move(t, stream->liquid, spent, share);
    st_move(t, stream->liquid, lost, film_share(b, s));
    for (int c = 0; c < ST_NSLOT; c++) {
        out->spent[c] = spent[c];
        stream->pieces[c] = ST_ZERO;
    }
    out->spent_keeps = stream->keeps;
    stream->keeps = ST_ZERO;
    stream->cloudy = true;
}

bool st_steep_run(struct st_build *b, const struct st_step *s, struct st_stream *stream, int lost[ST_NSLOT],
                  struct st_result *out)
{
    struct st_tape *t = b->tape;
    struct st_step_account *account = &b->plan->account[b->step];

    if (st_side_is_empty(stream->liquid))
        return st_build_stop(b, "nothing to steep in", NULL, "this step holds no liquid",
                             "add a spirit or another liquid");
    const bool pieces = !st_side_is_empty(stream->pieces);
    if (pieces)
        exchange(b, s, stream);
    st_evaporate(b, s, stream, lost);
    st_must_hold(b, st_mass_of(t, stream->liquid), 0.0);
    const int volume = st_volume_of(t, stream->liquid);
    account->strength_in_steep = st_scaled_by(t, st_ratio(t, stream->liquid[ST_ETHANOL], volume), 100.0 / 0.789239);
    if (pieces)
        st_strain(b, s, stream, lost, out);
    return !b->stop;
}
