#include "yaml_step.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "near.h"
#include "warm_path.h"
#include "yaml_line.h"
#include "yaml_take.h"

/* ---- names and kinds ---- */

static int kind_named(const char *word)
{
    for (int d = 0; d < ST_NDO; d++)
        if (strcmp(st_do_name((enum st_do)d), word) == 0)
            return d;
    return -1;
}

/* What others call it, else the kind that is spelled most like it; NULL when nothing is near. */
static const char *near_kind(const char *word)
{
    static const struct {
        const char *word;
        enum st_do kind;
    } OTHERWISE[] = {
        { "macerate", ST_DO_STEEP }, { "infuse", ST_DO_STEEP },  { "soak", ST_DO_STEEP },    { "jar", ST_DO_STEEP },
        { "boil", ST_DO_SYRUP },     { "simmer", ST_DO_SYRUP },  { "cook", ST_DO_SYRUP },    { "heat", ST_DO_SYRUP },
        { "mix", ST_DO_BLEND },      { "combine", ST_DO_BLEND }, { "stir", ST_DO_BLEND },    { "dilute", ST_DO_BLEND },
        { "sweeten", ST_DO_BLEND },  { "age", ST_DO_REST },      { "mature", ST_DO_REST },   { "wait", ST_DO_REST },
        { "decant", ST_DO_RACK },    { "clarify", ST_DO_FINE },  { "strain", ST_DO_FILTER }, { "roast", ST_DO_TOAST },
        { "fill", ST_DO_BOTTLE },
    };
    const char *known[ST_NDO];
    for (size_t i = 0; i < sizeof OTHERWISE / sizeof OTHERWISE[0]; i++)
        if (strcmp(OTHERWISE[i].word, word) == 0)
            return st_do_name(OTHERWISE[i].kind);
    for (int d = 0; d < ST_NDO; d++)
        known[d] = st_do_name((enum st_do)d);
    return st_near_key(word, known, ST_NDO);
}

static const char KINDS[] =
    "one key of a step is its kind: toast, steep, syrup, blend, rest, rack, fine, filter or bottle";

/* The entry whose key is the kind of a step; NULL, and told, when there is none or there are two. */
static const struct st_yaml *kind_entry(struct st_reader *r, const struct st_yaml *step)
{
    const struct st_yaml *found = NULL;
    const char *near = NULL, *meant = NULL;

    for (const struct st_yaml *v = step->child; v; v = v->next) {
        if (kind_named(v->key->text) >= 0) {
            if (found) {
                st_report(&r->report, v->key->at, "a step does one thing", "begin a new step with `-` in front of it",
                          "a second kind, `%s`, in the step that begins with `%s`", v->key->text, found->key->text);
                return NULL;
            }
            found = v;
        } else if (!near && (near = near_kind(v->key->text)) != NULL)
            meant = v->key->text;
    }
    if (!found && near)
        st_report(&r->report, step->at, KINDS, st_arena_printf(r->report.arena, "did you mean `%s`?", near),
                  "`%s` is no kind of step", st_report_clip(&r->report, meant, strlen(meant)));
    else if (!found)
        st_report(&r->report, step->at, KINDS, "write for example `steep: jar`", "this step does not say what is done");
    return found;
}

/* Names stay readable inside lines: no brackets, commas, colons. */
static bool is_good_name(const char *name)
{
    return strlen(name) <= 60 && !strpbrk(name, "[]{},:;#|<>&\"'`\n\t\\") && !strstr(name, " of ") &&
           !strstr(name, " from ") && *name != ' ';
}

static const char *read_name(struct st_reader *r, const struct st_yaml *v)
{
    if (v->kind != ST_YAML_TEXT) {
        st_report(&r->report, v->at, "the name of the step belongs here, `steep: jar`",
                  "write the name, and the other keys under it, in line with this one", "`%s` takes a name",
                  v->key->text);
        return "";
    }
    if (v->empty)
        return "";
    if (is_good_name(v->text))
        return v->text;
    st_report(&r->report, v->at, "names are up to 60 letters, figures, blanks, - and _, without \" of \" or \" from \"",
              "choose a short name, such as jar", "`%s` cannot be the name of a step",
              st_report_clip(&r->report, v->text, v->size));
    return "";
}

