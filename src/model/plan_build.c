#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/density_mixture.h"
#include "core/solubility.h"
#include "core/strength.h"
#include "plan_inside.h"
#include "text.h"

/* ---- telling ---- */

static struct st_place here(const struct st_build *b)
{
    const struct st_step *s = &b->recipe->step[b->step];
    return b->line >= 0 && b->line < s->n_line ? s->line[b->line].at : s->at;
}

bool st_build_stop(struct st_build *b, const char *what, const char *name, const char *why, const char *try_)
{
    if (b->stop)
        return false;
    b->stop = true;
    memset(b->problem, 0, sizeof *b->problem);
    b->problem->at = b->recipe->n_step ? here(b) : (struct st_place){ 0, 0 };
    st_say(b->problem->what, sizeof b->problem->what, what, name, NULL);
    st_say(b->problem->why, sizeof b->problem->why, why, NULL, NULL);
    st_say(b->problem->try_, sizeof b->problem->try_, try_, NULL, NULL);
    return false;
}

bool st_build_ask(struct st_build *b, const char *what, const char *name, const char *why, const char *try_)
{
    const bool first = !b->stop;
    (void)st_build_stop(b, what, name, why, try_);
    if (first)
        b->problem->is_question = 1;
    return false;
}

void st_build_note_between(struct st_build *b, enum st_note_code code, double is, double low, double high)
{
    struct st_plan *p = b->plan;
    if (p->n_note < ST_MAX_NOTES)
        p->note[p->n_note++] = (struct st_note){ code, b->step, b->line, is, high, low };
}

void st_build_note(struct st_build *b, enum st_note_code code, double is, double limit)
{
    st_build_note_between(b, code, is, 0.0, limit);
}

double st_now(const struct st_build *b, int reg)
{
    return b->tape->nominal[reg];
}

/* ---- many problems in one go ---- */

/* After a problem: it is kept unless it only follows from another, and the work goes on without what failed. */
static bool goes_on(struct st_build *b, bool follows)
{
    if (!b->list || b->tape->failed || b->tape->status < 0)
        return false;
    if (!follows && b->n_list < b->most)
        b->list[b->n_list++] = *b->problem;
    b->stop = false;
    b->bad = true;
    return true;
}

/* Takes from a step that failed, so there is nothing to say about it. */
static bool takes_what_failed(const struct st_build *b, const struct st_line *line)
{
    return b->list && !line->what && line->from_step >= 0 && line->from_step < b->step &&
           b->result[line->from_step].bad;
}

/* ---- one step ---- */

static bool takes_from_a_step(const struct st_step *s)
{
    for (int i = 0; i < s->n_line; i++)
        if (!s->line[i].what)
            return true;
    return false;
}

static bool is_treatment(enum st_do kind)
{
    return kind == ST_DO_REST || kind == ST_DO_RACK || kind == ST_DO_FINE || kind == ST_DO_FILTER ||
           kind == ST_DO_BOTTLE;
}

static void count_cost(struct st_build *b, const struct st_line *line)
{
    if (!line->what)
        return;
    if (isnan(line->price))
        b->cost_known = b->cost_known && line->what->kind == ST_KIND_WATER;
    else
        b->cost = st_madd(b->tape, line->amount.make_up_to ? ST_ONE : st_dial_amount(b),
                          st_tape_constant(b->tape, line->price), b->cost);
}

/* Lines of one sort: 0 measured or taken from a step, 1 open, 2 "to so much". */
static int sort_of(const struct st_line *line)
{
    if (line->amount.make_up_to)
        return 2;
    return line->what && (line->amount.open != ST_CLOSED || line->amount.dim == ST_DIM_OPEN) ? 1 : 0;
}

static bool join_line(struct st_build *b, const struct st_step *s, const struct st_line *line, struct st_stream *stream)
{
    count_cost(b, line);
    if (line->amount.make_up_to)
        return st_make_up_join(b, line, stream);
    if (sort_of(line) == 1)
        return st_open_join(b, s, line, stream);
    return line->what ? st_line_join(b, line, stream) : st_take_join(b, line, stream);
}

