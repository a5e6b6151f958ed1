#include <math.h>
#include <stdio.h>
#include <string.h>

#include "take_inside.h"

/* What was understood is said again, and the line parser has to agree: only then it is an ingredient. */

/* The parts of a line, as they are put together. */
struct say {
    const char *amount;   /* "340 g", "to cover" */
    const char *strength; /* "40", "37.5-43", "" */
    const char *name;
    const char *part;
    bool behind;          /* the amount stands behind the name */
};

static void put_line(const struct st_item *it, const struct say *say, char *out, size_t size)
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
    const char *pct = say->strength[0] ? " %" : "", *gap = say->strength[0] ? " " : "";
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

static void metric_words(const struct st_amount *a, double low, double high, char *out, size_t size)
{
    const char *unit = a->dim == ST_DIM_MASS ? " g" : a->dim == ST_DIM_VOLUME ? " mL" : "";

    char first[40] = "";

    if (high > low * 1.0001)
        (void)snprintf(first, sizeof first, low < 100.0 ? "%.3g-" : "%.0f-", low);
    (void)snprintf(out, size, high < 100.0 ? "%s%.3g%s" : "%s%.0f%s", first, high, unit);
}

static bool is_behind(const struct st_amount *a)
{
    return (a->dim == ST_DIM_OPEN && a->open != ST_OPEN_SOME) || a->make_up_to;
}

static void fill_words(const struct st_amount *a, char *out, size_t size)
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
    case ST_OPEN_FILL: fill_words(a, out, size); break;
    default: (void)snprintf(out, size, "some"); break;
    }
}

/* The meanings of "2 cups" under each system of measures, in g or mL. */
struct meanings {
    int n;
    const char *label[3];
    struct st_amount a[3];
    double low, high;
};

static void read_meanings(const struct st_item *it, const struct st_sum *sum, struct meanings *m)
{
    static const struct {
        enum st_measures measures;
        const char *label;
    } OF[] = { { ST_MEASURES_US, "US" }, { ST_MEASURES_METRIC, "metric" }, { ST_MEASURES_IMPERIAL, "imperial" } };
    const enum st_kind k = it->what->kind;

    *m = (struct meanings){ .low = HUGE_VAL };
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
        m->label[m->n] = OF[i].label;
        m->a[m->n++] = a;
        m->low = fmin(m->low, a.low);
        m->high = fmax(m->high, a.high);
    }
}

/* ---- strength ---- */

static bool needs_strength(const struct st_item *it)
{
    const enum st_kind k = it->what->kind;
    return (k == ST_KIND_SPIRIT || k == ST_KIND_WINE) && !it->what->strength.known;
}

static void usual_strength(const struct st_item *it, struct st_usual *u)
{
    const char *value = it->strong ? it->strong->value : st_words_value(ST_WORD_USUAL, it->what->slug);
    st_usual_read(value ? value : st_words_value(ST_WORD_USUAL, "other"), u);
}

