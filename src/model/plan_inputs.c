#include <math.h>
#include <string.h>

#include "plan_inside.h"
#include "text.h"

int st_group_of(struct st_build *b, enum st_cause cause, enum st_tool tool, const char *x, const char *y, const char *z)
{
    struct st_plan *p = b->plan;
    struct st_group g = { .cause = cause, .tool = tool, .step = b->step, .line = b->line };
    st_say(g.what, sizeof g.what, x, y, z);

    for (int i = 0; i < p->n_group; i++)
        if (strcmp(p->group[i].what, g.what) == 0 && p->group[i].cause == cause) {
            if (p->group[i].step != g.step || p->group[i].line != g.line)
                p->group[i].step = p->group[i].line = -1;
            return i;
        }
    if (p->n_group == ST_MAX_GROUPS - 1) {
        g = (struct st_group){ .cause = ST_CAUSE_RANGE, .step = -1, .line = -1 };
        st_say(g.what, sizeof g.what, "all the rest", NULL, NULL);
    }
    if (p->n_group == ST_MAX_GROUPS)
        return ST_MAX_GROUPS - 1;
    p->group[p->n_group] = g;
    return p->n_group++;
}

/* A name that no other input has: the hash, moved on while it is taken. */
static uint32_t free_id(const struct st_tape *t, const char *id, const char *id2)
{
    uint32_t h = st_name_hash(st_name_hash(ST_NAME_START, id), id2 ? id2 : "");
    for (int i = 0; i < t->n_in; i++)
        if (t->column[i].id == h) {
            h++;
            i = -1;
        }
    return h;
}

static int input(struct st_build *b, struct st_column c, const char *id, const char *id2)
{
    c.value = fmin(fmax(c.value, c.clip_low), c.clip_high);
    c.low = fmin(c.low, c.value);
    c.high = fmax(c.high, c.value);
    if (!(c.low < c.high))
        return st_tape_constant(b->tape, c.value);
    c.id = free_id(b->tape, id, id2);
    return st_tape_input(b->tape, &c);
}

int st_input_range(struct st_build *b, struct st_range r, double clip_low, double clip_high, int group, const char *id,
                   const char *id2)
{
    const struct st_column c = { .shape = ST_SHAPE_SPLIT,
                                 .value = r.value,
                                 .low = r.low,
                                 .high = r.high,
                                 .clip_low = clip_low,
                                 .clip_high = clip_high,
                                 .group = group };
    return input(b, c, id, id2);
}

int st_doubt(struct st_build *b, enum st_doubt doubt, int reg)
{
    if (b->tape->kind[reg] == ST_REG_INPUT)
        b->tape->column[b->tape->input[reg]].doubt = doubt;
    return reg;
}

int st_input_thing(struct st_build *b, struct st_range r, double clip_low, double clip_high, int group, const char *id,
                   const char *id2)
{
    return st_doubt(b, ST_DOUBT_THING, st_input_range(b, r, clip_low, clip_high, group, id, id2));
}

int st_input_along(struct st_build *b, struct st_range r, double clip_low, double clip_high, int group, int with)
{
    struct st_column c = { .shape = ST_SHAPE_SPLIT,
                           .value = r.value,
                           .low = r.low,
                           .high = r.high,
                           .clip_low = clip_low,
                           .clip_high = clip_high,
                           .group = group };
    if (b->tape->kind[with] == ST_REG_INPUT)
        c.id = b->tape->column[b->tape->input[with]].id;
    return st_tape_input(b->tape, &c);
}

int st_input_even(struct st_build *b, double low, double high, int group, const char *id, const char *id2)
{
    const struct st_column c = { .shape = ST_SHAPE_EVEN,
                                 .value = 0.5 * (low + high),
                                 .low = low,
                                 .high = high,
                                 .clip_low = low,
                                 .clip_high = high,
                                 .group = group };
    return input(b, c, id, id2);
}

int st_input_peak(struct st_build *b, double half, int group, const char *id, const char *id2)
{
    const struct st_column c = { .shape = ST_SHAPE_PEAK,
                                 .value = 0.0,
                                 .low = -half,
                                 .high = half,
                                 .clip_low = -half,
                                 .clip_high = half,
                                 .group = group };
    return input(b, c, id, id2);
}

int st_input_prior(struct st_build *b, double low, double value, double high, double clip_high, int group,
                   const char *id)
{
    const struct st_range r = { value, low, high, true, 'm', "from memory" };
    return st_input_range(b, r, 0.0, clip_high, group, id, b->recipe->step[b->step].id);
}

const char *st_line_name(const struct st_build *b)
{
    const struct st_step *s = &b->recipe->step[b->step];
    if (b->line < 0 || b->line >= s->n_line)
        return s->id ? s->id : "";
    const struct st_line *l = &s->line[b->line];
    return l->what ? l->what->slug : l->text ? l->text : "";
}
