"""What a notebook shows of a point, a mechanism and a bike."""

from __future__ import annotations

import json
from html import escape
from typing import Any

from wheelrate import _core
from wheelrate._ends import sprung_by
from wheelrate._mechanism import extent, pose
from wheelrate.errors import WheelrateError

# Results at one place: their fields, in the order in which a person reads them.
_POINTS = ("AxialState", "WheelState", "LinkagePoint", "UncertainPoint", "Stance", "Reserve")
_WIDTH = 420.0
_MARGIN = 26.0
_STYLE = (
    "fill:none;stroke:#0072b2;stroke-width:2;stroke-linejoin:round",
    "fill:none;stroke:#d55e00;stroke-width:1.8;stroke-linejoin:round",
)


def _shown(value: Any) -> str:
    """Show a quantity in short, whatever it is of."""
    if isinstance(value, dict):
        return ", ".join(f"{name} {_shown(one)}" for name, one in value.items())
    if hasattr(value, "units"):
        return f"{value:.5g~P}"
    return f"{value:.5g}" if isinstance(value, float) else "–" if value is None else str(value)


def _rows(rows: list[tuple[str, str]]) -> str:
    cells = "".join(
        f'<tr><th style="text-align:left">{escape(name)}</th><td>{escape(text)}</td></tr>' for name, text in rows
    )
    return f"<table><tbody>{cells}</tbody></table>"


def _point(self: Any) -> str:
    names = [name for name, member in vars(type(self)).items() if _is_field(name, member)]
    # Fields that are kept come in their own order, what is worked out from them after.
    kept = list(json.loads(self.__reduce__()[1][0]))
    names.sort(key=lambda name: (kept.index(name) if name in kept else len(kept), name))
    return _rows([(name.replace("_", " "), _shown(getattr(self, name))) for name in names])


def _is_field(name: str, member: Any) -> bool:
    return not name.startswith("_") and hasattr(member, "__get__") and not callable(member)


def _uncertain(self: _core.Uncertain) -> str:
    return escape(str(self))


def _linkage(self: _core.Linkage) -> str:
    return mechanism(self)


def mechanism(linkage: _core.Linkage) -> str:
    """Draw a linkage to scale as it is drawn in its file, as one SVG.

    Parameters
    ----------
    linkage : Linkage
        What to draw.

    Returns
    -------
    str
    """
    at = pose(linkage, linkage.drawn_travel)
    left, right, bottom, top = extent([at], None)
    scale = (_WIDTH - 2 * _MARGIN) / (right - left)
    height = (top - bottom) * scale + 2 * _MARGIN

    def place(point: tuple[float, float]) -> tuple[float, float]:
        return _MARGIN + (point[0] - left) * scale, _MARGIN + (top - point[1]) * scale

    def row(points: Any) -> str:
        return " ".join(f"{x:.1f},{y:.1f}" for x, y in map(place, points))

    body, coil = _STYLE
    parts = [f'<polygon points="{row(outline)}" style="{body}"/>' for outline in at.bodies.values()]
    parts.append(f'<polyline points="{row(at.coil)}" style="{coil}"/>')
    named = {**at.ground, **at.joints, linkage.wheel: at.axle}
    for name, point in named.items():
        x, y = place(point)
        fill = "#222" if name in at.ground else "#fff"
        anchor, shift = ("end", -8) if x > 0.55 * _WIDTH else ("start", 8)
        parts.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4.5" fill="{fill}" stroke="#0072b2" stroke-width="1.6"/>')
        parts.append(
            f'<text x="{x + shift:.1f}" y="{y - 7:.1f}" text-anchor="{anchor}" font-size="11" '
            f'font-family="sans-serif" fill="currentColor">{escape(name.replace("_", " "))}</text>'
        )
    label = escape(f"linkage of {len(at.bodies)} moving bodies, {linkage.full_travel.m_as('mm'):.0f} mm of travel")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH:.0f} {height:.0f}" width="{_WIDTH:.0f}" '
        f'style="max-width:100%" role="img" aria-label="{label}"><title>{label}</title>{"".join(parts)}</svg>'
    )


def _mechanism(self: _core.Mechanism) -> str:
    bodies = {name: " · ".join(points) for name, points in self.bodies.items()}
    places = {name: _shown(place) for name, place in self.points.items()}
    return _rows([*((f"body {name}", on) for name, on in bodies.items()), *places.items()])


def _bike(self: _core.Bike) -> str:
    rows = [("bike", self.name)]
    for end in self.ends:
        stated: Any = getattr(self, end)
        rows.append((f"{end}, travel", _shown(stated.full_travel)))
        main = sprung_by(stated).main_spring
        if main is not None:
            rows.append((f"{end}, spring", f"{_shown(main.rate)}, preload {_shown(main.preload)}"))
    rows.append(("readings", str(len(self.readings))))
    drawing = ""
    if "rear" in self.ends:
        try:
            drawing = mechanism(self.rear.linkage)
        except WheelrateError:
            drawing = ""
    return _rows(rows) + drawing


def attach() -> None:
    """Let notebooks show what has no display of its own yet."""
    for name in _POINTS:
        of: Any = getattr(_core, name)
        of._repr_html_ = _point
    pairs: tuple[tuple[Any, Any], ...] = (
        (_core.Uncertain, _uncertain),
        (_core.Linkage, _linkage),
        (_core.Mechanism, _mechanism),
        (_core.Bike, _bike),
    )
    for of, shown in pairs:
        of._repr_html_ = shown
