/* What came into a drink after parts of it had left: the same as a recipe of the rest; in the order in which it happened. */
#include "book_kit.h"

#include <math.h>

#include "api/book_batch_agree.h"
#include "api/book_batch_rest.h"
#include "text/recipe_add.h"
#include "util/embedded.h"

static struct st_batch_ask ask;

static struct st_catalogue *catalogue(void)
{
    const struct st_embedded *sheet = st_embedded_find("data/ingredients.sheet");
    struct st_problem problem;
    return st_catalogue_create((const char *)sheet->bytes, sheet->size, &problem);
}

static int set_up(void **state)
{
    const int done = kit_open(state);
    ask = (struct st_batch_ask){
        .book = desk.book, .arena = &kit_arena, .catalogue = catalogue, .seed = 1, .draws = 200
    };
    return done;
}

#define BLEND "title: Invented\nmeasures: metric\nsteps:\n  - blend: drink\n    add: [%.9g mL vodka 40 %%%s]\n"

static bool in_deed; /* of which the parts have no order that the journal knows */

static void begin_deed(void)
{
    assert_int_equal(book_begin(desk.book, desk.moment, "entered"), BOOK_OK);
    in_deed = true;
}

static void end_deed(void)
{
    assert_int_equal(book_end(desk.book), BOOK_OK);
    in_deed = false;
}

static int64_t put(enum book_table t, const void *row)
{
    int64_t id = 0;
    const bool own = !in_deed;
    if (own)
        begin_deed();
    assert_int_equal(book_put(desk.book, t, row, &id), BOOK_OK);
    if (own)
        end_deed();
    return id;
}

/* 500 mL of vodka, begun. */
static struct book_batch vodka(const char *code)
{
    struct book_batch b;
    book_row_init(BOOK_BATCH, &b);
    b.code = code;
    b.name = "Invented";
    b.text = st_arena_printf(&kit_arena, BLEND, 500.0, "");
    b.begun_on = "2026-03-01";
    b.id = put(BOOK_BATCH, &b);
    return b;
}

static void lose(int64_t batch, double ml, const char *why, const char *day)
{
    struct book_loss l;
    book_row_init(BOOK_LOSS, &l);
    l.batch_id = batch;
    l.volume_ml = ml;
    l.why = why;
    l.on_day = day;
    put(BOOK_LOSS, &l);
}

static void add(int64_t batch, const char *words, const char *day)
{
    struct book_weighing w;
    book_row_init(BOOK_WEIGHING, &w);
    w.batch_id = batch;
    w.step = "drink";
    w.words = words;
    w.line = 0;
    w.on_day = day;
    put(BOOK_WEIGHING, &w);
}

static void lose_g(int64_t batch, double g, const char *day)
{
    struct book_loss l;
    book_row_init(BOOK_LOSS, &l);
    l.batch_id = batch;
    l.mass_g = g;
    l.why = "spilt";
    l.on_day = day;
    put(BOOK_LOSS, &l);
}

/* sd NAN: as usual. */
static int64_t read_ml(int64_t batch, double ml, double sd, const char *step, const char *day)
{
    struct book_reading r;
    book_row_init(BOOK_READING, &r);
    r.batch_id = batch;
    r.step = step;
    r.kind = ST_READ_VOLUME;
    r.value = ml;
    r.sd = sd;
    r.at = day;
    r.words = "read";
    return put(BOOK_READING, &r);
}

static void take_lot(int64_t batch, const char *code, const char *dim, double amount, const char *day)
{
    struct book_lot l;
    book_row_init(BOOK_LOT, &l);
    l.code = code;
    l.kind = "made";
    l.name = "Invented";
    l.dim = dim;
    l.amount = amount;
    l.since = day;
    l.from_batch = batch;
    put(BOOK_LOT, &l);
}

