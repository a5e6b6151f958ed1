#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "held.h"
#include "number.h"
#include "take_inside.h"

/* One ingredient: remarks first, then strength, amounts, name; what is understood is blanked, what is left is the name.
 */

void st_item_doubt(struct st_take_item *out, enum st_sure sure, const char *why, ...)
{
    va_list args;

    if (sure < out->sure || (sure == out->sure && out->because[0]))
        return;
    out->sure = sure;
    va_start(args, why);
    (void)vsnprintf(out->because, sizeof out->because, why, args);
    va_end(args);
}

struct st_take_ask *st_item_ask(struct st_take_item *out, enum st_take_kind kind, const char *ask)
{
    for (int i = 0; i < out->n_ask; i++)
        if (out->ask[i].kind == kind)
            return NULL;
    if (out->n_ask == ST_TAKE_ASKS)
        return NULL;
    struct st_take_ask *a = &out->ask[out->n_ask++];
    *a = (struct st_take_ask){ .kind = kind };
    (void)snprintf(a->ask, sizeof a->ask, "%s", ask);
    return a;
}

bool st_word_begins(const char *text, size_t i)
{
    if (i == 0)
        return true;
    const unsigned char b = (unsigned char)text[i - 1];
    return !(st_is_letter(b) || st_is_digit(b) || b >= 0x80 || b == '\'');
}

static void blank(struct st_item *it, size_t from, size_t to)
{
    memset(it->d.work + from, ' ', to - from);
}

/* ---- phrases that mean something wherever they stand ---- */

static void take_remark(struct st_item *it, const struct st_word *w)
{
    if (strcmp(w->value, "gross") == 0) {
        it->gross = true;
    } else if (strcmp(w->value, "net") == 0) {
        it->net = true;
        if (strlen(w->phrase) < sizeof it->remark)
            (void)snprintf(it->remark, sizeof it->remark, "%s", w->phrase);
    } else if (strcmp(w->value, "hot") == 0) {
        it->hot = true;
    } else if (strcmp(w->value, "about") == 0) {
        st_item_doubt(it->out, ST_LIKELY, "the amount as written is taken");
    } else if (strcmp(w->value, "whole") == 0) {
        it->whole = true;
    }
}

static void take_phrase(struct st_item *it, const struct st_word *w)
{
    switch (w->what) {
    case ST_WORD_REMARK: take_remark(it, w); break;
    case ST_WORD_MAYBE: it->out->optional = true; break;
    case ST_WORD_LESS: it->less = true; break;
    case ST_WORD_SAME: it->same = true; break;
    case ST_WORD_STRONG: it->strong = w; break;
    default: break;
    }
}

/* "100 g per 500 ml": how much hangs on another thing. */
static void find_per(struct st_item *it)
{
    for (size_t i = 3; i < it->d.n; i++) {
        struct st_scan s = { it->d.work + i, it->d.work + it->d.n };
        if (*s.at == ' ' || !st_word_begins(it->d.work, i) ||
            !st_scan_word(&s, "per|for every|for each|to every|to each"))
            continue;
        st_scan_blanks(&s);
        if (!st_is_digit((unsigned char)*s.at))
            continue;
        it->same = true;
        blank(it, i, it->d.n);
    }
}

static void find_phrases(struct st_item *it)
{
    const unsigned long long classes = ST_WORD_BIT(ST_WORD_REMARK) | ST_WORD_BIT(ST_WORD_MAYBE) |
                                       ST_WORD_BIT(ST_WORD_LESS) | ST_WORD_BIT(ST_WORD_SAME) |
                                       ST_WORD_BIT(ST_WORD_STRONG);

    for (size_t i = 0; i < it->d.n; i++) {
        struct st_scan s = { it->d.work + i, it->d.work + it->d.n };
        if (*s.at == ' ' || !st_word_begins(it->d.work, i))
            continue;
        const struct st_word *w = st_words_at(&s, classes);
        if (!w)
            continue;
        take_phrase(it, w);
        size_t end = (size_t)(s.at - it->d.work);
        if (w->what == ST_WORD_SAME && strncmp(w->phrase, "part", 4) != 0 && i > 3) /* "for each litre of liquor" */
            while (end < it->d.n && !strchr(",;()", it->d.work[end]))
                end++;
        if (w->what != ST_WORD_STRONG)
            blank(it, i, end);
        i = end - 1;
    }
}

