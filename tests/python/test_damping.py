"""Dampers, damping ratios and damped modes, against SciPy's quadrature and against a motion that swings out."""

import json

import numpy as np
import pytest
from click.testing import CliRunner
from outside import Tolerance, agree
from scipy.integrate import quad

import wheelrate as wr
from wheelrate.cli import main

QUADRATURE = Tolerance("SciPy's quad with the corners of the law as break points", rel=1e-8)
SPEEDS = np.array([0.05, 0.15, 0.5, 1.0])
COMPRESSION = np.array([230.0, 520.0, 1000.0, 1550.0])
REBOUND = np.array([380.0, 900.0, 2000.0, 3300.0])


def law(v):
    """Interpolate the shock damper of the demo as it stands in its file, with NumPy."""
    forces = COMPRESSION if v >= 0 else REBOUND
    speeds, forces = np.append(0, SPEEDS), np.append(0, forces)
    speed = abs(v)
    if speed > speeds[-1]:
        slope = (forces[-1] - forces[-2]) / (speeds[-1] - speeds[-2])
        return np.sign(v) * (forces[-1] + slope * (speed - speeds[-1]))
    return np.sign(v) * np.interp(speed, speeds, forces)


@pytest.fixture(scope="module")
def bike():
    return wr.demo()


@pytest.mark.parametrize("amplitude", [0.1, 0.4, 2.0])
def test_the_equivalent_damper_takes_the_energy_of_a_harmonic_motion(bike, amplitude):
    damper = bike.rear.shock.damper
    corners = [c for v in (*SPEEDS, *-SPEEDS) if abs(v) < amplitude for c in [np.arccos(v / amplitude)]]
    taken, _ = quad(lambda p: law(amplitude * np.cos(p)) * np.cos(p), 0, np.pi, points=[*corners, np.pi / 2], limit=200)
    agree(
        f"equivalent damping in a harmonic motion of {amplitude} m/s, in N s/m",
        damper.equivalent((amplitude, "m/s")).m_as("N*s/m"),
        2 * taken / (np.pi * amplitude),
        QUADRATURE,
    )


@pytest.mark.parametrize("rms", [0.05, 0.3, 1.0])
def test_the_equivalent_damper_takes_the_energy_of_noise(bike, rms):
    damper = bike.rear.shock.damper
    corners = [*-SPEEDS[::-1], 0, *SPEEDS]

    def mean(of):
        def weighed(v):
            return of(v) * np.exp(-0.5 * (v / rms) ** 2) / (rms * np.sqrt(2 * np.pi))

        return quad(weighed, -12 * rms, 12 * rms, points=[c for c in corners if abs(c) < 12 * rms], limit=400)[0]

    agree(
        f"equivalent damping in noise of {rms} m/s, in N s/m",
        damper.equivalent_in_noise((rms, "m/s")).m_as("N*s/m"),
        mean(lambda v: law(v) * v) / rms**2,
        QUADRATURE,
    )
    agree(
        f"mean force of the damper in noise of {rms} m/s, in N",
        damper.mean_force((rms, "m/s")).m_as("N"),
        mean(law),
        Tolerance("a difference of two forces a thousand times larger", abs=1e-6),
    )


def test_a_quadratic_damper_and_friction_have_the_closed_forms():
    omega, stroke = 2 * np.pi * 3, 0.02
    turn = {"points": [np.pi / 2], "limit": 200}
    quadratic, _ = quad(lambda p: 500 * (omega * stroke * np.cos(p)) ** 2 * np.cos(p), 0, np.pi / 2, **turn)
    agree(
        "equivalent of a quadratic damper, in N s/m",
        wr.equivalent_of_quadratic("500 N", "1 m/s", "3 Hz", "20 mm").m_as("N*s/m"),
        4 * quadratic / (np.pi * omega * stroke),
        QUADRATURE,
    )
    agree(
        "equivalent of friction, in N s/m",
        wr.equivalent_of_friction("60 N", "3 Hz", "20 mm").m_as("N*s/m"),
        4 * quad(lambda p: 60 * np.cos(p), 0, np.pi / 2)[0] / (np.pi * omega * stroke),
        QUADRATURE,
    )


