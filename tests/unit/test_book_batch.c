/* Batches: what was weighed is foretold as a recipe so written; jars follow the recipe; readings are read; alcohol balances. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

#include "api/book_batch_agree.h"
#include "api/book_batch_alcohol.h"
#include "api/book_batch_fill.h"
#include "api/book_batch_pour.h"
#include "api/book_batch_use.h"
#include "text/line.h"
#include "text/recipe_add.h"
#include "util/embedded.h"

static char folder[] = "/tmp/st_batch_XXXXXX";
static char path[64];
static struct book *book;
static struct st_arena arena;
static struct st_batch_ask ask;
static const char AT[] = "2026-03-01T10:00";

static struct st_catalogue *catalogue(void)
{
    const struct st_embedded *sheet = st_embedded_find("data/ingredients.sheet");
    struct st_problem problem;
    return st_catalogue_create((const char *)sheet->bytes, sheet->size, &problem);
}

static struct st_catalogue *sheet; /* of one test at a time */

static int set_up(void **state)
{
    (void)state;
    snprintf(folder, sizeof folder, "/tmp/st_batch_XXXXXX");
    if (!mkdtemp(folder))
        return -1;
    snprintf(path, sizeof path, "%s/book", folder);
    ask = (struct st_batch_ask){ .arena = &arena, .catalogue = catalogue, .seed = 1, .draws = 400 };
    if (book_open(path, BOOK_WRITE, &book) != BOOK_OK)
        return -1;
    ask.book = book;
    sheet = catalogue();
    return sheet ? 0 : -1;
}

static int tear_down(void **state)
{
    (void)state;
    static const char *const end[] = { "", "-wal", "-shm" };
    book_close(book);
    st_catalogue_free(sheet);
    for (size_t i = 0; i < sizeof end / sizeof *end; i++) {
        char file[80];
        snprintf(file, sizeof file, "%s%s", path, end[i]);
        unlink(file);
    }
    rmdir(folder);
    st_arena_done(&arena);
    return 0;
}

/* Invented. */
static const char RECIPE[] = "title: Invented\n"
                             "measures: metric\n"
                             "steps:\n"
                             "  - steep: jar\n"
                             "    add:\n"
                             "      - {line: \"%s damsons, as bought\", price: 2.50} # picked\n"
                             "      - %s\n"
                             "    for: 8 weeks\n"
                             "%s"
                             "  - syrup: syrup\n"
                             "    add: [%s sugar, 120 mL water%s]\n"
                             "  - blend: drink\n"
                             "    add: [all of jar, all of syrup]\n"
                             "  - rest: rested\n"
                             "    for: 6-8 weeks\n"
                             "%s"
                             "  - bottle: bottles\n"
                             "    size: 350 mL\n";

/* The recipe with these words in the places that weighings change. */
static const char *recipe(const char *fruit, const char *spirit, const char *sugar, const char *syrup,
                          const char *rested)
{
    char text[1500];
    snprintf(text, sizeof text, RECIPE, fruit, spirit, "", sugar, syrup, rested);
    return st_arena_strdup(&arena, text);
}

static const char *planned(void)
{
    return recipe("620 g", "700 mL vodka 50 %", "130 g", "", "");
}

static struct book_weighing weighing(const char *step, int line, const char *words)
{
    struct book_weighing w;
    book_row_init(BOOK_WEIGHING, &w);
    w.step = step;
    w.line = line;
    w.words = words;
    w.on_day = "2026-03-01";
    return w;
}

/* Figures of a recipe as weighed are those of a recipe so written, bit for bit or to 1e-12. */
static void same_as_written(const struct book_weighing w[], int n, const char *written)
{
    struct st_buf text = { 0 };
    struct st_problem p = { .what = "" };
    struct st_batch_made *a = calloc(1, sizeof *a), *b = calloc(1, sizeof *b);
    assert_non_null(a);
    assert_non_null(b);
    if (st_batch_text(&ask, planned(), w, n, &text, &p) != 0)
        fail_msg("%s: %s", p.what, p.why);
    if (!st_batch_made_of(&ask, st_buf_text(&text), true, a))
        fail_msg("%s: %s\n%s", a->problem.what, a->problem.why, st_buf_text(&text));
    if (!st_batch_made_of(&ask, written, true, b))
        fail_msg("%s: %s", b->problem.what, b->problem.why);
    for (int k = 0; k < ST_NFIG; k++) {
        const struct st_interval *x = &a->out.fig[k], *y = &b->out.fig[k];
        assert_int_equal(x->known, y->known);
        if (!x->known ||
            k == ST_FIG_COST) /* a weighed line's price follows its amount; as written it is for the line */
            continue;
        if (!(fabs(x->value - y->value) <= 1e-12 * fabs(y->value)) ||
            !(fabs(x->low - y->low) <= 1e-12 * fabs(y->low)) || !(fabs(x->high - y->high) <= 1e-12 * fabs(y->high)))
            fail_msg("%s: %.17g (%.17g .. %.17g) as weighed, %.17g (%.17g .. %.17g) as written\n%s",
                     st_figure_info((enum st_figure)k)->key, x->value, x->low, x->high, y->value, y->low, y->high,
                     st_buf_text(&text));
    }
    st_batch_made_done(a);
    st_batch_made_done(b);
    free(a);
    free(b);
    st_buf_done(&text);
}

static void weighed_is_as_written(void **state)
{
    (void)state;
    const struct book_weighing one[] = { weighing("jar", 1, "412 g") };
    same_as_written(one, 1, recipe("412 g", "700 mL vodka 50 %", "130 g", "", ""));
    const struct book_weighing all[] = { weighing("syrup", 1, "5 oz"), weighing("jar", 2, "650 g"),
                                         weighing("jar", 1, "1.2 kg") };
    same_as_written(all, 3, recipe("1.2 kg", "650 g vodka 50 %", "5 oz", "", ""));
}

static void nothing_weighed_changes_nothing(void **state)
{
    (void)state;
    struct st_buf text = { 0 };
    struct st_problem p = { .what = "" };
    assert_int_equal(st_batch_text(&ask, planned(), NULL, 0, &text, &p), 0);
    assert_string_equal(st_buf_text(&text), planned());
    st_buf_done(&text);
}

