#include <math.h>
#include <stdio.h>
#include <string.h>

#include "take_say.h"

/* What was understood is said again, and the line parser has to agree: only then it is an ingredient. */

void st_say_line(const struct st_item *it, const struct st_say *say, char *out, size_t size)
{
    const bool of = say->part[0] && it->main >= 0 && it->sum[it->main].a.dim == ST_DIM_PIECE;
    const char *hot = it->hot && it->what->kind == ST_KIND_WATER ? "hot " : "";
    char piece[24] = "", name[ST_TAKE_TEXT];

    if (it->piece && it->n_piece < sizeof piece - 2)
        (void)snprintf(piece, sizeof piece, "%.*s ", (int)it->n_piece, it->piece);
    if (of)
        (void)snprintf(name, sizeof name, "%.190s", say->name);
    else
        (void)snprintf(name, sizeof name, "%s%s%.160s%s%s", hot, piece, say->name, say->part[0] ? " " : "", say->part);
    const char *pct = say->strength[0] && !strstr(say->strength, "proof") ? " %" : "",
               *gap = say->strength[0] ? " " : "";
    if (of)
        (void)snprintf(out, size, "%s of %s %s", say->part, say->amount, name);
    else if (say->behind)
        (void)snprintf(out, size, "%s%s%s%s %s", name, gap, say->strength, pct, say->amount);
    else
        (void)snprintf(out, size, "%s %s%s%s%s", say->amount, name, gap, say->strength, pct);
    const size_t n = strlen(out);
    if (it->gross)
        (void)snprintf(out + n, size - n, ", as bought");
    else if (it->remark[0])
        (void)snprintf(out + n, size - n, ", %s", it->remark);
}

/* ---- amounts in words ---- */

void st_say_metric(const struct st_amount *a, double low, double high, char *out, size_t size)
{
    const char *unit = a->dim == ST_DIM_MASS ? " g" : a->dim == ST_DIM_VOLUME ? " mL" : "";

    char first[40] = "";

    if (high > low * 1.0001)
        (void)snprintf(first, sizeof first, low < 100.0 ? "%.3g-" : "%.0f-", low);
    (void)snprintf(out, size, high < 100.0 ? "%s%.3g%s" : "%s%.0f%s", first, high, unit);
}

bool st_say_is_behind(const struct st_amount *a)
{
    return (a->dim == ST_DIM_OPEN && a->open != ST_OPEN_SOME) || a->make_up_to;
}

void st_say_fill(const struct st_amount *a, char *out, size_t size)
{
    if (a->value > 0)
        (void)snprintf(out, size, "to %.4g %% of a %.6g mL jar", 100.0 * a->fill_share, a->value);
    else
        (void)snprintf(out, size, "to %.4g %% of the jar", 100.0 * a->fill_share);
}

static void open_words(const struct st_amount *a, char *out, size_t size)
{
    switch (a->open) {
    case ST_OPEN_COVER: (void)snprintf(out, size, "until covered"); break;
    case ST_OPEN_TASTE: (void)snprintf(out, size, "to taste"); break;
    case ST_OPEN_TOP_UP: (void)snprintf(out, size, "to top up"); break;
    case ST_OPEN_FILL: st_say_fill(a, out, size); break;
    default: (void)snprintf(out, size, "some"); break;
    }
}

/* What a flag leaves to the model stands in the range here: the line is written in mL. */
static bool widen(struct st_amount *a)
{
    /* a heaped spoon holds 30-60 % more (reference notes, no source); a scant one 5-15 % less, from memory */
    const double by[2] = { a->heaped ? 1.3 : 0.85, a->heaped ? 1.6 : 0.95 };

    if ((!a->heaped && !a->scant) || a->vague || a->low < a->high)
        return false;
    a->low *= by[0];
    a->high *= by[1];
    return true;
}

