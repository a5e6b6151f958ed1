/* The days of a batch that was told in own words, into the book. */
#include <stdio.h>
#include <string.h>

#include "cli/batch_told.h"

/* ---- what went in later ---- */

/* The line of its step that a row became, from 1; 0 none. */
static int line_of(const struct st_recipe *r, const struct batch_told_row *row)
{
    const struct st_step *s = row->step >= 0 && row->step < r->n_step ? &r->step[row->step] : NULL;
    for (int i = 0; s && i < s->n_line; i++)
        if (s->line[i].what && strcmp(s->line[i].what->slug, row->slug) == 0 &&
            s->line[i].amount.dim == row->goods.amount.dim && s->line[i].amount.value == row->goods.amount.value)
            return i + 1;
    return 0;
}

/* A weight or a volume that is told as one figure, as words; "" none. */
static const char *weighed(struct batch *b, const struct st_amount *a)
{
    if (a->open != ST_CLOSED || a->vague || a->low < a->value || a->high > a->value ||
        (a->dim != ST_DIM_MASS && a->dim != ST_DIM_VOLUME))
        return "";
    return batch_text(b, "%.9g %s", a->value, a->dim == ST_DIM_MASS ? "g" : "mL");
}

static enum book_status keep_goods(struct batch *b, const struct book_batch *batch, const struct st_recipe *r,
                                   const struct batch_told_row *row)
{
    struct book_weighing w;
    const int line = line_of(r, row);
    const char *words = weighed(b, &row->goods.amount);
    if (line == 0 || !*words)
        return BOOK_OK; /* its amount is open, or a measure that was not weighed: it stands in the recipe alone */
    book_row_init(BOOK_WEIGHING, &w);
    w.batch_id = batch->id;
    w.step = r->step[row->step].id;
    w.line = line;
    w.words = words;
    w.on_day = row->day;
    w.note = row->words;
    return book_put(b->book, BOOK_WEIGHING, &w, NULL);
}

/* ---- what was taken off ---- */

static bool ends(enum batch_deed_told deed, const char *doing)
{
    static const char *const STRAIN[] = { "steeping", "standing", NULL };
    static const char *const FILTER[] = {
        "steeping", "standing", "waiting to be filtered", "resting", "clearing", NULL
    };
    static const char *const RACK[] = { "waiting to be racked", "resting", "clearing", NULL };
    const char *const *of = deed == BATCH_TOLD_STRAIN ? STRAIN : deed == BATCH_TOLD_FILTER ? FILTER : RACK;
    for (; *of; of++)
        if (strcmp(*of, doing) == 0)
            return true;
    return false;
}

/* The jars that this ends, and those that follow them; *step goes to that of the last. */
static enum book_status keep_strained(struct batch *b, const struct book_batch *batch, const struct st_recipe *r,
                                      const struct batch_told_row *row, const char **step)
{
    struct st_batch_jar *j;
    int n, next, ended = 0;
    enum book_status s = st_batch_jars(&b->ask, batch->id, false, &j, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        if (!ends(row->deed, j[i].row.doing) || strcmp(row->day, j[i].row.begun_on) < 0)
            continue;
        j[i].row.ended_on = row->day;
        *step = j[i].row.step;
        ended++;
        s = book_put(b->book, BOOK_JAR, &j[i].row, NULL);
    }
    if (s == BOOK_OK && ended && r)
        s = batch_begin_jars(b, batch, r, row->day, NULL, NULL, &next);
    return s;
}

static enum book_status keep_came(struct batch *b, const struct book_batch *batch, const struct batch_told_row *row,
                                  const char *step)
{
    struct book_reading r;
    struct st_problem p = { .is_question = 0 };
    book_row_init(BOOK_READING, &r);
    if (st_batch_reading(batch_text(b, "volume=%.9gmL", row->came_ml), &r, &p) != 0)
        return BOOK_OK;
    r.batch_id = batch->id;
    r.step = step;
    r.at = row->day;
    r.by_whom = "";
    r.of = "";
    r.words = row->words;
    r.after_straining = 1;
    return book_put(b->book, BOOK_READING, &r, NULL);
}

enum book_status batch_told_keep(struct batch *b, const struct book_batch *batch, const struct st_recipe *r,
                                 const struct batch_told *t)
{
    const char *step = "";
    enum book_status s = BOOK_OK;
    for (int i = 0; i < t->n && s == BOOK_OK; i++) {
        const struct batch_told_row *row = &t->row[i];
        if (!*row->day)
            continue;
        if (row->deed == BATCH_TOLD_GOODS && r && strcmp(row->day, t->begun_on) > 0)
            s = keep_goods(b, batch, r, row);
        if (row->deed > BATCH_TOLD_GOODS)
            s = keep_strained(b, batch, r, row, &step);
    }
    for (int i = 0; i < t->n && s == BOOK_OK; i++)
        if (*t->row[i].day && t->row[i].came_ml > 0.0)
            s = keep_came(b, batch, &t->row[i], step);
    return s;
}
