"""Curves of one bike or several in one picture, and mechanisms to scale, as matplotlib Axes."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, TypeAlias

from wheelrate import _animation
from wheelrate._animation import Animation
from wheelrate._core import Bike, EndMotion, FrontEnd, Linkage, RearEnd, quantity
from wheelrate._core import compare as _compare
from wheelrate._mechanism import linkage_of, pose
from wheelrate._timeline import runs
from wheelrate.errors import BikeError

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from wheelrate.typing import QuantityLike

    Bikes: TypeAlias = Bike | FrontEnd | RearEnd | Mapping[str, Bike | FrontEnd | RearEnd]

# Distinct to colour-blind eyes and on grey paper: Okabe and Ito's palette, and dashes.
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
_NOTE: dict[str, Any] = {"textcoords": "offset points", "fontsize": 8, "color": "0.2"}
# Panels of a history: label, unit, and the numbers by their name and place.
_HISTORY: list[tuple[str, str, list[tuple[str, int]]]] = [
    ("vertical sag", "mm", [("rider", 0), ("free", 1)]),
    ("preload", "mm", [("", 2)]),
    ("friction", "N", [("", 3)]),
]
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


def landing(motions: EndMotion | Mapping[str, EndMotion], *, ax: Axes | None = None) -> Axes:
    """Draw the travel of an end over time after a landing or a step, with its peak and where it bottoms.

    The thin lines are full travel and, for each motion, the travel at rest. What such a simulation cannot show is in
    `EndMotion.limits`; the picture says the most of it.

    Parameters
    ----------
    motions : EndMotion or dict of str to EndMotion
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
    named = motions if isinstance(motions, Mapping) else {"": motions}
    ax = _axes(ax)
    for full in sorted({motion.full_travel.m_as("mm") for motion in named.values()}):
        ax.axhline(full, color="0.2", linewidth=0.9)
        ax.annotate("full travel", (1, full), (0, 3), **_AT_RIGHT)
    for index, (name, motion) in enumerate(named.items()):
        style: dict[str, Any] = _STYLES[index % len(_STYLES)]
        colour = style["color"]
        ax.plot(motion.time.m_as("s"), motion.travel.m_as("mm"), label=name or None, linewidth=1.8, **style)
        rest = motion.rest_travel.m_as("mm")
        ax.axhline(rest, color=colour, linewidth=0.7, alpha=0.6)
        ax.annotate("at rest", (1, rest), (0, 2), color=colour, **_AT_RIGHT)
        peak, at = motion.peak_travel.m_as("mm"), motion.peak_travel_time.m_as("s")
        bottoming = motion.bottoming
        reported = f"{peak:.0f} mm" if bottoming is None else f"bottoms at {bottoming.speed.m_as('m/s'):.1f} m/s"
        ax.plot(at, peak, "o" if bottoming is None else "X", color=colour, markersize=7, zorder=3)
        # Peaks lie apart; those on the stop do not.
        up = 3 + 11 * index if bottoming else 4
        box = {"facecolor": "white", "edgecolor": "none", "pad": 0.6, "alpha": 0.85}
        ax.annotate(reported, (at, peak), (9, up), textcoords="offset points", color=colour, fontsize=9, bbox=box)
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


def history(bike: Bike, end: str = "rear", *, axes: Sequence[Axes] | None = None) -> list[Axes]:
    """Draw sags, preload and friction of every set of readings of an end over time, changes as upright lines.

    Bars are two standard uncertainties either way.

    Parameters
    ----------
    bike : Bike
        With dated readings.
    end : {"rear", "front"}
        Which end.
    axes : three matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    list of matplotlib.axes.Axes
        Of sags, preload and friction.

    Examples
    --------
    >>> import wheelrate as wr
    >>> demo = wr.demo()
    >>> may = [wr.Reading("rear", r.load, r.distance, r.settled, date="2026-05-31") for r in demo.readings[5:]]
    >>> june = [wr.Reading("rear", r.load, r.distance, r.settled, date="2026-06-30") for r in demo.readings[5:]]
    >>> bike = wr.Bike("shed", masses=demo.masses, rear=demo.rear, readings=may + june)
    >>> [ax.get_ylabel() for ax in wr.plot.history(bike)]
    ['vertical sag (mm)', 'preload (mm)', 'friction (N)']
    """
    if not isinstance(bike, Bike):
        message = f"bike: found {type(bike).__name__}, wanted a Bike: its history is asked of it here"
        raise TypeError(message)
    import matplotlib.pyplot as plt

    reported = bike.history()
    if end not in reported:
        found = ", ".join(reported) or "none"
        message = f"end: found `{end}`, wanted an end with readings ({found})"
        raise BikeError(message)
    points = json.loads(reported[end].to_json())["points"]
    if axes is None:
        axes = list(plt.subplots(3, 1, figsize=(6.4, 6.2), sharex=True, layout="constrained")[1])
    sets = [point for point in points if not point["is_change"]]
    for ax, (label, unit, series) in zip(axes, _HISTORY, strict=True):
        for index, (name, place) in enumerate(series):
            numbers = [point["numbers"][place] for point in sets]
            known = [(point["at"], one) for point, one in zip(sets, numbers, strict=True) if one["value"] is not None]
            colour = _STYLES[index]["color"]
            ax.errorbar(
                [at for at, _ in known],
                [one["value"] for _, one in known],
                [2 * one["standard_uncertainty"] for _, one in known],
                label=name or None,
                capsize=3,
                fmt="o",
                color=colour,
            )
            for run in runs(points):
                joined = [(point["at"], point["numbers"][place]["value"]) for point in run]
                if len(joined) > 1:
                    ax.plot(*zip(*joined, strict=True), color=colour, linewidth=1, alpha=0.6)
        for point in points:
            if point["is_change"]:
                ax.axvline(point["at"], color="0.2", linestyle=(0, (4, 3)), linewidth=1)
        _plain(ax, "", f"{label} ({unit})", legend=any(name for name, _ in series))
        ax.margins(x=0.06, y=0.12)
    for point in points:
        if point["is_change"]:
            axes[0].annotate("changed", (point["at"], 1), (4, -10), xycoords=("data", "axes fraction"), **_NOTE)
    axes[-1].set_xticks(
        [point["at"] for point in sets], [point["date"][:10] for point in sets], rotation=20, ha="right"
    )
    return list(axes)


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
    import matplotlib.pyplot as plt

    if axes is None:
        axes = list(plt.subplots(1, 3, figsize=(12.0, 3.7), layout="constrained")[1])
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
                ax.plot(sag, value, "o", color=_STYLES[index % len(_STYLES)]["color"])
    return list(axes)


