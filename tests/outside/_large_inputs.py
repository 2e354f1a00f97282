"""Inputs of one MiB, each the worst of its kind: procedures, records, a shop's files, tables and packets read back. Each is
answered, soundly or with a complaint, within the processor time and the memory that are promised. The release build is
measured, since that is what is used; `cargo build --release` makes it.

`python tests/outside/large_inputs.py WORD` takes only inputs whose name holds the word."""

import os
import resource
import subprocess
import sys
import tempfile
import threading
import time
import zlib
from pathlib import Path

from _tool import ROOT

TOOL = Path(os.environ.get("BENCHLEAF_RELEASE", ROOT / "target/release/benchleaf"))
MIB = 1 << 20
# What is promised of any input of one MiB.
SECONDS = 5
MEMORY_MIB = 500
# A process is stopped here, so that one that breaks the promise doesn't take the machine with it.
MOST_MIB = 3072
MOST_SECONDS = 60

FAMILY = 'family e "E" { origin "made up for a check" }\n'
SMALL = FAMILY + 'part a "A"\nstrip s "S" { take a }\ngauge g "g" { of a unit mm }\nsurvey m "M" { gauge g }\n'
RECORD = "job: x\nprocedure: small.rebuild\n"


def filled(before, unit, after=""):
    """A unit as often as it fits between a beginning and an end."""
    return before + unit * ((MIB - len((before + after).encode())) // len(unit.encode())) + after


def until_full(before, line, after=""):
    """Lines by number, as many as fit."""
    lines, length, number = [before], len(before) + len(after), 0
    while True:
        text = line(number)
        length += len(text.encode())
        if length > MIB:
            return "".join(lines) + after
        lines.append(text)
        number += 1


def listed(before, names, after=""):
    """A list with commas."""
    return before + ", ".join(names) + after


def procedures():
    gauge = FAMILY + 'gauge a "a" { unit mm }\ngauge g "g" { '
    bolted = FAMILY + 'part a "A"\npart b "B" { held by f }\nfasteners f %d "F" { thread M8x1.25 drive 13 mm }\n' \
        "joint j \"J\" { clamps b, a seen from top, front left %s }\nstrip s \"S\" { undo j take b }\n"
    questions = "".join(f'ask q{i} "Q" = a, b\n' for i in range(60))
    yield "braces", filled(FAMILY, "part a { ")
    yield "closing", filled(FAMILY, "} ")
    yield "brackets", filled(gauge + "is ", "(")
    yield "brackets closed", gauge + "is " + "(" * 500_000 + "a" + ")" * 500_000 + " }\n"
    yield "minus", filled(gauge + "is a", "-a", " }\n")
    yield "long name", FAMILY + "part " + "a" * (MIB - 60) + ' "A"\n'
    yield "long title", FAMILY + 'part a "' + "x" * (MIB - 60) + '"\n'
    yield "title of words", FAMILY + 'part a "' + "x " * ((MIB - 80) // 2) + '"\nstrip s "S" { take a }\n'
    yield "quotes", filled(FAMILY, '"')
    yield "quotes within", FAMILY + 'part a "' + '\\"' * ((MIB - 80) // 2) + '"\n'
    yield "comment", FAMILY + "-" * (MIB - 60) + "\n"
    yield "digits", FAMILY + 'part a "A" { mass ' + "9" * (MIB - 80) + " kg }\n"
    yield "line ends", filled(FAMILY, "\n")
    yield "spaces", filled(FAMILY, " ")
    yield "semicolons", filled(FAMILY + 'part a "A" {', "; ", "}")
    yield "letters", filled(FAMILY, "é")
    yield "noughts", filled(FAMILY, "\0")
    yield "parts in a chain", until_full(
        FAMILY, lambda i: f'part p{i} "P" {{ under p{i - 1} }}\n' if i else 'part p0 "P"\n')
    yield "steps", until_full(FAMILY, lambda i: f'part p{i} "P"\nstrip s{i} "S" {{ take p{i} }}\n')
    yield "steps in a chain", until_full(
        FAMILY, lambda i: f'part p{i} "P"\nstrip s{i} "S" {{ take p{i} {f"after s{i - 1}" if i else ""} }}\n')
    yield "acts of a step", until_full(FAMILY + 'part a "A"\nstrip s "S" {\n', lambda i: 'do "x"\n', "}\n")
    yield "parts under one", FAMILY + "".join(f'part q{i} "Q"\n' for i in range(35_000)) + listed(
        'part last "L" { under ', (f"q{i}" for i in range(35_000)), " }\n")
    yield "places of an axis", listed(FAMILY + "axis a = ", (f"v{i}" for i in range(120_000)), "\n")
    yield "one part again and again", filled(FAMILY, 'part a "A"\n')
    yield "one step again and again", filled(FAMILY + 'part a "A"\n', 'strip s "S" { take a }\n')
    yield "one part taken by all", until_full(FAMILY + 'part p "P"\n', lambda i: f'strip s{i} "S" {{ take p }}\n')
    yield "names of nothing", listed(FAMILY + 'part a "A" { under ', (f"z{i}" for i in range(120_000)), " }\n")
    yield "holes", bolted % (9_000, "holes f at " + " ".join(f"({i}, {i})" for i in range(9_000)) + " mm")
    yield "sequence", bolted % (6, listed(
        "holes f circle 6 on 80 mm sequence ", ("A" for _ in range(300_000)), ' from "i"'))
    yield "bands", listed(FAMILY + 'gauge g "g" { unit mm bands ',
                          (f"good_{i} {i} mm .. {i + 1} mm" for i in range(25_000)), ' from "i" }\n')
    yield "calls", gauge + "is " + "max(" * 200_000 + "a" + ")" * 200_000 + " }\n"
    yield "values of a call", listed(gauge + "is max(", ("a" for _ in range(300_000)), ") }\n")
    yield "gauges doubling", until_full(
        FAMILY, lambda i: f'gauge g{i} "g" {{ is g{i - 1} + g{i - 1} }}\n' if i else 'gauge g0 "g" { unit mm }\n')
    yield "files brought in", FAMILY + "".join(f'use "more/i{i}.rebuild"\n' for i in range(2_000))
    yield "answers of one part", FAMILY + questions + 'part p "P"\n' + "".join(
        f'strip s{i} "S" {{ when q{i % 60} = a and q{(i * 7 + 1) % 60} = b take p }}\n' for i in range(14_000))
    yield "answers of many parts", until_full(FAMILY + questions, lambda i: (
        f'part p{i} "P"\nstrip s{i} "S" {{ when q{i % 60} = a and q{(i * 7 + 1) % 60} = b take p{i} }}\n'))
    yield "fates", FAMILY + "".join(f'ask q{i} "Q" = a, b, c\n' for i in range(60)) + 'part p "P" {\n' + "".join(
        f"renew when q{i % 60} = a and q{(i * 7 + 1) % 60} = b\n" for i in range(20_000)) + "}\nstrip s \"S\" { take p }\n"
    yield "questions", until_full(FAMILY, lambda i: f'ask q{i} "Q" = a, b\n')
    yield "states", until_full(FAMILY + 'state s "S" = off (at first), on\n',
                               lambda i: f'strip x{i} "X" {{ set s = {"on" if i % 2 == 0 else "off"} }}\n')
    yield "states needed", until_full(
        FAMILY + 'state s "S" = off (at first), on\n',
        lambda i: f'strip x{i} "X" {{ set s = on }}\nstrip y{i} "Y" {{ needs s = on  set s = off }}\n')
    yield "set holds all", until_full(
        FAMILY + 'fasteners f 4 "F" { thread M8 }\nstrip u "U" { undo f }\n',
        lambda i: f'part p{i} "P" {{ held by f }}\nstrip s{i} "S" {{ take p{i} }}\n')


def records():
    yield "maps", RECORD + "readings: " + "{a: " * 200_000 + "1" + "}" * 200_000 + "\n"
    yield "lists", RECORD + "done: " + "[" * 500_000 + "]" * 500_000 + "\n"
    yield "indents", RECORD + "readings:\n" + "".join(" " * (i + 1) + "a:\n" for i in range(1_400))
    yield "anchors", RECORD + "a0: &a0 [x,x]\n" + "".join(
        f"a{i}: &a{i} [*a{i - 1},*a{i - 1}]\n" for i in range(1, 40_000))
    yield "long text", RECORD + 'notes: "' + "x" * (MIB - 60) + '"\n'
    yield "long key", RECORD + "x" * (MIB - 60) + ": 1\n"
    yield "keys", until_full(RECORD, lambda i: f"k{i}: 1\n")
    yield "keys again", filled(RECORD, "done: [s]\n")
    yield "done", listed(RECORD + "done: [", ("s" for _ in range(300_000)), "]\n")
    yield "readings", until_full(RECORD + "readings:\n  as_found:\n", lambda i: f"    g{i}: 1 mm\n")
    yield "readings again", filled(RECORD + "readings:\n  as_found:\n", "    g: 1 mm\n")
    yield "block", filled(RECORD + "notes: |\n", "  x\n")
    yield "folded", filled(RECORD + "notes: >\n", "  x y\n")
    yield "escapes", RECORD + 'notes: "' + "\\u0041" * 170_000 + '"\n'
    yield "tabs", RECORD + "\t" * (MIB - 60) + "\n"
    yield "dashes", filled(RECORD, "- ", "\n")
    yield "colons", filled(RECORD, "a: ", "\n")
    yield "documents", filled(RECORD, "---\n")
    yield "tags", RECORD + "a: " + "!!str " * 170_000 + "x\n"
    yield "question marks", filled(RECORD, "? ", "\n")
    yield "notes", until_full(RECORD + "notes:\n", lambda i: f"  - about: s\n    says: note {i}\n")
    yield "steps of its own", until_full(
        RECORD + "extra:\n  steps:\n", lambda i: f'    x{i}: {{title: "T", phase: strip, after: s, do: ["d"]}}\n')


def packets():
    """Files that say that they are packets."""
    head, trailer = b"%PDF-1.7\n", b"trailer<</Root 1 0 R/Size 4>>\nstartxref\n0\n%%EOF"
    yield "zeros", head + b"0" * MIB
    yield "objects", head + b"".join(b"%d 0 obj\n<<>>\nendobj\n" % i for i in range(1, 40_000)) + trailer
    yield "lists", head + b"1 0 obj\n" + b"[" * 500_000 + b"]" * 500_000 + b"\nendobj\n" + trailer
    large = zlib.compress(bytes(900 << 20), 9)
    yield "small that grows", head + (
        b"1 0 obj\n<</Type/Catalog/Names<</EmbeddedFiles<</Names[(plan.json) 3 0 R]>>>>>>\nendobj\n"
        b"3 0 obj\n<</Type/Filespec/F(plan.json)/EF<</F 2 0 R>>>>\nendobj\n"
        b"2 0 obj\n<</Length %d/Filter/FlateDecode>>stream\n" % len(large)) + large + b"\nendstream\nendobj\n" + trailer


def cases(folder):
    """Name and command line of each input, whose files are written."""
    (folder / "small.rebuild").write_text(SMALL)
    (folder / "job.yaml").write_text(RECORD)
    (folder / "more").mkdir()
    for i in range(2_000):
        further = f'use "i{i + 1}.rebuild"\n' if i < 1_999 else ""
        (folder / f"more/i{i}.rebuild").write_text(f'part x{i} "X"\n{further}')

    def file(text, ending):
        path = folder / f"{len(list(folder.iterdir()))}{ending}"
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        return path

    for name, text in procedures():
        path = file(text, ".rebuild")
        yield f"procedure, {name}", ["check", path]
        yield f"procedure in its form, {name}", ["tidy", "--check", path]
    for name, text in records():
        yield f"record, {name}", ["verdict", file(text, ".yaml")]
    packet = ["packet", "small.rebuild", "--phase", "strip", "-o", "out.pdf"]
    tools = until_full("shop: s\ntools:\n", lambda i: f"  - t{i}\n")
    yield "crib, tools", [*packet, "--crib", file(tools, ".yaml")]
    torques = listed("general_torques: {origin: w, values: {", ("M8 8.8: 22 N.m" for _ in range(60_000)), "}}\n")
    yield "crib, torques", [*packet, "--crib", file(torques, ".yaml")]
    goods = until_full("goods:\n", lambda i: f"  g{i}: {{price: 1 EUR}}\n")
    yield "prices", ["verdict", "small.rebuild", "--prices", file(goods, ".yaml")]
    tables = [("prices", until_full("thing,price\n", lambda i: f"g{i},1.00 EUR\n")), ("quotes", '"' * MIB),
              ("commas", "," * MIB), ("values", until_full("number,value\n", lambda i: f"A{i},1\n"))]
    for name, text in tables:
        yield f"table, {name}", ["gather", file(text, ".csv"), "--job", "job.yaml"]
    for name, data in packets():
        yield f"packet, {name}", ["gather", file(data, ".pdf"), "--job", "job.yaml"]


def measured(folder, words):
    """Exit code, processor seconds and largest memory in MiB of one run."""
    most = MOST_MIB << 20
    child = subprocess.Popen([TOOL, *map(str, words)], cwd=folder, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                             stderr=subprocess.DEVNULL,
                             preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (most, most)))
    watch = threading.Timer(MOST_SECONDS, child.kill)
    watch.start()
    _, status, used = os.wait4(child.pid, 0)
    watch.cancel()
    child.returncode = os.waitstatus_to_exitcode(status)
    return child.returncode, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


def main():
    word = sys.argv[1] if len(sys.argv) > 1 else ""
    if not TOOL.is_file():
        sys.exit(f"{TOOL} is not there: `cargo build --release` makes it")
    broken, runs, begun = [], [], time.monotonic()
    with tempfile.TemporaryDirectory() as name:
        for case, words in cases(Path(name)):
            if word not in case:
                continue
            code, seconds, memory = measured(name, words)
            if word:
                print(f"{case}: exit {code}, {seconds:.2f} s, {memory:.0f} MiB", flush=True)
            runs.append((seconds, memory, case))
            if code not in (0, 1, 2) or seconds > SECONDS or memory > MEMORY_MIB:
                broken.append(f"{case}: exit {code}, {seconds:.1f} s, {memory:.0f} MiB")
    for what, key in (("longest", 0), ("largest", 1)):
        seconds, memory, case = max(runs, key=lambda run: run[key])
        print(f"{what}: {case}: {seconds:.1f} s, {memory:.0f} MiB")
    if broken:
        sys.exit("beyond what is promised:\n" + "\n".join(broken))
    print(f"{len(runs)} inputs of one MiB, each within {SECONDS} s and {MEMORY_MIB} MiB; {time.monotonic() - begun:.0f} s in all")


if __name__ == "__main__":
    main()
