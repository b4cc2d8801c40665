"""What a changed dimension does, and which to change: the bindings against rebuilt linkages and against each other."""

import json
import pickle

import numpy as np
import pytest
from arrangements import ARRANGEMENTS
from outside import Tolerance, agree

import wheelrate as wr

NUDGE = 0.05
DIFFERENCE = Tolerance(
    "central differences over ± 0.05 mm of curves that are smooth over 10 mm or more: (0.05/10)² of a derivative, and "
    "where that is next to nothing, of its neighbours",
    rel=1e-4,
    abs=1e-5,
)
DRAWS = 400
SPREAD = Tolerance("four standard deviations of one from 400 draws, 1/√800 each", rel=4 / np.sqrt(2 * DRAWS))
# The same number by two ways: a dozen roundings, and lengths of a metre in mm to as many.
ROUNDING, ROUNDING_MM = 1e-11, 1e-9
# A search for a design ends at a thousandth of a target's tolerance or less, and leaves lengths and rates that good.
FOUND = 1e-3
# A rate is said in seven digits, so a sag on it is to a tenth of a micrometre or two.
SPRING_SAID_MM = 1e-6


@pytest.fixture(scope="module")
def rear():
    return wr.demo().rear


@pytest.fixture(scope="module")
def load():
    return wr.demo().masses.sprung_load("rear", "bike + rider").value


def rebuilt(linkage, dimension, by):
    """Make the linkage with one dimension larger by so many millimetres, from scratch."""
    kind, _, name = dimension.partition(" of ")
    length, stroke = linkage.shock_length, linkage.full_stroke
    mechanism = linkage.mechanism
    if dimension == "shock length":
        length = length + wr.quantity((by, "mm"), "length")
    elif kind == "length":
        ends = [mechanism.points[point].m_as("mm") for point in mechanism.bodies[name]]
        return linkage.with_link_length(name, (np.hypot(*(ends[0] - ends[1])) + by, "mm"))
    else:
        at = mechanism.points[name].m_as("mm") + by * np.array([kind == "x", kind == "z"])
        mechanism = mechanism.with_point(name, (at, "mm"))
    return wr.Linkage(mechanism, linkage.wheel, linkage.shock, shock_length=length, stroke=stroke)


def slopes(pairs):
    """Central differences of what two nudged linkages do."""
    more, less = np.transpose(pairs)
    return (more - less) / (2 * NUDGE)


@pytest.mark.parametrize("name", ARRANGEMENTS)
def test_effects_are_those_of_rebuilt_linkages(name):
    linkage = ARRANGEMENTS[name].linkage()
    travel = 0.4 * linkage.full_travel
    effects = linkage.effects(travel)
    assert effects.dimensions == linkage.dimensions
    np.testing.assert_array_equal(effects.step.m_as("mm"), np.ones(len(effects.dimensions)))
    both = [[rebuilt(linkage, dimension, by) for by in (NUDGE, -NUDGE)] for dimension in effects.dimensions]
    for attribute in ("stroke", "motion_ratio", "motion_ratio_slope"):
        at = [[getattr(one.at(travel), attribute).m for one in pair] for pair in both]
        agree(f"effects on {attribute}: {name}", getattr(effects, attribute).m, slopes(at), DIFFERENCE)
    full = [[one.full_travel.m_as("mm") for one in pair] for pair in both]
    agree(f"effects on full travel, mm a mm: {name}", effects.full_travel.m_as("mm"), slopes(full), DIFFERENCE)


