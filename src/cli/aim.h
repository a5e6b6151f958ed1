#ifndef ST_CLI_AIM_H
#define ST_CLI_AIM_H

#include "cli/page.h"
#include "model/aim.h"
#include "text/recipe_yaml.h"
#include "util/buf.h"

/* What only the files aim*.c share: one aim from the command line to the page. */

enum { AIM_WAYS = 2, AIM_HAVES = 8, AIM_PIPS = 20 };
/* Of a jar this much is filled: half a per cent of air, so that rounding does not run over. */
#define AIM_BRIM 0.995

struct aim_task {
    struct cli *cli;
    const char *name;   /* of the recipe, as it is shown */
    struct st_buf text; /* as it was read */
    struct st_catalogue *catalogue;
    const struct st_recipe_file *file;
    struct st_aim aim;
    struct st_aim_found found; /* what was solved; exact */
    char because[240];         /* how the wish came about: "a fifth less sweet than ..."; "" */
    char jar[48];              /* "3 L": the vessel of every steep instead of the recipe's; "" */
    double jar_ml;
    double times; /* everything by this factor and nothing else: a batch; else 0 */

    /* the recipe as it would be written: rounded to what can be measured, edited, read again, foretold */
    double value[ST_MAX_DIALS];     /* of each dial, as written */
    struct st_buf changed;          /* its text; empty where the file cannot be changed in place */
    struct st_problem why_not;      /* then */
    const struct st_recipe *recipe; /* what was foretold: of again, or own */
    struct st_catalogue *again_catalogue;
    struct st_recipe_file *again; /* NULL: the changed text was not read */
    struct st_recipe *own;
    struct st_foretold out;
    struct st_cautions cautions;
    struct st_aim_odds odds;
    double miss[ST_AIM_WISHES];
    bool met;

    struct st_aim_way way[AIM_WAYS];
    struct st_buf way_recipe[AIM_WAYS]; /* each as a changed recipe, "" when it cannot be written */
    int n_way;
    double solve_ms;
};

/* --- aim_options.c, aim_lines.c --- take the wishes, free and kept lines, limits off the command line.  false after a
 * message. */
struct aim_options {
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
/* Round, edit, read again, foretell, judge: fills what a task has of the recipe as written.  An exit code. */
int aim_write(struct aim_task *t);
void aim_write_done(struct aim_task *t);
void aim_write_ways(struct aim_task *t);
int aim_save(const struct aim_task *t, const char *output, bool over);

/* --- aim_words.c --- */
void aim_wish_text(const struct st_wish *w, const char *currency, char *buf, size_t size); /* "24 % vol" */
void aim_dial_text(const struct st_recipe *r, const struct st_dial *d, double value, char *buf,
                   size_t size);                                                                       /* "650 mL" */
const char *aim_dial_name(const struct st_recipe *r, const struct st_dial *d, char *buf, size_t size); /* "damson" */
void aim_stop_text(const struct st_aim *a, const struct st_aim_stop *s, char *buf, size_t size);
void aim_way_text(const struct st_aim *a, const struct st_aim_way *w, const char *currency, char *buf, size_t size);
void aim_near_text(const struct st_aim *a, const double y[ST_NFIG], const char *currency, char *buf, size_t size);
int aim_pips(const struct st_foretold *f, enum st_figure which, double pip[AIM_PIPS]); /* how many: 20 or 0 */
int aim_of_twenty(const struct st_foretold *f, const struct st_wish *w);               /* -1 without draws */

/* --- aim_page.c, aim_json.c --- */
void aim_page(const struct aim_task *t);
json_t *aim_json(const struct aim_task *t);

/* --- aim_ask.c --- questions of their own; exit codes */
int aim_dilute(struct cli *c);
int aim_spirit_for(struct aim_task *t, const char *strength);
/* Everything by one factor: whole bottles, times, or what fits a jar. */
int aim_batch(struct aim_task *t, const struct aim_options *o);

#endif