static void read_kind(struct st_reader *r, const struct st_yaml *v, struct st_step *s)
{
    const struct st_yaml *entry = NULL;

    s->at = v->at;
    s->id = s->words = "";
    s->kind = ST_NDO; /* not known: nothing more is asked of it */
    if (v->kind == ST_YAML_TEXT && !v->empty && kind_named(v->text) >= 0)
        s->kind = (enum st_do)kind_named(v->text);
    else if (v->kind == ST_YAML_MAP && (entry = kind_entry(r, v)) != NULL) {
        s->kind = (enum st_do)kind_named(entry->key->text);
        s->id = read_name(r, entry);
    } else if (v->kind != ST_YAML_MAP) {
        const char *near = v->kind == ST_YAML_TEXT && !v->empty ? near_kind(v->text) : NULL;
        st_report(&r->report, v->at, KINDS,
                  near ? st_arena_printf(r->report.arena, "did you mean `- %s`?", near)
                       : "write for example `- steep: jar`, and its other keys under it",
                  "this is not a step%s%s%s", near ? ": `" : "", near ? v->text : "", near ? "`" : "");
    }
}

static void refuse_same_names(struct st_reader *r)
{
    struct st_recipe *recipe = r->recipe;
    for (int i = 0; i < recipe->n_step; i++) {
        const struct st_step *s = &recipe->step[i];
        const int first = *s->id ? st_step_named(recipe, s->id, strlen(s->id)) : i;
        if (first >= 0 && first < i)
            st_report(
                &r->report, s->at,
                st_arena_printf(r->report.arena, "the step in line %d has this name", recipe->step[first].at.line),
                "give each step a name of its own", "a second step is called `%s`", s->id);
    }
}

/* A step without a name goes by its kind: "filter", "filter 2". */
static void name_the_nameless(struct st_reader *r)
{
    struct st_recipe *recipe = r->recipe;
    for (int i = 0; i < recipe->n_step; i++) {
        struct st_step *s = &recipe->step[i];
        if (*s->id)
            continue;
        const char *name = st_do_name(s->kind);
        for (int k = 2; st_step_named(recipe, name, strlen(name)) >= 0; k++)
            name = st_arena_printf(r->report.arena, "%s %d", st_do_name(s->kind), k);
        s->id = name;
    }
}

/* ---- lines ---- */

struct reading {
    struct st_step *step;
    int index, room; /* room: lines that fit */
};

static void add_entry(struct st_reader *r, const struct st_yaml *v, struct reading *in, bool from)
{
    struct st_step *s = in->step;
    assert(s->n_line < in->room);
    if (r->n_line++ >= ST_LINES) {
        if (r->n_line == ST_LINES + 1)
            st_report(&r->report, v->at, "1000 lines are the most", "split the recipe", "there are too many lines");
        return;
    }
    if (from ? st_yaml_from_read(r, v, in->index, &s->line[s->n_line])
             : st_yaml_line_read(r, v, in->index, &s->line[s->n_line]))
        s->n_line++;
}

static void read_add(struct st_reader *r, const struct st_yaml *v, void *into)
{
    for (const struct st_yaml *e = st_value_first(v); e && !r->report.full; e = st_value_next(v, e))
        add_entry(r, e, into, false);
}

static void read_from(struct st_reader *r, const struct st_yaml *v, void *into)
{
    for (const struct st_yaml *e = st_value_first(v); e && !r->report.full; e = st_value_next(v, e))
        add_entry(r, e, into, true);
}

static int entries(const struct st_yaml *v)
{
    return !v ? 0 : v->kind == ST_YAML_LIST ? v->n : 1;
}

/* ---- the other keys ---- */

static struct st_step *step_of(void *into)
{
    return ((struct reading *)into)->step;
}

