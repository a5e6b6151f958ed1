#ifndef ST_TEXT_YAML_LINE_H
#define ST_TEXT_YAML_LINE_H

#include "yaml_field.h"

/* Read one entry of `add`: a line of text, or { line: ..., price: ..., trimmed: ..., strength: ..., at: ...,
 * measured_with: ... }.  False when it was refused; *out then untouched. */
bool st_yaml_line_read(struct st_reader *r, const struct st_yaml *v, int step, struct st_line *out);

/* Read one entry of `from`: the name of a step (all of it), or how much of a step. */
bool st_yaml_from_read(struct st_reader *r, const struct st_yaml *v, int step, struct st_line *out);

#endif
