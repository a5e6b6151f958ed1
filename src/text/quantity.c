#include "quantity.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "number.h"
#include "quantity_read.h"

enum heap { LEVEL, HEAPED, ROUNDED, GENEROUS, SCANT };

/* What a spoon or cup holds then, as a share of level: middle, low, high.  Heaped: reference notes, from memory; the
 * others from memory. */
static const double HEAP[][3] = {
    [LEVEL] = { 1, 1, 1 },
    [HEAPED] = { 1.45, 1.3, 1.6 },
    [ROUNDED] = { 1.3, 1.15, 1.45 },
    [GENEROUS] = { 1.1, 1.05, 1.15 },
    [SCANT] = { 0.9, 0.85, 0.95 },
};

/* "about": by how much, common practice without a source. */
static const double ABOUT_SHARE = 0.10, ABOUT_KELVIN = 3.0, ABOUT_PCT_VOL = 2.0;

struct reading {
    struct st_scan s;
    const struct st_ask *ask;
    struct st_problem *problem;
    bool about, between, ounce, question;
    struct st_problem asked; /* the question */
    enum heap heap;
};

/* A number with its unit, as written. */
struct term {
    struct st_number n;
    struct st_pick pick; /* unit NULL: a bare count */
    double times;        /* of "2 x 50 mL" */
    bool negative;       /* a minus stood before it */
    struct st_scan word; /* for messages */
};

/* The same in base units. */
struct part {
    enum st_dimension dim;
    double value, low, high, written, fills;
    const struct st_unit *unit;
    enum st_tool tool;
    bool vague;
};

/* ---- messages ---- */

static void say(struct st_problem *p, const struct st_scan *word, const char *before, const char *why, const char *try_)
{
    char clip[48];
    const size_t n = (size_t)(word->end - word->at);

    st_scan_clip(word->at, n < 60 ? n : 60, clip, sizeof clip);
    p->is_question = 0;
    (void)snprintf(p->what, sizeof p->what, "%s '%s'", before, clip);
    (void)snprintf(p->why, sizeof p->why, "%s", why);
    (void)snprintf(p->try_, sizeof p->try_, "%s", try_);
}

static enum st_got nonsense(struct reading *r, const struct st_scan *from, const char *why)
{
    say(r->problem, from, "cannot read the amount", why, "write for example 250 g, 1 1/2 cups, 700 mL");
    return ST_GOT_NONSENSE;
}

static enum st_got none(struct reading *r, const struct st_scan *from)
{
    say(r->problem, from, "no amount in", "an amount is a number with a unit, or a word such as `to taste`",
        "write for example 250 g, 1 1/2 cups, 700 mL");
    return ST_GOT_NONE;
}

/* "1,234 g" where nothing tells the comma from a point. */
static void ask_number(struct reading *r, const struct term *t, const struct st_scan *from)
{
    struct st_problem *p = &r->asked;
    const char *unit = t->pick.unit ? t->pick.unit->plural : "pieces";

    say(p, from, "two ways to read", "", "");
    if (t->n.doubt == ST_NUMBER_GAP) {
        (void)snprintf(p->why, sizeof p->why, "the blank may part thousands (%.0f %s) or two numbers", t->n.value, unit);
        (void)snprintf(p->try_, sizeof p->try_, "write %.0f %s, or for two numbers: %.0f x %.0f %s", t->n.value, unit,
                       floor(t->n.value / 1000.0), t->n.other, unit);
    } else {
        (void)snprintf(p->why, sizeof p->why, "the comma may part thousands (%.0f %s) or be a decimal point (%.3f %s)",
                       t->n.value, unit, t->n.other, unit);
        (void)snprintf(p->try_, sizeof p->try_, "write %.0f %s or %.4g %s", t->n.value, unit, t->n.other, unit);
    }
    p->is_question = 1;
    r->question = true;
}

/* ---- words around a number ---- */

