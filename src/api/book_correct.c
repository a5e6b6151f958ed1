#include "api/book_correct.h"

#include <limits.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_agree_before.h"
#include "api/book_batch_before.h"
#include "api/book_batch_pour.h"
#include "api/book_batch_rest.h"
#include "api/book_larder.h"
#include "model/line_goods.h"
#include "text/calendar_day.h"
#include "util/memory.h"

static const double Z975 = 1.959963984540054;

/* ---- figures of a batch ---- */

struct is {
    struct st_correct_liquid liquid;
    double ml, ml_u, jar_ml;
    char name[120], code[21];
    bool read;                   /* by readings */
    int64_t doubted;             /* the reading that was left out; 0: none */
    int unlikely;                /* used, though chance parts them so far in so few of 100 cases only; 0: they agree */
    int64_t straggler;           /* the reading to look at then; 0: no single one */
    bool recipe_left_out;        /* the readings agree with each other, not with the recipe */
    bool unclear;                /* they do not agree, and no one knows which is wrong */
    struct st_batch_old old, on; /* readings of the drink before something was added: not used; used through it */
    bool has_old, has_on, not_yet; /* not_yet: nothing stands but what is not the drink yet */
    char stands[160];              /* what stands then: "peel, steeping, of about 90 % vol" */
    char unsure[200];              /* syrups and blends that nobody wrote down, where it was read all the same */
    char step[80];                 /* the last blend */
    bool no_oil;                   /* nothing in it has any */
    bool over;                     /* written off as over */
    const char *steeps; /* it cannot be poured on that day, for: "its \"peel\" still steeps ..."; NULL: it can */
};

static double half_width(const struct st_interval *x)
{
    return x->known ? 0.5 * (x->high - x->low) / Z975 : 0.0;
}

static void take_figures(struct is *out, const struct st_interval *strength, const struct st_interval *sugar,
                         const struct st_interval *acid, const struct st_interval *volume)
{
    struct st_correct_liquid *l = &out->liquid;
    l->strength = strength->value;
    l->strength_u = half_width(strength);
    l->sugar = sugar->value;
    l->sugar_u = half_width(sugar);
    l->acid_known = acid->known;
    l->acid = acid->known ? acid->value : 0.0;
    l->acid_u = half_width(acid);
    out->ml = volume->value;
    out->ml_u = half_width(volume);
}

static void by_readings(const struct st_batch_agree *x, struct is *out)
{
    const struct st_agreement *g = &x->out;
    const bool holds = st_agree_holds(g);
    const bool less = !holds && g->without[ST_AGREE_STRENGTH].known && g->without[ST_AGREE_SUGAR].known;
    const struct st_interval *f = less ? g->without : g->after;
    take_figures(out, &f[ST_AGREE_STRENGTH], &f[ST_AGREE_SUGAR], &f[ST_AGREE_ACID], &f[ST_AGREE_VOLUME]);
    out->liquid.correlation = less ? 0.0 : g->correlation;
    out->read = true;
    out->recipe_left_out = less && g->doubt == ST_DOUBT_RECIPE;
    out->doubted = less && !out->recipe_left_out && g->suspect >= 0 ? x->id[g->suspect] : 0;
    if (st_agree_straggles(g)) {
        out->unlikely = (int)fmax(round(100.0 * g->p), 1.0);
        out->straggler = g->suspect >= 0 ? x->id[g->suspect] : 0;
    }
    /* one reading against the recipe, or one as good to doubt as another: what is left is one guess of two */
    out->unclear = (!holds && (!less || g->doubt == ST_DOUBT_EITHER || (g->suspect >= 0 && g->rival >= 0))) ||
                   !f[ST_AGREE_STRENGTH].known || !f[ST_AGREE_SUGAR].known || !f[ST_AGREE_VOLUME].known;
}

/* What is left of it, by what was bottled and lost since. */
static void what_is_left(const struct st_batch_left *left, struct is *out)
{
    if (left->measured && isfinite(left->spare_ml)) {
        out->ml = left->spare_ml;
        out->ml_u = half_width(&(struct st_interval){ .low = left->low_ml, .high = left->high_ml, .known = true });
    } else {
        out->ml -= left->bottled_ml + left->lost_ml;
    }
}

