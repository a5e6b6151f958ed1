#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "take_whole.h"

/* A recipe inside a page, as schema.org describes it, made plain text.  A small reader of JSON: values it does not need
 * are passed over, at a bounded depth, and half a document gives what stood in the first half. */

enum { MOST_DEPTH = 24, MOST_TEXT = 1 << 17, MOST_LOOKS = 40 };

struct json {
    const char *at, *end;
    int depth;
};

/* What was found of a recipe. */
struct found {
    struct st_buf name, yield, note, goods, old_goods,
        method; /* old_goods: of the older key, where there is no other */
    bool recipe;
};

static void blanks(struct json *j)
{
    while (j->at < j->end && (*j->at == ' ' || *j->at == '\n' || *j->at == '\t' || *j->at == '\r'))
        j->at++;
}

static bool sign(struct json *j, char c)
{
    blanks(j);
    if (j->at >= j->end || *j->at != c)
        return false;
    j->at++;
    return true;
}

/* ---- texts ---- */

static void put_char(struct st_buf *b, unsigned c)
{
    if (c == 0)
        return;
    if (c < 0x80) {
        st_buf_char(b, (char)c);
    } else if (c < 0x800) {
        st_buf_char(b, (char)(0xc0 | c >> 6));
        st_buf_char(b, (char)(0x80 | (c & 0x3f)));
    } else if (c < 0x10000) {
        st_buf_char(b, (char)(0xe0 | c >> 12));
        st_buf_char(b, (char)(0x80 | (c >> 6 & 0x3f)));
        st_buf_char(b, (char)(0x80 | (c & 0x3f)));
    } else {
        st_buf_char(b, (char)(0xf0 | c >> 18));
        st_buf_char(b, (char)(0x80 | (c >> 12 & 0x3f)));
        st_buf_char(b, (char)(0x80 | (c >> 6 & 0x3f)));
        st_buf_char(b, (char)(0x80 | (c & 0x3f)));
    }
}

static unsigned hex4(struct json *j)
{
    unsigned c = 0;
    for (int i = 0; i < 4 && j->at < j->end && isxdigit((unsigned char)*j->at); i++, j->at++) {
        const int d = tolower((unsigned char)*j->at);
        c = c * 16 + (unsigned)(d <= '9' ? d - '0' : d - 'a' + 10);
    }
    return c;
}

static void escape(struct json *j, struct st_buf *b)
{
    const char c = j->at < j->end ? *j->at++ : '\0';
    if (c == 'n')
        st_buf_char(b, '\n');
    else if (c == 't')
        st_buf_char(b, ' ');
    else if (c == 'u') {
        unsigned u = hex4(j);
        if (u >= 0xd800 && u < 0xdc00 && j->end - j->at > 1 && j->at[0] == '\\' && j->at[1] == 'u') {
            j->at += 2;
            u = 0x10000 + ((u - 0xd800) << 10) + (hex4(j) & 0x3ff);
        }
        put_char(b, u >= 0xd800 && u < 0xe000 ? '?' : u);
    } else if (c != 'b' && c != 'f' && c != 'r' && c != '\0')
        st_buf_char(b, c);
}

/* A string at j; b may be NULL. */
static bool text(struct json *j, struct st_buf *b)
{
    struct st_buf away = { 0 };
    if (!sign(j, '"'))
        return false;
    struct st_buf *to = b ? b : &away;
    while (j->at < j->end && *j->at != '"') {
        if (*j->at == '\\') {
            j->at++;
            escape(j, to);
        } else
            st_buf_char(to, *j->at++);
        if (to->length > MOST_TEXT)
            break;
    }
    st_buf_done(&away);
    return sign(j, '"');
}

/* Tags become line ends or nothing, entities their characters. */
static void plain(const char *s, struct st_buf *out)
{
    static const struct {
        const char *name;
        unsigned c;
    } ENTITY[] = { { "amp;", '&' },     { "nbsp;", ' ' },    { "quot;", '"' },    { "lt;", '<' },
                   { "gt;", '>' },      { "apos;", '\'' },   { "deg;", 0xb0 },    { "frac12;", 0xbd },
                   { "frac14;", 0xbc }, { "frac34;", 0xbe }, { "eacute;", 0xe9 }, { "ndash;", 0x2013 },
                   { "rsquo;", 0x2019 } };
    while (*s) {
        const char *close = *s == '<' ? strchr(s, '>') : NULL;
        if (close) {
            st_buf_char(out,
                        strncasecmp(s, "<br", 3) == 0 || strncasecmp(s, "</p", 3) == 0 || strncasecmp(s, "</li", 4) == 0
                            ? '\n'
                            : ' ');
            s = close + 1;
            continue;
        }
        size_t e = 0;
        const size_t n = sizeof ENTITY / sizeof ENTITY[0];
        while (*s == '&' && e < n && strncmp(s + 1, ENTITY[e].name, strlen(ENTITY[e].name)) != 0)
            e++;
        if (*s == '&' && e < n) {
            put_char(out, ENTITY[e].c);
            s += 1 + strlen(ENTITY[e].name);
        } else if (*s == '&' && s[1] == '#' && isdigit((unsigned char)s[2])) {
            char *end;
            const unsigned long c = strtoul(s + 2, &end, 10);
            put_char(out, c < 0xd800 ? (unsigned)c : '?');
            s = end + (*end == ';');
        } else
            st_buf_char(out, *s++);
    }
}

