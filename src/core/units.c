#include "units.h"

#include <math.h>

#include "strength.h"
#include "units_words.h"

/* The US gallon is 231 in3 and the inch 25.4 mm; the imperial gallon is 4.54609 L. */
#define GALLON_US   3785.411784
#define FLOZ_US     (GALLON_US / 128.0)
#define TSP_US      (GALLON_US / 768.0)
#define FLOZ_IMP    28.4130625
#define DRY_PINT_US (2150.42 * 16.387064 / 64.0) /* the bushel is 2150.42 in3 */
#define GRAIN       0.06479891
#define DAY         86400.0

#define ANY              ST_MEASURES_NONE
#define US               ST_MEASURES_US
#define METRIC           ST_MEASURES_METRIC
#define IMPERIAL         ST_MEASURES_IMPERIAL
#define MASS             ST_DIM_MASS
#define VOLUME           ST_DIM_VOLUME
#define TIME             ST_DIM_TIME
#define TEMP             ST_DIM_TEMPERATURE
#define EXACT(x)         (x), (x), (x), 0.0
#define VAGUE(x, lo, hi) (x), (lo), (hi), 0.0
#define ONSCALE(x, zero) (x), (x), (x), (zero)
#define LINEAR           ST_SCALE_LINEAR

/* clang-format off */
static const struct st_unit UNITS[] = {
    /* mass */
    {"g", "g", "g", "G|gram|grams|gramme|grammes|gm|gms|gramm",
     MASS, ANY, ST_TOOL_SCALE, LINEAR, EXACT(1.0), "[si_units]", 'd'},
    {"kg", "kg", "kg", "kilo|kilos|kilogram|kilograms|kilogramme|kilogrammes|kilogramm",
     MASS, ANY, ST_TOOL_SCALE, LINEAR, EXACT(1000.0), "[si_units]", 'd'},
    {"dag", "dag", "dag", "dkg|deka|dekas|decagram|decagrams|dekagram|dekagrams|dekagramm",
     MASS, ANY, ST_TOOL_SCALE, LINEAR, EXACT(10.0), "[si_units]", 'd'},
    {"mg", "mg", "mg", "milligram|milligrams|milligramme",
     MASS, ANY, ST_TOOL_SCALE, LINEAR, EXACT(0.001), "[si_units]", 'd'},
    {"oz_av", "oz", "oz", "ounce|ounces|ounce weight|oz av|oz wt|ozs",
     MASS, ANY, ST_TOOL_SCALE, LINEAR, EXACT(437.5*GRAIN), "[ucum_units]", 'r'},
    {"lb_av", "lb", "lb", "pound|pounds|lbs",
     MASS, ANY, ST_TOOL_SCALE, LINEAR, EXACT(7000.0*GRAIN), "[ucum_units]", 'r'},
    {"grain", "grain", "grains", "", MASS, ANY, ST_TOOL_SCALE, LINEAR, EXACT(GRAIN), "[ucum_units]", 'r'},
    {"drachm_ap", "drachm", "drachms", "apothecaries drachm",
     MASS, ANY, ST_TOOL_SCALE, LINEAR, EXACT(60.0*GRAIN), "old pharmacy, from memory", 'm'},

    /* volume, metric */
    {"ml", "mL", "mL", "millilitre|millilitres|milliliter|milliliters|mls|cc|cm3|cm\xc2\xb3",
     VOLUME, ANY, ST_TOOL_JUG, LINEAR, EXACT(1.0), "[si_units]", 'd'},
    {"cl", "cL", "cL", "centilitre|centilitres|centiliter|centiliters|cls",
     VOLUME, ANY, ST_TOOL_JUG, LINEAR, EXACT(10.0), "[si_units]", 'd'},
    {"dl", "dL", "dL", "decilitre|decilitres|deciliter|deciliters|dls",
     VOLUME, ANY, ST_TOOL_JUG, LINEAR, EXACT(100.0), "[si_units]", 'd'},
    {"l", "L", "L", "l|litre|litres|liter|liters|ltr|ltrs|lt",
     VOLUME, ANY, ST_TOOL_JUG, LINEAR, EXACT(1000.0), "[si_units]", 'd'},

    /* spoons and cups; of several of one system, the first is what the bare word means */
    {"tsp_us", "teaspoon", "teaspoons", "t|tsp|teasp|teaspoonful|teaspoonfuls|US teaspoon",
     VOLUME, US, ST_TOOL_TEASPOON, LINEAR, EXACT(TSP_US), "[hb44]", 'r'},
    {"tsp_metric", "teaspoon", "teaspoons",
     "t|tsp|teasp|teaspoonful|teaspoonfuls|metric teaspoon|TL|teel\xc3\xb6""ffel|teeloeffel",
     VOLUME, METRIC, ST_TOOL_TEASPOON, LINEAR, EXACT(5.0), "[ucum_units]", 'r'},
    {"tsp_imp", "teaspoon", "teaspoons", "t|tsp|teasp|teaspoonful|teaspoonfuls|British teaspoon",
     VOLUME, IMPERIAL, ST_TOOL_TEASPOON, LINEAR, VAGUE(5.0, 5.0, FLOZ_IMP/4.8),
     "spoons as sold today, from memory; old books: a 24th of a gill", 'm'},
    {"tbsp_us", "tablespoon", "tablespoons", "T|tbsp|tbs|tbl|tablesp|tablespoonful|tablespoonfuls|US tablespoon",
     VOLUME, US, ST_TOOL_TABLESPOON, LINEAR, EXACT(3.0*TSP_US), "[hb44]", 'r'},
    {"tbsp_metric", "tablespoon", "tablespoons",
     "T|tbsp|tbs|tbl|tablesp|tablespoonful|tablespoonfuls|metric tablespoon|EL|essl\xc3\xb6""ffel|essloeffel",
     VOLUME, METRIC, ST_TOOL_TABLESPOON, LINEAR, EXACT(15.0), "[ucum_units]", 'r'},
    {"tbsp_imp", "tablespoon", "tablespoons",
     "T|tbsp|tbs|tbl|tablesp|tablespoonful|tablespoonfuls|British tablespoon",
     VOLUME, IMPERIAL, ST_TOOL_TABLESPOON, LINEAR, VAGUE(15.0, 15.0, FLOZ_IMP/1.6),
     "spoons as sold today, from memory; old books: an eighth of a gill", 'm'},
    {"tbsp_au", "Australian tablespoon", "Australian tablespoons", "AU tablespoon|Australian tbsp|AU tbsp",
     VOLUME, ANY, ST_TOOL_TABLESPOON, LINEAR, EXACT(20.0), "published comparison", 'r'},
    {"dessertspoon", "dessertspoon", "dessertspoons", "dsp|dssp|dstspn|dessertspoonful|dessertspoonfuls",
     VOLUME, ANY, ST_TOOL_TEASPOON, LINEAR, VAGUE(10.0, 10.0, 12.0), "two teaspoons, common practice", 'm'},
    {"cup_us", "cup", "cups", "c|cupful|cupfuls|US cup|US cups",
     VOLUME, US, ST_TOOL_CUP, LINEAR, EXACT(GALLON_US/16.0), "[hb44]", 'r'},
    {"cup_metric_anz", "cup", "cups", "c|cupful|cupfuls|metric cup|metric cups",
     VOLUME, METRIC, ST_TOOL_CUP, LINEAR, EXACT(250.0), "NZS 8541:1971 as reported", 'r'},
    {"cup_imp", "cup", "cups", "c|cupful|cupfuls|imperial cup|imperial cups",
     VOLUME, IMPERIAL, ST_TOOL_CUP, LINEAR, EXACT(10.0*FLOZ_IMP), "half an imperial pint, common practice", 'm'},
    {"cup_us_label", "label cup", "label cups", "nutrition cup|nutrition label cup",
     VOLUME, ANY, ST_TOOL_CUP, LINEAR, EXACT(240.0), "[ucum_units]", 'r'},

    /* ounces, pints, gallons */
    {"fl_oz_us", "fl oz", "fl oz", "oz|ounce|ounces|fluid ounce|fluid ounces|floz|fluid oz|US fl oz",
     VOLUME, US, ST_TOOL_JIGGER, LINEAR, EXACT(FLOZ_US), "[hb44]", 'r'},
    {"fl_oz_imp", "fl oz", "fl oz", "oz|ounce|ounces|fluid ounce|fluid ounces|floz|fluid oz|imperial fl oz",
     VOLUME, IMPERIAL, ST_TOOL_JIGGER, LINEAR, EXACT(FLOZ_IMP), "[ucum_units]", 'r'},
    {"fl_oz_label", "label fl oz", "label fl oz", "nutrition fl oz",
     VOLUME, ANY, ST_TOOL_JIGGER, LINEAR, EXACT(30.0), "[ucum_units]", 'r'},
    {"fl_dram_us", "fl dram", "fl drams", "fluid dram|fluid drams|dram|drams",
     VOLUME, US, ST_TOOL_TEASPOON, LINEAR, EXACT(FLOZ_US/8.0), "[hb44]", 'r'},
    {"fl_dram_imp", "fl drachm", "fl drachms", "fluid drachm|fluid drachms|dram|drams|fluid dram",
     VOLUME, IMPERIAL, ST_TOOL_TEASPOON, LINEAR, EXACT(FLOZ_IMP/8.0),
     "[ucum_units]; an eighth of the ounce, from memory", 'm'},
    {"gill_us", "gill", "gills", "US gill", VOLUME, US, ST_TOOL_JUG, LINEAR, EXACT(GALLON_US/32.0), "[hb44]", 'r'},
    {"gill_imp", "gill", "gills", "imperial gill",
     VOLUME, IMPERIAL, ST_TOOL_JUG, LINEAR, EXACT(5.0*FLOZ_IMP), "[ucum_units]", 'r'},
    {"pint_us", "pint", "pints", "pt|pts|US pint|US pints",
     VOLUME, US, ST_TOOL_JUG, LINEAR, EXACT(GALLON_US/8.0), "[hb44]", 'r'},
    {"pint_imp", "pint", "pints", "pt|pts|imperial pint|imperial pints",
     VOLUME, IMPERIAL, ST_TOOL_JUG, LINEAR, EXACT(20.0*FLOZ_IMP), "[ucum_units]", 'r'},
    {"quart_us", "quart", "quarts", "qt|qts|US quart",
     VOLUME, US, ST_TOOL_JUG, LINEAR, EXACT(GALLON_US/4.0), "[hb44]", 'r'},
    {"quart_imp", "quart", "quarts", "qt|qts|imperial quart",
     VOLUME, IMPERIAL, ST_TOOL_JUG, LINEAR, EXACT(40.0*FLOZ_IMP), "[ucum_units]", 'r'},
    {"gallon_us", "gallon", "gallons", "gal|gals|US gallon",
     VOLUME, US, ST_TOOL_VESSEL, LINEAR, EXACT(GALLON_US), "[hb44]", 'r'},
    {"gallon_imp", "gallon", "gallons", "gal|gals|imperial gallon",
     VOLUME, IMPERIAL, ST_TOOL_VESSEL, LINEAR, EXACT(4546.09), "[ucum_units]", 'r'},
    {"dry_pint_us", "dry pint", "dry pints", "US dry pint",
     VOLUME, US, ST_TOOL_CUP, LINEAR, EXACT(DRY_PINT_US), "a 64th of the bushel of 2150.42 in3, from memory", 'm'},
    {"dry_quart_us", "dry quart", "dry quarts", "US dry quart",
     VOLUME, US, ST_TOOL_CUP, LINEAR, EXACT(2.0*DRY_PINT_US),
     "a 32nd of the bushel of 2150.42 in3, from memory", 'm'},

    /* bottles as sold; a "fifth" was a fifth of a US gallon (757.08 mL) until bottles went metric */
    {"bottle_us", "bottle", "bottles", "btl|btls|spirit bottle",
     VOLUME, US, ST_TOOL_BOTTLE, LINEAR, VAGUE(750.0, 700.0, 750.0), "US size of spirits as sold, from memory", 'm'},
    {"bottle_metric", "bottle", "bottles", "btl|btls|spirit bottle",
     VOLUME, METRIC, ST_TOOL_BOTTLE, LINEAR, VAGUE(700.0, 700.0, 750.0),
     "EU size of spirits as sold, from memory", 'm'},
    {"bottle_imp", "bottle", "bottles", "btl|btls|spirit bottle",
     VOLUME, IMPERIAL, ST_TOOL_BOTTLE, LINEAR, VAGUE(700.0, 700.0, 750.0),
     "UK size of spirits as sold, from memory", 'm'},
    {"half_bottle_us", "half bottle", "half bottles", "",
     VOLUME, US, ST_TOOL_BOTTLE, LINEAR, VAGUE(375.0, 350.0, 375.0), "US size of spirits as sold, from memory", 'm'},
    {"half_bottle_metric", "half bottle", "half bottles", "",
     VOLUME, METRIC, ST_TOOL_BOTTLE, LINEAR, VAGUE(350.0, 350.0, 375.0),
     "EU size of spirits as sold, from memory", 'm'},
    {"half_bottle_imp", "half bottle", "half bottles", "",
     VOLUME, IMPERIAL, ST_TOOL_BOTTLE, LINEAR, VAGUE(350.0, 350.0, 375.0),
     "UK size of spirits as sold, from memory", 'm'},
    {"wine_bottle", "wine bottle", "wine bottles", "bottle of wine|bottles of wine",
     VOLUME, ANY, ST_TOOL_BOTTLE, LINEAR, EXACT(750.0), "size of wine as sold, from memory", 'm'},
    {"fifth", "fifth", "fifths", "",
     VOLUME, ANY, ST_TOOL_BOTTLE, LINEAR, VAGUE(750.0, 750.0, GALLON_US/5.0), "bottle as sold, from memory", 'm'},

    /* bar */
    {"jigger", "jigger", "jiggers", "",
     VOLUME, ANY, ST_TOOL_JIGGER, LINEAR, VAGUE(1.5*FLOZ_US, 25.0, 2.0*FLOZ_US), "bar practice, from memory", 'm'},
    {"pony", "pony", "ponies", "",
     VOLUME, ANY, ST_TOOL_JIGGER, LINEAR, VAGUE(FLOZ_US, 22.0, FLOZ_US), "bar practice, from memory", 'm'},
    {"shot_us", "shot", "shots", "",
     VOLUME, US, ST_TOOL_JIGGER, LINEAR, VAGUE(1.5*FLOZ_US, FLOZ_US, 2.0*FLOZ_US), "bar practice, from memory", 'm'},
    {"shot_metric", "shot", "shots", "",
     VOLUME, METRIC, ST_TOOL_JIGGER, LINEAR, VAGUE(30.0, 20.0, 45.0),
     "bar practice, from memory; 20 to 45 mL by country", 'm'},
    {"shot_imp", "shot", "shots", "",
     VOLUME, IMPERIAL, ST_TOOL_JIGGER, LINEAR, VAGUE(25.0, 25.0, 35.0), "UK measure, from memory", 'm'},
    {"wineglass", "wineglass", "wineglasses", "wineglassful|wineglassfuls",
     VOLUME, ANY, ST_TOOL_JIGGER, LINEAR, VAGUE(2.0*FLOZ_US, 50.0, 75.0), "old books, from memory", 'm'},
    {"barspoon_metric", "barspoon", "barspoons", "bar spoon|bar spoons|bsp",
     VOLUME, ANY, ST_TOOL_TEASPOON, LINEAR, VAGUE(5.0, 2.5, 5.0), "bar practice, from memory", 'm'},
    {"dash_bitters", "dash", "dashes", "dash of bitters|dashes of bitters",
     VOLUME, ANY, ST_TOOL_DROPPER, LINEAR, VAGUE(0.92, 0.3, 1.3), "bar practice, from memory", 'm'},
    {"dash_kitchen", "kitchen dash", "kitchen dashes", "dash spoon",
     VOLUME, ANY, ST_TOOL_TEASPOON, LINEAR, EXACT(TSP_US/8.0), "an eighth of a teaspoon, kitchen practice", 'r'},
    {"splash", "splash", "splashes", "",
     VOLUME, ANY, ST_TOOL_NONE, LINEAR, VAGUE(6.0, 3.0, 15.0), "bar practice, from memory", 'm'},
    {"drop", "drop", "drops", "gtt",
     VOLUME, ANY, ST_TOOL_DROPPER, LINEAR, VAGUE(0.05, 1.0/60.0, 0.06),
     "20 to the mL in pharmacy, 50 to 60 for spirit, from memory", 'm'},

    /* fingers and hands */
    {"pinch", "pinch", "pinches", "prise|prisen",
     VOLUME, ANY, ST_TOOL_HAND, LINEAR, VAGUE(TSP_US/16.0, TSP_US/24.0, TSP_US/8.0),
     "kitchen practice, from memory", 'm'},
    {"smidgen", "smidgen", "smidgens", "smidge",
     VOLUME, ANY, ST_TOOL_HAND, LINEAR, VAGUE(TSP_US/32.0, TSP_US/48.0, TSP_US/16.0),
     "kitchen practice, from memory", 'm'},
    {"handful", "handful", "handfuls", "handsful",
     VOLUME, ANY, ST_TOOL_HAND, LINEAR, VAGUE(80.0, 40.0, 160.0),
     "a guess at loose matter in one hand, no source", 'p'},

    /* pieces: only the bare count; words such as pod or stick belong to their ingredient */
    {"piece", "piece", "pieces", "pc|pcs|each|st\xc3\xbc""ck|stueck|stange|stangen",
     ST_DIM_PIECE, ANY, ST_TOOL_COUNT_PIECES, LINEAR, EXACT(1.0), "counting", 'd'},
    {"dozen", "dozen", "dozen", "dozens|doz",
     ST_DIM_PIECE, ANY, ST_TOOL_COUNT_PIECES, LINEAR, EXACT(12.0), "counting", 'd'},

    /* temperature */
    {"deg_c", "\xc2\xb0""C", "\xc2\xb0""C",
     "C|degC|deg C|degree C|degrees C|celsius|degrees celsius|centigrade|\xe2\x84\x83",
     TEMP, ANY, ST_TOOL_NONE, LINEAR, ONSCALE(1.0, 273.15), "[si_units]", 'd'},
    {"deg_f", "\xc2\xb0""F", "\xc2\xb0""F",
     "F|degF|deg F|degree F|degrees F|fahrenheit|degrees fahrenheit|\xe2\x84\x89",
     TEMP, ANY, ST_TOOL_NONE, LINEAR, ONSCALE(5.0/9.0, 459.67*5.0/9.0), "definition", 'd'},
    {"kelvin", "K", "K", "kelvin|kelvins", TEMP, ANY, ST_TOOL_NONE, LINEAR, ONSCALE(1.0, 0.0), "[si_units]", 'd'},
    {"deg_re", "\xc2\xb0R\xc3\xa9", "\xc2\xb0R\xc3\xa9",
     "\xc2\xb0Re|degRe|deg Re|reaumur|r\xc3\xa9""aumur|degrees reaumur|degrees r\xc3\xa9""aumur",
     TEMP, ANY, ST_TOOL_NONE, LINEAR, ONSCALE(1.25, 273.15), "[ucum_units], from memory", 'm'},
    {"gas_mark", "gas mark", "gas mark", "gas|mark|gas marks",
     TEMP, ANY, ST_TOOL_NONE, LINEAR, ONSCALE(125.0/9.0, (250.0 + 459.67)*5.0/9.0),
     "UK convention, from memory", 'm'},

    /* time */
    {"second", "s", "s", "sec|secs|second|seconds", TIME, ANY, ST_TOOL_NONE, LINEAR, EXACT(1.0), "[si_units]", 'd'},
    {"minute", "min", "min", "mins|minute|minutes", TIME, ANY, ST_TOOL_NONE, LINEAR, EXACT(60.0), "[si_units]", 'd'},
    {"hour", "h", "h", "hr|hrs|hour|hours", TIME, ANY, ST_TOOL_NONE, LINEAR, EXACT(3600.0), "[si_units]", 'd'},
    {"day", "day", "days", "d", TIME, ANY, ST_TOOL_NONE, LINEAR, EXACT(DAY), "[si_units]", 'd'},
    {"night", "night", "nights", "overnight",
     TIME, ANY, ST_TOOL_NONE, LINEAR, VAGUE(12.0*3600.0, 8.0*3600.0, 16.0*3600.0),
     "kitchen practice, no source", 'p'},
    {"week", "week", "weeks", "wk|wks|w", TIME, ANY, ST_TOOL_NONE, LINEAR, EXACT(7.0*DAY), "definition", 'd'},
    {"fortnight", "fortnight", "fortnights", "", TIME, ANY, ST_TOOL_NONE, LINEAR, EXACT(14.0*DAY), "definition", 'd'},
    {"month", "month", "months", "mo|mos|mth|mths",
     TIME, ANY, ST_TOOL_NONE, LINEAR, VAGUE(30.436875*DAY, 28.0*DAY, 31.0*DAY),
     "a twelfth of the Gregorian year", 'd'},
    {"year", "year", "years", "yr|yrs|y",
     TIME, ANY, ST_TOOL_NONE, LINEAR, VAGUE(365.2425*DAY, 365.0*DAY, 366.0*DAY), "the Gregorian year", 'd'},

    /* strength */
    {"pct_vol", "% vol", "% vol",
     "%vol|% abv|%abv|abv|vol%|vol %|% alc|% alcohol|% by volume|% v/v|% alc/vol|alc/vol|% alc by vol|"
     "pct|pct vol|pct abv|pct by volume|percent|percent vol|percent abv|percent alcohol|percent by volume|"
     "per cent|per cent vol|per cent abv|per cent alcohol|per cent by volume",
     ST_DIM_STRENGTH, ANY, ST_TOOL_NONE, LINEAR, EXACT(1.0), "[oiml1975]", 'd'},
    {"proof_us", "proof", "proof", "US proof|degrees proof|\xc2\xb0 proof|\xc2\xb0proof|UK proof|British proof",
     ST_DIM_STRENGTH, ANY, ST_TOOL_NONE, ST_SCALE_PROOF, EXACT(0.5), "[cfr27_30]", 'r'},
    {"pct_mass", "% mass", "% mass", "%mass|% by mass|% by weight|% w/w|mass %|weight %",
     ST_DIM_STRENGTH, ANY, ST_TOOL_NONE, ST_SCALE_MASS_PCT, EXACT(1.0), "[oiml1975]", 'd'},
};
/* clang-format on */

