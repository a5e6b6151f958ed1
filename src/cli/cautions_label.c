/* What a label tells, and what a guest asks. */
#include "cli/cautions.h"

#include <string.h>

#include "text/advice.h"
#include "text/label_books.h"

const struct st_label_books *cautions_books(void)
{
    static struct st_label_books *books;
    struct st_problem problem = { .what = "" };
    if (!books)
        books = st_label_books_create(&problem);
    if (!books)
        cli_error(problem.what, problem.why, problem.try_);
    return books;
}

/* Nobody is told what else is in a drink that nobody must drink. */
bool cautions_is_stopped(const struct cautions_page *p)
{
    return p->facts->n > 0 && strcmp(p->facts->item[0].code, "stop") == 0;
}

void cautions_label_fill(struct cautions_page *p)
{
    st_label_told(p->books, p->recipe, p->out, p->ledger, &p->watch, p->list, p->facts);
    if (p->asked && !cautions_is_stopped(p))
        p->n_answer = st_guest_check(p->books->guest, p->asked, p->recipe, p->out, p->books->allergens,
                                     p->books->agents, p->answer, ST_MAX_GUEST, &p->answers_cut);
}

bool cautions_guest_understood(const struct cautions_page *p)
{
    for (int i = 0; i < p->n_answer; i++)
        if (p->answer[i].is != ST_GUEST_ASK_BACK)
            return true;
    return !p->asked || cautions_is_stopped(p);
}

/* ---- a fact ---- */

/* A capital first ("mL" stays), a full stop last, unless there is nothing. */
static const char *sentence(const char *text, char *buf, size_t size)
{
    snprintf(buf, size - 1, "%s", text);
    if (buf[0] >= 'a' && buf[0] <= 'z' && !(buf[1] >= 'A' && buf[1] <= 'Z'))
        buf[0] = (char)(buf[0] - 'a' + 'A');
    size_t n = strlen(buf);
    while (n > 0 && strchr(" ;", buf[n - 1]))
        buf[--n] = '\0';
    if (n > 0 && !strchr(".!?", buf[n - 1])) {
        buf[n] = '.';
        buf[n + 1] = '\0';
    }
    return buf;
}

/* What brings it stands first in the reason of an allergen. */
static bool says_whence(const struct st_label_fact *f)
{
    return strcmp(f->code, "allergen") == 0 && strncmp(f->because, "from ", 5) == 0;
}

static void print_fact(const struct cautions_page *p, const struct st_label_fact *f)
{
    char what[sizeof f->what + 200], line[sizeof what + 2], because[sizeof f->because + 2], source[280];
    snprintf(what, sizeof what, "%s", f->what);
    if (!p->cli->explain && says_whence(f))
        snprintf(what, sizeof what, "%s, %.*s", f->what, (int)strcspn(f->because, ";"), f->because);
    sentence(what, line, sizeof line);
    if (p->cli->explain && (f->because[0] || strcmp(f->code, "made_of") != 0)) /* of parts the first has it for all */
        cli_say(2, 4, "%s %s %s", line, sentence(f->because, because, sizeof because),
                st_label_source(f, source, sizeof source));
    else
        cli_say(2, 4, "%s", line);
}

static void print_cut(const struct cautions_page *p)
{
    if (p->facts->cut)
        cli_wrap(2, 4, "There is more to tell than there is room for here: this list is not whole.");
}

/* A name of law says nothing of what the drink holds. */
static void print_no_leave(const struct cautions_page *p)
{
    if (st_ledger_passes(p->ledger) && !cautions_is_stopped(p))
        cli_wrap(2, 4, "A name gives no leave to pour it: see above what it is over.");
}

/* ---- the short section, and all ---- */

void cautions_names_print(const struct cautions_page *p)
{
    int n = 0, far = 0;
    cli_heading(cautions_is_stopped(p) ? st_label_heading("stop") : st_label_heading("class"));
    for (int i = 0; i < p->facts->n; i++) {
        const struct st_label_fact *f = &p->facts->item[i];
        if (strcmp(f->code, "class") != 0 && strcmp(f->code, "stop") != 0)
            continue;
        far += f->far;
        n += !f->far;
        if (!f->far)
            print_fact(p, f);
    }
    if (n == 0)
        cli_wrap(2, 4,
                 far ? "It is near to no name that is known here."
                     : "No names of drinks are known here for this place.");
    print_no_leave(p);
    print_cut(p);
}

void cautions_label_print(const struct cautions_page *p)
{
    const char *now = "";
    for (int i = 0; i < p->facts->n; i++) {
        const struct st_label_fact *f = &p->facts->item[i];
        if (strcmp(now, f->code) != 0)
            cli_heading(st_label_heading(f->code));
        now = f->code;
        print_fact(p, f);
    }
    print_no_leave(p);
    print_cut(p);
}

/* ---- a guest ---- */

static void print_answer(const struct cautions_page *p, const struct st_guest_answer *a)
{
    char line[sizeof a->what + 2], because[sizeof a->because + 2];
    const struct st_label_fact from = { .source = a->source, .mark = 'r' };
    char source[120];
    sentence(a->what, line, sizeof line);
    if (!p->cli->explain) {
        cli_say(2, 4, "%s %s", line, sentence(a->row ? a->row->says : "", because, sizeof because));
        return;
    }
    cli_say(2, 4, "%s %s %s", line, sentence(a->because, because, sizeof because),
            st_label_source(&from, source, sizeof source));
}

void cautions_guest_print(const struct cautions_page *p)
{
    cli_heading("What a guest asks: is it in this bottle?");
    if (cautions_is_stopped(p)) {
        cli_wrap(2, 4, "Nothing is answered while something says STOP: offer it to nobody.");
        return;
    }
    for (int i = 0; i < p->n_answer; i++)
        print_answer(p, &p->answer[i]);
    if (p->answers_cut)
        cli_say(2, 4, "Only the first %d words are answered: ask again with the others.", p->n_answer);
    cli_wrap(2, 4, "Only what the recipe lists is looked at: traces, and what is in bought things, the packs tell.");
}
