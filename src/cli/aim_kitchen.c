#include <errno.h>
#include <math.h>
#include <string.h>

#include "api/aim_kitchen.h"
#include "cli/aim.h"
#include "text/kitchen_words.h"
#include "text/kitchen_yaml.h"
#include "util/file.h"

/* aim --kitchen: amounts that a kitchen can measure. */

enum { MOST_BYTES = 1 << 16 };

static int read_kitchen(const struct aim_task *t, const char *file, struct st_kitchen *kitchen)
{
    static struct st_recipe_file problems; /* large */
    struct st_buf text = { 0 };
    st_kitchen_usual(kitchen,
                     t->core.file->recipe.measures != ST_MEASURES_NONE ? t->core.file->recipe.measures : t->cli->units);
    if (!file)
        return ST_EXIT_DONE;
    const int error = st_file_read(file, MOST_BYTES, &text);
    if (error) {
        cli_error(
            file, error == ENOENT ? "there is no such kitchen file" : strerror(error),
            "look at the name; examples/kitchens/ has some to begin with, and --kitchen alone takes the usual tools");
        st_buf_done(&text);
        return ST_EXIT_INPUT;
    }
    const int read = st_kitchen_read(file, st_buf_text(&text), text.length, kitchen, &problems);
    for (int i = 0; i < problems.n_problem; i++)
        cli_problem(file, &problems.problem[i]);
    st_recipe_done(&problems);
    st_buf_done(&text);
    return read == 0 ? ST_EXIT_DONE : ST_EXIT_INPUT;
}

int aim_in_kitchen(struct aim_task *t, const char *file)
{
    struct st_kitchen kitchen;
    struct st_problem problem;
    int code = read_kitchen(t, file, &kitchen);
    if (code != ST_EXIT_DONE)
        return code;
    const double start = cli_now_ms();
    aim_give(t);
    const bool done = st_aim_in_kitchen(&t->core, &kitchen, &problem);
    if (t->cli->timing && t->core.kitchen)
        fprintf(stderr, "kitchen: %.0f points, %ld boxes, %ld reckoned, %.1f ms with ranking and alternatives\n",
                t->core.kitchen->choice.search.points, t->core.kitchen->choice.search.nodes,
                t->core.kitchen->choice.search.evaluations, cli_now_ms() - start);
    if (done)
        return ST_EXIT_DONE;
    cli_problem(t->name, &problem);
    return ST_EXIT_INPUT;
}

/* ---- the page ---- */

static const char *name_of(const struct aim_task *t, int k, char *buf, size_t size)
{
    return st_aim_dial_name(&t->core.file->recipe, &t->core.aim.dial[k].dial, buf, size);
}

static bool differs(const struct aim_task *t, const struct st_making *m, int k)
{
    const struct st_kitchen_item *a = &m->item[k], *b = &t->core.kitchen->choice.best.item[k];
    return a->tool != b->tool || fabs(a->factor - b->factor) > 1e-9;
}

static int of_twenty(double joint)
{
    return (int)round(20.0 * joint);
}

static void print_other(const struct aim_task *t, enum st_alternative which)
{
    const struct st_making *m = &t->core.kitchen->choice.other[which];
    char moved[160];
    char text[200], amounts[500] = "", name[96], amount[64], volume[48], sure[48];
    st_kitchen_other_words(&t->core.aim, &t->core.kitchen->choice, which, text, sizeof text);
    for (int k = 0; k < t->core.aim.n_dial; k++) {
        const size_t n = strlen(amounts);
        if (!differs(t, m, k) || n > sizeof amounts - 160)
            continue;
        st_kitchen_item_words(&t->core.aim, m, k, amount, sizeof amount);
        snprintf(amounts + n, sizeof amounts - n, "%s%s %s", n ? ", " : "", amount, name_of(t, k, name, sizeof name));
    }
    st_kitchen_sure_words(m, &t->core.kitchen->choice.best, sure, sizeof sure);
    st_kitchen_moved_words(&t->core.kitchen->choice, m, moved, sizeof moved);
    snprintf(volume, sizeof volume, m->y[ST_FIG_VOLUME] >= 999.5 ? "%.3g L" : "%.0f mL",
             m->y[ST_FIG_VOLUME] >= 999.5 ? m->y[ST_FIG_VOLUME] * 1e-3 : m->y[ST_FIG_VOLUME]);
    cli_say(2, 4, "%s: %s. Makes %s%s; %d of 20 makings inside %s: %s.", text, amounts, volume, moved,
            of_twenty(m->joint), t->core.kitchen->choice.volume_let_go[which] ? "the other wishes" : "all wishes",
            sure);
}

