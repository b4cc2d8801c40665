"""Common practice: the shipped table, tables of one's own, and how they meet the targets of a bike."""

import json
import pickle
import subprocess
import sys
from pathlib import Path

import pytest
import tomllib

import wheelrate as wr

COMMAND = Path(sys.executable).with_name("wheelrate")


def run(*arguments):
    return subprocess.run(
        [COMMAND, *map(str, arguments)], capture_output=True, text=True, encoding="utf-8", check=False
    )


def without_targets(discipline):
    keys = wr.demo().to_dict()
    keys["targets"] = {"discipline": discipline}
    return wr.Bike.from_dict(keys)


def test_the_shipped_file_is_the_shipped_table():
    # Read by a parser that is not ours.
    rows = tomllib.loads(wr.CommonPractice.shipped_file())["sag"]
    table = wr.CommonPractice.shipped()
    assert len(rows) == len(table.rows)
    for row, read in zip(rows, table.rows, strict=True):
        assert (row["discipline"], row["end"], row["sag"]) == (read.discipline, read.end, read.sag)
        assert (row["direction"], row["basis"]) == (read.direction, read.basis)
        given = row.get("length") or row.get("share")
        pair = read.length or read.share
        unit = "mm" if read.length else "percent"
        assert [float(given[key].split()[0]) for key in ("from", "to")] == pytest.approx(
            [end.m_as(unit) for end in pair]
        )
        assert read.basis == "common practice, no source"


@pytest.mark.parametrize("discipline", wr.CommonPractice.shipped().disciplines)
def test_a_share_is_of_the_travel_along_its_direction(discipline):
    bike = without_targets(discipline)
    travel = {"front": wr.quantity("290 mm", "length"), "rear": bike.rear.full_travel}
    for end in bike.ends:
        for said in bike.practice(end):
            for figure, (least, most) in zip(said.figures, said.ranges, strict=True):
                wanted = figure.length or [share.m_as("") * travel[end] for share in figure.share]
                assert [least.m_as("mm"), most.m_as("mm")] == pytest.approx([bound.m_as("mm") for bound in wanted])
            least, most = max(low for low, _ in said.ranges), min(high for _, high in said.ranges)
            assert said.agrees == (least < most)
            if said.agrees:
                assert said.wanted == said.overlap == (least, most)
            else:
                assert said.wanted is None
                assert "Nothing is taken" in said.note()


def test_advice_goes_by_the_overlap_or_says_what_it_lacks():
    advice = without_targets("motocross").advise()
    assert set(advice) == {"front", "rear"}
    assert without_targets("road").advise() == {}
    with pytest.raises(wr.errors.SetupError, match="do not overlap on this bike"):
        without_targets("road").advise_end("front")


def test_a_stated_target_is_kept():
    bike = wr.demo()
    rider = bike.practice("front")[0]
    assert rider.hold_own == [False]
    assert [bound.m_as("mm") for bound in rider.wanted] == pytest.approx([50, 60])
    assert "kept as you stated it" in rider.note()
    assert "2.17 in" in rider.note("inch")
    other = bike.correct({"targets.discipline": "any"})
    assert bike.advise_end("front").choices == other.advise_end("front").choices


def test_tables_of_ones_own(tmp_path):
    row = wr.Practice("enduro", "rear", "rider", share=("31 %", "33 %"), basis="our workshop", note="2 seasons")
    table = wr.CommonPractice([row])
    assert wr.CommonPractice.from_toml(table.to_toml()) == table == wr.CommonPractice.from_json(table.to_json())
    for thing in (row, table):
        assert pickle.loads(pickle.dumps(thing)) == thing
        assert hash(pickle.loads(pickle.dumps(thing))) == hash(thing)
    assert "our workshop" in table.to_toml()
    (tmp_path / "ours.toml").write_text(table.to_toml(), "utf-8")
    assert wr.CommonPractice.load(tmp_path / "ours.toml") == table
    keys = wr.demo().to_dict()
    keys["targets"] = {"discipline": "enduro", "practice": json.loads(table.to_json())["sag"]}
    bike = wr.Bike.from_dict(keys)
    assert bike.common_practice == table
    assert pickle.loads(pickle.dumps(bike)) == bike
    assert bike.advise_end("rear").choices
    assert [bound.m_as("mm") for bound in bike.practice("rear")[0].wanted] == pytest.approx([92.7, 98.7], abs=0.1)
    with pytest.raises(wr.errors.BikeError, match="found `trail`, wanted enduro"):
        wr.demo().with_practice(table)


