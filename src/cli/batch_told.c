/* A batch told in own words: its lines read back, and its days. */
#include "cli/batch_told.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli/page.h"
#include "cli/take_page.h"
#include "text/calendar_day.h"
#include "text/day_said.h"
#include "text/quantity.h"
#include "text/scan.h"
#include "text/take_caution.h"

/* ---- days ---- */

/* Where a line of the text begins. */
static const char *line_at(const char *said, int line)
{
    for (int i = 1; i < line && *said; i++) {
        said += strcspn(said, "\n");
        said += *said == '\n';
    }
    return said;
}

/* line and column of words in the line that they come from. */
static void no_day(const char *file, const char *said, int line, const char *words, size_t n, const char *why,
                   const char *try_)
{
    const char *from = line_at(said, line);
    char what[80];
    size_t column = 0;
    const size_t size = strcspn(from, "\n");
    while (column + n <= size && strncmp(from + column, words, n) != 0)
        column++;
    (void)snprintf(what, sizeof what, "\"%.*s\"", (int)(n < 60 ? n : 60), words);
    struct st_problem p = { .is_question = 0 };
    (void)snprintf(p.what, sizeof p.what, "%s", what);
    (void)snprintf(p.why, sizeof p.why, "%s", why);
    (void)snprintf(p.try_, sizeof p.try_, "%s", try_);
    p.at.line = line;
    p.at.column = (int)(column + n <= size ? column : 0) + 1;
    cli_problem(file, &p);
}

static size_t without_signs(const char *words)
{
    size_t n = strlen(words);
    while (n && strchr(" ,:-", words[n - 1]))
        n--;
    return n;
}

static bool told_day(struct batch *b, const char *file, const char *said, int line, const char *words, long before,
                     long *day, bool *about)
{
    const size_t n = without_signs(words);
    bool since;
    (void)st_day_words_at(words, true, &since);
    if (since && before < 0)
        return *day = -1, true; /* after six weeks, and from when on is not told */
    switch (st_day_said(words, b->now.number, before, b->c->units == ST_MEASURES_US, day)) {
    case ST_DAY_ABOUT: *about = true; return true;
    case ST_DAY_SAID: return true;
    case ST_DAY_AHEAD:
        if (since)
            return *day = -1, true; /* what is to be done, and was not yet */
        no_day(file, said, line, words, n, "that day has not come yet", "write the day it was done");
        return false;
    case ST_DAY_TWO:
        no_day(file, said, line, words, n, "this may be two days: whose order of day and month it is, is not said",
               "write it as 2026-10-04 or as 4 October; --units us reads the month first");
        return false;
    case ST_DAY_NEVER:
    case ST_DAY_NONE: break;
    }
    no_day(file, said, line, words, n, "the calendar has no such day", "write it as 4 October, or as 2026-10-04");
    return false;
}

/* "Okto 4: put ...": a word and a figure before a colon, and no day that is known. */
static bool looks_like_day(const char *line, size_t *n)
{
    static const char *const OTHER[] = { "day",  "week", "month", "step", "part", "batch", "jar",
                                         "line", "note", "try",   "no",   "year", "page" };
    size_t i = strspn(line, " \t"), word = 0, figures = 0, k;
    const size_t colon = strcspn(line, ":\n");
    bool since;
    if (line[colon] != ':' || colon > 16 || st_day_words_at(line + i, true, &since))
        return false;
    for (k = i; k < colon; k++) {
        const unsigned char c = (unsigned char)line[k];
        word += isalpha(c) || c >= 0x80;
        figures += isdigit(c) != 0;
        if (!(isalnum(c) || c >= 0x80 || strchr(" ./", line[k])))
            return false;
    }
    for (k = 0; k < sizeof OTHER / sizeof *OTHER; k++)
        if (strncmp(line + i, OTHER[k], strlen(OTHER[k])) == 0 ||
            (tolower((unsigned char)line[i]) == OTHER[k][0] &&
             strncmp(line + i + 1, OTHER[k] + 1, strlen(OTHER[k]) - 1) == 0))
            return false;
    *n = colon;
    return figures > 0 && figures < 7 && word < 12 && (word > 2 || strpbrk(line, "./") < line + colon);
}

static bool all_days_known(const char *file, const char *said)
{
    int line = 1;
    for (const char *from = said; *from; line++) {
        size_t n;
        if (looks_like_day(from, &n)) {
            no_day(file, said, line, from + strspn(from, " \t"), n - strspn(from, " \t"),
                   "it stands where a day would, and no such day is known", "write it as 4 October, or as 2026-10-04");
            return false;
        }
        from += strcspn(from, "\n");
        from += *from == '\n';
    }
    return true;
}

