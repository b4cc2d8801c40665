"""A bike file from a dozen answers, and from there to both decisions, through a terminal and a pipe."""

import re
import subprocess
from pathlib import Path

import pytest
from terminal import COMMAND, CTRL_D, Terminal

import wheelrate as wr

#: What somebody knows of a bike, as it is said, with what it means.
SAID = {
    "bike": ("127 kg", "127 kg"),
    "rider": ("194 lbs", "194 lb"),
    "rear-travel": ("310", "310 mm"),
    "shock-stroke": ("13,2 cm", "13.2 cm"),
    "rear-spring": ("5.6 kg", "5.6 kgf/mm"),
    "fork-travel": ("12 inches", "12 in"),
    "fork-spring": ("0,47 kg", "0.47 kgf/mm"),
    "kind": ("trail", "trail"),
}


def new(*arguments, answers, cwd):
    return subprocess.run(
        [COMMAND, "new", *map(str, arguments)],
        input=answers,
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=cwd,
        check=False,
    )


def without_blanks(text):
    """Leave out comments and what surrounds them."""
    lines = [re.sub(r"\s*#.*", "", line) for line in text.splitlines()]
    return [line for line in lines if line]


@pytest.fixture
def file(tmp_path):
    return tmp_path / "mine.toml"


def test_ten_minutes_from_nothing_to_both_decisions(file):
    terminal = Terminal("new", file, cwd=file.parent)
    for question in wr.questions():
        terminal.expect(question.ask)
        said, meant = SAID.get(question.name, ("", ""))
        terminal.say(said)
        if meant:
            terminal.expect(f"= {meant}")
    terminal.expect("wheelrate read")
    assert terminal.end() == 0
    bike = wr.Bike.load(file)
    assert wr.check(file.read_text("utf-8")) == []
    assert bike.rear.shock.spring.spring.rate.m_as("kgf/mm") == pytest.approx(5.6)
    terminal = Terminal("read", file, "--sag", "--date", "2026-07-01", cwd=file.parent)
    for end, load, low, high in [
        ("front", "bike", "1 in", "19 mm"),
        ("rear", "bike", "17", "9"),
        ("front", "bike + rider", "2 5/8 in", "58 mm"),
        ("rear", "bike + rider", "108 mm", "33 %"),
    ]:
        for side, said in (("after pushing down", low), ("after lifting", high)):
            terminal.expect(f"{end}, {load}, {side}: ")
            terminal.say(said)
            terminal.expect("= ")
    terminal.expect("Write this?")
    terminal.say("y")
    for end in ("FRONT", "REAR"):
        terminal.expect(end)
        terminal.expect("chance")
    assert terminal.end() == 0
    bike = wr.Bike.load(file)
    assert len(bike.readings) == 8
    assert set(bike.advise()) == {"front", "rear"}
    # The answers stand where the blanks were, each with its comment.
    text = file.read_text("utf-8")
    assert re.search(r'^spring\.rate = "5\.6 kgf/mm" +# as marked on the spring$', text, re.MULTILINE)
    assert re.search(r'^# spring\.preload = "14 mm" +# free length less', text, re.MULTILINE)


def test_the_same_answers_as_options_make_the_same_file(file):
    options = [part for name, (said, _) in SAID.items() for part in (f"--{name}", said)]
    done = new(file, *options, "--no-questions", answers="", cwd=file.parent)
    assert done.returncode == 0, done.stderr
    other = file.with_name("asked.toml")
    answers = "".join(SAID.get(question.name, ("", ""))[0] + "\n" for question in wr.questions())
    assert new(other, answers=answers, cwd=file.parent).returncode == 0
    assert file.read_text("utf-8") == other.read_text("utf-8")


