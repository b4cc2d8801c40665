"""Every arrangement against an independent solution: poses of bodies and pivot constraints, by SciPy."""

import itertools

import numpy as np
import pytest
import scipy.linalg
import scipy.optimize
from arrangements import ARRANGEMENTS
from outside import Tolerance, agree

import wheelrate as wr

AGREEMENT = Tolerance("asked of positions and of the motion ratio, in metres and as a number", abs=1e-9)
SLOPES = Tolerance("what a central difference over 0.1 mm carries of its own error, in 1/m", rel=1e-6, abs=1e-5)
# Height of the wheel moved in one step of continuation.
STEP = 2e-3
# From so near, Newton's method doubles the digits each time: 1e-3, 1e-6, 1e-12, rounding.
NEWTON_STEPS = 5


class Independent:
    """A mechanism as every body's pose ``(x, z, angle)``, with coincident pivots and a given wheel height."""

    def __init__(self, arrangement):
        self.arrangement = arrangement
        self.points = {name: np.array(at) / 1000 for name, at in arrangement.points.items()}
        self.moving = [body for body in arrangement.bodies if body != "frame"]
        self.home = {body: self.points[arrangement.bodies[body][0]] for body in self.moving}
        self.pivots = [
            (point, first, second)
            for point in self.points
            for carriers in [[body for body, on in arrangement.bodies.items() if point in on]]
            for first, second in itertools.pairwise(carriers)
        ]
        self.pose = np.concatenate([[*self.home[body], 0.0] for body in self.moving])
        self.height = 0.0

    def place(self, pose, point, body):
        """Position of a point as carried by a body."""
        if body == "frame":
            return self.points[point]
        x, z, angle = pose[3 * self.moving.index(body) :][:3]
        turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
        return np.array([x, z]) + turn @ (self.points[point] - self.home[body])

    def carrier(self, point):
        return next(body for body, on in self.arrangement.bodies.items() if point in on)

    def residual(self, pose, height):
        apart = [self.place(pose, p, a) - self.place(pose, p, b) for p, a, b in self.pivots]
        wheel = self.arrangement.wheel
        rise = self.place(pose, wheel, self.carrier(wheel))[1] - self.points[wheel][1] - height
        return np.append(np.ravel(apart), rise)

    def jacobian(self, pose):
        """By complex steps: exact to rounding, and nothing like what the library does."""
        columns = []
        for index in range(len(pose)):
            nudged = pose.astype(complex)
            nudged[index] += 1e-30j
            columns.append(self.residual(nudged, 0.0).imag / 1e-30)
        return np.stack(columns, axis=1)

    def at(self, height):
        """Pose at a wheel height above the drawn one, followed from the last one."""
        steps = max(1, int(np.ceil(abs(height - self.height) / STEP)))
        for at in np.linspace(self.height, height, steps + 1)[1:]:
            for _ in range(NEWTON_STEPS):
                self.pose = self.pose - scipy.linalg.solve(self.jacobian(self.pose), self.residual(self.pose, at))
            assert np.abs(self.residual(self.pose, at)).max() < 1e-14
        self.height = height
        return self.pose

    def length(self, pose):
        first, second = (self.place(pose, end, self.carrier(end)) for end in self.arrangement.shock)
        return np.sqrt(((first - second) ** 2).sum())

    def motion_ratio(self, height):
        """Shock stroke per wheel travel by implicit differentiation."""
        pose = self.at(height)
        unit = np.zeros(len(pose))
        unit[-1] = 1.0
        along = np.linalg.solve(self.jacobian(pose), unit)
        return -(self.length(pose + 1e-30j * along).imag / 1e-30)

    def height_at(self, length):
        """Wheel height at which the shock has a length, walked to from the drawn position."""
        excess = lambda height: self.length(self.at(height)) - length  # noqa: E731
        step = STEP if excess(0.0) > 0 else -STEP
        low = high = 0.0
        while excess(high) * step > 0:
            low, high = high, high + step
        return scipy.optimize.brentq(excess, low, high, xtol=1e-14)


@pytest.fixture(scope="module", params=ARRANGEMENTS)
def arrangement(request):
    return ARRANGEMENTS[request.param]


