"""What the readings say: the posterior of rate and preload, and every reading against the fit."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from wheelrate._core import Bike
from wheelrate._ends import sprung_by
from wheelrate.errors import BikeError
from wheelrate.plot._axes import INK, MARKS, SMALL, SOFT, STYLES, end_of, new_axes, part_of_sheet, plain, styled

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from wheelrate.typing import End

# Half and 95 % of two normal numbers lie within so many standard uncertainties: sqrt(-2·ln(1 - share)).
_COVERS = ((0.50, 1.1774), (0.95, 2.4477))
_AROUND = np.linspace(0.0, 2.0 * np.pi, 97)


def posterior(bikes: Bike | Mapping[str, Bike], end: End = "rear", *, ax: Axes | None = None) -> Axes:
    """Draw what the readings leave of spring rate and preload, together, beside what is stated.

    The ellipses hold both with 50 and 95 %. The cross is what the file states, its arms what was believed of it before
    anything was read: the tolerance of the label, two standard uncertainties of the preload.

    Parameters
    ----------
    bikes : Bike or dict of str to Bike
        What to draw; the keys name the ellipses.
    end : {"rear", "front"}
        Which end.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> wr.plot.posterior(wr.demo()).get_ylabel()
    'preload (mm)'
    """
    ax = new_axes(ax, (6.0, 4.4))
    for index, (_, bike, style) in enumerate(styled(bikes)):
        end_of(bike, end)
        fit = bike.fit_end(end)
        rate, preload = fit.rate.value.m_as("N/mm"), fit.preload.value.m_as("mm")
        root = np.linalg.cholesky(fit.covariance()[:2, :2])
        for share, far in _COVERS:
            x, y = root @ np.array([np.cos(_AROUND), np.sin(_AROUND)]) * far
            line = style if share > 0.9 else {**style, "label": None, "linewidth": 1.0}
            ax.plot(rate + x, preload + y, **line)
            ax.fill(rate + x, preload + y, color=style["color"], alpha=0.1, linewidth=0)
        ax.plot(rate, preload, MARKS[index % len(MARKS)], color=style["color"], markersize=6)
        _stated(ax, bike, end)
    plain(ax, "spring rate, all together (N/mm)", "preload (mm)", legend=isinstance(bikes, Mapping))
    ax.margins(x=0.06, y=0.06)
    return ax


def _stated(ax: Axes, bike: Bike, end: str) -> None:
    """Draw what the file states, and how far it was trusted."""
    main = sprung_by(end_of(bike, end)).main_spring
    if main is None:
        return
    rate, preload = main.rate.m_as("N/mm"), main.preload.m_as("mm")
    trusted = bike.prior.get(end)
    arms: dict[str, Any] = {}
    if trusted is not None:
        arms["xerr"] = rate * trusted.rate_tolerance.m_as("")
        arms["yerr"] = 2.0 * trusted.preload_uncertainty.m_as("mm")
    ax.errorbar(rate, preload, **arms, fmt="+", color=INK, markersize=11, linewidth=1.0, capsize=3)
    ax.annotate("stated", (rate, preload), (6, 5), textcoords="offset points", fontsize=SMALL, color=SOFT)


def residuals(bike: Bike, end: End = "rear", *, ax: Axes | None = None) -> Axes:
    """Draw how far each reading lies from the fit, in standard uncertainties of the tape.

    Pushed down points down, lifted points up; the band is where 95 % of honest readings lie.

    Parameters
    ----------
    bike : Bike
        With readings.
    end : {"rear", "front"}
        Which end.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> wr.plot.residuals(wr.demo()).get_ylabel()
    'read − fitted (standard uncertainties)'
    """
    end_of(bike, end)
    part = part_of_sheet(bike, end)
    rows = part["readings"]["rows"]
    if not rows:
        raise BikeError(f"{end}: found no readings, wanted some to hold against the fit", "Missing")
    ax = new_axes(ax)
    ax.axhspan(-1.96, 1.96, color="0.93", linewidth=0)
    ax.axhline(0.0, color=SOFT, linewidth=1.0)
    loads = list(dict.fromkeys(row[1]["text"] for row in rows))
    marks = {"low": "v", "high": "^"}
    names = {"low": "pushed down", "high": "lifted"}
    for place, row in enumerate(rows):
        settled, off = row[2]["text"], row[5]["value"]
        style = STYLES[loads.index(row[1]["text"]) % len(STYLES)]
        ax.plot([place, place], [0.0, off], color=style["color"], linewidth=1.2)
        ax.plot(place, off, marks.get(settled, "o"), color=style["color"], markersize=8)
    for settled in dict.fromkeys(row[2]["text"] for row in rows):
        ax.plot([], [], marks.get(settled, "o"), color=INK, label=names.get(settled, "neither"), markersize=7)
    plain(ax, "reading, by load", "read − fitted (standard uncertainties)", legend=False)
    ax.grid(visible=False, axis="x")
    ax.legend(frameon=False, ncols=3, loc="lower right", bbox_to_anchor=(1.0, 1.0))
    _name_loads(ax, [row[1]["text"] for row in rows], loads)
    reach = 1.15 * max(2.6, *(abs(row[5]["value"]) for row in rows))
    ax.set(xlim=(-0.6, len(rows) - 0.4), ylim=(-reach, reach))
    return ax


def _name_loads(ax: Axes, of_rows: list[str], loads: list[str]) -> None:
    """Name each load under the middle of its readings."""
    places = []
    for load in loads:
        at = [place for place, of_row in enumerate(of_rows) if of_row == load]
        places.append(sum(at) / len(at))
    ax.set_xticks(places, ["off the ground" if load == "none" else load for load in loads])