def test_effects_at_the_wheel_are_those_of_rebuilt_ends(rear, load):
    effects = rear.effects_under(load)
    before = rear.travel_under(load).state
    found = {"sag": [], "wheel_force": [], "wheel_rate": [], "wheel_rate_at_sag": [], "ride_height": []}
    for dimension in effects.dimensions:
        ends = [
            wr.RearEnd(rebuilt(rear.linkage, dimension, by), shock_of(rear, dimension, by)) for by in (NUDGE, -NUDGE)
        ]
        sags = [end.travel_under(load).state.travel for end in ends]
        found["sag"].append([sag.m_as("mm") for sag in sags])
        found["wheel_force"].append([end.wheel_force(before.travel).m_as("N") for end in ends])
        found["wheel_rate"].append([end.wheel_rate(before.travel).m_as("N/mm") for end in ends])
        pairs = list(zip(ends, sags, strict=True))
        found["wheel_rate_at_sag"].append([end.wheel_rate(sag).m_as("N/mm") for end, sag in pairs])
        if dimension in ("x of axle", "z of axle"):  # the height is counted from the axle
            found["ride_height"].append([np.nan, np.nan])
        else:
            found["ride_height"].append([-end.axle(sag)[1].m_as("mm") for end, sag in pairs])
    units = {"sag": "mm", "wheel_force": "N", "ride_height": "mm"}
    for attribute, both in found.items():
        expected = slopes(both)
        held = ~np.isnan(expected)
        assert held.sum() >= len(held) - 2
        said = getattr(effects, attribute).m_as(units.get(attribute, "N/mm"))
        agree(f"effects on {attribute}, a mm", said[held], expected[held], DIFFERENCE)
    at_travel = rear.effects_at(before.travel)
    assert at_travel.dimensions == effects.dimensions
    np.testing.assert_allclose(at_travel.wheel_rate.m, effects.wheel_rate.m, rtol=ROUNDING, atol=ROUNDING)
    np.testing.assert_allclose(at_travel.wheel_force.m, effects.wheel_force.m, rtol=ROUNDING, atol=ROUNDING)
    assert rear.effects_under("9 kN") is None


def shock_of(rear, dimension, by):
    """Make the shock longer where that is the dimension."""
    if dimension != "shock length":
        return rear.shock
    bike = wr.demo()
    length = rear.shock.length + wr.quantity((by, "mm"), "length")
    return bike.what_if({"rear.shock.length": f"{length.m_as('mm')!r} mm"}).rear.shock


def test_the_ranking_is_the_effects_over_the_travel(rear):
    linkage = rear.linkage
    ranking = linkage.ranking("2 mm")
    assert sorted(ranking) == sorted(linkage.dimensions)
    shares = [share.m_as("") for share in ranking.values()]
    assert shares == sorted(shares, reverse=True)
    travels = np.linspace(0, 1, 21) * linkage.full_travel
    relative = [linkage.effects(travel, "2 mm").motion_ratio / linkage.at(travel).motion_ratio for travel in travels]
    by_hand = np.sqrt(np.mean(np.square([one.m for one in relative]), axis=0))
    for name, share in zip(linkage.dimensions, by_hand, strict=True):
        assert ranking[name].m_as("") == pytest.approx(share, rel=ROUNDING)


def test_the_band_holds_what_nudged_pivots_do(rear):
    linkage, travel = rear.linkage, wr.quantity("120 mm", "length")
    [spread] = linkage.with_pivot_uncertainty("0.3 mm", "0.2 mm", [travel]).motion_ratio_uncertainty.m
    rng = np.random.default_rng(7)
    names = list(linkage.mechanism.points)
    ratios = []
    for _ in range(DRAWS):
        points = {name: linkage.mechanism.points[name].m_as("mm") + rng.normal(0, 0.3, 2) for name in names}
        length = linkage.shock_length.m_as("mm") + rng.normal(0, 0.2)
        other = wr.Linkage(
            wr.Mechanism((points, "mm"), linkage.mechanism.bodies),
            linkage.wheel,
            linkage.shock,
            shock_length=(length, "mm"),
            stroke=linkage.full_stroke,
        )
        ratios.append(other.at(travel).motion_ratio.m)
    agree("standard uncertainty of the motion ratio, of the pivots", spread, np.std(ratios), SPREAD)


def test_a_comparison_of_bikes_says_what_is_wanted():
    with pytest.raises(TypeError, match=r'designs: found Bike, wanted rear ends by name in a dict: \{"now": bike.rear'):
        wr.compare(wr.demo(), wr.demo())