static bool skip_about(struct st_scan *s)
{
    struct st_scan a = *s;
    st_scan_blanks(&a);
    if (st_scan_sign(&a, "~") || st_scan_sign(&a, "\xe2\x89\x88") || st_scan_sign(&a, "\xe2\x88\xbc") ||
        st_scan_word(&a, "about|approximately|approx|around|circa|ca|roughly|nearly|almost|or so")) {
        (void)st_scan_sign(&a, ".");
        *s = a;
        return true;
    }
    if (st_scan_sign(&a, "c.") && st_scan_blanks(&a) && a.at < a.end && st_is_digit((unsigned char)*a.at)) {
        *s = a;
        return true;
    }
    return false;
}

static bool read_heap(struct st_scan *s, enum heap *heap)
{
    if (st_scan_word(s, "heaped|heaping|piled"))
        *heap = HEAPED;
    else if (st_scan_word(s, "rounded"))
        *heap = ROUNDED;
    else if (st_scan_word(s, "generous|good|well filled"))
        *heap = GENEROUS;
    else if (st_scan_word(s, "scant|scanty|short"))
        *heap = SCANT;
    else if (st_scan_word(s, "level|levelled|leveled|flat"))
        *heap = LEVEL;
    else
        return false;
    return true;
}

/* Words between number and unit that say how it is filled. */
static void read_manner(struct st_scan *s, enum heap *heap)
{
    while (read_heap(s, heap) || st_scan_word(s, "large|big|small|packed|firmly|lightly|loosely|tightly|of a|of an|of|a|an"))
        continue;
}

static bool skip_times(struct st_scan *s)
{
    struct st_scan a = *s;
    st_scan_blanks(&a);
    if (!st_scan_sign(&a, "\xc3\x97") && !st_scan_sign(&a, "*")) {
        if (!st_scan_sign(&a, "x") && !st_scan_sign(&a, "X"))
            return false;
    }
    st_scan_blanks(&a);
    if (a.at == a.end || !(st_is_digit((unsigned char)*a.at) || *a.at == '.'))
        return false;
    *s = a;
    return true;
}

bool st_scan_container(struct st_scan *s)
{
    return st_scan_word(s, "tins|tin|cans|can|jars|jar|packets|packet|packs|pack|pkts|pkt|packages|package|pkg|bags|bag|"
                           "boxes|box|sachets|sachet|punnets|punnet|bottles|bottle|tubs|tub|cartons|carton|blocks|block|"
                           "glasses|glass|baskets|basket|bunches|bunch|bundles|bundle|trays|tray|nets|net");
}

/* ---- a term ---- */

/* "(400 g) tin", "tin (400 g)", "750 mL bottle" is nothing special: 2 = number of them, then what each holds. */
static bool read_each(struct reading *r, struct term *t)
{
    struct st_scan a = r->s;
    const bool container = st_scan_container(&a);
    const struct st_ask inner = { r->ask->measures, ST_DIM_BIT(ST_DIM_MASS) | ST_DIM_BIT(ST_DIM_VOLUME), r->ask->liquid,
                                  false };
    struct st_number each;
    struct st_pick pick;
    const char *why;

    st_scan_blanks(&a);
    if (!st_scan_sign(&a, "(") || st_number_read(&a, &each, &why) != 1 || each.doubt != ST_NUMBER_SURE ||
        !st_unit_read(&a, &inner, &pick))
        return false;
    st_scan_blanks(&a);
    if (!st_scan_sign(&a, ")") || (!container && !st_scan_container(&a)))
        return false;
    if (!t->n.figures || t->n.doubt != ST_NUMBER_SURE || t->n.vague)
        return false;
    t->times = t->n.value;
    t->n = each;
    t->pick = pick;
    r->s = a;
    return true;
}

