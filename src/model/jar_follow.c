#include <math.h>
#include <string.h>

#include "jar_inside.h"

/* What is followed: of each piece its sugar, its flavours, an aroma where none is named, and what comes late. */

/* Sugar is followed where it is more than this, g/g, and more than this share of what all pieces bring. */
static const double SWEET = 0.04, SWEETENS = 0.05;

static bool lies_in_the_last_jar(const struct st_jar *j, int p)
{
    bool lies = false;
    for (int s = st_jar_filled_at(j, j->n_stage - 1); s < j->n_stage; s++)
        lies = lies || j->piece[p].lies[s] > 0.0;
    return lies;
}

static void follow(struct st_jar_work *w, struct st_jar_followed f)
{
    f.lies = lies_in_the_last_jar(w->j, f.piece);
    if (w->n_followed < ST_JAR_CURVES)
        w->followed[w->n_followed++] = f;
}

static bool is_sweet(const struct st_jar *j, int p)
{
    double sum = 0.0, all = 0.0;
    const double sugar = st_mixture_sugars(j->piece[p].goods.g);
    for (int c = 0; c < ST_NCOMP; c++)
        sum += j->piece[p].goods.g[c];
    for (int i = 0; i < j->n_piece; i++)
        all += st_mixture_sugars(j->piece[i].goods.g);
    return sugar > SWEET * sum && sugar > SWEETENS * all;
}

static void follow_markers(struct st_jar_work *w, int p, bool has[ST_NOF])
{
    const struct st_jar_piece *piece = &w->j->piece[p];
    for (int m = 0; m < piece->n_marker; m++) {
        const struct st_compound *c = piece->marker[m].what;
        const enum st_of of = st_of_family(c->family);
        if (!c->flavour || w->habit[p][of].none)
            continue;
        has[of] = true;
        follow(w, (struct st_jar_followed){ .piece = p,
                                            .marker = m,
                                            .what = c,
                                            .of = of,
                                            .name = c->name,
                                            .family = c->family,
                                            .late = w->habit[p][of].late[0] != '\0',
                                            .fades = of == ST_OF_PIGMENT, /* anthocyanins: the red of fruit */
                                            .known = w->oil[p][m].mg_g.known });
    }
}

static void follow_late(struct st_jar_work *w, int p, const bool has[ST_NOF])
{
    const struct st_jar_piece *piece = &w->j->piece[p];
    const struct st_habit_row *row[ST_NOF];
    const int n =
        st_habit_late(w->j->habits, piece->what ? piece->what->slug : NULL, piece->kind, piece->cut, row, ST_NOF);
    for (int i = 0; i < n; i++)
        if (!has[row[i]->of])
            follow(w, (struct st_jar_followed){ .piece = p,
                                                .marker = -1,
                                                .of = row[i]->of,
                                                .name = row[i]->late,
                                                .late = true,
                                                .family = row[i]->of == ST_OF_BITTER ? "bitter" : "astringent" });
}

void st_jar_follow(struct st_jar_work *w)
{
    w->n_followed = 0;
    for (int p = 0; p < w->j->n_piece; p++) {
        bool has[ST_NOF] = { false };
        if (is_sweet(w->j, p))
            follow(w, (struct st_jar_followed){ .piece = p,
                                                .marker = -1,
                                                .of = ST_OF_LIQUID,
                                                .name = "sugar",
                                                .family = "sugar",
                                                .known = true,
                                                .juice = true });
        follow_markers(w, p, has);
        if (!has[ST_OF_AROMA])
            follow(w, (struct st_jar_followed){
                          .piece = p, .marker = -1, .of = ST_OF_AROMA, .name = "aroma", .family = "aroma" });
        follow_late(w, p, has);
    }
}