static void read_meanings(const struct st_item *it, const struct st_sum *sum, struct st_meanings *m)
{
    static const struct {
        enum st_measures measures;
        const char *label;
    } OF[] = { { ST_MEASURES_US, "US" }, { ST_MEASURES_METRIC, "metric" }, { ST_MEASURES_IMPERIAL, "imperial" } };
    const enum st_kind k = it->what->kind;

    bool wide = false;

    *m = (struct st_meanings){ .low = HUGE_VAL };
    for (size_t i = 0; i < sizeof OF / sizeof OF[0]; i++) {
        const struct st_ask ask = { OF[i].measures, ST_DIMS_GOODS,
                                    k == ST_KIND_SPIRIT || k == ST_KIND_WINE || k == ST_KIND_WATER ||
                                        k == ST_KIND_JUICE || k == ST_KIND_BREW,
                                    false };
        struct st_scan s = { sum->words, sum->words + strlen(sum->words) };
        struct st_problem p;
        struct st_amount a;
        if (st_quantity_read(&s, &ask, &a, NULL, &p) != ST_GOT_AMOUNT)
            continue;
        wide = widen(&a) || wide;
        m->label[m->n] = OF[i].label;
        m->a[m->n++] = a;
        m->low = fmin(m->low, a.low);
        m->high = fmax(m->high, a.high);
    }
    if (wide && m->low < m->high) { /* a likely range is cut at both ends: what any answer leaves likely stays in it */
        const double tail = (m->high - m->low) / 18.0;
        m->low -= tail;
        m->high += tail;
    }
}

/* ---- strength ---- */

static bool needs_strength(const struct st_item *it)
{
    const enum st_kind k = it->what->kind;
    return (k == ST_KIND_SPIRIT || k == ST_KIND_WINE) && !it->what->strength.known;
}

void st_say_usual_strength(const struct st_item *it, struct st_usual *u)
{
    const char *value = it->strong ? it->strong->value : st_words_value(ST_WORD_USUAL, it->what->slug);
    st_usual_read(value ? value : st_words_value(ST_WORD_USUAL, "other"), u);
}

/* "80 proof" stays as it is written. */
static bool proof_words(const struct st_item *it, char *out, size_t size)
{
    const char *from = it->d.text + it->d.strength_at, *end = from + it->d.strength_n;
    size_t n = 0;
    if (it->d.strength_n == 0 || it->d.strength_n > 30)
        return false;
    while (from < end && !st_is_digit((unsigned char)*from))
        from++;
    while (from + n < end && (st_is_digit((unsigned char)from[n]) || from[n] == '.'))
        n++;
    struct st_scan s = { from + n, end };
    (void)(st_scan_blanks(&s) || st_scan_sign(&s, "-"));
    if (n == 0 || n > 6 || !st_scan_word(&s, "proof"))
        return false;
    (void)snprintf(out, size, "%.*s proof", (int)n, from);
    return true;
}

/* What stands for the strength; asks is set when the maker has to say it. */
static void strength_words(struct st_item *it, char *out, size_t size, bool *asks)
{
    const struct st_range *r = &it->d.strength;
    struct st_usual u;

    out[0] = '\0';
    *asks = false;
    if (r->known && !it->d.asks && proof_words(it, out, size))
        return;
    if (r->known && !it->d.asks) {
        (void)snprintf(out, size, r->low < r->high ? "%.4g-%.4g" : "%.4g", r->low, r->high);
        return;
    }
    if (r->known) { /* "70 degrees proof" of an old book: 70 US, or 40 */
        (void)snprintf(out, size, "%.3g-%.3g", r->low, fmin(100.0, r->high * 8.0 / 7.0));
        *asks = true;
        return;
    }
    if (!needs_strength(it) && !it->strong)
        return;
    st_say_usual_strength(it, &u);
    (void)snprintf(out, size, u.low < u.high ? "%.4g-%.4g" : "%.4g", u.low, u.high);
    *asks = u.n_option > 1;
    if (*asks && it->too_strong > 0)
        st_item_doubt(it->out, ST_GUESS, "%.6g %% is no strength, pure spirit has 100 %%: %.4g to %.4g %% is usual",
                      it->too_strong, u.low, u.high);
    else if (*asks)
        st_item_doubt(it->out, ST_GUESS, "no strength is written: %.4g to %.4g %% is usual", u.low, u.high);
    else
        st_item_doubt(it->out, ST_LIKELY, "%.30s is about %.4g to %.4g %% vol", it->strong->phrase, u.low, u.high);
}

/* A dash moves nothing: its strength is not worth a question. */
static bool is_little(const struct st_item *it)
{
    const struct st_amount *a = it->main >= 0 ? &it->sum[it->main].a : NULL;
    return a && a->dim == ST_DIM_VOLUME && a->high <= 10.0;
}

/* ---- the amount that is used ---- */

static bool is_solid_or_weighed(const struct st_item *it)
{
    const enum st_kind k = it->what->kind;
    const bool tin = it->main >= 0 && it->sum[it->main].size &&
                     (strstr(it->sum[it->main].size->phrase, "tin") || strstr(it->sum[it->main].size->phrase, "can"));
    return st_kind_is_solid(k) || k == ST_KIND_SUGAR || (tin && (k == ST_KIND_DAIRY || k == ST_KIND_SYRUP));
}

