"""What the page is answered: the numbers of the core, faults in their fields, and files that keep what is in them."""

import json
import re
from pathlib import Path

import hypothesis.strategies as st
import numpy as np
import pytest
from hypothesis import given, settings

import wheelrate as wr
from wheelrate._explore.desk import Desk

MOVED = {"link_frame": ["-66 mm", "-93 mm"]}
KEYS = {"rear.linkage.points.link_frame": ["-66 mm", "-93 mm"]}
READING = {"end": "rear", "load": "bike", "settled": "low", "said": "623"}


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "patrol.toml"
    path.write_text(wr.demo_file(), encoding="utf-8")
    return path


class Asked:
    """A desk with its page's version."""

    def __init__(self, file, **options):
        self.desk = Desk(path=file, **options)
        self.start = self.desk.ask("start", {})
        self.version = self.start["version"]

    def __call__(self, kind="answer", *, points=(), settings=(), readings=(), date="", dated="", **more):
        supposed = {"points": dict(points), "settings": dict(settings), "readings": list(readings)}
        body = {"version": self.version, "supposed": {**supposed, "date": date, "dated": dated}, **more}
        return json.loads(json.dumps(self.desk.ask(kind, body), allow_nan=False))


@pytest.fixture
def asked(file):
    return Asked(file)


def row(answer, group, name):
    (found,) = [one for one in answer["rows"] if (one["group"], one["name"]) == (group, name)]
    return found


def test_a_moved_pivot_gives_what_the_core_gives(asked):
    answer = asked(points=MOVED)
    bike = wr.demo().what_if(KEYS)
    decision = bike.advise_end("rear")
    for load in decision.fit.loads:
        assert row(answer, "rear", f"sag, {load.load}")["after"] == load.sag.show("mm")
    assert answer["ends"]["rear"]["after"]["headline"] == decision.headline()
    stance = bike.whole.settle().stance
    assert row(answer, "whole bike", "trail, rider on")["after"] == f"{stance.trail.m_as('mm'):.1f} mm"
    squat = bike.whole.squat(travels=[stance.travel["rear"]])
    assert row(answer, "whole bike", "anti-squat, rider on")["after"] == f"{squat.anti_squat[0].m_as('percent'):.0f} %"
    assert answer["linkage"]["points"]["link_frame"] == [-66.0, -93.0]


def test_before_is_the_bike_of_the_file(asked):
    before = asked(points=MOVED)["rows"]
    assert [one["before"] for one in before] == [one["before"] for one in asked.start["rows"]]


def test_what_the_readings_found_is_carried_and_not_fitted_again(asked):
    asked(points=MOVED, settings={"rear preload": 15.5})
    then, now = asked.desk.last.fit_end("rear"), wr.demo().fit_end("rear")
    assert then.rate == now.rate
    refitted = wr.demo().correct(KEYS).fit_end("rear")
    assert refitted.rate != now.rate


def test_an_end_that_is_not_touched_is_taken_over(asked):
    answer = asked(points=MOVED)
    assert answer["ends"]["front"]["before"] == answer["ends"]["front"]["after"]
    front = asked(settings={"oil level": 105})
    assert front["ends"]["rear"]["before"] == front["ends"]["rear"]["after"]
    assert row(front, "front", "sag, bike + rider")["change"]


def test_a_quick_answer_differs_in_nothing_but_sags_under_other_loads(asked):
    whole, quick = asked(points=MOVED), asked(points=MOVED, quick=True)
    others = [one["name"] for one in whole["rows"] if one not in quick["rows"]]
    assert set(others) == {"sag, bike + rider + stretcher"}
    one, other = (row(answer, "rear", others[0])["after"] for answer in (whole, quick))
    # The sag of the posterior's mean, and the mean of its sags: the bend of the curve lies between, tenths of a mm.
    assert float(one.split()[0]) == pytest.approx(float(other.split()[0]), abs=0.5)


def test_sliders_stand_where_the_file_has_them_and_step_as_a_collar_does(asked):
    by_name = {one["name"]: one for one in asked.start["sliders"]}
    least, most, step = by_name["rear preload"]["stops"]
    assert step == 1.5 / 4
    assert least >= 4.0
    assert most <= 22.0
    for slider in by_name.values():
        stops = slider["stops"]
        if slider["kind"] == "choices":
            assert slider["now"] in stops
        else:
            steps = (slider["now"] - stops[0]) / stops[2]
            assert steps == pytest.approx(round(steps), abs=1e-6)


def test_every_stop_of_every_slider_is_taken_or_blamed_on_it(asked):
    for slider in asked.start["sliders"]:
        for stop in {min(slider["stops"][:2]), max(slider["stops"][:2]), slider["now"]}:
            answer = asked(settings={slider["name"]: stop})
            for fault in answer.get("faults", ()):
                assert fault["field"] == f"settings.{slider['name']}"