def test_odd_answers_are_asked_again_with_what_would_do(file):
    terminal = Terminal("new", file, cwd=file.parent)
    terminal.expect("1/13")
    for odd, says in [("heavy", "heavy"), ("127 mm", "length"), ("0 kg", "0"), ("-3 kg", "-3"), ("127 stone", "stone")]:
        terminal.say(odd)
        terminal.expect("Error: ")
        terminal.expect(says)
        terminal.expect("ready to ride")
    terminal.say("127")
    terminal.expect("= 127 kg")
    terminal.press(CTRL_D)
    terminal.expect("written")
    assert terminal.end() == 0
    assert without_blanks(file.read_text("utf-8")) == ["format = 1", "[masses]", 'bike = "127 kg"']


def test_ctrl_c_leaves_no_file(file):
    terminal = Terminal("new", file, cwd=file.parent)
    terminal.expect("1/13")
    terminal.say("127 kg")
    terminal.expect("2/13")
    terminal.interrupt("nothing written")
    assert terminal.end() == 130
    assert list(file.parent.iterdir()) == []


def test_a_file_that_is_there_is_never_touched(file):
    file.write_text("mine", "utf-8")
    done = new(file, answers="", cwd=file.parent)
    assert (done.returncode, done.stdout) == (2, "")
    assert "there already" in done.stderr
    assert file.read_text("utf-8") == "mine"


@pytest.mark.parametrize("template", ["little", "table", "pivots"])
def test_templates_are_sound_as_they_come(file, template):
    assert new(file, "--template", template, "--no-questions", answers="", cwd=file.parent).returncode == 0
    assert file.read_text("utf-8") == wr.start_file(template)
    assert wr.check(file.read_text("utf-8")) == []


@pytest.mark.parametrize(
    ("option", "value", "says"),
    [("--rear-spring", "5.6 mm", "length"), ("--kind", "hovercraft", "hovercraft"), ("--bike", "", "mass")],
)
def test_slips_in_options_end_with_2_and_write_nothing(file, option, value, says):
    done = new(file, option, value, "--no-questions", answers="", cwd=file.parent)
    assert done.returncode == 2
    assert option in done.stderr
    assert says in done.stderr
    assert "Traceback" not in done.stderr
    assert not file.exists()


#: A bike read before anything was changed on it, nobody noting the day.
READ = """format = 1
[masses]
bike = "127 kg"
rider = "88 kg"
[front.fork]
travel = "305 mm"
spring = { rate = "0.47 kgf/mm" }  # in each leg
[rear]
travel = "310 mm"
[rear.shock]
stroke = "132 mm"
spring = { rate = "5.6 kgf/mm", preload = "14 mm" }
[[reading]]
end = "rear"
load = "bike + rider"
sag = "108 mm"
"""


def test_what_was_done_is_noted_as_it_is_said(file):
    file.write_text(READ, "utf-8")
    terminal = Terminal("note", file, "--date", "2026-07-01 18:00", cwd=file.parent)
    terminal.expect("another rear spring: now 5.6 kgf/mm")
    for odd, says in [("0", "no plausible spring rate"), ("62 mm", "is a length"), ("stiff", "stiff")]:
        terminal.say(odd)
        terminal.expect("Error: ")
        terminal.expect(says)
        terminal.expect("changed to")
    terminal.say("6,2 kg")
    terminal.expect("= 6.2 kgf/mm")
    terminal.expect("rear preload: now 14 mm")
    terminal.say("")
    terminal.expect("other fork springs: now 0.47 kgf/mm")
    # A number alone has the unit of what stood there: in newtons a fork spring of 0.49 would carry nothing.
    terminal.say("0.49")
    terminal.expect("= 0.49 kgf/mm")
    terminal.expect("A note for the log")
    terminal.say("stiffer all round")
    terminal.expect("1 reading stands in")
    for odd, says in [("yesterday", "wanted a day"), ("2026-07-01", "before or after")]:
        terminal.expect("Which day were they read")
        terminal.say(odd)
        terminal.expect(says)
    terminal.say("")
    terminal.expect("Write this?")
    terminal.say("y")
    terminal.expect("next: wheelrate read")
    assert terminal.end() == 0
    text = file.read_text("utf-8")
    assert 'spring = { rate = "0.49 kgf/mm" }  # in each leg' in text
    assert wr.check(text) == []
    bike = wr.Bike.load(file)
    assert [reading.date for reading in bike.readings] == ["2026-07-01 17:59"]
    [change] = bike.changes
    assert (change.date, change.note) == ("2026-07-01 18:00", "stiffer all round")
    # What was read before is carried over to the stiffer spring.
    [_, (_, sag)] = [(load.load, load.sag.value.m_as("mm")) for load in bike.fit()["rear"].loads]
    assert sag < 105


