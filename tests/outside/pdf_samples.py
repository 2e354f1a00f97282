"""The sample packets as a printer and other readers see them: sound files on both papers, one- and two-sided; only inks
that a black-and-white printer holds; the steps read aloud in their order; the plan carried inside; the same bytes from
two runs; the labels, as many to a page as there is room for; and pictures of the pages against those kept beside this
check.

`REWRITE_EXPECTED=1` rewrites the pictures."""

import json
import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

from PIL import Image, ImageChops

from _tool import ROOT, run

PROCEDURE = ROOT / "procedures/brackwater3.rebuild"
RECORD = ROOT / "procedures/brackwater3.job.yaml"
PHASES = ("strip", "survey", "build", "start")
GOLDENS = ROOT / "tests/page/goldens"
# A thumbnail is enough to see a figure gone, a page more, a table out of place.
DPI = 12
COLUMNS = 12
# Mean difference of a page's thumbnail, of 255, above which it counts as changed.
TOLERANCE = 3.0


def output(*command):
    done = subprocess.run([str(part) for part in command], capture_output=True)
    if done.returncode != 0:
        sys.exit(f"{' '.join(map(str, command))}: exit {done.returncode}\n{done.stdout}{done.stderr}")
    return done.stdout.decode(errors="replace")


def pictures(path, folder, dpi, *flags):
    """Pages as grey pictures."""
    stem = Path(folder) / f"{path.stem}-{dpi}{''.join(flags)}"
    output("pdftoppm", "-r", dpi, "-gray", "-png", *flags, path, stem)
    return sorted(Path(folder).glob(f"{stem.name}-*.png"))


def contrast(value):
    """Contrast of a grey against white paper, after WCAG 2.2, relative luminance."""
    share = value / 255
    light = share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
    return 1.05 / (light + 0.05)


def inks(path, folder):
    """Without smoothing every pixel is an ink: each but the paper's must stand out from it."""
    flags = ("-aa", "no", "-aaVector", "no", "-l", "40")
    for picture in pictures(path, folder, 60, *flags):
        for count, value in Image.open(picture).convert("L").getcolors(256):
            assert value > 250 or contrast(value) >= 7, f"{picture.name}: {count} pixels of grey {value}"


def plan(path, folder):
    target = Path(folder) / "plan.json"
    output("pdfdetach", "-savefile", "plan.json", "-o", target, path)
    plan = json.loads(target.read_text())
    assert plan["steps"] and plan["sheets"], path
    pages = output("pdftotext", path, "-")
    assert plan["fingerprint"] in pages, "the plan inside has another fingerprint than the pages"
    return plan


def elements(path):
    """The structure tree as poppler reads it: depth, role, and the words inside each element."""
    read = []
    for line in output("pdfinfo", "-struct-text", path).splitlines():
        depth = len(line) - len(line.lstrip())
        found = re.match(r"([A-Z][A-Za-z0-9]*)(?: \(\w+\)|:)?$", line.strip())
        if found:
            read.append([depth, found.group(1), "", None])
        elif line.strip().startswith("/Scope"):
            read[-1][3] = line.split("/")[-1].strip()
        elif line.strip().startswith('"'):
            for outer in reversed(range(len(read))):
                if read[outer][0] < depth:
                    read[outer][2] += line.strip().strip('"')
                    depth = read[outer][0]
    return read


def aloud(path, plan):
    """What a screen reader meets: the headings of the steps in the order of work, each with its title, and heads of
    tables that say what they head."""
    read = elements(path)
    steps = []
    for (depth, role, words, _), (inner, inner_role, number, _) in zip(read, read[1:]):
        if re.match(r"H\d$", role) and inner_role == "Span" and inner > depth:
            found = re.match(r"(\d+)(?:–(\d+))? $", number)
            if found:
                first, last = int(found.group(1)), int(found.group(2) or found.group(1))
                told = words[len(number) :].strip()
                # Steps that repeat each other are told as one, under the names of all their places.
                steps += [(step, told if first == last else None) for step in range(first, last + 1)]
    # Steps of the plan that are one piece of work have one number.
    titles = {}
    for step in plan["steps"]:
        if step["standing"] in ("to do", "held"):
            titles.setdefault(step["number"], []).append(step["title"])
    numbers = [number for number, _ in steps]
    assert numbers == list(titles), f"{path.stem}: read in the order {numbers}"
    flat = lambda words: re.sub(r"\s+", "", words)
    for number, title in steps:
        alone = len(titles[number]) == 1
        assert title is None or title and (not alone or flat(title) == flat(titles[number][0])), f"{path.stem}: step {number} is read as {title}"
    scopes = [scope for _, role, _, scope in read if role == "TH"]
    assert scopes and set(scopes) <= {"Row", "Column"}, f"{path.stem}: heads of tables without scope"
    return len(steps)


