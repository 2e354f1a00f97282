"""Random graphs turned into procedures: our order must be one of their linear extensions, and our verdict on cycles
networkx's. A step a node, `after` for each edge."""

import json
import random
import subprocess
import tempfile
from pathlib import Path

import networkx

from _tool import TOOL

HEAD = '-- Made at random for a check.\nfamily random "Random" { edition 1  origin "made at random" }\n'


def procedure(graph):
    text = [HEAD]
    for node in sorted(graph.nodes):
        before = sorted(graph.predecessors(node))
        after = "  after " + ", ".join(f"n{i}" for i in before) if before else ""
        text.append(f'strip n{node} "Node {node}" {{\n{after}\n  do "Work."\n}}')
    return "\n".join(text) + "\n"


def main():
    source = random.Random(20)
    cyclic = 0
    graphs = 60
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "random.rebuild"
        for _ in range(graphs):
            nodes = source.randint(2, 40)
            graph = networkx.DiGraph()
            graph.add_nodes_from(range(nodes))
            shuffled = source.sample(range(nodes), nodes)
            for _ in range(source.randint(0, 2 * nodes)):
                i, j = sorted(source.sample(range(nodes), 2))
                # Now and then an edge the other way, so that about half of the graphs have a cycle.
                pair = (shuffled[j], shuffled[i]) if source.random() < 0.7 / nodes else (shuffled[i], shuffled[j])
                graph.add_edge(*pair)
            path.write_text(procedure(graph))
            done = subprocess.run([TOOL, "order", path, "--format", "json"], capture_output=True, text=True)
            acyclic = networkx.is_directed_acyclic_graph(graph)
            assert (done.returncode == 0) == acyclic, (sorted(graph.edges), done.stderr)
            if not acyclic:
                assert done.returncode == 1 and "network/contradiction" in done.stderr, done.stderr
                cyclic += 1
                continue
            steps = [step["id"] for step in json.loads(done.stdout)["steps"]]
            place = {int(step[1:]): at for at, step in enumerate(steps)}
            assert sorted(place) == list(range(nodes)), steps
            assert all(place[i] < place[j] for i, j in graph.edges), (sorted(graph.edges), steps)
            stated = {(int(b[1:]), int(s["id"][1:])) for s in json.loads(done.stdout)["steps"] for b in s["after"]}
            assert stated == set(networkx.transitive_reduction(graph).edges), "after is not the reduction"
    assert 0 < cyclic < graphs, cyclic
    print(f"{graphs} random graphs, {cyclic} with a cycle: orders, reductions and verdicts agree with networkx")


if __name__ == "__main__":
    main()
