#include "recipe_kind.h"

#include <string.h>

#include "model/recipe.h"

bool st_is_recipe_file(const char *text)
{
    bool steps = false, first = true;
    for (const char *line = text; line && *line; line = strchr(line, '\n') ? strchr(line, '\n') + 1 : NULL) {
        const char *p = line + strspn(line, " \t");
        if (*p == '\0' || *p == '\r' || *p == '\n' || *p == '#')
            continue;
        if (first && strncmp(p, "schema_version:", 15) == 0)
            return true;
        first = false;
        if (steps && strncmp(p, "- ", 2) == 0) {
            const size_t n = strcspn(p + 2, ":\n ");
            for (int k = 0; k < ST_NDO; k++)
                if (p[2 + n] == ':' && strlen(st_do_name((enum st_do)k)) == n &&
                    strncmp(p + 2, st_do_name((enum st_do)k), n) == 0)
                    return true;
        }
        steps = steps || (p == line && strncmp(p, "steps:", 6) == 0);
    }
    return false;
}
