#include "api/book_larder.h"

#include <ctype.h>
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "store/left.h"
#include "text/figure_words.h"
#include "text/held.h"
#include "text/quantity.h"
#include "text/scan.h"
#include "text/take_words.h"

/* Looking into the larder. */

/* ---- words ---- */

static void ounces(char *buf, size_t size, double ml, enum st_measures units)
{
    const struct st_amount a = { .dim = ST_DIM_VOLUME, .value = ml, .low = ml, .high = ml };
    (void)st_quantity_print(&a, units, buf, size);
}

void st_lot_amount(char *buf, size_t size, double amount, const char *dim, enum st_measures units)
{
    const double x = fabs(amount);
    char figure[40];

    if (strcmp(dim, "g") == 0) {
        st_grams_words(buf, size, x);
        return;
    }
    if (strcmp(dim, "mL") == 0 && (units == ST_MEASURES_US || units == ST_MEASURES_IMPERIAL)) {
        ounces(buf, size, x, units);
        return;
    }
    if (strcmp(dim, "mL") == 0 && x < 999.5 && x >= 99.5)
        snprintf(figure, sizeof figure, "%.0f", x);
    else
        st_plain_figure(figure, sizeof figure, strcmp(dim, "mL") == 0 && x >= 999.5 ? x * 1e-3 : x, 3);
    if (strcmp(dim, "mL") == 0)
        snprintf(buf, size, "%s %s", figure, x >= 999.5 ? "L" : "mL");
    else
        snprintf(buf, size, "%s piece%s", figure, x == 1.0 ? "" : "s");
}

void st_lot_amount_short(char *buf, size_t size, double amount, const char *dim, enum st_measures units)
{
    if (strcmp(dim, "pieces") == 0)
        st_plain_figure(buf, size, fabs(amount), 3);
    else
        st_lot_amount(buf, size, amount, dim, units);
}

/* "eggs" as "egg"; what ends otherwise stays. */
static void one_of(char *name)
{
    static const char *const ES[] = { "ches", "shes", "xes" };
    const size_t n = strlen(name);
    if (n < 4 || name[n - 1] != 's' || name[n - 2] == 's')
        return;
    if (strcmp(name + n - 3, "ies") == 0) {
        memcpy(name + n - 3, "y", 2);
        return;
    }
    for (size_t i = 0; i < sizeof ES / sizeof *ES; i++)
        if (n > strlen(ES[i]) && strcmp(name + n - strlen(ES[i]), ES[i]) == 0) {
            name[n - 2] = '\0';
            return;
        }
    name[n - 1] = '\0';
}

void st_lot_so_much(char *buf, size_t size, double amount, const struct book_lot *lot, enum st_measures units)
{
    char figure[60], name[240];
    st_lot_amount_short(figure, sizeof figure, amount, lot->dim, units);
    st_lot_name(name, sizeof name, lot);
    if (strcmp(lot->dim, "pieces") == 0 && strcmp(figure, "1") == 0)
        one_of(name);
    snprintf(buf, size, "%s %s", figure, name);
}

/* Proof is told at 60 F, the book keeps 20 C: 80 proof is 40.07 % vol, and its label says 40. */
static double as_labelled(const struct book_lot *lot)
{
    const double q = lot->strength_pct_vol, label = round(2.0 * q) / 2.0;
    return strstr(lot->words, "proof") && fabs(label - q) < 0.12 ? label : q;
}

void st_lot_name(char *buf, size_t size, const struct book_lot *lot)
{
    if (isnan(lot->strength_pct_vol))
        snprintf(buf, size, "%s", lot->name);
    else
        snprintf(buf, size, "%s %.4g %%", lot->name, as_labelled(lot));
}

/* ---- one lot ---- */

static const struct st_ingredient *of_slug(const struct st_catalogue *c, const char *slug)
{
    for (size_t i = 0; *slug && i < st_catalogue_count(c); i++)
        if (strcmp(st_catalogue_at(c, i)->slug, slug) == 0)
            return st_catalogue_at(c, i);
    return NULL;
}

