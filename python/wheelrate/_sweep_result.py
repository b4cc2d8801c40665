"""What came of a sweep: a column per address and per output, a row per design."""

from __future__ import annotations

import operator
from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np

from wheelrate import _parts
from wheelrate._core import Bike, Sweep
from wheelrate._extras import needed
from wheelrate._tables import cf, is_si, taken_to, units_of
from wheelrate.errors import SweepError

if TYPE_CHECKING:
    import os

    import pandas
    import polars
    import pyarrow
    import xarray

    from wheelrate.typing import Indices, Numbers

    Columns = Mapping[str, "Numbers | list[str]"]


class SweepResult:
    """What came of a sweep: a column per address and per output, a row per design.

    Made by `Bike.sweep`, or read from what was written with `load`. Sweeps that were written stay on the disk until a
    column is asked for.

    Numbers are quantities in ``result[name]``, and plain arrays in `columns` and in all that it becomes, in SI units
    unless another system is asked for.
    """

    _sweep: Sweep
    _designs: Indices
    _columns: Columns
    _reasons: Mapping[int, str]

    def __init__(self, sweep: Sweep, designs: Indices, columns: Columns, reasons: Mapping[int, str]) -> None:
        for values in (designs, *(columns.values() if isinstance(columns, dict) else ())):
            if isinstance(values, np.ndarray):
                values.setflags(write=False)
        if not (isinstance(columns, Mapping) and isinstance(reasons, Mapping)):
            raise TypeError(
                "a SweepResult comes from `bike.sweep` or `SweepResult.load`: found no columns or no reasons"
            )
        parts = {"_sweep": sweep, "_designs": designs, "_columns": columns, "_reasons": dict(reasons)}
        self.__dict__.update(parts)

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"a SweepResult cannot be changed: {name}")

    @staticmethod
    def load(path: str | os.PathLike[str]) -> SweepResult:
        """Read what a sweep has written: a Parquet file, or a folder of parts."""
        return _parts.load(path)

    @property
    def sweep(self) -> Sweep:
        """What was asked."""
        return self._sweep

    @property
    def reasons(self) -> dict[int, str]:
        """Why a design lacks an answer, by its index."""
        return dict(self._reasons)

    @property
    def names(self) -> list[str]:
        """Names of the columns: the addresses, then the outputs."""
        return [name for name, *_ in self.sweep.columns]

    @property
    def designs(self) -> Indices:
        """Index of the design in each row."""
        return self._designs

    @property
    def is_complete(self) -> bool:
        """Say whether every design of the sweep is here."""
        return len(self) == len(self.sweep)

    def __len__(self) -> int:
        return len(self._designs)

    def __getitem__(self, name: Any) -> Any:
        """Give a column (a quantity, a plain array, or a list of words), or the result over some of its rows."""
        if isinstance(name, slice):
            return self.take(range(len(self))[name])
        kind, _, _ = self._about(name)
        values = self._columns[name]
        if kind is None:
            return values
        from wheelrate._units import of_si

        return of_si(values, kind)

    def _about(self, name: str) -> tuple[str | None, str | None, int]:
        if not isinstance(name, str):
            raise TypeError(f"found {type(name).__name__}, wanted the name of a column, or a slice of rows")
        for known, kind, unit, width in self.sweep.columns:
            if known == name:
                return kind, unit, width
        raise SweepError(f"there is no column `{name}`; the columns are {', '.join(self.names)}", "Output")

    def design(self, row: int) -> Bike:
        """Give the bike of one row."""
        return self.sweep.design(int(self._designs[operator.index(row)]))

    def columns(self, units: str = "si") -> dict[str, Numbers | list[str]]:
        """Give all columns as plain arrays, the unit in each name: for a data frame or a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.
        """
        return {_titled(name, unit): values for name, unit, values in self._in(units)}

    def _in(self, units: str) -> list[tuple[str, str | None, Any]]:
        """Give name, unit and values of every column in a system of units."""
        symbols = units_of(units)
        return [
            (name, unit if kind is None else symbols[kind], taken_to(self._columns[name], kind, units))
            for name, kind, unit, _ in self.sweep.columns
        ]

    @property
    def reason(self) -> list[str | None]:
        """Why each row lacks an answer; None where it lacks none."""
        return [self._reasons.get(int(index)) for index in self._designs]

    def take(self, rows: Sequence[int] | Indices) -> SweepResult:
        """Give some of the rows, by number or by a mask, in that order."""
        try:
            given = np.asarray(rows)
        except ValueError as error:
            raise TypeError(f"rows: {error}") from None
        if given.dtype.kind not in "biu" and given.size:
            raise TypeError(f"rows: found numbers of type {given.dtype}, wanted numbers of rows, or a mask of them")
        places = np.flatnonzero(given) if given.dtype == bool else given.astype(np.int64)
        kept = {name: _taken(self._columns[name], places) for name in self.names}
        designs = self._designs[places]
        reasons = {int(index): self._reasons[int(index)] for index in designs if int(index) in self._reasons}
        return SweepResult(self.sweep, designs, kept, reasons)

    def pareto(self, wanted: Sequence[str] | Mapping[str, str]) -> SweepResult:
        """Give the designs that no other beats: none is as good in everything wanted and better in something.

        Parameters
        ----------
        wanted : list of str, or dict of str to {"most", "least"}
            Names of columns; in a list most of each is wanted, or least where a minus stands before the name.

        Returns
        -------
        SweepResult
            Those designs, by the first of the columns; designs that lack a value are not among them.

        Examples
        --------
        >>> import wheelrate as wr
        >>> axes = {"rear.shock.spring.rate": ["50 N/mm", "54 N/mm", "58 N/mm"]}
        >>> result = wr.demo().sweep(axes, ["rear.chance", "rear.full_force"])
        >>> len(result.pareto(["rear.chance", "-rear.full_force"])) <= 3
        True
        """
        if not isinstance(wanted, Mapping):
            if isinstance(wanted, str) or not all(isinstance(name, str) for name in wanted):
                raise TypeError("wanted: found something else than names of columns in a list, or a dict of them")
            wanted = {name.removeprefix("-"): "least" if name.startswith("-") else "most" for name in wanted}
        signs = {"most": -1.0, "least": 1.0}
        costs = []
        for name, way in wanted.items():
            _, _, width = self._about(name)
            if way not in signs or width != 1:
                raise SweepError(f"{name}: found {way!r}, wanted `most` or `least` of a column with one value a design")
            costs.append(signs[way] * np.asarray(self._columns[name], dtype=float))
        if not costs:
            raise SweepError("pareto: found no column, wanted the name of one or more", "Empty")
        return self.take(_front(np.stack(costs, axis=1)))

    def to_arrow(self, units: str = "si") -> pyarrow.Table:
        """Give all columns as an Arrow table, the unit in each name, kind and unit in the metadata; as `columns`."""
        columns = self._columns if is_si(units) else {name: values for name, _, values in self._in(units)}
        return _parts.table(self.sweep, self._designs, columns, self._reasons, units_of(units))

    def to_pandas(self, units: str = "si") -> pandas.DataFrame:
        """Give all columns as a pandas frame, in SI units or those asked for; a row of values stands in one cell."""
        pandas = needed("pandas", "sweep", "`to_pandas`")
        columns = {name: _cells(values) for name, values in self.columns(units).items()}
        frame = pandas.DataFrame(columns, index=self._designs)
        frame["reason"] = pandas.Series(self.reason, index=frame.index, dtype=object)
        frame.index.name = "design"
        frame.attrs["units"] = {_titled(name, unit): unit for name, unit, _ in self._in(units)}
        return frame

    def to_polars(self, units: str = "si") -> polars.DataFrame:
        """Give all columns as a polars frame, in SI units unless asked for others, the unit in each name."""
        polars = needed("polars", "sweep", "`to_polars`")
        columns = {name: _cells(values) for name, values in self.columns(units).items()}
        reason = polars.Series("reason", self.reason, dtype=polars.String)
        return polars.DataFrame({"design": self._designs, **columns}).with_columns(reason)

    def to_xarray(self, units: str = "si") -> xarray.Dataset:
        """Give a whole grid as an xarray data set, as `columns`: a dimension per address, CF ``units`` in ``attrs``."""
        xarray = needed("xarray", "sweep", "`to_xarray`")
        shape = self.sweep.shape
        if self.sweep.scheme != "grid" or not self.is_complete:
            raise SweepError(
                f"to_xarray: found {len(self)} designs of a {self.sweep.scheme} of {len(self.sweep)}, wanted a whole "
                "grid: use to_pandas, to_polars or to_arrow"
            )
        addresses = self.sweep.addresses
        coordinates, data = {}, {}
        widths = {name: width for name, _, _, width in self.sweep.columns}
        for name, unit, column in self._in(units):
            width = widths[name]
            attrs = {"units": cf(unit)} if unit else {}
            if name in addresses:
                place = addresses.index(name)
                along = np.reshape(np.asarray(column, dtype=object if unit is None else None), shape)
                values = np.moveaxis(along, place, 0).reshape(shape[place], -1)[:, 0]
                coordinates[name] = (name, values, attrs)
            else:
                rows = (*addresses, "point") if width > 1 else tuple(addresses)
                values = np.reshape(column, (*shape, width) if width > 1 else shape)
                data[name] = (rows, values, attrs)
        reason = np.reshape(np.array([text or "" for text in self.reason], dtype=object), shape)
        data["reason"] = (tuple(addresses), reason, {})
        return xarray.Dataset(data, coordinates)

    def save(self, path: str | os.PathLike[str]) -> None:
        """Write all columns to a Parquet file, or to CSV where the name ends in ``.csv``."""
        _parts.save(self, path)

    def _repr_html_(self) -> str:
        from html import escape

        most = 10
        head = ["design", *self.columns(), *(["reason"] if self._reasons else [])]
        cells = [f"<th>{escape(name)}</th>" for name in head]
        rows = []
        for row in range(min(most, len(self))):
            values = [self._columns[name][row] for name in self.names]
            shown = [
                value if isinstance(value, str) else np.array2string(np.asarray(value), precision=5, threshold=4)
                for value in values
            ]
            reason = [self._reasons.get(int(self._designs[row]), "")] if self._reasons else []
            rows.append("".join(f"<td>{escape(str(cell))}</td>" for cell in [int(self._designs[row]), *shown, *reason]))
        body = "".join(f"<tr>{row}</tr>" for row in rows)
        return f"<table><tr>{''.join(cells)}</tr>{body}</table><p>{escape(repr(self))}</p>"

    def __repr__(self) -> str:
        lacking = f", {len(self._reasons)} lack an answer" if self._reasons else ""
        return f"SweepResult({len(self)} of {len(self.sweep)} designs{lacking}: {', '.join(self.names)})"

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, SweepResult):
            return NotImplemented
        alike = self.sweep == other.sweep and np.array_equal(self._designs, other._designs)
        return (
            alike
            and self._reasons == other._reasons
            and all(_same(self._columns[name], other._columns[name]) for name in self.names)
        )

    @cached_property
    def _hash(self) -> int:
        return hash((hash(self.sweep), len(self), tuple(sorted(self._reasons))))

    def __hash__(self) -> int:
        return self._hash

    def __reduce__(self) -> Any:
        columns = {name: self._columns[name] for name in self.names}
        return SweepResult, (self.sweep, self._designs, columns, self.reasons)


