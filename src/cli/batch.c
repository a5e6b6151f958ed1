#include "cli/batch.h"

#include <stdarg.h>
#include <string.h>

#include "text/near.h"

/* One row a sub-command: name, its name in a column, one line of help, how it is written, what it does with the book. */
#define BATCH_ROWS(X)                                                                                                  \
    X("all", "all      ", "every batch, also those that are over", "[--most N]", LOOKS, batch_all)                     \
    X("begin", "begin    ", "a recipe, a kept try, what was done, or the same again",                                  \
      "RECIPE|NAME[/TRY] [--on DATE] [--code X]\n"                                                                     \
      "                 [--name N] [--vessel \"3 L jar\"] [--where X]\n"                                               \
      "  stillroom batch begin --from B12        again, as that one was really made\n"                                 \
      "  stillroom batch begin --did FILE|-      in your own words; --answer",                                         \
      WRITES, batch_begin)                                                                                             \
    X("answer", "answer   ", "what was still open of one told in your own words", "B14 ID=VALUE", WRITES,              \
      batch_answer)                                                                                                    \
    X("weigh", "weigh    ", "what really went in, in the place of what was planned",                                   \
      "B14 STEP LINE \"412 g\" [--lot L7] [--instead]", WRITES, batch_weigh)                                           \
    X("add", "add      ", "something that is not in the recipe",                                                       \
      "B14 STEP \"50 g sugar\"|\"2 bottles of B9-1\" [--lot L7]", WRITES, batch_add)                                   \
    X("pour", "pour     ", "part of a drink into another batch", "B14 \"100 mL\" --into B15 [--step ID] [--on DATE]",  \
      WRITES, batch_pour)                                                                                              \
    X("next", "next     ", "what comes next, and what is still open", "B14", READS, batch_next)                        \
    X("move", "move     ", "into another vessel or to another place", "B14 [STEP] --to \"5 L jar\" [--where cellar]",  \
      WRITES, batch_move)                                                                                              \
    X("strain", "strain   ", "a jar is done: the next one begins as the recipe has it",                                \
      "B14 [--step ID] [drained=412g liquor=820mL]\n                 [--to \"5 L jar\"] [--where cellar]", WRITES,     \
      batch_strain)                                                                                                    \
    X("read", "read     ", "what instruments, scale and tongue say",                                                   \
      "B14 sg=1.043@22C brix=28 [--step ID] [--by NAME]\n                 [--of damson] [--hydrometer 60F] [--on "     \
      "DATE]",                                                                                                         \
      WRITES, batch_read)                                                                                              \
    X("doubt", "doubt    ", "set a reading aside; it stays, and is not used", "B14 NUMBER [--trust]", WRITES,          \
      batch_doubt)                                                                                                     \
    X("agrees", "agrees   ", "does my reading agree with what was foretold?", "B14", READS, batch_agrees)              \
    X("learn", "learn    ", "what the readings of one or more batches teach", "B14 [B9 ...] [--step ID]", READS,       \
      batch_learn)                                                                                                     \
    X("lose", "lose     ", "what went elsewhere than into a bottle",                                                   \
      "B14 \"30 mL\" --why spilt|lees|filter|tasted|drawn|\n                 thrown|evaporated|other [--strength 40]", \
      WRITES, batch_lose)                                                                                              \
    X("spent", "spent    ", "the drained fruit, kept for something else",                                              \
      "B14 [--step ID] [--amount 380g] [--where X]", WRITES, batch_spent)                                              \
    X("photo", "photo    ", "a picture of it, kept in the book", "B14 FILE [--note ..]   or   B14 --save N FILE",      \
      WRITES, batch_photo)                                                                                             \
    X("bottle", "bottle   ", "into bottles: how many, which size, and what the label says",                            \
      "B14 \"3 x 350 mL\" [--strength 24.3] [--use-by DATE]\n                 [--code X]", WRITES, batch_bottle)       \
    X("gave", "gave     ", "bottles that went to somebody", "B14-1 2 \"Aunt Ida\" [--on DATE]", WRITES, batch_gave)    \
    X("returned", "returned ", "a bottle that came back, and whether it was liked",                                    \
      "B14-1 \"Aunt Ida\" [--bottles N]\n                 [--liked yes|so-so|no]", WRITES, batch_returned)             \
    X("left", "left     ", "bottles that are still at home", "[--most N]", LOOKS, batch_left)                          \
    X("who", "who      ", "if a jar turns out wrong: who has bottles of it", "B14   or   --lot L7   [--told NAME]",    \
      WRITES, batch_who)                                                                                               \
    X("alcohol", "alcohol  ", "litres of pure alcohol in, out and lost",                                               \
      "[--since DATE] [--until DATE] [--lot L7] [--csv FILE]", LOOKS, batch_alcohol)                                   \
    X("show", "show     ", "its whole story, by day; what it cost", "B14 [--pour-price P --tax T]", READS, batch_show) \
    X("end", "end      ", "it is over", "B14 [--note ..] [--on DATE]", WRITES, batch_end_it)

