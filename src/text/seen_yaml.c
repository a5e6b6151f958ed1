#include "seen_yaml.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "calendar_day.h"
#include "util/memory.h"
#include "yaml_field.h"
#include "yaml_guard.h"
#include "yaml_tree.h"

static const double DAY_S = 86400.0, HOUR_S = 3600.0, NORMAL_975 = 1.959963984540054;

/* Of a liquid that somebody reads an instrument in. */
static const double COLDEST_K = 253.0, HOTTEST_K = 373.2;

static const double FLASK_LEAST_ML = 1.0, FLASK_MOST_ML = 1e5;

/* What the readers fill: the file, and the entry being read. */
struct seen_reader {
    struct st_seen_file *out;
    const char *jar, *batch;
    long begun; /* day number */
    bool has_begun;
    struct st_observation entry; /* what holds for each reading of one entry */
    bool has_time;
    double read[ST_NSEEN], sd[ST_NSEEN];
    struct st_place at[ST_NSEEN], flask_at;
    bool has[ST_NSEEN];
};

/* ---- one reading ---- */

static void keep(struct st_reader *r, const struct st_yaml *v, struct seen_reader *s, enum st_seen what, double value,
                 double half)
{
    const struct st_seen_info *i = st_seen_info(what);
    if (!(value >= i->low && value <= i->high)) {
        st_report(&r->report, v->at,
                  what == ST_SEEN_MARK ? "a mark goes from 0, nothing of it, to 10, as strong as can be"
                                       : st_arena_printf(r->report.arena, "%s lies between %.6g and %.6g%s%s", i->name,
                                                         i->low, i->high, *i->unit ? " " : "", i->unit),
                  what == ST_SEEN_MARK ? "put it on that scale: 14 of 20 is `mark: 7`"
                                       : "look at the figure, its decimal point and its unit",
                  "`%s` cannot be `%s`", st_value_name(v), st_report_clip(&r->report, v->text, v->size));
        return;
    }
    s->has[what] = true;
    s->read[what] = value;
    s->sd[what] = half / NORMAL_975;
    s->at[what] = v->at;
}

/* A minus in front of a figure, told as that: the reader of figures knows none. */
static bool is_below_zero(const struct st_yaml *v)
{
    size_t n = 0;
    if (v->kind != ST_YAML_TEXT || v->size == 0)
        return false;
    if (v->text[0] == '-')
        n = 1;
    else if (v->size >= 3 && memcmp(v->text, "\xe2\x88\x92", 3) == 0)
        n = 3;
    while (n > 0 && n < v->size && v->text[n] == ' ')
        n++;
    return n > 0 && n < v->size && v->text[n] >= '0' && v->text[n] <= '9';
}

static void refuse_below_zero(struct st_reader *r, const struct st_yaml *v, const char *why, const char *try_)
{
    st_report(&r->report, v->at, why, try_, "`%s` cannot be `%s`", st_value_name(v),
              st_report_clip(&r->report, v->text, v->size));
}

static void figure(struct st_reader *r, const struct st_yaml *v, struct seen_reader *s, enum st_seen what,
                   const char *units, double most)
{
    struct st_range x;
    if (is_below_zero(v))
        refuse_below_zero(r, v, st_arena_printf(r->report.arena, "%s is never below 0", st_seen_info(what)->name),
                          "look at the sign: a blank or a dash may have come into the figure");
    else if (st_value_figure(r, v, units, 1.0, most, false, &x))
        keep(r, v, s, what, x.value, 0.5 * (x.high - x.low));
}

static void amount(struct st_reader *r, const struct st_yaml *v, struct seen_reader *s, enum st_seen what,
                   enum st_dimension dim)
{
    struct st_amount a;
    if (st_value_amount(r, v, dim, false, &a))
        keep(r, v, s, what, a.value, 0.5 * (a.high - a.low));
}

