"""A bike on roads."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, TypeAlias

import numpy as np

from wheelrate._core import Bike, Road
from wheelrate.plot._axes import new_axes, plain, styled

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    Bikes: TypeAlias = Bike | Mapping[str, Bike]

# Speeds in km/h that are drawn: walking pace to a country road.
_SPEEDS = np.arange(10, 101, 10)


def on_road(
    bikes: Bikes,
    grade: str = "D",
    end: str = "rear",
    load: str | None = None,
    *,
    speeds: Any = _SPEEDS,
    ax: Axes | None = None,
) -> Axes:
    """Draw the root mean square of travel over riding speed on a class of road, with the tyre's over its load dashed.

    Parameters
    ----------
    bikes : Bike or dict of str to Bike
        What to draw; the keys name the curves.
    grade : {"A", "B", "C", "D", "E", "F", "G", "H"}
        Class of the road by ISO 8608.
    end : {"rear", "front"}
        Which end.
    load : str, optional
        Names of masses; what rider sag is meant under unless given.
    speeds : array of float, optional
        In km/h; 10 to 100 unless given.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> bike = wr.demo()
    >>> stiffer = bike.what_if({"rear.shock.spring.rate": "60 N/mm"})
    >>> ax = wr.plot.on_road({"52 N/mm": bike, "60 N/mm": stiffer}, "E", speeds=[30, 60])
    >>> ax.get_ylabel()
    'rms of travel (mm)'
    """
    ax = new_axes(ax)
    beside: Any = ax.twinx()
    road = Road(grade)
    for _, bike, style in styled(bikes):
        rides = [bike.whole.on_road(road, (float(speed), "km/h"), load).ends[end] for speed in speeds]
        ax.plot(speeds, [ride.travel_rms.m_as("mm") for ride in rides], **style)
        shares = [100 * (ride.tyre_force_rms / ride.tyre_load).m_as("") for ride in rides]
        beside.plot(speeds, shares, color=style["color"], linestyle=":", linewidth=1.2)
    ax.set_ylim(bottom=0)
    beside.set_ylim(bottom=0)
    beside.set_ylabel("rms of tyre force over its load, dotted (%)")
    plain(ax, f"riding speed (km/h), class {grade}, {end}", "rms of travel (mm)", legend=isinstance(bikes, Mapping))
    return ax
