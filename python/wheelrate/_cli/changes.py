"""Bikes with something changed, and two bikes side by side."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

import wheelrate as wr
from wheelrate import _report
from wheelrate._cli.common import (
    BAD_INPUT,
    Given,
    amendable,
    bike_of,
    end_option,
    fail,
    file_argument,
    json_option,
    key_values,
    named,
    show,
    supposing,
    titled,
    units_option,
    values_argument,
    what_if_option,
)
from wheelrate._cli.prompts import amend

if TYPE_CHECKING:
    from wheelrate.typing import End


@click.command("what-if")
@file_argument
@values_argument
@json_option
def what_if(file: str, values: tuple[str, ...], as_json: bool) -> None:
    """Print the bike as it would be with some values changed, for any other command to read.

    What the readings found is carried into the changed bike:
    wheelrate what-if patrol.toml "rear.shock.spring.rate=56 N/mm" | wheelrate advise -
    """
    pairs, bike = key_values(values), bike_of(file)
    with named(file):
        changed = bike.what_if(pairs)
    show(file, as_json, changed.to_dict, changed.to_toml)


@click.command()
@file_argument
@values_argument
@click.option(
    "--in-place", is_flag=True, help="Put it into FILE, which keeps its comments; what changes is shown first."
)
@click.option("--yes", is_flag=True, help="Write without asking.")
@json_option
def correct(file: str, values: tuple[str, ...], in_place: bool, yes: bool, as_json: bool) -> None:
    """Print the bike with wrong entries mended; what was read is fitted anew on it.

    Comments are kept only --in-place.
    """
    pairs, bike = key_values(values), bike_of(file)
    with named(file):
        mended = bike.correct(pairs)
        if in_place:
            text = amendable(file)
            amend(file, text, wr.set_keys(text, pairs), yes=yes)
            return
    show(file, as_json, mended.to_dict, mended.to_toml)


@click.command()
@click.argument("first", type=click.Path(exists=True, dir_okay=False, allow_dash=True))
@click.argument("second", required=False, type=click.Path(exists=True, dir_okay=False))
@what_if_option
@end_option
@json_option
@units_option
def compare(
    first: str, second: str | None, supposed: tuple[str, ...], end: End | None, as_json: bool, units: str
) -> None:
    """Set two bikes side by side: where they rest, force, rate and ratio over travel, trail, ride height, anti-squat.

    The second is another file, or the first with --what-if. The rear ends stand also under the first one's load: which
    spring brings back its sag, ride height, stroke left. Ride height needs both linkages drawn in the same axes. What
    does not differ is left out; --json has it.
    """
    if second is None and not supposed:
        fail("found one bike, wanted a second FILE, or --what-if KEY=VALUE", BAD_INPUT)
    given = Given(first)
    one = given.bike
    files = f"{first}, {second}" if second else first
    with named(files):
        other = supposing(bike_of(second) if second else one, supposed)
        both: list[End] = [name for name in ("front", "rear") if name in one.ends and name in other.ends]
        ends = [end] if end else both
        tables: dict[str, Any] = {name: _report.comparison(one, other, name, units) for name in ends}
        designs = _report.one_load(one, other, units) if "rear" in ends else None
        if designs:
            title, table = designs
            tables[title] = table
        whole = _report.standing(one, other, units) if end is None else None
        if whole:
            tables["the whole bike, rider on"] = whole
    if not tables:
        fail(f"{files}: no end that both have", BAD_INPUT)
    differ = {name: table for name, given in tables.items() if (table := _report.differing(given))[0][2]}
    show(
        first,
        as_json,
        lambda: {name: _report.columns(table) for name, table in tables.items()},
        lambda: titled(differ) or "Nothing differs.",
    )
    given.close()
