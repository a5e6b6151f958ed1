#include <math.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"
#include "text/line_told.h"
#include "text/caution_words.h"

static void figure(const struct st_foretold *f, enum st_figure which, const char *name, const char *unit)
{
    char text[160];
    if (!f->fig[which].known || !(f->fig[which].high > 0.0))
        return; /* none of it is not worth a line */
    st_figure_words(text, sizeof text, &f->fig[which], unit);
    cli_figure_line(name, text);
}

void page_figures(const struct st_foretold *f, enum st_measures units)
{
    char text[160];
    st_volume_words(text, sizeof text, &f->fig[ST_FIG_VOLUME], units);
    cli_figure_line("how much", text);
    figure(f, ST_FIG_STRENGTH, "strength", "% vol");
    figure(f, ST_FIG_SUGAR, "sugar", "g/L");
    figure(f, ST_FIG_ACID, "acid", "g/L");
    figure(f, ST_FIG_EXTRACT, "body", "g/L");
    if (f->fig[ST_FIG_FAT].known && f->fig[ST_FIG_FAT].value > 0.5)
        figure(f, ST_FIG_FAT, "fat", "g/L");
}

void page_readings(const struct st_foretold *f)
{
    figure(f, ST_FIG_SG, "hydrometer", "");
    figure(f, ST_FIG_BRIX, "refractometer", "Brix");
    if (!f->fig[ST_FIG_BRIX].known)
        cli_figure_line("refractometer", "not known: some makings lie beyond its scale");
}

static void print_bottles(const struct page *p)
{
    const struct st_interval *n = &p->out->fig[ST_FIG_BOTTLES];
    char text[240];

    if (!(p->out->bottle_ml > 0.0) || !n->known)
        return;
    st_bottles_words(text, sizeof text, n->value * p->out->bottle_ml, p->out->bottle_ml);
    const double low = floor(n->low), high = floor(n->high);
    const size_t at = strlen(text);
    if (low < high)
        snprintf(text + at, sizeof text - at, ", likely %.0f to %.0f full ones", low, high);
    cli_figure_line("bottles", text);
}

static void print_energy(const struct page *p)
{
    const struct st_interval *kj = &p->out->fig[ST_FIG_ENERGY_KJ], *kcal = &p->out->fig[ST_FIG_ENERGY_KCAL];
    const double ml = p->recipe->serving_ml;
    char text[200];

    if (!kj->known || !kcal->known)
        return;
    snprintf(text, sizeof text, "about %.0f kJ (%.0f kcal) in 100 mL,", kj->value, kcal->value);
    cli_figure_line("energy", text);
    snprintf(text, sizeof text, "%.0f kJ (%.0f kcal) in a serving of %g mL", kj->value * ml / 100.0,
             kcal->value * ml / 100.0, ml);
    cli_figure_line("", text);
}

static void print_cost(const struct page *p)
{
    const struct st_interval *cost = &p->out->fig[ST_FIG_COST], *volume = &p->out->fig[ST_FIG_VOLUME];
    const char *currency = p->recipe->currency ? p->recipe->currency : "";
    const double bottle = p->out->bottle_ml;
    char text[200];

    if (!cost->known || !st_recipe_is_priced(p->recipe))
        return;
    snprintf(text, sizeof text, "about %.2f%s%s for what goes in", cost->value, *currency ? " " : "", currency);
    const size_t at = strlen(text);
    if (bottle > 0.0 && volume->known && volume->value > 0.0)
        snprintf(text + at, sizeof text - at, ", %.2f for each %g mL", cost->value * bottle / volume->value, bottle);
    cli_figure_line("cost", text);
}

static void print_wish(const struct page *p)
{
    char text[512];
    (void)st_wish_words(p->recipe, p->out, text, sizeof text);
    for (char *line = text; *line;) {
        char *end = strstr(line, "; ");
        if (end)
            *end = '\0';
        cli_figure_line(line == text ? "your wish" : "", line);
        line = end ? end + 2 : line + strlen(line);
    }
}

static int markers_shown(const struct st_foretold *f)
{
    int n = 0;
    for (int i = 0; i < f->n_marker; i++)
        n += st_marker_is_flavour(f->marker[i]);
    return n;
}

