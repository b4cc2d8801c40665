"""The whole bike at rest."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

import click

import wheelrate as wr
from wheelrate import _report
from wheelrate._cli.common import (
    Given,
    file_argument,
    json_option,
    load_option,
    named,
    show,
    supposing,
    units_option,
    what_if_option,
)
from wheelrate._lines import wrapped

if TYPE_CHECKING:
    from wheelrate.typing import End

_STANCE = [
    ("rake", "angle"),
    ("trail", "length"),
    ("normal_trail", "length"),
    ("wheelbase", "length"),
    ("pitch", "angle"),
]


#: What a simulation and a rest go by, and how that is not the sheet.
STATED = "springs and preload as the file states them, without friction; the sheet has the sags that the readings found"


@click.command()
@file_argument
@what_if_option
@load_option
@click.option("--slope", metavar="ANGLE", help='Slope of the ground, uphill positive: "6 deg".')
@click.option("--acceleration", metavar="ACCELERATION", help='Along the ground, braking below zero: "-5 m/s2".')
@click.option(
    "--front-share", metavar="SHARE", help='Share of the force along the ground that the front wheel gives: "70 %".'
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
    given = Given(file)
    with named(file):
        bike = supposing(given.bike, supposed)
        data: dict[str, Any] = {"load": load or bike.rider_load, "basis": STATED}
        if given.unread:
            data["ends"] = {name: _alone(bike, cast("End", name), data["load"], units) for name in bike.ends}
            data["without"] = {**given.unread, "stance": "left out: it needs both ends"}
        else:
            found = bike.whole.settle(
                load, slope=slope, acceleration=acceleration, front_share=front_share, rear_reaction=rear_reaction
            )
            data["ends"] = {name: _settled(found, name, units) for name in found.ends}
            data["stance"] = {name: _report.number(getattr(found.stance, name), kind, units) for name, kind in _STANCE}

    def text() -> str:
        parts = [data["load"].upper()]
        for name, end in data["ends"].items():
            rows = [(key.replace("_", " "), value) for key, value in end.items() if value is not None]
            parts.append(f"{name}\n{_report.listed(rows, units)}")
        if stance := [(name.replace("_", " "), value) for name, value in data.get("stance", {}).items()]:
            parts.append(f"stance\n{_report.listed(stance, units)}")
        lacks = [f"{name}: {why}" for name, why in data.get("without", {}).items()] + [data["basis"]]
        return "\n\n".join([*parts, *("\n".join(wrapped(lack, "-- ", "   ")) for lack in lacks)])

    show(file, as_json, lambda: data, text)
    given.close(said=True)


def _alone(bike: wr.Bike, end: End, load: str, units: str) -> dict[str, Any]:
    """Say where one end rests on level ground, of a bike whose other end is not known."""
    masses = bike.masses
    sprung = masses.sprung_load(end, load).value
    settling = getattr(bike, end).travel_under(sprung)
    gravity = sprung / masses.sprung_mass(end, load).value
    weight = (masses.wheel_mass(end, load).value * gravity).to("N")
    return _rest(settling, None if settling.state is None else settling.state.travel, weight, units)


def _settled(found: wr.SettledBike, end: str, units: str) -> dict[str, Any]:
    return _rest(found.ends[end], found.stance.travel[end], found.load[end], units)


def _rest(settling: wr.Settling, travel: Any, force: Any, units: str) -> dict[str, Any]:
    return {
        "outcome": settling.outcome,
        "travel": None if travel is None else _report.number(travel, "length", units),
        "force_on_ground": _report.number(force, "force", units),
        "force_on_stop": None if settling.margin is None else _report.number(settling.margin, "force", units),
    }
