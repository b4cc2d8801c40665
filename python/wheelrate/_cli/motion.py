"""The bike in motion: on a road, and landing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

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
from wheelrate._lines import items

if TYPE_CHECKING:
    from wheelrate.typing import End

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
@load_option
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
                name: {key: _report.number(getattr(end, key), kind, units) for key, kind in _ROAD}
                for name, end in found.ends.items()
            },
            "acceleration_rms": _report.number(found.acceleration_rms, "acceleration", units),
            "weighted_acceleration_rms": _report.number(found.weighted_acceleration_rms, "acceleration", units),
            "limits": found.limits,
        }

    def said() -> str:
        parts = [f"CLASS {grade}, {speed}"]
        for name, end in data["ends"].items():
            rows = [(key.replace("bottoming_chance", "chance of bottoming in a kilometre"), end[key]) for key in end]
            parts.append(f"{name}\n{_report.listed([(key.replace('_', ' '), entry) for key, entry in rows], units)}")
        body = [(key.replace("_", " "), data[key]) for key in ("acceleration_rms", "weighted_acceleration_rms")]
        return "\n\n".join([*parts, f"body\n{_report.listed(body, units)}", "\n".join(items(found.limits))])

    show(file, as_json, lambda: data, said)


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
@load_option
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
    bike, given = for_end(file, end, supposed)
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
            name: None if quantity is None else _report.number(quantity, kind, units)
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
        lambda: "\n".join([f"{end.upper()}, {height}: {verdict}", _report.listed(rows, units), *items(found.limits)]),
    )
    given.close(said=True)


def _motion(found: wr.EndMotion, units: str) -> dict[str, Any]:
    columns: dict[str, Any] = {}
    for title, values in found.columns(units).items():
        name, _, unit = title.removesuffix("]").partition(" [")
        columns[name] = {"unit": unit, "values": list(values)}
    return columns
