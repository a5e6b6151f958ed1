#include "yaml_field.h"

#include <string.h>

#include "near.h"
#include "quantity.h"

const char *st_value_name(const struct st_yaml *v)
{
    while (v && !v->key)
        v = v->parent;
    return v ? v->key->text : "this entry";
}

/* ---- maps ---- */

static const char *kind_of_yaml(const struct st_yaml *v)
{
    return v->kind == ST_YAML_LIST ? "a list" : v->kind == ST_YAML_MAP ? "keys and values" : "a text";
}

static void refuse_key(struct st_reader *r, const struct st_yaml *key, const struct st_field *field, const char *where)
{
    enum { MOST = 48 };
    const char *known[MOST], *near;
    size_t n = 0;

    for (const struct st_field *f = field; f->key && n < MOST; f++)
        known[n++] = f->key;
    near = st_near_key(key->text, known, n);
    const char *clip = st_report_clip(&r->report, key->text, key->size);
    const char *why = st_arena_printf(r->report.arena, "%s has no such key", where);
    const char *try_ =
        near ? st_arena_printf(r->report.arena, "did you mean `%s`?", near)
             : st_arena_printf(r->report.arena, "take it out; %s lists the keys", st_report_guide(&r->report));
    st_report(&r->report, key->at, why, try_, "the key `%s` is not known", clip);
}

/* "bottle", "steep or syrup", "steep or syrup or filter" */
static const char *kinds_named(struct st_reader *r, unsigned kinds)
{
    const char *text = "";
    for (int d = 0; d < ST_NDO; d++)
        if (kinds & 1u << d)
            text = st_arena_printf(r->report.arena, "%s%s%s", text, *text ? " or " : "", st_do_name((enum st_do)d));
    return text;
}

static void refuse_kind(struct st_reader *r, const struct st_yaml *key, const struct st_field *f, unsigned kind)
{
    const char *const own = kinds_named(r, kind);
    st_report(&r->report, key->at, st_arena_printf(r->report.arena, "it belongs to %s", kinds_named(r, f->kinds)),
              "take it out, or move it to a step of that kind", "`%s` means nothing in a step of the kind %s", f->key,
              own);
}

void st_fields_read(struct st_reader *r, const struct st_yaml *map, const struct st_field *field, const char *where,
                    unsigned kind, void *into)
{
    if (map->kind != ST_YAML_MAP) {
        st_report(&r->report, map->at, st_arena_printf(r->report.arena, "here stands %s", kind_of_yaml(map)),
                  "write `key: value`, one a line", "%s takes keys and values", where);
        return;
    }
    for (const struct st_yaml *v = map->child; v && !r->report.full; v = v->next) {
        const struct st_field *f = field;
        while (f->key && strcmp(f->key, v->key->text) != 0)
            f++;
        if (!f->key)
            refuse_key(r, v->key, field, where);
        else if (kind && f->kinds && !(f->kinds & kind))
            refuse_kind(r, v->key, f, kind);
        else if (f->read)
            f->read(r, v, into);
    }
}

/* ---- values ---- */

/* A text that is there; tells otherwise. */
static bool is_text(struct st_reader *r, const struct st_yaml *v, const char *example)
{
    if (v->kind == ST_YAML_TEXT && !v->empty && v->size)
        return true;
    const char *name = st_report_clip(&r->report, st_value_name(v), strlen(st_value_name(v)));
    if (v->kind == ST_YAML_TEXT)
        st_report(&r->report, v->at, "nothing stands behind it", example, "`%s` has no value", name);
    else
        st_report(&r->report, v->at, st_arena_printf(r->report.arena, "here stands %s", kind_of_yaml(v)), example,
                  "`%s` takes one value", name);
    return false;
}

static void refuse_value(struct st_reader *r, const struct st_yaml *v, const char *why, const char *try_)
{
    const char *name = st_report_clip(&r->report, st_value_name(v), strlen(st_value_name(v)));
    st_report(&r->report, v->at, why, try_, "cannot read `%s` for `%s`", st_report_clip(&r->report, v->text, v->size),
              name);
}

bool st_value_text(struct st_reader *r, const struct st_yaml *v, size_t most, const char **out)
{
    if (!is_text(r, v, "write a text, or take the key out"))
        return false;
    if (v->size > most) {
        st_report(&r->report, v->at, st_arena_printf(r->report.arena, "%zu bytes are the most", most), "shorten it",
                  "this text is too long for `%s`", st_value_name(v));
        return false;
    }
    *out = v->text;
    return true;
}

bool st_value_yes_no(struct st_reader *r, const struct st_yaml *v, bool *out)
{
    if (!is_text(r, v, "write yes or no"))
        return false;
    if (!strcmp(v->text, "yes") || !strcmp(v->text, "true"))
        *out = true;
    else if (!strcmp(v->text, "no") || !strcmp(v->text, "false"))
        *out = false;
    else {
        refuse_value(r, v, "it is neither yes nor no", "write yes or no");
        return false;
    }
    return true;
}

