#include "cli/book.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>

#include "store/backup.h"
#include "text/calendar_day.h"
#include "text/day_said.h"
#include "util/buf.h"

static const char USUAL[] = "stillroom/book.stillroom";

/* ---- where ---- */

/* Make the folders that path lies in; whether they are there now. */
static bool make_folders(const char *path)
{
    struct st_buf b = { 0 };
    bool good = true;

    st_buf_add(&b, path);
    for (char *at = b.text + 1; good && (at = strchr(at, '/')) != NULL; at++) {
        *at = '\0';
        good = mkdir(b.text, 0700) == 0 || errno == EEXIST;
        *at = '/';
    }
    st_buf_done(&b);
    return good;
}

/* The usual file; false when the system names no folder for it. */
static bool usual_path(struct st_buf *out)
{
    const char *data = getenv("XDG_DATA_HOME"), *home = getenv("HOME");

    if (data && data[0] == '/') /* the XDG rule: one that is not absolute is to be ignored */
        st_buf_printf(out, "%s/%s", data, USUAL);
    else if (home && home[0] == '/')
        st_buf_printf(out, "%s/.local/share/%s", home, USUAL);
    return out->length > 0;
}

/* ---- open ---- */

static int exit_of(enum book_status s)
{
    switch (s) {
    case BOOK_OK: return ST_EXIT_DONE;
    case BOOK_NONE:
    case BOOK_E_FOREIGN:
    case BOOK_E_NEWER:
    case BOOK_E_REFUSED:
    case BOOK_E_CONFLICT: return ST_EXIT_INPUT;
    default: return ST_EXIT_SYSTEM;
    }
}

int cli_book_fail(const struct book *b, enum book_status s)
{
    const struct book_said *said = book_said(b);
    cli_error(said->what, said->why, said->try_);
    return exit_of(s);
}

int cli_book_path(const struct cli *c, enum book_open how, struct st_buf *path)
{
    if (c->book)
        /* a name that SQLite takes for something else than a file is still a file's */
        st_buf_printf(path, "%s%s", c->book[0] == ':' || strncmp(c->book, "file:", 5) == 0 ? "./" : "", c->book);
    else if (!usual_path(path)) {
        cli_error("the book", "HOME is not set, so its usual folder is not known", "name the file with --book");
        return ST_EXIT_INPUT;
    } else if (how == BOOK_WRITE && !make_folders(st_buf_text(path))) {
        cli_error(st_buf_text(path), strerror(errno), "name another file with --book");
        return ST_EXIT_SYSTEM;
    }
    return ST_EXIT_DONE;
}

static int open_book(const struct cli *c, enum book_open how, bool look, struct book **out)
{
    struct st_buf path = { 0 };
    const int named = cli_book_path(c, how, &path);

    *out = NULL;
    if (named != ST_EXIT_DONE) {
        st_buf_done(&path);
        return named;
    }
    const enum book_status s = book_open(st_buf_text(&path), how, out);
    st_buf_done(&path);
    if (s == BOOK_OK)
        return ST_EXIT_DONE;
    const int code = look && s == BOOK_NONE ? ST_EXIT_DONE : cli_book_fail(*out, s);
    book_close(*out);
    *out = NULL;
    return code;
}

/* A backup when one is due, by the clock on the wall whatever --today says.  Where it cannot be made the work goes on. */
static void back_up(struct book *b)
{
    struct st_arena arena = { 0 };
    const time_t t = time(NULL);
    const char *path;
    char now[20];
    struct tm tm;

    if (localtime_r(&t, &tm) && strftime(now, sizeof now, "%Y-%m-%dT%H:%M", &tm) > 0 &&
        book_backup_when_due(b, now, &arena, &path) != BOOK_OK)
        cli_error("the backup that is due was not made", book_said(b)->why, book_said(b)->try_);
    st_arena_done(&arena);
}

int cli_book_open(const struct cli *c, enum book_open how, struct book **out)
{
    const int code = open_book(c, how, false, out);
    if (*out && how == BOOK_WRITE)
        back_up(*out);
    return code;
}

int cli_book_look(const struct cli *c, struct book **out)
{
    const int code = open_book(c, BOOK_READ, c->book == NULL, out);
    if (*out)
        (void)book_hold(*out); /* where it cannot be held, the reading tells why */
    return code;
}

int cli_book_if_there(const struct cli *c, struct book **out)
{
    return open_book(c, BOOK_READ, true, out);
}

/* ---- when ---- */

