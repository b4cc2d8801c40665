"""Travel logs: against NumPy on simulated roads whose truth is known, in pieces, from files, in bounded memory."""

import gzip
import json
import pickle
import sys
import tracemalloc

import numpy as np
import pytest
from click.testing import CliRunner
from outside import Tolerance, agree
from scipy import signal

import wheelrate as wr
from wheelrate.cli import main

#: Rides of a minute each over one class of road.
RIDES, DURATION = 6, 30.0


@pytest.fixture(scope="module")
def bike():
    return wr.demo()


def ridden(bike, seed, grade="C"):
    """Give times in s and strokes of the shock in mm of the rear over a road, at 200 Hz."""
    moving = bike.whole.moving_end("rear")
    motion = moving.over_road(wr.Road(grade), "40 km/h", seed=seed, duration=(DURATION, "s"))
    clock = np.arange(0.0, DURATION, 1 / 200)
    travel = np.interp(clock, motion.time.m_as("s"), motion.travel.m_as("mm"))
    inside = np.clip(travel, 0.0, bike.rear.full_travel.m_as("mm"))
    stroke = bike.rear.curve((inside, "mm")).stroke.m_as("mm")
    return clock, travel, stroke, motion


@pytest.fixture(scope="module")
def ride(bike):
    return ridden(bike, 3)


def logged(bike, clock, stroke, **given):
    return wr.travel_log(bike, [((clock, "s"), None, (stroke, "mm"))], **given)


def test_travel_and_speed_are_those_of_the_ride(bike, ride):
    clock, travel, stroke, _ = ride
    found = logged(bike, clock, stroke).ends["rear"]
    cubic = Tolerance("a cubic over 1,024 strokes", rel=1e-6)
    agree("mean travel of a ride", found.mean_travel.m_as("mm"), np.trapezoid(travel, clock) / clock[-1], cubic)
    one, other = travel[:-1] - found.mean_travel.m_as("mm"), travel[1:] - found.mean_travel.m_as("mm")
    square = np.mean((one**2 + one * other + other**2) / 3)
    agree("spread of travel of a ride", found.travel_deviation.m_as("mm"), np.sqrt(square), cubic)
    speed = np.diff(stroke) / np.diff(clock) / 1000
    agree(
        "rms of shaft speed in compression",
        found.compression_speed_rms.m_as("m/s"),
        np.sqrt(np.mean(speed[speed > 0] ** 2)),
        Tolerance("the same differences", rel=1e-9),
    )
    middles, shares = found.travel_histogram
    fine = np.interp(np.linspace(0, clock[-1], 2_000_001), clock, travel)
    width = middles.m_as("mm")[1] - middles.m_as("mm")[0]
    counts, _ = np.histogram(fine, bins=np.arange(101) * width)
    agree(
        "shares of time by travel", shares.m_as(""), counts / counts.sum(), Tolerance("a grid of 2 million", abs=1e-5)
    )


