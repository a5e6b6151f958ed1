#include "house.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "text/recipe_edit.h"
#include "util/memory.h"

#include "givings.h"

/* What was made, jar by jar.  A making is one draw of what its recipe, with what was really weighed, may give; readings are
 * of that drink, each with the error of its instrument. */

enum { TWO_POURS = 4 }; /* the recipe whose fruit is drained twice: only what is strained off is measured */
enum { KEEPS_SPENT = 1, MISREAD = 2, DOUBTED = 4, RING = 8, FLASK = 16 };

static const struct plan {
    const char *on;
    int recipe, try_; /* recipe -1: in the maker's own words */
    int flags;
    const char *note;
} PLAN[] = {
    { "2024-06-15", 1, 0, FLASK, "Invented. The first jar of the house." },
    { "2024-07-09", 5, 0, 0, "Invented." },
    { "2024-07-20", 6, 0, 0, "Invented. Rain all week, watery fruit." },
    { "2024-09-03", 0, 0, KEEPS_SPENT, "Invented." },
    { "2024-09-21", 3, 0, 0, "Invented." },
    { "2024-10-12", 2, 0, DOUBTED | RING, "Invented. The spices came from three shops." },
    { "2024-10-27", 4, 0, 0, "Invented." },
    { "2024-11-11", 7, 0, FLASK, "Invented." },
    { "2024-12-14", -1, 0, 0,
      "Invented. Told later: what was left of the damsons, covered with vodka again for three weeks, strained, a "
      "little syrup." },
    { "2025-01-25", 1, 1, 0, "Invented." },
    { "2025-02-08", 7, 1, 0, "Invented." },
    { "2025-03-01", 3, 1, 0, "Invented." },
    { "2025-05-10", 1, 2, FLASK, "Invented." },
    { "2025-07-05", 5, 1, 0, "Invented." },
    { "2025-07-18", 6, 1, 0, "Invented." },
    { "2025-08-29", 0, 1, MISREAD, "Invented." },
    { "2025-08-30", 0, 2, KEEPS_SPENT, "Invented." },
    { "2025-10-04", 2, 1, 0, "Invented." },
    { "2025-10-25", 4, 1, 0, "Invented." },
    { "2025-11-15", 7, 2, 0, "Invented." },
    { "2026-01-10", 3, 2, FLASK, "Invented." },
    { "2026-02-14", 1, 3, 0, "Invented." },
    { "2026-03-07", 2, 2, 0, "Invented." },
    { "2026-05-09", 7, 2, 0, "Invented." },
    { "2026-05-30", 1, 3, 0, "Invented." },
};
enum { NPLAN = sizeof PLAN / sizeof *PLAN, MOST_STEPS = 24, MOST_EDITS = 60 };

static const char *const PLACE[] = { "cellar", "pantry, top shelf", "cupboard under the stairs",
                                     "cellar, by the door" };

static struct making {
    const struct plan *plan;
    int64_t id;
    const char *code, *name, *text, *begun_on;
    struct house_read read; /* of the text as planned: its steps and lines */
    bool weighed[MOST_STEPS], begun[MOST_STEPS], ended[MOST_STEPS];
    long until[MOST_STEPS];
    int64_t jar[MOST_STEPS];
    struct st_edit edit[MOST_EDITS];
    int n_edit;
    bool done;
} making[NPLAN];

static bool stands(const struct st_step *s)
{
    return s->kind != ST_DO_TOAST && s->kind != ST_DO_SYRUP && s->kind != ST_DO_BLEND;
}

/* The recipe with what was weighed in it, foretold anew. */
static void really(const struct making *m, struct house_read *out)
{
    struct st_buf text = { 0 };
    struct st_problem p = { .what = "" };

    if (st_recipe_edit(m->text, strlen(m->text), m->read.file.recipe.measures, m->edit, m->n_edit, &text, &p) != 0)
        house_fail(p.what, p.why);
    house_read(st_buf_text(&text), out);
    st_buf_done(&text);
}

/* ---- weighing ---- */

