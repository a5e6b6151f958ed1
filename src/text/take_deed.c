#include <stdio.h>
#include <string.h>

#include "number.h"
#include "quantity.h"
#include "quantity_term.h"
#include "take_inside.h"

/* A sentence of the method: what is done, how long, how warm, and what is named with an amount. */

enum { MOST_CLAUSES = 12, MOST_STEPS = 4 };

struct clause {
    size_t at, end;
    const struct st_word *verb; /* NULL: none */
    size_t verb_end;
};

/* ---- parting a sentence at its verbs ---- */

static struct st_scan scan(const char *text, size_t from, size_t to)
{
    return (struct st_scan){ text + from, text + to };
}

static void skip_signs(struct st_scan *s)
{
    while (s->at < s->end && strchr(" ,;:.-()\xe2", *s->at) && *s->at != '\0') {
        if (!st_scan_dash(s) && !st_scan_blanks(s))
            s->at++;
    }
}

/* "another week" */
static bool read_another(struct st_scan *s, const struct st_ask *ask, struct st_amount *out)
{
    struct st_scan a = *s;
    struct st_problem p;
    char one[32];

    if (!st_scan_word(&a, "another|a further|one more") || !st_scan_blanks(&a))
        return false;
    (void)snprintf(one, sizeof one, "1 %.*s", (int)(a.end - a.at < 20 ? a.end - a.at : 20), a.at);
    struct st_scan b = { one, one + strlen(one) };
    if (!st_is_letter((unsigned char)*a.at) || st_closed_read(&b, ask, out, NULL, &p) != ST_GOT_AMOUNT ||
        out->dim != ST_DIM_TIME)
        return false;
    s->at = a.at + (b.at - one) - 2;
    return true;
}

/* A time, as "6 weeks", "overnight"; s goes behind it. */
static bool read_time(struct st_scan *s, struct st_amount *out)
{
    const struct st_ask ask = { ST_MEASURES_NONE, ST_DIM_BIT(ST_DIM_TIME), false, false };
    struct st_scan a = *s;
    struct st_problem p;
    size_t used;

    const bool about = st_scan_about(&a);
    st_scan_blanks(&a);
    const struct st_word *w = st_words_at(&a, ST_WORD_BIT(ST_WORD_TIME));
    if (w && st_quantity_parse(w->value, strlen(w->value), ST_MEASURES_NONE, out, &used, &p) == 0) {
        *s = a;
        return true;
    }
    a = *s;
    if (read_another(&a, &ask, out)) {
        *s = a;
        return true;
    }
    if (st_closed_read(&a, &ask, out, NULL, &p) != ST_GOT_AMOUNT || out->dim != ST_DIM_TIME)
        return false;
    struct st_scan so = a;
    if (st_scan_word(&so, "or so|or thereabouts|at least|or more") && !about) {
        out->low *= 0.9;
        out->high *= 1.15;
        out->vague = true;
    }
    *s = a;
    return !st_scan_word(&so, "old|ago");
}

/* "then", "after 6 weeks", "3 weeks later", "when it is cold,": what may stand before the verb. */
static void skip_lead(struct st_scan *s)
{
    struct st_amount unused;

    for (;;) {
        skip_signs(s);
        struct st_scan a = *s;
        if (st_words_at(&a, ST_WORD_BIT(ST_WORD_DEED)))
            return;
        a = *s;
        if (st_words_at(&a, ST_WORD_BIT(ST_WORD_LEAD))) {
            *s = a;
            continue;
        }
        (void)st_scan_word(&a, "after|about|another|for another|at least");
        st_scan_blanks(&a);
        if (!read_time(&a, &unused))
            return;
        (void)st_scan_word(&a, "later|on|after that");
        *s = a;
    }
}

/* "When cool, ...", "Once the sugar has dissolved, ...": up to the comma. */
static void skip_when(struct st_scan *s)
{
    struct st_scan a = *s;

    st_scan_blanks(&a);
    if (!st_scan_word(&a, "when|once|as soon as|after|at the end of|on|every"))
        return;
    const char *comma = memchr(a.at, ',', (size_t)(a.end - a.at));
    if (comma && comma - a.at < 80)
        s->at = comma + 1;
}

