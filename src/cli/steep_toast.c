#include <stdio.h>

#include "cli/page.h"
#include "cli/steep.h"
#include "text/toast_words.h"

enum { TOASTS = 16, WORDS = 600 };

/* What frees hydrogen cyanide: the rule once, then what may be left in each. */
static void print_poison(const struct st_toast_told *t)
{
    char words[WORDS];
    bool any = false;
    for (int i = 0; i < t->n_piece; i++) {
        st_toast_left_words(words, sizeof words, &t->piece[i]);
        if (*words && !any)
            cli_wrap(4, 6, st_toast_flavour_only);
        if (*words)
            cli_wrap(4, 6, words);
        any = any || *words;
    }
}

static void print_toast(const struct st_recipe *r, const struct st_toast_told *t)
{
    char words[WORDS];
    printf("  %s\n", r->step[t->step].id);
    for (int i = 0; i < t->n_piece; i++) {
        st_toast_piece_words(words, sizeof words, t, &t->piece[i]);
        cli_wrap(4, 6, words);
    }
    if (t->more)
        cli_say(4, 6, "and %d more, which are not followed.", t->more);
    print_poison(t);
    st_toast_basis_words(words, sizeof words, t);
    if (*words)
        cli_wrap(4, 6, words);
}

void steep_print_toasts(const struct steep *s)
{
    int at[TOASTS];
    const struct st_recipe *r = s->task.recipe;
    const int n = st_toasts_for(r, s->task.step, at, TOASTS);
    if (n == 0)
        return;
    cli_heading("Toasting");
    for (int i = 0; i < n; i++) {
        struct st_toast_told t;
        if (st_toast_step(&s->task.books->jar, r, at[i], st_toast_way_of(&r->step[at[i]]), s->task.seed, &t) >= 0)
            print_toast(r, &t);
    }
}

void page_toast(const struct page *p, int step)
{
    struct st_problem problem = { .what = "" };
    struct st_steep_books *books = st_steep_books_create(&problem);
    struct st_toast_told t;
    char words[WORDS];
    if (books &&
        st_toast_step(&books->jar, p->recipe, step, st_toast_way_of(&p->recipe->step[step]), p->cli->seed, &t) >= 0) {
        bool poison = false;
        for (int i = 0; i < t.n_piece; i++) {
            st_toast_piece_words(words, sizeof words, &t, &t.piece[i]);
            cli_wrap(4, 6, words);
            poison = poison || t.piece[i].cyanogenic;
        }
        if (poison)
            cli_wrap(4, 6, st_toast_flavour_only);
    }
    st_steep_books_free(books);
}