/* What was weighed instead of what is written; false: the line stays as it is. */
static bool weigh(struct house *h, const struct st_line *l, double *amount, const char **words)
{
    const bool metric =
        l->amount.unit && (strcmp(l->amount.unit->key, "g") == 0 || strcmp(l->amount.unit->key, "kg") == 0 ||
                           strcmp(l->amount.unit->key, "ml") == 0 || strcmp(l->amount.unit->key, "mL") == 0 ||
                           strcmp(l->amount.unit->key, "l") == 0 || strcmp(l->amount.unit->key, "L") == 0);
    const double x = l->amount.value;

    *amount = x;
    if (!metric || (l->what->kind == ST_KIND_WATER && house_uniform(h, 0.0, 1.0) < 0.5))
        return false;
    if (l->amount.dim == ST_DIM_MASS && x < 20.0)
        *words = house_text(h, "%.1f g", *amount = house_round(x + house_normal(h, 0.02 * x), 0.1));
    else if (l->amount.dim == ST_DIM_MASS)
        *words = house_text(h, "%.0f g", *amount = house_round(x + house_normal(h, 0.012 * x), 1.0));
    else
        *words = house_text(h, "%.0f mL", *amount = house_round(x + house_normal(h, 0.008 * x), x < 100.0 ? 1.0 : 5.0));
    return true;
}

/* In g or mL, as the larder counts it. */
static double in_the_larder(const struct st_line *l, double amount)
{
    static const double CUP_ML = 236.588;
    if (l->amount.dim == ST_DIM_VOLUME && l->what->cup.known)
        return amount / CUP_ML * l->what->cup.value;
    return amount;
}

static void weigh_line(struct house *h, struct making *m, int step, int line)
{
    const struct st_step *s = &m->read.file.recipe.step[step];
    const struct st_line *l = &s->line[line];
    const char *words = NULL;
    double amount;
    struct house_use use;
    struct book_weighing row;
    int64_t id = BOOK_NO;

    if (!l->what || l->amount.open != ST_CLOSED || l->amount.make_up_to)
        return;
    const bool said = weigh(h, l, &amount, &words);
    house_get(h, l->what, l->strength.known ? house_round(l->strength.value, 0.1) : 0.0, in_the_larder(l, amount),
              &use);
    if (!said && use.n == 0)
        return;
    house_begin(h, said ? "%s: weighed %s %s" : "%s: took%s %s", m->code, said ? words : "", l->what->name);
    if (said) {
        book_row_init(BOOK_WEIGHING, &row);
        row.batch_id = m->id;
        row.step = s->id;
        row.line = line + 1;
        row.words = words;
        row.lot_id = use.n ? use.lot[use.n - 1] : BOOK_NO;
        row.on_day = h->on;
        id = house_put(h, BOOK_WEIGHING, &row);
        m->edit[m->n_edit++] = (struct st_edit){ .step = s, .line = l, .amount = words };
    }
    house_use(h, &use, m->id, id);
    house_end(h);
}

/* A step and what goes into it on the same day. */
static void weigh_step(struct house *h, struct making *m, int step)
{
    const struct st_step *s = &m->read.file.recipe.step[step];

    if (m->weighed[step])
        return;
    m->weighed[step] = true;
    for (int i = 0; i < s->n_line; i++) {
        const int from = s->line[i].from_step;
        if (from >= 0 && !stands(&m->read.file.recipe.step[from]))
            weigh_step(h, m, from);
        weigh_line(h, m, step, i);
    }
}

/* ---- readings ---- */

static void put_reading(struct house *h, const struct making *m, const char *step, const char *kind, double value,
                        const char *words, bool doubted)
{
    struct book_reading r;
    book_row_init(BOOK_READING, &r);
    r.batch_id = m->id;
    r.step = step;
    r.kind = kind;
    r.value = value;
    r.at = h->on;
    r.words = words;
    r.doubted = doubted;
    r.after_straining = strcmp(kind, "drained_g") == 0 || strcmp(kind, "liquor_ml") == 0;
    house_put(h, BOOK_READING, &r);
}

static double sum(const double x[ST_NCOMP])
{
    double s = 0.0;
    for (int i = 0; i < ST_NCOMP; i++)
        s += x[i];
    return s;
}

/* Which making of all that may be this one is. */
static int making_of(const struct making *m)
{
    return (int)(m - making) * 61 + 11;
}

