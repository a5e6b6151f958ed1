#include "quantity_term.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- messages ---- */

/* What stands at the word, up to two blanks: there an ingredient line has taken out what it understood. */
static size_t echo_of(const struct st_scan *word)
{
    enum { MOST = 60 };
    const size_t all = (size_t)(word->end - word->at), most = all < MOST ? all : MOST;
    size_t n = 0;

    while (n < most && !(word->at[n] == ' ' && (n + 1 == all || word->at[n + 1] == ' ')))
        n++;
    return n;
}

static void say(struct st_problem *p, const struct st_scan *word, const char *before, const char *why, const char *try_)
{
    struct st_scan from = *word;
    char clip[48];

    st_scan_blanks(&from);
    st_scan_clip(from.at, echo_of(&from), clip, sizeof clip);
    p->is_question = 0;
    (void)snprintf(p->what, sizeof p->what, "%s '%s'", before, clip);
    (void)snprintf(p->why, sizeof p->why, "%s", why);
    (void)snprintf(p->try_, sizeof p->try_, "%s", try_);
}

enum st_got st_term_nonsense(struct st_reading *r, const struct st_scan *from, const char *why)
{
    say(r->problem, from, "cannot read the amount", why, "write for example 250 g, 1 1/2 cups, 700 mL");
    return ST_GOT_NONSENSE;
}

enum st_got st_term_none(struct st_reading *r, const struct st_scan *from)
{
    say(r->problem, from, "no amount in", "an amount is a number with a unit, or a word such as `to taste`",
        "write for example 250 g, 1 1/2 cups, 700 mL");
    return ST_GOT_NONE;
}

