"""Mechanisms to scale, at rest and moving."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from wheelrate import _animation
from wheelrate._animation import Animation
from wheelrate._core import Bike, Linkage, RearEnd, quantity
from wheelrate._mechanism import linkage_of, pose
from wheelrate.plot._axes import new_axes

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from wheelrate.typing import QuantityLike


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
    linkage: Any = linkage_of(drawn)
    at = pose(linkage, travel)
    ax = new_axes(ax, (6.4, 4.6))
    from matplotlib.patches import Circle

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
