/* A batch begins: by a recipe, a kept try, another batch, or in the maker's own words. */
#include "cli/batch.h"

#include <ctype.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

#include "api/book_batch_did.h"
#include "api/book_code.h"
#include "api/book_recipe.h"
#include "cli/batch_did.h"
#include "cli/page.h"
#include "cli/read_recipe.h"
#include "text/stops.h"
#include "util/file.h"
#include "util/memory.h"

enum { MOST_BYTES = 1 << 20 };

/* What the words of the command came to. */
struct begun {
    struct book_batch row;
    const char *vessel, *where, *file; /* file: the recipe's, for messages */
    char day[11];
    struct st_batch_made made;
    struct batch_told told;
    bool by_words, on_said;
    const char **again; /* lines of the batch it is begun as that are of a lot of then */
    int n_again;
};

/* ---- where the recipe comes from ---- */

static bool looks_like_file(const char *said)
{
    const size_t n = strlen(said);
    return strcmp(said, "-") == 0 || /* what is JSON is YAML too */
           (n > 5 && (strcasecmp(said + n - 5, ".yaml") == 0 || strcasecmp(said + n - 5, ".json") == 0)) ||
           (n > 4 && strcasecmp(said + n - 4, ".yml") == 0);
}

static int from_file(struct batch *b, const char *name, struct begun *k)
{
    struct st_buf text = { 0 };
    const int error = st_file_read(name, MOST_BYTES, &text);
    if (!error) {
        k->row.text = st_arena_strdup(&b->arena, st_buf_text(&text));
        k->file = strcmp(name, "-") == 0 ? "standard input" : name;
    }
    st_buf_done(&text);
    return error ? cli_cannot_read(name, error) : ST_EXIT_DONE;
}

/* The try that "3", "less sweet one" or "less sweet one/2" names; NULL: the last of the main line. */
static enum book_status try_of(struct batch *b, const struct book_recipe *r, const char *said, struct book_try *out)
{
    struct book_try *all;
    int n, found = -1;
    const struct book_wanted of = { .column = "recipe_id", .integer = r->id, .order = "number" };
    const enum book_status s = book_list(b->book, BOOK_TRY, &of, &b->arena, &all, &n);
    if (s != BOOK_OK)
        return s;
    const char *slash = said ? strrchr(said, '/') : NULL, *tail = slash ? slash + 1 : said;
    const bool digits = tail && *tail && strspn(tail, "0123456789") == strlen(tail);
    const long number = digits ? strtol(tail, NULL, 10) : 0;
    const size_t side = !said ? 0 : digits ? (slash ? (size_t)(slash - said) : 0) : strlen(said);
    for (int i = 0; i < n; i++)
        if (strlen(all[i].side) == side && strncasecmp(all[i].side, said ? said : "", side) == 0 &&
            (!digits || all[i].number == number))
            found = i;
    if (found < 0)
        return BOOK_NONE;
    *out = all[found];
    return BOOK_OK;
}

