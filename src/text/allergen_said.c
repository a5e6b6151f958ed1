#include "allergen_said.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "model/line_goods.h"
#include "model/rule.h"

static const char MAYBE[] = " (may be there)", NOWHERE[] = " (on no list)";

/* Everyday names; common practice, no source.  scope: narrower than the lists have the code; NULL: as they have it. */
static const struct {
    const char *word, *code, *scope;
} NAME[] = {
    { "tree_nut", "nuts", NULL },
    { "treenut", "nuts", NULL },
    { "spelt", "wheat", NULL }, /* a wheat on the EU's list [eu_1169_2011]; on that of the US from memory */
    { "khorasan", "wheat", NULL },
    { "flour", "wheat", NULL },
    { "barley", "gluten", "eu" },
    { "rye", "gluten", "eu" },
    { "oat", "gluten", "eu" },
    { "malt", "gluten", "eu" },
    { "cereal", "gluten", NULL },
    { "dairy", "milk", NULL },
    { "cream", "milk", NULL },
    { "lactose", "milk", NULL },
    { "whey", "milk", NULL },
    { "casein", "milk", NULL },
    { "shellfish", "crustaceans", NULL },
    { "shellfish", "molluscs", NULL },
    { "prawn", "crustaceans", NULL },
    { "shrimp", "crustaceans", NULL },
    { "crab", "crustaceans", NULL },
    { "lobster", "crustaceans", NULL },
    { "mollusk", "molluscs", NULL },
    { "oyster", "molluscs", NULL },
    { "mussel", "molluscs", NULL },
    { "clam", "molluscs", NULL },
    { "soya", "soy", NULL },
    { "soybean", "soy", NULL },
    { "soy_bean", "soy", NULL },
    { "groundnut", "peanut", NULL },
    { "filbert", "hazelnut", NULL },
    { "lupine", "lupin", NULL },
    { "celeriac", "celery", NULL },
    { "isinglass", "fish", NULL },
    { "anchovy", "fish", NULL },
    { "tahini", "sesame", NULL },
    { "sulfite", "sulphites", NULL },
    { "sulphur_dioxide", "sulphites", NULL },
    { "sulfur_dioxide", "sulphites", NULL },
    { "so2", "sulphites", NULL },
    /* Trade words of what is usually made with it; from memory. */
    { "nutty", "nuts", NULL },
    { "praline", "nuts", NULL },
    { "horchata", "nuts", NULL },
    { "marzipan", "almond", NULL },
    { "frangipane", "almond", NULL },
    { "amaretti", "almond", NULL },
    { "amaretto", "almond", NULL },
    { "orgeat", "almond", NULL },
    { "falernum", "almond", NULL },
    { "gianduja", "hazelnut", NULL },
    { "noisette", "hazelnut", NULL },
    { "nocino", "walnut", NULL },
    { "bread", "wheat", NULL },
    { "biscuit", "wheat", NULL },
    { "cookie", "wheat", NULL },
    { "gingerbread", "wheat", NULL },
    { "cake", "wheat", NULL },
    { "brioche", "wheat", NULL },
    { "semolina", "wheat", NULL },
    { "couscous", "wheat", NULL },
    { "bulgur", "wheat", NULL },
    { "seitan", "wheat", NULL },
    { "soy_sauce", "wheat", NULL },
    { "shoyu", "wheat", NULL },
    { "miso", "wheat", NULL },
    { "beer", "gluten", "eu" },
    { "ale", "gluten", "eu" },
    { "stout", "gluten", "eu" },
    { "lager", "gluten", "eu" },
    { "porter", "gluten", "eu" },
    { "butter", "milk", NULL },
    { "ghee", "milk", NULL },
    { "buttermilk", "milk", NULL },
    { "yogurt", "milk", NULL },
    { "yoghurt", "milk", NULL },
    { "kefir", "milk", NULL },
    { "cheese", "milk", NULL },
    { "custard", "milk", NULL },
    { "toffee", "milk", NULL },
    { "fudge", "milk", NULL },
    { "butterscotch", "milk", NULL },
    { "eggnog", "milk", NULL },
    { "nog", "milk", NULL },
    { "zabaglione", "milk", NULL },
    { "zabaione", "milk", NULL },
    { "sabayon", "milk", NULL },
    { "rompope", "milk", NULL },
    { "custard", "egg", NULL },
    { "eggnog", "egg", NULL },
    { "nog", "egg", NULL },
    { "zabaglione", "egg", NULL },
    { "zabaione", "egg", NULL },
    { "sabayon", "egg", NULL },
    { "rompope", "egg", NULL },
    { "advocaat", "egg", NULL },
    { "mayonnaise", "egg", NULL },
    { "meringue", "egg", NULL },
    { "nougat", "egg", NULL },
    { "yolk", "egg", NULL },
    { "nougat", "nuts", NULL },
    { "krill", "crustaceans", NULL },
    { "crayfish", "crustaceans", NULL },
    { "langoustine", "crustaceans", NULL },
    { "scampi", "crustaceans", NULL },
    { "surimi", "crustaceans", NULL },
    { "squid", "molluscs", NULL },
    { "octopus", "molluscs", NULL },
    { "cuttlefish", "molluscs", NULL },
    { "scallop", "molluscs", NULL },
    { "abalone", "molluscs", NULL },
    { "cockle", "molluscs", NULL },
    { "whelk", "molluscs", NULL },
    { "winkle", "molluscs", NULL },
    { "snail", "molluscs", NULL },
    { "soy_sauce", "soy", NULL },
    { "shoyu", "soy", NULL },
    { "tamari", "soy", NULL },
    { "miso", "soy", NULL },
    { "tofu", "soy", NULL },
    { "tempeh", "soy", NULL },
    { "natto", "soy", NULL },
    { "edamame", "soy", NULL },
    { "teriyaki", "soy", NULL },
    { "surimi", "fish", NULL },
    { "salmon", "fish", NULL },
    { "cod", "fish", NULL },
    { "herring", "fish", NULL },
    { "mackerel", "fish", NULL },
    { "sardine", "fish", NULL },
    { "bonito", "fish", NULL },
    { "caviar", "fish", NULL },
    { "dashi", "fish", NULL },
    { "garum", "fish", NULL },
    { "katsuobushi", "fish", NULL },
    { "worcestershire", "fish", NULL },
    { "halva", "sesame", NULL },
    { "gomasio", "sesame", NULL },
    { "satay", "peanut", NULL },
};
enum { NNAME = sizeof NAME / sizeof *NAME };

