#include <stdio.h>
#include <string.h>

#include "held.h"
#include "slip.h"
#include "take_run.h"

/* "quince juice": most juices of fruit are like that of apples, to what is reckoned. */
static bool is_other_juice(const struct st_catalogue *c, const char *name)
{
    const size_t n = strlen(name);
    return n > 6 && strcmp(name + n - 6, " juice") == 0 && st_catalogue_find(c, "apple juice", 11);
}

/* The words look like it, and it can be measured so: "1 kg Kirschen" is no spirit, "drank" no oat drink. */
static bool may_be_meant(const struct st_item *it, const char *name, const struct st_ingredient *in)
{
    struct st_scan s = { name, name + strlen(name) };

    if (st_ingredient_is_stopped(in) || st_words_at(&s, ST_WORD_BIT(ST_WORD_TONGUE)) ||
        (in->kind == ST_KIND_SPIRIT && it->main >= 0 && it->sum[it->main].a.dim != ST_DIM_VOLUME))
        return false;
    return st_is_near_to(name, in);
}

/* kin: the name of the first stands in the words ("dried sour cherries"). */
static void near_options(struct st_item *it, const char *name, const struct st_ingredient *const near[], int n,
                         bool kin)
{
    struct st_take_ask *ask = st_item_ask(it->out, ST_ASK_WHICH, "");

    if (!ask)
        return;
    (void)snprintf(ask->ask, sizeof ask->ask, "What is \"%.60s\"?", name);
    if (is_other_juice(it->c, name)) {
        (void)snprintf(ask->ask, sizeof ask->ask, "\"%.50s\" is in no list: treat it like apple juice?", name);
        (void)snprintf(ask->option[ask->n_option++].label, sizeof ask->option[0].label, "apple juice");
    }
    for (int i = 0; i < n && ask->n_option < ST_TAKE_OPTIONS; i++)
        if (kin ? !st_ingredient_is_stopped(near[i]) : may_be_meant(it, name, near[i])) /* no poison is proposed */
            (void)snprintf(ask->option[ask->n_option++].label, sizeof ask->option[0].label, "%.31s", near[i]->name);
}

bool st_item_near(struct st_item *it, const struct st_tokens *t, struct st_run *out)
{
    const struct st_ingredient *near[5] = { NULL };
    char name[ST_LINE_NAME], before[ST_LINE_NAME] = "";
    size_t n = 0;
    int found = 0;

    for (int pieces = 1; pieces >= 0; pieces--) {
        n = st_tokens_bare(t, pieces, name, sizeof name);
        if (n < 3)
            return false;
        if (strcmp(name, before) == 0)
            break;
        memcpy(before, name, n + 1);
        const struct st_ingredient *stop = st_catalogue_slip(it->c, name, n);
        found = stop ? 1 : st_catalogue_near(it->c, name, n, near, 5);
        near[0] = stop ? stop : near[0];
        for (int i = 0; i < found; i++)
            if (stop || st_is_slip_of(name, near[i])) {
                st_item_doubt(it->out, ST_LIKELY, "'%.40s' is read as %.40s", name, near[i]->name);
                *out = (struct st_run){ .from = 0, .n = t->n, .what = near[i] };
                (void)snprintf(out->name, sizeof out->name, "%s", near[i]->name);
                return true;
            }
    }
    st_item_doubt(it->out, ST_UNREAD, "'%.60s' is in no list of ingredients", name);
    near_options(it, name, near, found < 4 ? found : 4, false);
    return false;
}

bool st_item_another(struct st_item *it, const struct st_tokens *t, const struct st_run *run)
{
    const struct st_ingredient *near[5];
    char name[ST_LINE_NAME];
    const size_t n = st_tokens_bare(t, true, name, sizeof name);
    int found = st_catalogue_near(it->c, name, n, near, 4);
    int at = 0;
    while (at < found && near[at] != run->what)
        at++;
    found += at == found;
    for (; at > 0; at--)
        near[at] = near[at - 1];
    near[0] = run->what; /* its nearest kin */

    st_item_doubt(it->out, ST_UNREAD, "'%.60s' is not just %.30s", name, run->what->name);
    near_options(it, name, near, it->out->line.what ? 0 : found,
                 true); /* of another part of the plant nothing is proposed */
    return false;
}
