"""What can go wrong, one exception per topic under one base class."""

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


def _topic(name: str) -> type[WheelrateError]:
    """Find the class of a topic of the core, ``"Unit"`` for `UnitError`."""
    found = globals().get(f"{name}Error", WheelrateError)
    return found if isinstance(found, type) and issubclass(found, WheelrateError) else WheelrateError


def _from_core(message: str, case: dict[str, Any] | str, field: str | None = None) -> WheelrateError:
    """Make the exception of an error of the core, given as data: topic, case, fields."""
    topic, inner = next(iter(case.items())) if isinstance(case, dict) else (case, {})
    name, details = next(iter(inner.items())) if isinstance(inner, dict) and inner else (str(inner or topic), {})
    if not isinstance(details, dict):
        details = {"value": details}
    if field is not None:
        message, details = f"{field}: {message}", {"field": field, **details}
    return _topic(topic)(message, name, details)
