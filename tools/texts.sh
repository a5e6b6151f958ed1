#!/usr/bin/env bash
# Every text that "What to watch" tells people, one a line with where it stands: to be read in one sitting.
#   tools/texts.sh            prints them
#   tools/texts.sh --check    fails on words that promise, soothe, or play the doctor (a test)
set -u
cd "${TEXTS_TOP:-$(dirname "$0")/..}" || exit 3

column() { # SHEET NAME...: the fields under these headings, each with its line
    local sheet=$1
    shift
    [ -f "$sheet" ] || return
    awk -F '\t' -v sheet="$sheet" -v wanted=" $* " '
        /^#/ { next }
        !head { head = 1; for (i = 1; i <= NF; i++) if (index(wanted, " " $i " ")) at[i] = 1; next }
        { for (i = 1; i <= NF; i++) if (at[i] && $i != "") printf "%s:%d: %s\n", sheet, NR, $i }' "$sheet"
}

strings() { # FILE...: texts between quotes that have a blank in them; lines that lie next to each other are one text
    awk '
        function flush() { if (text ~ / .* /) printf "%s:%d: %s\n", file, at, text; text = "" }
        FNR == 1 { flush(); file = FILENAME }
        /^[ \t]*(\/\*|\*|\/\/|#)/ { next }
        {
            rest = $0; got = 0
            while (match(rest, /"([^"\\]|\\.)*"/)) {
                if (text == "") at = FNR
                else if (!got && open == 0) { flush(); at = FNR }
                text = text substr(rest, RSTART + 1, RLENGTH - 2)
                rest = substr(rest, RSTART + RLENGTH); got = 1
            }
            open = (got && rest ~ /^[ \t]*$/)
            if (!open) flush()
        }
        END { flush() }' "$@"
}

texts() {
    column data/toxicants.tsv name harm
    column data/rules.tsv says
    column data/contents.tsv note
    column data/places.tsv name known unknown first
    column data/rescue.tsv name verdict because todo
    column data/classes.tsv says note ask
    column data/allergens.tsv name scope exempt note
    column data/guest.tsv says
    column data/drinks.tsv term guidance note differ
    grep -nE '^(caution|allergen) ' data/ingredients.sheet | sed -E 's|^([0-9]+):[a-z]+ +[^ ]+ +[^ ]+ +[a-z] +\[[^]]*\] *|data/ingredients.sheet:\1: |'
    strings src/text/{cautions,ledger_words,stone_words,watch}.c src/text/caution_*.c src/text/rescue*.c src/text/label_*.c \
        src/text/guest*.c src/cli/cautions*.c src/cli/rescue.c
}

# No drink is any of these, and a book of limits is no doctor.  "Take a doctor's word", "cured", "safrole" are other words.
promises="(^|[^a-z-])(safe|safely|safety|harmless|unharmful|healthy|healthful|wholesome|non-?toxic|risk-free|no risk|don't worry|do not worry|nothing to fear|perfectly fine)([^a-z]|$)"
doctors="(^|[^a-z])(cure|cures|heals?|remedy|remedies|treats? (illness|symptoms|pain|the)|dose yourself|good for (you|the (liver|heart|stomach|nerves))|(take|drink|swallow) [^.;:]*(a day|daily|before meals|for (a cough|pain|sleep)|as (a )?medicine)|detox[a-z]*|induce vomiting)([^a-z]|$)"

case ${1:-} in
'') texts ;;
--check)
    all=$(texts)
    n=$(printf '%s\n' "$all" | wc -l)
    for from in data/{toxicants,rules,contents,places,rescue,classes,allergens,guest,drinks}.tsv data/ingredients.sheet \
        src/text/{cautions,ledger_words}.c; do
        printf '%s\n' "$all" | grep -qF "$from:" || { echo "texts: nothing found in $from: has it moved?"; exit 1; }
    done
    bad=$(printf '%s\n' "$all" | grep -iE "^[^ ]+:.*($promises)|^[^ ]+:.*($doctors)")
    [ -z "$bad" ] && { echo "texts: $n texts, none promises or plays the doctor"; exit 0; }
    printf '%s\n' "$bad"
    echo "texts: $(printf '%s\n' "$bad" | wc -l) of $n texts promise or play the doctor"
    exit 1 ;;
*) echo "usage: tools/texts.sh [--check]"; exit 2 ;;
esac
