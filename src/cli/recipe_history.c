#include <string.h>

#include "cli/larder.h"
#include "cli/page.h"
#include "cli/recipe.h"
#include "text/day_words.h"
#include "util/buf.h"

/* What was changed from one try to the next. */

/* Each line of the sentences, wrapped. */
static void sentences(const struct st_compared *c)
{
    struct st_buf text = { 0 };
    if (!c->done) {
        cli_wrap(4, 4, "One of the two cannot be read any more, so nothing can be compared.");
        return;
    }
    st_try_changes_print(&c->changes, &text);
    for (char *line = text.text; line && *line;) {
        char *end = strchr(line, '\n');
        if (end)
            *end = '\0';
        if (*line)
            cli_wrap(4, 6, line);
        line = end ? end + 1 : NULL;
    }
    st_buf_done(&text);
}

static int upper(char c)
{
    return c >= 'a' && c <= 'z' ? c - 'a' + 'A' : c;
}

/* The changes alone, and what all do to strength, sugar and volume. */
static void in_short(const struct st_compared *c)
{
    struct st_buf text = { 0 };
    char before[60], after[60];
    static const enum st_figure SHOWN[] = { ST_FIG_STRENGTH, ST_FIG_SUGAR, ST_FIG_VOLUME };
    static const char *const NAME[] = { "strength", "sugar", "volume" };
    int n = 0;

    if (!c->done) {
        sentences(c);
        return;
    }
    for (int i = 0; i < c->changes.n; i++)
        if (!st_try_said_before(&c->changes, i))
            cli_say(4, 6, "%c%s.", upper(c->changes.change[i].text[0]), c->changes.change[i].text + 1);
    if (c->changes.n == 0)
        cli_wrap(4, 6, "Nothing changed.");
    for (int k = 0; k < 3; k++)
        for (int i = 0; i < c->changes.n_figure; i++) {
            const struct st_try_figure *f = &c->changes.figure[i];
            if (f->of != SHOWN[k])
                continue;
            st_figure_value(before, sizeof before, &f->is[0]);
            st_figure_value(after, sizeof after, &f->is[1]);
            if (strcmp(before, after) != 0)
                st_buf_printf(&text, "%s%s %s -> %s %s", n++ ? ", " : "", NAME[k], before, after,
                              st_figure_info(f->of)->unit);
        }
    if (n > 0)
        cli_say(4, 6, "So: %s.", st_buf_text(&text));
    st_buf_done(&text);
}

static const struct st_try *named(const struct st_try *all, int n, const char *ref)
{
    for (int i = 0; i < n && ref; i++)
        if (strcmp(all[i].ref, ref) == 0)
            return &all[i];
    return NULL;
}

static void title(const struct st_try *t, const struct st_try *before)
{
    char when[40];
    st_days_words(when, sizeof when, -t->age);
    putchar('\n');
    cli_say(0, 4, "%s%s%s %lld, %s (%s)%s%s%s", t->row.side, *t->row.side ? ", " : "", *t->row.side ? "try" : "Try",
            (long long)t->row.number, t->row.on_day, when,
            before && before->row.number != t->row.number - 1 ? ", from " : "",
            before && before->row.number != t->row.number - 1 ? before->ref : "", *t->row.note ? ":" : "");
    if (*t->row.note)
        cli_wrap(4, 4, t->row.note);
}

/* One try after the one it was changed from. */
static int one(const struct cli *c, const struct st_try *t, const struct st_try *before, json_t *doc)
{
    struct st_compared cmp;
    const struct st_how how = recipe_how(c);
    json_t *o = doc ? st_doc_try(t, false) : NULL;
    char q[160];

    if (!doc)
        title(t, before);
    if (before && !st_tries_compare(&how, c->units, before, t, &cmp)) {
        st_compared_done(&cmp);
        json_decref(o);
        return ST_EXIT_SYSTEM;
    }
    if (doc)
        json_object_set_new(o, "difference", before ? st_doc_compared(&cmp) : json_null());
    else if (before)
        in_short(&cmp);
    else if (t->program) {
        recipe_figure(q, sizeof q, t, ST_FIG_STRENGTH);
        cli_say(4, 6, "%s;", q);
        recipe_figure(q, sizeof q, t, ST_FIG_SUGAR);
        cli_say(4, 6, "sugar %s.", q);
    }
    if (before)
        st_compared_done(&cmp);
    if (doc)
        json_array_append_new(doc, o);
    return ST_EXIT_DONE;
}

int recipe_history(struct cli *c)
{
    struct cli_desk d;
    struct st_try *all;
    int n;

    int code = larder_ready(c, NULL, 1, 1, "write for example: stillroom recipe history \"Damson liqueur\"");
    if (code == ST_EXIT_DONE)
        code = cli_desk_open(c, BOOK_READ, false, &d);
    if (code != ST_EXIT_DONE)
        return code;
    json_t *doc = c->json ? json_array() : NULL;
    if (!st_tries_of(&d.desk, c->argv[0], &all, &n)) {
        code = cli_desk_fail(&d);
        n = 0;
    }
    if (n > 0 && !c->json)
        cli_say(0, 0, "%s: %d %s", all[0].recipe, n, n == 1 ? "try" : "tries");
    for (int i = 0; i < n && code == ST_EXIT_DONE; i++)
        code = one(c, &all[i], named(all, n, all[i].from), doc);
    if (c->json && code == ST_EXIT_DONE)
        code = cli_json_print(
            json_pack("{s:o, s:O}", "recipe", n ? st_doc_text(all[0].recipe) : json_null(), "tries", doc));
    json_decref(doc);
    cli_desk_close(&d);
    return code;
}

int recipe_difference(struct cli *c)
{
    struct cli_desk d;
    struct st_try a, b;
    struct st_compared cmp;
    const struct st_how how = recipe_how(c);

    int code = larder_ready(c, NULL, 2, 2,
                            "write for example: stillroom recipe difference \"Damson liqueur/1\" \"Damson liqueur/2\"");
    if (code == ST_EXIT_DONE)
        code = cli_desk_open(c, BOOK_READ, false, &d);
    if (code != ST_EXIT_DONE)
        return code;
    if (!st_try_named(&d.desk, c->argv[0], &a) || !st_try_named(&d.desk, c->argv[1], &b)) {
        code = cli_desk_fail(&d);
        cli_desk_close(&d);
        return code;
    }
    if (!st_tries_compare(&how, c->units, &a, &b, &cmp))
        code = ST_EXIT_SYSTEM;
    else if (c->json)
        code = cli_json_print(json_pack("{s:o, s:o, s:o}", "from", st_doc_try(&a, false), "to", st_doc_try(&b, false),
                                        "difference", st_doc_compared(&cmp)));
    else {
        printf("From %s to %s\n", a.ref, b.ref);
        sentences(&cmp);
    }
    st_compared_done(&cmp);
    cli_desk_close(&d);
    return code;
}
