#include "store/house.h"

#include <stdio.h>

#define BEGUN "2025-06-24"

/* The first failure stays; later calls are left out. */
struct filling {
    struct book *b;
    enum book_status s;
};

static void begin(struct filling *f, const char *at, const char *words)
{
    if (f->s == BOOK_OK)
        f->s = book_begin(f->b, at, words);
}

static void end(struct filling *f)
{
    if (f->s == BOOK_OK)
        f->s = book_end(f->b);
    book_cancel(f->b);
}

static int64_t put(struct filling *f, enum book_table t, const void *row)
{
    int64_t id = 0;
    if (f->s == BOOK_OK)
        f->s = book_put(f->b, t, row, &id);
    return id;
}

/* ---- the shelf ---- */

struct shelf {
    int64_t jar, walnuts, spirit, sugar, clove;
};

static int64_t lot(struct filling *f, const char *code, const char *name, const char *dim, double amount)
{
    struct book_lot row;
    book_row_init(BOOK_LOT, &row);
    row.code = code;
    row.kind = "bought";
    row.name = name;
    row.dim = dim;
    row.amount = amount;
    row.since = BEGUN;
    row.price = amount / 7.0;
    row.currency = "EUR";
    row.note = "invented";
    return put(f, BOOK_LOT, &row);
}

static int64_t spirit(struct filling *f)
{
    struct book_lot row;
    book_row_init(BOOK_LOT, &row);
    row.code = "L2";
    row.kind = "bought";
    row.name = "neutral spirit 96 %";
    row.dim = "mL";
    row.amount = 1000.0;
    row.strength_pct_vol = 96.0;
    row.strength_u = 0.1 + 0.2; /* no short decimal */
    row.opened_on = BEGUN;
    row.note = "invented";
    return put(f, BOOK_LOT, &row);
}

static struct shelf fill_shelf(struct filling *f)
{
    struct shelf s = { 0 };
    struct book_vessel jar;
    struct book_setting says;

    begin(f, BEGUN "T08:00", "said what this book is");
    book_row_init(BOOK_SETTING, &says);
    says.name = "demonstration";
    says.value = "invented for tests: no such house, no such jar";
    put(f, BOOK_SETTING, &says);
    end(f);
    begin(f, BEGUN "T08:10", "put away what was bought");
    book_row_init(BOOK_VESSEL, &jar);
    jar.name = "the 3 L jar, k\xc3\xa4lter Keller";
    jar.volume_ml = 3000.0;
    jar.empty_g = 812.0 + 1.0 / 3.0;
    s.jar = put(f, BOOK_VESSEL, &jar);
    s.walnuts = lot(f, "L1", "green walnuts", "g", 812.5);
    s.spirit = spirit(f);
    s.sugar = lot(f, "L3", "sugar", "g", 1000.0);
    s.clove = lot(f, "L4", "cloves", "pieces", 40.0);
    end(f);
    return s;
}

/* ---- the recipe ---- */

static const char TEXT[] = "name: Invented walnut\n"
                           "ingredients:\n"
                           "  walnuts: { item: green walnuts, amount: 500 g }\n"
                           "  spirit: { item: spirit, amount: 700 mL, strength: 96 %% }\n"
                           "# sugar to taste, \xc3\xa0 la maison\n"
                           "  sugar: { item: sugar, amount: %d g }\n";

static int64_t a_try(struct filling *f, int64_t recipe, const char *side, int number, int64_t from, int sugar_g)
{
    struct book_try row;
    char text[400];

    snprintf(text, sizeof text, TEXT, sugar_g);
    book_row_init(BOOK_TRY, &row);
    row.recipe_id = recipe;
    row.side = side;
    row.number = number;
    row.from_try = from;
    row.on_day = BEGUN;
    row.text = text;
    row.said = number == 1 ? "half a kilo of green walnuts, spirit to cover, sugar" : "";
    return put(f, BOOK_TRY, &row);
}

static int64_t fill_recipe(struct filling *f)
{
    struct book_recipe recipe;

    begin(f, BEGUN "T09:00", "kept the recipe Invented walnut");
    book_row_init(BOOK_RECIPE, &recipe);
    recipe.name = "Invented walnut";
    recipe.since = BEGUN;
    const int64_t id = put(f, BOOK_RECIPE, &recipe);
    const int64_t first = a_try(f, id, "", 1, BOOK_NO, 300);
    end(f);
    begin(f, "2025-06-25T09:00", "Invented walnut, the second try");
    const int64_t second = a_try(f, id, "", 2, first, 260);
    end(f);
    begin(f, "2025-06-25T09:30", "Invented walnut, a less sweet one");
    a_try(f, id, "less sweet one", 1, second, 180);
    end(f);
    return second;
}

/* ---- the batch ---- */

