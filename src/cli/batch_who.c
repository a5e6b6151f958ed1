/* If a jar turns out wrong: every batch that something of it came into, and who has bottles of those. */
#include "cli/batch.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "api/book_batch_chain.h"
#include "cli/page.h"

static const char *bottles(struct batch *b, int64_t n)
{
    return n == 1 ? "1 bottle" : batch_text(b, "%lld bottles", (long long)n);
}

struct holder {
    struct book_gone gone;
    const char *code, *batch, *name;
    int64_t has;
};

struct search {
    struct batch *b;
    struct holder *h;
    int n, home;
    struct st_chain_link *link, *back; /* where it came to; one step back */
    int n_link, n_back;
};

static enum book_status add_holders(struct search *k, const struct st_chain_link *batch)
{
    struct book_bottling *all;
    int n;
    const struct book_wanted w = { .column = "batch_id", .integer = batch->id };
    enum book_status s = book_list(k->b->book, BOOK_BOTTLING, &w, &k->b->arena, &all, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        struct book_gone *gone;
        int m, home;
        const struct book_wanted of = { .column = "bottling_id", .integer = all[i].id };
        s = book_list(k->b->book, BOOK_GONE, &of, &k->b->arena, &gone, &m);
        if (s == BOOK_OK)
            s = st_batch_at_home(&k->b->ask, &all[i], &home);
        if (s != BOOK_OK)
            break;
        k->home += home;
        struct holder *grown = st_arena_alloc(&k->b->arena, (size_t)(k->n + m + 1) * sizeof *grown);
        if (k->n)
            memcpy(grown, k->h, (size_t)k->n * sizeof *grown);
        k->h = grown;
        for (int g = 0; g < m; g++)
            if (gone[g].count > gone[g].returned)
                k->h[k->n++] =
                    (struct holder){ gone[g], all[i].code, batch->code, batch->name, gone[g].count - gone[g].returned };
    }
    return s;
}

/* Not rung yet first; of those who has most, and who got it last: they may not have drunk it. */
static int ring_first(const void *x, const void *y)
{
    const struct holder *a = x, *c = y;
    if (!a->gone.told_on != !c->gone.told_on)
        return a->gone.told_on ? 1 : -1;
    if (a->has != c->has)
        return a->has > c->has ? -1 : 1;
    const int day = strcmp(c->gone.on_day, a->gone.on_day);
    return day ? day : (a->gone.id > c->gone.id) - (a->gone.id < c->gone.id);
}

/* Everything that something of it came into: each batch with its bottles and its way, each lot. */
static enum book_status follow(struct search *k, bool is_lot, int64_t id)
{
    struct batch *b = k->b;
    enum book_status s = st_batch_chain(&b->ask, is_lot, id, &k->link, &k->n_link);
    if (s == BOOK_OK)
        s = st_batch_chain_back(&b->ask, is_lot, id, &k->back, &k->n_back);
    for (int i = 0; s == BOOK_OK && i < k->n_link; i++)
        if (!k->link[i].is_lot)
            s = add_holders(k, &k->link[i]);
    return s;
}

static int told(struct search *k, const char *name, const char *about)
{
    int n = 0;
    enum book_status s = batch_deed(k->b, "%s: rang %.150s", about, name);
    for (int i = 0; s == BOOK_OK && i < k->n; i++) {
        if (strcasecmp(k->h[i].gone.person, name) != 0)
            continue;
        k->h[i].gone.told_on = k->b->now.day;
        s = book_put(k->b->book, BOOK_GONE, &k->h[i].gone, NULL);
        n++;
    }
    if (s == BOOK_OK && n == 0) {
        book_cancel(k->b->book);
        cli_error(name, "has no bottle of it by the book", "\"stillroom batch who\" without --told shows who has");
        return ST_EXIT_INPUT;
    }
    return batch_end(k->b, s, NULL);
}

static json_t *link_json(const struct st_chain_link *l)
{
    return json_pack("{s:o, s:o}", l->is_lot ? "lot" : "batch", st_doc_text(l->code), "name", st_doc_text(l->name));
}

/* way: lots or batches, with how they were reached; else those one step away from what was asked for. */
static json_t *links_json(struct search *k, const struct st_chain_link link[], int n, bool lots, bool way)
{
    json_t *list = json_array();
    for (int i = 0; i < n; i++) {
        if (way ? link[i].is_lot != lots : link[i].from != 0)
            continue;
        json_t *o = link_json(&link[i]);
        if (way)
            json_object_set_new(o, "way", st_doc_text(st_batch_chain_way(&k->b->ask, link, i)));
        json_array_append_new(list, o);
    }
    return list;
}

