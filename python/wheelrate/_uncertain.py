"""Arithmetic with uncertain numbers, through the package uncertainties: first order, correlations kept.

``fit.rate / fit.preload`` knows that the two are correlated, because both carry the variables of their fit: its
covariance is written as independent variables, and equal fits share theirs. The springs of a fork and
`Fit.rate_factor` are its rate in another unit, and move with it. A number that comes from elsewhere is a variable of
its own, the same one whenever the same object is used: ``x - x`` is nothing, exactly. Sags of a fit carry no
correlation: the bindings give none, so that each is a variable of its own.

What comes back is a pint quantity of the application registry whose magnitude is a number of uncertainties.
"""

from __future__ import annotations

import operator
import sys
import weakref
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np

from wheelrate import _core
from wheelrate._extras import needed
from wheelrate._tables import factor, units_of
from wheelrate.errors import UnitError

if TYPE_CHECKING:
    from wheelrate.typing import Numbers, Quantity

# By the object that carries it, for as long as that lives: two equal numbers of two measurements are not one.
# Either the variable, or the fit that has it, which parameter of that it is, and in what proportion.
_VARIABLES: dict[int, Any] = {}
_TIES: dict[int, tuple[_core.Fit, str, float]] = {}
_OF_FITS: weakref.WeakKeyDictionary[_core.Fit, dict[str, Any]] = weakref.WeakKeyDictionary()
#: What a fit determines together, in the order of its correlation, and what each is.
FITTED = {"rate": "spring rate", "preload": "length", "friction": "force"}
#: Of a fit at once: 2.4 GB of numbers.
MOST_DRAWS = 100_000_000
# The numbers of a fit as the bindings give them.
_NATIVE = {name: vars(_core.Fit)[name] for name in (*FITTED, "rate_factor", "springs")}


def stand_beside_pint() -> None:
    """Let pint leave arithmetic with an uncertain number at the right to that number, which knows its unit.

    Otherwise pint takes it for a magnitude without one. Done where pint is loaded already, and again when we load it.
    """
    pint = sys.modules.get("pint")
    if pint is not None:
        pint.compat.upcast_type_map["wheelrate.Uncertain"] = _core.Uncertain


def _keep(place: dict[int, Any], number: Any, what: Any) -> Any:
    place[id(number)] = what
    weakref.finalize(number, place.pop, id(number), None)
    return number


def _magnitude(quantity: Any) -> float:
    return float(quantity.m)


def variable(number: _core.Uncertain) -> Any:
    """Give the variable of a number, in the unit that results of its kind have."""
    if id(number) in _TIES:
        fit, name, proportion = _TIES[id(number)]
        return proportion * _fitted(fit)[name]
    if id(number) not in _VARIABLES:
        ufloat = needed("uncertainties", "uncertainties", "arithmetic with uncertain numbers").ufloat
        made = ufloat(_magnitude(number.value), _magnitude(number.standard_uncertainty))
        _keep(_VARIABLES, number, made)
    return _VARIABLES[id(number)]


def quantity(self: _core.Uncertain) -> Quantity:
    """Give the number as a pint quantity whose magnitude is a number of the package uncertainties.

    Examples
    --------
    >>> import wheelrate as wr
    >>> fit = wr.demo().fit_end("rear")
    >>> print(fit.rate.quantity.to("lbf/in"))
    290+/-5 force_pound / inch
    """
    from wheelrate._units import write

    return write(variable(self), self.kind)


def _other(value: Any) -> Any:
    return value.quantity if isinstance(value, _core.Uncertain) else value


def _way(work: Callable[[Any, Any], Any], *, turned: bool = False) -> Callable[[Any, Any], Any]:
    def way(self: Any, other: Any) -> Any:
        if isinstance(other, (str, bytes, list, tuple)):  # which pint would read; with an array its own rules go
            return NotImplemented
        if work is operator.pow and np.ndim(other) > 0:
            return NotImplemented  # not of the package uncertainties either
        one, two = self.quantity, _other(other)
        return work(two, one) if turned else work(one, two)

    return way


def _fitted(fit: _core.Fit) -> dict[str, Any]:
    """Make the variables of a fit of its covariance, once."""
    found = _OF_FITS.get(fit)
    if found is None:
        package = needed("uncertainties", "uncertainties", "arithmetic with uncertain numbers")
        values = [_magnitude(_NATIVE[name].__get__(fit).value) for name in FITTED]
        variables = package.correlated_values(values, covariance(fit), tags=list(FITTED))
        found = _OF_FITS[fit] = dict(zip(FITTED, variables, strict=True))
    return found