static enum book_status jar_of(const struct st_batch_ask *a, int64_t batch, struct is *out)
{
    struct st_batch_jar *jar;
    struct book_vessel vessel;
    int n;
    enum book_status s = st_batch_jars(a, batch, false, &jar, &n);
    out->jar_ml = 0.0;
    if (s != BOOK_OK || n != 1 || jar[0].row.vessel_id == BOOK_NO)
        return s;
    s = book_get(a->book, BOOK_VESSEL, jar[0].row.vessel_id, a->arena, &vessel);
    if (s == BOOK_OK && vessel.volume_ml > 0.0)
        out->jar_ml = vessel.volume_ml;
    return s;
}

/* "peel, steeping, of about 90 % vol" */
static void stands_words(const struct st_batch_made *made, const struct st_batch_jar *j, char *buf, size_t size)
{
    const struct st_recipe *r = &made->file.recipe;
    const size_t n = strlen(buf);
    double strength = 0.0;
    for (int i = 0; i < made->out.n_balance; i++) {
        const struct st_balance *b = &made->out.balance[i];
        if (strcmp(r->step[b->step].id, j->row.step) == 0 && r->step[b->step].kind == ST_DO_STEEP)
            strength = b->strength_in_steep;
    }
    (void)snprintf(buf + n, size - n, "%s%.40s, %.60s", n ? "; " : "", *j->row.step ? j->row.step : "a jar",
                   j->todo.waits ? j->todo.waits : j->row.doing);
    const size_t m = strlen(buf);
    if (strength > 0.0)
        (void)snprintf(buf + m, size - m, ", of about %.0f %% vol", strength);
}

/* Whether a jar stands, and none of the finished drink; and where an addition belongs. */
static enum book_status how_far(const struct st_batch_ask *a, const struct book_batch *batch,
                                const struct st_batch_made *made, struct is *out)
{
    const struct st_recipe *r = &made->file.recipe;
    struct st_batch_jar *jar;
    int n;
    enum book_status s = st_batch_jars(a, batch->id, false, &jar, &n);
    if (s == BOOK_OK)
        s = st_batch_jars_todo(a, jar, n);
    out->not_yet = s == BOOK_OK && n > 0;
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        out->not_yet = out->not_yet && (!st_batch_of_drink(r, jar[i].row.step) || (jar[i].todo.waits && !out->read));
        stands_words(made, &jar[i], out->stands, sizeof out->stands);
    }
    for (int i = 0; i < r->n_step; i++)
        if (r->step[i].kind == ST_DO_BLEND && !st_batch_is_rest(&r->step[i]) && !st_batch_is_off(&r->step[i]))
            (void)snprintf(out->step, sizeof out->step, "%s", r->step[i].id);
    return s;
}

static void take_unsure(const struct st_batch_agree *x, struct is *out)
{
    for (int i = 0; i < x->n_unsure; i++) {
        const size_t n = strlen(out->unsure);
        (void)snprintf(out->unsure + n, sizeof out->unsure - n, "%s%.40s (%.60s)", n ? ", " : "", x->unsure[i].step,
                       x->unsure[i].lines);
    }
}

/* The last reading of before something was added that counts, and the last that does not where nothing was read since. */
static void take_old(const struct st_batch_agree *x, struct is *out)
{
    for (int i = 0; i < x->n_old; i++) {
        const bool on = x->old[i].use == ST_OLD_GOES_ON;
        if (!on && x->n > 0)
            continue;
        *(on ? &out->on : &out->old) = x->old[i];
        *(on ? &out->has_on : &out->has_old) = true;
    }
}

static bool without_oil(const struct st_recipe *r)
{
    for (int i = 0; i < r->n_step; i++)
        for (int k = 0; k < r->step[i].n_line; k++)
            if (r->step[i].line[k].what && !st_clearing_without_oil(r->step[i].line[k].what))
                return false;
    return true;
}