static void read_drained(struct st_reader *r, const struct st_yaml *v, void *into)
{
    amount(r, v, into, ST_SEEN_DRAINED_G, ST_DIM_MASS);
}

static void read_liquor(struct st_reader *r, const struct st_yaml *v, void *into)
{
    amount(r, v, into, ST_SEEN_LIQUOR_ML, ST_DIM_VOLUME);
}

static void read_weighed(struct st_reader *r, const struct st_yaml *v, void *into)
{
    amount(r, v, into, ST_SEEN_LIQUOR_G, ST_DIM_MASS);
}

static void read_flask(struct st_reader *r, const struct st_yaml *v, void *into)
{
    amount(r, v, into, ST_SEEN_FLASK_G, ST_DIM_MASS);
}

static void read_sg_boiled(struct st_reader *r, const struct st_yaml *v, void *into)
{
    figure(r, v, into, ST_SEEN_SG_BOILED, "", 10.0);
}

static void read_sg(struct st_reader *r, const struct st_yaml *v, void *into)
{
    figure(r, v, into, ST_SEEN_SG, "", 10.0);
}

static void read_brix(struct st_reader *r, const struct st_yaml *v, void *into)
{
    figure(r, v, into, ST_SEEN_BRIX, "%|°Bx|Bx|brix|", 100.0);
}

static void read_strength(struct st_reader *r, const struct st_yaml *v, void *into)
{
    figure(r, v, into, ST_SEEN_STRENGTH, "%|%vol|% vol|", 1000.0);
}

static void read_sugar(struct st_reader *r, const struct st_yaml *v, void *into)
{
    figure(r, v, into, ST_SEEN_SUGAR, "g/L|g/l|g per litre|g per liter", 1e5);
}

static void read_acid(struct st_reader *r, const struct st_yaml *v, void *into)
{
    figure(r, v, into, ST_SEEN_ACID, "g/L|g/l|g per litre|g per liter", 1e5);
}

static void read_ph(struct st_reader *r, const struct st_yaml *v, void *into)
{
    figure(r, v, into, ST_SEEN_PH, "", 100.0);
}

static void read_colour(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_range x;
    if (is_below_zero(v)) {
        refuse_below_zero(r, v, "a depth of colour grows from 0 with the colour", "look at the sign");
        return;
    }
    if (!st_value_figure(r, v, "", 1.0, 1e9, false, &x))
        return;
    if (x.value > 0.0)
        keep(r, v, into, ST_SEEN_COLOUR, x.value, 0.5 * (x.high - x.low));
    else
        st_report(&r->report, v->at, "only the ratio of two depths of colour says something",
                  "leave the entry out, or give a small figure", "a depth of colour of 0 cannot be used");
}

static void read_mark(struct st_reader *r, const struct st_yaml *v, void *into)
{
    figure(r, v, into, ST_SEEN_MARK, "", 1000.0);
}

static void read_taste(struct st_reader *r, const struct st_yaml *v, void *into)
{
    static const struct {
        const char *word;
        double value;
    } WORD[] = {
        { "too weak", -1.0 },  { "weak", -1.0 },      { "right", 0.0 },
        { "just right", 0.0 }, { "too strong", 1.0 }, { "strong", 1.0 },
    };
    const char *text;
    if (!st_value_text(r, v, 40, &text))
        return;
    for (size_t i = 0; i < sizeof WORD / sizeof *WORD; i++)
        if (strcmp(text, WORD[i].word) == 0) {
            keep(r, v, into, ST_SEEN_TASTE, WORD[i].value, 0.0);
            return;
        }
    st_report(&r->report, v->at, "three answers are understood", "write `too weak`, `right` or `too strong`",
              "cannot read `%s` for `taste`", st_report_clip(&r->report, text, v->size));
}

/* ---- what holds for the entry ---- */

static void set_time(struct st_reader *r, const struct st_yaml *v, struct seen_reader *s, double t_s)
{
    if (s->has_time)
        st_report(&r->report, v->at, "one entry is one moment", "leave one of `day`, `hour`, `on`",
                  "the time of this entry is told twice");
    s->entry.t_s = t_s;
    s->has_time = true;
}

