"""Curves of one bike or several in one picture, as matplotlib Axes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, TypeAlias

from wheelrate._core import Bike, FrontEnd, History, RearEnd

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
# A word on a line across the picture, at its right end.
_AT_RIGHT: dict[str, Any] = {
    "xycoords": ("axes fraction", "data"),
    "textcoords": "offset points",
    "ha": "right",
    "fontsize": 8,
}


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


def landing(histories: History | Mapping[str, History], *, ax: Axes | None = None) -> Axes:
    """Draw the travel of an end over time after a landing or a step, with its peak and where it bottoms.

    The thin lines are full travel and, for each history, the travel at rest. What such a simulation cannot tell is in
    `History.limits`; the picture says the most of it.

    Parameters
    ----------
    histories : History or dict of str to History
        What to draw; the keys name the curves.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> rear = wr.demo().moving_end("rear", wr.Damper("6000 N s/m", "9000 N s/m"))
    >>> ax = wr.plot.landing({"0.5 m": rear.land("0.5 m"), "1 m": rear.land("1 m")})
    >>> ax.get_ylabel()
    'wheel travel (mm)'
    """
    named = histories if isinstance(histories, Mapping) else {"": histories}
    ax = _axes(ax)
    for full in sorted({history.full_travel.m_as("mm") for history in named.values()}):
        ax.axhline(full, color="0.2", linewidth=0.9)
        ax.annotate("full travel", (1, full), (0, 3), **_AT_RIGHT)
    for index, (name, history) in enumerate(named.items()):
        style: dict[str, Any] = _STYLES[index % len(_STYLES)]
        colour = style["color"]
        ax.plot(history.time.m_as("s"), history.travel.m_as("mm"), label=name or None, linewidth=1.8, **style)
        rest = history.rest_travel.m_as("mm")
        ax.axhline(rest, color=colour, linewidth=0.7, alpha=0.6)
        ax.annotate("at rest", (1, rest), (0, 2), color=colour, **_AT_RIGHT)
        peak, at = history.peak_travel.m_as("mm"), history.peak_travel_time.m_as("s")
        bottoming = history.bottoming
        told = f"{peak:.0f} mm" if bottoming is None else f"bottoms at {bottoming.speed.m_as('m/s'):.1f} m/s"
        ax.plot(at, peak, "o" if bottoming is None else "X", color=colour, markersize=7, zorder=3)
        ax.annotate(told, (at, peak), (7, 3 + 11 * index), textcoords="offset points", color=colour, fontsize=9)
    _plain(ax, "time (s)", "wheel travel (mm)", legend=any(named))
    ax.margins(y=0.12)
    ax.annotate(
        "A simple damper, and a rider who is a weight: compare springs with it, choose no clicks by it.",
        (0, 0),
        (0, -38),
        xycoords="axes fraction",
        textcoords="offset points",
        fontsize=8,
        color="0.35",
        va="top",
    )
    return ax


def _axes(ax: Axes | None) -> Axes:
    import matplotlib.pyplot as plt

    return plt.subplots(figsize=(6.0, 3.7), layout="constrained")[1] if ax is None else ax


def _plain(ax: Axes, x: str, y: str, *, legend: bool) -> None:
    ax.set_xlabel(x)
    ax.set_ylabel(y)
    ax.margins(x=0)
    ax.grid(color="0.88", linewidth=0.6)
    ax.set_axisbelow(True)
    ax.spines[["top", "right"]].set_visible(False)
    if legend:
        ax.legend(frameon=False)


def _draw(bikes: Bikes, end: str, ax: Axes | None, quantity: str, label: str, unit: str) -> Axes:
    named = bikes if isinstance(bikes, Mapping) else {"": bikes}
    ax = _axes(ax)
    for index, (name, bike) in enumerate(named.items()):
        curve: Any = (getattr(bike, end) if isinstance(bike, Bike) else bike).curve()
        style: dict[str, Any] = _STYLES[index % len(_STYLES)]
        ax.plot(
            curve.travel.m_as("mm"), getattr(curve, quantity).m_as(unit), label=name or None, linewidth=1.8, **style
        )
    _plain(ax, "wheel travel (mm)", f"{label} ({unit})" if unit else label, legend=any(named))
    return ax
