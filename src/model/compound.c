#include "compound.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

/* One of the words parted by '|', blanks around them passed over. */
static bool among(const char *words, const char *name)
{
    const size_t n = strlen(name);
    for (const char *at = words; *at;) {
        at += strspn(at, " |");
        const size_t length = strcspn(at, "|");
        size_t used = length;
        while (used && at[used - 1] == ' ')
            used--;
        if (n > 0 && used == n && memcmp(at, name, n) == 0)
            return true;
        at += length;
    }
    return false;
}

const struct st_compound *st_compound_find(const struct st_compounds *c, const char *name)
{
    for (int i = 0; c && name && i < c->n; i++)
        if (strcmp(c->row[i].name, name) == 0 || among(c->row[i].other_names, name))
            return &c->row[i];
    return NULL;
}

/* About what aromas of 150 to 160 g/mol have ([hayduk_laudie1974], as the sheet's rows). */
static const double USUAL_D_WATER = 7e-10;

double st_compound_d_water(const struct st_compound *c)
{
    return c && c->d_water > 0.0 ? c->d_water : USUAL_D_WATER;
}
