"""pint quantities in and out: the only module that knows pint, imported on first need."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any
from weakref import WeakKeyDictionary

import pint

from wheelrate import _uncertain
from wheelrate._core import Uncertain, unit_tables
from wheelrate.errors import UnitError

if TYPE_CHECKING:
    Factor = tuple[float, float, float]

# Spellings of the core that pint writes otherwise; powers and products go by rule.
_SPELLINGS = {
    "°": "degree",
    "%": "percent",
    "of 1": "dimensionless",
    "shock/wheel": "dimensionless",
    "wheel/shock": "dimensionless",
    "g0": "standard_gravity",
}

# A mass where a force is meant, as scales and spring labels write it: taken for the rates of springs, nowhere else.
_MASS_PER_LENGTH = {"spring rate": {"kg/mm": "kgf/mm", "lb/in": "lbf/in"}}

_uncertain.stand_beside_pint()


class _Kind:
    """One kind of quantity in one registry: cached units and factors."""

    def __init__(self, name: str, rows: list[Any], registry: Any) -> None:
        self.name = name
        self.registry = registry
        self.symbols = [row[0] for row in rows]
        self.written = registry.Unit(spelling(self.symbols[0]))
        self.si = registry.Unit(spelling(next(symbol for symbol, _, *factor in rows if _is_one(factor))))
        self.factors: dict[Any, Factor] = {}
        for symbol, _, *factor in rows:
            self.factors[registry.Unit(spelling(symbol))] = tuple(factor)
        for written, meant in _MASS_PER_LENGTH.get(name, {}).items():
            self.factors[registry.Unit(written)] = self.factors[registry.Unit(spelling(meant))]

    def factor(self, units: Any, argument: str) -> Factor:
        """Find the factor to SI, and remember it."""
        found = self.factors.get(units)
        if found is None:
            found = self.factors[units] = self._derive(units, argument)
        return found

    def _derive(self, units: Any, argument: str) -> Factor:
        # The same dimension is not enough: radians are dimensionless to pint, and rpm is a frequency 2π off.
        found, wanted_root = (self.registry.Quantity(1, unit).to_root_units().units for unit in (units, self.si))
        if found != wanted_root or "delta_" in str(units):
            wanted = ", ".join(self.symbols)
            raise UnitError(
                f"{argument}: a pint quantity in `{units}` is not a {self.name}: use {wanted}, or another such unit",
                "WrongKind",
                {"field": argument, "found": str(units), "kind": self.name, "units": wanted},
            )
        zero, one = (self.registry.Quantity(number, units).m_as(self.si) for number in (0.0, 1.0))
        return (one - zero, 1.0, zero)


def _is_one(factor: list[float]) -> bool:
    numerator, denominator, offset = factor
    return numerator == denominator and offset == 0.0


def spelling(symbol: str) -> str:
    """Spell a unit of the core as pint does."""
    return _SPELLINGS.get(symbol) or re.sub(r"(?<=[a-z])([23])", r"**\1", symbol).replace(" ", "*")


_tables = dict(unit_tables())
_registries: WeakKeyDictionary[Any, dict[str, _Kind]] = WeakKeyDictionary()


def _kind(registry: Any, name: str) -> _Kind:
    kinds = _registries.setdefault(registry, {})
    found = kinds.get(name)
    if found is None:
        found = kinds[name] = _Kind(name, _tables[name], registry)
    return found


def read(given: Any, kind: str, argument: str) -> tuple[Any, Factor] | None:
    """Take a pint quantity apart: its number, and the factor to SI; ``None`` for any other object."""
    if isinstance(given, Uncertain):
        message = f"{argument}: found an uncertain number, {given}, wanted a quantity: `.value` is that"
        raise UnitError(message, "Uncertain", {"field": argument, "found": str(given), "wanted": kind})
    if not isinstance(given, pint.Quantity):
        return None
    return given.magnitude, _kind(given._REGISTRY, kind).factor(given.units, argument)


def of_si(numbers: Any, kind: str) -> pint.Quantity[Any]:
    """Make a quantity of numbers in SI units, NaN among them for what is not there."""
    _, _, numerator, denominator, offset = _tables[kind][0]
    return write((numbers - offset) * denominator / numerator, kind)


def write(number: Any, kind: str) -> pint.Quantity[Any]:
    """Make a quantity of the application registry, in the unit that results of this kind have."""
    registry = pint.get_application_registry().get()  # type: ignore[no-untyped-call]
    return registry.Quantity(number, _kind(registry, kind).written)
