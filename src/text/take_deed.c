#include <stdio.h>
#include <string.h>

#include "number.h"
#include "quantity.h"
#include "quantity_term.h"
#include "take_deed.h"

/* A sentence of the method: what is done, how long, how warm, and what is named with an amount. */

enum { MOST_CLAUSES = 12, MOST_STEPS = 4 };

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
bool st_deed_time(struct st_scan *s, struct st_amount *out)
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
        if (!st_deed_time(&a, &unused))
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

static int part(const char *text, size_t n, struct st_clause c[MOST_CLAUSES])
{
    struct st_scan s = { text, text + n };
    int count = 1;

    c[0] = (struct st_clause){ 0, n, NULL, 0 };
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
        c[count++] = (struct st_clause){ (size_t)(j.at - text), n, never ? NULL : verb, (size_t)(v.at - text) };
        i = (verb && !never ? (size_t)(v.at - text) : (size_t)(j.at - text)) - 1;
    }
    return count;
}

/* ---- what a clause says of its deed ---- */

bool st_clause_says(const char *text, const struct st_clause *c, const char *words)
{
    for (size_t i = c->at; i < c->end; i++) {
        struct st_scan s = scan(text, i, c->end);
        if (text[i] != ' ' && st_word_begins(text, i) && st_scan_word(&s, words))
            return true;
    }
    return false;
}

static void find_time(const char *text, const struct st_clause *c, struct st_amount *out)
{
    *out = (struct st_amount){ .dim = ST_DIM_OPEN, .open = ST_OPEN_SOME };
    for (size_t i = c->at; i < c->end; i++) {
        struct st_scan s = scan(text, i, c->end);
        struct st_amount a;
        if (text[i] == ' ' || !st_word_begins(text, i) || !st_deed_time(&s, &a))
            continue;
        *out = a;
        return;
    }
}

static void find_temperature(const char *text, const struct st_clause *c, struct st_range *out)
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
static void find_bottles(const char *text, const struct st_clause *c, struct st_take_deed *d)
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
        if (st_deed_time(&wait, &unused)) { /* "keep 1 year" */
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
    const struct st_clause all = { 0, n, NULL, 0 };
    return st_clause_says(text, &all, "sugar|sugars|syrup|honey|sweetener|it dissolves|dissolved");
}

static const char PAPER[] = "paper|papers|coffee filter|coffee filters|filter paper|filter papers|coffee paper";
static const char STANDING[] = "in the sun|in full sun|in sunlight|in the sunlight|in a sunny place|in a sunny window|"
                               "on the windowsill|in the window|in the dark|in a dark place|in the shade|in a cupboard|"
                               "in the cupboard|in the cellar|in a cool place|in a warm place|in the larder";
static const char RIPENING[] = "mature|before drinking|before you drink|before serving|before opening|before tasting|"
                               "to age|age|mellow|to rest|in the bottle|bottles|settle|clear";

/* "till Thanksgiving": how long that is, only the maker knows. */
static const struct st_word *feast_in(const char *text, const struct st_clause *c)
{
    for (size_t i = c->at; i < c->end; i++) {
        struct st_scan s = scan(text, i, c->end);
        if (text[i] == ' ' || !st_word_begins(text, i) || !st_scan_word(&s, "until|till|'til|til"))
            continue;
        (void)st_scan_word(&s, "the|about|around|after|at least|just before|shortly before|before");
        st_scan_blanks(&s);
        const struct st_word *w = st_words_at(&s, ST_WORD_BIT(ST_WORD_FEAST));
        if (w)
            return w;
    }
    return NULL;
}

static const char SOLIDS[] =
    "peel|peels|peelings|zest|zests|rind|rinds|fruit|fruits|berries|solids|spices|spice|herbs|herb|pulp|"
    "husks|beans|leaves|nuts|kernels|roots|flowers|petals|cinnamon|vanilla|pod|pods|cloves|bag";

/* "a bottle of gin", but "three bottles of 0.35 l" are filled. */
static bool is_bottle_of(const char *text, const struct st_clause *c)
{
    for (size_t i = c->at; i < c->end; i++) {
        struct st_scan s = scan(text, i, c->end);
        if (text[i] == ' ' || !st_word_begins(text, i) || !st_scan_word(&s, "bottle of|bottles of"))
            continue;
        st_scan_blanks(&s);
        return !(s.at < s.end && st_is_digit((unsigned char)*s.at));
    }
    return false;
}

