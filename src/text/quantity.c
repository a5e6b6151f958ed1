#include "quantity.h"

#include <math.h>
#include <string.h>

#include "quantity_term.h"

/* What a spoon or cup holds then, as a share of level: middle, low, high.  Heaped: reference notes, from memory; the
 * others from memory. */
static const double HEAP[][3] = {
    [ST_LEVEL] = { 1, 1, 1 },           [ST_HEAPED] = { 1.45, 1.3, 1.6 },
    [ST_ROUNDED] = { 1.3, 1.15, 1.45 }, [ST_GENEROUS] = { 1.1, 1.05, 1.15 },
    [ST_SCANT] = { 0.9, 0.85, 0.95 },
};

/* "about": by how much, common practice without a source. */
static const double ABOUT_SHARE = 0.10, ABOUT_KELVIN = 3.0, ABOUT_PCT_VOL = 2.0;

/* ---- ranges ---- */

static bool skip_to(struct st_reading *r, struct st_scan *s, bool *choice)
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
static bool spread(struct st_part *a, const struct st_term *from, struct st_term *by)
{
    double low, high;
    const double x = from->n.value * from->times;

    if (!from->pick.unit && by->pick.unit)
        return false;
    if (!st_pick_base(&from->pick, x - by->n.value, &low) || !st_pick_base(&from->pick, x + by->n.value, &high))
        return false;
    a->low = low;
    a->high = high;
    return true;
}

static int read_spread(struct st_reading *r, struct st_term *first, struct st_part *out)
{
    struct st_reading ahead = *r;
    struct st_term by;

    if (!skip_plus_minus(&ahead.s) || st_term_read(&ahead, &by) != 1 || by.n.doubt != ST_NUMBER_SURE || by.negative ||
        by.times != 1.0)
        return 0;
    if (!first->pick.unit)
        first->pick = by.pick;
    else if (by.pick.unit && by.pick.unit != first->pick.unit)
        return 0;
    if (!st_term_settle(r, first, out))
        return -1;
    if (!spread(out, first, &by))
        return st_term_nonsense(r, &first->word, "the spread is wider than the amount"), -1;
    r->s = ahead.s;
    return 1;
}