const struct st_ingredient *st_lot_ingredient(const struct st_catalogue *c, const struct book_lot *l)
{
    if (*l->slug)
        return of_slug(c, l->slug);
    const struct st_ingredient *named = st_catalogue_find(c, l->name, strlen(l->name));
    return named && *named->whole ? of_slug(c, named->whole) : named;
}

/* Something else with a caution of its own stands in the name: "vodka, from sloes". */
static bool holds_another(const struct st_catalogue *c, const char *name, const struct st_ingredient *in)
{
    const struct st_ingredient *held[ST_HELD];
    const int n = st_held_names(c, name, strlen(name), held);
    for (int i = 0; i < n; i++)
        if (held[i] != in && strcmp(held[i]->slug, in->slug) != 0 && held[i]->n_caution > 0)
            return true;
    return false;
}

bool st_lot_is_plain(const struct st_catalogue *c, const struct book_lot *l)
{
    const struct st_ingredient *in = st_lot_ingredient(c, l);
    struct st_goods_line said;
    struct st_problem none;
    char line[ST_GOODS_NAME + 20];
    if (!in || l->from_batch != BOOK_NO || holds_another(c, l->name, in))
        return false;
    (void)snprintf(line, sizeof line, "1 %s %.200s", strcmp(l->dim, "g") == 0 ? "g" : "mL", l->name);
    return st_goods_line_read(line, ST_MEASURES_METRIC, c, &said, &none) == 0 && said.what &&
           strcmp(said.what->slug, in->slug) == 0;
}

bool st_lot_is_called_so(const struct st_catalogue *c, const struct book_lot *l)
{
    static const char MADE[] =
        "tincture|tinctures|infusion|infused|flavoured|flavored|bitters|extract|essence|macerate|"
        "maceration|steeped|soaked|homemade|home-made|elixir|drained|with|from|in|on";
    const struct st_ingredient *in = *l->slug ? of_slug(c, l->slug) : NULL;
    const struct st_ingredient *held[ST_HELD];
    const int n = st_held_names(c, l->name, strlen(l->name), held);

    if (!in || strcmp(l->kind, "bought") != 0 || l->from_batch != BOOK_NO)
        return false;
    for (int i = 0; i < n; i++)
        if (strcmp(held[i]->slug, in->slug) != 0)
            return false;
    for (const char *at = l->name; *at; at++) {
        struct st_scan s = { at, at + strlen(at) };
        struct st_scan title = s;
        if ((at == l->name || at[-1] == ' ') &&
            (st_scan_word(&s, MADE) || st_words_at(&title, ST_WORD_BIT(ST_WORD_TITLE))))
            return false;
    }
    return true;
}

static long until(const struct st_desk *d, const char *day)
{
    const long age = st_desk_age(d, day);
    return age == LONG_MIN ? LONG_MIN : -age;
}

/* From the row and the uses that are lent to it. */
static void reckon(const struct st_desk *d, struct st_lot *l)
{
    double used = 0.0;
    for (int i = 0; i < l->n_use; i++)
        used += l->use[i].amount;
    l->left = l->row.amount - used;
    if (fabs(l->left) < 1e-9 * l->row.amount + 1e-12)
        l->left = 0.0;
    l->age = st_desk_age(d, l->row.since);
    l->opened = st_desk_age(d, l->row.opened_on);
    l->use_by = until(d, l->row.use_by);
    l->over = l->row.ended_on != NULL || l->left <= 0.0;
}

static bool no_lot(struct st_desk *d, const char *code)
{
    char what[120];
    snprintf(what, sizeof what, "\"%.60s\"", code);
    return st_desk_refuse(d, what, "no lot of the larder has this code",
                          "\"stillroom larder\" lists them, and \"stillroom larder find WORDS\" finds one");
}

