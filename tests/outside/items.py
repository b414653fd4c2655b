#!/usr/bin/env python3
"""Reads items, one JSON line each, and checks every answer with Python's own integers.

Whole products come with their rows and carries, others with their expression. The first item that
is not right is printed and ends the run with status 1; else how many were read is printed.
"""

import json
import re
import sys

PLAIN = re.compile(r"[0-9+\-*/() ]+")


def carries(a, digit):
    """The carry out of each digit of a, from what the digits up to it come to."""
    return [a % 10 ** (i + 1) * digit // 10 ** (i + 1) for i in range(len(str(a)))]


def is_right(item):
    answer = int(item["answer"])
    if not PLAIN.fullmatch(item["expression"]) or eval(item["expression"]) != answer:
        return False
    rows = item.get("rows")
    if rows is None:
        return True
    a, b, total = item["a"], item["b"], 0
    for digit, place, value, noted in rows:
        if value != a * digit * place or noted != carries(a, digit) or b // place % 10 != digit:
            return False
        total += value
    places = range(len(str(answer))) if len(rows) > 1 else ()
    added = [sum(row[2] % 10 ** (i + 1) for row in rows) // 10 ** (i + 1) for i in places]
    return total == a * b == answer and item["adding"] == added


def main():
    count = 0
    for line in sys.stdin:
        if not is_right(json.loads(line)):
            print(f"NOT RIGHT: {line.strip()}")
            sys.exit(1)
        count += 1
    print(f"{count} items, every one right")


if __name__ == "__main__":
    main()
