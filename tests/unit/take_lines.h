#ifndef ST_TESTS_TAKE_LINES_H
#define ST_TESTS_TAKE_LINES_H

/* The sheets of lines in tests/take, compared: its README tells their form and how.  A part of the programs that
 * count them, after <cmocka.h>. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "text/quantity.h"
#include "text/take_line.h"
#include "util/embedded.h"

static struct st_catalogue *catalogue;

/* The first was read while the program was made; each later one was run first when it was whole. */
static const struct {
    const char *name, *path;
} SHEETS[] = {
    { "corpus", "tests/take/lines.tsv" },        { "fresh", "tests/take/lines_fresh.tsv" },
    { "second", "tests/take/lines_second.tsv" }, { "third", "tests/take/lines_third.tsv" },
    { "fourth", "tests/take/lines_fourth.tsv" }, { "fifth", "tests/take/lines_fifth.tsv" },
    { "sixth", "tests/take/lines_sixth.tsv" },
};
enum { N_SHEETS = sizeof SHEETS / sizeof SHEETS[0] };

/* ---- a reading, taken apart ---- */

enum form { FORM_NONE, FORM_EXACT, FORM_RANGE, FORM_ABOUT, FORM_TO, FORM_OPEN };

struct want {
    char head[16]; /* "step", "note" ... ; "" for an ingredient */
    char slug[60];
    enum form form;
    enum st_open open;
    double low, high;
    enum st_dimension dim;
    double share, vessel_ml; /* fill; vessel -1 not said */
    bool strength;
    double strength_low, strength_high;
    bool gross, hot, optional;
    char or_slug[60];
    unsigned asks; /* bits of enum st_take_kind */
    char kind[12];
    double time_low, time_high; /* s; 0 none */
    double at_C, size_ml;       /* NAN none; 0 none */
    int bottles;
    bool press;
};

static char *next_word(char **rest)
{
    char *p = *rest + strspn(*rest, " ");
    const size_t n = strcspn(p, " ");

    *rest = p + n + (p[n] == ' ');
    p[n] = '\0';
    return p;
}

static void read_pair(const char *word, double *low, double *high)
{
    const char *dots = strstr(word, "..");

    *low = strtod(word, NULL); /* of "4..5" it reads "4." */
    *high = dots ? strtod(dots + 2, NULL) : *low;
}

static enum st_dimension unit_dim(const char *unit)
{
    return strcmp(unit, "g") == 0 ? ST_DIM_MASS : strcmp(unit, "mL") == 0 ? ST_DIM_VOLUME : ST_DIM_PIECE;
}

static unsigned ask_bit(const char *name)
{
    for (int k = 0; k < ST_NASK; k++)
        if (strcmp(st_take_kind_name((enum st_take_kind)k), name) == 0)
            return 1u << k;
    fail_msg("unknown question '%s' in the corpus", name);
    return 0;
}

static double seconds(const char *unit)
{
    return strcmp(unit, "d") == 0 ? 86400.0 : strcmp(unit, "min") == 0 ? 60.0 : 3600.0;
}

static bool read_open(struct want *w, const char *word, char **rest)
{
    static const struct {
        const char *word;
        enum st_open open;
    } OPEN[] = { { "cover", ST_OPEN_COVER },
                 { "taste", ST_OPEN_TASTE },
                 { "some", ST_OPEN_SOME },
                 { "top", ST_OPEN_TOP_UP },
                 { "fill", ST_OPEN_FILL } };

    for (size_t i = 0; i < sizeof OPEN / sizeof OPEN[0]; i++)
        if (strcmp(word, OPEN[i].word) == 0) {
            w->form = FORM_OPEN;
            w->open = OPEN[i].open;
            if (w->open == ST_OPEN_FILL) {
                w->share = strtod(next_word(rest), NULL);
                (void)next_word(rest); /* "of" */
                const char *of = next_word(rest);
                w->vessel_ml = *of == '?' ? -1.0 : strtod(of, NULL);
            }
            return true;
        }
    return false;
}

static void read_amount(struct want *w, const char *word, char **rest)
{
    if (read_open(w, word, rest))
        return;
    w->form = *word == '~' ? FORM_ABOUT : strstr(word, "..") ? FORM_RANGE : FORM_EXACT;
    if (strcmp(word, "to") == 0) {
        w->form = FORM_TO;
        word = next_word(rest);
    }
    read_pair(word + (*word == '~'), &w->low, &w->high);
    w->dim = unit_dim(next_word(rest));
}

