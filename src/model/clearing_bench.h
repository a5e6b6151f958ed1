#ifndef ST_MODEL_CLEARING_BENCH_H
#define ST_MODEL_CLEARING_BENCH_H

#include "model/clearing.h"

/* What is put into a drink to clear it, and how its dose is found in small glasses first. */

enum st_agent_role {
    ST_AGENT_FINE,   /* tried in glasses from a 1 % stock */
    ST_AGENT_NEAT,   /* tried in glasses as it is */
    ST_AGENT_FRUIT,  /* on the fruit, before the spirit */
    ST_AGENT_WASH,   /* the drink is poured into it */
    ST_AGENT_FILTER, /* low..high is what it lets through, micrometres */
    ST_NAGENT_ROLE
};

/* A row of data/fining.tsv (text/fining.h reads it).  Texts are lent; "" where there is nothing. */
struct st_agent {
    const char *key, *name, *names; /* names: other words for it, '|' between */
    enum st_agent_role role;
    double low, high, most; /* mg/L, mL/L or micrometres; most NAN when the source goes no further */
    bool by_volume;         /* the dose is mL/L */
    unsigned acts;          /* of st_cloud: what haze it takes; 0 none (odour, colour) */
    const char *against, *prepare;
    const char *allergen, *scope; /* as of st_flag */
    const char *diet;
    double loss_low, loss_high; /* share of the drink, 0..1 */
    double ml_low, ml_high;     /* mL kept by each g (of a filter: by each); NAN unknown */
    char mark;
    const char *source, *note;
};

struct st_agents {
    const struct st_agent *row;
    int n;
};

/* By key, name or another name, case and blanks aside; NULL when there is none. */
const struct st_agent *st_agent_find(const struct st_agents *all, const char *name);

/* Strongest drink for which doses were published, % vol; above it they are an order of magnitude only. */
#define ST_DOSE_KNOWN_TO 14.0

enum { ST_BENCH_GLASSES = 5 };

/* It takes something of what may cloud this drink. */
bool st_agent_acts(const struct st_agent *a, const struct st_clearing *c);
/* Glasses or a wash of it are laid out when it is asked for by name: not in a cream; and of a fining not where oil alone
 * may cloud the drink. */
bool st_agent_is_tried(const struct st_agent *a, const struct st_clearing *c);

/* One glass of a trial, and what its dose is for the rest of the batch. */
struct st_bench_glass {
    double times;                      /* of the middle dose */
    double dose;                       /* mg/L or mL/L of the drink */
    double stock_ml;                   /* of the stock, or of the agent as it is, into this glass */
    struct st_interval batch_g;        /* of the agent; of an agent by volume mL */
    struct st_interval batch_stock_ml; /* of the stock */
    double thinner;                    /* share by which the stock thins this glass, and the batch too */
};

struct st_bench {
    double sample_ml, taken_ml; /* in each glass; in all five */
    struct st_interval left_ml; /* of the batch, once they are poured */
    struct st_bench_glass glass[ST_BENCH_GLASSES];
};

/* How much goes into each glass: 100 mL; 50 or 20 where five of them are more than half of the low end of the batch
 * (policy); 0 where there is too little for a trial, or the volume is not known. */
double st_bench_sample(const struct st_interval *volume);

/* A bench trial: five glasses with 0, 0.25, 0.5, 1 and 2 times the middle dose (halfway between its ends).
 *
 * Given:
 *   a           FINE or NEAT
 *   sample_ml   of each glass, 1..10000
 *   stock       g of agent in 100 mL of stock, 0.01..50; of NEAT it is not used
 *   volume      of the batch before the glasses are taken from it, mL; low > five glasses
 * Returned:
 *   *b          untouched when the status is negative
 * Status:
 *   ST_OK; ST_E_REFUSED an agent that is not tried in glasses; ST_E_DOMAIN anything outside its limits, or NaN
 * Notes:
 *   1. mL of stock = dose (mg/L) x litres/(10 stock): a 1 % stock holds 10 mg in 1 mL.
 *   2. The glasses do not go back: doses are scaled to what is left.  Intervals come from the volume of the batch alone. */
enum st_status st_bench_plan(const struct st_agent *a, double sample_ml, double stock, const struct st_interval *volume,
                             struct st_bench *b);

/* What is lost with the lees when g of it (middle of the trial, or 0) go into a batch: mL, an interval. */
void st_agent_loss(const struct st_agent *a, const struct st_interval *volume, double g, struct st_interval *loss_ml);

/* What remains of a volume after a loss that goes with it: mL, the lossy ends below and the others above. */
struct st_interval st_volume_after(const struct st_agent *a, const struct st_interval *volume, double g);

#endif
