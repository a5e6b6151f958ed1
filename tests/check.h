#ifndef ST_CHECK_H
#define ST_CHECK_H

#include <stdbool.h>
#include <stddef.h>

#include "core/status.h"

/* What the parts of the check program share: the functions that a sheet can name. */

enum { CHECK_MAX_ARGS = 8 };

/* One field of a row: as written, and as a number (NaN where it is none). */
struct check_field {
    const char *word;
    double x;
};

/* What a function said.  value has a meaning when status >= 0; touched: refused, yet an output was changed. */
struct check_result {
    double value;
    enum st_status status;
    bool touched;
};

struct check_arg {
    const char *name; /* NULL after the last */
    const char *unit; /* "word" for a field that is no number */
};

struct check_function {
    const char *name;
    struct check_result (*run)(const struct check_field in[]);
    struct check_arg arg[CHECK_MAX_ARGS];
    const char *result, *unit; /* name and unit of what comes out */
    const char *what;
};

/* The table, ended by a row without a name; the row of that name, or NULL; how many arguments it takes. */
extern const struct check_function check_functions[];
const struct check_function *check_function_by_name(const char *name);
int check_n_args(const struct check_function *f);

/* The function whose name looks most like this, or NULL when none does. */
const struct check_function *check_function_near(const char *name);

#endif
