"""Commands about the whole bike, and what editors and shells are given."""

import json
import os
import pickle
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

import wheelrate as wr
from wheelrate import _units
from wheelrate.cli import main

DAMPED = ["--height", "0.8 m", "--compression", "6000 N s/m", "--rebound", "9000 N s/m"]
FREE = ["--free", "x of link_frame=-100 mm:-40 mm", "--free", "z of link_frame=-120 mm:-80 mm"]
WOUND = ["--wire", "11.2 mm", "--mean-diameter", "66 mm", "--active-coils", "10", "--wire-kind", "oil-tempered A229"]
SYSTEMS = ["metric", "kilogram-force", "inch"]
#: Every command that prints quantities as JSON.
JSON = {
    "curve": [],
    "fit": [],
    "advise": [],
    "plan": [],
    "history": [],
    "scenarios": [],
    "riders": ["--mean", "92 kg", "--deviation", "10 kg"],
    "sheet": [],
    "targets": [],
    "settle": [],
    "squat": [],
    "steering": [],
    "chain": [],
    "descent": ["--towards", "60 degC", "--time-constant", "600 s"],
    "fork-friction": ["--braking", "60 %"],
    "spring-life": [*WOUND, "--peened"],
    "corrections": ["--trail", "120 mm", "--clamps", "-5 mm:15 mm"],
    "landing": DAMPED,
    "design": [*FREE, "--progression", "40 %:0.5 %"],
    "compare": ["--what-if", "rear.shock.spring.rate=56 N/mm"],
}


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "patrol.toml"
    path.write_text(wr.demo_file(), encoding="utf-8")
    return str(path)


def run(*arguments):
    found = CliRunner().invoke(main, arguments)
    assert found.exit_code == 0, found.output
    return found.stdout


def data(command, file, *options):
    return json.loads(run(command, file, "--json", *options))


def quantity(entry):
    return pint_of(entry["value"], entry["unit"])


def pint_of(number, unit):
    return wr.demo().rear.full_travel._REGISTRY.Quantity(number, _units.spelling(unit))


@pytest.mark.parametrize("units", SYSTEMS)
def test_settles_as_the_bike_does(file, units):
    found = data("settle", file, "--units", units, "--load", "bike + rider + stretcher", "--slope", "4 deg")
    wanted = wr.demo().whole.settle("bike + rider + stretcher", slope="4 deg")
    for end in ("front", "rear"):
        shown = found["ends"][end]
        assert shown["outcome"] == wanted.ends[end].outcome
        assert quantity(shown["travel"]).m_as("mm") == pytest.approx(wanted.stance.travel[end].m_as("mm"))
        assert quantity(shown["force_on_ground"]).m_as("N") == pytest.approx(wanted.load[end].m_as("N"))
    assert quantity(found["stance"]["trail"]).m_as("mm") == pytest.approx(wanted.stance.trail.m_as("mm"))


def test_squat_is_that_of_the_bike(file):
    found = data("squat", file, "--at", "50 mm", "--at", "105 mm")
    wanted = wr.demo().whole.squat(travels=["50 mm", "105 mm"])
    assert found["anti-squat"]["values"] == pytest.approx(wanted.anti_squat.m_as("percent").tolist())
    assert found["chain"]["values"] == pytest.approx(wanted.chain_angle.m_as("degree").tolist())
    assert "anti-squat" in run("squat", file)


def test_anti_rise_and_chain_are_those_of_the_bike(file):
    found = data("squat", file, "--at", "50 mm", "--at", "105 mm")
    wanted = wr.demo().whole.anti_rise(travels=["50 mm", "105 mm"])
    assert found["anti-rise"]["values"] == pytest.approx(wanted.anti_rise.m_as("percent").tolist())
    found = data("chain", file, "--play", "15 mm", "--at", "50 mm", "--at", "105 mm")
    wanted = wr.demo().rear.chain(["50 mm", "105 mm"], play="15 mm")
    assert quantity(found["extended_play"]).m_as("mm") == pytest.approx(wanted.extended_play.m_as("mm"))
    assert found["over_travel"]["slack"]["values"] == pytest.approx(wanted.slack.m_as("mm").tolist())
    assert found["over_travel"]["wheel turn"]["values"] == pytest.approx(wanted.wheel_turn.m_as("degree").tolist())
    assert "extended play" in run("chain", file)


