"""The whole bike at rest."""

from __future__ import annotations

from typing import Any

import click

import wheelrate as wr
from wheelrate import _report
from wheelrate._cli.common import (
    bike_of,
    file_argument,
    json_option,
    load_option,
    named,
    show,
    supposing,
    units_option,
    what_if_option,
)

_STANCE = [
    ("rake", "angle"),
    ("trail", "length"),
    ("normal_trail", "length"),
    ("wheelbase", "length"),
    ("pitch", "angle"),
]


@click.command()
@file_argument
@what_if_option
@load_option
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
            "stance": {name: _report.number(getattr(found.stance, name), kind, units) for name, kind in _STANCE},
        }

    def text() -> str:
        parts = [data["load"].upper()]
        for name, end in data["ends"].items():
            rows = [(key.replace("_", " "), value) for key, value in end.items() if value is not None]
            parts.append(f"{name}\n{_report.listed(rows, units)}")
        stance = [(name.replace("_", " "), value) for name, value in data["stance"].items()]
        return "\n\n".join([*parts, f"stance\n{_report.listed(stance, units)}"])

    show(file, as_json, lambda: data, text)


def _settled(found: wr.SettledBike, end: str, units: str) -> dict[str, Any]:
    settling = found.ends[end]
    margin = settling.margin
    return {
        "outcome": settling.outcome,
        "travel": _report.number(found.stance.travel[end], "length", units),
        "force_on_ground": _report.number(found.load[end], "force", units),
        "force_on_stop": None if margin is None else _report.number(margin, "force", units),
    }
