"""Which setting gives a wanted trail or rake."""

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
    units_option,
)

#: What goes with every change of the geometry.
CAUTION = (
    "The manual first. Check by hand that tyre, chain and brake lines stay clear at full travel and full lock; tighten "
    "clamps to the maker's torque."
)


@click.command()
@file_argument
@click.option("--trail", metavar="LENGTH", help='Wanted along the ground, at rest under the load: "108 mm".')
@click.option("--rake", metavar="ANGLE", help='Wanted from the vertical, at rest under the load: "26 deg".')
@click.option("--clamps", metavar="LEAST:MOST", help='How far the tubes may be raised from now: "-5 mm:10 mm".')
@click.option("--shock-length", metavar="LEAST:MOST", help='How much longer the shock may be made: "0 mm:6 mm".')
@click.option(
    "--front-preload", metavar="LEAST:MOST", help="Change of preload; to the ends of the adjuster unless given."
)
@click.option("--rear-preload", metavar="LEAST:MOST", help="The same at the rear.")
@load_option
@json_option
@units_option
def corrections(
    file: str,
    trail: str | None,
    rake: str | None,
    clamps: str | None,
    shock_length: str | None,
    front_preload: str | None,
    rear_preload: str | None,
    load: str | None,
    as_json: bool,
    units: str,
) -> None:
    """Show which settings give a wanted trail or rake, and how far each goes that does not.

    With one wish every lever is tried alone, and all together where none reaches it; with two, every pair.
    """
    bike = bike_of(file)
    with named(file):
        found = bike.whole.corrections(
            trail=trail,
            rake=rake,
            load=load,
            fork_raised=_room("--clamps", clamps),
            shock_longer=_room("--shock-length", shock_length),
            front_preload=_room("--front-preload", front_preload),
            rear_preload=_room("--rear-preload", rear_preload),
        )
    data: dict[str, Any] = {
        "load": load or bike.rider_load,
        "corrections": [_row(one, units, _doubt(bike, one, load)) for one in found],
        "caution": CAUTION,
    }

    def text() -> str:
        return "\n".join([data["load"].upper(), *(_said(row) for row in data["corrections"]), CAUTION])

    show(file, as_json, lambda: data, text)


def _room(option: str, given: str | None) -> list[str] | None:
    if given is None:
        return None
    least, mark, most = given.partition(":")
    if not mark:
        fail(f'{option}: found {given!r}, wanted the least and the most change: "-5 mm:10 mm"', BAD_INPUT)
    return [least.strip(), most.strip()]


def _doubt(bike: wr.Bike, found: wr.Correction, load: str | None) -> wr.GeometryDoubt | None:
    """Say how surely the bike stands so; nothing where the readings do not say."""
    try:
        return bike.whole.geometry_doubt(found.effect.after.stance, load)
    except wr.WheelrateError:
        return None


def _row(found: wr.Correction, units: str, doubt: wr.GeometryDoubt | None) -> dict[str, Any]:
    def length(given: Any) -> dict[str, Any]:
        return _report.number(given, "length", units)

    moves = [
        {
            "lever": move.lever,
            "words": move.words,
            "by": None if move.by is None else length(move.by),
            "set": length(move.set),
        }
        for move in found.moves
    ]
    stance = found.effect.after.stance
    rest = {"trail": length(stance.trail), "rake": _report.number(stance.rake, "angle", units)}
    if doubt is not None:
        rest["trail"]["standard_uncertainty"] = length(doubt.trail)["value"]
        rest["rake"]["standard_uncertainty"] = _report.number(doubt.rake, "angle", units)["value"]
        for move, data in zip(found.moves, moves, strict=True):
            # What moves trail by its doubt: the secant of the move itself, where it is the only one.
            change = found.effect.after.stance.trail - found.effect.before.stance.trail
            if len(moves) == 1 and change.m_as("mm"):
                data["standard_uncertainty"] = length(abs(move.set / change * doubt.trail))["value"]
    travel = {end: length(by) for end, by in found.effect.travel.items()}
    return {"is_reachable": found.is_reachable, "moves": moves, **rest, "travel_at_rest": travel}


def _said(row: dict[str, Any]) -> str:
    def number(entry: dict[str, Any], decimals: int = 1, sign: str = "") -> str:
        off = f" ± {entry['standard_uncertainty']:.{decimals}f}" if "standard_uncertainty" in entry else ""
        return f"{entry['value']:{sign}.{decimals}f}{off} {entry['unit']}"

    def move(one: dict[str, Any]) -> str:
        if one["by"] is None:
            return f"{one['words']}: no move of it does"
        needed = f"{one['words']}: {number(one['by'] | _known(one), 2, '+')}"
        return (
            needed
            if abs(one["by"]["value"] - one["set"]["value"]) < _SEEN
            else f"{needed}, of which {number(one['set'], 2, '+')} can be had"
        )

    rest = ", ".join(f"{end} {number(by, 1, '+')}" for end, by in row["travel_at_rest"].items())
    stands = f"trail {number(row['trail'], 2)}, rake {number(row['rake'], 2)}; travel at rest {rest}"
    return f"  {'yes' if row['is_reachable'] else 'no '}  {'; '.join(map(move, row['moves']))}: {stands}"


def _known(move: dict[str, Any]) -> dict[str, float]:
    return {name: move[name] for name in ("standard_uncertainty",) if name in move}


#: Lengths this near print alike.
_SEEN = 5e-3
