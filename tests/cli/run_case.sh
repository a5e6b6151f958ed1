#!/usr/bin/env bash
# Runs one case file against the program:  run_case.sh PROGRAM FILE.case
# The form of a case is told in docs/HACKING.md, "A command-line case".
set -u
program=$1 case_file=$2
T=$(mktemp -d) || exit 3
trap 'rm -rf "$T"' EXIT
export T
mkdir "$T/.run"
in=$T/.run/stdin out=$T/.run/stdout err=$T/.run/stderr
: >"$in" >"$out" >"$err"

failures=0 runs=0 code=0 wanted_code=0 command='' command_line=0 number=0 filling=''

stillroom() { "$program" "$@"; }

show() { # NAME FILE: what the program wrote, shortened
    [ -s "$2" ] || { echo "    $1: (empty)"; return; }
    echo "    $1:"
    head -n 15 "$2" | cut -c1-300 | sed 's/^/      /'
    [ "$(wc -l <"$2")" -gt 15 ] && echo "      ... $(wc -l <"$2") lines in all"
}

fail() { # LINE-NUMBER MESSAGE
    echo "${case_file##*/}:$1: $2"
    if [ "$failures" -eq 0 ] || [ "$shown" != "$command_line" ]; then
        echo "    command: $command"
        echo "    exit code: $code"
        show stdout "$out"
        show stderr "$err"
        shown=$command_line
    fi
    failures=$((failures + 1))
}
shown=0

# The command is started when its first expectation is met, so that stdin: and file: may follow run:.
start() {
    [ -n "$command" ] && [ "$started" = no ] || return
    started=yes
    runs=$((runs + 1))
    eval "$command" <"$in" >"$out" 2>"$err"
    code=$?
}
started=yes

# Judge the exit code of the command before the next one, or the end.
finish() {
    start
    [ -n "$command" ] || return
    ask_json
    [ "$code" -eq "$wanted_code" ] || fail "$command_line" "exit code $code, expected $wanted_code"
    command=''
}

has() { grep -qF -- "$2" "$1" || fail "$number" "$3 lacks: $2"; }
has_like() { grep -qE -- "$2" "$1" || fail "$number" "$3 has no line like: $2"; }
lacks() { ! grep -qF -- "$2" "$1" || fail "$number" "$3 must not hold: $2"; }

# The expression is true for the one document on stdout.
json() { # LINE-NUMBER EXPRESSION
    local said
    said=$(jq -es "length == 1 and (.[0] | ($2))" "$out" 2>&1)
    [ $? -eq 0 ] || fail "$1" "not true of the JSON: $2   (jq: ${said##*$'\n'})"
}

# jq takes longer to start than most commands: all that is asked of one document is asked at once, and line by line only
# when that is not so.
asked=() asked_at=()
ask_json() {
    local i together
    [ ${#asked[@]} -eq 0 ] && return
    printf -v together ' and (%s)' "${asked[@]}"
    if [ ${#asked[@]} -eq 1 ] || ! jq -es "length == 1 and (.[0] | (true$together))" "$out" >/dev/null 2>&1; then
        for i in "${!asked[@]}"; do json "${asked_at[i]}" "${asked[i]}"; done
    fi
    asked=() asked_at=()
}

while IFS= read -r line || [ -n "$line" ]; do
    number=$((number + 1))
    case $line in
    '' | '#'*) filling='' ;;
    '|'*)
        [ -n "$filling" ] || { fail "$number" "a line with | needs stdin: or file: above it"; continue; }
        line=${line#|}
        printf '%s\n' "${line# }" >>"$filling"
        continue
        ;;
    'run: '*) finish; command=${line#run: } command_line=$number started=no wanted_code=0; : >"$in" ;;
    'stdin:') filling=$in; : >"$in"; continue ;;
    'file: '*) filling=$T/${line#file: }; mkdir -p "${filling%/*}"; : >"$filling"; continue ;;
    'exit: '*) start; wanted_code=${line#exit: } ;;
    'out: '*) start; has "$out" "${line#out: }" stdout ;;
    'err: '*) start; has "$err" "${line#err: }" stderr ;;
    'out~ '*) start; has_like "$out" "${line#out~ }" stdout ;;
    'err~ '*) start; has_like "$err" "${line#err~ }" stderr ;;
    'not: '*) start; lacks "$out" "${line#not: }" stdout ;;
    'err-not: '*) start; lacks "$err" "${line#err-not: }" stderr ;;
    'err-empty:') start; [ ! -s "$err" ] || fail "$number" 'stderr should be empty' ;;
    'jq: '*) start; asked+=("${line#jq: }") asked_at+=("$number") ;;
    *) fail "$number" "not a line of a case: $line" ;;
    esac
    filling=''
done <"$case_file"
finish

[ "$runs" -gt 0 ] || { echo "${case_file##*/}: runs nothing"; exit 1; }
[ "$failures" -eq 0 ] && exit 0
echo "${case_file##*/}: $failures failed"
exit 1
