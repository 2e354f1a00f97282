"""Precedence graphs that nobody here made, turned into procedures and compared with networkx.

Source: the sequential ordering instances of TSPLIB95 (G. Reinelt) and SOPLIB06 (R. Montemanni), public research
data. They are not part of this repository: without them beside the checkout this check says so and passes.
"""

import random
import tempfile
from pathlib import Path

import networkx

from _tool import ROOT, run_json

FOLDER = ROOT.parent / "shared/reference/sop"
HEAD = '-- Made from public precedence data for a check.\nfamily data "Data" { edition 1  origin "public instance" }\n'


def relations(path):
    """Number of nodes, and every "i before j" that the file states (an entry of -1 at row j, column i)."""
    words = path.read_text().split("EDGE_WEIGHT_SECTION")[-1].split("EOF")[0].split()
    numbers = [int(word) for word in words if word.lstrip("-").isdigit()]
    nodes = round((len(numbers)) ** 0.5)
    if nodes * nodes != len(numbers):
        nodes, numbers = numbers[0], numbers[1:]
    assert nodes * nodes == len(numbers), path
    return nodes, [(i, j) for j in range(nodes) for i in range(nodes) if numbers[j * nodes + i] == -1]


def procedure(nodes, pairs, states=(), twice=()):
    """A step a node; `states` are pairs told by a state that one step sets and the other needs; `twice` are pairs
    whose state a second step sets as well."""
    told = set(states)
    text = [HEAD]
    text += [f'state r{i}_{j} "Relation" = open (at first), done' for i, j in states]
    after = {j: [i for i, k in pairs if k == j and (i, j) not in told] for j in range(nodes)}
    for node in range(nodes):
        lines = [f'strip n{node} "Node {node}" {{']
        if after[node]:
            lines.append("  after " + ", ".join(f"n{i}" for i in after[node]))
        lines += [f"  needs r{i}_{j} = done" for i, j in states if j == node]
        lines += [f"  set r{i}_{j} = done" for i, j in states if i == node]
        lines += ['  do "Work."', "}"]
        text.append("\n".join(lines))
    for i, j in twice:
        text.append(f'strip also{i}_{j} "Also" {{ set r{i}_{j} = done }}')
    return "\n".join(text) + "\n"


def written(text, folder):
    path = Path(folder) / "data.rebuild"
    path.write_text(text)
    return path


def compare(nodes, pairs, steps):
    graph = networkx.DiGraph(pairs)
    graph.add_nodes_from(range(nodes))
    closure = networkx.transitive_closure_dag(graph)
    reduced = networkx.transitive_reduction(graph)
    assert len(steps) == nodes
    place = {step["id"]: at for at, step in enumerate(steps)}
    for step in steps:
        node = int(step["id"][1:])
        assert {f"n{i}" for i in reduced.predecessors(node)} == set(step["after"]), step
        assert step["earliest"] == closure.in_degree(node) + 1, step
        assert step["latest"] == nodes - closure.out_degree(node), step
        assert all(place[f"n{i}"] < place[step["id"]] for i in graph.predecessors(node)), step


def main():
    folder = FOLDER
    files = sorted(folder.glob("*.sop"))
    if not files:
        print("no instances beside the checkout: nothing compared")
        return
    compared = stated = 0
    with tempfile.TemporaryDirectory() as scratch:
        for path in files:
            nodes, pairs = relations(path)
            if nodes > 210:
                continue
            compare(nodes, pairs, run_json("order", written(procedure(nodes, pairs), scratch), "--format", "json")["steps"])
            compared += 1
            if nodes > 60:
                continue
            # One act brings each state about: without the stated relation the order is the same.
            reduced = sorted(networkx.transitive_reduction(networkx.DiGraph(pairs)).edges)
            told = written(procedure(nodes, reduced, states=reduced), scratch)
            compare(nodes, pairs, run_json("order", told, "--format", "json")["steps"])
            # Two acts bring one of them about: dropping the stated relation is reported.
            for i, j in random.Random(3).sample(reduced, min(3, len(reduced))):
                text = procedure(nodes, reduced, states=[(i, j)], twice=[(i, j)])
                found = run_json("check", written(text, scratch), "--format", "json", expect=None)
                codes = {entry["name"] for entry in found if entry["severity"] == "error"}
                assert codes == {"network/order-open"}, (path.name, i, j, codes)
                stated += 1
    print(f"{compared} instances agree with networkx; {stated} dropped relations were reported")


main()
