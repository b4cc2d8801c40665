# Written by `make stubs` from the bindings.
"""
Bindings of the Rust crate `wheelrate`; import them from the package.
"""

from typing import Final, SupportsFloat, SupportsIndex, final
from wheelrate.typing import ArrayLike, Quantity, QuantityLike

__all__ = ["__version__", "AxialCurve", "AxialState", "Chamber", "Conditions", "Fork", "ForkAir", "ForkLeg", "Linkage", "LinkageCurve", "LinkagePoint", "Mechanism", "Preloaded", "Reservoir", "Shock", "Spring", "Stop", "quantity", "unit_tables"]

__version__: Final[str]

@final
class AxialCurve:
    """
    Force, rate and energy over many strokes, as arrays of one length.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def energy(self, /) -> Quantity:
        """
        Energy at each.
        """
    @property
    def force(self, /) -> Quantity:
        """
        Axial force at each.
        """
    @property
    def rate(self, /) -> Quantity:
        """
        Rate at each.
        """
    @property
    def stroke(self, /) -> Quantity:
        """
        Strokes asked for.
        """

@final
class AxialState:
    """
    Force, rate and energy at one stroke.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def energy(self, /) -> Quantity:
        """
        Energy stored.
        """
    @property
    def force(self, /) -> Quantity:
        """
        Axial force, positive when it pushes the end open.
        """
    @property
    def rate(self, /) -> Quantity:
        """
        Slope of the force over the stroke.
        """

@final
class Chamber:
    """
    A sealed gas chamber, ``p·Vⁿ = const`` and ``F = (p − p_surroundings)·A``.

    Parameters
    ----------
    pressure : absolute pressure
        At full extension.
    volume : volume
        At full extension.
    area : area
        By which a stroke shrinks the chamber; negative for one that the stroke expands.
    stroke : length
        Full stroke.
    exponent : float, optional
        1 for a slow stroke, towards 1.4 for a fast one.
    surroundings : absolute pressure, optional
        Standard sea level unless given.

    Examples
    --------
    >>> import wheelrate as wr
    >>> chamber = wr.Chamber("10 bar", "180 cm3", "200 mm2", "100 mm")
    >>> print(chamber.pressure_at("100 mm").round(3))
    11.25 bar
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, pressure: QuantityLike, volume: QuantityLike, area: QuantityLike, stroke: QuantityLike, *, exponent: SupportsFloat | SupportsIndex = 1.0, surroundings: QuantityLike | None = None) -> Chamber: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Chamber: ...
    def at(self, /, stroke: QuantityLike) -> AxialState:
        """
        Force, rate and energy at a stroke.

        Parameters
        ----------
        stroke : length
            Shortening from full extension.

        Returns
        -------
        AxialState
        """
    def curve(self, /, strokes: ArrayLike) -> AxialCurve:
        """
        Force, rate and energy over many strokes.

        Parameters
        ----------
        strokes : array of length
            Shortenings from full extension.

        Returns
        -------
        AxialCurve
        """
    def describe(self, /) -> str:
        """
        Say what it is, in words and numbers.
        """
    @property
    def exponent(self, /) -> float:
        """
        Polytropic exponent.
        """
    @property
    def full_stroke(self, /) -> Quantity | None:
        """
        The far end of the stroke; None for an element that has no end of its own.
        """
    @property
    def kinks(self, /) -> Quantity:
        """
        Strokes at which the rate jumps, in rising order.
        """
    def pressure_at(self, /, stroke: QuantityLike) -> Quantity:
        """
        Pressure at a stroke, absolute.
        """
    def volume_at(self, /, stroke: QuantityLike) -> Quantity:
        """
        Volume at a stroke.
        """

@final
class Conditions:
    """
    Pressure of the surroundings and temperature of the gas, when a chamber is sealed or while it runs.

    Parameters
    ----------
    surroundings : absolute pressure, optional
        Outside the chamber; standard sea level (101 325 Pa, ISO 2533) unless given.
    temperature : temperature, optional
        Of the gas; 15 °C unless given.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, surroundings: QuantityLike | None = None, temperature: QuantityLike | None = None) -> Conditions: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Conditions: ...
    @property
    def surroundings(self, /) -> Quantity:
        """
        Pressure outside the chamber, absolute.
        """
    @property
    def temperature(self, /) -> Quantity:
        """
        Temperature of the gas.
        """

