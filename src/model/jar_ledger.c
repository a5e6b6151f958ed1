#include <math.h>
#include <string.h>

#include "jar_inside.h"

/* Grams of liquor: nothing here depends on what is dissolved in it, since a piece stays as heavy as it is. */

/* However much the solids would soak up, this share of the liquid at least comes off them or stays outside (as
 * plan_steep.c). */
static const double KEEPS_AT_MOST = 0.95;

/* A trace: so that a dose of nothing can be followed like the smallest of doses. */
static const double TRACE_G = 1e-6;

bool st_jar_is_strained(const struct st_jar *j, int piece, int stage)
{
    return j->stage[stage].strain || stage + 1 == j->n_stage || !(j->piece[piece].lies[stage + 1] > 0.0);
}

static double mass_of(const double g[ST_NCOMP])
{
    double sum = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        sum += g[c];
    return sum;
}

/* What does not move: it stays in the piece, and on the strainer. */
static double insoluble(const double g[ST_NCOMP])
{
    return g[ST_SOLIDS] + g[ST_FAT];
}

/* Share of the piece that is left in a stage, of what first went in. */
static double left_of(const struct st_jar *j, int piece, int stage)
{
    double left = 1.0;
    for (int s = 0; s <= stage; s++)
        if (j->piece[piece].lies[s] > 0.0)
            left *= j->piece[piece].lies[s];
    return left;
}

static double poured(const struct st_jar *j, const struct st_jar_set *set, int s)
{
    double sum = 0.0;
    for (int i = 0; i < j->n_pour; i++)
        if (j->pour[i].stage == s)
            sum += mass_of(set->pour[i]) - set->pour[i][ST_SOLIDS];
    return sum;
}

/* Liquor that each piece keeps at the end of stage s, not pressed: by its retention, or shares of what was weighed. */
static void want_to_keep(const struct st_jar *j, const struct st_jar_set *set, int s, double want[])
{
    double sum = 0.0, solids = 0.0;
    for (int p = 0; p < j->n_piece; p++) {
        const bool there = j->piece[p].lies[s] > 0.0;
        const double left = there ? left_of(j, p, s) : 0.0;
        want[p] = left * set->retention[p] * mass_of(set->piece[p]);
        sum += want[p];
        solids += left * insoluble(set->piece[p]);
    }
    for (int i = 0; i < j->n_pour; i++)
        solids += j->pour[i].stage == s ? set->pour[i][ST_SOLIDS] : 0.0;
    const double weighed = set->drained[s];
    if (!isnan(weighed) && sum > 0.0)
        for (int p = 0; p < j->n_piece; p++)
            want[p] *= fmax(weighed - solids, 0.0) / sum;
}

/* ... and after pressing; a weighing was made after it. */
static double pressed(const struct st_jar *j, const struct st_jar_set *set, int s)
{
    return j->stage[s].press && isnan(set->drained[s]) ? 1.0 - set->press[s] : 1.0;
}

/* A weighing rules over retentions of other stages. */
static bool is_weighed(const struct st_jar *j, const struct st_jar_set *set, int piece)
{
    for (int s = 0; s < j->n_stage; s++)
        if (j->piece[piece].lies[s] > 0.0 && !isnan(set->drained[s]))
            return true;
    return false;
}

/* Room for liquor in a piece: its own juice, or what it will keep where that is more. */
static void volumes(const struct st_jar *j, const struct st_jar_set *set, struct st_jar_ledger *l)
{
    double want[ST_JAR_PIECES];
    for (int p = 0; p < j->n_piece; p++)
        l->volume[p] = fmax(mass_of(set->piece[p]) - insoluble(set->piece[p]), TRACE_G);
    for (int s = 0; s < j->n_stage; s++) {
        want_to_keep(j, set, s, want);
        for (int p = 0; p < j->n_piece; p++)
            if (j->piece[p].lies[s] > 0.0 && (!isnan(set->drained[s]) || !is_weighed(j, set, p)))
                l->volume[p] = fmax(l->volume[p], want[p] / left_of(j, p, s));
    }
}