/* whole: the name is all of it, else it may be the beginning of the one recipe that begins so. */
static enum book_status recipe_named(struct batch *b, const char *said, size_t size, bool whole,
                                     struct book_recipe *out)
{
    struct book_recipe *all;
    int n;
    const enum book_status s = book_list(b->book, BOOK_RECIPE, NULL, &b->arena, &all, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        if (strlen(all[i].name) == size && strncasecmp(all[i].name, said, size) == 0) {
            *out = all[i];
            return BOOK_OK;
        }
    if (s == BOOK_OK && !whole && st_recipe_begun(all, n, said, out) == size)
        return BOOK_OK;
    return s == BOOK_OK ? BOOK_NONE : s;
}

static int not_kept(const char *said)
{
    char what[160];
    (void)snprintf(what, sizeof what, "\"%.120s\"", said);
    cli_error(what, "no recipe of that name is in the book, and no file",
              "\"stillroom recipe\" shows those that are kept; a file ends in .yaml");
    return ST_EXIT_INPUT;
}

/* NAME, NAME/TRY: the longest name that is kept rules, since a name may hold a stroke. */
static int from_book(struct batch *b, const char *said, struct begun *k)
{
    struct book_recipe r;
    struct book_try t;
    enum book_status s = recipe_named(b, said, strlen(said), true, &r);
    const char *which = NULL;
    for (const char *p = said; s == BOOK_NONE && (p = strchr(p, '/')) != NULL; p++) {
        s = recipe_named(b, said, (size_t)(p - said), true, &r);
        which = p + 1;
    }
    if (s == BOOK_NONE) {
        const size_t size = strcspn(said, "/");
        s = recipe_named(b, said, size, false, &r);
        which = said[size] ? said + size + 1 : NULL;
    }
    if (s == BOOK_NONE)
        return not_kept(said);
    if (s == BOOK_OK)
        s = try_of(b, &r, which, &t);
    if (s == BOOK_NONE) {
        cli_error(said, "that recipe has no such try", "\"stillroom recipe\" shows the tries of each");
        return ST_EXIT_INPUT;
    }
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    k->row.text = t.text;
    k->row.try_id = t.id;
    k->row.name = r.name;
    return ST_EXIT_DONE;
}

static int from_batch(struct batch *b, const char *said, struct begun *k)
{
    struct book_batch from;
    struct st_problem p = { .what = "" };
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    struct st_batch_ask again = b->ask;
    again.whole_drink = true; /* what was bottled in between is not planned again */
    enum book_status s = st_batch_find(&b->ask, said, &from, &p);
    int code = ST_EXIT_DONE;
    if (s == BOOK_OK)
        s = st_batch_made(&again, &from, true, false, m);
    if (s != BOOK_OK)
        code = batch_fail(b, s, &p);
    else if (!m->whole)
        code = batch_wrong(&m->problem);
    else {
        k->row.text = st_arena_strdup(&b->arena, st_buf_text(&m->text));
        k->row.from_batch = from.id;
        k->row.try_id = from.try_id;
        k->row.name = from.name;
    }
    st_batch_made_done(m);
    free(m);
    return code;
}

/* ---- the command line ---- */

static const char *const KNOWN[] = { "--on",   "--code", "--name",   "--vessel", "--where",
                                     "--from", "--did",  "--answer", "--words",  NULL };

/* "--did -", and --did with nothing behind it: standard input. */
static void take_bare_did(struct cli *c, const char **did)
{
    for (int i = 0; i < c->argc && !*did; i++) {
        const char *next = i + 1 < c->argc ? c->argv[i + 1] : "--";
        const bool dash = strcmp(next, "-") == 0;
        if (strcmp(c->argv[i], "--did") != 0 || (!dash && strncmp(next, "--", 2) != 0))
            continue;
        *did = "-";
        for (int j = i; j + 1 + dash < c->argc; j++)
            c->argv[j] = c->argv[j + 1 + dash];
        c->argc -= 1 + dash;
    }
    if (*did && isatty(STDIN_FILENO))
        fputs(
            "Write what you did, with the day before it where you know it (\"Oct 4: put 600 g damsons ...\"); an empty "
            "line and Ctrl-D end it.\n",
            stderr);
}

static int take_options(struct batch *b, struct begun *k, const char **from, const char **did)
{
    bool bad = false;
    book_row_init(BOOK_BATCH, &k->row);
    k->row.name = "";
    for (int i = 0; i < b->c->argc; i++)
        k->on_said = k->on_said || strcmp(b->c->argv[i], "--on") == 0 || strncmp(b->c->argv[i], "--on=", 5) == 0;
    if (!cli_take_day(b->c, "--on", &b->now, false, k->day))
        return ST_EXIT_INPUT;
    k->row.code = cli_option(b->c, "--code", &bad);
    struct st_problem p = { .what = "" };
    if (k->row.code && !(k->row.code = st_book_code(&b->arena, k->row.code, &p)))
        return batch_wrong(&p);
    const char *name = cli_option(b->c, "--name", &bad);
    if (name)
        k->row.name = name;
    k->vessel = cli_option(b->c, "--vessel", &bad);
    k->where = cli_option(b->c, "--where", &bad);
    const char *words = cli_option(b->c, "--words", &bad);
    if (words)
        k->row.note = words;
    *from = cli_option(b->c, "--from", &bad);
    take_bare_did(b->c, did);
    if (!*did)
        *did = cli_option(b->c, "--did", &bad);
    k->row.begun_on = k->day;
    return bad ? ST_EXIT_INPUT : ST_EXIT_DONE;
}

static int find_recipe(struct batch *b, struct begun *k)
{
    const char *from = NULL, *did = NULL, *name;
    int code = take_options(b, k, &from, &did);
    if (code != ST_EXIT_DONE)
        return code;
    name = k->row.name;
    const char *answers = batch_did_answers(b);
    if (!answers || !cli_no_more_options(b->c, KNOWN))
        return ST_EXIT_INPUT;
    const char *said =
        from || did ? NULL : batch_word(b, "no recipe is named", "begin examples/damson_fresh_fruit.yaml");
    if ((!said && !from && !did) || !batch_no_more(b, KNOWN))
        return ST_EXIT_INPUT;
    if (from && did) {
        cli_error("batch begin", "--from and --did cannot both be meant", "leave one of them out");
        return ST_EXIT_INPUT;
    }
    k->by_words = did != NULL;
    code = did                     ? batch_did_read(b, did, answers, k->on_said ? k->day : NULL, &k->row, &k->told)
           : from                  ? from_batch(b, from, k)
           : looks_like_file(said) ? from_file(b, said, k)
                                   : from_book(b, said, k);
    if (*name)
        k->row.name = name;
    if (!k->on_said && *k->told.begun_on)
        memcpy(k->day, k->told.begun_on, sizeof k->day);
    return code;
}

/* ---- into the book ---- */

/* --units says which cup is meant where the recipe does not: that goes into its text, or nobody could read it without. */
static void say_measures(struct batch *b, struct begun *k)
{
    static const char *const NAME[] = {
        [ST_MEASURES_US] = "us", [ST_MEASURES_METRIC] = "metric", [ST_MEASURES_IMPERIAL] = "imperial"
    };
    struct st_batch_ask silent = b->ask;
    silent.measures = ST_MEASURES_NONE;
    if (b->ask.measures == ST_MEASURES_NONE)
        return;
    const char *text =
        batch_text(b, "%s%smeasures: %s\n", k->row.text,
                   *k->row.text && k->row.text[strlen(k->row.text) - 1] != '\n' ? "\n" : "", NAME[b->ask.measures]);
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    (void)st_batch_made_of(&silent, text, false, m);
    if (m->whole) /* not where it names its own: a key is there once */
        k->row.text = text;
    st_batch_made_done(m);
    free(m);
}

static int read_it(struct batch *b, struct begun *k)
{
    const struct st_recipe *r = &k->made.file.recipe;
    if (k->by_words && !*k->row.text) {
        if (!*k->row.name)
            k->row.name = "told in own words";
        return ST_EXIT_DONE;
    }
    say_measures(b, k);
    const bool told = st_batch_made_of(&b->ask, k->row.text, true, &k->made);
    struct st_problem waits = { .what = "" };
    if (k->by_words && told && st_batch_did_waits(&b->ask, &k->row, &waits))
        st_batch_made_waits(&k->made, &waits);
    if (!k->made.whole) {
        for (int i = 0; i < k->made.file.n_problem; i++)
            cli_problem(k->file ? k->file : "its recipe", &k->made.file.problem[i]);
        return ST_EXIT_INPUT;
    }
    const struct st_ingredient *stop = st_recipe_stop(r);
    struct st_problem p = { .what = "" };
    if (stop && st_stop_problem(stop, &p))
        return batch_wrong(&p);
    if (!told && !k->by_words) {
        cli_plan_problems(r, &k->made.problem);
        return ST_EXIT_INPUT;
    }
    if (!*k->row.name)
        k->row.name = st_arena_printf(&b->arena, "%.190s", r->title && *r->title ? r->title : "a batch without a name");
    return ST_EXIT_DONE;
}

/* One jar of which only is known that it stands. */
static enum book_status one_jar(struct batch *b, const struct begun *k)
{
    struct book_jar jar;
    enum book_status s = BOOK_OK;
    book_row_init(BOOK_JAR, &jar);
    jar.batch_id = k->row.id;
    jar.begun_on = k->day;
    jar.doing = "standing";
    jar.place = k->where ? k->where : "";
    if (k->vessel)
        s = st_batch_vessel(&b->ask, k->vessel, &jar.vessel_id);
    return s == BOOK_OK ? book_put(b->book, BOOK_JAR, &jar, NULL) : s;
}

static int keep(struct batch *b, struct begun *k)
{
    char code[40];
    int n = 0;
    enum book_status s = BOOK_OK;
    s = batch_deed(b, "began");
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    if (!k->row.code) { /* inside the deed, so that two programs cannot give the same */
        s = st_batch_next_code(&b->ask, code);
        k->row.code = st_arena_strdup(&b->arena, code);
    }
    book_reword(b->book, batch_text(b, "%s: began %.200s", k->row.code, k->row.name));
    if (s == BOOK_OK)
        s = book_put(b->book, BOOK_BATCH, &k->row, &k->row.id);
    if (s == BOOK_OK && k->made.whole)
        s = batch_begin_jars(b, &k->row, &k->made.file.recipe, k->day, k->vessel, k->where, &n);
    if (s == BOOK_OK && n == 0)
        s = one_jar(b, k);
    if (s == BOOK_OK && k->by_words)
        s = batch_told_keep(b, &k->row, k->made.whole ? &k->made.file.recipe : NULL, &k->told);
    if (s == BOOK_OK && k->made.told)
        s = st_batch_keep_foreseen(&b->ask, k->row.id, &k->made.out, BATCH_PROGRAM);
    return batch_end(b, s, NULL);
}

/* ---- the answer ---- */

static int tell_json(struct batch *b, const struct begun *k, const struct st_batch_jar *j, int n)
{
    json_t *jars = json_array();
    for (int i = 0; i < n; i++) {
        json_t *jar = batch_jar_json(b, &j[i]);
        json_object_set_new(jar, "remark", st_doc_text(batch_vessel_remark(b, &j[i], &k->made)));
        json_array_append_new(jars, jar);
    }
    json_t *o = json_pack("{s:o, s:o, s:o, s:o}", "batch", st_doc_text(k->row.code), "name", st_doc_text(k->row.name),
                          "begun_on", st_doc_text(k->day), "jars", jars);
    json_object_set_new(o, "foretold", k->made.told ? batch_foretold_json(&k->made.out) : json_null());
    json_object_set_new(o, "cautions",
                        k->made.whole
                            ? cli_cautions_json(b->c, &k->made.file.recipe, k->made.told ? &k->made.out : NULL)
                            : json_array());
    json_t *again = json_array();
    for (int i = 0; i < k->n_again; i++)
        json_array_append_new(again, st_doc_text(k->again[i]));
    json_object_set_new(o, "remarks", again);
    if (*k->row.said) {
        json_object_set_new(o, "open", batch_did_json(b, &k->row));
        json_object_set_new(o, "read", batch_told_json(b, &k->told, k->row.code));
        json_object_set_new(o, "amiss", batch_told_amiss_json(b, &k->told));
        json_object_set_new(o, "left_out", json_integer(k->told.left_out));
    }
    return cli_json_print(o);
}

static const char *first_line(struct batch *b, const struct st_recipe *r)
{
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++)
            if (r->step[s].line[i].what)
                return batch_text(b, "%s %d", r->step[s].id, i + 1);
    return "1 1";
}

