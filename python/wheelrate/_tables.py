"""One table for every result that has rows: columns in a system of units, and what data frames make of them.

A table knows its columns by name and kind; the first says what a row is of. Units are SI unless another system is
asked for, as those of sweeps are. Every way out carries its units: NumPy and polars in the name (``travel [m]``),
pandas in ``attrs["units"]``, xarray in ``attrs`` of each variable in the spelling that pint-xarray reads, Arrow in
the metadata of each field, which Parquet keeps. The packages are loaded on first need.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from html import escape
from typing import TYPE_CHECKING, Any

import numpy as np

from wheelrate._core import unit_symbols, unit_tables
from wheelrate._extras import needed
from wheelrate.errors import UnitError

if TYPE_CHECKING:
    import pandas
    import polars
    import pyarrow
    import xarray

    from wheelrate.typing import Numbers

SYSTEMS = ("si", "metric", "kilogram-force", "inch")
# Rows that a notebook shows of a longer table: the first and the last of them.
_SHOWN = 10


@dataclass(frozen=True)
class Column:
    """A column: numbers of one kind in SI units, numbers without a dimension, or words."""

    name: str
    kind: str | None
    values: Any

    @property
    def is_words(self) -> bool:
        """Say whether it holds words."""
        return isinstance(self.values, list)


def is_si(system: str) -> bool:
    """Say whether units are SI; what is no system of units is refused."""
    if not isinstance(system, str) or system not in SYSTEMS:
        message = f"units: found {system!r}, wanted one of {', '.join(SYSTEMS)}"
        raise UnitError(message, "Choice", {"field": "units", "found": str(system)})
    return system == "si"


@cache
def units_of(system: str) -> dict[str, str]:
    """Find the unit of every kind in a system."""
    if not is_si(system):
        return unit_symbols(system)
    return {
        kind: next(
            symbol for symbol, _, numerator, denominator, offset in rows if numerator == denominator and not offset
        )
        for kind, rows in unit_tables()
    }


@cache
def factor(kind: str, symbol: str | None = None) -> tuple[float, float, float]:
    """Find numerator, denominator and offset that bring a unit to SI; without a unit, that of results of this kind."""
    rows = dict(unit_tables())[kind]
    return next((row[2], row[3], row[4]) for row in rows if symbol in (None, row[0]))


def taken_to(values: Any, kind: str | None, system: str) -> Any:
    """Take numbers in SI units to a system; those without a dimension are as they are."""
    if kind is None or is_si(system):
        return values
    numerator, denominator, offset = factor(kind, units_of(system)[kind])
    return (np.asarray(values) - offset) * denominator / numerator


def titled(name: str, kind: str | None, system: str) -> str:
    """Name a column with its unit in a system, where it has one."""
    return name if kind is None else f"{name} [{units_of(system)[kind]}]"


@cache
def cf(symbol: str) -> str:
    """Spell a unit as pint and CF do: short, with 1 for none."""
    import pint

    from wheelrate._units import spelling

    registry: Any = pint.get_application_registry()  # type: ignore[no-untyped-call]
    return f"{registry.Unit(spelling(symbol)):~C}" or "1"


@dataclass(frozen=True)
class Table:
    """Columns of equal length; the first names or numbers the rows."""

    columns: tuple[Column, ...]
    #: What it is of, for a title.
    title: str = ""

    def __len__(self) -> int:
        return len(self.columns[0].values)

    def unit(self, column: Column, system: str) -> str | None:
        """Find the unit of a column in a system; None for words and plain numbers."""
        units = units_of(system)
        return None if column.kind is None else units[column.kind]

    def values(self, column: Column, system: str) -> Any:
        """Give the values of a column in a system of units."""
        return column.values if column.is_words else taken_to(column.values, column.kind, system)

    def titled(self, system: str) -> dict[str, Any]:
        """Give all columns by names that say the unit."""
        return {titled(column.name, column.kind, system): self.values(column, system) for column in self.columns}

    def pandas(self, system: str) -> pandas.DataFrame:
        """Give a pandas frame."""
        frame = needed("pandas", "tables", "`to_pandas`").DataFrame(
            {column.name: self.values(column, system) for column in self.columns}
        )
        units = {column.name: self.unit(column, system) for column in self.columns}
        frame.attrs["units"] = {name: unit for name, unit in units.items() if unit is not None}
        return frame

    def polars(self, system: str) -> polars.DataFrame:
        """Give a polars frame."""
        frame: polars.DataFrame = needed("polars", "tables", "`to_polars`").DataFrame(self.titled(system))
        return frame

    def xarray(self, system: str) -> xarray.Dataset:
        """Give an xarray data set along its first column."""
        along = self.columns[0]

        def variable(column: Column) -> Any:
            unit = self.unit(column, system)
            values = np.array(column.values, dtype=object) if column.is_words else self.values(column, system)
            return (along.name, values, {} if column.is_words else {"units": cf(unit) if unit else "1"})

        data = {column.name: variable(column) for column in self.columns[1:]}
        found: xarray.Dataset = needed("xarray", "tables", "`to_xarray`").Dataset(data, {along.name: variable(along)})
        return found

    def arrow(self, system: str) -> pyarrow.Table:
        """Give an Arrow table."""
        arrow = needed("pyarrow", "tables", "`to_arrow`")
        fields, arrays = [], []
        for column in self.columns:
            kind = arrow.string() if column.is_words else arrow.float64()
            unit = self.unit(column, system)
            about = {"kind": column.kind, "unit": unit} if unit and column.kind else {}
            fields.append(arrow.field(column.name, kind, metadata=about))
            arrays.append(arrow.array(self.values(column, system), kind))
        found: pyarrow.Table = arrow.table(arrays, schema=arrow.schema(fields))
        return found

    def numbers(self) -> Numbers:
        """Give all columns that hold numbers side by side, in SI units."""
        return np.column_stack([column.values for column in self.columns if not column.is_words])

    def html(self) -> str:
        """Show the first and the last rows, in metric units."""
        columns = [(column, self.unit(column, "metric"), self.values(column, "metric")) for column in self.columns]
        many = len(self)
        rows = list(range(many)) if many <= 2 * _SHOWN else [*range(_SHOWN), None, *range(many - _SHOWN, many)]

        def cell(column: Column, value: Any) -> str:
            text = str(value) if column.is_words else "" if np.isnan(value) else f"{value:.5g}"
            return f"<td>{escape(text)}</td>"

        heads = "".join(
            f"<th>{escape(column.name.replace('_', ' '))}{f'<br><small>{escape(unit)}</small>' if unit else ''}</th>"
            for column, unit, _ in columns
        )
        gap = "<td>…</td>" * len(columns)
        body = "".join(
            f"<tr>{gap if row is None else ''.join(cell(column, values[row]) for column, _, values in columns)}</tr>"
            for row in rows
        )
        title = f"<caption>{escape(self.title)}</caption>" if self.title else ""
        return f"<table>{title}<thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table>"
