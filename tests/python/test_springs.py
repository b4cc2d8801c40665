"""Energy of springs, gas, fork and shock against SciPy's quadrature, rates against differences of the force."""

from itertools import pairwise

import numpy as np
import pytest
from outside import Tolerance, agree
from scipy.integrate import quad
from scipy.interpolate import make_smoothing_spline

import wheelrate as wr

ENERGY = Tolerance("quad is asked for 1e-10 between two kinks, the rest is rounding", rel=1e-9)

RATE = 1e-6
"""Relative: a central difference over 2e-6 of the stroke; gas near its end curves the most."""


PRESSED = np.arange(10.0, 121.0, 10.0)


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
    "closing": (
        lambda: wr.Spring.closing(wire="10 mm", mean_diameter="70 mm", coils=[4, 5.5], pitches=([12, 18], "mm")),
        0.05,
    ),
    "measured": (lambda: wr.Spring.measured((PRESSED, "mm"), (50 * PRESSED + 0.05 * PRESSED**2, "N")), 0.119),
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


def test_coils_close_one_after_the_other():
    """EN 13906-1: `k = G·d⁴/(8·D³·n)` of the coils still open, each closing at `k₁·(p − d)`, in NumPy."""
    wire, diameter, coils, pitches = 10.0, 70.0, np.array([2.5, 3.0, 4.0]), np.array([12.0, 15.0, 20.0])
    spring = wr.Spring.closing(wire="10 mm", mean_diameter="70 mm", coils=list(coils), pitches=(pitches, "mm"))
    one = 79.5e3 * wire**4 / (8 * diameter**3)  # N/mm
    exact = Tolerance("a closed form; rounding of its sums", rel=1e-12)
    for force in (300.0, 900.0, 2500.0):
        compression = np.sum(coils * np.minimum(force / one, pitches - wire))
        open_coils = np.sum(coils[force / one < pitches - wire])
        found = spring.at((compression, "mm"))
        agree(f"force of a closing spring, in N, at {force:.0f} N", found.force.m_as("N"), force, exact)
        agree(f"its rate, in N/mm, at {force:.0f} N", found.rate.m_as("N/mm"), one / open_coils, exact)
    forces = [at.force.m_as("N") for at in spring.changeovers]
    agree("forces at which coils close, in N", forces, list(one * (pitches - wire)), exact)


def test_a_measured_spring_against_a_smoothing_spline_of_scipy():
    """SciPy's smoothing spline (`make_smoothing_spline`, generalised cross-validation) knows nothing of our errors."""
    random = np.random.default_rng(20261126)
    x = np.linspace(6.0, 132.0, 22)
    loads = 48 * x + 0.045 * x**2 + random.normal(0, 20, x.size)
    spring = wr.Spring.measured((x, "mm"), (loads, "N"), force_uncertainty="20 N", compression_uncertainty="0 mm")
    spline = make_smoothing_spline(np.r_[0.0, x], np.r_[0.0, loads], w=np.r_[1e6, np.full(x.size, 1 / 400)])
    for at in (20.0, 60.0, 100.0):
        ours, theirs = spring.uncertain_at((at, "mm")), float(spline(at))
        within = Tolerance(
            "two smoothings of the same noise: within two of our standard uncertainties",
            abs=2 * ours.force.standard_uncertainty.m_as("N"),
        )
        agree(f"force of a measured spring, in N, at {at:.0f} mm", ours.force.value.m_as("N"), theirs, within)
        slope = Tolerance("as for the force", abs=2 * ours.rate.standard_uncertainty.m_as("N/mm"))
        agree(f"its rate, in N/mm, at {at:.0f} mm", ours.rate.value.m_as("N/mm"), float(spline.derivative()(at)), slope)


def test_what_was_not_measured_has_no_uncertainty():
    assert wr.Spring("52 N/mm").uncertain_at("10 mm") is None
    assert wr.Spring("52 N/mm").mean_rate is None
    assert wr.Spring("52 N/mm").suspect_readings == []
    with pytest.raises(wr.errors.SpringError, match="3 compressions"):
        wr.Spring.measured(([10, 20, 30], "mm"), ([500, 1000, 1500], "N"))
    with pytest.raises(wr.errors.SpringError, match="one for each"):
        wr.Spring.closing(wire="10 mm", mean_diameter="70 mm", coils=[4], pitches=([12, 18], "mm"))
