"""A bike on a road: in frequency against a state space, in time against SciPy's integrator."""

import json

import numpy as np
import pytest
from click.testing import CliRunner
from outside import Tolerance, agree
from scipy import signal
from scipy.integrate import quad, solve_ivp
from scipy.optimize import minimize_scalar

import wheelrate as wr
from wheelrate.cli import main

SPRUNG, UNSPRUNG, RATE, TYRE, DAMPING = 95.0, 17.5, 8300.0, 180e3, 600.0
GRAVITY = 9.80665


@pytest.fixture(scope="module")
def quarter():
    return wr.QuarterBike(sprung=(SPRUNG, "kg"), unsprung=(UNSPRUNG, "kg"), rate=(RATE, "N/m"), tyre=(TYRE, "N/m"))


def system(output):
    """Give the state space of the quarter: road height in, one of its motions out."""
    c, k = DAMPING, RATE
    state = np.array(
        [
            [0, 1, 0, 0],
            [-k / SPRUNG, -c / SPRUNG, k / SPRUNG, c / SPRUNG],
            [0, 0, 0, 1],
            [k / UNSPRUNG, c / UNSPRUNG, -(k + TYRE) / UNSPRUNG, -c / UNSPRUNG],
        ]
    )
    rows = {"body": [1, 0, 0, 0], "wheel": [0, 0, 1, 0], "travel": [-1, 0, 1, 0]}
    return state, np.array([0, 0, 0, TYRE / UNSPRUNG]), np.array(rows[output])


def amplitude(output, circular):
    """Solve the state space for its response at a circular frequency."""
    state, into, out = system(output)
    return abs(out @ np.linalg.solve(1j * circular * np.eye(4) - state, into))


@pytest.mark.parametrize("output", ["body", "wheel", "travel"])
def test_the_response_is_that_of_a_linear_system(quarter, output):
    frequencies = np.array([0.3, 1.0, 1.49, 3.0, 8.0, 16.3, 40.0])
    found = getattr(quarter.response((DAMPING, "N*s/m"), (frequencies, "Hz")), output).m_as("")
    expected = [amplitude(output, 2 * np.pi * f) for f in frequencies]
    agree(f"response of the {output} to the ground", found, expected, Tolerance("a solve of four equations", rel=1e-9))


def test_rms_on_a_road_is_the_integral_over_its_spectrum(quarter):
    road, speed = wr.Road("D"), 50 / 3.6
    found = quarter.on_road((DAMPING, "N*s/m"), road, (speed, "m/s"))
    roughness = road.roughness.m_as("m**3")

    def mean_square(of):
        def power(log):
            f = np.exp(log)
            density = roughness * (0.1 * speed / f) ** 2 / speed
            return of(2 * np.pi * f) * density * f

        low, high = np.log(0.01 * speed), np.log(10 * speed)
        corners = np.log([1.4, 16.3])
        return quad(power, low, high, points=corners, limit=500, epsrel=1e-10)[0]

    def size(output):
        return lambda w: amplitude(output, w) ** 2

    integral = Tolerance("SciPy's adaptive quadrature of the same spectrum, relative 1e-10", rel=1e-8)
    agree("rms travel on a road, in m", found.travel_rms.m_as("m"), mean_square(size("travel")) ** 0.5, integral)
    agree(
        "rms acceleration on a road, in m/s²",
        found.acceleration_rms.m_as("m/s**2"),
        mean_square(lambda w: w**4 * size("body")(w)) ** 0.5,
        integral,
    )

    def weight(w):
        return float(wr.vertical_weighting((w / (2 * np.pi), "Hz")).m_as("")) ** 2

    agree(
        "weighted rms acceleration on a road, in m/s²",
        found.weighted_acceleration_rms.m_as("m/s**2"),
        mean_square(lambda w: w**4 * weight(w) * size("body")(w)) ** 0.5,
        integral,
    )


def end(damper):
    leg = wr.ForkLeg(wr.Preloaded("4.15 N/mm", "20 mm"), damper=damper)
    fork = wr.FrontEnd(wr.Fork("400 mm", "0 deg", leg))
    return wr.MovingEnd(fork, sprung="95 kg", unsprung="17.5 kg", tyre="180 N/mm", damper=fork.fork.damper)


