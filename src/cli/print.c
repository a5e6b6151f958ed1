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

size_t cli_steers(const char *text, size_t n)
{
    const unsigned char *t = (const unsigned char *)text;
    if ((t[0] < ' ' && t[0] != '\n' && t[0] != '\t') || t[0] == 0x7f)
        return 1;
    if (t[0] == 0xc2 && n > 1 && t[1] >= 0x80 && t[1] < 0xa0)
        return 2;
    const bool turns =
        t[0] == 0xe2 && n > 2 &&
        ((t[1] == 0x80 && t[2] >= 0xaa && t[2] <= 0xae) || (t[1] == 0x81 && t[2] >= 0xa6 && t[2] <= 0xa9));
    return turns ? 3 : 0;
}

/* As it is written out: "\x1b", "\u202e". */
static void escape(const char *text, size_t k, char out[8])
{
    const unsigned char *t = (const unsigned char *)text;
    if (k == 3)
        (void)snprintf(out, 8, "\\u%04x", 0x2000u | (t[1] & 0x3fu) << 6 | (t[2] & 0x3fu));
    else
        (void)snprintf(out, 8, "\\x%02x", t[k - 1]);
}

void cli_put(FILE *to, const char *text, size_t n)
{
    size_t from = 0, k;
    for (size_t i = 0; i < n; i += k ? k : 1) {
        k = cli_steers(text + i, n - i);
        if (!k)
            continue;
        char seen[8];
        escape(text + i, k, seen);
        fwrite(text + from, 1, i - from, to);
        fputs(seen, to);
        from = i + k;
    }
    fwrite(text + from, 1, n - from, to);
}

/* Characters, not bytes, of the first n bytes of UTF-8, as cli_put writes them. */
static int columns(const char *text, size_t n)
{
    int k = 0;
    for (size_t i = 0, m; i < n; i += m ? m : 1) {
        m = cli_steers(text + i, n - i);
        k += m ? (m == 3 ? 6 : 4) : ((unsigned char)text[i] & 0xc0) != 0x80;
    }
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