def test_comparison_says_what_each_end_says(rear, load):
    longer = wr.RearEnd(rebuilt(rear.linkage, "length of link", 4), rear.shock)
    both = wr.compare({"now": rear, "longer": longer}, load)
    assert both.names == ["now", "longer"]
    for index, end in enumerate((rear, longer)):
        state = end.travel_under(load).state
        assert both.sag[index] == state.travel
        assert both.wheel_rate_at_sag[index] == state.wheel_rate
        assert both.full_travel[index] == end.full_travel
        assert both.leverage_ratio_start[index] == end.at("0 mm").leverage_ratio
        assert both.stroke_left[index].m_as("mm") == pytest.approx(118 - state.stroke.m_as("mm"))
        assert both.end_force[index] == end.at(end.full_travel).wheel_force
        assert both.progression[index].m_as("") == pytest.approx(end.linkage.progression.m_as(""))
    same = longer.with_spring_rate(both.spring_for_same_sag[1], "14 mm")
    assert same.travel_under(load).state.travel.m_as("mm") == pytest.approx(both.sag[0].m_as("mm"), abs=SPRING_SAID_MM)
    rows = json.loads(both.to_json())
    assert wr.quantity(rows["longer"]["sag"], "length") == both.sag[1]
    assert f"{both.sag[1].m_as('mm'):.1f}" in str(both)
    assert "<td>sag</td>" in both._repr_html_()
    over = wr.compare({"now": rear}, "9 kN")
    assert np.isnan(over.sag[0].m)
    assert json.loads(over.to_json())["now"]["sag"] is None


def test_a_design_is_what_was_asked(rear):
    free = {"x of link_frame": ("-100 mm", "-40 mm"), "z of link_frame": ("-120 mm", "-80 mm")}
    design = rear.linkage.design(free, progression=("40 %", "0.5 %"), full_travel=("299 mm", "2 mm"))
    assert design.is_reached
    assert not design.in_the_way
    assert (abs(design.misses) <= 1).all()
    made = design.linkage
    assert abs(made.progression.m_as("percent") - 40) <= 0.5
    assert abs(made.full_travel.m_as("mm") - 299) <= 2
    assert made.mechanism.points["link_frame"].m_as("mm").tolist() == pytest.approx(design.now.m_as("mm"))
    assert design.was.m_as("mm").tolist() == pytest.approx([-66, -98])
    assert "Every target is reached" in design.to_text()


def test_a_design_out_of_reach_says_what_is_in_the_way(rear):
    design = rear.linkage.design({"x of link_frame": ("-70 mm", "-50 mm")}, progression=("40 %", "0.5 %"))
    assert not design.is_reached
    assert design.in_the_way == ["x of link_frame"] == design.held_back
    assert "In the way: the bounds of x of link_frame." in design.to_text()


def test_a_design_follows_a_curve(rear):
    linkage = rear.linkage
    travels = np.linspace(0, 290, 8)
    wanted = rebuilt(linkage, "x of link_frame", -6).curve((travels, "mm")).motion_ratio
    design = linkage.design(
        {"x of link_frame": ("-90 mm", "-40 mm")}, motion_ratio=((travels, "mm"), wanted, "0.0005 shock/wheel")
    )
    assert design.is_reached
    assert len(design.targets) == 8
    assert design.now[0].m_as("mm") == pytest.approx(-72, abs=FOUND)


def test_a_design_follows_a_wheel_rate(rear):
    travels = np.linspace(20, 220, 5)
    wanted = wr.RearEnd(rebuilt(rear.linkage, "length of link", 3), rear.shock).curve((travels, "mm")).wheel_rate
    free = {"length of link": ("165 mm", "180 mm"), "x of shock_frame": ("-110 mm", "-90 mm")}
    design = rear.design(free, wheel_rate=((travels, "mm"), wanted, "1 N/m"))
    assert design.is_reached
    assert (design.now - design.was).m_as("mm").tolist() == pytest.approx([3, 0], abs=FOUND)
    made = rear.with_linkage(design.linkage)
    np.testing.assert_allclose(made.curve((travels, "mm")).wheel_rate.m, wanted.m, atol=FOUND)
    assert "wheel rate" in design.to_text()
    assert "at 220.0 mm" in design.to_text()


