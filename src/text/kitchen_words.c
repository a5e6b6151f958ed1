#include "kitchen_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "aim_words.h"

static const struct {
    double x;
    const char *text;
} PART[] = {
    { 0.25, "1/4" }, { 1.0 / 3, "1/3" }, { 0.5, "1/2" }, { 2.0 / 3, "2/3" }, { 0.75, "3/4" },
};

/* "1 1/4", "1/2", "3", "12.5" */
static void count_text(double x, char *buf, size_t size)
{
    const double whole = floor(x + 1e-6);
    const char *part = "";
    for (size_t i = 0; i < sizeof PART / sizeof *PART; i++)
        if (fabs(x - whole - PART[i].x) < 1e-6)
            part = PART[i].text;
    if (!*part)
        (void)snprintf(buf, size, "%.6g", x);
    else if (whole > 0.0)
        (void)snprintf(buf, size, "%.0f %s", whole, part);
    else
        (void)snprintf(buf, size, "%s", part);
}

static void volume_text(double ml, char *buf, size_t size)
{
    if (ml >= 999.5)
        (void)snprintf(buf, size, "%.4g L", ml * 1e-3);
    else
        (void)snprintf(buf, size, "%.4g mL", ml);
}

void st_kitchen_written(const struct st_kitchen_item *item, char *buf, size_t size)
{
    char count[40];
    buf[0] = '\0';
    switch (item->tool) {
    case ST_TOOL_NONE: return;
    case ST_TOOL_CUP:
    case ST_TOOL_TABLESPOON:
    case ST_TOOL_TEASPOON:
    case ST_TOOL_DROPPER:
        count_text(item->written, count, sizeof count);
        (void)snprintf(buf, size, "%s %s", count, item->written > 1.0 ? item->unit->plural : item->unit->name);
        return;
    case ST_TOOL_COUNT_PIECES: (void)snprintf(buf, size, "%.0f", item->written); return;
    case ST_TOOL_SCALE: (void)snprintf(buf, size, "%.10g g", item->written); return;
    default: (void)snprintf(buf, size, "%.10g mL", item->amount); return;
    }
}

void st_kitchen_words(const struct st_kitchen_item *item, char *buf, size_t size)
{
    char each[40];
    if (item->tool != ST_TOOL_BOTTLE && item->tool != ST_TOOL_JIGGER) {
        if (item->tool == ST_TOOL_JUG)
            volume_text(item->amount, buf, size);
        else
            st_kitchen_written(item, buf, size);
        return;
    }
    const char *name = item->tool == ST_TOOL_BOTTLE ? "bottle" : "jigger";
    volume_text(item->size, each, sizeof each);
    (void)snprintf(buf, size, "%.0f %s%s of %s", item->fills, name, item->fills > 1.0 ? "s" : "", each);
}

void st_kitchen_tools(const struct st_making *m, int n_dial, char *buf, size_t size)
{
    static const char *const NAME[ST_NTOOL] = {
        [ST_TOOL_CUP] = "cups",          [ST_TOOL_TABLESPOON] = "tablespoon",
        [ST_TOOL_TEASPOON] = "teaspoon", [ST_TOOL_JIGGER] = "jigger",
        [ST_TOOL_JUG] = "jug",           [ST_TOOL_SCALE] = "scale",
        [ST_TOOL_BOTTLE] = "bottles",    [ST_TOOL_DROPPER] = "dropper",
    };
    unsigned seen = 0;
    int left = 0;
    buf[0] = '\0';
    for (int k = 0; k < n_dial; k++)
        seen |= NAME[m->item[k].tool] ? 1u << m->item[k].tool : 0u;
    for (int t = 0; t < ST_NTOOL; t++)
        left += seen & (1u << t) ? 1 : 0;
    for (int t = 0; t < ST_NTOOL; t++)
        if (seen & (1u << t)) {
            const size_t n = strlen(buf);
            left--;
            (void)snprintf(buf + n, size - n, "%s%s", n == 0 ? "" : left ? ", " : " and ", NAME[t]);
        }
}

void st_kitchen_item_words(const struct st_aim *a, const struct st_making *m, int k, char *buf, size_t size)
{
    if (m->item[k].tool != ST_TOOL_NONE)
        st_kitchen_words(&m->item[k], buf, size);
    else
        st_aim_dial_words(a->recipe, &a->dial[k].dial, m->item[k].factor, buf, size);
}

