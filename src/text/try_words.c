#include <math.h>
#include <stdio.h>
#include <string.h>

#include "amount_fine.h"
#include "cut_words.h"
#include "figure_words.h"
#include "quantity.h"
#include "try_inside.h"

/* One change as a clause. */

static const char *const NAME[ST_NTRY] = {
    [ST_TRY_ADDED] = "added",
    [ST_TRY_LEFT_OUT] = "left_out",
    [ST_TRY_MOVED] = "moved",
    [ST_TRY_INSTEAD] = "instead",
    [ST_TRY_FIGURES] = "figures",
    [ST_TRY_AMOUNT] = "amount",
    [ST_TRY_MEASURED] = "measured",
    [ST_TRY_STRENGTH] = "strength",
    [ST_TRY_TRIMMED] = "trimmed",
    [ST_TRY_WARM] = "measured_at",
    [ST_TRY_CUT] = "cut",
    [ST_TRY_PRICE] = "price",
    [ST_TRY_STEP_ADDED] = "step_added",
    [ST_TRY_STEP_LEFT_OUT] = "step_left_out",
    [ST_TRY_ORDER] = "order",
    [ST_TRY_KIND] = "kind",
    [ST_TRY_TIME] = "time",
    [ST_TRY_TEMPERATURE] = "temperature",
    [ST_TRY_PRESS] = "press",
    [ST_TRY_DRAINED] = "drained",
    [ST_TRY_EXCHANGED] = "exchanged",
    [ST_TRY_BOIL] = "boil",
    [ST_TRY_LOSS] = "loss",
    [ST_TRY_VESSEL] = "vessel",
    [ST_TRY_BOTTLE] = "bottle",
    [ST_TRY_SERVING] = "serving",
    [ST_TRY_TOOLS] = "tools",
    [ST_TRY_WISH] = "wish",
    [ST_TRY_CURRENCY] = "currency",
    [ST_TRY_ASSAYS] = "assays",
    [ST_TRY_NAME] = "name",
    [ST_TRY_WORDS] = "words",
    [ST_TRY_SAID] = "said",
    [ST_TRY_TITLE] = "title",
    [ST_TRY_NOTE] = "note",
};

const char *st_try_what_name(enum st_try_what what)
{
    return (unsigned)what < ST_NTRY ? NAME[what] : "";
}

bool st_try_is_wording(enum st_try_what what)
{
    return what >= ST_TRY_NAME;
}

enum { CLAUSE = 280, PART = 120 };

/* ---- figures ---- */

static void plain(char *buf, double x, const char *unit)
{
    char figure[40];
    st_plain_figure(figure, sizeof figure, x, 4);
    snprintf(buf, PART, "%s %s", figure, unit);
}

static void volume(char *buf, double ml)
{
    if (!(ml > 0.0))
        snprintf(buf, PART, "not said");
    else
        plain(buf, ml >= 1000.0 ? ml * 1e-3 : ml, ml >= 1000.0 ? "L" : "mL");
}

/* "86 to 90 %", or the value alone where the ends are within 1 % of it: scale turns the range into the unit. */
static void range(char *buf, struct st_range r, double scale, double shift, const char *unit, const char *unknown)
{
    char low[40], high[40];
    if (!r.known) {
        snprintf(buf, PART, "%s", unknown);
        return;
    }
    if (!(r.high - r.low > 0.02 * fabs(r.value))) {
        plain(buf, r.value * scale + shift, unit);
        return;
    }
    st_plain_figure(low, sizeof low, r.low * scale + shift, 3);
    st_plain_figure(high, sizeof high, r.high * scale + shift, 3);
    snprintf(buf, PART, "%s to %s %s", low, high, unit);
}

/* ---- amounts ---- */

static bool is_told(const struct st_amount *a)
{
    return a->open == ST_CLOSED && !a->make_up_to && a->dim <= ST_DIM_PIECE;
}

