/* The whole story of a batch, by day; and its end. */
#include "cli/batch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_cost.h"
#include "api/book_batch_since.h"
#include "api/book_reach.h"
#include "api/doc_batch.h"
#include "cli/batch_did.h"
#include "cli/batch_lacks.h"
#include "cli/larder.h"
#include "cli/page.h"
#include "text/figure_words.h"
#include "text/reach_words.h"
#include "util/memory.h"

/* ---- the page ---- */

static void print_figures(struct batch *b, const struct st_batch_made *planned, const struct st_batch_made *m)
{
    if (!m->told) {
        cli_say(0, 0, "Nothing is foretold of it: %s: %s.", m->problem.what, m->problem.why);
        return;
    }
    cli_heading("The bottle that is foretold, as planned and as really made");
    if (planned->told)
        batch_before_now(b, &planned->out, &m->out);
    else
        batch_foretold_lines(b, &m->out);
}

static void print_story(struct batch *b, const struct st_batch_event e[], int n)
{
    const char *day = "";
    for (int i = 0; i < n; i++) {
        if (strncmp(day, e[i].at, 10) != 0)
            cli_heading(batch_day(b, e[i].at, true));
        day = e[i].at;
        cli_wrap(2, 4, e[i].words);
    }
}

/* ---- what it cost ---- */

struct priced {
    struct larder_pour pour;
    struct st_batch_cost cost;
    struct st_margin margin;
    bool kept; /* margin is known */
};

static void print_cost(const struct priced *p)
{
    char text[800];
    if (p->cost.n_used == 0)
        return;
    cli_heading("What it cost, by the lots used");
    st_batch_cost_words(&p->cost, text, sizeof text);
    cli_wrap(2, 4, text);
    if (p->kept) {
        st_margin_words(text, sizeof text, &p->margin, p->pour.price, p->cost.currency);
        cli_wrap(2, 4, text);
    } else if (!isnan(p->pour.price))
        cli_wrap(2, 4,
                 larder_pour_fits(&p->pour, p->cost.currency)
                     ? "What a bar keeps of a pour is not known, since what it costs is not."
                     : "What a bar keeps of a pour is not known: its price is in another money than what it costs.");
}

static json_t *cost_json(const struct priced *p)
{
    json_t *o = st_doc_batch_cost(&p->cost);
    json_object_set_new(o, "margin", p->kept ? st_doc_margin(p->pour.price, p->pour.tax, &p->margin) : json_null());
    return o;
}

static int show(struct batch *b, const struct book_batch *row, struct st_batch_made *planned, struct st_batch_made *m,
                struct priced *p)
{
    struct st_batch_event *event = NULL;
    int n = 0;
    enum book_status s = st_batch_made(&b->ask, row, false, true, planned);
    if (s == BOOK_OK)
        s = st_batch_made(&b->ask, row, true, true, m);
    if (s == BOOK_OK)
        s = st_batch_story(&b->ask, row, planned, &event, &n);
    if (s == BOOK_OK)
        s = st_batch_cost(&b->ask, row, planned, m, b->c->serving_ml, &p->cost);
    p->kept = s == BOOK_OK && !isnan(p->pour.price) && larder_pour_fits(&p->pour, p->cost.currency) &&
              st_margin_of_pour(&p->cost.pour, p->pour.price, p->pour.tax, &p->margin);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    if (b->c->json) {
        json_t *o = st_doc_batch_show(&b->ask, row, event, n, planned, m);
        json_object_set_new(o, "cost", cost_json(p));
        json_object_set_new(o, "open", batch_did_json(b, row));
        json_object_set_new(o, "left", st_doc_text(batch_left_words(b, row, m)));
        json_object_set_new(o, "cautions",
                            m->whole ? cli_cautions_json(b->c, &m->file.recipe, m->told ? &m->out : NULL)
                                     : json_array());
        json_object_set_new(o, "labels", st_doc_batch_lacks(batch_lacks(b, row)));
        if (!m->told)
            json_object_set_new(o, "nothing_known", st_doc_text(batch_nothing_known(b, m, row->code)));
        return cli_json_print(o);
    }
    cli_say(0, 2, "%s  %s", row->code, row->name);
    if (*row->note)
        cli_wrap(0, 0, row->note);
    batch_did_heard(b, row);
    print_figures(b, planned, m);
    const char *left = batch_left_words(b, row, m);
    if (*left)
        cli_wrap(2, 4, left);
    batch_cautions(b, m, row->code);
    batch_lacks_print(b, batch_lacks(b, row));
    print_cost(p);
    print_story(b, event, n);
    batch_did_print(b, row);
    return ST_EXIT_DONE;
}

