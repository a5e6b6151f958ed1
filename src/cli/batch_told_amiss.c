/* What a maker says is wrong with a jar: no ingredient and no deed, and "stillroom rescue" knows what to do. */
#include <stdio.h>
#include <string.h>

#include "cli/batch_told.h"
#include "cli/page.h"
#include "text/amiss.h"
#include "text/rescue.h"
#include "text/scan.h"
#include "util/embedded.h"

static struct st_rescue_book *read_book(void)
{
    struct st_problem p = { .what = "" };
    const struct st_embedded *e = st_embedded_find("data/rescue.tsv");
    return e ? st_rescue_create((const char *)e->bytes, e->size, &p) : NULL;
}

/* The word that ends right before at. */
static bool stands_behind(const char *text, size_t at, const char *words)
{
    size_t end = at, from;
    while (end > 0 && text[end - 1] == ' ')
        end--;
    for (from = end; from > 0 && st_is_letter((unsigned char)text[from - 1]);)
        from--;
    struct st_scan s = { text + from, text + end };
    return from < end && st_scan_word(&s, words) && s.at == s.end;
}

/* "Bitter orange liqueur", "bitter of mine", "bitters": what something is called.  "It is bitter", "tastes bitter now" is none. */
static bool names_bitter(const char *text, size_t at, struct st_scan behind)
{
    if (stands_behind(text, at,
                      "too|so|very|quite|rather|more|bit|slightly|somewhat|still|is|are|was|were|tastes|tasted|"
                      "taste|tasting|gets|got|getting|turned|turns|went|gone|seems|feels|comes|came|became|"
                      "remains|stays|really|awfully|horribly|terribly|extremely|unpleasantly|and|or|but"))
        return false;
    if (!st_scan_blanks(&behind) || behind.at == behind.end || !st_is_letter((unsigned char)*behind.at))
        return false;
    return !st_scan_word(&behind, "now|and|but|or|after|taste|tasting|already|as|like|again|since|when|with|without|at|"
                                  "to|in|enough|today|still|too|because|so|than|on|for|this|that|it|aftertaste|edge");
}

/* The words without a "bitter" that is part of a name. */
static const char *without_names(struct batch *b, const char *words)
{
    char *text = st_arena_strdup(&b->arena, words);
    for (char *p = text; *p; p++) {
        struct st_scan s = { p, text + strlen(text) };
        if (*p == ' ' || (p > text && st_is_letter((unsigned char)p[-1])))
            continue;
        if (st_scan_word(&s, "bitters") || (st_scan_word(&s, "bitter") && names_bitter(text, (size_t)(p - text), s)))
            memset(p, ' ', (size_t)(s.at - p));
    }
    return text;
}

static bool is_amiss(struct batch *b, const struct st_rescue_book *book, const struct batch_told_row *r)
{
    struct st_rescue_found found = { .n = 0 };
    if (r->deed != BATCH_TOLD_NOTHING || r->came_ml > 0.0)
        return false;
    if (book && !r->is_name)
        st_rescue_find(book, without_names(b, r->words), &found);
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
        if (is_amiss(b, book, &t->row[i])) {
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
        if (is_amiss(b, book, &t->row[i]))
            json_array_append_new(list,
                                  json_pack("{s:i, s:o, s:o}", "line", t->row[i].line, "words",
                                            st_doc_text(t->row[i].words), "do", st_doc_text(command(b, &t->row[i]))));
    st_rescue_free(book);
    return list;
}