static void several_weighings_add_up(void **state)
{
    (void)state;
    const struct book_weighing w[] = { weighing("jar", 1, "200 g"), weighing("jar", 1, "0.212 kg") };
    same_as_written(w, 2, recipe("412 g", "700 mL vodka 50 %", "130 g", "", ""));
    const struct book_weighing mixed[] = { weighing("jar", 1, "200 g"), weighing("jar", 1, "300 mL") };
    struct st_buf text = { 0 };
    struct st_problem p = { .what = "" };
    assert_int_equal(st_batch_text(&ask, planned(), mixed, 2, &text, &p), -1);
    assert_non_null(strstr(p.why, "another kind of measure"));
    assert_int_equal(text.length, 0);
}

static void what_is_not_in_the_recipe_is_as_written(void **state)
{
    (void)state;
    const struct book_weighing syrup[] = { weighing("syrup", 0, "50 g honey") };
    same_as_written(syrup, 1, recipe("620 g", "700 mL vodka 50 %", "130 g", ", 50 g honey", ""));
    const struct book_weighing rest[] = { weighing("rested", 0, "100 mL water"), weighing("rested", 0, "20 g sugar") };
    same_as_written(
        rest, 2,
        recipe("620 g", "700 mL vodka 50 %", "130 g", "", "    add: [all of drink, 100 mL water, 20 g sugar]\n"));
    const struct book_weighing jar[] = { weighing("jar", 0, "2 cloves"), weighing("jar", 1, "600 g") };
    same_as_written(jar, 2, recipe("600 g", "700 mL vodka 50 %\n      - 2 cloves", "130 g", "", ""));
}

static void an_open_line_is_said_anew(void **state)
{
    (void)state;
    const char *open = recipe("620 g", "vodka 50 %, until covered", "130 g", "", "");
    const struct book_weighing w[] = { weighing("jar", 2, "655 mL") };
    struct st_buf text = { 0 };
    struct st_problem p = { .what = "" };
    if (st_batch_text(&ask, open, w, 1, &text, &p) != 0)
        fail_msg("%s: %s", p.what, p.why);
    assert_non_null(strstr(st_buf_text(&text), "655 mL vodka 50 %"));
    assert_null(strstr(st_buf_text(&text), "until covered"));
    st_buf_done(&text);
}

static void nonsense_is_refused(void **state)
{
    (void)state;
    static const char *const BAD[] = { "much", "-3 g", "412", "40 %", "412 g damsons", "2 weeks", "to taste" };
    for (size_t i = 0; i < sizeof BAD / sizeof *BAD; i++) {
        const struct book_weighing w[] = { weighing("jar", 1, BAD[i]) };
        struct st_buf text = { 0 };
        struct st_problem p = { .what = "" };
        const int done = st_batch_text(&ask, planned(), w, 1, &text, &p);
        if (strcmp(BAD[i], "412") == 0) /* a count of damsons */
            assert_int_equal(done, 0);
        else if (done != -1 || !p.what[0])
            fail_msg("\"%s\" was taken: %s", BAD[i], st_buf_text(&text));
        st_buf_done(&text);
    }
}

/* ---- lots ---- */

static int64_t lot(const char *code, double ml, double pct_vol, const char *since)
{
    struct book_lot l;
    int64_t id = 0;
    book_row_init(BOOK_LOT, &l);
    l.code = code;
    l.kind = "bought";
    l.name = "vodka";
    l.slug = "vodka";
    l.dim = "mL";
    l.amount = ml;
    l.strength_pct_vol = pct_vol;
    l.since = since;
    assert_int_equal(book_begin(book, AT, "bought"), BOOK_OK);
    assert_int_equal(book_put(book, BOOK_LOT, &l, &id), BOOK_OK);
    assert_int_equal(book_end(book), BOOK_OK);
    return id;
}

static int64_t batch(const char *code, const char *text, const char *begun)
{
    struct book_batch b;
    int64_t id = 0;
    book_row_init(BOOK_BATCH, &b);
    b.code = code;
    b.name = "Invented";
    b.text = text;
    b.begun_on = begun;
    assert_int_equal(book_begin(book, AT, "begun"), BOOK_OK);
    assert_int_equal(book_put(book, BOOK_BATCH, &b, &id), BOOK_OK);
    assert_int_equal(book_end(book), BOOK_OK);
    return id;
}

/* Weigh of a lot, with its use, as the command does. */
static void weigh(int64_t batch_id, const char *step, int line, const char *words, int64_t lot_id, const char *day)
{
    struct book_weighing w = weighing(step, line, words);
    struct st_problem p = { .what = "" };
    struct st_batch_use use;
    struct book_lot l;
    w.batch_id = batch_id;
    w.lot_id = lot_id;
    w.on_day = day;
    assert_int_equal(book_get(book, BOOK_LOT, lot_id, &arena, &l), BOOK_OK);
    assert_int_equal(st_batch_use_of(&ask, sheet, &l, NULL, words, ST_MEASURES_METRIC, 0.0, &use, &p), BOOK_OK);
    assert_int_equal(book_begin(book, AT, "weighed"), BOOK_OK);
    assert_int_equal(book_put(book, BOOK_WEIGHING, &w, &w.id), BOOK_OK);
    assert_int_equal(st_batch_use_put(&ask, &use, &w), BOOK_OK);
    assert_int_equal(book_end(book), BOOK_OK);
}

/* So many mL of a batch, as a lot poured into another, with the words that a pour writes; inside a deed. */
static void pour_it(int64_t from, int64_t into, const char *lot_code, const char *words)
{
    struct book_lot l;
    struct book_weighing w = weighing("drink", 0, words);
    book_row_init(BOOK_LOT, &l);
    l.code = lot_code;
    l.kind = "made";
    l.name = "Invented";
    l.dim = "mL";
    l.amount = 300.0;
    l.since = "2026-03-01";
    l.from_batch = from;
    assert_int_equal(book_put(book, BOOK_LOT, &l, &l.id), BOOK_OK);
    w.batch_id = into;
    w.lot_id = l.id;
    assert_int_equal(book_put(book, BOOK_WEIGHING, &w, &w.id), BOOK_OK);
}

static void poured(int64_t from, int64_t into, const char *lot_code, const char *words)
{
    assert_int_equal(book_begin(book, AT, "poured"), BOOK_OK);
    pour_it(from, into, lot_code, words);
    assert_int_equal(book_end(book), BOOK_OK);
}

static void row_of_batch(int64_t id, struct book_batch *row)
{
    assert_int_equal(book_get(book, BOOK_BATCH, id, &arena, row), BOOK_OK);
}

