"""A plugin of pytest: its tests against mutants, each in a process that is split off after everything was collected.

``MUTANTS_TRACE`` names the file to which it writes which mutants each test reaches; ``MUTANTS_TRY`` names one with the
numbers to try, and ``MUTANTS_ROWS`` that for what became of them, the tests taken from the first. ``MUTANTS_PART`` is
``k/n``: the k-th of n processes side by side.
"""

from __future__ import annotations

import ctypes
import json
import os
import resource
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from _pytest.runner import runtestprotocol

#: Number that is no mutant, but asks for a trace (``switch.py``).
TRACE = 2**32 - 2
#: What a test may work to be of use here (s), and all tests of one mutant together.
LONGEST_TEST, LONGEST = 20.0, 8.0
SLOWER, LEAST = 5.0, 10.0
BATCHES = (0.5, 2.0, 6.0)
MEMORY = 8 << 30


def split_off(work: Callable[[], bool], seconds: float) -> tuple[str, float]:
    """Do work in a process of its own: ``passed``, ``failed`` or ``too long``, and how long it worked."""
    process = os.fork()
    if process == 0:
        resource.setrlimit(resource.RLIMIT_CPU, (int(seconds) + 1, int(seconds) + 2))
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        nowhere = os.open(os.devnull, os.O_RDWR)
        for stream in range(3):
            os.dup2(nowhere, stream)
        try:
            code = 0 if work() else 1
        except BaseException:
            code = 1
        os._exit(code)
    end = time.monotonic() + 10 * seconds
    while True:
        done, status, used = os.wait4(process, os.WNOHANG)
        if done:
            code = os.waitstatus_to_exitcode(status)
            # The kernel ends what works beyond its limit, by SIGXCPU and then by SIGKILL.
            outcome = "too long" if code in (-24, -9) else "failed" if code else "passed"
            return outcome, used.ru_utime + used.ru_stime
        if time.monotonic() > end:
            os.kill(process, 9)
        time.sleep(0.005)


def all_pass(items: list[pytest.Item]) -> bool:
    return not any(report.failed for item in items for report in runtestprotocol(item, log=False, nextitem=None))


def batches(tests: list[tuple[float, str]]) -> Iterator[tuple[float, list[str]]]:
    """Split tests, the quick ones first, until they would work too long together."""
    limits, batch, together, spent = list(BATCHES), list[str](), 0.0, 0.0
    for seconds, name in sorted(tests):
        if batch and together + seconds > limits[0]:
            yield together, batch
            spent += together
            batch, together, limits = [], 0.0, limits[1:] or limits
        if spent + seconds > LONGEST:
            break
        batch.append(name)
        together += seconds
    if batch:
        yield together, batch


class Core:
    """The switches of the built core."""

    def __init__(self) -> None:
        import wheelrate._core

        self.library = ctypes.PyDLL(wheelrate._core.__file__)
        self.library.wheelrate_mutant.argtypes = [ctypes.c_uint32]

    def switch(self, number: int) -> None:
        self.library.wheelrate_mutant(number)


def trace(core: Core, items: list[pytest.Item], path: Path) -> Iterator[dict[str, Any]]:
    done = {json.loads(row)["name"] for row in path.read_text("utf-8").splitlines()} if path.exists() else set()
    with tempfile.TemporaryDirectory() as scratch:
        seen = Path(scratch) / "seen"
        os.environ["WHEELRATE_TRACE"] = str(seen)
        for item in items:
            if item.nodeid in done:
                continue
            seen.unlink(missing_ok=True)

            def work(item: pytest.Item = item) -> bool:
                core.switch(TRACE)
                return all_pass([item])

            outcome, seconds = split_off(work, LONGEST_TEST)
            reaches = sorted(map(int, seen.read_text().split())) if seen.exists() and outcome == "passed" else []
            yield {"name": item.nodeid, "outcome": outcome, "seconds": seconds, "reaches": reaches}


def tried(
    core: Core, items: dict[str, pytest.Item], traces: list[Path], numbers: list[int]
) -> Iterator[dict[str, Any]]:
    tests: dict[int, list[tuple[float, str]]] = defaultdict(list)
    for row in (json.loads(line) for path in traces for line in path.read_text("utf-8").splitlines()):
        for number in row["reaches"] if row["name"] in items else []:
            tests[number].append((row["seconds"], row["name"]))
    for number in numbers:
        outcome = "missed" if tests[number] else "never reached"
        for seconds, batch in batches(tests[number]):

            def work(number: int = number, batch: list[str] = batch) -> bool:
                core.switch(number)
                return all_pass([items[name] for name in batch])

            became, _ = split_off(work, LEAST + SLOWER * seconds)
            if became != "passed":
                outcome = became
                break
        yield {"number": number, "outcome": outcome, "suite": "pytest"}


@pytest.hookimpl(tryfirst=True)
def pytest_runtestloop(session: pytest.Session) -> bool:
    part, parts = map(int, os.environ["MUTANTS_PART"].split("/"))
    traced, core = Path(os.environ["MUTANTS_TRACE"]), Core()
    asked = os.environ.get("MUTANTS_TRY")
    if asked is None:
        path = traced.with_suffix(f".{part}.jsonl")
        rows = trace(core, session.items[part::parts], path)
    else:
        path = Path(os.environ["MUTANTS_ROWS"]).with_suffix(f".{part}.jsonl")
        numbers = json.loads(Path(asked).read_text("utf-8"))[part::parts]
        traces = sorted(traced.parent.glob(f"{traced.stem}.*.jsonl"))
        rows = tried(core, {item.nodeid: item for item in session.items}, traces, numbers)
    with path.open("a", encoding="utf-8") as written:
        for row in rows:
            written.write(json.dumps(row) + "\n")
            written.flush()
    return True
