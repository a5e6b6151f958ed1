#ifndef ST_CLI_PAGE_H
#define ST_CLI_PAGE_H

#include "cli/cli.h"
#include "text/cautions.h"
#include "text/recipe_yaml.h"

/* What only main, mix and foresee share. */

/* --- options.c --- */
/* Take the common options off c->argv wherever they stand.  help, version: whether those were among them.
 * Returned: false after a message when one of them cannot be understood. */
bool cli_take_common(struct cli *c, bool *help, bool *version);
/* A number written with a point or a comma; false when text is anything else, or not finite. */
bool cli_number(const char *text, double *x);
extern const char *const cli_common_options[]; /* ends in NULL */

/* --- words.c --- */
/* "2 bottles of 500 mL and a glass": whole bottles first, the rest in words. */
void cli_bottles_text(char *buf, size_t size, double volume_ml, double bottle_ml);
/* "8 weeks", "6 to 8 weeks", "2 min"; "" when no time was given. */
void cli_time_text(char *buf, size_t size, const struct st_amount *time);
/* "12 g", "1.24 kg", "0.4 g": grams as one says them. */
void cli_grams_text(char *buf, size_t size, double g);
/* printf into buf, then cli_wrap. */
__attribute__((format(printf, 3, 4))) void cli_say(int indent, int hang, const char *format, ...);
/* Heading with a blank line above. */
void cli_heading(const char *text);
/* cli_wrap for a line on which `at` columns are written already. */
void cli_wrap_on(int at, int hang, const char *text);
/* One line of the figures: the name in a column, then the figure in words. */
void cli_figure_line(const char *name, const char *figure);
/* Milliseconds since an arbitrary start. */
double cli_now_ms(void);

/* --- cautions_out.c shows a list --- */
/* The source as it is shown: a key in brackets, else the words for "no source".  Returns buf. */
const char *cli_caution_source(const struct st_caution *c, char *buf, size_t size);

/* What was foretold, with all that a page about it needs. */
struct page {
    const struct cli *cli;
    const struct st_recipe_file *file;
    const struct st_recipe *recipe;
    const struct st_foretold *out;
    const struct st_cautions *cautions;
};

/* --- page.c --- */
void page_print(const struct page *p);
/* The caution in words, wrapped. */
void page_caution(int indent, const struct st_caution *c);
/* The figures alone, as mix and foresee both show them. */
void page_figures(const struct st_foretold *f, enum st_measures units);
void page_readings(const struct st_foretold *f);
/* Whether a price was given at all: without one the cost is not known, and not nothing. */
bool page_priced(const struct st_recipe *r);
/* Whether a followed compound is shown as a flavour; poisons are not. */
/* How many notes say that an amount could not be had as written: those end a command with 1. */
int page_limits(const struct st_foretold *f);
bool page_stops(const struct st_cautions *c); /* a caution says stop: exit 1 */
bool page_note_is_caution(const struct st_note *n); /* told as a caution already */
/* The maker's line, and "(taken as lemon, peeled)" where the words of that name are not in it. */
void page_line_text(char *buf, size_t size, const struct st_line *l);
bool page_marker_shown(const char *name);

/* --- wish.c --- 0 met or none; else how many wishes the figures miss, each in a line of buf */
int page_wish(const struct page *p, char *buf, size_t size);

/* --- advice.c --- */
/* The one thing that would make the figures surer, as a sentence. */
void page_tip(const struct page *p, char *buf, size_t size);
/* One note of the plan in words; true when it is a question to the maker (an open amount). */
bool page_note(const struct st_recipe *r, const struct st_note *n, char *buf, size_t size);

/* --- explain.c --- */
void page_explain(const struct page *p);

/* --- foresee_json.c --- */
json_t *page_json(const struct page *p);

#endif