/* ---- rows ---- */

/* "Bottled 3 of them", "filled 3 bottles": done, where "to be bottled" and "bottle it" are to come. */
static bool is_bottled(const struct st_take_read_as *r)
{
    for (const char *at = r->words; *at; at++) {
        struct st_scan s = { at, at + strlen(at) };
        if ((at == r->words || !isalpha((unsigned char)at[-1])) &&
            st_scan_word(&s, "bottled|filled|went into|gave|made"))
            return !(at - r->words >= 3 && strncmp(at - 3, "be ", 3) == 0);
    }
    return false;
}

/* "Strained, 1.2 L came off, 3 bottles of 350 mL": how many, and of which size where it is said. */
static void find_bottles(struct batch *b, const char *words, struct batch_told_row *row)
{
    const enum st_measures m = b->c->units == ST_MEASURES_NONE ? ST_MEASURES_METRIC : b->c->units;
    for (const char *at = words; *at; at++) {
        char *end;
        struct st_amount x;
        struct st_problem p;
        size_t used = 0;
        if (!isdigit((unsigned char)*at) || (at > words && (isdigit((unsigned char)at[-1]) || strchr(".,", at[-1]))))
            continue;
        const long n = strtol(at, &end, 10);
        struct st_scan s = { end, end + strlen(end) };
        if (n < 1 || n > 10000 || !st_scan_word(&s, "bottles|bottle"))
            continue;
        row->bottles = (int)n;
        if (st_scan_word(&s, "of|with|at") && st_scan_blanks(&s) &&
            st_quantity_parse(s.at, (size_t)(s.end - s.at), m, &x, &used, &p) == 0 && x.dim == ST_DIM_VOLUME)
            row->size_ml = x.value;
        return;
    }
}

static enum batch_deed_told deed_of(const struct st_take_read_as *from)
{
    const struct st_take_item *item = from->item;
    if (item->role == ST_TAKE_INGREDIENT)
        return item->sure == ST_UNREAD ? BATCH_TOLD_NOTHING : BATCH_TOLD_GOODS;
    if (item->role != ST_TAKE_STEP)
        return BATCH_TOLD_NOTHING;
    if (item->deed.kind == ST_DO_STEEP && item->deed.strain)
        return BATCH_TOLD_STRAIN;
    if (item->deed.kind == ST_DO_BOTTLE)
        return is_bottled(from) ? BATCH_TOLD_BOTTLED : BATCH_TOLD_NOTHING;
    return item->deed.kind == ST_DO_FILTER ? BATCH_TOLD_FILTER
           : item->deed.kind == ST_DO_RACK ? BATCH_TOLD_RACK
                                           : BATCH_TOLD_NOTHING;
}

static void fill_row(struct batch *b, const struct st_take_read_as *from, struct batch_told_row *row)
{
    char text[400];
    const struct st_take_item *item = from->item;
    take_reading_words(from, text, sizeof text);
    *row = (struct batch_told_row){ .line = from->line,
                                    .words = st_arena_strdup(&b->arena, from->words),
                                    .read = st_arena_strdup(&b->arena, text),
                                    .deed = deed_of(from),
                                    .step = from->step,
                                    .goods = item->line,
                                    .slug = "",
                                    .is_name = item->role == ST_TAKE_TITLE || item->role == ST_TAKE_HEADING,
                                    .came_ml = from->came_ml };
    if (item->line.what)
        row->slug = st_arena_strdup(&b->arena, item->line.what->slug);
    if (row->deed == BATCH_TOLD_BOTTLED) {
        row->bottles = item->deed.bottles;
        row->size_ml = item->deed.size_ml;
    }
    if (row->deed == BATCH_TOLD_STRAIN)
        find_bottles(b, row->words, row);
    row->goods.what = NULL;
    row->goods.text = st_arena_strdup(&b->arena, item->as);
}

/* The days of all rows, in the order in which they are told. */
static bool find_days(struct batch *b, const char *file, const char *said, const char *on, const struct st_take *t,
                      struct batch_told *out)
{
    const char *last = NULL;
    long day = -1, before = -1;
    bool about = false;
    if (on)
        (void)st_day_number(on, &before);
    for (int i = 0; i < t->n_row; i++) {
        const char *when = t->row[i].when;
        if (when && when != last) {
            about = false;
            if (!told_day(b, file, said, t->row[i].line, when, before, &day, &about))
                return false;
            before = day >= 0 ? day : before;
        }
        last = when;
        if (!when || day < 0)
            continue;
        st_day_write(day, out->row[i].day);
        out->row[i].about = about;
    }
    return true;
}

