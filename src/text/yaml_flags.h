#ifndef ST_TEXT_YAML_FLAGS_H
#define ST_TEXT_YAML_FLAGS_H

#include "held.h"
#include "yaml_field.h"

/* Allergens and cautions of an ingredient that a recipe defines: they are added, never taken away. */

#define ST_YAML_OWN "the recipe's own" /* the source of what its author says */

/* Keys of a definition; into: its st_ingredient. */
void st_yaml_allergens_read(struct st_reader *r, const struct st_yaml *v, void *into);
void st_yaml_cautions_read(struct st_reader *r, const struct st_yaml *v, void *into);
/* What it brings of a batch it was made of: [{level: caution, code: salmonella, what: "egg yolk of B1: salmonella",
 * because: "...", source: "[key]"}]. */
void st_yaml_brings_read(struct st_reader *r, const struct st_yaml *v, void *into);

/* Flags of an ingredient it replaces (NULL: none) stay with it, even if it is now like something else.  Allergens that have no
 * room, here and below, are told by a caution that there are more. */
void st_yaml_flags_keep(struct st_ingredient *in, const struct st_ingredient *was);
/* A name that says yew is warned of as yew, whatever it is said to be like. */
void st_yaml_flags_held(struct st_reader *r, struct st_ingredient *in, const struct st_ingredient *held[ST_HELD],
                        int n);
/* Known by its kind alone: of what such a thing may hold nobody has looked at anything. */
void st_yaml_flags_unknown(struct st_ingredient *in);

#endif
