"""Packets read back with qpdf and poppler: sound files, every font embedded, every step's title found in the order
in which the steps are worked."""

import re
import subprocess
import sys
import tempfile
from pathlib import Path

from _tool import ROOT, run, run_json

PROCEDURE = ROOT / "procedures/brackwater3.rebuild"
RECORD = ROOT / "procedures/brackwater3.job.yaml"


def words(text):
    """Text without anything that a line break or a change of font could alter."""
    return re.sub(r"[^0-9a-zA-Z]+", "", text).lower()


def output(*command):
    done = subprocess.run([str(part) for part in command], capture_output=True, text=True)
    if done.returncode != 0:
        sys.exit(f"{' '.join(map(str, command))}: exit {done.returncode}\n{done.stdout}{done.stderr}")
    return done.stdout


def main():
    with tempfile.TemporaryDirectory() as folder:
        for paper in ("a4", "letter"):
            path = Path(folder) / f"{paper}.pdf"
            run("packet", PROCEDURE, "--job", RECORD, "--paper", paper, "-o", path)
            output("qpdf", "--check", path)
            info = output("pdfinfo", path)
            size = {"a4": "595.276 x 841.89", "letter": "612 x 792"}[paper]
            assert size in info, info
            assert re.search(r"Tagged:\s+yes", info), info
            fonts = output("pdffonts", path).splitlines()[2:]
            assert fonts, "no fonts at all"
            for font in fonts:
                embedded, subset = font.split()[-5:-3]
                assert (embedded, subset) == ("yes", "yes"), font
            pages = output("pdftotext", "-layout", path, "-").split("\f")
            steps = run_json("order", PROCEDURE, "--job", RECORD, "--format", "json")["steps"]
            # What stands before the page of the first step tells of the steps, and isn't their sheet.
            first = next(at for at, page in enumerate(pages) if words(steps[0]["title"]) in words(page))
            work, at, before = words("".join(pages[first:])), 0, None
            answers = {"valve_gear": "reuse", "injectors": "test", "cam_bearings": "leave"}
            found = 0
            for step in steps:
                terms = (step["when"] or "").split(" and ")
                if any(term and answers.get(term.split(" = ")[0]) not in term.split(" = ")[-1].split(" or ") for term in terms):
                    continue
                title = words(step["title"])
                there = work.find(title, at)
                if there < 0 and title == before:
                    # Steps that say the same at several places stand as one, with the title once.
                    continue
                before = title
                assert there >= 0, f"{step['id']}: its title is not found after the steps before it"
                at = there + len(title)
                found += 1
            print(f"{paper}: {len(pages) - 1} pages, {len(fonts)} fonts embedded and subset, {found} steps in order")


if __name__ == "__main__":
    main()
