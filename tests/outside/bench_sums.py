"""Sums of the bench over whole ranges against scipy and pint: pistons by a root of the crank triangle, press fits by the
differential equation of a thick ring, springs by the twist of their wire, compression by integration, contraction in the
cold by a polynomial, torques by a table of the long form worked with units. The tool is asked through its own JSON."""

import itertools
import math
from concurrent.futures import ThreadPoolExecutor

import pint
from scipy.integrate import quad, solve_bvp
from scipy.optimize import brentq

from _tool import run_json

UNITS = pint.UnitRegistry()


def result(answer, name):
    """Both ends of one result by the beginning of its name."""
    for line in answer["results"]:
        if line["name"].startswith(name) and "low" in line:
            return line["low"], line["high"]
    raise AssertionError((name, [line["name"] for line in answer["results"]]))


def asked(*words):
    return run_json("reckon", *words, "--format", "json")


def close(a, b, what, tolerance=1e-9):
    assert math.isclose(a, b, rel_tol=tolerance, abs_tol=1e-9), (what, a, b)


def piston(case):
    stroke, rod, degrees = case
    found, _ = result(asked("piston", "--stroke", f"{stroke} mm", "--rod", f"{rod} mm", "--angle", f"{degrees} deg"), "down")
    r, theta = stroke / 2, math.radians(degrees)
    pin = (r * math.sin(theta), r * math.cos(theta))
    # The height at which the small end is one rod away from the pin.
    height = brentq(lambda h: math.hypot(pin[0], h - pin[1]) - rod, pin[1], pin[1] + 2 * rod, xtol=1e-13)
    close(found, r + rod - height, case, 1e-7)


def press(case):
    d, outside, hollow, grip = case
    words = ["press", "--diameter", f"{d} mm", "--length", "30 mm", "--outside", f"{outside} mm", "--interference",
             f"{grip} mm", "--hub", "aluminium", "--shaft", "steel", "--friction", "0.12"]
    if hollow:
        words += ["--hollow", f"{hollow} mm"]
    found, _ = result(asked(*words), "pressure")

    def give(modulus, inner, outer, at_inner):
        """Radial give at the fit of a ring under a unit of pressure there, by u'' + u'/x − u/x² = 0 in plane stress."""
        nu = 0.3

        def stress(u, slope, x):
            return modulus / (1 - nu * nu) * (slope + nu * u / x)

        def ends(a, b):
            pressed, free = (-1.0, 0.0) if at_inner else (0.0, -1.0)
            return [stress(a[0], a[1], inner) - pressed, stress(b[0], b[1], outer) - free]

        grid = [inner + (outer - inner) * step / 40 for step in range(41)]
        solved = solve_bvp(lambda x, u: [u[1], u[0] / x**2 - u[1] / x], ends, grid, [[1e-4] * 41, [0.0] * 41], tol=1e-8)
        assert solved.success, solved.message
        return solved.sol(inner if at_inner else outer)[0]

    hub = give(70_000.0, d / 2, outside / 2, True)
    if hollow:
        shaft = -give(205_000.0, hollow / 2, d / 2, False)
    else:
        shaft = (1 - 0.3) / 205_000.0 * d / 2
    close(found, grip / 2 / (hub + shaft), case, 1e-5)


def spring(case):
    wire, outside, coils = case
    answer = asked("spring", "--wire", f"{wire} mm", "--outside", f"{outside} mm", "--coils", str(coils), "--free", "90 mm")
    found, _ = result(answer, "rate")
    mean, working = outside - wire, coils - 2
    # Energy of the twist along the wire under a unit load: one half of the give.
    polar = math.pi * wire**4 / 32
    energy, _ = quad(lambda _: (mean / 2) ** 2 / (2 * 81_500.0 * polar), 0, working * math.pi * mean)
    close(found, 1 / (2 * energy), case, 1e-7)


def compression(case):
    bore, stroke, chamber, gasket, deck, dish = case
    answer = asked("compression", "--bore", f"{bore} in", "--stroke", f"{stroke} in", "--chamber", f"{chamber} cm3", "--gasket",
                   f"{gasket} mm", "--deck", f"{deck} mm", "--dish", f"{dish} cm3")
    found, _ = result(answer, "compression ratio")
    length = UNITS.Quantity
    disc = lambda height: math.pi / 4 * length(bore, "inch") ** 2 * height
    above = length(chamber, "cm**3") + disc(length(gasket, "mm")) + disc(length(deck, "mm")) + length(dish, "cm**3")
    close(found, float(((disc(length(stroke, "inch")) + above) / above).to("")), case, 1e-9)


def cooling(case):
    bore, grip = case
    answer = asked("heat", "--bore", f"{bore} mm", "--interference", f"{grip} mm", "--material", "aluminium", "--cool")
    cold, mild = result(answer, "cool to")
    # NIST cryogenic data for aluminium 6061-T6, from memory, in 1e-5; the grades go to each side of it.
    shrunk = lambda kelvin: 412.77 + 0.30389 * kelvin - 8.7696e-3 * kelvin**2 + 9.9821e-6 * kelvin**3
    slope = (shrunk(293.15) - shrunk(293.05)) / -0.1
    wanted = grip / bore * 1e5
    for alpha, found in ((21.5, cold), (23.6, mild)):
        exact = brentq(lambda kelvin: shrunk(kelvin) * alpha / (slope * 10) - wanted, 77.0, 293.0)
        assert exact - 1.6 <= found + 273.15 <= exact + 0.3, (case, alpha, found, exact - 273.15)


def pull(case):
    newtons, radius = case
    found, _ = result(asked("pull", "--pull", f"{newtons} lbf", "--radius", f"{radius} in"), "torque")
    close(found, (UNITS.Quantity(newtons, "lbf") * UNITS.Quantity(radius, "inch")).to("N*m").magnitude, case)


def main():
    checks = {
        piston: itertools.product((60, 88, 140), (100, 140, 230), (1, 17, 45, 90, 133, 179)),
        press: itertools.product((20, 50), (70, 120), (0, 8, 16), (0.02, 0.06)),
        spring: itertools.product((2, 3.2, 5), (22, 34, 48), (5, 6.5, 9)),
        compression: itertools.product((3.0, 3.875), (3.2, 4.1), (30, 52), (0.5, 1.4), (-0.1, 0.4), (-4, 6)),
        cooling: itertools.product((30, 80), (0.02, 0.05, 0.08)),
        pull: itertools.product((0.5, 12, 80), (1.5, 12)),
    }
    with ThreadPoolExecutor(4) as pool:
        for check, cases in checks.items():
            cases = list(cases)
            list(pool.map(check, cases))
            print(f"{len(cases)} cases of {check.__name__} agree")


main()
