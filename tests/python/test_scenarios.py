"""Other loads: turns between them against root finding on the wheel force, their uncertainty against draws."""

import itertools
import json
import pickle
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
import scipy.optimize
from outside import Tolerance, agree

import wheelrate as wr

COMMAND = Path(sys.executable).with_name("wheelrate")
GRAVITY = 9.80665
# Roots are found to this, in mm of preload; the core stops at a hundred-thousandth of a newton.
ROOT = 1e-5
DRAWS = 1000
SPREAD = Tolerance(
    "a standard deviation of 1,000 draws is sure to 2.2 %; linearisation adds less than a percent", rel=0.08
)
STRAIGHT = Tolerance(
    "sags of a setting are worked out in a straight line from a nearby one: within a tenth of a millimetre, two of "
    "them, times the motion ratio of 0.38",
    abs=0.08,
)
GARAGES = 300
CALIBRATION = Tolerance("the root mean square of 300 normal numbers is sure to 4 %, their mean to 6 %", abs=0.15)
NEWTON = Tolerance("a newton is a tenth of a millimetre of sag there", abs=1.0)
WORK = Tolerance("a newton of force over 190 mm of travel", abs=0.2)
DROP = Tolerance("a newton of force over 190 mm of travel, per load", abs=2e-4)
FREQUENCY = Tolerance("of a rate at a sag that is found to a tenth of a millimetre", rel=1e-3)


def run(*arguments):
    return subprocess.run(
        [COMMAND, *map(str, arguments)], capture_output=True, text=True, encoding="utf-8", check=False
    )


@pytest.fixture(scope="module")
def bike():
    return wr.demo()


def preload_for(end, factor, sag, load):
    """Find the change of preload, in mm, that carries a load in N at a vertical sag in mm."""

    def short(change):
        return end.with_spring_change(factor, f"{change:.12f} mm").wheel_force((sag, "mm")).m_as("N") - load

    # Between no preload at all and a spring that would go solid.
    return scipy.optimize.brentq(short, -14.0, 10.0, xtol=1e-9)


def test_turns_are_those_of_the_wheel_force(bike):
    found = bike.advise_scenarios()["rear"]
    fit = bike.fit_end("rear")
    usual, loaded = (load.sprung_load.value.m_as("N") for load in found.loads)
    springs = {"fitted": bike.rear, "advised": bike.what_if({"rear.shock.spring.rate": "60 N/mm"}).rear}
    factors = {"fitted": fit.rate_factor.value.m_as(""), "advised": 1.0}
    for which, end in springs.items():
        spring = getattr(found, which)
        change = spring.change("bike + rider", "with stretcher")
        sags = [choice.rider_sag.value.m_as("mm") for choice in spring.choices.values()]
        by = preload_for(end, factors[which], sags[1], loaded) - preload_for(end, factors[which], sags[0], usual)
        agree(f"preload from load to load, mm, {which}", change.preload.value.m_as("mm"), by, STRAIGHT)
        # Quarter turns.
        assert change.turns[0] == pytest.approx(change.preload.value.m_as("mm") / 1.5, abs=ROOT)
        assert 4 * change.turns[0] == pytest.approx(round(4 * change.turns[0]), abs=ROOT)
        back = spring.change("with stretcher", "bike + rider")
        assert back.preload.value.m_as("mm") == pytest.approx(-change.preload.value.m_as("mm"), abs=ROOT)


def test_what_follows_is_what_the_changed_end_does(bike):
    found = bike.advise_scenarios()["rear"]
    fit = bike.fit_end("rear")
    load = found.loads[1].sprung_load.value
    choice = found.fitted.choices["with stretcher"]
    change = fit.preload.value - bike.rear.shock.spring.preload + choice.preload_change.value
    end = bike.rear.with_spring_change(fit.rate_factor.value.m_as(""), change)
    sag = choice.rider_sag.value.m_as("mm")
    agree("wheel force at the rider sag, N", end.wheel_force((sag, "mm")).m_as("N"), load.m_as("N"), NEWTON)
    fast = end.fast_curve((sag, "mm"), (np.array([sag, sag + 0.1]), "mm"))
    rate, mass = fast.wheel_rate[0].m_as("N/m"), load.m_as("N") / GRAVITY
    expected = np.sqrt(rate / mass) / (2 * np.pi)
    agree("ride frequency, Hz", choice.ride_frequency.value.m_as("Hz"), expected, FREQUENCY)
    travels = np.linspace(sag, end.full_travel.m_as("mm"), 4001)
    force = end.fast_curve((sag, "mm"), (travels, "mm")).wheel_force.m_as("N")
    work = np.trapezoid(force - load.m_as("N"), travels * 1e-3)
    agree("energy left, J", choice.energy_left.value.m_as("J"), work, WORK)
    agree("energy left as a drop, m", choice.drop_height.value.m_as("m"), work / load.m_as("N"), DROP)


