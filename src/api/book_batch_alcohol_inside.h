#ifndef ST_API_BOOK_BATCH_ALCOHOL_INSIDE_H
#define ST_API_BOOK_BATCH_ALCOHOL_INSIDE_H

#include "api/book_batch_alcohol.h"

/* For the files book_batch_alcohol*.c only: the entries of the account, and what they are reckoned from. */

/* What of the foretold keeping an entry already is, so that it is not counted twice. */
enum st_alcohol_kind { ST_ALC_PLAIN, ST_ALC_FRUIT /* spent fruit, now a lot */, ST_ALC_LEES /* lees, filter, air */ };

/* One cause of an entry's doubt, and by how many L (standard uncertainty) it is wrong because of it. */
struct st_alcohol_doubt {
    int cause; /* 0: none */
    double u;
};
enum { ST_ALCOHOL_DOUBTS = 3 };

struct st_alcohol_entry {
    bool is_lot;
    int64_t id;
    enum st_alcohol_way way;
    enum st_alcohol_kind kind;
    double litres;
    struct st_alcohol_doubt doubt[ST_ALCOHOL_DOUBTS];
    const char *day; /* "": nobody said */
    bool known;
    bool of_drink; /* of a batch: it went out of the finished drink, into bottles, lost or poured off */
    bool by_line;  /* no weighing tells of it: a line of the batch names the lot */
};

/* The drink of a batch: as foretold when it was last weighed, its last measurements in the place of that. */
struct st_alcohol_figures {
    double strength, strength_u, volume, volume_u; /* % vol, mL; NAN not known; volume: measured only */
    int cause;                                     /* of the strength's doubt */
    char read_on[11];                              /* the day of that volume; "" none */
};

/* What stands in a step, foretold. */
struct st_alcohol_stands {
    const char *step;
    double q, q_u, g_ml; /* % vol; density */
    bool of_drink;
};

/* A batch, foretold as it was weighed; read when it is first asked for. */
struct st_alcohol_told {
    bool tried, known;
    bool strengths; /* step[] was asked for: they take more time than the rest */
    struct st_alcohol_stands *step;
    int n_step;
    double fruit, fruit_u; /* L that drained fruit and peel keep, by their own weight where that was written */
    double lying;          /* L in pieces that lie in the drink still: spent fruit in a blend */
    double lees, lees_u;   /* L in film, filter, lees and air */
};

struct st_alcohol_batch {
    double took; /* L that it took from lots of which no weighing tells */
    bool has_figures;
    struct st_alcohol_figures figures;
    struct st_alcohol_told told;
};

/* What a lot is, as liquid; found when it is first asked for. */
struct st_alcohol_lot {
    bool has, strong; /* strong: it may hold alcohol */
    bool has_liquid;
    double q, q_u;         /* % vol; NAN not known */
    double share, share_u; /* of its weight that is liquor, and how uncertain that is of itself */
    double g_ml;           /* of that liquor; 0: of a spirit without sugar */
    int cause;             /* of the strength's doubt */
};

struct st_alcohol_recipe; /* a recipe's spirits: book_batch_alcohol_spirits.c */

struct st_alcohol_ledger {
    const struct st_batch_ask *a;
    const char *since, *until;
    struct st_alcohol_entry *e;
    int n, room;
    struct book_lot *lot;
    struct book_batch *batch;
    struct st_alcohol_batch *of;    /* [n_batch] */
    struct st_alcohol_lot *of_lot;  /* [n_lot] */
    struct st_batch_made *read;     /* the last recipe that was read; NULL */
    struct st_catalogue *read_with; /* waits for the next such recipe; the one of the ask is lent in between */
    int n_lot, n_batch;
    struct st_alcohol *out;
    int room_step, from, to;
    struct st_alcohol_recipe *recipe;
    int n_recipe, room_recipe;
    double *named; /* strengths of spirits of no lot, in the order of their causes */
    int n_named, room_named, n_own;
    struct st_catalogue *catalogue;
    st_book_tick *tick;
    void *arg;
};

/* ---- book_batch_alcohol_entries.c ---- */

/* Label 0.3 % vol at 19 in 20: common practice, no source. */
#define ST_ALCOHOL_LABEL_U (0.3 / 1.96)

