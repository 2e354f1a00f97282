"""Packets of procedures made up at random, read by other programs: qpdf finds every one sound, and of some of them poppler,
mupdf and pypdf find what was put in: each title as it was written, with brackets, backslashes and the letters of Europe;
the pages' tags; boxes and blanks as fields, each under a name of its own and on a page; links that lead into the packet and
nowhere else; the plan attached.

`python tests/outside/pdf_readers.py [PACKETS] [OF_THEM_READ] [SEED]`; few where nothing is said, so that it takes a minute."""

import json
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
import unicodedata
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pymupdf
import pypdf

from _tool import TOOL

PHASES = ("strip", "survey", "build", "start")
EUROPE = [chr(code) for span in ((0xC0, 0x17F), (0x218, 0x21C), (0x391, 0x3CA), (0x410, 0x450), (0x1E80, 0x1E86))
          for code in range(*span) if chr(code).isalpha() and unicodedata.name(chr(code), "") and code not in (0x149, 0x17F, 0x3A2)]
SIGNS = list("()[]{}<>\\/%&#~^_|@!?;:.,'*+=-°µ½×÷±«»„“”‘’–—…€£§") + ["\\(", "\\)", "\\\\", "<<", ">>", "%%EOF", "endstream", "\\n", "\\053"]
LETTERS = list("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789")


def word(chance):
    pool = chance.choice([LETTERS, LETTERS, EUROPE, EUROPE, SIGNS])
    return "".join(chance.choice(pool) for _ in range(chance.randrange(1, 6)))


def title(chance, number):
    """Words that stand on one line, with a number that no other title has."""
    words = " ".join(word(chance) for _ in range(chance.randrange(1, 3)))
    return f"{words[:16].strip()} {number}q"


def quoted(text):
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def procedure(chance):
    """A procedure that is sound, with the titles of its steps."""
    lines, titles = ['-- Made up for a check.', f'family f {quoted(title(chance, 0))} {{ edition 1  origin "invented"  invented }}'], {}
    sides = chance.randrange(3) == 0
    if sides:
        lines.append(f'axis side {quoted(word(chance))} = left, right')
    lines.append(f'ask q {quoted(title(chance, 1))} = yes, no')
    lines.append(f'tool t {quoted(title(chance, 2))} {{ size 10 mm }}')
    count = chance.randrange(1, 7)
    steps = []
    for part in range(count):
        at = "[side]" if sides and chance.randrange(2) else ""
        under = f" under p{part - 1}" if part and not at and "[side]" not in steps[-1] and chance.randrange(2) else ""
        held = chance.randrange(2)
        lines.append(f'part p{part}{at} {quoted(title(chance, 10 + part))} {{{under}{f" held by s{part}" + at if held else ""} fate clean then reuse }}')
        if held:
            lines.append(f'fasteners s{part}{at} {chance.randrange(1, 9)} {quoted(title(chance, 20 + part))} '
                         "{ thread M6 drive 10 mm reusable }")
        if chance.randrange(2):
            lines.append(f'gauge g{part}{at} {quoted(title(chance, 30 + part))} '
                         f"{{ of p{part}{at} unit mm worn 0.1 mm plausible 0 mm .. 2 mm }}")
            name = title(chance, 40 + part)
            titles.setdefault("survey", []).append(name)
            each = "    each side apart\n" if at else ""
            lines.append(f'survey m{part} {quoted(name)} {{\n{each}    gauge g{part}\n}}')
        name = title(chance, 50 + part)
        titles.setdefault("strip", []).append(name)
        each = "    each side apart\n" if at else ""
        undo = f"    undo s{part}\n" if held else ""
        said = f'    do {quoted(" ".join(word(chance) for _ in range(chance.randrange(1, 12))))}\n'
        when = f'    when q = yes do {quoted(word(chance))}\n' if part == 0 else ""
        steps.append(f'strip o{part} {quoted(name)} {{\n{each}    tools t\n{undo}{said}{when}    take p{part}\n    clean p{part}\n}}')
    return "\n".join(lines + steps) + "\n", titles


def seen(text):
    """Letters alone, each in one form, without what a line break may add."""
    return re.sub(r"[\s\u00ad]+", "", unicodedata.normalize("NFKC", text))


def output(*command):
    done = subprocess.run([str(part) for part in command], capture_output=True)
    if done.returncode != 0 or done.stderr.strip():
        raise AssertionError(f"{' '.join(map(str, command))}: exit {done.returncode}\n{done.stdout!r}\n{done.stderr!r}")
    return done.stdout.decode("utf-8")


