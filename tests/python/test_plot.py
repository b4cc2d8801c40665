"""Pictures show the numbers that the bike gives."""

import matplotlib as mpl
import numpy as np
import pytest

import wheelrate as wr

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
    moving = wr.demo().moving_end("rear", wr.Damper("6000 N s/m", "9000 N s/m"))
    low, high = moving.land("0.3 m"), moving.land("1.5 m")
    ax = wr.plot.landing({"low": low, "high": high})
    curves = [line for line in ax.get_lines() if line.get_label() in ("low", "high")]
    np.testing.assert_array_equal(curves[0].get_ydata(), low.travel.m_as("mm"))
    told = [text.get_text() for text in ax.texts]
    assert f"{low.peak_travel.m_as('mm'):.0f} mm" in told
    assert f"bottoms at {high.bottoming.speed.m_as('m/s'):.1f} m/s" in told
    assert any("choose no clicks" in text for text in told)
    assert wr.plot.landing(low, ax=ax) is ax
    mpl.pyplot.close(ax.figure)
