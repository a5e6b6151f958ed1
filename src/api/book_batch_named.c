#include "api/book_batch_named.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "api/book_batch_own.h"
#include "text/quantity.h"
#include "util/memory.h"

static const char *const WAY[] = { "poured ", "spent ", "tincture ", "lot " };
enum { NWAY = sizeof WAY / sizeof *WAY };

static bool is_letter(char c)
{
    return isalnum((unsigned char)c) || (unsigned char)c >= 0x80;
}

/* ---- one code ---- */

/* A code is over where no letter follows, and no sign with one behind it: "L1" is not said by "L12", nor by "L1-2". */
static bool is_over(const char *at)
{
    return !is_letter(*at) && (*at == '\0' || *at == ' ' || !is_letter(at[1]));
}

static size_t length_of(const char *at, const char *code)
{
    const size_t n = strlen(code);
    return n && strncasecmp(at, code, n) == 0 && is_over(at + n) ? n : 0;
}

/* As lines of older books have it: signs are blanks, and no row's number stands behind. */
static size_t length_of_old(const struct st_batch_ask *a, const char *at, const char *code)
{
    char *blank = st_arena_strdup(a->arena, code);
    for (char *p = blank; *p; p++)
        if (!is_letter(*p))
            *p = ' ';
    const size_t n = length_of(at, blank);
    return n && strncmp(at + n, " lot ", 5) == 0 && isdigit((unsigned char)at[n + 5]) ? 0 : n;
}

size_t st_batch_says_lot(const struct st_batch_ask *a, const char *text, const struct book_lot *lot)
{
    size_t n = length_of(text, st_batch_own_key(a, lot));
    if (n == 0)
        n = length_of(text, lot->code);
    return n ? n : length_of_old(a, text, lot->code);
}

/* Of what stands behind "poured ". */
static int lot_said(const struct st_batch_ask *a, const char *at, const struct book_lot lot[], int n)
{
    size_t most = 0;
    int which = -1;
    for (int i = 0; i < n; i++) {
        const size_t is = st_batch_says_lot(a, at, &lot[i]);
        if (is > most)
            which = i;
        else if (is == most)
            which = most ? -1 : which;
        most = is > most ? is : most;
    }
    return which;
}

int st_batch_line_lot(const struct st_batch_ask *a, const char *line, const struct book_lot lot[], int n)
{
    for (const char *p = line; p && *p; p++)
        for (int i = 0; i < NWAY && (p == line || !is_letter(p[-1])); i++)
            if (strncasecmp(p, WAY[i], strlen(WAY[i])) == 0)
                return lot_said(a, p + strlen(WAY[i]), lot, n);
    return -1;
}

/* ---- all that is looked through ---- */

struct naming {
    const struct st_batch_ask *a;
    const struct book_lot *lot;
    const struct book_weighing *w;
    int n_lot, n_w;
    bool *begins; /* by the first two letters of own names and of WAY, in small ones */
    struct st_batch_name *name;
    int n, room;
};

static size_t first_two(const char *at)
{
    return (size_t)tolower((unsigned char)at[0]) * 256 + (at[0] ? (size_t)tolower((unsigned char)at[1]) : 0);
}

/* Made in this house, or of a name that only the maker gives. */
static bool is_own_name(const struct book_lot *lot)
{
    return *lot->name && (strcmp(lot->kind, "bought") != 0 || !*lot->slug);
}

static void note(struct naming *k, const struct book_batch *batch, const struct book_lot *lot, const char *line,
                 bool sure)
{
    for (int i = k->n - 1; i >= 0 && k->name[i].batch_id == batch->id; i--)
        if (k->name[i].lot_id == lot->id) {
            k->name[i].sure = k->name[i].sure || sure;
            return;
        }
    if (k->n == k->room) {
        struct st_batch_name *more = st_arena_alloc(k->a->arena, (size_t)(k->room = 2 * k->room + 16) * sizeof *more);
        if (k->n)
            memcpy(more, k->name, (size_t)k->n * sizeof *more);
        k->name = more;
    }
    k->name[k->n++] = (struct st_batch_name){ batch->id, lot->id, st_arena_strdup(k->a->arena, line), sure };
}

/* ---- one line ---- */

/* What stands behind "poured ": the longest code, and every lot that it may be.  Whether there is one. */
static bool note_code(struct naming *k, const struct book_batch *batch, const char *at, const char *line)
{
    size_t most = 0;
    for (int i = 0; i < k->n_lot; i++) {
        const size_t n = st_batch_says_lot(k->a, at, &k->lot[i]);
        most = n > most ? n : most;
    }
    for (int i = 0; most && i < k->n_lot; i++)
        if (st_batch_says_lot(k->a, at, &k->lot[i]) == most)
            note(k, batch, &k->lot[i], line, true);
    return most > 0;
}

static bool note_codes(struct naming *k, const struct book_batch *batch, const char *line)
{
    bool any = false;
    for (const char *p = line; *p; p++)
        for (int i = 0; i < NWAY && (p == line || !is_letter(p[-1])); i++)
            if (strncasecmp(p, WAY[i], strlen(WAY[i])) == 0)
                any = note_code(k, batch, p + strlen(WAY[i]), line) || any;
    return any;
}

