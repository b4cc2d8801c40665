# Written by `make stubs` from the bindings, and from what the package attaches to them.
from collections.abc import Iterator
import os
from typing import Any

import pandas
import polars
import pyarrow
import xarray

from wheelrate._display import PerEnd
from wheelrate._sweep_result import SweepResult
from wheelrate.errors import Fault
from wheelrate.typing import Numbers, Quantity, Scheme
"""
Bindings of the Rust crate `wheelrate`; import them from the package.
"""

from _typeshed import SupportsGetItem
from typing import Any, Final, SupportsFloat, SupportsIndex, final
from wheelrate.typing import AnyShape, ArrayLike, End, Numbers, Quantity, QuantityLike

__all__ = ["__version__", "Action", "AirSpring", "AntiDive", "AntiDiveCurve", "AntiRise", "Assumption", "AxialCurve", "AxialState", "Ballast", "Bike", "BikeEnergy", "BikeMotion", "BikeMotionEnd", "Bottoming", "BushLoads", "Bushes", "Chain", "ChainDrive", "ChainRun", "Chamber", "Change", "Changeover", "CoilGeometry", "CommonPractice", "CommonSetting", "Comparison", "Conditions", "Correction", "DampedMode", "Damper", "DampingCurve", "Decision", "DescentState", "Design", "Drift", "DynamicSag", "Effect", "EndEffects", "EndHistory", "EndMotion", "EndRiders", "EndScenarios", "EndTravel", "EnergyAccount", "Exponents", "Fit", "FittedLoad", "Fork", "ForkAir", "ForkLeg", "FrontEnd", "GeometryDoubt", "HalfBike", "HalfBikeEnd", "Idler", "Legs", "LevelOffset", "Linkage", "LinkageCurve", "LinkageEffects", "LinkageFamily", "LinkagePoint", "MainSpring", "MassShares", "Masses", "Material", "MeasuredLinkage", "Measuring", "Mechanism", "Mode", "MonteCarlo", "Move", "MovingEnd", "NextReading", "OilLevel", "OnSale", "OwnSettings", "OwnUsual", "Photograph", "Plan", "Practice", "PredictedSag", "Prediction", "PreloadChange", "Preloaded", "Prices", "QuarterBike", "QuarterMode", "QuarterResponse", "QuarterRide", "Question", "Reading", "RearEnd", "Rehearsal", "Rehearsed", "Reserve", "Reservoir", "Riders", "Road", "RoadEnd", "RoadRide", "SagPractice", "SagTarget", "Sampled", "Scenario", "ScenarioLoad", "SetResult", "SettledBike", "Settling", "Sheet", "Shift", "Shock", "SpacerLengths", "Spring", "SpringAcross", "SpringChoice", "SpringForRiders", "SpringLife", "SpringPoint", "SpringPrior", "Sprockets", "Squat", "Stance", "Stances", "Steering", "SteeringAxis", "Stop", "Study", "Survey", "Sweep", "TargetOutcome", "Targets", "TravelLog", "TyreRate", "Uncertain", "UncertainCurve", "UncertainPoint", "UncertainWheelCurve", "UnmarkedSpring", "WheelCurve", "WheelEffects", "WheelState", "Wheels", "WholeBike", "append_readings", "arrangements", "cg_height", "check", "compare", "critical_damping", "damping_at_shaft", "damping_at_wheel", "damping_factor", "damping_ratio", "demo", "demo_file", "equivalent_of_friction", "equivalent_of_quadratic", "heard", "how_to_read", "json_schema", "log_change", "longitudinal_transfer", "natural_frequency", "pitch_radius", "quantity", "questions", "read_partly", "ride_rate", "set_keys", "spring_wires", "start_file", "static_deflection", "sweep_curves", "sweep_outputs", "sweep_points", "transmissibility", "travel_log", "tyre_rate", "tyre_rate_of_footprint", "unit_symbols", "unit_tables", "vertical_weighting"]

__version__: Final[str]

@final
class Action:
    """
    One action weighed against the others.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Action: ...
    @property
    def name(self, /) -> str:
        """
        ``leave``, ``turn``, ``fit``, ``measure`` or ``service``.
        """
    @property
    def preload_change(self, /) -> Quantity | None:
        """
        Change of preload to turn the collar by; None for any other action.
        """
    @property
    def probability(self, /) -> Quantity:
        """
        Probability that both sags land; after measuring, on average of what is done then.
        """
    @property
    def rate(self, /) -> Quantity | None:
        """
        Rate of the spring to fit, as labelled, per spring; None for any other action.
        """
    @property
    def utility(self, /) -> Quantity:
        """
        That less the prices of all that is done.
        """
    @property
    def way(self, /) -> str | None:
        """
        ``turned`` or ``re-read``; None where nothing is set.
        """

@final
class AirSpring:
    """
    Air in place of a coil spring.

    Parameters
    ----------
    piston_diameter : length
        On which the main chamber pushes.
    volume : volume
        Of the main chamber at full extension.
    pressure : gauge pressure
        Pumped up to at full extension, or where the port of the negative chamber is.
    exponent : float or Exponents, optional
        Both exponents, or the slow one alone; 1 and 1.35 ± 0.03 unless given.
    sealed, running : Conditions, optional
        When it was pumped up, and now.

    Examples
    --------
    >>> import wheelrate as wr
    >>> main = wr.AirSpring("30 mm", "260 cm3", "9 bar")
    >>> spring = main.with_negative("12 mm", "30 cm3", port_at="5 mm")
    >>> for air in (main, spring):
    ...     fork = wr.Fork("230 mm", "26 deg", wr.ForkLeg(air_spring=air), wr.ForkLeg())
    ...     print(fork.at("0 mm").force.round(0))  # the negative chamber eases the start
    636.0 newton
    33.0 newton
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, piston_diameter: QuantityLike, volume: QuantityLike, pressure: QuantityLike, *, exponent: float | Exponents | None = None, sealed: Conditions | None = None, running: Conditions | None = None) -> AirSpring: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> AirSpring: ...
    def chambers(self, /, stroke: QuantityLike) -> list[Chamber]:
        """
        The sealed chambers over a stroke: the main one, and the negative one where there is one.
        """
    @property
    def exponents(self, /) -> Exponents:
        """
        Polytropic exponents.
        """
    def lifts_at(self, /, stroke: QuantityLike) -> Quantity | None:
        """
        Stroke at which the piston of the second chamber lifts while the end settles; None without one, or where it stays seated.

        Parameters
        ----------
        stroke : length
            The full stroke.
        """
    def running_in(self, /, conditions: Conditions) -> AirSpring:
        """
        The same spring with its gas running in these conditions.
        """
    def with_exponents(self, /, exponents: Exponents) -> AirSpring:
        """
        The same spring with these exponents.
        """
    def with_negative(self, /, rod_diameter: QuantityLike, volume: QuantityLike, *, pressure: QuantityLike | None = None, port_at: QuantityLike | None = None) -> AirSpring:
        """
        The same spring with a negative chamber, which the stroke expands.

        Parameters
        ----------
        rod_diameter : length
            Of the rod that takes up part of the piston's area.
        volume : volume
            At full extension.
        pressure : gauge pressure, optional
            At full extension, for one with a valve of its own.
        port_at : length, optional
            Stroke of the port through which the main chamber fills it. Give one of the two.
        """
    def with_second(self, /, volume: QuantityLike, pressure: QuantityLike) -> AirSpring:
        """
        The same spring with a second positive chamber behind a floating piston, which lifts once the main one is at its pressure.

        Parameters
        ----------
        volume : volume
            While the piston is seated.
        pressure : gauge pressure
            What it is pumped to; more than the main chamber.

        Examples
        --------
        >>> import wheelrate as wr
        >>> main = wr.AirSpring("36 mm", "390 cm3", "6 bar")
        >>> ramp = main.with_second("80 cm3", "10 bar")
        >>> print(ramp.lifts_at("200 mm").round(1))
        139.2 millimeter
        """
    def with_spacers(self, /, count: int, volume: QuantityLike, *, most: int | None = None) -> AirSpring:
        """
        The same spring with spacers that take up volume of its main chamber.

        Parameters
        ----------
        count : int
            How many are in.
        volume : volume
            Of each.
        most : int, optional
            How many go in at most.
        """

@final
class AntiDive:
    """
    What the front brake does where the bike rests.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> AntiDive: ...
    @property
    def anti_dive(self, /) -> Quantity:
        """
        Share of the load that braking moves to the front which the brake carries past the springs; below zero it adds to the
        dive.
        """
    @property
    def brake_angle(self, /) -> Quantity:
        """
        Rise, backward, of the line from the contact to what the braked wheel turns about; below zero with a telescopic fork.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Wheel travel there, from full extension.
        """

@final
class AntiDiveCurve:
    """
    What the front brake does over travel: one entry per travel.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> AntiDiveCurve: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def anti_dive(self, /) -> Quantity:
        """
        Share of the load that braking moves to the front which the brake carries past the springs.
        """
    @property
    def brake_angle(self, /) -> Quantity:
        """
        Rise, backward, of the line from the contact to what the braked wheel turns about.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Wheel travel from full extension.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class AntiRise:
    """
    What the rear brake does over travel, as arrays of one length.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> AntiRise: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def anti_rise(self, /) -> Quantity:
        """
        Share of the load that braking takes off the rear which the brake gives back: at 100 % the rear brake alone neither
        lifts the rear nor pulls it down; below, the rear rises.
        """
    @property
    def brake_angle(self, /) -> Quantity:
        """
        Rise, forward, of the line from the contact to the instant centre of the caliper's body.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Wheel travel from full extension, vertical.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class Assumption:
    """
    One thing that was assumed because nobody stated it, and what would remove it.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Assumption: ...
    @property
    def act(self, /) -> str:
        """
        The one act that removes it, in a few words with its minutes.
        """
    @property
    def effort(self, /) -> Quantity | None:
        """
        How long that takes one person; None where it only has to be stated.
        """
    @property
    def end(self, /) -> str:
        """
        At which end.
        """
    @property
    def name(self, /) -> str:
        """
        What was assumed, in a few words.
        """
    @property
    def of_preload(self, /) -> Quantity:
        """
        The same of the preload to set.
        """
    @property
    def of_spring(self, /) -> Quantity:
        """
        By how much knowing it would narrow the variance of the rate called for, as a share.
        """
    @property
    def remaining(self, /) -> Quantity | None:
        """
        Standard uncertainty of the number that decides the spring, after it, as a share of what it is now.
        """
    @property
    def value(self, /) -> str:
        """
        Its value with its standard uncertainty, as text.
        """

@final
class AxialCurve:
    """
    Force, rate and energy over many strokes, as arrays of one length.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> AxialCurve: ...
    def _rows(self, /) -> tuple[object, ...]: ...
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
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class AxialState:
    """
    Force, rate and energy at one stroke.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> AxialState: ...
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
    def _repr_html_(self: Any) -> str: ...

@final
class Ballast:
    """
    Ballast that both scales take for a load.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Ballast: ...
    @property
    def behind_front_axle(self, /) -> Quantity:
        """
        Where its centre of gravity goes: horizontal distance behind the front axle, bike level.
        """
    @property
    def mass(self, /) -> Quantity:
        """
        How much of it.
        """

@final
class Bike:
    """
    A bike: both ends, masses, readings, targets. Any part may be missing; an answer that needs one says so.
    What is asked of every end (`fit`, `advise`) is an empty dict for a bike without ends.

    Most bikes come from a file (`load`) or a dict of the same keys (`from_dict`).

    Parameters
    ----------
    name : str
        What it is called.
    kind : str, optional
        What kind of bike it is: motocross, trail, road, track or any. What is not stated is taken as usual of the kind;
        by its discipline or its travel unless given.
    usual : OwnUsual, optional
        Figures of your own for what is not stated, in place of what is usual.
    masses : Masses, optional
        On two scales.
    front : FrontEnd, optional
        The fork.
    rear : RearEnd, optional
        Linkage and shock.
    wheels : Wheels, optional
        What the ends stand on.
    frame_points : dict of str to pair of lengths, optional
        Points of the frame whose height matters, fully extended, in the frame axes: seat, skid plate.
    prior : dict of str to SpringPrior, optional
        By end, how far the stated springs can be trusted.
    measuring : dict of str to Measuring, optional
        By end, how the readings are taken: vertically at the rear unless given; at the front along the fork, which is then assumed.
    targets : dict of str to Targets, optional
        By end, the sag that is wanted; comes before common practice.
    discipline : str, optional
        What the bike is ridden for: where `targets` has no sag, that of common practice is wanted.
    practice : CommonPractice, optional
        The table of common practice; the shipped one unless given.
    rider_load : str, optional
        What rider sag is meant under; ``"bike + rider"`` unless given.
    scenarios : list of Scenario, optional
        Other loads.
    riders : Riders, optional
        Who rides it, where it is more than one person.
    on_sale : OnSale, optional
        Springs that can be bought.
    prices : Prices, optional
        What turning the collar, another spring and an evening of measuring cost.
    readings : list of Reading, optional
        Sag readings, any number, any load.
    changes : list of Change, optional
        What was done to the bike; the rest describes it as it is now.

    Examples
    --------
    >>> import wheelrate as wr
    >>> bike = wr.demo()
    >>> print(bike.rear.wheel_rate("102 mm").round(1))
    8.4 newton / millimeter
    >>> longer = bike.what_if({"rear.linkage.points.link_frame": ["-66 mm", "-93 mm"]})
    >>> longer == bike
    False
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, name: str, *, kind: str | None = None, usual: OwnUsual | None = None, masses: Masses | None = None, front: FrontEnd | None = None, rear: RearEnd | None = None, wheels: Wheels | None = None, frame_points: dict[str, ArrayLike] | None = None, prior: dict[str, SpringPrior] | None = None, measuring: dict[str, Measuring] | None = None, targets: dict[str, Targets] | None = None, discipline: str | None = None, practice: CommonPractice | None = None, rider_load: str | None = None, scenarios: SupportsGetItem[int, Scenario] = ..., riders: Riders | None = None, on_sale: OnSale | None = None, prices: Prices | None = None, readings: SupportsGetItem[int, Reading] = ..., changes: SupportsGetItem[int, Change] = ...) -> Bike: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def advise(self, /) -> PerEnd[Decision]:
        """
        Advice for every end that has a rider sag target: what to do, and every spring on sale weighed.

        Returns
        -------
        dict of str to Decision

        Examples
        --------
        >>> import wheelrate as wr
        >>> advice = wr.demo().advise()
        >>> advice["rear"].verdict
        'change spring'
        """
    def advise_end(self, /, end: End) -> Decision:
        """
        Advice for one end.
        """
    def advise_scenarios(self, /) -> PerEnd[EndScenarios]:
        """
        The same bike under its usual load and those of its scenarios: what to set for each, how far to turn from one to
        the other, and which spring does for all.

        Returns
        -------
        dict of str to EndScenarios
            By end, for every end that has a rider sag target.

        Examples
        --------
        >>> import wheelrate as wr
        >>> rear = wr.demo().advise_scenarios()["rear"]
        >>> turns, uncertainty = rear.advised.change("bike + rider", "with stretcher").turns
        >>> turns > 5 * uncertainty > 0
        True
        """
    def advise_scenarios_end(self, /, end: End) -> EndScenarios:
        """
        One end under the usual load and those of the scenarios.

        Parameters
        ----------
        end : {"front", "rear"}
            Which end.
        """
    def assumptions(self, /) -> list[Assumption]:
        """
        What was assumed at both ends because nobody stated it, what costs most first.

        Returns
        -------
        list of Assumption
            A table in a notebook; ``pandas.DataFrame(bike.assumptions().rows())`` is a data frame.

        Examples
        --------
        >>> import wheelrate as wr
        >>> wr.demo().assumptions()
        []
        """
    def at(self, /, date: str) -> Bike:
        """
        The bike as it was at a date: what later changes replaced is put back, only readings and changes up to then are kept.

        Parameters
        ----------
        date : str
            A day, ``"2026-05-31"``, meaning its end, or a day with a time, ``"2026-05-31 19:30"``.
        """
    @property
    def changes(self, /) -> list[Change]:
        """
        What was done to the bike, in the order stated.
        """
    @property
    def common_practice(self, /) -> CommonPractice:
        """
        The table of common practice that the bike goes by: the shipped one unless it has its own.
        """
    def correct(self, /, values: dict[str, str | float | list[str] | dict[str, str]]) -> Bike:
        """
        The bike with wrong entries of its file mended: what was read is worked out anew on the bike as it now stands.

        For a change to think about use `what_if`, for one that was made `with_logged_change`.

        Parameters
        ----------
        values : dict of str to value
            By key path, as for `what_if`; into readings and the log too: ``{"reading[5].distance": "655 mm"}``.
        """
    @property
    def discipline(self, /) -> str | None:
        """
        What the bike is ridden for, where stated.
        """
    @property
    def ends(self, /) -> list[str]:
        """
        Names of the ends that the bike has.
        """
    def fit(self, /) -> PerEnd[Fit]:
        """
        What the readings say of each end: rate, preload and friction, with uncertainty. An end whose readings are refused is
        left out, and `fit_end` says why; it is an error only where every end is.

        Returns
        -------
        dict of str to Fit

        Examples
        --------
        >>> import wheelrate as wr
        >>> fit = wr.demo().fit()
        >>> print(fit["rear"].rate)
        50.8 ± 0.9 N/mm
        """
    def fit_end(self, /, end: End) -> Fit:
        """
        What the readings of one end say.

        Parameters
        ----------
        end : {"front", "rear"}
            Which end.
        """
    @property
    def frame_points(self, /) -> dict[str, Quantity]:
        """
        Points of the frame by name, fully extended, in the frame axes.
        """
    @staticmethod
    def from_dict(keys: dict[str, object]) -> Bike:
        """
        Make a bike from a dict with the keys of the bike file.
        """
    @staticmethod
    def from_json(text: str) -> Bike:
        """
        Read the text of a bike file written as JSON.
        """
    @staticmethod
    def from_toml(text: str) -> Bike:
        """
        Read the text of a bike file.
        """
    @property
    def front(self, /) -> FrontEnd:
        """
        The front end.
        """
    def history(self, /) -> PerEnd[EndHistory]:
        """
        Sets of readings in time, by end: what drifted between them, and how predictions before changes held.

        Returns
        -------
        dict of str to EndHistory

        Examples
        --------
        >>> import wheelrate as wr
        >>> wr.demo().history()["rear"].basis
        'From readings without a date.'
        """
    def history_end(self, /, end: End) -> EndHistory:
        """
        Sets of readings of one end in time.
        """
    @property
    def kind(self, /) -> str | None:
        """
        What kind of bike it is, where stated.
        """
    @staticmethod
    def load(path: str | os.PathLike[str]) -> Bike:
        """
        Read a bike file: JSON where its name ends in ``.json``, else TOML.

        Parameters
        ----------
        path : str or path
            The file.
        """
    @property
    def masses(self, /) -> Masses:
        """
        Masses of the bike and of what rides on it.
        """
    @property
    def measuring(self, /) -> dict[str, Measuring]:
        """
        How the readings of an end are taken, where stated.
        """
    @property
    def name(self, /) -> str:
        """
        What it is called.
        """
    @property
    def on_sale(self, /) -> OnSale:
        """
        Springs that can be bought.
        """
    def plan(self, /) -> PerEnd[Plan]:
        """
        What to measure next at every end that has a rider sag target, as a plan for one person alone.

        Returns
        -------
        dict of str to Plan

        Examples
        --------
        >>> import wheelrate as wr
        >>> wr.demo().plan()["rear"].worth
        'clear'
        """
    def plan_end(self, /, end: End) -> Plan:
        """
        What to measure next at one end.

        Parameters
        ----------
        end : {"front", "rear"}
            Which end.
        """
    def practice(self, /, end: End) -> list[SagPractice]:
        """
        What common practice says of the sags of one end, for the discipline stated; empty without one.

        Parameters
        ----------
        end : {"front", "rear"}
            Which end.

        Examples
        --------
        >>> import wheelrate as wr
        >>> rider, free = wr.demo().practice("rear")
        >>> print(*[end.round(1) for end in rider.overlap])
        95.0 millimeter 104.7 millimeter
        >>> rider.hold_own
        [True, True]
        """
    @property
    def prices(self, /) -> Prices:
        """
        What actions cost.
        """
    @property
    def prior(self, /) -> dict[str, SpringPrior]:
        """
        How far the stated springs of each end can be trusted.
        """
    @property
    def readings(self, /) -> list[Reading]:
        """
        The readings.
        """
    @property
    def rear(self, /) -> RearEnd:
        """
        The rear end.
        """
    @property
    def rider_load(self, /) -> str:
        """
        What rider sag is meant under.
        """
    @property
    def riders(self, /) -> Riders | None:
        """
        Who rides it, where it is more than one person.
        """
    @property
    def scenarios(self, /) -> list[Scenario]:
        """
        Other loads, in the order stated.
        """
    def sheet(self, /, units: str = "metric", unread: dict[str, str] | None = None) -> Sheet:
        """
        The setup sheet.

        Parameters
        ----------
        units : {"metric", "kilogram-force", "inch"}
            Units of its numbers and sentences.
        unread : dict of str to str, optional
            Why an end of the file could not be read, by its name: `read_partly` finds it. The sheet says so.
        """
    def study(self, /, end: End, *, doubting: bool = True) -> Study:
        """
        One end studied: what its newest readings and its labels say, solved once.

        Parameters
        ----------
        end : {"front", "rear"}
            Which end.
        doubting : bool
            Doubt what is stated: gross errors of a reading, a place or a label, uneven friction, a guessed unsprung mass, a
            rider on the day. What the answer hangs on besides is in ``fit().conditions``. False takes everything as stated.
        """
    def sweep(self, /, axes: dict[str, ArrayLike | list[object] | dict[str, object]], outputs: SupportsGetItem[int, str], *, scheme: Scheme = "grid", samples: SupportsIndex | None = None, seed: SupportsIndex = 0, points: SupportsIndex = 60, chunk: SupportsIndex = 10000, client: object = None, progress: object = None, to: str | os.PathLike[str] | None = None) -> SweepResult:
        """
        Many designs at once: the bike as it would be with every combination, list or draw of some values.

        Each design is what `what_if` makes of it, with what the readings found carried into it; each end is solved once. Stretches
        of designs are worked out on all cores without the interpreter's lock, here or by the workers of a Dask client, with
        the same result to the last bit. A design that fails has NaN for what it lacks, and a reason.

        Parameters
        ----------
        axes : dict of str to values
            By address, as for `what_if`: a list of values, an array with a unit, a dict of ``from``, ``to`` and ``steps``, or, where
            designs are drawn, a pair of both ends.
        outputs : list of str
            What is asked, by name; `sweep_outputs` lists them.
        scheme : {"grid", "list", "random", "latin_hypercube"}
            Every combination, the values side by side, or drawn.
        samples : int, optional
            How many designs are drawn.
        seed : int
            Where the draws begin; the same seed gives the same designs.
        points : int
            Points of a curve.
        chunk : int
            Designs in one stretch: one call of the core, one task of a cluster, one part of what is written.
        client : distributed.Client, optional
            Workers to work it out.
        progress : bool or callable, optional
            True for a bar of tqdm, or what makes one of the same protocol: called with ``total`` and ``unit``, it gives something with
            ``update`` and ``close``.
        to : str or path, optional
            Where the result is written as it comes: a Parquet file, a CSV file, or a folder of Parquet parts. What is there of the
            same sweep already is not worked out again.

        Returns
        -------
        SweepResult
            Columns by address and output.

        Examples
        --------
        >>> import wheelrate as wr
        >>> axes = {"rear.linkage.points.link_frame.x": ("-68 mm", "-64 mm"), "rear.shock.spring.rate": ("50 N/mm", "58 N/mm")}
        >>> result = wr.demo().sweep(axes, ["rear.rider_sag", "rear.chance"], scheme="latin_hypercube", samples=100)
        >>> len(result), result["rear.rider_sag"].units
        (100, <Unit('millimeter')>)
        """
    @property
    def targets(self, /) -> dict[str, Targets]:
        """
        The sag that is wanted at each end: as stated, else from common practice.
        """
    def to_dict(self, /) -> dict[str, object]:
        """
        The bike as a dict with the keys of the bike file.
        """
    def to_json(self, /) -> str:
        """
        The same as JSON.
        """
    def to_toml(self, /) -> str:
        """
        The bike as the text of a file, which reads back as an equal bike.
        """
    @property
    def usual(self, /) -> OwnUsual:
        """
        Figures of one's own for what is not stated.
        """
    def what_if(self, /, values: dict[str, str | float | list[str] | dict[str, str]]) -> Bike:
        """
        The bike as it would be with some values of its file changed.

        The readings stay with the bike as it is: what they found of springs, preload and friction is carried into the changed
        bike, as far as the change leaves it alone, and nothing is fitted on a bike that it was not read on. The change stands in
        the log as one that was not made, so that files and pickles keep it. To mend a wrong entry, use `correct`.

        Parameters
        ----------
        values : dict of str to value
            By key path, as in the file, rows counted from 0: ``{"front.fork.leg[0].spring.rate": "4.6 N/mm"}``.

        Examples
        --------
        >>> import wheelrate as wr
        >>> bike = wr.demo()
        >>> heavier = bike.what_if({"masses.rider.rear": "76 kg"})
        >>> heavier.fit()["rear"].rate == bike.fit()["rear"].rate
        True
        """
    @property
    def wheels(self, /) -> Wheels:
        """
        What the ends stand on.
        """
    @property
    def whole(self, /) -> WholeBike:
        """
        The bike on both wheels: stances, changes, modes, squat, landings.
        """
    def with_logged_change(self, /, date: str, values: dict[str, str | float | list[str] | dict[str, str]], note: str | None = None) -> Bike:
        """
        The bike with values of its file changed on a date, and the change logged: what stood there before is noted by itself.

        Parameters
        ----------
        date : str
            A day, ``"2026-06-14"``, or a day with a time, ``"2026-06-14 19:30"``.
        values : dict of str to value
            By key path, as for `what_if`.
        note : str, optional
            Anything worth remembering.

        Examples
        --------
        >>> import wheelrate as wr
        >>> bike = wr.Bike("shed", rear=wr.demo().rear)
        >>> stiffer = bike.with_logged_change("2026-06-14", {"rear.shock.spring.rate": "56 N/mm"})
        >>> stiffer.changes[0].was
        {'rear.shock.spring.rate': '52 N/mm'}
        >>> stiffer.at("2026-06-13") == bike
        True
        """
    def with_practice(self, /, table: CommonPractice) -> Bike:
        """
        The same bike by another table of common practice.

        Parameters
        ----------
        table : CommonPractice
            The table.
        """
    def with_readings(self, /, readings: SupportsGetItem[int, Reading]) -> Bike:
        """
        The bike with more readings, after those it has.

        Parameters
        ----------
        readings : list of Reading
            Each with its date where the bike was changed, or has readings of another day.
        """
    def with_riders(self, /, riders: Riders | None) -> Bike:
        """
        The same bike with these riders in place of its own; None for one person alone.

        Parameters
        ----------
        riders : Riders or None
            Who rides it.
        """
    def with_scenarios(self, /, scenarios: SupportsGetItem[int, Scenario]) -> Bike:
        """
        The same bike with these scenarios in place of its own.

        Parameters
        ----------
        scenarios : list of Scenario
            Other loads.
        """
    def _repr_html_(self: Bike) -> str: ...

@final
class BikeEnergy:
    """
    Where the energy of the whole bike went between start and end.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> BikeEnergy: ...
    @property
    def by_brakes(self, /) -> Quantity:
        """
        Work that braking put into pitch and travel.
        """
    @property
    def by_damper(self, /) -> Quantity:
        """
        Taken by both dampers.
        """
    @property
    def by_friction(self, /) -> Quantity:
        """
        Taken by friction.
        """
    @property
    def by_ground(self, /) -> Quantity:
        """
        Work that the ground put in.
        """
    @property
    def by_legs(self, /) -> Quantity:
        """
        Taken by the rider's legs.
        """
    @property
    def given_up(self, /) -> Quantity:
        """
        Energy of motion, springs, tyres, legs and height given up.
        """
    @property
    def missing(self, /) -> Quantity:
        """
        What is missing: the error of the integration.
        """

@final
class BikeMotion:
    """
    The motion of the whole bike over time, as arrays of one length, and what came of it.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> BikeMotion: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def body_rise(self, /) -> Quantity:
        """
        Rise of the sprung centre of gravity since the start.
        """
    @property
    def deceleration(self, /) -> Quantity:
        """
        Deceleration that the brakes reach.
        """
    @property
    def ends(self, /) -> dict[str, BikeMotionEnd]:
        """
        Both ends.
        """
    @property
    def energy(self, /) -> BikeEnergy:
        """
        Where the energy went.
        """
    @property
    def least_pitch(self, /) -> Quantity:
        """
        Least; below zero it went nose up.
        """
    @property
    def limits(self, /) -> list[str]:
        """
        What the simulation cannot show, in sentences.
        """
    @property
    def peak_pitch(self, /) -> Quantity:
        """
        Most pitch nose down since the start.
        """
    @property
    def pitch(self, /) -> Quantity:
        """
        Pitch since the start, nose down.
        """
    @property
    def rider_rise(self, /) -> Quantity:
        """
        Rise of the rider on his legs; that of the body without legs.
        """
    @property
    def time(self, /) -> Quantity:
        """
        Since the start.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class BikeMotionEnd:
    """
    One end of the whole bike over time, as arrays of one length, and what came of it.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> BikeMotionEnd: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def bottoming(self, /) -> Bottoming | None:
        """
        First time at full travel; None where it did not get there.
        """
    @property
    def full_travel(self, /) -> Quantity:
        """
        Full travel.
        """
    @property
    def peak_travel(self, /) -> Quantity:
        """
        Largest travel, between the instants too.
        """
    @property
    def peak_travel_time(self, /) -> Quantity:
        """
        When.
        """
    @property
    def peak_tyre_force(self, /) -> Quantity:
        """
        Largest force of the tyre, between the instants too.
        """
    @property
    def rest_travel(self, /) -> Quantity:
        """
        Travel at which the springs alone carry what stands over the wheel.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Vertical travel from full extension.
        """
    @property
    def tyre_force(self, /) -> Quantity:
        """
        Force of the tyre on the ground; zero in the air.
        """
    @property
    def wheel_force(self, /) -> Quantity:
        """
        Force of springs, damper and friction at the wheel.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class Bottoming:
    """
    The first time an end reaches full travel.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Bottoming: ...
    @property
    def energy(self, /) -> Quantity:
        """
        The most energy that the metal had to take.
        """
    @property
    def speed(self, /) -> Quantity:
        """
        How fast the end was still compressing, at the wheel.
        """
    @property
    def time(self, /) -> Quantity:
        """
        When.
        """

@final
class BushLoads:
    """
    What the bushes of a fork take, as arrays of one length. Forces of a bush are those on the lower tube, square to the fork,
    forward; the other leg is the one without a caliper where one leg carries it.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> BushLoads: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def friction(self, /) -> Quantity:
        """
        Friction of all bushes along the fork, under that load.
        """
    @property
    def friction_at_wheel(self, /) -> Quantity:
        """
        Friction at the wheel: half of what lies between the two.
        """
    @property
    def friction_at_wheel_uncertainty(self, /) -> Quantity:
        """
        Its standard uncertainty.
        """
    @property
    def friction_uncertainty(self, /) -> Quantity:
        """
        Its standard uncertainty.
        """
    @property
    def load(self, /) -> Quantity:
        """
        Vertical load at the axle that the springs balance there.
        """
    @property
    def load_in(self, /) -> Quantity:
        """
        Vertical load under which the fork just goes in.
        """
    @property
    def load_out(self, /) -> Quantity:
        """
        And under which it just comes out.
        """
    @property
    def lower(self, /) -> Quantity:
        """
        Force of the lower bush.
        """
    @property
    def lower_other(self, /) -> Quantity:
        """
        The same in the other leg.
        """
    @property
    def overlap(self, /) -> Quantity:
        """
        Distance of the bushes.
        """
    @property
    def stroke(self, /) -> Quantity:
        """
        Stroke along the fork.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Vertical wheel travel, the frame level.
        """
    @property
    def upper(self, /) -> Quantity:
        """
        Force of the upper bush.
        """
    @property
    def upper_other(self, /) -> Quantity:
        """
        The same in the other leg.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class Bushes:
    """
    Where the bushes of a fork are, alike in both legs, and how they rub.

    Parameters
    ----------
    overlap : length
        Distance of the two bushes along the fork, fully extended.
    to_axle : length
        Distance of the lower bush from the axle along the fork, fully extended.
    axle_offset : length, optional
        How far the axle is ahead of the tubes; 0 unless given.
    calipers : int, optional
        Legs that carry a brake caliper; 1 unless given.
    coefficient : float, optional
        Coefficient of friction; 0.05 ± 0.025 unless given.
    coefficient_uncertainty : float, optional
        Its standard uncertainty; half of it unless given.

    Examples
    --------
    >>> import wheelrate as wr
    >>> fork = wr.demo().front.fork.with_bushes(wr.Bushes("180 mm", "420 mm", axle_offset="35 mm"))
    >>> found = fork.bush_loads(["80 mm", "200 mm"])
    >>> print(found.friction_at_wheel.round(0))
    [100.0 159.0] newton
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, overlap: QuantityLike, to_axle: QuantityLike, *, axle_offset: QuantityLike | None = None, calipers: int | None = None, coefficient: float | None = None, coefficient_uncertainty: float | None = None) -> Bushes: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Bushes: ...
    @property
    def axle_offset(self, /) -> Quantity:
        """
        How far the axle is ahead of the tubes.
        """
    @property
    def calipers(self, /) -> int:
        """
        Legs that carry a brake caliper.
        """
    @property
    def coefficient(self, /) -> float:
        """
        Coefficient of friction.
        """
    @property
    def coefficient_uncertainty(self, /) -> float:
        """
        Its standard uncertainty.
        """
    @property
    def overlap(self, /) -> Quantity:
        """
        Distance of the two bushes, fully extended.
        """
    @property
    def to_axle(self, /) -> Quantity:
        """
        Distance of the lower bush from the axle, fully extended.
        """

@final
class Chain:
    """
    The tight upper run of a chain, which carries the torque of the rear wheel.

    Parameters
    ----------
    sprocket : pair of lengths
        Centre of the front sprocket in the frame axes.
    front_radius, rear_radius : length
        Pitch radii of the sprockets.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[object, ...], dict[str, object]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, sprocket: ArrayLike, *, front_radius: QuantityLike, rear_radius: QuantityLike) -> Chain: ...
    def __repr__(self, /) -> str: ...
    @property
    def front_radius(self, /) -> Quantity:
        """
        Pitch radius of the front sprocket.
        """
    @property
    def rear_radius(self, /) -> Quantity:
        """
        Pitch radius of the rear sprocket.
        """
    @property
    def sprocket(self, /) -> Quantity:
        """
        Centre of the front sprocket in the frame axes.
        """

