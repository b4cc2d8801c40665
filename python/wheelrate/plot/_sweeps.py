"""Sweeps in one picture: every design as a line over all columns, or one column over two others."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from wheelrate._extras import needed
from wheelrate._sweep_result import SweepResult
from wheelrate.errors import SweepError
from wheelrate.plot._axes import new_axes

if TYPE_CHECKING:
    from matplotlib.axes import Axes

# More lines than this are a carpet.
_MOST_LINES = 2_000
# Even to the eye, and readable without colours.
_COLOURS = "viridis"
# Levels of a contour: as many as a legend can name.
_LEVELS = 12


def parallel(
    result: SweepResult, names: Sequence[str] | None = None, *, colour: str | None = None, ax: Axes | None = None
) -> Axes:
    """Draw every design as a line over its columns, each column on a scale of its own.

    Parameters
    ----------
    result : SweepResult
        What to draw; of more than 2,000 designs, so many at even steps.
    names : list of str, optional
        Columns from left to right; all that hold one number a design unless given.
    colour : str, optional
        The column that colours the lines; the last unless given.
    ax : matplotlib.axes.Axes, optional
        Where to draw.

    Returns
    -------
    matplotlib.axes.Axes
    """
    collections = needed("matplotlib.collections", "plot", "a picture")

    names = list(names or (name for name in result.names if _is_number(result, name)))
    if len(names) < 2:
        raise SweepError(f"names: found {len(names)} of them, wanted 2 columns or more")
    columns, labels = zip(*(_numbers(result, name) for name in names), strict=True)
    by, by_label = _numbers(result, colour or names[-1])
    whole = np.flatnonzero(np.isfinite([*columns, by]).all(axis=0))
    if not len(whole):
        raise SweepError(f"result: found no design with a value in each of {', '.join(names)}, wanted one or more")
    rows = whole[:: -(-len(whole) // _MOST_LINES)]
    ends = [(column[whole].min(), column[whole].max()) for column in columns]
    scaled = [_scaled(column[rows], *end) for column, end in zip(columns, ends, strict=True)]
    ax = new_axes(ax)
    places = np.arange(len(names), dtype=float)
    lines = [np.column_stack([places, heights]) for heights in np.transpose(scaled)]
    drawn = collections.LineCollection(lines, cmap=_COLOURS, linewidth=0.7, alpha=0.6)
    drawn.set_array(by[rows])
    ax.add_collection(drawn)
    ax.set(xlim=(-0.2, len(names) - 0.8), ylim=(-0.08, 1.08))
    ax.set_xticks(places, labels, rotation=20, ha="right")
    ax.set_yticks([])
    for place, (low, high) in zip(places, ends, strict=True):
        ax.axvline(place, color="0.4", linewidth=0.8)
        for height, value, side in ((-0.02, low, "top"), (1.02, high, "bottom")):
            ax.text(place, height, f"{value:.4g}", ha="center", va=side, fontsize=8)
    ax.spines[["top", "right", "left"]].set_visible(False)
    ax.figure.colorbar(drawn, ax=ax, label=by_label)
    return ax


def contour(result: SweepResult, x: str, y: str, z: str, *, ax: Axes | None = None) -> Axes:
    """Draw one column of a sweep over two others, whatever its scheme.

    Parameters
    ----------
    result : SweepResult
        What to draw.
    x, y : str
        Columns along the axes.
    z : str
        The column that is drawn: lines of equal value over triangles between the designs.
    ax : matplotlib.axes.Axes, optional
        Where to draw.

    Returns
    -------
    matplotlib.axes.Axes
    """
    (across, x_label), (up, y_label), (height, z_label) = (_numbers(result, name) for name in (x, y, z))
    rows = np.isfinite([across, up, height]).all(axis=0)
    if np.unique(across[rows]).size < 2 or np.unique(up[rows]).size < 2:
        raise SweepError(f"result: found one value of {x} or {y}, wanted two of each or more")
    ax = new_axes(ax)
    filled = ax.tricontourf(across[rows], up[rows], height[rows], levels=_LEVELS, cmap=_COLOURS)
    ax.set(xlabel=x_label, ylabel=y_label)
    ax.spines[["top", "right"]].set_visible(False)
    ax.figure.colorbar(filled, ax=ax, label=z_label)
    return ax


def _is_number(result: SweepResult, name: str) -> bool:
    values = result._columns[name]
    return not isinstance(values, list) and np.ndim(values) == 1


def _numbers(result: SweepResult, name: str) -> tuple[Any, str]:
    """Give a column in the unit that results have, and its label."""
    column = result[name]
    if not _is_number(result, name):
        raise SweepError(f"{name}: found words or a row of values, wanted a column with one number a design")
    units = f"{column.units:~P}" if hasattr(column, "units") else ""
    return np.asarray(getattr(column, "magnitude", column)), f"{name}, {units}" if units else name


def _scaled(values: Any, low: float, high: float) -> Any:
    return (values - low) / (high - low) if high > low else np.full(len(values), 0.5)
