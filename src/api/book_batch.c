#include "api/book_batch.h"

#include <ctype.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "text/name_form.h"
#include "text/piece_named.h"

/* ---- messages ---- */

int st_batch_refuse(struct st_problem *p, const char *why, const char *try_, const char *what, ...)
{
    va_list args;
    *p = (struct st_problem){ .is_question = 0 };
    va_start(args, what);
    (void)vsnprintf(p->what, sizeof p->what, what, args);
    va_end(args);
    (void)snprintf(p->why, sizeof p->why, "%s", why);
    (void)snprintf(p->try_, sizeof p->try_, "%s", try_);
    return -1;
}

/* ---- a batch ---- */

/* "b14" as codes are written. */
static void upper(const char *said, char out[64])
{
    size_t i = 0;
    for (; i < 63 && said[i]; i++)
        out[i] = (char)toupper((unsigned char)said[i]);
    out[i] = '\0';
}

/* The first batch whose name begins so, -1: none; *hits: how many do. */
static int by_beginning(const struct book_batch *all, int n, const char *said, int *hits)
{
    const size_t size = strlen(said);
    int found = -1;
    for (int i = 0; size >= 3 && i < n; i++)
        if (strncasecmp(all[i].name, said, size) == 0 && ++*hits == 1)
            found = i;
    return found;
}

/* The one batch of this name, in any case of letters; the last begun that still stands rules over ended ones.  Where
 * none has it, the one whose name begins so. */
static enum book_status by_name(const struct st_batch_ask *a, const char *said, struct book_batch *out,
                                struct st_problem *problem)
{
    struct book_batch *all;
    int n, found = -1, open = 0, hits = 0;
    const struct book_wanted brief = { .brief = true };
    const enum book_status s = book_list(a->book, BOOK_BATCH, &brief, a->arena, &all, &n);
    if (s != BOOK_OK)
        return s;
    for (int i = 0; i < n; i++) {
        if (strcasecmp(all[i].name, said) != 0)
            continue;
        hits++;
        open += all[i].ended_on == NULL;
        if (found < 0 || !all[i].ended_on || all[found].ended_on)
            found = i;
    }
    if (hits == 0)
        found = by_beginning(all, n, said, &hits);
    if (hits == 1 || (hits > 1 && open == 1))
        return book_get(a->book, BOOK_BATCH, all[found].id, a->arena, out);
    if (hits > 1)
        st_batch_refuse(problem, "several batches have that name", "say its code; \"stillroom batch\" shows them",
                        "which \"%.80s\"", said);
    else
        st_batch_refuse(problem, "no batch has that code or name",
                        n ? "\"stillroom batch\" shows what stands, \"stillroom batch all\" every one"
                          : "begin one: stillroom batch begin RECIPE",
                        "batch \"%.80s\"", said);
    return BOOK_NONE;
}

/* A caller with a bottle in hand reads out what stands on it. */
static enum book_status by_bottling(const struct st_batch_ask *a, const char *said, struct book_batch *out)
{
    struct book_bottling f;
    const enum book_status s =
        book_find(a->book, BOOK_BOTTLING, &(struct book_wanted){ .column = "code", .text = said }, a->arena, &f);
    return s == BOOK_OK ? book_get(a->book, BOOK_BATCH, f.batch_id, a->arena, out) : s;
}

enum book_status st_batch_find(const struct st_batch_ask *a, const char *said, struct book_batch *out,
                               struct st_problem *problem)
{
    char code[64];
    problem->what[0] = '\0';
    upper(said, code);
    enum book_status s =
        book_find(a->book, BOOK_BATCH, &(struct book_wanted){ .column = "code", .text = said }, a->arena, out);
    if (s == BOOK_NONE)
        s = book_find(a->book, BOOK_BATCH, &(struct book_wanted){ .column = "code", .text = code }, a->arena, out);
    if (s == BOOK_NONE)
        s = by_bottling(a, said, out);
    if (s == BOOK_NONE)
        s = by_bottling(a, code, out);
    return s == BOOK_NONE ? by_name(a, said, out, problem) : s;
}

/* Ids are never used again, so a code that was taken back by an undo is not given to another batch. */
enum book_status st_batch_next_code(const struct st_batch_ask *a, char code[40])
{
    struct book_batch last, taken;
    const struct book_wanted newest = { .order = "id", .backward = true, .most = 1 };
    enum book_status s = book_find(a->book, BOOK_BATCH, &newest, a->arena, &last);
    if (s < 0)
        return s;
    for (int64_t k = s == BOOK_OK ? last.id + 1 : 1;; k++) {
        (void)snprintf(code, 40, "B%lld", (long long)k);
        s = book_find(a->book, BOOK_BATCH, &(struct book_wanted){ .column = "code", .text = code }, a->arena, &taken);
        if (s != BOOK_OK)
            return s == BOOK_NONE ? BOOK_OK : s;
    }
}

/* ---- a lot ---- */

