#include "take.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "model/foresee.h"
#include "take_caution.h"
#include "take_named.h"
#include "take_per.h"
#include "take_poured.h"
#include "take_prose.h"
#include "take_whole.h"
#include "util/memory.h"

/* All that one text needs; freed by st_take_done. */
struct memory {
    struct st_arena arena;
    struct st_taking *taking;
    struct st_buf yaml;
};

static int refuse(struct st_problem *p, const char *what, const char *why, const char *try_)
{
    *p = (struct st_problem){ 0 };
    (void)snprintf(p->what, sizeof p->what, "%s", what);
    (void)snprintf(p->why, sizeof p->why, "%s", why);
    (void)snprintf(p->try_, sizeof p->try_, "%s", try_);
    return -1;
}

static int n_lines(const char *text, size_t size)
{
    int n = size > 0 && text[size - 1] != '\n';
    for (size_t i = 0; i < size; i++)
        n += text[i] == '\n';
    return n;
}

static int too_long(const char *text, size_t size, struct st_problem *p)
{
    const int lines = n_lines(text, size);
    char what[80];

    if (lines > ST_TAKE_LINES) {
        (void)snprintf(what, sizeof what, "this text is too long: it has %d lines", lines);
        return refuse(p, what, "600 lines are the most that one recipe may have",
                      "paste the lines of the recipe alone, from its title to its last step, without the page around "
                      "it; of several recipes one at a time");
    }
    return refuse(p, "this text is too long", "64 KiB, 600 lines and 160 ingredients are the most",
                  "paste the recipe alone, without the page around it; of several recipes one at a time");
}

static bool is_blank(const char *text)
{
    return text[strspn(text, " \t\n")] == '\0';
}

/* ---- measures ---- */

static enum st_measures measures_named(const char *word)
{
    return strcasecmp(word, "us") == 0         ? ST_MEASURES_US
           : strcasecmp(word, "metric") == 0   ? ST_MEASURES_METRIC
           : strcasecmp(word, "imperial") == 0 ? ST_MEASURES_IMPERIAL
                                               : ST_MEASURES_NONE;
}

static enum st_measures declared(const struct st_take_given *g)
{
    const char *answer = st_take_answer_to(g, "measures");
    const enum st_measures m = answer ? measures_named(answer) : ST_MEASURES_NONE;
    return m != ST_MEASURES_NONE ? m : g ? g->measures : ST_MEASURES_NONE;
}

/* ---- the recipe, read back ---- */

static struct st_recipe_file *read_back(struct st_taking *t, struct memory *m, struct st_take *out)
{
    st_recipe_done(&out->recipe);
    st_buf_clear(&m->yaml);
    st_take_write(t, &m->yaml);
    out->yaml = st_buf_text(&m->yaml);
    out->yaml_size = m->yaml.length;
    return st_recipe_read("the recipe", out->yaml, out->yaml_size, t->catalogue, &out->recipe) == 0 ? &out->recipe
                                                                                                    : NULL;
}

/* The entry whose line stands in this line of the file, -1 none. */
static int entry_at(const struct st_taking *t, const struct st_recipe *r, int line)
{
    for (int i = 0; i < r->n_step && i < t->n_order; i++) {
        const struct st_stage *s = &t->stage[t->order[i]];
        for (int k = 0; k < r->step[i].n_line && k < s->n_use; k++)
            if (r->step[i].line[k].at.line == line && s->use[k].of == ST_USE_ENTRY)
                return s->use[k].which;
    }
    return -1;
}

/* What was counted with a line that is left out counts by itself, where it has an amount; else it is out, too. */
static bool told_again(struct st_taking *t, int entry, const struct st_take_item *out)
{
    struct st_entry *e = &t->entry[entry];
    const int line = t->row[e->row].line;
    bool found = false;
    for (int i = 0; i < t->n_row; i++) {
        struct st_taken *r = &t->row[i];
        const struct st_amount *a = &r->item->line.amount;
        if (r->entry != entry || r->item == out || r->item->role != ST_TAKE_INGREDIENT)
            continue;
        if (!found && *r->item->as && a->open == ST_CLOSED && a->dim != ST_DIM_OPEN) {
            e->item = r->item;
            e->row = i;
            (void)snprintf(r->item->because, sizeof r->item->because, "line %d is left out: this is counted", line);
            found = true;
        } else if (!found) {
            r->item->sure = ST_UNREAD;
            (void)snprintf(r->item->because, sizeof r->item->because, "told in line %d, which is left out", line);
        }
    }
    return found;
}

static void leave_out(struct st_taking *t, int entry, const char *why)
{
    struct st_take_item *item = t->entry[entry].item;
    item->sure = ST_UNREAD;
    (void)snprintf(item->because, sizeof item->because, "left out of the reckoning: %.80s", why);
    if (told_again(t, entry, item))
        return;
    for (int i = 0; i < t->n_stage; i++) {
        struct st_stage *s = &t->stage[i];
        int n = 0;
        for (int k = 0; k < s->n_use; k++)
            if (s->use[k].of != ST_USE_ENTRY || s->use[k].which != entry)
                s->use[n++] = s->use[k];
        s->n_use = n;
    }
    st_take_prune(t);
}

