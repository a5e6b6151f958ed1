#include <ctype.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "api/book_recipe.h"
#include "api/doc_take.h"
#include "text/recipe_kind.h"
#include "text/stops.h"
#include "text/take.h"
#include "text/take_await.h"
#include "text/take_caution.h"
#include "util/version.h"

/* Keeping a try. */

/* What is to be kept: the recipe file, and the words it was read from. */
struct parts {
    const char *text, *said, *title;
    int left_out; /* things in the words that are in no figure */
    bool awaits;  /* a line that may bring water or sugar is not read */
    bool foreign; /* their language is not read: what was understood of them is no recipe */
};

__attribute__((format(printf, 2, 3))) static void remark(struct st_keep_told *t, const char *format, ...)
{
    va_list args;
    if (t->n_remark == ST_KEEP_REMARKS)
        return;
    va_start(args, format);
    (void)vsnprintf(t->remark[t->n_remark++], sizeof t->remark[0], format, args);
    va_end(args);
}

static bool refuse_at(struct st_desk *d, const char *file, const struct st_problem *first,
                      const struct st_problem *more, int n_more)
{
    d->status = BOOK_OK;
    d->problem = *first;
    d->file = first->at.line > 0 || n_more > 0 ? file : NULL;
    d->n_more = n_more;
    d->more = NULL;
    if (n_more > 0) {
        struct st_problem *kept = st_arena_alloc(d->arena, (size_t)n_more * sizeof *kept);
        memcpy(kept, more, (size_t)n_more * sizeof *kept);
        d->more = kept;
    }
    return false;
}

/* ---- free words ---- */

/* The lines that are in no figure, by their number; what the remark has no room for is counted. */
static void remark_left_out(struct st_keep_told *t, const struct st_take *take, struct parts *p)
{
    char words[330] = "";
    int named = 0;
    p->left_out = st_take_left_out(take);
    for (int i = 0; i < take->n_row; i++) {
        const struct st_take_read_as *r = &take->row[i];
        const size_t n = strlen(words);
        if (r->item->sure != ST_UNREAD || r->item->role == ST_TAKE_NOTHING || n > 220)
            continue;
        (void)snprintf(words + n, sizeof words - n, "%sline %d, \"%.60s\"", named++ ? "; " : "", r->line, r->words);
    }
    if (named < p->left_out)
        (void)snprintf(words + strlen(words), sizeof words - strlen(words), "; and %d more", p->left_out - named);
    if (named > 0)
        remark(t, "Not read, and in no figure: %s.", words);
    p->foreign = take->foreign != NULL;
    p->awaits = st_take_awaited(take) != NULL;
    if (take->foreign)
        remark(t, "%s", take->foreign);
}

static bool of_words(struct st_desk *d, const struct st_how *how, const struct st_keep *keep, struct parts *p,
                     struct st_keep_told *t)
{
    struct st_take *take = st_arena_alloc(d->arena, sizeof *take);
    const struct st_take_given given = { .measures = how->measures };
    struct st_problem problem = { .at = { 0, 0 } };
    struct st_catalogue *c = how->catalogue();
    int open = 0;
    bool good = false;

    if (!c)
        return st_desk_good(d, BOOK_E_SYSTEM);
    const int got = st_take_text(keep->text, keep->size, c, &given, take, &problem);
    const struct st_ingredient *stop = got >= 0 ? st_take_stop(take) : NULL;
    for (int i = 0; got >= 0 && i < take->n_question; i++)
        open += !take->question[i].answered;
    if (got < 0 || (stop && st_stop_problem(stop, &problem)))
        (void)refuse_at(d, keep->file, &problem, NULL, 0);
    else if (!*take->yaml)
        (void)st_desk_refuse(d, keep->file, "no recipe could be made of these words yet",
                             "read them first with \"stillroom take\", and answer what it asks");
    else {
        good = true;
        p->text = st_arena_strndup(d->arena, take->yaml, take->yaml_size);
        p->said = st_arena_strndup(d->arena, keep->text, keep->size);
        p->title = st_arena_strdup(d->arena, take->title ? take->title : "");
        remark_left_out(t, take, p);
        if (open + take->n_more > 0)
            remark(t,
                   "%d question%s open in it%s. \"stillroom take\" puts them; --answer there, and keep the file it "
                   "writes.",
                   open + take->n_more, open + take->n_more == 1 ? " is" : "s are",
                   p->left_out > 0 ? "" : ", and a range stands instead");
    }
    st_take_done(take);
    st_catalogue_free(c);
    return good;
}