/* "pinch of salt", "handful of mint", "heaped tsp", "overnight", "gas mark 4": a unit before or without its number. */
static int read_unit_first(struct reading *r, struct term *t)
{
    struct st_scan a = r->s;
    const char *why;
    enum heap heap = LEVEL;
    const bool heaped = read_heap(&a, &heap);

    if (!heaped)
        (void)st_scan_word(&a, "small|large|big|tiny");
    if (!st_unit_read(&a, r->ask, &t->pick))
        return 0;
    const struct st_unit *u = t->pick.unit;
    t->n = (struct st_number){ .value = 1.0, .low = 1.0, .high = 1.0 };
    if (u->dim == ST_DIM_TEMPERATURE && strcmp(u->key, "gas_mark") == 0) {
        if (st_number_read(&a, &t->n, &why) != 1)
            return 0;
    } else if (!(heaped && u->dim == ST_DIM_VOLUME) && u->tool != ST_TOOL_HAND && strcmp(u->key, "dash_bitters") != 0 &&
               strcmp(u->key, "splash") != 0 && strcmp(u->key, "night") != 0 && strcmp(u->key, "fortnight") != 0)
        return 0;
    if (heaped)
        r->heap = heap;
    r->s = a;
    return 1;
}

/* After the number: how often, what manner, which unit. */
static int read_unit_after(struct reading *r, struct term *t)
{
    const char *why = "";
    struct st_number second;
    struct st_scan a = r->s;

    if (t->n.doubt == ST_NUMBER_SURE && !t->n.vague && skip_times(&a)) {
        const int got = st_number_read(&a, &second, &why);
        if (got < 0)
            return nonsense(r, &t->word, why), -1;
        if (got > 0) {
            t->times = t->n.value;
            t->n = second;
            r->s = a;
        }
    }
    if (read_each(r, t))
        return 1;
    enum heap heap = r->heap;
    a = r->s;
    if (st_unit_read(&a, r->ask, &t->pick)) {
        (void)read_heap(&a, &heap);
    } else {
        read_manner(&a, &heap);
        if (a.at == r->s.at || !st_unit_read(&a, r->ask, &t->pick))
            return 1;
    }
    r->heap = heap;
    r->s = a;
    return 1;
}

/* True when a strength or temperature follows a number that should have been an amount of goods. */
static bool is_of_another_sort(const struct reading *r)
{
    const struct st_ask other = { r->ask->measures, ST_DIM_BIT(ST_DIM_STRENGTH) | ST_DIM_BIT(ST_DIM_TEMPERATURE), false,
                                  false };
    struct st_scan a = r->s;
    struct st_pick pick;
    return !(r->ask->dims & ST_DIM_BIT(ST_DIM_STRENGTH)) && st_unit_read(&a, &other, &pick);
}

/* A minus right before a digit: temperatures may have one. */
static bool skip_minus(struct st_scan *s)
{
    struct st_scan a = *s;

    st_scan_blanks(&a);
    if (!st_scan_dash(&a) || a.at == a.end || !st_is_digit((unsigned char)*a.at))
        return false;
    *s = a;
    return true;
}

/* 1 read, 0 none here, -1 nonsense (told). */
static int read_term(struct reading *r, struct term *t)
{
    const char *why = "";
    *t = (struct term){ .times = 1.0, .word = r->s };

    t->negative = skip_minus(&r->s);
    const int got = st_number_read(&r->s, &t->n, &why);
    if (got < 0)
        return nonsense(r, &t->word, why), -1;
    if (got == 0)
        return read_unit_first(r, t);
    const int after = read_unit_after(r, t);
    if (after == 1 && !t->pick.unit && is_of_another_sort(r))
        return 0;
    return after;
}

/* ---- to base units ---- */

static bool to_base(const struct st_pick *pick, double x, double *base)
{
    if (!pick->unit) {
        *base = x;
        return x >= 0.0;
    }
    return st_unit_to_base(pick->unit, x, base) >= 0;
}

static enum st_dimension dim_of(const struct st_pick *pick)
{
    return pick->unit ? pick->unit->dim : ST_DIM_PIECE;
}

