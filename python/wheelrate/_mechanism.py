"""A mechanism as lines to scale: what the drawing and the animation share."""

from __future__ import annotations

import cmath
from dataclasses import dataclass
from typing import Any, TypeAlias

from wheelrate._core import Bike, FrontEnd, Linkage, RearEnd

Drawn: TypeAlias = Bike | FrontEnd | RearEnd | Linkage
Point: TypeAlias = tuple[float, float]

# The coil of the shock: turns, and its width and the length of each eye as shares of the extended shock.
_TURNS = 7
_WIDTH = 0.11
_EYE = 0.14


def linkage_of(drawn: Drawn) -> Linkage:
    """Find the linkage in what is given."""
    if isinstance(drawn, Bike):
        drawn = drawn.rear
    return drawn if isinstance(drawn, Linkage) else drawn.linkage


@dataclass(frozen=True)
class Pose:
    """A mechanism at one travel, in millimetres, x forward and z up."""

    bodies: dict[str, list[Point]]
    ground: dict[str, Point]
    joints: dict[str, Point]
    axle: Point
    shock: list[Point]
    coil: list[Point]


def pose(linkage: Linkage, travel: Any) -> Pose:
    """Put a mechanism at a travel."""
    at: dict[str, Point] = {}
    for name, place in linkage.pose(travel).items():
        x, z = place.m_as("mm")
        at[name] = (float(x), float(z))
    bodies = linkage.mechanism.bodies
    fixed = bodies["frame"]
    first, second = (at[name] for name in linkage.shock)
    return Pose(
        bodies={body: [at[name] for name in _around(linkage, on)] for body, on in bodies.items() if body != "frame"},
        ground={name: at[name] for name in fixed},
        joints={name: place for name, place in at.items() if name not in fixed and name != linkage.wheel},
        axle=at[linkage.wheel],
        shock=[first, second],
        coil=_coil(first, second, linkage.shock_length.m_as("mm")),
    )


def _around(linkage: Linkage, names: list[str]) -> list[str]:
    """Order points of a body around their middle, so that lines through them do not cross; a body keeps its order."""
    drawn = linkage.mechanism.points
    places = {name: complex(*drawn[name].m_as("mm")) for name in names}
    middle = sum(places.values()) / len(places)
    return sorted(names, key=lambda name: cmath.phase(places[name] - middle))


def _coil(first: Point, second: Point, extended: float) -> list[Point]:
    """Zigzag between the eyes of a shock; its turns come closer as it shortens."""
    along = complex(*second) - complex(*first)
    unit = along / abs(along)
    start, end = complex(*first) + _EYE * extended * unit, complex(*second) - _EYE * extended * unit
    across = 0.5 * _WIDTH * extended * 1j * unit
    turns = [start + (end - start) * (at + 0.5) / (2 * _TURNS) + across * (-1) ** at for at in range(2 * _TURNS)]
    return [(place.real, place.imag) for place in [complex(*first), start, *turns, end, complex(*second)]]


def extent(poses: list[Pose], wheel_radius: float | None) -> tuple[float, float, float, float]:
    """Find least and greatest x, least and greatest z, of some poses."""
    places: list[Point] = []
    for one in poses:
        places += [*one.ground.values(), *one.joints.values(), one.axle, *one.coil]
        if wheel_radius:
            x, z = one.axle
            places += [(x - wheel_radius, z - wheel_radius), (x + wheel_radius, z + wheel_radius)]
    across, up = zip(*places, strict=True)
    return min(across), max(across), min(up), max(up)
