#include "slip.h"

#include <math.h>
#include <string.h>

#include "name_form.h"
#include "near.h"

/* Letters that differ, from the likeness. */
static double edits(const char *a, const char *b)
{
    const size_t na = strlen(a), nb = strlen(b);
    return (1.0 - st_near_word(a, na, b, nb)) * (double)(na > nb ? na : nb);
}

bool st_is_slip_of(const char *word, const struct st_ingredient *in)
{
    const char *lists[2] = { in->name, in->names ? in->names : "" };
    const double most = 0.1 + floor((double)strlen(word) / 5.0); /* one letter in five */
    struct st_name_words w;
    char form[ST_NAME_BYTES * 2], own[ST_NAME_BYTES * 2];

    st_name_split(word, strlen(word), &w);
    if (st_name_join(&w, 0, own) < 5)
        return false;
    for (int i = 0; i < 2; i++)
        for (const char *p = lists[i]; *p;) {
            const size_t n = strcspn(p, "|");
            st_name_split(p, n, &w);
            if (st_name_join(&w, 0, form) && form[0] == own[0] && edits(own, form) <= most)
                return true;
            p += n + (p[n] == '|');
        }
    return false;
}

bool st_is_near_to(const char *word, const struct st_ingredient *in)
{
    const char *lists[2] = { in->name, in->names ? in->names : "" };
    struct st_name_words w;
    char form[ST_NAME_BYTES * 2], own[ST_NAME_BYTES * 2];

    st_name_split(word, strlen(word), &w);
    (void)st_name_join(&w, 0, own);
    for (int i = 0; i < 2; i++)
        for (const char *p = lists[i]; *p;) {
            const size_t n = strcspn(p, "|");
            st_name_split(p, n, &w);
            if (st_name_join(&w, 0, form) && st_near_enough(own, form))
                return true;
            p += n + (p[n] == '|');
        }
    return false;
}
