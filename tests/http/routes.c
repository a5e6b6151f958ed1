#include "routes.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BIG = 8 << 20 };

atomic_int test_writes;

static void text(struct st_res *r, unsigned status, const char *words)
{
    st_res_copy(r, status, "text/plain; charset=utf-8", words, strlen(words));
}

/* What the route sees, in one line. */
static void echo(struct st_req *q, struct st_res *r)
{
    char line[512];
    const char *value = st_req_query(q, "q"), *other = st_req_query(q, "other");

    snprintf(line, sizeof line, "%s %s [%s] q=%s other=%s arg=%s", st_req_method(q), st_req_path(q), st_req_tail(q),
             value ? value : "(none)", other ? other : "(none)", (const char *)st_req_arg(q));
    text(r, 200, line);
}

static void body(struct st_req *q, struct st_res *r)
{
    size_t size;
    unsigned sum = 0;
    char line[200];
    const char *bytes = st_req_body(q, &size);

    atomic_fetch_add(&test_writes, 1);
    for (size_t i = 0; i < size; i++)
        sum = sum * 31 + (unsigned char)bytes[i];
    snprintf(line, sizeof line, "%zu bytes, sum %u, ends in NUL: %s, starts: %.20s", size, sum,
             bytes[size] ? "no" : "yes", bytes);
    text(r, 200, line);
}

static void problem(struct st_req *q, struct st_res *r)
{
    (void)q;
    st_res_problem(r, 422, "the \"jar\"\n", "too\\full \xff \xe2\x82\xac \xed\xa0\x80", "");
}

static void none(struct st_req *q, struct st_res *r)
{
    (void)q, (void)r;
}

static void twice(struct st_req *q, struct st_res *r)
{
    (void)q;
    text(r, 200, "the first");
    text(r, 201, "the second");
}

static void big(struct st_req *q, struct st_res *r)
{
    char *bytes = calloc(BIG, 1);
    (void)q;
    if (!bytes)
        return;
    memset(bytes, 'x', BIG);
    st_res_give(r, 200, "text/plain", bytes, BIG);
}

const struct st_route test_routes[] = {
    { "GET", "/api/echo", echo },       { "GET", "/api/part/*", echo }, { "POST", "/api/write", body },
    { "GET", "/api/problem", problem }, { "GET", "/api/none", none },   { "GET", "/api/twice", twice },
    { "GET", "/api/both", echo },       { "POST", "/api/both", body },  { "GET", "/api/big", big },
    { NULL, NULL, NULL },
};

static const unsigned char page[] = "<!doctype html><title>jar</title>", script[] = "export {};\n";

const struct st_asset test_assets[] = {
    { "/", page, sizeof page - 1, "text/html; charset=utf-8", "\"p1\"" },
    { "/app.js", script, sizeof script - 1, "text/javascript", NULL },
    { NULL, NULL, 0, NULL, NULL },
};