def test_the_damping_at_the_wheel_is_that_of_the_shaft_by_the_motion_ratio(bike):
    curve = bike.whole.damping("rear", speed="0.5 m/s", travels=["60 mm", "102 mm", "200 mm"])
    shaft = bike.rear.shock.damper.equivalent((curve.motion_ratio.m * 0.5, "m/s")).m_as("N*s/m")
    at_wheel = 0.5 * (curve.compression + curve.rebound).m_as("N*s/m")
    np.testing.assert_allclose(at_wheel, shaft * curve.motion_ratio.m**2, rtol=1e-12)
    for rate, damping, ratio in zip(curve.wheel_rate, curve.compression, curve.compression_ratio, strict=True):
        alone = wr.damping_ratio(damping, rate, "112.5 kg")
        assert ratio.m_as("") == pytest.approx(alone.m_as(""), rel=1e-12)


def test_an_end_swings_out_as_its_damping_ratio_says():
    # A linear fork, upright, hardly any wheel: the free swing after a small step loses exp(-2*pi*z/sqrt(1-z^2)) a turn.
    leg = wr.ForkLeg(wr.Preloaded("5 N/mm", "0 mm"), damper=wr.Damper("60 N s/m"))
    end = wr.FrontEnd(wr.Fork("300 mm", "0 deg", leg))
    moving = wr.MovingEnd(end, sprung="80 kg", unsprung="0.05 kg", tyre="4000 N/mm", damper=end.fork.damper)
    swing = moving.step("5 mm", rise="5 ms", duration="4 s")
    travel = swing.travel.m_as("mm") - swing.rest_travel.m_as("mm")
    inner = travel[1:-1]
    peaks = inner[(inner > travel[:-2]) & (inner >= travel[2:]) & (inner > 0)]
    decrement = np.log(peaks[1] / peaks[3]) / 2
    found = decrement / np.hypot(2 * np.pi, decrement)
    # The tyre in series takes a share of the movement: of the rate once, of the damping twice.
    share = 4000 / (4000 + 10)
    ratio = wr.damping_ratio((120 * share**2, "N s/m"), (10 * share, "N/mm"), "80 kg").m_as("")
    agree(
        "damping ratio read off a free swing",
        found,
        ratio,
        Tolerance("peaks read every 4 ms", rel=5e-4),
    )


def test_a_damper_goes_with_its_file_and_never_with_its_readings(bike):
    harder = bike.what_if({"rear.shock.damper.compression.table[1][1]": "600 N"})
    assert harder.rear.shock.damper != bike.rear.shock.damper
    assert harder.fit_end("rear").rate.value == bike.fit_end("rear").rate.value
    assert wr.Bike.from_toml(harder.to_toml()) == harder


def test_faults_name_the_damper():
    with pytest.raises(wr.errors.UnitError, match="rate: found -5 N s/m"):
        wr.Damper("-5 N s/m")
    with pytest.raises(wr.errors.WheelrateError, match="speeds in the table must rise"):
        wr.Damper.from_table(([0.1, 0.1], "m/s"), ([10, 20], "N"), ([10, 20], "N"))
    with pytest.raises(ValueError, match="rebound: found 1 forces, wanted 2"):
        wr.Damper.from_table(([0.1, 0.2], "m/s"), ([10, 20], "N"), ([10], "N"))


def test_the_command_line_tabulates_damping(tmp_path):
    path = tmp_path / "patrol.toml"
    path.write_text(wr.demo_file(), "utf-8")
    said = CliRunner().invoke(main, ["damping", str(path), "--at", "102 mm"])
    assert said.exit_code == 0
    assert said.output.startswith("REAR under `bike + rider`, slow\n")
    assert "bounce" in said.output
    assert "damping ratio" in said.output
    data = json.loads(CliRunner().invoke(main, ["damping", str(path), "--at", "102 mm", "--json"]).output)
    expected = wr.demo().whole.damping("rear", travels=["102 mm"]).damping_ratio.m_as("percent")[0]
    assert data["damping ratio"]["values"] == [pytest.approx(expected)]
    landed = CliRunner().invoke(main, ["landing", str(path), "--height", "0.3 m"])
    assert landed.exit_code == 0, landed.output
    assert CliRunner().invoke(main, ["landing", str(path), "--height", "0.3 m", "--rebound", "1 N s/m"]).exit_code != 0