static void find_begin(struct batch_told *t)
{
    for (int i = 0; i < t->n; i++) {
        if (!*t->row[i].day) {
            t->late = t->late || t->row[i].deed == BATCH_TOLD_GOODS;
            continue;
        }
        memcpy(t->begun_on, t->row[i].day, sizeof t->begun_on);
        t->about = t->row[i].about;
        return;
    }
    t->late = false;
}

/* "To be strained on 20 December": a day of which the year before was meant by nobody. */
static bool is_to_come(const struct batch_told_row *r)
{
    struct st_scan s = { r->words, r->words + strlen(r->words) };
    return r->deed == BATCH_TOLD_NOTHING ||
           st_scan_word(&s, "to be|will|shall|should|ready|must|strain|filter|bottle|rack");
}

int batch_told_read(struct batch *b, const char *file, const char *said, const char *on, const struct st_take *t,
                    struct batch_told *out)
{
    memset(out, 0, sizeof *out);
    out->row = st_arena_alloc(&b->arena, (size_t)(t->n_row + 1) * sizeof *out->row);
    out->n = t->n_row;
    for (int i = 0; i < t->n_row; i++) {
        const struct st_take_item *item = t->row[i].item;
        fill_row(b, &t->row[i], &out->row[i]);
        out->left_out += item->role == ST_TAKE_INGREDIENT && item->sure == ST_UNREAD;
    }
    if (!all_days_known(file, said) || !find_days(b, file, said, on, t, out))
        return ST_EXIT_INPUT;
    find_begin(out);
    for (int i = 0; i < out->n; i++)
        if (*out->row[i].day && strcmp(out->row[i].day, out->begun_on) < 0) {
            if (is_to_come(&out->row[i])) {
                *out->row[i].day = '\0';
                continue;
            }
            no_day(file, said, t->row[i].line, t->row[i].when, without_signs(t->row[i].when),
                   "it is before the day on which the batch was begun",
                   "write the year too, or put the lines in order");
            return ST_EXIT_INPUT;
        }
    if (on && *out->begun_on && !out->about && !out->late && strcmp(on, out->begun_on) != 0) {
        cli_error("--on", batch_text(b, "your words say that it was begun on %s", out->begun_on),
                  "leave --on out, or put the words right");
        return ST_EXIT_INPUT;
    }
    return ST_EXIT_DONE;
}

const char *batch_told_month(const char *said, size_t *n)
{
    for (const char *at = said; *at; at++) {
        bool since;
        if (strncmp(at, "in ", 3) != 0 || (at > said && isalnum((unsigned char)at[-1])))
            continue;
        *n = st_day_words_at(at, true, &since);
        while (*n && strchr(" ,:-", at[*n - 1]))
            --*n;
        if (*n)
            return at;
    }
    return NULL;
}

/* ---- a name ---- */

static const char *plain_name(struct batch *b, const struct st_ingredient *what)
{
    return batch_text(b, "%.*s", (int)strcspn(what->name, ",("), what->name);
}

static bool is_solid(enum st_kind k)
{
    return k != ST_KIND_SPIRIT && k != ST_KIND_WINE && k != ST_KIND_WATER && k != ST_KIND_SUGAR && k != ST_KIND_SYRUP;
}

const char *batch_told_name(struct batch *b, const struct st_take *t)
{
    const char *goods = "", *spirit = "";
    int n = 0;
    for (int i = 0; i < t->n_row; i++) {
        const struct st_ingredient *what =
            t->row[i].item->role == ST_TAKE_INGREDIENT ? t->row[i].item->line.what : NULL;
        if (!what)
            continue;
        const char *name = plain_name(b, what);
        if (is_solid(what->kind) && (t->row[i].item->sure != ST_UNREAD || t->row[i].item->n_ask > 0) && n < 2 &&
            !strstr(goods, name))
            goods = n++ ? batch_text(b, "%s and %s", goods, name) : name;
        else if ((what->kind == ST_KIND_SPIRIT || what->kind == ST_KIND_WINE) && !*spirit)
            spirit = name;
    }
    char *name = st_arena_strdup(&b->arena, *goods && *spirit ? batch_text(b, "%s in %s", goods, spirit)
                                            : *goods          ? goods
                                                              : spirit);
    for (char *p = name; *p; p++)
        *p = (char)(p == name ? toupper((unsigned char)*p) : tolower((unsigned char)*p));
    return *name ? name : "told in own words";
}

/* ---- read back ---- */