@final
class Fork:
    """
    Two legs on one stroke, along the steering axis.

    Parameters
    ----------
    travel : length
        Along the fork.
    rake : angle
        Of the steering axis from the vertical.
    leg, other_leg : ForkLeg
        The two legs; the other one is the same unless given.

    Examples
    --------
    >>> import wheelrate as wr
    >>> leg = wr.ForkLeg(wr.Preloaded("4.8 N/mm", "6 mm"), wr.ForkAir("47 mm", "43 mm", "105 mm", exponent=1.2))
    >>> fork = wr.Fork("290 mm", "26.5 deg", leg)
    >>> print(fork.at("100 mm").force.round(0))
    1174.0 newton
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, travel: QuantityLike, rake: QuantityLike, leg: ForkLeg, other_leg: ForkLeg | None = None) -> Fork: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Fork: ...
    def at(self, /, stroke: QuantityLike) -> AxialState:
        """
        Force, rate and energy at a stroke.

        Parameters
        ----------
        stroke : length
            Shortening from full extension.

        Returns
        -------
        AxialState
        """
    @property
    def bind_clearance(self, /) -> Quantity | None:
        """
        Compression that the main spring nearest to its end has left at full stroke; None where that is not known.
        """
    def curve(self, /, strokes: ArrayLike) -> AxialCurve:
        """
        Force, rate and energy over many strokes.

        Parameters
        ----------
        strokes : array of length
            Shortenings from full extension.

        Returns
        -------
        AxialCurve
        """
    def describe(self, /) -> str:
        """
        Say what it is, in words and numbers.
        """
    @property
    def full_stroke(self, /) -> Quantity | None:
        """
        The far end of the stroke; None for an element that has no end of its own.
        """
    def gas_at(self, /, stroke: QuantityLike) -> AxialState:
        """
        The air alone at a stroke.
        """
    @property
    def kinks(self, /) -> Quantity:
        """
        Strokes at which the rate jumps, in rising order.
        """
    @property
    def legs(self, /) -> tuple[ForkLeg, ForkLeg]:
        """
        The two legs.
        """
    @property
    def motion_ratio(self, /) -> Quantity:
        """
        Motion ratio at the wheel, ``1/cos(rake)``.
        """
    @property
    def rake(self, /) -> Quantity:
        """
        Angle of the steering axis from the vertical.
        """
    def running_in(self, /, conditions: Conditions) -> Fork:
        """
        The fork with its air running in these conditions.
        """
    def springs_at(self, /, stroke: QuantityLike) -> AxialState:
        """
        The main springs alone at a stroke.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Travel along the fork.
        """
    def with_exponent(self, /, exponent: SupportsFloat | SupportsIndex) -> Fork:
        """
        The fork with its air following another polytropic exponent.
        """

@final
class ForkAir:
    """
    The air of a fork leg over its oil.

    Parameters
    ----------
    sealing_diameter : length
        On which the leg seals: its area times the stroke is the volume displaced.
    bore : length
        Of the tube the oil level is read in.
    oil_level : length
        From the top of the tube, fork fully compressed, spring out.
    exponent : float, optional
        1 for a slow stroke, towards 1.4 for a fast one.
    steel_volume : volume, optional
        All that is put in after the level was read.
    pressure : gauge pressure, optional
        Pumped up to at full extension.
    sealed, running : Conditions, optional
        When it was sealed, and now.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, sealing_diameter: QuantityLike, bore: QuantityLike, oil_level: QuantityLike, *, exponent: SupportsFloat | SupportsIndex = 1.0, steel_volume: QuantityLike | None = None, pressure: QuantityLike | None = None, sealed: Conditions | None = None, running: Conditions | None = None) -> ForkAir: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> ForkAir: ...
    def chamber(self, /, travel: QuantityLike) -> Chamber:
        """
        The sealed chamber of a leg with this travel.
        """
    @property
    def compressed_volume(self, /) -> Quantity:
        """
        Air left at full compression.
        """
    @property
    def oil_level(self, /) -> Quantity:
        """
        Oil level, spring out, fork fully compressed.
        """