def test_ballast_is_carried_where_the_rider_is(asked):
    asked(settings={"ballast with the rider": 10})
    for end, share in (("front", 30 / 96), ("rear", 66 / 96)):
        more = (
            asked.desk.last.masses.sprung_load(end, "bike + rider").value
            - wr.demo().masses.sprung_load(end, "bike + rider").value
        )
        assert more.m_as("kgf") == pytest.approx(10 * share, abs=1e-9)


def test_tubes_are_raised_as_the_whole_bike_does_it(asked):
    asked(settings={"tubes raised in the clamps": 5})
    raised = wr.demo().whole.with_adjustment(fork_raised="5 mm")
    trails = [bike.whole.settle().stance.trail.m_as("mm") for bike in (asked.desk.last, raised)]
    # Coordinates go into the file to a hundredth of a millimetre.
    assert trails[0] == pytest.approx(trails[1], abs=0.02)


@pytest.mark.parametrize(
    ("supposed", "field"),
    [
        ({"points": {"link_frame": ["-66 x", "-93 mm"]}}, "points.link_frame"),
        ({"points": {"link_frame": ["", "-93 mm"]}}, "points.link_frame"),
        ({"points": {"link_frame": ["1e9 mm", "-93 mm"]}}, "points.link_frame"),
        ({"points": {"axle": ["-100 mm", "-93 mm"]}}, "points.axle"),
        ({"points": {"__proto__": ["1 mm", "1 mm"]}}, ""),
        ({"settings": {"rear preload": 900}}, "settings.rear preload"),
        ({"settings": {"rear spring": -3}}, "settings.rear spring"),
        ({"readings": [READING | {"said": "6x"}]}, "readings.0"),
        ({"readings": [READING, READING | {"load": "bike + goat"}]}, "readings.1"),
        ({"readings": [READING | {"said": "54"}]}, "readings.0"),
        ({"readings": [READING, READING | {"settled": "high", "said": "5400"}]}, "readings.1"),
        ({"readings": [READING], "date": "soon"}, "date"),
        ({"readings": [READING], "date": "2026-06-14"}, "dated"),
    ],
)
def test_a_fault_stands_beside_its_field(asked, supposed, field):
    faults = asked(**supposed)["faults"]
    assert field in {fault["field"] for fault in faults}
    assert all(fault["message"] for fault in faults)


def test_readings_come_first_and_are_fitted(asked):
    answer = asked(readings=[READING | {"said": "611"}], points=MOVED)
    base = wr.Bike.from_toml(wr.append_readings(wr.demo_file(), [wr.Reading("rear", "bike", "611 mm", "low")]))
    sags = [base.fit_end("rear"), base.what_if(KEYS).fit_end("rear")]
    found = row(answer, "rear", "sag, bike + rider")
    assert [found["before"], found["after"]] == [fit.loads[1].sag.show("mm") for fit in sags]


def test_an_evening_that_has_begun_waits_and_is_minded(asked):
    absurd = READING | {"load": "bike + rider", "said": "54"}
    days = {"date": "2026-06-20", "dated": "2026-06-14"}
    answer = asked(readings=[absurd], **days)
    (mind,) = answer["minds"]
    assert mind["field"] == "readings.0"
    assert "same mark as before" in mind["message"]
    assert list(answer["waiting"]) == ["rear"]
    assert "wheel off the ground" in answer["waiting"]["rear"][0]
    plausible = asked(readings=[absurd | {"said": "540"}], **days)
    assert plausible["minds"] == []
    whole = [READING | {"load": "none", "settled": None, "said": "652"}, READING, absurd | {"said": "540"}]
    assert asked(readings=whole, **days)["waiting"] == {}
    assert asked(points=MOVED)["waiting"] == {}


@pytest.mark.parametrize(
    ("free_sag", "rider_sag", "action", "of"),
    [
        ("12 mm", "98 mm", "turn", "with the 52 N/mm and its collar turned"),
        ("80 mm", "102 mm", "leave", "as it stands"),
        ("20 mm", "94 mm", "fit", "with 60 N/mm"),
    ],
)
def test_a_chance_names_the_spring_that_it_is_of(file, free_sag, rider_sag, action, of):
    text = file.read_text(encoding="utf-8")
    text = text.replace('{ from = "25 mm", to = "40 mm" }', f'{{ value = "{free_sag}", tolerance = "1 mm" }}')
    text = text.replace('{ value = "102 mm", tolerance = "4 mm" }', f'{{ value = "{rider_sag}", tolerance = "1 mm" }}')
    file.write_text(text, encoding="utf-8")
    rear = Asked(file).start["ends"]["rear"]["after"]
    assert wr.Bike.load(file).advise_end("rear").action.name == action
    assert rear["verdict"] == "none suits"
    assert rear["chance"].endswith(f"that both sags land {of}")


