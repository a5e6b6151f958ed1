#include <stdio.h>
#include <string.h>

#include "amiss.h"
#include "scan.h"
#include "take_diary.h"
#include "take_prose.h"
#include "take_row.h"

/* What no step can say is told in a row of its own, and blanked out of the sentence; what is left of it. */
const char *st_take_put_unreckoned(struct st_parting *p, const char *own)
{
    char *left = st_arena_strdup(p->t->arena, own);
    size_t at, n;

    for (const char *why; (why = st_take_away(left, p->t->text, &at, &n)) != NULL;) {
        struct st_taken *r = st_take_new_row(p, "", st_arena_strndup(p->t->arena, own + at, n));
        if (!r)
            break;
        r->item = st_arena_alloc(p->t->arena, sizeof *r->item);
        *r->item = (struct st_take_item){ .role = ST_TAKE_INGREDIENT,
                                          .sure = ST_UNREAD,
                                          .line = { .text = "", .from_step = -1 } };
        (void)snprintf(r->item->because, sizeof r->item->because, "%s", why);
        st_take_change_row(p, r);
        p->t->n_group++;
        struct st_scan s = { left + at + n, left + strlen(left) };
        while (s.at < s.end && strchr(" ,", *s.at))
            s.at++;
        (void)st_scan_word(&s, "and then|and|then|but"); /* what joins it to the next deed goes with it */
        memset(left + at, ' ', (size_t)(s.at - left) - at);
    }
    return left;
}

/* Days are blanked out of a sentence and told with its rows; a length of time ("after six weeks") stays in it too. */
const char *st_take_put_days(struct st_parting *p, const char *own)
{
    char *left = st_arena_strdup(p->t->arena, own);
    bool since;

    for (size_t at = 0, n; (n = st_take_day_in(left, &at, &since)) > 0; at += n) {
        p->when = st_arena_strndup(p->t->arena, own + at, n);
        if (!since)
            memset(left + at, ' ', n);
    }
    return left;
}

/* What came off is a volume that was read: no ingredient, and a row of its own. */
const char *st_take_put_came_off(struct st_parting *p, const char *shown, const char *own)
{
    struct st_amount a;
    size_t at, n;

    if (!st_take_came_off(own, p->t->measures, &at, &n, &a))
        return own;
    struct st_taken *r = st_take_new_row(p, "", st_arena_strndup(p->t->arena, shown + at, n));
    if (!r)
        return own;
    r->item = st_arena_alloc(p->t->arena, sizeof *r->item);
    *r->item = (struct st_take_item){ .role = ST_TAKE_NOTE, .line = { .text = "", .from_step = -1 } };
    (void)snprintf(r->item->because, sizeof r->item->because, "%.6g mL came off: a volume that was read, no ingredient",
                   a.value);
    r->came_ml = a.value;
    p->t->n_group++;
    char *left = st_arena_strdup(p->t->arena, own);
    memset(left + at, ' ', n);
    return left;
}

/* What has gone wrong is no ingredient and no deed: a row of its own, kept in the maker's words. */
const char *st_take_put_amiss(struct st_parting *p, const char *own)
{
    size_t at = 0, n = st_amiss_clause(own, &at);

    while (n > 0 && own[at] == ' ')
        at++, n--;
    if (n == 0 || strspn(own, " ,;.") == at) /* the sentence is told as a whole */
        return own;
    struct st_taken *r = st_take_new_row(p, "", st_arena_strndup(p->t->arena, own + at, n));
    if (!r)
        return own;
    r->item = st_arena_alloc(p->t->arena, sizeof *r->item);
    *r->item = (struct st_take_item){ .role = ST_TAKE_NOTE, .line = { .text = "", .from_step = -1 } };
    p->t->n_group++;
    char *left = st_arena_strdup(p->t->arena, own);
    memset(left + at, ' ', n);
    return left;
}

/* Was this place read as a thing, or is it told as unread already? */
static bool is_told(const struct st_take_item item[], int n, size_t at)
{
    for (int i = 0; i < n; i++)
        if (item[i].role == ST_TAKE_INGREDIENT && at + 1 > item[i].at && at < item[i].at + item[i].n)
            return true;
    return false;
}

static void put_one_unknown(struct st_parting *p, const char *words, size_t n)
{
    struct st_taken *r = st_take_new_row(p, "", st_arena_strndup(p->t->arena, words, n));
    if (!r)
        return;
    r->item = st_arena_alloc(p->t->arena, sizeof *r->item);
    *r->item =
        (struct st_take_item){ .role = ST_TAKE_INGREDIENT, .sure = ST_UNREAD, .line = { .text = "", .from_step = -1 } };
    (void)snprintf(r->item->because, sizeof r->item->because, "no ingredient is found in it");
    if (p->story || p->when)
        st_take_ask_what(p->t, r->item, words, n);
    st_take_change_row(p, r);
    st_take_answer_row(p->t, r);
}

void st_take_put_unknown(struct st_parting *p, const char *sentence, const struct st_take_item item[], int found,
                         int read)
{
    int told = 0;
    for (size_t at = 0, n = 0; st_take_unknown_in(p->t->catalogue, sentence, &at, &n); at += n)
        if (!is_told(item, found, at)) {
            put_one_unknown(p, sentence + at, n);
            told++;
        }
    const bool goods = read > 0 && item[0].role == ST_TAKE_INGREDIENT && p->section != ST_SECTION_NOTES;
    for (size_t at = 0, n; told == 0 && goods && (n = st_take_amount_left(p->t, sentence, item, read, &at)) > 0;
         at += n)
        put_one_unknown(p, sentence + at, n);
}
