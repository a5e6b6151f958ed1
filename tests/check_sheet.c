#include "check_sheet.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { LONGEST = 1000, MAX_WORDS = 24 };

/* What has been read of the sheet so far. */
struct state {
    struct check_reader *r;
    int line;
    const struct check_function *function;
    int n_args;
    bool has_columns, has_mark;
    bool head_used;        /* by a function: the next `# what` begins another head */
    bool checks_something; /* a row or an expectation that can fail */
    char *word[MAX_WORDS + 1];
    int n;
};

static const struct {
    const char *name;
    enum st_status status;
} STATUSES[] = {
    { "OK", ST_OK },
    { "EXTRAPOLATED", ST_EXTRAPOLATED },
    { "ESTIMATED", ST_ESTIMATED },
    { "E_DOMAIN", ST_E_DOMAIN },
    { "E_NOCONV", ST_E_NOCONV },
    { "E_REFUSED", ST_E_REFUSED },
};
enum { N_STATUSES = sizeof STATUSES / sizeof STATUSES[0] };

const char *check_status_name(enum st_status s)
{
    for (int i = 0; i < N_STATUSES; i++)
        if (STATUSES[i].status == s)
            return STATUSES[i].name;
    return "?";
}

__attribute__((format(printf, 2, 3))) static bool wrong(struct state *st, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    (void)vsnprintf(st->r->why, sizeof st->r->why, format, list);
    va_end(list);
    st->r->bad_line = st->line;
    return false;
}