/* "(not 300 as in the first version)", "but no stones": what is said not to be counts for nothing. */
static void blank_nots(struct st_item *it)
{
    for (size_t i = 1; i < it->d.n; i++) {
        struct st_scan s = { it->d.work + i, it->d.work + it->d.n };
        if (*s.at == ' ' || !st_word_begins(it->d.work, i) || !st_words_at(&s, ST_WORD_BIT(ST_WORD_NOT)))
            continue;
        size_t end = i;
        while (end < it->d.n && !strchr(",;)(", it->d.work[end]) &&
               !(it->d.work[end] == '-' && it->d.work[end - 1] == ' ' && it->d.work[end + 1] == ' '))
            end++; /* "vodka - never gin - 70 cl" */
        blank(it, i, end);
    }
}

/* "400 ml coffee, made with 60 g of beans": what it was made of does not go in besides. */
static void blank_makings(struct st_item *it)
{
    for (size_t i = 6; i < it->d.n; i++) {
        struct st_scan s = { it->d.work + i, it->d.work + it->d.n };
        if (*s.at == ' ' || !st_word_begins(it->d.work, i) || !st_scan_word(&s, ST_MADE_OF))
            continue;
        for (size_t k = 0; k < i; k++)
            if (st_is_digit((unsigned char)it->d.work[k])) {
                blank(it, i, it->d.n);
                return;
            }
    }
}

/* ---- strength ---- */

/* "ABV 40", "40 vol", "96°": a figure that only the word beside it makes a strength. */
static void find_bare_strength(struct st_item *it)
{
    for (size_t i = 0; i < it->d.n; i++) {
        struct st_scan s = { it->d.work + i, it->d.work + it->d.n };
        struct st_number n;
        const char *why;
        if (it->d.work[i] == ' ' || !st_word_begins(it->d.work, i))
            continue;
        const bool before = st_scan_word(&s, "abv|alc|alcohol|strength|vol");
        while (before && s.at < s.end && strchr(" .:", *s.at))
            s.at++;
        if ((!before && !st_is_digit((unsigned char)*s.at)) || st_number_read(&s, &n, &why) != 1 || n.value > 100.0 ||
            n.value < 3.0)
            continue;
        if (!before && !st_scan_word(&s, "vol|degrees") && !st_scan_sign(&s, "\xc2\xb0"))
            continue;
        if (before)
            (void)st_scan_sign(&s, "\xc2\xb0");
        struct st_scan after = s;
        if (st_scan_word(&after, "c|f|celsius") || (before && st_scan_word(&after, "g|ml|l|cl|kg")))
            continue;
        it->d.strength = (struct st_range){ n.value, n.low, n.high, true, 'u', "" };
        size_t first = i, back = i;
        while (back > 0 && it->d.work[back - 1] == ' ')
            back--;
        if (before && it->d.work[i] == 'a' && it->d.work[i + 3] == 'o' && back > 0 &&
            !strchr(",(", it->d.work[back - 1]))
            first += 7; /* "500 ml alcohol 95": the name itself */
        blank(it, first, (size_t)(s.at - it->d.work));
        return;
    }
}

/* "95% alcohol": the unit took the name with it. */
static bool give_back_alcohol(struct st_item *it)
{
    size_t end = it->d.strength_at + it->d.strength_n;

    while (end > it->d.strength_at && strchr(" .", it->d.text[end - 1]))
        end--; /* "96% alcohol." */
    if (!it->d.strength.known || it->d.strength_n < 8 || strncmp(it->d.text + end - 7, "alcohol", 7) != 0)
        return false;
    memcpy(it->d.work + end - 7, "alcohol", 7);
    return true;
}

