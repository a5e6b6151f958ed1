#ifndef ST_TEXT_SHEET_H
#define ST_TEXT_SHEET_H

#include <stddef.h>

#include "model/amount.h"
#include "model/problem.h"

/* Data sheets for people: stanzas parted by blank lines, one `key value` a line, `#` begins a comment line
 * (data/README.md).  Reading is in place: texts handed out are lent from the buffer, which must stay. */

enum { ST_SHEET_LINE_LIMIT = 2000, ST_SHEET_SIZE_LIMIT = 4 << 20 };

struct st_sheet {
    char *next, *end;
    int line; /* of the line read last, from 1 */
};

struct st_sheet_line {
    char *key, *rest; /* both end in NUL, no blanks around them; rest may be "" */
    struct st_place at;
};

/* Begin to read.
 * Given: text[size + 1], writable, text[size] == '\0'.
 * Result: 0; -1 when it is too long, not UTF-8, or holds control characters: *problem says where. */
int st_sheet_open(struct st_sheet *s, char *text, size_t size, struct st_problem *problem);

/* The next line that is neither blank nor a comment.  Result: 1 a line, 0 the end, -1 a line over the limit. */
int st_sheet_next(struct st_sheet *s, struct st_sheet_line *out, struct st_problem *problem);

/* Cut the next word off *rest (in place).  "" when there is none. */
char *st_sheet_word(char **rest);

/* Read "value low..high unit mark source".
 *
 * Given:
 *   rest       the text after the key, changed in place
 *   unit       the unit it must have ("g", "%", "%vol" ...)
 *   factor     what the three numbers are multiplied by
 *   most       largest value allowed, as written
 *   at         the line, for messages
 * Returned:
 *   *out       the range, its source lent; untouched on failure
 * Result: 0; -1 with *problem: not a number, not low <= value <= high, outside 0..most, wrong unit, unknown mark, no
 *   source. */
int st_sheet_figure(char *rest, const char *unit, double factor, double most, struct st_place at, struct st_range *out,
                    struct st_problem *problem);

/* True for r, m, c, p, u alone. */
bool st_sheet_is_mark(const char *word);

/* Fill *problem; result is -1, so that a reader can return it. */
__attribute__((format(printf, 5, 6))) int st_sheet_problem(struct st_problem *problem, struct st_place at,
                                                           const char *what, const char *attempt,
                                                           const char *why, ...);

#endif
