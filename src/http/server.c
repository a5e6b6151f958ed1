#include "inside.h"

#include <arpa/inet.h>
#include <errno.h>
#include <fcntl.h>
#include <netinet/in.h>
#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <unistd.h>

/* The loop is ours and the library runs inside it, so that deadlines hold for slow senders too (the library's own
 * timeout starts again with each byte), both addresses share one limit, and no lock is needed. */

enum { POOL = 32 << 10 };   /* the library's memory a connection: a head of twice our limit, and our answer's */
enum { BACKLOG = 1024, ACCEPTS = 64, FULL_MS = 50, RETRIES = 16 };
enum { OTHER_FILES = 96 };  /* descriptors that are no connections */

/* ---------------------------------------------------------------- listening */
union address {
    struct sockaddr any;
    struct sockaddr_in v4;
    struct sockaddr_in6 v6;
};

static socklen_t loopback(int family, uint16_t port, union address *a)
{
    memset(a, 0, sizeof *a);
    if (family == AF_INET) {
        a->v4.sin_family = AF_INET;
        a->v4.sin_port = htons(port);
        a->v4.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
        return sizeof a->v4;
    }
    a->v6.sin6_family = AF_INET6;
    a->v6.sin6_port = htons(port);
    a->v6.sin6_addr = in6addr_loopback;
    return sizeof a->v6;
}

static bool set_flags(int fd)
{
    return fcntl(fd, F_SETFD, FD_CLOEXEC) == 0 && fcntl(fd, F_SETFL, O_NONBLOCK) == 0;
}

