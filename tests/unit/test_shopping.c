/* The shopping list: whole packs, weight as bought, rounded up, and what is left over. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "catalogue_kit.h"
#include "plan_kit.h"
#include "text/shopping.h"

static struct st_packs *packs;

struct one {
    struct st_line line[8];
    struct st_step step;
    struct st_recipe r;
    struct st_reach x;
    struct st_shopping list;
};

static void shop(struct one *o, int n_line, const struct st_holding held[], int n, bool us)
{
    struct st_problem p = { .what = "" };
    packs = st_packs_built(&p);
    if (!packs)
        fail_msg("shop_units.tsv:%d: %s: %s; %s", p.at.line, p.what, p.why, p.try_);
    o->step = kit_step("jar", ST_DO_STEEP, o->line, n_line);
    o->r = kit_recipe(&o->step, 1);
    o->r.measures = us ? ST_MEASURES_US : ST_MEASURES_METRIC;
    assert_true(st_reach_find(&o->r, NULL, held, n, 20000, &o->x));
    st_shopping_make(&o->r, &o->x, packs, us, &o->list);
}

static void done(struct one *o)
{
    st_shopping_done(&o->list);
    st_reach_done(&o->x);
    st_packs_free(packs);
}

static void is(const struct one *o, int i, const char *want)
{
    if (i >= o->list.n || strcmp(o->list.item[i].text, want) != 0)
        fail_msg("'%s', not '%s'", i < o->list.n ? o->list.item[i].text : "no such item", want);
}

static struct st_line vodka(double ml, double strength)
{
    struct st_line l = kit_line(must("vodka"), kit_ml(ml));
    l.strength = kit_sharp(strength);
    return l;
}

static const struct st_ingredient *by_slug(const char *word, size_t n)
{
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        if (strlen(in->slug) == n && strncmp(in->slug, word, n) == 0)
            return in;
    }
    return NULL;
}

/* What is asked for, in words. */
static void as_one_buys(void **state)
{
    (void)state;
    struct one o = { 0 };
    o.line[0] = kit_line(must("quince"), kit_g(610)); /* 61 % is left of it: 1000 g */
    o.line[1] = vodka(550, 40);
    o.line[2] = kit_line(must("white sugar"), kit_g(1230));
    o.line[3] = kit_line(must("clove"), kit_g(4));
    o.line[4] = kit_line(must("walnuts"), kit_g(150));
    shop(&o, 5, NULL, 0, false);
    assert_int_equal(o.list.n, 5);
    is(&o, 0, "1 bottle of 700 mL vodka 40 %, 550 mL needed; 150 mL left over");
    is(&o, 1, "1 kg quinces as bought (for 610 g trimmed); to be sure 1.15 kg"); /* 55 % may be left: 1109 g */
    is(&o, 2, "1 bag of 1 kg and 1 bag of 500 g white sugar, 1.23 kg needed; 270 g left over");
    assert_non_null(strstr(o.list.item[3].text, "1 bag of 200 g walnut"));
    assert_non_null(strstr(o.list.item[4].text, "1 packet of 20 g clove bud, 4 g needed"));
    assert_string_equal(o.list.item[0].shelf, "spirits and wine");
    struct st_buf out = { 0 };
    st_shopping_print(&o.list, &out);
    assert_non_null(strstr(st_buf_text(&out), "Fruit and vegetables\n  1 kg quinces"));
    st_buf_done(&out);
    done(&o);
}

static void only_what_is_missing(void **state)
{
    (void)state;
    struct one o = { 0 };
    const char *sugar = must("white sugar")->slug;
    const struct st_holding held[] = {
        { .id = 1,
          .slug = sugar,
          .name = "",
          .kind = ST_KIND_SUGAR,
          .dim = ST_DIM_MASS,
          .left = 300,
          .price = (double)NAN },
        { .id = 2,
          .slug = "spirit_neutral",
          .name = "",
          .kind = ST_KIND_SPIRIT,
          .dim = ST_DIM_VOLUME,
          .left = 2000,
          .strength = kit_sharp(60),
          .price = (double)NAN },
    };
    o.line[0] = kit_line(must("white sugar"), kit_g(500));
    o.line[1] = vodka(700, 40);
    o.line[2] = kit_line(must("water"), kit_ml(500));
    o.line[3] = kit_line(must("white sugar"), kit_g(100)); /* two lines, one bag */
    shop(&o, 4, held, 2, false);
    assert_int_equal(o.list.n, 1);
    is(&o, 0, "1 bag of 500 g white sugar, 300 g needed; 200 g left over");
    done(&o);
    shop(&o, 3, held, 1, false);
    assert_int_equal(o.list.n, 2); /* now the spirit too: a whole bottle, nothing left */
    is(&o, 0, "1 bottle of 700 mL vodka 40 %, 700 mL needed");
    done(&o);
}

