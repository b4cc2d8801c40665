"""The figures of robustness on the page of validation: ``trust.py fuzz|limits|broken|coverage|mutants FILE``.

It keeps what a run printed. Fuzzing adds up over runs: executions are what counts. The other figures are those of the
last run.
"""

from __future__ import annotations

import json
import re
import sys
from collections import Counter
from pathlib import Path
from typing import Any

KEPT = Path(__file__).parents[1] / "trust.json"

#: Changes that were looked at and change nothing that can be seen, each with the reason, by a name without the line.
EQUIVALENT = Path(__file__).parents[2] / "tests/mutants/equivalent.tsv"
#: Changes that could matter and that no test notices, each with the reason.
OPEN = EQUIVALENT.with_name("open.tsv")

#: What holds of each body, as the page says it.
HELD = {
    "unit text": "what is read is finite and reads back to the bit",
    "address": "what is read is written as itself",
    "spring stack": "finite; energy between two strokes within what the forces allow; reads back equal",
    "mechanism": "a curve is its travels one by one, to the bit; finite",
    "measured table": "finite, uncertainties not negative",
    "bike file": "reads back equal in both grammars, or is refused in short lines",
    "edit": "the changed bike reads back equal",
    "log": "every reading in one set; the bike of any day has a sound log",
    "decision": "no number of fit, decision or sheet is none",
}


def keep(what: str, rows: Path, *more: Path) -> dict[str, Any]:
    """Bring a run's output into what is kept."""
    kept: dict[str, Any] = json.loads(KEPT.read_text("utf-8")) if KEPT.exists() else {}
    text = rows.read_text("utf-8")
    if what == "fuzz":
        kept["fuzz"] = added_up(kept.get("fuzz", []), [json.loads(line) for line in text.splitlines()])
    elif what == "limits":
        kept["limits"] = json.loads(text)
    elif what == "coverage":
        kept["coverage"] = covered([text, *(path.read_text("utf-8") for path in more)])
    elif what == "mutants":
        kept["mutants"] = tried(json.loads(text))
    else:
        found = re.search(r"(\d+) broken files, (\d+) said at the key, (\d+) once", text)
        if found is None:
            raise SystemExit(f"{rows}: no count of broken files")
        kept["broken"] = dict(zip(("files", "at the key", "once"), map(int, found.groups()), strict=True))
    return kept


