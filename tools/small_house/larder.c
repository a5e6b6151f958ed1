#include "house.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What the house owns: bought when it is needed, used up or eaten.  Shops and prices are made up. */

struct goods {
    const char *slug, *shop;
    double pack;  /* g, or mL of liquids: as it is sold; 0: by weight, in steps of 50 g */
    double price; /* of a pack, EUR; by weight: of 1 kg */
    bool fresh;   /* what is not used within days is eaten */
};

static const struct goods GOODS[] = {
    { "damson", "the tree by the gate", 0.0, 0.0, true },
    { "lemon_peel_fresh", "the market, peeled at home", 0.0, 30.0, true },
    { "orange_peel_fresh", "the market, peeled at home", 0.0, 28.0, true },
    { "quince", "the tree behind the shed", 0.0, 0.0, true },
    { "raspberry", "a neighbour's canes", 0.0, 9.0, true },
    { "blackcurrant", "the bushes by the wall", 0.0, 0.0, true },
    { "lemon_juice", "the market", 50.0, 0.5, true },
    { "sugar_white", "the village shop", 1000.0, 1.5, false },
    { "honey", "a neighbour's hives", 500.0, 7.5, false },
    { "apricot_dried", "the village shop", 500.0, 6.9, false },
    { "coffee_bean_roasted", "the roaster in town", 250.0, 7.2, false },
    { "vanilla_pod", "the spice stall", 6.0, 4.8, false },
    { "bentonite", "by post", 250.0, 6.5, false },
    { "", "the spice stall", 50.0, 3.4, false }, /* the rest: spices, roots, dried peel */
};
static const struct goods SPIRIT = { "vodka", "the wine merchant", 700.0, 14.5, false };

static const struct goods *goods_of(const struct st_ingredient *what)
{
    size_t i = 0;
    if (what->kind == ST_KIND_SPIRIT)
        return &SPIRIT;
    while (*GOODS[i].slug && strcmp(GOODS[i].slug, what->slug) != 0)
        i++;
    return &GOODS[i];
}

/* ---- lots ---- */

struct shelf_lot {
    int64_t id;
    char slug[60];
    double strength, left;
    bool fresh, ended;
};
enum { MOST_LOTS = 400 };
static struct shelf_lot shelf[MOST_LOTS];
static int n_shelf;

static bool is_liquid(const struct st_ingredient *what)
{
    return !st_kind_is_solid(what->kind) && what->kind != ST_KIND_SUGAR && what->kind != ST_KIND_POWDER &&
           what->kind != ST_KIND_ACID && what->kind != ST_KIND_OTHER && what->kind != ST_KIND_SYRUP;
}

static const char *next_code(struct house *h)
{
    return house_text(h, "L%d", n_shelf + 1);
}

static struct shelf_lot *shelve(int64_t id, const char *slug, double strength, double amount, bool fresh)
{
    if (n_shelf == MOST_LOTS)
        house_fail("the shelf", "it is full");
    struct shelf_lot *l = &shelf[n_shelf++];
    *l = (struct shelf_lot){ .id = id, .strength = strength, .left = amount, .fresh = fresh };
    snprintf(l->slug, sizeof l->slug, "%s", slug);
    return l;
}

static double price_of(struct house *h, const struct goods *g, double amount, double strength)
{
    /* a little dearer each year, and from week to week */
    const double years = (double)(h->day - house_day("2024-06-01")) / 365.25;
    double x = g->price * (g->pack > 0.0 ? amount / g->pack : amount / 1000.0) * pow(1.03, years);
    if (strength > 0.0)
        x *= 0.4 + strength / 70.0; /* taxed by its alcohol */
    return house_round(x * house_uniform(h, 0.94, 1.06), 0.05);
}

static struct shelf_lot *buy(struct house *h, const struct st_ingredient *what, double strength, double wanted)
{
    const struct goods *g = goods_of(what);
    const double pack = what->kind == ST_KIND_SPIRIT && strength > 80.0 ? 500.0 : g->pack;
    const double amount = pack > 0.0 ? pack * ceil(wanted / pack) : 50.0 * ceil(wanted / 50.0);
    const char *dim = is_liquid(what) ? "mL" : "g";
    struct book_lot row;

