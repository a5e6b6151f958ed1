#ifndef ST_CLI_CAUTIONS_H
#define ST_CLI_CAUTIONS_H

#include "cli/page.h"
#include "text/label_told.h"
#include "text/ledger_words.h"

/* What only cautions*.c share. */
struct cautions_page {
    const struct cli *cli;
    const struct st_recipe *recipe;
    const struct st_foretold *out; /* NULL: nothing could be foretold */
    struct st_watch watch;
    struct st_cautions *list;
    struct st_ledger *ledger;
    const char *because; /* why nothing could be foretold, else "" */
    const struct st_label_books *books;
    struct st_label_facts *facts;
    bool label;        /* --label: all of them */
    const char *asked; /* --guest, or NULL */
    struct st_guest_answer answer[ST_MAX_GUEST];
    int n_answer;
    bool answers_cut;
};

void cautions_page_print(const struct cautions_page *p);

/* --- cautions_label.c --- */

/* Read once, kept to the end; NULL after a message. */
const struct st_label_books *cautions_books(void);
/* The facts of a label and the answers to a guest, of a page with its list and ledger. */
void cautions_label_fill(struct cautions_page *p);
/* Something in it says stop: it has no label, and a guest no answer. */
bool cautions_is_stopped(const struct cautions_page *p);
/* False: a guest asked, and not one word of it is known here. */
bool cautions_guest_understood(const struct cautions_page *p);
/* "What it may be called", short. */
void cautions_names_print(const struct cautions_page *p);
void cautions_label_print(const struct cautions_page *p);
void cautions_guest_print(const struct cautions_page *p);

#endif
