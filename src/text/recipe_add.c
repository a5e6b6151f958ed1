#include "recipe_add.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

struct file {
    const char *text;
    size_t size;
};

static int refuse(struct st_problem *p, struct st_place at, const char *what, const char *why, const char *try_)
{
    *p = (struct st_problem){ .at = at };
    (void)snprintf(p->what, sizeof p->what, "%s", what);
    (void)snprintf(p->why, sizeof p->why, "%s", why);
    (void)snprintf(p->try_, sizeof p->try_, "%s", try_);
    return -1;
}

/* ---- where things stand ---- */

static size_t row_start(const struct file *f, size_t i)
{
    while (i > 0 && f->text[i - 1] != '\n')
        i--;
    return i;
}

static size_t row_end(const struct file *f, size_t i)
{
    const char *end = i < f->size ? memchr(f->text + i, '\n', f->size - i) : NULL;
    return end ? (size_t)(end - f->text) : f->size;
}

/* Byte of a place (columns count characters); size where there is none. */
static size_t offset_of(const struct file *f, struct st_place at)
{
    size_t i = 0;
    for (int line = 1; line < at.line; line++) {
        i = row_end(f, i);
        if (i >= f->size)
            return f->size;
        i++;
    }
    for (int column = 1; column < at.column && i < f->size; column++) {
        i++;
        while (i < f->size && ((unsigned char)f->text[i] & 0xc0) == 0x80)
            i++;
    }
    return i;
}

/* Where the words of a line begin, and how many bytes with their quotes; size where they do not stand there.  The place of
 * a line is that of its first letter or of the quote before it. */
static size_t find_words(const struct file *f, const struct st_line *line, size_t *n)
{
    size_t i = offset_of(f, line->at);
    const size_t words = strlen(line->text);
    if (i < f->size && (f->text[i] == '"' || f->text[i] == '\''))
        i++;
    if (line->at.line < 1 || i + words > f->size || memcmp(f->text + i, line->text, words) != 0)
        return f->size;
    const char quote = i > 0 ? f->text[i - 1] : ' ';
    const bool quoted = (quote == '"' || quote == '\'') && i + words < f->size && f->text[i + words] == quote;
    *n = words + 2 * (size_t)quoted;
    return i - quoted;
}

/* Words in double quotes, as YAML reads them. */
static void put_quoted(struct st_buf *out, const char *words)
{
    st_buf_char(out, '"');
    for (const char *p = words; *p; p++) {
        if (*p == '"' || *p == '\\')
            st_buf_char(out, '\\');
        st_buf_char(out, (unsigned char)*p < 0x20 ? ' ' : *p);
    }
    st_buf_char(out, '"');
}

/* ---- a line anew ---- */

int st_recipe_reword(const char *text, size_t size, const struct st_line *line, const char *words, struct st_buf *out,
                     struct st_problem *problem)
{
    const struct file f = { text, size };
    size_t n = 0;
    const size_t at = find_words(&f, line, &n);
    if (at == size)
        return refuse(problem, line->at, "cannot change this line in place",
                      "it is folded over several rows, or written with escapes",
                      "write that line on one row, as plain text");
    st_buf_add_n(out, text, at);
    put_quoted(out, words);
    st_buf_add_n(out, text + at + n, size - at - n);
    return 0;
}

/* ---- a line more ---- */

/* The last line that stands in the file for itself; NULL when the step only goes on with the one before. */
static const struct st_line *last_listed(const struct file *f, const struct st_step *s)
{
    size_t n;
    for (int i = s->n_line - 1; i >= 0; i--)
        if (find_words(f, &s->line[i], &n) < f->size)
            return &s->line[i];
    return NULL;
}

/* Where the next entry of a list in block form begins: behind all rows that stand deeper than the dash of this one. */
static size_t behind_entry(const struct file *f, size_t dash_row, size_t depth)
{
    size_t end = row_end(f, dash_row);
    for (size_t row = end; row < f->size; row = row_end(f, row)) {
        size_t in = 0;
        row++;
        while (row + in < f->size && f->text[row + in] == ' ')
            in++;
        const bool blank = row + in >= f->size || f->text[row + in] == '\n' || f->text[row + in] == '\r';
        if (!blank && in <= depth)
            break;
        if (!blank && f->text[row + in] != '#')
            end = row_end(f, row);
    }
    return end;
}

/* Whether byte i stands in a list of brackets: one was opened behind the key `add`. */
static bool in_brackets(const struct file *f, size_t i)
{
    size_t key = i;
    while (key > 0 && strncmp(f->text + key, "add:", 4) != 0)
        key--;
    return memchr(f->text + key, '[', i - key) != NULL;
}

/* The bracket that closes the list which byte i is in; size when there is none. */
static size_t closing(const struct file *f, size_t i)
{
    char quote = 0;
    for (int depth = 0; i < f->size; i++) {
        const char c = f->text[i];
        if (quote)
            quote = c == quote ? 0 : quote;
        else if (c == '"' || (c == '\'' && f->text[i - 1] == ' '))
            quote = c;
        else if (c == '[' || c == '{')
            depth++;
        else if (c == '}' || (c == ']' && depth > 0))
            depth -= depth > 0;
        else if (c == ']')
            return i;
    }
    return f->size;
}