struct seek {
    const struct st_allergen_lists *lists;
    const struct st_catalogue *c;
    struct st_allergen_said *out;
    int n, max;
    bool maybe;
};

/* ---- scopes ---- */

int st_scope_weight(const char *scope)
{
    return 4 * (int)st_scope_presence(scope) + (strstr(scope, "eu") != NULL) + (strstr(scope, "us") != NULL);
}

const char *st_allergen_write(const char *scope)
{
    const enum st_presence p = st_scope_presence(scope);
    return p == ST_POSSIBLE ? MAYBE : p == ST_VOLUNTARY ? NOWHERE : "";
}

static const char *on_lists(const struct st_allergen_lists *lists, const char *code, bool *known)
{
    static const char *const SCOPE[] = { "voluntary", "eu", "us", "eu_us" };
    int at = 0;
    for (int i = 0; lists && i < lists->n; i++) {
        const struct st_allergen_row *row = &lists->row[i];
        if (!st_in_list(row->codes, '|', code))
            continue;
        *known = true;
        at |= row->listed && row->places & ST_PLACE_EU ? 1 : 0;
        at |= row->listed && row->places & ST_PLACE_US ? 2 : 0;
    }
    return SCOPE[at];
}

static const char *in_sheet(const struct st_catalogue *c, const char *code, const char *most, bool *known)
{
    for (size_t i = 0; i < st_catalogue_count(c); i++) {
        const struct st_ingredient *in = st_catalogue_at(c, i);
        for (int k = 0; k < in->n_allergen; k++) {
            const struct st_flag *f = &in->allergen[k];
            if (strcmp(f->what, code) != 0)
                continue;
            *known = *known || f->mark != 'u'; /* what another author called by that name makes no code */
            if (st_scope_presence(f->degree) != ST_POSSIBLE && st_scope_weight(f->degree) > st_scope_weight(most))
                most = f->degree;
        }
    }
    return most;
}