/* A mug of sugar is measured, a bag of it was weighed. */
static bool is_drunk_from(const char *vessel)
{
    static const char *const WORD[] = { "mug", "glass", "cup", "tot", "nip", "measure", "dram", "slug", "glug" };
    for (size_t i = 0; i < sizeof WORD / sizeof WORD[0]; i++)
        if (strstr(vessel, WORD[i]))
            return true;
    return false;
}

struct amount_words {
    char words[96];
    bool measures, size, amount;
    struct st_meanings m;
    const char *unit;
};

/* A bare number of what is not counted: "500 sugar" are grams, most likely. */
static void bare_number(struct st_item *it, const struct st_sum *sum, struct amount_words *w)
{
    const bool liquid = it->what->kind == ST_KIND_SPIRIT || it->what->kind == ST_KIND_WINE ||
                        it->what->kind == ST_KIND_WATER || it->what->kind == ST_KIND_JUICE;

    const enum st_kind k = it->what->kind;
    const bool loose = liquid || k == ST_KIND_SUGAR || k == ST_KIND_SYRUP || k == ST_KIND_POWDER ||
                       k == ST_KIND_DAIRY || k == ST_KIND_ACID || k == ST_KIND_BREW;

    const char *lump =
        strncmp(it->what->slug, "sugar_cube", 10) == 0 ? st_words_value(ST_WORD_HAND, "lump sugar") : NULL;
    if (lump && sum->a.value < 200.0) { /* "44 sugar lumps" */
        const struct st_amount g = { .dim = ST_DIM_MASS };
        struct st_usual u;
        st_usual_read(lump, &u);
        st_say_metric(&g, sum->a.low * u.low, sum->a.high * u.high, w->words, sizeof w->words);
        st_item_doubt(it->out, ST_GUESS, "a lump is taken as %.3g to %.3g g", u.low, u.high);
        return;
    }
    if (it->piece || it->length || (!loose && sum->a.value < 100.0) ||
        (loose && it->what->piece_names && !liquid && sum->a.value < 20.0 && k != ST_KIND_SUGAR))
        return;
    w->amount = true;
    if (sum->a.value >= 20.0) {
        (void)snprintf(w->words, sizeof w->words, "%.6g-%.6g %s", 0.9 * sum->a.low, 1.1 * sum->a.high,
                       liquid ? "mL" : "g");
        st_item_doubt(it->out, ST_GUESS, "no unit is written: %s is usual", liquid ? "mL" : "g");
    } else {
        (void)snprintf(w->words, sizeof w->words, "some");
        st_item_doubt(it->out, ST_GUESS, "no unit is written");
    }
}

/* A handful, a pinch, a strip: grams by what it is of, common practice. */
static bool hand_words(struct st_item *it, const struct st_sum *sum, struct amount_words *w)
{
    if (it->length)
        return false;
    const bool hand = sum->a.unit && sum->a.tool == ST_TOOL_HAND && st_kind_is_solid(it->what->kind);
    const char *of = it->what->kind == ST_KIND_HERB_FRESH || it->what->kind == ST_KIND_FLOWER_FRESH ? "leaf"
                     : it->what->kind == ST_KIND_HERB_DRY || it->what->kind == ST_KIND_FLOWER_DRY   ? "dry leaf"
                     : it->what->kind == ST_KIND_PEEL_FRESH                                         ? "peel"
                     : it->what->kind == ST_KIND_BARK                                               ? "bark"
                     : it->what->kind == ST_KIND_ROOT_FRESH                                         ? "root"
                                                                                                    : "other";
    char key[64];
    struct st_usual u;

    if (hand)
        (void)snprintf(key, sizeof key, "%s %s", sum->a.unit->key, of);
    else if (it->piece && sum->a.dim == ST_DIM_PIECE && it->n_piece < 20)
        (void)snprintf(key, sizeof key, "%.*s %s", (int)it->n_piece, it->piece, of);
    else if (sum->a.unit && strcmp(sum->a.unit->key, "piece") == 0)
        (void)snprintf(key, sizeof key, "piece %s", of);
    else
        return false;
    for (char *c = key; *c; c++)
        *c = *c >= 'A' && *c <= 'Z' ? (char)(*c | 0x20) : *c;
    const char *value = st_words_value(ST_WORD_HAND, key);
    if (!value)
        return false;
    key[strlen(key) - strlen(of) - 1] = '\0';
    const double low = hand ? sum->a.low / sum->a.unit->low : sum->a.low;
    const double high = hand ? sum->a.high / sum->a.unit->high : sum->a.high;
    const struct st_amount g = { .dim = ST_DIM_MASS };
    st_usual_read(value, &u);
    st_say_metric(&g, low * u.low, high * u.high, w->words, sizeof w->words);
    const size_t word = strlen(key);
    const int one = (int)word - (word > 1 && key[word - 1] == 's' && key[word - 2] != 's'); /* "strips" */
    st_item_doubt(it->out, ST_GUESS, "a %.*s of it is taken as %.3g to %.3g g", one, key, u.low, u.high);
    const char *behind = strncmp(it->name, key, word) == 0 && it->name[word] == ' ' ? it->name + word + 1 : NULL;
    if (behind && strncmp(behind, "of ", 3) == 0)
        behind += 3;
    if (behind && *behind) /* "1-5 g lemon rind", which is no strip any more */
        memmove(it->name, behind, strlen(behind) + 1);
    it->piece = NULL;
    return true;
}

