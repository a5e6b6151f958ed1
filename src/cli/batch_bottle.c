/* Into bottles, and where they went. */
#include "cli/batch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "api/book_batch_at_odds.h"
#include "api/book_batch_bound.h"
#include "api/book_batch_label.h"
#include "api/book_batch_late.h"
#include "api/book_batch_pour.h"
#include "api/book_batch_rest.h"
#include "api/book_bottling_code.h"
#include "cli/cautions.h"
#include "cli/page.h"
#include "text/quantity.h"
#include "util/memory.h"

/* ---- bottling ---- */

static const char *const BOTTLE[] = { "--on", "--strength", "--use-by", "--code", "--words", NULL };

struct filling {
    struct book_batch row;
    struct book_bottling bottling;
    struct st_batch_made *made;
    struct st_batch_left left;
    char day[11], code[64], remark[400];
    const char *late[ST_BATCH_REMARKS + ST_BATCH_ODDS];
    int n_late;
    struct st_batch_strength_read read;
    double strength;
    int64_t count;
    double size_ml;
};

/* "3 x 350 mL", "3 of 350 mL", "one 700 mL": how many, and how large. */
static bool how_many(const char *said, enum st_measures m, int64_t *count, double *size_ml)
{
    struct st_amount x;
    struct st_problem why;
    size_t used;
    char *end;
    const long n = strtol(said, &end, 10);
    const char *p = end + strspn(end, " ");
    if (strncasecmp(p, "x", 1) == 0)
        p++;
    else if (strncmp(p, "\xc3\x97", 2) == 0 || strncasecmp(p, "of", 2) == 0)
        p += 2;
    else
        p = NULL;
    if (p && end != said && n >= 1 && n <= 100000) {
        p += strspn(p, " ");
        if (cli_asks_amount(p, m))
            return false;
        if (st_quantity_parse(p, strlen(p), m == ST_MEASURES_NONE ? ST_MEASURES_METRIC : m, &x, &used, &why) == 0 &&
            x.dim == ST_DIM_VOLUME && x.value > 0.0 && p[used] == '\0') {
            *count = n;
            *size_ml = x.value;
            return true;
        }
    }
    char what[120];
    (void)snprintf(what, sizeof what, "\"%.80s\"", said);
    cli_error(what, "it does not say how many bottles of which size", "write for example \"3 x 350 mL\"");
    return false;
}

static int take_bottle(struct batch *b, struct filling *k)
{
    bool bad = false;
    char use_by[11];
    book_row_init(BOOK_BOTTLING, &k->bottling);
    k->strength = (double)NAN;
    if (!cli_take_day(b->c, "--on", &b->now, false, k->day))
        return ST_EXIT_INPUT;
    const char *words = cli_option(b->c, "--words", &bad), *code = cli_option(b->c, "--code", &bad);
    (void)cli_option_number(b->c, "--strength", 0.0, 100.0, &k->strength, &bad);
    bool has_use_by = false;
    for (int i = 0; i < b->c->argc; i++)
        has_use_by = has_use_by || strncmp(b->c->argv[i], "--use-by", 8) == 0;
    if (has_use_by && !cli_take_day_to_come(b->c, "--use-by", &b->now, use_by))
        return ST_EXIT_INPUT;
    if (bad || !cli_no_more_options(b->c, BOTTLE))
        return ST_EXIT_INPUT;
    const int found = batch_named(b, &k->row);
    const char *said = found == ST_EXIT_DONE ? batch_word(b, "no bottles are told", "bottle B14 \"3 x 350 mL\"") : NULL;
    if (!said || !batch_no_more(b, BOTTLE) || !how_many(said, b->c->units, &k->count, &k->size_ml))
        return ST_EXIT_INPUT;
    k->bottling.batch_id = k->row.id;
    k->bottling.on_day = k->day;
    k->bottling.count = k->count;
    k->bottling.size_ml = k->size_ml;
    k->bottling.strength_pct_vol = k->strength;
    k->bottling.note = words ? words : "";
    k->bottling.use_by = has_use_by ? st_arena_strdup(&b->arena, use_by) : NULL;
    k->bottling.code = NULL; /* given by code_it */
    if (code) {
        struct st_problem p = { .what = "" };
        const enum book_status s = st_bottling_code(&b->ask, code, &k->row, &k->bottling.code, &p);
        return s == BOOK_OK ? ST_EXIT_DONE : batch_fail(b, s, &p);
    }
    return ST_EXIT_DONE;
}

/* B14-1, B14-2 ...: what was taken back by an undo is free again, since no bottle has it. */
static enum book_status code_it(struct batch *b, struct filling *k)
{
    struct book_bottling taken;
    enum book_status s = BOOK_OK;
    for (int n = 1; !k->bottling.code; n++) {
        (void)snprintf(k->code, sizeof k->code, "%.40s-%d", k->row.code, n);
        const struct book_wanted w = { .column = "code", .text = k->code };
        s = book_find(b->book, BOOK_BOTTLING, &w, &b->arena, &taken);
        if (s < 0)
            return s;
        if (s == BOOK_NONE)
            k->bottling.code = k->code;
    }
    return BOOK_OK;
}