    book_row_init(BOOK_LOT, &row);
    row.code = next_code(h);
    row.kind = "bought";
    row.name = st_arena_strdup(&h->arena, what->name);
    row.slug = st_arena_strdup(&h->arena, what->slug);
    row.dim = dim;
    row.amount = amount;
    row.words = strength > 0.0 ? house_text(h, "%.0f mL %s %g %%", amount, what->name, strength)
                               : house_text(h, "%.0f %s %s", amount, dim, what->name);
    if (strength > 0.0)
        row.strength_pct_vol = strength;
    row.since = st_arena_strdup(&h->arena, h->on);
    row.bought_at = g->shop;
    row.price = price_of(h, g, amount, strength);
    row.currency = "EUR";
    row.place = g->fresh ? "kitchen" : strength > 0.0 ? "cellar" : "pantry";
    if (strength > 0.0)
        row.opened_on = row.since;
    row.note = "invented";
    house_begin(h, "added %s (%s)", row.words, row.code);
    struct shelf_lot *l = shelve(house_put(h, BOOK_LOT, &row), what->slug, strength, amount, g->fresh);
    house_end(h);
    return l;
}

void house_get(struct house *h, const struct st_ingredient *what, double strength, double amount, struct house_use *use)
{
    *use = (struct house_use){ .n = 0 };
    if (what->kind == ST_KIND_WATER)
        return;
    for (int i = 0; i < n_shelf && amount > 0.0 && use->n < 3; i++) {
        struct shelf_lot *l = &shelf[i];
        if (l->ended || l->left <= 0.0 || strcmp(l->slug, what->slug) != 0 || fabs(l->strength - strength) > 0.01)
            continue;
        use->lot[use->n] = l->id;
        use->amount[use->n++] = fmin(l->left, amount);
        amount -= fmin(l->left, amount);
    }
    if (amount > 0.0) {
        use->lot[use->n] = buy(h, what, strength, amount)->id;
        use->amount[use->n++] = amount;
    }
}

static struct shelf_lot *lot_of(int64_t id)
{
    for (int i = 0; i < n_shelf; i++)
        if (shelf[i].id == id)
            return &shelf[i];
    house_fail("a lot", "it is not on the shelf");
}

/* The day on which a lot ends is written with the last use of it. */
static void end_lot(struct house *h, struct shelf_lot *l)
{
    struct book_lot row;
    house_good(h, book_get(h->book, BOOK_LOT, l->id, &h->arena, &row));
    row.ended_on = st_arena_strdup(&h->arena, h->on);
    house_put(h, BOOK_LOT, &row);
    l->ended = true;
}

static void use_lot(struct house *h, int64_t lot, double amount, const char *why, int64_t batch, int64_t weighing,
                    const char *note)
{
    struct shelf_lot *l = lot_of(lot);
    struct book_lot_use row;

    book_row_init(BOOK_LOT_USE, &row);
    row.lot_id = lot;
    row.amount = house_round(amount, 0.1);
    row.on_day = h->on;
    row.why = why;
    row.batch_id = batch;
    row.weighing_id = weighing;
    row.note = note;
    house_put(h, BOOK_LOT_USE, &row);
    l->left = house_round(l->left - row.amount, 0.1);
    if (l->left < 0.5)
        end_lot(h, l);
}

void house_use(struct house *h, const struct house_use *use, int64_t batch, int64_t weighing)
{
    for (int i = 0; i < use->n; i++)
        use_lot(h, use->lot[i], use->amount[i], "batch", batch, weighing, "");
}

void house_take(struct house *h, int64_t lot, double amount, const char *why, int64_t batch, const char *note)
{
    use_lot(h, lot, amount, why, batch, BOOK_NO, note);
}

