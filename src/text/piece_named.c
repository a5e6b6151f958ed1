#include "piece_named.h"

#include <stdio.h>
#include <string.h>

#include "name_form.h"

/* WHAT is: before "said". */
static void refuse(struct st_problem *p, const char *before, const char *said, const char *why, const char *try_)
{
    *p = (struct st_problem){ .is_question = 0 };
    snprintf(p->what, sizeof p->what, "%s \"%.140s\"", before, said);
    snprintf(p->why, sizeof p->why, "%s", why);
    snprintf(p->try_, sizeof p->try_, "%s", try_);
}

bool st_name_list_has(const char *names, const char *word)
{
    struct st_name_words w;
    for (const char *at = names; at && *at;) {
        const size_t n = strcspn(at, "|");
        st_name_split(at, n, &w);
        for (int i = 0; i < w.n; i++)
            if (strcmp(w.word[i], word) == 0)
                return true;
        at += n + (at[n] == '|');
    }
    return false;
}

static bool answers_to(const struct st_jar_piece *p, const struct st_name_words *w)
{
    for (int i = 0; i < w->n; i++)
        if (!st_name_list_has(p->name, w->word[i]) && !(p->what && st_name_list_has(p->what->names, w->word[i])))
            return false;
    return w->n > 0;
}

static void list_pieces(const struct st_jar *jar, char *buf, size_t size)
{
    buf[0] = '\0';
    for (int i = 0; i < jar->n_piece; i++) {
        const size_t n = strlen(buf);
        snprintf(buf + n, size - n, "%s%s", i ? ", " : "", jar->piece[i].name);
    }
}

/* One that is named in full rules over others that have the word too: "orange peel" over "bitter orange peel". */
static bool is_full_name(const struct st_jar_piece *p, const struct st_name_words *w)
{
    char a[ST_NAME_BYTES * 2], b[ST_NAME_BYTES * 2];
    struct st_name_words own;
    st_name_split(p->name, strlen(p->name), &own);
    st_name_join(&own, 0, a);
    st_name_join(w, 0, b);
    return strcmp(a, b) == 0;
}

int st_jar_piece_named(const struct st_jar *jar, const char *name, size_t size, struct st_problem *problem)
{
    struct st_name_words w;
    char said[80], there[200], try_[240];
    int found = -1, n = 0, full = -1;

    st_name_split(name, size, &w);
    for (int i = 0; i < jar->n_piece; i++)
        if (answers_to(&jar->piece[i], &w)) {
            found = i;
            n++;
            if (is_full_name(&jar->piece[i], &w))
                full = i;
        }
    if (n == 1 || full >= 0)
        return full >= 0 ? full : found;
    snprintf(said, sizeof said, "%.*s", (int)(size < 60 ? size : 60), name);
    list_pieces(jar, there, sizeof there);
    snprintf(try_, sizeof try_, "name one of %s", there);
    if (n > 1) {
        refuse(problem, "several things are meant by", said, "several things in the jar answer to that", try_);
        problem->is_question = 1;
    } else
        refuse(problem, "this jar has no", said, "nothing that lies in it answers to that", try_);
    return -1;
}
