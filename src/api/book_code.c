#include "api/book_code.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "text/scan.h"

static const char *refuse(struct st_problem *p, const char *option, const char *said, const char *why, const char *try_)
{
    char shown[40];
    size_t n = 0;
    for (; n < sizeof shown - 1 && said[n]; n++)
        shown[n] = iscntrl((unsigned char)said[n]) ? ' ' : said[n];
    shown[n] = '\0';
    *p = (struct st_problem){ .at = { 0, 0 } };
    snprintf(p->what, sizeof p->what, "%s \"%s\"", option, shown);
    snprintf(p->why, sizeof p->why, "%s", why);
    snprintf(p->try_, sizeof p->try_, "%s", try_);
    return NULL;
}

static const char *capitals(struct st_arena *arena, const char *said)
{
    char *to = st_arena_strdup(arena, said);
    for (char *s = to; *s; s++)
        if (*s >= 'a' && *s <= 'z')
            *s = (char)(*s - 'a' + 'A');
    return to;
}

const char *st_book_code(struct st_arena *arena, const char *said, struct st_problem *problem)
{
    static const char TRY[] = "write letters and figures as one word, for example PLUM-2 or WALNUT";
    if (!*said)
        return refuse(problem, "--code", said, "it is empty", TRY);
    if (strlen(said) > 24)
        return refuse(problem, "--code", said, "it is longer than 24 letters", TRY);
    if (*said == '-')
        return refuse(problem, "--code", said, "a word that begins with - is an option", TRY);
    struct st_scan s = { said, said + strlen(said) };
    for (size_t n; s.at < s.end; s.at += n) {
        const unsigned c = st_scan_char(&s, &n);
        const bool typed = c < 0x80 ? c > ' ' && c < 0x7f && !strchr("\"'`", (int)c) : c != 0xfffd && st_is_letter(c);
        if (!typed)
            return refuse(problem, "--code", said,
                          "a code is typed as one word of letters and figures, without blanks, line breaks or quotes",
                          TRY);
    }
    return capitals(arena, said);
}

const char *st_book_currency(struct st_arena *arena, const char *said, struct st_problem *problem)
{
    const size_t n = strlen(said);
    bool letters = n == 3;
    for (size_t i = 0; i < n && letters; i++)
        letters = (said[i] >= 'a' && said[i] <= 'z') || (said[i] >= 'A' && said[i] <= 'Z');
    if (letters || n == 0) /* "": none */
        return capitals(arena, said);
    return refuse(problem, "--currency", said, "money is written with the three letters that banks use",
                  "write for example EUR, GBP, USD or CHF");
}
