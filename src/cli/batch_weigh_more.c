/* A line that the recipe has not, and the lot that it is of. */
#include "cli/batch_weigh.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "api/book_batch_behind.h"
#include "api/book_batch_bottles.h"
#include "api/book_batch_instead.h"
#include "api/book_batch_pour.h"
#include "api/book_larder.h"
#include "api/book_lot_called.h"
#include "api/book_lot_cautions.h"
#include "api/book_lot_cross.h"
#include "api/book_lot_own.h"
#include "api/book_lot_tincture.h"
#include "text/goods_line.h"
#include "text/line.h"
#include "text/quantity.h"
#include "text/stops.h"
#include "util/memory.h"

/* A spirit from a lot is as strong as the lot says, where its words do not. */
static bool with_strength(struct batch *b, struct batch_weighing *k, enum st_measures m)
{
    struct st_problem p;
    struct st_line line = { .text = NULL };
    double q = (double)NAN;
    if (!k->has_lot || st_batch_lot_strength(&b->ask, &k->lot, &q) != BOOK_OK || !(q > 0.0))
        return false;
    const bool read = st_line_parse(k->row.words, m, k->planned.catalogue, &line, &p) == 0;
    if (read && line.strength.known)
        return false;
    const char *words = batch_text(b, "%s %.4g %%", k->row.words, q);
    if (st_line_parse(words, m, k->planned.catalogue, &line, &p) != 0 || !line.what ||
        line.what->kind != ST_KIND_SPIRIT)
        return false;
    k->row.words = words;
    k->added = line;
    return true;
}

static bool has_figures(struct batch *b, struct batch_weighing *k)
{
    struct st_batch_own own;
    return k->has_lot && (st_lot_is_tincture(&b->ask, k->planned.catalogue, &k->lot) ||
                          (st_lot_own(&b->ask, k->planned.catalogue, &k->lot, false, &own) == BOOK_OK && own.known));
}

/* Its own measure, or one that can be crossed into it. */
static bool crosses(struct batch *b, struct batch_weighing *k, const struct st_amount *x)
{
    double q, y;
    return strcmp(st_lot_dim(x->dim), k->lot.dim) == 0 || x->dim == ST_DIM_VOLUME ||
           (x->dim == ST_DIM_MASS && k->lot.from_batch == BOOK_NO &&
            st_batch_lot_strength(&b->ask, &k->lot, &q) == BOOK_OK &&
            st_lot_cross(k->planned.catalogue, &k->lot, q, NULL, x, &y));
}

/* "63 mL hazelnut tincture" of a lot that is reckoned by its own figures: its amount counts, and the lot tells what it is. */
static bool is_of_lot(struct batch *b, struct batch_weighing *k, enum st_measures m)
{
    struct st_amount x;
    struct st_problem why;
    size_t used;
    bool bare;
    const bool own = k->has_lot && (strcmp(k->lot.kind, "made") == 0 && k->lot.from_batch != BOOK_NO);
    if (!own && !has_figures(b, k))
        return false;
    if (st_quantity_parse(k->row.words, strlen(k->row.words), m, &x, &used, &why) != 0 || x.open != ST_CLOSED ||
        (x.dim != ST_DIM_VOLUME && x.dim != ST_DIM_MASS) || !crosses(b, k, &x) ||
        !st_lot_said(&k->lot, k->row.words + used, &bare))
        return false;
    if (bare && !own && *k->lot.name)
        k->row.words = batch_text(b, "%.*s %s", (int)used, k->row.words, k->lot.name);
    return true;
}