@final
class ForkLeg:
    """
    One fork leg: what is in it. Any part may be missing.

    Parameters
    ----------
    spring : Preloaded, optional
        Main spring with its preload.
    air : ForkAir, optional
        Air over the oil.
    bump_stop, top_out : Stop, optional
        Springs near full compression and near full extension.
    friction : force, optional
        Of the seals, along the leg. It is kept out of the spring curves.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, spring: Preloaded | None = None, air: ForkAir | None = None, *, bump_stop: Stop | None = None, top_out: Stop | None = None, friction: QuantityLike | None = None) -> ForkLeg: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> ForkLeg: ...
    @property
    def air(self, /) -> ForkAir | None:
        """
        Air over the oil, where known.
        """
    @property
    def spring(self, /) -> Preloaded | None:
        """
        Main spring, where there is one.
        """

@final
class Linkage:
    """
    A mechanism with its wheel and its shock: motion as a function of wheel travel.

    Parameters
    ----------
    mechanism : Mechanism
        Points and bodies.
    wheel : str
        The point that is the axle.
    shock : pair of str
        The two points that the shock joins.
    shock_length : length
        Eye to eye, extended. With the stroke it sets both ends of travel.
    stroke : length
        Of the shock.

    Examples
    --------
    >>> import wheelrate as wr
    >>> mechanism = wr.Mechanism(
    ...     ({"pivot": (0, 0), "axle": (-575, -165), "top": (-100, 329), "eye": (-250, -40)}, "mm"),
    ...     {"frame": ["pivot", "top"], "swingarm": ["pivot", "axle", "eye"]},
    ... )
    >>> linkage = wr.Linkage(mechanism, "axle", ("top", "eye"), "398 mm", "90 mm")
    >>> print(linkage.full_travel.round(1))
    230.1 millimeter
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, mechanism: Mechanism, wheel: str, shock: tuple[str, str], shock_length: QuantityLike, stroke: QuantityLike) -> Linkage: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Linkage: ...
    def at(self, /, travel: QuantityLike) -> LinkagePoint:
        """
        Stroke, motion ratio, its slope and the axle at one travel.
        """
    def curve(self, /, travels: ArrayLike | None = None) -> LinkageCurve:
        """
        The same over many travels, as arrays; evenly over the whole range unless they are given.
        """
    @property
    def drawn_travel(self, /) -> Quantity:
        """
        The travel that the drawn coordinates describe; it may lie outside the working range.
        """
    @property
    def full_stroke(self, /) -> Quantity:
        """
        Stroke of the shock.
        """
    @property
    def full_travel(self, /) -> Quantity:
        """
        Wheel travel from full extension to the end of the shock's stroke.
        """
    @property
    def mechanism(self, /) -> Mechanism:
        """
        The mechanism as drawn.
        """
    @property
    def notes(self, /) -> list[str]:
        """
        What a tuner should know about the motion ratio: falling parts and turning points, in words.
        """
    def pose(self, /, travel: QuantityLike) -> dict[str, Quantity]:
        """
        Positions of all points at one travel, by name.
        """
    @property
    def progression(self, /) -> Quantity:
        """
        Progression of the motion ratio over the whole travel, ``MR_end/MR_start − 1``.
        """
    def progression_between(self, /, start: QuantityLike, end: QuantityLike) -> Quantity:
        """
        Progression between two travels, ``MR(to)/MR(from) − 1``.
        """
    @property
    def shock_length(self, /) -> Quantity:
        """
        Length of the extended shock, eye to eye.
        """