/* "140 %": nothing is stronger than pure. */
static void find_too_strong(struct st_item *it)
{
    for (size_t i = 0; i < it->d.n; i++) {
        struct st_scan s = { it->d.work + i, it->d.work + it->d.n };
        struct st_number n;
        const char *why;
        if (!st_is_digit((unsigned char)*s.at) || !st_word_begins(it->d.work, i))
            continue;
        if (st_number_read(&s, &n, &why) != 1 || n.value <= 100.0)
            continue;
        st_scan_blanks(&s);
        if (!st_scan_sign(&s, "%"))
            continue;
        it->too_strong = n.value;
        blank(it, i, (size_t)(s.at - it->d.work));
        return;
    }
}

/* Numbers in words before "proof": "hundred-proof bourbon". */
static void find_strength(struct st_item *it)
{
    struct st_problem unused = { 0 };

    it->d.problem = &unused;
    it->d.pasted = true;
    (void)st_draft_strength(&it->d);
    if (it->d.dashed)
        st_item_doubt(it->out, ST_LIKELY, "the sign before the strength is taken for a dash");
    if (!it->d.strength.known)
        find_bare_strength(it);
    if (!it->d.strength.known)
        find_too_strong(it);
    (void)st_draft_temperature(&it->d);
    it->d.problem = NULL;
    if (it->d.strength.known && it->strong)
        it->strong = NULL;
}

/* The figure belongs to the name where the thing is no drink: "70 % dark chocolate". */
static void give_back_strength(struct st_item *it)
{
    if (it->what && it->d.strength.known && it->what->kind != ST_KIND_SPIRIT && it->what->kind != ST_KIND_WINE)
        it->d.strength = (struct st_range){ 0 };
}

/* ---- poison ---- */

static const struct st_ingredient *poison_named(const struct st_item *it, const char *word)
{
    const struct st_ingredient *in = st_catalogue_find(it->c, word, strlen(word));

    if (!in)
        in = st_held_stop(it->c, word, strlen(word));
    return in ? in : st_catalogue_find(it->c, "denatured alcohol", strlen("denatured alcohol"));
}

static const char *denatured_text(const struct st_ingredient *in)
{
    for (int i = 0; in && i < in->n_caution; i++)
        if (strcmp(in->caution[i].what, "denatured") == 0)
            return in->caution[i].text;
    return NULL;
}

/* What must not go into a drink is never read as a spirit. */
static bool refuse(struct st_item *it, const struct st_ingredient *in)
{
    const char *text = denatured_text(in);

    it->out->role = ST_TAKE_INGREDIENT;
    st_item_doubt(it->out, ST_UNREAD, "%.110s",
                  text ? text : "spirits for other uses hold poisons that no steeping or straining takes out");
    (void)st_item_ask(it->out, ST_ASK_WHICH,
                      "Was a spirit sold for drinking meant? Then write which, with its strength");
    it->out->line = (struct st_line){ .text = "", .from_step = -1, .what = in };
    if (it->main >= 0)
        it->out->line.amount = it->sum[it->main].a;
    it->out->line.strength = it->d.strength;
    return true;
}

static bool find_poison(struct st_item *it, const struct st_ingredient **in)
{
    for (size_t i = 0; i < it->d.n; i++) {
        struct st_scan s = { it->d.text + i, it->d.text + it->d.n };
        if (*s.at == ' ' || !st_word_begins(it->d.text, i))
            continue;
        const struct st_word *w = st_words_at(&s, ST_WORD_BIT(ST_WORD_POISON));
        if (!w)
            continue;
        *in = poison_named(it, w->phrase);
        return true;
    }
    return false;
}

/* ---- the whole ---- */

