"""The whole bike: how it stands, what a change does, rides and landings."""

import pickle

import numpy as np
import pytest
from outside import Tolerance, agree
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicHermiteSpline
from scipy.linalg import eigh
from scipy.optimize import brentq, fsolve, least_squares

import wheelrate as wr

ROUNDING = Tolerance("the roots of two quadratic equations, by two ways", rel=1e-12)
# An unsprung mass of a hundred-thousandth of the sprung one, and what it changes of the frequency, at most.
LIGHT = 1e-4
# Share of the energy that steps of the integration lose; and how far from rest they leave a bike at rest, in mm.
UNACCOUNTED, RESTS_MM = 1e-5, 0.01


@pytest.fixture
def bike():
    return wr.demo()


def test_stances_agree_with_the_steering_geometry(bike):
    stances = bike.whole.stances()
    for stance in (stances.extended, stances.free.stance, stances.rider.stance):
        wheel = wr.Steering(stance.rake, "55 mm", stance.axle_height["front"])
        assert wheel.trail.m_as("mm") == pytest.approx(stance.trail.m_as("mm"))
        assert wheel.normal_trail.m_as("mm") == pytest.approx(stance.normal_trail.m_as("mm"))
        assert stance.rake.m_as("deg") == pytest.approx(26.5 - stance.pitch.m_as("deg"))
    assert stances.rider == bike.whole.settle("bike + rider") == bike.whole.settle()
    assert stances.free == bike.whole.settle("bike")


def test_scales_carry_what_rests_on_them(bike):
    load = bike.whole.settle("bike + rider").load
    assert load["front"].m_as("N") == pytest.approx(91 * 9.80665)
    assert load["rear"].m_as("N") == pytest.approx(130 * 9.80665)


def test_points_of_the_frame_move_with_it(bike):
    stances = bike.whole.stances()
    seat = ["-350 mm", "480 mm"]
    for stance in (stances.extended, stances.rider.stance):
        back = stance.point_at(stance.place(seat))
        np.testing.assert_allclose(back.m_as("mm"), [-350, 480])
    sinks = stances.extended.place(seat)[1] - stances.rider.stance.place(seat)[1]
    assert 60 < sinks.m_as("mm") < 160


def test_raised_clamps_take_trail_and_what_moves_is_after_less_before(bike):
    effect = bike.whole.effect_of(fork_raised="5 mm", front_spring=("4.0 N/mm", "6 mm"))
    assert effect.loads_follow
    assert effect.trail.m_as("mm") < -1
    for name in ("rake", "trail", "wheelbase"):
        change = getattr(effect.after.stance, name) - getattr(effect.before.stance, name)
        assert getattr(effect, name).m == pytest.approx(change.m)
    changed = bike.whole.with_adjustment(fork_raised="5 mm", front_spring=("4.0 N/mm", "6 mm"))
    assert changed.whole.stances().extended.rake < bike.whole.stances().extended.rake
    assert bike.whole.with_adjustment() == bike


def test_braking_dives_and_driving_squats(bike):
    chain = wr.Chain(["85 mm", "12 mm"], front_radius="33 mm", rear_radius="105 mm")
    still = bike.whole.settle().stance.travel
    braking = bike.whole.settle(acceleration="-4 m/s2", front_share="100 %", rear_reaction="swingarm")
    driving = bike.whole.settle(acceleration="3 m/s2", rear_reaction=chain)
    assert braking.stance.travel["front"] > still["front"]
    assert driving.stance.travel["front"] < still["front"]
    assert braking.along["front"].m_as("N") == pytest.approx(-4 * 221)
    with pytest.raises(wr.errors.BikeError, match=r"rear_reaction: found `belt`"):
        bike.whole.settle(rear_reaction="belt")


def test_squat_of_the_bike_over_travel(bike):
    rest = bike.whole.settle().stance
    found = bike.whole.squat(travels=[rest.travel["rear"]])
    assert found.swingarm_angle[0].m_as("deg") == pytest.approx(rest.swingarm_angle.m_as("deg"))
    assert found.squat_ratio[0] * found.anti_squat[0].m_as("") == pytest.approx(1)
    over = bike.whole.squat("bike + rider")
    assert over.travel[-1] == bike.rear.full_travel
    assert np.all(np.diff(over.swingarm_angle.m) < 0)


