#include <ctype.h>
#include <string.h>

#include "scan.h"
#include "take_prose.h"
#include "take_words.h"

/* What the drink is called. */

/* Nothing that could be weighed. */
static bool is_plain_words(const struct st_taking *t, const struct st_taken *r, int next)
{
    const struct st_take_item *i = r->item;
    const bool apart = next < t->n_row && t->row[next].line > r->line + 1;

    if (i->role == ST_TAKE_NOTE || (i->role == ST_TAKE_HEADING && st_take_section_of(r->words) < 0))
        return true;
    return i->role == ST_TAKE_INGREDIENT &&
           (i->sure == ST_UNREAD || (i->sure >= ST_LIKELY && apart) ||
            (i->line.amount.dim == ST_DIM_OPEN && i->line.amount.open == ST_OPEN_SOME));
}

/* The first row that says something: what stands around a recipe on its page is passed over. */
static int first_row(const struct st_taking *t)
{
    int i = 0;
    while (i < t->n_row && t->row[i].item->role == ST_TAKE_NOTHING && !t->row[i].changed)
        i++;
    return i;
}

static void name_row(struct st_taken *r, bool title)
{
    *r->item = (struct st_take_item){ .role = title ? ST_TAKE_TITLE : ST_TAKE_NOTHING,
                                      .line = { .text = "", .from_step = -1 } };
    r->words = r->when ? r->own : r->sentence;
    memset(r->put, 0, sizeof r->put);
}

/* "Last month I ...": when it was done opens no name. */
static bool opens_with_day(const struct st_taken *r)
{
    const char *bare = r->own + strspn(r->own, " \t");
    return r->when && strncmp(bare, r->when, strlen(r->when)) == 0;
}

/* "Filled the jar with raspberries and vodka.": what was done, and no name. */
static bool is_told_deed(const char *sentence)
{
    const char *bare = st_take_bare(sentence);
    const size_t n = strlen(bare);
    struct st_scan s = { bare, bare + n };
    if (n == 0 || bare[n - 1] != '.')
        return false;
    return st_scan_word(&s, "i|we") || st_words_at(&s, ST_WORD_BIT(ST_WORD_PAST) | ST_WORD_BIT(ST_WORD_DEED)) != NULL;
}

/* "Sloe gin, what I did last month", and a day of its own in the next line: the title's day is that of nothing.  Where
 * goods or deeds stand beneath it without a day of theirs, it is their day: "Sloe gin, begun 4 October". */
static void leave_day(struct st_taking *t, const struct st_taken *title)
{
    const char *when = title->when;
    for (int i = 0; i < t->n_row && when; i++)
        if (t->row[i].when == when &&
            (t->row[i].item->role == ST_TAKE_INGREDIENT || t->row[i].item->role == ST_TAKE_STEP))
            return;
    for (int i = 0; i < t->n_row && when; i++)
        if (t->row[i].when == when)
            t->row[i].when = NULL;
}

void st_take_title(struct st_taking *t)
{
    const int first = first_row(t);
    int n = first;

    for (int i = 0; i < t->n_row && !t->title; i++)
        if (t->row[i].item->role == ST_TAKE_TITLE) {
            t->title = t->row[i].words;
            leave_day(t, &t->row[i]);
        }
    if (t->title || first == t->n_row)
        return;
    const struct st_taken *r = &t->row[first];
    const bool figures = strpbrk(r->sentence, "0123456789");
    bool plain = *r->sentence && strlen(r->sentence) <= 80 && !isdigit((unsigned char)*r->sentence);
    while (n < t->n_row && t->row[n].group == r->group)
        n++;
    for (int i = first; i < n; i++)
        plain = plain && is_plain_words(t, &t->row[i], n) &&
                (!figures || (t->row[i].item->sure >= ST_GUESS && n < t->n_row && t->row[n].line > r->line + 1));
    struct st_scan words = { r->sentence, r->sentence + strlen(r->sentence) };
    if (!plain || opens_with_day(r) || is_told_deed(r->own) || st_take_is_question(r->sentence) ||
        st_scan_word(&words, "dear|hello|hi|hey"))
        return;
    for (int i = first; i < n; i++)
        name_row(&t->row[i], i == first);
    t->title = r->words;
    leave_day(t, r);
}
