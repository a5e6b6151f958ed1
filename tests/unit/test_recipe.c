/* Recipe files: what is read of a complete one, the place of every refusal, the limits. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/rule.h"
#include "text/ingredients.h"
#include "text/recipe_yaml.h"
#include "util/buf.h"
#include "util/embedded.h"
#include "util/file.h"

#define assert_near(a, b, by) assert_true(fabs((a) - (b)) <= (by))

static struct st_catalogue *new_catalogue(void)
{
    const struct st_embedded *sheet = st_embedded_find("data/ingredients.sheet");
    struct st_problem p = { 0 };
    assert_non_null(sheet);
    struct st_catalogue *c = st_catalogue_create((const char *)sheet->bytes, sheet->size, &p);
    if (!c)
        fail_msg("ingredients.sheet:%d: %s: %s", p.at.line, p.what, p.why);
    return c;
}

static int read_with(const char *text, size_t size, struct st_recipe_file *f)
{
    struct st_catalogue *c = new_catalogue();
    const int result = st_recipe_read("test.yaml", text, size, c, f);
    st_catalogue_free(c); /* nothing below looks at an ingredient of a freed catalogue */
    return result;
}

static void print_problems(const struct st_recipe_file *f)
{
    for (int i = 0; i < f->n_problem; i++)
        print_message("  %d:%d: %s: %s; %s\n", f->problem[i].at.line, f->problem[i].at.column, f->problem[i].what,
                      f->problem[i].why, f->problem[i].try_);
}

/* ---- a complete recipe ---- */

static const char COMPLETE[] =
    "schema_version: 1\n"
    "title: Damson liqueur\n"
    "note: Invented for the Quillmere orchard house; not a tested recipe.\n"
    "author: nobody\n"
    "measures: metric            # us | metric | imperial\n"
    "currency: EUR\n"
    "serving: 30 mL\n"
    "tools: {scale: 0.1 g, cup: 2 %, jug: [10 mL, 1 %]}\n"
    "wish: {strength: 22-26 %, sugar: 150-220 g/L}\n"
    "ingredients:\n"
    "  hedge plum: {like: damson, water: 76-81 %, sugars: 9 %, allergens: [celery], cautions: stones are small}\n"
    "steps:\n"
    "  - steep: jar\n"
    "    words: Turn it once a week.\n"
    "    add:\n"
    "      - 500 g damsons, as bought\n"
    "      - {line: 700 mL vodka 40 %, price: 14.50}\n"
    "      - {line: 50 g hedge plum, trimmed: 40 g, price: 2.00 for 100 g, said: 'a handful, wild'}\n"
    "    for: 6 weeks\n"
    "    vessel: 1.5 L jar\n"
    "    press: 30-40 %\n"
    "    drained: 410 g\n"
    "    exchanged: 90-99 %\n"
    "  - syrup: syrup\n"
    "    add: [200 g sugar, 150 mL water]\n"
    "    boil_down_to: 230 mL\n"
    "  - steep: second\n"
    "    add: [the drained fruit from jar, 300 mL vodka 40 %]\n"
    "  - blend: Drink\n"
    "    add: [half of jar, 200 mL of syrup, all of second, 25 % of jar]\n"
    "  - rest:\n"
    "    for: 1 week\n"
    "  - filter\n"
    "  - filter: clear\n"
    "    from: filter\n"
    "    loss: 2-5 %\n"
    "    loss_ml: 20\n"
    "  - bottle: bottles\n"
    "    size: 500 mL\n"
    "    bottles: 2\n"
    "original: |2+\n"
    "  Damsons, a pound  \n"
    "\n"
    "   and vodka: \"enough\"\n"
    "\n";

static void complete_head(void **state)
{
    struct st_recipe_file f;
    (void)state;
    if (read_with(COMPLETE, sizeof COMPLETE - 1, &f) != 0) {
        print_problems(&f);
        fail_msg("the complete recipe was refused");
    }
    const struct st_recipe *r = &f.recipe;
    assert_string_equal(r->file, "test.yaml");
    assert_string_equal(r->title, "Damson liqueur");
    assert_string_equal(r->note, "Invented for the Quillmere orchard house; not a tested recipe.");
    assert_string_equal(r->author, "nobody");
    assert_string_equal(r->currency, "EUR");
    assert_int_equal(r->measures, ST_MEASURES_METRIC);
    assert_near(r->serving_ml, 30, 1e-12);
    assert_near(r->tools.scale_digit_g, 0.1, 1e-12);
    assert_false(r->tools.given[ST_TOOL_SCALE]);
    assert_true(r->tools.given[ST_TOOL_CUP]);
    assert_near(r->tools.of[ST_TOOL_CUP].scale, 0.02, 1e-12);
    assert_near(r->tools.of[ST_TOOL_JUG].scale, 0.01, 1e-12);
    assert_near(r->tools.of[ST_TOOL_JUG].step, 5, 1e-12);
    assert_true(r->wish.has_strength && r->wish.has_sugar);
    assert_near(r->wish.strength_low, 22, 1e-12);
    assert_near(r->wish.strength_high, 26, 1e-12);
    assert_near(r->wish.sugar_low, 150, 1e-12);
    assert_near(r->wish.sugar_high, 220, 1e-12);
    assert_int_equal(f.n_note, 0);
    st_recipe_done(&f);
}