def test_the_final_drive_is_held_and_said(bike):
    assert bike.rear.final_drive.teeth == (13, 49)
    assert pickle.loads(pickle.dumps(bike.rear)) == bike.rear
    shaft = wr.RearEnd(bike.rear.linkage, bike.rear.shock, final_drive="shaft")
    assert shaft.final_drive == "shaft"
    parts = {"masses": bike.masses, "front": bike.front, "wheels": bike.wheels}
    with pytest.raises(wr.errors.BikeError, match=r"chain squat does not apply"):
        wr.Bike("shaft", rear=shaft, **parts).whole.squat()
    unknown = wr.RearEnd(bike.rear.linkage, bike.rear.shock)
    with pytest.raises(wr.errors.BikeError, match=r"`rear.chain` is missing"):
        wr.Bike("unknown", rear=unknown, **parts).whole.squat()
    with pytest.raises(wr.errors.BikeError, match=r"final_drive: found `belt`"):
        wr.RearEnd(bike.rear.linkage, bike.rear.shock, final_drive="belt")
    with pytest.raises(wr.UnitError, match=r"rear_teeth: found 3"):
        wr.Sprockets(["88 mm", "4 mm"], (13, 3), "15.875 mm")


def test_says_what_is_missing(bike):
    bare = wr.Bike("bare", masses=bike.masses, front=bike.front, rear=bike.rear)
    with pytest.raises(wr.errors.BikeError, match=r"^`wheels` is missing"):
        bare.whole.stances()
    whole = wr.Bike("whole", masses=bike.masses, front=bike.front, rear=bike.rear, wheels=bike.wheels)
    assert whole.whole.stances().extended == bike.whole.stances().extended


def test_modes_of_a_half_bike_against_scipy():
    a, b, front, rear, mass, inertia = 0.75, 0.7, 6500.0, 8300.0, 190.0, 48.0
    half = wr.HalfBike(
        sprung=(mass, "kg"),
        pitch_inertia=(inertia, "kg m2"),
        front=wr.HalfBikeEnd((a, "m"), (front / 1000, "N/mm")),
        rear=wr.HalfBikeEnd((b, "m"), (rear / 1000, "N/mm")),
    )
    stiffness = [[front + rear, rear * b - front * a], [rear * b - front * a, front * a * a + rear * b * b]]
    squares = eigh(stiffness, np.diag([mass, inertia]), eigvals_only=True)
    found = [mode.frequency.m_as("Hz") for mode in half.modes()]
    agree("frequencies of a half bike, in Hz", found, np.sqrt(squares) / (2 * np.pi), ROUNDING)
    assert half.dynamic_index.m_as("") == pytest.approx(inertia / (mass * a * b))


def test_a_quarter_bike_on_its_own_is_one_mass_on_one_spring():
    ride, hop = wr.QuarterBike(sprung="95 kg", unsprung="0.001 kg", rate="8.3 N/mm", tyre="180 N/mm").modes()
    series = wr.ride_rate("8.3 N/mm", "180 N/mm")
    alone = wr.natural_frequency(series, "95 kg")
    assert ride.frequency.m_as("Hz") == pytest.approx(alone.m_as("Hz"), rel=LIGHT)
    assert hop.frequency > ride.frequency
    assert hop.unsprung_over_sprung < 0 < ride.unsprung_over_sprung


def test_damping_at_shaft_and_wheel_undo_each_other(bike):
    ratio = bike.rear.at("102 mm").motion_ratio
    shaft = wr.damping_at_shaft("1800 N s/m", ratio)
    assert wr.damping_at_wheel(shaft, ratio).m_as("N s/m") == pytest.approx(1800)
    critical = wr.critical_damping("8.3 N/mm", "95 kg")
    assert wr.damping_ratio(critical, "8.3 N/mm", "95 kg").m_as("") == pytest.approx(1)
    assert wr.damping_factor("8 N/mm", "9.68 N/mm") == pytest.approx(1.1)


