"""What the pictures have in common: styles, a new figure, one thing or several by name, plain axes."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any, TypeVar

from wheelrate._extras import needed
from wheelrate.errors import BikeError

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from wheelrate._core import Bike

T = TypeVar("T")

# Distinct to colour-blind eyes and on grey paper: Okabe and Ito's palette, and dashes.
STYLES: list[dict[str, Any]] = [
    {"color": "#0072b2", "linestyle": "-"},
    {"color": "#d55e00", "linestyle": "--"},
    {"color": "#009e73", "linestyle": "-."},
    {"color": "#000000", "linestyle": ":"},
    {"color": "#cc79a7", "linestyle": (0, (5, 1))},
]
# Marks for points, apart in shape as the lines are in dashes.
MARKS = ("o", "s", "^", "D", "v")
# What is wanted, and what stands now: apart in shade, and in what is written on them.
WANTED, INK, SOFT = "#009e73", "0.1", "0.4"
SMALL = 8.5


def part_of_sheet(bike: Bike, end: str) -> Any:
    """Give what the sheet says of an end, as data; nothing where the bike has no such end."""
    return next((part for part in json.loads(bike.sheet().to_json())["ends"] if part["end"] == end), None)


def pyplot() -> Any:
    """Load what draws."""
    return needed("matplotlib.pyplot", "plot", "`wheelrate.plot`")


def new_axes(ax: Axes | None, size: tuple[float, float] = (6.0, 3.7)) -> Axes:
    """Give axes to draw on: new ones unless given."""
    return pyplot().subplots(figsize=size, layout="constrained")[1] if ax is None else ax


def styled(given: T | Mapping[str, T]) -> Iterator[tuple[str | None, T, dict[str, Any]]]:
    """Go through one thing, or several by name: name, thing, style of its lines."""
    named: Mapping[Any, T] = given if isinstance(given, Mapping) else {None: given}
    for index, (name, one) in enumerate(named.items()):
        yield name, one, {"label": name, "linewidth": 1.8, **STYLES[index % len(STYLES)]}


def plain(ax: Axes, x: str, y: str, *, legend: bool) -> None:
    """Label axes and keep them quiet."""
    ax.set_xlabel(x)
    ax.set_ylabel(y)
    ax.margins(x=0)
    ax.grid(color="0.88", linewidth=0.6)
    ax.set_axisbelow(True)
    ax.spines[["top", "right"]].set_visible(False)
    if legend:
        ax.legend(frameon=False)


def end_of(bike: Bike, end: str) -> Any:
    """Find an end of a bike by its name."""
    if end not in bike.ends:
        found = ", ".join(bike.ends) or "none"
        raise BikeError(f"end: found `{end}`, wanted an end that the bike has ({found})", "Choice", {"field": "end"})
    return getattr(bike, end)