def test_fork_friction_is_that_of_the_bike(file):
    found = data("fork-friction", file, "--braking", "60 %", "--at", "50 mm", "--at", "105 mm")
    whole = wr.demo().whole
    wanted = whole.fork_friction(["50 mm", "105 mm"], braking="60 %")
    assert found["over_travel"]["friction"]["values"] == pytest.approx(wanted.friction_at_wheel.m_as("N").tolist())
    for name, share in {"friction_at_rest": "0 %", "friction_braked_there": "60 %"}.items():
        rest = whole.fork_friction_at_rest(braking=share).friction_at_wheel[0]
        assert quantity(found[name]).m_as("N") == pytest.approx(rest.m_as("N"))
    readings = wr.demo().fit_end("front").friction.value
    assert quantity(found["friction_found_by_readings"]).m_as("N") == pytest.approx(readings.m_as("N"))
    assert "friction found by readings" in run("fork-friction", file)
    Path(file).write_text(wr.demo_file().replace("bushes = {", "# bushes = {"), encoding="utf-8")
    gone = CliRunner().invoke(main, ["fork-friction", file])
    assert gone.exit_code == 2
    assert "front.fork.bushes" in gone.stderr


def test_a_tyre_is_that_of_the_call_and_its_doubt_reaches_rate_and_trail(file):
    readings = ["400 N:341.2 mm", "900 N:337.3 mm", "1400 N:332.8 mm"]
    found = json.loads(run("tyre", *readings, "--file", file, "--json"))
    wanted = wr.tyre_rate(([400, 900, 1400], "N"), ([341.2, 337.3, 332.8], "mm"))
    rate, off = (number.m_as("N/mm") for number in (wanted.rate.value, wanted.rate.standard_uncertainty))
    assert [found["rate"]["value"], found["rate"]["standard_uncertainty"]] == pytest.approx([rate, off])
    bike = wr.demo()
    wheel = bike.front.at(bike.whole.settle().stance.travel["front"]).wheel_rate.m_as("N/mm")
    # The derivative of k*t/(k + t) over t; the rest is of third order in the uncertainty.
    slope = (wheel / (wheel + rate)) ** 2
    ground = found["on_the_bike"]["rate_at_the_ground"]
    assert ground["value"] == pytest.approx(wheel * rate / (wheel + rate))
    assert ground["standard_uncertainty"] == pytest.approx(slope * off, rel=2 * (off / rate) ** 2)
    assert found["on_the_bike"]["trail"]["standard_uncertainty"] > 0
    assert 'front = { radius = "344.7 mm", tyre = "119 N/mm" }' in run("tyre", *readings)
    rough = json.loads(run("tyre", "--footprint", "900 N:120 mm", "--radius", "300 mm", "--json"))
    assert rough["rate"]["value"] == pytest.approx(
        wr.tyre_rate_of_footprint("900 N", "120 mm", "300 mm").rate.value.m_as("N/mm")
    )
    for wrong in (["400 N"], [], ["--footprint", "900 N:120 mm"]):
        assert CliRunner().invoke(main, ["tyre", *wrong]).exit_code == 2


def test_the_tyre_of_a_file_reaches_as_far_as_its_readings_on_the_command_line(tmp_path):
    readings = ["400 N:341.2 mm", "900 N:337.3 mm", "1400 N:332.8 mm"]
    rows = ", ".join('["{}", "{}"]'.format(*reading.split(":")) for reading in readings)
    text = wr.demo().to_toml()
    radius = wr.tyre_rate(([400, 900, 1400], "N"), ([341.2, 337.3, 332.8], "mm")).radius.value.m_as("mm")
    stated = 'tyre = "160 N/mm"'
    assert stated in text
    read = tmp_path / "read.toml"
    read.write_text(
        wr.Bike.from_toml(text.replace(stated, f"tyre_readings = [{rows}]", 1))
        .what_if({"wheels.front.radius": f"{radius!r} mm"})
        .to_toml()
    )
    wanted = json.loads(run("tyre", *readings, "--file", str(read), "--json"))
    found = json.loads(run("tyre", "--file", str(read), "--json"))
    assert found["rate"] == wanted["rate"]
    assert found["on_the_bike"] == wanted["on_the_bike"]
    assert "tyre, vertical rate" in run("sheet", str(read), "--full")
    wheels = wr.Bike.load(read).wheels
    assert pickle.loads(pickle.dumps(wheels)) == wheels
    nothing = CliRunner().invoke(main, ["tyre", "--file", str(read), "--end", "rear"])
    assert nothing.exit_code == 2
    assert "tyre_uncertainty" in nothing.stderr


