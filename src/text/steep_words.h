#ifndef ST_TEXT_STEEP_WORDS_H
#define ST_TEXT_STEEP_WORDS_H

#include <stddef.h>

#include "model/jar.h"

/* What a jar does over time, in a maker's words.  begun: day of the calendar it was begun on (calendar_day.h), or NULL.
 * Everything goes to buf of size bytes, which always ends in NUL. */

/* A moment: "20 minutes", "6 hours", "day 3", with begun "Thursday 3 December" (day 3 would be that).  up: rounded up,
 * else down. */
void st_moment_words(char *buf, size_t size, double s, bool up, const long *begun);

/* The same of a jar that was filled later than the first: " (day 31 in all)"; "" of the first, and with begun. */
void st_in_all_words(char *buf, size_t size, const struct st_jar_told *told, double s, bool up, const long *begun);

/* How warm it stands: "20 °C", "30 °C for 3 days, then 12 °C". */
void st_stage_warmth_words(char *buf, size_t size, const struct st_jar *j);

/* Whose and what: "cloves, eugenol", "dried apricot, juice"; of a family its name. */
void st_curve_name(char *buf, size_t size, const struct st_jar *j, const struct st_jar_curve *c);

/* "mostly out by day 3, likely between day 1 and day 9", "not mostly out by day 40: 60 % has come, likely between 30
 * and 85 %". told: the run that c is of.  Mostly out: nine tenths of what will come in this jar (ST_MOSTLY_OUT_WORDS). */
void st_curve_words(char *buf, size_t size, const struct st_jar_told *told, const struct st_jar_curve *c,
                    const long *begun);

/* What an earlier jar had of it: "of all that comes, 76 % came before, likely between ..."; "" when it is the first. */
void st_before_words(char *buf, size_t size, const struct st_jar_curve *c);

/* What comes late, without scolding: "12 % by day 7, likely between 3 and 30 %; 25 % by day 14: it grows the longer it
 * stays". */
void st_late_words(char *buf, size_t size, const struct st_jar_told *told, const struct st_jar_curve *c,
                   const long *begun);

/* What one waits for: of the flavours that lie in the jar, not late, the slowest; where none is followed colour, then
 * what the liquid is full of, then sugar.  Nothing of which the jars before had practically all (95 %, ours).  NULL when
 * nothing is. */
const struct st_jar_curve *st_steep_headline(const struct st_jar_told *told);

/* The whole in a few sentences: when the flavour is mostly out, and when what comes late is half out; so when to strain. */
void st_steep_tip(char *buf, size_t size, const struct st_jar *j, const struct st_jar_told *told, const long *begun);

/* A share of what will come, as per cent: "98 %, likely between 95 and 100". */
void st_share_words(char *buf, size_t size, const struct st_interval *x);

/* What "mostly out" means, said wherever it is read. */
#define ST_MOSTLY_OUT_WORDS                                                                                            \
    "Mostly out: nine tenths of what will come in this jar in the end have come; the day is that of the middle "       \
    "making, and \"likely between\" holds 95 of 100."

/* ---- steep_remarks.c ---- */

/* g of it that go into the jar; 0: it is left out. */
double st_piece_g(const struct st_jar_piece *p);

/* What of a piece is otherwise in a jar made so: "vanilla pod is left out: nothing of it comes", "half as much of vanilla
 * pod: 2 g, as written 4 g"; "" where as much of it goes in. */
void st_amount_words(char *buf, size_t size, const struct st_jar_piece *written, const struct st_jar_piece *so);

/* Sugar that the liquid cannot hold dissolved: how much, until when; "" when there is none to speak of. */
void st_undissolved_words(char *buf, size_t size, const struct st_jar_told *told, const long *begun);

/* What lies in the last jar as a powder, and what to do about straining it; "" where nothing does.  What dissolves is no
 * powder to a strainer.  Common practice, no source, and says so. */
void st_powder_words(char *buf, size_t size, const struct st_jar *j);

#endif