MICROMETRE = Tolerance(
    "cubic pieces a seventh of a millimetre long, an implicit method that keeps 1e-8 of a step", abs=1e-6
)


def test_a_step_agrees_with_scipy(bike):
    gravity, tyre, damping, sprung, unsprung = 9.80665, 180e3, 6000.0, 112.5, 17.5
    height, rise, until = 0.06, 0.02, 0.5
    moving = wr.MovingEnd(
        bike.rear,
        sprung=(sprung, "kg"),
        unsprung=(unsprung, "kg"),
        tyre=(tyre / 1000, "N/mm"),
        damper=wr.Damper("6000 N s/m"),
    )
    motion = moving.step((height, "m"), rise=(rise, "s"), duration=(until, "s"))
    # The gas of the shock has settled where the bike stands, and works fast from there.
    travels = (np.linspace(0, bike.rear.full_travel.m_as("m"), 2001), "m")
    curve = bike.rear.fast_curve(motion.rest_travel, travels)
    travel = curve.travel.m_as("m")
    force = CubicHermiteSpline(travel, curve.wheel_force.m_as("N"), curve.wheel_rate.m_as("N/m"))
    ratio = CubicHermiteSpline(travel, curve.motion_ratio.m_as(""), curve.motion_ratio_slope.m_as("1/m"))
    rest, pressed = motion.rest_travel.m_as("m"), (sprung + unsprung) * gravity / tyre

    def moves(time, state):
        body, wheel, body_speed, wheel_speed = state
        z = rest + wheel - body
        end = force(z) + ratio(z) ** 2 * damping * (wheel_speed - body_speed)
        ground = height * (0.5 - 0.5 * np.cos(np.pi * min(time / rise, 1.0)))
        tread = max(0.0, tyre * (pressed + ground - wheel))
        return [body_speed, wheel_speed, end / sprung - gravity, (tread - end) / unsprung - gravity]

    options = {"rtol": 1e-8, "atol": 1e-9, "max_step": 1e-3, "dense_output": True}
    body, wheel = solve_ivp(moves, (0, until), [0, 0, 0, 0], "Radau", **options).sol(motion.time.m_as("s"))[:2]
    agree("travel over a step, in m", motion.travel.m_as("m"), rest + wheel - body, MICROMETRE)
    agree("rise of the body over a step, in m", motion.body_rise.m_as("m"), body, MICROMETRE)


def test_a_higher_fall_goes_deeper_until_it_bottoms(bike):
    moving = bike.whole.moving_end("rear", wr.Damper("6000 N s/m", "9000 N s/m"), friction="60 N")
    low, high = moving.land("0.3 m"), moving.land("1.5 m")
    assert low.bottoming is None
    assert low.peak_travel < low.full_travel
    assert high.bottoming.speed.m_as("m/s") > 0.5
    assert high.bottoming.energy.m_as("J") > 0
    for motion in (low, high):
        account = motion.energy
        assert abs(account.missing.m_as("J")) < UNACCOUNTED * account.given_up.m_as("J")
        assert len({len(getattr(motion, name)) for name in ("time", "travel", "wheel_force", "tyre_force")}) == 1
        assert any("weight on the frame" in limit for limit in motion.limits)
    step = moving.step("60 mm")
    assert step.travel[0].m_as("mm") == pytest.approx(step.rest_travel.m_as("mm"), abs=RESTS_MM)
    assert step.peak_travel > step.rest_travel


def test_ballast_and_posture(bike):
    whole = bike.whole.ballast()
    wheelbase = bike.whole.settle().stance.wheelbase
    assert (whole.mass * whole.behind_front_axle / wheelbase).m_as("kg") == pytest.approx(66)
    pegs, tail = bike.whole.ballast_at(["850 mm", "1400 mm"]).m_as("kg")
    assert pegs + tail == pytest.approx(96)
    assert 850 * pegs + 1400 * tail == pytest.approx(66 * wheelbase.m_as("mm"))
    with pytest.raises(wr.errors.MassError, match=r"cannot stand for `rider`"):
        bike.whole.ballast_at(["100 mm", "200 mm"])
    leaning = bike.whole.with_shift("rider", forward="80 mm", up="-50 mm")
    moved = leaning.whole.settle().load["front"] - bike.whole.settle().load["front"]
    assert moved.m_as("N") == pytest.approx(96 * 9.80665 * 80 / wheelbase.m_as("mm"))
    with pytest.raises(wr.UnitError, match=r"^forward"):
        bike.whole.with_shift("rider", forward=80)


