#!/usr/bin/env python3
"""The pages of a term set by this program and by general typesetting libraries, in one run.

    python3 tests/bench/pages_versus_typesetters.py --rungwise target/release/rungwise [--lessons N]

A class's packs are printed once, so that they are kept; then the program prints them again from what
it kept: it reads and checks each pack, works out where everything stands, and writes the PDF files.
The libraries get those pages worked out already, as texts and lines with their places, the same
fonts and the same number of files; they only have to set them. So the comparison favours them.
Each is run as often as --runs says and the best run counts, on one processor each (Linux).

Libraries: Typst (the `typst` package: a typesetting system with caching, in Rust) and ReportLab (a
page-drawing library, in Python). One that is not installed is left out, and said so.
"""

import argparse
import os
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import time
import zlib
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
FONTS = {"F0": "Regular", "F1": "Bold", "F2": "Italic"}


def objects(data):
    """The objects of a PDF written by us: number to (dictionary, stream)."""
    found = {}
    for match in re.finditer(rb"(\d+) 0 obj\s*(.*?)\s*endobj", data, re.S):
        body = match[2]
        head, _, stream = body.partition(b"stream\n")
        length = re.search(rb"/Length (\d+)", head)
        stream = stream[: int(length[1])] if length else b""
        found[int(match[1])] = (head, stream)
    return found


def number(head, key):
    return int(re.search(rb"/" + key + rb" (\d+) 0 R", head)[1])


def unicode_map(all_objects, font):
    text = zlib.decompress(all_objects[number(all_objects[font][0], b"ToUnicode")][1]).decode()
    pairs = re.findall(r"<([0-9A-F]{4})> <([0-9A-F]+)>", text)
    return {glyph: bytes.fromhex(code).decode("utf-16-be") for glyph, code in pairs}


def pages_of(path):
    """A file's pages: size, texts (x, y, size, face, text) and lines (points, thickness)."""
    every = objects(path.read_bytes())
    pages = []
    for head, _ in every.values():
        if not re.search(rb"/Type\s*/Page\b", head):
            continue
        box = [float(n) for n in re.search(rb"/MediaBox\s*\[([^]]*)\]", head)[1].split()]
        fonts = every[number(head, b"Resources")][0]
        maps = {}
        for name, reference in re.findall(rb"/(F\d) (\d+) 0 R", fonts):
            maps[name.decode()] = unicode_map(every, int(reference))
        contents = zlib.decompress(every[number(head, b"Contents")][1]).decode("latin-1")
        pages.append((box[2], box[3], *marks(contents, maps)))
    return pages


def marks(contents, maps):
    texts, lines, points = [], [], []
    at, face, size, thick = (0.0, 0.0), "F0", 12.0, 1.0
    for line in contents.splitlines():
        *operands, operator = line.split()
        if operator == "Td":
            at = (float(operands[0]), float(operands[1]))
        elif operator == "Tf":
            face, size = operands[0][1:], float(operands[1])
        elif operator == "Tj":
            glyphs = re.findall("....", operands[0].strip("<>").upper())
            text = "".join(maps[face][glyph] for glyph in glyphs)
            texts.append((*at, size, face, text))
        elif operator == "w":
            thick = float(operands[0])
        elif operator == "m":
            points = [(float(operands[0]), float(operands[1]))]
        elif operator == "l":
            points.append((float(operands[0]), float(operands[1])))
        elif operator == "S":
            lines.append((points, thick))
    return texts, lines