static bool find_code(struct st_desk *d, const char *code, struct book_lot *row)
{
    struct book_lot *all;
    int n;
    const struct book_wanted w = { .column = "code", .text = code };

    if (!st_desk_good(d, book_list(d->book, BOOK_LOT, &w, d->arena, &all, &n)))
        return false;
    if (n > 0) {
        *row = all[0];
        return true;
    }
    if (!st_desk_good(d, book_list(d->book, BOOK_LOT, NULL, d->arena, &all, &n)))
        return false;
    for (int i = 0; i < n; i++) /* in capitals, or in a book of before as it was typed */
        if (strcasecmp(all[i].code, code) == 0) {
            *row = all[i];
            return true;
        }
    return no_lot(d, code);
}

static bool code_of(struct st_desk *d, int64_t batch, const char **code)
{
    struct book_batch row;
    if (batch == BOOK_NO)
        return true;
    if (!st_desk_good(d, book_get(d->book, BOOK_BATCH, batch, d->arena, &row)))
        return false;
    *code = row.code;
    return true;
}

bool st_larder_lot(struct st_desk *d, const char *code, struct st_lot *out)
{
    const bool bare = *code && strspn(code, "0123456789") == strlen(code);
    char said[64];
    struct book_lot_use *use;
    struct book_reading *reading;

    *out = (struct st_lot){ .left = 0.0 };
    snprintf(said, sizeof said, "%s%.60s", bare ? "L" : "", code);
    if (!find_code(d, strlen(code) > 60 ? code : said, &out->row))
        return false;
    const struct book_wanted w = { .column = "lot_id", .integer = out->row.id, .order = "on_day" };
    const struct book_wanted r = { .column = "lot_id", .integer = out->row.id, .order = "at" };
    if (!st_desk_good(d, book_list(d->book, BOOK_LOT_USE, &w, d->arena, &use, &out->n_use)) ||
        !st_desk_good(d, book_list(d->book, BOOK_READING, &r, d->arena, &reading, &out->n_reading)))
        return false;
    out->use = use;
    out->reading = reading;
    reckon(d, out);
    out->use_batch = st_arena_alloc(d->arena, ((size_t)out->n_use + 1) * sizeof *out->use_batch);
    for (int i = 0; i < out->n_use; i++)
        if (!code_of(d, use[i].batch_id, &out->use_batch[i]))
            return false;
    return code_of(d, out->row.from_batch, &out->from_batch);
}

/* ---- all of them ---- */

/* What is past or near its use-by first, then what is open longest, then the oldest; used up last. */
static int by_end(const void *pa, const void *pb)
{
    const struct st_lot *a = pa, *b = pb;
    const long ea = a->use_by == LONG_MIN ? LONG_MAX : a->use_by, eb = b->use_by == LONG_MIN ? LONG_MAX : b->use_by;

    if (a->over != b->over)
        return a->over - b->over;
    if (ea != eb)
        return ea < eb ? -1 : 1;
    if (a->opened != b->opened)
        return a->opened > b->opened ? -1 : 1;
    if (a->age != b->age)
        return a->age > b->age ? -1 : 1;
    return (a->row.id > b->row.id) - (a->row.id < b->row.id);
}

static int by_lot(const void *pa, const void *pb)
{
    const struct book_lot_use *a = pa, *b = pb;
    if (a->lot_id != b->lot_id)
        return a->lot_id < b->lot_id ? -1 : 1;
    return (a->id > b->id) - (a->id < b->id);
}

static bool read_lots(struct st_desk *d, bool over, struct st_larder *out)
{
    struct book_lot *row;
    struct book_lot_use *use;
    int n, n_use, k = 0;

    if (!st_desk_good(d, book_list(d->book, BOOK_LOT, NULL, d->arena, &row, &n)) ||
        !st_desk_good(d, book_list(d->book, BOOK_LOT_USE, NULL, d->arena, &use, &n_use)))
        return false;
    qsort(use, (size_t)n_use, sizeof *use, by_lot);
    out->lot = st_arena_alloc(d->arena, ((size_t)n + 1) * sizeof *out->lot);
    for (int i = 0; i < n; i++) { /* rows come by id too */
        struct st_lot *l = &out->lot[out->n_lot];
        while (k < n_use && use[k].lot_id < row[i].id)
            k++;
        *l = (struct st_lot){ .row = row[i], .use = use + k };
        while (k < n_use && use[k].lot_id == row[i].id)
            k++;
        l->n_use = (int)(use + k - l->use);
        reckon(d, l);
        out->n_over += l->over;
        out->n_lot += over || !l->over;
    }
    qsort(out->lot, (size_t)out->n_lot, sizeof *out->lot, by_end);
    return true;
}