def covariance(self: _core.Fit, units: str = "metric") -> Numbers:
    """Give the covariance of rate, preload and friction, in this order.

    Parameters
    ----------
    units : {"metric", "si", "kilogram-force", "inch"}, optional
        Of the three: in metric units N/mm, mm and N.

    Returns
    -------
    array of 3 by 3

    Examples
    --------
    >>> import wheelrate as wr
    >>> fit = wr.demo().fit_end("rear")
    >>> fit.covariance().round(3).tolist()[0]
    [0.735, -0.277, 0.623]
    """
    spread = np.array([_in(getattr(self, name).standard_uncertainty, kind, units) for name, kind in FITTED.items()])
    return np.outer(spread, spread) * np.asarray(self.correlation)


def draws(self: _core.Fit, count: int = 1000, seed: int = 0) -> dict[str, Quantity]:
    """Draw rates, preloads and frictions from the fit: normal, with its correlations; the same for the same seed.

    Parameters
    ----------
    count : int, optional
        How many.
    seed : int, optional
        Start of the random numbers.

    Returns
    -------
    dict of str to array
        ``rate``, ``preload`` and ``friction``, one number a draw.

    Examples
    --------
    >>> import wheelrate as wr
    >>> drawn = wr.demo().fit_end("rear").draws(4000)
    >>> print(drawn["rate"].mean().round(1), drawn["rate"].std().round(1))
    50.8 newton / millimeter 0.9 newton / millimeter
    """
    from wheelrate._units import write

    for name, given, least, most in (("count", count, 1, MOST_DRAWS), ("seed", seed, 0, 2**63)):
        if not isinstance(given, int) or not least <= given <= most:
            message = f"{name}: found {given!r}, wanted a whole number from {least} to {most}"
            raise UnitError(message, "Count", {"field": name, "found": repr(given)})
    means = [_magnitude(getattr(self, name).value) for name in FITTED]
    drawn = np.random.default_rng(seed).multivariate_normal(means, covariance(self), size=count, method="cholesky")
    return {name: write(drawn[:, at], kind) for at, (name, kind) in enumerate(FITTED.items())}


def _in(quantity: Any, kind: str, units: str) -> float:
    """Take a result to a system of units."""
    (wn, wd, wo), (n, d, o) = factor(kind, units_of("metric")[kind]), factor(kind, units_of(units)[kind])
    return ((_magnitude(quantity) * wn / wd + wo) - o) * d / n


def _tied(name: str) -> property:
    """Make a property of a fit whose number carries a variable of the fit."""

    def read(self: Any) -> Any:
        stand_beside_pint()
        number = _NATIVE[name].__get__(self)
        return _keep(_TIES, number, (self, name, 1.0))

    return property(read, doc=_NATIVE[name].__doc__)


def _part(number: Any, fit: Any) -> Any:
    """Tie a number that is in proportion to the rate of a fit."""
    return _keep(
        _TIES, number, (fit, "rate", _magnitude(number.value) / _magnitude(_NATIVE["rate"].__get__(fit).value))
    )


def _negative(self: _core.Uncertain) -> Quantity:
    number: Any = self.quantity
    return -number


def attach() -> None:
    """Give uncertain numbers their arithmetic, and fits their covariance."""
    number: Any = _core.Uncertain
    fit: Any = _core.Fit
    number.quantity = property(quantity, doc=quantity.__doc__)
    for name in ("add", "sub", "mul", "truediv", "pow"):
        work = getattr(operator, name)
        setattr(number, f"__{name}__", _way(work))
        setattr(number, f"__r{name}__", _way(work, turned=True))
    number.__neg__ = _negative
    for name in FITTED:
        setattr(fit, name, _tied(name))
    factor, springs = _NATIVE["rate_factor"], _NATIVE["springs"]
    fit.rate_factor = property(lambda self: _part(factor.__get__(self), self), doc=factor.__doc__)
    fit.springs = property(lambda self: [_part(one, self) for one in springs.__get__(self)], doc=springs.__doc__)
    fit.covariance, fit.draws = covariance, draws
    stand_beside_pint()
