#!/usr/bin/env bash
# Take, slowest recipe of the corpus: milliseconds of the whole program, best of three.  bench/bench_take.sh STILLROOM
set -eu
stillroom=$(realpath "${1:?the program}")
cd "$(dirname "$0")/../tests/take/recipes"

once() { # microseconds
    local from=${EPOCHREALTIME/[.,]/}
    "$stillroom" take "$1" >/dev/null 2>&1 || true # 1: read, with questions
    echo $((${EPOCHREALTIME/[.,]/} - from))
}
for text in *.txt; do
    printf '%s %s\n' "$(for _ in 1 2 3; do once "$text"; done | sort -n | head -n 1)" "$text"
done | sort -n | awk '
    { name = $2; us = $1; sum += $1 }
    END { printf "%-28s %7.1f ms (%s); mean of %d %.1f ms\n", "take, slowest recipe", us / 1e3, name, NR, sum / 1e3 / NR }'
