#include <string.h>

#include "cli/cli.h"
#include "util/embedded.h"

const char cmd_source_usage[] =
    "stillroom source KEY\n"
    "\n"
    "Where figures with this key come from: author, year, title, what was taken, how sure.  Without KEY: the keys.\n"
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

static const char *next_line(const char *p, const char *end)
{
    const char *nl = memchr(p, '\n', (size_t)(end - p));
    return nl ? nl + 1 : end;
}

static int list(const char *p, const char *end)
{
    for (; p < end; p = next_line(p, end)) {
        const char *key;
        const size_t n = heading_key(p, &key);
        if (n)
            printf("%.*s\n", (int)n, key);
    }
    return ST_EXIT_DONE;
}

static int show(const struct cli *c, const char *p, const char *end, const char *wanted)
{
    const size_t size = strlen(wanted);
    for (; p < end; p = next_line(p, end)) {
        const char *key = p;
        if (heading_key(p, &key) != size || memcmp(key, wanted, size) != 0)
            continue;
        const char *from = next_line(p, end), *to = from;
        while (to < end && *to != '#')
            to = next_line(to, end);
        if (c->json)
            return cli_json_print(json_pack("{s:s, s:s%}", "key", wanted, "text", from, (size_t)(to - from)));
        printf("[%s]\n%.*s", wanted, (int)(to - from), from);
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
    if (!e || c->argc > 1) {
        cli_error("one key at a time", "more than one word was given", "stillroom source oiml1975");
        return ST_EXIT_INPUT;
    }
    const char *text = (const char *)e->bytes, *end = text + e->size;
    if (c->argc == 0)
        return list(text, end);
    char key[64];
    snprintf(key, sizeof key, "%s", c->argv[0][0] == '[' ? c->argv[0] + 1 : c->argv[0]);
    key[strcspn(key, "]")] = '\0';
    return show(c, text, end, key);
}
