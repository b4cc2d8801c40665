"""Pictures show the numbers that the bike gives."""

from xml.etree import ElementTree

import matplotlib as mpl
import numpy as np
import pytest
from arrangements import ARRANGEMENTS

import wheelrate as wr
from wheelrate._mechanism import pose

mpl.use("Agg")

PLOTS = [
    (wr.plot.wheel_rate, "wheel_rate", "N/mm"),
    (wr.plot.wheel_force, "wheel_force", "N"),
    (wr.plot.motion_ratio, "motion_ratio", ""),
    (wr.plot.leverage_ratio, "leverage_ratio", ""),
]


@pytest.mark.parametrize(("draw", "quantity", "unit"), PLOTS)
@pytest.mark.parametrize("end", ["front", "rear"])
def test_draws_what_the_curve_says(draw, quantity, unit, end):
    bike = wr.demo()
    ax = draw(bike, end)
    [line] = ax.get_lines()
    curve = getattr(bike, end).curve()
    np.testing.assert_array_equal(line.get_xdata(), curve.travel.m_as("mm"))
    np.testing.assert_array_equal(line.get_ydata(), getattr(curve, quantity).m_as(unit))
    assert ax.get_legend() is None


def test_takes_axes_names_and_ends():
    figure, ax = mpl.pyplot.subplots()
    bike = wr.demo()
    stiffer = bike.rear.with_spring_rate("56 N/mm", "8 mm")
    assert wr.plot.wheel_rate({"now": bike, "stiffer": stiffer}, ax=ax) is ax
    assert [text.get_text() for text in ax.get_legend().get_texts()] == ["now", "stiffer"]
    assert ax.get_lines()[1].get_ydata()[50] > ax.get_lines()[0].get_ydata()[50]
    mpl.pyplot.close(figure)


def test_draws_a_landing_with_its_peak():
    moving = wr.demo().whole.moving_end("rear", wr.Damper("6000 N s/m", "9000 N s/m"))
    low, high = moving.land("0.3 m"), moving.land("1.5 m")
    ax = wr.plot.landing({"low": low, "high": high})
    curves = [line for line in ax.get_lines() if line.get_label() in ("low", "high")]
    np.testing.assert_array_equal(curves[0].get_ydata(), low.travel.m_as("mm"))
    reported = [text.get_text() for text in ax.texts]
    assert f"{low.peak_travel.m_as('mm'):.0f} mm" in reported
    assert f"bottoms at {high.bottoming.speed.m_as('m/s'):.1f} m/s" in reported
    assert any("choose no clicks" in text for text in reported)
    assert wr.plot.landing(low, ax=ax) is ax
    mpl.pyplot.close(ax.figure)


def test_damping_is_drawn_as_it_is_computed():
    bike = wr.demo()
    ax = wr.plot.damping_ratio({"now": bike, "stiffer": bike.what_if({"rear.shock.spring.rate": "60 N/mm"})})
    now, stiffer = [line.get_ydata() for line in ax.get_lines()]
    np.testing.assert_array_equal(now, bike.whole.damping("rear").damping_ratio.m_as("percent"))
    assert (stiffer < now)[: len(now) // 2].all()
    mpl.pyplot.close(ax.figure)


def test_a_mechanism_is_drawn_where_it_is():
    linkage = ARRANGEMENTS["rocker on the swingarm"].linkage()
    at = {name: tuple(place.m_as("mm")) for name, place in linkage.pose("102 mm").items()}
    ax = wr.plot.mechanism(linkage, "102 mm", wheel_radius="335 mm", names=True)
    drawn = {tuple(map(float, point)) for line in ax.get_lines() for point in line.get_xydata()}
    assert set(at.values()) <= drawn
    assert ax.get_aspect() == 1.0
    [wheel] = [patch for patch in ax.patches if isinstance(patch, mpl.patches.Circle)]
    assert (wheel.center, wheel.radius) == (at["axle"], pytest.approx(335))
    assert {text.get_text() for text in ax.texts} == {name.replace("_", " ") for name in at}
    bike = wr.demo()
    for same in (bike, bike.rear):
        other = wr.plot.mechanism(same, "102 mm")
        np.testing.assert_allclose(other.get_lines()[0].get_xydata(), ax.get_lines()[0].get_xydata(), atol=1e-9)


def test_bodies_keep_their_corners_and_the_shock_its_ends():
    linkage = ARRANGEMENTS["two rockers in series"].linkage()
    poses = [pose(linkage, travel) for travel in ("0 mm", "50 mm", "100 mm")]
    for body in poses[0].bodies:
        sides = [np.hypot(*np.diff([*one.bodies[body], one.bodies[body][0]], axis=0).T) for one in poses]
        np.testing.assert_allclose(sides[1:], sides[:2], atol=1e-9)
    for one in poses:
        assert [one.coil[0], one.coil[-1]] == [pytest.approx(end) for end in one.shock]


def test_the_animation_goes_through_all_poses(tmp_path):
    linkage = ARRANGEMENTS["rocker on the swingarm"].linkage()
    film = wr.plot.animation(linkage, seconds=3, wheel_radius="335 mm")
    film.save(tmp_path / "film.svg")
    svg = ElementTree.parse(tmp_path / "film.svg").getroot()
    space = "{http://www.w3.org/2000/svg}"
    assert (tmp_path / "film.svg").read_text() == film._repr_html_()
    [arm] = [shape for shape in svg.iter(f"{space}polygon") if len(shape.get("points").split()) == 3][:1]
    rows = arm.find(f"{space}animate").get("values").split(";")
    frames = [np.array([corner.split(",") for corner in row.split()], float) for row in rows]
    assert rows[0] == rows[-1] == arm.get("points")
    assert arm.find(f"{space}animate").get("dur") == "3s"
    lengths = [np.hypot(*(frame[0] - frame[1])) for frame in frames]
    # Coordinates are written to a tenth of a pixel.
    np.testing.assert_allclose(lengths, lengths[0], atol=0.15)
    [wheel] = [shape for shape in svg.iter(f"{space}circle") if shape.get("class") == "wheel"]
    heights = [float(y) for y in wheel.findall(f"{space}animate")[1].get("values").split(";")]
    scale = float(wheel.get("r")) / 335
    travel = linkage.full_travel.m_as("mm")
    assert heights[0] - min(heights) == pytest.approx(scale * travel, rel=2e-3)


def test_designs_side_by_side():
    rear = wr.demo().rear
    longer = wr.RearEnd(rear.linkage.with_link_length("link", "176 mm"), rear.shock)
    axes = wr.plot.compare({"now": rear, "longer": longer}, "1100 N")
    for ax, attribute, unit in zip(axes, ("motion_ratio", "wheel_force", "wheel_rate"), ("", "N", "N/mm"), strict=True):
        for index, end in enumerate((rear, longer)):
            curve, settled = end.curve(), end.travel_under("1100 N").state
            np.testing.assert_array_equal(ax.get_lines()[index].get_ydata(), getattr(curve, attribute).m_as(unit))
            [[x, y]] = ax.get_lines()[2 + index].get_xydata()
            assert x == pytest.approx(settled.travel.m_as("mm"))
            assert y == pytest.approx(getattr(settled, attribute).m_as(unit))
    assert len(wr.plot.compare({"now": rear}, axes=axes)) == 3
