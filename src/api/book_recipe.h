#ifndef ST_API_BOOK_RECIPE_H
#define ST_API_BOOK_RECIPE_H

#include "api/book_desk.h"
#include "text/recipe_yaml.h"
#include "text/try_changes.h"

/* Recipes with their history: each try is a recipe file, byte for byte, and the free text it was read from. */

/* How recipes are read and foretold. */
struct st_how {
    struct st_catalogue *(*catalogue)(void); /* a new one; NULL after a message */
    enum st_measures measures;               /* whose cups, where a recipe does not say */
    uint64_t seed;
    int draws;
};

/* A try. */
struct st_try {
    struct book_try row;
    const char *recipe;              /* its name */
    const char *ref;                 /* what it is called by: "Damson liqueur/3", "Damson liqueur/less sweet one/1" */
    const char *from;                /* the same of the one it was changed from, or NULL */
    long age;                        /* days */
    struct st_interval fig[ST_NFIG]; /* as foreseen when it was kept; known: false where it was not */
    const char *program;             /* by which program and seed; NULL: it gives no figures */
};

/* A side line, or with name "" the main one. */
struct st_side {
    const char *name;
    int n; /* tries */
};

struct st_kept_recipe {
    struct book_recipe row;
    int n_try;
    struct st_side *side; /* the main line first, where it has tries */
    int n_side;
    struct st_try last;   /* the last try of the main line, or of all where that has none; without its text, and of its
                           * figures only strength and sugar */
    const char *last_day; /* of all tries */
};

/* Recipes by name; words: those that hold all of them, in name and note or in one of their tries (search.h; the 200
 * fittest finds); most: the first so many, 0: all; *of: how many there are. */
bool st_recipes_read(struct st_desk *d, const char *words, int most, struct st_kept_recipe **out, int *n, int *of);

/* "Damson liqueur": the last of its main line; "Damson liqueur/2"; "Damson liqueur/less sweet one": the last of that
 * side line; "Damson liqueur/less sweet one/1".  Letter case aside; the beginning of a name does where no other
 * begins so. */
bool st_try_named(struct st_desk *d, const char *ref, struct st_try *out);
/* The one of n recipes whose name begins with what stands before the first stroke of ref; how much of ref that is,
 * 0: none, or several. */
size_t st_recipe_begun(const struct book_recipe *all, int n, const char *ref, struct book_recipe *out);
/* All tries of the recipe that ref names, in the order in which they were kept. */
bool st_tries_of(struct st_desk *d, const char *ref, struct st_try **out, int *n);

/* ---- book_keep.c ---- */

struct st_keep {
    const char *file, *text; /* name for messages; a recipe file or free words */
    size_t size;
    const char *name, *side, *from, *note, *on; /* NULL: not said */
};
enum { ST_KEEP_REMARKS = 6 };
struct st_keep_told {
    char words[400]; /* of the deed: "kept Damson liqueur, try 3" */
    bool nothing;    /* the last try has the same text: no deed */
    struct st_try now;
    char remark[ST_KEEP_REMARKS][400];
    int n_remark;
};

/* Keep a try.  Where a figure cannot be foretold, the try is kept without and a remark says why; what says STOP is not
 * kept. */
bool st_recipe_keep(struct st_desk *d, const struct st_how *how, const struct st_keep *keep, struct st_keep_told *told);

bool st_recipe_rename(struct st_desk *d, const char *old, const char *name, char words[400]);

/* ---- book_try.c: read again ---- */

/* A recipe of the book, read and foretold. */
struct st_opened {
    struct st_catalogue *catalogue;
    struct st_recipe_file file;
    bool read; /* file holds a recipe */
    bool foretold;
    struct st_foretold out;
    struct st_problem why; /* it is not read, or not foretold */
};
/* Result: false when there is no catalogue (told).  For st_opened_done in every case. */
bool st_opened_text(const struct st_how *how, const char *name, const char *text, size_t size, bool foretell,
                    struct st_opened *o);
void st_opened_done(struct st_opened *o);

/* From one try to another. */
struct st_compared {
    struct st_opened of[2];
    bool done; /* both could be read, changes is filled */
    struct st_try_changes changes;
};
bool st_tries_compare(const struct st_how *how, enum st_measures units, const struct st_try *a, const struct st_try *b,
                      struct st_compared *out);
void st_compared_done(struct st_compared *c);

#endif
