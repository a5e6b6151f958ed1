/* A request, byte by byte: first our own pieces on the bytes as text, then the whole way through a real connection.
 * "{P}" in the bytes stands for the server's port, so that a seed can name the host. */
#include <arpa/inet.h>
#include <errno.h>
#include <netinet/in.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <time.h>
#include <unistd.h>

#include "http/http.h"
#include "http/rules.h"
#include "http/target.h"
#include "util/buf.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static struct st_http *server;

static void demand_at(bool holds, int line)
{
    if (holds)
        return;
    fprintf(stderr, "fuzz_request.c:%d does not hold; errno: %s\n", line, strerror(errno));
    abort();
}
#define demand(what) demand_at(what, __LINE__)

/* ---------------------------------------------------------------- the pieces */
static void try_query(const char *query)
{
    char *value = malloc(strlen(query) + 1);
    demand(value != NULL);
    if (st_query_find(query, "q", value))
        demand(strlen(value) <= strlen(query));
    if (st_is_query(query) && strncmp(query, "q=", 2) == 0)
        demand(st_query_find(query, "q", value));
    free(value);
}

static void try_pieces(const char *text, size_t size)
{
    const char *tail, *query = strchr(text, '?');
    uint64_t length = 0;

    if (st_is_own_host(text, 8080))
        demand(strlen(text) == strlen("127.0.0.1:8080") || strlen(text) == strlen("[::1]:8080"));
    if (st_is_own_origin(text, 8080))
        demand(strncmp(text, "http://", 7) == 0 && st_is_own_host(text + 7, 8080));
    if (st_read_length(text, &length))
        demand(length < 1000000000000000000u);
    if (st_is_json_type(text))
        demand(strlen(text) >= strlen("application/json") && !strchr(text, ','));
    if (st_path_matches("/api/part/*", text, &tail))
        demand(strlen(tail) > 0 && tail[0] != '.' && !strpbrk(tail, "/%\\"));
    if (st_is_target(text))
        demand(text[0] == '/' && !strpbrk(text, " \r\n\t\x7f"));
    st_is_own_site(text);
    st_is_field_name(text, size);
    st_is_field_value(text, size);
    try_query(query ? query + 1 : text);
}

/* ---------------------------------------------------------------- the whole way */
/* Whatever is let through must be what it should be. */
static void check_host(const struct st_req *q)
{
    const char *host = st_req_header(q, "Host");
    demand(host && st_is_own_host(host, st_http_port(server)));
    demand(st_req_path(q)[0] == '/' && !strchr(st_req_path(q), '?'));
    st_req_query(q, "q");
}

static void read_it(struct st_req *q, struct st_res *r)
{
    check_host(q);
    demand(strcmp(st_req_method(q), "GET") == 0 || strcmp(st_req_method(q), "HEAD") == 0);
    st_res_problem(r, 200, st_req_path(q), st_req_query(q, "q"), st_req_tail(q));
}

static void write_it(struct st_req *q, struct st_res *r)
{
    const char *type = st_req_header(q, "Content-Type"), *origin = st_req_header(q, "Origin");
    const char *site = st_req_header(q, "Sec-Fetch-Site"), *length = st_req_header(q, "Content-Length");
    uint64_t announced = 0;
    size_t size;

    check_host(q);
    demand(strcmp(st_req_method(q), "POST") == 0 && type && st_is_json_type(type));
    demand(!origin || st_is_own_origin(origin, st_http_port(server)));
    demand(!site || st_is_own_site(site));
    const char *body = st_req_body(q, &size);
    demand(!length || (st_read_length(length, &announced) && announced == size));
    demand(body[size] == '\0');
    st_res_copy(r, 200, "application/octet-stream", body, size);
}

static const struct st_route routes[] = {
    { "GET", "/api/read", read_it },
    { "GET", "/api/part/*", read_it },
    { "POST", "/api/write", write_it },
    { NULL, NULL, NULL },
};

static void keep_line(void *arg, const char *line)
{
    (void)arg;
    demand(!strpbrk(line, "\r\n\x1b"));
}

static void add_with_port(struct st_buf *b, const char *bytes, size_t size)
{
    for (size_t i = 0; i < size; i++) {
        if (i + 3 <= size && memcmp(bytes + i, "{P}", 3) == 0) {
            st_buf_printf(b, "%u", (unsigned)st_http_port(server));
            i += 2;
        } else {
            st_buf_char(b, bytes[i]);
        }
    }
}

/* A connection; a signal (libFuzzer's clock) or ports that are all still closing may want a second try. */
static int connect_to(const struct sockaddr_in *a)
{
    const struct timespec moment = { .tv_nsec = 200000000 };
    int fd = -1;

    for (int i = 0; i < 10; i++) {
        fd = socket(AF_INET, SOCK_STREAM, 0);
        demand(fd >= 0);
        if (connect(fd, (const struct sockaddr *)a, sizeof *a) == 0)
            return fd;
        demand(errno == EINTR || errno == EADDRNOTAVAIL);
        close(fd);
        nanosleep(&moment, NULL);
    }
    demand(false);
    return fd;
}

/* Connect, send, say that no more will come; the server runs until it answered or closed. */
static void try_whole(const char *bytes, size_t size)
{
    const struct linger at_once = { .l_onoff = 1 };
    struct sockaddr_in a = { .sin_family = AF_INET, .sin_port = htons(st_http_port(server)) };
    struct st_buf b = { 0 };

    a.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    const int fd = connect_to(&a);
    setsockopt(fd, SOL_SOCKET, SO_LINGER, &at_once, sizeof at_once);
    add_with_port(&b, bytes, size);
    if (b.length > 0)
        demand(send(fd, b.text, b.length, MSG_NOSIGNAL) == (ssize_t)b.length);
    shutdown(fd, SHUT_WR);
    demand(st_http_run_until(server, fd) == 0);
    close(fd);
    st_buf_done(&b);
}

static void stop(void)
{
    st_http_free(server);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    const struct st_http_options o = { .head_ms = 5, .body_ms = 5, .log = keep_line };

    if (size > 60000) /* what a socket takes at once, while nobody reads */
        return 0;
    if (!server) {
        signal(SIGPIPE, SIG_IGN);
        demand(st_http_create(&o, routes, NULL, NULL, &server) == 0);
        atexit(stop);
    }
    char *text = malloc(size + 1);
    demand(text != NULL);
    if (size)
        memcpy(text, data, size);
    text[size] = '\0';
    try_pieces(text, size);
    try_whole(text, size);
    free(text);
    return 0;
}
