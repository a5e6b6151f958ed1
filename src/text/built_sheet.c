#include "built_sheet.h"

#include <stdio.h>

const struct st_embedded *st_built_sheet(const char *name, struct st_problem *problem)
{
    const struct st_embedded *e = st_embedded_find(name);
    if (!e) {
        *problem = (struct st_problem){ .why = "it was not built into this program",
                                        .try_ = "build it again from its sources" };
        snprintf(problem->what, sizeof problem->what, "%s is missing", name);
    }
    return e;
}