@pytest.mark.parametrize(
    ("arguments", "keywords", "says"),
    [
        (("enduro", "rear", "rider"), {}, "neither"),
        (("enduro", "rear", "rider"), {"length": ("1 mm", "2 mm"), "share": ("1 %", "2 %")}, "one of them"),
        (("enduro", "rear", "rider"), {"length": ("95 mm", "90 mm")}, "wanted more than the from of"),
        (("enduro", "rear", "rider"), {"length": (95, "110 mm")}, r"length\[0\]: `95` has no unit"),
        (("enduro", "rear", "rider"), {"share": ("30 %", "135 %")}, "to"),
        (("enduro", "rear", "half"), {"length": ("1 mm", "2 mm")}, "found `half`, wanted `rider` or `free`"),
        (("enduro", "rear", "free"), {"length": ("1 mm", "2 mm"), "direction": "along fork"}, "at the rear"),
        (("", "rear", "free"), {"length": ("1 mm", "2 mm")}, "discipline"),
    ],
)
def test_figures_that_are_none_are_refused(arguments, keywords, says):
    with pytest.raises(wr.WheelrateError, match=says):
        wr.Practice(*arguments, **keywords)


def test_the_shell_prints_the_table_and_takes_an_edited_one(tmp_path):
    bike, table = tmp_path / "bike.toml", tmp_path / "ours.toml"
    bike.write_text(without_targets("motocross").to_toml(), "utf-8")
    printed = run("targets")
    assert printed.stdout == wr.CommonPractice.shipped_file()
    assert json.loads(run("targets", "--json").stdout) == json.loads(wr.CommonPractice.shipped().to_json())
    table.write_text(printed.stdout.replace('"95 mm"', '"98 mm"'), "utf-8")
    for file, least in [((), 95.0), (("--targets", table), 98.0)]:
        said = json.loads(run("targets", bike, *file, "--json", "--end", "rear").stdout)["rear"][0]
        assert said["wanted"]["from"] == pytest.approx(least)
    assert "98.0 to 104.7 mm (vertical) is taken" in " ".join(
        run("sheet", bike, "--targets", table, "--full").stdout.split()
    )
    advice = [json.loads(run("advise", bike, *file, "--json").stdout) for file in ((), ("--targets", table))]
    assert advice[0]["rear"]["reasons"][0] != advice[1]["rear"]["reasons"][0]
    inches = json.loads(run("targets", bike, "--json", "--units", "inch").stdout)["rear"][0]["wanted"]
    assert inches == {"from": pytest.approx(95 / 25.4), "to": pytest.approx(104.657 / 25.4, rel=1e-3), "unit": "in"}
    assert "on this bike" in run("targets", bike).stdout


def test_slips_at_the_shell_say_what_would_do(tmp_path):
    bike, table = tmp_path / "bike.toml", tmp_path / "ours.toml"
    bike.write_text(wr.demo_file(), "utf-8")
    table.write_text(wr.CommonPractice.shipped_file().replace('"95 mm"', '"95"'), "utf-8")
    done = run("sheet", bike, "--targets", table)
    assert done.returncode == 2
    assert f"{table}:" in done.stderr
    assert "has no unit" in done.stderr
    assert done.stdout == ""
    assert not bike.with_suffix(".html").exists()
    plain = tmp_path / "plain.toml"
    plain.write_text(wr.demo_file().replace('discipline = "trail"', ""), "utf-8")
    done = run("targets", plain)
    assert done.returncode == 2
    assert "motocross, trail, road, track, any" in done.stderr


def test_the_page_shows_every_figure():
    page = wr.demo().sheet().to_html()
    assert "What is common for trail" in page
    assert "taken from motocross" in page
    assert "kept as you stated it" in page
