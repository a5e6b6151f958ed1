#ifndef ST_CLI_CLI_H
#define ST_CLI_CLI_H

#include <jansson.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

#include "api/doc.h"
#include "model/foresee.h"
#include "text/figure_words.h"
#include "text/ingredients.h"
#include "text/watch.h"

/* Exit codes of every command. */
enum { ST_EXIT_DONE = 0, ST_EXIT_UNMET = 1, ST_EXIT_INPUT = 2, ST_EXIT_SYSTEM = 3 };

/* What all commands share: options taken off the command line before the command sees it. */
struct cli {
    const char *command;
    bool json;              /* --json: one document on stdout, nothing else there */
    enum st_measures units; /* --units us|metric|imperial; NONE when not said */
    uint64_t seed;          /* --seed, 1 */
    int draws;              /* --draws, 4000 */
    bool draws_said;
    bool timing;                       /* --timing: computing time on stderr */
    bool explain;                      /* --explain */
    const struct st_home *place;       /* --place; NULL when not said */
    const char *book, *today;          /* --book, --today; NULL when not said (cli/book.h) */
    double serving_ml, body_weight_kg; /* --serving, --body-weight; 0 when not said */
    int argc;                          /* what is left for the command, argv[0] is the first word after the command */
    char **argv;
};

/* A command: one row of the table in help.c, from which help is printed. */
struct cli_command {
    const char *name, *line, *usage; /* line: one-line help; usage: the full text of `stillroom help NAME` */
    int (*run)(struct cli *c);
    enum { CLI_EXPLAINS = 1 /* it knows --explain */, CLI_WORDS /* of its own: stillroom batch begin */ } has;
    const char *story; /* behind the usage: a worked example; or "" */
};

/* --- help.c --- */
const struct cli_command *cli_command_named(const char *name); /* NULL: there is none */
int cli_unknown_command(const char *name);                     /* told; the exit code */
void cli_commands_print(FILE *to);
/* The list, or one command in full (NULL: the list), as a page or a document; the exit code. */
int cli_help(const char *name, bool json);

int cmd_property(struct cli *c);
int cmd_mix(struct cli *c);
int cmd_gauge(struct cli *c);
int cmd_foresee(struct cli *c);
int cmd_take(struct cli *c);       /* free recipe text, read back line by line */
int cmd_ingredient(struct cli *c); /* what the sheet knows of an ingredient, every figure with its source */
int cmd_aim(struct cli *c);        /* a recipe turned round: amounts that meet wishes */
int cmd_trial(struct cli *c);      /* small glasses with more and more of something, and the best for the batch */
int cmd_correct(struct cli *c);    /* a measured batch put right */
int cmd_clear(struct cli *c);      /* will it go cloudy, and what helps */
int cmd_rescue(struct cli *c);     /* something went wrong: keep, fix or bin */
int cmd_cautions(struct cli *c);   /* what to watch, worst first */
int cmd_source(struct cli *c);     /* the entry of docs/sources.md for a key */
int cmd_steep(struct cli *c);      /* a jar over time */
int cmd_batch(struct cli *c);      /* what was really made, by jar and day */
int cmd_serve(struct cli *c);      /* the pages for a browser on this machine */
int cmd_export(struct cli *c);     /* the whole book as one document */
int cmd_import(struct cli *c);     /* such a document into a new book */
int cmd_backup(struct cli *c);     /* copies of the book: made, listed, looked through, taken back */
int cmd_undo(struct cli *c);       /* take back what was done in the notebook */
extern const char cmd_export_usage[], cmd_import_usage[], cmd_undo_usage[], cmd_backup_usage[];
int cmd_larder(struct cli *c); /* the notebook: what the maker owns */
int cmd_recipe(struct cli *c); /* the notebook: recipes with their history */
extern const char cmd_larder_usage[], cmd_recipe_usage[];
extern const char cmd_batch_usage[], cmd_batch_story[];
extern const char cmd_clear_usage[], cmd_rescue_usage[];
extern const char cmd_serve_usage[], cmd_steep_usage[], cmd_cautions_usage[];
extern const char cmd_trial_usage[], cmd_correct_usage[];
extern const char cmd_aim_usage[], cmd_property_usage[], cmd_mix_usage[], cmd_gauge_usage[], cmd_foresee_usage[],
    cmd_ingredient_usage[], cmd_source_usage[], cmd_take_usage[];