static void amount(char *buf, const struct st_amount *a, enum st_measures measures)
{
    char text[PART - 10];
    st_quantity_print(a, measures, text, sizeof text);
    snprintf(buf, PART, "%s%s", a->make_up_to ? "up to " : "", text);
}

/* "30 g sugar", or the maker's own words where there is no figure; "half of jar". */
static void line_words(char *buf, const struct st_try_changes *c, int side, const struct st_line *l)
{
    const struct st_recipe *r = c->recipe[side];
    char text[PART];
    if (!l->what && l->from_step >= 0) {
        const char *of = r->step[l->from_step].id, *part = l->part == ST_SPENT ? "the drained solids of " : "";
        if (l->amount.dim == ST_DIM_OPEN)
            snprintf(buf, PART, "%s%.60s", *part ? part : "all of ", of);
        else if (l->amount.dim == ST_DIM_PIECE)
            snprintf(buf, PART, "%.4g %% of %s%.60s", 100.0 * l->amount.value, part, of);
        else {
            amount(text, &l->amount, r->measures);
            snprintf(buf, PART, "%.30s of %s%.50s", text, part, of);
        }
        return;
    }
    if (!is_told(&l->amount) || !l->what) {
        snprintf(buf, PART, "\"%.100s\"", l->text);
        return;
    }
    amount(text, &l->amount, r->measures);
    snprintf(buf, PART, "%.40s %.60s", text, l->what->name);
    if (l->strength.known && l->what->kind == ST_KIND_SPIRIT) {
        const size_t n = strlen(buf);
        snprintf(buf + n, PART - n, " %.3g %%", l->strength.value);
    }
}

/* How often the recipe has this ingredient: where more than once, it is said in which step. */
static void where(char *buf, const struct st_try_changes *c, const struct st_try_change *x, int side)
{
    const struct st_line *l = st_try_line_of(c, x, side);
    int n = 0;
    buf[0] = '\0';
    for (int k = 0; k < 2 && l && l->what; k++) {
        int here = 0;
        for (int i = 0; i < c->match->n_line[k]; i++) {
            const struct st_line *y = st_try_line(c->match, k, i);
            here += y->what && strcmp(y->what->slug, l->what->slug) == 0;
        }
        n = here > n ? here : n;
    }
    if (n > 1 || (l && !l->what))
        snprintf(buf, PART, " in %.60s", c->recipe[side]->step[x->step[side]].id);
}

static void amount_clause(const struct st_try_changes *c, struct st_try_change *x)
{
    const struct st_line *was = st_try_line_of(c, x, 0), *is = st_try_line_of(c, x, 1);
    char a[PART], b[PART], by[PART], in[PART];
    where(in, c, x, 1);
    const bool told = is->what && is_told(&was->amount) && is_told(&is->amount);
    if (!told) {
        line_words(a, c, 0, was);
        line_words(b, c, 1, is);
        snprintf(x->text, CLAUSE, "%.90s instead of %.90s%.70s", b, a, in);
        return;
    }
    amount(a, &was->amount, c->recipe[0]->measures);
    amount(b, &is->amount, c->recipe[1]->measures);
    const bool sharp = !(was->amount.low < was->amount.high) && !(is->amount.low < is->amount.high) &&
                       was->amount.heaped == is->amount.heaped && was->amount.scant == is->amount.scant;
    if (sharp && was->amount.dim == is->amount.dim) {
        const double more = is->amount.value - was->amount.value;
        st_amount_fine(&is->amount, fabs(more), c->recipe[1]->measures, by, sizeof by);
        snprintf(x->text, CLAUSE, "%.36s %s%s %.60s (%.36s instead of %.36s)%.70s", by, more < 0.0 ? "less" : "more",
                 is->amount.dim == ST_DIM_PIECE ? " of" : "", is->what->name, b, a, in);
        return;
    }
    snprintf(x->text, CLAUSE, "%.60s: %.60s instead of %.60s%.70s", is->what->name, b, a, in);
}

