"""Sweeps worked out stretch by stretch, here or by the workers of a Dask client."""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterable
from contextlib import suppress
from typing import Any

import numpy as np

from wheelrate import _parts
from wheelrate._core import Sweep
from wheelrate._extras import needed
from wheelrate._sweep_result import SweepResult, _taken
from wheelrate.errors import SweepError, SweepInterrupted

# Tasks of a cluster that wait for each thread of it: enough that none runs dry, few enough that little waits in memory.
_WAITING = 3


def work_out(sweep: Sweep, chunk: int, client: Any, progress: Any, to: Any) -> SweepResult:
    """Work out a sweep stretch by stretch; what is there already is left alone."""
    if chunk < 1:
        raise SweepError(
            f"chunk: found {chunk}, wanted 1 design or more", "Count", {"field": "chunk", "found": str(chunk)}
        )
    place = _InMemory(sweep, chunk) if to is None else _parts.place(sweep, chunk, to)
    done = place.done()
    left = [at for at in range(-(-len(sweep) // chunk)) if at not in done]
    bar = _bar(progress, len(sweep), sum(place.size(at) for at in done))
    come = _here(place, left) if client is None else _on_workers(client, place, left)
    try:
        for at, found in come:
            place.take(at, found)
            bar.update(place.size(at))
    except KeyboardInterrupt:
        raise SweepInterrupted(place.result()) from None
    finally:
        come.close()
        bar.close()
    return place.finish()


def _here(place: Any, left: Iterable[int]) -> Generator[tuple[int, Any], None, None]:
    for at in left:
        yield at, place.work(place.sweep, at)


def _on_workers(client: Any, place: Any, left: Iterable[int]) -> Generator[tuple[int, Any], None, None]:
    """Give every stretch to the workers of a Dask client, a few at a time, and what comes back as it comes.

    A worker makes the sweep once. That is a task too, so that a lost worker loses nothing that is not made again.
    """
    distributed = needed("distributed", "cluster", "a sweep on a cluster")
    sweep = client.submit(Sweep.from_json, place.sweep.to_json(), pure=False)
    threads = max(1, sum(client.nthreads().values()))
    waiting = iter(left)
    tasks = distributed.as_completed()
    places: dict[str, tuple[int, Any]] = {}

    def submit() -> None:
        with suppress(StopIteration):
            at = next(waiting)
            task = client.submit(place.work, sweep, at, pure=False)
            places[task.key] = (at, task)
            tasks.add(task)

    try:
        for _ in range(_WAITING * threads):
            submit()
        for task in tasks:
            (at, _), found = places.pop(task.key), task.result()
            task.release()
            submit()
            yield at, found
    finally:
        client.cancel([task for _, task in places.values()])


class Stretch:
    """Work of one stretch, small to pickle: the designs from ``at * chunk`` on, kept in memory."""

    def __init__(self, chunk: int) -> None:
        self.chunk = chunk

    def __call__(self, sweep: Sweep, at: int) -> Any:
        return sweep.chunk(at * self.chunk, (at + 1) * self.chunk)


class _InMemory:
    """Columns of the whole sweep, filled as stretches come."""

    def __init__(self, sweep: Sweep, chunk: int) -> None:
        self.sweep, self.chunk, self.work = sweep, chunk, Stretch(chunk)
        self._here: set[int] = set()
        self._reasons: dict[int, str] = {}
        self._columns: dict[str, Any] = {}
        for name, _, unit, width in sweep.columns:
            words = unit is None and isinstance(sweep.chunk(0, 0)[0][name], list)
            shape = len(sweep) if width == 1 else (len(sweep), width)
            self._columns[name] = [""] * len(sweep) if words else np.empty(shape)

    def done(self) -> set[int]:
        return set()

    def size(self, at: int) -> int:
        return min(self.chunk, len(self.sweep) - at * self.chunk)

    def take(self, at: int, found: Any) -> None:
        columns, reasons = found
        stretch = slice(at * self.chunk, at * self.chunk + self.size(at))
        for name, values in columns.items():
            self._columns[name][stretch] = values
        self._reasons.update(reasons)
        self._here.add(at)

    def result(self) -> SweepResult:
        rows = [
            np.arange(at * self.chunk, at * self.chunk + self.size(at), dtype=np.int64) for at in sorted(self._here)
        ]
        designs = np.concatenate(rows) if rows else np.empty(0, dtype=np.int64)
        if len(designs) == len(self.sweep):
            return SweepResult(self.sweep, designs, self._columns, self._reasons)
        columns = {name: _taken(values, designs) for name, values in self._columns.items()}
        return SweepResult(self.sweep, designs, columns, self._reasons)

    finish = result


def _bar(progress: Any, total: int, done: int) -> Any:
    """Give what shows the progress: something with ``update`` and ``close``."""
    if progress is None or progress is False:
        return _NoBar()
    make: Callable[..., Any] = needed("tqdm.auto", "sweep", "the progress bar").tqdm if progress is True else progress
    bar = make(total=total, unit="designs")
    if done:
        bar.update(done)
    return bar


class _NoBar:
    def update(self, designs: int) -> None: ...

    def close(self) -> None: ...
