#include "take_caution.h"

#include <stdio.h>
#include <string.h>

#include "caution_heat.h"
#include "held.h"
#include "take_await.h"

bool st_take_row_is_out(const struct st_take *t, int row)
{
    const struct st_take_read_as *r = &t->row[row];
    return r->item->role == ST_TAKE_INGREDIENT && r->item->line.what &&
           (r->item->sure == ST_UNREAD || r->step < 0 || !st_take_may_be_foretold(t));
}

bool st_take_is_unreckoned(const struct st_take *t, int row)
{
    const struct st_take_item *item = t->row[row].item;
    return item->role == ST_TAKE_INGREDIENT && item->sure == ST_UNREAD &&
           strncmp(item->because, "not reckoned: ", 14) == 0;
}

/* The strongest thing that the text pours, % vol; 0 none. */
static double strongest(const struct st_take *t)
{
    double most = 0.0;
    for (int i = 0; i < t->n_row; i++) {
        const double q = t->row[i].item->role == ST_TAKE_INGREDIENT ? st_line_strength(&t->row[i].item->line) : 0.0;
        most = q > most ? q : most;
    }
    return most;
}

/* A sentence in no step: its words warm what is there, or nothing. */
static int warmed_in_row(const struct st_take *t, int row, struct st_cautions *out)
{
    const struct st_take_read_as *r = &t->row[row];
    const bool unread_deed =
        r->item->role == ST_TAKE_STEP && (r->item->sure == ST_UNREAD || r->step < 0 || !st_take_may_be_foretold(t));

    if ((r->item->role == ST_TAKE_NOTE || unread_deed || st_take_is_unreckoned(t, row)) &&
        !(row > 0 && t->row[row - 1].words == r->words))
        (void)st_caution_warmed_in(out, r->words, strongest(t), -1, r->line);
    return out->n;
}

int st_take_row_cautions(const struct st_take *t, int row, struct st_cautions *out)
{
    static const struct st_range NONE = { 0 };
    struct st_cautions all;
    struct st_line line = { .text = t->row[row].words, .from_step = -1, .what = t->row[row].item->line.what };
    struct st_step step = { .id = "", .words = "", .kind = ST_DO_STEEP, .line = &line, .n_line = 1 };
    const struct st_recipe r = { .file = "", .title = "", .step = &step, .n_step = 1 };

    out->n = 0;
    if (!st_take_row_is_out(t, row))
        return warmed_in_row(t, row, out);
    line.amount.dim = step.time.dim = step.boil_down_to.dim = ST_DIM_OPEN;
    step.loss_share = NONE;
    st_cautions_collect(&r, NULL, NULL, &all);
    for (int i = 0; i < all.n; i++) {
        if (all.item[i].line < 0)
            continue; /* of a whole bottle, which this is none */
        out->item[out->n] = all.item[i];
        out->item[out->n].step = -1;
        out->item[out->n++].line = t->row[row].line;
    }
    return out->n;
}

const struct st_ingredient *st_take_stop_out(const struct st_take *t)
{
    for (int i = 0; i < t->n_row; i++)
        if (st_take_row_is_out(t, i) && st_ingredient_is_stopped(t->row[i].item->line.what))
            return t->row[i].item->line.what;
    return NULL;
}

const struct st_ingredient *st_take_stop(const struct st_take *t)
{
    for (int i = 0; i < t->n_row; i++) {
        const struct st_take_item *item = t->row[i].item;
        if (item->role == ST_TAKE_INGREDIENT && item->line.what && st_ingredient_is_stopped(item->line.what))
            return item->line.what;
    }
    return NULL;
}

static bool stopped_before(const struct st_take *t, int row)
{
    for (int i = 0; i < row; i++)
        if (t->row[i].item->role == ST_TAKE_INGREDIENT && t->row[i].item->line.what == t->row[row].item->line.what)
            return true;
    return false;
}

int st_take_stops(const struct st_take *t, struct st_cautions *out)
{
    struct st_line line = { .text = "", .from_step = -1, .amount = { .dim = ST_DIM_OPEN } };
    struct st_step step = { .id = "", .words = "", .kind = ST_DO_STEEP, .line = &line, .n_line = 1 };
    const struct st_recipe r = { .file = "", .title = "", .step = &step, .n_step = 1 };
    struct st_cautions one;
    int n = 0;

    step.time.dim = step.boil_down_to.dim = ST_DIM_OPEN;
    out->n = 0;
    for (int i = 0; i < t->n_row; i++) {
        const struct st_ingredient *in = t->row[i].item->line.what;
        if (t->row[i].item->role != ST_TAKE_INGREDIENT || !in || !st_ingredient_is_stopped(in) || stopped_before(t, i))
            continue;
        line.what = in;
        st_cautions_collect(&r, NULL, NULL, &one);
        for (int k = 0; k < one.n && out->n < ST_MAX_CAUTIONS; k++)
            if (one.item[k].level == ST_LEVEL_STOP)
                out->item[out->n++] = one.item[k];
        n++;
    }
    return n;
}

static bool told_before(const struct st_take *t, int row)
{
    for (int i = 0; i < row; i++)
        if (st_take_row_is_out(t, i) && t->row[i].item->line.what == t->row[row].item->line.what)
            return true;
    return false;
}

int st_take_allergens_out(const struct st_take *t, char *buf, size_t size)
{
    int n = 0;
    buf[0] = '\0';
    for (int i = 0; i < t->n_row; i++) {
        const struct st_ingredient *in = t->row[i].item->line.what;
        if (!st_take_row_is_out(t, i) || in->n_allergen == 0 || told_before(t, i))
            continue;
        const size_t used = strlen(buf);
        (void)snprintf(buf + used, size - used, "%s%s (%s)", used ? ", " : "", in->name, in->allergen[0].what);
        n++;
    }
    for (char *p = buf; *p; p++)
        *p = *p == '_' ? ' ' : *p;
    return n;
}
