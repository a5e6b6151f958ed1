#include "yaml_assay.h"

#include <string.h>
#include <time.h>

#include "calendar_day.h"

enum { ASSAYS = 50 };

static void read_of(struct st_reader *r, const struct st_yaml *v, void *into)
{
    const char *name;
    if (!st_value_text(r, v, ST_NAME_LIMIT, &name))
        return;
    const struct st_ingredient *in = st_catalogue_find(r->catalogue, name, strlen(name));
    if (in)
        ((struct st_assay *)into)->ingredient = in->slug;
    else
        st_report(&r->report, v->at, "no ingredient has this name",
                  "write the name as it stands in the steps; `stillroom ingredient NAME` looks one up",
                  "cannot tell what was assayed: `%s`", st_report_clip(&r->report, v->text, v->size));
}

static void read_toxicant(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)st_value_text(r, v, ST_NAME_LIMIT, &((struct st_assay *)into)->toxicant);
}

static void read_laboratory(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)st_value_text(r, v, 200, &((struct st_assay *)into)->laboratory);
}

/* The latest day that it is anywhere on earth. */
static long latest_today(void)
{
    return (long)(time(NULL) / 86400) + 1;
}

static void read_date(struct st_reader *r, const struct st_yaml *v, void *into)
{
    const char *text;
    long day;
    if (!st_value_text(r, v, 40, &text))
        return;
    if (st_day_number(text, &day) && day <= latest_today())
        ((struct st_assay *)into)->date = text;
    else if (st_day_number(text, &day))
        st_report(&r->report, v->at, "a laboratory tells of what it has found, not of what it will find",
                  "write the day of the report, or leave the assay out until it is there", "%s is still to come", text);
    else
        st_report(&r->report, v->at, "it is the day of the laboratory's report", "write it as 2026-05-02",
                  "cannot read `%s` as a day", st_report_clip(&r->report, v->text, v->size));
}

/* Units of a content by weight; mg per kg is parts per million. */
static const struct {
    const char *units;
    double mg_kg;
} UNIT[] = {
    { "mg/kg|ppm", 1 }, { "mg/100 g|mg/100g", 10 }, { "mg/g|g/kg", 1e3 },
    { "ug/g|µg/g", 1 }, { "ug/kg|µg/kg", 1e-3 },    { "%", 1e4 },
};

static void read_found(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_span s;
    struct st_range x = { .high = 1.0 };
    for (size_t i = 0; i < sizeof UNIT / sizeof UNIT[0]; i++)
        if (v->kind == ST_YAML_TEXT && st_span_read(v->text, v->size, &s) && st_span_unit_is(&s, UNIT[i].units)) {
            if (st_value_figure(r, v, UNIT[i].units, UNIT[i].mg_kg, 1e6, false, &x))
                ((struct st_assay *)into)->mg_kg = x.high; /* of a range the worse end */
            if (!(x.high > 0.0))
                st_report(&r->report, v->at, "no laboratory finds nothing: it finds less than it can see",
                          "write the least that it could have seen, such as 5 mg/kg", "an assay of 0 is none");
            return;
        }
    st_report(&r->report, v->at, "a content is by weight of the ingredient, not of the drink",
              "write it in mg/kg, mg/g, mg/100 g, g/kg, ppm or %; of \"less than 5 mg/kg\" write 5 mg/kg",
              "cannot read `%s` as what a laboratory found",
              v->kind == ST_YAML_TEXT ? st_report_clip(&r->report, v->text, v->size) : "this");
}

static const struct st_field ASSAY[] = {
    { "of", read_of, 0 },       { "toxicant", read_toxicant, 0 },
    { "found", read_found, 0 }, { "laboratory", read_laboratory, 0 },
    { "date", read_date, 0 },   { NULL, NULL, 0 },
};

/* All five, or none. */
static bool complete(struct st_reader *r, const struct st_yaml *one)
{
    bool all = true;
    for (int i = 0; ASSAY[i].key; i++)
        if (!st_yaml_get(one, ASSAY[i].key)) {
            st_report(&r->report, one->at,
                      "an assay may take the place of a published ceiling, so all of it must be told",
                      "write of, toxicant, found, laboratory and date", "`%s` is missing in this assay", ASSAY[i].key);
            all = false;
        }
    return all;
}

void st_yaml_assays_read(struct st_reader *r, const struct st_yaml *list)
{
    if (list->kind != ST_YAML_LIST) {
        st_report(&r->report, list->at, "there may be several", "write them as a list, each line with `- {of: ...}`",
                  "`assays` is a list");
        return;
    }
    struct st_assay *all = st_arena_alloc(r->report.arena, ASSAYS * sizeof *all);
    int n = 0;
    for (const struct st_yaml *one = list->child; one; one = one->next) {
        if (one->kind != ST_YAML_MAP || n == ASSAYS) {
            st_report(&r->report, one->at, n == ASSAYS ? "fifty are the most that are read" : "it has keys and values",
                      "write {of: ..., toxicant: ..., found: ..., laboratory: ..., date: ...}", "this is not an assay");
            return;
        }
        const int before = r->report.out->n_problem;
        struct st_assay a = { .at = one->at, .mg_kg = -1.0 };
        st_fields_read(r, one, ASSAY, "an assay", 0, &a);
        if (complete(r, one) && r->report.out->n_problem == before)
            all[n++] = a;
    }
    r->recipe->assay = all;
    r->recipe->n_assay = n;
}
