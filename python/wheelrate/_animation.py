"""A mechanism moving over its travel, as one SVG that needs no script: the browser interpolates between the poses."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, Any

from wheelrate import _core, _files
from wheelrate._mechanism import Drawn, Point, Pose, extent, linkage_of, pose

if TYPE_CHECKING:
    import os

# Poses over the travel: between two of them straight lines are off by less than the width of a stroke.
_POSES = 25
_WIDTH = 640
_MARGIN = 24.0
_GAUGE = 190.0
_GAUGE_HEIGHT = 150.0
_STYLE = (
    ".body{fill:#0072b2;fill-opacity:.14;stroke:#0072b2;stroke-width:2;stroke-linejoin:round}"
    ".coil{fill:none;stroke:#d55e00;stroke-width:1.8;stroke-linejoin:round}"
    ".ground{fill:#fff;stroke:#222;stroke-width:1.6}.joint{fill:#fff;stroke:#0072b2;stroke-width:1.4}"
    ".axle{fill:#222}.wheel,.path{fill:none;stroke:#999;stroke-width:1;stroke-dasharray:3 3}"
    ".curve{fill:none;stroke:#222;stroke-width:1.6}.grid{stroke:#ccc;stroke-width:1}"
    "text{font:12px system-ui,sans-serif;fill:#222}"
)


class Animation:
    """A mechanism moving over its travel; a notebook plays it, `save` keeps it as an SVG file."""

    def __init__(self, svg: str) -> None:
        self._svg = svg

    def _repr_html_(self) -> str:
        return self._svg

    def save(self, path: str | os.PathLike[str], *, force: bool = False) -> None:
        """Write the SVG file, which any browser plays.

        Parameters
        ----------
        path : str or path
            The file; a drawing or page of this package that is there is replaced.
        force : bool, optional
            Replace any other file, too.
        """
        _files.write(path, self._svg, force=force)


def animation(drawn: Drawn, *, seconds: float, wheel_radius: float | None) -> Animation:
    """Draw all poses and let the browser go through them, there and back."""
    linkage = linkage_of(drawn)
    travels = [linkage.full_travel * at / (_POSES - 1) for at in range(_POSES)]
    poses = [pose(linkage, travel) for travel in travels]
    return Animation(_Film(linkage, poses, travels, seconds, wheel_radius).svg())


class _Film:
    def __init__(
        self, linkage: Any, poses: list[Pose], travels: list[Any], seconds: float, wheel_radius: float | None
    ) -> None:
        self.poses, self.travels, self.seconds, self.radius = poses, travels, seconds, wheel_radius
        self.ratios = [float(linkage.at(travel).motion_ratio.m) for travel in travels]
        self.left, right, bottom, self.top = extent(poses, wheel_radius)
        self.scale = (_WIDTH - _GAUGE - 3 * _MARGIN) / (right - self.left)
        self.height = max((self.top - bottom) * self.scale, _GAUGE_HEIGHT + 3 * _MARGIN) + 2 * _MARGIN

    def svg(self) -> str:
        first = self.poses[0]
        parts = [f'<polyline class="path" points="{self._row([one.axle for one in self.poses])}"/>']
        for body in first.bodies:
            parts.append(self._moving("polygon", "body", [one.bodies[body] for one in self.poses]))
        parts.append(self._moving("polyline", "coil", [one.coil for one in self.poses]))
        parts += [self._dot("joint", [one.joints[name] for one in self.poses], 4.0) for name in first.joints]
        parts += [self._ground(place) for place in first.ground.values()]
        if self.radius:
            parts.append(self._dot("wheel", [one.axle for one in self.poses], self.radius * self.scale))
        parts.append(self._dot("axle", [one.axle for one in self.poses], 6.0))
        label = escape(f"The mechanism over {self.travels[-1].m_as('mm'):.0f} mm of travel")
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH} {self.height:.0f}" width="{_WIDTH}" '
            f'style="max-width:100%" role="img" aria-label="{label}">'
            f"<metadata>wheelrate {_core.__version__}</metadata><style>{_STYLE}</style>"
            + "".join([*parts, *self._gauge()])
            + "</svg>"
        )

    def _place(self, point: Point) -> tuple[float, float]:
        return _MARGIN + (point[0] - self.left) * self.scale, _MARGIN + (self.top - point[1]) * self.scale

    def _row(self, points: list[Point]) -> str:
        return " ".join(f"{x:.1f},{z:.1f}" for x, z in map(self._place, points))

    def _animate(self, attribute: str, values: list[str]) -> str:
        there_and_back = ";".join(values + values[-2::-1])
        return (
            f'<animate attributeName="{attribute}" values="{there_and_back}" dur="{self.seconds}s" '
            'repeatCount="indefinite"/>'
        )

    def _moving(self, shape: str, style: str, frames: list[list[Point]]) -> str:
        rows = [self._row(points) for points in frames]
        return f'<{shape} class="{style}" points="{rows[0]}">{self._animate("points", rows)}</{shape}>'

    def _dot(self, style: str, frames: list[Point], radius: float) -> str:
        return self._circle(style, [self._place(place) for place in frames], radius)

    def _circle(self, style: str, frames: list[tuple[float, float]], radius: float) -> str:
        x, y = ([f"{one:.1f}" for one in column] for column in zip(*frames, strict=True))
        moved = self._animate("cx", x) + self._animate("cy", y)
        return f'<circle class="{style}" cx="{x[0]}" cy="{y[0]}" r="{radius:.1f}">{moved}</circle>'

    def _ground(self, point: Point) -> str:
        x, y = self._place(point)
        foot = f'<path class="ground" d="M{x:.1f},{y:.1f}l-7,11h14z"/>'
        return f'{foot}<circle class="ground" cx="{x:.1f}" cy="{y:.1f}" r="3.5"/>'

    def _gauge(self) -> list[str]:
        """Draw the motion ratio over travel, with a dot where the mechanism is."""
        left, base = _WIDTH - _GAUGE - _MARGIN, 2 * _MARGIN + _GAUGE_HEIGHT
        full, least, most = self.travels[-1].m_as("mm"), min(self.ratios), max(self.ratios)
        spread = (most - least) or 1.0

        def place(travel: Any, ratio: float) -> tuple[float, float]:
            return left + _GAUGE * travel.m_as("mm") / full, base - _GAUGE_HEIGHT * (ratio - least) / spread

        places = [place(*pair) for pair in zip(self.travels, self.ratios, strict=True)]
        row = " ".join(f"{x:.1f},{y:.1f}" for x, y in places)
        return [
            f'<line class="grid" x1="{left}" y1="{base}" x2="{left + _GAUGE}" y2="{base}"/>',
            f'<polyline class="curve" points="{row}"/>',
            self._circle("axle", places, 4.5),
            f'<text x="{left}" y="{_MARGIN}">motion ratio {self.ratios[0]:.3f} to {self.ratios[-1]:.3f}</text>',
            f'<text x="{left}" y="{base + 16}">0</text>',
            f'<text x="{left + _GAUGE}" y="{base + 16}" text-anchor="end">{full:.0f} mm of wheel travel</text>',
        ]