@final
class ChainDrive:
    """
    Sprockets, wheel and centre of gravity: what drive does to the rear suspension.

    Parameters
    ----------
    front_centre : pair of lengths
        Centre of the front sprocket in the drawing, x forward and z up.
    front_radius, rear_radius : length
        Pitch radii of the sprockets; `pitch_radius` gives them from teeth.
    idler : Idler, optional
        What leads the upper run: drive then pulls along the run from the rear sprocket to it.
    wheel_radius : length
        Of the rear wheel, axle to ground.
    cg_height : length
        Height of the centre of gravity above ground.
    wheelbase : length
        Contact to contact.

    Examples
    --------
    >>> import wheelrate as wr
    >>> drive = wr.ChainDrive(
    ...     ["85 mm", "10 mm"], front_radius=wr.pitch_radius(13, "15.875 mm"), rear_radius=wr.pitch_radius(48, "15.875 mm"),
    ...     wheel_radius="330 mm", cg_height="640 mm", wheelbase="1460 mm",
    ... )
    >>> squat = wr.demo().rear.linkage.squat(drive, ["100 mm"])
    >>> print(f"{squat.anti_squat[0]:.0f~P}")
    105 %
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[object, ...], dict[str, object]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, front_centre: ArrayLike, *, front_radius: QuantityLike, rear_radius: QuantityLike, wheel_radius: QuantityLike, cg_height: QuantityLike, wheelbase: QuantityLike, idler: Idler | None = None) -> ChainDrive: ...
    def __repr__(self, /) -> str: ...
    @property
    def cg_height(self, /) -> Quantity:
        """
        Height of the centre of gravity above ground.
        """
    @property
    def front_centre(self, /) -> Quantity:
        """
        Centre of the front sprocket in the frame axes.
        """
    @property
    def front_radius(self, /) -> Quantity:
        """
        Pitch radius of the front sprocket.
        """
    @property
    def idler(self, /) -> Idler | None:
        """
        What leads the upper run; None where nothing does.
        """
    @property
    def rear_radius(self, /) -> Quantity:
        """
        Pitch radius of the rear sprocket.
        """
    @property
    def wheel_radius(self, /) -> Quantity:
        """
        Of the rear wheel, axle to ground.
        """
    @property
    def wheelbase(self, /) -> Quantity:
        """
        Contact to contact.
        """

@final
class ChainRun:
    """
    The chain over travel, as arrays of one length.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> ChainRun: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def extended_play(self, /) -> Quantity:
        """
        Play to set at full extension, so that the play asked for is left where the chain is tightest.
        """
    @property
    def growth(self, /) -> Quantity:
        """
        How much longer the loop of the chain is than at full extension.
        """
    @property
    def play(self, /) -> Quantity:
        """
        Movement of the middle of the lower run, up and down together.
        """
    @property
    def slack(self, /) -> Quantity:
        """
        Length to spare.
        """
    @property
    def tightest_growth(self, /) -> Quantity:
        """
        Growth of the chain from full extension to where it is tightest.
        """
    @property
    def tightest_travel(self, /) -> Quantity:
        """
        Travel at which the chain is tightest.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Wheel travel from full extension, vertical.
        """
    @property
    def wheel_turn(self, /) -> Quantity:
        """
        How far the wheel has turned forward against the frame since full extension, engine held and upper run taut.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

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
    def __new__(cls, /, pressure: QuantityLike, volume: QuantityLike, area: QuantityLike, stroke: QuantityLike, *, exponent: float = 1.0, surroundings: QuantityLike | None = None) -> Chamber: ...
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
    def settled_at(self, /, stroke: QuantityLike, exponent: float) -> Chamber:
        """
        The same gas, come to rest at a stroke by its exponent and from there moved with another one.

        Its energy counts from where the new curve runs through full extension: take differences.

        Examples
        --------
        >>> import wheelrate as wr
        >>> chamber = wr.Chamber("10 bar", "180 cm3", "200 mm2", "100 mm")
        >>> fast = chamber.settled_at("30 mm", 1.4)
        >>> print((fast.at("30 mm").rate / chamber.at("30 mm").rate).round(3))
        1.4 dimensionless
        """
    def volume_at(self, /, stroke: QuantityLike) -> Quantity:
        """
        Volume at a stroke.
        """
    def with_exponent(self, /, exponent: float) -> Chamber:
        """
        The same chamber with another exponent, on a stroke from full extension.
        """

@final
class Change:
    """
    Something done to the bike: what stood there before, in the words of the bike file.

    `Bike.with_logged_change` makes one by itself; a bike that is put together with its log takes them as they are.

    Parameters
    ----------
    date : str
        A day, ``"2026-05-31"``, or a day with a time, ``"2026-05-31 19:30"``.
    was : dict of str to value, optional
        What stood there before, by key path: ``{"rear.shock.spring.rate": "50 N/mm"}``.
    added : list of str, optional
        Key paths of what was not there before.
    note : str, optional
        Anything worth remembering.

    Examples
    --------
    >>> import wheelrate as wr
    >>> change = wr.Change("2026-06-14", was={"rear.shock.spring.rate": "50 N/mm"}, note="stiffer")
    >>> bike = wr.Bike("shed", rear=wr.demo().rear, changes=[change])
    >>> print(bike.at("2026-06-13").rear.shock.spring.spring.rate)
    50.0 newton / millimeter
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, date: str, *, was: dict[str, str | float | list[str] | dict[str, str]] | None = None, added: SupportsGetItem[int, str] = ..., note: str | None = None) -> Change: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Change: ...
    @property
    def added(self, /) -> list[str]:
        """
        Key paths of what was not there before.
        """
    @property
    def date(self, /) -> str:
        """
        When.
        """
    @property
    def note(self, /) -> str | None:
        """
        A note.
        """
    @property
    def was(self, /) -> dict[str, str]:
        """
        What stood there before, by key path.
        """

@final
class Changeover:
    """
    Where one spring of a stack drops out, or coils close.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Changeover: ...
    @property
    def compression(self, /) -> Quantity:
        """
        Compression of the whole stack.
        """
    @property
    def force(self, /) -> Quantity:
        """
        Force at it.
        """

@final
class CoilGeometry:
    """
    A cylindrical coil spring of round wire, ``k = G·d⁴/(8·D³·n)``.

    Parameters
    ----------
    wire : length
        Diameter ``d`` of the wire.
    mean_diameter : length
        Diameter ``D`` of the coil, middle of the wire to middle of the wire: outside diameter less ``d``.
    active_coils : float
        Coils ``n`` that twist: all of them, less 2 for closed ends.
    ends : {"open", "open-ground", "closed", "closed-ground"}
        How the ends are made.
    material : Material or str
        Of the wire, or its name.
    free_length : length, optional
        Unloaded.

    Examples
    --------
    >>> import wheelrate as wr
    >>> coil = wr.CoilGeometry(
    ...     wire="11.2 mm", mean_diameter="66 mm", active_coils=5.8, ends="closed-ground", material="EN 10270-2",
    ...     free_length="230 mm",
    ... )
    >>> print(coil.rate.round(1), coil.solid_length.round(1), coil.mass.to("kg").round(2))
    93.8 newton / millimeter 87.4 millimeter 1.25 kilogram
    >>> print(coil.shear_stress("4 kN").round(0))  # Wahl's factor
    602.0 megapascal
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, *, wire: QuantityLike, mean_diameter: QuantityLike, active_coils: float, ends: str, material: Material | str, free_length: QuantityLike | None = None) -> CoilGeometry: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> CoilGeometry: ...
    def buckling_compression(self, /, seating: str = "fixed") -> Quantity | None:
        """
        Compression at which the spring buckles, seating as in `stable_free_length`; None when it never does, or without
        a free length. A guide or a close bore holds a longer spring.
        """
    @property
    def free_length(self, /) -> Quantity | None:
        """
        Length unloaded, where given.
        """
    @property
    def index(self, /) -> float:
        """
        Spring index ``D/d``.
        """
    def life(self, /, wire_kind: str, least: QuantityLike, most: QuantityLike, *, is_peened: bool = False, is_pressed: bool = False) -> SpringLife:
        """
        Will the spring last: stress between two compressions against the strength of its wire, once and for endless life.

        Parameters
        ----------
        wire_kind : str
            One of `spring_wires`.
        least, most : length
            Compressions it works between: at rest under the rider, and with preload and full stroke.
        is_peened : bool, optional
            Shot-peened; not unless given.
        is_pressed : bool, optional
            Pressed solid by its maker until it set no further; not unless given.

        Returns
        -------
        SpringLife

        Examples
        --------
        >>> import wheelrate as wr
        >>> coil = wr.CoilGeometry(
        ...     wire="11.6 mm", mean_diameter="66 mm", active_coils=11, ends="closed-ground",
        ...     material="EN 10270-2", free_length="290 mm",
        ... )
        >>> life = coil.life("oil-tempered A229", "54 mm", "132 mm", is_peened=True, is_pressed=True)
        >>> print(life.verdict, round(life.fatigue_factor, 2), life.most_stress.round(0))
        too close 0.87 1013.0 megapascal
        """
    @property
    def mass(self, /) -> Quantity:
        """
        Mass of the whole spring.
        """
    @property
    def rate(self, /) -> Quantity:
        """
        Its rate.
        """
    def shear_stress(self, /, force: QuantityLike, factor: str = "wahl") -> Quantity:
        """
        Shear stress in the wire, ``τ = K·8·F·D/(π·d³)``.

        Parameters
        ----------
        force : force
            On the spring.
        factor : {"wahl", "bergstrasser", "direct-shear", "torsion"}
            Correction ``K`` for the curvature of the wire; the second is that of EN 13906-1.
        """
    @property
    def solid_compression(self, /) -> Quantity | None:
        """
        Compression until the coils touch; None without a free length.
        """
    @property
    def solid_length(self, /) -> Quantity:
        """
        Length with all coils touching.
        """
    def solid_stress(self, /, factor: str = "wahl") -> Quantity | None:
        """
        Shear stress with all coils touching, factor as in `shear_stress`; None without a free length.
        """
    def spring(self, /) -> Spring:
        """
        The spring as an element of a fork or a shock, its lengths known where the free length is.
        """
    def stable_free_length(self, /, seating: str = "fixed") -> Quantity:
        """
        Free length below which the spring never buckles.

        Parameters
        ----------
        seating : {"fixed", "fixed-hinged", "hinged", "fixed-free"}
            How the ends are held; two flat parallel plates are ``"fixed"``.
        """
    @property
    def surge_frequency(self, /) -> Quantity:
        """
        First natural frequency between two plates, ``√(k/m)/2`` with the mass of the active coils.
        """
    @property
    def total_coils(self, /) -> float:
        """
        All coils, those at the ends included.
        """
    @property
    def volume(self, /) -> Quantity:
        """
        Volume of the wire: what the spring takes from the air of a fork leg.
        """

@final
class CommonPractice:
    """
    Common practice: the sag that each discipline aims at, figure by figure. None of the shipped figures has a source.

    Where the figures on one sag overlap on a bike, the overlap is wanted; where they do not, nothing is chosen.

    Examples
    --------
    >>> import wheelrate as wr
    >>> table = wr.CommonPractice.shipped()
    >>> table.disciplines
    ['motocross', 'trail', 'road', 'track', 'any']
    >>> ours = table.with_rows([wr.Practice("enduro", "rear", "rider", share=("31 %", "33 %"))])
    >>> len(ours.rows) - len(table.rows)
    1
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, rows: SupportsGetItem[int, Practice]) -> CommonPractice: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> CommonPractice: ...
    @property
    def disciplines(self, /) -> list[str]:
        """
        The disciplines, each once.
        """
    @staticmethod
    def from_json(text: str) -> CommonPractice:
        """
        Read the text of a table written as JSON.
        """
    @staticmethod
    def from_toml(text: str) -> CommonPractice:
        """
        Read the text of a table.
        """
    @staticmethod
    def load(path: str | os.PathLike[str]) -> CommonPractice:
        """
        Read a table of one's own: JSON where its name ends in ``.json``, else TOML.

        Parameters
        ----------
        path : str or path
            The file.
        """
    @property
    def rows(self, /) -> list[Practice]:
        """
        Every figure, in order.
        """
    @staticmethod
    def shipped() -> CommonPractice:
        """
        The table that is shipped.
        """
    @staticmethod
    def shipped_file() -> str:
        """
        The text of the shipped file, to be edited.
        """
    def to_json(self, /) -> str:
        """
        The same as JSON.
        """
    def to_toml(self, /) -> str:
        """
        The table as the text of a file, which reads back as an equal table.
        """
    def with_rows(self, /, rows: SupportsGetItem[int, Practice]) -> CommonPractice:
        """
        The same table with more rows.
        """

@final
class CommonSetting:
    """
    One preload for all riders.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> CommonSetting: ...
    @property
    def free_sag(self, /) -> Uncertain:
        """
        Free sag, with what the fit leaves open.
        """
    @property
    def preload(self, /) -> Uncertain:
        """
        Preload to set, on the scale of the preload stated.
        """
    @property
    def rider_sag(self, /) -> Uncertain:
        """
        Rider sag: mean over the riders, and its standard deviation from rider to rider.
        """
    @property
    def share(self, /) -> Uncertain:
        """
        Share of riders with both sags in range; the uncertainty is what the bike leaves open, the same for every rider.
        """
    @property
    def too_deep(self, /) -> Quantity:
        """
        Share of riders who sit too deep.
        """
    @property
    def too_high(self, /) -> Quantity:
        """
        Share of riders who sit too high.
        """
    @property
    def turns(self, /) -> tuple[float, float] | None:
        """
        The same in turns of the adjuster with their standard uncertainty: from today's setting on today's spring, from where
        the collar just touches it on another; None where the pitch is not known.
        """
    @property
    def way(self, /) -> str:
        """
        ``"turned"`` there and left, or ``"re_read"``: set by the sag under the middle rider.
        """

@final
class Comparison:
    """
    Designs under one load, as arrays with one entry per design; what a design has not is NaN.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __str__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Comparison: ...
    def _repr_html_(self, /) -> str: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def end_force(self, /) -> Quantity:
        """
        Wheel force at full compression.
        """
    @property
    def full_travel(self, /) -> Quantity:
        """
        Wheel travel from full extension to the end of stroke.
        """
    @property
    def leverage_ratio_end(self, /) -> Quantity:
        """
        Leverage ratio at full compression.
        """
    @property
    def leverage_ratio_start(self, /) -> Quantity:
        """
        Leverage ratio at full extension.
        """
    @property
    def motion_ratio_at_sag(self, /) -> Quantity:
        """
        Motion ratio there.
        """
    @property
    def motion_ratio_end(self, /) -> Quantity:
        """
        Motion ratio at full compression.
        """
    @property
    def motion_ratio_start(self, /) -> Quantity:
        """
        Motion ratio at full extension.
        """
    @property
    def names(self, /) -> list[str]:
        """
        The designs.
        """
    @property
    def progression(self, /) -> Quantity:
        """
        Progression of the motion ratio over the whole travel.
        """
    @property
    def ride_height_change(self, /) -> Quantity:
        """
        How much higher the frame stands over the axle than in the first design.
        """
    @property
    def sag(self, /) -> Quantity:
        """
        Sag under the load with each design's own spring; NaN where the load leaves it on a stop.
        """
    @property
    def spring_for_same_sag(self, /) -> Quantity:
        """
        Rate of the main springs together that brings back the first design's sag, preload unchanged.
        """
    @property
    def stroke_left(self, /) -> Quantity:
        """
        Shock stroke left there.
        """
    def table(self, /, units: str = "metric") -> list[tuple[str, str, int, list[float | None]]]:
        """
        The rows of the comparison: what each is, its unit, its decimals, and the number of each design, None for what it
        has not.

        Parameters
        ----------
        units : {"metric", "kilogram-force", "inch"}
            Unit system of the numbers.

        Examples
        --------
        >>> import wheelrate as wr
        >>> bike = wr.demo()
        >>> wr.compare({"now": bike.rear}, "1100 N").table()[0]
        ('full travel', 'mm', 1, [299.0...])
        """
    def to_json(self, /) -> str:
        """
        The comparison as JSON: for each design every row as text with its unit, ``null`` for what it has not.
        """
    @property
    def wheel_rate_at_sag(self, /) -> Quantity:
        """
        Wheel rate there, the geometric term included.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...

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
    @staticmethod
    def at_altitude(altitude: QuantityLike, temperature: QuantityLike | None = None) -> Conditions:
        """
        The standard atmosphere at an altitude (ISO 2533). The weather of a day moves its pressure by 3 %.

        Parameters
        ----------
        altitude : length
            Above sea level, from −500 m to 9000 m.
        temperature : temperature, optional
            Of the gas, where it is not that of the standard atmosphere.

        Examples
        --------
        >>> import wheelrate as wr
        >>> pass_road = wr.Conditions.at_altitude("2000 m")
        >>> print(pass_road.surroundings.round(4), pass_road.temperature.round(2))
        0.795 bar 2.0 degree_Celsius
        """
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
    def with_temperature(self, /, temperature: QuantityLike) -> Conditions:
        """
        The same surroundings with gas of another temperature: warmed by work, or by the sun.
        """

@final
class Correction:
    """
    One choice of levers for a wanted trail or rake.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Correction: ...
    @property
    def effect(self, /) -> Effect:
        """
        How the bike stands before, and with the levers where they are put.
        """
    @property
    def is_reachable(self, /) -> bool:
        """
        Is the wish met, every lever within its room?
        """
    @property
    def moves(self, /) -> list[Move]:
        """
        Its levers.
        """

@final
class DampedMode:
    """
    A mode of the settled bike with its dampers.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> DampedMode: ...
    @property
    def damped_frequency(self, /) -> Quantity | None:
        """
        Frequency at which it swings out; None beyond critical damping.
        """
    @property
    def damping_ratio(self, /) -> Quantity:
        """
        Share of critical damping.
        """
    @property
    def frequency(self, /) -> Quantity:
        """
        Frequency ``|λ|/2π``: near that of the same mode without dampers.
        """
    @property
    def kind(self, /) -> str:
        """
        ``bounce``, ``pitch``, ``front hop`` or ``rear hop``: what moves most.
        """

@final
class Damper:
    """
    A damper along its shaft: a slope each way, and where given a knee beyond which another slope holds; or a table.

    Parameters
    ----------
    compression : damping rate
        While the end compresses.
    rebound : damping rate, optional
        While it extends; as in compression unless given.
    compression_knee, rebound_knee : pair of velocity and damping rate, optional
        Shaft speed beyond which the second slope holds, and that slope.
    uncertainty : share, optional
        Standard uncertainty of the forces, as a share of them; exact unless given.

    Examples
    --------
    >>> import wheelrate as wr
    >>> damper = wr.Damper("2500 N s/m", "5000 N s/m", compression_knee=("0.3 m/s", "900 N s/m"))
    >>> print(damper.force("0.5 m/s"), damper.force("-0.1 m/s"))
    930.0 newton -500.0 newton
    >>> print(damper.equivalent("0.5 m/s").round(0))
    3522.0 newton * second / meter
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, compression: QuantityLike, rebound: QuantityLike | None = None, *, compression_knee: tuple[QuantityLike, QuantityLike] | None = None, rebound_knee: tuple[QuantityLike, QuantityLike] | None = None, uncertainty: QuantityLike | None = None) -> Damper: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Damper: ...
    def beside(self, /, other: Damper) -> Damper:
        """
        This damper and another on the same stroke: forces add.
        """
    def equivalent(self, /, amplitude: AnyShape) -> Quantity:
        """
        The linear damper that takes as much energy out of a harmonic motion of this shaft speed amplitude.
        """
    def equivalent_in_noise(self, /, rms: AnyShape) -> Quantity:
        """
        The linear damper that takes as much energy out of a Gaussian motion of this root mean square shaft speed.
        """
    def force(self, /, velocity: AnyShape) -> Quantity:
        """
        Force along the shaft at shaft velocities, both positive in compression.
        """
    @classmethod
    def from_table(cls, /, speeds: ArrayLike, compression: ArrayLike, rebound: ArrayLike, *, uncertainty: QuantityLike | None = None) -> Damper:
        """
        A damper as a dynamometer draws it: straight lines between the speeds, and beyond the last of them its slope.

        Parameters
        ----------
        speeds : array of velocity
            Of the shaft, rising.
        compression, rebound : array of force
            At these speeds.
        uncertainty : share, optional
            Standard uncertainty of the forces, as a share of them; exact unless given.

        Returns
        -------
        Damper

        Examples
        --------
        >>> import wheelrate as wr
        >>> damper = wr.Damper.from_table(([0.1, 0.5], "m/s"), ([300, 900], "N"), ([500, 1700], "N"))
        >>> print(damper.force("0.3 m/s"), damper.force("-1 m/s"))
        600.0 newton -3200.0 newton
        """
    def mean_force(self, /, rms: AnyShape) -> Quantity:
        """
        Mean force in a Gaussian motion of this root mean square shaft speed; below zero it pulls the end down.
        """
    def scaled(self, /, factor: SupportsFloat | SupportsIndex) -> Damper:
        """
        The damper with all its forces times a factor.
        """
    @property
    def uncertainty(self, /) -> Quantity:
        """
        Standard uncertainty of the forces, as a share of them.
        """

@final
class DampingCurve:
    """
    Damping of an end over travel, as arrays of one length.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> DampingCurve: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def compression(self, /) -> Quantity:
        """
        Damping rate at the wheel while it compresses.
        """
    @property
    def compression_ratio(self, /) -> Quantity:
        """
        Share of critical damping while it compresses.
        """
    @property
    def damping_ratio(self, /) -> Quantity:
        """
        Share of critical damping of the whole motion.
        """
    @property
    def damping_ratio_uncertainty(self, /) -> Quantity:
        """
        Its standard uncertainty, from damper and mass.
        """
    @property
    def limits(self, /) -> list[str]:
        """
        What damping ratios cannot say, in sentences.
        """
    @property
    def motion_ratio(self, /) -> Quantity:
        """
        Shock per wheel.
        """
    @property
    def rebound(self, /) -> Quantity:
        """
        Damping rate at the wheel while it extends.
        """
    @property
    def rebound_ratio(self, /) -> Quantity:
        """
        Share of critical damping while it extends.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Vertical travel from full extension.
        """
    @property
    def wheel_rate(self, /) -> Quantity:
        """
        Wheel rate of a fast stroke from the rest.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class Decision:
    """
    The decision on one end: what to do, why, and every spring on sale weighed.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[object, ...]]: ...
    def __repr__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def action(self, /) -> Action | None:
        """
        The best of what can be done without measuring more.
        """
    @property
    def actions(self, /) -> list[Action]:
        """
        Every action, best first by probability less price.
        """
    @property
    def advised(self, /) -> SpringChoice | None:
        """
        The choice that the verdict is on: the spring to fit, or the one to keep; None where it is on none.
        """
    @property
    def assumptions(self, /) -> list[Assumption]:
        """
        What was assumed because nobody stated it, what costs most first.
        """
    @property
    def choices(self, /) -> list[SpringChoice]:
        """
        Every spring, best first; the one fitted now is among them.
        """
    @property
    def conditions(self, /) -> list[str]:
        """
        What the verdict hangs on, as sentences: those of the fit.
        """
    @property
    def contenders(self, /) -> list[SpringChoice]:
        """
        Springs of which one is the best or as good with 97 %, were all known that the readings leave open: the best bet first.
        """
    @property
    def end(self, /) -> str:
        """
        Which end.
        """
    @property
    def fit(self, /) -> Fit:
        """
        What the readings say.
        """
    @property
    def free_sag(self, /) -> Uncertain:
        """
        Sag of the bike alone today; below zero it is topped out.
        """
    def headline(self, /, units: str = "metric") -> str:
        """
        What to do, in one sentence.
        """
    @property
    def oil_level(self, /) -> OilLevel | None:
        """
        The oil level that goes with what is advised at the front: for the force at full travel that is wanted, or, with another
        spring, for that of today; None where the oil level of today is not stated.

        Examples
        --------
        >>> import wheelrate as wr
        >>> bike = wr.demo().correct({"targets.front.full_travel_force": "4.3 kN"})
        >>> print(bike.advise_end("front").oil_level.reached.round(0))
        4300.0 newton
        """
    @property
    def plan(self, /) -> Plan:
        """
        What to measure next and what that is worth.
        """
    @property
    def probability(self, /) -> Quantity:
        """
        Probability that both sags lie in their ranges today.
        """
    def reasons(self, /, units: str = "metric") -> list[str]:
        """
        Why, in sentences.
        """
    @property
    def rider_sag(self, /) -> Uncertain:
        """
        Sag with the rider today.
        """
    @property
    def runner_up(self, /) -> Action | None:
        """
        What comes next to it.
        """
    @property
    def ties(self, /) -> list[Action]:
        """
        Actions that are as good as the best one.
        """
    def to_json(self, /) -> str:
        """
        The advice as JSON text, quantities as text with units.
        """
    @property
    def to_look_for(self, /) -> bool:
        """
        Are the other rates those to look for, because none is stated as on sale?
        """
    @property
    def verdict(self, /) -> str:
        """
        ``keep``, ``change preload``, ``change spring``, ``measure first``, ``service first`` or ``none suits``.
        """
    @property
    def wanted_rate(self, /) -> Uncertain | None:
        """
        The rate per spring that puts the free sag in the middle of its range; None without such a target.
        """
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """

@final
class DescentState:
    """
    An end over a descent, as arrays of one length.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> DescentState: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def force(self, /) -> Quantity:
        """
        Force at the wheel where the end rested at the start.
        """
    @property
    def force_uncertainty(self, /) -> Quantity:
        """
        Its standard uncertainty.
        """
    @property
    def pressure(self, /) -> Quantity:
        """
        Pressure over that at the start, at one stroke, above vacuum.
        """
    @property
    def reserve(self, /) -> Quantity:
        """
        Energy from there to full travel, reached fast, less what the load does on the way.
        """
    @property
    def reserve_uncertainty(self, /) -> Quantity:
        """
        Its standard uncertainty.
        """
    @property
    def temperature(self, /) -> Quantity:
        """
        Of the gas.
        """
    @property
    def time(self, /) -> Quantity:
        """
        Since the start.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Vertical travel at rest under the load.
        """
    @property
    def travel_uncertainty(self, /) -> Quantity:
        """
        Its standard uncertainty.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class Design:
    """
    The best design found, and what was traded for it.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Design: ...
    @property
    def dimensions(self, /) -> list[str]:
        """
        The dimensions that were free to move.
        """
    @property
    def held_back(self, /) -> list[str]:
        """
        Those on a bound that would go further if they could.
        """
    @property
    def in_the_way(self, /) -> list[str]:
        """
        Dimensions whose bounds stand in the way, the one that costs most first; empty where all targets are reached.
        """
    @property
    def is_reached(self, /) -> bool:
        """
        Are all targets met within their tolerances?
        """
    @property
    def linkage(self, /) -> Linkage:
        """
        The linkage.
        """
    @property
    def misses(self, /) -> Numbers:
        """
        What is left of each target, found minus wanted, in tolerances: within ±1 it is reached.
        """
    @property
    def now(self, /) -> Quantity:
        """
        What each is in the design.
        """
    @property
    def starts(self, /) -> tuple[int, int]:
        """
        Starts that led to a working linkage, and those of them that ended in a design as good as this one.
        """
    @property
    def targets(self, /) -> list[str]:
        """
        The targets in words.
        """
    def to_text(self, /, units: str = "metric") -> str:
        """
        The design as plain text: what moved, what was reached, what stands in the way.
        """
    @property
    def was(self, /) -> Quantity:
        """
        What each was.
        """

@final
class Drift:
    """
    What changed between two sets.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Drift: ...
    @property
    def earlier(self, /) -> int:
        """
        Place of the earlier set.
        """
    @property
    def friction(self, /) -> Shift:
        """
        Friction at the wheel.
        """
    @property
    def later(self, /) -> int:
        """
        Place of the later one.
        """
    @property
    def preload(self, /) -> Shift | None:
        """
        Preload of the first main spring; None where a change set it anew.
        """
    def sentences(self, /, units: str = "metric") -> list[str]:
        """
        What changed and whether it is more than noise.
        """

@final
class DynamicSag:
    """
    Where an end would rest under the load that it carried on average.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> DynamicSag: ...
    @property
    def damper_force(self, /) -> Uncertain:
        """
        Mean force of the damper at the wheel: below zero where rebound is harder, and holds the end down.
        """
    @property
    def load(self, /) -> Uncertain:
        """
        The load that both held.
        """
    def reading(self, /, bike: Bike, end: End, load: str) -> Reading:
        """
        The sag of a ride as one more reading of the bike, with its own standard uncertainty.

        A sag in the middle of the friction band, along the direction in which that end is read. Put it in the bike with
        ``bike.with_readings([reading])``.

        Parameters
        ----------
        bike : Bike
            The bike that was ridden.
        end : {"front", "rear"}
            The end that this is of.
        load : str
            The masses that were ridden, ``"bike + rider"``.
        """
    @property
    def spring_force(self, /) -> Uncertain:
        """
        Mean force of the springs at the wheel.
        """
    @property
    def travel(self, /) -> Uncertain:
        """
        The travel at which that load rests.
        """

@final
class Effect:
    """
    What a change of setting does under one load. Changes are after less before.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Effect: ...
    @property
    def after(self, /) -> SettledBike:
        """
        As it is then.
        """
    @property
    def before(self, /) -> SettledBike:
        """
        As it was.
        """
    @property
    def loads_follow(self, /) -> bool:
        """
        Whether the loads follow the pitch, for which the heights of all masses have to be known.
        """
    @property
    def rake(self, /) -> Quantity:
        """
        Change of rake.
        """
    def rise(self, /, point: ArrayLike) -> Quantity:
        """
        How much higher a point of the frame stands.

        Parameters
        ----------
        point : pair of lengths
            In the frame axes, x forward and z up.
        """
    @property
    def trail(self, /) -> Quantity:
        """
        Change of trail along the ground.
        """
    @property
    def travel(self, /) -> dict[str, Quantity]:
        """
        Change of travel at rest, by end. A longer shock starts its travel elsewhere.
        """
    @property
    def wheelbase(self, /) -> Quantity:
        """
        Change of wheelbase.
        """

@final
class EndEffects:
    """
    What a small change of every dimension of the linkage does where the wheel has settled: one entry per dimension.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> EndEffects: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def dimensions(self, /) -> list[str]:
        """
        The dimensions: ``x of eye``, ``length of link``, ``shock length``.
        """
    @property
    def ride_height(self, /) -> Quantity:
        """
        Change of the frame's height over the axle under the same load.
        """
    @property
    def sag(self, /) -> Quantity:
        """
        Change of the sag under the same load.
        """
    @property
    def step(self, /) -> Quantity:
        """
        The change of each.
        """
    @property
    def wheel_force(self, /) -> Quantity:
        """
        Change of the wheel force at the same travel.
        """
    @property
    def wheel_rate(self, /) -> Quantity:
        """
        Change of the wheel rate at the same travel.
        """
    @property
    def wheel_rate_at_sag(self, /) -> Quantity:
        """
        Change of the wheel rate at the sag, which moves, under the same load.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class EndHistory:
    """
    The sets of one end in time.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[object, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def basis(self, /) -> str:
        """
        Which readings fit, advice and sheet are from.
        """
    @property
    def changes(self, /) -> list[Change]:
        """
        Changes that touch the end, oldest first.
        """
    @property
    def drifts(self, /) -> list[Drift]:
        """
        What drifted: between neighbours in time, and from the first set to the last where there are three or more.
        """
    @property
    def end(self, /) -> str:
        """
        Which end.
        """
    @property
    def predictions(self, /) -> list[Prediction]:
        """
        What was predicted of each change.
        """
    @property
    def sets(self, /) -> list[SetResult]:
        """
        What each set says, oldest first.
        """
    def to_json(self, /, units: str = "metric") -> str:
        """
        Tables, sentences and the points of a plot as JSON text.
        """
    def to_text(self, /, units: str = "metric", width: SupportsIndex = 100) -> str:
        """
        The history as plain text, sentences wrapped to so many characters; empty for one set of readings and no change.
        """
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """

@final
class EndMotion:
    """
    The motion of one end over time, as arrays of one length, and what came of it.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> EndMotion: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def body_rise(self, /) -> Quantity:
        """
        Rise of the sprung mass since the start.
        """
    @property
    def bottoming(self, /) -> Bottoming | None:
        """
        First time at full travel; None where it did not get there.
        """
    @property
    def energy(self, /) -> EnergyAccount:
        """
        Where the energy went.
        """
    @property
    def full_travel(self, /) -> Quantity:
        """
        Full travel of the end.
        """
    @property
    def limits(self, /) -> list[str]:
        """
        What the simulation cannot show, in sentences.
        """
    @property
    def peak_travel(self, /) -> Quantity:
        """
        Largest travel, between the instants too.
        """
    @property
    def peak_travel_time(self, /) -> Quantity:
        """
        When.
        """
    @property
    def peak_tyre_force(self, /) -> Quantity:
        """
        Largest force of the tyre among the instants.
        """
    @property
    def rest_travel(self, /) -> Quantity:
        """
        Travel at which the springs alone carry the sprung mass.
        """
    @property
    def settled_after(self, /) -> Quantity | None:
        """
        When the travel came within 5 % of its last value for good; None when it still moves at the end.
        """
    @property
    def time(self, /) -> Quantity:
        """
        Since the start.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Vertical travel from full extension.
        """
    @property
    def tyre_force(self, /) -> Quantity:
        """
        Force of the tyre on the ground; zero in the air.
        """
    @property
    def wheel_force(self, /) -> Quantity:
        """
        Force of springs, damper and friction at the wheel.
        """
    @property
    def wheel_rise(self, /) -> Quantity:
        """
        Rise of the wheel since the start.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class EndRiders:
    """
    One end under all riders of a bike.

    Made by `Study.advise_riders`.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[()]]: ...
    def __repr__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def best_for_own(self, /) -> SpringForRiders | None:
        """
        The spring that suits most riders where each turns the collar, the price of another spring counted.
        """
    @property
    def end(self, /) -> str:
        """
        Which end.
        """
    @property
    def fitted(self, /) -> SpringForRiders | None:
        """
        The spring that is in now.
        """
    @property
    def loads(self, /) -> list[tuple[str, Quantity]]:
        """
        The loads that are ridden, with the share of rides under each.
        """
    @property
    def rider_weight(self, /) -> Uncertain:
        """
        What a rider puts on this wheel: mean, and standard deviation from rider to rider.
        """
    @property
    def riders(self, /) -> Riders:
        """
        The riders.
        """
    def sentences(self, /, units: str = "metric") -> list[str]:
        """
        Which spring suits most riders, how it is set, and how sure that is.
        """
    @property
    def springs(self, /) -> list[SpringForRiders]:
        """
        Every spring, the one that suits most riders at one preload first; the one fitted now is among them.
        """
    def to_json(self, /, units: str = "metric") -> str:
        """
        The tables of the sheet as JSON text.
        """

