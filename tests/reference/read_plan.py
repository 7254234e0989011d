#!/usr/bin/env python3
"""Reads back the card and the plan that tests/plan/paper.rs leaves, with readers that share no code with the program.

    PLEATWRIGHT_PRINT_DIR=FOLDER cargo test --test plan && tests/reference/read_plan.py FOLDER/plan

Needs pypdf and pdfplumber (PyPI), qpdf and pdftoppm on the path. Exit status 1 when a check fails.
"""

import os
import subprocess
import sys

import pdfplumber
import pypdf

MM_PER_PT = 25.4 / 72
EXPECTED = {
    "card.pdf": ["Harbour Row tee, M", "soda ash soak", "thiourea dioxide: 5.26 g", "Cautions", "Done at"],
    "plan.pdf": ["Harbour Row regatta", "33 garments", "Shopping list", "The days at a glance", "Timetable", "sulfur dioxide"],
}

failures = []


def check(good, what):
    if not good:
        failures.append(what)
        print("FAILED:", what)


def overlaps(words):
    """Words that stand on another, judged by the middle of their letters."""
    found = []
    for index, a in enumerate(words):
        for b in words[:index]:
            across = min(a["x1"], b["x1"]) - max(a["x0"], b["x0"])
            down = min(a["bottom"], b["bottom"]) - max(a["top"], b["top"])
            if across > 0.5 and down > 0.6 * min(a["bottom"] - a["top"], b["bottom"] - b["top"]):
                found.append((a["text"], b["text"]))
    return found


def read(path):
    name = os.path.basename(path)
    check(subprocess.run(["qpdf", "--check", path], capture_output=True).returncode == 0, f"{name}: qpdf --check")
    drawn = subprocess.run(["pdftoppm", "-r", "30", "-gray", path], capture_output=True)
    check(drawn.returncode == 0 and b"Syntax" not in drawn.stderr, f"{name}: pdftoppm {drawn.stderr[:200]}")
    text = " ".join(page.extract_text() for page in pypdf.PdfReader(path).pages)
    text = " ".join(text.split())
    for needle in EXPECTED[name]:
        check(needle in text, f"{name}: \"{needle}\" is not in its text")
    boxes = 0
    with pdfplumber.open(path) as pdf:
        for number, page in enumerate(pdf.pages):
            for box in page.chars + page.images + page.rects:
                inside = box["x0"] >= 0 and box["top"] >= 0 and box["x1"] <= page.width and box["bottom"] <= page.height
                check(inside, f"{name} page {number + 1}: something leaves the page at {box['x0']:.0f}, {box['top']:.0f}")
            found = overlaps(page.extract_words())
            check(not found, f"{name} page {number + 1}: words on words: {found[:3]}")
            boxes += sum(1 for rect in page.rects if abs(rect["width"] * MM_PER_PT - 3.2) < 0.1 and abs(rect["height"] - rect["width"]) < 0.1)
    check(boxes > 20, f"{name}: {boxes} boxes to tick")


def main():
    for name in EXPECTED:
        read(os.path.join(sys.argv[1], name))
        print("read", name)
    sys.exit(1 if failures else 0)


main()
