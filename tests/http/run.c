/* Runs one case file against a server in this process: http_run FILE.case
 * The files speak raw bytes; tests/http/README.md tells what a line may say.  Exit 0 passed, 1 failed, 2 a line of
 * the file is not understood, 77 this machine allows too few open files. */
#include <arpa/inet.h>
#include <errno.h>
#include <netinet/in.h>
#include <poll.h>
#include <pthread.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/time.h>
#include <time.h>
#include <unistd.h>

#include "routes.h"
#include "util/buf.h"

enum { PATIENCE_S = 8, STALLED = 4096 };

/* Without memory the server must answer, so the sanitizer's allocator must return as the C library's does. */
const char *__asan_default_options(void);
const char *__asan_default_options(void)
{
    return "allocator_may_return_null=1";
}

/* ---------------------------------------------------------------- the case at hand */
static const char *file_name;
static int line_number, failures, requests;
static char request_name[200];

static struct st_http_options options;
static struct st_http *server;
static pthread_t server_thread;
static int stop_pipe[2];

static pthread_mutex_t log_lock = PTHREAD_MUTEX_INITIALIZER;
static struct st_buf log_lines;

static int family = AF_INET, client = -1, writes_before;
static size_t sent;          /* bytes on this connection */
static bool cut;             /* the server would not take some of them */
static struct st_buf coming; /* received and not yet read as an answer */
static struct { int status; struct st_buf head, body; } answer;

static int stalled[STALLED];
static size_t nstalled;

__attribute__((format(printf, 1, 2))) static void fail(const char *format, ...)
{
    va_list args;
    printf("%s:%d: %s: ", file_name, line_number, request_name);
    va_start(args, format);
    vprintf(format, args);
    va_end(args);
    putchar('\n');
    failures++;
}

/* ---------------------------------------------------------------- the server */
static void keep_log(void *arg, const char *line)
{
    (void)arg;
    pthread_mutex_lock(&log_lock);
    st_buf_printf(&log_lines, "%s\n", line);
    pthread_mutex_unlock(&log_lock);
}

static void *serve(void *arg)
{
    (void)arg;
    const int e = st_http_run_until(server, stop_pipe[0]);
    if (e) {
        printf("the server stopped: %s\n", strerror(e));
        exit(1);
    }
    return NULL;
}

static void start_server(void)
{
    static char arg[] = "jar";

    if (server)
        return;
    options.log = keep_log;
    const int e = st_http_create(&options, test_routes, test_assets, arg, &server);
    if (e || pipe(stop_pipe) != 0 || pthread_create(&server_thread, NULL, serve, NULL) != 0) {
        printf("%s: the server does not start: %s\n", file_name, strerror(e ? e : errno));
        exit(1);
    }
}

static void stop_server(void)
{
    if (!server)
        return;
    if (write(stop_pipe[1], "", 1) != 1)
        exit(1);
    pthread_join(server_thread, NULL);
    st_http_free(server);
    server = NULL;
}