@final
class EndScenarios:
    """
    One end under the usual load and under those of the scenarios.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[object, ...]]: ...
    def __repr__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def advised(self, /) -> SpringAcross | None:
        """
        The spring that is advised for the usual load; None where none is.
        """
    @property
    def end(self, /) -> str:
        """
        Which end.
        """
    @property
    def fitted(self, /) -> SpringAcross | None:
        """
        The spring that is in now.
        """
    @property
    def loads(self, /) -> list[ScenarioLoad]:
        """
        The loads, the usual one first.
        """
    @property
    def one_does(self, /) -> bool:
        """
        Is there a spring that is likely to do for all loads?
        """
    def sentences(self, /, units: str = "metric") -> list[str]:
        """
        Which spring serves all loads best, how sure that is, and what to turn from load to load.
        """
    @property
    def springs(self, /) -> list[SpringAcross]:
        """
        Every spring, the one that does for all loads best first; the one fitted now is among them.
        """
    @property
    def ties(self, /) -> list[SpringAcross]:
        """
        The springs that do for all loads as well as the best, within what can be known; the best itself first.
        """
    def to_json(self, /, units: str = "metric") -> str:
        """
        The tables of the sheet as JSON text.
        """

@final
class EndTravel:
    """
    What a log says of one end.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> EndTravel: ...
    @property
    def bottomings(self, /) -> int:
        """
        How often it came to full travel.
        """
    @property
    def clipped(self, /) -> Quantity:
        """
        Share of time at which the sensor was at one of its limits.
        """
    @property
    def compression_speed_rms(self, /) -> Quantity:
        """
        Root mean square of the shaft's speed while it compresses.
        """
    @property
    def correlation_time(self, /) -> Quantity | None:
        """
        Integrated autocorrelation time of the travel; None where the log is too short for it.
        """
    @property
    def duration(self, /) -> Quantity:
        """
        Time that was recorded, gaps left out.
        """
    def dynamic_sag(self, /, bike: Bike, end: End, zero: QuantityLike | None = None) -> DynamicSag:
        """
        Where the end would rest under the load that it carried on average, its damper's asymmetry taken off.

        Over a ride the mean acceleration is nothing: what springs and damper held on average is the load. Its error has that of the
        mean, of the zero, of the damper's curve, and 3 % of the load for what drag, drive, braking and slopes shift (an estimate).

        Parameters
        ----------
        bike : Bike
            The bike that was ridden.
        end : {"front", "rear"}
            The end that this is of.
        zero : length, optional
            Standard uncertainty of the sensor's zero, in travel of the wheel.
        """
    @property
    def fastest_shaft(self, /) -> Quantity:
        """
        Largest speed of the shaft, either way.
        """
    @property
    def full_travel(self, /) -> Quantity:
        """
        Full travel of the wheel.
        """
    @property
    def gap_time(self, /) -> Quantity:
        """
        Their time together.
        """
    @property
    def gaps(self, /) -> int:
        """
        Stretches between two samples that were too long to be joined.
        """
    @property
    def hardest_bottoming(self, /) -> Quantity:
        """
        Largest speed of the wheel as it came to full travel; nothing where it never did.
        """
    @property
    def mean_travel(self, /) -> Quantity:
        """
        Mean travel of the wheel.
        """
    @property
    def mean_uncertainty(self, /) -> Quantity | None:
        """
        Standard uncertainty of that mean, from its autocorrelation; None where the log is too short for it.
        """
    @property
    def missing(self, /) -> int:
        """
        Samples of them that were no number.
        """
    @property
    def near_extension(self, /) -> Quantity:
        """
        Share of time within the first twentieth of the travel.
        """
    @property
    def near_full(self, /) -> Quantity:
        """
        Share of time within its last twentieth.
        """
    @property
    def outside(self, /) -> Quantity:
        """
        Share of time at which it showed more than 2 % beyond the travel.
        """
    @property
    def rebound_speed_rms(self, /) -> Quantity:
        """
        The same while it extends.
        """
    @property
    def samples(self, /) -> int:
        """
        Samples.
        """
    @property
    def shaft_speed_histogram(self, /) -> tuple[Quantity, Quantity]:
        """
        Middles of the bins of the shaft's speed, positive in compression, and the share of time in each.
        """
    def time_below(self, /, travel: QuantityLike) -> Quantity:
        """
        Share of time below a travel.

        Parameters
        ----------
        travel : length
            Of the wheel.
        """
    @property
    def top_outs(self, /) -> int:
        """
        How often it came to full extension.
        """
    @property
    def travel_deviation(self, /) -> Quantity:
        """
        Standard deviation of the travel about its mean.
        """
    @property
    def travel_histogram(self, /) -> tuple[Quantity, Quantity]:
        """
        Middles of the bins of travel, and the share of time in each.
        """
    @property
    def wheel_speed_histogram(self, /) -> tuple[Quantity, Quantity]:
        """
        The same for the wheel.
        """

@final
class EnergyAccount:
    """
    Where the energy went between start and end.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> EnergyAccount: ...
    @property
    def by_damper(self, /) -> Quantity:
        """
        Taken by the damper.
        """
    @property
    def by_friction(self, /) -> Quantity:
        """
        Taken by friction.
        """
    @property
    def by_ground(self, /) -> Quantity:
        """
        Work that the rising ground put in.
        """
    @property
    def given_up(self, /) -> Quantity:
        """
        Energy of motion, springs, tyre and height given up.
        """
    @property
    def missing(self, /) -> Quantity:
        """
        What is missing: the error of the integration.
        """

@final
class Exponents:
    """
    The polytropic exponents of one gas: while it settles, and on a fast stroke.

    Settling takes seconds and heat flows: 1. A stroke from sag to full travel takes a tenth of a second or two, and little
    heat flows: towards 1.4, that of air and nitrogen without any. Sag, readings and the fit use the slow one; force at full
    travel, energy and drop left, landings and ride frequencies the fast one, from where the gas had settled.

    Parameters
    ----------
    slow : float
        Of gas that settles, from 1 to 1.7.
    fast : float
        Of a fast stroke, not less than the slow one.
    fast_uncertainty : float, optional
        Standard uncertainty of the fast one; 0.03 unless given.

    Notes
    -----
    Where nothing is stated, the air of a fork has 1 and 1.30 ± 0.06 (anything from 1.2 to 1.4), pumped gas (air springs,
    reservoirs) 1 and 1.35 ± 0.03 (from 1.3 to 1.4): common practice, no source.

    Examples
    --------
    >>> import wheelrate as wr
    >>> air = wr.ForkAir(sealing_diameter="47 mm", bore="43 mm", oil_level="105 mm", exponent=wr.Exponents(1.0, 1.35))
    >>> print(air.exponents.fast, air.exponents.fast_uncertainty)
    1.35 0.03
    >>> air = wr.ForkAir(sealing_diameter="47 mm", bore="43 mm", oil_level="105 mm", exponent=1.1)
    >>> print(air.exponents)  # one number sets the slow one
    Exponents(slow=1.1, fast=1.3, fast_uncertainty=0.06)
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, slow: float, fast: float, *, fast_uncertainty: float | None = None) -> Exponents: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Exponents: ...
    @property
    def fast(self, /) -> float:
        """
        Of a fast stroke: bottoming, landing, the small motion of riding.
        """
    @property
    def fast_uncertainty(self, /) -> float:
        """
        Standard uncertainty of the fast one.
        """
    @property
    def slow(self, /) -> float:
        """
        Of gas that settles: sag, readings.
        """

@final
class Fit:
    """
    What the readings of one end say: spring rate, preload, friction.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[object, ...]]: ...
    def __repr__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    @property
    def chi_square(self, /) -> tuple[float, int, float]:
        """
        Agreement of readings and labels: χ², its degrees of freedom, and the probability of as much or more by chance.
        """
    @property
    def conditions(self, /) -> list[str]:
        """
        On what all this hangs and the readings cannot decide, as sentences: a lone extended reading, a reading that is
        grossly off, a label that the springs do not keep.
        """
    @property
    def correlation(self, /) -> Numbers:
        """
        Correlation of rate, preload and friction, in this order.
        """
    @property
    def end(self, /) -> str:
        """
        Which end.
        """
    @property
    def extended(self, /) -> Uncertain | None:
        """
        Distance at full extension; None without readings, and where all of them are of a zeroed gauge.
        """
    def findings(self, /, units: str = "metric") -> list[str]:
        """
        What was noticed about the readings, as sentences.

        Parameters
        ----------
        units : {"metric", "kilogram-force", "inch"}
            Units of the sentences.
        """
    @property
    def friction(self, /) -> Uncertain:
        """
        Friction force at the wheel, either way.
        """
    @property
    def from_readings(self, /) -> dict[str, Quantity]:
        """
        How far the readings, and not the labels, decide each number.
        """
    @property
    def loads(self, /) -> list[FittedLoad]:
        """
        Loads, lightest first, with their sags.
        """
    @property
    def preload(self, /) -> Uncertain:
        """
        Preload of the first main spring.
        """
    @property
    def rate(self, /) -> Uncertain:
        """
        Rate of all main springs together.
        """
    @property
    def rate_factor(self, /) -> Uncertain:
        """
        Common factor on the rates as labelled.
        """
    @property
    def springs(self, /) -> list[Uncertain]:
        """
        Rate of each main spring, twins repeated.
        """
    def to_json(self, /) -> str:
        """
        The fit as JSON text, quantities as text with units.
        """
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def covariance(self: Fit, units: str = "metric") -> Numbers:
        """
        Give the covariance of rate, preload and friction, in this order.

        Parameters
        ----------
        units : {"metric", "si", "kilogram-force", "inch"}, optional
            Of the three: in metric units N/mm, mm and N.

        Returns
        -------
        array of 3 by 3

        Examples
        --------
        >>> import wheelrate as wr
        >>> fit = wr.demo().fit_end("rear")
        >>> fit.covariance().round(3).tolist()[0]
        [0.735, -0.277, 0.623]
        """
    def draws(self: Fit, count: int = 1000, seed: int = 0) -> dict[str, Quantity]:
        """
        Draw rates, preloads and frictions from the fit: normal, with its correlations; the same for the same seed.

        Parameters
        ----------
        count : int, optional
            How many.
        seed : int, optional
            Start of the random numbers.

        Returns
        -------
        dict of str to array
            ``rate``, ``preload`` and ``friction``, one number a draw.

        Examples
        --------
        >>> import wheelrate as wr
        >>> drawn = wr.demo().fit_end("rear").draws(4000)
        >>> print(drawn["rate"].mean().round(1), drawn["rate"].std().round(1))
        50.8 newton / millimeter 0.9 newton / millimeter
        """

@final
class FittedLoad:
    """
    A load with the sag that follows.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> FittedLoad: ...
    @property
    def fitted(self, /) -> Uncertain:
        """
        The same with what the readings say of it.
        """
    @property
    def load(self, /) -> str:
        """
        What stands on the wheels.
        """
    @property
    def sag(self, /) -> Uncertain:
        """
        Vertical sag where the spring force equals the load; below zero the end is topped out by that much.
        """
    @property
    def stated(self, /) -> Uncertain:
        """
        Sprung load at the wheel, from the scales.
        """

@final
class Fork:
    """
    Two legs on one stroke, along the steering axis.

    Parameters
    ----------
    full_stroke : length
        Along the fork, from full extension to full compression.
    rake : angle
        Of the steering axis from the vertical.
    leg, other_leg : ForkLeg
        The two legs; the other one is the same unless given.
    rake_uncertainty : angle, optional
        Standard uncertainty of the rake: fit and advice then hold it. Exact unless given.

    Examples
    --------
    >>> import wheelrate as wr
    >>> exponents = wr.Exponents(1.0, 1.35)
    >>> air = wr.ForkAir(sealing_diameter="47 mm", bore="43 mm", oil_level="105 mm", exponent=exponents)
    >>> leg = wr.ForkLeg(wr.Preloaded("4.8 N/mm", "6 mm"), air)
    >>> fork = wr.Fork("290 mm", "26.5 deg", leg)
    >>> print(fork.at("100 mm").force.round(0))
    1144.0 newton
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, full_stroke: QuantityLike, rake: QuantityLike, leg: ForkLeg, other_leg: ForkLeg | None = None, *, rake_uncertainty: QuantityLike | None = None) -> Fork: ...
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
    def bush_loads(self, /, strokes: ArrayLike | None = None, *, braking: QuantityLike | None = None, radius: QuantityLike | None = None, unsprung: QuantityLike | None = None) -> BushLoads:
        """
        What the bushes take at some strokes, and their friction: under the load that the springs balance there.

        Parameters
        ----------
        strokes : array of length, optional
            Along the fork, from full extension; evenly over the whole range unless given.
        braking : share, optional
            FrontBrake force as a share of the wheel's load on the ground; not braked unless given.
        radius : length, optional
            Height of the axle over the ground, for the torque of the caliper.
        unsprung : force, optional
            Weight of what the fork does not carry.

        Returns
        -------
        BushLoads
        """
    @property
    def bushes(self, /) -> Bushes | None:
        """
        Its bushes, where stated.
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
    @property
    def damper(self, /) -> Damper | None:
        """
        The dampers of both legs together, along the fork; None where neither leg has one.
        """
    def describe(self, /) -> str:
        """
        Say what it is, in words and numbers.
        """
    def fast_at(self, /, rest: QuantityLike, stroke: QuantityLike) -> AxialState:
        """
        Force, rate and energy at a stroke reached fast, in a tenth of a second or two, from where it had settled.

        The gas answers with its fast exponent from the pressure that it had at rest; springs and stops are as they
        are slowly. The energy is that of the rest and the work done since.

        Parameters
        ----------
        rest : length
            Stroke at which it had come to rest.
        stroke : length
            Shortening from full extension.

        Returns
        -------
        AxialState
        """
    def fast_curve(self, /, rest: QuantityLike, strokes: ArrayLike) -> AxialCurve:
        """
        Force, rate and energy over many strokes, all reached fast from one rest.

        Parameters
        ----------
        rest : length
            Stroke at which it had come to rest.
        strokes : array of length
            Shortenings from full extension.

        Returns
        -------
        AxialCurve
        """
    def fast_gas_at(self, /, rest: QuantityLike, stroke: QuantityLike) -> AxialState:
        """
        The gas alone at a stroke reached fast from rest at another.
        """
    def fast_rate_at(self, /, stroke: QuantityLike) -> Quantity:
        """
        Rate of a small fast movement about a stroke at which it has come to rest: there the gas answers with
        ``fast/slow`` times its slow rate.
        """
    @property
    def friction(self, /) -> Quantity | None:
        """
        Friction of both legs together, along the fork; None where none is stated. Times the motion ratio it is felt at the wheel.
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
    def main_spring(self, /) -> MainSpring | None:
        """
        All main springs together; None where there is none.
        """
    @property
    def motion_ratio(self, /) -> Quantity:
        """
        Motion ratio at the wheel, ``1/cos(rake)``.
        """
    def oil_level_change_for_force(self, /, force: QuantityLike, rest: QuantityLike, permitted: tuple[QuantityLike, QuantityLike]) -> Quantity:
        """
        The change of oil level that gives this force of the whole fork at full stroke reached fast, springs and stops
        included.

        Parameters
        ----------
        force : force
            Along the fork.
        rest : length
            Stroke at which the fork had come to rest before.
        permitted : pair of lengths
            Least and most level that the fork may be filled to.

        Examples
        --------
        >>> import wheelrate as wr
        >>> air = wr.ForkAir(sealing_diameter="47 mm", bore="43 mm", oil_level="105 mm")
        >>> fork = wr.Fork("290 mm", "26.5 deg", wr.ForkLeg(wr.Preloaded("4.8 N/mm", "6 mm"), air))
        >>> print(fork.oil_level_change_for_force("4.2 kN", "70 mm", ("70 mm", "140 mm")).round(2))
        32.08 millimeter
        """
    def oil_level_change_to_match(self, /, like: Fork, rest: QuantityLike, part: tuple[QuantityLike, QuantityLike], permitted: tuple[QuantityLike, QuantityLike]) -> LevelOffset:
        """
        The change of oil level with which this fork does the same work as another over a part of the stroke, both fast from
        rest at one stroke.

        Parameters
        ----------
        like : Fork
            The fork it should feel like: the same with other springs, say.
        rest : length
            Stroke at which both had come to rest before.
        part : pair of lengths
            From which stroke to which.
        permitted : pair of lengths
            Least and most level that the fork may be filled to.

        Returns
        -------
        LevelOffset
        """
    @property
    def rake(self, /) -> Quantity:
        """
        Angle of the steering axis from the vertical.
        """
    @property
    def rake_uncertainty(self, /) -> Quantity | None:
        """
        Standard uncertainty of the rake, where stated.
        """
    def running_in(self, /, conditions: Conditions) -> Fork:
        """
        The fork with its air running in these conditions.
        """
    def springs_at(self, /, stroke: QuantityLike) -> AxialState:
        """
        The main springs alone at a stroke.
        """
    def with_bushes(self, /, bushes: Bushes) -> Fork:
        """
        The fork with its bushes where these are.
        """
    def with_exponents(self, /, exponents: Exponents) -> Fork:
        """
        The fork with these exponents for all its gas.
        """
    def with_oil_level_change(self, /, change: QuantityLike) -> Fork:
        """
        The fork with this much more oil level in every leg with air. More level is more air, and less oil.
        """
    def with_spring_change(self, /, rate_factor: float, preload_change: QuantityLike) -> Fork:
        """
        The fork with every main spring's rate times a factor, and more (or less) preload on each.
        """
    def with_spring_rate(self, /, rate: QuantityLike, preload: QuantityLike) -> Fork:
        """
        The fork with coil springs of this rate (each) and preload in place of its main springs.
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
    exponent : float or Exponents, optional
        Both exponents, or the slow one alone; 1 and 1.30 ± 0.06 unless given.
    steel_volume : volume, optional
        All that is put in after the level was read.
    pressure : gauge pressure, optional
        Pumped up to at full extension.
    sealed, running : Conditions, optional
        When it was sealed, and now.

    Examples
    --------
    >>> import wheelrate as wr
    >>> air = wr.ForkAir(sealing_diameter="47 mm", bore="43 mm", oil_level="105 mm", steel_volume="60 cm3")
    >>> print(air.compressed_volume.round(1), air.least_oil_level.round(1))
    92.5 centimeter ** 3 41.3 millimeter
    >>> print(air.for_force("290 mm", "70 mm", "900 N").oil_level.round(1))
    148.8 millimeter
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, *, sealing_diameter: QuantityLike, bore: QuantityLike, oil_level: QuantityLike, exponent: float | Exponents | None = None, steel_volume: QuantityLike | None = None, pressure: QuantityLike | None = None, sealed: Conditions | None = None, running: Conditions | None = None) -> ForkAir: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> ForkAir: ...
    @property
    def bore(self, /) -> Quantity:
        """
        Bore of the tube the level is read in.
        """
    def chamber(self, /, travel: QuantityLike) -> Chamber:
        """
        The sealed chamber of a leg with this travel, settled.
        """
    @property
    def compressed_volume(self, /) -> Quantity:
        """
        Air left at full compression.
        """
    @property
    def exponents(self, /) -> Exponents:
        """
        Polytropic exponents.
        """
    def for_force(self, /, travel: QuantityLike, rest: QuantityLike, force: QuantityLike) -> ForkAir:
        """
        The same air over the oil level that gives this air force at full travel, reached fast.

        Parameters
        ----------
        travel : length
            Along the fork.
        rest : length
            Stroke at which the fork had come to rest before.
        force : force
            Of the air of this leg alone, at full travel.
        """
    @property
    def least_oil_level(self, /) -> Quantity:
        """
        The level at which the air just lasts to full travel. A level has to be more than this.
        """
    def level_with_steel_in(self, /, steel_length: QuantityLike) -> Quantity:
        """
        The level that shows with the steel in place, where it reaches from the bottom to above the oil.

        Parameters
        ----------
        steel_length : length
            Of spring and spacer together, fork compressed; their volume is taken as spread evenly over it.

        Examples
        --------
        >>> import wheelrate as wr
        >>> air = wr.ForkAir(sealing_diameter="47 mm", bore="43 mm", oil_level="140 mm", steel_volume="60 cm3")
        >>> shown = air.level_with_steel_in("450 mm")
        >>> print(shown.round(1))
        108.7 millimeter
        >>> print(air.with_level_read_steel_in(shown, "450 mm").oil_level.round(1))
        140.0 millimeter
        """
    @property
    def oil_level(self, /) -> Quantity:
        """
        Oil level, spring out, fork fully compressed.
        """
    @property
    def pressure(self, /) -> Quantity:
        """
        Gauge pressure at full extension, when sealed.
        """
    def running_in(self, /, conditions: Conditions) -> ForkAir:
        """
        The same air running in these conditions.
        """
    @property
    def sealing_diameter(self, /) -> Quantity:
        """
        Diameter on which the leg seals.
        """
    @property
    def steel_volume(self, /) -> Quantity:
        """
        Steel put in after the level was read.
        """
    def with_exponents(self, /, exponents: Exponents) -> ForkAir:
        """
        The same air with these exponents.
        """
    def with_level_read_steel_in(self, /, level: QuantityLike, steel_length: QuantityLike) -> ForkAir:
        """
        The same air by a level read with the steel in place: the inverse of `level_with_steel_in`.
        """
    def with_oil_level(self, /, oil_level: QuantityLike) -> ForkAir:
        """
        The same air over another oil level.
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
    air_spring : AirSpring, optional
        Air in place of a coil spring.
    bump_stop, top_out : Stop, optional
        Springs near full compression and near full extension.
    friction : force, optional
        Of the seals, along the leg. It is kept out of the spring curves.
    damper : Damper, optional
        Along the leg. It acts in motion only.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, spring: Preloaded | None = None, air: ForkAir | None = None, *, air_spring: AirSpring | None = None, bump_stop: Stop | None = None, top_out: Stop | None = None, friction: QuantityLike | None = None, damper: Damper | None = None) -> ForkLeg: ...
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
    def air_spring(self, /) -> AirSpring | None:
        """
        Air in place of a coil spring, where there is some.
        """
    @property
    def bump_stop(self, /) -> Stop | None:
        """
        Bump stop, where there is one.
        """
    @property
    def damper(self, /) -> Damper | None:
        """
        Damper, where there is one.
        """
    @property
    def friction(self, /) -> Quantity | None:
        """
        Friction of the seals, where stated.
        """
    @property
    def spring(self, /) -> Preloaded | None:
        """
        Main spring, where there is one.
        """
    @property
    def top_out(self, /) -> Stop | None:
        """
        Top-out spring, where there is one.
        """

@final
class FrontEnd:
    """
    The front end: a fork at its rake. One on links is made by `FrontEnd.linked`.

    Parameters
    ----------
    fork : Fork
        The fork.
    axle : pair of lengths, optional
        The axle at full extension in the frame axes, x forward and z up.
    raised : length, optional
        How far the tubes are raised in their clamps from where the axle was placed.

    Examples
    --------
    >>> import wheelrate as wr
    >>> leg = wr.ForkLeg(wr.Preloaded("4.8 N/mm", "6 mm"))
    >>> end = wr.FrontEnd(wr.Fork("290 mm", "26.5 deg", leg))
    >>> print(end.wheel_rate("100 mm").round(3))  # 2 × 4.8 N/mm / cos²(26.5°)
    11.986 newton / millimeter
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, fork: Fork, axle: ArrayLike | None = None, raised: QuantityLike | None = None) -> FrontEnd: ...
    def __reduce__(self, /) -> tuple[object, tuple[object, ...]]: ...
    def __repr__(self, /) -> str: ...
    def at(self, /, travel: QuantityLike) -> WheelState:
        """
        Everything at one vertical travel.

        Parameters
        ----------
        travel : length
            From full extension.

        Returns
        -------
        WheelState
        """
    def axle(self, /, travel: QuantityLike) -> Quantity:
        """
        Position of the axle in the frame axes, x forward and z up.
        """
    @property
    def caliper(self, /) -> str | None:
        """
        The body of the linkage with the caliper of the front brake, where it is stated.
        """
    def curve(self, /, travels: ArrayLike | None = None) -> WheelCurve:
        """
        Everything over many vertical travels, as arrays.

        Parameters
        ----------
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.

        Returns
        -------
        WheelCurve
        """
    def fast_at(self, /, rest: QuantityLike, travel: QuantityLike) -> WheelState:
        """
        Everything at one travel reached fast, in a tenth of a second or two, from where the end had settled.

        The gas answers with its fast exponent from the pressure that it had at rest; springs, stops and linkage are
        as they are slowly. The energy is that of the rest and the work done since.

        Parameters
        ----------
        rest : length
            Vertical travel at which the end had come to rest.
        travel : length
            From full extension.

        Returns
        -------
        WheelState
        """
    def fast_curve(self, /, rest: QuantityLike, travels: ArrayLike | None = None) -> WheelCurve:
        """
        Everything over many vertical travels, all reached fast from one rest.

        Parameters
        ----------
        rest : length
            Vertical travel at which the end had come to rest.
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.

        Returns
        -------
        WheelCurve
        """
    @property
    def fork(self, /) -> Fork:
        """
        The fork; an end on links has none.
        """
    @property
    def full_travel(self, /) -> Quantity:
        """
        Vertical travel from full extension to full compression.
        """
    @property
    def is_linked(self, /) -> bool:
        """
        Is the wheel on links, and not on a fork?
        """
    @property
    def kinks(self, /) -> Quantity:
        """
        Travels at which the rate jumps, in rising order.
        """
    @property
    def linkage(self, /) -> Linkage:
        """
        The linkage; a fork has none.
        """
    @staticmethod
    def linked(linkage: Linkage, shock: Shock, rake: QuantityLike, steering_body: str | None = None, caliper: str | None = None, point_uncertainty: QuantityLike | None = None, shock_length_uncertainty: QuantityLike | None = None) -> FrontEnd:
        """
        A front end on links: leading or trailing links, a girder, a double link, with the wheel straight ahead.

        Parameters
        ----------
        linkage : Linkage
            Made for a shock of this length and stroke. What turns with the handlebar and carries the links is its ``frame``.
        shock : Shock
            The shock, or two struts alike.
        rake : angle
            Of the steering axis from the vertical, at full extension.
        steering_body : str, optional
            The body that the steering axis lies in: one with the axle on it where an upright is steered at its own joints;
            ``frame`` unless given.
        caliper : str, optional
            The body with the caliper of the front brake, for anti-dive: one with the axle on it, or ``frame`` where a rod parallel
            to the link holds it.
        point_uncertainty : length, optional
            Standard uncertainty of every coordinate: fit and advice then hold it. Exact unless given.
        shock_length_uncertainty : length, optional
            That of the shock's length, beside it. Exact unless given.

        Returns
        -------
        FrontEnd

        Examples
        --------
        >>> import wheelrate as wr
        >>> points = {"pivot": ("700 mm", "0 mm"), "axle": ("820 mm", "0 mm"), "top": ("820 mm", "350 mm")}
        >>> link = wr.Mechanism(points, {"frame": ["pivot", "top"], "link": ["pivot", "axle"]})
        >>> shock = wr.Shock("380 mm", "80 mm", spring=wr.Preloaded("12 N/mm", "5 mm"), count=2)
        >>> linkage = wr.Linkage(link, "axle", ("axle", "top"), shock_length="380 mm", stroke="80 mm")
        >>> end = wr.FrontEnd.linked(linkage, shock, "27 deg")
        >>> level = end.linkage.drawn_travel  # the struts are square to the link there: one to one
        >>> print(end.at(level).motion_ratio.round(3))
        1.0
        """
    @property
    def point_uncertainty(self, /) -> Quantity | None:
        """
        Standard uncertainty of every coordinate of the linkage, where stated.
        """
    @property
    def raised(self, /) -> Quantity:
        """
        How far the tubes of a fork are raised in their clamps from where the axle was placed.
        """
    @property
    def rake(self, /) -> Quantity:
        """
        Rake of the steering axis at full extension.
        """
    def reserve(self, /, load: QuantityLike, travel: QuantityLike | None = None) -> Reserve:
        """
        What the end can still take in from this travel on, under a load: it has settled there, and goes on fast.

        Parameters
        ----------
        load : force
            At the wheel.
        travel : length, optional
            Where it stands; full extension unless given, which is a drop onto unloaded wheels.

        Returns
        -------
        Reserve
        """
    @property
    def shock(self, /) -> Shock:
        """
        The shock in the linkage; a fork has none.
        """
    @property
    def shock_length_uncertainty(self, /) -> Quantity | None:
        """
        Standard uncertainty of the shock's length, where that of the points is stated.
        """
    def steering_axis(self, /, fork_offset: QuantityLike, radius: QuantityLike, travels: ArrayLike | None = None) -> SteeringAxis:
        """
        Rake, offset and trail over travel, the frame in its reference attitude: a fork keeps them, links do not.

        Parameters
        ----------
        fork_offset : length
            Distance of the axle ahead of the steering axis at full extension, square to the axis.
        radius : length
            Height of the axle above the ground.
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.

        Returns
        -------
        SteeringAxis
        """
    @property
    def steering_body(self, /) -> str:
        """
        The body that the steering axis lies in: ``frame``, or one of the linkage.
        """
    def travel_under(self, /, load: QuantityLike) -> Settling:
        """
        Where the wheel comes to rest under a vertical load on the springs, friction left out.

        Parameters
        ----------
        load : force
            Sprung load at the wheel.

        Returns
        -------
        Settling
        """
    def wheel_force(self, /, travel: AnyShape) -> Quantity:
        """
        Vertical force at the wheel at one travel or an array of any shape.
        """
    def wheel_rate(self, /, travel: AnyShape) -> Quantity:
        """
        Rate at the wheel, the geometric term included, at one travel or an array of any shape; `curve` gives all
        there is over a row of travels.
        """
    def with_spring_change(self, /, rate_factor: float, preload_change: QuantityLike) -> FrontEnd:
        """
        The end with every main spring's rate times a factor, and more (or less) preload on each.
        """
    def with_spring_rate(self, /, rate: QuantityLike, preload: QuantityLike) -> FrontEnd:
        """
        The end with springs of this rate (each) and preload in place of its main springs.
        """

@final
class GeometryDoubt:
    """
    How surely rake and trail of a standing bike are known: standard uncertainties.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> GeometryDoubt: ...
    @property
    def rake(self, /) -> Quantity:
        """
        Of the rake.
        """
    @property
    def trail(self, /) -> Quantity:
        """
        Of the trail.
        """

@final
class HalfBike:
    """
    The sprung mass between its ends, wheels moving straight up and down.

    Parameters
    ----------
    sprung : mass
        Rider and luggage included.
    pitch_inertia : moment of inertia
        Of the sprung mass about its centre of gravity.
    front, rear : HalfBikeEnd
        The ends.

    Examples
    --------
    >>> import wheelrate as wr
    >>> front, rear = wr.HalfBikeEnd("0.75 m", "6.5 N/mm"), wr.HalfBikeEnd("0.7 m", "8.3 N/mm")
    >>> half = wr.HalfBike(sprung="190 kg", pitch_inertia="48 kg m2", front=front, rear=rear)
    >>> for mode in half.modes():
    ...     print(mode.kind, mode.frequency.round(2))
    bounce 1.39 hertz
    pitch 2.03 hertz
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, *, sprung: QuantityLike, pitch_inertia: QuantityLike, front: HalfBikeEnd, rear: HalfBikeEnd) -> HalfBike: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> HalfBike: ...
    @property
    def dynamic_index(self, /) -> Quantity:
        """
        ``I/(m·a·b)``: at one, each end bounces on its own.
        """
    @property
    def front(self, /) -> HalfBikeEnd:
        """
        The front end.
        """
    def modes(self, /) -> list[Mode]:
        """
        The modes in rising frequency, undamped.
        """
    @property
    def pitch_inertia(self, /) -> Quantity:
        """
        Of the sprung mass about its centre of gravity.
        """
    @property
    def rear(self, /) -> HalfBikeEnd:
        """
        The rear end.
        """
    @property
    def sprung(self, /) -> Quantity:
        """
        Sprung mass.
        """

@final
class HalfBikeEnd:
    """
    One end of a `HalfBike`.

    Parameters
    ----------
    distance : length
        Of the axle from the sprung centre of gravity, along the ground.
    rate : wheel rate
        At the travel in question.
    tyre : wheel rate, optional
        Rigid unless given.
    unsprung : mass, optional
        With a tyre it gives the end a hop mode.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, distance: QuantityLike, rate: QuantityLike, *, tyre: QuantityLike | None = None, unsprung: QuantityLike | None = None) -> HalfBikeEnd: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> HalfBikeEnd: ...
    @property
    def distance(self, /) -> Quantity:
        """
        From the centre of gravity, along the ground.
        """
    @property
    def rate(self, /) -> Quantity:
        """
        At the wheel.
        """
    @property
    def tyre(self, /) -> Quantity | None:
        """
        Vertical rate of the tyre; None for a rigid one.
        """
    @property
    def unsprung(self, /) -> Quantity | None:
        """
        Mass below the spring; None where it is not given.
        """

@final
class Idler:
    """
    A wheel in the frame that leads the upper run of a chain.

    Parameters
    ----------
    centre : pair of lengths
        Its centre in the frame axes.
    radius : length
        Its pitch radius; of a smooth roller, its radius with half the chain's height.
    passes : {"over", "under"}
        Where the chain passes.

    Examples
    --------
    >>> import wheelrate as wr
    >>> idler = wr.Idler(["-20 mm", "60 mm"], "30 mm", "over")
    >>> chain = wr.Sprockets(["88 mm", "4 mm"], (13, 49), "15.875 mm", idler=idler)
    >>> chain.idler.radius.m
    30.0
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs__(self, /) -> tuple[list[str], str, str]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, centre: ArrayLike, radius: QuantityLike, passes: str) -> Idler: ...
    def __repr__(self, /) -> str: ...
    @property
    def centre(self, /) -> Quantity:
        """
        Its centre in the frame axes.
        """
    @property
    def passes(self, /) -> str:
        """
        ``over`` or ``under``.
        """
    @property
    def radius(self, /) -> Quantity:
        """
        Its pitch radius.
        """