/* Open amounts go by what is there: with a line missing they say nothing. */
static bool join_or_go_on(struct st_build *b, const struct st_step *s, const struct st_line *line,
                          struct st_stream *stream)
{
    if (takes_what_failed(b, line)) {
        b->bad = true;
        return true;
    }
    const enum st_open open = line->amount.open;
    const bool follows = b->bad && (open == ST_OPEN_COVER || open == ST_OPEN_TASTE);
    return join_line(b, s, line, stream) || goes_on(b, follows);
}

static bool take_the_step_before(struct st_build *b, struct st_stream *stream)
{
    if (b->step == 0)
        return st_build_stop(b, "nothing to work on", NULL, "no step comes before this one", "put a step before it");
    if (b->result[b->step - 1].bad) {
        b->bad = true;
        return true;
    }
    return st_take_all(b, b->step - 1, stream);
}

static bool join_lines(struct st_build *b, const struct st_step *s, struct st_stream *stream)
{
    b->bulk_ml = -1;
    for (int i = 0; i < s->n_line; i++)
        if (s->line[i].amount.open == ST_OPEN_COVER)
            b->bulk_ml = ST_ZERO;
    if (is_treatment(s->kind) && !takes_from_a_step(s) && !take_the_step_before(b, stream) && !goes_on(b, false))
        return false;
    for (int sort = 0; sort < 3; sort++)
        for (int i = 0; i < s->n_line; i++) {
            b->line = i;
            if (sort_of(&s->line[i]) == sort && !join_or_go_on(b, s, &s->line[i], stream))
                return false;
        }
    b->line = -1;
    return true;
}

static void both_sides(struct st_tape *t, const struct st_stream *s, int sum[ST_NCOMP])
{
    for (int c = 0; c < ST_NCOMP; c++)
        sum[c] = st_add(t, s->liquid[c], s->pieces[c]);
}

static void warn_of_crystals(struct st_build *b, const struct st_stream *s)
{
    double g[ST_NCOMP], w[ST_NCOMP], most;
    b->plan->account[b->step].syrup =
        (struct st_syrup){ s->liquid[ST_SUCROSE], s->liquid[ST_WATER], s->liquid[ST_ETHANOL] };
    st_nominal_of(b->tape, s->liquid, g);
    if (st_mixture_from_masses(g, w) < 0 || !(w[ST_SUCROSE] > 0.0))
        return;
    /* the solvent is compared without what is neither sugar, water nor ethanol */
    const double base = w[ST_SUCROSE] + w[ST_WATER] + w[ST_ETHANOL];
    if (st_sucrose_solubility(w, ST_T20, &most) >= 0 && w[ST_SUCROSE] / base > most)
        st_build_note(b, ST_NOTE_CRYSTALLISES, w[ST_SUCROSE] / base, most);
}

static void account_for(struct st_build *b, const struct st_stream *s, const int lost[ST_NSLOT],
                        const struct st_result *out)
{
    struct st_tape *t = b->tape;
    struct st_step_account *a = &b->plan->account[b->step];
    both_sides(t, s, a->out);
    memcpy(a->spent, out->spent, sizeof a->spent);
    memcpy(a->lost, lost, sizeof a->lost);

    const int volume = st_volume_of(t, s->liquid);
    a->volume = volume;
    a->density = st_density(t, s->liquid);
    a->strength = st_scaled_by(t, st_ratio(t, s->liquid[ST_ETHANOL], volume), 100.0 / 0.789239);
    int sugars = ST_ZERO;
    for (int c = ST_SUCROSE; c <= ST_LACTOSE; c++)
        sugars = st_add(t, sugars, s->liquid[c]);
    a->sugar = st_scaled_by(t, st_ratio(t, sugars, volume), 1000.0);

    double g[ST_NCOMP], w[ST_NCOMP], rho;
    st_nominal_of(t, s->liquid, g);
    a->status = b->made_of;
    if (st_mixture_from_masses(g, w) >= 0)
        a->status = st_status_worse(a->status, st_density_mixture(w, ST_T20, &rho));
}