void st_kitchen_other_words(const struct st_aim *a, const struct st_kitchen_choice *c, enum st_alternative which,
                            char *buf, size_t size)
{
    char name[96], text[160];
    switch (which) {
    case ST_ALT_FEWER:
        st_kitchen_tools(&c->other[which], a->n_dial, text, sizeof text);
        (void)snprintf(buf, size, "Fewer tools, %s", text);
        break;
    case ST_ALT_WEIGH:
        st_aim_dial_name(a->recipe, &a->dial[c->weighed].dial, name, sizeof name);
        st_kitchen_item_words(a, &c->best, c->weighed, text, sizeof text);
        (void)snprintf(buf, size, "Weigh the %s instead of measuring %s", name, text);
        break;
    case ST_ALT_ROUND: (void)snprintf(buf, size, "Rounder numbers"); break;
    case ST_ALT_WHOLE:
    default:
        (void)snprintf(buf, size, "Whole bottles or pieces%s",
                       c->volume_let_go[which] ? ", if the size of the batch may change" : "");
        break;
    }
}

void st_kitchen_none_words(enum st_alternative which, enum st_why_none why, char *buf, size_t size)
{
    static const char *const NAME[ST_NALT] = { "Fewer tools", "Weigh one thing", "Rounder numbers",
                                               "Whole bottles or pieces" };
    static const char *const ALREADY[ST_NALT] = { "one tool is all it takes", "nothing is left that a scale could take",
                                                  "these are the roundest that were found inside all wishes",
                                                  "they are whole already" };
    const char *text = ALREADY[which];
    switch (why) {
    case ST_WHY_NOT_INSIDE: text = "none was found inside all wishes"; break;
    case ST_WHY_SAME: text = "the same amounts as above"; break;
    case ST_WHY_NOT_SURER: text = "weighing none of them makes it surer"; break;
    case ST_WHY_LIMIT: text = "what was found would pass a limit of what the drink may hold"; break;
    case ST_WHY_NOTHING_WHOLE: text = "nothing that may change comes in bottles or pieces"; break;
    case ST_WHY_ALREADY: break;
    }
    (void)snprintf(buf, size, "%s: %s", NAME[which], text);
}

void st_kitchen_moved_words(const struct st_kitchen_choice *c, const struct st_making *m, char *buf, size_t size)
{
    buf[0] = '\0';
    for (int i = 0; i < c->stays.n; i++) {
        const struct st_stay *t = &c->stays.of[i];
        const size_t n = strlen(buf);
        const int digits = t->of == ST_FIG_SUGAR ? 0 : 1;
        const char *what = t->of == ST_FIG_SUGAR ? " of sugar" : t->of == ST_FIG_ACID ? " of acid" : "";
        if (t->of != ST_FIG_VOLUME && fabs(m->y[t->of] - t->at) > t->step)
            (void)snprintf(buf + n, size - n, ", %.*f %s%s (%.*f before)", digits, m->y[t->of],
                           st_figure_info(t->of)->unit, what, digits, t->at);
    }
}

void st_kitchen_sure_words(const struct st_making *m, const struct st_making *best, char *buf, size_t size)
{
    const int change = (int)round(20.0 * m->joint) - (int)round(20.0 * best->joint);
    if (change == 0)
        (void)snprintf(buf, size, "as sure");
    else if (change > 0)
        (void)snprintf(buf, size, "surer by %d of 20", change);
    else
        (void)snprintf(buf, size, "%d of 20 less", -change);
}

/* Rounded up, so that it holds. */
static double hundredths_up(double x)
{
    return ceil(100.0 * x - 1e-9) / 100.0;
}

void st_kitchen_proof_words(const struct st_kitchen_result *r, char *buf, size_t size)
{
    const double better = hundredths_up(fmax(r->point[0].far - r->bound, 0.0));
    if (!r->proven)
        (void)snprintf(buf, size, "Not proven: at most %.2f of a tolerance better could exist", better);
    else if (better > 0.0)
        (void)snprintf(buf, size, "Proven: nothing comes nearer by more than %.2f of a tolerance", better);
    else
        (void)snprintf(buf, size, "Proven: nothing comes nearer");
}
