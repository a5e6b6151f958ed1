#include "api/json_rows.h"

#include <limits.h>
#include <string.h>

enum { NONE = -2 };

static const char CUT[] = "get a whole copy of it, or write it anew with stillroom export";
static const char SYNTAX[] = "look at this place, and at what stands before it";

void st_json_begin(struct st_json_in *in, FILE *file, struct st_problem *problem)
{
    static const char MARK[] = "\xef\xbb\xbf"; /* some editors write one before the first byte */

    *in = (struct st_json_in){ .file = file, .at = { 1, 1 }, .began = { 1, 1 }, .next = NONE, .problem = problem };
    for (int i = 0; i < 3; i++) {
        const int c = getc(file);
        if (c != (unsigned char)MARK[i]) {
            in->next = i == 0 ? c : NONE;
            if (i > 0)
                st_json_fail(in, true, "cannot read it", "it begins with bytes that are no text", CUT);
            return;
        }
    }
}

void st_json_done(struct st_json_in *in)
{
    st_buf_done(&in->text);
}

bool st_json_fail(struct st_json_in *in, bool at_next, const char *what, const char *why, const char *try_)
{
    if (!in->failed) {
        in->failed = true;
        *in->problem = (struct st_problem){ .at = at_next ? in->at : in->began };
        snprintf(in->problem->what, sizeof in->problem->what, "%s", what);
        snprintf(in->problem->why, sizeof in->problem->why, "%s", why);
        snprintf(in->problem->try_, sizeof in->problem->try_, "%s", try_);
    }
    return false;
}

/* ---- bytes ---- */

static int look(struct st_json_in *in)
{
    if (in->next == NONE)
        in->next = in->failed ? EOF : getc(in->file);
    return in->next;
}

static int take(struct st_json_in *in)
{
    const int c = look(in);

    in->next = NONE;
    if (c == EOF)
        return c;
    in->bytes++;
    if (c == '\n') {
        in->at.line += in->at.line < INT_MAX;
        in->at.column = 1;
    } else if ((c & 0xc0) != 0x80)
        in->at.column += in->at.column < INT_MAX;
    return c;
}

static bool is_blank(int c)
{
    return c == ' ' || c == '\n' || c == '\r' || c == '\t';
}

int st_json_peek(struct st_json_in *in)
{
    while (is_blank(look(in)))
        take(in);
    if (in->bytes > ST_JSON_BYTES)
        st_json_fail(in, true, "it is too large", "a book's document ends before 16 GiB", "look at what it holds");
    return in->failed ? EOF : look(in);
}

static bool cut_off(struct st_json_in *in)
{
    const bool bad = ferror(in->file) != 0;
    return st_json_fail(in, true, bad ? "it could not be read further" : "it ends too early",
                        bad ? "the disk or the pipe gave an error" : "the end of it is missing", CUT);
}

static bool unexpected(struct st_json_in *in, int c, const char *wanted)
{
    char what[60], why[80];

    if (c == EOF)
        return cut_off(in);
    if (c > 0x20 && c < 0x7f)
        snprintf(what, sizeof what, "'%c' is not expected", c);
    else
        snprintf(what, sizeof what, "the byte 0x%02x is not expected", (unsigned)c);
    snprintf(why, sizeof why, "%s has to stand here", wanted);
    return st_json_fail(in, true, what, why, SYNTAX);
}

bool st_json_take(struct st_json_in *in, char c)
{
    const int next = st_json_peek(in);
    const char wanted[] = { '\'', c, '\'', '\0' };

    if (next != c)
        return unexpected(in, next, wanted);
    take(in);
    return true;
}

bool st_json_more(struct st_json_in *in, char end, bool *first)
{
    const int c = st_json_peek(in);

    if (c == end) {
        take(in);
        return false;
    }
    if (!*first && !st_json_take(in, ','))
        return false;
    *first = false;
    return !in->failed;
}

bool st_json_end(struct st_json_in *in)
{
    const int c = st_json_peek(in);
    if (!in->failed && c != EOF)
        return st_json_fail(in, true, "something follows the document", "it has ended before this place", SYNTAX);
    return !in->failed;
}

/* ---- values ---- */

