"""The readings of one end as a statistical model, written again in NumPy and SciPy over the keys of the demo bike.

``d = d0 - g(z) + e``, ``F_w(z; a, b) = W + side * f``, ``F_w = MR (a G(s + b) + R(s))``, in the words of
`wheelrate::setup`; nothing else of the library is in it.
"""

from functools import cache
from typing import NamedTuple

import numpy as np
import pint
from scipy.interpolate import make_interp_spline
from scipy.optimize import brentq

import wheelrate as wr

GRAVITY = 9.80665
# ISO 2533 at sea level, in pascal.
ATMOSPHERE = 101325.0
# Half the friction band that is likely before any reading, in metres of travel at a third of it; and its deviation.
HALF_BAND = 4e-3
# Places of the stroke's spline: its derivatives are then good to 1e-9 and better.
KNOTS = 301
# Newton steps from a third of the travel to where an end rests, and the step (m) whose square is nothing.
NEWTON_STEPS, SETTLED, NUDGE = 20, 1e-8, 1e-6
SIDES = {"low": 1.0, "high": -1.0, None: 0.0}
# Where in the friction band a reading lies whose settling nobody noted.
SLIP = 0.6
LOADS = ("bike", "bike + rider", "bike + rider + pack")
# One reading errs by this, in metres; so far is it from axle to mark at full extension.
TAPE, EXTENDED = 1.5e-3, 0.655

_units = pint.UnitRegistry()


def si(text):
    """Read a text with a unit."""
    number, unit = text.split(" ", 1)
    unit = {"%": "percent", "cm3": "cm**3"}.get(unit, unit)
    return _units.Quantity(float(number), unit).to_base_units().m


def circle(diameter):
    return np.pi / 4 * diameter**2


def four_bar(keys):
    """Axle heights at both ends of travel, and a function from axle height to place of the axle and shock length."""
    at = {name: complex(*(si(part) for part in place)) for name, place in keys["linkage"]["points"].items()}
    arm, apart0 = at["axle"], at["rocker_pivot"] - at["link_frame"]
    rod, link = abs(at["link_rocker"] - at["rocker_pivot"]), abs(at["link_rocker"] - at["link_frame"])
    side = np.sign((np.conj(apart0) * (at["link_rocker"] - at["link_frame"])).imag)

    def axle_and_length(height):
        axle = -np.sqrt(abs(arm) ** 2 - height**2) + 1j * height
        rocker = axle / arm * at["rocker_pivot"]
        apart = rocker - at["link_frame"]
        along = (link**2 - rod**2 + abs(apart) ** 2) / (2 * abs(apart) ** 2)
        joint = at["link_frame"] + apart * (along + 1j * side * np.sqrt(link**2 / abs(apart) ** 2 - along**2))
        turn = (joint - rocker) / (at["link_rocker"] - at["rocker_pivot"])
        eye = rocker + turn * (at["shock_rocker"] - at["rocker_pivot"])
        return axle, abs(eye - at["shock_frame"])

    extended, stroke = si(keys["shock"]["length"]), si(keys["shock"]["stroke"])

    def height_at(length):
        return brentq(lambda height: axle_and_length(height)[1] - length, -0.3, 0.3, xtol=1e-15)

    return height_at(extended), height_at(extended - stroke), axle_and_length


class End:
    """An end from the keys of the bike file: main springs ``(rate, preload)``, the rest, stroke and tape."""

    def __init__(self, bike, name):
        keys, measuring = bike[name], bike["measuring"][name]
        direction = measuring["direction"]
        if name == "front":
            fork = keys["fork"]
            legs, travel, cosine = fork["leg"], si(fork["travel"]), np.cos(si(fork["rake"]))
            self.full = travel * cosine
            travels = np.linspace(0, self.full, KNOTS)
            strokes = travels / cosine
            tape = strokes if direction == "along fork" else travels
            self.springs = [(si(leg["spring"]["rate"]), si(leg["spring"]["preload"])) for leg in legs]
            airs = [leg["air"] for leg in legs]
            areas = [circle(si(air["sealing_diameter"])) for air in airs]
            volumes = [
                circle(si(air["bore"])) * si(air["oil_level"]) - si(air["steel_volume"]) + area * travel
                for air, area in zip(airs, areas, strict=True)
            ]

            def rest(stroke):
                return sum(
                    ATMOSPHERE * area * ((volume / (volume - area * stroke)) ** air["exponent"]["slow"] - 1)
                    for air, area, volume in zip(airs, areas, volumes, strict=True)
                )

        else:
            low, high, axle_and_length = four_bar(keys)
            self.full = high - low
            travels = np.linspace(0, self.full, KNOTS)
            axle, length = axle_and_length(low + travels)
            shock = keys["shock"]
            strokes = si(shock["length"]) - length
            tape = travels
            if direction == "to mark":
                reach = abs(axle - complex(*(si(part) for part in measuring["mark"])))
                tape = reach[0] - reach
            self.springs = [(si(shock["spring"]["rate"]), si(shock["spring"]["preload"]))]
            gas, stop = shock["reservoir"], shock["bump_stop"]
            area, charge, volume = circle(si(gas["rod_diameter"])), si(gas["pressure"]) + ATMOSPHERE, si(gas["volume"])
            touches = si(shock["stroke"]) - si(stop["acts_over"])

            def rest(stroke):
                pressure = charge * volume / (volume - area * stroke) - ATMOSPHERE
                return pressure * area + si(stop["rate"]) * np.maximum(0, stroke - touches)

        self.rest = rest
        self.stroke = make_interp_spline(travels, strokes, k=5)
        self.ratio, self.slope = self.stroke.derivative(1), self.stroke.derivative(2)
        self.tape = make_interp_spline(travels, tape, k=5)

    def force(self, travel, factor=1.0, change=0.0):
        """Wheel force inside the travel."""
        stroke = self.stroke(travel)
        main = sum(rate * np.maximum(0, stroke + preload + change) for rate, preload in self.springs)
        return self.ratio(travel) * (factor * main + self.rest(stroke))

    def force_and_rate(self, travel, factor=1.0, change=0.0):
        """Wheel force and wheel rate; a central difference over a thousandth of a millimetre is good to 1e-8 of it."""
        here, above, below = self.force(np.add.outer([0.0, NUDGE, -NUDGE], travel), factor, change)
        return here, (above - below) / (2 * NUDGE)

    def rests(self, force, factor=1.0, change=0.0):
        """Travel at which the wheel force is `force`, well inside the travel, by Newton's method."""
        travel = np.full(np.shape(force), self.full / 3)
        for _ in range(NEWTON_STEPS):
            found, rate = self.force_and_rate(travel, factor, change)
            step = (force - found) / rate
            travel = np.clip(travel + step, 0, self.full)
            if np.abs(step).max() < SETTLED:
                break
        return travel


