#include <stdio.h>
#include <string.h>

#include "clearing_words.h"

/* What acts on what clouds this drink, and why the rest does not. */

static const struct {
    enum st_cloud is;
    const char *name;
} CLOUD[] = { { ST_CLOUD_CREAM, "cream" },   { ST_CLOUD_OIL, "oil" },       { ST_CLOUD_PULP, "pulp" },
              { ST_CLOUD_PECTIN, "pectin" }, { ST_CLOUD_TANNIN, "tannin" }, { ST_CLOUD_PROTEIN, "protein" } };
enum { NCLOUD = sizeof CLOUD / sizeof *CLOUD };

const char *st_cloud_name(unsigned haze, int i)
{
    for (int k = 0; k < NCLOUD; k++)
        if ((haze & CLOUD[k].is) && i-- == 0)
            return CLOUD[k].name;
    return NULL;
}

/* One more word of a list: "oil", "oil, pulp". */
static void also(char *buf, size_t size, const char *word)
{
    const size_t at = strlen(buf);
    if (at < size)
        snprintf(buf + at, size - at, "%s%s", at ? ", " : "", word);
}

static void cloud_words(char *buf, size_t size, unsigned haze)
{
    const char *name;
    *buf = '\0';
    for (int i = 0; (name = st_cloud_name(haze, i)) != NULL; i++)
        also(buf, size, name);
}

void st_agent_no_use_words(char *buf, size_t size, const struct st_clearing *c, const struct st_agent *a)
{
    char acts[80], haze[80];
    *buf = '\0';
    if (st_agent_acts(a, c))
        return;
    cloud_words(acts, sizeof acts, a->acts);
    cloud_words(haze, sizeof haze, c->haze);
    if (c->milky)
        snprintf(buf, size, "Not for this drink: cream, milk or egg makes it milky, and %s does not clear that.",
                 a->name);
    else if (!a->acts)
        snprintf(buf, size, "It takes no haze: it is for %s.", a->against);
    else if (!c->haze)
        snprintf(buf, size, "Nothing in this drink that we know of clouds it; %s takes %s.", a->name, acts);
    else
        snprintf(buf, size, "Not for what may cloud this drink (%s): %s takes %s.%s", haze, a->name, acts,
                 c->haze & ST_CLOUD_OIL ? " Against oil: more strength, or cold and a paper filter." : "");
}

/* The agents of a role that take something of a haze: "cloth, muslin; paper coffee filter". */
static void names_of(char *buf, size_t size, const struct st_agents *all, bool filters, unsigned haze)
{
    *buf = '\0';
    for (int i = 0; i < all->n; i++) {
        const struct st_agent *a = &all->row[i];
        const size_t at = strlen(buf);
        if ((a->role == ST_AGENT_FILTER) == filters && a->role != ST_AGENT_FRUIT && (a->acts & haze) && at < size)
            snprintf(buf + at, size - at, "%s%s", at ? "; " : "", a->name);
    }
}

/* One sentence of the haze; "" when this drink has none of it. */
static void way(char *buf, size_t size, const struct st_clearing *c, const struct st_agents *all, unsigned haze)
{
    char names[300];
    *buf = '\0';
    if (!(c->haze & haze))
        return;
    names_of(names, sizeof names, all, haze == ST_CLOUD_PULP, haze);
    if (haze == ST_CLOUD_PULP)
        snprintf(buf, size,
                 "Pulp: let it stand and pour off the clear, then %s, coarse first (10 to 20 mL stay in "
                 "each paper: from memory).",
                 names);
    else if (haze == ST_CLOUD_PECTIN)
        snprintf(buf, size,
                 "Pectin: an enzyme takes it, on the fruit before the spirit; the test above tells whether it is "
                 "that.");
    else if (haze == ST_CLOUD_OIL)
        snprintf(buf, size,
                 "Oil: more strength, less of it, or cold and a paper filter. No fining is offered against it: "
                 "gelatine, egg white and milk take tannin, clay takes protein, the enzyme pectin; droplets of oil "
                 "are none of these (from memory).");
    else
        snprintf(buf, size, "Tannin and protein, which stay up longest: %s.", names);
}

void st_ways_words(char *buf, size_t size, const struct st_clearing *c, const struct st_agents *all, int i)
{
    static const unsigned ORDER[] = { ST_CLOUD_PULP, ST_CLOUD_PECTIN, ST_CLOUD_TANNIN | ST_CLOUD_PROTEIN,
                                      ST_CLOUD_OIL };
    int at = 0;
    *buf = '\0';
    if (c->milky || !c->haze) {
        if (i == 0)
            snprintf(buf, size, "%s",
                     c->milky ? "Cream, milk or egg makes it milky: no filter and no fining is offered against that."
                              : "Nothing in it that we know of clouds it: there is nothing to strain or to fine.");
        return;
    }
    for (size_t k = 0; k < sizeof ORDER / sizeof *ORDER; k++) {
        way(buf, size, c, all, ORDER[k]);
        if (*buf && at++ == i)
            return;
    }
    *buf = '\0';
}

void st_not_for_this_words(char *buf, size_t size, const struct st_clearing *c, const struct st_agents *all)
{
    char names[400] = "";
    *buf = '\0';
    for (int i = 0; i < all->n; i++)
        if (!st_agent_acts(&all->row[i], c)) {
            const size_t at = strlen(names);
            snprintf(names + at, sizeof names - at, "%s%s", at ? "; " : "", all->row[i].name);
        }
    if (*names)
        snprintf(buf, size, "Left out, since they do not act on what may cloud this drink: %s.", names);
}