/* Copy a text, quotes and all, the first of which is next. */
static bool copy_text(struct st_json_in *in, size_t limit)
{
    bool escaped = false;

    st_buf_char(&in->text, (char)take(in));
    for (;;) {
        const int c = take(in);
        if (c == EOF)
            return cut_off(in);
        st_buf_char(&in->text, (char)c);
        if (c == '"' && !escaped)
            return true;
        escaped = c == '\\' && !escaped;
        if (in->text.length > limit)
            return st_json_fail(in, false, "it is too long", "nothing of a book is", "look at what it holds");
    }
}

/* Copy an object of plain values. */
static bool copy_row(struct st_json_in *in)
{
    int members = 0;

    st_buf_char(&in->text, (char)take(in));
    for (;;) {
        const int c = look(in);
        if (c == EOF)
            return cut_off(in);
        if (c == '"') {
            if (!copy_text(in, ST_JSON_ROW))
                return false;
            continue;
        }
        if (c == '{' || c == '[')
            return st_json_fail(in, true, "a value is no plain one", "in a row stand numbers and texts alone",
                                "take the list or the object away");
        members += c == ':';
        if (members > ST_JSON_MEMBERS || in->text.length > ST_JSON_ROW)
            return st_json_fail(in, false, "the row is too large", "no row of a book has that many members",
                                "look at what it holds");
        st_buf_char(&in->text, (char)take(in));
        if (c == '}')
            return true;
    }
}

/* Copy a number or a word. */
static bool copy_plain(struct st_json_in *in)
{
    for (int c = look(in); c != EOF && !is_blank(c) && !strchr(",:]}[{\"", c ? c : ','); c = look(in)) {
        st_buf_char(&in->text, (char)take(in));
        if (in->text.length > 400)
            return st_json_fail(in, false, "it is too long", "no number has that many digits", SYNTAX);
    }
    return in->text.length > 0 || unexpected(in, look(in), "a value");
}

/* What jansson refused, in our words. */
static void refused(struct st_json_in *in, const json_error_t *e)
{
    const char *why = "it is not written as JSON is", *try_ = SYNTAX;
    char what[180];

    switch (json_error_code(e)) {
    case json_error_duplicate_key:
        why = "one name stands twice in a row";
        try_ = "leave one of them out";
        break;
    case json_error_invalid_utf8:
        why = "its bytes are no UTF-8";
        try_ = "save it as UTF-8";
        break;
    case json_error_null_character:
        why = "a text may not hold NUL";
        try_ = "take \\u0000 out";
        break;
    case json_error_numeric_overflow:
        why = "the number is larger than any that can be kept";
        try_ = "write the number that was meant";
        break;
    default: break;
    }
    snprintf(what, sizeof what, "cannot read it: %.150s", e->text);
    st_json_fail(in, false, what, why, try_);
    if (e->line < 1)
        return;
    in->problem->at.line = in->began.line + e->line - 1;
    in->problem->at.column = (e->line > 1 ? 0 : in->began.column - 1) + (e->column > 1 ? e->column : 1);
}

json_t *st_json_value(struct st_json_in *in, bool row)
{
    const int c = st_json_peek(in);
    json_error_t e;
    bool good;

    st_buf_clear(&in->text);
    in->began = in->at;
    if (c == '{' && row)
        good = copy_row(in);
    else if (row)
        good = unexpected(in, c, "a row in braces");
    else if (c == '"')
        good = copy_text(in, ST_JSON_ROW);
    else
        good = copy_plain(in);
    if (!good)
        return NULL;
    json_t *v = json_loadb(st_buf_text(&in->text), in->text.length, JSON_REJECT_DUPLICATES | JSON_DECODE_ANY, &e);
    if (!v)
        refused(in, &e);
    return v;
}

bool st_json_name(struct st_json_in *in, char name[ST_JSON_NAME + 1])
{
    const int c = st_json_peek(in);
    json_error_t e;

    if (c != '"')
        return unexpected(in, c, "a name in quotes");
    st_buf_clear(&in->text);
    in->began = in->at;
    if (!copy_text(in, ST_JSON_NAME))
        return false;
    json_t *v = json_loadb(st_buf_text(&in->text), in->text.length, JSON_DECODE_ANY, &e);
    if (!v) {
        refused(in, &e);
        return false;
    }
    snprintf(name, ST_JSON_NAME + 1, "%s", json_string_value(v));
    json_decref(v);
    return st_json_take(in, ':');
}