def test_faults_of_a_design_are_named(rear):
    linkage = rear.linkage
    with pytest.raises(wr.errors.LinkageError, match="length of link cannot be free beside x of link_frame"):
        linkage.design(
            {"length of link": ("165 mm", "180 mm"), "x of link_frame": ("-90 mm", "-40 mm")},
            progression=("40 %", "1 %"),
        )
    with pytest.raises(wr.errors.LinkageError, match="no dimension `x of lnk`"):
        linkage.design({"x of lnk": ("0 mm", "1 mm")}, progression=("40 %", "1 %"))
    with pytest.raises(wr.UnitError, match=r"free\[\"x of axle\"\]\[1\]"):
        linkage.design({"x of axle": ("0 mm", 3)}, progression=("40 %", "1 %"))
    with pytest.raises(wr.errors.LinkageError, match="motion_ratio: found 2 travels and 1 values"):
        linkage.design(
            {"x of axle": ("-600 mm", "-500 mm")},
            motion_ratio=(["1 mm", "2 mm"], ["0.3 shock/wheel"], "0.1 shock/wheel"),
        )


def measured(drawn, point, first, second):
    """Centre distances and side, as a person reads them off a drawing."""
    at, a, b = (complex(*drawn[name]) for name in (point, first, second))
    mirrored = a + ((at - a) / (b - a)).conjugate() * (b - a)
    return (abs(at - a), "mm"), (abs(at - b), "mm"), "above" if at.imag > mirrored.imag else "below"


def test_lengths_give_the_coordinates_back():
    names = ["swingarm_pivot", "axle", "link_swingarm", "rocker_pivot", "link_rocker", "shock_rocker", "shock_frame"]
    arrangement = ARRANGEMENTS["rocker on the frame"]
    drawn = dict(zip(names, arrangement.points.values(), strict=True))
    measures = wr.arrangements()["rocker_on_frame"]
    centres = {point: measured(drawn, point, *two) for point, two in measures.items()}
    arm = ((np.hypot(575, 150), "mm"), "-150 mm")
    made = wr.Mechanism.from_lengths("rocker_on_frame", arm, centres)
    for name, at in made.points.items():
        np.testing.assert_allclose(at.m_as("mm"), drawn[name], atol=ROUNDING_MM)
    built = wr.Linkage(made, "axle", ("shock_frame", "shock_rocker"), shock_length="203 mm", stroke="26 mm")
    there = arrangement.linkage().at("20 mm").motion_ratio.m
    assert built.at("20 mm").motion_ratio.m == pytest.approx(there, rel=ROUNDING)
    with pytest.raises(wr.errors.LinkageError, match="wanted one of above, below, ahead, behind"):
        wr.Mechanism.from_lengths("rocker_on_frame", arm, {**centres, "rocker_pivot": ("1 mm", "1 mm", "left")})
    with pytest.raises(wr.errors.LinkageError, match="rocker_on_swingarm"):
        wr.Mechanism.from_lengths("rocker", arm, centres)
    del centres["rocker_pivot"]
    with pytest.raises(wr.errors.LinkageError, match=r"centres\[\"rocker_pivot\"\]: missing"):
        wr.Mechanism.from_lengths("rocker_on_frame", arm, centres)