static void time_of(struct st_reader *r, const struct st_yaml *v, struct seen_reader *s, double unit_s, double most)
{
    struct st_range x;
    if (is_below_zero(v))
        refuse_below_zero(r, v, "the jar was begun on day 0, and nothing of it was seen before",
                          "count from the day it was begun, `day: 2`, or write `on: 2026-10-04` here and `begun:` at "
                          "the top");
    else if (st_value_figure(r, v, "", 1.0, most, false, &x))
        set_time(r, v, s, x.value * unit_s);
}

static void read_day(struct st_reader *r, const struct st_yaml *v, void *into)
{
    time_of(r, v, into, DAY_S, 36500.0);
}

static void read_hour(struct st_reader *r, const struct st_yaml *v, void *into)
{
    time_of(r, v, into, HOUR_S, 876000.0);
}

static bool date_of(struct st_reader *r, const struct st_yaml *v, long *day)
{
    const char *text;
    if (!st_value_text(r, v, 20, &text))
        return false;
    if (st_day_number(text, day))
        return true;
    st_report(&r->report, v->at, "a date is year-month-day", "write for example 2026-10-04",
              "cannot read the date `%s`", st_report_clip(&r->report, text, v->size));
    return false;
}

static void read_on(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct seen_reader *s = into;
    long day;
    if (!date_of(r, v, &day))
        return;
    if (!s->has_begun)
        st_report(&r->report, v->at, "nobody said when the jar was begun",
                  "write `begun: 2026-10-01` at the top of the file, or `day: 3` here", "this date cannot be counted");
    else if (day < s->begun)
        st_report(&r->report, v->at, "the jar was begun later than that", "look at both dates",
                  "this date lies before `begun`");
    else
        set_time(r, v, s, (double)(day - s->begun) * DAY_S);
}

static void read_at(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_amount a;
    if (!st_value_amount(r, v, ST_DIM_TEMPERATURE, false, &a))
        return;
    if (a.value >= COLDEST_K && a.value <= HOTTEST_K)
        ((struct seen_reader *)into)->entry.temperature_K = a.value;
    else
        st_report(&r->report, v->at,
                  "what is read stands between -20 and 100 \xc2\xb0"
                  "C",
                  "write for example `at: 18 \xc2\xb0"
                  "C`, or 64 \xc2\xb0"
                  "F",
                  "`at` cannot be %.4g \xc2\xb0"
                  "C",
                  a.value - 273.15);
}

/* How much the flask holds. */
static void read_flask_holds(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct seen_reader *s = into;
    struct st_amount a;
    if (!st_value_amount(r, v, ST_DIM_VOLUME, false, &a))
        return;
    s->entry.flask_ml = a.value;
    s->flask_at = v->at;
    if (!(a.value >= FLASK_LEAST_ML && a.value <= FLASK_MOST_ML))
        st_report(&r->report, v->at, "a flask for this holds between 1 mL and 100 L",
                  "write what stands on it, or how many grams of water fill it at 20 \xc2\xb0"
                  "C, as mL",
                  "`flask_holds` cannot be %.4g mL", a.value);
}

static void read_of(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)st_value_text(r, v, ST_NAME_LIMIT, &((struct seen_reader *)into)->entry.of);
}

static void read_by(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)st_value_text(r, v, ST_SEEN_WORD, &((struct seen_reader *)into)->entry.by);
}

static void read_words(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)st_value_text(r, v, ST_TEXT_BYTES, &((struct seen_reader *)into)->entry.words);
}

static void read_strained(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)st_value_yes_no(r, v, &((struct seen_reader *)into)->entry.after_straining);
}

