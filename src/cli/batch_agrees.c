/* Does my reading agree? and what readings teach. */
#include "cli/batch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_agree_before.h"
#include "cli/page.h"
#include "text/agree_words.h"
#include "text/learnt_words.h"
#include "text/steep_books.h"
#include "util/memory.h"

/* ---- agrees ---- */

static void print_figure(struct batch *b, const struct st_agreement *a, int f)
{
    static const char *const NAME[ST_AGREE_NFIG] = { "strength", "sugar", "volume", "acid" };
    const struct st_figure_info *info = st_figure_info(st_agree_figure_of((enum st_agree_figure)f));
    const struct {
        const char *head;
        const struct st_interval *x;
        bool told;
    } ROW[] = { { "foretold", &a->before[f], true },
                { "with what was read before", &a->carried[f], a->n > 0 && st_agree_together(a) },
                { "read", &a->measured[f], st_agree_alone(a) },
                { "together", &a->after[f], st_agree_together(a) },
                { "without it", &a->without[f], true } };
    bool first = true;
    for (size_t i = 0; i < sizeof ROW / sizeof *ROW; i++) {
        char words[200];
        if (!ROW[i].x->known || !ROW[i].told)
            continue;
        if (f == ST_AGREE_VOLUME)
            st_volume_words(words, sizeof words, ROW[i].x, b->c->units);
        else
            st_figure_words(words, sizeof words, ROW[i].x, info->unit);
        cli_figure_line(first ? NAME[f] : "", batch_text(b, "%s: %s", ROW[i].head, words));
        first = false;
    }
}

/* What the figures take for granted. */
static void print_unsure(struct batch *b, const struct st_batch_agree *x)
{
    for (int i = 0; i < x->n_unsure; i++)
        cli_wrap(0, 2,
                 batch_text(b,
                            "Not known whether the %s went in (%s): nobody wrote it down, and the figures take it as "
                            "gone in as planned.",
                            x->unsure[i].step, x->unsure[i].lines));
}

/* A slip of the pen is no slip of an instrument. */
static void print_again(struct batch *b, const struct st_batch_agree *x)
{
    if (x->out.agree || !x->again[0])
        return;
    cli_wrap(0, 0,
             batch_text(b, "Written down twice with the same amount, and both count: %s. Did it go in twice?%s",
                        x->again,
                        x->again_line ? " If not, weigh it with --instead: that stands in the place of both." : ""));
}

/* What was read of it before something was added. */
static void print_old(struct batch *b, const struct st_batch_agree *x)
{
    for (int i = 0; i < x->n_old; i++) {
        const struct st_batch_old *o = &x->old[i];
        const char *day = batch_day(b, o->day, false), *on = "it goes on to hold, through what was added since";
        cli_say(2, 4, "%lld: %s: read before %s was added (%s)%s%s.", (long long)o->id, o->words, o->what, day,
                o->use == ST_OLD_GOES_ON ? ": " : ", and not used here: ",
                o->use == ST_OLD_GOES_ON ? on : st_batch_old_why(o->use));
    }
}

static void print_agree(struct batch *b, const struct book_batch *row, const struct st_batch_agree *x)
{
    char words[ST_AGREE_TEXT];
    st_agree_verdict_words(words, sizeof words, &x->out, x->seen);
    cli_say(0, 0, "%s  %s", row->code, row->name);
    cli_wrap(0, 0, words);
    st_agree_slip_words(words, sizeof words, &x->out, x->seen);
    if (*words)
        cli_wrap(0, 0, words);
    print_again(b, x);
    print_unsure(b, x);
    printf("\n");
    for (int f = 0; f < ST_AGREE_NFIG; f++)
        print_figure(b, &x->out, f);
    cli_heading("Reading by reading");
    for (int i = 0; i < x->n; i++) {
        st_agree_reading_words(words, sizeof words, &x->out, x->seen, i);
        cli_say(2, 4, "%lld: %s", (long long)x->id[i], words);
        if (x->back_ml[i] > 0.0)
            cli_say(4, 4, "That is with the %.0f mL that were lost or bottled before it was read.", x->back_ml[i]);
    }
    print_old(b, x);
    for (int i = 0;; i++) {
        st_agree_remark(words, sizeof words, &x->out, i);
        if (!*words)
            break;
        if (i == 0)
            cli_heading("Worth knowing");
        cli_wrap(2, 4, words);
    }
    if (x->in_jar)
        cli_say(2, 4, "%d more %s read before it was the finished drink, and not used here.", x->in_jar,
                x->in_jar == 1 ? "was" : "were");
    if (x->over)
        cli_say(2, 4, "%d older %s left out: the newest %d are held against each other.", x->over,
                x->over == 1 ? "one is" : "ones are", x->n);
    if (x->twice)
        cli_say(2, 4, "%d entered twice with the very same value and moment %s counted once.", x->twice,
                x->twice == 1 ? "is" : "are");
    if (x->aside)
        cli_say(2, 4, "%d set aside %s not used.", x->aside, x->aside == 1 ? "is" : "are");
    if (x->out.suspect >= 0)
        cli_say(0, 2, "\nTo set it aside: stillroom batch doubt %s %lld", row->code, (long long)x->id[x->out.suspect]);
}