def test_a_ride_in_time_is_that_of_scipy():
    road, speed = wr.Road("C", shortest="0.3 m"), 15.0
    ride = end(wr.Damper("300 N s/m")).over_road(road, (speed, "m/s"), seed=3, duration="2 s")
    places = np.linspace(0, 2 * speed, 60_001)
    heights = road.heights((places, "m"), seed=3).m_as("m")
    rest_wheel = -(SPRUNG + UNSPRUNG) * GRAVITY / TYRE
    rest = (SPRUNG * GRAVITY - RATE * 0.02) / RATE

    def slope(t, y):
        ground = np.interp(speed * t, places, heights)
        force = RATE * (y[2] - y[0] + 0.02) + DAMPING * (y[3] - y[1])
        tyre = max(0.0, TYRE * (ground - y[2]))
        return [y[1], force / SPRUNG - GRAVITY, y[3], (tyre - force) / UNSPRUNG - GRAVITY]

    start = [rest_wheel - rest, 0, rest_wheel, 0]
    times = ride.time.m_as("s")
    solved = solve_ivp(slope, (0, 2), start, method="RK45", rtol=1e-8, atol=1e-10, max_step=1e-3, t_eval=times)
    agree(
        "travel over a synthetic road in time, in m",
        ride.travel.m_as("m"),
        solved.y[2] - solved.y[0],
        Tolerance("SciPy's ground is straight between points 0.5 mm apart", abs=2e-6),
    )
    account = ride.energy
    assert abs(account.missing.m_as("J")) < 1e-4 * account.by_damper.m_as("J")


def test_rides_of_many_seeds_have_the_rms_of_the_spectrum(quarter):
    # Nothing lifts or stops on this road, so that the end is linear.
    road, speed = wr.Road("B", shortest="0.3 m", longest="60 m"), "15 m/s"
    squares = []
    for seed in range(12):
        travel = end(wr.Damper("300 N s/m")).over_road(road, speed, seed=seed, duration="20 s").travel.m_as("m")
        squares.append(np.var(travel[100:]))
    expected = quarter.on_road("600 N s/m", road, speed).travel_rms.m_as("m")
    # Scatter of the seeds, not of the integrator: a standard error of the mean square by the twelve themselves.
    error = np.std(squares) / np.sqrt(len(squares) - 1)
    assert abs(np.mean(squares) - expected**2) < 3.5 * error + 0.02 * expected**2, (
        np.mean(squares),
        expected**2,
        error,
    )


def test_the_damper_of_least_acceleration_is_the_closed_form(quarter):
    """`c = k·√((m_s + m_u)/k_t)` makes `(m_s + m_u)·k²/c + k_t·c` least (Dahlberg, on a road of white velocity)."""
    road = wr.Road("D", shortest="2 mm", longest="10000 m")

    def acceleration(log):
        return quarter.on_road((np.exp(log), "N*s/m"), road, "50 km/h").acceleration_rms.m_as("m/s**2")

    found = np.exp(minimize_scalar(acceleration, bounds=np.log([50, 1000]), method="bounded").x)
    closed = RATE * np.sqrt((SPRUNG + UNSPRUNG) / TYRE)
    agree(
        "damping of least acceleration", found, closed, Tolerance("waves from 2 mm to 10 km, a flat minimum", rel=0.01)
    )


def test_the_profile_has_the_spectrum_of_its_class():
    road = wr.Road("D")
    places = np.arange(0, 400, 0.02)
    densities = []
    for seed in range(20):
        heights = road.heights((places, "m"), seed=seed).m_as("m")
        wavenumbers, density = signal.welch(heights, fs=50, nperseg=5000, detrend="linear")
        densities.append(density)
    inside = (wavenumbers > 0.05) & (wavenumbers < 5)
    ratio = np.mean(densities, axis=0)[inside] / (1024e-6 * (0.1 / wavenumbers[inside]) ** 2)
    agree(
        "spectrum of synthetic roads over that of their class, mean of a decade and more",
        np.exp(np.mean(np.log(ratio))),
        1.0,
        Tolerance("Welch's estimate of lines 3 % apart, twenty roads of 400 m", abs=0.15),
    )


