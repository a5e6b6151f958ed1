#include <stdarg.h>
#include <string.h>
#include <time.h>

#include "cli/cli.h"
#include "cli/page.h"

double cli_now_ms(void)
{
    struct timespec t = { 0 };
    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec * 1e-6;
}

void cli_say(int indent, int hang, const char *format, ...)
{
    char text[2048];
    va_list args;

    va_start(args, format);
    (void)vsnprintf(text, sizeof text, format, args);
    va_end(args);
    cli_wrap(indent, hang, text);
}

void cli_heading(const char *text)
{
    printf("\n%s\n", text);
}

void cli_figure_line(const char *name, const char *figure)
{
    enum { COLUMN = 17 };
    const int wide = (int)strlen(name) + 3; /* names are plain ASCII */
    printf("  %-*s", (wide > COLUMN ? wide : COLUMN) - 2, name);
    cli_wrap_on(wide > COLUMN ? wide : COLUMN, COLUMN, figure);
}
