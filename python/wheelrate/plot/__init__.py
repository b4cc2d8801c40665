"""Curves of one bike or several in one picture, mechanisms to scale, decisions, readings, sweeps, as matplotlib Axes.

Every picture takes ``ax=`` and gives it back, and can be read in grey and by colour-blind eyes. Needs matplotlib:
``pip install "wheelrate[plot]"``.
"""

from wheelrate.plot._bike_motion import bike_motion
from wheelrate.plot._curves import compare, leverage_ratio, motion_ratio, wheel_force, wheel_rate
from wheelrate.plot._damping import damper, damping_ratio
from wheelrate.plot._decision import assumed, springs, tornado
from wheelrate.plot._drawing import animation, mechanism
from wheelrate.plot._drive import anti_squat, chain_play, steering
from wheelrate.plot._log import travel_log
from wheelrate.plot._parts import sag_ladder, split
from wheelrate.plot._readings import posterior, residuals
from wheelrate.plot._road import on_road
from wheelrate.plot._stance import geometry
from wheelrate.plot._sweeps import contour, parallel
from wheelrate.plot._time import history, landing

__all__ = [
    "animation",
    "anti_squat",
    "assumed",
    "bike_motion",
    "chain_play",
    "compare",
    "contour",
    "damper",
    "damping_ratio",
    "geometry",
    "history",
    "landing",
    "leverage_ratio",
    "mechanism",
    "motion_ratio",
    "on_road",
    "parallel",
    "posterior",
    "residuals",
    "sag_ladder",
    "split",
    "springs",
    "steering",
    "tornado",
    "travel_log",
    "wheel_force",
    "wheel_rate",
]


def __dir__() -> list[str]:
    return __all__