/* ---- other things of a line ---- */

static const char *trimming(const struct st_line *l, char buf[PART])
{
    char share[PART];
    if (l->trimmed_share.known) {
        range(share, l->trimmed_share, 100.0, 0.0, "%", "");
        snprintf(buf, PART, "as bought, %.40s left after trimming", share);
    } else
        snprintf(buf, PART, "%s", l->gross ? "as bought" : l->weighing_unsaid ? "not said which" : "trimmed");
    return buf;
}

static const char *cut_name(const struct st_try_changes *c, const struct st_try_change *x, int side)
{
    bool said;
    return st_cut_name(st_cut_of_line(c->recipe[side], x->step[side], x->line[side], &said));
}

static void price(char *buf, const struct st_recipe *r, const struct st_line *l)
{
    char per[PART];
    if (!(l->price >= 0.0)) {
        snprintf(buf, PART, "not said");
        return;
    }
    amount(per, &l->amount, r->measures);
    snprintf(buf, PART, "%.2f %.12s for %.60s", l->price, r->currency, is_told(&l->amount) ? per : "what is used");
}

static void whole_line_clause(const struct st_try_changes *c, struct st_try_change *x)
{
    const struct st_line *was = st_try_line_of(c, x, 0), *is = st_try_line_of(c, x, 1);
    char a[PART] = "", b[PART] = "", in[PART];
    if (was)
        line_words(a, c, 0, was);
    if (is)
        line_words(b, c, 1, is);
    if (x->what == ST_TRY_MOVED && is)
        snprintf(x->text, CLAUSE, "%.60s goes into %.60s instead of %.60s", is->what->name,
                 c->recipe[1]->step[x->step[1]].id, c->recipe[0]->step[x->step[0]].id);
    else if (x->what == ST_TRY_INSTEAD) {
        where(in, c, x, 1);
        snprintf(x->text, CLAUSE, "%.90s instead of %.90s%.70s", b, a, in);
    } else if (x->what == ST_TRY_ADDED)
        snprintf(x->text, CLAUSE, "%.110s added to %.60s", b, c->recipe[1]->step[x->step[1]].id);
    else
        snprintf(x->text, CLAUSE, "%.110s left out of %.60s", a, c->recipe[0]->step[x->step[0]].id);
}

static void line_clause(const struct st_try_changes *c, struct st_try_change *x)
{
    const struct st_line *was = st_try_line_of(c, x, 0), *is = st_try_line_of(c, x, 1);
    const char *name = is->what ? is->what->name : is->text;
    char a[PART], b[PART], in[PART];
    where(in, c, x, 1);
    switch (x->what) {
    case ST_TRY_FIGURES: snprintf(x->text, CLAUSE, "other figures for what %.80s is made of", name); return;
    case ST_TRY_MEASURED:
        snprintf(x->text, CLAUSE, "%.60s measured with the %s instead of the %s%.70s", name,
                 st_tool_name(is->amount.tool), st_tool_name(was->amount.tool), in);
        if (is->amount.tool == was->amount.tool)
            snprintf(x->text, CLAUSE, "%.60s measured in %.4g fillings of the %s instead of %.4g%.70s", name,
                     is->amount.fills, st_tool_name(is->amount.tool), was->amount.fills, in);
        return;
    case ST_TRY_STRENGTH:
        range(a, was->strength, 1.0, 0.0, "%", "not said");
        range(b, is->strength, 1.0, 0.0, "%", "not said");
        snprintf(x->text, CLAUSE, "strength of the %.60s: %.40s instead of %.40s%.70s", name, b, a, in);
        return;
    case ST_TRY_TRIMMED: {
        char p[PART], q[PART];
        snprintf(x->text, CLAUSE, "%.50s weighed %.60s instead of %.60s%.70s", name, trimming(is, q), trimming(was, p),
                 in);
        return;
    }
    case ST_TRY_WARM:
        range(a, was->temperature_K, 1.0, -273.15,
              "\xc2\xb0"
              "C",
              "20 \xc2\xb0"
              "C");
        range(b, is->temperature_K, 1.0, -273.15,
              "\xc2\xb0"
              "C",
              "20 \xc2\xb0"
              "C");
        snprintf(x->text, CLAUSE, "%.60s measured at %.40s instead of %.40s%.70s", name, b, a, in);
        return;
    case ST_TRY_CUT:
        snprintf(x->text, CLAUSE, "%.60s %s instead of %s%.70s", name, cut_name(c, x, 1), cut_name(c, x, 0), in);
        return;
    case ST_TRY_PRICE:
        price(a, c->recipe[0], was);
        price(b, c->recipe[1], is);
        snprintf(x->text, CLAUSE, "price of the %.60s: %.60s, before: %.60s", name, b, a);
        return;
    default: snprintf(x->text, CLAUSE, "said as \"%.90s\", before as \"%.90s\"", is->text, was->text); return;
    }
}