/* A pour back is refused; in a book of before in which it was written each is as it was when it was poured, by the journal. */
static void poured_back_is_as_it_was_then(void **state)
{
    (void)state;
    struct book_batch b1, b2;
    struct st_problem p = { .what = "" };
    struct st_batch_made *m = calloc(1, sizeof *m);
    assert_non_null(m);
    row_of_batch(batch("B1", planned(), "2026-03-01"), &b1);
    row_of_batch(batch("B2", planned(), "2026-03-01"), &b2);
    assert_int_equal(st_batch_pour_may(&ask, &b1, &b2, &p), BOOK_OK);
    assert_int_equal(st_batch_made(&ask, &b1, true, true, m), BOOK_OK);
    assert_true(m->told);
    const double ml = m->out.fig[ST_FIG_VOLUME].value, strength = m->out.fig[ST_FIG_STRENGTH].value;
    st_batch_made_done(m);
    poured(b1.id, b2.id, "L1", "300 mL of B1");
    assert_int_equal(st_batch_pour_may(&ask, &b2, &b1, &p), BOOK_NONE);
    assert_non_null(strstr(p.why, "B2 already holds some of B1"));
    assert_int_equal(st_batch_pour_may(&ask, &b1, &b2, &p), BOOK_OK); /* more of the same may follow */
    poured(b2.id, b1.id, "L2", "200 mL of B2");
    assert_int_equal(st_batch_made(&ask, &b1, true, true, m), BOOK_OK);
    assert_true(
        m->told); /* both are of one recipe: as strong as before, but for what B2 rested; 300 mL less and 200 mL more */
    assert_true(fabs(m->out.fig[ST_FIG_STRENGTH].value - strength) < 0.02);
    assert_true(fabs(m->out.fig[ST_FIG_VOLUME].value - (ml - 100.0)) < 1.0);
    st_batch_made_done(m);
    free(m);
}

/* Where nothing tells which pour came first, it is said of both why nothing is known. */
static void poured_both_ways_is_not_known(void **state)
{
    (void)state;
    struct book_batch b1, b2;
    struct st_batch_made *m = calloc(1, sizeof *m);
    assert_non_null(m);
    row_of_batch(batch("B1", planned(), "2026-03-01"), &b1);
    row_of_batch(batch("B2", planned(), "2026-03-01"), &b2);
    assert_int_equal(book_begin(book, AT, "poured"), BOOK_OK);
    pour_it(b1.id, b2.id, "L1", "300 mL of B1");
    pour_it(b2.id, b1.id, "L2", "200 mL of B2");
    assert_int_equal(book_end(book), BOOK_OK);
    assert_int_equal(st_batch_made(&ask, &b1, true, true, m), BOOK_OK);
    assert_false(m->whole);
    assert_false(m->told);
    assert_non_null(strstr(m->problem.what, "poured in from B2 is not known"));
    st_batch_made_done(m);
    free(m);
}

/* What is counted in words that no weight fits is said anew; what they fit keeps them. */
static void what_is_counted_can_be_weighed(void **state)
{
    (void)state;
    const struct book_weighing w[] = { weighing("jar", 2, "90 g") };
    const struct {
        const char *planned, *weighed;
    } of[] = { { "peel of 10 lemons", "90 g lemon peel" },
               { "zest of 3 oranges", "90 g orange peel" },
               { "2 vanilla pods", "90 g vanilla pods" } };
    for (size_t i = 0; i < sizeof of / sizeof *of; i++) {
        struct st_buf text = { 0 };
        struct st_problem p = { .what = "" };
        if (st_batch_text(&ask, recipe("620 g", of[i].planned, "130 g", "", ""), w, 1, &text, &p) != 0)
            fail_msg("%s: %s: %s", of[i].planned, p.what, p.why);
        if (!strstr(st_buf_text(&text), of[i].weighed))
            fail_msg("%s: no %s in\n%s", of[i].planned, of[i].weighed, st_buf_text(&text));
        st_buf_done(&text);
    }
}

static void a_spirit_has_the_strength_of_its_lots(void **state)
{
    (void)state;
    struct book_weighing w[] = { weighing("jar", 2, "300 mL"), weighing("jar", 2, "400 mL") };
    w[0].lot_id = lot("L1", 700.0, 40.0, "2026-01-01");
    w[1].lot_id = lot("L2", 700.0, 47.0, "2026-01-01");
    same_as_written(w, 2, recipe("620 g", "700 mL vodka 44 %", "130 g", "", ""));
    /* an own measurement stands before the label */
    struct book_reading r;
    book_row_init(BOOK_READING, &r);
    r.lot_id = w[0].lot_id;
    r.kind = "strength_pct_vol";
    r.value = 33.0;
    r.at = "2026-02-01";
    assert_int_equal(book_begin(book, AT, "measured"), BOOK_OK);
    assert_int_equal(book_put(book, BOOK_READING, &r, &r.id), BOOK_OK);
    assert_int_equal(book_end(book), BOOK_OK);
    same_as_written(w, 2, recipe("620 g", "700 mL vodka 41 %", "130 g", "", ""));
    r.doubted = 1; /* unless it is set aside */
    assert_int_equal(book_begin(book, AT, "doubted"), BOOK_OK);
    assert_int_equal(book_put(book, BOOK_READING, &r, NULL), BOOK_OK);
    assert_int_equal(book_end(book), BOOK_OK);
    same_as_written(w, 2, recipe("620 g", "700 mL vodka 44 %", "130 g", "", ""));
}

static void a_lot_gives_what_was_weighed(void **state)
{
    (void)state;
    const int64_t id = lot("L1", 700.0, 40.0, "2026-01-01"), b = batch("B1", planned(), "2026-03-01");
    struct st_batch_use use;
    struct st_problem p = { .what = "" };
    struct book_lot l;
    double left;
    weigh(b, "jar", 2, "300 mL", id, "2026-03-01");
    assert_int_equal(book_get(book, BOOK_LOT, id, &arena, &l), BOOK_OK);
    assert_int_equal(st_batch_lot_left(&ask, &l, &left), BOOK_OK);
    assert_true(fabs(left - 400.0) < 1e-9);
    /* by weight: 40 % vol is 0.94805 g/mL at 20 C [oiml1975] */
    assert_int_equal(st_batch_use_of(&ask, sheet, &l, NULL, "94.805 g", ST_MEASURES_METRIC, 0.0, &use, &p), BOOK_OK);
    assert_true(fabs(use.amount - 100.0) < 0.01);
    assert_string_equal(use.remark, "");
    /* more than is left: told, not refused */
    assert_int_equal(st_batch_use_of(&ask, sheet, &l, NULL, "500 mL", ST_MEASURES_METRIC, 0.0, &use, &p), BOOK_OK);
    assert_non_null(strstr(use.remark, "only 400 mL"));
    /* pieces of a liquid */
    assert_int_equal(st_batch_use_of(&ask, sheet, &l, NULL, "3", ST_MEASURES_METRIC, 0.0, &use, &p), BOOK_NONE);
    assert_non_null(strstr(p.why, "another measure"));
}

