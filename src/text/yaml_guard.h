#ifndef ST_TEXT_YAML_GUARD_H
#define ST_TEXT_YAML_GUARD_H

#include "yaml_report.h"

/* Limits of a recipe file. */
enum {
    ST_YAML_BYTES = 1 << 20,
    ST_YAML_DEPTH = 12,      /* lists and maps inside one another */
    ST_YAML_BRACKETS = 64,   /* brackets open at once, closed or not, in quotes or not: for the guard only */
    ST_YAML_INDENT = 200,    /* blanks at the beginning of a line */
    ST_YAML_CHILDREN = 1000, /* entries of one list or map */
    ST_YAML_NODES = 20000
};

/* Look over the bytes before the YAML library sees them: size, UTF-8, control characters, tabs as indentation,
 * brackets and indentation past any use.  0 go on; -1 refused, and told. */
int st_yaml_guard(struct st_report *r, const char *text, size_t size);

#endif