def timed(work, runs):
    """The best of some runs: by the clock, and of processor (children too), seconds."""
    best = (float("inf"), float("inf"))
    for _ in range(runs):
        before = [resource.getrusage(w) for w in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
        begun = time.perf_counter()
        work()
        clock = time.perf_counter() - begun
        after = [resource.getrusage(w) for w in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
        spent = sum(a.ru_utime + a.ru_stime - b.ru_utime - b.ru_stime for a, b in zip(after, before))
        best = min(best, (clock, spent), key=lambda pair: pair[1])
    return best


def with_reportlab(files, folder):
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    for face, name in FONTS.items():
        pdfmetrics.registerFont(TTFont(face, str(ROOT / f"fonts/RungwiseText-{name}.ttf")))

    def work():
        for place, pages in enumerate(files):
            canvas = Canvas(str(folder / f"{place}.pdf"), pageCompression=1)
            for wide, high, texts, lines in pages:
                canvas.setPageSize((wide, high))
                for x, y, size, face, text in texts:
                    canvas.setFont(face, size)
                    canvas.drawString(x, y, text)
                for points, thick in lines:
                    canvas.setLineWidth(thick)
                    path = canvas.beginPath()
                    path.moveTo(*points[0])
                    for point in points[1:]:
                        path.lineTo(*point)
                    canvas.drawPath(path)
                canvas.showPage()
            canvas.save()

    return work


def typst_source(pages):
    weights = {"F0": "", "F1": ', weight: "bold"', "F2": ', style: "italic"'}
    out = ['#set text(font: "Rungwise Text", top-edge: "baseline", bottom-edge: "baseline")\n']
    for index, (wide, high, texts, lines) in enumerate(pages):
        out.append(f"#set page(width: {wide}pt, height: {high}pt, margin: 0pt)\n")
        if index:
            out.append("#pagebreak()\n")
        for x, y, size, face, text in texts:
            text = text.replace("\\", "\\\\").replace('"', '\\"')
            out.append(
                f'#place(dx: {x}pt, dy: {high - y:.3f}pt, text(size: {size}pt{weights[face]}, "{text}"))\n'
            )
        for points, thick in lines:
            steps = [f"({x}pt, {high - y:.3f}pt)" for x, y in points]
            moves = [f"curve.move({steps[0]})"] + [f"curve.line({step})" for step in steps[1:]]
            out.append(f"#place(curve(stroke: {thick}pt, {', '.join(moves)}))\n")
    return "".join(out)


def with_typst(files, folder):
    import typst

    sources = []
    for place, pages in enumerate(files):
        source = folder / f"{place}.typ"
        source.write_text(typst_source(pages), encoding="utf-8")
        sources.append(source)

    def work():
        # The fonts are found once, as a program that sets many files would.
        compiler = typst.Compiler(root=str(folder), font_paths=[str(ROOT / "fonts")], ignore_system_fonts=True)
        for source in sources:
            compiler.compile(input=str(source), output=str(source.with_suffix(".pdf")))

    return work


def ours(program, folder, lessons):
    """Prints a class's first lessons, so that they are kept; what prints them again, and the files."""
    shutil.copy(ROOT / "plans/kingfisher/plan.toml", folder / "plan.toml")
    day = ["--today", "2026-11-26"]

    def run(*arguments):
        done = subprocess.run([program, *arguments, *day], capture_output=True, text=True)
        if done.returncode:
            sys.exit(f"{' '.join(arguments)}: {done.stderr}")

    run("plan", str(folder))
    if lessons:
        for lesson in range(1, lessons + 1):
            run("pack", str(folder), "--lesson", str(lesson))
    else:
        run("pack", str(folder), "--all")
    out = folder / "again"

    def work():
        if lessons:
            for lesson in range(1, lessons + 1):
                run("pack", str(folder), "--lesson", str(lesson), "--out", str(out))
        else:
            run("pack", str(folder), "--all", "--out", str(out))

    return work, sorted((folder / "packs").glob("L*/*.pdf"))


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--rungwise", default=str(ROOT / "target/release/rungwise"))
    parser.add_argument("--lessons", type=int, default=0, help="only the first so many lessons")
    parser.add_argument("--runs", type=int, default=3)
    arguments = parser.parse_args()
    if not Path(arguments.rungwise).exists():
        sys.exit(f"{arguments.rungwise} is not there: cargo build --release makes it")
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})
    with tempfile.TemporaryDirectory() as home:
        home = Path(home)
        (home / "class").mkdir()
        work, paths = ours(arguments.rungwise, home / "class", arguments.lessons)
        files = [pages_of(path) for path in paths]
        count = sum(len(pages) for pages in files)
        texts = sum(len(page[2]) for pages in files for page in pages)
        lines = sum(len(page[3]) for pages in files for page in pages)
        print(f"{len(files)} files, {count} pages, {texts} texts, {lines} lines, one processor")
        base = report("ours, read, checked, laid out and written", timed(work, arguments.runs), count)
        for name, make in [("Typst", with_typst), ("ReportLab", with_reportlab)]:
            folder = home / name
            folder.mkdir()
            try:
                work = make(files, folder)
            except ImportError:
                print(f"{name}: not installed, left out")
                continue
            report(f"{name}, placing only", timed(work, arguments.runs), count, base)
            written = list(folder.glob("*.pdf"))
            assert len(written) == len(files), f"{name} wrote {len(written)} files"


def report(name, measured, count, base=None):
    clock, spent = measured
    times = f", {spent / base:.1f} times ours" if base else ""
    print(f"{name}: {clock:.2f} s, {spent:.2f} s of processor, {count / spent:.0f} pages a second{times}")
    return spent


if __name__ == "__main__":
    main()
