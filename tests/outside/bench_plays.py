"""Plays, gaps and wheels over whole ranges against numpy, scipy and pint: bearings in mixed units, crushed strips by
interpolation, ring gaps by the length of an arc, shims and injectors by a root, gears by points that turn, degree wheels by
counting a turn round, tapping holes by the triangle of the thread, warm clearances by integration, tables by the combined
stress. The tool is asked through its own JSON."""

import itertools
import math

import numpy
import pint
from scipy.integrate import quad
from scipy.optimize import brentq

from _tool import agree, reckoned, result

UNITS = pint.UnitRegistry()


def close(a, b, what, tolerance=1e-9, floor=1e-9):
    assert math.isclose(a, b, rel_tol=tolerance, abs_tol=floor), (what, a, b)


def millimetres(number, unit):
    return UNITS.Quantity(number, unit).to("mm").magnitude


def bearing(case):
    journal, shell, play = case
    bore = millimetres(journal, "inch") + 2 * shell + play
    answer = reckoned("bearing", "--bore", f"{bore:.6f} mm", "--shell", f"{shell} mm", "--journal", f"{journal} in", "--wanted", "1 thou .. 3 thou")
    found, _ = result(answer, "clearance on diameter")
    close(found, play, case, 1e-4, 1e-5)
    thin, thick = result(answer, "thickness of a shell")
    for wanted, ours in ((3, thin), (1, thick)):
        left = lambda size: bore - 2 * size - millimetres(journal, "inch") - millimetres(wanted, "thou")
        close(ours, brentq(left, 0.0, 20.0, xtol=1e-12), case, 1e-6)


def strip(case):
    width, marks = case
    scale = ", ".join(f"{wide} mm = {clear} mm" for wide, clear in marks)
    found, _ = result(reckoned("bearing", "--strip", f"{width} mm", "--marks", scale), "clearance by the strip")
    widths, clears = zip(*sorted(marks))
    close(found, float(numpy.interp(width, widths, clears)), case)


def ring_gap(case):
    tried, grown, gap = case
    bore = tried + grown
    found, _ = result(reckoned("ring-gap", "--gap", f"{gap} mm", "--bore", f"{bore} mm", "--tried-in", f"{tried} mm"), "gap in this bore")
    # The ring keeps its length; the gap is what the wall is longer by.
    wall = lambda d: quad(lambda angle: d / 2, 0, 2 * math.pi)[0]
    close(found, wall(bore) - (wall(tried) - gap), case, 1e-6)


def shim(case):
    play, old, low, high = case
    thin, thick = result(reckoned("shim", "--play", f"{play} mm", "--old", f"{old} in", "--wanted", f"{low} mm .. {high} mm"), "thickness, all together")
    for wanted, ours in ((high, thin), (low, thick)):
        left = lambda size: play + millimetres(old, "inch") - size - wanted
        close(ours, brentq(left, 0.0, 20.0, xtol=1e-12), case, 1e-6)


def backlash(case):
    dial, at, pitch = case
    found, _ = result(reckoned("backlash", "--dial", f"{dial} mm", "--dial-radius", f"{at} mm", "--pitch-radius", f"{pitch} mm"), "play at the pitch circle")
    # The tooth turned by as much as brings the dial's foot so far along its tangent.
    turned = brentq(lambda angle: at * math.tan(angle) - dial, 0.0, 0.5, xtol=1e-15)
    moved = abs(pitch * (complex(math.cos(turned), math.sin(turned)) - 1))
    close(found, moved, case, 1e-4)


def timing(case):
    opens, closes, out, shut = case
    answer = reckoned("timing", "--inlet-opens", f"{opens} deg", "--inlet-closes", f"{closes} deg", "--exhaust-opens", f"{out} deg", "--exhaust-closes", f"{shut} deg")
    # Two turns in tenths of a degree, the top between exhaust and inlet in the middle.
    wheel = numpy.arange(-3600, 3600) / 10 + 0.05
    inlet = (wheel > -opens) & (wheel < 180 + closes)
    exhaust = (wheel > -180 - out) & (wheel < shut)
    close(result(answer, "inlet open")[0], inlet.sum() / 10, case)
    close(result(answer, "exhaust open")[0], exhaust.sum() / 10, case)
    close(result(answer, "inlet lobe centre")[0], wheel[inlet].mean(), case, floor=1e-6)
    close(result(answer, "exhaust lobe centre")[0], -wheel[exhaust].mean(), case, floor=1e-6)
    close(result(answer, "between the lobes")[0], (wheel[inlet].mean() - wheel[exhaust].mean()) / 2, case, floor=1e-6)
    both = (inlet & exhaust).sum() / 10
    neither = (~inlet & ~exhaust & (abs(wheel) < 90)).sum() / 10
    name, wanted = ("overlap", both) if both or not neither else ("both shut", neither)
    close(result(answer, name)[0], wanted, case)


def run_out(case):
    rng = numpy.random.default_rng(case)
    readings = numpy.round(rng.uniform(-2, 2, 8), 1)
    written = ", ".join(f"{reading} thou" for reading in readings)
    answer = reckoned("runout", "--readings", written)
    close(result(answer, "run-out")[0], float(numpy.ptp(readings)) / 1000, case, 1e-9)
    close(result(answer, "bend")[0], float(numpy.ptp(readings)) / 2000, case, 1e-9)


