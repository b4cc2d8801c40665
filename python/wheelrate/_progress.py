"""How far long work is, shown on a terminal by whoever has one.

The bindings call `show` with rounds done and rounds in all, for work that takes longer than a second; None shows
nothing.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

show: Callable[[int, int], None] | None = None

_ERASE = "\r\x1b[K"


@contextmanager
def on_terminal() -> Iterator[None]:
    """Show per cent on standard error while this lasts, if that is a terminal; the line is gone after it."""
    global show
    if not sys.stderr.isatty():
        yield
        return
    shown = False

    def per_cent(done: int, total: int) -> None:
        nonlocal shown
        shown = True
        sys.stderr.write(f"{_ERASE}{100 * done // total} % of {total:,} done; Ctrl-C stops it")
        sys.stderr.flush()

    before, show = show, per_cent
    try:
        yield
    finally:
        show = before
        if shown:
            sys.stderr.write(_ERASE)
            sys.stderr.flush()
