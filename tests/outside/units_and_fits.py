"""Unit sizes against pint and scipy.constants; limits of fits against the tables of the package pressfit 0.1.0 (MIT),
whole: every size step, shaft letter and grade that both know, and holes by the standard's rule from its shafts. The tool is asked through its own JSON."""

import math
from concurrent.futures import ThreadPoolExecutor

import pint
import pressfit
from pressfit.tables import GRADES, SHAFT_LETTERS
from scipy import constants

from _tool import run_json

# The tool's unit, and the same for pint (where `mil` is an angle) with its base unit.
PINT = {
    "mm": "mm", "um": "um", "cm": "cm", "m": "m", "in": "inch", "thou": "thou",
    "N": "N", "kN": "kN", "lbf": "lbf",
    "N.m": "N*m", "lbf.ft": "lbf*ft", "lbf.in": "lbf*inch", "kgf.m": "kgf*m",
    "deg": "degree", "turn": "turn", "mL": "mL", "L": "L", "cm3": "cm**3",
    "kg": "kg", "g": "g", "lb": "lb", "min": "minute", "s": "s", "h": "hour", "day": "day",
    "bar": "bar", "kPa": "kPa", "MPa": "MPa", "psi": "psi",
    "degC": "delta_degC", "degF": "delta_degF", "rpm": "rpm", "%": "percent", ":1": "dimensionless",
    "kgf.cm": "kgf*cm", "cN.m": "cN*m", "in3": "inch**3", "kgf/cm2": "kgf/cm**2", "N/mm": "N/mm", "lbf/in": "lbf/inch", "K": "kelvin",
    "V": "volt", "A": "ampere", "ohm": "ohm",
}
SCIPY = {
    "in": constants.inch, "thou": constants.mil, "lbf": constants.lbf,
    "lbf.ft": constants.lbf * constants.foot, "lbf.in": constants.lbf * constants.inch, "kgf.m": constants.kgf,
    "deg": constants.degree, "L": constants.liter, "lb": constants.lb, "g": constants.gram,
    "min": constants.minute, "h": constants.hour, "day": constants.day, "bar": constants.bar,
    "psi": constants.psi, "degF": constants.degree_Fahrenheit,
    "kgf.cm": constants.kgf / 100, "in3": constants.inch**3, "kgf/cm2": constants.kgf * 1e4,
}
# Numbers that every unit is asked with, across what a bench meets; and some as they are written.
NUMBERS = ["0.004", "0.75", "14.7", "98.6", "3000", "65000"]
WRITTEN = ["7/16 in", "1 5/8 in", "-40 degC", "-40 degF", "-100 degF", "-5 K"]
TOLERANCE = 2e-11  # The tool's JSON carries twelve digits.

# Upper ends of the steps of nominal sizes, main and intermediate.
ENDS = [3, 6, 10, 14, 18, 24, 30, 40, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250, 280, 315, 355, 400, 450, 500]


def close(a, b, what, tolerance=TOLERANCE):
    assert math.isclose(a, b, rel_tol=tolerance, abs_tol=1e-9 * tolerance), (what, a, b)


def units():
    registry = pint.UnitRegistry()
    listed = {line["name"]: line["low"] for line in run_json("reckon", "units", "--format", "json")["results"]}
    assert listed.keys() == PINT.keys(), listed.keys() ^ PINT.keys()
    for symbol, size in listed.items():
        close(size, registry.Quantity(1, PINT[symbol]).to_base_units().magnitude, symbol)
        if symbol in SCIPY:
            close(size, SCIPY[symbol], symbol)
    converted = 0
    texts = WRITTEN + [f"{number} {symbol}" for symbol in PINT for number in NUMBERS]
    with ThreadPoolExecutor(4) as pool:
        answers = list(pool.map(lambda text: run_json("reckon", "units", text, "--format", "json"), texts))
    for text, answer in zip(texts, answers):
        given = answer["given"][0]
        # Kelvin are a difference to the tool, and so is what it makes of them.
        absolute = {} if given["unit"] == "K" else {"degC": "degC", "degF": "degF", "K": "kelvin"}
        quantity = registry.Quantity(given["low"], absolute.get(given["unit"], PINT[given["unit"]]))
        for line in answer["results"]:
            wanted = quantity.to(absolute.get(line["unit"], PINT[line["unit"]])).magnitude
            close(line["low"], wanted, (text, line["unit"]), 1e-9 if line["unit"] in absolute else TOLERANCE)
            converted += 1
    return len(listed), converted


