#!/usr/bin/env python3
"""Two patterns in one sum of long multiplication, from the catalogue's words and not from the program.

    python3 tests/outside/pairs.py > tests/outside/pairs.txt                    the digest that the test reads
    python3 tests/outside/pairs.py carry-not-added placeholder-left-out         every sum with its answers

The rows are worked as the one pattern says and then placed or added as the other says; or rows that
are right are placed wrongly and then added without carries. The right answer is dropped. Of two
patterns only the usual way round is asked for: the number with more digits on top, the first of
equally long ones.

A nought of the multiplier has no row, or one worked like the others, for a row pattern is applied in
every row; a row copied for it is the number on top itself, for a copy needs no multiplying. What
stops after one row stops after the first row in which there is more than noughts. By the first of the general rules a
pattern is there only where it shows, so where the first of the two changes nothing - all rows are
right, or the sum of the misplaced rows is - there is no pair.
"""

import sys

sys.dont_write_bytecode = True  # nothing is left beside the sources
from patterns import ROWS, fnv, no_carry_sum, ones_first, taken_for

# ---------------------------------------------------------------------------- the rows, one wrong way

def row_with_fact(x, y, taken):
    """Every fact right but this one, wherever the row needs it."""

    def row(top, d):
        wrong = sum(10**i for i, t in enumerate(ones_first(top)) if sorted((t, d)) == [x, y])
        return top * d + (taken - x * y) * wrong

    return row

INSIDE = {name: [row] for name, row in ROWS.items()}
for x in range(2, 10):
    for y in range(x, 10):
        INSIDE[f"fact-{x}x{y}"] = [row_with_fact(x, y, n) for n in sorted(taken_for(x, y))]

# ------------------------------------------------------------- the rows put together, one wrong way
#
# Each takes the rows as (place, digit, row) from the ones up and the multiplier's number of digits, and
# gives the numbers as they stand on the page, to be added.

def rightly(rows, width):
    return [row * 10**j for j, _, row in rows]

def not_shifted(rows, width):
    return [row for _, _, row in rows]

def shifted_once(rows, width):
    return [row * 10 ** min(j, 1) for j, _, row in rows]

def closed_up(rows, width):
    """The nought is skipped, so each row is shifted by the number of rows above it."""
    return [row * 10**above for above, (_, _, row) in enumerate(rows)]

def one_place_too_many(rows, width):
    return [row * 10 ** (j + 1 if j else 0) for j, _, row in rows]

def in_reverse(rows, width):
    return [row * 10 ** (width - 1 - j) for j, _, row in rows]

def first_only(rows, width):
    return rightly(rows, width)[:1]

def highest_only(rows, width):
    return rightly(rows, width)[-1:]

PLACING = {
    "placeholder-left-out": not_shifted,
    "hundreds-row-shifted-once": shifted_once,
    "row-after-zero-closed-up": closed_up,
    "later-rows-extra-zero": one_place_too_many,
    "rows-shifted-in-reverse": in_reverse,
    "only-first-row": first_only,
    "only-highest-row": highest_only,
    "zero-row-copied": rightly,
    "adding-carries-lost": rightly,
}

# These leave rows to be added, so the carries of the adding can be lost as well.
ADDED_AFTER = [name for name in PLACING if not name.startswith("only-") and name != "adding-carries-lost"]

def in_rows(top, low, row, placing):
    """The numbers under the line, for each way that a nought of the multiplier may be treated."""
    digits = list(enumerate(ones_first(low)))
    every = [(j, d, row(top, d)) for j, d in digits]
    every = [(j, d, n) for j, d, n in every if d or n]
    without = [(j, d, n) for j, d, n in every if d]
    skipped = placing in ("zero-row-copied", "row-after-zero-closed-up")
    for rows in [without] if skipped else [without, every]:
        if all(n == top * d for _, d, n in rows):
            continue
        if placing == "zero-row-copied":
            rows = sorted(rows + [(j, d, top) for j, d in digits if not d])
        yield PLACING[placing](rows, len(digits))

def misplaced(top, low, placing):
    """Right rows, placed wrongly; nothing where they come to the right answer."""
    rows = [(j, d, top * d) for j, d in enumerate(ones_first(low)) if d]
    if placing == "zero-row-copied":
        rows = [(j, d, top * (d or 1)) for j, d in enumerate(ones_first(low))]
    numbers = PLACING[placing](rows, len(str(low)))
    return [] if sum(numbers) == top * low else [no_carry_sum(numbers)]

def both(one, other, a, b):
    """What a pupil may answer who does both, smallest first; `one` is about rows or about placing."""
    top, low = (b, a) if len(str(b)) > len(str(a)) else (a, b)
    if one in INSIDE:
        add = no_carry_sum if other == "adding-carries-lost" else sum
        found = {add(numbers) for row in INSIDE[one] for numbers in in_rows(top, low, row, other)}
    else:
        found = set(misplaced(top, low, one))
    return sorted(found - {a * b})

PAIRS = [(one, other) for one in INSIDE for other in PLACING]
PAIRS += [(one, "adding-carries-lost") for one in ADDED_AFTER]

# Inner noughts, noughts at the end, ones, facts of 6 and more, equal digits; two digits by two to
# four by three, some with the shorter number first.
SUMS = [
    (47, 36), (423, 206), (86, 57), (58, 94), (66, 99), (12, 34), (90, 68), (47, 30), (80, 70), (11, 11),
    (71, 18), (99, 99), (25, 64), (36, 52), (19, 91), (73, 45), (68, 79), (10, 27), (308, 46), (478, 60),
    (994, 17), (265, 34), (607, 85), (110, 73), (517, 29), (840, 36), (901, 19), (777, 88), (346, 50), (208, 90),
    (129, 14), (653, 21), (312, 213), (524, 367), (608, 509), (476, 800), (731, 120), (999, 999), (405, 304), (186, 101),
    (830, 610), (259, 748), (700, 307), (563, 111), (4008, 79), (5476, 38), (1010, 47), (6390, 56), (2719, 90), (8007, 16),
    (3145, 72), (9507, 740), (7092, 209), (8365, 574), (1234, 567), (4060, 305), (5900, 418), (6178, 600), (1111, 111), (3007, 908),
    (36, 478), (24, 3075), (206, 4731), (80, 606), (19, 110), (7246, 183),
]

def lines(one, other):
    for a, b in SUMS:
        yield f"{a}x{b}:{','.join(map(str, both(one, other, a, b)))}\n"

def digest(one, other):
    shown = [both(one, other, a, b) for a, b in SUMS]
    active = sum(1 for answers in shown if answers)
    total = sum(len(answers) for answers in shown)
    first = " ".join(line.strip() for line, _ in zip(lines(one, other), range(2)))
    return f"{one} {other} {active} {total} {fnv(lines(one, other)):016x} {first}"

def main():
    if len(sys.argv) == 3:
        sys.stdout.writelines(lines(sys.argv[1], sys.argv[2]))
        return
    print("# sums:", " ".join(f"{a}x{b}" for a, b in SUMS))
    print("# two patterns, on how many of the sums they show, answers in all, FNV-1a of every line, two lines; by pairs.py")
    for one, other in PAIRS:
        print(digest(one, other))

if __name__ == "__main__":
    main()