static void read_detail(struct want *w, const char *word, char **rest)
{
    if (strcmp(word, "ask") == 0) {
        w->asks |= ask_bit(next_word(rest));
    } else if (strcmp(word, "strength") == 0) {
        w->strength = true;
        read_pair(next_word(rest), &w->strength_low, &w->strength_high);
    } else if (strcmp(word, "or") == 0) {
        (void)snprintf(w->or_slug, sizeof w->or_slug, "%s", next_word(rest));
    } else if (strcmp(word, "time") == 0) {
        read_pair(next_word(rest), &w->time_low, &w->time_high);
        const double unit = seconds(next_word(rest));
        w->time_low *= unit;
        w->time_high *= unit;
    } else if (strcmp(word, "at") == 0) {
        w->at_C = strtod(next_word(rest), NULL);
        (void)next_word(rest);
    } else if (strcmp(word, "size") == 0) {
        w->size_ml = strtod(next_word(rest), NULL);
        (void)next_word(rest);
    } else if (strcmp(word, "bottles") == 0) {
        w->bottles = (int)strtol(next_word(rest), NULL, 10);
    } else {
        w->gross = w->gross || strcmp(word, "gross") == 0;
        w->hot = w->hot || strcmp(word, "hot") == 0;
        w->optional = w->optional || strcmp(word, "optional") == 0;
        w->press = w->press || strcmp(word, "press") == 0;
    }
}

static void read_want(char *text, struct want *w)
{
    static const char *const HEAD[] = { "step", "title", "heading", "note", "nothing", "ask" };
    char *rest = text;
    char *word = next_word(&rest);

    *w = (struct want){ .at_C = (double)NAN };
    for (size_t i = 0; i < sizeof HEAD / sizeof HEAD[0]; i++)
        if (strcmp(word, HEAD[i]) == 0)
            (void)snprintf(w->head, sizeof w->head, "%s", HEAD[i]);
    if (strcmp(w->head, "step") == 0) {
        (void)snprintf(w->kind, sizeof w->kind, "%s", next_word(&rest));
    } else if (strcmp(w->head, "ask") == 0) {
        w->asks |= ask_bit(next_word(&rest));
    } else if (!w->head[0]) {
        (void)snprintf(w->slug, sizeof w->slug, "%s", word);
        read_amount(w, next_word(&rest), &rest);
    }
    while (*rest) {
        word = next_word(&rest);
        read_detail(w, word, &rest);
    }
}

/* ---- comparing ---- */

static bool near_by(double a, double b, double by)
{
    return fabs(a - b) <= by * fmax(fabs(a), fabs(b)) + 1e-9;
}

/* Low and high as the words mean them, the heap or the scant measure taken in. */
static void ends_of(const struct st_amount *a, double *low, double *high)
{
    *low = a->low;
    *high = a->high;
    if (a->low < a->high)
        return;
    if (a->heaped)
        *low = 1.15 * a->value, *high = 1.6 * a->value;
    if (a->scant)
        *low = 0.85 * a->value, *high = 0.95 * a->value;
}

/* One unit of the dimension in grams, by the row of the ingredient. */
static struct st_range grams(const struct st_ingredient *in, enum st_dimension dim, double size)
{
    const struct st_range one = { 1.0, 1.0, 1.0, true, 'c', "" };

    if (dim == ST_DIM_MASS)
        return one;
    return dim == ST_DIM_PIECE ? in->piece : st_ingredient_g_per_ml(in, size);
}

static bool holds_about(const struct want *w, const struct st_line *line)
{
    double low, high;
    struct st_range mine = { 1.0, 1.0, 1.0, true, 'c', "" }, its = mine;

    ends_of(&line->amount, &low, &high);
    if (line->amount.dim != w->dim) {
        mine = grams(line->what, line->amount.dim, line->amount.value);
        its = grams(line->what, w->dim, w->low);
        if (!mine.known || !its.known)
            return false;
    }
    low *= mine.value / its.value;
    high *= mine.value / its.value;
    return low <= w->low * 1.02 && high >= w->low * 0.98 && high <= 6.6 * low;
}

