#include <string.h>

#include "take_row.h"

struct st_taken *st_take_new_row(struct st_parting *p, const char *sentence, const char *own)
{
    struct st_taking *t = p->t;
    if (t->n_row >= ST_TAKE_ROWS) {
        t->too_long = true;
        return NULL;
    }
    struct st_taken *r = &t->row[t->n_row++];
    *r = (struct st_taken){ .line = p->line,
                            .words = own,
                            .sentence = sentence,
                            .own = own,
                            .group = t->n_group,
                            .changed = p->changed,
                            .entry = -1,
                            .stage = -1,
                            .when = p->when };
    r->in_method = p->section == ST_SECTION_METHOD || p->context.in_method || p->story;
    return r;
}

/* Remarks are kept, and not reckoned with. */
void st_take_note_row(struct st_parting *p, const char *sentence)
{
    struct st_taken *r = st_take_new_row(p, sentence, sentence);
    if (!r)
        return;
    r->item = st_arena_alloc(p->t->arena, sizeof *r->item);
    r->item->role = ST_TAKE_NOTE;
}

/* The rows of a line are numbered; one of them may say something else. */
void st_take_change_row(struct st_parting *p, struct st_taken *r)
{
    struct st_take_item item[ST_TAKE_ITEMS];
    const struct st_take_given *g = p->t->given;

    if (r->item->role == ST_TAKE_NOTHING)
        return;
    r->nth = 1;
    for (const struct st_taken *o = p->t->row; o < r; o++)
        r->nth += o->line == r->line && o->nth > 0;
    for (int i = g ? g->n_change - 1 : -1; i >= 0; i--) {
        const char *as = g->change[i].as;
        if (g->change[i].line != r->line || g->change[i].item != r->nth)
            continue;
        r->changed = true;
        r->was = r->words;
        memset(item, 0, sizeof item);
        if (as[strspn(as, " \t")])
            (void)st_take_line(as, strlen(as), p->t->catalogue, &p->context, item);
        else
            item[0] = (struct st_take_item){ .role = ST_TAKE_NOTHING, .line = { .text = "", .from_step = -1 } };
        *r->item = item[0];
        r->words = st_arena_strdup(p->t->arena, as);
        return;
    }
}
