#ifndef ST_TEXT_CAUTION_LIST_H
#define ST_TEXT_CAUTION_LIST_H

#include "cautions.h"

/* Begin a caution; NULL when it is there already or the list is full of nothing lesser. */
__attribute__((format(printf, 7, 8))) struct st_caution *st_caution_add(struct st_cautions *out, enum st_level level,
                                                                        const char *code, const char *source, int step,
                                                                        int line, const char *what, ...);

/* Its reason; c may be NULL. */
__attribute__((format(printf, 2, 3))) void st_caution_because(struct st_caution *c, const char *text, ...);

/* Where there was not room for all, the last of the least gives its place to a caution that says so; once, at the end.
 * Its level is that of the worst that was left out. */
void st_caution_overflow(struct st_cautions *out);

#endif
