"""The same content set by benchleaf, written raw, and set by typst and reportlab, side by side in one run.

The benchmark exports its packet (steps, tables, hazards, figures) as JSON with the three DejaVu faces; each program sets
all of it on A4 with the same margins and sizes, steps kept whole, heads of tables repeated, numbered feet. Every program
runs as a process of its own, the programs taking turns. Printed are the medians of the whole process and of the time
from content in memory to file, the largest memory of the process, the file's size, and ratios to benchleaf.

    python3 -m venv target/compare && target/compare/bin/pip install typst reportlab
    target/compare/bin/python benches/page/compare.py            # 60 pages, then 1000
    target/compare/bin/python benches/page/compare.py 60 --keep FOLDER
"""

import argparse
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from importlib.metadata import version
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]


def benchmark():
    """Path of the benchmark's program."""
    command = ["cargo", "bench", "--bench", "page", "--no-run", "--message-format=json"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    messages = [json.loads(line) for line in done.stdout.splitlines() if line.startswith("{")]
    programs = [m["executable"] for m in messages if m.get("executable") and m["target"]["name"] == "page"]
    return programs[-1]


def measured(command):
    """Seconds of the whole process, seconds that it tells of itself, largest memory in MiB."""
    start = time.perf_counter()
    process = subprocess.Popen([str(part) for part in command], stdout=subprocess.PIPE)
    told = process.stdout.read()
    _, status, usage = os.wait4(process.pid, 0)
    whole = time.perf_counter() - start
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode != 0:
        sys.exit(f"{command}: exit {process.returncode}")
    return whole, float(told.split()[-1]), usage.ru_maxrss / 1024


def pages_of(path):
    info = subprocess.run(["pdfinfo", path], capture_output=True, text=True, check=True).stdout
    return int(info.split("Pages:")[1].split()[0])


def compare(program, pages, runs, folder):
    subprocess.run([program, "--export", str(pages), folder], check=True)
    commands = {
        "benchleaf": [program, "--file", pages],
        "raw streams": [program, "--raw", pages],
        f"typst {version('typst')}": [sys.executable, HERE / "with_typst.py", folder],
        f"reportlab {version('reportlab')}": [sys.executable, HERE / "with_reportlab.py", folder],
    }
    found = {name: [] for name in commands}
    for _ in range(runs):
        for name, command in commands.items():
            out = Path(folder) / f"{name.split()[0]}-{pages}.pdf"
            found[name].append((*measured([*command, out]), out))
    print(f"{pages} pages asked for, {runs} run{'s' if runs > 1 else ''} each")
    print(f"{'':20}{'process s':>10}{'ratio':>8}{'content to file s':>19}{'ratio':>8}{'peak MiB':>10}{'KB':>8}{'pages':>7}")
    ours = None
    for name, rows in found.items():
        whole, inside, peak = (statistics.median(row[column] for row in rows) for column in range(3))
        ours = ours or (whole, inside)
        out = rows[-1][3]
        print(
            f"{name:20}{whole:10.3f}{whole / ours[0]:8.2f}{inside:19.3f}{inside / ours[1]:8.2f}{peak:10.0f}"
            f"{out.stat().st_size / 1024:8.0f}{pages_of(out):7}"
        )


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("pages", type=int, nargs="*", default=[60, 1000])
    parser.add_argument("--keep", metavar="FOLDER", help="leave content and files there, to be looked at")
    arguments = parser.parse_args()
    program = benchmark()
    for pages in arguments.pages:
        with tempfile.TemporaryDirectory() as folder:
            if arguments.keep:
                folder = arguments.keep
                Path(folder).mkdir(parents=True, exist_ok=True)
            compare(program, pages, 5 if pages <= 100 else 1, folder)


if __name__ == "__main__":
    main()
