#ifndef ST_TESTS_TAKE_RECIPE_READING_H
#define ST_TESTS_TAKE_RECIPE_READING_H

/* A whole recipe as it was read by hand, NAME.reading: tests/take/README.md tells its form.  A part of the program that
 * compares them. */
#include <ctype.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_STEPS = 24, MOST_ITEMS = 24, ITEM = 200 };

struct step {
    char kind[12];
    char item[MOST_ITEMS][ITEM];
    int n_item;
    bool spent, press;
    double time_low, time_high; /* s, 0 none */
    double size_ml;
    int bottles;
    int index; /* in the recipe; -1 of a reading */
};

struct recipe {
    char title[160], measures[16];
    char ask[6][16];
    int n_ask;
    struct step step[MOST_STEPS];
    int n_step;
    double strength[2], sugar[2];
    bool has_strength, has_sugar;
};

static char *trim(char *s)
{
    while (*s == ' ')
        s++;
    size_t n = strlen(s);
    while (n && (s[n - 1] == ' ' || s[n - 1] == '\r'))
        s[--n] = '\0';
    return s;
}

/* A number at *s; a dot belongs to it only before a digit, so that "18..24" is two.  *s goes behind it. */
static bool number(const char **s, double *x)
{
    char copy[32];
    size_t n = 0;
    while (**s == ' ')
        (*s)++;
    while (n + 1 < sizeof copy &&
           (isdigit((unsigned char)(*s)[n]) || ((*s)[n] == '.' && isdigit((unsigned char)(*s)[n + 1]))))
        n++;
    if (n == 0)
        return false;
    memcpy(copy, *s, n);
    copy[n] = '\0';
    *x = strtod(copy, NULL);
    *s += n;
    return true;
}

/* "18..24" or "18": low and high. */
static bool range(const char **s, double *low, double *high)
{
    if (!number(s, low))
        return false;
    *high = *low;
    if (strncmp(*s, "..", 2) != 0)
        return true;
    *s += 2;
    return number(s, high);
}

/* The range behind a word in the text. */
static bool range_after(const char *text, const char *word, double *low, double *high)
{
    const char *p = strstr(text, word);
    if (!p)
        return false;
    p += strlen(word);
    return range(&p, low, high);
}

static void read_time(const char *s, struct step *out)
{
    double low, high;
    s += 5;
    if (!range(&s, &low, &high))
        return;
    while (*s == ' ')
        s++;
    const double u = *s == 'd' ? 86400 : strncmp(s, "min", 3) == 0 ? 60 : 3600;
    out->time_low = low * u;
    out->time_high = high * u;
}

static void read_step(char *kind, char *rest, struct recipe *r)
{
    if (r->n_step >= MOST_STEPS)
        return;
    struct step *s = &r->step[r->n_step++];
    memset(s, 0, sizeof *s);
    s->index = -1;
    snprintf(s->kind, sizeof s->kind, "%s", kind);
    for (char *p = rest, *next; p; p = next) {
        double x, y;
        next = strchr(p, ';');
        if (next)
            *next++ = '\0';
        p = trim(p);
        if (strncmp(p, "time ", 5) == 0)
            read_time(p, s);
        else if (strncmp(p, "size ", 5) == 0)
            s->size_ml = range_after(p, "size ", &x, &y) ? x : 0;
        else if (strncmp(p, "bottles ", 8) == 0)
            s->bottles = range_after(p, "bottles ", &x, &y) ? (int)x : 0;
        else if (strcmp(p, "press") == 0)
            s->press = true;
        else if (strcmp(p, "spent") == 0)
            s->spent = true;
        else if (*p && strncmp(p, "at ", 3) != 0 && s->n_item < MOST_ITEMS)
            snprintf(s->item[s->n_item++], ITEM, "%s", p);
    }
}

static void read_reading(char *text, struct recipe *r)
{
    char *next = NULL;
    memset(r, 0, sizeof *r);
    for (char *line = text; line; line = next) {
        next = strchr(line, '\n');
        if (next)
            *next++ = '\0';
        line = trim(line);
        char *colon = strchr(line, ':');
        if (*line == '#') {
            if (range_after(line, "strength ", &r->strength[0], &r->strength[1]))
                r->has_strength = true;
            if (range_after(line, "sugar ", &r->sugar[0], &r->sugar[1]))
                r->has_sugar = true;
        } else if (strncmp(line, "title ", 6) == 0)
            snprintf(r->title, sizeof r->title, "%s", line + 6);
        else if (strncmp(line, "measures ", 9) == 0)
            snprintf(r->measures, sizeof r->measures, "%s", line + 9);
        else if (strncmp(line, "ask ", 4) == 0 && r->n_ask < 6)
            snprintf(r->ask[r->n_ask++], sizeof r->ask[0], "%.15s", line + 4);
        else if (strncmp(line, "begun", 5) != 0 && colon) {
            *colon = '\0';
            read_step(line, colon + 1, r);
        }
    }
}

/* Nothing was strained between them, so one jar is meant; and what waits in the bottle waits before it (README). */
static void fold(struct recipe *r)
{
    int n = 0;
    for (int i = 0; i < r->n_step; i++) {
        struct step *s = &r->step[i], *before = n ? &r->step[n - 1] : NULL;
        if (before && strcmp(s->kind, "steep") == 0 && strcmp(before->kind, "steep") == 0 && !s->spent) {
            for (int k = 0; k < s->n_item && before->n_item < MOST_ITEMS; k++)
                memcpy(before->item[before->n_item++], s->item[k], ITEM);
            before->time_low += s->time_low;
            before->time_high += s->time_high;
            before->press = before->press || s->press;
        } else if (before && strcmp(before->kind, "bottle") == 0) {
            const struct step bottle = *before;
            *before = *s;
            r->step[n++] = bottle;
        } else
            r->step[n++] = *s;
    }
    r->n_step = n;
}

#endif