SweepResult.__module__ = "wheelrate"


def _front(costs: Numbers) -> Indices:
    """Find the rows that no other row beats, least of each cost wanted, by the first cost."""
    rows = np.flatnonzero(np.isfinite(costs).all(axis=1))
    rows = rows[np.lexsort(costs[rows].T[::-1])]
    kept: list[Indices] = []
    while len(rows):
        # By the first cost, then the next: nothing that is left beats the first row.
        no_better = (costs[rows] >= costs[rows[0]]).all(axis=1)
        alike = (costs[rows] == costs[rows[0]]).all(axis=1)
        kept.append(rows[alike])
        rows = rows[~no_better]
    return np.concatenate(kept) if kept else np.empty(0, dtype=np.int64)


def _taken(values: Any, rows: Indices) -> Any:
    return [values[row] for row in rows] if isinstance(values, list) else np.asarray(values)[rows]


def _cells(values: Any) -> Any:
    return list(values) if np.ndim(values) > 1 else values


def _same(one: Any, other: Any) -> bool:
    if isinstance(one, list) or isinstance(other, list):
        return list(one) == list(other)
    return np.array_equal(one, other, equal_nan=True)


def _titled(name: str, unit: str | None) -> str:
    return name if unit is None else f"{name} [{unit}]"