def test_the_demo_linkage_from_its_own_lengths(rear):
    linkage = rear.linkage
    drawn = {name: at.m_as("mm") for name, at in linkage.mechanism.points.items()}
    # The rocker pivot lies 0.6 mm off the line from the swingarm pivot to the axle.
    measures = wr.arrangements()["rocker_on_swingarm"]
    centres = {point: measured(drawn, point, *two) for point, two in measures.items()}
    made = wr.Mechanism.from_lengths("rocker_on_swingarm", ((np.hypot(575, 165), "mm"), "-165 mm"), centres)
    for name, at in made.points.items():
        np.testing.assert_allclose(at.m_as("mm"), drawn[name], atol=ROUNDING_MM)
    built = wr.Linkage(
        made, "axle", ("shock_frame", "shock_rocker"), shock_length=linkage.shock_length, stroke=linkage.full_stroke
    )
    assert built.at("102 mm").motion_ratio.m == pytest.approx(linkage.at("102 mm").motion_ratio.m, rel=ROUNDING)


def test_a_photograph_gives_the_coordinates_back():
    drawn = ARRANGEMENTS["rocker on the swingarm"].points
    turn = 1.7 * np.exp(0.03j)

    def pixel(at):
        seen = turn * complex(*at) + 2000 - 1300j
        return seen.real, -seen.imag

    photograph = wr.Photograph(
        (pixel(drawn["pivot"]), ["0 mm", "0 mm"]), (pixel(drawn["axle"]), ["-575 mm", "-165 mm"])
    )
    points = photograph.points({name: pixel(at) for name, at in drawn.items()})
    for name, at in points.items():
        np.testing.assert_allclose(at.m_as("mm"), drawn[name], atol=ROUNDING_MM)
    assert photograph.pixel.m_as("mm") == pytest.approx(1 / 1.7)
    assert wr.Mechanism(points, ARRANGEMENTS["rocker on the swingarm"].bodies).degrees_of_freedom == 1
    assert pickle.loads(pickle.dumps(photograph)) == photograph


def test_mass_shares_are_the_rate_of_potential_energy(rear):
    linkage = rear.linkage
    arm = {"swingarm": ("5.6 kg", ["-290 mm", "-80 mm"], "0.2 kg m2")}
    shares = linkage.mass_shares(arm, travels=["100 mm"])
    # Rigid on the arm: half the way from pivot to axle along it, so about half the weight.
    pose = {at: linkage.pose((at, "mm")) for at in (99.95, 100.05)}

    def height(points):
        arm = complex(*points["axle"].m_as("mm")) / complex(-575, -165)
        return (arm * complex(-290, -80)).imag

    slope = (height(pose[100.05]) - height(pose[99.95])) / 0.1
    agree("share of a body's weight at the wheel, kg", shares.gravity[0].m_as("kg"), 5.6 * slope, DIFFERENCE)
    assert shares.inertia[0].m_as("kg") > (linkage.mass_shares({"swingarm": arm["swingarm"][:2]}).inertia[0]).m_as("kg")
    with pytest.raises(wr.errors.LinkageError, match="no body `arm`"):
        linkage.mass_shares({"arm": ("1 kg", ["0 mm", "0 mm"])})


def test_squat_is_the_construction_on_paper(rear):
    drive = wr.ChainDrive(
        ["85 mm", "10 mm"],
        front_radius="33 mm",
        rear_radius="121 mm",
        wheel_radius="330 mm",
        cg_height="640 mm",
        wheelbase="1460 mm",
    )
    squat = rear.linkage.squat(drive, ["0 mm", "150 mm"])
    for index, travel in enumerate(("0 mm", "150 mm")):
        x, z = rear.axle(travel).m_as("mm")
        gap = np.hypot(85 - x, 10 - z)
        chain = np.arctan2(10 - z, 85 - x) - np.arcsin((121 - 33) / gap)
        assert squat.chain_angle[index].m_as("rad") == pytest.approx(chain)
        assert squat.swingarm_angle[index].m_as("rad") == pytest.approx(np.arctan(z / x))
        start = np.array([x - 121 * np.sin(chain), z + 121 * np.cos(chain)])
        along = np.linalg.solve(np.column_stack([[-x, -z], [-np.cos(chain), -np.sin(chain)]]), start - [x, z])
        meeting = np.array([x, z]) + along[0] * np.array([-x, -z])
        tangent = (meeting[1] - z + 330) / (meeting[0] - x)
        assert np.tan(squat.squat_angle[index].m_as("rad")) == pytest.approx(tangent)
        assert squat.anti_squat[index].m_as("") == pytest.approx(tangent * 1460 / 640)
        assert squat.squat_ratio[index] == pytest.approx(640 / 1460 / tangent)
    assert pickle.loads(pickle.dumps(drive)) == drive


