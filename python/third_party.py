"""Notices of the crates that the wheel links: ``third_party.py TARGET`` writes them, ``--check`` misses none.

Where a crate may be had under several licences, the first of MIT, Apache-2.0, Zlib and the BSD ones is taken. Licence
texts that differ in their spaces at most stand once.
"""

import json
import re
import subprocess
import sys
from pathlib import Path

#: What we choose where there is a choice, and the file that holds its text.
CHOICES = ["MIT", "Apache-2.0", "Zlib", "BSD-2-Clause", "BSD-3-Clause", "0BSD", "Unlicense", "CC0-1.0"]
HEAD = """# Third-party notices

The package for Python and every binary made of this workspace link the crates below. Written by `make third-party` from
their own sources.
"""


def linked() -> list[dict[str, str]]:
    """List the crates that end up in the extension module: no build scripts, macros or tools for tests."""
    command = ["cargo", "metadata", "--format-version", "1", "--locked"]
    metadata = json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)
    packages = {package["id"]: package for package in metadata["packages"]}
    nodes = {node["id"]: node for node in metadata["resolve"]["nodes"]}
    start = next(key for key, package in packages.items() if package["name"] == "wheelrate-python")
    seen, todo = set(), [start]
    while todo:
        key = todo.pop()
        macro = any("proc-macro" in target["kind"] for target in packages[key]["targets"])
        if key in seen or macro:
            continue
        seen.add(key)
        for dependency in nodes[key]["deps"]:
            if any(kind["kind"] is None for kind in dependency["dep_kinds"]):
                todo.append(dependency["pkg"])
    return sorted(
        (packages[key] for key in seen if packages[key]["source"]),
        key=lambda package: (package["name"], package["version"]),
    )


def chosen(expression: str) -> str:
    """Choose a licence out of an expression."""
    words = re.findall(r"[A-Za-z0-9.\-]+", expression.replace("/", " OR "))
    if "AND" in words:
        return expression
    return next((licence for licence in CHOICES if licence in words), expression)


def text_of(package: dict[str, str], licence: str) -> str:
    """Read the licence text that the crate ships; where it ships none, say so."""
    files = sorted(Path(package["manifest_path"]).parent.glob("[Ll][Ii][Cc][Ee][Nn][SC]E*"))
    word = licence.split("-")[0].lower()
    files = [path for path in files if path.is_file()]
    best = [path for path in files if word in path.name.lower()] or files[:1]
    if not best:
        return f"The crate ships no text; it is under {licence}, by {', '.join(package['authors']) or 'its authors'}."
    return best[0].read_text("utf-8", errors="replace").strip()


def notices() -> str:
    """Write the page."""
    rows: list[str] = []
    texts: dict[tuple[str, str], tuple[str, list[str]]] = {}
    for package in linked():
        licence = chosen(package["license"])
        rows.append(f"| {package['name']} | {package['version']} | {package['license']} | {licence} |")
        text = text_of(package, licence)
        names = texts.setdefault((licence, " ".join(text.split())), (text, []))[1]
        names += [package["name"]] if package["name"] not in names else []
    parts = [HEAD, "| crate | version | offered under | taken under |\n|---|---|---|---|\n" + "\n".join(rows)]
    for (licence, _), (text, names) in texts.items():
        parts.append(f"## {', '.join(names)}: {licence}\n\n```text\n{text}\n```")
    return "\n\n".join(parts) + "\n"


def missing(kept: str) -> list[str]:
    """Name the crates that are linked in a version that the kept notices do not have."""
    rows = (f"{package['name']} | {package['version']}" for package in linked())
    return [row for row in rows if f"| {row} |" not in kept]


if __name__ == "__main__":
    target = Path(sys.argv[-1])
    if "--check" in sys.argv:
        if absent := missing(target.read_text("utf-8")):
            sys.exit(f"{target} lacks {', '.join(absent)}: make third-party")
    else:
        target.write_text(notices(), "utf-8")