static const struct st_word *verb_at(struct st_scan *s)
{
    skip_lead(s);
    struct st_scan a = *s;
    const struct st_word *w = st_words_at(&a, ST_WORD_BIT(ST_WORD_DEED));
    struct st_scan of = a;
    if (w && (strcmp(w->value, "other") == 0 || strcmp(w->value, "none") == 0) &&
        (st_scan_word(&of, "of|from|and zest|and juice|and peel|and rind") || st_scan_sign(&of, " &")))
        return NULL; /* "zest of 2 lemons" */
    *s = w ? a : *s;
    return w;
}

bool st_deed_begins(const char *text, size_t n)
{
    struct st_scan s = { text, text + n };

    if (verb_at(&s))
        return true;
    s = (struct st_scan){ text, text + n };
    skip_when(&s);
    return verb_at(&s) != NULL;
}

/* Where a new clause may begin: behind a comma, "and", "then", "but". */
static bool joins(struct st_scan *s)
{
    if (st_scan_sign(s, ",") || st_scan_sign(s, ";") || st_scan_sign(s, ":") || st_scan_sign(s, " - ") ||
        st_scan_sign(s, "\xe2\x80\x94"))
        return true;
    return st_scan_word(s, "and then|and|then|but|before");
}

static int part(const char *text, size_t n, struct clause c[MOST_CLAUSES])
{
    struct st_scan s = { text, text + n };
    int count = 1;

    c[0] = (struct clause){ 0, n, NULL, 0 };
    struct st_scan v = s;
    if (!(c[0].verb = verb_at(&v))) {
        v = s;
        skip_when(&v);
        c[0].verb = verb_at(&v);
    }
    c[0].verb_end = (size_t)(v.at - text);
    for (size_t i = c[0].verb ? c[0].verb_end : 0; i < n && count < MOST_CLAUSES; i++) {
        struct st_scan j = scan(text, i, n);
        if ((st_is_letter((unsigned char)text[i]) && !st_word_begins(text, i)) || text[i] == ' ' || !joins(&j))
            continue;
        struct st_scan not = j;
        st_scan_blanks(&not );
        v = j;
        const struct st_word *verb = verb_at(&v);
        const bool never = st_words_at(&not, ST_WORD_BIT(ST_WORD_NOT)) != NULL;
        if (!verb && !never)
            continue;
        c[count - 1].end = i;
        c[count++] = (struct clause){ (size_t)(j.at - text), n, never ? NULL : verb, (size_t)(v.at - text) };
        i = (verb && !never ? (size_t)(v.at - text) : (size_t)(j.at - text)) - 1;
    }
    return count;
}

/* ---- what a clause says of its deed ---- */

static bool says(const char *text, const struct clause *c, const char *words)
{
    for (size_t i = c->at; i < c->end; i++) {
        struct st_scan s = scan(text, i, c->end);
        if (text[i] != ' ' && st_word_begins(text, i) && st_scan_word(&s, words))
            return true;
    }
    return false;
}

static void find_time(const char *text, const struct clause *c, struct st_amount *out)
{
    *out = (struct st_amount){ .dim = ST_DIM_OPEN, .open = ST_OPEN_SOME };
    for (size_t i = c->at; i < c->end; i++) {
        struct st_scan s = scan(text, i, c->end);
        struct st_amount a;
        if (text[i] == ' ' || !st_word_begins(text, i) || !read_time(&s, &a))
            continue;
        *out = a;
        return;
    }
}

static void find_temperature(const char *text, const struct clause *c, struct st_range *out)
{
    const struct st_ask ask = { ST_MEASURES_NONE, ST_DIM_BIT(ST_DIM_TEMPERATURE), false, false };

    for (size_t i = c->at; i < c->end; i++) {
        struct st_scan s = scan(text, i, c->end);
        struct st_amount a;
        struct st_problem p;
        if (!(st_is_digit((unsigned char)text[i]) || strchr("-gG", text[i])) || !st_word_begins(text, i) ||
            st_closed_read(&s, &ask, &a, NULL, &p) != ST_GOT_AMOUNT || a.dim != ST_DIM_TEMPERATURE)
            continue;
        *out = (struct st_range){ a.value, a.low, a.high, true, 'u', "" };
        return;
    }
}