/* A figure of the batch as it is really made. */
static double figure(const struct book_batch *b, enum st_figure f)
{
    struct st_batch_made *m = calloc(1, sizeof *m);
    assert_non_null(m);
    assert_int_equal(st_batch_made(&ask, b, true, true, m), BOOK_OK);
    if (!m->told)
        fail_msg("%s: %s\n%s", m->problem.what, m->problem.why, st_buf_text(&m->text));
    const double x = m->out.fig[f].value;
    st_batch_made_done(m);
    free(m);
    return x;
}

/* Its text as it is really made. */
static const char *text_of(const struct book_batch *b)
{
    struct st_batch_made *m = calloc(1, sizeof *m);
    assert_non_null(m);
    assert_int_equal(st_batch_made(&ask, b, true, true, m), BOOK_OK);
    const char *text = st_arena_strdup(&kit_arena, st_buf_text(&m->text));
    st_batch_made_done(m);
    free(m);
    return text;
}

/* The same of a text. */
static double written(const char *text, enum st_figure f)
{
    struct st_batch_made *m = calloc(1, sizeof *m);
    assert_non_null(m);
    assert_true(st_batch_made_of(&ask, text, true, m));
    const double x = m->out.fig[f].value;
    st_batch_made_done(m);
    free(m);
    return x;
}

static void near(double x, double y, const char *what)
{
    if (!(fabs(x - y) <= 1e-9 * fabs(y)))
        fail_msg("%s: %.12g, and as written %.12g", what, x, y);
}

/* However much leaves: with 200 mL of water it is the recipe of the rest and 200 mL of water. */
static void it_is_the_recipe_of_the_rest(void **state)
{
    (void)state;
    for (int i = 1; i < 10; i++) {
        const struct book_batch b = vodka(st_arena_printf(&kit_arena, "B%d", i));
        const double ml = 48.7 * i;
        lose(b.id, 0.25 * ml, "spilt", "2026-03-02");
        lose(b.id, 0.75 * ml, "tasted", "2026-03-03");
        add(b.id, "200 mL water", "2026-03-04");
        const char *rest = st_arena_printf(&kit_arena, BLEND, 500.0 - ml, ", 200 mL water");
        near(figure(&b, ST_FIG_STRENGTH), written(rest, ST_FIG_STRENGTH), "strength");
        near(figure(&b, ST_FIG_VOLUME), written(rest, ST_FIG_VOLUME), "volume");
    }
}

/* Nothing is added, or nothing left before: the text is what it was. */
static void else_nothing_changes(void **state)
{
    (void)state;
    const struct book_batch b = vodka("B1"), c = vodka("B2"), d = vodka("B3");
    lose(b.id, 300.0, "drawn", "2026-03-02");
    near(figure(&b, ST_FIG_STRENGTH), 40.0, "strength");
    near(figure(&b, ST_FIG_VOLUME), 500.0, "volume"); /* what left later is taken off what is left, not off the text */
    add(c.id, "200 mL water", "2026-03-01");
    lose(c.id, 300.0, "drawn", "2026-03-02");
    const char *whole = st_arena_printf(&kit_arena, BLEND, 500.0, ", 200 mL water");
    near(figure(&c, ST_FIG_STRENGTH), written(whole, ST_FIG_STRENGTH), "strength");
    lose(d.id, 300.0, "evaporated", "2026-03-02");
    add(d.id, "200 mL water", "2026-03-04");
    near(figure(&d, ST_FIG_VOLUME), written(whole, ST_FIG_VOLUME), "volume");
}