/* ---- steps ---- */

static void step_whole(const struct st_try_changes *c, struct st_try_change *x)
{
    const int side = x->what == ST_TRY_STEP_ADDED ? 1 : 0;
    const struct st_step *s = st_try_step_of(c, x, side);
    char words[PART];
    int n = snprintf(x->text, CLAUSE, side ? "a new step, %s \"%.40s\"" : "the step %s \"%.40s\" left out",
                     st_do_name(s->kind), s->id);
    for (int i = 0, told = 0; i < s->n_line && n > 0 && n < CLAUSE - 1; i++) {
        if (!s->line[i].what)
            continue;
        line_words(words, c, side, &s->line[i]);
        n += snprintf(x->text + n, (size_t)(CLAUSE - n), "%s%s", told++ ? ", " : side ? " with " : " (", words);
        if (i + 1 == s->n_line && !side && n < CLAUSE - 1)
            snprintf(x->text + n, (size_t)(CLAUSE - n), ")");
    }
}

static void warmth(char *buf, const struct st_step *s)
{
    if (s->n_warm < 2) {
        range(buf, s->temperature_K, 1.0, -273.15,
              "\xc2\xb0"
              "C",
              "no temperature said");
        return;
    }
    int n = 0;
    for (int i = 0; i < s->n_warm && n < PART - 1; i++)
        n += snprintf(buf + n, (size_t)(PART - n),
                      "%s%.3g \xc2\xb0"
                      "C",
                      i ? ", then " : "", s->warm[i].T_K - 273.15);
}

static void pressing(char *buf, const struct st_step *s)
{
    char share[PART];
    range(share, s->press_share, 100.0, 0.0, "%", "");
    if (s->press && s->press_share.known)
        snprintf(buf, PART, "pressed, %.40s of what it keeps won back", share);
    else
        snprintf(buf, PART, "%s", s->press ? "pressed" : "not pressed");
}

static void boiling(char *buf, const struct st_recipe *r, const struct st_step *s)
{
    char text[PART];
    if (s->boil_down_to.dim != ST_DIM_OPEN) {
        amount(text, &s->boil_down_to, r->measures);
        snprintf(buf, PART, "boiled down to %.80s", text);
    } else if (s->boil_off_g.known) {
        range(text, s->boil_off_g, 1.0, 0.0, "g", "");
        snprintf(buf, PART, "%.80s boiled off", text);
    } else
        snprintf(buf, PART, "not boiled down");
}

static void loss(char *buf, const struct st_step *s)
{
    char share[PART], ml[PART];
    range(share, s->loss_share, 100.0, 0.0, "%", "the usual");
    range(ml, s->loss_ml, 1.0, 0.0, "mL", "");
    snprintf(buf, PART, "%.40s%s%.40s", share, s->loss_ml.known ? " and " : "", ml);
}

