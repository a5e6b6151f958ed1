/* Readings: into the book, and set aside. */
#include "cli/batch_read.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_bound.h"
#include "cli/page.h"
#include "util/memory.h"

/* ---- off the command line ---- */

static bool has_warmth(const struct book_reading *r)
{
    static const char *const KIND[] = { "sg", "brix", "flask_g", "sg_boiled", "liquor_ml", ST_READ_VOLUME };
    for (size_t i = 0; i < sizeof KIND / sizeof *KIND; i++)
        if (strcmp(KIND[i], r->kind) == 0)
            return true;
    return false;
}

static void share_warmth(struct batch_readings *r)
{
    for (int i = 0; i < r->n; i++)
        for (int k = 0; strcmp(r->row[i].kind, ST_READ_WARMTH) == 0 && k < r->n; k++)
            if (has_warmth(&r->row[k]) && isnan(r->row[k].temperature_c))
                r->row[k].temperature_c = r->row[i].value;
}

int batch_read_words(struct batch *b, struct batch_readings *r)
{
    struct st_problem p = { .what = "" };
    for (; b->c->argc > 0; b->c->argc--, b->c->argv++) {
        if (r->n == BATCH_MOST_READINGS) {
            cli_error("batch read", "there are more than 32 readings", "write them in two goes");
            return ST_EXIT_INPUT;
        }
        struct book_reading *row = &r->row[r->n];
        book_row_init(BOOK_READING, row);
        if (st_batch_reading(b->c->argv[0], row, &p) != 0)
            return batch_wrong(&p);
        r->n++;
    }
    share_warmth(r);
    return ST_EXIT_DONE;
}

enum book_status batch_readings_put(struct batch *b, const struct book_batch *batch, const char *step, const char *day,
                                    struct batch_readings *r)
{
    enum book_status s = BOOK_OK;
    const bool now = strcmp(day, b->now.day) == 0;
    for (int i = 0; i < r->n && s == BOOK_OK; i++) {
        r->row[i].batch_id = batch->id;
        r->row[i].step = step;
        r->row[i].at = now ? b->now.moment : day;
        r->row[i].by_whom = r->by ? r->by : "";
        r->row[i].of = r->of ? r->of : "";
        s = book_put(b->book, BOOK_READING, &r->row[i], &r->row[i].id);
    }
    return s;
}

/* ---- read ---- */

static int take_scale(const char *said, enum st_hydrometer *scale)
{
    *scale = said && strcmp(said, "60F") == 0 ? ST_HYDROMETER_60F : ST_HYDROMETER_20C;
    if (!said || strcmp(said, "60F") == 0 || strcmp(said, "20C") == 0)
        return ST_EXIT_DONE;
    cli_error("--hydrometer",
              "hydrometers are marked for 20 \xc2\xb0"
              "C or 60 \xc2\xb0"
              "F",
              "write --hydrometer 20C or --hydrometer 60F");
    return ST_EXIT_INPUT;
}

static int scale_them(struct batch_readings *r, enum st_hydrometer scale)
{
    struct st_problem p = { .what = "" };
    for (int i = 0; i < r->n; i++)
        if (st_batch_reading_scale(&r->row[i], scale, &p) != 0)
            return batch_wrong(&p);
    return ST_EXIT_DONE;
}

static const char *const KNOWN[] = { "--on", "--step", "--by", "--of", "--hydrometer", NULL };

/* The step by its id or number, else that of the only jar that stands, else none. */
static int step_said(struct batch *b, const struct book_batch *row, const char *said, const char **step)
{
    struct st_batch_jar *j;
    struct st_problem p = { .what = "" };
    int n, code = ST_EXIT_DONE;
    *step = "";
    if (!said) {
        const enum book_status s = st_batch_jars(&b->ask, row->id, false, &j, &n);
        if (s == BOOK_OK && n == 1)
            *step = j[0].row.step;
        return s == BOOK_OK ? ST_EXIT_DONE : batch_fail(b, s, NULL);
    }
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    const enum book_status s = st_batch_made(&b->ask, row, false, false, m);
    if (s != BOOK_OK)
        code = batch_fail(b, s, NULL);
    else if (!m->whole)
        *step = said;
    else {
        const int at = st_batch_step(&m->file.recipe, said, &p);
        code = at < 0 ? batch_wrong(&p) : ST_EXIT_DONE;
        *step = at < 0 ? "" : st_arena_strdup(&b->arena, m->file.recipe.step[at].id);
    }
    st_batch_made_done(m);
    free(m);
    return code;
}

/* A slip is asked back before it is kept. */
static int refuse_readings(struct batch *b, const struct book_batch *row, const char *step,
                           const struct batch_readings *r)
{
    struct st_problem p = { .what = "" };
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    const enum book_status s = st_batch_made(&b->ask, row, true, true, m);
    const int code = s != BOOK_OK                                 ? batch_fail(b, s, NULL)
                     : st_batch_can_be(m, step, r->row, r->n, &p) ? ST_EXIT_DONE
                                                                  : batch_wrong(&p);
    st_batch_made_done(m);
    free(m);
    return code;
}

