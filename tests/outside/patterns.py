#!/usr/bin/env python3
"""The catalogue of error patterns, written a second time, from its words and not from the program.

    python3 tests/outside/patterns.py > tests/outside/patterns.txt     the digest that the test reads
    python3 tests/outside/patterns.py carry-not-added long             every sum with its answers

A number is a list of digits only where a pupil looks at digits; otherwise Python's own integers do
the work. `top` is the number written on top, `low` the multiplier. A pattern returns the answers it
may give for one way round; both ways round are tried, and what is the right answer is dropped.

Where the catalogue gives a rule and no range, the reading is: a row pattern needs at least two
digits on top (one digit times one digit is a fact), a pattern of long multiplication a multiplier
of at least two digits, a grid two digits both ways; "nearby" round numbers are the nearest ten at
most four away, of one digit 8 and 9 only; doubling and halving is tried where one number is even
and above 2 and the other ends in 5; nought is no operand of an operand error.
"""

import sys

def ones_first(n):
    return [int(c) for c in reversed(str(n))]

def cat(parts_ones_first):
    """Each part in full, left to right from the highest column."""
    return int("".join(str(p) for p in reversed(parts_ones_first)))

# ---------------------------------------------------------------------------------------- rows

def classic_row(top, d, product=lambda x, d, c: x * d + c, put=None):
    """Column by column from the ones, the top column in full. `put` says digit and carry."""
    put = put or (lambda p: (p % 10, p // 10))
    carry, parts = 0, []
    digits = ones_first(top)
    for i, x in enumerate(digits):
        p = product(x, d, carry)
        write, carry = put(p)
        parts.append(p if i == len(digits) - 1 else write)
    return cat(parts)

def drop_carry(top, d):
    return classic_row(top, d, lambda x, d, c: x * d)

def carry_before_mult(top, d):
    return classic_row(top, d, lambda x, d, c: (x + c) * d)

def write_full_product(top, d):
    return cat([x * d for x in ones_first(top)])

def carry_swapped(top, d):
    return classic_row(top, d, put=lambda p: (p // 10, p % 10) if p >= 10 else (p, 0))

def carry_times_digit(top, d):
    return classic_row(top, d, lambda x, d, c: x * c if c else x * d)

def units_only(top, d):
    return top - top % 10 + top % 10 * d

def units_copied(top, d):
    return 10 * (top // 10 * d) + top % 10

def last_carry_lost(top, d):
    return top * d % 10 ** len(str(top))

def always_carry_one(top, d):
    return classic_row(top, d, put=lambda p: (p % 10, 1 if p >= 10 else 0))

def switch_to_add(top, d):
    first, parts = True, []
    digits, carry = ones_first(top), 0
    for i, x in enumerate(digits):
        p = x * d if first else x + d + carry
        first = False
        parts.append(p if i == len(digits) - 1 else p % 10)
        carry = p // 10
    return cat(parts)

def left_to_right(top, d):
    text, carry = "", 0
    for place, c in enumerate(str(top)):
        p = int(c) * d + carry
        last = place == len(str(top)) - 1
        text += str(p) if last else str(p % 10)
        carry = p // 10
    return int(text)

def zero_swallows_carry(top, d):
    return classic_row(top, d, lambda x, d, c: 0 if x == 0 else x * d + c)

def carry_hops_zero(top, d):
    parts, waiting = [], 0
    digits = ones_first(top)
    for i, x in enumerate(digits):
        if x == 0:
            parts.append(0)
            continue
        p = x * d + waiting
        parts.append(p if i == len(digits) - 1 else p % 10)
        waiting = p // 10
    return cat(parts)

def inner_zero_skipped(top, d):
    core = str(top).rstrip("0")
    tail = str(top)[len(core):]
    return int(core.replace("0", "") + tail) * d

def zero_as_one(top, d):
    return classic_row(top, d, lambda x, d, c: (d if x == 0 else x * d) + c)

def one_plus(top, d):
    return classic_row(top, d, lambda x, d, c: (d + 1 if x == 1 else x * d) + c)

def fact_up(top, d):
    return sum((x * d + (x if x >= 6 and d >= 6 else 0)) * 10**i for i, x in enumerate(ones_first(top)))

def fact_down(top, d):
    return sum((x * d - (x if x >= 6 and d >= 6 else 0)) * 10**i for i, x in enumerate(ones_first(top)))

def digit_add(top, d):
    return classic_row(top, d, lambda x, d, c: x + d + c)

def adds_written_digit(top, d):
    return classic_row(top, d, put=lambda p: (p % 10, p % 10 if p >= 10 else 0))

def in_rows(row):
    """Every row worked so; a nought in the multiplier with no row, or with one worked alike."""

    def answers(top, low):
        if top < 10:
            return []
        digits = list(enumerate(ones_first(low)))
        all_rows = sum(row(top, d) * 10**j for j, d in digits)
        without = sum(row(top, d) * 10**j for j, d in digits if d)
        return [all_rows, without]

    return answers

# ------------------------------------------------------------------------------ long multiplication

def rows_of(low):
    """Place and digit of each row written: none for a nought."""
    return [(j, d) for j, d in enumerate(ones_first(low)) if d]

def omit_placeholder(a, b):
    return [sum(a * d for _, d in rows_of(b))]

def shift_once_only(a, b):
    return [sum(a * d * 10 ** min(j, 1) for j, d in rows_of(b))]

def columnwise(a, b):
    x, y = ones_first(a), ones_first(b)
    width = max(len(x), len(y))
    x += [x[-1]] * (width - len(x))
    y += [y[-1]] * (width - len(y))
    carry, parts = 0, []
    for i in range(width):
        p = x[i] * y[i] + carry
        parts.append(p if i == width - 1 else p % 10)
        carry = p // 10
    return [cat(parts)]

def matching_places(a, b):
    return [sum(x * y * 100**i for i, (x, y) in enumerate(zip(ones_first(a), ones_first(b))))]

def zero_row_copied(a, b):
    return [sum(a * (d or 1) * 10**j for j, d in enumerate(ones_first(b)))]

def zero_row_skipped(a, b):
    return [sum(a * d * 10**written for written, (_, d) in enumerate(rows_of(b)))]

def old_carries(a, b, added):
    found = []
    with_noughts = list(enumerate(ones_first(b)))
    for rows in (rows_of(b), rows_of(b)[::-1], with_noughts, with_noughts[::-1]):
        old, total = None, 0
        for j, d in rows:
            carry, parts, made = 0, [], []
            digits = ones_first(a)
            for i, x in enumerate(digits):
                waiting = old[i - 1] if old and i else 0
                extra = carry + waiting if added else (waiting or carry)
                p = x * d + extra
                parts.append(p if i == len(digits) - 1 else p % 10)
                carry = p // 10
                made.append(carry)
            old = old or made
            total += cat(parts) * 10**j
        found.append(total)
    return found

def no_carry_sum(numbers):
    width = max(len(str(n)) for n in numbers)
    return int("".join(str(sum(int(s[k]) for s in (str(n).zfill(width) for n in numbers)) % 10) for k in range(width)))

def cells(a, b):
    """Grid cells by the places of their parts."""
    return {
        (i, j): x * y * 10 ** (i + j)
        for i, x in enumerate(ones_first(a))
        for j, y in enumerate(ones_first(b))
        if x and y
    }

def final_add_no_carry(a, b):
    return [no_carry_sum([a * d * 10**j for j, d in rows_of(b)]), no_carry_sum(list(cells(a, b).values()))]

def first_row_only(a, b):
    j, d = rows_of(b)[0]
    return [a * d * 10**j]

def leading_row_only(a, b):
    j, d = rows_of(b)[-1]
    return [a * d * 10**j]

def without_cell(which):
    def answers(a, b):
        grid = cells(a, b)
        place = which(len(str(a)) - 1, len(str(b)) - 1)
        return [a * b - grid.get(place, 0)]

    return answers

def grid_lead_zero_lost(a, b):
    lead = cells(a, b)[len(str(a)) - 1, len(str(b)) - 1]
    return [a * b - lead + lead // 10]

def extra_zero_later_rows(a, b):
    return [sum(a * d * 10 ** (j + 1 if j else 0) for j, d in rows_of(b))]

def rows_reversed(a, b):
    return [a * int(str(b)[::-1])]

def placeholder_overwrites(a, b):
    total = 0
    for j, d in rows_of(b):
        row = a * d
        total += row - row % 10**j
    return [total]

def several(pattern, grid=False):
    return lambda a, b: pattern(a, b) if b >= 10 and (a >= 10 or not grid) else []

# ------------------------------------------------------------------------------------------ zeros

def bare(n):
    core = str(n).rstrip("0")
    return int(core), len(str(n)) - len(core)

def one_zero_short(a, b):
    (x, p), (y, q) = bare(a), bare(b)
    return [x * y * 10 ** (p + q - 1)] if p + q else []

def one_zero_extra(a, b):
    """For round numbers; under a multiplier of several digits every row given a placeholder."""
    (x, p), (y, q) = bare(a), bare(b)
    return [x * y * 10 ** (p + q + 1)] if p + q or b > 9 else []

def zeros_of_one_factor(a, b):
    (x, p), (y, q) = bare(a), bare(b)
    return [x * y * 10 ** max(p, q)]

def product_zero_counted(a, b):
    (x, p), (y, q) = bare(a), bare(b)
    return [x * y * 10 ** (p + q - 1)] if x * y % 10 == 0 and p + q else []

# ----------------------------------------------------------------------------------------- mental

def adjusting(rule):
    def answers(a, b):
        m = (b + 5) // 10 * 10
        o = b - m
        if m == 0 or o == 0 or abs(o) > (4 if b > 9 else 2):
            return []
        return [n for n in rule(a, m, o) if n >= 0]

    return answers

def sign(o):
    return 1 if o > 0 else -1

ADJUSTING = {
    "adjusted-the-wrong-way": lambda a, m, o: [a * m - a * o],
    "adjusted-by-the-difference": lambda a, m, o: [a * m + o],
    "adjusting-forgotten": lambda a, m, o: [a * m],
    "difference-the-wrong-way": lambda a, m, o: [a * m - o],
    "adjusted-once-only": lambda a, m, o: [a * m + a * sign(o)] if abs(o) >= 2 else [],
    "adjusted-as-in-adding": lambda a, m, o: [(a + o) * m] if a + o >= 0 else [],
}

def suits_doubling(a, b):
    return any(x % 2 == 0 and x > 2 and y % 10 == 5 for x, y in ((a, b), (b, a)))

PART_OF = {5: 10, 50: 100, 25: 100}

def factors_added(a, b):
    if a < 10 or b < 10:
        return []
    return [a * c + a * (b // c) for c in range(2, 10) if b % c == 0 and 2 <= b // c <= 9]

def tens_and_ones(n):
    return (n // 10 * 10, n % 10) if 10 < n < 100 and n % 10 else None

def parts_multiplied(a, b):
    parts = tens_and_ones(b)
    return [a * parts[0] * parts[1]] if parts else []

def place_lost(a, b):
    parts = tens_and_ones(a)
    return [parts[0] // 10 * b + parts[1] * b] if parts and 2 <= b <= 9 else []

MENTAL = {
    "doubled-not-halved": lambda a, b: [2 * a * b] if suits_doubling(a, b) else [],
    "both-doubled": lambda a, b: [2 * a * 2 * b] if suits_doubling(a, b) else [],
    "not-halved-or-quartered": lambda a, b: [a * PART_OF[b]] if b in PART_OF else [],
    "quarter-taken-as-half": lambda a, b: [a * 100 // 2] if b == 25 else [],
    "doubled-instead-of-halved": lambda a, b: [a * PART_OF[b] * 2] if b in (5, 50) else [],
    "factors-added": factors_added,
    "parts-multiplied": parts_multiplied,
    "tens-lost-their-zero": place_lost,
    "odd-half-dropped": lambda a, b: [a // 2 * PART_OF[b]] if b in (5, 50) and a > 1 else [],
}

# -------------------------------------------------------------------------------------- estimates

def unit(n):
    return 10 ** (len(str(n)) - 1)

def floor_to(n, u):
    return n // u * u

def ceil_to(n, u):
    return -(-n // u) * u

def half_up(n, u):
    return (2 * n + u) // (2 * u) * u

def leading(n):
    return half_up(n, unit(n))

def farther(n):
    below, above = floor_to(n, unit(n)), ceil_to(n, unit(n))
    return above if leading(n) == below else below

def five_down(n):
    return floor_to(n, unit(n)) if n > 9 and str(n)[1] == "5" else leading(n)

def first_digit(n):
    return int(str(n)[0])

def estimate_zero_counted(a, b):
    fact = first_digit(leading(a)) * first_digit(leading(b))
    return [leading(a) * leading(b) // 10] if fact % 10 == 0 else []

def last_place(n):
    return 10 ** (len(str(n)) - len(str(n).rstrip("0")))

ESTIMATES = {
    "both-rounded-down": lambda a, b: [floor_to(a, unit(a)) * floor_to(b, unit(b))],
    "both-rounded-up": lambda a, b: [ceil_to(a, unit(a)) * ceil_to(b, unit(b))],
    "rounded-to-the-farther": lambda a, b: [farther(a) * farther(b)],
    "five-rounded-down": lambda a, b: [five_down(a) * five_down(b)],
    "estimate-one-zero-short": lambda a, b: [leading(a) * leading(b) // 10],
    "estimate-one-zero-too-many": lambda a, b: [leading(a) * leading(b) * 10],
    "only-leading-digits": lambda a, b: [first_digit(leading(a)) * first_digit(leading(b))],
    "estimate-zero-of-the-fact-counted": estimate_zero_counted,
    "rounded-then-added": lambda a, b: [leading(a) + leading(b)],
    "rounded-to-tens-only": lambda a, b: [half_up(a, 10 if a > 9 else 1) * half_up(b, 10 if b > 9 else 1)],
    "worked-out-then-rounded": lambda a, b: [half_up(a * b, last_place(leading(a) * leading(b)))],
}

# ------------------------------------------------------------------------------------------ facts

def operand_errors(x, y, far):
    found = []
    for keep, lose in ((x, y), (y, x)):
        for z in range(1, 15):
            if far(abs(z - lose)) and (abs(z - lose) <= 2 or 2 <= z <= 9):
                found.append(keep * z)
    return found if x and y else []

def same_decade(x, y):
    return [n for n in operand_errors(x, y, lambda k: k > 0) if n // 10 == x * y // 10]

def table_other(x, y):
    if x < 2 or y < 2:
        return []
    operand = operand_errors(x, y, lambda k: k > 0)
    table = {p * q for p in range(2, 10) for q in range(2, 10) if not {p, q} & {x, y}}
    return [n for n in table if n not in operand]

def reversed_digits(x, y):
    text = str(x * y)
    return [int(text[::-1])] if len(text) > 1 and text[-1] != "0" else []

FACTS = {
    "table-neighbour": lambda x, y: operand_errors(x, y, lambda k: k == 1),
    "table-two-steps-off": lambda x, y: operand_errors(x, y, lambda k: k == 2),
    "other-fact-of-the-table": lambda x, y: operand_errors(x, y, lambda k: k > 2),
    "same-tens-digit": same_decade,
    "fact-of-another-table": table_other,
    "zero-times-keeps-number": lambda x, y: [x + y] if 0 in (x, y) else [],
    "one-times-one-more": lambda x, y: [x * y + 1] if 1 in (x, y) else [],
    "one-times-gives-one": lambda x, y: [1] if 1 in (x, y) else [],
    "fact-digits-exchanged": reversed_digits,
}

def within_tables(pattern):
    return lambda a, b: pattern(a, b) if a <= 12 and b <= 12 else []

def taken_for(x, y):
    """What a pupil with one wrong fact takes x times y for."""
    near = {n for n in table_other(x, y) if abs(n - x * y) <= 5}
    return {x * y - x, x * y - y, x * y + x, x * y + y} | near

def single_fact(x, y):
    """The fact wrong wherever it is needed: one step along either table, or a near fact of others."""

    def answers(a, b):
        weight = sum(
            10 ** (i + j)
            for i, s in enumerate(ones_first(a))
            for j, t in enumerate(ones_first(b))
            if sorted((s, t)) == [x, y]
        )
        return [a * b + (n - x * y) * weight for n in taken_for(x, y)] if weight else []

    return answers

PATTERNS = {name: within_tables(rule) for name, rule in FACTS.items()}
PATTERNS["added-instead"] = lambda a, b: [a + b]
ROWS = {
    "carry-not-added": drop_carry,
    "carry-added-before-multiplying": carry_before_mult,
    "products-written-in-full": write_full_product,
    "carry-and-digit-swapped": carry_swapped,
    "multiplied-by-the-carry": carry_times_digit,
    "only-ones-multiplied": units_only,
    "ones-copied": units_copied,
    "last-carry-lost": last_carry_lost,
    "always-carries-one": always_carry_one,
    "switched-to-adding": switch_to_add,
    "worked-left-to-right": left_to_right,
    "zero-swallows-carry": zero_swallows_carry,
    "carry-hops-zero": carry_hops_zero,
    "inner-zero-skipped": inner_zero_skipped,
    "zero-taken-as-one": zero_as_one,
    "one-times-adds-one": one_plus,
    "facts-one-step-up": fact_up,
    "facts-one-step-down": fact_down,
    "digits-added": digit_add,
    "written-digit-carried": adds_written_digit,
}
PATTERNS.update({name: in_rows(row) for name, row in ROWS.items()})
PATTERNS.update(
    {
        "placeholder-left-out": several(omit_placeholder),
        "hundreds-row-shifted-once": several(shift_once_only),
        "column-by-column": several(columnwise),
        "only-like-places": several(matching_places, grid=True),
        "zero-row-copied": several(zero_row_copied),
        "row-after-zero-closed-up": several(zero_row_skipped),
        "old-carries-added-again": several(lambda a, b: old_carries(a, b, True)),
        "old-carry-used-instead": several(lambda a, b: old_carries(a, b, False)),
        "adding-carries-lost": several(final_add_no_carry),
        "only-first-row": several(first_row_only),
        "only-highest-row": several(leading_row_only),
        "ones-by-leading-left-out": several(without_cell(lambda i, j: (0, j)), grid=True),
        "leading-by-ones-left-out": several(without_cell(lambda i, j: (i, 0)), grid=True),
        "largest-part-zero-lost": several(grid_lead_zero_lost, grid=True),
        "later-rows-extra-zero": several(extra_zero_later_rows),
        "rows-shifted-in-reverse": several(rows_reversed),
        "zero-written-over-digit": several(placeholder_overwrites),
        "one-zero-short": one_zero_short,
        "one-zero-too-many": one_zero_extra,
        "zeros-of-one-number-only": zeros_of_one_factor,
        "zero-of-the-fact-counted": product_zero_counted,
    }
)
PATTERNS.update({name: adjusting(rule) for name, rule in ADJUSTING.items()})
PATTERNS.update(MENTAL)
PATTERNS.update(ESTIMATES)
PATTERNS.update({f"fact-{x}x{y}": single_fact(x, y) for x in range(2, 10) for y in range(x, 10)})

# Each is the other one with the numbers turned round, so it is tried one way round only.
MIRRORED = ("ones-by-leading-left-out", "leading-by-ones-left-out")

SUMS = {
    "facts": [(a, b) for a in range(0, 13) for b in range(0, 13)],
    "short": [(a, b) for a in range(10, 100) for b in range(1, 10)],
    "long": [(a, b) for a in range(10, 100) for b in range(10, 100)],
}

def wrong_answers(name, a, b):
    a, b = (b, a) if len(str(b)) > len(str(a)) else (a, b)
    ways = [(a, b)] if name in MIRRORED else [(a, b), (b, a)]
    right = {a * b}
    if name in ESTIMATES:
        if max(a, b) < 10 or min(a, b) == 0:
            return []
        right.add(leading(a) * leading(b))
    rule = PATTERNS[name]
    needs = name in FACTS or min(a, b) > 0 or name == "added-instead"
    found = {n for x, y in ways for n in rule(x, y)} if needs else set()
    return sorted(found - right)

def lines(name, sums):
    for a, b in SUMS[sums]:
        yield f"{a}x{b}:{','.join(map(str, wrong_answers(name, a, b)))}\n"

def fnv(texts):
    """FNV-1a, 64 bits."""
    value = 0xCBF29CE484222325
    for text in texts:
        for byte in text.encode():
            value = (value ^ byte) * 0x100000001B3 % 2**64
    return value

def digest(name, sums):
    shown = [wrong_answers(name, a, b) for a, b in SUMS[sums]]
    active = sum(1 for answers in shown if answers)
    total = sum(len(answers) for answers in shown)
    return f"{name} {sums} {active} {total} {fnv(lines(name, sums)):016x}"

def main():
    if len(sys.argv) == 3:
        sys.stdout.writelines(lines(sys.argv[1], sys.argv[2]))
        return
    print("# name, sums, on how many it shows, answers in all, FNV-1a of every line; by patterns.py")
    for name in PATTERNS:
        for sums in SUMS:
            if sums == ("long" if name in FACTS else "facts") and name != "added-instead":
                continue
            print(digest(name, sums))

if __name__ == "__main__":
    main()
