#include <math.h>
#include <stdio.h>

#include "cli/steep.h"

/* A field as RFC 4180 has it. */
static void field(const char *text)
{
    putchar('"');
    for (; *text; text++) {
        if (*text == '"')
            putchar('"');
        putchar(*text);
    }
    putchar('"');
}

static void number(double x)
{
    if (isfinite(x))
        printf(",%.9g", fabs(x) < 1e-12 ? 0.0 : x); /* what rounding left of nothing */
    else
        putchar(',');
}

static void rows(const struct st_jar_told *t, const char *made, const char *ingredient, const char *what,
                 const char *unit, const struct st_jar_series *s)
{
    for (int i = 0; i < t->n_time; i++) {
        field(made);
        putchar(',');
        field(ingredient);
        putchar(',');
        field(what);
        putchar(',');
        field(unit);
        number(t->t_s[i] / 86400.0);
        number(s->at[i].value);
        number(s->at[i].low);
        number(s->at[i].high);
        number((t->filled_s + t->t_s[i]) / 86400.0);
        fputs("\r\n", stdout);
    }
}

static void all(const struct st_jar *j, const struct st_jar_told *t, const char *made)
{
    rows(t, made, "", "strength", "% vol", &t->strength);
    rows(t, made, "", "sugar", "g/L", &t->sugar);
    rows(t, made, "", "acid", "g/L", &t->acid);
    rows(t, made, "", "volume", "mL", &t->volume_ml);
    rows(t, made, "", "undissolved sugar", "g", &t->undissolved_g);
    for (int i = 0; i < t->n_curve; i++) {
        const struct st_jar_curve *c = &t->curve[i];
        const char *of = c->piece >= 0 ? j->piece[c->piece].name : "";
        rows(t, made, of, c->name, "share", &c->share);
        if (c->known)
            rows(t, made, of, c->name, "mg/L", &c->mg_l);
    }
}

void steep_csv(const struct steep *s)
{
    fputs("made,ingredient,what,unit,time_days,value,low,high,days_in_all\r\n", stdout);
    all(s->task.jar, &s->task.told, "as written");
    if (s->task.has_other)
        all(&s->task.other, &s->task.other_told, "what if");
}
