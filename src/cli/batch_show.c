/* The whole story of a batch, by day; and its end. */
#include "cli/batch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_label.h"
#include "cli/batch_did.h"
#include "cli/page.h"
#include "util/memory.h"

/* ---- what happened ---- */

struct event {
    const char *at, *words;
    int order; /* as they were collected: deeds of one day stay in theirs */
};

struct story {
    struct batch *b;
    struct event *e;
    int n, room;
};

static void tell(struct story *k, const char *at, const char *words)
{
    if (k->n == k->room) {
        const int room = k->room ? 2 * k->room : 64;
        struct event *grown = st_arena_alloc(&k->b->arena, (size_t)room * sizeof *grown);
        if (k->n)
            memcpy(grown, k->e, (size_t)k->n * sizeof *grown);
        k->e = grown;
        k->room = room;
    }
    k->e[k->n] = (struct event){ at, words, k->n };
    k->n++;
}

static int by_day(const void *x, const void *y)
{
    const struct event *a = x, *b = y;
    const int c = strncmp(a->at, b->at, 10);
    return c ? c : a->order - b->order;
}

static enum book_status rows_of(struct batch *b, enum book_table t, const char *order, int64_t batch, void *rows,
                                int *n)
{
    const struct book_wanted of = { .column = "batch_id", .integer = batch, .order = order };
    return book_list(b->book, t, &of, &b->arena, rows, n);
}

static const char *lot_code(struct batch *b, int64_t id)
{
    struct book_lot lot;
    return id != BOOK_NO && book_get(b->book, BOOK_LOT, id, &b->arena, &lot) == BOOK_OK ? lot.code : NULL;
}

static enum book_status tell_weighings(struct story *k, const struct book_batch *row, const struct st_batch_made *m)
{
    struct book_weighing *w;
    int n;
    const enum book_status s = rows_of(k->b, BOOK_WEIGHING, "on_day", row->id, &w, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        const char *of = "", *lot = lot_code(k->b, w[i].lot_id);
        for (int st = 0; m->whole && st < m->file.recipe.n_step; st++)
            if (strcmp(m->file.recipe.step[st].id, w[i].step) == 0 && w[i].line >= 1 &&
                w[i].line <= m->file.recipe.step[st].n_line) {
                const struct st_line *l = &m->file.recipe.step[st].line[w[i].line - 1];
                of = l->what ? l->what->name : l->text;
            }
        tell(k, w[i].on_day,
             batch_text(k->b, "%s %s%s%s%s%s into %s", w[i].line ? "weighed" : "added", w[i].words, *of ? " " : "", of,
                        lot ? " of " : "", lot ? lot : "", w[i].step));
    }
    return s;
}

static enum book_status tell_jars(struct story *k, const struct book_batch *row)
{
    struct st_batch_jar *j;
    int n;
    const enum book_status s = st_batch_jars(&k->b->ask, row->id, true, &j, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        const char *step = *j[i].row.step ? j[i].row.step : "a jar";
        tell(k, j[i].row.begun_on,
             batch_text(k->b, "%s began: %s%s%s%s%s", step, j[i].row.doing, *j[i].vessel ? " in " : "", j[i].vessel,
                        *j[i].row.place ? ", " : "", j[i].row.place));
        if (j[i].row.ended_on)
            tell(k, j[i].row.ended_on, batch_text(k->b, "%s ended", step));
    }
    return s;
}

static enum book_status tell_readings(struct story *k, const struct book_batch *row)
{
    struct book_reading *r;
    char words[200];
    int n;
    const enum book_status s = rows_of(k->b, BOOK_READING, "at", row->id, &r, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        st_batch_reading_words(words, sizeof words, &r[i]);
        tell(k, r[i].at,
             batch_text(k->b, "read %s%s%s%s%s (reading %lld%s)", words, *r[i].step ? " in " : "", r[i].step,
                        *r[i].by_whom ? ", by " : "", r[i].by_whom, (long long)r[i].id,
                        r[i].doubted == 1 ? ", set aside" : ""));
    }
    return s;
}

static enum book_status tell_losses(struct story *k, const struct book_batch *row)
{
    struct book_loss *l;
    int n;
    const enum book_status s = rows_of(k->b, BOOK_LOSS, "on_day", row->id, &l, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        const bool ml = isfinite(l[i].volume_ml);
        tell(k, l[i].on_day,
             batch_text(k->b, "lost %g %s: %s", ml ? l[i].volume_ml : l[i].mass_g, ml ? "mL" : "g", l[i].why));
    }
    return s;
}