static bool is_possible(const struct st_pick *pick, double x)
{
    double base;
    return to_base(pick, x, &base) && base <= st_quantity_limit(dim_of(pick));
}

static void use(struct st_number *n, double x)
{
    n->value = n->low = n->high = x;
    n->doubt = ST_NUMBER_SURE;
}

/* Where the comma is the thousands mark, or only one reading makes sense, there is nothing to ask. */
static void settle_number(struct reading *r, struct term *t)
{
    if (t->n.doubt == ST_NUMBER_COMMA) {
        if (!is_possible(&t->pick, t->n.value * t->times))
            use(&t->n, t->n.other);
        else if (r->ask->measures == ST_MEASURES_US || r->ask->measures == ST_MEASURES_IMPERIAL || !t->pick.unit)
            use(&t->n, t->n.value);
    }
    if (t->n.doubt != ST_NUMBER_SURE && !r->question)
        ask_number(r, t, &t->word);
}

/* The factor of the unit as met, for a number at the low and high end. */
static void ends_of(const struct st_pick *pick, double low, double high, struct part *out)
{
    double unused;
    out->low = out->high = out->value;
    if (!pick->unit) {
        out->low = low;
        out->high = high;
    } else if (pick->low > 0.0) {
        out->low = low * pick->low;
        out->high = high * pick->high;
    } else {
        (void)st_unit_range(pick->unit, low, &out->low, &unused);
        (void)st_unit_range(pick->unit, high, &unused, &out->high);
    }
}

static bool to_part(struct reading *r, const struct term *t, struct part *out)
{
    const struct st_number *n = &t->n;
    const struct st_unit *u = t->pick.unit;

    *out = (struct part){ .dim = dim_of(&t->pick), .unit = u, .written = n->value * t->times };
    if (!to_base(&t->pick, out->written, &out->value))
        return false;
    if (!is_possible(&t->pick, n->low * t->times) || !is_possible(&t->pick, n->high * t->times))
        return false;
    ends_of(&t->pick, n->low * t->times, n->high * t->times, out);
    out->tool = u ? u->tool : ST_TOOL_COUNT_PIECES;
    if (out->tool == ST_TOOL_JIGGER && out->value > 120.0 * t->times)
        out->tool = ST_TOOL_JUG; /* nobody counts that many jiggers */
    out->fills = t->times > 1.0 ? t->times * st_fills_of(out->tool, n->value, out->value / t->times)
                                : st_fills_of(out->tool, out->written, out->value);
    out->vague = n->vague || (u && st_unit_is_vague(u));
    r->ounce = r->ounce || t->pick.ounce;
    if (!r->question)
        r->question = st_pick_question(&t->pick, &r->asked);
    return out->value <= st_quantity_limit(out->dim);
}

static bool settle(struct reading *r, struct term *t, struct part *out)
{
    if (t->negative) {
        if (dim_of(&t->pick) != ST_DIM_TEMPERATURE || t->n.doubt != ST_NUMBER_SURE || t->n.vague)
            return nonsense(r, &t->word, "an amount cannot be negative"), false;
        use(&t->n, -t->n.value);
    }
    settle_number(r, t);
    if (to_part(r, t, out))
        return true;
    const bool hot = dim_of(&t->pick) == ST_DIM_TEMPERATURE;
    nonsense(r, &t->word,
             dim_of(&t->pick) == ST_DIM_STRENGTH ? "a strength is between 0 and 100 % vol, or 0 and 200 proof"
             : hot                               ? "there is no such temperature in a kitchen"
                                                 : "it is far more than any kitchen holds");
    return false;
}

/* ---- ranges ---- */

static bool skip_to(struct reading *r, struct st_scan *s, bool *choice)
{
    struct st_scan a = *s;

    *choice = false;
    if (r->between)
        return st_scan_word(s, "and|to");
    st_scan_blanks(&a);
    if (st_scan_sign(&a, "..")) {
        (void)st_scan_sign(&a, ".");
    } else if (!st_scan_dash(&a) && !st_scan_word(&a, "to")) {
        *choice = st_scan_word(&a, "or");
        if (!*choice)
            return false;
    }
    *s = a;
    return true;
}

