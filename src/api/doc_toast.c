#include "doc_toast.h"

#include <stdio.h>

#include "text/toast_words.h"

enum { TOASTS = 16, WORDS = 600 };

static json_t *text_or_null(const char *text)
{
    return text && *text ? st_doc_text(text) : json_null();
}

static json_t *range(bool known, double value, double low, double high)
{
    return known ? json_pack("{s:f, s:f, s:f}", "value", value, "low", low, "high", high) : json_null();
}

static json_t *celsius(const struct st_interval *K)
{
    struct st_interval C = *K;
    C.value -= 273.15;
    C.low -= 273.15;
    C.high -= 273.15;
    return st_doc_interval(&C);
}

static json_t *cyanide(const struct st_toast_piece *p)
{
    char words[WORDS];
    if (!p->cyanogenic)
        return json_null();
    const size_t n = (size_t)snprintf(words, sizeof words, "%s ", st_toast_flavour_only);
    st_toast_left_words(words + n, sizeof words - n, p);
    json_t *left = json_null();
    if (p->amygdalin && p->why == ST_TOAST_RECKONED)
        left = json_pack("{s:f, s:f, s:s}", "low", p->left_low, "high", p->left_high, "source", "[nalcaci_2025]");
    return json_pack("{s:o, s:s, s:b, s:o}", "words", st_doc_text(words), "enzyme", "no number for dry heat was found",
                     "lowers_a_bound", 0, "amygdalin_left", left);
}

static json_t *piece(const struct st_toast_told *t, const struct st_toast_piece *p)
{
    char words[WORDS];
    const bool known = p->why == ST_TOAST_RECKONED;
    st_toast_piece_words(words, sizeof words, t, p);
    json_t *o = json_pack("{s:o, s:o, s:o, s:b, s:o}", "ingredient", p->what ? st_doc_text(p->name) : json_null(),
                          "cut", p->what ? json_string(st_cut_name(p->cut)) : json_null(), "half_size_mm",
                          p->half_m.value > 0.0 ? json_real(1e3 * p->half_m.value) : json_null(), "known", known,
                          "words", st_doc_text(words));
    json_t *minutes = known ? json_array() : json_null(), *path = known ? json_array() : json_null();
    for (int i = 0; known && i < ST_TOAST_TIMES; i++) {
        json_array_append_new(minutes, json_real(p->t_s[i] / 60.0));
        json_array_append_new(path, celsius(&p->path_K[i]));
    }
    json_object_set_new(o, "inside_C", known ? celsius(&p->core_K) : json_null());
    json_object_set_new(o, "flavour_index", known ? st_doc_interval(&p->index) : json_null());
    json_object_set_new(o, "minutes", minutes);
    json_object_set_new(o, "inside_over_time_C", path);
    json_object_set_new(o, "cyanide", cyanide(p));
    return o;
}

static json_t *toast(const struct st_recipe *r, const struct st_toast_told *t)
{
    const struct st_range *T = &t->temperature_K;
    const bool timed = t->time.dim == ST_DIM_TIME && t->time.value > 0.0;
    char words[WORDS];
    json_t *pieces = json_array();
    for (int i = 0; i < t->n_piece; i++)
        json_array_append_new(pieces, piece(t, &t->piece[i]));
    st_toast_basis_words(words, sizeof words, t);
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:i, s:o}", "step", st_doc_text(r->step[t->step].id), "in",
                     text_or_null(st_toast_way_name(t->way)), "at_C",
                     range(T->known, T->value - 273.15, T->low - 273.15, T->high - 273.15), "minutes",
                     range(timed, t->time.value / 60.0, t->time.low / 60.0, t->time.high / 60.0), "rests_on",
                     text_or_null(words), "left_out", t->more, "pieces", pieces);
}

json_t *st_doc_toasting(const struct st_jar_books *books, const struct st_recipe *r, int step, uint64_t seed)
{
    int at[TOASTS];
    json_t *all = json_array();
    const int n = st_toasts_for(r, step, at, TOASTS);
    for (int i = 0; i < n; i++) {
        struct st_toast_told t;
        if (st_toast_step(books, r, at[i], st_toast_way_of(&r->step[at[i]]), seed, &t) >= 0)
            json_array_append_new(all, toast(r, &t));
    }
    return all;
}
