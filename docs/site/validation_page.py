"""The page of validation: ``validation_page.py ROWS KEPT`` brings the rows of the tests into docs/validation.json.

A check stands once on the page, however many values it goes through: with how many, and with the one that used most of
what is allowed. `page` writes the page from what is kept; what the sources are is the head of each file of tests.
"""

import json
import re
import sys
from pathlib import Path
from typing import Any

import module_heads
import trust

ROOT = Path(__file__).parents[2]
BENCHES = ROOT / "docs" / "benches.txt"
REFERENCE, PYTHON = ROOT / "tests" / "reference", ROOT / "tests" / "python"


def used(row: dict[str, Any]) -> float:
    """Say what share of the tolerance a row used."""
    if row["tolerance"] == 0:
        return 0.0 if row["deviation"] == 0 else float("inf")
    return float(abs(row["deviation"]) / row["tolerance"])


def bring_together(rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Keep of each check the row that used most, with the number of values."""
    checks: dict[tuple[str, str, int], dict[str, Any]] = {}
    for row in rows:
        file = Path(row["file"]).name
        test = re.sub(r"^\w+::|\[.*\]$", "", row["test"] or "")
        key = (file, test, row["line"])
        kept = checks.get(key)
        count = row.get("count", 1) + (kept["count"] if kept else 0)
        if kept is None or used(row) > used(kept):
            kept = {
                name: row[name]
                for name in ("what", "found", "expected", "deviation", "tolerance", "relative", "reason")
            }
            checks[key] = {"file": file, "test": test, "line": row["line"], **kept}
        checks[key]["count"] = count
    # As they stand in the files, Rust before Python.
    kept_rows = [
        checks[key] for key in sorted(checks, key=lambda key: (key[0].endswith(".py"), key[0], key[2], key[1]))
    ]
    for row in kept_rows:
        del row["line"]
    return kept_rows


def _number(value: float) -> str:
    return f"{value:.7g}"


def _words(test: str) -> str:
    return test.removeprefix("test_").replace("_", " ")


#: What a check in Rust is named by, where nobody named it: its source. How each turn of it reads in words.
IN_WORDS = [
    (r"\.unwrap\(\)|self::|&|\.abs\(\)$", ""),
    (r'^si::<(Gauge|Absolute)Pressure>\("([^"]+)"\)$', r"\2 (\1) in SI units"),
    (r'^si::<\w+>\("([^"]+)"\)$', r"\1 in SI units"),
    (r'^rate\("([^"]+)", "([^"]+)"\)$', r"\1 in \2"),
    (r"^n_per_mm\((.+)\)$", r"\1, N/mm"),
    (r'\.in_unit\("([^"]+)"\)$', r", \1"),
    (r"\.si\(\) / 0\.0254$", ", in"),
    (r"\.si\(\) \* 1e3$", ", mm"),
    (r"\.si\(\) \* TAU$", ", rad/s"),
    (r"\.si\(\)$", ", SI units"),
    (r"\.shear_stress\(.*StressFactor::(\w+)\)", r" shear stress by \1"),
    (r"StressFactor::(\w+)\.at\((?:spring\.)?index(?:\(\))?\)", r"factor of \1 at the index"),
    (r"Spring::from\((\w+)\)", r"\1"),
    (r"\.at\(at\)\.(\w+)", r" \1 there"),
    (r"\.at\((\w+)\)\.(\w+)", r" \2 at that \1"),
    (r"(\w+)\.(cos|sin)\(\)", r"\2 \1"),
    (r" \* ", " × "),
    (r"^(\w+)\((\w+)\)$", r"\1 of \2"),
    (r"^(\w+)\((\w+), (\w+)\)$", r"\1 of \2 and \3"),
    (r"(?<=[a-z])\.(?=[a-z])", " "),
    (r"(?<=\w)\(\)", ""),
    (r"_(?=[a-z])", " "),
]
CODE = re.compile(r"::|\w\(|\w\[|[a-z]\.[a-z]|_|TAU|[<>&]")


def _named(what: str) -> str:
    """Give the name of a check in words; as code where there are none for it."""
    what = re.sub(r"\s+", " ", what)
    if not CODE.search(what):
        return what
    words = what
    for turn, reads in IN_WORDS:
        words = re.sub(turn, reads, words)
    return f"`{what}`" if CODE.search(words) else words


def _table(rows: list[dict[str, Any]]) -> str:
    lines = ["| check | values | found | expected | deviation | tolerance | reason |", "|---|---|---|---|---|---|---|"]
    for row in rows:
        of = " relative" if row["relative"] else ""
        shown = _named(row["what"]).replace("|", "\\|")
        cells = [
            f"{_words(row['test'])}: {shown}",
            str(row["count"]),
            _number(row["found"]),
            _number(row["expected"]),
            f"{row['deviation']:.1e}",
            f"{row['tolerance']:.1e}{of}",
            row["reason"],
        ]
        lines.append("| " + " | ".join(cells) + " |")
    return ":::{container} checks\n\n" + "\n".join(lines) + "\n:::"


def _source(file: str) -> str:
    """Take what a file of tests says of its sources."""
    if file.endswith(".rs"):
        return module_heads.as_markdown(module_heads.head(REFERENCE / file), 4)
    text = (PYTHON / file).read_text("utf-8")
    found = re.match(r'"""(.*?)"""', text, re.DOTALL)
    said = found[1].strip() if found else ""
    return re.split(r"\n=+ ", said)[0].replace("``", "`")


def page(kept: Path) -> str:
    """Write the page."""
    checks = json.loads(kept.read_text("utf-8"))
    files = list(dict.fromkeys(row["file"] for row in checks))
    values = sum(row["count"] for row in checks)
    closest = max((used(row) for row in checks), default=0.0)
    parts = [
        "# Validation",
        "What is computed, held against the outside: published values, other programs, closed forms. The tests write"
        " this page (`make validation`); each row is a check that runs with them and fails when its deviation leaves"
        f" the tolerance. {len(checks)} checks over {values} values, from {len(files)} files of tests. Of a check that"
        " goes through many values the one that uses most of its tolerance is shown.",
        f"The check that is nearest to its limit uses {100 * closest:.0f} % of it: where a printed digit is the"
        " tolerance, that is the rounding of the page it was read from.",
        "## Simulated garages",
        "Thousands of invented garages with a known true state, read with errors as people make them: does an interval"
        " of 95 % hold the truth in 95 % of them, do stated chances come true, how much is lost against the best"
        " decision? How it is done and what came out in numbers stands on the page of [`infer`](explanation/infer.md).",
        "![Share of 95 % intervals that hold the truth, mean errors, and stated chances against how often they came"
        " true](calibration.png)",
        "Anybody can do the same for one bike as it was read: `wheelrate rehearse FILE`.",
    ]
    if BENCHES.exists():
        parts += [
            "## Benches",
            "Against what a person would write with NumPy and SciPy, in one run (`make bench-ratios`). The times are"
            " of one machine; the ratios travel better.",
            f"```text\n{BENCHES.read_text('utf-8').strip()}\n```",
        ]
    parts += trust.section()
    for file in files:
        language = "Rust" if file.endswith(".rs") else "Python"
        title = re.sub(r"\b(En|en|nist|strd|jcgm)\b", lambda word: word[0].upper(), _words(file.rsplit(".", 1)[0]))
        rows = [row for row in checks if row["file"] == file]
        parts += [f"## {title[0].upper()}{title[1:]} ({language})", _source(file), _table(rows)]
    return "\n\n".join(parts) + "\n"


def main(rows: Path, kept: Path) -> None:
    """Bring rows together and keep them."""
    checks = bring_together([json.loads(line) for line in rows.read_text("utf-8").splitlines()])
    kept.write_text("[\n" + ",\n".join(json.dumps(row, ensure_ascii=False) for row in checks) + "\n]\n", "utf-8")
    print(f"{len(checks)} checks over {sum(row['count'] for row in checks)} values")


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
