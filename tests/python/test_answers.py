"""The answers of ``tests/files/answers.json``, to eight digits, from Python and from the command line.

Rust is held to the same file by ``tests/round_trips/answers.rs``.
"""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import wheelrate as wr

FILES = Path(__file__).parents[1] / "files"
CASES: list[dict[str, Any]] = json.loads((FILES / "answers.json").read_text("utf-8"))
UNITS = {"stroke": "mm", "motion ratio": "", "wheel force": "N", "wheel rate": "N/mm", "energy": "J"}
FITTED = {"rate": "N/mm", "preload": "mm", "friction": "N"}


def text(name: str) -> str:
    demo = Path(__file__).parents[2] / "core" / "demo"
    paths = {"least": demo / "least.toml", "imperial": FILES / "least_imperial.toml", "much": FILES / "much.toml"}
    return paths[name].read_text("utf-8") if name in paths else wr.demo_file()


def eight(found: float) -> float:
    return float(f"{found:.7e}")


each = pytest.mark.parametrize("case", CASES, ids=[f"{case['bike']} {case['end']}" for case in CASES])


@each
def test_python(case: dict[str, Any]) -> None:
    bike = wr.Bike.from_toml(text(case["bike"]))
    wheel, fit = getattr(bike, case["end"]), bike.fit_end(case["end"])
    for row in case["curve"]:
        state = wheel.at(row["travel"])
        ratio = state.motion_ratio if isinstance(state.motion_ratio, float) else state.motion_ratio.m_as("")
        found = {name: getattr(state, name.replace(" ", "_")) for name in UNITS if name != "motion ratio"}
        shown = {name: eight(value.m_as(UNITS[name])) for name, value in found.items()}
        assert {"travel": row["travel"], "motion ratio": eight(ratio), **shown} == row
    for name, unit in FITTED.items():
        found = getattr(fit, name)
        assert [eight(found.value.m_as(unit)), eight(found.standard_uncertainty.m_as(unit))] == case["fit"][name]


def said(file: Path, *command: str) -> Any:
    arguments = [sys.executable, "-m", "wheelrate", command[0], str(file), *command[1:], "--json"]
    return json.loads(subprocess.run(arguments, check=True, capture_output=True).stdout)


@each
def test_command_line(case: dict[str, Any], tmp_path: Path) -> None:
    file = tmp_path / "bike.toml"
    file.write_text(text(case["bike"]), "utf-8")
    end = case["end"]
    if case["curve"]:
        at = [part for row in case["curve"] for part in ("--at", row["travel"])]
        table = said(file, "curve", "--end", end, *at)[end]
        for place, row in enumerate(case["curve"]):
            for name, unit in UNITS.items():
                assert table[name]["unit"] == (unit or table[name]["unit"])
                assert eight(table[name]["values"][place]) == row[name], name
    fit = said(file, "fit", "--end", end)[end]
    for name, unit in FITTED.items():
        found = fit[name]
        assert found["unit"] == unit
        assert [eight(found["value"]), eight(found["standard_uncertainty"])] == case["fit"][name]
