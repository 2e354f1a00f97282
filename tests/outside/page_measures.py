"""How the pages of the sample packets are used: pages for each sheet, how far down the pages of work are filled, and how
many sizes of type there are. It prints what it measures, and fails where the pages of work of all samples are filled less
than 85 % on average, or less than `--least FILL`."""

import re
import subprocess
import sys
import tempfile
from pathlib import Path

from _tool import ROOT

DPI = 36
# Millimetres of paper above the content, and from the lower edge up to where the rule of the foot may stand.
ABOVE, FOOT = 12.0, 30.0
# What was aimed at, and reached.
LEAST = 0.85


def output(*command):
    return subprocess.run([str(part) for part in command], capture_output=True, check=True).stdout


def sheets(path):
    """Title and first page of every sheet, in order: the outer entries of the outline."""
    outline = output("mutool", "show", path, "outline").decode()
    return [(title, int(page)) for title, page in re.findall(r'^[+|-]\t"(.*?)"\t#page=(\d+)', outline, re.M)]


def works(path):
    """Pages that hold a step: those to which the outline's numbered entries lead, and those between them."""
    outline = output("mutool", "show", path, "outline").decode()
    pages = [int(page) for page in re.findall(r'^.*\t"\d+[^"]* [^"]*"\t#page=(\d+)', outline, re.M)]
    return range(min(pages), max(pages) + 1) if pages else range(0)


def depths(path, folder):
    """How far down the content of each page ink reaches, as a share."""
    output("pdftoppm", "-r", DPI, "-gray", path, Path(folder) / path.stem)
    found = []
    for picture in sorted(Path(folder).glob(f"{path.stem}-*.pgm")):
        header, width, height, _, pixels = re.match(rb"(P5)\s(\d+)\s(\d+)\s(\d+)\s(.*)", picture.read_bytes(), re.S).groups()
        width, height = int(width), int(height)
        row = lambda at: pixels[at * width : (at + 1) * width]
        top, lowest = int(ABOVE / 25.4 * DPI), height - int(FOOT / 25.4 * DPI)
        # The foot begins with a rule from margin to margin.
        rules = [at for at in range(lowest, height) if sum(1 for ink in row(at) if ink < 200) > width * 0.75]
        bottom = rules[0] - 1 if rules else height
        inked = [at for at in range(top, bottom) if min(row(at)) < 160]
        found.append((inked[-1] + 1 - top) / (bottom - top) if inked else 0.0)
    return found


def sizes(path, folder):
    """Sizes of type with how often each is set."""
    plain = Path(folder) / f"{path.stem}.qdf"
    output("qpdf", "--qdf", "--object-streams=disable", path, plain)
    found = {}
    for size in re.findall(rb"/\S+ ([\d.]+) Tf", plain.read_bytes()):
        # Nought is what the fields of a form are written in: as large as there is room.
        if float(size) > 0:
            found[float(size)] = found.get(float(size), 0) + 1
    return dict(sorted(found.items()))


def main():
    paths = sorted((ROOT / "output-samples").glob("*.pdf"))
    paths = [Path(word) for word in sys.argv[1:] if word.endswith(".pdf")] or paths
    least = float(sys.argv[sys.argv.index("--least") + 1]) if "--least" in sys.argv else LEAST
    work = []
    for path in paths:
        with tempfile.TemporaryDirectory() as folder:
            depth, kinds = depths(path, folder), sheets(path)
            print(f"{path.stem}: {len(depth)} pages")
            for (title, page), (_, after) in zip(kinds, kinds[1:] + [("", len(depth) + 1)]):
                print(f"  {after - page:3} {title}")
            of_work = [depth[page - 1] for page in works(path)]
            work += of_work
            mean = sum(of_work) / len(of_work)
            emptier = sum(1 for share in of_work if share < 2 / 3)
            print(f"  {len(of_work)} pages of work, filled to {mean:.0%}; {emptier} of them end before two thirds")
            print("  sizes:", ", ".join(f"{size:g}×{count}" for size, count in sizes(path, folder).items()))
    mean = sum(work) / len(work)
    print(f"all: {len(work)} pages of work, filled to {mean:.0%}")
    if mean < least:
        sys.exit(f"the pages of work are filled to {mean:.3f}, less than {least}")


main()