def test_the_uncertainty_of_turns_is_that_of_draws(bike):
    """Without readings the unknowns are independent: rate, and each mass as the scales show it."""
    keys = bike.to_dict()
    del keys["reading"]
    bare = wr.Bike.from_dict(keys)
    found = bare.study("rear").advise_scenarios()
    reported = found.fitted.change("bike + rider", "with stretcher").preload.standard_uncertainty.m_as("mm")
    random = np.random.default_rng(5)
    changes = []
    for _ in range(DRAWS):
        factor = np.exp(random.normal(0, 0.05 / np.sqrt(3)))
        bike_mass, rider, stretcher, unsprung = np.array([64, 66, 8, 17.5]) + random.normal(0, 0.5, 4)
        usual = (bike_mass + rider - unsprung) * GRAVITY
        loaded = usual + stretcher * GRAVITY
        changes.append(preload_for(bare.rear, factor, 108.0, loaded) - preload_for(bare.rear, factor, 102.0, usual))
    agree("uncertainty of the turns, mm of preload", reported, np.std(changes, ddof=1), SPREAD)
    # Far surer than either preload.
    assert 2 * reported < found.fitted.choices["with stretcher"].preload.standard_uncertainty.m_as("mm")


def test_the_turns_said_hold_over_simulated_garages(bike):
    """Readings from a drawn truth: the turns stated, less the true ones, in standard uncertainties."""
    random = np.random.default_rng(11)
    plan = [(load, side) for load in ("bike", "bike + rider") for side in (1, -1) for _ in range(2)]
    keys = bike.to_dict()
    misses = []
    for _ in range(GARAGES):
        factor, preload = np.exp(random.normal(0, 0.05 / np.sqrt(3))), random.normal(0, 1.0)
        bike_mass, rider, stretcher, unsprung = np.array([64, 66, 8, 17.5]) + random.normal(0, 0.5, 4)
        loads = {"bike": (bike_mass - unsprung) * GRAVITY, "bike + rider": (bike_mass + rider - unsprung) * GRAVITY}
        truth = bike.rear.with_spring_change(factor, f"{preload:.9f} mm")
        rows = [{"end": "rear", "load": "none", "distance": f"{655 + random.normal(0, 1.5):.6f} mm"} for _ in range(2)]
        for load, side in plan:
            sag = truth.travel_under(f"{loads[load] + side * 50:.9f} N").state.travel.m_as("mm")
            distance = 655 - sag + random.normal(0, 1.5)
            settled = "low" if side > 0 else "high"
            rows.append({"end": "rear", "load": load, "settled": settled, "distance": f"{distance:.6f} mm"})
        found = wr.Bike.from_dict({**keys, "reading": rows}).study("rear").advise_scenarios()
        reported = found.fitted.change("bike + rider", "with stretcher").preload
        usual, loaded = loads["bike + rider"], loads["bike + rider"] + stretcher * GRAVITY
        # The turns asked for, and the preload that would truly have led from one of the stated sags to the other.
        sags = [choice.rider_sag.value.m_as("mm") for choice in found.fitted.choices.values()]
        true = preload_for(bike.rear, factor, sags[1], loaded) - preload_for(bike.rear, factor, sags[0], usual)
        misses.append((reported.value.m_as("mm") - true) / reported.standard_uncertainty.m_as("mm"))
    agree("misses of the turns over garages, root mean square", np.sqrt(np.mean(np.square(misses))), 1.0, CALIBRATION)
    agree("misses of the turns over garages, mean", np.mean(misses), 0.0, CALIBRATION)


def test_the_probability_for_every_load_is_bounded_by_each(bike):
    for found in bike.advise_scenarios().values():
        assert [load.name for load in found.loads] == ["bike + rider", "with stretcher"]
        # Another spring costs 10 points.
        net = [spring.probability.m_as("percent") - (0 if spring.is_fitted else 10) for spring in found.springs]
        assert all(one >= other for one, other in itertools.pairwise(net) if max(one, other) > 0)
        for spring in found.springs:
            each = [choice.probability.m_as("percent") for choice in spring.choices.values()]
            # Fréchet's bounds; the count over draws is sure to a percent.
            assert max(0.0, sum(each) - 100.0) - 1.5 <= spring.probability.m_as("percent") <= min(each)