static bool same_amount(const struct want *w, const struct st_line *line)
{
    const struct st_amount *a = &line->amount;

    if (w->form == FORM_OPEN) {
        if (a->dim != ST_DIM_OPEN || a->open != w->open)
            return false;
        if (w->open != ST_OPEN_FILL)
            return true;
        return fabs(a->fill_share - w->share) < 0.06 &&
               (w->vessel_ml < 0.0 ? !(a->value > 0.0) : near_by(a->value, w->vessel_ml, 0.005));
    }
    if (a->dim == ST_DIM_OPEN || a->make_up_to != (w->form == FORM_TO))
        return false;
    if (w->form == FORM_ABOUT)
        return holds_about(w, line);
    if (a->dim != w->dim)
        return false;
    if (w->form == FORM_RANGE)
        return near_by(a->low, w->low, 0.005) && near_by(a->high, w->high, 0.005);
    return near_by(a->value, w->low, 0.005) && a->low >= 0.8 * a->value && a->high <= 1.25 * a->value;
}

static unsigned asks_of(const struct st_take_item *item)
{
    unsigned bits = 0;
    for (int i = 0; i < item->n_ask; i++)
        bits |= 1u << item->ask[i].kind;
    return bits;
}

static bool is_neutral(const char *slug)
{
    return strcmp(slug, "spirit_neutral") == 0 || strcmp(slug, "spirit_40") == 0 || strcmp(slug, "spirit_50") == 0 ||
           strcmp(slug, "spirit_95") == 0 || strcmp(slug, "spirit_96") == 0;
}

static bool same_thing(const char *want, const char *got)
{
    return strcmp(want, got) == 0 || (is_neutral(want) && is_neutral(got));
}

static bool same_strength(const struct want *w, const struct st_take_item *item)
{
    const struct st_range *r = &item->line.strength;

    if (!w->strength)
        return !(r->known && r->mark == 'u') || (w->asks & (1u << ST_ASK_STRENGTH)) || item->line.what->strength.known;
    const struct st_range *use = r->known ? r : &item->line.what->strength;
    if (!use->known)
        return false;
    if (w->strength_low < w->strength_high)
        return use->low <= w->strength_high * 1.005 && use->high >= w->strength_low * 0.995;
    return near_by(use->value, w->strength_low, 0.005);
}

static bool same_goods(const struct want *w, const struct st_take_item *item)
{
    const struct st_line *line = &item->line;
    const unsigned asks = asks_of(item);

    if (item->role != ST_TAKE_INGREDIENT || !line->what || asks != w->asks)
        return false;
    if (!same_thing(w->slug, line->what->slug) && !(asks & (1u << ST_ASK_PART)))
        return false;
    return same_amount(w, line) && same_strength(w, item) && (!w->gross || line->gross) &&
           w->optional == item->optional && strcmp(w->or_slug, item->or_slug) == 0 &&
           w->hot == (line->temperature_K.known && line->temperature_K.value > 330.0);
}

static bool same_time(const struct want *w, const struct st_amount *t)
{
    if (!(w->time_high > 0.0))
        return t->dim != ST_DIM_TIME;
    if (t->dim != ST_DIM_TIME)
        return false;
    if (w->time_low < w->time_high)
        return near_by(t->low, w->time_low, 0.07) && near_by(t->high, w->time_high, 0.07); /* months of 28 to 31 days */
    return t->low <= w->time_low * 1.02 && t->high >= w->time_low * 0.98;
}

static bool same_step(const struct want *w, const struct st_take_item *item)
{
    const struct st_take_deed *d = &item->deed;

    return item->role == ST_TAKE_STEP && strcmp(st_do_name(d->kind), w->kind) == 0 && same_time(w, &d->time) &&
           isnan(w->at_C) == !d->temperature_K.known &&
           (isnan(w->at_C) || fabs(d->temperature_K.value - 273.15 - w->at_C) < 1.0) && w->press == d->press &&
           near_by(w->size_ml, d->size_ml, 0.005) && w->bottles == d->bottles;
}