/* There was no drink on that day: fruit steeps still, or did then. */
static int refuse_day(struct batch *b, const struct filling *k)
{
    const char *why = NULL, *early = NULL;
    enum book_status s = st_batch_not_yet(&b->ask, &k->row, k->made, k->day, &why);
    if (s == BOOK_OK)
        s = st_batch_too_early(&b->ask, &k->row, k->made, k->day, &early);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    if (early)
        cli_error(batch_text(b, "%s cannot have been bottled on %s", k->row.code, k->day), early,
                  "look at --on; a straining of the wrong day is taken back with stillroom undo (undo --list)");
    else if (why)
        cli_error(batch_text(b, "%s cannot be bottled", k->row.code), why,
                  "when it is strained: stillroom batch strain, then bottle it");
    return why || early ? ST_EXIT_INPUT : ST_EXIT_DONE;
}

/* A slip, not a bottle: a day without a drink, far more than there can be, or a strength above everything that went in. */
static int refuse_it(struct batch *b, const struct filling *k)
{
    enum { FAR = 2 };
    const double now = k->size_ml * (double)k->count, most = st_batch_most_left(&k->left);
    const int day = refuse_day(b, k);
    if (day != ST_EXIT_DONE)
        return day;
    if (isfinite(most) && now + k->left.lost_ml + k->left.bottled_ml > FAR * k->left.high_ml) {
        const struct st_interval asked = { now, now, now, ST_OK, true };
        const double there = fmax(round(most), 0.0);
        const struct st_interval room = { there, there, there, ST_OK, true };
        char filled[60], left[60];
        st_volume_value(filled, sizeof filled, &asked, b->c->units);
        st_volume_value(left, sizeof left, &room, b->c->units);
        cli_error(batch_text(b, "%lld x %g mL of %s", (long long)k->count, k->size_ml, k->row.code),
                  batch_text(b, "that is %s, and there can hardly be more than %s", filled, left),
                  batch_text(
                      b, "look at the count and the size, or tell what there is: stillroom batch read %s volume=AMOUNT",
                      k->row.code));
        return ST_EXIT_INPUT;
    }
    if (k->bottling.use_by && strcmp(k->bottling.use_by, k->day) < 0) {
        cli_error(batch_text(b, "--use-by %s", k->bottling.use_by), "that is before it is bottled", "look at the year");
        return ST_EXIT_INPUT;
    }
    if (k->made->whole && k->strength > st_batch_strongest(&k->made->file.recipe)) {
        cli_error(batch_text(b, "%g %% vol", k->strength), "nothing that went into it is so strong",
                  "look at the reading, or weigh in what is missing");
        return ST_EXIT_INPUT;
    }
    return ST_EXIT_DONE;
}

/* What can hardly be is said, and kept all the same: the maker counted bottles. */
static void look_at_it(struct batch *b, struct filling *k)
{
    const double now = k->size_ml * (double)k->count;
    const struct st_batch_left *l = &k->left;
    char filled[60], there[120];
    k->remark[0] = '\0';
    if (!isfinite(l->foretold_ml))
        return;
    const double went = l->lost_ml + l->bottled_ml;
    const struct st_interval ml = { fmax(l->foretold_ml - went, 0.0), fmax(l->low_ml - went, 0.0),
                                    fmax(l->high_ml - went, 0.0), ST_OK, true };
    if (now <= ml.high * (1.0 + 1e-9))
        return;
    const struct st_interval sharp = { now, now, now, ST_OK, true };
    st_volume_value(filled, sizeof filled, &sharp, b->c->units);
    st_volume_words(there, sizeof there, &ml, b->c->units);
    (void)snprintf(
        k->remark, sizeof k->remark,
        "That is %s, and there can hardly be so much: %s by %s, less what was lost and bottled. Look at the size and "
        "the count, or at what was weighed.",
        filled, there, l->measured ? "the last volume read" : "the recipe as weighed");
}

/* The jars that wait to be bottled are empty when less is left than one more such bottle takes. */
static enum book_status end_jars(struct batch *b, const struct filling *k)
{
    struct st_batch_jar *j;
    int n;
    enum book_status s = st_batch_jars(&b->ask, k->row.id, false, &j, &n);
    const double rest = k->left.spare_ml - k->size_ml * (double)k->count;
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        if (strcmp(j[i].row.doing, "waiting to be bottled") != 0 || rest >= k->size_ml)
            continue;
        j[i].row.ended_on = k->day;
        s = book_put(b->book, BOOK_JAR, &j[i].row, NULL);
    }
    return s;
}