/* ---- whose try it is ---- */

static bool check_name(struct st_desk *d, const char *what, const char *name)
{
    if (name[strspn(name, " \t\r\n")] == '\0')
        return st_desk_refuse(d, what, "there is no name", "give it one: --name \"Damson liqueur\"");
    if (strchr(name, '/') || strpbrk(name, "\r\n"))
        return st_desk_refuse(d, what, "a slash parts the name of a recipe from its tries", "leave the slash out");
    if (strlen(name) > 120)
        return st_desk_refuse(d, what, "it is longer than 120 bytes", "a few words do");
    return true;
}

static bool check_side(struct st_desk *d, const char *side)
{
    if (side && strspn(side, "0123456789 ") == strlen(side))
        return st_desk_refuse(d, "--side", "a figure alone is the number of a try",
                              "write for example --side \"less sweet one\"");
    return !side || check_name(d, "--side", side);
}

/* A title of a page may have what a name may not. */
static const char *name_of(struct st_desk *d, const struct st_keep *keep, const struct parts *p)
{
    if (keep->name)
        return keep->name;
    char *name = st_arena_strndup(d->arena, p->title, 120);
    size_t n = strlen(name);
    while (n > 0 && ((unsigned char)name[n - 1] & 0xc0) == 0x80 && strlen(p->title) > 120)
        n--; /* not inside a letter */
    name[n] = '\0';
    for (char *s = name; *s; s++)
        if (*s == '/' || *s == '\n' || *s == '\r')
            *s = '-';
    return name;
}

/* The recipe of this name, letter case aside; id BOOK_NO: a new one. */
static bool find_recipe(struct st_desk *d, const char *name, struct book_recipe *out)
{
    struct book_recipe *all;
    int n;

    if (!st_desk_good(d, book_list(d->book, BOOK_RECIPE, NULL, d->arena, &all, &n)))
        return false;
    for (int i = 0; i < n; i++)
        if (strcasecmp(all[i].name, name) == 0) {
            *out = all[i];
            return true;
        }
    book_row_init(BOOK_RECIPE, out);
    out->id = BOOK_NO;
    out->name = name;
    out->since = d->day;
    return true;
}

/* "Grandma", try 1, where the book has "Grandma's walnut thing" alone: a new recipe has no tries; which name was meant is
 * told. */
static bool refuse_from_new(struct st_desk *d, const struct book_recipe *r, const char *from)
{
    struct book_recipe *all;
    int n, begun = 0;
    char what[300], why[400], try_[500];

    if (!st_desk_good(d, book_list(d->book, BOOK_RECIPE, NULL, d->arena, &all, &n)))
        return false;
    (void)snprintf(what, sizeof what, "--from %.100s", from);
    (void)snprintf(why, sizeof why, "there is no recipe \"%.150s\" yet, and so no try of it", r->name);
    (void)snprintf(try_, sizeof try_, "name the try whole, --from \"NAME/%.60s\", or leave --from out", from);
    for (int i = 0; i < n; i++) {
        const size_t used = strlen(try_);
        if (strncasecmp(all[i].name, r->name, strlen(r->name)) != 0 || used + strlen(all[i].name) + 20 > sizeof try_)
            continue;
        if (begun++ == 0)
            (void)snprintf(try_, sizeof try_, "did you mean --name \"%.150s\"", all[i].name);
        else
            (void)snprintf(try_ + used, sizeof try_ - used, " or \"%.150s\"", all[i].name);
    }
    if (begun)
        (void)snprintf(try_ + strlen(try_), sizeof try_ - strlen(try_), "?");
    return st_desk_refuse(d, what, why, try_);
}