/* Lines of a text into out, each behind a mark, blank ones left out. */
static void lines(struct st_buf *out, const char *s, const char *mark)
{
    struct st_buf b = { 0 };
    plain(s, &b);
    for (const char *p = st_buf_text(&b); *p;) {
        const size_t n = strcspn(p, "\n");
        size_t a = strspn(p, " \t"), z = n;
        if (a > n)
            a = n;
        while (z > a && (p[z - 1] == ' ' || p[z - 1] == '\t'))
            z--;
        if (z > a) {
            st_buf_add(out, mark);
            st_buf_add_n(out, p + a, z - a);
            st_buf_char(out, '\n');
        }
        p += n + (p[n] == '\n');
    }
    st_buf_done(&b);
}

/* ---- values ---- */

static bool pass_over(struct json *j);

/* Go through an object or a list; each is called at every value, with its key ("" in a list).  False: it broke off. */
static bool each(struct json *j, bool (*one)(struct json *j, const char *key, void *arg), void *arg)
{
    const bool object = j->at < j->end && *j->at == '{';
    const char close = object ? '}' : ']';
    bool good = ++j->depth <= MOST_DEPTH;

    j->at++;
    if (good && sign(j, close)) {
        j->depth--;
        return true;
    }
    while (good) {
        struct st_buf key = { 0 };
        good = !object || (text(j, &key) && sign(j, ':'));
        blanks(j);
        good = good && one(j, st_buf_text(&key), arg);
        st_buf_done(&key);
        if (good && sign(j, close))
            break;
        good = good && sign(j, ',');
    }
    j->depth--;
    return good;
}

static bool is_box(const struct json *j)
{
    return j->at < j->end && (*j->at == '{' || *j->at == '[');
}

static bool skip_one(struct json *j, const char *key, void *arg)
{
    (void)key;
    (void)arg;
    return pass_over(j);
}

static bool pass_over(struct json *j)
{
    blanks(j);
    if (is_box(j))
        return each(j, skip_one, NULL);
    if (j->at < j->end && *j->at == '"')
        return text(j, NULL);
    const char *from = j->at;
    while (j->at < j->end && (isalnum((unsigned char)*j->at) || strchr("+-.", *j->at)))
        j->at++;
    return j->at > from;
}

/* ---- what a recipe says ---- */

struct into {
    struct st_buf *to;
    const char *mark;
};

static bool take_lines(struct json *j, const char *key, void *arg);
static bool take_name(struct json *j, const char *key, void *arg);

/* Has it words of its own, so that its name is but a heading? */
static bool look_for_words(struct json *j, const char *key, void *arg)
{
    if (strcmp(key, "text") == 0 || strcmp(key, "itemListElement") == 0 || strcmp(key, "item") == 0)
        *(bool *)arg = true;
    return pass_over(j);
}

/* A text, a list of them, or steps: of an object its text, else its name, and the steps in it. */
static bool take_value(struct json *j, struct into *in)
{
    blanks(j);
    if (j->at < j->end && *j->at == '"') {
        struct st_buf b = { 0 };
        const bool good = text(j, &b);
        lines(in->to, st_buf_text(&b), in->mark);
        st_buf_done(&b);
        return good;
    }
    if (is_box(j)) {
        struct json probe = *j;
        bool words = *j->at == '[';
        if (!words)
            (void)each(&probe, look_for_words, &words);
        return each(j, words ? take_lines : take_name, in);
    }
    const char *from = j->at;
    const bool good = pass_over(j);
    if (good && (isdigit((unsigned char)*from) || *from == '-')) {
        st_buf_add_n(in->to, from, (size_t)(j->at - from)); /* recipeYield: 2 */
        st_buf_char(in->to, '\n');
    }
    return good;
}

static bool take_name(struct json *j, const char *key, void *arg)
{
    return strcmp(key, "name") == 0 ? take_value(j, arg) : pass_over(j);
}

static bool take_lines(struct json *j, const char *key, void *arg)
{
    if (*key && strcmp(key, "text") != 0 && strcmp(key, "itemListElement") != 0 && strcmp(key, "item") != 0)
        return pass_over(j);
    return take_value(j, arg);
}

