#include "recipe_edit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "quantity.h"

/* One stretch of the file and what takes its place. */
struct patch {
    size_t at, n;
    char text[160];
};
enum { MOST_PATCHES = 64 };

struct edits {
    const char *text;
    size_t size;
    enum st_measures measures;
    struct patch patch[MOST_PATCHES];
    int n;
    struct st_problem *problem;
};

static bool refuse(struct edits *e, const struct st_line *line, const char *why, const char *try_)
{
    memset(e->problem, 0, sizeof *e->problem);
    e->problem->at = line->at;
    (void)snprintf(e->problem->what, sizeof e->problem->what, "cannot change `%.100s` in place", line->text);
    (void)snprintf(e->problem->why, sizeof e->problem->why, "%s", why);
    (void)snprintf(e->problem->try_, sizeof e->problem->try_, "%s", try_);
    return false;
}

/* ---- where things stand ---- */

/* Byte of a place (columns count characters); size where there is none. */
static size_t offset_of(const struct edits *e, struct st_place at)
{
    size_t i = 0;
    for (int line = 1; line < at.line; line++) {
        const char *end = i < e->size ? memchr(e->text + i, '\n', e->size - i) : NULL;
        if (!end)
            return e->size;
        i = (size_t)(end - e->text) + 1;
    }
    for (int column = 1; column < at.column && i < e->size; column++) {
        i++;
        while (i < e->size && ((unsigned char)e->text[i] & 0xc0) == 0x80)
            i++;
    }
    return i;
}

/* Where the words of a line begin in the file; e->size where they do not stand there letter by letter. */
static size_t find_words(const struct edits *e, const struct st_line *line)
{
    const size_t n = strlen(line->text);
    size_t i = offset_of(e, line->at);
    if (i < e->size && (e->text[i] == '"' || e->text[i] == '\''))
        i++;
    if (line->at.line < 1 || i + n > e->size || memcmp(e->text + i, line->text, n) != 0)
        return e->size;
    return i;
}

static bool begins_word(const char *text, size_t i)
{
    return i == 0 || text[i - 1] == ' ' || text[i - 1] == '(';
}

/* A quantity of this dimension and value in the words: where, and how long; false when there is none. */
static bool find_quantity(const struct edits *e, const char *text, enum st_dimension dim, double value, size_t *at,
                          size_t *n)
{
    const size_t size = strlen(text);
    for (size_t i = 0; i < size; i++) {
        struct st_amount a;
        struct st_problem problem;
        size_t used = 0;
        if (!begins_word(text, i) || text[i] == ' ' ||
            st_quantity_parse(text + i, size - i, e->measures, &a, &used, &problem) != 0)
            continue;
        if (a.dim != dim || !(fabs(a.value - value) <= 1e-9 * fabs(value)))
            continue;
        while (used > 0 && text[i + used - 1] == ' ')
            used--;
        const size_t words = strcspn(text + i, "0123456789"); /* "to", "about" stay; "a cup" goes as a whole */
        const bool kept = words < used && words > 0 && text[i + words - 1] == ' ';
        *at = kept ? i + words : i;
        *n = kept ? used - words : used;
        return true;
    }
    return false;
}

/* The end of the entry that holds byte i: up to the next row that stands less deep; blank rows and remarks do not
 * count. */
static size_t end_of_entry(const struct edits *e, size_t i)
{
    size_t start = i, depth = 0;
    while (start > 0 && e->text[start - 1] != '\n')
        start--;
    while (start + depth < e->size && (e->text[start + depth] == ' ' || e->text[start + depth] == '-'))
        depth++;
    for (const char *next = memchr(e->text + i, '\n', e->size - i); next;
         next = memchr(next + 1, '\n', e->size - (size_t)(next + 1 - e->text))) {
        const size_t row = (size_t)(next + 1 - e->text);
        size_t in = 0;
        while (row + in < e->size && e->text[row + in] == ' ')
            in++;
        if (row + in < e->size && in < depth && !strchr("\r\n#", e->text[row + in]))
            return row;
    }
    return e->size;
}

/* The brace that closes the one at i, or end. */
static size_t end_of_braces(const struct edits *e, size_t i, size_t end)
{
    for (int depth = 0; i < end; i++) {
        depth += e->text[i] == '{';
        depth -= e->text[i] == '}';
        if (depth == 0)
            return i;
    }
    return end;
}

/* The value of `key:` after byte i within its entry: where it begins, and how long; false when it is not there.  Not in
 * a remark; what stands in braces that open after i is passed over (over) or ends the search.  A value ends at a comma,
 * a brace, a remark or the end of the row. */
static bool find_key(const struct edits *e, size_t i, const char *key, bool over, size_t *at, size_t *n)
{
    const size_t row_end = end_of_entry(e, i), k = strlen(key);
    const char *brace = memchr(e->text + i, '}', row_end - i), *row = memchr(e->text + i, '\n', row_end - i);
    const size_t end = brace && (!row || brace < row) ? (size_t)(brace - e->text) : row_end;
    for (size_t j = i > 0 ? i : 1; j + k + 1 < end; j++) {
        if (e->text[j] == '{') {
            if (!over)
                return false;
            j = end_of_braces(e, j, end);
            continue;
        }
        if (e->text[j] == '#' && e->text[j - 1] == ' ') {
            const char *next = memchr(e->text + j, '\n', end - j);
            j = next ? (size_t)(next - e->text) : end;
            continue;
        }
        if (memcmp(e->text + j, key, k) != 0 || e->text[j + k] != ':' ||
            (e->text[j - 1] != ' ' && e->text[j - 1] != ','))
            continue;
        size_t from = j + k + 1, to;
        while (from < end && e->text[from] == ' ')
            from++;
        for (to = from; to < end && !strchr(",}#\n\r", e->text[to]); to++)
            ;
        while (to > from && e->text[to - 1] == ' ')
            to--;
        *at = from;
        *n = to - from;
        return to > from;
    }
    return false;
}

