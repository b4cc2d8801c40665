"""Against programs and arithmetic that know nothing of this library: a multibody engine, SymPy, mpmath."""

from xml.sax.saxutils import quoteattr

import mpmath
import mujoco
import numpy as np
import pytest
import sympy
from arrangements import ARRANGEMENTS
from outside import Tolerance, agree

AGREEMENT = Tolerance("asked of positions in metres and of the motion ratio", abs=1e-10)
# Height of the wheel moved in one step of continuation, in metres, and Newton steps from so near: the digits double.
STEP = 2e-3
NEWTON_STEPS = 6
# Central differences over ± this, in metres, are off by its square times a third derivative of some 1e2 1/m³.
NUDGE = 1e-5
PLACES = AGREEMENT
SLOPES = Tolerance("a difference over 2e-5 m of a number to 1e-12, and its own third derivative", rel=1e-6, abs=1e-6)
ROUNDING = Tolerance("exact but for the last rounding", rel=1e-13)
ROUNDING_TWICE = Tolerance("a second derivative, exact but for rounding", rel=1e-12)
# Asked of derivatives by the dimensions, relative to the largest of one quantity.
DERIVATIVES = 1e-10
OF_A_DIMENSION = Tolerance("asked of derivatives by a dimension", rel=DERIVATIVES)
STROKES = Tolerance("asked of derivatives by a dimension; of one that is nothing, rounding", rel=DERIVATIVES, abs=1e-12)
DIGITS = 40


class Multibody:
    """A mechanism as MuJoCo has it: planar bodies, pivots as equality constraints, the shock between two sites."""

    def __init__(self, arrangement):
        points = {name: np.array(at) / 1000 for name, at in arrangement.points.items()}

        def sites(body, home):
            return "".join(
                f"<site name={quoteattr(f'{body}:{point}')} pos='{x} 0 {z}'/>"
                for point in arrangement.bodies[body]
                for x, z in [points[point] - home]
            )

        bodies = ""
        for body, on in arrangement.bodies.items():
            if body == "frame":
                bodies += sites(body, np.zeros(2))
                continue
            x, z = home = points[on[0]]
            bodies += (
                f"<body pos='{x} 0 {z}'><joint type='slide' axis='1 0 0'/><joint type='slide' axis='0 0 1'/>"
                f"<joint type='hinge' axis='0 -1 0'/><inertial pos='0 0 0' mass='1' diaginertia='1 1 1'/>"
                f"{sites(body, home)}</body>"
            )
        carriers = {point: [body for body, on in arrangement.bodies.items() if point in on] for point in points}
        pivots = "".join(
            f"<connect site1={quoteattr(f'{first}:{point}')} site2={quoteattr(f'{other}:{point}')}/>"
            for point, (first, *others) in carriers.items()
            for other in others
        )
        self.model = mujoco.MjModel.from_xml_string(
            f"<mujoco><option jacobian='dense'/><worldbody>{bodies}</worldbody><equality>{pivots}</equality></mujoco>"
        )
        self.data = mujoco.MjData(self.model)
        self.site = {point: self.model.site(f"{on[0]}:{point}").id for point, on in carriers.items()}
        self.wheel, self.shock = self.site[arrangement.wheel], [self.site[end] for end in arrangement.shock]
        self.drawn = points[arrangement.wheel][1]
        self.height = 0.0

    def rows(self):
        """Constraints and wheel height, with their Jacobian, as MuJoCo has them."""
        mujoco.mj_fwdPosition(self.model, self.data)
        count = self.data.nefc
        jacobian = self.data.efc_J.reshape(count, self.model.nv)
        residual = np.append(self.data.efc_pos[:count], self.data.site_xpos[self.wheel][2] - self.drawn)
        return residual, np.vstack([jacobian, self.jacobian(self.wheel)[2]])

    def jacobian(self, site):
        jacobian = np.zeros((3, self.model.nv))
        mujoco.mj_jacSite(self.model, self.data, jacobian, None, site)
        return jacobian

    def to(self, height):
        """Move the wheel to a height over the drawn one."""
        steps = max(1, int(np.ceil(abs(height - self.height) / STEP)))
        for at in np.linspace(self.height, height, steps + 1)[1:]:
            for _ in range(NEWTON_STEPS):
                residual, jacobian = self.rows()
                residual[-1] -= at
                self.data.qpos -= np.linalg.lstsq(jacobian, residual, rcond=None)[0]
        residual, _ = self.rows()
        assert np.abs(residual[:-1]).max() < 1e-13
        self.height = height

    def length(self):
        first, second = (self.data.site_xpos[end] for end in self.shock)
        return np.linalg.norm(second - first)

    def motion_ratio(self):
        """Shock stroke per wheel travel, from MuJoCo's Jacobians."""
        _, jacobian = self.rows()
        unit = np.zeros(len(jacobian))
        unit[-1] = 1.0
        along = np.linalg.lstsq(jacobian, unit, rcond=None)[0]
        first, second = (self.data.site_xpos[end].copy() for end in self.shock)
        apart = (self.jacobian(self.shock[1]) - self.jacobian(self.shock[0])) @ along
        return -(second - first) @ apart / np.linalg.norm(second - first)