static bool names_a_size(const struct aim_task *t)
{
    for (int i = 0; i < t->core.aim.n_wish; i++)
        if (st_wish_sizes_batch(t->core.aim.wish[i].of))
            return true;
    return false;
}

static void explain(const struct aim_task *t)
{
    const struct st_kitchen_choice *c = &t->core.kitchen->choice;
    char near[300], amount[64], name[96], all[500] = "", proof[120];
    const bool within = c->search.point[0].score <= 1.0 + 1e-6;
    cli_heading("How it was found");
    st_kitchen_proof_words(&c->search, proof, sizeof proof);
    cli_say(2, 4,
            "%.4g ways to measure these amounts%s; %ld boxes of them were looked at and %ld points reckoned. The "
            "nearest misses by %.3g of a tolerance at most. %s.",
            c->search.points, names_a_size(t) ? "" : ", of batches from four fifths to five quarters of the exact one",
            c->search.nodes, c->search.evaluations, c->search.point[0].score, proof);
    if (within)
        cli_say(
            2, 4,
            "%d near ones were kept, all within every wish, and ranked by variance; the %d surest of them were "
            "tried %d times on paper, the best of these %d times. The surest has %.0f %%, the nearest to the wishes "
            "%.0f %%.",
            c->search.n_point, c->n_drawn, t->cli->draws < 1000 ? t->cli->draws : 1000, t->cli->draws,
            100.0 * c->best.joint, 100.0 * c->second.joint);
    else
        cli_say(2, 4, "None was found within every wish: this is the one that misses least.");
    for (int k = 0; k < t->core.aim.n_dial; k++) {
        const size_t n = strlen(all);
        if (n > sizeof all - 160)
            break;
        st_kitchen_item_words(&t->core.aim, &c->rounded, k, amount, sizeof amount);
        snprintf(all + n, sizeof all - n, "%s%s %s", n ? ", " : "", amount, name_of(t, k, name, sizeof name));
    }
    st_aim_near_words(&t->core.aim, c->rounded.y, t->core.file->recipe.currency ? t->core.file->recipe.currency : "",
                      near, sizeof near);
    cli_say(2, 4, "Each amount rounded by itself (%s) gives %s: off by %.2g of a tolerance, %.0f %% inside all wishes.",
            all, near, c->rounded.score, 100.0 * c->rounded.joint);
}

void aim_kitchen_page(const struct aim_task *t)
{
    const struct st_kitchen_choice *c = &t->core.kitchen->choice;
    char tools[160], none[120], proof[120];
    st_kitchen_tools(&c->best, t->core.aim.n_dial, tools, sizeof tools);
    if (*tools)
        cli_say(2, 4, "It takes: %s.", tools);
    if (!c->search.proven) {
        st_kitchen_proof_words(&c->search, proof, sizeof proof);
        cli_say(2, 4, "%s.", proof);
    }
    cli_heading("Measured otherwise");
    for (int i = 0; i < ST_NALT; i++) {
        st_kitchen_none_words((enum st_alternative)i, c->why[i], none, sizeof none);
        if (c->has[i])
            print_other(t, (enum st_alternative)i);
        else
            cli_say(2, 4, "%s.", none);
    }
    if (t->cli->explain)
        explain(t);
}