static enum book_status figures_of(const struct st_batch_ask *a, const struct book_batch *batch,
                                   const struct st_batch_made *made, struct is *out, struct st_problem *problem)
{
    const struct st_interval *fig = made->out.fig;
    struct st_batch_left left;
    struct st_problem none = { .what = "" };
    struct st_batch_agree *x = x_calloc(1, sizeof *x); /* large */
    enum book_status s = st_batch_agree(a, batch, made, x, &none);

    if (s == BOOK_OK && !none.what[0])
        by_readings(x, out);
    else if (s == BOOK_OK && x->n > 0)
        *problem = none; /* there are readings, and nothing can be made of them */
    else if (s == BOOK_OK)
        take_figures(out, &fig[ST_FIG_STRENGTH], &fig[ST_FIG_SUGAR], &fig[ST_FIG_ACID], &fig[ST_FIG_VOLUME]);
    take_old(x, out);
    take_unsure(x, out);
    out->no_oil = without_oil(&made->file.recipe);
    free(x);
    if (s == BOOK_OK && !problem->what[0])
        s = how_far(a, batch, made, out);
    if (s == BOOK_OK && !problem->what[0] && out->unclear)
        return s;
    if (s == BOOK_OK && !problem->what[0])
        s = st_batch_left(a, batch, made, &left);
    if (s == BOOK_OK && !problem->what[0])
        what_is_left(&left, out);
    if (s == BOOK_OK && !problem->what[0] && !(out->ml > 2.0 * out->ml_u))
        st_batch_refuse(
            problem,
            batch->ended_on ? "it is over: by the book all of it, or all but a rest too small to tell, is "
                              "bottled, lost or drawn off"
                            : "by the book all of it, or all but a rest too small to tell, is bottled, lost "
                              "or drawn off",
            st_arena_printf(a->arena, "tell what there is: stillroom batch read %s volume=AMOUNT", batch->code),
            "nothing is left of %s", batch->code);
    return s;
}

/* day: of pouring it; NULL: nothing is poured out of it. */
static enum book_status read_batch(const struct st_batch_ask *a, const char *code, const char *day, struct is *out,
                                   struct st_problem *problem)
{
    struct book_batch batch;
    memset(out, 0, sizeof *out);
    enum book_status s = st_batch_find(a, code, &batch, problem);
    if (s != BOOK_OK || problem->what[0])
        return s;
    snprintf(out->name, sizeof out->name, "%.20s, %.90s", batch.code, batch.name);
    snprintf(out->code, sizeof out->code, "%.20s", batch.code);
    struct st_batch_made *made = x_calloc(1, sizeof *made);
    s = st_batch_made(a, &batch, true, true, made);
    if (s == BOOK_OK && !made->told)
        *problem = made->problem;
    else if (s == BOOK_OK)
        s = figures_of(a, &batch, made, out, problem);
    if (s == BOOK_OK && !problem->what[0])
        s = jar_of(a, batch.id, out);
    out->over = batch.ended_on != NULL;
    if (s == BOOK_OK && !problem->what[0] && day)
        s = st_batch_not_yet(a, &batch, made, day, &out->steeps);
    st_batch_made_done(made);
    free(made);
    return s;
}

/* ---- the batch that is put right ---- */

void st_correct_assume(struct st_correct_task *t, const char *format, ...)
{
    va_list ap;
    if (t->n_assumed == ST_CORRECT_ASSUMED)
        return;
    va_start(ap, format);
    (void)vsnprintf(t->assumed[t->n_assumed++], sizeof t->assumed[0], format, ap);
    va_end(ap);
}

static void say_unsure(struct st_correct_task *t, const char *code)
{
    snprintf(
        t->unsure, sizeof t->unsure,
        "What was read of %.60s does not fit together, and nobody can tell which of it is wrong: nothing that is "
        "poured in by these figures would be right with any certainty. stillroom batch agrees %.60s tells what is at "
        "odds; read it again at 20 \xc2\xb0"
        "C, or set aside what was misread: stillroom batch doubt.",
        code, code);
}