/* Cups against grams, pieces against millilitres, trimmed against as bought: by figures of the sheet, written here anew. */
static void a_lot_is_counted_in_its_own_measure(void **state)
{
    (void)state;
    static const struct {
        const char *slug, *dim, *line, *words;
        int gross;
        double share, want; /* share: its own, 0 none; want 0: refused */
    } CASE[] = {
        { "sugar_white", "g", "200 g sugar", "1 cup", -1, 0.0, 200.0 }, /* [usda_sr28]: 200 g a cup of 236.588 mL */
        { "sugar_white", "mL", "1 cup sugar", "100 g", -1, 0.0, 118.294 },
        { "plum_fresh", "g", "600 g plums, stoned", "600 g", 1, 0.8, 750.0 }, /* its own share */
        { "plum_fresh", "g", "600 g plums, stoned", "600 g", 1, 0.0, -1.0 },  /* the sheet's */
        { "plum_fresh", "g", "600 g plums, as bought", "600 g", 1, 0.8, 600.0 },
        { "plum_fresh", "g", "600 g plums, stoned", "600 g", 0, 0.8, 600.0 },
        { "", "pieces", "50 mL lemon juice", "96 g", -1, 0.0, 2.0 }, /* 48 g a lemon [usda_sr28] */
        { "", "g", "1 cup sugar", "1 cup", -1, 0.0, 200.0 },
        { "egg_whole", "pieces", "4 egg yolks", "4", -1, 0.0, 4.0 },
        { "egg_whole", "pieces", "68 g egg yolks", "68 g", -1, 0.0, 4.0 }, /* 17 g a yolk, from memory */
        { "", "mL", NULL, "2", -1, 0.0, 0.0 },
    };
    const struct st_ingredient *plum = st_catalogue_find(sheet, "plums", 5);
    for (size_t i = 0; i < sizeof CASE / sizeof *CASE; i++) {
        struct book_lot l;
        struct st_line line = { .text = NULL };
        struct st_batch_use use;
        struct st_problem p = { .what = "" };
        book_row_init(BOOK_LOT, &l);
        l.code = "L1";
        l.name = "what it is";
        l.slug = CASE[i].slug;
        l.dim = CASE[i].dim;
        l.amount = 5000.0;
        if (CASE[i].gross >= 0)
            l.gross = CASE[i].gross;
        if (CASE[i].share > 0.0)
            l.trimmed_share = CASE[i].share;
        if (CASE[i].line && st_line_parse(CASE[i].line, ST_MEASURES_US, sheet, &line, &p) != 0)
            fail_msg("%s: %s: %s", CASE[i].line, p.what, p.why);
        const enum book_status s =
            st_batch_use_of(&ask, sheet, &l, CASE[i].line ? &line : NULL, CASE[i].words, ST_MEASURES_US, 0.0, &use, &p);
        assert_int_equal(s, CASE[i].want != 0.0 ? BOOK_OK : BOOK_NONE);
        const double want = CASE[i].want < 0.0 ? 600.0 / plum->edible.value : CASE[i].want;
        if (s == BOOK_OK && !(fabs(use.amount - want) < 1e-3 * want))
            fail_msg("%s %s of %s: %.6g, not %.6g", CASE[i].words, CASE[i].line, CASE[i].slug, use.amount, want);
    }
}

/* ---- jars ---- */

static void jars_follow_the_recipe(void **state)
{
    (void)state;
    struct st_batch_made *m = calloc(1, sizeof *m);
    bool ended[8] = { false }, begun[8] = { false };
    int step[8];
    long due, last;
    assert_non_null(m);
    assert_true(st_batch_made_of(&ask, planned(), false, m));
    const struct st_recipe *r = &m->file.recipe;
    assert_int_equal(st_batch_jars_next(r, ended, begun, step), 1);
    assert_string_equal(r->step[step[0]].id, "jar");
    assert_true(st_batch_due(&r->step[step[0]], 100, &due, &last));
    assert_int_equal(due, 156);
    assert_int_equal(last, 156);
    begun[0] = true;
    assert_int_equal(st_batch_jars_next(r, ended, begun, step), 0);
    begun[0] = false;
    ended[0] = true;
    assert_int_equal(st_batch_jars_next(r, ended, begun, step), 1);
    assert_string_equal(r->step[step[0]].id, "rested");
    assert_true(st_batch_due(&r->step[step[0]], 0, &due, &last));
    assert_int_equal(due, 42);
    assert_int_equal(last, 56);
    ended[step[0]] = true;
    assert_int_equal(st_batch_jars_next(r, ended, begun, step), 1);
    assert_string_equal(st_batch_doing(&r->step[step[0]]), "waiting to be bottled");
    /* what stands as the drink already: only behind the blend */
    assert_true(st_batch_of_drink(r, "") && st_batch_of_drink(r, "rested") && st_batch_of_drink(r, "drink"));
    assert_false(st_batch_of_drink(r, "jar") || st_batch_of_drink(r, "syrup") || st_batch_of_drink(r, "no such"));
    st_batch_made_done(m);
    free(m);
}

/* ---- readings ---- */

#define NOT_SAID (double)NAN