static void print_markers(const struct page *p)
{
    char text[160];
    if (markers_shown(p->out) == 0)
        return;
    cli_heading("Flavour followed (a guess)");
    for (int i = 0; i < p->out->n_marker; i++) {
        if (!st_marker_is_flavour(p->out->marker[i]))
            continue;
        st_figure_words(text, sizeof text, &p->out->marker_mg_l[i], "mg/L");
        cli_figure_line(p->out->marker[i], text);
    }
}

/* As a sentence: a capital first, one full stop last; "" stays "". */
static void as_sentence(char *buf, size_t size, const char *text)
{
    snprintf(buf, size, "%s", text);
    if (buf[0] >= 'a' && buf[0] <= 'z')
        buf[0] = (char)(buf[0] - 'a' + 'A');
    size_t n = strlen(buf);
    if (n > 0 && buf[n - 1] != '.' && buf[n - 1] != '!' && n + 1 < size) {
        buf[n] = '.';
        buf[n + 1] = '\0';
    }
}

void page_caution(int indent, const struct st_caution *c)
{
    static const char *const WORD[] = {
        [ST_LEVEL_NOTE] = "Note", [ST_LEVEL_CAUTION] = "Caution", [ST_LEVEL_OVER] = "Over the limit", [ST_LEVEL_STOP] = "STOP"
    };
    char heading[sizeof c->what], what[sizeof c->what + 2], because[sizeof c->because + 2];
    as_sentence(what, sizeof what, st_caution_heading(c, heading, sizeof heading));
    as_sentence(because, sizeof because, c->because);
    char source[120];
    st_caution_source(c, source, sizeof source);
    cli_say(indent, indent + 2, source[0] == '[' ? "%s: %s %s %s" : "%s: %s %s (%s)", WORD[c->level], what, because,
            source);
}

static bool told_before(const struct st_cautions *c, int at)
{
    for (int i = 0; i < at; i++)
        if (strcmp(c->item[i].what, c->item[at].what) == 0 && strcmp(c->item[i].because, c->item[at].because) == 0)
            return true;
    return false;
}

bool page_stops(const struct st_cautions *c, const char *after)
{
    if (!st_cautions_stop(c))
        return false;
    for (int i = 0; i < c->n; i++)
        if (c->item[i].level == ST_LEVEL_STOP && !told_before(c, i))
            page_caution(0, &c->item[i]);
    cli_wrap(0, 0, after);
    return true;
}

static bool has_caution(const struct page *p, int step, int line)
{
    for (int i = 0; i < p->cautions->n; i++)
        if (p->cautions->item[i].step == step && p->cautions->item[i].line == line)
            return true;
    return false;
}

static void print_cautions(const struct page *p, int step, int line, int indent)
{
    for (int i = 0; i < p->cautions->n; i++)
        if (p->cautions->item[i].step == step && p->cautions->item[i].line == line)
            page_caution(indent, &p->cautions->item[i]);
}

/* All of the step before, and nothing else. */
static bool goes_without_saying(const struct st_step *s, int line, int step)
{
    const struct st_line *l = &s->line[line];
    return s->n_line == 1 && step > 0 && l->from_step == step - 1 && l->part == ST_LIQUOR &&
           l->amount.dim == ST_DIM_OPEN;
}

/* What was understood, where the maker's words do not hold the name. */
void page_line_text(char *buf, size_t size, const struct st_line *l)
{
    char low[400], name[80];
    size_t i = 0;
    for (; i < sizeof low - 1 && l->text[i]; i++)
        low[i] = l->text[i] >= 'A' && l->text[i] <= 'Z' ? (char)(l->text[i] + ('a' - 'A')) : l->text[i];
    low[i] = '\0';
    snprintf(name, sizeof name, "%s", l->what ? l->what->name : "");
    for (char *p = name; *p; p++)
        *p = *p >= 'A' && *p <= 'Z' ? (char)(*p + ('a' - 'A')) : *p;
    bool all = true;
    for (char *w = name; *w;) {
        const size_t n = strcspn(w, " ,");
        const bool more = w[n] != '\0';
        w[n] = '\0';
        all = all && (n == 0 || strstr(low, w) || (strncmp(w, "cherry", 6) == 0 && strstr(low, "cherri")));
        w += n + more;
    }
    char told[120];
    st_line_told(l, told, sizeof told);
    snprintf(buf, size, "%s%s%s%s%s", l->text, all ? "" : " (taken as ", all ? "" : l->what->name, all ? "" : ")", told);
}

