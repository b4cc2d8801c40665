"""One question each: what is wrong with a file, what an end does, what was read, what to do."""

from __future__ import annotations

import json
import sys
from typing import TYPE_CHECKING

import click

import wheelrate as wr
from wheelrate import _lines, _report
from wheelrate._cli.common import (
    BAD_INPUT,
    bike_of,
    by_practice,
    end_option,
    fail,
    file_argument,
    is_json,
    json_option,
    named,
    say,
    show,
    supposing,
    targets_option,
    text_of,
    titled,
    units_option,
    what_if_option,
)
from wheelrate._one_unit import one_unit

if TYPE_CHECKING:
    from wheelrate.typing import End


@click.command()
@file_argument
@json_option
def check(file: str, as_json: bool) -> None:
    """Report every fault of a bike file: path:line:column: key: message. Writes nothing."""
    faults = wr.check(text_of(file), json=is_json(file))
    if as_json:
        say(json.dumps([vars(fault) for fault in faults], indent=2, ensure_ascii=False))
    else:
        for fault in faults:
            say(_report.fault(file, fault))
        if not faults:
            say(f"{file}: no faults")
    if faults:
        sys.exit(BAD_INPUT)


@click.command()
@file_argument
@end_option
@click.option("--at", multiple=True, metavar="TRAVEL", help='A wheel travel, "102 mm"; give it as often as you like.')
@click.option("--points", type=click.IntRange(2, 10_000), default=13, show_default=True, help="Evenly spaced travels.")
@click.option("--fast-from", metavar="TRAVEL", help="Reached fast from rest at this wheel travel, not slowly.")
@json_option
@units_option
def curve(
    file: str, end: End | None, at: tuple[str, ...], points: int, fast_from: str | None, as_json: bool, units: str
) -> None:
    """Tabulate force, rate, ratio and energy over wheel travel."""
    bike = bike_of(file)
    with named(file):
        ends = [end] if end else bike.ends
        curves = {name: _report.curve(getattr(bike, name), list(at), points, units, fast_from) for name in ends}
    show(
        file, as_json, lambda: {name: _report.columns(table) for name, table in curves.items()}, lambda: titled(curves)
    )


@click.command()
@file_argument
@end_option
@json_option
@units_option
def fit(file: str, end: End | None, as_json: bool, units: str) -> None:
    """Show spring rate, preload and friction of each end from its readings."""
    bike = bike_of(file)
    with named(file):
        fits = {end: bike.fit_end(end)} if end else bike.fit()
    if not fits:
        fail(f"{file}: nothing to fit: the bike has no end; describe one under [front] or [rear]", BAD_INPUT)
    show(
        file,
        as_json,
        lambda: {name: _report.fit(one, units) for name, one in fits.items()},
        lambda: "\n\n".join(_report.fit_text(one, units) for one in fits.values()),
    )


@click.command()
@file_argument
@end_option
@click.option("--garages", type=int, default=10_000, show_default=True, help="How many to simulate.")
@click.option("--seed", type=click.IntRange(0), default=0, show_default=True, help="Start of the random numbers.")
@json_option
@units_option
def rehearse(file: str, end: End | None, garages: int, seed: int, as_json: bool, units: str) -> None:
    """Show how much the readings of a bike say, over simulated garages.

    Each garage is a bike in another true state, read as FILE was read (same loads, sides, repeats, tape) and fitted:
    how often the 95 % intervals hold the truth, and what the readings are worth.
    """
    bike = bike_of(file)
    with named(file):
        both: list[End] = ["front", "rear"]
        read = [name for name in both if any(reading.end == name for reading in bike.readings)]
        ends = [end] if end else [name for name in read if name in bike.ends]
        found = {name: bike.study(name).rehearse(garages, seed) for name in ends}
    if not found:
        fail(f"{file}: no readings to rehearse", BAD_INPUT)
    show(
        file,
        as_json,
        lambda: {name: _report.rehearsal(one, units) for name, one in found.items()},
        lambda: "\n\n".join(_report.rehearsal_text(one, units) for one in found.values()),
    )


