#include "steep_task.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "text/steep_words.h"

static const double HOUR_S = 3600.0;
/* Enough for shares to 0.001, which nobody knows so well. */
enum { SHELLS = 30 };
static const double TOLERANCE = 1e-4;
static const double TIMES_PLAN = 2.0; /* looked at so far, to tell what comes late when it is left too long */

/* ---- which jar ---- */

static void list_jars(const struct st_recipe *r, char *buf, size_t size)
{
    buf[0] = '\0';
    for (int i = 0; i < r->n_step; i++)
        if (st_jar_is_at(r, i)) {
            const size_t n = strlen(buf);
            snprintf(buf + n, size - n, "%s\"%s\"", n ? ", " : "", r->step[i].id);
        }
}

int st_steep_step(const struct st_recipe *r, const char *jar_name, struct st_problem *problem)
{
    char jars[200];
    int last = -1;
    for (int i = 0; i < r->n_step; i++)
        if (st_jar_is_at(r, i)) {
            last = i;
            if (jar_name && *jar_name && strcmp(r->step[i].id, jar_name) == 0)
                return i;
        }
    if (last >= 0 && !(jar_name && *jar_name))
        return last;
    *problem = (struct st_problem){ .is_question = 0 };
    list_jars(r, jars, sizeof jars);
    if (last < 0) {
        snprintf(problem->what, sizeof problem->what, "nothing is steeped in this recipe");
        snprintf(problem->why, sizeof problem->why, "it has no step `steep` with anything to strain off");
        snprintf(problem->try_, sizeof problem->try_, "foresee tells what is in the bottle");
    } else {
        snprintf(problem->what, sizeof problem->what, "there is no jar \"%.60s\"", jar_name);
        snprintf(problem->why, sizeof problem->why, "no step that steeps has that name");
        snprintf(problem->try_, sizeof problem->try_, "name one of %.200s", jars);
    }
    return -1;
}

/* ---- times ---- */

static void add_time(struct st_steep_task *t, double s, double until)
{
    if (!(s > 0.0 && s <= until) || t->n_time == ST_STEEP_GRID)
        return;
    int at = t->n_time;
    while (at > 0 && t->time[at - 1] > s)
        at--;
    if (at > 0 && t->time[at - 1] == s)
        return;
    memmove(&t->time[at + 1], &t->time[at], (size_t)(t->n_time - at) * sizeof *t->time);
    t->time[at] = s;
    t->n_time++;
}

/* Close together at first, when most happens, and a few behind the planned end: each costs a step of every draw. */
static void set_times(struct st_steep_task *t, double plan, double until)
{
    static const double EARLY_H[] = { 1.0 / 60, 2.0 / 60, 4.0 / 60, 8.0 / 60, 1, 6, 24, 72, 168 };
    enum { GRADED = 20, BEHIND = 5 };
    t->n_time = 0;
    for (int i = 1; i <= GRADED; i++) {
        const double share = (double)i / GRADED;
        add_time(t, plan * share * share, until);
    }
    for (int i = 1; i <= BEHIND && until > plan; i++)
        add_time(t, i == BEHIND ? until : plan + (until - plan) * i / BEHIND, until);
    for (size_t i = 0; i < sizeof EARLY_H / sizeof *EARLY_H; i++)
        add_time(t, EARLY_H[i] * HOUR_S, until);
    add_time(t, until, until);
}

/* When the last jar is filled, since the first was, and how long it then stands. */
static double filled_of(const struct st_jar *j, double *plan)
{
    double end[ST_JAR_STAGES] = { 0 }, start[ST_JAR_STAGES] = { 0 };
    const int last = j->n_stage - 1, first = st_jar_filled_at(j, last);
    for (int k = 0; k <= last; k++) {
        for (int i = 0; i < j->stage[k].n_take; i++)
            start[k] = fmax(start[k], end[j->stage[k].take[i].from]);
        for (int p = 0; p < j->n_piece; p++)
            for (int e = 0; e < k; e++)
                if (j->piece[p].lies[k] > 0.0 && j->piece[p].lies[e] > 0.0)
                    start[k] = fmax(start[k], end[e]);
        end[k] = start[k] + j->stage[k].time_s;
    }
    *plan = end[last] - start[first];
    return start[first];
}

/* ---- running ---- */

/* Outside of this nobody knows how fast anything comes out, and a jar with spirit must not be so hot. */
static bool is_warm_enough(const struct st_steep_task *t, const struct st_jar *j, struct st_problem *problem)
{
    for (int k = 0; k < j->n_stage; k++) {
        const double T = j->stage[k].temperature_K.value;
        if (!j->stage[k].steeps || (T >= 253.15 - 1e-6 && T <= 333.15 + 1e-6))
            continue;
        *problem = (struct st_problem){ .at = t->recipe->step[j->stage[k].step >= 0 ? j->stage[k].step : t->step].at };
        snprintf(problem->what, sizeof problem->what, "\"%.60s\" stands at %.3g °C", j->stage[k].id, T - 273.15);
        snprintf(problem->why, sizeof problem->why, "how fast things come out is known between -20 and 60 °C at most");
        snprintf(problem->try_, sizeof problem->try_,
                 "look at `at:` of that step; spirit must not be heated on a stove");
        return false;
    }
    return true;
}

