#include "caution_list.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static bool known_already(const struct st_cautions *out, const char *code, const char *what, int step, int line)
{
    for (int i = 0; i < out->n; i++)
        if (out->item[i].step == step && out->item[i].line == line && strcmp(out->item[i].code, code) == 0 &&
            strcmp(out->item[i].what, what) == 0)
            return true;
    return false;
}

/* Room for one more: at the end, or in a full list where the latest of the least stood, if this one is worse. */
static struct st_caution *room_for(struct st_cautions *out, enum st_level level)
{
    if (out->n < ST_MAX_CAUTIONS)
        return &out->item[out->n++];
    struct st_caution *least = &out->item[0];
    for (int i = 1; i < out->n; i++)
        if (out->item[i].level <= least->level)
            least = &out->item[i];
    out->left_out++;
    return level > least->level ? least : NULL;
}

void st_caution_overflow(struct st_cautions *out)
{
    if (out->left_out == 0)
        return;
    struct st_caution *least = &out->item[0];
    for (int i = 1; i < out->n; i++)
        if (out->item[i].level <= least->level)
            least = &out->item[i];
    *least = (struct st_caution){ .level = least->level,
                                  .code = "left_out",
                                  .source = "common practice, no source",
                                  .step = -1,
                                  .line = -1 };
    (void)snprintf(least->what, sizeof least->what, "%d cautions more than there is room for", out->left_out + 1);
    st_caution_because(least,
                       "%d are told, and none that was left out is worse than any of them: look at the recipe in parts, "
                       "a few ingredients at a time",
                       ST_MAX_CAUTIONS - 1);
}

struct st_caution *st_caution_add(struct st_cautions *out, enum st_level level, const char *code, const char *source,
                                  int step, int line, const char *what, ...)
{
    char text[sizeof out->item[0].what];
    va_list ap;
    va_start(ap, what);
    vsnprintf(text, sizeof text, what, ap);
    va_end(ap);
    struct st_caution *c = known_already(out, code, text, step, line) ? NULL : room_for(out, level);
    if (!c)
        return NULL;
    memset(c, 0, sizeof *c);
    c->level = level;
    c->code = code;
    c->source = source;
    c->step = step;
    c->line = line;
    memcpy(c->what, text, sizeof text);
    return c;
}

void st_caution_because(struct st_caution *c, const char *text, ...)
{
    va_list ap;
    if (!c)
        return;
    va_start(ap, text);
    vsnprintf(c->because, sizeof c->because, text, ap);
    va_end(ap);
}
