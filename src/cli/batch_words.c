#include "cli/batch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/doc_batch.h"
#include "cli/page.h"
#include "text/calendar_day.h"
#include "text/day_words.h"

/* ---- days ---- */

const char *batch_day(struct batch *b, const char *iso, bool weekday)
{
    char words[48];
    st_date_words(words, sizeof words, iso, b->now.day, weekday);
    return st_arena_strdup(&b->arena, words);
}

const char *batch_away(struct batch *b, const char *iso)
{
    long number;
    char day[11], words[40];
    (void)snprintf(day, sizeof day, "%.10s", iso);
    if (!st_day_number(day, &number))
        return "";
    st_days_words(words, sizeof words, number - b->now.number);
    return st_arena_strdup(&b->arena, words);
}

/* ---- figures ---- */

static const enum st_figure SHOWN[] = { ST_FIG_STRENGTH, ST_FIG_SUGAR, ST_FIG_ACID, ST_FIG_VOLUME };
enum { NSHOWN = sizeof SHOWN / sizeof *SHOWN };

static void figure(struct batch *b, const struct st_foretold *f, int k, char *buf, size_t size)
{
    const struct st_figure_info *info = st_figure_info(SHOWN[k]);
    if (SHOWN[k] == ST_FIG_VOLUME)
        st_volume_words(buf, size, &f->fig[SHOWN[k]], b->c->units);
    else
        st_heard_words(buf, size, &f->fig[SHOWN[k]], info->unit, b->heard);
}

static const char *name_of(int k)
{
    static const char *const NAME[] = { "strength", "sugar", "acid", "volume" };
    return NAME[k];
}

void batch_foretold_lines(struct batch *b, const struct st_foretold *f)
{
    char words[200];
    for (int k = 0; k < NSHOWN; k++) {
        figure(b, f, k, words, sizeof words);
        cli_figure_line(name_of(k), words);
    }
}

void batch_before_now(struct batch *b, const struct st_foretold *before, const struct st_foretold *now)
{
    char was[200], is[220];
    for (int k = 0; k < NSHOWN; k++) {
        figure(b, before, k, was, sizeof was);
        figure(b, now, k, is, sizeof is);
        if (strcmp(was, is) == 0) {
            cli_figure_line(name_of(k), batch_text(b, "%s (as before)", is));
            continue;
        }
        cli_figure_line(name_of(k), batch_text(b, "%s, before", was));
        cli_figure_line("  now", is);
    }
}

bool batch_foretold_now(struct batch *b, const char *heading, const struct st_batch_made *before,
                        const struct st_batch_made *now)
{
    if (!now->told) {
        cli_say(0, 0, "Nothing is foretold: %s: %s.", now->problem.what, now->problem.why);
        return false;
    }
    if (!before->told)
        cli_say(0, 2, "Nothing could be foretold of it before; now it can.");
    cli_heading(heading);
    if (before->told)
        batch_before_now(b, &before->out, &now->out);
    else
        batch_foretold_lines(b, &now->out);
    return true;
}

json_t *batch_foretold_json(const struct st_foretold *f)
{
    json_t *o = json_object();
    st_doc_figures(o, f);
    return o;
}

/* ---- what to watch ---- */

const char *batch_nothing_known(struct batch *b, const struct st_batch_made *m, const char *code)
{
    const struct st_problem *p = &m->problem;
    return batch_text(
        b,
        "Nothing is known of the worst cases of %s, nor of its strength: %s%s%s. No limit was looked at, so "
        "take it for over every one until its recipe can be reckoned%s%s.",
        code, p->what, p->why[0] ? ": " : "", p->why, p->try_[0] ? ": " : "", p->try_);
}

void batch_cautions(struct batch *b, const struct st_batch_made *m, const char *code)
{
    if (!m->told)
        cli_wrap(0, 2, batch_nothing_known(b, m, code));
    if (m->whole)
        cli_cautions_short(b->c, &m->file.recipe, m->told ? &m->out : NULL, code);
}

json_t *batch_cautions_json(struct batch *b, const struct st_batch_made *m)
{
    return m->whole ? cli_cautions_json(b->c, &m->file.recipe, m->told ? &m->out : NULL) : json_array();
}

/* ---- jars ---- */

void batch_todo_print(struct batch *b, const char *code, const struct st_batch_todo *t, int indent)
{
    const struct st_batch_chore *weigh = NULL;
    if (t->n_first)
        cli_wrap(indent, indent + 2, "First, unless it is done already:");
    for (int i = 0; i < t->n_first; i++)
        cli_say(indent + 2, indent + 4, "%s %s: %s", t->first[i].what, t->first[i].step, t->first[i].lines);
    for (int i = 0; i < t->n_unsure; i++)
        cli_say(indent, indent + 2, "Not known whether the %s went in (%s): nobody wrote it down.", t->unsure[i].step,
                t->unsure[i].lines);
    if (t->n_first)
        weigh = &t->first[0];
    else if (t->n_unsure)
        weigh = &t->unsure[0];
    if (weigh)
        cli_say(indent, indent + 2, "When it is in, write it down: stillroom batch weigh %s %s 1 \"...\"", code,
                weigh->step);
    (void)b;
}

static long days_since(const struct batch *b, const char *iso)
{
    long n;
    return st_day_number(iso, &n) ? b->now.number - n : 0;
}

const char *batch_doing(const struct st_batch_jar *j)
{
    return j->todo.waits ? j->todo.waits : *j->row.doing ? j->row.doing : "standing";
}

const char *batch_then(const char *doing)
{
    return st_batch_then(doing);
}

const char *batch_jar_words(struct batch *b, const struct st_batch_jar *j)
{
    const long n = days_since(b, j->row.begun_on);
    if (n < 0)
        return batch_text(b, "%s%s%s%s%s%s, from %s on", batch_doing(j), *j->vessel ? " in \"" : "", j->vessel,
                          *j->vessel ? "\"" : "", *j->row.place ? ", " : "", j->row.place,
                          batch_day(b, j->row.begun_on, false));
    return batch_text(b, "%s%s%s%s%s%s, since %s (%ld day%s)", batch_doing(j), *j->vessel ? " in \"" : "", j->vessel,
                      *j->vessel ? "\"" : "", *j->row.place ? ", " : "", j->row.place,
                      batch_day(b, j->row.begun_on, false), n, n == 1 ? "" : "s");
}

json_t *batch_jar_json(struct batch *b, const struct st_batch_jar *j)
{
    return st_doc_batch_jar(j, b->now.number);
}