int batch_show(struct batch *b)
{
    static const char *const KNOWN[] = { "--pour-price", "--tax", NULL };
    struct priced p = { .kept = false };
    struct book_batch row;
    bool bad = false;
    larder_pour_price(b->c, &p.pour, &bad);
    if (bad || !cli_no_more_options(b->c, KNOWN))
        return ST_EXIT_INPUT;
    int code = batch_named(b, &row);
    if (code != ST_EXIT_DONE)
        return code;
    if (!batch_no_more(b, KNOWN))
        return ST_EXIT_INPUT;
    struct st_batch_made *planned = x_calloc(1, sizeof *planned), *m = x_calloc(1, sizeof *m); /* large */
    code = show(b, &row, planned, m, &p);
    st_batch_made_done(planned);
    st_batch_made_done(m);
    free(planned);
    free(m);
    return code;
}

/* ---- what went, what is left ---- */

static bool left_of(struct batch *b, const struct book_batch *row, const struct st_batch_made *made,
                    struct st_batch_left *left)
{
    return made->told && st_batch_left(&b->ask, row, made, left) == BOOK_OK && isfinite(left->spare_ml) &&
           left->lost_ml + left->bottled_ml > 0.0;
}

const char *batch_left_words(struct batch *b, const struct book_batch *row, const struct st_batch_made *made)
{
    char words[80], went[24];
    struct st_batch_left left;
    if (!left_of(b, row, made, &left))
        return "";
    const char *too_much = st_batch_too_much(&b->ask, row, &left);
    if (*too_much)
        return too_much;
    const double gone = left.lost_ml + left.bottled_ml;
    st_plain_figure(went, sizeof went, gone, 4);
    const struct st_interval rest = { left.spare_ml, fmax(left.low_ml - gone, 0.0), fmax(left.high_ml - gone, 0.0),
                                      ST_OK, true };
    if (!(left.spare_ml > 0.0))
        return batch_text(b, "%s mL of it went since (bottled, poured or lost): by the book nothing is left.", went);
    st_volume_words(words, sizeof words, &rest, b->c->units);
    return batch_text(b, "%s mL of it went since (bottled, poured or lost); left of it: %s.", went, words);
}

/* mL that went of it, or went until the moment that is asked of, whatever came in between. */
static double went_of(struct batch *b, const struct book_batch *row)
{
    struct st_batch_past past;
    double lost = 0.0, bottled = 0.0;
    if (st_batch_past(&b->ask, row, &past) != BOOK_OK)
        return 0.0;
    past.rests = NULL;
    return st_batch_went(&b->ask, &past, NULL, true, &lost, &bottled) == BOOK_OK ? lost + bottled : 0.0;
}

/* What had gone and what there was at the end of that day; *went in all. */
static bool left_on(struct batch *b, const struct book_batch *row, const char *day, struct st_batch_left *left,
                    double *went)
{
    const struct st_batch_moment then = { .table = BOOK_WEIGHING, .day = day };
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    b->ask.until = &then;
    const bool is = st_batch_made(&b->ask, row, true, true, m) == BOOK_OK && left_of(b, row, m, left);
    *went = went_of(b, row);
    b->ask.until = NULL;
    st_batch_made_done(m);
    free(m);
    return is;
}

/* are: "are", of now, or "were". */
static const char *went_before(struct batch *b, const struct book_batch *row, const struct st_batch_left *left,
                               const char *are)
{
    char went[24], there[24];
    st_plain_figure(went, sizeof went, left->lost_ml + left->bottled_ml, 4);
    st_plain_figure(there, sizeof there, left->spare_ml, 3);
    const char *before = batch_text(b, "%s mL of %s went before (bottled, poured or lost), and", went, row->code);
    if (left->spare_ml > 0.0)
        return batch_text(b, "%s about %s mL %s left: what is foretold here is of that and of what came into it.",
                          before, there, are);
    return batch_text(
        b,
        "%s by the book nothing is left of it (%s mL): what is foretold here takes a fiftieth of the drink as what was "
        "left. Tell what there was (stillroom batch read); if this is another drink: stillroom undo, and begin a batch "
        "for it.",
        before, there);
}

const char *batch_part_words(struct batch *b, const struct book_batch *row, const struct st_batch_made *made,
                             const char *day)
{
    struct st_batch_left now, then;
    double until;
    char since[24];
    const bool any = left_of(b, row, made, &now), before = left_on(b, row, day, &then, &until);
    const double later = went_of(b, row) - until;
    if (!(later > 0.5))
        return any ? went_before(b, row, &now, "are") : "";
    st_plain_figure(since, sizeof since, later, 4);
    return batch_text(b, "%s mL of %s went only since (bottled, poured or lost) and had it in it already%s%s", since,
                      row->code, before ? ". " : ": what is foretold here is of the whole of then.",
                      before ? went_before(b, row, &then, "were") : "");
}

