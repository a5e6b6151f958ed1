#include "embedded.h"

#include <string.h>

const struct st_embedded *st_embedded_find(const char *name)
{
    for (const struct st_embedded *e = st_embedded; e->name; e++)
        if (strcmp(e->name, name) == 0)
            return e;
    return NULL;
}
