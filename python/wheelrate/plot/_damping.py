"""Dampers and what they do at the wheel."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Literal, TypeAlias

import numpy as np

from wheelrate._core import Bike, Damper, quantity
from wheelrate.plot._axes import new_axes, plain, styled

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from wheelrate.typing import QuantityLike

    Bikes: TypeAlias = Bike | Mapping[str, Bike]
    Dampers: TypeAlias = Damper | Mapping[str, Damper]

# Shaft speed to which a damper is drawn unless given: most of a ride lies below.
_TO_SI = 1.0
_POINTS = 201


def damping_ratio(
    bikes: Bikes,
    end: Literal["front", "rear"] = "rear",
    load: str | None = None,
    *,
    speed: QuantityLike | None = None,
    ax: Axes | None = None,
) -> Axes:
    """Draw the share of critical damping over travel, with a band of one standard uncertainty.

    Parameters
    ----------
    bikes : Bike or dict of str to Bike
        What to draw; the keys name the curves.
    end : {"rear", "front"}
        Which end.
    load : str, optional
        Names of masses; what rider sag is meant under unless given.
    speed : velocity, optional
        Amplitude of the motion's speed at the wheel; the slopes of the damper from rest unless given.
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
    >>> ax = wr.plot.damping_ratio({"52 N/mm": bike, "60 N/mm": stiffer}, speed="0.5 m/s")
    >>> ax.get_ylabel()
    'share of critical damping (%)'
    """
    ax = new_axes(ax)
    for _, bike, style in styled(bikes):
        curve = bike.whole.damping(end, load, speed=speed)
        travel, ratio = curve.travel.m_as("mm"), curve.damping_ratio.m_as("percent")
        off = curve.damping_ratio_uncertainty.m_as("percent")
        ax.plot(travel, ratio, **style)
        ax.fill_between(travel, ratio - off, ratio + off, color=style["color"], alpha=0.12, linewidth=0)
    ax.set_ylim(bottom=0)
    plain(ax, f"{end} wheel travel (mm)", "share of critical damping (%)", legend=isinstance(bikes, Mapping))
    return ax


def damper(dampers: Dampers, *, to: QuantityLike | None = None, ax: Axes | None = None) -> Axes:
    """Draw the force of a damper over shaft speed, compression to the right and upwards.

    Parameters
    ----------
    dampers : Damper or dict of str to Damper
        What to draw; the keys name the curves.
    to : velocity, optional
        Highest shaft speed; 1 m/s unless given.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> ax = wr.plot.damper(wr.demo().rear.shock.damper)
    >>> ax.get_xlabel()
    'shaft speed (m/s)'
    """
    ax = new_axes(ax)
    top = _TO_SI if to is None else float(quantity(to, "velocity").m_as("m/s"))
    speeds = np.linspace(-top, top, _POINTS)
    for _, one, style in styled(dampers):
        ax.plot(speeds, one.force((speeds, "m/s")).m_as("N"), **style)
    ax.axhline(0, color="0.2", linewidth=0.7)
    ax.axvline(0, color="0.2", linewidth=0.7)
    plain(ax, "shaft speed (m/s)", "damper force (N)", legend=isinstance(dampers, Mapping))
    return ax