def test_sweeps_are_the_linkages_one_by_one(rear):
    linkages = [rebuilt(rear.linkage, "length of link", by) for by in (-3, 0, 2, 5)]
    points = wr.sweep_points(linkages, "80 mm")
    curves = wr.sweep_curves(linkages, ["80 mm", "200 mm"])
    for index, linkage in enumerate(linkages):
        assert points.motion_ratio[index].m == linkage.at("80 mm").motion_ratio.m
        assert points.axle_slope[index] == linkage.at("80 mm").axle_slope
        assert curves[index] == linkage.curve(["80 mm", "200 mm"])


def test_a_measured_table_finds_the_linkage_again(rear):
    linkage = rear.linkage
    travels = np.linspace(0, linkage.full_travel.m_as("mm"), 31)
    curve = linkage.curve((travels, "mm"))
    rng = np.random.default_rng(3)
    noisy = 468.7 - curve.stroke.m_as("mm") + rng.normal(0, 1.0, len(travels))
    # Continued at both ends, as a person measures past the stroke, so that noise does not leave the table short.
    table = wr.MeasuredLinkage(
        (travels, "mm"),
        (noisy, "mm"),
        shock_length="466 mm",
        stroke="112 mm",
        travel_uncertainty="0 mm",
        length_uncertainty="1 mm",
    )
    start = table.full_extension.value.m_as("mm")
    at = np.linspace(20, 250, 24)
    smooth = table.curve((at, "mm"))
    truth = linkage.curve((at + start, "mm"))
    off = smooth.motion_ratio.m - truth.motion_ratio.m
    assert np.sqrt(np.mean(off**2)) < 0.01
    assert (abs(off) < 4 * smooth.motion_ratio_uncertainty.m).all()
    raw = -np.diff(noisy) / np.diff(travels)
    middle = 0.5 * (travels[1:] + travels[:-1])
    raw_off = raw - linkage.curve((middle, "mm")).motion_ratio.m
    assert np.sqrt(np.mean(raw_off**2)) > 10 * np.sqrt(np.mean(off**2))


def test_pivot_uncertainty_of_the_wheel_curves_is_that_of_bikes_with_moved_pivots():
    bike = wr.demo()
    step, spread = 0.01, {"coordinate": 0.4, "shock length": 0.3}

    def rates(key, value):
        end = bike.what_if({key: value}).rear
        return end.wheel_force("102 mm").m_as("N"), end.wheel_rate("102 mm").m_as("N/mm")

    squares = np.zeros(2)
    for name, at in bike.rear.linkage.mechanism.points.items():
        for axis in (0, 1):
            moved = [
                [f"{part + sign * step * (axis == i)} mm" for i, part in enumerate(at.m_as("mm"))] for sign in (1, -1)
            ]
            up, down = (np.array(rates(f"rear.linkage.points.{name}", point)) for point in moved)
            squares += ((up - down) / (2 * step) * spread["coordinate"]) ** 2
    up, down = (np.array(rates("rear.shock.length", f"{468.7 + sign * step} mm")) for sign in (1, -1))
    squares += ((up - down) / (2 * step) * spread["shock length"]) ** 2
    band = bike.rear.with_pivot_uncertainty("0.4 mm", "0.3 mm", ["102 mm"])
    stated = [band.wheel_force_uncertainty.m_as("N")[0], band.wheel_rate_uncertainty.m_as("N/mm")[0]]
    # Central differences over 0.02 mm of parts of centimetres: 1e-7 of their own error.
    np.testing.assert_allclose(stated, np.sqrt(squares), rtol=1e-5)
