"""`record` killed a thousand times at random moments, and with every system call that it makes failing in turn (where `strace`
is there): the record is then as it was or as it should become, byte for byte, nothing is left beside it, and the next `record`
succeeds at once. Not run by CI, since it takes minutes: `python tests/outside/_record_kills.py [KILLS] [SEED]`."""

import json
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from _tool import ROOT, TOOL

NOTE = ["note", "cover_screws", "bent: 5° off, seen by José"]
CALLS = {"openat": ["EACCES", "EROFS", "ENOSPC"], "write": ["ENOSPC", "EIO"], "fsync": ["EIO"], "fdatasync": ["EIO"],
         "rename": ["EACCES", "EIO"], "renameat": ["EACCES"], "renameat2": ["EACCES"], "read": ["EIO"], "flock": ["EINTR", "ENOLCK"],
         "fchmod": ["EPERM"], "fchown": ["EPERM"], "statx": ["EACCES"], "unlink": ["EACCES"], "linkat": ["EPERM"]}


def shop(folder):
    """A procedure and its record, with words beyond ASCII at its end."""
    shutil.copy(ROOT / "procedures/first/harbour_pump.rebuild", folder / "pump.rebuild")
    record = folder / "job.yaml"
    record.write_text('# kept\njob: "7"\nprocedure: pump.rebuild\nnotes:\n  - about: cover_screws\n    says: usé 5°\n', "utf-8")
    return record


def command(record):
    return [str(TOOL), "record", str(record), *NOTE]


def judge(record, before, after, beside, what):
    """The record is whole, old or new, and alone; says which."""
    now = record.read_bytes()
    if now not in (before, after):
        sys.exit(f"{what}: the record is neither as it was nor as it should become:\n{now!r}")
    left = {path.name for path in record.parent.iterdir()} - beside
    if left:
        sys.exit(f"{what}: left beside the record: {sorted(left)}")
    if now == after and after not in [text.encode() for text in json.loads(Path(f"{record}.before").read_bytes())]:
        sys.exit(f"{what}: the entry is there, and can't be taken back")
    return now == after


def again(record, before, what):
    """The next `record` succeeds at once."""
    record.write_bytes(before)
    begun = time.monotonic()
    done = subprocess.run(command(record), capture_output=True, text=True)
    if done.returncode != 0 or time.monotonic() - begun > 5:
        sys.exit(f"{what}: the next `record` exits {done.returncode} after {time.monotonic() - begun:.1f} s\n{done.stderr}")
    subprocess.run([str(TOOL), "record", str(record), "undo"], check=True, capture_output=True)
    if record.read_bytes() != before:
        sys.exit(f"{what}: taken back, and yet not as before")


def main():
    kills = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 7
    chance = random.Random(seed)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        record = shop(folder)
        before = record.read_bytes()
        begun = time.monotonic()
        subprocess.run(command(record), check=True, capture_output=True)
        whole = time.monotonic() - begun
        after = record.read_bytes()
        assert after != before
        # What it was is kept beside it, so that an entry can be taken back.
        beside = {path.name for path in folder.iterdir()}
        written = 0
        for index in range(kills):
            record.write_bytes(before)
            running = subprocess.Popen(command(record), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            # Half of them in the last third, where it writes.
            share = chance.uniform(0, 1.2) if index % 2 else chance.uniform(0.6, 1.1)
            time.sleep(share * whole)
            running.send_signal(chance.choice([signal.SIGKILL, signal.SIGKILL, signal.SIGTERM, signal.SIGINT, signal.SIGHUP]))
            running.wait()
            # What a kill leaves half made may lie there under a name of its own until the next `record`, never under the record's.
            written += judge(record, before, after, beside | {path.name for path in folder.glob(".*.part")}, f"kill {index}")
            if index % 50 == 0:
                again(record, before, f"kill {index}")
        again(record, before, "after all kills")
        judge(record, before, after, beside, "after all kills")
        print(f"{kills} kills, {written} of them after it was written: nothing lost, nothing half done")
        if not shutil.which("strace"):
            print("no strace: no system call was made to fail")
            return
        faults = 0
        for call, errors in CALLS.items():
            for error in errors:
                for when in range(1, 200):
                    record.write_bytes(before)
                    trace = folder.parent / f"{folder.name}.trace"
                    inject = f"inject={call}:error={error}:when={when}"
                    done = subprocess.run(["strace", "-f", "-o", str(trace), "-e", f"trace={call}", "-e", inject, *command(record)],
                                          capture_output=True, text=True)
                    injected = "(INJECTED)" in trace.read_text(errors="replace")
                    trace.unlink()
                    if not injected:
                        break
                    faults += 1
                    what = f"{call} {error} at its call {when}"
                    made = judge(record, before, after, beside | {path.name for path in folder.glob(".*.part")}, what)
                    if done.returncode == 0 and not made:
                        sys.exit(f"{what}: exit 0, and nothing was written")
        again(record, before, "after all faults")
        print(f"{faults} failing system calls: the record is old or new each time, and never old with exit 0")


main()
