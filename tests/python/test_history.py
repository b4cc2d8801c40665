"""Sets of readings in time, from Python and from the shell."""

import json
import pickle
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import matplotlib as mpl
import pytest

import wheelrate as wr
from wheelrate._timeline import set_apart

mpl.use("Agg")
COMMAND = Path(sys.executable).with_name("wheelrate")
STIFFER = {"rear.shock.spring.rate": "56 N/mm", "rear.shock.spring.preload": "10 mm"}


def rear(date, by=0.0):
    """Give the demo's rear readings of a day; low reads lower and high higher by so many millimetres."""
    side = {"low": -by, "high": by, None: 0.0}
    return [
        wr.Reading("rear", r.load, (r.distance.m_as("mm") + side[r.settled], "mm"), r.settled, date=date)
        for r in wr.demo().readings
        if r.end == "rear"
    ]


@pytest.fixture
def bike():
    keys = wr.demo().to_dict()
    keys["reading"] = []
    return wr.Bike.from_dict(keys).with_readings([*rear("2026-05-31"), *rear("2026-06-30", 6.0)])


@pytest.fixture
def changed(bike):
    return bike.with_logged_change("2026-07-04 10:00", STIFFER, note="stiffer spring")


def test_a_logged_change_comes_back(bike, changed):
    [change] = changed.changes
    assert change.was == {"rear.shock.spring.rate": "52 N/mm", "rear.shock.spring.preload": "14 mm"}
    assert (change.date, change.note, change.added) == ("2026-07-04 10:00", "stiffer spring", [])
    assert changed.at("2026-06-30") == bike
    assert wr.Bike.from_toml(changed.to_toml()) == wr.Bike.from_json(changed.to_json()) == changed
    with pytest.raises(wr.errors.BikeError, match="2026-05-31 19:30"):
        bike.with_logged_change("last summer", STIFFER)
    with pytest.raises(wr.errors.BikeError, match="the change of `2026-07-04 10:00`"):
        changed.with_logged_change("2026-07-04", STIFFER)


def test_a_change_of_nothing_and_a_plot_of_no_bike_are_reported():
    with pytest.raises(wr.WheelrateError, match=r"values: found `none`, wanted a key"):
        wr.demo().with_logged_change("2026-06-14", {})
    with pytest.raises(TypeError, match=r"found EndHistory, wanted a Bike"):
        wr.plot.history(wr.demo().history_end("rear"))


def test_readings_keep_their_date_through_pickle():
    reading = wr.Reading("rear", "bike", "620 mm", "low", "2 mm", date="2026-05-31 19:30", note="cold")
    again = pickle.loads(pickle.dumps(reading))
    assert again == reading
    assert (again.date, again.note) == ("2026-05-31 19:30", "cold")
    assert "2026-05-31 19:30" in repr(reading)


def test_what_drifted_is_said(bike):
    history = bike.history()["rear"]
    [drift] = history.drifts
    assert (drift.earlier, drift.later) == (0, 1)
    assert drift.friction.probability < 1e-4
    assert drift.friction.deviations > 4
    before, after = (history.sets[place].friction.value.m_as("N") for place in (0, 1))
    assert drift.friction.change.value.m_as("N") == pytest.approx(after - before, rel=0.1)
    assert drift.preload.probability > 0.05
    assert "more than noise" in drift.sentences()[0]
    assert "lbf" in drift.sentences("inch")[0]
    assert history.basis == "From the readings of 2026-06-30; one earlier set stands in the history."
    assert history.basis in bike.sheet().to_text(200)
    assert pickle.loads(pickle.dumps(history)) == history


def test_a_prediction_is_made_and_held_against(changed):
    [ahead] = changed.history_end("rear").predictions
    assert ahead.held is None
    assert ahead.chi_square is None
    assert len(ahead.sags) == 4
    assert changed.fit_end("rear").from_readings["rate"].m == 0.0
    sags = {(sag.load, sag.settled): sag.predicted.value.m_as("mm") for sag in ahead.sags}
    rows = [wr.Reading("rear", "none", "655 mm", date="2026-07-04 12:00")]
    rows += [
        wr.Reading("rear", load, (655 - sag, "mm"), side, date="2026-07-04 12:00") for (load, side), sag in sags.items()
    ]
    [check] = changed.with_readings(rows).history_end("rear").predictions
    assert check.held
    assert check.chi_square[1] == 4
    assert all(abs(sag.deviations) < 1e-6 for sag in check.sags)
    assert [outcome.sag for outcome in check.targets] == ["rider", "free"]
    # A third more sag is no spring of this label.
    rows[1:] = [
        wr.Reading("rear", load, (655 - 1.3 * sag, "mm"), side, date="2026-07-04 12:00")
        for (load, side), sag in sags.items()
    ]
    [failed] = changed.with_readings(rows).history_end("rear").predictions
    assert failed.held is False
    assert "did not hold" in failed.sentences()[0]
    assert "softer" in failed.sentences()[0]


def test_the_sheet_shows_the_history(bike, changed):
    assert "Readings in time" not in wr.demo().sheet().to_html()
    page = changed.sheet().to_html()
    assert "Readings in time" in page
    assert 'class="change"' in page
    assert "was 52\u00a0N/mm" in page
    assert "Nothing is read at this end since it was changed" in changed.sheet().to_text()
    assert "<iframe" in bike.history_end("rear")._repr_html_()


def test_the_plot_shows_every_set_and_change(changed):
    axes = wr.plot.history(changed)
    assert [ax.get_ylabel() for ax in axes] == ["vertical sag (mm)", "preload (mm)", "friction (N)"]
    sets = changed.history_end("rear").sets
    drawn = axes[2].containers[0].lines[0].get_ydata()
    assert drawn == pytest.approx([one.friction.value.m_as("N") for one in sets])
    assert any(text.get_text() == "changed" for text in axes[0].texts)
    with pytest.raises(wr.errors.BikeError, match="front"):
        wr.plot.history(changed, "front")
    mpl.pyplot.close(axes[0].figure)


