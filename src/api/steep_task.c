#include "steep_task.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "text/what_if.h"

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
    static const double EARLY_H[] = { 1, 6, 24, 72, 168 };
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
}

static double plan_of(const struct st_jar *j)
{
    double most = 0.0, end[ST_JAR_STAGES] = { 0 };
    for (int k = 0; k < j->n_stage; k++) {
        double start = 0.0;
        for (int i = 0; i < j->stage[k].n_take; i++)
            start = fmax(start, end[j->stage[k].take[i].from]);
        end[k] = start + j->stage[k].time_s;
        most = end[k];
    }
    return most;
}

/* ---- running ---- */

/* Outside of this nobody knows how fast anything comes out, and a jar with spirit must not be so hot. */
static bool is_warm_enough(const struct st_steep_task *t, const struct st_jar *j, struct st_problem *problem)
{
    for (int k = 0; k < j->n_stage; k++) {
        const double T = j->stage[k].temperature_K.value;
        if (!j->stage[k].steeps || (T >= 253.15 && T <= 333.15))
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

static bool run_one(struct st_steep_task *t, const struct st_jar *j, double until, struct st_jar_told *told,
                    struct st_problem *problem)
{
    const struct st_jar_options o = { .seed = t->seed,
                                      .draws = t->draws,
                                      .until_s = until,
                                      .time = t->time,
                                      .n_time = t->n_time,
                                      .shells = SHELLS,
                                      .tolerance = TOLERANCE };
    const enum st_status s = st_jar_run(j, &o, told);
    if (s >= 0)
        return true;
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

static bool change(struct st_steep_task *t, double *until, struct st_problem *problem)
{
    t->other = *t->jar;
    for (int i = 0; i < t->n_what_if; i++) {
        t->asked = i;
        if (!st_what_if(t->what_if[i], &t->other, until, t->understood[i], sizeof t->understood[i], problem))
            return false;
    }
    t->asked = -1;
    t->has_other = t->n_what_if > 0;
    return true;
}

bool st_steep_task_run(struct st_steep_task *t, struct st_problem *problem)
{
    double until = 0.0;
    t->asked = -1;
    t->step = st_steep_step(t->recipe, t->jar_name, problem);
    if (t->step < 0)
        return false;
    t->jar = st_jar_of_recipe(&t->books->jar, t->recipe, t->step, problem);
    if (!t->jar || !is_warm_enough(t, t->jar, problem))
        return false;
    until = fmax(t->until_s, TIMES_PLAN * plan_of(t->jar));
    set_times(t, plan_of(t->jar), until);
    if (t->n_seen && !(run_one(t, t->jar, until, &t->before, problem) && st_steep_learn(t, problem)))
        return false;
    if (!change(t, &until, problem))
        return false;
    const double plan = plan_of(t->jar);
    until = fmax(fmax(until, t->until_s), TIMES_PLAN * plan);
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
