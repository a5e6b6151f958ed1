#include <string.h>

#include "try_inside.h"
#include "util/memory.h"

/* One recipe on its way to the other: a copy of one side in which single changes are made from the other side. */
struct draft {
    const struct st_try_changes *c;
    int side; /* of which it is a copy */
    struct st_arena *arena;
    struct st_recipe *r;
    struct st_step *step;
    int **origin; /* [n_step][n_line]: number of the line it is a copy of; -1 brought from the other side */
};

static void copy_steps(struct draft *d)
{
    const struct st_recipe *from = d->c->recipe[d->side];
    const int most = d->c->n; /* each change brings one line at most */
    d->step = st_arena_alloc(d->arena, (size_t)from->n_step * sizeof *d->step);
    d->origin = st_arena_alloc(d->arena, (size_t)from->n_step * sizeof *d->origin);
    for (int s = 0; s < from->n_step; s++) {
        const int n = from->step[s].n_line;
        d->step[s] = from->step[s];
        d->step[s].line = st_arena_alloc(d->arena, (size_t)(n + most + 1) * sizeof *d->step[s].line);
        d->origin[s] = st_arena_alloc(d->arena, (size_t)(n + most + 1) * sizeof **d->origin);
        for (int i = 0; i < n; i++) {
            d->step[s].line[i] = from->step[s].line[i];
            d->origin[s][i] = d->c->match->first[d->side][s] + i;
        }
    }
    d->r = st_arena_alloc(d->arena, sizeof *d->r);
    *d->r = *from;
    d->r->step = d->step;
}

static bool find(const struct draft *d, int number, int *step, int *line)
{
    for (int s = 0; s < d->r->n_step; s++)
        for (int i = 0; i < d->step[s].n_line; i++)
            if (d->origin[s][i] == number) {
                *step = s;
                *line = i;
                return true;
            }
    return false;
}

static void take_out(struct draft *d, int step, int line)
{
    struct st_step *s = &d->step[step];
    const size_t behind = (size_t)(s->n_line - line - 1);
    memmove(&s->line[line], &s->line[line + 1], behind * sizeof *s->line);
    memmove(&d->origin[step][line], &d->origin[step][line + 1], behind * sizeof *d->origin[step]);
    s->n_line--;
}

/* Behind the line that stands before it on the other side, where that line stands here. */
static int place_of(const struct draft *d, int step, int other_step, int other_line)
{
    const struct st_try_match *m = d->c->match;
    const int other = 1 - d->side, first = m->first[other][other_step];
    for (int i = other_line - 1; i >= 0; i--) {
        int s, l;
        const int here = m->line_of[other][first + i];
        if (here >= 0 && find(d, here, &s, &l) && s == step)
            return l + 1;
    }
    return 0;
}

static void put_in(struct draft *d, int step, int at, const struct st_line *line, int origin)
{
    struct st_step *s = &d->step[step];
    const size_t behind = (size_t)(s->n_line - at);
    memmove(&s->line[at + 1], &s->line[at], behind * sizeof *s->line);
    memmove(&d->origin[step][at + 1], &d->origin[step][at], behind * sizeof *d->origin[step]);
    s->line[at] = *line;
    d->origin[step][at] = origin;
    s->n_line++;
}

/* ---- lines ---- */

static void move(struct draft *d, const struct st_try_change *x, int step, int line)
{
    const int other = 1 - d->side, to = d->c->match->step_of[other][x->step[other]];
    if (to < 0)
        return;
    const struct st_line moved = d->step[step].line[line];
    const int origin = d->origin[step][line];
    take_out(d, step, line);
    put_in(d, to, place_of(d, to, x->step[other], x->line[other]), &moved, origin);
}

static void other_amount(struct st_line *l, const struct st_line *was, const struct st_line *is)
{
    l->amount = is->amount;
    if (st_try_price_follows(was, is))
        l->price *= is->amount.value / was->amount.value;
}

static void other_figures(struct draft *d, const struct st_ingredient *what)
{
    for (int s = 0; s < d->r->n_step; s++)
        for (int i = 0; i < d->step[s].n_line; i++) {
            struct st_line *l = &d->step[s].line[i];
            if (l->what && strcmp(l->what->slug, what->slug) == 0)
                l->what = what;
        }
}

static void instead(struct st_line *l, const struct st_line *is)
{
    *l = *is;
    l->from_step = -1;
}

