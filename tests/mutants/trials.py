"""Which change of one operator or value of the core does no test notice? ``trials.py FOLDER --sample N``.

The list is that of cargo-mutants, under ``.cargo/mutants.toml``. All of them are built once, behind switches
(``switch.py``), in a copy of what is committed. Each test is run once to see which mutants it reaches. A mutant is
tried with the tests that reach it, the quick ones first: those of the core, then the other suites in Rust, then those
of pytest (``pytest_trials.py``), until one fails. A run that was stopped goes on where it was. What comes out is in
``FOLDER/outcomes.json``. When more tests are written, another folder and ``--before`` with that file try what is left.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from switch import switch

ROOT = Path(__file__).parents[2]
SUITES = ("wheelrate", "answers", "reference", "bad_inputs", "round_trips", "plugged")
#: Tests in Python that compute: those of texts, files and pictures take long, and notice little that these do not.
PYTHON = (
    "bike_motion",
    "damping",
    "descent",
    "design",
    "families",
    "fast_gas",
    "fork_friction",
    "front_links",
    "garage",
    "history",
    "inference",
    "linkage",
    "loads",
    "longer_link",
    "normal_boxes",
    "numbers",
    "outside",
    "plan",
    "posterior",
    "real_gas",
    "rehearsal",
    "riders",
    "road",
    "scenarios",
    "second_chamber",
    "setup",
    "spring_parts",
    "springs",
    "standing",
    "survey",
    "travel_log",
    "units",
    "values",
    "whole_bike",
)

#: A batch of tests goes round in a circle when it works so many times longer than usual, and so long at least (s).
SLOWER, LEAST = 5.0, 10.0
#: How long the first batches of tests usually work (s): a mutant that is noticed costs little.
BATCHES = (0.3, 3.0, 20.0)
#: What a test that passes may work (s).
LONGEST_TEST = 600.0
MEMORY = 6 << 30
#: Outcomes of a mutant that no test notices.
MISSED = ("missed", "never reached")

ENVIRONMENT = {
    "RUSTFLAGS": "--cap-lints allow",
    "CARGO_PROFILE_TEST_DEBUG": "0",
    "RUST_MIN_STACK": str(16 << 20),
    "RUST_TEST_THREADS": "1",
    "RAYON_NUM_THREADS": "1",
    "PROPTEST_RNG_SEED": "20261125",
    "PROPTEST_MAX_SHRINK_ITERS": "0",
    "PROPTEST_DISABLE_FAILURE_PERSISTENCE": "1",
}


@dataclass(frozen=True)
class Test:
    """A test of a suite, and how long it usually works (s)."""

    suite: str
    name: str
    seconds: float = 0.0


@dataclass(frozen=True)
class Trials:
    """The copy with its switches, and its test programs by suite."""

    tree: Path
    programs: dict[str, str]

    def run(self, tests: list[Test], seconds: float, **environment: str) -> str:
        """Run tests of one suite: ``passed``, ``failed`` or ``too long``."""
        suite = tests[0].suite
        command = [self.programs[suite], "--exact", *(test.name for test in tests)]
        place = self.tree / ("core" if suite == "wheelrate" else "tests")
        every = {**os.environ, **ENVIRONMENT, **environment}
        try:
            ran = subprocess.run(
                command, cwd=place, env=every, capture_output=True, preexec_fn=limit(seconds), timeout=10 * seconds
            )
        except subprocess.TimeoutExpired:
            return "too long"
        # The kernel ends what works beyond its limit, by SIGXCPU and then by SIGKILL.
        return "too long" if ran.returncode in (-24, -9) else "failed" if ran.returncode else "passed"

    def tests(self) -> list[Test]:
        """Every test that is not ignored."""
        found = []
        for suite, program in self.programs.items():
            listed, ignored = (
                subprocess.run(
                    [program, "--list", "--format", "terse", *more], capture_output=True, text=True, check=True
                ).stdout.splitlines()
                for more in ([], ["--ignored"])
            )
            names = [line.removesuffix(": test") for line in listed if line.endswith(": test") and line not in ignored]
            found += [Test(suite, name) for name in names]
        return found

    def reached(self, test: Test) -> dict[str, Any] | None:
        """Which mutants a test reaches, and how long it works; None where it fails as the code is."""
        with tempfile.TemporaryDirectory() as scratch:
            path = Path(scratch) / "seen"
            traced = self.run([test], LONGEST_TEST, WHEELRATE_MUTANT="trace", WHEELRATE_TRACE=str(path))
            began = time.monotonic()
            if "failed" in (traced, self.run([test], LONGEST_TEST)):
                print(f"fails as the code is, left out: {test}", flush=True)
                return None
            seconds = time.monotonic() - began
            seen = sorted(map(int, path.read_text().splitlines())) if path.exists() else []
        return {"suite": test.suite, "name": test.name, "seconds": seconds, "reaches": seen}

    def tried(self, number: int, tests: dict[str, list[Test]]) -> dict[str, Any]:
        """Try one mutant: what became of it, and by which suite."""
        for suite in self.programs:
            for batch in batches(tests.get(suite, [])):
                allowed = LEAST + SLOWER * sum(test.seconds for test in batch)
                outcome = self.run(batch, allowed, WHEELRATE_MUTANT=str(number))
                if outcome != "passed":
                    return {"number": number, "outcome": outcome, "suite": suite}
        return {"number": number, "outcome": "missed" if tests else "never reached"}


def limit(seconds: float) -> Callable[[], None]:
    """Bound what a program may use of a core and of memory: some mutants take all there is."""

    def limited() -> None:
        resource.setrlimit(resource.RLIMIT_CPU, (int(seconds) + 1, int(seconds) + 2))
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))

    return limited


def batches(tests: list[Test]) -> Iterator[list[Test]]:
    """Split the tests of one suite, the quick ones first."""
    limits, batch = list(BATCHES), list[Test]()
    for test in sorted(tests, key=lambda test: test.seconds):
        if batch and sum(other.seconds for other in batch) + test.seconds > limits[0]:
            yield batch
            batch = []
            limits = limits[1:] or limits
        batch.append(test)
    if batch:
        yield batch


def prepared(folder: Path) -> tuple[list[dict[str, Any]], set[int]]:
    """Make the copy with its switches, once: the mutants, and the numbers of those that do not compile."""
    tree, listed = folder / "tree", folder / "mutants.json"
    if not listed.exists():
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(parents=True)
        subprocess.run(["git", "clone", "--quiet", str(ROOT), str(tree)], check=True)
        asked = subprocess.run(
            ["cargo", "mutants", "--list", "--json"], cwd=tree, capture_output=True, text=True, check=True
        )
        mutants = [
            {key: row[key] for key in ("name", "file", "span", "genre", "replacement")}
            for row in json.loads(asked.stdout)
        ]
        out = switch(tree, mutants, {**os.environ, **ENVIRONMENT})
        listed.write_text(json.dumps({"mutants": mutants, "do not compile": sorted(out)}), "utf-8")
    kept = json.loads(listed.read_text("utf-8"))
    return kept["mutants"], set(kept["do not compile"])


def built(tree: Path) -> Trials:
    """Build the test programs of the copy."""
    packages = "--package wheelrate --package wheelrate-tests --package wheelrate-plugin-example"
    command = f"cargo test --no-run {packages} --lib --tests --message-format json"
    ran = subprocess.run(
        command.split(), cwd=tree, env={**os.environ, **ENVIRONMENT}, stdout=subprocess.PIPE, text=True, check=True
    )
    rows = [row for row in map(json.loads, ran.stdout.splitlines()) if row["reason"] == "compiler-artifact"]
    programs = {row["target"]["name"]: row["executable"] for row in rows if row["profile"]["test"]}
    return Trials(tree, {suite: programs[suite] for suite in SUITES})


#: Where a mutant stands, in its name: the line moves with any change above it.
PLACE = re.compile(r":\d+:\d+: ")


def keys(mutants: list[dict[str, Any]]) -> list[str]:
    """Name each mutant by its file, its change, and the how many-th of that name it is in the file."""
    before = Counter[str]()
    named = []
    for mutant in mutants:
        name = PLACE.sub(": ", mutant["name"], count=1)
        named.append(f"{name} #{before[name]}")
        before[name] += 1
    return named


def drawn(named: list[str], out: set[int], seed: int) -> list[int]:
    """Put the mutants that compile into an order drawn by the seed, which stays as it is where other code changes."""

    def place(number: int) -> bytes:
        return hashlib.sha256(f"{seed} {named[number]}".encode()).digest()

    return sorted((number for number in range(len(named)) if number not in out), key=place)


def traced(trials: Trials, folder: Path, pool: ThreadPoolExecutor) -> dict[int, dict[str, list[Test]]]:
    """Find the tests that reach a mutant, by mutant and suite."""
    path = folder / "reached.json"
    if not path.exists():
        path.write_text(json.dumps([row for row in pool.map(trials.reached, trials.tests()) if row]), "utf-8")
    tests: dict[int, dict[str, list[Test]]] = defaultdict(lambda: defaultdict(list))
    for row in json.loads(path.read_text("utf-8")):
        for number in row["reaches"]:
            tests[number][row["suite"]].append(Test(row["suite"], row["name"], row["seconds"]))
    return tests


def extended(tree: Path) -> None:
    """Build the Python package of the copy, its kernels as quick as a build of some minutes allows."""
    command = "cargo build --release --package wheelrate-python --message-format json"
    quick = {"CARGO_PROFILE_RELEASE_OPT_LEVEL": "1", "CARGO_PROFILE_RELEASE_DEBUG": "0"}
    every = {**os.environ, **ENVIRONMENT, **quick}
    ran = subprocess.run(command.split(), cwd=tree, env=every, stdout=subprocess.PIPE, text=True, check=True)
    rows = [row for row in map(json.loads, ran.stdout.splitlines()) if row["reason"] == "compiler-artifact"]
    [library] = [row["filenames"][0] for row in rows if row["target"]["name"] == "_core"]
    shutil.copy(library, tree / "python/wheelrate/_core.abi3.so")


def in_python(folder: Path, numbers: list[int], workers: int) -> dict[int, dict[str, Any]]:
    """Try mutants with the tests in Python, which are traced first."""
    tree, todo, rows = folder / "tree", folder / "todo.json", folder / "in_python"
    if not (tree / "python/wheelrate/_core.abi3.so").exists():
        extended(tree)
    before = [row for path in folder.glob("in_python.*.jsonl") for row in path.read_text("utf-8").splitlines()]
    done = {row["number"]: row for row in map(json.loads, before)}
    todo.write_text(json.dumps([number for number in numbers if number not in done]), "utf-8")
    files = [f"tests/python/test_{name}.py" for name in PYTHON]
    command = [sys.executable, "-m", "pytest", "--quiet", "-p", "pytest_trials", "-p", "no:xdist", *files]
    for asked in ({}, {"MUTANTS_TRY": str(todo), "MUTANTS_ROWS": str(rows)}):
        processes = []
        for part in range(workers):
            of_this = {
                "PYTHONPATH": f"{tree / 'python'}{os.pathsep}{Path(__file__).parent}",
                "MUTANTS_TRACE": str(folder / "traced"),
                "MUTANTS_PART": f"{part}/{workers}",
                "OPENBLAS_NUM_THREADS": "1",
            }
            every = {**os.environ, **ENVIRONMENT, **of_this, **asked}
            processes.append(subprocess.Popen([*command, "-k", "not command_line"], cwd=tree, env=every))
        codes = [process.wait() for process in processes]
        if any(codes):
            raise SystemExit("pytest did not come to its end")
    after = [row for path in folder.glob("in_python.*.jsonl") for row in path.read_text("utf-8").splitlines()]
    return {row["number"]: row for row in map(json.loads, after)}


def main() -> None:
    """Try a sample, and write what became of it."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("folder", type=Path)
    asked.add_argument("--sample", type=int, default=2000)
    asked.add_argument("--seed", type=int, default=20261125)
    asked.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    asked.add_argument("--before", type=Path, help="outcomes of an earlier run: what was noticed is not tried again")
    asked.add_argument("--without-python", action="store_true", help="the suites in Rust alone, in a third of the time")
    given = asked.parse_args()
    folder: Path = given.folder.absolute()
    mutants, out = prepared(folder)
    trials = built(folder / "tree")
    named = keys(mutants)
    sample = sorted(drawn(named, out, given.seed)[: given.sample])
    rows = folder / "outcomes.jsonl"
    before = json.loads(given.before.read_text("utf-8")) if given.before else {"rows": []}
    known = {row["key"]: row for row in before["rows"] if row["outcome"] not in MISSED}
    done = {
        number: {"number": number, "outcome": row["outcome"], "suite": row["suite"]}
        for number in sample
        if (row := known.get(named[number]))
    }
    if rows.exists():
        done |= {row["number"]: row for row in map(json.loads, rows.read_text("utf-8").splitlines())}
    with ThreadPoolExecutor(given.workers) as pool, rows.open("a", encoding="utf-8") as written:
        tests = traced(trials, folder, pool)
        todo = [number for number in sample if number not in done]
        for row in pool.map(lambda number: trials.tried(number, tests.get(number, {})), todo):
            written.write(json.dumps(row) + "\n")
            written.flush()
            done[row["number"]] = row
    missed = [number for number in sample if done[number]["outcome"] in MISSED]
    in_python_too = {} if given.without_python else in_python(folder, missed, given.workers)
    for number, row in in_python_too.items():
        if done[number]["outcome"] == "never reached" or row["outcome"] != "never reached":
            done[number] = row
    outcomes = {
        "mutants": len(mutants),
        "do not compile": len(out),
        "seed": given.seed,
        # Of the sample as it was drawn, before anybody wrote a test for what was left of it.
        "noticed at first": before.get("noticed at first", len(known)) if given.before else None,
        "rows": [{**done[number], "name": mutants[number]["name"], "key": named[number]} for number in sample],
    }
    (folder / "outcomes.json").write_text(json.dumps(outcomes, indent=1), "utf-8")


if __name__ == "__main__":
    main()
