"""The whole bike in time."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from wheelrate._core import BikeMotion
from wheelrate.plot._axes import STYLES, new_axes, plain

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def bike_motion(motion: BikeMotion, *, ax: Axes | None = None) -> Axes:
    """Draw the travel of both ends as shares of full travel over time, with the pitch dotted.

    Parameters
    ----------
    motion : BikeMotion
        A landing, braking, or a ride over a road.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> wr.plot.bike_motion(wr.demo().whole.brake("5 m/s2", "70 %")).get_ylabel()
    'share of full travel (%)'
    """
    ax = new_axes(ax)
    time = motion.time.m_as("s")
    for (name, end), style in zip(motion.ends.items(), STYLES, strict=False):
        full = end.full_travel.m_as("mm")
        ax.plot(time, 100 * end.travel.m_as("mm") / full, label=name, **style)
        if end.bottoming is not None:
            ax.plot(end.bottoming.time.m_as("s"), 100, "X", color=style["color"], markersize=7, zorder=3)
    ax.axhline(100, color="0.2", linewidth=0.9)
    beside: Any = ax.twinx()
    beside.plot(time, motion.pitch.m_as("deg"), color="0.35", linestyle=":", linewidth=1.4)
    beside.set_ylabel("pitch, nose down, dotted (deg)")
    plain(ax, "time (s)", "share of full travel (%)", legend=False)
    # Over the picture: three lines cross everywhere in it.
    ax.legend(frameon=False, ncols=2, loc="lower right", bbox_to_anchor=(1.0, 1.0))
    return ax
