"""What to measure next, and geometry that is not exact: the same in Python and at the shell as in the core."""

import json
import pickle

import numpy as np
import pytest
from click.testing import CliRunner
from test_parts import PARTS

import wheelrate as wr
from wheelrate.cli import main


@pytest.fixture(scope="module")
def bike():
    return wr.demo().correct({"rear.linkage.point_uncertainty": "3 mm"})


def test_a_plan_says_what_it_is_worth(bike):
    for end, plan in bike.plan().items():
        assert plan.end == end
        assert plan.worth in ("measure", "check", "clear", "repeat first", "will not settle")
        now, then = (share.m_as("") for share in plan.lands)
        assert now <= then + 1e-12 <= 1 + 1e-9
        assert 0 <= plan.changes.m_as("") <= 1
        assert plan.utility[0] <= plan.utility[1]
        assert bool(plan.steps) == (plan.worth in ("measure", "check", "repeat first"))
        assert plan.text()
        assert str(plan) == "\n".join(plan.text())
        assert pickle.loads(pickle.dumps(plan)) == plan


def test_steps_narrow_the_rate_called_for():
    """A free sag range with its edge where today's spring comes out, a tape of 2 mm, an evening that costs nothing."""
    sag = {name: wr.SagTarget(range=(f"{low} mm", f"{high} mm")) for name, low, high in (("r", 96, 108), ("f", 20, 27))}
    doubtful = {
        "targets": {"rear": wr.Targets(rider_sag=sag["r"], free_sag=sag["f"])},
        "measuring": {**PARTS["measuring"], "rear": wr.Measuring("vertical", uncertainty="2 mm")},
        "prices": wr.Prices(measuring="0 %"),
    }
    plan = wr.Bike("Ridge patrol 300", **{**PARTS, **doubtful}).plan_end("rear")
    assert plan.worth == "measure"
    left = [step.wanted_rate[1].m_as("N/mm") for step in plan.steps]
    assert left == sorted(left, reverse=True)
    assert plan.steps[0].wanted_rate[0] == plan.steps[-1].wanted_rate[0]
    assert plan.effort.m_as("min") <= sum(step.effort.m_as("min") for step in plan.steps) + 1e-9
    tasks = [json.loads(step.to_json())["task"]["task"] for step in plan.steps]
    assert "spring_rate" in tasks, "the label is what is least known for the edge"
    assert all(step.text("inch") for step in plan.steps)


def test_fit_and_advice_read_as_data(bike):
    fit = json.loads(bike.fit_end("rear").to_json())
    assert fit["rate"]["value"].endswith("N/mm")
    assert fit["loads"][1]["load"] == "bike + rider"
    advice = json.loads(bike.advise_end("rear").to_json())
    assert advice["verdict"]["verdict"] == "change_spring"
    assert len(advice["choices"]) == 6


def test_uncertain_geometry_goes_through_the_constructors(bike):
    rear = bike.rear
    assert rear.point_uncertainty.m_as("mm") == pytest.approx(3)
    known = {"point_uncertainty": "3 mm", "shock_length_uncertainty": "0 mm", "caliper": rear.caliper}
    again = wr.RearEnd(rear.linkage, rear.shock, final_drive=rear.final_drive, **known)
    assert again == rear == pickle.loads(pickle.dumps(rear))
    with pytest.raises(wr.WheelrateError, match="point_uncertainty"):
        wr.RearEnd(rear.linkage, rear.shock, shock_length_uncertainty="1 mm")
    travels = np.linspace(0, 290, 15)
    strokes = rear.curve((travels, "mm")).stroke.m_as("mm")
    table = wr.MeasuredLinkage(
        (travels, "mm"),
        (468.7 - strokes, "mm"),
        shock_length="468.7 mm",
        stroke="118 mm",
        travel_uncertainty="1 mm",
        length_uncertainty="0.5 mm",
    )
    corrected = wr.RearEnd(
        rear.linkage, rear.shock, final_drive=rear.final_drive, point_uncertainty="3 mm", table=table
    )
    assert corrected.table == table
    assert corrected != rear
    assert pickle.loads(pickle.dumps(corrected)) == corrected
    leg = wr.demo().front.fork.legs[0]
    fork = wr.Fork("290 mm", "26.5 deg", leg, rake_uncertainty="0.5 deg")
    assert fork.rake_uncertainty.m_as("deg") == pytest.approx(0.5)
    assert pickle.loads(pickle.dumps(fork)) == fork
    assert wr.demo().front.fork.rake_uncertainty is None


def test_the_fit_is_wider_where_the_pivots_are(bike):
    exact, uncertain = (one.study("rear").fit() for one in (wr.demo(), bike))
    assert uncertain.rate.standard_uncertainty > 1.2 * exact.rate.standard_uncertainty
    assert "taken as exact" in wr.demo().sheet().to_text()
    assert "points ± 3.0 mm" in bike.sheet().to_text()


def test_a_mass_that_nobody_weighed_has_its_own_uncertainty():
    masses = wr.Masses(
        {"bike": ("61 kg", "64 kg"), "rider": {"total": "96 kg", "behind_front_axle": "1020 mm"}},
        unsprung=("14.2 kg", "17.5 kg"),
        wheelbase="1480 mm",
        uncertainties={"rider": "5 kg"},
    )
    known = masses.wheel_mass("rear", "bike + rider").standard_uncertainty.m_as("kg")
    assert known == pytest.approx((25 + 0.25) ** 0.5)
    assert pickle.loads(pickle.dumps(masses)) == masses


def test_advise_prints_the_plan_and_has_it_as_data(tmp_path, bike):
    file = tmp_path / "bike.toml"
    file.write_text(bike.to_toml())
    shown = CliRunner().invoke(main, ["advise", str(file), "--end", "rear"])
    assert shown.exit_code == 0
    assert "What to measure next" in shown.output
    data = json.loads(CliRunner().invoke(main, ["advise", str(file), "--json", "--units", "inch"]).output)
    assert data["rear"]["decision"]["plan"]["end"] == "rear"
    assert data["rear"]["next"] == bike.plan_end("rear").text("inch")