/* Three times half of it drawn off and as much water put in its place. */
static void again_and_again(void **state)
{
    (void)state;
    const struct book_batch b = vodka("B1");
    const char *text = st_arena_printf(&kit_arena, BLEND, 500.0, "");
    for (int i = 1; i <= 3; i++) {
        const char *day = st_arena_printf(&kit_arena, "2026-03-%02d", i + 1);
        lose(b.id, 200.0, "drawn", day);
        add(b.id, "200 mL water", day);
        text = st_arena_printf(&kit_arena,
                               "%s  - blend: o%d\n    add: [200 mL of %s]\n  - blend: r%d\n"
                               "    add: [all of %s, 200 mL water]\n",
                               text, i, i == 1 ? "drink" : st_arena_printf(&kit_arena, "r%d", i - 1), i,
                               i == 1 ? "drink" : st_arena_printf(&kit_arena, "r%d", i - 1));
        near(figure(&b, ST_FIG_STRENGTH), written(text, ST_FIG_STRENGTH), "strength");
        near(figure(&b, ST_FIG_VOLUME), written(text, ST_FIG_VOLUME), "volume");
    }
    assert_true(figure(&b, ST_FIG_STRENGTH) < 40.0 * 0.6 * 0.6 * 0.6 + 0.5);
}

/* Of one day by the journal; a day that is told later for before goes before. */
static void the_order_counts(void **state)
{
    (void)state;
    const struct book_batch b = vodka("B1"), c = vodka("B2"), d = vodka("B3");
    add(b.id, "200 mL water", "2026-03-02");
    lose(b.id, 300.0, "spilt", "2026-03-02");
    lose(c.id, 300.0, "spilt", "2026-03-02");
    add(c.id, "200 mL water", "2026-03-02");
    add(d.id, "200 mL water", "2026-03-03");
    lose(d.id, 300.0, "spilt", "2026-03-02");
    near(figure(&c, ST_FIG_STRENGTH), figure(&d, ST_FIG_STRENGTH), "strength");
    assert_true(figure(&b, ST_FIG_STRENGTH) > figure(&c, ST_FIG_STRENGTH) + 5.0);
}

/* Of one day and one deed, as in a book that was imported: read, then drawn off, then added, then gone. */
static void of_one_deed_by_what_it_is(void **state)
{
    (void)state;
    const struct book_batch b = vodka("B1"), c = vodka("B2"), d = vodka("B3"), e = vodka("B4");
    begin_deed();
    add(b.id, "200 mL water", "2026-03-02");
    lose(b.id, 300.0, "drawn", "2026-03-02");
    lose(c.id, 300.0, "spilt", "2026-03-02");
    add(c.id, "200 mL water", "2026-03-02");
    end_deed();
    near(figure(&b, ST_FIG_STRENGTH),
         written(st_arena_printf(&kit_arena, BLEND, 200.0, ", 200 mL water"), ST_FIG_STRENGTH), "drawn, then added");
    near(figure(&c, ST_FIG_STRENGTH),
         written(st_arena_printf(&kit_arena, BLEND, 500.0, ", 200 mL water"), ST_FIG_STRENGTH), "added, then spilt");
    /* 300 mL of 500 went before; 250 are read, so much there was when the water came */
    lose(d.id, 300.0, "spilt", "2026-03-02");
    lose(e.id, 300.0, "spilt", "2026-03-02");
    begin_deed();
    add(d.id, "200 mL water", "2026-03-03");
    read_ml(d.id, 250.0, 0.001, "drink", "2026-03-03");
    lose(e.id, 100.0, "drawn", "2026-03-03");
    read_ml(e.id, 250.0, 0.001, "drink", "2026-03-03");
    add(e.id, "200 mL water", "2026-03-03");
    end_deed();
    const double of_250 = written(st_arena_printf(&kit_arena, BLEND, 250.0, ", 200 mL water"), ST_FIG_STRENGTH),
                 of_150 = written(st_arena_printf(&kit_arena, BLEND, 150.0, ", 200 mL water"), ST_FIG_STRENGTH);
    assert_true(fabs(figure(&d, ST_FIG_STRENGTH) - of_250) < 0.01);
    assert_true(fabs(figure(&e, ST_FIG_STRENGTH) - of_150) < 0.01);
}

