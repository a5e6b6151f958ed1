/* What went elsewhere than into a bottle: losses, and the drained fruit. */
#include "cli/batch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_agree.h"
#include "api/book_batch_bound.h"
#include "api/book_batch_fill.h"
#include "api/book_batch_rest.h"
#include "api/book_code.h"
#include "cli/page.h"
#include "text/figure_words.h"
#include "text/quantity.h"
#include "util/memory.h"

static bool amount_of(const char *said, enum st_measures m, struct st_amount *x)
{
    struct st_problem why;
    size_t used;
    if (cli_asks_amount(said, m))
        return false;
    if (st_quantity_parse(said, strlen(said), m == ST_MEASURES_NONE ? ST_MEASURES_METRIC : m, x, &used, &why) == 0 &&
        x->open == ST_CLOSED && (x->dim == ST_DIM_MASS || x->dim == ST_DIM_VOLUME) && said[used] == '\0')
        return true;
    char what[120];
    (void)snprintf(what, sizeof what, "\"%.80s\"", said);
    cli_error(what, "it is no weight and no volume", "write for example \"30 mL\" or 25g");
    return false;
}

/* ---- losses ---- */

static const char *const WHY[] = {
    "spilt", "lees", "filter", "tasted", "drawn", "thrown", "evaporated", "other", NULL
};
static const char *const LOSE[] = { "--why", "--on", "--step", "--strength", "--words", NULL };

static bool is_why(const char *why)
{
    for (int i = 0; why && WHY[i]; i++)
        if (strcmp(WHY[i], why) == 0)
            return true;
    cli_error(why ? why : "--why", why ? "that is no reason known here" : "nobody said why",
              "write --why spilt, lees, filter, tasted, drawn, thrown, evaporated or other");
    return false;
}

struct lost {
    struct book_batch row;
    struct book_loss loss;
    struct st_amount x;
    const char *said;
    char day[11], remark[400];
    bool before_drink; /* of a step before the drink: with its strength */
    struct st_batch_made *before, *now;
};

static bool is_foretold_anyway(const char *why)
{
    return strcmp(why, "lees") == 0 || strcmp(why, "filter") == 0 || strcmp(why, "evaporated") == 0;
}

/* Whether what is foretold of the bottle is less it: that of the drink itself is taken off what is left. */
static bool follows(const struct lost *k)
{
    return !k->before_drink || (k->now->lost_in && !is_foretold_anyway(k->loss.why));
}

/* Several jars stood, and no drink yet: BOOK_NONE, *p. */
static enum book_status ask_step(const struct lost *k, const char *one, const char *other, struct st_problem *p)
{
    char try_[200];
    (void)snprintf(try_, sizeof try_, "say it: --step \"%.60s\", or --step \"%.60s\"", one, other);
    st_batch_refuse(p, "several jars stood on that day, and it is not known which of them it is of", try_,
                    "a loss of %s", k->row.code);
    return BOOK_NONE;
}

/* The step it is of: as told, else what stood on that day, when that is one jar and not the drink yet; of several jars without a
 * drink it is asked. */
static enum book_status find_step(struct batch *b, const struct st_batch_made *m, struct lost *k, struct st_problem *p)
{
    struct st_batch_jar *jar;
    const char *only = NULL, *other = NULL;
    bool drink = false;
    int n, stood = 0;
    if (!m->whole)
        return BOOK_OK;
    if (*k->loss.step) {
        const int at = st_batch_step(&m->file.recipe, k->loss.step, p);
        if (at >= 0)
            k->loss.step = st_batch_is_rest(&m->file.recipe.step[at])
                               ? ""
                               : st_arena_strdup(&b->arena, m->file.recipe.step[at].id);
        return at >= 0 ? BOOK_OK : BOOK_NONE;
    }
    const enum book_status s = st_batch_jars(&b->ask, k->row.id, true, &jar, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        const struct book_jar *j = &jar[i].row;
        if (j->begun_on && strcmp(j->begun_on, k->day) <= 0 && (!j->ended_on || strcmp(k->day, j->ended_on) < 0)) {
            drink = drink || st_batch_of_drink(&m->file.recipe, j->step);
            other = only;
            only = j->step;
            stood++;
        }
    }
    if (s == BOOK_OK && stood > 1 && !drink)
        return ask_step(k, other, only, p);
    if (stood == 1 && !st_batch_of_drink(&m->file.recipe, only))
        k->loss.step = only;
    return s;
}

/* A loss of more than there can be is kept all the same, since what was weighed may be what is wrong; but it is told.  Far more
 * is a slip, and refused: BOOK_NONE, *p. */
