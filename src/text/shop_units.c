#include "shop_units.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "built_sheet.h"
#include "model/line_goods.h"
#include "table.h"
#include "util/memory.h"

enum { FOR, WHERE, SHELF, HOW, PACK, SIZE, UNIT, SAID, SOLD, AS, SHARE, MARK, SOURCE, NOTE, NFIELD };
static const char *const COLUMN[NFIELD] = { "for",  "where", "shelf", "how",  "pack", "size",   "unit",
                                            "said", "sold",  "as",    "part", "mark", "source", "note" };
enum { MOST_ROWS = 400 };

struct whole {
    struct st_packs all; /* first, so that its address is that of the whole */
    char *text;
    struct st_pack row[MOST_ROWS];
};

/* Which of the words a field is; -1 and *problem none. */
static int word_of(const struct st_table *t, const char *field, const char *what, const char *const word[], int n,
                   const char *try_, struct st_problem *problem)
{
    for (int i = 0; i < n; i++)
        if (strcmp(field, word[i]) == 0)
            return i;
    st_table_problem(t, problem, try_, "no such %s: '%.40s'", what, field);
    return -1;
}

static int one_row(const struct st_table *t, const char *const f[NFIELD], struct st_pack *p, struct st_problem *problem)
{
    static const char *const HOW_WORD[] = { "pack", "loose", "piece", "none" }, *const WHERE_WORD[] = { "", "us" };
    static const char *const UNIT_WORD[] = { "g", "mL", "piece" }, *const SOLD_WORD[] = { "net", "gross" };
    static const char *const SHARE_WORD[] = { "", "part" };
    const int how = word_of(t, f[HOW], "way to sell", HOW_WORD, 4, "write pack, loose, piece or none", problem);
    const int us = word_of(t, f[WHERE], "place", WHERE_WORD, 2, "write us, or nothing", problem);
    const int unit = word_of(t, f[UNIT], "unit", UNIT_WORD, 3, "write g, mL or piece", problem);
    const int sold = word_of(t, f[SOLD], "weight", SOLD_WORD, 2, "write net or gross", problem);
    const int part = word_of(t, f[SHARE], "part", SHARE_WORD, 2, "write part, or nothing", problem);
    if (how < 0 || us < 0 || unit < 0 || sold < 0 || part < 0)
        return -1;
    *p = (struct st_pack){ .goods = f[FOR],
                           .us = us == 1,
                           .shelf = f[SHELF],
                           .how = (enum st_sold_as)how,
                           .word = f[PACK],
                           .dim = unit == 0   ? ST_DIM_MASS
                                  : unit == 1 ? ST_DIM_VOLUME
                                              : ST_DIM_PIECE,
                           .said = f[SAID],
                           .gross = sold == 1,
                           .as = f[AS],
                           .part = part == 1,
                           .source = f[SOURCE],
                           .note = f[NOTE] };
    if (!*f[FOR] || !*f[SHELF] || !*f[SAID] || (how == 0) != (*f[PACK] != '\0'))
        return st_table_problem(t, problem, "write for, shelf, said, and pack where it is one", "a field is empty");
    if (strcmp(f[MARK], "p") != 0 || strcmp(f[SOURCE], "common practice, no source") != 0)
        return st_table_problem(t, problem, "write p, and: common practice, no source",
                                "the row does not say whence it is");
    if (st_table_number(t, f[SIZE], "size", 0.1, 1e5, &p->size, problem))
        return -1;
    return 0;
}

static int read_all(struct whole *w, struct st_problem *problem)
{
    struct st_table t;
    const char *f[NFIELD];
    int got = -1;
    if (st_table_open(&t, "shop_units.tsv", w->text, COLUMN, NFIELD, problem))
        return -1;
    while ((got = st_table_next(&t, f, problem)) > 0) {
        if (w->all.n == MOST_ROWS)
            return st_table_problem(&t, problem, "leave some out", "it has more than %d rows", MOST_ROWS);
        if (one_row(&t, f, &w->row[w->all.n], problem))
            return -1;
        w->all.n++;
    }
    return got;
}

struct st_packs *st_packs_create(const char *text, size_t size, struct st_problem *problem)
{
    struct whole *w = x_calloc(1, sizeof *w);
    w->text = x_strndup(text, size);
    w->all.pack = w->row;
    if (read_all(w, problem) == 0)
        return &w->all;
    st_packs_free(&w->all);
    return NULL;
}

void st_packs_free(struct st_packs *all)
{
    struct whole *w = (struct whole *)all;
    if (!w)
        return;
    free(w->text);
    free(w);
}

struct st_packs *st_packs_built(struct st_problem *problem)
{
    const struct st_embedded *e = st_built_sheet("data/shop_units.tsv", problem);
    return e ? st_packs_create((const char *)e->bytes, e->size, problem) : NULL;
}

static int by_size(const void *p, const void *q)
{
    const struct st_pack *const *x = p, *const *y = q;
    return (*x)->size < (*y)->size ? -1 : (*x)->size > (*y)->size;
}

static int found(const struct st_packs *all, const char *goods, bool us, const struct st_pack *pack[], int max)
{
    int n = 0;
    for (int i = 0; i < all->n && n < max; i++)
        if (all->pack[i].us == us && st_in_list(all->pack[i].goods, ' ', goods))
            pack[n++] = &all->pack[i];
    return n;
}

int st_packs_of(const struct st_packs *all, const struct st_ingredient *in, bool us, const struct st_pack *pack[],
                int max)
{
    const char *const goods[] = { in->slug, st_kind_name(in->kind) };
    int n = 0;
    for (int i = 0; i < 2 && n == 0; i++) {
        n = us ? found(all, goods[i], true, pack, max) : 0;
        if (n == 0)
            n = found(all, goods[i], false, pack, max);
    }
    if (n > 0 && pack[0]->how == ST_SOLD_NONE)
        return 0;
    if (n > 1)
        qsort(pack, (size_t)n, sizeof *pack, by_size);
    return n;
}

/* What is bought for it, and used whole: "egg"; NULL nothing. */
static const char *bought_as(const struct st_packs *all, const char *slug)
{
    for (int i = 0; i < all->n; i++)
        if (*all->pack[i].as && !all->pack[i].part && st_in_list(all->pack[i].goods, ' ', slug))
            return all->pack[i].as;
    return NULL;
}

void st_packs_parts(const struct st_packs *all, const char *slug, char buf[ST_PACK_PARTS])
{
    const char *as = bought_as(all, slug);
    size_t n = 0;
    buf[0] = '\0';
    for (int i = 0; as && i < all->n; i++) {
        const struct st_pack *p = &all->pack[i];
        const size_t k = strlen(p->goods);
        if (!p->part || strcmp(p->as, as) != 0 || st_in_list(buf, ' ', p->goods) || n + k + 2 > ST_PACK_PARTS)
            continue;
        n += (size_t)snprintf(buf + n, ST_PACK_PARTS - n, "%s%s", n ? " " : "", p->goods);
    }
}
