"""Travel logs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, TypeAlias

import numpy as np

from wheelrate._core import EndTravel
from wheelrate.plot._axes import new_axes, plain, styled

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    Logged: TypeAlias = EndTravel | Mapping[str, EndTravel]


def travel_log(ends: Logged, of: str = "travel", *, ax: Axes | None = None) -> Axes:
    """Draw the share of time by travel of the wheel, or by speed of the shaft.

    Parameters
    ----------
    ends : EndTravel or dict of str to EndTravel
        What to draw; the keys name the curves.
    of : {"travel", "speed"}
        What the time is sorted by.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import numpy as np
    >>> import wheelrate as wr
    >>> time = np.arange(0, 60, 0.01)
    >>> log = wr.travel_log(wr.demo(), [((time, "s"), None, (40 + 10 * np.sin(7 * time), "mm"))])
    >>> wr.plot.travel_log(log.ends["rear"]).get_xlabel()
    'wheel travel (mm)'
    """
    ax = new_axes(ax)
    unit, name = ("mm", "wheel travel (mm)") if of == "travel" else ("m/s", "shaft speed (m/s), compression right")
    for _, end, style in styled(ends):
        middles, shares = end.travel_histogram if of == "travel" else end.shaft_speed_histogram
        at: Any = middles.m_as(unit)
        ax.plot(at, 100 * shares.m_as("") / (at[1] - at[0]), **style)
        if of == "travel":
            ax.axvline(end.mean_travel.m_as("mm"), color=style["color"], linestyle=":", linewidth=1.2)
    if of != "travel":
        most = max(float(np.abs(end.fastest_shaft.m_as("m/s"))) for _, end, _ in styled(ends))
        ax.set_xlim(-most, most)
    ax.set_ylim(bottom=0)
    plain(
        ax,
        name,
        f"time (% a {'millimetre' if of == 'travel' else 'metre per second'})",
        legend=isinstance(ends, Mapping),
    )
    return ax
