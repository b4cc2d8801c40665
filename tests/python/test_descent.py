"""Warm gas against Gay-Lussac's law and a first-order differential equation that SciPy integrates."""

import numpy as np
from outside import Tolerance, agree
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

import wheelrate as wr

INTEGRATED = Tolerance("an integration to 1e-10", rel=1e-8)
ROUNDING = Tolerance("a search to 1e-12 of a millimetre", rel=1e-9)
TIMES = np.array([0.0, 300.0, 900.0, 2400.0])


def test_temperature_and_pressure_follow_newton_and_gay_lussac():
    found = wr.demo().whole.descent("rear", "15 degC", "60 degC", "600 s", (TIMES, "s"))
    law = solve_ivp(
        lambda _, kelvin: (333.15 - kelvin) / 600, (0, 2400), [288.15], t_eval=TIMES, rtol=1e-10, atol=1e-10
    )
    agree("temperature of the gas (K)", found.temperature.m_as("K"), law.y[0], INTEGRATED)
    agree("pressure at one stroke, per pressure at the start", found.pressure.m_as(""), law.y[0] / 288.15, INTEGRATED)


def test_an_end_rests_where_warm_gas_and_spring_carry_its_load():
    """One chamber alone, isothermal: the load meets ``(p0*T/T0*V0/V - ps)*A``."""
    air = 'air_spring = { piston_diameter = "40 mm", volume = "700 cm3", pressure = "2 bar" }'
    lines = [
        "" if line.startswith(("air ", "air=")) else air if line.startswith('spring = { rate = "4.4') else line
        for line in wr.demo_file().splitlines()
    ]
    bike = wr.Bike.from_toml("\n".join(lines))
    found = bike.whole.descent("front", "15 degC", "60 degC", "600 s", (TIMES, "s"), time_constant_uncertainty="60 s")
    load = bike.masses.sprung_load("front", "bike + rider").value.m_as("N")
    area, cosine = np.pi * 0.04**2 / 4, np.cos(np.radians(26.5))

    def rest(kelvin):
        def off(stroke):
            pressure = (2e5 + 101_325) * kelvin / 288.15 * 700e-6 / (700e-6 - area * stroke)
            return 2 * (pressure - 101_325) * area / cosine - load

        return brentq(off, 0, 0.29, xtol=1e-16) * cosine * 1e3

    kelvin = 333.15 - 45 * np.exp(-TIMES / 600)
    agree("travel at rest on warm gas (mm)", found.travel.m_as("mm"), [rest(t) for t in kelvin], ROUNDING)
    spread = 45 * np.exp(-TIMES / 600) * TIMES / 600**2 * 60
    off = [abs(rest(t + u) - rest(t - u)) / 2 for t, u in zip(kelvin, spread, strict=True)]
    agree(
        "its uncertainty (mm)",
        found.travel_uncertainty.m_as("mm"),
        off,
        Tolerance("a difference of searches", abs=1e-8),
    )
