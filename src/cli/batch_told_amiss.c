/* What a maker says is wrong with a jar: no ingredient and no deed, and "stillroom rescue" knows what to do. */
#include <stdio.h>
#include <string.h>

#include "cli/batch_told.h"
#include "cli/page.h"
#include "text/amiss.h"
#include "text/rescue.h"
#include "util/embedded.h"

static struct st_rescue_book *read_book(void)
{
    struct st_problem p = { .what = "" };
    const struct st_embedded *e = st_embedded_find("data/rescue.tsv");
    return e ? st_rescue_create((const char *)e->bytes, e->size, &p) : NULL;
}

static bool is_amiss(const struct st_rescue_book *book, const struct batch_told_row *r)
{
    struct st_rescue_found found = { .n = 0 };
    if (r->deed != BATCH_TOLD_NOTHING || r->came_ml > 0.0)
        return false;
    if (book)
        st_rescue_find(book, r->words, &found);
    return (found.n > 0 && found.sure) || st_says_amiss(r->words, strlen(r->words));
}

/* A question mark and the like stay; what a shell would read as its own does not. */
static const char *command(struct batch *b, const struct batch_told_row *r)
{
    char *words = st_arena_strndup(&b->arena, r->words, 100);
    for (char *p = words; *p; p++)
        *p = strchr("\"\\$`!", *p) ? ' ' : *p;
    return batch_text(b, "stillroom rescue \"%s\"", words);
}

void batch_told_amiss(struct batch *b, const struct batch_told *t)
{
    struct st_rescue_book *book = read_book();
    for (int i = 0; i < t->n; i++)
        if (is_amiss(book, &t->row[i])) {
            cli_say(2, 4, "Line %d tells of something that is wrong, perhaps. What it is, and whether to keep it:",
                    t->row[i].line);
            cli_say(4, 6, "%s", command(b, &t->row[i]));
        }
    st_rescue_free(book);
}

json_t *batch_told_amiss_json(struct batch *b, const struct batch_told *t)
{
    struct st_rescue_book *book = read_book();
    json_t *list = json_array();
    for (int i = 0; i < t->n; i++)
        if (is_amiss(book, &t->row[i]))
            json_array_append_new(list,
                                  json_pack("{s:i, s:o, s:o}", "line", t->row[i].line, "words",
                                            st_doc_text(t->row[i].words), "do", st_doc_text(command(b, &t->row[i]))));
    st_rescue_free(book);
    return list;
}