static bool is_left_out(const struct st_jar *j, const struct st_jar_curve *c)
{
    return c->piece >= 0 && !(st_piece_g(&j->piece[c->piece]) > 0.0);
}

/* What lay only in an earlier jar is told with that one (--step); of what is left out nothing comes. */
static void keep_what_lies(const struct st_jar *j, struct st_jar_told *told)
{
    int n = 0;
    for (int i = 0; i < told->n_curve; i++)
        if (told->curve[i].lies && !is_left_out(j, &told->curve[i]))
            told->curve[n++] = told->curve[i];
    told->n_curve = n;
    n = 0;
    for (int i = 0; i < told->n_family; i++)
        if (told->family[i].lies)
            told->family[n++] = told->family[i];
    told->n_family = n;
}

/* Of which there is nothing lies nowhere: no family counts it. */
static void take_left_out(struct st_jar *j)
{
    for (int p = 0; p < j->n_piece; p++)
        if (!(st_piece_g(&j->piece[p]) > 0.0))
            memset(j->piece[p].lies, 0, sizeof j->piece[p].lies);
}

/* Told as far as until, since the jar was filled. */
static bool run_one(struct st_steep_task *t, const struct st_jar *j, double until, struct st_jar_told *told,
                    struct st_problem *problem)
{
    double plan, time[ST_STEEP_GRID];
    const double filled = filled_of(j, &plan);
    for (int i = 0; i < t->n_time; i++)
        time[i] = filled + t->time[i];
    const struct st_jar_options o = { .seed = t->seed,
                                      .draws = t->draws,
                                      .until_s = filled + until,
                                      .time = time,
                                      .n_time = t->n_time,
                                      .shells = SHELLS,
                                      .tolerance = TOLERANCE,
                                      .own_clock = true,
                                      .look_s = t->until_s };
    struct st_jar lying = *j;
    take_left_out(&lying);
    const enum st_status s = st_jar_run(&lying, &o, told);
    if (s >= 0) {
        keep_what_lies(j, told);
        return true;
    }
    *problem = (struct st_problem){ .at = t->recipe->step[t->step].at };
    snprintf(problem->what, sizeof problem->what, "what happens in \"%.60s\" cannot be reckoned",
             t->recipe->step[t->step].id);
    snprintf(problem->why, sizeof problem->why, "%s",
             s == ST_E_DOMAIN ? "an amount, a strength or a temperature in it is "
                                "outside all that is known, or it holds no liquid"
                              : st_status_text(s));
    snprintf(problem->try_, sizeof problem->try_, "look at the amounts and times of that jar");
    return false;
}

static bool is_new(const struct st_steep_task *t, int i, struct st_problem *problem)
{
    for (int k = 0; k < i; k++)
        if (st_what_contradicts(&t->understood[k], t->what_if[k], &t->understood[i], t->what_if[i], problem))
            return false;
    return true;
}

static bool change(struct st_steep_task *t, struct st_problem *problem)
{
    t->other = *t->jar;
    for (int i = 0; i < t->n_what_if; i++) {
        t->asked = i;
        if (!st_what_if(t->what_if[i], &t->other, &t->understood[i], problem) || !is_new(t, i, problem))
            return false;
    }
    t->asked = -1;
    t->has_other = t->n_what_if > 0;
    return true;
}

/* As far as was asked for, or twice as long as the longer of the two stands, to tell what comes late when left. */
static double look_until(const struct st_steep_task *t, double plan)
{
    double other = 0.0;
    if (t->until_s > 0.0)
        return t->until_s;
    if (t->n_what_if > 0)
        (void)filled_of(&t->other, &other);
    return TIMES_PLAN * fmax(plan, other);
}

bool st_steep_task_run(struct st_steep_task *t, struct st_problem *problem)
{
    double plan;
    t->asked = -1;
    t->step = st_steep_step(t->recipe, t->jar_name, problem);
    if (t->step < 0)
        return false;
    t->jar = st_jar_of_recipe(&t->books->jar, t->recipe, t->step, problem);
    if (!t->jar || !is_warm_enough(t, t->jar, problem))
        return false;
    (void)filled_of(t->jar, &plan);
    t->other = *t->jar;
    set_times(t, plan, look_until(t, plan));
    if (t->n_seen && !(run_one(t, t->jar, look_until(t, plan), &t->before, problem) && st_steep_learn(t, problem)))
        return false;
    if (!change(t, problem))
        return false;
    const double until = look_until(t, plan);
    set_times(t, plan, until);
    if (!run_one(t, t->jar, until, &t->told, problem))
        return false;
    if (!t->has_other || run_one(t, &t->other, until, &t->other_told, problem))
        return true;
    t->has_other = false; /* nothing was told: nothing to free */
    return false;
}

void st_steep_task_done(struct st_steep_task *t)
{
    if (t->told.room)
        st_jar_told_done(&t->told);
    if (t->has_other && t->other_told.room)
        st_jar_told_done(&t->other_told);
    if (t->before.room)
        st_jar_told_done(&t->before);
    if (t->has_learnt)
        st_learnt_done(&t->learnt);
    st_jar_free(t->jar);
    t->jar = NULL;
    t->has_learnt = false;
    t->has_other = false;
}