class Prior(NamedTuple):
    """Deviations of ``ln a`` and ``b``, mean and deviation of ``f``; mean and covariance of the loads."""

    rate: float
    preload: float
    friction: tuple
    loads: np.ndarray
    covariance: np.ndarray

    @classmethod
    def of(cls, bike, name, end, loads):
        masses, prior = bike["masses"], bike["prior"][name]
        each = [set(load.split(" + ")) for load in loads]
        mean = [sum(si(masses[one][name]) for one in load) - si(masses["unsprung"][name]) for load in each]
        # Every weighing and that of the unsprung parts errs on its own, and stands in each load it is part of.
        shared = np.array([[1 + len(one & other) for other in each] for one in each])
        friction = HALF_BAND * end.force_and_rate(end.full / 3)[1]
        return cls(
            si(prior["rate_tolerance"]) / np.sqrt(3),
            si(prior["preload_uncertainty"]),
            (friction, friction),
            GRAVITY * np.array(mean),
            (GRAVITY * si(masses["scale_uncertainty"])) ** 2 * shared,
        )


@cache
def end_and_keys(name, direction, rate_tolerance, preload_uncertainty):
    """Make an end of the demo bike and its keys: with a pack, priors and a direction of the tape, without readings."""
    bike = wr.demo().to_dict()
    del bike["reading"]
    bike["masses"]["pack"] = {"front": "2 kg", "rear": "12 kg"}
    bike["prior"] = {name: {"rate_tolerance": rate_tolerance, "preload_uncertainty": preload_uncertainty}}
    along = {"direction": direction} if isinstance(direction, str) else {"direction": "to mark", "mark": [*direction]}
    bike["measuring"][name] = along | {"uncertainty": f"{TAPE} m"}
    return End(bike, name), bike


def garage(name, direction, truth, rows, noise, *, loads=LOADS, rate_tolerance="5 %", preload_uncertainty="2 mm"):
    """Read an end in a true state: rows of a load's place (or None) and `settled`, with the error of each over `TAPE`.

    The state is ``(ln a / u, b / u, f)``, and what each load errs by in its standard deviations, one after the other.
    """
    end, bike = end_and_keys(name, direction, rate_tolerance, preload_uncertainty)
    prior = Prior.of(bike, name, end, loads)
    rate, change, friction, errors = truth
    weight = prior.loads + np.linalg.cholesky(prior.covariance) @ np.array(errors[: len(loads)])
    state = np.exp(rate * prior.rate), change * prior.preload
    read = []
    for (load, settled), error in zip(rows, noise, strict=True):
        travel = 0.0
        if load is not None:
            force = weight[load] + (SLIP if settled is None else SIDES[settled]) * friction
            travel = end.rests(force, *state) if force > end.force(0.0, *state) else 0.0
        read.append((load, settled, EXTENDED - float(end.tape(travel)) + TAPE * error))
    return Garage(bike, name, end, prior, loads, read, TAPE)


class Garage(NamedTuple):
    """A bike's keys, one of its ends, what is known before, its loads, and rows ``(load, settled, distance)``."""

    bike: dict
    name: str
    end: End
    prior: Prior
    loads: list
    rows: list
    deviation: float

    @property
    def extended(self):
        """Distances read with the wheel off the ground."""
        return np.array([distance for load, _, distance in self.rows if load is None])

    @property
    def loaded(self):
        """Place of the load, side and distance of every other reading."""
        rows = [(load, SIDES[settled], distance) for load, settled, distance in self.rows if load is not None]
        return tuple(np.array(column) for column in zip(*rows, strict=True)) if rows else (np.zeros(0, int),) * 3

    def keys(self):
        """Keys of the bike file with these readings."""
        reading = [
            {"end": self.name, "load": "none" if load is None else self.loads[load], "distance": f"{distance!r} m"}
            | ({} if settled is None else {"settled": settled})
            for load, settled, distance in ((load, settled, float(distance)) for load, settled, distance in self.rows)
        ]
        return self.bike | {"reading": reading}
