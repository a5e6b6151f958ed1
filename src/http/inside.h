#ifndef ST_HTTP_INSIDE_H
#define ST_HTTP_INSIDE_H

#include "http.h"

#include <stdarg.h>
#include <microhttpd.h>

#include "util/arena.h"

/* The parts of the server, for its own files. */

/* --- one connection; in the server's list from accept to close, by when it began to wait for its request --- */
enum conn_state {
    CONN_HEAD,   /* nothing, or a part of a head, has come */
    CONN_BODY,   /* the head is there, the body is not */
    CONN_ANSWER, /* the answer goes out */
    CONN_DROPPED /* we shut it; the library will close it */
};

struct conn {
    struct st_http *h;
    struct conn *previous, *next;
    int fd;         /* the library closes it */
    int linger_fd;  /* a copy of fd that outlives the library's, or -1 (linger.c) */
    enum conn_state state;
    int64_t since;  /* when it came to this state, ms */
    struct st_req *q; /* the request at hand, or NULL; owned */
};

/* --- one request --- */
struct st_req {
    struct st_http *h;
    struct conn *conn;
    struct MHD_Connection *mhd;
    struct st_arena arena;
    bool begun; /* its head was looked at */
    char method[8];
    char *target; /* as sent; owned; the path ends at the ? */
    const char *query, *tail;
    const struct st_route *route;
    const struct st_asset *asset;
    char *body;
    size_t body_size, body_room, body_length; /* come, allocated (without the NUL), announced */
};

/* --- one answer --- */
struct st_res {
    unsigned status;
    char *type, *bytes; /* owned until the answer is queued */
    size_t size;
    char allow[32];     /* "" or the methods of a 405 */
    const char *etag;   /* NULL or an asset's */
    const char *lent;   /* instead of bytes: an asset's, never freed */
    bool close;         /* the connection ends with this answer */
};

enum { LINGERING = 32 };

struct st_http {
    struct st_http_options o; /* with every usual value filled in */
    const struct st_route *routes;
    const struct st_asset *assets;
    void *arg;
    uint16_t port;
    int listening[2];         /* 127.0.0.1 and [::1]; -1 for none */
    struct MHD_Daemon *daemon;
    struct MHD_Response *no_memory; /* made at the start, for when nothing can be made any more */
    char *policy;             /* the Content-Security-Policy */
    struct conn *first, *last;
    size_t connections;       /* in the list and not dropped */
    size_t bodies;            /* bytes allocated for bodies, all requests together */
    struct { int fd; int64_t until; size_t left; } linger[LINGERING];
};

int64_t st_now_ms(void);

/* connections.c */
void st_conn_notify(void *h, struct MHD_Connection *mhd, void **context, enum MHD_ConnectionNotificationCode code);
struct conn *st_conn_of(struct MHD_Connection *mhd); /* NULL only without memory */
void st_conn_move(struct conn *c, enum conn_state state);
void st_conn_drop(struct conn *c);
bool st_conn_drop_oldest(struct st_http *h, const struct conn *but, bool with_body);
int64_t st_conn_drop_late(struct st_http *h); /* when the next will be late, INT64_MAX for never */
void st_linger_prepare(struct conn *c);
void st_linger_read(struct st_http *h, size_t i);
int64_t st_linger_end_late(struct st_http *h); /* the same */

/* request.c */
void *st_req_start(void *h, const char *target, struct MHD_Connection *mhd);
void st_req_free(struct st_req *q);
enum MHD_Result st_req_handle(void *h, struct MHD_Connection *mhd, const char *url, const char *method,
                              const char *version, const char *upload, size_t *upload_size, void **context);

/* decide.c: true when the request may go on; otherwise r is the refusal */
bool st_decide(struct st_req *q, const char *method, const char *version, struct st_res *r);

/* answer.c */
enum MHD_Result st_answer(struct st_req *q, struct st_res *r); /* empties r */
enum MHD_Result st_answer_no_memory(struct st_http *h, struct MHD_Connection *mhd);
void st_res_done(struct st_res *r);
char *st_policy(const char *const *style_hashes);
struct MHD_Response *st_no_memory_response(const char *policy);

/* log.c */
__attribute__((format(printf, 2, 3))) void st_http_log(const struct st_http *h, const char *format, ...);
__attribute__((format(printf, 2, 0))) void st_http_log_library(void *h, const char *format, va_list args);

#endif