def test_scenarios_without_a_file(bike):
    targets = wr.Targets(rider_sag=wr.SagTarget(range=("95 mm", "110 mm")))
    scenario = wr.Scenario("two up", "bike + rider + friend", targets={"rear": targets})
    keys = bike.to_dict()
    keys["masses"]["friend"] = {"front": "8 kg", "rear": "52 kg"}
    loaded = wr.Bike.from_dict(keys).with_scenarios([scenario, wr.Scenario("again", "bike + rider")])
    assert loaded.scenarios[0] == scenario == pickle.loads(pickle.dumps(scenario))
    assert [bound.m_as("mm") for bound in scenario.targets["rear"].rider_sag.range] == [95, 110]
    found = loaded.advise_scenarios_end("rear")
    assert pickle.loads(pickle.dumps(found)) == found
    assert [load.name for load in found.loads] == ["bike + rider", "two up", "again"]
    again = found.fitted.change("bike + rider", "again").preload
    assert again.value.m_as("mm") == pytest.approx(0, abs=ROOT)
    assert again.standard_uncertainty.m_as("mm") == pytest.approx(0, abs=ROOT)
    tables = json.loads(found.to_json())
    assert "from the one above" in tables["settings"]["columns"]
    assert any("What keeps it from more there: too little free sag" in sentence for sentence in found.sentences())
    assert wr.Bike.from_toml(loaded.to_toml()) == loaded
    assert wr.Bike.from_json(loaded.to_json()) == loaded
    assert "<table" in found._repr_html_()
    with pytest.raises(wr.errors.BikeError, match="found `three up`, wanted one of"):
        found.fitted.change("bike + rider", "three up")
    with pytest.raises(wr.errors.MassError, match="frend"):
        loaded.with_scenarios([wr.Scenario("two up", "bike + rider + frend")])
    with pytest.raises(wr.errors.BikeError, match="not used twice"):
        loaded.with_scenarios([scenario, scenario])


def test_the_sheet_has_them_and_the_whole_bike_stands_in_each(bike):
    # Numbers hold on to their units with spaces that do not break.
    page = bike.sheet().to_html().replace("\u00a0", " ")
    sheet = json.loads(bike.sheet("inch").to_json())
    for end in sheet["ends"]:
        for table in ("today", "settings", "consequences", "springs"):
            assert end["scenarios"][table]["rows"]
        assert all(" mm" not in sentence for sentence in end["scenarios"]["sentences"])
    for sentence in bike.advise_scenarios()["rear"].sentences():
        assert sentence.split("`")[0].strip() in page
    assert sheet["geometry"]["table"]["columns"][-1] == "with stretcher"
    trail = {
        row[0]["text"]: row[-1]["value"] for row in json.loads(bike.sheet().to_json())["geometry"]["table"]["rows"]
    }
    stance = bike.whole.settle("bike + rider + stretcher").stance
    assert trail["trail"] == pytest.approx(stance.trail.m_as("mm"))


def test_the_shell_shows_them(tmp_path):
    file = tmp_path / "patrol.toml"
    file.write_text(wr.demo_file(), "utf-8")
    done = run("scenarios", file)
    assert done.returncode == 0
    assert "serves all loads best" in done.stdout
    more = json.loads(
        run("scenarios", file, "--end", "rear", "--load", "solo = bike", "--json", "--units", "inch").stdout
    )
    names = [row[0]["text"] for row in more["rear"]["today"]["rows"]]
    assert names == ["bike + rider", "with stretcher", "solo"]
    assert more["rear"]["today"]["rows"][0][2]["unit"] == "lbf"
    for slip, says in [(("--load", "solo"), "wanted a name and a load"), (("--load", "x=bike + ridr"), "ridr")]:
        done = run("scenarios", file, *slip)
        assert done.returncode == 2
        assert says in done.stderr
        assert done.stdout == ""
    bare = tmp_path / "bare.toml"
    bare.write_text(wr.demo().with_scenarios([]).to_toml(), "utf-8")
    done = run("scenarios", bare)
    assert done.returncode == 2
    assert "[[scenario]]" in done.stderr
