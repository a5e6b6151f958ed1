#include <ctype.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "number.h"
#include "take_whole.h"

/* Recipes in parts: "one part raspberries, two parts vodka".  The ratio is what counts; a part is taken for 500 g of
 * what is weighed and 500 mL of what is poured until it is told. */

enum { PART = 500 };

static double part_size(const struct st_taking *t, bool *answered)
{
    const char *answer = st_take_answer_to(t->given, "part.amount");
    struct st_number n;
    struct st_scan s = { answer ? answer : "", answer ? answer + strlen(answer) : "" };
    const char *why;
    *answered = answer && st_number_read(&s, &n, &why) == 1 && n.value >= 1 && n.value <= 1e5;
    return *answered ? n.value : PART;
}

/* "two parts of " at s: how many, and how many bytes it takes; 0 when it is none. */
static double parts_at(const char *s, size_t *size)
{
    struct st_scan scan = { s, s + strlen(s) };
    struct st_number n;
    const char *why;
    if (st_number_read(&scan, &n, &why) != 1 || !(n.value > 0 && n.value < 100) || n.vague)
        return 0;
    if (!st_scan_word(&scan, "part|parts"))
        return 0;
    if (st_scan_word(&scan, "of the|of that|of this|to"))
        return 0; /* of what is made, not of a thing */
    (void)st_scan_word(&scan, "of|by weight|by volume");
    st_scan_blanks(&scan);
    *size = (size_t)(scan.at - s);
    return n.value;
}

/* Is the thing weighed?  What is not known is poured. */
static bool is_weighed(const struct st_taking *t, const char *name)
{
    char text[120];
    const size_t n = strcspn(name, ",;(.");
    struct st_take_item item[ST_TAKE_ITEMS];
    struct st_take_context context = { .measures = ST_MEASURES_METRIC };

    (void)snprintf(text, sizeof text, "500 g %.*s", (int)(n > 100 ? 100 : n), name);
    memset(item, 0, sizeof item);
    if (st_take_line(text, strlen(text), t->catalogue, &context, item) < 1 || !item[0].line.what)
        return false;
    const enum st_kind k = item[0].line.what->kind;
    return st_kind_is_solid(k) || k == ST_KIND_SUGAR || k == ST_KIND_SWEETENER;
}

/* "... to three parts of the liquor": what one of them is, from the spirit that was poured; 0 when none is told. */
static double part_of_liquor(const struct st_taking *t, const char *sentence)
{
    for (const char *to = strstr(sentence, " to "); to; to = strstr(to + 4, " to ")) {
        struct st_scan s = { to + 4, to + strlen(to) };
        struct st_number n;
        const char *why;
        if (st_number_read(&s, &n, &why) == 1 && n.value > 0 && n.value < 100 &&
            st_scan_word(&s, "parts of the|parts of that|part of the|parts liquor|part liquor"))
            return t->poured_ml / n.value;
    }
    return 0;
}

/* The thing that a list tells at i; its bytes, 0 when the words are no known name. */
static size_t listed_name(const struct st_taking *t, const char *text, size_t *next)
{
    size_t n = strcspn(text, ",;.(&+");
    const char *and = strstr(text, " and ");
    if (and&&(size_t)(and-text) < n)
        n = (size_t)(and-text);
    *next = n;
    while (text[*next] == ',' || text[*next] == ' ' || text[*next] == '&' || text[*next] == '+')
        ++*next;
    if (strncmp(text + *next, "and ", 4) == 0)
        *next += 4;
    return n > 0 && n < 60 && st_catalogue_find(t->catalogue, text, n) ? n : 0;
}

/* "Equal parts damsons, sugar and gin" -> "1 part damsons, 1 part sugar and 1 part gin"; itself when it is no such
 * list. */
static const char *equal_parts(struct st_taking *t, const char *sentence)
{
    static const char EQUAL[] = "equal parts of|equal parts|equal quantities of|equal amounts of|equal measures of|"
                                "equal volumes of|equal weights of";
    for (const char *at = sentence; *at; at++) {
        struct st_scan s = { at, at + strlen(at) };
        if ((at > sentence && isalnum((unsigned char)at[-1])) || *at == ' ' || !st_scan_word(&s, EQUAL))
            continue;
        struct st_buf out = { 0 };
        int n = 0;
        st_scan_blanks(&s);
        st_buf_add_n(&out, sentence, (size_t)(at - sentence));
        for (size_t next, k; (k = listed_name(t, s.at, &next)) > 0; s.at += next, n++)
            st_buf_printf(&out, "%s1 part %.*s", n ? ", " : "", (int)k, s.at);
        st_buf_add(&out, s.at);
        const char *said = n > 1 ? st_arena_strdup(t->arena, st_buf_text(&out)) : sentence;
        st_buf_done(&out);
        return said;
    }
    return sentence;
}

const char *st_take_parts_said(struct st_taking *t, const char *written)
{
    const char *sentence = equal_parts(t, written);
    struct st_buf out = { 0 };
    bool answered, found = false;
    const double part = part_size(t, &answered);

    if (!st_take_has_word(sentence, "part|parts"))
        return written;
    const double of_liquor = part_of_liquor(t, sentence);
    double poured = 0;
    for (const char *s = sentence; *s;) {
        size_t size = 0;
        const bool begins =
            *s != ' ' && (s == sentence || !(isalnum((unsigned char)s[-1]) || (unsigned char)s[-1] >= 0x80));
        const double n = begins ? parts_at(s, &size) : 0;
        if (n > 0 && s[size]) {
            const bool weighed = is_weighed(t, s + size);
            if (of_liquor > 0 && !found && !weighed) /* the fruit gives juice and holds some back */
                st_buf_printf(&out, "%.0f-%.0f mL ", 0.85 * n * of_liquor, 1.25 * n * of_liquor);
            else
                st_buf_printf(&out, "%g %s ", n * part, weighed ? "g" : "mL");
            poured += weighed ? 0 : n * part;
            s += size;
            found = true;
        } else
            st_buf_char(&out, *s++);
    }
    const char *said = found ? st_arena_strdup(t->arena, st_buf_text(&out)) : written;
    st_buf_done(&out);
    t->poured_ml += of_liquor > 0 ? 0 : poured;
    if (found && !answered)
        st_take_say(t, "How large a part is, is not said: %d g or mL is taken; the strength does not hang on it.",
                    PART);
    t->parts = t->parts || found;
    return said;
}

int st_take_part_ask(const struct st_taking *t, struct st_take_ask *ask)
{
    static const char *const LABEL[] = { "100", "250", "500", "1000" };
    if (!t->parts)
        return 0;
    *ask = (struct st_take_ask){ .kind = ST_ASK_AMOUNT, .ask = "How large is one part, in g or mL?", .n_option = 4 };
    for (int i = 0; i < 4; i++)
        (void)snprintf(ask->option[i].label, sizeof ask->option[i].label, "%s", LABEL[i]);
    (void)snprintf(ask->with, sizeof ask->with, "%%s");
    return 4;
}
