/* Any bytes as one of the sheets of what a drink may hold, the others as they should be: read, or refused with a line and a
 * reason.  The first byte says which. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "text/place_sheet.h"
#include "text/rule_sheets.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static const char *const GOOD[ST_NRULE_SHEET] = {
    "slug\tname\tflags\tharm\tmark\tsource\nx\tX\tx\tHarms.\tm\tfrom memory\n",
    "ingredient\tflag\tdegree\ttoxicant\tfound_mg_kg\tceiling_mg_kg\tthrough\tmark\tsource\tnote\n",
    "id\tplaces\tstanding\tscope\ttoxicant\tplant\tunit\tlimit\tasks\tdocument\tarticle\tyear\tmark\tsource\tsays\n",
};

static void told(const struct st_problem *p)
{
    if (!*p->what || !*p->why || !*p->try_)
        abort();
}

/* What was read keeps what its contract says. */
static void use(const struct st_rule_books *b)
{
    for (int i = 0; i < b->n_content; i++)
        if (!(isnan(b->content[i].ceiling_mg_kg) || b->content[i].ceiling_mg_kg >= 0.0) || !*b->content[i].source)
            abort();
    for (int i = 0; i < b->n_rule; i++) {
        const struct st_rule *r = &b->rule[i];
        if (!r->places || isnan(r->limit) != (r->unit == ST_RULE_PRESENT) || !st_rule_unit_words(r->unit) ||
            !st_rule_scope_words(r->scope) || !*r->source || !*r->says)
            abort();
    }
}

static void one_sheet(int which, const char *text, size_t size)
{
    struct st_problem p = { .what = "" };
    struct st_rule_text in[ST_NRULE_SHEET];
    enum st_rule_sheet wrong = ST_NRULE_SHEET;
    for (int s = 0; s < ST_NRULE_SHEET; s++)
        in[s] = (struct st_rule_text){ GOOD[s], strlen(GOOD[s]) };
    in[which] = (struct st_rule_text){ text, size };
    struct st_rule_books *b = st_rule_books_create(in, &wrong, &p);
    if (b)
        use(b);
    else
        told(&p);
    if (!b && wrong >= ST_NRULE_SHEET)
        abort();
    st_rule_books_free(b);
}

static void places(const char *text, size_t size)
{
    struct st_problem p = { .what = "" };
    struct st_homes *all = st_homes_create(text, size, &p);
    if (!all)
        told(&p);
    else if (all->n < 1 || st_home_find(all, "") != &all->home[0] || st_home_find(all, all->home[0].code) == NULL)
        abort();
    st_homes_free(all);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size == 0)
        return 0;
    char *text = malloc(size);
    if (!text)
        return 0;
    memcpy(text, data + 1, size - 1);
    text[size - 1] = '\0';
    const int which = data[0] % (ST_NRULE_SHEET + 1);
    if (which < ST_NRULE_SHEET)
        one_sheet(which, text, size - 1);
    else
        places(text, size - 1);
    free(text);
    return 0;
}
