#!/bin/sh
# Makes the two font files of this folder from DejaVu Sans Condensed 2.37 (Debian package
# fonts-dejavu-extra); needs the Python package fonttools. Kerning is left out so that every
# backend sets a text to exactly the width that was measured for it.
set -eu
from=${1:-/usr/share/fonts/truetype/dejavu}
# Latin with all its marks, Greek, Cyrillic, quotes and dashes, fractions, arrows, a few signs.
points=U+0020-007E,U+00A0-017F,U+0192,U+0218-021B,U+0386-03CE,U+0400-045F,U+0490-0491,U+1E9E,U+2010-2015,U+2018-201E,U+2020-2022,U+2026,U+2030,U+2032-2033,U+2039-203A,U+2044,U+20AC,U+2122,U+2150-215E,U+2190-2195,U+2212,U+2248,U+2260,U+2264-2265,U+25A0-25A1,U+25B2,U+25B3,U+25CF,U+2610-2612,U+2713,U+2717
for weight in '' -Bold; do
    pyftsubset "$from/DejaVuSansCondensed$weight.ttf" --unicodes="$points" \
        --layout-features='' --drop-tables+=kern,GPOS,GSUB,GDEF --no-hinting \
        --output-file="DejaVuSansCondensed$weight.ttf"
done