static bool is_recipe_type(struct json *j, const char *key, void *arg)
{
    struct st_buf b = { 0 };
    (void)key;
    if (j->at < j->end && *j->at != '"')
        return pass_over(j);
    const bool good = text(j, &b);
    const char *t = st_buf_text(&b), *slash = strrchr(t, '/');
    if (strcmp(slash ? slash + 1 : t, "Recipe") == 0)
        *(bool *)arg = true;
    st_buf_done(&b);
    return good;
}

static bool one_key(struct json *j, const char *key, void *arg)
{
    struct found *f = arg;
    if (strcmp(key, "@type") == 0)
        return is_box(j) ? each(j, is_recipe_type, &f->recipe) : is_recipe_type(j, key, &f->recipe);
    struct into in = { NULL, "" };
    if (strcmp(key, "name") == 0)
        in.to = &f->name;
    else if (strcmp(key, "description") == 0)
        in.to = &f->note;
    else if (strcmp(key, "recipeYield") == 0)
        in.to = &f->yield;
    else if (strcmp(key, "recipeIngredient") == 0)
        in = (struct into){ &f->goods, "- " };
    else if (strcmp(key, "ingredients") == 0)
        in = (struct into){ &f->old_goods, "- " };
    else if (strcmp(key, "recipeInstructions") == 0)
        in = (struct into){ &f->method, "" };
    return in.to ? take_value(j, &in) : pass_over(j);
}

static void done(struct found *f)
{
    st_buf_done(&f->name);
    st_buf_done(&f->yield);
    st_buf_done(&f->note);
    st_buf_done(&f->goods);
    st_buf_done(&f->old_goods);
    st_buf_done(&f->method);
}

/* The first line of a text. */
static void first(struct st_buf *out, const char *before, const struct st_buf *b)
{
    const char *s = st_buf_text(b);
    if (!*s)
        return;
    st_buf_add(out, before);
    st_buf_add_n(out, s, strcspn(s, "\n"));
    st_buf_char(out, '\n');
}

static char *written(const struct found *f)
{
    struct st_buf out = { 0 };
    first(&out, "Title: ", &f->name);
    st_buf_add(&out, "\nIngredients\n");
    st_buf_add(&out, st_buf_text(f->goods.length ? &f->goods : &f->old_goods));
    if (f->method.length) {
        st_buf_add(&out, "\nMethod\n");
        st_buf_add(&out, st_buf_text(&f->method));
    }
    if (f->yield.length || f->note.length)
        st_buf_add(&out, "\nNotes\n");
    first(&out, "Makes: ", &f->yield);
    st_buf_add(&out, st_buf_text(&f->note));
    return st_buf_take(&out);
}

/* Look for recipes in a value and in what lies in it: the first is kept, the others are counted. */
struct search {
    char *out;
    int n;
};

static void search_value(struct json *j, struct search *s);

static bool search_one(struct json *j, const char *key, void *arg)
{
    (void)key;
    if (!is_box(j))
        return pass_over(j);
    struct json inside = *j;
    search_value(&inside, arg);
    return pass_over(j);
}

static void search_value(struct json *j, struct search *s)
{
    blanks(j);
    if (!is_box(j))
        return;
    if (*j->at == '{') {
        struct found f = { 0 };
        struct json copy = *j;
        (void)each(&copy, one_key, &f);
        const bool is = f.recipe && f.goods.length + f.old_goods.length > 0;
        if (is && !s->out)
            s->out = written(&f);
        s->n += is;
        done(&f);
        if (is)
            return;
    }
    (void)each(j, search_one, s);
}

/* Where JSON may begin: behind words of the one who copied it, or in a script element.  A box is only looked into where
 * its first key is quoted, so that other brackets cost nothing. */
static bool may_be_json(const char *at, const char *end)
{
    const char *p = at + 1;
    while (p < end && strchr(" \t\r\n", *p) && *p)
        p++;
    return p < end && (*p == '"' || (*at == '[' && *p == '{'));
}

static struct search look(const char *all, size_t size)
{
    const char *end = all + size;
    struct search s = { NULL, 0 };
    int looks = 0;

    for (const char *p = all; p < end && looks < MOST_LOOKS; p++) {
        if ((*p != '{' && *p != '[') || !may_be_json(p, end))
            continue;
        struct json j = { p, end, 0 }, behind = { p, end, 0 };
        looks++;
        search_value(&j, &s);
        if (pass_over(&behind))
            p = behind.at - 1;
    }
    return s;
}

char *st_take_json_ld(const char *all, size_t size)
{
    return look(all, size).out;
}

int st_take_json_recipes(const char *all, size_t size)
{
    struct search s = look(all, size);
    free(s.out);
    return s.n;
}
