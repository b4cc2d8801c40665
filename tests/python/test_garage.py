"""Readings and changes written down at the bike: through a terminal and a pipe, with odd answers."""

import subprocess

import pytest
from terminal import COMMAND, CTRL_D, Terminal

import wheelrate as wr

REAR = ("--end", "rear", "--load", "bike + rider", "--date", "2026-07-01 19:30")


@pytest.fixture
def file(tmp_path):
    """Give the shipped bike with its readings dated, and a comment at its end."""
    path = tmp_path / "patrol.toml"
    dated = wr.demo_file().replace("[[reading]]", '[[reading]]\ndate = "2026-05-31"')
    path.write_text(dated + "\n# The end.\n", "utf-8")
    return path


def piped(*arguments, answers, cwd):
    return subprocess.run(
        [COMMAND, *map(str, arguments)],
        input=answers,
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=cwd,
        check=False,
    )


def lines_added(before, after):
    """List the lines that were put in; nothing else may differ."""
    kept = iter(after.splitlines())
    added = []
    for line in before.splitlines():
        for other in kept:
            if other == line:
                break
            added.append(other)
        else:
            pytest.fail(f"{line!r} is gone")
    return [line for line in [*added, *kept] if line]


def test_readings_are_taken_at_a_terminal_and_appended(file):
    before = file.read_text("utf-8")
    terminal = Terminal("read", file, *REAR, "--load", "none", cwd=file.parent)
    terminal.expect("elbow on a wall")
    terminal.expect("after pushing down: ")
    terminal.say("53,85 cm")
    terminal.expect("= 53.85 cm")
    terminal.expect("after lifting: ")
    terminal.say("55")  # the unit of the last answer
    terminal.expect("= 55 cm")
    terminal.expect("hanging free")
    terminal.expect("rear, none: ")
    terminal.say("655 mm")
    terminal.expect("+[[reading]]")
    terminal.expect("Write this?")
    assert file.read_text("utf-8") == before, "what changes is shown first"
    terminal.say("y")
    terminal.expect("REAR")
    assert terminal.end() == 0
    after = file.read_text("utf-8")
    assert lines_added(before, after) == [
        *("[[reading]]", 'end = "rear"', 'load = "bike + rider"', 'settled = "low"', 'distance = "538.5 mm"'),
        'date = "2026-07-01 19:30"',
        *("[[reading]]", 'end = "rear"', 'load = "bike + rider"', 'settled = "high"', 'distance = "550 mm"'),
        'date = "2026-07-01 19:30"',
        *("[[reading]]", 'end = "rear"', 'load = "none"', 'distance = "655 mm"', 'date = "2026-07-01 19:30"'),
    ]
    assert len(wr.Bike.from_toml(after).readings) == len(wr.Bike.from_toml(before).readings) + 3


def test_odd_answers_are_asked_again_with_what_would_do(file):
    terminal = Terminal("read", file, *REAR, cwd=file.parent)
    for odd, says in [("538 kg", "mass"), ("far", "far"), ("538 mm mm", "mm mm"), ("538 m", "538"), ("1e400", "")]:
        terminal.expect("after pushing down: ")
        terminal.say(odd)
        terminal.expect("Error: ")
        terminal.expect(says)
    terminal.expect("after pushing down: ")
    terminal.say("")
    terminal.expect("after lifting: ")
    terminal.press(CTRL_D)
    terminal.expect("nothing read")
    assert terminal.end() == 0


@pytest.mark.parametrize("stop", ["q", "Quit", "stop"])
def test_a_word_ends_the_questions_and_keeps_what_was_said(file, stop):
    before = len(wr.Bike.load(file).readings)
    done = piped("read", file, *REAR, "--yes", answers=f"538 mm\n{stop}\n", cwd=file.parent)
    assert done.returncode == 0, done.stderr
    assert "Enter skips a reading, q ends." in done.stdout
    assert len(wr.Bike.load(file).readings) == before + 1


def test_ctrl_c_leaves_the_file_as_it_is(file):
    before = file.read_text("utf-8")
    terminal = Terminal("read", file, *REAR, cwd=file.parent)
    terminal.expect("after pushing down: ")
    terminal.say("538 mm")
    terminal.expect("after lifting: ")
    terminal.interrupt("nothing written")
    assert terminal.end() == 130
    assert file.read_text("utf-8") == before
    assert list(file.parent.iterdir()) == [file]


@pytest.mark.parametrize(
    ("letter", "distances"), [("s", ["539 mm", "550 mm"]), ("k", ["550 mm", "539 mm"]), ("r", ["540 mm", "551 mm"])]
)
def test_low_above_high_is_noticed_at_once(file, letter, distances):
    answers = ["550 mm", "539 mm", letter] + (["540 mm", "551 mm"] if letter == "r" else [])
    done = piped("read", file, *REAR, "--yes", answers="\n".join(answers) + "\n", cwd=file.parent)
    assert done.returncode == 0, done.stderr
    assert "friction never does that" in done.stdout
    taken = wr.Bike.load(file).readings[-2:]
    assert [f"{reading.distance.m_as('mm'):g} mm" for reading in taken] == distances
    assert [reading.settled for reading in taken] == ["low", "high"]


