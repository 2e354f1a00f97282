"""Sums of the bench over whole ranges against scipy and pint: pistons by a root of the crank triangle, press fits by the
differential equation of a thick ring, springs by the twist of their wire, compression by integration, contraction in the
cold by a polynomial, torques by the wedge of the thread, yield by a root of the combined stress, stretch by integration along
the bolt, slings by the balance of forces, heat and displacement with units. The tool is asked through its own JSON."""

import itertools
import math

import numpy
import pint
from scipy.integrate import quad, solve_bvp
from scipy.optimize import brentq

from _tool import agree, reckoned, result

UNITS = pint.UnitRegistry()


def close(a, b, what, tolerance=1e-9):
    assert math.isclose(a, b, rel_tol=tolerance, abs_tol=1e-9), (what, a, b)


def piston(case):
    stroke, rod, degrees = case
    found, _ = result(reckoned("piston", "--stroke", f"{stroke} mm", "--rod", f"{rod} mm", "--angle", f"{degrees} deg"), "down")
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
    found, _ = result(reckoned(*words), "pressure")

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
    answer = reckoned("spring", "--wire", f"{wire} mm", "--outside", f"{outside} mm", "--coils", str(coils), "--free", "90 mm")
    found, _ = result(answer, "rate")
    mean, working = outside - wire, coils - 2
    # Energy of the twist along the wire under a unit load: one half of the give.
    polar = math.pi * wire**4 / 32
    energy, _ = quad(lambda _: (mean / 2) ** 2 / (2 * 81_500.0 * polar), 0, working * math.pi * mean)
    close(found, 1 / (2 * energy), case, 1e-7)


def compression(case):
    bore, stroke, chamber, gasket, deck, dish = case
    answer = reckoned("compression", "--bore", f"{bore} in", "--stroke", f"{stroke} in", "--chamber", f"{chamber} cm3", "--gasket",
                   f"{gasket} mm", "--deck", f"{deck} mm", "--dish", f"{dish} cm3")
    found, _ = result(answer, "compression ratio")
    length = UNITS.Quantity
    disc = lambda height: math.pi / 4 * length(bore, "inch") ** 2 * height
    above = length(chamber, "cm**3") + disc(length(gasket, "mm")) + disc(length(deck, "mm")) + length(dish, "cm**3")
    close(found, float(((disc(length(stroke, "inch")) + above) / above).to("")), case, 1e-9)


def cooling(case):
    bore, grip = case
    answer = reckoned("heat", "--bore", f"{bore} mm", "--interference", f"{grip} mm", "--material", "aluminium", "--cool")
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
    found, _ = result(reckoned("pull", "--pull", f"{newtons} lbf", "--radius", f"{radius} in"), "torque")
    close(found, (UNITS.Quantity(newtons, "lbf") * UNITS.Quantity(radius, "inch")).to("N*m").magnitude, case)


def thread(name):
    """Diameter, pitch, pitch diameter and diameter of the stress area of a metric thread, in mm: ISO 724, from memory."""
    diameter, pitch = (float(part) for part in name[1:].split("x"))
    side = pitch * math.sqrt(3) / 2
    effective, root = diameter - 2 * 3 / 8 * side, diameter - 2 * (side * 17 / 24)
    return diameter, pitch, effective, (effective + root) / 2


def under_head(answer):
    return next(line["low"] for line in answer["assumed"] if line["name"].startswith("mean diameter"))


def torque(case):
    name, mu, newtons_metres = case
    answer = reckoned("torque", name, "--friction", str(mu), "--torque", f"{newtons_metres} N.m")
    found, _ = result(answer, "preload from it")
    _, pitch, effective, _ = thread(name)
    lead, flank = math.atan(pitch / (math.pi * effective)), math.atan(mu / math.cos(math.radians(30)))
    # Up the wedge of the thread, and round under the head; the tool's form leaves out the product of two small angles.
    wanted = lambda load: load * (effective / 2 * math.tan(lead + flank) + mu * under_head(answer) / 2) - newtons_metres * 1e3
    close(found * 1e3, brentq(wanted, 1.0, 1e7), case, 0.012)


def ninety(case):
    name, mu, (grade, least) = case
    answer = reckoned("torque", name, "--friction", str(mu), "--class", grade)
    found, _ = result(answer, "preload at 90 %")
    _, pitch, effective, stressed = thread(name)
    twist = effective / 2 * (pitch / (math.pi * effective) + mu / math.cos(math.radians(30)))

    def stress(load):
        pull, shear = load / (math.pi / 4 * stressed**2), load * twist / (math.pi / 12 * stressed**3)
        return math.hypot(pull, math.sqrt(3) * shear)

    close(found * 1e3, brentq(lambda load: stress(load) - 0.9 * least, 1.0, 1e7), case, 2e-3)


