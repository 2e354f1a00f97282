"""Packets filled in on a screen: PyMuPDF (a viewer's library) and pypdf (a library that fills in forms) see every number of
the sheets as a field with its words, fill all of them in and save the file in their own ways; what is gathered from either
is the record, byte for byte, that the same values typed by their numbers give. Gathered twice, nothing changes."""

import difflib
import json
import shutil
import sys
import tempfile
import zlib
from pathlib import Path

import pymupdf
import pypdf
from _tool import ROOT, run

PACKETS = [
    ("brackwater3.job.yaml", "strip"),
    ("skerryvane180.measured.job.yaml", "survey"),
    ("skerryvane180.ready.job.yaml", "build"),
]
HAND = ["--by", "MR", "--date", "2026-04-03", "--yes"]
WORDS = ["Größe 2", "Ščerba (2)", "a \\ stroke", "Łódź #4: oil", "two  blanks"]


def value(number):
    """A value that may stand at a number, the same wherever the same is asked."""
    seed = zlib.crc32(json.dumps(number.get("keys") or number["number"]).encode())
    form = number.get("form")
    if form == "word":
        return number["words"][seed % len(number["words"])]
    if form == "quantity":
        return f"{seed % 900 + 100}.{seed % 7}"
    if form == "count":
        return str(seed % 40)
    if (number.get("keys") or [""])[-1] == "spend_limit":
        return f"{seed % 9000} EUR"
    if number.get("keys", [""])[-1] == "at":
        return f"{seed % 24}:{seed % 50 + 10}"
    if form == "day":
        return f"2026-03-{seed % 28 + 1:02}"
    return WORDS[seed % len(WORDS)]


def copied(folder, record, name):
    """A record in a folder of its own, beside what it names."""
    place = folder / name
    shutil.copytree(ROOT / "procedures", place)
    return place / record


def gathered(record, packet, *words):
    run("gather", packet, *words, "--job", record, *HAND)
    return record.read_text()


def with_viewer(packet, out, values):
    document = pymupdf.open(packet)
    filled = set()
    for page in document:
        for widget in page.widgets():
            wanted = values.get(widget.field_name.removesuffix(" again"))
            assert widget.field_label.startswith(widget.field_name.removesuffix(" again")), widget.field_label
            if wanted is None:
                continue
            if widget.field_type_string == "Text":
                widget.field_value = wanted
            elif widget.field_type_string == "CheckBox":
                widget.field_value = True
            elif widget.on_state() == wanted:
                widget.field_value = wanted
            else:
                continue
            widget.update()
            filled.add(widget.field_name.removesuffix(" again"))
    document.save(out)
    return filled


def full_name(field):
    above = full_name(field["/Parent"].get_object()) + "." if "/Parent" in field else ""
    return above + field["/T"]


def with_filler(packet, out, values):
    writer = pypdf.PdfWriter(clone_from=packet)
    fields = writer.get_fields()
    for page in writer.pages:
        here = {}
        for annotation in page.get("/Annots", []):
            annotation = annotation.get_object()
            if annotation["/Subtype"] != "/Widget":
                continue
            assert annotation["/AP"]["/N"] is not None
            field = annotation if "/T" in annotation else annotation["/Parent"].get_object()
            name = full_name(field)
            assert name in fields, name
            if name in values:
                here[name] = f"/{values[name]}" if field["/FT"] == "/Btn" else values[name]
        writer.update_page_form_field_values(page, here, auto_regenerate=False)
    writer.write(out)
    return {name for name in fields if name in values}


def check(record, phase, folder):
    packet = folder / "packet.pdf"
    run("packet", ROOT / "procedures" / record, "--phase", phase, "-o", packet)
    plan = json.loads(pymupdf.open(packet).embfile_get("plan.json"))
    numbers = {number["number"]: number for number in plan["numbers"]}
    # What has no box on paper, in a step that waits, has no field.
    kinds = {widget.field_name: widget.field_type_string for page in pymupdf.open(packet) for widget in page.widgets()}
    # A reading that is taken twice has a second blank: it says the same here.
    again = {name for name in kinds if name.endswith(" again")}
    printed = kinds.keys() - again
    assert printed <= numbers.keys(), printed - numbers.keys()
    ticks = {name for name, number in numbers.items() if number.get("form") == "tick"}
    missing = numbers.keys() - printed
    assert missing <= ticks, sorted(missing - ticks)[:9]
    # Steps are done in order, as far as the first that waits: it has boxes that aren't printed.
    order = {step["id"]: step.get("number") or 0 for step in plan["steps"]}
    waits = min((order[numbers[name]["step"]] for name in missing), default=len(order) + 1)
    whole = {step for step, number in order.items() if 0 < number < waits}
    stood = {numbers[name]["step"] for name in ticks if "step" in numbers[name]}
    stood |= {other for name in ticks for other in numbers[name].get("also", [])}
    done = sorted({order[step] for step in whole & stood})
    boxed = {name for name, kind in kinds.items() if kind == "CheckBox"}
    values = {name: "Yes" if name in boxed else value(number) for name, number in numbers.items()}
    # What is kept with a step is written once that is done.
    of_step = {name: [number.get("step"), *number.get("keys", [])[1:2]] for name, number in numbers.items()}
    early = {name for name, steps in of_step.items() if not (order.keys() - whole).isdisjoint(steps)}
    values = {name: words for name, words in values.items() if name in printed - early}
    # A box at a day says that it was that day.
    written = {name: "x" if name in boxed else words for name, words in values.items() if name not in ticks}
    typed = [f"{name.replace(' ', '')}:" if part == 0 else words for name, words in written.items() for part in (0, 1)]
    if done:
        typed += ["done", *map(str, done)]
    expected = gathered(copied(folder, record, "typed"), packet, *typed)
    before = (ROOT / "procedures" / record).read_text()
    assert expected.count("\n") > before.count("\n") + len(written) // 4, "hardly anything was gathered"
    for way in (with_viewer, with_filler):
        filled = folder / f"{way.__name__}.pdf"
        assert way(packet, filled, values) == set(values), way
        mine = copied(folder, record, way.__name__)
        told = gathered(mine, filled)
        if told != expected:
            differing = [pair for pair in zip(told.splitlines(), expected.splitlines()) if pair[0] != pair[1]]
            sys.exit(f"{record} {phase}, {way.__name__}: another record\n{differing[:5]}")
        again = gathered(mine, filled)
        if again != expected:
            differing = difflib.unified_diff(expected.splitlines(), again.splitlines(), n=0)
            sys.exit(f"{record} {phase}: gathered twice it is another record\n{list(differing)[:5]}")
    print(f"{record}, {phase}: {len(printed)} fields, {len(written)} written, {len(done)} steps done")


def main():
    for record, phase in PACKETS:
        with tempfile.TemporaryDirectory() as folder:
            check(record, phase, Path(folder))


if __name__ == "__main__":
    main()