#define USAGE_ROW(name, column, line, usage, with_book, run)  "  " column " " line "\n"
#define USAGE_FORM(name, column, line, usage, with_book, run) "  stillroom batch " name " " usage "\n"

const char cmd_batch_usage[] =
    "stillroom batch [WORD ...]\n"
    "\n"
    "What was really made, by jar and day.  Alone: what stands where, since when,\n"
    "and what is due.\n"
    "\n" BATCH_ROWS(
        USAGE_ROW) "\n"
                   "How they are written:\n"
                   "\n" BATCH_ROWS(
                       USAGE_FORM) "\n"
                                   "  --on DATE     the day it was done: 2026-10-04, yesterday, \"3 days ago\"\n"
                                   "  --step ID     which step of the recipe, by its id or its number\n"
                                   "  --where       where the jar stands (--place is whose rules hold)\n"
                                   "  --instead     with weigh: in the place of what was weighed of it before\n"
                                   "  --lot L7      what was taken from which lot of the larder\n"
                                   "  --into B15    with pour: the batch that it went into\n"
                                   "  --told NAME   with who: that they were rung\n"
                                   "  --trust       with doubt: it is used again\n"
                                   "  --answer ID=VALUE  with --did: what the text leaves open, as with take\n"
                                   "  --note TEXT   a note with it; --words is the same\n"
                                   "  --most N      the first N of a list; a page shows 100\n"
                                   "  --save N FILE with photo: write photo N to a file; --force over one\n"
                                   "\n"
                                   "Each change is a deed that `stillroom undo` takes back.\n";

const char cmd_batch_story[] = "From begin to bottle:\n"
                               "  stillroom larder add \"700 mL vodka 50 %\" --on 2025-10-03\n"
                               "  stillroom batch begin examples/damson_fresh_fruit.yaml --on 2025-10-04\n"
                               "  stillroom batch weigh B1 jar damsons \"612 g\" --on 2025-10-04\n"
                               "  stillroom batch weigh B1 jar vodka \"700 mL\" --lot L1 --on 2025-10-04\n"
                               "  stillroom batch next B1\n"
                               "  stillroom batch strain B1 drained=450g liquor=820mL --on 2025-11-29\n"
                               "  stillroom batch weigh B1 syrup sugar \"131 g\" --on 2025-11-29\n"
                               "  stillroom batch weigh B1 syrup water \"120 mL\" --on 2025-11-29\n"
                               "  stillroom batch strain B1 --on 2026-01-17      it has rested\n"
                               "  stillroom batch strain B1 --on 2026-01-18      and is filtered\n"
                               "  stillroom batch read B1 sg=1.046@20C brix=26@20C --on 2026-01-18\n"
                               "  stillroom batch agrees B1\n"
                               "  stillroom batch bottle B1 \"2 x 350 mL\" --on 2026-01-18\n"
                               "  stillroom batch gave B1-1 1 \"Aunt Ida\" --on 2026-02-01\n"
                               "  stillroom batch end B1 --on 2026-02-15\n"
                               "  stillroom batch show B1\n";

