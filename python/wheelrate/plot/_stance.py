"""How the whole bike stands, state by state."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from typing import TYPE_CHECKING

from wheelrate._core import Bike
from wheelrate.errors import BikeError
from wheelrate.plot._axes import MARKS, SMALL, new_axes, plain, styled

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def geometry(bikes: Bike | Mapping[str, Bike], measure: str = "trail", *, ax: Axes | None = None) -> Axes:
    """Draw a measure of how a bike stands in every state: extended, alone, with its rider, under every scenario.

    The numbers are those of the sheet: springs as the file states them, without friction.

    Parameters
    ----------
    bikes : Bike or dict of str to Bike
        What to draw; the keys name the lines.
    measure : str, optional
        A row of the sheet's table of the whole bike: ``"rake"``, ``"trail"``, ``"wheelbase"``.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> bike = wr.demo()
    >>> raised = bike.whole.with_adjustment(fork_raised="8 mm")
    >>> ax = wr.plot.geometry({"now": bike, "tubes 8 mm up": raised}, "trail")
    >>> [label.get_text() for label in ax.get_xticklabels()]
    ['fully extended', 'bike alone', 'rider on', 'with stretcher']
    """
    ax = new_axes(ax)
    unit, states = "", [""]
    for index, (_, bike, style) in enumerate(styled(bikes)):
        states, values, unit = _row(bike, measure)
        ax.plot(range(len(states)), values, marker=MARKS[index % len(MARKS)], markersize=6, **style)
        if not isinstance(bikes, Mapping):
            for at, value in enumerate(values):
                if math.isfinite(value):
                    said = f"{value:.1f}"
                    ax.annotate(said, (at, value), (0, 7), textcoords="offset points", ha="center", fontsize=SMALL)
    plain(ax, "", f"{measure} ({unit})", legend=isinstance(bikes, Mapping))
    ax.set_xticks(range(len(states)), states)
    ax.margins(x=0.08, y=0.16)
    return ax


def _row(bike: Bike, measure: str) -> tuple[list[str], list[float], str]:
    """Find a row of the table of the whole bike: states, values, unit."""
    whole = json.loads(bike.sheet().to_json())["geometry"]
    if not whole["table"]:
        raise BikeError(" ".join(whole["notes"]), "Missing")
    rows = {row[0]["text"]: row[1:] for row in whole["table"]["rows"]}
    if measure not in rows:
        raise BikeError(f"measure: found `{measure}`, wanted one of {', '.join(rows)}", "Choice", {"field": "measure"})
    entries = rows[measure]
    unit = next((entry["unit"] for entry in entries if entry["unit"]), "")
    return (
        whole["table"]["columns"][1:],
        [math.nan if entry["value"] is None else entry["value"] for entry in entries],
        unit,
    )