/* What was read of the rest counts: the last that is not doubted, of the drink, less what left after it. */
static void what_was_read_counts(void **state)
{
    (void)state;
    struct book_reading r;
    const struct book_batch b = vodka("B1");
    lose(b.id, 100.0, "spilt", "2026-03-02");
    read_ml(b.id, 350.0, 0.001, "drink", "2026-03-03");
    lose_g(b.id, 50.0, "2026-03-04"); /* g count as mL */
    lose(b.id, 100.0, "spilt", "2026-03-04");
    add(b.id, "200 mL water", "2026-03-05");
    const double is = written(st_arena_printf(&kit_arena, BLEND, 200.0, ", 200 mL water"), ST_FIG_STRENGTH);
    assert_true(fabs(figure(&b, ST_FIG_STRENGTH) - is) < 0.01);
    const int64_t id = read_ml(b.id, 90.0, 0.001, "drink", "2026-03-04");
    assert_true(figure(&b, ST_FIG_STRENGTH) < is - 5.0);
    assert_int_equal(book_get(desk.book, BOOK_READING, id, &kit_arena, &r), BOOK_OK);
    r.doubted = 1;
    put(BOOK_READING, &r);
    assert_true(fabs(figure(&b, ST_FIG_STRENGTH) - is) < 0.01);
}

/* As wide as it was read: 250 mL to 10 mL (1 standard uncertainty) with 200 mL of water. */
static void as_wide_as_it_was_read(void **state)
{
    (void)state;
    double wide[2];
    for (int i = 0; i < 2; i++) {
        const struct book_batch b = vodka(i ? "B2" : "B1");
        struct st_batch_made *m = calloc(1, sizeof *m);
        assert_non_null(m);
        lose(b.id, 240.0, "spilt", "2026-03-02");
        read_ml(b.id, 250.0, i ? 10.0 : 0.001, "drink", "2026-03-03");
        add(b.id, "200 mL water", "2026-03-04");
        assert_int_equal(st_batch_made(&ask, &b, true, true, m), BOOK_OK);
        assert_true(m->told);
        wide[i] = m->out.fig[ST_FIG_VOLUME].high - m->out.fig[ST_FIG_VOLUME].low;
        st_batch_made_done(m);
        free(m);
    }
    /* 2 x 19.6 mL, beside what the measures are off; of 200 draws a tenth of it is chance */
    const double by_reading = sqrt(wide[1] * wide[1] - wide[0] * wide[0]);
    if (!(by_reading > 30.0 && by_reading < 50.0))
        fail_msg("%g mL wide; read as sure as can be %g", wide[1], wide[0]);
}

/* A lot that was taken by weight is as much less of it: 285 g of vodka of 0.950 g/mL [oiml1975] are 300 mL. */
static void a_lot_by_weight(void **state)
{
    (void)state;
    const struct book_batch b = vodka("B1"), c = vodka("B2");
    take_lot(b.id, "L1", "g", 285.0, "2026-03-02");
    add(b.id, "200 mL water", "2026-03-03");
    take_lot(c.id, "L2", "mL", 300.0, "2026-03-02");
    add(c.id, "200 mL water", "2026-03-03");
    assert_true(fabs(figure(&b, ST_FIG_STRENGTH) - figure(&c, ST_FIG_STRENGTH)) < 0.1);
    assert_true(figure(&b, ST_FIG_STRENGTH) < 20.5);
}

