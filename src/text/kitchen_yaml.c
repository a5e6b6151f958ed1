#include "kitchen_yaml.h"

#include <string.h>

#include "util/memory.h"
#include "yaml_field.h"
#include "yaml_guard.h"
#include "yaml_tree.h"

/* `into` of every reader is the kitchen. */

static bool is_no(const struct st_yaml *v)
{
    return v->kind == ST_YAML_TEXT && (strcmp(v->text, "no") == 0 || strcmp(v->text, "none") == 0);
}

static void read_title(struct st_reader *r, const struct st_yaml *v, void *into)
{
    const char *text;
    (void)into;
    (void)st_value_text(r, v, 200, &text);
}

static void read_measures(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_kitchen *k = into;
    const char *text;
    if (!st_value_text(r, v, 40, &text))
        return;
    if (strcmp(text, "us") == 0)
        k->measures = ST_MEASURES_US;
    else if (strcmp(text, "metric") == 0)
        k->measures = ST_MEASURES_METRIC;
    else if (strcmp(text, "imperial") == 0)
        k->measures = ST_MEASURES_IMPERIAL;
    else
        st_report(&r->report, v->at, "cups and spoons differ between them", "write us, metric or imperial",
                  "cannot read `%s` for `measures`", st_report_clip(&r->report, text, v->size));
}

static void read_cups(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)st_value_yes_no(r, v, &((struct st_kitchen *)into)->cups);
}

static void read_spoons(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_kitchen *k = into;
    bool has;
    if (st_value_yes_no(r, v, &has))
        k->tablespoons = k->teaspoons = has;
}

static void read_pieces(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)st_value_yes_no(r, v, &((struct st_kitchen *)into)->pieces);
}

static void read_drops(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)st_value_yes_no(r, v, &((struct st_kitchen *)into)->dropper);
}

/* A step or size between low and high; false after a message. */
static bool read_size(struct st_reader *r, const struct st_yaml *v, enum st_dimension dim, double low, double high,
                      double *out)
{
    struct st_amount a;
    if (!st_value_amount(r, v, dim, false, &a))
        return false;
    if (a.value >= low && a.value <= high) {
        *out = a.value;
        return true;
    }
    st_report(&r->report, v->at, "no such tool is known in a kitchen", "write its size as it stands on the tool",
              "cannot use `%s` for `%s`", st_report_clip(&r->report, v->text, v->size), st_value_name(v));
    return false;
}

static void share(struct st_reader *r, const struct st_yaml *v, struct st_kitchen *k, enum st_tool tool, double size)
{
    struct st_range x;
    if (!st_value_figure(r, v, "%|percent|per cent", 0.01, 0.5, false, &x))
        return;
    struct st_tolerance t = k->tools.given[tool] ? k->tools.of[tool] : st_tolerance_default(tool, size);
    t.scale = x.high;
    t.mark = 'u';
    t.source = "the maker's own";
    k->tools.of[tool] = t;
    k->tools.given[tool] = true;
}

/* `jug: 10 mL`, `jug: [10 mL, 2 %]`, `jug: no` */
static void read_jug(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_kitchen *k = into;
    k->jug = !is_no(v);
    for (const struct st_yaml *one = k->jug ? st_value_first(v) : NULL; one; one = st_value_next(v, one))
        if (st_value_is_percent(one))
            share(r, one, k, ST_TOOL_JUG, 500.0);
        else
            (void)read_size(r, one, ST_DIM_VOLUME, 1.0, 100.0, &k->jug_step_ml);
}

static void read_scale(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_kitchen *k = into;
    k->scale = !is_no(v);
    for (const struct st_yaml *one = k->scale ? st_value_first(v) : NULL; one; one = st_value_next(v, one)) {
        if (st_value_is_percent(one))
            share(r, one, k, ST_TOOL_SCALE, 500.0);
        else if (read_size(r, one, ST_DIM_MASS, 0.01, 50.0, &k->scale_step_g))
            k->tools.scale_digit_g = k->scale_step_g;
    }
}

