#!/usr/bin/env python3
"""Reads back the files that tests/print.rs leaves, with readers that share no code with the program.

    PLEATWRIGHT_PRINT_DIR=FOLDER cargo test --test print && tests/reference/read_back.py FOLDER

Needs pypdf, pdfplumber, svgelements and ezdxf (PyPI), qpdf and pdftoppm on the path. Exit status 1 when a check fails.
"""

import glob
import math
import os
import subprocess
import sys

import ezdxf
import pdfplumber
import pypdf
import svgelements

MM_PER_PT = 25.4 / 72
RADIUS_MM = 12.0  # the circle round the burst centre, tests/common/half_tee.rs
CENTRE_Y_MM = 300.0
TOLERANCE_MM = 0.05
PAPERS_MM = {"a4": (210, 297), "a3": (297, 420), "a0": (841, 1189), "letter": (215.9, 279.4)}

failures = []


def check(good, what):
    if not good:
        failures.append(what)
        print("FAILED:", what)


def close(found, expected, tolerance=TOLERANCE_MM):
    return abs(found - expected) <= tolerance


def bars_mm(page):
    """Lengths of lines on a page, in mm."""
    return [math.hypot(l["x1"] - l["x0"], l["bottom"] - l["top"]) * MM_PER_PT for l in page.lines]


def check_pdf(path):
    name = os.path.basename(path)
    shrink = 0.992 if "99.2" in name else 1.0
    check(subprocess.run(["qpdf", "--check", path], capture_output=True).returncode == 0, f"{name}: qpdf --check")
    drawn = subprocess.run(["pdftoppm", "-r", "20", "-png", path, "/dev/null/none"], capture_output=True, text=True)
    check("Syntax" not in drawn.stderr, f"{name}: pdftoppm {drawn.stderr}")
    reader = pypdf.PdfReader(path)
    catalog = reader.trailer["/Root"]
    check(catalog["/ViewerPreferences"]["/PrintScaling"] == "/None", f"{name}: print scaling")
    check(reader.metadata.title == "Harbour Row" and reader.metadata.creator == "Pleatwright", f"{name}: metadata")
    check(len(reader.page_labels) == len(reader.pages) and "A1" in reader.page_labels, f"{name}: page labels")
    check(len(reader.outline) >= 2, f"{name}: bookmarks")
    for number, page in enumerate(reader.pages):
        text = page.extract_text()
        check("Print at 100 % (actual size)" in text, f"{name} page {number + 1}: the note is text")
        for font in page["/Resources"]["/Font"].values():
            descriptor = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"]
            check("/FontFile2" in descriptor or "/FontFile3" in descriptor, f"{name} page {number + 1}: font embedded")
    size = next((s for key, s in PAPERS_MM.items() if f"-{key}" in name), None)
    radii = []
    with pdfplumber.open(path) as pdf:
        for number, page in enumerate(pdf.pages):
            if size:
                sides = sorted([float(page.width) * MM_PER_PT, float(page.height) * MM_PER_PT])
                check(close(sides[0], size[0], 0.01) and close(sides[1], size[1], 0.01), f"{name} page {number + 1}: size {sides}")
            lengths = bars_mm(page)
            for bar in (100.0, 101.6):
                check(any(close(l * shrink, bar) for l in lengths), f"{name} page {number + 1}: {bar} mm bar")
            for curve in page.curves:
                points = sorted({(round(x, 3), round(y, 3)) for x, y in curve["pts"]})
                middle = [sum(c) / len(points) for c in zip(*points)]
                found = [math.dist(p, middle) * MM_PER_PT * shrink for p in points]
                # Joints of a full circle lie evenly on it, so that their mean is its centre.
                if len(points) >= 4 and max(found) - min(found) < TOLERANCE_MM and close(found[0], RADIUS_MM, 0.5):
                    radii.extend(found)
    check(radii and all(close(r, RADIUS_MM) for r in radii), f"{name}: circle radius {radii}")


def check_svg(path):
    name = os.path.basename(path)
    svg = svgelements.SVG.parse(path, ppi=25.4)
    check(close(svg.width, svg.viewbox.width, 1e-3), f"{name}: {svg.width} mm wide for {svg.viewbox.width} units")
    circles = [e for e in svg.elements() if isinstance(e, svgelements.Circle)]
    if name == "tee.svg":
        check(any(close(c.rx, RADIUS_MM, 1e-3) for c in circles), f"{name}: circle radius")
        arcs = [s for e in svg.elements() if isinstance(e, svgelements.Path) for s in e if isinstance(s, svgelements.Arc)]
        check(len(arcs) == 36 and all(close(s.rx, s.ry, 1e-6) for s in arcs), f"{name}: {len(arcs)} half of half circles")
        total = sum(s.length() for s in arcs)
        expected = sum(math.pi * (20 + 13.5 * k) for k in range(1, 19))
        check(close(total, expected), f"{name}: arcs {total} mm long, expected {expected}")


def check_dxf(path):
    name = os.path.basename(path)
    drawing = ezdxf.readfile(path)
    audit = drawing.audit()
    for error in audit.errors:
        check(False, f"{name}: audit {error.message}")
    for fix in audit.fixes:
        check(False, f"{name}: audit had to fix: {fix.message}")
    check(drawing.header["$INSUNITS"] == 4, f"{name}: units")
    if name == "tee.dxf":
        space = drawing.modelspace()
        circles = space.query("CIRCLE")
        check(any(close(c.dxf.radius, RADIUS_MM, 1e-6) and close(c.dxf.center.y, -CENTRE_Y_MM, 1e-6) for c in circles), f"{name}: circle")
        check(len(space.query("ARC")) == 18, f"{name}: arcs")
        # The armhole, neckline and back neckline: cubic curves with their control points kept.
        check(len(space.query("SPLINE")) == 3, f"{name}: splines")
        check(all(s.closed is False and s.dxf.degree == 3 for s in space.query("SPLINE")), f"{name}: spline degree")
        neck = min(space.query("SPLINE"), key=lambda s: s.control_points[-1][0])
        end = neck.construction_tool().point(neck.knots[-1])
        check(close(end.x, neck.control_points[-1][0], 1e-6), f"{name}: a spline ends on its last control point")


def main():
    folder = sys.argv[1]
    kinds = {"pdf": check_pdf, "svg": check_svg, "dxf": check_dxf}
    for kind, reader in kinds.items():
        paths = sorted(glob.glob(os.path.join(folder, f"*.{kind}")))
        check(paths, f"no {kind} in {folder}")
        for path in paths:
            reader(path)
            print("read", os.path.basename(path))
    sys.exit(1 if failures else 0)


main()