def test_agrees_with_the_independent_solution(arrangement):
    linkage = arrangement.linkage()
    other = Independent(arrangement)
    extended = other.height_at(arrangement.length / 1000)
    compressed = other.height_at((arrangement.length - arrangement.stroke) / 1000)
    agree("full travel, in m", linkage.full_travel.m_as("m"), compressed - extended, AGREEMENT)
    agree("drawn travel, in m", linkage.drawn_travel.m_as("m"), -extended, AGREEMENT)
    travels = np.linspace(0, compressed - extended, 12)[1:-1]
    curve = linkage.curve((travels, "m"))
    for index, travel in enumerate(travels):
        height = extended + travel
        pose = other.at(height)
        stroke = arrangement.length / 1000 - other.length(pose)
        agree("stroke, in m", curve.stroke[index].m_as("m"), stroke, AGREEMENT)
        agree("motion ratio", curve.motion_ratio[index].m, other.motion_ratio(height), AGREEMENT)
        for point, at in linkage.pose((travel, "m")).items():
            place = other.place(other.at(height), point, other.carrier(point))
            agree("place of a pivot, in m", at.m_as("m"), place, AGREEMENT)
        slope = (other.motion_ratio(height + 5e-5) - other.motion_ratio(height - 5e-5)) / 1e-4
        agree("slope of the motion ratio, in 1/m", curve.motion_ratio_slope[index].m_as("1/m"), slope, SLOPES)


def test_leverage_ratio_is_the_inverse(arrangement):
    curve = arrangement.linkage().curve()
    assert (curve.leverage_ratio * curve.motion_ratio).m == pytest.approx(np.ones(201), rel=1e-15)
    assert (curve.motion_ratio.m > 0).all()


def test_points_may_be_given_in_any_way():
    arrangement = ARRANGEMENTS["rocker on the swingarm"]
    texts = {name: [f"{x} mm", f"{z} mm"] for name, (x, z) in arrangement.points.items()}
    assert wr.Mechanism(texts, arrangement.bodies) == wr.Mechanism((arrangement.points, "mm"), arrangement.bodies)


def test_a_moved_point_moves_the_curve():
    linkage = ARRANGEMENTS["rocker on the swingarm"].linkage()
    moved = linkage.mechanism.with_point("link_frame", ["-66 mm", "-93 mm"])
    assert moved != linkage.mechanism
    assert moved.points["link_frame"].m_as("mm").tolist() == pytest.approx([-66, -93])


def test_faults_are_named():
    arrangement = ARRANGEMENTS["twin shocks"]
    with pytest.raises(wr.errors.LinkageError, match="no point `hub`"):
        wr.Linkage(
            wr.Mechanism((arrangement.points, "mm"), arrangement.bodies),
            "hub",
            arrangement.shock,
            shock_length="395 mm",
            stroke="85 mm",
        )
    with pytest.raises(wr.UnitError, match=r"points\[\"pivot\"\]"):
        wr.Mechanism({**arrangement.points, "pivot": (0, 0)}, arrangement.bodies)
    linkage = arrangement.linkage()
    with pytest.raises(wr.errors.LinkageError, match="travel") as refusal:
        linkage.at("1 m")
    assert refusal.value.case == "OutOfTravel"


def test_columns_are_the_curve_in_si_units():
    curve = wr.demo().rear.linkage.curve()
    columns = curve.columns()
    assert list(columns) == [
        "travel [m]",
        "stroke [m]",
        "motion_ratio [shock/wheel]",
        "motion_ratio_slope [1/m]",
        "axle_x [m]",
        "axle_z [m]",
        "leverage_ratio [wheel/shock]",
        "axle_slope",
    ]
    for name, column in columns.items():
        quantity = getattr(curve, name.split()[0])
        si = quantity.to_base_units().magnitude if hasattr(quantity, "units") else quantity
        # Millimetres and back cost two roundings.
        np.testing.assert_allclose(column, si, rtol=1e-15)


def test_a_number_that_is_not_finite_is_named_by_its_place():
    with pytest.raises(wr.UnitError, match=r"travels\[1\]"):
        wr.demo().rear.linkage.curve(([0.0, float("nan")], "mm"))