enum book_status st_correct_book_batch(const struct st_batch_ask *a, const char *code, struct st_correct_task *task,
                                       struct st_problem *problem)
{
    struct is is;
    const enum book_status s = read_batch(a, code, NULL, &is, problem);
    if (s != BOOK_OK || problem->what[0])
        return s;
    snprintf(task->title, sizeof task->title, "%s", is.name);
    snprintf(task->step, sizeof task->step, "%s", is.step);
    if (is.unclear) {
        say_unsure(task, code);
        return BOOK_OK;
    }
    if (is.not_yet)
        snprintf(
            task->not_yet, sizeof task->not_yet,
            "This drink is not mixed yet: what stands is another liquid (%s). The figures below are what the drink "
            "will be by the recipe, not those of the jar; pour nothing in before it is mixed, and read it then.",
            is.stands);
    task->of_book = true;
    task->ask.batch.foretold = !is.read;
    task->ask.batch.no_oil = is.no_oil;
    task->ask.batch.is = is.liquid;
    task->ask.batch.ml = is.ml;
    task->ask.batch.ml_u = is.ml_u;
    if (!(task->ask.jar_ml > 0.0))
        task->ask.jar_ml = is.jar_ml;
    if (is.has_on)
        st_correct_assume(task, "What was read before %.100s was added (%s) counts through what was added since.",
                          is.on.what, is.on.day);
    if (is.has_old)
        st_correct_assume(task,
                          "Reading %lld was taken before %.60s was added (%s), and is not used (%.82s): read it again.",
                          (long long)is.old.id, is.old.what, is.old.day, st_batch_old_why(is.old.use));
    if (*is.unsure && !is.not_yet)
        st_correct_assume(task, "Nobody wrote down that it went in, and it is taken as gone in: %s.", is.unsure);
    if (!is.read)
        st_correct_assume(
            task,
            "Nothing was read of the finished drink, so this is what was foretold, and wide: stillroom batch read "
            "%s sg=... brix=... makes it sharper.",
            code);
    if (is.doubted)
        st_correct_assume(task, "Reading %lld is in doubt and left out; stillroom batch agrees %s tells why.",
                          (long long)is.doubted, code);
    if (is.unlikely > 0 && is.straggler > 0)
        st_correct_assume(
            task,
            "Reading %lld is unlikely by the recipe and the rest, by chance in %d of 100, and used all the same: "
            "stillroom batch agrees %s tells what it says; batch doubt sets it aside.",
            (long long)is.straggler, is.unlikely, code);
    else if (is.unlikely > 0)
        st_correct_assume(
            task,
            "The readings and the recipe are unlikely together, by chance in %d of 100, and all used all the same: "
            "stillroom batch agrees %s tells more.",
            is.unlikely, code);
    if (is.recipe_left_out)
        st_correct_assume(task, "The readings agree with each other and not with the recipe: they alone count here.");
    return BOOK_OK;
}

/* As `batch pour` would refuse it: what stands there is not the drink that its figures are of, or it is over. */
static bool refuse_to_pour(const struct is *is, struct st_problem *problem)
{
    if (is->over)
        st_batch_refuse(problem, "it is written down as over",
                        "take another one; undo takes back what was written down", "%s cannot be poured", is->code);
    else if (is->steeps)
        st_batch_refuse(problem, is->steeps, "strain it first: stillroom batch strain", "%s cannot be poured",
                        is->code);
    return is->over || is->steeps;
}