def test_a_pipe_that_ends_keeps_what_was_said(file):
    done = piped("read", file, *REAR, "--yes", answers="538 mm\n", cwd=file.parent)
    assert done.returncode == 0
    assert wr.Bike.load(file).readings[-1].distance.m_as("mm") == pytest.approx(538)
    before = file.read_text("utf-8")
    done = piped("read", file, *REAR, answers="538 mm\n", cwd=file.parent)
    assert "nothing written" in done.stderr, "nobody said yes"
    assert file.read_text("utf-8") == before


def test_readings_without_a_date_are_given_theirs(tmp_path):
    path = tmp_path / "patrol.toml"
    path.write_text(wr.demo_file(), "utf-8")
    done = piped("read", path, *REAR, "--yes", answers="31 May\n2026-05-31\n540 mm\n551 mm\n", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    bike = wr.Bike.load(path)
    assert {reading.date for reading in bike.readings if reading.end == "rear"} == {"2026-05-31", "2026-07-01 19:30"}
    assert {reading.date for reading in bike.readings if reading.end == "front"} == {None}


def test_a_file_changed_meanwhile_is_left_alone(file):
    terminal = Terminal("read", file, *REAR, cwd=file.parent)
    terminal.expect("after pushing down: ")
    terminal.say("538 mm")
    terminal.expect("after lifting: ")
    file.write_text(file.read_text("utf-8") + "# By somebody else.\n", "utf-8")
    terminal.press(CTRL_D)
    terminal.expect("Write this?")
    terminal.say("y")
    terminal.expect("was changed while this was under way")
    assert terminal.end() == 2
    assert file.read_text("utf-8").endswith("# By somebody else.\n")


def test_a_change_is_noted_by_keys_and_by_questions(file):
    before = file.read_text("utf-8")
    stiffer = ("rear.shock.spring.rate=56 N/mm", "rear.shock.spring.preload=10 mm")
    why = ("--date", "2026-06-14", "--note", "stiffer", "--yes")
    done = piped("note", file, *stiffer, *why, answers="", cwd=file.parent)
    assert done.returncode == 0, done.stderr
    noted = wr.Bike.load(file)
    assert noted.changes[-1].was == {"rear.shock.spring.rate": "52 N/mm", "rear.shock.spring.preload": "14 mm"}
    assert noted.at("2026-06-13") == wr.Bike.from_toml(before)
    terminal = Terminal("note", file, "--date", "2026-07-02", cwd=file.parent)
    terminal.expect("another rear spring: now 56 N/mm")
    terminal.say("5,8 kg")
    terminal.expect("= 5.8 kgf/mm")
    for _ in range(2):
        terminal.expect("changed to")
        terminal.say("")
    terminal.expect("fork preload: now 6 mm, in each of 2 legs")
    terminal.say("8")
    terminal.expect("= 8 mm")
    terminal.expect("oil level")
    terminal.say("")
    terminal.expect("A note for the log")
    terminal.say("for the stretcher")
    terminal.expect("Write this?")
    terminal.say("y")
    assert terminal.end() == 0
    bike = wr.Bike.load(file)
    assert bike.changes[-1].note == "for the stretcher"
    assert set(bike.changes[-1].was) == {
        *("rear.shock.spring.rate", "front.fork.leg[0].spring.preload", "front.fork.leg[1].spring.preload")
    }
    # Comments are where they were.
    comments = [line.partition("#")[2] for line in before.splitlines() if "#" in line]
    assert comments == [line.partition("#")[2] for line in file.read_text("utf-8").splitlines() if "#" in line]


def test_a_symbolic_link_stays_one(file):
    link = file.with_name("link.toml")
    link.symlink_to(file)
    done = piped("read", link, *REAR, "--yes", answers="538 mm\n551 mm\n", cwd=file.parent)
    assert done.returncode == 0
    assert link.is_symlink()
    assert len(wr.Bike.load(file).readings) == 17


@pytest.mark.parametrize(
    ("command", "arguments", "says"),
    [
        ("read", ("bike.json",), "TOML"),
        ("note", ("patrol.toml", "rear.shock.spring.rate"), "KEY"),
        ("note", ("patrol.toml", "rear.shock.colour=red"), "colour"),
        ("note", ("patrol.toml", "rear.shock.spring.rate=56 mm"), "length"),
        ("note", ("patrol.toml", "rear.shock.spring.rate=56 N/mm", "--date", "2026-05-31"), "2026-05-31"),
        ("read", ("patrol.toml", "--load", "bike + ghost", "--yes"), "ghost"),
    ],
)
def test_slips_end_with_2_and_change_nothing(file, command, arguments, says):
    file.with_name("bike.json").write_text(wr.demo().to_json(), "utf-8")
    before = file.read_text("utf-8")
    done = piped(command, *arguments, answers="538 mm\n551 mm\n", cwd=file.parent)
    assert done.returncode == 2 or (command == "read" and "ghost" in done.stdout)
    assert says.lower() in (done.stderr + done.stdout).lower()
    assert "Traceback" not in done.stderr
    assert file.read_text("utf-8") == before
