#include <stdio.h>
#include <string.h>

#include "take_prose.h"

/* Which part of a fruit goes in, where the method tells what the list does not. */

static const char PEEL[] = "peel|peels|peelings|zest|zests|zested|rind|rinds|pare|pared|paring|parings";
static const char REST[] = "juice|juices|juiced|squeeze|squeezed|squeezing|flesh|pulp|slice|sliced|slices|segment|"
                           "segments|whole|halve|halved|quarter|quartered|chop|chopped";

static bool asks_part(const struct st_take_item *item)
{
    for (int i = 0; i < item->n_ask; i++)
        if (item->ask[i].kind == ST_ASK_PART)
            return item->role == ST_TAKE_INGREDIENT && item->line.what;
    return false;
}

/* "lemon" of "lemon_whole", and more of them. */
static void name_of(const struct st_ingredient *in, char *out, size_t size)
{
    const int n = (int)strcspn(in->slug, "_");
    (void)snprintf(out, size, "%.*s|%.*ss", n, in->slug, n, in->slug);
}

/* Line that speaks of the peel of this fruit, where nothing is said of the rest of it; 0 none. */
static int line_of_peel(const struct st_taking *t, const struct st_take_item *item, bool only_one)
{
    char name[100];
    int line = 0;

    name_of(item->line.what, name, sizeof name);
    for (int i = 0; i < t->n_row; i++) {
        const char *text = t->row[i].own;
        const bool named = st_take_has_word(text, name), peel = st_take_has_word(text, PEEL);
        if ((named || (peel && only_one)) && st_take_has_word(text, REST))
            return 0;
        if (peel && (named || only_one) && line == 0)
            line = t->row[i].line;
    }
    return line;
}

void st_take_part_told(struct st_taking *t)
{
    char because[100];
    int asked = 0;

    for (int i = 0; i < t->n_row; i++)
        asked += asks_part(t->row[i].item);
    for (int i = 0; i < t->n_row; i++) {
        struct st_take_item *item = t->row[i].item;
        const int line = asks_part(item) ? line_of_peel(t, item, asked == 1) : 0;
        if (!line)
            continue;
        (void)snprintf(because, sizeof because, "the peel alone, as line %d speaks of it", line);
        (void)st_take_choose(t, item, ST_ASK_PART, "peel", because);
    }
}