@final
class Legs:
    """
    A rider who stands on legs that bend, over the centre of gravity.

    Parameters
    ----------
    mass : mass
        What stands on them; part of what the load has.
    rate : spring rate
        Of the legs: a rider who sinks by 10 cm under twice his weight has about 7 N/mm (an estimate, no source).
    damping : damping rate
        Of the legs.

    Examples
    --------
    >>> import wheelrate as wr
    >>> legs = wr.Legs("80 kg", "7 N/mm", "700 N s/m")
    >>> whole = wr.demo().whole
    >>> stiff, soft = whole.land("500 mm"), whole.land("500 mm", legs=legs)
    >>> bool(soft.ends["rear"].peak_travel < stiff.ends["rear"].peak_travel)
    True
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, mass: QuantityLike, rate: QuantityLike, damping: QuantityLike) -> Legs: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Legs: ...
    @property
    def damping(self, /) -> Quantity:
        """
        Their damping.
        """
    @property
    def mass(self, /) -> Quantity:
        """
        What stands on them.
        """
    @property
    def rate(self, /) -> Quantity:
        """
        Their rate.
        """

@final
class LevelOffset:
    """
    A change of oil level that makes up for a change of spring over a part of the stroke.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> LevelOffset: ...
    @property
    def at(self, /) -> Quantity:
        """
        Stroke at which it is left over.
        """
    @property
    def change(self, /) -> Quantity:
        """
        In every leg with air; below zero is more oil.
        """
    @property
    def difference(self, /) -> Quantity:
        """
        Greatest force left over within the part: changed fork less the one it should feel like.
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
    >>> linkage = wr.Linkage(mechanism, "axle", ("top", "eye"), shock_length="398 mm", stroke="90 mm")
    >>> print(linkage.full_travel.round(1))
    230.1 millimeter
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, mechanism: Mechanism, wheel: str, shock: tuple[str, str], *, shock_length: QuantityLike, stroke: QuantityLike) -> Linkage: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Linkage: ...
    def anti_rise(self, /, caliper: str, travels: ArrayLike | None = None, *, wheel_radius: QuantityLike, cg_height: QuantityLike, wheelbase: QuantityLike) -> AntiRise:
        """
        What the rear brake does over travel, from the geometry alone.

        Parameters
        ----------
        caliper : str
            The body that carries the caliper: one with the axle on it, or ``frame`` where a rod parallel to the swingarm holds it.
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.
        wheel_radius : length
            Of the rear wheel, axle to ground.
        cg_height : length
            Height of the centre of gravity above ground.
        wheelbase : length
            Contact to contact.

        Returns
        -------
        AntiRise
        """
    def at(self, /, travel: QuantityLike) -> LinkagePoint:
        """
        Stroke, motion ratio, its slope and the axle at one travel.
        """
    def columns(self, /, travels: ArrayLike | None = None, *, columns: SupportsGetItem[int, str] | None = None, out: dict[str, Numbers] | None = None) -> dict[str, Numbers]:
        """
        The linkage over many travels as plain arrays in SI units, the unit in each name.

        As ``curve(travels).columns()``, without anything in between: each column is written once.

        Parameters
        ----------
        travels : array of length, optional
            From full extension; evenly over the whole range unless they are given.
        columns : list of str, optional
            Which: ``travel``, ``stroke``, ``motion_ratio``, ``motion_ratio_slope``, ``axle_x``, ``axle_z``; all of them unless
            given.
        out : dict of str to array, optional
            What an earlier call gave, for as many travels. It is written over and given back.

        Examples
        --------
        >>> import wheelrate as wr
        >>> linkage = wr.demo().rear.linkage
        >>> found = linkage.columns(["0 mm", "102 mm"], columns=["motion_ratio"])
        >>> print(found["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        >>> linkage.columns(["0 mm", "200 mm"], out=found) is found
        True
        """
    def curve(self, /, travels: ArrayLike | None = None) -> LinkageCurve:
        """
        The same over many travels, as arrays; evenly over the whole range unless they are given.
        """
    def design(self, /, free: dict[str, tuple[QuantityLike, QuantityLike]], *, progression: tuple[QuantityLike, QuantityLike] | None = None, full_travel: tuple[QuantityLike, QuantityLike] | None = None, motion_ratio: tuple[ArrayLike, ArrayLike, QuantityLike] | None = None) -> Design:
        """
        The dimensions inside their bounds that meet the targets best.

        Least squares with exact derivatives, from the dimensions as they are and from points spread over the bounds. A
        target out of reach is no error: see `Design.is_reached` and `Design.in_the_way`.

        Parameters
        ----------
        free : dict of str to pair of lengths
            Dimensions that may move, with their bounds: ``{"z of link_frame": ("-110 mm", "-90 mm")}``. Coordinates,
            lengths of links, or ``"shock length"``; all others stay. Beside the length of a link, only points on the frame
            alone may move.
        progression : pair of shares, optional
            Wanted over the whole travel, and the tolerance: ``("35 %", "0.5 %")``.
        full_travel : pair of lengths, optional
            Wanted, and the tolerance.
        motion_ratio : tuple, optional
            Travels, the motion ratios wanted there, and the tolerance of each.

        Returns
        -------
        Design

        Examples
        --------
        >>> import wheelrate as wr
        >>> design = wr.demo().rear.linkage.design(
        ...     {"x of link_frame": ("-100 mm", "-40 mm"), "z of link_frame": ("-120 mm", "-80 mm")},
        ...     progression=("40 %", "0.5 %"),
        ... )
        >>> design.is_reached
        True
        """
    @property
    def dimensions(self, /) -> list[str]:
        """
        All dimensions: coordinates of points, lengths of links, length of the shock.
        """
    @property
    def drawn_travel(self, /) -> Quantity:
        """
        The travel that the drawn coordinates describe; it may lie outside the working range.
        """
    def effects(self, /, travel: QuantityLike, step: QuantityLike | None = None) -> LinkageEffects:
        """
        What a small change of every dimension does at one travel, to first order, by exact derivatives.

        A link longer by the step is taken with everything else as it is; a moved point changes all lengths that end in it.

        Parameters
        ----------
        travel : length
            From full extension, which moves with the dimension.
        step : length, optional
            How much each dimension changes.

        Returns
        -------
        LinkageEffects

        Examples
        --------
        >>> import wheelrate as wr
        >>> effects = wr.demo().rear.linkage.effects("100 mm")
        >>> longer = effects.dimensions.index("length of link")
        >>> print(f"{effects.motion_ratio[longer]:.4f~}")
        0.0006
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
    def instant_centre(self, /, body: str, travel: QuantityLike) -> Quantity | None:
        """
        The point that a body turns about at one travel, the frame held; None for a body that does not turn there.

        Parameters
        ----------
        body : str
            A body of the mechanism.
        travel : length
            From full extension.

        Returns
        -------
        array of length or None

        Examples
        --------
        >>> import wheelrate as wr
        >>> linkage = wr.demo().rear.linkage
        >>> print(linkage.instant_centre("rocker", "100 mm").round(0))
        [498.0 53.0] millimeter
        """
    def mass_shares(self, /, bodies: dict[str, tuple[QuantityLike, ArrayLike] | tuple[QuantityLike, ArrayLike, QuantityLike]], shock: QuantityLike | None = None, travels: ArrayLike | None = None) -> MassShares:
        """
        Shares of the masses of swingarm, rocker, links and shock at the wheel, from the mechanism's own velocities.

        Parameters
        ----------
        bodies : dict of str to tuple
            For each body its mass, its centre of gravity in the drawing, and, where it is known, its moment of inertia
            about that centre (zero without it).
        shock : mass, optional
            Of the shock with its spring, spread evenly over its length; none unless given.
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.

        Returns
        -------
        MassShares

        Examples
        --------
        >>> import wheelrate as wr
        >>> linkage = wr.demo().rear.linkage
        >>> shares = linkage.mass_shares({"swingarm": ("5.6 kg", ["-290 mm", "-80 mm"], "0.21 kg m2")}, "4.1 kg")
        >>> print(shares.gravity[0].round(2), shares.inertia[0].round(2))
        3.63 kilogram 2.42 kilogram
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
    def ranking(self, /, step: QuantityLike | None = None) -> dict[str, Quantity]:
        """
        Dimensions by what they do to the motion ratio, the greatest first.

        Parameters
        ----------
        step : length, optional
            How much each dimension changes.

        Returns
        -------
        dict of str to quantity
            Relative change of the motion ratio for that step, root mean square over the travel.
        """
    def redrawn(self, /, coordinates: dict[str, ArrayLike]) -> LinkageFamily:
        """
        Many linkages like this one, its shock with them, each with its own place for some coordinates of the drawing; made in
        one call on all cores, each checked as a linkage drawn alone is.

        Parameters
        ----------
        coordinates : dict of array of length
            By ``point.x`` or ``point.z``: one place for each linkage.

        Returns
        -------
        LinkageFamily
            A linkage that cannot be made gives NaN, and its ``reasons`` say why.

        Examples
        --------
        >>> import wheelrate as wr
        >>> linkage = wr.demo().rear.linkage
        >>> family = linkage.redrawn({"link_frame.z": ([-102, -98, -94, 900], "mm")})
        >>> print(family.at("100 mm").motion_ratio.round(3))
        [0.381 0.377 0.372 nan] dimensionless
        >>> family.reasons[0] is None, "shock" in family.reasons[3]
        (True, True)
        """
    @property
    def shock(self, /) -> tuple[str, str]:
        """
        The two points that the shock joins.
        """
    @property
    def shock_length(self, /) -> Quantity:
        """
        Length of the extended shock, eye to eye.
        """
    def squat(self, /, drive: ChainDrive, travels: ArrayLike | None = None) -> Squat:
        """
        Chain line and squat over travel.

        Parameters
        ----------
        drive : ChainDrive
            Sprockets, wheel and centre of gravity.
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.

        Returns
        -------
        Squat
        """
    @property
    def wheel(self, /) -> str:
        """
        The point that is the axle.
        """
    def with_link_length(self, /, body: str, length: QuantityLike) -> Linkage:
        """
        The same linkage with one link of another length, its wheel drawn at the same height.

        Parameters
        ----------
        body : str
            A body with two points.
        length : length
            Between them.

        Examples
        --------
        >>> import wheelrate as wr
        >>> linkage = wr.demo().rear.linkage
        >>> print(linkage.with_link_length("link", "176 mm").full_travel.round(1))
        297.9 millimeter
        """
    def with_pivot_uncertainty(self, /, coordinate: QuantityLike, shock_length: QuantityLike | None = None, travels: ArrayLike | None = None) -> UncertainCurve:
        """
        The curve with the uncertainty that measured pivots give it, to first order (JCGM 100:2008).

        Parameters
        ----------
        coordinate : length
            Standard uncertainty of every coordinate.
        shock_length : length, optional
            Standard uncertainty of the shock's length; known exactly unless given.
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.

        Returns
        -------
        UncertainCurve
        """
    def with_surveyed_pivots(self, /, survey: Survey, shock_length: QuantityLike | None = None, travels: ArrayLike | None = None) -> UncertainCurve:
        """
        The curve with the uncertainty that surveyed pivots give it, all their correlations in it (JCGM 100:2008, 5.2.2).

        Parameters
        ----------
        survey : Survey
            Its points by the names of this linkage's; points that are not in it are exact.
        shock_length : length, optional
            Standard uncertainty of the shock's length; known exactly unless given.
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.

        Returns
        -------
        UncertainCurve
        """
    def _repr_html_(self: Linkage) -> str: ...

@final
class LinkageCurve:
    """
    A linkage over many travels, as arrays of one length.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> LinkageCurve: ...
    def _rows(self, /) -> tuple[object, ...]:
        """
        As `rows!`, each column written once: a curve may be a million long.
        """
    @property
    def axle_slope(self, /) -> Numbers:
        """
        ``dx/dz`` of the axle: positive where it moves forward as it rises.
        """
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
    def stroke(self, /) -> Quantity:
        """
        Shock stroke from full extension.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Wheel travel from full extension, vertical.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class LinkageEffects:
    """
    What a small change of every dimension does at one travel, to first order: one entry per dimension.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> LinkageEffects: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def axle_x(self, /) -> Quantity:
        """
        Change of the axle's position forward, in the axes of the frame.
        """
    @property
    def axle_z(self, /) -> Quantity:
        """
        Change of the axle's height, in the axes of the frame.
        """
    @property
    def dimensions(self, /) -> list[str]:
        """
        The dimensions: ``x of eye``, ``length of link``, ``shock length``.
        """
    @property
    def full_travel(self, /) -> Quantity:
        """
        Change of the full travel.
        """
    @property
    def motion_ratio(self, /) -> Quantity:
        """
        Change of the motion ratio.
        """
    @property
    def motion_ratio_slope(self, /) -> Quantity:
        """
        Change of the motion ratio's slope.
        """
    @property
    def step(self, /) -> Quantity:
        """
        The change of each.
        """
    @property
    def stroke(self, /) -> Quantity:
        """
        Change of the shock stroke.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class LinkageFamily:
    """
    Many linkages, packed once for being asked together at one travel each.

    Linkages that are solved in the same order lie side by side, so that a processor works on several at once. The results
    are those of ``linkage.at(travel)``, to the last bit. A linkage that does not have the travel gives NaN.

    Parameters
    ----------
    linkages : list of Linkage
        In any number and of any arrangement.

    Examples
    --------
    >>> import wheelrate as wr
    >>> linkage = wr.demo().rear.linkage
    >>> family = wr.LinkageFamily([linkage, linkage.with_link_length("link", "176 mm")])
    >>> len(family), family.at("100 mm").motion_ratio.shape
    (2, (2,))
    """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __len__(self, /) -> int: ...
    def __new__(cls, /, linkages: SupportsGetItem[int, Linkage]) -> LinkageFamily: ...
    def __reduce__(self, /) -> tuple[object, tuple[object, ...]]: ...
    def __repr__(self, /) -> str: ...
    def at(self, /, travel: Any) -> LinkageCurve:
        """
        All at one travel, or each at its own: one entry per linkage.
        """
    def columns(self, /, travel: AnyShape, *, columns: SupportsGetItem[int, str] | None = None, out: dict[str, Numbers] | None = None) -> dict[str, Numbers]:
        """
        All at one travel, or each at its own, as plain arrays in SI units, the unit in each name; one entry per linkage.

        As ``at(travel).columns()``, without anything in between: each column is written once.

        Parameters
        ----------
        travel : length or array of length
            One for all, or one for each.
        columns : list of str, optional
            Which, as in `Linkage.columns`; all of them unless given.
        out : dict of str to array, optional
            What an earlier call gave. It is written over and given back.

        Examples
        --------
        >>> import wheelrate as wr
        >>> linkage = wr.demo().rear.linkage
        >>> family = wr.LinkageFamily([linkage, linkage.with_link_length("link", "176 mm")])
        >>> print(family.columns("100 mm", columns=["motion_ratio"])["motion_ratio [shock/wheel]"].round(3))
        [0.377 0.379]
        """
    @property
    def linkages(self, /) -> list[Linkage | None]:
        """
        The linkages, in their order; ``None`` for one that could not be made.
        """
    @property
    def reasons(self, /) -> list[str | None]:
        """
        Why a linkage could not be made, for each; ``None`` for one that was.
        """

@final
class LinkagePoint:
    """
    A linkage at one travel.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> LinkagePoint: ...
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
    def stroke(self, /) -> Quantity:
        """
        Shock stroke from full extension.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Wheel travel from full extension, vertical.
        """
    def _repr_html_(self: Any) -> str: ...

@final
class MainSpring:
    """
    The main springs of one end together. Springs side by side: rates add.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> MainSpring: ...
    @property
    def each(self, /) -> list[tuple[Quantity, Quantity]]:
        """
        Rate and preload of each.
        """
    @property
    def preload(self, /) -> Quantity:
        """
        Preload of the first.
        """
    @property
    def rate(self, /) -> Quantity:
        """
        Total rate: at first touch, or the mean of a measured one.
        """

@final
class MassShares:
    """
    What masses along the mechanism are at the wheel, over travel, as arrays of one length.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> MassShares: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def gravity(self, /) -> Quantity:
        """
        Mass whose weight at the axle does the same work.
        """
    @property
    def inertia(self, /) -> Quantity:
        """
        Mass that has the same inertia at the axle, moving vertically.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Wheel travel from full extension, vertical.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class Masses:
    """
    Masses of a bike and of all that may ride on it.

    Parameters
    ----------
    named : dict of str to pair of masses
        What the scale shows under the front and the rear wheel for each, or the difference it makes; one of them is
        ``"bike"``. A mass known by its position is a dict with ``total`` and ``behind_front_axle``.
    unsprung : pair of masses
        Of the bike, front and rear.
    wheelbase : length, optional
        Needed by masses known by position.
    scale_uncertainty : mass, optional
        Standard uncertainty of one scale reading; 0.5 kg unless given.
    heights : dict of str to length, optional
        Of the centres of gravity above the ground, by the names of the masses.
    pitch_inertias : dict of str to moment of inertia, optional
        Each about its own centre of gravity, for modes.
    gravity : acceleration, optional
        Standard gravity unless given.
    uncertainties : dict of str to mass, optional
        Standard uncertainty of what a mass puts on each wheel, by the names of the masses: for one that was not weighed.
        That of a scale reading unless given.

    Examples
    --------
    >>> import wheelrate as wr
    >>> masses = wr.Masses({"bike": ("61 kg", "64 kg"), "rider": ("30 kg", "66 kg")}, unsprung=("14.2 kg", "17.5 kg"))
    >>> print(masses.sprung_load("rear", "bike + rider"))
    1103 ± 8 N
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, named: dict[str, QuantityLike | tuple[QuantityLike, QuantityLike] | dict[str, QuantityLike]], unsprung: tuple[QuantityLike, QuantityLike] | None = None, wheelbase: QuantityLike | None = None, scale_uncertainty: QuantityLike | None = None, heights: dict[str, QuantityLike] | None = None, gravity: QuantityLike | None = None, pitch_inertias: dict[str, QuantityLike] | None = None, uncertainties: dict[str, QuantityLike] | None = None) -> Masses: ...
    def __reduce__(self, /) -> tuple[object, tuple[object, ...]]: ...
    def __repr__(self, /) -> str: ...
    @property
    def names(self, /) -> list[str]:
        """
        Names of the masses.
        """
    def sprung_load(self, /, end: End, load: str) -> Uncertain:
        """
        The vertical load that the spring of one end carries at the wheel.
        """
    def sprung_mass(self, /, end: End, load: str) -> Uncertain:
        """
        The sprung mass at one end under a load.
        """
    def wheel_mass(self, /, end: End, load: str) -> Uncertain:
        """
        What a load shows on the scale under one wheel.

        Parameters
        ----------
        end : {"front", "rear"}
            Which wheel.
        load : str
            Names of masses, e.g. ``"bike + rider"``.
        """

@final
class Material:
    """
    A spring material: one known by name, or moduli and density of one's own.

    Parameters
    ----------
    name : str
        One of `known`, or any other with all the values.
    elastic_modulus, shear_modulus : stress, optional
        ``E`` and ``G``.
    density : mass density, optional
        Of the wire.
    source : str, optional
        Where the values come from.

    Examples
    --------
    >>> import wheelrate as wr
    >>> print(wr.Material("EN 10270-1").shear_modulus.to("GPa"))
    81.5 gigapascal
    >>> print(wr.Material("Ti-3Al-8V-6Cr-4Mo-4Zr").source)
    aged beta titanium, from memory; moduli vary by 3 % with ageing
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, name: str, *, elastic_modulus: QuantityLike | None = None, shear_modulus: QuantityLike | None = None, density: QuantityLike | None = None, source: str = "") -> Material: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Material: ...
    @property
    def density(self, /) -> Quantity:
        """
        Density of the wire.
        """
    @property
    def elastic_modulus(self, /) -> Quantity:
        """
        Elastic modulus, ``E``.
        """
    @staticmethod
    def known() -> list[Material]:
        """
        Every material known by name.

        Examples
        --------
        >>> import wheelrate as wr
        >>> [material.name for material in wr.Material.known()][:3]
        ['EN 10270-1', 'EN 10270-2', 'EN 10089']
        """
    @property
    def name(self, /) -> str:
        """
        Its name.
        """
    @property
    def shear_modulus(self, /) -> Quantity:
        """
        Shear modulus, ``G``.
        """
    @property
    def source(self, /) -> str:
        """
        Where the values come from.
        """

@final
class MeasuredLinkage:
    """
    A measured table of wheel travel against shock length, made smooth, with the uncertainty of what follows.

    Parameters
    ----------
    travels : array of length
        Wheel travels, counted from anywhere, in any order.
    lengths : array of length
        Shock length at each, eye to eye.
    shock_length, stroke : length
        Of the shock that goes in: full extension is where the length is the shock's.
    travel_uncertainty, length_uncertainty : length
        Standard uncertainty of one travel and of one length.

    Examples
    --------
    >>> import numpy as np
    >>> import wheelrate as wr
    >>> travel = np.linspace(0, 300, 31)
    >>> table = wr.MeasuredLinkage(
    ...     (travel, "mm"), (468 - 0.35 * travel - 1.5e-4 * travel**2, "mm"), shock_length="468 mm", stroke="110 mm",
    ...     travel_uncertainty="0.5 mm", length_uncertainty="0.5 mm",
    ... )
    >>> print(table.at("100 mm").motion_ratio)
    0.3800 ± 0.0024 shock/wheel
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, travels: ArrayLike, lengths: ArrayLike, *, shock_length: QuantityLike, stroke: QuantityLike, travel_uncertainty: QuantityLike, length_uncertainty: QuantityLike) -> MeasuredLinkage: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> MeasuredLinkage: ...
    def at(self, /, travel: QuantityLike) -> UncertainPoint:
        """
        Stroke, motion ratio and its slope at one travel, with their uncertainties.
        """
    def curve(self, /, travels: ArrayLike | None = None) -> UncertainCurve:
        """
        Stroke, motion ratio and its slope over travel, with their uncertainties, as arrays.

        Parameters
        ----------
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.

        Returns
        -------
        UncertainCurve
        """
    @property
    def full_extension(self, /) -> Uncertain:
        """
        Where full extension lies in the travel of the table.
        """
    @property
    def full_travel(self, /) -> Quantity:
        """
        Wheel travel from full extension to the end of the shock's stroke.
        """
    @property
    def suspect_readings(self, /) -> list[tuple[int, Quantity]]:
        """
        Readings far off what the others say: place in the table from 0, and by how much.
        """

@final
class Measuring:
    """
    How the readings of one end are taken.

    Parameters
    ----------
    direction : {"vertical", "along fork"} or pair of lengths
        Along what a distance is read; a pair is the mark it goes to, in the axes of the linkage points.
    uncertainty : length, optional
        Standard uncertainty of one reading; 1.5 mm unless given.

    Examples
    --------
    >>> import wheelrate as wr
    >>> print(wr.Measuring("along fork").uncertainty)
    1.5 millimeter
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, direction: str | ArrayLike, uncertainty: QuantityLike | None = None) -> Measuring: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Measuring: ...
    @property
    def direction(self, /) -> str | Quantity:
        """
        Along what a distance is read: a word, or the mark it goes to.
        """
    @property
    def uncertainty(self, /) -> Quantity:
        """
        Standard uncertainty of one reading.
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
    @staticmethod
    def from_lengths(arrangement: str, arm: tuple[QuantityLike, QuantityLike], centres: dict[str, tuple[QuantityLike, QuantityLike, str]]) -> Mechanism:
        """
        A usual arrangement from centre distances, as a tape gives them, with the bike level.

        Parameters
        ----------
        arrangement : str
            One of `arrangements`, which says what is to be measured from where.
        arm : pair of lengths
            From the swingarm pivot, which is the origin, to the end of the arm (the axle, or the lower end of the wheel's
            carrier); and how far that end stands above the pivot, below zero when it is lower.
        centres : dict of str to tuple
            For each point the distances from the two points it is measured from, and on which side of them it lies:
            ``above``, ``below``, ``ahead`` or ``behind``.

        Examples
        --------
        >>> import wheelrate as wr
        >>> mechanism = wr.Mechanism.from_lengths(
        ...     "direct_shock",
        ...     ("598 mm", "-165 mm"),
        ...     {"eye": ("253 mm", "348 mm", "above"), "shock_frame": ("344 mm", "398 mm", "above")},
        ... )
        >>> print(mechanism.points["eye"].round(0))
        [-250.0 -39.0] millimeter
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
    def _repr_html_(self: Mechanism) -> str: ...

@final
class Mode:
    """
    One mode of the whole bike.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Mode: ...
    @property
    def center_ahead(self, /) -> Quantity | None:
        """
        How far ahead of the sprung centre of gravity the body stands still; None where it does not pitch.
        """
    @property
    def frequency(self, /) -> Quantity:
        """
        Undamped natural frequency.
        """
    @property
    def kind(self, /) -> str:
        """
        ``bounce``, ``pitch``, ``front hop`` or ``rear hop``: what moves most.
        """

@final
class MonteCarlo:
    """
    What Monte Carlo says of one end: spring rate, preload and friction over the draws.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> MonteCarlo: ...
    @property
    def draws(self, /) -> int:
        """
        Draws asked for.
        """
    @property
    def friction(self, /) -> Sampled:
        """
        Friction force at the wheel.
        """
    @property
    def left_out(self, /) -> int:
        """
        Draws left out: friction below zero, or no fit.
        """
    @property
    def preload(self, /) -> Sampled:
        """
        Preload of the first main spring.
        """
    @property
    def rate(self, /) -> Sampled:
        """
        Rate of all main springs together.
        """
    @property
    def rate_preload_correlation(self, /) -> float:
        """
        Correlation of rate and preload.
        """

@final
class Move:
    """
    One lever, and where it goes.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Move: ...
    @property
    def by(self, /) -> Quantity | None:
        """
        By how much it would have to be moved; None where no move of it does.
        """
    @property
    def lever(self, /) -> str:
        """
        Which: ``"fork_raised"``, ``"shock_longer"``, ``"front_preload"`` or ``"rear_preload"``.
        """
    @property
    def set(self, /) -> Quantity:
        """
        Where it is put: that, held within its room.
        """
    @property
    def words(self, /) -> str:
        """
        The same in words.
        """

@final
class MovingEnd:
    """
    An end with everything that moves with it.

    Parameters
    ----------
    end : FrontEnd or RearEnd
        The springs.
    sprung, unsprung : mass
        Over the wheel, and of it.
    tyre : wheel rate
        Vertical rate of the tyre.
    damper : Damper
        Along its shaft.
    friction : force, optional
        Sliding friction at the wheel; none unless given.

    Examples
    --------
    >>> import wheelrate as wr
    >>> damper = wr.Damper("6000 N s/m", "9000 N s/m")
    >>> rear = wr.MovingEnd(
    ...     wr.demo().rear, sprung="112.5 kg", unsprung="17.5 kg", tyre="180 N/mm", damper=damper, friction="60 N"
    ... )
    >>> landing = rear.land("500 mm")
    >>> print(landing.peak_travel.round(0), landing.bottoming)
    262.0 millimeter None
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[FrontEnd | RearEnd], dict[str, object]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, end: FrontEnd | RearEnd, *, sprung: QuantityLike, unsprung: QuantityLike, tyre: QuantityLike, damper: Damper, friction: QuantityLike | None = None) -> MovingEnd: ...
    def __repr__(self, /) -> str: ...
    def land(self, /, height: QuantityLike, duration: QuantityLike | None = None) -> EndMotion:
        """
        A landing on both wheels alike, the end hanging at full extension until the tyre touches.

        Parameters
        ----------
        height : length
            Of the fall.
        duration : time, optional
            Simulated from the touch; 2 s unless given.

        Returns
        -------
        EndMotion
        """
    def over_road(self, /, road: Road, speed: QuantityLike, seed: SupportsIndex, duration: QuantityLike | None = None) -> EndMotion:
        """
        Rides from rest over the profile that a seed makes of a road, springs, stops and damper as they are.

        Parameters
        ----------
        road : Road
            What it is ridden over.
        speed : velocity
            Of riding.
        seed : int
            The same profile for the same seed.
        duration : time, optional
            Simulated; 10 s unless given.

        Returns
        -------
        EndMotion
        """
    def step(self, /, height: QuantityLike, rise: QuantityLike | None = None, duration: QuantityLike | None = None) -> EndMotion:
        """
        A step (a hole where below zero) under the wheel of a bike at rest on its springs.

        Parameters
        ----------
        height : length
            Of the step.
        rise : time, optional
            In which the ground rises, as half a cosine: ramp over riding speed; 20 ms unless given.
        duration : time, optional
            Simulated; 2 s unless given.

        Returns
        -------
        EndMotion
        """

@final
class NextReading:
    """
    One task with what it would bring.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> NextReading: ...
    @property
    def effort(self, /) -> Quantity:
        """
        How long it takes one person: common practice, no source.
        """
    @property
    def remaining(self, /) -> Quantity:
        """
        Standard uncertainty of the number that decides, after it, as a share of what it is now.
        """
    def text(self, /, units: str = "metric") -> str:
        """
        What to do and what it brings, in a sentence.

        Parameters
        ----------
        units : {"metric", "kilogram-force", "inch"}
            Units of the sentence.
        """
    def to_json(self, /) -> str:
        """
        The task as JSON text: its name and its numbers.
        """
    @property
    def wanted_rate(self, /) -> tuple[Quantity, Quantity] | None:
        """
        Standard uncertainty of the rate called for, per spring, now and after it; None where no rate is called for.
        """

@final
class OilLevel:
    """
    The oil level of a fork that goes with what is advised.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> OilLevel: ...
    @property
    def change(self, /) -> Quantity:
        """
        Change of the level of each leg; above zero, more air.
        """
    @property
    def force(self, /) -> Quantity:
        """
        Force of the fork at full travel that is aimed at: as stated among the targets, else today's.
        """
    @property
    def level(self, /) -> Quantity:
        """
        Of the first leg with air, spring out, fully compressed.
        """
    @property
    def reached(self, /) -> Quantity:
        """
        The force with this level: that aimed at, or what comes nearest to one that no level gives.
        """
    @property
    def stated(self, /) -> bool:
        """
        Is it stated among the targets?
        """

@final
class OnSale:
    """
    The spring rates on sale for each end, sorted, without repeats.

    Parameters
    ----------
    front : array of spring rate, optional
        Of one fork spring.
    rear : array of spring rate, optional
        Of the shock spring.

    Examples
    --------
    >>> import wheelrate as wr
    >>> print(wr.OnSale(rear=([54, 50, 52], "N/mm")).rear)
    [50.0 52.0 54.0] newton / millimeter
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, *, front: ArrayLike | None = None, rear: ArrayLike | None = None) -> OnSale: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> OnSale: ...
    @property
    def front(self, /) -> Quantity:
        """
        Of one fork spring.
        """
    @property
    def rear(self, /) -> Quantity:
        """
        Of the shock spring.
        """

