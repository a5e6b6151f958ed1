#include "yaml_guard.h"

#include <string.h>

struct guard {
    struct st_report *report;
    const unsigned char *text;
    size_t size, at;
    struct st_place place;
    bool indenting; /* only blanks so far in this line */
    int brackets;
};

static int refuse(struct guard *g, const char *what, const char *why, const char *try_)
{
    st_report(g->report, g->place, why, try_, "%s", what);
    return -1;
}

static int look_at_bracket(struct guard *g, unsigned char c)
{
    if (c == '[' || c == '{')
        g->brackets++;
    else if ((c == ']' || c == '}') && g->brackets > 0)
        g->brackets--;
    return g->brackets > ST_YAML_BRACKETS
               ? refuse(g, "too many brackets are open", "lists and maps may lie 12 deep inside one another",
                        "close the brackets, or write one entry a line")
               : 0;
}

static int look_at_indent(struct guard *g, unsigned char c)
{
    if (c == '\t')
        return refuse(g, "a tab at the beginning of a line", "only blanks show how lines belong together",
                      "put two blanks in its place");
    if (g->place.column > ST_YAML_INDENT)
        return refuse(g, "this line begins too far to the right", "lists and maps may lie 12 deep inside one another",
                      "take blanks out at its beginning");
    return 0;
}

static int look_at(struct guard *g, unsigned char c)
{
    if (c == 0)
        return refuse(g, "a NUL byte", "this is not a text file", "give a recipe file, saved as plain text in UTF-8");
    if ((c < 0x20 && c != '\t' && c != '\n' && c != '\r') || c == 0x7f)
        return refuse(g, "a control character", "it cannot be seen, and means nothing in a recipe",
                      "delete it, or save the file as plain text");
    if (c == '%' && g->place.column == 1)
        return refuse(g, "a % at the beginning of a line", "recipe files have no directives",
                      "take the line out, or begin it with blanks");
    if (g->indenting && (c == ' ' || c == '\t'))
        return look_at_indent(g, c);
    return look_at_bracket(g, c);
}

static void step_on(struct guard *g, size_t n)
{
    const unsigned char c = g->text[g->at];
    const bool breaks = c == '\n' || (c == '\r' && !(g->at + 1 < g->size && g->text[g->at + 1] == '\n'));

    g->at += n;
    if (breaks) {
        g->place.line++;
        g->place.column = 1;
        g->indenting = true;
    } else {
        g->place.column++;
        g->indenting = g->indenting && c == ' ';
    }
}

static bool is_utf16(const unsigned char *t, size_t size)
{
    return size >= 2 && ((t[0] == 0xff && t[1] == 0xfe) || (t[0] == 0xfe && t[1] == 0xff));
}

int st_yaml_guard(struct st_report *r, const char *text, size_t size)
{
    struct guard g = { r, (const unsigned char *)text, size, 0, { 1, 1 }, true, 0 };

    if (size > ST_YAML_BYTES)
        return refuse(&g, "the file is too big", "a recipe file may have 1 MiB",
                      "split it into several recipes, or shorten the texts");
    if (is_utf16(g.text, size))
        return refuse(&g, "the file is saved as UTF-16", "a recipe file is plain text in UTF-8",
                      "save it again and choose UTF-8");
    if (size >= 3 && memcmp(text, "\xef\xbb\xbf", 3) == 0)
        g.at = 3; /* a mark of UTF-8 that some editors put first */
    while (g.at < size) {
        const size_t n = st_utf8_length(g.text + g.at, size - g.at);
        if (n == 0)
            return refuse(&g, "a character that is not UTF-8", "the file was saved in another encoding",
                          "save it again and choose UTF-8");
        if (look_at(&g, g.text[g.at]) < 0)
            return -1;
        step_on(&g, n);
    }
    return 0;
}