static void readings_are_read(void **state)
{
    (void)state;
    static const struct {
        const char *said, *kind;
        double value, warm;
    } GOOD[] = {
        { "sg=1.043@22C", "sg", 1.043, 22.0 },
        { "SG = 1,043 @ 71.6F", "sg", 1.043, 22.0 },
        { "brix=28 %", "brix", 28.0, NOT_SAID },
        { "flask=103.2g/100mL", "flask_g", 103.2, NOT_SAID },
        { "boiled=1.061", "sg_boiled", 1.061, NOT_SAID },
        { "temperature=64.4F", "temperature_c", 18.0, NOT_SAID },
        { "drained=0.412kg", "drained_g", 412.0, NOT_SAID },
        { "volume=1.2L", "volume_ml", 1200.0, NOT_SAID },
        { "ph=3.4", "ph", 3.4, NOT_SAID },
        { "colour=0.8", "colour", 0.8, NOT_SAID },
        { "taste=too weak", "taste", -1.0, NOT_SAID },
        { "strength=24.3 % vol", "strength_pct_vol", 24.3, NOT_SAID },
        { "sugar=210 g/L", "sugar_g_l", 210.0, NOT_SAID },
        { "weight=1.1kg", "liquor_g", 1100.0, NOT_SAID },
    };
    static const char *const BAD[] = { "sg=10.43",
                                       "sg",
                                       "sg=",
                                       "sg=1.043@hot",
                                       "brix=28 g",
                                       "drained=412",
                                       "flask=103.2g",
                                       "flask=1g/100mL",
                                       "volume=1.2kg",
                                       "gravity=1.0",
                                       "=1",
                                       "ph=15",
                                       "taste=nice",
                                       "sg=1.043@300C",
                                       "colour=0",
                                       "mark=11",
                                       "" };
    struct st_problem p;
    for (size_t i = 0; i < sizeof GOOD / sizeof *GOOD; i++) {
        struct book_reading r;
        book_row_init(BOOK_READING, &r);
        if (st_batch_reading(GOOD[i].said, &r, &p) != 0)
            fail_msg("%s: %s", GOOD[i].said, p.why);
        assert_string_equal(r.kind, GOOD[i].kind);
        if (!(fabs(r.value - GOOD[i].value) < 1e-9) ||
            (isnan(GOOD[i].warm) ? !isnan(r.temperature_c) : !(fabs(r.temperature_c - GOOD[i].warm) < 1e-9)))
            fail_msg("%s: read as %g at %g", GOOD[i].said, r.value, r.temperature_c);
    }
    for (size_t i = 0; i < sizeof BAD / sizeof *BAD; i++) {
        struct book_reading r;
        book_row_init(BOOK_READING, &r);
        if (st_batch_reading(BAD[i], &r, &p) != -1 || !p.what[0] || !p.try_[0])
            fail_msg("\"%s\" was read as %g", BAD[i], r.value);
    }
}

static void a_reading_is_the_record_that_is_learnt_from(void **state)
{
    (void)state;
    struct book_reading r;
    struct st_observation o;
    struct st_problem p;
    book_row_init(BOOK_READING, &r);
    assert_int_equal(st_batch_reading("flask=103.2g/100mL@18C", &r, &p), 0);
    r.at = "1970-01-11T08:00";
    assert_true(st_batch_seen(&r, 3, &o));
    assert_int_equal(o.what, ST_SEEN_FLASK_G);
    assert_true(o.flask_ml == 100.0 && o.value == 103.2 && o.t_s == 7.0 * 86400.0);
    assert_true(fabs(o.temperature_K - 291.15) < 1e-9);
    book_row_init(BOOK_READING, &r);
    assert_int_equal(st_batch_reading("sg=1.043+-0.002", &r, &p), 0);
    assert_true(fabs(r.sd - 0.002 / 1.959963984540054) < 1e-12);
    book_row_init(BOOK_READING, &r);
    assert_int_equal(st_batch_reading("temperature=18", &r, &p), 0);
    r.at = "1970-01-11";
    assert_false(st_batch_seen(&r, 3, &o));
}

/* ---- alcohol ---- */

#define L(x, sum_of) ((x).sum.l[ST_ALC_##sum_of])
#define U(x, sum_of) ((x).sum.u[ST_ALC_##sum_of])

static void put(enum book_table t, const void *row)
{
    assert_int_equal(book_begin(book, AT, "put"), BOOK_OK);
    assert_int_equal(book_put(book, t, row, NULL), BOOK_OK);
    assert_int_equal(book_end(book), BOOK_OK);
}

static void bottling(int64_t batch_id, const char *code, double ml, int n, double pct_vol, const char *day)
{
    struct book_bottling f;
    book_row_init(BOOK_BOTTLING, &f);
    f.batch_id = batch_id;
    f.code = code;
    f.size_ml = ml;
    f.count = n;
    f.strength_pct_vol = pct_vol;
    f.on_day = day;
    put(BOOK_BOTTLING, &f);
}

static void loss(int64_t batch_id, double ml, double pct_vol, const char *day)
{
    struct book_loss l;
    book_row_init(BOOK_LOSS, &l);
    l.batch_id = batch_id;
    l.volume_ml = ml;
    l.strength_pct_vol = pct_vol;
    l.why = "spilt";
    l.on_day = day;
    put(BOOK_LOSS, &l);
}

/* Two lots, two batches, over two years; an invented house. */
static void an_invented_house(void)
{
    const int64_t a = lot("L1", 2000.0, 50.0, "2025-05-01"), c = lot("L2", 1000.0, 40.0, "2026-02-01");
    const int64_t b1 = batch("B1", planned(), "2025-06-01"), b2 = batch("B2", planned(), "2026-03-01");
    struct book_lot_use spilt;
    weigh(b1, "jar", 2, "700 mL", a, "2025-06-01");
    weigh(b2, "jar", 2, "500 mL", a, "2026-03-01");
    weigh(b2, "jar", 2, "200 mL", c, "2026-03-01");
    loss(b1, 30.0, 25.0, "2025-09-01");
    bottling(b1, "B1-1", 350.0, 2, 25.0, "2026-01-15");
    book_row_init(BOOK_LOT_USE, &spilt);
    spilt.lot_id = c;
    spilt.amount = 50.0;
    spilt.on_day = "2026-04-01";
    spilt.why = "spilt";
    put(BOOK_LOT_USE, &spilt);
}

static bool near(double x, double y)
{
    return fabs(x - y) < 1e-9;
}

