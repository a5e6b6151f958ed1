#include "recipe_yaml.h"

#include <stdlib.h>
#include <string.h>

#include "point.h"
#include "util/memory.h"
#include "yaml_assay.h"
#include "yaml_define.h"
#include "yaml_field.h"
#include "yaml_guard.h"
#include "yaml_step.h"
#include "yaml_tools.h"
#include "yaml_tree.h"

/* ---- the head of a recipe ---- */

/* First of all: what a newer file holds cannot be judged here.  True when reading may go on. */
static bool read_version(struct st_reader *r, const struct st_yaml *v)
{
    struct st_range n;
    if (!v)
        return true;
    if (!st_value_figure(r, v, "", 1, 1e6, false, &n))
        return false;
    if (n.value == 1)
        return true;
    if (n.value > 1)
        st_report(&r->report, v->at, "it was written for a newer program; this one knows version 1",
                  "update the program, or write the recipe as version 1", "this recipe file has version %.6g", n.value);
    else
        st_report(&r->report, v->at, "the only version so far is 1", "write `schema_version: 1`",
                  "there is no version %.6g of recipe files", n.value);
    return false;
}

static void read_title(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)into;
    (void)st_value_text(r, v, 200, &r->recipe->title);
}

static void read_note(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)into;
    (void)st_value_text(r, v, ST_TEXT_BYTES, &r->recipe->note);
}

static void read_original(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)into;
    (void)st_value_text(r, v, ST_ORIGINAL_BYTES, &r->recipe->original);
}

static void read_unreckoned(struct st_reader *r, const struct st_yaml *v, void *into)
{
    int n = 0;
    (void)into;
    for (const struct st_yaml *one = st_value_first(v); one; one = st_value_next(v, one))
        n++;
    const char **all = st_arena_alloc(r->report.arena, ((size_t)n + 1) * sizeof *all);
    n = 0;
    for (const struct st_yaml *one = st_value_first(v); one; one = st_value_next(v, one))
        n += st_value_text(r, one, 190, &all[n]);
    r->recipe->unreckoned = all;
    r->recipe->n_unreckoned = n;
}

static void read_author(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)into;
    (void)st_value_text(r, v, 200, &r->recipe->author);
}

static void read_currency(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)into;
    (void)st_value_text(r, v, 8, &r->recipe->currency);
}

static void read_serving(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_amount a;
    (void)into;
    if (!st_value_amount(r, v, ST_DIM_VOLUME, false, &a))
        return;
    if (a.value > 0 && a.value <= 1000)
        r->recipe->serving_ml = a.value;
    else
        st_report(&r->report, v->at, "it is not between nothing and 1 L", "write for example 40 mL",
                  "cannot use `%s` for `serving`", st_report_clip(&r->report, v->text, v->size));
}

/* ---- wishes ---- */

static void read_wish_strength(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_range x;
    (void)into;
    if (!st_value_range(r, v, ST_DIM_STRENGTH, &x))
        return;
    r->recipe->wish.strength_low = x.low;
    r->recipe->wish.strength_high = x.high;
    r->recipe->wish.has_strength = true;
}

static void read_wish_sugar(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_range x;
    (void)into;
    if (!st_value_figure(r, v, "g/L|g/l|g per litre|g per liter|grams per litre", 1, 1600, false, &x))
        return;
    r->recipe->wish.sugar_low = x.low;
    r->recipe->wish.sugar_high = x.high;
    r->recipe->wish.has_sugar = true;
}

static const struct st_field WISH[] = {
    { "strength", read_wish_strength, 0 },
    { "sugar", read_wish_sugar, 0 },
    { NULL, NULL, 0 },
};

static void read_wish(struct st_reader *r, const struct st_yaml *v, void *into)
{
    st_fields_read(r, v, WISH, "`wish`", 0, into);
}

/* Keys that are read here in any order; version, measures, ingredients and steps are read in their turn below. */
static const struct st_field HEAD[] = {
    { "schema_version", NULL, 0 },
    { "title", read_title, 0 },
    { "note", read_note, 0 },
    { "author", read_author, 0 },
    { "measures", NULL, 0 },
    { "currency", read_currency, 0 },
    { "serving", read_serving, 0 },
    { "tools", st_yaml_tools_read, 0 },
    { "wish", read_wish, 0 },
    { "ingredients", NULL, 0 },
    { "steps", NULL, 0 },
    { "original", read_original, 0 },
    { "assays", NULL, 0 },
    { "unreckoned", read_unreckoned, 0 },
    { NULL, NULL, 0 },
};

