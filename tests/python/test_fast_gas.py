"""Gas on a fast stroke from rest, against SciPy: the polytrope integrated, its work by quadrature, a landing."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from outside import Tolerance, agree
from scipy.integrate import quad, solve_ivp

import wheelrate as wr

INTEGRATED = Tolerance("ten digits of the integration, on kilonewtons", rel=1e-8)
PEAK = Tolerance("the metal's own corner at full extension, and 10 µs between the instants", rel=1e-5)
GRAVITY = 9.80665
ATMOSPHERE = 101_325.0
TRAVEL, RAKE = 0.29, np.radians(26.5)
SPRING, PRELOAD = 4400.0, 0.006
AREA, VOLUME = np.pi / 4 * 0.047**2, np.pi / 4 * 0.043**2 * 0.115 - 45e-6 + np.pi / 4 * 0.047**2 * TRAVEL
"""Of each leg: sealing area, and air at full extension."""


def fork(slow=1.0, fast=1.35):
    air = wr.ForkAir(
        sealing_diameter="47 mm",
        bore="43 mm",
        oil_level="115 mm",
        steel_volume="45 cm3",
        exponent=wr.Exponents(slow, fast),
    )
    return wr.Fork("290 mm", "26.5 deg", wr.ForkLeg(wr.Preloaded("4.4 N/mm", "6 mm"), air))


def compressed(start, end, pressure, exponent):
    """Integrate dp/ds = n·p·A/V from one stroke to another."""
    way = solve_ivp(
        lambda s, p: exponent * p * AREA / (VOLUME - AREA * s), (start, end), [pressure], rtol=1e-11, atol=1e-6
    )
    return way.y[0, -1]


def force(rest, stroke, slow, fast):
    """Force of both legs: air settled to the rest, then fast; springs beside it."""
    pressure = compressed(rest, stroke, compressed(0.0, rest, ATMOSPHERE, slow), fast)
    return 2 * (SPRING * (stroke + PRELOAD) + (pressure - ATMOSPHERE) * AREA)


@given(
    rest=st.floats(0.0, 0.25),
    stroke=st.floats(0.0, 0.285),
    slow=st.floats(1.0, 1.2),
    more=st.floats(0.0, 0.4),
)
def test_force_is_that_of_the_polytrope_integrated_from_rest(rest, stroke, slow, more):
    found = fork(slow, slow + more).fast_at((rest, "m"), (stroke, "m")).force.m_as("N")
    agree("force of both legs, in N", found, force(rest, stroke, slow, slow + more), INTEGRATED)


def test_energy_is_the_work_done():
    made = fork(1.05, 1.35)
    rest = 0.075
    work, _ = quad(lambda s: force(rest, s, 1.05, 1.35), rest, TRAVEL, epsrel=1e-10)
    gained = made.fast_at((rest, "m"), (TRAVEL, "m")).energy - made.at((rest, "m")).energy
    agree("energy from rest to full stroke, in J", gained.m_as("J"), work, INTEGRATED)


def test_a_curve_is_its_points_and_starts_where_it_rests():
    made = fork()
    strokes = (np.linspace(0, 290, 30), "mm")
    curve = made.fast_curve("75 mm", strokes)
    assert curve.force[10] == made.fast_at("75 mm", strokes[0][10] * curve.stroke.units).force
    assert made.fast_at("75 mm", "75 mm").force.m_as("N") == pytest.approx(made.at("75 mm").force.m_as("N"), rel=1e-12)
    assert made.fast_at("75 mm", "290 mm").force > made.at("290 mm").force
    end = wr.FrontEnd(made)
    there = end.fast_at((0.075 * np.cos(RAKE), "m"), end.full_travel)
    expected = force(0.075, TRAVEL, 1.0, 1.35) / np.cos(RAKE)
    agree("force at the wheel at full travel, in N", there.wheel_force.m_as("N"), expected, INTEGRATED)
    along = end.fast_curve((0.075 * np.cos(RAKE), "m"))
    assert along.wheel_force[-1].m_as("N") == pytest.approx(there.wheel_force.m_as("N"), rel=1e-12)


def test_the_reserve_is_fast_from_where_it_stands():
    load, rest = 760.0, 0.07
    end = wr.FrontEnd(fork())
    reserve = end.reserve((load, "N"), (rest * np.cos(RAKE), "m"))
    work, _ = quad(lambda s: force(rest, s, 1.0, 1.35), rest, TRAVEL, epsrel=1e-10)
    energy = work - load * (TRAVEL - rest) * np.cos(RAKE)
    agree("energy left, in J", reserve.energy.m_as("J"), energy, INTEGRATED)
    agree("height of a drop, in m", reserve.drop_height.m_as("m"), energy / load, INTEGRATED)
    factor = force(rest, TRAVEL, 1.0, 1.35) / np.cos(RAKE) / load
    agree("force at full travel per load", reserve.load_factor, factor, INTEGRATED)


def test_a_landing_compresses_the_air_fast_from_full_extension():
    sprung, unsprung, tyre, damping, height = 77.0, 14.0, 160e3, 900.0, 0.35
    ratio = 1 / np.cos(RAKE)

    def motion(_, y):
        body, body_speed, wheel, wheel_speed = y
        travel, speed = wheel - body, wheel_speed - body_speed
        stroke = travel * ratio
        pressure = ATMOSPHERE * (VOLUME / (VOLUME - AREA * stroke)) ** 1.35
        springs = 2 * (SPRING * (stroke + PRELOAD) + (pressure - ATMOSPHERE) * AREA) * ratio
        # Topped out, the springs press on the metal, which is as stiff as the library takes it.
        springs += 5e6 * min(travel, 0.0)
        pushed = springs + damping * ratio**2 * speed
        on_tyre = max(0.0, -tyre * wheel)
        return [body_speed, pushed / sprung - GRAVITY, wheel_speed, (on_tyre - pushed) / unsprung - GRAVITY]

    # Hanging in the air the springs are held by the metal at full extension.
    hanging = -2 * SPRING * PRELOAD * ratio / (5e6 + 2 * SPRING * ratio**2)
    start = [-hanging, -np.sqrt(2 * GRAVITY * height), 0.0, -np.sqrt(2 * GRAVITY * height)]
    way = solve_ivp(motion, (0, 0.4), start, rtol=1e-10, atol=1e-12, dense_output=True, max_step=1e-3)
    y = way.sol(np.linspace(0, 0.4, 40_001))
    peak = (y[2] - y[0]).max()
    moving = wr.MovingEnd(
        wr.FrontEnd(fork()),
        sprung="77 kg",
        unsprung="14 kg",
        tyre="160 N/mm",
        damper=wr.Damper((damping, "N s/m")),
        friction="0 N",
    )
    landing = moving.land((height, "m"), "0.4 s")
    assert landing.bottoming is None
    agree("peak travel of a landing, in m", landing.peak_travel.m_as("m"), peak, PEAK)
    slow = wr.MovingEnd(
        wr.FrontEnd(fork(1.0, 1.0)),
        sprung="77 kg",
        unsprung="14 kg",
        tyre="160 N/mm",
        damper=wr.Damper((damping, "N s/m")),
        friction="0 N",
    )
    assert slow.land((height, "m"), "0.4 s").peak_travel > landing.peak_travel


def fitted_front(**exponent):
    """Give what follows at the demo's front from the springs it has, with these keys for the exponents of its air."""
    keys = wr.demo().to_dict()
    for leg in keys["front"]["fork"]["leg"]:
        leg["air"]["exponent"] = exponent
    advice = wr.Bike.from_dict(keys).advise()["front"]
    return next(choice for choice in advice.choices if choice.is_fitted)


