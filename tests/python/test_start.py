"""A bike file from a dozen answers, and from there to both decisions, through a terminal and a pipe."""

import re
import subprocess

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