static void complete_steps(void **state)
{
    struct st_recipe_file f;
    (void)state;
    assert_int_equal(read_with(COMPLETE, sizeof COMPLETE - 1, &f), 0);
    const struct st_step *s = f.recipe.step;
    assert_int_equal(f.recipe.n_step, 8);

    assert_int_equal(s[0].kind, ST_DO_STEEP);
    assert_string_equal(s[0].id, "jar");
    assert_string_equal(s[0].words, "Turn it once a week.");
    assert_int_equal(s[0].at.line, 13);
    assert_int_equal(s[0].at.column, 5);
    assert_int_equal(s[0].n_line, 3);
    assert_near(s[0].time.value, 6 * 7 * 86400.0, 1e-6);
    assert_near(s[0].vessel_ml, 1500, 1e-9);
    assert_true(s[0].press);
    assert_near(s[0].press_share.low, 0.30, 1e-12);
    assert_near(s[0].press_share.high, 0.40, 1e-12);
    assert_near(s[0].drained_solids_g.value, 410, 1e-9);
    assert_near(s[0].drained_solids_g.high, 410.1, 1e-9); /* the scale shows 0.1 g */
    assert_near(s[0].exchanged.low, 0.90, 1e-12);

    assert_int_equal(s[1].boil_down_to.dim, ST_DIM_VOLUME);
    assert_near(s[1].boil_down_to.value, 230, 1e-9);
    assert_int_equal(s[4].kind, ST_DO_REST);
    assert_string_equal(s[4].id, "rest");        /* goes by its kind */
    assert_int_equal(s[4].line[0].from_step, 3); /* and goes on with the step before */
    assert_string_equal(s[5].id, "filter");
    assert_int_equal(s[6].line[0].from_step, 5);
    assert_near(s[6].loss_share.low, 0.02, 1e-12);
    assert_near(s[6].loss_ml.value, 20, 1e-12);
    assert_near(s[7].bottle_ml, 500, 1e-9);
    assert_int_equal(s[7].bottles, 2);
    st_recipe_done(&f);
}

static void complete_lines(void **state)
{
    struct st_recipe_file f;
    struct st_catalogue *c = new_catalogue();
    (void)state;
    assert_int_equal(st_recipe_read("test.yaml", COMPLETE, sizeof COMPLETE - 1, c, &f), 0);
    const struct st_line *l = f.recipe.step[0].line;

    assert_string_equal(l[0].text, "500 g damsons, as bought");
    assert_string_equal(l[0].what->slug, "damson");
    assert_true(l[0].gross);
    assert_int_equal(l[0].from_step, -1);
    assert_true(isnan(l[0].price));
    assert_near(l[1].price, 14.50, 1e-12);
    assert_int_equal(l[1].at.line, 17);
    assert_near(l[2].price, 1.00, 1e-12); /* 50 g of a pack of 100 g */
    assert_true(l[2].gross);
    assert_near(l[2].trimmed_share.value, 0.8, 1e-12);
    assert_string_equal(l[2].what->like, "damson");
    assert_string_equal(l[2].said, "a handful, wild");
    assert_string_equal(l[1].said, "");
    assert_near(l[2].what->part[ST_WATER].low, 0.76, 1e-12);
    assert_near(l[2].what->sugars.low, 0.085, 1e-12); /* 9 % is rounded */
    assert_near(l[2].what->sugars.high, 0.095, 1e-12);

    l = f.recipe.step[2].line;
    assert_int_equal(l[0].from_step, 0);
    assert_int_equal(l[0].part, ST_SPENT);
    assert_int_equal(l[0].amount.dim, ST_DIM_OPEN);
    l = f.recipe.step[3].line;
    assert_int_equal(l[0].amount.dim, ST_DIM_PIECE); /* half of the whole */
    assert_near(l[0].amount.value, 0.5, 1e-12);
    assert_int_equal(l[1].amount.dim, ST_DIM_VOLUME);
    assert_near(l[1].amount.value, 200, 1e-9);
    assert_int_equal(l[1].from_step, 1);
    assert_int_equal(l[2].amount.open, ST_OPEN_SOME);
    assert_int_equal(l[2].from_step, 2);
    assert_near(l[3].amount.value, 0.25, 1e-12);
    st_recipe_done(&f);
    st_catalogue_free(c);
}

/* The pasted text comes back letter by letter, blanks at the ends of lines and of the whole included. */
static void original_is_kept(void **state)
{
    static const char quoted[] = "original: \"\\t1 lb  \\n \\n[x\\n\"\n"
                                 "title: x\nsteps:\n  - blend: a\n    add: [1 L water]\n";
    struct st_recipe_file f;
    (void)state;
    assert_int_equal(read_with(COMPLETE, sizeof COMPLETE - 1, &f), 0);
    assert_string_equal(f.recipe.original, "Damsons, a pound  \n\n and vodka: \"enough\"\n\n");
    st_recipe_done(&f);
    assert_int_equal(read_with(quoted, sizeof quoted - 1, &f), 0);
    assert_string_equal(f.recipe.original, "\t1 lb  \n \n[x\n");
    st_recipe_done(&f);
    assert_int_equal(read_with(strstr(quoted, "title"), strlen(strstr(quoted, "title")), &f), 0);
    assert_string_equal(f.recipe.original, "");
    st_recipe_done(&f);
}

