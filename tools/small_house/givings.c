#include "givings.h"

#include <math.h>
#include <stdio.h>

/* First names are made up, and so is everybody who bears one here. */
static const char *const PERSON[] = { "Almuth", "Bertil",  "Cosima", "Dorrit", "Edgar",  "Fenja",
                                      "Gwil",   "Hanneke", "Ilario", "Jorun",  "Kester", "Lovisa" };
enum { NPERSON = sizeof PERSON / sizeof *PERSON, MOST = 400 };

static struct giving {
    int64_t bottling, gone; /* gone: 0 not yet */
    const char *code, *name, *person;
    long on, back_on, rung_on; /* 0: never */
    bool back, rung;
} giving[MOST];
static int n_giving;

void givings_plan(struct house *h, int64_t bottling, const char *code, const char *name, int count, bool ring)
{
    for (int i = 1; i < count && n_giving < MOST; i++) { /* one stays at home */
        if (house_uniform(h, 0.0, 1.0) > 0.9)
            continue;
        struct giving *g = &giving[n_giving++];
        *g = (struct giving){ .bottling = bottling, .code = code, .name = name };
        g->person = PERSON[(int)house_uniform(h, 0.0, NPERSON)];
        g->on = h->day + 8 + (long)house_uniform(h, 0.0, 220.0);
        if (house_uniform(h, 0.0, 1.0) < 0.35)
            g->back_on = g->on + 25 + (long)house_uniform(h, 0.0, 120.0);
        if (ring)
            g->rung_on = h->day + 230;
    }
}

static void give(struct house *h, struct giving *g)
{
    struct book_gone row;
    const double u = house_uniform(h, 0.0, 1.0);

    book_row_init(BOOK_GONE, &row);
    row.bottling_id = g->bottling;
    row.count = 1;
    row.on_day = h->on;
    row.person = g->person;
    row.liked = u < 0.5 ? 1 : u < 0.65 ? 0 : u < 0.72 ? -1 : BOOK_NO;
    row.note = "invented";
    house_begin(h, "a bottle of %s went to %s", g->code, g->person);
    g->gone = house_put(h, BOOK_GONE, &row);
    house_end(h);
}

static void come_back(struct house *h, struct giving *g)
{
    struct book_gone row;

    g->back = true;
    house_begin(h, "%s brought a bottle back (%s)", g->person, g->code);
    house_good(h, book_get(h->book, BOOK_GONE, g->gone, &h->arena, &row));
    row.returned = 1;
    row.returned_on = h->on;
    house_put(h, BOOK_GONE, &row);
    house_end(h);
}

static void ring_up(struct house *h, struct giving *g)
{
    struct book_gone row;

    g->rung = true;
    house_begin(h, "told %s about %s: the clove is far too strong", g->person, g->code);
    house_good(h, book_get(h->book, BOOK_GONE, g->gone, &h->arena, &row));
    row.told_on = h->on;
    house_put(h, BOOK_GONE, &row);
    house_end(h);
}

/* ---- spent fruit ---- */

enum { MOST_SPENT = 8 };
static struct spent {
    int64_t lot;
    double left;
    long since;
} spent[MOST_SPENT];
static int n_spent;

void givings_spent(int64_t lot, double g, long since)
{
    if (n_spent == MOST_SPENT)
        house_fail("spent fruit", "there is too much of it");
    spent[n_spent++] = (struct spent){ lot, g, since };
}

void givings_use_spent(struct house *h, int k, double g, int64_t batch)
{
    if (k >= n_spent || spent[k].left < g)
        house_fail("spent fruit", "there is not enough of it");
    house_take(h, spent[k].lot, g, "batch", batch, "once more");
    spent[k].left -= g;
}

/* A cake, when it has been in the ice box for some weeks. */
static void bake(struct house *h, struct spent *s)
{
    const double g = fmin(s->left, 130.0);
    house_begin(h, "a cake with %.0f g of spent fruit", g);
    house_take(h, s->lot, g, "given", BOOK_NO, "into a cake for grown-ups");
    house_end(h);
    s->left -= g;
}

void givings_day(struct house *h)
{
    for (int i = 0; i < n_giving; i++) {
        struct giving *g = &giving[i];
        if (g->gone == 0 && g->on == h->day)
            give(h, g);
        if (g->gone && !g->back && g->back_on == h->day)
            come_back(h, g);
        if (g->gone && !g->rung && g->rung_on == h->day)
            ring_up(h, g);
    }
    for (int i = 0; i < n_spent; i++)
        if (spent[i].left > 0.0 && h->day > spent[i].since && (h->day - spent[i].since) % 23 == 0)
            bake(h, &spent[i]);
}
