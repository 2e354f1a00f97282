"""GraphML and CSV of the shipped procedures, read by networkx and Python's own csv: the same steps, links and
reachability as each other and as `order --format json`."""

import csv
import tempfile
from pathlib import Path

import networkx

from _tool import ROOT, run, run_json

PHASES = ["strip", "survey", "build", "start"]


def check(procedure, phase, folder):
    order = run_json("order", procedure, "--phase", phase, "--format", "json")["steps"]
    xml, table = folder / "order.graphml", folder / "order.csv"
    for path in (xml, table):
        run("graph", procedure, "--phase", phase, "-o", path)
    read = networkx.read_graphml(xml)
    assert read.is_directed()
    step = networkx.get_node_attributes(read, "step")
    assert len(step) == len(read) == len(set(step.values())), "a node without its step, or two of one"
    graph = networkx.relabel_nodes(read, step)
    titles = {entry["id"]: entry["title"] for entry in order}
    assert set(graph.nodes) == set(titles), "not the steps of the order"
    edges = {(a, b): (data["kind"], data["reason"]) for a, b, data in graph.edges(data=True)}
    with open(table, newline="", encoding="utf-8") as file:
        assert file.read().count("\r\n") >= len(edges) + 1, "lines end in CR LF"
        file.seek(0)
        rows = list(csv.DictReader(file, strict=True))
    assert len(rows) == len(edges)
    assert {(row["from"], row["to"]): (row["kind"], row["reason"]) for row in rows} == edges, "CSV and GraphML differ"
    stated = networkx.DiGraph([(before, entry["id"]) for entry in order for before in entry["after"]])
    stated.add_nodes_from(titles)
    assert networkx.is_directed_acyclic_graph(graph)
    reach = networkx.transitive_closure_dag(graph)
    assert set(reach.edges) == set(networkx.transitive_closure_dag(stated).edges), "reachability differs"
    assert set(networkx.transitive_reduction(graph).edges) == set(edges), "a link that others imply"
    place = {entry["id"]: at for at, entry in enumerate(order)}
    assert all(place[a] < place[b] for a, b in edges), "the order breaks a link"
    return len(graph), len(edges)


def main():
    steps = links = 0
    with tempfile.TemporaryDirectory() as folder:
        for procedure in sorted((ROOT / "procedures").glob("*.rebuild")) + sorted((ROOT / "procedures/first").glob("*.rebuild")):
            for phase in PHASES:
                nodes, edges = check(procedure, phase, Path(folder))
                steps, links = steps + nodes, links + edges
    assert steps > 250 and links > 250, (steps, links)
    print(f"{steps} steps and {links} links: GraphML, CSV and the order agree")


if __name__ == "__main__":
    main()
