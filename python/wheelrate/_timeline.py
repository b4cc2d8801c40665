"""Sets of readings over time as small inline SVG: points with their uncertainty, changes as upright lines."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from typing import Any

from wheelrate._svg import number, path, text, ticks

WIDTH, HEIGHT = 300, 150
LEFT, RIGHT, TOP, BOTTOM = 44, 14, 10, 34
# Two standard uncertainties either way hold about 95 in 100.
_COVERAGE = 2.0
# Least distance of two events along the axis, as a share of it: an evening's work on an axis of months.
_APART = 0.04


def set_apart(days: list[float]) -> list[float]:
    """Places between 0 and 1 along the axis for days in order: true to time, but no two on top of each other.

    Events closer than a mark is wide are moved apart, by no more than that needs, and none past either end of the axis;
    where there are more than there is room for, they stand at equal distances.
    """
    first, span = days[0], days[-1] - days[0]
    places = [(day - first) / span if span else 0.0 for day in days]
    gap = min(_APART, 1.0 / max(len(days) - 1, 1))
    for later in range(1, len(places)):
        places[later] = max(places[later], places[later - 1] + gap)
    most = 1.0
    for later in range(len(places) - 1, -1, -1):
        places[later] = min(places[later], most)
        most = places[later] - gap
    return places


@dataclass(frozen=True)
class Series:
    """One number of every set, by its place among the numbers of a point; ``style`` is a class of the page."""

    name: str
    place: int
    style: str


PANELS = (
    ("Sag, vertical", (Series("rider", 0, "today"), Series("free", 1, "advised"))),
    ("Preload", (Series("", 2, "today"),)),
    ("Friction at the wheel", (Series("", 3, "today"),)),
)


def unit_of(points: list[dict[str, Any]], series: tuple[Series, ...]) -> str:
    """Find the unit of a panel."""
    numbers = (point["numbers"][one.place] for point in points if not point["is_change"] for one in series)
    return next((entry["unit"] for entry in numbers if entry["unit"]), "")


def panel(title: str, points: list[dict[str, Any]], series: tuple[Series, ...]) -> str:
    """Draw one number, or two, over time."""
    places = set_apart([point["at"] for point in points])
    points = [point | {"place": place} for point, place in zip(points, places, strict=True)]
    sets = [point for point in points if not point["is_change"]]
    known = [
        (one, point["place"], entry["value"], _COVERAGE * entry["standard_uncertainty"], point)
        for one in series
        for point in sets
        if (entry := point["numbers"][one.place])["value"] is not None
    ]
    if not known:
        return ""
    low = min(value - spread for _, _, value, spread, _ in known)
    high = max(value + spread for _, _, value, spread, _ in known)
    y_ticks = ticks(low, high, about=4)
    bottom, top = min(low, y_ticks[0]), max(high, y_ticks[-1])

    def at_x(at: float) -> float:
        return LEFT + (0.06 + 0.88 * at) * (WIDTH - LEFT - RIGHT)

    def at_y(value: float) -> float:
        return HEIGHT - BOTTOM - (value - bottom) / (top - bottom) * (HEIGHT - TOP - BOTTOM)

    parts = []
    for tick in y_ticks:
        parts.append(f'<path class="grid" d="M{LEFT} {at_y(tick):.1f}H{WIDTH - RIGHT}"/>')
        parts.append(text(LEFT - 7, at_y(tick) + 3.5, number(tick, y_ticks), "tick", "end"))
    parts.append(f'<path class="axis" d="M{LEFT} {HEIGHT - BOTTOM}H{WIDTH - RIGHT}"/>')
    for point in points:
        if point["is_change"]:
            x = at_x(point["place"])
            reported = f"<title>changed {escape(point['date'])}</title>"
            parts.append(f'<path class="change" d="M{x:.1f} {TOP}V{HEIGHT - BOTTOM}">{reported}</path>')
    for one in series:
        own = [(at_x(at), at_y(value), spread, point) for of, at, value, spread, point in known if of is one]
        for run in runs(points):
            joined = [(x, y) for x, y, _, point in own if point in run]
            if len(joined) > 1:
                parts.append(f'<path class="join {one.style}" d="{path(joined)}"/>')
        for x, y, reach, point in own:
            half = reach / (top - bottom) * (HEIGHT - TOP - BOTTOM)
            parts.append(f'<path class="spread {one.style}" d="M{x:.1f} {y - half:.1f}V{y + half:.1f}"/>')
            reported = escape(f"{point['date']}: {point['numbers'][one.place]['text']}")
            parts.append(
                f'<circle class="point {one.style}" cx="{x:.1f}" cy="{y:.1f}" r="4"><title>{reported}</title></circle>'
            )
        if one.name:
            x, y, *_ = own[-1]
            parts.append(text(x + 8, y + 3.5, one.name, "note", "start"))
    parts += _days(sets, at_x)
    return (
        f'<svg viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{escape(title)}">'
        f"<title>{escape(title)}</title>{''.join(parts)}</svg>"
    )


def runs(points: list[dict[str, Any]]) -> list[list[dict[str, Any]]]:
    """Part the sets at the changes: a line from one state of the bike to another would say nothing."""
    parted: list[list[dict[str, Any]]] = [[]]
    for point in points:
        if point["is_change"]:
            parted.append([])
        else:
            parted[-1].append(point)
    return parted


def _days(sets: list[dict[str, Any]], at_x: Any) -> list[str]:
    """Write the days of the sets under the axis, as many as there is room for."""
    # A day takes this much room.
    room = 62
    parts: list[str] = []
    last = float("-inf")
    for point in sets:
        x = at_x(point["place"])
        parts.append(f'<path class="axis" d="M{x:.1f} {HEIGHT - BOTTOM}v4"/>')
        if x - last >= room:
            parts.append(text(x, HEIGHT - BOTTOM + 16, point["date"][:10], "tick", "middle"))
            last = x
    return parts


def charts(points: list[dict[str, Any]]) -> list[dict[str, str]]:
    """Draw sags, preload and friction of every set over time; nothing for fewer than two events."""
    if len(points) < 2 or all(point["is_change"] for point in points):
        return []
    drawn = []
    for title, series in PANELS:
        unit = unit_of(points, series)
        drawn.append({"title": f"{title}, {unit}", "svg": panel(title, points, series)})
    return [one for one in drawn if one["svg"]]