/* A volume measured hot is taken as if it were cold; told.  False when its words do not say that it is hot. */
static bool cool_down(struct st_taking *t, int entry)
{
    static const char *const HOT[] = { "boiling ", "hot ", "warm ", "boiled ", "cold ", "lukewarm " };
    struct st_take_item *item = t->entry[entry].item;
    struct st_line line;
    struct st_problem p;
    bool found = false;

    for (size_t i = 0; i < sizeof HOT / sizeof HOT[0]; i++) {
        char *at = strstr(item->as, HOT[i]);
        if (at)
            memmove(at, at + strlen(HOT[i]), strlen(at + strlen(HOT[i])) + 1);
        found = found || at;
    }
    if (!found || st_line_parse(item->as, t->measures, t->catalogue, &line, &p) != 0 || line.temperature_K.known)
        return false;
    item->line = line;
    if (item->sure < ST_LIKELY)
        item->sure = ST_LIKELY;
    (void)snprintf(item->because, sizeof item->because,
                   "measured hot or cold, taken at 20 \xc2\xb0"
                   "C");
    return true;
}

/* Can it be foretold?  A line that stops it is left out, and told; the rest is still worth knowing. */
static bool settle(struct st_taking *t, struct memory *m, struct st_take *out)
{
    struct st_problem p = { .what = "nothing goes into the jar" };
    for (int tries = 0; tries < 12; tries++) {
        if (t->n_order == 0 || !read_back(t, m, out)) {
            if (t->n_order && out->recipe.n_problem)
                st_take_say(t, "The recipe could not be read back: %.120s.", out->recipe.problem[0].what);
            st_buf_clear(&m->yaml);
            out->yaml = "";
            out->yaml_size = 0;
            return false;
        }
        struct st_plan *plan = st_plan_create(&out->recipe.recipe, &p);
        st_plan_free(plan);
        if (plan)
            return true;
        const int entry = entry_at(t, &out->recipe.recipe, p.at.line);
        if (entry < 0)
            break;
        if (strstr(p.what, "hot volume") && cool_down(t, entry))
            continue;
        leave_out(t, entry, p.what);
    }
    st_take_say(t, "It cannot be foretold yet: %.160s.", p.what);
    return false;
}

/* What the maker answered to "What goes in?", below the text. */
static const char *with_answers(struct st_taking *t)
{
    static const char *const ID[] = { "goods.amount", "goods.which", "spirit.amount" };
    const char *text = t->text;
    for (size_t i = 0; i < sizeof ID / sizeof ID[0]; i++) {
        const char *value = st_take_answer_to(t->given, ID[i]);
        if (!value || strlen(value) > 2000)
            continue;
        char *more = st_take_tidy(t->arena, value, strlen(value));
        for (char *p = more; *p; p++)
            *p = *p == ';' ? '\n' : *p;
        text = st_arena_printf(t->arena, "%s\n\n%s", text, more);
    }
    return text;
}

/* The recipe has one jar where the text has two that stand side by side: told. */
static void say_jars(struct st_taking *t)
{
    int steeps = 0;
    for (int i = 0; i < t->n_order; i++)
        steeps += t->stage[t->order[i]].kind == ST_DO_STEEP;
    for (int i = 0; i < t->n_row && steeps == 1; i++)
        if (st_take_has_word(t->row[i].sentence, "both jars|two jars|jar two|jar 2|second jar|each jar") &&
            !st_take_has_word(t->row[i].sentence, "jar two thirds|jar two-thirds")) {
            st_take_say(t, "More than one jar is spoken of: what lies in them is taken as one jar.");
            return;
        }
}

/* One fault is told once. */
static void forget_said(struct st_taking *t, const char *begins)
{
    int n = 0;
    for (int i = 0; i < t->n_said; i++)
        if (strncmp(t->said[i], begins, strlen(begins)) != 0)
            t->said[n++] = t->said[i];
    t->n_said = n;
}

/* A drink without its spirit is none: nothing is foretold until it is told. */
static void say_lost(struct st_taking *t, struct st_take *out)
{
    const struct st_ingredient *in = st_take_lost_spirit(t);
    if (!in)
        return;
    out->whole = false;
    forget_said(t, "No spirit was found for the jar");
    forget_said(t, "It cannot be foretold yet: nothing to steep in");
    if (t->n_said == (int)(sizeof t->said / sizeof t->said[0]))
        t->n_said--;
    memmove(t->said + 1, t->said, (size_t)t->n_said * sizeof t->said[0]);
    t->n_said++;
    t->said[0] = st_arena_printf(t->arena,
                                 "The spirit is missing: the text speaks of %s, and how much goes in was not "
                                 "found.",
                                 in->name);
}

/* ---- giving ---- */

