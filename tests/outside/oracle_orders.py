"""The enumeration behind the brute-force oracle of the tests, against networkx's all_topological_sorts."""

import json
import subprocess

import networkx

from _tool import ROOT


def main():
    command = ["cargo", "test", "--quiet", "--lib", "network::oracle::prints_its_orders", "--",
               "--ignored", "--nocapture"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    lines = [line for line in done.stdout.splitlines() if line.startswith('{"nodes"')]
    assert len(lines) >= 200, "the oracle printed too little"
    orders = cyclic = 0
    for line in lines:
        case = json.loads(line)
        graph = networkx.DiGraph([tuple(edge) for edge in case["edges"]])
        graph.add_nodes_from(range(case["nodes"]))
        if not networkx.is_directed_acyclic_graph(graph):
            assert case["orders"] == [], "orders of a cycle"
            cyclic += 1
            continue
        theirs = sorted(map(list, networkx.all_topological_sorts(graph)))
        assert sorted(case["orders"]) == theirs, case
        orders += len(theirs)
    print(f"{len(lines)} small procedures, {cyclic} of them contradictory: all {orders} orders agree with networkx")


main()
