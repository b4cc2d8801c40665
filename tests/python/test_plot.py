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
