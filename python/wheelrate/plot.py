"""Curves of one bike or several in one picture, as matplotlib Axes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, TypeAlias

from wheelrate._core import Bike, FrontEnd, RearEnd

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    Bikes: TypeAlias = Bike | FrontEnd | RearEnd | Mapping[str, Bike | FrontEnd | RearEnd]

# Told apart by colour-blind eyes and on grey paper: Okabe and Ito's palette, and dashes.
_STYLES: list[dict[str, Any]] = [
    {"color": "#0072b2", "linestyle": "-"},
    {"color": "#d55e00", "linestyle": "--"},
    {"color": "#009e73", "linestyle": "-."},
    {"color": "#000000", "linestyle": ":"},
    {"color": "#cc79a7", "linestyle": (0, (5, 1))},
]


def wheel_rate(bikes: Bikes, end: str = "rear", *, ax: Axes | None = None) -> Axes:
    """Draw the rate at the wheel over travel, the geometric term included.

    Parameters
    ----------
    bikes : Bike, FrontEnd, RearEnd or dict of str to these
        What to draw; the keys name the curves.
    end : {"rear", "front"}
        Which end of a bike.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> bike = wr.demo()
    >>> longer = bike.with_change("rear.linkage.points.link_frame", ["-66 mm", "-93 mm"])
    >>> ax = wr.plot.wheel_rate({"now": bike, "longer link": longer})
    >>> ax.get_ylabel()
    'wheel rate (N/mm)'
    """
    return _draw(bikes, end, ax, "wheel_rate", "wheel rate", "N/mm")


def wheel_force(bikes: Bikes, end: str = "rear", *, ax: Axes | None = None) -> Axes:
    """Draw the vertical force at the wheel over travel; parameters as `wheel_rate`."""
    return _draw(bikes, end, ax, "wheel_force", "wheel force", "N")


def motion_ratio(bikes: Bikes, end: str = "rear", *, ax: Axes | None = None) -> Axes:
    """Draw the motion ratio, shock per wheel, over travel; parameters as `wheel_rate`."""
    return _draw(bikes, end, ax, "motion_ratio", "motion ratio, shock per wheel", "")


def leverage_ratio(bikes: Bikes, end: str = "rear", *, ax: Axes | None = None) -> Axes:
    """Draw the leverage ratio, wheel per shock, over travel; parameters as `wheel_rate`."""
    return _draw(bikes, end, ax, "leverage_ratio", "leverage ratio, wheel per shock", "")


def _draw(bikes: Bikes, end: str, ax: Axes | None, quantity: str, label: str, unit: str) -> Axes:
    import matplotlib.pyplot as plt

    named = bikes if isinstance(bikes, Mapping) else {"": bikes}
    if ax is None:
        ax = plt.subplots(figsize=(6.0, 3.7), layout="constrained")[1]
    for index, (name, bike) in enumerate(named.items()):
        curve: Any = (getattr(bike, end) if isinstance(bike, Bike) else bike).curve()
        style: dict[str, Any] = _STYLES[index % len(_STYLES)]
        ax.plot(
            curve.travel.m_as("mm"), getattr(curve, quantity).m_as(unit), label=name or None, linewidth=1.8, **style
        )
    ax.set_xlabel("wheel travel (mm)")
    ax.set_ylabel(f"{label} ({unit})" if unit else label)
    ax.margins(x=0)
    ax.grid(color="0.88", linewidth=0.6)
    ax.set_axisbelow(True)
    ax.spines[["top", "right"]].set_visible(False)
    if any(named):
        ax.legend(frameon=False)
    return ax
