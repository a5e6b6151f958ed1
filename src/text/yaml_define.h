#ifndef ST_TEXT_YAML_DEFINE_H
#define ST_TEXT_YAML_DEFINE_H

#include "yaml_field.h"

/* `ingredients:` of a recipe: definitions of its own, or other figures for what the catalogue has.
 * `bullace: damson` or `bullace: {like: damson, water: 76-81 %}`.  Allergens and cautions of what it is like stay; a
 * definition can only add to them. */
void st_yaml_define_read(struct st_reader *r, const struct st_yaml *map, void *unused);

#endif
