/* Any bytes as a recipe file: read, or refused with a place and a reason; what was read keeps its promises. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "text/recipe_yaml.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* A small larder: reading the whole one for each input would take longer than the input. */
static const char SHEET[] =
    "ingredient damson\nname damson\nkind fresh_fruit\nwater 78 74..82 % m test\nsugars 9 7..12 % m test\n"
    "acid 2 1..3 % m test\ncup 160 140..180 g m test\npiece 12 8..18 g m test\nedible 95 90..98 % m test\n"
    "allergen sulphites possible_eu_us m [test] may be there\ncaution cyanogenic low m [test] the stone\n\n"
    "ingredient almond\nname almond\nkind nut\nwater 5 4..6 % m test\nsugars 4 3..5 % m test\n"
    "allergen almond eu_us m [test] it is one\n\n"
    "ingredient vodka\nname vodka\nnames spirit\nkind spirit\n\n"
    "ingredient sugar\nname sugar\nkind sugar\nsugars 100 100..100 % m test\nsucrose 100 100..100 % m test\n\n"
    "ingredient water\nname water\nkind water\nwater 100 100..100 % m test\n";

static void demand(int truth)
{
    if (!truth)
        abort();
}

static void check_range(struct st_range r)
{
    if (r.known)
        demand(isfinite(r.value) && r.low <= r.value && r.value <= r.high && r.source);
}

static void check_line(const struct st_line *l, int step)
{
    demand(l->text && l->at.line > 0 && l->at.column > 0);
    demand(l->what ? l->from_step == -1 : l->from_step >= 0 && l->from_step < step);
    demand(isfinite(l->amount.value));
    demand(isnan(l->price) || (l->price >= 0 && isfinite(l->price)));
    check_range(l->strength);
    check_range(l->trimmed_share);
    if (l->trimmed_share.known)
        demand(l->trimmed_share.high <= 1 && l->trimmed_share.value > 0);
}

static void check_recipe(const struct st_recipe *r)
{
    demand(r->n_step > 0 && r->n_step <= 200 && *r->title && r->serving_ml > 0);
    for (int i = 0; i < r->n_step; i++) {
        const struct st_step *s = &r->step[i];
        demand(s->id && *s->id && s->words && s->kind < ST_NDO && s->n_line > 0 && s->at.line > 0);
        demand(s->vessel_ml >= 0 && s->bottle_ml >= 0 && s->bottles >= 0);
        check_range(s->press_share);
        check_range(s->drained_solids_g);
        check_range(s->exchanged);
        check_range(s->loss_share);
        check_range(s->loss_ml);
        for (int k = 0; k < s->n_line; k++)
            check_line(&s->line[k], i);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct st_problem p = { 0 };
    struct st_recipe_file f;
    struct st_catalogue *c = st_catalogue_create(SHEET, sizeof SHEET - 1, &p);
    demand(c != NULL);

    const int result = st_recipe_read("fuzz.yaml", (const char *)data, size, c, &f);
    demand(f.n_problem >= 0 && f.n_problem <= ST_MAX_PROBLEMS && f.n_note <= ST_MAX_PROBLEMS);
    demand((result == 0) == (f.n_problem == 0));
    for (int i = 0; i < f.n_problem; i++) {
        demand(f.problem[i].at.line > 0 && f.problem[i].at.column > 0);
        demand(*f.problem[i].what != '\0');
        demand(f.problem[i].is_question || (*f.problem[i].why && *f.problem[i].try_));
    }
    if (result == 0)
        check_recipe(&f.recipe);
    st_recipe_done(&f);
    st_catalogue_free(c);
    return 0;
}