def test_days_of_a_plot_are_not_written_over_each_other_and_units_are_those_asked_for(bike):
    busy = bike.with_readings([*bike.readings, *rear("2026-07-01")])
    axes = wr.plot.history(busy, units="inch")
    assert [ax.get_ylabel() for ax in axes] == ["vertical sag (in)", "preload (in)", "friction (lbf)"]
    inches = axes[0].lines[0].get_xydata()[:, 1]
    millimetres = wr.plot.history(busy)[0].lines[0].get_xydata()[:, 1]
    # Both are written with the digits of their page, a hundredth of an inch at the least.
    assert inches * 25.4 == pytest.approx(millimetres, abs=0.2)
    figure = axes[-1].figure
    figure.canvas.draw()
    drawn = [label.get_window_extent() for label in axes[-1].get_xticklabels()]
    assert len(drawn) == 2
    assert len(axes[-1].get_xticks()) + len(axes[-1].get_xticks(minor=True)) == 3
    assert not any(one.overlaps(other) for one, other in pairwise(drawn))


def shell(*arguments):
    return subprocess.run(
        [COMMAND, *map(str, arguments)], capture_output=True, text=True, encoding="utf-8", check=False
    )


def test_the_command_line_shows_it(tmp_path, changed):
    file = tmp_path / "patrol.toml"
    file.write_text(changed.to_toml(), "utf-8")
    done = shell("history", file)
    assert done.returncode == 0
    assert "Friction grew" in done.stdout
    assert "stiffer spring" in done.stdout
    data = json.loads(shell("history", file, "--json", "--units", "inch").stdout)
    assert data["rear"]["sets"]["rows"][0][2]["unit"] == "lbf/in"
    assert [point["is_change"] for point in data["rear"]["points"]] == [False, False, True]
    assert shell("check", file).returncode == 0
    file.write_text(wr.demo_file(), "utf-8")
    assert "nothing to compare" in shell("history", file).stdout
    file.write_text(changed.to_toml().replace('date = "2026-06-30"', 'date = "2026-07-04"'), "utf-8")
    failed = shell("history", file)
    assert failed.returncode == 2
    assert "change 1.date" in failed.stderr
    assert "with a time" in failed.stderr


def test_a_supposed_change_carries_what_was_found(tmp_path):
    bike = wr.demo()
    heavier = bike.what_if({"masses.rider.rear": "76 kg"})
    before, after = bike.fit()["rear"], heavier.fit()["rear"]
    assert after.rate.value.m_as("N/mm") == pytest.approx(before.rate.value.m_as("N/mm"), rel=1e-12)
    (finding,) = after.findings()
    assert finding.startswith("Nothing is read at this end since it was changed: what rate and preload are off")
    assert pickle.loads(pickle.dumps(heavier)) == heavier == wr.Bike.from_toml(heavier.to_toml())
    assert heavier.changes[0].date == "what if"
    assert "carried over" in heavier.sheet().to_text()
    # A correction fits the readings on the bike as it now stands: a heavier rider means a stiffer spring.
    mended = bike.correct({"masses.rider.rear": "76 kg"})
    assert mended.changes == []
    assert mended.fit()["rear"].rate.value.m_as("N/mm") > 1.02 * before.rate.value.m_as("N/mm")
    with pytest.raises(wr.errors.BikeError, match=r"reading\[0\]"):
        bike.what_if({"reading[0].distance": "1 m"})


def test_the_shell_supposes_and_corrects(tmp_path):
    file, supposed = tmp_path / "patrol.toml", tmp_path / "supposed.toml"
    file.write_text(wr.demo().to_toml(), "utf-8")
    value = "rear.shock.spring.rate=60 N/mm"
    out = shell("what-if", file, value)
    assert out.returncode == 0, out.stderr
    assert wr.Bike.from_toml(out.stdout) == wr.demo().what_if({"rear.shock.spring.rate": "60 N/mm"})
    supposed.write_text(out.stdout, "utf-8")
    assert shell("check", supposed).returncode == 0
    assert "This change was not made" in shell("history", supposed).stdout
    mended = shell("correct", file, value, "--json")
    assert wr.Bike.from_json(mended.stdout) == wr.demo().correct({"rear.shock.spring.rate": "60 N/mm"})
    wrong = shell("correct", file, "rear.shock.spring.rate")
    assert (wrong.returncode, wrong.stdout) == (2, "")
    assert "wanted a key and a value" in wrong.stderr


@pytest.mark.parametrize(
    ("days", "places"),
    [
        ([0.0], [0.0]),
        ([0.0, 30.0, 60.0], [0.0, 0.5, 1.0]),
        # An evening at the end of two months: moved apart, and none past the end.
        ([0.0, 59.9, 60.0], [0.0, 0.96, 1.0]),
        ([5.0, 5.0, 65.0], [0.0, 0.04, 1.0]),
        # More than there is room for stand at equal distances.
        ([0.0] * 50 + [1.0], [k / 50 for k in range(51)]),
    ],
)
def test_events_stand_apart_and_within_the_axis(days, places):
    assert set_apart(days) == pytest.approx(places, abs=1e-12)


def test_the_points_of_a_page_are_true_to_time(changed):
    points = json.loads(changed.history_end("rear").to_json())["points"]
    # Thirty days of May and June, then four to the morning of the change; a day without a time counts as its noon.
    assert [point["at"] for point in points] == pytest.approx([0.0, 30.0, 34.0 - 2 / 24])
