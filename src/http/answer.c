#include "inside.h"

#include <stdlib.h>
#include <string.h>

#include "util/buf.h"
#include "util/memory.h"

/* ---------------------------------------------------------------- what routes write */
void st_res_done(struct st_res *r)
{
    free(r->type);
    free(r->bytes);
    r->type = r->bytes = NULL;
    r->size = 0;
    r->status = 0;
}

void st_res_give(struct st_res *r, unsigned status, const char *type, char *bytes, size_t size)
{
    st_res_done(r);
    r->status = status;
    r->type = x_strdup(type);
    r->bytes = bytes;
    r->size = size;
}

void st_res_copy(struct st_res *r, unsigned status, const char *type, const char *bytes, size_t size)
{
    char *copy = x_malloc(size + 1);

    if (size)
        memcpy(copy, bytes, size);
    copy[size] = '\0';
    st_res_give(r, status, type, copy, size);
}

/* The length of the UTF-8 sequence at s (RFC 3629), 0 when there is none. */
static size_t utf8(const unsigned char *s)
{
    const unsigned char c = s[0];
    const size_t n = c < 0x80 ? 1 : c < 0xc2 ? 0 : c < 0xe0 ? 2 : c < 0xf0 ? 3 : c < 0xf5 ? 4 : 0;

    for (size_t i = 1; i < n; i++)
        if ((s[i] & 0xc0) != 0x80)
            return 0;
    if ((c == 0xe0 && s[1] < 0xa0) || (c == 0xed && s[1] > 0x9f) || (c == 0xf0 && s[1] < 0x90) ||
        (c == 0xf4 && s[1] > 0x8f))
        return 0;
    return n;
}

static void add_json_text(struct st_buf *b, const char *text)
{
    const unsigned char *s = (const unsigned char *)text;

    st_buf_char(b, '"');
    while (*s) {
        const size_t n = utf8(s);
        if (n == 0)
            st_buf_add(b, "\\ufffd");
        else if (*s == '"' || *s == '\\')
            st_buf_printf(b, "\\%c", *s);
        else if (*s < 0x20 || *s == 0x7f)
            st_buf_printf(b, "\\u%04x", (unsigned)*s);
        else
            st_buf_add_n(b, s, n);
        s += n ? n : 1;
    }
    st_buf_char(b, '"');
}

void st_res_problem(struct st_res *r, unsigned status, const char *what, const char *why, const char *try_)
{
    const char *const name[] = { "what", "why", "try" }, *const text[] = { what, why, try_ };
    const char *comma = "";
    struct st_buf b = { 0 };

    st_buf_add(&b, "{\"errors\": [{");
    for (size_t i = 0; i < 3; i++)
        if (text[i] && text[i][0]) {
            st_buf_printf(&b, "%s\"%s\": ", comma, name[i]);
            add_json_text(&b, text[i]);
            comma = ", ";
        }
    st_buf_add(&b, "}]}\n");
    const size_t size = b.length;
    st_res_give(r, status, "application/json", st_buf_take(&b), size);
}

/* ---------------------------------------------------------------- what goes out */
char *st_policy(const char *const *style_hashes)
{
    struct st_buf b = { 0 };

    st_buf_add(&b, "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'");
    for (; style_hashes && *style_hashes; style_hashes++)
        st_buf_printf(&b, " '%s'", *style_hashes);
    st_buf_add(&b, "; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'");
    return st_buf_take(&b);
}

static bool add(struct MHD_Response *m, const char *name, const char *value)
{
    return !value || !*value || MHD_add_response_header(m, name, value) == MHD_YES;
}

static bool add_usual(struct MHD_Response *m, const char *policy)
{
    return add(m, "Content-Security-Policy", policy) && add(m, "X-Content-Type-Options", "nosniff") &&
           add(m, "Referrer-Policy", "no-referrer") && add(m, "Cross-Origin-Opener-Policy", "same-origin") &&
           add(m, "Cross-Origin-Resource-Policy", "same-origin");
}

/* The library's parameter lacks a const that it keeps (MHD_RESPMEM_PERSISTENT: never written, never freed). */
static struct MHD_Response *lend(const char *bytes, size_t size)
{
    return MHD_create_response_from_buffer(size, (void *)(uintptr_t)bytes, MHD_RESPMEM_PERSISTENT);
}

struct MHD_Response *st_no_memory_response(const char *policy)
{
    static const char text[] = "{\"errors\": [{\"what\": \"this request\", \"why\": \"no memory is left for it\", "
                               "\"try\": \"ask again in a moment\"}]}\n";
    struct MHD_Response *m = lend(text, sizeof text - 1);

    if (m && add_usual(m, policy) && add(m, "Content-Type", "application/json") &&
        add(m, "Cache-Control", "no-store") && add(m, "Connection", "close"))
        return m;
    if (m)
        MHD_destroy_response(m);
    return NULL;
}

enum MHD_Result st_answer_no_memory(struct st_http *h, struct MHD_Connection *mhd)
{
    return MHD_queue_response(mhd, 503, h->no_memory);
}

static struct MHD_Response *response(const struct st_http *h, struct st_res *r)
{
    struct MHD_Response *m;

    if (r->lent) {
        m = lend(r->lent, r->size);
    } else {
        m = MHD_create_response_from_buffer(r->size, r->bytes, MHD_RESPMEM_MUST_FREE);
        if (m)
            r->bytes = NULL;
    }
    if (m && add_usual(m, h->policy) && add(m, "Content-Type", r->type) && add(m, "ETag", r->etag) &&
        add(m, "Cache-Control", r->lent ? "no-cache" : "no-store") && add(m, "Allow", r->allow) &&
        add(m, "Connection", r->close ? "close" : NULL))
        return m;
    if (m)
        MHD_destroy_response(m);
    return NULL;
}

enum MHD_Result st_answer(struct st_req *q, struct st_res *r)
{
    struct MHD_Response *m = response(q->h, r);
    enum MHD_Result done;

    if (r->close)
        st_linger_prepare(q->conn);
    if (m) {
        done = MHD_queue_response(q->mhd, r->status, m);
        MHD_destroy_response(m);
    } else {
        done = st_answer_no_memory(q->h, q->mhd);
    }
    st_res_done(r);
    return done;
}