void house_leftovers(struct house *h)
{
    for (int i = 0; i < n_shelf; i++) {
        struct shelf_lot *l = &shelf[i];
        if (!l->fresh || l->ended || l->left <= 0.0)
            continue;
        house_begin(h, "what was left of L%d went into a cake", i + 1);
        use_lot(h, l->id, l->left, "tasted", BOOK_NO, BOOK_NO, "into a cake");
        house_end(h);
    }
}

int64_t house_spent(struct house *h, const char *name, const char *slug, double g, int64_t batch)
{
    struct book_lot row;

    book_row_init(BOOK_LOT, &row);
    row.code = next_code(h);
    row.kind = "spent";
    row.name = name;
    row.slug = slug;
    row.dim = "g";
    row.amount = g;
    row.words = house_text(h, "%.0f g %s", g, name);
    row.since = h->on;
    row.place = "ice box";
    row.from_batch = batch;
    row.use_by = house_iso(h, h->day + 60);
    row.note = "invented; drained, it keeps some of the liquor";
    house_begin(h, "kept %s (%s)", row.words, row.code);
    const int64_t id = shelve(house_put(h, BOOK_LOT, &row), "spent", 0.0, g, false)->id;
    house_end(h);
    return id;
}

/* ---- made ahead ---- */

struct stock {
    const char *on, *name, *place;
    double ml, strength, sugar, potency;
    int keeps_days;
};
static const struct stock STOCK[] = {
    { "2024-11-30", "orange tincture", "spice shelf", 250.0, 55.0, 0.0, (double)NAN, 0 },
    { "2025-12-06", "orange tincture", "spice shelf", 250.0, 55.0, 0.0, 0.85, 0 },
    { "2025-03-08", "clove tincture", "spice shelf", 100.0, 60.0, 0.0, (double)NAN, 0 },
    { "2025-07-02", "plain syrup, one to one", "ice box", 500.0, 0.0, 620.0, (double)NAN, 28 },
    { "2026-05-16", "plain syrup, one to one", "ice box", 500.0, 0.0, 620.0, (double)NAN, 28 },
};

static void make_stock(struct house *h, const struct stock *s)
{
    struct book_lot row;

    book_row_init(BOOK_LOT, &row);
    row.code = next_code(h);
    row.kind = "made";
    row.name = s->name;
    row.dim = "mL";
    row.amount = s->ml;
    row.words = s->strength > 0.0 ? house_text(h, "%.0f mL %s %g %%", s->ml, s->name, s->strength)
                                  : house_text(h, "%.0f mL %s", s->ml, s->name);
    if (s->strength > 0.0)
        row.strength_pct_vol = s->strength;
    if (s->sugar > 0.0)
        row.sugar_g_l = s->sugar;
    row.potency = s->potency;
    row.since = h->on;
    row.place = s->place;
    if (s->keeps_days)
        row.use_by = house_iso(h, h->day + s->keeps_days);
    row.note = "invented";
    house_begin(h, "made %s (%s)", row.words, row.code);
    shelve(house_put(h, BOOK_LOT, &row), s->name, s->strength, s->ml, false);
    house_end(h);
}

/* Now and then some of it goes into a glass. */
static void pour_stock(struct house *h)
{
    for (int i = 0; i < n_shelf; i++) {
        struct shelf_lot *l = &shelf[i];
        const bool made = strchr(l->slug, ' ') != NULL;
        if (!made || l->ended || l->left < 20.0 || house_uniform(h, 0.0, 1.0) > 0.02)
            continue;
        const double ml = house_round(house_uniform(h, 4.0, 20.0), 1.0);
        house_begin(h, "poured %.0f mL of L%d", ml, i + 1);
        use_lot(h, l->id, ml, "poured", BOOK_NO, BOOK_NO, "in mixed drinks");
        house_end(h);
    }
}

/* ---- vessels ---- */