@pytest.mark.parametrize("name", ARRANGEMENTS)
def test_agrees_with_mujoco(name):
    arrangement = ARRANGEMENTS[name]
    linkage, engine = arrangement.linkage(), Multibody(arrangement)
    datum = -linkage.drawn_travel.m_as("m")
    full = linkage.full_travel.m_as("m")
    engine.to(datum)
    agree("length of the shock extended, in m", engine.length(), arrangement.length / 1000, AGREEMENT)
    engine.to(datum + full)
    compressed = (arrangement.length - arrangement.stroke) / 1000
    agree("length of the shock compressed, in m", engine.length(), compressed, AGREEMENT)
    for travel in np.linspace(0.05, 0.95, 7)[::-1] * full:
        at = linkage.at((travel, "m"))
        ratios = []
        for nudge in (NUDGE, -NUDGE):
            engine.to(datum + travel + nudge)
            ratios.append(engine.motion_ratio())
        difference = (ratios[0] - ratios[1]) / (2 * NUDGE)
        agree("slope of the motion ratio, in 1/m", at.motion_ratio_slope.m_as("1/m"), difference, SLOPES)
        engine.to(datum + travel)
        agree("stroke, in m", at.stroke.m_as("m"), arrangement.length / 1000 - engine.length(), AGREEMENT)
        agree("motion ratio", at.motion_ratio.m, engine.motion_ratio(), AGREEMENT)
        for point, place in linkage.pose((travel, "m")).items():
            agree("place of a pivot, in m", place.m_as("m"), engine.data.site_xpos[engine.site[point]][::2], PLACES)


def test_a_shock_on_the_swingarm_by_sympy():
    arrangement = ARRANGEMENTS["shock straight to the swingarm"]
    linkage = arrangement.linkage()
    names = sympy.symbols("ax az ex ez tx tz u L0", real=True)
    ax, az, ex, ez, tx, tz, u, extended = names
    # The swingarm turned until the axle is at height u: cosine and sine by the two positions of the axle.
    reach, squared = -sympy.sqrt(ax**2 + az**2 - u**2), ax**2 + az**2
    cosine, sine = (ax * reach + az * u) / squared, (ax * u - az * reach) / squared
    length = sympy.sqrt((cosine * ex - sine * ez - tx) ** 2 + (sine * ex + cosine * ez - tz) ** 2)
    drawn = dict(
        zip((ax, az, ex, ez, tx, tz), np.ravel([arrangement.points[p] for p in ("axle", "eye", "top")]), strict=True)
    )
    values = {symbol: sympy.Rational(int(value), 1000) for symbol, value in drawn.items()}
    values[extended] = sympy.Rational(arrangement.length, 1000)

    def exact(expression, height):
        return sympy.N(expression.subs(values).subs(u, height), DIGITS)

    start = sympy.nsolve((length - extended).subs(values), u, -0.25, prec=DIGITS)
    travel = sympy.Rational(1, 10)
    at, effects = linkage.at("100 mm"), linkage.effects("100 mm", "1 m")
    there = start + travel
    agree("stroke, in m", at.stroke.m_as("m"), float(exact(extended - length, there)), ROUNDING)
    agree("motion ratio", at.motion_ratio.m, float(exact(-length.diff(u), there)), ROUNDING)
    slope = float(exact(-length.diff(u, 2), there))
    agree("slope of the motion ratio, in 1/m", at.motion_ratio_slope.m_as("1/m"), slope, ROUNDING_TWICE)
    by = {"x of axle": ax, "z of axle": az, "x of eye": ex, "z of eye": ez, "x of top": tx, "z of top": tz}
    for dimension, symbol in {**by, "shock length": extended}.items():
        moved = exact((extended - length).diff(symbol) / length.diff(u), start)
        stroke = exact((extended - length).diff(symbol), start + travel) - moved * exact(length.diff(u), start + travel)
        ratio = exact(-length.diff(u, symbol), start + travel) - moved * exact(length.diff(u, 2), start + travel)
        slope = exact(-length.diff(u, 2, symbol), start + travel) - moved * exact(length.diff(u, 3), start + travel)
        index = effects.dimensions.index(dimension)
        agree("stroke by a dimension", effects.stroke[index].m_as("m"), float(stroke), STROKES)
        agree("motion ratio by a dimension", effects.motion_ratio[index].m, float(ratio), OF_A_DIMENSION)
        found = effects.motion_ratio_slope[index].m_as("1/m")
        agree("slope of the motion ratio by a dimension", found, float(slope), OF_A_DIMENSION)


