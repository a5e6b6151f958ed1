#include <math.h>
#include <string.h>

#include "api/book_code.h"
#include "api/book_reference.h"
#include "cli/larder.h"
#include "cli/page.h"

/* Bought bottles to compare with. */

bool cli_reference_found(const struct cli *c, const char *name, struct cli_bottle *out)
{
    struct cli_desk d;
    struct st_reference r;

    *out = (struct cli_bottle){ .found = false };
    if (cli_desk_open(c, BOOK_READ, true, &d) != ST_EXIT_DONE)
        return false;
    if (d.desk.book && st_reference_named(&d.desk, name, &r)) {
        *out = (struct cli_bottle){ .found = true, .sugar = r.sugar, .by = r.by, .above = r.above };
        st_reference_sugar_words(out->words, sizeof out->words, &r);
    } else
        snprintf(out->words, sizeof out->words, "%s",
                 d.desk.book ? d.desk.problem.try_ : "\"stillroom larder reference\" lists them");
    cli_desk_close(&d);
    return out->found;
}

static void print_reference(const struct st_reference *r, enum st_measures units)
{
    char text[240], size[60];

    cli_wrap(0, 0, r->row.name);
    if (!isnan(r->row.volume_ml) || !isnan(r->row.price)) {
        st_lot_amount(size, sizeof size, isnan(r->row.volume_ml) ? 0.0 : r->row.volume_ml, "mL", units);
        if (isnan(r->row.price))
            cli_say(4, 6, "%s", size);
        else
            cli_say(4, 6, "%s%s%.2f %s", isnan(r->row.volume_ml) ? "" : size, isnan(r->row.volume_ml) ? "" : " for ",
                    r->row.price, r->row.currency);
    }
    if (r->strength.known) {
        st_figure_words(text, sizeof text, &r->strength, "% vol");
        cli_say(4, 6, "strength %s", text);
    }
    st_reference_sugar_words(text, sizeof text, r);
    cli_say(4, 6, "sugar %s", text);
    if (*r->row.note)
        cli_wrap(4, 6, r->row.note);
}

static void hint(const struct st_reference *r)
{
    char text[160];
    struct st_interval fifth = r->sugar;
    if (!r->sugar.known)
        return;
    if (r->by == ST_REFERENCE_TONGUE) {
        putchar('\n');
        cli_say(0, 2, "A fifth less sweet than it, wherever between the two it lies, is %.4g g/L:", 0.8 * r->sugar.low);
        cli_say(2, 4, "stillroom aim RECIPE --less-sweet 20%% --than \"%s\"", r->row.name);
        return;
    }
    fifth.value *= 0.8;
    fifth.low *= 0.8;
    fifth.high *= 0.8;
    st_figure_words(text, sizeof text, &fifth, "g/L");
    putchar('\n');
    cli_say(0, 2, "A fifth less sweet than it is %s:", text);
    cli_say(2, 4, "stillroom aim RECIPE --less-sweet 20%% --than \"%s\"", r->row.name);
}

static int put(struct cli *c, struct cli_desk *d, const struct st_reference_given *g)
{
    struct st_reference r;
    char words[400];

    if (!st_reference_put(&d->desk, g, &r, words))
        return cli_desk_fail(d);
    if (c->json)
        return cli_json_print(json_pack("{s:o, s:o}", "done", st_doc_text(words), "reference", st_doc_reference(&r)));
    print_reference(&r, c->units);
    hint(&r);
    return ST_EXIT_DONE;
}

