#!/usr/bin/env bash
# small_house.sh PROGRAM MAKER: the demonstration book is what its maker makes; it can be imported, looked through, undone
# and exported, and holds what is told of it.  Started at the top of the project.
set -u
program=$1 maker=$2 book=examples/book/small_house.json
T=$(mktemp -d) || exit 3
trap 'rm -rf "$T"' EXIT
failures=0
complain() { echo "small_house: $1"; failures=$((failures + 1)); }
true_of() { # EXPRESSION: of the document
    jq -e "$1" "$book" >/dev/null || complain "not true of $book: $1"
}

"$maker" "$T/anew.json" >/dev/null || complain 'its maker failed'
cmp -s "$T/anew.json" "$book" ||
    complain "it is not what its maker makes; where recipes, sheets or the schema changed: build/dev/small_house $book"

# ---- it is a book
"$program" import "$book" --book "$T/b" >"$T/out" || complain 'it cannot be imported'
"$program" backup --check --book "$T/b" >"$T/out" || complain "it is not sound: $(cat "$T/out")"
"$program" export --book "$T/b" --output "$T/again.json" >/dev/null || complain 'it cannot be exported'
diff <(grep -v '^"exported_at"' "$T/again.json") <(grep -v '^"exported_at"' "$book") >/dev/null || complain 'exported, it is another'
for ((i = 0; i < 30; i++)); do "$program" undo --book "$T/b" >/dev/null || complain "undo $i"; done
for ((i = 0; i < 30; i++)); do "$program" undo --again --book "$T/b" >/dev/null || complain "undo --again $i"; done
"$program" export --book "$T/b" --output "$T/undone.json" >/dev/null
[ "$(jq -cS '[.tables, .computed]' "$T/undone.json" | sha256sum)" = "$(jq -cS '[.tables, .computed]' "$book" | sha256sum)" ] ||
    complain 'taken back and done again, it is another'

# ---- it says that it is invented, and is of a size to be carried about
true_of '[.tables.setting[] | select(.name == "demo")][0].value == "invented"'
true_of '[.tables.setting[] | select(.name == "title")][0].value | test("does not exist")'
true_of '[.tables | (.batch, .recipe, .vessel, .gone)[] | .note] | all(test("[Ii]nvented"))'
true_of '[.tables.lot[] | .note] | all(test("invented"))'
[ "$(wc -c <"$book")" -lt 1500000 ] || complain 'it is larger than 1.5 MB'

# ---- what it holds
true_of '.tables.recipe | length == 8'
true_of '.tables.try | length == 22 and ([.[] | select(.side)] | length == 4)'
true_of '.tables.batch | length == 25 and ([.[] | select(.ended_on | not)] | length >= 2)'
true_of '(.tables.batch | map(.begun_on) | min) < "2024-07-01" and (.tables.batch | map(.begun_on) | max) > "2026-05-01"'
true_of '.tables.lot | length > 80 and ([.[] | .kind] | unique == ["bought", "made", "spent"])'
true_of '.tables.weighing | length > 120'
true_of '.tables.reading | length > 120 and ([.[] | select(.doubted == 1)] | length == 1)'
true_of '.tables.bottling | length >= 25'
# what was bottled of a recipe has its label of that day; what was only told has none
true_of '[.tables.bottling[] | select(.facts != null and .facts != "")] as $f | ($f | length) == (.tables.bottling | length) - 1 and ([$f[] | .facts | fromjson | (.label.facts | length) > 10 and .strength_pct_vol.low < .strength_pct_vol.high and (.cautions | length) > 0 and .name != ""] | all)'
true_of '.tables.gone | length >= 25 and ([.[] | select(.told_on)] | length >= 1) and ([.[] | select(.returned > 0)] | length >= 5)'
true_of '.tables.loss | map(.why) | unique == ["filter", "lees", "other", "spilt", "tasted"]'
true_of '.tables.reference | length == 2'
true_of '[.tables.lot_use[] | select(.why == "batch")] | length > 120'
# every try and every bottled batch of a recipe is foretold
true_of '(.computed.foreseen | map(.try_id) | unique | map(select(. != null)) | length) == 22'
true_of '[.tables.batch[] | select(.ended_on and .text) | .id] - [.computed.foreseen[] | .batch_id] == []'
# nothing is taken from a lot that was not there
true_of '. as $b | [.tables.lot[] | . as $l | .amount - ([$b.tables.lot_use[] | select(.lot_id == $l.id) | .amount] | add // 0)] | min > -0.5'
# readings are of one making of what was foretold, with the errors of instruments, but for one that was misread: B16
doubted=
while read -r code; do
    said=$("$program" batch agrees "$code" --book "$T/b" --json | jq -r .verdict)
    case $said in *'do not agree'*) doubted="$doubted $code: $said" ;; *agree*) ;; *) complain "$code: $said" ;; esac
done < <(jq -r '.tables.batch[] | select(.ended_on and .text) | .code' "$book")
case $doubted in ' B16: '*'The one to doubt is the hydrometer'*) ;; *) complain "B16 alone should not agree:$doubted" ;; esac
[ "$(grep -o ' B[0-9]*:' <<<"$doubted" | wc -l)" -eq 1 ] || complain "more than B16 do not agree:$doubted"

[ "$failures" -eq 0 ] && echo 'small_house: a book of two invented years' && exit 0
exit 1
