"""What happens over time: a landing in seconds, sets of readings in months."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from wheelrate._core import Bike, EndMotion
from wheelrate._timeline import PANELS, runs, set_apart, unit_of
from wheelrate.errors import BikeError
from wheelrate.plot._axes import STYLES, new_axes, plain, pyplot, styled

if TYPE_CHECKING:
    from matplotlib.axes import Axes

# A word on a line across the picture, at its right end.
_AT_RIGHT: dict[str, Any] = {
    "xycoords": ("axes fraction", "data"),
    "textcoords": "offset points",
    "ha": "right",
    "fontsize": 8,
}
_NOTE: dict[str, Any] = {"textcoords": "offset points", "fontsize": 8, "color": "0.2"}
# Panels of a history, by the label of each axis.
_HISTORY = ("vertical sag", "preload", "friction")
# A day under the axis takes so much of its length.
_ROOM_OF_A_DAY = 0.15


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
    >>> rear = wr.demo().whole.moving_end("rear", wr.Damper("6000 N s/m", "9000 N s/m"))
    >>> ax = wr.plot.landing({"0.5 m": rear.land("0.5 m"), "1 m": rear.land("1 m")})
    >>> ax.get_ylabel()
    'wheel travel (mm)'
    """
    ax = new_axes(ax)
    drawn = list(styled(motions))
    for full in sorted({motion.full_travel.m_as("mm") for _, motion, _ in drawn}):
        ax.axhline(full, color="0.2", linewidth=0.9)
        ax.annotate("full travel", (1, full), (0, 3), **_AT_RIGHT)
    for index, (_, motion, style) in enumerate(drawn):
        colour = style["color"]
        ax.plot(motion.time.m_as("s"), motion.travel.m_as("mm"), **style)
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
    plain(ax, "time (s)", "wheel travel (mm)", legend=isinstance(motions, Mapping))
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


def history(bike: Bike, end: str = "rear", *, units: str = "metric", axes: Sequence[Axes] | None = None) -> list[Axes]:
    """Draw sags, preload and friction of every set of readings of an end over time, changes as upright lines.

    Bars are two standard uncertainties either way. Days are true to time, but no two on top of each other: an evening's
    work is moved apart on an axis of months, and a day is written where there is room for it.

    Parameters
    ----------
    bike : Bike
        With dated readings.
    end : {"rear", "front"}
        Which end.
    units : {"metric", "kilogram-force", "inch"}, optional
        Units of the axes.
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
    reported = bike.history()
    if end not in reported:
        found = ", ".join(reported) or "none"
        message = f"end: found `{end}`, wanted an end with readings ({found})"
        raise BikeError(message)
    points = json.loads(reported[end].to_json(units))["points"]
    places = set_apart([point["at"] for point in points])
    points = [point | {"place": place} for point, place in zip(points, places, strict=True)]
    if axes is None:
        axes = list(pyplot().subplots(3, 1, figsize=(6.4, 6.2), sharex=True, layout="constrained")[1])
    sets = [point for point in points if not point["is_change"]]
    for ax, label, (_, series) in zip(axes, _HISTORY, PANELS, strict=True):
        for index, one_of in enumerate(series):
            numbers = [point["numbers"][one_of.place] for point in sets]
            known = [
                (point["place"], one) for point, one in zip(sets, numbers, strict=True) if one["value"] is not None
            ]
            colour = STYLES[index]["color"]
            ax.errorbar(
                [at for at, _ in known],
                [one["value"] for _, one in known],
                [2 * one["standard_uncertainty"] for _, one in known],
                label=one_of.name or None,
                capsize=3,
                fmt="o",
                color=colour,
            )
            for run in runs(points):
                joined = [(point["place"], point["numbers"][one_of.place]["value"]) for point in run]
                if len(joined) > 1:
                    ax.plot(*zip(*joined, strict=True), color=colour, linewidth=1, alpha=0.6)
        for point in points:
            if point["is_change"]:
                ax.axvline(point["place"], color="0.2", linestyle=(0, (4, 3)), linewidth=1)
        plain(ax, "", f"{label} ({unit_of(points, series)})", legend=any(one_of.name for one_of in series))
        ax.margins(x=0.06, y=0.12)
    for point in points:
        if point["is_change"]:
            axes[0].annotate("changed", (point["place"], 1), (4, -10), xycoords=("data", "axes fraction"), **_NOTE)
    written: list[dict[str, Any]] = []
    for point in sets:
        if not written or point["place"] - written[-1]["place"] >= _ROOM_OF_A_DAY:
            written.append(point)
    days = [point["date"][:10] for point in written]
    axes[-1].set_xticks([point["place"] for point in written], days, rotation=20, ha="right")
    axes[-1].set_xticks([point["place"] for point in sets if point not in written], minor=True)
    return list(axes)