static bool skip_plus_minus(struct st_scan *s)
{
    struct st_scan a = *s;
    st_scan_blanks(&a);
    if (!st_scan_sign(&a, "\xc2\xb1") && !st_scan_sign(&a, "+/-") && !st_scan_sign(&a, "+-"))
        return false;
    *s = a;
    return true;
}

/* "5 ± 1 g": a with b about it.  Both parts have their units; b is a difference. */
static bool spread(struct part *a, const struct term *from, struct term *by)
{
    double low, high;
    const double x = from->n.value * from->times;

    if (!from->pick.unit && by->pick.unit)
        return false;
    if (!to_base(&from->pick, x - by->n.value, &low) || !to_base(&from->pick, x + by->n.value, &high))
        return false;
    a->low = low;
    a->high = high;
    return true;
}

static int read_spread(struct reading *r, struct term *first, struct part *out)
{
    struct reading ahead = *r;
    struct term by;

    if (!skip_plus_minus(&ahead.s) || read_term(&ahead, &by) != 1 || by.n.doubt != ST_NUMBER_SURE || by.negative ||
        by.times != 1.0)
        return 0;
    if (!first->pick.unit)
        first->pick = by.pick;
    else if (by.pick.unit && by.pick.unit != first->pick.unit)
        return 0;
    if (!settle(r, first, out))
        return -1;
    if (!spread(out, first, &by))
        return nonsense(r, &first->word, "the spread is wider than the amount"), -1;
    r->s = ahead.s;
    return 1;
}

/* The second end of a range: 1 read, 0 there is none, -1 nonsense. */
static int read_range(struct reading *r, struct term *first, struct part *out)
{
    struct reading ahead = *r;
    struct term second;
    struct part a, b;
    bool choice;

    if (first->n.vague || !skip_to(r, &ahead.s, &choice))
        return 0;
    const int got = read_term(&ahead, &second);
    if (got != 1 || (first->pick.unit && second.pick.unit && dim_of(&first->pick) != dim_of(&second.pick)))
        return got < 0 ? -1 : 0;
    if (choice && first->pick.unit && second.pick.unit)
        return 0; /* "8 oz or 225 g": the same twice */
    if (!second.n.figures && !first->pick.unit && !second.pick.unit && second.n.value == 1.0)
        return 0; /* "two or a lemon" is none */
    if (!second.pick.unit)
        second.pick = first->pick;
    if (!first->pick.unit)
        first->pick = second.pick;
    r->s = ahead.s;
    r->heap = ahead.heap;
    if (!settle(r, first, &a) || !settle(r, &second, &b))
        return -1;
    if (!(a.value <= b.value))
        return nonsense(r, &first->word, "the range runs downwards"), -1;
    *out = b;
    out->value = 0.5 * (a.value + b.value);
    out->written = 0.5 * (a.written + b.written);
    out->fills = 0.5 * (a.fills + b.fills);
    out->low = a.low;
    out->high = b.high;
    out->vague = a.vague || b.vague;
    return 1;
}

/* A number with its unit, or a range of them, as one part. */
static int read_part(struct reading *r, struct part *out)
{
    struct term t;
    int got = read_term(r, &t);

    if (got != 1)
        return got;
    got = read_spread(r, &t, out);
    if (got == 0)
        got = read_range(r, &t, out);
    if (got != 0)
        return got;
    if (r->between)
        return 0;
    return settle(r, &t, out) ? 1 : -1;
}

/* ---- sums ---- */

