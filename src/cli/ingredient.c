#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"
#include "core/strength.h"
#include "text/held.h"
#include "text/ledger_words.h"
#include "text/rules_built.h"

const char cmd_ingredient_usage[] = "stillroom ingredient NAME, stillroom ingredient --list [WORD]\n"
                                    "\n"
                                    "What the sheet knows of an ingredient: each figure with the range that holds 19\n"
                                    "cases of 20, how it is known, and its source.  --list names what there is, or\n"
                                    "what has WORD in its name.\n"
                                    "\n"
                                    "  stillroom ingredient damson\n"
                                    "  stillroom ingredient --list syrup\n";

static const char *mark_text(char mark)
{
    switch (mark) {
    case 'r': return "read";
    case 'm': return "from memory";
    case 'c': return "computed";
    case 'p': return "common practice, no source";
    case 'u': return "the maker's own";
    default: return "not told";
    }
}

/* One figure, as text or as a member of doc. */
static void figure(json_t *doc, const char *key, const char *name, const char *unit, double factor,
                   const struct st_range *x)
{
    if (!x->known)
        return;
    if (doc) {
        json_object_set_new(doc, key,
                            json_pack("{s:f, s:f, s:f, s:s, s:s, s:s}", "value", x->value * factor, "low",
                                      x->low * factor, "high", x->high * factor, "unit", unit, "known",
                                      mark_text(x->mark), "source", x->source ? x->source : ""));
        return;
    }
    char range[64];
    snprintf(range, sizeof range, "%.4g %s (%.4g to %.4g)", x->value * factor, unit, x->low * factor, x->high * factor);
    const char *mark = mark_text(x->mark), *source = x->source && strcmp(x->source, "none") != 0 ? x->source : "";
    const bool said = strncmp(source, mark, strlen(mark)) == 0; /* "from memory: 6 g of zest" says how it is known */
    printf("  %-18s %-30s %s%s%s\n", name, range, said ? "" : mark, *source && !said ? ": " : "", source);
}

static void figures(json_t *doc, const struct st_ingredient *in)
{
    for (int i = 0; i < ST_NCOMP; i++)
        figure(doc, st_component_name((enum st_component)i), st_component_name((enum st_component)i), "%", 100,
               &in->part[i]);
    figure(doc, "sugars", "sugars, total", "%", 100, &in->sugars);
    figure(doc, "strength_pct_vol", "strength", "% vol", 1, &in->strength);
    figure(doc, "density_g_ml", "density", "g/mL", 1, &in->density);
    figure(doc, "cup_g", "a US cup", "g", 1, &in->cup);
    figure(doc, "tablespoon_g", "a US tablespoon", "g", 1, &in->tbsp);
    figure(doc, "teaspoon_g", "a US teaspoon", "g", 1, &in->tsp);
    figure(doc, "piece_g", "a piece", "g", 1, &in->piece);
    figure(doc, "edible_share", "net of bought", "%", 100, &in->edible);
    figure(doc, "retention_g_g", "liquor it keeps", "g/g", 1, &in->retention);
    figure(doc, "extract_share", "of solids dissolves", "%", 100, &in->extract_share);
    figure(doc, "sweetness", "sweetness, sugar 1", "g/g", 1, &in->sweetness);
    figure(doc, "oil_ml_kg", "essential oil", "mL/kg", 1, &in->oil);
    figure(doc, "energy_kj_g", "energy", "kJ/g", 1, &in->energy);
    for (int i = 0; i < in->n_marker; i++)
        figure(doc, in->marker[i].marker, in->marker[i].marker, "mg/g", 1, &in->marker[i].mg_g);
}

/* On whose list an allergen stands. */
static const char *scope_text(const char *scope)
{
    static const char *const WORDS[][2] = { { "eu_us", "on the lists of EU and US" },
                                            { "eu", "on the list of the EU" },
                                            { "us", "on the list of the US" },
                                            { "voluntary", "on neither list, told all the same" },
                                            { "possible_eu_us", "may be there: read the pack" },
                                            { "possible_eu", "may be there (EU list): read the pack" },
                                            { "possible_us", "may be there (US list): read the pack" } };
    for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++)
        if (strcmp(scope, WORDS[i][0]) == 0)
            return WORDS[i][1];
    return scope;
}

