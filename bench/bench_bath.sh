#!/usr/bin/env bash
# A jar over time: our processor time, then scipy's at the same error.  bench/bench_bath.sh PROGRAM [ROUNDS]
set -eu
program=${1:?the program bench_bath}
"$program"
"${PYTHON:-/usr/bin/python3}" "$(dirname "$0")/bath_scipy.py" "$program" "${2:-5}"