static void alcohol_balances(void **state)
{
    (void)state;
    struct st_alcohol all, first, second;
    an_invented_house();
    assert_int_equal(st_batch_alcohol(&ask, NULL, "2026-12-31", NULL, NULL, &all), BOOK_OK);
    assert_int_equal(st_batch_alcohol(&ask, NULL, "2025-12-31", NULL, NULL, &first), BOOK_OK);
    assert_int_equal(st_batch_alcohol(&ask, "2026-01-01", "2026-12-31", NULL, NULL, &second), BOOK_OK);
    /* by hand: 2 L at 50 and 1 L at 40 came in; 700 mL at 25 went out; 30 mL at 25 and 50 mL at 40 were lost */
    assert_true(near(L(all, IN), 1.4) && near(L(all, OUT), 0.175) && near(L(all, LOST), 0.0275) &&
                near(L(all, OPENING), 0.0));
    assert_true(near(L(all, CLOSING), L(all, OPENING) + L(all, IN) - L(all, OUT) - L(all, LOST) - L(all, KEPT)) &&
                near(L(all, KEPT), 0.0));
    assert_true(near(L(first, IN), 1.0) && near(L(first, CLOSING), 1.0 - 0.0075));
    assert_true(near(L(second, OPENING), L(first, CLOSING)) && near(L(second, CLOSING), L(all, CLOSING)));
    assert_int_equal(all.unknown, 0);
    double closing = 0.0, moved = 0.0;
    for (int i = 0; i < all.n; i++) {
        const struct st_alcohol_account *x = &all.account[i];
        assert_true(near(L(*x, CLOSING),
                         L(*x, OPENING) + L(*x, IN) + L(*x, MOVED_IN) - L(*x, MOVED_OUT) - L(*x, OUT) - L(*x, LOST)));
        closing += L(*x, CLOSING);
        moved += L(*x, MOVED_IN) - L(*x, MOVED_OUT);
    }
    assert_true(near(closing, L(all, CLOSING)) && near(moved, 0.0));
    assert_int_equal(all.n, 4);
    assert_true(near(L(all.account[0], CLOSING), 0.4) && near(L(all.account[1], CLOSING), 0.3));
    assert_int_equal(all.n_step, 3);
    assert_true(near(all.step[0].litres, 0.35));
    assert_string_equal(all.step[0].lot, "L1");
    assert_string_equal(all.step[0].batch, "B1");
    assert_true(all.checked == 0 && all.not_found == 2); /* both stand, and nobody read a volume */
}

/* Every sum has an interval, and what has one cause is wrong together.  By hand, in L: a volume 1 %, a strength 0.3 / 1.96 % vol. */
static void what_is_wrong_together_adds_up(void **state)
{
    (void)state;
    struct st_alcohol a;
    const double q_u = 0.3 / 1.96 / 100.0;
    an_invented_house();
    assert_int_equal(st_batch_alcohol(&ask, NULL, "2026-12-31", NULL, NULL, &a), BOOK_OK);
    const struct st_alcohol_account *l1 = &a.account[0];
    /* bought: two lots, nothing of one is of the other */
    assert_true(near(U(a, IN), sqrt(0.01 * 0.01 + 0.004 * 0.004 + pow(2.0 * q_u, 2) + pow(1.0 * q_u, 2))));
    /* 0.7 and 0.5 L of one lot by one measure: 1 % of 1.2 L of 50 %, and its strength wrong on 1.2 L */
    assert_true(near(U(*l1, MOVED_OUT), hypot(0.006, 1.2 * q_u)) && near(U(*l1, MOVED), U(*l1, MOVED_OUT)));
    /* it closes with 0.8 L, on which alone its strength is wrong; what was bought and what was taken are two measures */
    assert_true(near(U(*l1, CLOSING), sqrt(0.01 * 0.01 + 0.006 * 0.006 + pow(0.8 * q_u, 2))));
    /* one step has its own part of it */
    assert_true(near(a.step[0].u, hypot(0.0035, 0.7 * q_u)));
    /* what moved inside is in no sum of all, and what went out of one batch (0.73 L of 25 %) is wrong together */
    assert_true(near(U(a, OUT), hypot(0.00175, 0.7 * q_u)) && near(U(a, MOVED), 0.0));
    const double bought = 0.01 * 0.01 + 0.004 * 0.004, went = 0.73 * 0.0025, spilt = 0.05 * 0.004;
    assert_true(near(U(a, CLOSING), sqrt(bought + pow(2.0 * q_u, 2) + pow(0.95 * q_u, 2) + went * went +
                                         pow(0.73 * q_u, 2) + spilt * spilt)));
    const struct st_interval in = st_alcohol_told_sum(&a.sum, ST_ALC_IN);
    assert_true(in.known && near(in.high - in.low, 2.0 * 1.96 * U(a, IN)));
}

static const struct st_alcohol_account *account(const struct st_alcohol *x, const char *code)
{
    for (int i = 0; i < x->n; i++)
        if (strcmp(x->account[i].code, code) == 0)
            return &x->account[i];
    fail_msg("no account of %s", code);
    return NULL;
}

/* Of a batch that is over the rest is what fruit, lees and air kept, and what nobody accounted for; the year after knows
 * nothing of it. */
static void what_is_over_has_no_rest(void **state)
{
    (void)state;
    struct st_alcohol year, next;
    struct book_batch b1;
    an_invented_house();
    assert_int_equal(book_find(book, BOOK_BATCH, &(struct book_wanted){ .column = "code", .text = "B1" }, &arena, &b1),
                     BOOK_OK);
    b1.ended_on = "2026-02-01";
    put(BOOK_BATCH, &b1);
    assert_int_equal(st_batch_alcohol(&ask, "2026-01-01", "2026-12-31", NULL, NULL, &year), BOOK_OK);
    assert_true(near(L(year, OPENING), 1.0 - 0.0075));
    assert_true(near(L(year, KEPT) + L(year, MISSING), 0.35 - 0.0075 - 0.175)); /* in less lost less bottled */
    assert_true(near(L(year, CLOSING),
                     L(year, OPENING) + L(year, IN) - L(year, OUT) - L(year, LOST) - L(year, KEPT) - L(year, MISSING)));
    /* 520 g of fruit keeps a fifth to three fifths of its weight of liquor of about 30 % vol: common practice, no source */
    assert_true(L(year, KEPT) > 0.03 && L(year, KEPT) < 0.15);
    assert_int_equal(st_batch_alcohol(&ask, "2027-01-01", "2027-12-31", NULL, NULL, &next), BOOK_OK);
    assert_true(near(L(next, OPENING), L(year, CLOSING)) && near(L(next, CLOSING), L(year, CLOSING)) &&
                near(L(next, IN) + L(next, KEPT), 0.0));
    for (int i = 0; i < next.n; i++)
        assert_string_not_equal(next.account[i].code, "B1");
}