def test_modes_from_the_file_and_from_a_given_inertia(bike):
    assert bike.whole.modes() == bike.whole.modes("bike + rider", pitch_inertia=bike.whole.pitch_inertia())
    assert (
        bike.whole.modes(pitch_inertia="90 kg m2")[0].frequency
        < bike.whole.modes(pitch_inertia="30 kg m2")[0].frequency
    )


def test_frame_points_stand_where_they_were_put(bike):
    np.testing.assert_allclose(bike.frame_points["seat"].m_as("mm"), [-80, 460])
    made = wr.Bike("bare", frame_points={"seat": ["-80 mm", "460 mm"]})
    assert made.to_dict()["frame_points"] == {"seat": ["-80 mm", "460 mm"]}
    with pytest.raises(wr.UnitError, match=r'^frame_points\["seat"\]'):
        wr.Bike("bare", frame_points={"seat": [1, 2]})


def test_reserve_is_the_energy_left(bike):
    curve = bike.rear.fast_curve("0 mm")
    load = 1103.0
    left = curve.energy[-1].m_as("J") - load * bike.rear.full_travel.m_as("m")
    reserve = bike.rear.reserve((load, "N"))
    assert reserve.energy.m_as("J") == pytest.approx(left)
    assert reserve.drop_height.m_as("m") == pytest.approx(left / load)


def test_faults_name_their_argument(bike):
    with pytest.raises(wr.UnitError, match=r"^fork_offset"):
        wr.Steering("26.5 deg", 30, "340 mm")
    with pytest.raises(wr.UnitError, match=r"^front_spring\[0\]"):
        bike.whole.effect_of(front_spring=(4.0, "6 mm"))
    with pytest.raises(wr.errors.BikeError, match=r"^rake:"):
        wr.Steering("80 deg", "30 mm", "340 mm")
    with pytest.raises(wr.errors.BikeError, match=r"^unsprung:"):
        wr.MovingEnd(bike.rear, sprung="95 kg", unsprung="0 kg", tyre="180 N/mm", damper=wr.Damper("6000 N s/m"))


def test_a_correction_is_the_root_that_scipy_finds():
    """`brentq` on the trail after a change, which knows nothing of how we search; two wishes by `fsolve`."""
    whole = wr.demo().whole
    close = Tolerance("both searches stop within a ten-thousandth of a millimetre", abs=2e-4)

    def missed(by):
        return whole.effect_of(fork_raised=(by, "mm")).after.stance.trail.m_as("mm") - 121

    found = whole.corrections(trail="121 mm", fork_raised=["-5 mm", "15 mm"])
    raised = next(one.moves[0].by for one in found if one.moves[0].lever == "fork_raised")
    agree("tubes raised for a trail of 121 mm, in mm", raised.m_as("mm"), brentq(missed, 0, 20), close)

    fitted = wr.demo().rear.shock.spring

    def missed_wound(more):
        set_to = (fitted.spring.rate, (fitted.preload.m_as("mm") + more, "mm"))
        stance = whole.effect_of(rear_spring=set_to).after.stance
        return wr.Steering(stance.rake, "55 mm", stance.axle_height["front"]).trail.m_as("mm") - 121

    wound = next(one.moves[0].by for one in found if one.moves[0].lever == "rear_preload")
    agree("preload of the shock for a trail of 121 mm, in mm", wound.m_as("mm"), brentq(missed_wound, 0, 10), close)

    there = whole.effect_of(fork_raised="7 mm", shock_longer="2 mm").after.stance

    def both(by):
        stance = whole.effect_of(fork_raised=(by[0], "mm"), shock_longer=(by[1], "mm")).after.stance
        return [(stance.trail - there.trail).m_as("mm"), (stance.rake - there.rake).m_as("deg")]

    room = {"fork_raised": ["-20 mm", "20 mm"], "shock_longer": ["-6 mm", "6 mm"]}
    pairs = whole.corrections(trail=there.trail, rake=there.rake, **room)
    [pair] = [one for one in pairs if {move.lever for move in one.moves} == set(room)]
    moved = [move.by.m_as("mm") for move in pair.moves]
    weak = Tolerance("trail and rake go together, so that a micrometre of trail is ten of either lever", abs=1e-2)
    agree("clamps and shock length for trail and rake, in mm", moved, list(fsolve(both, [5, 1], xtol=1e-12)), weak)


