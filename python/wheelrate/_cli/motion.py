"""The bike on a road: what a road makes of it, and what a ride has logged."""

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
    pass

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
    help="Class of the road by ISO 8608: A to C is tarred, C to E gravel, E and beyond a trail.",
)
@click.option("--speed", required=True, metavar="SPEED", help='Speed of riding, "50 km/h".')
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
            "leaves_ground": [name for name, end in found.ends.items() if end.leaves_ground],
            "limits": found.limits,
        }

    def said() -> str:
        parts = [f"CLASS {grade}, {speed}"]
        if data["leaves_ground"]:
            wheels = " and ".join(data["leaves_ground"])
            why = (
                "the rms of the tyre's force is more than a third of its load: the wheel leaves the ground now and then"
            )
            parts.append("\n".join(items([f"{wheels}: {why}, which these numbers do not know."])))
        for name, end in data["ends"].items():
            rows = [(key.replace("bottoming_chance", "chance of bottoming in a kilometre"), end[key]) for key in end]
            parts.append(f"{name}\n{_report.listed([(key.replace('_', ' '), entry) for key, entry in rows], units)}")
        body = [(key.replace("_", " "), data[key]) for key in ("acceleration_rms", "weighted_acceleration_rms")]
        return "\n\n".join([*parts, f"body\n{_report.listed(body, units)}", "\n".join(items(found.limits))])

    show(file, as_json, lambda: data, said)


_LOGGED = [
    ("duration", "time"),
    ("full_travel", "length"),
    ("mean_travel", "length"),
    ("mean_uncertainty", "length"),
    ("correlation_time", "time"),
    ("travel_deviation", "length"),
    ("near_extension", "share"),
    ("near_full", "share"),
    ("hardest_bottoming", "velocity"),
    ("compression_speed_rms", "velocity"),
    ("rebound_speed_rms", "velocity"),
    ("fastest_shaft", "velocity"),
    ("gap_time", "time"),
    ("clipped", "share"),
    ("outside", "share"),
]
_COUNTED = ("samples", "missing", "gaps", "top_outs", "bottomings")


def _channel(given: str | None, option: str) -> wr.LogChannel | None:
    """Read a column with its scale, its zero and its limits: COLUMN[,SCALE[,ZERO[,LOW,HIGH]]]."""
    if given is None:
        return None
    column, *rest = (part.strip() for part in given.split(","))
    scale, numbers = (rest[0] if rest else "1 mm"), rest[1:]
    try:
        zero = float(numbers[0]) if numbers else 0.0
        low, high = map(float, numbers[1:]) if numbers[1:] else (None, None)
    except ValueError:
        fail(
            f"{option}: found {given!r}, wanted a column, perhaps with scale, zero and limits: "
            '"shock [V],58.4 mm,0.61,0,5"',
            BAD_INPUT,
        )
    return wr.LogChannel(column, scale, zero, low, high)


