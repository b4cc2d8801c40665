"""Front ends on links: the same calls as of a fork, and against SciPy and NumPy."""

import copy
import pickle
from pathlib import Path

import matplotlib as mpl
import numpy as np
import pytest
from outside import Tolerance, agree
from scipy.optimize import brentq, fsolve

import wheelrate as wr

FILE = Path(__file__).parents[1] / "files" / "links.toml"
POINTS = {
    "top": (0.62, 0.42),
    "bottom": (0.66, 0.24),
    "upper": (0.77, 0.41),
    "lower": (0.85, 0.18),
    "axle": (0.9, -0.15),
    "eye": (0.793, 0.198),
    "mount": (0.6, 0.6),
}
BODIES = {
    "frame": ["top", "bottom", "mount"],
    "upper_link": ["top", "upper"],
    "lower_link": ["bottom", "lower", "eye"],
    "upright": ["upper", "lower", "axle"],
}
OFFSET, RADIUS, RAKE = 0.05, 0.34, 0.47
SEARCH = Tolerance("SciPy's searches stop at 1e-12 of lengths below a metre", rel=1e-8, abs=1e-9)
DIFFERENCE = Tolerance("differences over 20 µm of lengths that a search knows to 1e-13 m", rel=1e-6, abs=1e-6)


@pytest.fixture
def bike():
    return wr.Bike.load(FILE)


def double_link(steering_body=None):
    mechanism = wr.Mechanism({name: (list(at), "m") for name, at in POINTS.items()}, BODIES)
    length = np.hypot(*np.subtract(POINTS["mount"], POINTS["eye"]))
    shock = wr.Shock(f"{length} m", "70 mm", spring=wr.Preloaded("40 N/mm", "10 mm"))
    linkage = wr.Linkage(mechanism, "axle", ("mount", "eye"), shock_length=f"{length} m", stroke="70 mm")
    return wr.FrontEnd.linked(linkage, shock, f"{RAKE} rad", steering_body=steering_body, caliper="upright")


def posed(travel):
    """Find where the points are by closing the loop with SciPy: lower link and upright by their angles."""
    at = {name: np.array(place) for name, place in POINTS.items()}

    def turned(about, arm, angle):
        cos, sin = np.cos(angle), np.sin(angle)
        return about + np.array([[cos, -sin], [sin, cos]]) @ arm

    def closed(unknowns):
        link, upright = unknowns
        lower = turned(at["bottom"], at["lower"] - at["bottom"], link)
        upper = turned(lower, at["upper"] - at["lower"], upright)
        axle = turned(lower, at["axle"] - at["lower"], upright)
        of_link = np.hypot(*(at["upper"] - at["top"]))
        return [np.hypot(*(upper - at["top"])) - of_link, axle[1] - at["axle"][1] - travel]

    link, upright = fsolve(closed, [0.0, 0.0], xtol=1e-13)
    lower = turned(at["bottom"], at["lower"] - at["bottom"], link)
    eye = turned(at["bottom"], at["eye"] - at["bottom"], link)
    return eye, turned(lower, at["axle"] - at["lower"], upright), upright


def test_a_double_link_as_scipy_closes_its_loop():
    framed, carried = double_link(), double_link("upright")
    for travel in np.linspace(0.01, 0.95 * framed.full_travel.m_as("m"), 4):
        eye, axle, upright = posed(travel)
        extended = np.hypot(*np.subtract(POINTS["mount"], POINTS["eye"]))
        stroke = extended - np.hypot(*(np.array(POINTS["mount"]) - eye))
        step = 1e-5
        ahead, back = posed(travel + step), posed(travel - step)
        lengths = [np.hypot(*(np.array(POINTS["mount"]) - pose[0])) for pose in (ahead, back)]
        state = framed.at(f"{travel} m")
        agree("stroke of the strut of a double link (m)", state.stroke.m_as("m"), stroke, SEARCH)
        agree("its motion ratio", state.motion_ratio.m, (lengths[1] - lengths[0]) / (2 * step), DIFFERENCE)
        agree("its axle (m)", framed.axle(f"{travel} m").m_as("m"), axle, SEARCH)

        moved = (axle - np.array(POINTS["axle"])) @ [np.cos(RAKE), np.sin(RAKE)]
        at = ("50 mm", "340 mm", ([travel], "m"))
        for end, rake, offset in [(framed, RAKE, OFFSET + moved), (carried, RAKE + upright, OFFSET)]:
            found = end.steering_axis(*at)
            agree("rake of a double link (rad)", found.rake.m_as("rad"), rake, SEARCH)
            agree("offset of a double link (m)", found.fork_offset.m_as("m"), offset, SEARCH)
            trail = (RADIUS * np.sin(rake) - offset) / np.cos(rake)
            agree("trail of a double link (m)", found.trail.m_as("m"), trail, SEARCH)