static enum book_status look_at_amount(struct batch *b, const struct st_batch_made *m, struct lost *k,
                                       struct st_problem *p)
{
    struct st_batch_left l = { .foretold_ml = (double)NAN };
    char there[120];
    const enum book_status s = st_batch_left(&b->ask, &k->row, m, &l);
    if (s != BOOK_OK || !isfinite(l.foretold_ml))
        return s;
    const double went = l.lost_ml + l.bottled_ml;
    const struct st_interval ml = { fmax(l.foretold_ml - went, 0.0), fmax(l.low_ml - went, 0.0),
                                    fmax(l.high_ml - went, 0.0), ST_OK, true };
    if (k->x.value <= ml.high * (1.0 + 1e-9)) /* g counts as mL here: a liqueur is near 1 g/mL */
        return s;
    st_volume_words(there, sizeof there, &ml, b->c->units);
    if (went + k->x.value > 2.0 * l.high_ml) {
        st_batch_refuse(p, batch_text(b, "there can hardly be so much: %s", there),
                        batch_text(b,
                                   "look at the amount and its unit, or tell what there was: stillroom batch read %s "
                                   "volume=AMOUNT",
                                   k->row.code),
                        "a loss of %g mL of %s", k->x.value, k->row.code);
        return BOOK_NONE;
    }
    (void)snprintf(k->remark, sizeof k->remark,
                   "That is more than there can be: %s by %s, less what was lost and bottled. If the figure is a slip, "
                   "stillroom undo takes it back; else look at what was weighed.",
                   there, l.measured ? "the last volume read" : "the recipe as weighed");
    return s;
}

static enum book_status look_at_loss(struct batch *b, struct lost *k, struct st_problem *p)
{
    struct st_batch_made *m = k->before;
    enum book_status s = st_batch_made(&b->ask, &k->row, true, true, m);
    if (s == BOOK_OK)
        s = find_step(b, m, k, p);
    k->before_drink = s == BOOK_OK && m->whole && !st_batch_of_drink(&m->file.recipe, k->loss.step);
    if (s == BOOK_OK)
        s = look_at_amount(b, m, k, p);
    return s;
}

/* A deed: the loss, and what is foretold where that follows it. */
static int keep_lost(struct batch *b, struct lost *k)
{
    enum book_status s = batch_deed(b, "%s: lost %.60s, %s", k->row.code, k->said, k->loss.why);
    if (s == BOOK_OK)
        s = book_put(b->book, BOOK_LOSS, &k->loss, NULL);
    if (s == BOOK_OK && k->before_drink)
        s = st_batch_made(&b->ask, &k->row, true, true, k->now);
    if (s == BOOK_OK && !k->before_drink)
        s = st_batch_foreseen_again(&b->ask, &k->row, BATCH_PROGRAM);
    if (s == BOOK_OK && k->now->told)
        s = st_batch_keep_foreseen(&b->ask, k->row.id, &k->now->out, BATCH_PROGRAM);
    return batch_end(b, s, NULL);
}

static int take_lost(struct batch *b, struct lost *k)
{
    bool bad = false;
    book_row_init(BOOK_LOSS, &k->loss);
    if (!cli_take_day(b->c, "--on", &b->now, false, k->day))
        return ST_EXIT_INPUT;
    const char *why = cli_option(b->c, "--why", &bad), *words = cli_option(b->c, "--words", &bad);
    const char *step = cli_option(b->c, "--step", &bad);
    (void)cli_option_number(b->c, "--strength", 0.0, 100.0, &k->loss.strength_pct_vol, &bad);
    if (bad || !cli_no_more_options(b->c, LOSE) || batch_named(b, &k->row) != ST_EXIT_DONE)
        return ST_EXIT_INPUT;
    if (!batch_existed(b, &k->row, k->day))
        return ST_EXIT_INPUT;
    k->said = batch_word(b, "no amount is given", "lose B14 \"30 mL\" --why spilt");
    if (!k->said || !batch_no_more(b, LOSE) || !is_why(why) || !amount_of(k->said, b->c->units, &k->x))
        return ST_EXIT_INPUT;
    k->loss.batch_id = k->row.id;
    k->loss.step = step ? step : "";
    k->loss.on_day = k->day;
    k->loss.why = why;
    k->loss.note = words ? words : "";
    if (k->x.dim == ST_DIM_VOLUME)
        k->loss.volume_ml = k->x.value;
    else
        k->loss.mass_g = k->x.value;
    return ST_EXIT_DONE;
}

static int json_lost(const struct lost *k)
{
    json_t *o = json_pack("{s:s, s:o, s:s, s:s, s:o, s:o, s:b}", "batch", k->row.code, "lost", st_doc_text(k->said),
                          "why", k->loss.why, "on_day", k->day, "remark", st_doc_text(k->remark), "step",
                          st_doc_text(k->loss.step), "foretold_follows", follows(k));
    if (k->before_drink && follows(k) && k->before->told) {
        json_object_set_new(o, "before", batch_foretold_json(&k->before->out));
        json_object_set_new(o, "now", batch_foretold_json(&k->now->out));
    }
    return cli_json_print(o);
}