static void read_for(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_amount a;
    if (!st_value_amount(r, v, ST_DIM_TIME, false, &a))
        return;
    if (a.value > 0 || a.high > 0)
        step_of(into)->time = a;
    else
        st_report(&r->report, v->at, "no time at all is no step", "write for example 2 weeks, or leave `for` out",
                  "cannot use `%s` for `for`", st_report_clip(&r->report, v->text, v->size));
}

/* "30 °C for 3 days, then 12 °C", "in the fridge" */
static void read_path(struct st_reader *r, const struct st_yaml *v, struct st_step *s)
{
    struct st_warm_part part[ST_WARM_PARTS];
    struct st_problem p = { .what = "" };
    const int n = st_warm_path_read(v->text, v->size, part, &p);
    if (n < 0) {
        p.at = st_yaml_place(v, p.at.column > 0 ? (size_t)p.at.column - 1 : 0);
        st_report_add(&r->report, &p);
        return;
    }
    if (n > 1 && s->kind != ST_DO_STEEP) {
        st_report(&r->report, v->at, "only a steep is followed from one warmth to the next", "write one temperature",
                  "cannot use `%s` for `at` of a %s", st_report_clip(&r->report, v->text, v->size),
                  st_do_name(s->kind));
        return;
    }
    double low = part[0].T_K, high = low;
    for (int i = 1; i < n; i++) {
        low = fmin(low, part[i].T_K);
        high = fmax(high, part[i].T_K);
    }
    s->temperature_K = (struct st_range){ high, low, high, true, 'u', "as told" };
    s->n_warm = n > 1 ? n : 0;
    memcpy(s->warm, part, (size_t)n * sizeof *part);
}

static void read_at(struct st_reader *r, const struct st_yaml *v, void *into)
{
    if (v->kind == ST_YAML_TEXT && st_is_warm_path(v->text, v->size)) {
        read_path(r, v, step_of(into));
        return;
    }
    (void)st_value_range(r, v, ST_DIM_TEMPERATURE, &step_of(into)->temperature_K);
}

static void read_words(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)st_value_text(r, v, ST_TEXT_BYTES, &step_of(into)->words);
}

static void read_volume(struct st_reader *r, const struct st_yaml *v, double *ml)
{
    struct st_amount a;
    if (!st_value_amount(r, v, ST_DIM_VOLUME, true, &a))
        return;
    if (a.value > 0 && a.value <= 1e7)
        *ml = a.value;
    else
        st_report(&r->report, v->at, "it is not between nothing and 10000 L", "write for example 500 mL",
                  "cannot use `%s` for `%s`", st_report_clip(&r->report, v->text, v->size),
                  v->key ? v->key->text : "this");
}

static void read_vessel(struct st_reader *r, const struct st_yaml *v, void *into)
{
    read_volume(r, v, &step_of(into)->vessel_ml);
}

static void read_size(struct st_reader *r, const struct st_yaml *v, void *into)
{
    read_volume(r, v, &step_of(into)->bottle_ml);
}

static void read_bottles(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_range n;
    if (!st_value_figure(r, v, "bottles|bottle|", 1, 10000, false, &n))
        return;
    if (n.value >= 1 && n.low == n.high && floor(n.value) == n.value)
        step_of(into)->bottles = (int)n.value;
    else
        st_report(&r->report, v->at, "bottles are counted, from 1 up",
                  "write a whole number, or leave it out for as many as it gives", "cannot use `%s` for `bottles`",
                  st_report_clip(&r->report, v->text, v->size));
}

static void read_press(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_step *s = step_of(into);
    if (!st_value_is_percent(v))
        (void)st_value_yes_no(r, v, &s->press);
    else if (st_value_share(r, v, false, &s->press_share))
        s->press = true;
}

/* The maker's own weighing is no better than the scale: one digit either way. */
static void read_drained(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_range *g = &step_of(into)->drained_solids_g;
    const double own = r->recipe->tools.scale_digit_g, digit = own > 0 ? own : 1;
    if (!st_value_range(r, v, ST_DIM_MASS, g) || g->low < g->high)
        return;
    g->low = g->value > digit ? g->value - digit : 0;
    g->high = g->value + digit;
}