/* What stands for the strength; asks is set when the maker has to say it. */
static void strength_words(struct st_item *it, char *out, size_t size, bool *asks)
{
    const struct st_range *r = &it->d.strength;
    struct st_usual u;

    out[0] = '\0';
    *asks = false;
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
    usual_strength(it, &u);
    (void)snprintf(out, size, u.low < u.high ? "%.4g-%.4g" : "%.4g", u.low, u.high);
    *asks = u.n_option > 1;
    if (*asks)
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

/* ---- questions ---- */

static void option(struct st_take_ask *ask, const char *label, const struct st_item *it, const struct say *say)
{
    if (ask->n_option >= ST_TAKE_OPTIONS)
        return;
    (void)snprintf(ask->option[ask->n_option].label, sizeof ask->option[0].label, "%s", label);
    put_line(it, say, ask->option[ask->n_option].as, sizeof ask->option[0].as);
    ask->n_option++;
}

static void ask_strength(struct st_item *it, const struct say *say)
{
    struct st_take_ask *ask = st_item_ask(it->out, ST_ASK_STRENGTH, "");
    struct st_usual u;
    struct say other = *say;

    if (!ask)
        return;
    usual_strength(it, &u);
    (void)snprintf(ask->ask, sizeof ask->ask, "How strong is the %.60s, in %% vol?", it->what->name);
    for (int i = 0; i < u.n_option; i++) {
        char label[24];
        (void)snprintf(label, sizeof label, "%.4g", u.option[i]);
        other.strength = label;
        option(ask, label, it, &other);
    }
    other.strength = "%s";
    put_line(it, &other, ask->with, sizeof ask->with);
}

static void ask_measures(struct st_item *it, const struct say *say, const struct meanings *m)
{
    struct st_take_ask *ask = st_item_ask(it->out, ST_ASK_MEASURES, "Whose measures are these: US, metric, imperial?");
    struct say other = *say;

    if (!ask)
        return;
    for (int i = 0; i < m->n; i++) {
        char words[60];
        metric_words(&m->a[i], m->a[i].low, m->a[i].high, words, sizeof words);
        other.amount = words;
        option(ask, m->label[i], it, &other);
    }
    other.amount = "%s";
    put_line(it, &other, ask->with, sizeof ask->with);
}

static void ask_size(struct st_item *it, const struct say *say, const struct st_sum *sum, const char *unit)
{
    struct st_take_ask *ask;
    struct say other = *say;
    struct st_usual u;

    st_usual_read(sum->size->value, &u);
    if (u.n_option < 2)
        return;
    st_item_doubt(it->out, ST_GUESS, "how large it is, is not said: %.4g to %.4g %s is usual", u.low, u.high, unit);
    ask = st_item_ask(it->out, ST_ASK_SIZE, "");
    if (!ask)
        return;
    const char *what = strncmp(sum->size->phrase, "a ", 2) == 0 ? sum->size->phrase + 2 : sum->size->phrase;
    (void)snprintf(ask->ask, sizeof ask->ask, "How much does the %.40s hold?", what);
    for (int i = 0; i < u.n_option; i++) {
        char words[40], label[32];
        (void)snprintf(words, sizeof words, "%.6g %s", sum->times * u.option[i], unit);
        (void)snprintf(label, sizeof label, "%.4g %s", u.option[i], unit);
        other.amount = words;
        option(ask, label, it, &other);
    }
    other.amount = "%s";
    put_line(it, &other, ask->with, sizeof ask->with);
}

/* "fill the jar": which? */
static void ask_jar(struct st_item *it, const struct say *say, const struct st_amount *a)
{
    static const double ML[] = { 500.0, 1000.0, 1500.0, 2000.0 };
    struct st_take_ask *ask = st_item_ask(it->out, ST_ASK_SIZE, "How much does the jar hold?");
    struct say other = *say;
    struct st_amount sized = *a;

    st_item_doubt(it->out, ST_GUESS, "how large the jar is, is not said");
    for (size_t i = 0; ask && i < sizeof ML / sizeof ML[0]; i++) {
        char words[60], label[24];
        sized.value = ML[i];
        fill_words(&sized, words, sizeof words);
        (void)snprintf(label, sizeof label, "%.4g mL", ML[i]);
        other.amount = words;
        option(ask, label, it, &other);
    }
}

static void ask_part(struct st_item *it, const struct say *say)
{
    static const struct {
        const char *label, *part;
    } PART[] = { { "juice", "juice" }, { "peel", "peel" } };
    struct st_take_ask *ask = st_item_ask(it->out, ST_ASK_PART, "");
    struct say other = *say;
    char peeled[ST_TAKE_TEXT];

    st_item_doubt(it->out, ST_GUESS, "which part of the %.40s goes in is not said", it->bare);
    if (!ask)
        return;
    (void)snprintf(ask->ask, sizeof ask->ask, "Which part of the %.60s goes in?", it->bare);
    other.name = it->bare;
    for (size_t i = 0; i < sizeof PART / sizeof PART[0]; i++) {
        other.part = PART[i].part;
        option(ask, PART[i].label, it, &other);
    }
    other.part = "";
    (void)snprintf(peeled, sizeof peeled, "peeled %.200s", it->bare);
    other.name = peeled;
    option(ask, "flesh", it, &other);
    option(ask, "all of it", it, say);
}

static void ask_amount(struct st_item *it, const struct say *say, const char *words)
{
    struct st_take_ask *ask = st_item_ask(it->out, ST_ASK_AMOUNT, "");
    struct say other = *say;

    if (!ask)
        return;
    (void)snprintf(ask->ask, sizeof ask->ask, "How much %.60s?", say->name);
    for (int i = 0; i < it->n_sum && it->conflict; i++) {
        if (it->sum[i].a.dim == ST_DIM_OPEN || it->sum[i].size)
            continue;
        other.amount = it->sum[i].words;
        option(ask, it->sum[i].words, it, &other);
    }
    (void)words;
    other.amount = "%s";
    other.behind = false;
    put_line(it, &other, ask->with, sizeof ask->with);
}

/* ---- the amount that is used ---- */

static bool is_solid_or_weighed(const struct st_item *it)
{
    const enum st_kind k = it->what->kind;
    const bool tin = it->main >= 0 && it->sum[it->main].size && (strstr(it->sum[it->main].size->phrase, "tin") ||
                                                                 strstr(it->sum[it->main].size->phrase, "can"));
    return st_kind_is_solid(k) || k == ST_KIND_SUGAR || (tin && (k == ST_KIND_DAIRY || k == ST_KIND_SYRUP));
}

struct amount_words {
    char words[96];
    bool measures, size, amount;
    struct meanings m;
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
    metric_words(&g, low * u.low, high * u.high, w->words, sizeof w->words);
    st_item_doubt(it->out, ST_GUESS, "a %.30s of it is taken as %.3g to %.3g g", key,
                  u.low, u.high);
    it->piece = NULL;
    return true;
}

static void amount_words(struct st_item *it, struct amount_words *w)
{
    const struct st_sum *sum = it->main >= 0 ? &it->sum[it->main] : NULL;

    *w = (struct amount_words){ .unit = "mL" };
    if (!sum || it->same) {
        (void)snprintf(w->words, sizeof w->words, "some");
        w->amount = it->same;
        st_item_doubt(it->out, ST_GUESS, it->same ? "how much hangs on another thing" : "no amount is written");
        return;
    }
    (void)snprintf(w->words, sizeof w->words, "%s", sum->words);
    if (hand_words(it, sum, w))
        return;
    if (sum->size) {
        w->size = true;
        w->unit = is_solid_or_weighed(it) ? "g" : "mL";
        struct st_amount a = sum->a;
        a.dim = is_solid_or_weighed(it) ? ST_DIM_MASS : ST_DIM_VOLUME;
        metric_words(&a, a.low, a.high, w->words, sizeof w->words);
    } else if (sum->question && !sum->comma) {
        w->measures = true;
        read_meanings(it, sum, &w->m);
        if (w->m.n > 0)
            metric_words(&w->m.a[0], w->m.low, w->m.high, w->words, sizeof w->words);
        st_item_doubt(it->out, ST_GUESS, "whose measures these are is not said");
    } else if (sum->comma) {
        metric_words(&sum->a, sum->a.low, sum->a.high, w->words, sizeof w->words);
        st_item_doubt(it->out, ST_LIKELY, "the number is read as %.6g", sum->a.value);
    } else if (!(sum->a.low > 0.0) && sum->a.vague && sum->a.dim != ST_DIM_OPEN) {
        metric_words(&sum->a, sum->a.low, sum->a.high, w->words, sizeof w->words);
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
    metric_words(&a, sum->a.low * by, sum->a.high * by, w->words, sizeof w->words);
    if (!strchr(sum->words, '('))
        st_item_doubt(it->out, ST_LIKELY, poured ? "read as fluid ounces" : "read as ounces of weight");
    return true;
}

static bool say_and_parse(struct st_item *it, struct say *say, struct st_problem *p)
{
    put_line(it, say, it->out->as, sizeof it->out->as);
    if (parses(it, p) && it->out->line.what == it->what)
        return true;
    it->remark[0] = '\0';
    say->name = it->what->name;
    put_line(it, say, it->out->as, sizeof it->out->as);
    if (parses(it, p) && it->out->line.what == it->what)
        return true;
    it->piece = NULL;
    put_line(it, say, it->out->as, sizeof it->out->as);
    return parses(it, p) && it->out->line.what == it->what;
}

static void unread(struct st_item *it, const struct st_problem *p)
{
    it->out->as[0] = '\0';
    it->out->line = (struct st_line){ .text = "", .from_step = -1 };
    st_item_doubt(it->out, ST_UNREAD, "%.110s", p->what[0] ? p->what : "the words do not fit together");
    (void)st_item_ask(it->out, ST_ASK_WHICH, "What is meant here?");
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

/* The item with this name, or with %s for it. */
static void named(const struct st_item *it, const char *name, char *out, size_t size)
{
    const struct st_sum *sum = it->main >= 0 ? &it->sum[it->main] : NULL;
    const struct st_range *r = &it->d.strength;
    char strength[24] = "", label[64];

    (void)snprintf(label, sizeof label, "%.60s", name);
    if (r->known)
        (void)snprintf(strength, sizeof strength, " %.4g %%", r->value);
    if (sum && is_behind(&sum->a))
        (void)snprintf(out, size, "%.60s%s %.90s", label, strength, sum->words);
    else
        (void)snprintf(out, size, "%.90s %.60s%s", sum ? sum->words : "some", label, strength);
}

void st_item_options(struct st_item *it)
{
    for (int i = 0; i < it->out->n_ask; i++) {
        struct st_take_ask *ask = &it->out->ask[i];
        if (ask->kind != ST_ASK_WHICH)
            continue;
        for (int k = 0; k < ask->n_option; k++)
            named(it, ask->option[k].label, ask->option[k].as, sizeof ask->option[k].as);
        named(it, "%s", ask->with, sizeof ask->with);
    }
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
    struct say say = { w.words, strength, it->bare ? it->what->name : it->name, it->part, false };
    const struct st_sum *sum = it->main >= 0 && !it->same ? &it->sum[it->main] : NULL;
    (void)settle_ounce(it, sum, &w);
    say.behind = sum && is_behind(&sum->a) && !w.size && strcmp(w.words, "some") != 0;
    if (!say_and_parse(it, &say, &p)) {
        unread(it, &p);
        st_item_options(it);
        return;
    }
    st_item_options(it);
    if (w.measures)
        ask_measures(it, &say, &w.m);
    if (w.size)
        ask_size(it, &say, sum, w.unit);
    if (sum && sum->a.open == ST_OPEN_FILL && !(sum->a.value > 0.0))
        ask_jar(it, &say, &sum->a);
    if (w.amount || it->conflict || it->unit_like) {
        if (it->conflict)
            st_item_doubt(it->out, ST_GUESS, "two amounts are written that do not agree");
        ask_amount(it, &say, w.words);
    }
    if (part)
        ask_part(it, &say);
    if (asks && !is_little(it))
        ask_strength(it, &say);
}
