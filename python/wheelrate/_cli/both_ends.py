"""The whole bike in time: landing and braking."""

from __future__ import annotations

from typing import Any

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

legs_option = click.option(
    "--legs",
    metavar="MASS,RATE,DAMPING",
    help='Of a rider who stands: "80 kg,7 N/mm,700 N s/m"; a weight on the frame unless given.',
)


def _legs(given: str | None) -> wr.Legs | None:
    if given is None:
        return None
    parts = [part.strip() for part in given.split(",")]
    if len(parts) != 3:
        fail(f'--legs: found {given!r}, wanted mass, rate and damping: "80 kg,7 N/mm,700 N s/m"', BAD_INPUT)
    return wr.Legs(*parts)


def _numbers(motion: wr.BikeMotion, units: str) -> dict[str, Any]:
    ends: dict[str, Any] = {}
    for name, end in motion.ends.items():
        quantities = {
            "rest_travel": (end.rest_travel, "length"),
            "peak_travel": (end.peak_travel, "length"),
            "peak_travel_time": (end.peak_travel_time, "time"),
            "full_travel": (end.full_travel, "length"),
            "peak_tyre_force": (end.peak_tyre_force, "force"),
        }
        if end.bottoming is not None:
            quantities["bottoming_time"] = (end.bottoming.time, "time")
            quantities["bottoming_speed"] = (end.bottoming.speed, "velocity")
        ends[name] = {key: _report.number(quantity, kind, units) for key, (quantity, kind) in quantities.items()}
    pitch = {"peak_pitch": motion.peak_pitch, "least_pitch": motion.least_pitch}
    return {
        "ends": ends,
        **{key: _report.number(angle, "angle", units) for key, angle in pitch.items()},
        "limits": motion.limits,
    }


def _show(file: str, as_json: bool, head: str, motion: wr.BikeMotion, units: str) -> None:
    data = _numbers(motion, units)

    def said() -> str:
        parts = [head]
        for name, end in data["ends"].items():
            verdict = "bottoms" if "bottoming_time" in end else "does not bottom"
            rows = [(key.replace("_", " "), entry) for key, entry in end.items()]
            parts.append(f"{name.upper()}: {verdict}\n{_report.listed(rows, units)}")
        pitch = [(key.replace("_", " "), data[key]) for key in ("peak_pitch", "least_pitch")]
        return "\n\n".join(
            [*parts, f"body, nose down\n{_report.listed(pitch, units)}", "\n".join(items(motion.limits))]
        )

    show(file, as_json, lambda: data, said)


@click.command("land")
@file_argument
@what_if_option
@click.option("--height", required=True, metavar="HEIGHT", help='Of the fall of the lower wheel, "0.5 m".')
@click.option(
    "--attitude", default="0 deg", show_default=True, metavar="ANGLE", help="Nose down; rear first below zero."
)
@legs_option
@load_option
@json_option
@units_option
def land(
    file: str,
    supposed: tuple[str, ...],
    height: str,
    attitude: str,
    legs: str | None,
    load: str | None,
    as_json: bool,
    units: str,
) -> None:
    """Simulate a landing of the whole bike: both ends, pitch, and a rider on legs.

    A number of a model, not of a jump: compare springs and loads with it, and believe no height.
    """
    bike = supposing(bike_of(file), supposed)
    with named(file):
        motion = bike.whole.land(height, attitude, load, legs=_legs(legs))
    _show(file, as_json, f"LANDING from {height}, {attitude} nose down", motion, units)


@click.command("brake")
@file_argument
@what_if_option
@click.option("--deceleration", required=True, metavar="ACCELERATION", help='That is asked for, "6 m/s2".')
@click.option("--front-share", default="70 %", show_default=True, metavar="SHARE", help="Of it on the front brake.")
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
    _show(file, as_json, f"BRAKING with {deceleration}, {front_share} in front", motion, units)