enum { NUNITS = sizeof UNITS / sizeof UNITS[0] };

size_t st_unit_count(void)
{
    return NUNITS;
}

const struct st_unit *st_unit_at(size_t i)
{
    return i < NUNITS ? &UNITS[i] : NULL;
}

/* ---- finding a unit by a written word ---- */

const struct st_unit *st_unit_by_key(const char *key)
{
    for (size_t i = 0; i < NUNITS; i++) {
        const char *k = UNITS[i].key;
        size_t j = 0;
        while (k[j] != '\0' && k[j] == key[j])
            j++;
        if (k[j] == '\0' && key[j] == '\0')
            return &UNITS[i];
    }
    return NULL;
}

static char folded(char c)
{
    if (c >= 'A' && c <= 'Z')
        return (char)(c - 'A' + 'a');
    return (c == '-' || c == '_') ? ' ' : c;
}

enum { LONGEST_WORD = 40, NWORDS = sizeof ST_UNIT_WORDS / sizeof ST_UNIT_WORDS[0] };

/* The word as it stands in the table; false when it is longer than any there.  "T" is no "t"; dots count for nothing. */
static bool fold_word(const char *text, size_t n, char out[LONGEST_WORD + 1])
{
    size_t k = 0;
    for (size_t i = 0; i < n; i++) {
        if (n > 1 && text[i] == '.')
            continue;
        if (k == LONGEST_WORD || text[i] == '\0')
            return false;
        out[k++] = n > 1 ? folded(text[i]) : text[i];
    }
    out[k] = '\0';
    return k > 0;
}