static void us_shop(void **state)
{
    (void)state;
    struct one o = { 0 };
    o.line[0] = vodka(800, 40);
    o.line[1] = kit_line(must("white sugar"), kit_g(400));
    o.line[2] = kit_line(must("quince"), kit_g(500));
    o.line[2].gross = true;
    shop(&o, 3, NULL, 0, true);
    is(&o, 0, "1 bottle of 1 L vodka 40 %, 800 mL needed; 200 mL left over");
    is(&o, 1, "1.25 lb quinces as bought, 1.1 lb needed; 2.4 oz left over");
    is(&o, 2, "1 bag of 1 lb white sugar, 14.1 oz needed; 1.9 oz left over");
    done(&o);
}

/* The same lemons give their juice and their peel; whole ones are bought besides. */
static void one_lemon_gives_both(void **state)
{
    (void)state;
    struct one o = { 0 };
    o.line[0] = kit_line(must("lemon juice"), kit_amount(ST_DIM_PIECE, 3));
    o.line[1] = kit_line(must("lemon peel"), kit_amount(ST_DIM_PIECE, 2));
    o.line[2] = kit_line(must("lemon juice"), kit_amount(ST_DIM_PIECE, 1));
    shop(&o, 3, NULL, 0, false);
    assert_int_equal(o.list.n, 1);
    is(&o, 0, "4 lemons for lemon juice and lemon peel, fresh");
    done(&o);
    o.line[2] = kit_line(by_slug("lemon_whole", 11), kit_amount(ST_DIM_PIECE, 1));
    shop(&o, 3, NULL, 0, false);
    assert_int_equal(o.list.n, 1);
    assert_true(o.list.item[0].needed.value == 4.0 && o.list.item[0].buy[0].n == 4);
    done(&o);
    o.line[0] = kit_line(must("lemon juice"), kit_g(120)); /* 48 g of each: 2.5 */
    shop(&o, 1, NULL, 0, false);
    assert_int_equal(o.list.item[0].buy[0].n, 3);
    done(&o);
}

static void what_nobody_sells(void **state)
{
    (void)state;
    struct one o = { 0 };
    struct st_ingredient odd = kit_ingredient("odd_brew", ST_KIND_BREW);
    odd.name = "odd brew";
    o.line[0] = kit_line(&odd, kit_ml(200));
    o.line[1] = kit_line(must("white sugar"), (struct st_amount){ .dim = ST_DIM_OPEN, .open = ST_OPEN_TASTE });
    struct st_ingredient root = kit_ingredient("odd_root", ST_KIND_ROOT_DRY); /* in packets of 20 g, but a cup of it? */
    root.name = "odd root";
    o.line[2] = kit_line(&root, kit_ml(200));
    shop(&o, 3, NULL, 0, false);
    assert_int_equal(o.list.n, 3);
    is(&o, 0, "200 mL odd brew, as the recipe measures it");
    is(&o, 1, "white sugar, as much as it takes");
    is(&o, 2, "200 mL odd root, as the recipe measures it");
    done(&o);
}

/* Nobody is led to buy more of a thing with a poison in it than the recipe names. */
static void kernels_have_no_pack(void **state)
{
    (void)state;
    struct one o = { 0 };
    o.line[0] = kit_line(must("bitter almonds"), kit_g(10));
    o.line[1] = kit_line(must("bitter almond oil"), kit_g(1));
    shop(&o, 2, NULL, 0, false);
    for (int i = 0; i < o.list.n; i++)
        assert_int_equal(o.list.item[i].n_buy, 0);
    assert_int_equal(o.list.stop ? 2 : o.list.n, 2);
    done(&o);
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        o = (struct one){ .line = { kit_line(in, kit_g(10)) } };
        shop(&o, 1, NULL, 0, i % 2);
        if (in->kind == ST_KIND_KERNEL && o.list.n > 0 && o.list.item[0].n_buy > 0)
            fail_msg("%s: %s", in->slug, o.list.item[0].text);
        done(&o);
    }
}

/* A recipe with something that must not go into a drink gets no list. */
static void no_list_for_a_stop(void **state)
{
    (void)state;
    struct one o = { 0 };
    struct st_buf out = { 0 };
    o.line[0] = kit_line(must("white sugar"), kit_g(100));
    o.line[1] = kit_line(must("methylated spirit"), kit_ml(100));
    shop(&o, 2, NULL, 0, false);
    assert_non_null(o.list.stop);
    assert_int_equal(o.list.n, 0);
    st_shopping_print(&o.list, &out);
    assert_non_null(strstr(st_buf_text(&out), "must not go into a drink"));
    assert_null(strstr(st_buf_text(&out), "sugar"));
    st_buf_done(&out);
    done(&o);
}