/* All of it missing is told, with what fruit and lees keep of it; what is all there is not. */
static void what_is_missing_is_told(void **state)
{
    (void)state;
    struct st_alcohol none, all;
    struct book_batch b1;
    struct st_batch_made *m = calloc(1, sizeof *m);
    const int64_t id = batch("B1", planned(), "2026-03-01");
    assert_non_null(m);
    assert_int_equal(book_get(book, BOOK_BATCH, id, &arena, &b1), BOOK_OK);
    assert_int_equal(st_batch_made(&ask, &b1, true, true, m), BOOK_OK);
    assert_true(m->told);
    b1.ended_on = "2026-11-01";
    put(BOOK_BATCH, &b1);
    assert_int_equal(st_batch_alcohol(&ask, NULL, "2026-12-31", NULL, NULL, &none), BOOK_OK);
    const struct st_alcohol_account *x = account(&none, "B1");
    const double drink = m->out.fig[ST_FIG_VOLUME].value / 1000.0 * m->out.fig[ST_FIG_STRENGTH].value / 100.0;
    assert_true(x->checked && x->marked && none.checked == 1 && none.marked == 1);
    assert_true(near(x->missing, L(*x, MISSING)) && near(L(*x, CLOSING), 0.0));
    assert_true(fabs(x->missing - drink) < 1e-6); /* what goes in is planned: all that is foretold of the bottle */
    assert_true(fabs(L(*x, KEPT) + drink - 0.35) < 1e-6 && x->kept_u > 0.0);
    bottling(id, "B1-1", m->out.fig[ST_FIG_VOLUME].value, 1, m->out.fig[ST_FIG_STRENGTH].value, "2026-10-01");
    assert_int_equal(st_batch_alcohol(&ask, NULL, "2026-12-31", NULL, NULL, &all), BOOK_OK);
    x = account(&all, "B1");
    assert_true(x->checked && !x->marked && fabs(x->missing) < 1e-6);
    assert_true(x->missing_u > x->kept_u && x->missing_u < 0.05 && near(all.gap, x->missing));
    st_batch_made_done(m);
    free(m);
}

/* What is lost of a jar before the drink has the strength of what stands there: 700 mL of 50 % and the fruit's water. */
static void a_loss_has_the_strength_of_its_step(void **state)
{
    (void)state;
    struct st_alcohol a;
    struct book_loss l;
    book_row_init(BOOK_LOSS, &l);
    l.batch_id = batch("B1", planned(), "2026-03-01");
    l.step = "jar";
    l.volume_ml = 100.0;
    l.why = "spilt";
    l.on_day = "2026-03-20";
    put(BOOK_LOSS, &l);
    assert_int_equal(st_batch_alcohol(&ask, NULL, "2026-12-31", NULL, NULL, &a), BOOK_OK);
    const double most = 0.35 / 0.7 * 0.1,
                 least = 0.35 / (0.7 + 0.62) * 0.1; /* no water of the fruit, all its weight water */
    assert_true(L(a, LOST) > least && L(a, LOST) < most && a.unknown == 0);
}

/* A spirit of which nobody said how strong it is counts nothing, and is not said to be nothing. */
static void a_spirit_of_no_strength_is_not_known(void **state)
{
    (void)state;
    struct st_alcohol a;
    const int64_t l = lot("L1", 1000.0, (double)NAN, "2026-02-01");
    const int64_t b = batch("B1", planned(), "2026-03-01");
    struct book_batch b1;
    weigh(b, "jar", 2, "700 mL", l, "2026-03-01");
    assert_int_equal(st_batch_alcohol(&ask, NULL, "2026-12-31", NULL, NULL, &a), BOOK_OK);
    assert_int_equal(a.unknown, 2); /* bought, and given to the batch */
    assert_true(account(&a, "L1")->unknown == 2 && account(&a, "B1")->unknown == 1);
    assert_false(st_alcohol_told_sum(&a.sum, ST_ALC_IN).known);
    assert_false(st_alcohol_told_sum(&a.sum, ST_ALC_CLOSING).known);
    assert_true(st_alcohol_told_sum(&a.sum, ST_ALC_LOST).known && near(L(a, LOST), 0.0));
    assert_int_equal(book_get(book, BOOK_BATCH, b, &arena, &b1), BOOK_OK);
    b1.ended_on = "2026-11-01";
    put(BOOK_BATCH, &b1);
    assert_int_equal(st_batch_alcohol(&ask, NULL, "2026-12-31", NULL, NULL, &a), BOOK_OK);
    assert_true(a.untold == 1 && a.checked == 0 && !account(&a, "B1")->checked);
}

/* Spent fruit counts the liquor that it keeps, not its weight. */
static void spent_fruit_counts_what_it_keeps(void **state)
{
    (void)state;
    struct st_alcohol a;
    struct st_batch_spent spent;
    struct st_problem p = { .what = "" };
    struct book_lot l;
    struct book_batch b1;
    struct st_batch_made *m = calloc(1, sizeof *m);
    const int64_t id = batch("B1", planned(), "2026-03-01");
    assert_non_null(m);
    assert_int_equal(book_get(book, BOOK_BATCH, id, &arena, &b1), BOOK_OK);
    assert_int_equal(st_batch_made(&ask, &b1, true, true, m), BOOK_OK);
    assert_int_equal(st_batch_spent(&ask, &b1, m, NULL, &spent, &p), BOOK_OK);
    book_row_init(BOOK_LOT, &l);
    l.code = "L1";
    l.kind = "spent";
    l.name = spent.name;
    l.slug = spent.slug;
    l.dim = "g";
    l.amount = 0.5 * spent.drained_g;
    l.strength_pct_vol = spent.strength_pct_vol;
    l.since = "2026-05-01";
    l.from_batch = id;
    put(BOOK_LOT, &l);
    assert_int_equal(st_batch_alcohol(&ask, NULL, "2026-12-31", NULL, NULL, &a), BOOK_OK);
    const double litres = L(*account(&a, "L1"), MOVED_IN);
    /* half of the ethanol that is strained off with the fruit, 789.24 g/L [oiml1975]; of its weight as liquor it were more */
    const double by_hand = 0.5 * m->out.balance[0].spent_g[ST_ETHANOL] / 789.24;
    assert_true(spent.liquor_g < 0.95 * spent.drained_g && by_hand > 0.01);
    assert_true(fabs(litres - by_hand) < 0.005 * by_hand);
    assert_true(L(*account(&a, "L1"), CLOSING) < 0.35 && L(*account(&a, "B1"), CLOSING) > 0.0);
    assert_true(near(L(*account(&a, "B1"), MOVED_OUT), litres) && near(L(a, CLOSING), 0.35));
    st_batch_made_done(m);
    free(m);
}

static void a_spirit_without_a_lot_comes_in_with_its_batch(void **state)
{
    (void)state;
    struct st_alcohol a;
    (void)batch("B1", planned(), "2026-03-01");
    assert_int_equal(st_batch_alcohol(&ask, NULL, NULL, NULL, NULL, &a), BOOK_OK);
    assert_true(near(L(a, IN), 0.35) && near(L(a, CLOSING), 0.35)); /* 700 mL at 50 as planned */
    assert_int_equal(a.n_step, 1);
    assert_string_equal(a.step[0].lot, "");
    assert_int_equal(a.not_found, 1); /* nothing was foretold in the book */
}

