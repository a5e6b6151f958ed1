#include <stdbool.h>
#include <string.h>

#include "cli/cli.h"
#include "text/source_entry.h"
#include "util/embedded.h"

const char cmd_source_usage[] = "stillroom source KEY\n"
                                "\n"
                                "Where figures with this key come from: author, year, title, what was taken, how\n"
                                "sure.  Without KEY: the keys, each with its title.\n"
                                "\n"
                                "  stillroom source oiml1975\n";

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

static int list(const struct cli *c, const char *text, size_t size)
{
    json_t *all = c->json ? json_array() : NULL;
    struct st_source_entry e;
    for (size_t at = 0; st_source_next(text, size, &at, &e);) {
        if (all)
            json_array_append_new(all,
                                  json_pack("{s:s%, s:s%}", "key", e.key, e.key_size, "title", e.title, e.title_size));
        else
            print_title(e.key, e.key_size, e.title, e.title_size);
    }
    return all ? cli_json_print(json_pack("{s:o}", "sources", all)) : ST_EXIT_DONE;
}

static int show(const struct cli *c, const char *text, size_t size, const char *wanted)
{
    struct st_source_entry e;
    const bool found = st_source_find(text, size, wanted, &e);
    if (found && c->json)
        return cli_json_print(
            json_pack("{s:s, s:s%, s:s%}", "key", wanted, "title", e.title, e.title_size, "text", e.text, e.size));
    if (found) {
        printf("[%s]\n%.*s\n", wanted, (int)e.size, e.text);
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
    const char *text = (const char *)e->bytes;
    if (c->argc == 0)
        return list(c, text, e->size);
    char key[64];
    snprintf(key, sizeof key, "%s", c->argv[0][0] == '[' ? c->argv[0] + 1 : c->argv[0]);
    key[strcspn(key, "]")] = '\0';
    return show(c, text, e->size, key);
}
