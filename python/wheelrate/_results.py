"""Results as data: which results have rows, what their columns are, and the methods that all of them have.

The classes come from the bindings; what is here is attached to them once, so that every result with rows goes the
same ways: `columns`, `to_pandas`, `to_polars`, `to_xarray`, `to_arrow`, `len`, ``result["travel"]``,
``result[10:20]``, `numpy.asarray`, and a table in a notebook. A result with a column more needs a word more in the
list here; a test walks over all classes and finds what was forgotten.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np

from wheelrate import _core
from wheelrate._tables import Column, Table, factor, titled

if TYPE_CHECKING:
    import pandas
    import polars
    import pyarrow
    import xarray

    from wheelrate.typing import Numbers

# What a prompt shows of a column: rows of a short one, rows at either end of a longer one.
_LONGEST, _AT_EITHER_END = 12, 3

_CURVE = {"stroke": "length", "motion_ratio": "motion ratio"}
_SLOPE = {"motion_ratio_slope": "motion ratio slope"}

#: Results whose columns are arrays of their own, the first the one that the others are over.
ROWS: dict[str, dict[str, str | None]] = {
    "AxialCurve": {"stroke": "length", "force": "force", "rate": "spring rate", "energy": "energy"},
    "WheelCurve": {
        "travel": "length",
        **_CURVE,
        "leverage_ratio": "leverage ratio",
        **_SLOPE,
        "axial_force": "force",
        "axial_rate": "spring rate",
        "wheel_force": "force",
        "wheel_rate": "wheel rate",
        "energy": "energy",
    },
    "LinkageCurve": {
        "travel": "length",
        **_CURVE,
        **_SLOPE,
        "axle_x": "length",
        "axle_z": "length",
        "leverage_ratio": "leverage ratio",
        "axle_slope": None,
    },
    "UncertainCurve": {
        "travel": "length",
        "stroke": "length",
        "stroke_uncertainty": "length",
        "motion_ratio": "motion ratio",
        "motion_ratio_uncertainty": "motion ratio",
        "motion_ratio_slope": "motion ratio slope",
        "motion_ratio_slope_uncertainty": "motion ratio slope",
    },
    "UncertainWheelCurve": {
        "travel": "length",
        "wheel_force": "force",
        "wheel_force_uncertainty": "force",
        "wheel_rate": "wheel rate",
        "wheel_rate_uncertainty": "wheel rate",
    },
    "Squat": {
        "travel": "length",
        "anti_squat": "share",
        "squat_ratio": None,
        "squat_angle": "angle",
        "chain_angle": "angle",
        "swingarm_angle": "angle",
    },
    "DescentState": {
        "time": "time",
        "temperature": "temperature",
        "pressure": "share",
        "force": "force",
        "force_uncertainty": "force",
        "travel": "length",
        "travel_uncertainty": "length",
        "reserve": "energy",
        "reserve_uncertainty": "energy",
    },
    "BushLoads": {
        "stroke": "length",
        "travel": "length",
        "overlap": "length",
        "load": "force",
        "upper": "force",
        "upper_other": "force",
        "lower": "force",
        "lower_other": "force",
        "friction": "force",
        "friction_uncertainty": "force",
        "load_in": "force",
        "load_out": "force",
        "friction_at_wheel": "force",
        "friction_at_wheel_uncertainty": "force",
    },
    "AntiRise": {"travel": "length", "anti_rise": "share", "brake_angle": "angle"},
    "AntiDiveCurve": {"travel": "length", "anti_dive": "share", "brake_angle": "angle"},
    "SteeringAxis": {"travel": "length", "rake": "angle", "fork_offset": "length", "trail": "length"},
    "ChainRun": {
        "travel": "length",
        "growth": "length",
        "slack": "length",
        "play": "length",
        "wheel_turn": "angle",
    },
    "DampingCurve": {
        "travel": "length",
        "motion_ratio": "motion ratio",
        "wheel_rate": "wheel rate",
        "compression": "damping rate",
        "rebound": "damping rate",
        "compression_ratio": "share",
        "rebound_ratio": "share",
        "damping_ratio": "share",
        "damping_ratio_uncertainty": "share",
    },
    "QuarterResponse": {
        "frequency": "frequency",
        "body": "share",
        "wheel": "share",
        "travel": "share",
        "tyre_force": "wheel rate",
    },
    "MassShares": {"travel": "length", "inertia": "mass", "gravity": "mass"},
    "EndMotion": {
        "time": "time",
        "travel": "length",
        "wheel_rise": "length",
        "body_rise": "length",
        "wheel_force": "force",
        "tyre_force": "force",
    },
    "BikeMotion": {
        "time": "time",
        "body_rise": "length",
        "rider_rise": "length",
        "pitch": "angle",
        "deceleration": "acceleration",
    },
    "BikeMotionEnd": {"travel": "length", "wheel_force": "force", "tyre_force": "force"},
    "Comparison": {
        "names": None,
        "full_travel": "length",
        "motion_ratio_start": "motion ratio",
        "motion_ratio_end": "motion ratio",
        "leverage_ratio_start": "leverage ratio",
        "leverage_ratio_end": "leverage ratio",
        "progression": "share",
        "sag": "length",
        "motion_ratio_at_sag": "motion ratio",
        "wheel_rate_at_sag": "wheel rate",
        "end_force": "force",
        "stroke_left": "length",
        "spring_for_same_sag": "spring rate",
        "ride_height_change": "length",
    },
    "LinkageEffects": {
        "dimensions": None,
        "step": "length",
        "stroke": "length",
        "motion_ratio": "motion ratio",
        **_SLOPE,
        "axle_x": "length",
        "axle_z": "length",
        "full_travel": "length",
    },
    "WheelEffects": {"dimensions": None, "step": "length", "wheel_force": "force", "wheel_rate": "wheel rate"},
    "EndEffects": {
        "dimensions": None,
        "step": "length",
        "wheel_force": "force",
        "wheel_rate": "wheel rate",
        "sag": "length",
        "ride_height": "length",
        "wheel_rate_at_sag": "wheel rate",
    },
}


def _si(quantity: Any, kind: str) -> Any:
    """Take a result to SI units."""
    numerator, denominator, offset = factor(kind)
    return np.asarray(quantity.m, dtype=float) * numerator / denominator + offset


def _of_arrays(result: Any) -> Table:
    kinds = ROWS[type(result).__name__].items()
    columns = (Column(column, kind, values) for (column, kind), values in zip(kinds, result._rows(), strict=True))
    return Table(tuple(columns))


@cache
def _titles(result: str) -> tuple[str, ...] | None:
    """Name the columns of a class of results with their SI units; nothing where rows are made in another way."""
    kinds = ROWS.get(result)
    return None if kinds is None else tuple(titled(column, kind, "si") for column, kind in kinds.items())


def _pair(name: str, kind: str, numbers: list[Any]) -> list[Column]:
    """Make two columns of uncertain numbers, or of what is missing: the values and their standard uncertainties."""

    def part(attribute: str) -> Numbers:
        return np.array([np.nan if one is None else _si(getattr(one, attribute), kind) for one in numbers], dtype=float)

    return [Column(name, kind, part("value")), Column(f"{name}_uncertainty", kind, part("standard_uncertainty"))]


def _of_fit(fit: _core.Fit) -> Table:
    """Make one row of what a fit found, so that fits of many bikes stack."""
    columns = [
        Column("end", None, [fit.end]),
        *_pair("rate", "spring rate", [fit.rate]),
        *_pair("preload", "length", [fit.preload]),
        *_pair("friction", "force", [fit.friction]),
    ]
    for load in fit.loads:
        columns += _pair(f"sag_{load.load.replace(' + ', '_')}", "length", [load.sag])
    return Table(tuple(columns))


def _of_decision(decision: _core.Decision) -> Table:
    """Make a row of each spring that was weighed, best first."""
    choices = decision.choices
    columns = [
        Column("rate", "spring rate", np.array([_si(one.rate, "spring rate") for one in choices], dtype=float)),
        Column("is_fitted", None, np.array([float(one.is_fitted) for one in choices])),
        Column("probability", "share", np.array([_si(one.probability, "share") for one in choices], dtype=float)),
    ]
    kinds = {
        "preload": "length",
        "free_sag": "length",
        "rider_sag": "length",
        "wheel_rate": "wheel rate",
        "ride_frequency": "frequency",
        "full_force": "force",
    }
    for name, kind in kinds.items():
        columns += _pair(name, kind, [getattr(one, name) for one in choices])
    return Table((*columns, Column("remark", None, [one.remark for one in choices])))


def _of_history(history: _core.EndHistory) -> Table:
    """Make a row of each set of readings."""
    sets = history.sets
    columns = [Column("date", None, [one.date or "" for one in sets])]
    kinds = {
        "rate": "spring rate",
        "preload": "length",
        "friction": "force",
        "free_sag": "length",
        "rider_sag": "length",
    }
    for name, kind in kinds.items():
        columns += _pair(name, kind, [getattr(one, name) for one in sets])
    return Table(tuple(columns))


#: Results that are made into rows in a way of their own.
MADE: dict[str, Callable[[Any], Table]] = {"Fit": _of_fit, "Decision": _of_decision, "EndHistory": _of_history}


def table(result: Any) -> Table:
    """Make the table of a result."""
    return MADE.get(type(result).__name__, _of_arrays)(result)


def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
    """Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

    Parameters
    ----------
    units : {"si", "metric", "kilogram-force", "inch"}, optional
        Units of what comes back.

    Returns
    -------
    dict of str to array
        Words as lists.

    Examples
    --------
    >>> import wheelrate as wr
    >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
    >>> print(columns["motion_ratio [shock/wheel]"].round(3))
    [0.343 0.377]
    """
    if isinstance(units, str) and units == "si":
        titles = _titles(type(self).__name__)
        if titles is not None:
            return dict(zip(titles, self._rows(), strict=True))
    return table(self).titled(units)


def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
    """Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

    Parameters
    ----------
    units : {"si", "metric", "kilogram-force", "inch"}, optional
        Units of what comes back.

    Returns
    -------
    pandas.DataFrame
    """
    return table(self).pandas(units)


def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
    """Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

    Parameters
    ----------
    units : {"si", "metric", "kilogram-force", "inch"}, optional
        Units of what comes back.

    Returns
    -------
    polars.DataFrame
    """
    return table(self).polars(units)


def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
    """Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

    Parameters
    ----------
    units : {"si", "metric", "kilogram-force", "inch"}, optional
        Units of what comes back.

    Returns
    -------
    xarray.Dataset
    """
    return table(self).xarray(units)


def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
    """Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

    Parameters
    ----------
    units : {"si", "metric", "kilogram-force", "inch"}, optional
        Units of what comes back.

    Returns
    -------
    pyarrow.Table
    """
    return table(self).arrow(units)


def _array(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers:
    if copy is False:
        raise ValueError("a result is not kept as one array: it cannot be had without a copy")
    return np.asarray(table(self).numbers(), dtype=dtype)


def _length(self: Any) -> int:
    return len(getattr(self, next(iter(ROWS[type(self).__name__]))))


def _item(self: Any, key: Any) -> Any:
    """Give a column by its name, a row by its number, or the result over some of its rows."""
    names = list(ROWS[type(self).__name__])
    if isinstance(key, str):
        if key not in names:
            raise KeyError(f"there is no column `{key}`; the columns are {', '.join(names)}")
        return getattr(self, key)
    if isinstance(key, slice):
        return _stretch(self, key)
    row = range(len(self))[key]
    return {name: getattr(self, name)[row] for name in names}


def _stretch(self: Any, rows: slice) -> Any:
    """Make the same result over fewer rows, of its own text; what is said of the whole of it stays."""
    _, (text,) = self.__reduce__()
    kept, many = json.loads(text), len(self)

    def cut(value: Any) -> Any:
        return value[rows] if isinstance(value, list) and len(value) == many else value

    shorter = cut(kept) if isinstance(kept, list) else {name: cut(value) for name, value in kept.items()}
    return type(self)._from_json(json.dumps(shorter))


def _rows(self: Any) -> Iterator[dict[str, Any]]:
    return (_item(self, row) for row in range(len(self)))


def _html(self: Any) -> str:
    return table(self).html()


def _in_short(whole: Callable[[Any], str]) -> Callable[[Any], str]:
    """Show of long columns the first and the last rows."""

    def shown(self: Any) -> str:
        with np.printoptions(threshold=_LONGEST, edgeitems=_AT_EITHER_END):
            return whole(self)

    return shown


_WAYS_OUT = (columns, to_pandas, to_polars, to_xarray, to_arrow)
#: Results over one axis, which may be cut and counted.
_ROW_WAYS = {"__len__": _length, "__getitem__": _item, "__iter__": _rows, "__array__": _array}


def attach() -> None:
    """Give every result with rows its ways out."""
    for name in (*ROWS, *MADE):
        of: Any = getattr(_core, name)
        for way in _WAYS_OUT:
            setattr(of, way.__name__, way)
        if name in ROWS:
            for special, method in _ROW_WAYS.items():
                setattr(of, special, method)
            of.__repr__ = _in_short(of.__repr__)
        if "_repr_html_" not in vars(of):
            of._repr_html_ = _html