static bool is_pair(const struct st_unit *first, const struct st_unit *second)
{
    static const char *const PAIR[][2] = {
        { "lb_av", "oz_av" }, { "kg", "g" }, { "l", "ml" }, { "l", "cl" }, { "l", "dl" }, { "pint_us", "fl_oz_us" },
        { "pint_imp", "fl_oz_imp" },
    };
    if (first->dim == ST_DIM_TIME && second->dim == ST_DIM_TIME)
        return second->factor < first->factor;
    for (size_t i = 0; i < sizeof PAIR / sizeof PAIR[0]; i++)
        if (strcmp(first->key, PAIR[i][0]) == 0 && strcmp(second->key, PAIR[i][1]) == 0)
            return true;
    return false;
}

static void add(struct part *sum, const struct part *more)
{
    if (more->tool == sum->tool) {
        sum->fills = sum->tool == ST_TOOL_SCALE ? 1.0 : sum->fills + more->fills; /* weighed together */
    } else if (more->value > sum->value) {
        sum->tool = more->tool; /* the tool of the larger part stands for both */
        sum->fills = more->fills;
    }
    sum->value += more->value;
    sum->low += more->low;
    sum->high += more->high;
    sum->vague = sum->vague || more->vague;
    sum->written = sum->value / sum->unit->factor;
}

/* "a cup and a half" */
static bool read_and_half(struct reading *r, struct part *sum)
{
    struct reading ahead = *r;
    struct st_number n;
    struct st_pick pick;
    const char *why;

    if (!st_scan_word(&ahead.s, "and") || st_number_read(&ahead.s, &n, &why) != 1 || !(n.value < 1.0) || n.vague)
        return false;
    struct st_scan a = ahead.s;
    if (st_unit_read(&a, r->ask, &pick))
        return false;
    const struct part more = { sum->dim,  n.value * sum->unit->factor, n.value * sum->low / sum->written,
                               n.value * sum->high / sum->written, n.value, 1.0, sum->unit, sum->tool, false };
    add(sum, &more);
    r->s = ahead.s;
    return true;
}

static bool can_add(const struct part *sum)
{
    return sum->unit && sum->unit->scale == ST_SCALE_LINEAR && sum->written > 0.0 &&
           (sum->dim == ST_DIM_MASS || sum->dim == ST_DIM_VOLUME || sum->dim == ST_DIM_TIME);
}

/* 1 something was added, 0 nothing to add, -1 nonsense */
static int read_more(struct reading *r, struct part *sum)
{
    struct reading ahead = *r;
    struct part more;

    if (!can_add(sum))
        return 0;
    st_scan_blanks(&ahead.s);
    const bool told = st_scan_sign(&ahead.s, "+") || st_scan_sign(&ahead.s, "&") || st_scan_word(&ahead.s, "plus|and");
    if (!told && (ahead.s.at == ahead.s.end || !st_is_digit((unsigned char)*ahead.s.at)))
        return 0;
    struct term t;
    if (read_term(&ahead, &t) != 1 || !t.pick.unit || t.n.doubt != ST_NUMBER_SURE || dim_of(&t.pick) != sum->dim ||
        (!told && !is_pair(sum->unit, t.pick.unit)))
        return read_and_half(r, sum);
    if (!settle(&ahead, &t, &more))
        return -1;
    r->s = ahead.s;
    r->heap = ahead.heap;
    r->ounce = r->ounce || ahead.ounce;
    if (!r->question && ahead.question) {
        r->question = true;
        r->asked = ahead.asked;
    }
    add(sum, &more);
    return 1;
}

/* ---- the whole ---- */

static void widen(struct part *p, double by)
{
    p->low = fmax(p->low - by, 0.0);
    p->high += by;
}

static void apply_about(const struct reading *r, struct part *p)
{
    if (!r->about)
        return;
    p->vague = true;
    if (p->high > 1.03 * p->low)
        return; /* a range, or vague already */
    if (p->dim == ST_DIM_TEMPERATURE)
        widen(p, ABOUT_KELVIN);
    else if (p->dim == ST_DIM_STRENGTH)
        widen(p, ABOUT_PCT_VOL);
    else
        widen(p, ABOUT_SHARE * p->value);
    p->high = fmin(p->high, st_quantity_limit(p->dim));
}