/* A definition only adds: every allergen and caution of what it is like, or replaces, is still there. */
static void flags_stay(void **state)
{
    static const char text[] =
        "title: x\ningredients:\n  almond syrup:\n    like: sweet almond\n    allergens: [celery]\n"
        "  milk: {like: water, kind: water}\nsteps:\n  - blend: a\n    add: [10 g almond syrup]\n";
    struct st_recipe_file f;
    struct st_catalogue *c = new_catalogue();
    (void)state;
    const struct st_ingredient almond = *st_catalogue_find(c, "sweet almond", 12),
                               milk = *st_catalogue_find(c, "milk", 4);
    if (st_recipe_read("t", text, sizeof text - 1, c, &f) != 0) {
        print_problems(&f);
        fail_msg("refused");
    }
    const struct st_ingredient *own = st_catalogue_find(c, "almond syrup", 12), *now = st_catalogue_find(c, "milk", 4);
    assert_true(almond.n_allergen > 0 && milk.n_allergen > 0);
    assert_int_equal(own->n_allergen, almond.n_allergen + 1);
    assert_string_equal(own->allergen[0].what, almond.allergen[0].what);
    assert_string_equal(own->allergen[own->n_allergen - 1].what, "celery");
    assert_string_equal(own->allergen[own->n_allergen - 1].degree, "eu"); /* as the catalogue knows it elsewhere */
    assert_true(now->n_allergen >= milk.n_allergen);
    assert_string_equal(now->allergen[0].what, milk.allergen[0].what);
    st_recipe_done(&f);
    st_catalogue_free(c);
}

/* ---- refusals: each tells its place ---- */

struct refusal {
    const char *text;
    int line, column;
    const char *sign; /* part of what, why or try */
};

#define HEAD "title: x\nsteps:\n"
#define JAR  HEAD "  - steep: jar\n    add: [100 g damsons, 100 mL vodka 40 %]\n"

