"""The whole bike in time: against SciPy's integrator on the same curves, in pieces that are known, and its energies."""

import json
import pickle

import numpy as np
import pytest
from click.testing import CliRunner
from outside import Tolerance, agree
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicSpline

import wheelrate as wr
from wheelrate.cli import main

GRAVITY = 9.80665
#: Of each damper, in compression and in rebound (N s/m).
SLOPES = {"front": (900.0, 1300.0), "rear": (5000.0, 8000.0)}
DAMPERS = {f"{end}_damper": wr.Damper(*((slope, "N s/m") for slope in slopes)) for end, slopes in SLOPES.items()}
LOAD = "bike + rider"
#: Of the metal at both ends of travel (N/m), as the landing of one end has it.
METAL = 5e6
#: Curves of 2,001 points, and two integrators: tenths of a micrometre.
CURVES = Tolerance("splines over 2,001 travels, and two integrators", abs=2e-6)


@pytest.fixture(scope="module")
def bike():
    return wr.demo()


class Reference:
    """Two ends on one body, written again over splines of the ends' own curves."""

    def __init__(self, bike, rests, braking=None, legs=None):
        masses, whole, stated = bike.masses, bike.whole, bike.to_dict()
        self.ends, self.braking, self.legs = [], braking, legs
        for name, slopes in SLOPES.items():
            end = getattr(bike, name)
            travels = np.linspace(0, end.full_travel.m_as("m"), 2001)
            curve = end.fast_curve((rests[name], "m"), (travels, "m"))
            self.ends.append(
                {
                    "force": CubicSpline(travels, curve.wheel_force.m_as("N")),
                    "ratio": CubicSpline(travels, curve.motion_ratio.m_as("")),
                    "slopes": slopes,
                    "full": travels[-1],
                    "sprung": masses.sprung_mass(name, LOAD).value.m_as("kg"),
                    "unsprung": wr.quantity(stated["masses"]["unsprung"][name], "mass").m_as("kg"),
                    "tyre": wr.quantity(stated["wheels"][name]["tyre"], "wheel rate").m_as("N/m"),
                }
            )
        self.sprung = sum(end["sprung"] for end in self.ends)
        self.inertia = whole.pitch_inertia(LOAD).m_as("kg m**2")
        self.wheelbase = whole.settle(LOAD).stance.wheelbase.m_as("m")
        self.arms = [
            -self.wheelbase * self.ends[1]["sprung"] / self.sprung,
            self.wheelbase * self.ends[0]["sprung"] / self.sprung,
        ]
        self.total = self.sprung + sum(end["unsprung"] for end in self.ends)
        if braking:
            dive = whole.anti_dive(LOAD)
            rise = whole.anti_rise(LOAD, whole.settle(LOAD).stance.travel["rear"].reshape(1))
            self.height = self.load_height(bike)
            transfer = self.height / self.wheelbase
            self.along = [-dive.anti_dive.m_as("") * transfer, rise.anti_rise.m_as("")[0] * transfer]

    @staticmethod
    def load_height(bike):
        """Weigh the heights of bike and rider, as the file states them."""
        stated = bike.to_dict()["masses"]
        parts = []
        for name in ("bike", "rider"):
            of = stated[name]
            parts.append((sum(float(of[end].split()[0]) for end in ("front", "rear")), float(of["height"].split()[0])))
        return sum(mass * height for mass, height in parts) / sum(mass for mass, _ in parts) / 1000

    def rate(self, time, y):
        h, dh, pitch, dpitch, *rest = y
        out, up, turn, brakes = [dh, 0.0, dpitch, 0.0], 0.0, 0.0, 0.0
        for at, end in enumerate(self.ends):
            wheel, dwheel = rest[2 * at : 2 * at + 2]
            travel, speed = wheel - h - self.arms[at] * pitch, dwheel - dh - self.arms[at] * dpitch
            inside = min(max(travel, 0.0), end["full"])
            ratio = end["ratio"](inside)
            damping = ratio**2 * speed * end["slopes"][0 if speed > 0 else 1]
            tyre = max(0.0, -end["tyre"] * wheel)
            force, pushed = end["force"](inside) + METAL * (travel - inside) + damping, 0.0
            if self.braking:
                deceleration, front, build_up = self.braking
                now = 0.5 * (1 - np.cos(np.pi * min(time / build_up, 1.0)))
                brake = min(self.total * deceleration * now * (1 - front if at else front), tyre)
                brakes += brake
                pushed = self.along[at] * brake
            up += force - pushed
            turn += self.arms[at] * (force - pushed)
            out += [dwheel, (tyre - force + pushed) / end["unsprung"] - GRAVITY]
        if self.braking:
            turn += brakes * self.height
        out[1], out[3] = up / self.sprung - GRAVITY, turn / self.inertia
        return out

    def follow(self, start, times):
        solved = solve_ivp(self.rate, (0, times[-1]), start, t_eval=times, rtol=1e-10, atol=1e-12, max_step=2e-3)
        h, _, pitch, _, front, _, rear, _ = solved.y
        return front - h - self.arms[0] * pitch, rear - h - self.arms[1] * pitch, pitch