/* "into three 350 ml bottles", "2 x 500 ml bottles". */
static void find_bottles(const char *text, const struct clause *c, struct st_take_deed *d)
{
    const struct st_ask volume = { ST_MEASURES_NONE, ST_DIM_BIT(ST_DIM_VOLUME), false, false };

    for (size_t i = c->verb_end; i < c->end; i++) {
        struct st_scan s = scan(text, i, c->end), one;
        struct st_number n;
        struct st_amount a;
        struct st_problem p;
        const char *why;
        struct st_scan wait = s;
        struct st_amount unused;
        if (text[i] == ' ' || !st_word_begins(text, i))
            continue;
        if (read_time(&wait, &unused)) { /* "keep 1 year" */
            i = (size_t)(wait.at - text) - 1;
            continue;
        }
        if (st_number_read(&s, &n, &why) != 1)
            continue;
        one = scan(text, i, c->end);
        if (st_closed_read(&one, &volume, &a, NULL, &p) == ST_GOT_AMOUNT && a.dim == ST_DIM_VOLUME) {
            struct st_scan x = s;
            st_scan_blanks(&x);
            const bool times = (st_scan_sign(&x, "x") || st_scan_sign(&x, "*")) && n.value >= 1.0 && n.value <= 1000.0;
            d->bottles = times ? (int)n.value : d->bottles;
            d->size_ml = times ? a.value / n.value : a.value;
            return;
        }
        if (n.value < 2.0 && !st_is_digit((unsigned char)text[i]))
            continue; /* "into a clean bottle" tells no number */
        if (n.value >= 1.0 && n.value <= 1000.0 && n.doubt == ST_NUMBER_SURE && !st_scan_word(&s, "weeks|days"))
            d->bottles = (int)n.value;
    }
}

static bool speaks_of_sugar(const char *text, size_t n)
{
    const struct clause all = { 0, n, NULL, 0 };
    return says(text, &all, "sugar|sugars|syrup|honey|sweetener|it dissolves|dissolved");
}

static const char PAPER[] = "paper|papers|coffee filter|coffee filters|filter paper|filter papers|coffee paper";
static const char RIPENING[] = "mature|before drinking|before you drink|before serving|before opening|before tasting|"
                               "to age|age|mellow|to rest|in the bottle|bottles|settle|clear";

/* What kind of step the verb makes; ST_NDO: none of its own. */
static enum st_do kind_of(const char *text, size_t n, const struct clause *c, bool strained, bool filled)
{
    static const struct {
        const char *value;
        enum st_do kind;
    } PLAIN[] = { { "steep", ST_DO_STEEP },   { "rack", ST_DO_RACK },   { "fine", ST_DO_FINE },
                  { "toast", ST_DO_TOAST },   { "blend", ST_DO_BLEND }, { "rest", ST_DO_REST },
                  { "bottle", ST_DO_BOTTLE }, { "press", ST_DO_STEEP } };
    const char *v = c->verb->value;
    struct st_amount time;

    if (strcmp(v, "bottle") == 0 && says(text, c, "jar|jars|crock|demijohn|carboy|vessel") &&
        !says(text, c, "bottle|bottles|bottling|flask|flasks"))
        return ST_NDO; /* "fill into a 3 litre jar" */
    for (size_t i = 0; i < sizeof PLAIN / sizeof PLAIN[0]; i++)
        if (strcmp(v, PLAIN[i].value) == 0)
            return PLAIN[i].kind;
    find_time(text, c, &time);
    if (strcmp(v, "strain") == 0)
        return says(text, c, PAPER) || strained ? ST_DO_FILTER : ST_DO_STEEP;
    if (strcmp(v, "remove") == 0)
        return time.dim == ST_DIM_TIME ? ST_DO_STEEP : ST_NDO;
    if (strcmp(v, "filter") == 0)
        return ST_DO_FILTER;
    if (strcmp(v, "syrup") == 0)
        return speaks_of_sugar(text, n) ? ST_DO_SYRUP : ST_NDO;
    if (strcmp(v, "put") == 0)
        return says(text, c, "bottle|bottles|flasks|flask") && !says(text, c, "jar|jars|crock|bottle of|bottles of")
                   ? ST_DO_BOTTLE
                   : ST_NDO;
    if (strcmp(v, "add") == 0)
        return says(text, c, "to clear it|to clear|to fine|as finings") ? ST_DO_FINE : ST_NDO;
    if (strcmp(v, "stand") == 0 && (time.dim == ST_DIM_TIME || says(text, c, "until")))
        return strained || says(text, c, RIPENING) ? ST_DO_REST : ST_DO_STEEP;
    if (strcmp(v, "keep") == 0 && time.dim == ST_DIM_TIME)
        return filled && !strained && !says(text, c, RIPENING) ? ST_DO_STEEP : ST_DO_REST;
    return ST_NDO;
}