def mechanism(
    drawn: Bike | RearEnd | Linkage,
    travel: QuantityLike = "0 mm",
    *,
    wheel_radius: QuantityLike | None = None,
    names: bool = False,
    ax: Axes | None = None,
) -> Axes:
    """Draw a rear suspension to scale at one travel, with the path of its axle.

    Parameters
    ----------
    drawn : Bike, RearEnd or Linkage
        What to draw.
    travel : length, optional
        From full extension.
    wheel_radius : length, optional
        Draws the wheel too.
    names : bool, optional
        Write the names of the points.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> ax = wr.plot.mechanism(wr.demo(), "102 mm", wheel_radius="335 mm")
    >>> ax.get_aspect()
    1.0
    """
    import matplotlib.pyplot as plt
    from matplotlib.patches import Circle

    linkage: Any = linkage_of(drawn)
    at = pose(linkage, travel)
    if ax is None:
        ax = plt.subplots(figsize=(6.4, 4.6), layout="constrained")[1]
    path = linkage.curve()
    ax.plot(path.axle_x.m_as("mm"), path.axle_z.m_as("mm"), ":", color="0.6", linewidth=1)
    for outline in at.bodies.values():
        ax.fill(*zip(*outline, strict=True), facecolor="#0072b2", alpha=0.12)
        ax.plot(*zip(*outline, outline[0], strict=True), color="#0072b2", linewidth=1.8, solid_joinstyle="round")
    ax.plot(*zip(*at.coil, strict=True), color="#d55e00", linewidth=1.6, solid_joinstyle="round", label="shock")
    white: dict[str, Any] = {"markerfacecolor": "white", "linestyle": "none"}
    if at.joints:
        ax.plot(*zip(*at.joints.values(), strict=True), "o", color="#0072b2", markersize=5, **white)
    ax.plot(*zip(*at.ground.values(), strict=True), "^", color="0.1", markersize=8, **white)
    ax.plot(*at.axle, "o", color="0.1", markersize=8)
    if wheel_radius is not None:
        radius = quantity(wheel_radius, "length").m_as("mm")
        ax.add_patch(Circle(at.axle, radius, fill=False, linestyle="--", color="0.6"))
        ax.autoscale_view()
    if names:
        for name, place in {**at.ground, **at.joints, linkage.wheel: at.axle}.items():
            ax.annotate(name.replace("_", " "), place, (6, 5), textcoords="offset points", fontsize=8)
    ax.set_aspect("equal")
    ax.margins(0.08)
    ax.set_xlabel("x, forward (mm)")
    ax.set_ylabel("z, up (mm)")
    ax.spines[["top", "right"]].set_visible(False)
    return ax


def animation(
    drawn: Bike | RearEnd | Linkage, *, seconds: float = 4.0, wheel_radius: QuantityLike | None = None
) -> Animation:
    """Let a rear suspension move over its travel and back, drawn to scale, beside its motion ratio.

    A notebook plays what comes back; it is one SVG without scripts.

    Parameters
    ----------
    drawn : Bike, RearEnd or Linkage
        What to draw.
    seconds : float, optional
        There and back.
    wheel_radius : length, optional
        Draws the wheel too.

    Returns
    -------
    Animation

    Examples
    --------
    >>> import wheelrate as wr
    >>> wr.plot.animation(wr.demo())._repr_html_()[:4]
    '<svg'
    """
    radius = None if wheel_radius is None else quantity(wheel_radius, "length").m_as("mm")
    return _animation.animation(drawn, seconds=seconds, wheel_radius=radius)


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
    named = bikes if isinstance(bikes, Mapping) else {"": bikes}
    ax = _axes(ax)
    for index, (name, bike) in enumerate(named.items()):
        drawn = getattr(bike, end) if isinstance(bike, Bike) else bike
        curve: Any = drawn.curve() if fast_from is None else drawn.fast_curve(fast_from)
        style: dict[str, Any] = _STYLES[index % len(_STYLES)]
        ax.plot(
            curve.travel.m_as("mm"), getattr(curve, quantity).m_as(unit), label=name or None, linewidth=1.8, **style
        )
    _plain(ax, "wheel travel (mm)", f"{label} ({unit})" if unit else label, legend=any(named))
    return ax