def test_a_landing_on_the_rear_wheel_is_that_of_scipy(bike):
    found = bike.whole.land("150 mm", "-4 deg", LOAD, friction="0 N", duration="0.5 s", **DAMPERS)
    hangs = {name: float(end.travel[0].m_as("m")) for name, end in found.ends.items()}
    reference = Reference(bike, {name: max(0.0, hang) for name, hang in hangs.items()})
    nose, fall = np.radians(-4), -np.sqrt(2 * GRAVITY * 0.15)
    lift = -reference.arms[1] * nose
    wheels = [lift + arm * nose for arm in reference.arms]
    bodies = [wheel - hang for wheel, hang in zip(wheels, hangs.values(), strict=True)]
    pitch = (bodies[1] - bodies[0]) / reference.wheelbase
    rise = bodies[0] - reference.arms[0] * pitch
    start = [rise, fall, pitch, 0.0, wheels[0], fall, wheels[1], fall]
    front, rear, turned = reference.follow(start, found.time.m_as("s"))
    agree("front travel of a landing", found.ends["front"].travel.m_as("m"), front, CURVES)
    agree("rear travel of a landing", found.ends["rear"].travel.m_as("m"), rear, CURVES)
    agree("pitch of a landing (rad)", found.pitch.m_as("rad"), turned - turned[0], CURVES)


def test_braking_is_that_of_scipy(bike):
    found = bike.whole.brake("4 m/s2", "65 %", LOAD, friction="0 N", duration="0.8 s", **DAMPERS)
    rests = {name: end.rest_travel.m_as("m") for name, end in found.ends.items()}
    reference = Reference(bike, rests, braking=(4.0, 0.65, 0.2))
    wheels = [-(end["sprung"] + end["unsprung"]) * GRAVITY / end["tyre"] for end in reference.ends]
    bodies = [wheel - rest for wheel, rest in zip(wheels, rests.values(), strict=True)]
    pitch = (bodies[1] - bodies[0]) / reference.wheelbase
    start = [bodies[0] - reference.arms[0] * pitch, 0.0, pitch, 0.0, wheels[0], 0.0, wheels[1], 0.0]
    front, rear, turned = reference.follow(start, found.time.m_as("s"))
    agree("front travel while braking", found.ends["front"].travel.m_as("m"), front, CURVES)
    agree("rear travel while braking", found.ends["rear"].travel.m_as("m"), rear, CURVES)
    agree("pitch while braking (rad)", found.pitch.m_as("rad"), turned - turned[0], CURVES)


def test_the_energy_is_accounted_for(bike):
    legs = wr.Legs("80 kg", "7 N/mm", "700 N s/m")
    for motion in (
        bike.whole.land("300 mm", "3 deg", legs=legs),
        bike.whole.brake("7 m/s2", "70 %", legs=legs),
        bike.whole.over_road(wr.Road("C"), "40 km/h", 1, duration="2 s"),
    ):
        energy = motion.energy
        taken = (energy.by_damper + energy.by_friction + energy.by_legs).m_as("J")
        account = Tolerance("a billionth a step", abs=1e-5 * max(taken, 1.0))
        agree("energy that the whole bike misses", energy.missing.m_as("J"), 0.0, account)


def test_the_rear_wheel_meets_the_road_later(bike):
    ride = bike.whole.over_road(wr.Road("E"), "20 km/h", 3, duration="0.4 s")
    delay = bike.whole.settle().stance.wheelbase.m_as("m") / (20 / 3.6)
    before = ride.time.m_as("s") < delay
    front, rear = (ride.ends[end].tyre_force.m_as("N") for end in ("front", "rear"))
    assert np.ptp(front[before]) > 10 * np.ptp(rear[before])
    assert np.ptp(rear) > 0.2 * np.ptp(front)


def test_the_command_line_shows_it(bike, tmp_path):
    file = tmp_path / "patrol.toml"
    file.write_text(wr.demo_file(), encoding="utf-8")
    for command, call in (
        (
            ["landing", str(file), "--end", "both", "--height", "300 mm", "--attitude", "-3 deg"],
            bike.whole.land("300 mm", "-3 deg"),
        ),
        (["brake", str(file), "--deceleration", "5 m/s2", "--legs", "80 kg,7 N/mm,700 N s/m"], None),
    ):
        run = CliRunner().invoke(main, [*command, "--json"])
        assert run.exit_code == 0, run.output
        found = json.loads(run.stdout)
        assert found["limits"]
        if call is not None:
            assert pickle.loads(pickle.dumps(call)) == call
            peak = call.ends["rear"].peak_travel.m_as("mm")
            assert found["ends"]["rear"]["peak_travel"]["value"] == pytest.approx(peak, rel=1e-3)
        text = CliRunner().invoke(main, command).output
        assert "not of a jump" in text
    refused = CliRunner().invoke(main, ["brake", str(file), "--deceleration", "5 m/s2", "--legs", "80 kg"])
    assert refused.exit_code != 0
    assert "wanted mass, rate and damping" in refused.output


def test_what_cannot_be_is_said(bike):
    with pytest.raises(wr.WheelrateError, match="attitude"):
        bike.whole.land("300 mm", "40 deg")
    with pytest.raises(wr.WheelrateError, match="deceleration"):
        bike.whole.brake("40 m/s2", "70 %")
    with pytest.raises(wr.WheelrateError, match="mass"):
        bike.whole.land("300 mm", legs=wr.Legs("300 kg", "7 N/mm", "700 N s/m"))
    bare = wr.Bike.from_toml("\n".join(row for row in wr.demo_file().splitlines() if not row.startswith("caliper")))
    with pytest.raises(wr.WheelrateError, match=r"rear\.caliper"):
        bare.whole.brake("4 m/s2", "70 %")