static bool is_blank(char c)
{
    return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

/* Cut the line into words; text after a '#' that follows a blank is a remark. */
static bool cut(struct state *st, char *line)
{
    st->n = 0;
    for (char *c = line; *c;) {
        while (is_blank(*c))
            *c++ = '\0';
        if (*c == '\0' || *c == '#')
            break;
        if (st->n == MAX_WORDS)
            return wrong(st, "more than %d fields in a line", MAX_WORDS);
        st->word[st->n++] = c;
        while (*c && !is_blank(*c))
            c++;
    }
    return true;
}

/* "# what TEXT": keep the text if the line begins with this key.  Continued lines are added. */
static bool keep(const char *line, const char *key, char *to, size_t room)
{
    const size_t n = strlen(key);
    size_t used = strlen(to);
    if (strncmp(line, key, n) != 0 || !is_blank(line[n]))
        return false;
    line += n;
    while (is_blank(*line))
        line++;
    size_t end = strlen(line);
    while (end > 0 && is_blank(line[end - 1]))
        end--;
    if (used > 0 && used + 1 < room)
        to[used++] = ' ';
    for (size_t i = 0; i < end && used + 1 < room; i++)
        to[used++] = line[i];
    to[used] = '\0';
    return true;
}

static bool head_line(struct state *st, const char *line)
{
    struct check_head *h = &st->r->head;
    char kind[40] = "";
    while (is_blank(*line))
        line++;
    if (st->head_used && strncmp(line, "what", 4) == 0 && is_blank(line[4])) {
        h->what[0] = h->source[0] = h->tol[0] = '\0';
        st->head_used = false;
    }
    if (keep(line, "what", h->what, sizeof h->what) || keep(line, "source", h->source, sizeof h->source) ||
        keep(line, "tol", h->tol, sizeof h->tol) || !keep(line, "kind", kind, sizeof kind))
        return true;
    static const char *const names[CHECK_NKIND] = { "published", "derived", "reference", "contract" };
    for (int k = 0; k < CHECK_NKIND; k++) {
        if (strcmp(kind, names[k]) == 0) {
            h->kind = (enum check_kind)k;
            return true;
        }
    }
    return wrong(st, "unknown kind '%s': a sheet is published, derived, reference or contract", kind);
}

static bool function_line(struct state *st)
{
    if (st->n != 2)
        return wrong(st, "write: function NAME");
    const struct check_function *f = check_function_by_name(st->word[1]);
    if (!f) {
        const struct check_function *near = check_function_near(st->word[1]);
        return wrong(st, "no function '%s'%s%s%s; `check --list` names them all", st->word[1],
                     near ? "; did you mean '" : "", near ? near->name : "", near ? "'?" : "");
    }
    const struct check_head *h = &st->r->head;
    if (!h->what[0] || !h->source[0] || !h->tol[0])
        return wrong(st, "before `function`, tell `# what`, `# source` and `# tol`");
    st->function = f;
    st->n_args = check_n_args(f);
    st->has_columns = false;
    st->head_used = true;
    return st->r->section(st->r->arg, f, h) || wrong(st, "too many sections in one run; give fewer sheets");
}

static bool columns_line(struct state *st)
{
    if (!st->function)
        return wrong(st, "columns before any function: write `function NAME` first");
    const struct check_function *f = st->function;
    const int fixed = st->n_args + 2;
    for (int i = 0; i < fixed; i++) {
        const char *name = i < st->n_args ? f->arg[i].name : i == st->n_args ? f->result : "tol";
        if (i + 1 >= st->n)
            return wrong(st, "columns of %s end too early: '%s' comes next", f->name, name);
        if (strcmp(st->word[i + 1], name) != 0)
            return wrong(st, "column %d of %s is '%s', here it is called '%s'", i + 1, f->name, name, st->word[i + 1]);
    }
    st->has_mark = st->n > fixed + 1;
    if (st->has_mark && (st->n > fixed + 2 || strcmp(st->word[fixed + 1], "mark") != 0))
        return wrong(st, "after tol there may be one more column, 'mark', not '%s'", st->word[fixed + 1]);
    st->has_columns = true;
    return true;
}

/* The arguments from word[first] on. */
static bool read_args(struct state *st, int first, struct check_row *row)
{
    row->line = st->line;
    row->function = st->function;
    row->n = st->n_args;
    for (int i = 0; i < row->n; i++) {
        const struct check_arg *a = &st->function->arg[i];
        row->in[i].word = st->word[first + i];
        row->in[i].x = (double)NAN;
        if (strcmp(a->unit, "word") != 0 && !check_number(row->in[i].word, &row->in[i].x))
            return wrong(st, "%s must be a number (%s), not '%s'", a->name, a->unit, row->in[i].word);
    }
    return true;
}

static bool expect_line(struct state *st)
{
    struct check_row row = { .is_expect = true };
    if (!st->function)
        return wrong(st, "expect before any function: write `function NAME` first");
    if (st->n != st->n_args + 2)
        return wrong(st, "write: expect STATUS and the %d arguments of %s", st->n_args, st->function->name);
    int i = 0;
    while (i < N_STATUSES && strcmp(STATUSES[i].name, st->word[1]) != 0)
        i++;
    if (i == N_STATUSES)
        return wrong(st, "unknown status '%s': OK, EXTRAPOLATED, ESTIMATED, E_DOMAIN, E_NOCONV or E_REFUSED",
                     st->word[1]);
    row.wanted = STATUSES[i].status;
    if (!read_args(st, 2, &row))
        return false;
    st->checks_something = true;
    st->r->row(st->r->arg, &row);
    return true;
}

static bool read_mark(struct state *st, const char *word, enum check_mark *mark)
{
    static const char *const names[] = { "-", "fit", "memory", "misprint", "outside" };
    for (int i = 0; i < 5; i++) {
        if (strcmp(word, names[i]) == 0) {
            *mark = (enum check_mark)i;
            return true;
        }
    }
    return wrong(st, "unknown mark '%s': -, fit, memory, misprint or outside", word);
}

static bool value_line(struct state *st)
{
    struct check_row row = { .is_expect = false };
    if (!st->function)
        return wrong(st, "'%s' before any function: write `function NAME` first", st->word[0]);
    if (!st->has_columns)
        return wrong(st, "no columns yet: name the arguments of %s, '%s' and tol", st->function->name,
                     st->function->result);
    if (st->n < st->n_args + 2)
        return wrong(st, "%d fields, but the columns ask for at least %d", st->n, st->n_args + 2);
    if (!read_args(st, 0, &row))
        return false;
    if (!check_read_expected(st->word[row.n], &row.expected))
        return wrong(st, "'%s' is no expected value: a number, a..b, <=x, >=x or none", st->word[row.n]);
    const int at = row.n + 1;
    const int used = check_read_tolerance((const char *const *)&st->word[at], st->n - at, &row.tolerance);
    if (used == 0)
        return wrong(st, "'%s' is no tolerance: a number, `rel 1e-9`, `factor 2` or -", st->word[at]);
    if (st->n != at + used + (st->has_mark ? 1 : 0))
        return wrong(st, "%d fields too %s", st->n > at + used + st->has_mark ? st->n - at - used - st->has_mark : 1,
                     st->n > at + used + st->has_mark ? "many" : "few");
    if (st->has_mark && !read_mark(st, st->word[st->n - 1], &row.mark))
        return false;
    if (row.mark >= CHECK_MISPRINT && row.tolerance.how == CHECK_SHOWN)
        return wrong(st, "a row that must not be met needs a tolerance");
    if (row.mark != CHECK_MEMORY && row.tolerance.how != CHECK_SHOWN)
        st->checks_something = true;
    st->r->row(st->r->arg, &row);
    return true;
}

static bool read_line(struct state *st, char *line)
{
    if (line[0] == '#')
        return head_line(st, line + 1);
    if (!cut(st, line))
        return false;
    if (st->n == 0)
        return true;
    if (strcmp(st->word[0], "function") == 0)
        return function_line(st);
    if (strcmp(st->word[0], "columns") == 0)
        return columns_line(st);
    if (strcmp(st->word[0], "expect") == 0)
        return expect_line(st);
    return value_line(st);
}

static bool read_lines(struct state *st, FILE *file)
{
    char line[LONGEST + 2];
    while (fgets(line, sizeof line, file)) {
        st->line++;
        const size_t n = strlen(line);
        if (n > 0 && line[n - 1] != '\n' && !feof(file))
            return wrong(st, "the line is longer than %d bytes, or holds a zero byte", LONGEST);
        if (!read_line(st, line))
            return false;
    }
    st->line = st->line ? st->line : 1;
    if (ferror(file))
        return wrong(st, "it cannot be read to its end");
    if (!st->function)
        return wrong(st, "the sheet names no function: write `function NAME`; `check --list` names them all");
    if (!st->checks_something)
        return wrong(st, "nothing in this sheet can fail: give a row with a tolerance, or an expect line");
    return true;
}

bool check_read_sheet(const char *path, struct check_reader *r)
{
    struct state st = { .r = r };
    r->bad_line = 0;
    r->head = (struct check_head){ .kind = CHECK_PUBLISHED };
    FILE *file = fopen(path, "rb");
    if (!file) {
        st.line = 1;
        return wrong(&st, "it cannot be opened; is the path right?");
    }
    const bool good = read_lines(&st, file);
    (void)fclose(file);
    return good;
}
