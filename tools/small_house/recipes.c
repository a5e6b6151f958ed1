#include "house.h"

#include <stdio.h>
#include <string.h>

#include "util/buf.h"
#include "util/file.h"

/* Eight recipes, and what was changed from try to try. */

struct change {
    const char *find, *put;
};

struct a_try {
    const char *on, *side;
    int from; /* -1: the file as it is */
    struct change change[2];
    const char *note;
};

enum { MOST = 5 };

static const struct recipe {
    const char *file, *note;
    struct a_try of[MOST];
} RECIPE[HOUSE_NRECIPE] = {
    { "examples/damson_fresh_fruit.yaml",
      "Invented. The tree by the gate, when the first frost has been near.",
      { { "2024-08-25", "", -1, { { NULL, NULL } }, "As my invented grandmother is said to have made it." },
        { "2025-08-20", "", 0, { { "130 g sugar", "115 g sugar" } }, "The first was sweeter than we like." },
        { "2025-08-21",
          "less sweet one",
          1,
          { { "115 g sugar", "90 g sugar" } },
          "For those who take it after cheese." } } },
    { "examples/lemon_peel.yaml",
      "Invented. Winter lemons, unwaxed.",
      { { "2024-06-10", "", -1, { { NULL, NULL } }, "" },
        { "2025-01-18", "", 0, { { "320 g sugar", "285 g sugar" } }, "Less sugar." },
        { "2025-05-03", "stronger one", 1, { { "680 mL water", "560 mL water" } }, "For the ice box." },
        { "2026-02-08",
          "",
          1,
          { { "90 g fresh lemon peel", "110 g fresh lemon peel" } },
          "More peel, after a pale winter." } } },
    { "examples/apricot_spice_two_jars.yaml",
      "Invented. Three jars for one bottle.",
      { { "2024-10-04", "", -1, { { NULL, NULL } }, "" },
        { "2025-09-27", "", 0, { { "3 g cardamom", "4 g cardamom" } }, "The clove led; more cardamom against it." },
        { "2025-09-28", "without anise", 1, { { "      - {line: 2 g star anise, price: 0.20}\n", "" } }, "" } } },
    { "examples/gentian_bitter.yaml",
      "Invented. Root from a shop, never from the meadow.",
      { { "2024-09-14", "", -1, { { NULL, NULL } }, "" },
        { "2025-02-22",
          "",
          0,
          { { "14 g dried gentian root", "10 g dried gentian root" } },
          "The first was too bitter for most guests." },
        { "2026-01-04", "sweeter one", 1, { { "170 g sugar", "220 g sugar" } }, "Asked for by Gwil." } } },
    { "examples/quince_two_pours.yaml",
      "Invented. The quinces scent the house for a week first.",
      { { "2024-10-20", "", -1, { { NULL, NULL } }, "" },
        { "2025-10-18",
          "",
          0,
          { { "20 g honey", "40 g honey" }, { "300 g sugar", "285 g sugar" } },
          "More honey, less sugar." } } },
    { "examples/raspberry_us_cups.yaml",
      "Invented. A visitor's recipe, left on the table.",
      { { "2024-07-06", "", -1, { { NULL, NULL } }, "By the visitor's own cups." },
        { "2025-06-29", "", 0, { { "4 cups raspberries", "5 cups raspberries" } }, "More fruit." } } },
    { "tools/small_house/black_currant.yaml",
      "Invented. Two bushes, one of them for the birds.",
      { { "2024-07-16", "", -1, { { NULL, NULL } }, "" },
        { "2025-07-13",
          "",
          0,
          { { "230 g sugar", "200 g sugar" }, { "150 mL water", "120 mL water" } },
          "Thinner than wished, and sweet." } } },
    { "tools/small_house/coffee_orange.yaml",
      "Invented. For the dark months.",
      { { "2024-11-05", "", -1, { { NULL, NULL } }, "" },
        { "2025-02-02",
          "",
          0,
          { { "12 g fresh orange peel", "8 g fresh orange peel" } },
          "The orange stood in front of the coffee." },
        { "2025-11-09", "", 1, { { "60 g whole roasted coffee beans", "75 g whole roasted coffee beans" } }, "" } } },
};

static struct house_try kept[HOUSE_NRECIPE][MOST];
static int64_t recipe_id[HOUSE_NRECIPE];

const struct house_try *house_try(int recipe, int n)
{
    if (kept[recipe][n].id == 0)
        house_fail(RECIPE[recipe].file, "that try is not kept yet");
    return &kept[recipe][n];
}

/* The text with one thing in the place of another, which has to be there. */
static void change(struct st_buf *text, const struct change *c)
{
    struct st_buf out = { 0 };
    const char *all = st_buf_text(text), *at = strstr(all, c->find);

    if (at) {
        st_buf_add_n(&out, all, (size_t)(at - all));
        st_buf_add(&out, c->put);
        st_buf_add(&out, at + strlen(c->find));
    } else
        house_fail(c->find, "it is not in the recipe");
    st_buf_done(text);
    *text = out;
}

static const char *text_of(struct house *h, int r, const struct a_try *t)
{
    struct st_buf text = { 0 };

    if (t->from >= 0)
        st_buf_add(&text, kept[r][t->from].text);
    else if (st_file_read(RECIPE[r].file, 1 << 20, &text) != 0)
        house_fail(RECIPE[r].file, "it cannot be read; start this at the top of the project");
    for (int i = 0; i < 2 && t->change[i].find; i++)
        change(&text, &t->change[i]);
    const char *out = st_arena_strdup(&h->arena, st_buf_text(&text));
    st_buf_done(&text);
    return out;
}

/* How many tries its line has up to this one. */
static int number_of(int r, int k)
{
    int n = 0;
    for (int i = 0; i <= k; i++)
        n += strcmp(RECIPE[r].of[i].side, RECIPE[r].of[k].side) == 0;
    return n;
}

static void keep_recipe(struct house *h, int r, const char *name)
{
    struct book_recipe row;
    book_row_init(BOOK_RECIPE, &row);
    row.name = name;
    row.since = h->on;
    row.note = RECIPE[r].note;
    recipe_id[r] = house_put(h, BOOK_RECIPE, &row);
}

static void keep_try(struct house *h, int r, int k)
{
    const struct a_try *t = &RECIPE[r].of[k];
    const char *text = text_of(h, r, t);
    static struct house_read read; /* large */
    struct book_try row;

    house_read(text, &read);
    const char *name = st_arena_strdup(&h->arena, read.file.recipe.title);
    house_begin(h, *t->side ? "kept %s, %s %d" : "kept %s%s, try %d", name, t->side, number_of(r, k));
    if (k == 0)
        keep_recipe(h, r, name);
    book_row_init(BOOK_TRY, &row);
    row.recipe_id = recipe_id[r];
    row.side = t->side;
    row.number = number_of(r, k);
    if (t->from >= 0)
        row.from_try = kept[r][t->from].id;
    row.on_day = h->on;
    row.text = text;
    row.note = t->note;
    kept[r][k] = (struct house_try){ house_put(h, BOOK_TRY, &row), name, text };
    house_keep_foreseen(h, kept[r][k].id, BOOK_NO, &read.out);
    house_end(h);
    house_read_done(&read);
}

void house_recipes(struct house *h)
{
    for (int r = 0; r < HOUSE_NRECIPE; r++)
        for (int k = 0; k < MOST && RECIPE[r].of[k].on; k++)
            if (strcmp(RECIPE[r].of[k].on, h->on) == 0)
                keep_try(h, r, k);
}
