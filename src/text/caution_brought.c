#include "caution_brought.h"

#include <stdio.h>
#include <string.h>

#include "caution_list.h"
#include "ledger_words.h"
#include "model/line_goods.h"

bool st_caution_ends_with_making(const struct st_caution *c)
{
    return st_in_list("flammable|flash|heat|hot_pour|glass", '|', c->code);
}

bool st_caution_goes_along(const struct st_caution *c)
{
    static const char ENDS_THERE[] = "flammable|flash|heat|hot_pour|glass|steeped_fruit|unsteeped";
    static const char TOLD_ANEW[] = "crystallises|weak_bottle|alcohol|allergens|allergen|worst_case|plant_rule|"
                                    "assay_unused|" ST_CAUTION_UNRECKONED;
    return !st_in_list(ENDS_THERE, '|', c->code) && !st_in_list(TOLD_ANEW, '|', c->code);
}

static const struct st_ingredient *at(const struct st_recipe *r, const struct st_caution *c)
{
    return c->step >= 0 && c->line >= 0 ? r->step[c->step].line[c->line].what : NULL;
}

static bool was_brought(const struct st_ingredient *in, const struct st_caution *c)
{
    for (int i = 0; in && i < in->n_brought; i++)
        if (strcmp(in->brought[i].what, c->what) == 0)
            return true;
    return false;
}

const char *st_caution_of_batch(const struct st_caution *c, const struct st_recipe *r, const char *batch, char *buf,
                                size_t size)
{
    const struct st_ingredient *in = at(r, c);
    const size_t n = in ? strlen(in->name) : 0;
    if (was_brought(in, c))
        snprintf(buf, size, "%s", c->what);
    else if (n && strncmp(c->what, in->name, n) == 0)
        snprintf(buf, size, "%s of %s%s", in->name, batch, c->what + n);
    else
        snprintf(buf, size, "%s: %s", batch, c->what);
    return buf;
}

/* Of two pours of one drink each is told once. */
static bool is_told(const struct st_cautions *all, const struct st_brought *b)
{
    for (int i = 0; i < all->n; i++) {
        const struct st_caution *c = &all->item[i];
        if (c->brought && c->level >= (enum st_level)b->level && strcmp(c->code, b->flag.what) == 0 &&
            strcmp(c->what, b->what) == 0)
            return true;
    }
    return false;
}

void st_caution_brought(struct st_cautions *out, const struct st_recipe *r, const struct st_ledger *ledger, int step,
                        int line)
{
    const struct st_ingredient *in = r->step[step].line[line].what;
    for (int i = 0; i < in->n_brought; i++) {
        const struct st_brought *b = &in->brought[i];
        if (is_told(out, b))
            continue;
        const bool open = st_caution_is_toxicant(b->flag.what) && !st_ledger_tells(ledger, step, line, b->flag.what);
        struct st_caution *c =
            st_caution_add(out, (enum st_level)b->level, b->flag.what, b->flag.source, step, line, "%s", b->what);
        st_caution_because(c, "%s%s", b->flag.text, open ? ST_CAUTION_NO_WORST : "");
        if (c)
            c->brought = true;
    }
}

bool st_caution_is_toxicant(const char *code)
{
    return st_in_list("cyanogenic|thujone|coumarin|asarone|safrole|estragole|methyleugenol|pulegone|quinine|"
                      "glycyrrhizin|furanocoumarin|raw_toxic|leaves_toxic|quassin|teucrin|myristicin|hypericin|"
                      "convulsant|berberine|salicylates|opiates|liver|laxative|anisatin|parasorbic|persin|aloin|"
                      "agaric|santonin",
                      '|', code);
}
