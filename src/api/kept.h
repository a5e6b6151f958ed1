#ifndef ST_API_KEPT_H
#define ST_API_KEPT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "api/call.h"
#include "text/recipe_yaml.h"

/* The last few recipes that were read, with a plan that has dials: a slider asks about the same recipe again and again.
 */

enum { ST_KEPT = 8, ST_KEPT_LINES = 400 };

/* A line whose amount, or a spirit whose strength, may be turned. */
struct st_slider {
    struct st_dial dial;
    double written;         /* in base units (g, mL, pieces), or % vol */
    double low, high, tick; /* where a slider may go; its kitchen step */
};

struct st_kept {
    uint64_t hash, used; /* of text and units; a clock of uses */
    char *text;
    size_t size;
    enum st_measures units;
    struct st_catalogue *own; /* NULL: the common one */
    struct st_recipe_file file;
    struct st_slider *slider; /* every line that can be turned, in the recipe's order */
    int n_slider;
    int on[ST_MAX_DIALS], n_on; /* indices of the sliders that are shown */
    /* A strength gets a dial only once it is turned: a dial is one number, and "37.5 to 43 %" is a range until then. */
    struct st_plan *plan;           /* with dials for some of on[]; NULL until asked for */
    int dial[ST_MAX_DIALS], n_dial; /* indices into on[] */
};

/* Read the recipe, or find it among the last ones: its text and units are compared, not only their hash.  NULL after
 * problems were written.  Lent until the next call. */
struct st_kept *st_kept_recipe(struct st_call *c, const char *text, enum st_measures units);

/* A plan in which the sliders want[n] have a dial, and as many other amounts as there is room for.  False after a problem. */
bool st_kept_dials(struct st_call *c, struct st_kept *k, const int want[], int n);

/* Which slider; -1: that line cannot be turned. */
int st_kept_slider(const struct st_kept *k, int step, int line, enum st_dial_of of);

void st_kept_done(struct st_kept *k);

#endif
