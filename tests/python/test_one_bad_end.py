"""One bad end never hides the other: every command on a file with one end broken, in many ways."""

import json

import pytest
from click.testing import CliRunner

import wheelrate as wr
from wheelrate.cli import main

#: Ways to break an end of the shipped file: what is put in the place of what. `{end}` and `{n}` are put in below.
REAR = {
    "no unit": ('stroke = "118 mm"', 'stroke = "118"'),
    "wrong dimension": ('stroke = "118 mm"', 'stroke = "118 kg"'),
    "misspelt": ('stroke = "118 mm"', 'stork = "118 mm"'),
    "a part missing": ('stroke = "118 mm"\n', ""),
    "a point missing": ("axle           = ", "# axle         = "),
    "no spring": ("spring = { rate = ", "# spring = { rate = "),
    "a target that is none": ('rider_sag = { value = "102 mm"', 'rider_sag = { value = "102 N"'),
    "a reading that is none": ('distance = "551 mm"', 'distance = "551"'),
    "on sale in a wrong unit": ('rear  = ["50 N/mm"', 'rear  = ["50 Nm"'),
    "readings that contradict": ('distance = "551 mm"', 'distance = "651 mm"'),
}
FRONT = {
    "no unit": ('travel = "290 mm"', 'travel = "290"'),
    "misspelt": ('travel = "290 mm"', 'travle = "290 mm"'),
    "a part missing": ('travel = "290 mm"  ', "#"),
    "no spring": ("spring = {", "# spring = {"),
}
BROKEN = [("rear", "front", way) for way in REAR] + [("front", "rear", way) for way in FRONT]
OTHER_LOAD = ("--load", "no rider=bike + stretcher")
COMMANDS = [
    ("curve",),
    ("fit",),
    ("advise",),
    ("plan",),
    ("sheet",),
    ("history",),
    ("scenarios", *OTHER_LOAD),
    ("targets",),
    ("rehearse", "--garages", "100"),
    ("compare", "--what-if", "masses.rider.front=33 kg"),
]


def broken(end, way):
    """Break one end of the shipped file, in the part of it that is of that end."""
    old, new = (REAR if end == "rear" else FRONT)[way]
    text = wr.demo_file()
    start = text.index("[front.fork]") if end == "front" else 0
    if way == "no spring" and end == "rear":
        start = text.index("[rear.shock]")
    found = text[start:].replace(old, new, 2 if end == "front" and way == "no spring" else 1)
    assert found != text[start:], way
    return text[:start] + found


@pytest.fixture(scope="module")
def sound():
    """Ask every command of the sound file, end by end."""
    return {command: asked(command, wr.demo_file()) for command in COMMANDS}


def asked(command, text):
    name, *options = command
    done = CliRunner().invoke(main, [name, "-", "--json", *options], input=text)
    assert done.exit_code in (0, 2), done.output
    assert done.stdout, done.stderr
    said = json.loads(done.stdout)
    if name == "sheet":
        return {end["end"]: end for end in said["ends"]} | {"without": said["without"]}
    return said


@pytest.mark.parametrize(("bad", "good", "way"), BROKEN)
def test_every_command_answers_the_other_end(bad, good, way, sound):
    text = broken(bad, way)
    for command in COMMANDS:
        said = asked(command, text)
        assert good in said, (command, said)
        assert core_of(said[good]) == core_of(sound[command][good]), command
        if command[0] == "sheet":
            assert bad in said or any(line.startswith(bad) for line in said["without"]), said["without"]
        elif command[0] != "compare":
            assert said.get(bad), (command, said)


#: Commands of one end alone, and those that say what they can of each.
OF_ONE_END = [
    ("squat", ("chain", "swingarm", "squat line")),
    ("chain", ("growth", "slack", "play")),
    ("damping", ("motion ratio", "wheel rate", "damping ratio")),
]


def asked_partly(command, text, *options):
    done = CliRunner().invoke(main, [command, "-", "--json", *options], input=text)
    assert done.stdout, done.stderr
    assert "Traceback" not in done.stderr
    return json.loads(done.stdout), done