static const struct refusal REFUSAL[] = {
    /* bytes */
    { "", 1, 1, "empty" },
    { "# only a remark\n\n", 1, 1, "empty" },
    { "title: x\ntitle\xff: y\n", 2, 6, "not UTF-8" },
    { "title: \xc3\xa9\xc3\xa9 \xed\xa0\x80\n", 1, 11, "not UTF-8" },
    { "\xff\xfet\1i\1", 1, 1, "UTF-16" },
    { "title: a\x07\n", 1, 9, "control" },
    { "title: x\nsteps:\n\t- steep: jar\n", 3, 1, "tab" },
    { "title: x\nsteps:\n  \t- steep: jar\n", 3, 3, "tab" },
    { "title: \"a\\0b\"\nsteps: [filter]\n", 1, 9, "control" },
    { "title: \"\\u202egnitset\"\nsteps: [filter]\n", 1, 9, "control" },
    /* syntax */
    { "title: \"x\nsteps:\n", 1, 8, "quote is not closed" },
    { "title: 'x\nsteps:\n", 1, 8, "quote is not closed" },
    { "title: [1, 2\nsteps: 3\n", 1, 8, "bracket is not closed" },
    { "title: {a: 1\n", 1, 8, "bracket is not closed" },
    { "title: x\nsteps:\n  - steep: jar\n    add\n    - 1 g sugar\n", 4, 5, "colon is missing" },
    { "title: x: y\n", 1, 9, "second colon" },
    { "title: \"x\" y\n", 1, 12, "behind the closing quote" },
    { "title: @x\n", 1, 8, "begin with this character" },
    { "title: \"\\q\"\n", 1, 9, "backslash" },
    { "title: x]\nwish: ]\n", 2, 7, "] too many" },
    { "steps:\n  - steep: a\n - steep: b\n", 3, 2, "wrong place" },
    { "title: - x\n", 1, 8, "list cannot begin" },
    /* what YAML has and a recipe has not */
    { "title: &a x\nsteps: *a\n", 1, 9, "anchor" },
    { "title: *a\nsteps: [filter]\n", 1, 8, "reference" },
    { "title: !!str x\nsteps: []\n", 1, 8, "tag" },
    { "title: x\n---\ntitle: y\n", 2, 1, "second document" },
    { "%YAML 1.2\n---\ntitle: x\n", 1, 1, "directives" },
    { "? [a, b]\n: x\n", 1, 3, "cannot be a key" },
    { "title: x\nsteps: [filter]\ntitle: y\n", 3, 1, "twice" },
    { JAR "    for: 1 week\n    for: 2 weeks\n", 6, 5, "twice" },
    { JAR "    add: [1 g sugar, 1 g sugar, 1 g sugar]\n", 5, 5, "twice" },
    { "steps: [filter]\nsteps:\n  - blend: a\n    add: [1 L water]\ntitle: x\n", 2, 1, "twice" },
    /* the head */
    { "just words\n", 1, 1, "not a recipe" },
    { "- a\n- b\n", 1, 1, "not a recipe" },
    { "title: x\n", 1, 1, "`steps` is missing" },
    { "steps:\n  - blend: a\n    add: 1 L water\n", 1, 1, "`title` is missing" },
    { "schema_version: 2\nfuture: yes\n", 1, 17, "newer program" },
    { "schema_version: one\n", 1, 17, "cannot read" },
    { "titel: x\nsteps: []\n", 1, 1, "did you mean `title`" },
    { "title:\nsteps: []\n", 1, 1, "no value" },
    { "title: [a]\nsteps: []\n", 1, 8, "takes one value" },
    { "measures: french\n" JAR, 1, 11, "us, metric or imperial" },
    { "serving: 40 g\n" JAR, 1, 10, "a volume belongs here" },
    { "wish: {strength: much}\n" JAR, 1, 18, "cannot read `much`" },
    { "wish: {sugar: 150-220}\n" JAR, 1, 15, "unit is missing" },
    { "wish: {sugar: 220-150 g/L}\n" JAR, 1, 15, "neither a figure nor a range" },
    { "wish: {sugar: 2000 g/L}\n" JAR, 1, 15, "the most" },
    { "tools: {scael: 1 g}\n" JAR, 1, 9, "did you mean `scale`" },
    { "tools: {scale: 1 mL}\n" JAR, 1, 16, "a weight belongs here" },
    { "tools: {cup: 90 %}\n" JAR, 1, 14, "the most" },
    { "currency: far too long\n" JAR, 1, 11, "too long" },
    /* own ingredients */
    { "ingredients: {bullaceberry: {water: 80 %}}\n" JAR, 1, 15, "neither `like` nor `kind`" },
    { "ingredients: {bullaceberry: damsson}\n" JAR, 1, 29, "did you mean `damson`" },
    { "ingredients: {damson: {watr: 80 %}}\n" JAR, 1, 24, "did you mean `water`" },
    { "ingredients: {damson: {water: 180 %}}\n" JAR, 1, 31, "the most" },
    { "ingredients: {damson: {water: 95 %, sugars: 40 %}}\n" JAR, 1, 15, "do not go together" },
    { "ingredients: {odd: {kind: frsh_fruit}}\n" JAR, 1, 27, "did you mean `fresh_fruit`" },
    { "ingredients: [damson]\n" JAR, 1, 14, "takes keys and values" },
    /* steps */
    { "title: x\nsteps: jar\n", 2, 8, "not a list of steps" },
    { "title: x\nsteps: []\n", 2, 8, "not a list of steps" },
    { HEAD "  - steap: jar\n    add: [1 L water]\n", 3, 5, "did you mean `steep`" },
    { HEAD "  - add: [1 L water]\n", 3, 5, "does not say what is done" },
    { HEAD "  - steep: a\n    blend: b\n", 4, 5, "a second kind" },
    { HEAD "  - stir\n", 3, 5, "not a step" },
    { HEAD "  - steep: {add: [1 L water]}\n", 3, 12, "takes a name" },
    { HEAD "  - steep: \"a, b\"\n    add: [1 L water]\n", 3, 13, "cannot be the name" },
    { JAR "  - blend: Jar\n    add: [all of jar]\n", 5, 5, "a second step is called" },
    { JAR "    fro: 6 weeks\n", 5, 5, "did you mean `from`" },
    { JAR "    size: 500 mL\n", 5, 5, "it belongs to bottle" },
    { JAR "    press: maybe\n", 5, 12, "yes or no" },
    { JAR "    for: 500 g\n", 5, 10, "a time belongs here" },
    { JAR "    exchanged: 120 %\n", 5, 16, "the most" },
    { JAR "    vessel: big\n", 5, 13, "cannot read `big`" },
    { JAR "  - bottle: b\n    bottles: 1.5\n", 6, 14, "bottles are counted" },
    { HEAD "  - filter: f\n", 3, 5, "nothing to filter" },
    { HEAD "  - blend: a\n", 3, 5, "nothing goes into" },
    { HEAD "  - syrup: s\n    add: [1 kg sugar, 1 L water]\n    boil_off: 10 g\n    boil_down_to: 1 L\n", 3, 5,
      "both `boil_off`" },
    { JAR "  - blend: b\n    add: [1 L water]\n", 5, 5, "lead nowhere" },
    /* lines */
    { JAR "  - blend: b\n    add: [all of jr]\n", 6, 18, "did you mean `jar`" },
    { JAR "  - blend: b\n    add:\n      - 200 mL from the jag\n", 7, 25, "did you mean `jar`" },
    { JAR "  - blend: b\n    add: [all of jar, all of c]\n  - blend: c\n    add: [all of b]\n", 6, 23, "comes later" },
    { JAR "  - blend: b\n    add: [all of jar, all of b]\n", 6, 23, "from itself" },
    { JAR "  - blend: b\n    add: [some few of jar]\n", 6, 11, "how much of that step" },
    { JAR "  - blend: b\n    add: [300 mL of the fruit of jar]\n", 6, 11, "no sure volume" },
    { JAR "  - blend: b\n    add: [all of jar]\n  - blend: c\n    add: [fruit of b]\n", 8, 11, "strains off no fruit" },
    { JAR "  - blend: b\n    from: jra\n", 6, 11, "did you mean `jar`" },
    { JAR "  - blend: b\n    from: [jar, 500 mL water]\n", 6, 17, "no step is called" },
    { HEAD "  - blend: b\n    add: [{price: 2}]\n", 4, 11, "without `line`" },
    { HEAD "  - blend: b\n    add: [{line: 1 L water, prize: 2}]\n", 4, 29, "did you mean `price`" },
    { HEAD "  - blend: b\n    add: [{line: 1 L water, price: much}]\n", 4, 36, "cannot read the price" },
    { HEAD "  - blend: b\n    add: [{line: 1 L water, price: 2 EUR}]\n", 4, 36, "names no currency" },
    { HEAD "  - blend: b\n    add: [{line: 1 L water, price: 2 for 1 kg}]\n", 4, 36, "of one sort" },
    { HEAD "  - blend: b\n    add: [{line: 500 g damsons, trimmed: 600 g}]\n", 4, 42,
      "between nothing and the weight" },
    { HEAD "  - blend: b\n    add: [{line: 1 L water, measured_with: spoon}]\n", 4, 44, "tool `spoon`" },
    { HEAD "  - blend: b\n    add: [{line: 500 g damsons, strength: 40 %}]\n", 4, 43, "a strength for" },
    { HEAD "  - blend: b\n    add: [500 g damsons, as bought]\n", 4, 26, "a comma begins the next line" },
    { HEAD "  - blend: b\n    add:\n      - [500 g damsons]\n", 5, 9, "takes one value" },
    { JAR "  - blend: b\n    add: [{line: all of jar, price: 3}]\n", 6, 37, "comes from a step" },
};

