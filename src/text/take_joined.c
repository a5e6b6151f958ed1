#include <ctype.h>
#include <string.h>

#include "scan.h"
#include "take_row.h"

/* A line that goes on in the next one: prose that was broken to a width. */
static bool goes_on(const struct st_parting *p, const char *line, size_t n, const char *next)
{
    if (n < 40 || (p->section != ST_SECTION_METHOD && n < 55))
        return false;
    while (n && (line[n - 1] == ' ' || line[n - 1] == '\t'))
        n--;
    if (n == 0 || !(st_take_is_word_byte(line[n - 1]) || line[n - 1] == ','))
        return false;
    if (islower((unsigned char)*next))
        return true;
    size_t word = n;
    while (word && st_take_is_word_byte(line[word - 1]))
        word--;
    struct st_scan s = { line + word, line + n };
    return isdigit((unsigned char)*next) &&
           st_scan_word(&s, "a|an|the|of|in|into|with|and|for|to|or|over|by|at|from|add");
}

static const struct st_take_change *change_of(const struct st_taking *t, int line)
{
    for (int i = t->given ? t->given->n_change - 1 : -1; i >= 0; i--)
        if (t->given->change[i].line == line && t->given->change[i].item == 0)
            return &t->given->change[i];
    return NULL;
}

/* How many ingredients these words name with what they are read as. */
static int n_things(const struct st_parting *p, const char *text, size_t n)
{
    int things = 0;
    while (n) {
        struct st_take_item item[ST_TAKE_ITEMS];
        struct st_take_context context = p->context;
        const size_t k = st_take_sentence(text, n);
        memset(item, 0, sizeof item);
        const int found = st_take_line(text, k, p->t->catalogue, &context, item);
        for (int i = 0; i < found; i++)
            things += item[i].role == ST_TAKE_INGREDIENT;
        text += k;
        n -= k;
        while (n && (*text == ' ' || *text == '\t'))
            text++, n--;
    }
    return things;
}

/* A whole line is said otherwise: nothing that stood in it may be lost by that. */
static void see_crowded(const struct st_parting *p, const char *line, size_t n, const char *as)
{
    const size_t k = strcspn(as, "\n");
    const int before = as[strspn(as, " \t")] ? n_things(p, line, n) : 0;
    if (before > 1 && n_things(p, as, k) < before)
        p->t->crowded = p->line;
}

/* The line that begins at *from; *from is moved behind it.  Lines that belong together are joined in joined. */
void st_take_next_line(struct st_parting *p, const char **from, int *number, struct st_buf *joined)
{
    const struct st_take_change *change = change_of(p->t, ++*number);
    size_t n = strcspn(*from, "\n");

    p->line = *number;
    p->changed = change != NULL;
    st_buf_clear(joined);
    if (change)
        see_crowded(p, *from, n, change->as);
    if (change)
        st_buf_add_n(joined, change->as, strcspn(change->as, "\n"));
    else
        st_buf_add_n(joined, *from, n);
    while ((*from)[n] == '\n' && !change && !change_of(p->t, *number + 1) &&
           goes_on(p, st_buf_text(joined), joined->length, *from + n + 1)) {
        const char *more = *from + n + 1;
        const size_t k = strcspn(more, "\n");
        ++*number;
        st_buf_char(joined, ' ');
        st_buf_add_n(joined, more, k);
        n += 1 + k;
    }
    *from += n + ((*from)[n] == '\n');
}
