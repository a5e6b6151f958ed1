#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"

/* A key stands in brackets, words for "no source" do not. */
const char *cli_caution_source(const struct st_caution *c, char *buf, size_t size)
{
    const char *source = c->source && c->source[0] ? c->source : "no source";
    const bool key = source[0] != '[' && !strchr(source, ' ');
    snprintf(buf, size, key ? "[%s]" : "%s", source);
    return buf;
}

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
        char source[120];
        json_t *o = json_pack("{s:s, s:s, s:s, s:s, s:s}", "level", st_level_name(c->level), "what", c->what, "because",
                              c->because, "source", cli_caution_source(c, source, sizeof source), "code", c->code);
        if (c->step >= 0)
            json_object_set_new(o, "step", json_integer(c->step + 1));
        if (c->line >= 0)
            json_object_set_new(o, "line", json_integer(c->line + 1));
        json_array_append_new(all, o);
    }
    return all;
}
