#include "caution_words.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

/* Codes of the sheet in words; of what is in a plant, how much of it is said before the word. */
static const struct {
    const char *code, *words;
    bool measured;
} WORDS[] = {
    { "agaric", "agaric acid", true },
    { "aloin", "aloin", true },
    { "anisatin", "anisatin", true },
    { "asarone", "asarone", true },
    { "banned", "barred", false },
    { "barred_elsewhere", "barred in another place", false },
    { "berberine", "berberine", true },
    { "botulism", "botulism, where it is kept weak or warm", false },
    { "cadmium", "cadmium", true },
    { "caffeine", "caffeine", true },
    { "capsaicin", "burning hot", false },
    { "concentrated", "by the drop only", false },
    { "convulsant", "can cause fits", false },
    { "coumarin", "coumarin", true },
    { "cross_reactive", "allergy to its relatives", false },
    { "cyanogenic", "hydrogen cyanide", true },
    { "denatured", "poisonous", false },
    { "drug_interaction", "acts with medicines", false },
    { "estragole", "estragole", true },
    { "ethyl_carbamate", "ethyl carbamate", true },
    { "fire", "catches fire", false },
    { "furanocoumarin", "makes skin sensitive to sun", false },
    { "glycyrrhizin", "glycyrrhizin", true },
    { "heat_first", "to be heated first", false },
    { "hypericin", "hypericin", true },
    { "infants", "not for infants", false },
    { "irritant", "irritates", false },
    { "juglone", "stains and irritates", false },
    { "kidney", "not for sick kidneys", false },
    { "laxative", "laxative", false },
    { "lead", "lead", true },
    { "leaves_toxic", "poisonous leaves", false },
    { "liver", "hard on the liver", false },
    { "look_alike", "easily mistaken for another plant", false },
    { "methyleugenol", "methyleugenol", true },
    { "myristicin", "myristicin", true },
    { "novel_food", "not approved everywhere", false },
    { "opiates", "opiates", true },
    { "oxalate", "oxalic acid", true },
    { "parasorbic", "parasorbic acid", true },
    { "persin", "persin", true },
    { "pesticide", "may have been sprayed", false },
    { "pets", "deadly for pets", false },
    { "phenylketonuria", "not with phenylketonuria", false },
    { "pregnancy", "not in pregnancy", false },
    { "pulegone", "pulegone", true },
    { "quassin", "quassin", true },
    { "quinine", "quinine", true },
    { "raw_toxic", "not as it is", false },
    { "safrole", "safrole", true },
    { "salicylates", "salicylates", true },
    { "salmonella", "salmonella", false },
    { "santonin", "santonin", true },
    { "teucrin", "teucrin", true },
    { "thujone", "thujone", true },
    { "unknown_plant", "not assessed, known by its kind alone", false },
    { "unlicensed", "bought and licensed spirit only", false },
};

static const char *how_much(const char *degree)
{
    return strcmp(degree, "high") == 0    ? "much "
           : strcmp(degree, "low") == 0   ? "a little "
           : strcmp(degree, "trace") == 0 ? "a trace of "
                                          : "";
}

/* The code at p, written with blanks: what stands behind it, else NULL. */
static const char *behind_code(const char *p, const char *code)
{
    for (; *code; code++, p++)
        if (*p != (*code == '_' ? ' ' : *code))
            return NULL;
    return *p == '\0' || strncmp(p, ", ", 2) == 0 ? p : NULL;
}

const char *st_caution_heading(const struct st_caution *c, char *buf, size_t size)
{
    const char *colon = strstr(c->what, ": ");
    const char *rest = colon && c->code && *c->code ? behind_code(colon + 2, c->code) : NULL;

    snprintf(buf, size, "%s", c->what);
    if (!rest || strcmp(c->code, "allergen") == 0)
        return buf;
    const int name = (int)(colon - c->what);
    snprintf(buf, size, "%.*s", name, c->what);
    for (size_t i = 0; i < sizeof WORDS / sizeof *WORDS; i++) {
        if (strcmp(WORDS[i].code, c->code) != 0)
            continue;
        const bool poison = strcmp(c->code, "banned") == 0 && strncmp(c->because, "poisonous", 9) == 0;
        snprintf(buf, size, "%.*s: %s%s", name, c->what, WORDS[i].measured && *rest ? how_much(rest + 2) : "",
                 poison ? "poisonous" : WORDS[i].words);
    }
    return buf;
}
