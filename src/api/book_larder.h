#ifndef ST_API_BOOK_LARDER_H
#define ST_API_BOOK_LARDER_H

#include "api/book_desk.h"
#include "model/foresee.h"
#include "model/observation.h"
#include "text/goods_line.h"

/* The larder: what the maker owns, by lots, with what was taken from each. */

/* A lot, and what follows from its uses. */
struct st_lot {
    struct book_lot row;
    double left; /* in row.dim: the amount less all uses */
    long age, opened,
        use_by; /* days since it was bought or made, since it was opened, until its use-by; LONG_MIN: not known */
    bool over;  /* used up: nothing is left, or the maker said so */
    const struct book_lot_use *use;
    int n_use;              /* oldest first */
    const char **use_batch; /* code of the batch of each use, or NULL; NULL when st_larder_read gave it */
    const char *from_batch; /* code of the batch it comes from, or NULL */
    const struct book_reading *reading;
    int n_reading; /* own measurements; only st_larder_lot finds them */
};

/* What was filled into bottles, and how many are still there. */
struct st_stock {
    struct book_bottling row;
    const char *name, *batch; /* of the batch: its name and code */
    int64_t left;             /* bottles */
    long age;
};

struct st_larder {
    struct st_lot *lot; /* what is near its end first */
    int n_lot, n_over;  /* n_over of them, the last, are used up */
    struct book_vessel *vessel;
    const char **stands_in; /* stands_in[i]: code of the batch that vessel holds, or NULL */
    int n_vessel;
    struct st_stock *stock; /* the oldest first, their labels (row.facts) not read */
    int n_stock; /* those with bottles left */
};

/* All there is; over: with what is used up. */
bool st_larder_read(struct st_desk *d, bool over, struct st_larder *out);
/* The lots alone. */
bool st_larder_lots(struct st_desk *d, bool over, struct st_larder *out);

/* The lot of this code ("L7", letter case aside; "7" will do), with uses and own measurements. */
bool st_larder_lot(struct st_desk *d, const char *code, struct st_lot *out);

/* What a lot is on the ingredient sheet; of "6 lemons", where nobody says which part is meant, the whole fruit.  NULL: it
 * is not there. */
const struct st_ingredient *st_lot_ingredient(const struct st_catalogue *c, const struct book_lot *l);

/* Whether a lot is nothing but what it is treated like: it is of no batch, and its name says so ("cheap vodka").  A wormwood
 * tincture is not, whatever it is treated like: it never stands in for the plain thing. */
bool st_lot_is_plain(const struct st_catalogue *c, const struct book_lot *l);
/* Whether a bought lot whose name the sheet does not know is just what the maker says it is to be treated like ("Primasprit",
 * --as "neutral spirit"): nothing else is named, and nothing tells that it was made of something. */
bool st_lot_is_called_so(const struct st_catalogue *c, const struct book_lot *l);

/* ---- changes: each is a deed ---- */

/* What was said of a lot; NULL, NAN, -1: nothing. */
struct st_lot_given {
    const char *kind; /* "bought", "made", "spent" */
    const char *code, *name, *as, *from, *on, *use_by, *place, *note, *currency, *batch;
    double price, strength, sugar, acid, potency;
    int gross;
    const char *const *of; /* of[n_of]: codes of the lots it was made of */
    int n_of;
    bool currency_by_price; /* the price was written with its money: refused where those of the book are in another */
};
void st_lot_given_init(struct st_lot_given *g);

enum { ST_LOT_REMARKS = 8 };

/* What was done. */
struct st_lot_told {
    char words[400];                  /* of the deed: "added 500 g green walnuts (L7)" */
    struct st_lot lot;                /* as it is now */
    char remark[ST_LOT_REMARKS][300]; /* what the maker should know: "it is not on the ingredient sheet ..." */
    int n_remark;
    bool nothing; /* it was so already: no deed */
};

/* A new lot; line: "500 g green walnuts", "700 mL vodka 40 %". */
bool st_larder_add(struct st_desk *d, const struct st_catalogue *c, enum st_measures measures, const char *line,
                   const struct st_lot_given *given, struct st_lot_told *told);
/* Something else is known of it than is written. */
bool st_larder_change(struct st_desk *d, const struct st_catalogue *c, const char *code,
                      const struct st_lot_given *given, struct st_lot_told *told);

/* Something was taken from it.
 * amount: "120 g", or "all"; why: one of st_lot_whys, NULL: not said; batch: a code, or NULL; on: the day */
