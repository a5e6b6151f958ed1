#!/usr/bin/env bash
# Processor time of `stillroom correct` of a batch of the invented house, from start to end: reading the sheets and the book,
# foretelling, holding the readings against it, the search.  Aim: 100 ms.  bench/bench_put_right.sh STILLROOM FOLDER
set -eu
stillroom=$1
book=$2/put_right.$$.stillroom
trap 'rm -f "$book"' EXIT
"$stillroom" import examples/book/small_house.json --book "$book" >/dev/null
TIMEFORMAT='%U %S'
for asked in '--sugar 200' '--strength 26' '--strength 26 --sugar 200'; do
    for _ in 1 2 3 4 5 6 7 8 9; do
        # shellcheck disable=SC2086
        { time "$stillroom" correct B24 $asked --book "$book" --today 2026-06-06 >/dev/null || test $? -eq 1; } 2>&1
    done | awk -v asked="$asked" '{ ms[NR] = 1000 * ($1 + $2) }
        END { n = asort_(ms, NR); printf "correct B24 %-26s median %3.0f ms, most %3.0f ms\n", asked, ms[int((n + 1) / 2)], ms[n] }
        function asort_(a, n,   i, j, x) { for (i = 2; i <= n; i++) { x = a[i]; for (j = i - 1; j > 0 && a[j] > x; j--) a[j + 1] = a[j]; a[j + 1] = x } return n }'
done