static void bottling(char *buf, const struct st_step *s)
{
    char size[PART];
    volume(size, s->bottle_ml);
    if (s->bottles > 0)
        snprintf(buf, PART, "%d of %.40s", s->bottles, size);
    else
        snprintf(buf, PART, "as many as it gives of %.40s", size);
}

/* What the step says of it, on one side. */
static void step_part(char *buf, enum st_try_what what, const struct st_recipe *r, const struct st_step *s)
{
    switch (what) {
    case ST_TRY_KIND: snprintf(buf, PART, "%s", st_do_name(s->kind)); break;
    case ST_TRY_TIME:
        st_time_words(buf, PART, &s->time);
        if (!*buf)
            snprintf(buf, PART, "no time said");
        break;
    case ST_TRY_TEMPERATURE: warmth(buf, s); break;
    case ST_TRY_PRESS: pressing(buf, s); break;
    case ST_TRY_DRAINED: range(buf, s->drained_solids_g, 1.0, 0.0, "g", "not weighed"); break;
    case ST_TRY_EXCHANGED: range(buf, s->exchanged, 100.0, 0.0, "%", "the usual"); break;
    case ST_TRY_BOIL: boiling(buf, r, s); break;
    case ST_TRY_LOSS: loss(buf, s); break;
    case ST_TRY_VESSEL: volume(buf, s->vessel_ml); break;
    case ST_TRY_BOTTLE: bottling(buf, s); break;
    case ST_TRY_NAME: snprintf(buf, PART, "\"%.80s\"", s->id); break;
    default: snprintf(buf, PART, "%s%.80s%s", *s->words ? "\"" : "none", s->words, *s->words ? "\"" : ""); break;
    }
}

/* Both say the same in the two recipes: one sentence of a maker's text often makes several steps. */
static bool same_words(const struct st_try_changes *c, const struct st_try_change *x, const struct st_try_change *y)
{
    for (int side = 0; side < 2; side++)
        if (strcmp(st_try_step_of(c, x, side)->words, st_try_step_of(c, y, side)->words) != 0)
            return false;
    return true;
}

/* "jar", "jar and syrup", "jar, syrup and drink": all steps whose words were changed as these are. */
static void worded_alike(char *buf, size_t size, const struct st_try_changes *c, const struct st_try_change *x)
{
    int left = 0;
    for (int i = 0; i < c->n; i++)
        left += c->change[i].what == ST_TRY_WORDS && same_words(c, &c->change[i], x);
    size_t n = 0;
    for (int i = 0; i < c->n && n < size; i++)
        if (c->change[i].what == ST_TRY_WORDS && same_words(c, &c->change[i], x)) {
            const char *id = st_try_step_of(c, &c->change[i], 1)->id;
            n += (size_t)snprintf(buf + n, size - n, "%.50s%s", id, left > 2 ? ", " : left == 2 ? " and " : "");
            left--;
        }
}

bool st_try_said_before(const struct st_try_changes *c, int k)
{
    for (int i = 0; c->change[k].what == ST_TRY_WORDS && i < k; i++)
        if (c->change[i].what == ST_TRY_WORDS && same_words(c, &c->change[i], &c->change[k]))
            return true;
    return false;
}