static const char *perhaps(const char *scope)
{
    return strcmp(scope, "eu_us") == 0 ? "possible_eu_us"
           : strcmp(scope, "eu") == 0  ? "possible_eu"
           : strcmp(scope, "us") == 0  ? "possible_us"
                                       : "voluntary";
}

/* ---- words ---- */

static void take(struct seek *k, const char *code, const char *scope)
{
    for (int i = 0; i < k->n; i++)
        if (strcmp(k->out[i].code, code) == 0)
            return;
    if (k->n == k->max)
        return;
    struct st_allergen_said *one = &k->out[k->n++];
    (void)snprintf(one->code, sizeof one->code, "%s", code);
    one->scope = k->maybe ? perhaps(scope) : scope;
}

static bool is_code(struct seek *k, const char *code)
{
    bool known = false;
    const char *listed = on_lists(k->lists, code, &known), *scope = in_sheet(k->c, code, listed, &known);
    if (known)
        take(k, code, scope);
    return known;
}

static bool is_name(struct seek *k, const char *word)
{
    const int before = k->n;
    bool any = false, known = false;
    for (int i = 0; i < NNAME; i++)
        if (strcmp(NAME[i].word, word) == 0) {
            any = true;
            take(k, NAME[i].code,
                 NAME[i].scope ? NAME[i].scope
                               : in_sheet(k->c, NAME[i].code, on_lists(k->lists, NAME[i].code, &known), &known));
        }
    return any || k->n > before;
}

/* As it stands, without the s of several, with the s of a code that has one ("mollusc"). */
static bool word_found(struct seek *k, const char *word)
{
    char other[130];
    const size_t n = strlen(word);
    if (is_code(k, word) || is_name(k, word))
        return true;
    if (n > 3 && word[n - 1] == 's') {
        (void)snprintf(other, sizeof other, "%.*s", (int)(n - 1), word);
        return is_code(k, other) || is_name(k, other);
    }
    (void)snprintf(other, sizeof other, "%.126ss", word);
    return is_code(k, other);
}

static size_t put(char *word, size_t n, char c)
{
    if (isalnum((unsigned char)c) || (unsigned char)c >= 0x80)
        word[n++] = (char)tolower((unsigned char)c);
    else if (n > 0 && word[n - 1] != '_')
        word[n++] = '_';
    return n;
}

/* Small letters, one '_' for what parts words, none at the ends. */
static void fold(const char *text, char *word, size_t size)
{
    size_t n = 0;
    for (; *text && n + 1 < size; text++)
        n = put(word, n, *text);
    if (n > 0 && word[n - 1] == '_')
        n--;
    word[n] = '\0';
}

static bool taken_off(char *text, const char *end)
{
    const size_t n = strlen(text), m = strlen(end);
    if (n <= m || strcmp(text + n - m, end) != 0)
        return false;
    text[n - m] = '\0';
    return true;
}

static void each_word(struct seek *k, char *words)
{
    for (char *p = words, *next; p; p = next) {
        next = strchr(p, '_');
        if (next)
            *next++ = '\0';
        (void)word_found(k, p);
    }
}

int st_allergen_word(const char *text, const struct st_allergen_lists *lists, const struct st_catalogue *c,
                     struct st_allergen_said out[], int max)
{
    struct seek k = { lists, c, out, 0, max, true };
    char word[128];
    fold(text, word, sizeof word);
    if (!word_found(&k, word))
        return 0;
    int n = 0;
    for (int i = 0; i < k.n; i++)
        if (st_scope_presence(out[i].scope) == ST_POSSIBLE)
            out[n++] = out[i];
    return n;
}

int st_allergen_said(const char *text, const struct st_allergen_lists *lists, const struct st_catalogue *c,
                     struct st_allergen_said out[], int max)
{
    struct seek k = { lists, c, out, 0, max, false };
    char plain[128], word[128];
    (void)snprintf(plain, sizeof plain, "%.127s", text);
    const bool nowhere = taken_off(plain, NOWHERE);
    k.maybe = !nowhere && taken_off(plain, MAYBE);
    fold(plain, word, sizeof word);
    if (!word_found(&k, word))
        each_word(&k, word);
    if (k.n == 0)
        take(&k, plain, "voluntary");
    for (int i = 0; nowhere && i < k.n; i++)
        out[i].scope = "voluntary";
    return k.n;
}