static void every_refusal_has_its_place(void **state)
{
    int bad = 0;
    (void)state;
    for (size_t i = 0; i < sizeof REFUSAL / sizeof REFUSAL[0]; i++) {
        const struct refusal *t = &REFUSAL[i];
        struct st_recipe_file f;
        bool found = false;
        const int result = read_with(t->text, strlen(t->text), &f);
        for (int k = 0; k < f.n_problem; k++) {
            const struct st_problem *p = &f.problem[k];
            found = found || (p->at.line == t->line && p->at.column == t->column && *p->what && *p->why && *p->try_ &&
                              (strstr(p->what, t->sign) || strstr(p->why, t->sign) || strstr(p->try_, t->sign)));
        }
        if (result != -1 || !found) {
            print_message("expected %d:%d %s in:\n%s\ngot %d with\n", t->line, t->column, t->sign, t->text, result);
            print_problems(&f);
            bad++;
        }
        st_recipe_done(&f);
    }
    assert_int_equal(bad, 0);
}

static void a_nul_byte(void **state)
{
    struct st_recipe_file f;
    (void)state;
    assert_int_equal(read_with("title: x\nst\0eps", 14, &f), -1);
    assert_int_equal(f.problem[0].at.line, 2);
    assert_int_equal(f.problem[0].at.column, 3);
    st_recipe_done(&f);
}

/* Several problems in one go, in the order of the file. */
static void many_at_once(void **state)
{
    static const char text[] =
        "titel: x\nmeasures: french\nserving: 1 kg\nsteps:\n  - steep: jar\n    add: [100 g damsons]\n"
        "    fro: 3 weeks\n  - blend: b\n    add: [all of jr]\n";
    struct st_recipe_file f;
    (void)state;
    assert_int_equal(read_with(text, sizeof text - 1, &f), -1);
    assert_true(f.n_problem >= 5);
    for (int i = 1; i < f.n_problem; i++)
        assert_true(f.problem[i - 1].at.line <= f.problem[i].at.line);
    st_recipe_done(&f);
}

static void no_more_than_twenty(void **state)
{
    struct st_buf b = { 0 };
    struct st_recipe_file f;
    (void)state;
    st_buf_add(&b, "title: x\n");
    for (int i = 0; i < 50; i++)
        st_buf_printf(&b, "key%d: x\n", i);
    assert_int_equal(read_with(st_buf_text(&b), b.length, &f), -1);
    assert_int_equal(f.n_problem, ST_MAX_PROBLEMS);
    st_recipe_done(&f);
    st_buf_done(&b);
}

static void a_step_that_nothing_takes(void **state)
{
    static const char text[] =
        JAR "  - syrup: s\n    add: [1 kg sugar, 1 L water]\n  - blend: b\n    add: [all of jar]\n";
    struct st_recipe_file f;
    (void)state;
    assert_int_equal(read_with(text, sizeof text - 1, &f), 0);
    assert_int_equal(f.n_note, 1);
    assert_int_equal(f.note[0].at.line, 5);
    assert_non_null(strstr(f.note[0].what, "`s`"));
    st_recipe_done(&f);
}