static void read_strained(struct house *h, struct making *m, int step)
{
    static struct house_read now; /* large */
    static struct house_made made;
    const struct st_step *s = &m->read.file.recipe.step[step];
    const bool weighed = s->drained_solids_g.known; /* the recipe has it already */

    really(m, &now);
    house_make(&now, making_of(m), &made);
    const struct st_balance *b = &made.balance[step];
    const double drained = sum(b->spent_g);
    house_begin(h, "%s: strained, and measured", m->code);
    if (drained > 60.0 && !weighed && m->plan->recipe != TWO_POURS) {
        const double g = house_round(drained * (1.0 + house_normal(h, 0.02)), 1.0);
        put_reading(h, m, s->id, "drained_g", g, house_text(h, "drained=%.0fg", g), false);
    }
    const double ml = house_round(b->volume_ml * (1.0 + house_normal(h, 0.015)), 10.0);
    put_reading(h, m, s->id, "liquor_ml", ml, house_text(h, "liquor=%.0fmL", ml), false);
    house_end(h);
    if (m->plan->flags & KEEPS_SPENT && drained > 300.0) {
        const double g = house_round(drained * 0.97, 10.0);
        const struct st_ingredient *what = s->line[0].what;
        givings_spent(house_spent(h, house_text(h, "spent %s", what->name), what->slug, g, m->id), g, h->day);
    }
    house_read_done(&now);
}

/* The drink before it is bottled. */
static double read_drink(struct house *h, struct making *m, const char *step, const double y[ST_NFIG])
{
    const double sg = y[ST_FIG_SG], brix = y[ST_FIG_BRIX], ml = y[ST_FIG_VOLUME];
    const bool misread = m->plan->flags & MISREAD, doubted = m->plan->flags & DOUBTED;
    double x = house_round(sg + house_normal(h, 0.0007) + (misread ? 0.02 : 0.0), 0.001);

    house_begin(h, "%s: measured", m->code);
    put_reading(h, m, step, "sg", x, house_text(h, "sg=%.3f", x), false);
    x = house_round(brix + house_normal(h, 0.15), 0.1);
    put_reading(h, m, step, "brix", x, house_text(h, "brix=%.1f", x), false);
    x = house_round(ml * (1.0 + house_normal(h, 0.01)) * (doubted ? 0.8 : 1.0), 10.0);
    put_reading(h, m, step, "volume_ml", x, house_text(h, "volume=%.0fmL", x), doubted);
    if (m->plan->flags & FLASK) { /* 100 mL in air of 1.2 kg/m3, against weights of 8000 */
        const double in_air = (y[ST_FIG_DENSITY] - 1.2) / (1.0 - 1.2 / 8000.0) / 10.0;
        x = house_round(in_air + house_normal(h, 0.08), 0.1);
        put_reading(h, m, step, "flask_g", x, house_text(h, "flask=%.1fg/100mL", x), false);
    }
    house_end(h);
    return ml;
}

/* ---- losses and bottles ---- */

static double lose(struct house *h, const struct making *m, const char *step, const char *why, double ml,
                   const char *note)
{
    struct book_loss row;
    book_row_init(BOOK_LOSS, &row);
    row.batch_id = m->id;
    row.step = step;
    row.on_day = h->on;
    row.why = why;
    row.volume_ml = house_round(ml, 5.0);
    row.note = note;
    house_put(h, BOOK_LOSS, &row);
    return row.volume_ml;
}

/* now: what is bottled, foretold; NULL: it was only told. */
static void fill(struct house *h, const struct making *m, int n, double size, int count, double strength,
                 const struct house_read *now)
{
    static const struct st_batch_strength_read none = { 0 }; /* as foretold */
    struct book_bottling row;

    book_row_init(BOOK_BOTTLING, &row);
    row.batch_id = m->id;
    row.code = house_text(h, "%s-%d", m->code, n);
    row.on_day = h->on;
    row.size_ml = size;
    row.count = count;
    row.strength_pct_vol = strength;
    row.note = "invented";
    if (now)
        row.facts = house_label(h, now, &(struct st_batch_labelled){ row.code, m->name, m->begun_on, strength, &none });
    house_begin(h, "%s: filled %d %s of %.0f mL", m->code, count, count == 1 ? "bottle" : "bottles", size);
    const int64_t id = house_put(h, BOOK_BOTTLING, &row);
    house_end(h);
    givings_plan(h, id, row.code, m->name, count, m->plan->flags & RING);
}

