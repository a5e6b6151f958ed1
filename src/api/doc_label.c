#include "doc_label.h"

#include <string.h>

/* Counted from 1, as those of cautions; left out where it is of the whole bottle. */
static void place(json_t *o, int step, int line)
{
    if (step >= 0)
        json_object_set_new(o, "step", json_integer(step + 1));
    if (line >= 0)
        json_object_set_new(o, "line", json_integer(line + 1));
}

/* A key in its brackets, words as they are. */
static json_t *source(const char *s)
{
    char key[120];
    if (!s || !*s)
        return json_null();
    snprintf(key, sizeof key, *s == '[' || strchr(s, ' ') ? "%s" : "[%s]", s);
    return st_doc_text(key);
}

static const char *figure_words(char mark)
{
    return mark == 'r'   ? "read"
           : mark == 's' ? "read in a secondary source"
           : mark == 'c' ? "computed"
                         : "unverified figure";
}

static const char *truth_words(enum st_truth t)
{
    return t == ST_YES ? "yes" : t == ST_NO ? "no" : "undecided";
}

json_t *st_doc_label(const struct st_label_facts *facts)
{
    json_t *all = json_array();
    for (int i = 0; i < facts->n; i++) {
        const struct st_label_fact *f = &facts->item[i];
        json_t *o = json_pack("{s:o, s:s, s:s, s:o, s:o, s:o, s:o, s:s, s:b}", "code", st_doc_text(f->code), "heading",
                              st_label_heading(f->code), "truth", truth_words(f->truth), "text", st_doc_text(f->what),
                              "because", st_doc_text(f->because), "rule", st_doc_text(f->rule), "source",
                              source(f->source), "figure", figure_words(f->mark), "far", f->far);
        place(o, f->step, f->line);
        json_array_append_new(all, o);
    }
    return json_pack("{s:o, s:b}", "facts", all, "all_told", !facts->cut);
}

json_t *st_doc_guest(const char *asked, const struct st_guest_answer answer[], int n, bool cut)
{
    json_t *all = json_array();
    for (int i = 0; i < n; i++) {
        const struct st_guest_answer *a = &answer[i];
        json_t *near = json_array();
        for (int k = 0; k < 3 && a->near[k]; k++)
            json_array_append_new(near, st_doc_text(a->near[k]));
        json_t *o = json_pack("{s:o, s:s, s:o, s:o, s:o, s:o}", "asked", st_doc_text(a->asked), "is",
                              st_guest_is_words(a->is), "text", st_doc_text(a->what), "because",
                              st_doc_text(a->because), "source", source(a->source), "near", near);
        place(o, a->step, a->line);
        json_array_append_new(all, o);
    }
    return json_pack("{s:o, s:o, s:b}", "asked", st_doc_text(asked), "answers", all, "all_answered", !cut);
}
