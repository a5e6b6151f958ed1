#ifndef ST_TEXT_YAML_TOOLS_H
#define ST_TEXT_YAML_TOOLS_H

#include "yaml_field.h"

/* The tool that a text names: "cup", "scale", "jug".  False, and told, when there is none. */
bool st_yaml_tool_named(struct st_reader *r, const struct st_yaml *v, enum st_tool *out);

/* `tools: {scale: 1 g, cup: 2 %, jug: [5 mL, 1 %]}`: the smallest step a tool shows, or by how much it may be wrong. */
void st_yaml_tools_read(struct st_reader *r, const struct st_yaml *v, void *unused);

#endif