static const struct st_field ENTRY[] = {
    { "day", read_day, 0 },
    { "hour", read_hour, 0 },
    { "on", read_on, 0 },
    { "drained", read_drained, 0 },
    { "strained_off", read_liquor, 0 },
    { "weighed", read_weighed, 0 },
    { "sg", read_sg, 0 },
    { "sg_boiled", read_sg_boiled, 0 },
    { "flask", read_flask, 0 },
    { "flask_holds", read_flask_holds, 0 },
    { "brix", read_brix, 0 },
    { "strength", read_strength, 0 },
    { "sugar", read_sugar, 0 },
    { "acid", read_acid, 0 },
    { "ph", read_ph, 0 },
    { "colour", read_colour, 0 },
    { "taste", read_taste, 0 },
    { "mark", read_mark, 0 },
    { "of", read_of, 0 },
    { "by", read_by, 0 },
    { "at", read_at, 0 },
    { "strained", read_strained, 0 },
    { "words", read_words, 0 },
    { NULL, NULL, 0 },
};

/* ---- entries and file ---- */

static bool add(struct st_reader *r, const struct st_yaml *v, struct seen_reader *s, enum st_seen what)
{
    struct st_seen_file *f = s->out;
    if (f->n == ST_SEEN_MOST) {
        st_report(&r->report, v->at, st_arena_printf(r->report.arena, "%d are the most", ST_SEEN_MOST),
                  "begin another file", "too many readings");
        return false;
    }
    struct st_observation *o = &f->seen[f->n++];
    *o = s->entry;
    o->what = what;
    o->value = s->read[what];
    o->sd = s->sd[what];
    o->at = s->at[what];
    if (what == ST_SEEN_DRAINED_G || what == ST_SEEN_LIQUOR_ML || what == ST_SEEN_LIQUOR_G)
        o->after_straining = true;
    if (what != ST_SEEN_FLASK_G)
        o->flask_ml = 0.0;
    return true;
}

/* A weighed flask and what it holds belong together, and the one must fit into the other. */
static void judge_flask(struct st_reader *r, const struct st_yaml *v, struct seen_reader *s)
{
    const double ml = s->entry.flask_ml, g = s->read[ST_SEEN_FLASK_G];
    const struct st_seen_info *density = st_seen_info(ST_SEEN_SG);
    if (s->has[ST_SEEN_FLASK_G] && !(ml > 0.0))
        st_report(&r->report, s->at[ST_SEEN_FLASK_G], "grams say nothing of a liquid whose volume is not known",
                  "add for example `flask_holds: 100 mL`", "nobody knows how much this flask holds");
    else if (!s->has[ST_SEEN_FLASK_G] && ml > 0.0)
        st_report(&r->report, v->at, "nothing was weighed in it", "add for example `flask: 98.7 g`",
                  "`flask_holds` stands alone");
    else if (ml > 0.0 && !(g >= density->low * ml && g <= density->high * ml))
        st_report(&r->report, s->flask_at, "no drink is so light or so heavy",
                  "take the empty flask off the weight, and look at how much it holds",
                  "%.4g g cannot fill a flask of %.4g mL", g, ml);
}

static void read_entry(struct st_reader *r, const struct st_yaml *v, struct seen_reader *s)
{
    const int before = r->report.out->n_problem;
    memset(s->has, 0, sizeof s->has);
    s->has_time = false;
    s->entry = (struct st_observation){
        .temperature_K = (double)NAN, .of = "", .by = "", .jar = s->jar, .batch = s->batch, .words = ""
    };
    st_fields_read(r, v, ENTRY, "a reading", 0, s);
    if (r->report.out->n_problem == before)
        judge_flask(r, v, s);
    if (r->report.out->n_problem > before)
        return;
    int n = 0;
    for (int k = 0; k < ST_NSEEN; k++)
        n += s->has[k];
    if (n == 0)
        st_report(&r->report, v->at, "nothing was read, weighed or tasted",
                  "add for example `colour: 0.4`, `drained: 540 g`, `taste: too weak`", "this entry says nothing");
    else if (!s->has_time)
        st_report(&r->report, v->at, "without its time a reading cannot be used",
                  "add `day: 3` (the jar was begun on day 0) or `hour: 12`", "this entry has no day");
    for (int k = 0; n && s->has_time && k < ST_NSEEN; k++)
        if (s->has[k] && !add(r, v, s, (enum st_seen)k))
            return;
}