/* --- options.c --- */
/* Value of "--name V" or "--name=V" taken out of c->argv; NULL when absent.  Twice or without a value: prints, *bad = true. */
const char *cli_option(struct cli *c, const char *name, bool *bad);
bool cli_flag(struct cli *c, const char *name);
/* The same as a number within lo..hi ("C" or "F" suffix only by cli_option_temperature); absent leaves *x alone and returns false. */
bool cli_option_number(struct cli *c, const char *name, double lo, double hi, double *x, bool *bad);
/* "20", "20C", "68F" -> K. */
bool cli_option_temperature(struct cli *c, const char *name, double *T_K, bool *bad);
/* After a command took what it knows: complains about what starts with "-" and is left (with the near option of known[], NULL-ended). */
bool cli_no_more_options(struct cli *c, const char *const known[]);

/* --- watch.c --- */
bool cli_take_watch(struct cli *c); /* the options --place, --serving, --body-weight; false after a message */
/* Whose rules hold, by --place; all when it was not said. */
unsigned cli_places(void);
/* What this recipe is held against; without books, after a message, when the program was built without its data. */
struct st_watch cli_watch(const struct cli *c, const struct st_recipe *r);

/* --- problem.c --- (stderr; with --json they are also one document on stdout, printed last) */
void cli_error(const char *what, const char *why, const char *try_); /* "stillroom: WHAT: WHY; TRY" */
void cli_problem(const char *file, const struct st_problem *p);      /* "FILE:LINE:COLUMN: WHAT: WHY; TRY" */

/* What cli_error and cli_problem tell to try speaks of this batch where it says B14; code "": of B14 again. */
void cli_examples_of(const char *code);

/* True, and told, when the amount may be a thousand times as much ("1.000 mL"): it is asked about, not read. */
bool cli_asks_amount(const char *said, enum st_measures measures);

/* As cli_error, for what was written to stderr in another form. */
void cli_error_kept(const char *what, const char *why, const char *try_);
/* {"error": the first, "errors": [all]}, each with file, line, column, what, why, try, question; nothing when there was
 * none, or when another document was printed.  Once, at the end. */
void cli_errors_finish(bool json);

/* --- catalogue.c --- the embedded sheet; prints and returns NULL on failure */
struct st_catalogue *cli_catalogue(void);

/* --- print.c --- */
/* One document, indented, to stdout, numbers to 12 significant digits; frees it; returns ST_EXIT_DONE or ST_EXIT_SYSTEM. */
int cli_json_print(json_t *doc);
bool cli_json_printed(void); /* whether one was */
/* Text wrapped at 78 columns with a hanging indent, to stdout. */
void cli_wrap(int indent, int hang, const char *text);
/* Write n bytes of UTF-8; signs that steer a terminal (ESC and its like, and those that turn the direction of text) are
 * written as \x1b and \u202e, line breaks and tabs as they are.  For whatever a maker, a file or somebody else's book named. */
void cli_put(FILE *to, const char *text, size_t n);
/* How many bytes at text are one such sign; 0: none. */
size_t cli_steers(const char *text, size_t n);

/* --- cautions_out.c --- */
void cli_cautions_print(const struct st_cautions *list);

/* --- cautions_short.c --- */
/* The gravest cautions of a recipe, a line each with its source, and how many more there are: stillroom cautions NAME.
 * f may be NULL: nothing was foretold. */
void cli_cautions_short(const struct cli *c, const struct st_recipe *r, const struct st_foretold *f, const char *name);
/* All of them, as every document has them. */
json_t *cli_cautions_json(const struct cli *c, const struct st_recipe *r, const struct st_foretold *f);

#endif
