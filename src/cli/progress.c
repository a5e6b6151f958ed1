#include "cli/progress.h"

#include <stdio.h>
#include <unistd.h>

#include "cli/page.h"

static const double PATIENCE_MS = 1000.0, STEP_MS = 200.0;

void cli_progress_begin(struct cli_progress *p, const char *words, const char *of)
{
    *p = (struct cli_progress){ .words = words, .of = of, .began_ms = cli_now_ms() };
}

void cli_progress_tick(void *arg, int64_t done, int64_t all)
{
    struct cli_progress *p = arg;

    if (done % 256 != 0)
        return;
    const double now = cli_now_ms();
    if (now - p->began_ms < PATIENCE_MS || now - p->told_ms < STEP_MS || !isatty(STDERR_FILENO))
        return;
    p->told_ms = now;
    fprintf(stderr, "\r%s: %lld of %lld %s", p->words, (long long)done, (long long)all, p->of);
    fflush(stderr);
}

void cli_progress_end(struct cli_progress *p)
{
    if (p->told_ms > 0.0)
        fprintf(stderr, "\r%60s\r", "");
}
