#ifndef ST_CLI_PAGE_H
#define ST_CLI_PAGE_H

#include "cli/cli.h"
#include "text/advice.h"
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
/* What says stop, each once, and that figures behind it are of no drink; true when there was any. */
bool page_stops(const struct st_cautions *c, const char *after);
/* The figures alone, as mix and foresee both show them. */
void page_figures(const struct st_foretold *f, enum st_measures units);
void page_readings(const struct st_foretold *f);
/* The maker's line, and "(taken as lemon, peeled)" where the words of that name are not in it. */
void page_line_text(char *buf, size_t size, const struct st_line *l);

/* --- explain.c --- */
void page_explain(const struct page *p);

/* --- steep_toast.c --- */
/* A line for each thing in a toast step. */
void page_toast(const struct page *p, int step);

/* --- foresee_json.c --- */
json_t *page_json(const struct page *p);

#endif
