#ifndef ST_CLI_LARDER_H
#define ST_CLI_LARDER_H

#include "api/book_reference.h"
#include "api/doc_larder.h"
#include "cli/book.h"

/* What the files of the command `larder` share. */

/* Open the book for a command of the notebook when its options are off: complains of what is left that begins with "-"
 * (known[] for near ones) and of words fewer than `least` or more than `most`; usage: what to write for example. */
int larder_ready(struct cli *c, const char *const known[], int least, int most, const char *usage);

/* Tell what was done, and what the maker should know. */
int larder_told(const struct cli *c, const struct st_lot_told *t);

/* --- larder_in.c --- the commands that change something */
int larder_add(struct cli *c, const char *kind);
int larder_change(struct cli *c);
int larder_take(struct cli *c);
int larder_count(struct cli *c);
int larder_open(struct cli *c);
int larder_gone(struct cli *c);
int larder_measure(struct cli *c);
int larder_vessel(struct cli *c);

/* --- larder_price.c --- */
/* The money that n bytes name: its three letters, which may stand in code, "" where several use that word, NULL none. */
const char *larder_money_of(const char *said, size_t n, char code[4]);
/* Figure and money of "4.20", "4,20 EUR", "€4.20", for --option; *money as larder_money_of has it, NULL where none is said.
 * False: it was told why not. */
bool larder_money(const char *option, const char *said, double *x, const char **money);
/* --price 4.20, or with its money: "4.20 EUR", "€4.20".  *currency: what --currency said, NULL nothing; *by_price: the price
 * said it.  Two that differ, and a sign that several use ("$"), are told, and *bad. */
void larder_price(struct cli *c, double *price, const char **currency, bool *by_price, bool *bad);

/* --pour-price "6,50 EUR" and --tax "20 %".  price: NAN when it was not said; money: its three letters, "" none were said;
 * tax: as its share of the price. */
struct larder_pour {
    double price, tax;
    const char *money;
};
void larder_pour_price(struct cli *c, struct larder_pour *pour, bool *bad);
/* Whether it can be held against what cost is in this currency; "": it is not known. */
bool larder_pour_fits(const struct larder_pour *pour, const char *currency);

/* --- larder_page.c --- */
int larder_all(struct cli *c);
int larder_find(struct cli *c);
void larder_lot_line(const struct st_lot *l, enum st_measures units);

/* --- larder_show.c --- */
int larder_show(struct cli *c);

/* --- larder_reach.c --- */
int larder_reach(struct cli *c);

/* --- larder_reference.c --- */
int larder_reference(struct cli *c);
/* What is known of the sugar of a bought bottle of this name. */
struct cli_bottle {
    bool found;
    struct st_interval sugar; /* g/L */
    enum st_reference_by by;
    double above;    /* g/L of the sample that it is sweeter than; NAN */
    char words[400]; /* of its sugar; where it is not found, what to try */
};
bool cli_reference_found(const struct cli *c, const char *name, struct cli_bottle *out);

#endif
