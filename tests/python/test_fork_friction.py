"""The bushes of a fork against statics written down anew: SymPy solves the band, NumPy the balance of a slider."""

import numpy as np
import pytest
import sympy
from outside import Tolerance, agree

import wheelrate as wr

ROUNDING = Tolerance("forces of kN from sums of a few terms: rounding", rel=1e-9, abs=1e-9)
SWEEP = [(rake, share, offset) for rake in (0, 18, 26.5) for share in (0.0, 0.4, 0.9) for offset in (-20, 0, 35)]


def fork(rake, offset, coefficient=0.03, calipers=1):
    leg = wr.ForkLeg(wr.Preloaded("4.5 N/mm", "10 mm"))
    bushes = wr.Bushes("180 mm", "420 mm", axle_offset=f"{offset} mm", coefficient=coefficient, calipers=calipers)
    return wr.Fork("250 mm", f"{rake} deg", leg).with_bushes(bushes)


@pytest.mark.parametrize(("rake", "share", "offset"), SWEEP)
def test_reactions_are_those_of_a_slider_in_balance(rake, share, offset):
    strokes = np.array([0.0, 60.0, 240.0])
    found = fork(rake, offset).bush_loads(
        (strokes, "mm"), braking=f"{100 * share} %", radius="340 mm", unsprung="140 N"
    )
    angle, upper_bush, tube = np.radians(rake), 600.0, -offset
    for row, stroke in enumerate(strokes):
        springs = 2 * 4.5 * (stroke + 10)
        along, square = np.array([-np.sin(angle), np.cos(angle)]), np.array([np.cos(angle), np.sin(angle)])
        cross = lambda place, force: place[0] * force[1] - place[1] * force[0]  # noqa: E731
        places = [tube * square + height * along for height in (upper_bush, 420.0 - stroke)]
        # Unknown: load on the axle, and both bushes of both legs together; x, z and the moment about the axle, in N mm.
        contact = np.array([0.0, -340.0])
        on_ground = np.array([-share, 1.0])
        matrix = np.zeros((3, 3))
        # The ground pushes with V + W, braked with the share of it; weight and inertia of the wheel take W's part back.
        matrix[:2, 0] = on_ground
        matrix[2, 0] = cross(contact, on_ground)
        for column, place in enumerate(places, 1):
            matrix[:2, column] = square
            matrix[2, column] = cross(place, square)
        known = np.zeros(3)
        known[:2] = springs * along
        known[2] = springs * cross(tube * square, along) - 140.0 * cross(contact, on_ground)
        load, upper, lower = np.linalg.solve(matrix, known)
        agree("load at the axle (N)", found.load[row].m_as("N"), load, ROUNDING)
        agree("upper bushes (N)", (found.upper + found.upper_other)[row].m_as("N"), upper, ROUNDING)
        agree("lower bushes (N)", (found.lower + found.lower_other)[row].m_as("N"), lower, ROUNDING)


def test_the_band_is_that_of_coulomb():
    """At rest both legs are alike, and SymPy solves ``F - s*mu*c*V = F_springs`` for the load that moves the fork."""
    rake, mu, overlap, lower, load, springs, way = sympy.symbols(
        "rake mu overlap lower load springs way", positive=True
    )
    side = load * sympy.sin(rake)
    sizes = side * lower / overlap + side * (1 + lower / overlap)
    moving = sympy.solve(sympy.Eq(load * sympy.cos(rake) - way * mu * sizes, springs), load)[0]
    at = {rake: np.radians(26.5), mu: 0.03, overlap: 280.0, lower: 320.0, springs: 2 * 4.5 * 110}
    found = fork(26.5, 0).bush_loads(["100 mm"])
    inwards, outwards = (float(moving.subs({**at, way: sign})) for sign in (1, -1))
    agree("load under which the fork goes in (N)", found.load_in[0].m_as("N"), inwards, ROUNDING)
    agree("load under which it comes out (N)", found.load_out[0].m_as("N"), outwards, ROUNDING)
    half = (inwards - outwards) / 2
    agree("friction at the wheel (N)", found.friction_at_wheel[0].m_as("N"), half, ROUNDING)
    per = float(sympy.diff(sum(s * moving.subs(way, s) for s in (1, -1)) / 2, mu).subs(at)) * 0.015
    agree("its uncertainty (N)", found.friction_at_wheel_uncertainty[0].m_as("N"), per, ROUNDING)


def test_zero_coefficient_is_no_friction_and_a_steep_one_binds():
    assert (
        not fork(26, 35, coefficient=0.0).bush_loads(braking="70 %", radius="340 mm").friction_at_wheel.m_as("N").any()
    )
    with pytest.raises(wr.errors.SpringError, match="the bushes bind at stroke 0 mm"):
        fork(40, 0, coefficient=0.4).bush_loads()
    with pytest.raises(wr.errors.SpringError, match=r"front\.fork\.bushes"):
        wr.Fork("250 mm", "26 deg", wr.ForkLeg(wr.Preloaded("4.5 N/mm", "10 mm"))).bush_loads()


def test_the_bike_gives_its_wheel_to_the_brake():
    bike = wr.demo()
    whole = bike.whole.fork_friction(["100 mm"], braking="60 %")
    alone = bike.front.fork.bush_loads(whole.stroke, braking="60 %", radius="350 mm", unsprung=f"{14.2 * 9.80665} N")
    assert whole.friction_at_wheel.m_as("N") == pytest.approx(alone.friction_at_wheel.m_as("N"))
    rest = bike.whole.fork_friction_at_rest()
    sprung = bike.masses.sprung_load("front", "bike + rider").value
    assert rest.load[0].m_as("N") == pytest.approx(sprung.m_as("N"))
    assert rest.friction_at_wheel[0] < bike.fit_end("front").friction.value


def test_the_page_of_the_sheet_has_the_bushes():
    assert "The bushes of the fork, rider on" in wr.demo().sheet().to_html()
