"""What the pictures have in common: styles, a new figure, plain axes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from wheelrate._extras import needed

if TYPE_CHECKING:
    from matplotlib.axes import Axes

# Distinct to colour-blind eyes and on grey paper: Okabe and Ito's palette, and dashes.
STYLES: list[dict[str, Any]] = [
    {"color": "#0072b2", "linestyle": "-"},
    {"color": "#d55e00", "linestyle": "--"},
    {"color": "#009e73", "linestyle": "-."},
    {"color": "#000000", "linestyle": ":"},
    {"color": "#cc79a7", "linestyle": (0, (5, 1))},
]


def new_axes(ax: Axes | None) -> Axes:
    plt = needed("matplotlib.pyplot", "plot", "a picture")

    return plt.subplots(figsize=(6.0, 3.7), layout="constrained")[1] if ax is None else ax


def plain(ax: Axes, x: str, y: str, *, legend: bool) -> None:
    ax.set_xlabel(x)
    ax.set_ylabel(y)
    ax.margins(x=0)
    ax.grid(color="0.88", linewidth=0.6)
    ax.set_axisbelow(True)
    ax.spines[["top", "right"]].set_visible(False)
    if legend:
        ax.legend(frameon=False)