static void give_rows(struct st_taking *t, struct st_take *out)
{
    struct st_take_read_as *row = st_arena_alloc(t->arena, (size_t)(t->n_row + 1) * sizeof *row);
    for (int i = 0; i < t->n_row; i++) {
        const struct st_taken *r = &t->row[i];
        row[i] = (struct st_take_read_as){ r->line, r->words, r->item, -1, r->changed, "", r->when, r->came_ml };
        if (r->nth > 0)
            row[i].id = st_arena_printf(t->arena, "%d.%d", r->line, r->nth);
        if (r->stage >= 0)
            row[i].step = t->stage[r->stage].step;
        for (int k = 0; k < t->n_stage && r->entry >= 0 && row[i].step < 0; k++)
            for (int u = 0; u < t->stage[k].n_use && row[i].step < 0; u++)
                if (t->stage[k].use[u].of == ST_USE_ENTRY && t->stage[k].use[u].which == r->entry)
                    row[i].step = t->stage[k].step;
    }
    out->row = row;
    out->n_row = t->n_row;
}

static void give(struct st_taking *t, struct st_take *out)
{
    give_rows(t, out);
    out->title = t->title ? t->title : "";
    memcpy(out->said, t->said, sizeof out->said);
    out->n_said = t->n_said;
    out->foreign = t->foreign;
}

static int work(struct st_taking *t, struct memory *m, struct st_take *out, struct st_problem *problem)
{
    st_take_part(t);
    if (t->too_long)
        return too_long(t->original, strlen(t->original), problem);
    if (t->crowded) {
        char what[80], try_[120];
        (void)snprintf(what, sizeof what, "line %d holds several things, and the change has fewer", t->crowded);
        (void)snprintf(try_, sizeof try_, "change one of them: \"%d.1=...\" is its first; or write the whole line anew",
                       t->crowded);
        return refuse(problem, what, "the others would be lost", try_);
    }
    st_take_named(t);
    st_take_say_tongue(t);
    st_take_steps(t);
    if (t->too_long)
        return too_long(t->original, strlen(t->original), problem);
    if (t->n_entry > 0) {
        st_take_place(t);
        st_take_link(t);
        st_take_vessels(t);
        say_jars(t);
        st_take_begun(t);
        out->whole = settle(t, m, out);
        if (st_take_per_multiply(t))
            out->whole = settle(t, m, out);
        if (out->whole)
            st_take_yield(t, &out->recipe.recipe);
        say_lost(t, out);
    }
    if (!out->yaml)
        out->yaml = "";
    st_take_questions(t, out);
    give(t, out);
    if (t->n_entry == 0 && out->n_question == 0 && st_take_stop(out))
        return refuse(problem, "STOP: this text names what must not go into a drink", st_take_stop(out)->name,
                      "leave it out, and do not make it");
    if (t->n_entry == 0 && out->n_question == 0)
        return refuse(problem, "no ingredient was found in this text",
                      "a line that can be read has an amount and a name: 500 g damsons",
                      "write one ingredient a line, or name the things by their plain names");
    for (int i = 0; i < out->n_question; i++)
        if (!out->question[i].answered)
            return 1;
    return 0;
}

/* What was made of the text before it was read. */
static void say_form(struct st_taking *t, const char *text, size_t size)
{
    const int recipes = t->text == t->original ? 0 : st_take_json_recipes(t->original, strlen(t->original));
    if (recipes > 1)
        st_take_say(t, "The text holds %d recipes: the first was read, the others were left out.", recipes);
    const int bad = st_take_bad_letters(text, size);
    if (bad > 0)
        st_take_say(t,
                    "%d letter%s of another coding than UTF-8: '?' stands there. Save the text as UTF-8 to keep them.",
                    bad, bad == 1 ? " is" : "s are");
}

int st_take_text(const char *text, size_t size, struct st_catalogue *c, const struct st_take_given *given,
                 struct st_take *out, struct st_problem *problem)
{
    struct memory *m = x_calloc(1, sizeof *m);

    memset(out, 0, sizeof *out);
    out->memory = m;
    out->yaml = out->title = "";
    *problem = (struct st_problem){ 0 };
    if (size > ST_TAKE_BYTES)
        return too_long(text, size, problem);
    struct st_taking *t = st_arena_alloc(&m->arena, sizeof *t);
    t->arena = &m->arena;
    t->vessel_stage = -1;
    t->catalogue = c;
    t->given = given;
    t->measures = declared(given);
    t->text = t->original = st_take_tidy(&m->arena, text, size);
    if (is_blank(t->text))
        return refuse(problem, "there is nothing in this text", "it holds nothing but blanks",
                      "paste a recipe: ingredients with their amounts, then what is done");
    char *plain = st_take_json_ld(t->text, strlen(t->text));
    if (plain)
        t->text = st_take_tidy(&m->arena, plain, strlen(plain));
    free(plain);
    say_form(t, text, size);
    t->text = with_answers(t);
    return work(t, m, out, problem);
}

void st_take_done(struct st_take *t)
{
    struct memory *m = t->memory;
    st_recipe_done(&t->recipe);
    if (m) {
        st_buf_done(&m->yaml);
        st_arena_done(&m->arena);
        free(m);
    }
    memset(t, 0, sizeof *t);
}