/* The try that --from names: of this recipe by what stands behind its name, or any by its whole name. */
static bool from_try(struct st_desk *d, const struct book_recipe *r, const char *said, struct st_try *out)
{
    char ref[400];

    (void)snprintf(ref, sizeof ref, "%.150s/%.200s", r->name, said);
    if (r->id == BOOK_NO)
        return strchr(said, '/') || strspn(said, "0123456789 ") != strlen(said) ? st_try_named(d, said, out)
                                                                                : refuse_from_new(d, r, said);
    return st_try_named(d, strchr(said, '/') ? said : ref, out) || (d->status == BOOK_OK && st_try_named(d, ref, out));
}

/* Side line, number, and the try it was changed from. */
static bool place(struct st_desk *d, const struct book_recipe *r, const struct st_keep *keep, struct book_try *t,
                  const struct book_try **last)
{
    struct book_try *rows;
    const struct book_try *main_last = NULL;
    int n = 0;
    const struct book_wanted w = { .column = "recipe_id", .integer = r->id };

    *last = NULL;
    if (r->id != BOOK_NO && !st_desk_good(d, book_list(d->book, BOOK_TRY, &w, d->arena, &rows, &n)))
        return false;
    t->side = keep->side ? keep->side : "";
    for (int i = 0; i < n; i++) {
        if (strcasecmp(rows[i].side, t->side) == 0 && (!*last || rows[i].number > (*last)->number))
            *last = &rows[i];
        if (!*rows[i].side && (!main_last || rows[i].number > main_last->number))
            main_last = &rows[i];
    }
    t->number = *last ? (*last)->number + 1 : 1;
    if (*last)
        t->side = (*last)->side;
    t->from_try = *last ? (*last)->id : main_last ? main_last->id : BOOK_NO;
    if (!keep->from)
        return true;
    struct st_try from = { .ref = NULL };
    if (!from_try(d, r, keep->from, &from))
        return false;
    t->from_try = from.row.id;
    return true;
}

/* ---- figures ---- */

/* Where things were left out, none of it in what was read does not make it none. */
static bool is_foreseen(const struct st_interval *x, const struct parts *p)
{
    return x->known && isfinite(x->value) && isfinite(x->low) && isfinite(x->high) &&
           !(p->left_out > 0 && !(x->high > 0.0));
}

static bool put_figures(struct st_desk *d, const struct st_how *how, int64_t id, const struct parts *p,
                        const struct st_foretold *f)
{
    char program[60];
    snprintf(program, sizeof program, "%s, seed %llu, %d draws", ST_VERSION, (unsigned long long)how->seed, how->draws);
    for (int i = 0; i < ST_NFIG; i++) {
        struct book_foreseen row;
        if (!is_foreseen(&f->fig[i], p))
            continue;
        book_row_init(BOOK_FORESEEN, &row);
        row.try_id = id;
        row.key = st_figure_info((enum st_figure)i)->key;
        row.value = f->fig[i].value;
        row.low = f->fig[i].low;
        row.high = f->fig[i].high;
        row.status = st_status_text(f->fig[i].status);
        row.program = program;
        if (!st_desk_good(d, book_put(d->book, BOOK_FORESEEN, &row, NULL)))
            return false;
    }
    return true;
}

static bool write_try(struct st_desk *d, const struct st_how *how, struct book_recipe *r, struct book_try *t,
                      const struct parts *p, const struct st_opened *o)
{
    if (r->id == BOOK_NO && !st_desk_good(d, book_put(d->book, BOOK_RECIPE, r, &r->id)))
        return false;
    t->recipe_id = r->id;
    return st_desk_good(d, book_put(d->book, BOOK_TRY, t, &t->id)) &&
           (!o->foretold || p->foreign || p->awaits || put_figures(d, how, t->id, p, &o->out));
}

static bool same(const struct book_try *last, const struct parts *p)
{
    return last && strcmp(last->text, p->text) == 0 && strcmp(last->said, p->said) == 0;
}