def test_a_correction_says_how_surely_the_bike_stands_so(file):
    found = data("corrections", file, "--trail", "120 mm", "--clamps", "-5 mm:15 mm")["corrections"]
    whole = wr.demo().whole
    corrections = whole.corrections(trail="120 mm", fork_raised=["-5 mm", "15 mm"])
    for row, one in zip(found, corrections, strict=True):
        doubt = whole.geometry_doubt(one.effect.after.stance)
        assert row["trail"]["standard_uncertainty"] == pytest.approx(doubt.trail.m_as("mm"))
        assert row["rake"]["standard_uncertainty"] == pytest.approx(doubt.rake.m_as("deg"))
        change = (one.effect.after.stance.trail - one.effect.before.stance.trail).m_as("mm")
        for move, data_of in zip(one.moves, row["moves"], strict=True):
            if len(one.moves) == 1 and change:
                expected = abs(move.set.m_as("mm") / change) * doubt.trail.m_as("mm")
                assert data_of["standard_uncertainty"] == pytest.approx(expected)
    assert "±" in run("corrections", file, "--trail", "120 mm", "--clamps", "-5 mm:15 mm")


def test_a_descent_is_that_of_the_bike(file):
    found = data("descent", file, "--end", "rear", "--towards", "60 degC", "--time-constant", "600 s", "--at", "900 s")
    wanted = wr.demo().whole.descent("rear", "15 degC", "60 degC", "600 s", ["900 s"])
    assert found["travel"]["values"] == pytest.approx(wanted.travel.m_as("mm").tolist())
    assert found["reserve"]["values"] == pytest.approx(wanted.reserve.m_as("J").tolist())
    assert "pressure" in run("descent", file, "--towards", "60 degC", "--time-constant", "600 s")


def test_a_spring_lasts_between_rest_and_full_travel_of_the_bike(file):
    bike = wr.demo()
    coil = wr.CoilGeometry(
        wire="11.2 mm", mean_diameter="66 mm", active_coils=10, ends="closed-ground", material="EN 10270-2"
    )
    stroke = bike.rear.at(bike.whole.settle().stance.travel["rear"]).stroke
    compressed = [stroke.m_as("mm") + 14, 118 + 14]  # preload and full stroke of the demo
    wanted = coil.life("oil-tempered A229", *((length, "mm") for length in compressed), is_peened=True)
    found = data("spring-life", file, *WOUND, "--peened")
    assert found["fatigue_factor"] == pytest.approx(wanted.fatigue_factor)
    assert quantity(found["most_stress"]).m_as("MPa") == pytest.approx(wanted.most_stress.m_as("MPa"))
    said = run("spring-life", file, *WOUND)
    assert all(part in said for part in ("REAR: ", "rust", "±"))
    assert run("spring-life", file, "--end", "front", *WOUND).startswith("FRONT: ")
    unknown = CliRunner().invoke(main, ["spring-life", file, *WOUND[:-1], "wood"])
    assert unknown.exit_code != 0
    assert "chrome-silicon A401" in unknown.output


def test_practice_is_that_of_the_kind_where_no_discipline_is_stated(tmp_path):
    stated = wr.demo_file()
    of_kind = re.sub(r"discipline = .*", "", stated).replace("[bike]\n", '[bike]\nkind = "trail"\n')
    answers = []
    for name, text in [("stated", stated), ("kind", of_kind)]:
        path = tmp_path / f"{name}.toml"
        path.write_text(text, encoding="utf-8")
        answers.append(run("targets", str(path)))
    assert answers[0] == answers[1]


def test_corrections_give_the_trail_that_was_wanted(file):
    found = data("corrections", file, "--trail", "121 mm", "--clamps", "0 mm:5 mm", "--shock-length", "0 mm:6 mm")
    first, *_, last = found["corrections"]
    assert first["is_reachable"]
    assert first["trail"]["value"] == pytest.approx(121, abs=1e-3)
    assert not last["is_reachable"]
    said = run("corrections", file, "--trail", "121 mm", "--clamps", "0 mm:5 mm", "--shock-length", "0 mm:6 mm")
    assert "of which +5.00 mm can be had" in said
    assert "full lock" in said
    refused = CliRunner().invoke(main, ["corrections", file, "--trail", "121 mm", "--clamps", "5 mm"])
    assert refused.exit_code == 2
    assert "the least and the most change" in refused.output
    nothing = CliRunner().invoke(main, ["corrections", file])
    assert "a trail, a rake or both" in nothing.output


