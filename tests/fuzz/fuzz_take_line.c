/* Any bytes as a line of free recipe text: always read, never more than there is room for; what is called an ingredient
 * is a line that the line parser reads as the same, and nothing poisonous is ever a spirit.  The first byte chooses the
 * measures and whether the method has begun. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "text/take_line.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* A small larder: one of each sort that is treated in its own way. */
static const char SHEET[] =
    "ingredient damson\nname damson\nnames damsons\nkind fresh_fruit\nsugars 9 7..12 % m test\npiece 12 8..18 g m "
    "test\n\n"
    "ingredient lemon_flesh\nname lemon, peeled\nnames lemon | lemons | peeled lemon\nkind fresh_fruit\nwhole "
    "lemon_whole\nsugars 2 1..3 % m test\npiece 60 40..90 g m test\n\n"
    "ingredient lemon_whole\nname whole lemon, unpeeled\nnames whole lemon | sliced lemon\nkind fresh_fruit\nsugars 2 "
    "1..3 % m test\npiece 90 60..120 g m test\n\n"
    "ingredient lemon_juice\nname lemon juice\nkind juice\nsugars 2 1..3 % m test\npiece 48 31..72 g m test\n"
    "piece_names lemon | lemons\n\n"
    "ingredient lemon_peel\nname lemon peel, fresh\nnames lemon peel | lemon zest\nkind peel_fresh\nsugars 4 3..5 % m "
    "test\npiece 12 4..20 g m test\npiece_names lemon | strip | strips\n\n"
    "ingredient ginger\nname fresh ginger\nnames ginger\nkind root_fresh\nsugars 2 1..3 % m test\n\n"
    "ingredient honey\nname honey\nkind syrup\nsugars 80 78..82 % m test\n\n"
    "ingredient meths\nname denatured alcohol\nnames methylated spirits\nkind spirit\ncaution denatured high m [test] "
    "it "
    "is poisonous\n\n"
    "ingredient wine\nname red wine\nkind wine\nsugars 0 0..1 % m test\nstrength 13 11..15 %vol m test\n\n"
    "ingredient vodka\nname vodka\nnames spirit\nkind spirit\n\n"
    "ingredient sugar\nname sugar\nkind sugar\nsugars 100 100..100 % m test\n\n"
    "ingredient water\nname water\nnames hot water\nkind water\nwater 100 100..100 % m test\n";

static struct st_catalogue *catalogue;

static void demand(int truth)
{
    if (!truth)
        abort();
}

static int ends(const char *text, size_t size)
{
    return memchr(text, '\0', size) != NULL;
}

static void check_ask(const struct st_take_ask *a)
{
    demand((int)a->kind >= 0 && a->kind < ST_NASK && *st_take_kind_name(a->kind));
    demand(a->n_option >= 0 && a->n_option <= ST_TAKE_OPTIONS);
    demand(*a->ask && ends(a->ask, sizeof a->ask) && ends(a->with, sizeof a->with));
    for (int i = 0; i < a->n_option; i++)
        demand(*a->option[i].label && ends(a->option[i].label, sizeof a->option[i].label) &&
               ends(a->option[i].as, sizeof a->option[i].as));
}

static void check_ingredient(const struct st_take_item *item, enum st_measures m)
{
    struct st_line line;
    struct st_problem p;

    demand(item->sure != ST_SURE || !*item->because);
    if (item->sure == ST_UNREAD) {
        demand(!*item->as && *item->because);
        return;
    }
    demand(*item->as && item->line.what && strcmp(item->line.what->slug, "meths") != 0);
    demand(st_line_parse(item->as, m, catalogue, &line, &p) == 0);
    demand(line.what == item->line.what && line.amount.dim == item->line.amount.dim);
    demand(!(fabs(line.amount.value - item->line.amount.value) > 0.0));
    demand(item->line.what->kind != ST_KIND_SPIRIT || item->line.strength.known);
}

static void check_step(const struct st_take_deed *d)
{
    demand((int)d->kind >= 0 && d->kind < ST_NDO && d->bottles >= 0 && d->size_ml >= 0.0);
    demand(d->time.dim == ST_DIM_OPEN || (d->time.dim == ST_DIM_TIME && d->time.low <= d->time.high));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct st_take_item item[ST_TAKE_ITEMS];
    struct st_problem p;

    if (size == 0)
        return 0;
    if (!catalogue)
        catalogue = st_catalogue_create(SHEET, sizeof SHEET - 1, &p);
    demand(catalogue != NULL);
    struct st_take_context context = { .measures = (enum st_measures)(data[0] % 4u), .in_method = data[0] & 4u };
    const int n = st_take_line((const char *)data + 1, size - 1, catalogue, &context, item);
    demand(n >= 1 && n <= ST_TAKE_ITEMS);
    for (int i = 0; i < n; i++) {
        char reading[400];
        st_take_reading(&item[i], reading, sizeof reading);
        demand(ends(reading, sizeof reading) && ends(item[i].because, sizeof item[i].because));
        demand(item[i].at <= size && item[i].n <= size - item[i].at);
        demand(item[i].n_ask >= 0 && item[i].n_ask <= ST_TAKE_ASKS);
        for (int k = 0; k < item[i].n_ask; k++)
            check_ask(&item[i].ask[k]);
        if (item[i].role == ST_TAKE_INGREDIENT)
            check_ingredient(&item[i], context.measures);
        else if (item[i].role == ST_TAKE_STEP)
            check_step(&item[i].deed);
    }
    return 0;
}
