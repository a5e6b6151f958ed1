#include "api/book_batch_along.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_own.h"
#include "text/allergen_said.h"
#include "text/caution_brought.h"
#include "text/held.h"
#include "util/memory.h"

enum { NOTES = 12 };

/* ---- allergens ---- */

struct flags {
    const struct st_flag *flag[ST_MAX_ALLERGENS];
    int n, more; /* more: times that one had no room */
};

/* The surest of each sort; in a full list the least sure gives way. */
static void take_flag(struct flags *x, const struct st_flag *f)
{
    int at = 0;
    while (at < x->n && strcmp(x->flag[at]->what, f->what) != 0)
        at++;
    if (at == ST_MAX_ALLERGENS) {
        x->more++;
        at = 0;
        for (int i = 1; i < x->n; i++)
            if (st_scope_weight(x->flag[i]->degree) < st_scope_weight(x->flag[at]->degree))
                at = i;
    }
    if (at == x->n)
        x->n++;
    else if (st_scope_weight(x->flag[at]->degree) >= st_scope_weight(f->degree))
        return;
    x->flag[at] = f;
}

/* Whether some had no room: those of the sheets have (tests/unit/test_allergen_said.c), names that makers give may not. */
static bool put_allergens(struct st_buf *b, const struct st_recipe *r)
{
    struct flags all = { .n = 0 };
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_ingredient *in = r->step[s].line[i].what;
            for (int k = 0; in && k < in->n_allergen; k++)
                take_flag(&all, &in->allergen[k]);
        }
    for (int i = 0; i < all.n; i++) {
        char text[160];
        st_buf_add(b, i ? ", " : ", allergens: [");
        (void)snprintf(text, sizeof text, "%.60s%s", all.flag[i]->what, st_allergen_write(all.flag[i]->degree));
        st_batch_quoted(b, text);
    }
    st_buf_add(b, all.n ? "]" : "");
    return all.more > 0;
}

/* ---- cautions ---- */

/* What the sheet says of the fruit that it still is, is told by what it is like. */
static bool is_its_own(const struct st_recipe *r, const struct st_caution *c, const char *like)
{
    const struct st_ingredient *in = c->step >= 0 && c->line >= 0 ? r->step[c->step].line[c->line].what : NULL;
    for (int i = 0; in && *like && strcmp(in->slug, like) == 0 && i < in->n_caution; i++)
        if (strcmp(in->caution[i].what, c->code) == 0)
            return true;
    return false;
}

/* An end that was cut in the middle of a letter goes. */
static void end_whole(char *text)
{
    size_t n = strlen(text), at = n;
    while (at > 0 && ((unsigned char)text[at - 1] & 0xc0) == 0x80)
        at--;
    if (at > 0 && (unsigned char)text[at - 1] >= 0xc0) {
        const unsigned char lead = (unsigned char)text[at - 1];
        const size_t want = lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : 2;
        if (n - (at - 1) < want)
            text[at - 1] = '\0';
    }
}

static void put_words(struct st_buf *b, const char *key, const char *text)
{
    if (!*text)
        return;
    st_buf_printf(b, ", %s: ", key);
    st_batch_quoted(b, text);
}

static void put_one(struct st_buf *b, const struct st_recipe *r, const struct st_caution *c, const char *batch)
{
    char what[sizeof c->what], because[sizeof c->because];
    st_caution_of_batch(c, r, batch, what, sizeof what);
    end_whole(what);
    (void)snprintf(because, sizeof because, "%s", c->because);
    char *worst = strstr(because, ST_CAUTION_NO_WORST);
    if (worst)
        *worst = '\0';
    end_whole(because);
    st_buf_printf(b, "{level: %s", st_level_name(c->level));
    put_words(b, "code", c->code);
    put_words(b, "what", what);
    put_words(b, "because", because);
    put_words(b, "source", c->source);
    st_buf_char(b, '}');
}

static void put_cautions(struct st_buf *b, const struct st_recipe *r, const struct st_foretold *f, const char *batch,
                         const char *like, const char *first, bool no_room)
{
    struct st_cautions *all = x_calloc(1, sizeof *all); /* large */
    int n = 0, notes = 0, more = 0;
    if (no_room) {
        struct st_caution c = {
            .level = ST_LEVEL_CAUTION, .code = "allergens_more", .source = "", .step = -1, .line = -1
        };
        (void)snprintf(c.what, sizeof c.what, "and more allergens of %.20s than there is room for here", batch);
        (void)snprintf(c.because, sizeof c.because, "all of them stand with it: stillroom cautions %.20s", batch);
        st_buf_add(b, n++ ? ", " : ", brings: [");
        put_one(b, r, &c, batch);
    }
    if (*first)
        st_buf_printf(b, "%s%s", n++ ? ", " : ", brings: [", first);
    st_cautions_collect(r, f, NULL, all);
    for (int i = 0; i < all->n; i++) {
        const struct st_caution *c = &all->item[i];
        if (!st_caution_goes_along(c) || c->step >= r->n_step || is_its_own(r, c, like))
            continue;
        if (n == ST_MAX_BROUGHT - 1 || (c->level == ST_LEVEL_NOTE && notes++ >= NOTES)) {
            more++;
            continue;
        }
        st_buf_add(b, n++ ? ", " : ", brings: [");
        put_one(b, r, c, batch);
    }
    if (more) {
        struct st_caution rest = { .level = ST_LEVEL_NOTE, .code = "left_out", .source = "", .step = -1, .line = -1 };
        (void)snprintf(rest.what, sizeof rest.what, "%d notes more: stillroom cautions %.20s", more, batch);
        st_buf_add(b, ", ");
        put_one(b, r, &rest, batch);
    }
    st_buf_add(b, n ? "]" : "");
    free(all);
}

void st_batch_along(const struct st_recipe *r, const struct st_foretold *f, const char *batch, int drained,
                    const char *like, const char *first, struct st_buf *b)
{
    struct st_recipe part = *r;
    const bool no_room = put_allergens(b, r);
    if (drained >= 0)
        part.n_step = drained + 1;
    put_cautions(b, &part, f, batch, like, first, no_room);
}