/* ---- the end ---- */

/* What by the book is neither bottled nor gone, when a batch is over: more than a thirtieth of it, or a small bottle; "" none. */
static const char *rest_words(struct batch *b, const struct book_batch *row)
{
    static const double PART = 1.0 / 30.0, SMALL_BOTTLE_ML = 50.0;
    char words[80];
    struct st_batch_left left;
    struct st_batch_made *made = x_calloc(1, sizeof *made); /* large */
    const bool is = st_batch_made(&b->ask, row, true, true, made) == BOOK_OK && made->told &&
                    st_batch_left(&b->ask, row, made, &left) == BOOK_OK && isfinite(left.spare_ml);
    st_batch_made_done(made);
    free(made);
    const double gone = is ? left.lost_ml + left.bottled_ml : 0.0;
    if (!is || !(left.low_ml - gone > fmax(SMALL_BOTTLE_ML, PART * left.foretold_ml)))
        return "";
    const struct st_interval rest = { left.spare_ml, left.low_ml - gone, left.high_ml - gone, ST_OK, true };
    st_volume_words(words, sizeof words, &rest, b->c->units);
    return batch_text(b,
                      "By the book some of it is neither in a bottle nor lost: %s. If it went into one, or down the "
                      "drain, write it down: stillroom batch bottle, or stillroom batch lose.",
                      words);
}

/* What was done with it later than the day on which it is to have been over. */
static int refuse_end(struct batch *b, const struct book_batch *row, const struct st_batch_jar *j, int n,
                      const char *day)
{
    struct book_bottling *f;
    int n_filled;
    const char *later = NULL;
    const struct book_wanted of = { .column = "batch_id", .integer = row->id };
    const enum book_status s = book_list(b->book, BOOK_BOTTLING, &of, &b->arena, &f, &n_filled);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    for (int i = 0; i < n_filled; i++)
        if (strcmp(f[i].on_day, day) > 0)
            later = batch_text(b, "%s was bottled on %s", f[i].code, f[i].on_day);
    for (int i = 0; i < n; i++)
        if (strcmp(j[i].row.begun_on, day) > 0)
            later = batch_text(b, "a jar of it was begun on %s", j[i].row.begun_on);
    if (later)
        cli_error(batch_text(b, "%s over on %s", row->code, day), later, "look at --on");
    return later ? ST_EXIT_INPUT : ST_EXIT_DONE;
}

int batch_end_it(struct batch *b)
{
    static const char *const KNOWN[] = { "--on", "--words", NULL };
    struct book_batch row;
    struct st_batch_jar *j;
    char day[11];
    bool bad = false;
    int n = 0;
    if (!cli_take_day(b->c, "--on", &b->now, false, day))
        return ST_EXIT_INPUT;
    const char *words = cli_option(b->c, "--words", &bad);
    if (bad || !cli_no_more_options(b->c, KNOWN))
        return ST_EXIT_INPUT;
    int code = batch_named(b, &row);
    if (code != ST_EXIT_DONE)
        return code;
    if (!batch_no_more(b, KNOWN) || !batch_existed(b, &row, day))
        return ST_EXIT_INPUT;
    if (row.ended_on) {
        cli_error(row.code, "it is over already", "\"stillroom undo\" takes the last deed back");
        return ST_EXIT_INPUT;
    }
    enum book_status s = st_batch_jars(&b->ask, row.id, false, &j, &n);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    code = refuse_end(b, &row, j, n, day);
    if (code != ST_EXIT_DONE)
        return code;
    s = batch_deed(b, "%s: over%s%.200s", row.code, words ? ", " : "", words ? words : "");
    row.ended_on = day;
    if (words)
        row.note = *row.note ? batch_text(b, "%.700s\n%.200s", row.note, words) : words;
    if (s == BOOK_OK)
        s = book_put(b->book, BOOK_BATCH, &row, NULL);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        j[i].row.ended_on = day;
        s = book_put(b->book, BOOK_JAR, &j[i].row, NULL);
    }
    code = batch_end(b, s, NULL);
    if (code != ST_EXIT_DONE)
        return code;
    if (b->c->json)
        return cli_json_print(json_pack("{s:s, s:s, s:o}", "batch", row.code, "ended_on", day, "remark",
                                        st_doc_text(rest_words(b, &row))));
    cli_say(0, 2, "%s, %s, is over since %s; its story stays: stillroom batch show %s.", row.code, row.name,
            batch_day(b, day, false), row.code);
    const char *rest = rest_words(b, &row);
    if (*rest)
        cli_wrap(2, 2, rest);
    return ST_EXIT_DONE;
}
