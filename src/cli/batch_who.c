/* If a jar turns out wrong: every batch that something of it came into, and who has bottles of those. */
#include "cli/batch.h"

#include <string.h>
#include <strings.h>

#include "api/doc_batch_who.h"
#include "cli/page.h"

static const char *bottles(struct batch *b, int64_t n)
{
    return n == 1 ? "1 bottle" : batch_text(b, "%lld bottles", (long long)n);
}

static int told(struct batch *b, struct st_batch_who *k, const char *name, const char *about)
{
    int n = 0;
    enum book_status s = batch_deed(b, "%s: rang %.150s", about, name);
    for (int i = 0; s == BOOK_OK && i < k->n; i++) {
        if (strcasecmp(k->holder[i].gone.person, name) != 0)
            continue;
        k->holder[i].gone.told_on = b->now.day;
        s = book_put(b->book, BOOK_GONE, &k->holder[i].gone, NULL);
        n++;
    }
    if (s == BOOK_OK && n == 0) {
        book_cancel(b->book);
        cli_error(name, "has and had no bottle of it by the book",
                  "\"stillroom batch who\" without --told shows who has, or had");
        return ST_EXIT_INPUT;
    }
    return batch_end(b, s, NULL);
}

/* "One step back: L1 (damsons), L2 (vodka)." */
static void print_step(struct batch *b, const char *name, const struct st_chain_link link[], int n)
{
    const char *text = "";
    for (int i = 0; i < n; i++)
        if (link[i].from == 0)
            text = st_arena_printf(&b->arena, "%s%s%s (%s)", text, *text ? ", " : "", link[i].code, link[i].name);
    cli_say(2, 4, "%s: %s.", name, *text ? text : "nothing, by the book");
}

static void print_batches(struct batch *b, const struct st_batch_who *k, const char *about)
{
    int n = 0;
    cli_say(0, 2, "%s is in:", about);
    for (int i = 0; i < k->n_link; i++) {
        const char *way = st_batch_chain_way(&b->ask, k->link, i);
        if (k->link[i].is_lot)
            continue;
        cli_say(2, 4, "%s  %s%s%s", k->link[i].code, k->link[i].name, *way ? ", " : "", way);
        n++;
    }
    if (n == 0)
        cli_wrap(2, 4, "no batch, by the book");
    print_step(b, "One step back", k->back, k->n_back);
    print_step(b, "One step forward", k->link, k->n_link);
}

/* "B4, 200 mL walnut tincture: L7, L9 bear that name." */
static void print_unclear(const struct st_batch_who *k)
{
    if (k->n_unclear == 0)
        return;
    cli_heading("Not known of which lot: not followed here, look at these too");
    for (int i = 0; i < k->n_unclear; i++)
        cli_say(2, 6,
                "%s, \"%s\": %s bear that name. Where you know it: stillroom batch weigh %s, with the line, its amount "
                "and --lot",
                k->unclear[i].batch, k->unclear[i].line, k->unclear[i].lots, k->unclear[i].batch);
}

/* "L2 spent damsons, given 3 March: cake for Ida." */
static void print_given(struct batch *b, const struct st_batch_who *k)
{
    if (k->n_given == 0)
        return;
    cli_heading("Given away as it is, poured, tasted or drawn off: tell these too");
    for (int i = 0; i < k->n_given; i++) {
        const struct st_batch_given *g = &k->given[i];
        const bool drawn = strcmp(g->why, "drawn") == 0;
        cli_say(2, 6, "%s %s, %s %s: %s", g->code, g->name, drawn ? "drawn off" : g->why,
                batch_day(b, g->on_day, false),
                *g->note                        ? g->note
                : drawn                         ? "what became of it is not written"
                : strcmp(g->why, "tasted") == 0 ? "by whom is not written"
                                                : "to whom is not written");
    }
}

/* "; brought 1 back 3 May, liked it: drank of it". */
static const char *back_words(struct batch *b, const struct book_gone *gone)
{
    const char *on = gone->returned_on ? batch_text(b, " %s", batch_day(b, gone->returned_on, false)) : "";
    const char *back = gone->returned > 0 ? batch_text(b, "; brought %lld back%s", (long long)gone->returned, on) : "";
    if (gone->liked != BOOK_NO)
        return batch_text(b, "%s; %s: drank of it", back,
                          gone->liked > 0   ? "liked it"
                          : gone->liked < 0 ? "did not like it"
                                            : "found it so-so");
    return gone->returned > 0 ? batch_text(b, "%s: whether it was drunk of is not written", back) : "";
}