@final
class LinkageCurve:
    """
    A linkage over many travels, as arrays of one length.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def axle_x(self, /) -> Quantity:
        """
        The axle's position forward.
        """
    @property
    def axle_z(self, /) -> Quantity:
        """
        The axle's height.
        """
    @property
    def leverage_ratio(self, /) -> Quantity:
        """
        Leverage ratio ``dz/ds``, wheel per shock.
        """
    @property
    def motion_ratio(self, /) -> Quantity:
        """
        Motion ratio ``ds/dz``, shock per wheel.
        """
    @property
    def motion_ratio_slope(self, /) -> Quantity:
        """
        Slope of the motion ratio over travel, positive where the rate rises.
        """
    @property
    def shock_stroke(self, /) -> Quantity:
        """
        Shock stroke from full extension.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Wheel travel from full extension, vertical.
        """

@final
class LinkagePoint:
    """
    A linkage at one travel.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __repr__(self, /) -> str: ...
    @property
    def axle(self, /) -> Quantity:
        """
        The axle, x forward and z up, in the axes of the drawing.
        """
    @property
    def axle_slope(self, /) -> float:
        """
        ``dx/dz`` of the axle: positive where it moves forward as it rises.
        """
    @property
    def leverage_ratio(self, /) -> Quantity:
        """
        Leverage ratio ``dz/ds``, wheel per shock.
        """
    @property
    def motion_ratio(self, /) -> Quantity:
        """
        Motion ratio ``ds/dz``, shock per wheel.
        """
    @property
    def motion_ratio_slope(self, /) -> Quantity:
        """
        Slope of the motion ratio over travel, positive where the rate rises.
        """
    @property
    def shock_stroke(self, /) -> Quantity:
        """
        Shock stroke from full extension.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Wheel travel from full extension, vertical.
        """

@final
class Mechanism:
    """
    Points, and the bodies that carry them, with exactly one degree of freedom.

    A point on two bodies is a pivot. One body is the ``frame``, which stands still. A body with two points is a link.

    Parameters
    ----------
    points : dict of str to pair of lengths
        Name and position, x forward and z up, any origin on the frame: ``{"axle": ["-575 mm", "-165 mm"]}``; or all of
        them as numbers with one unit, ``({"axle": (-575, -165)}, "mm")``.
    bodies : dict of str to list of str
        Name of each body, and the names of the points on it.

    Examples
    --------
    >>> import wheelrate as wr
    >>> mechanism = wr.Mechanism(
    ...     ({"pivot": (0, 0), "axle": (-575, -165), "top": (-100, 329), "eye": (-250, -40)}, "mm"),
    ...     {"frame": ["pivot", "top"], "swingarm": ["pivot", "axle", "eye"]},
    ... )
    >>> mechanism.degrees_of_freedom
    1
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, points: dict[str, ArrayLike] | tuple[dict[str, tuple[float, float]], str], bodies: dict[str, list[str]]) -> Mechanism: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Mechanism: ...
    @property
    def bodies(self, /) -> dict[str, list[str]]:
        """
        Names of the bodies, and of the points on them.
        """
    @property
    def degrees_of_freedom(self, /) -> int:
        """
        Degrees of freedom by Grübler and Kutzbach; 1 for every mechanism that exists.
        """
    @property
    def points(self, /) -> dict[str, Quantity]:
        """
        Names and drawn positions of the points, x forward and z up.
        """
    def with_point(self, /, name: str, position: ArrayLike) -> Mechanism:
        """
        The same mechanism with one point moved.

        Parameters
        ----------
        name : str
            The point.
        position : pair of lengths
            Its new position, x forward and z up.
        """

@final
class Preloaded:
    """
    A spring in its place, ``F(s) = F_spring(s + p)``.

    Parameters
    ----------
    spring : Spring or spring rate
        The spring.
    preload : length
        Its compression at stroke 0; below zero, a gap.
    thread_pitch, min_preload, max_preload : length, optional
        Of the adjuster, as far as they are known.

    Examples
    --------
    >>> import wheelrate as wr
    >>> print(wr.Preloaded("52 N/mm", "14 mm").at("0 mm").force)
    728.0 newton
    >>> print(wr.Preloaded("52 N/mm", "-5 mm").at("3 mm").force)  # a gap: the spring hangs loose
    0.0 newton
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, spring: Spring | QuantityLike, preload: QuantityLike, *, thread_pitch: QuantityLike | None = None, min_preload: QuantityLike | None = None, max_preload: QuantityLike | None = None) -> Preloaded: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Preloaded: ...
    def at(self, /, stroke: QuantityLike) -> AxialState:
        """
        Force, rate and energy at a stroke.

        Parameters
        ----------
        stroke : length
            Shortening from full extension.

        Returns
        -------
        AxialState
        """
    def curve(self, /, strokes: ArrayLike) -> AxialCurve:
        """
        Force, rate and energy over many strokes.

        Parameters
        ----------
        strokes : array of length
            Shortenings from full extension.

        Returns
        -------
        AxialCurve
        """
    def describe(self, /) -> str:
        """
        Say what it is, in words and numbers.
        """
    @property
    def full_stroke(self, /) -> Quantity | None:
        """
        The far end of the stroke; None for an element that has no end of its own.
        """
    @property
    def kinks(self, /) -> Quantity:
        """
        Strokes at which the rate jumps, in rising order.
        """
    @property
    def preload(self, /) -> Quantity:
        """
        Its preload.
        """
    @property
    def spring(self, /) -> Spring:
        """
        The spring.
        """
    def turns(self, /, preload_change: QuantityLike) -> float | None:
        """
        Turns of the adjuster for a change of preload, positive for more; None where the pitch is not known.
        """

