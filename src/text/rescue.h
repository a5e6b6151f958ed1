#ifndef ST_TEXT_RESCUE_H
#define ST_TEXT_RESCUE_H

#include <stdbool.h>
#include <stddef.h>

#include "model/problem.h"

/* What has gone wrong with a jar or a bottle, and what becomes of it: data/rescue.tsv (data/README.md).  A sight ("it
 * fizzes") has questions that decide before anybody thinks of thrift; a yes to one of them gives the verdict. */

enum st_rescue_verdict { ST_RESCUE_KEEP, ST_RESCUE_FIX, ST_RESCUE_BIN, ST_NRESCUE }; /* from best to worst */
const char *st_rescue_verdict_name(enum st_rescue_verdict v);                        /* "keep", "fix", "bin" */

/* A question of hazard.  All texts here and below are lent from the book. */
struct st_rescue_ask {
    const char *key, *question;
    const char *because, *todo; /* when the answer is yes */
    const char *source;         /* "[key]", "from memory" or "common practice, no source" */
    char mark;
};

enum { ST_RESCUE_ASKS = 8 };

struct st_rescue_row {
    const char *key, *name;
    const char *words; /* further ways to say it, '|' between */
    struct {
        const struct st_rescue_ask *ask;
        enum st_rescue_verdict then; /* when the answer is yes; never better than the row's own verdict */
    } ask[ST_RESCUE_ASKS];
    int n_ask;
    enum st_rescue_verdict verdict; /* when no question is answered with yes */
    const char *because, *todo, *source;
    char mark;
};

struct st_rescue_book {
    const struct st_rescue_ask *ask;
    const struct st_rescue_row *row;
    int n_ask, n_row;
};

/* Read the sheet.  NULL and *problem, with its line, when it cannot be read: another heading, an empty field, a verdict
 * or question it does not know, a key that stands twice, a yes that would be better than a no.  text is copied.  Freed
 * with st_rescue_free. */
struct st_rescue_book *st_rescue_create(const char *text, size_t size, struct st_problem *problem);
void st_rescue_free(struct st_rescue_book *book);

/* Rows that fit what a maker says.
 *
 * Given:    words as written ("mold on top and it fizzes"): small slips, plurals, British and American spelling
 * Returned: *found, worst verdict first; sure: all words of a phrase of the sheet were said; else the nearest rows
 * Notes:
 *   1. Several are sure when each has a phrase of its own in the words.  "Not" and "no" take nothing back: who denies a
 *      hazard is told of it too.
 *   2. Words beyond the 40th are not looked at. */
enum { ST_RESCUE_FOUND = 6 };
struct st_rescue_found {
    const struct st_rescue_row *row[ST_RESCUE_FOUND];
    int n;
    bool sure;
};
void st_rescue_find(const struct st_rescue_book *book, const char *words, struct st_rescue_found *found);

#endif
