#include <errno.h>
#include <stdint.h>
#include <string.h>

#include "api/api.h"
#include "cli/cli.h"
#include "http/http.h"
#include "util/embedded.h"

const char cmd_serve_usage[] = "stillroom serve\n"
                               "\n"
                               "Answers the browser on this machine, and no other: open the address it prints.\n"
                               "Nothing is saved here; keep a recipe as a file from its page.\n"
                               "docs/api.md tells programs what to ask.\n"
                               "\n"
                               "  --port N   8417 if not said; 0 takes any free one\n"
                               "\n"
                               "Ctrl-C ends it.\n";

enum { USUAL_PORT = 8417, MOST_PAGES = 64 };

/* ---- the pages ---- */

struct pages {
    struct st_asset asset[MOST_PAGES + 1];
    char path[MOST_PAGES][80], etag[MOST_PAGES][24];
};

static const char *type_of(const char *name)
{
    static const char *const TYPE[][2] = {
        { ".html", "text/html; charset=utf-8" },
        { ".js", "text/javascript; charset=utf-8" },
        { ".css", "text/css; charset=utf-8" },
        { ".svg", "image/svg+xml" },
        { ".woff2", "font/woff2" },
        { ".txt", "text/plain; charset=utf-8" },
    };
    const char *end = strrchr(name, '.');
    for (size_t i = 0; end && i < sizeof TYPE / sizeof *TYPE; i++)
        if (strcmp(end, TYPE[i][0]) == 0)
            return TYPE[i][1];
    return "application/octet-stream";
}

static uint64_t hash_of(const unsigned char *bytes, size_t n)
{
    uint64_t h = 14695981039346656037u; /* FNV-1a: names a version, guards nothing */
    for (size_t i = 0; i < n; i++)
        h = (h ^ bytes[i]) * 1099511628211u;
    return h;
}

/* *why: the reason when there are none. */
static int fill_pages(struct pages *p, const char **why)
{
    int n = 0;
    for (const struct st_embedded *e = st_pages; e->name && n < MOST_PAGES; e++) {
        if (strcmp(e->name, "why") == 0) {
            *why = (const char *)e->bytes;
            continue;
        }
        snprintf(p->path[n], sizeof p->path[n], "/%s", strcmp(e->name, "index.html") == 0 ? "" : e->name);
        snprintf(p->etag[n], sizeof p->etag[n], "\"%016llx\"", (unsigned long long)hash_of(e->bytes, e->size));
        p->asset[n] = (struct st_asset){ p->path[n], e->bytes, e->size, type_of(e->name), p->etag[n] };
        n++;
    }
    return n;
}

/* ---- starting ---- */

static bool take_options(struct cli *c, uint16_t *port)
{
    bool bad = false;
    double x = USUAL_PORT;
    if (cli_option_number(c, "--port", 0.0, 65535.0, &x, &bad) && x != (double)(uint16_t)x) {
        cli_error("--port", "a port is a whole number", "write for example --port 8418");
        return false;
    }
    static const char *const KNOWN[] = { "--port", NULL };
    if (bad || !cli_no_more_options(c, KNOWN))
        return false;
    if (c->argc > 0) {
        cli_error(c->argv[0], "serve takes no file", "run it alone, and choose what to open in the browser");
        return false;
    }
    *port = (uint16_t)x;
    return true;
}

static int cannot_listen(uint16_t port, int error)
{
    char what[60], try_[160];
    snprintf(what, sizeof what, "port %u", port);
    snprintf(try_, sizeof try_,
             "see whether http://127.0.0.1:%u/ is one, or choose another port: --port %u, or --port 0 for any "
             "free one",
             port, port < 65535 ? port + 1u : port - 1u);
    if (error == EADDRINUSE)
        cli_error(what, "another program answers there, perhaps another Stillroom", try_);
    else if (error == EACCES)
        cli_error(what, "this port is not for everybody to use", "choose one above 1023: --port 8417");
    else
        cli_error(what, strerror(error), "look at what else this machine is doing");
    return ST_EXIT_SYSTEM;
}

static void tell(const struct cli *c, uint16_t port, int n, const char *why)
{
    if (c->json)
        printf("{\"address\": \"http://127.0.0.1:%u/\", \"port\": %u, \"pages\": %s}\n", port, port,
               n ? "true" : "false");
    else {
        printf("Stillroom answers at http://127.0.0.1:%u/ (this machine only).\n", port);
        if (n == 0)
            printf("The pages were not built into this program: %s.\n"
                   "Programs can ask it all the same (docs/api.md). For the pages, build again with nodejs and npm:\n"
                   "./bootstrap demo installs both.\n",
                   why);
        puts("Ctrl-C ends it.");
    }
    fflush(stdout);
}

static int run(const struct cli *c, uint16_t port, struct st_api *api)
{
    static struct pages pages;
    const char *why = "nobody knows why";
    const struct st_http_options options = { .port = port };
    struct st_http *http;

    const int stop = st_http_signal_fd();
    if (stop < 0)
        return cannot_listen(port, errno);
    const int n = fill_pages(&pages, &why);
    int error = st_http_create(&options, st_api_routes, pages.asset, api, &http);
    if (error)
        return cannot_listen(port, error);
    tell(c, st_http_port(http), n, why);
    error = st_http_run_until(http, stop);
    st_http_free(http);
    return error ? cannot_listen(port, error) : ST_EXIT_DONE;
}

int cmd_serve(struct cli *c)
{
    struct st_problem problem = { .what = "" };
    uint16_t port;

    if (!take_options(c, &port))
        return ST_EXIT_INPUT;
    struct st_api *api = st_api_create(&problem);
    if (!api) {
        cli_problem("data/ingredients.sheet", &problem);
        return ST_EXIT_SYSTEM;
    }
    const int code = run(c, port, api);
    st_api_free(api);
    return code;
}