static const struct batch_sub {
    const char *name;
    enum { LOOKS /* there may be none yet */, READS, WRITES } with_book;
    int (*run)(struct batch *b);
} SUB[] = {
#define TABLE_ROW(name, column, line, usage, with_book, run) { name, with_book, run },
    BATCH_ROWS(TABLE_ROW)
};
enum { NSUB = sizeof SUB / sizeof *SUB };

/* ---- for all of them ---- */

int batch_wrong(const struct st_problem *p)
{
    if (p->at.line > 0)
        cli_problem("its recipe", p);
    else
        cli_error(p->what, p->why, p->try_);
    return ST_EXIT_INPUT;
}

int batch_fail(struct batch *b, enum book_status s, const struct st_problem *problem)
{
    if (problem && problem->what[0])
        return batch_wrong(problem);
    return cli_book_fail(b->book, s);
}

enum book_status batch_unreadable(struct batch *b, const struct book_batch *batch, const char *words,
                                  const struct st_problem *because, bool already, struct st_problem *problem)
{
    char at[60] = "";
    if (because->at.line > 0)
        (void)snprintf(at, sizeof at, "its recipe:%d:%d: ", because->at.line, because->at.column);
    st_batch_refuse(problem, batch_text(b, "%s%s%s%s", at, because->what, because->why[0] ? ": " : "", because->why),
                    because->try_[0] ? because->try_ : "say it in grams, in mL or as a count",
                    already ? "%.80s is not kept: the recipe of %.40s cannot be reckoned, with it or without"
                            : "%.80s is not kept: with it the recipe of %.40s could not be reckoned",
                    words, batch->code);
    return BOOK_NONE;
}

const char *batch_word(struct batch *b, const char *missing, const char *example)
{
    char try_[200];
    if (b->c->argc > 0) {
        b->c->argc--;
        return *b->c->argv++;
    }
    (void)snprintf(try_, sizeof try_, "write for example: stillroom batch %.150s", example);
    cli_error("batch", missing, try_);
    return NULL;
}

int batch_named(struct batch *b, struct book_batch *out)
{
    struct st_problem p = { .what = "" };
    const char *said = batch_word(b, "no batch is named", "show B14");
    if (!said)
        return ST_EXIT_INPUT;
    const enum book_status s = st_batch_find(&b->ask, said, out, &p);
    cli_examples_of(s == BOOK_OK ? out->code : "");
    return s == BOOK_OK ? ST_EXIT_DONE : batch_fail(b, s, &p);
}

bool batch_existed(struct batch *b, const struct book_batch *row, const char *day)
{
    if (strcmp(day, row->begun_on) >= 0)
        return true;
    cli_error(day, batch_text(b, "%s was begun later than that, %s", row->code, row->begun_on), "look at --on");
    return false;
}

bool batch_no_more(struct batch *b, const char *const known[])
{
    if (!cli_no_more_options(b->c, known))
        return false;
    if (b->c->argc == 0)
        return true;
    char what[120];
    (void)snprintf(what, sizeof what, "\"%.80s\"", b->c->argv[0]);
    cli_error(what, "that is more than was expected here",
              "stillroom help batch tells how it is written; words with blanks "
              "stand in quotes");
    return false;
}

enum book_status batch_deed(struct batch *b, const char *format, ...)
{
    char words[390];
    va_list args;
    va_start(args, format);
    (void)vsnprintf(words, sizeof words, format, args);
    va_end(args);
    return book_begin(b->book, b->now.moment, words);
}