def injector(case):
    opens, wanted, step, raises = case
    answer = reckoned("injector", "--opens", f"{opens} bar", "--wanted", f"{wanted} bar", "--step", f"{step} mm", "--raises", f"{raises} psi")
    rate = UNITS.Quantity(raises, "psi") / UNITS.Quantity(step, "mm")
    off = lambda shims: (UNITS.Quantity(opens - wanted, "bar") + rate * UNITS.Quantity(shims, "mm")).to("bar").magnitude
    change = brentq(off, -20.0, 20.0, xtol=1e-14)
    found, _ = result(answer, "shims thicker" if change > 0 else "shims thinner")
    close(found, abs(change), case, 1e-6)


def tapping(case):
    (diameter, pitch), share = case
    # The sharp triangle of the thread, cut by a quarter at the hole and an eighth outside: ISO 68-1, from memory.
    tall = pitch * math.sin(math.radians(60))
    depth = tall * (1 - 1 / 4 - 1 / 8)
    drill = round(diameter - 2 * depth * share, 3)
    answer = reckoned("tapping", f"M{diameter}x{pitch}", "--drill", f"{drill} mm")
    found, _ = result(answer, "depth of thread of the drill")
    close(found, (diameter - drill) / 2 / depth * 100, case, 1e-6)
    # A wire insert's tap cuts the same triangle round the same thread, one wire farther out.
    close(result(answer, "for a wire insert: outside")[0], diameter + 2 * (tall * 3 / 4), case, 1e-5)


def warm(case):
    hole, play, at, shaft_at = case
    answer = reckoned("clearance", "--hole", f"{hole} mm", "--shaft", f"{hole - play:.3f} mm", "--hole-metal", "grey iron", "--shaft-metal", "aluminium", "--at", f"{at} degC", "--shaft-at", f"{shaft_at} degC")
    low, high = result(answer, "clearance at that temperature")
    grown = lambda size, alpha, to: size * quad(lambda _: alpha * 1e-6, 20, to)[0]
    # The bands of both metals' figures, as the tool names their sources.
    for ours, iron, alloy in ((low, 10.8, 23.6), (high, 11.4, 21.5)):
        close(ours, play + grown(hole, iron, at) - grown(hole - play, alloy, shaft_at), case, 1e-6, 2e-7)


def table(case):
    (diameter, pitch, face, across), mu, (grade, least) = case
    answer = reckoned("table", "--threads", f"M{diameter}x{pitch}", "--classes", grade, "--friction", str(mu))
    row = next(line for line in answer["drawing"] if line.split()[0].startswith(f"M{diameter}"))
    found = float(row.split()[-1])
    tall = pitch * math.sqrt(3) / 2
    effective, stressed = diameter - 2 * 3 / 8 * tall, diameter - (3 / 8 + 17 / 24) * tall
    twist = effective / 2 * (pitch / (math.pi * effective) + mu / math.cos(math.radians(30)))

    def stress(load):
        pull, shear = load / (math.pi / 4 * stressed**2), load * twist / (math.pi / 12 * stressed**3)
        return math.sqrt(pull**2 + 3 * shear**2) - 0.9 * least

    load = brentq(stress, 1.0, 1e7)
    torque = load * (twist + mu * (face + across) / 4) / 1e3
    assert torque * 0.988 <= found <= torque * 1.005, (case, found, torque)


# Diameter, pitch, washer face and medium hole: ISO 261, ISO 4014 and ISO 273, from memory.
BOLTS = ((8, 1.25, 11.63, 9), (10, 1.5, 14.63, 11), (12, 1.75, 16.63, 13.5), (16, 2, 22.49, 17.5))
MARKS = (((1.5, 0.05), (1.0, 0.08), (0.7, 0.12)), ((0.5, 0.18), (0.8, 0.13), (1.6, 0.1)))


def main():
    checks = {
        bearing: itertools.product((1.2, 2.0, 3.75), (1.485, 1.98, 2.5), (0.01, 0.045, 0.11)),
        strip: itertools.product((0.7, 0.74, 0.99, 1.0, 1.27, 1.5), MARKS),
        ring_gap: itertools.product((60, 80.02, 110), (-0.05, 0.0, 0.25), (0.2, 0.45)),
        shim: itertools.product((0.0, 0.12, 0.41), (0.08, 0.125), (0.15, 0.2), (0.25, 0.3)),
        backlash: itertools.product((0.05, 0.3), (40, 120), (25, 60, 140)),
        timing: itertools.product((-4, 10, 36), (30, 70), (40, 66), (-2, 14, 30)),
        run_out: range(20),
        injector: itertools.product((95, 150), (120, 175), (0.05, 0.1), (40, 145)),
        tapping: itertools.product(((6, 1), (8, 1), (10, 1.25), (10, 1.5), (16, 1.5), (16, 2)), (0.62, 0.75, 0.9)),
        warm: itertools.product((50, 80.02), (0.03, 0.12), (60, 120), (90, 220)),
        table: itertools.product(BOLTS, (0.10, 0.14, 0.20), (("8.8", 640.0), ("10.9", 940.0), ("12.9", 1100.0))),
    }
    agree(checks)


main()