def test_the_mean_of_a_ride_is_as_sure_as_its_autocorrelation_says(bike, ride):
    """Sokal's sum over the autocorrelation that SciPy gives by a Fourier transform."""
    clock, travel, stroke, _ = ride
    found = logged(bike, clock, stroke).ends["rear"]
    # Means over cells of 50 ms: ten samples, by the trapezium.
    cells = ((travel[:-1] + travel[1:]) / 2)[: len(clock) // 10 * 10 - 10].reshape(-1, 10).mean(axis=1)
    off = cells - cells.mean()
    lags = signal.correlate(off, off, method="fft")[len(off) - 1 :] / (len(off) - np.arange(len(off)))
    rho, tau = lags / lags[0], 0.5
    for window in range(1, len(rho)):
        tau += rho[window]
        if window >= 5 * tau:
            break
    expected = np.sqrt(2 * max(tau, 0.05) * lags[0] / len(off) * (1 + (2 * window + 1) / len(off)))
    allowed = Tolerance("means of all pairs and of all cells differ by a part of a cell", rel=0.03)
    agree("standard uncertainty of the mean travel", found.mean_uncertainty.m_as("mm"), expected, allowed)


def test_the_sag_of_a_ride_is_the_load_that_was_ridden(bike):
    """On simulated roads the load is known: mean springs and damper hold it, asymmetric damper and all."""
    load = bike.masses.sprung_load("rear", "bike + rider").value.m_as("N")
    off, damping, spread = [], [], []
    for seed in range(RIDES):
        clock, _, stroke, _ = ridden(bike, seed)
        sag = logged(bike, clock, stroke).ends["rear"].dynamic_sag(bike, "rear", "0 mm")
        off.append(sag.load.value.m_as("N") - load)
        damping.append(sag.damper_force.value.m_as("N"))
        spread.append(np.hypot(sag.spring_force.standard_uncertainty.m_as("N"), 0.1 * damping[-1]))
    # Sprung mass and mean acceleration: what begins and ends at rest is off by the speed at the end, over the time.
    allowed = Tolerance("three standard uncertainties of a mean of rides, and gas that is not settled", abs=0.02 * load)
    agree("load that a ride held on average, off the truth", np.mean(off), 0.0, allowed)
    assert np.all(np.array(damping) < 0), "rebound is harder: it holds the end down"
    assert np.std(off) < 3 * np.mean(spread) + 0.005 * load


def test_the_sag_of_a_ride_is_one_more_reading(bike):
    """Alone it is as far off the sag at rest as it says, at most twice; with it the sag is known at least as well."""
    clock, _, stroke, _ = ridden(bike, 1)
    sag = logged(bike, clock, stroke).ends["rear"].dynamic_sag(bike, "rear")
    reading = sag.reading(bike, "rear", "bike + rider")
    assert (reading.end, reading.load, reading.settled) == ("rear", "bike + rider", "middle")
    rest = bike.rear.travel_under(bike.masses.sprung_load("rear", "bike + rider").value).state.travel
    u = reading.uncertainty.m_as("mm")
    agree(
        "sag of a ride, as a reading, off the rest of the bike that rode",
        reading.sag.m_as("mm"),
        rest.m_as("mm"),
        Tolerance("twice its own standard uncertainty", abs=2 * u),
    )
    more = bike.with_readings([reading])
    before, after = (one.fit_end("rear") for one in (bike, more))
    assert after.chi_square[1] == before.chi_square[1] + 1
    assert after.rate.standard_uncertainty.m_as("N/mm") <= 1.02 * before.rate.standard_uncertainty.m_as("N/mm")


def test_the_command_prints_the_reading_as_the_file_has_it(bike, tmp_path):
    clock, _, stroke, _ = ridden(bike, 1)
    (tmp_path / "bike.toml").write_text(bike.to_toml(), "utf-8")
    rows = "\n".join(f"{t:.6f},{s:.6f}" for t, s in zip(clock, stroke, strict=True))
    (tmp_path / "ride.csv").write_text(f"time,shock\n{rows}\n", "utf-8")
    command = ["travel-log", str(tmp_path / "bike.toml"), str(tmp_path / "ride.csv"), "--rear", "shock"]
    done = CliRunner().invoke(main, command)
    assert done.exit_code == 0, done.output
    row = done.stdout[done.stdout.index("[[reading]]") :].split("\n\n")[0]
    again = wr.Bike.from_toml(f"{bike.to_toml()}\n{row}\n")
    assert again.readings[-1].sag.m_as("mm") == pytest.approx(
        json.loads(CliRunner().invoke(main, [*command, "--json"]).stdout)["ends"]["rear"]["sag"]["travel"]["value"],
        abs=0.06,
    )


def test_a_missing_extra_is_one_line(tmp_path, monkeypatch):
    """A fresh install has no pyarrow: the command says what to install, and no traceback is printed."""
    (tmp_path / "bike.toml").write_text(wr.demo_file(), "utf-8")
    (tmp_path / "ride.csv").write_text("time,shock\n0,10\n0.1,12\n", "utf-8")
    for module in ("pyarrow", "pyarrow.csv"):
        monkeypatch.setitem(sys.modules, module, None)
    command = ["travel-log", str(tmp_path / "bike.toml"), str(tmp_path / "ride.csv"), "--rear", "shock"]
    done = CliRunner().invoke(main, command)
    assert done.exit_code == 1
    assert done.stderr == 'wheelrate: a travel log from a file needs pyarrow: pip install "wheelrate[tables]"\n'


def test_a_log_that_cannot_be_read_is_named(bike, tmp_path):
    log = tmp_path / "ride.csv"
    log.write_text("time;shock\n0;10,5\n0,1;12\n", "utf-8")
    with pytest.raises(wr.WheelrateError, match="first line `time;shock`, wanted the columns `shock`, `time`"):
        wr.read_travel_log(bike, log, rear="shock")
    with pytest.raises(wr.WheelrateError, match="delimiter: found `;;`, wanted one sign"):
        wr.read_travel_log(bike, log, rear="shock", delimiter=";;")
    log.write_text("time;shock\n0;10.5\n0.1;12\n", "utf-8")
    (tmp_path / "bike.toml").write_text(wr.demo_file(), "utf-8")
    command = ["travel-log", str(tmp_path / "bike.toml"), str(log), "--rear", "shock"]
    assert "mean travel" in CliRunner().invoke(main, [*command, "--delimiter", ";"]).stdout
    refused = CliRunner().invoke(main, command).stderr
    assert refused.startswith(f"wheelrate: {log}: found the first line"), "the log is at fault, not the bike file"


def test_pieces_and_files_give_the_same_bits(bike, ride, tmp_path):
    clock, _, stroke, _ = ride
    whole = logged(bike, clock, stroke)
    cuts = np.sort(np.random.default_rng(1).integers(1, len(clock), 40))
    cut = wr.travel_log(
        bike,
        [
            ((c, "s"), None, (s, "mm"))
            for c, s in zip(np.split(clock, cuts), np.split(stroke, cuts), strict=True)
            if len(c)
        ],
    )
    assert cut == whole
    assert pickle.loads(pickle.dumps(whole)) == whole
    volts = 0.61 + stroke / 58.4
    file = tmp_path / "ride.csv.gz"
    with gzip.open(file, "wt", encoding="utf-8") as out:
        out.write("time,shock,volts\n")
        out.writelines(
            f"{float(t)!r},{float(s)!r},{float(v)!r}\n" for t, s, v in zip(clock, stroke, volts, strict=True)
        )
    read = wr.read_travel_log(bike, file, rear="shock")
    # Metres by another factor: a rounding.
    agree(
        "mean travel from a file",
        read.ends["rear"].mean_travel.m_as("mm"),
        whole.ends["rear"].mean_travel.m_as("mm"),
        Tolerance("rounding", rel=1e-12),
    )
    by_volts = wr.read_travel_log(bike, file, rear=wr.LogChannel("volts", "58.4 mm", zero=0.61, low=0.0, high=5.0))
    assert by_volts.ends["rear"].mean_travel.m_as("mm") == pytest.approx(
        read.ends["rear"].mean_travel.m_as("mm"), rel=1e-9
    )
    by_rate = wr.read_travel_log(bike, file, rear="shock", rate="200 Hz")
    assert by_rate.ends["rear"].duration.m_as("s") == pytest.approx(clock[-1], rel=1e-12)
    bike_file = tmp_path / "patrol.toml"
    bike_file.write_text(wr.demo_file(), encoding="utf-8")
    shell = CliRunner().invoke(
        main, ["travel-log", str(bike_file), str(file), "--rear", "volts,58.4 mm,0.61,0,5", "--json"]
    )
    assert shell.exit_code == 0, shell.output
    shown = json.loads(shell.stdout)["ends"]["rear"]
    assert shown["mean_travel"]["value"] == pytest.approx(read.ends["rear"].mean_travel.m_as("mm"), rel=1e-3)
    text = CliRunner().invoke(main, ["travel-log", str(bike_file), str(file), "--rear", "shock"])
    assert "on average, which rests at" in text.output
    for bad in (["--rear", "nothing"], ["--rear", "shock,1 mm,zero"], []):
        refused = CliRunner().invoke(main, ["travel-log", str(bike_file), str(file), *bad])
        assert refused.exit_code != 0
        assert "wanted" in refused.output


def test_the_balance_is_of_both_at_once(bike):
    clock = np.arange(0, 120, 0.01)
    swing = np.sin(2 * np.pi * 0.31 * clock)
    full = {end: getattr(bike, end).full_travel.m_as("mm") for end in ("front", "rear")}
    strokes = {}
    for end, mean in {"front": 0.30, "rear": 0.35}.items():
        travels = full[end] * (mean + 0.1 * swing)
        curve = getattr(bike, end).curve((travels, "mm"))
        strokes[end] = (curve.stroke.m_as("mm"), "mm")
    found = wr.travel_log(bike, [((clock, "s"), strokes["front"], strokes["rear"])])
    agree("front-to-rear balance", found.balance.m_as(""), -0.05, Tolerance("a cubic over 1,024 strokes", abs=1e-6))
    # Both swing together, so that their difference stands still and is surer than either mean.
    assert found.balance_uncertainty.m_as("") < 1e-6


def test_memory_does_not_grow_with_the_log(bike):
    def pieces(count, size=100_000):
        for piece in range(count):
            clock = (piece * size + np.arange(size)) / 1000
            yield (clock, "s"), None, (40 + 10 * np.sin(7 * clock), "mm")

    most = {}
    for count in (2, 20):
        tracemalloc.start()
        found = wr.travel_log(bike, pieces(count)).ends["rear"]
        most[count] = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        assert found.samples == count * 100_000
    assert most[20] < 1.05 * most[2]


def test_what_is_wrong_is_named(bike):
    with pytest.raises(wr.WheelrateError, match="row 3 of the log"):
        logged(bike, np.array([0.0, 1.0, 0.5]), np.array([40.0, 40, 40]))
    with pytest.raises(wr.WheelrateError, match="wanted one or more"):
        wr.travel_log(bike, [])
    with pytest.raises(TypeError, match="`front` or `rear`"):
        wr.read_travel_log(bike, "ride.csv")
    short = logged(bike, np.arange(100) / 100, np.full(100, 40.0) + np.arange(100) % 7).ends["rear"]
    assert short.mean_uncertainty is None
    with pytest.raises(wr.WheelrateError, match="too short"):
        short.dynamic_sag(bike, "rear")