def added_up(before: list[dict[str, Any]], now: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Add the executions of a run to those of earlier ones."""
    sums = {row["target"]: dict(row) for row in before}
    for row in now:
        known = sums.setdefault(row["target"], {**row, "executions": 0, "seconds": 0, "longest": 0.0})
        known["executions"] += row["executions"]
        known["seconds"] += row["seconds"]
        known["longest"] = max(known["longest"], row["longest"])
    return list(sums.values())


#: Below this share of lines a file is named.
NAMED_BELOW = 90.0


def covered(tracefiles: list[str]) -> dict[str, Any]:
    """Lines of the core that any of the suites runs, and the files with the most that none does."""
    source = re.compile(r"SF:.*/core/src/(?!.*tests?(/|\.rs))(.*)")
    hits: dict[str, dict[int, bool]] = {}
    for text in tracefiles:
        of: dict[int, bool] = {}
        for line in text.splitlines():
            if line.startswith("SF:"):
                of = hits.setdefault(found[2], {}) if (found := source.fullmatch(line)) else {}
            elif line.startswith("DA:"):
                number, count = map(int, line.removeprefix("DA:").split(",")[:2])
                of[number] = of.get(number, False) or count > 0
    files = {name: (len(of), sum(of.values())) for name, of in hits.items()}
    least = sorted((100 * run / count, name) for name, (count, run) in files.items() if 100 * run < NAMED_BELOW * count)
    return {
        "lines": sum(count for count, _ in files.values()),
        "run": sum(run for _, run in files.values()),
        "python": len(tracefiles) > 1,
        "least": [[name, round(percent, 1)] for percent, name in least],
    }


def tried(outcomes: dict[str, Any]) -> dict[str, Any]:
    """Count what became of a sample of mutants, and by which tests, and name those that nothing noticed."""
    by = Counter(row["suite"] for row in outcomes["rows"] if "suite" in row)
    passed = ("missed", "never reached")
    known, left = (
        dict(line.split("\t") for line in path.read_text("utf-8").splitlines()) for path in (EQUIVALENT, OPEN)
    )
    missed = {row["name"]: row["key"].rsplit(" #", 1)[0] for row in outcomes["rows"] if row["outcome"] in passed}
    return {
        "all": outcomes["mutants"],
        "do not compile": outcomes["do not compile"],
        "tried": len(outcomes["rows"]),
        "noticed at first": outcomes["noticed at first"],
        "noticed by": dict(by.most_common()),
        "change nothing": {name: known[key] for name, key in sorted(missed.items()) if key in known},
        "missed": {name: left.get(key) for name, key in sorted(missed.items()) if key not in known},
    }


def section() -> list[str]:
    """Write the part of the page."""
    if not KEPT.exists():
        return []
    kept = json.loads(KEPT.read_text("utf-8"))
    parts = ["## What any input may do"]
    if broken := kept.get("broken"):
        share = 100 * broken["at the key"] / broken["files"]
        parts.append(
            f"**Broken files** (`make broken-files`): of {broken['files']:,} files, one thing broken in each way that"
            f" a key can be, {share:.1f} % have the fault said at the key that was broken, or at one that a"
            f" contradiction names too; {100 * broken['once'] / broken['files']:.1f} % have it said once."
        )
    if fuzz := kept.get("fuzz"):
        total = sum(row["executions"] for row in fuzz)
        rows = [
            f"| {row['target']} | {row['executions']:,} | {row['longest']:.2f} | {HELD.get(row['target'], '')} |"
            for row in fuzz
        ]
        parts.append(
            f"**Fuzzing** (`make fuzz`): {total:,} executions, mutated from valid things, without a panic. A body also"
            " fails where something does not hold."
        )
        parts.append("| body | executions | longest (s) | what holds |\n|---|---|---|---|\n" + "\n".join(rows))
    if limits := kept.get("limits"):
        slowest = max(limits, key=lambda row: row["seconds"])
        largest = max(limits, key=lambda row: row["megabytes"])
        parts.append(
            f"**Limits** (`make limits`): {len(limits)} kinds of nasty file, each of 10 MB, of the most that is read"
            f" and of the most rows. The slowest ({slowest['file']}) took {slowest['seconds']:.2f} s, the largest"
            f" ({largest['file']}) {largest['megabytes']:.0f} MB; stated are 2 s and 300 MB."
        )
    if coverage := kept.get("coverage"):
        share = 100 * coverage["run"] / coverage["lines"]
        suites = "the suites in Rust and Python" if coverage["python"] else "the suites in Rust"
        holes = ", ".join(f"`{name}` {percent} %" for name, percent in coverage["least"]) or "none"
        parts.append(
            f"**Coverage** (`make coverage`): {suites} run {share:.1f} % of the {coverage['lines']:,} lines of"
            f" the core that make code. Files below {NAMED_BELOW:.0f} %: {holes}."
        )
    if mutants := kept.get("mutants"):
        missed, nothing = len(mutants["missed"]), len(mutants["change nothing"])
        noticed = mutants["tried"] - missed - nothing
        in_core, in_python = mutants["noticed by"].get("wheelrate", 0), mutants["noticed by"].get("pytest", 0)
        first = mutants.get("noticed at first")
        at_first = (
            f"When the sample was drawn they noticed {first:,} ({100 * first / mutants['tried']:.1f} %); tests for what"
            " was left have been written since. "
            if first
            else ""
        )
        python = f"{in_python:,} those in Python" if in_python else "those in Python left out"
        parts.append(
            f"**Mutants** (`make mutants`): of {mutants['tried']:,} changes of one operator or value of the core, drawn"
            f" from the {mutants['all'] - mutants['do not compile']:,} that compile, the tests notice {noticed:,}"
            f" ({100 * noticed / mutants['tried']:.1f} %): {in_core:,} the unit tests of the core,"
            f" {noticed - in_core - in_python:,} the other suites in Rust, {python}. {at_first}Of the others"
            f" {nothing} change nothing that can be seen (reasons in `tests/mutants/equivalent.tsv`): the start of an"
            " iteration, work that is saved, a bound that is met with probability nought."
            f" {missed} are open, listed with the reason in `docs/trust.json`."
        )
    return parts


if __name__ == "__main__":
    KEPT.write_text(
        json.dumps(keep(sys.argv[1], *map(Path, sys.argv[2:])), indent=1, ensure_ascii=False) + "\n",
        "utf-8",
    )