@final
class OwnSettings:
    """
    Every rider at a preload of his or her own.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> OwnSettings: ...
    @property
    def heavy(self, /) -> Quantity:
        """
        Preload of the rider heavier than nine in ten.
        """
    @property
    def light(self, /) -> Quantity:
        """
        Preload of the rider lighter than nine in ten.
        """
    @property
    def share(self, /) -> Uncertain:
        """
        Share of riders with both sags in range; the uncertainty is what the bike leaves open, the same for every rider.
        """
    @property
    def turns(self, /) -> float | None:
        """
        Turns from the one to the other; None where the pitch of the adjuster is not known.
        """

@final
class OwnUsual:
    """
    What is taken where a bike does not state something, in place of what is usual of its kind. None of it has to be given.

    Parameters
    ----------
    rake : Uncertain or pair of angle, optional
        Angle of the steering axis from the vertical.
    along_fork : share, optional
        Chance that a sag at the front was read along the fork, where nobody noted along what.
    bike_on_front : Uncertain or pair of share, optional
        Share of the bike's weight on the front wheel.
    rider_on_front : Uncertain or pair of share, optional
        Share of the rider's weight that the front wheel takes, over all usual postures.
    bike_weight : share, optional
        Standard uncertainty of a bike's total weight as stated (fuel, oil, what is bolted on), as a share of it.
    unsprung_front : Uncertain or pair of share, optional
        Unsprung mass at the front, as a share of the bike's: small wheels are on light bikes.
    unsprung_rear : Uncertain or pair of share, optional
        Unsprung mass at the rear, as a share of the bike's.
    wheel_front : length, optional
        Radius of the front wheel that goes with that share: a larger wheel is heavier.
    wheel_rear : length, optional
        Of the rear wheel.
    preload_front : Uncertain or pair of length, optional
        Preload of a fork spring.
    preload_rear : Uncertain or pair of length, optional
        Preload of a shock spring.
    progression : Uncertain or pair of share, optional
        By how much the motion ratio rises over the travel, as a share of what it is at full extension.
    bend : share, optional
        Standard deviation of the bends of the motion ratio about its straight line, as a share of its mean.
    ratio : share, optional
        Standard uncertainty of the mean motion ratio that travel and stroke of a data sheet give, as a share of it.
    oil_level : length, optional
        Oil level of a fork leg, spring out, fully compressed.
    sealing_diameter : length, optional
        Sealing diameter of a fork leg.
    bore : length, optional
        Bore of a fork leg.
    fork_air : share, optional
        Standard uncertainty of the push of a fork's air, as a share of it.
    gas_push : Uncertain or pair of force, optional
        Push of the gas of a shock on its rod, at full extension.
    step_front : spring rate, optional
        Step from one spring to the next in a shop: of one fork spring.
    step_rear : spring rate, optional
        Of a shock spring.

    Examples
    --------
    >>> import wheelrate as wr
    >>> usual = wr.OwnUsual(rake=("27 deg", "1 deg"), step_rear="2 N/mm")
    >>> print(usual.rake)
    27.0 ± 1.0 deg
    >>> wr.Bike("shed", usual=usual).usual == usual
    True
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, *, rake: Uncertain | tuple[QuantityLike, QuantityLike] | None = None, along_fork: QuantityLike | None = None, bike_on_front: Uncertain | tuple[QuantityLike, QuantityLike] | None = None, rider_on_front: Uncertain | tuple[QuantityLike, QuantityLike] | None = None, bike_weight: QuantityLike | None = None, unsprung_front: Uncertain | tuple[QuantityLike, QuantityLike] | None = None, unsprung_rear: Uncertain | tuple[QuantityLike, QuantityLike] | None = None, wheel_front: QuantityLike | None = None, wheel_rear: QuantityLike | None = None, preload_front: Uncertain | tuple[QuantityLike, QuantityLike] | None = None, preload_rear: Uncertain | tuple[QuantityLike, QuantityLike] | None = None, progression: Uncertain | tuple[QuantityLike, QuantityLike] | None = None, bend: QuantityLike | None = None, ratio: QuantityLike | None = None, oil_level: QuantityLike | None = None, sealing_diameter: QuantityLike | None = None, bore: QuantityLike | None = None, fork_air: QuantityLike | None = None, gas_push: Uncertain | tuple[QuantityLike, QuantityLike] | None = None, step_front: QuantityLike | None = None, step_rear: QuantityLike | None = None) -> OwnUsual: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> OwnUsual: ...
    @property
    def along_fork(self, /) -> Quantity | None:
        """
        Chance that a sag at the front was read along the fork, where nobody noted along what.
        """
    @property
    def bend(self, /) -> Quantity | None:
        """
        Standard deviation of the bends of the motion ratio about its straight line, as a share of its mean.
        """
    @property
    def bike_on_front(self, /) -> Uncertain | None:
        """
        Share of the bike's weight on the front wheel.
        """
    @property
    def bike_weight(self, /) -> Quantity | None:
        """
        Standard uncertainty of a bike's total weight as stated (fuel, oil, what is bolted on), as a share of it.
        """
    @property
    def bore(self, /) -> Quantity | None:
        """
        Bore of a fork leg.
        """
    @property
    def fork_air(self, /) -> Quantity | None:
        """
        Standard uncertainty of the push of a fork's air, as a share of it.
        """
    @property
    def gas_push(self, /) -> Uncertain | None:
        """
        Push of the gas of a shock on its rod, at full extension.
        """
    @property
    def oil_level(self, /) -> Quantity | None:
        """
        Oil level of a fork leg, spring out, fully compressed.
        """
    @property
    def preload_front(self, /) -> Uncertain | None:
        """
        Preload of a fork spring.
        """
    @property
    def preload_rear(self, /) -> Uncertain | None:
        """
        Preload of a shock spring.
        """
    @property
    def progression(self, /) -> Uncertain | None:
        """
        By how much the motion ratio rises over the travel, as a share of what it is at full extension.
        """
    @property
    def rake(self, /) -> Uncertain | None:
        """
        Angle of the steering axis from the vertical.
        """
    @property
    def ratio(self, /) -> Quantity | None:
        """
        Standard uncertainty of the mean motion ratio that travel and stroke of a data sheet give, as a share of it.
        """
    @property
    def rider_on_front(self, /) -> Uncertain | None:
        """
        Share of the rider's weight that the front wheel takes, over all usual postures.
        """
    @property
    def sealing_diameter(self, /) -> Quantity | None:
        """
        Sealing diameter of a fork leg.
        """
    @property
    def step_front(self, /) -> Quantity | None:
        """
        Step from one spring to the next in a shop: of one fork spring.
        """
    @property
    def step_rear(self, /) -> Quantity | None:
        """
        Of a shock spring.
        """
    @property
    def unsprung_front(self, /) -> Uncertain | None:
        """
        Unsprung mass at the front, as a share of the bike's: small wheels are on light bikes.
        """
    @property
    def unsprung_rear(self, /) -> Uncertain | None:
        """
        Unsprung mass at the rear, as a share of the bike's.
        """
    @property
    def wheel_front(self, /) -> Quantity | None:
        """
        Radius of the front wheel that goes with that share: a larger wheel is heavier.
        """
    @property
    def wheel_rear(self, /) -> Quantity | None:
        """
        Of the rear wheel.
        """

@final
class Photograph:
    """
    A photograph, taken square on, with its scale and rotation from two known points.

    Parameters
    ----------
    first, second : tuple
        Pixel (right, down) and position (x forward, z up) of a known point.

    Examples
    --------
    >>> import wheelrate as wr
    >>> photograph = wr.Photograph(((2140, 1210), ["0 mm", "0 mm"]), ((990, 1540), ["-575 mm", "-165 mm"]))
    >>> print(photograph.pixel.round(3), photograph.at((2008, 1406)).round(1))
    0.5 millimeter [-66.0 -98.0] millimeter
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs__(self, /) -> tuple[object, ...]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, first: tuple[tuple[float, float], ArrayLike], second: tuple[tuple[float, float], ArrayLike]) -> Photograph: ...
    def __repr__(self, /) -> str: ...
    def at(self, /, pixel: tuple[SupportsFloat | SupportsIndex, SupportsFloat | SupportsIndex]) -> Quantity:
        """
        Position of a pixel (right, down): x forward and z up.
        """
    @property
    def pixel(self, /) -> Quantity:
        """
        Length that one pixel stands for.
        """
    def points(self, /, pixels: dict[str, tuple[float, float]]) -> dict[str, Quantity]:
        """
        Positions of many pixels by name, as `Mechanism` takes its points.
        """

@final
class Plan:
    """
    What to measure next at one end: steps in the order of an evening, and what they are worth.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[object, ...]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    @property
    def changes(self, /) -> Quantity:
        """
        Probability that another action than the one that is best now is best then.
        """
    @property
    def effort(self, /) -> Quantity:
        """
        All steps together, the spring taken out once.
        """
    @property
    def end(self, /) -> str:
        """
        Which end.
        """
    @property
    def lands(self, /) -> tuple[Quantity, Quantity]:
        """
        Probability that the best action lands both sags: as it is, and on average with everything read that is worth it.
        """
    @property
    def steps(self, /) -> list[NextReading]:
        """
        What to do, in this order; what each says is with all before it done.
        """
    def text(self, /, units: str = "metric") -> list[str]:
        """
        The plan in sentences: what it is worth, then its steps.

        Parameters
        ----------
        units : {"metric", "kilogram-force", "inch"}
            Units of the sentences.
        """
    def to_json(self, /) -> str:
        """
        The plan as JSON text, quantities as text with units.
        """
    @property
    def utility(self, /) -> tuple[Quantity, Quantity]:
        """
        The same less the price of the action: as it is, and on average then. The price of measuring is not in it.
        """
    @property
    def worth(self, /) -> str:
        """
        ``measure``, ``clear`` (nothing more needs measuring), ``check`` (the verdict stands, all of it on one extended reading:
        take a second), ``repeat first`` (a reading is misread) or
        ``will not settle`` (other springs or targets would).
        """

@final
class Practice:
    """
    One figure for one sag of one discipline, as an author gives it.

    Give `length` or `share`, each a pair: least and most.

    Parameters
    ----------
    discipline : str
        In a word.
    end : {"front", "rear"}
        Which end.
    sag : {"rider", "free"}
        With rider and kit, or the bike alone.
    length : pair of lengths, optional
        The sag.
    share : pair of shares, optional
        The sag as a share of the full travel along the same direction.
    direction : {"vertical", "along fork"}, optional
        Along which sag and travel run; along the fork in front and vertical at the rear unless given.
    basis : str, optional
        Where the figure comes from; common practice without a source unless given.
    note : str, optional
        Anything worth knowing of it.

    Examples
    --------
    >>> import wheelrate as wr
    >>> ours = wr.Practice("enduro", "rear", "rider", share=("31 %", "33 %"), basis="our workshop")
    >>> print(ours.share[1], ours.direction)
    33.0 percent vertical
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, discipline: str, end: End, sag: str, *, length: tuple[QuantityLike, QuantityLike] | None = None, share: tuple[QuantityLike, QuantityLike] | None = None, direction: str | None = None, basis: str | None = None, note: str | None = None) -> Practice: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Practice: ...
    @property
    def basis(self, /) -> str:
        """
        Where the figure comes from.
        """
    @property
    def direction(self, /) -> str:
        """
        Along which sag and travel run.
        """
    @property
    def discipline(self, /) -> str:
        """
        In a word.
        """
    @property
    def end(self, /) -> str:
        """
        Which end.
        """
    @property
    def length(self, /) -> tuple[Quantity, Quantity] | None:
        """
        Least and most of the sag; None where it is given as a share.
        """
    @property
    def note(self, /) -> str | None:
        """
        Anything worth knowing of it.
        """
    @property
    def sag(self, /) -> str:
        """
        ``rider`` or ``free``.
        """
    @property
    def share(self, /) -> tuple[Quantity, Quantity] | None:
        """
        Least and most as shares of the full travel along the same direction; None where it is given as a length.
        """

@final
class PredictedSag:
    """
    One sag predicted and read.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> PredictedSag: ...
    @property
    def deviations(self, /) -> float | None:
        """
        The difference in its own standard deviations.
        """
    @property
    def difference(self, /) -> Uncertain | None:
        """
        Read less predicted.
        """
    @property
    def load(self, /) -> str:
        """
        Under what.
        """
    @property
    def predicted(self, /) -> Uncertain:
        """
        Predicted before it was read.
        """
    @property
    def read(self, /) -> Uncertain | None:
        """
        Read; None while nothing is.
        """
    @property
    def settled(self, /) -> str | None:
        """
        From which side; None where nobody noted it.
        """

@final
class Prediction:
    """
    What was predicted of a change, and how it held.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Prediction: ...
    @property
    def chi_square(self, /) -> tuple[float, int, float] | None:
        """
        χ² of all sags read, its degrees of freedom, and the probability of as much or more by chance.
        """
    @property
    def earlier(self, /) -> int:
        """
        Place of the set it was made from: the last before the change.
        """
    @property
    def held(self, /) -> bool | None:
        """
        Did it hold? None while nothing is read.
        """
    @property
    def later(self, /) -> int | None:
        """
        Place of the first set after the change; None while nothing is read.
        """
    @property
    def sags(self, /) -> list[PredictedSag]:
        """
        Every sag that was read after the change, or will be.
        """
    def sentences(self, /, units: str = "metric") -> list[str]:
        """
        Whether it held, what came otherwise, and what that means for the targets.
        """
    @property
    def targets(self, /) -> list[TargetOutcome]:
        """
        Targets against what was and what came.
        """

@final
class PreloadChange:
    """
    A change of preload from one load to another on the same spring.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> PreloadChange: ...
    @property
    def preload(self, /) -> Uncertain:
        """
        How much more, below zero less. What the fit is off by is in both settings and mostly cancels.
        """
    @property
    def turns(self, /) -> tuple[float, float] | None:
        """
        The same in turns of the adjuster with its standard uncertainty; None where its pitch is not known.
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
    def changed(self, /, rate_factor: float, preload_change: QuantityLike) -> Preloaded:
        """
        The same place with the rates times a factor and more (or less) preload.
        """
    def clearance(self, /, full_stroke: QuantityLike) -> Quantity | None:
        """
        Compression left at the end of a stroke; below zero the spring ends too early, None where its end is not known.
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
    def reaches(self, /, preload: QuantityLike) -> bool:
        """
        Does a preload lie within the limits of the adjuster, as far as they are known?
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
class Prices:
    """
    What actions cost, as chance that both sags land: whoever has the spring on the shelf says less.

    Parameters
    ----------
    collar : share, optional
        Turning the collar; 2 % unless given.
    spring : share, optional
        Buying and fitting another spring; 10 % unless given.
    measuring : share, optional
        An evening of measuring; 5 % unless given.

    Examples
    --------
    >>> import wheelrate as wr
    >>> bike = wr.Bike("shed", rear=wr.demo().rear, prices=wr.Prices(spring="1 %"))
    >>> print(bike.prices.spring, bike.prices.collar)
    1.0 percent 2.0 percent
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, *, collar: QuantityLike | None = None, spring: QuantityLike | None = None, measuring: QuantityLike | None = None) -> Prices: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Prices: ...
    @property
    def collar(self, /) -> Quantity:
        """
        Turning the collar.
        """
    @property
    def measuring(self, /) -> Quantity:
        """
        An evening of measuring.
        """
    @property
    def spring(self, /) -> Quantity:
        """
        Buying and fitting another spring.
        """

@final
class QuarterBike:
    """
    The sprung mass over one wheel, the unsprung mass, and the springs above and below it.

    Parameters
    ----------
    sprung, unsprung : mass
        Over the wheel, and of it.
    rate : wheel rate
        Between them.
    tyre : wheel rate
        Under it.

    Examples
    --------
    >>> import wheelrate as wr
    >>> ride, hop = wr.QuarterBike(sprung="95 kg", unsprung="17.5 kg", rate="8.3 N/mm", tyre="180 N/mm").modes()
    >>> print(ride.frequency.round(2), hop.frequency.round(2))
    1.45 hertz 16.51 hertz
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, *, sprung: QuantityLike, unsprung: QuantityLike, rate: QuantityLike, tyre: QuantityLike) -> QuarterBike: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> QuarterBike: ...
    def modes(self, /) -> list[QuarterMode]:
        """
        The ride mode and the wheel hop mode, in this order.
        """
    def on_road(self, /, damping: QuantityLike, road: Road, speed: QuantityLike) -> QuarterRide:
        """
        On a road, with a linear damper at the wheel.

        Parameters
        ----------
        damping : damping rate
            At the wheel.
        road : Road
            What it is ridden over.
        speed : velocity
            Of riding.

        Returns
        -------
        QuarterRide

        Examples
        --------
        >>> import wheelrate as wr
        >>> quarter = wr.QuarterBike(sprung="95 kg", unsprung="17.5 kg", rate="8.3 N/mm", tyre="180 N/mm")
        >>> print(quarter.on_road("600 N s/m", wr.Road("D"), "60 km/h").travel_rms.round(1))
        17.8 millimeter
        """
    def response(self, /, damping: QuantityLike, frequencies: ArrayLike) -> QuarterResponse:
        """
        How it answers ground that goes up and down, by frequency.

        Parameters
        ----------
        damping : damping rate
            At the wheel.
        frequencies : array of frequency
            Of the ground.

        Returns
        -------
        QuarterResponse
        """

@final
class QuarterMode:
    """
    One of the two modes of a `QuarterBike`.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> QuarterMode: ...
    @property
    def frequency(self, /) -> Quantity:
        """
        Undamped natural frequency.
        """
    @property
    def unsprung_over_sprung(self, /) -> float:
        """
        Amplitude of the unsprung mass over that of the sprung mass; negative when they move against each other.
        """

@final
class QuarterResponse:
    """
    Amplitudes of a quarter of a bike over that of the ground, as arrays over frequency.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> QuarterResponse: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def body(self, /) -> Quantity:
        """
        Of the sprung mass.
        """
    @property
    def frequency(self, /) -> Quantity:
        """
        Of the ground.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Of the travel.
        """
    @property
    def tyre_force(self, /) -> Quantity:
        """
        Amplitude of the tyre's force per that of the ground.
        """
    @property
    def wheel(self, /) -> Quantity:
        """
        Of the wheel.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class QuarterRide:
    """
    Root mean squares of a quarter of a bike on a road.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> QuarterRide: ...
    @property
    def acceleration_rms(self, /) -> Quantity:
        """
        Of the acceleration of the sprung mass.
        """
    @property
    def travel_rms(self, /) -> Quantity:
        """
        Of the travel about its mean.
        """
    @property
    def travel_speed_rms(self, /) -> Quantity:
        """
        Of its speed.
        """
    @property
    def tyre_force_rms(self, /) -> Quantity:
        """
        Of the tyre's force about its mean.
        """
    @property
    def weighted_acceleration_rms(self, /) -> Quantity:
        """
        The same weighted by frequency, as a person who stands or sits still feels it.
        """

@final
class Question:
    """
    A question to whoever starts a bike file.

    Parameters
    ----------
    name : str
        Its short name, one of those of `questions`.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs__(self, /) -> tuple[str]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, name: str) -> Question: ...
    def __repr__(self, /) -> str: ...
    @property
    def ask(self, /) -> str:
        """
        What is asked.
        """
    def hear(self, /, answer: str) -> str:
        """
        The value that an answer means, as the file takes it.

        Parameters
        ----------
        answer : str
            As it is said: ``"5.6 kg"`` of a spring.

        Examples
        --------
        >>> import wheelrate as wr
        >>> [spring] = [one for one in wr.questions() if one.name == "rear-spring"]
        >>> spring.hear("5,6 kg")
        '5.6 kgf/mm'
        """
    @property
    def help(self, /) -> str:
        """
        Where the answer is found, and what it is worth.
        """
    @property
    def key(self, /) -> str:
        """
        The key of the file that the answer goes under.
        """
    @property
    def kind(self, /) -> str | None:
        """
        The kind of quantity that it wants; None for words.
        """
    @property
    def name(self, /) -> str:
        """
        Its short name, for a command line.
        """

@final
class Reading:
    """
    A reading: the distance between the axle and a mark, under a load, settled from one side.

    Parameters
    ----------
    end : {"front", "rear"}
        Which end.
    load : str
        What stands on the wheels: ``"none"`` (wheel off the ground), ``"bike"``, ``"bike + rider"``.
    distance : length, optional
        As read; or ``sag`` in its place.
    settled : {"low", "high", "middle"}, optional
        After pushing down, after lifting, or the mean of both; leave it out if nobody noted it.
    uncertainty : length, optional
        Standard uncertainty, where it differs from the end's.
    sag : length or str, optional
        On a zeroed gauge, or already subtracted; in per cent of the travel as text, ``"33 %"``.
    date : str, optional
        A day, ``"2026-05-31"``, or a day with a time, ``"2026-05-31 19:30"``.
    note : str, optional
        Anything worth remembering.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[str, str, str | None, str | None, str | None], dict[str, str | None]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, end: End, load: str, distance: QuantityLike | None = None, settled: str | None = None, uncertainty: QuantityLike | None = None, *, sag: Any | None = None, date: str | None = None, note: str | None = None) -> Reading: ...
    def __repr__(self, /) -> str: ...
    @property
    def date(self, /) -> str | None:
        """
        When it was read, where noted.
        """
    @property
    def distance(self, /) -> Quantity | None:
        """
        The distance read; None where a sag was read.
        """
    @property
    def end(self, /) -> str:
        """
        Which end.
        """
    @property
    def load(self, /) -> str:
        """
        What stands on the wheels.
        """
    @property
    def note(self, /) -> str | None:
        """
        A note of the reader's.
        """
    @property
    def sag(self, /) -> Quantity | None:
        """
        The sag read, on a zeroed gauge or already subtracted; None where a distance was read, and for a share of a travel
        that is not known by itself.
        """
    @property
    def settled(self, /) -> str | None:
        """
        From which side it came to rest, where noted.
        """
    @property
    def share(self, /) -> Quantity | None:
        """
        The sag read, as a share of the travel; None where it was not noted so.
        """
    @property
    def uncertainty(self, /) -> Quantity | None:
        """
        Standard uncertainty, where it differs from the end's.
        """

@final
class RearEnd:
    """
    The rear end: a linkage with a shock in it.

    Parameters
    ----------
    linkage : Linkage or MeasuredLinkage
        Made for a shock of this length and stroke.
    shock : Shock
        The shock.
    final_drive : Sprockets or "shaft", optional
        What drives the wheel, for squat.
    caliper : str, optional
        The body of a drawn linkage that carries the caliper of the rear brake, for anti-rise: one with the axle on it, or ``frame``
        where a rod parallel to the swingarm holds it.
    point_uncertainty : length, optional
        Standard uncertainty of every coordinate of a drawn linkage: fit and advice then hold it. Exact unless given.
    shock_length_uncertainty : length, optional
        That of the shock's length, beside it. Exact unless given.
    table : MeasuredLinkage, optional
        A table taken beside a drawing: fit and advice let it correct the pivots within their uncertainty.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[Linkage | MeasuredLinkage, Shock], dict[str, object]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, linkage: Linkage | MeasuredLinkage, shock: Shock, *, final_drive: Sprockets | str | None = None, caliper: str | None = None, point_uncertainty: QuantityLike | None = None, shock_length_uncertainty: QuantityLike | None = None, table: MeasuredLinkage | None = None) -> RearEnd: ...
    def __repr__(self, /) -> str: ...
    def at(self, /, travel: QuantityLike) -> WheelState:
        """
        Everything at one vertical travel.

        Parameters
        ----------
        travel : length
            From full extension.

        Returns
        -------
        WheelState
        """
    def axle(self, /, travel: QuantityLike) -> Quantity:
        """
        Position of the axle in the frame axes, x forward and z up.
        """
    @property
    def caliper(self, /) -> str | None:
        """
        The body with the caliper of the rear brake, where it is stated.
        """
    def chain(self, /, travels: ArrayLike | None = None, *, play: QuantityLike | None = None) -> ChainRun:
        """
        The chain over travel: growth, slack, play, and how it turns the wheel.

        Parameters
        ----------
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.
        play : length, optional
            Movement of the middle of the lower run, up and down together, where the chain is tightest; none unless given.

        Returns
        -------
        ChainRun

        Examples
        --------
        >>> import wheelrate as wr
        >>> chain = wr.demo().rear.chain(play="15 mm")
        >>> print(chain.tightest_travel.round(0), chain.extended_play.round(0))
        138.0 millimeter 77.0 millimeter
        """
    def curve(self, /, travels: ArrayLike | None = None) -> WheelCurve:
        """
        Everything over many vertical travels, as arrays.

        Parameters
        ----------
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.

        Returns
        -------
        WheelCurve
        """
    def design(self, /, free: dict[str, tuple[QuantityLike, QuantityLike]], *, wheel_rate: tuple[ArrayLike, ArrayLike, QuantityLike] | None = None, progression: tuple[QuantityLike, QuantityLike] | None = None, full_travel: tuple[QuantityLike, QuantityLike] | None = None, motion_ratio: tuple[ArrayLike, ArrayLike, QuantityLike] | None = None) -> Design:
        """
        The dimensions of the linkage inside their bounds that meet the targets best, springs and preload as they are.

        As `Linkage.design`, with the wheel rate among the targets. Put the linkage of the design in with `with_linkage`.

        Parameters
        ----------
        free : dict of str to pair of lengths
            Dimensions that may move, with their bounds.
        wheel_rate : tuple, optional
            Travels, the wheel rates wanted there, and the tolerance of each.
        progression : pair of shares, optional
            Wanted over the whole travel, and the tolerance: ``("35 %", "0.5 %")``.
        full_travel : pair of lengths, optional
            Wanted, and the tolerance.
        motion_ratio : tuple, optional
            Travels, the motion ratios wanted there, and the tolerance of each.

        Returns
        -------
        Design

        Examples
        --------
        >>> import wheelrate as wr
        >>> rear = wr.demo().rear
        >>> design = rear.design(
        ...     {"x of link_frame": ("-90 mm", "-40 mm"), "z of link_frame": ("-120 mm", "-80 mm")},
        ...     wheel_rate=(([50, 150], "mm"), ([7.2, 9.0], "N/mm"), "0.05 N/mm"),
        ... )
        >>> design.is_reached
        True
        >>> print(f"{rear.with_linkage(design.linkage).at('150 mm').wheel_rate.to('N/mm'):.1f~}")
        9.0 N / mm
        """
    def effects_at(self, /, travel: QuantityLike, step: QuantityLike | None = None) -> WheelEffects:
        """
        What a small change of every dimension of the linkage does to wheel force and wheel rate at one travel, to first
        order, by exact derivatives.

        Parameters
        ----------
        travel : length
            From full extension, which moves with the dimension.
        step : length, optional
            How much each dimension changes; 1 mm unless given.

        Returns
        -------
        WheelEffects

        Examples
        --------
        >>> import wheelrate as wr
        >>> effects = wr.demo().rear.effects_at("102 mm")
        >>> longer = effects.dimensions.index("length of link")
        >>> print(f"{effects.wheel_rate[longer].to('N/mm'):.3f~}")
        0.016 N / mm
        """
    def effects_under(self, /, load: QuantityLike, step: QuantityLike | None = None) -> EndEffects | None:
        """
        What a small change of every dimension of the linkage does under a load, to first order; None when the load leaves
        the wheel on a stop.

        Parameters
        ----------
        load : force
            Sprung load at the wheel.
        step : length, optional
            How much each dimension changes; 1 mm unless given.

        Returns
        -------
        EndEffects or None
        """
    def fast_at(self, /, rest: QuantityLike, travel: QuantityLike) -> WheelState:
        """
        Everything at one travel reached fast, in a tenth of a second or two, from where the end had settled.

        The gas answers with its fast exponent from the pressure that it had at rest; springs, stops and linkage are
        as they are slowly. The energy is that of the rest and the work done since.

        Parameters
        ----------
        rest : length
            Vertical travel at which the end had come to rest.
        travel : length
            From full extension.

        Returns
        -------
        WheelState
        """
    def fast_curve(self, /, rest: QuantityLike, travels: ArrayLike | None = None) -> WheelCurve:
        """
        Everything over many vertical travels, all reached fast from one rest.

        Parameters
        ----------
        rest : length
            Vertical travel at which the end had come to rest.
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.

        Returns
        -------
        WheelCurve
        """
    @property
    def final_drive(self, /) -> Sprockets | str | None:
        """
        What drives the wheel: sprockets, ``"shaft"``, or None where it is not stated.
        """
    @property
    def full_travel(self, /) -> Quantity:
        """
        Vertical travel from full extension to full compression.
        """
    @property
    def kinks(self, /) -> Quantity:
        """
        Travels at which the rate jumps, in rising order.
        """
    @property
    def linkage(self, /) -> Linkage:
        """
        The linkage as drawn; an end known from a measured table has none.
        """
    @property
    def measured(self, /) -> MeasuredLinkage | None:
        """
        The measured table, where the end is known from one.
        """
    @property
    def point_uncertainty(self, /) -> Quantity | None:
        """
        Standard uncertainty of every coordinate of the drawn linkage, where stated.
        """
    def reserve(self, /, load: QuantityLike, travel: QuantityLike | None = None) -> Reserve:
        """
        What the end can still take in from this travel on, under a load: it has settled there, and goes on fast.

        Parameters
        ----------
        load : force
            At the wheel.
        travel : length, optional
            Where it stands; full extension unless given, which is a drop onto unloaded wheels.

        Returns
        -------
        Reserve
        """
    @property
    def shock(self, /) -> Shock:
        """
        The shock.
        """
    @property
    def shock_length_uncertainty(self, /) -> Quantity | None:
        """
        Standard uncertainty of the shock's length, where that of the points is stated.
        """
    @property
    def table(self, /) -> MeasuredLinkage | None:
        """
        The table taken beside the drawing, where there is one.
        """
    def travel_under(self, /, load: QuantityLike) -> Settling:
        """
        Where the wheel comes to rest under a vertical load on the springs, friction left out.

        Parameters
        ----------
        load : force
            Sprung load at the wheel.

        Returns
        -------
        Settling
        """
    def uncertain(self, /, travel: QuantityLike) -> tuple[Uncertain, Uncertain] | None:
        """
        Wheel force and wheel rate at one travel with the uncertainty that a measured table gives them; None for an end known
        from a drawing.
        """
    def wheel_force(self, /, travel: AnyShape) -> Quantity:
        """
        Vertical force at the wheel at one travel or an array of any shape.
        """
    def wheel_rate(self, /, travel: AnyShape) -> Quantity:
        """
        Rate at the wheel, the geometric term included, at one travel or an array of any shape; `curve` gives all
        there is over a row of travels.
        """
    def with_linkage(self, /, linkage: Linkage) -> RearEnd:
        """
        The same springs, gas and stops in another linkage of the same stroke, the shock as long as that wants it.
        """
    def with_pivot_uncertainty(self, /, coordinate: QuantityLike, shock_length: QuantityLike | None = None, travels: ArrayLike | None = None) -> UncertainWheelCurve:
        """
        Wheel force and wheel rate with the uncertainty that measured pivots give them, to first order (JCGM 100:2008).

        Springs and gas are taken as known.

        Parameters
        ----------
        coordinate : length
            Standard uncertainty of every coordinate.
        shock_length : length, optional
            Standard uncertainty of the shock's length; known exactly unless given.
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.

        Returns
        -------
        UncertainWheelCurve

        Examples
        --------
        >>> import wheelrate as wr
        >>> band = wr.demo().rear.with_pivot_uncertainty("0.5 mm", travels=["102 mm"])
        >>> print(band.wheel_rate.round(2), band.wheel_rate_uncertainty.round(2))
        [8.37] newton / millimeter [0.06] newton / millimeter
        """
    def with_spring_change(self, /, rate_factor: float, preload_change: QuantityLike) -> RearEnd:
        """
        The end with every main spring's rate times a factor, and more (or less) preload on each.
        """
    def with_spring_rate(self, /, rate: QuantityLike, preload: QuantityLike) -> RearEnd:
        """
        The end with springs of this rate (each) and preload in place of its main springs.
        """
    def with_surveyed_pivots(self, /, survey: Survey, shock_length: QuantityLike | None = None, travels: ArrayLike | None = None) -> UncertainWheelCurve:
        """
        Wheel force and wheel rate with the uncertainty that surveyed pivots give them, all their correlations in it.

        Parameters
        ----------
        survey : Survey
            Its points by the names of the linkage's; points that are not in it are exact.
        shock_length : length, optional
            Standard uncertainty of the shock's length; known exactly unless given.
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.

        Returns
        -------
        UncertainWheelCurve
        """

@final
class Rehearsal:
    """
    How the fit of one end fared over simulated garages: coverage, bias, and what the readings will be worth.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Rehearsal: ...
    @property
    def end(self, /) -> str:
        """
        Which end.
        """
    @property
    def friction(self, /) -> Rehearsed:
        """
        Friction force at the wheel.
        """
    @property
    def garages(self, /) -> int:
        """
        Garages asked for.
        """
    @property
    def preload(self, /) -> Rehearsed:
        """
        Preload of the first main spring.
        """
    @property
    def rate(self, /) -> Rehearsed:
        """
        Rate of all main springs together.
        """
    @property
    def refused(self, /) -> int:
        """
        Garages whose readings could not be fitted.
        """
    @property
    def sags(self, /) -> dict[str, Rehearsed]:
        """
        Vertical sag by load, lightest first.
        """

@final
class Rehearsed:
    """
    How one quantity fared over simulated garages.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Rehearsed: ...
    @property
    def bias(self, /) -> float:
        """
        Mean error in standard uncertainties.
        """
    @property
    def covered_95(self, /) -> Quantity:
        """
        Share of them in which the 95 % interval held the truth.
        """
    @property
    def error(self, /) -> Quantity:
        """
        Root mean square of the errors made.
        """
    @property
    def garages(self, /) -> int:
        """
        Garages in which it has a true value: all, or those in which the end is not topped out.
        """
    @property
    def standard_uncertainty(self, /) -> Quantity:
        """
        Root mean square of the standard uncertainties reported: what the readings will be worth.
        """

@final
class Reserve:
    """
    What an end can still take in before it is fully compressed. Damping and friction are not in it.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Reserve: ...
    @property
    def drop_height(self, /) -> Quantity:
        """
        The height from which the load would have to fall to bring that energy.
        """
    @property
    def energy(self, /) -> Quantity:
        """
        Energy stored on the way to full travel, less what the load does on the way.
        """
    @property
    def load_factor(self, /) -> float:
        """
        Force at the wheel at full travel, over the load.
        """
    def _repr_html_(self: Any) -> str: ...

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
    exponent : float or Exponents, optional
        Both exponents, or the slow one alone; 1 and 1.35 ± 0.03 unless given.
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
    def __new__(cls, /, pressure: QuantityLike, volume: QuantityLike, rod_diameter: QuantityLike, *, exponent: float | Exponents | None = None, sealed: Conditions | None = None, running: Conditions | None = None) -> Reservoir: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Reservoir: ...
    def chamber(self, /, stroke: QuantityLike) -> Chamber:
        """
        The sealed chamber of a shock with this stroke.
        """
    def equivalent_preload(self, /, rate: QuantityLike) -> Quantity:
        """
        The preload of a spring of this rate that gives the same force at full extension.
        """
    @property
    def exponents(self, /) -> Exponents:
        """
        Polytropic exponents.
        """
    @property
    def force_extended(self, /) -> Quantity:
        """
        Force at full extension: what the gas adds to the preload force of the spring.
        """
    @property
    def pressure(self, /) -> Quantity:
        """
        Gauge pressure at full extension, when charged.
        """
    @property
    def rod_diameter(self, /) -> Quantity:
        """
        Diameter of the rod.
        """
    def running_in(self, /, conditions: Conditions) -> Reservoir:
        """
        The same gas running in these conditions.
        """
    @property
    def volume(self, /) -> Quantity:
        """
        Gas volume at full extension.
        """
    def with_exponents(self, /, exponents: Exponents) -> Reservoir:
        """
        The same gas with these exponents.
        """

@final
class Riders:
    """
    Riders of one bike: their masses, the share of each on the front wheel, and what is on the bike with them.

    Parameters
    ----------
    mean, deviation : quantity, optional
        Mean mass with kit, and its standard deviation from rider to rider.
    each : list of (quantity, float), optional
        In their place: riders one by one, each with how often it rides beside the others.
    on_front : Uncertain or pair of share, optional
        Share of a rider's mass on the front wheel, ``("32 %", "3 %")``, its uncertainty from rider to rider; that of the mass
        they stand for, or what is usual, unless given.
    stands_for : str, optional
        The mass of the loads in whose place they stand.
    loads : list of (str, float), optional
        Loads that are ridden, the rider in each, and how often; that of the rider sag unless given.

    Examples
    --------
    >>> import wheelrate as wr
    >>> riders = wr.Riders("92 kg", "10 kg", loads=[("bike + rider", 4), ("bike + rider + stretcher", 1)])
    >>> rear = wr.demo().with_riders(riders).study("rear").advise_riders()
    >>> rear.springs[0].own.share.value > rear.springs[0].common.share.value
    True
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, mean: QuantityLike | None = None, deviation: QuantityLike | None = None, *, each: list[tuple[QuantityLike, float]] | None = None, on_front: Uncertain | tuple[QuantityLike, QuantityLike] | None = None, stands_for: str = "rider", loads: list[tuple[str, float]] = ...) -> Riders: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Riders: ...
    @property
    def deviation(self, /) -> Quantity | None:
        """
        Standard deviation of that mass.
        """
    @property
    def each(self, /) -> list[tuple[Quantity, float]]:
        """
        Riders one by one with how often each rides; empty where they are normally distributed.
        """
    @property
    def loads(self, /) -> list[tuple[str, float]]:
        """
        The loads that are ridden and how often; empty where nothing was said.
        """
    @property
    def mean(self, /) -> Quantity | None:
        """
        Mean mass, where riders are normally distributed.
        """
    @property
    def on_front(self, /) -> Uncertain | None:
        """
        Share of a rider's mass on the front wheel with its standard deviation from rider to rider, where stated.
        """
    @property
    def stands_for(self, /) -> str:
        """
        The mass of the loads in whose place they stand.
        """

