"""Spring rates and motion ratios of motorcycle suspension, from the bike itself."""

from wheelrate import errors
from wheelrate._core import __version__, quantity, unit_tables
from wheelrate.errors import UnitError, WheelrateError

__all__ = ["UnitError", "WheelrateError", "__version__", "errors", "quantity", "unit_tables"]