static json_t *holder_json(const struct holder *p)
{
    return json_pack("{s:o, s:o, s:I, s:o, s:o, s:b}", "person", st_doc_text(p->gone.person), "code",
                     st_doc_text(p->code), "bottles", (json_int_t)p->has, "on_day", st_doc_text(p->gone.on_day),
                     "told_on", p->gone.told_on ? st_doc_text(p->gone.told_on) : json_null(), "told",
                     p->gone.told_on != NULL);
}

static json_t *document(struct search *k, const char *about)
{
    json_t *who = json_array();
    for (int h = 0; h < k->n; h++)
        json_array_append_new(who, holder_json(&k->h[h]));
    json_t *o = json_pack("{s:s, s:o, s:o, s:i}", "about", about, "batches",
                          links_json(k, k->link, k->n_link, false, true), "who", who, "at_home", k->home);
    json_object_set_new(o, "lots", links_json(k, k->link, k->n_link, true, true));
    json_object_set_new(o, "one_step_back", links_json(k, k->back, k->n_back, false, false));
    json_object_set_new(o, "one_step_forward", links_json(k, k->link, k->n_link, false, false));
    return o;
}

/* "One step back: L1 (damsons), L2 (vodka)." */
static void print_step(struct search *k, const char *name, const struct st_chain_link link[], int n)
{
    const char *text = "";
    for (int i = 0; i < n; i++)
        if (link[i].from == 0)
            text = st_arena_printf(&k->b->arena, "%s%s%s (%s)", text, *text ? ", " : "", link[i].code, link[i].name);
    cli_say(2, 4, "%s: %s.", name, *text ? text : "nothing, by the book");
}

static void print_batches(struct search *k, const char *about)
{
    int n = 0;
    cli_say(0, 2, "%s is in:", about);
    for (int i = 0; i < k->n_link; i++) {
        const char *way = st_batch_chain_way(&k->b->ask, k->link, i);
        if (k->link[i].is_lot)
            continue;
        cli_say(2, 4, "%s  %s%s%s", k->link[i].code, k->link[i].name, *way ? ", " : "", way);
        n++;
    }
    if (n == 0)
        cli_wrap(2, 4, "no batch, by the book");
    print_step(k, "One step back", k->back, k->n_back);
    print_step(k, "One step forward", k->link, k->n_link);
}

static int print_who(struct search *k, const char *about)
{
    struct batch *b = k->b;
    if (k->n)
        qsort(k->h, (size_t)k->n, sizeof *k->h, ring_first);
    if (b->c->json)
        return cli_json_print(document(k, about));
    print_batches(k, about);
    cli_heading(k->n ? "Ring, in this order" : "Nobody has a bottle of it, by the book");
    for (int h = 0; h < k->n; h++)
        cli_say(2, 6, "%s: %s (%s), since %s%s%s", k->h[h].gone.person, bottles(b, k->h[h].has), k->h[h].code,
                batch_day(b, k->h[h].gone.on_day, false), k->h[h].gone.told_on ? "; rung " : "",
                k->h[h].gone.told_on ? batch_day(b, k->h[h].gone.told_on, false) : "");
    if (k->home == 0)
        cli_wrap(0, 0, "None is at home.");
    else
        cli_say(0, 0, "%d of it %s at home: put %s aside.", k->home, k->home == 1 ? "is" : "are",
                k->home == 1 ? "it" : "them");
    return ST_EXIT_DONE;
}

int batch_who(struct batch *b)
{
    static const char *const KNOWN[] = { "--lot", "--told", NULL };
    struct search k = { .b = b };
    struct book_batch batch;
    struct book_lot lot;
    struct st_problem p = { .what = "" };
    const char *about = "";
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
            s = follow(&k, true, lot.id);
    } else if ((code = batch_named(b, &batch)) == ST_EXIT_DONE) {
        about = batch.code;
        s = follow(&k, false, batch.id);
    }
    if (s != BOOK_OK)
        code = batch_fail(b, s, &p);
    if (code == ST_EXIT_DONE && !batch_no_more(b, KNOWN))
        code = ST_EXIT_INPUT;
    if (code == ST_EXIT_DONE && name)
        code = told(&k, name, about);
    if (code == ST_EXIT_DONE)
        code = print_who(&k, about);
    return code;
}
