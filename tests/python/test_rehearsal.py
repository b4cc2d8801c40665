"""Readings rehearsed over simulated garages, held against what binomial and chi-square laws allow."""

import json

import numpy as np
import pytest
from click.testing import CliRunner
from outside import Tolerance, agree
from scipy import stats

import wheelrate as wr
from wheelrate.cli import main

GARAGES = 20_000
# One run in a million strays further by chance.
STRAY = 1e-6
# A label errs uniformly, its prior is normal: covered up to this much more often.
UNIFORM = 0.02


COVERAGE = Tolerance(
    "four standard deviations of a binomial law over 20,000 garages, and 2 % where a label errs uniformly under a "
    "normal prior; a binomial test holds each side closer",
    abs=4 * np.sqrt(0.95 * 0.05 / GARAGES) + UNIFORM,
)
ERRORS = Tolerance("five standard deviations of a root mean square over 20,000 garages, and 1 %", rel=0.035)


@pytest.fixture(scope="module")
def rehearsal():
    return wr.demo().study("rear").rehearse(garages=GARAGES, seed=11)


def quantities(found):
    return [found.rate, found.preload, found.friction, *found.sags.values()]


def named(found):
    return zip(
        ["rate", "preload", "friction", *(f"sag under {load}" for load in found.sags)], quantities(found), strict=True
    )


def test_intervals_hold_the_truth_as_often_as_a_binomial_law_allows(rehearsal):
    for name, one in named(rehearsal):
        agree(f"share of garages whose 95 % interval holds the truth: {name}", one.covered_95.m_as(""), 0.95, COVERAGE)
        held = round(one.covered_95.m_as("") * one.garages)
        assert stats.binomtest(held, one.garages, 0.95, alternative="less").pvalue > STRAY
        assert stats.binomtest(held, one.garages, 0.95 + UNIFORM, alternative="greater").pvalue > STRAY


def test_errors_made_are_the_uncertainty_stated(rehearsal):
    low, high = stats.chi2.ppf([STRAY, 1 - STRAY], GARAGES) / GARAGES
    for name, one in named(rehearsal):
        made = (one.error / one.standard_uncertainty).m_as("")
        agree(f"error made over uncertainty stated: {name}", made, 1.0, ERRORS)
        ratio = (one.error / one.standard_uncertainty).m_as("") ** 2
        # The root mean square stated is itself 1 % off where uncertainties differ between garages.
        assert low * 0.98 < ratio < high * 1.02


def test_garages_made_in_python_err_as_much(rehearsal):
    """Redraw the readings alone by hand, each set fitted through the bike file."""
    bike = wr.demo()
    random = np.random.default_rng(5)
    data = json.loads(bike.to_json())
    rear = [row for row in data["reading"] if row["end"] == "rear"]
    rates = []
    distances = [float(row["distance"].split()[0]) for row in rear]
    for _ in range(400):
        for row, distance in zip(rear, distances, strict=True):
            row["distance"] = f"{distance + random.normal(0, 1.5):.6f} mm"
        rates.append(wr.Bike.from_json(json.dumps(data)).study("rear", doubting=False).fit().rate.value.m_as("N/mm"))
    # An estimate of share s from readings moves with their errors by sqrt(s (1 - s)) of the label's own uncertainty,
    # loads and preload known; here they are not, and take part of it. Labels and scales make up the rest of the whole.
    label = 52 * 0.05 / np.sqrt(3)
    share = bike.study("rear", doubting=False).fit().from_readings["rate"].m_as("")
    most = label * np.sqrt(share * (1 - share))
    whole = rehearsal.rate.error.m_as("N/mm")
    assert 0.2 * most < np.std(rates) < min(most * 1.1, whole)


def test_more_repeats_are_worth_more(rehearsal):
    data = json.loads(wr.demo().to_json())
    data["reading"] += [row for row in data["reading"] if row["end"] == "rear"] * 3
    more = wr.Bike.from_json(json.dumps(data)).study("rear").rehearse(garages=GARAGES, seed=11)
    # Four times the readings halve the part that is from the tape; scales and label stay.
    assert 0.4 < (more.friction.standard_uncertainty / rehearsal.friction.standard_uncertainty).m_as("") < 0.6
    assert more.rate.standard_uncertainty < rehearsal.rate.standard_uncertainty


def test_the_shell_says_the_same(tmp_path):
    file = tmp_path / "patrol.toml"
    file.write_text(wr.demo_file(), "utf-8")
    reported = CliRunner().invoke(main, ["rehearse", str(file), "--garages", "500", "--seed", "3", "--json"])
    found = wr.demo().study("front").rehearse(garages=500, seed=3)
    data = json.loads(reported.stdout)["front"]
    assert data["quantities"]["preload"]["covered_95"] == found.preload.covered_95.m_as("")
    assert data["quantities"]["friction"]["error"] == pytest.approx(found.friction.error.m_as("N"), rel=1e-12)
    text = CliRunner().invoke(main, ["rehearse", str(file), "--garages", "500", "--end", "rear"])
    assert text.exit_code == 0
    assert "95 % covers" in text.stdout
    assert "500 simulated garages" in text.stdout
    refused = CliRunner().invoke(main, ["rehearse", str(file), "--garages", "5"])
    assert refused.exit_code == 2
    assert "from 100 to 10000000" in refused.stderr