def test_a_measured_spring_shows_its_curve_and_what_is_off(file, tmp_path):
    refused = CliRunner().invoke(main, ["measured-spring", file])
    assert refused.exit_code == 2
    assert "no spring under `measured`" in refused.output
    loads = [620.0, 1250, 1870, 2500, 3120, 4150, 4370, 4990, 5620, 6240, 6860, 7490]  # the sixth: 4150 for 3750
    rows = [[f"{12 * at} mm", f"{load} N"] for at, load in enumerate(loads, 1)]
    bike = wr.demo().correct({"rear.shock.spring": {"measured": {"readings": rows}, "preload": "14 mm"}})
    path = tmp_path / "press.toml"
    path.write_text(bike.to_toml(), encoding="utf-8")
    found = data("measured-spring", str(path))
    spring = bike.rear.shock.spring.spring
    assert found["mean_rate"]["value"] == pytest.approx(spring.mean_rate.value.m_as("N/mm"))
    assert found["curve"][0]["compression"]["value"] == 0
    assert 6 in [one["reading"] + 1 for one in found["suspect_readings"]]
    said = run("measured-spring", str(path), "--units", "inch")
    assert "REAR: " in said
    assert "Reading 6 lies" in said
    assert "spring, measured (±" in bike.sheet().to_html()


def test_what_if_goes_along(file):
    supposed = ["--what-if", 'rear.linkage.points.link_frame=["-66 mm", "-93 mm"]']
    assert data("squat", file, "--at", "105 mm", *supposed) != data("squat", file, "--at", "105 mm")
    assert data("settle", file, *supposed) != data("settle", file)


def test_lands_as_the_end_does(file):
    found = data("landing", file, *DAMPED)
    moving = wr.demo().whole.moving_end("rear", wr.Damper("6000 N s/m", "9000 N s/m"))
    wanted = moving.land("0.8 m")
    assert quantity(found["peak_travel"]).m_as("mm") == pytest.approx(wanted.peak_travel.m_as("mm"))
    assert quantity(found["bottoming_speed"]).m_as("m/s") == pytest.approx(wanted.bottoming.speed.m_as("m/s"))
    np.testing.assert_allclose(found["motion"]["travel"]["values"], wanted.travel.m_as("mm"), rtol=1e-12, atol=1e-12)
    step = data("landing", file, *DAMPED, "--step", "--end", "front")
    assert step["peak_travel"] != found["peak_travel"]
    text = run("landing", file, *DAMPED)
    assert text.startswith("REAR, 0.8 m: bottoms (beyond full travel: the stops give)")
    assert "the stops give" not in run("landing", file, "--height", "0.1 m", *DAMPED[2:])
    assert all(limit.split()[0] in text for limit in wanted.limits)


def test_one_end_that_lands_names_what_it_needs(tmp_path):
    path = tmp_path / "first.toml"
    path.write_text((Path(__file__).parents[1] / "files" / "least_imperial.toml").read_text("utf-8"), encoding="utf-8")
    for end in ("front", "rear"):
        refused = CliRunner().invoke(main, ["landing", str(path), "--end", end, "--height", "0.5 m"])
        assert refused.exit_code == 2
        assert f"`wheels.{end}.tyre` is missing: the end lands on its tyre" in refused.output


def test_a_plan_is_that_of_the_bike(tmp_path):
    path = tmp_path / "first.toml"
    path.write_text((Path(__file__).parents[1] / "files" / "least_imperial.toml").read_text("utf-8"), encoding="utf-8")
    plans = wr.Bike.load(path).plan()
    found = data("plan", str(path), "--units", "inch")
    assert list(found) == list(plans)
    for end, plan in plans.items():
        assert found[end]["worth"] == plan.worth
        assert found[end]["text"] == plan.text("inch")
        assert len(found[end]["steps"]) == len(plan.steps)
        one = run("plan", str(path), "--end", end)
        assert one.startswith(end.upper())
        assert " ".join(one.split()) == " ".join([end.upper(), *plan.text()])


def test_a_name_that_others_have_leads_to_completion():
    assert run("completions", "bash") == run("completion", "bash")


def test_a_comparison_has_one_number_of_decimals_for_a_unit(file):
    text = run("compare", file, "--what-if", "rear.shock.spring.rate=56 N/mm")
    lengths = re.findall(r" mm +(-?\d+\.\d+) +(-?\d+\.\d+)", text)
    assert len(lengths) > 5
    assert {len(number.partition(".")[2]) for pair in lengths for number in pair} == {2}


