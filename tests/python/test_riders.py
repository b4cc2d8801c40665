"""More than one rider: shares on a straight end against drawing every rider and bike in NumPy, and a closed form."""

import json
import pickle

import numpy as np
import pytest
from click.testing import CliRunner
from outside import Tolerance, agree
from scipy import stats

import wheelrate as wr
from wheelrate.cli import main

GRAVITY = 9.80665
RATE, PRELOAD, BIKE, UNSPRUNG = 2 * 4800.0, 6e-3, 61.0, 14.2
MEAN, DEVIATION, SHARE, POSTURE, SCALE = 90.0, 12.0, 0.32, 0.02, 0.3
# Standard uncertainties of a label stated to 5 % and of a preload stated to 1 mm.
LABEL, ZERO = 0.05 / np.sqrt(3), 1e-3
STEP = 0.5e-3
TAPE = np.sqrt(1.5) * 2e-3
# What reading again has to gain.
PRICE = 0.02
RIDER_SAG, FREE_SAG = (44e-3, 56e-3), (25e-3, 42e-3)
# 96 places of the riders, 1,000 draws of the bike, and a fork's sag bends over its rate by half a percent.
COUNTED = Tolerance("1,000 draws of the bike, over which a share varies by a fifth; the grain of 96 riders", abs=0.02)
# Another load brings another unknown, and so other draws.
DRAWN = 0.01


def bike(free_sag=FREE_SAG):
    """Give a bike with a fork of two straight springs that stands upright."""
    legs = wr.ForkLeg(wr.Preloaded("4.8 N/mm", (PRELOAD, "m")))
    masses = wr.Masses(
        {
            "bike": ((BIKE, "kg"), "64 kg"),
            "rider": ((SHARE * MEAN, "kg"), ((1 - SHARE) * MEAN, "kg")),
        },
        unsprung=((UNSPRUNG, "kg"), "17 kg"),
        scale_uncertainty=(SCALE, "kg"),
    )
    rider = wr.SagTarget(value="50 mm", range=((RIDER_SAG[0], "m"), (RIDER_SAG[1], "m")))
    free = free_sag and wr.SagTarget(range=((free_sag[0], "m"), (free_sag[1], "m")))
    return wr.Bike(
        "patrol",
        masses=masses,
        front=wr.FrontEnd(wr.Fork("290 mm", "0 deg", legs)),
        targets={"front": wr.Targets(rider_sag=rider, free_sag=free)},
        measuring={"front": wr.Measuring("vertical", (TAPE / np.sqrt(1.5), "m"))},
        on_sale=wr.OnSale(front=["5.4 N/mm"]),
        riders=wr.Riders((MEAN, "kg"), (DEVIATION, "kg"), on_front=((100 * SHARE, "%"), (100 * POSTURE, "%"))),
    )


@pytest.fixture(scope="module")
def front():
    return bike().study("front").as_stated().advise_riders()


class Garages:
    """Bikes and riders, each drawn from what is stated; one rider a bike."""

    def __init__(self, count, rate, fitted, seed=1):
        draw = np.random.default_rng(seed)
        self.rate = rate * (1 + LABEL * draw.standard_normal(count))
        self.off = ZERO * draw.standard_normal(count)
        unsprung = SCALE * draw.standard_normal(count)
        self.alone = GRAVITY * (BIKE + SCALE * draw.standard_normal(count) - UNSPRUNG - unsprung)
        share = SHARE + POSTURE * draw.standard_normal(count)
        mass = MEAN + DEVIATION * draw.standard_normal(count)
        # The linear law of the wheel: posture and mass apart.
        self.rider = GRAVITY * (MEAN * SHARE + SHARE * (mass - MEAN) + MEAN * (share - SHARE))
        self.tape = TAPE * draw.standard_normal(count)
        self.count = count

    def share(self, preload):
        """Give the share in range with the collar turned to a preload and left, free sag from full extension."""
        alone = self.alone / self.rate - preload - self.off
        ridden = (self.alone + self.rider) / self.rate - preload - self.off
        inside = (ridden >= RIDER_SAG[0]) & (ridden <= RIDER_SAG[1]) & (alone >= FREE_SAG[0]) & (alone <= FREE_SAG[1])
        return inside.mean()


