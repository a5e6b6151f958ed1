#ifndef ST_API_INSIDE_H
#define ST_API_INSIDE_H

#include "api/api.h"
#include "api/call.h"
#include "api/doc.h"
#include "api/kept.h"
#include "api/wished.h"
#include "text/label_books.h"
#include "text/rules_built.h"
#include "text/steep_books.h"
#include "text/watch.h"

/* For the files of api only. */

struct st_api {
    struct st_catalogue
        *base; /* the sheet as it was read; lent to one recipe after another until one of them changes it */
    struct st_steep_books *books; /* what is known of steeping; NULL until somebody asks */
    struct st_homes *places;
    struct st_rule_books *rules; /* limits; the same */
    struct st_label_books *labels;
    struct st_kept *kept[ST_KEPT];
    uint64_t clock;
};

/* ---- api.c ---- */
/* The ingredients for one recipe; NULL after a problem was written. */
struct st_catalogue *st_api_catalogue(struct st_call *c);
/* After the recipe was read from them: NULL when they are as they were, else the caller owns them. */
struct st_catalogue *st_api_catalogue_own(struct st_api *a);
unsigned st_api_finish(struct st_call *c, char **answer, size_t *length);

/* ---- watch_in.c ---- */
/* Members of the body: "place", "serving_ml", "body_weight_kg" (ST_WATCH_MEMBERS for st_call_known); what is not said is usual
 * (text/watch.h).  False after a problem. */
#define ST_WATCH_MEMBERS "place", "serving_ml", "body_weight_kg"
/* Where the request says that its maker lives; ST_PLACE_ALL when it does not, or nobody knows the place. */
unsigned st_call_places(struct st_call *c);
bool st_call_watch(struct st_call *c, const struct st_recipe *r, struct st_watch *w);
/* The places of makers; NULL after a problem was written. */
const struct st_homes *st_call_homes(struct st_call *c);

/* ---- route_*.c: from c->in to c->out, or problems ---- */
void st_route_take(struct st_call *c);
void st_route_foresee(struct st_call *c);
void st_route_cautions(struct st_call *c);
void st_route_turn(struct st_call *c);
void st_route_aim(struct st_call *c);
void st_route_mix(struct st_call *c);
void st_route_gauge(struct st_call *c);
void st_route_steep(struct st_call *c);
void st_route_clear(struct st_call *c);
void st_route_ingredients(struct st_call *c, const char *like);
void st_route_places(struct st_call *c);
void st_route_source(struct st_call *c, const char *key);

/* ---- bottle.c: a recipe foretold, with what only the server adds ---- */
/* Plan and run; *f is to be done with whatever the result.  field: what problems are about. */
bool st_bottle_run(struct st_call *c, const struct st_recipe *recipe, const struct st_options *o, const char *field,
                   struct st_foretold *f);
/* The document, with pips and words; file may be NULL. */
json_t *st_bottle_document(const struct st_recipe_file *file, const struct st_recipe *recipe,
                           const struct st_foretold *f, const struct st_options *o, const struct st_watch *w,
                           enum st_measures units);
/* Both; NULL after a problem was written. */
json_t *st_bottle_foretell(struct st_call *c, const struct st_kept *k, const struct st_options *o);
/* ---- bottle_sources.c ---- */
/* Where figures and cautions come from, for a page that is printed: [ {"key": "oiml1975" or null, "title", "of": ["strength",
 * "damson"]} ], each source once.  `of` names figures, ingredients whose make-up was read there, and cautions by their
 * heading; what has no source says so under a null key. */
json_t *st_bottle_sources(const struct st_recipe *recipe, const struct st_cautions *cautions);
/* The same of a measured bottle, whose document names its keys under "source". */
json_t *st_gauge_sources(const json_t *doc, const struct st_cautions *cautions);

/* ---- bottle.c ---- */
/* "lines" and "dials" of a recipe. */
json_t *st_bottle_lines(const struct st_kept *k);
json_t *st_bottle_dials(const struct st_kept *k, const double value[]); /* of the dials that are on; NULL: as written */
void st_slider_words(const struct st_kept *k, int i, double value, char *buf, size_t size); /* "640 g" */
void st_slider_place(const struct st_kept *k, int i, json_t *o);                            /* step, line, of */
const char *st_slider_unit(const struct st_kept *k, int i);
const char *st_slider_name(const struct st_kept *k, int i);

/* ---- route_turn.c, what aim needs too ---- */
/* {"step", "line", "of"} and, when valued, "value"; path such as "dials[0]." */
bool st_dial_read(struct st_call *c, const struct st_kept *k, const json_t *o, const char *path, bool valued,
                  int *slider, double *value);
json_t *st_notes_out(const struct st_recipe *r, const struct st_foretold *f);

/* ---- wish_in.c ---- */
/* c->in's "wish"; bottle_ml: the recipe's own, 0 none. */
bool st_wish_read(struct st_call *c, double bottle_ml, struct st_wished *w);

#endif