/* Needed before any amount is read. */
static void read_measures(struct st_reader *r, const struct st_yaml *v)
{
    const char *text;
    if (!v || !st_value_text(r, v, 40, &text))
        return;
    if (strcmp(text, "us") == 0)
        r->recipe->measures = ST_MEASURES_US;
    else if (strcmp(text, "metric") == 0)
        r->recipe->measures = ST_MEASURES_METRIC;
    else if (strcmp(text, "imperial") == 0)
        r->recipe->measures = ST_MEASURES_IMPERIAL;
    else
        st_report(&r->report, v->at, "cups and ounces differ between them", "write us, metric or imperial",
                  "cannot read `%s` for `measures`", st_report_clip(&r->report, text, v->size));
}

static void need(struct st_reader *r, const struct st_yaml *root, const char *key, const char *try_)
{
    if (!st_yaml_get(root, key))
        st_report(&r->report, root->at, "every recipe needs it", try_, "`%s` is missing", key);
}

/* Among the values of a part of the recipe; what is told in words, or was there before, does not count. */
static void see_marks(const struct st_yaml *v, struct st_marks *marks)
{
    const char *key = v->key ? v->key->text : "";
    if (strcmp(key, "words") == 0 || strcmp(key, "said") == 0)
        return;
    if (v->kind == ST_YAML_TEXT)
        st_marks_see(marks, v->text, v->size);
    for (const struct st_yaml *c = v->child; c; c = c->next)
        see_marks(c, marks);
}

static void read_recipe(struct st_reader *r, const struct st_yaml *root)
{
    if (root->kind != ST_YAML_MAP) {
        st_report(&r->report, root->at, "a recipe file begins with keys such as `title:` and `steps:`",
                  "docs/recipe-file.md shows a complete file", "this is not a recipe");
        return;
    }
    if (!read_version(r, st_yaml_get(root, "schema_version")))
        return;
    const struct st_yaml *own = st_yaml_get(root, "ingredients"), *steps = st_yaml_get(root, "steps"),
                         *assays = st_yaml_get(root, "assays");
    read_measures(r, st_yaml_get(root, "measures"));
    st_fields_read(r, root, HEAD, "a recipe", 0, NULL);
    need(r, root, "title", "write for example `title: Damson liqueur`");
    need(r, root, "steps", "list what is done, `steps:` and under it `  - steep: jar`");
    if (own)
        st_yaml_define_read(r, own, NULL);
    if (assays)
        st_yaml_assays_read(r, assays);
    if (steps) {
        see_marks(steps, &r->marks);
        st_yaml_steps_read(r, steps);
    }
}

/* ---- the file ---- */

static void blank(struct st_recipe *recipe, const char *file)
{
    recipe->file = file;
    recipe->title = recipe->note = recipe->currency = recipe->author = recipe->original = "";
    recipe->schema_version = 1;
    recipe->serving_ml = 40;
}

int st_recipe_read(const char *file, const char *text, size_t size, struct st_catalogue *c, struct st_recipe_file *out)
{
    return st_recipe_read_as(file, text, size, c, ST_MEASURES_NONE, out);
}

int st_recipe_read_as(const char *file, const char *text, size_t size, struct st_catalogue *c, enum st_measures silent,
                      struct st_recipe_file *out)
{
    memset(out, 0, sizeof *out);
    struct st_arena *arena = x_calloc(1, sizeof *arena);
    struct st_reader r = { .report = { .arena = arena, .out = out }, .recipe = &out->recipe, .catalogue = c };

    st_arena_init(arena);
    out->memory = arena;
    blank(&out->recipe, st_arena_strdup(arena, file ? file : ""));
    out->recipe.measures = silent;
    if (st_yaml_guard(&r.report, text, size) == 0) {
        const struct st_yaml *root = st_yaml_tree(&r.report, text, size);
        if (root)
            read_recipe(&r, root);
    }
    return st_report_finish(&r.report);
}

void st_recipe_done(struct st_recipe_file *f)
{
    struct st_arena *arena = f->memory;
    if (arena) {
        st_arena_done(arena);
        free(arena);
    }
    memset(f, 0, sizeof *f);
}
