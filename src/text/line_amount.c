#include <math.h>
#include <stdio.h>
#include <string.h>

#include "line_draft.h"
#include "number.h"

/* A second amount may differ so much from the first and still mean the same: roundings between measures. */
static const double SAME_WITHIN = 1.25;

static const char NUMBER_WORDS[] =
    "a|an|one|two|three|four|five|six|seven|eight|nine|ten|twelve|half|quarter|third|few|several|couple|about|approx|"
    "approximately|around|circa|ca|roughly|between|from|pinch|handful|dash|splash|heaped|heaping|rounded|scant|"
    "generous";

static int conflict(struct st_draft *d, const struct st_found *f)
{
    char clip[40];
    st_scan_clip(d->text + f->at, f->end - f->at, clip, sizeof clip);
    return st_draft_stop(d, f->at, "a line has one amount of one thing",
                         "keep one of them, write a range such as 150-250 g, or write two lines",
                         "a second amount, '%s'", clip);
}

/* ---- taking what was found ---- */

static void use(struct st_draft *d, const struct st_found *f)
{
    d->has_amount = true;
    d->amount = f->a;
    for (size_t i = f->at; i < f->end; i++) {
        struct st_scan s = { d->text + i, d->text + f->end };
        if (st_draft_is_start(d, i) && d->text[i] != ' ' && st_scan_word(&s, "tins|tin|cans|can"))
            d->tinned = true;
    }
    if (f->got == ST_GOT_QUESTION) {
        d->asks = false; /* the amount's own question goes first */
        st_draft_question(d, f->at, &f->problem);
    }
}

static int rank(enum st_dimension dim)
{
    return dim == ST_DIM_MASS ? 3 : dim == ST_DIM_VOLUME ? 2 : dim == ST_DIM_PIECE ? 1 : 0;
}

/* Both amounts of one sort: a range over both when they are roundings of each other. */
static int join(struct st_draft *d, const struct st_found *f)
{
    struct st_amount *a = &d->amount;
    const double more = fmax(a->value, f->a.value), less = fmin(a->value, f->a.value);

    if (more > SAME_WITHIN * less)
        return conflict(d, f);
    a->low = fmin(a->low, f->a.low);
    a->high = fmax(a->high, f->a.high);
    a->value = 0.5 * (more + less);
    a->vague = a->vague || a->low < a->high;
    return 0;
}

/* "2 lemons, 100 g each" */
static bool times_each(struct st_draft *d, struct st_found *f)
{
    struct st_scan s = st_draft_from(d, f->end);

    if (d->amount.dim != ST_DIM_PIECE || !st_scan_word(&s, "each|apiece|a piece|per piece"))
        return false;
    f->end = (size_t)(s.at - d->work);
    const double n = d->amount.value;
    f->a.value *= n;
    f->a.low *= d->amount.low;
    f->a.high *= d->amount.high;
    f->a.written *= n;
    f->a.fills *= n > 1.0 ? n : 1.0;
    return true;
}

/* The same amount in other measures: the weight rules, then the volume. */
static int also(struct st_draft *d, struct st_found *f)
{
    struct st_scan s;

    (void)times_each(d, f);
    s = st_draft_from(d, f->end);
    if (d->amount.open != ST_CLOSED || f->a.open != ST_CLOSED || f->a.make_up_to || d->amount.make_up_to)
        return conflict(d, f);
    if (st_scan_word(&s, ST_GROSS_WORDS)) {
        st_draft_blank(d, f->end, (size_t)(s.at - d->work));
        if (d->amount.dim == f->a.dim) /* the other is then the net weight */
            return 0;
        d->gross = f->a.dim == ST_DIM_MASS;
    }
    if (st_scan_word(&s, ST_NET_WORDS) && f->a.dim == ST_DIM_MASS) {
        d->net = true;
        d->amount.dim = ST_DIM_PIECE; /* what stands before is the weight as bought */
    }
    if (f->got == ST_GOT_QUESTION)
        return 0;
    if (!d->net && !d->asks && rank(d->amount.dim) == rank(f->a.dim))
        return join(d, f);
    if (d->asks || rank(f->a.dim) > rank(d->amount.dim)) {
        d->asks = false;
        use(d, f);
    }
    return 0;
}