/* ---- steps ---- */

struct steps {
    struct st_take_item *item;
    int n, room;
};

static struct st_take_item *last_of(const struct steps *s, enum st_do kind)
{
    for (int i = s->n - 1; i >= 0; i--)
        if (s->item[i].role == ST_TAKE_STEP && s->item[i].deed.kind == kind)
            return &s->item[i];
    return NULL;
}

static bool has_after_steep(const struct steps *s)
{
    return last_of(s, ST_DO_FILTER) || last_of(s, ST_DO_BOTTLE) || last_of(s, ST_DO_RACK);
}

static const char PRESS[] = "squeeze|squeezing|press|pressing|wring|wringing";
static const char NO_PRESS[] = "do not squeeze|don't squeeze|do not press|don't press|without squeezing|without "
                               "pressing|not squeezing|no squeezing|resist squeezing|never squeeze|never press";

static void add_step(struct steps *s, const char *text, const struct clause *c, enum st_do kind)
{
    struct st_take_item *old = last_of(s, kind), *item = old;
    struct st_take_deed d = { .kind = kind };

    find_time(text, c, &d.time);
    find_temperature(text, c, &d.temperature_K);
    d.press = (says(text, c, PRESS) || strcmp(c->verb->value, "press") == 0) && !says(text, c, NO_PRESS);
    d.strain = kind == ST_DO_STEEP && (strcmp(c->verb->value, "strain") == 0 || strcmp(c->verb->value, "press") == 0);
    if (kind == ST_DO_BOTTLE)
        find_bottles(text, c, &d);
    if (!old) {
        if (s->n == s->room)
            return;
        item = &s->item[s->n++];
        *item = (struct st_take_item){ .role = ST_TAKE_STEP, .deed = d, .at = c->at, .n = c->end - c->at };
        item->line = (struct st_line){ .text = "", .from_step = -1 };
        (void)snprintf(item->as, sizeof item->as, "%s", st_do_name(kind));
        return;
    }
    if (item->deed.time.dim != ST_DIM_TIME)
        item->deed.time = d.time;
    if (!item->deed.temperature_K.known)
        item->deed.temperature_K = d.temperature_K;
    item->deed.press = item->deed.press || d.press;
    item->deed.strain = item->deed.strain || d.strain;
    if (d.size_ml > 0.0)
        item->deed.size_ml = d.size_ml;
    if (d.bottles > 0)
        item->deed.bottles = d.bottles;
}

/* ---- things named with an amount ---- */

static const char EDGES[] = "in|into|over|onto|from|until|for|on|through|at|by|per|and|with|to|of the|plus|using";

/* ", 38 %" goes on with the thing before. */
static bool tells_strength(const char *text, size_t at, size_t end)
{
    const struct st_ask ask = { ST_MEASURES_NONE, ST_DIM_BIT(ST_DIM_STRENGTH), false, false };
    struct st_scan s = scan(text, at, end);
    struct st_amount a;
    struct st_problem p;

    (void)st_scan_word(&s, "at|about");
    return st_closed_read(&s, &ask, &a, NULL, &p) >= 0 && a.dim == ST_DIM_STRENGTH;
}

/* ", stones and all" goes on with it too. */
static size_t tells_how_weighed(const char *text, size_t at, size_t end)
{
    struct st_scan s = scan(text, at, end);
    st_scan_blanks(&s);
    const struct st_word *w = st_words_at(&s, ST_WORD_BIT(ST_WORD_REMARK));
    return w && strcmp(w->value, "gross") == 0 ? (size_t)(s.at - text) : 0;
}

