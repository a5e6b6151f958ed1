#ifndef ST_CLI_PROGRESS_H
#define ST_CLI_PROGRESS_H

#include <stdint.h>

/* How far long work is: one line on stderr that is written over, when that is a terminal and the work takes longer than a
 * second; else nothing.  arg of cli_progress_tick is a struct cli_progress that was begun. */
struct cli_progress {
    const char *words; /* "written" */
    const char *of;    /* what is counted: "rows" */
    double began_ms, told_ms;
};

void cli_progress_begin(struct cli_progress *p, const char *words, const char *of);
void cli_progress_tick(void *arg, int64_t done, int64_t all);
void cli_progress_end(struct cli_progress *p); /* the line is wiped */

#endif