/* ---- looking for one ---- */

static bool read_at(struct st_draft *d, size_t at, struct st_found *f)
{
    struct st_scan s = st_draft_from(d, at);
    const bool number = st_draft_is_number(d, at);
    struct st_scan word = s;

    *f = (struct st_found){ .at = at };
    f->got = st_open_read(&s, &d->ask, &f->a, &f->problem);
    if (f->got == ST_GOT_NONE && (number || st_scan_word(&word, NUMBER_WORDS)))
        f->got = st_closed_read(&s, &d->ask, &f->a, &d->ounce, &f->problem);
    f->end = (size_t)(s.at - d->work);
    word = st_draft_from(d, at);
    if (f->a.open == ST_OPEN_COVER && st_scan_word(&word, "covered|cover") && word.at == s.at)
        return false; /* "chocolate covered almonds" */
    return f->got >= 0;
}

static bool ends_here(const struct st_draft *d, size_t at)
{
    struct st_scan s = st_draft_from(d, at);
    st_scan_blanks(&s);
    (void)st_scan_sign(&s, ".");
    (void)st_scan_sign(&s, ")");
    st_scan_blanks(&s);
    return s.at == s.end;
}

/* What stands between the amount and the last comma, bracket or "or" before it: nothing? */
static bool is_set_off(const struct st_draft *d, size_t at)
{
    size_t i = at;

    while (i > 0 && d->work[i - 1] == ' ')
        i--;
    if (i == 0)
        return true;
    if (strchr(",;(/=:[", d->work[i - 1]))
        return true;
    return i >= 3 && (d->work[i - 1] | 0x20) == 'r' && (d->work[i - 2] | 0x20) == 'o' && d->work[i - 3] == ' ';
}

static bool is_added(const struct st_draft *d, size_t at)
{
    size_t i = at;

    while (i > 0 && d->work[i - 1] == ' ')
        i--;
    if (i > 0 && (d->work[i - 1] == '+' || d->work[i - 1] == '&'))
        return true;
    size_t from = i;
    while (from > 0 && st_is_letter((unsigned char)d->work[from - 1]))
        from--;
    struct st_scan s = { d->work + from, d->work + i };
    return st_scan_word(&s, "plus|and") && s.at == s.end;
}

/* A bare count counts only at the end ("lemons, 2"), and only when nothing else was found. */
static bool is_amount(const struct st_draft *d, const struct st_found *f)
{
    if (f->a.dim == ST_DIM_PIECE && !f->a.unit)
        return !d->has_amount && ends_here(d, f->end) && st_draft_is_number(d, f->at);
    return f->a.dim != ST_DIM_OPEN || f->a.open != ST_OPEN_SOME || !d->has_amount;
}

static int later_amount(struct st_draft *d, struct st_found *f)
{
    if (!d->has_amount || (d->amount.open == ST_OPEN_SOME && d->amount.dim == ST_DIM_OPEN)) {
        use(d, f);
    } else {
        if (is_added(d, f->at) || (f->a.dim != ST_DIM_OPEN && !f->a.make_up_to && !is_set_off(d, f->at)))
            return conflict(d, f);
        if (also(d, f))
            return -1;
    }
    st_draft_blank(d, f->at, f->end);
    st_draft_blank_before(d, f->at, "or|ie|i.e|namely|eg");
    return 0;
}

/* ---- "juice of 2 lemons" ---- */

static const char PARTS[] = "juice|juices|zest|zests|peel|peels|rind|rinds|yolk|yolks|white|whites";

