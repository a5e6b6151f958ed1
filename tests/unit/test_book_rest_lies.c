/* What lies in a drink stays in what is left of it: over random orders of departures, additions and strainings the worst case is never
 * below what has not gone with a departure, over the liquid that is left. */
#include "book_kit.h"

#include <math.h>

#include "api/book_batch_rest.h"
#include "ledger_kit.h"
#include "util/embedded.h"

static const double MG_G = 10.0, /* of what a gram of wormwood holds here at most; invented */
    ROUNDING = 1e-6;

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
    ask =
        (struct st_batch_ask){ .book = desk.book, .arena = &kit_arena, .catalogue = catalogue, .seed = 1, .draws = 60 };
    return done;
}

static int64_t put(enum book_table t, const void *row)
{
    int64_t id = 0;
    assert_int_equal(book_begin(desk.book, desk.moment, "entered"), BOOK_OK);
    assert_int_equal(book_put(desk.book, t, row, &id), BOOK_OK);
    assert_int_equal(book_end(desk.book), BOOK_OK);
    return id;
}

static int today; /* days are counted, so that an order is one of days too */

static const char *day(void)
{
    return st_arena_printf(&kit_arena, "2026-%02d-%02d", 1 + today / 28, 1 + today % 28);
}

static struct book_batch begin(int i)
{
    struct book_batch b;
    book_row_init(BOOK_BATCH, &b);
    b.code = st_arena_printf(&kit_arena, "B%d", i);
    b.name = "Invented";
    b.text = "title: Invented\nmeasures: metric\nsteps:\n  - steep: jar\n    for: 1 week\n"
             "    add: [900 mL vodka 40 %, 1 g dried wormwood]\n";
    b.begun_on = day();
    b.id = put(BOOK_BATCH, &b);
    return b;
}

static void strain(int64_t batch)
{
    struct book_jar j;
    book_row_init(BOOK_JAR, &j);
    j.batch_id = batch;
    j.step = "jar";
    j.doing = "steeping";
    j.begun_on = j.ended_on = day();
    put(BOOK_JAR, &j);
}

static void bottle(int64_t batch, double ml)
{
    struct book_loss l;
    book_row_init(BOOK_LOSS, &l);
    l.batch_id = batch;
    l.volume_ml = ml;
    l.why = "drawn";
    l.on_day = day();
    put(BOOK_LOSS, &l);
}

static void add(int64_t batch, const char *words)
{
    struct book_weighing w;
    book_row_init(BOOK_WEIGHING, &w);
    w.batch_id = batch;
    w.step = "jar";
    w.words = words;
    w.on_day = day();
    put(BOOK_WEIGHING, &w);
}

/* mg/g of the drink at most, with the amounts as written, and what there is of it. */
static double worst(const struct book_batch *b, double *g, double *ml)
{
    struct st_batch_made *m = calloc(1, sizeof *m);
    struct st_ledger *l = malloc(sizeof *l);
    assert_true(m && l);
    assert_int_equal(st_batch_made(&ask, b, true, true, m), BOOK_OK);
    if (!m->told)
        fail_msg("%s: %s\n%s", m->problem.what, m->problem.why, st_buf_text(&m->text));
    const struct st_toxicant t = kit_toxicant("x", "");
    const struct st_content c = kit_content(m->file.recipe.step[0].line[1].what->slug, "x", 1000 * MG_G);
    const struct st_rule_books books = { &t, 1, &c, 1, NULL, 0, NULL };
    assert_int_equal(st_ledger_make(&m->file.recipe, &m->out, &books, ST_PLACE_ALL, &KIT_DRINKER, NULL, 0, l), ST_OK);
    assert_int_equal(l->n_entry, 1);
    const double mg_g = l->entry[0].mg_kg * 1e-3;
    *g = m->out.fig[ST_FIG_MASS].value;
    *ml = m->out.fig[ST_FIG_VOLUME].value;
    free(l);
    st_batch_made_done(m);
    free(m);
    return mg_g;
}

static uint64_t seed = 17;

static int dice(int n)
{
    seed = seed * 6364136223846793005u + 1442695040888963407u;
    return (int)((seed >> 33) % (uint64_t)n);
}

/* By hand beside it: what lies in it, mg, and what is in a gram of the liquor, since it was strained. */
struct hand {
    double lying, per_g, g, ml;
};

static void strained(struct hand *h)
{
    h->per_g += h->lying / h->g;
    h->lying = 0.0;
}

static void maybe_strain(const struct book_batch *b, struct hand *h, int *n)
{
    if (dice(4))
        return;
    strain(b->id);
    today += dice(2);
    strained(h);
    ++*n;
}

/* Part of it leaves, then something comes in; returns what of the worst case there must be at least, mg/g. */
static void one_round(const struct book_batch *b, struct hand *h, int *n_strained, int *n_plant)
{
    const double part = 0.1 + 0.5 * dice(1000) / 1000.0, ml = floor(part * h->ml);
    maybe_strain(b, h, n_strained);
    bottle(b->id, ml);
    today += dice(2);
    h->g *= 1.0 - ml / h->ml; /* none of what lies in it */
    maybe_strain(b, h, n_strained);
    const double was = h->g;
    if (dice(2)) {
        add(b->id, "500 mg dried wormwood");
        h->lying += 0.5 * MG_G;
        ++*n_plant;
    } else {
        add(b->id, "1 g sugar");
        h->g += 1.0;
    }
    today += dice(2);
    h->per_g *= was / h->g;
}

enum { TRIED = 25, ROUNDS = 4 };

static void what_lies_in_it_stays(void **state)
{
    (void)state;
    int n_strained = 0, n_plant = 0, well_above = 0;
    for (int i = 0; i < TRIED; i++) {
        today = 0;
        const struct book_batch b = begin(i + 1);
        struct hand h = { .lying = MG_G };
        double all = MG_G, is = worst(&b, &h.g, &h.ml);
        for (int k = 0; k < ROUNDS; k++) {
            const int plants = n_plant;
            one_round(&b, &h, &n_strained, &n_plant);
            all += 0.5 * MG_G * (n_plant - plants);
            double g, ml;
            is = worst(&b, &g, &ml);
            /* what the pieces took up is no liquid that is left, and what they gave is some: h.g is as if they did neither */
            const double least = h.lying / g + h.per_g * fmin(1.0, (h.g - 4.0) / g);
            if (!(is >= least * (1.0 - ROUNDING)))
                fail_msg("%d, %d: %.12g mg/g, at least %.12g", i, k, is, least);
            if (!(is <= all / g * (1.0 + ROUNDING)))
                fail_msg("%d, %d: %.12g mg/g, and all of it is %.12g", i, k, is, all / g);
            well_above += h.lying / g > 0.5 * least;
            h.g = g;
            h.ml = ml;
        }
    }
    if (n_strained < TRIED / 2 || n_plant < TRIED || well_above < TRIED)
        fail_msg("%d strained, %d plants, %d of what lies", n_strained, n_plant, well_above);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(what_lies_in_it_stays, set_up, kit_close),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