static void print_left_out(const struct batch_told *t)
{
    if (t->left_out > 0)
        cli_say(2, 2, "%d thing%s that %s told %s in no figure, and what %s may hold was not assessed.", t->left_out,
                t->left_out == 1 ? "" : "s", t->left_out == 1 ? "is" : "are", t->left_out == 1 ? "is" : "are",
                t->left_out == 1 ? "it" : "they");
}

void batch_told_print(struct batch *b, const struct batch_told *t)
{
    const char *last = "";
    cli_heading("What was read");
    for (int i = 0; i < t->n; i++) {
        const struct batch_told_row *r = &t->row[i];
        if (strcmp(last, r->words) != 0) {
            printf(i == 0 || t->row[i - 1].line != r->line ? "%4d  " : "      ", r->line);
            cli_wrap_on(6, 6, r->words);
        }
        last = r->words;
        if (!*r->read && !(i > 0 && strcmp(t->row[i - 1].words, r->words) == 0))
            cli_say(8, 10, "kept in your words, and not reckoned with");
        if (*r->read)
            cli_say(8, 10, "%s%s%s%s", *r->day ? batch_day(b, r->day, false) : "",
                    *r->day ? (r->about ? " or about then: " : ": ") : "", r->read,
                    (r->deed > BATCH_TOLD_GOODS || r->deed == BATCH_TOLD_BOTTLED) && !*r->day
                        ? "; on which day is not told"
                        : "");
    }
    print_left_out(t);
}

/* Whether it tells of bottles that were filled: by itself, or beside the straining where no other row of the line does. */
static bool tells_bottles(const struct batch_told *t, const struct batch_told_row *r)
{
    if (r->deed == BATCH_TOLD_BOTTLED)
        return true;
    for (int i = 0; i < t->n; i++)
        if (t->row[i].line == r->line && t->row[i].deed == BATCH_TOLD_BOTTLED)
            return false;
    return r->deed == BATCH_TOLD_STRAIN && r->bottles > 0;
}

/* The command that brings a bottling into the book. */
static const char *enter_bottles(struct batch *b, const struct batch_told_row *r, const char *code)
{
    const char *many = r->bottles > 0 ? batch_text(b, "%d", r->bottles) : "3";
    return batch_text(b, "stillroom batch bottle %s \"%s x %s mL\" --on %s", code, many,
                      r->size_ml > 0.0 ? batch_text(b, "%.9g", r->size_ml) : "...", *r->day ? r->day : "...");
}

void batch_told_bottled(struct batch *b, const struct batch_told *t, const char *code)
{
    for (int i = 0; i < t->n; i++) {
        const struct batch_told_row *r = &t->row[i];
        if (!tells_bottles(t, r))
            continue;
        cli_say(2, 4, "What you bottled%s%s is not in the book by these words. Enter it:",
                *r->day ? (r->about ? " about " : " on ") : "", *r->day ? batch_day(b, r->day, false) : "");
        cli_say(4, 6, "%s", enter_bottles(b, r, code));
    }
}

json_t *batch_told_json(struct batch *b, const struct batch_told *t, const char *code)
{
    json_t *list = json_array();
    for (int i = 0; i < t->n; i++) {
        const struct batch_told_row *r = &t->row[i];
        json_t *row = json_pack("{s:i, s:o, s:o, s:o}", "line", r->line, "words", st_doc_text(r->words), "read",
                                st_doc_text(r->read), "day", *r->day ? st_doc_text(r->day) : json_null());
        if (tells_bottles(t, r))
            json_object_set_new(row, "enter", st_doc_text(enter_bottles(b, r, code)));
        json_array_append_new(list, row);
    }
    return list;
}

void batch_told_foretold(struct batch *b, const struct batch_told *t, const struct st_foretold *f)
{
    static const enum st_figure SHOWN[] = { ST_FIG_STRENGTH, ST_FIG_SUGAR, ST_FIG_ACID };
    char words[200];
    for (size_t k = 0; k < sizeof SHOWN / sizeof *SHOWN; k++) {
        const struct st_figure_info *info = st_figure_info(SHOWN[k]);
        const struct st_interval *x = &f->fig[SHOWN[k]];
        st_heard_words(words, sizeof words, x, info->unit, t->left_out > 0 ? ST_HEARD_PART : ST_HEARD_ALL);
        cli_figure_line(k == 0 ? "strength" : k == 1 ? "sugar" : "acid", words);
    }
    st_volume_words(words, sizeof words, &f->fig[ST_FIG_VOLUME], b->c->units);
    cli_figure_line("volume", words);
}