static void print_ring(struct batch *b, const struct st_batch_who *k)
{
    cli_heading(k->n ? "Ring, in this order" : "Nobody has a bottle of it, by the book");
    for (int h = 0; h < k->n; h++) {
        const struct book_gone *gone = &k->holder[h].gone;
        const int64_t has = k->holder[h].has;
        cli_say(2, 6, "%s: %s (%s), since %s%s%s%s", gone->person,
                has ? bottles(b, has) : batch_text(b, "had %s", bottles(b, gone->count)), k->holder[h].code,
                batch_day(b, gone->on_day, false), back_words(b, gone), gone->told_on ? "; rung " : "",
                gone->told_on ? batch_day(b, gone->told_on, false) : "");
    }
}

/* "3 of it are at home (2 of B1-1, 1 of B2-1, brought back): put them aside." */
static void print_home(struct batch *b, const struct st_batch_who *k)
{
    const char *text = "";
    for (int i = 0; i < k->n_home; i++) {
        const struct st_batch_home *h = &k->home[i];
        const char *back = h->back == 0      ? ""
                           : h->back == h->n ? ", brought back"
                                             : batch_text(b, ", %d of them brought back", h->back);
        text = batch_text(b, "%s%s%d of %s%s", text, *text ? "; " : "", h->n, h->code, back);
    }
    if (k->at_home == 0)
        cli_wrap(0, 0, "None is at home.");
    else
        cli_say(0, 0, "%d of it %s at home (%s): put %s aside.", k->at_home, k->at_home == 1 ? "is" : "are", text,
                k->at_home == 1 ? "it" : "them");
    text = "";
    for (int i = 0; i < k->n_before; i++)
        text = batch_text(b, "%s%s%s", text, i ? ", " : "", k->before[i]);
    if (*text)
        cli_say(0, 2, "Filled or poured off before it went in, so without it by the book: %s.", text);
}

static int print_who(struct batch *b, const struct st_batch_who *k, const char *about)
{
    if (b->c->json)
        return cli_json_print(st_doc_batch_who(&b->ask, about, k));
    print_batches(b, k, about);
    print_unclear(k);
    print_given(b, k);
    print_ring(b, k);
    print_home(b, k);
    return ST_EXIT_DONE;
}

int batch_who(struct batch *b)
{
    static const char *const KNOWN[] = { "--lot", "--told", NULL };
    struct st_batch_who k = { .n = 0 };
    struct book_batch batch;
    struct book_lot lot;
    struct st_problem p = { .what = "" };
    const char *about = "";
    int64_t id = BOOK_NO;
    bool bad = false;
    int code = ST_EXIT_DONE;
    enum book_status s = BOOK_OK;
    const char *by_lot = cli_option(b->c, "--lot", &bad), *name = cli_option(b->c, "--told", &bad);
    if (bad || !cli_no_more_options(b->c, KNOWN))
        code = ST_EXIT_INPUT;
    else if (by_lot) {
        s = st_batch_lot(&b->ask, by_lot, &lot, &p);
        about = s == BOOK_OK ? batch_text(b, "%s (%s)", lot.code, lot.name) : "";
        if (s == BOOK_OK)
            s = st_batch_who(&b->ask, true, id = lot.id, &k);
    } else if ((code = batch_named(b, &batch)) == ST_EXIT_DONE) {
        about = batch.code;
        s = st_batch_who(&b->ask, false, id = batch.id, &k);
    }
    if (s != BOOK_OK)
        code = batch_fail(b, s, &p);
    if (code == ST_EXIT_DONE && !batch_no_more(b, KNOWN))
        code = ST_EXIT_INPUT;
    if (code == ST_EXIT_DONE && name) {
        code = told(b, &k, name, about);
        if (code == ST_EXIT_DONE && (s = st_batch_who(&b->ask, by_lot != NULL, id, &k)) != BOOK_OK)
            code = batch_fail(b, s, NULL); /* who is rung comes last */
    }
    if (code == ST_EXIT_DONE)
        code = print_who(b, &k, about);
    return code;
}
