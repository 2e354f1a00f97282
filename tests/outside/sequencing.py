"""Small public sequencing and scheduling instances, if they lie beside the checkout: best-known values are reached and
proved, and nothing claims to be better than an optimum. The files are read here afresh, so that what the examples
read is checked as well.

Sources: TSPLIB95 (G. Reinelt), sequential ordering; PSPLIB (Kolisch and Sprecher 1996), j30."""

import csv
import os
import subprocess
from pathlib import Path

from _tool import EXAMPLES, ROOT

REFERENCE = Path(os.environ.get("BENCHLEAF_REFERENCE", ROOT.parent / "shared" / "reference"))
ORDERS = ["ESC12", "br17.12", "ESC63"]


def best_known(folder):
    with open(folder / "best_known.csv") as file:
        return {row[0]: row[1:] for row in csv.reader(file)}


def found(example, path, *options):
    """The example's line on one instance: value, bound, whether proved."""
    done = subprocess.run([EXAMPLES / example, path, *options], capture_output=True, text=True, check=True)
    name, value, bound, proved, *_ = done.stdout.splitlines()[1].split()
    assert name == path.stem, done.stdout
    return int(value), int(bound), proved == "proved"


def main():
    if not (REFERENCE / "sop").is_dir():
        print("no public instances beside the checkout: nothing checked")
        return
    known = best_known(REFERENCE / "sop")
    for name in ORDERS:
        best = int(known[name][0])
        value, bound, proved = found("sop", REFERENCE / "sop" / f"{name}.sop", "--work", "20000000")
        assert (value, bound, proved) == (best, best, True), (name, value, bound, proved, best)
    # A search that is hardly begun says so, and its bound is a bound.
    for name in ["ft70.4", "ry48p.1"]:
        best = int(known[name][0])
        value, bound, proved = found("sop", REFERENCE / "sop" / f"{name}.sop", "--work", "100000")
        assert bound <= best <= value and not proved, (name, value, bound, proved, best)
    folder = REFERENCE / "psplib" / "j30"
    known = best_known(folder)
    for path in sorted(folder.glob("*.sm"))[:3]:
        best = int(known[path.name][0])
        value, bound, proved = found("rcpsp", path, "--work", "3000000")
        assert bound <= best <= value and proved == (bound == value), (path.stem, value, bound, best)
    print(f"{len(ORDERS)} orders of public instances proved at their best-known cost; bounds hold")


if __name__ == "__main__":
    main()
