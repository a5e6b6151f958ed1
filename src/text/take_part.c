#include <string.h>

#include "take_inside.h"

/* "juice of 2 lemons": which part of it goes in. */

static struct st_scan scan_from(const struct st_item *it, size_t at)
{
    return (struct st_scan){ it->d.work + at, it->d.work + it->d.n };
}

static void blank(struct st_item *it, size_t from, size_t to)
{
    memset(it->d.work + from, ' ', to - from);
}

static const char PARTS[] =
    "juice|juices|zest|zests|peel|peels|rind|rinds|skin|skins|flesh|pulp|yolk|yolks|white|whites";

static const char *part_named(const char *word, size_t n)
{
    static const struct {
        const char *word, *part;
    } PART[] = { { "juice", "juice" }, { "zest", "peel" },  { "peel", "peel" }, { "rind", "peel" },  { "skin", "peel" },
                 { "flesh", "flesh" }, { "pulp", "flesh" }, { "yolk", "yolk" }, { "white", "white" } };

    for (size_t i = 0; i < sizeof PART / sizeof PART[0]; i++)
        if (n >= strlen(PART[i].word) && strncmp(word, PART[i].word, strlen(PART[i].word)) == 0)
            return PART[i].part;
    return "";
}

/* "rind ½ lemon": in front, and a bare count behind it. */
static bool counts_fruit(const struct st_item *it, size_t at, struct st_scan s)
{
    const struct st_ask ask = { it->context->measures, ST_DIMS_GOODS, false, false };
    struct st_amount a;
    struct st_problem p;

    st_scan_blanks(&s);
    return st_item_only_blanks(it, at) && st_draft_is_number(&it->d, (size_t)(s.at - it->d.work)) &&
           st_closed_read(&s, &ask, &a, NULL, &p) == ST_GOT_AMOUNT && a.dim == ST_DIM_PIECE && !a.unit;
}

/* "juice of 2 lemons": the part; whatever stands before it is left. */
void st_item_part(struct st_item *it)
{
    for (size_t i = 0; i < it->d.n; i++) {
        struct st_scan s = scan_from(it, i);
        if (it->d.work[i] == ' ' || !st_word_begins(it->d.work, i) || !st_scan_word(&s, PARTS))
            continue;
        char word[8] = "";
        const size_t n = (size_t)(s.at - it->d.work) - i;
        for (size_t k = 0; k < n && k + 1 < sizeof word; k++)
            word[k] = (char)(it->d.work[i + k] | 0x20);
        if (!st_scan_word(&s, "only of|of just|of|from|off") && !counts_fruit(it, i, s))
            continue;
        it->part = part_named(word, strlen(word));
        blank(it, i, (size_t)(s.at - it->d.work));
        if (i > 0 && !st_item_only_blanks(it, i)) { /* "the thinly pared", "a strip of" */
            struct st_scan front = scan_from(it, 0);
            st_scan_blanks(&front);
            if (!st_item_amount_at(it, (size_t)(front.at - it->d.work)))
                blank(it, 0, i);
        }
        return;
    }
}