static void read_seen(struct st_reader *r, const struct st_yaml *v, void *into)
{
    if (v->kind == ST_YAML_TEXT) {
        st_report(&r->report, v->at, "readings are a list", "write `- {day: 3, colour: 0.4}` on a line of its own",
                  "`seen` holds no readings");
        return;
    }
    for (const struct st_yaml *one = st_value_first(v); one && !r->report.full; one = st_value_next(v, one))
        read_entry(r, one, into);
}

static void read_text(struct st_reader *r, const struct st_yaml *v, void *into)
{
    const char *text;
    (void)into;
    (void)st_value_text(r, v, ST_TEXT_BYTES, &text);
}

static const struct st_field FILE_FIELD[] = {
    { "schema_version", NULL, 0 }, { "title", read_text, 0 }, { "note", read_text, 0 }, { "jar", NULL, 0 },
    { "batch", NULL, 0 },          { "begun", NULL, 0 },      { "seen", read_seen, 0 }, { NULL, NULL, 0 },
};

static void read_root(struct st_reader *r, const struct st_yaml *root, struct seen_reader *s)
{
    struct st_range n;
    if (root->kind != ST_YAML_MAP) {
        st_report(&r->report, root->at, "a file of readings is keys such as `seen:` with a list",
                  "docs/seen-file.md shows one", "these are no readings");
        return;
    }
    const struct st_yaml *version = st_yaml_get(root, "schema_version");
    if (version && st_value_figure(r, version, "", 1, 1e6, false, &n) && n.value != 1.0) {
        st_report(&r->report, version->at, "this program knows version 1",
                  "update the program, or write the readings as version 1", "this file has version %.6g", n.value);
        return;
    }
    const struct st_yaml *jar = st_yaml_get(root, "jar"), *batch = st_yaml_get(root, "batch"),
                         *begun = st_yaml_get(root, "begun");
    if (jar)
        (void)st_value_text(r, jar, ST_NAME_LIMIT, &s->jar);
    if (batch)
        (void)st_value_text(r, batch, ST_NAME_LIMIT, &s->batch);
    if (begun)
        s->has_begun = date_of(r, begun, &s->begun);
    st_fields_read(r, root, FILE_FIELD, "a file of readings", 0, s);
    if (!st_yaml_get(root, "seen"))
        st_report(&r->report, root->at, "there is no key `seen`", "add `seen:` and a list under it",
                  "this file holds no readings");
}

int st_seen_read(const char *name, const char *text, size_t size, struct st_seen_file *out)
{
    memset(out, 0, sizeof *out);
    struct st_recipe_file *file = &out->file;
    struct st_arena *arena = x_calloc(1, sizeof *arena);
    struct st_reader r = {
        .report = { .arena = arena, .out = file, .guide = "docs/seen-file.md", .begin = "`seen:` and a list under it" },
        .recipe = &file->recipe
    };
    struct seen_reader s = { .out = out, .jar = "", .batch = "" };

    st_arena_init(arena);
    file->memory = arena;
    file->recipe.file = st_arena_strdup(arena, name ? name : "");
    out->seen = st_arena_alloc(arena, ST_SEEN_MOST * sizeof *out->seen);
    if (st_yaml_guard(&r.report, text, size) == 0) {
        const struct st_yaml *root = st_yaml_tree(&r.report, text, size);
        if (root)
            read_root(&r, root, &s);
    }
    return st_report_finish(&r.report) == 0 ? 0 : -1;
}

void st_seen_done(struct st_seen_file *f)
{
    st_recipe_done(&f->file);
}
