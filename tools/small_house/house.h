#ifndef SMALL_HOUSE_H
#define SMALL_HOUSE_H

#include "api/book_batch_label.h"
#include "model/foresee.h"
#include "store/book.h"
#include "text/recipe_yaml.h"

/* An invented house, and two years of its jars: the demonstration book.  Everything drawn comes from a generator by counter,
 * so that the same program makes the same book; every figure of a drink is foreseen by the program itself, and a reading is
 * such a figure, as one making of many gives it, with the error of its instrument. */

enum { HOUSE_NRECIPE = 8, HOUSE_WORDS = 400 };

struct house {
    struct book *book;
    struct st_arena arena;
    long day;    /* it is now */
    char on[11]; /* the same: "2025-03-02" */
    int minute;  /* since 08:00 of the deed before */
    uint64_t drawn;
};

/* ---- house.c ---- */
_Noreturn void house_fail(const char *what, const char *why);
void house_good(struct house *h, enum book_status s);
long house_day(const char *iso);
const char *house_iso(struct house *h, long day); /* lent by the arena */
void house_new_day(struct house *h, long day);

double house_uniform(struct house *h, double low, double high);
double house_normal(struct house *h, double sd);
/* x to the nearest step */
double house_round(double x, double step);

__attribute__((format(printf, 2, 3))) const char *house_text(struct house *h, const char *format, ...);
/* A deed: its words, some minutes after the one before. */
__attribute__((format(printf, 2, 3))) void house_begin(struct house *h, const char *format, ...);
void house_end(struct house *h);
int64_t house_put(struct house *h, enum book_table t, const void *row);

/* A recipe file, read and foretold. */
struct house_read {
    struct st_catalogue *catalogue;
    struct st_recipe_file file;
    struct st_foretold out;
};
void house_read(const char *text, struct house_read *r);
void house_read_done(struct house_read *r);
/* One making of all that may be, the k-th: its figures, and its balance after each step of the recipe. */
enum { HOUSE_STEPS = 24 };
struct house_made {
    double y[ST_NFIG];
    struct st_balance balance[HOUSE_STEPS];
};
void house_make(const struct house_read *r, int k, struct house_made *made);

/* All figures to the table of what was foreseen. */
void house_keep_foreseen(struct house *h, int64_t try_id, int64_t batch_id, const struct st_foretold *f);

/* ---- label.c ---- */
/* What its label says in the house's place (the setting "place"), as `stillroom batch bottle` keeps it. */
#define HOUSE_PLACE "eu"
const char *house_label(struct house *h, const struct house_read *r, const struct st_batch_labelled *of);

/* ---- recipes.c ---- */
/* Keep what is kept on this day. */
void house_recipes(struct house *h);
struct house_try {
    int64_t id; /* 0: not kept yet */
    const char *name, *text;
};
/* The n-th try of a recipe in the order of its table, side lines among them. */
const struct house_try *house_try(int recipe, int n);

/* ---- larder.c ---- */
void house_shelf(struct house *h); /* vessels, stock made ahead, bought bottles: what there is on this day */
/* Take an amount (g; mL of liquids) for a batch: from a lot that is open, or one that is bought for it.  Returned: the lot;
 * BOOK_NO for water.  Outside a deed: buying is one; the use itself is written by house_use. */
struct house_use {
    int64_t lot[4];
    double amount[4];
    int n;
};
void house_get(struct house *h, const struct st_ingredient *what, double strength, double amount,
               struct house_use *use);
void house_use(struct house *h, const struct house_use *use, int64_t batch, int64_t weighing);
void house_leftovers(struct house *h); /* fresh things that were not used up are eaten */
/* A vessel that is free, of at least that volume; until: the day it is free again. */
int64_t house_vessel(struct house *h, double ml, long until);
int64_t house_spent(struct house *h, const char *name, const char *slug, double g, int64_t batch);
void house_take(struct house *h, int64_t lot, double amount, const char *why, int64_t batch, const char *note);

/* ---- batches.c ---- */
void house_batches(struct house *h); /* what is begun, ended, bottled and given on this day */

#endif