/* "Put in a jar in October", or "ready in October": which it is, only the maker knows. */
static void tell_no_day(const char *said)
{
    size_t n = 0;
    const char *month = batch_told_month(said, &n);
    if (month)
        cli_say(
            2, 4,
            "Was it begun %.*s? On which day is not told, so it stands as begun today: begin it with --on and the day, "
            "if only about, where that is not so.",
            (int)n, month);
    else
        cli_say(2, 4, "No day is told: it stands as begun today. Begin it with --on and the day where that is not so.");
}

static void tell_page(struct batch *b, const struct begun *k, const struct st_batch_jar *j, int n)
{
    if (k->by_words) {
        batch_told_print(b, &k->told);
        batch_told_amiss(b, &k->told);
        batch_did_print(b, &k->row);
        printf("\n");
    }
    cli_say(0, 0, "%s, %s, is begun: %s%s.", k->row.code, k->row.name, k->told.about && !k->on_said ? "about " : "",
            batch_day(b, k->day, !(k->told.about && !k->on_said)));
    if (k->by_words && !k->on_said && !*k->told.begun_on)
        tell_no_day(k->row.said);
    if (k->told.late && !k->on_said)
        cli_wrap(2, 4, "When it was begun is not told: it stands as begun on the first day that is.");
    else if (k->told.about && !k->on_said)
        cli_wrap(2, 4, "The words tell the day only about: begin it with --on and the day where you know it.");
    for (int i = 0; i < n; i++)
        cli_say(2, 4, "%s: %s%s%s%s", *j[i].row.step ? j[i].row.step : "a jar", batch_jar_words(b, &j[i]),
                j[i].row.due_on ? "; on " : "", j[i].row.due_on ? batch_day(b, j[i].row.due_on, true) : "",
                j[i].row.due_on ? batch_text(b, ", %s: %s", batch_away(b, j[i].row.due_on), batch_then(j[i].row.doing))
                                : "");
    for (int i = 0; i < n; i++)
        if (*batch_vessel_remark(b, &j[i], &k->made))
            cli_wrap(4, 4, batch_vessel_remark(b, &j[i], &k->made));
    for (int i = 0; i < k->n_again; i++)
        cli_wrap(2, 4, k->again[i]);
    if (k->by_words)
        batch_told_bottled(b, &k->told, k->row.code);
    if (k->made.told) {
        cli_heading("What it should give");
        if (k->by_words)
            batch_told_foretold(b, &k->told, &k->made.out);
        else
            batch_foretold_lines(b, &k->made.out);
    } else if (k->made.whole)
        cli_say(0, 0, "Nothing is foretold yet: %s: %s.", k->made.problem.what, k->made.problem.why);
    if (!k->made.whole)
        return;
    cli_cautions_short(b->c, &k->made.file.recipe, k->made.told ? &k->made.out : NULL, k->row.code);
    printf("\n");
    cli_say(0, 2, "What really went in: stillroom batch weigh %s %s \"...\"", k->row.code,
            first_line(b, &k->made.file.recipe));
}

static int tell(struct batch *b, struct begun *k)
{
    struct st_batch_jar *j;
    int n;
    enum book_status s = st_batch_jars(&b->ask, k->row.id, false, &j, &n);
    if (s == BOOK_OK && k->made.whole)
        s = batch_again_words(b, &k->row, &k->made.file.recipe, &k->again, &k->n_again);
    if (s != BOOK_OK)
        return batch_fail(b, s, NULL);
    if (b->c->json)
        return tell_json(b, k, j, n);
    tell_page(b, k, j, n);
    return ST_EXIT_DONE;
}

int batch_begin(struct batch *b)
{
    struct begun *k = x_calloc(1, sizeof *k); /* large */
    int code = find_recipe(b, k);
    if (code == ST_EXIT_DONE)
        code = read_it(b, k);
    if (code == ST_EXIT_DONE)
        code = keep(b, k);
    if (code == ST_EXIT_DONE)
        code = tell(b, k);
    st_batch_made_done(&k->made);
    free(k);
    return code;
}