static void end_batch(struct house *h, struct making *m)
{
    struct book_batch row;
    house_begin(h, "%s is in bottles", m->code);
    house_good(h, book_get(h->book, BOOK_BATCH, m->id, &h->arena, &row));
    row.ended_on = h->on;
    house_put(h, BOOK_BATCH, &row);
    house_end(h);
    m->done = true;
}

/* All of it into bottles; step: the recipe's bottle step, or its last. */
static void bottle(struct house *h, struct making *m, int step)
{
    static struct house_read now; /* large */
    static struct house_made made;
    const struct st_step *s = &m->read.file.recipe.step[step];
    const double size = s->kind == ST_DO_BOTTLE && s->bottle_ml > 0.0 ? s->bottle_ml : 500.0;

    really(m, &now);
    house_begin(h, "%s: foretold anew, with what was weighed", m->code);
    house_keep_foreseen(h, BOOK_NO, m->id, &now.out);
    house_end(h);
    house_make(&now, making_of(m), &made);
    double ml = read_drink(h, m, s->kind == ST_DO_BOTTLE ? "" : s->id, made.y);
    house_begin(h, "%s: tasted", m->code);
    const double spilt = m - making == 4 ? 110.0 : 0.0;
    ml -= lose(h, m, s->id, "tasted", house_uniform(h, 20.0, 45.0), "") + spilt;
    const int count = (int)floor(ml / size);
    const bool small = ml - count * size > 210.0;
    const double rest = ml - count * size - (small ? 200.0 : 0.0);
    if (rest >= 5.0)
        lose(h, m, s->id, "other", rest, "what filled no bottle, drunk in the house");
    house_end(h);
    if (spilt > 0.0) {
        house_begin(h, "%s: spilt some", m->code);
        lose(h, m, s->id, "spilt", spilt, "the funnel slipped");
        house_end(h);
    }
    const double strength = house_round(now.out.fig[ST_FIG_STRENGTH].value, 0.5);
    int n = 1;
    if (count > 0)
        fill(h, m, n++, size, count, strength, &now);
    if (small)
        fill(h, m, n, 200.0, 1, strength, &now);
    house_read_done(&now);
    end_batch(h, m);
}

/* ---- jars ---- */

static bool is_ready(const struct making *m, int step)
{
    const struct st_recipe *r = &m->read.file.recipe;
    for (int i = 0; i < r->step[step].n_line; i++) {
        const int from = r->step[step].line[i].from_step;
        if (from >= 0 && (stands(&r->step[from]) ? !m->ended[from] : !is_ready(m, from)))
            return false;
    }
    /* a step without lines goes on with the one before */
    if (r->step[step].n_line == 0 && step > 0)
        return stands(&r->step[step - 1]) ? m->ended[step - 1] : is_ready(m, step - 1);
    return true;
}

static const char *doing(enum st_do kind)
{
    switch (kind) {
    case ST_DO_STEEP: return "steeping";
    case ST_DO_REST: return "resting";
    case ST_DO_FINE: return "clearing";
    case ST_DO_RACK: return "waiting to be racked";
    case ST_DO_FILTER: return "waiting to be filtered";
    default: return "standing";
    }
}

static void begin_jar(struct house *h, struct making *m, int step)
{
    const double DAY = 86400.0;
    const struct st_step *s = &m->read.file.recipe.step[step];
    const bool timed = s->time.dim == ST_DIM_TIME;
    const long due = h->day + (timed ? (long)ceil(s->time.low / DAY - 1e-9) : 0);
    const long last = timed ? h->day + (long)ceil(s->time.high / DAY - 1e-9) : h->day + 2;
    const double room = 1.05 * m->read.out.fig[ST_FIG_VOLUME].value; /* of a jar that no recipe names */
    struct book_jar row;

    weigh_step(h, m, step);
    m->begun[step] = true;
    m->until[step] = due + (long)house_uniform(h, 0.0, (double)(last - due) + 3.0);
    book_row_init(BOOK_JAR, &row);
    row.batch_id = m->id;
    row.step = s->id;
    row.doing = doing(s->kind);
    row.vessel_id = house_vessel(h, s->vessel_ml > 0.0 ? s->vessel_ml : room, m->until[step]);
    row.place = PLACE[(m - making) % 4];
    row.begun_on = h->on;
    row.due_on = house_iso(h, due);
    house_begin(h, "%s: %s, %s", m->code, s->id, row.doing);
    m->jar[step] = house_put(h, BOOK_JAR, &row);
    house_end(h);
}