def test_the_bike_compares_springs_dampers_and_roads():
    bike = wr.demo()
    rough, smooth = bike.whole.on_road(wr.Road("E"), "50 km/h"), bike.whole.on_road(wr.Road("C"), "50 km/h")
    for name in ("front", "rear"):
        assert rough.ends[name].travel_rms > smooth.ends[name].travel_rms
        assert rough.ends[name].bottomings_per_km > smooth.ends[name].bottomings_per_km
        shares = rough.ends[name].bottoming_chance.m_as(""), 1 - np.exp(-rough.ends[name].bottomings_per_km)
        assert shares[0] == pytest.approx(shares[1], abs=1e-12)
    soft = bike.whole.on_road(wr.Road("E"), "50 km/h", rear_damper=bike.rear.shock.damper.scaled(0.5))
    assert soft.ends["rear"].travel_rms > rough.ends["rear"].travel_rms
    assert soft.ends["rear"].damping < rough.ends["rear"].damping
    held = bike.whole.on_road(wr.Road("C"), "50 km/h", friction="60 N")
    assert held.ends["rear"].travel_rms < smooth.ends["rear"].travel_rms
    # A linear damper has no preference, so that nothing shifts the mean.
    even = bike.whole.on_road(wr.Road("E"), "50 km/h", rear_damper=wr.Damper("4000 N s/m"))
    assert even.ends["rear"].travel_shift.m_as("mm") == pytest.approx(0, abs=1e-9)
    assert rough.ends["rear"].travel_shift.m_as("mm") > 0, "rebound is the harder of the two: the bike packs down"


def test_twice_the_roughness_is_the_root_of_two_in_rms(quarter):
    one = quarter.on_road("600 N s/m", wr.Road(roughness="1e-4 m3"), "15 m/s")
    two = quarter.on_road("600 N s/m", wr.Road(roughness="2e-4 m3"), "15 m/s")
    assert (two.tyre_force_rms / one.tyre_force_rms).m_as("") == pytest.approx(2**0.5, rel=1e-12)


def test_faults():
    with pytest.raises(wr.errors.UnitError, match="A to H"):
        wr.Road("K")
    with pytest.raises(ValueError, match="wanted one of them"):
        wr.Road()
    with pytest.raises(wr.errors.WheelrateError, match="longest"):
        wr.Road("D", shortest="5 m", longest="1 m")
    with pytest.raises(wr.errors.BikeError, match="tyre"):
        wr.Bike.from_toml(wr.demo_file().replace(', tyre = "180 N/mm"', "")).whole.on_road(wr.Road("D"), "50 km/h")


def test_the_command_line_rides(tmp_path):
    path = tmp_path / "patrol.toml"
    path.write_text(wr.demo_file(), "utf-8")
    said = CliRunner().invoke(main, ["road", str(path), "--class", "E", "--speed", "50 km/h"])
    assert said.exit_code == 0, said.output
    assert "chance" in said.output
    assert "comfort" in said.output
    data = json.loads(
        CliRunner().invoke(main, ["road", str(path), "--class", "E", "--speed", "50 km/h", "--json"]).output
    )
    expected = wr.demo().whole.on_road(wr.Road("E"), "50 km/h").ends["rear"].travel_rms.m_as("mm")
    assert data["ends"]["rear"]["travel_rms"]["value"] == pytest.approx(expected)
    # Where three standard deviations of a tyre's force are its load, it is said; on tar nothing is.
    rides = {grade: wr.demo().whole.on_road(wr.Road(grade), "50 km/h") for grade in "AE"}
    for grade, ride in rides.items():
        off = [name for name, end in ride.ends.items() if 3 * end.tyre_force_rms > end.tyre_load]
        run = CliRunner().invoke(main, ["road", str(path), "--class", grade, "--speed", "50 km/h"]).output
        assert ("leaves the ground" in run) == bool(off)
        assert off == [name for name, end in ride.ends.items() if end.leaves_ground]
    assert not [end for end in rides["A"].ends.values() if 3 * end.tyre_force_rms > end.tyre_load]
    assert [end for end in rides["E"].ends.values() if 3 * end.tyre_force_rms > end.tyre_load]
