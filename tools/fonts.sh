#!/usr/bin/env bash
# Make the web fonts from those of Debian 12: fonts-vollkorn, fonts-cabin, fonttools, python3-brotli.
# Latin-1 and the signs the pages use, no hinting.  A subset is a changed version, so both get our own family
# names; licences in web/fonts/OFL.txt.  Run by hand when the set of letters changes; the results are kept in the tree.
set -eu
cd "$(dirname "$0")/.."
letters='U+0020-007E,U+00A0-00FF,U+2009,U+202F,U+2013,U+2014,U+2018,U+2019,U+201C,U+201D,U+2026,U+2032,U+2033,U+2153-215E,U+2192,U+2713,U+00D7'
subset() { # SOURCE NAME FAMILY WEIGHT
    local raw
    raw=$(mktemp --suffix=.ttf)
    pyftsubset "$1" --unicodes="$letters" --layout-features='kern,liga,lnum,tnum,mark,mkmk,ccmp,frac' --no-hinting \
        --desubroutinize --name-IDs='0,13,14' --output-file="$raw"
    python3 - "$raw" "web/fonts/$2.woff2" "$3" "$4" <<'PY'
import sys
from fontTools.ttLib import TTFont
raw, out, family, weight = sys.argv[1:]
font = TTFont(raw)
name = font['name']
for ident, text in ((1, family), (2, weight), (3, family + ' ' + weight), (4, family + ' ' + weight), (6, (family + '-' + weight).replace(' ', ''))):
    name.setName(text, ident, 3, 1, 0x409)
font.flavor = 'woff2'
font.save(out)
PY
    rm -f "$raw"
}
vollkorn=/usr/share/fonts/truetype/vollkorn
cabin=$(dirname "$(find /usr/share/fonts -iname 'Cabin-SemiBold.*' | head -n 1)")
subset "$vollkorn/Vollkorn-Regular.ttf" text-regular 'Stillroom Text' Regular
subset "$vollkorn/Vollkorn-SemiBold.ttf" text-semibold 'Stillroom Text' SemiBold
subset "$(find "$cabin" -iname 'Cabin-SemiBold.*' | head -n 1)" sans-semibold 'Stillroom Sans' SemiBold
ls -l web/fonts
