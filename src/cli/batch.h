#ifndef ST_CLI_BATCH_H
#define ST_CLI_BATCH_H

#include "api/book_batch.h"
#include "cli/book.h"
#include "text/figure_words.h"
#include "util/version.h"

/* What the sub-commands of `stillroom batch` share. */

struct batch {
    struct cli *c;
    struct book *book;
    struct st_arena arena;
    struct cli_now now;
    struct st_batch_ask ask;
    enum st_heard heard; /* the batch that is told of: FILE unless batch_did_heard was asked */
};

#define BATCH_PROGRAM "stillroom " ST_VERSION /* of what is foreseen and kept */

/* --- batch.c --- each returns an exit code; everything is told when it is not ST_EXIT_DONE */
/* Tell what a call refused: the maker's to put right, or the store's. */
int batch_fail(struct batch *b, enum book_status s, const struct st_problem *problem);
int batch_wrong(const struct st_problem *problem);
/* The batch that the next word names, taken off the command line. */
int batch_named(struct batch *b, struct book_batch *out);
/* Whether the batch was begun by that day; false after a message. */
bool batch_existed(struct batch *b, const struct book_batch *row, const char *day);
/* The next word; NULL after a message that says what is missing ("which batch"). */
const char *batch_word(struct batch *b, const char *missing, const char *example);
/* Nothing may be left on the command line. */
bool batch_no_more(struct batch *b, const char *const known[]);
/* Begin a deed with words as printf writes them; batch_end keeps it when s is BOOK_OK. */
__attribute__((format(printf, 2, 3))) enum book_status batch_deed(struct batch *b, const char *format, ...);
int batch_end(struct batch *b, enum book_status s, const struct st_problem *problem);
/* Why what was said (words) is not kept: with it the batch could not be read, and nothing were known of its worst cases (already: nor
 * is it without); BOOK_NONE, for batch_end or batch_fail. */
enum book_status batch_unreadable(struct batch *b, const struct book_batch *batch, const char *words,
                                  const struct st_problem *because, bool already, struct st_problem *problem);
/* A text that lives as long as the command. */
__attribute__((format(printf, 2, 3))) const char *batch_text(struct batch *b, const char *format, ...);

/* --- batch_words.c --- */
/* "Friday 27 November", with its year when that is another than now's; "4 October" without the day's name. */
const char *batch_day(struct batch *b, const char *iso, bool weekday);
/* "today", "tomorrow", "in 4 days", "yesterday", "2 days ago", "in 7 weeks". */
const char *batch_away(struct batch *b, const char *iso);
/* Before and now of a figure, "24.1 % vol, likely between ..."; one line when they read the same. */
void batch_before_now(struct batch *b, const struct st_foretold *before, const struct st_foretold *now);
/* Both under a heading; now alone where nothing could be foretold before.  False: nothing is foretold now, and why is told. */
bool batch_foretold_now(struct batch *b, const char *heading, const struct st_batch_made *before,
                        const struct st_batch_made *now);
void batch_foretold_lines(struct batch *b, const struct st_foretold *f);
json_t *batch_foretold_json(const struct st_foretold *f);
/* Of a drink that nobody could reckon (m not told): that no limit was looked at, and why. */
const char *batch_nothing_known(struct batch *b, const struct st_batch_made *m, const char *code);
/* The worst of what to watch in what is really in the jar; of one that is not told, that nothing is known. */
void batch_cautions(struct batch *b, const struct st_batch_made *m, const char *code);
json_t *batch_cautions_json(struct batch *b, const struct st_batch_made *m);
/* st_batch_then */
const char *batch_then(const char *doing);
/* What is to be mixed into it first, or may not have gone in; nothing where nothing is. */
void batch_todo_print(struct batch *b, const char *code, const struct st_batch_todo *t, int indent);
/* What the jar does, or waits for. */
const char *batch_doing(const struct st_batch_jar *j);
/* The jar in words: "steeping in \"3 L jar\", cellar, since 4 October (56 days)". */
const char *batch_jar_words(struct batch *b, const struct st_batch_jar *j);
json_t *batch_jar_json(struct batch *b, const struct st_batch_jar *j);

/* --- what batch_strain.c lends to batch_begin.c --- */
/* Begin the jars that can be begun on that day; inside a deed. */
enum book_status batch_begin_jars(struct batch *b, const struct book_batch *batch, const struct st_recipe *r,
                                  const char *day, const char *vessel, const char *where, int *n);

/* --- what batch_pour.c lends to batch_weigh.c --- */
/* Whether the words are an amount of another batch: "100 mL of B1". */
/* What went of it and what is left: "400 mL of it went since ...; left of it: 431 mL, likely between ..."; "" where nothing went. */
const char *batch_left_words(struct batch *b, const struct book_batch *row, const struct st_batch_made *made);
/* That what is added to it on that day comes into what was left of it then, or that what went since had it already; "" where
 * nothing went. */
const char *batch_part_words(struct batch *b, const struct book_batch *row, const struct st_batch_made *made,
                             const char *day);

bool batch_is_poured(struct batch *b, const char *words, struct book_batch *from, const char **amount);
/* Bottles of another batch, "2 bottles of B1-1", into a step of a batch; *code is set where the words say so. */
bool batch_bottles_into(struct batch *b, const struct book_batch *into, const char *step, const char *words,
                        const char *day, int *code);
/* Pour that into a step of a batch, and tell. */
int batch_pour_into(struct batch *b, const struct book_batch *into, const char *step, const struct book_batch *from,
                    const char *amount, const char *day);

/* --- batch_again.c --- */
/* Of a batch begun as another (its text read: r): one sentence for each line that is of a lot of then. */
enum book_status batch_again_words(struct batch *b, const struct book_batch *row, const struct st_recipe *r,
                                   const char ***words, int *n);

/* --- batch_vessel.c --- */
/* What the maker should know of the vessel that it stands in: it is too small, or holds another batch; "" nothing.  m: of the
 * batch, told, or NULL; the other reads it from the book. */
const char *batch_vessel_remark(struct batch *b, const struct st_batch_jar *j, const struct st_batch_made *m);
const char *batch_vessel_remark_of(struct batch *b, const struct st_batch_jar *j, const struct book_batch *batch);

/* --- the sub-commands --- */
int batch_stands(struct batch *b);
int batch_all(struct batch *b);
int batch_begin(struct batch *b);
int batch_answer(struct batch *b);
int batch_weigh(struct batch *b);
int batch_add(struct batch *b);
int batch_pour(struct batch *b);
int batch_move(struct batch *b);
int batch_strain(struct batch *b);
int batch_next(struct batch *b);
int batch_read(struct batch *b);
int batch_doubt(struct batch *b);
int batch_agrees(struct batch *b);
int batch_learn(struct batch *b);
int batch_lose(struct batch *b);
int batch_spent(struct batch *b);
int batch_photo(struct batch *b);
int batch_bottle(struct batch *b);
int batch_gave(struct batch *b);
int batch_returned(struct batch *b);
int batch_left(struct batch *b);
int batch_who(struct batch *b);
int batch_alcohol(struct batch *b);
int batch_show(struct batch *b);
int batch_end_it(struct batch *b);

#endif
