#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/foresee.h"
#include "name_form.h"
#include "take_poured.h"
#include "take_whole.h"

/* Questions, ranked by how far their answers move the bottle. */

enum { MOST_QUESTIONS = 40, MOST_OPEN = 3, MOST_PLANS = 64 };

/* One unit each is what a maker would notice: common practice, no source. */
static const double NOTICE[3] = { 0.5, 10, 0.02 }; /* % vol, g/L, share of the volume */
static const double WORTH = 1.0;                   /* units below which a question is not put */

struct candidate {
    struct st_take_question q;
    enum st_take_kind kind;
    const struct st_take_ask *ask;
    int row;
    double weight, low[3], high[3];
    bool tried, vessel, part, goods;
};

struct asking {
    struct st_taking *t;
    struct st_take *out;
    struct candidate *c;
    int n, plans;
    double base[3];
    bool has_base;
};

/* ---- what the bottle would be ---- */

static bool figures(const struct st_recipe *r, double y[3])
{
    static const enum st_figure WHICH[3] = { ST_FIG_STRENGTH, ST_FIG_SUGAR, ST_FIG_VOLUME };
    struct st_problem p;
    struct st_foretold *f = malloc(sizeof *f);
    struct st_plan *plan = f ? st_plan_create(r, &p) : NULL;
    const struct st_options nominal = { .seed = 1, .draws = 0 };
    bool known = plan != NULL;

    if (plan) {
        known = st_plan_run(plan, &nominal, f) >= 0;
        for (int i = 0; i < 3 && known; i++) {
            y[i] = f->fig[WHICH[i]].value;
            known = f->fig[WHICH[i]].known && isfinite(y[i]);
        }
        st_foretold_done(f);
        st_plan_free(plan);
    }
    free(f);
    return known;
}

/* A copy whose lines may be changed. */
static struct st_recipe copy_of(struct st_arena *a, const struct st_recipe *r)
{
    struct st_recipe c = *r;
    c.step = st_arena_alloc(a, (size_t)r->n_step * sizeof *c.step);
    for (int i = 0; i < r->n_step; i++) {
        c.step[i] = r->step[i];
        c.step[i].line = st_arena_alloc(a, (size_t)(r->step[i].n_line + 1) * sizeof *c.step[i].line);
        if (r->step[i].n_line)
            memcpy(c.step[i].line, r->step[i].line, (size_t)r->step[i].n_line * sizeof *c.step[i].line);
    }
    return c;
}

/* The entry said in other words, wherever it goes. */
static bool say_otherwise(struct st_taking *t, struct st_recipe *r, int entry, const char *as,
                          enum st_measures measures)
{
    struct st_problem p;
    bool done = false;
    for (int i = 0; i < r->n_step && i < t->n_order; i++) {
        const struct st_stage *s = &t->stage[t->order[i]];
        for (int k = 0; k < s->n_use && k < r->step[i].n_line; k++) {
            if (s->use[k].of != ST_USE_ENTRY || s->use[k].which != entry)
                continue;
            const char *part = st_take_scaled(t, as, s->use[k].share);
            struct st_line line;
            if (st_line_parse(part ? part : as, measures, t->catalogue, &line, &p) != 0)
                return false;
            line.at = r->step[i].line[k].at;
            r->step[i].line[k] = line;
            done = true;
        }
    }
    return done;
}

static enum st_measures measures_of(const char *label)
{
    return strncmp(label, "us", 2) == 0 || strncmp(label, "US", 2) == 0 ? ST_MEASURES_US
           : strncmp(label, "imp", 3) == 0                              ? ST_MEASURES_IMPERIAL
                                                                        : ST_MEASURES_METRIC;
}

/* One question for the whole text: every line that asks takes the option of this name. */
static bool say_measures(struct asking *a, struct st_recipe *r, const char *label)
{
    struct st_taking *t = a->t;
    bool done = false;
    for (int i = 0; i < t->n_row; i++) {
        const struct st_taken *row = &t->row[i];
        for (int k = 0; k < row->item->n_ask && row->entry >= 0; k++) {
            const struct st_take_ask *ask = &row->item->ask[k];
            const int o = ask->kind == ST_ASK_MEASURES ? st_take_option(ask, label) : -1;
            if (o >= 0 && t->entry[row->entry].item == row->item)
                done = say_otherwise(t, r, row->entry, ask->option[o].as, measures_of(label)) || done;
        }
    }
    return done;
}