/* Forms that a line may have; all take from the step `big jar`. */
static void ways_to_take(void **state)
{
    static const struct {
        const char *line;
        enum st_part_of part;
        enum st_dimension dim;
        double value;
    } way[] = {
        { "all of big jar", ST_LIQUOR, ST_DIM_OPEN, 0 },
        { "All of the Big-Jar", ST_LIQUOR, ST_DIM_OPEN, 0 },
        { "the rest of big jar", ST_LIQUOR, ST_DIM_OPEN, 0 },
        { "everything from big_jar", ST_LIQUOR, ST_DIM_OPEN, 0 },
        { "big jar", ST_LIQUOR, ST_DIM_OPEN, 0 },
        { "300 mL of big jar", ST_LIQUOR, ST_DIM_VOLUME, 300 },
        { "300 mL big jar", ST_LIQUOR, ST_DIM_VOLUME, 300 },
        { "300 g of the liquor of big jar", ST_LIQUOR, ST_DIM_MASS, 300 },
        { "300 mL of the big jar, cooled, of course", ST_LIQUOR, ST_DIM_VOLUME, 300 },
        { "half of big jar", ST_LIQUOR, ST_DIM_PIECE, 0.5 },
        { "half the liquor of big jar", ST_LIQUOR, ST_DIM_PIECE, 0.5 },
        { "two thirds of big jar", ST_LIQUOR, ST_DIM_PIECE, 2.0 / 3 },
        { "30 % of big jar", ST_LIQUOR, ST_DIM_PIECE, 0.3 },
        { "fruit of big jar", ST_SPENT, ST_DIM_OPEN, 0 },
        { "the drained fruit from the big jar", ST_SPENT, ST_DIM_OPEN, 0 },
        { "all of the strained spices of big jar", ST_SPENT, ST_DIM_OPEN, 0 },
        { "half of the fruit of big jar", ST_SPENT, ST_DIM_PIECE, 0.5 },
        { "200 g of the drained fruit of big jar", ST_SPENT, ST_DIM_MASS, 200 },
    };
    (void)state;
    for (size_t i = 0; i < sizeof way / sizeof way[0]; i++) {
        char text[400];
        struct st_recipe_file f;
        (void)snprintf(text, sizeof text,
                       HEAD "  - steep: big jar\n    add: [100 g damsons, 1 L vodka 40 %%]\n"
                            "  - blend: b\n    add:\n      - 1 L water\n      - %s\n",
                       way[i].line);
        if (read_with(text, strlen(text), &f) != 0) {
            print_problems(&f);
            fail_msg("refused: %s", way[i].line);
        }
        const struct st_line *l = &f.recipe.step[1].line[1];
        if (l->from_step != 0 || l->what || l->part != way[i].part || l->amount.dim != way[i].dim ||
            (way[i].dim != ST_DIM_OPEN && fabs(l->amount.value - way[i].value) > 1e-9))
            fail_msg("read wrongly: %s", way[i].line);
        st_recipe_done(&f);
    }
}

/* An ingredient with the name of its own step is the ingredient. */
static void a_step_called_like_its_ingredient(void **state)
{
    static const char text[] = HEAD "  - syrup: sugar\n    add: [200 g of sugar, 150 mL water]\n";
    struct st_recipe_file f;
    (void)state;
    assert_int_equal(read_with(text, sizeof text - 1, &f), 0);
    assert_int_equal(f.recipe.step[0].line[0].from_step, -1);
    st_recipe_done(&f);
}

/* ---- limits: the last that is read, the first that is not ---- */

static int read_buf(struct st_buf *b, struct st_recipe_file *f)
{
    const int result = read_with(st_buf_text(b), b->length, f);
    st_buf_done(b);
    return result;
}

static void limit_of_size(void **state)
{
    (void)state;
    for (int over = 0; over < 2; over++) {
        struct st_buf b = { 0 };
        struct st_recipe_file f;
        st_buf_add(&b, JAR "#");
        while (b.length < (size_t)(1 << 20) + (size_t)over)
            st_buf_char(&b, 'x');
        assert_int_equal(read_buf(&b, &f), -over);
        st_recipe_done(&f);
    }
}

static void limit_of_steps(void **state)
{
    (void)state;
    for (int over = 0; over < 2; over++) {
        struct st_buf b = { 0 };
        struct st_recipe_file f;
        st_buf_add(&b, JAR);
        for (int i = 1; i < 200 + over; i++)
            st_buf_add(&b, "  - rest\n");
        assert_int_equal(read_buf(&b, &f), -over);
        st_recipe_done(&f);
    }
}

static void limit_of_lines(void **state)
{
    (void)state;
    for (int over = 0; over < 2; over++) {
        struct st_buf b = { 0 };
        struct st_recipe_file f;
        st_buf_add(&b, HEAD "  - blend: a\n    add:\n");
        for (int i = 0; i < 600; i++)
            st_buf_add(&b, "      - 1 mL water\n");
        st_buf_add(&b, "  - blend: b\n    add:\n      - all of a\n");
        for (int i = 601; i < 1000 + over; i++)
            st_buf_add(&b, "      - 1 mL water\n");
        assert_int_equal(read_buf(&b, &f), -over);
        if (over)
            assert_non_null(strstr(f.problem[0].what, "too many lines"));
        st_recipe_done(&f);
    }
}

