"""What both ends of a bike have, under one name."""

from __future__ import annotations

from wheelrate._core import Fork, FrontEnd, RearEnd, Shock


def sprung_by(end: FrontEnd | RearEnd) -> Fork | Shock:
    """Give what an end has its springs in: the fork, or the shock of a linkage."""
    return end.fork if isinstance(end, FrontEnd) and not end.is_linked else end.shock