bool cli_take_now(const struct cli *c, struct cli_now *now)
{
    const char *said = c->today;
    const time_t t = time(NULL);
    struct tm tm;

    if (!said && localtime_r(&t, &tm))
        strftime(now->moment, sizeof now->moment, "%Y-%m-%dT%H:%M", &tm);
    else if (said && strlen(said) == 10 && st_day_number(said, &now->number))
        snprintf(now->moment, sizeof now->moment, "%sT12:00", said);
    else {
        cli_error("--today", "it is no day", "write it as 2026-10-04");
        return false;
    }
    snprintf(now->day, sizeof now->day, "%.10s", now->moment);
    return st_day_number(now->day, &now->number);
}

/* How many days " days ago" or " weeks ago" counts by, with `tail` for " ago"; 0: neither. */
static long days_of(const char *unit, const char *tail)
{
    static const char *const UNIT[] = { " day", " days", " week", " weeks" };
    for (int i = 0; i < 4; i++) {
        const size_t n = strlen(UNIT[i]);
        if (strncmp(unit, UNIT[i], n) == 0 && strcmp(unit + n, tail) == 0)
            return i < 2 ? 1 : 7;
    }
    return 0;
}

/* "today", "yesterday", "3 days ago", "2 weeks ago", "in 3 days", "2026-10-04". */
static bool day_in_words(const char *said, const struct cli_now *now, long *day)
{
    char *end;
    const bool in = strncmp(said, "in ", 3) == 0;
    const long n = strtol(in ? said + 3 : said, &end, 10);
    const long each = end == (in ? said + 3 : said) ? 0 : days_of(end, in ? "" : " ago");

    if (strcmp(said, "today") == 0 || strcmp(said, "yesterday") == 0)
        *day = now->number - (said[0] == 'y');
    else if (each > 0 && n >= 0 && n < 100000 / each)
        *day = now->number + (in ? n : -n) * each;
    else
        return strlen(said) == 10 && st_day_number(said, day);
    return true;
}

static bool has_year(const char *said)
{
    for (; *said; said++)
        if (strspn(said, "0123456789") >= 4)
            return true;
    return false;
}

/* "04.10.2026", "4 October": as one writes it beside what was done.  A day to come needs its year. */
static enum st_day_said day_beside(const char *said, const struct cli_now *now, bool ahead, long *day)
{
    bool since = false;
    if (st_day_words_at(said, true, &since) != strlen(said) || since || (ahead && !has_year(said)))
        return ST_DAY_NONE;
    return st_day_said(said, now->number, now->number, false, day);
}

/* "12.12." of something that is to come: the next such day.  A day that is counted from today is no such day. */
static bool next_of(const char *said, const struct cli_now *now, long *day)
{
    enum { YEAR = 365 };
    char last[11], next[11];
    bool since = false;
    long was, is;

    if (has_year(said) || st_day_words_at(said, true, &since) != strlen(said) || since ||
        st_day_said(said, now->number, now->number, false, &was) != ST_DAY_SAID ||
        st_day_said(said, now->number + YEAR - 1, now->number, false, &is) != ST_DAY_SAID || is < now->number)
        return false;
    st_day_write(was, last);
    st_day_write(is, next);
    if (strcmp(last + 5, next + 5) != 0)
        return false;
    *day = is;
    return true;
}

static bool no_day(const char *option, enum st_day_said how, long middle)
{
    char try_[160], day[11];
    if (how == ST_DAY_ABOUT) {
        st_day_write(middle, day);
        snprintf(try_, sizeof try_, "write it as 2026-10-04; if nobody knows any more, %s is the middle of it", day);
        cli_error(option, "which day of it", try_);
    } else
        cli_error(option, "it is no day", "write it as 2026-10-04, or yesterday, or \"3 days ago\"");
    return false;
}

/* next: without its year it is the next such day, else the last one. */
static bool take_day(struct cli *c, const char *option, const struct cli_now *now, bool ahead, bool next, char day[11])
{
    bool bad = false;
    const char *said = cli_option(c, option, &bad);
    long number = now->number;

    if (bad)
        return false;
    if (said && !day_in_words(said, now, &number) && !(next && next_of(said, now, &number))) {
        const enum st_day_said how = day_beside(said, now, ahead, &number);
        if (how != ST_DAY_SAID && how != ST_DAY_AHEAD)
            return no_day(option, how, number);
    }
    if (number > now->number && !ahead) {
        cli_error(option, "that day has not come yet", "write the day it was done");
        return false;
    }
    st_day_write(number, day);
    return true;
}

bool cli_take_day(struct cli *c, const char *option, const struct cli_now *now, bool ahead, char day[11])
{
    return take_day(c, option, now, ahead, false, day);
}

bool cli_take_day_to_come(struct cli *c, const char *option, const struct cli_now *now, char day[11])
{
    return take_day(c, option, now, true, true, day);
}
