"""The command line, run as a shell user runs it."""

import itertools
import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

import wheelrate as wr

COMMAND = Path(sys.executable).with_name("wheelrate")


def run(*arguments, cwd=None, text=None, env=None):
    return subprocess.run(
        [COMMAND, *map(str, arguments)],
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=cwd,
        input=text,
        env={**os.environ, "COLUMNS": "100", **(env or {})},
        check=False,
    )


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "patrol.toml"
    path.write_text(wr.demo_file(), "utf-8")
    return path


@pytest.fixture
def faulty(tmp_path):
    """Give a file with three faults: a bare number, an unknown key and a wrong dimension."""
    text = wr.demo_file()
    for sound, fault in [
        ('rake   = "26.5 deg"', "rake   = 26.5"),
        ('bike  = { front = "61 kg"', 'bike  = { frunt = "61 kg"'),
        ('stroke = "118 mm"', 'stroke = "118 bar"'),
    ]:
        assert text.count(sound) == 1
        text = text.replace(sound, fault)
    path = tmp_path / "faulty.toml"
    path.write_text(text, "utf-8")
    return path


def test_sheet_prints_and_writes_the_page_beside_the_file(file):
    done = run("sheet", file)
    assert done.returncode == 0
    bike = wr.demo()
    assert done.stdout == bike.sheet().to_screen(100)
    assert run("sheet", file, "--full").stdout == bike.sheet().to_text(100).rstrip("\n") + "\n"
    assert file.with_suffix(".html").read_text("utf-8") == bike.sheet().to_html()


def test_sheet_writes_where_it_is_asked_to_and_nowhere_else(file, tmp_path):
    page = tmp_path / "wall.html"
    assert run("sheet", file, "--html", page, "--units", "inch").returncode == 0
    assert page.read_text("utf-8") == wr.demo().sheet("inch").to_html()
    assert not file.with_suffix(".html").exists()


def test_sheet_reads_standard_input_and_writes_nothing(tmp_path):
    done = run("sheet", "-", "--json", text=wr.demo_file(), cwd=tmp_path)
    assert done.returncode == 0
    assert json.loads(done.stdout) == json.loads(wr.demo().sheet().to_json())
    assert list(tmp_path.iterdir()) == []


def test_json_files_work_too(tmp_path):
    path = tmp_path / "patrol.json"
    path.write_text(wr.demo().to_json(), "utf-8")
    assert run("check", path).stdout == f"{path}: no faults\n"
    assert json.loads(run("fit", path, "--json").stdout).keys() == {"front", "rear"}


def test_check_reports_every_fault_with_its_place(faulty):
    done = run("check", faulty)
    assert done.returncode == 2
    lines = done.stdout.splitlines()
    assert len(lines) == len(wr.check(faulty.read_text("utf-8"))) >= 3
    for line, fault in zip(lines, wr.check(faulty.read_text("utf-8")), strict=True):
        assert line.startswith(f"{faulty}:{fault.line}:{fault.column}: {fault.key_path}: ")
    as_json = run("check", faulty, "--json")
    assert as_json.returncode == 2
    faults = json.loads(as_json.stdout)
    assert {"front.fork.rake", "rear.shock.stroke"} <= {fault["key_path"] for fault in faults}
    assert all(fault["found"] and fault["wanted"] for fault in faults)


@pytest.mark.parametrize("command", ["sheet", "curve", "fit", "advise"])
def test_a_faulty_file_ends_with_2_all_faults_and_nothing_written(faulty, command):
    done = run(command, faulty, cwd=faulty.parent)
    assert done.returncode == 2
    assert done.stdout == ""
    assert len(done.stderr.splitlines()) == len(wr.check(faulty.read_text("utf-8")))
    assert list(faulty.parent.iterdir()) == [faulty]


