#include "yaml_report.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

size_t st_utf8_length(const unsigned char *t, size_t size)
{
    const unsigned char c = size ? t[0] : 0xff;
    const size_t n = c < 0x80 ? 1 : c >= 0xc2 && c < 0xe0 ? 2 : (c & 0xf0) == 0xe0 ? 3 : c >= 0xf0 && c < 0xf5 ? 4 : 0;

    if (n == 0 || n > size)
        return 0;
    for (size_t i = 1; i < n; i++)
        if ((t[i] & 0xc0) != 0x80)
            return 0;
    if ((c == 0xe0 && t[1] < 0xa0) || (c == 0xed && t[1] > 0x9f) || (c == 0xf0 && t[1] < 0x90) ||
        (c == 0xf4 && t[1] > 0x8f))
        return 0; /* written longer than needed, half of a pair, or past the last character */
    return n;
}

/* Longest beginning of text, at most `most` bytes, that ends between two characters. */
static size_t cut(const char *text, size_t size, size_t most)
{
    if (size <= most)
        return size;
    while (most > 0 && ((unsigned char)text[most] & 0xc0) == 0x80)
        most--;
    return most;
}

static void put(char *into, size_t room, const char *text)
{
    const size_t n = cut(text, strlen(text), room - 1);
    memcpy(into, text, n);
    into[n] = '\0';
}

const char *st_report_clip(struct st_report *r, const char *text, size_t size)
{
    enum { MOST = 40 };
    const size_t n = cut(text, size, MOST);
    char *copy = st_arena_alloc(r->arena, n + 4);

    memcpy(copy, text, n);
    for (size_t i = 0; i < n; i++)
        if ((unsigned char)copy[i] < 0x20 || copy[i] == 0x7f)
            copy[i] = ' ';
    if (n < size)
        memcpy(copy + n, "...", 4);
    return copy;
}

const char *st_report_guide(const struct st_report *r)
{
    return r->guide ? r->guide : "docs/recipe-file.md";
}

void st_report_add(struct st_report *r, const struct st_problem *p)
{
    struct st_recipe_file *f = r->out;
    if (f->n_problem < ST_MAX_PROBLEMS) {
        struct st_problem *own = &f->problem[f->n_problem++];
        *own = *p;
        if (!*own->what) /* other readers may leave something out */
            put(own->what, sizeof own->what, "this cannot be read");
        if (!*own->why)
            put(own->why, sizeof own->why, "a line is an amount and a name, such as 500 g damsons");
        if (!*own->try_)
            snprintf(own->try_, sizeof own->try_, "%s shows how it is written", st_report_guide(r));
    }
    r->full = f->n_problem == ST_MAX_PROBLEMS;
}

static void fill(struct st_problem *p, struct st_place at, const char *what, const char *why, const char *try_)
{
    memset(p, 0, sizeof *p);
    p->at = at;
    put(p->what, sizeof p->what, what);
    put(p->why, sizeof p->why, why);
    put(p->try_, sizeof p->try_, try_);
}

void st_report(struct st_report *r, struct st_place at, const char *why, const char *try_, const char *what, ...)
{
    char text[512];
    struct st_problem p;
    va_list args;

    va_start(args, what);
    (void)vsnprintf(text, sizeof text, what, args);
    va_end(args);
    fill(&p, at, text, why, try_);
    st_report_add(r, &p);
}

void st_report_note(struct st_report *r, struct st_place at, const char *why, const char *try_, const char *what, ...)
{
    char text[512];
    struct st_recipe_file *f = r->out;
    va_list args;

    va_start(args, what);
    (void)vsnprintf(text, sizeof text, what, args);
    va_end(args);
    if (f->n_note < ST_MAX_PROBLEMS)
        fill(&f->note[f->n_note++], at, text, why, try_);
}

static bool comes_before(struct st_place a, struct st_place b)
{
    return a.line != b.line ? a.line < b.line : a.column < b.column;
}

int st_report_finish(struct st_report *r)
{
    struct st_recipe_file *f = r->out;
    int result = 0;

    for (int i = 1; i < f->n_problem; i++) { /* 20 at most: put each in its place */
        const struct st_problem p = f->problem[i];
        int k = i;
        for (; k > 0 && comes_before(p.at, f->problem[k - 1].at); k--)
            f->problem[k] = f->problem[k - 1];
        f->problem[k] = p;
    }
    for (int i = 0; i < f->n_problem; i++)
        result = f->problem[i].is_question && result >= 0 ? 1 : -1;
    return result;
}
