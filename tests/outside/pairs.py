#!/usr/bin/env python3
"""Two error patterns in one long sum, written a second time from the catalogue's words.

    python3 tests/outside/pairs.py > tests/outside/pairs.txt      the digest that the test reads
    python3 tests/outside/pairs.py carry-not-added only-first-row  every sum with its answer

The longer number stands on top. A row is written for every digit of the multiplier but a nought,
worked in the one wrong way; then the rows are put in their places and added in the other. Where no
row comes out wrong, and where the answer is the right one all the same, there is none. A row that is
copied for a nought is the number on top as it stands. Rows that are right and in wrong places may
be added with the carries lost.
"""

import sys

import patterns as one

ROWS = {
    "carry-not-added": one.drop_carry,
    "carry-added-before-multiplying": one.carry_before_mult,
    "products-written-in-full": one.write_full_product,
    "carry-and-digit-swapped": one.carry_swapped,
    "multiplied-by-the-carry": one.carry_times_digit,
    "only-ones-multiplied": one.units_only,
    "ones-copied": one.units_copied,
    "last-carry-lost": one.last_carry_lost,
    "always-carries-one": one.always_carry_one,
    "switched-to-adding": one.switch_to_add,
    "worked-left-to-right": one.left_to_right,
    "zero-swallows-carry": one.zero_swallows_carry,
    "carry-hops-zero": one.carry_hops_zero,
    "inner-zero-skipped": one.inner_zero_skipped,
    "zero-taken-as-one": one.zero_as_one,
    "one-times-adds-one": one.one_plus,
    "facts-one-step-up": one.fact_up,
    "facts-one-step-down": one.fact_down,
    "digits-added": one.digit_add,
    "written-digit-carried": one.adds_written_digit,
}


def with_copied(top, low, rows):
    """The rows in their places, and a copy of the number on top for every nought."""
    placed = [n * 10**j for j, n in rows]
    return placed + [top * 10**j for j, d in enumerate(one.ones_first(low)) if d == 0]


# By name: the numbers that are added, from (top, low, [(place, row)]).
PLACES = {
    "placeholder-left-out": lambda top, low, rows: [n for _, n in rows],
    "hundreds-row-shifted-once": lambda top, low, rows: [n * 10 ** min(j, 1) for j, n in rows],
    "row-after-zero-closed-up": lambda top, low, rows: [n * 10**k for k, (_, n) in enumerate(rows)],
    "later-rows-extra-zero": lambda top, low, rows: [n * 10 ** (j + 1 if j else 0) for j, n in rows],
    "rows-shifted-in-reverse": lambda top, low, rows: [n * 10 ** (len(str(low)) - 1 - j) for j, n in rows],
    "only-first-row": lambda top, low, rows: [n * 10**j for j, n in rows[:1]],
    "only-highest-row": lambda top, low, rows: [n * 10**j for j, n in rows[-1:]],
    "zero-row-copied": with_copied,
}
ADDING = "adding-carries-lost"
SUMS = (
    [(11 + k * 37 % 89, 11 + k * 53 % 89) for k in range(89)]
    + [(101 + k * 379 % 899, 11 + k * 71 % 89) for k in range(120)]
    + [(1001 + k * 3779 % 8999, 101 + k * 397 % 899) for k in range(150)]
    + [(478, 60), (308, 506), (4008, 790), (90, 68), (36, 478), (700, 304)]
)


def right_row(top, d):
    return top * d


def answer(row, placing, top, low):
    """What a pupil writes; None where it is the right answer."""
    if len(str(low)) > len(str(top)):
        top, low = low, top
    work = ROWS.get(row, right_row)
    rows = [(j, work(top, d)) for j, d in one.rows_of(low)]
    if row in ROWS and all(n == top * d for (_, n), (_, d) in zip(rows, one.rows_of(low))):
        return None
    if placing == ADDING and row in ROWS:
        wrong = one.no_carry_sum([n * 10**j for j, n in rows])
    else:
        place = PLACES[placing if row in ROWS else row]
        numbers = place(top, low, rows)
        if row not in ROWS and sum(numbers) == top * low:
            return None
        wrong = sum(numbers) if row in ROWS else one.no_carry_sum(numbers)
    return None if wrong == top * low else wrong


def lines(row, placing):
    for top, low in SUMS:
        wrong = answer(row, placing, top, low)
        yield f"{top}x{low}:{'' if wrong is None else wrong}\n"


def pairs():
    for row in ROWS:
        for placing in [*PLACES, ADDING]:
            yield row, placing
    for placing in PLACES:
        if not placing.startswith("only-"):
            yield placing, ADDING


def main():
    if len(sys.argv) == 3:
        sys.stdout.writelines(lines(sys.argv[1], sys.argv[2]))
        return
    print("# two patterns, on how many sums both give a wrong answer, FNV-1a of every line; by pairs.py")
    for row, placing in pairs():
        shown = sum(1 for top, low in SUMS if answer(row, placing, top, low) is not None)
        print(f"{row} {placing} {shown} {one.fnv(lines(row, placing)):016x}")


if __name__ == "__main__":
    main()
