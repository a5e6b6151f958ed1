#!/usr/bin/env bash
# Amounts for a kitchen, six of them free: milliseconds of the whole, best of five.  bench/bench_kitchen.sh STILLROOM
set -eu
stillroom=${1:?the program}
cd "$(dirname "$0")/.."
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
lines='500 mL vodka 50 %
150 g sugar
60 g honey
300 mL water
50 mL lemon juice
100 mL brandy 40 %'
{
    printf 'title: Six in one\nmeasures: metric\nsteps:\n  - blend: all\n    add:\n'
    printf '%s\n' "$lines" | sed 's/^/      - /'
} >"$work/one.yaml"
{
    printf 'title: Six in two steps\nmeasures: metric\nsteps:\n  - syrup: syrup\n    add:\n'
    printf '%s\n' "$lines" | sed -n '2,5s/^/      - /p'
    printf '  - blend: all\n    add:\n'
    printf '%s\n' "$lines" | sed -n '1s/^/      - /p;6s/^/      - /p'
    printf '      - all of syrup\n'
} >"$work/two.yaml"

once() { # the search and the whole, off the line of --timing
    "$stillroom" aim "$@" --kitchen --timing 2>&1 >"$work/page" |
        awk '/^kitchen:/ { boxes = $4; for (i = 1; i <= NF; i++) if ($i == "ms") ms = $(i - 1) }
             /^total/ { print $2, ms, boxes }'
}
bench() {
    local name=$1
    shift
    for _ in 1 2 3 4 5; do once "$@"; done | sort -n | awk -v name="$name" \
        'NR == 1 { printf "%-28s %7.1f ms, search, ranking and alternatives %7.1f ms, %s boxes\n", name, $1, $2, $3 }'
    if grep -q 'Not proven' "$work/page"; then echo "  not proven"; fi
}
free='vodka,sugar,honey,water,lemon juice,brandy'
bench 'six in one blend' "$work/one.yaml" --strength 24 --sugar 180 --acid 2.5 --volume 1L --free "$free"
bench 'six in two steps' "$work/two.yaml" --strength 24 --sugar 180 --acid 2.5 --volume 1L --free "$free"
bench 'six in four jars' examples/apricot_spice_two_jars.yaml --strength 24 --sugar 180 \
    --free 'vodka,sugar,water,lemon juice'
bench 'five, poured twice' examples/quince_two_pours.yaml --strength 24 --sugar 180
