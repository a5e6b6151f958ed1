#include <ctype.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "figure_words.h"
#include "take_whole.h"
#include "yaml_guard.h"

/* ---- texts ---- */

/* Between quotes, with what the guard would count or refuse written by its code. */
static void quoted(struct st_buf *out, const char *text, size_t n)
{
    st_buf_char(out, '"');
    for (size_t i = 0; i < n; i++) {
        const char c = text[i];
        if (c == '"' || c == '\\')
            st_buf_printf(out, "\\%c", c);
        else if (c == '\n')
            st_buf_add(out, "\\n");
        else if (c == '\t')
            st_buf_add(out, "\\t");
        else if (c == '[' || c == ']' || c == '{' || c == '}')
            st_buf_printf(out, "\\x%02X", (unsigned)(unsigned char)c);
        else
            st_buf_char(out, c);
    }
    st_buf_char(out, '"');
}

/* Plain words need no quotes. */
static bool is_plain(const char *text)
{
    const size_t n = strlen(text);
    if (n == 0 || n > 90 || !(isalnum((unsigned char)*text)) || text[n - 1] == ' ' || text[n - 1] == ':')
        return false;
    if (strcmp(text, "null") == 0)
        return false;
    for (const char *p = text; *p; p++)
        if (strchr("\"'\\[]{}#&*!|>@`\n\t", *p) || (*p == ':' && p[1] == ' '))
            return false;
    return true;
}

static void scalar(struct st_buf *out, const char *text)
{
    if (is_plain(text))
        st_buf_add(out, text);
    else
        quoted(out, text, strlen(text));
}

/* Can the text stand as a block, as it is?  Else it goes between quotes. */
static bool is_block(const char *text)
{
    int open = 0;
    if (!*text || strcspn(text, "\n") == 0)
        return false;
    for (const char *line = text; *line;) {
        const size_t n = strcspn(line, "\n"), blanks = strspn(line, " \t");
        if ((n && blanks >= n) || blanks > 100 || memchr(line, '\t', blanks < n ? blanks : n))
            return false;
        for (size_t i = 0; i < n; i++)
            open += line[i] == '[' || line[i] == '{';
        line += n + (line[n] == '\n');
    }
    return open < ST_YAML_BRACKETS / 2;
}

static void original(struct st_buf *out, const char *text)
{
    const size_t n = strlen(text);
    if (n == 0)
        return;
    if (!is_block(text)) {
        st_buf_add(out, "\noriginal: ");
        quoted(out, text, n);
        st_buf_char(out, '\n');
        return;
    }
    st_buf_printf(out, "\noriginal: |2%s\n", text[n - 1] != '\n' ? "-" : n > 1 && text[n - 2] == '\n' ? "+" : "");
    for (const char *line = text; *line;) {
        const size_t k = strcspn(line, "\n");
        if (k) {
            st_buf_add(out, "  ");
            st_buf_add_n(out, line, k);
        }
        st_buf_char(out, '\n');
        line += k + (line[k] == '\n');
    }
}

/* ---- steps ---- */

static void line_of(struct st_taking *t, struct st_buf *out, const struct st_use *u)
{
    if (u->of != ST_USE_ENTRY) {
        st_buf_printf(out, "      - %s of %s\n", u->of == ST_USE_SPENT ? "fruit" : "all", t->stage[u->which].name);
        return;
    }
    const struct st_entry *e = &t->entry[u->which];
    const char *as = st_take_scaled(t, e->item->as, u->share), *said = st_take_bare(t->row[e->row].words);
    st_buf_add(out, "      - line: ");
    scalar(out, as ? as : e->item->as);
    if (strcmp(said, as ? as : e->item->as) != 0) {
        st_buf_add(out, "\n        said: ");
        scalar(out, said);
    }
    st_buf_char(out, '\n');
}

/* A treatment that goes on with the step before needs no word of it. */
static bool goes_without_saying(const struct st_taking *t, const struct st_stage *s)
{
    return s->kind >= ST_DO_REST && s->n_use == 1 && s->use[0].of == ST_USE_LIQUOR && s->step > 0 &&
           t->stage[s->use[0].which].step == s->step - 1;
}

static void step(struct st_taking *t, struct st_buf *out, const struct st_stage *s)
{
    char time[80];

    st_buf_printf(out, "\n  - %s: %s\n", st_do_name(s->kind), s->name);
    if (*s->words) {
        st_buf_add(out, "    words: ");
        scalar(out, s->words);
        st_buf_char(out, '\n');
    }
    if (s->vessel_ml > 0)
        st_buf_printf(out, "    vessel: %.6g mL\n", s->vessel_ml);
    if (!goes_without_saying(t, s)) {
        st_buf_add(out, "    add:\n");
        for (int i = 0; i < s->n_use; i++)
            line_of(t, out, &s->use[i]);
    }
    st_time_span_words(time, sizeof time, &s->time, "-");
    if (*time)
        st_buf_printf(out, "    for: %s\n", time);
    if (s->temperature_K.known)
        st_buf_printf(out,
                      "    at: %.0f \xc2\xb0"
                      "C\n",
                      s->temperature_K.value - 273.15);
    if (s->press && (s->kind == ST_DO_STEEP || s->kind == ST_DO_SYRUP || s->kind == ST_DO_FILTER))
        st_buf_add(out, "    press: yes\n");
    if (s->kind == ST_DO_BOTTLE && s->size_ml > 0)
        st_buf_printf(out, "    size: %.6g mL\n", s->size_ml);
    if (s->kind == ST_DO_BOTTLE && s->bottles > 0)
        st_buf_printf(out, "    bottles: %d\n", s->bottles);
}

/* ---- the head ---- */

static const char *title(struct st_taking *t)
{
    const char *w = t->title ? t->title : "";
    size_t n;
    while (*w && strchr("#*_ \t>-=", *w))
        w++;
    if (strlen(w) > 6 && strncasecmp(w, "title:", 6) == 0)
        w += 6;
    w += strspn(w, " ");
    n = strcspn(w, "\n");
    n = n > 180 ? 180 : n;
    while (n && ((unsigned char)w[n] & 0xc0) == 0x80)
        n--;
    while (n && strchr("#*_ \t:=", w[n - 1]))
        n--;
    if (n)
        return st_arena_strndup(t->arena, w, n);
    for (int e = 0; e < t->n_entry; e++)
        if (st_kind_is_solid(t->entry[e].what->kind)) {
            char *name = st_arena_printf(t->arena, "%.*s, a recipe without a title",
                                         (int)strcspn(t->entry[e].what->name, ","), t->entry[e].what->name);
            name[0] = (char)toupper((unsigned char)name[0]);
            return name;
        }
    return "A recipe without a title";
}

void st_take_write(struct st_taking *t, struct st_buf *out)
{
    static const char *const MEASURES[] = { "", "us", "metric", "imperial" };
    t->title = title(t);
    st_buf_add(out, "schema_version: 1\ntitle: ");
    scalar(out, t->title);
    st_buf_char(out, '\n');
    if (t->measures != ST_MEASURES_NONE)
        st_buf_printf(out, "measures: %s\n", MEASURES[t->measures]);
    st_buf_add(out, "\nsteps:");
    for (int i = 0; i < t->n_order; i++)
        step(t, out, &t->stage[t->order[i]]);
    original(out, t->original);
}
