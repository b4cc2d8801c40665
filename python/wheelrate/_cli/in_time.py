"""Landing and braking in time: one end alone, or the whole bike."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

import click

import wheelrate as wr
from wheelrate import _report
from wheelrate._cli.common import (
    BAD_INPUT,
    bike_of,
    fail,
    file_argument,
    for_end,
    json_option,
    load_option,
    named,
    show,
    supposing,
    units_option,
    what_if_option,
)
from wheelrate._lines import items, text

if TYPE_CHECKING:
    from wheelrate.typing import End

_PEAKS = [
    ("rest_travel", "length"),
    ("peak_travel", "length"),
    ("peak_travel_time", "time"),
    ("full_travel", "length"),
    ("peak_tyre_force", "force"),
]

legs_option = click.option(
    "--legs",
    metavar="MASS,RATE,DAMPING",
    help='Legs of a rider who stands: "80 kg,7 N/mm,700 N s/m"; a weight on the frame unless given.',
)


def _legs(given: str | None) -> wr.Legs | None:
    if given is None:
        return None
    parts = [part.strip() for part in given.split(",")]
    if len(parts) != 3:
        fail(f'--legs: found {given!r}, wanted mass, rate and damping: "80 kg,7 N/mm,700 N s/m"', BAD_INPUT)
    return wr.Legs(*parts)


def _peaks(end: wr.EndMotion | wr.BikeMotionEnd, units: str) -> dict[str, Any]:
    quantities = {name: (getattr(end, name), kind) for name, kind in _PEAKS}
    if end.bottoming is not None:
        quantities["bottoming_time"] = (end.bottoming.time, "time")
        quantities["bottoming_speed"] = (end.bottoming.speed, "velocity")
    return {name: _report.number(quantity, kind, units) for name, (quantity, kind) in quantities.items()}


def _verdict(end: wr.EndMotion | wr.BikeMotionEnd) -> str:
    """Say whether an end bottoms, and what a peak beyond its travel means."""
    said = "does not bottom" if end.bottoming is None else "bottoms"
    return f"{said} (beyond full travel: the stops give)" if end.peak_travel > end.full_travel else said


def _listed(numbers: dict[str, Any], units: str) -> str:
    rows: list[tuple[str, dict[str, Any] | str]] = [
        (name.replace("_", " "), entry) for name, entry in numbers.items() if isinstance(entry, dict)
    ]
    return _report.listed(rows, units)


def _show_end(file: str, as_json: bool, head: str, motion: wr.EndMotion, units: str) -> None:
    after = motion.settled_after
    settled = None if after is None else _report.number(after, "time", units)
    data = {**_peaks(motion, units), "settled_after": settled, "limits": motion.limits}
    show(
        file,
        as_json,
        lambda: {**data, "motion": _columns(motion, units)},
        lambda: "\n".join([f"{head}: {_verdict(motion)}", _listed(data, units), *items(motion.limits)]),
    )


def _show_bike(file: str, as_json: bool, head: str, motion: wr.BikeMotion, units: str) -> None:
    ends = {name: _peaks(end, units) for name, end in motion.ends.items()}
    pitch = {
        name: _report.number(angle, "angle", units)
        for name, angle in {"peak_pitch": motion.peak_pitch, "least_pitch": motion.least_pitch}.items()
    }

    def said() -> str:
        parts = [f"{name.upper()}: {_verdict(end)}\n{_listed(ends[name], units)}" for name, end in motion.ends.items()]
        body = f"body, nose down\n{_listed(pitch, units)}"
        return "\n\n".join([head, *parts, body, "\n".join(items(motion.limits))])

    show(file, as_json, lambda: {"ends": ends, **pitch, "limits": motion.limits}, said)


def _columns(found: wr.EndMotion, units: str) -> dict[str, Any]:
    columns: dict[str, Any] = {}
    for title, values in found.columns(units).items():
        name, _, unit = title.removesuffix("]").partition(" [")
        columns[name] = {"unit": unit, "values": list(values)}
    return columns


@click.command()
@file_argument
@what_if_option
@click.option(
    "--end",
    type=click.Choice(["front", "rear", "both"]),
    default="rear",
    show_default=True,
    help="One end alone, or the whole bike with its pitch.",
)
@click.option(
    "--height", required=True, metavar="HEIGHT", help='Height of the fall, "0.8 m"; with --step, of the step.'
)
@click.option("--friction", metavar="FORCE", help="Sliding friction at the wheel; none unless given.")
@click.option(
    "--compression",
    metavar="RATE",
    help='One end: of another damper along its shaft, "6000 N s/m"; that of FILE unless given.',
)
@click.option("--rebound", metavar="RATE", help="One end: as in compression unless given.")
@click.option("--step", is_flag=True, help="One end: ride over a step, not land from a fall.")
@click.option("--attitude", metavar="ANGLE", help="Both: nose down, rear first below zero; level unless given.")
@legs_option
@load_option
@json_option
@units_option
def landing(
    file: str,
    supposed: tuple[str, ...],
    end: str,
    height: str,
    friction: str | None,
    compression: str | None,
    rebound: str | None,
    step: bool,
    attitude: str | None,
    legs: str | None,
    load: str | None,
    as_json: bool,
    units: str,
) -> None:
    """Simulate a landing: how far the wheels go, whether and how hard they bottom.

    Of one end with its damper, or of the whole bike with both ends, pitch, and a rider on legs. A number of a model,
    not of a jump: compare springs and loads with it, choose no clicks by it, and believe no height. --json has the
    motion of one end over time as well.
    """
    of_one_end = {"--compression": compression, "--rebound": rebound, "--step": step or None}
    of_both = {"--attitude": attitude, "--legs": legs}
    for option, given in (of_one_end if end == "both" else of_both).items():
        if given is not None:
            wanted = "--end front or --end rear" if end == "both" else "--end both"
            fail(f"{option}: found it with --end {end}, wanted {wanted}", BAD_INPUT)
    if rebound is not None and compression is None:
        fail(
            "--rebound: found it alone, wanted --compression beside it: the two describe another damper together",
            BAD_INPUT,
        )
    if end == "both":
        bike = supposing(bike_of(file), supposed)
        with named(file):
            landed = bike.whole.land(height, attitude, load, friction=friction, legs=_legs(legs))
        nose = "level" if attitude is None else f"{attitude} nose down"
        _show_bike(file, as_json, f"LANDING from {height}, {nose}", landed, units)
        return
    one = cast("End", end)
    bike, read = for_end(file, one, supposed)
    with named(file):
        damper = None if compression is None else wr.Damper(compression, rebound)
        moving = bike.whole.moving_end(one, damper, load, friction)
        found = moving.step(height) if step else moving.land(height)
    _show_end(file, as_json, f"{end.upper()}, {height}", found, units)
    read.close(said=True)


@click.command("brake")
@file_argument
@what_if_option
@click.option("--deceleration", required=True, metavar="ACCELERATION", help='How hard to brake, "6 m/s2".')
@click.option(
    "--front-share", default="70 %", show_default=True, metavar="SHARE", help="Share of the braking on the front brake."
)
@click.option("--grip", default=1.0, show_default=True, help="Most that a tyre holds, as a share of its load.")
@legs_option
@load_option
@json_option
@units_option
def brake(
    file: str,
    supposed: tuple[str, ...],
    deceleration: str,
    front_share: str,
    grip: float,
    legs: str | None,
    load: str | None,
    as_json: bool,
    units: str,
) -> None:
    """Simulate braking of the whole bike from rest on its springs: dive, pitch, and what the tyres carry."""
    bike = supposing(bike_of(file), supposed)
    with named(file):
        motion = bike.whole.brake(deceleration, front_share, load, grip=grip, legs=_legs(legs))
    _show_bike(file, as_json, f"BRAKING with {deceleration}, {front_share} in front", motion, units)


_DESCENT = [
    ("time", "time", "time", 0),
    ("temperature", "gas", "temperature", 1),
    ("pressure", "pressure", "share", 1),
    ("force", "force", "force", 0),
    ("force_uncertainty", "±", "force", 0),
    ("travel", "travel", "length", 1),
    ("travel_uncertainty", "± of travel", "length", 1),
    ("reserve", "reserve", "energy", 1),
    ("reserve_uncertainty", "± of reserve", "energy", 1),
]
_DESCENT_NOTES = (
    "Force is that at the wheel where the end rested at the start, travel that at rest, reserve the energy from there "
    "to full travel.",
    "The ± is that of the time constant. Springs and the air around are as FILE states them, without friction.",
    "Let hot gas cool before you open a valve, and never heat a charged reservoir.",
)


@click.command()
@file_argument
@what_if_option
@click.option("--end", type=click.Choice(["front", "rear"]), default="front", show_default=True, help="Which end.")
@load_option
@click.option("--start", default="15 degC", show_default=True, metavar="TEMPERATURE", help="Of the gas at the start.")
@click.option("--towards", required=True, metavar="TEMPERATURE", help='Where the gas would end: "60 degC".')
@click.option("--time-constant", required=True, metavar="TIME", help='In which 63 % of the way is done: "600 s".')
@click.option("--time-constant-uncertainty", metavar="TIME", help="Its standard uncertainty; exact unless given.")
@click.option("--at", multiple=True, metavar="TIME", help='A time since the start, "900 s"; as often as you like.')
@json_option
@units_option
def descent(
    file: str,
    supposed: tuple[str, ...],
    end: End,
    load: str | None,
    start: str,
    towards: str,
    time_constant: str,
    time_constant_uncertainty: str | None,
    at: tuple[str, ...],
    as_json: bool,
    units: str,
) -> None:
    """Tabulate what gas that warms over a descent does: pressure, force, travel at rest, reserve."""
    bike, given = for_end(file, end, supposed)
    with named(file):
        times = list(at) or [f"{minutes * 60} s" for minutes in (0, 2, 5, 10, 20, 40)]
        found = bike.whole.descent(
            end, start, towards, time_constant, times, time_constant_uncertainty=time_constant_uncertainty, load=load
        )
        table = _report.tabulated(found, _DESCENT, units)
    data = {**_report.columns(table), "notes": list(_DESCENT_NOTES)}
    show(file, as_json, lambda: data, lambda: f"{text(table)}\n\n" + "\n".join(items(list(_DESCENT_NOTES))))
    given.close(said=True)
