"""Sweeps on the disk: Parquet by Arrow, in parts of one stretch each, or CSV.

A folder holds `sweep.json`, which says what was asked, and one Parquet part per stretch. A part is written under
another name and then renamed, so that it is there as a whole or not at all, whoever is stopped when. A single Parquet
file is put together from such a folder beside it when all parts are there.
"""

from __future__ import annotations

import csv
import json
import os
import shutil
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from wheelrate import _sweep_result
from wheelrate._core import Sweep, __version__
from wheelrate._extras import needed
from wheelrate.errors import SweepError

if TYPE_CHECKING:
    from wheelrate.typing import Indices, Numbers

_ABOUT = "sweep.json"
_PARTS = ".parts"
# Under this key Parquet keeps what was asked.
_KEY = b"wheelrate.sweep"


def table(
    sweep: Sweep,
    designs: Indices,
    columns: Mapping[str, Any],
    reasons: Mapping[int, str],
    units: Mapping[str, str] | None = None,
) -> Any:
    """Put columns together as an Arrow table: kind and unit in each field's metadata, the sweep in the table's."""
    arrow = needed("pyarrow", "sweep", "`to_arrow`")
    fields = [arrow.field("design", arrow.int64(), nullable=False)]
    arrays = [arrow.array(designs, arrow.int64())]
    for name, kind, unit, width in sweep.columns:
        values = columns[name]
        unit = units[kind] if units and kind else unit
        if isinstance(values, list):
            array = arrow.array(values, arrow.string())
        elif width == 1:
            array = arrow.array(values, arrow.float64())
        else:
            array = arrow.FixedSizeListArray.from_arrays(arrow.array(np.ravel(values), arrow.float64()), width)
        about = {"kind": kind, "unit": unit} if kind and unit else {}
        fields.append(arrow.field(_sweep_result._titled(name, unit), array.type, metadata=about))
        arrays.append(array)
    fields.append(arrow.field("reason", arrow.string()))
    arrays.append(arrow.array([reasons.get(int(index)) for index in designs], arrow.string()))
    return arrow.table(arrays, schema=arrow.schema(fields, metadata={_KEY: sweep.to_json().encode()}))


def save(result: Any, path: str | os.PathLike[str]) -> None:
    """Write a result to one file."""
    path = Path(path)
    if path.suffix == ".csv":
        with path.open("w", newline="", encoding="utf-8") as file:
            rows = csv.writer(file)
            rows.writerow(_heads(result.sweep))
            rows.writerows(_lines(result.sweep, result.designs, result._columns, result.reasons))
        return
    parquet = needed("pyarrow.parquet", "sweep", "Parquet")
    with _whole(path) as unfinished:
        parquet.write_table(result.to_arrow(), unfinished)


def load(path: str | os.PathLike[str]) -> Any:
    """Read what was written: a Parquet file, or a folder of parts."""
    path = Path(path)
    files = sorted(path.glob("part-*.parquet")) if path.is_dir() else [path]
    parquet = needed("pyarrow.parquet", "sweep", "Parquet")
    if path.is_dir() and (path / _ABOUT).exists():
        sweep = Sweep.from_json(json.loads((path / _ABOUT).read_text("utf-8"))["sweep"])
    elif path.is_file():
        kept = (parquet.read_schema(path).metadata or {}).get(_KEY)
        if kept is None:
            raise SweepError(f"{path}: found a Parquet file of something else, wanted one that a sweep has written")
        sweep = Sweep.from_json(kept.decode())
    else:
        raise SweepError(f"{path}: found no sweep there, wanted a Parquet file or a folder that a sweep has written")
    stored = _Stored(sweep, files)
    reasons = stored.texts("reason")
    designs = stored.numbers("design").astype(np.int64)
    lacking = {int(index): text for index, text in zip(designs, reasons, strict=True) if text is not None}
    return _sweep_result.SweepResult(sweep, designs, stored, lacking)