def fields_of(reader):
    """Names of the fields, and of those that stand on a page."""
    names, on_pages = [], set()
    form = reader.trailer["/Root"].get("/AcroForm")
    waiting = [(field, "") for field in (form["/Fields"] if form else [])]
    while waiting:
        field, above = waiting.pop()
        field = field.get_object()
        name = ".".join(part for part in (above, str(field.get("/T", ""))) if part)
        inner = [kid for kid in field.get("/Kids", []) if "/T" in kid.get_object()]
        waiting += [(kid, name) for kid in inner]
        if not inner:
            names.append(name)
    for page in reader.pages:
        for note in page.get("/Annots", []):
            note = note.get_object()
            if note["/Subtype"] == "/Widget":
                name, at = [], note
                while at is not None:
                    if "/T" in at:
                        name.append(str(at["/T"]))
                    at = at["/Parent"].get_object() if "/Parent" in at else None
                on_pages.add(".".join(reversed(name)))
    return names, on_pages


def read(path, titles):
    """What the readers find in one packet; raises where they don't find what was put in."""
    info = output("pdfinfo", path)
    assert re.search(r"Tagged:\s+yes", info), info
    assert re.search(r"JavaScript:\s+no", info), info
    output("mutool", "info", path)
    by_poppler = seen(output("pdftotext", "-raw", path, "-"))
    with pymupdf.open(path) as file:
        by_mupdf = seen("".join(page.get_text() for page in file))
        links = [link for page in file for link in page.get_links()]
        assert all(link["kind"] in (pymupdf.LINK_GOTO, pymupdf.LINK_NAMED) for link in links), links
        assert not pymupdf.TOOLS.mupdf_warnings(), pymupdf.TOOLS.mupdf_warnings()
    reader = pypdf.PdfReader(path, strict=True)
    by_pypdf = seen("".join(page.extract_text() for page in reader.pages))
    for name in titles:
        for program, text in (("poppler", by_poppler), ("mupdf", by_mupdf), ("pypdf", by_pypdf)):
            assert seen(name) in text, f"{program} doesn't find {name!r}"
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] and root["/StructTreeRoot"]["/K"] and root["/Lang"], root
    assert all("/StructParents" in page for page in reader.pages)
    assert list(reader.attachments) == ["plan.json"], list(reader.attachments)
    json.loads(reader.attachments["plan.json"][0])
    names, on_pages = fields_of(reader)
    assert len(names) == len(set(names)), sorted(names)
    assert set(names) == on_pages, set(names) ^ on_pages
    return len(reader.pages), len(titles), len(names), len(links)


def case(asked):
    """One packet: none if there was nothing to print, else what was found in it."""
    seed, closely = asked
    chance = random.Random(seed)
    text, titles = procedure(chance)
    phase = chance.choice(PHASES)
    folder = Path(tempfile.mkdtemp())
    (folder / "f.rebuild").write_text(text, "utf-8")
    path = folder / "out.pdf"
    paper = chance.choice(["a4", "letter"])
    command = [TOOL, "packet", folder / "f.rebuild", "--phase", phase, "--paper", paper, "-o", path]
    done = subprocess.run([*map(str, command), *(["--all"] if chance.randrange(2) else [])], capture_output=True, text=True)
    try:
        assert done.returncode in (0, 1), f"exit {done.returncode}\n{done.stderr}"
        if not path.exists():
            shutil.rmtree(folder)
            return None, done.stderr
        output("qpdf", "--check", path)
        found = read(path, titles.get(phase, [])) if closely else (0, 0, 0, 0)
    except Exception as error:
        raise SystemExit(f"seed {seed}, {phase}, kept in {folder}: {type(error).__name__}: {error}") from error
    shutil.rmtree(folder)
    return found, ""


def main():
    packets, closely, first = (int(sys.argv[at]) if len(sys.argv) > at else few for at, few in ((1, 120), (2, 30), (3, 1)))
    every = max(1, packets // max(1, closely))
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        told = list(pool.map(case, ((seed, (seed - first) % every == 0) for seed in range(first, first + packets))))
    found = [what for what, _ in told if what is not None]
    refused = [why for what, why in told if what is None]
    if len(refused) * 5 > packets:
        sys.exit(f"{len(refused)} of {packets} print nothing:\n" + "\n".join(refused[:5]))
    pages, titles, fields, links = (sum(what[at] for what in found) for at in range(4))
    read_closely = sum(what[0] > 0 for what in found)
    print(f"{len(found)} packets sound by qpdf, {len(refused)} with nothing to print; of them {read_closely} read by poppler, mupdf "
          f"and pypdf: {pages} pages, {titles} titles, {fields} fields, {links} links")


if __name__ == "__main__":
    main()
