"""How the whole bike stands, against SciPy's root of the balance of forces on a bike written again in NumPy."""

import numpy as np
import pytest
from numpy_garage import GRAVITY, End, four_bar, si
from outside import Tolerance, agree
from scipy.optimize import root

import wheelrate as wr

# Central differences of places over ± a thousandth of a millimetre, good to 1e-10 of a metre a metre.
NUDGE = 1e-6
BALANCE = Tolerance("lengths in m, pitch in rad: such differences of 2 kN on springs of 10 N/mm", abs=1e-8)
LOADS = Tolerance("loads in N: such differences on tyres of 100 N/mm", abs=1e-4)
# Height of the sprung mass's centre of gravity in the frame axes, in metres; how far along, the scales say.
ABOVE = 0.3


class Standing:
    """Springs, tyres and weights of the demo bike, and their forces on ``(h, pitch, z_front, z_rear, x)``.

    ``h`` is the height of the frame's origin, pitch nose down, and ``x`` the place of the sprung mass.
    """

    def __init__(self, keys, load):
        self.ends = [End(keys, "front"), End(keys, "rear")]
        self.rake = np.tan(si(keys["front"]["fork"]["rake"]))
        self.front_axle = [si(part) for part in keys["front"]["axle"]]
        self.low, _, self.rear_axle = four_bar(keys["rear"])
        wheels = [keys["wheels"][name] for name in ("front", "rear")]
        self.radii, self.tyres = ([si(wheel[key]) for wheel in wheels] for key in ("radius", "tyre"))
        masses = keys["masses"]
        self.scales, self.unsprung = (
            GRAVITY * np.array([sum(si(masses[one][name]) for one in ones) for name in ("front", "rear")])
            for ones in (load.split(" + "), ["unsprung"])
        )

    def axles(self, travels):
        x, z = self.front_axle
        rear, _ = self.rear_axle(self.low + travels[1])
        return [(x - self.rake * travels[0], z + travels[0]), (rear.real, rear.imag)]

    def place(self, state, point):
        """Forward and up of a point of the frame."""
        (height, pitch), (x, z) = state[:2], point
        return x * np.cos(pitch) + z * np.sin(pitch), height + z * np.cos(pitch) - x * np.sin(pitch)

    def heights(self, state):
        """Of both axles and of the sprung mass."""
        points = [*self.axles(state[2:4]), (state[4], ABOVE)]
        return np.array([self.place(state, point)[1] for point in points])

    def ground(self, state):
        return self.tyres * (self.radii - self.heights(state)[:2])

    def unbalanced(self, state):
        """Generalised forces on height, pitch and both travels, and the front scale's error."""
        nudges = NUDGE * np.eye(5)[:4]
        slopes = [(self.heights(state + nudge) - self.heights(state - nudge)) / (2 * NUDGE) for nudge in nudges]
        sprung = self.scales.sum() - self.unsprung.sum()
        weights = np.append(self.unsprung - self.ground(state), sprung)
        springs = np.array([0, 0, *(end.force(z) for end, z in zip(self.ends, state[2:4], strict=True))])
        return np.append(springs + np.array(slopes) @ weights, self.ground(state)[0] - self.scales[0])


@pytest.mark.parametrize("load", ["bike", "bike + rider", "bike + rider + pack"])
@pytest.mark.parametrize(
    "change", [{}, {"rear.shock.spring.rate": "60 N/mm"}, {"wheels.front.tyre": "60 N/mm", "front.fork.rake": "24 deg"}]
)
def test_both_ends_and_the_pitch_together_against_the_balance_of_forces(load, change):
    keys = wr.demo().to_dict()
    keys["masses"]["pack"] = {"front": "-2 kg", "rear": "16 kg"}
    bike = wr.Bike.from_dict(keys)
    for key, value in change.items():
        bike = bike.correct({key: value})
    standing = Standing(bike.to_dict(), load)
    found = root(standing.unbalanced, [0.45, 0.0, 0.08, 0.08, 0.1], tol=1e-13)
    assert np.abs(standing.unbalanced(found.x)).max() < 1e-6
    settled = bike.whole.settle(load)
    stance = settled.stance
    _, pitch, *travels, _ = found.x
    both = ("front", "rear")
    agree("travels, in m", [stance.travel[end].m_as("m") for end in both], travels, BALANCE)
    agree("pitch, in rad", stance.pitch.m_as("rad"), pitch, BALANCE)
    front, rear = (standing.place(found.x, axle) for axle in standing.axles(travels))
    agree("wheelbase, in m", stance.wheelbase.m_as("m"), front[0] - rear[0], BALANCE)
    heights = [stance.axle_height[end].m_as("m") for end in both]
    agree("heights of the axles, in m", heights, [front[1], rear[1]], BALANCE)
    agree("loads, in N", [settled.load[end].m_as("N") for end in both], standing.ground(found.x), LOADS)
