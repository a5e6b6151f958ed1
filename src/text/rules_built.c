#include "rules_built.h"

#include <stdio.h>

#include "util/embedded.h"

struct st_rule_books *st_rules_built(struct st_problem *problem)
{
    struct st_rule_text text[ST_NRULE_SHEET];
    for (int i = 0; i < ST_NRULE_SHEET; i++) {
        const char *name = st_rule_sheet_name((enum st_rule_sheet)i);
        const struct st_embedded *e = st_embedded_find(name);
        if (!e) {
            *problem = (struct st_problem){ .why = "it was not built into this program",
                                            .try_ = "build it again from its sources" };
            snprintf(problem->what, sizeof problem->what, "%s is missing", name);
            return NULL;
        }
        text[i] = (struct st_rule_text){ (const char *)e->bytes, e->size };
    }
    return st_rule_books_create(text, NULL, problem);
}
