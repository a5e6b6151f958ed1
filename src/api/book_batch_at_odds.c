#include "api/book_batch_at_odds.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_agree.h"
#include "text/figure_words.h"
#include "util/memory.h"

/* 95 % of a normal law, two-sided. */
static const double Z975 = 1.959963984540054;

/* What is held against the readings has none of them in it: not the drained solids either. */
static enum book_status agreement(const struct st_batch_ask *a, const struct book_batch *batch,
                                  struct st_batch_agree *out, bool *is)
{
    struct st_batch_ask plain = *a;
    struct st_batch_made *made = x_calloc(1, sizeof *made); /* large */
    struct st_problem none = { .what = "" };
    plain.by_drained = false;
    enum book_status s = st_batch_made(&plain, batch, true, true, made);
    if (s == BOOK_OK && made->told)
        s = st_batch_agree(&plain, batch, made, out, &none);
    *is = s == BOOK_OK && made->told && !none.what[0];
    st_batch_made_done(made);
    free(made);
    return s;
}

/* What is known of the strength. */
static struct st_interval strength_known(const struct st_batch_made *made, const struct st_agreement *g)
{
    if (g && st_agree_holds(g) && g->after[ST_AGREE_STRENGTH].known)
        return g->after[ST_AGREE_STRENGTH];
    if (g && !st_agree_holds(g) && g->without[ST_AGREE_STRENGTH].known)
        return g->without[ST_AGREE_STRENGTH];
    return made->out.fig[ST_FIG_STRENGTH];
}

static const char *strength_words(struct st_arena *arena, double told, const struct st_interval *is, bool read)
{
    const double off = Z975 * st_seen_usual_sd(ST_SEEN_STRENGTH, told);
    char words[160];
    if (!is->known || (told >= is->low - off && told <= is->high + off))
        return NULL;
    st_figure_words(words, sizeof words, is, "% vol");
    return st_arena_printf(arena,
                           "%.4g %% vol was told, and by what went in%s it is %s. The label and the alcohol account "
                           "take what was told: read it again (sugar hides alcohol from a hydrometer), or look at what "
                           "was really weighed.",
                           told, read ? " and what was read" : "", words);
}

/* ---- by what it is known ---- */

/* A volume, a weight and what was drained say nothing of strength by themselves. */
static bool bears_on_strength(enum st_seen what)
{
    return what != ST_SEEN_LIQUOR_ML && what != ST_SEEN_LIQUOR_G && what != ST_SEEN_DRAINED_G;
}

/* later: read after the day that is asked of. */
static enum book_status read_words(const struct st_batch_ask *a, int64_t id, const char **words, bool *later)
{
    struct book_reading row;
    char text[120];
    const enum book_status s = book_get(a->book, BOOK_READING, id, a->arena, &row);
    if (s != BOOK_OK)
        return s;
    *later = *later || (a->until && strncmp(row.at, a->until->day, 10) > 0);
    st_batch_reading_words(text, sizeof text, &row);
    *words = st_arena_printf(a->arena, "%s of %.10s", text, row.at);
    return BOOK_OK;
}

/* Told by the newest of those that bear on strength. */
struct by {
    const struct st_batch_ask *a;
    const char *words;
    int n;
    bool later;
};

enum { TOLD = 3 };

static enum book_status told_by(struct by *k, int64_t id, enum st_seen what)
{
    const char *one = "";
    const enum book_status s = read_words(k->a, id, &one, &k->later);
    if (s == BOOK_OK && bears_on_strength(what) && k->n++ < TOLD)
        k->words = k->n == 1 ? one : st_arena_printf(k->a->arena, "%s; %s", k->words, one);
    return s;
}

static enum book_status strength_read(const struct st_batch_ask *a, const struct st_batch_agree *x,
                                      struct st_batch_strength_read *out)
{
    struct by k = { .a = a, .words = "" };
    enum book_status s = BOOK_OK;
    if (!st_agree_holds(&x->out) || !x->out.after[ST_AGREE_STRENGTH].known)
        return s;
    for (int i = x->n - 1; i >= 0 && s == BOOK_OK; i--) /* the newest first */
        if (x->out.reading[i].use == ST_AGREE_USED)
            s = told_by(&k, x->id[i], x->seen[i].what);
    for (int i = x->n_old - 1; i >= 0 && s == BOOK_OK; i--) /* then those of before something was added */
        if (x->old[i].use == ST_OLD_GOES_ON)
            s = told_by(&k, x->old[i].id, x->old[i].kind);
    if (k.n > 0)
        out->by = k.n > TOLD ? st_arena_printf(a->arena, "%s; and %d more", k.words, k.n - TOLD) : k.words;
    if (s == BOOK_OK && k.n > 0 && !k.later)
        out->is = x->out.after[ST_AGREE_STRENGTH];
    return s;
}

/* ---- the whole ---- */

static const char *odds_words(struct st_arena *arena, const struct st_agreement *g, const char *code)
{
    if (g->agree)
        return NULL;
    if (st_agree_holds(g))
        return st_arena_printf(arena,
                               "What was read of it is unlikely, and no contradiction, so it is used: stillroom batch "
                               "agrees %s tells which to read again.",
                               code);
    return st_arena_printf(arena,
                           "What was read of it does not agree: stillroom batch agrees %s tells what is at odds. Look "
                           "before a label says it.",
                           code);
}

enum book_status st_batch_at_odds(const struct st_batch_ask *a, const struct book_batch *batch,
                                  const struct st_batch_made *made, double strength, const char *remark[], int *n,
                                  struct st_batch_strength_read *read)
{
    struct st_batch_agree *x;
    bool is;
    *read = (struct st_batch_strength_read){ .by = "" };
    if (!made->told)
        return BOOK_OK;
    x = x_calloc(1, sizeof *x); /* large */
    enum book_status s = agreement(a, batch, x, &is);
    const char *odds = s == BOOK_OK && is ? odds_words(a->arena, &x->out, batch->code) : NULL;
    if (odds)
        remark[(*n)++] = odds;
    if (s == BOOK_OK && is)
        s = strength_read(a, x, read);
    if (s == BOOK_OK && isfinite(strength)) {
        const struct st_interval known = strength_known(made, is ? &x->out : NULL);
        const char *words = strength_words(a->arena, strength, &known, is && x->out.df > 0);
        if (words)
            remark[(*n)++] = words;
    }
    free(x);
    return s;
}