static bool begin(struct st_item *it, const char *text, size_t n, const struct st_catalogue *c,
                  struct st_take_context *context, struct st_take_item *out)
{
    while (n > 0 && text[n - 1] == ' ')
        n--;
    while (n > 0 && *text == ' ')
        text++, n--;
    memset(it, 0, sizeof *it);
    *out = (struct st_take_item){ .role = ST_TAKE_INGREDIENT, .line = { .text = "", .from_step = -1 } };
    it->c = c;
    it->context = context;
    it->out = out;
    it->part = "";
    it->main = -1;
    if (n == 0 || n > ST_ITEM_LIMIT) {
        st_item_doubt(out, ST_UNREAD, n ? "it is too long for one thing" : "nothing is there");
        return false;
    }
    it->d.text = text;
    it->d.n = n;
    it->d.ask = (struct st_ask){ context->measures, ST_DIMS_GOODS, false, false };
    memcpy(it->d.work, text, n);
    it->d.work[n] = '\0';
    return true;
}

/* "zest of 2 big ones": what the line before was about. */
static bool same_as_before(struct st_item *it)
{
    static const char ONES[] = "ones|of them|of these|of those|more|others";

    if (!it->context->last)
        return false;
    for (size_t i = 0; i < it->d.n; i++) {
        struct st_scan s = { it->d.work + i, it->d.work + it->d.n };
        if (*s.at == ' ' || !st_word_begins(it->d.work, i) || !st_scan_word(&s, ONES))
            continue;
        const char *last = it->context->last->name;
        (void)snprintf(it->name, sizeof it->name, "%s", strncmp(last, "whole ", 6) == 0 ? last + 6 : last);
        it->name[strcspn(it->name, ",")] = '\0';
        it->what = it->context->last;
        if (it->part[0]) {
            char whole[ST_LINE_NAME + 12];
            (void)snprintf(whole, sizeof whole, "%.180s %s", it->name, it->part);
            it->what = st_catalogue_find(it->c, whole, strlen(whole));
        }
        if (it->what)
            st_item_doubt(it->out, ST_LIKELY, "read as %.40s, as in the line before", it->name);
        return it->what != NULL;
    }
    return false;
}

static bool find_name(struct st_item *it)
{
    struct st_take_item before = *it->out;

    if (st_item_name(it))
        return true;
    struct st_take_item unread = *it->out;
    *it->out = before;
    if (give_back_alcohol(it) ? st_item_name(it) : same_as_before(it))
        return true;
    *it->out = unread;
    return false;
}

/* One of these words in the text, with a blank and then what `behind` says. */
static bool stands_before(const struct st_item *it, const char *words, bool (*behind)(const struct st_item *, size_t))
{
    for (size_t i = 0; i < it->d.n; i++) {
        struct st_scan s = { it->d.text + i, it->d.text + it->d.n };
        if (*s.at == ' ' || !st_word_begins(it->d.text, i) || !st_scan_word(&s, words) || !st_scan_blanks(&s))
            continue;
        if (behind(it, (size_t)(s.at - it->d.text)))
            return true;
    }
    return false;
}

static bool is_figure_at(const struct st_item *it, size_t at)
{
    return at < it->d.n && st_is_digit((unsigned char)it->d.text[at]);
}

static bool is_name_at(const struct st_item *it, size_t at)
{
    const size_t n = strlen(it->name);
    return n > 0 && at + n <= it->d.n && strncasecmp(it->d.text + at, it->name, n) == 0;
}

static const struct {
    const char *words;
    double share; /* 0: not told */
} SHARE[] = {
    { "half of the|half of my|half of our|half the|half my|1/2 of the", 1.0 / 2.0 },
    { "a third of the|one third of the|1/3 of the", 1.0 / 3.0 },
    { "two thirds of the|2/3 of the", 2.0 / 3.0 },
    { "a quarter of the|one quarter of the|1/4 of the", 1.0 / 4.0 },
    { "three quarters of the|3/4 of the", 3.0 / 4.0 },
    { "most of the|some of the|part of the|the rest of the", 0.0 },
};

