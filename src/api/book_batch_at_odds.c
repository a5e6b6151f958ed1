#include "api/book_batch_at_odds.h"

#include <math.h>
#include <stdlib.h>

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
    if (g && g->agree && g->after[ST_AGREE_STRENGTH].known)
        return g->after[ST_AGREE_STRENGTH];
    if (g && !g->agree && g->without[ST_AGREE_STRENGTH].known)
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

enum book_status st_batch_at_odds(const struct st_batch_ask *a, const struct book_batch *batch,
                                  const struct st_batch_made *made, double strength, const char *remark[], int *n)
{
    struct st_batch_agree *x;
    bool is;
    if (!made->told)
        return BOOK_OK;
    x = x_calloc(1, sizeof *x); /* large */
    const enum book_status s = agreement(a, batch, x, &is);
    if (s == BOOK_OK && is && !x->out.agree)
        remark[(*n)++] =
            st_arena_printf(a->arena,
                            "What was read of it does not agree: stillroom batch agrees %s tells what is at odds. Look "
                            "before a label says it.",
                            batch->code);
    if (s == BOOK_OK && isfinite(strength)) {
        const struct st_interval known = strength_known(made, is ? &x->out : NULL);
        const char *words = strength_words(a->arena, strength, &known, is && x->out.df > 0);
        if (words)
            remark[(*n)++] = words;
    }
    free(x);
    return s;
}