static void flags(json_t *doc, const char *key, const char *word, const struct st_flag *f, int n)
{
    json_t *all = doc ? json_array() : NULL;
    for (int i = 0; i < n; i++) {
        char place[120];
        const unsigned barred_in = strcmp(f[i].what, "banned") == 0 || strcmp(f[i].what, "barred_elsewhere") == 0
                                       ? st_rule_places(f[i].degree)
                                       : 0;
        const char *degree = doc         ? f[i].degree
                             : barred_in ? st_law_place_words(barred_in, place, sizeof place)
                                         : scope_text(f[i].degree);
        if (all)
            json_array_append_new(all, json_pack("{s:s, s:s, s:s, s:s, s:s}", "what", f[i].what, "degree", f[i].degree,
                                                 "because", f[i].text ? f[i].text : "", "known", mark_text(f[i].mark),
                                                 "source", f[i].source ? f[i].source : ""));
        else
            cli_say(2, 4, "%s: %s%s%s; %s [%s]", word, f[i].what, degree[0] == '-' ? "" : ", ",
                    degree[0] == '-' ? "" : degree, f[i].text ? f[i].text : "",
                    f[i].source && f[i].source[0] ? f[i].source : mark_text(f[i].mark));
    }
    if (all)
        json_object_set_new(doc, key, all);
}

static void worst_case(json_t *all, const struct st_toxicant *t, const struct st_content *row)
{
    char ceiling[40];
    const double most = row ? row->ceiling_mg_kg : (double)NAN;
    const bool known = isfinite(most);
    const char *when = row && row->stones ? ", every stone or pip opened" : "";
    if (all)
        json_array_append_new(all, json_pack("{s:s, s:o, s:b, s:s, s:s, s:s, s:s}", "toxicant", t->name,
                                             "ceiling_mg_kg", known ? json_real(most) : json_null(), "stones_opened",
                                             row ? row->stones : false, "through", row ? row->through : "", "note",
                                             row ? row->note : "", "known", mark_text(row ? row->mark : 'm'), "source",
                                             row ? row->source : ""));
    else if (row && known)
        cli_say(2, 4, "At most, %s: %s mg in a kg%s%s%s%s; %s%s%s", t->name,
                st_bound_words(most, ceiling, sizeof ceiling), when, *row->through ? " (" : "", row->through,
                *row->through ? ")" : "", row->source, row->mark == 'm' ? ", an unverified figure" : "", "");
    else
        cli_say(2, 4, "At most, %s: not assessed, no ceiling is published", t->name);
}

/* What it may hold at most of each toxicant, bound forms included: what `cautions` reckons with. */
static void worst_cases(json_t *doc, const struct st_ingredient *in)
{
    struct st_problem problem = { .what = "" };
    struct st_rule_books *books = st_rules_built(&problem);
    json_t *all = doc ? json_array() : NULL;
    for (int i = 0; books && i < books->n_toxicant; i++) {
        const struct st_toxicant *t = &books->toxicant[i];
        const struct st_content *row = st_content_find(books, in, NULL, t->slug);
        if (row || st_toxicant_flagged(t, in))
            worst_case(all, t, row);
    }
    if (doc)
        json_object_set_new(doc, "worst_cases", all);
    st_rule_books_free(books);
}