@click.command("travel-log")
@file_argument
@click.argument("log", type=click.Path(exists=True, dir_okay=False))
@click.option(
    "--front", metavar="COLUMN", help='Column of the fork: "fork", or "fork [V],61.2 mm,0.55" with scale and zero.'
)
@click.option("--rear", metavar="COLUMN", help="Column of the shock, likewise.")
@click.option("--time", default="time", show_default=True, metavar="COLUMN", help="Column of times.")
@click.option("--time-unit", default="s", show_default=True, metavar="UNIT", help="Unit of that column.")
@click.option("--rate", metavar="RATE", help='Rate of sampling, "500 Hz", in place of times.')
@click.option("--gap", metavar="TIME", help="Samples further apart are not joined; 0.25 s unless given.")
@click.option("--delimiter", default=",", show_default=True, metavar="SIGN", help="Between the columns.")
@load_option
@json_option
@units_option
def travel_log(
    file: str,
    log: str,
    front: str | None,
    rear: str | None,
    time: str,
    time_unit: str,
    rate: str | None,
    gap: str | None,
    delimiter: str,
    load: str | None,
    as_json: bool,
    units: str,
) -> None:
    """Show how the travel of a ride was used, from the strokes that sensors logged to a CSV file LOG.

    Mean travel with its uncertainty, time near the stops, bottomings, speeds, and the sag that the ride amounts to.
    Strokes are in millimetres unless a scale is given with the column: "shock [V],58.4 mm,0.61,0,5" is 58.4 mm a volt,
    0.61 V at full extension, the sensor's limits 0 and 5 V. The last line of an end is that sag as a row for FILE.
    """
    bike = bike_of(file)
    if front is None and rear is None:
        fail("--front or --rear: found neither, wanted the column of a stroke", BAD_INPUT)
    channels = {"front": _channel(front, "--front"), "rear": _channel(rear, "--rear")}
    found = wr.read_travel_log(
        bike,
        log,
        front=channels["front"],
        rear=channels["rear"],
        time=time,
        time_unit=time_unit,
        rate=rate,
        gap=gap,
        delimiter=delimiter,
    )
    with named(file):
        ends: dict[str, Any] = {
            name: _logged(bike, name, end, units, load or bike.rider_load) for name, end in found.ends.items()
        }
        balance = None if found.balance is None else _report.number(found.balance, "share", units)
    data = {"ends": ends, "balance": balance, "limits": found.limits}

    def said() -> str:
        parts = []
        for name, end in ends.items():
            rows = [
                (key.replace("_", " "), entry)
                for key, entry in end.items()
                if isinstance(entry, dict) and "value" in entry
            ]
            counts = ", ".join(f"{key.replace('_', ' ')} {end[key]}" for key in _COUNTED)
            sag = items([end["sag"]["text"]])
            if row := end["sag"].get("reading"):
                sag += ["", "[[reading]]", *(f'{key} = "{value}"' for key, value in row.items())]
            parts.append("\n".join([name.upper(), _report.listed(rows, units), *items([counts]), *sag]))
        if balance is not None:
            parts.append(f"The front uses {balance['value']:+.0f} % of its travel more on average than the rear.")
        return "\n\n".join([*parts, "\n".join(items(found.limits))])

    show(file, as_json, lambda: data, said)


def _logged(bike: wr.Bike, name: Any, end: wr.EndTravel, units: str, load: str) -> dict[str, Any]:
    numbers = {key: getattr(end, key) for key, _ in _LOGGED}
    data: dict[str, Any] = {
        key: None if numbers[key] is None else _report.number(numbers[key], kind, units) for key, kind in _LOGGED
    }
    data |= {key: getattr(end, key) for key in _COUNTED}
    try:
        sag = end.dynamic_sag(bike, name)
    except wr.errors.WheelrateError as error:
        return {**data, "sag": {"text": f"No sag: {error}."}}
    kinds = {"load": "force", "damper_force": "force", "travel": "length"}
    parts = {key: _report.number(getattr(sag, key).value, kind, units) for key, kind in kinds.items()}
    off = {key: _report.number(getattr(sag, key).standard_uncertainty, kind, units) for key, kind in kinds.items()}
    held, rests = (
        f"{parts[key]['value']:.{places}f} ± {off[key]['value']:.{places}f} {parts[key]['unit']}"
        for key, places in (("load", 0), ("travel", 1 if parts["travel"]["unit"] == "mm" else 2))
    )
    text = f"Springs and damper held {held} on average, which rests at {rests} of travel."
    reading: Any = sag.reading(bike, name, load)
    sags = {"sag": reading.sag, "uncertainty": reading.uncertainty}
    row = {
        "end": name,
        "load": load,
        "settled": "middle",
        **{key: f"{sag.m_as('mm'):.1f} mm" for key, sag in sags.items()},
    }
    return {**data, "sag": {"text": text, **parts, "standard_uncertainty": off, "reading": row}}
