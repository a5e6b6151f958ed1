#include "cli/batch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "cli/page.h"
#include "text/calendar_day.h"

/* ---- days ---- */

const char *batch_day(struct batch *b, const char *iso, bool weekday)
{
    static const char *const MONTH[] = { "January", "February", "March",     "April",   "May",      "June",
                                         "July",    "August",   "September", "October", "November", "December" };
    char day[11];
    long number;
    (void)snprintf(day, sizeof day, "%.10s", iso ? iso : "");
    if (!st_day_number(day, &number))
        return "a day not known";
    const long month = strtol(day + 5, NULL, 10), of = strtol(day + 8, NULL, 10);
    const bool this_year = strncmp(day, b->now.day, 4) == 0;
    return batch_text(b, "%s%s%ld %s%s%.4s", weekday ? st_weekday_name(st_weekday(number)) : "", weekday ? " " : "", of,
                      MONTH[month - 1], this_year ? "" : " ", this_year ? "" : day);
}

const char *batch_away(struct batch *b, const char *iso)
{
    long number;
    char day[11];
    (void)snprintf(day, sizeof day, "%.10s", iso);
    if (!st_day_number(day, &number))
        return "";
    const long n = number - b->now.number, m = labs(n);
    if (n == 0)
        return "today";
    if (m == 1)
        return n > 0 ? "tomorrow" : "yesterday";
    const bool weeks = m >= 21;
    const long k = weeks ? (m + 3) / 7 : m;
    return n > 0 ? batch_text(b, "in %ld %s", k, weeks ? "weeks" : "days")
                 : batch_text(b, "%ld %s ago", k, weeks ? "weeks" : "days");
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
        st_figure_words(buf, size, &f->fig[SHOWN[k]], info->unit);
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
        cli_figure_line(name_of(k), batch_text(b, "before  %s", was));
        cli_figure_line("", batch_text(b, "now     %s", is));
    }
}

json_t *batch_foretold_json(const struct st_foretold *f)
{
    json_t *o = json_object();
    st_doc_figures(o, f);
    return o;
}

/* ---- jars ---- */

const char *batch_then(const char *doing)
{
    static const char *const THEN[][2] = {
        { "steeping", "strain it" },
        { "resting", "go on with it" },
        { "clearing", "draw it off" },
        { "waiting to be racked", "rack it" },
        { "waiting to be filtered", "filter it" },
        { "waiting to be bottled", "bottle it" },
    };
    for (size_t i = 0; i < sizeof THEN / sizeof *THEN; i++)
        if (strcmp(THEN[i][0], doing) == 0)
            return THEN[i][1];
    return "look at it";
}

static long days_since(const struct batch *b, const char *iso)
{
    long n;
    return st_day_number(iso, &n) ? b->now.number - n : 0;
}

const char *batch_jar_words(struct batch *b, const struct st_batch_jar *j)
{
    const long n = days_since(b, j->row.begun_on);
    return batch_text(b, "%s%s%s%s%s%s, since %s (%ld day%s)", *j->row.doing ? j->row.doing : "standing",
                      *j->vessel ? " in \"" : "", j->vessel, *j->vessel ? "\"" : "", *j->row.place ? ", " : "",
                      j->row.place, batch_day(b, j->row.begun_on, false), n, n == 1 ? "" : "s");
}

static json_t *text_or_null(const char *text)
{
    return text ? st_doc_text(text) : json_null();
}

json_t *batch_jar_json(struct batch *b, const struct st_batch_jar *j)
{
    json_t *o =
        json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:I, s:o}", "batch", st_doc_text(j->code), "name",
                  st_doc_text(j->name), "step", st_doc_text(j->row.step), "doing", st_doc_text(j->row.doing), "vessel",
                  st_doc_text(j->vessel), "where", st_doc_text(j->row.place), "begun_on", st_doc_text(j->row.begun_on),
                  "days", (json_int_t)days_since(b, j->row.begun_on), "due_on", text_or_null(j->row.due_on));
    json_object_set_new(o, "due_in_days",
                        j->row.due_on ? json_integer(-(json_int_t)days_since(b, j->row.due_on)) : json_null());
    json_object_set_new(o, "then", st_doc_text(batch_then(j->row.doing)));
    json_object_set_new(o, "ended_on", text_or_null(j->row.ended_on));
    return o;
}
