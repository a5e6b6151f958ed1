#include <ctype.h>
#include <stdbool.h>
#include <string.h>

#include "cli/cli.h"
#include "util/embedded.h"

const char cmd_source_usage[] =
    "stillroom source KEY\n"
    "\n"
    "Where figures with this key come from: author, year, title, what was taken, how sure.  Without KEY: the keys, each with its title.\n"
    "\n"
    "  stillroom source oiml1975\n";

/* The heading line "### [KEY]" that text begins with; its length in bytes, 0 when it is not one. */
static size_t heading_key(const char *line, const char **key)
{
    if (strncmp(line, "### [", 5) != 0)
        return 0;
    *key = line + 5;
    return strcspn(*key, "]\n");
}

/* The row "| `KEY` | what |" of a table; key and its length as above, *what at the text behind it. */
static size_t row_key(const char *line, const char **key, const char **what)
{
    if (strncmp(line, "| `", 3) != 0)
        return 0;
    *key = line + 3;
    const size_t n = strcspn(*key, "`\n");
    if (strncmp(*key + n, "` | ", 4) != 0)
        return 0;
    *what = *key + n + 4;
    return n;
}

static const char *next_line(const char *p, const char *end)
{
    const char *nl = memchr(p, '\n', (size_t)(end - p));
    return nl ? nl + 1 : end;
}

/* A full stop that ends a sentence: not one of an abbreviation, which is short. */
static bool ends_sentence(const char *text, size_t n)
{
    size_t letters = 0;
    while (letters < n && islower((unsigned char)text[n - 1 - letters]))
        letters++;
    return text[n] == '.' && letters >= 4 && (text[n + 1] == ' ' || text[n + 1] == '\n');
}

/* The first sentence of an entry, or its first line when that is shorter: what it is called. */
static size_t title_size(const char *text, const char *end)
{
    bool slanted = false;
    size_t n = 0;

    for (; text + n + 1 < end && text[n] != '\n' && text[n] != '|'; n++) {
        slanted = slanted != (text[n] == '*');
        if (!slanted && ends_sentence(text, n))
            break;
    }
    while (n > 0 && text[n - 1] == ' ')
        n--;
    return n;
}

static void print_title(const char *key, size_t n, const char *title, size_t size)
{
    enum { COLUMN = 24, WIDTH = 78 };
    const size_t room = WIDTH - (n < COLUMN ? COLUMN : n + 1) - 3;
    const bool cut = size > room + 3;

    if (cut)
        for (size = room; size > 0 && title[size] != ' '; size--)
            continue;
    printf("%-*.*s%s%.*s%s\n", COLUMN, (int)n, key, n < COLUMN ? "" : " ", (int)size, title, cut ? " ..." : "");
}

static int list(const struct cli *c, const char *p, const char *end)
{
    json_t *all = c->json ? json_array() : NULL;
    for (; p < end; p = next_line(p, end)) {
        const char *key, *what;
        const size_t heading = heading_key(p, &key), n = heading ? heading : row_key(p, &key, &what);
        if (!n)
            continue;
        if (heading)
            what = next_line(p, end);
        const size_t size = title_size(what, end);
        if (all)
            json_array_append_new(all, json_pack("{s:s%, s:s%}", "key", key, n, "title", what, size));
        else
            print_title(key, n, what, size);
    }
    return all ? cli_json_print(json_pack("{s:o}", "sources", all)) : ST_EXIT_DONE;
}

/* The entry of a key: a section under its heading, or the rest of its row.  Its length, 0 when there is none. */
static size_t entry(const char *p, const char *end, const char *wanted, const char **from)
{
    const size_t size = strlen(wanted);
    for (; p < end; p = next_line(p, end)) {
        const char *key = p;
        if (heading_key(p, &key) == size && memcmp(key, wanted, size) == 0) {
            const char *to = *from = next_line(p, end);
            while (to < end && *to != '#')
                to = next_line(to, end);
            while (to > *from && to[-1] == '\n')
                to--;
            return (size_t)(to - *from);
        }
        if (row_key(p, &key, from) == size && memcmp(key, wanted, size) == 0) {
            size_t n = strcspn(*from, "\n");
            while (n && strchr(" |", (*from)[n - 1]))
                n--;
            return n;
        }
    }
    return 0;
}

/* Marks that stand where a source would: there is none, and that is what is told. */
static const char *no_source(const char *key)
{
    if (strcmp(key, "memory") == 0)
        return "No source: from memory of whoever wrote the figure. Take it as a hint and check it.";
    if (strcmp(key, "practice") == 0)
        return "No source: common practice.";
    return NULL;
}

static int show(const struct cli *c, const char *p, const char *end, const char *wanted)
{
    const char *from = no_source(wanted);
    const size_t n = from ? strlen(from) : *wanted ? entry(p, end, wanted, &from) : 0;
    if (n && c->json)
        return cli_json_print(json_pack("{s:s, s:s%}", "key", wanted, "text", from, n));
    if (n) {
        printf("[%s]\n%.*s\n", wanted, (int)n, from);
        return ST_EXIT_DONE;
    }
    char what[100];
    snprintf(what, sizeof what, "no source with the key '%.60s'", wanted);
    cli_error(what, "keys stand in brackets beside figures", "stillroom source lists them");
    return ST_EXIT_INPUT;
}

int cmd_source(struct cli *c)
{
    static const char *const known[] = { NULL };
    const struct st_embedded *e = st_embedded_find("docs/sources.md");
    if (!cli_no_more_options(c, known))
        return ST_EXIT_INPUT;
    if (!e) {
        cli_error("docs/sources.md", "it is not in this program", "build it again from the whole project");
        return ST_EXIT_SYSTEM;
    }
    if (c->argc > 1) {
        cli_error("one key at a time", "more than one word was given", "stillroom source oiml1975");
        return ST_EXIT_INPUT;
    }
    const char *text = (const char *)e->bytes, *end = text + e->size;
    if (c->argc == 0)
        return list(c, text, end);
    char key[64];
    snprintf(key, sizeof key, "%s", c->argv[0][0] == '[' ? c->argv[0] + 1 : c->argv[0]);
    key[strcspn(key, "]")] = '\0';
    return show(c, text, end, key);
}
