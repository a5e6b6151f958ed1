/* Where bottles went, what came back, what is still at home, and who to ring. */
#include "cli/batch.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "cli/page.h"

/* The bottling of this code; else told. */
static int bottling_named(struct batch *b, struct book_bottling *out, const char *example)
{
    char code[64];
    const char *said = batch_word(b, "no bottling is named", example);
    if (!said)
        return ST_EXIT_INPUT;
    size_t n = 0;
    for (; n < sizeof code - 1 && said[n]; n++)
        code[n] = said[n] >= 'a' && said[n] <= 'z' ? (char)(said[n] - 'a' + 'A') : said[n];
    code[n] = '\0';
    enum book_status s =
        book_find(b->book, BOOK_BOTTLING, &(struct book_wanted){ .column = "code", .text = said }, &b->arena, out);
    if (s == BOOK_NONE)
        s = book_find(b->book, BOOK_BOTTLING, &(struct book_wanted){ .column = "code", .text = code }, &b->arena, out);
    if (s == BOOK_NONE) {
        cli_error(said, "nothing was bottled under that code", "\"stillroom batch left\" shows the codes of bottles");
        return ST_EXIT_INPUT;
    }
    return s == BOOK_OK ? ST_EXIT_DONE : batch_fail(b, s, NULL);
}

static const char *bottles(struct batch *b, int64_t n)
{
    return n == 1 ? "1 bottle" : batch_text(b, "%lld bottles", (long long)n);
}

/* ---- gave ---- */

int batch_gave(struct batch *b)
{
    static const char *const KNOWN[] = { "--on", "--words", NULL };
    struct book_bottling of;
    struct book_gone gone;
    char day[11], *end;
    bool bad = false;
    int home;
    if (!cli_take_day(b->c, "--on", &b->now, false, day))
        return ST_EXIT_INPUT;
    const char *words = cli_option(b->c, "--words", &bad);
    if (bad || !cli_no_more_options(b->c, KNOWN))
        return ST_EXIT_INPUT;
    int code = bottling_named(b, &of, "gave B14-1 2 \"Aunt Ida\"");
    const char *count =
        code == ST_EXIT_DONE ? batch_word(b, "nobody said how many", "gave B14-1 2 \"Aunt Ida\"") : NULL;
    const char *person = count ? batch_word(b, "nobody said to whom", "gave B14-1 2 \"Aunt Ida\"") : NULL;
    if (!person || !batch_no_more(b, KNOWN))
        return ST_EXIT_INPUT;
    const long n = strtol(count, &end, 10);
    enum book_status s = st_batch_at_home(&b->ask, &of, &home);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    if (*end || n < 1 || n > home) {
        cli_error(count,
                  *end || n < 1 ? "it is no number of bottles"
                                : batch_text(b, "only %d of %s are at home", home, of.code),
                  "\"stillroom batch left\" shows what is at home");
        return ST_EXIT_INPUT;
    }
    if (strcmp(day, of.on_day) < 0) {
        cli_error(day, "it was not bottled yet on that day", "look at --on");
        return ST_EXIT_INPUT;
    }
    book_row_init(BOOK_GONE, &gone);
    gone.bottling_id = of.id;
    gone.count = n;
    gone.on_day = day;
    gone.person = person;
    gone.note = words ? words : "";
    s = batch_deed(b, "%s: gave %ld to %.150s", of.code, n, person);
    if (s == BOOK_OK)
        s = book_put(b->book, BOOK_GONE, &gone, NULL);
    code = batch_end(b, s, NULL);
    if (code != ST_EXIT_DONE)
        return code;
    if (b->c->json)
        return cli_json_print(json_pack("{s:s, s:I, s:o, s:s, s:i}", "code", of.code, "count", (json_int_t)n, "person",
                                        st_doc_text(person), "on_day", day, "at_home", home - (int)n));
    cli_say(0, 2, "%s: %s went to %s, %s; %s at home.", of.code, bottles(b, n), person, batch_day(b, day, false),
            bottles(b, home - n));
    return ST_EXIT_DONE;
}

/* ---- returned ---- */

static bool liked_of(const char *said, int64_t *liked)
{
    static const char *const WORD[] = { "no", "so-so", "yes" };
    *liked = BOOK_NO;
    for (int i = 0; said && i < 3; i++)
        if (strcasecmp(WORD[i], said) == 0) {
            *liked = i - 1;
            return true;
        }
    if (!said)
        return true;
    cli_error("--liked", "three answers are known", "write --liked yes, so-so or no");
    return false;
}