/* ---------------------------------------------------------------- the client */
static int connect_client(void)
{
    const struct timeval patience = { .tv_sec = PATIENCE_S };
    struct sockaddr_in v4 = { .sin_family = AF_INET, .sin_port = htons(st_http_port(server)) };
    struct sockaddr_in6 v6 = { .sin6_family = AF_INET6, .sin6_port = htons(st_http_port(server)) };
    const int fd = socket(family, SOCK_STREAM, 0);

    v4.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    v6.sin6_addr = in6addr_loopback;
    setsockopt(fd, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    setsockopt(fd, SOL_SOCKET, SO_SNDTIMEO, &patience, sizeof patience);
    const int done = family == AF_INET ? connect(fd, (const struct sockaddr *)&v4, sizeof v4)
                                       : connect(fd, (const struct sockaddr *)&v6, sizeof v6);
    if (fd < 0 || done != 0)
        fail("cannot connect: %s", strerror(errno));
    return fd;
}

static void begin(const char *name)
{
    if (client >= 0)
        close(client);
    snprintf(request_name, sizeof request_name, "%s", name);
    requests++;
    start_server();
    st_buf_clear(&coming);
    st_buf_clear(&answer.head);
    st_buf_clear(&answer.body);
    pthread_mutex_lock(&log_lock);
    st_buf_clear(&log_lines);
    pthread_mutex_unlock(&log_lock);
    sent = 0;
    cut = false;
    writes_before = atomic_load(&test_writes);
    client = connect_client();
}

static bool send_all(int fd, const char *bytes, size_t n)
{
    while (n > 0) {
        const ssize_t k = send(fd, bytes, n, MSG_NOSIGNAL);
        if (k <= 0)
            return false;
        bytes += k;
        n -= (size_t)k;
    }
    return true;
}

/* A refusal may close while we are sending: the answer tells, not the sending. */
static void send_bytes(const char *bytes, size_t n)
{
    cut = !send_all(client, bytes, n) || cut;
    sent += n;
}

static int hex(char c)
{
    const char *all = "0123456789abcdef", *at = c ? strchr(all, c) : NULL;
    return at ? (int)(at - all) : -1;
}

/* \r \n \t \0 \\ \xhh, and {P} for the port. */
static void unescape(const char *s, struct st_buf *out)
{
    static const char from[] = "rnt0\\", to[] = "\r\n\t\0\\";

    for (; *s; s++) {
        const char *at;
        if (strncmp(s, "{P}", 3) == 0) {
            st_buf_printf(out, "%u", (unsigned)st_http_port(server));
            s += 2;
        } else if (*s == '\\' && s[1] == 'x' && hex(s[2]) >= 0 && hex(s[3]) >= 0) {
            st_buf_char(out, (char)(hex(s[2]) * 16 + hex(s[3])));
            s += 3;
        } else if (*s == '\\' && s[1] && (at = strchr(from, s[1]))) {
            st_buf_char(out, to[at - from]);
            s++;
        } else {
            st_buf_char(out, *s);
        }
    }
}

static void send_text(const char *text, const char *end)
{
    struct st_buf b = { 0 };
    unescape(text, &b);
    st_buf_add(&b, end);
    send_bytes(st_buf_text(&b), b.length);
    st_buf_done(&b);
}

static void send_filling(size_t n, char c)
{
    char some[4096];
    memset(some, c, sizeof some);
    for (; n > sizeof some; n -= sizeof some)
        send_bytes(some, sizeof some);
    send_bytes(some, n);
}

/* One more field and the empty line, so that the head is n bytes in all. */
static void send_head_to(size_t n)
{
    static const char name[] = "X-Long: ", end[] = "\r\n\r\n";
    const size_t fixed = sizeof name - 1 + sizeof end - 1;

    if (n < sent + fixed + 1) {
        fail("the head is longer than %zu bytes already", n);
        return;
    }
    const size_t letters = n - sent - fixed;
    send_bytes(name, sizeof name - 1);
    send_filling(letters, 'a');
    send_bytes(end, sizeof end - 1);
}

/* ---------------------------------------------------------------- answers */
/* More bytes from the server; 0 at its end, -1 when patience ends or the connection was reset. */
static int receive(void)
{
    char some[65536];
    const ssize_t n = recv(client, some, sizeof some, 0);
    if (n > 0)
        st_buf_add_n(&coming, some, (size_t)n);
    return n > 0 ? 1 : n == 0 || errno == ECONNRESET ? 0 : -1;
}

static const char *find_bytes(const struct st_buf *b, const char *what)
{
    const size_t n = strlen(what);
    for (size_t i = 0; i + n <= b->length; i++)
        if (memcmp(b->text + i, what, n) == 0)
            return b->text + i;
    return NULL;
}

/* The value of a field of the answer, or NULL; *times how often it is there. */
static const char *field(const char *name, char *value, size_t size, int *times)
{
    const size_t n = strlen(name);
    const char *found = NULL;

    *times = 0;
    for (const char *s = st_buf_text(&answer.head); *s; s += strcspn(s, "\n"), s += *s ? 1 : 0)
        if (strncasecmp(s, name, n) == 0 && s[n] == ':') {
            const char *v = s + n + 1 + strspn(s + n + 1, " ");
            snprintf(value, size, "%.*s", (int)strcspn(v, "\r\n"), v);
            found = value;
            ++*times;
        }
    return found;
}

static void keep_rest(size_t used)
{
    const size_t left = coming.length - used;
    memmove(coming.text, coming.text + used, left);
    coming.length = left;
}

/* Read one answer; false when none came.  The answer to HEAD has no body, whatever its length says. */
static bool read_answer(bool to_head)
{
    char value[64];
    const char *end;
    int times;

    while (!(end = find_bytes(&coming, "\r\n\r\n")))
        if (receive() <= 0)
            return false;
    const size_t head = (size_t)(end - coming.text) + 4;
    st_buf_clear(&answer.head);
    st_buf_clear(&answer.body);
    st_buf_add_n(&answer.head, coming.text, head);
    keep_rest(head);
    if (answer.head.length < 13 || strncmp(answer.head.text, "HTTP/1.", 7) != 0)
        return false;
    answer.status = (int)strtol(answer.head.text + 9, NULL, 10);
    if (to_head || answer.status < 200 || answer.status == 304 || !field("Content-Length", value, sizeof value, &times))
        return true;
    const size_t length = strtoul(value, NULL, 10);
    while (coming.length < length)
        if (receive() <= 0)
            return false;
    if (length > 0) {
        st_buf_add_n(&answer.body, coming.text, length);
        keep_rest(length);
    }
    return true;
}

/* "400", or several that are all right: "400 closed" */
static void expect_status(const char *wanted, bool to_head)
{
    char got[16];

    answer.status = 0;
    if (read_answer(to_head))
        snprintf(got, sizeof got, "%d", answer.status);
    else
        snprintf(got, sizeof got, "closed");
    if (!strstr(wanted, got))
        fail("the answer is \"%s\", expected %s", got, wanted);
}

static void expect_field(const char *wanted)
{
    char name[80], value[600];
    struct st_buf text = { 0 };
    int times;
    const size_t n = strcspn(wanted, ":");

    snprintf(name, sizeof name, "%.*s", (int)n, wanted);
    unescape(wanted + n + 1 + strspn(wanted + n + 1, " "), &text);
    const char *got = field(name, value, sizeof value, &times);
    if (!got || strcmp(got, st_buf_text(&text)) != 0 || times != 1)
        fail("%s is \"%s\", %d times; expected once \"%s\"", name, got ? got : "", times, st_buf_text(&text));
    st_buf_done(&text);
}

static void expect_no_field(const char *name)
{
    char value[200];
    int times;
    if (field(name, value, sizeof value, &times))
        fail("there is a field %s: %s", name, value);
}

static void expect_body(const char *wanted, bool whole)
{
    struct st_buf text = { 0 };
    unescape(wanted, &text);
    const bool same = answer.body.length == text.length && find_bytes(&answer.body, st_buf_text(&text));
    if (whole ? !same : !find_bytes(&answer.body, st_buf_text(&text)))
        fail("the body is \"%.300s\", expected%s \"%s\"", st_buf_text(&answer.body), whole ? "" : " in it",
             st_buf_text(&text));
    st_buf_done(&text);
}

static void expect_closed(void)
{
    int more;
    while ((more = receive()) > 0)
        ;
    if (coming.length > 0)
        fail("%zu bytes more came: %.60s", coming.length, st_buf_text(&coming));
    if (more < 0)
        fail("the connection is still open");
}

static void expect_all_sent(const char *text)
{
    (void)text;
    if (cut)
        fail("the connection broke while sending: a client that looks no further never sees the answer");
}

static void expect_writes(long wanted)
{
    const int got = atomic_load(&test_writes) - writes_before;
    if (got != wanted)
        fail("%d writes were let through, expected %ld", got, wanted);
}

static void expect_log(const char *wanted, bool there)
{
    struct st_buf text = { 0 };
    unescape(wanted, &text);
    pthread_mutex_lock(&log_lock);
    if ((strstr(st_buf_text(&log_lines), st_buf_text(&text)) != NULL) != there)
        fail("the log is \"%s\", expected %sin it \"%s\"", st_buf_text(&log_lines), there ? "" : "not ",
             st_buf_text(&text));
    pthread_mutex_unlock(&log_lock);
    st_buf_done(&text);
}

/* ---------------------------------------------------------------- many at once */
/* N connections that send TEXT, some letters, and then nothing. */
static void stall(size_t n, const char *text, size_t letters)
{
    char some[4096];
    struct rlimit files;
    struct st_buf b = { 0 };

    getrlimit(RLIMIT_NOFILE, &files);
    if (files.rlim_cur < 2 * (rlim_t)(nstalled + n) + 200) {
        printf("%s:%d: %lu open files are too few for this\n", file_name, line_number, (unsigned long)files.rlim_cur);
        exit(77);
    }
    memset(some, 'x', sizeof some);
    start_server();
    unescape(text, &b);
    for (size_t i = 0; i < n && nstalled < STALLED; i++) {
        stalled[nstalled] = connect_client();
        send_all(stalled[nstalled], st_buf_text(&b), b.length);
        for (size_t k = 0; k < letters; k += sizeof some)
            send_all(stalled[nstalled], some, letters - k < sizeof some ? letters - k : sizeof some);
        nstalled++;
    }
    st_buf_done(&b);
}

static size_t count_dropped(size_t from, size_t to)
{
    size_t dropped = 0;
    char c;
    for (size_t i = from; i < to; i++) {
        const ssize_t n = recv(stalled[i], &c, 1, MSG_DONTWAIT);
        dropped += n == 0 || (n < 0 && errno == ECONNRESET);
    }
    return dropped;
}

/* "dropped N": so many of the stalled were closed, and they are the oldest; the server has some seconds to come to it. */
static void expect_dropped(size_t wanted)
{
    const struct timespec moment = { .tv_nsec = 50000000 };

    for (int i = 0; i < PATIENCE_S * 20 && count_dropped(0, nstalled) < wanted; i++)
        nanosleep(&moment, NULL);
    nanosleep(&moment, NULL);
    const size_t all = count_dropped(0, nstalled), oldest = count_dropped(0, wanted < nstalled ? wanted : nstalled);
    if (all != wanted || oldest != wanted)
        fail("%zu stalled connections were closed, %zu of them the oldest; expected %zu", all, oldest, wanted);
}

/* ---------------------------------------------------------------- the file */
static void set_option(const char *text)
{
    static const char *const hash[] = { "sha256-AAAA", NULL };
    char *end;
    const size_t n = strcspn(text, " ");
    const unsigned long value = strtoul(text + n, &end, 10);

    if (strncmp(text, "head_ms", n) == 0)
        options.head_ms = (unsigned)value;
    else if (strncmp(text, "body_ms", n) == 0)
        options.body_ms = (unsigned)value;
    else if (strncmp(text, "answer_ms", n) == 0)
        options.answer_ms = (unsigned)value;
    else if (strncmp(text, "reserve", n) == 0)
        options.reserve = value;
    else if (strncmp(text, "connections", n) == 0)
        options.connection_limit = value;
    else if (strncmp(text, "hash", n) == 0)
        options.style_hashes = hash;
    else
        fail("there is no option %s", text);
}

static void wait_for(const char *text)
{
    char *unit;
    const unsigned long n = strtoul(text, &unit, 10);
    const unsigned long ms = strcmp(unit, "s") == 0 ? n * 1000 : n;
    const struct timespec t = { .tv_sec = (time_t)(ms / 1000), .tv_nsec = (long)(ms % 1000) * 1000000 };
    nanosleep(&t, NULL);
}

static void fill(const char *text) /* N C */
{
    char *rest;
    const unsigned long n = strtoul(text, &rest, 10);
    send_filling(n, rest[0] == ' ' && rest[1] ? rest[1] : 'a');
}

static void stall_line(const char *text) /* N TEXT */
{
    char *rest;
    const unsigned long n = strtoul(text, &rest, 10);
    stall(n, rest[0] == ' ' ? rest + 1 : rest, 0);
}

static void stall_long(const char *text) /* N LETTERS TEXT */
{
    char *rest;
    const unsigned long n = strtoul(text, &rest, 10), letters = strtoul(rest, &rest, 10);
    stall(n, rest[0] == ' ' ? rest + 1 : rest, letters);
}

/* One byte each 50 ms, until the server has had enough; at most N. */
static void drip(const char *text)
{
    char *rest, c;
    const unsigned long n = strtoul(text, &rest, 10);

    for (unsigned long i = 0; i < n; i++) {
        if (send(client, "a", 1, MSG_NOSIGNAL) != 1)
            return;
        wait_for("50ms");
        if (recv(client, &c, 1, MSG_DONTWAIT | MSG_PEEK) == 0)
            return;
    }
    fail("%lu bytes dripped in, and the connection is still open", n);
}

/* METHOD PATH: the request line, and Host as it should be. */
static void start_head(const char *text)
{
    send_text(text, " HTTP/1.1\r\n");
    send_text("Host: 127.0.0.1:{P}", "\r\n");
}

static void expect_quiet(const char *text)
{
    (void)text;
    pthread_mutex_lock(&log_lock);
    if (log_lines.length > 0)
        fail("the log is \"%s\", expected nothing", st_buf_text(&log_lines));
    pthread_mutex_unlock(&log_lock);
}

/* ---------------------------------------------------------------- starting and stopping */
/* Nobody listens on our port at another address of this machine. */
static void expect_refused(const char *address)
{
    struct sockaddr_in a = { .sin_family = AF_INET, .sin_port = htons(st_http_port(server)) };
    const int fd = socket(AF_INET, SOCK_STREAM, 0);

    if (inet_pton(AF_INET, address, &a.sin_addr) != 1)
        fail("%s is no address", address);
    else if (connect(fd, (const struct sockaddr *)&a, sizeof a) == 0)
        fail("somebody listens on %s", address);
    else if (errno != ECONNREFUSED)
        fail("%s: %s", address, strerror(errno));
    close(fd);
}

static void expect_port_taken(const char *text)
{
    struct st_http_options same = options;
    struct st_http *second = NULL;

    (void)text;
    same.port = st_http_port(server);
    const int e = st_http_create(&same, test_routes, test_assets, NULL, &second);
    if (e != EADDRINUSE || second)
        fail("a second server on the same port: %s", strerror(e));
    st_http_free(second);
}

static void expect_signals(const char *text)
{
    static const int number[] = { SIGINT, SIGTERM };
    struct pollfd p = { .fd = st_http_signal_fd(), .events = POLLIN };
    char c;

    (void)text;
    for (size_t i = 0; i < 2; i++) {
        if (poll(&p, 1, 0) != 0)
            fail("it can be read before there was a signal");
        raise(number[i]);
        if (poll(&p, 1, 1000) != 1 || read(p.fd, &c, 1) != 1)
            fail("signal %d was not told", number[i]);
    }
}

static void do_request(const char *t) { begin(t); }
static void do_line(const char *t) { send_text(t, "\r\n"); }
static void do_send(const char *t) { send_text(t, ""); }
static void do_head_to(const char *t) { send_head_to(strtoul(t, NULL, 10)); }
static void do_done(const char *t) { (void)t, shutdown(client, SHUT_WR); }
static void do_family(const char *t) { family = strcmp(t, "6") == 0 ? AF_INET6 : AF_INET; }
static void do_status(const char *t) { expect_status(t, false); }
static void do_status_head(const char *t) { expect_status(t, true); }
static void do_body(const char *t) { expect_body(t, true); }
static void do_holds(const char *t) { expect_body(t, false); }
static void do_closed(const char *t) { (void)t, expect_closed(); }
static void do_writes(const char *t) { expect_writes(strtol(t, NULL, 10)); }
static void do_log(const char *t) { expect_log(t, true); }
static void do_no_log(const char *t) { expect_log(t, false); }
static void do_dropped(const char *t) { expect_dropped(strtoul(t, NULL, 10)); }

static const struct { const char *word; void (*run)(const char *text); } DIRECTIVE[] = {
    { "option", set_option },    { "request", do_request },          { "ip", do_family },
    { "line", do_line },         { "send", do_send },                { "fill", fill },
    { "head_to", do_head_to },   { "done", do_done },                { "wait", wait_for },
    { "drip", drip },            { "stall", stall_line },            { "dropped", do_dropped },
    { "stall_long", stall_long },
    { "status", do_status },     { "status_of_head", do_status_head }, { "field", expect_field },
    { "no_field", expect_no_field }, { "body", do_body },            { "holds", do_holds },
    { "closed", do_closed },     { "writes", do_writes },            { "log", do_log },
    { "no_log", do_no_log },     { "quiet", expect_quiet },          { "start", start_head },
    { "refused", expect_refused }, { "port_taken", expect_port_taken }, { "signals", expect_signals },
    { "all_sent", expect_all_sent },
};

static void obey(const char *line)
{
    const size_t n = strcspn(line, " ");

    for (size_t i = 0; i < sizeof DIRECTIVE / sizeof *DIRECTIVE; i++)
        if (strlen(DIRECTIVE[i].word) == n && strncmp(DIRECTIVE[i].word, line, n) == 0) {
            DIRECTIVE[i].run(line[n] ? line + n + 1 : "");
            return;
        }
    printf("%s:%d: not understood: %s\n", file_name, line_number, line);
    exit(2);
}

static void allow_many_files(void)
{
    struct rlimit files;
    getrlimit(RLIMIT_NOFILE, &files);
    files.rlim_cur = files.rlim_max;
    setrlimit(RLIMIT_NOFILE, &files);
}

int main(int argc, char **argv)
{
    FILE *in = argc == 2 ? fopen(argv[1], "r") : NULL;
    char *line = NULL;
    size_t size = 0;
    ssize_t n;

    if (!in) {
        fprintf(stderr, "http_run FILE.case\n");
        return 2;
    }
    file_name = argv[1];
    signal(SIGPIPE, SIG_IGN);
    allow_many_files();
    while ((n = getline(&line, &size, in)) >= 0) {
        line_number++;
        line[strcspn(line, "\n")] = '\0';
        if (line[0] && line[0] != '#')
            obey(line);
    }
    free(line);
    fclose(in);
    if (client >= 0)
        close(client);
    while (nstalled > 0)
        close(stalled[--nstalled]);
    stop_server();
    st_buf_done(&coming);
    st_buf_done(&answer.head);
    st_buf_done(&answer.body);
    st_buf_done(&log_lines);
    printf("%d requests, %d failures\n", requests, failures);
    return failures > 0 || requests == 0;
}
