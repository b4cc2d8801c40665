"""Every number of the notebook on the longer link, against independent kinematics and searches of our own."""

import copy
from pathlib import Path

import matplotlib as mpl
import numpy as np
import pytest
import scipy.optimize
from arrangements import ARRANGEMENTS
from outside import Tolerance, agree
from test_linkage import Independent

import wheelrate as wr

NOTEBOOK = Path(__file__).parents[2] / "notebooks" / "a_longer_link.py"
GIVEN = ARRANGEMENTS["rocker on the swingarm"]
SAME = Tolerance("two ways to rounding, each with its own search", rel=1e-7)
# The wheel rate here is a central difference over ± this, in metres.
NUDGE = 1e-5
DIFFERENCE = Tolerance("a central difference over ± 0.01 mm: (1e-5/0.1)², and rounding over 1e-5", rel=1e-6)
# Lengths by two ways that each find the travel to 1e-12 m; in metres, and in the page's millimetres.
PLACED, PLACED_MM = 1e-9, 1e-6
BY_TWO_WAYS = Tolerance("lengths in m by two ways that each find the travel to 1e-12 m", abs=PLACED)
BY_TWO_WAYS_MM = Tolerance("lengths in mm by two ways that each find the travel to 1e-9 mm", abs=PLACED_MM)
DRAWN = Tolerance("a standard deviation of 300 draws is known to 1/√600; four of those", rel=4 / np.sqrt(600))
# Half of the last digit that the page prints.
TENTH, HUNDREDTH, PER_MILLE = 0.05, 0.005, 0.0005
# What a change of 4 mm has of second order, beside the first.
SECOND_ORDER = 0.03


@pytest.fixture(scope="module")
def page():
    """Run the notebook, and hand over what it named."""
    mpl.use("Agg")
    named = {"__name__": "notebook"}
    exec(compile(NOTEBOOK.read_text(), NOTEBOOK.name, "exec"), named)
    mpl.pyplot.close("all")
    return named


class End:
    """A rear end by `Independent` and the shock's own force, the main spring's rate and preload free."""

    def __init__(self, page, linkage, rate, preload):
        at = {name: place.m_as("mm") for name, place in linkage.mechanism.points.items()}
        at["pivot"] = at.pop("swingarm_pivot")
        self.kinematics = Independent(GIVEN._replace(points=at))
        self.start = self.kinematics.height_at(GIVEN.length / 1000)
        self.full = self.kinematics.height_at((GIVEN.length - GIVEN.stroke) / 1000) - self.start
        self.axle = at["axle"][1] / 1000 + self.start
        self.shock, self.rate, self.preload = page["now"].shock, rate, preload
        self.fitted = page["fit"].rate.value.m_as("N/m"), page["fit"].preload.value.m_as("m")

    def stroke(self, travel):
        return GIVEN.length / 1000 - self.kinematics.length(self.kinematics.at(self.start + travel))

    def ratio(self, travel):
        return self.kinematics.motion_ratio(self.start + travel)

    def rest(self, stroke):
        """Force of gas and stop: the fitted shock without its spring."""
        rate, preload = self.fitted
        return self.shock.at((stroke, "m")).force.m_as("N") - rate * (stroke + preload)

    def force(self, travel):
        stroke = self.stroke(travel)
        return self.ratio(travel) * (self.rate * (stroke + self.preload) + self.rest(stroke))

    def sag(self, load):
        return scipy.optimize.brentq(lambda travel: self.force(travel) - load, 0, 0.8 * self.full, xtol=1e-12)


@pytest.fixture(scope="module")
def ends(page):
    rate, preload = page["fit"].rate.value.m_as("N/m"), page["fit"].preload.value.m_as("m")
    linkages = {"as it was": page["now"].linkage, "4 mm longer": page["longer"].linkage, "our own": page["made"]}
    return {name: End(page, linkage, rate, preload) for name, linkage in linkages.items()}


def test_only_the_link_is_longer(page):
    was, now = (page[end].linkage.mechanism for end in ("now", "longer"))

    def side(mechanism, a, b):
        return np.hypot(*(mechanism.points[a] - mechanism.points[b]).m_as("mm"))

    for body, on in was.bodies.items():
        for a, b in zip(on, [*on[1:], on[0]], strict=True):
            assert side(now, a, b) - side(was, a, b) == pytest.approx(4 if body == "link" else 0, abs=PLACED)
    assert page["link"] == pytest.approx(172.04, abs=HUNDREDTH)