def rocker_on_the_swingarm(points, height, longer):
    """Length of the shock at an axle height, in mpmath: two circles and two turned triangles."""
    at = {name: mpmath.mpc(*place) for name, place in points.items()}
    arm = at["axle"] - at["pivot"]
    rise = height - at["pivot"].imag
    turn = mpmath.mpc(-mpmath.sqrt(abs(arm) ** 2 - rise**2), rise) / arm
    rocker = at["pivot"] + turn * (at["rocker_pivot"] - at["pivot"])
    rod, link = abs(at["link_rocker"] - at["rocker_pivot"]), abs(at["link_rocker"] - at["link_frame"]) + longer
    apart = rocker - at["link_frame"]
    along = (link**2 - rod**2 + abs(apart) ** 2) / (2 * abs(apart) ** 2)
    across = mpmath.sqrt(link**2 / abs(apart) ** 2 - along**2)
    side = mpmath.sign(
        (mpmath.conj(at["rocker_pivot"] - at["link_frame"]) * (at["link_rocker"] - at["link_frame"])).imag
    )
    joint = at["link_frame"] + apart * mpmath.mpc(along, side * across)
    eye = rocker + (at["shock_rocker"] - at["rocker_pivot"]) * (joint - rocker) / (
        at["link_rocker"] - at["rocker_pivot"]
    )
    return abs(eye - at["shock_frame"])


def test_derivatives_of_a_four_bar_by_mpmath():
    arrangement = ARRANGEMENTS["rocker on the swingarm"]
    linkage = arrangement.linkage()
    effects = linkage.effects("120 mm", "1 m")
    found = {"stroke": [], "motion_ratio": [], "motion_ratio_slope": []}
    with mpmath.workdps(DIGITS):
        drawn = {name: [mpmath.mpf(part) / 1000 for part in at] for name, at in arrangement.points.items()}
        extended, travel = mpmath.mpf("0.4687"), mpmath.mpf("0.12")

        def length(height, change, dimension):
            points, longer = {name: list(at) for name, at in drawn.items()}, mpmath.mpf(0)
            kind, _, name = dimension.partition(" of ")
            if name in points:
                points[name]["xz".index(kind)] += change
            elif kind == "length":
                longer = change
            return rocker_on_the_swingarm(points, height, longer) - (change if dimension == "shock length" else 0)

        start = mpmath.findroot(lambda height: length(height, 0, "") - extended, -0.25)
        for dimension in effects.dimensions:

            def derivative(height, order, by, dimension=dimension):
                return mpmath.diff(lambda h, p: length(h, p, dimension), (height, mpmath.mpf(0)), (order, by))

            moved = -derivative(start, 0, 1) / derivative(start, 1, 0)
            for order, rows in enumerate(found.values()):
                # Shorter is further into the stroke; a longer shock's own length is taken off in `length`.
                end = start + travel
                rows.append(float(-derivative(end, order, 1) - moved * derivative(end, order + 1, 0)))
    for quantity, rows in found.items():
        allowed = Tolerance(
            "asked of derivatives by the dimensions, of the largest of one quantity",
            abs=DERIVATIVES * np.abs(rows).max(),
        )
        agree(f"{quantity} by all dimensions", getattr(effects, quantity).to_base_units().m, rows, allowed)