static int tell_bottle(struct batch *b, const struct filling *k)
{
    struct st_batch_label_line *line;
    const int n = st_batch_label_lines(&b->arena, &k->bottling, k->row.name, b->c->json, &line);
    if (b->c->json) {
        json_t *o = json_pack("{s:s, s:o, s:I, s:f, s:s}", "batch", k->row.code, "code", st_doc_text(k->bottling.code),
                              "count", (json_int_t)k->count, "size_ml", k->size_ml, "on_day", k->day);
        json_object_set_new(o, "remark", st_doc_text(k->remark));
        json_t *late = json_array();
        for (int i = 0; i < k->n_late; i++)
            json_array_append_new(late, st_doc_text(k->late[i]));
        json_object_set_new(o, "remarks", late);
        if (!k->made->told)
            json_object_set_new(o, "nothing_known", st_doc_text(batch_nothing_known(b, k->made, k->row.code)));
        json_object_set_new(o, "cautions",
                            k->made->whole
                                ? cli_cautions_json(b->c, &k->made->file.recipe, k->made->told ? &k->made->out : NULL)
                                : json_array());
        json_object_set_new(o, "label", *k->bottling.facts ? json_loads(k->bottling.facts, 0, NULL) : json_null());
        json_object_set_new(o, "label_lines", st_doc_batch_label_lines(line, n));
        return cli_json_print(o);
    }
    if (!k->made->told)
        cli_wrap(0, 2, batch_nothing_known(b, k->made, k->row.code));
    cli_say(0, 2, "%s: %lld bottle%s of %g mL, %s.", k->bottling.code, (long long)k->count, k->count == 1 ? "" : "s",
            k->size_ml, batch_day(b, k->day, true));
    if (k->remark[0])
        cli_wrap(2, 2, k->remark);
    for (int i = 0; i < k->n_late; i++)
        cli_wrap(2, 4, k->late[i]);
    if (n == 0)
        cli_say(2, 2, "No label facts are kept.");
    else
        cli_heading("Its label, kept as of that day (all of it: batch show --json)");
    for (int i = 0; i < n; i++)
        cli_say(2, 4, "%s: %s", line[i].what, line[i].text);
    if (k->made->whole)
        cli_cautions_short(b->c, &k->made->file.recipe, k->made->told ? &k->made->out : NULL, k->row.code);
    return ST_EXIT_DONE;
}

/* Held against the days that were planned, not those that it lasted. */
static enum book_status look_if_late(struct batch *b, struct filling *k)
{
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    enum book_status s = st_batch_made(&b->ask, &k->row, true, false, m);
    if (s == BOOK_OK)
        s = st_batch_late(&b->ask, &k->row, m, k->day, k->late, &k->n_late);
    st_batch_made_done(m);
    free(m);
    return s;
}

int batch_bottle(struct batch *b)
{
    struct filling *k = x_calloc(1, sizeof *k);
    k->made = x_calloc(1, sizeof *k->made); /* large */
    int code = take_bottle(b, k);
    enum book_status s = BOOK_OK;
    const struct st_batch_moment then = { .table = BOOK_BOTTLING, .day = k->day };
    b->ask.until = &then; /* what was added on a later day is not in these bottles */
    if (code == ST_EXIT_DONE)
        s = st_batch_made(&b->ask, &k->row, true, true, k->made);
    if (code == ST_EXIT_DONE && s == BOOK_OK)
        s = st_batch_left(&b->ask, &k->row, k->made, &k->left);
    if (code == ST_EXIT_DONE && s == BOOK_OK)
        s = code_it(b, k);
    if (code == ST_EXIT_DONE && s == BOOK_OK)
        s = look_if_late(b, k);
    if (code == ST_EXIT_DONE && s == BOOK_OK)
        s = st_batch_at_odds(&b->ask, &k->row, k->made, k->strength, k->late, &k->n_late, &k->read);
    if (s != BOOK_OK)
        code = batch_fail(b, s, NULL);
    if (code == ST_EXIT_DONE)
        code = refuse_it(b, k);
    if (code == ST_EXIT_DONE && k->made->told) {
        const struct st_watch w = cli_watch(b->c, &k->made->file.recipe);
        const struct st_label_books *books = cautions_books();
        if (!w.books || !books)
            code = ST_EXIT_SYSTEM;
        else
            k->bottling.facts = st_batch_label(
                &b->arena, &k->made->file.recipe, &k->made->out, &w, books,
                &(struct st_batch_labelled){ k->bottling.code, k->row.name, k->row.begun_on, k->strength, &k->read });
    }
    b->ask.until = NULL;
    if (code == ST_EXIT_DONE) {
        look_at_it(b, k);
        s = batch_deed(b, "%s: bottled %lld x %g mL as %s", k->row.code, (long long)k->count, k->size_ml,
                       k->bottling.code);
        if (s == BOOK_OK)
            s = book_put(b->book, BOOK_BOTTLING, &k->bottling, &k->bottling.id);
        if (s == BOOK_OK)
            s = end_jars(b, k);
        if (s == BOOK_OK)
            s = st_batch_foreseen_again(&b->ask, &k->row, BATCH_PROGRAM);
        code = batch_end(b, s, NULL);
    }
    if (code == ST_EXIT_DONE)
        code = tell_bottle(b, k);
    st_batch_made_done(k->made);
    free(k->made);
    free(k);
    return code;
}