static void insert(const struct file *f, size_t at, const char *before, const char *words, const char *after,
                   struct st_buf *out)
{
    st_buf_add_n(out, f->text, at);
    st_buf_add(out, before);
    put_quoted(out, words);
    st_buf_add(out, after);
    st_buf_add_n(out, f->text + at, f->size - at);
}

/* How many blanks a row of the step's keys has: those of the word behind its dash. */
static size_t key_depth(const struct file *f, size_t at)
{
    size_t i = row_start(f, at), n = 0;
    while (i + n < f->size && (f->text[i + n] == ' ' || f->text[i + n] == '-'))
        n++;
    return n;
}

static int begin_list(const struct file *f, const struct st_step *s, const char *words, struct st_buf *out,
                      struct st_problem *problem)
{
    const size_t at = offset_of(f, s->at), end = row_end(f, at);
    char row[400];
    if (s->n_line != 1 || s->at.line < 1 || memchr(f->text + row_start(f, at), '{', end - row_start(f, at)))
        return refuse(problem, s->at, "cannot add to this step in place", "it lists nothing, and is written in braces",
                      "add it to the step before");
    (void)snprintf(row, sizeof row, "\n%*sadd: [\"%.150s\", ", (int)key_depth(f, at), "", s->line[0].text);
    insert(f, end, row, words, "]", out);
    return 0;
}

int st_recipe_add_line(const char *text, size_t size, const struct st_recipe *r, int step, const char *words,
                       struct st_buf *out, struct st_problem *problem)
{
    const struct file f = { text, size };
    const struct st_step *s = &r->step[step];
    const struct st_line *last = last_listed(&f, s);
    size_t n = 0;
    char before[200];

    if (!last)
        return begin_list(&f, s, words, out, problem);
    const size_t at = find_words(&f, last, &n), row = row_start(&f, at);
    size_t depth = 0;
    while (row + depth < size && text[row + depth] == ' ')
        depth++;
    if (text[row + depth] == '-' && strncmp(text + row + depth, "- steep", 7) != 0 &&
        !memchr(text + row, '[', at - row)) {
        const size_t end = behind_entry(&f, row, depth);
        (void)snprintf(before, sizeof before, "\n%*s- ", (int)depth, "");
        insert(&f, end, before, words, "", out);
        return 0;
    }
    const size_t close = in_brackets(&f, at) ? closing(&f, at + n) : size;
    if (close < size) {
        insert(&f, close, ", ", words, "", out);
        return 0;
    }
    /* `add: 1 g bentonite`: one thing, not in a list */
    st_buf_add_n(out, text, at);
    st_buf_char(out, '[');
    st_buf_add_n(out, text + at, n);
    st_buf_add(out, ", ");
    put_quoted(out, words);
    st_buf_char(out, ']');
    st_buf_add_n(out, text + at + n, size - at - n);
    return 0;
}

/* ---- a step more ---- */

static void put_lines(const char *const line[], int n, struct st_buf *out)
{
    for (int i = 0; i < n; i++) {
        st_buf_add(out, i ? ", " : "[");
        put_quoted(out, line[i]);
    }
    st_buf_char(out, ']');
}

/* In a list of brackets, where JSON is YAML too. */
static void put_in_braces(const struct st_new_step *s, struct st_buf *out)
{
    st_buf_printf(out, "{\"%s\": ", st_do_name(s->kind));
    put_quoted(out, s->name);
    st_buf_add(out, ", \"add\": ");
    put_lines(s->line, s->n_line, out);
    st_buf_char(out, '}');
}

static void put_in_rows(const struct st_new_step *s, size_t depth, struct st_buf *out)
{
    st_buf_printf(out, "\n%*s- %s: ", (int)depth, "", st_do_name(s->kind));
    put_quoted(out, s->name);
    st_buf_printf(out, "\n%*sadd: ", (int)depth + 2, "");
    put_lines(s->line, s->n_line, out);
}

/* Behind what stands before the bracket that closes the list. */
static size_t behind_last(const struct file *f, size_t close)
{
    while (close > 0 && strchr(" \t\r\n", f->text[close - 1]))
        close--;
    return close;
}

int st_recipe_add_steps(const char *text, size_t size, const struct st_recipe *r, const struct st_new_step step[],
                        int n, struct st_buf *out, struct st_problem *problem)
{
    const struct file f = { text, size };
    const struct st_place last = r->step[r->n_step - 1].at;
    const size_t at = offset_of(&f, last), row = row_start(&f, at);
    size_t depth = 0;
    while (row + depth < size && text[row + depth] == ' ')
        depth++;
    const bool rows = row + depth < size && text[row + depth] == '-';
    const size_t close = rows || at >= size ? size : closing(&f, at);
    if (!rows && close >= size)
        return refuse(problem, last, "no step can be put behind this one in place", "its list is not found to end",
                      "begin each step on a row of its own, with a dash");
    const size_t end = rows ? behind_entry(&f, row, depth) : behind_last(&f, close);
    st_buf_add_n(out, text, end);
    for (int i = 0; i < n; i++) {
        if (rows) {
            put_in_rows(&step[i], depth, out);
            continue;
        }
        st_buf_add(out, i == 0 && end > 0 && text[end - 1] == ',' ? " " : ", ");
        put_in_braces(&step[i], out);
    }
    st_buf_add_n(out, text + end, size - end);
    return 0;
}