/* Heaped and scant alone are left to the model as flags; anything less plain goes into the range. */
static void apply_heap(const struct reading *r, struct part *p, struct st_amount *out)
{
    const double *by = HEAP[r->heap];

    if (p->dim != ST_DIM_MASS && p->dim != ST_DIM_VOLUME)
        return;
    out->heaped = r->heap == HEAPED || r->heap == ROUNDED;
    out->scant = r->heap == SCANT;
    if (r->heap == LEVEL || (!(p->low < p->high) && (r->heap == HEAPED || r->heap == SCANT)))
        return;
    p->value *= by[0];
    p->low *= by[1];
    p->high *= by[2];
    p->vague = true;
}

static enum st_got finish(struct reading *r, struct part *p, const struct st_scan *from, struct st_amount *out)
{
    struct st_amount a = { .dim = p->dim, .written = p->written, .unit = p->unit, .tool = p->tool };

    apply_heap(r, p, &a);
    apply_about(r, p);
    if (!(p->value <= st_quantity_limit(p->dim)) || !(p->high <= st_quantity_limit(p->dim)))
        return nonsense(r, from, "it is far more than any kitchen holds");
    a.value = p->value;
    a.low = p->low;
    a.high = p->high;
    a.fills = p->fills;
    a.vague = p->vague;
    *out = a;
    if (!r->question)
        return ST_GOT_AMOUNT;
    r->asked.at = r->problem->at;
    *r->problem = r->asked;
    return ST_GOT_QUESTION;
}

/* Words before the number. */
static void read_prefix(struct reading *r)
{
    for (;;) {
        if (skip_about(&r->s))
            r->about = true;
        else if (!r->between && st_scan_word(&r->s, "between|from"))
            r->between = true;
        else {
            struct reading a = *r;
            struct st_number n;
            const char *why;
            struct st_scan look;
            if (!read_heap(&a.s, &a.heap))
                return;
            look = a.s;
            if (st_number_read(&look, &n, &why) != 1)
                return; /* "heaped tsp": the unit's business */
            *r = a;
        }
    }
}

enum st_got st_closed_read(struct st_scan *s, const struct st_ask *ask, struct st_amount *out, bool *ounce,
                           struct st_problem *problem)
{
    struct reading r = { .s = *s, .ask = ask, .problem = problem };
    struct part p;
    int got;

    st_scan_blanks(&r.s);
    const struct st_scan from = r.s;
    read_prefix(&r);
    got = read_part(&r, &p);
    if (got == 0)
        return none(&r, &from);
    while (got > 0)
        got = read_more(&r, &p);
    if (got < 0)
        return ST_GOT_NONSENSE;
    const enum st_got result = finish(&r, &p, &from, out);
    if (result >= 0) {
        *s = r.s;
        if (ounce)
            *ounce = *ounce || r.ounce;
    }
    return result;
}

enum st_got st_quantity_read(struct st_scan *s, const struct st_ask *ask, struct st_amount *out, bool *ounce,
                             struct st_problem *problem)
{
    const enum st_got got = st_open_read(s, ask, out, problem);
    return got == ST_GOT_NONE ? st_closed_read(s, ask, out, ounce, problem) : got;
}

int st_quantity_parse(const char *text, size_t size, enum st_measures measures, struct st_amount *out, size_t *used,
                      struct st_problem *problem)
{
    const struct st_ask ask = { measures, ST_DIMS_ALL, false, false };
    struct st_scan s = { text, text + size };
    struct st_amount a;

    *problem = (struct st_problem){ .at = { 0, 1 } };
    const enum st_got got = st_quantity_read(&s, &ask, &a, NULL, problem);
    if (got < 0)
        return -1;
    *used = (size_t)(s.at - text);
    if (got == ST_GOT_QUESTION)
        return 1;
    *problem = (struct st_problem){ 0 };
    *out = a;
    return 0;
}
