#include "api/book_batch_story.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_label.h"
#include "api/book_batch_pour.h"

struct story {
    const struct st_batch_ask *a;
    struct st_batch_event *e;
    int n, room;
};

static void tell(struct story *k, const char *at, const char *words)
{
    if (k->n == k->room) {
        const int room = k->room ? 2 * k->room : 64;
        struct st_batch_event *grown = st_arena_alloc(k->a->arena, (size_t)room * sizeof *grown);
        if (k->n)
            memcpy(grown, k->e, (size_t)k->n * sizeof *grown);
        k->e = grown;
        k->room = room;
    }
    k->e[k->n] = (struct st_batch_event){ at, words, k->n };
    k->n++;
}

static int by_day(const void *x, const void *y)
{
    const struct st_batch_event *a = x, *b = y;
    const int c = strncmp(a->at, b->at, 10);
    return c ? c : a->order - b->order;
}

static enum book_status rows_of(const struct st_batch_ask *a, enum book_table t, const char *order, int64_t batch,
                                void *rows, int *n)
{
    const struct book_wanted of = { .column = "batch_id", .integer = batch, .order = order };
    return book_list(a->book, t, &of, a->arena, rows, n);
}

static const char *lot_code(const struct st_batch_ask *a, int64_t id)
{
    struct book_lot lot;
    return id != BOOK_NO && book_get(a->book, BOOK_LOT, id, a->arena, &lot) == BOOK_OK ? lot.code : NULL;
}

static enum book_status tell_weighings(struct story *k, const struct book_batch *row, const struct st_batch_made *m)
{
    struct book_weighing *w;
    int n;
    const enum book_status s = rows_of(k->a, BOOK_WEIGHING, "on_day", row->id, &w, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        const char *of = "", *lot = lot_code(k->a, w[i].lot_id);
        for (int st = 0; m->whole && st < m->file.recipe.n_step; st++)
            if (strcmp(m->file.recipe.step[st].id, w[i].step) == 0 && w[i].line >= 1 &&
                w[i].line <= m->file.recipe.step[st].n_line) {
                const struct st_line *l = &m->file.recipe.step[st].line[w[i].line - 1];
                of = l->what ? l->what->name : l->text;
            }
        tell(k, w[i].on_day,
             st_arena_printf(k->a->arena, "%s %s%s%s%s%s into %s", w[i].line ? "weighed" : "added", w[i].words,
                             *of ? " " : "", of, lot ? " of " : "", lot ? lot : "", w[i].step));
    }
    return s;
}

static enum book_status tell_jars(struct story *k, const struct book_batch *row)
{
    struct st_batch_jar *j;
    int n;
    const enum book_status s = st_batch_jars(k->a, row->id, true, &j, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        const char *step = *j[i].row.step ? j[i].row.step : "a jar";
        tell(k, j[i].row.begun_on,
             st_arena_printf(k->a->arena, "%s began: %s%s%s%s%s", step, j[i].row.doing, *j[i].vessel ? " in " : "",
                             j[i].vessel, *j[i].row.place ? ", " : "", j[i].row.place));
        if (j[i].row.ended_on)
            tell(k, j[i].row.ended_on, st_arena_printf(k->a->arena, "%s ended", step));
    }
    return s;
}

static enum book_status tell_readings(struct story *k, const struct book_batch *row)
{
    struct book_reading *r;
    char words[200];
    int n;
    const enum book_status s = rows_of(k->a, BOOK_READING, "at", row->id, &r, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        st_batch_reading_words(words, sizeof words, &r[i]);
        tell(k, r[i].at,
             st_arena_printf(k->a->arena, "read %s%s%s%s%s (reading %lld%s)", words, *r[i].step ? " in " : "",
                             r[i].step, *r[i].by_whom ? ", by " : "", r[i].by_whom, (long long)r[i].id,
                             r[i].doubted == 1 ? ", set aside" : ""));
    }
    return s;
}

/* "poured 200 mL into B2 as lot L1" where it was drawn off for another batch; NULL. */
static const char *poured_words(struct story *k, const struct book_batch *row, const struct book_loss *loss)
{
    struct book_lot *l;
    struct book_lot_use *use;
    struct book_batch into;
    int n, m;
    const struct book_wanted of = { .column = "from_batch", .integer = row->id };
    if (book_list(k->a->book, BOOK_LOT, &of, k->a->arena, &l, &n) != BOOK_OK)
        return NULL;
    for (int i = 0; i < n; i++) {
        if (!st_batch_pour_lost(k->a, &l[i], loss))
            continue;
        const struct book_wanted by = { .column = "lot_id", .integer = l[i].id };
        if (book_list(k->a->book, BOOK_LOT_USE, &by, k->a->arena, &use, &m) != BOOK_OK || m == 0 ||
            use[0].batch_id == BOOK_NO ||
            book_get(k->a->book, BOOK_BATCH, use[0].batch_id, k->a->arena, &into) != BOOK_OK)
            return NULL;
        return st_arena_printf(k->a->arena, "poured %g mL into %s %s as lot %s", loss->volume_ml, into.code, into.name,
                               l[i].code);
    }
    return NULL;
}

static enum book_status tell_losses(struct story *k, const struct book_batch *row)
{
    struct book_loss *l;
    int n;
    const enum book_status s = rows_of(k->a, BOOK_LOSS, "on_day", row->id, &l, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        const bool ml = isfinite(l[i].volume_ml);
        const char *poured = ml ? poured_words(k, row, &l[i]) : NULL;
        tell(k, l[i].on_day,
             poured ? poured
                    : st_arena_printf(k->a->arena, "lost %g %s: %s", ml ? l[i].volume_ml : l[i].mass_g, ml ? "mL" : "g",
                                      l[i].why));
    }
    return s;
}