@click.command()
@click.argument("file", required=False, type=click.Path(exists=True, dir_okay=False, allow_dash=True))
@targets_option
@end_option
@json_option
@units_option
def targets(file: str | None, practice: str | None, end: End | None, as_json: bool, units: str) -> None:
    """Show what common practice says of the sags of a bike, and how its own targets stand to it.

    Without FILE, print the shipped table of common practice, to be edited and handed in with --targets.
    """
    if file is None:
        table = wr.CommonPractice.shipped()
        say(table.to_json() if as_json else wr.CommonPractice.shipped_file(), nl=False)
        return
    bike = by_practice(bike_of(file), practice)
    if bike.discipline is None:
        known = ", ".join(bike.common_practice.disciplines)
        fail(f"{file}: state `discipline` under `[targets]`: one of {known}", BAD_INPUT)
    with named(file):
        both: list[End] = ["front", "rear"]
        said = {name: bike.practice(name) for name in both if name in bike.ends and end in (None, name)}
    show(
        file,
        as_json,
        lambda: {name: [_report.practice(one, units) for one in found] for name, found in said.items()},
        lambda: "\n\n".join(_report.practice_text(name, found, units) for name, found in said.items()),
    )


@click.command()
@file_argument
@what_if_option
@targets_option
@end_option
@json_option
@units_option
def advise(
    file: str, supposed: tuple[str, ...], practice: str | None, end: End | None, as_json: bool, units: str
) -> None:
    """Say what to change, and weigh every spring on sale.

    With --what-if of the bike as it would be: spring, preload and friction are those that the readings found.
    """
    given = by_practice(bike_of(file), practice)
    with named(file):
        bike = supposing(given, supposed)
        if end:
            bike.advise_end(end)
        parts = [part for part in json.loads(bike.sheet(units).to_json())["ends"] if end in (None, part["end"])]
        decisions = {name: one_unit(json.loads(decision.to_json()), units) for name, decision in bike.advise().items()}
    if not parts:
        fail(f"{file}: nothing to advise on: the bike has no end; describe one under [front] or [rear]", BAD_INPUT)
    keys = ("glance", "headline", "verdict", "advised", "reasons", "springs", "consequences", "next")
    head = [f"WHAT IF {' and '.join(supposed)}"] if supposed else []
    show(
        file,
        as_json,
        lambda: {
            part["end"]: {key: part[key] for key in keys} | {"decision": decisions.get(part["end"])} for part in parts
        },
        lambda: "\n\n".join([*head, *(_report.advice_text(part) for part in parts)]),
    )


@click.command()
@file_argument
@end_option
@json_option
@units_option
def history(file: str, end: End | None, as_json: bool, units: str) -> None:
    """Show what changed between sets of readings, whether it is more than noise, and how predictions held."""
    bike = bike_of(file)
    with named(file):
        reported = {end: bike.history_end(end)} if end else bike.history()
    show(
        file,
        as_json,
        lambda: {name: json.loads(one.to_json(units)) for name, one in reported.items()},
        lambda: (
            "\n".join(one.to_text(units, width=_lines.width()) for one in reported.values()).strip()
            or "One set of readings and no change: nothing to compare yet."
        ),
    )


@click.command()
@file_argument
@targets_option
@end_option
@click.option(
    "--load",
    "others",
    multiple=True,
    metavar="NAME=LOAD",
    help='Another load, "with pack=bike + rider + pack", beside those of the file; give it as often as you like.',
)
@json_option
@units_option
def scenarios(
    file: str, practice: str | None, end: End | None, others: tuple[str, ...], as_json: bool, units: str
) -> None:
    """Say what to set under other loads, how far to turn from one to the other, and which spring does for all."""
    bike = by_practice(bike_of(file), practice)
    more = []
    for other in others:
        name, mark, load = other.partition("=")
        if not mark:
            fail(f'--load: found {other!r}, wanted a name and a load: "with pack=bike + rider + pack"', BAD_INPUT)
        more.append(wr.Scenario(name.strip(), load))
    with named(file):
        bike = bike.with_scenarios([*bike.scenarios, *more]) if more else bike
        if not bike.scenarios:
            fail(f"{file}: no scenario; state one under [[scenario]] or with --load", BAD_INPUT)
        found = {end: bike.advise_scenarios_end(end)} if end else bike.advise_scenarios()
        parts = {name: json.loads(one.to_json(units)) for name, one in found.items()}
    show(
        file,
        as_json,
        lambda: parts,
        lambda: "\n\n".join(_report.scenarios_text(name, part) for name, part in parts.items()),
    )
