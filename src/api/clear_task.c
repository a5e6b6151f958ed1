#include "clear_task.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "text/fining.h"
#include "text/near.h"
#include "util/embedded.h"

/* -20 C: a sum may leave a little less, which core/ageing.h refuses. */
static const double COLDEST_K = 253.15;

static const char SHEET[] = "data/fining.tsv";

static bool refuse(struct st_problem *p, const char *what, const char *why, const char *try_)
{
    *p = (struct st_problem){ .is_question = 0 };
    snprintf(p->what, sizeof p->what, "%s", what);
    snprintf(p->why, sizeof p->why, "%s", why);
    snprintf(p->try_, sizeof p->try_, "%s", try_);
    return false;
}

static bool read_agents(struct st_clear_task *t, struct st_problem *problem)
{
    const struct st_embedded *e = st_embedded_find(SHEET);
    if (!e)
        return refuse(problem, "the list of what clears a drink is not there", "it was not built into this program",
                      "build it again from its sources");
    t->agents = st_fining_create((const char *)e->bytes, e->size, problem);
    return t->agents != NULL;
}

static bool find_agent(struct st_clear_task *t, const char *name, struct st_problem *problem)
{
    const char *names[64];
    int n = 0;
    if (!name || !*name)
        return true;
    t->told.agent = st_agent_find(t->agents, name);
    if (t->told.agent)
        return true;
    for (; n < t->agents->n && n < 64; n++)
        names[n] = t->agents->row[n].name;
    const char *near = st_near_key(name, names, (size_t)n);
    char what[160], try_[200];
    snprintf(what, sizeof what, "there is no \"%.60s\"", name);
    if (near)
        snprintf(try_, sizeof try_, "did you mean \"%s\"", near);
    else
        snprintf(try_, sizeof try_, "name for example \"gelatine\", \"bentonite\" or \"milk wash\"");
    t->about = ST_CLEAR_ABOUT_AGENT;
    return refuse(problem, what, "nothing of this name clears a drink, as far as we know", try_);
}

/* What was measured in a jug is as sure as a jug is. */
static struct st_interval in_a_jug(double ml)
{
    const struct st_tolerance jug = st_tolerance_default(ST_TOOL_JUG, ml);
    const double half = ml * (jug.scale + jug.fill) + jug.step;
    return (struct st_interval){ ml, fmax(ml - half, 1.0), ml + half, ST_OK, true };
}

bool st_clear_task_run(struct st_clear_task *t, const struct st_foretold *f, const struct st_compounds *compounds,
                       const struct st_clear_asked *asked, struct st_problem *problem)
{
    t->about = ST_CLEAR_ABOUT_RECIPE;
    t->told = (struct st_clear_told){ .recipe = t->recipe,
                                      .cautions = &t->cautions,
                                      .clearing = &t->clearing,
                                      .ph = asked->ph,
                                      .T_K = fmax(asked->T_K, COLDEST_K) };
    if (!read_agents(t, problem) || !find_agent(t, asked->agent, problem))
        return false;
    t->told.agents = t->agents;
    if (st_clearing_of(t->recipe, f, compounds, &t->clearing) < 0)
        return refuse(problem, "nothing can be said of how it clears",
                      "it gives no strength, sugar or volume to reckon with", "see what stillroom foresee says of it");
    if (isfinite(asked->volume_ml))
        t->clearing.volume_ml = in_a_jug(asked->volume_ml);
    t->told.batch_ml = t->clearing.volume_ml;
    st_cautions_collect(t->recipe, f, &t->watch, &t->cautions);
    return true;
}

void st_clear_task_done(struct st_clear_task *t)
{
    st_fining_free(t->agents);
    t->agents = NULL;
}