/* Hands differ too much for it to be a measure. */
static bool is_splash(const struct st_unit *u)
{
    return strcmp(u->key, "splash") == 0 || strcmp(u->key, "glug") == 0 || strcmp(u->key, "dollop") == 0;
}

static void amount_words(struct st_item *it, struct amount_words *w)
{
    const struct st_sum *sum = it->main >= 0 ? &it->sum[it->main] : NULL;

    *w = (struct amount_words){ .unit = "mL" };
    if (!sum || it->same) {
        (void)snprintf(w->words, sizeof w->words, "some");
        w->amount = it->same;
        if (!it->same && it->wrong[0])
            st_item_doubt(it->out, ST_GUESS, "the amount that is written cannot be: %s", it->wrong);
        st_item_doubt(it->out, ST_GUESS, it->same ? "how much hangs on another thing" : "no amount is written");
        return;
    }
    (void)snprintf(w->words, sizeof w->words, "%s", sum->words);
    if (hand_words(it, sum, w))
        return;
    if (sum->size) {
        w->size = true;
        const bool weighed = is_solid_or_weighed(it) && !is_drunk_from(sum->size->phrase);
        w->unit = weighed ? "g" : "mL";
        struct st_amount a = sum->a;
        a.dim = weighed ? ST_DIM_MASS : ST_DIM_VOLUME;
        st_say_metric(&a, a.low, a.high, w->words, sizeof w->words);
    } else if (sum->question && !sum->comma) {
        w->measures = true;
        read_meanings(it, sum, &w->m);
        if (w->m.n > 0)
            st_say_metric(&w->m.a[0], w->m.low, w->m.high, w->words, sizeof w->words);
        st_item_doubt(it->out, ST_GUESS, "whose measures these are is not said");
    } else if (sum->comma) {
        st_say_metric(&sum->a, sum->a.low, sum->a.high, w->words, sizeof w->words);
        st_item_doubt(it->out, ST_LIKELY, "the number is read as %.6g", sum->a.value);
    } else if (sum->a.dim == ST_DIM_VOLUME && sum->a.unit && is_splash(sum->a.unit)) {
        st_item_doubt(it->out, ST_GUESS, "a %.20s is taken as %.3g to %.3g mL", sum->a.unit->name, sum->a.low,
                      sum->a.high);
    } else if (!(sum->a.low > 0.0) && sum->a.vague && sum->a.dim != ST_DIM_OPEN) {
        st_say_metric(&sum->a, sum->a.low, sum->a.high, w->words, sizeof w->words);
        st_item_doubt(it->out, ST_GUESS, "only the most is written");
    } else if (sum->a.dim == ST_DIM_OPEN) {
        open_words(&sum->a, w->words, sizeof w->words);
    } else if (sum->a.dim == ST_DIM_PIECE && !sum->a.unit && !it->part[0]) {
        bare_number(it, sum, w);
    }
}

/* ---- parsing what was said ---- */

static bool parses(struct st_item *it, struct st_problem *p)
{
    struct st_take_item *out = it->out;
    struct st_line line;

    if (st_line_parse(out->as, it->context->measures, it->c, &line, p) != 0)
        return false;
    out->line = line;
    return true;
}