/* One, or all where none is named. */
static int look(const struct cli *c, struct cli_desk *d, const char *name)
{
    struct st_reference *all, one;
    int n = d->desk.book ? 1 : 0;

    all = &one;
    if (!d->desk.book)
        name = NULL;
    else if (name ? !st_reference_named(&d->desk, name, &one) : !st_references_read(&d->desk, &all, &n))
        return cli_desk_fail(d);
    if (c->json && name)
        return cli_json_print(st_doc_reference(&one));
    if (c->json) {
        json_t *list = json_array();
        for (int i = 0; i < n; i++)
            json_array_append_new(list, st_doc_reference(&all[i]));
        return cli_json_print(json_pack("{s:o}", "references", list));
    }
    if (n == 0)
        cli_wrap(0, 0,
                 "No bought bottle is written down yet. For example: stillroom larder reference \"the green one\" "
                 "--strength 28 --sweeter-than 250 --less-sweet-than 300");
    for (int i = 0; i < n; i++)
        print_reference(&all[i], c->units);
    if (name)
        hint(&one);
    return ST_EXIT_DONE;
}

static bool take(struct cli *c, struct st_reference_given *g)
{
    bool bad = false;
    struct st_amount a;
    struct st_problem p;

    *g = (struct st_reference_given){ .name = NULL };
    g->strength = g->volume_ml = g->price = g->above = g->below = (double)NAN;
    cli_option_number(c, "--strength", 0.0, 100.0, &g->strength, &bad);
    cli_option_number(c, "--sweeter-than", 0.0, 1499.0, &g->above, &bad);
    cli_option_number(c, "--less-sweet-than", 0.0, 1499.0, &g->below, &bad);
    bool by_price;
    g->currency = cli_option(c, "--currency", &bad);
    larder_price(c, &g->price, &g->currency, &by_price, &bad);
    g->note = cli_option(c, "--note", &bad);
    const char *scale = cli_option(c, "--hydrometer", &bad);
    if (scale && strcmp(scale, "60F") != 0 && strcmp(scale, "20C") != 0) {
        cli_error("--hydrometer",
                  "hydrometers are marked for 20 \xc2\xb0"
                  "C or 60 \xc2\xb0"
                  "F",
                  "write --hydrometer 20C or --hydrometer 60F");
        return false;
    }
    g->hydrometer = scale && strcmp(scale, "60F") == 0 ? ST_HYDROMETER_60F : ST_HYDROMETER_20C;
    const char *volume = cli_option(c, "--volume", &bad);
    if (volume && cli_asks_amount(volume, c->units))
        return false;
    if (volume && (st_goods_amount(volume, c->units, &a, &p) != 0 || a.dim != ST_DIM_VOLUME)) {
        cli_error("--volume", "it is no volume", "write for example --volume 700mL");
        return false;
    }
    if (volume)
        g->volume_ml = a.value;
    return !bad;
}

int larder_reference(struct cli *c)
{
    static const char *const KNOWN[] = { "--strength",        "--price",      "--sweeter-than",
                                         "--less-sweet-than", "--currency",   "--note",
                                         "--volume",          "--hydrometer", NULL };
    struct st_reference_given g;
    struct cli_desk d;

    if (!take(c, &g) ||
        larder_ready(c, KNOWN, 0, 12, "write for example: stillroom larder reference \"the green one\""))
        return ST_EXIT_INPUT;
    g.name = c->argc > 0 ? c->argv[0] : NULL;
    g.reading = c->argv + 1;
    g.n_reading = c->argc > 1 ? c->argc - 1 : 0;
    const bool says = g.n_reading > 0 || !isnan(g.strength) || !isnan(g.price) || !isnan(g.volume_ml) ||
                      !isnan(g.above) || !isnan(g.below) || g.currency || g.note;
    if (says && !g.name) {
        cli_error("larder reference", "the bottle has no name", "write for example \"the green one\"");
        return ST_EXIT_INPUT;
    }
    int code = cli_desk_open(c, says ? BOOK_WRITE : BOOK_READ, !says, &d);
    if (code != ST_EXIT_DONE)
        return code;
    if (g.currency && !(g.currency = st_book_currency(&d.arena, g.currency, &d.desk.problem))) {
        d.desk.status = BOOK_OK;
        code = cli_desk_fail(&d);
    } else
        code = says ? put(c, &d, &g) : look(c, &d, g.name);
    cli_desk_close(&d);
    return code;
}
