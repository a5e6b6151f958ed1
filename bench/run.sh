#!/usr/bin/env bash
# Run all benches, one thread.  bench/run.sh [FOLDER]: FOLDER holds bench_* built by `--target bench` of the release
# preset; without it they are built here, by themselves, in build/bench.
set -eu
cd "$(dirname "$0")/.."
python=${PYTHON:-/usr/bin/python3}
draws=${DRAWS:-100000}
out=build/bench
mkdir -p "$out"

programs=${1:-}
if [ -z "$programs" ]; then
    programs=$out
    flags=(-std=c17 -D_POSIX_C_SOURCE=200809L -ffp-contract=off -fno-math-errno -O3 -Wall -Wextra -Isrc -Itests -Ibench)
    for bench in bench_density bench_plan bench_bath; do
        "${CC:-gcc}" "${flags[@]}" "bench/$bench.c" src/model/*.c src/core/*.c -lm -o "$out/$bench"
    done
fi
echo '== batches of core =='
"$programs/bench_density"
echo '== a recipe: numbers, evaluation, quantiles =='
"$programs/bench_plan"
echo "== its evaluation against numpy, $draws draws, one thread =="
"$python" bench/plan_numpy.py "$programs/bench_plan" "$out" "$draws"
echo '== a jar over time, against scipy =='
bench/bench_bath.sh "$programs/bench_bath"

if [ -x "$programs/bench_learn" ]; then # it needs the sheets that are built in
    echo '== learning from readings =='
    "$programs/bench_learn"
fi
if [ -x "$programs/bench_book" ]; then
    echo '== the notebook at three sizes =='
    program=${STILLROOM:-build/release/stillroom}
    if [ -x "$program" ]; then "$programs/bench_book" "$out" 15 "$program"; else "$programs/bench_book" "$out"; fi
fi
if [ -x "$programs/bench_correct" ]; then
    echo '== putting a batch right, beside aim =='
    "$programs/bench_correct" examples/*.yaml
fi
if [ -x "$programs/bench_cautions" ]; then
    echo '== what to watch, on top of foresee =='
    "$programs/bench_cautions" examples/*.yaml
fi
stillroom=${STILLROOM:-build/release/stillroom}
if [ -x "$stillroom" ]; then
    echo '== a batch of the notebook put right, the whole command =='
    bench/bench_put_right.sh "$stillroom" "$out"
    echo '== amounts for a kitchen =='
    bench/bench_kitchen.sh "$stillroom"
    echo '== reading recipe text =='
    bench/bench_take.sh "$stillroom"
fi