static double taken(const struct st_jar *j, const struct st_jar_set *set, const struct st_jar_ledger *l, int s)
{
    double sum = 0.0;
    for (int k = 0; k < j->stage[s].n_take; k++)
        sum += set->share[s][k] * l->out[j->stage[s].take[k].from];
    return sum;
}

/* What pieces draw in at the beginning of a stage; never so much that the liquid is gone. */
static void soak(const struct st_jar *j, const double holds[], int s, struct st_jar_ledger *l)
{
    double sum = 0.0;
    for (int p = 0; p < j->n_piece; p++) {
        l->soaks[p][s] = j->piece[p].lies[s] > 0.0 ? fmax(left_of(j, p, s) * l->volume[p] - holds[p], 0.0) : 0.0;
        sum += l->soaks[p][s];
    }
    const double most = KEEPS_AT_MOST * l->in[s];
    for (int p = 0; p < j->n_piece && sum > most; p++)
        l->soaks[p][s] *= most / sum;
    l->liquid[s] = l->in[s] - fmin(sum, most);
}

static void strain(const struct st_jar *j, const struct st_jar_set *set, int s, double holds[], struct st_jar_ledger *l)
{
    double want[ST_JAR_PIECES], sum = 0.0, pool = l->liquid[s];
    want_to_keep(j, set, s, want);
    for (int p = 0; p < j->n_piece; p++)
        if (j->piece[p].lies[s] > 0.0 && st_jar_is_strained(j, p, s)) {
            want[p] *= pressed(j, set, s);
            sum += want[p];
            pool += holds[p];
        }
    const double less = sum > KEEPS_AT_MOST * pool ? KEEPS_AT_MOST * pool / sum : 1.0;
    l->out[s] = l->liquid[s];
    l->solids[s] = 0.0;
    for (int p = 0; p < j->n_piece; p++) {
        l->keeps[p][s] = holds[p];
        if (!(j->piece[p].lies[s] > 0.0))
            continue;
        l->solids[s] += left_of(j, p, s) * insoluble(set->piece[p]);
        if (st_jar_is_strained(j, p, s)) {
            l->keeps[p][s] = fmin(want[p] * less, holds[p]);
            l->out[s] += holds[p] - l->keeps[p][s];
        }
        l->solids[s] += l->keeps[p][s];
        holds[p] = l->keeps[p][s];
    }
    for (int i = 0; i < j->n_pour; i++)
        l->solids[s] += j->pour[i].stage == s ? set->pour[i][ST_SOLIDS] : 0.0;
    l->out[s] *= j->stage[s].keeps;
}

/* First in a stage: what it has is its own juice. */
static void enter(const struct st_jar *j, const struct st_jar_set *set, int s, double holds[])
{
    for (int p = 0; p < j->n_piece; p++) {
        const double lies = j->piece[p].lies[s];
        bool before = false;
        for (int e = 0; e < s; e++)
            before = before || j->piece[p].lies[e] > 0.0;
        if (lies > 0.0)
            holds[p] = lies * (before ? holds[p] : mass_of(set->piece[p]) - insoluble(set->piece[p]));
    }
}

enum st_status st_jar_ledger(const struct st_jar *j, const struct st_jar_set *set, struct st_jar_ledger *l)
{
    double holds[ST_JAR_PIECES] = { 0.0 };
    memset(l, 0, sizeof *l);
    volumes(j, set, l);
    for (int s = 0; s < j->n_stage; s++) {
        l->in[s] = poured(j, set, s) + taken(j, set, l, s);
        if (j->stage[s].steeps && !(l->in[s] > 0.0 && l->in[s] < 1e12))
            return ST_E_DOMAIN;
        enter(j, set, s, holds);
        soak(j, holds, s, l);
        for (int p = 0; p < j->n_piece; p++)
            holds[p] += l->soaks[p][s];
        strain(j, set, s, holds, l);
    }
    return ST_OK;
}