/* As strcmp, which core does not have. */
static int compare(const char *a, const char *b)
{
    while (*a != '\0' && *a == *b)
        a++, b++;
    return (int)(unsigned char)*a - (int)(unsigned char)*b;
}

/* Where the units of this word begin in the table of words; NWORDS when there is none. */
static size_t first_of(const char *word)
{
    size_t low = 0, high = NWORDS;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (compare(ST_UNIT_WORDS[middle].word, word) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return low < NWORDS && compare(ST_UNIT_WORDS[low].word, word) == 0 ? low : NWORDS;
}

/* True when another unit of this name and dimension is the better answer than u: an earlier row of the same system,
 * or one of the declared system or of none while u is of a third.  from..to: all of this name. */
static bool is_outdone(const struct st_unit *u, size_t from, size_t to, enum st_measures declared)
{
    const bool foreign = u->system != declared && u->system != ST_MEASURES_NONE;
    for (size_t i = from; i < to; i++) {
        const struct st_unit *v = &UNITS[ST_UNIT_WORDS[i].row];
        if (v == u || v->dim != u->dim)
            continue;
        if (v->system == u->system && v < u)
            return true;
        if (foreign && declared != ST_MEASURES_NONE && (v->system == declared || v->system == ST_MEASURES_NONE))
            return true;
    }
    return false;
}

static size_t match_word(const char *text, size_t n, enum st_measures declared, enum st_dimension want,
                         const struct st_unit *out[], size_t max)
{
    char word[LONGEST_WORD + 1];
    if (!fold_word(text, n, word))
        return 0;

    const size_t from = first_of(word);
    size_t to = from, found = 0;
    while (to < NWORDS && compare(ST_UNIT_WORDS[to].word, word) == 0)
        to++;
    for (size_t i = from; i < to; i++) {
        const struct st_unit *u = &UNITS[ST_UNIT_WORDS[i].row];
        if ((want != ST_DIM_OPEN && u->dim != want) || is_outdone(u, from, to, declared))
            continue;
        if (found < max)
            out[found] = u;
        found++;
    }
    return found;
}

size_t st_unit_match(const char *text, size_t n, enum st_measures declared, enum st_dimension want,
                     const struct st_unit *out[], size_t max)
{
    while (n > 1 && text[n - 1] == '.')
        n--; /* so that "T." is one letter */
    if (n == 0)
        return 0;

    const size_t found = match_word(text, n, declared, want, out, max);
    return found == 0 && n > 2 && text[n - 1] == 's' ? match_word(text, n - 1, declared, want, out, max) : found;
}

/* ---- converting ---- */

static enum st_status strength_to_base(const struct st_unit *u, double x, double *base)
{
    double p = x / 100.0;
    if (u->scale == ST_SCALE_PROOF) {
        const enum st_status s = st_p_from_proof(x, &p);
        if (s < 0)
            return s;
    }
    return st_strength_from_p(p, base);
}

static enum st_status strength_from_base(const struct st_unit *u, double base, double *x)
{
    double p = 0.0;
    const enum st_status s = st_p_from_strength(base, &p);
    if (s < 0)
        return s;
    if (u->scale == ST_SCALE_PROOF)
        return st_proof_from_p(p, x);
    *x = 100.0 * p;
    return ST_OK;
}

/* Whether a base value of this dimension can exist. */
static bool is_possible(enum st_dimension dim, double base)
{
    return isfinite(base) && base >= 0.0 && !(dim == ST_DIM_STRENGTH && base > 100.0);
}

static bool is_gas_mark(const struct st_unit *u)
{
    return u->dim == ST_DIM_TEMPERATURE && u->factor > 10.0;
}

enum st_status st_unit_to_base(const struct st_unit *u, double x, double *base)
{
    if (u->scale != ST_SCALE_LINEAR)
        return strength_to_base(u, x, base);
    const double y = x * u->factor + u->offset;
    if (!is_possible(u->dim, y) || (is_gas_mark(u) && x < 1.0))
        return ST_E_DOMAIN;
    *base = y;
    return ST_OK;
}

enum st_status st_unit_from_base(const struct st_unit *u, double base, double *x)
{
    if (!is_possible(u->dim, base))
        return ST_E_DOMAIN;
    if (u->scale != ST_SCALE_LINEAR)
        return strength_from_base(u, base, x);
    const double y = (base - u->offset) / u->factor;
    if (is_gas_mark(u) && !(y >= 1.0 - 1e-9))
        return ST_E_DOMAIN;
    *x = y;
    return ST_OK;
}

enum st_status st_unit_range(const struct st_unit *u, double x, double *low, double *high)
{
    double base = 0.0;
    const enum st_status s = st_unit_to_base(u, x, &base);
    if (s < 0)
        return s;
    const bool vague = st_unit_is_vague(u);
    *low = vague ? x * u->low : base;
    *high = vague ? x * u->high : base;
    return s;
}

bool st_unit_is_vague(const struct st_unit *u)
{
    return u->low < u->high;
}

const char *st_dimension_base(enum st_dimension dim)
{
    static const char *const NAMES[] = {
        [ST_DIM_MASS] = "g", [ST_DIM_VOLUME] = "mL",      [ST_DIM_PIECE] = "", [ST_DIM_TEMPERATURE] = "K",
        [ST_DIM_TIME] = "s", [ST_DIM_STRENGTH] = "% vol", [ST_DIM_OPEN] = "",
    };
    return ((int)dim >= 0 && dim <= ST_DIM_OPEN) ? NAMES[dim] : "";
}
