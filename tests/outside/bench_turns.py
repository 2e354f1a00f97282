"""Wrenches, turned bolts and lifting by hand over whole ranges against numpy, scipy and pint: adapters by the moment of a
force about two points, stiffness by integrating along bolt and cones, the lifting equation in metres and in inches with its
frequencies written out anew. The tool is asked through its own JSON."""

import itertools
import math

import numpy
import pint
from scipy.integrate import quad

from _tool import agree, reckoned, result

UNITS = pint.UnitRegistry()


def close(a, b, what, tolerance=1e-9):
    assert math.isclose(a, b, rel_tol=tolerance, abs_tol=1e-9), (what, a, b)


def wrench(case):
    torque, length, adapter, degrees = case
    # The adapter stands still; the wrench turns at its end, and the hand pulls square to the wrench.
    angle = math.radians(degrees)
    drive = numpy.array([adapter, 0.0])
    along = numpy.array([math.cos(angle), math.sin(angle)])
    pull = numpy.array([-along[1], along[0]])
    moment = lambda at: at[0] * pull[1] - at[1] * pull[0]
    at_fastener, at_drive = moment(drive + length * along), moment(length * along)
    options = ("--length", f"{length} mm", "--adapter", f"{adapter / 25.4:.9f} in", "--angle", f"{degrees} deg")
    found, _ = result(reckoned("wrench", "--torque", f"{torque} N.m", *options), "set the wrench to")
    close(found, torque * at_drive / at_fastener, case, 1e-7)


STEEL = 205_000.0


def turned(case):
    (d, pitch), grip, plain, degrees = case
    # Half a diameter for the head, 0.4 for the nut, half for the engaged thread: VDI 2230, from memory.
    core = d - 1.226869 * pitch
    pieces = ((0.9 * d + plain, d), (grip - plain + 0.5 * d, core))
    bolt = sum(quad(lambda x: 1 / (STEEL * math.pi / 4 * across**2), 0, long)[0] for long, across in pieces)
    # Cones of 30° from a face of one and a half diameters to the middle of the grip, less the hole: Shigley, from memory.
    ring = lambda x: math.pi / 4 * ((1.5 * d + 2 * x * math.tan(math.pi / 6)) ** 2 - d**2)
    parts = 2 * quad(lambda x: 1 / (STEEL * ring(x)), 0, grip / 2)[0]
    gain = degrees / 360 * pitch / (bolt + parts) / 1000
    answer = reckoned("angle", f"M{d}x{pitch}", "--class", "10.9", "--grip", f"{grip} mm", "--shank", f"{plain} mm", "--turn", f"{degrees} deg")
    close(result(answer, "stiffness of the bolt")[0], 1 / bolt / 1000, case, 1e-5)
    close(result(answer, "stiffness of the clamped parts")[0], 1 / parts / 1000, case, 2e-4)
    close(result(answer, "gain while all stays elastic")[0], gain, case, 1e-4)


# Lifts in a minute for up to one hour, hands below 75 cm and from there: NIOSH 94-110 table 5, from memory.
FREQUENCY = {1: (0.94, 0.94), 2: (0.91, 0.91), 4: (0.84, 0.84), 6: (0.75, 0.75), 8: (0.60, 0.60), 9: (0.52, 0.52), 12: (0.37, 0.37), 13: (0.00, 0.34)}


def lifted(case):
    reach, height, travel, twist, often, inch = case
    unit = "inch" if inch else "centimeter"
    symbol = "in" if inch else "cm"
    # What the equation has for each system: 25 cm or 10 in, 75 cm or 30 in, 0.82 + 4.5 cm/D or 1.8 in/D, 23 kg or 51 lb.
    best, middle, share, whole = (10, 30, 1.8, 51) if inch else (25, 75, 4.5, 23)
    numbers = [UNITS.Quantity(number, "centimeter").to(unit).magnitude for number in (reach, height, travel)]
    h, v, d = (round(number, 1) for number in numbers)
    horizontal = min(1.0, best / h)
    vertical = 1 - (0.0075 if inch else 0.003) * abs(v - middle)
    distance = 1.0 if d < best else 0.82 + share / d
    mass = whole * horizontal * vertical * distance * (1 - 0.0032 * twist) * FREQUENCY[often][v >= middle]
    kilograms = UNITS.Quantity(mass, "lb" if inch else "kg").to("kg").magnitude
    options = ("--reach", f"{h} {symbol}", "--height", f"{v} {symbol}", "--travel", f"{d} {symbol}", "--twist", f"{twist} deg")
    answer = reckoned("lift", "--mass", "20 kg", *options, "--per-minute", often)
    _, found = result(answer, "recommended for one person")
    close(UNITS.Quantity(found, answer_unit(answer)).to("kg").magnitude, kilograms, case, 2e-3)


def answer_unit(answer):
    line = next(line for line in answer["results"] if line["name"].startswith("recommended for one person"))
    return {"kg": "kg", "lb": "lb"}[line["unit"]]


def main():
    checks = {
        wrench: itertools.product((20, 95.5), (250, 480), (38.1, 101.6), (0, 30, 90, 135, 180)),
        turned: itertools.product(((8, 1.25), (10, 1.25), (12, 1.75), (16, 2)), (20, 45, 110), (0, 12), (30, 75)),
        lifted: itertools.product((25, 40, 60), (10, 80, 150), (25, 60), (0, 45), (1, 4, 9), (False, True)),
    }
    agree(checks)


main()
