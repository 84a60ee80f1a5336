"""Writes crates/charts/src/text/face.rs: how wide each sign of the figures' face is.

    python3 xtask/face/advance_widths.py REGULAR.ttf BOLD.ttf > crates/charts/src/text/face.rs

Needs the Python package fonttools, and the weights 400 and 700 of Atkinson Hyperlegible Next, which are in the npm
package @expo-google-fonts/atkinson-hyperlegible-next.
"""

import sys

from fontTools.ttLib import TTFont

# ASCII, Latin-1 and Latin Extended-A; then dashes, quotes, the ellipsis, the minus and comparisons.
RANGES = [(0x20, 0x7E), (0xA0, 0x17F)]
OTHERS = "–—‘’“”…−≈≤≥"
# Signs that the face draws under another code: the micro sign as the Greek letter, the soft hyphen as the hyphen.
SAME_AS = {0xB5: 0x3BC, 0xAD: 0x2D}
A_ROW = 16

HEADER = """\
//! Advance widths of {face}, regular and bold, in thousandths of the size of type; 0 where the face
//! lacks the sign. Written by `xtask/face/advance_widths.py` from version {version}; do not edit.
//!
//! Widths only, no outlines. The face: copyright 2020-2024 The Atkinson Hyperlegible Next Project Authors, under the
//! SIL Open Font License 1.1.
"""


def widths(font, codes):
    names, advances = font.getBestCmap(), font["hmtx"].metrics
    unit = font["head"].unitsPerEm

    def width(code):
        name = names.get(code) or names.get(SAME_AS.get(code))
        return round(1000 * advances[name][0] / unit) if name else 0

    return [width(code) for code in codes]


def table(name, doc, numbers):
    rows = [numbers[i : i + A_ROW] for i in range(0, len(numbers), A_ROW)]
    lines = ["    " + ", ".join(map(str, row)) + "," for row in rows]
    return f"/// {doc}\n#[rustfmt::skip]\npub(super) const {name}: [u16; {len(numbers)}] = [\n" + "\n".join(lines) + "\n];"


def main():
    regular, bold = (TTFont(path) for path in sys.argv[1:])
    debug = regular["name"].getDebugName
    family, version = debug(16) or debug(1), debug(5).removeprefix("Version ")
    runs = RANGES + [(ord(sign), ord(sign)) for sign in OTHERS]
    codes = [code for first, last in runs for code in range(first, last + 1)]
    print(HEADER.format(face=family, version=version))
    print("/// The name of the face.")
    print(f'pub(super) const NAME: &str = "{family}";\n')
    print("/// The first and the last code of each run of signs in the tables.\n#[rustfmt::skip]")
    print(f"pub(super) const RUNS: [(u32, u32); {len(runs)}] = [")
    for first, last in runs:
        print(f"    (0x{first:X}, 0x{last:X}),")
    print("];\n")
    print(table("REGULAR", "Widths of the regular weight, run after run.", widths(regular, codes)))
    print()
    print(table("BOLD", "Widths of the bold weight, run after run.", widths(bold, codes)))


main()