/* All that goes in, at once: pieces by what they are made of, without the pores between them. */
static void warn_of_overflow(struct st_build *b, const struct st_step *s, const struct st_stream *stream)
{
    const double vessel = st_vessel_ml(s);
    const int all = st_add(b->tape, st_volume_of(b->tape, stream->liquid), st_volume_of(b->tape, stream->pieces));
    b->plan->account[b->step].filled = all;
    if (vessel > 0.0 && st_now(b, all) > vessel * (1.0 + 1e-6))
        st_build_note(b, ST_NOTE_OVERFULL, st_now(b, all), vessel);
}

static bool work_step(struct st_build *b, const struct st_step *s, struct st_result *out)
{
    struct st_stream stream = st_stream_empty();
    int lost[ST_NSLOT];

    for (int c = 0; c < ST_NSLOT; c++)
        lost[c] = out->spent[c] = ST_ZERO;
    out->spent_keeps = ST_ZERO;
    if (!join_lines(b, s, &stream))
        return false;
    if (b->bad)
        return true;
    if (st_side_is_empty(stream.liquid) && st_side_is_empty(stream.pieces))
        return st_build_stop(b, "nothing goes into this step", NULL, "it has no ingredient and takes from no step",
                             "add a line, or leave the step out");
    both_sides(b->tape, &stream, b->plan->account[b->step].in);
    warn_of_overflow(b, s, &stream);
    if (!st_step_run(b, s, &stream, lost, out))
        return false;
    if (b->tape->failed || b->tape->status < 0)
        return st_build_stop(b, "cannot reckon this step", NULL,
                             b->tape->failed ? "memory ran out" : "an amount or share in it has no meaning",
                             "look for amounts that are negative or far too large");
    if (s->kind == ST_DO_STEEP || s->kind == ST_DO_SYRUP || s->kind == ST_DO_BLEND)
        warn_of_crystals(b, &stream);
    account_for(b, &stream, lost, out);
    out->liquor = stream;
    out->left[0] = ST_ONE;
    out->left[1] = ST_ONE;
    return true;
}

static bool build_step(struct st_build *b, int i)
{
    b->step = i;
    b->line = -1;
    b->bad = false;
    if (!work_step(b, &b->recipe->step[i], &b->result[i]) && !goes_on(b, b->bad))
        return false;
    b->result[i].bad = b->bad;
    return true;
}

/* ---- the whole ---- */

static void note_unused(struct st_build *b)
{
    for (int i = 0; i + 1 < b->recipe->n_step; i++)
        if (!b->result[i].taken) {
            b->step = i;
            st_build_note(b, ST_NOTE_UNUSED, st_now(b, st_mass_of(b->tape, b->result[i].liquor.liquid)), 0.0);
        }
}

/* Fruit that lies in a blend and is never strained off holds its liquor back. */
static void note_lying(struct st_build *b)
{
    for (int i = 0; i < b->recipe->n_step; i++)
        b->plan->account[i].lying = st_mul(b->tape, b->result[i].left[0], b->result[i].liquor.pieces[ST_ETHANOL]);
}

static bool build_steps(struct st_build *b)
{
    const struct st_recipe *r = b->recipe;
    if (r->n_step <= 0)
        return st_build_stop(b, "nothing to foresee", NULL, "the recipe has no steps", "write at least one step");
    if (!st_dials_place(b))
        return false;
    for (int i = 0; i < r->n_step; i++)
        if (!build_step(b, i))
            return false;
    if (b->n_list > 0)
        return false;
    note_unused(b);
    note_lying(b);
    b->step = r->n_step - 1;
    b->line = -1;
    const struct st_stream *drink = &b->result[b->step].liquor;
    st_must_hold(b, st_mass_of(b->tape, drink->liquid), 0.0);
    if (!(st_now(b, st_mass_of(b->tape, drink->liquid)) > 0.0))
        return st_build_stop(b, "nothing comes into the bottle", NULL, "no liquid is left at the last step",
                             "look at the amounts and losses");
    if (!st_side_is_empty(drink->pieces))
        st_build_note(b, ST_NOTE_NOT_STRAINED, st_now(b, st_mass_of(b->tape, drink->pieces)), 0.0);
    st_figures_write(b, &r->step[b->step], drink);
    return true;
}

