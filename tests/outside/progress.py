"""How far long work is: told on a terminal, in one line that is gone at the end; never where the output goes elsewhere."""

import os
import pty
import subprocess
import sys
import tempfile
from pathlib import Path

from _tool import ROOT, TOOL


def at_a_terminal(*arguments, term="xterm"):
    """What reaches a terminal on the error output, and the exit code."""
    ours, theirs = pty.openpty()
    child = subprocess.Popen(
        [TOOL, *arguments], cwd=ROOT, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=theirs,
        env={**os.environ, "TERM": term},
    )
    os.close(theirs)
    seen = b""
    while True:
        try:
            more = os.read(ours, 65536)
        except OSError:
            break
        if not more:
            break
        seen += more
    os.close(ours)
    return seen.decode(), child.wait()


def left_standing(seen):
    """The lines as they stand when all is over."""
    lines = []
    for line in seen.replace("\r\n", "\n").split("\n"):
        lines.append(line.rsplit("\r\x1b[K", 1)[-1])
    return lines


def expect(what, true):
    if not true:
        sys.exit(f"progress: {what}")


with tempfile.TemporaryDirectory() as folder:
    sheet = str(Path(folder) / "p.pdf")
    for name, arguments, words in [
        ("check", ["check", "procedures/first"], "checked "),
        ("check", ["check", "procedures/first/sea_chest.rebuild"], "checking"),
        ("tidy", ["tidy", "--check", "procedures/first"], "laying out "),
        ("compare", ["compare", *["procedures/first/harbour_pump.rebuild"] * 2, "-o", sheet], "working the order out"),
        ("packet", ["packet", "procedures/first/harbour_pump.rebuild", "-o", sheet], "working the order out"),
        ("packet", ["packet", "procedures/first/harbour_pump.rebuild", "-o", sheet], "laying out "),
    ]:
        seen, code = at_a_terminal(*arguments)
        expect(f"{name} ends with {code}", code == 0)
        expect(f"{name} tells how far it is: {seen!r}", words in seen and "\r\x1b[K" in seen)
        expect(f"{name} leaves its line behind: {seen!r}", not any(words in line for line in left_standing(seen)))
        expect(f"{name} says at last what it did: {seen!r}", any(line.strip() for line in left_standing(seen)))
        dull, _ = at_a_terminal(*arguments, term="dumb")
        expect(f"{name} on a terminal that can't: {dull!r}", words not in dull)
        done = subprocess.run([TOOL, *arguments], cwd=ROOT, capture_output=True, text=True)
        expect(f"{name} into a pipe: {done.stderr!r}", words not in done.stderr and "\r" not in done.stderr)
print("progress: at a terminal only")
