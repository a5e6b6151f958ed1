#include "line_told.h"

#include <stdio.h>
#include <string.h>

#include "scan.h"

static bool says(const char *text, const char *word)
{
    const char *end = text + strlen(text);
    for (const char *p = text; *p; p++) {
        struct st_scan s = { p, end };
        if ((p == text || !st_is_letter((unsigned char)p[-1])) && st_scan_word(&s, word))
            return true;
    }
    return false;
}

bool st_line_is_drained(const char *text, const struct st_ingredient *what)
{
    return what && st_kind_is_solid(what->kind) && what->kind != ST_KIND_TINNED_FRUIT && says(text, "drained");
}

void st_line_told(const struct st_line *line, char *buf, size_t size)
{
    const struct st_unit *u = line->amount.unit;
    const bool proof = line->strength.known && says(line->text, "proof");
    const bool bottle = proof && u && u->tool == ST_TOOL_BOTTLE && u->system == ST_MEASURES_US;
    size_t n = 0;

    buf[0] = '\0';
    if (st_line_is_drained(line->text, line->what))
        (void)snprintf(buf, size,
                       " (it counts as fresh; what drained fruit still holds, and the liquor on it, is not reckoned)");
    if (!proof)
        return;
    n += (size_t)snprintf(buf + n, size - n, " (");
    if (bottle && n < size)
        n += (size_t)snprintf(buf + n, size - n, "a US bottle, %.4g mL; ", u->factor);
    if (n < size)
        (void)snprintf(buf + n, size - n, "in US proof: %.1f %% vol)", line->strength.value);
}
