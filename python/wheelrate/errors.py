"""What can go wrong, one exception per topic under one base class."""

import json
from dataclasses import dataclass
from typing import Any


class WheelrateError(Exception):
    """Base of every error of this package.

    The fields of the case at hand are attributes, e.g. ``field``, ``found`` and ``wanted``; which ones there are
    depends on the case, and `details` holds them all.

    Attributes
    ----------
    case : str
        Name of the case within its topic, e.g. ``"BareNumber"``.
    details : dict
        The fields of the case.
    """

    def __init__(self, message: str, case: str = "", details: dict[str, Any] | None = None) -> None:
        super().__init__(message, case, details)
        self.case = case
        self.details = dict(details or {})
        for name, value in self.details.items():
            if not hasattr(self, name):
                setattr(self, name, value)

    def __str__(self) -> str:
        return str(self.args[0])

    def __getattr__(self, name: str) -> Any:
        # For the type checkers: the fields depend on the case.
        raise AttributeError(f"{type(self).__name__} ({self.case}) has no {name}; it has {', '.join(self.details)}")


class InternalError(WheelrateError):
    """A fault of the library itself. Please report it."""


class UnitError(WheelrateError, ValueError):
    """A text, a unit or a magnitude that cannot be taken."""


class SpringError(WheelrateError, ValueError):
    """A spring, or the part it sits in, that cannot be as described, or a stroke outside its range."""


class GasError(WheelrateError, ValueError):
    """Gas that cannot be as described."""


class LinkageError(WheelrateError, ValueError):
    """A mechanism that does not move as a suspension, or not as far as asked."""


class MassError(WheelrateError, ValueError):
    """Masses that cannot be as stated, or a load that is none of them."""


class WheelError(WheelrateError, ValueError):
    """A travel outside the range of an end, or an end put together from parts that do not fit."""


class BikeError(WheelrateError, ValueError):
    """A bike that lacks what an answer needs, or whose parts contradict each other."""


class SetupError(WheelrateError, ValueError):
    """Readings that cannot be taken together, or parts that are missing for an answer."""


class SweepError(WheelrateError, ValueError):
    """A sweep that cannot be carried out as asked."""


class SweepInterrupted(KeyboardInterrupt):
    """Ctrl-C between two stretches of a sweep.

    Attributes
    ----------
    result : SweepResult
        The designs that were worked out before it.
    """

    def __init__(self, result: Any) -> None:
        super().__init__(f"{len(result)} of {len(result.sweep)} designs are worked out and kept in `result`")
        self.result = result


class OverwriteError(WheelrateError, ValueError):
    """A file that a page is not written over: it is no page of this package, the page is made from it, or it is a link.

    Attributes
    ----------
    path : str
        The file.
    """


@dataclass(frozen=True)
class Fault:
    """One fault of a bike file.

    Attributes
    ----------
    line, column : int or None
        Where, counted from 1; None where there is no text.
    key_path : str
        The key at fault, e.g. ``front.fork.leg[0].spring.rate``.
    found, wanted : str
        What was found, and what would do.
    suggestion : str or None
        What was probably meant, where something is near.
    message : str
        What was found and what would do, in one sentence.
    """

    line: int | None
    column: int | None
    key_path: str
    found: str
    wanted: str
    suggestion: str | None
    message: str

    def __str__(self) -> str:
        place = f"line {self.line}, column {self.column}: " if self.line else ""
        return f"{place}{self.key_path}: {self.message}" if self.key_path else f"{place}{self.message}"


class FileError(WheelrateError, ValueError):
    """A bike file with faults.

    Attributes
    ----------
    faults : list of Fault
        All of them, in the order of the text.
    """

    faults: list[Fault]

    def __init__(self, message: str, case: str = "", details: dict[str, Any] | None = None) -> None:
        super().__init__(message, case, details)
        self.faults = [Fault(**fault) for fault in self.details.get("faults", [])]


def _faults(data: str) -> list[Fault]:
    """Read faults that the core wrote as JSON."""
    return [Fault(**fault) for fault in json.loads(data)]


def _from_core(
    message: str, case: dict[str, Any] | str, said: dict[str, Any], field: str | None = None
) -> WheelrateError:
    """Make the exception of an error of the core, given as data: topic, case, fields; and what every case says."""
    topic, inner = next(iter(case.items())) if isinstance(case, dict) else (case, {})
    name, details = topic, inner
    if isinstance(inner, str):
        name, details = inner, {}
    elif len(inner) == 1 and next(iter(inner))[0].isupper():
        name, details = next(iter(inner.items()))
    if not isinstance(details, dict):
        details = {"value": details}
    details = {**details, **{name: value for name, value in said.items() if value is not None}}
    if field is not None:
        message, details = f"{field}: {message}", {"field": field, **details}
    known = globals().get(f"{topic}Error", WheelrateError)
    made: WheelrateError = known(message, name, details)
    return made