static void limit_of_depth(void **state)
{
    (void)state;
    for (int over = 0; over < 2; over++) { /* the map, and 11 or 12 lists in it */
        struct st_buf b = { 0 };
        struct st_recipe_file f;
        st_buf_add(&b, "title: ");
        for (int i = 0; i < 11 + over; i++)
            st_buf_char(&b, '[');
        for (int i = 0; i < 11 + over; i++)
            st_buf_char(&b, ']');
        assert_int_equal(read_buf(&b, &f), -1);
        assert_true(!strstr(f.problem[0].what, "too deep") == !over);
        st_recipe_done(&f);
    }
}

/* What would make a careless reader slow, or its stack deep: refused at once. */
static void floods(void **state)
{
    static const char *const bit[] = { "[",   "{",   "- ", "? ", "{a: ", "[a,",  "a: [", "&a ",
                                       "!a ", "*a ", "\"", "'",  "|\n ", "- - ", "a:\n" };
    (void)state;
    for (size_t i = 0; i < sizeof bit / sizeof bit[0]; i++) {
        struct st_buf b = { 0 };
        struct st_recipe_file f;
        while (b.length < 1000000)
            st_buf_add(&b, bit[i]);
        assert_int_equal(read_buf(&b, &f), -1);
        assert_true(f.n_problem > 0);
        st_recipe_done(&f);
    }
}

/* ---- the examples ---- */

static void examples_are_read(void **state)
{
    static const char *const name[] = { "damson_fresh_fruit", "lemon_peel",       "apricot_spice_two_jars",
                                        "gentian_bitter",     "quince_two_pours", "coffee_cream",
                                        "cherry_kernel",      "raspberry_us_cups" };
    int bad = 0;
    (void)state;
    for (size_t i = 0; i < sizeof name / sizeof name[0]; i++) {
        char path[80];
        struct st_buf b = { 0 };
        struct st_recipe_file f;
        (void)snprintf(path, sizeof path, "examples/%s.yaml", name[i]);
        assert_int_equal(st_file_read(path, 1 << 20, &b), 0);
        const int result = read_with(st_buf_text(&b), b.length, &f);
        if (result || f.n_note || !f.recipe.note || !strstr(f.recipe.note, "Invented")) {
            print_message("%s: %d\n", path, result);
            print_problems(&f);
            bad++;
        }
        st_recipe_done(&f);
        st_buf_done(&b);
    }
    assert_int_equal(bad, 0);
}

static void read_whole(const char *path, struct st_buf *b)
{
    if (st_file_read(path, 1 << 20, b) != 0)
        fail_msg("cannot read %s", path);
}

/* The example of docs/recipe-file.md is what it says: complete, and right. */
static void documented_example(void **state)
{
    struct st_buf b = { 0 };
    struct st_recipe_file f;
    (void)state;
    read_whole("docs/recipe-file.md", &b);
    const char *from = strstr(st_buf_text(&b), "```yaml\n"), *to = from ? strstr(from + 8, "```") : NULL;
    assert_non_null(to);
    if (read_with(from + 8, (size_t)(to - from - 8), &f) != 0 || f.n_note) {
        print_problems(&f);
        fail_msg("the documented example was refused");
    }
    st_recipe_done(&f);
    st_buf_done(&b);
}

/* ---- the schema knows the keys that the reader knows ---- */

/* Does reading this text complain of a key? */
static bool complains_of_key(const char *text)
{
    struct st_recipe_file f;
    bool found = false;
    (void)read_with(text, strlen(text), &f);
    for (int i = 0; i < f.n_problem; i++)
        found = found || strstr(f.problem[i].what, "is not known") || strstr(f.problem[i].what, "means nothing");
    st_recipe_done(&f);
    return found;
}

static void check_keys(json_t *properties, const char *format)
{
    const char *key;
    json_t *value;
    assert_true(json_object_size(properties) > 1);
    json_object_foreach(properties, key, value)
    {
        char text[400];
        (void)snprintf(text, sizeof text, "%s%s: \n", format, key);
        if (complains_of_key(text))
            fail_msg("the schema knows %s, the reader does not", text);
    }
}

static void schema_has_the_keys(void **state)
{
    struct st_buf b = { 0 };
    json_error_t e;
    (void)state;
    read_whole("schema/recipe.schema.json", &b);
    json_t *schema = json_loads(st_buf_text(&b), JSON_REJECT_DUPLICATES, &e), *defs = json_object_get(schema, "$defs");
    if (!schema)
        fail_msg("schema:%d: %s", e.line, e.text);
    const json_t *all = json_object_get(json_object_get(defs, "step"), "steep");
    check_keys(json_object_get(schema, "properties"), "");
    check_keys(json_object_get(json_object_get(defs, "definition"), "properties"), "ingredients:\n  damson:\n    ");
    assert_non_null(all);

    for (int d = 0; d < ST_NDO; d++) { /* each key of each kind, and no other */
        const char *kind = st_do_name((enum st_do)d), *key;
        json_t *value, *own = json_object_get(json_object_get(json_object_get(defs, "step"), kind), "properties");
        assert_true(json_object_size(own) > 4);
        for (int group = 0; group < 2; group++)
            json_object_foreach(json_object_get(defs, group ? "common" : "special"), key, value)
            {
                char text[400];
                (void)snprintf(text, sizeof text, HEAD "  - %s: a\n    %s: \n", kind, key);
                if (complains_of_key(text) != !json_object_get(own, key))
                    fail_msg("schema and reader differ over %s in %s", key, kind);
            }
    }
    json_decref(schema);
    st_buf_done(&b);
}