static void read_exchanged(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)st_value_share(r, v, false, &step_of(into)->exchanged);
}

static void read_boil_off(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)st_value_range(r, v, ST_DIM_MASS, &step_of(into)->boil_off_g);
}

static void read_boil_down(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)st_value_amount(r, v, ST_DIM_VOLUME, false, &step_of(into)->boil_down_to);
}

static void read_loss(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)st_value_share(r, v, false, &step_of(into)->loss_share);
}

static void read_loss_ml(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_range *ml = &step_of(into)->loss_ml;
    struct st_span s;
    if (v->kind == ST_YAML_TEXT && st_span_read(v->text, v->size, &s) && s.unit_size == 0)
        (void)st_value_figure(r, v, "mL|ml|", 1, 1e7, false, ml);
    else
        (void)st_value_range(r, v, ST_DIM_VOLUME, ml);
}

#define BIT(kind) (1u << ST_DO_##kind)

/* `loss` where the model reckons with a share; see plan_steps.c. */
#define STRAINS       (BIT(STEEP) | BIT(SYRUP) | BIT(FILTER))
#define LOSES         (BIT(TOAST) | BIT(STEEP) | BIT(REST) | BIT(RACK) | BIT(FINE) | BIT(FILTER) | BIT(BOTTLE))
#define ANY_BUT_TOAST ((1u << ST_NDO) - 1 - BIT(TOAST))

static const struct st_field STEP[] = {
    { "toast", NULL, 0 },
    { "steep", NULL, 0 },
    { "syrup", NULL, 0 },
    { "blend", NULL, 0 },
    { "rest", NULL, 0 },
    { "rack", NULL, 0 },
    { "fine", NULL, 0 },
    { "filter", NULL, 0 },
    { "bottle", NULL, 0 },
    { "add", read_add, 0 },
    { "from", read_from, 0 },
    { "for", read_for, 0 },
    { "at", read_at, 0 },
    { "words", read_words, 0 },
    { "vessel", read_vessel, 0 },
    { "press", read_press, STRAINS },
    { "drained", read_drained, STRAINS },
    { "exchanged", read_exchanged, BIT(STEEP) | BIT(SYRUP) },
    { "boil_off", read_boil_off, BIT(SYRUP) },
    { "boil_down_to", read_boil_down, BIT(SYRUP) },
    { "loss", read_loss, LOSES },
    { "loss_ml", read_loss_ml, ANY_BUT_TOAST },
    { "size", read_size, BIT(BOTTLE) },
    { "bottles", read_bottles, BIT(BOTTLE) },
    { NULL, NULL, 0 },
};

/* ---- one step ---- */

static bool is_treatment(enum st_do kind)
{
    return kind == ST_DO_REST || kind == ST_DO_RACK || kind == ST_DO_FINE || kind == ST_DO_FILTER ||
           kind == ST_DO_BOTTLE;
}

static bool takes(const struct st_step *s)
{
    for (int i = 0; i < s->n_line; i++)
        if (!s->line[i].what)
            return true;
    return false;
}

/* A treatment that names no source goes on with the step before it. */
static void go_on_from_before(struct st_reader *r, struct st_step *s, int index)
{
    if (index == 0) {
        st_report(&r->report, s->at, "no step comes before it", "put the step that makes the liquor before it",
                  "nothing to %s", st_do_name(s->kind));
        return;
    }
    memmove(s->line + 1, s->line, (size_t)s->n_line * sizeof *s->line);
    st_take_all_of(s->line, index - 1);
    s->line->at = s->at;
    s->line->text = st_arena_printf(r->report.arena, "all of %s", r->recipe->step[index - 1].id);
    s->line->said = "";
    s->line->price = (double)NAN;
    s->n_line++;
}

static void check_boil(struct st_reader *r, const struct st_step *s)
{
    if (s->boil_off_g.known && s->boil_down_to.dim == ST_DIM_VOLUME)
        st_report(&r->report, s->at, "each tells how much water goes", "keep one of them",
                  "both `boil_off` and `boil_down_to` in `%s`", s->id);
}

