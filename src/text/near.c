#include "near.h"

#include <string.h>

enum { LONGEST = 60 };

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* Edits between a and b, two neighbours swapped counting one; three rows of the table are kept. */
static size_t edits(const char *a, size_t na, const char *b, size_t nb)
{
    size_t rows[3][LONGEST + 1];
    size_t *before = rows[0], *above = rows[1], *row = rows[2];

    for (size_t j = 0; j <= nb; j++)
        above[j] = j;
    for (size_t i = 1; i <= na; i++) {
        row[0] = i;
        for (size_t j = 1; j <= nb; j++) {
            const size_t other = above[j - 1] + (a[i - 1] != b[j - 1]);
            row[j] = least(other, least(above[j], row[j - 1]) + 1);
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                row[j] = least(row[j], before[j - 2] + 1);
        }
        size_t *free_row = before;
        before = above;
        above = row;
        row = free_row;
    }
    return above[nb];
}

double st_near_word(const char *a, size_t na, const char *b, size_t nb)
{
    na = least(na, LONGEST);
    nb = least(nb, LONGEST);
    const size_t longer = na > nb ? na : nb, shorter = na + nb - longer;
    if (longer == 0)
        return 1;
    if (shorter * 2 < longer) /* more than half the letters are missing: not worth counting */
        return 0;
    return 1 - (double)edits(a, na, b, nb) / (double)longer;
}

/* Likeness of each word of a to its best partner in b, weighted by length. */
static double one_way(const char *a, const char *b)
{
    double sum = 0, weight = 0;

    for (size_t na; *a; a += na + (a[na] == ' ')) {
        na = strcspn(a, " ");
        double best = 0;
        const char *p = b;
        for (size_t nb; *p; p += nb + (p[nb] == ' ')) {
            nb = strcspn(p, " ");
            const double like = st_near_word(a, na, p, nb);
            if (like > best)
                best = like;
        }
        sum += best * best * (double)na; /* squared: two half likenesses are not one whole */
        weight += (double)na;
    }
    return weight > 0 ? sum / weight : 0;
}

double st_near_name(const char *a, const char *b)
{
    const double forth = one_way(a, b);
    if (forth < 0.3)
        return forth / 2;                   /* the way back cannot lift it far */
    return (2 * forth + one_way(b, a)) / 3; /* what was asked for counts double */
}

/* One of each run of letters: the commonest slip is a letter doubled, or not. */
static size_t undouble(const char *word, size_t n, char out[LONGEST])
{
    size_t k = 0;

    for (size_t i = 0; i < n && k < LONGEST; i++)
        if (k == 0 || out[k - 1] != word[i])
            out[k++] = word[i];
    return k;
}

/* A sulphate is no sulphite, nor a nitrate a nitrite: one letter, and another thing. */
static bool are_salts_apart(const char *a, size_t na, const char *b, size_t nb)
{
    static const char *const END[] = { "ate", "ite", "ide" };
    int of_a = -1, of_b = -1;

    for (int i = 0; i < 3; i++) {
        if (na > 4 && memcmp(a + na - 3, END[i], 3) == 0)
            of_a = i;
        if (nb > 4 && memcmp(b + nb - 3, END[i], 3) == 0)
            of_b = i;
    }
    return of_a >= 0 && of_b >= 0 && of_a != of_b;
}

/* "pdo" for "pod": the letters of a short word, two neighbours swapped. */
static bool is_swap(const char *a, size_t na, const char *b, size_t nb)
{
    size_t i = 0;

    if (na != nb || na < 3)
        return false;
    while (i < na && a[i] == b[i])
        i++;
    return i + 1 < na && a[i] == b[i + 1] && a[i + 1] == b[i] && memcmp(a + i + 2, b + i + 2, na - i - 2) == 0;
}

static bool is_slip(const char *a, size_t na, const char *b, size_t nb)
{
    char x[LONGEST], y[LONGEST];
    const size_t nx = undouble(a, na, x), ny = undouble(b, nb, y), longer = nx > ny ? nx : ny;

    return !are_salts_apart(x, nx, y, ny) && longer - (nx + ny - longer) <= longer / 4 &&
           edits(x, nx, y, ny) <= longer / 4;
}

static bool has_like(const char *word, size_t n, const char *b)
{
    for (size_t nb; *b; b += nb + (b[nb] == ' ')) {
        nb = strcspn(b, " ");
        if (is_slip(word, n, b, nb) || is_swap(word, n, b, nb))
            return true;
    }
    return false;
}

/* How a thing is, not which it is. */
static bool is_state(const char *word, size_t n)
{
    static const char *const STATE[] = { "fresh",  "dried", "dry",   "frozen",  "ripe", "whole",
                                         "ground", "large", "small", "organic", "raw" };

    for (size_t i = 0; i < sizeof STATE / sizeof *STATE; i++)
        if (strlen(STATE[i]) == n && memcmp(STATE[i], word, n) == 0)
            return true;
    return false;
}

/* Has each word of a, but for how it is, a partner in b? */
static bool all_have_like(const char *a, const char *b)
{
    for (size_t n; *a; a += n + (a[n] == ' ')) {
        n = strcspn(a, " ");
        if (!is_state(a, n) && !has_like(a, n, b))
            return false;
    }
    return true;
}

/* Share of the letters of a in words that have a partner in b. */
static double shared(const char *a, const char *b)
{
    size_t with = 0, all = 0;

    for (size_t na; *a; a += na + (a[na] == ' ')) {
        na = strcspn(a, " ");
        all += na;
        if (has_like(a, na, b))
            with += na;
    }
    return all > 0 ? (double)with / (double)all : 0;
}

bool st_near_enough(const char *a, const char *b)
{
    return all_have_like(a, b) && shared(a, b) >= 0.5 && shared(b, a) >= 0.5;
}

const char *st_near_key(const char *word, const char *const key[], size_t n)
{
    const char *best = NULL;
    double most = 0.5;

    for (size_t i = 0; i < n; i++) {
        const double like = st_near_word(word, strlen(word), key[i], strlen(key[i]));
        if (like > most) {
            most = like;
            best = key[i];
        }
    }
    return best;
}