/* What a drink made before may hold, and what it was made of. */
static void what_it_holds(void **state)
{
    static const char GOOD[] =
        "title: x\ningredients:\n  poured: {like: vodka, strength: 30 %, botanical: Artemisia, made_of: [wormwood, "
        "vodka], holds: [{toxicant: "
        "thujone, at_most: 120-130 mg/kg, because: all of it}, {toxicant: coumarin, at_most: not known}, {toxicant: "
        "hydrogen cyanide, at_most: 9 mg/kg, stones_shut: yes}]}\nsteps:\n  - blend: a\n    add: [1 L poured]\n",
                      BAD[] = "title: x\ningredients:\n  poured: {like: vodka, strength: 30 %, holds: [{toxicant: "
                              "thujone}]}\nsteps:\n  - blend: "
                              "a\n    add: [1 L poured]\n";
    struct st_recipe_file f;
    struct st_catalogue *c = new_catalogue();
    (void)state;
    (void)st_recipe_read("test.yaml", GOOD, sizeof GOOD - 1, c, &f);
    assert_int_equal(f.n_problem, 0);
    const struct st_ingredient *in = f.recipe.step[0].line[0].what;
    assert_int_equal(in->n_own, 3);
    assert_string_equal(in->own[0].toxicant, "thujone");
    assert_true(in->own[0].ceiling_mg_kg == 130.0); /* the worse end */
    assert_string_equal(in->own[0].note, "all of it");
    assert_true(isnan(in->own[1].ceiling_mg_kg));
    assert_true(in->own[2].shut && in->own[2].stones && !in->own[0].stones);
    assert_string_equal(in->made_of, "wormwood,vodka");
    assert_string_equal(in->botanical, "Artemisia");
    st_recipe_done(&f);
    st_catalogue_free(c);
    (void)read_with(BAD, sizeof BAD - 1, &f);
    assert_int_equal(f.n_problem, 1);
    assert_int_equal(f.problem[0].at.line, 3);
    st_recipe_done(&f);
}

/* Doubled quotes and folded lines, against the reading of the standard (YAML 1.2.2, example 7.9 and section 7.3.2). */
static void single_quotes(void **state)
{
    static const struct {
        const char *written, *text;
    } pair[] = {
        { "'here''s to \"quotes\"'", "here's to \"quotes\"" },
        { "' 1st non-empty\n\n 2nd non-empty \n  3rd non-empty '", " 1st non-empty\n2nd non-empty 3rd non-empty " },
        { "''''''''''''''''''''''''''''''''''''''''''''''", "''''''''''''''''''''''" },
        { "'a\r\n  b'", "a b" },
    };
    (void)state;
    for (size_t i = 0; i < sizeof pair / sizeof pair[0]; i++) {
        char text[200];
        struct st_recipe_file f;
        (void)snprintf(text, sizeof text, "title: %s\nsteps:\n  - blend: a\n    add: [1 L water]\n", pair[i].written);
        (void)read_with(text, strlen(text), &f);
        assert_string_equal(f.recipe.title, pair[i].text);
        st_recipe_done(&f);
    }
}

/* Any beginning of a file is read or refused, with a reason; a second st_recipe_done does no harm. */
static void every_beginning(void **state)
{
    struct st_catalogue *c = new_catalogue();
    (void)state;
    for (size_t n = 0; n < sizeof COMPLETE; n += 3) {
        struct st_recipe_file f;
        char *copy = malloc(n ? n : 1);
        assert_non_null(copy);
        memcpy(copy, COMPLETE, n);
        const int result = st_recipe_read("t", copy, n, c, &f);
        assert_true((result == 0) == (f.n_problem == 0));
        st_recipe_done(&f);
        st_recipe_done(&f);
        free(copy);
    }
    st_catalogue_free(c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(complete_head),
        cmocka_unit_test(complete_steps),
        cmocka_unit_test(complete_lines),
        cmocka_unit_test(original_is_kept),
        cmocka_unit_test(flags_stay),
        cmocka_unit_test(what_it_holds),
        cmocka_unit_test(every_refusal_has_its_place),
        cmocka_unit_test(a_nul_byte),
        cmocka_unit_test(many_at_once),
        cmocka_unit_test(no_more_than_twenty),
        cmocka_unit_test(a_step_that_nothing_takes),
        cmocka_unit_test(ways_to_take),
        cmocka_unit_test(a_step_called_like_its_ingredient),
        cmocka_unit_test(limit_of_size),
        cmocka_unit_test(limit_of_steps),
        cmocka_unit_test(limit_of_lines),
        cmocka_unit_test(limit_of_depth),
        cmocka_unit_test(floods),
        cmocka_unit_test(single_quotes),
        cmocka_unit_test(documented_example),
        cmocka_unit_test(schema_has_the_keys),
        cmocka_unit_test(examples_are_read),
        cmocka_unit_test(every_beginning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
