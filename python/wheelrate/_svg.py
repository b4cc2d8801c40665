"""Curves as small inline SVG: ticks at round numbers, labels at the curves themselves, colours left to the page."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from html import escape

WIDTH, HEIGHT = 440, 280
LEFT, RIGHT, TOP, BOTTOM = 40, 12, 8, 38


@dataclass(frozen=True)
class Line:
    """A curve with its name; ``style`` is a class of the page."""

    name: str
    x: Sequence[float]
    y: Sequence[float]
    style: str
    band: float = 0.0


@dataclass(frozen=True)
class Mark:
    """A point on a curve, led to both axes."""

    name: str
    x: float
    y: float


@dataclass(frozen=True)
class Range:
    """A range of x that is wanted."""

    name: str
    start: float
    end: float


@dataclass(frozen=True)
class Chart:
    """A picture of curves over one axis."""

    title: str
    x_label: str
    lines: Sequence[Line]
    marks: Sequence[Mark] = ()
    ranges: Sequence[Range] = ()
    y_most: float | None = None
    height: int = HEIGHT
    _x: tuple[float, float] = field(init=False, default=(0.0, 1.0))
    _y: tuple[float, float] = field(init=False, default=(0.0, 1.0))

    def svg(self) -> str:
        """Write it."""
        x_most = max(max(line.x) for line in self.lines)
        lowest = min(0.0, *(min(line.y) for line in self.lines))
        highest = self.y_most or max(max(line.y) + line.band for line in self.lines)
        x_ticks, y_ticks = ticks(0.0, x_most), ticks(lowest, highest)
        object.__setattr__(self, "_x", (0.0, x_most))
        object.__setattr__(self, "_y", (y_ticks[0], max(y_ticks[-1], highest)))
        frame = f'x="{LEFT}" y="{TOP}" width="{WIDTH - LEFT - RIGHT}" height="{self.height - TOP - BOTTOM}"'
        view = f'viewBox="{LEFT} {TOP} {WIDTH - LEFT - RIGHT} {self.height - TOP - BOTTOM}"'
        clipped = ["<svg ", frame, " ", view, ">", *self._ranges(), *self._curves(), "</svg>"]
        body = [*self._grid(x_ticks, y_ticks), *clipped, *self._marks()]
        return (
            f'<svg viewBox="0 0 {WIDTH} {self.height}" role="img" aria-label="{escape(self.title)}">'
            f"<title>{escape(self.title)}</title>{''.join(body)}</svg>"
        )

    def _at_x(self, x: float) -> float:
        low, high = self._x
        return LEFT + (x - low) / (high - low) * (WIDTH - LEFT - RIGHT)

    def _at_y(self, y: float) -> float:
        low, high = self._y
        return self.height - BOTTOM - (y - low) / (high - low) * (self.height - TOP - BOTTOM)

    def _grid(self, x_ticks: list[float], y_ticks: list[float]) -> list[str]:
        left, right = LEFT, WIDTH - RIGHT
        bottom = self.height - BOTTOM
        parts = []
        for y in y_ticks:
            at = self._at_y(y)
            parts.append(f'<path class="grid" d="M{left} {at:.1f}H{right}"/>')
            parts.append(text(left - 7, at + 3.5, number(y, y_ticks), "tick", "end"))
        for x in x_ticks:
            at = self._at_x(x)
            parts.append(f'<path class="axis" d="M{at:.1f} {bottom}v4"/>')
            parts.append(text(at, bottom + 16, number(x, x_ticks), "tick", "middle"))
        parts.append(f'<path class="axis" d="M{left} {bottom}H{right}"/>')
        parts.append(text(right, bottom + 33, self.x_label, "label", "end"))
        return parts

    def _curves(self) -> list[str]:
        parts = []
        for line in self.lines:
            if line.band:
                edge = self._shifted(line, line.band) + self._shifted(line, -line.band)[::-1]
                parts.append(f'<path class="band {line.style}" d="{path(edge)}Z"/>')
            parts.append(f'<path class="curve {line.style}" d="{path(self._shifted(line, 0.0))}"/>')
        return parts

    def _shifted(self, line: Line, by: float) -> list[tuple[float, float]]:
        return [(self._at_x(x), self._at_y(y + by)) for x, y in zip(line.x, line.y, strict=True)]

    def _marks(self) -> list[str]:
        parts = []
        for mark in self.marks:
            x, y = self._at_x(mark.x), self._at_y(mark.y)
            parts.append(f'<path class="lead" d="M{LEFT} {y:.1f}H{x:.1f}V{self.height - BOTTOM}"/>')
            parts.append(f'<circle class="mark" cx="{x:.1f}" cy="{y:.1f}" r="4"/>')
            parts.append(text(x + 9, y + 13, mark.name, "note", "start"))
        return parts

    def _ranges(self) -> list[str]:
        parts = []
        for wanted in self.ranges:
            start, end = self._at_x(wanted.start), self._at_x(wanted.end)
            top, bottom = TOP, self.height - BOTTOM
            parts.append(f'<path class="wanted" d="M{start:.1f} {top}H{end:.1f}V{bottom}H{start:.1f}Z"/>')
            parts.append(text((start + end) / 2, top + 13, wanted.name, "wish", "middle"))
        return parts


def path(points: Sequence[tuple[float, float]]) -> str:
    """Write points as the data of a path, tenths of a pixel being enough."""
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)


def text(x: float, y: float, words: str, style: str, anchor: str) -> str:
    """Write words at a place."""
    return f'<text class="{style}" x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(words)}</text>'


def ticks(low: float, high: float, about: int = 6) -> list[float]:
    """Round numbers that cover a range, 1, 2 or 5 times a power of ten apart."""
    span = high - low
    if span <= 0:
        return [low]
    rough = span / about
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(factor * power for factor in (1, 2, 5, 10) if factor * power >= rough * 0.999)
    first, last = math.floor(low / step + 1e-9), math.floor(high / step + 1e-9)
    return [index * step for index in range(first, last + 1)]


def number(value: float, among: Sequence[float]) -> str:
    """Write a tick with the decimals that its neighbours need."""
    step = abs(among[1] - among[0]) if len(among) > 1 else abs(value) or 1.0
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    return f"{value + 0.0:.{decimals}f}"