def test_done_to_the_bike_goes_into_the_log(asked, file):
    saved = asked("save", points=MOVED, how="made", when="2026-06-20", note="longer link", dated="2026-06-14")
    assert saved["name"] == "Ridge patrol 300"
    bike = wr.Bike.load(file)
    assert [change.date for change in bike.changes] == ["2026-06-20"]
    assert bike.changes[0].note == "longer link"
    assert bike.fit_end("rear").rate == wr.demo().fit_end("rear").rate


def test_mended_is_fitted_anew(asked, file):
    asked("save", points=MOVED, how="mended")
    assert wr.Bike.load(file).fit_end("rear") == wr.demo().correct(KEYS).fit_end("rear")


def test_saving_keeps_every_other_line(asked, file):
    before = file.read_text(encoding="utf-8").splitlines()
    preview = asked("preview", points=MOVED, settings={"rear spring": 56}, how="mended")["lines"]
    asked("save", points=MOVED, settings={"rear spring": 56}, how="mended")
    after = file.read_text(encoding="utf-8").splitlines()
    differing = [(one, other) for one, other in zip(before, after, strict=True) if one != other]
    assert len(differing) == 2
    assert [one for one in preview if one[0] in "-+"] == [
        sign + text for pair in differing for sign, text in zip("-+", pair, strict=True)
    ]


def test_a_file_that_changed_meanwhile_is_left_alone(asked, file):
    edited = file.read_text(encoding="utf-8") + "# by somebody else\n"
    file.write_text(edited, encoding="utf-8")
    (fault,) = asked("save", points=MOVED, how="mended")["faults"]
    assert fault["field"] == "version"
    assert file.read_text(encoding="utf-8") == edited
    again = asked.desk.ask("start", {})
    assert again["version"] != asked.version


def test_two_pages_on_one_file(file):
    one, other = Asked(file), Asked(file)
    other.desk = one.desk
    other.version = one.desk.ask("start", {})["version"]
    assert "faults" not in one("save", points=MOVED, how="mended")
    assert "faults" not in other(points={"link_frame": ["-60 mm", "-98 mm"]})
    (fault,) = other("save", points={"link_frame": ["-60 mm", "-98 mm"]}, how="mended")["faults"]
    assert fault["field"] == "version"


def test_nothing_changed_is_nothing_saved(asked, file):
    stood = file.stat().st_mtime_ns
    (fault,) = asked("save", how="mended")["faults"]
    assert fault["field"] == "save"
    assert file.stat().st_mtime_ns == stood


def test_inches_are_shown_and_taken(file):
    asked = Asked(file, units="inch")
    assert asked.start["unit"] == "in"
    assert asked.start["perMillimetre"] == pytest.approx(1 / 25.4, rel=1e-15)
    answer = asked(points={"link_frame": ["-2.6", "-3.7"]})
    assert answer["linkage"]["points"]["link_frame"] == pytest.approx(np.array([-2.6, -3.7]) * 25.4, abs=1e-3)
    assert row(answer, "rear", "sag, bike + rider")["after"].endswith(" in")


def test_a_bike_of_which_little_is_known():
    bike = wr.Bike.from_toml(
        'format = 1\n[bike]\nname = "little"\n[masses]\nbike = { front = "61 kg", rear = "64 kg" }\n'
    )
    start = Desk(bike).ask("start", {})
    assert start["linkage"] is None
    assert start["rows"] == []


JSON = st.recursive(
    st.none() | st.booleans() | st.floats(allow_nan=False) | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=8,
)
SUPPOSED = st.fixed_dictionaries({}, optional=dict.fromkeys(("points", "settings", "readings", "date", "dated"), JSON))
DESK = Desk(wr.demo())
VERSION = DESK.ask("start", {})["version"]


@settings(max_examples=150)
@given(kind=st.sampled_from(["answer", "preview", "save", "start", "other"]), body=JSON, supposed=SUPPOSED)
def test_whatever_is_sent_is_answered(kind, body, supposed):
    for sent in (body, {"version": VERSION, "supposed": supposed}, {"version": VERSION, "supposed": body}):
        assert isinstance(json.dumps(DESK.ask(kind, sent), allow_nan=False), str)


def test_everything_is_said_in_the_units_asked_for():
    least = Path(__file__).parents[1] / "files" / "least_imperial.toml"
    start = Desk(path=least, units="inch").ask("start", {})
    assert start["name"]
    assert start["linkage"] is None
    for end in start["ends"].values():
        for sentence in (end["before"]["headline"], *end["before"]["next"], end["before"]["set"]):
            assert not re.search(r"\d (mm|N/mm|N)\b", sentence)