/* The oldest of what that person has of it and did not bring back. */
static enum book_status given_to(struct batch *b, const struct book_bottling *of, const char *person,
                                 struct book_gone *out, bool open)
{
    struct book_gone *all;
    int n;
    const struct book_wanted w = { .column = "bottling_id", .integer = of->id, .order = "on_day" };
    const enum book_status s = book_list(b->book, BOOK_GONE, &w, &b->arena, &all, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        if (strcasecmp(all[i].person, person) == 0 && (!open || all[i].returned < all[i].count)) {
            *out = all[i];
            return BOOK_OK;
        }
    return s == BOOK_OK ? BOOK_NONE : s;
}

int batch_returned(struct batch *b)
{
    static const char *const KNOWN[] = { "--on", "--liked", "--bottles", "--words", NULL };
    struct book_bottling of;
    struct book_gone gone = { .count = 0 };
    char day[11];
    bool bad = false;
    double n = 1.0;
    int64_t liked;
    if (!cli_take_day(b->c, "--on", &b->now, false, day))
        return ST_EXIT_INPUT;
    const char *said = cli_option(b->c, "--liked", &bad), *words = cli_option(b->c, "--words", &bad);
    (void)cli_option_number(b->c, "--bottles", 0.0, 100000.0, &n, &bad);
    if (bad || !liked_of(said, &liked) || !cli_no_more_options(b->c, KNOWN))
        return ST_EXIT_INPUT;
    int code = bottling_named(b, &of, "returned B14-1 \"Aunt Ida\"");
    const char *person = code == ST_EXIT_DONE ? batch_word(b, "nobody said who", "returned B14-1 \"Aunt Ida\"") : NULL;
    if (!person || !batch_no_more(b, KNOWN))
        return ST_EXIT_INPUT;
    enum book_status s = given_to(b, &of, person, &gone, n >= 1.0);
    if (s < 0)
        return batch_fail(b, s, NULL);
    if (s == BOOK_NONE || n > (double)(gone.count - gone.returned) || n != (double)(long)n) {
        cli_error(person, "has no such bottles of it by the book", "\"stillroom batch who\" shows who has which");
        return ST_EXIT_INPUT;
    }
    s = batch_deed(b, "%s: %.150s brought %ld back%s%s", of.code, gone.person, (long)n, said ? ", liked: " : "",
                   said ? said : "");
    gone.returned += (int64_t)n;
    if (n >= 1.0)
        gone.returned_on = day;
    if (liked != BOOK_NO)
        gone.liked = liked;
    if (words)
        gone.note = words;
    if (s == BOOK_OK)
        s = book_put(b->book, BOOK_GONE, &gone, NULL);
    code = batch_end(b, s, NULL);
    if (code != ST_EXIT_DONE)
        return code;
    if (b->c->json)
        return cli_json_print(json_pack("{s:s, s:o, s:I, s:o}", "code", of.code, "person", st_doc_text(gone.person),
                                        "returned", (json_int_t)gone.returned, "liked",
                                        said ? st_doc_text(said) : json_null()));
    cli_say(0, 2, "%s: %s brought %s back%s%s.", of.code, gone.person, bottles(b, (int64_t)n), said ? "; liked: " : "",
            said ? said : "");
    return ST_EXIT_DONE;
}

/* ---- left ---- */

int batch_left(struct batch *b)
{
    struct book_bottling *all;
    int n, shown = 0;
    json_t *list = json_array();
    if (!batch_no_more(b, NULL))
        return ST_EXIT_INPUT;
    const struct book_wanted w = { .order = "on_day" };
    enum book_status s = book_list(b->book, BOOK_BOTTLING, &w, &b->arena, &all, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        struct book_batch batch;
        int home;
        s = st_batch_at_home(&b->ask, &all[i], &home);
        if (s == BOOK_OK)
            s = book_get(b->book, BOOK_BATCH, all[i].batch_id, &b->arena, &batch);
        if (s != BOOK_OK || home == 0)
            continue;
        shown++;
        json_array_append_new(list,
                              json_pack("{s:o, s:o, s:i, s:I, s:f, s:o}", "code", st_doc_text(all[i].code), "name",
                                        st_doc_text(batch.name), "at_home", home, "of", (json_int_t)all[i].count,
                                        "size_ml", all[i].size_ml, "on_day", st_doc_text(all[i].on_day)));
        if (!b->c->json)
            cli_say(0, 6, "%-7s %s: %d of %lld, %g mL each, bottled %s%s%s", all[i].code, batch.name, home,
                    (long long)all[i].count, all[i].size_ml, batch_day(b, all[i].on_day, false),
                    all[i].use_by ? "; use by " : "", all[i].use_by ? batch_day(b, all[i].use_by, false) : "");
    }
    if (s == BOOK_OK && b->c->json)
        return cli_json_print(json_pack("{s:o}", "at_home", list));
    json_decref(list);
    if (s == BOOK_OK && shown == 0)
        cli_wrap(0, 0, "No bottle is at home by the book.");
    return s == BOOK_OK ? ST_EXIT_DONE : batch_fail(b, s, NULL);
}

/* ---- who ---- */

struct holder {
    struct book_gone gone;
    const char *code, *batch, *name;
    int64_t has;
};

struct search {
    struct batch *b;
    struct holder *h;
    int n, room, home;
    json_t *batches;
};

static enum book_status add_holders(struct search *k, const struct book_batch *batch)
{
    struct book_bottling *all;
    int n;
    const struct book_wanted w = { .column = "batch_id", .integer = batch->id };
    enum book_status s = book_list(k->b->book, BOOK_BOTTLING, &w, &k->b->arena, &all, &n);
    json_array_append_new(k->batches,
                          json_pack("{s:o, s:o}", "batch", st_doc_text(batch->code), "name", st_doc_text(batch->name)));
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

/* One step forward: each batch that something of the lot went into. */
static enum book_status of_lot(struct search *k, const struct book_lot *lot)
{
    struct book_lot_use *use;
    int n;
    const struct book_wanted w = { .column = "lot_id", .integer = lot->id };
    enum book_status s = book_list(k->b->book, BOOK_LOT_USE, &w, &k->b->arena, &use, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        struct book_batch batch;
        bool before = use[i].batch_id == BOOK_NO;
        for (int j = 0; j < i && !before; j++)
            before = use[j].batch_id == use[i].batch_id;
        if (before)
            continue;
        s = book_get(k->b->book, BOOK_BATCH, use[i].batch_id, &k->b->arena, &batch);
        if (s == BOOK_OK)
            s = add_holders(k, &batch);
    }
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

static int print_who(struct search *k, const char *about)
{
    struct batch *b = k->b;
    size_t i;
    const json_t *x;
    json_t *list = json_array();
    if (k->n)
        qsort(k->h, (size_t)k->n, sizeof *k->h, ring_first);
    for (int h = 0; h < k->n; h++) {
        const struct holder *p = &k->h[h];
        json_array_append_new(list, json_pack("{s:o, s:o, s:I, s:o, s:o, s:b}", "person", st_doc_text(p->gone.person),
                                              "code", st_doc_text(p->code), "bottles", (json_int_t)p->has, "on_day",
                                              st_doc_text(p->gone.on_day), "told_on",
                                              p->gone.told_on ? st_doc_text(p->gone.told_on) : json_null(), "told",
                                              p->gone.told_on != NULL));
    }
    if (b->c->json)
        return cli_json_print(
            json_pack("{s:s, s:O, s:o, s:i}", "about", about, "batches", k->batches, "who", list, "at_home", k->home));
    json_decref(list);
    cli_say(0, 2, "%s is in:", about);
    for (i = 0; (x = json_array_get(k->batches, i)) != NULL; i++)
        cli_say(2, 4, "%s  %s", json_string_value(json_object_get(x, "batch")),
                json_string_value(json_object_get(x, "name")));
    if (json_array_size(k->batches) == 0)
        cli_wrap(2, 4, "no batch, by the book");
    cli_heading(k->n ? "Ring, in this order" : "Nobody has a bottle of it, by the book");
    for (int h = 0; h < k->n; h++)
        cli_say(2, 6, "%s: %s (%s), since %s%s%s", k->h[h].gone.person, bottles(b, k->h[h].has), k->h[h].code,
                batch_day(b, k->h[h].gone.on_day, false), k->h[h].gone.told_on ? "; rung " : "",
                k->h[h].gone.told_on ? batch_day(b, k->h[h].gone.told_on, false) : "");
    cli_say(0, 0, "%s at home: put %s aside.", k->home ? batch_text(b, "%d of it are", k->home) : "None is",
            k->home == 1 ? "it" : "them");
    return ST_EXIT_DONE;
}

int batch_who(struct batch *b)
{
    static const char *const KNOWN[] = { "--lot", "--told", NULL };
    struct search k = { .b = b, .batches = json_array() };
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
            s = of_lot(&k, &lot);
    } else if ((code = batch_named(b, &batch)) == ST_EXIT_DONE) {
        about = batch.code;
        s = add_holders(&k, &batch);
    }
    if (s != BOOK_OK)
        code = batch_fail(b, s, &p);
    if (code == ST_EXIT_DONE && !batch_no_more(b, KNOWN))
        code = ST_EXIT_INPUT;
    if (code == ST_EXIT_DONE && name)
        code = told(&k, name, about);
    if (code == ST_EXIT_DONE)
        code = print_who(&k, about);
    json_decref(k.batches);
    return code;
}
