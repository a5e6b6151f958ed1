#include <string.h>

#include "caution_list.h"
#include "caution_process.h"
#include "heat_words.h"
#include "said_of.h"

/* Cautions of words alone: whatever is reckoned, who writes "distil" means to do it. */

static const char MEMORY[] = "from memory", PRACTICE[] = "common practice, no source";

static const char STILL[] =
    "|distil|distill|distils|distills|distilling|distillation|redistil|redistill|redistilled|redistilling|"
    "be distilled|is distilled|are distilled|distilled again|then distilled|"
    "a still|your still|pot still|copper still|column still|reflux still|vacuum still|air "
    "still|alembic|alembics|alambic|"
    "rotovap|rotary evaporator|vacuum distil|under reduced pressure|discard the heads|heads and tails|foreshots|"
    "freeze concentrate|freeze-concentrate|freeze concentration|freeze-concentration|freeze distil|freeze-distil|"
    "freeze distillation|ice distil|jacking|freeze out the water|freeze the water out|";
static const char FREEZES[] = "|freeze|freezes|frozen|freezing|freezer|";
static const char FROM_ICE[] =
    "|remove the ice|lift out the ice|lift the ice|lift off the ice|take off the ice|take out the ice|"
    "discard the ice|throw away the ice|off the ice|from the ice|strain off the ice|drain off the ice|"
    "what has not frozen|what does not freeze|what stays liquid|";
/* "a still place", "a still, dark corner": no still. */
static const char QUIET[] = "|place|spot|room|corner|cupboard|dark|cool|quiet|day|night|warm|";

bool st_asks_for_a_still(const char *words)
{
    size_t n, m;
    for (const char *p = words; (p = st_said_of(p, STILL, &n)) != NULL; p += n) {
        const char *next = p + n + strspn(p + n, " ,");
        if (strncmp(p, "a still", 7) != 0 || !st_listed(next, QUIET))
            return true;
    }
    return st_said_of(words, FREEZES, &n) && st_said_of(words, FROM_ICE, &m);
}

void st_caution_distil(struct st_cautions *out, int step, int line)
{
    st_caution_because(
        st_caution_add(out, ST_LEVEL_CAUTION, "distil", PRACTICE, step, line,
                       "distilling is not supported, nor is a vacuum or freezing water out"),
        "nothing of it is reckoned with: without a licence it is against the law in most places, vapour "
        "of 40 %% vol can be lit from about 26 °C on [flash_table], and freezing keeps all that was in the "
        "liquid and makes it stronger; steep in bought spirit instead");
}

static void vessel(struct st_cautions *out, const char *words, int step, int line)
{
    static const char LIST[] =
        "|crystal decanter|lead crystal|crystal carafe|crock|earthenware|ceramic|ceramic jar|ceramic pot|clay "
        "pot|"
        "glazed|glazed pot|stoneware|pewter|copper pot|copper pan|copper bowl|brass|zinc|galvanised|galvanized|"
        "aluminium|aluminum|cast iron|";
    size_t n;
    const char *p = st_said_of(words, LIST, &n);
    if (p)
        st_caution_because(
            st_caution_add(out, ST_LEVEL_CAUTION, "vessel", MEMORY, step, line,
                           "%.*s: lead and other metals may come out of it", (int)n, p),
            "acid and alcohol take lead and other metals out of crystal, unknown glazes and bare metal: "
            "wine that stood for four months in a lead crystal decanter was reported to hold about 5 mg/L of lead (an "
            "unverified figure), where drinking water may hold 0.01; plain glass or stainless steel");
}

static void poison(struct st_cautions *out, const char *words, int step)
{
    static const char LIST[] =
        "|isopropyl|isopropanol|rubbing alcohol|methylated|methylated spirit|methylated spirits|meths|"
        "denatured|denatured alcohol|surgical spirit|wood alcohol|fuel alcohol|bioethanol|"
        "technical alcohol|hand sanitiser|hand sanitizer|white spirit|";
    size_t n;
    const char *p = st_said_of(words, LIST, &n);
    if (p)
        st_caution_because(
            st_caution_add(out, ST_LEVEL_CAUTION, "denatured", "[fda_denatured]", step, -1,
                           "%.*s is poisonous: never in a drink", (int)n, p),
            "no straining, boiling or dilution takes the poison out, and a glass can blind or kill; only "
            "spirit sold for drinking, also for rinsing the jar");
}

static void methanol(struct st_cautions *out, const char *words, int step, int line)
{
    static const char LIST[] = "|methanol|pectin enzyme|pectic enzyme|pectinase|pectolase|pectolytic enzyme|";
    size_t n;
    if (st_said_of(words, LIST, &n))
        st_caution_because(
            st_caution_add(out, ST_LEVEL_NOTE, "methanol", MEMORY, step, line,
                           "pectin of fruit frees a little methanol"),
            "steeping makes no more of it than the fruit's pectin holds; bought spirit is bound by law (EU, "
            "neutral alcohol: 30 g in 100 L of pure alcohol; fruit marc spirit: 1500), and spirit from a still at "
            "home by nothing (unverified figures)");
}

void st_caution_words(struct st_cautions *out, const char *words, int step, int line)
{
    if (!words || !*words)
        return;
    if (st_asks_for_a_still(words))
        st_caution_distil(out, step, line);
    vessel(out, words, step, line);
    if (line < 0)
        poison(out, words, step);
    methanol(out, words, step, line);
}
