#!/usr/bin/env bash
# Runs the published recipes of worked_recipes.tsv through `stillroom mix` and judges each by its verdict.
#   worked_recipes.sh PROGRAM [SHEET]        exit 0 all as they should be, 1 something is not, 3 cannot run
# A line a row; the last line counts.
set -u
program=$1
sheet=${2:-$(dirname "$0")/worked_recipes.tsv}
command -v jq >/dev/null || { echo 'worked_recipes: jq is not here'; exit 3; }
[ -r "$sheet" ] || { echo "worked_recipes: cannot read $sheet"; exit 3; }

# What the maker would read from the JSON of mix ($1).  Mass fractions follow from strength, sugar and density.
figure() { # JSON QUANTITY
    local t
    case $2 in
    strength_pct_vol | acid_g_l | volume_ml) jq -r ".$2.value" <<<"$1" ;;
    volume_l) jq -r '.volume_ml.value / 1000' <<<"$1" ;;
    volume_gal_us) jq -r '.volume_ml.value / 3785.411784' <<<"$1" ;;
    volume_gal_imp) jq -r '.volume_ml.value / 4546.09' <<<"$1" ;;
    density_20c) jq -r '.density_kg_m3.value' <<<"$1" ;;
    ethanol_pct_mass) jq -r '.strength_pct_vol.value * 789.239 / .density_kg_m3.value' <<<"$1" ;;
    water_ml_in_150) jq -r '0.15 * (.mass_g.value - 850) / 0.997043' <<<"$1" ;;
    increase_l_per_kg) jq -r '(.volume_ml.value - 800) / 250' <<<"$1" ;;
    density_15c) at "$1" 15 ;;
    density_25c) at "$1" 25 ;;
    volume_ml_25c) t=$(at "$1" 25) && jq -r --argjson d "$t" '.mass_g.value / $d * 1000' <<<"$1" ;;
    sg_60f) t=$(at "$1" 15.555555555555556) && jq -n --argjson d "$t" '$d / 999.016' ;;
    baume_15c) t=$(at "$1" 15) && jq -n --argjson d "$t" '144.32 * (1 - 999.0996 / $d)' ;;
    *) return 1 ;;
    esac
}

at() { # JSON CELSIUS: density of that mixture at another temperature, kg/m3
    local E S
    E=$(jq -r '.strength_pct_vol.value * 7.89239 / .density_kg_m3.value' <<<"$1")
    S=$(jq -r '.sugar_g_l.value / .density_kg_m3.value' <<<"$1")
    "$program" property density --ethanol "$E" --sucrose "$S" --temperature "$2" --json | jq -r '.value'
}

# VERDICT GOT EXPECTED TOLERANCE PREDICTED ITS-TOLERANCE: "ok" or why not
judge() {
    jq -nr --arg v "$1" --argjson x "$2" --argjson e "$3" --argjson t "$4" --argjson p "$5" --argjson pt "$6" '
        def off(a; b): (a - b) | fabs;
        if $v == "memory" or $v == "doubtful" then "shown"
        elif $v == "plausible" and off($x; $e) > $t then "published \($e) +/- \($t)"
        elif $v == "at_most" and $x > $e + $t then "published at most \($e)"
        elif $v == "refuted" and off($x; $e) <= $t then "must disagree with the \($e) of the book"
        elif $v == "book" and off($x; $p) > 0.005 * $p then "worked out \($p), 0.5 % allowed"
        elif off($x; $p) > $pt then "worked out apart \($p) +/- \($pt)"
        elif ($v | IN("plausible", "at_most", "refuted", "book")) then "ok"
        else "unknown verdict \($v)" end'
}

failures=0 rows=0 shown=0 number=0
while IFS=$'\t' read -r id verdict quantity expected tolerance predicted allowed lines _; do
    number=$((number + 1))
    case $id in '' | '#'*) continue ;; esac
    rows=$((rows + 1))
    IFS='|' read -ra line <<<"$lines"
    said=$("$program" mix "${line[@]}" --json 2>&1)
    code=$?
    got=''
    if [ "$code" -le 1 ]; then got=$(figure "$said" "$quantity" 2>&1) || got=''; fi
    if [[ ! $got =~ ^-?[0-9.]+([eE][-+]?[0-9]+)?$ ]]; then
        echo "${sheet##*/}:$number: $id: no $quantity from: mix ${line[*]@Q} (exit code $code): ${said:0:300}"
        failures=$((failures + 1))
        continue
    fi
    word=$(judge "$verdict" "$got" "$expected" "$tolerance" "$predicted" "$allowed" 2>&1)
    printf '%s:%d: %s: %s = %.6g, book %s +/- %s (%s), worked out apart %s: %s\n' "${sheet##*/}" "$number" "$id" "$quantity" \
        "$got" "$expected" "$tolerance" "$verdict" "$predicted" "$word"
    case $word in
    ok) ;;
    shown) shown=$((shown + 1)) ;;
    *) failures=$((failures + 1)) ;;
    esac
done <"$sheet"

[ "$rows" -gt "$shown" ] || { echo 'worked recipes: nothing was judged'; exit 1; }
echo "worked recipes: $rows rows, $shown only shown, $failures not as they should be"
[ "$failures" -eq 0 ]
