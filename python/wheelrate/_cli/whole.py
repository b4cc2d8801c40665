"""The whole bike: how it settles, what drive does to it, how it lands, and links that would do what is wanted."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import click

import wheelrate as wr
from wheelrate import _report
from wheelrate._cli.common import (
    BAD_INPUT,
    bike_of,
    fail,
    file_argument,
    json_option,
    named,
    show,
    supposing,
    units_option,
    what_if_option,
)
from wheelrate._lines import items, text

if TYPE_CHECKING:
    from wheelrate._lines import Table
    from wheelrate.typing import End

_load_option = click.option(
    "--load", metavar="LOAD", help='Names of masses, "bike + rider"; that of the rider unless given.'
)
_SQUAT = [
    ("travel", "wheel travel", "length", 1),
    ("chain_angle", "chain", "angle", 1),
    ("swingarm_angle", "swingarm", "angle", 1),
    ("squat_angle", "squat line", "angle", 1),
    ("anti_squat", "anti-squat", "share", 0),
]
_CHAIN = [
    ("travel", "wheel travel", "length", 1),
    ("growth", "growth", "length", 1),
    ("slack", "slack", "length", 1),
    ("play", "play", "length", 1),
    ("wheel_turn", "wheel turn", "angle", 2),
]
_TIGHTEST = ("tightest_travel", "tightest_growth", "extended_play")
_STANCE = [
    ("rake", "angle"),
    ("trail", "length"),
    ("normal_trail", "length"),
    ("wheelbase", "length"),
    ("pitch", "angle"),
]


def _number(quantity: Any, kind: str, units: str) -> dict[str, Any]:
    symbol, value = _report.numbers(quantity, kind, units)
    return {"value": float(value), "unit": symbol}


def _lines(rows: list[tuple[str, dict[str, Any] | str]], units: str) -> str:
    """Set names with numbers as text."""
    width = max(len(name) for name, _ in rows)

    def said(entry: dict[str, Any] | str) -> str:
        if isinstance(entry, str):
            return entry
        decimals = 2 if units == "inch" or entry["unit"] in ("s", "m/s") else 1
        return f"{entry['value']:.{decimals}f} {entry['unit']}"

    return "\n".join(f"  {name.ljust(width)}  {said(entry)}" for name, entry in rows)


@click.command()
@file_argument
@what_if_option
@_load_option
@click.option("--slope", metavar="ANGLE", help='Of the ground, uphill positive: "6 deg".')
@click.option("--acceleration", metavar="ACCELERATION", help='Along the ground, braking below zero: "-5 m/s2".')
@click.option(
    "--front-share", metavar="SHARE", help='Of the force along the ground that the front wheel gives: "70 %".'
)
@click.option(
    "--rear-reaction", type=click.Choice(["frame", "swingarm"]), help="What carries the torque of the rear wheel."
)
@json_option
@units_option
def settle(
    file: str,
    supposed: tuple[str, ...],
    load: str | None,
    slope: str | None,
    acceleration: str | None,
    front_share: str | None,
    rear_reaction: str | None,
    as_json: bool,
    units: str,
) -> None:
    """Show how the whole bike comes to rest: both ends, rake, trail, wheelbase, pitch.

    The springs are taken as FILE states them, without friction. On a slope, braking or driving, the heights of the
    masses have to be known.
    """
    bike = supposing(bike_of(file), supposed)
    with named(file):
        found = bike.whole.settle(
            load, slope=slope, acceleration=acceleration, front_share=front_share, rear_reaction=rear_reaction
        )
        data: dict[str, Any] = {
            "load": load or bike.rider_load,
            "ends": {name: _settled(found, name, units) for name in found.ends},
            "stance": {name: _number(getattr(found.stance, name), kind, units) for name, kind in _STANCE},
        }

    def text() -> str:
        parts = [data["load"].upper()]
        for name, end in data["ends"].items():
            rows = [(key.replace("_", " "), value) for key, value in end.items() if value is not None]
            parts.append(f"{name}\n{_lines(rows, units)}")
        stance = [(name.replace("_", " "), value) for name, value in data["stance"].items()]
        return "\n\n".join([*parts, f"stance\n{_lines(stance, units)}"])

    show(file, as_json, lambda: data, text)


def _settled(found: wr.SettledBike, end: str, units: str) -> dict[str, Any]:
    settling = found.ends[end]
    margin = settling.margin
    return {
        "outcome": settling.outcome,
        "travel": _number(found.stance.travel[end], "length", units),
        "force_on_ground": _number(found.load[end], "force", units),
        "force_on_stop": None if margin is None else _number(margin, "force", units),
    }


@click.command()
@file_argument
@what_if_option
@_load_option
@click.option("--at", multiple=True, metavar="TRAVEL", help='A wheel travel, "102 mm"; give it as often as you like.')
@click.option("--points", type=click.IntRange(2, 10_000), default=13, show_default=True, help="Evenly spaced travels.")
@json_option
@units_option
def squat(
    file: str,
    supposed: tuple[str, ...],
    load: str | None,
    at: tuple[str, ...],
    points: int,
    as_json: bool,
    units: str,
) -> None:
    """Tabulate what drive does to the rear over wheel travel: chain line, swingarm, squat line, anti-squat.

    Above 100 % drive lifts the rear; below, it squats. Beside it anti-rise of the rear brake, where FILE says which
    body carries the caliper: below 100 % the brake lets the rear come up, above it pulls it down.
    """
    import numpy as np

    bike = supposing(bike_of(file), supposed)
    with named(file):
        travels: Any = list(at) or (np.linspace(0, bike.rear.full_travel.m_as("m"), points), "m")
        found = bike.whole.squat(load, travels)
        table: Table = []
        for attribute, head, kind, decimals in _SQUAT:
            symbol, values = _report.numbers(getattr(found, attribute), kind, units)
            table.append((head, symbol, values.tolist(), decimals + (units == "inch" and kind == "length")))
        table.append(("squat ratio", "", found.squat_ratio.tolist(), 2))
        if bike.rear.caliper is not None:
            symbol, values = _report.numbers(bike.whole.anti_rise(load, travels).anti_rise, "share", units)
            table.append(("anti-rise", symbol, values.tolist(), 0))
    show(file, as_json, lambda: _report.columns(table), lambda: text(table))


_ROAD = [
    ("rest_travel", "length"),
    ("travel_shift", "length"),
    ("travel_rms", "length"),
    ("full_travel", "length"),
    ("shaft_speed_rms", "velocity"),
    ("tyre_force_rms", "force"),
    ("tyre_load", "force"),
    ("damping_ratio", "share"),
    ("bottoming_chance", "share"),
]


@click.command()
@file_argument
@what_if_option
@click.option(
    "--class",
    "grade",
    type=click.Choice(list("ABCDEFGH")),
    default="D",
    show_default=True,
    help="Of the road by ISO 8608: A to C is tarred, C to E gravel, E and beyond a trail.",
)
@click.option("--speed", required=True, metavar="SPEED", help='Of riding, "50 km/h".')
@click.option("--friction", metavar="FORCE", help="Sliding friction at each wheel; that of FILE unless given.")
@_load_option
@json_option
@units_option
def road(
    file: str,
    supposed: tuple[str, ...],
    grade: str,
    speed: str,
    friction: str | None,
    load: str | None,
    as_json: bool,
    units: str,
) -> None:
    """Show what a road makes of the bike: travel used, tyre force, comfort, and the chance of bottoming in a kilometre.

    Linear about the rest, by the spectrum of the road. Compare springs, links and dampers on one road.
    """
    bike = supposing(bike_of(file), supposed)
    with named(file):
        found = bike.whole.on_road(wr.Road(grade), speed, load, friction=friction)
        data: dict[str, Any] = {
            "road": grade,
            "speed": speed,
            "ends": {
                name: {key: _number(getattr(end, key), kind, units) for key, kind in _ROAD}
                for name, end in found.ends.items()
            },
            "acceleration_rms": _number(found.acceleration_rms, "acceleration", units),
            "weighted_acceleration_rms": _number(found.weighted_acceleration_rms, "acceleration", units),
            "limits": found.limits,
        }

    def said() -> str:
        parts = [f"CLASS {grade}, {speed}"]
        for name, end in data["ends"].items():
            rows = [(key.replace("bottoming_chance", "chance of bottoming in a kilometre"), end[key]) for key in end]
            parts.append(f"{name}\n{_lines([(key.replace('_', ' '), entry) for key, entry in rows], units)}")
        body = [(key.replace("_", " "), data[key]) for key in ("acceleration_rms", "weighted_acceleration_rms")]
        return "\n\n".join([*parts, f"body\n{_lines(body, units)}", "\n".join(items(found.limits))])

    show(file, as_json, lambda: data, said)


_DAMPING = [
    ("travel", "wheel travel", "length", 1),
    ("motion_ratio", "motion ratio", "motion ratio", 3),
    ("wheel_rate", "wheel rate", "wheel rate", 2),
    ("compression", "compression", "damping rate", 0),
    ("rebound", "rebound", "damping rate", 0),
    ("compression_ratio", "compressing", "share", 0),
    ("rebound_ratio", "extending", "share", 0),
    ("damping_ratio", "damping ratio", "share", 0),
    ("damping_ratio_uncertainty", "±", "share", 0),
]


@click.command()
@file_argument
@what_if_option
@click.option("--end", type=click.Choice(["front", "rear"]), default="rear", show_default=True, help="Which end.")
@_load_option
@click.option("--speed", metavar="SPEED", help='Amplitude of the speed at the wheel, "0.5 m/s"; slow unless given.')
@click.option("--at", multiple=True, metavar="TRAVEL", help='A wheel travel, "102 mm"; give it as often as you like.')
@click.option("--points", type=click.IntRange(2, 10_000), default=13, show_default=True, help="Evenly spaced travels.")
@json_option
@units_option
def damping(
    file: str,
    supposed: tuple[str, ...],
    end: End,
    load: str | None,
    speed: str | None,
    at: tuple[str, ...],
    points: int,
    as_json: bool,
    units: str,
) -> None:
    """Tabulate damping at the wheel over travel, and as shares of critical damping; then the modes.

    Compare springs, links and dampers with it, choose no clicks by it.
    """
    import numpy as np

    bike = supposing(bike_of(file), supposed)
    with named(file):
        full = getattr(bike, end).full_travel.m_as("m")
        travels: Any = list(at) or (np.linspace(0, full, points), "m")
        found = bike.whole.damping(end, load, speed=speed, travels=travels)
        table: Table = []
        for attribute, head, kind, decimals in _DAMPING:
            symbol, values = _report.numbers(getattr(found, attribute), kind, units)
            table.append((head, symbol, values.tolist(), decimals + (units == "inch" and kind != "share")))
    modes, why = _damped_modes(bike, load, speed)

    def shown() -> str:
        lines = [
            f"  {mode['kind'].ljust(10)}  {mode['frequency']['value']:5.1f} Hz  {mode['damping_ratio']['value']:4.0f} %"
            for mode in modes
        ]
        heading = ["MODES, with both dampers", *lines] if modes else [f"No modes: {why}"]
        return "\n".join([text(table), "", *heading, "", *items(found.limits)])

    show(file, as_json, lambda: {**_report.columns(table), "modes": modes, "limits": found.limits}, shown)


def _damped_modes(bike: wr.Bike, load: str | None, speed: str | None) -> tuple[list[dict[str, Any]], str]:
    """Give the modes as data, or why there are none: an end is shown whatever the other lacks."""
    try:
        modes = bike.whole.damped_modes(load, speed)
    except wr.WheelrateError as error:
        return [], str(error)
    return [
        {
            "kind": mode.kind,
            "frequency": {"value": float(mode.frequency.m_as("Hz")), "unit": "Hz"},
            "damping_ratio": {"value": float(mode.damping_ratio.m_as("percent")), "unit": "%"},
        }
        for mode in modes
    ], ""


@click.command()
@file_argument
@what_if_option
@click.option(
    "--play", default="10 mm", show_default=True, metavar="LENGTH", help="Wanted where the chain is tightest."
)
@click.option("--at", multiple=True, metavar="TRAVEL", help='A wheel travel, "102 mm"; give it as often as you like.')
@click.option("--points", type=click.IntRange(2, 10_000), default=13, show_default=True, help="Evenly spaced travels.")
@json_option
@units_option
def chain(
    file: str, supposed: tuple[str, ...], play: str, at: tuple[str, ...], points: int, as_json: bool, units: str
) -> None:
    """Tabulate the chain over wheel travel: growth, slack, play of the lower run, and how it turns the wheel.

    The first lines say where it is tightest, and the play to set on the stand, wheel lifted. Play is up and down
    together.
    """
    import numpy as np

    bike = supposing(bike_of(file), supposed)
    with named(file):
        travels: Any = list(at) or (np.linspace(0, bike.rear.full_travel.m_as("m"), points), "m")
        found = bike.rear.chain(travels, play=play)
        table: Table = []
        for attribute, head, kind, decimals in _CHAIN:
            symbol, values = _report.numbers(getattr(found, attribute), kind, units)
            table.append((head, symbol, values.tolist(), decimals + (units == "inch" and kind == "length")))
        summary = {name: _number(getattr(found, name), "length", units) for name in _TIGHTEST}
    rows = [(name.replace("_", " "), entry) for name, entry in summary.items()]
    show(
        file,
        as_json,
        lambda: {**summary, "over_travel": _report.columns(table)},
        lambda: f"{_lines([*rows], units)}\n\n{text(table)}",
    )


@click.command()
@file_argument
@what_if_option
@click.option("--end", type=click.Choice(["front", "rear"]), default="rear", show_default=True, help="Which end.")
@click.option("--height", required=True, metavar="HEIGHT", help='Of the fall, "0.8 m"; with --step, of the step.')
@click.option(
    "--compression", metavar="RATE", help='Of another damper along its shaft, "6000 N s/m"; that of FILE unless given.'
)
@click.option("--rebound", metavar="RATE", help="As in compression unless given.")
@click.option("--friction", metavar="FORCE", help="Sliding friction at the wheel; none unless given.")
@click.option("--step", is_flag=True, help="Ride over a step, not land from a fall.")
@_load_option
@json_option
@units_option
def landing(
    file: str,
    supposed: tuple[str, ...],
    end: End,
    height: str,
    compression: str | None,
    rebound: str | None,
    friction: str | None,
    step: bool,
    load: str | None,
    as_json: bool,
    units: str,
) -> None:
    """Simulate a landing of one end with its damper: how far it goes, whether and how hard it bottoms.

    Compare springs with it, choose no clicks by it. --json has the motion over time as well.
    """
    bike = supposing(bike_of(file), supposed)
    with named(file):
        if rebound is not None and compression is None:
            fail("--rebound: found it alone, wanted --compression beside it: both are of another damper", BAD_INPUT)
        damper = None if compression is None else wr.Damper(compression, rebound)
        moving = bike.whole.moving_end(end, damper, load, friction)
        found = moving.step(height) if step else moving.land(height)
        bottoming = found.bottoming
        quantities = {
            "rest_travel": (found.rest_travel, "length"),
            "peak_travel": (found.peak_travel, "length"),
            "peak_travel_time": (found.peak_travel_time, "time"),
            "full_travel": (found.full_travel, "length"),
            "peak_tyre_force": (found.peak_tyre_force, "force"),
            "settled_after": (found.settled_after, "time"),
        }
        if bottoming is not None:
            quantities["bottoming_time"] = (bottoming.time, "time")
            quantities["bottoming_speed"] = (bottoming.speed, "velocity")
        data: dict[str, Any] = {
            name: None if quantity is None else _number(quantity, kind, units)
            for name, (quantity, kind) in quantities.items()
        }
        data["limits"] = found.limits
        rows: list[tuple[str, dict[str, Any] | str]] = [
            (name.replace("_", " "), entry) for name, entry in data.items() if isinstance(entry, dict)
        ]
        columns = _motion(found, units)
    verdict = "does not bottom" if bottoming is None else "bottoms"
    show(
        file,
        as_json,
        lambda: {**data, "motion": columns},
        lambda: "\n".join([f"{end.upper()}, {height}: {verdict}", _lines(rows, units), *items(found.limits)]),
    )


def _motion(found: wr.EndMotion, units: str) -> dict[str, Any]:
    columns: dict[str, Any] = {}
    for title, values in found.columns(units).items():
        name, _, unit = title.removesuffix("]").partition(" [")
        columns[name] = {"unit": unit, "values": list(values)}
    return columns


@click.command()
@file_argument
@click.option(
    "--free",
    multiple=True,
    required=True,
    metavar="DIMENSION=FROM:TO",
    help='A dimension that may move, "z of link_frame=-110 mm:-90 mm"; give it as often as you like.',
)
@click.option("--progression", metavar="SHARE:TOLERANCE", help='Over the whole travel, "40 %:0.5 %".')
@click.option("--full-travel", metavar="TRAVEL:TOLERANCE", help='"300 mm:1 mm".')
@click.option(
    "--wheel-rate",
    multiple=True,
    metavar="TRAVEL=RATE",
    help='The wheel rate wanted at a travel, "150 mm=9 N/mm", springs as they are; give it as often as you like.',
)
@click.option("--tolerance", default="0.05 N/mm", show_default=True, metavar="RATE", help="Of each wheel rate wanted.")
@json_option
@units_option
def design(
    file: str,
    free: tuple[str, ...],
    progression: str | None,
    full_travel: str | None,
    wheel_rate: tuple[str, ...],
    tolerance: str,
    as_json: bool,
    units: str,
) -> None:
    """Find dimensions of the linkage, inside bounds, that come nearest to what is wanted, and say what is in the way.

    Print the points that move, as values for `wheelrate what-if` and `wheelrate compare --what-if`.
    """
    bike = bike_of(file)
    bounds: Any = {name: _two(pair, ":", "--free", 'bounds, "-110 mm:-90 mm"') for name, pair in map(_parted, free)}
    wanted: dict[str, Any] = {}
    for name, pair in (("progression", progression), ("full_travel", full_travel)):
        if pair is not None:
            wanted[name] = _two(pair, ":", f"--{name.replace('_', '-')}", "a value and its tolerance")
    if wheel_rate:
        places = [_two(one, "=", "--wheel-rate", 'a travel and a rate, "150 mm=9 N/mm"') for one in wheel_rate]
        wanted["wheel_rate"] = ([travel for travel, _ in places], [rate for _, rate in places], tolerance)
    if not wanted:
        fail("found no target, wanted --progression, --full-travel or --wheel-rate", BAD_INPUT)
    with named(file):
        found = bike.rear.design(bounds, **wanted)
        changes = _moved(bike.rear.linkage, found.linkage, units)
    data = {
        "is_reached": found.is_reached,
        "dimensions": {
            name: {"was": _number(was, "length", units), "now": _number(now, "length", units)}
            for name, was, now in zip(found.dimensions, found.was, found.now, strict=True)
        },
        "misses": dict(zip(found.targets, found.misses.tolist(), strict=True)),
        "in_the_way": found.in_the_way,
        "changes": changes,
    }

    def text() -> str:
        values = [f"  '{key}={json.dumps(place)}'" for key, place in changes.items()]
        return "\n".join([found.report().rstrip(), "", "As values for --what-if:", *values])

    show(file, as_json, lambda: data, text)


def _parted(given: str) -> tuple[str, str]:
    name, mark, value = given.rpartition("=")
    if not mark:
        fail(f'--free: found {given!r}, wanted a dimension and its bounds: "z of link_frame=-110 mm:-90 mm"', BAD_INPUT)
    return name.strip(), value


def _two(given: str, mark: str, option: str, wanted: str) -> tuple[str, str]:
    first, found, second = given.partition(mark)
    if not found:
        fail(f"{option}: found {given!r}, wanted {wanted}, with `{mark}` between", BAD_INPUT)
    return first.strip(), second.strip()


def _moved(before: wr.Linkage, after: wr.Linkage, units: str) -> dict[str, list[str]]:
    """Name the points that moved, with the values that a file would have."""
    stood, stand = before.mechanism.points, after.mechanism.points
    changes = {}
    for name, place in stand.items():
        if abs((place - stood[name]).m_as("mm")).max() > 0.0:
            symbol, numbers = _report.numbers(place, "length", units)
            changes[f"rear.linkage.points.{name}"] = [f"{number:.10g} {symbol}" for number in numbers]
    return changes