def test_the_comparison(page, ends):
    load = page["load"].m_as("N")
    first = ends["as it was"]
    table = page["all_three"]
    for index, name in enumerate(table.names):
        end = ends[name]
        sag = end.sag(load)
        reference = first.sag(load)
        stroke = end.stroke(reference)
        spring = (load / end.ratio(reference) - end.rest(stroke)) / (stroke + end.preload)
        rate = (end.force(sag + NUDGE) - end.force(sag - NUDGE)) / (2 * NUDGE)
        # Just short of the end, where the independent stroke may round over the shock's own.
        last = end.full - 1e-9
        expected = {
            "full_travel": (end.full, "m"),
            "motion_ratio_start": (end.ratio(0), ""),
            "motion_ratio_end": (end.ratio(end.full), ""),
            "leverage_ratio_start": (1 / end.ratio(0), ""),
            "leverage_ratio_end": (1 / end.ratio(end.full), ""),
            "progression": (end.ratio(end.full) / end.ratio(0) - 1, ""),
            "end_force": (end.force(last), "N"),
            "sag": (sag, "m"),
            "motion_ratio_at_sag": (end.ratio(sag), ""),
            "stroke_left": (GIVEN.stroke / 1000 - end.stroke(sag), "m"),
            "spring_for_same_sag": (spring, "N/m"),
        }
        for attribute, (value, unit) in expected.items():
            agree(f"{attribute}, {unit}: {name}", getattr(table, attribute)[index].m_as(unit), value, SAME)
        agree(f"wheel rate at the sag, N/m: {name}", table.wheel_rate_at_sag[index].m_as("N/m"), rate, DIFFERENCE)
        height = (first.axle + reference) - (end.axle + sag)
        agree(f"change of ride height, m: {name}", table.ride_height_change[index].m_as("m"), height, BY_TWO_WAYS)
    two = page["changed"]
    assert two.names == table.names[:2]
    for attribute in ("sag", "ride_height_change", "spring_for_same_sag", "wheel_rate_at_sag", "progression"):
        np.testing.assert_array_equal(getattr(two, attribute).m, getattr(table, attribute).m[:2])


def test_where_the_height_went(page, ends):
    was, longer = ends["as it was"], ends["4 mm longer"]
    agree("axle moved at full extension, m", -page["shift"].m_as("m"), longer.axle - was.axle, BY_TWO_WAYS)
    higher = longer.axle + longer.full - was.axle - was.full
    agree("axle higher at full travel, m", page["higher"].m_as("m"), higher, BY_TWO_WAYS)
    assert page["shift"].m_as("mm") == pytest.approx(-6.0, abs=TENTH)


def test_first_order_and_the_longer_shock(page):
    effects, changed = page["effects"], page["changed"]
    at = page["of_link"]
    assert effects.sag[at].m_as("mm") == pytest.approx((changed.sag[1] - changed.sag[0]).m_as("mm"), rel=SECOND_ORDER)
    assert effects.ride_height[at].m_as("mm") == pytest.approx(
        changed.ride_height_change[1].m_as("mm"), rel=SECOND_ORDER
    )
    length = page["now"].shock.length.m_as("mm") + page["longer_by"].m_as("")
    linkage = page["longer"].linkage
    raised = wr.Linkage(
        linkage.mechanism, linkage.wheel, linkage.shock, shock_length=(length, "mm"), stroke=linkage.full_stroke
    )
    rate, preload = page["fit"].rate.value, page["fit"].preload.value
    bike = wr.demo().what_if({"rear.shock.length": f"{float(length)!r} mm"})
    end = wr.RearEnd(raised, bike.rear.with_spring_rate(rate, preload).shock)
    back = wr.compare({"as it was": page["now"], "raised": end}, page["load"])
    # A twentieth of what is to come back is what first order leaves.
    assert abs(back.ride_height_change[1].m_as("mm")) < 0.05 * abs(changed.ride_height_change[1].m_as("mm"))