static int tell_readings(struct batch *b, const struct book_batch *row, const struct batch_readings *r)
{
    char words[200];
    json_t *list = json_array();
    for (int i = 0; i < r->n; i++) {
        st_batch_reading_words(words, sizeof words, &r->row[i]);
        json_array_append_new(list,
                              json_pack("{s:I, s:s, s:f, s:o, s:o, s:o}", "number", (json_int_t)r->row[i].id, "kind",
                                        r->row[i].kind, "value", r->row[i].value, "step", st_doc_text(r->row[i].step),
                                        "at", st_doc_text(r->row[i].at), "words", st_doc_text(words)));
        if (!b->c->json)
            cli_say(i ? 2 : 0, 4, "%s%s%s", i ? "" : row->code, i ? "" : ": ", words);
    }
    if (b->c->json)
        return cli_json_print(json_pack("{s:s, s:o}", "batch", row->code, "readings", list));
    json_decref(list);
    cli_say(0, 2, "Does it agree? stillroom batch agrees %s", row->code);
    return ST_EXIT_DONE;
}

int batch_read(struct batch *b)
{
    struct book_batch row;
    struct batch_readings *r = x_calloc(1, sizeof *r);
    char day[11];
    bool bad = false;
    const char *step;
    int code = cli_take_day(b->c, "--on", &b->now, false, day) ? ST_EXIT_DONE : ST_EXIT_INPUT;
    const char *said = cli_option(b->c, "--step", &bad);
    r->by = cli_option(b->c, "--by", &bad);
    r->of = cli_option(b->c, "--of", &bad);
    enum st_hydrometer scale = ST_HYDROMETER_20C;
    const char *marked = cli_option(b->c, "--hydrometer", &bad);
    code = code == ST_EXIT_DONE ? take_scale(marked, &scale) : code;
    if (bad || code != ST_EXIT_DONE || !cli_no_more_options(b->c, KNOWN)) {
        free(r);
        return ST_EXIT_INPUT;
    }
    code = batch_named(b, &row);
    if (code == ST_EXIT_DONE && !batch_existed(b, &row, day))
        code = ST_EXIT_INPUT;
    if (code == ST_EXIT_DONE)
        code = batch_read_words(b, r);
    if (code == ST_EXIT_DONE)
        code = scale_them(r, scale);
    if (code == ST_EXIT_DONE && r->n == 0) {
        cli_error(row.code, "no reading is given", "write for example: stillroom batch read B14 sg=1.043@22C brix=28");
        code = ST_EXIT_INPUT;
    }
    if (code == ST_EXIT_DONE)
        code = step_said(b, &row, said, &step);
    if (code == ST_EXIT_DONE)
        code = refuse_readings(b, &row, step, r);
    if (code == ST_EXIT_DONE) {
        enum book_status s = batch_deed(b, "%s: read %.100s%s", row.code, r->row[0].words, r->n > 1 ? " and more" : "");
        if (s == BOOK_OK)
            s = batch_readings_put(b, &row, step, day, r);
        code = batch_end(b, s, NULL);
    }
    if (code == ST_EXIT_DONE)
        code = tell_readings(b, &row, r);
    free(r);
    return code;
}

/* ---- set aside ---- */

int batch_doubt(struct batch *b)
{
    struct book_batch row;
    struct book_reading r;
    char words[200], *end;
    const bool trust = cli_flag(b->c, "--trust");
    if (!cli_no_more_options(b->c, (const char *const[]){ "--trust", NULL }))
        return ST_EXIT_INPUT;
    int code = batch_named(b, &row);
    const char *said = code == ST_EXIT_DONE ? batch_word(b, "no reading is named", "doubt B14 12") : NULL;
    if (!said || !batch_no_more(b, NULL))
        return ST_EXIT_INPUT;
    const long id = strtol(said, &end, 10);
    enum book_status s = *end ? BOOK_NONE : book_get(b->book, BOOK_READING, id, &b->arena, &r);
    if (s == BOOK_NONE || (s == BOOK_OK && r.batch_id != row.id)) {
        cli_error(said, "this batch has no reading of that number", "\"stillroom batch show\" tells their numbers");
        return ST_EXIT_INPUT;
    }
    if (s == BOOK_OK) {
        st_batch_reading_words(words, sizeof words, &r);
        s = batch_deed(b, "%s: %s the %.150s", row.code, trust ? "trusted again" : "doubted", words);
        r.doubted = !trust;
    }
    if (s == BOOK_OK)
        s = book_put(b->book, BOOK_READING, &r, NULL);
    code = batch_end(b, s, NULL);
    if (code != ST_EXIT_DONE)
        return code;
    if (b->c->json)
        return cli_json_print(
            json_pack("{s:s, s:I, s:b}", "batch", row.code, "number", (json_int_t)id, "doubted", !trust));
    cli_say(0, 2, "%s: %s %s.", row.code, words, trust ? "is used again" : "is kept, and not used any more");
    return ST_EXIT_DONE;
}
