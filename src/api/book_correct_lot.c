#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "api/book_correct.h"
#include "api/book_larder.h"
#include "api/book_lot_tincture.h"
#include "text/allergen_said.h"
#include "text/calendar_day.h"
#include "text/held.h"

/* A lot of the larder that is named outright: it is poured in by its own figures, under its own name, with its cautions. */

/* "L7", or the name of something that is not plain ("wormwood tincture", "wormwood tincture 60 %"): a plain name is read as
 * the thing it names. */
static bool names_lot(const struct st_catalogue *c, const struct book_lot *l, const char *said)
{
    const size_t n = strlen(l->name);
    if (strcasecmp(l->code, said) == 0)
        return true;
    if (n == 0 || strncasecmp(l->name, said, n) != 0 || st_lot_is_plain(c, l))
        return false;
    return said[n + strspn(said + n, " 0123456789.,%")] == '\0' && (said[n] == '\0' || said[n] == ' ');
}

static const struct st_lot *find(const struct st_larder *larder, const struct st_catalogue *c, const char *said)
{
    const struct st_lot *best = NULL;
    for (int i = 0; i < larder->n_lot; i++) {
        const struct st_lot *l = &larder->lot[i];
        if (strcasecmp(l->row.code, said) == 0)
            return l;
        if (names_lot(c, &l->row, said) && (!best || (best->over && !l->over)))
            best = l;
    }
    return best;
}

static void warn(struct st_correct_task *t, const char *source, const char *what, const char *because)
{
    for (int i = 0; i < t->n_warned; i++)
        if (strcmp(t->warned[i].what, what) == 0 && strcmp(t->warned[i].because, because) == 0)
            return;
    if (t->n_warned == ST_CORRECT_WARNED)
        return;
    struct st_correct_warned *w = &t->warned[t->n_warned++];
    (void)snprintf(w->what, sizeof w->what, "%s", what);
    (void)snprintf(w->because, sizeof w->because, "%s", because);
    (void)snprintf(w->source, sizeof w->source, "%s", source);
}

/* Those of what stands in its name, of what it is treated like, and of the batch it comes from. */
static void warn_of(const struct st_batch_ask *a, const struct st_catalogue *c, const struct st_lot *l,
                    const struct st_ingredient *in, struct st_correct_task *t)
{
    const struct st_ingredient *held[ST_HELD + 1];
    int n = st_held_names(c, l->row.name, strlen(l->row.name), held);
    if (in)
        held[n++] = in;
    for (int h = 0; h < n; h++)
        for (int i = 0; i < held[h]->n_caution; i++)
            warn(t, st_arena_printf(a->arena, "[%s]", held[h]->caution[i].source),
                 st_arena_printf(a->arena, "%s holds %s", l->row.name, held[h]->name), held[h]->caution[i].text);
    for (int h = 0; h < n; h++)
        for (int i = 0; i < held[h]->n_allergen; i++)
            warn(t, st_arena_printf(a->arena, "[%s]", held[h]->allergen[i].source),
                 st_arena_printf(a->arena, "%s holds %s", l->row.name, held[h]->name),
                 st_arena_printf(a->arena, "allergen: %s%s", held[h]->allergen[i].what,
                                 st_allergen_write(held[h]->allergen[i].degree)));
    if (l->row.from_batch != BOOK_NO)
        warn(t, "common practice, no source",
             st_arena_printf(a->arena, "%s (%s) was made of batch %s", l->row.name, l->row.code,
                             l->from_batch ? l->from_batch : "of this book"),
             st_arena_printf(a->arena,
                             "what went into that goes into this drink too, allergens among it: stillroom "
                             "cautions %s",
                             l->from_batch ? l->from_batch : "BATCH"));
}