static int tell_lost(struct batch *b, const struct lost *k)
{
    if (b->c->json)
        return json_lost(k);
    cli_say(0, 2, "%s: lost %s (%s)%s%s%s, %s.", k->row.code, k->said, k->loss.why, *k->loss.step ? " of \"" : "",
            k->loss.step, *k->loss.step ? "\"" : "", batch_day(b, k->day, false));
    if (*k->remark)
        cli_wrap(2, 2, k->remark);
    if (k->before_drink)
        cli_say(2, 2, "The account of alcohol counts it with the strength that stands in \"%s\".", k->loss.step);
    if (!follows(k) && is_foretold_anyway(k->loss.why))
        cli_say(2, 2,
                "The bottle foretold does not follow: what lees, a filter and the air take is foretold for its recipe "
                "already.");
    else if (!follows(k))
        cli_say(
            2, 2,
            "The bottle foretold does not follow: this recipe gives no drink with so much lost, and figures and limits "
            "stay those of all that was in the jar. Measure the drink: stillroom batch read %s strength=STRENGTH "
            "volume=AMOUNT.",
            k->row.code);
    else if (k->before_drink) {
        cli_say(
            2, 2,
            "Less of that jar goes on; where syrup or water is mixed in as planned, the drink becomes weaker. To keep "
            "it as it was, take less of that too, and weigh it (stillroom batch weigh).");
        (void)batch_foretold_now(b, "The bottle that is foretold", k->before, k->now);
    }
    return ST_EXIT_DONE;
}

int batch_lose(struct batch *b)
{
    struct st_problem p = { .what = "" };
    struct lost k = { .said = NULL };
    int code = take_lost(b, &k);
    if (code != ST_EXIT_DONE)
        return code;
    k.before = x_calloc(2, sizeof *k.before); /* large */
    k.now = k.before + 1;
    const enum book_status s = look_at_loss(b, &k, &p);
    if (s == BOOK_NONE)
        code = batch_wrong(&p);
    else if (s != BOOK_OK)
        code = batch_fail(b, s, NULL);
    else
        code = keep_lost(b, &k);
    if (code == ST_EXIT_DONE)
        code = tell_lost(b, &k);
    st_batch_made_done(k.before);
    st_batch_made_done(k.now);
    free(k.before);
    return code;
}

/* ---- spent fruit ---- */

static const char *const SPENT[] = { "--step", "--amount", "--on", "--name", "--where", "--code", NULL };

struct spent {
    struct book_batch row;
    struct book_lot lot;
    struct st_batch_spent of;
    struct st_batch_made *made;
    const char *step, *amount, *name, *where, *code;
    char day[11], lot_code[40], words[300];
};

static int take_spent(struct batch *b, struct spent *k)
{
    bool bad = false;
    if (!cli_take_day(b->c, "--on", &b->now, false, k->day))
        return ST_EXIT_INPUT;
    k->step = cli_option(b->c, "--step", &bad);
    k->amount = cli_option(b->c, "--amount", &bad);
    k->name = cli_option(b->c, "--name", &bad);
    k->where = cli_option(b->c, "--where", &bad);
    k->code = cli_option(b->c, "--code", &bad);
    struct st_problem p = { .what = "" };
    if (k->code && !(k->code = st_book_code(&b->arena, k->code, &p)))
        return batch_wrong(&p);
    if (bad || !cli_no_more_options(b->c, SPENT))
        return ST_EXIT_INPUT;
    int code = batch_named(b, &k->row);
    if (code != ST_EXIT_DONE)
        return code;
    if (!batch_no_more(b, SPENT) || !batch_existed(b, &k->row, k->day))
        return ST_EXIT_INPUT;
    const enum book_status s = st_batch_made(&b->ask, &k->row, true, true, k->made);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    return k->made->told ? ST_EXIT_DONE : batch_wrong(&k->made->problem);
}

