#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "quantity.h"
#include "scan.h"
#include "take_whole.h"

/* Things whose amount is not told, or not in its place. */

static bool read_one(struct st_parting *p, const char *text, struct st_take_item *out)
{
    struct st_take_item one[ST_TAKE_ITEMS];
    struct st_take_context context = p->context;

    memset(one, 0, sizeof one);
    context.in_method = false;
    if (st_take_line(text, strlen(text), p->t->catalogue, &context, one) != 1 || one[0].role != ST_TAKE_INGREDIENT ||
        !one[0].line.what || !*one[0].as)
        return false;
    *out = one[0];
    return true;
}

static bool names_sweet(const struct st_take_item item[], int n)
{
    for (int i = 0; i < n; i++)
        if (item[i].role == ST_TAKE_INGREDIENT && item[i].line.what && item[i].line.what->kind == ST_KIND_SUGAR)
            return true;
    return false;
}

int st_take_unmeasured(struct st_parting *p, const char *sentence, struct st_take_item item[], int n)
{
    static const char *const VERB[] = { "shake in ", "sprinkle in ", "sprinkle over ",
                                        "strew in ", "stir in ",     "sprinkle with " };
    const char *bare = st_take_bare(sentence);

    if (n >= ST_TAKE_ITEMS || names_sweet(item, n))
        return n;
    for (int i = 0; i < p->t->n_row; i++)
        if (names_sweet(p->t->row[i].item, 1))
            return n; /* it stands in the list */
    for (size_t i = 0; i < sizeof VERB / sizeof VERB[0]; i++) {
        if (strncasecmp(bare, VERB[i], strlen(VERB[i])) != 0)
            continue;
        const char *name = bare + strlen(VERB[i]), *until = strstr(name, " until ");
        struct st_scan s = { name, name + strlen(name) };
        if (st_scan_word(&s, "the|all|half|rest|it|your|this|that|what"))
            return n; /* it was spoken of before */
        size_t k = strcspn(name, ".,;(");
        k = until && (size_t)(until - name) < k ? (size_t)(until - name) : k;
        const char *said = st_arena_printf(p->t->arena, "some %.*s", (int)k, name);
        if (k > 40 || !read_one(p, said, &item[n]))
            return n;
        item[n].at = (size_t)(name - sentence);
        item[n].n = k;
        item[n].sure = ST_GUESS;
        (void)snprintf(item[n].because, sizeof item[n].because, "no amount is written");
        return n + 1;
    }
    return n;
}

/* The first weight or volume in a text, as it is written; 0 bytes when there is none. */
static size_t amount_at(const struct st_taking *t, const char *text, size_t *n)
{
    struct st_problem p;
    struct st_amount a;
    for (size_t i = 0; text[i]; i++)
        if (st_take_is_word_byte(text[i]) && (i == 0 || !st_take_is_word_byte(text[i - 1])) &&
            st_quantity_parse(text + i, strlen(text + i), t->measures, &a, n, &p) >= 0 &&
            (a.dim == ST_DIM_MASS || a.dim == ST_DIM_VOLUME))
            return i;
    *n = 0;
    return 0;
}

/* "last time 500 g was too much, so 350 g": the first is not meant. */
static const char TAKEN_BACK[] =
    "too much|too little|not enough|too sweet|too many|too few|last time|last year|used to";

int st_take_hearsay(struct st_parting *p, const char *sentence, struct st_take_item item[], int n)
{
    const char *bare = st_take_bare(sentence), *colon = strchr(bare, ':');
    size_t size = 0;

    if (n != 1 || item[0].role != ST_TAKE_NOTE || p->section == ST_SECTION_NOTES || !colon || colon == bare ||
        colon - bare > 30 || !st_catalogue_find(p->t->catalogue, bare, (size_t)(colon - bare)))
        return n;
    size_t at = amount_at(p->t, colon + 1, &size), more = 0;
    if (size == 0)
        return n;
    const size_t next = at + size + amount_at(p->t, colon + 1 + at + size, &more);
    if (more && st_take_has_word(st_arena_strndup(p->t->arena, colon + 1, next - 1), TAKEN_BACK)) {
        at = next;
        size = more;
    }
    const char *said = st_arena_printf(p->t->arena, "%.*s %.*s", (int)size, colon + 1 + at, (int)(colon - bare), bare);
    struct st_take_item one;
    if (!read_one(p, said, &one))
        return n;
    item[0] = one;
    item[0].at = 0;
    item[0].n = strlen(sentence);
    item[0].sure = ST_GUESS;
    (void)snprintf(item[0].because, sizeof item[0].because, "the amount stands in a remark");
    item[0].ask[0] = (struct st_take_ask){ .kind = ST_ASK_AMOUNT };
    (void)snprintf(item[0].ask[0].ask, sizeof item[0].ask[0].ask, "How much %.60s went in?", one.line.what->name);
    (void)snprintf(item[0].ask[0].with, sizeof item[0].ask[0].with, "%%s %.100s", one.line.what->name);
    item[0].n_ask = 1;
    return 1;
}

/* Do these words stand right before the place? */
static bool stands_before(const char *sentence, size_t at)
{
    static const char *const WORDS[] = { "that is ",     "which is ",     "that makes ", "which makes ",
                                         "that leaves ", "which leaves ", "that gives ", "which gives " };
    for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++) {
        const size_t n = strlen(WORDS[i]);
        if (at >= n && strncasecmp(sentence + at - n, WORDS[i], n) == 0)
            return true;
    }
    return false;
}

void st_take_left_of(struct st_parting *p, const char *sentence, struct st_take_item item[], int n)
{
    for (int i = 1; i < n; i++) {
        struct st_take_item *of = &item[i - 1], left;
        const struct st_amount *a = &item[i].line.amount;
        if (of->role != ST_TAKE_INGREDIENT || !of->line.what || !of->line.gross || a->dim != ST_DIM_MASS ||
            a->value > of->line.amount.value || !stands_before(sentence, item[i].at))
            continue;
        if (!read_one(p, st_arena_printf(p->t->arena, "%.6g g %s", a->value, of->line.what->name), &left))
            continue;
        left.at = of->at;
        left.n = item[i].at + item[i].n - of->at;
        left.sure = ST_LIKELY;
        (void)snprintf(left.because, sizeof left.because, "what is left of it is told");
        *of = left;
        item[i] = (struct st_take_item){ .role = ST_TAKE_NOTHING, .line = { .text = "", .from_step = -1 } };
    }
}
