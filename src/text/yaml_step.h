#ifndef ST_TEXT_YAML_STEP_H
#define ST_TEXT_YAML_STEP_H

#include "yaml_field.h"

/* Read the list of steps into r->recipe: names and kinds first, so that a line may be told that its step comes later,
 * then everything else.  Tells also what nothing takes from. */
void st_yaml_steps_read(struct st_reader *r, const struct st_yaml *list);

#endif
