"""Curves over travel of one end or several in one picture."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, TypeAlias

from wheelrate._core import Bike, FrontEnd, RearEnd, quantity
from wheelrate._core import compare as _compare
from wheelrate.plot._axes import STYLES, end_of, new_axes, plain, pyplot, styled

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from wheelrate.typing import QuantityLike

    Bikes: TypeAlias = Bike | FrontEnd | RearEnd | Mapping[str, Bike | FrontEnd | RearEnd]

# Charts of designs leave out what stops do in the last of the travel: room over what comes before this share of it.
_LATE = 0.75
_ROOM = 1.6


def wheel_rate(
    bikes: Bikes, end: str = "rear", *, fast_from: QuantityLike | None = None, ax: Axes | None = None
) -> Axes:
    """Draw the rate at the wheel over travel, the geometric term included.

    Parameters
    ----------
    bikes : Bike, FrontEnd, RearEnd or dict of str to these
        What to draw; the keys name the curves.
    end : {"rear", "front"}
        Which end of a bike.
    fast_from : length, optional
        Draws a fast stroke, from rest at this vertical travel; gas then has its fast exponent. A slow one unless given.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> bike = wr.demo()
    >>> longer = bike.what_if({"rear.linkage.points.link_frame": ["-66 mm", "-93 mm"]})
    >>> ax = wr.plot.wheel_rate({"now": bike, "longer link": longer})
    >>> ax.get_ylabel()
    'wheel rate (N/mm)'
    """
    return _draw(bikes, end, ax, "wheel_rate", "wheel rate", "N/mm", fast_from)


def wheel_force(
    bikes: Bikes, end: str = "rear", *, fast_from: QuantityLike | None = None, ax: Axes | None = None
) -> Axes:
    """Draw the vertical force at the wheel over travel; parameters as `wheel_rate`."""
    return _draw(bikes, end, ax, "wheel_force", "wheel force", "N", fast_from)


def motion_ratio(bikes: Bikes, end: str = "rear", *, ax: Axes | None = None) -> Axes:
    """Draw the motion ratio, shock per wheel, over travel; parameters as `wheel_rate`."""
    return _draw(bikes, end, ax, "motion_ratio", "motion ratio, shock per wheel", "")


def leverage_ratio(bikes: Bikes, end: str = "rear", *, ax: Axes | None = None) -> Axes:
    """Draw the leverage ratio, wheel per shock, over travel; parameters as `wheel_rate`."""
    return _draw(bikes, end, ax, "leverage_ratio", "leverage ratio, wheel per shock", "")


def compare(
    designs: Mapping[str, RearEnd], load: QuantityLike | None = None, *, axes: Sequence[Axes] | None = None
) -> list[Axes]:
    """Draw motion ratio, wheel force and wheel rate of designs side by side, and where each settles under a load.

    Parameters
    ----------
    designs : dict of str to RearEnd
        The keys name the curves.
    load : force, optional
        Sprung load at the wheel.
    axes : three matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    list of matplotlib.axes.Axes
        Of motion ratio, wheel force and wheel rate.

    Examples
    --------
    >>> import wheelrate as wr
    >>> rear = wr.demo().rear
    >>> longer = wr.RearEnd(rear.linkage.with_link_length("link", "176 mm"), rear.shock)
    >>> axes = wr.plot.compare({"now": rear, "longer link": longer}, "1100 N")
    >>> [ax.get_ylabel() for ax in axes]
    ['motion ratio, shock per wheel', 'wheel force (N)', 'wheel rate (N/mm)']
    """
    if axes is None:
        axes = list(pyplot().subplots(1, 3, figsize=(12.0, 3.7), layout="constrained")[1])
    for ax, draw in zip(axes, (motion_ratio, wheel_force, wheel_rate), strict=True):
        draw(designs, ax=ax)
    for ax, quantity_drawn in zip(axes[1:], ("wheel_force", "wheel_rate"), strict=True):
        ax.set_ylim(0, _ROOM * max(_late(end, quantity_drawn) for end in designs.values()))
    if load is not None:
        settled = _compare(dict(designs), load)
        sags = settled.sag.m_as("mm")
        rows = (settled.motion_ratio_at_sag.m, [quantity(load, "force").m_as("N")] * len(sags))
        for ax, row in zip(axes, (*rows, settled.wheel_rate_at_sag.m_as("N/mm")), strict=True):
            for index, (sag, value) in enumerate(zip(sags, row, strict=True)):
                ax.plot(sag, value, "o", color=STYLES[index % len(STYLES)]["color"])
    return list(axes)


def _late(end: Any, attribute: str) -> float:
    """Find the greatest value before the last of the travel, where stops raise force and rate many times over."""
    curve = end.curve()
    values = getattr(curve, attribute).m
    return float(values[curve.travel.m <= _LATE * curve.travel.m[-1]].max())


def _draw(
    bikes: Bikes,
    end: str,
    ax: Axes | None,
    quantity: str,
    label: str,
    unit: str,
    fast_from: QuantityLike | None = None,
) -> Axes:
    ax = new_axes(ax)
    for _, bike, style in styled(bikes):
        drawn: Any = end_of(bike, end) if isinstance(bike, Bike) else bike
        curve: Any = drawn.curve() if fast_from is None else drawn.fast_curve(fast_from)
        ax.plot(curve.travel.m_as("mm"), getattr(curve, quantity).m_as(unit), **style)
    plain(ax, "wheel travel (mm)", f"{label} ({unit})" if unit else label, legend=isinstance(bikes, Mapping))
    return ax
