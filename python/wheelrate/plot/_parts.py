"""What an end is made of: force and rate by part, and where it stands between extended and full."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from wheelrate._core import Bike, FrontEnd, RearEnd
from wheelrate._ends import sprung_by
from wheelrate.errors import WheelError, WheelrateError
from wheelrate.plot._axes import INK, SMALL, SOFT, WANTED, end_of, new_axes, part_of_sheet, plain

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_POINTS = 61
# Stops raise both many times over in the last of the travel: room for what comes before this share of it.
_LATE = 0.75
_ROOM = 1.5
_ROUNDING = 1e-9
# Shades of the parts, apart on grey paper too, and what is hatched over them.
_PARTS: list[tuple[str, dict[str, Any]]] = [
    ("spring", {"facecolor": "#0072b2", "alpha": 0.75}),
    ("gas", {"facecolor": "#e69f00", "alpha": 0.75, "hatch": "//"}),
    ("geometric term", {"facecolor": "#cc79a7", "alpha": 0.75, "hatch": ".."}),
    ("stops", {"facecolor": "0.55", "alpha": 0.75, "hatch": "xx"}),
]
_HALF_BAR = 0.26
# Between the ladders of two ends there is room for what is said of one; a line of it is so much of the travel.
_APART = 1.9
_LINE = 0.055


def split(drawn: Bike | FrontEnd | RearEnd, end: str = "rear", *, of: str = "force", ax: Axes | None = None) -> Axes:
    """Draw force or rate at the wheel over travel, by part: spring, gas, stops, and the geometric term.

    ``F_w = F·MR`` is split by what pushes; ``k_w = k·MR² + F·dMR/dz`` has the geometric term beside it.

    Parameters
    ----------
    drawn : Bike, FrontEnd or RearEnd
        What to draw.
    end : {"rear", "front"}
        Which end of a bike.
    of : {"force", "rate"}
        What is split.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> ax = wr.plot.split(wr.demo(), of="rate")
    >>> [text.get_text() for text in ax.get_legend().get_texts()]
    ['spring', 'gas', 'geometric term', 'stops', 'all together']
    """
    if of not in ("force", "rate"):
        raise WheelError(f"of: found `{of}`, wanted `force` or `rate`", "Choice", {"field": "of", "found": str(of)})
    of_end: Any = end_of(drawn, end) if isinstance(drawn, Bike) else drawn
    axial: Any = sprung_by(of_end)
    curve = of_end.curve((np.linspace(0.0, of_end.full_travel.m_as("mm"), _POINTS), "mm"))
    ratio, travel = curve.motion_ratio.m, curve.travel.m_as("mm")
    springs, gas = ([at(stroke) for stroke in curve.stroke] for at in (axial.springs_at, axial.gas_at))
    if of == "force":
        unit, whole = "N", curve.wheel_force.m_as("N")
        parts = [ratio * np.array([one.force.m_as(unit) for one in part]) for part in (springs, gas)]
        parts.append(np.zeros_like(travel))
    else:
        unit, whole = "N/mm", curve.wheel_rate.m_as("N/mm")
        parts = [ratio**2 * np.array([one.rate.m_as(unit) for one in part]) for part in (springs, gas)]
        parts.append(curve.axial_force.m_as("N") * curve.motion_ratio_slope.m_as("1/mm"))
    parts.append(whole - sum(parts))
    ax = new_axes(ax)
    # A part that pulls goes below the line that one that pushes stands on.
    up, down = np.zeros(len(travel)), np.zeros(len(travel))
    for (name, style), part in zip(_PARTS, parts, strict=False):
        # What is left of a difference of equal numbers is no part.
        part = np.where(np.abs(part) > _ROUNDING * np.abs(whole).max(), part, 0.0)
        if not part.any():
            continue
        base = np.where(part >= 0, up, down)
        ax.fill_between(travel, base, base + part, label=name, edgecolor="white", linewidth=0.4, **style)
        up, down = up + np.maximum(part, 0), down + np.minimum(part, 0)
    ax.plot(travel, whole, color=INK, linewidth=1.6, label="all together")
    plain(ax, "wheel travel (mm)", f"wheel {of} ({unit})", legend=False)
    late = whole[travel <= _LATE * travel[-1]]
    ax.set_ylim(min(0.0, 1.1 * down.min()), _ROOM * late.max())
    ax.legend(frameon=False, loc="upper left")
    return ax


def sag_ladder(bike: Bike, *, ax: Axes | None = None) -> Axes:
    """Draw where each end stands, extended, under the bike, under its rider, full, in vertical wheel travel.

    Sags are those of the fit, with two standard uncertainties either way; ranges that are wanted are shaded. Where an
    end has nothing to fit, the sags are those of the parts as stated.

    Parameters
    ----------
    bike : Bike
        What to draw.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> ax = wr.plot.sag_ladder(wr.demo())
    >>> [label.get_text() for label in ax.get_xticklabels()]
    ['front', 'rear']
    """
    ax = new_axes(ax, (6.4, 5.0))
    for index, end in enumerate(bike.ends):
        place = _APART * index
        full = end_of(bike, end).full_travel.m_as("mm")
        ax.bar(place, full, 2 * _HALF_BAR, color="0.93", edgecolor=SOFT, linewidth=0.8)
        for low, high in _wanted(bike, end):
            ax.bar(place, high - low, 2 * _HALF_BAR, bottom=low, color=WANTED, alpha=0.3, linewidth=0, hatch="//")
        rungs = [("extended", 0.0, 0.0), *_sags(bike, end), ("full travel", full, 0.0)]
        free = -np.inf
        for name, value, spread in rungs:
            free = max(value, free + _LINE * full)
            _rung(ax, place, value, spread, free)
            share = f", {100 * value / full:.0f} %" if 0 < value < full else ""
            said = f"{name}: {value:.0f} mm{share}"
            ax.annotate(
                said, (place + _HALF_BAR, free), (12, 0), textcoords="offset points", va="center", fontsize=SMALL
            )
    plain(ax, "", "vertical wheel travel (mm)", legend=False)
    ax.grid(visible=False, axis="x")
    ax.set_xticks([_APART * place for place in range(len(bike.ends))], bike.ends)
    ax.set_xlim(-0.5, _APART * len(bike.ends) - 0.4)
    ax.invert_yaxis()
    ax.margins(y=0.04)
    return ax


def _rung(ax: Axes, place: float, value: float, spread: float, said_at: float) -> None:
    """Draw one rung: where it is, how surely, and a lead to what is said of it."""
    ax.plot([place - _HALF_BAR, place + _HALF_BAR], [value, value], color=INK, linewidth=2.0)
    if spread:
        ax.errorbar(place, value, 2.0 * spread, color=INK, capsize=4, linewidth=1.2)
    ax.plot([place + _HALF_BAR, place + _HALF_BAR + 0.07], [value, said_at], color=SOFT, linewidth=0.7)


def _sags(bike: Bike, end: Any) -> list[tuple[str, float, float]]:
    """Find sags with their standard uncertainties, the lesser first."""
    try:
        loads = bike.fit_end(end).loads
        return [(one.load, one.sag.value.m_as("mm"), one.sag.standard_uncertainty.m_as("mm")) for one in loads]
    except WheelrateError:
        found = []
        for load in ("bike", bike.rider_load):
            state = end_of(bike, end).travel_under(bike.masses.sprung_load(end, load).value).state
            if state is not None:
                found.append((load, state.travel.m_as("mm"), 0.0))
        return found


def _wanted(bike: Bike, end: Any) -> list[tuple[float, float]]:
    """Find the ranges that are wanted, as vertical travel."""
    part = part_of_sheet(bike, end)
    return [(one["from"], one["to"]) for one in part["wanted"] or []] if part else []
