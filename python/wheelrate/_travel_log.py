"""Travel logs from CSV files, streamed: memory holds one block of the file, however long the ride."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from wheelrate import _core
from wheelrate._extras import needed
from wheelrate.errors import WheelrateError

if TYPE_CHECKING:
    from os import PathLike

    from wheelrate._core import Bike, TravelLog
    from wheelrate.typing import QuantityLike

#: Bytes of the file that are parsed at a time.
BLOCK = 4 << 20
#: Bytes of its first line that an error shows.
_HEAD = 200


@dataclass(frozen=True)
class LogChannel:
    """A column of a log, and how its numbers become strokes: ``stroke = (number − zero)·scale``.

    Parameters
    ----------
    column : str
        Name of the column.
    scale : length, optional
        Stroke per one of its numbers: ``"1 mm"`` for a column in millimetres, ``"58.4 mm"`` for a potentiometer in
        volts that goes 58.4 mm a volt. Below zero where the number falls as the end compresses.
    zero : float, optional
        Its number with the end fully extended.
    low, high : float, optional
        Numbers at which the sensor goes no further, ``0.0`` and ``5.0`` of a supply of five volts: time there is named
        as clipped.

    Examples
    --------
    >>> import wheelrate as wr
    >>> wr.LogChannel("shock [V]", "58.4 mm", zero=0.61, low=0.0, high=5.0).zero
    0.61
    """

    column: str
    scale: QuantityLike = "1 mm"
    zero: float = 0.0
    low: float | None = None
    high: float | None = None

    def strokes(self, numbers: Any) -> Any:
        """Give strokes in metres."""
        return (numbers - self.zero) * self._scale

    @property
    def _scale(self) -> float:
        return float(_core.quantity(self.scale, "length").m_as("m"))

    def clips(self) -> tuple[Any, Any]:
        """Give the strokes at which it goes no further, least first; None where it has no such number."""
        ends = [None if end is None else (float(self.strokes(end)), "m") for end in (self.low, self.high)]
        return (ends[0], ends[1]) if self._scale > 0 else (ends[1], ends[0])


def read_travel_log(
    bike: Bike,
    path: str | PathLike[str],
    *,
    front: LogChannel | str | None = None,
    rear: LogChannel | str | None = None,
    time: str = "time",
    time_unit: str = "s",
    rate: QuantityLike | None = None,
    gap: QuantityLike | None = None,
    delimiter: str = ",",
) -> TravelLog:
    r"""Read a log of fork and shock strokes from a CSV file, block by block.

    Parameters
    ----------
    bike : Bike
        The bike that was ridden.
    path : path
        The file, its first line the names of its columns; compressed where its name ends in .gz.
    front, rear : LogChannel or str, optional
        The column of each end that has a sensor; of a name alone the numbers are strokes in millimetres from full
        extension.
    time : str, optional
        The column of times.
    time_unit : str, optional
        Unit of that column.
    rate : frequency, optional
        Rate of sampling, in place of a column of times.
    gap : time, optional
        Samples further apart are not joined; 0.25 s unless given.
    delimiter : str, optional
        Between the columns.

    Returns
    -------
    TravelLog

    Examples
    --------
    >>> import tempfile, pathlib
    >>> import wheelrate as wr
    >>> file = pathlib.Path(tempfile.mkdtemp(), "ride.csv")
    >>> _ = file.write_text("time,shock\n0.0,40.1\n0.1,41.0\n0.2,\n0.3,39.8\n")
    >>> wr.read_travel_log(wr.demo(), file, rear="shock").ends["rear"].missing
    1
    """
    given = {"front": front, "rear": rear}
    named = {end: LogChannel(one) if isinstance(one, str) else one for end, one in given.items()}
    channels = {end: channel for end, channel in named.items() if channel is not None}
    for end, channel in channels.items():
        if not isinstance(channel, LogChannel):
            raise TypeError(f"{end}: found {type(channel).__name__}, wanted the name of a column, or a LogChannel")
    if not channels:
        raise TypeError("wanted `front` or `rear`: the column of the stroke of the fork or of the shock")
    if len(delimiter) != 1:
        raise WheelrateError(f"delimiter: found `{delimiter}`, wanted one sign")
    step = None if rate is None else 1.0 / float(_core.quantity(rate, "frequency").m_as("Hz"))
    columns = [channel.column for channel in channels.values()] + ([time] if step is None else [])
    pieces = _pieces(path, channels, columns, time if step is None else None, (time_unit, step), delimiter)
    clips = {end: channel.clips() for end, channel in channels.items()}
    return _core.travel_log(bike, pieces, gap=gap, clips=clips)


def _pieces(
    path: str | PathLike[str],
    channels: dict[str, LogChannel],
    columns: list[str],
    time: str | None,
    clock: tuple[str, float | None],
    delimiter: str,
) -> Iterator[tuple[Any, Any, Any]]:
    csv: Any = needed("pyarrow.csv", "tables", "a travel log from a file")
    pyarrow: Any = needed("pyarrow", "tables", "a travel log from a file")
    unit, step = clock
    kept = list(dict.fromkeys(columns))
    options = csv.ConvertOptions(column_types=dict.fromkeys(kept, pyarrow.float64()), include_columns=kept)
    rows = 0
    try:
        with csv.open_csv(
            path,
            read_options=csv.ReadOptions(block_size=BLOCK, use_threads=False),
            parse_options=csv.ParseOptions(delimiter=delimiter),
            convert_options=options,
        ) as reader:
            for batch in reader:
                values = {name: batch.column(name).to_numpy(zero_copy_only=False) for name in kept}
                count = batch.num_rows
                times = (values[time], unit) if time else ((rows + np.arange(count)) * step, "s")
                strokes = {end: (channel.strokes(values[channel.column]), "m") for end, channel in channels.items()}
                rows += count
                yield times, strokes.get("front"), strokes.get("rear")
    except pyarrow.ArrowKeyError as error:
        with pyarrow.input_stream(path) as stream:
            head = stream.read(_HEAD).split(b"\n")[0].decode("utf-8", "replace").strip()
        wanted = ", ".join(f"`{name}`" for name in kept)
        raise WheelrateError(
            f"{path}: found the first line `{head}`, wanted the columns {wanted}, parted by `{delimiter}`"
        ) from error
    except pyarrow.ArrowInvalid as error:
        raise WheelrateError(f"{path}: {error}; wanted columns {', '.join(kept)} of numbers") from error