/* An ounce of what may be weighed or poured: what stands in a tin is weighed, milk and cream are poured. */
static bool settle_ounce(struct st_item *it, const struct st_sum *sum, struct amount_words *w)
{
    const enum st_kind k = it->what->kind;
    const struct st_unit *u = sum ? sum->a.unit : NULL;

    if (!u || strcmp(u->key, "oz_av") != 0 || (k != ST_KIND_DAIRY && k != ST_KIND_SYRUP && k != ST_KIND_EGG))
        return false;
    const bool poured = k == ST_KIND_DAIRY && !strchr(sum->words, '(') && !strstr(it->what->name, "condensed");
    const double ml = it->context->measures == ST_MEASURES_IMPERIAL ? 28.4130625 : 29.5735296;
    struct st_amount a = { .dim = poured ? ST_DIM_VOLUME : ST_DIM_MASS };
    const double by = poured ? ml / u->factor : 1.0;
    st_say_metric(&a, sum->a.low * by, sum->a.high * by, w->words, sizeof w->words);
    if (!strchr(sum->words, '('))
        st_item_doubt(it->out, ST_LIKELY, poured ? "read as fluid ounces" : "read as ounces of weight");
    return true;
}

static bool say_and_parse(struct st_item *it, struct st_say *say, struct st_problem *p)
{
    st_say_line(it, say, it->out->as, sizeof it->out->as);
    if (parses(it, p) && it->out->line.what == it->what)
        return true;
    it->remark[0] = '\0';
    say->name = it->what->name;
    st_say_line(it, say, it->out->as, sizeof it->out->as);
    if (parses(it, p) && it->out->line.what == it->what)
        return true;
    it->piece = NULL;
    st_say_line(it, say, it->out->as, sizeof it->out->as);
    return parses(it, p) && it->out->line.what == it->what;
}

static void unread(struct st_item *it, const struct st_problem *p)
{
    it->out->as[0] = '\0';
    it->out->line = (struct st_line){ .text = "", .from_step = -1 };
    st_item_doubt(it->out, ST_UNREAD, "%.110s", p->what[0] ? p->what : "the words do not fit together");
    char ask[sizeof it->out->ask[0].ask];
    (void)snprintf(ask, sizeof ask, "What is meant by \"%.*s\"?", (int)(it->d.n < 90 ? it->d.n : 90), it->d.text);
    (void)st_item_ask(it->out, ST_ASK_WHICH, ask);
}

/* ---- fruit with or without its peel ---- */

static const struct st_ingredient *with_slug(const struct st_catalogue *c, const char *slug)
{
    for (size_t i = 0; i < st_catalogue_count(c); i++)
        if (strcmp(st_catalogue_at(c, i)->slug, slug) == 0)
            return st_catalogue_at(c, i);
    return NULL;
}

/* "2 lemons" is the whole fruit until the maker says which part; true when that has to be asked. */
static bool settle_whole(struct st_item *it)
{
    const struct st_ingredient *whole = it->what->whole[0] ? with_slug(it->c, it->what->whole) : NULL;

    if (!whole || it->part[0])
        return false;
    const int said = it->whole ? 1 : st_draft_part_said(&it->d);
    if (said < 0 || (it->what->kind == ST_KIND_PEEL_FRESH && strstr(it->name, "peel")))
        return false;
    it->bare = it->name;
    it->what = whole;
    return said == 0;
}

void st_item_say(struct st_item *it)
{
    struct amount_words w;
    struct st_problem p = { 0 };
    char strength[40];
    bool asks;

    const bool part = settle_whole(it);
    amount_words(it, &w);
    strength_words(it, strength, sizeof strength, &asks);
    struct st_say say = { w.words, strength, it->bare ? it->what->name : it->name, it->part, false };
    const struct st_sum *sum = it->main >= 0 && !it->same ? &it->sum[it->main] : NULL;
    (void)settle_ounce(it, sum, &w);
    say.behind = sum && st_say_is_behind(&sum->a) && !w.size && strcmp(w.words, "some") != 0;
    if (!say_and_parse(it, &say, &p)) {
        unread(it, &p);
        st_item_options(it);
        return;
    }
    st_item_options(it);
    if (w.measures)
        st_ask_measures_of(it, &say, &w.m);
    if (w.size)
        st_ask_size(it, &say, sum, w.unit);
    if (sum && sum->a.open == ST_OPEN_FILL && !(sum->a.value > 0.0))
        st_ask_jar(it, &say, &sum->a);
    if (w.amount || it->conflict || it->unit_like) {
        if (it->conflict)
            st_item_doubt(it->out, ST_GUESS, "two amounts are written that do not agree");
        st_ask_amount(it, &say, w.words);
    }
    if (part)
        st_ask_part(it, &say);
    if (asks && !is_little(it))
        st_ask_strength(it, &say);
}
