#include "heat_words.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

/* '|' between; a phrase of several words has single blanks. */
static const char DEED[] =
    "|simmer|simmers|simmered|simmering|boil|boils|boiled|boiling|boil up|reboil|parboil|flamed|flaming|flambe|"
    "flambed|flambeed|flamb\xC3\xA9|flamb\xC3\xA9"
    "ed|flamb\xC3\xA9"
    "e|set alight|set light|set fire|set on fire|"
    "set it alight|set it on fire|light it|ignite|ignites|ignited|heat|heats|heated|heating|reheat|microwave|"
    "burn off|burn it off|burnt off|burned "
    "off|warmed|warming|warms|poach|poached|scald|scalded|cook|cooks|cooked|cooking|";
static const char THING[] =
    "|flame|flames|hob|stove|stovetop|oven|burner|burners|gas ring|bunsen|candle|candles|tealight|tealights|"
    "bain marie|bain-marie|double boiler|saucepan|fire|hotplate|hot plate|water bath|water-bath|waterbath|radiator|"
    "radiators|slow cooker|sous vide|sous-vide|";
/* "warm" is a deed ("warm the spirit"), but not where a place or a day is warm. */
static const char WARM_IS[] = "|place|places|room|spot|cupboard|kitchen|corner|windowsill|window|sill|shelf|sun|sunny|"
                              "weather|day|days|summer|month|months|spice|spices|colour|color|dark|dry|";
static const char HOT[] = "|hot|boiling|scalding|steaming|piping|still warm|while warm|";
static const char FRESH[] = "|at once|immediately|straight away|straightaway|straight from|right away|without cooling|";
static const char NOT[] = "|no|not|never|without|away|off|nor|don't|dont|avoid|keep from|far|instead|neither|cannot|";
static const char NOT_SO[] = "|chilli|chillies|chili|pepper|peppers|paprika|sauce|summer|day|days|weather|month|months|"
                             "spell|spice|spices|horseradish|mustard|";

bool st_in_word(unsigned char c)
{
    return isalnum(c) || c == '\'' || c == '-' || c >= 0x80;
}

size_t st_listed(const char *p, const char *list)
{
    size_t longest = 0;
    for (const char *one = list + 1; *one;) {
        const size_t n = strcspn(one, "|");
        size_t k = 0;
        while (k < n && tolower((unsigned char)p[k]) == (unsigned char)one[k])
            k++;
        if (k == n && n > longest && !st_in_word((unsigned char)p[n]))
            longest = n;
        one += n + (one[n] == '|');
    }
    return longest;
}

/* Begin of the word before p within its sentence, or NULL. */
static const char *word_before(const char *text, const char *p)
{
    while (p > text && !st_in_word((unsigned char)p[-1]))
        if (strchr(".;:!", *--p))
            return NULL;
    const char *end = p;
    while (p > text && st_in_word((unsigned char)p[-1]))
        p--;
    return p < end ? p : NULL;
}

bool st_taken_back(const char *text, const char *p, const char *by)
{
    for (int back = 0; back < 4 && (p = word_before(text, p)) != NULL; back++)
        if (st_listed(p, by))
            return true;
    return false;
}

/* "a warm, dark place", "somewhere warm", "on a warm and sunny sill"; p stands at "warm". */
static bool is_warm_place(const char *p)
{
    p += 4;
    for (int i = 0; i < 4; i++) {
        p += strspn(p, " ,");
        if (st_listed(p, WARM_IS))
            return true;
        p += strcspn(p, " ,.;:!?");
        if (strchr(".;:!?", *p)) /* the end, too */
            return false;
    }
    return false;
}

size_t st_fire_thing(const char *p)
{
    return st_listed(p, THING);
}

size_t st_fire_word(const char *p)
{
    const size_t deed = st_listed(p, DEED), thing = st_listed(p, THING);
    if (deed || thing)
        return deed > thing ? deed : thing;
    return st_listed(p, "|warm|") && !is_warm_place(p) ? 4 : 0;
}

size_t st_fire_degrees(const char *p)
{
    char *end = NULL;
    if (!isdigit((unsigned char)*p))
        return 0;
    const double x = strtod(p, &end);
    end += strspn(end, " ");
    end += strncmp(end, "\xC2\xB0", 2) == 0 || strncmp(end, "\xC2\xBA", 2) == 0 ? 2 : 0; /* or the sign of ordinals */
    const size_t word = st_listed(end, "|degrees|degree|deg|");
    end += word;
    end += strspn(end, " ");
    const bool f = st_listed(end, "|f|fahrenheit|") > 0, c = st_listed(end, "|c|celsius|centigrade|") > 0;
    return (c && x >= 40.0) || (f && x >= 104.0) ? (size_t)(end - p) : 0;
}

size_t st_hot_word(const char *p)
{
    const size_t n = st_listed(p, HOT);
    return n && !st_listed(p + n + strspn(p + n, " "), NOT_SO) ? n : 0;
}

size_t st_not_word(const char *p)
{
    return st_listed(p, NOT);
}

bool st_says_hot(const char *words, bool fresh)
{
    for (const char *p = words; p && *p;) {
        size_t n = p > words && st_in_word((unsigned char)p[-1]) ? 0 : st_hot_word(p);
        if (!n && fresh && !(p > words && st_in_word((unsigned char)p[-1])))
            n = st_listed(p, FRESH);
        if (n && !st_taken_back(words, p, NOT))
            return true;
        p += n ? n : 1;
    }
    return false;
}
