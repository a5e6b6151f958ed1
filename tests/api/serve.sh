#!/usr/bin/env bash
# serve as people start and end it:  serve.sh PROGRAM PAGES
# PAGES: yes when node and npm were there when the program was built, so its pages must be in it.
set -u
program=$1 pages=$2
T=$(mktemp -d) || exit 3
running=''
trap '[ -z "$running" ] || kill -9 $running 2>/dev/null; rm -rf "$T"' EXIT
failures=0

fail() { echo "$1"; failures=$((failures + 1)); }

# NAME OPTIONS...: starts a server; its pid is $pid, its port $port.
start() {
    local name=$1
    "$program" serve "${@:2}" >"$T/$name" 2>"$T/$name.err" &
    pid=$! running="$running $!"
    for _ in $(seq 300); do
        grep -q 'Ctrl-C ends it' "$T/$name" && break
        kill -0 "$pid" 2>/dev/null || break
        sleep 0.05
    done
    port=$(grep -oE 'http://127\.0\.0\.1:[0-9]+/' "$T/$name" | grep -oE '[0-9]+/' | tr -d /)
    [ -n "$port" ] || { cat "$T/$name" "$T/$name.err"; exit 1; }
}

end() { # SIGNAL PID: ends with 0, at once, saying nothing
    kill -"$1" "$2"
    wait "$2"
    local code=$?
    [ "$code" -eq 0 ] || fail "SIG$1: ended with $code"
}

get() { # PATH HEADER OUT: sets $status
    exec 9<>"/dev/tcp/127.0.0.1/$port" || return
    printf 'GET %s HTTP/1.1\r\nHost: 127.0.0.1:%s\r\nConnection: close\r\n%s\r\n' "$1" "$port" "$2" >&9
    cat <&9 >"$3"
    exec 9>&-
    status=$(head -n 1 "$3" | cut -d' ' -f2)
}

start first --port 0
first=$pid first_port=$port
[ "$(head -n 1 "$T/first")" = "Stillroom answers at http://127.0.0.1:$port/ (this machine only)." ] ||
    fail "the first line: $(head -n 1 "$T/first")"

get /api/ingredients?like=dams '' "$T/answer"
[ "$status" = 200 ] || fail "the API answers $status"
get / '' "$T/page"
# Without a way to the packages of web/package-lock.json there can be no pages; serve says so, and bootstrap too.
if [ "$pages" = yes ] && grep -q 'npm ci could not install' "$T/first"; then
    echo 'the pages were not tried: npm could not fetch what they need'
    pages=no
fi
if [ "$pages" = yes ]; then
    [ "$status" = 200 ] || fail "the pages are not there although node and npm were: $(cat "$T/first")"
    grep -qi '^content-type: text/html' "$T/page" || fail 'the page is no page'
    tag=$(grep -i '^etag:' "$T/page" | tr -d '\r' | cut -d' ' -f2)
    [ -n "$tag" ] || fail 'the page has no ETag'
    get / "If-None-Match: $tag"$'\r\n' "$T/again"
    [ "$status" = 304 ] || fail "what the browser has already is sent again ($status)"
    get /app.js '' "$T/script"
    [ "$status" = 200 ] || fail "/app.js: $status"
    get /OFL.txt '' "$T/licence"
    [ "$status" = 200 ] || fail "/OFL.txt, the licence of the fonts: $status"
else
    [ "$status" = 404 ] || fail "a page out of nothing: $status"
    grep -q 'not built into this program' "$T/first" || fail 'it does not say that it has no pages'
    grep -q 'bootstrap demo' "$T/first" || fail 'it does not say how to get them'
fi

# The port is taken.
"$program" serve --port "$first_port" >"$T/busy" 2>"$T/busy.err"
code=$?
[ "$code" -eq 3 ] || fail "a port that is taken: exit $code, expected 3"
grep -q "port $first_port: another program answers there" "$T/busy.err" || fail "it says: $(cat "$T/busy.err")"
grep -q -- '--port 0' "$T/busy.err" || fail 'it does not say what to try'

start second --port 0
end INT "$first"
end TERM "$pid"
running=''
[ -s "$T/first.err" ] && fail "on stderr: $(cat "$T/first.err")"

[ "$failures" -eq 0 ] || exit 1
