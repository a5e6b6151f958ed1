#include "learnt_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "figure_words.h"

const char *st_theta_key(enum st_theta t)
{
    static const char *const KEY[ST_NTHETA] = { [ST_THETA_D] = "rate",
                                                [ST_THETA_K] = "partition",
                                                [ST_THETA_W] = "washed",
                                                [ST_THETA_C0] = "content",
                                                [ST_THETA_R] = "kept" };
    return KEY[t];
}

static const char *subject(enum st_theta t)
{
    static const char *const NAME[ST_NTHETA] = {
        [ST_THETA_D] = "how fast it gives",
        [ST_THETA_K] = "how much it holds back in the end",
        [ST_THETA_W] = "how much of it is washed off at once",
        [ST_THETA_C0] = "how much is in it",
        [ST_THETA_R] = "how much liquor it keeps",
    };
    return NAME[t];
}

/* Two figures: "2.1", "0.45", "12". */
static void times(char *buf, size_t size, double x)
{
    snprintf(buf, size, "%.*f", x < 1.0 ? 2 : x < 9.95 ? 1 : 0, x);
}

void st_learnt_theta_words(char *buf, size_t size, const struct st_learnt_thing *l, enum st_theta t)
{
    const double sd = sqrt(l->cov[t * ST_NTHETA + t]), low = l->mean[t] - 1.959964 * sd,
                 high = l->mean[t] + 1.959964 * sd;
    char a[24], b[24], c[24];
    buf[0] = '\0';
    if (l->grade[t] == ST_LEARNT_NOTHING)
        return;
    times(a, sizeof a, exp(l->mean[t]));
    times(b, sizeof b, exp(low));
    times(c, sizeof c, exp(high));
    snprintf(buf, size, "%s: %s times what the sheet has%s, likely between %s and %s times%s%s", subject(t), a,
             t == ST_THETA_W ? " (as odds)" : "", b, c,
             l->grade[t] == ST_LEARNT_LITTLE ? " (little was learnt of it)" : "",
             l->far[t] ? "; that is far from usual: are cut, size and amount as written?" : "");
}

void st_learnt_twin_words(char *buf, size_t size, const struct st_learnt_thing *l)
{
    buf[0] = '\0';
    if (l->n_twin)
        snprintf(buf, size, "these readings cannot tell %s from %s", subject((enum st_theta)l->twin[0][0]),
                 subject((enum st_theta)l->twin[0][1]));
}

/* ---- single readings ---- */

static const double NORMAL_975 = 1.959963984540054;

static void value_words(char *buf, size_t size, enum st_seen what, double x)
{
    if (what == ST_SEEN_SG || what == ST_SEEN_SG_BOILED)
        snprintf(buf, size, "%.3f", x);
    else
        st_plain_figure(buf, size, x, 3);
}

void st_seen_value_words(char *buf, size_t size, enum st_seen what, double x)
{
    char value[32];
    const char *unit = st_seen_info(what)->unit;
    value_words(value, sizeof value, what, x);
    if (what == ST_SEEN_MARK)
        snprintf(buf, size, "%s of 10", value);
    else if (what == ST_SEEN_SG || what == ST_SEEN_SG_BOILED)
        snprintf(buf, size, "%s (%s)", value, unit);
    else
        snprintf(buf, size, "%s%s%s", value, *unit ? " " : "",
                 *unit                    ? unit
                 : what == ST_SEEN_COLOUR ? " (own scale)"
                                          : "");
}

/* The ends of 95 % of one such reading, whose error the maker gave or is the usual one. */
static void ends_words(char *buf, size_t size, const struct st_observation *o, double x)
{
    const struct st_seen_info *info = st_seen_info(o->what);
    const double half = NORMAL_975 * (o->sd > 0.0 ? o->sd : st_seen_usual_sd(o->what, x));
    char low[32], high[32];
    value_words(low, sizeof low, o->what, fmax(x - half, info->low));
    value_words(high, sizeof high, o->what, fmin(x + half, info->high));
    snprintf(buf, size, "%s to %s", low, high);
}

