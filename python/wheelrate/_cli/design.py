"""Links that would do what is wanted."""

from __future__ import annotations

import json
from typing import Any

import click

import wheelrate as wr
from wheelrate import _report
from wheelrate._cli.common import BAD_INPUT, bike_of, fail, file_argument, json_option, named, show, units_option


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
@click.option(
    "--tolerance", default="0.05 N/mm", show_default=True, metavar="RATE", help="How far each wheel rate may be off."
)
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
            name: {"was": _report.number(was, "length", units), "now": _report.number(now, "length", units)}
            for name, was, now in zip(found.dimensions, found.was, found.now, strict=True)
        },
        "misses": dict(zip(found.targets, found.misses.tolist(), strict=True)),
        "in_the_way": found.in_the_way,
        "changes": changes,
    }

    def text() -> str:
        values = [f"  '{key}={json.dumps(place)}'" for key, place in changes.items()]
        return "\n".join([found.to_text(units), "", "As values for --what-if:", *values])

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