static bool make_room(struct st_build *b, bool sharp)
{
    const struct st_recipe *r = b->recipe;
    size_t lines = 1, steps = r->n_step > 0 ? (size_t)r->n_step : 1;
    for (int i = 0; i < r->n_step; i++)
        lines += (size_t)r->step[i].n_line;
    b->known = calloc(lines, sizeof *b->known);
    b->result = calloc(steps, sizeof *b->result);
    b->plan = calloc(1, sizeof *b->plan);
    if (!b->plan)
        return false;
    st_tape_init(&b->plan->tape);
    b->tape = &b->plan->tape;
    b->tape->sharp = sharp;
    b->plan->holds = ST_ONE;
    b->plan->recipe = r;
    b->plan->account = calloc(steps, sizeof *b->plan->account);
    for (int i = 0; i < ST_NTOOL; i++)
        b->tool_scale[i] = b->tool_group[i] = -1;
    return b->known && b->result && b->plan->account && !b->tape->failed;
}

static bool compile(struct st_plan *p)
{
    int result[ST_NFIG + ST_MAX_MARKERS + ST_NCOMP + 2], n = 0;
    for (int f = 0; f < ST_NFIG; f++)
        result[n++] = p->figure[f] < 0 ? ST_ZERO : p->figure[f];
    for (int m = 0; m < p->n_marker; m++)
        result[n++] = p->marker_reg[m];
    if (p->tape.sharp) { /* what st_plan_at asks: the drink, and what must hold */
        n = ST_NFIG;
        for (int c = 0; c < ST_NCOMP; c++)
            result[n++] = p->final[c];
        result[n++] = p->holds;
        result[n++] = p->acid_share;
    }
    return st_program_create(&p->tape, result, n, &p->program);
}

static struct st_plan *build(struct st_build *b, bool sharp)
{
    bool done = false;
    if (!make_room(b, sharp))
        st_build_stop(b, "cannot reckon this recipe", NULL, "memory ran out", "close other programs");
    else if (build_steps(b)) {
        b->plan->made_of = b->made_of;
        done = !b->tape->failed && compile(b->plan);
        if (!done)
            st_build_stop(b, "cannot reckon this recipe", NULL, "memory ran out", "close other programs");
    }
    free(b->known);
    free(b->result);
    if (done)
        return b->plan;
    st_plan_free(b->plan);
    return NULL;
}

struct st_plan *st_plan_build(const struct st_recipe *r, const struct st_dials *d, bool sharp,
                              struct st_problem *problem)
{
    struct st_build b = {
        .recipe = r, .problem = problem, .cost_known = true, .line = -1, .dials = d, .cost = ST_ZERO
    };
    return build(&b, sharp);
}

/* By place in the file, since open lines are looked at last. */
static void sort_by_place(struct st_problem *p, int n)
{
    for (int i = 1; i < n; i++)
        for (int k = i; k > 0 && p[k - 1].at.line > p[k].at.line; k--) {
            const struct st_problem one = p[k];
            p[k] = p[k - 1];
            p[k - 1] = one;
        }
}

int st_plan_problems(const struct st_recipe *r, struct st_problem out[], int max)
{
    struct st_problem last = { .what = "" };
    struct st_build b = { .recipe = r, .problem = &last, .cost_known = true, .line = -1, .list = out, .most = max };
    struct st_plan *p = max > 0 ? build(&b, true) : NULL;
    if (!p && b.stop && b.n_list < max)
        out[b.n_list++] = last;
    st_plan_free(p);
    sort_by_place(out, b.n_list);
    return b.n_list;
}

struct st_plan *st_plan_create(const struct st_recipe *r, struct st_problem *problem)
{
    return st_plan_build(r, NULL, false, problem);
}

void st_plan_free(struct st_plan *p)
{
    if (!p)
        return;
    st_plan_free(p->sharp);
    st_program_done(&p->program);
    st_tape_done(&p->tape);
    free(p->account);
    free(p->joined);
    free(p);
}

const struct st_note *st_plan_notes(const struct st_plan *p, int *n)
{
    *n = p->n_note;
    return p->note;
}
