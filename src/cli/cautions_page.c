#include "cli/cautions.h"

#include <math.h>
#include <string.h>

#include "text/caution_words.h"
#include "text/figure_words.h"

/* ---- the list: one line a finding ---- */

/* "in jar" where it is not a finding about the whole bottle. */
static void print_line(const struct cautions_page *p, const struct st_caution *c)
{
    char heading[sizeof c->what], source[120];
    const char *word = c->level == ST_LEVEL_STOP      ? "STOP"
                       : c->level == ST_LEVEL_OVER    ? "Over the limit"
                       : c->level == ST_LEVEL_CAUTION ? "Caution"
                                                      : "Note";
    st_caution_heading(c, heading, sizeof heading);
    st_caution_source(c, source, sizeof source);
    if (heading[0] >= 'a' && heading[0] <= 'z')
        heading[0] = (char)(heading[0] - 'a' + 'A');
    cli_say(0, 2, source[0] == '[' ? "%s: %s%s%s. %s" : "%s: %s%s%s. (%s)", word, heading, c->step >= 0 ? ", in " : "",
            c->step >= 0 ? p->recipe->step[c->step].id : "", source);
}

/* ---- why: each worst case with its carriers and its limits ---- */

static void print_carrier(const struct cautions_page *p, const struct st_carrier *c)
{
    const struct st_ingredient *in = p->recipe->step[c->step].line[c->line].what;
    char weight[60], high[40], ceiling[40];
    st_grams_words(weight, sizeof weight, c->source_g);
    if (c->assay) {
        cli_say(4, 6, "%s %s (in %s): your assay, %s mg/kg, %s, %s", weight, in ? in->name : "",
                p->recipe->step[c->step].id, st_bound_words(c->assay->mg_kg, ceiling, sizeof ceiling),
                c->assay->laboratory, c->assay->date);
        return;
    }
    if (!c->content || isnan(c->content->ceiling_mg_kg)) {
        cli_say(4, 6, "%s %s (in %s): no ceiling is published, so it is not assessed%s%s", weight, in ? in->name : "",
                p->recipe->step[c->step].id, c->content && *c->content->note ? ". " : "",
                c->content ? c->content->note : "");
        return;
    }
    if (c->content->mark == 'u') { /* of its own definition: a drink made before */
        cli_say(4, 6, "%s %s (in %s): %s%s%s mg in a kg; at most %s mg of it in the drink", weight, in ? in->name : "",
                p->recipe->step[c->step].id, c->content->note, *c->content->note ? ": " : "at most ",
                st_bound_words(c->content->ceiling_mg_kg, ceiling, sizeof ceiling),
                st_bound_words(c->high_mg, high, sizeof high));
        return;
    }
    cli_say(4, 6,
            "%s %s (in %s): the most that is known is %s mg in a kg%s%s%s%s%s %s; at most %s mg of it in the drink%s",
            weight, in ? in->name : "", p->recipe->step[c->step].id,
            st_bound_words(c->content->ceiling_mg_kg, ceiling, sizeof ceiling), *c->content->through ? " (" : "",
            c->content->through, *c->content->through ? ")" : "",
            c->content->mark == 'm' ? ", an unverified figure" : "", *c->content->note ? "; " : "", c->content->source,
            st_bound_words(c->high_mg, high, sizeof high), c->share < 1.0 ? ", the share that was poured" : "");
}

static void print_entry(const struct cautions_page *p, const struct st_ledger_entry *e)
{
    char text[600], a[40], b[40], c[40];
    cli_say(2, 4, "%s: %s %s", e->toxicant->name, e->toxicant->harm, e->toxicant->source);
    for (int i = 0; i < e->n_carrier; i++)
        print_carrier(p, &e->carrier[i]);
    if (!isnan(e->high_mg_kg) && st_entry_is_known(e))
        cli_say(4, 6, "In the drink: at most %s mg/kg, %s mg/L, %s mg in %g mL",
                st_bound_words(e->high_mg_kg, a, sizeof a), st_bound_words(e->high_mg_l, b, sizeof b),
                st_bound_words(e->high_serving_mg, c, sizeof c), p->watch.who.serving_ml);
    if (st_entry_is_known(e) && *st_entry_dense_words(e, text, sizeof text))
        cli_say(4, 6, "%s.", text);
    for (int i = 0; i < e->n_test; i++) {
        st_test_words(&e->test[i], &p->watch.who, text, sizeof text);
        cli_say(4, 6, "%s %s", text, e->test[i].rule->source);
    }
    for (int i = 0; i < p->watch.books->n_rule; i++) { /* what may not be put in as the substance itself */
        const struct st_rule *rule = &p->watch.books->rule[i];
        if (rule->scope == ST_SCOPE_ADDED && (rule->places & p->watch.place->places) &&
            strcmp(rule->toxicant, e->toxicant->slug) == 0)
            cli_say(4, 6, "%s %s, %s (%d). %s", rule->says, rule->document, rule->article, rule->year, rule->source);
    }
    if (!e->n_test)
        cli_say(4, 6, "no limit for it in a drink is known here");
    if (st_most_words(p->recipe, e, text, sizeof text)[0])
        cli_say(4, 6, "%s", text);
}

/* ---- the page ---- */

static void print_held(const struct cautions_page *p)
{
    const struct st_home *at = p->watch.place;
    const bool the = strncmp(at->name, "European", 8) == 0 || strncmp(at->name, "United", 6) == 0;
    cli_say(0, 0, "Held against the rules of %s%s%s, for %g mL poured to a person of %g kg.", the ? "the " : "",
            at->name,
            strcmp(at->code, "strictest") == 0 ? " known here, the strictest first" : " and what health bodies say",
            p->watch.who.serving_ml, p->watch.who.body_weight_kg);
}

void cautions_page_print(const struct cautions_page *p)
{
    if (p->recipe->title && *p->recipe->title)
        cli_say(0, 0, "%s", p->recipe->title);
    print_held(p);
    if (!p->out)
        cli_wrap(0, 0,
                 "Its figures could not be foretold: all that goes in is taken to be in the drink, and what needs a "
                 "volume or a strength is not known.");
    if (p->asked && !cautions_is_stopped(p))
        cautions_guest_print(p);
    putchar('\n');
    for (int i = 0; i < p->list->n; i++) {
        const struct st_caution *c = &p->list->item[i];
        if (p->cli->explain)
            page_caution(0, c);
        else if (!st_ledger_names(p->ledger, c->step, c->line, c->code)) /* its line says more */
            print_line(p, c);
    }
    if (p->cli->explain && p->ledger->n_entry) {
        cli_heading("The worst cases, one by one");
        for (int i = 0; i < p->ledger->n_entry; i++)
            print_entry(p, &p->ledger->entry[i]);
    }
    if (p->asked && cautions_is_stopped(p)) /* what says STOP goes first */
        cautions_guest_print(p);
    if (p->label)
        cautions_label_print(p);
    else
        cautions_names_print(p);
    putchar('\n');
    if (!p->cli->explain)
        cli_say(0, 0, "--explain tells why, each limit one by one%s.",
                p->label ? "" : "; --label all that a label tells");
    cli_say(0, 0, "%s Rules known up to %d. Not known here: %s. What is not listed was not looked at.",
            p->watch.place->first, p->watch.place->year, p->watch.place->unknown);
}
