"""Curves of one bike or several in one picture, mechanisms to scale, and sweeps, as matplotlib Axes."""

from wheelrate._animation import Animation
from wheelrate.plot._curves import compare, leverage_ratio, motion_ratio, wheel_force, wheel_rate
from wheelrate.plot._drawing import animation, mechanism
from wheelrate.plot._sweeps import contour, parallel
from wheelrate.plot._time import history, landing

__all__ = [
    "Animation",
    "animation",
    "compare",
    "contour",
    "history",
    "landing",
    "leverage_ratio",
    "mechanism",
    "motion_ratio",
    "parallel",
    "wheel_force",
    "wheel_rate",
]