def test_a_tyre_rate_of_exact_loads_is_the_line_of_polyfit():
    """NumPy's least squares of height on load, weighted by the error of a height, and its unscaled covariance."""
    loads, heights = np.array([400.0, 700, 1000, 1300, 1600]), np.array([341.3, 338.6, 337.2, 334.1, 332.3])
    found = wr.tyre_rate((loads, "N"), (heights, "mm"), load_uncertainty="0 N", height_uncertainty="0.6 mm")
    (slope, radius), covariance = np.polyfit(loads, heights, 1, w=np.full(5, 1 / 0.6), cov="unscaled")
    spreads = np.sqrt(np.diag(covariance)) * [slope**-2, 1]
    close = Tolerance("rounding of a least-squares line by SVD and by sums about the mean", rel=1e-9)
    agree("rate of a tyre of exact loads, in N/mm", found.rate.value.m_as("N/mm"), -1 / slope, close)
    agree("its uncertainty, in N/mm", found.rate.standard_uncertainty.m_as("N/mm"), spreads[0], close)
    agree("radius of the unloaded tyre of exact loads, in mm", found.radius.value.m_as("mm"), radius, close)
    agree("its uncertainty, in mm", found.radius.standard_uncertainty.m_as("mm"), spreads[1], close)


def test_a_tyre_rate_is_the_line_with_errors_in_both_readings():
    """Distances in units of the errors, minimised by SciPy over line and true loads; its Jacobian gives the rest."""
    loads, heights = np.array([400.0, 700, 1000, 1300, 1600]), np.array([341.3, 338.6, 337.2, 334.1, 332.3])
    spread = {"load_uncertainty": "40 N", "height_uncertainty": "0.6 mm"}
    found = wr.tyre_rate((loads, "N"), (heights, "mm"), **spread)

    def off(unknowns):
        slope, radius, *true = unknowns
        return np.r_[(loads - true) / 40, (heights - radius - slope * np.array(true)) / 0.6]

    solved = least_squares(
        off, [-0.007, 344.0, *loads], x_scale=[1e-3, 1, *[100] * 5], xtol=1e-15, ftol=1e-15, gtol=1e-15
    )
    close = Tolerance("where SciPy's search stops", rel=1e-6)
    agree("rate of a tyre, in N/mm", found.rate.value.m_as("N/mm"), -1 / solved.x[0], close)
    agree("radius of the unloaded tyre, in mm", found.radius.value.m_as("mm"), solved.x[1], close)
    covariance = np.linalg.inv(solved.jac.T @ solved.jac)
    spreads = np.sqrt(np.diag(covariance))[:2] * [solved.x[0] ** -2, 1]
    theirs = Tolerance("the covariance by its closed form and by the Jacobian at the loads as fitted", rel=2e-3)
    agree("uncertainty of the rate, in N/mm", found.rate.standard_uncertainty.m_as("N/mm"), spreads[0], theirs)
    agree("uncertainty of the radius, in mm", found.radius.standard_uncertainty.m_as("mm"), spreads[1], theirs)
    with pytest.raises(wr.errors.WheelError, match="one for each load"):
        wr.tyre_rate(([400, 700], "N"), ([340], "mm"))
    with pytest.raises(wr.errors.WheelError, match="comes down"):
        wr.tyre_rate(([400, 700], "N"), ([340, 341], "mm"))
