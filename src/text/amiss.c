#include "amiss.h"

#include <ctype.h>
#include <string.h>

#include "scan.h"

static const char AMISS[] =
    "smells funny|smells odd|smells off|smells bad|smells sour|smells wrong|smells strange|"
    "smells of vinegar|smells of eggs|smelt funny|smelt odd|smelt off|smelled funny|smelled off|"
    "fizz|fizzes|fizzed|fizzing|fizzy|hisses|hissing|foams|foaming|frothing|bulges|bulging|"
    "mould|mold|mouldy|moldy|slimy|rotten|gone off|went off|ferments|fermenting|is fermenting|"
    "tastes off|tastes odd|tastes funny|tastes of vinegar";

bool st_says_amiss(const char *text, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        struct st_scan s = { text + i, text + n };
        if (st_is_letter((unsigned char)text[i]) && (i == 0 || !st_is_letter((unsigned char)text[i - 1])) &&
            st_scan_word(&s, AMISS))
            return true;
    }
    return false;
}

static bool tells(const char *clause, size_t n)
{
    struct st_scan s = { clause, clause + n };
    st_scan_blanks(&s);
    for (size_t i = 0; i < n; i++)
        if (isdigit((unsigned char)clause[i]))
            return false;
    return !st_scan_word(&s, "until|till|if|when|before|unless|as soon as|should|once|after|to|so that|without|remove|"
                             "discard|skim|not|no|never") &&
           st_says_amiss(clause, n);
}

size_t st_amiss_clause(const char *sentence, size_t *at)
{
    size_t found = 0;
    for (size_t i = 0; sentence[i];) {
        const size_t n = strcspn(sentence + i, ",;.!?");
        if (tells(sentence + i, n)) {
            if (!found)
                *at = i;
            found = i + n - *at;
        } else if (found)
            return found;
        i += n + strspn(sentence + i + n, ",;.!?");
    }
    return found;
}
