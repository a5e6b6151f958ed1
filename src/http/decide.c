#include "inside.h"
#include "rules.h"
#include "target.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

enum { FIELDS = 64 };

/* ---------------------------------------------------------------- the fields that decide */
enum known { HOST, LENGTH, ENCODING, TYPE, ORIGIN, SITE, KNOWN };
static const char *const KNOWN_NAME[KNOWN] = { "Host",   "Content-Length", "Transfer-Encoding", "Content-Type",
                                               "Origin", "Sec-Fetch-Site" };

struct head {
    const char *value[KNOWN]; /* NULL: not there */
    size_t fields;
    size_t bytes;      /* of the fields, as they are usually written: name, colon, blank, value, line's end */
    const char *twice; /* the name of one that came twice */
    bool ill;          /* a name or value that no field may have */
};

static enum MHD_Result look_at(void *head, enum MHD_ValueKind kind, const char *name, size_t name_size,
                               const char *value, size_t value_size)
{
    struct head *d = head;

    (void)kind;
    d->fields++;
    d->bytes += name_size + value_size + 4;
    if (!value || !st_is_field_name(name, name_size) || !st_is_field_value(value, value_size)) {
        d->ill = true;
        return MHD_YES;
    }
    for (int k = 0; k < KNOWN; k++)
        if (strcasecmp(name, KNOWN_NAME[k]) == 0) {
            if (d->value[k])
                d->twice = KNOWN_NAME[k];
            d->value[k] = value;
        }
    return MHD_YES;
}

/* ---------------------------------------------------------------- refusing */
static bool refuse(const struct st_req *q, struct st_res *r, unsigned status, const char *what, const char *why,
                   const char *try_)
{
    st_http_log(q->h, "%u %s %s: %s: %s", status, q->method, q->target, what, why);
    st_res_problem(r, status, what, why, try_);
    r->close = true;
    return false;
}

/* Over a limit: the reason tells it. */
static bool refuse_length(const struct st_req *q, struct st_res *r, unsigned status, const char *what, size_t limit)
{
    char why[80];
    snprintf(why, sizeof why, "it is too long: %zu bytes are the most", limit);
    return refuse(q, r, status, what, why, "send less");
}

/* The library ends a text at a NUL, joins folded lines, leaves out blanks and fields without a name, and tells nobody.
 * So the head must not be longer than the parts that it showed us.  (Who leaves out blanks after colons can hide as
 * many bytes; no browser writes either.) */
static bool hides_bytes(const struct st_req *q, const char *method, const char *version, const struct head *d,
                        size_t size)
{
    return size > strlen(method) + strlen(q->target) + strlen(version) + 4 + d->bytes + 2;
}

static bool head_is_well_formed(const struct st_req *q, const char *method, const char *version, const struct head *d,
                                struct st_res *r)
{
    const union MHD_ConnectionInfo *info = MHD_get_connection_info(q->mhd, MHD_CONNECTION_INFO_REQUEST_HEADER_SIZE);

    if (strcmp(version, "HTTP/1.1") != 0 && strcmp(version, "HTTP/1.0") != 0)
        return refuse(q, r, 505, "this version of HTTP", "it is not spoken here", "use HTTP/1.1");
    if (!info || info->header_size > q->h->o.head_limit)
        return refuse_length(q, r, 431, "the request's head", q->h->o.head_limit);
    if (d->fields > FIELDS)
        return refuse(q, r, 431, "the request's head", "it has more than 64 fields", "send fewer");
    if (hides_bytes(q, method, version, d, info->header_size))
        return refuse(q, r, 400, "the request's head", "it holds NUL bytes, folded lines or needless blanks", "");
    if (d->ill)
        return refuse(q, r, 400, "a field of the head", "its name or value holds a character that may not", "");
    if (d->twice)
        return refuse(q, r, 400, d->twice, "it came twice", "send it once");
    if (d->value[ENCODING] && d->value[LENGTH])
        return refuse(q, r, 400, "Content-Length and Transfer-Encoding", "both are there", "send Content-Length alone");
    if (d->value[ENCODING])
        return refuse(q, r, 411, "Transfer-Encoding", "a body's length must be known first", "send Content-Length");
    return true;
}

static bool host_is_ours(const struct st_req *q, const struct head *d, struct st_res *r)
{
    if (!d->value[HOST])
        return refuse(q, r, 400, "Host", "it is missing", "name the host and port, such as localhost:8080");
    if (!st_is_own_host(d->value[HOST], q->h->port))
        return refuse(q, r, 421, "Host", "this is not a name of this program",
                      "use localhost and the port, as printed at the start");
    return true;
}

