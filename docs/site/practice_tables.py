"""Tables of what is common and what is usual, from the data that the core ships."""

import sys
from pathlib import Path
from typing import Any

if sys.version_info >= (3, 11):
    import tomllib
else:
    import tomli as tomllib


def comment(text: str) -> tuple[str, list[tuple[str, str]]]:
    """Take the comment that a data file begins with: its sentences, and what each key holds."""
    lines = []
    for line in text.splitlines():
        if not line.startswith("#"):
            break
        lines.append(line[1:])
    sentences = " ".join(line.strip() for line in lines if not line.startswith("   ")).strip()
    keys: list[tuple[str, str]] = []
    for line in lines:
        if not line.startswith("   "):
            continue
        name, _, meaning = line.strip().partition("  ")
        if line[3] != " ":
            keys.append((name, meaning.strip()))
        elif keys:
            keys[-1] = (keys[-1][0], f"{keys[-1][1]} {line.strip()}")
    return sentences, keys


def table(heads: list[str], rows: list[list[str]]) -> str:
    """Write a Markdown table."""
    lines = [heads, ["---"] * len(heads), *rows]
    return "\n".join("| " + " | ".join(line) + " |" for line in lines)


def _range(value: Any) -> str:
    if isinstance(value, dict):
        return f"{value['from']} to {value['to']}" if "from" in value else str(value.get("value", value))
    return "" if value is None else str(value)


def common_practice(data: Path) -> str:
    """Write the page of common practice."""
    text = data.read_text("utf-8")
    said, keys = comment(text)
    rows = [
        [row["discipline"], row["end"], row["sag"], _range(row.get("length") or row.get("share")), row["direction"],
         row["basis"] + (f"; {row['note']}" if "note" in row else "")]
        for row in tomllib.loads(text)["sag"]
    ]  # fmt: skip
    heads = ["discipline", "end", "sag", "wanted", "along", "basis"]
    return f"# Common practice\n\n{said}\n\n{table(heads, rows)}\n\n## What a row holds\n\n{_keys(keys)}\n"


def usual_values(data: Path) -> str:
    """Write the page of usual values."""
    text = data.read_text("utf-8")
    said, keys = comment(text)
    kinds = tomllib.loads(text)["usual"]
    names = list(dict.fromkeys(key for kind in kinds for key in kind if key != "kind"))
    rows = [[f"`{name}`", *(_range(kind.get(name)) for kind in kinds)] for name in names]
    heads = ["", *(kind.get("kind", "any") for kind in kinds)]
    return f"# Usual values\n\n{said}\n\n{table(heads, rows)}\n\n## What a row holds\n\n{_keys(keys)}\n"


def _keys(keys: list[tuple[str, str]]) -> str:
    return table(["key", "holds"], [[f"`{name}`", meaning] for name, meaning in keys])
