#include "goods_line.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "line_draft.h"
#include "line_told.h"
#include "point.h"
#include "quantity.h"
#include "scan.h"
#include "stops.h"

static int refuse(struct st_problem *p, const char *what, const char *why, const char *try_)
{
    *p = (struct st_problem){ .at = { 0, 0 } };
    snprintf(p->what, sizeof p->what, "%s", what);
    snprintf(p->why, sizeof p->why, "%s", why);
    snprintf(p->try_, sizeof p->try_, "%s", try_);
    return -1;
}

/* Something that can be weighed, measured or counted. */
static int check_amount(const struct st_amount *a, struct st_problem *p)
{
    const bool goods = a->dim == ST_DIM_MASS || a->dim == ST_DIM_VOLUME || a->dim == ST_DIM_PIECE;
    if (!goods || a->open != ST_CLOSED || a->make_up_to || !(a->value > 0.0))
        return refuse(p, "no amount", "how much there is must be weighed, measured or counted",
                      "write for example 500 g, 700 mL, or 3");
    return 0;
}

/* "1.000 g": 1 g, or a thousand. */
static bool asks_of_point(const char *text, bool any, struct st_problem *p)
{
    struct st_marks marks = { .any = any };
    st_marks_see(&marks, text, strlen(text));
    return st_point_question(text, strlen(text), marks, p);
}

bool st_amount_asks(const char *text, enum st_measures measures, struct st_problem *problem)
{
    struct st_amount a;
    struct st_problem p;
    size_t used = 0;
    const int got = st_quantity_parse(text, strlen(text), measures, &a, &used, &p);

    if (got > 0 && strncmp(p.what, "two ways to read", 16) == 0) {
        *problem = p;
        return true;
    }
    return got == 0 && (a.dim == ST_DIM_MASS || a.dim == ST_DIM_VOLUME) && asks_of_point(text, false, problem);
}

int st_goods_amount(const char *text, enum st_measures measures, struct st_amount *out, struct st_problem *problem)
{
    struct st_amount a;
    size_t used = 0;
    const size_t n = strlen(text);
    const int got = st_quantity_parse(text, n, measures, &a, &used, problem);

    if (got != 0)
        return got;
    if (asks_of_point(text, false, problem))
        return 1;
    if (text[used + strspn(text + used, " \t")] != '\0')
        return refuse(problem, text, "something stands behind the amount", "write the amount alone, for example 120 g");
    if (check_amount(&a, problem))
        return -1;
    *out = a;
    return 0;
}

/* The line with amount and strength taken out, so that the name is left; false when it has no amount. */
static bool draft(const char *text, enum st_measures measures, const struct st_catalogue *c, struct st_draft *d,
                  struct st_problem *problem)
{
    *d = (struct st_draft){ .text = text, .n = strlen(text), .problem = problem };
    d->ask = (struct st_ask){ measures, ST_DIMS_GOODS, false, false };
    memcpy(d->work, text, d->n + 1);
    if (st_draft_strength(d) || st_draft_temperature(d) || st_draft_amount(d) || !d->has_amount)
        return false;
    st_draft_weighing(d);
    (void)st_draft_name(d, c); /* the name is tidied whether or not it is known */
    return d->name[0] != '\0';
}

static void keep_name(const struct st_draft *d, struct st_goods_line *out)
{
    snprintf(out->name, sizeof out->name, "%.160s%s%s", d->name, d->part[0] ? " " : "", d->part);
}

/* What the sheet does not know, or knows only with more than the line says. */
static int keep_unknown(const struct st_draft *d, const struct st_problem *doubt, struct st_goods_line *out,
                        struct st_problem *problem)
{
    if (check_amount(&d->amount, problem))
        return -1;
    keep_name(d, out);
    out->drained = st_line_is_drained(d->text, d->what);
    out->what = d->what;
    out->amount = d->amount;
    out->strength = d->strength;
    out->gross = d->gross && !d->net;
    out->weighing_said = d->gross || d->net;
    out->doubt = *doubt;
    return 0;
}

/* "3 lemons": which part is a recipe's question, and none while they lie in a bowl. */
static bool is_part(const struct st_problem *p)
{
    return strncmp(p->what, "which part of", 13) == 0;
}

