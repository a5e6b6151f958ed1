#ifndef ST_TEXT_INGREDIENTS_H
#define ST_TEXT_INGREDIENTS_H

#include <stddef.h>

#include "model/ingredient.h"
#include "model/problem.h"

/* The catalogue of ingredients: the embedded data sheet, plus what a recipe defines or overrides. */
struct st_catalogue;

/* Read a data sheet (see data/README.md).  NULL and *problem (with line) when it cannot be read.  text must outlive it.
 * Caller frees with st_catalogue_free. */
struct st_catalogue *st_catalogue_create(const char *text, size_t size, struct st_problem *problem);
void st_catalogue_free(struct st_catalogue *c);

/* Find by any of its names: case, plural, hyphen and word order of "fresh, dried, whole, ground" modifiers do not matter
 * ("dried damsons", "damsons, dried").  NULL when unknown.  Lent until st_catalogue_free. */
const struct st_ingredient *st_catalogue_find(const struct st_catalogue *c, const char *name, size_t size);

/* The one whose name, or else botanical name, has this form (name_form.h); NULL when none has. */
const struct st_ingredient *st_catalogue_by_form(const struct st_catalogue *c, const char *form, size_t length);

/* What holds so much water that grinding or roasting makes another thing of it: fruit, fresh herbs, milk. */
bool st_kind_is_moist(enum st_kind k);

/* Near names for an unknown one, best first; returns how many were put into near[max].  For proposing: what must not go into
 * a drink is never among them, and a name that holds that of such a thing (held.h) has none. */
int st_catalogue_near(const struct st_catalogue *c, const char *name, size_t size, const struct st_ingredient *near[], int max);

/* What must not go into a drink and is named but for a slip of the pen ("foxgloove leaves"), or NULL.  For telling it, never for
 * proposing it. */
const struct st_ingredient *st_catalogue_slip(const struct st_catalogue *c, const char *name, size_t size);

/* Add or replace: a copy of *base (may be NULL) under a new slug/name that the caller then changes.  Lent, owned by c. */
struct st_ingredient *st_catalogue_define(struct st_catalogue *c, const char *name, const struct st_ingredient *base);

/* Whether anything was defined or kept since the sheet was read: if not, it can serve the next recipe too. */
bool st_catalogue_is_changed(const struct st_catalogue *c);

size_t st_catalogue_count(const struct st_catalogue *c);
const struct st_ingredient *st_catalogue_at(const struct st_catalogue *c, size_t i);

/* Keep a copy of text as long as the catalogue lives (for texts of definitions made by recipes). */
const char *st_catalogue_keep(struct st_catalogue *c, const char *text, size_t size);

/* Zeroed room that lives as long, aligned for any type. */
void *st_catalogue_room(struct st_catalogue *c, size_t size);

/* Where the maker lives (bits of model/rule.h; ST_PLACE_ALL: wherever it is barred).  What is barred by place only
 * (`caution banned us,ca ...`) is "banned", which stops, where one of its places is among them, else "barred_elsewhere".  As read
 * from a sheet: ST_PLACE_ALL.  With "=" before its places it stops only where the maker says to live in one of them.  Ingredients lent by c change with it; what is barred everywhere does not. */
void st_catalogue_live_in(struct st_catalogue *c, unsigned places);

#endif