static int64_t fill_batch(struct filling *f, int64_t try_id, int64_t vessel)
{
    struct book_batch batch;
    struct book_jar jar;
    char text[400];

    snprintf(text, sizeof text, TEXT, 260);
    begin(f, "2025-06-26T18:30", "began B1, Invented walnut");
    book_row_init(BOOK_BATCH, &batch);
    batch.code = "B1";
    batch.name = "Invented walnut";
    batch.try_id = try_id;
    batch.text = text;
    batch.begun_on = "2025-06-26";
    const int64_t id = put(f, BOOK_BATCH, &batch);
    book_row_init(BOOK_JAR, &jar);
    jar.batch_id = id;
    jar.step = "steep";
    jar.doing = "steeping";
    jar.vessel_id = vessel;
    jar.place = "window sill";
    jar.begun_on = "2025-06-26";
    jar.due_on = "2025-08-05";
    put(f, BOOK_JAR, &jar);
    end(f);
    return id;
}

static void fill_weighing(struct filling *f, int64_t batch, int64_t walnuts)
{
    struct book_weighing w;
    struct book_lot_use use;

    begin(f, "2025-06-26T18:40", "B1: weighed 512 g walnuts");
    book_row_init(BOOK_WEIGHING, &w);
    w.batch_id = batch;
    w.step = "steep";
    w.line = 1;
    w.words = "512 g";
    w.lot_id = walnuts;
    w.on_day = "2025-06-26";
    const int64_t id = put(f, BOOK_WEIGHING, &w);
    book_row_init(BOOK_LOT_USE, &use);
    use.lot_id = walnuts;
    use.batch_id = batch;
    use.weighing_id = id;
    use.amount = 512.0;
    use.on_day = "2025-06-26";
    use.why = "batch";
    put(f, BOOK_LOT_USE, &use);
    end(f);
}

static void reading(struct filling *f, int64_t batch, const char *kind, double value, const char *at, double t)
{
    struct book_reading r;
    book_row_init(BOOK_READING, &r);
    r.batch_id = batch;
    r.step = "steep";
    r.kind = kind;
    r.value = value;
    r.at = at;
    r.temperature_c = t;
    r.words = "read by the window, 21 \xc2\xb0"
              "C";
    put(f, BOOK_READING, &r);
}

static void fill_readings(struct filling *f, int64_t batch)
{
    struct book_loss loss;
    struct book_foreseen seen;

    begin(f, "2025-08-05T11:00", "B1: strained and read");
    reading(f, batch, "sg", 1.0 / 0.97, "2025-08-05T11:00", 21.5);
    reading(f, batch, "brix", 33.3, "2025-08-05T11:05", (double)NAN);
    reading(f, batch, "drained_g", 611.0, "2025-08-05", (double)NAN);
    book_row_init(BOOK_LOSS, &loss);
    loss.batch_id = batch;
    loss.on_day = "2025-08-05";
    loss.why = "lees";
    loss.volume_ml = 35.0;
    put(f, BOOK_LOSS, &loss);
    book_row_init(BOOK_FORESEEN, &seen);
    seen.batch_id = batch;
    seen.key = "strength_pct_vol";
    seen.value = 31.0 + 1.0 / 7.0;
    seen.low = 29.5;
    seen.high = 33.0;
    seen.program = "tests";
    put(f, BOOK_FORESEEN, &seen);
    end(f);
}

static void fill_bottles(struct filling *f, int64_t batch)
{
    struct book_bottling bottling;
    struct book_gone gone;

    begin(f, "2025-09-01T16:00", "B1: filled 3 bottles");
    book_row_init(BOOK_BOTTLING, &bottling);
    bottling.batch_id = batch;
    bottling.code = "B1-1";
    bottling.on_day = "2025-09-01";
    bottling.size_ml = 500.0;
    bottling.count = 3;
    bottling.strength_pct_vol = 31.2;
    bottling.facts = "{\"name\": \"Invented walnut\"}";
    const int64_t id = put(f, BOOK_BOTTLING, &bottling);
    end(f);
    begin(f, "2025-12-24T20:00", "a bottle of B1 went to an aunt who is invented");
    book_row_init(BOOK_GONE, &gone);
    gone.bottling_id = id;
    gone.count = 1;
    gone.on_day = "2025-12-24";
    gone.person = "Aunt Example";
    gone.liked = 1;
    put(f, BOOK_GONE, &gone);
    end(f);
}

enum book_status house_fill(struct book *b)
{
    struct filling f = { b, BOOK_OK };
    struct st_arena arena = { 0 };
    struct book_deed undone;

    const struct shelf s = fill_shelf(&f);
    const int64_t try_id = fill_recipe(&f);
    const int64_t batch = fill_batch(&f, try_id, s.jar);
    fill_weighing(&f, batch, s.walnuts);
    fill_readings(&f, batch);
    fill_bottles(&f, batch);
    begin(&f, "2025-12-25T10:00", "put away what was not there");
    lot(&f, "L5", "vanilla, which was not there", "pieces", 2.0);
    end(&f);
    if (f.s == BOOK_OK)
        f.s = book_undo(b, "2025-12-25T10:01", BOOK_NO, &arena, &undone);
    st_arena_done(&arena);
    return f.s;
}