@final
class Road:
    """
    A road by its roughness: one spectrum, ``G_d(n) = G_d(n₀)·(n/n₀)⁻²``.

    Parameters
    ----------
    grade : {"A", "B", "C", "D", "E", "F", "G", "H"}, optional
        Class of ISO 8608, from very good to very bad, its middle: tarred roads are A to C, gravel and forest roads C to E, trails E
        and beyond (common practice, no source).
    roughness : volume, optional
        In place of a class: ``G_d(n₀)`` at 0.1 cycle/m, in m²/(cycle/m), which is m³.
    shortest, longest : length, optional
        Wavelengths that are ridden over; 0.1 m to 100 m unless given.

    Examples
    --------
    >>> import wheelrate as wr
    >>> print(wr.Road("D").roughness.to("m**3").round(6))
    0.001024 meter ** 3
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, grade: str | None = None, *, roughness: QuantityLike | None = None, shortest: QuantityLike | None = None, longest: QuantityLike | None = None) -> Road: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Road: ...
    def heights(self, /, places: ArrayLike, seed: SupportsIndex) -> Quantity:
        """
        Heights at places along the profile that a seed makes of this road; zero at the start.

        Parameters
        ----------
        places : array of length
            Along the road.
        seed : int
            The same profile for the same seed.

        Examples
        --------
        >>> import wheelrate as wr
        >>> heights = wr.Road("D").heights(([0, 1, 2], "m"), seed=1)
        >>> bool(heights[0] == wr.quantity("0 mm", "length"))
        True
        """
    @property
    def roughness(self, /) -> Quantity:
        """
        ``G_d(n₀)``.
        """
    @property
    def wavelengths(self, /) -> Quantity:
        """
        Shortest and longest wavelength.
        """

@final
class RoadEnd:
    """
    One end of a bike on a road. Root mean squares are about the mean.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> RoadEnd: ...
    @property
    def bottoming_chance(self, /) -> Quantity:
        """
        Chance of that in a kilometre.
        """
    @property
    def bottomings_per_km(self, /) -> float:
        """
        How often in a kilometre the travel reaches full travel.
        """
    @property
    def damping(self, /) -> Quantity:
        """
        Linear damping rate at the wheel that takes as much energy as damper and friction do.
        """
    @property
    def damping_ratio(self, /) -> Quantity:
        """
        The same as a share of critical.
        """
    @property
    def full_travel(self, /) -> Quantity:
        """
        Full travel.
        """
    @property
    def leaves_ground(self, /) -> bool:
        """
        Does the wheel leave the ground now and then? The linear answer is then off.
        """
    @property
    def rest_travel(self, /) -> Quantity:
        """
        Travel at rest.
        """
    @property
    def shaft_speed_rms(self, /) -> Quantity:
        """
        Of the speed along the fork or shock.
        """
    @property
    def top_outs_per_km(self, /) -> float:
        """
        How often in a kilometre the travel reaches full extension.
        """
    @property
    def travel_rms(self, /) -> Quantity:
        """
        Of the travel.
        """
    @property
    def travel_shift(self, /) -> Quantity:
        """
        By how much the mean travel is more than at rest, because the damper is harder one way than the other.
        """
    @property
    def travel_speed_rms(self, /) -> Quantity:
        """
        Of its speed.
        """
    @property
    def tyre_force_rms(self, /) -> Quantity:
        """
        Of the tyre's force.
        """
    @property
    def tyre_load(self, /) -> Quantity:
        """
        Force of the tyre at rest.
        """

@final
class RoadRide:
    """
    A bike on a road, linear about its rest.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> RoadRide: ...
    @property
    def acceleration_rms(self, /) -> Quantity:
        """
        Root mean square of the vertical acceleration of the sprung centre of gravity.
        """
    @property
    def ends(self, /) -> dict[str, RoadEnd]:
        """
        Both ends, by name.
        """
    @property
    def limits(self, /) -> list[str]:
        """
        What riding over a road on paper cannot show, in sentences.
        """
    @property
    def weighted_acceleration_rms(self, /) -> Quantity:
        """
        The same weighted by frequency, as a person who stands or sits still feels it.
        """

@final
class SagPractice:
    """
    What common practice says of one sag of a bike, and how the target stated stands to it.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> SagPractice: ...
    @property
    def agrees(self, /) -> bool:
        """
        Do the figures overlap within the travel?
        """
    @property
    def end(self, /) -> str:
        """
        Which end.
        """
    @property
    def figures(self, /) -> list[Practice]:
        """
        Every figure on it.
        """
    @property
    def full_sag(self, /) -> Quantity:
        """
        Sag at full travel along the direction of the first figure.
        """
    @property
    def hold_own(self, /) -> list[bool | None]:
        """
        For each figure, whether the target stated aims inside it; None where none is stated.
        """
    def note(self, /, units: str = "metric") -> str | None:
        """
        What is taken of it, where it disagrees, and how the target stated stands to it; None where there is nothing to say.
        """
    @property
    def overlap(self, /) -> tuple[Quantity, Quantity] | None:
        """
        What they have in common, along the direction of the first; None where that is nothing.
        """
    @property
    def own(self, /) -> tuple[Quantity, Quantity] | None:
        """
        The range stated by the user, which comes first; None without one.
        """
    @property
    def ranges(self, /) -> list[tuple[Quantity, Quantity]]:
        """
        What each figure means on this bike, along its own direction: least and most.
        """
    @property
    def sag(self, /) -> str:
        """
        ``rider`` or ``free``.
        """
    @property
    def wanted(self, /) -> tuple[Quantity, Quantity] | None:
        """
        The range that is wanted: the user's own, else the overlap, else None.
        """

@final
class SagTarget:
    """
    A wanted sag: the value aimed at and the range that will do.

    Give `value` with `tolerance`, or `range`, or `value` with `range`.

    Parameters
    ----------
    value : length, optional
        The sag aimed at; the middle of the range unless given.
    tolerance : length, optional
        What will do, either way of the value.
    range : pair of lengths, optional
        Least and most that will do.
    direction : {"vertical", "along fork"}, optional
        Along what the sag is meant; vertical unless given.

    Examples
    --------
    >>> import wheelrate as wr
    >>> target = wr.SagTarget("102 mm", tolerance="4 mm")
    >>> print(*(bound.round(6) for bound in target.range))
    98.0 millimeter 106.0 millimeter
    >>> print(wr.SagTarget(range=("25 mm", "40 mm")).value)
    32.5 millimeter
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, value: QuantityLike | None = None, *, tolerance: QuantityLike | None = None, range: tuple[QuantityLike, QuantityLike] | None = None, direction: str = "vertical") -> SagTarget: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> SagTarget: ...
    @property
    def direction(self, /) -> str | Quantity:
        """
        Along what the sag is meant.
        """
    @property
    def range(self, /) -> tuple[Quantity, Quantity]:
        """
        Least and most that will do.
        """
    @property
    def value(self, /) -> Quantity:
        """
        The sag aimed at.
        """

@final
class Sampled:
    """
    A quantity over the draws of a Monte Carlo run.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Sampled: ...
    @property
    def interval_95(self, /) -> tuple[Quantity, Quantity]:
        """
        Ends of the probabilistically symmetric 95 % interval.
        """
    @property
    def mean(self, /) -> Quantity:
        """
        Mean.
        """
    @property
    def standard_deviation(self, /) -> Quantity:
        """
        Standard deviation.
        """

@final
class Scenario:
    """
    The same bike under another load: with a pack, with a passenger.

    Parameters
    ----------
    name : str
        What it is called.
    load : str
        Masses added up, the rider included: ``"bike + rider + pack"``.
    targets : dict of str to Targets, optional
        By end, the sags that are wanted under this load, where they differ from those of the bike.

    Examples
    --------
    >>> import wheelrate as wr
    >>> targets = wr.Targets(rider_sag=wr.SagTarget(range=("95 mm", "103 mm")))
    >>> light = wr.Scenario("without kit", "bike + rider", targets={"rear": targets})
    >>> bike = wr.demo().with_scenarios([light])
    >>> [scenario.name for scenario in bike.scenarios]
    ['without kit']
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, name: str, load: str, *, targets: dict[str, Targets] | None = None) -> Scenario: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Scenario: ...
    @property
    def load(self, /) -> str:
        """
        What stands on the wheels.
        """
    @property
    def name(self, /) -> str:
        """
        What it is called.
        """
    @property
    def targets(self, /) -> dict[str, Targets]:
        """
        The sags that are wanted under it at each end; of a sag that is None, what the bike wants.
        """

@final
class ScenarioLoad:
    """
    A load, and how the end stands under it today.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> ScenarioLoad: ...
    @property
    def free_sag_today(self, /) -> Uncertain:
        """
        Sag of the bike alone today; below zero it is topped out.
        """
    @property
    def load(self, /) -> str:
        """
        What stands on the wheels.
        """
    @property
    def name(self, /) -> str:
        """
        Name of the scenario; of the usual load, the load itself.
        """
    @property
    def sag_today(self, /) -> Uncertain:
        """
        Sag under it today, along the direction of the target.
        """
    @property
    def sprung_load(self, /) -> Uncertain:
        """
        What the springs carry at the wheel.
        """

@final
class SetResult:
    """
    What one set of readings says, on the bike as it was then.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> SetResult: ...
    @property
    def changes(self, /) -> int:
        """
        Changes that came before it, of those that touch the end.
        """
    @property
    def date(self, /) -> str | None:
        """
        When its first reading was taken; None for readings without dates.
        """
    @property
    def free_sag(self, /) -> Uncertain | None:
        """
        Vertical sag of the bike alone; below zero it is topped out.
        """
    @property
    def friction(self, /) -> Uncertain:
        """
        Friction force at the wheel, either way.
        """
    @property
    def preload(self, /) -> Uncertain:
        """
        Preload of the first main spring.
        """
    @property
    def rate(self, /) -> Uncertain:
        """
        Rate of all main springs together.
        """
    @property
    def readings(self, /) -> list[int]:
        """
        Places of its readings among all readings of the bike, from 0.
        """
    @property
    def rider_sag(self, /) -> Uncertain | None:
        """
        Vertical sag under the rider load; None where the bike does not state it.
        """

@final
class SettledBike:
    """
    A bike come to rest, both ends and the pitch together.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> SettledBike: ...
    @property
    def along(self, /) -> dict[str, Quantity]:
        """
        Force of the ground on each wheel along the ground, forward.
        """
    @property
    def ends(self, /) -> dict[str, Settling]:
        """
        How each end came to rest.
        """
    @property
    def load(self, /) -> dict[str, Quantity]:
        """
        Force of the ground on each wheel, square to the ground.
        """
    @property
    def stance(self, /) -> Stance:
        """
        How it stands.
        """

@final
class Settling:
    """
    Where a wheel comes to rest under a load: the first equilibrium on the way from full extension.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Settling: ...
    @property
    def margin(self, /) -> Quantity | None:
        """
        Force by which the wheel rests on its stop; None where it is on none.
        """
    @property
    def others(self, /) -> list[tuple[Quantity, str]]:
        """
        Travels of other equilibria, with what they are: ``stable``, ``unstable`` or ``bottomed``.
        """
    @property
    def outcome(self, /) -> str:
        """
        ``settled``, ``topped out`` or ``bottomed``.
        """
    @property
    def state(self, /) -> WheelState | None:
        """
        The wheel where it rests; None on a stop.
        """

@final
class Sheet:
    """
    Setup sheet: everything a person hangs on the garage wall.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[str, dict[str, str]]]: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def _repr_html_(self, /) -> str: ...
    def save(self, /, path: str | os.PathLike[str], *, force: bool = False) -> None:
        """
        Write the HTML page to a file.

        Parameters
        ----------
        path : str or path
            The file. A page of this package that is there is replaced, in one step; a symbolic link is not followed.
        force : bool, optional
            Replace any other file, too.

        Raises
        ------
        OverwriteError
            Where the file is no page of this package, or a link.
        """
    def to_html(self, /) -> str:
        """
        The sheet as one self-contained HTML page.
        """
    def to_json(self, /) -> str:
        """
        The sheet as JSON text.
        """
    def to_screen(self, /, width: SupportsIndex = 80) -> str:
        """
        What to do at both ends, as the first screen of a terminal: 22 rows at most on 80 characters.
        """
    def to_text(self, /, width: SupportsIndex = 100) -> str:
        """
        The sheet as plain text, sentences wrapped to so many characters.
        """

@final
class Shift:
    """
    A number that may have changed between two sets.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Shift: ...
    @property
    def after(self, /) -> Uncertain:
        """
        In the later set.
        """
    @property
    def before(self, /) -> Uncertain:
        """
        In the earlier set.
        """
    @property
    def change(self, /) -> Uncertain:
        """
        Later less earlier; surer than the two apart, which share loads and label.
        """
    @property
    def deviations(self, /) -> float:
        """
        The change in its own standard deviations.
        """
    @property
    def probability(self, /) -> float:
        """
        Probability of as large a change, either way, by chance.
        """

@final
class Shock:
    """
    Spring, gas and stops between two eyes.

    Parameters
    ----------
    length : length
        Eye to eye, extended.
    full_stroke : length
        From full extension to full compression.
    spring : Preloaded, optional
        Main spring with its preload.
    reservoir : Reservoir, optional
        Gas on the rod.
    air_spring : AirSpring, optional
        Air in place of a coil spring.
    bump_stop, top_out : Stop, optional
        Springs near full compression and near full extension.
    friction : force, optional
        Of the seals, along the shock. It is kept out of the spring curves.
    damper : Damper, optional
        Along one shock. It acts in motion only.
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
    def __new__(cls, /, length: QuantityLike, full_stroke: QuantityLike, spring: Preloaded | None = None, reservoir: Reservoir | None = None, *, air_spring: AirSpring | None = None, bump_stop: Stop | None = None, top_out: Stop | None = None, friction: QuantityLike | None = None, damper: Damper | None = None, count: SupportsIndex = 1) -> Shock: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Shock: ...
    @property
    def air_spring(self, /) -> AirSpring | None:
        """
        Air in place of a coil spring, where there is some.
        """
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
    def bump_stop(self, /) -> Stop | None:
        """
        Bump stop, where there is one.
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
    @property
    def damper(self, /) -> Damper | None:
        """
        The dampers of all shocks together, along their axis; None where none is stated.
        """
    def describe(self, /) -> str:
        """
        Say what it is, in words and numbers.
        """
    def fast_at(self, /, rest: QuantityLike, stroke: QuantityLike) -> AxialState:
        """
        Force, rate and energy at a stroke reached fast, in a tenth of a second or two, from where it had settled.

        The gas answers with its fast exponent from the pressure that it had at rest; springs and stops are as they
        are slowly. The energy is that of the rest and the work done since.

        Parameters
        ----------
        rest : length
            Stroke at which it had come to rest.
        stroke : length
            Shortening from full extension.

        Returns
        -------
        AxialState
        """
    def fast_curve(self, /, rest: QuantityLike, strokes: ArrayLike) -> AxialCurve:
        """
        Force, rate and energy over many strokes, all reached fast from one rest.

        Parameters
        ----------
        rest : length
            Stroke at which it had come to rest.
        strokes : array of length
            Shortenings from full extension.

        Returns
        -------
        AxialCurve
        """
    def fast_gas_at(self, /, rest: QuantityLike, stroke: QuantityLike) -> AxialState:
        """
        The gas alone at a stroke reached fast from rest at another.
        """
    def fast_rate_at(self, /, stroke: QuantityLike) -> Quantity:
        """
        Rate of a small fast movement about a stroke at which it has come to rest: there the gas answers with
        ``fast/slow`` times its slow rate.
        """
    @property
    def friction(self, /) -> Quantity | None:
        """
        Friction of all shocks together, along their axis; None where none is stated. Times the motion ratio it is felt at the wheel.
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
    def length(self, /) -> Quantity | None:
        """
        Eye to eye, extended; None where nobody knows it.
        """
    @property
    def main_spring(self, /) -> MainSpring | None:
        """
        All main springs together; None where there is none.
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
    def top_out(self, /) -> Stop | None:
        """
        Top-out spring, where there is one.
        """
    def with_exponents(self, /, exponents: Exponents) -> Shock:
        """
        The shock with these exponents for all its gas.
        """
    def with_spring_change(self, /, rate_factor: float, preload_change: QuantityLike) -> Shock:
        """
        The shock with every main spring's rate times a factor, and more (or less) preload on each.
        """
    def with_spring_rate(self, /, rate: QuantityLike, preload: QuantityLike) -> Shock:
        """
        The shock with coil springs of this rate (each) and preload in place of its main springs.
        """

@final
class SpacerLengths:
    """
    The parts on top of each other in a fork leg, as a tape measures them: fork extended, cap off.

    Parameters
    ----------
    free_length : length
        Of the spring.
    spacer : length
        Of the spacer tube.
    washers : length
        Of all washers together.
    seat_depth : length
        From the top of the tube down to where the spring stands.
    cap_depth : length
        How far the cap, screwed home, reaches into the tube.

    Examples
    --------
    >>> import wheelrate as wr
    >>> leg = wr.SpacerLengths("460 mm", "120 mm", "4 mm", "590 mm", "18 mm")
    >>> print(leg.preload.round(3))
    12.0 millimeter
    >>> print(leg.cut_for("8 mm").spacer.round(3))
    116.0 millimeter
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, free_length: QuantityLike, spacer: QuantityLike, washers: QuantityLike, seat_depth: QuantityLike, cap_depth: QuantityLike) -> SpacerLengths: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> SpacerLengths: ...
    def cut_for(self, /, preload: QuantityLike) -> SpacerLengths:
        """
        The same leg with the spacer cut for this preload.
        """
    @property
    def preload(self, /) -> Quantity:
        """
        The preload they give; below zero, a gap.
        """
    @property
    def spacer(self, /) -> Quantity:
        """
        Length of the spacer.
        """
    @property
    def stands_proud(self, /) -> Quantity:
        """
        How far the parts stand above the tube before the cap goes on; below zero, how far down they end.
        """
    def with_free_length(self, /, free_length: QuantityLike) -> SpacerLengths:
        """
        The same leg with a spring of another free length.
        """

@final
class Spring:
    """
    A spring: here a coil of constant rate, ``F = k·x``; `stack`, `nest`, `table`, `closing` and
    `measured` make the others.

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
    @property
    def changeovers(self, /) -> list[Changeover]:
        """
        Where the rate of a stack jumps, in rising order; of a spring of several pitches, where coils close.

        Examples
        --------
        >>> import wheelrate as wr
        >>> wr.Spring.stack(["20 N/mm", "60 N/mm"], ["12 mm", None]).changeovers
        [Changeover(compression=16.0 millimeter, force=240.0 newton)]
        """
    @staticmethod
    def closing(*, wire: QuantityLike, mean_diameter: QuantityLike, coils: list[float], pitches: ArrayLike, shear_modulus: QuantityLike | None = None) -> Spring:
        """
        A coil spring wound with several pitches, whose coils close one after the other: the rate rises as fewer are left.

        Parameters
        ----------
        wire, mean_diameter : length
            Of the wire, bare of paint; of the coil, outside less one wire.
        coils : list of float
            Active coils of each pitch; parts of one count.
        pitches : array of length
            Of each, from one coil to the next on the loose spring.
        shear_modulus : stress, optional
            79.5 GPa unless given: oil-tempered wire (EN 13906-1).

        Examples
        --------
        >>> import wheelrate as wr
        >>> spring = wr.Spring.closing(wire="10 mm", mean_diameter="70 mm", coils=[4, 5], pitches=([12, 18], "mm"))
        >>> for at in spring.changeovers:
        ...     print(at.compression.round(1), at.force.round(0))
        18.0 millimeter 579.0 newton
        48.0 millimeter 2318.0 newton
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
    def mean_rate(self, /) -> Uncertain | None:
        """
        Of a measured spring, load over compression at its furthest reading; None where it was not measured.
        """
    @staticmethod
    def measured(compressions: ArrayLike, loads: ArrayLike, *, force_uncertainty: QuantityLike | None = None, compression_uncertainty: QuantityLike | None = None, scale_uncertainty: QuantityLike | None = None, free_length: QuantityLike | None = None) -> Spring:
        """
        A spring by what a press or scales showed, made smooth; what the readings leave open goes into fit and advice.

        Parameters
        ----------
        compressions : array of length
            In any order, each as often as it was read; lengths where the free length is given.
        loads : array of force
            At each.
        force_uncertainty, compression_uncertainty : force, length, optional
            Standard uncertainty of one load (20 N unless given) and of one compression (0.5 mm).
        scale_uncertainty : share, optional
            Standard uncertainty that all loads share, of scales and lever; 1 % unless given.
        free_length : length, optional
            Of the loose spring, where lengths are read and not compressions.

        Examples
        --------
        >>> import numpy as np
        >>> import wheelrate as wr
        >>> x = np.arange(12.0, 121.0, 12.0)
        >>> spring = wr.Spring.measured((x, "mm"), (50 * x + 0.02 * x**2, "N"))
        >>> print(spring.mean_rate)
        52.4 ± 0.6 N/mm
        >>> print(spring.uncertain_at("60 mm").force)
        3072 ± 34 N
        """
    @staticmethod
    def nest(springs: list[Spring | QuantityLike], gaps: list[QuantityLike]) -> Spring:
        """
        Springs one inside the other: one compression, forces add.

        Parameters
        ----------
        springs : list of Spring or spring rate
            The springs.
        gaps : list of length
            By how much each is shorter than the longest: where it joins in.

        Examples
        --------
        >>> import wheelrate as wr
        >>> nest = wr.Spring.nest(["40 N/mm", "15 N/mm"], ["0 mm", "30 mm"])
        >>> print(nest.at("40 mm").rate.round(3))
        55.0 newton / millimeter
        """
    @property
    def rate(self, /) -> Quantity:
        """
        The rate at first touch.
        """
    def scaled(self, /, factor: float) -> Spring:
        """
        The spring with all its rates times a factor, its lengths unchanged.
        """
    @staticmethod
    def stack(springs: list[Spring | QuantityLike], limits: list[QuantityLike | None] | None = None) -> Spring:
        """
        Springs end to end: one force, compressions add.

        Parameters
        ----------
        springs : list of Spring or spring rate
            In any order.
        limits : list of length or None, optional
            Compression at which a spacer stops each; None where nothing but its own end does.

        Examples
        --------
        >>> import wheelrate as wr
        >>> stack = wr.Spring.stack(["20 N/mm", "60 N/mm"], ["12 mm", None])
        >>> print(stack.rate.round(3))  # in series
        15.0 newton / millimeter
        >>> print(stack.kinks.round(3))  # the soft one meets its spacer, and only the other is left
        [16.0] millimeter
        """
    @property
    def suspect_readings(self, /) -> list[tuple[int, Quantity]]:
        """
        Readings of a measured spring far off what the others say: place from 0, and by how much.
        """
    @staticmethod
    def table(compressions: ArrayLike, forces: ArrayLike) -> Spring:
        """
        A progressive spring by its measured table.

        Parameters
        ----------
        compressions : array of length
            Rising.
        forces : array of force
            At each, rising.

        Examples
        --------
        >>> import wheelrate as wr
        >>> table = wr.Spring.table(([20, 40, 60], "mm"), ([900, 2000, 3300], "N"))
        >>> print(table.at("40 mm").force.round(3))
        2000.0 newton
        """
    def uncertain_at(self, /, compression: QuantityLike) -> SpringPoint | None:
        """
        Force and rate with their standard uncertainties, where the spring was measured; None where it was not.
        """

@final
class SpringAcross:
    """
    One spring under every load.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> SpringAcross: ...
    def change(self, /, start: str, end: str) -> PreloadChange | None:
        """
        Change of preload from one load to another, by name; None where one of them has no preload.

        Parameters
        ----------
        start, end : str
            Names of scenarios, or the usual load.
        """
    @property
    def choices(self, /) -> dict[str, SpringChoice]:
        """
        What it does under each load, by name.
        """
    @property
    def is_fitted(self, /) -> bool:
        """
        Is it the one that is in now?
        """
    @property
    def probability(self, /) -> Quantity:
        """
        Probability that both sags land and the preload can be set under every load, the collar turned for each.
        """
    @property
    def rate(self, /) -> Quantity:
        """
        Rate as labelled, per spring.
        """

@final
class SpringChoice:
    """
    One spring weighed: the preload it needs for the wanted rider sag, and what follows.

    What follows is None where no preload that a collar gives suits; the remark says why.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> SpringChoice: ...
    @property
    def bind_clearance(self, /) -> Quantity | None:
        """
        Compression left before the spring goes solid at full travel; None where its lengths are not known.
        """
    @property
    def damping_factor(self, /) -> float:
        """
        Damping for the same damping ratio, against today.
        """
    @property
    def drop_height(self, /) -> Uncertain | None:
        """
        That energy as a height that the sprung load falls.
        """
    @property
    def energy_left(self, /) -> Uncertain | None:
        """
        Energy left on that stroke, damping not in it.
        """
    @property
    def free_high(self, /) -> Uncertain | None:
        """
        Free sag as it is then read after lifting.
        """
    @property
    def free_low(self, /) -> Uncertain | None:
        """
        Free sag as it is then read after pushing down.
        """
    @property
    def free_sag(self, /) -> Uncertain | None:
        """
        Free sag that follows; below zero the bike is topped out.
        """
    @property
    def full_force(self, /) -> Uncertain | None:
        """
        Force at the wheel at full travel, reached fast from the wanted rider sag; like all that follows with the
        uncertainty of the gas's fast exponent.
        """
    @property
    def is_fitted(self, /) -> bool:
        """
        Is it the one that is in now?
        """
    @property
    def preload(self, /) -> Uncertain | None:
        """
        Preload to set; its uncertainty is that of the preload which gives the rider sag aimed at.
        """
    @property
    def preload_change(self, /) -> Uncertain | None:
        """
        Change from today's preload.
        """
    @property
    def probability(self, /) -> Quantity:
        """
        Probability that both sags land in their ranges, by the way it is set.
        """
    @property
    def probability_re_read(self, /) -> Quantity:
        """
        The same with the rider sag read again and the collar corrected.
        """
    @property
    def probability_turned(self, /) -> Quantity:
        """
        The same with the collar turned by the stated number and left there.
        """
    @property
    def rate(self, /) -> Quantity:
        """
        Rate as labelled, per spring.
        """
    @property
    def remark(self, /) -> str:
        """
        What keeps it from landing more often, in a few words; empty when nothing does.
        """
    @property
    def ride_frequency(self, /) -> Uncertain | None:
        """
        Natural frequency of the rider's sprung load there, the gas by its fast exponent.
        """
    @property
    def rider_high(self, /) -> Uncertain | None:
        """
        Rider sag as it is then read after lifting.
        """
    @property
    def rider_low(self, /) -> Uncertain | None:
        """
        Rider sag as it is then read after pushing down.
        """
    @property
    def rider_sag(self, /) -> Uncertain | None:
        """
        Rider sag that follows; the one to correct to where it is read again.
        """
    @property
    def turns(self, /) -> tuple[float, float] | None:
        """
        Turns of the adjuster with their standard uncertainty: from today's setting on today's spring, from where the collar
        just touches it on another; None where the pitch is not known.
        """
    @property
    def way(self, /) -> str:
        """
        ``turned``, or ``re-read`` where reading the rider sag again gains more than turning the collar costs.
        """
    @property
    def wheel_rate(self, /) -> Uncertain | None:
        """
        Wheel rate at the wanted rider sag.
        """

@final
class SpringForRiders:
    """
    One spring under all riders.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> SpringForRiders: ...
    @property
    def common(self, /) -> CommonSetting | None:
        """
        The best preload for all of them; None where no preload that a collar gives carries them.
        """
    @property
    def is_fitted(self, /) -> bool:
        """
        Is it the one that is in now?
        """
    @property
    def own(self, /) -> OwnSettings | None:
        """
        A preload for each; None where no preload that a collar gives carries them.
        """
    @property
    def rate(self, /) -> Quantity:
        """
        Rate as labelled, per spring.
        """

@final
class SpringLife:
    """
    The stress of a spring, held against its wire.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> SpringLife: ...
    @property
    def cautions(self, /) -> list[str]:
        """
        What to mind beside the numbers.
        """
    @property
    def fatigue_factor(self, /) -> float | None:
        """
        Goodman's factor of safety for endless life; None for wire that no test is known of.
        """
    @property
    def least_stress(self, /) -> Quantity:
        """
        Shear stress at the least compression, corrected for the wire's curvature.
        """
    @property
    def most_stress(self, /) -> Quantity:
        """
        Shear stress at the most compression.
        """
    @property
    def set_share(self, /) -> Quantity:
        """
        The stress at most compression over that at which the spring sets.
        """
    @property
    def solid_share(self, /) -> Quantity | None:
        """
        The stress with the coils touching over what EN 13906-1 permits there; None without a free length.
        """
    @property
    def tensile_strength(self, /) -> Quantity:
        """
        Tensile strength of the wire.
        """
    @property
    def verdict(self, /) -> str:
        """
        ``lasts``, ``too close``, ``may set``, ``may break`` or ``life unknown``.
        """

@final
class SpringPoint:
    """
    A measured spring at one compression, with what its readings leave open, the error that all loads share included.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> SpringPoint: ...
    @property
    def compression(self, /) -> Quantity:
        """
        Compression from where the spring touches.
        """
    @property
    def force(self, /) -> Uncertain:
        """
        Force there.
        """
    @property
    def rate(self, /) -> Uncertain:
        """
        Rate there.
        """

@final
class SpringPrior:
    """
    How far the spring rate and the preload stated for an end can be trusted.

    Parameters
    ----------
    rate_tolerance : share, optional
        How far the stated rate may be off, either way; 5 % unless given.
    preload_uncertainty : length, optional
        Standard uncertainty of the stated preload; 1 mm unless given.

    Examples
    --------
    >>> import wheelrate as wr
    >>> prior = wr.SpringPrior.of_measured(("50.7 N/mm", "0.7 N/mm"), preload_uncertainty="1 mm")
    >>> print(prior.rate_tolerance.round(1))
    2.4 percent
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, *, rate_tolerance: QuantityLike | None = None, preload_uncertainty: QuantityLike | None = None) -> SpringPrior: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> SpringPrior: ...
    @staticmethod
    def of_measured(rate: Uncertain | tuple[QuantityLike, QuantityLike], *, preload_uncertainty: QuantityLike) -> SpringPrior:
        """
        The prior of a spring whose rate was measured, and not read off a label.

        Parameters
        ----------
        rate : Uncertain or pair
            The rate with its standard uncertainty.
        preload_uncertainty : length
            Standard uncertainty of the stated preload.
        """
    @property
    def preload_uncertainty(self, /) -> Quantity:
        """
        Standard uncertainty of the stated preload.
        """
    @property
    def rate_tolerance(self, /) -> Quantity:
        """
        How far the stated rate may be off, either way.
        """

@final
class Sprockets:
    """
    Both sprockets of a chain.

    Parameters
    ----------
    front_centre : pair of lengths
        Centre of the front sprocket in the frame axes.
    teeth : pair of int
        Of the front and the rear sprocket.
    pitch : length
        Of the chain, pin to pin.
    idler : Idler, optional
        What leads the upper run.

    Examples
    --------
    >>> import wheelrate as wr
    >>> bike = wr.demo()
    >>> taller = wr.Sprockets(["88 mm", "4 mm"], (14, 49), "15.875 mm")
    >>> other = wr.RearEnd(bike.rear.linkage, bike.rear.shock, final_drive=taller)
    >>> other == bike.rear
    False
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[object, ...], dict[str, object]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, front_centre: ArrayLike, teeth: tuple[SupportsIndex, SupportsIndex], pitch: QuantityLike, *, idler: Idler | None = None) -> Sprockets: ...
    def __repr__(self, /) -> str: ...
    @property
    def front_centre(self, /) -> Quantity:
        """
        Centre of the front sprocket in the frame axes.
        """
    @property
    def idler(self, /) -> Idler | None:
        """
        What leads the upper run; None where nothing does.
        """
    @property
    def pitch(self, /) -> Quantity:
        """
        Pitch of the chain.
        """
    @property
    def radii(self, /) -> Quantity:
        """
        Pitch radii of the front and the rear sprocket.
        """
    @property
    def teeth(self, /) -> tuple[int, int]:
        """
        Teeth of the front and the rear sprocket.
        """

@final
class Squat:
    """
    Chain line and squat over travel, as arrays of one length.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> Squat: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def anti_squat(self, /) -> Quantity:
        """
        The inverse: above 100 % drive lifts the rear, below it squats.
        """
    @property
    def chain_angle(self, /) -> Quantity:
        """
        Rise, forward, of the upper run of the chain.
        """
    @property
    def squat_angle(self, /) -> Quantity:
        """
        Rise, forward, of the line from the contact to where both lines meet.
        """
    @property
    def squat_ratio(self, /) -> Numbers:
        """
        Squat ratio, tangent of the load transfer angle over that of the squat angle.
        """
    @property
    def swingarm_angle(self, /) -> Quantity:
        """
        Rise, forward, of the line from the axle to the instant centre of its path; the swingarm's where there is one.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Wheel travel from full extension, vertical.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class Stance:
    """
    A bike on both wheels at some travels.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Stance: ...
    @property
    def axle_height(self, /) -> dict[str, Quantity]:
        """
        Height of each axle above the ground.
        """
    @property
    def fork_stroke(self, /) -> Quantity:
        """
        Stroke along the fork.
        """
    @property
    def normal_trail(self, /) -> Quantity:
        """
        Trail square to the steering axis.
        """
    @property
    def pitch(self, /) -> Quantity:
        """
        Pitch of the frame against its axes, nose down.
        """
    def place(self, /, point: ArrayLike) -> Quantity:
        """
        Where a point of the frame is: its distance ahead of the rear contact, and its height.

        Parameters
        ----------
        point : pair of lengths
            In the frame axes, x forward and z up.
        """
    def point_at(self, /, place: ArrayLike) -> Quantity:
        """
        The point of the frame, in its axes, at this distance ahead of the rear contact and this height.
        """
    @property
    def rake(self, /) -> Quantity:
        """
        Angle of the steering axis from the vertical.
        """
    @property
    def shock_stroke(self, /) -> Quantity:
        """
        Stroke of the shock.
        """
    @property
    def swingarm_angle(self, /) -> Quantity | None:
        """
        Of the line from swingarm pivot to axle below the horizontal; None where there is no such pivot.
        """
    @property
    def trail(self, /) -> Quantity:
        """
        Trail along the ground.
        """
    @property
    def travel(self, /) -> dict[str, Quantity]:
        """
        Vertical travel of each end in the frame axes.
        """
    @property
    def wheelbase(self, /) -> Quantity:
        """
        Distance of the contacts.
        """
    def _repr_html_(self: Any) -> str: ...

