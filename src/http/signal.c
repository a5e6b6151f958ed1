#include "http.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <unistd.h>

static int write_end = -1;

static void tell(int signal_number)
{
    const int e = errno;
    const ssize_t n = write(write_end, "", 1); /* a full pipe has told already */

    (void)signal_number, (void)n;
    errno = e;
}

int st_http_signal_fd(void)
{
    struct sigaction a = { .sa_handler = tell, .sa_flags = SA_RESTART };
    int ends[2];

    if (pipe(ends) != 0)
        return -1;
    for (int i = 0; i < 2; i++)
        if (fcntl(ends[i], F_SETFD, FD_CLOEXEC) != 0 || fcntl(ends[i], F_SETFL, O_NONBLOCK) != 0)
            return -1;
    write_end = ends[1];
    sigemptyset(&a.sa_mask);
    if (sigaction(SIGINT, &a, NULL) != 0 || sigaction(SIGTERM, &a, NULL) != 0)
        return -1;
    return ends[0];
}
