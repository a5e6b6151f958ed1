#ifndef ST_MODEL_PROBLEM_H
#define ST_MODEL_PROBLEM_H

/* Where something stands in a file: 1-based; line 0 = not from a file. */
struct st_place {
    int line, column;
};

/* A problem that stops the work: what, where, why, what to try.  Texts are complete clauses without a full stop;
 * printed as "FILE:LINE:COLUMN: WHAT: WHY; TRY". */
struct st_problem {
    struct st_place at;
    char what[200], why[240], try_[240];
    int is_question; /* 1: not an error but a question the maker must answer ("which cup?") */
};

#endif