void *st_alcohol_grow(const struct st_batch_ask *a, void *old, int n, int *room, size_t size);
void st_alcohol_enter(struct st_alcohol_ledger *k, struct st_alcohol_entry e);
/* So much of a liquid: litres of pure alcohol, and what they are uncertain by, its strength (doubt[0]) and its volume (doubt[1],
 * 1 % of it or, when that is more, ml_u). */
struct st_alcohol_liquid {
    double ml, ml_u, q, q_u;
    int of_q, of_ml; /* causes */
};
void st_alcohol_litres(const struct st_alcohol_liquid *x, struct st_alcohol_entry *e);
/* A step from a lot ("": none is told) into a batch; left out when it is not of the days asked for. */
void st_alcohol_step(struct st_alcohol_ledger *k, const char *lot, int64_t batch, const struct st_alcohol_entry *e);
int st_alcohol_batch_at(const struct st_alcohol_ledger *k, int64_t id); /* index; -1 */
int st_alcohol_lot_at(const struct st_alcohol_ledger *k, int64_t id);

/* ---- book_batch_alcohol_doubt.c: what is wrong together ---- */

enum st_alcohol_cause {
    ST_ALC_OF_ALL_STRENGTHS, /* foretold, of all batches */
    ST_ALC_OF_ALL_KEPT,
    ST_ALC_OF_LOT_STRENGTH, /* at: index of the lot */
    ST_ALC_OF_LOT_AMOUNT,
    ST_ALC_OF_LOT_TAKEN, /* what was measured out of it */
    ST_ALC_OF_LOT_SHARE, /* of liquor in spent fruit */
    ST_ALC_OF_STRENGTH,  /* read; at: index of the batch */
    ST_ALC_OF_WENT,      /* the measure of what went out of it */
    ST_ALC_OF_VOLUME     /* read */
};
int st_alcohol_cause(const struct st_alcohol_ledger *k, enum st_alcohol_cause of, int at);
int st_alcohol_cause_named(struct st_alcohol_ledger *k, double q); /* of a spirit of no lot */
int st_alcohol_cause_own(struct st_alcohol_ledger *k);             /* nothing else has it */

/* Doubts that are added up; zeros: none.  st_alcohol_doubts_done. */
struct st_alcohol_doubts {
    struct st_alcohol_doubt *d;
    int n, room;
};
void st_alcohol_doubts_add(struct st_alcohol_doubts *x, const struct st_alcohol_doubt *d, int n, double sign);
void st_alcohol_doubts_join(struct st_alcohol_doubts *x, const struct st_alcohol_doubts *y, double sign);
double st_alcohol_doubts_u(struct st_alcohol_doubts *x); /* standard uncertainty of the sum */
void st_alcohol_doubts_done(struct st_alcohol_doubts *x);

/* ---- which entries there are ---- */

enum book_status st_alcohol_lots(struct st_alcohol_ledger *k); /* book_batch_alcohol_lots.c */
enum book_status st_alcohol_uses(struct st_alcohol_ledger *k);
/* So much of lot[lot] into batch[at], of which a line of that batch tells and no weighing from that lot. */
enum book_status st_alcohol_by_line(struct st_alcohol_ledger *k, int lot, int at, const struct st_amount *x,
                                    const char *day);
enum book_status st_alcohol_spirits(struct st_alcohol_ledger *k, int at); /* book_batch_alcohol_spirits.c */
enum book_status st_alcohol_gone(struct st_alcohol_ledger *k, int at);    /* book_batch_alcohol_gone.c */

/* ---- book_batch_alcohol_told.c ---- */

/* Of batch[at]; lent until the ledger ends. */
enum book_status st_alcohol_figures(struct st_alcohol_ledger *k, int at, const struct st_alcohol_figures **f);
/* known false where its recipe cannot be foretold; strengths false: step[] may be empty. */
enum book_status st_alcohol_told(struct st_alcohol_ledger *k, int at, bool strengths, const struct st_alcohol_told **t);

/* ---- book_batch_alcohol_read.c: recipes read ---- */

/* A recipe, read as st_batch_made_of does, and a batch as really made, as st_batch_made does.  The last one that was read waits for
 * the next, which often is the same text.  *m is lent until the next call of either. */
struct st_batch_made *st_alcohol_read(struct st_alcohol_ledger *k, const char *text);
enum book_status st_alcohol_really(struct st_alcohol_ledger *k, int at, struct st_batch_made **m);
void st_alcohol_read_done(struct st_alcohol_ledger *k);

#endif
