#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"

enum { WIDTH = 78 };

static bool printed;

bool cli_json_printed(void)
{
    return printed;
}

int cli_json_print(json_t *doc)
{
    printed = true;
    const int failed = doc ? json_dumpf(doc, stdout, JSON_INDENT(2) | JSON_REAL_PRECISION(12)) : -1;
    if (!failed)
        putchar('\n');
    json_decref(doc);
    if (!failed && !ferror(stdout))
        return ST_EXIT_DONE;
    cli_error("the JSON document", "it could not be written", "look for a full disk");
    return ST_EXIT_SYSTEM;
}

/* How many bytes at text are one sign that steers a terminal: C0 and DEL, or C1 in UTF-8; 0: none. */
static size_t steers(const char *text, size_t n)
{
    const unsigned char a = (unsigned char)text[0];
    if ((a < ' ' && a != '\n' && a != '\t') || a == 0x7f)
        return 1;
    return a == 0xc2 && n > 1 && (unsigned char)text[1] >= 0x80 && (unsigned char)text[1] < 0xa0 ? 2 : 0;
}

void cli_put(FILE *to, const char *text, size_t n)
{
    size_t from = 0, k;
    for (size_t i = 0; i < n; i += k ? k : 1) {
        k = steers(text + i, n - i);
        if (!k)
            continue;
        fwrite(text + from, 1, i - from, to);
        fprintf(to, "\\x%02x", (unsigned char)text[i + k - 1]);
        from = i + k;
    }
    fwrite(text + from, 1, n - from, to);
}

/* Characters, not bytes, of the first n bytes of UTF-8, as cli_put writes them. */
static int columns(const char *text, size_t n)
{
    int k = 0;
    enum { ESCAPED = 4 };
    for (size_t i = 0; i < n; i++)
        k += steers(text + i, n - i) ? ESCAPED : ((unsigned char)text[i] & 0xc0) != 0x80;
    return k;
}

void cli_wrap(int indent, int hang, const char *text)
{
    printf("%*s", indent, "");
    cli_wrap_on(indent, hang, text);
}

void cli_wrap_on(int at, int hang, const char *text)
{
    bool first = true;

    for (const char *s = text; *s;) {
        s += strspn(s, " \t\r\n");
        const size_t n = strcspn(s, " \t\r\n");
        if (n == 0)
            break;
        const int w = columns(s, n);
        if (!first && at + 1 + w > WIDTH) {
            printf("\n%*s", hang, "");
            at = hang;
            first = true;
        }
        if (!first)
            putchar(' ');
        cli_put(stdout, s, n);
        at += w + !first;
        first = false;
        s += n;
    }
    putchar('\n');
}