int batch_agrees(struct batch *b)
{
    struct book_batch row;
    struct st_problem p = { .what = "" };
    b->ask.by_drained = false; /* what is held against the figures is not in them */
    int code = batch_named(b, &row);
    if (code != ST_EXIT_DONE)
        return code;
    if (!batch_no_more(b, NULL))
        return ST_EXIT_INPUT;
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    struct st_batch_agree *x = x_calloc(1, sizeof *x);
    enum book_status s = st_batch_made(&b->ask, &row, true, true, m);
    if (s == BOOK_OK && !m->told)
        code = batch_wrong(&m->problem);
    else if (s == BOOK_OK)
        s = st_batch_agree(&b->ask, &row, m, x, &p);
    if (s != BOOK_OK || p.what[0])
        code = batch_fail(b, s, &p);
    else if (code == ST_EXIT_DONE) {
        if (b->c->json)
            code = cli_json_print(st_doc_batch_agree(row.code, x));
        else
            print_agree(b, &row, x);
        if (code == ST_EXIT_DONE && !x->out.agree)
            code = ST_EXIT_UNMET;
    }
    st_batch_made_done(m);
    free(m);
    free(x);
    return code;
}

/* ---- learn ---- */

/* "before: likely between 0.4 and 2.6 times" beside what is now known. */
static void print_theta(const struct st_learnt_thing *l, int t)
{
    char words[400];
    st_learnt_theta_words(words, sizeof words, l, (enum st_theta)t);
    if (!*words)
        return;
    cli_wrap(4, 6, words);
    const double half = 1.959964 * l->prior_sd[t];
    cli_say(6, 8, "before: likely between %.2g and %.2g times", exp(-half), exp(half));
}

static void print_lessons(const struct st_batch_lessons *x)
{
    char words[600];
    int said = 0;
    printf("From");
    for (int i = 0; i < x->n; i++)
        printf("%s %s", i ? "," : "", x->of[i].row.code);
    printf("%s\n", x->others ? " (batches with readings of the same things)" : "");
    for (int i = 0; i < x->learnt.n_thing; i++) {
        const struct st_learnt_thing *l = &x->learnt.thing[i];
        cli_heading(l->name);
        for (int t = 0; t < ST_NTHETA; t++)
            print_theta(l, t);
        st_learnt_twin_words(words, sizeof words, l);
        if (*words)
            cli_wrap(4, 6, words);
    }
    for (int k = 0; k < x->n; k++)
        for (int i = 0; i < x->of[k].n; i++) {
            const struct st_learnt_reading *r = &x->learnt.reading[k][i];
            st_seen_reading_words(words, sizeof words, x->of[k].seen, x->of[k].n, i, r);
            if (!*words)
                continue;
            if (said++ == 0)
                cli_heading("Reading by reading");
            cli_say(2, 4, "%s: %s.", x->of[k].row.code, words);
        }
    st_learnt_advice(words, sizeof words, &x->learnt);
    if (*words)
        cli_say(0, 0, "\n%s", words);
    if (x->more)
        cli_say(0, 0, "Of the batches with readings of these only the newest %d were used; name others to use them.",
                x->n);
    cli_wrap(0, 0, "Nothing learnt here lowers a worst case of what is unwholesome.");
}

int batch_learn(struct batch *b)
{
    static const char *const KNOWN[] = { "--step", NULL };
    struct book_batch row[ST_LEARN_BATCHES];
    struct st_problem p = { .what = "" };
    bool bad = false;
    int n = 0, code = ST_EXIT_DONE;
    const char *step = cli_option(b->c, "--step", &bad);
    if (bad || !cli_no_more_options(b->c, KNOWN))
        return ST_EXIT_INPUT;
    do {
        if (n == ST_LEARN_BATCHES) {
            cli_error("batch learn", "there is room for 32 batches", "name fewer");
            return ST_EXIT_INPUT;
        }
        code = batch_named(b, &row[n++]);
    } while (code == ST_EXIT_DONE && b->c->argc > 0);
    if (code != ST_EXIT_DONE)
        return code;
    struct st_steep_books *books = st_steep_books_create(&p);
    if (!books) {
        cli_error(p.what, p.why, p.try_);
        return ST_EXIT_SYSTEM;
    }
    struct st_batch_lessons *x = x_calloc(1, sizeof *x); /* large */
    const enum book_status s = st_batch_learn(&b->ask, &books->jar, row, n, step, x, &p);
    if (s != BOOK_OK || p.what[0])
        code = batch_fail(b, s, &p);
    else if (b->c->json)
        code = cli_json_print(st_doc_batch_learnt(x));
    else
        print_lessons(x);
    st_batch_lessons_done(x);
    free(x);
    st_steep_books_free(books);
    return code;
}
