/* Any bytes as the text of a recipe: refused with a reason, or read; what was made of it is a recipe file that reads,
 * keeps the text letter by letter, and whose rows and questions keep their promises. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "text/take.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* A small larder: reading the whole one for each input would take longer than the input. */
static const char SHEET[] =
    "ingredient damson\nname damson\nkind fresh_fruit\nwater 78 74..82 % m test\nsugars 9 7..12 % m test\n"
    "acid 2 1..3 % m test\ncup 160 140..180 g m test\npiece 12 8..18 g m test\nedible 95 90..98 % m test\n\n"
    "ingredient clove\nname clove\nkind seed\nwater 8 6..10 % m test\nsugars 2 1..3 % m test\npiece 0.1 0.08..0.12 g m "
    "test\n\n"
    "ingredient vodka\nname vodka\nnames spirit\nkind spirit\n\n"
    "ingredient sugar\nname sugar\nkind sugar\nsugars 100 100..100 % m test\nsucrose 100 100..100 % m test\n"
    "cup 200 190..210 g m test\n\n"
    "ingredient water\nname water\nkind water\nwater 100 100..100 % m test\n";

static void demand(int truth)
{
    if (!truth)
        abort();
}

static void check_rows(const struct st_take *t)
{
    for (int i = 0; i < t->n_row; i++) {
        const struct st_take_read_as *r = &t->row[i];
        demand(r->line > 0 && r->words && r->item && r->step < 200);
        demand(i == 0 || t->row[i - 1].line <= r->line);
        demand(r->item->n_ask >= 0 && r->item->n_ask <= ST_TAKE_ASKS);
        demand(memchr(r->item->as, '\0', sizeof r->item->as) &&
               memchr(r->item->because, '\0', sizeof r->item->because));
    }
}

static void check_questions(const struct st_take *t)
{
    int open = 0;
    for (int i = 0; i < t->n_question; i++) {
        const struct st_take_question *q = &t->question[i];
        demand(q->id && *q->id && q->ask && *q->ask && q->why && q->n_option <= ST_TAKE_OPTIONS + 1);
        for (int k = 0; k < q->n_option; k++)
            demand(q->label[k] && *q->label[k]);
        for (int k = 0; k < 3; k++)
            demand(isfinite(q->moves[k]) && q->moves[k] >= 0);
        open += !q->answered;
    }
    demand(open <= 3);
}

static void check_recipe(const struct st_take *t, int result)
{
    if (*t->yaml)
        demand(t->yaml_size == strlen(t->yaml) && t->recipe.n_problem == 0);
    if (!t->whole)
        return;
    demand(result >= 0 && t->recipe.recipe.n_step > 0 && *t->recipe.recipe.title);
    demand(*t->recipe.recipe.original != '\0');
}

static void take(const char *text, size_t size, const struct st_take_given *given)
{
    static struct st_take t;
    struct st_problem p = { 0 };
    struct st_catalogue *c = st_catalogue_create(SHEET, sizeof SHEET - 1, &p);
    demand(c != NULL);
    const int result = st_take_text(text, size, c, given, &t, &p);
    demand(result >= -1 && result <= 1);
    if (result < 0)
        demand(*p.what && *p.why && *p.try_);
    check_rows(&t);
    check_questions(&t);
    check_recipe(&t, result);
    st_take_done(&t);
    st_catalogue_free(c);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    const struct st_take_given none = { 0 };
    const struct st_take_answer answer[] = { { "measures", "us" },
                                             { "l2.strength", "40" },
                                             { "l3.strength", "x%s%n" } };
    const struct st_take_change change[] = { { 2, "700 mL vodka", 0 }, { 3, "", 0 } };
    const struct st_take_given given = { .answer = answer, .n_answer = 3, .change = change, .n_change = 2 };

    take((const char *)data, size, &none);
    if (size < 4000)
        take((const char *)data, size, &given);
    char *plain = st_take_json_ld((const char *)data, size);
    free(plain);
    return 0;
}
