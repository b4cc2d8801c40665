"""The ways a shock is put between a frame and a wheel, as points (mm) and bodies. All invented."""

from typing import NamedTuple

import wheelrate as wr


class Arrangement(NamedTuple):
    """Points in millimetres, bodies, the axle, the shock's ends, its extended length and its stroke."""

    points: dict
    bodies: dict
    wheel: str
    shock: tuple
    length: float
    stroke: float

    def linkage(self):
        """Make the linkage."""
        mechanism = wr.Mechanism((self.points, "mm"), self.bodies)
        return wr.Linkage(
            mechanism, self.wheel, self.shock, shock_length=(self.length, "mm"), stroke=(self.stroke, "mm")
        )


ARRANGEMENTS = {
    "shock straight to the swingarm": Arrangement(
        {"pivot": (0, 0), "axle": (-575, -165), "top": (-100, 329), "eye": (-250, -40)},
        {"frame": ["pivot", "top"], "swingarm": ["pivot", "axle", "eye"]},
        "axle",
        ("top", "eye"),
        398,
        90,
    ),
    "twin shocks": Arrangement(
        {"pivot": (0, 0), "axle": (-560, -60), "top": (-300, 300), "eye": (-500, -40)},
        {"frame": ["pivot", "top"], "swingarm": ["pivot", "axle", "eye"]},
        "axle",
        ("top", "eye"),
        395,
        85,
    ),
    "rocker on the frame": Arrangement(
        {
            "pivot": (0, 0),
            "axle": (-575, -150),
            "foot": (-200, -70),
            "rocker_pivot": (-60, 40),
            "rocker_link": (-150, 60),
            "rocker_shock": (-20, 120),
            "anchor": (180, 150),
        },
        {
            "frame": ["pivot", "rocker_pivot", "anchor"],
            "swingarm": ["pivot", "axle", "foot"],
            "link": ["foot", "rocker_link"],
            "rocker": ["rocker_pivot", "rocker_link", "rocker_shock"],
        },
        "axle",
        ("rocker_shock", "anchor"),
        203,
        26,
    ),
    "rocker on the swingarm": Arrangement(
        {
            "pivot": (0, 0),
            "axle": (-575, -165),
            "rocker_pivot": (-253, -72),
            "link_frame": (-66, -98),
            "link_rocker": (-215, -184),
            "shock_rocker": (-204, -128),
            "shock_frame": (-100, 329),
        },
        {
            "frame": ["pivot", "link_frame", "shock_frame"],
            "swingarm": ["pivot", "axle", "rocker_pivot"],
            "rocker": ["rocker_pivot", "link_rocker", "shock_rocker"],
            "link": ["link_frame", "link_rocker"],
        },
        "axle",
        ("shock_frame", "shock_rocker"),
        468.7,
        118,
    ),
    "both ends of the shock move": Arrangement(
        {
            "pivot": (0, 0),
            "axle": (-575, -150),
            "foot": (-260, -40),
            "rocker_pivot": (-60, 150),
            "rocker_link": (-170, 140),
            "rocker_shock": (40, 160),
            "heel": (30, -120),
        },
        {
            "frame": ["pivot", "rocker_pivot"],
            "swingarm": ["pivot", "axle", "foot", "heel"],
            "link": ["foot", "rocker_link"],
            "rocker": ["rocker_pivot", "rocker_link", "rocker_shock"],
        },
        "axle",
        ("rocker_shock", "heel"),
        281,
        80,
    ),
    "axle on a floating coupler": Arrangement(
        {
            "upper_pivot": (0, 0),
            "lower_pivot": (-20, -120),
            "upper": (-480, -20),
            "lower": (-470, -140),
            "axle": (-560, -90),
            "top": (-100, 300),
            "eye": (-250, 10),
        },
        {
            "frame": ["upper_pivot", "lower_pivot", "top"],
            "upper arm": ["upper_pivot", "upper", "eye"],
            "lower arm": ["lower_pivot", "lower"],
            "carrier": ["upper", "lower", "axle"],
        },
        "axle",
        ("top", "eye"),
        326,
        80,
    ),
    "two rockers in series": Arrangement(
        {
            "pivot": (0, 0),
            "axle": (-575, -150),
            "foot": (-200, -60),
            "first_pivot": (-100, 60),
            "first_in": (-180, 60),
            "first_out": (-60, 130),
            "second_pivot": (70, 60),
            "second_in": (60, 140),
            "second_out": (150, 80),
            "anchor": (140, -150),
        },
        {
            "frame": ["pivot", "first_pivot", "second_pivot", "anchor"],
            "swingarm": ["pivot", "axle", "foot"],
            "first link": ["foot", "first_in"],
            "first rocker": ["first_pivot", "first_in", "first_out"],
            "second link": ["first_out", "second_in"],
            "second rocker": ["second_pivot", "second_in", "second_out"],
        },
        "axle",
        ("second_out", "anchor"),
        231,
        22,
    ),
}
