#include "yaml_tools.h"

#include <string.h>

#include "near.h"

static const struct {
    const char *name;
    enum st_tool tool;
    double size; /* g or mL: at which size the usual tolerance is asked for */
} TOOL[] = {
    { "scale", ST_TOOL_SCALE, 500 },     { "cup", ST_TOOL_CUP, 240 },          { "tablespoon", ST_TOOL_TABLESPOON, 15 },
    { "teaspoon", ST_TOOL_TEASPOON, 5 }, { "jigger", ST_TOOL_JIGGER, 50 },     { "jug", ST_TOOL_JUG, 500 },
    { "bottle", ST_TOOL_BOTTLE, 700 },   { "dropper", ST_TOOL_DROPPER, 1 },    { "hand", ST_TOOL_HAND, 10 },
    { "vessel", ST_TOOL_VESSEL, 1000 },  { "count", ST_TOOL_COUNT_PIECES, 1 },
};
enum { TOOLS = sizeof TOOL / sizeof TOOL[0] };

static int row_named(const char *name)
{
    for (int i = 0; i < TOOLS; i++)
        if (strcmp(TOOL[i].name, name) == 0)
            return i;
    return -1;
}

static void refuse_tool(struct st_reader *r, struct st_place at, const char *name, size_t size)
{
    const char *known[TOOLS], *near;
    for (int i = 0; i < TOOLS; i++)
        known[i] = TOOL[i].name;
    near = st_near_key(name, known, TOOLS);
    st_report(&r->report, at,
              "tools are scale, cup, tablespoon, teaspoon, jigger, jug, bottle, dropper, hand, vessel, count",
              near ? st_arena_printf(r->report.arena, "did you mean `%s`?", near) : "choose the one that is nearest",
              "the tool `%s` is not known", st_report_clip(&r->report, name, size));
}

bool st_yaml_tool_named(struct st_reader *r, const struct st_yaml *v, enum st_tool *out)
{
    const char *text;
    if (!st_value_text(r, v, ST_NAME_LIMIT, &text))
        return false;
    const int row = row_named(text);
    if (row < 0) {
        refuse_tool(r, v->at, v->text, v->size);
        return false;
    }
    *out = TOOL[row].tool;
    return true;
}

/* One figure of one tool: a share is its error, g or mL the step it shows. */
static void read_figure(struct st_reader *r, const struct st_yaml *v, enum st_tool tool, struct st_tolerance *t)
{
    struct st_tools *tools = &r->recipe->tools;
    struct st_range x;
    struct st_amount a;

    if (st_value_is_percent(v)) {
        if (!st_value_figure(r, v, "%|percent|per cent", 0.01, 0.5, false, &x))
            return;
        t->scale = x.high;
        tools->given[tool] = true;
        return;
    }
    if (!st_value_amount(r, v, tool == ST_TOOL_SCALE ? ST_DIM_MASS : ST_DIM_VOLUME, false, &a))
        return;
    if (!(a.value > 0 && a.value <= 1000)) {
        st_report(&r->report, v->at, "a step is between nothing and 1 kg or 1 L",
                  "write the smallest step the tool shows", "cannot use `%s` as the step of a tool",
                  st_report_clip(&r->report, v->text, v->size));
        return;
    }
    t->step = a.value / 2;
    if (tool == ST_TOOL_SCALE)
        tools->scale_digit_g = a.value;
    else
        tools->given[tool] = true;
}

static void read_tool(struct st_reader *r, const struct st_yaml *v, int row)
{
    const enum st_tool tool = TOOL[row].tool;
    struct st_tolerance t = st_tolerance_default(tool, TOOL[row].size);

    t.mark = 'u';
    t.source = "the maker's own";
    for (const struct st_yaml *one = st_value_first(v); one; one = st_value_next(v, one))
        read_figure(r, one, tool, &t);
    r->recipe->tools.of[tool] = t;
}

void st_yaml_tools_read(struct st_reader *r, const struct st_yaml *v, void *unused)
{
    (void)unused;
    if (v->kind != ST_YAML_MAP) {
        st_report(&r->report, v->at, "each tool has a figure of its own", "write for example {scale: 1 g, cup: 2 %}",
                  "`tools` takes keys and values");
        return;
    }
    for (const struct st_yaml *t = v->child; t; t = t->next) {
        const int row = row_named(t->key->text);
        if (row < 0)
            refuse_tool(r, t->key->at, t->key->text, t->key->size);
        else
            read_tool(r, t, row);
    }
}
