#!/bin/sh
# The pages, tried whole: build, types, modules by node, pages in a browser.  run.sh [--quick]  (--quick: no browser)
# Against the program instead of the stand-in server: STILLROOM_URL=http://127.0.0.1:8080/ run.sh
# Closing line: N passed, M failed.
set -u
here=$(cd "$(dirname "$0")" && pwd)
web=$here/../../web
out=$(mktemp)
trap 'rm -f "$out"' EXIT
passed=0
failed=0

verdict() { # NAME STATUS
    if [ "$2" -eq 0 ]; then
        passed=$((passed + 1))
        echo "ok: $1"
    else
        failed=$((failed + 1))
        echo "FAILED: $1"
    fi
}

count() { # NAME STATUS, of a run of node --test whose report is in $out
    p=$(sed -n 's/^[^a-z]* pass \([0-9][0-9]*\)$/\1/p' "$out" | tail -n 1)
    f=$(sed -n 's/^[^a-z]* fail \([0-9][0-9]*\)$/\1/p' "$out" | tail -n 1)
    c=$(sed -n 's/^[^a-z]* cancelled \([0-9][0-9]*\)$/\1/p' "$out" | tail -n 1)
    f=$((${f:-0} + ${c:-0}))
    [ "${p:-0}" -gt 0 ] || [ "$f" -gt 0 ] || f=1
    [ "$2" -eq 0 ] || [ "$f" -gt 0 ] || f=1
    passed=$((passed + ${p:-0}))
    failed=$((failed + f))
    if [ "$f" -gt 0 ]; then cat "$out"; fi
    echo "$1: ${p:-0} passed, $f failed"
}

cd "$web" || exit 3
if [ ! -x node_modules/.bin/esbuild ] || [ package-lock.json -nt node_modules/.package-lock.json ]; then
    npm ci --ignore-scripts --no-audit --no-fund
    verdict "npm ci" $?
fi
node build.mjs
verdict "build" $?
node_modules/.bin/tsc --noEmit
verdict "types" $?
node --test test/*.test.mjs >"$out" 2>&1
count "modules" $?
if [ "${1:-}" != --quick ]; then
    if [ -x "${CHROMIUM:-/usr/bin/chromium}" ]; then
        node --test "$here"/*.test.mjs >"$out" 2>&1
        count "pages" $?
    else
        echo "no browser: ${CHROMIUM:-/usr/bin/chromium} is not there; install chromium, or say CHROMIUM=/path/to/it"
        failed=$((failed + 1))
    fi
fi
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