static bool liquid_of(const struct st_batch_ask *a, const struct st_lot *l, double *strength,
                      struct st_correct_thing *thing)
{
    struct st_correct_liquid x = { .acid_known = true };
    if (strcmp(l->row.dim, "mL") != 0 || st_batch_lot_strength(a, &l->row, &x.strength) != BOOK_OK ||
        !(x.strength > 0.0))
        return false;
    *strength = x.strength;
    /* a label's 0.3 % vol and 4 % of the sugar: as of what is named in words (text/correct_thing.h) */
    x.strength_u = l->row.strength_u >= 0.0 ? l->row.strength_u : 0.3 / 1.96;
    x.sugar = l->row.sugar_g_l >= 0.0 ? l->row.sugar_g_l : 0.0;
    x.sugar_u = 0.04 * x.sugar / 1.96;
    x.acid = l->row.acid_g_l >= 0.0 ? l->row.acid_g_l : 0.0;
    thing->kind = x.sugar > 0.0 ? ST_ADD_BATCH : ST_ADD_SPIRIT;
    return st_correct_poured(&x, thing) >= 0;
}

static void price_of(struct st_correct_task *t, const struct book_lot *l, struct st_correct_thing *thing)
{
    thing->cost = (double)NAN;
    if (!(l->price >= 0.0) || !(l->amount > 0.0) || (*t->currency && strcmp(t->currency, l->currency) != 0))
        return;
    thing->cost = l->price / l->amount;
    (void)snprintf(t->currency, sizeof t->currency, "%s", l->currency);
}

static void take(const struct st_batch_ask *a, const struct st_catalogue *c, const struct st_lot *l,
                 struct st_correct_task *t, struct st_problem *p)
{
    const struct st_ingredient *in = st_lot_ingredient(c, &l->row);
    const int at = t->ask.n_thing;
    struct st_correct_thing thing = { .have = l->left };
    double strength = (double)NAN;
    if (l->over) {
        st_batch_refuse(p, "it is used up", "take another one", "%.80s (%.20s) cannot be poured", l->row.name,
                        l->row.code);
        return;
    }
    if (!liquid_of(a, l, &strength, &thing)) { /* sugar, syrup, acid: as what they are; else by its figures */
        if (in && st_lot_is_plain(c, &l->row) && in->kind != ST_KIND_SPIRIT) {
            if (st_correct_task_with(t, in->name, c, p))
                t->ask.thing[at].have =
                    t->ask.thing[at].by_weight == (strcmp(l->row.dim, "g") == 0) ? l->left : t->ask.thing[at].have;
        } else {
            st_batch_refuse(p, "its strength is not known",
                            st_arena_printf(a->arena, "tell it: stillroom larder change %s --strength 60", l->row.code),
                            "%.80s (%.20s) cannot be reckoned with", l->row.name, l->row.code);
        }
        return;
    }
    (void)snprintf(thing.name, sizeof thing.name, "%.60s (%.12s)", l->row.name, l->row.code);
    price_of(t, &l->row, &thing);
    if (!st_correct_task_thing(t, &thing, p)) {
        if (!p->what[0])
            st_batch_refuse(p, "eight are the most", "leave some out", "too many things may be poured in");
        return;
    }
    (void)snprintf(t->lot[at], sizeof t->lot[at], "%s", l->row.code);
    if (!in || st_lot_is_tincture(a, c, &l->row)) /* it is what its lot is */
        (void)snprintf(t->line[at], sizeof t->line[at], "%.60s", l->row.name);
    else
        (void)snprintf(t->line[at], sizeof t->line[at], "%.60s %.4g %%", in->name, strength);
    warn_of(a, c, l, in, t);
}

enum book_status st_correct_book_lot(const struct st_batch_ask *a, const struct st_catalogue *c, const char *said,
                                     const char *today, struct st_correct_task *task, bool *is,
                                     struct st_problem *problem)
{
    struct st_desk desk = { .book = a->book, .arena = a->arena, .day = today, .moment = today };
    struct st_larder larder;
    *is = false;
    (void)st_day_number(today, &desk.number);
    if (!st_larder_lots(&desk, true, &larder)) {
        if (desk.status == BOOK_OK)
            *problem = desk.problem;
        return desk.status;
    }
    const struct st_lot *found = find(&larder, c, said);
    struct st_lot lot;
    *is = found != NULL;
    if (!found)
        return BOOK_OK;
    if (!st_larder_lot(&desk, found->row.code, &lot)) /* with the batch it comes from */
        return desk.status;
    take(a, c, &lot, task, problem);
    return BOOK_OK;
}