/* ---- what changes ---- */

static bool put(struct edits *e, const struct st_line *line, size_t at, size_t n, const char *text)
{
    if (e->n == MOST_PATCHES)
        return refuse(e, line, "too much changes at once", "change fewer lines");
    struct patch *p = &e->patch[e->n++];
    p->at = at;
    p->n = n;
    (void)snprintf(p->text, sizeof p->text, "%s", text);
    return true;
}

static bool change_price(struct edits *e, const struct st_edit *d, size_t words, const char *before)
{
    const struct st_line *line = d->line;
    size_t at, n;
    char text[160];
    if (isnan(line->price) || line->price == 0.0 || !find_key(e, words + strlen(line->text), "price", false, &at, &n))
        return true;
    if (d->price > 0.0) {
        (void)snprintf(text, sizeof text, "%.6g", d->price);
        return put(e, line, at, n, text);
    }
    if (n > 40 || memchr(e->text + at, 'f', n)) /* "for": a pack already */
        return true;
    (void)snprintf(text, sizeof text, "%.*s for %s", (int)n, e->text + at, before);
    return put(e, line, at, n, text);
}

static bool change_trimmed(struct edits *e, const struct st_line *line, size_t words)
{
    size_t at, n;
    char text[96];
    if (!line->trimmed_share.known || !find_key(e, words + strlen(line->text), "trimmed", false, &at, &n) ||
        memchr(e->text + at, '%', n))
        return true;
    const struct st_range r = line->trimmed_share;
    if (r.low < r.high)
        (void)snprintf(text, sizeof text, "%.5g-%.5g %%", 100.0 * r.low, 100.0 * r.high);
    else
        (void)snprintf(text, sizeof text, "%.6g %%", 100.0 * r.value);
    return put(e, line, at, n, text);
}

static bool change_amount(struct edits *e, const struct st_edit *d, size_t words)
{
    const struct st_line *line = d->line;
    size_t at, n;
    char before[96];
    if (!find_quantity(e, line->text, line->amount.dim, line->amount.value, &at, &n) || n >= sizeof before)
        return refuse(e, line, "its amount is not one figure in these words", "write the amount first, such as 650 mL");
    (void)snprintf(before, sizeof before, "%.*s", (int)n, line->text + at);
    return put(e, line, words + at, n, d->amount) && change_price(e, d, words, before) &&
           change_trimmed(e, line, words);
}

static bool change_strength(struct edits *e, const struct st_edit *d, size_t words)
{
    const struct st_line *line = d->line;
    size_t at, n;
    char text[40];
    (void)snprintf(text, sizeof text, "%.6g %%", d->strength);
    if (find_key(e, words + strlen(line->text), "strength", false, &at, &n))
        return put(e, line, at, n, text);
    if (line->strength.known && find_quantity(e, line->text, ST_DIM_STRENGTH, line->strength.value, &at, &n))
        return put(e, line, words + at, n, text);
    const size_t end = strlen(line->text); /* none is written: behind the words */
    (void)snprintf(text, sizeof text, " %.6g %%", d->strength);
    if (line->strength.known || memchr(line->text, ',', end))
        return refuse(e, line, "its strength is not one figure in these words", "write it such as vodka 40 %");
    return put(e, line, words + end, 0, text);
}

/* What stands behind a key of the step, where it has it. */
static bool change_of_step(struct edits *e, const struct st_edit *d, const char *key, const char *value)
{
    size_t at, n;
    const size_t step = offset_of(e, d->step->at);
    const struct st_line none = { .text = key };
    return step >= e->size || !find_key(e, step, key, true, &at, &n) || put(e, &none, at, n, value);
}

static int by_place(const void *a, const void *b)
{
    const struct patch *x = a, *y = b;
    return (x->at > y->at) - (x->at < y->at);
}

int st_recipe_edit(const char *text, size_t size, enum st_measures measures, const struct st_edit edit[], int n,
                   struct st_buf *out, struct st_problem *problem)
{
    struct edits e = { .text = text, .size = size, .measures = measures, .problem = problem };
    for (int i = 0; i < n; i++) {
        if (edit[i].step && edit[i].vessel && !change_of_step(&e, &edit[i], "vessel", edit[i].vessel))
            return -1;
        if (edit[i].step && edit[i].time && !change_of_step(&e, &edit[i], "for", edit[i].time))
            return -1;
        if (!edit[i].line)
            continue;
        const size_t words = find_words(&e, edit[i].line);
        if (words == size) {
            (void)refuse(&e, edit[i].line, "it is folded over several rows, or written with escapes",
                         "write that line on one row, as plain text");
            return -1;
        }
        if ((edit[i].amount && !change_amount(&e, &edit[i], words)) ||
            (edit[i].strength > 0.0 && !change_strength(&e, &edit[i], words)))
            return -1;
    }
    qsort(e.patch, (size_t)e.n, sizeof *e.patch, by_place);
    size_t from = 0;
    for (int i = 0; i < e.n; i++) {
        st_buf_add_n(out, text + from, e.patch[i].at - from);
        st_buf_add(out, e.patch[i].text);
        from = e.patch[i].at + e.patch[i].n;
    }
    st_buf_add_n(out, text + from, size - from);
    return 0;
}