/* "20 mL", "20 mL of L3" or its own name, of a lot that is a thing of the sheet: the sheet's name in its place. */
static void say_as_sheet(struct batch *b, struct batch_weighing *k, enum st_measures m)
{
    struct st_amount x;
    struct st_problem why;
    size_t used;
    bool bare;
    const struct st_ingredient *in =
        k->has_lot && k->lot.from_batch == BOOK_NO ? st_lot_ingredient(k->planned.catalogue, &k->lot) : NULL;
    if (!in || st_quantity_parse(k->row.words, strlen(k->row.words), m, &x, &used, &why) != 0 || x.open != ST_CLOSED ||
        !st_lot_said(&k->lot, k->row.words + used, &bare))
        return;
    const char *rest = k->row.words + used + strspn(k->row.words + used, " ");
    const bool known = *rest && st_line_parse(k->row.words, m, k->planned.catalogue, &k->added, &why) == 0;
    k->added = (struct st_line){ .text = NULL };
    if (known)
        return;
    const struct st_ingredient *by = st_catalogue_find(k->planned.catalogue, k->lot.name, strlen(k->lot.name));
    k->row.words = batch_text(b, "%.*s %s", (int)used, k->row.words, by == in ? k->lot.name : in->name);
}

/* Without --lot: a name that the sheet does not know, and exactly one lot bears. */
static int find_lot(struct batch *b, struct batch_weighing *k, enum st_measures m)
{
    struct st_line line;
    struct st_problem p = { .what = "" };
    struct book_lot lot;
    const char *codes;
    int n;
    if (k->has_lot || st_line_parse(k->row.words, m, k->planned.catalogue, &line, &p) == 0 ||
        strncmp(p.what, "unknown ingredient", 18) != 0)
        return ST_EXIT_DONE;
    const enum book_status s = st_lot_called(&b->ask, k->row.words, &lot, &n, &codes);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    if (n == 0)
        return ST_EXIT_DONE;
    if (n > 1) {
        cli_error(k->row.words, batch_text(b, "%d lots bear that name: %s%s", n, codes, n > 4 ? " and more" : ""),
                  "say which, with --lot and its code");
        return ST_EXIT_INPUT;
    }
    k->lot = lot;
    k->has_lot = k->lot_found = true;
    k->row.lot_id = lot.id;
    if (!batch_weigh_lot_existed(b, &k->lot, k->day))
        return ST_EXIT_INPUT;
    return st_lot_stopped(k->planned.catalogue, &k->lot, &p) ? batch_wrong(&p) : ST_EXIT_DONE;
}

/* STEP "50 g sugar". */
int batch_weigh_more(struct batch *b, struct batch_weighing *k)
{
    const struct st_recipe *r = &k->planned.file.recipe;
    struct st_problem p = { .what = "" };
    if (b->c->argc != 2) {
        cli_error(k->batch.code, "what was added is a step and a line",
                  "write for example: stillroom batch add B14 drink \"50 g sugar\"");
        return ST_EXIT_INPUT;
    }
    const int step = st_batch_step(r, batch_word(b, "", ""), &p);
    if (step < 0)
        return batch_wrong(&p);
    k->row.step = r->step[step].id;
    k->row.line = 0;
    k->row.words = batch_word(b, "", "");
    struct book_bottling of;
    int64_t count;
    if (!k->has_lot && st_batch_bottles_said(&b->ask, k->row.words, &k->bottles, &of, &count) == BOOK_OK && k->bottles)
        return ST_EXIT_DONE;
    if (!k->has_lot && batch_is_poured(b, k->row.words, &k->from, &k->poured))
        return ST_EXIT_DONE;
    if (k->has_lot && st_amount_asks(k->row.words, r->measures, &p))
        return batch_wrong(&p);
    batch_weigh_plain(b, k, r->measures);
    const int found = find_lot(b, k, r->measures);
    if (found != ST_EXIT_DONE)
        return found;
    const bool of_lot = is_of_lot(b, k, r->measures);
    if (!of_lot)
        say_as_sheet(b, k, r->measures);
    if (st_stop_in_text(k->planned.catalogue, k->row.words, strlen(k->row.words), &p) ||
        (!of_lot && !with_strength(b, k, r->measures) &&
         st_line_parse(k->row.words, r->measures, k->planned.catalogue, &k->added, &p) != 0)) {
        p.at.line = 0;
        if (strncmp(p.what, "unknown ingredient", 18) == 0)
            (void)snprintf(p.why, sizeof p.why,
                           "the ingredient sheet does not know it, and what it may hold was not assessed");
        return batch_wrong(&p);
    }
    k->name = k->row.words;
    return ST_EXIT_DONE;
}
