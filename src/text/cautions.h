#ifndef ST_TEXT_CAUTIONS_H
#define ST_TEXT_CAUTIONS_H

#include "watch.h"

/* First cautions: what a maker must read beside the figures.  Never says that something is without danger; a flagged plant is
 * named with its source and "worst case not yet assessed". */
enum st_level {
    ST_LEVEL_NOTE,
    ST_LEVEL_CAUTION,
    ST_LEVEL_OVER, /* a limit in force or a reference value is passed, or may be */
    ST_LEVEL_STOP
};
const char *st_level_name(enum st_level l); /* "note", "caution", "over", "stop" */

#define ST_CAUTION_UNRECKONED "not_reckoned" /* the code of what went in and is in no figure */

struct st_caution {
    enum st_level level;
    char what[200], because[640];
    const char *source;   /* key of docs/sources.md, or "common practice, no source", or "from memory"; lent */
    const char *code;     /* short stable code: "cyanogenic", "banned", "allergen", "weak_steep", "weak_bottle", "heat", "flammable" ... */
    bool brought;         /* of a drink or fruit of another batch, which went in here */
    int step, line;       /* at whose ingredient it lives; -1 the whole bottle */
};

enum { ST_MAX_CAUTIONS = 64 };
struct st_cautions {
    struct st_caution item[ST_MAX_CAUTIONS];
    int n;
    int left_out; /* cautions for which there was no room: told as one of them ("left_out"), the worst are kept */
};

/* Collect, worst first, then in the recipe's order; the same caution of the same ingredient once.
 * f may be NULL (nothing foretold: only what the recipe itself shows); w, what it is held against, too (watch.h: then no worst
 * case is reckoned, and what needs one says that it was not). */
void st_cautions_collect(const struct st_recipe *r, const struct st_foretold *f, const struct st_watch *w,
                         struct st_cautions *out);

#endif