def place(sweep: Sweep, chunk: int, to: str | os.PathLike[str]) -> Any:
    """Give what keeps the stretches of a sweep where they are wanted."""
    path = Path(to)
    if path.suffix == ".csv":
        return _Csv(sweep, chunk, path)
    return _File(sweep, chunk, path) if path.suffix == ".parquet" else _Folder(sweep, chunk, path)


class _Stored(Mapping[str, Any]):
    """Columns of Parquet files, read when they are asked for."""

    def __init__(self, sweep: Sweep, files: list[Path]) -> None:
        self._about = {name: (_sweep_result._titled(name, unit), width) for name, _, unit, width in sweep.columns}
        self._files = files
        self._read: dict[str, Any] = {}

    def __getitem__(self, name: str) -> Any:
        if name not in self._read:
            title, width = self._about[name]
            column = self._column(title)
            if width > 1:
                self._read[name] = column.combine_chunks().flatten().to_numpy().reshape(-1, width)
            elif str(column.type) == "string":
                self._read[name] = column.to_pylist()
            else:
                self._read[name] = column.to_numpy()
        return self._read[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._about)

    def __len__(self) -> int:
        return len(self._about)

    def numbers(self, title: str) -> Numbers:
        return np.asarray(self._column(title).to_numpy())

    def texts(self, title: str) -> list[str | None]:
        found: list[str | None] = self._column(title).to_pylist()
        return found

    def _column(self, title: str) -> Any:
        arrow, parquet = needed("pyarrow", "sweep", "`to_arrow`"), needed("pyarrow.parquet", "sweep", "Parquet")
        if not self._files:
            return arrow.chunked_array([], arrow.float64())
        parts = [parquet.read_table(file, columns=[title]).column(0) for file in self._files]
        return arrow.chunked_array([piece for part in parts for piece in part.chunks], parts[0].type)


class Part:
    """Work of one stretch, small to pickle: worked out and written as a part of a folder that all workers reach."""

    def __init__(self, folder: Path, chunk: int) -> None:
        self.folder, self.chunk = folder, chunk

    def __call__(self, sweep: Sweep, at: int) -> None:
        columns, reasons = sweep.chunk(at * self.chunk, (at + 1) * self.chunk)
        stop = min(len(sweep), (at + 1) * self.chunk)
        found = table(sweep, np.arange(at * self.chunk, stop, dtype=np.int64), columns, reasons)
        parquet = needed("pyarrow.parquet", "sweep", "Parquet")
        with _whole(self.file(at)) as unfinished:
            parquet.write_table(found, unfinished)

    def file(self, at: int) -> Path:
        return self.folder / f"part-{at:09}.parquet"


class _Folder:
    """A folder of parts."""

    def __init__(self, sweep: Sweep, chunk: int, folder: Path) -> None:
        needed("pyarrow.parquet", "sweep", "Parquet")
        self.sweep, self.chunk, self.folder = sweep, chunk, folder
        self.work = Part(folder.absolute(), chunk)
        about = {"sweep": sweep.to_json(), "chunk": chunk, "wheelrate": __version__}
        kept = folder / _ABOUT
        if kept.exists():
            if json.loads(kept.read_text("utf-8")) != about:
                raise SweepError(
                    f"{folder}: found another sweep, chunk or version there, wanted a place of "
                    "its own: give another name, or take away what is there"
                )
        elif folder.exists() and any(folder.iterdir()):
            raise SweepError(f"{folder}: found other files, wanted an empty folder, or none yet")
        else:
            folder.mkdir(parents=True, exist_ok=True)
            with _whole(kept) as unfinished:
                unfinished.write_text(json.dumps(about), "utf-8")

    def done(self) -> set[int]:
        return {int(file.stem.removeprefix("part-")) for file in self.folder.glob("part-*.parquet")}

    def size(self, at: int) -> int:
        return min(self.chunk, len(self.sweep) - at * self.chunk)

    def take(self, at: int, found: None) -> None:
        if not self.work.file(at).exists():
            raise SweepError(
                f"{self.folder}: a worker has written its part elsewhere; wanted a folder that this machine and all "
                "workers reach under one name"
            )

    def result(self) -> Any:
        return load(self.folder)

    finish = result


