"""Pictures of decisions, readings and parts show numbers that can be had otherwise, on axes that are given."""

import inspect
import subprocess
import sys
from pathlib import Path

import matplotlib as mpl
import matplotlib.pyplot as plt
import numpy as np
import pytest
from matplotlib.patches import Ellipse, Rectangle

import wheelrate as wr

mpl.use("Agg")

LEAST = Path(__file__).parents[1] / "files" / "least_imperial.toml"
#: What each function that takes axes is asked to draw.
DRAWN = {
    "assumed": lambda: (wr.Bike.load(LEAST),),
    "bike_motion": lambda: (wr.demo().whole.brake("6 m/s2", "70 %"),),
    "travel_log": lambda: (logged().ends,),
    "damper": lambda: (wr.demo().rear.shock.damper,),
    "geometry": lambda: (wr.demo(),),
    "landing": lambda: (wr.demo().whole.moving_end("rear", wr.Damper("6000 N s/m", "9000 N s/m")).land("0.3 m"),),
    "contour": lambda: (swept(), "rear.shock.spring.rate", "rear.shock.spring.preload", "rear.rider_sag"),
    "parallel": lambda: (swept(),),
}
#: These draw several pictures side by side, or none that stands still.
OTHERS = {"animation", "compare", "history"}


def logged():
    clock = np.arange(0.0, 30.0, 0.005)
    return wr.travel_log(wr.demo(), [((clock, "s"), None, (40.0 + 20.0 * np.sin(7.0 * clock), "mm"))])


def swept():
    axes = {"rear.shock.spring.rate": ["50 N/mm", "54 N/mm"], "rear.shock.spring.preload": ["10 mm", "14 mm"]}
    return wr.demo().sweep(axes, ["rear.rider_sag"])


@pytest.fixture
def ax():
    figure, axes = plt.subplots()
    yield axes
    plt.close(figure)


def test_only_functions_are_exported():
    assert dir(wr.plot) == wr.plot.__all__
    assert all(inspect.isfunction(getattr(wr.plot, name)) for name in wr.plot.__all__)
    assert wr.plot.__all__ == sorted(wr.plot.__all__)


@pytest.mark.parametrize("name", sorted(set(wr.plot.__all__) - OTHERS))
def test_every_picture_takes_axes_and_gives_them_back(ax, name):
    given = DRAWN.get(name, lambda: (wr.demo(),))()
    assert getattr(wr.plot, name)(*given, ax=ax) is ax
    assert ax.has_data()


@pytest.mark.parametrize("name", ["wheel_rate", "posterior", "geometry"])
def test_lines_differ_without_colour(ax, name):
    bike = wr.demo()
    getattr(wr.plot, name)({str(at): bike for at in range(4)}, ax=ax)
    lines = [line for line in ax.get_lines() if line.get_label() in "0123"]
    assert len({(line.get_linestyle(), line.get_marker()) for line in lines}) == 4


def areas(ax):
    """Give the height of each filled area over travel, by its name."""
    found = {}
    for area in ax.collections:
        if area.get_label().startswith("_"):
            continue
        corners = area.get_paths()[0].vertices
        by_travel = {}
        for x, y in corners:
            by_travel.setdefault(round(x, 6), []).append(y)
        found[area.get_label()] = {x: max(ys) - min(ys) for x, ys in by_travel.items()}
    return found


@pytest.mark.parametrize("end", ["front", "rear"])
@pytest.mark.parametrize("of", ["force", "rate"])
def test_the_parts_add_up(ax, end, of):
    bike = wr.demo()
    wr.plot.split(bike, end, of=of, ax=ax)
    parts = areas(ax)
    of_end = getattr(bike, end)
    for travel in (20.0, 100.0, 180.0):
        travel = min(next(iter(parts.values())), key=lambda at, near=travel: abs(at - near))
        whole = of_end.at((travel, "mm"))
        wanted = whole.wheel_force.m_as("N") if of == "force" else whole.wheel_rate.m_as("N/mm")
        # Gas can pull the rate down by parts in a million only: all parts push here.
        assert sum(part.get(travel, 0.0) for part in parts.values()) == pytest.approx(wanted, rel=1e-4)


def test_the_geometric_term_is_the_one_of_the_core(ax):
    bike = wr.demo()
    wr.plot.split(bike, of="rate", ax=ax)
    part = areas(ax)["geometric term"]
    for travel, height in list(part.items())[5:40:7]:
        # Travels are rounded to a millionth of a millimetre here.
        assert height == pytest.approx(bike.rear.at((travel, "mm")).geometric_rate.m_as("N/mm"), rel=1e-7)


def test_what_to_split_is_one_of_two(ax):
    with pytest.raises(wr.errors.WheelError, match="wanted `force` or `rate`"):
        wr.plot.split(wr.demo(), of="energy", ax=ax)