@pytest.mark.parametrize("way", [way for way in FRONT if way != "no spring"])  # a fork without one is a fork
@pytest.mark.parametrize(("command", "columns"), OF_ONE_END)
def test_what_hangs_on_the_rear_alone_is_tabulated(command, columns, way):
    said, done = asked_partly(command, broken("front", way))
    assert done.exit_code == 2
    assert "front left out" in done.stderr
    whole, _ = asked_partly(command, wr.demo_file())
    said, whole = said.get("over_travel", said), whole.get("over_travel", whole)
    if command == "squat":
        # Angles turn with the pitch of the frame, which is not known; the chain to the swingarm does not.
        assert "front" in said["without"]
        between = [
            [chain - arm for chain, arm in zip(of["chain"]["values"], of["swingarm"]["values"], strict=True)]
            for of in (said, whole)
        ]
        assert between[0] == pytest.approx(between[1], abs=1e-9)
        assert "anti-squat" not in said
    else:
        for column in columns:
            assert said[column] == whole[column]


@pytest.mark.parametrize(("bad", "good", "way"), [("rear", "front", "no unit"), ("front", "rear", "no unit")])
def test_an_end_rests_where_it_rests_whatever_the_other_lacks(bad, good, way):
    said, done = asked_partly("settle", broken(bad, way))
    assert done.exit_code == 2
    assert set(said["ends"]) == {good}
    assert set(said["without"]) == {bad, "stance"}
    whole, _ = asked_partly("settle", wr.demo_file())
    for quantity in ("travel", "force_on_ground"):
        found, there = said["ends"][good][quantity], whole["ends"][good][quantity]
        assert found["unit"] == there["unit"]
        # The whole bike pitches as it comes to rest, which moves its loads by parts in a thousand.
        assert found["value"] == pytest.approx(there["value"], rel=0.02)
    text = CliRunner().invoke(main, ["settle", "-"], input=broken(bad, way))
    assert good in text.stdout
    assert "stance: left out" in text.stdout


def test_a_landing_is_that_of_its_own_end():
    text = broken("front", "no unit")
    said, done = asked_partly("landing", text, "--end", "rear", "--height", "300 mm")
    assert done.exit_code == 2
    whole, _ = asked_partly("landing", wr.demo_file(), "--end", "rear", "--height", "300 mm")
    assert said["peak_travel"] == whole["peak_travel"]
    refused = CliRunner().invoke(main, ["landing", "-", "--end", "front", "--height", "300 mm"], input=text)
    assert (refused.exit_code, refused.stdout) == (2, "")


@pytest.mark.parametrize(("bad", "good", "way"), [("rear", "front", "no unit"), ("front", "rear", "misspelt")])
def test_plan_and_pictures_of_the_end_that_can_be_read(bad, good, way):
    bike, _ = wr.read_partly(broken(bad, way))
    sound = wr.Bike.from_toml(wr.demo_file())
    assert list(bike.plan()) == [good]
    assert bike.plan()[good].text() == sound.plan()[good].text()
    assert wr.plot.sag_ladder(bike).texts
    for draw in (wr.plot.posterior, wr.plot.residuals, wr.plot.springs):
        assert draw(bike, good).get_title() == draw(sound, good).get_title()
        with pytest.raises(wr.WheelrateError, match=bad):
            draw(bike, bad)


def core_of(said):
    """Take from the sheet's part of an end what hangs on that end alone: its headline."""
    return said.get("headline", said) if isinstance(said, dict) else said


LEAST = """format = 1
[masses]
bike = "127 kg"
rider = "88 kg"
[front.fork]
travel = "305 mm"
spring = { rate = "0.47 kgf/mm" }
[rear]
travel = "310 mm"
[rear.shock]
stroke = "132 mm"
spring = { rate = "5.6 kgf/mm" }
"""
SAGS = {
    ("front", "bike"): 33,
    ("front", "bike + rider"): 62,
    ("rear", "bike"): 33,
    ("rear", "bike + rider"): 103,
}


