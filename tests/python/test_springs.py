"""Energy of springs, gas, fork and shock against SciPy's quadrature, rates against differences of the force."""

from itertools import pairwise

import numpy as np
import pytest
from outside import Tolerance, agree
from scipy.integrate import quad

import wheelrate as wr

ENERGY = Tolerance("quad is asked for 1e-10 between two kinks, the rest is rounding", rel=1e-9)

RATE = 1e-6
"""Relative: a central difference over 2e-6 of the stroke; gas near its end curves the most."""


def stack():
    return wr.Spring.stack(["4 N/mm", "8 N/mm"], limits=["30 mm", None])


def fork():
    air = wr.ForkAir(sealing_diameter="47 mm", bore="43 mm", oil_level="105 mm", exponent=1.2, steel_volume="60 cm3")
    sprung = wr.ForkLeg(wr.Preloaded(stack(), "6 mm"), air, bump_stop=wr.Stop("60 N/mm", "30 mm"))
    return wr.Fork("290 mm", "26.5 deg", sprung, wr.ForkLeg(air=air, top_out=wr.Stop("12 N/mm", "25 mm")))


def shock():
    gas = wr.Reservoir("10 bar", "180 cm3", "16 mm", exponent=1.1)
    return wr.Shock("468.7 mm", "118 mm", wr.Preloaded("52 N/mm", "14 mm"), gas, bump_stop=wr.Stop("150 N/mm", "15 mm"))


ELEMENTS = {
    "stack": (stack, 0.1),
    "nest": (lambda: wr.Spring.nest(["3 N/mm", "4 N/mm"], gaps=["0 mm", "10 mm"]), 0.05),
    "table": (lambda: wr.Spring.table(([10, 20, 35], "mm"), ([60, 140, 300], "N")), 0.035),
    "gap": (lambda: wr.Preloaded("5 N/mm", "-8 mm"), 0.1),
    "chamber": (lambda: wr.Chamber("1.2 bar", "480 cm3", "1500 mm2", "290 mm", exponent=1.3), 0.29),
    "negative chamber": (lambda: wr.Chamber("9 bar", "15 cm3", "-800 mm2", "200 mm"), 0.2),
    "fork": (fork, 0.29),
    "shock": (shock, 0.118),
}


@pytest.mark.parametrize("name", ELEMENTS)
def test_energy_is_the_integral_of_the_force(name):
    make, full = ELEMENTS[name]
    element = make()

    def force(stroke):
        return element.at((stroke, "m")).force.m_as("N")

    def energy(stroke):
        return element.at((stroke, "m")).energy.m_as("J")

    ends = [0.0, *(kink for kink in element.kinks.m_as("m") if kink < full), full]
    work = sum(quad(force, a, b, epsabs=0, epsrel=1e-10)[0] for a, b in pairwise(ends))
    agree(f"energy, in J: {name}", energy(full) - energy(0.0), work, ENERGY)


@pytest.mark.parametrize("name", ELEMENTS)
def test_rate_is_the_slope_of_the_force(name):
    make, full = ELEMENTS[name]
    element = make()
    step = 1e-6 * full
    kinks = element.kinks.m_as("m")
    strokes = np.array([s for s in np.linspace(0.01, 0.99, 99) * full if np.all(np.abs(kinks - s) > 2 * step)])

    def force(at):
        return element.curve((at, "m")).force.m_as("N")

    slope = (force(strokes + step) - force(strokes - step)) / (2 * step)
    rate = element.curve((strokes, "m")).rate.m_as("N/m")
    differences = Tolerance("a central difference; gas near its end curves the most", abs=RATE * rate.max())
    agree(f"rate, in N/m: {name}", rate, slope, differences)