@final
class Stances:
    """
    How a bike stands in its three states.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Stances: ...
    @property
    def extended(self, /) -> Stance:
        """
        Both ends fully extended, the wheels just touching.
        """
    @property
    def free(self, /) -> SettledBike:
        """
        The bike alone.
        """
    @property
    def rider(self, /) -> SettledBike:
        """
        With the rider.
        """

@final
class Steering:
    """
    A steered wheel: the steering axis, and the wheel on it.

    ``trail = (R·sin ε − d)/cos ε``, with the rake ``ε``, the fork offset ``d`` and the wheel radius ``R``.

    Parameters
    ----------
    rake : angle
        Of the steering axis from the vertical, top leaning back.
    fork_offset : length
        Of the axle ahead of the steering axis, square to it.
    radius : length
        Axle over the ground.

    Examples
    --------
    >>> import wheelrate as wr
    >>> steering = wr.Steering("26.5 deg", "30 mm", "340 mm")
    >>> print(steering.trail.round(1))  # (340 mm · sin 26.5° − 30 mm)/cos 26.5°
    136.0 millimeter
    >>> print(steering.pitched("1 deg").trail.round(1))  # the frame one degree nose down
    128.9 millimeter
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, rake: QuantityLike, fork_offset: QuantityLike, radius: QuantityLike) -> Steering: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Steering: ...
    @property
    def fork_offset(self, /) -> Quantity:
        """
        Distance of the axle ahead of the steering axis, square to it.
        """
    @staticmethod
    def from_trail(rake: QuantityLike, trail: QuantityLike, radius: QuantityLike) -> Steering:
        """
        The wheel whose fork offset gives this trail.
        """
    @property
    def normal_trail(self, /) -> Quantity:
        """
        The same square to the axis: ``R·sin ε − d``.
        """
    def pitched(self, /, nose_down: QuantityLike) -> Steering:
        """
        The same wheel on a frame pitched nose down.
        """
    @property
    def radius(self, /) -> Quantity:
        """
        Axle over the ground.
        """
    @property
    def rake(self, /) -> Quantity:
        """
        Angle of the steering axis from the vertical.
        """
    @property
    def trail(self, /) -> Quantity:
        """
        Distance along the ground from where the axis meets it back to the contact.
        """
    def trail_with_uncertainty(self, /, rake: QuantityLike, fork_offset: QuantityLike, radius: QuantityLike) -> Uncertain:
        """
        The trail with its standard uncertainty, to first order.

        Parameters
        ----------
        rake : angle
        fork_offset, radius : length
            Standard uncertainty of each, independent of the others.

        Returns
        -------
        Uncertain
        """
    @property
    def wheel_flop(self, /) -> Quantity:
        """
        Wheel flop ``trail·sin ε·cos ε``: steered by a small angle ``δ``, the axle sinks by half of it times ``δ²``.
        """

@final
class SteeringAxis:
    """
    The steering axis over the travel of a front end, the frame in its reference attitude: one entry per travel.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> SteeringAxis: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def fork_offset(self, /) -> Quantity:
        """
        Distance of the axle ahead of the steering axis, square to it.
        """
    @property
    def rake(self, /) -> Quantity:
        """
        Angle of the steering axis from the vertical, top leaning back.
        """
    @property
    def trail(self, /) -> Quantity:
        """
        Trail along the ground.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Vertical travel from full extension.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

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
    @property
    def spring(self, /) -> Spring:
        """
        The spring.
        """

@final
class Study:
    """
    One end of a bike, solved once: fit, advice, plan, scenarios, Monte Carlo and rehearsal hang on it.

    Made by `Bike.study`.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Any]]: ...
    def __repr__(self, /) -> str: ...
    def advise(self, /) -> Decision:
        """
        Advice: every spring on sale weighed, and what to do.
        """
    def advise_riders(self, /) -> EndRiders:
        """
        The end under all riders that the bike states: the share of them in range per spring, with one preload for all and with
        one for each.
        """
    def advise_scenarios(self, /) -> EndScenarios:
        """
        The end under the usual load and those of the scenarios.
        """
    def as_stated(self, /) -> Study:
        """
        The same end with everything taken as stated: no gross errors, friction alike everywhere, masses as weighed.
        """
    def assumptions(self, /) -> list[Assumption]:
        """
        What was assumed at the end because nobody stated it, what costs most first.
        """
    @property
    def bike(self, /) -> Bike:
        """
        The bike that is studied.
        """
    def carried(self, /, changed: Bike) -> Study:
        """
        What was found here, on a changed bike: as far as the change left it alone, with nothing read there.

        Parameters
        ----------
        changed : Bike
            The bike after the change.

        Examples
        --------
        >>> import wheelrate as wr
        >>> bike = wr.demo()
        >>> turned = bike.correct({"rear.shock.spring.preload": "17 mm"})
        >>> carried = bike.study("rear").carried(turned)
        >>> carried.fit().rate == bike.fit_end("rear").rate
        True
        """
    @property
    def end(self, /) -> str:
        """
        Which end.
        """
    def fit(self, /) -> Fit:
        """
        What the readings say: rate, preload and friction, with uncertainty.

        Examples
        --------
        >>> import wheelrate as wr
        >>> rear = wr.demo().study("rear")
        >>> rear.fit() == rear.advise().fit
        True
        """
    def monte_carlo(self, /, draws: SupportsIndex = 10000, seed: SupportsIndex = 0) -> MonteCarlo:
        """
        The fit by Monte Carlo, to check its standard uncertainties where they are large. The same seed gives the same draws.

        Parameters
        ----------
        draws : int
            From 200 to 5,000,000.
        seed : int
            Start of the random numbers.

        Examples
        --------
        >>> import wheelrate as wr
        >>> found = wr.demo().study("rear").monte_carlo(draws=2000)
        >>> low, high = found.rate.interval_95
        >>> print(low.round(0), high.round(0))
        49.0 newton / millimeter 52.0 newton / millimeter
        """
    def plan(self, /) -> Plan:
        """
        What to measure next, as a plan for one person alone.
        """
    def rehearse(self, /, garages: SupportsIndex = 10000, seed: SupportsIndex = 0) -> Rehearsal:
        """
        How much the readings would say, over simulated garages.

        The loads, sides, repeats and tape are those of the bike's own readings; the true springs, loads and friction, and
        what the readings then show, are drawn anew in each garage. The same seed gives the same garages.

        Parameters
        ----------
        garages : int
            From 100 to 10,000,000.
        seed : int
            Start of the random numbers.

        Examples
        --------
        >>> import wheelrate as wr
        >>> found = wr.demo().study("rear").rehearse(garages=20_000)
        >>> print(found.rate.standard_uncertainty.round(1))
        0.7 newton / millimeter
        >>> print(found.preload.covered_95.round())
        95.0 percent
        """
    @property
    def source(self, /) -> Study | None:
        """
        The study that this one was carried from; None where it was solved from its own readings and labels.
        """

@final
class Survey:
    """
    Points surveyed from photographs, taken from anywhere: one homography a picture, all points at once, with their covariance.

    Parameters
    ----------
    known : dict of str to pair of lengths
        Points measured by hand, x forward and z up: four at least in every picture, no three in a line. Pivots among them count.
    pictures : list of dict of str to pair of floats
        Of each picture the pixels (right, down) of its points by name, known ones and others.
    known_uncertainty : length, optional
        Standard uncertainty of each coordinate of a known point; 1 mm unless given.
    pixel_uncertainty : float, optional
        Standard uncertainty of each coordinate of a pixel, in pixels; 2 unless given.
    sizes : list of (pair of floats or None), optional
        Width and height of each picture: then its lens may bend, by some per cent at the corner. Lenses that do not unless given.

    Examples
    --------
    >>> import wheelrate as wr
    >>> survey = wr.Survey(
    ...     {"pivot": ["0 mm", "0 mm"], "axle": ["-575 mm", "-165 mm"], "top": ["-100 mm", "329 mm"], "rack": ["-560 mm", "300 mm"]},
    ...     [{"pivot": (2140, 1210), "axle": (990, 1540), "top": (1940, 552), "rack": (1020, 610), "link": (2008, 1406)}],
    ... )
    >>> print(survey.points["link"].round(0), survey.uncertainty("link").round(1))
    [-66.0 -98.0] millimeter [2.0 2.0] millimeter
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs_ex__(self, /) -> tuple[tuple[object, ...], dict[str, object]]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, known: dict[str, ArrayLike], pictures: list[dict[str, tuple[float, float]]], *, known_uncertainty: QuantityLike | None = None, pixel_uncertainty: float = 2.0, sizes: list[tuple[float, float] | None] | None = None) -> Survey: ...
    def __repr__(self, /) -> str: ...
    @property
    def coordinate_uncertainty(self, /) -> Quantity:
        """
        Root mean square of the standard uncertainties of all coordinates: for the one number that a bike file holds.
        """
    @property
    def covariance(self, /) -> list[list[float]]:
        """
        Covariance of all coordinates in m², x and z of each point in the order of the names.
        """
    @property
    def distortion(self, /) -> list[float | None]:
        """
        Distortion of each picture at its corner, as a share of the way from the middle; None where its size was not given.
        """
    @property
    def misfit(self, /) -> float | None:
        """
        How far off the readings are over what was said of them; much above one, a point was misread or is not in the plane. None
        where nothing is left over to see it by.
        """
    @property
    def names(self, /) -> list[str]:
        """
        Names of the points, those known by hand first.
        """
    @property
    def points(self, /) -> dict[str, Quantity]:
        """
        Positions by name, as `Mechanism` takes its points: x forward and z up.
        """
    def uncertainty(self, /, name: str) -> Quantity | None:
        """
        Standard uncertainties of the coordinates of a point, x and z; None for one that is not in the survey.
        """

@final
class Sweep:
    """
    Many designs of one bike, as data: nothing is worked out before a stretch of it is asked for.

    Each design is the bike as `Bike.what_if` would have it with the values of all axes, what the readings found carried into
    it. A design is known by its index alone, so that any stretch can be worked out anywhere. `Bike.sweep` makes one and works
    it out.

    Parameters
    ----------
    bike : Bike
        The bike that is varied.
    axes : dict of str to values
        By address, as for `Bike.what_if`: a list of values, an array with a unit, a dict of ``from``, ``to`` and ``steps``, or,
        where designs are drawn, a pair of both ends.
    outputs : list of str
        What is asked, by name; `sweep_outputs` lists them.
    scheme : {"grid", "list", "random", "latin_hypercube"}
        Which designs are made of the values.
    samples : int, optional
        How many designs are drawn.
    seed : int
        Where the draws begin.
    points : int
        Points of a curve.

    Examples
    --------
    >>> import wheelrate as wr
    >>> axes = {"rear.shock.spring.rate": ["52 N/mm", "54 N/mm", "56 N/mm"]}
    >>> sweep = wr.Sweep(wr.demo(), axes, ["rear.rider_sag"])
    >>> columns, reasons = sweep.chunk(0, len(sweep))
    >>> print((columns["rear.rider_sag"] * 1e3).round(1), reasons)
    [110.3 101.5  97.2] {}
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __len__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, bike: Bike, axes: dict[str, ArrayLike | list[object] | dict[str, object]], outputs: SupportsGetItem[int, str], *, scheme: Scheme = "grid", samples: SupportsIndex | None = None, seed: SupportsIndex = 0, points: SupportsIndex = 60) -> Sweep: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @property
    def addresses(self, /) -> list[str]:
        """
        The addresses that are varied.
        """
    @property
    def bike(self, /) -> Bike:
        """
        The bike that is varied.
        """
    def chunk(self, /, start: SupportsIndex, stop: SupportsIndex) -> tuple[dict[str, Numbers | list[str]], dict[int, str]]:
        """
        A stretch of designs with their answers, on all cores and without the interpreter's lock.

        Parameters
        ----------
        start : int
            Index of the first design.
        stop : int
            Index after the last.

        Returns
        -------
        columns : dict of str to array
            By address and output, in SI units; NaN where a design has no answer. A list of words where values are neither
            quantities nor numbers.
        reasons : dict of int to str
            By index, why a design lacks an answer.
        """
    @property
    def columns(self, /) -> list[tuple[str, str | None, str | None, int]]:
        """
        Columns of a result: name, kind and SI unit (None for words), and how many values each design has in it.
        """
    def design(self, /, index: SupportsIndex) -> Bike:
        """
        The bike of one design.

        Parameters
        ----------
        index : int
            From 0.
        """
    @staticmethod
    def from_json(text: str) -> Sweep:
        """
        Read a sweep that `to_json` wrote.
        """
    @property
    def outputs(self, /) -> list[str]:
        """
        What is asked.
        """
    @property
    def points(self, /) -> int:
        """
        Points of a curve.
        """
    @property
    def scheme(self, /) -> str:
        """
        Which designs there are.
        """
    @property
    def shape(self, /) -> list[int]:
        """
        How many values each axis has; 0 for one that is given by its ends.
        """
    def to_json(self, /) -> str:
        """
        The sweep as JSON, which reads back as an equal sweep.
        """

@final
class TargetOutcome:
    """
    A target against what was and what came.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> TargetOutcome: ...
    @property
    def after(self, /) -> Uncertain | None:
        """
        After it, by what was read then; None while nothing is read.
        """
    @property
    def before(self, /) -> Uncertain | None:
        """
        Before the change.
        """
    @property
    def direction(self, /) -> str:
        """
        What all its sags run along: ``vertical``, ``along fork`` or ``to mark``.
        """
    @property
    def met(self, /) -> bool | None:
        """
        Did it land? None while nothing is read.
        """
    @property
    def predicted(self, /) -> Uncertain | None:
        """
        After it, as predicted from what was found before.
        """
    @property
    def sag(self, /) -> str:
        """
        Which sag: ``rider`` or ``free``.
        """
    @property
    def wanted(self, /) -> tuple[Quantity, Quantity]:
        """
        Least and most that will do.
        """

@final
class Targets:
    """
    The targets of one end; a sag that is not stated may come from common practice.

    Parameters
    ----------
    rider_sag : SagTarget, optional
        With rider and kit.
    free_sag : SagTarget, optional
        Of the bike alone.
    full_travel_force : force, optional
        Of a fork, along itself, reached fast from the rider sag: the oil level is set by it. Today's unless given.

    Examples
    --------
    >>> import wheelrate as wr
    >>> rear = wr.Targets(rider_sag=wr.SagTarget("102 mm", tolerance="4 mm"))
    >>> bike = wr.Bike("shed", rear=wr.demo().rear, targets={"rear": rear})
    >>> bike.targets["rear"] == rear
    True
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, *, rider_sag: SagTarget | None = None, free_sag: SagTarget | None = None, full_travel_force: QuantityLike | None = None) -> Targets: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Targets: ...
    @property
    def free_sag(self, /) -> SagTarget | None:
        """
        Of the bike alone; None where it is not stated.
        """
    @property
    def full_travel_force(self, /) -> Quantity | None:
        """
        Of a fork at full travel; None where it is not stated.
        """
    @property
    def rider_sag(self, /) -> SagTarget | None:
        """
        With rider and kit; None where it is not stated.
        """

@final
class TravelLog:
    """
    What a log says of both ends.

    Made by `travel_log` or `read_travel_log`.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> TravelLog: ...
    @property
    def balance(self, /) -> Quantity | None:
        """
        How much more of its travel the front uses on average than the rear; None where one has no sensor.
        """
    @property
    def balance_uncertainty(self, /) -> Quantity | None:
        """
        Its standard uncertainty; None where the log is too short for one.
        """
    @property
    def ends(self, /) -> dict[str, EndTravel]:
        """
        Each end that had a sensor.
        """
    @property
    def limits(self, /) -> list[str]:
        """
        What a log cannot say.
        """

@final
class TyreRate:
    """
    The vertical rate of a tyre, as it was found.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> TyreRate: ...
    @property
    def misfit(self, /) -> float | None:
        """
        How far off the readings are over what was said of them; None where none is left over.
        """
    @property
    def radius(self, /) -> Uncertain:
        """
        Height of the axle with no load on the tyre: the radius that a bike file asks for.
        """
    @property
    def rate(self, /) -> Uncertain:
        """
        Vertical rate.
        """

@final
class Uncertain:
    """
    A best estimate with its standard uncertainty (JCGM 100:2008).

    Parameters
    ----------
    value : quantity
        Best estimate.
    standard_uncertainty : quantity
        One standard deviation, in the kind of the value.
    kind : str
        What it is, e.g. ``"length"``.

    Examples
    --------
    >>> import wheelrate as wr
    >>> rate = wr.Uncertain("52.31 N/mm", "0.84 N/mm", "spring rate")
    >>> print(rate)
    52.3 ± 0.8 N/mm
    >>> low, high = rate.interval()
    >>> print(low.round(1), high.round(1))
    50.7 newton / millimeter 54.0 newton / millimeter
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __getnewargs__(self, /) -> tuple[str, str, str]: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, value: QuantityLike, standard_uncertainty: QuantityLike, kind: str) -> Uncertain: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def interval(self, /, coverage_factor: float = 1.96) -> tuple[Quantity, Quantity]:
        """
        The interval ``value ± coverage_factor·u``; 1.96 covers 95 % of a normal distribution.
        """
    @property
    def kind(self, /) -> str:
        """
        What it is.
        """
    def show(self, /, unit: str | None = None) -> str:
        """
        The value with its standard uncertainty, in a unit of the kind: ``52.3 ± 0.8 N/mm``.
        """
    @property
    def standard_uncertainty(self, /) -> Quantity:
        """
        One standard deviation, of the kind of the value.
        """
    @property
    def value(self, /) -> Quantity:
        """
        Best estimate.
        """
    def _repr_html_(self: Uncertain) -> str: ...
    @property
    def quantity(self: Uncertain) -> Quantity:
        """
        Give the number as a pint quantity whose magnitude is a number of the package uncertainties.

        Examples
        --------
        >>> import wheelrate as wr
        >>> fit = wr.demo().fit_end("rear")
        >>> print(fit.rate.quantity.to("lbf/in"))
        290+/-5 force_pound / inch
        """
    def __add__(self: Any, other: Any) -> Any: ...
    def __radd__(self: Any, other: Any) -> Any: ...
    def __sub__(self: Any, other: Any) -> Any: ...
    def __rsub__(self: Any, other: Any) -> Any: ...
    def __mul__(self: Any, other: Any) -> Any: ...
    def __rmul__(self: Any, other: Any) -> Any: ...
    def __truediv__(self: Any, other: Any) -> Any: ...
    def __rtruediv__(self: Any, other: Any) -> Any: ...
    def __pow__(self: Any, other: Any) -> Any: ...
    def __rpow__(self: Any, other: Any) -> Any: ...
    def __neg__(self: Uncertain) -> Quantity: ...

@final
class UncertainCurve:
    """
    A linkage over many travels with standard uncertainties, as arrays of one length.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> UncertainCurve: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def motion_ratio(self, /) -> Quantity:
        """
        Motion ratio ``ds/dz``, shock per wheel.
        """
    @property
    def motion_ratio_slope(self, /) -> Quantity:
        """
        Slope of the motion ratio over travel.
        """
    @property
    def motion_ratio_slope_uncertainty(self, /) -> Quantity:
        """
        Standard uncertainty of it.
        """
    @property
    def motion_ratio_uncertainty(self, /) -> Quantity:
        """
        Standard uncertainty of it.
        """
    @property
    def stroke(self, /) -> Quantity:
        """
        Shock stroke from full extension.
        """
    @property
    def stroke_uncertainty(self, /) -> Quantity:
        """
        Standard uncertainty of it.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Wheel travel from full extension, vertical.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class UncertainPoint:
    """
    A measured linkage at one travel.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> UncertainPoint: ...
    @property
    def motion_ratio(self, /) -> Uncertain:
        """
        Motion ratio ``ds/dz``, shock per wheel.
        """
    @property
    def motion_ratio_slope(self, /) -> Uncertain:
        """
        Slope of the motion ratio over travel.
        """
    @property
    def stroke(self, /) -> Uncertain:
        """
        Shock stroke from full extension.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Wheel travel from full extension, vertical.
        """
    def _repr_html_(self: Any) -> str: ...

@final
class UncertainWheelCurve:
    """
    Wheel force and wheel rate over travel, with their standard uncertainties.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> UncertainWheelCurve: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def travel(self, /) -> Quantity:
        """
        Wheel travel from full extension, vertical.
        """
    @property
    def wheel_force(self, /) -> Quantity:
        """
        Force at the wheel.
        """
    @property
    def wheel_force_uncertainty(self, /) -> Quantity:
        """
        Standard uncertainty of it.
        """
    @property
    def wheel_rate(self, /) -> Quantity:
        """
        Rate at the wheel, the geometric term included.
        """
    @property
    def wheel_rate_uncertainty(self, /) -> Quantity:
        """
        Standard uncertainty of it.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class UnmarkedSpring:
    """
    A coil spring that nothing is printed on, as a caliper sees it.

    Parameters
    ----------
    wire, outside_diameter : Uncertain or pair of lengths
        As read, with the standard uncertainty. The wire counts four times over: measure it bare of paint, in several
        places.
    active_coils : pair of floats
        Coils that twist, with the standard uncertainty of the count.
    material : Material or str
        What the wire is taken to be.
    shear_modulus_uncertainty : float, optional
        Standard uncertainty of its shear modulus as a share of it; 0.02 unless given, that of spring steel of an unknown
        grade: textbooks give 77.2 GPa to 82.7 GPa.

    Examples
    --------
    >>> import wheelrate as wr
    >>> found = wr.UnmarkedSpring(
    ...     wire=("4.51 mm", "0.02 mm"), outside_diameter=("35.4 mm", "0.1 mm"), active_coils=(29, 0.25),
    ...     material="EN 10270-1",
    ... )
    >>> print(found.rate)
    4.93 ± 0.15 N/mm
    >>> print(found.candidates(["4.4 N/mm", "4.6 N/mm", "4.8 N/mm", "5.0 N/mm"]).round(1))
    [4.8 5.0] newton / millimeter
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, *, wire: Uncertain | tuple[QuantityLike, QuantityLike], outside_diameter: Uncertain | tuple[QuantityLike, QuantityLike], active_coils: tuple[float, float], material: Material | str, shear_modulus_uncertainty: float = 0.02) -> UnmarkedSpring: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> UnmarkedSpring: ...
    @property
    def budget(self, /) -> dict[str, Quantity]:
        """
        What each reading adds to the relative standard uncertainty of the rate; squares add up.
        """
    def candidates(self, /, rates: ArrayLike, coverage_factor: float = 2.0) -> Quantity:
        """
        Those of some rates that the readings cannot distinguish from the spring's.

        Parameters
        ----------
        rates : array of spring rate
            What it might be.
        coverage_factor : float, optional
            Standard uncertainties on either side; 2 for about 95 % unless given.
        """
    @property
    def rate(self, /) -> Uncertain:
        """
        Its rate.
        """

@final
class WheelCurve:
    """
    What the wheel feels over many travels, as arrays of one length.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> WheelCurve: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def axial_force(self, /) -> Quantity:
        """
        Force along the shock or the fork.
        """
    @property
    def axial_rate(self, /) -> Quantity:
        """
        Rate along the shock or the fork.
        """
    @property
    def energy(self, /) -> Quantity:
        """
        Energy taken up from full extension.
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
        Slope of the motion ratio over travel.
        """
    @property
    def stroke(self, /) -> Quantity:
        """
        Stroke of the shock, or of the fork along itself.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Vertical travel from full extension.
        """
    @property
    def wheel_force(self, /) -> Quantity:
        """
        Vertical force at the wheel.
        """
    @property
    def wheel_rate(self, /) -> Quantity:
        """
        Rate at the wheel, the geometric term included.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class WheelEffects:
    """
    What a small change of every dimension of the linkage does at the wheel at one travel: one entry per dimension.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    @staticmethod
    def _from_json(text: str) -> WheelEffects: ...
    def _rows(self, /) -> tuple[object, ...]: ...
    @property
    def dimensions(self, /) -> list[str]:
        """
        The dimensions: ``x of eye``, ``length of link``, ``shock length``.
        """
    @property
    def step(self, /) -> Quantity:
        """
        The change of each.
        """
    @property
    def wheel_force(self, /) -> Quantity:
        """
        Change of the wheel force.
        """
    @property
    def wheel_rate(self, /) -> Quantity:
        """
        Change of the wheel rate.
        """
    def __repr__(self: Any) -> str: ...
    def columns(self: Any, units: str = "si") -> dict[str, Numbers | list[str]]:
        """
        Give all columns as plain arrays, in SI units unless asked for others, the unit in each name: for a solver.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        dict of str to array
            Words as lists.

        Examples
        --------
        >>> import wheelrate as wr
        >>> columns = wr.demo().rear.linkage.curve(["0 mm", "102 mm"]).columns()
        >>> print(columns["motion_ratio [shock/wheel]"].round(3))
        [0.343 0.377]
        """
    def to_pandas(self: Any, units: str = "si") -> pandas.DataFrame:
        """
        Give a pandas frame of floats, in SI units (m, N/m) unless asked for others, the units in ``attrs["units"]``.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pandas.DataFrame
        """
    def to_polars(self: Any, units: str = "si") -> polars.DataFrame:
        """
        Give a polars frame, in SI units (m, N/m) unless asked for others, the unit in each name.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        polars.DataFrame
        """
    def to_xarray(self: Any, units: str = "si") -> xarray.Dataset:
        """
        Give an xarray data set along the first column, CF ``units`` in ``attrs`` as pint-xarray reads them.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        xarray.Dataset
        """
    def to_arrow(self: Any, units: str = "si") -> pyarrow.Table:
        """
        Give an Arrow table, kind and unit in the metadata of each field, which Parquet keeps.

        Parameters
        ----------
        units : {"si", "metric", "kilogram-force", "inch"}, optional
            Units of what comes back.

        Returns
        -------
        pyarrow.Table
        """
    def __len__(self: Any) -> int: ...
    def __getitem__(self: Any, key: Any) -> Any: ...
    def __iter__(self: Any) -> Iterator[dict[str, Any]]: ...
    def __array__(self: Any, dtype: Any = None, copy: bool | None = None) -> Numbers: ...
    def _repr_html_(self: Any) -> str: ...

@final
class WheelState:
    """
    What the wheel feels at one travel.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> WheelState: ...
    @property
    def axial_force(self, /) -> Quantity:
        """
        Force along the shock or the fork.
        """
    @property
    def axial_rate(self, /) -> Quantity:
        """
        Rate along the shock or the fork.
        """
    @property
    def energy(self, /) -> Quantity:
        """
        Energy taken up from full extension.
        """
    @property
    def geometric_rate(self, /) -> Quantity:
        """
        The part of the wheel rate that comes from the changing motion ratio, ``F·dMR/dz``.
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
        Slope of the motion ratio over travel.
        """
    @property
    def stroke(self, /) -> Quantity:
        """
        Stroke of the shock, or of the fork along itself.
        """
    @property
    def travel(self, /) -> Quantity:
        """
        Vertical travel from full extension.
        """
    @property
    def wheel_force(self, /) -> Quantity:
        """
        Vertical force at the wheel.
        """
    @property
    def wheel_rate(self, /) -> Quantity:
        """
        Rate at the wheel, the geometric term included.
        """
    def _repr_html_(self: Any) -> str: ...