def test_a_ladder_has_its_rungs_where_the_fit_has_them(ax):
    bike = wr.demo()
    wr.plot.sag_ladder(bike, ax=ax)
    said = [text.get_text() for text in ax.texts]
    for end in ("front", "rear"):
        for load in bike.fit_end(end).loads:
            assert any(text.startswith(f"{load.load}: {load.sag.value.m_as('mm'):.0f} mm") for text in said)
    shaded = [(bar.get_y(), bar.get_y() + bar.get_height()) for bar in ax.patches if bar.get_hatch()]
    assert any(pair == pytest.approx((98, 106)) for pair in shaded)


@pytest.mark.parametrize("end", ["front", "rear"])
def test_springs_stand_where_their_sags_are(ax, end):
    bike = wr.demo()
    wr.plot.springs(bike, end, ax=ax)
    choices = bike.advise_end(end).choices
    ellipses = [patch for patch in ax.patches if isinstance(patch, Ellipse)]
    assert len(ellipses) == len(choices)
    # 95 % of two independent normal numbers: chi-squared of two degrees is -2·ln(0.05).
    far = np.sqrt(-2 * np.log(0.05))
    for ellipse, choice in zip(ellipses, choices, strict=True):
        assert ellipse.center == pytest.approx((choice.free_sag.value.m_as("mm"), choice.rider_sag.value.m_as("mm")))
        assert ellipse.width == pytest.approx(2 * far * choice.free_sag.standard_uncertainty.m_as("mm"), rel=1e-4)
    [box] = [patch for patch in ax.patches if isinstance(patch, Rectangle) and patch.get_label() == "wanted"]
    low, high = bike.targets[end].rider_sag.range
    assert (box.get_y(), box.get_y() + box.get_height()) == pytest.approx((low.m_as("mm"), high.m_as("mm")))


def test_a_tornado_goes_from_what_is_advised(ax):
    bike = wr.demo()
    wr.plot.tornado(bike, ax=ax)
    base = bike.advise_end("rear").action.probability.m_as("percent")
    heavier = [bar for bar in ax.patches if bar.get_width() < 0][-1]
    assert max(heavier.get_x(), heavier.get_x() + heavier.get_width()) == pytest.approx(base)
    lengths = [abs(bar.get_width()) for bar in ax.patches]
    assert lengths == sorted(lengths)


def test_the_posterior_covers_its_draws(ax):
    fit = wr.demo().fit_end("rear")
    wr.plot.posterior({"one": wr.demo()}, ax=ax)
    [outer] = [line for line in ax.get_lines() if line.get_label() == "one"]
    edge = np.column_stack([outer.get_xdata(), outer.get_ydata()])
    middle = np.array([fit.rate.value.m_as("N/mm"), fit.preload.value.m_as("mm")])
    inverse = np.linalg.inv(fit.covariance()[:2, :2])
    far = np.einsum("ij,jk,ik->i", edge - middle, inverse, edge - middle)
    np.testing.assert_allclose(far, -2 * np.log(0.05), rtol=1e-4)
    drawn = fit.draws(20_000)
    points = np.column_stack([drawn["rate"].m, drawn["preload"].m]) - middle
    inside = np.mean(np.einsum("ij,jk,ik->i", points, inverse, points) < far.min())
    # Four standard errors of a share of 20,000.
    assert inside == pytest.approx(0.95, abs=4 * np.sqrt(0.95 * 0.05 / 20_000))


def test_residuals_are_those_of_the_tape(ax):
    """Read less fitted, over what one reading is uncertain by, where the fitted distance is the mean of a pair."""
    bike = wr.demo()
    wr.plot.residuals(bike, ax=ax)
    points = [line for line in ax.get_lines() if len(line.get_xdata()) == 1]
    readings = [reading for reading in bike.readings if reading.end == "rear"]
    assert len(points) == len(readings)
    off = [float(line.get_ydata()[0]) for line in points]
    # Repeats have one fitted distance: what lies between them is theirs alone.
    for one, two in ((2, 3), (4, 5), (6, 7), (8, 9)):
        apart = (readings[one].distance - readings[two].distance).m_as("mm")
        assert (off[one] - off[two]) * 1.5 == pytest.approx(apart, rel=0.1, abs=0.05)


def test_another_end_is_refused(ax):
    bike = wr.Bike("rear only", rear=wr.demo().rear)
    for draw in (wr.plot.springs, wr.plot.tornado, wr.plot.posterior, wr.plot.residuals, wr.plot.wheel_rate):
        with pytest.raises(wr.errors.BikeError, match="wanted an end that the bike has"):
            draw(bike, "front", ax=ax)


def test_without_matplotlib_it_is_named():
    code = (
        "import sys; sys.modules['matplotlib'] = None; import wheelrate as wr\n"
        "try: wr.plot.wheel_rate(wr.demo())\nexcept ImportError as error: print(error)"
    )
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert 'pip install "wheelrate[plot]"' in said