int batch_end(struct batch *b, enum book_status s, const struct st_problem *problem)
{
    if (s == BOOK_OK)
        s = book_end(b->book);
    else
        book_cancel(b->book);
    return s == BOOK_OK ? ST_EXIT_DONE : batch_fail(b, s, problem);
}

const char *batch_text(struct batch *b, const char *format, ...)
{
    char text[1000];
    va_list args;
    va_start(args, format);
    (void)vsnprintf(text, sizeof text, format, args);
    va_end(args);
    return st_arena_strdup(&b->arena, text);
}

/* ---- which of them ---- */

static int unknown(const char *said)
{
    const char *known[NSUB];
    char what[120], try_[160];
    for (int i = 0; i < NSUB; i++)
        known[i] = SUB[i].name;
    const char *near = st_near_key(said, known, NSUB);
    (void)snprintf(what, sizeof what, "batch \"%.60s\"", said);
    if (near)
        (void)snprintf(try_, sizeof try_, "did you mean \"stillroom batch %s\"", near);
    else
        (void)snprintf(try_, sizeof try_,
                       "\"stillroom help batch\" lists them; of one batch: stillroom batch show B14");
    cli_error(what, "nothing is done with batches by that word", try_);
    return ST_EXIT_INPUT;
}

static const struct batch_sub *find(const char *said)
{
    for (int i = 0; i < NSUB; i++)
        if (strcmp(SUB[i].name, said) == 0)
            return &SUB[i];
    return NULL;
}

static int run_it(struct batch *b, const struct batch_sub *sub)
{
    struct st_catalogue *spare = NULL;
    b->ask = (struct st_batch_ask){ .book = b->book,
                                    .arena = &b->arena,
                                    .catalogue = cli_catalogue,
                                    .measures = b->c->units,
                                    .seed = b->c->seed,
                                    .draws = b->c->draws,
                                    .by_drained = true,
                                    .spare = &spare };
    const int code = sub ? sub->run(b) : batch_stands(b);
    st_catalogue_free(spare);
    return code;
}

/* --note is --words here, as it is --note elsewhere in the notebook. */
static void notes_are_words(struct batch *b)
{
    struct cli *c = b->c;
    for (int i = 0; i < c->argc; i++)
        if (strcmp(c->argv[i], "--note") == 0 || strncmp(c->argv[i], "--note=", 7) == 0) {
            const char *words = batch_text(b, "--words%s", c->argv[i] + 6);
            c->argv[i] = st_arena_strdup(&b->arena, words);
        }
}

/* Names, codes and amounts stand on one line; a note may have several. */
static bool one_line_each(const struct cli *c)
{
    for (int i = 0; i < c->argc; i++) {
        const bool note = (i > 0 && strcmp(c->argv[i - 1], "--words") == 0) || strncmp(c->argv[i], "--words=", 8) == 0;
        for (const char *p = c->argv[i]; *p && !note; p++)
            if ((unsigned char)*p < ' ') {
                cli_error("batch", "a line break, or another sign that cannot be seen, stands in a word",
                          "write it on one line; only a --note may have several");
                return false;
            }
    }
    return true;
}

int cmd_batch(struct cli *c)
{
    struct batch b = { .c = c };
    const struct batch_sub *sub = NULL;

    if (!cli_take_now(c, &b.now))
        return ST_EXIT_INPUT;
    if (c->argc > 0 && c->argv[0][0] != '-') {
        sub = find(c->argv[0]);
        if (!sub)
            return unknown(c->argv[0]);
        c->argc--;
        c->argv++;
    }
    notes_are_words(&b);
    int code = !one_line_each(c) ? ST_EXIT_INPUT
               : sub && sub->with_book != LOOKS
                   ? cli_book_open(c, sub->with_book == WRITES ? BOOK_WRITE : BOOK_READ, &b.book)
                   : cli_book_look(c, &b.book);
    if (code == ST_EXIT_DONE)
        code = run_it(&b, sub);
    book_close(b.book);
    st_arena_done(&b.arena);
    return code;
}
