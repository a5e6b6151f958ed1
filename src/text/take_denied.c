#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "scan.h"
#include "take_prose.h"
#include "take_words.h"

/* What somebody says that does not go in: "I leave out the cloves", "some people add a clove; I don't". */

static struct st_scan from(const char *text, size_t at)
{
    return (struct st_scan){ text + at, text + strlen(text) };
}

static bool begins_word(const char *text, size_t i)
{
    return st_take_is_word_byte(text[i]) && (i == 0 || !(st_take_is_word_byte(text[i - 1]) || text[i - 1] == '\''));
}

/* Where the clause at a byte ends: at a sign, or before "but". */
static size_t clause_end(const char *text, size_t at)
{
    size_t i = at;
    for (; text[i] && !strchr(",;.!()", text[i]); i++) {
        struct st_scan s = from(text, i);
        if (i > at && begins_word(text, i) && st_scan_word(&s, "but|though|although|because"))
            break;
    }
    while (i > at && text[i - 1] == ' ')
        i--;
    return i;
}

static bool is_conditional(const char *text, size_t at, size_t end)
{
    for (size_t i = at; i < end; i++) {
        struct st_scan s = from(text, i);
        if (begins_word(text, i) &&
            st_scan_word(&s,
                         "if|unless|until|till|when|whenever|for now|at first|to begin with|later|sometimes|often|may|"
                         "can|could|might"))
            return true;
    }
    return false;
}

/* "leave the lemon out": "out" within the next words. */
static bool then_out(struct st_scan s)
{
    for (int words = 0; words < 5 && s.at < s.end; words++) {
        st_scan_blanks(&s);
        if (st_scan_word(&s, "it|them|out in|out on|out for|out there"))
            return false;
        if (st_scan_word(&s, "out"))
            return true;
        while (s.at < s.end && st_take_is_word_byte(*s.at))
            s.at++;
        if (s.at < s.end && *s.at != ' ')
            return false;
    }
    return false;
}

static bool says_left_out(struct st_scan *s, bool who)
{
    static const char OUT[] = "leave out|leaves out|left out|omit|omits|omitted|skip|skips|skipped|do without|does "
                              "without|did without|dispense with|go without";
    static const char NEVER[] = "don't use|do not use|don't add|do not add|don't put in|do not put in|don't put|do not "
                                "put|never use|never add|never put in|never put|didn't use|did not use|didn't add|did "
                                "not add|won't use|no longer use|no longer add|don't bother with|do not bother with";
    struct st_scan leave = *s;
    if (st_scan_word(s, OUT) || (who && st_scan_word(s, NEVER)))
        return true;
    return st_scan_word(&leave, "leave|leaves|left") && then_out(leave);
}

/* The clause that begins at a byte says that a thing is left out: its bytes, 0 when it does not. */
static size_t left_out(const char *text, size_t at)
{
    struct st_scan s = from(text, at);

    while (st_scan_word(&s, "and|but|so|then|personally|however|this time|usually") && st_scan_blanks(&s))
        continue;
    const bool who = st_scan_word(&s, "i|we|she|he|they|you|mother|grandmother|gran|my mother|my grandmother");
    st_scan_blanks(&s);
    if (st_scan_word(&s, "usually|always|just|simply|now|normally|also|generally|myself|prefer to|would"))
        st_scan_blanks(&s);
    if (!says_left_out(&s, who))
        return 0;
    const size_t end = clause_end(text, at);
    return is_conditional(text, at, end) ? 0 : end - at;
}

/* "I don't.", "we left it out": what stood in the clause before does not go in; its bytes. */
static size_t refused(const char *text, size_t at)
{
    struct st_scan s = from(text, at);

    (void)(st_scan_word(&s, "and|but|though|which") && st_scan_blanks(&s));
    if (!st_scan_word(&s,
                      "i don't|we don't|i do not|we do not|i never do|we never do|i didn't|we didn't|not i|not me|not "
                      "us|not here|i won't|we left it out|we leave it out|i left it out|i leave it out|we left "
                      "them out|we leave them out|i left them out|i leave them out|she left it out|he left it out|"
                      "she leaves it out|he leaves it out|i do without|we do without"))
        return 0;
    (void)st_scan_word(&s, "this time|altogether|any more|anymore");
    return s.at >= s.end || strchr(".,;!)", *s.at) ? (size_t)(s.at - (text + at)) : 0;
}

static bool begins_clause(const char *text, size_t i)
{
    if (!begins_word(text, i))
        return false;
    size_t k = i;
    while (k > 0 && text[k - 1] == ' ')
        k--;
    if (k == 0 || strchr(",;:.(!", text[k - 1]))
        return true;
    struct st_scan s = from(text, k > 3 ? k - 3 : 0);
    return (st_scan_word(&s, "and|but") && s.at == text + k) || (s = from(text, i), st_scan_word(&s, "and|but|though"));
}

/* Where the clause before a byte begins. */
static size_t clause_before(const char *text, size_t at)
{
    size_t i = at;
    while (i > 0 && strchr(" ,;", text[i - 1]))
        i--;
    while (i > 0 && !strchr(",;.", text[i - 1]))
        i--;
    while (i < at && text[i] == ' ')
        i++;
    return i;
}

size_t st_take_denied(const char *text, size_t from_at, size_t *at)
{
    for (size_t i = from_at; text[i]; i++) {
        if (!begins_clause(text, i))
            continue;
        const size_t refuses = refused(text, i), out = refuses ? 0 : left_out(text, i);
        if (refuses) {
            *at = clause_before(text, i);
            *at = *at < from_at ? from_at : *at;
            return i + refuses - *at;
        }
        if (out) {
            *at = i;
            return out;
        }
    }
    return 0;
}

/* ---- of what was listed ---- */

static void leave_out(struct st_taking *t, int entry, int line)
{
    struct st_entry *e = &t->entry[entry];
    struct st_taken *row = &t->row[e->row];
    if (row->line == line && row->in_method)
        return; /* "we leave out one of the two lemons" of the same breath */
    *e->item = (struct st_take_item){ .role = ST_TAKE_NOTE, .line = e->item->line };
    (void)snprintf(e->item->because, sizeof e->item->because, "left out, as line %d says", line);
    e->left = 0;
    memset(row->put, 0, sizeof row->put);
    row->entry = -1;
}

void st_take_leave_out_denied(struct st_taking *t)
{
    struct st_mention m[ST_TAKE_MENTIONS];

    for (int i = 0; i < t->n_row; i++) {
        const char *text = t->row[i].own;
        if (i > 0 && t->row[i - 1].own == text)
            continue;
        for (size_t at = 0, n, next = 0; (n = st_take_denied(text, next, &at)) > 0; next = at + n) {
            const int found = st_take_mentions(t, st_arena_strndup(t->arena, text + at, n), m);
            for (int k = 0; k < found; k++)
                if (!(m[k].share < 1))
                    leave_out(t, m[k].entry, t->row[i].line);
        }
    }
}