struct dimension_words {
    const char *why, *example;
};

static const struct dimension_words WORDS[] = {
    [ST_DIM_MASS] = { "a weight belongs here", "write for example 410 g" },
    [ST_DIM_VOLUME] = { "a volume belongs here", "write for example 500 mL" },
    [ST_DIM_PIECE] = { "a count belongs here", "write for example 2" },
    [ST_DIM_TEMPERATURE] = { "a temperature belongs here", "write for example 20 °C" },
    [ST_DIM_TIME] = { "a time belongs here", "write for example 6 weeks" },
    [ST_DIM_STRENGTH] = { "a strength belongs here", "write for example 40 %" },
    [ST_DIM_OPEN] = { "an amount belongs here", "write for example 200 g" },
};

bool st_value_amount(struct st_reader *r, const struct st_yaml *v, enum st_dimension want, bool words_may_follow,
                     struct st_amount *out)
{
    struct st_problem p = { 0 };
    struct st_amount a;
    size_t used = 0;

    if (!is_text(r, v, WORDS[want].example))
        return false;
    const int result = st_quantity_parse(v->text, v->size, r->recipe->measures, &a, &used, &p);
    if (result > 0) {
        p.at = st_yaml_place(v, p.at.column > 0 ? (size_t)p.at.column - 1 : 0);
        st_report_add(&r->report, &p);
        return false;
    }
    while (result == 0 && used < v->size && v->text[used] == ' ')
        used++;
    if (result < 0 || (want != ST_DIM_OPEN && a.dim != want) || a.open != ST_CLOSED || a.make_up_to ||
        (!words_may_follow && used < v->size)) {
        refuse_value(r, v, result < 0 && p.why[0] ? p.why : WORDS[want].why, WORDS[want].example);
        return false;
    }
    *out = a;
    return true;
}

static const char PERCENT[] = "%|percent|per cent";
static const char PERCENT_VOL[] = "%|%vol|%abv|percent|per cent|vol%|%alc";

bool st_value_figure(struct st_reader *r, const struct st_yaml *v, const char *units, double factor, double most,
                     bool rounded, struct st_range *out)
{
    struct st_span s;
    const size_t n = strcspn(units, "|");
    const char *example = st_arena_printf(r->report.arena, "write a figure or a range, such as 9%s%.*s or 8-10%s%.*s",
                                          n ? " " : "", (int)n, units, n ? " " : "", (int)n, units);

    if (!is_text(r, v, example))
        return false;
    if (!st_span_read(v->text, v->size, &s)) {
        refuse_value(r, v, "it is neither a figure nor a range", example);
        return false;
    }
    if (!st_span_unit_is(&s, units)) {
        refuse_value(r, v, s.unit_size ? "the unit does not belong here" : "the unit is missing", example);
        return false;
    }
    if (s.high * factor > most * (1 + 1e-12)) {
        refuse_value(
            r, v,
            st_arena_printf(r->report.arena, "%.6g%s%.*s is the most", most / factor, n ? " " : "", (int)n, units),
            example);
        return false;
    }
    double half = rounded && s.single ? 0.5 : 0;
    for (int i = 0; i < s.decimals; i++)
        half /= 10;
    *out = (struct st_range){
        s.value * factor, s.low - half > 0 ? (s.low - half) * factor : 0, (s.high + half) * factor, true, 'u', ""
    };
    if (s.value == 0) /* none is none */
        out->high = 0;
    if (out->high > most)
        out->high = most;
    return true;
}

/* Strengths are mostly written in per cent, other ways ("80 proof") as amounts. */
static bool in_percent_vol(const struct st_yaml *v)
{
    struct st_span s;
    return v->kind == ST_YAML_TEXT && st_span_read(v->text, v->size, &s) && st_span_unit_is(&s, PERCENT_VOL);
}

bool st_value_range(struct st_reader *r, const struct st_yaml *v, enum st_dimension want, struct st_range *out)
{
    struct st_amount a;
    if (want == ST_DIM_STRENGTH && in_percent_vol(v))
        return st_value_figure(r, v, PERCENT_VOL, 1, 100, false, out);
    if (!st_value_amount(r, v, want, false, &a))
        return false;
    *out = (struct st_range){ a.value, a.low, a.high, true, 'u', "" };
    return true;
}

bool st_value_share(struct st_reader *r, const struct st_yaml *v, bool rounded, struct st_range *out)
{
    return st_value_figure(r, v, PERCENT, 0.01, 1.0, rounded, out);
}

bool st_value_is_percent(const struct st_yaml *v)
{
    struct st_span s;
    return v->kind == ST_YAML_TEXT && st_span_read(v->text, v->size, &s) && st_span_unit_is(&s, PERCENT);
}

const struct st_yaml *st_value_first(const struct st_yaml *v)
{
    return v->kind == ST_YAML_LIST ? v->child : v;
}

const struct st_yaml *st_value_next(const struct st_yaml *list, const struct st_yaml *v)
{
    return list->kind == ST_YAML_LIST ? v->next : NULL;
}