/* What kind of step the verb makes; ST_NDO: none of its own. */
static enum st_do kind_of(const char *text, size_t n, const struct st_clause *c, bool strained, bool filled)
{
    static const struct {
        const char *value;
        enum st_do kind;
    } PLAIN[] = { { "steep", ST_DO_STEEP },   { "rack", ST_DO_RACK },   { "fine", ST_DO_FINE },
                  { "toast", ST_DO_TOAST },   { "blend", ST_DO_BLEND }, { "rest", ST_DO_REST },
                  { "bottle", ST_DO_BOTTLE }, { "press", ST_DO_STEEP } };
    const char *v = c->verb->value;
    struct st_amount time;

    if (strcmp(v, "bottle") == 0 && st_clause_says(text, c, "jar|jars|crock|demijohn|carboy|vessel") &&
        !st_clause_says(text, c, "bottle|bottles|bottling|flask|flasks"))
        return ST_NDO; /* "fill into a 3 litre jar" */
    for (size_t i = 0; i < sizeof PLAIN / sizeof PLAIN[0]; i++)
        if (strcmp(v, PLAIN[i].value) == 0)
            return PLAIN[i].kind;
    find_time(text, c, &time);
    if (strcmp(v, "strain") == 0)
        return st_clause_says(text, c, PAPER) || strained ? ST_DO_FILTER : ST_DO_STEEP;
    if (strcmp(v, "remove") == 0) /* what has steeped is lifted out; stones and stalks never were in */
        return time.dim == ST_DIM_TIME || st_clause_says(text, c, SOLIDS) ? ST_DO_STEEP : ST_NDO;
    if (strcmp(v, "filter") == 0)
        return ST_DO_FILTER;
    if (strcmp(v, "syrup") == 0)
        return speaks_of_sugar(text, n) ? ST_DO_SYRUP : ST_NDO;
    if (strcmp(v, "put") == 0)
        return st_clause_says(text, c, "bottle|bottles|flasks|flask") && !st_clause_says(text, c, "jar|jars|crock") &&
                       !is_bottle_of(text, c)
                   ? ST_DO_BOTTLE
               : time.dim == ST_DIM_TIME && st_clause_says(text, c, STANDING) ? ST_DO_STEEP
                                                                              : ST_NDO;
    if (strcmp(v, "add") == 0)
        return st_clause_says(text, c, "to clear it|to clear|to fine|as finings") ? ST_DO_FINE : ST_NDO;
    if (strcmp(v, "stand") == 0 && (time.dim == ST_DIM_TIME || st_clause_says(text, c, "until|till|'til")))
        return strained || st_clause_says(text, c, RIPENING) ? ST_DO_REST : ST_DO_STEEP;
    if (strcmp(v, "keep") == 0 && (time.dim == ST_DIM_TIME || feast_in(text, c)))
        return filled && !strained && !st_clause_says(text, c, RIPENING) ? ST_DO_STEEP : ST_DO_REST;
    return ST_NDO;
}

/* ---- steps ---- */

static struct st_take_item *last_of(const struct st_deed_items *s, enum st_do kind)
{
    for (int i = s->n - 1; i >= 0; i--)
        if (s->item[i].role == ST_TAKE_STEP && s->item[i].deed.kind == kind)
            return &s->item[i];
    return NULL;
}

static bool has_after_steep(const struct st_deed_items *s)
{
    return last_of(s, ST_DO_FILTER) || last_of(s, ST_DO_BOTTLE) || last_of(s, ST_DO_RACK);
}

static const char PRESS[] = "squeeze|squeezing|press|pressing|wring|wringing";
static const char NO_PRESS[] = "do not squeeze|don't squeeze|do not press|don't press|without squeezing|without "
                               "pressing|not squeezing|no squeezing|resist squeezing|never squeeze|never press";