def test_a_sag_beyond_the_travel_is_asked_again_at_once(file):
    file.write_text(READ, "utf-8")
    terminal = Terminal("read", file, "--end", "rear", "--load", "bike + rider", cwd=file.parent)
    terminal.expect("Which day were they read")
    terminal.say("2026-05-31")
    terminal.expect("after pushing down: ")
    terminal.say("400 mm")
    terminal.expect("larger than the whole travel, 310.0 mm")
    terminal.expect("after pushing down: ")
    terminal.say("108")
    terminal.expect("= 108 mm")
    terminal.expect("after lifting: ")
    terminal.press(CTRL_D)
    terminal.expect("Write this?")
    terminal.say("y")
    terminal.expect("REAR")
    assert terminal.end() == 0
    assert len(wr.Bike.load(file).readings) == 2


@pytest.mark.parametrize("answers", ["", "\n\n\n"])
def test_nothing_done_is_nothing_noted(file, answers):
    file.write_text(READ, "utf-8")
    done = subprocess.run(
        [COMMAND, "note", file], input=answers, capture_output=True, text=True, encoding="utf-8", check=False
    )
    assert (done.returncode, "nothing noted" in done.stderr) == (0, True)
    assert file.read_text("utf-8") == READ


def test_ctrl_c_in_a_note_leaves_the_file(file):
    file.write_text(READ, "utf-8")
    terminal = Terminal("note", file, cwd=file.parent)
    terminal.expect("changed to")
    terminal.say("6.2 kg")
    terminal.expect("rear preload")
    terminal.interrupt("nothing written")
    assert terminal.end() == 130
    assert file.read_text("utf-8") == READ


def test_a_note_in_a_pipe_dates_nothing_by_itself(file):
    file.write_text(READ, "utf-8")
    done = subprocess.run(
        [COMMAND, "note", file, "rear.shock.spring.rate=60 N/mm", "--date", "2026-07-01", "--yes"],
        input="",
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 2
    assert "reading 1.date: found none, wanted the day of this reading" in done.stderr
    assert file.read_text("utf-8") == READ


def test_a_reading_that_the_travel_has_no_room_for_is_asked_again(tmp_path):
    file = tmp_path / "patrol.toml"
    file.write_text(wr.demo_file(), "utf-8")
    command = [COMMAND, "read", file, "--end", "rear", "--load", "bike + rider"]
    done = subprocess.run(
        command, input="soon\n\n100 mm\n549 mm\n\n", capture_output=True, check=False, encoding="utf-8"
    )
    said = done.stdout + done.stderr
    assert said.count("found text `soon`") == 1, "one answer that dates ten readings is refused once"
    assert "found 100 mm: the sag is 554.0 mm, larger than the whole travel" in said
    assert "= 549 mm" in said
    assert file.read_text("utf-8") == wr.demo_file(), "nobody said yes"


def test_a_note_says_why_a_collar_cannot_be_noted(file):
    """A preload that nobody stated has no number that a change could be counted from."""
    file.write_text((Path(__file__).parents[2] / "core/demo/least.toml").read_text("utf-8"), "utf-8")
    done = subprocess.run([COMMAND, "note", file], input="\n\n\n\n", capture_output=True, check=False, encoding="utf-8")
    said = " ".join(done.stdout.split())
    for end, name in (("rear", "rear preload"), ("front", "fork preload")):
        assert f"{name}: not stated, so a turned collar or a cut spacer cannot be noted" in said
        assert f"[prior.{end}]" in said