static void print_step(const struct page *p, int i)
{
    const struct st_step *s = &p->recipe->step[i];
    const char *kind = st_do_name(s->kind);
    const bool named = strcmp(kind, s->id) != 0;
    char time[64];

    st_time_words(time, sizeof time, &s->time);
    printf("  %d. %s%s%s%s%s%s%s", i + 1, kind, named ? " \"" : "", named ? s->id : "", named ? "\"" : "",
           *time ? ", " : "", time, s->press ? ", pressed" : "");
    if (s->bottle_ml > 0.0)
        printf(", %g mL each", s->bottle_ml);
    putchar('\n');
    for (int k = 0; k < s->n_line; k++) {
        if (!goes_without_saying(s, k, i)) {
            char text[600];
            page_line_text(text, sizeof text, &s->line[k]);
            cli_wrap(5, 7, text);
        }
        print_cautions(p, i, k, 7);
    }
    if (s->words && *s->words)
        cli_wrap(5, 5, s->words);
    print_cautions(p, i, -1, 5);
}

static void print_recipe(const struct page *p)
{
    cli_heading("The recipe, and what to watch");
    for (int i = 0; i < p->recipe->n_step; i++)
        print_step(p, i);
    if (has_caution(p, -1, -1)) {
        cli_heading("To watch in the whole bottle");
        print_cautions(p, -1, -1, 2);
    }
}

/* Notes of the plan: first what is worth knowing, then what is still to be answered. */
static void print_notes(const struct page *p, bool questions, const char *heading)
{
    char text[500];
    int n = 0;

    for (int i = 0; i < p->out->n_note; i++) {
        if (p->out->note[i].code == ST_NOTE_UNUSED && p->file->n_note > 0)
            continue; /* the reader of the file says it, with its line */
        if (st_note_is_caution(&p->out->note[i]))
            continue; /* it is told at its step */
        if (st_note_words(p->recipe, &p->out->note[i], text, sizeof text) != questions)
            continue;
        if (n++ == 0)
            cli_heading(heading);
        cli_wrap(2, 4, text);
    }
    for (int i = 0; i < p->file->n_note && !questions; i++) {
        const struct st_problem *note = &p->file->note[i];
        if (n++ == 0)
            cli_heading(heading);
        cli_say(2, 4, "Line %d: %s: %s; %s", note->at.line, note->what, note->why, note->try_);
    }
}

static void print_title(const struct st_recipe *r)
{
    cli_wrap(0, 0, r->title && *r->title ? r->title : "A recipe without a title");
    if (r->note && *r->note)
        cli_wrap(0, 0, r->note);
}

/* Behind a stop: what was read, and last its figures; no bottles, no wish, no tip. */
static void print_stopped(const struct page *p)
{
    putchar('\n');
    print_title(p->recipe);
    print_recipe(p);
    for (int i = 0; i < p->file->n_note; i++) {
        const struct st_problem *note = &p->file->note[i];
        cli_say(2, 4, "Line %d: %s: %s; %s", note->at.line, note->what, note->why, note->try_);
    }
    cli_heading("What was read, in figures");
    page_figures(p->out, p->cli->units);
}

void page_print(const struct page *p)
{
    const struct st_recipe *r = p->recipe;
    char text[600];

    if (page_stops(p->cautions,
                   "This is not a drink to make. What was read, and its figures, are told below only so that "
                   "you see what was read.")) {
        print_stopped(p);
        return;
    }
    print_title(r);
    cli_heading("What this makes");
    print_bottles(p);
    page_figures(p->out, p->cli->units);
    print_energy(p);
    print_cost(p);
    print_wish(p);
    cli_wrap(2, 2, "(\"Likely between\" should hold 19 makings of 20; --explain shows why.)");
    cli_heading("What your instruments would show, at 20 \xc2\xb0"
                "C");
    page_readings(p->out);
    print_markers(p);
    st_tip_words(p->recipe, p->out, text, sizeof text);
    cli_heading("What matters most");
    cli_wrap(2, 2, text);
    print_notes(p, false, "Worth knowing");
    print_recipe(p);
    print_notes(p, true, "Still open");
}