enum book_status st_correct_book_blend(const struct st_batch_ask *a, const char *code, const char *day,
                                       struct st_correct_task *task, struct st_problem *problem)
{
    struct is is;
    struct st_correct_thing thing = { .kind = ST_ADD_BATCH, .cost = (double)NAN };
    const enum book_status s = read_batch(a, code, day, &is, problem);
    if (s != BOOK_OK || problem->what[0])
        return s;
    if (refuse_to_pour(&is, problem))
        return BOOK_OK;
    if (is.unclear) {
        say_unsure(task, code);
        return BOOK_OK;
    }
    if (st_correct_poured(&is.liquid, &thing) < 0) {
        st_batch_refuse(problem, "its figures cannot be all at once", "stillroom batch agrees tells more",
                        "%s cannot be poured in", is.name);
        return BOOK_OK;
    }
    if (is.not_yet)
        st_correct_assume(
            task,
            "By the book what stands of %s is not the drink yet (%.100s): its figures are those of the drink. Pour "
            "none of it in before it is strained and mixed, and written down.",
            is.code, is.stands);
    snprintf(thing.name, sizeof thing.name, "batch %.70s", is.name);
    thing.have = is.ml;
    if (!st_correct_task_thing(task, &thing, problem) && !problem->what[0])
        st_batch_refuse(problem, "eight are the most", "leave some out", "too many things may be poured in");
    return BOOK_OK;
}

/* ---- the larder ---- */

static bool pourable(const struct st_ingredient *in, double strength)
{
    const struct st_line l = { .what = in, .text = "", .from_step = -1 };
    switch (in->kind) {
    case ST_KIND_SPIRIT: return st_line_goods(&l) == ST_GOODS_SPIRIT && strength > 0.0;
    case ST_KIND_SUGAR:
    case ST_KIND_SYRUP: return st_line_goods(&l) == ST_GOODS_SWEET;
    case ST_KIND_ACID: return true;
    default: return false;
    }
}

/* Prices in several currencies cannot be added up. */
static bool one_currency(const struct st_larder *l)
{
    const char *first = NULL;
    for (int i = 0; i < l->n_lot; i++) {
        if (l->lot[i].over || !(l->lot[i].row.price >= 0.0))
            continue;
        if (first && strcmp(first, l->lot[i].row.currency) != 0)
            return false;
        first = l->lot[i].row.currency;
    }
    return true;
}

/* In the words that st_correct_thing_read knows: "vodka 40+-0.3 %", "white sugar at 1.2 per kg". */
static void thing_words(char *buf, size_t size, const struct book_lot *lot, bool priced, const char *name,
                        double strength)
{
    int n =
        strength > 0.0 ? snprintf(buf, size, "%.100s %.4g %%", name, strength) : snprintf(buf, size, "%.100s", name);
    const double each = lot->price / lot->amount * 1000.0;
    if (priced && lot->price >= 0.0 && lot->amount > 0.0 && n > 0 && (size_t)n < size)
        (void)snprintf(buf + n, size - (size_t)n, " at %.6g per %s", each, strcmp(lot->dim, "g") == 0 ? "kg" : "L");
}

/* A tincture that is treated like vodka, a syrup with a taste; sugar and acid go by many names. */
static bool not_plain(const struct st_catalogue *c, const struct book_lot *lot, const struct st_ingredient *in)
{
    if (in->kind != ST_KIND_SPIRIT && in->kind != ST_KIND_SYRUP)
        return lot->from_batch != BOOK_NO;
    return !st_lot_is_plain(c, lot);
}

/* One lot among the things, if it can be one; else *why not, where it is of a kind that could be.  Two of the same are one
 * thing with more of it. */
static bool pour_lot(const struct st_batch_ask *a, const struct st_catalogue *c, const struct st_lot *lot, bool priced,
                     struct st_correct_task *task, const char **why)
{
    const struct st_ingredient *in = st_catalogue_find(c, lot->row.slug, strlen(lot->row.slug));
    struct st_problem p;
    char words[200];
    double strength = (double)NAN;