def labels(folder):
    """The labels, as many as the plan has steps that take something off to be bagged or sent out, 24 to a page."""
    path = Path(folder) / "tags.pdf"
    run("packet", PROCEDURE, "--job", RECORD, "--sheets", "tags", "-o", path)
    pages = output("pdftotext", "-layout", path, "-").split("\f")[:-1]
    counts = [len(re.findall(r"\bS \d+ ", re.sub(r"back at.*?(?=  |$)", "", page, flags=re.M))) for page in pages]
    assert counts and all(counts) and max(counts) <= 24, counts
    assert all(count > 12 for count in counts[:-1]), f"pages of labels with room for more: {counts}"
    return sum(counts)


def montage(images):
    width = max(image.width for image in images)
    height = max(image.height for image in images)
    rows = -(-len(images) // COLUMNS)
    whole = Image.new("L", (width * min(COLUMNS, len(images)), height * rows), 255)
    for index, image in enumerate(images):
        whole.paste(image, (index % COLUMNS * width, index // COLUMNS * height))
    return whole


def goldens(path, folder):
    now = montage([Image.open(picture).convert("L") for picture in pictures(path, folder, DPI)])
    golden = GOLDENS / f"{path.stem}.png"
    if os.environ.get("REWRITE_EXPECTED"):
        GOLDENS.mkdir(parents=True, exist_ok=True)
        now.quantize(16).save(golden, optimize=True)
        return "written"
    kept = Image.open(golden).convert("L")
    if kept.size != now.size:
        return f"{path.stem}: the pages are not as many as in {golden.name}"
    difference = ImageChops.difference(kept, now)
    width, height = round(210 / 25.4 * DPI), round(297 / 25.4 * DPI)
    worst = 0.0
    for top in range(0, now.height - height // 2, height):
        for left in range(0, now.width - width // 2, width):
            page = difference.crop((left, top, left + width, top + height))
            worst = max(worst, sum(value * count for count, value in page.getcolors(256)) / (width * height))
    return "" if worst <= TOLERANCE else f"{path.stem}: a page differs by {worst:.1f} from {golden.name}"


def main():
    faults = []
    with tempfile.TemporaryDirectory() as folder:
        for phase in PHASES:
            for paper, sides in (("a4", ()), ("letter", ("--two-sided",))):
                name = phase if paper == "a4" else f"{phase}-letter"
                path = Path(folder) / f"{name}.pdf"
                command = ("packet", PROCEDURE, "--job", RECORD, "--phase", phase, "--paper", paper, *sides, "-o")
                run(*command, path)
                output("qpdf", "--check", path)
                text = output("mutool", "draw", "-q", "-F", "txt", path)
                assert "page 1 of" in text, f"{name}: mutool reads no foot"
                again = Path(folder) / "again.pdf"
                run(*command, again)
                assert path.read_bytes() == again.read_bytes(), f"{name}: two runs, two files"
                inks(path, folder)
                kept = plan(path, folder)
                read = aloud(path, kept)
                if paper == "a4":
                    told = goldens(path, folder)
                    if told not in ("", "written"):
                        faults.append(told)
                print(f"{name}: {len(kept['steps'])} steps, {read} read in order, {len(kept['sheets'])} sheets")
        print(f"{labels(folder)} labels")
    if faults:
        sys.exit("\n".join(faults) + "\nlook at the pages, then run this check again with REWRITE_EXPECTED=1")


if __name__ == "__main__":
    main()