@final
class Wheels:
    """
    What the ends stand on.

    Parameters
    ----------
    fork_offset : length
        Of the front axle ahead of the steering axis, square to it.
    front_radius, rear_radius : length
        Axle over the ground, tyre unloaded; loaded where no tyre rate is given.
    front_tyre, rear_tyre : wheel rate, optional
        Vertical rate of each tyre; rigid unless given.
    front_tyre_uncertainty, rear_tyre_uncertainty : wheel rate, optional
        Standard uncertainty of that rate.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, *, fork_offset: QuantityLike, front_radius: QuantityLike, rear_radius: QuantityLike, front_tyre: QuantityLike | None = None, rear_tyre: QuantityLike | None = None, front_tyre_uncertainty: QuantityLike | None = None, rear_tyre_uncertainty: QuantityLike | None = None) -> Wheels: ...
    def __reduce__(self, /) -> tuple[object, tuple[str]]: ...
    def __repr__(self, /) -> str: ...
    @staticmethod
    def _from_json(text: str) -> Wheels: ...
    @property
    def fork_offset(self, /) -> Quantity:
        """
        Of the front axle ahead of the steering axis, square to it.
        """
    @property
    def front_radius(self, /) -> Quantity:
        """
        Front axle over the ground.
        """
    @property
    def front_tyre(self, /) -> Quantity | None:
        """
        Vertical rate of the front tyre; None for a rigid one.
        """
    @property
    def front_tyre_uncertainty(self, /) -> Quantity | None:
        """
        Standard uncertainty of the front tyre's rate, stated or from its readings; None where nothing is said of it.
        """
    @property
    def rear_radius(self, /) -> Quantity:
        """
        Rear axle over the ground.
        """
    @property
    def rear_tyre(self, /) -> Quantity | None:
        """
        Vertical rate of the rear tyre; None for a rigid one.
        """
    @property
    def rear_tyre_uncertainty(self, /) -> Quantity | None:
        """
        Standard uncertainty of the rear tyre's rate, stated or from its readings; None where nothing is said of it.
        """

@final
class WholeBike:
    """
    A bike on both wheels: stances, changes, modes, squat, landings, ballast, posture.

    Made by `Bike.whole`; what an answer lacks is said when it is asked for.
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __reduce__(self, /) -> tuple[Any, tuple[Bike, str]]: ...
    def __repr__(self, /) -> str: ...
    def anti_dive(self, /, load: str | None = None) -> AntiDive:
        """
        What the front brake does where the bike rests under a load: the caliper on the sliders of a fork, or on the stated body of a
        linkage.

        Parameters
        ----------
        load : str, optional
            Names of masses; what rider sag is meant under unless given.

        Returns
        -------
        AntiDive

        Examples
        --------
        >>> import wheelrate as wr
        >>> print(wr.demo().whole.anti_dive().anti_dive.round(0))
        -95.0 percent
        """
    def anti_dive_over_travel(self, /, load: str | None = None, travels: ArrayLike | None = None) -> AntiDiveCurve:
        """
        What the front brake does over travel, the bike standing as this load leaves it: the caliper on the sliders of a fork, or on
        the stated body of a linkage.

        Parameters
        ----------
        load : str, optional
            Names of masses; what rider sag is meant under unless given.
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.

        Returns
        -------
        AntiDiveCurve
        """
    def anti_rise(self, /, load: str | None = None, travels: ArrayLike | None = None) -> AntiRise:
        """
        What the rear brake does over travel, the bike standing as this load leaves it.

        Parameters
        ----------
        load : str, optional
            Names of masses; what rider sag is meant under unless given.
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.

        Returns
        -------
        AntiRise

        Examples
        --------
        >>> import wheelrate as wr
        >>> bike = wr.demo()
        >>> found = bike.whole.anti_rise(travels=[bike.whole.settle("bike + rider").stance.travel["rear"]])
        >>> print(found.anti_rise.round(0))
        [121.0] percent
        """
    def ballast(self, /, load: str = "rider") -> Ballast:
        """
        Ballast that both scales take for what comes on top of the bike: for setting sag without the rider.

        Parameters
        ----------
        load : str, optional
            Names of masses without the bike.

        Returns
        -------
        Ballast

        Examples
        --------
        >>> import wheelrate as wr
        >>> ballast = wr.demo().whole.ballast("rider")
        >>> print(ballast.mass, ballast.behind_front_axle.round(0))
        96.0 kilogram 1013.0 millimeter
        """
    def ballast_at(self, /, places: ArrayLike, load: str = "rider") -> Quantity:
        """
        The same ballast at two places, one ahead of where the load acts and one behind.

        Parameters
        ----------
        places : pair of lengths
            Horizontal distances behind the front axle, bike level.
        load : str, optional
            Names of masses without the bike.

        Returns
        -------
        array of mass
            How much at each place.

        Examples
        --------
        >>> import wheelrate as wr
        >>> print(wr.demo().whole.ballast_at(["850 mm", "1250 mm"]).round(0))
        [57.0 39.0] kilogram
        """
    def brake(self, /, deceleration: QuantityLike, front_share: QuantityLike, load: str | None = None, *, build_up: QuantityLike | None = None, grip: SupportsFloat | SupportsIndex = ..., front_damper: Damper | None = None, rear_damper: Damper | None = None, friction: QuantityLike | None = None, legs: Legs | None = None, duration: QuantityLike | None = None) -> BikeMotion:
        """
        Braking of the whole bike in time, from rest on its springs: dive, pitch, what the tyres carry.

        Parameters
        ----------
        deceleration : acceleration
            That the rider asks for.
        front_share : share
            Of it on the front brake.
        load : str, optional
            Names of masses; what rider sag is meant under unless given.
        build_up : time, optional
            Over which it builds up; 0.2 s unless given.
        grip : float, optional
            Most that a tyre holds along the ground, as a share of its load.
        front_damper, rear_damper, friction, legs, duration
            As for `land`.

        Examples
        --------
        >>> import wheelrate as wr
        >>> braked = wr.demo().whole.brake("5 m/s2", "70 %")
        >>> bool(braked.ends["front"].peak_travel > braked.ends["front"].rest_travel)
        True
        """
    def centre_of_gravity(self, /, stance: Stance, load: str | None = None) -> Quantity:
        """
        Where the centre of gravity of the whole bike is in a stance; the heights of the masses have to be known.

        Parameters
        ----------
        stance : Stance
            How the bike stands.
        load : str, optional
            Names of masses; what rider sag is meant under unless given.

        Returns
        -------
        array of length
            Distance ahead of the rear contact, and height above the ground.

        Examples
        --------
        >>> import wheelrate as wr
        >>> bike = wr.demo()
        >>> print(bike.whole.centre_of_gravity(bike.whole.settle("bike").stance, "bike").round(0))
        [717.0 560.0] millimeter
        """
    def corrections(self, /, *, trail: QuantityLike | None = None, rake: QuantityLike | None = None, load: str | None = None, fork_raised: ArrayLike | None = None, shock_longer: ArrayLike | None = None, front_preload: ArrayLike | None = None, rear_preload: ArrayLike | None = None) -> list[Correction]:
        """
        Which settings give a wanted trail or rake: every choice of levers, those that reach it first.

        Each lever is given with its room: the least and the most by which it may be moved from where it is now. Preloads go to
        the ends of their adjusters unless given.

        Parameters
        ----------
        trail, rake : length, angle, optional
            What is wanted of the bike at rest; one or both.
        load : str, optional
            Names of masses; what rider sag is meant under unless given.
        fork_raised, shock_longer : pair of lengths, optional
            Room of the tubes in their clamps, and of the shock's length; not moved unless given.
        front_preload, rear_preload : pair of lengths, optional
            Room of the preloads.

        Returns
        -------
        list of Correction

        Examples
        --------
        >>> import wheelrate as wr
        >>> for found in wr.demo().whole.corrections(trail="121 mm", fork_raised=["-5 mm", "15 mm"])[:2]:
        ...     for move in found.moves:
        ...         print(move.lever, move.by.round(1))
        rear_preload 4.8 millimeter
        fork_raised 11.7 millimeter
        """
    def damped_modes(self, /, load: str | None = None, speed: QuantityLike | None = None) -> list[DampedMode]:
        """
        Bounce, pitch and, with tyre rates, wheel hop of the settled bike with its dampers.

        Parameters
        ----------
        load : str, optional
            Names of masses; what rider sag is meant under unless given.
        speed : velocity, optional
            Amplitude of the motion's speed at each wheel; the slopes of the dampers from rest unless given.

        Returns
        -------
        list of DampedMode

        Examples
        --------
        >>> import wheelrate as wr
        >>> for mode in wr.demo().whole.damped_modes(speed="0.5 m/s"):
        ...     print(mode.kind, mode.frequency.round(1), mode.damping_ratio.round(0))
        bounce 1.5 hertz 34.0 percent
        pitch 2.5 hertz 41.0 percent
        front hop 15.6 hertz 15.0 percent
        rear hop 16.2 hertz 19.0 percent
        """
    def damping(self, /, end: End, load: str | None = None, *, speed: QuantityLike | None = None, travels: ArrayLike | None = None, damper: Damper | None = None) -> DampingCurve:
        """
        Damping of an end at the wheel over travel, and its share of critical damping.

        Parameters
        ----------
        end : {"front", "rear"}
            Which end.
        load : str, optional
            Names of masses; what rider sag is meant under unless given.
        speed : velocity, optional
            Amplitude of the motion's speed at the wheel; the slopes of the damper from rest unless given.
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.
        damper : Damper, optional
            Along the shaft, a fork's legs together; that of the bike unless given.

        Returns
        -------
        DampingCurve

        Examples
        --------
        >>> import wheelrate as wr
        >>> bike = wr.demo()
        >>> at = {"speed": 0.5 m/s, "travels": ["102 mm"]}
        >>> for spring in ("52 N/mm", "60 N/mm"):
        ...     now = bike.what_if({"rear.shock.spring.rate": spring})
        ...     print(spring, now.whole.damping("rear", **at).damping_ratio.round(1))
        52 N/mm [33.3] percent
        60 N/mm [31.0] percent
        """
    def descent(self, /, end: End, start: QuantityLike, towards: QuantityLike, time_constant: QuantityLike, times: ArrayLike, *, time_constant_uncertainty: QuantityLike | None = None, load: str | None = None) -> DescentState:
        """
        An end under a load as its gas warms, or cools: ``T = T_e + (T_0 - T_e)*exp(-t/tau)``.

        Parameters
        ----------
        end : {"front", "rear"}
            Which end.
        start, towards : temperature
            Of the gas at the start, and where it would end.
        time_constant : time
            In which 63 % of the way is done; yours to state.
        times : array of time
            From the start.
        time_constant_uncertainty : time, optional
            Its standard uncertainty; exact unless given.
        load : str, optional
            Names of masses; what rider sag is meant under unless given.

        Returns
        -------
        DescentState

        Examples
        --------
        >>> import wheelrate as wr
        >>> warm = wr.demo().whole.descent("rear", "15 degC", "60 degC", "600 s", ["0 s", "600 s", "1800 s"])
        >>> print(warm.pressure.round(1))
        [100.0 109.9 114.8] percent
        """
    def effect_of(self, /, load: str | None = None, *, fork_raised: QuantityLike | None = None, shock_longer: QuantityLike | None = None, front_spring: tuple[QuantityLike, QuantityLike] | None = None, rear_spring: tuple[QuantityLike, QuantityLike] | None = None) -> Effect:
        """
        What a change of setting does to rake, trail, wheelbase and both travels.

        Parameters
        ----------
        load : str, optional
            Names of masses; what rider sag is meant under unless given.
        fork_raised : length, optional
            How far the tubes are raised in their clamps, further than now.
        shock_longer : length, optional
            How much longer the shock is made by its ride-height adjuster.
        front_spring, rear_spring : pair of spring rate and length, optional
            Other main springs: rate of one, preload of each.

        Returns
        -------
        Effect

        Examples
        --------
        >>> import wheelrate as wr
        >>> effect = wr.demo().whole.effect_of(fork_raised="5 mm", front_spring=("4.0 N/mm", "6 mm"))
        >>> print(effect.trail.round(1), effect.rake.round(2))
        -3.2 millimeter -0.44 degree
        """
    def fork_friction(self, /, travels: ArrayLike | None = None, *, braking: QuantityLike | None = None) -> BushLoads:
        """
        What the bushes of the fork take over travel, and their friction, the frame level.

        Parameters
        ----------
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.
        braking : share, optional
            Force of the front brake as a share of the wheel's load on the ground; not braked unless given.

        Returns
        -------
        BushLoads

        Examples
        --------
        >>> import wheelrate as wr
        >>> bike = wr.demo()
        >>> for share in ("0 %", "60 %"):
        ...     print(bike.whole.fork_friction(["100 mm"], braking=share).friction_at_wheel.round(0))
        [44.0] newton
        [28.0] newton
        """
    def fork_friction_at_rest(self, /, load: str | None = None, *, braking: QuantityLike | None = None) -> BushLoads:
        """
        The same where the front rests under a load; braked, with the fork held there. One row.

        Parameters
        ----------
        load : str, optional
            Names of masses; what rider sag is meant under unless given.
        braking : share, optional
            As for ``fork_friction``.

        Returns
        -------
        BushLoads
        """
    def geometry_doubt(self, /, stance: Stance, load: str | None = None) -> GeometryDoubt:
        """
        How surely rake and trail are known of a stance, from what the readings leave open of both sags, and the stated rake's own.

        Parameters
        ----------
        stance : Stance
            Of a bike at rest: before a correction, or after it.
        load : str, optional
            Names of masses; what rider sag is meant under unless given.

        Returns
        -------
        GeometryDoubt

        Examples
        --------
        >>> import wheelrate as wr
        >>> whole = wr.demo().whole
        >>> print(whole.geometry_doubt(whole.settle().stance).trail.round(1))
        0.5 millimeter
        """
    def land(self, /, height: QuantityLike, attitude: QuantityLike | None = None, load: str | None = None, *, front_damper: Damper | None = None, rear_damper: Damper | None = None, friction: QuantityLike | None = None, legs: Legs | None = None, duration: QuantityLike | None = None) -> BikeMotion:
        """
        A landing of the whole bike in time: both ends, pitch, and a rider on legs where they are given.

        A number of a model, not of a jump: compare with it, and believe no height.

        Parameters
        ----------
        height : length
            Of the fall of the lower wheel.
        attitude : angle, optional
            Nose down from where both wheels touch at once; below zero the rear wheel lands first.
        load : str, optional
            Names of masses; what rider sag is meant under unless given.
        front_damper, rear_damper : Damper, optional
            Along the shaft, a fork's legs together; those of the bike unless given.
        friction : force, optional
            Sliding friction at each wheel; what the file states along fork and shock unless given.
        legs : Legs, optional
            Of a rider who stands; a weight on the frame unless given.
        duration : time, optional
            Simulated from the touch; 2 s unless given.

        Examples
        --------
        >>> import wheelrate as wr
        >>> landing = wr.demo().whole.land("200 mm", "-5 deg")
        >>> bool(landing.peak_pitch > wr.quantity("3 deg", "angle")), landing.ends["rear"].bottoming
        (True, None)
        """
    def modes(self, /, load: str | None = None, *, pitch_inertia: QuantityLike | None = None) -> list[Mode]:
        """
        Bounce, pitch and, with tyre rates, wheel hop of the settled bike; needs the heights of the masses.

        Parameters
        ----------
        load : str, optional
            Names of masses; what rider sag is meant under unless given.
        pitch_inertia : moment of inertia, optional
            Of the sprung mass, rider included, about its centre of gravity; from those of the masses unless given.

        Examples
        --------
        >>> import wheelrate as wr
        >>> for mode in wr.demo().whole.modes():
        ...     print(mode.kind, mode.frequency.round(1))
        bounce 1.5 hertz
        pitch 2.4 hertz
        front hop 15.9 hertz
        rear hop 16.4 hertz
        """
    def moving_end(self, /, end: End, damper: Damper | None = None, load: str | None = None, friction: QuantityLike | None = None) -> MovingEnd:
        """
        An end with the masses and the tyre of the bike, for landings and steps.

        Parameters
        ----------
        end : {"front", "rear"}
            Which end.
        damper : Damper, optional
            Along its shaft, a fork's legs together; that of the bike unless given.
        load : str, optional
            Names of masses; what rider sag is meant under unless given.
        friction : force, optional
            Sliding friction at the wheel; none unless given.

        Returns
        -------
        MovingEnd
        """
    def on_road(self, /, road: Road, speed: QuantityLike, load: str | None = None, *, front_damper: Damper | None = None, rear_damper: Damper | None = None, friction: QuantityLike | None = None) -> RoadRide:
        """
        The settled bike on a road at a speed: travel, tyre force and comfort, linear about its rest, its dampers by the energy they
        take.

        Parameters
        ----------
        road : Road
            What it is ridden over.
        speed : velocity
            Of riding.
        load : str, optional
            Names of masses; what rider sag is meant under unless given.
        front_damper, rear_damper : Damper, optional
            Along the shaft, a fork's legs together; those of the bike unless given.
        friction : force, optional
            Sliding friction at each wheel; what the file states along fork and shock unless given.

        Returns
        -------
        RoadRide

        Examples
        --------
        >>> import wheelrate as wr
        >>> bike = wr.demo()
        >>> for spring in ("52 N/mm", "60 N/mm"):
        ...     ride = bike.what_if({"rear.shock.spring.rate": spring}).whole.on_road(wr.Road("D"), "50 km/h")
        ...     print(spring, ride.ends["rear"].travel_rms.round(1), ride.weighted_acceleration_rms.round(2))
        52 N/mm 21.9 millimeter 2.03 meter / second ** 2
        60 N/mm 22.2 millimeter 2.03 meter / second ** 2
        """
    def over_road(self, /, road: Road, speed: QuantityLike, seed: SupportsIndex, load: str | None = None, *, front_damper: Damper | None = None, rear_damper: Damper | None = None, friction: QuantityLike | None = None, legs: Legs | None = None, duration: QuantityLike | None = None) -> BikeMotion:
        """
        The whole bike from rest over the profile that a seed makes of a road; the rear wheel meets it after the front one.

        Parameters
        ----------
        road : Road
            What it is ridden over.
        speed : velocity
            Of riding.
        seed : int
            The same profile for the same seed.
        load, front_damper, rear_damper, friction, legs
            As for `land`.
        duration : time, optional
            Simulated; 10 s unless given.
        """
    def pitch_inertia(self, /, load: str | None = None) -> Quantity:
        """
        Pitch inertia of the sprung mass about its centre of gravity, from those of the masses, their heights and shares.
        """
    def settle(self, /, load: str | None = None, *, slope: QuantityLike | None = None, acceleration: QuantityLike | None = None, front_share: QuantityLike | None = None, rear_reaction: str | Chain | None = None) -> SettledBike:
        """
        How the whole bike comes to rest under a load, both sags and the pitch together, friction left out.

        On level ground the scales say all; on a slope, braking or driving the heights of the masses have to be known.

        Parameters
        ----------
        load : str, optional
            Names of masses; what rider sag is meant under unless given.
        slope : angle, optional
            Of the ground, uphill positive.
        acceleration : acceleration, optional
            Along the ground, forward positive; braking is below zero.
        front_share : share, optional
            Share of the force along the ground that the front wheel gives; none unless given.
        rear_reaction : {"frame", "swingarm"} or Chain, optional
            What carries the torque of the rear wheel; the frame unless given.

        Returns
        -------
        SettledBike

        Examples
        --------
        >>> import wheelrate as wr
        >>> bike = wr.demo()
        >>> braking = bike.whole.settle("bike + rider", acceleration="-5 m/s2", front_share="100 %", rear_reaction="swingarm")
        >>> dive = braking.stance.fork_stroke - bike.whole.settle("bike + rider").stance.fork_stroke
        >>> print(dive.round(0))
        104.0 millimeter
        """
    def squat(self, /, load: str | None = None, travels: ArrayLike | None = None) -> Squat:
        """
        Chain line, squat ratio, anti-squat and swingarm angle over travel, the bike standing as this load leaves it.

        Parameters
        ----------
        load : str, optional
            Names of masses; what rider sag is meant under unless given.
        travels : array of length, optional
            From full extension; evenly over the whole range unless given.

        Returns
        -------
        Squat

        Examples
        --------
        >>> import wheelrate as wr
        >>> bike = wr.demo()
        >>> squat = bike.whole.squat(travels=[bike.whole.settle("bike + rider").stance.travel["rear"]])
        >>> print(squat.travel.round(0), squat.swingarm_angle.round(1))
        [105.0] millimeter [7.8] degree
        >>> print(squat.squat_ratio.round(2), squat.anti_squat.round(0))
        [1.12] [89.0] percent
        """
    def stance_at(self, /, front: QuantityLike, rear: QuantityLike) -> Stance:
        """
        How the bike stands at these travels, tyres unloaded.

        Parameters
        ----------
        front, rear : length
            Vertical travel of each end from full extension.
        """
    def stances(self, /) -> Stances:
        """
        How the bike stands fully extended, under itself, and under its rider.

        Returns
        -------
        Stances

        Examples
        --------
        >>> import wheelrate as wr
        >>> stances = wr.demo().whole.stances()
        >>> for stance in (stances.extended, stances.free.stance, stances.rider.stance):
        ...     print(stance.rake.round(1), stance.trail.round(0), stance.wheelbase.round(0))
        26.5 degree 113.0 millimeter 1480.0 millimeter
        26.0 degree 108.0 millimeter 1469.0 millimeter
        28.5 degree 124.0 millimeter 1473.0 millimeter
        """
    def with_adjustment(self, /, *, fork_raised: QuantityLike | None = None, shock_longer: QuantityLike | None = None, front_spring: tuple[QuantityLike, QuantityLike] | None = None, rear_spring: tuple[QuantityLike, QuantityLike] | None = None) -> Bike:
        """
        The bike after a change of setting; parameters as `effect_of`.
        """
    def with_shift(self, /, name: str, *, forward: QuantityLike | None = None, up: QuantityLike | None = None) -> Bike:
        """
        The bike with one of its masses moved: a rider who leans forward, or stands up.

        Parameters
        ----------
        name : str
            Of the mass: ``"rider"``.
        forward, up : length, optional
            How far its centre of gravity goes; nowhere unless given.

        Examples
        --------
        >>> import wheelrate as wr
        >>> bike = wr.demo()
        >>> forward = bike.whole.with_shift("rider", forward="100 mm")
        >>> print((forward.whole.settle().stance.trail - bike.whole.settle().stance.trail).round(1))
        -3.9 millimeter
        """

def append_readings(text: str, readings: SupportsGetItem[int, Reading]) -> str:
    """
    Put readings after those of a bike file's text; all else stays as it is.

    Parameters
    ----------
    text : str
        A bike file in TOML.
    readings : list of Reading
        What was read.

    Returns
    -------
    str
        The text amended.
    """

def arrangements() -> dict[str, dict[str, tuple[str, str]]]:
    """
    What is to be measured on each of the usual arrangements.

    Returns
    -------
    dict of str to dict of str to tuple of str
        Name of the arrangement; each point in the order of measuring, and the two points it is measured from.

    Examples
    --------
    >>> import wheelrate as wr
    >>> wr.arrangements()["rocker_on_swingarm"]["link_frame"]
    ('swingarm_pivot', 'rocker_pivot')
    """

def cg_height(level: tuple[QuantityLike, QuantityLike], raised: End, grounded: QuantityLike, lift: QuantityLike, wheelbase: QuantityLike, front_radius: QuantityLike, rear_radius: QuantityLike, *, scale_uncertainty: QuantityLike | None = None, tape_uncertainty: QuantityLike | None = None) -> Uncertain:
    """
    Height of the centre of gravity above the ground, from raising one axle.

    Parameters
    ----------
    level : pair of masses
        Scale readings front and rear with the bike level.
    raised : {"front", "rear"}
        Which axle was raised.
    grounded : mass
        Scale reading at the other wheel, still on the ground, after the raise.
    lift : length
        How far the axle was raised.
    wheelbase, front_radius, rear_radius : length
        With the bike level; radii are loaded ones.
    scale_uncertainty : mass, optional
        Standard uncertainty of each scale reading; 0.5 kg unless given.
    tape_uncertainty : length, optional
        Standard uncertainty of each length; 1.5 mm unless given.

    Returns
    -------
    Uncertain

    Examples
    --------
    >>> import wheelrate as wr
    >>> print(wr.cg_height(("61 kg", "64 kg"), "front", "72 kg", "400 mm", "1480 mm", "340 mm", "320 mm"))
    665 ± 31 mm
    """

def check(text: str, *, json: bool = False) -> list[Fault]:
    """
    Report every fault of a bike file, in the order of the text.

    Parameters
    ----------
    text : str
        A bike file.
    json : bool, optional
        Written as JSON; TOML unless so.

    Returns
    -------
    list of Fault
        Empty for a sound file. Of more than 50 the last says how many more there are.

    Examples
    --------
    >>> import wheelrate as wr
    >>> [fault] = wr.check('format = 1\\n[bike]\\nname = "x"\\ncolour = "red"')
    >>> fault.line, fault.column, fault.key_path
    (4, 1, 'bike.colour')
    """

def compare(designs: dict[str, RearEnd], load: QuantityLike) -> Comparison:
    """
    Compare rear ends under one load; changes are against the first.

    Parameters
    ----------
    designs : dict of str to RearEnd
        By name, drawn in the same axes.
    load : force
        Sprung load at the wheel.

    Returns
    -------
    Comparison

    Examples
    --------
    >>> import wheelrate as wr
    >>> bike = wr.demo()
    >>> longer = wr.RearEnd(bike.rear.linkage.with_link_length("link", "176 mm"), bike.rear.shock)
    >>> both = wr.compare({"now": bike.rear, "longer link": longer}, bike.masses.sprung_load("rear", "bike + rider").value)
    >>> print(both.sag.round(1))
    [105.3 103.9] millimeter
    """

def critical_damping(wheel_rate: AnyShape, mass: AnyShape) -> Quantity:
    """
    Critical damping of one mass on one spring, both at the wheel: ``2·√(k·m)``.
    """

def damping_at_shaft(at_wheel: AnyShape, motion_ratio: AnyShape) -> Quantity:
    """
    A damping rate at the wheel as the damper's shaft has to give it: ``c/MR²``.

    Examples
    --------
    >>> import wheelrate as wr
    >>> state = wr.demo().rear.at("102 mm")
    >>> critical = wr.critical_damping(state.wheel_rate, "95 kg")
    >>> shaft = wr.damping_at_shaft(critical, state.motion_ratio)
    >>> print(critical.round(0), shaft.round(0))
    1783.0 newton * second / meter 12535.0 newton * second / meter
    """

def damping_at_wheel(at_shaft: AnyShape, motion_ratio: AnyShape) -> Quantity:
    """
    A damping rate of the shaft as the wheel feels it: ``c·MR²``.
    """

def damping_factor(old: QuantityLike, new: QuantityLike) -> float:
    """
    What to multiply the damping by for the same damping ratio after a change of spring: ``√(k_new/k_old)``.
    """

def damping_ratio(damping: QuantityLike, wheel_rate: QuantityLike, mass: QuantityLike) -> Quantity:
    """
    Damping as a share of critical, all at the wheel: ``c/(2·√(k·m))``.
    """

def demo() -> Bike:
    """
    The shipped bike: an invented trail bike of a mountain rescue team, rider with medical pack.
    """

def demo_file() -> str:
    """
    The file of the shipped bike.
    """

def equivalent_of_friction(force: QuantityLike, frequency: QuantityLike, amplitude: QuantityLike) -> Quantity:
    """
    The linear damper equivalent to friction in a harmonic motion that it does not hold: ``4·F/(π·ω·X)``.

    Examples
    --------
    >>> import wheelrate as wr
    >>> print(wr.equivalent_of_friction("60 N", "2 Hz", "20 mm").round(1))
    304.0 newton * second / meter
    """

def equivalent_of_quadratic(force: QuantityLike, at: QuantityLike, frequency: QuantityLike, amplitude: QuantityLike) -> Quantity:
    """
    The linear damper equivalent to one whose force goes with the square of the speed: ``8·c·ω·X/(3π)``.

    Parameters
    ----------
    force : force
        Of the damper, at the speed `at`.
    at : velocity
        That speed.
    frequency : frequency
        Of the harmonic motion.
    amplitude : length
        Of its stroke.

    Examples
    --------
    >>> import wheelrate as wr
    >>> print(wr.equivalent_of_quadratic("500 N", "1 m/s", "2 Hz", "20 mm").round(1))
    106.7 newton * second / meter
    """

def heard(kind: str, text: str, unit: str | None = None) -> str:
    """
    The text of a quantity as it is said at the bike, in words that a file takes.

    Whoever asks should repeat what was heard: a file refuses a comma and a bare number, and says what would do.

    Parameters
    ----------
    kind : str
        What it is, e.g. ``"length"`` or ``"spring rate"``.
    text : str
        As it is said: ``"5.6 kg"`` of a spring, ``"4,4 N/mm"``, ``"22 inches"``, ``"41"``.
    unit : str, optional
        Of a number without one; the unit of results unless given.

    Returns
    -------
    str
        Number and unit.

    Examples
    --------
    >>> import wheelrate as wr
    >>> wr.heard("spring rate", "5,6 kg")
    '5.6 kgf/mm'
    """

def how_to_read(bike: Bike, end: End, under: str, low: bool, *, sag: bool = False) -> tuple[str, str, str]:
    """
    How to take a reading, alone: where to put the tape, which way to push, what to hold.

    Parameters
    ----------
    bike : Bike
        Along what its ends are read.
    end : {"front", "rear"}
        Which end.
    under : str
        What stands on the wheels: ``"none"``, ``"bike"``, ``"bike + rider"``.
    low : bool
        After pushing down, or after lifting.
    sag : bool, optional
        The sag itself is read, on a zeroed gauge; a distance to a mark unless so.

    Returns
    -------
    tuple of str
        What to do before the first reading, where the tape goes, and how to bring the end to rest.
    """

def json_schema() -> str:
    """
    The JSON Schema of the bike file, as text.
    """

def log_change(text: str, date: str, values: dict[str, str | float | list[str] | dict[str, str]], note: str | None = None) -> str:
    """
    Change values of a bike file's text on a date, and log the change there; all else stays as it is.

    Parameters
    ----------
    text : str
        A bike file in TOML.
    date : str
        A day, ``"2026-06-14"``, or a day with a time, ``"2026-06-14 19:30"``.
    values : dict of str to value
        By key path, as for `Bike.with_logged_change`.
    note : str, optional
        Anything worth remembering.

    Returns
    -------
    str
        The text amended.
    """

def longitudinal_transfer(mass: QuantityLike, acceleration: QuantityLike, height: QuantityLike, wheelbase: QuantityLike) -> Quantity:
    """
    The load that an acceleration moves from the front wheel to the rear one: ``m·a·h/L``; negative while braking.

    Examples
    --------
    >>> import wheelrate as wr
    >>> print(wr.longitudinal_transfer("221 kg", "-5 m/s2", "0.84 m", "1.48 m").round(0))
    -627.0 newton
    """

def natural_frequency(wheel_rate: AnyShape, mass: AnyShape) -> Quantity:
    """
    Natural frequency of one mass on one spring: ``√(k/m)/2π``. Arrays of one shape go, or an array and one number.

    Examples
    --------
    >>> import wheelrate as wr
    >>> print(wr.natural_frequency("8.3 N/mm", "95 kg").round(2))
    1.49 hertz
    >>> print(wr.natural_frequency(([8.3, 9.1], "N/mm"), "95 kg").round(2))
    [1.49 1.56] hertz
    """

def pitch_radius(teeth: SupportsIndex, pitch: QuantityLike) -> Quantity:
    """
    Pitch radius of a sprocket, ``r = p/(2·sin(π/N))`` (ISO 606).

    Parameters
    ----------
    teeth : int
        Of the sprocket.
    pitch : length
        Of the chain.

    Examples
    --------
    >>> import wheelrate as wr
    >>> print(wr.pitch_radius(48, "15.875 mm").round(2))
    121.36 millimeter
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

def questions() -> list[Question]:
    """
    What is asked of a person who starts a bike file, in order of worth.

    Returns
    -------
    list of Question
    """

def read_partly(text: str, *, json: bool = False) -> tuple[Bike, dict[str, list[Fault]]]:
    """
    Read a bike file as far as it can be read: faults of one end never hide the other.

    Parameters
    ----------
    text : str
        A bike file.
    json : bool, optional
        Written as JSON; TOML unless so.

    Returns
    -------
    tuple of Bike and dict of str to list of Fault
        The bike without the end at fault, and the faults of that end by its name; none for a sound file.

    Raises
    ------
    FileError
        With every fault of the text, where they are not all of one end.

    Examples
    --------
    >>> import wheelrate as wr
    >>> bike, faults = wr.read_partly(wr.demo_file().replace('stroke = "118 mm"', 'stroke = "118"'))
    >>> bike.ends, faults["rear"][0].key_path
    (['front'], 'rear.shock.stroke')
    """

def ride_rate(wheel_rate: AnyShape, tyre: AnyShape) -> Quantity:
    """
    Wheel rate and tyre in series, as the ground feels them: ``k·k_t/(k + k_t)``.
    """

def set_keys(text: str, values: dict[str, str | float | list[str] | dict[str, str]]) -> str:
    """
    Put values at key paths of a bike file's text; its comments, order and blanks stay.

    A key that stands in a comment is brought out of it. Whether the result is a sound bike is for `check` to say.

    Parameters
    ----------
    text : str
        A bike file in TOML.
    values : dict of str to value
        By key path, as for `Bike.correct`.

    Returns
    -------
    str
        The text amended.

    Examples
    --------
    >>> import wheelrate as wr
    >>> wr.set_keys('[front.fork]\\n# rake = "26 deg"  # as read\\n', {"front.fork.rake": "27 deg"})
    '[front.fork]\\nrake = "27 deg"    # as read\\n'
    """

def spring_wires() -> dict[str, str]:
    """
    Kinds of spring wire whose strength is known, with where it comes from.

    Returns
    -------
    dict of str to str

    Examples
    --------
    >>> import wheelrate as wr
    >>> wr.spring_wires()["music wire A228"]
    'Shigley, table 10-4, from memory'
    """

def start_file(template: str = "little") -> str:
    """
    The text of a bike file to start from: every key that a person may know, behind a ``#`` until it is known.

    Parameters
    ----------
    template : {"little", "table", "pivots"}
        Room for what a data sheet, labels and bathroom scales give; for a table of shock lengths and two scales too; for the
        pivots of the linkage too.

    Returns
    -------
    str
        A sound file, to be filled in with `set_keys` or by hand.
    """

def static_deflection(frequency: AnyShape) -> Quantity:
    """
    Deflection under its own weight of a linear spring without preload of this natural frequency: ``g/(2πf)²``.
    """

def sweep_curves(linkages: SupportsGetItem[int, Linkage], travels: ArrayLike) -> list[LinkageCurve]:
    """
    Many linkages over the same travels, on all cores.

    Parameters
    ----------
    linkages : list of Linkage
        In any number.
    travels : array of length
        From full extension of each.

    Returns
    -------
    list of LinkageCurve
        In the order of the linkages.
    """

def sweep_outputs() -> dict[str, str]:
    """
    Everything that a sweep can be asked.

    Returns
    -------
    dict of str to str
        What each output is, by its name.

    Examples
    --------
    >>> import wheelrate as wr
    >>> wr.sweep_outputs()["trail"]
    'trail with the rider, springs as stated'
    """

def sweep_points(linkages: SupportsGetItem[int, Linkage], travel: QuantityLike) -> LinkageCurve:
    """
    Many linkages at one travel, on all cores.

    Parameters
    ----------
    linkages : list of Linkage
        In any number.
    travel : length
        From full extension of each.

    Returns
    -------
    LinkageCurve
        One entry per linkage.

    Examples
    --------
    >>> import wheelrate as wr
    >>> linkage = wr.demo().rear.linkage
    >>> longer = linkage.with_link_length("link", "176 mm")
    >>> wr.sweep_points([linkage, longer], "100 mm").motion_ratio.shape
    (2,)
    """

def transmissibility(frequency_ratio: SupportsFloat | SupportsIndex, damping_ratio: QuantityLike) -> float:
    """
    Amplitude of a mass on spring and damper over that of the ground, at a frequency so many times its natural one.

    Examples
    --------
    >>> import wheelrate as wr
    >>> print(round(wr.transmissibility(2**0.5, "30 %"), 12))
    1.0
    """

def travel_log(bike: Bike, pieces: Any, *, gap: QuantityLike | None = None, clips: dict[str, tuple[object, object]] | None = None) -> TravelLog:
    """
    What the strokes of fork and shock over a ride say, taken piece by piece.

    However the samples are cut, the result is the same to the last bit, and memory does not grow with them.

    Parameters
    ----------
    bike : Bike
        The bike that was ridden: strokes become travels through its linkage and rake.
    pieces : iterable of (array of time, array of length or None, array of length or None)
        Times, strokes of the fork and of the shock from full extension; None for an end without a sensor, not a number where a
        sample is missing.
    gap : time, optional
        Samples further apart are not joined; 0.25 s unless given.
    clips : dict of str to (length or None, length or None), optional
        By end, strokes at which its sensor goes no further.

    Examples
    --------
    >>> import numpy as np
    >>> import wheelrate as wr
    >>> time = np.arange(0, 60, 0.01)
    >>> shock = 40 + 10 * np.sin(7 * time)
    >>> log = wr.travel_log(wr.demo(), [((time, "s"), None, (shock, "mm"))])
    >>> log.ends["rear"].bottomings
    0
    """

def tyre_rate(loads: ArrayLike, heights: ArrayLike, *, load_uncertainty: QuantityLike | None = None, height_uncertainty: QuantityLike | None = None) -> TyreRate:
    """
    The rate of a tyre from loads on the ground and heights of the axle: a straight line with errors in both.

    Parameters
    ----------
    loads : array of force
        Two or more, about those of the ride.
    heights : array of length
        Of the axle above the ground, at each.
    load_uncertainty, height_uncertainty : force, length, optional
        Standard uncertainty of one load (10 N unless given) and of one height (0.5 mm).

    Returns
    -------
    TyreRate

    Examples
    --------
    >>> import wheelrate as wr
    >>> tyre = wr.tyre_rate(([400, 900, 1400], "N"), ([341.2, 337.3, 332.8], "mm"))
    >>> print(tyre.rate, "on", tyre.radius)
    119 ± 10 N/mm on 344.7 ± 0.7 mm
    """

def tyre_rate_of_footprint(load: QuantityLike, length: QuantityLike, radius: QuantityLike, *, length_uncertainty: QuantityLike | None = None) -> TyreRate:
    """
    A rough rate of a tyre from the length of its footprint, uncertain by a fifth: the chord that a rigid ring would sink by.

    Parameters
    ----------
    load : force
        On the ground.
    length : length
        Of the footprint, along the wheel.
    radius : length
        Of the unloaded tyre.
    length_uncertainty : length, optional
        Standard uncertainty of the footprint's length; 5 mm unless given.

    Returns
    -------
    TyreRate

    Examples
    --------
    >>> import wheelrate as wr
    >>> print(wr.tyre_rate_of_footprint("900 N", "120 mm", "300 mm").rate)
    148 ± 32 N/mm
    """

def unit_symbols(units: str) -> dict[str, str]:
    """
    The unit symbol that a unit system uses for each kind of quantity.

    Parameters
    ----------
    units : {"metric", "kilogram-force", "inch"}
        The system.

    Returns
    -------
    dict of str to str
        Kind to symbol.
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

def vertical_weighting(frequency: AnyShape) -> Quantity:
    """
    How much a standing or sitting person feels of a vertical acceleration of these frequencies: ``W_k`` of ISO 2631-1.

    Examples
    --------
    >>> import wheelrate as wr
    >>> print(wr.vertical_weighting(([1, 5, 20], "Hz")).round(1))
    [48.2 103.9 63.6] percent
    """