static bool same_item(const struct want *w, const struct st_take_item *item)
{
    static const struct {
        const char *head;
        enum st_take_role role;
    } ROLE[] = { { "title", ST_TAKE_TITLE },
                 { "heading", ST_TAKE_HEADING },
                 { "note", ST_TAKE_NOTE },
                 { "nothing", ST_TAKE_NOTHING } };

    for (size_t i = 0; i < sizeof ROLE / sizeof ROLE[0]; i++)
        if (strcmp(w->head, ROLE[i].head) == 0)
            return item->role == ROLE[i].role;
    if (strcmp(w->head, "step") == 0)
        return same_step(w, item);
    if (strcmp(w->head, "ask") == 0)
        return item->sure == ST_UNREAD && asks_of(item) == w->asks;
    return same_goods(w, item);
}

/* The items of a reading against those of the program, in any order. */
static bool same_reading(const char *reading, const struct st_take_item *item, int n)
{
    char copy[600], *at = copy;
    bool used[ST_TAKE_ITEMS] = { false };
    int wanted = 0;

    (void)snprintf(copy, sizeof copy, "%s", reading);
    while (at) {
        char *plus = strstr(at, " + ");
        struct want w;
        int found = -1;
        if (plus)
            *plus = '\0';
        read_want(at, &w);
        wanted++;
        for (int i = 0; i < n && found < 0; i++)
            if (!used[i] && same_item(&w, &item[i]))
                found = i;
        if (found < 0)
            return false;
        used[found] = true;
        at = plus ? plus + 3 : NULL;
    }
    return wanted == n;
}

static bool is_told(const struct st_take_item *item, int n)
{
    for (int i = 0; i < n; i++)
        if (item[i].n_ask > 0 || item[i].sure >= ST_GUESS)
            return true;
    return false;
}

/* ---- the sheet of lines ---- */

struct line_tally {
    int lines, exact, told, silent;
};

static enum st_measures measures_named(const char *word)
{
    return strcmp(word, "us") == 0         ? ST_MEASURES_US
           : strcmp(word, "metric") == 0   ? ST_MEASURES_METRIC
           : strcmp(word, "imperial") == 0 ? ST_MEASURES_IMPERIAL
                                           : ST_MEASURES_NONE;
}

static void print_difference(const char *sort, const char *text, const char *reading, const struct st_take_item *item,
                             int n)
{
    printf("%s: %s\n    want  %s\n    read  ", sort, text, reading);
    for (int i = 0; i < n; i++) {
        char buf[400];
        st_take_reading(&item[i], buf, sizeof buf);
        printf("%s%s", i ? " + " : "", buf);
        if (item[i].because[0])
            printf(" {%s}", item[i].because);
    }
    printf("\n");
}

static void compare_line(char *line, struct line_tally *t, bool loud)
{
    char *text = strchr(line, '\t');
    char *reading = text ? strchr(text + 1, '\t') : NULL;
    static struct st_take_item item[ST_TAKE_ITEMS];

    if (!reading)
        fail_msg("no reading in the corpus: %s", line);
    *text++ = '\0';
    *reading++ = '\0';
    struct st_take_context context = { .measures = measures_named(line) };
    const int n = st_take_line(text, strlen(text), catalogue, &context, item);
    assert_in_range(n, 1, ST_TAKE_ITEMS);
    t->lines++;
    if (same_reading(reading, item, n)) {
        t->exact++;
        return;
    }
    const bool told = is_told(item, n);
    *(told ? &t->told : &t->silent) += 1;
    if (loud)
        print_difference(told ? "told" : "SILENT", text, reading, item, n);
}

/* All the lines of a sheet.  loud: every difference is printed. */
static struct line_tally compare_sheet(const char *path, bool loud)
{
    FILE *file = fopen(path, "r");
    char line[2000];
    struct line_tally t = { 0 };

    assert_non_null(file);
    while (fgets(line, sizeof line, file)) {
        line[strcspn(line, "\r\n")] = '\0';
        if (line[0] && line[0] != '#')
            compare_line(line, &t, loud);
    }
    fclose(file);
    assert_true(t.lines > 0);
    return t;
}

static void read_catalogue(void)
{
    const struct st_embedded *sheet = st_embedded_find("data/ingredients.sheet");
    struct st_problem p;

    assert_non_null(sheet);
    catalogue = st_catalogue_create((const char *)sheet->bytes, sheet->size, &p);
    assert_non_null(catalogue);
}

#endif
