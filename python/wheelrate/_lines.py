"""Text no wider than the terminal: sentences, tables, lists."""

from __future__ import annotations

import re
import shutil
import textwrap
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterable

    #: Head of each column with its unit, its numbers or words, and the decimals it is printed with, or each row is.
    Table = list[tuple[str, str, list[Any], int | list[int]]]

# A wider page is hard to read, on a narrower one words are torn.
_WIDEST, _NARROWEST = 110, 40


# What moves the cursor, ends a line or turns the direction of writing, but for the line ends and tabs of our own.
_ACTIVE = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2066-\u2069\ufeff]")


def plain(shown: str) -> str:
    """Write what would act on a terminal as its escape, in a form that is one in JSON too."""
    return _ACTIVE.sub(lambda sign: f"\\u{ord(sign[0]):04x}", shown)


def width() -> int:
    """Columns to print in: those of the terminal, as far as they can be read."""
    return min(_WIDEST, max(_NARROWEST, shutil.get_terminal_size().columns))


def printed(value: float | None, decimals: int | list[int], row: int) -> str:
    """Print a number of a table."""
    return "" if value is None else f"{value:.{decimals if isinstance(decimals, int) else decimals[row]}f}"


def text(table: Table) -> str:
    """Set a table as text: words to the left, numbers to the right."""
    cells = []
    for head, unit, values, decimals in table:
        words = all(isinstance(value, str) for value in values)
        if words:
            body = [plain(value).replace("\n", "\\n") for value in values]
        else:
            body = [printed(value, decimals, row) for row, value in enumerate(values)]
        width = max(len(cell) for cell in [head, unit, *body])
        cells.append([cell.ljust(width) if words else cell.rjust(width) for cell in [head, unit, *body]])
    lines = ["  ".join(row).rstrip() for row in zip(*cells, strict=True)]
    return "\n".join(line for at, line in enumerate(lines) if line or at != 1)


def entries(table: dict[str, Any], most: int | None = None) -> str:
    """Set a table of the sheet as text no wider than the page.

    As it is, where that fits; else with headings of several lines, and below each row what its columns have no room
    for and its remarks (the column without a heading). Of rows that stand best first, no more than the `most` best are
    set then, and today's.
    """
    heads: list[str] = table["columns"]
    rows = [[entry["text"] for entry in row] for row in table["rows"]]
    whole = text([(head, "", [row[at] for row in rows], 0) for at, head in enumerate(heads)])
    if max(map(len, whole.splitlines())) <= width():
        return whole
    shown = [row for place, row in enumerate(rows) if most is None or place < most or row[0].endswith(" now")]
    named = [at for at, head in enumerate(heads) if head]
    alike = [at for at in named[1:] if len(rows) > 1 and len({row[at] for row in rows}) == 1 and rows[0][at]]
    named = [at for at in named if at not in alike]
    remarks = [at for at, head in enumerate(heads) if not head]
    broad = {at: max(len(word) for word in [*heads[at].split(), *(row[at] for row in shown)]) for at in named}
    below: list[int] = []
    while len(broad) > 1 and sum(broad.values()) + 2 * (len(broad) - 1) > width():
        broadest = max([at for at in broad if at != named[0]], key=lambda at: broad[at])
        below = sorted([*below, broadest])
        del broad[broadest]
    lines = _under_headings({heads[at]: room for at, room in broad.items()}) if len(broad) > 1 else []
    for row in shown:
        lines.append(_spaced([row[at] for at in broad], broad.values()))
        remark = [*(f"{heads[at]} {row[at]}" for at in below if row[at]), *(row[at] for at in remarks if row[at])]
        lines += wrapped("; ".join(remark), "    ", "    ")
    if len(shown) < len(rows):
        lines += wrapped(f"{len(rows) - len(shown)} more, each less likely to land: --json has all.", "")
    return "\n".join([*lines, *(f"{heads[at]}, in every row: {rows[0][at]}" for at in alike)])


def _spaced(cells: Iterable[str], broad: Iterable[int]) -> str:
    return "  ".join(cell.ljust(room) for cell, room in zip(cells, broad, strict=True)).rstrip()


def _under_headings(broad: dict[str, int]) -> list[str]:
    parts = [textwrap.wrap(head, room) for head, room in broad.items()]
    deep = max(map(len, parts))
    return [_spaced([part[at] if at < len(part) else "" for part in parts], broad.values()) for at in range(deep)]


#: Where no line breaks: before a unit or ±, after a ±.
_HELD = re.compile(r"(?<=\d) (?=[%±×]|[a-zA-Z°/³]{1,8}\b)|(?<=±) (?=\d)")


def wrapped(sentence: str, first: str, rest: str = "") -> list[str]:
    """Break a sentence into lines of the page, no number from its unit or its ±."""
    held = _HELD.sub("\N{NO-BREAK SPACE}", sentence)
    lines = textwrap.wrap(held, width(), initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]


def items(sentences: list[str]) -> list[str]:
    return [line for item in sentences for line in wrapped(item, "- ", "  ")]


def of_end(end: str, why: str) -> str:
    """Name the end that a reason is of, where it does not."""
    return why if why.startswith(end) else f"{end}: {why}"
