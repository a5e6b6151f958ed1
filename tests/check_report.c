#include "check_report.h"

#include <stdio.h>
#include <string.h>

static void print_deviation(char *to, size_t room, const struct check_tally *t)
{
    if (!t->has_worst)
        (void)snprintf(to, room, "-");
    else if (t->worst_tolerance.how == CHECK_ABSOLUTE)
        (void)snprintf(to, room, "%+.2g", t->worst.deviation);
    else if (t->worst_tolerance.how == CHECK_RELATIVE)
        (void)snprintf(to, room, "%+.1g of it", t->worst.deviation);
    else
        (void)snprintf(to, room, "factor %.3g", 1.0 + t->worst.deviation);
}

static void print_allowed(char *to, size_t room, const struct check_tally *t)
{
    if (!t->has_worst) {
        (void)snprintf(to, room, "-");
        return;
    }
    const char *before = t->worst_tolerance.how == CHECK_FACTOR ? "factor " : "";
    const char *after = t->worst_tolerance.how == CHECK_RELATIVE ? " of it" : "";
    if (t->least_size == t->largest_size)
        (void)snprintf(to, room, "%s%.3g%s", before, t->worst_tolerance.size, after);
    else
        (void)snprintf(to, room, "%s%.3g%s there (%.2g to %.2g)", before, t->worst_tolerance.size, after, t->least_size,
                       t->largest_size);
}

void check_print_summary(const struct check_tally *t)
{
    char worst[60], allowed[100];
    print_deviation(worst, sizeof worst, t);
    print_allowed(allowed, sizeof allowed, t);
    printf("%s: %s: %d rows checked", check_short_path(t->path), t->function->name, t->checked);
    if (t->has_worst)
        printf(", worst %s in line %d, allowed %s", worst, t->worst_line, allowed);
    printf("; %d outside", t->outside);
    if (t->explained)
        printf(", and %d outside for a reason told in the sheet", t->explained);
    if (t->fitted)
        printf("; %d fit rows, %d outside", t->fitted, t->fitted_outside);
    if (t->shown)
        printf("; %d shown only", t->shown);
    printf("; %d states, %d wrong\n", t->statuses, t->statuses_wrong);
}

/* A cell of a Markdown table, up to a letter that ends the part worth showing: a bar would end the cell. */
static void cell(const char *text, char end)
{
    for (; *text && *text != end; text++) {
        if (*text == '|')
            printf("\\");
        printf("%c", *text);
    }
}

static void row(const struct check_tally *t)
{
    char worst[60], allowed[100], aside[60] = "";
    print_deviation(worst, sizeof worst, t);
    print_allowed(allowed, sizeof allowed, t);
    if (t->fitted || t->shown)
        (void)snprintf(aside, sizeof aside, "%.0d%s%s%.0d%s", t->fitted, t->fitted ? " fitted" : "",
                       t->fitted && t->shown ? ", " : "", t->shown, t->shown ? " shown" : "");
    printf("| ");
    cell(t->what, '\0');
    printf(" | ");
    cell(t->source, ';');
    char explained[30] = "";
    if (t->explained)
        (void)snprintf(explained, sizeof explained, " (%d explained)", t->explained);
    printf(" | %d | %s | %s | %s | %d%s | %s | %d |\n", t->checked, worst, allowed,
           t->has_worst ? t->function->unit : "-", t->outside + t->explained, explained, aside, t->statuses);
}

static void head(void)
{
    printf(
        "| quantity | source | rows checked | worst deviation | allowed | unit | outside | not counted | states |\n");
    printf("| --- | --- | ---: | ---: | ---: | --- | ---: | --- | ---: |\n");
}

static void print_contract(const struct check_tally t[], int n)
{
    int states = 0, wrong = 0, refusals = 0;
    for (int i = 0; i < n; i++) {
        if (t[i].kind == CHECK_CONTRACT) {
            states += t[i].statuses;
            wrong += t[i].statuses_wrong;
            refusals += t[i].refusals;
        }
    }
    if (states)
        printf("\nBesides, in sheets without values, %d expected states, %d of them refusals, %d wrong.\n", states,
               refusals, wrong);
}

void check_print_table(const struct check_tally t[], int n)
{
    static const char *const title[CHECK_CONTRACT] = {
        "Against published values", "Against values worked out apart from the program (not measured)",
        "Against an independent evaluation with 50 digits"
    };
    bool begun = false;
    for (int k = 0; k < CHECK_CONTRACT; k++) {
        int rows = 0, checked = 0, outside = 0, states = 0, refusals = 0;
        for (int i = 0; i < n; i++) {
            if (t[i].kind != (enum check_kind)k)
                continue;
            if (rows++ == 0) {
                printf("%s**%s**\n\n", begun ? "\n" : "", title[k]);
                head();
                begun = true;
            }
            row(&t[i]);
            checked += t[i].checked;
            outside += t[i].outside + t[i].explained;
            states += t[i].statuses;
            refusals += t[i].refusals;
        }
        if (rows)
            printf("\n%d rows checked, %d outside; %d expected states, %d of them refusals.\n", checked, outside,
                   states, refusals);
    }
    print_contract(t, n);
}

void check_print_list(void)
{
    for (const struct check_function *f = check_functions; f->name; f++) {
        printf("%s: %s\n    columns ", f->name, f->what);
        const int n = check_n_args(f);
        for (int i = 0; i < n; i++)
            printf(" %s", f->arg[i].name);
        printf(" %s tol\n", f->result);
        for (int i = 0; i < n; i++)
            printf("    %-14s %s\n", f->arg[i].name, f->arg[i].unit);
        printf("    %-14s %s\n", f->result, f->unit);
    }
}