def stretch(case):
    name, grip, plain, kilonewtons = case
    answer = reckoned("stretch", name, "--grip", f"{grip} mm", "--shank", f"{plain} mm", "--preload", f"{kilonewtons} kN")
    found, _ = result(answer, "stretch for it")
    diameter, pitch, _, _ = thread(name)
    root = diameter - 2 * (pitch * math.sqrt(3) / 2 * 17 / 24)
    # Head and nut as so much more shank, engaged thread as so much more root: VDI 2230, from memory.
    ends = [0.9 * diameter + plain, 0.9 * diameter + grip + 0.5 * diameter]
    area = lambda x: math.pi / 4 * (diameter if x < ends[0] else root) ** 2
    give = lambda x: kilonewtons * 1e3 / (205_000.0 * area(x))
    close(found, quad(give, 0, ends[0])[0] + quad(give, ends[0], ends[1])[0], case, 1e-5)


def sling(case):
    kilograms, apart, first, height = case
    answer = reckoned("sling", "--mass", f"{kilograms} kg", "--apart", f"{apart} mm", "--height", f"{height} mm", "--centre", f"{first} mm")
    second = apart - first
    legs = numpy.array([[-first, second], [height, height]], dtype=float) / [math.hypot(first, height), math.hypot(second, height)]
    pulls = numpy.linalg.solve(legs, [0.0, kilograms * 9.80665])
    for name, pull in zip(("first leg, pull", "second leg, pull"), pulls):
        close(result(answer, name)[0] * 1e3, pull, case, 1e-8)


def heating(case):
    bore, grip, slip = case
    answer = reckoned("heat", "--bore", f"{bore} in", "--interference", f"{grip} thou", "--slip", f"{slip} thou", "--material", "grey iron")
    mild, hot = result(answer, "heat to")
    quantity = UNITS.Quantity
    room = quantity(20, "degC").to("kelvin")
    for alpha, found in ((11.4, mild), (10.8, hot)):
        rise = (quantity(grip + slip, "thou") / quantity(bore, "inch") / quantity(alpha * 1e-6, "1/kelvin")).to("kelvin")
        close(found, (room + rise).to("degC").magnitude, case, 1e-9)


def displacement(case):
    bore, stroke, cylinders = case
    found, _ = result(reckoned("displacement", "--bore", f"{bore} in", "--stroke", f"{stroke} mm", "--cylinders", str(cylinders)), "displacement")
    swept = cylinders * math.pi / 4 * UNITS.Quantity(bore, "inch") ** 2 * UNITS.Quantity(stroke, "mm")
    close(found, swept.to("cm**3").magnitude, case)


THREADS = ("M6x1", "M8x1.25", "M10x1.25", "M12x1.75", "M16x1.5", "M24x3")
# ISO 898-1, from memory: yield of 8.8 up to 16 mm, and of 10.9 and 12.9.
CLASSES = (("8.8", 640.0), ("10.9", 940.0), ("12.9", 1100.0))


def main():
    checks = {
        torque: itertools.product(THREADS, (0.06, 0.10, 0.14, 0.20), (5, 40, 300)),
        ninety: itertools.product(THREADS[:5], (0.08, 0.12, 0.16, 0.24), CLASSES),
        stretch: itertools.product(THREADS, (40, 75, 120), (0, 12, 30), (3, 12)),
        sling: itertools.product((40, 180, 900), (400, 900), (90, 200, 330), (200, 520, 1400)),
        heating: itertools.product((1.2, 2.0, 4.1), (0.5, 1.2), (0.0, 0.8)),
        displacement: itertools.product((2.5, 3.1875, 5.0), (60, 88.9, 140), (1, 3, 8)),
        piston: itertools.product((60, 88, 140), (100, 140, 230), (1, 17, 45, 90, 133, 179)),
        press: itertools.product((20, 50), (70, 120), (0, 8, 16), (0.02, 0.06)),
        spring: itertools.product((2, 3.2, 5), (22, 34, 48), (5, 6.5, 9)),
        compression: itertools.product((3.0, 3.875), (3.2, 4.1), (30, 52), (0.5, 1.4), (-0.1, 0.4), (-4, 6)),
        cooling: itertools.product((30, 80), (0.02, 0.05, 0.08)),
        pull: itertools.product((0.5, 12, 80), (1.5, 12)),
    }
    agree(checks)


main()