/* 0 and *fd, or an errno value. */
static int listen_on(int family, uint16_t port, int *fd)
{
    const int yes = 1;
    union address a;
    const socklen_t size = loopback(family, port, &a);
    const int s = socket(family, SOCK_STREAM, 0);

    if (s < 0)
        return errno;
    setsockopt(s, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
    if (family == AF_INET6)
        setsockopt(s, IPPROTO_IPV6, IPV6_V6ONLY, &yes, sizeof yes);
    if (!set_flags(s) || bind(s, &a.any, size) != 0 || listen(s, BACKLOG) != 0) {
        const int e = errno;
        close(s);
        return e;
    }
    *fd = s;
    return 0;
}

static uint16_t port_of(int fd)
{
    union address a = { 0 };
    socklen_t size = sizeof a;
    return getsockname(fd, &a.any, &size) == 0 ? ntohs(a.v4.sin_port) : 0;
}

static void stop_listening(struct st_http *h)
{
    for (int i = 0; i < 2; i++) {
        if (h->listening[i] >= 0)
            close(h->listening[i]);
        h->listening[i] = -1;
    }
}

/* Both addresses on one port.  A free port of 127.0.0.1 may be taken on [::1]: then another is tried. */
static int start_listening(struct st_http *h)
{
    int e = 0;

    for (int i = 0; i < RETRIES; i++) {
        e = listen_on(AF_INET, h->o.port, &h->listening[0]);
        if (e)
            return e;
        h->port = port_of(h->listening[0]);
        e = listen_on(AF_INET6, h->port, &h->listening[1]);
        if (e == 0 || e == EAFNOSUPPORT || e == EADDRNOTAVAIL)
            return 0;
        stop_listening(h);
        if (e != EADDRINUSE || h->o.port != 0)
            return e;
    }
    return e;
}

/* ---------------------------------------------------------------- create and free */
static void fill_in(struct st_http_options *o)
{
    struct rlimit files;

    o->body_limit = o->body_limit ? o->body_limit : (size_t)1 << 20;
    o->head_limit = o->head_limit ? o->head_limit : (size_t)8 << 10;
    o->connection_limit = o->connection_limit ? o->connection_limit : 2048;
    o->head_ms = o->head_ms ? o->head_ms : 5000;
    o->body_ms = o->body_ms ? o->body_ms : 10000;
    o->answer_ms = o->answer_ms ? o->answer_ms : 30000;
    o->reserve = o->reserve ? o->reserve : (size_t)16 << 20;

    if (getrlimit(RLIMIT_NOFILE, &files) != 0)
        return;
    const rlim_t wanted = (rlim_t)o->connection_limit + OTHER_FILES;
    if (files.rlim_cur < wanted) {
        files.rlim_cur = files.rlim_max < wanted ? files.rlim_max : wanted;
        setrlimit(RLIMIT_NOFILE, &files);
        getrlimit(RLIMIT_NOFILE, &files);
    }
    if (files.rlim_cur < wanted)
        o->connection_limit = files.rlim_cur > OTHER_FILES ? (size_t)files.rlim_cur - OTHER_FILES : 1;
}

/* The library decodes nothing: what a percent sign means is said in target.c alone. */
static size_t leave_as_it_is(void *arg, struct MHD_Connection *mhd, char *text)
{
    (void)arg, (void)mhd;
    return strlen(text);
}

static void completed(void *arg, struct MHD_Connection *mhd, void **context, enum MHD_RequestTerminationCode how)
{
    struct conn *c = st_conn_of(mhd);

    (void)arg, (void)how;
    *context = NULL;
    if (!c)
        return;
    st_req_free(c->q);
    c->q = NULL;
    st_conn_move(c, CONN_HEAD);
}

static struct MHD_Daemon *start_library(struct st_http *h)
{
    return MHD_start_daemon(MHD_USE_EPOLL | MHD_USE_NO_LISTEN_SOCKET | MHD_USE_ERROR_LOG, 0, NULL, NULL,
                            st_req_handle, h,
                            MHD_OPTION_EXTERNAL_LOGGER, st_http_log_library, (void *)h,
                            MHD_OPTION_CONNECTION_LIMIT, (unsigned)h->o.connection_limit + ACCEPTS,
                            MHD_OPTION_CONNECTION_MEMORY_LIMIT, (size_t)POOL,
                            MHD_OPTION_CONNECTION_TIMEOUT, 0u,
                            MHD_OPTION_STRICT_FOR_CLIENT, 1,
                            MHD_OPTION_UNESCAPE_CALLBACK, leave_as_it_is, (void *)h,
                            MHD_OPTION_URI_LOG_CALLBACK, st_req_start, (void *)h,
                            MHD_OPTION_NOTIFY_COMPLETED, completed, (void *)h,
                            MHD_OPTION_NOTIFY_CONNECTION, st_conn_notify, (void *)h,
                            MHD_OPTION_END);
}

int st_http_create(const struct st_http_options *options, const struct st_route *routes, const struct st_asset *assets,
                   void *arg, struct st_http **out)
{
    struct st_http *h = calloc(1, sizeof *h);
    int e = ENOMEM;

    if (!h)
        return e;
    h->listening[0] = h->listening[1] = -1;
    for (size_t i = 0; i < LINGERING; i++)
        h->linger[i].fd = -1;
    if (options)
        h->o = *options;
    fill_in(&h->o);
    h->routes = routes;
    h->assets = assets;
    h->arg = arg;
    h->policy = st_policy(h->o.style_hashes);
    h->no_memory = st_no_memory_response(h->policy);
    if (!h->no_memory)
        goto failed;
    e = start_listening(h);
    if (e)
        goto failed;
    errno = 0;
    h->daemon = start_library(h);
    e = errno ? errno : ENOMEM;
    if (!h->daemon)
        goto failed;
    *out = h;
    return 0;
failed:
    st_http_free(h);
    return e;
}

void st_http_free(struct st_http *h)
{
    if (!h)
        return;
    stop_listening(h);
    if (h->daemon)
        MHD_stop_daemon(h->daemon);
    for (size_t i = 0; i < LINGERING; i++)
        if (h->linger[i].fd >= 0)
            close(h->linger[i].fd);
    if (h->no_memory)
        MHD_destroy_response(h->no_memory);
    free(h->policy);
    free(h);
}

uint16_t st_http_port(const struct st_http *h)
{
    return h->port;
}

/* ---------------------------------------------------------------- the loop */
/* Room for one connection more; false when every one is being answered. */
static bool make_room(struct st_http *h)
{
    if (h->connections < h->o.connection_limit)
        return true;
    if (!st_conn_drop_oldest(h, NULL, false))
        return false;
    MHD_run(h->daemon);
    return true;
}

/* Take what has come to one address; false when no descriptor is left and none could be freed. */
static bool accept_some(struct st_http *h, int listening)
{
    for (int i = 0; i < ACCEPTS; i++) {
        union address a;
        socklen_t size = sizeof a;
        const int fd = accept(listening, &a.any, &size);
        if (fd < 0 && (errno == EMFILE || errno == ENFILE)) {
            const bool dropped = st_conn_drop_oldest(h, NULL, false);
            MHD_run(h->daemon);
            return dropped;
        }
        if (fd < 0)
            return errno == EAGAIN || errno == EWOULDBLOCK || errno == EINTR || errno == ECONNABORTED;
        if (!set_flags(fd) || !make_room(h))
            close(fd);
        else
            MHD_add_connection(h->daemon, fd, &a.any, size); /* closes fd when it fails */
    }
    return true;
}

enum { STOP, LIBRARY, FIRST, SECOND, LINGER };

/* Until the library, or the first of two moments, wants us; -1 for ever. */
static int wait_ms(struct st_http *h, int64_t one, int64_t other)
{
    const int64_t until = one < other ? one : other, ms = until - st_now_ms();
    MHD_UNSIGNED_LONG_LONG library;

    if (MHD_get_timeout(h->daemon, &library) == MHD_YES && library == 0)
        return 0;
    if (until == INT64_MAX)
        return -1;
    return ms < 0 ? 0 : ms > 60000 ? 60000 : (int)ms;
}

static void fill_poll(const struct st_http *h, struct pollfd *p, int stop_fd, bool full)
{
    const union MHD_DaemonInfo *info = MHD_get_daemon_info(h->daemon, MHD_DAEMON_INFO_EPOLL_FD);

    p[STOP].fd = stop_fd;
    p[LIBRARY].fd = info->epoll_fd;
    p[FIRST].fd = full ? -1 : h->listening[0];
    p[SECOND].fd = full ? -1 : h->listening[1];
    for (size_t i = 0; i < LINGERING; i++)
        p[LINGER + i].fd = h->linger[i].fd;
    for (size_t i = 0; i < LINGER + LINGERING; i++) {
        p[i].events = POLLIN;
        p[i].revents = 0;
    }
}

int st_http_run_until(struct st_http *h, int stop_fd)
{
    struct pollfd p[LINGER + LINGERING];
    bool full = false; /* no descriptor left: look at the addresses again a moment later */

    for (;;) {
        const int64_t late = st_conn_drop_late(h), linger = st_linger_end_late(h);
        const int ms = full ? FULL_MS : wait_ms(h, late, linger);
        fill_poll(h, p, stop_fd, full);
        full = false;
        if (poll(p, LINGER + LINGERING, ms) < 0 && errno != EINTR)
            return errno;
        if (p[STOP].revents)
            return 0;
        for (int i = FIRST; i <= SECOND; i++)
            if (p[i].revents && !accept_some(h, p[i].fd))
                full = true;
        MHD_run(h->daemon);
        for (size_t i = 0; i < LINGERING; i++)
            if (p[LINGER + i].revents && h->linger[i].fd == p[LINGER + i].fd)
                st_linger_read(h, i);
    }
}