/* The second end of a range: 1 read, 0 there is none, -1 nonsense. */
static int read_range(struct st_reading *r, struct st_term *first, struct st_part *out)
{
    struct st_reading ahead = *r;
    struct st_term second;
    struct st_part a, b;
    bool choice;

    if (first->n.vague || !skip_to(r, &ahead.s, &choice))
        return 0;
    const int got = st_term_read(&ahead, &second);
    if (got != 1 || (first->pick.unit && second.pick.unit && st_pick_dim(&first->pick) != st_pick_dim(&second.pick)))
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
    if (!st_term_settle(r, first, &a) || !st_term_settle(r, &second, &b))
        return -1;
    if (!(a.value <= b.value))
        return st_term_nonsense(r, &first->word, "the range runs downwards"), -1;
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
static int read_part(struct st_reading *r, struct st_part *out)
{
    struct st_term t;
    int got = st_term_read(r, &t);

    if (got != 1)
        return got;
    got = read_spread(r, &t, out);
    if (got == 0)
        got = read_range(r, &t, out);
    if (got != 0)
        return got;
    if (r->between)
        return 0;
    return st_term_settle(r, &t, out) ? 1 : -1;
}

/* ---- sums ---- */

static bool is_pair(const struct st_unit *first, const struct st_unit *second)
{
    static const char *const PAIR[][2] = {
        { "lb_av", "oz_av" },
        { "kg", "g" },
        { "l", "ml" },
        { "l", "cl" },
        { "l", "dl" },
        { "pint_us", "fl_oz_us" },
        { "pint_imp", "fl_oz_imp" },
    };
    if (first->dim == ST_DIM_TIME && second->dim == ST_DIM_TIME)
        return second->factor < first->factor;
    for (size_t i = 0; i < sizeof PAIR / sizeof PAIR[0]; i++)
        if (strcmp(first->key, PAIR[i][0]) == 0 && strcmp(second->key, PAIR[i][1]) == 0)
            return true;
    return false;
}

static void add(struct st_part *sum, const struct st_part *more)
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
static bool read_and_half(struct st_reading *r, struct st_part *sum)
{
    struct st_reading ahead = *r;
    struct st_number n;
    struct st_pick pick;
    const char *why;

    if (!st_scan_word(&ahead.s, "and") || st_number_read(&ahead.s, &n, &why) != 1 || !(n.value < 1.0) || n.vague)
        return false;
    struct st_scan a = ahead.s;
    if (st_unit_read(&a, r->ask, &pick))
        return false;
    const struct st_part more = { sum->dim,
                                  n.value * sum->unit->factor,
                                  n.value * sum->low / sum->written,
                                  n.value * sum->high / sum->written,
                                  n.value,
                                  1.0,
                                  sum->unit,
                                  sum->tool,
                                  false };
    add(sum, &more);
    r->s = ahead.s;
    return true;
}

static bool can_add(const struct st_part *sum)
{
    return sum->unit && sum->unit->scale == ST_SCALE_LINEAR && sum->written > 0.0 &&
           (sum->dim == ST_DIM_MASS || sum->dim == ST_DIM_VOLUME || sum->dim == ST_DIM_TIME);
}

/* 1 something was added, 0 nothing to add, -1 nonsense */
static int read_more(struct st_reading *r, struct st_part *sum)
{
    struct st_reading ahead = *r;
    struct st_part more;

    if (!can_add(sum))
        return 0;
    st_scan_blanks(&ahead.s);
    const bool told = st_scan_sign(&ahead.s, "+") || st_scan_sign(&ahead.s, "&") || st_scan_word(&ahead.s, "plus|and");
    if (!told && (ahead.s.at == ahead.s.end || !st_is_digit((unsigned char)*ahead.s.at)))
        return 0;
    struct st_term t;
    if (st_term_read(&ahead, &t) != 1 || !t.pick.unit || t.n.doubt != ST_NUMBER_SURE ||
        st_pick_dim(&t.pick) != sum->dim || (!told && !is_pair(sum->unit, t.pick.unit)))
        return read_and_half(r, sum);
    if (!st_term_settle(&ahead, &t, &more))
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

static void widen(struct st_part *p, double by)
{
    p->low = fmax(p->low - by, 0.0);
    p->high += by;
}

static void apply_about(const struct st_reading *r, struct st_part *p)
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
static void apply_heap(const struct st_reading *r, struct st_part *p, struct st_amount *out)
{
    const double *by = HEAP[r->heap];

    if (p->dim != ST_DIM_MASS && p->dim != ST_DIM_VOLUME)
        return;
    out->heaped = r->heap == ST_HEAPED || r->heap == ST_ROUNDED;
    out->scant = r->heap == ST_SCANT;
    if (r->heap == ST_LEVEL || (!(p->low < p->high) && (r->heap == ST_HEAPED || r->heap == ST_SCANT)))
        return;
    p->value *= by[0];
    p->low *= by[1];
    p->high *= by[2];
    p->vague = true;
}

static enum st_got finish(struct st_reading *r, struct st_part *p, const struct st_scan *from, struct st_amount *out)
{
    struct st_amount a = { .dim = p->dim, .written = p->written, .unit = p->unit, .tool = p->tool };

    apply_heap(r, p, &a);
    apply_about(r, p);
    if (!(p->value <= st_quantity_limit(p->dim)) || !(p->high <= st_quantity_limit(p->dim)))
        return st_term_nonsense(r, from, "it is far more than any kitchen holds");
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
static void read_prefix(struct st_reading *r)
{
    for (;;) {
        if (st_scan_about(&r->s))
            r->about = true;
        else if (!r->between && st_scan_word(&r->s, "between|from"))
            r->between = true;
        else {
            struct st_reading a = *r;
            struct st_number n;
            const char *why;
            struct st_scan look;
            if (!st_scan_heap(&a.s, &a.heap))
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
    struct st_reading r = { .s = *s, .ask = ask, .problem = problem };
    struct st_part p = { 0 };
    int got;

    st_scan_blanks(&r.s);
    const struct st_scan from = r.s;
    read_prefix(&r);
    got = read_part(&r, &p);
    if (got == 0)
        return st_term_none(&r, &from);
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
