"""A check against the outside: it asserts, and where ``WHEELRATE_VALIDATION`` names a file it leaves a row there.

The page of validation is made of these rows. `Tolerance` is a number with its reason.
"""

import json
import os
import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np


@dataclass(frozen=True)
class Tolerance:
    """How far found and expected may lie apart, and why: relative to the expected, absolute, or the larger of both."""

    reason: str
    rel: float = 0.0
    abs: float = 0.0

    def of(self, expected):
        return np.maximum(self.rel * np.abs(expected), self.abs)


def agree(what, found, expected, tolerance):
    """Hold a number or an array found against the one expected; of an array the worst is written down."""
    found, expected = np.broadcast_arrays(np.asarray(found, float), np.asarray(expected, float))
    assert found.size, f"{what}: nothing to hold against each other"
    found, expected = found.ravel(), expected.ravel()
    off, allowed = np.abs(found - expected), np.broadcast_to(tolerance.of(expected), found.shape)
    # Where nothing is allowed, any deviation is the worst; a NaN is worse than all.
    used = np.where(off == 0, 0.0, off / np.where(allowed > 0, allowed, np.finfo(float).tiny))
    worst = int(np.argmax(np.where(np.isnan(used), np.inf, used)))
    _write(what, found[worst], expected[worst], allowed[worst], found.size, tolerance)
    assert np.all(off <= allowed), (
        f"{what}: found {found[worst]!r}, expected {expected[worst]!r}, off by {off[worst]:.3g}; "
        f"at most {allowed[worst]:.3g} ({tolerance.reason})"
    )


def _write(what, found, expected, allowed, count, tolerance):
    path = os.environ.get("WHEELRATE_VALIDATION")
    if not path:
        return
    caller = sys._getframe(2)
    relative = tolerance.rel > 0 and allowed == tolerance.rel * abs(expected)
    scale = abs(expected) if relative else 1.0
    row = {
        "file": Path(caller.f_code.co_filename).name,
        "line": caller.f_lineno,
        "test": os.environ.get("PYTEST_CURRENT_TEST", "").partition("::")[2].partition(" ")[0],
        "what": what,
        "found": float(found),
        "expected": float(expected),
        "deviation": float((found - expected) / scale),
        "tolerance": float(allowed / scale),
        "relative": bool(relative),
        "reason": tolerance.reason,
        "count": int(count),
    }
    # One write per row: rows of tests side by side do not mix.
    with open(path, "a", encoding="utf-8") as file:
        file.write(json.dumps(row) + "\n")
