#ifndef ST_TEXT_TAKE_DEAL_H
#define ST_TEXT_TAKE_DEAL_H

#include "take_whole.h"

/* Deeds on their way to be stages; what take_deal.c, take_steps.c and take_sentence.c share. */

enum { MOST_DEEDS = 16 };

/* One deed with what its part of the sentence names. */
struct st_deal {
    int row;
    const struct st_take_deed *deed;
    const char *sentence;
    const char *clause; /* its part of the sentence */
    size_t base;        /* where that begins */
    struct st_mention use[ST_TAKE_MENTIONS];
    int n;
};

struct st_doing {
    struct st_taking *t;
    int steep;         /* lies and waits; -1 none */
    int last_steep;    /* the last one, strained or not */
    int syrup;         /* made, not yet used */
    int last;          /* stage of the deed before */
    bool liquor;       /* something was strained or blended */
    int strained_in;   /* sentence of the last straining */
    const char *early; /* what was to be done before anything was put together, "" none */
};

/* --- take_deal.c --- */
/* Kinds of ingredients, to choose by. */
bool st_is_sweet(enum st_kind k);
bool st_is_drink(enum st_kind k); /* spirit or wine */
bool st_is_no_drink(enum st_kind k);
bool st_joins_late(enum st_kind k); /* cream, egg: after straining */
bool st_is_not_late(enum st_kind k);
bool st_is_any(enum st_kind k);
/* The deed's own figures and words into the stage. */
void st_deal_put(struct st_doing *d, int stage, const struct st_deal *deal);
/* A sentence among the words of the stage, as written. */
void st_deal_words(struct st_taking *t, int stage, const char *sentence);
int st_deal_begin(struct st_doing *d, enum st_do kind, const struct st_deal *deal); /* a new stage, -1 no room */
bool st_deal_is_left(const struct st_doing *d, const struct st_mention *m);
/* Does it name something of these kinds that is still to be used?  And use it. */
bool st_deal_names(const struct st_doing *d, const struct st_deal *deal, bool (*is)(enum st_kind));
void st_deal_use_all(struct st_doing *d, int stage, const struct st_deal *deal, bool (*is)(enum st_kind));
/* Use what is left of the list, named or not. */
void st_deal_use_left(struct st_doing *d, int stage, bool (*is)(enum st_kind));

/* --- take_steps.c --- */
void st_deal_act(struct st_doing *d, const struct st_deal *deal);
void st_deal_blend(struct st_doing *d, const struct st_deal *deal);
bool st_deal_strains(const char *clause); /* fruit is lifted out, or the liquor poured off */

#endif