static void read_sizes(struct st_reader *r, const struct st_yaml *v, double low, double high, double size[], int *n)
{
    *n = 0;
    for (const struct st_yaml *one = is_no(v) ? NULL : st_value_first(v); one; one = st_value_next(v, one)) {
        if (*n == ST_KITCHEN_SIZES) {
            st_report(&r->report, one->at, "there is room for eight", "leave some out", "too many sizes for `%s`",
                      st_value_name(v));
            return;
        }
        *n += read_size(r, one, ST_DIM_VOLUME, low, high, &size[*n]);
    }
}

static void read_jigger(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_kitchen *k = into;
    read_sizes(r, v, 5.0, 200.0, k->jigger_ml, &k->n_jigger);
}

static void read_bottles(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_kitchen *k = into;
    read_sizes(r, v, 20.0, 5000.0, k->bottle_ml, &k->n_bottle);
}

static void read_cup(struct st_reader *r, const struct st_yaml *v, void *into)
{
    share(r, v, into, ST_TOOL_CUP, 240.0);
}

static void read_tablespoon(struct st_reader *r, const struct st_yaml *v, void *into)
{
    share(r, v, into, ST_TOOL_TABLESPOON, 15.0);
}

static void read_teaspoon(struct st_reader *r, const struct st_yaml *v, void *into)
{
    share(r, v, into, ST_TOOL_TEASPOON, 5.0);
}

static const struct st_field FIELD[] = {
    { "schema_version", NULL, 0 },    { "title", read_title, 0 },
    { "note", read_title, 0 },        { "measures", read_measures, 0 },
    { "cups", read_cups, 0 },         { "spoons", read_spoons, 0 },
    { "jug", read_jug, 0 },           { "scale", read_scale, 0 },
    { "jigger", read_jigger, 0 },     { "bottles", read_bottles, 0 },
    { "pieces", read_pieces, 0 },     { "drops", read_drops, 0 },
    { "cup", read_cup, 0 },           { "tablespoon", read_tablespoon, 0 },
    { "teaspoon", read_teaspoon, 0 }, { NULL, NULL, 0 },
};

static void read_root(struct st_reader *r, const struct st_yaml *root, struct st_kitchen *k)
{
    struct st_range n;
    if (root->kind != ST_YAML_MAP) {
        st_report(&r->report, root->at, "a kitchen file is a list of keys such as `scale: 1 g`",
                  "docs/kitchen-file.md shows one", "this is not a kitchen");
        return;
    }
    const struct st_yaml *version = st_yaml_get(root, "schema_version");
    if (version && st_value_figure(r, version, "", 1, 1e6, false, &n) && n.value != 1.0) {
        st_report(&r->report, version->at, "this program knows version 1",
                  "update the program, or write the kitchen as version 1", "this kitchen file has version %.6g",
                  n.value);
        return;
    }
    if (st_yaml_get(root, "measures")) /* before any size is read */
        read_measures(r, st_yaml_get(root, "measures"), k);
    r->recipe->measures = k->measures;
    if (k->measures == ST_MEASURES_US) {
        struct st_kitchen usual;
        st_kitchen_usual(&usual, ST_MEASURES_US);
        memcpy(k->bottle_ml, usual.bottle_ml, sizeof k->bottle_ml);
        k->n_bottle = usual.n_bottle;
    }
    st_fields_read(r, root, FIELD, "a kitchen", 0, k);
    if (!k->cups && !k->tablespoons && !k->jug && !k->scale && k->n_jigger == 0)
        st_report(&r->report, root->at, "nothing is left to measure with", "leave in a jug, a scale, cups or spoons",
                  "this kitchen has no tools");
}

int st_kitchen_read(const char *file, const char *text, size_t size, struct st_kitchen *kitchen,
                    struct st_recipe_file *out)
{
    struct st_kitchen k = *kitchen;
    memset(out, 0, sizeof *out);
    struct st_arena *arena = x_calloc(1, sizeof *arena);
    struct st_reader r = { .report = { .arena = arena, .out = out }, .recipe = &out->recipe };

    st_arena_init(arena);
    out->memory = arena;
    out->recipe.file = st_arena_strdup(arena, file ? file : "");
    if (st_yaml_guard(&r.report, text, size) == 0) {
        const struct st_yaml *root = st_yaml_tree(&r.report, text, size);
        if (root)
            read_root(&r, root, &k);
    }
    const int result = st_report_finish(&r.report);
    if (result != 0)
        return -1;
    *kitchen = k;
    return 0;
}