def test_which_spring(page, ends):
    alone = page["bike_alone"].m_as("N")
    load = page["load"].m_as("N")
    enough = set()
    for (name, rate), (preload, free) in page["choices"].items():
        end = copy.copy(ends[name])
        end.rate = 1e3 * float(rate.split()[0])
        stroke = end.stroke(0.102)
        end.preload = (load / end.ratio(0.102) - end.rest(stroke)) / end.rate - stroke
        agree(f"preload for the rider sag, mm: {name}, {rate}", preload, 1e3 * end.preload, BY_TWO_WAYS_MM)
        agree(f"free sag then, mm: {name}, {rate}", free, 1e3 * end.sag(alone), BY_TWO_WAYS_MM)
        if 25 <= free <= 40:
            enough.add((name, rate))
    assert {rate for name, rate in enough} == {"58 N/mm", "60 N/mm"}
    assert len(enough) == 4
    for rate in ("52 N/mm", "54 N/mm", "56 N/mm", "58 N/mm", "60 N/mm"):
        less = page["choices"]["as it was", rate][0] - page["choices"]["4 mm longer", rate][0]
        assert less == pytest.approx(0.6, abs=TENTH)


def test_anti_squat(page, ends):
    load = page["load"].m_as("N")
    front, rear = (15.875 / 2 / np.sin(np.pi / teeth) for teeth in (13, 48))
    for name, found in page["anti_squat"].items():
        end = ends[name]
        z = 1e3 * (end.axle + end.sag(load))
        x = -np.sqrt(575**2 + 165**2 - z**2)
        chain = np.arctan2(10 - z, 85 - x) - np.arcsin((rear - front) / np.hypot(85 - x, 10 - z))
        on = np.array([x - rear * np.sin(chain), z + rear * np.cos(chain)])
        along = np.linalg.solve(np.column_stack([[-x, -z], [-np.cos(chain), -np.sin(chain)]]), on - [x, z])[0]
        meeting = np.array([x - along * x, z - along * z])
        tangent = (meeting[1] - z + 335) / (meeting[0] - x)
        agree(f"anti-squat: {name}", found.m_as(""), tangent * 1480 / 830, SAME)


def test_the_first_bounds_hold_no_such_link(page):
    design = page["first"]
    assert not design.is_reached
    assert design.in_the_way == ["x of link_frame"]
    cost = (design.misses**2).sum()
    mechanism = page["now"].linkage.mechanism
    for x in np.linspace(-80, -50, 13):
        for z in np.linspace(-115, -85, 13):
            linkage = page["with_shock"](mechanism.with_point("link_frame", ((x, z), "mm")))
            off = (linkage.progression.m_as("percent") - 40) / 0.5, (linkage.full_travel.m_as("mm") - 299) / 2
            assert off[0] ** 2 + off[1] ** 2 > cost - 1e-6


def test_the_second_ones_do(page, ends):
    assert page["second"].is_reached
    ours = ends["our own"]
    assert ours.ratio(ours.full) / ours.ratio(0) - 1 == pytest.approx(0.40, abs=PER_MILLE)
    assert ours.full == pytest.approx(0.299, abs=PER_MILLE)
    for name in ("link_frame", "link_rocker"):
        place = page["rounded"].points[name].m_as("mm")
        np.testing.assert_allclose(2 * place, np.round(2 * place), atol=PLACED)
    assert page["link_made"] == pytest.approx(154.0, abs=TENTH)


def test_how_well_it_has_to_be_drilled(page):
    mechanism = page["rounded"]
    square = 0.0
    for name, place in mechanism.points.items():
        for axis in np.eye(2):
            more, less = (
                page["with_shock"](mechanism.with_point(name, (place.m_as("mm") + by * axis, "mm")))
                for by in (0.1, -0.1)
            )
            square += (0.2 * (more.progression - less.progression).m_as("percent") / 0.2) ** 2
    agree(
        "spread of the progression, points, of the places drilled", np.std(page["progressions"]), np.sqrt(square), DRAWN
    )


def test_a_longer_shock_does_twice_as_much_as_the_link(page):
    ranking = page["ranking"]
    assert (ranking["shock length"] / ranking["length of link"]).m_as("") == pytest.approx(2.0, abs=TENTH)
    assert list(ranking).index("length of link") >= len(ranking) / 2
