#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "figure_words.h"
#include "steep_words.h"

/* ---- amounts ---- */

static const double LEFT_OUT_G = 1e-9;

double st_piece_g(const struct st_jar_piece *p)
{
    double g = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        g += p->goods.g[c];
    g *= p->factor;
    return g > LEFT_OUT_G ? g : 0.0;
}

void st_amount_words(char *buf, size_t size, const struct st_jar_piece *written, const struct st_jar_piece *so)
{
    const double was = st_piece_g(written), is = st_piece_g(so), times = was > 0.0 ? is / was : 1.0;
    char much[40];
    buf[0] = '\0';
    if (fabs(times - 1.0) < 1e-6)
        return;
    if (!(is > 0.0)) {
        snprintf(buf, size, "%s is left out: nothing of it comes", so->name);
        return;
    }
    if (times == 0.5 || times == 2.0)
        snprintf(much, sizeof much, times < 1.0 ? "half" : "twice");
    else
        snprintf(much, sizeof much, "%.2g times", times);
    snprintf(buf, size, "%s as much of %s: %.3g g, as written %.3g g", much, so->name, is, was);
}

/* ---- sugar at the bottom ---- */

/* A spoon's tip of it is nothing to speak of. */
static const double SPOKEN_OF_G = 2.0;

void st_undissolved_words(char *buf, size_t size, const struct st_jar_told *told, const long *begun)
{
    const struct st_jar_series *s = &told->undissolved_g;
    char much[120], until[64], end[160];
    int most = 0, last = -1;
    for (int i = 0; i < told->n_time; i++) {
        most = s->at[i].value > s->at[most].value ? i : most;
        last = s->at[i].value > SPOKEN_OF_G ? i : last;
    }
    buf[0] = '\0';
    if (last < 0)
        return;
    st_figure_words(much, sizeof much, &s->at[most], "g");
    if (last + 1 < told->n_time) {
        st_moment_words(until, sizeof until, told->t_s[last + 1], true, begun);
        snprintf(end, sizeof end, "by %s all of it can be dissolved", until);
    } else {
        st_moment_words(until, sizeof until, told->t_s[last], false, begun);
        snprintf(end, sizeof end, "some of it is left by %s", until);
    }
    snprintf(buf, size,
             "Not all of the sugar dissolves at this strength and warmth: the most that lies at the bottom is %s; %s. "
             "Until then "
             "there is less in the liquid than these figures say, as they take it as dissolved; turn the jar. "
             "[schrefeld1894]",
             much, end);
}

/* ---- powder ---- */

static void add(char *buf, size_t size, const char *text)
{
    const size_t n = strlen(buf);
    snprintf(buf + n, size - n, "%s", text);
}

/* Of what leaves less than this undissolved (instant coffee) little is strained off. */
static const double LITTLE_LEFT = 0.3;

static bool is_powder(const struct st_jar *j, const struct st_jar_piece *p)
{
    double sum = 0.0;
    bool lies = false;
    for (int s = st_jar_filled_at(j, j->n_stage - 1); s < j->n_stage; s++)
        lies = lies || (p->lies[s] > 0.0 && j->stage[s].steeps);
    for (int c = 0; c < ST_NCOMP; c++)
        sum += p->goods.g[c];
    return lies && (p->kind == ST_KIND_POWDER || p->cut == ST_CUT_GROUND) &&
           p->goods.g[ST_SOLIDS] + p->goods.g[ST_FAT] > LITTLE_LEFT * sum;
}

void st_powder_words(char *buf, size_t size, const struct st_jar *j)
{
    int n = 0, all = 0;
    char names[200] = "";
    buf[0] = '\0';
    for (int i = 0; i < j->n_piece; i++)
        all += is_powder(j, &j->piece[i]);
    for (int i = 0; i < j->n_piece; i++) {
        if (!is_powder(j, &j->piece[i]))
            continue;
        add(names, sizeof names, n == 0 ? "" : n == all - 1 ? " and " : ", ");
        add(names, sizeof names, j->piece[i].name);
        n++;
    }
    if (n > 0)
        snprintf(buf, size,
                 "Hard to strain, as powder is: %s (common practice, no source). Let it sink, pour the clear part off "
                 "through a coffee filter and the rest last; or take coarser pieces, which give more slowly.",
                 names);
}
