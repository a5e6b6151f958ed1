#include "yaml_line.h"

#include <math.h>
#include <string.h>

#include "line.h"
#include "point.h"
#include "quantity.h"
#include "yaml_take.h"
#include "yaml_tools.h"

/* ---- the text ---- */

/* The line reader's problem, with its place in the file, and a word on commas in brackets and on names of steps. */
static void tell_line(struct st_reader *r, const struct st_yaml *v, int step, struct st_problem *p)
{
    const size_t inside = p->at.column > 0 ? (size_t)p->at.column - 1 : 0;
    const bool digit = v->text[0] >= '0' && v->text[0] <= '9';
    const char *name = v->text + (inside < v->size ? inside : 0);

    p->at = st_yaml_place(v, inside);
    if (v->parent && v->parent->in_brackets && v->parent->kind == ST_YAML_LIST && v != v->parent->child && !digit) {
        st_report(&r->report, p->at, "inside [ ] a comma begins the next line",
                  "put a line that holds a comma between quotes, or write one line a row", "cannot read `%s`",
                  st_report_clip(&r->report, v->text, v->size));
        return;
    }
    const char *hint = inside && inside < v->size ? st_step_hint(r, step, name, strlen(name)) : "";
    if (strncmp(hint, "did you mean", 12) == 0 && strlen(p->try_) + strlen(hint) + 12 < sizeof p->try_) {
        const size_t n = strlen(p->try_);
        const char *more =
            st_arena_printf(r->report.arena, "%s; or the step: %s", n ? p->try_ : "look at the name", hint);
        memcpy(p->try_, more, strlen(more) < sizeof p->try_ ? strlen(more) + 1 : n + 1);
    }
    st_report_add(&r->report, p);
}

static bool read_text(struct st_reader *r, const struct st_yaml *v, int step, struct st_line *out)
{
    struct st_problem p = { 0 };
    const char *text;
    struct st_line line = { 0 };

    if (!st_value_text(r, v, 500, &text))
        return false;
    const enum st_take take = st_take_read(r, v, step, &line);
    if (take == ST_TAKE_TOLD)
        return false;
    if (take != ST_TAKE_DONE && st_line_parse(text, r->recipe->measures, r->catalogue, &line, &p) != 0) {
        if (take == ST_TAKE_UNKNOWN)
            st_take_unknown(r, v, step);
        else
            tell_line(r, v, step, &p);
        return false;
    }
    if (st_point_question(v->text, v->size, r->marks, &p)) {
        tell_line(r, v, step, &p);
        return false;
    }
    line.at = v->at;
    line.text = text;
    line.said = "";
    line.price = (double)NAN;
    *out = line;
    return true;
}

/* ---- what a line may say besides ---- */

static const double SAME_STRENGTH = 0.2; /* % vol: 80 proof and 40 % are the same spirit */

static void read_strength(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_line *line = into;
    if (line->what && st_kind_is_solid(line->what->kind))
        st_report(&r->report, v->at, "only a liquid has one", "take it out", "a strength for %s", line->what->name);
    else if (line->what) {
        const struct st_range before = line->strength;
        if (!st_value_range(r, v, ST_DIM_STRENGTH, &line->strength) || !before.known)
            return;
        if (line->strength.low > before.high + SAME_STRENGTH || line->strength.high < before.low - SAME_STRENGTH)
            st_report_note(&r->report, v->at, "the line itself tells another", "keep the one that is on the label",
                           "`strength: %s` is taken, and not the %.4g %% vol of `%s`",
                           st_report_clip(&r->report, v->text, v->size), before.value, line->text);
    }
}

static void read_at(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)st_value_range(r, v, ST_DIM_TEMPERATURE, &((struct st_line *)into)->temperature_K);
}

/* "14.50", "14,50 EUR", or "14.50 for 700 mL" when the line takes a part of what was bought. */
static bool read_pack(struct st_reader *r, const struct st_yaml *v, const struct st_line *line, const char *pack,
                      double *share)
{
    struct st_problem p;
    struct st_amount a;
    const size_t n = strlen(pack);
    size_t used = 0;

    if (st_quantity_parse(pack, n, r->recipe->measures, &a, &used, &p) == 0 && used == n && a.dim == line->amount.dim &&
        line->amount.open == ST_CLOSED && !line->amount.make_up_to && a.value > 0) {
        *share = line->amount.value / a.value;
        return true;
    }
    st_report(&r->report, v->at,
              "what was bought and what the line takes must be of one sort, two volumes or two weights",
              "write the price of the amount on the line alone", "cannot reckon the price from `%s`",
              st_report_clip(&r->report, pack, n));
    return false;
}

