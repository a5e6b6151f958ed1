/* Any recipe that can be read, with its amounts changed in place: the other lines stay as they were, letter by letter.
 */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "text/amount_fine.h"
#include "text/recipe_edit.h"
#include "text/recipe_yaml.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static const char SHEET[] =
    "ingredient damson\nname damson\nkind fresh_fruit\nwater 78 74..82 % m test\nsugars 9 7..12 % m test\n"
    "acid 2 1..3 % m test\ncup 160 140..180 g m test\npiece 12 8..18 g m test\nedible 95 90..98 % m test\n\n"
    "ingredient vodka\nname vodka\nnames spirit\nkind spirit\n\n"
    "ingredient sugar\nname sugar\nkind sugar\nsugars 100 100..100 % m test\nsucrose 100 100..100 % m test\n\n"
    "ingredient water\nname water\nkind water\nwater 100 100..100 % m test\n";

static void demand(int truth)
{
    if (!truth)
        abort();
}

static int read_it(const char *text, size_t size, struct st_catalogue **c, struct st_recipe_file *file)
{
    struct st_problem p;
    *c = st_catalogue_create(SHEET, sizeof SHEET - 1, &p);
    demand(*c != NULL);
    return st_recipe_read("fuzz", text, size, *c, file);
}

/* Lines but the one changed. */
static void same_but(const struct st_recipe *a, const struct st_recipe *b, int step, int line)
{
    demand(a->n_step == b->n_step);
    for (int s = 0; s < a->n_step; s++) {
        demand(a->step[s].n_line == b->step[s].n_line && strcmp(a->step[s].id, b->step[s].id) == 0);
        for (int i = 0; i < a->step[s].n_line; i++)
            demand((s == step && i == line) || strcmp(a->step[s].line[i].text, b->step[s].line[i].text) == 0);
    }
}

static void change(const char *text, size_t size, const struct st_recipe *r, int step, int line)
{
    const struct st_line *l = &r->step[step].line[line];
    static struct st_recipe_file again;
    struct st_catalogue *c;
    struct st_buf out = { 0 };
    struct st_problem p = { .what = "" };
    char amount[64];

    st_amount_fine(&l->amount, 1.3 * l->amount.value, r->measures, amount, sizeof amount);
    const struct st_edit edit = { .step = &r->step[step], .vessel = "5 L", .line = l, .amount = amount };
    if (st_recipe_edit(text, size, r->measures, &edit, 1, &out, &p) == 0) {
        if (read_it(st_buf_text(&out), out.length, &c, &again) == 0)
            same_but(r, &again.recipe, step, line);
        st_recipe_done(&again);
        st_catalogue_free(c);
    } else
        demand(out.length == 0 && *p.what && *p.why && *p.try_ && p.at.line > 0);
    st_buf_done(&out);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct st_recipe_file file; /* large */
    struct st_catalogue *c;
    char *text = malloc(size + 1); /* of its own, so that reading past it shows */
    demand(text != NULL);
    memcpy(text, data, size);
    text[size] = '\0';
    if (read_it(text, size, &c, &file) == 0) {
        int left = 6;
        for (int s = 0; s < file.recipe.n_step; s++)
            for (int i = 0; i < file.recipe.step[s].n_line && left > 0; i++) {
                const struct st_line *l = &file.recipe.step[s].line[i];
                if (!l->what || l->amount.open != ST_CLOSED || l->amount.dim == ST_DIM_OPEN)
                    continue;
                change(text, size, &file.recipe, s, i);
                left--;
            }
    }
    st_recipe_done(&file);
    st_catalogue_free(c);
    free(text);
    return 0;
}