static int show(const struct cli *c, const struct st_ingredient *in)
{
    json_t *doc = c->json
                      ? json_pack("{s:s, s:s, s:s, s:s}", "name", in->name, "kind", st_kind_name(in->kind), "botanical",
                                  in->botanical ? in->botanical : "", "names", in->names ? in->names : "")
                      : NULL;
    if (!doc) {
        char kind[40];
        snprintf(kind, sizeof kind, "%s", st_kind_name(in->kind));
        for (char *p = kind; *p; p++)
            if (*p == '_')
                *p = ' ';
        printf("%s (%s%s%s)\n", in->name, kind, in->botanical && in->botanical[0] ? ", " : "",
               in->botanical ? in->botanical : "");
    }
    figures(doc, in);
    flags(doc, "allergens", "Allergen", in->allergen, in->n_allergen);
    flags(doc, "cautions", "Caution", in->caution, in->n_caution);
    worst_cases(doc, in);
    double p = 0.0, q = 0.0;
    if (!doc && in->kind == ST_KIND_SPIRIT && st_p_from_proof(80.0, &p) >= 0 && st_strength_from_p(p, &q) >= 0)
        cli_say(2, 4,
                "Its strength is that of the label. Proof is US proof, at 60 \xc2\xb0"
                "F: 80 proof is %.2f %% vol at 20 \xc2\xb0"
                "C.",
                q);
    if (!doc)
        cli_say(2, 2, "What is not listed is not known; no caution means that none was found, and no more.");
    return doc ? cli_json_print(doc) : ST_EXIT_DONE;
}

static int list(const struct cli *c, const struct st_catalogue *all)
{
    const char *word = c->argc > 0 ? c->argv[0] : "";
    json_t *names = c->json ? json_array() : NULL;
    size_t found = 0;
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        if (word[0] && !strstr(in->name, word) && !(in->names && strstr(in->names, word)))
            continue;
        found++;
        if (names)
            json_array_append_new(names, json_string(in->name));
        else
            printf("%s\n", in->name);
    }
    if (!found)
        cli_error("nothing listed", "no name in the sheet holds that word", "try a shorter one, or --list alone");
    const int printed = names ? cli_json_print(json_pack("{s:o}", "ingredients", names)) : ST_EXIT_DONE;
    return printed != ST_EXIT_DONE ? printed : found ? ST_EXIT_DONE : ST_EXIT_UNMET;
}

static int unknown(const struct st_catalogue *all, const char *name)
{
    const struct st_ingredient *near[3];
    char what[160],
        try_[400] = "stillroom ingredient --list names them; in a recipe, define your own under `ingredients:`";
    const int n = st_catalogue_near(all, name, strlen(name), near, 3);
    const struct st_ingredient *stop = st_held_stop(all, name, strlen(name));

    snprintf(what, sizeof what, "unknown ingredient '%.80s'", name);
    if (!stop)
        stop = st_catalogue_slip(all, name, strlen(name));
    if (stop) {
        snprintf(what, sizeof what, "STOP: '%.55s' names %.45s, which must not go into a drink", name, stop->name);
        snprintf(try_, sizeof try_, "`stillroom ingredient %.60s` tells why", stop->slug);
    }
    if (n > 0)
        snprintf(try_, sizeof try_,
                 "did you mean %.60s%s%.60s%s%.60s? in a recipe, `ingredients:` can say what it is like", near[0]->name,
                 n > 1 ? ", " : "", n > 1 ? near[1]->name : "", n > 2 ? " or " : "", n > 2 ? near[2]->name : "");
    cli_error(what, stop ? "no drink is made with it" : "it is not in the sheet", try_);
    return ST_EXIT_INPUT;
}

int cmd_ingredient(struct cli *c)
{
    static const char *const known[] = { "--list", NULL };
    const bool listed = cli_flag(c, "--list");
    char name[200] = "";

    if (!cli_no_more_options(c, known))
        return ST_EXIT_INPUT;
    for (int i = 0; i < c->argc; i++)
        snprintf(name + strlen(name), sizeof name - strlen(name), "%s%s", i ? " " : "", c->argv[i]);
    if (!listed && !name[0]) {
        cli_error("no ingredient is named", "one is looked up at a time", "stillroom ingredient damson, or --list");
        return ST_EXIT_INPUT;
    }
    struct st_catalogue *all = cli_catalogue();
    if (!all)
        return ST_EXIT_SYSTEM;
    const struct st_ingredient *in = listed ? NULL : st_catalogue_find(all, name, strlen(name));
    if (!in && !listed)
        in = st_held_stop(all, name, strlen(name)); /* "dried yew" is told as yew */
    const int code = listed ? list(c, all) : in ? show(c, in) : unknown(all, name);
    st_catalogue_free(all);
    return code;
}
