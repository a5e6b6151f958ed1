#include "inside.h"
#include "target.h"

#include <stdlib.h>
#include <string.h>

#include "util/memory.h"

enum { BODY_START = 16 << 10 };
enum { ALL_BODIES = 64 << 20 }; /* bytes of bodies at a time, of all requests together */

/* ---------------------------------------------------------------- start and end */
void *st_req_start(void *h, const char *target, struct MHD_Connection *mhd)
{
    struct conn *c = st_conn_of(mhd);
    struct st_req *q = c ? calloc(1, sizeof *q) : NULL;
    const size_t n = strlen(target) + 1;

    if (!q)
        return NULL;
    q->target = malloc(n);
    if (!q->target) {
        free(q);
        return NULL;
    }
    memcpy(q->target, target, n);
    q->h = h;
    q->conn = c;
    q->mhd = mhd;
    q->tail = "";
    st_req_free(c->q);
    c->q = q;
    return q;
}

void st_req_free(struct st_req *q)
{
    if (!q)
        return;
    q->h->bodies -= q->body_room;
    free(q->body);
    free(q->target);
    st_arena_done(&q->arena);
    free(q);
}

/* ---------------------------------------------------------------- the body */
/* Room for size bytes in all, and a NUL. */
static bool make_room(struct st_req *q, size_t size)
{
    struct st_http *h = q->h;
    size_t room = q->body_room ? q->body_room : BODY_START;

    if (size <= q->body_room)
        return true;
    while (room < size)
        room *= 2;
    if (room > q->body_length)
        room = q->body_length;
    while (h->bodies + room - q->body_room > ALL_BODIES)
        if (!st_conn_drop_oldest(h, q->conn, true))
            break;
    char *body = realloc(q->body, room + 1);
    if (!body)
        return false;
    h->bodies += room - q->body_room;
    q->body = body;
    q->body_room = room;
    return true;
}

/* The library hands on no more than Content-Length announced, and decide.c let pass. */
static enum MHD_Result take_body(struct st_req *q, const char *bytes, size_t *size)
{
    const size_t n = *size;

    if (q->conn->state == CONN_DROPPED || n > q->body_length - q->body_size)
        return MHD_NO;
    if (!make_room(q, q->body_size + n)) {
        st_http_log(q->h, "503 %s %s: no memory for the body", q->method, q->target);
        return MHD_NO;
    }
    memcpy(q->body + q->body_size, bytes, n);
    q->body_size += n;
    q->body[q->body_size] = '\0';
    *size = 0;
    return MHD_YES;
}

/* ---------------------------------------------------------------- the whole request */
static void answer_asset(const struct st_req *q, struct st_res *r)
{
    const char *known = st_req_header(q, "If-None-Match");

    r->etag = q->asset->etag;
    if (known && r->etag && strcmp(known, r->etag) == 0) {
        r->status = 304;
        r->lent = "";
        return;
    }
    r->status = 200;
    r->type = x_strdup(q->asset->type);
    r->lent = (const char *)q->asset->bytes;
    r->size = q->asset->size;
}

/* Our code may end the program when memory is short (util/memory.h): nothing is begun that cannot have its reserve. */
static bool has_reserve(const struct st_http *h)
{
    void *volatile reserve = malloc(h->o.reserve); /* volatile: a pair that does nothing may be left out */
    const bool has = reserve != NULL;
    free(reserve);
    return has;
}

static enum MHD_Result run(struct st_req *q)
{
    struct st_res r = { 0 };

    if (q->conn->state == CONN_DROPPED)
        return MHD_NO;
    st_conn_move(q->conn, CONN_ANSWER);
    if (!has_reserve(q->h)) {
        st_http_log(q->h, "503 %s %s: no memory", q->method, q->target);
        return st_answer_no_memory(q->h, q->mhd);
    }
    if (q->asset)
        answer_asset(q, &r);
    else
        q->route->run(q, &r);
    if (r.status == 0)
        st_res_problem(&r, 500, q->target, "the program made no answer to this", "report it with what you asked for");
    if (r.status >= 500)
        st_http_log(q->h, "%u %s %s", r.status, q->method, q->target);
    return st_answer(q, &r);
}

enum MHD_Result st_req_handle(void *h, struct MHD_Connection *mhd, const char *url, const char *method,
                              const char *version, const char *upload, size_t *upload_size, void **context)
{
    struct st_req *q = *context;

    (void)url; /* decoded by the library; we read q->target */
    if (!q)
        return st_answer_no_memory(h, mhd);
    if (!q->begun) {
        struct st_res r = { 0 };
        q->begun = true;
        if (!st_decide(q, method, version, &r)) {
            st_conn_move(q->conn, CONN_ANSWER);
            return st_answer(q, &r);
        }
        st_conn_move(q->conn, CONN_BODY);
        return MHD_YES;
    }
    return *upload_size > 0 ? take_body(q, upload, upload_size) : run(q);
}

/* ---------------------------------------------------------------- what routes read */
const char *st_req_method(const struct st_req *q) { return q->method; }
const char *st_req_path(const struct st_req *q) { return q->target; }
const char *st_req_tail(const struct st_req *q) { return q->tail; }
void *st_req_arg(const struct st_req *q) { return q->h->arg; }

const char *st_req_body(const struct st_req *q, size_t *size)
{
    if (size)
        *size = q->body_size;
    return q->body ? q->body : "";
}

const char *st_req_header(const struct st_req *q, const char *name)
{
    return MHD_lookup_connection_value(q->mhd, MHD_HEADER_KIND, name);
}

const char *st_req_query(const struct st_req *q, const char *name)
{
    if (!q->query)
        return NULL;
    char *value = x_malloc(strlen(q->query) + 1);
    const bool found = st_query_find(q->query, name, value);
    /* The arena is the request's own memory, whoever asks. */
    const char *kept = found ? st_arena_strdup(&q->conn->q->arena, value) : NULL;
    free(value);
    return kept;
}
