#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"

void cli_cautions_print(const struct st_cautions *list)
{
    for (int i = 0; i < list->n; i++)
        page_caution(2, &list->item[i]);
}

json_t *cli_cautions_json(const struct st_cautions *list)
{
    json_t *all = json_array();
    for (int i = 0; i < list->n; i++) {
        const struct st_caution *c = &list->item[i];
        json_t *o = json_pack("{s:s, s:s, s:s, s:s, s:s}", "level", st_level_name(c->level), "what", c->what, "because",
                              c->because, "source", c->source, "code", c->code);
        if (c->step >= 0)
            json_object_set_new(o, "step", json_integer(c->step + 1));
        if (c->line >= 0)
            json_object_set_new(o, "line", json_integer(c->line + 1));
        json_array_append_new(all, o);
    }
    return all;
}