/* Another jar. */
static bool say_vessel(struct asking *a, struct st_recipe *r, double ml)
{
    const int step = a->t->vessel_stage >= 0 ? a->t->stage[a->t->vessel_stage].step : -1;
    if (step < 0 || step >= r->n_step)
        return false;
    r->step[step].vessel_ml = ml;
    for (int e = 0; e < a->t->n_entry; e++) {
        const char *as = a->t->entry[e].fill > 0 ? st_take_fill_line(a->t, &a->t->entry[e], ml) : NULL;
        if (as)
            (void)say_otherwise(a->t, r, e, as, a->t->measures);
    }
    return true;
}

static bool variant(struct asking *a, const struct candidate *c, int option, double y[3])
{
    struct st_arena arena = { 0 };
    bool known = false;

    if (++a->plans > MOST_PLANS)
        return false;
    st_arena_init(&arena);
    struct st_recipe r = copy_of(&arena, &a->out->recipe.recipe);
    const int entry = c->vessel ? -1 : a->t->row[c->row].entry;
    const bool said = c->vessel                    ? say_vessel(a, &r, st_take_vessel_option(option))
                      : c->kind == ST_ASK_MEASURES ? say_measures(a, &r, c->ask->option[option].label)
                      : entry >= 0 ? say_otherwise(a->t, &r, entry, c->ask->option[option].as, a->t->measures)
                                   : false;
    if (said)
        known = figures(&r, y);
    st_arena_done(&arena);
    return known;
}

static double units(const struct asking *a, int figure, double by)
{
    const double one = figure == 2 ? NOTICE[2] * (a->base[2] > 1 ? a->base[2] : 1) : NOTICE[figure];
    return by / one;
}

static void widen(struct candidate *c, const double y[3])
{
    for (int f = 0; f < 3; f++) {
        c->low[f] = c->tried ? fmin(c->low[f], y[f]) : y[f];
        c->high[f] = c->tried ? fmax(c->high[f], y[f]) : y[f];
    }
    c->tried = true;
}

/* A line that was not read and has an amount of the size of the jar's: a tenth of the bottle, or 200 mL where there is
 * none. */
static bool is_large_unread(const struct asking *a, const struct candidate *c)
{
    const struct st_take_item *item = a->t->row[c->row].item;
    const struct st_amount *m = &item->line.amount;
    if (c->vessel || c->part || c->goods || c->kind != ST_ASK_WHICH || item->sure != ST_UNREAD ||
        item->role != ST_TAKE_INGREDIENT || (m->dim != ST_DIM_MASS && m->dim != ST_DIM_VOLUME))
        return false;
    return m->value >= (a->has_base ? 0.1 * a->base[2] : 200.0);
}

static void weigh(struct asking *a, struct candidate *c)
{
    double y[3];
    if (c->part && a->has_base) { /* everything in proportion */
        c->low[0] = c->high[0] = a->base[0];
        c->low[1] = c->high[1] = a->base[1];
        c->low[2] = a->base[2] * 0.2;
        c->high[2] = a->base[2] * 2;
        c->tried = true;
    }
    for (int o = 0; o < c->ask->n_option && a->has_base && !c->part; o++)
        if (variant(a, c, o, y))
            widen(c, y);
    if (c->tried)
        for (int f = 0; f < 3; f++) {
            c->q.moves[f] = c->high[f] - c->low[f];
            c->weight += units(a, f, c->q.moves[f]);
            if (strncmp(c->ask->ask, "Which went in", 13) == 0 && c->weight < WORTH)
                c->weight = WORTH; /* it moves little, and what it holds is another matter */
        }
    else
        c->weight = c->kind == ST_ASK_WHICH && !c->goods ? WORTH : 5; /* a thing that is not in the reckoning at all */
    if (is_large_unread(a, c))
        c->weight += 500; /* most of the jar may hang on it */
    if (c->ask->refused)
        c->weight += 1000; /* whoever answers wants to know why it was of no use */
}

/* ---- in words ---- */

static const char *why(struct asking *a, const struct candidate *c)
{
    static const char *const NAME[3] = { "strength", "sugar", "volume" }, *const UNIT[3] = { "% vol", "g/L", "mL" };
    int f = 0;
    if (c->goods)
        return "Without an answer there is nothing to reckon with";
    if (!c->tried)
        return "Without an answer it is left out of the reckoning, or guessed";
    for (int k = 1; k < 3; k++)
        if (units(a, k, c->q.moves[k]) > units(a, f, c->q.moves[f]))
            f = k;
    const int digits = f == 0 && c->q.moves[0] < 3 ? 1 : 0;
    return st_arena_printf(a->t->arena, "Moves the %s most: %.*f to %.*f %s", NAME[f], digits, c->low[f], digits,
                           c->high[f], UNIT[f]);
}