static enum book_status tell_lots(struct story *k, const struct book_batch *row)
{
    struct book_lot *l;
    int n;
    const struct book_wanted of = { .column = "from_batch", .integer = row->id };
    const enum book_status s = book_list(k->b->book, BOOK_LOT, &of, &k->b->arena, &l, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        tell(k, l[i].since ? l[i].since : row->begun_on,
             batch_text(k->b, "kept %g %s of %s as lot %s", l[i].amount, l[i].dim, l[i].name, l[i].code));
    return s;
}

static enum book_status tell_photos(struct story *k, const struct book_batch *row)
{
    struct book_photo *p;
    int n;
    const enum book_status s = rows_of(k->b, BOOK_PHOTO, "at", row->id, &p, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        tell(k, p[i].at, batch_text(k->b, "photo %lld%s%s", (long long)p[i].id, *p[i].words ? ": " : "", p[i].words));
    return s;
}

static enum book_status tell_gone(struct story *k, const struct book_bottling *of)
{
    struct book_gone *g;
    int n;
    const struct book_wanted w = { .column = "bottling_id", .integer = of->id, .order = "on_day" };
    const enum book_status s = book_list(k->b->book, BOOK_GONE, &w, &k->b->arena, &g, &n);
    static const char *const LIKED[] = { "did not like it", "found it so-so", "liked it" };
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        tell(k, g[i].on_day, batch_text(k->b, "%lld of %s went to %s", (long long)g[i].count, of->code, g[i].person));
        if (g[i].returned > 0)
            tell(k, g[i].returned_on ? g[i].returned_on : g[i].on_day,
                 batch_text(k->b, "%s brought %lld of %s back", g[i].person, (long long)g[i].returned, of->code));
        if (g[i].liked >= -1 && g[i].liked <= 1)
            tell(k, g[i].returned_on ? g[i].returned_on : g[i].on_day,
                 batch_text(k->b, "%s %s", g[i].person, LIKED[g[i].liked + 1]));
        if (g[i].told_on)
            tell(k, g[i].told_on, batch_text(k->b, "rang %s about %s", g[i].person, of->code));
    }
    return s;
}

/* What its label said, as it was kept on the day of bottling. */
static void tell_label(struct story *k, const struct book_bottling *f, const char *name)
{
    struct st_batch_label_line line[ST_BATCH_LABEL_LINES];
    const int n = st_batch_label_lines(&k->b->arena, f, name, line);
    for (int i = 0; i < n; i++)
        tell(k, f->on_day, batch_text(k->b, "%s, its label: %s: %.400s", f->code, line[i].what, line[i].text));
    if (n == 0 && isfinite(f->strength_pct_vol))
        tell(k, f->on_day, batch_text(k->b, "%s: %.3g %% vol, as measured", f->code, f->strength_pct_vol));
}

static enum book_status tell_bottlings(struct story *k, const struct book_batch *row)
{
    struct book_bottling *f;
    int n;
    enum book_status s = rows_of(k->b, BOOK_BOTTLING, "on_day", row->id, &f, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        tell(k, f[i].on_day,
             batch_text(k->b, "bottled %lld of %g mL as %s", (long long)f[i].count, f[i].size_ml, f[i].code));
        tell_label(k, &f[i], row->name);
        s = tell_gone(k, &f[i]);
    }
    return s;
}

static enum book_status collect(struct story *k, const struct book_batch *row, const struct st_batch_made *m)
{
    enum book_status s;
    tell(k, row->begun_on, "begun");
    s = tell_weighings(k, row, m);
    if (s == BOOK_OK)
        s = tell_jars(k, row);
    if (s == BOOK_OK)
        s = tell_readings(k, row);
    if (s == BOOK_OK)
        s = tell_losses(k, row);
    if (s == BOOK_OK)
        s = tell_lots(k, row);
    if (s == BOOK_OK)
        s = tell_photos(k, row);
    if (s == BOOK_OK)
        s = tell_bottlings(k, row);
    if (row->ended_on)
        tell(k, row->ended_on, "over");
    qsort(k->e, (size_t)k->n, sizeof *k->e, by_day);
    return s;
}

/* ---- the page ---- */

static void print_figures(struct batch *b, const struct st_batch_made *planned, const struct st_batch_made *m)
{
    if (!m->told) {
        cli_say(0, 0, "Nothing is foretold of it: %s: %s.", m->problem.what, m->problem.why);
        return;
    }
    cli_heading("The bottle that is foretold, as planned and as really made");
    if (planned->told)
        batch_before_now(b, &planned->out, &m->out);
    else
        batch_foretold_lines(b, &m->out);
}

static void print_story(struct batch *b, const struct story *k)
{
    const char *day = "";
    for (int i = 0; i < k->n; i++) {
        if (strncmp(day, k->e[i].at, 10) != 0)
            cli_heading(batch_day(b, k->e[i].at, true));
        day = k->e[i].at;
        cli_wrap(2, 4, k->e[i].words);
    }
}

static json_t *story_json(const struct story *k)
{
    json_t *list = json_array();
    for (int i = 0; i < k->n; i++)
        json_array_append_new(
            list, json_pack("{s:o, s:o}", "at", st_doc_text(k->e[i].at), "words", st_doc_text(k->e[i].words)));
    return list;
}

static json_t *bottles_json(struct batch *b, const struct book_batch *row)
{
    struct book_bottling *f;
    int n = 0;
    json_t *list = json_array();
    if (rows_of(b, BOOK_BOTTLING, "on_day", row->id, &f, &n) != BOOK_OK)
        return list;
    for (int i = 0; i < n; i++) {
        struct st_batch_label_line line[ST_BATCH_LABEL_LINES];
        const int m = st_batch_label_lines(&b->arena, &f[i], row->name, line);
        json_array_append_new(list, json_pack("{s:o, s:I, s:f, s:o, s:o}", "code", st_doc_text(f[i].code), "count",
                                              (json_int_t)f[i].count, "size_ml", f[i].size_ml, "label",
                                              *f[i].facts ? json_loads(f[i].facts, 0, NULL) : json_null(),
                                              "label_lines", st_doc_batch_label_lines(line, m)));
    }
    return list;
}

static int show(struct batch *b, const struct book_batch *row, struct st_batch_made *planned, struct st_batch_made *m)
{
    struct story k = { .b = b };
    enum book_status s = st_batch_made(&b->ask, row, false, true, planned);
    if (s == BOOK_OK)
        s = st_batch_made(&b->ask, row, true, true, m);
    if (s == BOOK_OK)
        s = collect(&k, row, planned);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    if (b->c->json) {
        json_t *o = json_pack("{s:o, s:o, s:o, s:o, s:o, s:o}", "batch", st_doc_text(row->code), "name",
                              st_doc_text(row->name), "begun_on", st_doc_text(row->begun_on), "ended_on",
                              row->ended_on ? st_doc_text(row->ended_on) : json_null(), "note", st_doc_text(row->note),
                              "story", story_json(&k));
        json_object_set_new(o, "bottles", bottles_json(b, row));
        json_object_set_new(o, "recipe", st_doc_text(st_buf_text(&m->text)));
        json_object_set_new(o, "planned", planned->told ? batch_foretold_json(&planned->out) : json_null());
        json_object_set_new(o, "foretold", m->told ? batch_foretold_json(&m->out) : json_null());
        json_object_set_new(o, "open", batch_did_json(b, row));
        json_object_set_new(o, "cautions",
                            m->whole ? cli_cautions_json(b->c, &m->file.recipe, m->told ? &m->out : NULL)
                                     : json_array());
        return cli_json_print(o);
    }
    cli_say(0, 2, "%s  %s", row->code, row->name);
    if (*row->note)
        cli_wrap(0, 0, row->note);
    print_figures(b, planned, m);
    if (m->whole)
        cli_cautions_short(b->c, &m->file.recipe, m->told ? &m->out : NULL, row->code);
    print_story(b, &k);
    batch_did_print(b, row);
    return ST_EXIT_DONE;
}

int batch_show(struct batch *b)
{
    struct book_batch row;
    int code = batch_named(b, &row);
    if (code != ST_EXIT_DONE)
        return code;
    if (!batch_no_more(b, NULL))
        return ST_EXIT_INPUT;
    struct st_batch_made *planned = x_calloc(1, sizeof *planned), *m = x_calloc(1, sizeof *m); /* large */
    code = show(b, &row, planned, m);
    st_batch_made_done(planned);
    st_batch_made_done(m);
    free(planned);
    free(m);
    return code;
}

/* ---- the end ---- */

int batch_end_it(struct batch *b)
{
    static const char *const KNOWN[] = { "--on", "--words", NULL };
    struct book_batch row;
    struct st_batch_jar *j;
    char day[11];
    bool bad = false;
    int n = 0;
    if (!cli_take_day(b->c, "--on", &b->now, false, day))
        return ST_EXIT_INPUT;
    const char *words = cli_option(b->c, "--words", &bad);
    if (bad || !cli_no_more_options(b->c, KNOWN))
        return ST_EXIT_INPUT;
    int code = batch_named(b, &row);
    if (code != ST_EXIT_DONE)
        return code;
    if (!batch_no_more(b, KNOWN))
        return ST_EXIT_INPUT;
    if (row.ended_on) {
        cli_error(row.code, "it is over already", "\"stillroom undo\" takes the last deed back");
        return ST_EXIT_INPUT;
    }
    enum book_status s = st_batch_jars(&b->ask, row.id, false, &j, &n);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    s = batch_deed(b, "%s: over%s%.200s", row.code, words ? ", " : "", words ? words : "");
    row.ended_on = day;
    if (words)
        row.note = *row.note ? batch_text(b, "%.700s\n%.200s", row.note, words) : words;
    if (s == BOOK_OK)
        s = book_put(b->book, BOOK_BATCH, &row, NULL);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        j[i].row.ended_on = day;
        s = book_put(b->book, BOOK_JAR, &j[i].row, NULL);
    }
    code = batch_end(b, s, NULL);
    if (code != ST_EXIT_DONE)
        return code;
    if (b->c->json)
        return cli_json_print(json_pack("{s:s, s:s}", "batch", row.code, "ended_on", day));
    cli_say(0, 2, "%s, %s, is over since %s; its story stays: stillroom batch show %s.", row.code, row.name,
            batch_day(b, day, false), row.code);
    return ST_EXIT_DONE;
}