BAD = {
    "not toml": ("sheet", "a = = b"),
    "empty": ("fit", ""),
    "no readings of a load": ("advise", None),
    "null bytes": ("check", "\0\0\0"),
    "another format": ("check", "format = 99\n[bike]\nname = 'x'"),
    "only a name": ("sheet", "format = 1\n[bike]\nname = 'x'"),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_input_never_ends_in_a_traceback(tmp_path, name):
    command, text = BAD[name]
    if text is None:
        sound = wr.demo_file()
        text = sound.replace('load = "none"', 'load = "bike"')
    path = tmp_path / "bad.toml"
    path.write_text(text, "utf-8")
    done = run(command, path)
    assert "Traceback" not in done.stderr + done.stdout
    assert "panicked" not in done.stderr
    if name != "only a name":  # a bike of which nothing is known has an empty sheet, which says so
        assert done.returncode == 2
        assert done.stderr or command == "check"


@pytest.mark.parametrize(
    "arguments",
    [
        ("sheet", "nowhere.toml"),
        ("sheet",),
        ("sing", "patrol.toml"),
        ("curve", "patrol.toml", "--end", "middle"),
        ("curve", "patrol.toml", "--at", "5"),
        ("curve", "patrol.toml", "--at", "5 m"),
        ("curve", "patrol.toml", "--points", "1"),
        ("fit", "patrol.toml", "--units", "furlong"),
        ("fit", "."),
        ("sheet", "latin.toml"),
        ("compare", "patrol.toml"),
        ("compare", "patrol.toml", "--what-if", "rear"),
    ],
)
def test_slips_at_the_shell_end_with_2_and_say_why(file, arguments):
    (file.parent / "latin.toml").write_bytes("name = 'caf\u00e9'".encode("latin-1"))
    done = run(*arguments, cwd=file.parent)
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr
    assert "Traceback" not in done.stderr


def test_a_page_that_cannot_be_written_ends_with_1(file):
    done = run("sheet", file, "--html", file.parent / "no" / "such" / "folder.html")
    assert done.returncode == 1
    assert "folder.html" in done.stderr
    assert "Traceback" not in done.stderr


def test_curve_gives_what_the_bike_gives(file):
    bike = wr.demo()
    found = json.loads(run("curve", file, "--end", "rear", "--at", "102 mm", "--json", "--units", "inch").stdout)[
        "rear"
    ]
    state = bike.rear.at("102 mm")
    assert found["wheel rate"]["unit"] == "lbf/in"
    assert found["wheel rate"]["values"] == [pytest.approx(state.wheel_rate.m_as("lbf/in"), rel=1e-12)]
    assert found["travel"]["values"] == [pytest.approx(102 / 25.4, rel=1e-12)]
    table = run("curve", file, "--end", "rear", "--points", "5").stdout.splitlines()
    assert len(table) == 1 + 2 + 5


def test_fit_and_advice_give_what_the_bike_gives(file):
    bike = wr.demo()
    fits = json.loads(run("fit", file, "--json").stdout)
    for end, fit in bike.fit().items():
        assert fits[end]["rate"]["value"] == pytest.approx(fit.rate.value.m_as("N/mm"), rel=1e-12)
        assert str(fit.rate) in run("fit", file, "--end", end).stdout
    advice = json.loads(run("advise", file, "--json").stdout)
    for end, reported in bike.advise().items():
        assert advice[end]["verdict"] == reported.verdict
        assert reported.headline().split()[0] in run("advise", file, "--end", end).stdout


def test_compare_shows_what_changed(file):
    stiffer = file.with_name("stiffer.toml")
    stiffer.write_text(wr.demo().correct({"rear.shock.spring.rate": "60 N/mm"}).to_toml(), "utf-8")
    tables = json.loads(run("compare", file, stiffer, "--json").stdout)
    rear = dict(zip(tables["rear"]["what"]["values"], tables["rear"]["change"]["values"], strict=True))
    assert rear["full travel"] == 0.0
    assert rear["rests at under bike + rider"] < 0
    assert rear["wheel rate at 0.0 mm"] > 0
    assert all(change == 0 for change in tables["front"]["change"]["values"] if change is not None)
    text = run("compare", file, stiffer).stdout
    assert "second" in text
    # What does not differ is left out, and so is an end of which nothing does.
    assert "full travel" not in text
    assert "FRONT" not in text
    assert run("compare", file, file).stdout == "Nothing differs.\n"


def test_compare_shows_what_the_whole_bike_does(file):
    bike = wr.demo()
    softer = bike.what_if({"rear.shock.spring.rate": "48 N/mm"})
    supposed = ("--what-if", "rear.shock.spring.rate=48 N/mm")
    tables = json.loads(run("compare", file, *supposed, "--json").stdout)
    whole = tables["the whole bike, rider on"]
    second = dict(zip(whole["what"]["values"], whole["second"]["values"], strict=True))
    stance = softer.whole.stances().rider.stance
    assert second["trail"] == pytest.approx(stance.trail.m_as("mm"))
    assert second["seat over ground"] == pytest.approx(stance.place(softer.frame_points["seat"])[1].m_as("mm"))
    drive = json.loads(softer.sheet().to_json())["geometry"]["drive"]
    assert [second["anti-squat"]] == [line["entry"]["value"] for line in drive if line["name"] == "anti-squat"]
    text = run("compare", file, *supposed).stdout
    assert "trail" in text
    assert "anti-squat" in text
    other = file.with_name("softer.toml")
    other.write_text(softer.to_toml(), "utf-8")
    assert run("compare", file, other, "--json").stdout == run("compare", file, *supposed, "--json").stdout


def test_advice_on_a_bike_as_it_would_be(file):
    values = {"masses.rider.rear": "76 kg", "on_sale.rear": ["56 N/mm", "64 N/mm"]}
    supposed = ("--what-if", "masses.rider.rear=76 kg", "--what-if", 'on_sale.rear=["56 N/mm", "64 N/mm"]')
    changed = wr.demo().what_if(values)
    advice = json.loads(run("advise", file, *supposed, "--json").stdout)
    for end, decision in changed.advise().items():
        assert advice[end]["headline"] == decision.headline()
    fit = json.loads(wr.demo().what_if(values).advise()["rear"].to_json())["fit"]
    printed = advice["rear"]["decision"]["fit"]
    by_unit = ("loads", "from_readings")
    assert {key: value for key, value in printed.items() if key not in by_unit} == {
        key: value for key, value in fit.items() if key not in by_unit
    }
    # A share whose percent would not read back to the bit is written of 1, and printed in percent as all of them.
    for name, share in printed["from_readings"].items():
        assert share.endswith(" %")
        stated = [wr.quantity(value, "share").m_as("percent") for value in (share, fit["from_readings"][name])]
        assert stated[0] == pytest.approx(stated[1], rel=1e-15)
    # A load that the file has in kilograms is printed in the unit of every force.
    for one, other in zip(printed["loads"], fit["loads"], strict=True):
        stated = [wr.quantity(load["stated"]["value"], "force").m_as("N") for load in (one, other)]
        assert one["stated"]["value"].endswith(" N")
        assert stated[0] == pytest.approx(stated[1], rel=1e-15)
    text = run("advise", file, *supposed).stdout
    assert text.startswith("WHAT IF masses.rider.rear=")
    assert run("advise", file, "--what-if", "rear.shock.colour=red").returncode == 2
    assert run("advise", file, "--what-if", "rear.shock").returncode == 2


def test_a_wrong_entry_is_mended_in_place(file):
    before = file.read_text("utf-8")
    done = run("correct", file, "reading[5].distance=655 mm", "--in-place", "--yes")
    assert done.returncode == 0
    after = file.read_text("utf-8")
    assert wr.Bike.from_toml(after) == wr.demo().correct({"reading[5].distance": "655 mm"})
    assert [(one, two) for one, two in zip(before.splitlines(), after.splitlines(), strict=True) if one != two] == [
        ('distance = "654 mm"', 'distance = "655 mm"')
    ]
    assert '+distance = "655 mm"' in done.stdout


def test_compare_says_which_spring_brings_back_the_sag(file):
    bike = wr.demo()
    longer = bike.what_if({"rear.linkage.points.link_frame": ["-66 mm", "-93 mm"]})
    other = file.with_name("longer.toml")
    other.write_text(longer.to_toml(), "utf-8")
    load = bike.masses.sprung_load("rear", "bike + rider").value
    direct = wr.compare({"first": bike.rear, "second": longer.rear}, load)
    for units, spring, travel in [("metric", "N/mm", "mm"), ("inch", "lbf/in", "in")]:
        tables = json.loads(run("compare", file, other, "--json", "--units", units).stdout)
        (title,) = [name for name in tables if name.startswith("rear, both under bike + rider of the first, ")]
        table = tables[title]
        second = dict(zip(table["what"]["values"], table["second"]["values"], strict=True))
        assert second["spring for the first one's sag"] == pytest.approx(direct.spring_for_same_sag[1].m_as(spring))
        assert second["shock stroke left at sag"] == pytest.approx(direct.stroke_left[1].m_as(travel))
        assert second["ride height, change"] == pytest.approx(direct.ride_height_change[1].m_as(travel))
    assert run("compare", file, other, "--end", "front").stdout == "Nothing differs.\n"
    assert json.loads(run("compare", file, other, "--end", "front", "--json").stdout).keys() == {"front"}


def test_compare_of_an_overloaded_end_has_no_number(file):
    soft = file.with_name("soft.toml")
    soft.write_text(wr.demo().correct({"rear.shock.spring.rate": "1 N/mm"}).to_toml(), "utf-8")
    tables = json.loads(run("compare", file, soft, "--json").stdout, parse_constant=pytest.fail)
    (table,) = [table for name, table in tables.items() if name.startswith("rear, both")]
    second = dict(zip(table["what"]["values"], table["second"]["values"], strict=True))
    assert second["sag"] is None
    assert second["spring for the first one's sag"] > 50


def test_demo_prints_its_sheet_and_its_file(tmp_path):
    assert run("demo").stdout == wr.demo().sheet().to_screen(100)
    assert run("demo", "--full").stdout == wr.demo().sheet().to_text(100).rstrip("\n") + "\n"
    assert run("demo", "--file").stdout == wr.demo_file()
    assert run("demo", "--html", tmp_path / "demo.html").returncode == 0
    assert (tmp_path / "demo.html").exists()


def test_version_and_help():
    assert wr.__version__ in run("--version").stdout
    for command in ("read", "note", "sheet", "check", "curve", "fit", "advise", "compare", "demo"):
        assert command in run("--help").stdout
        assert run(command, "--help").returncode == 0


def test_a_terminal_that_cannot_show_every_sign_still_gets_its_sheet():
    assert run("demo", env={"PYTHONIOENCODING": "ascii"}).returncode == 0


@pytest.mark.parametrize("command", ["fit", "advise"])
def test_a_bike_without_an_end_is_refused_with_what_it_lacks(command):
    done = run(command, "-", text='format = 1\n[bike]\nname = "Bare frame"\n')
    assert (done.returncode, done.stdout) == (2, "")
    assert "the bike has no end" in done.stderr


def test_a_spring_kept_is_not_to_be_set():
    bike = wr.demo().correct({"targets.rear.rider_sag": {"value": "104 mm", "tolerance": "15 mm"}})
    bike = bike.correct({"targets.rear.free_sag": {"from": "5 mm", "to": "60 mm"}})
    assert bike.advise()["rear"].verdict == "keep"
    card = bike.sheet().to_html().split('<p class="over">rear</p>')[1].split("</article>")[0]
    assert "<dt>best preload</dt>" in card
    assert "<dt>preload</dt>" not in card
    assert "<dt>rider sag then</dt>" not in card


def test_the_words_of_the_commands_are_wrapped_to_the_terminal(file):
    for columns in (60, 80):
        for arguments in (("sheet", file), ("advise", file), ("fit", file)):
            lines = run(*arguments, env={"COLUMNS": str(columns)}).stdout.splitlines()
            sentences = [line for line in lines if line.startswith((">> ", "- ", "FRONT", "REAR"))]
            assert sentences
            assert all(len(line) <= columns for line in sentences)


@pytest.mark.parametrize("columns", [60, 80])
def test_advice_is_no_wider_than_the_page_and_keeps_numbers_with_their_units(tmp_path, columns):
    file = tmp_path / "patrol.toml"
    file.write_text(wr.demo().to_toml(), encoding="utf-8")
    said = run("advise", file, env={"COLUMNS": str(columns)}).stdout
    lines = said.splitlines()
    assert max(map(len, lines)) <= columns
    broken = [pair for pair in itertools.pairwise(lines) if re.search(r"[\d±]$", pair[0])]
    assert not [pair for pair in broken if re.match(r" *(%|±|mm|N/mm|N |turns|points|\d)", pair[1])]
    # All of the table is there, wide or narrow.
    for choice in json.loads(wr.demo().advise()["rear"].to_json())["choices"]:
        assert choice["rate"] in said