    *why = NULL;
    if (!in || strcmp(lot->row.dim, "pieces") == 0 || st_batch_lot_strength(a, &lot->row, &strength) != BOOK_OK)
        return false;
    if (in->kind == ST_KIND_SPIRIT && !(strength > 0.0))
        *why = "its strength is not known";
    else if (in->kind == ST_KIND_SPIRIT && !pourable(in, strength))
        *why = "it tastes of its own; --with takes it";
    else if (not_plain(c, &lot->row, in) && pourable(in, strength))
        *why = st_arena_printf(a->arena, "%s; --with %s takes it",
                               lot->row.from_batch != BOOK_NO ? "it is of a batch" : "it has a name of its own",
                               lot->row.code);
    else if (task->ask.n_thing == ST_CORRECT_THINGS - 1 && pourable(in, strength))
        *why = "there is no room for more than eight things";
    if (*why || !pourable(in, strength))
        return false;
    thing_words(words, sizeof words, &lot->row, priced, in->name, strength);
    const int at = task->ask.n_thing;
    if (!st_correct_task_with(task, words, c, &p))
        return false;
    struct st_correct_thing *t = &task->ask.thing[at];
    if (t->by_weight != (strcmp(lot->row.dim, "g") == 0)) { /* how much there is would be a guess */
        *why = "how much there is of it would be a guess, weight or volume";
        task->ask.n_thing = at;
        return false;
    }
    t->have = lot->left;
    snprintf(task->lot[at], sizeof task->lot[at], "%s", lot->row.code);
    for (int i = 0; i < at; i++)
        if (strcmp(task->ask.thing[i].name, t->name) == 0) {
            task->ask.thing[i].have += lot->left;
            task->lot[i][0] = task->lot[at][0] = '\0'; /* of which of them nobody can tell */
            task->ask.n_thing = at;
        }
    return true;
}

__attribute__((format(printf, 3, 4))) static void list_more(char *buf, size_t size, const char *format, ...)
{
    const size_t n = strlen(buf);
    va_list ap;
    va_start(ap, format);
    (void)vsnprintf(buf + n, size - n, format, ap);
    va_end(ap);
}

/* What of a kind that could be poured in is left out. */
static void leave_out(struct st_correct_task *t, const struct st_lot *lot, const char *why)
{
    if (strlen(t->left_out) < sizeof t->left_out - 160)
        list_more(t->left_out, sizeof t->left_out, "%s%.60s (%.20s): %s", *t->left_out ? "; " : "", lot->row.name,
                  lot->row.code, why);
}

static void list_reckoned(struct st_correct_task *t, int from)
{
    for (int i = from; i < t->ask.n_thing; i++)
        list_more(t->reckoned, sizeof t->reckoned, "%s%.60s", *t->reckoned ? ", " : "", t->ask.thing[i].name);
}

enum book_status st_correct_book_larder(const struct st_batch_ask *a, const struct st_catalogue *c, const char *today,
                                        struct st_correct_task *task, int *n, struct st_problem *problem)
{
    struct st_desk desk = { .book = a->book, .arena = a->arena, .day = today, .moment = today };
    struct st_larder larder;
    struct st_problem p;

    *n = 0;
    (void)st_day_number(today, &desk.number);
    if (!st_larder_lots(&desk, true, &larder)) {
        if (desk.status == BOOK_OK)
            *problem = desk.problem;
        return desk.status;
    }
    const bool priced = one_currency(&larder);
    const int first = task->ask.n_thing;
    int used_up = 0;
    for (int i = 0; i < larder.n_lot; i++) {
        const struct st_lot *lot = &larder.lot[i];
        const struct st_ingredient *in = st_catalogue_find(c, lot->row.slug, strlen(lot->row.slug));
        const bool kind = in && (in->kind == ST_KIND_SPIRIT || in->kind == ST_KIND_SUGAR || in->kind == ST_KIND_SYRUP ||
                                 in->kind == ST_KIND_ACID);
        const char *why = NULL;
        if (lot->over)
            used_up += kind;
        else if (lot->use_by != LONG_MIN && lot->use_by < 0)
            why = kind ? "past its day" : NULL;
        else
            *n += pour_lot(a, c, lot, priced, task, &why);
        if (!lot->over && priced && lot->row.price >= 0.0)
            snprintf(task->currency, sizeof task->currency, "%s", lot->row.currency);
        if (why)
            leave_out(task, lot, why);
    }
    if (used_up > 0)
        list_more(task->left_out, sizeof task->left_out, "%s%d lot%s used up", *task->left_out ? "; " : "", used_up,
                  used_up == 1 ? " that is" : "s that are");
    if (*n > 0)
        (void)st_correct_task_with(task, "water", c, &p);
    list_reckoned(task, first);
    return BOOK_OK;
}