static int part_of(struct st_draft *d, size_t at)
{
    struct st_scan s = st_draft_from(d, at);
    struct st_found f;

    while (st_scan_word(&s, "the|finely|thinly|coarsely|freshly|grated|pared|squeezed|fresh|strained|outer"))
        continue;
    st_scan_blanks(&s);
    const struct st_scan part = s;
    if (!st_scan_word(&s, PARTS))
        return 0;
    const size_t n = (size_t)(s.at - part.at);
    if (st_scan_word(&s, "and juice|and zest|and peel|and rind|and the juice|and grated zest|& juice|& zest"))
        return st_draft_stop(d, at, "they are two ingredients", "write two lines, one for each",
                             "two things in one line");
    if (!st_scan_word(&s, "of|from"))
        return 0;
    st_scan_blanks(&s);
    if (!read_at(d, (size_t)(s.at - d->work), &f) || f.a.dim != ST_DIM_PIECE)
        return st_draft_stop(d, at, "the weight of the fruit does not tell what its juice or peel weighs",
                             "count the fruit (`juice of 2 lemons`), or measure the juice or peel itself",
                             "cannot tell how much this is");
    memcpy(d->part, part.at, n);
    if (d->part[n - 1] == 's')
        d->part[n - 1] = '\0';
    use(d, &f);
    st_draft_blank(d, at, f.end);
    return 0;
}

/* ---- the front ---- */

static int front(struct st_draft *d, size_t at)
{
    struct st_scan s = st_draft_from(d, at);
    struct st_found f = { .at = at };

    f.got = st_quantity_read(&s, &d->ask, &f.a, &d->ounce, &f.problem);
    f.end = (size_t)(s.at - d->work);
    if (f.got == ST_GOT_NONSENSE) {
        *d->problem = f.problem;
        d->problem->at.column = (int)at + 1;
        return -1;
    }
    if (f.got < 0)
        return 0;
    if (f.a.make_up_to && !st_scan_word(&s, "with"))
        return st_draft_stop(d, at, "it is not said what is filled up with", "write for example: water to 1000 mL",
                             "a total without its liquid");
    if (f.a.make_up_to || f.a.open != ST_CLOSED)
        f.end = (size_t)(s.at - d->work);
    use(d, &f);
    st_draft_blank(d, at, f.end);
    return 0;
}

static size_t skip_bullet(const struct st_draft *d)
{
    struct st_scan s = st_draft_from(d, 0);

    st_scan_blanks(&s);
    struct st_scan a = s;
    if ((st_scan_sign(&a, "-") || st_scan_sign(&a, "*") || st_scan_sign(&a, "\xe2\x80\xa2") ||
         st_scan_sign(&a, "\xe2\x80\x93")) &&
        st_scan_blanks(&a))
        s = a;
    return (size_t)(s.at - d->work);
}

/* "vodka ,5 L": a decimal sign, or a comma with the blank on its wrong side. */
static void ask_of_comma(struct st_draft *d, size_t from)
{
    struct st_problem p = { .is_question = 1 };
    int n = 0;
    size_t i = from + 1;

    while (i < d->n && !(d->text[i] == ',' && d->text[i - 1] == ' ' && st_is_digit((unsigned char)d->text[i + 1])))
        i++;
    while (i + 1 + (size_t)n < d->n && n < 12 && st_is_digit((unsigned char)d->text[i + 1 + (size_t)n]))
        n++;
    if (i >= d->n)
        return;
    const char *digits = d->text + i + 1;
    (void)snprintf(p.what, sizeof p.what, "two ways to read ',%.*s'", n, digits);
    (void)snprintf(p.why, sizeof p.why,
                   "the comma may be a decimal sign (0.%.*s), or part %.*s from the word before it", n, digits, n,
                   digits);
    (void)snprintf(p.try_, sizeof p.try_, "write 0.%.*s, or %.*s without the comma", n, digits, n, digits);
    st_draft_question(d, i, &p);
}

int st_draft_amount(struct st_draft *d)
{
    const size_t at = skip_bullet(d);
    struct st_found f;

    if (part_of(d, at) || (!d->has_amount && front(d, at)))
        return -1;
    st_draft_blank(d, 0, at);
    for (size_t i = at; i < d->n; i++) {
        if (d->work[i] == ' ' || !st_draft_is_start(d, i) || !read_at(d, i, &f) || !is_amount(d, &f))
            continue;
        if (later_amount(d, &f))
            return -1;
        i = f.end - 1;
    }
    ask_of_comma(d, at);
    return 0;
}