static void say_feast(struct st_take_item *item, const char *text, const struct st_clause *c)
{
    if (item->deed.time.dim != ST_DIM_TIME && feast_in(text, c))
        st_item_doubt(item, ST_GUESS, "how long it is until that day is not told: no time is reckoned with");
}

static void add_step(struct st_deed_items *s, const char *text, const struct st_clause *c, enum st_do kind)
{
    struct st_take_item *old = last_of(s, kind), *item = old;
    struct st_take_deed d = { .kind = kind };

    find_time(text, c, &d.time);
    find_temperature(text, c, &d.temperature_K);
    d.press =
        (st_clause_says(text, c, PRESS) || strcmp(c->verb->value, "press") == 0) && !st_clause_says(text, c, NO_PRESS);
    d.strain = kind == ST_DO_STEEP && (strcmp(c->verb->value, "strain") == 0 || strcmp(c->verb->value, "press") == 0 ||
                                       strcmp(c->verb->value, "remove") == 0);
    if (kind == ST_DO_BOTTLE)
        find_bottles(text, c, &d);
    if (!old) {
        if (s->n == s->room)
            return;
        item = &s->item[s->n++];
        *item = (struct st_take_item){ .role = ST_TAKE_STEP, .deed = d, .at = c->at, .n = c->end - c->at };
        item->line = (struct st_line){ .text = "", .from_step = -1 };
        (void)snprintf(item->as, sizeof item->as, "%s", st_do_name(kind));
        say_feast(item, text, c);
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

/* "strain into half-litre bottles": not "into a big bottle", where it goes on. */
static bool into_bottles(const char *text, const struct st_clause *c)
{
    for (size_t i = c->verb_end; i < c->end; i++) {
        struct st_scan s = scan(text, i, c->end);
        if (text[i] == ' ' || !st_word_begins(text, i) || !st_scan_word(&s, "into|in to"))
            continue;
        const struct st_clause rest = { (size_t)(s.at - text), c->end, NULL, 0 };
        return st_clause_says(text, &rest, "bottles|flasks|little bottles");
    }
    return false;
}

static bool is_condition(const char *text, size_t n)
{
    struct st_scan s = { text, text + n };
    return st_scan_word(&s, "if|unless|should|otherwise|in case");
}

int st_deed_read(const char *text, size_t n, const struct st_catalogue *c, struct st_take_context *context, bool filled,
                 struct st_take_item item[], int room)
{
    struct st_clause clause[MOST_CLAUSES];
    struct st_deed_items s = { item, 0, room };

    if (is_condition(text, n))
        return 0;
    const int count = part(text, n, clause);
    bool strained = false;

    for (int i = 0; i < count; i++) {
        const struct st_clause *k = &clause[i];
        if (!k->verb)
            continue;
        const int before = s.n;
        if (strcmp(k->verb->value, "none") != 0)
            st_deed_goods(&s, text, k, c, context);
        const enum st_do kind = kind_of(text, n, k, strained || has_after_steep(&s), filled);
        if (kind == ST_DO_FILTER && strcmp(k->verb->value, "strain") == 0 && !strained && !has_after_steep(&s) &&
            st_clause_says(text, k, "sieve|muslin|colander|cloth|jelly bag|cheesecloth|linen"))
            add_step(&s, text, k, ST_DO_STEEP); /* "through a sieve, then through paper" */
        if (kind == ST_DO_BOTTLE && strcmp(k->verb->value, "put") == 0 && s.n > before)
            continue; /* "into a big bottle with 8 oz of sugar": no bottling */
        strained = (strained && strcmp(k->verb->value, "put") != 0) || strcmp(k->verb->value, "strain") == 0;
        filled = filled || strcmp(k->verb->value, "put") == 0;
        if (strcmp(k->verb->value, "press") == 0 && s.n > before)
            continue; /* "squeeze 4 lemons" */
        if (kind != ST_NDO && !(kind == ST_DO_BLEND && i == 0 && s.n > 0))
            add_step(&s, text, k, kind);
        if ((strcmp(k->verb->value, "strain") == 0 || kind == ST_DO_FILTER || kind == ST_DO_RACK) &&
            into_bottles(text, k))
            add_step(&s, text, k, ST_DO_BOTTLE);
    }
    return s.n;
}