bool st_larder_take(struct st_desk *d, const struct st_catalogue *c, enum st_measures measures, const char *code,
                    const char *amount, const char *why, const char *batch, const char *on, const char *note,
                    struct st_lot_told *told);
/* So much is left, as counted: the difference becomes a use. */
bool st_larder_count(struct st_desk *d, const struct st_catalogue *c, enum st_measures measures, const char *code,
                     const char *amount, const char *on, const char *note, struct st_lot_told *told);
bool st_larder_opened(struct st_desk *d, const char *code, const char *on, struct st_lot_told *told);
/* It is gone: what was left by the book is a use of this why. */
bool st_larder_gone(struct st_desk *d, const char *code, const char *why, const char *on, struct st_lot_told *told);

/* Own measurements: reading[n], each "brix=12.4".  A strength of what holds no alcohol of its own is refused. */
bool st_larder_measure(struct st_desk *d, const struct st_catalogue *c, const char *code, char *const reading[], int n,
                       const char *by, struct st_lot_told *told);

/* "brix=12.4" into the kind and value of a row. */
bool st_reading_of(struct st_desk *d, const char *said, struct book_reading *row);

extern const char *const st_lot_whys[]; /* "tasted", "given", ...; ends in NULL */

/* The first volume in the name of a vessel: "3 L jar", "pickle jar 2 L"; false: there is none. */
bool st_vessel_volume(const char *name, enum st_measures measures, double *ml);

/* A vessel, new or changed: name "3 L jar"; volume_ml and empty_g NAN: what the name says of the volume, else as it was.
 * Refused: a volume below nothing, and one in gallons or the like of which measures do not tell whose they are.
 * Returned: *out as it is now, the deed's words. */
bool st_larder_vessel(struct st_desk *d, enum st_measures measures, const char *name, double volume_ml, double empty_g, const char *note,
                      struct book_vessel *out, char words[400]);

/* Whether all these words stand in what is known of it, letter case aside. */
bool st_lot_has(const struct book_lot *l, const char *words);
bool st_words_in(const char *words, const char *const text[], int n);

/* Strength (% vol) and sugar (g/L) by its own readings, the last of each kind: two of hydrometer, refractometer and the
 * strength written.  false: they are too few, or no liquid gives them. */
bool st_lot_gauged(const struct st_lot *l, struct st_interval *strength, struct st_interval *sugar);
/* The same for a hydrometer's and a refractometer's reading (NULL: none), at their temperatures and with their doubt, and a
 * strength (NAN: not known) with its standard deviation (NAN: that of a label). */
bool st_gauged(const struct book_reading *sg, const struct book_reading *brix, double strength, double strength_sd,
               struct st_interval *out_strength, struct st_interval *out_sugar);
/* The last of n that nobody doubts, NULL: none; its standard deviation, the usual one where nobody gave it. */
const struct book_reading *st_reading_last(const struct book_reading *all, int n, enum st_seen what);
double st_reading_sd(const struct book_reading *r, enum st_seen what);

/* Whether its last readings, the strength that is written and the one read before contradict each other: words of it, ""
 * when they do not. */
void st_lot_gauge_doubt(const struct st_lot *l, char words[300]);
/* Whether a spirit that is sold without sugar, or with little, was read as sweet: "" when not. */
void st_lot_sweet_doubt(const struct st_ingredient *in, const struct st_lot *l, char words[300]);

/* ---- words ---- */

/* "500 g", "1.24 kg", "700 mL", "1.5 L", "3 pieces"; in fluid ounces under US and imperial measures. */
void st_lot_amount(char *buf, size_t size, double amount, const char *dim, enum st_measures units);
/* "20 eggs", "1 egg", "380 g green walnuts", "700 mL vodka 40 %": so much of it. */
void st_lot_so_much(char *buf, size_t size, double amount, const struct book_lot *lot, enum st_measures units);
/* The same without its name; of what is counted the figure alone: "20", "380 g". */
void st_lot_amount_short(char *buf, size_t size, double amount, const char *dim, enum st_measures units);
/* "vodka 40 %", "green walnuts"; a strength in proof as the label has it: 80 proof is 40 %, at 60 F */
void st_lot_name(char *buf, size_t size, const struct book_lot *lot);
/* "L8 and after" of the codes the program gives: the next free one. */
bool st_lot_next_code(struct st_desk *d, char code[24]);

#endif