static void fill(struct asking *a, struct candidate *c)
{
    c->q.ask = st_arena_strdup(a->t->arena, c->ask->ask);
    c->q.n_option = c->ask->n_option;
    for (int o = 0; o < c->ask->n_option; o++)
        c->q.label[o] = st_arena_strdup(a->t->arena, c->ask->option[o].label);
    c->q.own_words = c->ask->with[0] != '\0' && c->kind != ST_ASK_MEASURES;
    c->q.line = c->kind == ST_ASK_MEASURES || c->vessel || c->part || c->goods ? 0 : a->t->row[c->row].line;
}

static struct candidate *candidate(struct asking *a, int row, enum st_take_kind kind, const struct st_take_ask *ask)
{
    if (a->n >= MOST_QUESTIONS)
        return NULL;
    struct candidate *c = &a->c[a->n++];
    *c = (struct candidate){ .kind = kind, .ask = ask, .row = row };
    c->q.id = a->t->row[row].id[kind] ? a->t->row[row].id[kind] : "measures";
    return c;
}

/* ---- collecting ---- */

static bool is_there(const struct asking *a, const char *id)
{
    for (int i = 0; i < a->n; i++)
        if (strcmp(a->c[i].q.id, id) == 0)
            return true;
    return false;
}

static void collect(struct asking *a)
{
    struct st_taking *t = a->t;
    for (int i = 0; i < t->n_row; i++) {
        struct st_taken *row = &t->row[i];
        const bool first = row->entry < 0 || t->entry[row->entry].item == row->item;
        for (int kind = 0; kind < ST_NASK; kind++) {
            if (!row->asked[kind] || !row->answered[kind] || is_there(a, row->id[kind]))
                continue;
            struct candidate *c = candidate(a, i, (enum st_take_kind)kind, row->asked[kind]);
            if (c)
                c->q.answered = row->answered[kind];
        }
        for (int k = 0; k < row->item->n_ask && first && row->item->role != ST_TAKE_NOTE; k++)
            if (row->id[row->item->ask[k].kind] && !is_there(a, row->id[row->item->ask[k].kind]))
                (void)candidate(a, i, row->item->ask[k].kind, &row->item->ask[k]);
    }
}

/* Whose cup: not asked any more, but it was answered. */
static void answered_measures(struct asking *a)
{
    static const struct st_take_ask ask = { .kind = ST_ASK_MEASURES,
                                            .ask = "Whose cups, ounces and pints are these?",
                                            .option = { { "us", "" }, { "metric", "" }, { "imperial", "" } },
                                            .n_option = 3 };
    const char *value = st_take_answer_to(a->t->given, "measures");
    if (!value || st_take_option(&ask, value) < 0 || a->t->n_row == 0 || is_there(a, "measures"))
        return;
    struct candidate *c = candidate(a, 0, ST_ASK_MEASURES, &ask);
    if (c) {
        c->q.id = "measures";
        c->q.answered = value;
    }
}

/* How large the jar is, which is no line's own question. */
static void vessel(struct asking *a)
{
    struct st_take_ask *ask = st_arena_alloc(a->t->arena, sizeof *ask);
    if (!st_take_vessel_ask(a->t, ask))
        return;
    struct candidate *c = candidate(a, 0, ST_ASK_SIZE, ask);
    if (!c)
        return;
    c->vessel = true;
    c->q.id = "jar.size";
    c->q.answered = a->t->vessel_assumed ? NULL : st_take_answer_to(a->t->given, "jar.size");
}

/* How large a part is: only the volume hangs on it. */
static void part(struct asking *a)
{
    struct st_take_ask *ask = st_arena_alloc(a->t->arena, sizeof *ask);
    if (!st_take_part_ask(a->t, ask))
        return;
    struct candidate *c = candidate(a, 0, ST_ASK_AMOUNT, ask);
    if (!c)
        return;
    c->part = true;
    c->q.id = "part.amount";
    c->q.answered = st_take_answer_to(a->t->given, "part.amount");
}

static bool is_named(const struct st_taking *t, const struct st_ingredient *in)
{
    struct st_entry e = { .what = in };
    st_take_names(t->arena, in, &e);
    for (int i = 0; i < t->n_row; i++)
        for (int k = 0; k < e.n_name; k++) {
            char name[ST_NAME_WORD_BYTES + 2];
            if (e.name[k].n != 1 || strlen(e.name[k].word[0]) < 3)
                continue;
            (void)snprintf(name, sizeof name, "%s", e.name[k].word[0]);
            const size_t n = strlen(name);
            if (st_take_has_word(t->row[i].sentence, name))
                return true;
            (void)snprintf(name + n, sizeof name - n, "s");
            if (st_take_has_word(t->row[i].sentence, name))
                return true;
        }
    return false;
}

