"""Spring rates and motion ratios of motorcycle suspension, from the bike itself.

Arguments with a dimension are text with a unit (``"102 mm"``), a pair of a number or array and a unit
(``(102, "mm")``), or a pint quantity of any registry. Results are pint quantities of the application registry.
"""

from wheelrate import _core, _points, _results, _uncertain, errors, plot
from wheelrate._core import *  # noqa: F403
from wheelrate._explore import explore
from wheelrate._sweep_result import SweepResult
from wheelrate._travel_log import LogChannel, read_travel_log
from wheelrate.errors import Fault, UnitError, WheelrateError

_results.attach()
_points.attach()
_uncertain.attach()

__all__ = [
    "Fault",
    "LogChannel",
    "SweepResult",
    "UnitError",
    "WheelrateError",
    "errors",
    "explore",
    "plot",
    "read_travel_log",
]
__all__ += _core.__all__