static void read_price(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_line *line = into;
    struct st_span s = { 0 };
    const char *text, *pack;
    double share = 1;

    if (!line->what) {
        st_report(&r->report, v->at, "only what is bought has one", "write it at the ingredients of that step",
                  "a price for what comes from a step");
        return;
    }
    if (!st_value_text(r, v, 80, &text))
        return;
    pack = strstr(text, " for ");
    const size_t n = pack ? (size_t)(pack - text) : v->size;
    const char *own = r->recipe->currency;
    if (!st_span_read(text, n, &s) || !s.single || !(s.value <= 1e6)) {
        st_report(&r->report, v->at, "it is not a figure", "write for example 14.50, or 14.50 for 700 mL",
                  "cannot read the price `%s`", st_report_clip(&r->report, text, v->size));
        return;
    }
    if (s.unit_size && (s.unit_size != strlen(own) || memcmp(s.unit, own, s.unit_size) != 0)) {
        st_report(&r->report, v->at, *own ? "the recipe reckons in another currency" : "the recipe names no currency",
                  "leave the currency out here, and name it once at the top: `currency: EUR`",
                  "the currency `%s` of this price", st_report_clip(&r->report, s.unit, s.unit_size));
        return;
    }
    if (!pack || read_pack(r, v, line, pack + 5, &share))
        line->price = s.value * share;
}

static void read_trimmed(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_line *line = into;
    struct st_range net;

    if (!line->what) {
        st_report(&r->report, v->at, "what comes from a step was trimmed before", "take it out",
                  "`trimmed` on this line");
        return;
    }
    if (st_value_is_percent(v)) {
        if (st_value_share(r, v, false, &net) && net.value > 0) {
            line->trimmed_share = net;
            line->gross = true;
        }
        return;
    }
    if (!st_value_range(r, v, ST_DIM_MASS, &net))
        return;
    const double bought = line->amount.value;
    if (line->amount.dim != ST_DIM_MASS || !(bought > 0) || net.high > bought || !(net.value > 0)) {
        st_report(&r->report, v->at,
                  line->amount.dim != ST_DIM_MASS ? "the line has no weight to compare it with"
                                                  : "it is not between nothing and the weight on the line",
                  "write the weight as bought on the line and what was left of it here, or a share such as 88 %",
                  "cannot use `%s` for `trimmed`", st_report_clip(&r->report, v->text, v->size));
        return;
    }
    line->trimmed_share = (struct st_range){ net.value / bought, net.low / bought, net.high / bought, true, 'u', "" };
    line->gross = true;
}

static void read_tool(struct st_reader *r, const struct st_yaml *v, void *into)
{
    enum st_tool tool;
    if (st_yaml_tool_named(r, v, &tool))
        ((struct st_line *)into)->amount.tool = tool;
}

static void read_said(struct st_reader *r, const struct st_yaml *v, void *into)
{
    (void)st_value_text(r, v, ST_TEXT_BYTES, &((struct st_line *)into)->said);
}

static const struct st_field LINE[] = {
    { "line", NULL, 0 },
    { "said", read_said, 0 },
    { "price", read_price, 0 },
    { "trimmed", read_trimmed, 0 },
    { "strength", read_strength, 0 },
    { "at", read_at, 0 },
    { "measured_with", read_tool, 0 },
    { NULL, NULL, 0 },
};

bool st_yaml_line_read(struct st_reader *r, const struct st_yaml *v, int step, struct st_line *out)
{
    struct st_line line;
    const struct st_yaml *text = v;

    if (v->kind == ST_YAML_MAP) {
        text = st_yaml_get(v, "line");
        if (!text) {
            st_report(
                &r->report, v->at, "the ingredient and its amount are missing",
                "write for example {line: 700 mL vodka 40 %, price: 14.50}; a text with a colon goes between quotes",
                "an entry without `line`");
            return false;
        }
    }
    if (!read_text(r, text, step, &line))
        return false;
    if (v != text)
        st_fields_read(r, v, LINE, "a line", 0, &line);
    *out = line;
    return true;
}

bool st_yaml_from_read(struct st_reader *r, const struct st_yaml *v, int step, struct st_line *out)
{
    struct st_line line = { 0 };
    const char *text;

    if (!st_value_text(r, v, 200, &text))
        return false;
    const enum st_take take = st_take_read(r, v, step, &line);
    if (take == ST_TAKE_NO || take == ST_TAKE_UNKNOWN) {
        st_take_unknown(r, v, step);
        return false;
    }
    if (take == ST_TAKE_TOLD)
        return false;
    line.at = v->at;
    line.text = text;
    line.said = "";
    line.price = (double)NAN;
    *out = line;
    return true;
}