def test_a_design_can_be_handed_on(file):
    found = data("design", file, *FREE, "--progression", "40 %:0.5 %")
    assert found["is_reached"]
    bike = wr.demo().what_if(found["changes"])
    assert bike.rear.linkage.progression.m_as("percent") == pytest.approx(40, abs=0.5)
    printed = run("design", file, *FREE, "--progression", "40 %:0.5 %")
    [line] = [line for line in printed.splitlines() if "rear.linkage.points" in line]
    again = run("what-if", file, *shlex.split(line))
    assert wr.Bike.from_toml(again).rear.linkage == bike.rear.linkage


def test_a_design_for_wheel_rates(file):
    places = ["--wheel-rate", "50 mm=7.2 N/mm", "--wheel-rate", "150 mm=9 N/mm"]
    found = data("design", file, *FREE, *places)
    rear = wr.demo().what_if(found["changes"]).rear
    assert rear.wheel_rate((np.array([50.0, 150.0]), "mm")).m_as("N/mm") == pytest.approx([7.2, 9.0], abs=0.05)


@pytest.mark.parametrize(
    ("command", "options", "said"),
    [
        ("design", FREE, "found no target"),
        ("design", ["--free", "nothing", "--progression", "1 %:1 %"], "wanted a dimension and its bounds"),
        ("design", ["--free", "a=1 mm", "--progression", "1 %:1 %"], "`:` between"),
        ("design", [*FREE, "--progression", "40 %"], "a value and its tolerance"),
        ("design", ["--free", "x of nowhere=1 mm:2 mm", "--progression", "40 %:1 %"], "nowhere"),
        ("settle", ["--load", "bike + goat"], "goat"),
        ("settle", ["--slope", "4"], "has no unit"),
        ("landing", ["--height", "0.8", "--compression", "6000 N s/m"], "has no unit"),
        ("landing", ["--height", "0.8 m", "--attitude", "-3 deg"], "--attitude: found it with --end rear"),
        ("landing", ["--height", "0.8 m", "--end", "both", "--step"], "wanted --end front or --end rear"),
        ("squat", ["--at", "900 mm"], "900"),
    ],
)
def test_bad_input_is_said_in_a_line(file, command, options, said):
    found = CliRunner().invoke(main, [command, file, *options])
    assert found.exit_code == 2
    assert said in found.stderr
    assert found.stdout == ""


