"""What stands over wheel travel: drive and brake, the chain, damping."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

import wheelrate as wr
from wheelrate import _report
from wheelrate._cli.common import (
    at_option,
    file_argument,
    for_end,
    json_option,
    load_option,
    named,
    points_option,
    show,
    units_option,
    what_if_option,
)
from wheelrate._lines import items, text

if TYPE_CHECKING:
    from wheelrate.typing import End

_SQUAT = [
    ("travel", "wheel travel", "length", 1),
    ("chain_angle", "chain", "angle", 1),
    ("swingarm_angle", "swingarm", "angle", 1),
    ("squat_angle", "squat line", "angle", 1),
    ("anti_squat", "anti-squat", "share", 0),
]
_REAR_ALONE = (
    "Angles with the frame as it is drawn. Anti-squat is left out: wheelbase and pitch need the front end as well."
)
_CHAIN = [
    ("travel", "wheel travel", "length", 1),
    ("growth", "growth", "length", 1),
    ("slack", "slack", "length", 1),
    ("play", "play", "length", 1),
    ("wheel_turn", "wheel turn", "angle", 2),
]
_STEERING = [
    ("travel", "wheel travel", "length", 1),
    ("rake", "rake", "angle", 1),
    ("fork_offset", "offset", "length", 1),
    ("trail", "trail", "length", 1),
]
_TIGHTEST = ("tightest_travel", "tightest_growth", "extended_play")
_BUSHES = [
    ("travel", "wheel travel", "length", 1),
    ("overlap", "overlap", "length", 1),
    ("load", "load", "force", 0),
    ("upper", "upper bush", "force", 0),
    ("lower", "lower bush", "force", 0),
    ("load_in", "goes in", "force", 0),
    ("load_out", "comes out", "force", 0),
    ("friction_at_wheel", "friction", "force", 0),
    ("friction_at_wheel_uncertainty", "±", "force", 0),
]
_BUSH_NOTES = (
    "Loads are vertical, at the axle. The force of a bush is on the lower tube of the leg with the caliper, square to "
    "the fork, forward.",
    "The ± is that of the coefficient of friction. Tubes are rigid and straight, springs as the file states them, the "
    "frame is level.",
)
_MORE_THAN_ALL = (
    "The bushes alone would rub more than the readings found in all: the coefficient is lower, or the bushes are not "
    "where FILE has them."
)
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
@load_option
@at_option
@points_option
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
    bike, given = for_end(file, "rear", supposed)
    alone = "front" in given.unread
    with named(file):
        travels = _report.travels(bike.rear, at, points)
        if alone:
            found = bike.rear.linkage.squat(_drive(bike), travels)
            table = _report.tabulated(found, _SQUAT[:-1], units)
        else:
            found = bike.whole.squat(load, travels)
            table = _report.tabulated(found, _SQUAT, units)
            table.append(("squat ratio", "", found.squat_ratio.tolist(), 2))
        if not alone and bike.rear.caliper is not None:
            symbol, values = _report.numbers(bike.whole.anti_rise(load, travels).anti_rise, "share", units)
            table.append(("anti-rise", symbol, values.tolist(), 0))
    data = _report.columns(table) | ({"without": _REAR_ALONE} if alone else {})
    show(file, as_json, lambda: data, lambda: "\n".join([text(table), *items([_REAR_ALONE] if alone else [])]))
    given.close(said=True)


def _drive(bike: wr.Bike) -> wr.ChainDrive:
    """Take the drive of a rear end without its front. Wheelbase and height go into what is left out alone."""
    sprockets, wheels = bike.rear.final_drive, bike.wheels
    if not isinstance(sprockets, wr.Sprockets):
        raise wr.errors.BikeError("rear.chain: found none; the chain line runs between its sprockets")
    if wheels is None:
        raise wr.errors.BikeError("wheels: found none; the squat line starts where the rear wheel stands")
    front, rear = sprockets.radii
    return wr.ChainDrive(
        sprockets.front_centre,
        front_radius=front,
        rear_radius=rear,
        idler=sprockets.idler,
        wheel_radius=wheels.rear_radius,
        cg_height="1 m",
        wheelbase="1 m",
    )


@click.command()
@file_argument
@what_if_option
@click.option("--end", type=click.Choice(["front", "rear"]), default="rear", show_default=True, help="Which end.")
@load_option
@click.option("--speed", metavar="SPEED", help='Amplitude of the speed at the wheel, "0.5 m/s"; slow unless given.')
@at_option
@points_option
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
    bike, given = for_end(file, end, supposed)
    with named(file):
        travels = _report.travels(getattr(bike, end), at, points)
        found = bike.whole.damping(end, load, speed=speed, travels=travels)
        table = _report.tabulated(found, _DAMPING, units)
    modes, why = _damped_modes(bike, load, speed)

    def shown() -> str:
        lines = [
            f"  {mode['kind'].ljust(10)}  {mode['frequency']['value']:5.1f} Hz  {mode['damping_ratio']['value']:4.0f} %"
            for mode in modes
        ]
        heading = ["MODES, with both dampers", *lines] if modes else [f"No modes: {why}"]
        named_load = load or bike.rider_load
        title = f"{end.upper()} under `{named_load}`, {f'at {speed} of the wheel' if speed else 'slow'}"
        return "\n".join([title, text(table), "", *heading, "", *items(found.limits)])

    show(file, as_json, lambda: {**_report.columns(table), "modes": modes, "limits": found.limits}, shown)
    given.close(said=True)


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
@at_option
@points_option
@json_option
@units_option
def chain(
    file: str, supposed: tuple[str, ...], play: str, at: tuple[str, ...], points: int, as_json: bool, units: str
) -> None:
    """Tabulate the chain over wheel travel: growth, slack, play of the lower run, and how it turns the wheel.

    The first lines say where it is tightest, and the play to set on the stand, wheel lifted. Play is up and down
    together.
    """
    bike, given = for_end(file, "rear", supposed)
    with named(file):
        travels = _report.travels(bike.rear, at, points)
        found = bike.rear.chain(travels, play=play)
        table = _report.tabulated(found, _CHAIN, units)
        summary = {name: _report.number(getattr(found, name), "length", units) for name in _TIGHTEST}
    rows = [(name.replace("_", " "), entry) for name, entry in summary.items()]
    show(
        file,
        as_json,
        lambda: {**summary, "over_travel": _report.columns(table)},
        lambda: f"{_report.listed([*rows], units)}\n\n{text(table)}",
    )
    given.close(said=True)


@click.command("fork-friction")
@file_argument
@what_if_option
@load_option
@click.option(
    "--braking",
    default="0 %",
    show_default=True,
    metavar="SHARE",
    help="Force of the front brake per load of its wheel.",
)
@at_option
@points_option
@json_option
@units_option
def fork_friction(
    file: str,
    supposed: tuple[str, ...],
    load: str | None,
    braking: str,
    at: tuple[str, ...],
    points: int,
    as_json: bool,
    units: str,
) -> None:
    """Tabulate what the bushes of the fork rub with under side load, at rest or braked.

    The first lines say what it is where the fork rests under the load, and how much of the friction that the readings
    found that explains. FILE says where the bushes are: front.fork.bushes.
    """
    bike, given = for_end(file, "front", supposed)
    with named(file):
        travels = _report.travels(bike.front, at, points)
        found = bike.whole.fork_friction(travels, braking=braking)
        table = _report.tabulated(found, _BUSHES, units)
        rest, lacks = _bushes_at_rest(bike, load, braking, units)
    notes = [*lacks, *_BUSH_NOTES]
    rows = [(name.replace("_", " "), _report.plus_minus(entry)) for name, entry in rest.items()]
    show(
        file,
        as_json,
        lambda: {**rest, "over_travel": _report.columns(table), "notes": notes},
        lambda: "\n\n".join([*([_report.listed(rows, units)] if rows else []), text(table), "\n".join(items(notes))]),
    )
    given.close(said=True)


def _bushes_at_rest(bike: wr.Bike, load: str | None, braking: str, units: str) -> tuple[dict[str, Any], list[str]]:
    """Say what the bushes do at rest, beside what the readings found; each where it is known."""
    rest: dict[str, Any] = {}
    try:
        still = bike.whole.fork_friction_at_rest(load)
        braked = bike.whole.fork_friction_at_rest(load, braking=braking)
    except wr.WheelrateError as error:
        return rest, [f"At rest: {error}."]
    rows = {"friction_at_rest": still}
    if braked != still:
        rows["friction_braked_there"] = braked
    for name, row in rows.items():
        pair = (row.friction_at_wheel[0], row.friction_at_wheel_uncertainty[0])
        rest[name] = _report.uncertain(wr.Uncertain(*pair, "force"), units)
    try:
        rest["friction_found_by_readings"] = _report.uncertain(bike.fit_end("front").friction, units)
    except wr.WheelrateError as error:
        return rest, [f"Readings: {error}."]
    bushes, readings = rest["friction_at_rest"], rest["friction_found_by_readings"]
    either = (bushes["standard_uncertainty"] ** 2 + readings["standard_uncertainty"] ** 2) ** 0.5
    is_more = bushes["value"] - readings["value"] > 2 * either
    return rest, [_MORE_THAN_ALL] if is_more else []


@click.command()
@file_argument
@what_if_option
@load_option
@at_option
@points_option
@json_option
@units_option
def steering(
    file: str,
    supposed: tuple[str, ...],
    load: str | None,
    at: tuple[str, ...],
    points: int,
    as_json: bool,
    units: str,
) -> None:
    """Tabulate rake, offset of the axle and trail over the travel of the front wheel, and anti-dive beside them.

    Rake and trail are those of the frame in the attitude of its axes: a fork keeps them, links move them. Anti-dive is
    left out where what it needs is not stated; below zero the front brake adds to the dive, above 100 % it lifts.
    """
    bike, given = for_end(file, "front", supposed)
    with named(file):
        wheels, travels = bike.wheels, _report.travels(bike.front, at, points)
        if wheels is None:
            raise wr.errors.BikeError("wheels: found none; trail needs the radius of the front wheel and the offset")
        found = bike.front.steering_axis(wheels.fork_offset, wheels.front_radius, travels)
        table = _report.tabulated(found, _STEERING, units)
        without = ""
        try:
            anti_dive = bike.whole.anti_dive_over_travel(load, travels).anti_dive
        except wr.WheelrateError as error:
            without = f"Anti-dive is left out: {error}"
        else:
            symbol, values = _report.numbers(anti_dive, "share", units)
            table.append(("anti-dive", symbol, values.tolist(), 0))
    data = _report.columns(table) | ({"without": without} if without else {})
    show(file, as_json, lambda: data, lambda: "\n".join([text(table), *items([without] if without else [])]))
    given.close(said=True)