/* ---------------------------------------------------------------- pages of others */
static bool comes_from_us(const struct st_req *q, const struct head *d, struct st_res *r)
{
    static const char why[] = "a page that is not ours may not ask this", try_[] = "use the program's own page";

    if (d->value[ORIGIN] && !st_is_own_origin(d->value[ORIGIN], q->h->port))
        return refuse(q, r, 403, "Origin", why, try_);
    if (d->value[SITE] && !st_is_own_site(d->value[SITE]))
        return refuse(q, r, 403, "Sec-Fetch-Site", why, try_);
    return true;
}

/* ---------------------------------------------------------------- what is asked for */
static bool is_read(const char *method)
{
    return strcmp(method, "GET") == 0 || strcmp(method, "HEAD") == 0;
}

static const struct st_asset *asset_of(const struct st_http *h, const char *path)
{
    for (const struct st_asset *a = h->assets; a && a->path; a++)
        if (strcmp(a->path, path) == 0)
            return a;
    return NULL;
}

/* The route or asset of q's path; fills r->allow with what this path can do, "" for an unknown path. */
static void find(struct st_req *q, struct st_res *r)
{
    bool reads = false, writes = false;
    const char *tail;

    for (const struct st_route *t = q->h->routes; t && t->path; t++) {
        if (!st_path_matches(t->path, q->target, &tail))
            continue;
        *(strcmp(t->method, "GET") == 0 ? &reads : &writes) = true;
        if (!q->route && strcmp(t->method, is_read(q->method) ? "GET" : q->method) == 0) {
            q->route = t;
            q->tail = tail;
        }
    }
    const struct st_asset *asset = asset_of(q->h, q->target);
    reads = reads || asset;
    if (!q->route && is_read(q->method))
        q->asset = asset;
    snprintf(r->allow, sizeof r->allow, "%s%s%s", reads ? "GET, HEAD" : "", reads && writes ? ", " : "",
             writes ? "POST" : "");
}

static bool is_found(struct st_req *q, struct st_res *r)
{
    const bool known_method = is_read(q->method) || strcmp(q->method, "POST") == 0;
    char *query = strchr(q->target, '?'), try_[48];

    if (known_method && !st_is_target(q->target))
        return refuse(q, r, 400, "the address", "it must start with / and be plain ASCII", "");
    if (query) {
        *query = '\0';
        q->query = query + 1;
    }
    find(q, r);
    if (!known_method && r->allow[0] == '\0')
        snprintf(r->allow, sizeof r->allow, "GET, HEAD, POST");
    if (r->allow[0] == '\0')
        return refuse(q, r, 404, q->target, "there is nothing at this address", "start at /");
    snprintf(try_, sizeof try_, "ask by %s", r->allow);
    if (!q->route && !q->asset)
        return refuse(q, r, 405, q->target, "it cannot be asked in this way", try_);
    r->allow[0] = '\0';
    if (q->query && !st_is_query(q->query))
        return refuse(q, r, 400, "the query", "a % is not followed by two hexadecimal digits, or means a NUL", "");
    return true;
}

/* ---------------------------------------------------------------- the body that will come */
static bool body_is_fine(struct st_req *q, const struct head *d, struct st_res *r)
{
    uint64_t length = 0;

    if (d->value[LENGTH] && !st_read_length(d->value[LENGTH], &length))
        return refuse(q, r, 400, "Content-Length", "it is not a whole number", "");
    if (is_read(q->method))
        return length == 0 || refuse(q, r, 400, "a body", "what only reads has none", "ask by POST");
    if (!d->value[TYPE] || !st_is_json_type(d->value[TYPE]))
        return refuse(q, r, 415, "Content-Type", "it must be application/json", "");
    if (length > q->h->o.body_limit)
        return refuse_length(q, r, 413, "the body", q->h->o.body_limit);
    q->body_length = (size_t)length;
    return true;
}

bool st_decide(struct st_req *q, const char *method, const char *version, struct st_res *r)
{
    struct head d = { 0 };

    snprintf(q->method, sizeof q->method, "%s", method);
    MHD_get_connection_values_n(q->mhd, MHD_HEADER_KIND, look_at, &d);
    return head_is_well_formed(q, method, version, &d, r) && host_is_ours(q, &d, r) &&
           (is_read(q->method) || comes_from_us(q, &d, r)) && is_found(q, r) && body_is_fine(q, &d, r);
}
