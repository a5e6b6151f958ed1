/* Where bottles went, what came back, and what is still at home. */
#include "cli/batch.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "cli/page.h"
#include "store/left.h"

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
    if (!person[strspn(person, " ")]) {
        cli_error("\"\"", "nobody said to whom", "write for example: stillroom batch gave B14-1 2 \"Aunt Ida\"");
        return ST_EXIT_INPUT;
    }
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
        if (all[i].lot_id == BOOK_NO && strcasecmp(all[i].person, person) == 0 &&
            (!open || all[i].returned < all[i].count)) {
            *out = all[i];
            return BOOK_OK;
        }
    return s == BOOK_OK ? BOOK_NONE : s;
}

static int tell_returned(struct batch *b, const struct book_bottling *of, const struct book_gone *gone, int64_t n,
                         int64_t liked, const char *said)
{
    if (b->c->json)
        return cli_json_print(json_pack("{s:s, s:o, s:I, s:o}", "code", of->code, "person", st_doc_text(gone->person),
                                        "returned", (json_int_t)gone->returned, "liked",
                                        said ? st_doc_text(said) : json_null()));
    const char *taste = liked == BOOK_NO ? ""
                        : liked > 0      ? "liked it"
                        : liked < 0      ? "did not like it"
                                         : "found it so-so";
    if (n >= 1)
        cli_say(0, 2, "%s: %s brought %s back%s%s.", of->code, gone->person, bottles(b, n), *taste ? " and " : "",
                taste);
    else
        cli_say(0, 2, "%s: %s %s.", of->code, gone->person,
                *taste ? taste : "brought none back, and your note is kept");
    return ST_EXIT_DONE;
}

int batch_returned(struct batch *b)
{
    static const char *const KNOWN[] = { "--on", "--liked", "--bottles", "--words", NULL };
    struct book_bottling of;
    struct book_gone gone = { .on_day = "" };
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
    if (n == 0.0 && !said && !words) {
        cli_error("--bottles 0", "then nothing is said", "write --liked yes, so-so or no, or --note with it");
        return ST_EXIT_INPUT;
    }
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
    if (strcmp(day, gone.on_day) < 0) {
        cli_error(day, batch_text(b, "%s had it only on %s", gone.person, gone.on_day), "look at --on");
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
    return tell_returned(b, &of, &gone, (int64_t)n, liked, said);
}

/* ---- left ---- */

static void tell_left(struct batch *b, const struct book_left *l)
{
    const struct book_bottling *of = &l->row;
    const bool past = of->use_by && strcmp(of->use_by, b->now.day) < 0;
    const char *until =
        !of->use_by ? ""
        : past      ? batch_text(b, "; past its day, %s: look at it, or throw it away", batch_day(b, of->use_by, false))
                    : batch_text(b, "; use by %s", batch_day(b, of->use_by, false));
    cli_say(0, 6, "%-7s %s: %lld of %lld, %g mL%s, bottled %s%s", of->code, l->name, (long long)l->at_home,
            (long long)of->count, of->size_ml, of->count == 1 ? "" : " each", batch_day(b, of->on_day, false), until);
}

static json_t *left_doc(const struct book_left *l)
{
    return json_pack("{s:o, s:o, s:I, s:I, s:f, s:o}", "code", st_doc_text(l->row.code), "name", st_doc_text(l->name),
                     "at_home", (json_int_t)l->at_home, "of", (json_int_t)l->row.count, "size_ml", l->row.size_ml,
                     "on_day", st_doc_text(l->row.on_day));
}

int batch_left(struct batch *b)
{
    static const char *const KNOWN[] = { "--most", NULL };
    struct book_left *left = NULL;
    int n = 0, of = 0, most;
    if (!cli_take_most(b->c, &most) || !batch_no_more(b, KNOWN))
        return ST_EXIT_INPUT;
    const enum book_status s = b->book ? book_bottles_left(b->book, most, &b->arena, &left, &n, &of) : BOOK_OK;
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    if (b->c->json) {
        json_t *list = json_array();
        for (int i = 0; i < n; i++)
            json_array_append_new(list, left_doc(&left[i]));
        return cli_json_print(json_pack("{s:o, s:i}", "at_home", list, "left_out", of - n));
    }
    for (int i = 0; i < n; i++)
        tell_left(b, &left[i]);
    cli_and_more(of - n, of, "\"stillroom larder find WORDS\"");
    if (n == 0)
        cli_wrap(0, 0, "No bottle is at home by the book.");
    return ST_EXIT_DONE;
}
