"""OR-Tools beside our search on the same machine, one thread, the same seconds. Run by hand, with `ortools` (PyPI) in
an environment of its own and the examples built with --release:

    BENCHLEAF_EXAMPLES=target/release/examples python _sequencing_ortools.py SECONDS FILE...

FILE is a TSPLIB or SOPLIB matrix (`.sop`) or a single-mode PSPLIB project (`.sm`). For orders: CP-SAT (a circuit with
positions, greedy hint) and the routing solver (one vehicle, a counting dimension for precedence, guided local search).
For projects: CP-SAT (intervals and cumulatives). Prints one line an instance and says where we were worse."""

import subprocess
import sys
from pathlib import Path

from ortools.constraint_solver import pywrapcp, routing_enums_pb2
from ortools.sat.python import cp_model

from _tool import EXAMPLES


def read_matrix(text):
    words = text.split("EDGE_WEIGHT_SECTION")[-1].split("EOF")[0].split()
    numbers = list(map(int, words))
    if numbers[0] ** 2 == len(numbers) - 1:
        numbers = numbers[1:]
    side = int(len(numbers) ** 0.5 + 0.5)
    return [numbers[i * side : (i + 1) * side] for i in range(side)]


def greedy(matrix):
    """The nearest node that may come next, again and again."""
    nodes = range(len(matrix))
    before = [{j for j in nodes if matrix[i][j] == -1 and i != j} for i in nodes]
    order = [0]
    while len(order) < len(matrix):
        done = set(order)
        # The last node waits for all others.
        ready = [i for i in nodes if i not in done and before[i] <= done]
        ready = [i for i in ready if i != len(matrix) - 1] or ready
        order.append(min(ready, key=lambda i: matrix[order[-1]][i]))
    return order


def cost_of(matrix, order):
    place = {node: at for at, node in enumerate(order)}
    nodes = range(len(matrix))
    assert sorted(order) == list(nodes)
    assert all(place[j] < place[i] for i in nodes for j in nodes if matrix[i][j] == -1 and i != j)
    return sum(matrix[x][y] for x, y in zip(order, order[1:]))


def cp_sat_order(matrix, seconds):
    model = cp_model.CpModel()
    side = len(matrix)
    hint = greedy(matrix)
    place = [model.new_int_var(0, side - 1, "") for _ in range(side)]
    follows = set(zip(hint, hint[1:]))
    arcs, terms = [], []
    for i in range(side - 1):
        for j in range(1, side):
            if i != j and matrix[i][j] != -1:
                taken = model.new_bool_var("")
                arcs.append((i, j, taken))
                terms.append(matrix[i][j] * taken)
                model.add(place[j] == place[i] + 1).only_enforce_if(taken)
                model.add_hint(taken, (i, j) in follows)
    arcs.append((side - 1, 0, model.new_constant(1)))
    model.add_circuit(arcs)
    for at, node in enumerate(hint):
        model.add_hint(place[node], at)
    for i in range(side):
        for j in range(side):
            if i != j and matrix[i][j] == -1:
                model.add(place[j] < place[i])
    model.minimize(sum(terms))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None, False
    order = sorted(range(side), key=lambda node: solver.value(place[node]))
    return cost_of(matrix, order), status == cp_model.OPTIMAL


def routing_order(matrix, seconds):
    side = len(matrix)
    manager = pywrapcp.RoutingIndexManager(side, 1, [0], [side - 1])
    routing = pywrapcp.RoutingModel(manager)

    def arc(x, y):
        cost = matrix[manager.IndexToNode(x)][manager.IndexToNode(y)]
        return 10_000_000 if cost < 0 else cost

    routing.SetArcCostEvaluatorOfAllVehicles(routing.RegisterTransitCallback(arc))
    routing.AddDimension(routing.RegisterTransitCallback(lambda x, y: 1), 0, side, True, "place")
    place = routing.GetDimensionOrDie("place")
    index = [manager.NodeToIndex(node) for node in range(side - 1)] + [routing.End(0)]
    for i in range(side):
        for j in range(side):
            if i != j and matrix[i][j] == -1:
                routing.solver().Add(place.CumulVar(index[j]) <= place.CumulVar(index[i]) - 1)
    parameters = pywrapcp.DefaultRoutingSearchParameters()
    parameters.local_search_metaheuristic = routing_enums_pb2.LocalSearchMetaheuristic.GUIDED_LOCAL_SEARCH
    parameters.time_limit.FromMilliseconds(int(seconds * 1000))
    first = routing.ReadAssignmentFromRoutes([greedy(matrix)[1:-1]], True)
    solution = routing.SolveFromAssignmentWithParameters(first, parameters) if first else None
    if solution is None:
        return None
    order, at = [], routing.Start(0)
    while not routing.IsEnd(at):
        order.append(manager.IndexToNode(at))
        at = solution.Value(routing.NextVar(at))
    return cost_of(matrix, order + [manager.IndexToNode(at)])


def cp_sat_project(text, seconds):
    def rows(title):
        lines = text.split(title, 1)[1].splitlines()[1:]
        lines = [line.split() for line in lines]
        while not (lines[0] and lines[0][0].isdigit()):
            lines.pop(0)
        for at, words in enumerate(lines):
            if not (words and words[0].isdigit()):
                return [list(map(int, words)) for words in lines[:at]]
        return [list(map(int, words)) for words in lines if words]

    precedence, requests = rows("PRECEDENCE RELATIONS"), rows("REQUESTS/DURATIONS")
    capacity = rows("RESOURCEAVAILABILITIES")[0]
    model = cp_model.CpModel()
    horizon = sum(row[2] for row in requests)
    start = [model.new_int_var(0, horizon, "") for _ in requests]
    bars = [model.new_fixed_size_interval_var(s, row[2], "") for s, row in zip(start, requests)]
    for row in precedence:
        for after in row[3:]:
            model.add(start[after - 1] >= start[row[0] - 1] + requests[row[0] - 1][2])
    for at, most in enumerate(capacity):
        model.add_cumulative(bars, [row[3 + at] for row in requests], most)
    model.minimize(start[-1])
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    solved = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return (round(solver.objective_value) if solved else None), status == cp_model.OPTIMAL


def ours(example, path, seconds):
    done = subprocess.run(
        [EXAMPLES / example, path, "--seconds", str(seconds)], capture_output=True, text=True, check=True
    )
    words = done.stdout.splitlines()[1].split()
    return int(words[1]), words[3] == "proved"


def main():
    seconds, worse = float(sys.argv[1]), []
    for path in map(Path, sys.argv[2:]):
        text = path.read_text()
        project = path.suffix == ".sm"
        value, proved = ours("rcpsp" if project else "sop", path, seconds)
        if project:
            others = {"cp-sat": cp_sat_project(text, seconds)}
        else:
            matrix = read_matrix(text)
            others = {
                "cp-sat": cp_sat_order(matrix, seconds),
                "routing": (routing_order(matrix, seconds), False),
            }
        told = "  ".join(f"{name} {cost}{' proved' if sure else ''}" for name, (cost, sure) in others.items())
        print(f"{path.stem:<14} ours {value}{' proved' if proved else ''}  {told}", flush=True)
        if any(cost is not None and cost < value for cost, _ in others.values()):
            worse.append(path.stem)
    print("worse than OR-Tools on:", ", ".join(worse) or "none")


if __name__ == "__main__":
    main()
