#ifndef ST_CLI_AIM_H
#define ST_CLI_AIM_H

#include "api/aim_task.h"
#include "cli/page.h"
#include "model/aim.h"
#include "text/aim_words.h"
#include "text/recipe_yaml.h"
#include "util/buf.h"

/* What only the files aim*.c share: one aim from the command line to the page. */

enum { AIM_HAVES = 8 };

struct aim_task {
    struct cli *cli;
    const char *name;   /* of the recipe, as it is shown */
    struct st_buf text; /* as it was read */
    struct st_catalogue *catalogue;
    struct st_aim_task core;
    double solve_ms;
};

/* --- aim_options.c, aim_lines.c --- take the wishes, free and kept lines, limits off the command line.  false after a
 * message. */
struct aim_options {
    bool in_kitchen;
    const char *kitchen; /* file of --kitchen, or NULL: the usual tools */
    const char *less_sweet, *than, *than_sugar, *spirit, *spirit_for, *whole_bottles, *jar, *output;
    const char *free, *keep, *have[AIM_HAVES];
    int n_have;
    double times;
    bool force;                /* write over a file */
    const char *wish[ST_NFIG]; /* by figure; BOTTLES: "2 x 500 mL" */
    int n_wish;                /* how many of these were said, less_sweet counted */
};
bool aim_options_take(struct cli *c, struct aim_options *o);
bool aim_wishes(struct aim_task *t, const struct aim_options *o);
bool aim_lines(struct aim_task *t, const struct aim_options *o);
void aim_set_jar(struct aim_task *t, double ml);
/* A volume such as "2L" or "700 mL"; false after a message. */
bool aim_volume(const struct cli *c, const char *option, const char *text, struct st_amount *out);
bool aim_share(const char *text, double *share); /* "a fifth", "20 %", "1/5" */

/* --- aim_file.c --- */
int aim_read(struct cli *c, const char *name, struct st_catalogue *catalogue, struct st_buf *text,
             struct st_recipe_file *file); /* an exit code, after a message when not 0 */
/* Writes, reads again, foretells and judges what was found.  An exit code. */
int aim_write(struct aim_task *t);
void aim_give(struct aim_task *t); /* what the task is given: first thing of that */
int aim_save(const struct aim_task *t, const char *output, bool over);

/* --- aim_kitchen.c --- instead of aim_write: amounts that a kitchen can measure; file NULL: the usual tools.  An exit code. */
int aim_in_kitchen(struct aim_task *t, const char *file);
void aim_kitchen_page(const struct aim_task *t);

/* --- aim_page.c --- */
void aim_page(const struct aim_task *t);
/* What passes a limit, or nothing. */
void aim_over(const struct aim_task *t);
/* The caution of strong spirit, where this is one. */
void aim_fire(int indent, double strength);

/* --- aim_stop.c --- */
/* Something in the recipe says stop: told first and alone, or as the document; nothing is proposed.  An exit code. */
int aim_stopped(struct aim_task *t, const struct aim_options *o);

/* --- aim_ask.c --- questions of their own; exit codes */
int aim_dilute(struct cli *c);
int aim_spirit_for(struct aim_task *t, const char *strength);
/* Everything by one factor: whole bottles, times, or what fits a jar. */
int aim_batch(struct aim_task *t, const struct aim_options *o);

#endif
