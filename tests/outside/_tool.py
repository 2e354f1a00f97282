"""What the outside checks share: where the tool is, and how it is run."""

import json
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
TOOL = Path(os.environ.get("BENCHLEAF", ROOT / "target/debug/benchleaf"))
EXAMPLES = Path(os.environ.get("BENCHLEAF_EXAMPLES", ROOT / "target/debug/examples"))


def run(*arguments, expect=0):
    """Standard output of the tool; stops the check if it exits otherwise than expected."""
    done = subprocess.run([TOOL, *map(str, arguments)], capture_output=True, text=True)
    if expect is not None and done.returncode != expect:
        sys.exit(f"benchleaf {' '.join(map(str, arguments))}: exit {done.returncode}\n{done.stdout}{done.stderr}")
    return done.stdout


def run_json(*arguments, expect=0):
    """The same, read as JSON."""
    return json.loads(run(*arguments, expect=expect))


def reckoned(*words):
    """What a form of `reckon` answers."""
    return run_json("reckon", *words, "--format", "json")


def result(answer, name):
    """Both ends of one result by the beginning of its name."""
    for line in answer["results"]:
        if line["name"].startswith(name) and "low" in line:
            return line["low"], line["high"]
    raise AssertionError((name, [line["name"] for line in answer["results"]]))


def agree(checks):
    """Runs each check on all of its cases, which stop the program where they differ, and says how many there were."""
    with ThreadPoolExecutor(4) as pool:
        for check, cases in checks.items():
            cases = list(cases)
            list(pool.map(check, cases))
            print(f"{len(cases)} cases of {check.__name__} agree")


def graphs(nodes, edges, *flags):
    """What the tool's graph room says of an edge list."""
    text = " ".join([str(nodes)] + [f"{x} {y}" for x, y in edges])
    done = subprocess.run([EXAMPLES / "graphs", *flags], input=text, capture_output=True, text=True, check=True)
    return json.loads(done.stdout)