def test_the_advice_carries_what_nobody_knows_of_the_exponent():
    known = fitted_front(fast=1.35, fast_uncertainty=0.0)
    guessed = fitted_front(fast=1.35, fast_uncertainty=0.06)
    step = 0.01
    stiffer, softer = (fitted_front(fast=1.35 + by, fast_uncertainty=0.0) for by in (step, -step))
    for name, unit in [("drop_height", "mm"), ("full_force", "N"), ("energy_left", "J"), ("ride_frequency", "Hz")]:
        exactly, about, more, less = (getattr(choice, name) for choice in (known, guessed, stiffer, softer))
        slope = (more.value - less.value).m_as(unit) / (2 * step)
        exact = exactly.standard_uncertainty.m_as(unit)
        # To first order, from a central difference over 0.02: its own error is a thousandth.
        expected = np.hypot(exact, 0.06 * slope)
        assert about.standard_uncertainty.m_as(unit) == pytest.approx(expected, rel=5e-3), name
        assert about.value.m_as(unit) == pytest.approx(exactly.value.m_as(unit), rel=1e-12)
    # Sags are settled: nothing of it there.
    assert guessed.free_sag.standard_uncertainty == known.free_sag.standard_uncertainty
    # From all slow to hardly any heat flow a fifth of the drop: one number cannot serve both.
    slow, fast = (fitted_front(slow=1.0, fast=n).drop_height.value for n in (1.0, 1.4))
    assert 1.1 < fast / slow < 1.3


