/* Whether a vessel can hold what stands in it: a word where it is too small, or holds another batch. */
#include "cli/batch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "util/memory.h"

/* mL that a step holds, as foretold; of a steep fruit and liquor by their weight, at 1.15 g/mL at most, so that what does not
 * fit certainly does not (common practice, no source).  0: not known. */
static double holds_ml(const struct st_batch_made *m, const char *step)
{
    const struct st_recipe *r = &m->file.recipe;
    for (int i = 0; m->told && i < m->out.n_balance; i++) {
        const struct st_balance *x = &m->out.balance[i];
        double g = 0.0;
        if (strcmp(r->step[x->step].id, step) != 0)
            continue;
        if (r->step[x->step].kind != ST_DO_STEEP)
            return x->volume_ml;
        for (int c = 0; c < ST_NCOMP; c++)
            g += x->in_g[c];
        return g / 1.15;
    }
    return 0.0;
}

static const char *in_words(struct batch *b, double ml)
{
    const double step = ml > 0.0 ? pow(10.0, floor(log10(ml)) - 1.0) : 1.0, round = step * floor(ml / step + 0.5);
    const struct st_interval x = { round, round, round, ST_OK, true }; /* two figures: what is foretold is no surer */
    char words[60];
    st_volume_value(words, sizeof words, &x, b->c->units);
    return batch_text(b, "%s", words);
}

static const char *too_small(struct batch *b, const struct st_batch_jar *j, const struct st_batch_made *m)
{
    struct book_vessel v;
    const double ml = m ? holds_ml(m, j->row.step) : 0.0;
    if (book_get(b->book, BOOK_VESSEL, j->row.vessel_id, &b->arena, &v) != BOOK_OK || !(v.volume_ml > 0.0) ||
        !(ml > v.volume_ml))
        return "";
    return batch_text(b, "\"%s\" holds %s, and more than about %s belong into it.", v.name, in_words(b, v.volume_ml),
                      in_words(b, ml));
}

static const char *holds_other(struct batch *b, const struct st_batch_jar *j)
{
    struct st_batch_jar *all;
    int n;
    if (st_batch_jars(&b->ask, BOOK_NO, false, &all, &n) != BOOK_OK)
        return "";
    for (int i = 0; i < n; i++)
        if (all[i].row.vessel_id == j->row.vessel_id && all[i].row.batch_id != j->row.batch_id)
            return batch_text(b,
                              "By the book %s stands in \"%s\" too; if these are two vessels, give one another name.",
                              all[i].code, all[i].vessel);
    return "";
}

const char *batch_vessel_remark(struct batch *b, const struct st_batch_jar *j, const struct st_batch_made *m)
{
    if (j->row.vessel_id == BOOK_NO)
        return "";
    const char *small = too_small(b, j, m), *other = holds_other(b, j);
    return batch_text(b, "%s%s%s", small, *small && *other ? " " : "", other);
}

const char *batch_vessel_remark_of(struct batch *b, const struct st_batch_jar *j, const struct book_batch *batch)
{
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    const char *text = st_batch_made(&b->ask, batch, true, true, m) == BOOK_OK ? batch_vessel_remark(b, j, m) : "";
    st_batch_made_done(m);
    free(m);
    return text;
}