/* What would never come to pass is a slip of the pen. */
static void check_path(struct st_reader *r, const struct st_step *s, const struct st_yaml *at)
{
    double before = 0.0;
    for (int i = 0; i + 1 < s->n_warm; i++)
        before += s->warm[i].time_s;
    if (at && s->n_warm > 1 && s->time.dim == ST_DIM_TIME && before >= fmax(s->time.value, s->time.high))
        st_report(&r->report, at->at, "the step is over before its last warmth begins",
                  "give the step more time with `for`, or leave the last warmth out",
                  "`at` of `%s` goes on longer than its `for`", s->id);
}

static void read_step(struct st_reader *r, const struct st_yaml *v, int index)
{
    struct st_step *s = &r->recipe->step[index];
    const struct st_yaml *add = st_yaml_get(v, "add"), *from = st_yaml_get(v, "from");
    struct reading in = { s, index, entries(add) + entries(from) };
    const int before = r->report.out->n_problem;

    s->line = st_arena_alloc(r->report.arena, (size_t)(in.room + 1) * sizeof *s->line);
    s->time.dim = s->boil_down_to.dim = ST_DIM_OPEN;
    s->time.open = s->boil_down_to.open = ST_OPEN_SOME;
    if (s->kind == ST_NDO)
        return;
    if (v->kind == ST_YAML_MAP)
        st_fields_read(r, v, STEP, "a step", 1u << s->kind, &in);
    check_boil(r, s);
    check_path(r, s, st_yaml_get(v, "at"));
    if (is_treatment(s->kind) && !takes(s) && !from)
        go_on_from_before(r, s, index);
    if (s->n_line == 0 && r->report.out->n_problem == before)
        st_report(&r->report, s->at, "it has no ingredient and takes from no step",
                  "list what goes in: `add: [200 g sugar, 150 mL water]`", "nothing goes into the step `%s`", s->id);
}

/* ---- the whole list ---- */

static void check_use(struct st_reader *r)
{
    const struct st_recipe *recipe = r->recipe;
    const int last = recipe->n_step - 1;

    if (last > 0 && !takes(&recipe->step[last])) {
        st_report(&r->report, recipe->step[last].at,
                  "the last step is the drink, and nothing of the steps before comes into it",
                  "take from them: `add: [all of ...]`", "the steps before `%s` lead nowhere", recipe->step[last].id);
        return;
    }
    for (int i = 0; i < last; i++) {
        bool used = false;
        for (int k = i + 1; k <= last && !used; k++)
            for (int n = 0; n < recipe->step[k].n_line; n++)
                used = used || (!recipe->step[k].line[n].what && recipe->step[k].line[n].from_step == i);
        if (!used)
            st_report_note(&r->report, recipe->step[i].at, "what it gives is left out of the drink",
                           "take from it in a later step, or leave the step out", "nothing takes from the step `%s`",
                           recipe->step[i].id);
    }
}

void st_yaml_steps_read(struct st_reader *r, const struct st_yaml *list)
{
    struct st_recipe *recipe = r->recipe;
    const int before = r->report.out->n_problem;

    if (list->kind != ST_YAML_LIST || !list->n) {
        st_report(&r->report, list->at, "a recipe needs at least one step",
                  "begin each step with `- `, such as `- steep: jar`", "`steps` is not a list of steps");
        return;
    }
    if (list->n > ST_STEPS) {
        st_report(&r->report, list->at, "200 steps are the most", "split the recipe", "there are too many steps");
        return;
    }
    recipe->step = st_arena_alloc(r->report.arena, (size_t)list->n * sizeof *recipe->step);
    recipe->n_step = list->n;
    for (int i = 0; i < list->n; i++)
        recipe->step[i].id = "";
    int i = 0;
    for (const struct st_yaml *v = list->child; v; v = v->next)
        read_kind(r, v, &recipe->step[i++]);
    refuse_same_names(r);
    name_the_nameless(r);
    i = 0;
    for (const struct st_yaml *v = list->child; v && !r->report.full; v = v->next)
        read_step(r, v, i++);
    if (r->report.out->n_problem == before)
        check_use(r);
}