/* What a recipe must know, and a larder need not: what it is, how strong, in which state.  Anything else that stops a line
 * stops it here too, and above all what must not go into a drink. */
static bool may_be_kept(const struct st_problem *p)
{
    static const char *const WHAT[] = { "unknown ingredient", "how strong is", "no " };
    if (strstr(p->what, "must not go into a drink"))
        return false;
    for (size_t i = 0; i < sizeof WHAT / sizeof *WHAT; i++)
        if (strncmp(p->what, WHAT[i], strlen(WHAT[i])) == 0)
            return true;
    return is_part(p);
}

/* ---- what looks like an amount, and is read as another ---- */

/* Measures of other languages: "2 Pfund Kirschen" is no two of a thing called so. */
static const char FOREIGN[] =
    "pfund|zentner|messerspitze|flasche|flaschen|glas|gläser|"
    "becher|"
    "tasse|tassen|bund|schuss|livre|livres|cuillère|cuillères|bouteille|bouteilles|tasse|verre|"
    "bâton|bâtons|pincée|botella|botellas|taza|tazas|cucharada|cucharadas|cucharadita|bottiglia|bottiglie|tazza|"
    "cucchiaio|cucchiai|cucchiaino";

/* The word behind the first figure. */
static bool check_unit(const char *text, struct st_problem *p)
{
    struct st_scan s = { text, text + strlen(text) };
    st_scan_blanks(&s);
    const char *digits = s.at;
    while (s.at < s.end && (isdigit((unsigned char)*s.at) || *s.at == '.' || *s.at == ','))
        s.at++;
    if (s.at == digits)
        return true;
    st_scan_blanks(&s);
    const char *word = s.at;
    char what[60];
    const bool metre = st_scan_word(&s, "m") && s.at < s.end && *s.at == ' ';
    if (!metre && !st_scan_word(&s, FOREIGN))
        return true;
    (void)snprintf(what, sizeof what, "'%.*s'", (int)(s.at - word < 40 ? s.at - word : 40), word);
    (void)refuse(p, what, "no measure of this name is known here, and no thing either",
                 metre ? "write g, kg, mL or L, for example 500 g"
                       : "write it in g, kg, mL, L or pieces: 1 kg cherries");
    return false;
}

/* 0, or as st_goods_line_read. */
static int check_figures(const char *text, struct st_problem *p)
{
    if (asks_of_point(text, true, p))
        return 1;
    return check_unit(text, p) ? 0 : -1;
}

int st_goods_line_read(const char *text, enum st_measures measures, const struct st_catalogue *c,
                       struct st_goods_line *out, struct st_problem *problem)
{
    static _Thread_local struct st_draft d; /* large */
    struct st_line line = { .text = NULL };
    struct st_problem first = { .at = { 0, 0 } }, second = { .at = { 0, 0 } };

    *out = (struct st_goods_line){ .what = NULL };
    if (strlen(text) > ST_LINE_LIMIT)
        return refuse(problem, "the line", "it is longer than 4096 bytes", "a few words do: 500 g green walnuts");
    const int figures = check_figures(text, problem);
    if (figures != 0)
        return figures;
    const int got = st_line_parse(text, measures, c, &line, &first);
    if (got > 0 ? !is_part(&first) : got < 0 && !may_be_kept(&first)) {
        *problem = first;
        return got;
    }
    if (got == 0 && line.what && st_stop_problem(line.what, problem))
        return -1;
    if (!draft(text, measures, c, &d, &second)) {
        *problem = first.what[0] ? first : second;
        return -1;
    }
    if (is_part(&first))
        d.what = NULL;
    else if (d.asks && got != 0) {
        *problem = d.question;
        return 1;
    }
    if (got != 0)
        return keep_unknown(&d, &first, out, problem);
    if (check_amount(&line.amount, problem))
        return -1;
    keep_name(&d, out);
    out->drained = st_line_is_drained(text, line.what);
    out->what = line.what;
    out->amount = line.amount;
    out->strength = line.strength;
    out->gross = line.gross;
    out->weighing_said = line.amount.dim == ST_DIM_MASS && !line.weighing_unsaid;
    return 0;
}