size_t st_item_share(const char *text, size_t at, size_t end)
{
    struct st_scan s = { text + at, text + end };
    for (size_t k = 0; k < sizeof SHARE / sizeof *SHARE; k++)
        if (st_scan_word(&s, SHARE[k].words) && st_scan_blanks(&s))
            return (size_t)(s.at - text) - at;
    return 0;
}

/* "Half of the 1 kg cherries": 500 g of them, and whether it is not all of the 1 kg is asked. */
static void find_share(struct st_item *it)
{
    size_t k = 0;
    while (k < sizeof SHARE / sizeof *SHARE && !stands_before(it, SHARE[k].words, is_figure_at))
        k++;
    if (it->main < 0 || k == sizeof SHARE / sizeof *SHARE)
        return;
    struct st_sum *sum = &it->sum[it->main];
    const bool weighed = sum->a.dim == ST_DIM_MASS || sum->a.dim == ST_DIM_VOLUME;
    const double share = SHARE[k].share;
    it->conflict = true;
    if (!(share > 0.0) || !weighed || sum->question || sum->size || it->n_sum == ST_ITEM_AMOUNTS) {
        st_item_doubt(it->out, ST_GUESS, "only a part of it is spoken of: all of it is taken until it is told");
        return;
    }
    st_item_doubt(it->out, ST_GUESS, "a part of %.40s is spoken of", sum->words);
    it->sum[it->n_sum++] = *sum;
    sum->a.value *= share;
    sum->a.low *= share;
    sum->a.high *= share;
    sum->made = true;
    (void)snprintf(sum->words, sizeof sum->words, "%.4g %s", sum->a.value, sum->a.dim == ST_DIM_MASS ? "g" : "mL");
}

/* "Drained sloes" lay in spirit before, unless they are out of a tin ("cherries in syrup, drained"). */
static void find_used(struct st_item *it)
{
    if (st_kind_is_solid(it->what->kind) &&
        stands_before(
            it, "drained|strained|spent|used|already steeped|steeped|spirit soaked|spirit-soaked|leftover|left over",
            is_name_at))
        st_item_doubt(it->out, ST_LIKELY,
                      "it counts as fresh; what drained fruit still holds, and the liquor on it, is not reckoned");
}

static void understand(struct st_item *it)
{
    st_item_reread(it);
    st_item_choose(it);
    give_back_strength(it);
    if (strcmp(it->out->or_slug, it->what->slug) == 0)
        it->out->or_slug[0] = '\0'; /* "bullaces or damsons" */
    if (it->less)
        st_item_doubt(it->out, ST_LIKELY, "less is said to do too: the amount as written is taken");
    find_share(it);
    find_used(it);
    st_item_say(it);
}

bool st_item_read(const char *text, size_t n, const struct st_catalogue *c, struct st_take_context *context,
                  struct st_take_item *out)
{
    struct st_item it;
    const struct st_ingredient *poison = NULL;

    if (!begin(&it, text, n, c, context, out))
        return false;
    const bool poisoned = find_poison(&it, &poison);
    find_phrases(&it);
    find_per(&it);
    blank_nots(&it);
    blank_makings(&it);
    find_strength(&it);
    st_item_or(&it);
    st_item_amounts(&it);
    st_item_choose(&it);
    st_item_other_part(&it);
    if (poisoned)
        return refuse(&it, poison);
    if (!find_name(&it)) {
        if (it.main >= 0)
            out->line.amount = it.sum[it.main].a;
        st_item_options(&it);
        st_item_doubt(out, ST_UNREAD, "no ingredient is found in it");
        return it.n_sum > 0;
    }
    if (denatured_text(it.what))
        return refuse(&it, it.what);
    understand(&it);
    if (out->sure != ST_UNREAD)
        context->last = it.what;
    return true;
}
