"""Plain data with one unit a kind, where texts of a bike file keep the unit that each was written in."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import wheelrate as wr

_QUANTITY = re.compile(r"([-+]?[\d.]+(?:[eE][-+]?\d+)?) (\S.*)")


def one_unit(data: Any, units: str) -> Any:
    """Take every quantity in plain data to the unit that a system has for its kind: one unit a kind throughout."""
    if isinstance(data, dict):
        return {name: one_unit(value, units) for name, value in data.items()}
    if isinstance(data, list):
        return [one_unit(value, units) for value in data]
    found = _QUANTITY.fullmatch(data) if isinstance(data, str) else None
    if found is None or found[2] not in _kinds():
        return data
    kind, (numerator, denominator, offset) = _kinds()[found[2]]
    symbol = wr.unit_symbols(units)[kind]
    if found[2] == symbol:
        return data
    _, (wanted, over, zero) = _kinds()[symbol]
    value = (float(found[1]) * numerator / denominator + offset - zero) * over / wanted
    return f"{value!r} {symbol}"


@cache
def _kinds() -> dict[str, tuple[str, tuple[float, float, float]]]:
    """Find the kind of every unit with its factor to SI; a unit that two kinds have is of the first."""
    found: dict[str, tuple[str, tuple[float, float, float]]] = {}
    for kind, rows in wr.unit_tables():
        for symbol, aliases, *factor in rows:
            for name in (symbol, *aliases):
                found.setdefault(name, (kind, (factor[0], factor[1], factor[2])))
    return found
