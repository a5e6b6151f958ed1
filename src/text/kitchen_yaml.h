#ifndef ST_TEXT_KITCHEN_YAML_H
#define ST_TEXT_KITCHEN_YAML_H

#include "model/kitchen.h"
#include "recipe_yaml.h"

/* A kitchen file: which tools are there, and how good they are (docs/kitchen-file.md).
 *
 * Given:
 *   file          name, for messages
 *   text, size    the file
 *   *kitchen      what holds where the file is silent: st_kitchen_usual
 * Returned:
 *   *kitchen      with what the file says; as it was unless the result is 0
 *   *out          problems and notes; st_recipe_done(out) afterwards in every case
 * Result: 0 read, -1 not.
 */
int st_kitchen_read(const char *file, const char *text, size_t size, struct st_kitchen *kitchen,
                    struct st_recipe_file *out);

#endif