static void change_line(struct draft *d, const struct st_try_change *x)
{
    const int other = 1 - d->side;
    const struct st_line *was = st_try_line_of(d->c, x, d->side), *is = st_try_line_of(d->c, x, other);
    int s, i;
    if (!was) { /* it has none here: bring it */
        const int to = d->c->match->step_of[other][x->step[other]];
        if (to >= 0)
            put_in(d, to, place_of(d, to, x->step[other], x->line[other]), is, -1);
        return;
    }
    if (!find(d, d->c->match->first[d->side][x->step[d->side]] + x->line[d->side], &s, &i))
        return;
    struct st_line *l = &d->step[s].line[i];
    switch (x->what) {
    case ST_TRY_ADDED:
    case ST_TRY_LEFT_OUT: take_out(d, s, i); break;
    case ST_TRY_MOVED: move(d, x, s, i); break;
    case ST_TRY_INSTEAD: instead(l, is); break;
    case ST_TRY_FIGURES: other_figures(d, is->what); break;
    case ST_TRY_AMOUNT: other_amount(l, was, is); break;
    case ST_TRY_MEASURED:
        l->amount.tool = is->amount.tool;
        l->amount.fills = is->amount.fills;
        break;
    case ST_TRY_STRENGTH: l->strength = is->strength; break;
    case ST_TRY_TRIMMED:
        l->gross = is->gross;
        l->weighing_unsaid = is->weighing_unsaid;
        l->trimmed_share = is->trimmed_share;
        break;
    case ST_TRY_WARM: l->temperature_K = is->temperature_K; break;
    case ST_TRY_PRICE:
        l->price = st_try_price_follows(was, is) ? is->price / is->amount.value * l->amount.value : is->price;
        break;
    default: /* its cut, and how it is said */
        l->text = is->text;
        l->said = is->said;
        break;
    }
}

/* ---- steps and the whole ---- */

static void change_step(struct draft *d, const struct st_try_change *x)
{
    struct st_step *s = &d->step[x->step[d->side]];
    const struct st_step *is = st_try_step_of(d->c, x, 1 - d->side);
    switch (x->what) {
    case ST_TRY_KIND: s->kind = is->kind; break;
    case ST_TRY_TIME: s->time = is->time; break;
    case ST_TRY_TEMPERATURE:
        s->temperature_K = is->temperature_K;
        memcpy(s->warm, is->warm, sizeof s->warm);
        s->n_warm = is->n_warm;
        break;
    case ST_TRY_PRESS:
        s->press = is->press;
        s->press_share = is->press_share;
        break;
    case ST_TRY_DRAINED: s->drained_solids_g = is->drained_solids_g; break;
    case ST_TRY_EXCHANGED: s->exchanged = is->exchanged; break;
    case ST_TRY_BOIL:
        s->boil_off_g = is->boil_off_g;
        s->boil_down_to = is->boil_down_to;
        break;
    case ST_TRY_LOSS:
        s->loss_share = is->loss_share;
        s->loss_ml = is->loss_ml;
        break;
    case ST_TRY_VESSEL: s->vessel_ml = is->vessel_ml; break;
    case ST_TRY_BOTTLE:
        s->bottle_ml = is->bottle_ml;
        s->bottles = is->bottles;
        break;
    case ST_TRY_NAME: s->id = is->id; break;
    case ST_TRY_WORDS: s->words = is->words; break;
    default: break;
    }
}

static void change_whole(struct draft *d, const struct st_try_change *x)
{
    const struct st_recipe *is = d->c->recipe[1 - d->side];
    switch (x->what) {
    case ST_TRY_SERVING: d->r->serving_ml = is->serving_ml; break;
    case ST_TRY_TOOLS: d->r->tools = is->tools; break;
    case ST_TRY_WISH: d->r->wish = is->wish; break;
    case ST_TRY_CURRENCY: d->r->currency = is->currency; break;
    case ST_TRY_ASSAYS:
        d->r->assay = is->assay;
        d->r->n_assay = is->n_assay;
        break;
    case ST_TRY_TITLE: d->r->title = is->title; break;
    case ST_TRY_NOTE: d->r->note = is->note; break;
    default: break;
    }
}

struct st_recipe *st_try_apply(const struct st_try_changes *c, const bool take[], struct st_arena *arena)
{
    struct draft d = { .c = c, .arena = arena };
    for (int i = 0; i < c->n; i++)
        if (c->change[i].whole && take[i])
            d.side = 1;
    copy_steps(&d);
    for (int pass = 0; pass < 2;
         pass++) /* what comes, goes or is changed whole first; then figures that hold for all */
        for (int i = 0; i < c->n; i++) {
            const struct st_try_change *x = &c->change[i];
            if (x->whole || take[i] == (d.side == 1) || (x->what == ST_TRY_FIGURES) != (pass == 1))
                continue;
            if (x->line[0] >= 0 || x->line[1] >= 0)
                change_line(&d, x);
            else if (x->step[0] >= 0)
                change_step(&d, x);
            else
                change_whole(&d, x);
        }
    return d.r;
}