/* Over the whole catalogue and many amounts: enough is bought, and not a pack too much. */
static void enough_and_no_more(void **state)
{
    (void)state;
    int with_packs = 0;
    for (size_t i = 0; i < st_catalogue_count(all); i++)
        for (int k = 0; k < 12; k++) {
            struct one o = { 0 };
            const struct st_ingredient *in = st_catalogue_at(all, i);
            o.line[0] = kit_line(in, kit_amount((enum st_dimension)(k % 3), 3.0 * pow(2.2, k)));
            o.line[0].strength = in->kind == ST_KIND_SPIRIT ? kit_sharp(40) : o.line[0].strength;
            shop(&o, 1, NULL, 0, k % 2);
            for (int j = 0; j < o.list.n && o.list.item[j].n_buy > 0; j++) {
                const struct st_shop_item *x = &o.list.item[j];
                double bought = 0.0, smallest = HUGE_VAL;
                with_packs++;
                for (int b = 0; b < x->n_buy; b++) {
                    assert_true(x->buy[b].n > 0);
                    bought += x->buy[b].n * x->buy[b].pack->size;
                    smallest = fmin(smallest, x->buy[b].pack->size);
                }
                if (!(bought >= x->needed.value * (1.0 - 1e-5)) || fabs(bought - x->bought) > 1e-6 * bought)
                    fail_msg("%s: %g bought for %g", in->slug, bought, x->needed.value);
                if (!(bought - smallest < x->needed.value))
                    fail_msg("%s: without one of %g it would be enough: %s", in->slug, smallest, x->text);
                assert_true(x->over.low <= x->over.value && x->over.value <= x->over.high);
            }
            done(&o);
        }
    assert_true(with_packs > 4000);
}

/* ---- the sheet ---- */

static bool is_kind(const char *word, size_t n)
{
    for (int k = 0; k < ST_NKIND; k++)
        if (strlen(st_kind_name((enum st_kind)k)) == n && strncmp(st_kind_name((enum st_kind)k), word, n) == 0)
            return true;
    return false;
}

static void sheet_of_packs(void **state)
{
    (void)state;
    struct st_problem p;
    struct st_packs *s = st_packs_built(&p);
    assert_non_null(s);
    for (int i = 0; i < s->n; i++) {
        const struct st_pack *x = &s->pack[i];
        assert_string_equal(x->source, "common practice, no source");
        for (const char *w = x->goods; *w;) {
            const size_t n = strcspn(w, " ");
            const struct st_ingredient *in = by_slug(w, n);
            if (!in && !is_kind(w, n))
                fail_msg("row %d: '%.*s' is neither a kind nor an ingredient", i + 1, (int)n, w);
            if (x->dim == ST_DIM_PIECE && (!in || !in->piece.known))
                fail_msg("row %d: sold by the piece, but nobody has weighed a piece of '%.*s'", i + 1, (int)n, w);
            if (x->gross && in && !in->edible.known)
                print_message("row %d: '%.*s' is sold as bought; what is left of it is not known\n", i + 1, (int)n, w);
            w += n + (w[n] == ' ');
        }
    }
    st_packs_free(s);
}

static void sheets_that_are_refused(void **state)
{
    (void)state;
    static const char HEAD[] = "for\twhere\tshelf\thow\tpack\tsize\tunit\tsaid\tsold\tas\tpart\tmark\tsource\tnote\n";
    static const char *const BAD[] = {
        "sugar\t\td\tpack\tbag\t1\tkg\t1 kg\tnet\t\t\tp\tcommon practice, no source\t\n", /* no such unit */
        "sugar\t\td\tpack\t\t1\tg\t1 kg\tnet\t\t\tp\tcommon practice, no source\t\n",     /* a pack of what */
        "sugar\tfr\td\tpack\tbag\t1\tg\t1 kg\tnet\t\t\tp\tcommon practice, no source\t\n",
        "sugar\t\td\tpack\tbag\t-1\tg\t1 kg\tnet\t\t\tp\tcommon practice, no source\t\n",
        "sugar\t\td\tpack\tbag\t1\tg\t1 kg\tnet\t\t\tr\tsomebody\t\n", /* whence */
        "sugar\t\td\theap\tbag\t1\tg\t1 kg\tnet\t\t\tp\tcommon practice, no source\t\n",
        "sugar\t\td\tpack\tbag\n",
    };
    for (size_t i = 0; i < sizeof BAD / sizeof *BAD; i++) {
        struct st_problem p = { .what = "" };
        struct st_buf b = { 0 };
        st_buf_add(&b, HEAD);
        st_buf_add(&b, BAD[i]);
        struct st_packs *s = st_packs_create(st_buf_text(&b), b.length, &p);
        if (s || !*p.what || !*p.why || !*p.try_ || p.at.line != 2)
            fail_msg("row %zu was read, or not well refused: %s: %s; %s", i, p.what, p.why, p.try_);
        st_packs_free(s);
        st_buf_done(&b);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(as_one_buys),
        cmocka_unit_test(only_what_is_missing),
        cmocka_unit_test(us_shop),
        cmocka_unit_test(one_lemon_gives_both),
        cmocka_unit_test(what_nobody_sells),
        cmocka_unit_test(no_list_for_a_stop),
        cmocka_unit_test(kernels_have_no_pack),
        cmocka_unit_test(sheet_of_packs),
        cmocka_unit_test(sheets_that_are_refused),
        cmocka_unit_test(enough_and_no_more),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
