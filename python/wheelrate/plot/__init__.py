"""Curves of one bike or several in one picture, and mechanisms to scale, as matplotlib Axes."""

from wheelrate._animation import Animation
from wheelrate.plot._curves import compare, leverage_ratio, motion_ratio, wheel_force, wheel_rate
from wheelrate.plot._drawing import animation, mechanism
from wheelrate.plot._time import history, landing

__all__ = [
    "Animation",
    "animation",
    "compare",
    "history",
    "landing",
    "leverage_ratio",
    "mechanism",
    "motion_ratio",
    "wheel_force",
    "wheel_rate",
]
