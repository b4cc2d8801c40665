"""The whole bike at rest by `scipy.optimize.root`: what a Python user would write, beside wheelrate in the same run.

Unknowns are both travels and the pitch; the bike has coil springs alone, so that the peer's forces are closed forms in
plain Python, the linkage written by hand. Both must find the same rest. wheelrate also looks for other equilibria, and
gives rake, trail and the state of either end; it is called from Python, objects out.

Prints microseconds a rest, of the fastest of several runs, and the ratio; then modes, stances and a change on the demo
bike. Run: ``python benches/python/settling.py``.
"""

import math

import numpy as np
from linkage import BODIES, MILLIMETRES, by_hand, fastest
from scipy.optimize import root

import wheelrate as wr

LENGTH, STROKE, RAKE = 0.4687, 0.118, math.radians(26.5)
AXLE, RADII = (0.905, -0.15), (0.35, 0.335)
FORK_RATE, FORK_PRELOAD, SHOCK_RATE, SHOCK_PRELOAD = 9600.0, 0.006, 52e3, 0.014
GRAVITY = 9.80665
#: On the scales with the rider, and unsprung.
MASSES, UNSPRUNG = (91.0, 130.0), (14.2, 17.5)
#: The searches leave 1e-11 m open, SciPy's default tolerance more.
SAME = 1e-7


def bike():
    """Make the bike."""
    leg = wr.ForkLeg(spring=wr.Preloaded("4.8 N/mm", "6 mm"))
    linkage = wr.Linkage(
        wr.Mechanism((MILLIMETRES, "mm"), BODIES),
        "axle",
        ("shock_frame", "shock_rocker"),
        shock_length=(LENGTH, "m"),
        stroke=(STROKE, "m"),
    )
    shock = wr.Shock((LENGTH, "m"), (STROKE, "m"), spring=wr.Preloaded("52 N/mm", "14 mm"))
    masses = wr.Masses(
        {"bike": ("61 kg", "64 kg"), "rider": ("30 kg", "66 kg")},
        unsprung=((UNSPRUNG[0], "kg"), (UNSPRUNG[1], "kg")),
    )
    return wr.Bike(
        "bench",
        masses=masses,
        front=wr.FrontEnd(wr.Fork("290 mm", "26.5 deg", leg), (AXLE, "m")),
        rear=wr.RearEnd(linkage, shock),
        wheels=wr.Wheels(fork_offset="55 mm", front_radius=(RADII[0], "m"), rear_radius=(RADII[1], "m")),
    )


def peer(linkage):
    """Return a function that finds travels and pitch."""
    datum = MILLIMETRES["axle"][1] / 1000 - linkage.drawn_travel.m_as("m")
    curve = by_hand([complex(x, z) / 1000 for x, z in MILLIMETRES.values()], datum, math.sqrt)
    pivot_z = MILLIMETRES["swingarm_pivot"][1] / 1000
    cos, tan = math.cos(RAKE), math.tan(RAKE)
    loads = [(mass - unsprung) * GRAVITY for mass, unsprung in zip(MASSES, UNSPRUNG, strict=True)]

    def balance(unknowns):
        front, rear, pitch = map(float, unknowns)
        sin, straight = math.sin(pitch), math.cos(pitch)
        push = FORK_RATE * (front / cos + FORK_PRELOAD) / cos
        x, z, length, ratio, _ = curve(rear)
        pull = SHOCK_RATE * (LENGTH - length + SHOCK_PRELOAD) * ratio
        slope = -(z - pivot_z) / x
        dx, dz = AXLE[0] - front * tan - x, AXLE[1] + front - z
        stands = math.atan2(dz, dx) - math.asin((RADII[0] - RADII[1]) / math.hypot(dx, dz))
        return (
            push - loads[0] * (straight + tan * sin),
            pull - loads[1] * (straight - slope * sin),
            1e4 * (pitch - stands),
        )

    return lambda: root(balance, (0.1, 0.1, 0.0)).x


def main():
    """Print microseconds and the ratio."""
    made = bike()
    by_scipy = peer(made.rear.linkage)
    settled = made.whole.settle("bike + rider").stance
    found = [settled.travel["front"].m_as("m"), settled.travel["rear"].m_as("m"), settled.pitch.m_as("rad")]
    assert np.allclose(found, by_scipy(), rtol=0, atol=SAME), (found, by_scipy())
    whole = made.whole
    ours, theirs = fastest(lambda: whole.settle("bike + rider"), 200), fastest(by_scipy, 5)
    print(f"settling: {1e6 * ours:.1f} us, scipy.optimize.root {1e6 * theirs:.0f} us: {ours / theirs:.4f}")
    demo = wr.demo().whole
    runs = {
        "settling, the demo with its gas": lambda: demo.settle("bike + rider"),
        "stances": demo.stances,
        "modes": demo.modes,
        "a change": lambda: demo.effect_of(fork_raised="5 mm"),
    }
    for name, run in runs.items():
        print(f"{name}: {1e6 * fastest(run, 20):.1f} us")


if __name__ == "__main__":
    main()