/* Behind the amount: "walnut tincture" of "50 mL of walnut tincture 45 %". */
static const char *thing_of(const struct naming *k, const char *line)
{
    struct st_amount x;
    struct st_problem why;
    size_t used = 0;
    const enum st_measures m = k->a->measures == ST_MEASURES_NONE ? ST_MEASURES_METRIC : k->a->measures;
    if (st_quantity_parse(line, strlen(line), m, &x, &used, &why) != 0)
        used = 0;
    line += used + strspn(line + used, " ");
    return strncasecmp(line, "of ", 3) == 0 ? line + 3 : line;
}

/* Is the thing of that name, with nothing behind it but its strength or a remark? */
static bool bears(const char *thing, const char *name)
{
    const size_t n = strlen(name);
    if (strncasecmp(thing, name, n) != 0)
        return false;
    const char *rest = thing + n + strspn(thing + n, " ");
    return *rest == '\0' || *rest == ',' || *rest == '(' || *rest == '#' || *rest == '"' ||
           (rest > thing + n && isdigit((unsigned char)*rest));
}

static bool is_meant(const struct book_batch *batch, const struct book_lot *lot, const char *thing)
{
    return is_own_name(lot) && lot->from_batch != batch->id && bears(thing, lot->name) &&
           !(batch->ended_on && lot->since && strcmp(lot->since, batch->ended_on) > 0);
}

static void note_names(struct naming *k, const struct book_batch *batch, const char *line)
{
    const char *thing = thing_of(k, line);
    for (int i = 0; i < k->n_lot && *thing; i++) {
        int alike = 0;
        for (int j = 0; is_meant(batch, &k->lot[i], thing) && j < k->n_lot; j++)
            alike += strcmp(k->lot[j].kind, k->lot[i].kind) == 0 && is_meant(batch, &k->lot[j], thing);
        if (alike > 0)
            note(k, batch, &k->lot[i], line, alike == 1);
    }
}

static void look_at(struct naming *k, const struct book_batch *batch, const char *line)
{
    if (!note_codes(k, batch, line))
        note_names(k, batch, line);
}

/* ---- one batch ---- */

static bool is_nothing(const char *words)
{
    return isdigit((unsigned char)*words) && strtod(words, NULL) == 0.0;
}

/* Whether the line was weighed, and all of it from lots, or as nothing. */
static bool is_of_lots(const struct naming *k, const struct book_batch *batch, const char *step, int line)
{
    int with = 0, without = 0;
    for (int i = 0; i < k->n_w; i++)
        if (k->w[i].batch_id == batch->id && k->w[i].line == line && strcmp(k->w[i].step, step) == 0)
            *(k->w[i].lot_id != BOOK_NO || is_nothing(k->w[i].words) ? &with : &without) += 1;
    return with > 0 && without == 0;
}

/* A text that nobody can read any more: its rows as they stand. */
static void look_at_rows(struct naming *k, const struct book_batch *batch)
{
    char *text = st_arena_strdup(k->a->arena, batch->text), *next;
    for (char *row = text; row; row = next) {
        next = strchr(row, '\n');
        if (next)
            *next++ = '\0';
        row += strspn(row, " -\"'");
        look_at(k, batch, row);
    }
}

static void look_into(struct naming *k, const struct book_batch *batch)
{
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    (void)st_batch_made_of(k->a, batch->text, false, m);
    const struct st_recipe *r = &m->file.recipe;
    for (int s = 0; m->whole && s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++)
            if (!is_of_lots(k, batch, r->step[s].id, i + 1))
                look_at(k, batch, r->step[s].line[i].text);
    if (!m->whole)
        look_at_rows(k, batch);
    st_batch_made_done(m);
    free(m);
}

/* Whether it is worth being read: a way or an own name stands somewhere in it. */
static bool may_name(const struct naming *k, const char *text)
{
    for (const char *p = text; p && *p; p++) {
        if ((p > text && is_letter(p[-1])) || !k->begins[first_two(p)])
            continue;
        for (int i = 0; i < NWAY; i++)
            if (strncasecmp(p, WAY[i], strlen(WAY[i])) == 0)
                return true;
        for (int i = 0; i < k->n_lot; i++)
            if (is_own_name(&k->lot[i]) && strncasecmp(p, k->lot[i].name, strlen(k->lot[i].name)) == 0)
                return true;
    }
    return false;
}

enum book_status st_batch_named(const struct st_batch_ask *a, const struct book_batch batch[], int n_batch,
                                const struct book_lot lot[], int n_lot, const struct book_weighing w[], int n_w,
                                struct st_batch_name **name, int *n)
{
    struct naming k = { .a = a, .lot = lot, .n_lot = n_lot, .w = w, .n_w = n_w };
    k.begins = x_calloc(65536, sizeof *k.begins);
    for (int i = 0; i < NWAY; i++)
        k.begins[first_two(WAY[i])] = true;
    for (int i = 0; i < n_lot; i++)
        if (is_own_name(&lot[i]))
            k.begins[first_two(lot[i].name)] = true;
    for (int i = 0; i < n_batch; i++)
        if (may_name(&k, batch[i].text))
            look_into(&k, &batch[i]);
    for (int i = 0; i < n_w; i++) /* what was added besides, in the maker's own words */
        for (int j = 0; w[i].lot_id == BOOK_NO && w[i].line == 0 && j < n_batch; j++)
            if (batch[j].id == w[i].batch_id)
                look_at(&k, &batch[j], w[i].words);
    free(k.begins);
    *name = k.name;
    *n = k.n;
    return BOOK_OK;
}