def test_it_rests_where_scipy_finds_its_force(bike):
    end = bike.front
    load = bike.masses.sprung_load("front", "bike + rider").value
    found = end.travel_under(load).state.travel.m_as("mm")
    force = brentq(
        lambda z: end.wheel_force(f"{z} mm").m_as("N") - load.m_as("N"), 0, end.full_travel.m_as("mm") - 1e-9
    )
    agree(
        "travel at rest on a leading link (mm)",
        found,
        force,
        Tolerance("both searches stop below a micrometre", abs=1e-3),
    )


def test_it_copies_and_says_what_it_is(bike):
    end = bike.front
    other = double_link("upright")
    for one in (end, other):
        assert pickle.loads(pickle.dumps(one)) == one == copy.deepcopy(one)
        assert one.is_linked
        assert repr(one).startswith("FrontEnd.linked(Shock(")
    assert end != other
    assert (end.caliper, end.steering_body) == ("link", "frame")
    assert (other.caliper, other.steering_body) == ("upright", "upright")
    assert end.shock.main_spring.rate.m_as("N/mm") == pytest.approx(23)  # of two struts
    assert not wr.demo().front.is_linked
    with pytest.raises(wr.errors.WheelError, match="telescopic fork"):
        _ = end.fork
    for part in ("linkage", "shock"):
        with pytest.raises(wr.errors.WheelError, match="front\\.linkage"):
            getattr(wr.demo().front, part)


def test_whatever_is_asked_of_a_bike_is_answered(bike):
    assert set(bike.fit()) == set(bike.advise()) == {"front", "rear"}
    assert "links" not in bike.advise()["front"].headline()
    sheet = bike.sheet()
    assert "anti-dive, front brake" in str(sheet)
    assert "oil level" not in str(sheet)
    stance = bike.whole.settle("bike + rider").stance
    assert stance.trail < bike.whole.stances().extended.trail
    assert bike.whole.anti_dive().anti_dive.m_as("percent") > 100
    over = bike.whole.anti_dive_over_travel(travels=["0 mm", "60 mm"])
    assert over.anti_dive[0] > over.anti_dive[1]
    moved = bike.what_if({"front.linkage.points.pivot": ["745 mm", "-100 mm"]})
    assert moved.front.at("40 mm") != bike.front.at("40 mm")
    designs = bike.sweep(
        {"front.linkage.points.axle.x": ["895 mm", "905 mm"]}, ["front.motion_ratio_at_sag", "trail"], scheme="grid"
    )
    ratios = designs.to_pandas().filter(like="motion_ratio_at_sag").to_numpy()[:, 0]
    assert ratios[0] > ratios[1]  # a shorter link has the strut nearer to its axle, for its length


def test_what_nobody_stated_is_found_at_the_strut():
    text = FILE.read_text("utf-8").replace(', preload = "5 mm", thread_pitch = "1.0 mm"', "")
    bike = wr.Bike.from_toml(text)
    acts = {assumed.name: assumed.act for assumed in bike.assumptions() if assumed.end == "front"}
    assert "the spring's length in place" in acts["preload of today's spring"]
    assert "charge and rod" in acts["push of the gas in the shock"]
    assert "cap off" not in str(bike.sheet())


def test_pictures_of_it(bike):
    mpl.use("agg")
    both = {"fork": wr.demo(), "links": bike}
    ax = wr.plot.steering(both)
    assert [line.get_label() for line in ax.get_lines()] == list(both)
    wr.plot.wheel_rate(both, "front")
    wr.plot.split(bike, "front", of="rate")
    wr.plot.mechanism(bike.front)
    wr.plot.posterior(bike, "front")
    bare = {key: part for key, part in bike.to_dict().items() if key != "wheels"}
    with pytest.raises(wr.errors.BikeError, match="wheels"):
        wr.plot.steering(wr.Bike.from_dict(bare))