/* By the recipe nothing was left, or it was read as none: a fiftieth was there. */
static void nothing_left_is_a_fiftieth(void **state)
{
    (void)state;
    const struct book_batch b = vodka("B1"), c = vodka("B2"), d = vodka("B3"), e = vodka("B4");
    const double is = written(st_arena_printf(&kit_arena, BLEND, 10.0, ", 200 mL water"), ST_FIG_STRENGTH);
    lose(b.id, 600.0, "spilt", "2026-03-02");
    add(b.id, "200 mL water", "2026-03-03");
    assert_true(fabs(figure(&b, ST_FIG_STRENGTH) - is) < 0.05);
    read_ml(c.id, 100.0, 0.001, "drink", "2026-03-02");
    lose(c.id, 300.0, "spilt", "2026-03-03");
    add(c.id, "200 mL water", "2026-03-04");
    assert_true(fabs(figure(&c, ST_FIG_STRENGTH) - is) < 0.05);
    /* 470 g of 0.948 g/mL are 496 mL: more than 98 of 100 */
    lose_g(d.id, 470.0, "2026-03-02");
    add(d.id, "200 mL water", "2026-03-03");
    assert_true(fabs(figure(&d, ST_FIG_STRENGTH) - is) < 0.05);
    /* by the recipe that is told to be a guess; not where a volume of the rest was read */
    read_ml(e.id, 700.0, 0.001, "drink", "2026-03-02");
    lose(e.id, 600.0, "spilt", "2026-03-03");
    add(e.id, "100 mL water", "2026-03-04");
    assert_non_null(strstr(text_of(&b), "more had left than there was"));
    assert_null(strstr(text_of(&e), "more had left than there was"));
}

/* The names that the rest and what had left are given, and no others. */
static void what_is_a_rest(void **state)
{
    (void)state;
    struct st_line all = { .what = NULL };
    struct st_step s = { .kind = ST_DO_BLEND, .line = &all, .n_line = 1 };
    static const struct {
        const char *id;
        bool rest, off;
    } OF[] = {
        { "remainder 1", true, false },       { "remainder 12", true, false }, { "remainder of it", false, false },
        { "remainder 1 more", false, false }, { "remainder ", false, false },  { "taken off 3", false, true },
        { "taken off early", false, false },
    };
    for (size_t i = 0; i < sizeof OF / sizeof *OF; i++) {
        s.id = st_arena_strdup(&kit_arena, OF[i].id);
        assert_int_equal(st_batch_is_rest(&s), OF[i].rest);
        assert_int_equal(st_batch_is_off(&s), OF[i].off);
    }
    s.id = st_arena_strdup(&kit_arena, "remainder 1");
    s.kind = ST_DO_STEEP;
    assert_true(st_batch_is_rest(&s));
    s.kind = ST_DO_SYRUP;
    assert_false(st_batch_is_rest(&s));
}

/* A moment in one deed: what is drawn off goes before what is added, what is spilt after. */
static void a_moment_of_one_deed(void **state)
{
    (void)state;
    const struct book_batch b = vodka("B1");
    bool later = false;
    begin_deed();
    add(b.id, "100 mL water", "2026-03-02");
    lose(b.id, 100.0, "drawn", "2026-03-02");
    end_deed();
    const struct st_batch_moment came = { .table = BOOK_WEIGHING, .id = 1, .day = "2026-03-02" };
    struct st_batch_moment went = { .table = BOOK_LOSS, .id = 1, .day = "2026-03-02", .drawn = true };
    assert_int_equal(st_batch_later(&ask, &came, &went, &later), BOOK_OK);
    assert_true(later);
    went.drawn = false;
    assert_int_equal(st_batch_later(&ask, &came, &went, &later), BOOK_OK);
    assert_false(later);
}