@pytest.mark.parametrize(
    "wrong", [True, 1.2 + 0j, float("nan"), float("inf"), "1.2", np.array([1.2]), None, np.bool_(1)]
)
@pytest.mark.parametrize(
    "call",
    [
        lambda x: wr.Exponents(x, 1.3),
        lambda x: wr.Exponents(1.0, x),
        lambda x: wr.Chamber("10 bar", "180 cm3", "200 mm2", "100 mm", exponent=x),
        lambda x: wr.Chamber("10 bar", "180 cm3", "200 mm2", "100 mm").with_exponent(x),
        lambda x: wr.Chamber("10 bar", "180 cm3", "200 mm2", "100 mm").settled_at("10 mm", x),
        lambda x: fork().with_spring_change(x, "0 mm"),
        lambda x: wr.FrontEnd(fork()).with_spring_change(x, "0 mm"),
        lambda x: wr.demo().rear.with_spring_change(x, "0 mm"),
        lambda x: wr.demo().rear.shock.with_spring_change(x, "0 mm"),
        lambda x: wr.Preloaded("4.4 N/mm", "6 mm").changed(x, "0 mm"),
        lambda x: wr.Spring("4.4 N/mm").scaled(x),
        lambda x: wr.Uncertain("1 mm", "0.1 mm", "length").interval(x),
        lambda x: wr.CoilGeometry(
            wire="11.2 mm", mean_diameter="66 mm", active_coils=x, ends="closed-ground", material="EN 10270-2"
        ),
        lambda x: wr.UnmarkedSpring(
            wire=("5 mm", "0.02 mm"),
            outside_diameter=("39 mm", "0.1 mm"),
            active_coils=(x, 0.25),
            material="EN 10270-1",
        ),
        lambda x: wr.UnmarkedSpring(
            wire=("5 mm", "0.02 mm"),
            outside_diameter=("39 mm", "0.1 mm"),
            active_coils=(34, 0.25),
            material="EN 10270-1",
            shear_modulus_uncertainty=x,
        ),
    ],
)
def test_a_plain_number_is_one_finite_real_number(call, wrong):
    with pytest.raises(wr.UnitError):
        call(wrong)


def test_a_plain_number_may_be_of_any_real_type():
    for one in (1.2, 1, np.float32(1.25), np.int64(1), np.array(1.2)):
        assert wr.Exponents(one, 1.5).slow == float(one)
        assert wr.ForkAir(
            sealing_diameter="47 mm", bore="43 mm", oil_level="115 mm", exponent=one
        ).exponents.slow == float(one)
    with pytest.raises(wr.UnitError, match="exponent: True"):
        wr.ForkAir(sealing_diameter="47 mm", bore="43 mm", oil_level="115 mm", exponent=True)
    with pytest.raises(wr.UnitError, match="fast_uncertainty"):
        wr.Exponents(1.0, 1.3, fast_uncertainty=1j)
    with pytest.raises(wr.UnitError, match="active_coils"):
        wr.UnmarkedSpring(
            wire=("5 mm", "0.02 mm"), outside_diameter=("39 mm", "0.1 mm"), active_coils=34, material="EN 10270-1"
        )