/* "1,234 g" where nothing tells the comma from a point. */
static void ask_number(struct st_reading *r, const struct st_term *t, const struct st_scan *from)
{
    struct st_problem *p = &r->asked;
    const char *unit = t->pick.unit ? t->pick.unit->plural : "pieces";

    say(p, from, "two ways to read", "", "");
    if (t->n.doubt == ST_NUMBER_GAP) {
        (void)snprintf(p->why, sizeof p->why, "the blank may part thousands (%.0f %s) or two numbers", t->n.value,
                       unit);
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

bool st_scan_about(struct st_scan *s)
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

bool st_scan_heap(struct st_scan *s, enum st_heap *heap)
{
    if (st_scan_word(s, "heaped|heaping|piled"))
        *heap = ST_HEAPED;
    else if (st_scan_word(s, "rounded"))
        *heap = ST_ROUNDED;
    else if (st_scan_word(s, "generous|good|well filled"))
        *heap = ST_GENEROUS;
    else if (st_scan_word(s, "scant|scanty|short"))
        *heap = ST_SCANT;
    else if (st_scan_word(s, "level|levelled|leveled|flat"))
        *heap = ST_LEVEL;
    else
        return false;
    return true;
}

/* Words between number and unit that say how it is filled. */
static void read_manner(struct st_scan *s, enum st_heap *heap)
{
    while (st_scan_heap(s, heap) ||
           st_scan_word(s, "large|big|small|packed|firmly|lightly|loosely|tightly|of a|of an|of|a|an"))
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
    if (a.at == a.end || !(st_is_digit((unsigned char)*a.at) || *a.at == '.' || *a.at == ','))
        return false;
    *s = a;
    return true;
}

bool st_scan_container(struct st_scan *s)
{
    return st_scan_word(s,
                        "tins|tin|cans|can|jars|jar|packets|packet|packs|pack|pkts|pkt|packages|package|pkg|bags|bag|"
                        "boxes|box|sachets|sachet|punnets|punnet|bottles|bottle|tubs|tub|cartons|carton|blocks|block|"
                        "glasses|glass|baskets|basket|bunches|bunch|bundles|bundle|trays|tray|nets|net");
}

/* ---- a term ---- */

/* "(400 g) tin", "tin (400 g)", "750 mL bottle" is nothing special: 2 = number of them, then what each holds. */
static bool read_each(struct st_reading *r, struct st_term *t)
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
static int read_unit_first(struct st_reading *r, struct st_term *t)
{
    struct st_scan a = r->s;
    const char *why;
    enum st_heap heap = ST_LEVEL;
    const bool heaped = st_scan_heap(&a, &heap);

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
static int read_unit_after(struct st_reading *r, struct st_term *t)
{
    const char *why = "";
    struct st_number second;
    struct st_scan a = r->s;

    if (t->n.doubt == ST_NUMBER_SURE && !t->n.vague && skip_times(&a)) {
        const int got = st_number_read(&a, &second, &why);
        if (got < 0)
            return st_term_nonsense(r, &t->word, why), -1;
        if (got > 0) {
            t->times = t->n.value;
            t->n = second;
            r->s = a;
        }
    }
    if (read_each(r, t))
        return 1;
    enum st_heap heap = r->heap;
    a = r->s;
    if (st_unit_read(&a, r->ask, &t->pick)) {
        (void)st_scan_heap(&a, &heap);
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
static bool is_of_another_sort(const struct st_reading *r)
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
int st_term_read(struct st_reading *r, struct st_term *t)
{
    const char *why = "";
    *t = (struct st_term){ .times = 1.0, .word = r->s };

    t->negative = skip_minus(&r->s);
    const int got = st_number_read(&r->s, &t->n, &why);
    if (got < 0)
        return st_term_nonsense(r, &t->word, why), -1;
    if (got == 0)
        return read_unit_first(r, t);
    const int after = read_unit_after(r, t);
    if (after == 1 && !t->pick.unit && is_of_another_sort(r))
        return 0;
    return after;
}

/* ---- to base units ---- */

bool st_pick_base(const struct st_pick *pick, double x, double *base)
{
    if (!pick->unit) {
        *base = x;
        return x >= 0.0;
    }
    return st_unit_to_base(pick->unit, x, base) >= 0;
}

enum st_dimension st_pick_dim(const struct st_pick *pick)
{
    return pick->unit ? pick->unit->dim : ST_DIM_PIECE;
}

static bool is_possible(const struct st_pick *pick, double x)
{
    double base;
    return st_pick_base(pick, x, &base) && base <= st_quantity_limit(st_pick_dim(pick));
}

static void use(struct st_number *n, double x)
{
    n->value = n->low = n->high = x;
    n->doubt = ST_NUMBER_SURE;
}

/* Where the comma is the thousands mark, or only one reading makes sense, there is nothing to ask. */
static void settle_number(struct st_reading *r, struct st_term *t)
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
static void ends_of(const struct st_pick *pick, double low, double high, struct st_part *out)
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

static bool to_part(struct st_reading *r, const struct st_term *t, struct st_part *out)
{
    const struct st_number *n = &t->n;
    const struct st_unit *u = t->pick.unit;

    *out = (struct st_part){ .dim = st_pick_dim(&t->pick), .unit = u, .written = n->value * t->times };
    if (!st_pick_base(&t->pick, out->written, &out->value))
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

bool st_term_settle(struct st_reading *r, struct st_term *t, struct st_part *out)
{
    if (t->negative) {
        if (st_pick_dim(&t->pick) != ST_DIM_TEMPERATURE || t->n.doubt != ST_NUMBER_SURE || t->n.vague)
            return st_term_nonsense(r, &t->word, "an amount cannot be negative"), false;
        use(&t->n, -t->n.value);
    }
    settle_number(r, t);
    if (to_part(r, t, out))
        return true;
    const bool hot = st_pick_dim(&t->pick) == ST_DIM_TEMPERATURE;
    st_term_nonsense(r, &t->word,
                     st_pick_dim(&t->pick) == ST_DIM_STRENGTH
                         ? "a strength is between 0 and 100 % vol, or 0 and 200 proof"
                     : hot ? "there is no such temperature in a kitchen"
                           : "it is far more than any kitchen holds");
    return false;
}