void st_seen_odd_words(char *buf, size_t size, const struct st_observation *o, const struct st_learnt_reading *r)
{
    char day[32], seen[60], after[60], seen_ends[80], after_ends[80];
    const char *name = o->what == ST_SEEN_MARK ? "a mark" : st_seen_info(o->what)->name;
    st_plain_figure(day, sizeof day, o->t_s / 86400.0, 3);
    st_seen_value_words(seen, sizeof seen, o->what, o->value);
    ends_words(seen_ends, sizeof seen_ends, o, o->value);
    st_seen_value_words(after, sizeof after, o->what, r->after);
    ends_words(after_ends, sizeof after_ends, o, r->after);
    snprintf(buf, size,
             "%s of %s on day %s (with its error %s) does not go with the others: by them it should be about %s "
             "(with the error of a reading %s). Look again; it was counted for little",
             name, seen, day, seen_ends, after, after_ends);
}

/* Two readings that share a free scale (learn.h, Note 1). */
static bool share_a_scale(const struct st_observation *a, const struct st_observation *b)
{
    return a->what == b->what && strcmp(a->of, b->of) == 0 && (a->what == ST_SEEN_COLOUR || strcmp(a->by, b->by) == 0);
}

void st_seen_scale_words(char *buf, size_t size, const struct st_observation seen[], int n, int i)
{
    const struct st_observation *o = &seen[i], *named = NULL;
    const char *name = o->what == ST_SEEN_MARK ? "mark" : o->what == ST_SEEN_COLOUR ? "depth of colour" : "taste";
    int same = 0;
    *buf = '\0';
    if (o->what != ST_SEEN_COLOUR && o->what != ST_SEEN_MARK && o->what != ST_SEEN_TASTE)
        return;
    for (int k = 0; k < n; k++) {
        if (k < i && share_a_scale(&seen[k], o))
            return; /* told */
        same += share_a_scale(&seen[k], o);
        if (seen[k].what == o->what && *seen[k].of)
            named = &seen[k];
    }
    if (!*o->of && named)
        snprintf(buf, size,
                 "this %s names nothing in `of`: it is taken as of the whole jar, on a scale of its own, and not "
                 "compared with those of %s. If it was of %s too, add `of: %s`",
                 name, named->of, named->of, named->of);
    else if (same == 1)
        snprintf(buf, size,
                 "this is the only %s on its scale%s%s%s%s: only what differs between two says something. Read it on "
                 "another day too",
                 name, *o->of ? ", of " : "", o->of, o->what != ST_SEEN_COLOUR && *o->by ? ", by " : "",
                 o->what != ST_SEEN_COLOUR ? o->by : "");
}

void st_seen_reading_words(char *buf, size_t size, const struct st_observation seen[], int n, int i,
                           const struct st_learnt_reading *r)
{
    if (r->odd)
        st_seen_odd_words(buf, size, &seen[i], r);
    else if (!r->used)
        snprintf(buf, size, "nothing is learnt from this one (%s)", st_seen_info(seen[i].what)->name);
    else
        st_seen_scale_words(buf, size, seen, n, i);
}

static bool is_anything_learnt(const struct st_learnt *l)
{
    for (int i = 0; i < l->n_thing; i++)
        for (int k = 0; k < ST_NTHETA; k++)
            if (l->thing[i].grade[k] != ST_LEARNT_NOTHING)
                return true;
    return false;
}

/* "two early ones and a late one". */
static void missing(char *buf, size_t size, int early, int late)
{
    snprintf(buf, size, "%s%s%s",
             early >= 2   ? ""
             : early == 1 ? "one more early one"
                          : "two early ones",
             early < 2 && late < 1 ? " and " : "", late < 1 ? "a late one" : "");
}

void st_learnt_advice(char *buf, size_t size, const struct st_learnt *l)
{
    char lacks[80];
    buf[0] = '\0';
    if (!is_anything_learnt(l))
        snprintf(buf, size, "They say too little to change a figure of the sheet.%s", l->early_wanted ? " " : "");
    if (!l->early_wanted)
        return;
    missing(lacks, sizeof lacks, l->wanted_early, l->wanted_late);
    const size_t n = strlen(buf);
    snprintf(buf + n, size - n,
             "To tell how fast a thing gives from how much there is in it takes two early points, before it is mostly "
             "out, and a late one, after that. Of %s there are %d early and %d late: missing is %s, in this making "
             "or the next.",
             l->wanted_of, l->wanted_early, l->wanted_late, lacks);
}
