#include "inside.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <sys/socket.h>
#include <time.h>
#include <unistd.h>

enum { LINGER_MS = 2000 };
enum { LINGER_BYTES = 64 << 20 };

int64_t st_now_ms(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (int64_t)t.tv_sec * 1000 + t.tv_nsec / 1000000;
}

/* ---------------------------------------------------------------- the list */
static void unlink_conn(struct conn *c)
{
    struct st_http *h = c->h;
    *(c->previous ? &c->previous->next : &h->first) = c->next;
    *(c->next ? &c->next->previous : &h->last) = c->previous;
    c->previous = c->next = NULL;
}

static void append_conn(struct conn *c)
{
    struct st_http *h = c->h;
    c->previous = h->last;
    *(h->last ? &h->last->next : &h->first) = c;
    h->last = c;
}

void st_conn_move(struct conn *c, enum conn_state state)
{
    if (c->state == CONN_DROPPED)
        return;
    c->state = state;
    c->since = st_now_ms();
    if (state != CONN_HEAD) /* a head that is whole makes nobody younger */
        return;
    unlink_conn(c);
    append_conn(c);
}

struct conn *st_conn_of(struct MHD_Connection *mhd)
{
    const union MHD_ConnectionInfo *info = MHD_get_connection_info(mhd, MHD_CONNECTION_INFO_SOCKET_CONTEXT);
    return info ? info->socket_context : NULL;
}

static void opened(struct st_http *h, struct MHD_Connection *mhd, void **context)
{
    const union MHD_ConnectionInfo *info = MHD_get_connection_info(mhd, MHD_CONNECTION_INFO_CONNECTION_FD);
    struct conn *c = calloc(1, sizeof *c);

    *context = c;
    if (!c) { /* nobody would watch over it */
        shutdown(info->connect_fd, SHUT_RDWR);
        return;
    }
    c->h = h;
    c->fd = info->connect_fd;
    c->linger_fd = -1;
    c->state = CONN_HEAD;
    c->since = st_now_ms();
    append_conn(c);
    h->connections++;
}

static void linger_start(struct conn *c);

static void closed(struct conn *c)
{
    if (c->state != CONN_DROPPED)
        c->h->connections--;
    if (c->linger_fd >= 0)
        linger_start(c);
    unlink_conn(c);
    st_req_free(c->q);
    free(c);
}

void st_conn_notify(void *h, struct MHD_Connection *mhd, void **context, enum MHD_ConnectionNotificationCode code)
{
    if (code == MHD_CONNECTION_NOTIFY_STARTED)
        opened(h, mhd, context);
    else if (*context)
        closed(*context);
}

/* ---------------------------------------------------------------- who has to go */
/* Both directions are shut; the library notices on its next turn and closes. */
void st_conn_drop(struct conn *c)
{
    if (c->state == CONN_DROPPED)
        return;
    shutdown(c->fd, SHUT_RDWR);
    c->state = CONN_DROPPED;
    c->h->connections--;
    if (c->q) {
        c->h->bodies -= c->q->body_room;
        free(c->q->body);
        c->q->body = NULL;
        c->q->body_size = c->q->body_room = 0;
    }
}

bool st_conn_drop_oldest(struct st_http *h, const struct conn *but, bool with_body)
{
    for (struct conn *c = h->first; c; c = c->next)
        if (c != but && (c->state == CONN_BODY || (c->state == CONN_HEAD && !with_body))) {
            st_http_log(h, "dropped a connection whose request was not complete, to make room for another");
            st_conn_drop(c);
            return true;
        }
    return false;
}

int64_t st_conn_drop_late(struct st_http *h)
{
    const int64_t now = st_now_ms();
    int64_t next = INT64_MAX;
    const unsigned limit[] = { h->o.head_ms, h->o.body_ms, h->o.answer_ms };

    for (struct conn *c = h->first; c; c = c->next) {
        if (c->state == CONN_DROPPED)
            continue;
        const int64_t until = c->since + limit[c->state];
        if (now < until) {
            next = until < next ? until : next;
            continue;
        }
        if (c->state != CONN_HEAD && c->q)
            st_http_log(h, "408 %s %s: %s took too long", c->q->method, c->q->target,
                        c->state == CONN_BODY ? "the body" : "taking the answer");
        st_conn_drop(c);
    }
    return next;
}

/* ---------------------------------------------------------------- refusals that must arrive */
/* A client that is still sending would get a reset instead of our refusal, were the socket closed with bytes unread.
 * So a copy of the descriptor stays, and what comes is read and thrown away for a moment. */
void st_linger_prepare(struct conn *c)
{
    if (c->linger_fd < 0)
        c->linger_fd = fcntl(c->fd, F_DUPFD_CLOEXEC, 0);
}

static void linger_end(struct st_http *h, size_t i)
{
    close(h->linger[i].fd);
    h->linger[i].fd = -1;
}

static void linger_start(struct conn *c)
{
    struct st_http *h = c->h;
    size_t at = 0;

    shutdown(c->linger_fd, SHUT_WR);
    for (size_t i = 0; i < LINGERING; i++) {
        if (h->linger[i].fd < 0) {
            at = i;
            break;
        }
        if (h->linger[i].until < h->linger[at].until)
            at = i;
    }
    if (h->linger[at].fd >= 0)
        linger_end(h, at);
    h->linger[at].fd = c->linger_fd;
    h->linger[at].until = st_now_ms() + LINGER_MS;
    h->linger[at].left = LINGER_BYTES;
}

void st_linger_read(struct st_http *h, size_t i)
{
    char away[16384];
    const ssize_t n = recv(h->linger[i].fd, away, sizeof away, MSG_DONTWAIT);

    if (n < 0 && (errno == EAGAIN || errno == EINTR))
        return;
    if (n <= 0 || (size_t)n >= h->linger[i].left)
        linger_end(h, i);
    else
        h->linger[i].left -= (size_t)n;
}

int64_t st_linger_end_late(struct st_http *h)
{
    const int64_t now = st_now_ms();
    int64_t next = INT64_MAX;

    for (size_t i = 0; i < LINGERING; i++) {
        if (h->linger[i].fd < 0)
            continue;
        if (now >= h->linger[i].until)
            linger_end(h, i);
        else if (h->linger[i].until < next)
            next = h->linger[i].until;
    }
    return next;
}
