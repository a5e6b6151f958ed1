/* What stands where, since when, and what is due; every batch. */
#include "cli/batch.h"

#include <string.h>

#include "api/book_batch_before.h"
#include "api/doc_batch.h"
#include "cli/page.h"
#include "text/calendar_day.h"

/* A name will do for a code, and the beginning of a name where no other begins so. */
static const char FIND[] = "\"stillroom batch show NAME\"";

/* ---- what stands ---- */

/* -1 due today or before, 0 later, 1 no day; what waits for its syrup waits for the maker. */
static int when(const struct batch *b, const struct st_batch_jar *j)
{
    if (j->todo.waits)
        return -1;
    return !j->row.due_on ? 1 : strcmp(j->row.due_on, b->now.day) <= 0 ? -1 : 0;
}

static void print_jar(struct batch *b, const struct st_batch_jar *j)
{
    const char *then = batch_then(j->row.doing);
    cli_say(2, 6, "%s  %s", j->code, j->name);
    cli_say(6, 6, "%s", batch_jar_words(b, j));
    if (j->todo.waits)
        cli_say(6, 6, "%s, unless it is done already (stillroom batch next %s)", j->todo.then, j->code);
    if (!j->row.due_on)
        return;
    const int c = strcmp(j->row.due_on, b->now.day);
    if (c == 0)
        cli_say(6, 6, "today: %s", then);
    else if (c < 0)
        cli_say(6, 6, "since %s, %s: %s", batch_day(b, j->row.due_on, true), batch_away(b, j->row.due_on), then);
    else
        cli_say(6, 6, "on %s, %s: %s", batch_day(b, j->row.due_on, true), batch_away(b, j->row.due_on), then);
}

static void print_group(struct batch *b, const struct st_batch_jar *j, int n, int group, const char *heading)
{
    int k = 0;
    for (int i = 0; i < n; i++) {
        if (when(b, &j[i]) != group)
            continue;
        if (k++ == 0)
            cli_heading(heading);
        print_jar(b, &j[i]);
    }
}

static void print_all(struct batch *b, const struct st_batch_jar *j, int n, const struct book_batch *idle, int m,
                      int most)
{
    cli_say(0, 0, "%s %s.  %s", st_weekday_name(st_weekday(b->now.number)), batch_day(b, b->now.day, false),
            n == 0   ? m ? "No jar stands." : "Nothing stands on the shelf."
            : n == 1 ? "One jar stands."
                     : batch_text(b, "%d jars stand.", n));
    if (n == 0 && m == 0) {
        cli_wrap(0, 0, "Begin with a recipe, or tell what you made in your own words:");
        printf("\n  stillroom batch begin examples/damson_fresh_fruit.yaml\n"
               "  stillroom batch begin --did my-words.txt --on \"30 days ago\"\n");
        return;
    }
    print_group(b, j, n, -1, "Due");
    print_group(b, j, n, 0, "Still to come");
    print_group(b, j, n, 1, "Standing, no day set");
    if (m)
        cli_heading("Nothing stands of these, and they are not over");
    for (int i = 0; i < cli_most_of(m, most); i++)
        cli_say(2, 6, "%s  %s, begun %s (stillroom batch next %s)", idle[i].code, idle[i].name,
                batch_day(b, idle[i].begun_on, false), idle[i].code);
    cli_and_more(m - cli_most_of(m, most), m, FIND);
}

int batch_stands(struct batch *b)
{
    struct st_batch_jar *j = NULL;
    struct book_batch *idle = NULL;
    static const char *const KNOWN[] = { "--most", NULL };
    int n = 0, m = 0, most;
    if (!cli_take_most(b->c, &most) || !batch_no_more(b, KNOWN))
        return ST_EXIT_INPUT;
    enum book_status s = b->book ? st_batch_jars(&b->ask, BOOK_NO, false, &j, &n) : BOOK_OK; /* else none was begun */
    if (s == BOOK_OK && b->book)
        s = st_batch_jars_todo(&b->ask, j, n);
    if (s == BOOK_OK && b->book)
        s = st_batch_idle(&b->ask, j, n, &idle, &m);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    if (b->c->json)
        return cli_json_print(st_doc_batch_stands(b->now.day, b->now.number, j, n, idle, m));
    print_all(b, j, n, idle, m, most);
    return ST_EXIT_DONE;
}

/* ---- every one ---- */

int batch_all(struct batch *b)
{
    static const char *const KNOWN[] = { "--most", NULL };
    struct book_batch *all = NULL;
    int64_t of = 0;
    int n = 0, most;
    if (!cli_take_most(b->c, &most) || !batch_no_more(b, KNOWN))
        return ST_EXIT_INPUT;
    const struct book_wanted w = { .order = "begun_on", .backward = true, .most = most, .brief = true };
    enum book_status s = b->book ? book_list(b->book, BOOK_BATCH, &w, &b->arena, &all, &n) : BOOK_OK;
    if (s == BOOK_OK && b->book)
        s = book_count(b->book, BOOK_BATCH, NULL, &of);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    if (b->c->json)
        return cli_json_print(st_doc_batch_all(all, n, (int)of));
    for (int i = 0; i < n; i++)
        cli_say(0, 6, "%-5s %s, begun %s%s%s", all[i].code, all[i].name, batch_day(b, all[i].begun_on, false),
                all[i].ended_on ? ", over since " : "", all[i].ended_on ? batch_day(b, all[i].ended_on, false) : "");
    cli_and_more((int)of - n, (int)of, FIND);
    if (n == 0)
        cli_wrap(0, 0, "No batch was begun yet: stillroom batch begin RECIPE.");
    return ST_EXIT_DONE;
}