@pytest.mark.parametrize("fitted", [True, False])
def test_a_common_preload_is_the_best_of_brute_force(front, fitted):
    spring = next(one for one in front.springs if one.is_fitted == fitted)
    assert spring.common.way == "turned"
    garages = Garages(200_000, 2 * spring.rate.m_as("N/m"), fitted)
    steps = np.arange(0.0, 30e-3, STEP)
    shares = np.array([garages.share(step) for step in steps])
    found = spring.common.share.value.m_as("")
    which = "the fitted spring" if fitted else "another spring"
    agree(f"share of riders in range at the best common preload of {which}", found, shares.max(), COUNTED)
    at = spring.common.preload.value.m_as("m")
    agree(f"the same at the preload found of {which}", garages.share(at), shares.max(), COUNTED)


def test_without_a_free_sag_it_is_a_closed_form():
    """Normal sags in one range: the best preload puts the middle of the range at the mean."""
    found = bike(None).study("front").as_stated().advise_riders().fitted.common
    weight = GRAVITY * (BIKE - UNSPRUNG + MEAN * SHARE)
    riders = GRAVITY * np.hypot(SHARE * DEVIATION, MEAN * POSTURE) / RATE
    # Turned to and left it is off by the bike; set under the middle rider, by the tape and steps of the collar.
    bike_off = np.sqrt((weight / RATE * LABEL) ** 2 + ZERO**2 + 2 * (GRAVITY * SCALE / RATE) ** 2)
    left_open = bike_off if found.way == "turned" else np.hypot(TAPE, STEP / np.sqrt(12))
    half = (RIDER_SAG[1] - RIDER_SAG[0]) / 2
    closed = 2 * stats.norm.cdf(half / np.hypot(riders, left_open)) - 1
    agree("share of riders in range, both normal", found.share.value.m_as(""), closed, COUNTED)
    # The middle of the range at the mean sag, to half a step of the collar.
    preload = weight / RATE - sum(RIDER_SAG) / 2
    step = Tolerance("half a step of the collar, and steps as good", abs=1.5 * STEP)
    agree("the best common preload", found.preload.value.m_as("m"), preload, step)
    grain = Tolerance("places in the middle of equal stretches leave the tails out", rel=0.03)
    agree("spread of the rider sag over riders", found.rider_sag.standard_uncertainty.m_as("m"), riders, grain)
    # What the bike leaves open: shares of bikes whose mean sag is off by so much.
    off = left_open * np.random.default_rng(3).standard_normal(100_000)
    shares = stats.norm.cdf((half - off) / riders) - stats.norm.cdf((-half - off) / riders)
    allowed = Tolerance("the grain of 96 places, and 1,000 draws", abs=0.01)
    agree("standard uncertainty of that share", found.share.standard_uncertainty.m_as(""), shares.std(), allowed)


def test_own_preloads_leave_tape_and_free_sag(front):
    """Read again, a rider's sag is off by the tape alone; turned and left, by the bike; the better of both counts."""
    garages = Garages(4000, RATE, True)
    spread = np.hypot(SHARE * DEVIATION, MEAN * POSTURE)
    riders = GRAVITY * (SHARE * MEAN + spread * stats.norm.ppf((np.arange(100) + 0.5) / 100))

    def best(ridden, rider):
        alone = ridden - rider / garages.rate
        lands = (ridden >= RIDER_SAG[0]) & (ridden <= RIDER_SAG[1]) & (alone >= FREE_SAG[0]) & (alone <= FREE_SAG[1])
        return lands.mean(axis=1).max()

    chances = []
    for rider in riders:
        read = best(np.arange(*RIDER_SAG, STEP)[:, None] + garages.tape, rider)
        free = (garages.alone + rider) / garages.rate - garages.off
        turned = best(free - np.arange(10e-3, 45e-3, STEP)[:, None], rider)
        chances.append(read if read > turned + PRICE else turned)
    own = front.fitted.own.share.value.m_as("")
    allowed = Tolerance("settings as likely within half a percent, 1,000 draws, the grain of 96 riders", abs=0.03)
    agree("share of riders in range, each at the best sag for both", own, np.mean(chances), allowed)
    assert own > front.fitted.common.share.value.m_as("")


