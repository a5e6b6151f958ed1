#include "learnt_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

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

void st_learnt_advice(char *buf, size_t size, const struct st_learnt *l)
{
    buf[0] = '\0';
    if (l->early_wanted)
        snprintf(buf, size,
                 "To tell how fast a thing gives from how much there is in it takes two early points, for "
                 "example of day 1 and day 3, and a late one.");
}
