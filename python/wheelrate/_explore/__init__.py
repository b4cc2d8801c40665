"""A bike on a desk: pivots under the mouse, settings on sliders, readings typed in; in a notebook and in a browser."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from wheelrate._core import Bike


def explore(bike: Bike | str | os.PathLike[str], *, units: str = "metric") -> Any:
    """Put a bike under the mouse: drag a pivot, set springs, preload, oil and ride height, type readings in.

    What the readings found is carried into whatever is tried, as `Bike.what_if` does, and never fitted again. Needs
    anywidget: ``pip install "wheelrate[explore]"``.

    Parameters
    ----------
    bike : Bike, str or path
        A bike, or the bike file of one, into which the widget can save.
    units : {"metric", "kilogram-force", "inch"}, optional
        Units of what is shown.

    Returns
    -------
    anywidget.AnyWidget
        Shown by a notebook; its ``bike`` is the bike as it is supposed at the moment.

    Examples
    --------
    >>> import wheelrate as wr
    >>> shown = wr.explore(wr.demo())
    >>> shown.bike == wr.demo()
    True
    """
    from wheelrate._explore.widget import widget

    return widget(bike, units)
