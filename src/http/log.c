#include "inside.h"

#include <stdio.h>
#include <string.h>

enum { LINE = 240 };

/* What clients sent is in these lines: only visible ASCII leaves, so that none can forge a line or move a cursor. */
static void hand_over(const struct st_http *h, char *line)
{
    size_t n = strcspn(line, "\r\n");

    line[n] = '\0';
    for (size_t i = 0; i < n; i++)
        if (line[i] < ' ' || line[i] > '~')
            line[i] = '?';
    h->o.log(h->o.log_arg, line);
}

void st_http_log(const struct st_http *h, const char *format, ...)
{
    char line[LINE];
    va_list args;

    if (!h->o.log)
        return;
    va_start(args, format);
    vsnprintf(line, sizeof line, format, args);
    va_end(args);
    hand_over(h, line);
}

void st_http_log_library(void *h, const char *format, va_list args)
{
    const struct st_http *http = h;
    char line[LINE] = "library: ";
    const size_t n = strlen(line);

    if (!http->o.log)
        return;
    vsnprintf(line + n, sizeof line - n, format, args);
    hand_over(http, line);
}