static struct vessel {
    const char *name;
    double ml, empty_g;
    int64_t id;
    long free_on;
} VESSEL[] = {
    { "250 mL jar", 250.0, 182.0, 0, 0 },
    { "500 mL jar", 500.0, 318.0, 0, 0 },
    { "500 mL jar with a cork", 500.0, 341.0, 0, 0 },
    { "1 L jar", 1000.0, 540.0, 0, 0 },
    { "1 L jar, blue lid", 1000.0, 548.0, 0, 0 },
    { "2 L jar", 2000.0, 871.0, 0, 0 },
    { "2 L jar, red ring", 2000.0, 866.0, 0, 0 },
    { "2 qt jar", 1893.0, 850.0, 0, 0 },
    { "3 L jar", 3000.0, 1195.0, 0, 0 },
    { "3 L jar, wide", 3000.0, 1250.0, 0, 0 },
    { "3 L jar, chipped foot", 3000.0, 1190.0, 0, 0 },
    { "5 L demijohn", 5000.0, 1820.0, 0, 0 },
    { "5 L demijohn, green", 5000.0, 1875.0, 0, 0 },
};
enum { NVESSEL = sizeof VESSEL / sizeof *VESSEL };

static void add_vessels(struct house *h)
{
    house_begin(h, "looked at what stands on the shelf: %d vessels", (int)NVESSEL);
    for (int i = 0; i < NVESSEL; i++) {
        struct book_vessel row;
        book_row_init(BOOK_VESSEL, &row);
        row.name = VESSEL[i].name;
        row.volume_ml = VESSEL[i].ml;
        row.empty_g = VESSEL[i].empty_g;
        row.note = "invented";
        VESSEL[i].id = house_put(h, BOOK_VESSEL, &row);
    }
    house_end(h);
}

int64_t house_vessel(struct house *h, double ml, long until)
{
    for (int i = 0; i < NVESSEL; i++)
        if (VESSEL[i].ml >= ml && VESSEL[i].free_on <= h->day) {
            VESSEL[i].free_on = until;
            return VESSEL[i].id;
        }
    return BOOK_NO;
}

/* ---- bought bottles to compare with ---- */

static void add_reading(struct house *h, int64_t reference, const char *kind, double value, const char *words)
{
    struct book_reading r;
    book_row_init(BOOK_READING, &r);
    r.reference_id = reference;
    r.kind = kind;
    r.value = value;
    r.at = h->on;
    r.words = words;
    house_put(h, BOOK_READING, &r);
}

static void add_references(struct house *h)
{
    struct book_reference row;

    house_begin(h, "a bought lemon liqueur, to compare with");
    book_row_init(BOOK_REFERENCE, &row);
    row.name = "the lemon liqueur of the shop (invented)";
    row.strength_pct_vol = 30.0;
    row.volume_ml = 500.0;
    row.price = 15.9;
    row.currency = "EUR";
    row.since = h->on;
    row.note = "invented: no such bottle is sold";
    const int64_t lemon = house_put(h, BOOK_REFERENCE, &row);
    add_reading(h, lemon, "brix", 34.6, "brix=34.6");
    add_reading(h, lemon, "sg", 1.068, "sg=1.068");
    house_end(h);
    house_begin(h, "a bought bitter, by tongue");
    row.name = "the bitter of the inn (invented)";
    row.strength_pct_vol = 28.0;
    row.volume_ml = 700.0;
    row.price = 18.5;
    const int64_t bitter = house_put(h, BOOK_REFERENCE, &row);
    add_reading(h, bitter, "sweeter_than", 100.0, "sweeter than a sample of 100 g/L");
    add_reading(h, bitter, "less_sweet_than", 180.0, "less sweet than one of 180 g/L");
    house_end(h);
}

void house_shelf(struct house *h)
{
    if (strcmp(h->on, "2024-06-08") == 0)
        add_vessels(h);
    if (strcmp(h->on, "2025-01-11") == 0)
        add_references(h);
    for (size_t i = 0; i < sizeof STOCK / sizeof *STOCK; i++)
        if (strcmp(STOCK[i].on, h->on) == 0)
            make_stock(h, &STOCK[i]);
    pour_stock(h);
}