/* What is added to the jar, once drawn from the drink, comes into the rest of that; where it was only spilt, into the jar. */
static void a_drink_was_there(void **state)
{
    (void)state;
    static const char *const WHY[] = { "drawn", "spilt" };
    double q[2];
    for (int i = 0; i < 2; i++) {
        struct book_batch b;
        struct book_weighing w;
        book_row_init(BOOK_BATCH, &b);
        b.code = WHY[i];
        b.name = "Invented";
        b.text = "title: Invented\nmeasures: metric\nsteps:\n  - steep: jar\n    for: 1 week\n"
                 "    add: [500 mL vodka 40 %]\n  - blend: drink\n    add: [all of jar, 1 g sugar]\n";
        b.begun_on = "2026-03-01";
        b.id = put(BOOK_BATCH, &b);
        lose(b.id, 300.0, WHY[i], "2026-03-09");
        read_ml(b.id, 90.0, 0.001, "jar", "2026-03-09"); /* of another liquid */
        book_row_init(BOOK_WEIGHING, &w);
        w.batch_id = b.id;
        w.step = "jar";
        w.words = "200 mL water";
        w.on_day = "2026-03-10";
        put(BOOK_WEIGHING, &w);
        q[i] = figure(&b, ST_FIG_STRENGTH);
        if (i > 0)
            continue;
        assert_non_null(strstr(text_of(&b), "- steep: \"remainder 1\""));
        w.step = "drink"; /* nothing more had left, but this is no steep */
        put(BOOK_WEIGHING, &w);
        assert_non_null(strstr(text_of(&b), "- blend: \"remainder 2\""));
    }
    assert_true(fabs(q[0] - 20.0) < 0.5);             /* 200 of 400 mL */
    assert_true(fabs(q[1] - 40.0 * 500 / 700) < 0.5); /* 500 of 700 mL */
}

/* Of a recipe of one steep that is the drink: what comes into it when some was spilt comes into the rest, 80 of 400 mL. */
static void the_last_step_is_the_drink(void **state)
{
    (void)state;
    struct book_batch b;
    struct book_weighing w;
    book_row_init(BOOK_BATCH, &b);
    b.code = "B1";
    b.name = "Invented";
    b.text = "title: Invented\nmeasures: metric\nsteps:\n  - steep: jar\n    for: 1 week\n"
             "    add: [500 mL vodka 40 %, 1 g sugar]\n";
    b.begun_on = "2026-03-01";
    b.id = put(BOOK_BATCH, &b);
    lose(b.id, 300.0, "spilt", "2026-03-09");
    book_row_init(BOOK_WEIGHING, &w);
    w.batch_id = b.id;
    w.step = "jar";
    w.words = "200 mL water";
    w.on_day = "2026-03-10";
    put(BOOK_WEIGHING, &w);
    assert_true(fabs(figure(&b, ST_FIG_STRENGTH) - 20.0) < 0.5);
}

/* A loss and a lot of one number are two. */
static void numbers_are_of_their_table(void **state)
{
    (void)state;
    int64_t left[] = { 3 };
    enum book_table of[] = { BOOK_LOSS };
    const struct st_batch_rests r = { .left = left, .left_of = of, .n_left = 1 };
    assert_true(st_batch_left_before(&r, BOOK_LOSS, 3));
    assert_false(st_batch_left_before(&r, BOOK_LOT, 3));
    assert_false(st_batch_left_before(&r, BOOK_LOSS, 4));
}

/* Until a moment: what was added later is not in it. */
static void then_is_then(void **state)
{
    (void)state;
    struct book_lot l;
    struct st_interval q;
    const struct book_batch b = vodka("B1");
    add(b.id, "100 mL water", "2026-03-02");
    book_row_init(BOOK_LOT, &l);
    l.code = "L1";
    l.kind = "made";
    l.name = "Invented";
    l.dim = "mL";
    l.amount = 100.0;
    l.since = "2026-03-02";
    l.from_batch = b.id;
    l.id = put(BOOK_LOT, &l);
    const struct st_batch_moment then = { .table = BOOK_LOT, .id = l.id, .day = l.since };
    const double before = figure(&b, ST_FIG_STRENGTH);
    assert_int_equal(st_batch_strength_then(&ask, &b, &then, &q), BOOK_OK);
    assert_false(q.known); /* nothing was added since */
    add(b.id, "100 mL water", "2026-03-02");
    assert_int_equal(st_batch_strength_then(&ask, &b, &then, &q), BOOK_OK);
    assert_true(q.known);
    near(q.value, before, "strength");
    assert_true(figure(&b, ST_FIG_STRENGTH) < before - 4.0);
}