class _File(_Folder):
    """One Parquet file, put together from a folder of parts."""

    def __init__(self, sweep: Sweep, chunk: int, path: Path) -> None:
        self.path, self.is_there = path, False
        parquet = needed("pyarrow.parquet", "sweep", "Parquet")
        if path.is_file():
            kept = (parquet.read_schema(path).metadata or {}).get(_KEY)
            if kept is None or Sweep.from_json(kept.decode()) != sweep:
                raise SweepError(f"{path}: found another file there, wanted a name that is free, or this same sweep")
            self.sweep, self.chunk, self.is_there = sweep, chunk, True
            return
        super().__init__(sweep, chunk, path.with_name(path.name + _PARTS))

    def done(self) -> set[int]:
        return set(range(-(-len(self.sweep) // self.chunk))) if self.is_there else super().done()

    def finish(self) -> Any:
        if not self.is_there:
            parquet = needed("pyarrow.parquet", "sweep", "Parquet")
            files = sorted(self.folder.glob("part-*.parquet"))
            with (
                _whole(self.path) as unfinished,
                parquet.ParquetWriter(unfinished, parquet.read_schema(files[0])) as writer,
            ):
                for file in files:
                    writer.write_table(parquet.read_table(file))
            shutil.rmtree(self.folder)
        return load(self.path)


class _Csv:
    """One CSV file, written in the order of the designs; what was begun is begun again."""

    def __init__(self, sweep: Sweep, chunk: int, path: Path) -> None:
        from wheelrate import _sweep

        if path.exists():
            raise SweepError(f"{path}: found a file there, wanted a name that is free")
        self.sweep, self.chunk, self.path = sweep, chunk, path
        self.work = _sweep.Stretch(chunk)
        self._memory = _sweep._InMemory(sweep, chunk)
        self._waiting: dict[int, Any] = {}
        self._next = 0
        with path.open("w", newline="", encoding="utf-8") as file:
            csv.writer(file).writerow(_heads(sweep))

    def done(self) -> set[int]:
        return set()

    def size(self, at: int) -> int:
        return self._memory.size(at)

    def take(self, at: int, found: Any) -> None:
        self._memory.take(at, found)
        self._waiting[at] = found
        with self.path.open("a", newline="", encoding="utf-8") as file:
            while self._next in self._waiting:
                columns, reasons = self._waiting.pop(self._next)
                start = self._next * self.chunk
                designs = np.arange(start, start + self.size(self._next), dtype=np.int64)
                csv.writer(file).writerows(_lines(self.sweep, designs, columns, reasons))
                self._next += 1

    def result(self) -> Any:
        return self._memory.result()

    finish = result


def _heads(sweep: Sweep) -> list[str]:
    heads = ["design"]
    for name, _, unit, width in sweep.columns:
        titled = _sweep_result._titled(name, unit)
        heads += [titled] if width == 1 else [_sweep_result._titled(f"{name}[{point}]", unit) for point in range(width)]
    return [*heads, "reason"]


def _lines(
    sweep: Sweep, designs: Indices, columns: Mapping[str, Any], reasons: Mapping[int, str]
) -> Iterator[list[Any]]:
    listed = [values if isinstance(values := columns[name], list) else values.tolist() for name, *_ in sweep.columns]
    for row, index in enumerate(designs.tolist()):
        line: list[Any] = [index]
        for values in listed:
            line += values[row] if isinstance(values[row], list) else [values[row]]
        yield [*line, reasons.get(index, "")]


class _whole:  # noqa: N801 - used as a context
    """Write a file under another name, and rename it when it is whole."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.unfinished = path.with_name(f".{path.name}.{os.getpid()}.unfinished")

    def __enter__(self) -> Path:
        return self.unfinished

    def __exit__(self, failure: Any, *_: Any) -> None:
        if failure is None:
            os.replace(self.unfinished, self.path)
        else:
            self.unfinished.unlink(missing_ok=True)