/* With the recipe read: where it goes, and into the book. */
static bool keep_read(struct st_desk *d, const struct st_how *how, const struct st_keep *keep, const struct parts *p,
                      const struct st_opened *o, struct st_keep_told *told)
{
    struct book_recipe r;
    struct book_try t;
    const struct book_try *last;
    const char *name = name_of(d, keep, p);
    char ref[400];

    book_row_init(BOOK_TRY, &t);
    if (!check_name(d, keep->name ? "--name" : keep->file, name) || !check_side(d, keep->side) ||
        !find_recipe(d, name, &r) || !place(d, &r, keep, &t, &last))
        return false;
    told->nothing = same(last, p);
    snprintf(ref, sizeof ref, "%.150s%s%.150s/%lld", r.name, *t.side ? "/" : "", t.side,
             (long long)(told->nothing ? last->number : t.number));
    if (told->nothing)
        return st_try_named(d, ref, &told->now);
    t.on_day = keep->on ? keep->on : d->day;
    t.text = p->text;
    t.said = p->said;
    t.note = keep->note ? keep->note : "";
    snprintf(told->words, sizeof told->words, "kept %.150s%s%.150s, try %lld", r.name, *t.side ? ", " : "", t.side,
             (long long)t.number);
    if (p->foreign || p->awaits)
        remark(told, "It is kept, and no figures were foreseen: what of it was read is not the recipe.");
    else if (!o->foretold)
        remark(told, "It is kept, and no figures were foreseen: %.150s: %.120s; %.100s.", o->why.what, o->why.why,
               o->why.try_);
    if (!st_desk_good(d, book_begin(d->book, d->moment, told->words)))
        return false;
    return st_desk_end(d, write_try(d, how, &r, &t, p, o)) && st_try_named(d, ref, &told->now);
}

bool st_recipe_keep(struct st_desk *d, const struct st_how *how, const struct st_keep *keep, struct st_keep_told *told)
{
    struct parts p = { .text = keep->text, .said = "", .title = "" };
    struct st_opened *o = st_arena_alloc(d->arena, sizeof *o);
    struct st_problem stop = { .at = { 0, 0 } };

    *told = (struct st_keep_told){ .n_remark = 0 };
    d->status = BOOK_OK;
    if (strlen(keep->text) != keep->size)
        return st_desk_refuse(d, keep->file, "there is a zero byte in it", "it is no text; look what file it is");
    if (!st_is_recipe_file(keep->text) && !of_words(d, how, keep, &p, told))
        return false;
    if (!st_opened_text(how, keep->file, p.text, strlen(p.text), true, o))
        return st_desk_good(d, BOOK_E_SYSTEM);
    bool good = o->read || refuse_at(d, keep->file, &o->file.problem[0], o->file.problem + 1, o->file.n_problem - 1);
    if (good && st_stop_problem(st_recipe_stop(&o->file.recipe), &stop))
        good = refuse_at(d, keep->file, &stop, NULL, 0);
    if (good && o->file.recipe.title && *o->file.recipe.title)
        p.title = st_arena_strdup(d->arena, o->file.recipe.title);
    good = good && keep_read(d, how, keep, &p, o, told);
    st_opened_done(o);
    return good;
}

/* By its name, or by the beginning of it. */
static bool find_begun(struct st_desk *d, const char *name, struct book_recipe *out)
{
    struct book_recipe *all, one;
    int n;

    if (!find_recipe(d, name, out))
        return false;
    if (out->id != BOOK_NO)
        return true;
    if (!st_desk_good(d, book_list(d->book, BOOK_RECIPE, NULL, d->arena, &all, &n)))
        return false;
    if (!strchr(name, '/') && st_recipe_begun(all, n, name, &one))
        *out = one;
    return true;
}

bool st_recipe_rename(struct st_desk *d, const char *old, const char *name, char words[400])
{
    struct book_recipe r, other;
    char what[160];

    d->status = BOOK_OK;
    snprintf(what, sizeof what, "\"%.100s\"", old);
    if (!check_name(d, "the new name", name) || !find_begun(d, old, &r) || !find_recipe(d, name, &other))
        return false;
    if (r.id == BOOK_NO)
        return st_desk_refuse(d, what, "the book has no recipe of this name", "\"stillroom recipe\" lists them");
    if (other.id != BOOK_NO && other.id != r.id)
        return st_desk_refuse(d, "the new name", "another recipe has it", "choose another");
    snprintf(words, 400, "renamed %.150s to %.150s", r.name, name);
    r.name = name;
    if (!st_desk_good(d, book_begin(d->book, d->moment, words)))
        return false;
    return st_desk_end(d, st_desk_good(d, book_put(d->book, BOOK_RECIPE, &r, NULL)));
}
