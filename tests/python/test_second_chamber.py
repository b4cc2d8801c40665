"""A second positive chamber against two gas laws in balance, sought by SciPy, and spacers against a smaller chamber."""

import json

import numpy as np
import pytest
from outside import Tolerance, agree
from scipy.optimize import brentq

import wheelrate as wr

ROUNDING = Tolerance("roots to 1e-15 of the volume, and forces that go with them", rel=1e-9)
AREA = np.pi * 36.0**2 / 4 * 1e-6
SURROUNDINGS = 101_325.0
MAIN, SECOND, PUMPED, BEHIND = 390e-6, 80e-6, 6e5 + SURROUNDINGS, 14e5 + SURROUNDINGS


def force(spring, stroke, exponent=1.0):
    leg = wr.ForkLeg(air_spring=spring.with_exponents(wr.Exponents(exponent, 1.4)))
    return wr.Fork("230 mm", "26 deg", leg, wr.ForkLeg()).at((stroke, "mm"))


def spring():
    return wr.AirSpring("36 mm", "390 cm3", "6 bar")


@pytest.mark.parametrize("exponent", [1.0, 1.25])
def test_both_chambers_are_in_balance(exponent):
    ramp = spring().with_second("80 cm3", "14 bar")
    for stroke in (40.0, 150.0, 229.0):
        left = MAIN - AREA * stroke * 1e-3

        def out_of_balance(moved, left=left):
            return PUMPED * (MAIN / (left + moved)) ** exponent - BEHIND * (SECOND / (SECOND - moved)) ** exponent

        moved = brentq(out_of_balance, 0, 0.999 * SECOND, xtol=1e-18) if out_of_balance(0) > 0 else 0.0
        expected = (PUMPED * (MAIN / (left + moved)) ** exponent - SURROUNDINGS) * AREA
        what = f"force with a second chamber at {stroke:.0f} mm, exponent {exponent} (N)"
        agree(what, force(ramp, stroke, exponent).force.m_as("N"), expected, ROUNDING)


def test_the_piston_lifts_where_boyle_says():
    expected = MAIN * (1 - PUMPED / BEHIND) / AREA * 1e3
    ramp = spring().with_second("80 cm3", "14 bar")
    agree("stroke at which the piston lifts (mm)", ramp.lifts_at("230 mm").m_as("mm"), expected, ROUNDING)
    assert ramp.lifts_at("100 mm") is None
    assert spring().lifts_at("230 mm") is None
    below, above = (force(ramp, expected + off).rate.m_as("N/mm") for off in (-1e-6, 1e-6))
    lifted = MAIN * PUMPED / BEHIND
    steps = Tolerance("a nanometre off the place where it lifts", rel=1e-6)
    agree("rate once the piston has lifted, per rate before", above / below, lifted / (lifted + SECOND), steps)


def test_spacers_are_a_smaller_chamber():
    with_them = force(spring().with_spacers(4, "7 cm3", most=6), 200.0)
    smaller = force(wr.AirSpring("36 mm", "362 cm3", "6 bar"), 200.0)
    agree("force with four spacers of 7 cm3 (N)", with_them.force.m_as("N"), smaller.force.m_as("N"), ROUNDING)
    for given, words in {
        (7, "7 cm3", 6): "spacers.count",
        (30, "20 cm3", None): "less than the volume of 390",
        (2, "0 cm3", None): "spacers.volume",
    }.items():
        with pytest.raises(wr.errors.WheelrateError, match=words.replace(".", r"\.")):
            spring().with_spacers(given[0], given[1], most=given[2])
    with pytest.raises(wr.errors.SpringError, match="wanted more than the pressure of 6 bar"):
        spring().with_second("80 cm3", "5 bar")


def test_a_bike_with_such_a_fork_has_its_sheet():
    second = 'second = { volume = "120 cm3", pressure = "4 bar" }'
    spacers = 'spacers = { count = 2, volume = "6 cm3", most = 5 }'
    main = 'piston_diameter = "40 mm", volume = "700 cm3", pressure = "1.5 bar"'
    air = f"air_spring = {{ {main}, {second}, {spacers} }}"
    text = wr.demo_file()
    spring = next(line for line in text.splitlines() if line.startswith('spring = { rate = "4.4'))
    # Air in the left leg, in place of its coil.
    bike = wr.Bike.from_toml(text.replace(spring, air, 1))
    assert bike.front.fork.legs[0].air_spring.lifts_at("290 mm") is not None
    assert wr.Bike.from_toml(bike.to_toml()) == bike
    ends = json.loads(bike.sheet().to_json())["ends"]
    assert {end["end"] for end in ends} == {"front", "rear"}
    changed = bike.what_if({"front.fork.leg[0].air_spring.spacers.count": 5})
    assert changed.front.at("250 mm").wheel_force > bike.front.at("250 mm").wheel_force