static void step_clause(const struct st_try_changes *c, struct st_try_change *x)
{
    static const char *const OF[ST_NTRY] = {
        [ST_TRY_KIND] = "what is done in",
        [ST_TRY_TIME] = "time of",
        [ST_TRY_TEMPERATURE] = "warmth of",
        [ST_TRY_PRESS] = "pressing of",
        [ST_TRY_DRAINED] = "weight of what was strained off in",
        [ST_TRY_EXCHANGED] = "share of the juice that mixed in",
        [ST_TRY_BOIL] = "boiling of",
        [ST_TRY_LOSS] = "loss in",
        [ST_TRY_VESSEL] = "vessel of",
        [ST_TRY_BOTTLE] = "bottles in",
        [ST_TRY_NAME] = "name of the step",
        [ST_TRY_WORDS] = "words of",
    };
    char a[PART], b[PART];
    if (x->what == ST_TRY_ORDER) {
        snprintf(x->text, CLAUSE, "the lines of %.60s in another order", st_try_step_of(c, x, 1)->id);
        return;
    }
    step_part(a, x->what, c->recipe[0], st_try_step_of(c, x, 0));
    step_part(b, x->what, c->recipe[1], st_try_step_of(c, x, 1));
    char id[PART];
    if (x->what == ST_TRY_WORDS)
        worded_alike(id, sizeof id, c, x);
    else
        snprintf(id, sizeof id, "%.50s",
                 x->what == ST_TRY_NAME ? st_do_name(st_try_step_of(c, x, 1)->kind) : st_try_step_of(c, x, 1)->id);
    snprintf(x->text, CLAUSE, "%s %.70s: %.90s instead of %.90s", OF[x->what], id, b, a);
}

/* ---- the recipe ---- */

static void wish(char *buf, const struct st_recipe *r)
{
    char q[PART] = "any strength", s[PART] = "any sugar";
    if (r->wish.has_strength)
        snprintf(q, PART, "%.4g to %.4g %% vol", r->wish.strength_low, r->wish.strength_high);
    if (r->wish.has_sugar)
        snprintf(s, PART, "%.4g to %.4g g/L sugar", r->wish.sugar_low, r->wish.sugar_high);
    snprintf(buf, PART, "%.50s, %.50s", q, s);
}

static void whole_clause(const struct st_try_changes *c, struct st_try_change *x)
{
    const struct st_recipe *a = c->recipe[0], *b = c->recipe[1];
    char p[PART], q[PART];
    switch (x->what) {
    case ST_TRY_ORDER: snprintf(x->text, CLAUSE, "the steps in another order"); break;
    case ST_TRY_SERVING:
        volume(p, a->serving_ml);
        volume(q, b->serving_ml);
        snprintf(x->text, CLAUSE, "a serving of %.60s instead of %.60s", q, p);
        break;
    case ST_TRY_TOOLS: snprintf(x->text, CLAUSE, "other tools to measure with"); break;
    case ST_TRY_WISH:
        wish(p, a);
        wish(q, b);
        snprintf(x->text, CLAUSE, "wished for: %.110s, before: %.110s", q, p);
        break;
    case ST_TRY_CURRENCY:
        snprintf(x->text, CLAUSE, "prices in %.20s instead of %.20s", *b->currency ? b->currency : "no currency",
                 *a->currency ? a->currency : "no currency");
        break;
    case ST_TRY_ASSAYS: snprintf(x->text, CLAUSE, "other findings of a laboratory"); break;
    case ST_TRY_TITLE: snprintf(x->text, CLAUSE, "title: \"%.100s\" instead of \"%.100s\"", b->title, a->title); break;
    default: snprintf(x->text, CLAUSE, "another note"); break;
    }
}

void st_try_say(const struct st_try_changes *c, struct st_try_change *x)
{
    switch (x->what) {
    case ST_TRY_ADDED:
    case ST_TRY_LEFT_OUT:
    case ST_TRY_MOVED:
    case ST_TRY_INSTEAD: whole_line_clause(c, x); break;
    case ST_TRY_AMOUNT: amount_clause(c, x); break;
    case ST_TRY_STEP_ADDED:
    case ST_TRY_STEP_LEFT_OUT: step_whole(c, x); break;
    default:
        if (x->line[0] >= 0)
            line_clause(c, x);
        else if (x->step[0] >= 0)
            step_clause(c, x);
        else
            whole_clause(c, x);
        break;
    }
}