static bool read_vessels(struct st_desk *d, struct st_larder *out)
{
    const struct book_wanted open = { .column = "ended_on", .integer = BOOK_NO };
    struct book_jar *jar;
    int n_jar;

    const struct book_wanted by_name = { .order = "name" };
    if (!st_desk_good(d, book_list(d->book, BOOK_VESSEL, &by_name, d->arena, &out->vessel, &out->n_vessel)) ||
        !st_desk_good(d, book_list(d->book, BOOK_JAR, &open, d->arena, &jar, &n_jar)))
        return false;
    out->stands_in = st_arena_alloc(d->arena, ((size_t)out->n_vessel + 1) * sizeof *out->stands_in);
    for (int i = 0; i < out->n_vessel; i++)
        for (int k = 0; k < n_jar; k++)
            if (jar[k].vessel_id == out->vessel[i].id && !code_of(d, jar[k].batch_id, &out->stands_in[i]))
                return false;
    return true;
}

static bool read_stock(struct st_desk *d, struct st_larder *out)
{
    struct book_left *left;
    int n, of;

    if (!st_desk_good(d, book_bottles_left(d->book, 0, d->arena, &left, &n, &of)))
        return false;
    out->stock = st_arena_alloc(d->arena, ((size_t)n + 1) * sizeof *out->stock);
    for (int i = 0; i < n; i++)
        out->stock[i] = (struct st_stock){ left[i].row, left[i].name, left[i].batch, left[i].at_home,
                                           st_desk_age(d, left[i].row.on_day) };
    out->n_stock = n;
    return true;
}

bool st_larder_lots(struct st_desk *d, bool over, struct st_larder *out)
{
    *out = (struct st_larder){ .lot = NULL };
    return read_lots(d, over, out);
}

bool st_larder_read(struct st_desk *d, bool over, struct st_larder *out)
{
    return st_larder_lots(d, over, out) && read_vessels(d, out) && read_stock(d, out);
}

bool st_lot_next_code(struct st_desk *d, char code[24])
{
    struct book_lot *row;
    int n;
    long most = 0;

    if (!st_desk_good(d, book_list(d->book, BOOK_LOT, NULL, d->arena, &row, &n)))
        return false;
    for (int i = 0; i < n; i++) {
        char *end = NULL;
        const long k =
            row[i].code[0] == 'L' && isdigit((unsigned char)row[i].code[1]) ? strtol(row[i].code + 1, &end, 10) : 0;
        if (k > most && k < 1000000000 && end && *end == '\0')
            most = k;
    }
    snprintf(code, 24, "L%ld", most + 1);
    return true;
}

/* ---- finding ---- */

static bool holds(const char *text, const char *word, size_t n)
{
    const char small = (char)tolower((unsigned char)*word), large = (char)toupper((unsigned char)*word);
    for (; text && *text; text++)
        if ((*text == small || *text == large) && strncasecmp(text, word, n) == 0)
            return true;
    return false;
}

bool st_words_in(const char *words, const char *const text[], int n)
{
    static const char BLANK[] = " \t,";
    for (words += strspn(words, BLANK); *words; words += strspn(words, BLANK)) {
        const size_t k = strcspn(words, BLANK);
        bool found = false;
        for (int i = 0; i < n && !found; i++)
            found = holds(text[i], words, k);
        if (!found)
            return false;
        words += k;
    }
    return true;
}

bool st_lot_has(const struct book_lot *l, const char *words)
{
    const char *const text[] = { l->code, l->name, l->slug, l->words, l->place, l->bought_at, l->note };
    return st_words_in(words, text, (int)(sizeof text / sizeof *text));
}