/* The amount: as weighed now, else as drained when it was strained, else as foretold. */
static int fill_spent(struct batch *b, struct spent *k)
{
    struct st_problem p = { .what = "" };
    struct st_amount x = { .value = 0.0 };
    enum book_status s = st_batch_spent(&b->ask, &k->row, k->made, k->step, &k->of, &p);
    if (s == BOOK_OK && p.what[0])
        return batch_wrong(&p);
    if (s == BOOK_OK && !k->code)
        s = st_batch_next_lot(&b->ask, k->lot_code);
    if (s != BOOK_OK)
        return batch_fail(b, s, &p);
    if (k->amount && !amount_of(k->amount, b->c->units, &x))
        return ST_EXIT_INPUT;
    if (k->amount && x.dim != ST_DIM_MASS) {
        cli_error(k->amount, "drained fruit is weighed", "write for example --amount 380g");
        return ST_EXIT_INPUT;
    }
    if (k->amount && !st_batch_can_be_drained(k->made, k->step ? k->step : "", x.value, &p))
        return batch_wrong(&p);
    book_row_init(BOOK_LOT, &k->lot);
    k->lot.code = k->code ? k->code : k->lot_code;
    k->lot.kind = "spent";
    k->lot.name = k->name ? k->name : k->of.name;
    k->lot.slug = k->of.slug;
    k->lot.dim = "g";
    k->lot.amount = k->amount ? x.value : k->of.drained_g;
    k->lot.gross = 0;
    if (k->of.drained_g > 0.0)
        k->of.liquor_g = fmin(k->of.liquor_g * k->lot.amount / k->of.drained_g, k->lot.amount);
    k->lot.strength_pct_vol = k->of.strength_pct_vol;
    k->lot.since = k->day;
    k->lot.place = k->where ? k->where : "";
    k->lot.from_batch = k->row.id;
    (void)snprintf(k->words, sizeof k->words, "keeps about %.0f g of liquor of %.1f %% vol, as foreseen",
                   k->of.liquor_g, k->of.strength_pct_vol);
    k->lot.note = k->words;
    k->lot.words = st_batch_spent_words(&b->arena, k->of.step);
    return ST_EXIT_DONE;
}

/* Kept twice, or more than was drained of that steep: told. */
static enum book_status look_at_spent(struct batch *b, const struct spent *k, char *remark, size_t size)
{
    struct book_lot *lot;
    double sum = 0.0;
    int n;
    const struct book_wanted of = { .column = "from_batch", .integer = k->row.id };
    enum book_status s = book_list(b->book, BOOK_LOT, &of, &b->arena, &lot, &n);
    remark[0] = '\0';
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        struct st_problem none = { .what = "" };
        struct st_batch_spent x = { .step = NULL };
        if (strcmp(lot[i].kind, "spent") != 0)
            continue;
        s = st_batch_spent_lot(&b->ask, &k->row, k->made, &lot[i], &x, &none);
        if (s == BOOK_OK && x.step && strcmp(x.step, k->of.step) == 0)
            sum += lot[i].amount;
    }
    if (s == BOOK_OK && sum > 0.0 && sum + k->lot.amount > 1.1 * k->of.drained_g)
        (void)snprintf(
            remark, size,
            "With what was kept before that makes %.0f g, and %s %.0f g: if one is too many, stillroom undo.",
            sum + k->lot.amount, k->of.weighed ? "drained were" : "foreseen are", k->of.drained_g);
    return s;
}

int batch_spent(struct batch *b)
{
    char remark[200] = "";
    struct spent *k = x_calloc(1, sizeof *k);
    k->made = x_calloc(1, sizeof *k->made); /* large */
    int code = take_spent(b, k);
    if (code == ST_EXIT_DONE)
        code = fill_spent(b, k);
    if (code == ST_EXIT_DONE) {
        enum book_status s = look_at_spent(b, k, remark, sizeof remark);
        if (s == BOOK_OK)
            s = batch_deed(b, "%s: kept %.0f g of %.120s as %s", k->row.code, k->lot.amount, k->lot.name, k->lot.code);
        if (s == BOOK_OK)
            s = book_put(b->book, BOOK_LOT, &k->lot, NULL);
        code = batch_end(b, s, NULL);
    }
    if (code == ST_EXIT_DONE && b->c->json)
        code = cli_json_print(json_pack("{s:s, s:s, s:o, s:f, s:f, s:f, s:s, s:s}", "batch", k->row.code, "lot",
                                        k->lot.code, "name", st_doc_text(k->lot.name), "amount_g", k->lot.amount,
                                        "strength_pct_vol", k->lot.strength_pct_vol, "liquor_kept_g", k->of.liquor_g,
                                        "weight_from",
                                        k->amount       ? "weighed"
                                        : k->of.weighed ? "drained"
                                                        : "foreseen",
                                        "remark", remark));
    else if (code == ST_EXIT_DONE)
        cli_say(0, 2, "%s: %.0f g of %s kept as lot %s%s; it %s.", k->row.code, k->lot.amount, k->lot.name, k->lot.code,
                k->amount       ? ""
                : k->of.weighed ? " (as drained)"
                                : " (weight as foreseen)",
                k->words);
    if (code == ST_EXIT_DONE && !b->c->json && *remark)
        cli_wrap(2, 2, remark);
    st_batch_made_done(k->made);
    free(k->made);
    free(k);
    return code;
}