def units_in(value):
    """Walk over the units of all quantities in plain data."""
    if isinstance(value, dict):
        if isinstance(value.get("unit"), str):
            yield value["unit"]
        for inner in value.values():
            yield from units_in(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from units_in(inner)
    elif isinstance(value, str):
        found = re.fullmatch(r"[-+]?\d[\d.]*(?:[eE][-+]?\d+)? ([^\d\s]\S*(?: \S+)?)", value)
        if found and any(found[1] in (row[0], *row[1]) for _, rows in wr.unit_tables() for row in rows):
            yield found[1]


@pytest.mark.parametrize("units", SYSTEMS)
@pytest.mark.parametrize("command", JSON)
def test_json_has_one_unit_a_kind(file, command, units):
    known = {*wr.unit_symbols(units).values(), "turns"}
    options = [*JSON[command], *(["--force"] if command == "sheet" else [])]
    found = set(units_in(json.loads(run(command, file, "--json", "--units", units, *options))))
    assert found or command == "history"
    assert found <= known, f"{command}: {found - known}"


def test_one_unit_is_the_same_quantity():
    from wheelrate._one_unit import one_unit

    decision = wr.demo().advise_end("rear").to_json()
    metric, inch = (one_unit(json.loads(decision), units) for units in ("metric", "inch"))
    one, two = (
        metric["choices"][0]["outcome"]["rider_sag"]["value"],
        inch["choices"][0]["outcome"]["rider_sag"]["value"],
    )
    assert one.endswith(" mm")
    assert two.endswith(" in")
    assert wr.quantity(one, "length").m == pytest.approx(wr.quantity(two, "length").m, rel=1e-13)
    assert one_unit("52 mm of travel", "metric") == "52 mm of travel"


# -------------------------------------------------------------------------------------------------- editors and shells


def test_the_schema_has_a_name_and_describes_every_key():
    schema = json.loads(run("schema"))
    assert schema == json.loads(wr.json_schema())
    assert schema["$id"] == "urn:wheelrate:bike-file:1"

    def walk(part, path):
        if "$ref" in part:
            return
        for name, key in part.get("properties", {}).items():
            assert key.get("description"), f"{path}.{name} says nothing to who hovers over it"
            walk(key, f"{path}.{name}")

    walk(schema, "")
    for name, definition in schema["$defs"].items():
        walk(definition, name)


def offered(schema, path):
    """Give the keys that an editor offers under a path: through references, rows and alternatives."""
    parts = [schema]
    for step in [*path, None]:
        seen, flat = [], list(parts)
        while flat:
            part = flat.pop()
            if "$ref" in part:
                flat.append(schema["$defs"][part["$ref"].removeprefix("#/$defs/")])
            flat += [*part.get("oneOf", ()), *part.get("anyOf", ())]
            flat += [part["items"]] if isinstance(part.get("items"), dict) else []
            seen.append(part)
        if step is None:
            return {name for part in seen for name in part.get("properties", {})}
        parts = [part["properties"][step] for part in seen if step in part.get("properties", {})]
    raise AssertionError


@pytest.mark.parametrize(
    ("path", "keys"),
    [
        ((), {"bike", "masses", "front", "rear", "reading", "targets"}),
        (("rear", "shock"), {"length", "stroke", "spring", "reservoir"}),
        (("rear", "shock", "spring"), {"rate", "preload", "thread_pitch"}),
        (("front", "fork", "leg", "air"), {"oil_level", "bore", "sealing_diameter"}),
        (("reading",), {"end", "load", "distance", "sag", "date"}),
    ],
)
def test_an_editor_completes_keys(path, keys):
    assert keys <= offered(json.loads(wr.json_schema()), path)


def test_the_schema_is_valid_and_takes_the_shipped_bike():
    jsonschema = pytest.importorskip("jsonschema")
    schema = json.loads(run("schema"))
    checked = jsonschema.Draft202012Validator
    checked.check_schema(schema)
    bike = wr.demo().to_dict()
    assert not list(checked(schema).iter_errors(bike))
    bike["rear"]["shock"]["lenght"] = bike["rear"]["shock"].pop("length")
    assert list(checked(schema).iter_errors(bike))


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_a_shell_completes_commands_options_and_choices(shell):
    script = run("completion", shell)
    assert f"_WHEELRATE_COMPLETE={shell}_complete" in script
    wants = {"wheelrate sq": "squat", "wheelrate settle --fr": "--front-share", "wheelrate fit --end re": "rear"}
    for typed, wanted in wants.items():
        words = typed.split(" ")
        environment = {
            **os.environ,
            "_WHEELRATE_COMPLETE": f"{shell}_complete",
            "COMP_WORDS": typed,
            "COMP_CWORD": words[-1] if shell == "fish" else str(len(words) - 1),
        }
        code = "from wheelrate.cli import main; main(prog_name='wheelrate')"
        done = subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=True)
        assert wanted in re.split(r"[,\n\t]", done.stdout)


@pytest.mark.skipif(shutil.which("bash") is None, reason="no bash on the PATH")
def test_the_script_for_bash_is_one(tmp_path):
    script = tmp_path / "completion.bash"
    script.write_text(run("completion", "bash"), encoding="utf-8")
    subprocess.run(["bash", "-n", script], check=True)


def test_the_module_is_the_command():
    said = subprocess.run([sys.executable, "-m", "wheelrate", "--version"], capture_output=True, text=True, check=True)
    assert said.stdout.startswith(f"wheelrate {wr.__version__}, Python ")
    assert "  plot: " in said.stdout
    assert run("--version") == said.stdout


def test_open_says_where_and_ends_with_the_interrupt(file):
    """The address that it prints is served, and Ctrl-C ends it."""
    import signal
    import urllib.request

    command = [sys.executable, "-m", "wheelrate", "open", file, "--no-browser"]
    environment = {**os.environ, "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment) as process:
        address = process.stdout.readline().split()[0]
        assert address.startswith("http://127.0.0.1:")
        with urllib.request.urlopen(address, timeout=60) as answer:
            assert b"explore.css" in answer.read()
        process.send_signal(signal.SIGINT)
        assert process.wait(60) == 0


def test_open_refuses_a_file_with_faults(tmp_path):
    file = tmp_path / "bad.toml"
    file.write_text("format = 1\n[bike]\nname = 3\n", encoding="utf-8")
    found = CliRunner().invoke(main, ["open", str(file)])
    assert found.exit_code == 2
    assert "bad.toml:3:" in found.stderr
