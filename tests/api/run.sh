#!/usr/bin/env bash
# Runs one case file against a server of its own:  run.sh PROGRAM FILE.case
# tests/api/README.md tells what a line may say.  Exit 0 passed, 1 failed.
set -u
program=$1 case_file=$2
cd "$(dirname "$0")/../.." || exit 3
T=$(mktemp -d) || exit 3
server=''
trap '[ -z "$server" ] || kill -9 "$server" 2>/dev/null; rm -rf "$T"' EXIT

failures=0 requests=0 number=0 request='' request_line=0 shown=0 status=''
files=()  # arguments of jq: texts and answers that were kept
: >"$T/answer"

fail() { # LINE-NUMBER MESSAGE
    echo "${case_file##*/}:$1: $2"
    if [ "$shown" -ne "$request_line" ]; then
        echo "    request: $request ($(head -c 300 "$T/body" 2>/dev/null))"
        echo "    status $status: $(head -c 700 "$T/answer")"
        shown=$request_line
    fi
    failures=$((failures + 1))
}

# ---------------------------------------------------------------- the server
"$program" serve --port 0 --json >"$T/serve.out" 2>"$T/serve.err" &
server=$!
for _ in $(seq 300); do
    [ -s "$T/serve.out" ] && break
    kill -0 "$server" 2>/dev/null || break
    sleep 0.05
done
port=$(head -n 1 "$T/serve.out" | jq -r .port 2>/dev/null)
[ -n "$port" ] || { echo "the server did not start"; cat "$T/serve.out" "$T/serve.err"; exit 1; }

# ---------------------------------------------------------------- requests
# METHOD PATH OUT: the body is in $T/body.  Sets $status.
ask() {
    local size header
    size=$(wc -c <"$T/body")
    if ! { exec 9<>"/dev/tcp/127.0.0.1/$port"; } 2>/dev/null; then
        echo "${case_file##*/}:$request_line: the server is gone"
        cat "$T/serve.err"
        exit 1
    fi
    {
        printf '%s %s HTTP/1.1\r\nHost: 127.0.0.1:%s\r\nConnection: close\r\n' "$1" "$2" "$port"
        [ "$1" = GET ] || printf 'Content-Type: application/json\r\nContent-Length: %s\r\n' "$size"
        printf '\r\n'
        [ "$1" = GET ] || cat "$T/body"
    } >&9
    IFS=' ' read -r _ status _ <&9
    while IFS= read -r header <&9 && [ "$header" != $'\r' ]; do
        printf '%s\n' "${header%$'\r'}"
    done >"$T/headers"
    cat <&9 >"$3"
    exec 9>&-
}

# Everything is asked twice: the same request has the same answer, byte for byte.
send() { # METHOD PATH
    ask "$1" "$2" "$T/answer"
    ask "$1" "$2" "$T/second"
    requests=$((requests + 1))
    cmp -s "$T/answer" "$T/second" || fail "$request_line" 'asked a second time it answers otherwise'
}

start() { # the request is sent when its first expectation is met, so that its body may follow
    [ -n "$request" ] && [ "$sent" = no ] || return
    sent=yes
    send "${request%% *}" "${request#* }"
}
sent=yes

expect() { # LINE-NUMBER JQ-EXPRESSION
    local said
    said=$(jq -es "${files[@]}" "length == 1 and (.[0] | ($2))" "$T/answer" 2>&1) ||
        fail "$1" "not true of the answer: $2   (jq: ${said##*$'\n'})"
}

# jq takes longer to start than most answers: all that is asked of one answer is asked at once, and line by line only
# when that is not so.
asked=() asked_at=()
ask_jq() {
    local i together
    [ ${#asked[@]} -eq 0 ] && return
    printf -v together ' and (%s)' "${asked[@]}"
    if [ ${#asked[@]} -eq 1 ] ||
        ! jq -es "${files[@]}" "length == 1 and (.[0] | (true$together))" "$T/answer" >/dev/null 2>&1; then
        for i in "${!asked[@]}"; do expect "${asked_at[i]}" "${asked[i]}"; done
    fi
    asked=() asked_at=()
}

while IFS= read -r line || [ -n "$line" ]; do
    number=$((number + 1))
    case $line in
    '' | '#'*) ;;
    'text: '*) # NAME FILE
        read -r _ name file <<<"$line"
        files+=(--rawfile "$name" "$file")
        ;;
    'post: '* | 'get: '*)
        start
        ask_jq
        case $line in post:*) request="POST ${line#post: }" ;; *) request="GET ${line#get: }" ;; esac
        request_line=$number sent=no
        : >"$T/body"
        ;;
    'body: '*) jq -cn "${files[@]}" "${line#body: }" >"$T/body" || fail "$number" 'jq does not understand this body' ;;
    'raw: '*) printf '%s' "${line#raw: }" >"$T/body" ;;
    'raw-repeat: '*) # COUNT TEXT
        read -r _ count text <<<"$line"
        printf "%.0s$text" $(seq "$count") >"$T/body"
        ;;
    'status: '*)
        start
        [ "$status" = "${line#status: }" ] || fail "$number" "status $status, expected ${line#status: }"
        ;;
    'jq: '*) start; asked+=("${line#jq: }") asked_at+=("$number") ;;
    'header: '*) start; grep -qiF -- "${line#header: }" "$T/headers" || fail "$number" "no header ${line#header: }" ;;
    'has: '*) start; grep -qF -- "${line#has: }" "$T/answer" || fail "$number" "the answer lacks: ${line#has: }" ;;
    'keep: '*) start; cp "$T/answer" "$T/kept.${line#keep: }"; files+=(--slurpfile "${line#keep: }" "$T/kept.${line#keep: }") ;;
    *) fail "$number" "not a line of a case: $line" ;;
    esac
done <"$case_file"
start
ask_jq

# ---------------------------------------------------------------- its end
kill -TERM "$server"
wait "$server"
code=$?
server=''
request='SIGTERM' request_line=$number
[ "$code" -eq 0 ] || fail "$number" "the server ended with $code: $(tail -n 20 "$T/serve.err")"
[ -s "$T/serve.err" ] && fail "$number" "the server wrote to stderr: $(head -n 20 "$T/serve.err")"
[ "$requests" -gt 0 ] || { echo "${case_file##*/}: asks nothing"; exit 1; }
[ "$failures" -eq 0 ] && exit 0
echo "${case_file##*/}: $failures failed"
exit 1
