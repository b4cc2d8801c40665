"""Spring rates and motion ratios of motorcycle suspension, from the bike itself.

Arguments with a dimension are text with a unit (``"102 mm"``), a pair of a number or array and a unit
(``(102, "mm")``), or a pint quantity of any registry. Results are pint quantities of the application registry.
"""

from wheelrate import errors
from wheelrate._core import (
    AxialCurve,
    AxialState,
    Chamber,
    Conditions,
    Fork,
    ForkAir,
    ForkLeg,
    Linkage,
    LinkageCurve,
    LinkagePoint,
    Mechanism,
    Preloaded,
    Reservoir,
    Shock,
    Spring,
    Stop,
    __version__,
    quantity,
    unit_tables,
)
from wheelrate.errors import UnitError, WheelrateError

__all__ = [
    "AxialCurve",
    "AxialState",
    "Chamber",
    "Conditions",
    "Fork",
    "ForkAir",
    "ForkLeg",
    "Linkage",
    "LinkageCurve",
    "LinkagePoint",
    "Mechanism",
    "Preloaded",
    "Reservoir",
    "Shock",
    "Spring",
    "Stop",
    "UnitError",
    "WheelrateError",
    "__version__",
    "errors",
    "quantity",
    "unit_tables",
]
