#ifndef ST_CLI_STEEP_H
#define ST_CLI_STEEP_H

#include "api/steep_task.h"
#include "cli/cli.h"

/* What the files of `stillroom steep` share. */

struct steep {
    struct cli *cli;
    struct st_steep_task task;
    const struct st_recipe_file *file;
    struct st_cautions cautions, other_cautions; /* of the jar as written; what the other brings beside */
    const char *of; /* --of: a chart of this one */
    long begun;
    bool has_begun;
    bool csv;
    const char *seen_name[ST_STEEP_SEEN];
    struct st_seen_file *seen[ST_STEEP_SEEN];
    int n_seen;
};

static inline const long *steep_begun(const struct steep *s)
{
    return s->has_begun ? &s->begun : NULL;
}

/* --- steep_page.c --- */
void steep_print(const struct steep *s);
/* --- steep_chart.c --- */
/* One line of block letters for a curve from 0 to until_s, `width` columns. */
void steep_spark(char *buf, size_t size, const struct st_jar_told *t, const struct st_jar_series *share, double until_s,
                 int width);
/* Large, with its band. */
void steep_chart(const struct st_jar_told *t, const struct st_jar_series *share, const char *name, const long *begun);
/* A value of a series at any time of the run, straight between its times. */
double steep_at(const struct st_jar_told *t, const struct st_jar_series *s, double t_s,
                int which); /* -1 low 0 value 1 high */
/* --- steep_seen.c --- */
bool steep_take_seen(struct cli *c, struct steep *s); /* --seen, which may be said again */
int steep_read_seen(struct steep *s);                 /* the files; ST_EXIT_DONE, or all was told */
void steep_seen_done(struct steep *s);
void steep_print_learnt(const struct steep *s);
/* --- steep_toast.c --- */
/* What the toast steps do that come into this jar; nothing without them. */
void steep_print_toasts(const struct steep *s);
/* --- steep_csv.c --- */
void steep_csv(const struct steep *s);

#endif