static enum book_status tell_lots(struct story *k, const struct book_batch *row)
{
    struct book_lot *l;
    int n;
    const struct book_wanted of = { .column = "from_batch", .integer = row->id };
    const enum book_status s = book_list(k->a->book, BOOK_LOT, &of, k->a->arena, &l, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        tell(k, l[i].since ? l[i].since : row->begun_on,
             st_arena_printf(k->a->arena, "kept %g %s of %s as lot %s", l[i].amount, l[i].dim, l[i].name, l[i].code));
    return s;
}

static enum book_status tell_photos(struct story *k, const struct book_batch *row)
{
    struct book_photo *p;
    int n;
    const enum book_status s = rows_of(k->a, BOOK_PHOTO, "at", row->id, &p, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        tell(k, p[i].at,
             st_arena_printf(k->a->arena, "photo %lld%s%s", (long long)p[i].id, *p[i].words ? ": " : "", p[i].words));
    return s;
}

static enum book_status tell_gone(struct story *k, const struct book_bottling *of)
{
    struct book_gone *g;
    int n;
    const struct book_wanted w = { .column = "bottling_id", .integer = of->id, .order = "on_day" };
    const enum book_status s = book_list(k->a->book, BOOK_GONE, &w, k->a->arena, &g, &n);
    static const char *const LIKED[] = { "did not like it", "found it so-so", "liked it" };
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        if (g[i].lot_id != BOOK_NO) {
            tell(k, g[i].on_day,
                 st_arena_printf(k->a->arena, "%lld of %s %s", (long long)g[i].count, of->code, g[i].note));
            continue;
        }
        tell(k, g[i].on_day,
             st_arena_printf(k->a->arena, "%lld of %s went to %s", (long long)g[i].count, of->code, g[i].person));
        if (g[i].returned > 0)
            tell(k, g[i].returned_on ? g[i].returned_on : g[i].on_day,
                 st_arena_printf(k->a->arena, "%s brought %lld of %s back", g[i].person, (long long)g[i].returned,
                                 of->code));
        if (g[i].liked >= -1 && g[i].liked <= 1)
            tell(k, g[i].returned_on ? g[i].returned_on : g[i].on_day,
                 st_arena_printf(k->a->arena, "%s %s", g[i].person, LIKED[g[i].liked + 1]));
        if (g[i].told_on)
            tell(k, g[i].told_on, st_arena_printf(k->a->arena, "rang %s about %s", g[i].person, of->code));
    }
    return s;
}

static bool is_among(const struct st_batch_label_line *one, const struct st_batch_label_line all[], int n)
{
    for (int i = 0; i < n; i++)
        if (strcmp(one->what, all[i].what) == 0 && strcmp(one->text, all[i].text) == 0)
            return true;
    return false;
}

/* What its label said, as it was kept on the day of bottling; what the label of the bottling before it said too is told once. */
static void tell_label(struct story *k, const struct book_bottling *f, const struct book_bottling *before,
                       const char *name)
{
    struct st_batch_label_line *line, *old = NULL;
    const int n = st_batch_label_lines(k->a->arena, f, name, false, &line);
    const int n_old = before ? st_batch_label_lines(k->a->arena, before, name, false, &old) : 0;
    int same = 0;
    for (int i = 0; i < n; i++)
        same += is_among(&line[i], old, n_old);
    if (same > 0)
        tell(k, f->on_day,
             st_arena_printf(k->a->arena, "%s, its label: %s of %s", f->code,
                             same == n ? "the same as that" : "but for what follows, the same as that", before->code));
    for (int i = 0; i < n; i++)
        if (!is_among(&line[i], old, n_old))
            tell(k, f->on_day,
                 st_arena_printf(k->a->arena, "%s, its label: %s: %.400s", f->code, line[i].what, line[i].text));
    if (n == 0 && isfinite(f->strength_pct_vol))
        tell(k, f->on_day, st_arena_printf(k->a->arena, "%s: %.3g %% vol, as measured", f->code, f->strength_pct_vol));
}

static enum book_status tell_bottlings(struct story *k, const struct book_batch *row)
{
    struct book_bottling *f;
    int n;
    enum book_status s = rows_of(k->a, BOOK_BOTTLING, "on_day", row->id, &f, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        tell(k, f[i].on_day,
             st_arena_printf(k->a->arena, "bottled %lld of %g mL as %s", (long long)f[i].count, f[i].size_ml,
                             f[i].code));
        tell_label(k, &f[i], i > 0 ? &f[i - 1] : NULL, row->name);
        s = tell_gone(k, &f[i]);
    }
    return s;
}

enum book_status st_batch_story(const struct st_batch_ask *a, const struct book_batch *row,
                                const struct st_batch_made *m, struct st_batch_event **event, int *n)
{
    struct story k = { .a = a };
    enum book_status s;
    tell(&k, row->begun_on, "begun");
    s = tell_weighings(&k, row, m);
    if (s == BOOK_OK)
        s = tell_jars(&k, row);
    if (s == BOOK_OK)
        s = tell_readings(&k, row);
    if (s == BOOK_OK)
        s = tell_losses(&k, row);
    if (s == BOOK_OK)
        s = tell_lots(&k, row);
    if (s == BOOK_OK)
        s = tell_photos(&k, row);
    if (s == BOOK_OK)
        s = tell_bottlings(&k, row);
    if (row->ended_on)
        tell(&k, row->ended_on, "over");
    qsort(k.e, (size_t)k.n, sizeof *k.e, by_day);
    *event = k.e;
    *n = k.n;
    return s;
}