/* What a lot gave without a weighing is the spirit of the recipe, not one more. */
static void what_lots_gave_is_not_counted_twice(void **state)
{
    (void)state;
    struct st_alcohol a;
    struct book_lot_use use;
    book_row_init(BOOK_LOT_USE, &use);
    use.lot_id = lot("L1", 1000.0, 50.0, "2026-01-01");
    use.batch_id = batch("B1", planned(), "2026-03-01");
    use.amount = 690.0; /* of 700 mL planned: a cup more or less */
    use.on_day = "2026-03-01";
    use.why = "batch";
    put(BOOK_LOT_USE, &use);
    assert_int_equal(st_batch_alcohol(&ask, NULL, NULL, NULL, NULL, &a), BOOK_OK);
    assert_true(near(L(a, IN), 0.5) && near(L(a, CLOSING), 0.5));
    assert_int_equal(a.n_step, 1);
    use.batch_id = batch("B2", planned(), "2026-03-01");
    use.amount = 310.0; /* the rest of it came from nowhere known */
    put(BOOK_LOT_USE, &use);
    assert_int_equal(st_batch_alcohol(&ask, NULL, NULL, NULL, NULL, &a), BOOK_OK);
    assert_true(near(L(a, IN), 0.5 + 0.195) && near(L(a, CLOSING), 0.695));
}

/* ---- bottles ---- */

static void what_is_left_is_counted(void **state)
{
    (void)state;
    struct st_batch_made *m = calloc(1, sizeof *m);
    struct st_batch_left left;
    struct book_batch row;
    struct book_bottling f;
    struct book_gone g;
    const int64_t id = batch("B1", planned(), "2026-03-01");
    int home;
    assert_non_null(m);
    bottling(id, "B1-1", 350.0, 2, 25.0, "2026-06-01");
    loss(id, 30.0, 25.0, "2026-05-01");
    assert_int_equal(book_get(book, BOOK_BATCH, id, &arena, &row), BOOK_OK);
    assert_int_equal(st_batch_made(&ask, &row, true, true, m), BOOK_OK);
    assert_true(m->told);
    assert_int_equal(st_batch_left(&ask, &row, m, &left), BOOK_OK);
    assert_true(near(left.foretold_ml, m->out.fig[ST_FIG_VOLUME].value) && near(left.bottled_ml, 700.0) &&
                near(left.lost_ml, 30.0));
    assert_true(near(left.spare_ml, left.foretold_ml - 730.0));
    assert_true(left.bottles == 2 && left.at_home == 2 && !left.measured);
    /* what was taken off it as a lot left its jar too, the drained fruit did not */
    struct book_lot taken;
    book_row_init(BOOK_LOT, &taken);
    taken.code = "L1";
    taken.kind = "made";
    taken.name = "an invented lot";
    taken.dim = "mL";
    taken.amount = 200.0;
    taken.since = "2026-05-10";
    taken.from_batch = id;
    put(BOOK_LOT, &taken);
    taken.code = "L2";
    taken.kind = "spent";
    taken.dim = "g";
    put(BOOK_LOT, &taken);
    assert_int_equal(st_batch_left(&ask, &row, m, &left), BOOK_OK);
    assert_true(near(left.lost_ml, 230.0) && near(left.spare_ml, left.foretold_ml - 930.0));
    assert_int_equal(book_find(book, BOOK_BOTTLING, NULL, &arena, &f), BOOK_OK);
    book_row_init(BOOK_GONE, &g);
    g.bottling_id = f.id;
    g.count = 2;
    g.returned = 1;
    g.person = "somebody invented";
    g.on_day = "2026-06-02";
    put(BOOK_GONE, &g);
    assert_int_equal(st_batch_at_home(&ask, &f, &home), BOOK_OK);
    assert_int_equal(home, 1);
    st_batch_made_done(m);
    free(m);
}

static void spent_fruit_keeps_liquor_of_the_jar(void **state)
{
    (void)state;
    struct st_batch_made *m = calloc(1, sizeof *m);
    struct st_batch_spent x;
    struct st_problem p = { .what = "" };
    struct book_batch row;
    const int64_t id = batch("B1", planned(), "2026-03-01");
    assert_non_null(m);
    assert_int_equal(book_get(book, BOOK_BATCH, id, &arena, &row), BOOK_OK);
    assert_int_equal(st_batch_made(&ask, &row, true, true, m), BOOK_OK);
    assert_int_equal(st_batch_spent(&ask, &row, m, NULL, &x, &p), BOOK_OK);
    assert_string_equal(x.name, "spent damson");
    assert_true(x.liquor_g > 0.0 && x.liquor_g < x.drained_g && !x.weighed);
    assert_true(x.strength_pct_vol > 20.0 && x.strength_pct_vol < 50.0); /* thinned by the fruit's water */
    assert_int_equal(st_batch_spent(&ask, &row, m, "syrup", &x, &p), BOOK_OK);
    assert_non_null(strstr(p.why, "strains nothing off"));
    st_batch_made_done(m);
    free(m);
}

#define TEST(f) cmocka_unit_test_setup_teardown(f, set_up, tear_down)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(weighed_is_as_written),
        TEST(nothing_weighed_changes_nothing),
        TEST(several_weighings_add_up),
        TEST(what_is_not_in_the_recipe_is_as_written),
        TEST(an_open_line_is_said_anew),
        TEST(nonsense_is_refused),
        TEST(poured_back_is_as_it_was_then),
        TEST(poured_both_ways_is_not_known),
        TEST(what_is_counted_can_be_weighed),
        TEST(a_spirit_has_the_strength_of_its_lots),
        TEST(a_lot_gives_what_was_weighed),
        TEST(a_lot_is_counted_in_its_own_measure),
        TEST(jars_follow_the_recipe),
        TEST(readings_are_read),
        TEST(a_reading_is_the_record_that_is_learnt_from),
        TEST(alcohol_balances),
        TEST(what_is_wrong_together_adds_up),
        TEST(what_is_missing_is_told),
        TEST(a_loss_has_the_strength_of_its_step),
        TEST(a_spirit_of_no_strength_is_not_known),
        TEST(spent_fruit_counts_what_it_keeps),
        TEST(what_is_over_has_no_rest),
        TEST(what_lots_gave_is_not_counted_twice),
        TEST(a_spirit_without_a_lot_comes_in_with_its_batch),
        TEST(what_is_left_is_counted),
        TEST(spent_fruit_keeps_liquor_of_the_jar),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