static const char ROWS[] = "title: T\nsteps:\n  - blend: drink\n    words: |\n      Stir.\n\n      Go.\n"
                           "    add:\n      - 500 mL vodka 40 %\n\nnote: |\n  - t\n";

/* Steps more, however the list is written: the text is read again, and the drink comes out of the last. */
static void steps_are_put_behind(void **state)
{
    (void)state;
    static const char *const TEXT[] = {
        "title: T\nmeasures: metric\nsteps:\n  - blend: drink\n    add: [500 mL vodka 40 %]\n",
        "title: T\nmeasures: metric\nsteps:\n- blend: drink\n  add:\n  - 500 mL vodka 40 %\n# behind\nnote: end",
        ROWS,
        "title: T\nmeasures: metric\nsteps: [{blend: drink, add: [500 mL vodka 40 %]}]\nnote: end\n",
        "{\"title\": \"T\", \"steps\": [\n {\"add\": [\"500 mL vodka 40 %\"], \"blend\": \"drink\"}\n]}",
        "title: T\nmeasures: metric\nsteps: [{blend: drink, add: [500 mL vodka 40 %]}, ]\n",
        "title: T\nmeasures: metric\nsteps:\n  - blend: drink\n    add: [500 mL vodka 40 %]",
    };
    static const char *const OFF[] = { "300 mL of drink" }, *const REST[] = { "all of drink", "200 mL water" };
    static const struct st_new_step STEP[] = { { ST_DO_BLEND, "taken off 1", OFF, 1 },
                                               { ST_DO_BLEND, "remainder 1", REST, 2 } };
    for (size_t i = 0; i < sizeof TEXT / sizeof *TEXT; i++) {
        struct st_batch_made *m = calloc(1, sizeof *m), *n = calloc(1, sizeof *n);
        struct st_buf out = { 0 };
        struct st_problem p = { .what = "" };
        assert_true(m && n);
        assert_true(st_batch_made_of(&ask, TEXT[i], false, m));
        if (st_recipe_add_steps(TEXT[i], strlen(TEXT[i]), &m->file.recipe, STEP, 2, &out, &p) != 0)
            fail_msg("%s: %s: %s", TEXT[i], p.what, p.why);
        if (!st_batch_made_of(&ask, st_buf_text(&out), true, n))
            fail_msg("%s: %s\n%s", n->problem.what, n->problem.why, st_buf_text(&out));
        assert_int_equal(n->file.recipe.n_step, 3);
        assert_true(st_batch_is_off(&n->file.recipe.step[1]) && st_batch_is_rest(&n->file.recipe.step[2]));
        assert_false(st_batch_is_rest(&n->file.recipe.step[0]) || st_batch_is_rest(&n->file.recipe.step[1]));
        assert_true(fabs(n->out.fig[ST_FIG_STRENGTH].value - 20.0) < 0.2);
        st_batch_made_done(m);
        st_batch_made_done(n);
        free(m);
        free(n);
        st_buf_done(&out);
    }
}

#define TEST(f) cmocka_unit_test_setup_teardown(f, set_up, kit_close)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(it_is_the_recipe_of_the_rest),
        TEST(else_nothing_changes),
        TEST(again_and_again),
        TEST(the_order_counts),
        TEST(of_one_deed_by_what_it_is),
        TEST(what_was_read_counts),
        TEST(as_wide_as_it_was_read),
        TEST(a_lot_by_weight),
        TEST(nothing_left_is_a_fiftieth),
        TEST(a_drink_was_there),
        TEST(the_last_step_is_the_drink),
        TEST(what_is_a_rest),
        TEST(a_moment_of_one_deed),
        TEST(numbers_are_of_their_table),
        TEST(then_is_then),
        TEST(steps_are_put_behind),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