def test_one_rider_is_the_decision_for_one():
    """A list of the one rider of the file gives the chance of the advice, but for the scale that weighed the rider."""
    one = wr.Riders(each=[("96 kg", 1.0)], on_front=("31.25 %", "0 %"))
    study = wr.demo().with_riders(one).study("rear").as_stated()
    found, advice = study.advise_riders(), study.advise()
    for choice in advice.choices:
        spring = next(spring for spring in found.springs if spring.rate == choice.rate)
        allowed = Tolerance("half a kilogramme of the rider's weight, and 1,000 draws", abs=0.04)
        agree("one rider's own share", spring.own.share.value.m_as(""), choice.probability.m_as(""), allowed)


def test_loads_and_riders_are_weighed():
    """A load that is never ridden changes nothing; the order of riders does not matter."""
    demo = wr.demo()

    def rear(riders):
        return demo.with_riders(riders).study("rear").advise_riders().fitted

    each = [("70 kg", 1.0), ("110 kg", 2.0)]
    assert rear(wr.Riders(each=each)) == rear(wr.Riders(each=each[::-1]))
    usual = rear(wr.Riders("92 kg", "8 kg"))
    seldom = rear(wr.Riders("92 kg", "8 kg", loads=[("bike + rider", 1e6), ("bike + rider + stretcher", 1.0)]))
    assert abs((usual.own.share.value - seldom.own.share.value).m_as("")) < DRAWN


def test_what_cannot_be_is_said():
    with pytest.raises(wr.errors.WheelrateError, match="deviation"):
        wr.Riders("90 kg", "60 kg")
    with pytest.raises(wr.errors.WheelrateError, match=r"each\[1\].mass"):
        wr.Riders(each=[("90 kg", 1), ("9 kg", 1)])
    with pytest.raises(wr.errors.WheelrateError, match="`rider` in it once"):
        wr.demo().with_riders(wr.Riders("90 kg", "9 kg", loads=[("bike + stretcher", 1)]))
    with pytest.raises(wr.errors.SetupError, match="riders is missing"):
        wr.demo().study("rear").advise_riders()
    with pytest.raises(TypeError, match="`each`"):
        wr.Riders("90 kg")


def test_the_file_holds_riders_and_the_sheet_shows_them(tmp_path):
    text = wr.demo_file().replace(
        "[on_sale]",
        '[riders]\nmean = "92 kg"\ndeviation = "10 kg"\n'
        'loads = [{ load = "bike + rider", weight = 4 }, { load = "bike + rider + stretcher" }]\n\n[on_sale]',
    )
    bike = wr.Bike.from_toml(text)
    assert bike.riders == pickle.loads(pickle.dumps(bike.riders))
    assert wr.Bike.from_toml(bike.to_toml()) == bike
    found = bike.study("rear").advise_riders()
    assert [load for load, _ in found.loads] == ["bike + rider", "bike + rider + stretcher"]
    assert pickle.loads(pickle.dumps(found)) == found
    sheet = bike.sheet()
    assert "All riders" in sheet.to_html()
    assert wr.demo().sheet().to_html().count("All riders") == 0
    file = tmp_path / "patrol.toml"
    file.write_text(text, encoding="utf-8")
    run = CliRunner().invoke(main, ["riders", str(file), "--json"])
    assert run.exit_code == 0, run.output
    shown = json.loads(run.output)["rear"]["common"]["rows"][0]
    assert shown[1]["value"] == pytest.approx(100 * found.springs[0].common.share.value.m_as(""))
    alone = CliRunner().invoke(main, ["riders", str(file), "--mean", "80 kg"])
    assert alone.exit_code != 0
    assert "wanted both" in alone.output
