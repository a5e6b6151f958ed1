#include "heat_words.h"

#include <ctype.h>
#include <string.h>

/* '|' between; a phrase of several words has single blanks. */
static const char FIRE[] =
    "|simmer|simmers|simmered|simmering|boil|boils|boiling|boil up|reboil|parboil|flame|flames|flamed|flaming|flambe|"
    "flambed|flambeed|flamb\xC3\xA9|flamb\xC3\xA9" "ed|flamb\xC3\xA9" "e|hob|stove|stovetop|oven|burner|burners|gas ring|bunsen|"
    "candle|candles|tealight|tealights|set alight|set light|set fire|set on fire|set it alight|set it on fire|light it|"
    "ignite|ignites|ignited|bain marie|bain-marie|double boiler|saucepan|fire|hotplate|hot plate|microwave|heat|heats|"
    "heated|heating|reheat|";
static const char HOT[] = "|hot|boiling|scalding|steaming|piping|still warm|while warm|";
static const char FRESH[] = "|at once|immediately|straight away|straightaway|straight from|right away|without cooling|";
static const char NOT[] = "|no|not|never|without|away|off|nor|don't|dont|avoid|keep from|far|instead|neither|cannot|";
static const char NOT_SO[] = "|chilli|chillies|chili|pepper|peppers|paprika|sauce|summer|day|days|weather|month|months|"
                             "spell|spice|spices|horseradish|mustard|";

static bool in_word(unsigned char c)
{
    return isalnum(c) || c == '\'' || c == '-' || c >= 0x80;
}

/* The word or phrase at p is in the list, as a whole; its length. */
static size_t listed(const char *p, const char *list)
{
    size_t longest = 0;
    for (const char *one = list + 1; *one;) {
        const size_t n = strcspn(one, "|");
        size_t k = 0;
        while (k < n && tolower((unsigned char)p[k]) == (unsigned char)one[k])
            k++;
        if (k == n && n > longest && !in_word((unsigned char)p[n]))
            longest = n;
        one += n + (one[n] == '|');
    }
    return longest;
}

/* Begin of the word before p within its sentence, or NULL. */
static const char *word_before(const char *text, const char *p)
{
    while (p > text && !in_word((unsigned char)p[-1]))
        if (strchr(".;:!", *--p))
            return NULL;
    const char *end = p;
    while (p > text && in_word((unsigned char)p[-1]))
        p--;
    return p < end ? p : NULL;
}

static bool taken_back(const char *text, const char *p)
{
    for (int back = 0; back < 4 && (p = word_before(text, p)) != NULL; back++)
        if (listed(p, NOT))
            return true;
    return false;
}

static bool says(const char *text, const char *list)
{
    for (const char *p = text; p && *p;) {
        const size_t n = p > text && in_word((unsigned char)p[-1]) ? 0 : listed(p, list);
        if (n && !taken_back(text, p) && !listed(p + n + strspn(p + n, " "), NOT_SO))
            return true;
        p += n ? n : 1;
    }
    return false;
}

bool st_says_fire(const char *words)
{
    return says(words, FIRE);
}

bool st_says_hot(const char *words, bool fresh)
{
    return says(words, HOT) || (fresh && says(words, FRESH));
}