@final
class Reservoir:
    """
    The gas of a shock, which pushes on its rod.

    Parameters
    ----------
    pressure : gauge pressure
        At full extension, when charged.
    volume : volume
        Of the gas at full extension.
    rod_diameter : length
        Of the shock's rod.
    exponent : float, optional
        1 for a slow stroke, towards 1.4 for a fast one.
    sealed, running : Conditions, optional
        When it was charged, and now.

    Examples
    --------
    >>> import wheelrate as wr
    >>> print(wr.Reservoir("10 bar", "180 cm3", "16 mm").force_extended.round(1))
    201.1 newton
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, pressure: QuantityLike, volume: QuantityLike, rod_diameter: QuantityLike, *, exponent: SupportsFloat | SupportsIndex = 1.0, sealed: Conditions | None = None, running: Conditions | None = None) -> Reservoir: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Reservoir: ...
    def chamber(self, /, stroke: QuantityLike) -> Chamber:
        """
        The sealed chamber of a shock with this stroke.
        """
    @property
    def force_extended(self, /) -> Quantity:
        """
        Force at full extension: what the gas adds to the preload force of the spring.
        """

@final
class Shock:
    """
    Spring, gas and stops between two eyes.

    Parameters
    ----------
    length : length
        Eye to eye, extended.
    stroke : length
        Full stroke.
    spring : Preloaded, optional
        Main spring with its preload.
    reservoir : Reservoir, optional
        Gas on the rod.
    bump_stop, top_out : Stop, optional
        Springs near full compression and near full extension.
    friction : force, optional
        Of the seals, along the shock. It is kept out of the spring curves.
    count : int, optional
        2 for twin shocks: forces are those of both.

    Examples
    --------
    >>> import wheelrate as wr
    >>> shock = wr.Shock("468.7 mm", "118 mm", wr.Preloaded("52 N/mm", "14 mm"), wr.Reservoir("10 bar", "180 cm3", "16 mm"))
    >>> print(shock.at("0 mm").force.round(0))
    929.0 newton
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, length: QuantityLike, stroke: QuantityLike, spring: Preloaded | None = None, reservoir: Reservoir | None = None, *, bump_stop: Stop | None = None, top_out: Stop | None = None, friction: QuantityLike | None = None, count: SupportsIndex = 1) -> Shock: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Shock: ...
    def at(self, /, stroke: QuantityLike) -> AxialState:
        """
        Force, rate and energy at a stroke.

        Parameters
        ----------
        stroke : length
            Shortening from full extension.

        Returns
        -------
        AxialState
        """
    @property
    def bind_clearance(self, /) -> Quantity | None:
        """
        Compression that the main spring has left at full stroke; None where that is not known.
        """
    @property
    def count(self, /) -> int:
        """
        Number of shocks side by side.
        """
    def curve(self, /, strokes: ArrayLike) -> AxialCurve:
        """
        Force, rate and energy over many strokes.

        Parameters
        ----------
        strokes : array of length
            Shortenings from full extension.

        Returns
        -------
        AxialCurve
        """
    def describe(self, /) -> str:
        """
        Say what it is, in words and numbers.
        """
    @property
    def full_stroke(self, /) -> Quantity | None:
        """
        The far end of the stroke; None for an element that has no end of its own.
        """
    def gas_at(self, /, stroke: QuantityLike) -> AxialState:
        """
        The gas alone at a stroke, of all shocks.
        """
    @property
    def kinks(self, /) -> Quantity:
        """
        Strokes at which the rate jumps, in rising order.
        """
    @property
    def length(self, /) -> Quantity:
        """
        Eye to eye, extended.
        """
    @property
    def reservoir(self, /) -> Reservoir | None:
        """
        Gas on the rod, where known.
        """
    def running_in(self, /, conditions: Conditions) -> Shock:
        """
        The shock with its gas running in these conditions.
        """
    @property
    def spring(self, /) -> Preloaded | None:
        """
        Main spring with its preload, where there is one.
        """
    def springs_at(self, /, stroke: QuantityLike) -> AxialState:
        """
        The main spring alone at a stroke, of all shocks.
        """
    @property
    def stroke(self, /) -> Quantity:
        """
        Full stroke.
        """
    def with_exponent(self, /, exponent: SupportsFloat | SupportsIndex) -> Shock:
        """
        The shock with its gas following another polytropic exponent.
        """