def rows(*left_out):
    """Write the readings of both ends but some."""
    return "".join(row(*key, sag) for key, sag in SAGS.items() if key not in left_out)


def row(end, load, sag, settled=""):
    side = f'settled = "{settled}"\n' if settled else ""
    return f'[[reading]]\nend = "{end}"\nload = "{load}"\n{side}sag = "{sag} mm"\n'


@pytest.mark.parametrize("left_out", [(load,) for load in ("bike", "bike + rider")] + [("bike", "bike + rider")])
@pytest.mark.parametrize("end", ["front", "rear"])
def test_a_reading_that_lacks_is_named_with_what_it_would_say(end, left_out):
    text = LEAST + rows(*((end, load) for load in left_out))
    decision = wr.Bike.from_toml(text).advise_end(end)
    lacks = json.loads(decision.to_json())["lacks"]
    assert [lack["load"] for lack in lacks] == list(left_out)
    # Both uncertainties shrink, and the page, the text and the JSON say by how much.
    said = asked(("advise",), text)
    page = wr.Bike.from_toml(text).sheet().to_html().replace("\N{NO-BREAK SPACE}", " ").replace("&nbsp;", " ")
    for lack in lacks:
        (now, then), preload = (
            [wr.quantity(part, "length").m_as("mm") for part in lack[of]] for of in ("sag", "preload")
        )
        assert then < 0.7 * now
        assert preload[1] < preload[0]
        [sentence] = [reason for reason in said[end]["reasons"] if f"Nothing is read under `{lack['load']}`" in reason]
        assert f"± {then:.1f} mm in place of ± {now:.1f} mm" in sentence
        assert f"± {then:.1f} mm in place of ± {now:.1f} mm" in page
    other = "rear" if end == "front" else "front"
    assert not [reason for reason in said[other]["reasons"] if "Nothing is read" in reason]
    # Read as it says, the fit is about as sure of that sag.
    if len(left_out) == 1:
        [load] = left_out
        both = row(end, load, SAGS[end, load] + 4, "low") + row(end, load, SAGS[end, load] - 4, "high")
        today = json.loads(wr.Bike.from_toml(text + both).advise_end(end).to_json())["today"]
        sag = today["free_sag" if load == "bike" else "rider_sag"]
        found = wr.quantity(sag["standard_uncertainty"], "length").m_as("mm")
        assert found == pytest.approx(then, rel=0.35)


@pytest.mark.parametrize(
    ("masses", "says"), [("", "masses"), ('rider = "88 kg"', "bike"), ('bike = "127 kg"', "rider")]
)
def test_a_mass_that_lacks_is_named(masses, says):
    text = LEAST.replace('[masses]\nbike = "127 kg"\nrider = "88 kg"\n', f"[masses]\n{masses}\n" if masses else "")
    faults = wr.check(text + rows())
    assert faults
    assert all(f"`{says}`" in fault.message for fault in faults), faults
    done = CliRunner().invoke(main, ["advise", "-"], input=text + rows())
    assert done.exit_code == 2
    assert f"`{says}`" in done.stderr


@pytest.mark.parametrize("gone", ['stroke = "132 mm"\n', 'travel = "310 mm"\n'])
def test_neither_stroke_nor_lever_leaves_the_front_answered(gone):
    said = asked(("advise",), LEAST.replace(gone, "") + rows())
    assert said["front"]["headline"]
    assert "lever" in said["rear"]["without"] or "travel" in said["rear"]["without"]


def test_the_page_answers_the_other_end(tmp_path):
    from wheelrate._explore.desk import Desk

    file = tmp_path / "broken.toml"
    file.write_text(broken("rear", "no unit"), "utf-8")
    start = Desk(path=file).ask("start", {})
    assert {end["end"] for end in start["form"]} == {"front"}
    assert "rear.shock.stroke" in start["without"]
