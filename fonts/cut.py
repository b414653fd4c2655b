"""Cuts the three faces of "Rungwise Text" out of Andika 6.101 and renames them.

Usage: python3 cut.py [FOLDER WITH Andika-*.ttf]
Needs fontTools (4.68 was used). README.md says where the originals come from.
"""

import os
import sys

from fontTools import subset
from fontTools.ttLib import TTFont

FACES = ["Regular", "Bold", "Italic"]
RANGES = [(0x20, 0x7E), (0xA0, 0x17F), (0x218, 0x21B), (0x1E00, 0x1EFF)]
SIGNS = "–—‘’“”„†•…‹›€₹−×÷≈≠≤≥½¼¾✓→←°·\u202f\u2009\u2011ˈ"
FAMILY = "Rungwise Text"


def characters():
    found = [c for first, last in RANGES for c in range(first, last + 1)]
    return sorted(set(found) | {ord(c) for c in SIGNS})


def rename(font, face):
    """Gives every name record that shows a name to users the new one, and names the licence in a
    sentence instead of in full: these records go into every printed file."""
    names = font["name"]
    kept = {0, 1, 2, 3, 4, 5, 6, 13, 14}
    names.names = [r for r in names.names if r.nameID in kept and r.platformID == 3]
    postscript = FAMILY.replace(" ", "") + "-" + face
    new = {
        1: FAMILY,
        2: face,
        3: postscript + ";6.101 cut",
        4: FAMILY if face == "Regular" else f"{FAMILY} {face}",
        5: "Version 6.101; cut down from the original, renamed",
        6: postscript,
        13: "Licensed under the SIL Open Font License, Version 1.1; see OFL.txt beside this file.",
    }
    for record in names.names:
        if record.nameID in new:
            record.string = new[record.nameID]


def cut(folder, face):
    options = subset.Options(
        layout_features=[],
        hinting=False,
        name_IDs=["*"],
        name_languages=["*"],
        notdef_outline=True,
        glyph_names=False,
        drop_tables=["GSUB", "GPOS", "GDEF", "Silf", "Sill", "Glat", "Gloc", "Feat", "DSIG", "FFTM"],
        recalc_timestamp=False,
    )
    font = TTFont(os.path.join(folder, f"Andika-{face}.ttf"), recalcTimestamp=False)
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=characters())
    cutter.subset(font)
    rename(font, face)
    target = os.path.join(os.path.dirname(os.path.abspath(__file__)), f"RungwiseText-{face}.ttf")
    font.save(target)
    missing = [f"U+{c:04X}" for c in characters() if c not in font.getBestCmap()]
    print(face, os.path.getsize(target), "bytes; not in the original:", " ".join(missing) or "none")


if __name__ == "__main__":
    where = sys.argv[1] if len(sys.argv) > 1 else "/usr/share/fonts/truetype/andika"
    for each in FACES:
        cut(where, each)
