"""Names in Python are those of the core, and no name stands for two things."""

import re
from collections import defaultdict
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
BINDINGS = sorted((ROOT / "python" / "src").rglob("*.rs"))
CORE = sorted((ROOT / "core" / "src").rglob("*.rs"))

#: What Python shows that the core has no one name for: columns gathered from rows, a case of an enum as a word.
OWN = {
    "names": "of designs or masses, gathered",
    "dimensions": "one column of what the core has as rows",
    "act": "in words, for there may be nothing but to state it",
    "axle_x": "one coordinate of a point",
    "axle_z": "one coordinate of a point",
    "motion_ratio_start": "one of a pair",
    "motion_ratio_end": "one of a pair",
    "leverage_ratio_start": "one of a pair",
    "leverage_ratio_end": "one of a pair",
    "motion_ratio_at_sag": "of the state at sag",
    "wheel_rate_at_sag": "of the state at sag",
    "stroke_uncertainty": "half of an uncertain number",
    "motion_ratio_uncertainty": "half of an uncertain number",
    "motion_ratio_slope_uncertainty": "half of an uncertain number",
    "wheel_force_uncertainty": "half of an uncertain number",
    "wheel_rate_uncertainty": "half of an uncertain number",
    "force_uncertainty": "half of an uncertain number",
    "travel_uncertainty": "half of an uncertain number",
    "reserve_uncertainty": "half of an uncertain number",
    "friction_uncertainty": "half of an uncertain number",
    "friction_at_wheel_uncertainty": "half of an uncertain number",
    "upper_other": "the second of a pair",
    "lower_other": "the second of a pair",
    "point_uncertainty": "part of the pivots' uncertainty",
    "shock_length_uncertainty": "part of the pivots' uncertainty",
    "length": "a case of an enum",
    "share": "a case of an enum",
    "bodies": "a method of the core in other words",
    "front_radius": "of one of both wheels",
    "rear_radius": "of one of both wheels",
    "front_tyre": "of one of both wheels",
    "rear_tyre": "of one of both wheels",
    "front_tyre_uncertainty": "of one of both wheels",
    "rear_tyre_uncertainty": "of one of both wheels",
    "probability_re_read": "`re_read` of a choice, beside its `probability`",
    "probability_turned": "`turned` of a choice, beside its `probability`",
    "outcome": "a case of an enum as a word",
    "agrees": "a case of an enum as a truth value",
    "overlap": "what a case of an enum holds",
    "ranges": "one column of what the core has as rows",
    "hold_own": "one column of what the core has as rows",
    "targets": "one column of what the core has as rows",
    "limits": "a constant of the module",
    "interval_95": "built here from a kind known at run time",
    "wanted_rate": "of the wanted spring",
    "rate": "of a spring without a table, `initial_rate`",
}
ONE_LINE = re.compile(r"^        ///[^\n]*\n        (\w+): [^;{]+? = \|\w+\|(.*?);$", re.MULTILINE | re.DOTALL)


@pytest.mark.parametrize("path", BINDINGS, ids=lambda path: str(path.relative_to(ROOT / "python" / "src")))
def test_getters_have_the_names_of_the_core(path):
    for name, read in ONE_LINE.findall(path.read_text("utf-8")):
        word_of_a_case = "match " in read
        alike = re.search(rf"\b{name}\b", read) or word_of_a_case or name in OWN
        assert alike, f"{name}: {' '.join(read.split())}"


def test_the_exceptions_are_in_use():
    text = "".join(path.read_text("utf-8") for path in BINDINGS)
    for name in OWN:
        assert re.search(rf"^        {name}: |fn {name}\(", text, re.MULTILINE), name


#: A table of the sheet, and a spring known by one; a number of the sheet, and a key of a file inside the crate.
TWICE = {"Table", "Entry"}
DEFINED = re.compile(r"^ *pub (?:struct|enum|trait) (\w+)", re.MULTILINE)


def defined(paths):
    """Map each type to the files that define it, tests left out."""
    where = defaultdict(list)
    for path in paths:
        text = path.read_text("utf-8").split("#[cfg(test)]")[0]
        if "tests" not in path.parts and path.name != "tests.rs":
            for name in DEFINED.findall(text):
                where[name].append(str(path.relative_to(ROOT)))
    return where


def test_one_name_means_one_thing_in_the_core():
    twice = {name: paths for name, paths in defined(CORE).items() if len(paths) > 1 and name not in TWICE}
    assert not twice


@pytest.mark.parametrize("word", ["full_stroke", "wheel_force", "wheel_rate", "axial_force", "axial_rate"])
def test_lengths_and_forces_say_which(word):
    assert any(word in path.read_text("utf-8") for path in CORE)
    assert any(word in path.read_text("utf-8") for path in BINDINGS)
