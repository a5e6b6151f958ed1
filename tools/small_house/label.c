#include "house.h"

#include "text/rules_built.h"

/* The label of a bottling, by the program's own books. */

const char *house_label(struct house *h, const struct house_read *r, const struct st_batch_labelled *of)
{
    static struct st_rule_books *rules;
    static struct st_label_books *books;
    static struct st_homes *homes;
    struct st_problem p = { .what = "" };
    if (!rules)
        rules = st_rules_built(&p);
    if (rules && !homes)
        homes = st_homes_built(&p);
    if (homes && !books)
        books = st_label_books_create(&p);
    const struct st_home *home = homes ? st_home_find(homes, HOUSE_PLACE) : NULL;
    if (!books || !home)
        house_fail(p.what, p.why);
    struct st_watch w = st_watch_usual(rules, homes, &r->file.recipe);
    w.place = home;
    return st_batch_label(&h->arena, &r->file.recipe, &r->out, &w, books, of);
}
