"""What drive, brakes and chain do over travel."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, TypeAlias

from wheelrate._core import Bike
from wheelrate.errors import BikeError, WheelrateError
from wheelrate.plot._axes import new_axes, plain, styled

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from wheelrate.typing import QuantityLike

    Bikes: TypeAlias = Bike | Mapping[str, Bike]


def anti_squat(bikes: Bikes, load: str | None = None, *, ax: Axes | None = None) -> Axes:
    """Draw anti-squat over travel, and anti-rise of the rear brake in a dashed line where its caliper is known.

    Parameters
    ----------
    bikes : Bike or dict of str to Bike
        What to draw; the keys name the curves.
    load : str, optional
        Names of masses; what rider sag is meant under unless given.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> ax = wr.plot.anti_squat({"now": wr.demo(), "one tooth less": wr.demo().what_if({"rear.chain.front_teeth": 12})})
    >>> ax.get_ylabel()
    'anti-squat, anti-rise dashed (%)'
    """
    ax = new_axes(ax)
    braked = False
    for _, bike, style in styled(bikes):
        squat = bike.whole.squat(load)
        ax.plot(squat.travel.m_as("mm"), squat.anti_squat.m_as("percent"), **style)
        if bike.rear.caliper is not None:
            rise = bike.whole.anti_rise(load)
            dashed = {**style, "linestyle": "--", "label": "_anti-rise"}
            ax.plot(rise.travel.m_as("mm"), rise.anti_rise.m_as("percent"), **dashed)
            braked = True
    label = "anti-squat, anti-rise dashed (%)" if braked else "anti-squat (%)"
    plain(ax, "wheel travel (mm)", label, legend=isinstance(bikes, Mapping))
    return ax


def steering(bikes: Bikes, load: str | None = None, *, ax: Axes | None = None) -> Axes:
    """Draw the trail over the travel of the front wheel, and anti-dive in a dashed line on an axis of its own.

    The trail is that of the frame in the attitude of its axes: a fork keeps it, links move it. Anti-dive is drawn where
    what it needs is stated.

    Parameters
    ----------
    bikes : Bike or dict of str to Bike
        What to draw; the keys name the curves.
    load : str, optional
        Names of masses, for anti-dive; what rider sag is meant under unless given.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> wr.plot.steering(wr.demo()).get_ylabel()
    'trail (mm)'
    """
    ax = new_axes(ax)
    other: Axes | None = None
    for _, bike, style in styled(bikes):
        if bike.wheels is None:
            raise BikeError("wheels: found none; trail needs the radius of the front wheel and the offset")
        found = bike.front.steering_axis(bike.wheels.fork_offset, bike.wheels.front_radius)
        ax.plot(found.travel.m_as("mm"), found.trail.m_as("mm"), **style)
        try:
            dive = bike.whole.anti_dive_over_travel(load)
        except WheelrateError:
            continue
        other = ax.twinx() if other is None else other
        dashed = {**style, "linestyle": "--", "label": "_anti-dive"}
        other.plot(dive.travel.m_as("mm"), dive.anti_dive.m_as("percent"), **dashed)
    plain(ax, "front wheel travel (mm)", "trail (mm)", legend=isinstance(bikes, Mapping))
    if other is not None:
        other.set_ylabel("anti-dive, dashed (%)")
        other.spines["top"].set_visible(False)
    return ax


def chain_play(bikes: Bikes, play: QuantityLike = "10 mm", *, ax: Axes | None = None) -> Axes:
    """Draw the play of the lower run of the chain over travel.

    Parameters
    ----------
    bikes : Bike or dict of str to Bike
        What to draw; the keys name the curves.
    play : length, optional
        What is left where the chain is tightest.
    ax : matplotlib.axes.Axes, optional
        Where to draw; a new figure unless given.

    Returns
    -------
    matplotlib.axes.Axes

    Examples
    --------
    >>> import wheelrate as wr
    >>> wr.plot.chain_play(wr.demo()).get_ylabel()
    'play of the lower run (mm)'
    """
    ax = new_axes(ax)
    for _, bike, style in styled(bikes):
        found = bike.rear.chain(play=play)
        ax.plot(found.travel.m_as("mm"), found.play.m_as("mm"), **style)
    plain(ax, "wheel travel (mm)", "play of the lower run (mm)", legend=isinstance(bikes, Mapping))
    return ax
