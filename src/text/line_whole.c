#include <stdio.h>
#include <string.h>

#include "line_draft.h"

/* "2 lemons": the peel, the juice, slices with the peel, or peeled?  They are different things, and the peel has
 * cautions of its own; so it is asked where the line does not say. */

static const char WITH_PEEL[] =
    "unpeeled|with peel|with the peel|with its peel|with their peel|with skin|with skins|with the skin|with its "
    "skin|with their skins|peel and all|skin and all|skin on|peel on";
/* Words of cutting, which say nothing against the peel: one cuts up peeled fruit too, but says that it is. */
static const char CUT[] = "whole|sliced|slice|slices|in slices|thinly sliced|rounds|wheels|quartered|quarters|halved|"
                          "halves|cut in half|cut in two|wedges|pricked|studded";
static const char FLESH[] = "peeled|before peeling|after peeling|flesh|pulp|segment|segments|skinned|pith removed|"
                            "without peel|without the peel|without skin|without the skin";
static const char PEEL[] = "peel|peels|zest|rind|rinds|skin";

static const struct st_ingredient *with_slug(const struct st_catalogue *c, const char *slug)
{
    for (size_t i = 0; i < st_catalogue_count(c); i++)
        if (strcmp(st_catalogue_at(c, i)->slug, slug) == 0)
            return st_catalogue_at(c, i);
    return NULL;
}

static void ask_part(struct st_draft *d, const struct st_catalogue *c)
{
    struct st_problem p = { .is_question = 1 };
    const int n = (int)strcspn(d->what->name, ",");
    char fruit[48], part[56], peel[64] = "", juice[64] = "", peeled[64] = "";

    (void)snprintf(fruit, sizeof fruit, "%.*s", n < 40 ? n : 40, d->what->name);
    char *more = strstr(fruit, d->what->kind == ST_KIND_PEEL_FRESH ? " peel" : " or ");
    if (more)
        *more = '\0';
    if (d->what->kind != ST_KIND_PEEL_FRESH)
        (void)snprintf(peeled, sizeof peeled, " or `%s, peeled`", fruit);
    (void)snprintf(part, sizeof part, "%s peel", fruit);
    if (st_catalogue_find(c, part, strlen(part)))
        (void)snprintf(peel, sizeof peel, "`%s`, ", part);
    (void)snprintf(part, sizeof part, "%s juice", fruit);
    if (st_catalogue_find(c, part, strlen(part)))
        (void)snprintf(juice, sizeof juice, "`%s`, ", part);
    (void)snprintf(p.what, sizeof p.what, "which part of the %s is meant", fruit);
    (void)snprintf(p.why, sizeof p.why,
                   "peel, juice and flesh give different things, and the peel has cautions of its own");
    (void)snprintf(p.try_, sizeof p.try_, "write %.44s%.44s`%.30s, sliced` (with its peel)%.50s; a count may "
                   "stand before each", peel, juice, fruit, peeled);
    st_draft_question(d, d->name_at, &p);
}

int st_draft_part_said(const struct st_draft *d)
{
    return st_draft_says(d, WITH_PEEL) ? 1 : st_draft_says(d, FLESH) ? -1 : st_draft_says(d, CUT);
}

/* "1 whole lemon, peeled" was found as the whole one. */
static const struct st_ingredient *peeled_of(const struct st_draft *d, const struct st_catalogue *c)
{
    for (size_t i = 0; i < st_catalogue_count(c); i++) {
        const struct st_ingredient *in = st_catalogue_at(c, i);
        if (in->kind != ST_KIND_PEEL_FRESH && strcmp(in->whole, d->what->slug) == 0)
            return in;
    }
    return NULL;
}

void st_draft_whole(struct st_draft *d, const struct st_catalogue *c)
{
    const int said = st_draft_part_said(d);

    if (d->part[0])
        return;
    if (!d->what->whole[0]) {
        const struct st_ingredient *peeled = said < 0 ? peeled_of(d, c) : NULL;
        if (peeled)
            d->what = peeled;
        return;
    }
    const struct st_ingredient *whole = with_slug(c, d->what->whole);
    const bool is_peel = d->what->kind == ST_KIND_PEEL_FRESH;
    if (whole && said > 0) {
        d->what = whole;
        d->gross = d->gross && st_draft_says(d, "as bought|as picked|gross|gross weight|untrimmed|whole weight");
    } else if (is_peel ? !st_draft_says(d, PEEL) : said == 0) {
        ask_part(d, c);
    }
}