/* Where the words about one thing end. */
static size_t phrase_end(const char *text, size_t from, size_t end)
{
    int depth = 0;

    for (size_t i = from; i < end; i++) {
        struct st_scan s = scan(text, i, end);
        depth += text[i] == '(' ? 1 : text[i] == ')' ? -1 : 0;
        if (depth > 0)
            continue;
        if (text[i] == ',' && tells_strength(text, i + 1, end))
            continue;
        const size_t weighed = text[i] == ',' ? tells_how_weighed(text, i + 1, end) : 0;
        if (weighed) {
            i = weighed - 1;
            continue;
        }
        if ((text[i] == ',' || text[i] == ';') && !(i + 1 < end && st_is_digit((unsigned char)text[i + 1])) &&
            !st_is_digit((unsigned char)text[i + 1]))
            return i;
        struct st_scan of = s;
        if (st_scan_word(&of, "at|of") && tells_strength(text, i + 2, end))
            continue;
        const size_t shell =
            i > from && text[i] != ' ' && st_word_begins(text, i) ? tells_how_weighed(text, i, end) : 0;
        if (shell) { /* "in the shell" */
            i = shell - 1;
            continue;
        }
        if (i > from && text[i] != ' ' && st_word_begins(text, i) && st_scan_word(&s, EDGES))
            return i;
    }
    return end;
}

static bool is_vessel(const char *text, size_t from, size_t to)
{
    const struct clause c = { from, to, NULL, 0 };
    return says(text, &c,
                "jar|jars|vessel|demijohn|carboy|crock|container|barrel|cask|keg|bottle|bottles|pan|saucepan|"
                "bowl|jug|lid|times|minutes|weeks|days|months|hours|turns|layers|cm|inches|flasks|degrees");
}

static bool has_article(const char *text, size_t from, size_t to)
{
    const struct clause c = { from, to, NULL, 0 };
    return says(text, &c, "the|it|them|this|that|these|your");
}

/* "half the sugar" */
static bool tells_share(const char *text, size_t from, size_t to)
{
    struct st_scan s = scan(text, from, to);
    return st_scan_word(&s, "half|a third|two thirds|a quarter|three quarters|1/2|1/3|2/3|1/4|3/4");
}

/* Is what was read worth an item?  Names without an amount were listed before. */
static bool keeps(const struct st_take_item *item, const char *text, size_t from, size_t name, size_t to)
{
    const struct st_amount *a = &item->line.amount;

    if (item->sure == ST_UNREAD)
        return item->line.what || ((item->line.amount.dim == ST_DIM_MASS || item->line.amount.dim == ST_DIM_VOLUME) &&
                                   item->line.amount.unit && item->n_ask > 0 && !is_vessel(text, from, to));
    struct st_scan article = scan(text, from, to);
    if (a->dim == ST_DIM_PIECE && st_scan_word(&article, "a|an") &&
        (item->sure != ST_SURE || item->line.what->kind == ST_KIND_SYRUP || item->line.what->kind == ST_KIND_SPIRIT))
        return false; /* "through a coffee paper", "to a syrup" */
    if (a->dim == ST_DIM_OPEN && a->open == ST_OPEN_SOME)
        return (item->n_ask > 0 && item->ask[0].kind == ST_ASK_AMOUNT) || tells_share(text, from, to);
    return a->dim != ST_DIM_OPEN || !has_article(text, name, to);
}

static bool is_warmth(const char *text, size_t i, size_t end)
{
    const struct st_ask ask = { ST_MEASURES_NONE, ST_DIM_BIT(ST_DIM_TEMPERATURE), false, false };
    struct st_scan s = scan(text, i, end);
    struct st_amount a;
    struct st_problem p;
    return st_is_digit((unsigned char)text[i]) && st_closed_read(&s, &ask, &a, NULL, &p) >= 0 &&
           a.dim == ST_DIM_TEMPERATURE;
}

/* Begins with an amount that has a unit, a count, or is open by its verb ("cover with"). */
static bool opens(const char *text, size_t i, size_t end, enum st_measures m, bool *open)
{
    const struct st_ask ask = { m, ST_DIMS_GOODS, false, false };
    struct st_scan s = scan(text, i, end), word = s;
    struct st_amount a;
    struct st_problem p;

    *open = false;
    if (is_warmth(text, i, end))
        return false;
    if (st_scan_word(&s, "juice of|zest of|peel of|rind of|juice from|white of|whites of|yolk of|yolks of"))
        return true;
    s = scan(text, i, end);
    if (st_open_read(&s, &ask, &a, &p) == ST_GOT_AMOUNT) {
        *open = a.open == ST_OPEN_COVER || a.open == ST_OPEN_FILL || a.open == ST_OPEN_TOP_UP || a.make_up_to;
        return *open;
    }
    if (!st_is_digit((unsigned char)text[i]) && !((unsigned char)text[i] == 0xc2 || (unsigned char)text[i] == 0xe2) &&
        !st_words_at(&word, ST_WORD_BIT(ST_WORD_COUNT) | ST_WORD_BIT(ST_WORD_BOTTLE) | ST_WORD_BIT(ST_WORD_SAME)))
        return false;
    s = scan(text, i, end);
    if (st_closed_read(&s, &ask, &a, NULL, &p) >= 0)
        return true;
    word = scan(text, i, end);
    return st_words_at(&word, ST_WORD_BIT(ST_WORD_BOTTLE) | ST_WORD_BIT(ST_WORD_SAME)) != NULL;
}

