#include <stdio.h>
#include <string.h>

#include "quantity.h"
#include "take_per.h"

/* "Makes about 1.2 litres": what the text says it comes to, beside what is reckoned. */

/* The volume in a line that tells how much is made. */
static bool yield_in(const struct st_taking *t, const char *text, struct st_amount *out)
{
    struct st_problem p;
    size_t used;

    if (!st_take_has_word(text, "makes|make|yields|yield|gives|produces|enough for|quantity"))
        return false;
    for (const char *s = text; *s; s++) {
        if ((s > text && s[-1] != ' ' && s[-1] != '(') || *s == ' ')
            continue;
        if (st_quantity_parse(s, strlen(s), t->measures, out, &used, &p) == 0 && out->dim == ST_DIM_VOLUME &&
            out->open == ST_CLOSED && out->value >= 100)
            return true;
    }
    return false;
}

void st_take_yield(struct st_taking *t, const struct st_recipe *r)
{
    for (int i = 0; i < t->n_row; i++) {
        const struct st_taken *row = &t->row[i];
        struct st_amount a;
        struct st_range ml;
        if ((row->item->role != ST_TAKE_NOTE && row->item->role != ST_TAKE_HEADING) || row->in_method ||
            !yield_in(t, row->sentence, &a))
            continue;
        if (!st_take_volume_of(r, &ml))
            return;
        const bool agrees = a.low <= ml.high && ml.low <= a.high;
        st_take_say(t,
                    agrees ? "\"%.60s\": by what was read it is about %.3g L (%.2g to %.2g L), which agrees."
                           : "\"%.60s\": by what was read it is about %.3g L (%.2g to %.2g L). They differ: look "
                             "whether something is missing, or was read wrong.",
                    st_take_bare(row->own), ml.value / 1000, ml.low / 1000, ml.high / 1000);
        return;
    }
}