enum book_status st_batch_lot(const struct st_batch_ask *a, const char *said, struct book_lot *out,
                              struct st_problem *problem)
{
    char code[64];
    problem->what[0] = '\0';
    upper(said, code);
    enum book_status s =
        book_find(a->book, BOOK_LOT, &(struct book_wanted){ .column = "code", .text = said }, a->arena, out);
    if (s == BOOK_NONE)
        s = book_find(a->book, BOOK_LOT, &(struct book_wanted){ .column = "code", .text = code }, a->arena, out);
    if (s == BOOK_NONE)
        st_batch_refuse(problem, "there is no lot of that code", "\"stillroom larder\" shows them", "lot \"%.80s\"",
                        said);
    return s;
}

enum book_status st_batch_lot_strength(const struct st_batch_ask *a, const struct book_lot *lot, double *pct_vol)
{
    struct book_reading *r;
    int n;
    const struct book_wanted of = { .column = "lot_id", .integer = lot->id, .order = "at", .backward = true };
    const enum book_status s = book_list(a->book, BOOK_READING, &of, a->arena, &r, &n);
    *pct_vol = lot->strength_pct_vol;
    if (s != BOOK_OK)
        return s;
    for (int i = 0; i < n; i++)
        if (!r[i].doubted && strcmp(r[i].kind, st_seen_info(ST_SEEN_STRENGTH)->key) == 0) {
            *pct_vol = r[i].value;
            break;
        }
    return BOOK_OK;
}

enum book_status st_batch_lot_left(const struct st_batch_ask *a, const struct book_lot *lot, double *left)
{
    struct book_lot_use *use;
    int n;
    const struct book_wanted of = { .column = "lot_id", .integer = lot->id };
    const enum book_status s = book_list(a->book, BOOK_LOT_USE, &of, a->arena, &use, &n);
    *left = lot->amount;
    for (int i = 0; s == BOOK_OK && i < n; i++)
        *left -= use[i].amount;
    return s;
}

/* ---- a step, a line ---- */

static void list_steps(const struct st_recipe *r, char *buf, size_t size)
{
    buf[0] = '\0';
    for (int i = 0; i < r->n_step; i++) {
        const size_t n = strlen(buf);
        (void)snprintf(buf + n, size - n, "%s%d %s", i ? ", " : "", i + 1, r->step[i].id);
    }
}

/* A whole number from 1 to most; 0 when said is anything else. */
static int number_up_to(const char *said, int most)
{
    char *end;
    const long n = strtol(said, &end, 10);
    return end != said && *end == '\0' && n >= 1 && n <= most ? (int)n : 0;
}

int st_batch_step(const struct st_recipe *r, const char *said, struct st_problem *problem)
{
    char steps[200], try_[240];
    const int number = number_up_to(said, r->n_step);
    for (int i = 0; i < r->n_step; i++)
        if (strcasecmp(r->step[i].id, said) == 0)
            return i;
    if (number)
        return number - 1;
    list_steps(r, steps, sizeof steps);
    (void)snprintf(try_, sizeof try_, "name one of %s", steps);
    return st_batch_refuse(problem, "the recipe has no step of that name or number", try_, "step \"%.60s\"", said);
}

static bool line_answers(const struct st_line *l, const struct st_name_words *w)
{
    for (int i = 0; i < w->n; i++)
        if (!st_name_list_has(l->text, w->word[i]) && !(l->what && st_name_list_has(l->what->names, w->word[i])) &&
            !(l->what && st_name_list_has(l->what->name, w->word[i])))
            return false;
    return w->n > 0;
}

/* The lines of a step, as they are written. */
static void list_lines(const struct st_recipe *r, int step, char *buf, size_t size)
{
    buf[0] = '\0';
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const size_t n = strlen(buf);
            if ((step < 0 || step == s) && r->step[s].line[i].what && n + 60 < size)
                (void)snprintf(buf + n, size - n, "%s%d %.48s", n ? ", " : "", i + 1, r->step[s].line[i].text);
        }
}

struct line_hit {
    int step, line, n;
};

static void look_for(const struct st_recipe *r, int step, const struct st_ingredient *what,
                     const struct st_name_words *w, struct line_hit *hit)
{
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line && (step < 0 || step == s); i++) {
            const struct st_line *l = &r->step[s].line[i];
            if (what ? l->what != what : !l->what || !line_answers(l, w))
                continue;
            hit->step = s;
            hit->line = i;
            hit->n++;
        }
}

int st_batch_line(const struct st_recipe *r, const struct st_catalogue *c, int *step, const char *said,
                  struct st_problem *problem)
{
    struct line_hit hit = { -1, -1, 0 };
    struct st_name_words words;
    char lines[200], try_[240];
    const int number = *step >= 0 ? number_up_to(said, r->step[*step].n_line) : 0;
    if (number)
        return number - 1;
    const struct st_ingredient *what = st_catalogue_find(c, said, strlen(said));
    st_name_split(said, strlen(said), &words);
    if (what)
        look_for(r, *step, what, &words, &hit);
    if (hit.n == 0)
        look_for(r, *step, NULL, &words, &hit);
    if (hit.n == 1) {
        *step = hit.step;
        return hit.line;
    }
    list_lines(r, *step, lines, sizeof lines);
    (void)snprintf(try_, sizeof try_, hit.n ? "say the step and the line's number: %s" : "there are: %s", lines);
    return st_batch_refuse(problem, hit.n ? "several lines answer to that" : "no line answers to that", try_,
                           "line \"%.60s\"", said);
}