static void read_goods(struct steps *s, const char *text, const struct clause *c, const struct st_catalogue *cat,
                       struct st_take_context *context)
{
    const bool put = strcmp(c->verb->value, "put") == 0;
    bool open;

    for (size_t i = put ? c->at : c->verb_end; i < c->end && s->n < s->room; i++) {
        struct st_scan time = scan(text, i, c->end);
        struct st_amount unused;
        if (text[i] == ' ' || !st_word_begins(text, i))
            continue;
        if (read_time(&time, &unused)) {
            i = (size_t)(time.at - text) - 1;
            continue;
        }
        if (!opens(text, i, c->end, context->measures, &open))
            continue;
        struct st_take_item item;
        size_t end = phrase_end(text, i, c->end), name = i;
        if (open || (end < c->end && strncmp(text + end, "of ", 3) == 0)) { /* "fill a jar two thirds with sloes" */
            while (end < c->end && text[end] != ' ')
                end++;
            name = end;
            end = phrase_end(text, end, c->end);
        }
        size_t at = i;
        bool got = st_item_read(text + i, end - i, cat, context, &item);
        if (open && (!got || item.sure == ST_UNREAD)) { /* "pour brandy over until covered" */
            at = name = c->verb_end;
            got = st_item_read(text + at, end - at, cat, context, &item);
        }
        if (!got)
            continue;
        if (!keeps(&item, text, i, name, end)) {
            if (item.sure == ST_UNREAD)
                continue;
            i = end - 1;
            continue;
        }
        if (says(text, c, "every day|each day|daily|every week|each week|every morning")) {
            st_item_doubt(&item, ST_GUESS, "how often it goes in is not reckoned: once is taken");
            (void)st_item_ask(&item, ST_ASK_AMOUNT, "How much is that in all?");
        }
        item.at = at;
        item.n = end - at;
        s->item[s->n++] = item;
        i = end - 1;
    }
}

static bool is_condition(const char *text, size_t n)
{
    struct st_scan s = { text, text + n };
    return st_scan_word(&s, "if|unless|should|otherwise|in case");
}

int st_deed_read(const char *text, size_t n, const struct st_catalogue *c, struct st_take_context *context, bool filled,
                 struct st_take_item item[], int room)
{
    struct clause clause[MOST_CLAUSES];
    struct steps s = { item, 0, room };

    if (is_condition(text, n))
        return 0;
    const int count = part(text, n, clause);
    bool strained = false;

    for (int i = 0; i < count; i++) {
        const struct clause *k = &clause[i];
        if (!k->verb)
            continue;
        const int before = s.n;
        if (strcmp(k->verb->value, "none") != 0)
            read_goods(&s, text, k, c, context);
        const enum st_do kind = kind_of(text, n, k, strained || has_after_steep(&s), filled);
        if (kind == ST_DO_FILTER && strcmp(k->verb->value, "strain") == 0 && !strained && !has_after_steep(&s) &&
            says(text, k, "sieve|muslin|colander|cloth|jelly bag|cheesecloth|linen"))
            add_step(&s, text, k, ST_DO_STEEP); /* "through a sieve, then through paper" */
        if (kind == ST_DO_BOTTLE && strcmp(k->verb->value, "put") == 0 && s.n > before)
            continue; /* "into a big bottle with 8 oz of sugar": no bottling */
        strained = (strained && strcmp(k->verb->value, "put") != 0) || strcmp(k->verb->value, "strain") == 0;
        filled = filled || strcmp(k->verb->value, "put") == 0;
        if (strcmp(k->verb->value, "press") == 0 && s.n > before)
            continue; /* "squeeze 4 lemons" */
        if (kind != ST_NDO && !(kind == ST_DO_BLEND && i == 0 && s.n > 0))
            add_step(&s, text, k, kind);
    }
    return s.n;
}