def limits(case):
    """What the tool and the package say of one fit, each (hole low, hole high, shaft low, shaft high) in µm."""
    size, letter, grade = case
    theirs = pressfit.fit(f"H{grade}/{letter}{grade}", size)
    answer = run_json("reckon", "fit", f"{size} mm", f"H{grade}/{letter}{grade}", "--format", "json")
    ours = {line["name"]: (line["low"], line["high"]) for line in answer["results"] if "low" in line}
    hole, shaft = ours["deviation of the hole"], ours["deviation of the shaft"]
    wanted = (theirs.hole_ei_um, theirs.hole_es_um, theirs.shaft_ei_um, theirs.shaft_es_um)
    return case, hole + shaft, wanted, answer["results"][-1]["text"], theirs.kind


def fits():
    cases = []
    for low, end in zip([0] + ENDS, ENDS):
        for letter in [*SHAFT_LETTERS, "js"]:
            cases += [(end, letter, grade) for grade in sorted(GRADES)]
            # A size inside the step belongs to the same step, and so does the first above the step before.
            cases += [((low + end) / 2, letter, grade) for grade in (5, 7, 9, 11)] + [(round(low + 0.001, 3), letter, 7)]
    with ThreadPoolExecutor(4) as pool:
        found = list(pool.map(limits, cases))
    off = []
    for case, ours, theirs, kind, their_kind in found:
        if any(abs(a - b) > 1e-6 for a, b in zip(ours, theirs)) or not kind.startswith(their_kind):
            off.append((case, ours, theirs, kind, their_kind))
    for line in off[:40]:
        print("differs:", *line)
    assert not off, f"{len(off)} of {len(cases)} differ"
    return len(cases)


def hole(case):
    """A hole's limits in µm by the tool, and by the rule ES = −ei + Δ from the package's shafts and tolerances."""
    size, letter, grade = case
    shaft = pressfit.fit(f"H{grade}/{letter}{min(grade, 7)}", size)
    tolerance = shaft.hole_es_um
    step = tolerance - pressfit.fit(f"H{grade - 1}/h6", size).hole_es_um
    upper = -shaft.shaft_ei_um + (step if size > 3 else 0)
    answer = run_json("reckon", "fit", f"{size} mm", f"{letter.upper()}{grade}/h6", "--format", "json")
    ours = next((line["low"], line["high"]) for line in answer["results"] if line["name"] == "deviation of the hole")
    return case, ours, (upper - tolerance, upper)


def holes():
    """Holes above the nominal size's line reversed; M6 over 250 up to 315 mm is the standard's own exception."""
    last = {"k": 8, "m": 8, "n": 8, "p": 7, "s": 7, "u": 7}
    cases = [(size, letter, grade) for size in ENDS for letter, most in last.items() for grade in range(6, most + 1)
             if not (letter == "m" and grade == 6 and 250 < size <= 315)]
    with ThreadPoolExecutor(4) as pool:
        off = [line for line in pool.map(hole, cases) if any(abs(a - b) > 1e-6 for a, b in zip(*line[1:]))]
    assert not off, off[:20]
    return len(cases)


def main():
    listed, converted = units()
    print(f"{listed} units agree with pint, {len(SCIPY)} of them with scipy.constants; {converted} conversions agree")
    print(f"{fits()} fits agree with pressfit, and {holes()} holes with its shafts reversed")


main()
