#ifndef ST_HTTP_HTTP_H
#define ST_HTTP_HTTP_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* A small server for pages and programs on this machine: one thread, whole requests, one function a route.
 *
 * It listens on 127.0.0.1 and [::1] only; there is no form for the home network.  Pages of strangers, open in the
 * same browser, must not drive it:
 *   - Host is exactly one of 127.0.0.1:P, localhost:P, [::1]:P on every request (else 421; none or two: 400);
 *   - every POST says Content-Type: application/json (else 415), an Origin that is ours or none at all, and
 *     Sec-Fetch-Site same-origin, none or nothing (else 403, for every method but GET and HEAD); no CORS header is
 *     ever sent, OPTIONS is refused (405, or 403 as above);
 *   - each answer carries a Content-Security-Policy, nosniff, no-referrer and same-origin policies.
 * A request is collected under limits (head 8 KiB: 431, body 1 MiB: 413, 5 s for the head, 10 s for the body) before
 * its function is called.  A body comes with Content-Length; Transfer-Encoding is refused (411, both: 400).
 * Answers made by the library below, before a request is understood (400, 431, 505), are its own and carry none of
 * these headers.  A connection that is late is closed without an answer. */

struct st_http;
struct st_req;
struct st_res;

/* A route: exact path, or one that ends in "/" and a star: then one more segment of letters, digits and
 * . _ ~ - follows (not a leading dot), read by st_req_tail.  "GET" answers HEAD as well, and must change nothing.
 * Methods are GET and POST.  run is called on the server's thread with the whole request, and should take
 * milliseconds.  A table ends in { NULL, NULL, NULL }. */
struct st_route {
    const char *method, *path;
    void (*run)(struct st_req *q, struct st_res *r);
};

/* An embedded file, found by exact path ("/" is a path of its own; there is no folder and no default file).
 * etag is a quoted string, or NULL.  A table ends with a path of NULL. */
struct st_asset {
    const char *path;
    const unsigned char *bytes;
    size_t size;
    const char *type; /* such as "text/html; charset=utf-8" */
    const char *etag; /* such as "\"5f2c\"" */
};

/* Zero means the usual value, named beside each. */
struct st_http_options {
    uint16_t port;                   /* 0: any free port, see st_http_port */
    size_t body_limit;               /* 1 MiB */
    size_t head_limit;               /* 8 KiB: request line, fields and the empty line; at most 64 fields */
    size_t connection_limit;         /* 2048, or what the system's limit on open files leaves */
    unsigned head_ms;                /* 5000: from the connection, or the last answer, to a whole head */
    unsigned body_ms;                /* 10000: from the head to the whole body */
    unsigned answer_ms;              /* 30000: until the client has taken the answer */
    size_t reserve;                  /* 16 MiB: memory that must be there before a function is called, else 503 */
    const char *const *style_hashes; /* NULL, or CSP hashes such as "sha256-...", for style elements; ends in NULL */
    void (*log)(void *log_arg, const char *line); /* NULL, or one line a refused request; never its body */
    void *log_arg;
};

/* Start listening.  Nothing is answered before st_http_run_until.
 *
 * Given:
 *   *options           NULL for the usual values
 *   routes, assets     lent until st_http_free; either may be NULL
 *   arg                handed to every route, by st_req_arg
 * Returned:
 *   *out               the server; the caller frees it by st_http_free
 *   0 done; otherwise an errno value (EADDRINUSE, EACCES, ENOMEM ...), *out untouched
 * Notes:
 *   1. When this machine has no IPv6, [::1] is left out.
 */
int st_http_create(const struct st_http_options *options, const struct st_route *routes, const struct st_asset *assets,
                   void *arg, struct st_http **out);

/* Answer requests on this thread until stop_fd can be read (its bytes are left there; -1: never).
 * 0 when stopped, otherwise an errno value. */
int st_http_run_until(struct st_http *h, int stop_fd);

/* A descriptor that can be read after SIGINT or SIGTERM; -1 with errno when it cannot be made.  Once a program. */
int st_http_signal_fd(void);

uint16_t st_http_port(const struct st_http *h);
void st_http_free(struct st_http *h); /* closes every connection; NULL is fine */

/* --- a request: everything is lent until the route's function returns --- */
const char *st_req_method(const struct st_req *q); /* "GET", "HEAD" or "POST" */
const char *st_req_path(const struct st_req *q);   /* as sent, without the query; always starts with / */
const char *st_req_tail(const struct st_req *q);   /* what the star of the route stood for, else "" */
const char *st_req_body(const struct st_req *q, size_t *size); /* ends in a NUL that size does not count; "" for none */

/* The first parameter of this name in the query, decoded; NULL when it is not there. */
const char *st_req_query(const struct st_req *q, const char *name);
const char *st_req_header(const struct st_req *q, const char *name); /* any case; NULL when it is not there */
void *st_req_arg(const struct st_req *q);

/* --- the answer: the last call wins; a function that makes none gives 500 --- */

/* bytes come from malloc and are given away; type is copied, such as "application/json". */
void st_res_give(struct st_res *r, unsigned status, const char *type, char *bytes, size_t size);
void st_res_copy(struct st_res *r, unsigned status, const char *type, const char *bytes, size_t size);

/* A problem in JSON: {"errors": [{"what": ..., "why": ..., "try": ...}]}; an empty or NULL part is left out.
 * Texts are UTF-8; bytes that are not are written as U+FFFD. */
void st_res_problem(struct st_res *r, unsigned status, const char *what, const char *why, const char *try_);

#endif