static void advance(struct house *h, struct making *m)
{
    const struct st_recipe *r = &m->read.file.recipe;
    for (int i = 0; i < r->n_step && !m->done; i++) {
        if (!stands(&r->step[i]) || m->begun[i] || !is_ready(m, i))
            continue;
        if (r->step[i].kind == ST_DO_BOTTLE)
            bottle(h, m, i);
        else
            begin_jar(h, m, i);
    }
}

static void end_jar(struct house *h, struct making *m, int step)
{
    const struct st_recipe *r = &m->read.file.recipe;
    struct book_jar row;

    house_begin(h, "%s: %s is done", m->code, r->step[step].id);
    house_good(h, book_get(h->book, BOOK_JAR, m->jar[step], &h->arena, &row));
    row.ended_on = h->on;
    house_put(h, BOOK_JAR, &row);
    if (r->step[step].kind == ST_DO_FILTER)
        lose(h, m, r->step[step].id, "filter", house_uniform(h, 8.0, 30.0), "what the paper kept");
    if (r->step[step].kind == ST_DO_FINE)
        lose(h, m, r->step[step].id, "lees", house_uniform(h, 25.0, 60.0), "");
    house_end(h);
    m->ended[step] = true;
    if (r->step[step].kind == ST_DO_STEEP)
        read_strained(h, m, step);
    if (step == r->n_step - 1)
        bottle(h, m, step);
    else
        advance(h, m);
}

/* ---- beginnings ---- */

static void begin_batch(struct house *h, struct making *m)
{
    const struct house_try *t = house_try(m->plan->recipe, m->plan->try_);
    struct book_batch row;

    m->name = t->name;
    m->begun_on = house_iso(h, h->day);
    m->text = t->text;
    house_read(t->text, &m->read);
    book_row_init(BOOK_BATCH, &row);
    row.code = m->code;
    row.name = t->name;
    row.try_id = t->id;
    row.text = t->text;
    row.begun_on = h->on;
    row.note = m->plan->note;
    house_begin(h, "began %s, %s", m->code, t->name);
    m->id = house_put(h, BOOK_BATCH, &row);
    house_end(h);
    advance(h, m);
}

/* What was left of an earlier one, told afterwards in own words: no recipe, one jar, one bottling. */
static void begin_told(struct house *h, struct making *m)
{
    struct book_batch row;
    struct book_jar jar;

    m->name = "What was left of the damsons";
    book_row_init(BOOK_BATCH, &row);
    row.code = m->code;
    row.name = m->name;
    row.from_batch = making[3].id;
    row.said = "covered the drained damsons with half a bottle of vodka 40 %, three weeks, strained, a little syrup";
    row.begun_on = house_iso(h, h->day - 28);
    row.note = m->plan->note;
    house_begin(h, "told %s, %s", m->code, m->name);
    m->id = house_put(h, BOOK_BATCH, &row);
    row.id = m->id;
    book_row_init(BOOK_JAR, &jar);
    jar.batch_id = m->id;
    jar.doing = "steeping";
    jar.begun_on = row.begun_on;
    jar.ended_on = house_iso(h, h->day - 7);
    jar.place = "kitchen";
    house_put(h, BOOK_JAR, &jar);
    givings_use_spent(h, 0, 300.0, m->id);
    house_end(h);
    house_begin(h, "%s: measured", m->code);
    put_reading(h, m, "", "sg", 1.021, "sg=1.021", false);
    put_reading(h, m, "", "brix", 19.2, "brix=19.2", false);
    put_reading(h, m, "", "volume_ml", 420.0, "volume=420mL", false);
    house_end(h);
    fill(h, m, 1, 200.0, 2, (double)NAN, NULL);
    end_batch(h, m);
}

void house_batches(struct house *h)
{
    for (int i = 0; i < NPLAN; i++) {
        struct making *m = &making[i];
        for (int s = 0; m->id && !m->done && s < MOST_STEPS; s++)
            if (m->begun[s] && !m->ended[s] && m->until[s] <= h->day)
                end_jar(h, m, s);
        if (strcmp(PLAN[i].on, h->on) != 0)
            continue;
        m->plan = &PLAN[i];
        m->code = house_text(h, "B%d", i + 1);
        if (PLAN[i].recipe < 0)
            begin_told(h, m);
        else
            begin_batch(h, m);
    }
}
