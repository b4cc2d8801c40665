"""Loads as text: what is no load is an error everywhere, with its field, and only `none` means none."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

import wheelrate as wr

COMMAND = Path(sys.executable).with_name("wheelrate")
SLIPS = ["", "  ", "+", "bike +", "+ bike", "bike + + rider", "bike + none"]
DEMO = wr.demo()
ASKED = {
    "reading": lambda load: wr.Reading("rear", load, "551 mm"),
    "scenario": lambda load: wr.Scenario("with pack", load),
    "wheel mass": lambda load: DEMO.masses.wheel_mass("rear", load),
    "sprung mass": lambda load: DEMO.masses.sprung_mass("rear", load),
    "sprung load of the masses": lambda load: DEMO.masses.sprung_load("rear", load),
    "ballast": lambda load: DEMO.whole.ballast(load),
    "ballast at two places": lambda load: DEMO.whole.ballast_at(["850 mm", "1250 mm"], load),
}


@pytest.mark.parametrize("slip", SLIPS)
@pytest.mark.parametrize("asked", ASKED)
def test_a_slip_is_an_error_that_names_the_field(asked, slip):
    with pytest.raises(wr.errors.MassError, match=r"^load: found the load") as caught:
        ASKED[asked](slip)
    assert (caught.value.case, caught.value.found, caught.value.field) == ("LoadText", slip, "load")
    assert "`bike + rider`" in str(caught.value)
    assert "`none`" in str(caught.value)


def placed(key, load):
    """Put a load into one place of the demo's file."""
    bike = json.loads(DEMO.to_json())
    if key.startswith("reading"):
        bike["reading"][5]["load"] = load
    elif key.startswith("scenario"):
        bike["scenario"][0]["load"] = load
    else:
        bike["targets"]["rider_load"] = load
    return json.dumps(bike)


PLACES = ["reading 6.load", "scenario 1.load", "targets.rider_load"]


@pytest.mark.parametrize("slip", SLIPS)
@pytest.mark.parametrize("key", PLACES)
def test_a_slip_in_a_file_is_one_fault_at_its_key(key, slip):
    [fault] = wr.check(placed(key, slip), json=True)
    assert (fault.key_path, fault.found) == (key, slip)
    assert "`bike + rider`" in fault.wanted


@pytest.mark.parametrize("key", PLACES)
def test_only_a_reading_has_none(key):
    faults = wr.check(placed(key, "none"), json=True)
    if key.startswith("reading"):
        assert faults == []
        assert [reading.load for reading in wr.Bike.from_json(placed(key, " none ")).readings][5] == "none"
    else:
        assert [(fault.key_path, fault.found) for fault in faults] == [(key, "none")]
        assert "`bike + rider`" in faults[0].wanted


@pytest.mark.parametrize("load", ["None", "NONE", "nothing", "-"])
@pytest.mark.parametrize("key", PLACES)
def test_no_other_word_means_none(key, load):
    [fault] = wr.check(placed(key, load), json=True)
    assert fault.key_path == key
    assert f"`{load}`" in fault.message


def test_the_command_line_refuses_a_scenario_under_nothing(tmp_path):
    file = tmp_path / "patrol.toml"
    file.write_text(wr.demo_file(), "utf-8")
    for load in ("with pack=", "with pack= +", "with pack=bike +", "with pack=none"):
        done = subprocess.run(
            [COMMAND, "scenarios", file, "--load", load], capture_output=True, encoding="utf-8", check=False
        )
        assert (done.returncode, done.stdout) == (2, "")
        assert "load: found" in done.stderr
        assert "`bike + rider`" in done.stderr
