"""Types of arguments and results, for annotations: import them under ``typing.TYPE_CHECKING``."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Literal, TypeAlias

#: One end of the bike.
End: TypeAlias = Literal["front", "rear"]

#: Which designs a sweep makes of its values.
Scheme: TypeAlias = Literal["grid", "list", "random", "latin_hypercube"]

if TYPE_CHECKING:
    import numpy
    import numpy.typing
    import pint

    #: Results: a pint quantity of the application registry, scalar or array.
    Quantity: TypeAlias = pint.Quantity[Any]

    #: Results without a dimension, in rows.
    Numbers: TypeAlias = numpy.typing.NDArray[numpy.float64]

    #: Indices of designs or rows.
    Indices: TypeAlias = numpy.typing.NDArray[numpy.int64]

    #: One dimensional argument: ``"102 mm"``, ``(102, "mm")`` or a pint quantity of any registry.
    QuantityLike: TypeAlias = str | tuple[float, str] | pint.Quantity[Any]

    #: A row of them: ``(array, "mm")``, a pint quantity of an array, or a sequence of single ones.
    ArrayLike: TypeAlias = tuple[numpy.typing.ArrayLike, str] | pint.Quantity[Any] | Sequence[QuantityLike]

    #: One of them, or an array of any shape: what comes back has that shape.
    AnyShape: TypeAlias = QuantityLike | ArrayLike