/* Does the text speak of anything that could be steeped, or of steeping? */
static bool speaks(const struct st_taking *t)
{
    for (int i = 0; i < t->n_row; i++)
        if (t->row[i].item->role == ST_TAKE_STEP)
            return true;
    for (size_t i = 0; i < st_catalogue_count(t->catalogue); i++)
        if (is_named(t, st_catalogue_at(t->catalogue, i)))
            return true;
    return false;
}

/* "Vodka in place of gin?": which of those it shall be. */
static void which_spirit(struct asking *a)
{
    struct st_take_ask *ask = st_arena_alloc(a->t->arena, sizeof *ask);
    *ask = (struct st_take_ask){ .kind = ST_ASK_WHICH, .ask = "Which spirit shall it be?", .with = "%s" };
    for (size_t i = 0; i < st_catalogue_count(a->t->catalogue) && ask->n_option < ST_TAKE_OPTIONS; i++) {
        const struct st_ingredient *in = st_catalogue_at(a->t->catalogue, i);
        if (in->kind == ST_KIND_SPIRIT && is_named(a->t, in))
            (void)snprintf(ask->option[ask->n_option++].label, sizeof ask->option[0].label, "%.30s", in->name);
    }
    struct candidate *c = ask->n_option > 1 ? candidate(a, 0, ST_ASK_WHICH, ask) : NULL;
    if (!c)
        return;
    c->goods = true;
    c->q.id = "goods.which";
    c->q.answered = st_take_answer_to(a->t->given, c->q.id);
}

/* Where nothing is told that goes in.  The answer is read as if it stood below the text (st_take_text). */
static void goods(struct asking *a)
{
    static const struct st_take_ask ask = { .kind = ST_ASK_AMOUNT,
                                            .ask = "What goes in, and how much of each?",
                                            .with = "%s" };
    const char *value = st_take_answer_to(a->t->given, "goods.amount");
    const bool spirit = st_take_answer_to(a->t->given, "goods.which") != NULL;
    if (!value && !spirit && (a->t->n_entry > 0 || a->n > 0 || !speaks(a->t)))
        return;
    if (!value || spirit)
        which_spirit(a);
    struct candidate *c = candidate(a, 0, ST_ASK_AMOUNT, &ask);
    if (!c)
        return;
    c->goods = true;
    c->q.id = "goods.amount";
    c->q.answered = a->t->n_entry > 0 ? value : NULL;
}

/* No spirit, where the text names one.  The answer is read as if it stood below the text. */
static void spirit(struct asking *a)
{
    const char *value = st_take_answer_to(a->t->given, "spirit.amount");
    const struct st_ingredient *in = st_take_lost_spirit(a->t);
    if (!value && !in)
        return;
    struct st_take_ask *ask = st_arena_alloc(a->t->arena, sizeof *ask);
    *ask = (struct st_take_ask){ .kind = ST_ASK_AMOUNT, .with = "%s" };
    (void)snprintf(ask->ask, sizeof ask->ask, "Which spirit goes in, how much of it, and how strong is it?");
    struct candidate *c = candidate(a, 0, ST_ASK_AMOUNT, ask);
    if (!c)
        return;
    c->goods = true;
    c->q.id = "spirit.amount";
    c->q.answered = in ? NULL : value;
}

static int heavier(const void *x, const void *y)
{
    const struct candidate *a = x, *b = y;
    const bool open_a = !a->q.answered, open_b = !b->q.answered;
    if (open_a != open_b)
        return open_a ? -1 : 1;
    if (a->weight > b->weight || a->weight < b->weight)
        return a->weight > b->weight ? -1 : 1;
    return a->row - b->row;
}

void st_take_questions(struct st_taking *t, struct st_take *out)
{
    struct asking a = { .t = t, .out = out };
    int open = 0;

    a.c = st_arena_alloc(t->arena, MOST_QUESTIONS * sizeof *a.c);
    collect(&a);
    answered_measures(&a);
    vessel(&a);
    part(&a);
    goods(&a);
    spirit(&a);
    a.has_base = out->whole && figures(&out->recipe.recipe, a.base);
    for (int i = 0; i < a.n; i++)
        if (!a.c[i].q.answered)
            weigh(&a, &a.c[i]);
    qsort(a.c, (size_t)a.n, sizeof *a.c, heavier);

    struct st_take_question *q = st_arena_alloc(t->arena, (size_t)(a.n + 1) * sizeof *q);
    for (int i = 0; i < a.n; i++) {
        struct candidate *c = &a.c[i];
        if (!c->q.answered && (open >= MOST_OPEN || c->weight < WORTH)) {
            out->n_more++;
            continue;
        }
        fill(&a, c);
        c->q.why = c->q.answered ? "" : why(&a, c);
        open += !c->q.answered;
        q[out->n_question++] = c->q;
    }
    out->question = q;
}