@final
class Spring:
    """
    A coil spring of constant rate, ``F = k·x``.

    Parameters
    ----------
    rate : spring rate
        Of the spring by itself.
    free_length, solid_length : length, optional
        Unloaded, and with all coils touching; both or neither. They say how far it compresses.

    Examples
    --------
    >>> import wheelrate as wr
    >>> spring = wr.Spring("52 N/mm", free_length="230 mm", solid_length="85 mm")
    >>> print(spring.at("20 mm").force)
    1040.0 newton
    >>> print(spring.full_stroke.round(3))
    145.0 millimeter
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, rate: QuantityLike, *, free_length: QuantityLike | None = None, solid_length: QuantityLike | None = None) -> Spring: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Spring: ...
    def at(self, /, stroke: QuantityLike) -> AxialState:
        """
        Force, rate and energy at a stroke.

        Parameters
        ----------
        stroke : length
            Shortening from full extension.

        Returns
        -------
        AxialState
        """
    def curve(self, /, strokes: ArrayLike) -> AxialCurve:
        """
        Force, rate and energy over many strokes.

        Parameters
        ----------
        strokes : array of length
            Shortenings from full extension.

        Returns
        -------
        AxialCurve
        """
    def describe(self, /) -> str:
        """
        Say what it is, in words and numbers.
        """
    @property
    def full_stroke(self, /) -> Quantity | None:
        """
        The far end of the stroke; None for an element that has no end of its own.
        """
    @property
    def kinks(self, /) -> Quantity:
        """
        Strokes at which the rate jumps, in rising order.
        """
    @property
    def rate(self, /) -> Quantity:
        """
        The rate at first touch.
        """

@final
class Stop:
    """
    A spring that acts only near one end of the stroke: bump stop or top-out spring, by where it is put.

    Parameters
    ----------
    spring : Spring or spring rate
        The spring.
    acts_over : length
        Part of the stroke over which it acts.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, spring: Spring | QuantityLike, acts_over: QuantityLike) -> Stop: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Stop: ...
    @property
    def acts_over(self, /) -> Quantity:
        """
        Part of the stroke over which it acts.
        """

def quantity(given: ArrayLike, kind: str) -> Quantity:
    """
    Read one quantity as every dimensional argument of this package is read.

    Parameters
    ----------
    given : quantity
        Text with a unit, a pair of a number or an array and a unit, or a pint quantity of any registry.
    kind : str
        What it is, e.g. ``"length"`` or ``"spring rate"``.

    Returns
    -------
    pint.Quantity
        The same quantity in the unit that results of this kind have.

    Examples
    --------
    >>> import wheelrate as wr
    >>> print(wr.quantity("26 lbf/in", "spring rate").round(3))
    4.553 newton / millimeter
    >>> wr.quantity(26, "spring rate")
    Traceback (most recent call last):
        ...
    wheelrate.errors.UnitError: given: `26` has no unit: a spring rate wants N/mm, kgf/mm, ..., e.g. `"26 N/mm"`
    """

def unit_tables() -> list[tuple[str, list[tuple[str, list[str], float, float, float]]]]:
    """
    Every kind of quantity with its units, the one used in results first.

    Returns
    -------
    list of tuple
        Name of the kind, and a list of ``(symbol, other spellings, numerator, denominator, offset)`` per unit, with
        SI value = number × numerator / denominator + offset.
    """
